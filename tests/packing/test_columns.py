"""Nobody adds a table, a column, a noun or a number that a packed job would forget."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

from joblog.book import Book, nouns, searching
from joblog.model import Bid, Entry, House, Plan, Reconciliation
from joblog.packing import columns
from joblog.packing.columns import LEFT, LEFT_NOUNS, NOUNS, TABLES


def columns_of(folder: Path) -> dict[str, set[str]]:
    with Book.create(folder / "book") as book:
        named = book._rows(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
        )
        return {
            row["name"]: {one["name"] for one in book._rows(f"PRAGMA table_info({row['name']})")}
            for row in named
            if row["name"] not in searching.APART
        }


def test_every_table_goes_along_or_is_left_for_a_reason(tmp_path: Path) -> None:
    assert set(columns_of(tmp_path)) == {*TABLES, *LEFT} - searching.APART


def test_every_column_of_a_table_that_goes_along_is_classed(tmp_path: Path) -> None:
    every = columns_of(tmp_path)
    assert {name: set(table.columns) for name, table in TABLES.items()} == {
        name: every[name] for name in TABLES
    }


def test_every_reference_to_a_numbered_table_is_turned(tmp_path: Path) -> None:
    with Book.create(tmp_path / "book") as book:
        numbered = {
            (table, row["from"])
            for table in TABLES
            for row in book._rows(f"PRAGMA foreign_key_list({table})")
            if row["table"] in (*columns.SORTS, "utterance", "entry_version")
        }
    versions = {(table, column) for table, column in numbered if "version" in column}
    untouched = {
        (table, column)
        for table, column in numbered - versions
        if TABLES[table].columns[column] in (columns.same, columns.anew)
    }
    assert not untouched


def test_every_kind_of_noun_is_classed() -> None:
    assert set(nouns._READ) == {*NOUNS, *LEFT_NOUNS}


def held(kind: Any, wanted: type, seen: frozenset[type] = frozenset()) -> Iterator[str]:
    """The fields below a noun that hold values of a type, as "Noun.field"."""
    if is_dataclass(kind) and isinstance(kind, type) and kind not in seen:
        hints = get_type_hints(kind)
        for field in fields(kind):
            parts = {hints[field.name], *_within(hints[field.name])}
            if wanted in parts:
                yield f"{kind.__name__}.{field.name}"
            for part in parts:
                yield from held(part, wanted, seen | {kind})


def _within(hint: Any) -> Iterator[Any]:
    for part in get_args(hint):
        yield part
        yield from _within(part)


COUNTS = {
    "Beside.unpriced", "Conditions.crew", "Reconciliation.open_doubts", "Record.days",
    "Record.days_settled", "Record.items", "Record.items_settled", "Record.tasks",
    "Record.tasks_settled", "Task.crew", "BidBasis.other_jobs", "BidGround.jobs", "BidItem.packs",
    "Body.count", "Ceiling.open_sides", "Opening.count", "Entry.back", "Entry.pieces",
    "Entry.workers",
}  # fmt: skip
"""Whole numbers in what is kept as JSON that are no numbers of rows."""


@pytest.mark.parametrize("kept", [Reconciliation, Plan, Bid, House, Entry])
def test_every_whole_number_in_what_is_kept_as_json_is_a_count_or_is_turned(kept: type) -> None:
    found = set(held(kept, int)) - COUNTS
    assert {name.split(".")[1] for name in found} <= columns.NUMBERS_IN_FIGURES
    assert not found or kept is Reconciliation


@pytest.mark.parametrize(
    ("kept", "named"),
    [
        (Reconciliation, {"Reconciliation.job"}),
        (Bid, {"Bid.job"}),
        (Entry, {"Entry.from_job", "Entry.to_job"}),
        (Plan, set()),
        (House, set()),
    ],
)
def test_every_name_of_a_job_in_what_is_kept_as_json_is_turned(kept: type, named: set[str]) -> None:
    assert {name for name in held(kept, str) if "job" in name.split(".")[1]} == named


def test_every_part_of_a_house_that_names_its_entry_is_turned() -> None:
    rows = {name.split(".")[1] for name in held(House, str) if "row" in name}
    assert rows == columns.ROWS_OF_HOUSES
