"""joblog house: described in a table, shown, and gone on from."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from running import Say

TABLE = """what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter,area
side,front,42 ft,9 ft,eave,outside,12,,,,,yes,
window,kitchen,3 ft,4 ft,,,,,6 ft,3 ft,2,,
interrupted,porch roof,10 ft,,,,,,16 ft,,,,
side,left,28 ft,9 ft,gable,outside,14 3/4,6/12,,,,,
side,back,42 ft,9 ft,eave,outside,12,,,,,,
side,right,28 ft,9 ft,gable,outside,14 3/4,6/12,,,,,
attic,,,,,,,,,,,,1176 ft2
every,drip_edge=1,,,,,,,,,,,
"""


@pytest.fixture
def house(say: Say, monkeypatch: pytest.MonkeyPatch) -> Say:
    """A job whose house is described, on a screen of 100 columns."""
    monkeypatch.setenv("COLUMNS", "100")
    Path("house.csv").write_text(TABLE, "utf-8")
    assert say("new", "Mill house", "--zone", "America/Chicago", "--book", "book")[0] == 0

    def run(*words: str) -> tuple[int, str, str]:
        return say("house", *words, "--book", "book")

    status, _, err = run("house.csv")
    assert status == 0
    assert "Mill house: the house is kept; joblog undo takes it back" in err
    return run


def test_a_house_is_shown_side_by_side(house: Say) -> None:
    status, out, _ = house()

    assert status == 0
    assert "2 windows 3' x 4', porch roof from" in out
    assert "gable 6/12" in out
    assert "of every run: drip_edge=1" in out
    assert max(map(len, out.splitlines())) <= 100


def test_what_csv_prints_is_taken_in_again(house: Say) -> None:
    Path("again.csv").write_text(house("--csv")[1], "utf-8")

    status, _, err = house("again.csv")

    assert status == 0
    assert "Mill house: the house is as it was" in err


def test_the_first_row_of_csv_names_the_columns(house: Say) -> None:
    every, main, front, *_ = csv.DictReader(io.StringIO(house("--csv")[1]))

    assert [row["what"] for row in (every, main, front)] == ["every", "body", "side"]
    assert front["length"] == "42'"


def test_a_house_is_json_for_programs(house: Say) -> None:
    shown = json.loads(house("--json")[1])

    assert shown["bodies"][0]["sides"][0]["length"] == "504"


def test_a_house_that_cannot_be_is_not_kept(house: Say, say: Say) -> None:
    Path("bad.csv").write_text(TABLE.replace("back,42", "back,43"), "utf-8")

    status, _, err = house("bad.csv")

    assert status == 1
    assert "The house was not kept; mend these first:" in err
    assert "front 42' one way, back 43' the other, 1' apart" in err
    assert "42'" in house()[1]


def test_take_off_order_and_bid_go_on_from_the_house(house: Say, say: Say) -> None:
    of_job = say("takeoff", "--csv", "--book", "book")
    of_table = say("takeoff", "house.csv", "--csv")

    assert of_job[0] == 0
    assert of_job[1] == of_table[1]
    assert "all of it: the house" in say("order", "--house", "--book", "book")[1]
    assert say("bid", "--house", "--book", "book")[0] == 0


def test_an_order_says_what_the_house_leaves_out_of_it(say: Say) -> None:
    sides = "".join(f"side,{name},20,12\n" for name in ("front", "left", "back", "right"))
    Path("low.csv").write_text(f"what,name,length,depth\n{sides}", "utf-8")

    assert "no side says its height; left out: siding" in say("order", "low.csv")[1]


def test_a_bid_is_on_one_thing(house: Say, say: Say) -> None:
    status, _, err = say("bid", "--house", "--from-plan", "--book", "book")

    assert status != 0
    assert "not on two of them" in err


def test_without_a_house_it_says_how_to_describe_one(say: Say) -> None:
    say("new", "Mill house", "--zone", "America/Chicago", "--book", "book")

    status, _, err = say("house", "--book", "book")

    assert status == 1
    assert "nobody described the house yet; do so with joblog house HOUSE.csv" in err
