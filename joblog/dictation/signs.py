"""What is odd about a reading: signs that a fact of it may be wrong or lost.

Each sign is a row of words for the small reader that learns what it is worth (`doubter.py`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from joblog.dictation.grammar import ITEM, NUMBERS, SPOT, Atom, Stretch, chars_in
from joblog.model import STOCK_KINDS, Entry


@dataclass(frozen=True, slots=True)
class Heard:
    """What was said, and how it was read."""

    atoms: Sequence[Atom]
    stretches: Sequence[Stretch]
    entries: Sequence[Entry]
    score: float = 0.0
    """The sum of the weights of the stretches and of what none of them covers."""
    dropped: int = 0
    """Words that were taken back or said twice."""
    unsure: int = 0
    """Repairs that may be none."""
    told: bool = False
    """Whether something was said before."""
    asked: bool = False
    """Whether something of it is in doubt already."""


def signs_of(heard: Heard) -> list[str]:
    """The signs of a reading; one may be there twice."""
    atoms, stretches = heard.atoms, heard.stretches
    where = ["left"] * len(atoms)
    signs = []
    for stretch in stretches:
        signs.append(f"as {stretch.meaning}")
        kept = "words" if stretch.meaning in WORDY else "fact"
        for at in range(stretch.start, stretch.end):
            where[at] = kept
    _of_the_words(atoms, where, signs)
    _of_the_entries(atoms, heard.entries, signs)
    if heard.told and not any(entry.kind == "correction" for entry in heard.entries):
        signs += {f"after others, {sign}" for sign in signs if sign.startswith(_PUTS_RIGHT)}
    signs += (
        f"stretches {min(len(stretches), 6)}",
        f"dropped {_step(heard.dropped, (1, 3, 6))}",
        f"unsure {min(heard.unsure, 2)}",
        f"told {heard.told}",
        f"asked {heard.asked}",
        f"score {_step(-5 * heard.score / max(1, len(atoms)), (1, 2, 3, 4, 5, 7))}",
    )
    return signs


WORDY = frozenset(
    ("talk", "note", "problem", "covered", "photo", "todo", "visit", "inspection", "extra",
     "drive", "expense", "weather")
)  # fmt: skip
"""Meanings of stretches whose words are kept as they were said."""


def strange_words(heard: Heard) -> str:
    """Those of its words that stand in no table and in no name."""
    strange = _strange()
    return " ".join(atom.words for atom in heard.atoms if atom.char in strange)


def _of_the_words(atoms: Sequence[Atom], where: Sequence[str], signs: list[str]) -> None:
    """Signs of what was said, and of where it went: into a fact, a note, or nowhere."""
    strange, fillers, cues = _strange(), _fillers(), _cues()
    counts: dict[str, int] = {}
    pauses = unread = 0
    before = ""
    for at, atom in enumerate(atoms):
        char, place = atom.char, where[at]
        pauses += atom.pause
        sort = _SORTS.get(char) or ("strange" if char in strange else "")
        if place == "left" and char not in fillers:
            unread += 1
            sort = sort or "known"
        if sort:
            name = f"{sort} {place}"
            counts[name] = counts.get(name, 0) + 1
            if before and (before == "number" or sort == "number") and before != sort:
                signs.append(f"{before} {name}")
        for cue in cues.get(char, ()):
            signs.append(f"{cue} {place}")
        if atom.words in CUE_WORDS:
            signs.append(f"'{atom.words}' {place}")
        before = sort
    for name, count in counts.items():
        signs.append(f"{name} {_step(count, (2, 3, 5))}")
    signs += (
        f"said {_step(len(atoms), (4, 7, 10, 14, 19, 25))}",
        f"unread {_step(unread, (1, 2, 3, 5))}",
        f"pauses {_step(pauses, (1, 2, 3, 4, 6))}",
    )
    if atoms:
        first, last = atoms[0].char, atoms[-1].char
        if first in strange:
            signs.append(f"strange first {where[0]}")
        if last in strange:
            signs.append(f"strange last {where[-1]}")


def _of_the_entries(atoms: Sequence[Atom], entries: Sequence[Entry], signs: list[str]) -> None:
    """Signs of what it came to, and of what was said and is not in it."""
    kinds: set[str] = set()
    items: set[object] = set()
    places: set[object] = set()
    held = noted = facts = 0
    for entry in entries:
        kind = entry.kind
        facts += kind != "note"
        if kind == "correction":
            to = entry.replacement
            kinds.add(f"kind {entry.action} {to.kind if to else 'nothing'}")
            if to is None:
                continue
            entry, kind = to, to.kind
        kinds.add(f"kind {kind}")
        for name in _NUMBERS:
            held += getattr(entry, name) is not None
        if entry.note:
            noted += entry.note.count(" ") + 1
            if kind != "note":
                signs.append(f"note in {kind}")
        if kind in STOCK_KINDS:
            items.add(entry.item)
            if entry.quantity is None:
                signs.append("no quantity")
            if entry.item is None:
                signs.append("no item")
        elif kind == "measure":
            if entry.place is None:
                signs.append("measure nowhere")
            if (entry.as_said or "").isdecimal():
                signs.append("bare measure")
        if entry.place is not None:
            if "place" in entry.carried:
                signs.append("place carried")
            else:
                places.add(entry.place)
    signs += kinds
    of_facts = len(kinds) - ("kind note" in kinds)
    if len(kinds) > 1:
        signs += [f"{kind} beside" for kind in kinds]
    numbers = sum(atom.char in NUMBERS for atom in atoms)
    things = sum(atom.char == ITEM for atom in atoms)
    spots = len({atom.words for atom in atoms if atom.char == SPOT})
    signs += (
        f"entries {min(len(entries), 5)}",
        f"facts {min(facts, 5)}",
        f"kinds {min(of_facts, 4)}",
        f"numbers {_step(numbers, (1, 2, 3, 4, 6))}",
        f"numbers over {max(-3, min(3, numbers - held))}",
        f"items {min(things, 4)}",
        f"items over {max(-2, min(2, things - len(items)))}",
        f"places {min(spots, 3)}",
        f"places over {max(-2, min(2, spots - len(places)))}",
        f"noted {_step(noted, (1, 3, 6, 10))}",
    )


def _step(count: float, steps: Sequence[int]) -> int:
    """The last of the steps that a count comes to."""
    reached = 0
    for step in steps:
        if count < step:
            break
        reached = step
    return reached


_NUMBERS = (
    "quantity", "unit_cost", "price", "inches", "square_inches", "pieces", "time", "minutes",
    "workers", "hours", "fahrenheit", "miles", "length", "size", "pitch",
)  # fmt: skip
_SORTS = {ITEM: "item", SPOT: "place", **dict.fromkeys(NUMBERS, "number")}
CUES = (
    "EDITING", "HEDGING", "TAKEBACK", "INSTEAD", "LESS", "NOTANY", "NOTGOING", "FUTURE", "TALK",
    "SLIP", "OR", "ABOUT", "MUST", "LATER", "AGAIN", "WASIT", "SHOULDBE", "CHANGED", "ONEMORE",
)  # fmt: skip
"""Classes of words that often take back, add to or put off what was said."""
_PUTS_RIGHT = (
    "EDITING", "TAKEBACK", "INSTEAD", "SLIP", "SHOULDBE", "CHANGED", "AGAIN", "'no", "'same",
    "'them", "'it", "'those", "'these",
)  # fmt: skip
CUE_WORDS = frozenset(
    "no not but another more each both half or so them it those these because then same".split()
)


@cache
def _cues() -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name in CUES:
        for char in sorted(chars_in(name)):
            found.setdefault(char, []).append(name)
    return {char: tuple(names) for char, names in found.items()}


@cache
def _strange() -> frozenset[str]:
    return chars_in("OTHER")


@cache
def _fillers() -> frozenset[str]:
    return chars_in("FILLER") | chars_in("AND") | chars_in("ARTICLE")
