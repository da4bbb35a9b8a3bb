"""Figures set in columns under their heads, on lines that fit the screen; below, where none fit."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence

from joblog.report.words import whole

NARROWEST = 12
"""Room that is kept for the names, where one is as long."""

_NOTHING = re.compile(r"-|0(?:[.,]0+)?")


def in_columns(
    title: str,
    heads: tuple[str, ...],
    names: Sequence[str],
    rows: Sequence[tuple[str, ...]],
    width: int,
) -> tuple[str, list[str]]:
    """The line of heads, and a text for each name with its row of cells; none is over `width`.

    What is too long is cut off among the names, so that no figure is cut; where even that is not
    enough, columns that hold nothing on any line are left out; and where that is not enough either,
    every name has its figures below it, each with its head.
    """
    idle = [at for at, _ in enumerate(heads) if all(_is_nothing(row[at]) for row in rows)]
    longest = max([len(title), *map(len, names)], default=0)
    least = min(NARROWEST, longest)
    all_heads, all_rows = heads, rows
    while idle and _columns_width(heads, rows) + least > width:
        at = idle.pop()
        heads = heads[:at] + heads[at + 1 :]
        rows = [row[:at] + row[at + 1 :] for row in rows]
    if _columns_width(heads, rows) + least > width:
        below = [_below(all_heads, row, width) for row in all_rows]
        named = zip(names, below, strict=True)
        return fitted(title, width), [f"{fitted(name, width)}\n{lines}" for name, lines in named]
    columns = list(zip(heads, *rows, strict=True))
    widths = [max(map(len, column)) + 1 for column in columns]
    room = max(least, min(longest, width - sum(widths)))
    # What is over goes between the columns, up to two blanks each, so that they read apart.
    spare = min(2, max(0, (width - room - sum(widths)) // len(widths)))
    lines = [
        fitted(name, room).ljust(room)
        + "".join(cell.rjust(size + spare) for cell, size in zip(cells, widths, strict=True))
        for name, cells in zip([title, *names], [heads, *rows], strict=True)
    ]
    return lines[0], lines[1:]


def _columns_width(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> int:
    return sum(max(map(len, column)) + 1 for column in zip(heads, *rows, strict=True))


def _below(heads: tuple[str, ...], row: tuple[str, ...], width: int) -> str:
    """The figures of a row that are any, each after its head; no head is parted from its figure."""
    told = [
        f"{whole(head)} {cell}".replace(" ", "\N{NO-BREAK SPACE}")
        for head, cell in zip(heads, row, strict=True)
        if not _is_nothing(cell)
    ]
    # Two blanks between them, so that they read apart.
    text = textwrap.fill("  ".join(told) or "nothing", width, initial_indent="  ",
                         subsequent_indent="  ", break_on_hyphens=False)  # fmt: skip
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _is_nothing(cell: str) -> bool:
    return _NOTHING.fullmatch(cell) is not None


def fitted(text: str, width: int) -> str:
    """The text, or as much of it as fits with "…" for the rest."""
    return text if len(text) <= width else text[: width - 1] + "…"
