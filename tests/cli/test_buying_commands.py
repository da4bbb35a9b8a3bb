"""The commands from measures to an order, from end to end."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import click
import pytest

from joblog.book import Book, decisions
from joblog.cli import commands
from joblog.model import Entry, Job, Reading

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
JOB = Job("Gull Point cottage", "America/New_York")
Say = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv("JOBLOG_BOOK", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
    return tmp_path / "book"


@pytest.fixture
def say(book: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    """Runs a command; its status, what it printed, and what it complained of."""

    def run(*words: str) -> tuple[int, str, str]:
        status = commands.main(list(words), standalone_mode=False)
        printed = capsys.readouterr()
        return status or 0, printed.out, printed.err

    return run


def test_without_any_book_the_starter_catalog_is_listed(say: Say) -> None:
    status, shown, _ = say("catalog")
    assert status == 0
    assert "soffit panel" in shown


def test_a_catalog_goes_through_a_spreadsheet_into_a_book(say: Say, book: Path) -> None:
    _, written, _ = say("catalog", "--csv")
    Path("prices.csv").write_text(written.replace("trim nails,lb", "brass nails,lb"))
    assert say("catalog", "prices.csv", "--book", str(book))[0] == 0
    assert "brass nails" in say("catalog", "--book", str(book))[1]


def test_a_catalog_with_a_bad_row_is_not_taken_in_unless_that_is_said(say: Say, book: Path) -> None:
    Path("prices.csv").write_text("line,name,unit\nitem,felt strip,roll\nitem,tar,furlong\n")
    status, _, told = say("catalog", "prices.csv", "--book", str(book))
    assert status == 1
    assert told.startswith("The catalog was not changed; mend these first:\nprices.csv, row 3: tar")
    assert "felt strip" not in say("catalog", "--book", str(book))[1]
    others = say("catalog", "prices.csv", "--without-bad-rows", "--book", str(book))
    assert others[0] == 0
    assert "prices.csv, row 3: tar: there is no unit 'furlong'" in others[2]
    assert "prices.csv: 1 row was left out" in others[2]
    assert "felt strip" in say("catalog", "--book", str(book))[1]


def test_one_line_of_the_catalog_is_changed_and_dropped(say: Say, book: Path) -> None:
    say("catalog", "set", "fascia", "cost=14.90", "sold by=box of 10", "--book", str(book))
    assert "14.90" in say("catalog", "--book", str(book))[1]
    say("catalog", "drop", "fascia", "--book", str(book))
    assert "14.90" not in say("catalog", "--book", str(book))[1]


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["set", "fascia", "finish=red"], "there is no field 'finish'"),
        (["set", "fascia", "red"], "is written NAME=VALUE"),
        (["drop", "gold"], "the catalog has no 'gold'"),
        (["set", "fascia"], "say FILE.csv, set NAME FIELD=VALUE"),
    ],
)
def test_a_change_that_cannot_be_is_a_plain_line(
    say: Say, book: Path, words: list[str], why: str
) -> None:
    with pytest.raises(click.ClickException, match=why):
        say("catalog", *words, "--book", str(book))


def test_a_take_off_prints_every_line_with_its_formula(say: Say) -> None:
    status, shown, told = say("takeoff", str(DEMO / "runs.csv"))
    assert (status, told) == (0, "")
    assert "north eave, boxed eave" in shown
    assert "gross = (along + laps * lap) / stock = (41 ft + 3 x 1 in) / 144 in/stick" in shown


def test_one_run_may_be_typed(say: Say) -> None:
    words = [
        "--work",
        "boxed eave",
        "--place",
        "porch",
        "--set",
        "length=41 ft",
        "--set",
        "depth=12",
    ]
    found = json.loads(say("takeoff", *words, "--json")[1])
    assert found["lines"][0]["item"] == "soffit panel"
    assert found["lines"][0]["gross"] == "41/12"


def test_cold_weather_widens_the_gap(say: Say) -> None:
    words = ["--work", "boxed eave", "--set", "length=41", "--set", "depth=12"]
    found = json.loads(say("takeoff", *words, "--fahrenheit", "35", "--json")[1])
    assert found["pieces"][0]["length"] == "93/8"


def test_a_bad_row_is_named_and_the_rest_taken_off(say: Say) -> None:
    Path("runs.csv").write_text("work,length,depth\nboxed eave,0,12\nboxed eave,41,12\n")
    status, shown, told = say("takeoff", "runs.csv")
    assert status == 1
    assert told == "runs.csv, row 2: length is zero\nWhat follows is without that.\n"
    assert "soffit panel: net" in shown


def test_a_kind_of_work_of_ones_own_lies_beside_the_book(say: Say, book: Path) -> None:
    (book / "works.toml").write_text(
        "[deck.takes]\nlength = { unit = 'ft' }\n"
        "[[deck.uses]]\nitem = 'one by six'\nalong = 'length'\nlap = '0 * inch'\n"
    )
    words = ["--work", "deck", "--set", "length=24", "--book", str(book), "--csv"]
    [row] = csv.DictReader(io.StringIO(say("takeoff", *words)[1]))
    assert (row["item"], row["net"]) == ("one by six", "2")


def test_a_formula_that_mixes_units_is_refused_before_it_is_used(say: Say, tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(
        "[deck.takes]\nlength = { unit = 'ft' }\n"
        "[[deck.figures]]\nname = 'odd'\nformula = 'length + length * length'\n"
    )
    status, _, told = say("takeoff", "--kinds", "--works", str(tmp_path / "own.toml"))
    assert status == 1
    assert told == (
        "deck: odd (length + length * length) adds or compares ft and ft2, which do not mix\n"
    )


def test_dictated_measures_fill_in_the_runs(say: Say, book: Path) -> None:
    Path("runs.csv").write_text("work,place\nboxed eave,north eave\n")
    for words in ("north eave eleven and seven eighths", "north eave run forty one feet"):
        say("write", words, "--book", str(book))
    found = json.loads(say("takeoff", "runs.csv", "--measured", "--json", "--book", str(book))[1])
    assert found["pieces"][0]["length"] == "93/8"
    assert found["notes"][0] == "north eave: length 41' as dictated"


def test_a_take_off_becomes_the_plan_that_a_job_is_squared_up_against(say: Say, book: Path) -> None:
    say("plan", str(DEMO / "plan.csv"), "--book", str(book))
    _, _, told = say("takeoff", str(DEMO / "runs.csv"), "--to-plan", "--book", str(book))
    assert told.endswith("siding panel, starter strip, J channel, house wrap\n")
    squared = json.loads(say("squareup", "--json", "--book", str(book))[1])
    planned = {line["item"]: line["planned"] for line in squared["stock"]}
    assert planned["starter strip"] == "2"
    # 18' 9" x 4' 8 1/4" / 2, and 6 in of lap along its foot, of a roll of 900 square feet.
    assert Fraction(planned["house wrap"]) == Fraction(
        Fraction(225, 12) * Fraction(225, 48) / 2 + Fraction(225, 24), 900
    )


def test_what_a_take_off_does_not_speak_of_stays_in_the_plan(say: Say, book: Path) -> None:
    say("plan", str(DEMO / "plan.csv"), "--book", str(book))
    Path("runs.csv").write_text("work,place,length,depth\nboxed eave,north eave,41,12\n")
    _, _, told = say("takeoff", "runs.csv", "--to-plan", "--book", str(book))
    assert "as before: house wrap" in told


def test_a_take_off_with_a_bad_row_leaves_the_plan_as_it_was(say: Say, book: Path) -> None:
    say("plan", str(DEMO / "plan.csv"), "--book", str(book))
    before = say("plan", "--json", "--book", str(book))[1]
    Path("runs.csv").write_text("work,length,depth\nboxed eave,0,12\nboxed eave,41,12\n")
    status, _, told = say("takeoff", "runs.csv", "--to-plan", "--book", str(book))
    assert status == 1
    assert told.startswith("The plan of the job was not changed")
    assert say("plan", "--json", "--book", str(book))[1] == before


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["takeoff"], "name a FILE of runs"),
        (["takeoff", "runs.csv", "--work", "wall"], "not two of them"),
        (["takeoff", "--work", "boxd eave"], "there is no kind of work 'boxd eave'"),
        (["takeoff", "--work", "wall", "--set", "width"], "is written NAME=VALUE"),
        (["takeoff", "--work", "attic", "--set", "area=9", "--tolerance", "-1"], "below zero"),
        (["order", "--work", "attic", "--set", "area=9", "--on-hand", "x"], "is written like"),
        (["order", "--work", "attic", "--set", "area=9", "--allowance", "x"], "not a number"),
    ],
)
def test_what_cannot_be_worked_out_is_a_plain_line(say: Say, words: list[str], why: str) -> None:
    with pytest.raises(click.ClickException, match=why):
        say(*words)


def test_an_order_is_in_packs_with_what_is_on_hand_deducted(say: Say, book: Path) -> None:
    say("catalog", "set", "fascia", "cost=14.90", "sold by=box of 5", "--book", str(book))
    words = ["--on-hand", "fascia=4", "--allowance", "10%", "--allowance", "fascia=0%"]
    lines = json.loads(
        say("order", str(DEMO / "runs.csv"), *words, "--json", "--book", str(book))[1]
    )
    fascia = next(line for line in lines if line["item"] == "fascia")
    # 8.62 sticks less 4 are one box of five.
    assert (fascia["packs"], fascia["bought"], fascia["cost"]) == (1, "5", "74.50")
    assert {line["rate"] for line in lines} == {"0", "1/10"}


def test_an_order_names_suppliers_lengths_and_tax_in_every_form(say: Say, book: Path) -> None:
    say(
        "catalog", "set", "fascia", "cost=14.90", "length costs=16 ft = 19.00",
        "supplier=Harbor Yard", "least order=500", "--book", str(book),
    )  # fmt: skip
    say("catalog", "set", "soffit panel", "cost=10", "supplier=depot", "--book", str(book))
    words = ["order", str(DEMO / "runs.csv"), "--tax", "8.25%", "--book", str(book)]
    fascia = next(x for x in json.loads(say(*words, "--json")[1]) if x["item"] == "fascia")
    assert {one["length"] for one in fascia["lengths"]} <= {"144", "192"}
    assert Decimal(fascia["cost"]) == sum(Decimal(one["cost"]) for one in fascia["lengths"])
    row = next(
        x for x in csv.DictReader(io.StringIO(say(*words, "--csv")[1])) if x["item"] == "fascia"
    )
    assert (row["supplier"], row["sales tax"]) == ("Harbor Yard", "8 1/4%")
    assert row["buy"] == row["lengths"]
    shown = " ".join(say(*words)[1].split())
    assert "Harbor Yard: " in shown
    assert "below the least that it takes an order for, $500.00 before tax" in shown


def test_an_order_without_a_file_is_for_the_plan_of_the_job(say: Say, book: Path) -> None:
    say("plan", str(DEMO / "plan.csv"), "--book", str(book))
    lines = json.loads(say("order", "--json", "--book", str(book))[1])
    # The plan has 13 panels of work, 1 of offcuts and 1 to spare already.
    assert (lines[0]["item"], lines[0]["bought"], lines[0]["net"]) == ("soffit panel", "15", "13")
    # It does not part its nails: 4 lb and 5 % are 4.2.
    assert (lines[3]["item"], lines[3]["bought"], lines[3]["net"]) == ("trim nails", "5", None)


def test_a_cut_list_needs_no_book_where_one_is_only_set_up(
    say: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("JOBLOG_BOOK", "not-yet")
    Path("pieces.csv").write_text("length,pieces\n60,4\n")
    status, shown, _ = say("cuts", "--from", "pieces.csv")
    assert status == 0
    assert "least stock, proved" in shown


def test_a_shorter_search_of_the_same_list_gives_the_same_list(say: Say) -> None:
    Path("pieces.csv").write_text("length,pieces\n" + "".join(f"{60 + n},3\n" for n in range(9)))
    asked = ("cuts", "--from", "pieces.csv", "--effort", "0.01", "--json")
    assert say(*asked) == say(*asked)


def test_the_pieces_go_to_the_saw_as_a_table(say: Say) -> None:
    rows = list(csv.DictReader(io.StringIO(say("takeoff", str(DEMO / "runs.csv"), "--pieces")[1])))
    assert list(rows[0])[:5] == ["length", "pieces", "label", "item", "lap"]
    assert sum(int(row["pieces"]) for row in rows if row["label"].startswith("north eave ")) == 41


def test_the_catalog_is_listed_with_what_was_said_last_and_where(say: Say, book: Path) -> None:
    say("catalog", "set", "fascia", "cost=12.00", "priced=2026-10-01", "--book", str(book))
    price = Entry("price", item="fascia", unit="stick", unit_cost=Decimal("14.90"))
    with Book.open(book) as opened:
        at = datetime(2026, 10, 14, 15, tzinfo=UTC)
        decisions.add_typed(opened, JOB.name, Reading((price,)), "told", at)
    status, listed, told = say("catalog", "--csv", "--book", str(book))
    assert (status, told) == (0, "")
    assert "14.90,2026-10-14" in listed
    shown = " ".join(say("catalog", "--book", str(book))[1].split())
    assert "priced as $14.90 a stick was said on Wed, Oct 14, 2026 (Gull Point cottage)" in shown
