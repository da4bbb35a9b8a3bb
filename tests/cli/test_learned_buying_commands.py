"""Take-off, plan and order with what earlier jobs teach, from end to end."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path

import click
import pytest

from joblog.book import Book, paper
from joblog.cli import commands
from joblog.model import Job
from joblog.rates import read_history_csv

RUNS = str(Path(__file__).parents[2] / "fixtures" / "demo" / "runs.csv")
JOB = Job("Gull Point cottage", "America/New_York")
Say = Callable[..., tuple[int, str, str]]

# Invented: ten jobs of soffit panel and of hanging soffit.
PAPER = "job,date,item,net,consumed,geometric,task,quantity,crew hours\n" + "".join(
    f"job {n},2025-{n:02}-05,soffit panel,40,{43 + n % 3},1,hang soffit,180,{18 + n % 4}\n"
    for n in range(1, 11)
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv("JOBLOG_BOOK", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    Path("paper.csv").write_text(PAPER, "utf-8")
    return tmp_path


@pytest.fixture
def book(folder: Path) -> Path:
    earlier, _ = read_history_csv(folder / "paper.csv", today=date(2026, 1, 1))
    with Book.create(folder / "book") as made:
        made.add_job(JOB)
        paper.keep_past(made, earlier)
    return folder / "book"


@pytest.fixture
def say(folder: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    """Runs a command; its status, what it printed, and what it complained of."""

    def run(*words: str) -> tuple[int, str, str]:
        status = commands.main(list(words), standalone_mode=False)
        printed = capsys.readouterr()
        return status or 0, printed.out, printed.err

    return run


def test_without_any_job_the_order_says_that_it_rests_on_the_prior(say: Say) -> None:
    status, shown, told = say("order", RUNS, "--learned")
    assert (status, told) == (0, "")
    assert "a rule of thumb;" in shown
    assert "not a measurement" in shown
    assert "at most 10 % of such jobs (usual; say --risk for another)" in " ".join(shown.split())


def test_earlier_jobs_on_paper_teach_without_a_book(say: Say) -> None:
    lines = json.loads(say("order", RUNS, "--from", "paper.csv", "--risk", "5%", "--json")[1])
    panel = next(line for line in lines if line["item"] == "soffit panel")
    assert panel["jobs"] == 10
    assert panel["source"].startswith("10 jobs; ")
    assert panel["chance_short"] <= 0.05
    assert panel["interval"]["level"] == 0.8


def test_the_jobs_of_the_book_teach_with_one_flag(say: Say, book: Path) -> None:
    lines = json.loads(say("order", RUNS, "--learned", "--json", "--book", str(book))[1])
    assert next(line["jobs"] for line in lines if line["item"] == "soffit panel") == 10


def test_what_paper_and_book_both_hold_counts_once_and_is_told(say: Say, book: Path) -> None:
    words = ["order", RUNS, "--learned", "--from", "paper.csv", "--book", str(book)]
    lines = json.loads(say(*words, "--json")[1])
    assert next(line["jobs"] for line in lines if line["item"] == "soffit panel") == 10
    assert "job 3: is in the book and on paper; counted as in the book" in say(*words)[1]


@pytest.mark.parametrize("columns", [80, 100])
def test_the_sheets_fit_the_terminal(
    say: Say, monkeypatch: pytest.MonkeyPatch, columns: int
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    for words in (["order", RUNS, "--trip", "60", "--left-over", "8"], ["takeoff", RUNS]):
        shown = say(*words, "--from", "paper.csv")[1]
        assert max(map(len, shown.splitlines())) <= columns


def test_what_mistakes_cost_is_told_above_the_total(say: Say) -> None:
    shown = say("order", RUNS, "--from", "paper.csv", "--missing", "60", "--left-over", "8")[1]
    assert "each pack missing 60, each pack left over 8" in " ".join(shown.split())


def test_a_learned_order_for_a_spreadsheet_shows_all_that_was_learned(say: Say) -> None:
    shown = say("order", RUNS, "--from", "paper.csv", "--csv")[1]
    row = next(row for row in csv.DictReader(io.StringIO(shown)) if row["item"] == "soffit panel")
    assert row["extra from"].startswith("10 jobs; ")
    assert float(row["80 % low"]) < float(row["80 % high"])
    assert 0 <= float(row["runs short"]) <= 0.1
    assert float(row["left over"]) > 0


def test_one_item_may_be_said_otherwise_than_learned(say: Say) -> None:
    words = ["order", RUNS, "--from", "paper.csv", "--allowance", "soffit panel=0%", "--json"]
    panel = next(x for x in json.loads(say(*words)[1]) if x["item"] == "soffit panel")
    assert (panel["rate"], panel["source"]) == ("0", "0 % as said")


def test_a_learned_take_off_becomes_the_plan_with_allowance_and_hours(say: Say, book: Path) -> None:
    say("takeoff", RUNS, "--to-plan", "--learned", "--book", str(book))
    with Book.open(book) as opened:
        plan = opened.plan(JOB.name)
    panel = next(line for line in plan.items if line.item.name == "soffit panel")
    hang = next(line for line in plan.tasks if line.task.name == "hang soffit")
    assert panel.net is not None
    # The cut list takes ten whole sheets; net and offcut are those ten.
    assert panel.net + panel.offcut == 10
    assert 0 < panel.quantity - 10 < Fraction(3, 2)
    assert panel.source.startswith("10 jobs; ")
    assert hang.source.startswith("10 jobs; ")
    # 41 + 41 ft of eave and two rakes of 9' 4 1/2", sloped; about 0.11 h a ft, as invented above.
    assert float(hang.hours) == pytest.approx(float(hang.quantity or 0) * 0.108, rel=0.1)


def test_an_order_for_such_a_plan_warns_that_it_has_no_reserve(say: Say, book: Path) -> None:
    say("takeoff", RUNS, "--to-plan", "--learned", "--book", str(book))
    shown = say("order", "--book", str(book))[1]
    assert "the plan: 10 jobs; " in shown
    assert "without a reserve" in shown
    assert "without a reserve" not in say("order", "--learned", "--book", str(book))[1]


def test_a_take_off_shows_what_earlier_jobs_say_of_it(say: Say) -> None:
    words = ["takeoff", RUNS, "--from", "paper.csv"]
    assert "what earlier jobs say of it" in say(*words)[1]
    found = json.loads(say(*words, "--json")[1])
    panel = next(one for one in found["learned"]["items"] if one["name"] == "soffit panel")
    hang = next(one for one in found["learned"]["tasks"] if one["name"] == "hang soffit")
    assert (panel["n"], panel["kind"], panel["sure"]) == (10, "waste", 10.0)
    assert (hang["n"], hang["kind"]) == (10, "hours")
    assert [one["level"] for one in panel["intervals"]] == [0.5, 0.8, 0.95]
    assert panel["percentiles"] == sorted(panel["percentiles"])
    assert len(panel["percentiles"]) == 99
    assert panel["percentiles"][49] == pytest.approx(panel["median"])
    assert found["take_off"]["lines"][0]["item"] == "soffit panel"


def test_a_learned_take_off_for_a_spreadsheet_is_one_row_a_prediction(say: Say) -> None:
    rows = list(csv.DictReader(io.StringIO(say("takeoff", RUNS, "--learned", "--csv")[1])))
    assert list(rows[0]) == [
        "foreseen", "unit", "at least", "expected", "80 % low", "80 % high", "jobs", "from",
    ]  # fmt: skip
    assert rows[-1]["unit"] == "hours"


def test_a_bad_row_on_paper_is_named_and_the_rest_counts(say: Say, folder: Path) -> None:
    (folder / "paper.csv").write_text(PAPER + "job 11,someday,fascia,3,4,,,,\n", "utf-8")
    status, shown, told = say("order", RUNS, "--from", "paper.csv")
    assert status == 1
    assert "paper.csv, row 12: 'someday' is no date" in told
    assert "10 jobs; " in shown


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--risk", "5%"], "only known with --learned"),
        (["--trip", "60", "--left-over", "8"], "only known with --learned"),
        (["--learned", "--allowance", "7%"], "is for one item"),
        (["--learned", "--risk", "0"], "not between"),
        (["--learned", "--risk", "5%", "--trip", "60"], "say one of"),
        (["--learned", "--trip", "60"], "say what both cost"),
        (["--learned", "--half-life", "0"], "more than zero days"),
    ],
)
def test_what_cannot_be_ordered_by_is_a_plain_line(say: Say, words: list[str], why: str) -> None:
    with pytest.raises(click.ClickException, match=why):
        say("order", RUNS, *words)
