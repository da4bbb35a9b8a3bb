"""Writing down, and looking at what there is."""

from __future__ import annotations

import json
from pathlib import Path

from running import Say

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
AT = ("--book", "book")


def test_what_is_written_down_is_shown_as_it_was_understood(porch: Say) -> None:
    status, shown, _ = porch("write", "used three sheets of soffit", *AT)
    assert status == 0
    assert "3 soffit panels" in shown


def test_words_without_anything_to_note_are_a_failure(porch: Say) -> None:
    assert porch("write", "hm", *AT)[0] == 1


def test_entries_of_a_day_and_those_that_wait(porch: Say) -> None:
    porch("write", "used seven of something", "--at", "2026-10-06 09:00", *AT)
    assert "11 7/8 in" in porch("entries", "--day", "2026-10-05", *AT)[1]
    assert "11 7/8 in" not in porch("entries", "--day", "2026-10-06", *AT)[1]
    assert "11 7/8 in" not in porch("entries", "--doubtful", *AT)[1]
    [entry] = json.loads(porch("entries", "--day", "2026-10-05", "--json", *AT)[1])
    assert entry["entry"]["inches"] == "95/8"
    assert "11 7/8" in porch("entries", "--csv", *AT)[1]


def test_what_was_said_is_searched_in_all_jobs(porch: Say) -> None:
    assert "11 7/8 in" in porch("search", "11", "7/8", *AT)[1]
    porch("new", "Mill house", *AT)
    [found] = json.loads(porch("search", "11 7/8", "--job", "Mill house", "--json", *AT)[1])
    assert found["entry"] is not None and found["job"] != "Mill house"
    assert "nothing" in porch("search", "11 7/8", "--here", "--job", "Mill house", *AT)[1]


def test_the_last_day_is_shown_unless_one_is_named(porch: Say) -> None:
    assert "11 7/8 in" in porch("day", *AT)[1]
    assert "11 7/8 in" in porch("day", "2026-10-05", *AT)[1]
    assert "11 7/8 in" not in porch("day", "2026-10-07", *AT)[1]
    assert json.loads(porch("day", "--json", *AT)[1])["day"] == "2026-10-05"


def test_a_job_without_a_day_says_what_to_do(say: Say) -> None:
    say("new", "Corner porch", *AT)
    status, _, complaint = say("day", *AT)
    assert status == 1
    assert "nothing was said yet; add recordings first" in complaint


def test_photos_are_taken_in_and_listed(porch: Say) -> None:
    status, shown, _ = porch("add", str(DEMO / "photos"), *AT)
    taken = len(list((DEMO / "photos").iterdir()))
    assert status == 0
    assert f"0 recordings and {taken} photos taken in, 0 were there already" in shown
    listed = json.loads(porch("photos", "--json", *AT)[1])
    assert len(listed["photos"]) == taken
    assert porch("add", str(DEMO / "photos"), *AT)[1].startswith("0 recordings and 0 photos")


def test_a_recording_is_heard_kept_and_listed(porch: Say) -> None:
    sound = min((DEMO / "recordings").iterdir(), key=lambda file: file.stat().st_size)
    status, shown, _ = porch("add", str(sound), *AT)
    assert status == 0
    assert shown.startswith("1 recording and 0 photos taken in")
    assert sound.name in porch("recordings", *AT)[1]
    heard = [
        entry for entry in json.loads(porch("entries", "--json", *AT)[1]) if entry["utterance"]
    ]
    assert heard


def test_a_file_that_is_neither_is_named_and_the_rest_comes_in(porch: Say) -> None:
    Path("notes.txt").write_text("buy nails")
    status, _, complaint = porch("add", "notes.txt", *AT)
    assert status == 1
    assert "notes.txt: is neither a recording nor a photo" in complaint


def test_the_job_squared_up_and_its_tables(porch: Say) -> None:
    porch("write", "used three sheets of soffit", *AT)
    assert "soffit panel" in porch("squareup", *AT)[1]
    for table in ("balance", "quantity", "money", "labor", "pay", "places", "days", "reasons"):
        assert porch("squareup", "--table", table, *AT)[0] == 0
    assert porch("squareup", "--csv", *AT)[1].startswith("item,")
    assert json.loads(porch("squareup", "--json", *AT)[1])["stock"]


def test_the_review_without_a_terminal_is_refused_at_once(porch: Say) -> None:
    status, _, complaint = porch("review", *AT)
    assert status == 1
    assert "needs a terminal" in complaint


def test_covered_work_is_printed_with_what_it_lacks(porch: Say) -> None:
    assert "nothing was said to be covered" in porch("covered", *AT)[1]
    porch("write", "covered the flashing at the north eave", "--at", "2026-10-05 14:40", *AT)
    status, shown, _ = porch("covered", *AT)
    assert status == 0
    assert "0 of 1 can be shown as they stand" in shown
    assert "! no photo" in shown
    [work] = json.loads(porch("covered", "2026-10-05", "--json", *AT)[1])
    assert work["lacks"] == ["no photo"]
    assert porch("covered", "--csv", *AT)[1].startswith("entry,said,what,")
    assert porch("covered", "--into", "out", *AT)[1] == "out: written\n"
    assert "! no photo" in Path("out/covered.txt").read_text("utf-8")
    assert porch("covered", "--into", "out", *AT)[1] == "out: written\n"  # It is there as it is.
    Path("out/letter.txt").write_text("dear")
    assert "is there already" in porch("covered", "--into", "out", *AT)[2]
    assert porch("covered", "--originals", *AT)[0] != 0
    assert "covered work: 0 of 1 with all that shows it" in porch("squareup", *AT)[1]
    assert "spoken of, without a photo: 2 covered" in porch("day", *AT)[1]


def test_what_is_to_do_and_to_buy_is_listed(porch: Say) -> None:
    assert "nothing here yet" in porch("todo", *AT)[1]
    porch("write", "need two rolls of trim coil", *AT)
    assert "2 rolls of trim coil" in porch("todo", *AT)[1]
    assert json.loads(porch("todo", "--json", *AT)[1])["wanted"][0]["quantity"] == "2"
