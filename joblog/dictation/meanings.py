"""What each meaning of the tables becomes: one builder a meaning, from matched words to entries.

A builder returns True when it made its entry and False when the words do not carry that meaning
after all (a clock of 47:90, a count without a verb); the chart then looks for another cover.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import cast

from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    SPOT,
    Atom,
    Stretch,
    find,
    is_a,
)
from joblog.dictation.numbers import Number
from joblog.model import STOCK_KINDS, Entry, Item, Kind, Vocabulary
from joblog.quantity import money, tape, unit_named


@dataclass(frozen=True, slots=True)
class Context:
    """What holds from before: the local time of the words, and the recording's earlier words."""

    at: datetime | None = None
    place: str | None = None
    last: Entry | None = None
    item: str | None = None
    """The item last spoken of in this recording."""


@dataclass
class Draft:
    """A reading in the making."""

    vocabulary: Vocabulary
    context: Context
    entries: list[Entry] = field(default_factory=list)
    doubts: list[tuple[int, str]] = field(default_factory=list)
    place: str | None = None
    """The place said in this utterance and still holding."""
    verb: Kind | None = None
    """The stock verb that a following bare amount takes over."""
    awaiting: bool = False
    """True while the next entry is what the last one should have been."""
    atoms: Sequence[Atom] = ()
    """The whole utterance."""
    bare_number_ends: int = -1
    """Where a measure without any unit or fraction ended."""
    subject: Item | None = None
    """An item named by itself, of which the next amounts are: "soffit, eight sheets used"."""
    workers: int | None = None
    """A crew named by itself: "crew of four", "just me today"."""
    timeless: int = -1
    """How many entries there were when a start or stop was added whose time was not said."""
    taken_back: bool = False
    """True right after "scratch that"."""

    def add(self, entry: Entry, *whys: str | None) -> bool:
        last = self.last()
        again = self.taken_back and last is not None and last.kind == entry.kind
        self.taken_back = False
        if again:
            # "Scratch that, twelve and a half": the last one becomes this one.
            self.entries.pop()
        if self.awaiting or again:
            self._replace_last(entry, whys)
            return True
        if entry.kind in ("start", "stop", "labor") and entry.workers is None:
            entry, self.workers = replace(entry, workers=self.workers), None
        if entry.place is None and self.place is not None:
            entry = replace(entry, place=self.place)
        elif entry.place is None and self.context.place and entry.kind in _PLACED:
            entry = replace(entry, place=self.context.place, carried=(*entry.carried, "place"))
        self.entries.append(entry)
        self.doubts.extend((len(self.entries) - 1, why) for why in whys if why)
        return True

    def last(self) -> Entry | None:
        for entry in reversed(self.entries):
            if entry.action != "drop":
                return entry.replacement or entry
        return self.context.last

    def _replace_last(self, entry: Entry, whys: Sequence[str | None]) -> None:
        self.awaiting = False
        last = self.last()
        if last is None:
            whys = (*whys, "says to change the last one, and there is none before it")
        elif last.kind == entry.kind:
            entry = completed(entry, last)
        self.entries.append(Entry("correction", action="replace", replacement=entry))
        self.doubts.extend((len(self.entries) - 1, why) for why in whys if why)


def completed(entry: Entry, last: Entry) -> Entry:
    """`entry` with what it does not say of what, where and by whom taken from `last`."""
    names = ("place", "item", "unit", "pieces", "task", "workers", "unit_cost", "reason")
    kept = {name: getattr(last, name) for name in names if getattr(entry, name) is None}
    return replace(entry, **kept)


# Kinds that belong to a place strongly enough to take it over from earlier words.
_PLACED: tuple[Kind, ...] = ("measure", "used", "spoiled", "covered", "problem")

Parts = dict[str, tuple[Atom, ...]]
Builder = Callable[[Draft, Parts, Stretch], bool]


def build(draft: Draft, stretch: Stretch) -> bool:
    """Add what `stretch` means to the draft; False when it does not carry its meaning."""
    return _BUILDERS[stretch.meaning](draft, stretch.parts, stretch)


# --- places -----------------------------------------------------------------------------------


def _place(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if stretch.meaning == "numbered place" and stretch.end == len(draft.atoms):
        return False  # "wall eleven" is a measure on a wall; "window two" needs more behind it
    atoms = parts["p"]
    place = _words(atoms)
    if draft.awaiting or draft.taken_back:
        last = draft.last()
        if last is not None and stretch.end == len(draft.atoms):
            return draft.add(replace(last, place=place, carried=()))
    minor = any(is_a(atom, "MINOR") for atom in atoms)
    inside = all(is_a(atom, "MINOR") or is_a(atom, "SIDE") for atom in atoms)
    if minor and inside and draft.place in draft.vocabulary.places:
        return True  # "south eave, left end": still the south eave
    last_entry = draft.entries[-1] if draft.entries else None
    if last_entry is not None and last_entry.replacement is not None:
        moved = replace(last_entry.replacement, place=place)
        draft.entries[-1] = replace(last_entry, replacement=moved)
        return True
    joined = _joins(stretch.atoms)
    behind = (joined or _closes(draft, stretch)) and not _opens(draft, stretch)
    if behind and last_entry is not None and last_entry.kind != "correction":
        if last_entry.place in (None, draft.context.place, draft.place):
            _move(draft, place)
        if not joined:
            return True
    draft.place = place
    return True


def _closes(draft: Draft, stretch: Stretch) -> bool:
    """True where nothing follows in the same breath: "seventeen and a half north, ..."."""
    if stretch.end == len(draft.atoms):
        return True
    return draft.atoms[stretch.end].pause and not stretch.atoms[0].pause and bool(stretch.start)


def _opens(draft: Draft, stretch: Stretch) -> bool:
    """True for "left of the door is ...": it belongs to what is said next."""
    if stretch.atoms[-1].words in ("is", "was", "reads", "measures", "measured"):
        return True
    after = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
    return after is not None and after.char in NUMBERS and stretch.atoms[0].pause


def _joins(atoms: Sequence[Atom]) -> bool:
    """True for "on the south side": it belongs to what was said before it."""
    return any(is_a(atom, "IN") or is_a(atom, "BESIDE") for atom in atoms[:2])


def _move(draft: Draft, place: str) -> None:
    """The place said behind the last entry is that entry's, and of those just before it too."""
    for at in range(len(draft.entries) - 1, -1, -1):
        entry = draft.entries[at]
        if at < len(draft.entries) - 1 and (entry.place is not None and not entry.carried):
            return
        if at < len(draft.entries) - 1 and entry.kind != draft.entries[-1].kind:
            return
        carried = tuple(name for name in entry.carried if name != "place")
        draft.entries[at] = replace(entry, place=place, carried=carried)
        if entry.kind != "measure":
            return


def _subject(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if stretch.end == len(draft.atoms) and not draft.entries:
        return False
    draft.subject = _item(parts["i"])
    return True


def _crew(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    workers, why = _hands(parts.get("w"), stretch.atoms)
    last = draft.entries[-1] if draft.entries else None
    if last is not None and last.kind in ("start", "stop", "labor") and last.workers is None:
        draft.entries[-1] = replace(last, workers=workers)
        draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
        return True
    if stretch.end == len(draft.atoms):
        return False
    draft.workers = workers
    return True


def place_in(atoms: Sequence[Atom]) -> str | None:
    """A place that is named among words of a note, the job's own places first."""
    spot = next((atom for atom in atoms if atom.char == SPOT), None)
    found = find("NAMED", atoms)
    if found and (spot is None or spot in found):
        return _words(found)
    return _words((spot,)) if spot is not None else None


# --- measures ---------------------------------------------------------------------------------


def _measure(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    length = length_of(parts["m"])
    if length is None:
        return False
    inches, as_said, why = length
    item = _item(parts.get("i")) or _item(stretch.atoms) or draft.subject
    whys = [why]
    bare = all(atom.char == NUM for atom in parts["m"])
    said = [atom for atom in stretch.atoms if not _is_noise(atom)]
    if bare and len(said) == 1:
        if draft.awaiting or draft.taken_back:
            return _new_number(draft, inches)
        last = draft.last()
        placed = draft.place or draft.context.place
        if not placed and (last is None or last.kind != "measure"):
            whys.append("a number alone: inches, feet or a count?")
    if bare:
        if _follows_a_bare_number(draft, stretch):
            whys.append("two numbers in a row: one length, or two?")
        draft.bare_number_ends = stretch.end
    if not draft.entries and _lonely_fraction(draft, parts["m"]):
        whys.append("a fraction by itself: does it belong to the number before it?")
    pieces = _pieces(parts.get("n"))
    entry = Entry(
        "measure", item=item.name if item else None, inches=inches, pieces=pieces, as_said=as_said
    )
    return draft.add(entry, *whys, *_ambiguous(stretch.atoms))


def _follows_a_bare_number(draft: Draft, stretch: Stretch) -> bool:
    """ "Seven, one sixty four" and "nine and twelve" may each be one number, misheard."""
    before = stretch.start
    if before and is_a(draft.atoms[before - 1], "AND"):
        before -= 1
    elif stretch.atoms[0].pause:
        return False
    return draft.bare_number_ends == before


def _is_noise(atom: Atom) -> bool:
    return is_a(atom, "FILLER") or is_a(atom, "AND") or atom.words in ("at", "is", "was")


def _pieces(atoms: tuple[Atom, ...] | None) -> int | None:
    if not atoms:
        return None
    number = _whole(atoms)
    if number is not None:
        return number
    if any(is_a(atom, "DOZEN") for atom in atoms):
        return 12
    pair = any(is_a(atom, "UNIT") or is_a(atom, "COUPLE") for atom in atoms)
    return 2 if pair else 1


def _lonely_fraction(draft: Draft, atoms: Sequence[Atom]) -> bool:
    """ "And a half" after a pause that cut it off from its whole number."""
    last = draft.context.last
    if draft.awaiting or last is None or last.inches is None or last.inches.denominator != 1:
        return False
    alone = draft.atoms[0].char == FRAC or is_a(draft.atoms[0], "AND")
    return alone and all(atom.char == FRAC for atom in atoms)


def _new_number(draft: Draft, value: Fraction) -> bool:
    """ "Make it nine": the number of the last entry, whatever it counts."""
    last = draft.last()
    if last is not None and last.kind in STOCK_KINDS:
        return draft.add(replace(last, quantity=value, carried=()))
    if last is not None and last.kind == "labor":
        return draft.add(replace(last, hours=value, carried=()))
    if last is not None and last.kind == "break" and last.minutes is not None:
        return draft.add(replace(last, minutes=value, carried=()))
    if last is not None and last.kind == "weather":
        return draft.add(replace(last, fahrenheit=value, carried=()))
    if last is not None and last.kind in ("start", "stop"):
        return False
    if last is not None and last.kind == "measure":
        return draft.add(replace(last, inches=value, as_said=tape(value), carried=()))
    entry = Entry("measure", inches=value, as_said=tape(value))
    return draft.add(entry, "a number alone: inches, feet or a count?")


def _area(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    whys: list[str | None] = []
    if "s" in parts:
        after = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
        if after is not None and after.words == "of":
            return False  # "Twelve squares of siding" is an amount.
        number = cast(Number, parts["s"][0].value).value
        square_inches = number * (1 if "v" in parts else 14400 if "q" in parts else 144)
        as_said = f"{tape(number)} {stretch.atoms[-1].words}"
    else:
        first, second = length_of(parts["m"]), length_of(parts["k"])
        if first is None or second is None:
            return False
        if _is_lumber(stretch.atoms):
            return draft.add(Entry("note", note=_words(stretch.atoms)))
        square_inches = first[0] * second[0]
        as_said = f"{first[1]} by {second[1]}"
        whys = [first[2], second[2]]
        if all(atom.char == NUM for atom in (*parts["m"], *parts["k"])):
            whys.append("inches, or feet?")
    item = _item(parts.get("i")) or _item(stretch.atoms) or draft.subject
    entry = Entry(
        "measure",
        item=item.name if item else None,
        square_inches=square_inches,
        pieces=_pieces(parts.get("n")),
        as_said=as_said,
    )
    return draft.add(entry, *whys, *_ambiguous(stretch.atoms))


def _pitch(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if "t" in parts:
        rise = Fraction(cast(str, parts["t"][0].value))
    else:
        rise = cast(Number, parts["r"][0].value).value
        if _whole(parts.get("o")) not in (None, 12):
            return False
    if not 0 < rise <= 24:
        return False
    return draft.add(Entry("measure", pitch=rise, as_said=f"{tape(rise)} in 12"))


def _range(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    first, second = length_of(parts["a"]), length_of(parts["b"])
    if first is None or second is None:
        return False
    inches = first[0]
    if is_a(parts["b"][-1], "FOOT") and not any(is_a(atom, "FOOT") for atom in parts["a"]):
        inches *= 12
    return draft.add(
        Entry("measure", inches=inches, as_said=f"{first[1]} to {second[1]}"),
        f"two numbers, {first[1]} and {second[1]}: which one holds?",
    )


def length_of(atoms: Sequence[Atom]) -> tuple[Fraction, str, str | None] | None:
    """Inches, the words with numbers in figures, and a doubt when it is no plain length."""
    numbers: list[Number] = []
    total = Fraction(0)
    said: list[str] = []
    why: str | None = None
    feet = metric = False
    for at, atom in enumerate(atoms):
        after = atoms[at + 1] if at + 1 < len(atoms) else None
        if atom.char in (NUM, MIX, FRAC):
            number = cast(Number, atom.value)
            said.append(tape(number.value))
            if after is not None and is_a(after, "FOOT"):
                total, feet = total + number.value * 12, True
            elif after is not None and is_a(after, "METRIC"):
                total, metric = total + number.value * _METRIC[after.words], True
            elif metric:
                total += number.value * _METRIC["cm"]
            else:
                numbers.append(number)
        elif atom.words == "a" and after is not None and is_a(after, "FOOT"):
            total, feet = total + 12, True
            said.append("1")
        elif is_a(atom, "INCH"):
            lone = not any(before.char in NUMBERS for before in atoms[:at])
            total += 1 if lone else 0
            said.append("1 inch" if lone else atom.words)
        elif is_a(atom, "AND") or atom.words in ("a", "an", "of", "the", "nothing", "it's"):
            continue
        else:
            said.append(atom.words)
            if is_a(atom, "HEAVY"):
                total += Fraction(1, 16)
            elif is_a(atom, "LIGHT"):
                total -= Fraction(1, 16)
            elif is_a(atom, "ABOUT") or is_a(atom, "SOFTLY") or is_a(atom, "ORSO"):
                why = f"only roughly: {atom.words!r}"
    if feet or len(numbers) <= 1:
        inch = any(is_a(atom, "INCH") for atom in atoms)
        if feet and not inch and len(numbers) == 1 and numbers[0].value == Fraction(1, 2):
            total += 6  # "Four feet and a half" is half a foot more.
        else:
            total += sum((number.value for number in numbers), Fraction(0))
            if feet and not inch and [n.value for n in numbers] in ([_QUARTER], [3 * _QUARTER]):
                why = "of an inch, or of a foot?"
        if feet and numbers and numbers[-1].value >= 12:
            why = "more than eleven inches after the feet"
    else:
        joined = _joined(numbers, [atom.words for atom in atoms])
        if joined is None:
            return None
        length, doubtful = joined
        total += length
        why = why or doubtful
    if total <= 0:
        why = "a length of nothing"
    return total, " ".join(said), why


_QUARTER = Fraction(1, 4)


def _joined(numbers: Sequence[Number], words: Sequence[str]) -> tuple[Fraction, str | None] | None:
    """ "One forty four and a half" is 144 1/2; "nine four and a half" may be feet and inches."""
    first, second = numbers[0], numbers[-1]
    if len(numbers) == 2 and second.whole is None and not first.fraction:
        return first.value + second.value, None  # "Twenty seven inches and a half".
    if len(numbers) != 2 or first.whole is None or second.whole is None or first.fraction:
        return None
    if "oh" in words and 0 < first.whole < 10 and 0 < second.whole < 10:
        return first.whole * 100 + second.value, None
    if 0 < first.whole < 10 and 10 <= second.whole < 100:
        whole = first.whole * 100 + second.value
        why = None if first.whole == 1 else f"{tape(whole)} inches, or two numbers?"
        return whole, why
    if first.whole < 60 and 0 < second.whole < 12 and second.fraction:
        inches = first.whole * 12 + second.value
        return inches, f"{first.whole} feet {tape(second.value)}, or two numbers?"
    return None


_METRIC = {
    **dict.fromkeys("millimeter millimeters millimetre millimetres mm".split(), Fraction(10, 254)),
    **dict.fromkeys("centimeter centimeters centimetre centimetres cm".split(), Fraction(100, 254)),
    **dict.fromkeys("meter meters metre metres".split(), Fraction(10000, 254)),
    **dict.fromkeys("yard yards".split(), Fraction(36)),
}  # fmt: skip
"""Inches in one of it: an inch is 25.4 mm exactly (international yard and pound, 1959)."""


def _is_lumber(atoms: Sequence[Atom]) -> bool:
    """Two by four and its kin: small whole numbers with nothing else said."""
    numbers = [atom.value for atom in atoms if atom.char in NUMBERS]
    plain = all(isinstance(number, Number) and not number.fraction for number in numbers)
    if not plain or len(numbers) != 2 or any(is_a(atom, "INCH") for atom in atoms):
        return False
    pair = tuple(cast(Number, number).whole for number in numbers)
    return pair in _LUMBER


_LUMBER = {(a, b) for a in (1, 2, 4, 6) for b in (2, 3, 4, 6, 8, 10, 12)}


# --- materials --------------------------------------------------------------------------------


def _stock(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    return _add_stock(draft, cast(Kind, stretch.meaning), parts, stretch)


def _more(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An amount without a verb takes over the verb said before it in the same breath."""
    named = "i" in parts or "u" in parts
    count = parts["n"]
    if draft.verb is None or draft.awaiting:
        unit = _unit(parts.get("u"))
        if "i" not in parts and unit in (None, "in", "ft", "ft2", "square"):
            return False
        if draft.awaiting:
            last = draft.last()
            kind = last.kind if last is not None and last.kind in STOCK_KINDS else None
            return _add_stock(draft, kind, parts, stretch) if kind else False
        return draft.add(
            Entry("note", note=_words(stretch.atoms)),
            "used, delivered, scrapped or left over? It was not said.",
        )
    if not named and any(atom.char in (MIX, FRAC) for atom in count):
        return False
    if not named and not is_a(draft.atoms[stretch.start - 1], "AND"):
        draft.doubts.append((len(draft.entries), f"a number by itself: {_words(count)!r} more?"))
    return _add_stock(draft, draft.verb, parts, stretch)


def _add_stock(draft: Draft, kind: Kind | None, parts: Parts, stretch: Stretch) -> bool:
    assert kind is not None
    whys: list[str | None] = []
    carried: list[str] = []
    item = _item(parts.get("i"))
    note: str | None = None
    last = draft.last()
    quantity, why = _amount(parts, stretch)
    whys.append(why)
    unit = _unit(parts.get("u"))
    if kind == "on_hand" and not (item or unit or draft.subject or draft.verb):
        leftover = any(is_a(atom, "LEFTOVER") for atom in stretch.atoms)
        if not leftover and "x" not in parts:
            return False
    if item is None and "x" not in parts and draft.subject is not None:
        item = draft.subject
    if item is None and "x" in parts:
        note = _words(parts["x"]).removeprefix("of ")
        whys.append(f"{note!r} is no item of this job")
    elif item is None:
        item = _carried_item(draft, unit)
        if item is not None:
            carried.append("item")
        else:
            whys.append("of what? No item was said")
    if item is not None:
        loose = "u" in parts and parts["u"][0].words in _LOOSE
        unit, why = _unit_of(item, None if loose else unit)
        whys.append(why)
    if kind == "spoiled" and quantity == 0:
        return draft.add(Entry("note", note=_words(stretch.atoms)))
    cost: Decimal | None = None
    if "c" in parts:
        cost, why = _unit_cost(parts, quantity)
        whys.append(why)
    entry = Entry(
        kind,
        place=place_in(parts.get("r", ())),
        item=item.name if item else None,
        quantity=quantity,
        unit=unit,
        note=note,
        reason=_reason(parts) if kind == "spoiled" else None,
        unit_cost=cost,
        carried=tuple(carried),
    )
    if stretch.meaning == "more" and last is not None and "item" in carried:
        entry = replace(entry, unit=entry.unit or last.unit)
    if draft.verb is None or not isinstance(stretch.atoms[0].value, Number):
        # "Used three, one scrapped, and two sticks of channel": the two were used.
        draft.verb = kind
    return draft.add(entry, *whys, *_ambiguous(stretch.atoms))


def _amount(parts: Parts, stretch: Stretch) -> tuple[Fraction | None, str | None]:
    if "n" in parts:
        return _count(parts["n"], parts.get("h"))
    if any(is_a(atom, "OUTOF") for atom in stretch.atoms):
        return Fraction(0), None
    return None, "how many?"


def _carried_item(draft: Draft, unit: str | None) -> Item | None:
    """The item spoken of just before, when the unit said now can be a unit of it."""
    names = [entry.item for entry in reversed(draft.entries) if entry.item]
    names.append(draft.context.item or "")
    if not names[0]:
        return None
    for item in draft.vocabulary.items:
        if item.name == names[0]:
            fits = unit is None or unit == item.unit or unit in dict(item.also)
            return item if fits or unit in _COUNTED else None
    return None


# Ways of saying "one of it" that mean the item's own unit.
_COUNTED = {"each"}
_LOOSE = {
    "panel": "sheet", "panels": "sheet", "strip": "stick", "strips": "stick", "board": "stick",
    "boards": "stick", "length": "stick", "lengths": "stick", "piece": "each", "pieces": "each",
}  # fmt: skip
_RUNNING = {"linear feet": "ft", "running feet": "ft"}


def _unit(atoms: tuple[Atom, ...] | None) -> str | None:
    if not atoms:
        return None
    word = atoms[0].words
    return _LOOSE.get(word) or _RUNNING.get(word) or unit_named(word) or word


def _unit_of(item: Item, said: str | None) -> tuple[str, str | None]:
    if said is None or said in _COUNTED or said == item.unit:
        return item.unit, None
    if said in dict(item.also) or {said, item.unit} <= {"ft2", "square"} or said == "pair":
        return said, None
    if {said, item.unit} <= {"in", "ft"}:
        return said, None
    return said, f"{item.name} is counted by the {item.unit}, not by the {said}"


def _count(
    atoms: Sequence[Atom], half: Sequence[Atom] | None
) -> tuple[Fraction | None, str | None]:
    value: Fraction | None = None
    why: str | None = None
    for atom in atoms:
        if isinstance(atom.value, Number):
            if value is not None:
                why = f"{tape(value)}, or {tape(atom.value.value)}?"
                continue
            value = atom.value.value
        elif is_a(atom, "NONE"):
            value = Fraction(0)
        elif is_a(atom, "DOZEN"):
            value = (value if value is not None else Fraction(1)) * 12
        elif is_a(atom, "COUPLE"):
            value, why = Fraction(2), "a couple: exactly two?"
        elif is_a(atom, "VAGUE"):
            why = f"{atom.words!r} is how many?"
        elif is_a(atom, "ABOUT"):
            why = f"only roughly: {atom.words!r}"
        elif atom.words in ("a", "an", "another") and value is None:
            value = Fraction(1)
    if half and value is not None:
        value += sum(cast(Number, a.value).value for a in half if a.char == FRAC)
    return value, why


def _reason(parts: Parts) -> str | None:
    state = _words(parts.get("v", ()))
    because = "" if place_in(parts.get("r", ())) else _words(parts.get("r", ()))
    vague = ("scrapped", "spoiled", "wasted", "scrap", "threw out", "threw away", "tossed", "lost")
    if state in vague and because:
        return because
    return " ".join(part for part in (state, because) if part) or None


def _unit_cost(parts: Parts, quantity: Fraction | None) -> tuple[Decimal | None, str | None]:
    """What one costs: said of one ("at", "each"), else the total divided."""
    total = Fraction(0)
    bare: list[Fraction] = []
    for atom in parts["c"]:
        if isinstance(atom.value, Number):
            bare.append(atom.value.value)
        elif atom.words == "a":
            bare.append(Fraction(1))
        elif is_a(atom, "MONEY"):
            cents = atom.words in ("cent", "cents")
            total += (bare.pop() if bare else Fraction(0)) / (100 if cents else 1)
    if len(bare) == 2 and bare[1] < 100:
        cents_after = bare[0] >= 10 or bare[1] >= 20 or bare[1] == 10
        total += bare[0] + bare[1] / 100 if cents_after else bare[0] * 100 + bare[1]
        if 1 <= bare[0] < 10 and bare[1] >= 10:
            dollars = f"{bare[0]}.{int(bare[1]):02}"
            return money(total), f"{dollars} or {bare[0] * 100 + bare[1]} dollars?"
    elif bare:
        total += bare[0] if not total else bare[0] / 100
    each = "per" in parts or ("f" not in parts and parts["w"][0].words == "at")
    if each:
        return money(total), None
    if not quantity:
        return None, "a price, but for how many?"
    share = total / quantity
    if (share * 100).denominator != 1:
        return money(share), "the price does not divide evenly: rounded to the cent"
    return money(share), None


def _price(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """A price said after the delivery it belongs to."""
    last = draft.entries[-1] if draft.entries else None
    if last is None or last.kind != "delivered" or last.unit_cost is not None:
        return False
    cost, why = _unit_cost(parts, last.quantity)
    draft.entries[-1] = replace(last, unit_cost=cost)
    draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
    return True


def _request(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """Something is needed, in words that hold no plain amount of an item."""
    if any(is_a(atom, "NOTGOING") for atom in stretch.atoms):
        return False
    item = _item(stretch.atoms)
    entry = Entry(
        "needed",
        item=item.name if item else None,
        note=_words(stretch.atoms),
        place=place_in(stretch.atoms),
    )
    return draft.add(entry, "needed, but how many of what?")


# --- time and labor ---------------------------------------------------------------------------


def _attendance(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    kind = cast(Kind, stretch.meaning)
    whys: list[str | None] = []
    last = draft.entries[-1] if draft.entries else None
    if "t" in parts:
        clock, why = time_of(parts["t"], draft.context.at, kind)
        if clock is None:
            return False
        whys.append(why)
        if last is not None and last.kind == kind and draft.timeless == len(draft.entries):
            draft.entries[-1] = replace(last, time=clock)  # "Packed up and left at five."
            return True
    elif _before_a_number(draft, stretch):
        return False
    elif draft.context.at is not None:
        clock = draft.context.at.time().replace(second=0, microsecond=0)
    else:
        clock = None
        whys.append("when? No time was said")
    workers, why = _hands(parts.get("w"), stretch.atoms)
    whys.append(why)
    if "t" not in parts:
        draft.timeless = len(draft.entries) + 1
    if "h" in parts:
        # A helper who comes or goes: the day itself neither starts nor stops.
        return draft.add(Entry(kind, time=clock), "how many are at work from then on?")
    note = _words(parts.get("y", ())) or None
    return draft.add(Entry(kind, time=clock, workers=workers, note=note), *whys)


def _before_a_number(draft: Draft, stretch: Stretch) -> bool:
    """A time was said, but not one that could be read."""
    after = draft.atoms[stretch.end : stretch.end + 2]
    return any(atom.char in NUMBERS for atom in after)


def _span(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Worked seven to four thirty": a start and a stop."""
    first, why = time_of(parts["a"], draft.context.at, "start")
    second, other_why = time_of(parts["b"], draft.context.at, "stop")
    if first is None or second is None:
        return False
    draft.add(Entry("start", time=first), why)
    return draft.add(Entry("stop", time=second), other_why)


def _break(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if "m" in parts:
        number = cast(Number, parts["m"][0].value).value
        return draft.add(Entry("break", minutes=number)) if number in _IDIOM else False
    clock, why = None, None
    if "t" in parts:
        clock, why = time_of(parts["t"], draft.context.at, "break")
        if clock is None:
            return False
    if "d" in parts:
        minutes, other_why = _duration(parts["d"])
        return draft.add(Entry("break", time=clock, minutes=minutes), why, other_why)
    if "t" in parts:
        return draft.add(Entry("break", time=clock), why, "how long was the break?")
    between = _between(draft, parts)
    if between is None:
        return False
    clock, minutes, why = between
    return draft.add(Entry("break", time=clock, minutes=minutes), why)


_IDIOM = (5, 10, 15)
"""Minutes one "takes"."""


def _between(draft: Draft, parts: Parts) -> tuple[time, Fraction, str | None] | None:
    first, why = time_of(parts["a"], draft.context.at, "break")
    second, other_why = time_of(parts["b"], draft.context.at, "break")
    if first is None or second is None:
        return None
    minutes = (second.hour * 60 + second.minute - first.hour * 60 - first.minute) % (12 * 60)
    return first, Fraction(minutes), why or other_why


def _labor(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    why: str | None
    if "a" in parts:
        between = _between(draft, parts)
        if between is None:
            return False
        _, minutes, why = between
    else:
        minutes, why = _duration(parts["d"])
    workers, hands_why = _hands(parts.get("w"), stretch.atoms)
    whys = [why, hands_why]
    task: str | None = None
    note: str | None = None
    place: str | None = None
    if "task" in parts:
        words = _words(parts["task"])
        task = _task(draft.vocabulary, words)
        place = place_in(parts["task"])
        if task is None:
            note = words
            whys.append(f"{words!r} is no task of this job")
    else:
        whys.append("hours on which task?")
    entry = Entry("labor", hours=minutes / 60, workers=workers, task=task, note=note, place=place)
    return draft.add(entry, *whys)


def _task(vocabulary: Vocabulary, words: str) -> str | None:
    """The task whose spoken name stands in the words; the longest name wins."""
    padded = f" {words} "
    found = [
        (len(name), task.name)
        for task in vocabulary.tasks
        for name in (task.name, *task.spoken)
        if f" {name.lower()} " in padded
    ]
    return max(found)[1] if found else None


def _duration(atoms: Sequence[Atom]) -> tuple[Fraction, str | None]:
    """Minutes, and a doubt when they were only roughly said."""
    minutes = Fraction(0)
    pending: Fraction | None = None
    why: str | None = None
    in_hours = False
    for atom in atoms:
        if isinstance(atom.value, Number):
            if atom.char == FRAC and in_hours:
                minutes += atom.value.value * 60
            else:
                pending = atom.value.value
        elif is_a(atom, "HOURWORD"):
            minutes += (pending if pending is not None else Fraction(1)) * 60
            pending, in_hours = None, True
        elif is_a(atom, "MINUTE"):
            minutes += pending if pending is not None else Fraction(1)
            pending = None
        elif is_a(atom, "ABOUT"):
            why = f"only roughly: {atom.words!r}"
    return minutes, why


def _hands(count: tuple[Atom, ...] | None, atoms: Sequence[Atom]) -> tuple[int | None, str | None]:
    """People at work, the speaker included."""
    if count is None:
        return (1, None) if any(is_a(atom, "ALONE") for atom in atoms) else (None, None)
    number = _whole(count) or 1
    if any(is_a(atom, "HELPER") for atom in atoms):
        number += 1
    elif any(atom.words == "crew" for atom in atoms):
        return number, None
    elif any(atom.words == "with" for atom in atoms):
        return number + 1, f"{number} besides you, or {number} in all?"
    return number, f"{number} people?" if number > 12 else None


def time_of(
    atoms: Sequence[Atom], near: datetime | None, kind: str
) -> tuple[time | None, str | None]:
    """A clock time; morning or afternoon from the words, else from the recording's own time."""
    read = _clock(atoms)
    if read is None:
        return None, None
    hour, minute = read
    if not (0 <= hour <= 23 and 0 <= minute <= 59):
        return None, None
    if any(is_a(atom, "PM") for atom in atoms):
        return time(hour % 12 + 12, minute), None
    if any(is_a(atom, "AM") for atom in atoms):
        return time(hour % 12 if hour == 12 else hour, minute), None
    if any(is_a(atom, "NOON") for atom in atoms) or hour > 12 or hour == 0:
        return time(hour, minute), None
    morning, afternoon = time(hour % 12, minute), time(hour % 12 + 12, minute)
    if near is None:
        # Without a clock to go by: work starts in the morning and stops in the afternoon.
        early = kind == "start" and 4 <= hour < 12
        late = kind != "start" and hour in (12, 1, 2, 3, 4, 5, 6)
        if early or late:
            return (morning if early else afternoon), None
        return (morning if kind == "start" else afternoon), "morning or afternoon?"
    return _nearest(morning, afternoon, near, kind)


def _nearest(morning: time, afternoon: time, near: datetime, kind: str) -> tuple[time, str | None]:
    """Of two times of day the one that is meant: it lies in the past, and work starts early."""

    def ahead(clock: time) -> timedelta:
        return datetime.combine(near.date(), clock, near.tzinfo) - near

    past = [clock for clock in (morning, afternoon) if ahead(clock) <= _SOON]
    if len(past) == 1:
        return past[0], None
    if not past:
        return min((morning, afternoon), key=lambda clock: abs(ahead(clock))), "not yet that late"
    if kind == "start" and morning.hour >= 4:
        return morning, None
    close = abs(ahead(afternoon) - ahead(morning)) < timedelta(hours=2)
    return afternoon, "morning or afternoon?" if close else None


_SOON = timedelta(minutes=60)
"""A clock and a recorder may differ, and "stopping at four thirty" may be said at four."""


def _clock(atoms: Sequence[Atom]) -> tuple[int, int] | None:
    numbers = [atom.value for atom in atoms if isinstance(atom.value, Number)]
    for atom in atoms:
        if atom.char == CLOCK:
            hours, _, minutes = atom.words.partition(":")
            return int(hours), int(minutes)
        if atom.words in ("noon", "midday"):
            return 12, 0
        if atom.words == "midnight":
            return 0, 0
    turn = next((atom for atom in atoms if is_a(atom, "PAST") or is_a(atom, "TO")), None)
    if turn is not None and len(numbers) == 2:
        first, second = numbers
        part = first.value * 60 if first.whole is None else first.value
        if part.denominator != 1 or second.whole is None or not 1 <= second.whole <= 12:
            return None
        if is_a(turn, "PAST"):
            return second.whole, int(part)
        return (second.whole - 1) or 12, 60 - int(part)
    wholes = [number.whole for number in numbers if number.whole is not None]
    if len(wholes) == 1 and numbers[0].value.denominator == 1:
        hour = wholes[0]
        if 100 <= hour <= 2359:
            return hour // 100, hour % 100
        return (hour, 0) if 0 < hour <= 23 else None
    if len(wholes) == 2 and 0 < wholes[0] <= 23 and wholes[1] < 60:
        oh = any(atom.words == "oh" for atom in atoms)
        if wholes[1] >= 10 or oh:
            return wholes[0], wholes[1]
    return None


# --- the rest ---------------------------------------------------------------------------------


def _weather(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    degrees: Fraction | None = None
    if "c" in parts:
        degrees = cast(Number, parts["c"][0].value).value * Fraction(9, 5) + 32
    if "f" in parts:
        degrees = cast(Number, parts["f"][0].value).value
        if any(atom.words == "below" for atom in stretch.atoms):
            degrees = -degrees
    why = "that warm or cold?" if degrees is not None and not -40 <= degrees <= 125 else None
    note = " ".join(atom.words for atom in stretch.atoms if is_a(atom, "SKY")) or None
    if degrees is None:
        note = _words(stretch.atoms).removeprefix("weather ") or None
    if degrees is None and _explains_the_last(draft, stretch, note):
        return True
    last = draft.entries[-1] if draft.entries else None
    if last is not None and last.kind == "weather" and not draft.awaiting:
        both = "; ".join(filter(None, (last.note, note))) or None
        heat = degrees if degrees is not None else last.fahrenheit
        draft.entries[-1] = replace(last, note=both, fahrenheit=heat)
        return True
    return draft.add(Entry("weather", fahrenheit=degrees, note=note), why)


def _text(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    kind = cast(Kind, stretch.meaning)
    atoms = list(stretch.atoms)
    if atoms[0].words in _CUE_ONLY and len(atoms) > 1:
        atoms = atoms[1:]
        if atoms[0].words in ("of", "that", "with") and len(atoms) > 1:
            atoms = atoms[1:]
    note = _words(atoms) or None
    if kind == "photo" and len(stretch.atoms) == 1:
        note = None
    place = place_in(stretch.atoms)
    if kind == "problem" and place is None and _explains_the_last(draft, stretch, note):
        return True
    draft.place = place or draft.place
    told = stretch.atoms[0].words in _CUE_ONLY
    why = "an amount in a note: is it one?" if kind == "note" and not told else None
    return draft.add(
        Entry(kind, note=note, place=place), why if names_amount(stretch.atoms) else None
    )


def _explains_the_last(draft: Draft, stretch: Stretch, note: str | None) -> bool:
    """ "Twenty minute break, too hot", "sent back a gallon, wrong color": why, not what else."""
    last = draft.entries[-1] if draft.entries else None
    joined = bool(stretch.start) and is_a(draft.atoms[stretch.start - 1], "AND")
    if last is None or last.kind not in _EXPLAINED or joined or last.note or note is None:
        return False
    if last.kind == "spoiled":
        draft.entries[-1] = replace(last, reason=f"{last.reason or ''} {note}".strip())
    else:
        draft.entries[-1] = replace(last, note=note)
    return True


_EXPLAINED: tuple[Kind, ...] = ("start", "stop", "break", "spoiled", "returned")


def names_amount(atoms: Sequence[Atom]) -> bool:
    """True when words name an exact length, or a count of something of the catalog."""
    if any(atom.char in (MIX, FRAC) for atom in atoms):
        return True
    counted = any(atom.char in (NUM, CLOCK) for atom in atoms)
    return counted and any(
        atom.char == ITEM or any(is_a(atom, name) for name in _RECKONED) for atom in atoms
    )


_RECKONED = ("START", "STOP", "HOURWORD", "LEFTOVER")
"""Beside a number these make words that are reckoned with."""


_CUE_ONLY = {
    "note", "note that", "problem", "issue", "trouble", "memo", "make a note", "for the record",
    "photo", "photos", "picture", "pictures", "photo of", "photos of", "picture of",
    "pictures of", "take a photo", "take a picture", "took a picture", "took a photo",
    "take a photo of", "take a picture of", "took a picture of", "took a photo of",
    "taking a picture of", "taking a photo of", "taking a picture", "taking a photo",
    "problem with", "heads up",
}  # fmt: skip


def _drop(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    last = draft.last()
    why = None if last is not None else "says to take back the last one, and there is none before"
    if len(stretch.atoms) == 1 and stretch.atoms[0].words in _NEEDS_LAST:
        return False
    draft.entries.append(Entry("correction", action="drop"))
    draft.taken_back = True
    if why:
        draft.doubts.append((len(draft.entries) - 1, why))
    return True


_NEEDS_LAST = ("scratch", "strike", "delete", "erase")


def _instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    following = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
    if following is None or following.words == "to":
        return False
    draft.awaiting = True
    return True


def _maybe_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No", "wait" and "sorry" take something back only when a number follows."""
    following = draft.atoms[stretch.end] if stretch.end < len(draft.atoms) else None
    if following is None or (following.char not in NUMBERS and not is_a(following, "INSTEAD")):
        return False
    draft.awaiting = draft.awaiting or following.char in NUMBERS
    return True


def _not_this(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Not nine, eight"."""
    draft.awaiting = True
    return _new_number(draft, cast(Number, parts["b"][0].value).value)


def _adjust(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Make it light": a sixteenth less than the last one."""
    last = draft.last()
    if not draft.awaiting or last is None or last.inches is None:
        return False
    sixteenth = Fraction(1, 16) if is_a(stretch.atoms[0], "HEAVY") else -Fraction(1, 16)
    as_said = f"{last.as_said or tape(last.inches)} {stretch.atoms[0].words}"
    return draft.add(replace(last, inches=last.inches + sixteenth, as_said=as_said, carried=()))


def _time_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No wait, 7:45": another time for a start, a stop or a break."""
    last = draft.last()
    if not draft.awaiting or last is None or last.kind not in ("start", "stop", "break"):
        return False
    clock, why = time_of(parts["t"], draft.context.at, last.kind)
    if clock is None:
        return False
    return draft.add(replace(last, time=clock, carried=()), why)


def _again(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    last = draft.last()
    if last is None or last.kind == "correction":
        return False
    return draft.add(replace(last, place=draft.place or last.place, carried=()))


# --- pieces -----------------------------------------------------------------------------------


def _words(atoms: Sequence[Atom]) -> str:
    return " ".join(cast(str, atom.value) if atom.char == SPOT else atom.words for atom in atoms)


def _item(atoms: tuple[Atom, ...] | None) -> Item | None:
    for atom in atoms or ():
        if atom.char == ITEM:
            return cast(Item, atom.value)
    return None


def _whole(atoms: tuple[Atom, ...] | None) -> int | None:
    for atom in atoms or ():
        if isinstance(atom.value, Number):
            return atom.value.whole
    return None


def _ambiguous(atoms: Sequence[Atom]) -> list[str]:
    return [
        f"{atom.words!r} is {tape(atom.value.value)} or {tape(atom.value.also[0])}"
        for atom in atoms
        if isinstance(atom.value, Number) and atom.value.also
    ]


_BUILDERS: dict[str, Builder] = {
    "place": _place,
    "numbered place": _place,
    "subject": _subject,
    "crew": _crew,
    "measure": _measure,
    "area": _area,
    "pitch": _pitch,
    "range": _range,
    "used": _stock,
    "spoiled": _stock,
    "delivered": _stock,
    "returned": _stock,
    "on_hand": _stock,
    "needed": _stock,
    "request": _request,
    "price": _price,
    "more": _more,
    "start": _attendance,
    "stop": _attendance,
    "span": _span,
    "break": _break,
    "labor": _labor,
    "weather": _weather,
    "covered": _text,
    "problem": _text,
    "note": _text,
    "photo": _text,
    "drop": _drop,
    "instead": _instead,
    "maybe instead": _maybe_instead,
    "not this": _not_this,
    "again": _again,
    "adjust": _adjust,
    "clock": _time_instead,
}
