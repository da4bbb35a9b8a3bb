"""Figures set in columns under their heads, on lines that fit the screen."""

from __future__ import annotations

from collections.abc import Sequence

NARROWEST = 8
"""Room that is kept for the names."""

_NOTHING = {"-", "0", "0.00"}


def in_columns(
    title: str,
    heads: tuple[str, ...],
    names: Sequence[str],
    rows: Sequence[tuple[str, ...]],
    width: int,
) -> tuple[str, list[str]]:
    """The line of heads, and one line for each name with its row of cells; none is over `width`.

    What is too long is cut off among the names, so that no figure is cut; where even that is not
    enough, columns that hold nothing on any line are left out.
    """
    idle = [at for at, _ in enumerate(heads) if all(row[at] in _NOTHING for row in rows)]
    while idle and _columns_width(heads, rows) + NARROWEST > width:
        at = idle.pop()
        heads = heads[:at] + heads[at + 1 :]
        rows = [row[:at] + row[at + 1 :] for row in rows]
    columns = list(zip(heads, *rows, strict=True))
    widths = [max(map(len, column)) + 1 for column in columns]
    longest = max([len(title), *map(len, names)], default=0)
    room = max(NARROWEST, min(longest, width - sum(widths)))
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


def fitted(text: str, width: int) -> str:
    """The text, or as much of it as fits with "…" for the rest."""
    return text if len(text) <= width else text[: width - 1] + "…"
