"""A book is readable by its owner and nobody else on the computer, whatever the umask."""

import os
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.book import Book, owner, schema
from joblog.book.schema_of_owner import owner_only
from joblog.book.spool import Spool
from joblog.cli.command import main
from joblog.model import Job

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")


@pytest.fixture(params=[0o000, 0o022, 0o077], ids=oct)
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


@pytest.fixture
def old(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book as it was made before books were their owner's alone: not closed, and open to all."""
    folder = tmp_path / "old"
    with Book.create(folder) as book:
        book.add_job(Job("Porch", "UTC"))
        (book.store / "ab").mkdir(parents=True)
        (book.store / "ab/abcd.jpg").write_bytes(b"an original")
    opened_to_all(folder)
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, owner_only))
    return folder


def opened_to_all(folder: Path) -> None:
    folder.chmod(0o755)
    for path in folder.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)


def run(monkeypatch: pytest.MonkeyPatch, *words: str) -> None:
    monkeypatch.setattr(sys, "argv", ["joblog", *words])
    with pytest.raises(SystemExit, match="0"):
        main()


def modes(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder.parent).as_posix(): oct(stat.S_IMODE(path.stat().st_mode))
        for path in (folder, *folder.rglob("*"))
    }


def open_ones(folder: Path) -> list[str]:
    return [path for path, mode in modes(folder).items() if not mode.endswith("00")]


def test_all_that_a_book_makes_is_its_owners_alone(
    tmp_path: Path, umask: int, made_anew: None
) -> None:
    with Book.create(tmp_path / "book") as book:
        book.add_job(Job("Porch", "UTC"))
        with Spool(book):
            assert {"book.sqlite-wal", "book.sqlite-shm"} <= {
                path.name for path in book.folder.iterdir()
            }
            assert open_ones(book.folder) == []
    assert open_ones(book.folder) == []


def test_a_paper_that_is_named_gets_the_umask_of_who_names_it(
    tmp_path: Path, umask: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Book.create(tmp_path / "book") as book:
        book.add_job(Job("Porch", "UTC"))
    run(monkeypatch, "write", "used three panels", "--book", str(book.folder))
    paper = tmp_path / "paper.html"
    run(monkeypatch, "paper", "job", "--html", str(paper), "--book", str(book.folder))
    assert stat.S_IMODE(paper.stat().st_mode) == 0o666 & ~umask
    assert open_ones(book.folder) == []


def test_an_older_book_is_closed_to_others_and_that_is_said(
    old: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    run(monkeypatch, "jobs", "--book", str(old))
    assert open_ones(old) == []
    assert f"{old}: others on this computer could read this book" in capsys.readouterr().err


def test_one_who_opens_it_later_is_left_alone(old: Path) -> None:
    Book.open(old).close()
    opened_to_all(old)
    owner.closed.clear()
    Book.open(old).close()
    assert len(owner.open_to_others(old)) >= 3
    assert owner.closed == []


def test_other_things_in_its_folder_are_left_as_they_are(old: Path) -> None:
    (old / "tide table.txt").write_text("high at six")
    (old / "tide table.txt").chmod(0o644)
    Book.open(old).close()
    assert open_ones(old) == ["old", "old/tide table.txt"]
    assert owner.open_to_others(old) == ()


def test_what_is_running_meanwhile_is_no_other_thing(old: Path) -> None:
    (old / "running.1234.lock").touch()
    Book.open(old).close()
    assert open_ones(old) == []


def test_papers_are_there_to_be_given_away_from_a_closed_folder(old: Path) -> None:
    (old / "papers").mkdir()
    (old / "papers/day.pdf").write_bytes(b"%PDF")
    (old / "papers/day.pdf").chmod(0o644)
    Book.open(old).close()
    assert open_ones(old) == ["old/papers/day.pdf"]


def test_links_out_of_the_book_are_not_followed(old: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.jpg").write_bytes(b"another's")
    (tmp_path / "elsewhere.jpg").chmod(0o644)
    (old / "media/link.jpg").symlink_to(tmp_path / "elsewhere.jpg")
    Book.open(old).close()
    assert stat.S_IMODE((tmp_path / "elsewhere.jpg").stat().st_mode) == 0o644


def test_what_others_may_read_is_named(old: Path) -> None:
    named = {path.relative_to(old).as_posix() for path in owner.open_to_others(old)}
    assert {"book.sqlite", "media", "media/ab/abcd.jpg"} <= named
    old.chmod(0o700)
    assert owner.open_to_others(old) == ()


def test_what_is_sorted_lies_in_no_folder_that_others_share(tmp_path: Path) -> None:
    with Book.create(tmp_path / "book") as book:
        (kept_in,) = book._db.execute("PRAGMA temp_store").fetchone()
    assert kept_in == 2  # https://sqlite.org/pragma.html#pragma_temp_store: 2 is MEMORY
