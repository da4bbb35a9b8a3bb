"""Nouns while steps are taken back or done again: lines of the catalog, of which one step may have
thousands, are put down all together."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Literal
from urllib.parse import unquote

from joblog.book import nouns
from joblog.book.rows import Row
from joblog.book.store import Book


@dataclass(slots=True)
class Turning:
    """What `nouns.now` and `nouns.write` do to one after the other; `put_down` ends it."""

    book: Book
    _kept: dict[str, dict[str, Row]] | None = None
    """The lines of the catalog by kind and name, in their order, as they are to be kept."""
    _changed: set[str] = field(default_factory=set)

    def now(self, noun: str) -> str | None:
        kind, name = _line(noun)
        if not kind:
            return nouns.now(self.book, noun)
        row = self._lines(kind).get(name)
        return None if row is None else json.dumps(row, ensure_ascii=False)

    def write(self, noun: str, value: str | None, change: Literal["undone", "redone"]) -> None:
        kind, name = _line(noun)
        if not kind:
            nouns.write(self.book, noun, value, change)
            return
        lines = self._lines(kind)
        if value is None:
            lines.pop(name, None)
        else:
            row = json.loads(value)
            if name in lines or row["ordinal"] >= len(lines):
                lines[name] = row
            else:
                # It stands before the one that took its place when it was dropped.
                before = [*lines.items()]
                before.insert(row["ordinal"], (name, row))
                lines = dict(before)
        self._all()[kind] = lines
        self._changed.add(kind)

    def put_down(self) -> None:
        for kind in sorted(self._changed):
            nouns.write_lines(self.book, kind, self._all()[kind].values())

    def _all(self) -> dict[str, dict[str, Row]]:
        if self._kept is None:
            self._kept = {
                kind: {row["name"]: row for row in nouns.kept_lines(self.book, kind)}
                for kind in ("item", "task")
            }
        return self._kept

    def _lines(self, kind: str) -> dict[str, Row]:
        kept = self._all()
        if any(kept.values()):
            return kept[kind]
        # While none are kept they are the starter's.
        return {row["name"]: row for row in nouns.starter_lines(kind)}


def _line(noun: str) -> tuple[str, str]:
    """The kind and the name of a line of the catalog; "" for any other noun."""
    kind, _, name = noun.partition(" ")
    return (kind, unquote(name)) if kind in ("item", "task") else ("", "")
