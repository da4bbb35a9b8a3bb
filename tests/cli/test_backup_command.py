"""joblog backup and restore on the command line, as on a machine that is new and bare."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from running import Say


@pytest.fixture
def backed_up(porch: Say) -> Say:
    Path("stick").mkdir()
    status, shown, _ = porch("backup", "stick", "--book", "book")
    assert status == 0
    assert "1 job, 1 entry" in shown
    assert "lies on the same disk as the book" in shown
    return porch


def test_a_book_comes_back_on_a_bare_machine_in_another_zone(
    backed_up: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = backed_up("entries", "--book", "book")[1]
    shutil.rmtree("book")
    home = tmp_path / "Ægir Ñandú" / "home of his"
    home.mkdir(parents=True)
    for name, value in {"HOME": home, "USERPROFILE": home, "TZ": "Asia/Tokyo"}.items():
        monkeypatch.setenv(name, str(value))
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    status, shown, complaint = backed_up("restore", "stick")
    assert (status, complaint) == (0, "")
    assert shown.startswith(f"restored to {home / 'joblog'}: the book of ")
    monkeypatch.setenv("LC_ALL", "en_US.UTF-8")
    assert backed_up("entries")[1] == said
    assert backed_up("check")[0] == 0


def test_without_a_folder_it_goes_to_the_last_one(backed_up: Say) -> None:
    assert "nothing is new since" in backed_up("backup", "--book", "book")[1]


def test_a_first_backup_asks_for_a_folder(porch: Say) -> None:
    status, _, complaint = porch("backup", "--book", "book")
    assert status == 1
    assert "no backup was made of this book yet: plug in a stick" in complaint


def test_states_are_listed(backed_up: Say) -> None:
    assert "1 job, 1 entry" in backed_up("restore", "stick", "--list")[1]
    [state] = json.loads(backed_up("restore", "stick", "--list", "--json")[1])
    assert state["counts"] == {"jobs": 1, "entries": 1, "recordings": 0, "photos": 0}
    told = json.loads(backed_up("backup", "--json", "--book", "book")[1])
    assert (told["new"], told["damaged"], told["file"]) == (False, [], state["file"])


def test_a_restore_that_is_said_again_is_done_already(backed_up: Say) -> None:
    assert backed_up("restore", "stick", "--book", "again")[0] == 0
    status, shown, _ = backed_up("restore", "stick", "--book", "again")
    assert (status, "restored already: the book in again is that of" in shown) == (0, True)


def test_a_restore_where_a_book_is_changes_nothing(backed_up: Say) -> None:
    Path("book", "works.toml").write_text("# his own")
    backed_up("backup", "--book", "book")
    Path("book", "works.toml").write_text("# his own, and newer")
    status, _, complaint = backed_up("restore", "stick", "--book", "book")
    assert status == 1
    assert "a book is here already, and stays as it is" in complaint


def test_a_damaged_photo_or_state_makes_a_complaint_and_a_status(backed_up: Say) -> None:
    for state in Path("stick/states").iterdir():
        shutil.copy(state, state.with_name("2026-10-05 12-00-00 UTC 0123456789abcdef.json"))
    status, _, complaint = backed_up("restore", "stick", "--book", "again")
    assert status == 1
    assert "this backup is damaged, and was left out" in complaint


def test_the_sheet_of_a_day_reminds_once_an_evening(
    porch: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog.service.keeping_safe.lasts", lambda folder: True)
    monkeypatch.setattr("joblog.backup.memory.EVENING", 0)
    assert "no backup yet, and 1 day of work lies here alone" in porch("day", "--book", "book")[2]
    assert "no backup" not in porch("day", "--book", "book")[2]


def test_a_backup_that_was_never_finished_says_so(backed_up: Say) -> None:
    for state in Path("stick", "states").iterdir():
        state.unlink()
    status, _, complaint = backed_up("restore", "stick", "--book", "fresh")
    assert (status, Path("fresh").exists()) == (1, False)
    assert "never finished; it holds nothing" in complaint


def test_a_file_is_no_place_for_a_backup(porch: Say) -> None:
    Path("plan.csv").touch()
    status, _, complaint = porch("backup", "plan.csv", "--book", "book")
    assert (status, "plan.csv: is a file where a folder should be" in complaint) == (1, True)
