"""Entries with what was said of their items: size, length, profile, colour; and what is unsure."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from joblog.dictation.draft import Draft
from joblog.dictation.grammar import ITEM, Atom
from joblog.dictation.items import Said, item_called, not_in_catalog
from joblog.form import ATTRIBUTES
from joblog.model import STOCK_KINDS, Entry, Item


def tell_items(draft: Draft) -> None:
    """Gives every entry of the draft what was said beside its item's name.

    A doubt says which line of the catalog may be meant, or that none is called so.
    """
    for at, entry in enumerate(draft.entries):
        told = entry.replacement or entry
        name = told.item
        if name is None:
            continue
        atom = _named(draft, at, name)
        if atom is not None and atom.said is not None:
            told = _with(told, atom.said)
            draft.entries[at] = replace(entry, replacement=told) if entry.replacement else told
        if told.kind not in _COUNTED or "item" in told.carried:
            continue
        why = atom.said.why if atom is not None and atom.said is not None else None
        if item_called(draft.vocabulary, name) is None:
            why = not_in_catalog(name, told.unit)
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


def _with(entry: Entry, said: Said) -> Entry:
    told = {
        name: getattr(said, name)
        for name in ATTRIBUTES
        if getattr(said, name) is not None and getattr(entry, name) is None
    }
    return replace(entry, **told) if told else entry
