"""joblog bid: made, shown, changed, handed over, looked back on."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from pathlib import Path

import pytest
from running import Say

RUNS = "work,place,length,depth\nboxed eave,north eave,41,12\nboxed eave,south eave,30,12\n"
CATALOG = "line,name,unit,cost\n" + "".join(
    f"item,{name},{unit},{cost}\n"
    for name, unit, cost in (
        ("soffit panel", "sheet", "31.25"),
        ("F channel", "stick", "8.20"),
        ("fascia", "stick", "14.90"),
        ("trim nails", "lb", "9"),
        ("siding nails", "lb", "4"),
    )
)
PAY = ("--set", "hourly cost=40", "--set", "overhead=10%", "--set", "margin=20%")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the book of `bid` is kept once it was made."""
    return tmp_path_factory.mktemp("made") / "book"


@pytest.fixture
def bid(say: Say, made: Path) -> Say:
    """A book with prices, and a bid on two eaves."""
    Path("runs.csv").write_text(RUNS, "utf-8")

    def run(*words: str) -> tuple[int, str, str]:
        return say("bid", *words, "--book", "book")

    if not made.exists():
        assert say("new", "Mill house", "--zone", "America/Chicago", "--book", "book")[0] == 0
        for row in csv.DictReader(io.StringIO(CATALOG)):
            words = (row["name"], f"cost={row['cost']}", "--book", "book")
            assert say("catalog", "set", *words)[0] == 0
        assert run("runs.csv", *PAY)[0] == 0
        shutil.copytree("book", made)
    else:
        shutil.copytree(made, "book")
    return run


def test_a_bid_is_made_and_shown_again(bid: Say) -> None:
    status, out, _ = bid()
    assert status == 0
    assert "margin, 20 % of the price" in out
    assert "With overhead, the job will cost about" in out
    assert "a foot, 71 ft for" in out
    assert out == bid()[1]


def test_a_bid_begins_a_job_that_there_is_not_yet(say: Say) -> None:
    Path("runs.csv").write_text(RUNS, "utf-8")
    status, out, err = say(
        "bid", "runs.csv", "--job", "Barn", "--zone", "America/Chicago", "--book", "new"
    )
    assert status == 0
    assert "Barn: begun in new" in err
    assert "No bid yet: nobody knows what this costs: " in out
    assert say("plan", "--book", "new", "--csv")[1].count("\n") > 4


def test_json_and_csv_are_exact_and_say_the_same(bid: Say) -> None:
    shown = json.loads(bid("--json")[1])
    rows = list(csv.DictReader(io.StringIO(bid("--csv")[1])))
    [total] = [row["cost"] for row in rows if row["name"] == "price"]
    assert total == shown["price"]
    items = [row for row in rows if row["line"] == "item"]
    assert [row["cost"] for row in items] == [item["cost"] for item in shown["items"]]
    assert "basis" not in shown


def test_what_the_customer_sees_has_no_cost_in_it(bid: Say) -> None:
    out = bid("--customer", "--by-place")[1]
    assert "north eave" in out
    for word in ("cost", "margin", "overhead", "hour", "waste"):
        assert word not in out


def test_a_number_that_is_set_is_marked(bid: Say) -> None:
    out = bid("--set", "soffit panel.price=33")[1]
    assert "33.00*" in out
    assert "soffit panel.price=33" in out


def test_a_price_that_is_asked_says_what_margin_it_leaves(bid: Say) -> None:
    out = bid("--set", "price=4200")[1]
    assert "4,200.00" in out
    assert re.search(r"margin, about \d+\.\d+ % of the price", out)
    assert json.loads(bid("--json")[1])["price"] == "4200.00"


def test_papers_are_written_and_not_written_over(bid: Say) -> None:
    assert bid("--customer", "--pdf", "bid.pdf", "--html", "bid.html")[0] == 0
    assert Path("bid.pdf").read_bytes().startswith(b"%PDF")
    assert "<html" in Path("bid.html").read_text("utf-8")
    assert bid("--customer", "--pdf", "bid.pdf")[0] == 0  # as it is there already, bit for bit
    status, _, err = bid("--pdf", "bid.pdf")
    assert status == 1
    assert "is there already" in err
    assert bid("--pdf", "bid.pdf", "--over")[0] == 0


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--set", "margin=150%"), "not between 0 and 100%"),
        (("--set", "shingles.price=3"), "no line of the bid"),
        (("--set", "margin"), "is written NAME=VALUE"),
        (("--by-place",), "goes with --customer"),
        (("--outcome", "--customer"), "say them alone"),
        (("runs.csv", "--from-plan"), "not on two of them"),
        (("nowhere.csv",), "nowhere.csv"),
        (("--outcome",), "nothing was told"),
        (("--pdf", "bid.txt"), "does not end in .pdf"),
    ],
)
def test_what_cannot_be_is_said_in_one_line(bid: Say, words: tuple[str, ...], why: str) -> None:
    status, _, err = bid(*words)
    assert status != 0
    assert why in err
    assert "Traceback" not in err


def test_every_version_is_listed(bid: Say) -> None:
    bid("--set", "margin=25%")
    rows = list(csv.DictReader(io.StringIO(bid("--versions", "--csv")[1])))
    assert ["margin=25%" in row["set"] for row in rows] == [False, True]


def test_a_bid_on_the_plan_that_a_job_has(bid: Say) -> None:
    before = json.loads(bid("--json")[1])
    status, out, _ = bid("--from-plan", "--json")
    after = json.loads(out)
    assert status == 0
    assert [item["net"] for item in after["items"]] == [item["net"] for item in before["items"]]
    assert after["said"] == before["said"]


def test_what_became_of_it_is_told_and_stands_in_the_close_out(bid: Say, say: Say) -> None:
    for minute, line in enumerate(
        ("ten sheets of soffit panel delivered", "used nine soffit panels", "one soffit panel left")
    ):
        at = f"2026-10-05 14:3{minute}"
        assert say("write", line, "--at", at, "--book", "book")[0] == 0
    out = bid("--outcome")[1]
    assert "left after overhead" in out
    assert "not known: no hours were told of" in out
    assert json.loads(bid("--outcome", "--json")[1])["lines"][0]["name"] == "material"
    closed = say("close", "--anyway", "--book", "book")[1]
    assert "Mill house, the bid and what became of it" in closed
    assert say("paper", "close-out", "--html", "out.html", "--book", "book")[0] == 0
    assert "The bid, and what became of it" in Path("out.html").read_text("utf-8")
