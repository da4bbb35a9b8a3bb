"""Opening a table of comma-separated values, and saying plainly why one cannot be read."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from joblog.model import Problem


class SheetError(Exception):
    """A table that cannot be read at all."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(f"{problem.what}: {problem.why}")
        self.problem = problem


@contextmanager
def opened(source: str | Path, unnamed: str) -> Iterator[tuple[str, io.StringIO]]:
    """What to call the table, and its text for `csv`. `source` is the text itself or a file.

    Raises SheetError when the file cannot be read, is no UTF-8 text, or turns out to be no table
    while it is read inside the `with`.
    """
    name = source.name if isinstance(source, Path) else unnamed
    try:
        text = source.read_text("utf-8-sig") if isinstance(source, Path) else source
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no UTF-8 text"
        raise SheetError(Problem(name, f"cannot be read: {reason}")) from error
    try:
        yield name, io.StringIO(text)
    except csv.Error as error:
        why = f"is no table of comma-separated values: {error}"
        raise SheetError(Problem(name, why)) from error
