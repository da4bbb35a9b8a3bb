"""Nouns while steps are taken back or done again: lines of the catalog, of which one step may have
thousands, are put down all together."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from urllib.parse import unquote

from joblog.book import nouns
from joblog.book.rows import Row
from joblog.book.store import Book


@dataclass(slots=True)
class Turning:
    """What `nouns.now` and `nouns.write` do to one after the other; `put_down` ends it."""

    book: Book
    _lines: dict[str, dict[str, Row]] = field(default_factory=dict)
    """The lines of the catalog by kind and name, in their order, as they are to be kept."""
    _changed: set[str] = field(default_factory=set)
    """The kinds of which lines were written."""

    def now(self, noun: str) -> str | None:
        kind, name = _line(noun)
        if not kind:
            return nouns.now(self.book, noun)
        row = self._of(kind).get(name)
        return None if row is None else json.dumps(row, ensure_ascii=False)

    def write(self, noun: str, value: str | None, change: nouns.Change) -> None:
        kind, name = _line(noun)
        if not kind:
            nouns.write(self.book, noun, value, change)
            return
        lines = self._of(kind)
        self._changed.add(kind)
        if value is None:
            lines.pop(name, None)
            return
        row = json.loads(value)
        if name in lines or row["ordinal"] >= len(lines):
            lines[name] = row
        else:
            # It stands before the one that took its place when it was dropped.
            before = [*lines.items()]
            before.insert(row["ordinal"], (name, row))
            self._lines[kind] = dict(before)

    def put_down(self) -> None:
        """Writes what was kept for the end. While none of the lines were, they were the starter's,
        and those that did not change are kept with the others."""
        kept = any(nouns.kept_lines(self.book, kind) for kind in self._lines)
        for kind, lines in self._lines.items() if self._changed else ():
            if kind in self._changed or not kept:
                nouns.write_lines(self.book, kind, lines.values())

    def _of(self, kind: str) -> dict[str, Row]:
        if not self._lines:
            self._lines = {
                one: {row["name"]: row for row in nouns.lines_of(self.book, one)}
                for one in ("item", "task")
            }
        return self._lines[kind]


def _line(noun: str) -> tuple[str, str]:
    """The kind and the name of a line of the catalog; "" for any other noun."""
    kind, _, name = noun.partition(" ")
    return (kind, unquote(name)) if nouns.is_line(noun) else ("", "")
