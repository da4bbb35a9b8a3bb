"""What was said is played under one key, and whatever keeps it from being heard is one line."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, SIZE, TUESDAY, screen_text, until
from textual.app import ComposeResult
from textual.binding import Binding
from textual.pilot import Pilot

from joblog.book import Book, decisions
from joblog.dictation import read
from joblog.model import BookEntry, Vocabulary
from joblog.service import Desk, open_desk
from joblog.service.sound import AFTER, AROUND, BEFORE
from joblog_tui.app import ReviewApp
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.widgets.evidence_line import EvidenceLine

PLAYS = "import sys; print('{\"playing\": 4.0}', flush=True); sys.stdin.read()"
"""A player that goes on until it is told to stop."""
ENDS = "print('{\"playing\": 4.0}')"
DIES = "raise SystemExit(9)"
NOT_HERE = 'print(\'{"trouble": "no sound here: no loudspeaker is there"}\')'

Wanted = dict[str, Any]


class EntryByEntry(EvidenceScreen):
    """A screen as plain as can be that has an entry in sight."""

    BINDINGS = [  # noqa: RUF012
        Binding("down", "next", "next"),
        Binding("escape", "app.pop_screen", "back"),
    ]

    def __init__(self, desk: Desk, entries: Sequence[BookEntry]) -> None:
        super().__init__(desk)
        self.entries = list(entries)

    def compose(self) -> ComposeResult:
        yield EvidenceLine()

    def in_sight(self) -> BookEntry | None:
        return self.entries[0]

    def action_next(self) -> None:
        del self.entries[0]


@pytest.fixture
def played(monkeypatch: pytest.MonkeyPatch) -> list[Wanted]:
    return plays(monkeypatch, PLAYS)


def plays(monkeypatch: pytest.MonkeyPatch, player: str) -> list[Wanted]:
    """This in the place of the player; what it was asked for."""
    asked: list[Wanted] = []

    def command(wanted: Any) -> list[str]:
        asked.append(json.loads(json.dumps({n: getattr(wanted, n) for n in wanted.__slots__})))
        return [sys.executable, "-c", player]

    monkeypatch.setattr("joblog.audio.playing.command", command)
    return asked


async def opened(app: ReviewApp, book: Book, pilot: Pilot[Any]) -> EntryByEntry:
    screen = EntryByEntry(open_desk(book, JOB), book.entries(JOB, MONDAY))
    app.push_screen(screen)
    await pilot.pause()
    return screen


async def test_a_key_plays_what_was_said_with_a_little_around_it(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        said = book.utterance(screen.entries[1].utterance or 0).utterance
        await pilot.press("down", "p")
        await until(pilot, lambda: "playing 0:04 to 0:09" in screen_text(app))
    [asked] = played
    assert asked["start"] == said.start - BEFORE and asked["end"] == said.end + AFTER
    assert not asked["slower"]


async def test_nothing_before_the_beginning_is_asked_for(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
    assert played[0]["start"] == 0.0


async def test_again_it_is_slower_and_the_third_time_with_the_seconds_around(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        screen.entries = screen.entries[-1:]
        said = book.utterance(screen.entries[0].utterance or 0).utterance
        shown = []
        for _ in range(4):
            await pilot.press("p")
            shown.append(screen_text(app))
    assert [asked["slower"] for asked in played] == [False, True, False, False]
    assert played[2]["start"] == said.start - AROUND and played[3] == played[0]
    assert "p again, slower" in shown[0] and "slower  p with 10 s around it" in shown[1]
    assert "with the seconds around" in shown[2]


async def test_escape_stops_it_first_and_leaves_the_screen_the_next_time(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        await pilot.press("p", "escape")
        assert app.screen is screen and screen.player.state == "silent"
        assert "playing" not in screen_text(app)
        await pilot.press("escape")
        assert app.screen is not screen


async def test_it_stops_when_another_entry_is_in_sight(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        await pilot.press("p", "down")
        await until(pilot, lambda: screen.player.state == "silent")
        await pilot.press("p")
    assert not played[1]["slower"]


async def test_it_stops_when_the_screen_is_left(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        await pilot.press("p", "question_mark")
        assert screen.player.state == "silent"


async def test_when_it_has_ended_the_line_says_what_the_key_does_next(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    plays(monkeypatch, ENDS)
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
        await until(pilot, lambda: "played 0:00 to 0:04  p again, slower" in screen_text(app))


async def test_where_there_is_no_sound_a_line_says_so(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    plays(monkeypatch, NOT_HERE)
    monkeypatch.delenv("SSH_CONNECTION", raising=False)
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
        await until(pilot, lambda: "no sound here: no loudspeaker is there" in screen_text(app))


async def test_over_ssh_it_says_where_it_would_be_heard(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    plays(monkeypatch, NOT_HERE)
    monkeypatch.setenv("SSH_CONNECTION", "10.0.0.2 50000 10.0.0.1 22")
    async with app.run_test(size=(140, 45)) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
        await until(pilot, lambda: "over ssh" in screen_text(app))


async def test_a_player_that_dies_is_told(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    plays(monkeypatch, DIES)
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
        await until(pilot, lambda: "what plays it ended with 9" in screen_text(app))


async def test_a_recording_that_is_gone_is_told(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    for recording in book.recordings(JOB):
        book.media(recording.sha256).unlink()
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
        assert "monday.wav: this recording is gone from the book's folder" in screen_text(app)
    assert played == []


async def test_of_a_typed_entry_there_is_no_sound(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    said = "note the gate sticks"
    typed = decisions.add_typed(
        book, JOB, read(said, Vocabulary()), said, datetime.combine(MONDAY, time(20), UTC)
    )
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        screen.entries = [book.entry(typed[0])]
        await pilot.press("p")
        assert "this was typed: there is no sound of it" in screen_text(app)
    assert played == []


async def test_a_recording_with_holes_is_said_to_have_them(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await opened(app, book, pilot)
        screen.entries = list(book.entries(JOB, TUESDAY))
        await pilot.press("p")
    assert played[0]["whole"] is False


async def test_what_must_pass_through_a_file_passes_through_the_folder_that_is_swept(
    app: ReviewApp, book: Book, played: list[Wanted]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        await pilot.press("p")
    assert Path(played[0]["folder"]) == book.store / "incoming"
