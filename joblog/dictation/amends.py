"""Half a sentence that goes on with what was said before, or puts it right. Pure.

"Nah dude it was seven", "brown", "no, the porch i mean", "four not three": nothing in it says what
it is of. What it tells is taken out of it piece by piece, and the entry before it that can hold
all of it is meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from math import floor
from typing import cast

from joblog.dictation.attributes import attribute_in
from joblog.dictation.days import day_of
from joblog.dictation.draft import Context
from joblog.dictation.grammar import (
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    SPOT,
    Atom,
    has_any,
    is_a,
    shape,
)
from joblog.dictation.items import Said, together, variant
from joblog.dictation.labor import duration, time_of
from joblog.dictation.language import AMENDS, DIMENSIONS
from joblog.dictation.lengths import countable_as, length_of, with_number
from joblog.dictation.numbers import Number
from joblog.dictation.places import name_of
from joblog.dictation.pointing import NO_CLUE, Clue, aimed, same_item, whole_kept
from joblog.dictation.stock import money_in
from joblog.form import ATTRIBUTES
from joblog.model import STOCK_KINDS, Dimension, Doubt, Entry, Item, Kind, Reading, Vocabulary
from joblog.quantity import tape, unit_named


def amended(
    atoms: Sequence[Atom], vocabulary: Vocabulary, context: Context, reading: Reading
) -> Reading | None:
    """What the words change of what was said before, where they were read as something else.

    None where they were read well, or speak of nothing before. Words that plainly take something
    back, of which it is not understood what, make a doubtful correction beside what they were read
    as, so that what stands before them is asked about.
    """
    if not context.standing or len(atoms) > _MOST or not reading.entries:
        return None
    words = "".join(f"{' ,' * atom.pause} {atom.words}" for atom in atoms) + " "
    takes_back = _marks().search(words) is not None
    if any(entry.kind == "correction" for entry in reading.entries):
        return _better(atoms, vocabulary, context, reading) if takes_back else None
    if _marks_alone().fullmatch(words):
        return _asked_about(reading)
    if not takes_back and all(entry.kind == "note" for entry in reading.entries):
        takes_back = any(atom.words in ("was", "were") for atom in atoms)
    if not takes_back and words.split()[0] == "another":
        return None  # One more is not instead of the last.
    of_there = not takes_back and _is_of_what_was_put(reading, context)
    if not takes_back and not of_there and not _goes_on(reading):
        return None
    plainly = takes_back and _strong().search(words) is not None
    if takes_back and _is_a_fact_of_its_own(reading, plainly):
        return None
    told = _told_in(atoms)
    if told and (another := _another(atoms, told, vocabulary, context, plainly)):
        return another
    found = _put_right(told, vocabulary, context, takes_back, of_there) if told else None
    if found is not None:
        return found
    anew = _begins().match(words) is not None and _is_doubtful_fact(reading)
    return _asked_about(reading, context) if plainly or anew else None


def plainly_takes_back(words: Sequence[str]) -> bool:
    """Whether words say that something before them was wrong."""
    return _strong().search(f" {' '.join(words)} ") is not None


def _is_doubtful_fact(reading: Reading) -> bool:
    """Whether all of it is one fact, and that in doubt."""
    return len(reading.entries) == 1 and reading.entries[0].kind != "note" and bool(reading.doubts)


def _asked_about(reading: Reading, context: Context | None = None) -> Reading:
    """A doubtful correction before what the words were read as, of the last entry of that kind, or
    the very last; and each fact among what was read is in doubt too."""
    kinds = [one.kind for one in reversed(context.standing)] if context else []
    kind = reading.entries[0].kind
    back = kinds.index(kind) if kind != "note" and kind in kinds else 0
    entries = (Entry("correction", action="replace", back=back), *reading.entries)
    doubts = [Doubt(0, _WHAT), *(Doubt(one.entry + 1, one.why) for one in reading.doubts)]
    doubted = {doubt.entry for doubt in doubts}
    doubts += [
        Doubt(at, _WHAT)
        for at, entry in enumerate(entries)
        if at not in doubted and entry.kind != "note"
    ]
    return replace(reading, entries=entries, doubts=tuple(doubts))


def _better(
    atoms: Sequence[Atom], vocabulary: Vocabulary, context: Context, reading: Reading
) -> Reading | None:
    """What is changed, where another entry is named than the one that would be changed, or where
    that was in doubt and this is not."""
    first = reading.entries[0]
    doubted = {doubt.entry for doubt in reading.doubts}
    if first.action != "replace" or (len(reading.entries) > 1 and len(doubted) < 2):
        return None
    told = _told_in(atoms)
    found = _put_right(told, vocabulary, context, takes_back=True) if told else None
    if found is None or found.doubts:
        return None
    names = told is not None and bool(told[0].numbers and (told[0].items or told[0].places))
    elsewhere = names and found.entries[0].back != first.back
    return found if reading.doubts or elsewhere else None


def _another(
    atoms: Sequence[Atom],
    both: tuple[_Told, _Told],
    vocabulary: Vocabulary,
    context: Context,
    plainly: bool,
) -> Reading | None:
    """As much of the same somewhere else: "for the dormer it was three", "garage got one"."""
    told, denied = both
    last = next((one for one in reversed(context.standing) if one.kind != "note"), None)
    if plainly or denied or last is None or last.kind not in STOCK_KINDS or last.item is None:
        return None
    if len(told.numbers) != 1 or len(told.places) != 1 or told.said or told.kind or told.workers:
        return None
    place, value = told.places[0], _plain_number(told.numbers[0])
    if place in {one.place for one in context.standing} or place not in vocabulary.places:
        return None
    if value is None or not countable_as(value)(last) or told.unit not in (None, last.unit):
        return None
    if value.denominator != 1:
        return None  # "South eave ten and a half" is a measure, whatever was counted before.
    if (told.items and not same_item(told.items[0].name, last.item)) or is_a(atoms[0], "NOWAIT"):
        return None
    entry = replace(last, quantity=value, place=place, note=None, reason=None, carried=("item",))
    return Reading((entry,))


_MOST = 24
"""Words and numbers in what may be half a sentence."""
_WHAT = "says to change what was said before: to what?"


def _goes_on(reading: Reading) -> bool:
    """Whether nothing in it was understood for sure: a note, or what is in doubt."""
    doubted = {doubt.entry for doubt in reading.doubts}
    return all(
        entry.kind == "note" or at in doubted or _is_a_fraction(entry)
        for at, entry in enumerate(reading.entries)
    )


def _is_of_what_was_put(reading: Reading, context: Context) -> bool:
    """Whether a bare number is said of a place of which only an amount was told: "the east wall is
    thirteen"."""
    (entry, *others) = reading.entries
    if others or entry.kind != "measure" or not (entry.as_said or "").isdecimal():
        return False
    there = [one for one in context.standing if one.place == entry.place is not None]
    counted = [one.quantity for one in there if one.kind in STOCK_KINDS and one.quantity]
    return len(counted) == len(there) == 1 and cast(Fraction, entry.inches) <= 2 * counted[0]


def _is_a_fraction(entry: Entry) -> bool:
    return entry.kind == "measure" and entry.inches is not None and entry.inches < 1


def _is_a_fact_of_its_own(reading: Reading, plainly: bool) -> bool:
    """Whether something was understood for sure that words which take back would not be."""
    doubted = {doubt.entry for doubt in reading.doubts}
    perhaps: tuple[Kind, ...] = ("note", "measure", "expense")
    if plainly:
        perhaps = (*perhaps, "problem", "photo", "todo")
    return any(
        at not in doubted and entry.kind not in perhaps for at, entry in enumerate(reading.entries)
    )


@dataclass
class _Told:
    """What half a sentence tells, and what it says that it was not."""

    numbers: list[tuple[Atom, ...]] = field(default_factory=list)
    unit: str | None = None
    each: bool = False
    """The number is what one costs."""
    at: bool = False
    """ "At" stands before the number."""
    items: list[Item] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    said: Said | None = None
    dimension: Dimension | None = None
    kind: Kind | None = None
    workers: int | None = None
    day: Atom | None = None

    def __bool__(self) -> bool:
        return bool(
            self.numbers or self.items or self.places or self.said or self.dimension or self.kind
            or self.workers or self.day
        )  # fmt: skip


def _told_in(atoms: Sequence[Atom]) -> tuple[_Told, _Told] | None:
    """What is told and what is denied; None where something in it is not understood."""
    told, denied = _Told(), _Told()
    for clause in _clauses(atoms):
        new, old = _copied(told), _copied(denied)
        if told.numbers and _is_aside(clause):
            continue
        if _take(clause, new, old):
            told, denied = new, old
        elif not _is_chat(clause):
            return None
    return (told, denied) if told else None


def _is_aside(clause: Sequence[Atom]) -> bool:
    """Whether a clause only says why: "there is one round back", "i only counted one side"."""
    leads = has_any(clause[:1], *_LEADS)
    return clause[0].words.split()[0] in _ASIDES and not leads


_ASIDES = ("because", "cause", "i", "it", "there", "he", "she", "they", "we")


def _copied(told: _Told) -> _Told:
    """A copy that may be changed."""
    return replace(told, numbers=[*told.numbers], items=[*told.items], places=[*told.places])


def _is_chat(clause: Sequence[Atom]) -> bool:
    """Whether nothing in a clause is a number or a name."""
    return not any(atom.char in NUMBERS or atom.char in (ITEM, SPOT) for atom in clause)


def _clauses(atoms: Sequence[Atom]) -> Iterator[Sequence[Atom]]:
    start = 0
    for at in range(1, len(atoms)):
        if atoms[at].pause or atoms[at].words in ("because", "cause"):
            yield atoms[start:at]
            start = at
    yield atoms[start:]


def _take(clause: Sequence[Atom], told: _Told, denied: _Told) -> bool:
    """Takes what a clause tells; False where a word of it is not understood."""
    at, into = 0, told
    text = "".join(atom.char for atom in clause)
    while at < len(clause):
        atom = clause[at]
        if atom.words in _NOT:
            at, into = at + 1, denied
            continue
        end = _take_one(clause, text, at, into)
        if end is not None:
            at, into = end, told if into is denied else into
        elif _says_nothing(atom):
            at += 1
        else:
            return False
    return True


_NOT = ("not", "not a", "instead of", "ain't", "not the")


def _take_one(clause: Sequence[Atom], text: str, at: int, into: _Told) -> int | None:
    """The end of what is told from `at` on; None where nothing is."""
    atom = clause[at]
    behind = clause[at + 1] if at + 1 < len(clause) else None
    such = shape("SUCH").match(text, at)
    if such is not None and not is_a(clause[such.end() - 1], "INCH"):
        said = attribute_in(clause[at : such.end()])
        if said is not None:
            into.said = said if into.said is None else together(into.said, said)
            return such.end()
    if atom.char == NUM and behind is not None and _is_people(behind):
        into.workers = cast(Number, atom.value).whole
        return at + 2
    if has_any((atom,), "DAYNAMED", "DAYAHEAD", "DAYBACK"):
        into.day = atom
        return at + 1
    if atom.words in ("just me", "by myself", "only me", "alone"):
        into.workers = 1
        return at + 1
    if atom.char == ITEM:
        into.items.append(cast(Item, atom.value))
        if atom.said is not None and any(getattr(atom.said, name) for name in ATTRIBUTES):
            into.said = atom.said
        return at + 1
    where = shape("WHERE").match(text, at)
    if where is not None and where.end() > at and atom.char not in NUMBERS:
        into.places.append(name_of(clause[at : where.end()]))
        return where.end()
    if atom.words in _dimensions():
        into.dimension = _dimensions()[atom.words]
        return at + 1
    kind = next((kind for name, kind in _VERBS.items() if is_a(atom, name)), None)
    if kind is not None and not _says_nothing(atom):
        into.kind = kind
        return at + 1
    return _take_number(clause, at, into)


_VERBS: dict[str, Kind] = {
    "USED": "used", "DELIVER": "delivered", "RETURN": "returned", "SPOIL": "spoiled",
    "LEFTOVER": "on_hand", "NEED": "needed",
}  # fmt: skip


def _is_people(atom: Atom) -> bool:
    return atom.words in _PEOPLE or is_a(atom, "HELPER")


_PEOPLE = ("of us", "guys", "men", "people", "hands", "fellas", "of us there")


def _take_number(clause: Sequence[Atom], at: int, into: _Told) -> int | None:
    """The end of a number, with what it is in."""
    end = at
    while end < len(clause) and _is_of_a_number(clause, end):
        end += 1
    while end > at and clause[end - 1].char not in NUMBERS and not _closes(clause[end - 1]):
        end -= 1
    run = tuple(clause[at:end])
    if not any(atom.char in NUMBERS for atom in run):
        return None
    into.numbers.append(run)
    into.at = at > 0 and clause[at - 1].words == "at"
    if end < len(clause) and is_a(clause[end], "UNIT"):
        per = end > at and has_any(clause[max(at, end - 2) : end], "MONEY")
        into.each = per or clause[end].words == "each"
        into.unit = unit_named(clause[end].words) or clause[end].words
        end += 1
    elif end + 1 < len(clause) and is_a(clause[end], "ARTICLE") and is_a(clause[end + 1], "UNIT"):
        into.each, end = True, end + 2
    return end


def _is_of_a_number(clause: Sequence[Atom], at: int) -> bool:
    atom = clause[at]
    if atom.char in NUMBERS or _closes(atom) or has_any((atom,), "HEAVY", "LIGHT"):
        return True
    between = at + 1 < len(clause) and clause[at + 1].char in NUMBERS and at > 0
    return between and (has_any((atom,), "AND", "PAST", "TO") or atom.words in ("oh", "o"))


def _closes(atom: Atom) -> bool:
    return has_any(
        (atom,), "INCH", "FOOT", "HOURWORD", "MINUTE", "MONEY", "OCLOCK", "HEAVY", "LIGHT",
        "AM", "PM", "EXACT",
    )  # fmt: skip


def _says_nothing(atom: Atom) -> bool:
    """Whether a word only leads to what is told."""
    return has_any((atom,), "FILLER", "ARTICLE", "AND", "IN", *_LEADS) or all(
        word in _idle() for word in atom.words.split()
    )


_LEADS = ("NOWAIT", "SLIP", "INSTEAD", "CHANGED", "WASIT", "EDITING", "SHOULDBE", "MAKE", "SAID")


def _put_right(
    both: tuple[_Told, _Told],
    vocabulary: Vocabulary,
    context: Context,
    takes_back: bool,
    of_there: bool = False,
) -> Reading | None:
    told, denied = both
    standing = context.standing
    if len(told.numbers) > 1:
        said = {tuple(atom.words for atom in run) for run in told.numbers}
        if len(said) > 1:
            return None
    if len(told.items) > 1 or len(told.places) > 1:
        return None
    clue = _clue(told, denied, standing)
    points_at = _copied(told)
    if clue.place is not None and clue.place in told.places:
        points_at.places = []
    if clue.item is not None and any(item.name == clue.item for item in told.items):
        points_at.items = []
    if not points_at:
        return None
    if (told.kind and not denied.kind) or (
        not (takes_back or of_there) and not _says_of_itself(told, standing, vocabulary)
    ):
        return None
    change = _Change(points_at, vocabulary, context)
    aim = aimed(standing, lambda entry: change.of(entry) is not None, clue)
    if aim is None:
        return None
    made = change.of(aim.entry)
    assert made is not None
    entry, why = made
    passed = standing[len(standing) - aim.back :]
    whys = [why, aim.why]
    if aim.back and clue == NO_CLUE and any(one.kind != "note" for one in passed):
        whys.append("is it this that is changed?")
    if not takes_back and not _only_adds(aim.entry, entry):
        whys.append("instead of what was said before?")
    correction = Entry("correction", action="replace", replacement=entry, back=aim.back)
    return Reading((correction,), tuple(Doubt(0, one) for one in whys if one))


def _says_of_itself(told: _Told, standing: Sequence[Entry], vocabulary: Vocabulary) -> bool:
    """Whether what is told, no word of which takes anything back, can go on with the last entry."""
    last = standing[-1]
    if any(not same_item(item.name, last.item) for item in told.items):
        return False
    if told.numbers or told.items:
        return not told.places or last.place in (None, told.places[0])
    return all(place in vocabulary.places for place in told.places)


def _only_adds(before: Entry, entry: Entry) -> bool:
    """Whether all that was told of it before is told still."""
    names = ("quantity", "inches", "hours", "time", "place", "unit_cost", "price", *ATTRIBUTES)
    return all(
        getattr(before, name) in (None, getattr(entry, name)) or name in before.carried
        for name in names
    )


def _clue(told: _Told, denied: _Told, standing: Sequence[Entry]) -> Clue:
    """What the words tell of the entry that is meant."""
    more = bool(told.numbers or told.workers or told.said or told.dimension or told.kind)
    place = denied.places[0] if denied.places else None
    item = denied.items[0].name if denied.items else None
    if place is None and told.places and more and told.places[0] in {s.place for s in standing}:
        place = told.places[0]
    named = told.items[0].name if told.items else None
    known = named is not None and any(same_item(named, one.item) for one in standing)
    if item is None and known and (more or told.places):
        item = named
    return Clue(
        item=item,
        place=place,
        unit=None if told.each else told.unit,
        number=_plain_number(denied.numbers[0]) if denied.numbers else None,
        said=denied.said,
        kind=denied.kind,
    )


def _plain_number(run: Sequence[Atom]) -> Fraction | None:
    numbers = [atom.value.value for atom in run if isinstance(atom.value, Number)]
    return numbers[0] if len(numbers) == 1 else None


@dataclass
class _Change:
    """What is told, as it changes an entry."""

    told: _Told
    vocabulary: Vocabulary
    context: Context

    def of(self, entry: Entry) -> tuple[Entry, str | None] | None:
        """The entry with all that is told, and why it is unsure; None where it cannot hold it."""
        told = self.told
        why: str | None = None
        entry = replace(entry, carried=())
        if told.items and (entry.item is None or entry.kind not in _OF_ITEMS):
            return None
        if told.items:
            item = told.items[0]
            unit = entry.unit if entry.unit in (item.unit, *dict(item.also)) else item.unit
            entry = replace(entry, size=None, length=None, profile=None, colour=None)
            entry = replace(entry, item=item.name, unit=unit)
        if told.said is not None:
            if entry.item is None:
                return None
            entry, why = _like(self.vocabulary, entry, told.said)
        if told.kind is not None:
            if entry.kind not in STOCK_KINDS:
                return None
            entry = replace(entry, kind=told.kind)
        if told.dimension is not None:
            if entry.kind != "measure":
                return None
            entry = replace(entry, dimension=told.dimension)
        if told.workers is not None:
            if entry.kind not in ("start", "stop", "labor", "break"):
                return None
            entry = replace(entry, workers=told.workers)
        if told.day is not None:
            ahead = entry.kind in ("todo", "needed", "inspection", "visit")
            day, unsure = day_of(told.day, None, self.context.at, ahead=ahead)
            if day is None or (entry.kind != "todo" and entry.day is None):
                return None
            entry, why = replace(entry, day=day), why or unsure
        if told.places:
            entry = replace(entry, place=told.places[0])
        if told.numbers:
            changed = self._numbered(entry, told.numbers[0])
            if changed is None:
                return None
            entry, other = changed
            why = why or other
        return entry, why

    def _numbered(self, entry: Entry, run: Sequence[Atom]) -> tuple[Entry, str | None] | None:
        told = self.told
        timed = has_any(run, "HOURWORD", "MINUTE")
        if timed or entry.kind in ("break", "labor"):
            return self._lasting(entry, run, timed)
        if entry.kind in ("start", "stop"):
            clock, why = time_of(run, self.context.at, entry.kind)
            whole = told.unit is None and shape("TIME").fullmatch("".join(a.char for a in run))
            return (replace(entry, time=clock), why) if clock and whole else None
        if told.each or has_any(run, "MONEY") or entry.kind in ("price", "expense", "extra"):
            return _costing(entry, run)
        if entry.kind == "measure":
            if told.unit is not None:
                return _in_pieces(entry, run)
            changed, why = _measured(entry, run) or (None, None)
            if changed is not None and entry.pieces and len(run) == 1 and run[0].char == NUM:
                why = f"{run[0].words} inches, or {run[0].words} pieces?"
            return (changed, why) if changed is not None else None
        value = _plain_number(run)
        if value is None or len(run) > 1 or run[0].char not in (NUM, MIX, FRAC):
            two = len(run) == 2 and all(atom.char == NUM for atom in run)
            costs = entry.unit_cost is not None or (told.at and entry.kind == "delivered")
            return _costing(entry, run) if costs and two else None
        if not countable_as(value)(entry):
            return None
        if told.unit and entry.unit not in (None, "each", told.unit):
            return None
        return with_number(entry, value), None

    def _lasting(
        self, entry: Entry, run: Sequence[Atom], timed: bool
    ) -> tuple[Entry, str | None] | None:
        if entry.kind == "break" and (timed or entry.minutes is not None):
            minutes, why = duration(run, bare=1)
            return replace(entry, minutes=minutes), why
        if entry.kind == "labor" and (timed or entry.hours is not None) and not self.told.unit:
            minutes, why = duration(run)
            return (replace(entry, hours=minutes / 60), why) if minutes <= _DAY else None
        return None


_DAY = 16 * 60
_OF_ITEMS = (*STOCK_KINDS, "price", "measure")


def _costing(entry: Entry, run: Sequence[Atom]) -> tuple[Entry, str | None] | None:
    """What it cost."""
    said = money_in(run)
    if said is None:
        return None
    if entry.kind in ("expense", "extra"):
        return replace(entry, price=said), None
    if entry.kind == "price" or entry.kind in ("delivered", "returned", "used"):
        return replace(entry, unit_cost=said), None
    return None


def _in_pieces(entry: Entry, run: Sequence[Atom]) -> tuple[Entry, str | None] | None:
    """So many pieces of the length, where pieces of it were counted."""
    value = _plain_number(run)
    if entry.pieces is None or value is None or value.denominator != 1:
        return None
    return replace(entry, pieces=int(value)), None


def _measured(entry: Entry, run: Sequence[Atom]) -> tuple[Entry, str | None] | None:
    """The length with what is told of it: all of it, the inches behind the feet, or the part of an
    inch."""
    length = length_of(run)
    if length is None or entry.inches is None:
        return None
    value, as_said, why = length
    if value < 1 and (run[-1].char == FRAC or has_any(run, "HEAVY", "LIGHT")):
        value += floor(entry.inches)
        return replace(entry, inches=value, as_said=tape(value)), why
    kept, other = whole_kept(entry, replace(entry, inches=value, as_said=as_said))
    return kept, why or other


def _like(vocabulary: Vocabulary, last: Entry, said: Said) -> tuple[Entry, str | None]:
    """The entry of the line of its item that fits what is said of it."""
    attributes = {name: getattr(said, name) or getattr(last, name) for name in ATTRIBUTES}
    found = variant(vocabulary, last.item or "", Said(**attributes))
    if found is None:
        return replace(last, **attributes), None
    item, why = found
    return replace(last, item=item.name, **attributes), why


@cache
def _dimensions() -> dict[str, Dimension]:
    return {
        word: cast(Dimension, name)
        for name, words in DIMENSIONS.items()
        for word in words.split(", ")
    }


@cache
def _marks() -> re.Pattern[str]:
    return _any_of(AMENDS["begins"], AMENDS["takes back"], AMENDS["ends"])


@cache
def _strong() -> re.Pattern[str]:
    return _any_of(AMENDS["begins plainly"], AMENDS["plainly takes back"])


@cache
def _begins() -> re.Pattern[str]:
    return _any_of(AMENDS["begins"], AMENDS["begins"])


@cache
def _marks_alone() -> re.Pattern[str]:
    marks = "|".join(map(re.escape, AMENDS["begins"].split(", ")))
    return re.compile(rf"(?: (?:{marks}|,|oh|well))+ ")


@cache
def _idle() -> frozenset[str]:
    return frozenset(AMENDS["says nothing"].split())


def _any_of(begins: str, anywhere: str, ends: str = "") -> re.Pattern[str]:
    first, inside, last = (
        "|".join(map(re.escape, phrases.split(", "))) for phrases in (begins, anywhere, ends)
    )
    ending = f"| (?:{last}) (?:$|,)" if ends else ""
    return re.compile(rf"^ (?:(?:oh|well|and|but|or) )?(?:{first}) | (?:{inside}) {ending}")
