"""Words that nobody understood, beside a fact: into its note where they cannot change it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from joblog.dictation.dimensions import dimension_called
from joblog.dictation.draft import Draft, changed, words_of
from joblog.dictation.grammar import ITEM, MIX, NUM, NUMBERS, Atom, Stretch, chars_in, has_any, is_a
from joblog.dictation.language.beside import (
    HARMLESS,
    IN_PASSING,
    LEADS_ON,
    OF_A_KIND,
    STORED,
    UNDOING,
)
from joblog.model import STOCK_KINDS, Entry, Item


def keep_words(draft: Draft, unread: Sequence[int]) -> list[int]:
    """Puts the words that no stretch covers into the notes of the entries that they stand beside.

    Returns the indexes of those that it leaves, because they may change a number, an item or what
    happened.
    """
    left: list[int] = []
    for group in _groups(draft, unread):
        at = _owner(draft, group)
        if at is None or not _is_harmless(draft, group, at):
            left += group
            continue
        by = draft.made_by.get(at)
        before = by is not None and group[-1] < by.start
        side = _side_called(draft, group)
        if side is not None and draft.entries[at].place is None:
            draft.entries[at] = changed(draft.entries[at], place=side)
            continue
        draft.entries[at] = _with_words(draft.entries[at], draft.atoms, group, before=before)
    return left


def keep_said(draft: Draft, left: Sequence[int]) -> None:
    """Puts names and strange words that no entry holds into the notes of those they stand beside.

    Such as told what happened ("wrapped the gable with one roll"), or stand in the words of a
    fact that has no place for them. `left` are asked about already.
    """
    names = chars_in("OTHER")
    strange = [
        at
        for at, atom in enumerate(draft.atoms)
        if (atom.char == ITEM or atom.char in names) and at not in left
    ]
    if not strange or not draft.entries:
        return
    told: set[str] = set()
    for at in strange:
        atom = draft.atoms[at]
        if is_a(atom, "FILLER") or _only_helps(draft, at):
            continue
        owner = _owner(draft, (at,))
        if owner is None or _is_held(draft, owner, at) or _is_carried(draft, at):
            continue
        if not told:
            told = {_stem(word) for entry in draft.entries for word in _text_of(entry).split()}
        if all(_stem(word) in told for word in atom.words.split()):
            continue
        before = draft.atoms[at - 1] if at else None
        led = before is not None and is_a(before, "IN") and before.words in _LED
        draft.entries[owner] = _with_words(
            draft.entries[owner], draft.atoms, (at - 1, at) if led else (at,)
        )


def _is_carried(draft: Draft, at: int) -> bool:
    """Whether a word stands in what tells of a transfer or a walk, which holds all that it says."""
    by = next((one.meaning for one in draft.stretches if one.start <= at < one.end), None)
    if by == "wall opening":
        return draft.atoms[at].char == ITEM or is_a(draft.atoms[at], "OPENINGWORD")
    return by in _HOLDS_ALL


_HOLDS_ALL = ("carried", "corner", "corner instead", "top", "interruption", "drop walked")


_LED = ("for", "on", "to", "from", "over", "behind")


def _stem(word: str) -> str:
    return word.strip("',:").removesuffix("'s").removesuffix("s")


def _text_of(entry: Entry) -> str:
    """All that an entry says in words."""
    inner = _text_of(entry.replacement) if entry.replacement else ""
    said = (entry.note, entry.reason, entry.place, entry.item, entry.task, entry.who, entry.as_said)
    more = (entry.unit, entry.size, entry.profile, entry.colour, entry.dimension)
    return " ".join(filter(None, (*said, *more, inner)))


def _is_held(draft: Draft, owner: int, at: int) -> bool:
    """True for a word that an entry holds under another name, or that is denied."""
    entry, atom = draft.entries[owner], draft.atoms[at]
    if entry.kind == "correction":
        return True
    by = draft.made_by.get(owner)
    if by is not None and any(one is atom for one in by.parts.get("i", ())):
        return True
    if any(one.meaning == "pay" and one.start <= at < one.end for one in draft.stretches):
        return True  # "The helper gets eighteen an hour".
    if isinstance(atom.value, Item):
        names = (entry.item, entry.task)
        name, base = atom.value.name, atom.value.variant_of
        if any(one.item is not None and one.item in (name, base) for one in draft.entries):
            return True
        return entry.kind == "labor" and any(names)
    task = by.parts.get("task", ()) if by is not None and entry.task is not None else ()
    return any(one is atom for one in task)


def _groups(draft: Draft, unread: Sequence[int]) -> Iterator[list[int]]:
    """The unread words that stand together and say something."""
    group: list[int] = []
    unread = [at for at in unread if not _only_helps(draft, at)]
    for at in unread:
        if group and (at != group[-1] + 1 or draft.atoms[at].pause):
            yield from _told(draft, group)
            group = []
        group.append(at)
    if group:
        yield from _told(draft, group)


def _told(draft: Draft, group: list[int]) -> Iterator[list[int]]:
    while group and _is_filler(draft.atoms[group[-1]]):
        group.pop()
    if any(not _is_filler(draft.atoms[at]) for at in group):
        yield group


def _only_helps(draft: Draft, at: int) -> bool:
    """True for the "have" of "I have used nine", "there were nine", and for "forgot, ..."."""
    atom, after = draft.atoms[at], draft.atoms[at + 1 : at + 2]
    if not after or not is_a(atom, "AUXILIARY"):
        return False
    if atom.words.endswith("forgot"):
        return at == 0 and after[0].pause
    done = has_any(after, "USED", "PUT", "DELIVER", "RETURN", "SPOIL", "START", "STOP", "WORKED")
    counted = atom.words.startswith("there") and after[0].char == NUM
    return (done or counted) and not after[0].pause


def _is_filler(atom: Atom) -> bool:
    return has_any((atom,), "FILLER", "AND", "ARTICLE")


def _owner(draft: Draft, group: Sequence[int]) -> int | None:
    """The entry that the words stand beside: in the same breath, else before them, else behind."""
    made = [(by, at) for at, by in draft.made_by.items() if at < len(draft.entries)]
    holding = [at for by, at in made if by.start <= group[0] < by.end]
    if holding:
        return holding[0]
    if not made:
        return 0 if draft.entries else None
    before = [(by, at) for by, at in made if by.end <= group[0]]
    behind = [(by, at) for by, at in made if by.start > group[-1]]
    if behind and (not before or draft.atoms[group[0]].pause):
        by, at = behind[0]
        if not before or not draft.atoms[by.start].pause:
            return at
    return before[-1][1] if before else (behind[0][1] if behind else made[-1][1])


def _is_harmless(draft: Draft, group: Sequence[int], at: int) -> bool:
    entry, by = draft.entries[at], draft.made_by.get(at)
    atoms = [draft.atoms[one] for one in group]
    if any(atom.char in NUMBERS for atom in atoms):
        return False
    if entry.kind in _WORDY:
        return True
    if entry.kind != "correction" and by is not None and _says_nothing_of(draft, group, entry, by):
        return True
    if entry.kind == "correction" or entry.carried or by is None or len(group) > _LONG:
        return False
    if entry.kind in ("returned", "delivered") and all(map(_is_the_yard, atoms)):
        return True
    if entry.workers is not None and all(is_a(atom, "CROWD") for atom in atoms):
        return True
    if entry.kind in _EXPLAINED and by.end <= group[0] and _is_why(atoms, entry.kind):
        return True
    if entry.kind in ("stop", "break") and _tells_why(atoms, group, by):
        return True
    if entry.kind in ("needed", "price"):
        return not has_any(atoms, *_OF_ANOTHER)
    if _names_material(atoms) or is_a(atoms[-1], "WHEREABOUTS"):
        return False
    if entry.place is None and has_any(atoms, *_PLACING):
        return False  # It may be where that was.
    if entry.pitch is not None:
        return not has_any(atoms, "SPOIL", *(name for name in UNDOING if name != "PITCHWORD"))
    if entry.kind == "measure" and len(draft.entries) == 1 and _is_exact(by):
        atoms = [atom for atom in atoms if not _is_compound(atom, atoms, group, by)]
        return not has_any(atoms, "SPOIL", *UNDOING)
    told = "r" in by.parts or _is_apart(draft, group, by)
    if entry.kind == "spoiled" and by.end <= group[0] and told:
        return not has_any(atoms, *_NO_REASON)
    if not all(map(_is_mere_word, atoms)):
        return False
    if entry.kind in STOCK_KINDS and any(map(_is_verb, atoms)) and not atoms[0].pause:
        return False
    return _is_apart(draft, group, by) or not _may_be_counted(entry, by, group)


def _says_nothing_of(draft: Draft, group: Sequence[int], entry: Entry, by: Stretch) -> bool:
    """True for words that are said in passing, for what a thing is "for", and for the "on" before
    an item that an entry or a note holds anyway."""
    atoms = [draft.atoms[at] for at in group]
    if has_any(atoms, "TAKEBACK", "NOTGOING", "NOWAIT", "SLIP"):
        return False
    behind = draft.atoms[group[-1] + 1 : group[-1] + 2]
    of_a_number = bool(behind) and behind[0].char in NUMBERS and not behind[0].pause
    if of_a_number and not (
        entry.kind == "measure" and _is_exact(by) and atoms[0].words != "about"
    ):
        return False  # It may be of that number.
    if len(atoms) == 1 and atoms[0].words in ("on", "for", "over"):
        named = [one for one in draft.atoms[group[0] + 1 : group[0] + 4] if not _is_filler(one)]
        sure = entry.kind in STOCK_KINDS or (entry.kind == "measure" and _is_exact(by))
        return sure and bool(named) and named[0].char == ITEM
    said = " ".join(atom.words for atom in atoms)
    patterns = (
        (_in_passing(), _in_passing(entry.kind)) if entry.kind in OF_A_KIND else (_in_passing(),)
    )
    if any(pattern.fullmatch(said) for pattern in patterns):
        return True
    if entry.kind in STOCK_KINDS and _side_called(draft, group) and entry.place is None:
        return True
    if by.end <= group[0] and _goes_on_behind(draft, group, entry, by):
        return True
    return _is_purpose(draft, group, entry)


def _goes_on_behind(draft: Draft, group: Sequence[int], entry: Entry, by: Stretch) -> bool:
    """ "Five sticks of fascia, with the new brake", "at seven, it was still dark": what is told
    behind a fact that is whole, and cannot be what was counted nor where."""
    atoms = [draft.atoms[at] for at in group]
    words = [atom.words for atom in atoms]
    first = words[0].split()[0]
    if len(group) > _LONG or _names_material(atoms) or has_any(atoms, "SPOIL", "FAULT", *UNDOING):
        return False
    if has_any(atoms, "HELPER", "KIN", "NAME", "MEN", "PART", "SIDE", "MINOR"):
        return False
    if entry.kind in ("start", "stop", "break"):
        led = first in LEADS_ON["time"] or ("y" in by.parts and by.end == group[0])
        return entry.time is not None or entry.minutes is not None if led else False
    if entry.kind == "labor":
        return entry.task is not None and len(words) == 1 and first.endswith("ing")
    whole = entry.item is not None and entry.quantity is not None and entry.unit is not None
    if entry.kind not in STOCK_KINDS or not whole or _is_telling(words):
        return False
    doing = first.endswith("ing") and is_a(atoms[0], "OTHER")
    lies = entry.kind in ("delivered", "returned", "on_hand", "needed")
    return first in LEADS_ON["stock"] or doing or (lies and first in LEADS_ON["lying"])


def _is_telling(words: Sequence[str]) -> bool:
    """Whether one of them may tell something else of what was counted."""
    return any(word in _TELLING for word in words)


_TELLING = frozenset(
    "where stuff thing things kind type looked replaced swap swapped borrowed lent loaned stole "
    "stolen sold gave given ordered asked buy gone cut away back good bad wrong used went".split()
)


def _side_called(draft: Draft, group: Sequence[int]) -> str | None:
    """ "Gutter on the back": a side by itself, as "on the south" is."""
    behind = draft.atoms[group[-1] + 1 : group[-1] + 2]
    ends = not behind or behind[0].pause or has_any(behind, "AND", "FILLER")
    return "back" if ends and _with_lead(draft, group) == ["on", "the", "back"] else None


def _is_purpose(draft: Draft, group: Sequence[int], entry: Entry) -> bool:
    """ "Two gallons of paint for the trim": one or two words behind "for the"."""
    said = _with_lead(draft, group)
    lead, named = said[:2], group[-max(1, len(said) - 2) :]
    mere = all(is_a(draft.atoms[at], "OTHER") and _is_mere_word(draft.atoms[at]) for at in named)
    behind = lead in (["for", "the"], ["for", "my"]) and 3 <= len(said) <= 4
    return entry.kind in STOCK_KINDS and behind and mere


def _with_lead(draft: Draft, group: Sequence[int]) -> list[str]:
    """The words of a group with the article and what leads to it, whichever of them are read."""
    first = group[0]
    if first and is_a(draft.atoms[first - 1], "ARTICLE"):
        first -= 1
    if first and draft.atoms[first - 1].words in ("on", "for"):
        first -= 1
    return [atom.words for atom in draft.atoms[first : group[-1] + 1]]


@cache
def _in_passing(kind: str | None = None) -> re.Pattern[str]:
    rows = IN_PASSING if kind is None else OF_A_KIND[kind]
    return re.compile("|".join(rows).replace("{STORED}", "|".join(STORED)))


_EXPLAINED = ("returned", "spoiled")


def _is_why(atoms: Sequence[Atom], kind: str) -> bool:
    """ "Because they were not straight", "they are cupped"; of what is spoiled any words."""
    led = atoms[0].words.split()[0] in _LEADS_TO_WHY or kind == "spoiled"
    return led and not has_any(atoms, *_NO_WHY) and not _names_material(atoms)


_LEADS_TO_WHY = frozenset("because cause since they it".split())
_NO_WHY = (
    "TAKEBACK", "INSTEAD", "NOWAIT", "SLIP", "AGAIN", "FUTURE", "WILLBE", "LATER", "DELIVER",
    "RETURN", "NEED", "COUNTED", "OUTOF", "EACH", "MONEY", "HOURWORD", "MINUTE", "ONEMORE",
    "COUPLE", "DOZEN", "VAGUE", "BOTHOF", "LASTOF", "OR",
)  # fmt: skip
"""Classes of words that make more of a reason than why."""
_WORDY = ("note", "problem", "covered", "photo", "todo", "extra", "expense", "drive", "inspection",
          "visit", "weather")  # fmt: skip
"""Kinds whose note may say anything."""
_NO_REASON = tuple(name for name in UNDOING if name not in ("USED", "RETURN", "START", "STOP"))
_OF_ANOTHER = (
    "NOTGOING", "ISNOT", "USED", "RETURN", "SPOIL", "TAKEBACK", "TELLING_MORE", "TELLING_OF_STOCK",
)  # fmt: skip
_PLACING = ("WHEREABOUTS", "BESIDE", "BETWEEN", "PART", "SIDE", "IN", "MINOR")
_LONG = 8
"""So many words that nobody understood tell something of their own."""


def _tells_why(atoms: Sequence[Atom], group: Sequence[int], by: Stretch) -> bool:
    """ "Quit at four, everybody was beat", "waited forty minutes on the delivery": why, or how."""
    if group[-1] < by.start:
        return False
    waiting = by.meaning == "break" and any(atom.words.startswith("wait") for atom in by.atoms)
    if waiting and ("y" in by.parts or atoms[0].words in ("on", "for")):
        return not has_any(atoms, *(name for name in UNDOING if name not in ("DELIVER", "UNIT")))
    all_of_us = has_any(atoms[:1], "CROWD") and not has_any(atoms, "HELPER", "KIN", "NAME")
    return all_of_us and atoms[0].pause and not has_any(atoms, *UNDOING)


def _is_the_yard(atom: Atom) -> bool:
    """True for the words of "to the yard", "from the supplier"."""
    return has_any((atom,), "SELLER", "FILLER", "ARTICLE") or atom.words in ("from", "at")


def _is_compound(atom: Atom, atoms: Sequence[Atom], group: Sequence[int], by: Stretch) -> bool:
    """True for the box of "bird box is nine and a quarter": a unit of nothing counted."""
    at = next(at for at, one in enumerate(atoms) if one is atom)
    named = at > 0 and is_a(atoms[at - 1], "OTHER")
    return named and is_a(atom, "UNIT") and group[-1] < by.start


def _is_exact(by: Stretch) -> bool:
    """True for a length that can be nothing else: with a fraction, or in feet or inches."""
    whole = any(atom.char in (NUM, MIX) for atom in by.atoms)
    return whole and (
        any(atom.char == MIX for atom in by.atoms) or has_any(by.atoms, "INCH", "FOOT")
    )


def _names_material(atoms: Sequence[Atom]) -> bool:
    """True for a material that is not where something is: "on the soffit"."""
    return any(
        atom.char == ITEM and not has_any(atoms[:at], "WHEREABOUTS")
        for at, atom in enumerate(atoms)
    )


def _is_mere_word(atom: Atom) -> bool:
    """True for a word that can neither change a number nor name a material or somebody."""
    return has_any((atom,), *HARMLESS) and not has_any((atom,), "TELLING_MORE", "TELLING_OF_STOCK")


def _is_verb(atom: Atom) -> bool:
    return is_a(atom, "OTHER") and atom.words.endswith("ed")


def _is_apart(draft: Draft, group: Sequence[int], by: Stretch) -> bool:
    """True where a pause, or a word such as "on", parts the words from the amount before them."""
    first = draft.atoms[group[0]]
    between = draft.atoms[by.end : group[0]]
    parted = first.pause or any(atom.pause for atom in between)
    return by.end <= group[0] and (parted or is_a(first, "WHEREABOUTS"))


def _may_be_counted(entry: Entry, by: Stretch, group: Sequence[int]) -> bool:
    """True where the words may be what is counted: "used six widgets", "nine widgets"."""
    if entry.kind == "measure":
        return True
    return entry.kind in STOCK_KINDS and by.end <= group[0]


def _with_words(
    entry: Entry, atoms: Sequence[Atom], group: Sequence[int], *, before: bool = False
) -> Entry:
    if all(_is_filler(atoms[at]) or is_a(atoms[at], "IDLY") for at in group):
        return entry
    words = words_of([atoms[at] for at in group])
    told = dimension_called(words) if entry.kind == "measure" and not before else None
    if told is not None and entry.dimension is None and entry.inches is not None:
        return changed(entry, dimension=told)  # "On the window, tall".
    if f" {words} " in f" {entry.note} ":
        return entry
    if before and entry.kind in _WORDY:
        return changed(entry, note=" ".join(filter(None, (words, entry.note))))
    if entry.kind == "spoiled":
        return changed(entry, reason=" ".join(filter(None, (entry.reason, words))))
    return changed(entry, note=" ".join(filter(None, (entry.note, words))))
