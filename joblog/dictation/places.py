"""Where: places said before, behind and between the facts they belong to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from joblog.dictation.draft import Draft, Parts, item_in, words_of
from joblog.dictation.grammar import NUMBERS, SPOT, Atom, Stretch, find, is_a


def add_place(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if stretch.meaning == "numbered place" and stretch.end == len(draft.atoms):
        return False  # "wall eleven" is a measure on a wall; "window two" needs more behind it
    atoms = parts["p"]
    place = words_of(atoms)
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


def add_subject(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if stretch.end == len(draft.atoms) and not draft.entries:
        return False
    draft.subject = item_in(parts["i"])
    return True


def place_in(atoms: Sequence[Atom]) -> str | None:
    """A place that is named among words of a note, the job's own places first."""
    spot = next((atom for atom in atoms if atom.char == SPOT), None)
    found = find("NAMED", atoms)
    if found and (spot is None or spot in found):
        return words_of(found)
    return words_of((spot,)) if spot is not None else None
