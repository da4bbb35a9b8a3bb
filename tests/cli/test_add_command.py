"""Taking in says what it does from the beginning, how long it takes, and what to do next."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from running import Say

from joblog.book.intake import Intake
from joblog.book.progress import Far
from joblog.cli import counting
from joblog.cli.counting import Plainly, clock, how_long, told
from joblog.model import Problem
from joblog.service import taking_in

AT = ("--book", "book")
DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
CAME = Intake(2, 0, 0, (), (), (), stopped=False)


# --- while it goes on ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("far", "line"),
    [
        (Far("looking round"), "looking for recordings and photos"),
        (Far("copying", files=27, copied=4), "copying and comparing: 4 of 27 files"),
        (
            Far("getting ready", recordings=1, to_hear=48.2),
            "getting ready to listen: 1 new recording, 0:48 of sound",
        ),
        (
            Far("getting ready", recordings=15, to_hear=320, files=27, already=12),
            "getting ready to listen: 15 new recordings, 5:20 of sound,"
            " 12 files are in the book already",
        ),
        (
            Far("hearing", done=3, files=27, heard=65, to_hear=320),
            "listening: 1:05 of 5:20, 3 of 27 files",
        ),
        (
            Far("hearing", done=3, files=27, heard=65, to_hear=320, left=130),
            "listening: 1:05 of 5:20, 3 of 27 files, about 2 min left",
        ),
        (
            Far("photos", done=20, files=27, left=3),
            "looking at photos: 20 of 27 files, about 10 s left",
        ),
        (Far("tying"), "tying photos to what was said"),
    ],
)
def test_it_says_what_it_does_and_how_far_it_is(far: Far, line: str) -> None:
    assert told(far) == line


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0, "10 s"), (31, "40 s"), (55, "1 min"), (100, "2 min"), (3599, "1 h"), (4500, "1 h 20 min")],
)
def test_a_guess_is_no_more_exact_than_it_is(seconds: float, words: str) -> None:
    assert how_long(seconds) == words


def test_the_length_of_sound_is_as_on_a_recorder() -> None:
    assert [clock(seconds) for seconds in (7, 320, 28_800)] == ["0:07", "5:20", "8:00:00"]


def test_where_no_terminal_is_a_line_comes_for_each_step_and_tenth() -> None:
    lines: list[str] = []
    tell = Plainly(lines.append)
    tell(Far("looking round"))
    for copied in range(1, 100):
        tell(Far("copying", files=99, copied=copied))
    far = Far("hearing", files=2, to_hear=1000)
    for second in range(1001):
        tell(replace(far, heard=second))
    assert len(lines) == 1 + 1 + 11
    assert lines[-1].startswith("listening: 16:40 of 16:40")


def test_on_a_terminal_one_line_rewrites_itself(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "60")
    with counting.counting_along(True) as tell:
        assert tell is not None
        tell(Far("hearing", "漢字 \x1b[31m" + "x" * 90, files=2, heard=1, to_hear=9))
    shown = capsys.readouterr().err
    assert "\n" not in shown
    assert "\x1b" not in shown
    lines = shown.split("\r")
    assert lines[1].strip() == "opening the book"
    assert lines[2].startswith("listening: 0:01 of 0:09, 0 of 2 files 漢字")
    assert lines[-2].strip() == lines[-1] == ""


def test_what_is_printed_as_json_is_not_counted_along() -> None:
    with counting.counting_along(False) as tell:
        assert tell is None


# --- what it ends with --------------------------------------------------------------------------


def ending(porch: Say, monkeypatch: pytest.MonkeyPatch, intake: Intake) -> tuple[int, list[str]]:
    monkeypatch.setattr(taking_in, "take_in", lambda *_, **__: intake)
    status, shown, _ = porch("add", "anything", *AT)
    return status, shown.splitlines()


def test_where_nothing_waits_it_says_so(porch: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    assert ending(porch, monkeypatch, CAME) == (
        0,
        [
            "2 recordings and 0 photos taken in, 0 were there already",
            "Nothing waits for an answer. The job as it stands: joblog squareup --book book",
        ],
    )


def test_questions_that_wait_are_counted_with_what_answers_them(
    porch: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    porch("write", "used eight sheets", *AT)
    _, lines = ending(porch, monkeypatch, CAME)
    assert lines[-1] == "1 question waits: joblog review --book book"


def test_photos_that_belong_to_nothing_are_counted(porch: Say) -> None:
    _, shown, _ = porch("add", str(DEMO / "photos" / "yard.jpg"), *AT)
    assert "1 photo belongs to nothing that was said: joblog photos --book book" in shown


def test_troubles_of_a_recording_are_told(porch: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    trouble = Problem("eave.wav", "ends early")
    _, lines = ending(porch, monkeypatch, replace(CAME, troubles=(trouble,)))
    assert "eave.wav: ends early" in lines


def test_one_that_was_stopped_says_how_to_go_on(
    porch: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    status, lines = ending(porch, monkeypatch, replace(CAME, stopped=True, left=3))
    assert status == 130
    assert lines[1:] == [
        "Stopped. What is in the book stays; 3 files still to come: say the same again, and it"
        " goes on with them."
    ]


def test_going_on_says_what_is_there_and_what_is_left(porch: Say, tmp_path: Path) -> None:
    photos = sorted((DEMO / "photos").glob("*.jpg"))[:2]
    porch("add", str(photos[0]), *AT)
    _, shown, complaints = porch("add", *map(str, photos), *AT)
    assert shown.startswith("0 recordings and 1 photo taken in, 1 were there already")
    assert complaints.splitlines()[0] == "looking for recordings and photos"
    assert "looking at photos: 2 of 2 files" in complaints
