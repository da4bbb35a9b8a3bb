"""joblog bin and joblog history: what counts no more comes back, and what became of a thing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from running import Say

AT = ("--book", "book")


@pytest.fixture
def used(porch: Say, monkeypatch: pytest.MonkeyPatch) -> Say:
    monkeypatch.setenv("COLUMNS", "120")  # Whatever the hour, how it is written takes as much room.
    line = "used three sheets of soffit panel"
    assert porch("write", line, "--at", "2026-10-05 15:00", *AT)[0] == 0
    return porch


def test_what_was_dropped_is_listed_with_when_where_and_how(used: Say) -> None:
    assert used("bin", *AT)[1] == "the bin is empty\n"
    used("drop", "2", *AT)
    status, shown, complaint = used("bin", *AT)
    assert (status, complaint) == (0, "")
    line = shown.splitlines()[-1]
    assert line.split()[0] == "3"
    assert line.endswith("Corner porch  dropped  installed 3 soffit panels, north eave")
    [one] = json.loads(used("bin", "--json", *AT)[1])
    assert (one["step"]["id"], one["things"]) == (3, ["installed 3 soffit panels, north eave"])
    assert used("bin", "--csv", *AT)[1].splitlines()[0] == "number,when,job,how,what"


def test_what_is_brought_back_stands_and_undo_takes_it_back(used: Say) -> None:
    used("drop", "2", *AT)
    back = "brought back: installed 3 soffit panels, north eave\n"
    assert used("bin", "--back", "3", *AT) == (0, back, "")
    assert used("bin", *AT)[1] == "the bin is empty\n"
    assert used("bin", "--back", "3", *AT)[0] == 1
    assert used("undo", *AT)[1] == f"taken back: {back}"
    assert "installed 3 soffit panels" in used("bin", *AT)[1]


def test_what_was_taken_back_for_something_else_comes_back(used: Say) -> None:
    used("undo", *AT)
    used("write", "delivered 15 sheets of soffit panel", *AT)
    assert used("redo", *AT)[0] == 1
    status, shown, _ = used("bin", "--back", "2", *AT)
    assert (status, shown) == (0, "done again: wrote: installed 3 soffit panels, north eave\n")


def test_the_bin_is_of_all_jobs_or_of_one(used: Say) -> None:
    used("new", "Barn", "--zone", "America/Chicago", *AT)
    used("drop", "2", "--job", "Corner porch", *AT)
    assert used("bin", "--job", "Barn", *AT)[1] == "the bin is empty\n"
    assert "installed 3" in used("bin", "--job", "Corner porch", *AT)[1]
    assert "installed 3" in used("bin", *AT)[1]


def test_an_entry_is_told_version_by_version_and_any_of_them_comes_back(used: Say) -> None:
    used("edit", "2", "quantity", "4", *AT)
    used("drop", "2", *AT)
    used("undo", *AT)
    versions = json.loads(used("history", "--entry", "2", "--json", *AT)[1])
    told = [(one["version"], one["how"], one["step"], one["stands"]) for one in versions]
    assert told == [
        (1, "typed", 2, True),
        (2, "edited", 3, True),
        (3, "dropped", 4, False),
        (4, "undone", 4, True),
    ]
    assert versions[3]["why"] == "taken back: dropped: installed 4 soffit panels, north eave"
    shown = used("history", "--entry", "2", *AT)[1]
    assert "(said: used three sheets of soffit panel)" in " ".join(shown.split())
    assert used("bin", "--entry", "2", "--back", "1", *AT)[0] == 0
    assert "installed: 3 soffit panels" in used("entries", *AT)[1]
    assert used("bin", "--entry", "2", *AT)[0] == 2


def test_a_line_of_the_catalog_is_told_and_one_that_was_dropped_too(used: Say) -> None:
    used("catalog", "set", "fascia", "cost=14.90", *AT)
    used("catalog", "set", "fascia", "cost=15.20", *AT)
    used("catalog", "drop", "fascia", *AT)
    used("undo", *AT)
    shown = used("history", "--item", "Fascia", *AT)[1]
    assert "fascia; cost 14.90, now 15.20" in " ".join(shown.split())
    lines = json.loads(used("history", "--item", "fascia", "--json", *AT)[1])
    assert [one["how"] for one in lines] == ["decided", "decided", "decided", "taken back"]
    assert [one["what"] for one in lines[2:]] == ["dropped fascia", "added fascia"]
    status, _, complaint = used("history", "--item", "gravel bags", *AT)
    assert (status, complaint.count("\n")) == (1, 1)


def test_what_a_line_was_is_told_in_plain_words(used: Say) -> None:
    used("catalog", "set", "fascia", "cost=14.90", *AT)
    used("catalog", "set", "drip edge", "said=drip edges", *AT)
    for shown in (used("bin", *AT)[1], used("history", "--item", "drip edge", *AT)[1]):
        assert "said as drip edges, drip, " in " ".join(shown.split())
        assert "spoken" not in shown
        assert "[" not in shown
    assert "fascia, cost none, price of no known day" in " ".join(used("bin", *AT)[1].split())


def test_an_entry_of_another_job_is_said_to_be_of_that(used: Say) -> None:
    used("new", "Heron Lane", *AT)
    other = ("--book", AT[AT.index("--book") + 1], "--job", "Heron Lane")
    for words in (("history", "--entry", "2", *other), ("drop", "2", *other)):
        assert "entry 2 is of another job: " in used(*words)[2]


def test_the_history_says_when_a_step_was_taken_back(used: Say) -> None:
    used("undo", *AT)
    [_, step] = json.loads(used("history", "--json", *AT)[1])
    assert [(turn["who"], turn["undone"]) for turn in step["turns"]] == [("you", True)]


def test_only_one_thing_is_told_of_at_a_time(used: Say) -> None:
    status, _, complaint = used("history", "--entry", "1", "--item", "fascia", *AT)
    assert status == 2
    assert "one of --entry, --photo, --recording and --item" in complaint


def test_a_drawing_is_not_written_over_what_is_something_else(used: Say) -> None:
    mine, drawn = Path("mine.svg"), ("cuts", "--from", "pieces.csv", "--stock", "12 ft", "--html")
    Path("pieces.csv").write_text("length,pieces\n40 in,3\n")
    mine.write_text("my own words, longer than a line that begins a page")
    status, _, complaint = used(*drawn, "mine.svg")
    assert (status, "something else is there already" in complaint) == (1, True)
    assert mine.read_text().startswith("my own words")
    assert used(*drawn, "cuts.html")[0] == 0
    assert used(*drawn, "cuts.html")[0] == 0
