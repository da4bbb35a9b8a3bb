"""The few words that an entry is read back in: what was understood, never what was heard."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from fractions import Fraction

from joblog.aloud.numbers import (
    area_in_words,
    in_words,
    length_in_words,
    money_in_words,
    size_in_words,
    time_in_words,
)
from joblog.dictation.numbers import NUMBER_WORDS, is_written
from joblog.form import plain
from joblog.model import STOCK, STOCK_KINDS, UNHEARD, WALK_KINDS, Entry, Kind
from joblog.quantity import spoken_unit, tape

SECONDS = 3.0
"""A read-back should take no longer; words that can be spared go before that, numbers never."""


def say_entry(
    entry: Entry,
    *,
    place_known: str | None = None,
    cut: Fraction | None = None,
    seconds: float = SECONDS,
) -> str:
    """ "north eave, fourteen and five eighths, cut fourteen and three eighths".

    `place_known` is the place that was said last, and is not said again; `cut` the size to cut, in
    inches, where there is one.
    """
    return say_entries((entry,), place_known=place_known, cuts=(cut,), seconds=seconds)


def say_entries(
    entries: Sequence[Entry],
    *,
    place_known: str | None = None,
    cuts: Sequence[Fraction | None] = (),
    seconds: float = SECONDS,
) -> str:
    """All entries of one breath in one line; "" where there is nothing to say."""
    parts: list[Part] = []
    item_known: str | None = None
    for at, entry in enumerate(entries):
        cut = cuts[at] if at < len(cuts) else None
        parts += _parts_of(entry, place_known, item_known, cut)
        meant = entry.replacement or entry
        place_known = meant.place or place_known
        item_known = meant.item
    return _line(parts, seconds)


def say_changed(entry: Entry, *, place_known: str | None = None) -> str:
    """An entry that was put right: "instead: fourteen and a half"."""
    return f"instead: {say_entry(entry, place_known=place_known)}"


def say_dropped(entry: Entry) -> str:
    """ "dropped: fourteen and five eighths"."""
    return f"dropped: {say_entry(entry, place_known=entry.place)}"


def say_doubtful(said: str) -> str:
    """A read-back of what stays doubtful."""
    return f"not sure: {said}"


def say_unsure(said: str) -> str:
    """A read-back that a "yes" would settle."""
    return f"{said}, right?"


def say_question(candidates: Sequence[Entry]) -> str:
    """ "fourteen, or forty?": readings that differ in one number, asked for by that number.

    Raises ValueError where they differ in none, or in more.
    """
    [name] = differing(candidates)
    return f"{', or '.join(number_of(entry, name) for entry in candidates)}?"


def number_of(entry: Entry, name: str) -> str:
    """The number of one field by itself: "fourteen and a half", "three sheets"."""
    return _NUMBERS[name](entry)


def differing(candidates: Sequence[Entry]) -> tuple[str, ...]:
    """The names of the numbers in which entries differ."""
    first = candidates[0]
    return tuple(
        name
        for name in _NUMBERS
        if any(getattr(entry, name) != getattr(first, name) for entry in candidates)
    )


def seconds_of(text: str) -> float:
    """How long a voice of 200 words a minute takes to say it, to a tenth or two."""
    letters = sum(letter.isalnum() for letter in text)
    return LEAD + A_LETTER * letters + A_COMMA * sum(text.count(mark) for mark in ",:")


LEAD, A_LETTER, A_COMMA = 0.15, 0.054, 0.22
"""Seconds; measured of espeak-ng on the read-backs of the corpus."""


@dataclass(frozen=True, slots=True)
class Part:
    """Some words of a read-back. The ones with the highest rank go first where it is too long."""

    text: str
    rank: int = 0
    """0 always stays."""
    joined: bool = False
    """Whether it follows what is before it without a pause."""


WHO, REASON, PLACE_CARRIED, ITEM_CARRIED, NOTE = 5, 4, 3, 2, 1
"""What may go, the last first. What silence accepts has to have been said: the rest stays."""


def _line(parts: Sequence[Part], seconds: float) -> str:
    stays = [part for part in parts if part.text]
    for rank in sorted({part.rank for part in stays if part.rank}, reverse=True):
        if seconds_of(_joined(stays)) <= seconds:
            break
        fewer = [part for part in stays if part.rank != rank]
        stays = fewer or stays
    return plain(_joined(stays))


def _joined(parts: Sequence[Part]) -> str:
    line = ""
    for part in parts:
        line += part.text if not line else f" {part.text}" if part.joined else f", {part.text}"
    return line


def _parts_of(
    entry: Entry, place_known: str | None, item_known: str | None, cut: Fraction | None
) -> Iterator[Part]:
    if entry.kind == "correction":
        if entry.replacement is None:
            yield Part("dropped the last one" if entry.action == "drop" else "change it to what")
            return
        yield Part("instead")
        entry = entry.replacement
    place = _place(entry, place_known)
    if entry.kind in _PLACE_FIRST:
        yield place
    yield from _SAY.get(entry.kind, _words)(entry, item_known)
    if entry.kind not in _PLACE_FIRST:
        yield place
    if entry.day is not None:
        yield Part(f"{'by' if entry.kind == 'needed' else 'on'} {_weekday(entry.day)}")
    if cut is not None:
        yield Part(f"cut {in_words(cut)}")


def _place(entry: Entry, place_known: str | None) -> Part:
    place = entry.place or ""
    if place == place_known or place in (entry.note or ""):
        return Part("")
    return Part(place, PLACE_CARRIED if "place" in entry.carried else 0)


def _item(entry: Entry, known: str | None = None) -> Part:
    carried = "item" in entry.carried or entry.item == known
    return Part(_named(entry), ITEM_CARRIED if carried else 0)


def _named(entry: Entry) -> str:
    """The item with what was said of it: "white trim coil", "one by eight fascia"."""
    words = size_in_words(_SIZE_LAST.sub(r"\2 \1", entry.item or "")).split()
    for said in (entry.profile, entry.size, entry.colour, _long(entry.length)):
        fresh = size_in_words(said or "").split()
        if f" {' '.join(fresh)} " in f" {' '.join(words)} ":
            continue
        # "Center vented" of a "vented soffit panel" says "vented" once.
        words = [*(fresh[:-1] if fresh[-1:] == words[:1] else fresh), *words]
    return " ".join(words)


_SIZE_LAST = re.compile(r"^(.*\D) (\d+(?:/\d+)?x\d+)$")
"""Of a line called "fascia 1x8", which people call one by eight fascia."""


def _long(length: Fraction | None) -> str:
    if length is None:
        return ""
    feet = length / 12
    return f"{in_words(feet)} foot" if feet.denominator == 1 else f"{in_words(length)} inch"


def _weekday(day: date | None) -> str:
    return f"{day:%A}".lower() if day else ""


def _note(entry: Entry) -> Part:
    return Part(few(entry.note or ""), NOTE)


def few(note: str, most: int = 5) -> str:
    """The first words of a note, without the marks of what was not heard."""
    words = note.replace(UNHEARD, " ").split()
    kept = words[:most]
    while len(kept) < len(words) and len(kept) > 1 and kept[-1].lower() in _LEADS_ON:
        kept.pop()
    return " ".join(kept)


_LEADS_ON = frozenset("a an the and or".split())
"""Words that nobody stops after."""


# --- each kind --------------------------------------------------------------------------------


def _measure(entry: Entry, known: str | None) -> Iterator[Part]:
    pieces = f"{in_words(entry.pieces)} pieces" if entry.pieces else ""
    pieces = pieces.replace("one pieces", "one piece")
    yield _item(entry)
    yield Part(entry.dimension or "", joined=entry.item is not None)
    yield _note(entry)
    yield Part(pieces)
    size = _size(entry) if entry.top is None or _has_a_size(entry) else ""
    yield Part(size, joined=bool(pieces))
    yield Part(entry.top or "")


def _has_a_size(entry: Entry) -> bool:
    return any(one is not None for one in (entry.inches, entry.square_inches, entry.pitch))


def _size(entry: Entry) -> str:
    at = "at " if entry.pieces else ""
    if entry.inches is not None:
        return at + length_in_words(entry.inches, entry.as_said)
    if entry.square_inches is not None:
        return at + area_in_words(entry.square_inches, entry.as_said)
    if entry.pitch is not None:
        return f"pitch {in_words(entry.pitch)} in twelve"
    return "how much"


def _stock(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part(_VERBS[entry.kind])
    if entry.quantity is None:
        yield Part("" if entry.kind == "needed" else "how many", joined=True)
        yield replace(_item(entry), joined=entry.kind == "needed")
    elif entry.unit == "each" and entry.item:
        many = _many(_named(entry), entry.quantity)
        yield Part(f"{in_words(entry.quantity)} {many}", joined=True)
    else:
        amount = _amount(entry.quantity, entry.unit)
        yield Part(amount, joined=True)
        item = _item(entry, known)
        counts = amount == in_words(entry.quantity) or not item.text
        yield item if counts else replace(item, text=f"of {item.text}", joined=True)
    for lead, job in (("from", entry.from_job), ("to", entry.to_job)):
        if job is not None:
            yield Part(f"{lead} {_end(job)}", joined=True)
    if entry.unit_cost is not None:
        yield Part(f"at {money_in_words(entry.unit_cost)}")
    yield Part(few(entry.reason or "", 3), REASON)


def _end(job: str) -> str:
    """An end of a transfer: "stock", "the mill job"."""
    if job == STOCK:
        return job
    return f"the {' '.join(word for word in job.lower().split() if word != 'job')} job"


def _amount(quantity: Fraction, unit: str | None) -> str:
    one, many = spoken_unit(unit or "")
    if not one or unit == "each":
        return in_words(quantity)
    if 0 < quantity < 1:
        half = "half" if quantity == Fraction(1, 2) else f"{in_words(quantity)} of"
        return f"{half} a {one}"
    return f"{in_words(quantity)} {one if quantity == 1 else many}"


def _many(item: str, quantity: Fraction) -> str:
    return item if quantity == 1 or item.endswith("s") else f"{item}s"


def _moment(entry: Entry, known: str | None) -> Iterator[Part]:
    verb, usual = _MOMENTS[entry.kind]
    yield Part(verb)
    if entry.time is not None:
        at = "at " if entry.kind == "break" else ""
        yield Part(at + time_in_words(entry.time, usual), joined=True)
    if entry.minutes is not None:
        lasted = "for " if entry.time is not None else ""
        yield Part(f"{lasted}{in_words(entry.minutes)} minutes", joined=bool(lasted))
    if entry.time is None and entry.minutes is None:
        yield Part("what time")
    yield Part(_crew_after(entry.workers, entry.time))
    yield _note(entry)


def _crew_after(workers: int | None, clock: time | None) -> str:
    people = _people(workers)
    # "Twelve oh two, two people" sounds like a number begun again.
    return (
        f"crew of {in_words(workers)}" if workers and clock and clock.minute == workers else people
    )


def _people(workers: int | None) -> str:
    return "" if not workers else "just me" if workers == 1 else f"{in_words(workers)} people"


def _labor(entry: Entry, known: str | None) -> Iterator[Part]:
    if entry.hours is not None or entry.quantity is None:
        yield Part(_hours(entry.hours) if entry.hours is not None else "how many hours")
    yield Part(entry.task or "")
    yield Part(_people(entry.workers))
    if entry.quantity is not None:
        yield Part(_amount(entry.quantity, entry.unit))
    if entry.unit_cost is not None:
        whose = f" for {entry.who}" if entry.who else ""
        yield Part(f"at {money_in_words(entry.unit_cost)} an hour{whose}")
    yield _note(entry)


def _hours(hours: Fraction) -> str:
    whole, minutes = divmod(hours * 60, 60)
    if hours < 1 and minutes.denominator == 1:
        return f"{in_words(minutes)} minutes"
    if hours.denominator in (1, 2, 4) or minutes.denominator != 1:
        return f"{in_words(hours)} {'hour' if hours == 1 else 'hours'}"
    name = "hour" if whole == 1 else "hours"
    return f"{in_words(whole)} {name} {in_words(minutes)} minutes"


def _weather(entry: Entry, known: str | None) -> Iterator[Part]:
    if entry.fahrenheit is not None:
        yield Part(f"{in_words(entry.fahrenheit)} degrees")
    yield Part(few(entry.note or ""), NOTE if entry.fahrenheit is not None else 0)


def _words(entry: Entry, known: str | None) -> Iterator[Part]:
    """What is only words: its kind, and the first of them."""
    note = few(entry.note or "")
    yield Part("" if note.startswith(entry.kind) else entry.kind)
    yield Part(note)


def _price(entry: Entry, known: str | None) -> Iterator[Part]:
    item = _named(entry)
    yield Part(f"{item} {'are' if item.endswith('s') else 'is'}" if item else "what is")
    cost = money_in_words(entry.unit_cost) if entry.unit_cost is not None else "what price"
    yield Part(cost, joined=True)
    one = spoken_unit(entry.unit or "")[0] or "each"
    yield Part("each" if one == "each" else f"a {one}", joined=True)


def _todo(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part("reminder")
    if entry.quantity is not None:
        yield Part(f"{_amount(entry.quantity, entry.unit)} {_named(entry)}".strip())
    yield _words_beside(entry)
    yield _who(entry)


def _extra(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part("extra work")
    yield _words_beside(entry)
    yield from _worth(entry)
    yield _who(entry)


def _expense(entry: Entry, known: str | None) -> Iterator[Part]:
    note = _words_beside(entry)
    if note.text != few(entry.note or "") and f" for {note.text}" not in (entry.note or ""):
        note = Part("")  # "Paid the kid eighty" is for nobody knows what.
    yield Part("paid" if note.text else "expense")
    yield from (replace(part, joined=True) for part in _worth(entry))
    yield replace(note, text=f"for {note.text}" if note.text else "", joined=True)
    yield _who(entry)


def _worth(entry: Entry) -> Iterator[Part]:
    if entry.price is not None:
        yield Part(money_in_words(entry.price))
    if entry.hours is not None:
        yield Part(_hours(entry.hours))


def _drive(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part("drove")
    if entry.miles is not None:
        yield Part(f"{in_words(entry.miles)} miles", joined=True)
    if entry.minutes is not None:
        yield Part(f"{in_words(entry.minutes)} minutes")
    yield _words_beside(entry)


def _visit(entry: Entry, known: str | None) -> Iterator[Part]:
    """Of an inspection too, which anybody makes."""
    told = entry.who and (entry.note or "").startswith(entry.who) and entry.note != entry.who
    # "Gutter guy comes thursday" tells it in his own words.
    visitor = f"{entry.who} came by" if entry.kind == "visit" and entry.who and not told else ""
    yield Part(visitor or entry.kind)
    if entry.time is not None:
        yield Part(f"at {time_in_words(entry.time, range(7, 19))}", joined=True)
    if entry.note != entry.who:
        yield _words_beside(entry)
    yield Part("") if visitor else _who(entry)


def _corner(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part(_TURNS.get(entry.corner or "", "which corner"))


_TURNS = {
    "outside": "outside corner",
    "inside": "inside corner",
    "end": "the walk ends",
    "around": "all the way around",
}


def _opening(entry: Entry, known: str | None) -> Iterator[Part]:
    many = entry.pieces is not None and entry.pieces > 1
    count = f"{in_words(entry.pieces)} " if many and entry.pieces else ""
    called = few(entry.note or "") or f"{entry.opening or 'opening'}{'s' * many}"
    yield Part(f"{count}{called}")
    sides = (entry.width, entry.height)
    in_feet = all(side is not None and side >= 24 and side.denominator == 1 for side in sides)
    shown = map(_feet if in_feet else _side, sides)
    yield Part(f"{' by '.join(shown)}{'' if in_feet else ' inches'}", joined=True)
    if entry.at is not None:
        yield Part(f"at {_feet(entry.at)}", joined=True)


def _interruption(entry: Entry, known: str | None) -> Iterator[Part]:
    yield Part(f"{few(entry.note or '') or 'something'} interrupts")
    if entry.at is None or entry.length is None:
        yield Part("from where to where", joined=True)
    else:
        end = entry.at + entry.length
        yield Part(f"from {_feet(entry.at)} to {_feet(end)}", joined=True)


def _side(inches: Fraction | None) -> str:
    return "how much" if inches is None else length_in_words(inches)


def _feet(inches: Fraction | None) -> str:
    """In feet, whatever they were said in."""
    if inches is None or inches < 12:
        return f"{_side(inches)} inches"
    feet, rest = divmod(inches, 12)
    return length_in_words(inches, f"{feet} feet {tape(rest)}" if rest else f"{feet} feet")


def _who(entry: Entry) -> Part:
    return Part(entry.who if entry.who and entry.who not in (entry.note or "") else "", WHO)


def _words_beside(entry: Entry) -> Part:
    """The words of an errand, without its number, which may have been put right since."""
    counted = (entry.price, entry.miles, entry.hours, entry.minutes, entry.quantity, entry.time)
    if all(number is None for number in counted):
        return Part(few(entry.note or ""))
    return Part(few(_without_numbers(entry.note or "")), NOTE)


def _without_numbers(note: str) -> str:
    """The longest stretch of words that holds no number: "the dump" of "forty bucks for the dump";
    "" where all of it is only what leads to the number."""
    stretches: list[list[str]] = [[]]
    for word in note.split():
        if word.lower() in _COUNTED or is_written(word):
            stretches.append([])
        else:
            stretches[-1].append(word)
    if len(stretches) == 1:
        return note
    for stretch in stretches:
        while stretch and stretch[0].lower() in _LEADS_TO_A_NUMBER:
            stretch.pop(0)
        while stretch and stretch[-1].lower() in _LEADS_TO_A_NUMBER:
            stretch.pop()
    longest = max(stretches, key=len)
    return " ".join(longest)


_LEADS_TO_A_NUMBER = frozenset(
    "a an and at for of in to paid spent extra work drove drive expense bucks dollars dollar cents"
    " hours hour minutes miles mile is was it it's came by o'clock inspection visit".split()
)
_COUNTED = frozenset(NUMBER_WORDS) - frozenset("a an and oh point by second".split())

_PLACE_FIRST: tuple[Kind, ...] = ("measure", *WALK_KINDS)
_VERBS: dict[Kind, str] = {
    "used": "used",
    "spoiled": "spoiled",
    "delivered": "delivered",
    "returned": "returned",
    "on_hand": "left",
    "moved": "moved",
    "needed": "need",
}
_MOMENTS: dict[Kind, tuple[str, range]] = {
    "start": ("started", range(4, 12)),
    "stop": ("stopped", range(12, 19)),
    "break": ("break", range(7, 19)),
}
"""The word for it, and the hours of the day that need no "a m" or "p m" to be told."""
_SAY: dict[Kind, Callable[[Entry, str | None], Iterator[Part]]] = {
    "measure": _measure,
    **dict.fromkeys(STOCK_KINDS, _stock),
    **dict.fromkeys(_MOMENTS, _moment),
    "labor": _labor,
    "weather": _weather,
    "price": _price,
    "todo": _todo,
    "extra": _extra,
    "expense": _expense,
    "drive": _drive,
    **dict.fromkeys(("inspection", "visit"), _visit),
    "corner": _corner,
    "wall_opening": _opening,
    "interruption": _interruption,
}

_NUMBERS: dict[str, Callable[[Entry], str]] = {
    "inches": lambda entry: length_in_words(entry.inches or Fraction(0), entry.as_said),
    "square_inches": lambda entry: area_in_words(entry.square_inches or Fraction(0), entry.as_said),
    "pitch": lambda entry: in_words(entry.pitch or 0),
    "quantity": lambda entry: _amount(entry.quantity or Fraction(0), entry.unit),
    "pieces": lambda entry: f"{in_words(entry.pieces or 0)} pieces",
    "unit_cost": lambda entry: money_in_words(entry.unit_cost) if entry.unit_cost else "no price",
    "time": lambda entry: time_in_words(entry.time, range(24)) if entry.time else "no time",
    "minutes": lambda entry: f"{in_words(entry.minutes or 0)} minutes",
    "hours": lambda entry: _hours(entry.hours or Fraction(0)),
    "workers": lambda entry: _people(entry.workers) or "nobody",
    "price": lambda entry: money_in_words(entry.price) if entry.price else "no price",
    "miles": lambda entry: f"{in_words(entry.miles or 0)} miles",
    "length": lambda entry: length_in_words(entry.length) if entry.length else "no length",
    "width": lambda entry: length_in_words(entry.width) if entry.width else "no width",
    "height": lambda entry: length_in_words(entry.height) if entry.height else "no height",
    "at": lambda entry: length_in_words(entry.at) if entry.at is not None else "nowhere",
    "fahrenheit": lambda entry: f"{in_words(entry.fahrenheit or 0)} degrees",
    "size": lambda entry: size_in_words(entry.size) if entry.size else "no size",
    "day": lambda entry: _weekday(entry.day) or "no day",
}
"""How the number of each field is said by itself."""
