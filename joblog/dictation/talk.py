"""Weather, covered work, problems, notes and photo cues."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import cast

from joblog.dictation.draft import Draft, Parts, words_of
from joblog.dictation.errands import errand_among, goes_on_with
from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    ITEM,
    MIX,
    NUM,
    SPOT,
    Atom,
    Stretch,
    find,
    has_any,
    is_a,
)
from joblog.dictation.labor import joined_digits
from joblog.dictation.numbers import Number
from joblog.dictation.places import place_in
from joblog.model import STOCK_KINDS, Entry, Kind


def add_weather(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    scale = next((name for name in _SCALES if name in parts), None)
    degrees = None if scale is None else _SCALES[scale](draft, parts[scale], stretch)
    sky = [atom.words for atom in stretch.atoms if is_a(atom, "SKY")]
    if (scale is not None and degrees is None) or _is_no_weather(draft, sky, degrees, stretch):
        return False
    note = " ".join(sky) or None
    if degrees is None:
        note = words_of(stretch.atoms).removeprefix("weather ") or None
        if _explains_the_last(draft, stretch, note) or _tells_of_work(draft, sky, note, stretch):
            return True
    last = draft.newest()
    if last is not None and last.kind == "weather" and not draft.awaiting:
        return _add_to_weather(draft, last, degrees, note, stretch)
    why = "that warm or cold?" if degrees is not None and not -40 <= degrees <= 125 else None
    return draft.add(Entry("weather", fahrenheit=degrees, note=note), why)


def _is_no_weather(
    draft: Draft, sky: Sequence[str], degrees: Fraction | None, stretch: Stretch
) -> bool:
    bare_no = bool(sky) and all(words.startswith("no ") for words in sky)
    if degrees is None and bare_no and not any(entry.kind == "weather" for entry in draft.entries):
        return True  # "No rain today" is only a note.
    if is_a(stretch.atoms[0], "STOP") and any(atom.words == "for" for atom in stretch.atoms):
        return True  # "Stopped for rain at one."
    if degrees is None and has_any(_said_before(draft, stretch), "SPOIL"):
        return True  # "Sheets cracked in the cold."
    turned = is_a(stretch.atoms[0], "STOP") or is_a(stretch.atoms[0], "START")
    # "Stopped, raining, two thirty."
    return turned and len(stretch.atoms) > 1 and stretch.atoms[1].pause


def _tells_of_work(draft: Draft, sky: Sequence[str], note: str | None, stretch: Stretch) -> bool:
    """ "Window's leaking, sheathing is wet"."""
    last = draft.newest()
    if last is None or last.kind not in ("problem", "covered") or not set(sky) <= _OF_WORK:
        return False
    before = words_of(_said_before(draft, stretch))
    draft.entries[-1] = replace(last, note=f"{last.note} {before} {note}")
    return True


def _add_to_weather(
    draft: Draft, last: Entry, degrees: Fraction | None, note: str | None, stretch: Stretch
) -> bool:
    """More of the weather told just before; of two temperatures the first stands."""
    heat = last.fahrenheit if last.fahrenheit is not None else degrees
    felt = any(atom.words.startswith("feel") for atom in stretch.atoms)
    if degrees not in (None, heat) and not felt:
        draft.doubts.append((len(draft.entries) - 1, "two temperatures: which one holds?"))
    both = "; ".join(filter(None, (last.note, note))) or None
    draft.entries[-1] = replace(last, note=both, fahrenheit=heat)
    return True


def _number_of(atom: Atom) -> Fraction:
    return cast(Number, atom.value).value


def _celsius(draft: Draft, atoms: Sequence[Atom], stretch: Stretch) -> Fraction:
    return _number_of(atoms[0]) * Fraction(9, 5) + 32


def _below_zero(draft: Draft, atoms: Sequence[Atom], stretch: Stretch) -> Fraction:
    return -_number_of(atoms[0])


def _fahrenheit(draft: Draft, atoms: Sequence[Atom], stretch: Stretch) -> Fraction | None:
    """None for two numbers that are none together, and for "forty degrees off level"."""
    *first, degrees = map(_number_of, atoms)
    if first:
        joined = joined_digits(first[0], degrees)
        if joined == degrees:
            return None
        degrees = joined
    after = draft.behind(stretch)
    return None if after is not None and after.words.partition(" ")[0] in _ANGLE else degrees


def _beside_the_sky(draft: Draft, atoms: Sequence[Atom], stretch: Stretch) -> Fraction | None:
    """None where a number beside the weather is none of it."""
    degrees = _number_of(atoms[0])
    return None if _is_no_temperature(draft, degrees, stretch) else degrees


_SCALES: dict[str, Callable[[Draft, Sequence[Atom], Stretch], Fraction | None]] = {
    "c": _celsius,
    "n": _below_zero,
    "f": _fahrenheit,
    "bare": _beside_the_sky,
}
"""By the name that the patterns give the words of a temperature: degrees Fahrenheit."""

_OF_WORK = {"wet", "dry", "damp", "clear", "soaked", "cold", "hot", "warm", "mud", "ice", "slick"}
"""Words of the weather that say as much of the work."""
_ANGLE = ("off", "angle", "bend", "miter", "cut", "turn", "pitch", "corner")


def _is_no_temperature(draft: Draft, degrees: Fraction, stretch: Stretch) -> bool:
    """True where a number beside the weather is a wind speed, or the beginning of a measure."""
    after = draft.behind(stretch)
    alone = after is None or after.pause or is_a(after, "AM") or is_a(after, "PM")
    windy = any(is_a(atom, "WIND") for atom in stretch.atoms[:-1])
    return windy or not alone or not 15 <= degrees <= 115


def add_words(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    kind = cast(Kind, "note" if stretch.meaning == "talk" else stretch.meaning)
    if _tells_of_stock(draft, stretch):
        return False
    if kind == "note" and _is_where_it_lies(draft, stretch):
        return True
    if kind == "note" and (errand := errand_among(draft, stretch.atoms)) is not None:
        entry, whys = errand
        draft.place = entry.place or draft.place
        return draft.add(entry, *whys)
    if kind == "problem" and _is_no_fault(draft, stretch):
        kind = "note"
    atoms = list(stretch.atoms)
    if atoms[0].words in _CUE_ONLY and len(atoms) > 1:
        atoms = atoms[1:]
        if atoms[0].words in ("of", "that", "with") and len(atoms) > 1:
            atoms = atoms[1:]
    if kind == "covered" and _before_it(draft, stretch):
        return True
    if kind in ("problem", "covered") and atoms[0] is stretch.atoms[0]:
        atoms = [*_said_before(draft, stretch), *atoms]
    note = words_of(atoms) or None
    if kind == "photo" and len(stretch.atoms) == 1:
        note = None
    place = _place_of(kind, stretch.atoms)
    if kind == "problem" and place is None and _explains_the_last(draft, stretch, note):
        return True
    if kind in ("note", "covered") and goes_on_with(draft, stretch):
        return True
    if _goes_on(draft, stretch, place):
        last = draft.entries[-1]
        both = f"{last.note} {words_of(stretch.atoms)}"
        draft.entries[-1] = replace(last, note=both, place=last.place or place)
        return True
    before = draft.newest()
    if before is not None and before.action == "drop" and kind in ("problem", "note"):
        return True  # "Strike that, i had it on the wrong joist" says why, and no more.
    draft.place = place or draft.place
    named = stretch.atoms[0].words in _CUE_ONLY
    vague = kind == "problem" and is_a(stretch.atoms[0], "TROUBLE") and not _tells_fault(atoms)
    doubtful = vague or (kind == "note" and not named)
    why = f"an amount in a {kind}: is it one?" if doubtful else None
    if kind == "note" and _names_time(stretch.atoms):
        return draft.add(Entry(kind, note=note, place=place), "a time in a note: of the work?")
    return draft.add(
        Entry(kind, note=note, place=place), why if names_amount(stretch.atoms) else None
    )


def _place_of(kind: Kind, atoms: Sequence[Atom]) -> str | None:
    """The place; what is put over a place of the job is there, and a photo's "behind the gutter"
    is only what it shows."""
    spot = next((atom for atom in atoms if atom.char == SPOT), None)
    place = place_in(atoms)
    if place is None or kind not in ("covered", "photo"):
        return place
    if spot is not None:
        return words_of((spot,)) if place.startswith(("over ", "across ")) else place
    return None if kind == "photo" and place.startswith(("behind ", "under ")) else place


def _is_no_fault(draft: Draft, stretch: Stretch) -> bool:
    """ "I read it upside down", "ordered four rolls, should be here thursday", "wrong pocket": a
    slip of the speaker's own, what is ordered, and faults of nothing that is built."""
    said = [*_said_before(draft, stretch), *stretch.atoms]
    words = f" {' '.join(atom.words for atom in said)} "
    if any(f" {slip} " in words for slip in _OWN_SLIPS):
        return True
    if stretch.atoms[0].words in _CUE_ONLY or is_a(stretch.atoms[0], "TROUBLE"):
        return False
    ordered = any(atom.words in _ORDERED for atom in stretch.atoms)
    if ordered and not has_any(said, "FAULT", "CRACKED", "TOO"):
        return True
    weak = [atom for atom in stretch.atoms if atom.words in _WEAK_FAULTS]
    others = [atom for atom in stretch.atoms if has_any((atom,), *_FAULTS)]
    return bool(weak) and len(others) == len(weak) and not any(map(_is_of_the_job, draft.atoms))


def _is_of_the_job(atom: Atom) -> bool:
    return atom.char in (ITEM, SPOT) or has_any((atom,), "PART", "SIDE", "LACK", "EQUIPMENT")


_OWN_SLIPS = (
    "my bad", "my mistake", "my fault", "my own fault", "i read", "i read it", "i misread",
    "i was reading", "i was looking", "i was holding", "i had it", "i had the tape", "i measured",
    "i wrote", "i wrote it", "i said it", "i counted", "i miscounted", "tape was", "the tape was",
    "read the tape", "reading the tape", "read it", "wrote it", "wrong end of the tape",
    "wrong side of the tape", "tape slipped", "the hook",
)  # fmt: skip
"""Words of a man who tells why he said something else before."""
_ORDERED = ("ordered", "on order", "backordered", "back ordered", "order")
_WEAK_FAULTS = (
    "wrong", "not even", "isn't even", "aren't even", "in the way", "stuck", "shot", "full of",
    "failed", "hole", "holes", "wrong one", "moves", "soft", "popping",
)  # fmt: skip
_FAULTS = ("FAULT", "CRACKED", "OUTBY", "TOO", "WETNESS")


def add_tally(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Joist ends soft, three of them": how many of what was just told of."""
    last = draft.newest()
    if last is None or last.kind not in ("problem", "note", "photo", "covered", "todo", "extra"):
        return False
    draft.entries[-1] = replace(last, note=f"{last.note or ''} {words_of(stretch.atoms)}".strip())
    return True


def _before_it(draft: Draft, stretch: Stretch) -> bool:
    """ "Photo of the flashing before it gets hidden" is one photo."""
    last = draft.newest()
    lead = draft.atoms[max(0, stretch.start - 3) : stretch.start + 1]
    if last is None or last.kind != "photo" or not any("before" in atom.words for atom in lead):
        return False
    both = f"{last.note or ''} {words_of(stretch.atoms)}".strip()
    draft.entries[-1] = replace(last, note=both, place=last.place or place_in(stretch.atoms))
    return True


def _names_time(atoms: Sequence[Atom]) -> bool:
    """True where a time of day is told that is neither planned nor denied."""
    if has_any(atoms, "FUTURE", "NOTGOING", "WILLBE", "NOTE", "NAMEDNUMBER", "ODD"):
        return False
    clock = find("TIMEY", atoms)
    return len(clock) > 1 and has_any(atoms, "AT")


def _tells_fault(atoms: Sequence[Atom]) -> bool:
    return has_any(atoms, "FAULT", "OUTBY", "TOO", "CRACKED")


def _goes_on(draft: Draft, stretch: Stretch, place: str | None) -> bool:
    """True for talk after talk, and for a fault that tells more of the one before it."""
    last = draft.newest()
    if last is None:
        return False
    if stretch.meaning == "talk":
        return last.kind == "note"
    joined = draft.joined(stretch)
    same = place is None or last.place in (None, place)
    return stretch.meaning == last.kind == "problem" and same and not joined


def _said_before(draft: Draft, stretch: Stretch) -> Sequence[Atom]:
    """Words before these that made no entry of their own: part of what is told."""
    before = draft.made_by.get(len(draft.entries) - 1)
    return draft.atoms[before.end if before else 0 : stretch.start]


def _tells_of_stock(draft: Draft, stretch: Stretch) -> bool:
    """ "Tell the yard i need seven sticks of channel": a fact behind words that begin a note."""
    first = next((atom for atom in stretch.atoms if not is_a(atom, "ARTICLE")), None)
    begun = first is not None and (first.words in _MERE_TALK or is_a(first, "EQUIPMENT"))
    fault = stretch.meaning == "problem" and stretch.atoms[0].words not in _CUE_ONLY
    if not (fault or stretch.meaning == "talk" or (begun and stretch.meaning == "note")):
        return False
    atoms = draft.atoms if fault else stretch.atoms
    item = any(atom.char == ITEM for atom in atoms)
    counted = any(atom.char in (NUM, MIX, FRAC) or has_any((atom,), *_COUNTS) for atom in atoms)
    sized = has_any(atoms, "INCH", "FOOT")
    gone = any(atom.words == "gone" for atom in atoms)
    if item and gone and _counts_pieces(atoms):
        return True  # "Coil, two rolls gone on the garage."
    every = not fault or is_a(atoms[0], "USED") or (_counts_pieces(atoms) and not sized)
    verbs = _STOCK_VERBS if every else ("SPOIL", "DELIVER")
    named = has_any(atoms, *verbs)
    unsure = any(is_a(atom, "NOTGOING") or _supposes(atom) for atom in atoms)
    return item and counted and named and not unsure


def _supposes(atom: Atom) -> bool:
    return atom.words.partition(" ")[0] in ("if", "whether", "might", "maybe", "would", "suppose")


def _counts_pieces(atoms: Sequence[Atom]) -> bool:
    """ "Three rolls of felt left", "gutter five short"."""
    return any(
        one.char == NUM
        and (other.char == ITEM or is_a(other, "UNIT") or other.words in ("short", "left"))
        for one, other in pairwise(atoms)
    )


_MERE_TALK = {"call", "called", "tell", "told", "check", "checked", "paid", "remember", "owner"}
_COUNTS = ("ONE", "ONEMORE", "COUPLE", "DOZEN", "BOTHOF", "AFULL")
_STOCK_VERBS = ("USED", "SPOIL", "DELIVER", "RETURN", "NEED", "COUNTED", "LEFTOVER")


def _is_where_it_lies(draft: Draft, stretch: Stretch) -> bool:
    """ "One tube left in the truck": the truck is no note of its own."""
    last = draft.newest()
    if last is None or last.kind not in STOCK_KINDS:
        return False
    if not all(is_a(atom, "EQUIPMENT") or is_a(atom, "ARTICLE") for atom in stretch.atoms):
        return False
    before = draft.atoms[stretch.start - 1]
    if last.kind == "used" and before.words == "off":
        last = replace(last, kind="delivered")
        draft.doubts.append((len(draft.entries) - 1, "taken off the truck, or used?"))
    draft.entries[-1] = replace(last, note=last.note or words_of(stretch.atoms))
    return True


def _explains_the_last(draft: Draft, stretch: Stretch, note: str | None) -> bool:
    """ "Twenty minute break, too hot", "sent back a gallon, wrong color": why, not what else."""
    last = draft.newest()
    joined = draft.joined(stretch)
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
    for at, (first, second) in enumerate(pairwise(atoms)):
        after = atoms[at + 2] if at + 2 < len(atoms) else None
        if is_a(first, "UNIT") and second.words == "of" and after and after.char == ITEM:
            return True
        measured = first.char == NUM and (is_a(second, "FOOT") or is_a(second, "INCH"))
        if measured and (after is None or not has_any((after,), *_SIZED)):
            return True
        named = any(is_a(atom, "NAMEDNUMBER") for atom in atoms[:at])
        if first.char == second.char == NUM and second.words in ("twelve", "12") and not named:
            return True
    said = {name for atom in atoms for name in (*_MOVED, *_UNDONE) if is_a(atom, name)}
    moved = bool(said.intersection(_MOVED)) and said.isdisjoint(_UNDONE)
    return counted and any(
        atom.char == ITEM or has_any((atom,), *_RECKONED) or (moved and is_a(atom, "UNIT"))
        for atom in atoms
    )


_UNDONE = ("FUTURE", "NOTGOING", "WILLBE", "TALK")
_MOVED = ("USED", "DELIVER", "RETURN", "SPOIL")


_SIZED = ("EQUIPMENT", "ODD", "PART", "ITEM", "OTHER", "COLOR")
"""What may come in feet or inches without anybody having measured it."""
_RECKONED = ("START", "STOP", "HOURWORD", "LEFTOVER", "METRIC", "PITCHWORD")
"""Beside a number these make words that are reckoned with."""


_CUE_ONLY = {
    "note", "note that", "problem", "issue", "trouble", "memo", "make a note", "for the record",
    "photo", "photos", "picture", "pictures", "photo of", "photos of", "picture of",
    "pictures of", "take a photo", "take a picture", "took a picture", "took a photo",
    "take a photo of", "take a picture of", "took a picture of", "took a photo of",
    "taking a picture of", "taking a photo of", "taking a picture", "taking a photo",
    "problem with", "heads up",
}  # fmt: skip
