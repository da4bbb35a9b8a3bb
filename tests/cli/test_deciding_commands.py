"""Taking back and doing again, moving and withdrawing, from the command line."""

from __future__ import annotations

import json
from pathlib import Path

from running import Say

AT = ("--book", "book")


def kinds(say: Say, *more: str) -> list[str]:
    entries = json.loads(say("entries", "--json", *AT, *more)[1])
    return [entry["entry"]["kind"] for entry in entries if entry["standing"] != "dropped"]


def test_what_was_written_is_taken_back_and_done_again(porch: Say) -> None:
    assert kinds(porch) == ["measure"]
    assert porch("undo", *AT)[1].startswith("taken back: wrote: measure 11 7/8 in")
    assert kinds(porch) == []
    assert porch("redo", *AT)[1].startswith("done again: wrote: measure 11 7/8 in")
    assert kinds(porch) == ["measure"]


def test_the_history_says_when_who_and_what(porch: Say) -> None:
    porch("undo", *AT)
    status, shown, _ = porch("history", *AT)
    assert status == 0
    assert "taken back" in shown
    [step] = json.loads(porch("history", "--json", *AT)[1])
    assert (step["who"], step["state"]) == ("you", "undone")
    [number, when, who, *_] = porch("history", "--csv", *AT)[1].splitlines()[1].split(",")
    assert (number, len(when)) == (str(step["id"]), len("2026-10-05 14:30"))
    assert who == "you"


def test_nothing_left_to_undo_says_so(porch: Say) -> None:
    porch("undo", *AT)
    status, _, complaint = porch("undo", *AT)
    assert status == 1
    assert "there is nothing to undo" in complaint
    assert porch("undo", "--job", "Attic", *AT)[0] == 1


def test_a_photo_goes_to_the_job_it_belongs_to(porch: Say) -> None:
    demo = Path(__file__).parents[2] / "fixtures" / "demo" / "photos" / "yard.jpg"
    porch("add", str(demo), *AT)
    porch("new", "Mill house", "--zone", "America/Chicago", *AT)
    status, shown, _ = porch("move", "yard.jpg", "--to", "Mill house", "--job", "Corner porch", *AT)
    assert (status, shown) == (0, "yard.jpg: moved from Corner porch to Mill house\n")
    listed = json.loads(porch("photos", "--json", "--job", "Mill house", *AT)[1])
    assert [photo["name"] for photo in listed["photos"]] == ["yard.jpg"]


def test_a_file_that_is_not_in_the_job_is_named(porch: Say) -> None:
    status, _, complaint = porch("withdraw", "gone.wav", *AT)
    assert status == 1
    assert "Corner porch: there is no recording or photo called 'gone.wav'" in complaint


def test_a_field_of_an_entry_is_edited_by_itself(porch: Say) -> None:
    status, shown, _ = porch("edit", "1", "inches", "12 1/4", *AT)
    assert (status, shown.startswith("now: measure: 12 1/4 in")) == (0, True)
    status, _, complaint = porch("edit", "1", "inches", "a bit", *AT)
    assert (status, "'a bit' is not a length" in complaint) == (1, True)


def test_an_entry_is_split_and_its_parts_are_merged_again(porch: Say) -> None:
    porch("write", "used five sticks of fascia", *AT)
    used = json.loads(porch("entries", "--json", *AT)[1])[-1]["id"]
    status, shown, _ = porch("split", str(used), "2", *AT)
    assert status == 0
    one, other = shown.splitlines()
    assert one.startswith("now: installed: 2 sticks of fascia")
    assert other.startswith("now: installed: 3 sticks of fascia")
    status, shown, _ = porch("merge", str(used), str(used + 1), *AT)
    assert (status, shown.startswith("now: installed: 5 sticks of fascia")) == (0, True)
    status, _, complaint = porch("merge", str(used), "1", *AT)
    assert (status, "not alike" in complaint) == (1, True)


def test_a_photo_is_tied_and_untied(porch: Say) -> None:
    demo = Path(__file__).parents[2] / "fixtures" / "demo" / "photos" / "yard.jpg"
    porch("add", str(demo), *AT)
    assert porch("tie", "yard.jpg", "1", *AT)[1] == "yard.jpg: tied to entry 1\n"
    assert porch("tie", "yard.jpg", "1", "--back", *AT)[1] == "yard.jpg: untied from entry 1\n"
    status, _, complaint = porch("tie", "yard.jpg", "1", "--back", *AT)
    assert (status, "is not tied to entry 1" in complaint) == (1, True)
