"""joblog pack and unpack on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from running import Say


@pytest.fixture(autouse=True)
def written(say: Say) -> None:
    say("new", "Corner porch", "--book", "book")
    say("write", "used three panels", "--book", "book")


def another(folder: str) -> None:
    """A book of its own: in tests new ones are copies of one."""
    from tests.packing.books import new_book

    new_book(Path(folder)).close()


def test_a_job_is_packed_and_unpacked_into_another_book(say: Say) -> None:
    status, shown, _ = say("pack", "porch", "--book", "book")
    assert status == 0
    assert shown.startswith("Corner porch: 1 entry and 0 originals in porch.jobpack")
    another("other")
    status, shown, _ = say("unpack", "porch.jobpack", "--book", "other")
    assert (status, shown) == (
        0, "Corner porch: is in this book now; 1 entry and 0 originals came\n"
    )  # fmt: skip
    assert say("entries", "--book", "other")[1] == say("entries", "--book", "book")[1]
    assert "the same; nothing was changed" in say("unpack", "porch.jobpack", "--book", "other")[1]
    say("write", "used four panels", "--book", "book")
    say("pack", "porch", "--book", "book")
    assert "goes on from what was here" in say("unpack", "porch.jobpack", "--book", "other")[1]
    say("write", "used five panels", "--book", "other")
    assert "is newer than the pack" in say("unpack", "porch.jobpack", "--book", "other")[1]


def test_unpacked_where_no_book_is_one_is_made(say: Say) -> None:
    say("pack", "porch", "--book", "book")
    assert say("unpack", "porch.jobpack", "--book", "fresh")[0] == 0
    assert say("check", "--book", "fresh")[0] == 0


def test_a_file_that_is_no_pack_makes_no_book(say: Say) -> None:
    Path("plan.csv").write_text("line,name\n", encoding="utf-8")
    status, _, complaint = say("unpack", "plan.csv", "--book", "fresh")
    assert (status, Path("fresh").exists()) == (1, False)
    assert "is no pack of a job" in complaint


def test_packed_onto_a_stick_it_is_called_as_the_job(say: Say) -> None:
    Path("stick").mkdir()
    assert say("pack", "stick", "--book", "book")[0] == 0
    assert [one.name for one in Path("stick").iterdir()] == ["Corner porch.jobpack"]


def test_a_pack_is_found_by_the_name_that_was_typed(say: Say) -> None:
    say("pack", "porch", "--book", "book")
    another("other")
    assert "is in this book now" in say("unpack", "porch", "--book", "other")[1]


def test_both_are_told_as_json(say: Say) -> None:
    packed = json.loads(say("pack", "porch", "--book", "book", "--json")[1])
    assert (packed["job"], packed["entries"]) == ("Corner porch", 1)
    another("other")
    told = say("unpack", "porch.jobpack", "--book", "other", "--as", "Porch", "--json")[1]
    assert json.loads(told)["job"] == "Porch"


def test_where_both_went_on_it_is_one_plain_line(say: Say) -> None:
    say("pack", "porch", "--book", "book")
    another("other")
    say("unpack", "porch.jobpack", "--book", "other")
    for book in ("book", "other"):
        say("write", "used four panels", "--book", book)
    say("pack", "porch", "--book", "book")
    status, _, complaint = say("unpack", "porch.jobpack", "--book", "other")
    assert status == 1
    assert complaint.count("\n") == 1
    assert "Only here: 1 decision, 1 entry" in complaint
