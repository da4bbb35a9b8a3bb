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
    assert status == 0
    assert shown.splitlines() == [
        "everything in the book is as it was written",
        "all of it was looked at just now, and before that: never",
    ]
    assert "before that: " in say("check", "--book", "book")[1]
    assert "never" not in say("check", "--book", "book")[1]


def test_every_command_on_a_job_names_what_is_damaged(say: Say) -> None:
    damage()
    for command in ("check", "squareup", "entries"):
        assert "entry 1: its line in the book is damaged" in say(command, "--book", "book")[2]
    assert say("check", "--book", "book")[0] == 1


def test_what_is_damaged_is_mended_from_the_backup_that_is_at_hand(say: Say) -> None:
    Path("stick").mkdir()
    say("backup", "stick", "--book", "book")
    damage()
    told = say("check", "--book", "book")[2]
    assert "It can be had again from the backup in" in told
    assert "1 of 1 can be had again: joblog check --mend" in told
    status, shown, told = say("check", "--mend", "--book", "book")
    assert "entry 1: mended from the backup in" in told
    assert (status, shown.splitlines()[0]) == (0, "everything in the book is as it was written")


def test_a_file_that_is_in_no_job_is_told_of(say: Say) -> None:
    from joblog.book import Book

    with Book.open(Path("book")) as book:
        stray = book.store / "ab" / "abc.jpg"
        stray.parent.mkdir(parents=True)
        stray.write_bytes(b"picture")
    assert "in the folder of the originals, and in no job" in say("check", "--book", "book")[2]


def test_what_is_accepted_is_named_no_more(say: Say) -> None:
    damage()
    assert "entry 1: taken as it now reads" in say("check", "--accept", "--book", "book")[2]
    assert say("check", "--book", "book")[0] == 0


def test_a_book_is_copied_whole(say: Say) -> None:
    assert say("copy", "copied", "--book", "book")[0] == 0
    assert say("entries", "--book", "copied")[1] == say("entries", "--book", "book")[1]


def test_a_copy_that_is_said_again_is_done_already(say: Say) -> None:
    assert say("copy", "copied", "--book", "book")[0] == 0
    status, shown, _ = say("copy", "copied", "--book", "book")
    assert (status, "copied already" in shown) == (0, True)
    Path("book", "works.toml").write_text("# newer")
    assert say("copy", "copied", "--book", "book")[0] == 1


def test_a_copy_replaces_nothing(say: Say) -> None:
    Path("copied").mkdir()
    status, _, complaint = say("copy", "copied", "--book", "book")
    assert status == 1
    assert "is there already. Nothing was changed" in complaint
