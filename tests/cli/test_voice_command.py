"""joblog voice: what it shows, the card, the promise, and forgetting."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from running import Say

from joblog.dictation import SHIPPED
from joblog.service import voice as service
from joblog.voice import Voice, interval

AT = ("--book", "book")


def test_nothing_known_says_how_to_begin(porch: Say) -> None:
    status, shown, complaint = porch("voice", *AT)
    assert (status, complaint) == (0, "")
    assert shown.splitlines() == [
        "nothing of your voice is known yet: it asks as it would ask anybody",
        "promise: at most 1 in 200 wrong without a question",
        "to begin with, read two minutes aloud: joblog voice card",
    ]


def test_a_promise_is_set_shown_and_kept(porch: Say) -> None:
    assert "at most 1 in 100 wrong" in porch("voice", "--promise", "1/100", *AT)[1]
    assert "at most 1 in 100 wrong" in porch("voice", *AT)[1]
    assert json.loads(porch("voice", "--json", *AT)[1])["promise"] == "1/100"


def test_what_is_no_promise_is_refused_in_one_line(porch: Say) -> None:
    status, shown, complaint = porch("voice", "--promise", "often", *AT)
    assert (status, shown) == (1, "")
    assert complaint.startswith("Error: 'often' is no promise to keep; say how many")
    assert complaint.count("\n") == 1


def test_the_card_needs_no_book(say: Say) -> None:
    status, shown, _ = say("voice", "card")
    assert status == 0
    assert len([line for line in shown.splitlines() if line.startswith("  ")]) == 32
    assert say("voice", "card")[1] == shown
    assert list(Path().glob("*")) == [Path("home")]


def test_a_recording_that_is_not_there_is_named(porch: Say) -> None:
    status, _, complaint = porch("voice", "hear", "card.wav", *AT)
    assert status == 1
    assert "card.wav" in complaint and complaint.count("\n") == 1


def test_forgetting_says_so(porch: Say) -> None:
    assert porch("voice", "forget", *AT)[:2] == (
        0,
        "forgotten; it asks again as it would ask anybody\n",
    )
    assert porch("history", *AT)[1].count("wrote:") == 1


def test_a_promise_goes_without_a_further_command(porch: Say) -> None:
    status, _, complaint = porch("voice", "--promise", "1/100", "forget", *AT)
    assert status == 2
    assert "without a further command" in complaint


def test_without_a_book_it_says_so(say: Say) -> None:
    status, _, complaint = say("voice", *AT)
    assert status == 1
    assert "there is no book" in complaint


def test_what_is_known_is_told_with_how_many_and_how_sure(
    porch: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = Voice(
        SHIPPED,
        decisions=240,
        promise=Fraction(1, 200),
        own=0.3,
        asks=interval(34, 240),
        asked_before=interval(91, 240),
        silent=interval(1, 240),
        mixed_up=(("fifty", "fifteen", 3), ("five", "nine", 1)),
    )
    monkeypatch.setattr(service, "voice_in", lambda book: known)
    assert porch("voice", *AT)[1].splitlines() == [
        "240 decisions of yours count, the last ones",
        "asks about 14% of entries (10% to 19%); anybody else it would ask about 38% of these",
        "promise: at most 1 in 200 wrong without a question",
        "  so far 1 of 240 as far as you found (0.0% to 2.3% with 95 %): kept so far, too few to"
        " be sure",
        "  it rests on your own decisions for 30%; strangers' voices stand in for the rest",
        'heard "fifty" where you said "fifteen": 3 times',
        'heard "five" where you said "nine": once',
    ]


@pytest.mark.parametrize(
    ("found", "count", "said"),
    [
        (0, 2000, "kept"),
        (1, 400, "kept so far, too few to be sure"),
        (3, 400, "more than promised so far, too few to be sure"),
        (30, 400, "not kept"),
    ],
)
def test_whether_the_promise_holds_is_told_with_care(
    porch: Say, monkeypatch: pytest.MonkeyPatch, found: int, count: int, said: str
) -> None:
    silent = interval(found, count)
    known = Voice(SHIPPED, count, Fraction(1, 200), 1.0, silent, silent, silent, ())
    monkeypatch.setattr(service, "voice_in", lambda book: known)
    assert porch("voice", *AT)[1].splitlines()[3].endswith(f": {said}")
