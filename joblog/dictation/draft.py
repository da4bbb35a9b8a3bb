"""A reading in the making, and what is taken out of matched words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import datetime
from itertools import takewhile
from operator import attrgetter
from typing import Any, cast

from joblog.dictation.grammar import ITEM, SPOT, Atom, Stretch, is_a
from joblog.dictation.items import item_called
from joblog.dictation.numbers import DIGITS, Number
from joblog.dictation.pointing import LOOKED, NO_CLUE, Aim, Clue, aimed, standing_after, whole_kept
from joblog.form import ATTRIBUTES
from joblog.model import WALK_KINDS, Doubt, Entry, Item, Kind, Reading, Vocabulary
from joblog.quantity import tape


def changed(entry: Entry, **told: Any) -> Entry:
    """The entry with some of its fields as they are `told`: `replace`, in half the time."""
    held = list(_ALL_OF(entry))
    for name, value in told.items():
        held[_PLACE_OF[name]] = value
    return Entry(*held)


_NAMES = tuple(one.name for one in fields(Entry))
_PLACE_OF = {name: at for at, name in enumerate(_NAMES)}
_ALL_OF = attrgetter(*_NAMES)


@dataclass(frozen=True, slots=True)
class Context:
    """What holds from before: the local time of the words, and what was said earlier that day."""

    at: datetime | None = None
    place: str | None = None
    last: Entry | None = None
    item: str | None = None
    """The item last spoken of."""
    told: tuple[Entry, ...] = ()
    """What stands of what was said, oldest first, as far back as words can point."""

    @property
    def standing(self) -> tuple[Entry, ...]:
        return self.told or ((self.last,) if self.last is not None else ())

    def after(self, reading: Reading) -> Context:
        """The context for what is said next."""
        told = standing_after(self.standing, reading, LOOKED)
        place, item = self.place, self.item
        for entry in reading.entries:
            entry = entry.replacement or entry
            item = entry.item or item
            if entry.kind not in ELSEWHERE and not (place and entry.place in EVERYWHERE):
                place = entry.place or place
        return Context(self.at, place, told[-1] if told else None, item, told)


@dataclass
class Draft:
    """A reading in the making."""

    vocabulary: Vocabulary
    context: Context
    entries: list[Entry] = field(default_factory=list)
    doubts: list[tuple[int, str]] = field(default_factory=list)
    stretch: Stretch | None = None
    """The stretch that is being built."""
    made_by: dict[int, Stretch] = field(default_factory=dict)
    """The stretch that made each entry."""
    place: str | None = None
    """The place said in this utterance and still holding."""
    detail: str | None = None
    """Where on that place the next measure is: "left end"."""
    verb: Kind | None = None
    """The stock verb that a following bare amount takes over."""
    awaiting: bool = False
    """True while the next entry is what the last one should have been."""
    atoms: Sequence[Atom] = ()
    """The whole utterance."""
    restarts: Mapping[int, str] = field(default_factory=dict)
    """What was dropped before a number that says it again, by where that number stands."""
    unsure: Mapping[int, str] = field(default_factory=dict)
    """Why a self-repair may be none, by where it stands."""
    stretches: Sequence[Stretch] = ()
    """How the utterance was taken apart."""
    unread: frozenset[int] = frozenset()
    """Indexes of the atoms that no stretch covers."""
    understood: set[int] = field(default_factory=set)
    """Those of them that told something after all."""
    dimensioned: set[int] = field(default_factory=set)
    """Indexes of the atoms that told what a measure is of; each tells of one measure only."""
    bare_number_ends: int = -1
    """Where a measure without any unit or fraction ended."""
    subject: Item | None = None
    """An item named by itself, of which the next amounts are: "soffit, eight sheets used"."""
    workers: int | None = None
    """A crew named by itself: "crew of four", "just me today"."""
    timeless: int = -1
    """How many entries there were when a start or stop was added whose time was not said."""
    repeated: bool = False
    """True right after "same again"."""
    taken_back: bool = False
    """True right after "scratch that"."""
    aim: Aim | None = None
    """The entry that the correction under way means; None while that is the last one."""

    def add(self, entry: Entry, *whys: str | None) -> bool:
        last = self.last()
        again = self.taken_back and last is not None and last.kind == entry.kind
        self.taken_back = False
        if again:
            # "Scratch that, twelve and a half": what was taken back becomes this one.
            self.entries.pop()
        if self.awaiting or again:
            self._put_right(entry, whys)
            return True
        self.aim = None
        if entry.kind in ("start", "stop", "labor") and entry.workers is None:
            entry, self.workers = changed(entry, workers=self.workers), None
        if entry.kind == "measure" and self.detail:
            entry, self.detail = changed(entry, note=entry.note or self.detail), None
        if entry.place is None and self.place is not None:
            entry = changed(entry, place=self.place)
        elif entry.place is None and self.context.place and entry.kind in PLACED:
            entry = changed(entry, place=self.context.place, carried=(*entry.carried, "place"))
        if self.stretch is not None:
            self.made_by[len(self.entries)] = self.stretch
        self.entries.append(entry)
        self.doubts.extend((len(self.entries) - 1, why) for why in whys if why)
        return True

    def standing(self) -> tuple[Entry, ...]:
        """What stands so far, oldest first."""
        doubts = ((at, why) for at, why in self.doubts if at < len(self.entries))
        reading = Reading(tuple(self.entries), tuple(Doubt(at, why) for at, why in doubts))
        return standing_after(self.context.standing, reading)

    def last(self) -> Entry | None:
        """The entry that a correction would change: the last one, or what was just taken back."""
        if self.aim is not None:
            return self.aim.entry
        if not self.entries:
            return self.context.standing[-1] if self.context.standing else None
        if self.entries[-1].kind != "correction":
            return self.entries[-1]
        standing = self.standing()
        return standing[-1] if standing else None

    def mean(self, fits: Callable[[Entry], bool], clue: Clue = NO_CLUE) -> Entry | None:
        """The entry that a correction under way means, of those that fit; None for none.

        What was pointed at already, or just taken back, is meant if it fits.
        """
        if self.aim is not None:
            return self.aim.entry if fits(self.aim.entry) else None
        aim = aimed(self.standing(), fits, clue)
        if aim is None:
            return None
        self.aim = aim
        return aim.entry

    def newest(self) -> Entry | None:
        """The entry made last in this utterance."""
        return self.entries[-1] if self.entries else None

    def before(self, stretch: Stretch) -> Atom | None:
        """The word or number that stands just before a stretch."""
        return self.atoms[stretch.start - 1] if stretch.start else None

    def behind(self, stretch: Stretch) -> Atom | None:
        """The word or number that stands just behind a stretch."""
        return self.atoms[stretch.end] if stretch.end < len(self.atoms) else None

    def joined(self, stretch: Stretch) -> bool:
        """True when "and" stands just before a stretch."""
        before = self.before(stretch)
        return before is not None and is_a(before, "AND")

    def forget_doubts(self) -> None:
        """Leaves out the doubts about entries that are not there, or not there any more."""
        self.doubts = [doubt for doubt in self.doubts if doubt[0] < len(self.entries)]

    def _clue_of(self, entry: Entry) -> Clue:
        """What an entry that puts another right has in common with it, most likely."""
        item = None if "item" in entry.carried else entry.item
        place = entry.place or self.place
        told = {one.place for one in self.standing()}
        return Clue(item, place if place in told else None, entry.unit, kind=entry.kind)

    def _put_right(self, entry: Entry, whys: Sequence[str | None]) -> None:
        self.awaiting = False
        aim = self.aim or aimed(self.standing(), lambda one: True, self._clue_of(entry))
        self.aim = None
        if aim is None:
            whys = (*whys, "says to change the last one, and there is none before it")
        else:
            told = entry.item is not None and entry.quantity is not None
            whole = told and not aim.back and aim.entry.kind == entry.kind
            # "Nine sheets of soffit", "make that three sticks of fascia": it is told anew.
            whys = whys if whole else (*whys, aim.why)
            if aim.entry.kind == entry.kind:
                # "Scratch that, north eave fourteen": the place said now holds.
                entry = completed(changed(entry, place=entry.place or self.place), aim.entry)
                entry, why = whole_kept(aim.entry, entry)
                whys = (*whys, why)
        back = aim.back if aim is not None else 0
        self.entries.append(Entry("correction", action="replace", replacement=entry, back=back))
        self.doubts.extend((len(self.entries) - 1, why) for why in whys if why)


def completed(entry: Entry, last: Entry) -> Entry:
    """`entry` with what it does not say of what, where and by whom taken from `last`."""
    names: tuple[str, ...] = (
        "place", "item", "unit", "pieces", "task", "workers", "unit_cost", "reason", "dimension",
        "top", "opening",
    )  # fmt: skip
    if entry.item in (None, last.item):
        names = (*names, *ATTRIBUTES)
    kept = {name: getattr(last, name) for name in names if getattr(entry, name) is None}
    return changed(entry, **kept)


EVERYWHERE = ("walls", "eaves", "gables", "rakes", "sides")
"""Places that are no one place: what is said next is where it was before."""
ELSEWHERE: tuple[Kind, ...] = (
    "todo", "extra", "price", "expense", "drive", "inspection", "visit",
)  # fmt: skip
"""Kinds whose place is not where he is at work."""
# Kinds that belong to a place strongly enough to take it over from earlier words.
PLACED: tuple[Kind, ...] = (
    "measure", "used", "spoiled", "covered", "problem", *WALK_KINDS,
)  # fmt: skip

Parts = dict[str, tuple[Atom, ...]]
Builder = Callable[[Draft, Parts, Stretch], bool]


def words_of(atoms: Sequence[Atom]) -> str:
    return " ".join(cast(str, atom.value) if atom.char == SPOT else atom.words for atom in atoms)


def is_put_there(draft: Draft, stretch: Stretch) -> bool:
    """Whether a place follows as for what is put there: "six on the garage"."""
    behind = next((other for other in draft.stretches if other.start == stretch.end), None)
    return behind is not None and behind.meaning == "place" and is_a(behind.atoms[0], "IN")


def item_in(atoms: tuple[Atom, ...] | None) -> Item | None:
    for atom in atoms or ():
        if atom.char == ITEM:
            return cast(Item, atom.value)
    return None


def item_named(vocabulary: Vocabulary, name: str | None) -> Item | None:
    return item_called(vocabulary, name)


def whole_in(atoms: tuple[Atom, ...] | None) -> int | None:
    for atom in atoms or ():
        if isinstance(atom.value, Number):
            return atom.value.whole
    return None


def ambiguous(atoms: Sequence[Atom]) -> list[str]:
    """Why a number among them may be another one than was read."""
    strings = (_string_of_digits(atom) for atom in atoms if isinstance(atom.value, Number))
    return [
        *(why for why in strings if why),
        *_two_ways(atoms),
    ]


def _string_of_digits(atom: Atom) -> str | None:
    """A doubt about digits said one by one that are no plain number: "one zero six seven"."""
    digits = [*takewhile(DIGITS.__contains__, atom.words.split())]
    if len(digits) > 1 and digits[0] == "zero":
        return f"{atom.words!r} begins with a zero: is a digit before it missing?"
    return f"{atom.words!r}: one number, digit by digit?" if len(digits) > 3 else None


def _two_ways(atoms: Sequence[Atom]) -> list[str]:
    return [
        f"{atom.words!r} is {tape(atom.value.value)} or {tape(atom.value.also[0])}"
        for atom in atoms
        if isinstance(atom.value, Number) and atom.value.also
    ]
