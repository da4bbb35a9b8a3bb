"""Photos drawn in the terminal."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, SIZE, screen_text
from PIL import Image
from textual.pilot import Pilot
from textual_image import renderable
from textual_image.widget import HalfcellImage

from joblog.book import Book, decisions, keep
from joblog.dictation import read
from joblog.model import Look, Photo, Vocabulary
from joblog_tui.app import ReviewApp
from joblog_tui.photo import PhotoScreen
from joblog_tui.widgets.picture import drawing_widget
from joblog_tui.widgets.timeline_list import TimelineList

PHOTO = "entry 6"


async def settled(app: ReviewApp, pilot: Pilot[Any]) -> None:
    await app.workers.wait_for_complete()
    await pilot.pause()


async def test_a_tied_photo_is_drawn_beside_its_entry(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.screen.query_one(TimelineList).choose(PHOTO)
        await pilot.pause()
        await settled(app, pilot)
        assert "▀▀▀▀▀▀▀▀▀▀▀▀" in screen_text(app)


async def test_the_reason_of_the_tie_stands_under_it(app: ReviewApp, book: Book) -> None:
    [tie] = book.ties(JOB)
    async with app.run_test(size=SIZE) as pilot:
        app.screen.query_one(TimelineList).choose(PHOTO)
        await pilot.pause()
        await settled(app, pilot)
        assert tie.reason in screen_text(app)


async def test_a_photo_opens_larger_with_a_key(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        assert isinstance(app.screen, PhotoScreen)
        assert "eave.jpg  07:30 by EXIF with offset  1 of 1" in screen_text(app)
        assert "▀" in screen_text(app)


async def test_a_damaged_photo_gives_a_plain_line(app: ReviewApp, book: Book) -> None:
    [photo] = book.photos(JOB, MONDAY)
    book.media(photo.sha256).write_bytes(b"\xff\xd8 torn")
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        assert "This photo cannot be shown" in screen_text(app)


async def test_a_missing_photo_gives_a_plain_line(app: ReviewApp, book: Book) -> None:
    [photo] = book.photos(JOB, MONDAY)
    book.media(photo.sha256).unlink()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        assert "This photo cannot be shown" in screen_text(app)


def test_inside_tmux_photos_are_drawn_in_half_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(renderable, "Image", renderable.TGPImage)
    monkeypatch.setenv("TMUX", "socket,1,0")
    assert isinstance(drawing_widget(), HalfcellImage)


def test_a_terminal_with_graphics_of_its_own_uses_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(renderable, "Image", renderable.TGPImage)
    monkeypatch.delenv("TMUX", raising=False)
    assert not isinstance(drawing_widget(), HalfcellImage)


async def test_alike_photos_are_numbered_and_the_sharpest_comes_first(
    app: ReviewApp, book: Book, tmp_path: Path
) -> None:
    [eave] = book.photos(JOB, MONDAY)
    for name, sharpness in (("blurred.png", 10.0), ("sharp.png", 90.0)):
        path = tmp_path / name
        Image.new("RGB", (64, 48), (int(sharpness), 120, 150)).save(path)
        sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
        look = Look("0f0f3333aaaac3c3", sharpness, 0.5)
        keep.keep_photo(book, JOB, path, Photo(sha256, name, eave.taken, 64, 48, look=look))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        shown = []
        for _ in range(3):
            shown.append(screen_text(app).splitlines()[0])
            await pilot.press("right")
            await settled(app, pilot)
    heads = [" ".join(line.split()[:5]) for line in shown if "alike" in line]
    assert heads == ["sharp.png 1 of 2 alike", "blurred.png 2 of 2 alike"]


async def test_what_was_spoken_of_without_a_photo_is_called_out(app: ReviewApp, book: Book) -> None:
    said = "covered the flashing at the dormer"
    reading = read(said, Vocabulary(places=("dormer",)))
    at = datetime.combine(MONDAY, time(20), UTC)
    decisions.add_typed(book, JOB, reading, said, at)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        shown = screen_text(app)
    assert "1 lacks its photo: take it now" in shown
    [line] = [line for line in shown.splitlines() if "flashing" in line and "covered" in line][:1]
    assert "[no photo]" in line
