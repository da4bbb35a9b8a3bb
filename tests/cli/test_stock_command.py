"""What lies where, listed, and taken to a job."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

from running import Say

PLAN = "line,name,quantity,unit,cost\nitem,fascia,7,stick,14.00\n"


def a_shop(say: Say) -> None:
    """Four sticks of fascia in stock, six on the job that they were bought on."""
    say("new", "Corner porch", "--zone", "America/Chicago", "--book", "book")
    for said in (
        "delivered ten sticks of fascia at five dollars each",
        "took four sticks of fascia back to the shop",
    ):
        assert say("write", said, "--book", "book")[0] == 0


def test_what_lies_where_is_listed_with_its_cost(say: Say) -> None:
    a_shop(say)
    status, shown, _ = say("stock", "--book", "book")
    assert status == 0
    rows = [line.split() for line in shown.splitlines()]
    assert ["stock", "fascia", "4", "stick", "20.00"] in [row[:5] for row in rows]
    assert "together $50.00, as far as anybody told what it cost" in shown


def test_csv_and_json_have_it_exactly(say: Say) -> None:
    a_shop(say)
    first, second = csv.DictReader(io.StringIO(say("stock", "--csv", "--book", "book")[1]))
    assert (first["where"], first["how many"], first["cost"]) == ("stock", "4", "20.00")
    assert second["to know"] == "not counted: what the record leaves"
    found = json.loads(say("stock", "--json", "--book", "book")[1])
    assert found["items"][0]["lying"]["layers"][0]["each"] == "5"
    assert found["cost"] == "50.00"


def test_a_new_job_is_told_what_lies_in_stock_and_takes_it(say: Say) -> None:
    a_shop(say)
    Path("plan.csv").write_text(PLAN)
    _, _, complaint = say("new", "Mill house", "--plan", "plan.csv", "--book", "book")
    assert "in stock: 4 sticks of fascia; joblog stock take puts that down" in complaint
    status, shown, _ = say("stock", "take", "--job", "Mill house", "--book", "book")
    assert (status, shown) == (0, "fascia: 4 sticks from stock to Mill house\n")
    assert "stock  " not in say("stock", "--book", "book")[1]
    _, _, complaint = say("stock", "take", "--job", "Mill house", "--book", "book")
    assert complaint == "Mill house: nothing lies in stock of what it plans and has not yet\n"


def test_what_does_not_lie_in_stock_cannot_be_taken(say: Say) -> None:
    a_shop(say)
    status, _, complaint = say("stock", "take", "gutter", "--book", "book")
    assert status == 1
    assert "gutter: nothing of it lies in stock, as far as anybody told" in complaint


def test_an_empty_book_says_so(say: Say) -> None:
    say("new", "Corner porch", "--book", "book")
    assert say("stock", "--book", "book")[1] == "nothing here yet\n"
