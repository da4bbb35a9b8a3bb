"""Measures: lengths, areas, pitches and ranges."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import cast

from joblog.dictation.dimensions import dimension_of
from joblog.dictation.draft import (
    Draft,
    Parts,
    ambiguous,
    is_put_there,
    item_in,
    item_named,
    whole_in,
    words_of,
)
from joblog.dictation.grammar import FRAC, ITEM, MIX, NUM, NUMBERS, Atom, Stretch, has_any, is_a
from joblog.dictation.numbers import Number
from joblog.dictation.on_a_walk import area_in_feet, in_feet, side_in_feet
from joblog.dictation.places import name_of
from joblog.dictation.pointing import Clue, aimed, numbered
from joblog.dictation.repair import HOMOPHONES
from joblog.dictation.sorts import DIMENSION, PLACE, sort_of
from joblog.model import STOCK_KINDS, Entry, Item
from joblog.quantity import money, tape


def add_measure(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if _is_pitch(draft, parts["m"]):
        rise = cast(Number, parts["m"][0].value).value
        return draft.add(Entry("measure", pitch=rise, as_said=f"{tape(rise)} in 12"))
    if "p" in parts:
        draft.place = name_of(parts["p"])
    length = length_of(parts["m"])
    if length is None or parts["m"][0].words in ("plus", "minus"):
        return False
    inches, as_said, why = length
    feet, unsure = side_in_feet(draft, stretch, parts["m"])
    if feet:
        inches, as_said = inches * 12, f"{as_said} feet"
    why = why or unsure
    if _is_place_or_clock(draft, stretch, why) or _is_year(draft, stretch):
        return False
    if _is_same_again(draft, inches):
        return True
    behind = draft.behind(stretch)
    if _is_bare(parts["m"]) and behind is not None and has_any((behind,), "AM", "PM", "OCLOCK"):
        return False  # "It ain't but ten in the morning".
    if behind is not None and not behind.pause and has_any((behind,), "HOURWORD", "MINUTE"):
        return False  # "So two and a half hours".
    if behind is not None and behind.words == "ones":
        return False  # "The ninety two and five eighths ones": how long the studs are.
    if _is_bare(parts["m"]) and behind is not None and is_a(behind, "OFTHEM"):
        return False  # "Three of them" are no inches.
    if not feet and _is_bare(parts["m"]) and _is_of_before(draft, stretch):
        return False
    if _is_bare(parts["m"]) and "n" not in parts and _counts(draft, stretch):
        return False
    if _is_alone(stretch) and (draft.awaiting or draft.taken_back):
        if _is_bare(parts["m"]):
            return new_number(draft, inches)
        meant = aimed(draft.standing(), countable_as(inches))
        if parts["m"][0].char == MIX and meant and meant.entry.kind != "measure":
            return new_number(draft, inches)  # "No, three and a half": of hours.
    if _is_bare(parts["m"]) and _is_alone(stretch) and _counted_before(draft):
        if is_put_there(draft, stretch):
            return False  # "Six on the garage": as many of the same.
        if len(draft.atoms) == len(stretch.atoms):
            draft.awaiting = True
            draft.doubts.append((len(draft.entries), "so many instead, or a measure?"))
            return new_number(draft, inches)
    whys = [why, *_doubts_of(draft, parts, stretch, as_said)]
    item, pieces = _cut_from(draft, parts, stretch)
    entry = Entry(
        "measure",
        item=item.name if item else None,
        inches=inches,
        pieces=pieces,
        as_said=as_said,
        dimension=dimension_of(draft, stretch, parts["m"]),
    )
    return draft.add(entry, *whys, *ambiguous(stretch.atoms))


def _is_year(draft: Draft, stretch: Stretch) -> bool:
    """ "In nineteen seventy one"."""
    at = next((at for at in range(stretch.start, stretch.end) if draft.atoms[at].char == NUM), 0)
    for first in (at, at - 1):
        if first < 1 or first + 1 >= len(draft.atoms):
            continue
        led, century, year = draft.atoms[first - 1 : first + 2]
        if led.words not in ("in", "since") or century.char != NUM or year.char != NUM:
            continue
        if whole_in((century,)) in (18, 19, 20) and 10 <= (whole_in((year,)) or 0) < 100:
            return True
    return False


def add_second_side(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Thirty six wide by eighty tall" are two measures, and no area."""
    first = draft.made_by.get(len(draft.entries) - 1)
    named = bool(draft.entries) and draft.entries[-1].dimension is not None
    return (
        named
        and first is not None
        and first.end == stretch.start
        and add_measure(draft, parts, stretch)
    )


def _counted_before(draft: Draft) -> bool:
    """Whether the last thing said before this utterance was a count of material."""
    last = draft.last()
    return not draft.entries and not draft.awaiting and last is not None and last.kind in _STOCK


_STOCK = frozenset(STOCK_KINDS)


def _is_of_before(draft: Draft, stretch: Stretch) -> bool:
    """True for "and one I botched", and for "I had six": what there was, and no length."""
    before, alone = draft.before(stretch), _is_alone(stretch)
    if alone and any(atom.words == "one" for atom in stretch.atoms):
        measured = before is not None and sort_of(before.char) in (PLACE, DIMENSION)
        return len(draft.atoms) > len(stretch.atoms) and not measured
    return alone and before is not None and before.words in ("i had", "we had", "had")


def _is_bare(atoms: Sequence[Atom]) -> bool:
    """True for a whole number without a unit."""
    return all(atom.char == NUM for atom in atoms)


def _is_alone(stretch: Stretch) -> bool:
    return sum(not _is_noise(atom) for atom in stretch.atoms) == 1


def _is_place_or_clock(draft: Draft, stretch: Stretch, why: str | None) -> bool:
    """True where the words of a length are a place along the run, or a time of day."""
    if why == _TOO_MANY_INCHES and any(atom.words == "at" for atom in stretch.atoms):
        return True  # "At ten feet, twelve flat" is where on the run, and how deep.
    last = draft.last()
    # "No, seven thirty" is a clock there.
    return draft.awaiting and last is not None and last.kind in ("start", "stop")


def _counts(draft: Draft, stretch: Stretch) -> bool:
    """True where a bare number counts something instead of measuring it."""
    if is_a(stretch.atoms[0], "NEED"):
        return True  # "Need twelve ...": of what?
    newest = draft.newest()
    after_length = newest is not None and newest.kind == "measure"
    # "Fourteen and a half, make eight" counts pieces.
    return after_length and is_a(stretch.atoms[0], "CUT")


def _is_same_again(draft: Draft, inches: Fraction) -> bool:
    """ "Same again, thirteen and a quarter"."""
    last = draft.last()
    if not draft.repeated or last is None or last.inches != inches:
        return False
    draft.repeated = False
    return True


def _doubts_of(draft: Draft, parts: Parts, stretch: Stretch, as_said: str) -> Iterator[str]:
    """What may be wrong with the number that was said, seen from what stands around it."""
    last = draft.last()
    placed = draft.place or draft.context.place or (last is not None and last.kind == "measure")
    if _is_bare(parts["m"]) and _is_alone(stretch) and not placed:
        yield "a number alone: inches, feet or a count?"
    if _follows_a_bare_number(draft, stretch):
        yield "two numbers in a row: one length, or two?"
    if all(atom.char == NUM or atom.words == "oh" for atom in parts["m"]):
        draft.bare_number_ends = stretch.end
    if not draft.entries and _lonely_fraction(draft, parts["m"]):
        yield "a fraction by itself: does it belong to the number before it?"
    led = [atom.words for atom in draft.atoms[max(0, stretch.start - 2) : stretch.start]]
    if parts["m"][0].char == FRAC and led[1:] == ["and"] and led[0] in HOMOPHONES:
        yield f"{as_said}, or {HOMOPHONES[led[0]]} and {as_said}?"
    for at in range(stretch.start, stretch.end):
        if at in draft.restarts:
            yield f"said twice: {draft.restarts[at]}, then {as_said}; or two lengths?"


def _cut_from(draft: Draft, parts: Parts, stretch: Stretch) -> tuple[Item | None, int | None]:
    """What is measured, and how many pieces of it."""
    item = item_in(parts.get("i")) or item_in(stretch.atoms) or draft.subject
    pieces = _pieces(parts.get("n"))
    if any(atom.words.startswith("each") for atom in stretch.atoms) and not pieces:
        pieces, item = _needed_so(draft, item)
    before = draft.last()
    if item is None and pieces and before and before.kind == "measure" and before.pieces:
        item = item_named(draft.vocabulary, before.item)  # "Twelve soffits at ..., four at ..."
    return item, pieces


def _is_pitch(draft: Draft, atoms: Sequence[Atom]) -> bool:
    """ "Four twelve" said of a roof."""
    numbers = [atom.value for atom in atoms if isinstance(atom.value, Number)]
    if len(numbers) != 2 or len(atoms) != 2 or any(number.fraction for number in numbers):
        return False
    rise, run = numbers
    said = " ".join(atom.words for atom in draft.atoms)
    return run.value == 12 and 2 <= rise.value <= 18 and any(word in said for word in _ROOFS)


_ROOFS = ("roof", "gable", "rake", "dormer", "pitch", "slope")


def _needed_so(draft: Draft, item: Item | None) -> tuple[int | None, Item | None]:
    """ "I need three pieces of trim, each of them thirty six inches" asks for cuts, not sticks."""
    last = draft.newest()
    if last is None or last.kind != "needed" or not last.quantity or last.quantity % 1:
        return None, item
    draft.entries.pop()
    draft.forget_doubts()
    return int(last.quantity), item or item_named(draft.vocabulary, last.item)


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
    number = whole_in(atoms)
    if number is not None:
        return number
    if any(is_a(atom, "DOZEN") for atom in atoms):
        return 12
    pair = any(is_a(atom, "UNIT") or is_a(atom, "COUPLE") for atom in atoms)
    return 2 if pair else 1


def add_pieces(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """How many of the length said just before: "fourteen and a half, need eight of them"."""
    last = draft.entries[-1] if draft.entries else draft.context.last
    if last is None or last.kind != "measure" or last.inches is None:
        return False
    if not draft.entries or draft.awaiting:
        draft.awaiting = True
        return draft.add(replace(last, pieces=_pieces(parts["n"]), carried=()))
    if last.pieces is not None:
        return last.pieces == _pieces(parts["n"])  # "Cut four at nine, four of them".
    draft.entries[-1] = replace(last, pieces=_pieces(parts["n"]))
    return True


def _lonely_fraction(draft: Draft, atoms: Sequence[Atom]) -> bool:
    """ "And a half" after a pause that cut it off from its whole number."""
    last = draft.context.last
    if draft.awaiting or last is None or last.inches is None or last.inches.denominator != 1:
        return False
    alone = draft.atoms[0].char == FRAC or is_a(draft.atoms[0], "AND")
    return alone and all(atom.char == FRAC for atom in atoms)


def new_number(draft: Draft, value: Fraction) -> bool:
    """ "Make it nine": the number of the last entry, whatever it counts."""
    last = draft.last()
    if last is not None and last.kind in ("start", "stop"):
        return False  # "No, nine" is a time there.
    told = draft.place if draft.place in {one.place for one in draft.standing()} else None
    last = draft.mean(countable_as(value), Clue(place=told))
    if last is None:
        entry = Entry("measure", inches=value, as_said=tape(value))
        return draft.add(entry, "a number alone: inches, feet or a count?")
    why = None
    if last.kind == "measure" and last.pieces:
        why = f"{tape(value)} inches, or {tape(value)} pieces?"
    return draft.add(with_number(last, value), why)


def countable_as(value: Fraction) -> Callable[[Entry], bool]:
    """Which entries such a number can be the number of: eighths are of an inch."""
    parts = value.denominator

    def fits(entry: Entry) -> bool:
        if entry.kind in STOCK_KINDS:
            return parts == 1 or (parts <= 4 and entry.unit in _PARTED)
        return numbered(entry) and (entry.kind == "measure" or parts <= 4)

    return fits


_PARTED = ("lb", "box", "roll", "bundle", "square", "gal", "tube", "ft", "ft2", None)
"""Units of what is used by the half and the quarter."""


def _is_in_feet_too(last: Entry, feet: Fraction) -> bool:
    """ "Forty two feet", "make it forty three"."""
    return (
        in_feet(last) and last.inches is not None and last.inches / 2 < 12 * feet < 2 * last.inches
    )


def with_number(last: Entry, value: Fraction) -> Entry:
    """An entry with another number, whatever it counts."""
    last = replace(last, carried=())
    match last.kind:
        case "measure" if _is_in_feet_too(last, value):
            return replace(last, inches=12 * value, as_said=f"{tape(value)} feet")
        case "measure":
            return replace(last, inches=value, as_said=tape(value))
        case "labor":
            return replace(last, hours=value)
        case "break":
            return replace(last, minutes=value)
        case "weather":
            return replace(last, fahrenheit=value)
        case "drive":
            return replace(last, miles=value)
        case "expense" | "extra":
            return replace(last, price=money(value))
        case _:
            return replace(last, quantity=value)


def add_area(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    whys: list[str | None] = []
    sides: tuple[Fraction, Fraction] | tuple[None, None] = (None, None)
    if "s" in parts or "q" in parts:
        after = draft.behind(stretch)
        of = after is not None and after.words == "of"
        if of and any(atom.char == ITEM for atom in draft.atoms[stretch.end : stretch.end + 4]):
            return False  # "Twelve squares of siding" is an amount.
        half = sum((cast(Number, atom.value).value for atom in parts.get("h", ())), Fraction(1))
        joined = _joined_wholes(parts["s"]) if "s" in parts else (half, None)
        if joined is None:
            return False
        number, why = joined
        whys.append(why)
        if number <= 0:
            return False  # "Zero squares" is no area.
        square_inches = number * (1 if "v" in parts else 14400 if "q" in parts else 144)
        as_said = f"{tape(number)} {stretch.atoms[-1].words}"
    else:
        first, second = length_of(parts["m"]), length_of(parts["k"])
        if first is None or second is None:
            return False
        if _is_lumber(stretch.atoms):
            return draft.add(Entry("note", note=words_of(stretch.atoms)))
        more = _in_feet_too(parts)
        sides = first[0] * more[0], second[0] * more[1]
        as_said = f"{first[1]} by {second[1]}"
        whys = [first[2], second[2]]
        if all(atom.char == NUM for atom in (*parts["m"], *parts["k"])):
            feet, unsure = area_in_feet(draft, sides)
            sides = (sides[0] * 12, sides[1] * 12) if feet else sides
            whys.append(unsure)
        square_inches = sides[0] * sides[1]
    item = item_in(parts.get("i")) or item_in(stretch.atoms) or draft.subject
    length = length_of(parts["k"]) if "k" in parts else None
    if item is not None and item.unit == "stick" and length and _is_count_by_feet(parts):
        # "J channel 3 x 12'": a stick has no area.
        count = cast(Number, parts["m"][0].value).value
        entry = Entry("used", item=item.name, quantity=count, unit="stick", length=length[0])
        return draft.add(entry, "used, delivered, scrapped or left over? It was not said.")
    entry = Entry(
        "measure",
        item=item.name if item else None,
        square_inches=square_inches,
        width=sides[0],
        height=sides[1],
        pieces=_pieces(parts.get("n")),
        as_said=as_said,
    )
    return draft.add(entry, *whys, *ambiguous(stretch.atoms))


def _is_count_by_feet(parts: Parts) -> bool:
    """Whether a bare whole number stands before a length in feet."""
    return (
        len(parts["m"]) == 1
        and parts["m"][0].char == NUM
        and any(is_a(atom, "FOOT") for atom in parts["k"])
    )


def _in_feet_too(parts: Parts) -> tuple[int, int]:
    """12 for a side that the foot said of the other is of too: "six by eleven feet"; else 1."""
    sides = parts["m"], parts["k"]
    feet = [any(is_a(atom, "FOOT") for atom in side) for side in sides]
    bare = [all(atom.char in (NUM, MIX) for atom in side) for side in sides]
    return 12 if bare[0] and feet[1] else 1, 12 if feet[0] and bare[1] else 1


def _joined_wholes(atoms: Sequence[Atom]) -> tuple[Fraction, str | None] | None:
    """ "One seventy five" is 175."""
    numbers = [cast(Number, atom.value) for atom in atoms]
    if len(numbers) == 1:
        return numbers[0].value, None
    return _joined(numbers, [atom.words for atom in atoms])


def add_pitch(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if "t" in parts:
        rise = Fraction(cast(str, parts["t"][0].value))
    else:
        rise = cast(Number, parts["r"][0].value).value
        if whole_in(parts.get("o")) not in (None, 12):
            return False
    if not 0 < rise <= 24:
        return False
    return draft.add(Entry("measure", pitch=rise, as_said=f"{tape(rise)} in 12"))


def add_range(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
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
    if has_any(atoms[1:-1], "OFF"):
        return _off(atoms, "OFF", fraction_first=True)
    if has_any(atoms[1:-1], "LESS"):
        return _off(atoms, "LESS", fraction_first=False)
    length = _Length()
    for at, atom in enumerate(atoms):
        after = atoms[at + 1] if at + 1 < len(atoms) else None
        if _is_shade(atoms, at):
            _take_shade(length, atom, atoms[at - 1])
        elif atom.char in (NUM, MIX, FRAC):
            _take_number(length, atom, after)
        else:
            _take_word(length, atoms, at, after)
    if not (_as_feet if length.feet or len(length.numbers) <= 1 else _as_digits)(length, atoms):
        return None
    if length.total <= 0:
        length.why = "a length of nothing"
    return length.total, " ".join(length.said), length.why


@dataclass
class _Length:
    """A length as far as its words are told."""

    total: Fraction = Fraction(0)
    numbers: list[Number] = field(default_factory=list)
    """Numbers without a unit of their own."""
    said: list[str] = field(default_factory=list)
    why: str | None = None
    feet: bool = False
    metric: bool = False


def _take_number(length: _Length, atom: Atom, after: Atom | None) -> None:
    number = cast(Number, atom.value)
    length.said.append(tape(number.value))
    if after is not None and is_a(after, "FOOT"):
        length.total, length.feet = length.total + number.value * 12, True
    elif after is not None and is_a(after, "METRIC"):
        length.total, length.metric = length.total + number.value * _METRIC[after.words], True
        length.why = "millimetres, or thousandths?" if after.words in _MILS else length.why
    elif length.metric:
        length.total += number.value * _METRIC["cm"]
    else:
        length.numbers.append(number)


def _is_shade(atoms: Sequence[Atom], at: int) -> bool:
    """True for the sixteenth of "nineteen foot eleven, shy a sixteenth"; "fourteen and a strong
    half" is a half."""
    if at < 2 or atoms[at].char != FRAC or not has_any((atoms[at - 1],), *_SHADES):
        return False
    return atoms[at - 2].char == MIX or has_any(atoms[: at - 1], "FOOT", "INCH")


def _take_shade(length: _Length, atom: Atom, word: Atom) -> None:
    """ "Nineteen foot eleven, shy a sixteenth": that much, instead of what the word alone means."""
    shade = cast(Number, atom.value).value
    said_alone, sign = next(
        (part, part.numerator) for name, part in _SHADES.items() if is_a(word, name)
    )
    length.said.append(tape(shade))
    length.total += sign * shade - said_alone


def _take_word(length: _Length, atoms: Sequence[Atom], at: int, after: Atom | None) -> None:
    atom = atoms[at]
    if atom.words == "a" and after is not None and is_a(after, "FOOT"):
        length.total, length.feet = length.total + 12, True
        length.said.append("1")
    elif is_a(atom, "INCH"):
        lone = not any(before.char in NUMBERS for before in atoms[:at])
        length.total += 1 if lone else 0
        length.said.append("1 inch" if lone else atom.words)
    elif not (is_a(atom, "AND") or atom.words in _UNSPOKEN):
        length.said.append(atom.words)
        length.total += next((part for name, part in _SHADES.items() if is_a(atom, name)), 0)
        if has_any((atom,), "ABOUT", "SOFTLY", "ORSO") and not has_any((atom,), *_SHADES):
            length.why = f"only roughly: {atom.words!r}"


_UNSPOKEN = ("a", "an", "of", "the", "nothing", "it's")
_SHADES = {"HEAVY": Fraction(1, 16), "LIGHT": -Fraction(1, 16)}


def _as_feet(length: _Length, atoms: Sequence[Atom]) -> bool:
    """Adds the number without a unit, which is of inches, or of a foot."""
    inch = any(is_a(atom, "INCH") for atom in atoms)
    numbers = length.numbers
    if length.feet and not inch and [number.value for number in numbers] == [Fraction(1, 2)]:
        length.total += 6  # "Four feet and a half" is half a foot more.
    else:
        length.total += sum((number.value for number in numbers), Fraction(0))
        if length.feet and not inch and [n.value for n in numbers] in ([_QUARTER], [3 * _QUARTER]):
            length.why = "of an inch, or of a foot?"
    if length.feet and numbers and numbers[-1].value >= 12:
        length.why = _TOO_MANY_INCHES
    return True


def _as_digits(length: _Length, atoms: Sequence[Atom]) -> bool:
    """Adds numbers in a row that are one; False where they are not."""
    apart = any(atom.pause for atom in atoms[1:] if atom.char in NUMBERS)
    joined = None if apart else _joined(length.numbers, [atom.words for atom in atoms])
    if joined is None:
        return False
    length.total += joined[0]
    length.why = length.why or joined[1]
    return True


_QUARTER = Fraction(1, 4)
_TOO_MANY_INCHES = "more than eleven inches after the feet"


def _off(
    atoms: Sequence[Atom], name: str, fraction_first: bool
) -> tuple[Fraction, str, str | None] | None:
    """ "A sixteenth over nine", "an eighth shy of twelve"; "nine and three quarters less a
    sixteenth", "thirteen plus an eighth": the word that leads from one to the other is a `name`."""
    numbers = [atom.value.value for atom in atoms if isinstance(atom.value, Number)]
    if len(numbers) != 2:
        return None
    one, other = numbers
    fraction, length = (one, other) if fraction_first else (other, one)
    if fraction >= 1 and fraction_first:
        return None
    word = next(atom.words for atom in atoms[1:] if is_a(atom, name))
    total = length + (fraction if word in _MORE else -fraction)
    said = f"{tape(one)} {word} {tape(other)}"
    return total, said, f"{said} is {tape(total)}?" if fraction >= 1 else None


_MORE = ("over", "past", "plus")


def _joined(numbers: Sequence[Number], words: Sequence[str]) -> tuple[Fraction, str | None] | None:
    """ "One forty four and a half" is 144 1/2; "nine four and a half" may be feet and inches."""
    first, second = numbers[0], numbers[-1]
    if len(numbers) == 2 and second.whole is None and not first.fraction:
        return first.value + second.value, None  # "Twenty seven inches and a half".
    if len(numbers) != 2 or first.whole is None or second.whole is None or first.fraction:
        return None
    if "oh" in words and 0 < first.whole < 10 and 0 < second.whole < 10:
        return first.whole * 100 + second.value, None
    feet = first.whole * 12 + second.value
    if 1 < first.whole < 10 and second.whole in (10, 11):
        return feet, f"{first.whole} feet {tape(second.value)}, or two numbers?"
    if 10 <= first.whole < 100 and 0 < second.whole < 12:
        return feet, f"{first.whole} feet {tape(second.value)}, or two numbers?"
    if 0 < first.whole < 10 and 10 <= second.whole < 100:
        whole = first.whole * 100 + second.value
        plain = first.whole == 1 and "oh" not in words
        why = None if plain else f"{tape(whole)} inches, or two numbers?"
        return whole, why
    if first.whole < 60 and 0 < second.whole < 12 and second.fraction:
        inches = first.whole * 12 + second.value
        return inches, f"{first.whole} feet {tape(second.value)}, or two numbers?"
    return None


_METRIC = {
    **dict.fromkeys("millimeter millimeters millimetre millimetres mm".split(), Fraction(10, 254)),
    **dict.fromkeys(("mil", "mils"), Fraction(10, 254)),
    **dict.fromkeys("centimeter centimeters centimetre centimetres cm".split(), Fraction(100, 254)),
    **dict.fromkeys("meter meters metre metres".split(), Fraction(10000, 254)),
    **dict.fromkeys("yard yards".split(), Fraction(36)),
}  # fmt: skip
"""Inches in one of it: an inch is 25.4 mm exactly (international yard and pound, 1959)."""


_MILS = ("mil", "mils")
"""Either of a metre or of an inch."""


def _is_lumber(atoms: Sequence[Atom]) -> bool:
    """Two by four and its kin: small whole numbers with nothing else said."""
    numbers = [atom.value for atom in atoms if atom.char in NUMBERS]
    plain = all(isinstance(number, Number) and not number.fraction for number in numbers)
    units = ("INCH", "FOOT", "METRIC")
    if not plain or len(numbers) != 2 or any(is_a(a, unit) for a in atoms for unit in units):
        return False
    pair = tuple(cast(Number, number).whole for number in numbers)
    return pair in _LUMBER


_LUMBER = {(a, b) for a in (1, 2, 4, 6) for b in (2, 3, 4, 6, 8, 10, 12)}
