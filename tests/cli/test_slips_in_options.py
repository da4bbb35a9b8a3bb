"""A slip in an option is refused in one line with what was likely meant."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from running import Say

RUNS = "work,place,length,depth\nboxed eave,north eave,41,12\n"


@pytest.fixture
def here(say: Say, monkeypatch: pytest.MonkeyPatch) -> Say:
    """In a folder with a table of runs and one of pieces."""
    monkeypatch.setenv("LC_ALL", "en_US.UTF-8")
    Path("runs.csv").write_text(RUNS)
    Path("pieces.csv").write_text("length,item\n20,fascia\n30,F channel\n")
    return say


ORDER = ("order", "runs.csv")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ([*ORDER, "--on-hand", "fasica=4"], r"order is called 'fasica'; is it fascia\?"),
        ([*ORDER, "--on-hand", "caulk=4"], r"nothing in this order is called 'caulk'"),
        ([*ORDER, "--on-hand", "fascia=1,5"], r"is it 1\.5\?"),
        ([*ORDER, "--on-hand", "fascia=400000"], "fascia on hand: .* say --sure if it is so"),
        ([*ORDER, "--on-hand", "fascia=4", "--on-hand", "Fascia=5"], "fascia is said twice"),
        ([*ORDER, "--allowance", "sofit panel=7%"], r"is it soffit panel\?"),
        ([*ORDER, "--allowance", "7,5%"], r"is it 7\.5\?"),
        (["takeoff", "runs.csv", "--fahrenheit", "640"], "fahrenheit 640 is more than 130"),
        (["takeoff", "runs.csv", "--tolerance", "18"], "tolerance 18 in is more than 6 in"),
        (["cuts", "--from", "pieces.csv", "--item", "fasica"], r"is it fascia\?"),
        (["cuts", "--from", "pieces.csv", "--kerf", "18"], "kerf 18 in is more than 1/2 in"),
        (["cuts", "--from", "pieces.csv", "--stock", "12' @ 18,50"], r"is it 18\.50\?"),
        (["cuts", "--from", "pieces.csv", "--stock", "11 9/8"], r"is it 12 1/8\?"),
    ],
)
def test_a_slip_in_an_option_is_refused(here: Say, words: list[str], why: str) -> None:
    status, shown, told = here(*words)
    assert (status, shown) == (1, "")
    assert re.search(why, told), told
    assert told.count("\n") == 1


def test_what_is_on_hand_is_taken_off_however_the_item_is_written(here: Say) -> None:
    _, shown, _ = here(*ORDER, "--on-hand", "f channel=1", "--json")
    assert {line["item"]: line["on_hand"] for line in json.loads(shown)}["F channel"] == "1"
    _, shown, _ = here(*ORDER, "--on-hand", "fascia=400000", "--sure", "--json")
    assert {line["item"]: line["on_hand"] for line in json.loads(shown)}["fascia"] == "400000"


@pytest.mark.parametrize(
    ("slip", "why"),
    [
        ("fasica.price=3", "no line of the bid; is it fascia"),
        ("fascia.price=12,50", r"fascia\.price: .* is it 12\.50\?"),
        ("fascia.price=1250000", r"price 1,250,000 is more than 20,000.* say --sure"),
    ],
)
def test_a_slip_in_a_number_of_a_bid_is_asked_about_and_nothing_kept(
    here: Say, slip: str, why: str
) -> None:
    here("bid", "runs.csv", "--job", "Mill house", "--set", "hourly cost=42")
    status, _, told = here("bid", "--set", slip)
    assert (status, bool(re.search(why, told))) == (1, True), told
    assert "fascia.price" not in here("bid")[1]


def test_a_number_that_he_is_sure_of_is_kept(here: Say) -> None:
    here("bid", "runs.csv", "--job", "Mill house", "--set", "hourly cost=42")
    here("bid", "--set", "fascia.price=1250000", "--sure")
    assert "fascia.price=1250000" in here("bid")[1]


def test_a_plan_as_json_that_plans_what_no_job_has_is_not_loaded(here: Say) -> None:
    here("bid", "runs.csv", "--job", "Mill house", "--set", "hourly cost=42")
    before = here("plan", "--json")[1]
    plan = json.loads(before)
    plan["items"][0]["quantity"] = "1000000000"
    Path("plan.json").write_text(json.dumps(plan))
    status, _, told = here("plan", "plan.json")
    assert (status, "is more than 20,000" in told) == (1, True), told
    assert here("plan", "--json")[1] == before
    assert here("plan", "plan.json", "--sure")[0] == 0
