"""Showing what would be understood. Needs no book."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from running import Say

SOUNDS = Path(__file__).parents[2] / "fixtures" / "demo" / "recordings"


def test_words_are_read_without_a_book(say: Say) -> None:
    status, shown, _ = say("parse", "cut six at fourteen and a half")
    assert status == 0
    assert shown.startswith("measure: 6 pieces of 14 1/2 in\n")
    [entry] = json.loads(say("parse", "cut six at fourteen and a half", "--json")[1])["entries"]
    assert (entry["inches"], entry["pieces"]) == ("29/2", 6)


def test_what_is_doubted_or_not_read_is_said(say: Say) -> None:
    assert "doubt about entry 1" in say("parse", "used seven of something")[1]


def test_the_words_of_the_job_that_is_meant_are_known(porch: Say) -> None:
    Path("plan.csv").write_text(
        "line,name,quantity,unit,said\nitem,lookout block,40,each,lookouts\n"
    )
    porch("plan", "plan.csv", "--book", "book")
    assert "lookout block" in porch("parse", "used twelve lookouts", "--book", "book")[1]
    assert "lookout block" not in porch("parse", "used twelve lookouts")[1]


@pytest.mark.parametrize(
    "words", [("parse", "run forty one feet"), ("takeoff", "--kinds"), ("catalog",)]
)
def test_a_book_that_is_set_up_but_not_made_yet_is_no_hindrance(
    say: Say, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.setenv("JOBLOG_BOOK", "not-yet")
    assert say(*words)[0] == 0


@pytest.mark.parametrize(
    "words", [("parse", "run forty one feet"), ("catalog",), ("jobs",), ("rates",)]
)
def test_a_book_that_is_asked_for_and_missing_is_refused(say: Say, words: tuple[str, ...]) -> None:
    status, _, complaint = say(*words, "--book", "nowhere")
    assert status == 1
    assert "nowhere: there is no book here" in complaint


def test_a_recording_is_heard_without_a_book(say: Say) -> None:
    sound = min(SOUNDS.iterdir(), key=lambda file: file.stat().st_size)
    status, shown, _ = say("hear", str(sound), "--zone", "America/New_York")
    assert status == 0
    assert sound.name in shown
    assert "    = " in shown


def test_a_file_that_cannot_be_heard_is_named(say: Say) -> None:
    Path("broken.wav").write_bytes(b"RIFF....WAVE")
    status, _, complaint = say("hear", "broken.wav")
    assert status == 1
    assert complaint.startswith("broken.wav: ")


def test_help_names_every_command(say: Say) -> None:
    shown = say("--help")[1]
    for command in "demo new jobs use plan catalog takeoff order cuts add write entries".split():
        assert f"\n  {command} " in shown


def test_an_unknown_command_is_status_two(say: Say) -> None:
    assert say("dance")[0] == 2
