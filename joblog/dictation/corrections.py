"""Taking back, changing and repeating what was said last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import cast

from joblog.dictation.attributes import attribute_in
from joblog.dictation.days import day_of, is_ahead
from joblog.dictation.draft import Draft, Parts, item_in, whole_in, words_of
from joblog.dictation.grammar import CLOCK, NUMBERS, OTHER, Atom, Stretch, has_any, is_a
from joblog.dictation.items import Said, item_called, variant
from joblog.dictation.labor import duration, put_crew, task_named, time_of
from joblog.dictation.lengths import countable_as, length_of, new_number, with_number
from joblog.dictation.numbers import Number
from joblog.dictation.places import name_of
from joblog.dictation.pointing import Clue, aimed, costs, numbered, repeatable, same_item
from joblog.dictation.stock import money_in
from joblog.form import ATTRIBUTES
from joblog.model import STOCK_KINDS, Entry, Kind
from joblog.quantity import tape, unit_named


def add_drop(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if len(stretch.atoms) == 1 and stretch.atoms[0].words in _NEEDS_LAST:
        return False
    before = draft.before(stretch)
    if draft.taken_back and before is not None and not is_a(before, "AND"):
        return True  # "Never mind the last one, take it out" takes back once.
    draft.aim = None
    draft.mean(lambda one: True, _clue_in(parts))
    aim = draft.aim
    draft.entries.append(Entry("correction", action="drop", back=aim.back if aim else 0))
    draft.taken_back = True
    why = aim.why if aim else "says to take back the last one, and there is none before"
    if why:
        draft.doubts.append((len(draft.entries) - 1, why))
    return True


def add_drop_that(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Scratch the caulk": what is taken back is named."""
    return _points(draft, parts) and add_drop(draft, parts, stretch)


def add_kept(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Keep the J": what was to go back does not."""
    if draft.mean(lambda one: one.kind == "returned", _clue_in(parts)) is None or draft.entries:
        return False
    aim = draft.aim
    if aim is None or not _points(draft, parts):
        return False
    draft.entries.append(Entry("correction", action="drop", back=aim.back))
    draft.doubts += [(0, aim.why)] if aim.why else []
    return True


def add_shorter(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Take an eighth off the dormer"."""
    last = draft.mean(lambda one: one.inches is not None and one.inches > 1, _clue_in(parts))
    if last is None or last.inches is None or draft.entries:
        return False
    draft.awaiting = True
    inches = last.inches - cast(Number, parts["m"][0].value).value
    shorter = replace(last, inches=inches, as_said=tape(inches), carried=())
    return draft.add(shorter, "was it measured so much too long?")


def add_drop_those(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Scratch the last two"."""
    number = whole_in(parts["n"]) or 2
    lead = draft.atoms[stretch.start + stretch.atoms.index(parts["n"][0]) - 1]
    if parts["n"][0].pause or (is_a(lead, "LAST") and not lead.words.endswith("last")):
        return False  # "Scratch that last one, three".
    if not 1 < number <= min(_MOST, len(draft.standing())) or draft.taken_back:
        return False
    draft.entries += [Entry("correction", action="drop")] * number
    return True


_MOST = 4
"""Entries that are taken back at once."""


def _points(draft: Draft, parts: Parts) -> bool:
    """Whether the words name something that was said before."""
    clue = _clue_in(parts)
    return any(
        (clue.item is None or same_item(clue.item, one.item))
        and (clue.place is None or clue.place == one.place)
        for one in draft.standing()
    )


def _clue_in(parts: Parts) -> Clue:
    """What the words name of the entry that they mean: its item, its place."""
    item = item_in(parts.get("o"))
    return Clue(
        item=item.name if item else None,
        place=name_of(parts["w"]) if "w" in parts else None,
        number=_denied(parts),
    )


def _denied(parts: Parts) -> Fraction | None:
    """The number that was wrong."""
    numbers = [atom.value for atom in parts.get("x", ()) if isinstance(atom.value, Number)]
    return numbers[0].value if len(numbers) == 1 else None


_NEEDS_LAST = (
    "scratch", "strike", "delete", "erase", "cancel", "forget", "drop", "remove", "lose", "kill",
    "take out", "clear", "wipe",
)  # fmt: skip


def add_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    following = draft.behind(stretch)
    if following is None or following.words == "to":
        return False
    draft.awaiting = True
    return True


def add_instead_of_that(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Make the south eave nine", "the fascia should be five"."""
    if draft.behind(stretch) is None or not _points(draft, parts):
        return False
    draft.mean(lambda one: True, _clue_in(parts))
    draft.awaiting = True
    return True


def add_maybe_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No", "wait" and "sorry" take something back only when a number follows, or where and it."""
    following = draft.behind(stretch)
    place = next((other for other in draft.stretches if other.start == stretch.end), None)
    if not draft.entries and place is not None and place.meaning == "place":
        following = draft.behind(place)
    if following is None or (following.char not in NUMBERS and not is_a(following, "INSTEAD")):
        return False
    draft.awaiting = draft.awaiting or following.char in NUMBERS
    return True


def add_not_this(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Not nine, eight"."""
    draft.awaiting = True
    draft.mean(numbered, Clue(number=cast(Number, parts["x"][0].value).value))
    return new_number(draft, cast(Number, parts["b"][0].value).value)


def add_this_not_that(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "That was fascia, not frieze"; "eight pieces, not nine"; "delivered, not used"."""
    denied = any(atom.words.startswith("not") for atom in stretch.atoms)
    if not draft.standing() or (draft.entries and not draft.awaiting):
        return False
    if not denied and not _is_all(draft, stretch):
        return False  # "That was two sheets that broke" is more than a change.
    draft.awaiting = True
    if "t" in parts:
        return add_time_instead(draft, parts, stretch)
    if "d" in parts:
        return add_new_duration(draft, parts, stretch)
    if "i" in parts:
        return _another_item(draft, parts)
    if "v" in parts:
        return _another_verb(draft, parts)
    return _another_number(draft, parts, stretch, denied)


def _another_item(draft: Draft, parts: Parts) -> bool:
    item, wrong = item_in(parts["i"]), item_in(parts.get("y"))
    task = task_named(draft.vocabulary, words_of(parts["i"]))
    meant = aimed(draft.standing(), lambda one: one.item is not None or one.kind == "labor")
    if task is not None and meant is not None and meant.entry.kind == "labor":
        last = draft.mean(lambda one: one.kind == "labor")
        return last is not None and draft.add(replace(last, task=task, carried=()))
    last = draft.mean(lambda one: one.item is not None, Clue(item=wrong.name if wrong else None))
    if item is None or last is None:
        return False
    if item.size and last.item and item_called(draft.vocabulary, last.item):
        other, why = _like(draft, last, Said(size=item.size))
        if why is None:
            return draft.add(other)  # "That was one by eight": of the same fascia.
    unit = last.unit if last.unit in (item.unit, *dict(item.also)) else item.unit
    other = replace(last, size=None, length=None, profile=None, colour=None, carried=())
    return draft.add(replace(other, item=item.name, unit=unit))


def add_like_this(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "The brown, not the white"; "that was solid": of the same item another one."""
    said = attribute_in(parts["a"])
    wrong = attribute_in(parts["z"]) if "z" in parts else None
    if said is None or draft.entries or not _is_all(draft, stretch):
        return False
    draft.awaiting = True
    last = draft.mean(lambda one: one.item is not None, Clue(said=wrong))
    return last is not None and draft.add(*_like(draft, last, said))


def _like(draft: Draft, last: Entry, said: Said) -> tuple[Entry, str | None]:
    """The entry of the line of its item that fits what was said instead, and why it is unsure."""
    attributes = {name: getattr(said, name) or getattr(last, name) for name in ATTRIBUTES}
    found = variant(draft.vocabulary, last.item or "", Said(**attributes))
    if found is None:
        return replace(last, carried=(), **attributes), None
    item, why = found
    return replace(last, item=item.name, carried=(), **attributes), why


def _another_verb(draft: Draft, parts: Parts) -> bool:
    kind, wrong = (
        next((kind for name, kind in _VERBS.items() if is_a(parts[part][0], name)), None)
        if part in parts
        else None
        for part in "vz"
    )
    last = draft.mean(lambda one: one.kind in STOCK_KINDS, Clue(kind=wrong))
    if kind is None or last is None:
        return False
    return draft.add(replace(last, kind=kind, carried=()))


def _another_number(draft: Draft, parts: Parts, stretch: Stretch, denied: bool) -> bool:
    unit = next((atom for atom in stretch.atoms if _counts(atom)), None)
    pieces = any(is_a(atom, "PIECEWORD") for atom in stretch.atoms)
    length = length_of(parts["m"])
    if length is None:
        return False
    value, as_said, why = length
    plain = len(parts["m"]) == 1
    clue = _clue_in(parts)
    if (clue.item or clue.place) and not _points(draft, parts):
        return False
    fits = countable_as(value) if plain else _is_length
    if unit is not None and plain:
        fits = _is_stock
    last = draft.mean(fits, replace(clue, unit=unit_named(unit.words) if unit else None))
    if last is None:
        return False
    if not plain:
        return draft.add(replace(last, inches=value, as_said=as_said, carried=()), why)
    if not denied and unit is None and value.denominator > 1 and last.kind != "measure":
        # "It was one and a half" may as well be a new measure.
        draft.doubts.append((len(draft.entries), "so many instead, or a measure?"))
    if pieces and last.kind == "measure":
        if last.pieces is None or value.denominator != 1:
            return False
        return draft.add(replace(last, pieces=int(value), carried=()))
    return new_number(draft, value)


def _is_stock(entry: Entry) -> bool:
    return entry.kind in STOCK_KINDS or (entry.kind == "measure" and entry.pieces is not None)


def add_new_price(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No, fifteen ninety": what something costs."""
    if draft.entries or not _is_all(draft, stretch):
        return False
    said = money_in(parts["c"])
    last = draft.last()
    if last is None or not costs(last) or said is None:
        return False
    draft.awaiting = True
    if last.price is not None:
        return draft.add(replace(last, price=said, carried=()))
    if last.kind != "price" and not any(is_a(atom, "MONEY") for atom in parts["c"]):
        draft.awaiting = False
        return False  # "No, fifteen" after what was delivered counts.
    return draft.add(replace(last, unit_cost=said, carried=()))


def _counts(atom: Atom) -> bool:
    """True for a unit that counts something."""
    return is_a(atom, "UNIT") and not (is_a(atom, "FOOT") or is_a(atom, "INCH"))


def _is_length(entry: Entry) -> bool:
    return entry.inches is not None


def add_new_day(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "That was yesterday"."""
    last = draft.last()
    if draft.entries or last is None or not _is_all(draft, stretch):
        return False
    ahead = is_ahead(draft.atoms, last)
    day, why = day_of(parts["d"][0], None, draft.context.at, ahead=ahead)
    if day is None:
        return False
    draft.awaiting = True
    return draft.add(replace(last, day=day, carried=()), why)


def add_new_crew(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No, two helpers": who was at it, said of the work before."""
    return not draft.entries and _is_all(draft, stretch) and put_crew(draft, parts, again=True)


def add_new_duration(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No, forty five minutes": how long the last break or work took."""
    minutes, why = duration(parts["d"])
    if not draft.awaiting:
        return False
    last = draft.mean(_lasts, _clue_in(parts))
    if last is None:
        return False
    if last.kind == "break":
        return draft.add(replace(last, minutes=minutes, carried=()), why)
    return draft.add(replace(last, hours=minutes / 60, carried=()), why)


def _lasts(entry: Entry) -> bool:
    return entry.kind in ("break", "labor")


def add_moved(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Put that on the north eave", "no, that's the south eave"."""
    if draft.entries or not _is_all(draft, stretch):
        return False
    wrong = name_of(parts["y"]) if "y" in parts else None
    last = draft.mean(lambda one: True, Clue(place=wrong))
    if last is None:
        return False
    draft.awaiting = True
    draft.place = name_of(parts["p"])
    return draft.add(replace(last, place=draft.place, carried=()))


def _is_all(draft: Draft, stretch: Stretch) -> bool:
    """True when nothing but mere fillers stands beside the stretch."""
    beside = [*draft.atoms[: stretch.start], *draft.atoms[stretch.end :]]
    return all(is_a(atom, "FILLER") or is_a(atom, "NOWAIT") for atom in beside)


_VERBS: dict[str, Kind] = {
    "USED": "used", "DELIVER": "delivered", "RETURN": "returned", "SPOIL": "spoiled",
    "LEFTOVER": "on_hand", "NEED": "needed",
}  # fmt: skip


def add_adjust(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Make it light": a sixteenth less than the last one."""
    *denied, word = stretch.atoms
    if "a" in parts:
        word, *_, last_word = stretch.atoms
        denied = [last_word]
    alone = not draft.entries and _is_all(draft, stretch)
    if not (draft.awaiting or denied or alone):
        return False
    last = draft.mean(lambda one: one.inches is not None)
    if last is None or last.inches is None:
        return False
    draft.awaiting = True
    sixteenth = Fraction(1, 16) if is_a(word, "HEAVY") else -Fraction(1, 16)
    said = last.as_said or tape(last.inches)
    if denied and not last.as_said:
        sixteenth *= 2
    if denied and said.endswith(f" {denied[-1].words}"):
        # "Not light, heavy": the sixteenth that was wrong comes off again.
        said, sixteenth = said.removesuffix(f" {denied[-1].words}"), 2 * sixteenth
    as_said = f"{said} {word.words}"
    return draft.add(replace(last, inches=last.inches + sixteenth, as_said=as_said, carried=()))


def add_time_instead(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "No wait, 7:45": another time for a start, a stop or a break."""
    following = draft.behind(stretch)
    if not draft.awaiting or (following is not None and has_any((following,), "UNIT", "PIECEWORD")):
        return False
    if _is_bare(parts["t"]) and _counts_nearer(draft):
        return False
    last = draft.mean(lambda one: one.kind in _CLOCKED)
    if last is None:
        return False
    clock, why = time_of(parts["t"], draft.context.at, last.kind)
    if clock is None:
        return False
    return draft.add(replace(last, time=clock, carried=()), why)


def _is_bare(clock: Sequence[Atom]) -> bool:
    """Whether a time is a number like any other: "seven"."""
    return len(clock) == 1 and clock[0].char not in (CLOCK, OTHER) and not has_any(clock, "NOON")


def _counts_nearer(draft: Draft) -> bool:
    """Whether something with a number that is no time was said after the last time of day."""
    last = draft.mean(lambda one: one.kind in _CLOCKED or numbered(one))
    draft.aim, pointed = None, draft.aim
    if last is not None and last.kind in _CLOCKED:
        draft.aim = pointed
        return False
    return last is not None


_CLOCKED = ("start", "stop", "break")


def add_time_not_that(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Start was seven fifteen, not seven"."""
    if draft.entries or not draft.standing():
        return False
    named = [kind for name, kind in _TIMED.items() if name in parts]
    kinds = tuple(named) or _CLOCKED
    wrong = {time_of(parts["x"], draft.context.at, kind)[0] for kind in kinds}
    meant = aimed(draft.standing(), lambda one: one.kind in kinds and one.time in wrong)
    if meant is None:
        return False
    draft.awaiting, draft.aim = True, meant
    return add_time_instead(draft, parts, stretch)


_TIMED: dict[str, Kind] = {"b": "start", "e": "stop", "r": "break"}


def add_less(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Make it one less"."""
    if draft.entries or not _is_all(draft, stretch):
        return False
    last = draft.mean(lambda one: one.quantity is not None)
    less = cast(Number, parts["n"][0].value).value
    if last is None or last.quantity is None or last.quantity <= less:
        return False
    draft.awaiting = True
    return draft.add(replace(last, quantity=last.quantity - less, carried=()))


def add_again(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Same again", "same on the south eave", "same but nine", "dormer too"."""
    aim = aimed(draft.standing(), repeatable)
    if aim is None or ("l" in parts and (draft.entries or not _is_all(draft, stretch))):
        return False
    last = aim.entry
    if "w" in parts:
        draft.place = name_of(parts["w"])
    carried = () if draft.place or last.place is None else ("place",)
    if "m" in parts:
        last = with_number(last, cast(Number, parts["m"][0].value).value)
    said = attribute_in(parts["a"]) if "a" in parts else None
    if said is not None and last.item is not None:
        last, why = _like(draft, last, said)
        draft.doubts += [(len(draft.entries), why)] if why else []
    draft.repeated = draft.add(replace(last, place=draft.place or last.place, carried=carried))
    return True
