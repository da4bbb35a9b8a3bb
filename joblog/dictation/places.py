"""Where: places said before, behind and between the facts they belong to."""

from __future__ import annotations

from collections.abc import Sequence

from joblog.dictation.draft import Draft, Parts, changed, item_in, words_of
from joblog.dictation.grammar import NUMBERS, SPOT, Atom, Stretch, find, has_any, is_a
from joblog.dictation.numbers import Number
from joblog.dictation.on_a_walk import of_the_side, walking
from joblog.model import STOCK_KINDS, Entry, Item
from joblog.quantity import tape


def add_place(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    behind_it = draft.behind(stretch)
    if stretch.meaning == "numbered place" and (
        behind_it is None or has_any((behind_it,), "FOOT", "INCH") or walking(draft)
    ):
        return False  # "wall eleven" is a measure on a wall; "window two" needs more behind it
    if len(stretch.atoms) > 1 and stretch.atoms[1].pause and stretch.atoms[0].words == "over":
        return False  # "On my way over, the north eave is done".
    atoms = parts["p"]
    if of_the_side(draft, stretch):
        return True
    place = name_of(atoms)
    if _points(draft, stretch):
        return len(draft.atoms) > len(stretch.atoms)
    if draft.awaiting or draft.taken_back:
        last = draft.last()
        if last is not None and stretch.end == len(draft.atoms):
            return draft.add(changed(last, place=place, carried=()))
    inside = all(has_any((atom,), "MINOR", "SIDE", "TO") for atom in atoms)
    last_entry = draft.newest()
    turned = last_entry is not None and last_entry.kind == "corner"
    within = draft.place in draft.vocabulary.places and not turned
    if inside and is_a(atoms[-1], "MINOR") and within:
        # "South eave, left end fourteen, right end ...": both are on the south eave.
        return _add_detail(draft, place, stretch)
    before = draft.before(stretch)
    bare = all(is_a(atom, "PART") for atom in stretch.atoms)
    if bare and before is not None and before.char == SPOT and not stretch.atoms[0].pause:
        return _add_detail(draft, place, stretch)  # "Dormer rake", "around the garage door".
    if last_entry is not None and last_entry.replacement is not None:
        moved = changed(last_entry.replacement, place=place)
        draft.entries[-1] = changed(last_entry, replacement=moved)
        return True
    compass = name_of(atoms) == "side" or all(is_a(atom, "COMPASS") for atom in atoms)
    if compass and last_entry is not None and last_entry.kind == "weather":
        return True  # "Wind out of the west" is no place on the job.
    joined, place = _led(draft, stretch, place)
    if last_entry is not None and last_entry.kind == "spoiled" and stretch.atoms[0].words == "off":
        return True  # "Fell off the roof" is no place of it.
    behind = (joined or _closes(draft, stretch)) and not _opens(draft, stretch)
    if behind and last_entry is not None and last_entry.kind != "correction":
        if (
            last_entry.place in (None, draft.context.place, draft.place)
            or "place" in last_entry.carried
        ):
            _move(draft, place)
        if not joined:
            return True
    elif stretch.atoms[0].pause and last_entry is not None and _is_open(draft, last_entry):
        _move(draft, place)  # "Spoiled two soffit, south eave, cut wrong".
    draft.place = place
    return True


def _points(draft: Draft, stretch: Stretch) -> bool:
    """ "No shade on this side": wherever that is, it is none of the job's places."""
    before = draft.before(stretch)
    named = stretch.atoms[-1]
    return (
        is_a(named, "MINOR")
        and len(stretch.parts["p"]) == 1
        and before is not None
        and before.words in ("this", "that", "each", "every", "one")
    )


def _is_open(draft: Draft, entry: Entry) -> bool:
    return entry.kind in STOCK_KINDS and entry.place in (None, draft.context.place)


def add_position(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "At four feet fourteen and a half": how far along the run the next measure stands."""
    after = draft.behind(stretch)
    if after is None or after.char not in NUMBERS:
        return False
    along = parts["p"][0].value
    assert isinstance(along, Number)
    draft.detail = f"at {tape(along.value)} ft"
    return True


def add_nothing(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """Words that only lead up to a measure: "the gap over the door is ..."."""
    return len(draft.atoms) > len(stretch.atoms)


def _add_detail(draft: Draft, detail: str, stretch: Stretch) -> bool:
    """Where on a place of the job: kept in the note, so that the place stays one place."""
    last = draft.newest()
    if last is not None and _closes(draft, stretch) and last.kind in _DETAILED and not last.note:
        draft.entries[-1] = changed(last, note=detail)
    else:
        draft.detail = detail
    return True


_DETAILED = ("measure", *STOCK_KINDS, "labor", "covered")


def _led(draft: Draft, stretch: Stretch, place: str) -> tuple[bool, str]:
    """Whether it belongs to what was said before it, and the place with a word that led to it.

    "Went on the east wall", "went under the window": the verb's last word is the place's first.
    """
    before = draft.before(stretch)
    if before is None or stretch.atoms[0].pause:
        return _joins(stretch.atoms), place
    if before.words == "on" and stretch.start - 1 not in draft.unread:
        return True, place  # "Put five sticks on the west gable".
    if not is_a(before, "LEDBY"):
        return _joins(stretch.atoms), place
    word = before.words.rpartition(" ")[2]
    return True, place if word in ("on", "in") else f"{word} {place}"


def _closes(draft: Draft, stretch: Stretch) -> bool:
    """True where nothing follows in the same breath: "seventeen and a half north, ..."."""
    if not any(
        other.start >= stretch.end and other.meaning not in _NO_FACT for other in draft.stretches
    ):
        return True
    return draft.atoms[stretch.end].pause and not stretch.atoms[0].pause and bool(stretch.start)


_NO_FACT = {"subject", "crew", "about it", "price", "pay", "day"}


def _opens(draft: Draft, stretch: Stretch) -> bool:
    """True for "left of the door is ...": it belongs to what is said next."""
    if stretch.atoms[-1].words in ("is", "was", "reads", "measures", "measured"):
        return True
    after = draft.behind(stretch)
    before = draft.before(stretch)
    counted = after is not None and (after.char in NUMBERS or after.words in ("a", "another"))
    if counted and before is not None and before.words in ("then", "and then", "and"):
        return True  # "... and on the east wall another seven".
    return after is not None and after.char in NUMBERS and stretch.atoms[0].pause


def _joins(atoms: Sequence[Atom]) -> bool:
    """True for "on the south side": it belongs to what was said before it."""
    return has_any(atoms[:2], "IN", "BESIDE", "BETWEEN")


def _move(draft: Draft, place: str) -> None:
    """The place said behind the last entry is that entry's, and of those just before it too."""
    for at in range(len(draft.entries) - 1, -1, -1):
        entry = draft.entries[at]
        if at < len(draft.entries) - 1 and (entry.place is not None and not entry.carried):
            return
        last = draft.entries[-1].kind
        apart = {entry.kind, last} != _WORKED_IN or not _is_last_word(draft)
        if at < len(draft.entries) - 1 and entry.kind != last and apart:
            return
        carried = tuple(name for name in entry.carried if name != "place")
        draft.entries[at] = changed(entry, place=place, carried=carried)
        if entry.kind != "measure" and entry.kind not in STOCK_KINDS:
            return


def _is_last_word(draft: Draft) -> bool:
    by = draft.stretch
    return by is not None and by.atoms[0].pause and by.end == len(draft.atoms)


_WORKED_IN = {"used", "spoiled"}
"""Told of one place: "we used four and one is garbage, in the porch"."""


def add_item(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    if stretch.end == len(draft.atoms):
        last = draft.last()
        item = item_in(parts["i"])
        if draft.awaiting and last is not None and last.item is not None and item is not None:
            other = changed(last, size=item.size or None, profile=item.profile or None)
            other = changed(other, item=item.name, unit=item.unit, colour=None, length=None)
            return draft.add(changed(other, carried=()))
        return _add_item(draft, item)
    draft.subject = item_in(parts["i"])
    return True


def _add_item(draft: Draft, item: Item | None) -> bool:
    """ "Sixteen and a half, fascia": of what the last measure was."""
    last = draft.newest()
    if last is None:
        return False
    if item is not None and last.kind == "measure" and last.item is None:
        draft.entries[-1] = changed(last, item=item.name)
    return True


def place_in(atoms: Sequence[Atom]) -> str | None:
    """A place that is named among words of a note, the job's own places first."""
    found = naming_place(atoms)
    return name_of(found) if found else None


def naming_place(atoms: Sequence[Atom]) -> tuple[Atom, ...]:
    """The words that name the place which `place_in` finds; none where it finds none."""
    spot = next((atom for atom in atoms if atom.char == SPOT), None)
    found = find("NAMED", atoms)
    if found and (spot is None or spot in found):
        return found
    return (spot,) if spot is not None else ()


def name_of(atoms: Sequence[Atom]) -> str:
    """A place as it was said, without the articles and words that only lead to it."""
    kept = [atom for atom in atoms if not is_a(atom, "ARTICLE")]
    between = any(atom.words == "to" for atom in kept)
    lead = 1 if len(kept) > 1 and is_a(kept[0], "IN") and not between else 0
    return words_of(kept[lead:]).removeprefix("to the ").removeprefix("just ")
