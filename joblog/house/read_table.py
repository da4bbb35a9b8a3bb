"""A house from a table, a row a thing in the order of the walk, and back."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from joblog.model import House, Problem

COLUMNS = (
    "what", "name", "length", "height", "top", "corner", "depth", "pitch", "at", "sill", "count",
    "gutter", "siding", "end height", "area", "open sides",
)  # fmt: skip


def read_house(source: str | Path) -> tuple[House, tuple[Problem, ...]]:
    """The house in a table, and a problem for every row that cannot be read, naming it.

    `source` is the text itself or a file.
    """
    raise NotImplementedError


def is_house_table(columns: Sequence[str]) -> bool:
    """Whether a table with these columns is one of a house, and not of runs."""
    raise NotImplementedError


def rows_of(house: House) -> tuple[dict[str, str], ...]:
    """The table again, a row a thing, by `COLUMNS`; reading it gives the same house."""
    raise NotImplementedError
