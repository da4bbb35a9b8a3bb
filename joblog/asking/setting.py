"""What answers are looked for in: the entries asked about, and what stands around them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from joblog.catalog.lines import starter
from joblog.dictation import Context
from joblog.model import (
    BookEntry,
    Catalog,
    Entry,
    Item,
    Plan,
    Reading,
    Settled,
    Utterance,
    Vocabulary,
)

Reader = Callable[[str], Reading]
Decided = Mapping[tuple[str, object], Mapping[object, int]]
"""By field and what was heard in it, how often it was decided to be what; see `learned.py`."""


@dataclass(frozen=True)
class Setting:
    """Where a question is asked."""

    asked: tuple[BookEntry, ...]
    read: Reader
    """Reads words as if they had been said instead."""
    vocabulary: Vocabulary
    plan: Plan = field(default_factory=Plan)
    catalog: Catalog | None = None
    context: Context = field(default_factory=Context)
    """What held when the words were said."""
    breath: tuple[BookEntry, ...] = ()
    """All entries of the same words as those asked about, in their order."""
    around: tuple[BookEntry, ...] = ()
    """What else was said that day, oldest first."""
    utterance: Utterance | None = None
    """None where it was typed."""
    decided: Decided = field(default_factory=dict)

    @cached_property
    def items(self) -> dict[str, Item]:
        """By name; the plan's own before those of the catalog."""
        known = {item.name: item for item in (self.catalog.items if self.catalog else starter())}
        planned = {line.item.name: line.item for line in self.plan.items}
        # However it is written: older plans have "j channel", where the catalog has "J channel".
        names = {name.lower() for name in planned}
        return planned | {name: item for name, item in known.items() if name.lower() not in names}


@dataclass(frozen=True, slots=True)
class Candidate:
    """One thing that the entries asked about may be."""

    settles: tuple[Settled, ...]
    weight: float
    """How likely it is beside the others; they need not add up to anything."""
    because: str = ""


def alone(kept: BookEntry, becomes: Entry | None, weight: float, because: str = "") -> Candidate:
    """One entry becomes something else; its words stay."""
    return Candidate((Settled(kept.id, becomes, kept.said),), weight, because)
