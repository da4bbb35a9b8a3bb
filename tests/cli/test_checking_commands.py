"""joblog check and copy on the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from running import Say

from joblog.book.database import Database


@pytest.fixture(autouse=True)
def written(say: Say) -> None:
    say("new", "Corner porch", "--book", "book")
    say("write", "used three panels", "--book", "book")


def damage() -> None:
    db = Database("book/book.sqlite")
    db.execute("UPDATE entry SET ordinal = 7")
    db.close()


def test_a_whole_book_is_said_to_be_whole(say: Say) -> None:
    status, shown, _ = say("check", "--book", "book")
    assert (status, shown) == (0, "everything in the book is as it was written\n")


def test_every_command_on_a_job_names_what_is_damaged(say: Say) -> None:
    damage()
    for command in ("check", "squareup", "entries"):
        assert "entry 1: its line in the book is damaged" in say(command, "--book", "book")[2]
    assert say("check", "--book", "book")[0] == 1


def test_what_is_accepted_is_named_no_more(say: Say) -> None:
    damage()
    assert "entry 1: taken as it now reads" in say("check", "--accept", "--book", "book")[2]
    assert say("check", "--book", "book")[0] == 0


def test_a_book_is_copied_whole(say: Say) -> None:
    assert say("copy", "copied", "--book", "book")[0] == 0
    assert say("entries", "--book", "copied")[1] == say("entries", "--book", "book")[1]


def test_a_copy_replaces_nothing(say: Say) -> None:
    Path("copied").mkdir()
    status, _, complaint = say("copy", "copied", "--book", "book")
    assert status == 1
    assert "is there already. Nothing was changed" in complaint
