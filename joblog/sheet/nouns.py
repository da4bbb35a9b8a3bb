"""What a table is made of, and what a person says of how it is to be read."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace

from joblog.model import Problem


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns that a kind of table has."""

    of: str
    """What the table is, for a person: "a plan", "a list of pieces"."""
    names: tuple[str, ...]
    """As they are written in the first row; case, hyphens and underscores make no difference."""
    required: tuple[str, ...] = ()
    alike: Mapping[str, str] = field(default_factory=dict)
    """Other spellings that can mean nothing else, and the name of each: "colour" is color."""
    perhaps: Mapping[str, str] = field(default_factory=dict)
    """Names that may well mean one of ours: a person is asked about them."""
    words: Collection[str] = ()
    """Those that hold words and no numbers, so that nothing in them tells the decimal sign."""
    days: Collection[str] = ()
    """Those that hold days; a day anywhere else is one that a spreadsheet program made of 6/12."""


@dataclass(frozen=True, slots=True)
class Reading:
    """How a person says that a table is to be read."""

    named: Mapping[str, str] = field(default_factory=dict)
    """By the name of a column of his the one of ours that it is; "" leaves it out."""
    decimal: str | None = None
    """The sign before the decimals, "." or ","; None where the table is to tell."""
    sure: bool = False
    """Whether numbers beyond reason are meant as they are."""
    without_bad_rows: bool = False
    """Whether the rows that can be read are taken without the others."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way in which a person may settle a problem."""

    asks: str
    """To be answered with yes or no: "Is it the column cost?"."""
    settle: Callable[[Reading], Reading]
    """How the table is to be read after a yes."""
    ours: str = ""
    """The column of ours that it is about."""


@dataclass(frozen=True, slots=True)
class Question(Problem):
    """A problem that a person may settle without mending the table."""

    ways: tuple[Way, ...] = ()
    """The likeliest first; at most one of them is true."""


@dataclass(frozen=True, slots=True)
class Notice(Problem):
    """What a person should look at; the row itself was taken."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row that holds something."""

    where: str
    """For a person: "plan.csv, row 7", as a spreadsheet program counts them."""
    cells: Mapping[str, str]
    """By the name of the column, of all columns that the table has; without the space around."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as it was read. One that cannot be read at all has problems and no row."""

    name: str
    columns: tuple[str, ...] = ()
    """Those of ours that it has, in its order."""
    rows: tuple[Row, ...] = ()
    problems: tuple[Problem, ...] = ()
    """What could not be read, of the table or of rows of it, which are left out of `rows`; and a
    `Notice` of what was found out of how it is written ("semicolons between the cells")."""
    decimal: str = "."
    """The sign before the decimals in its cells; every reader of a number wants to know it."""
    reading: Reading = Reading()
    """How it was to be read."""


SURE = Way("Is it so?", lambda reading: replace(reading, sure=True))
"""The way to settle a number beyond reason."""
