"""What was answered before: how often what was heard was decided to be what."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from joblog.asking.setting import Candidate, Decided, Setting, alone
from joblog.model import STOCK_KINDS, Entry


def decided(changes: Iterable[tuple[Entry, Entry]]) -> Decided:
    """By field and what was heard in it, how often it was decided to be what.

    `changes` are entries as they were heard and as they were decided to be.
    """
    found: dict[tuple[str, object], Counter[object]] = defaultdict(Counter)
    for heard, now in changes:
        for name in FIELDS:
            before, after = getattr(heard, name), getattr(now, name)
            if after in (None, before) or (before is None and name not in _MAY_LACK):
                continue
            if _same_but(heard, now, name):
                found[name, _said(heard, name)][after] += 1
    return found


MOST = 2.0
"""What an answer is worth that was always given so: more than the best guess."""
_MAY_LACK = ("item", "task")
FIELDS = ("item", "place", "task", "kind", "unit", "workers")
"""What people say again as they said it before. Numbers are not among it: each is another."""


def as_decided_before(setting: Setting) -> Iterator[Candidate]:
    """The entry asked about as one like it was decided before, the more often the likelier."""
    if len(setting.asked) != 1:
        return
    [kept] = setting.asked
    for name in FIELDS:
        for value, times in setting.decided.get((name, _said(kept.entry, name)), {}).items():
            told: dict[str, Any] = {name: value}
            if name == "kind" and not {kept.entry.kind, value} <= {*STOCK_KINDS}:
                continue
            because = f"answered so {f'{times} times' if times > 1 else 'before'}"
            yield alone(kept, replace(kept.entry, **told), MOST * times / (times + 1), because)


def _said(entry: Entry, name: str) -> object:
    """What is looked up: the value that was heard, with what it was counted in or told of."""
    value = getattr(entry, name)
    if name == "item":
        return value if value is not None else (None, entry.unit)
    if name in ("kind", "unit", "workers"):
        return entry.kind, value, entry.item
    if name == "task" and value is None:
        return None, entry.note
    return value


def _same_but(heard: Entry, now: Entry, name: str) -> bool:
    """Whether it was that field that was decided, and not the whole fact otherwise."""
    return name == "kind" or heard.kind == now.kind
