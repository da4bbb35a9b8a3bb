"""Entries with what was said of their items: size, length, profile, colour; and what is unsure."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from joblog.dictation.attributes import attribute_in
from joblog.dictation.draft import Draft
from joblog.dictation.grammar import ITEM, Atom, Stretch, has_any, is_a
from joblog.dictation.items import Said, item_called, not_in_catalog, together, variant
from joblog.form import ATTRIBUTES
from joblog.model import STOCK_KINDS, Entry, Item


def tell_items(draft: Draft) -> None:
    """Gives every entry of the draft what was said beside its item's name.

    A doubt says which line of the catalog may be meant, or that none is called so.
    """
    for at, entry in enumerate(draft.entries):
        told = entry.replacement or entry
        if told.item is None:
            continue
        atom = _named(draft, at, told.item)
        why: str | None = None
        if atom is not None and atom.said is not None:
            said = atom.said if _is_own(draft, at, atom) else replace(atom.said, length=None)
            told, why = _with(told, said), said.why
        elif "item" in told.carried:
            told, why = _like_before(draft, at, told)
        elif atom is None and entry.action is None:
            told = entry = _as_before(draft, at, told)
        draft.entries[at] = replace(entry, replacement=told) if entry.replacement else told
        if told.kind not in _COUNTED:
            continue
        if item_called(draft.vocabulary, told.item) is None and "item" not in told.carried:
            why = not_in_catalog(told.item or "", told.unit)
        draft.doubts += [(at, why)] if why else []


_COUNTED = (*STOCK_KINDS, "price")
"""Kinds that are reckoned with by the line of the catalog."""


def _named(draft: Draft, at: int, name: str) -> Atom | None:
    """Where the item of the entry at `at` was named: in its own words, else before, else behind."""
    stretch = draft.made_by.get(at)
    named = [
        index
        for index, atom in enumerate(draft.atoms)
        if atom.char == ITEM and cast(Item, atom.value).name == name
    ]
    if not named:
        return None
    before = [index for index in named if stretch is None or index < stretch.end]
    return draft.atoms[before[-1] if before else named[0]]


def _is_own(draft: Draft, at: int, atom: Atom) -> bool:
    """False for "one stick" beside "a five foot offcut of channel": only the offcut is so long."""
    stretch = draft.made_by.get(at)
    if stretch is None or any(one is atom for one in stretch.atoms):
        return True
    return not has_any(draft.atoms[stretch.end :], "OFFCUT")


def _as_before(draft: Draft, at: int, entry: Entry) -> Entry:
    """The entry with what was said of its item when that was named: "and two more"."""
    if any(getattr(entry, name) is not None for name in ATTRIBUTES):
        return entry
    before = (*draft.context.standing, *draft.entries[:at])
    last = next((one for one in reversed(before) if one.item == entry.item), None)
    if last is None:
        return entry
    return replace(
        entry,
        size=last.size,
        length=last.length,
        profile=last.profile,
        colour=last.colour,
    )


def _with(entry: Entry, said: Said) -> Entry:
    told = {
        name: getattr(said, name)
        for name in ATTRIBUTES
        if getattr(said, name) is not None and getattr(entry, name) is None
    }
    return replace(entry, **told) if told else entry


def _like_before(draft: Draft, at: int, entry: Entry) -> tuple[Entry, str | None]:
    """The entry with what was said of its item when that was named, and with what is said now.

    "Six white J on the porch", and then "two brown on the dormer": of another colour.
    """
    earlier = (*draft.context.standing, *draft.entries[:at])
    last = next((one for one in reversed(earlier) if one.item == entry.item), None)
    before = Said(**{name: getattr(last, name) for name in ATTRIBUTES}) if last else Said()
    now = _said_alone(draft.made_by.get(at))
    said = together(replace(now, size=now.size or before.size), replace(before, size=None))
    kept = [name for name in ATTRIBUTES if getattr(said, name) and not getattr(now, name)]
    entry = replace(_with(entry, said), carried=(*entry.carried, *kept))
    if now == Said():
        return entry, None
    line, why = variant(draft.vocabulary, entry.item or "", said) or (None, None)
    return (entry if line is None else replace(entry, item=line.name)), why


def _said_alone(stretch: Stretch | None) -> Said:
    """The colour or profile among the words of an amount whose item is not named."""
    for atom in stretch.atoms if stretch else ():
        if is_a(atom, "COLOUR") or is_a(atom, "PROFILE"):
            return attribute_in((atom,)) or Said()
    return Said()
