"""`joblog rates` over the closed jobs of a book and the earlier ones added from paper."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from joblog.book import Book, closed, decisions
from joblog.cli import commands
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading
from joblog.reconcile import reconcile

JOB = Job("Gull Point cottage", "America/New_York")
PAPER = "job,date,item,net,consumed,geometric\n" + "".join(
    f"job {n},2025-{n:02}-05,soffit panel,40,{44 + n % 3},1\n" for n in range(1, 7)
)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with one job that was closed."""
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        book.set_plan(JOB.name, Plan((PlannedItem(Item("soffit panel", "sheet"), Fraction(15)),)))
        said = [("delivered", 20), ("used", 14), ("on_hand", 4)]
        entries = tuple(
            Entry(kind, item="soffit panel", quantity=Fraction(many), unit="sheet")
            for kind, many in said
        )
        decisions.add_typed(
            book, JOB.name, Reading(entries), "said", datetime(2026, 10, 5, 14, tzinfo=UTC)
        )
        figures = reconcile(JOB, book.plan(JOB.name), book.entries(JOB.name), book.catalog())
        closed.close_job(book, JOB.name, date(2026, 10, 5), figures)
    (tmp_path / "earlier.csv").write_text(PAPER, "utf-8")
    return tmp_path / "book"


def rates(book: Path, *words: str) -> Result:
    words = ("rates", *words, "--book", str(book))
    return CliRunner().invoke(commands, words, standalone_mode=False)


def soffit(book: Path, *words: str) -> dict[str, object]:
    [rate] = json.loads(rates(book, *words, "--json").stdout)["rates"]
    return rate


def paper(book: Path) -> str:
    return str(book.parent / "earlier.csv")


def test_closed_jobs_are_what_rates_are_learned_from(book: Path) -> None:
    rate = soffit(book)
    assert (rate["name"], rate["jobs"]) == ("soffit panel", 1)


def test_earlier_jobs_from_paper_count_beside_them(book: Path) -> None:
    added = rates(book, "--add", paper(book))
    assert "6 lines of earlier jobs kept, 6 of them new" in added.stderr
    assert "soffit panel     7" in added.stdout
    assert soffit(book)["jobs"] == 7


def test_adding_the_same_again_changes_nothing(book: Path) -> None:
    rates(book, "--add", paper(book))
    again = rates(book, "--add", paper(book))
    assert "6 lines of earlier jobs kept, 0 of them new" in again.stderr
    assert soffit(book)["jobs"] == 7


def test_with_a_bad_row_nothing_is_kept_until_it_is_to_be_left_out(book: Path) -> None:
    Path(paper(book)).write_text(PAPER + "job 7,someday,soffit panel,3,4,\n", "utf-8")
    ran = rates(book, "--add", paper(book))
    assert ran.return_value == 1
    assert "earlier.csv, row 8: 'someday' is no date" in ran.stderr
    assert soffit(book)["jobs"] == 1
    rates(book, "--add", paper(book), "--without-bad-rows")
    assert soffit(book)["jobs"] == 7


def test_an_earlier_job_can_be_dropped_by_its_name(book: Path) -> None:
    rates(book, "--add", paper(book))
    assert "Job 3: dropped, with 1 of its lines" in rates(book, "--drop", "Job 3").stderr
    assert soffit(book)["jobs"] == 6


def test_a_job_that_was_never_added_cannot_be_dropped(book: Path) -> None:
    rates(book, "--add", paper(book))
    ran = CliRunner().invoke(commands, ["rates", "--drop", "job 9", "--book", str(book)])
    assert ran.exit_code == 1
    assert "no earlier job called 'job 9' was added; those that were: job 1, job 2" in ran.output


def test_a_reopened_job_is_left_out_by_name(book: Path) -> None:
    rates(book, "--add", paper(book))
    with Book.open(book) as kept:
        decisions.drop(kept, 2)
    ran = rates(book)
    assert "Gull Point cottage: reopened by entry 2; close it again" in ran.stdout
    assert soffit(book)["jobs"] == 6


def test_a_file_can_be_looked_at_without_any_book(book: Path) -> None:
    assert soffit(Path("nowhere"), "--from", paper(book))["jobs"] == 6
    assert soffit(book)["jobs"] == 1


def test_a_file_is_either_looked_at_or_added(book: Path) -> None:
    words = ["rates", "--from", paper(book), "--add", paper(book)]
    ran = CliRunner().invoke(commands, words)
    assert ran.exit_code == 2
    assert "--from looks at a file alone" in ran.output


def test_the_back_test_is_over_the_jobs_of_the_book_too(book: Path) -> None:
    rates(book, "--add", paper(book))
    ran = rates(book, "--backtest")
    assert "each of the last 6 jobs, predicted from the ones before it" in ran.stdout


def test_a_book_without_closed_jobs_shows_what_is_assumed(tmp_path: Path) -> None:
    Book.create(tmp_path / "new").close()
    ran = rates(tmp_path / "new")
    assert ran.return_value == 0
    assert "no closed job yet: waste is a rule of thumb" in ran.stdout
