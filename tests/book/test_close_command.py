"""`joblog close` and `joblog jobs`, from a person's entries to a closed job and back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from joblog.book import Book, closed, decisions
from joblog.cli import commands
from joblog.model import Job

JOB = "Gull Point cottage"
PLAN = """line,name,quantity,unit,cost,net,offcut,amount
item,soffit panel,15,sheet,21.40,13,1,
item,fascia,7,stick,14.90,,,
task,hang soffit,18,hour,48.00,,,140 ft
"""
SAID = (
    "20 soffit panels delivered at 22.50",
    "used 14 soffit panels",
    "4 soffit panels left",
    "hung 140 feet of soffit in nine hours, two of us",
)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    with Book.create(tmp_path / "book") as made:
        made.add_job(Job(JOB, "America/New_York"))
    (tmp_path / "plan.csv").write_text(PLAN, "utf-8")
    return tmp_path / "book"


def run(book: Path, *words: str) -> Result:
    return CliRunner().invoke(commands, [*words, "--book", str(book)], standalone_mode=False)


def planned(book: Path) -> None:
    assert run(book, "plan", str(book.parent / "plan.csv")).return_value == 0


def told(book: Path, *lines: str) -> None:
    for line in lines:
        assert run(book, "write", line, "--at", "2026-10-05 15:00").return_value == 0


def test_a_closed_job_says_what_was_frozen_and_what_it_teaches(book: Path) -> None:
    planned(book)
    told(book, *SAID)
    ran = run(book, "close")
    assert ran.return_value == 0
    assert ran.stdout.startswith("Gull Point cottage, closed on Mon, Oct 5, 2026\n")
    assert "soffit panel: 16 panels gone, planned 15; 14 installed, 0 wasted, 0 cutoffs, 2" in (
        ran.stdout
    )
    assert (
        "soffit panel: 13 panels of work (as planned) and 1 of cutoffs took 16 panels" in ran.stdout
    )
    assert "hang soffit: 140 ft took 18 man-hours" in ran.stdout
    assert "fascia: nobody said that any was installed" in ran.stdout


def test_what_is_missing_is_frozen_as_missing(book: Path) -> None:
    planned(book)
    told(book, *SAID[:2])
    ran = run(book, "close")
    assert ran.return_value == 0
    [missing] = [part for part in ran.stdout.split("\n\n") if part.startswith("missing")]
    assert "soffit panel" in missing and "fascia" in missing
    with Book.open(book) as kept:
        closing = closed.closing(kept, JOB)
        assert closing is not None and closing.figures.stock[0].consumed is None


def test_a_job_without_a_plan_is_closed_only_anyway(book: Path) -> None:
    told(book, *SAID)
    ran = run(book, "close")
    assert (ran.return_value, ran.stdout) == (1, "")
    assert "there is no plan for this job; put one in with joblog plan FILE" in ran.stderr
    assert "or close it --anyway" in ran.stderr
    assert run(book, "close", "--anyway").return_value == 0
    assert "closed on Mon, Oct 5, 2026" in run(book, "jobs").stdout


def test_entries_that_wait_for_a_decision_are_in_the_way_by_number(book: Path) -> None:
    planned(book)
    told(book, *SAID[:3], "used 14 soffit panels")
    ran = run(book, "close")
    assert ran.return_value == 1
    assert "waits for a decision; settle them with joblog review" in ran.stderr
    assert run(book, "jobs").stdout.rstrip().endswith("open")


def test_counts_that_cannot_all_be_right_are_in_the_way_by_number(book: Path) -> None:
    planned(book)
    told(book, SAID[0], SAID[1], "9 soffit panels left")
    with Book.open(book) as kept:
        for entry in kept.entries(JOB):
            decisions.accept(kept, entry.id)
    ran = run(book, "close")
    assert ran.return_value == 1
    assert "entries 2, 3 cannot all be right" in ran.stderr
    anyway = run(book, "close", "--anyway")
    assert anyway.return_value == 0
    assert "soffit panel: what was said of it cannot all be right" in anyway.stdout
    assert "closed over:" in anyway.stderr


def test_nothing_said_is_nothing_to_close(book: Path) -> None:
    ran = CliRunner().invoke(commands, ["close", "--book", str(book)])
    assert ran.exit_code == 1
    assert "nothing was said yet, so there is nothing to close" in ran.output


def test_the_day_it_counts_for_may_be_named_but_not_in_the_future(book: Path) -> None:
    planned(book)
    told(book, *SAID)
    assert run(book, "close", "--day", "2026-10-09").return_value == 0
    assert "closed on Fri, Oct 9, 2026" in run(book, "jobs").stdout
    late = CliRunner().invoke(commands, ["close", "--day", "2199-01-01", "--book", str(book)])
    assert "--day 2199-01-01 has not come yet" in late.output


def test_a_later_change_reopens_it_and_an_undo_closes_it_again(book: Path) -> None:
    planned(book)
    told(book, *SAID)
    run(book, "close")
    told(book, "used 1 soffit panel")
    listed = json.loads(run(book, "jobs", "--json").stdout)[0]
    assert (listed["closed"], listed["reopened"], listed["changed"]) == ("2026-10-05", True, [5])
    shown = " ".join(run(book, "jobs").stdout.split())
    assert "closed on Mon, Oct 5, 2026, reopened by entry 5" in shown
    with Book.open(book) as kept:
        decisions.drop(kept, 5)
    assert run(book, "jobs").stdout.rstrip().endswith("closed on Mon, Oct 5, 2026")


def test_json_holds_the_closing_and_what_it_teaches(book: Path) -> None:
    planned(book)
    told(book, *SAID)
    shown = json.loads(run(book, "close", "--json").stdout)
    assert shown["closing"]["figures"]["stock"][0]["gone"] == "16"
    assert shown["taught"]["uses"][0]["net"] == "13"
    assert shown["closed_over"] == []


@pytest.mark.parametrize("form", ["csv", "json"])
def test_a_plan_as_printed_can_be_loaded_again(book: Path, form: str) -> None:
    planned(book)
    file = book.parent / f"again.{form}"
    file.write_text(run(book, "plan", f"--{form}").stdout, "utf-8")
    with Book.open(book) as kept:
        before = kept.plan(JOB)
    assert run(book, "plan", str(file)).return_value == 0
    with Book.open(book) as kept:
        assert kept.plan(JOB) == before
