"""A table from a file, whatever program wrote it: nothing of it is guessed, nothing is passed over.

Commas, semicolons or tabs between the cells, any usual encoding, or a workbook (.xlsx). What was
found out is said; what cannot be known is refused in words, and a `Question` where a person may
settle it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from joblog.model import Problem
from joblog.sheet.nouns import Columns, Reading, Row, Sheet

AS_IT_IS = Reading()


def read_sheet(
    source: str | Path, unnamed: str, columns: Columns, reading: Reading = AS_IT_IS
) -> Sheet:
    """The rows of a table by our names of its columns. Never raises.

    `source` is the text itself, which is called `unnamed`, or a file.
    """
    raise NotImplementedError


def each_row(sheet: Sheet, read: Callable[[Row], None]) -> tuple[Problem, ...]:
    """The problems of the sheet, and of each row that `read` refuses with a ValueError in words; a
    number beyond reason is a `Question`."""
    raise NotImplementedError


def summed_up(problems: Sequence[Problem], most: int = 12) -> tuple[Problem, ...]:
    """The problems in their order; alike ones are one line, with the rows it is about, and those
    beyond `most` are counted."""
    raise NotImplementedError
