"""Photos drawn in the terminal."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, SIZE, screen_text, until
from PIL import Image
from textual.pilot import Pilot

from joblog.book import Book, decisions, keep
from joblog.dictation import read
from joblog.model import Look, Moment, Photo, Position, Vocabulary
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.entry import EntryScreen
from joblog_tui.gallery import GalleryScreen
from joblog_tui.opening import no_viewer
from joblog_tui.photo import PhotoScreen

PHOTO = 6


def told(app: ReviewApp) -> str:
    """What stands in the corner of the screen, unbroken."""
    return "\n".join(one.message for one in app._notifications)


async def settled(app: ReviewApp, pilot: Pilot[Any]) -> None:
    await app.workers.wait_for_complete()
    await pilot.pause()


async def test_a_tied_photo_is_drawn_beside_its_entry(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.push_screen(EntryScreen(open_desk(book, JOB), PHOTO))
        await pilot.pause()
        await settled(app, pilot)
        assert "▀▀▀▀▀▀▀▀▀▀▀▀" in screen_text(app)


async def test_the_reason_of_the_tie_stands_under_it(app: ReviewApp, book: Book) -> None:
    [tie] = book.ties(JOB)
    async with app.run_test(size=SIZE) as pilot:
        assert tie.reason in await large(app, pilot)


async def test_from_a_large_photo_enter_leads_to_all_of_its_day(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await large(app, pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, GalleryScreen)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PhotoScreen)
        await pilot.press("enter")
        await pilot.pause()
        # It goes back there instead of opening one upon the other.
        assert [type(screen) for screen in app.screen_stack].count(GalleryScreen) == 1


async def test_a_photo_opens_larger_with_a_key(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        assert isinstance(app.screen, PhotoScreen)
        assert "eave.jpg  7:30 AM by EXIF with offset  1 of 1" in screen_text(app)
        assert "▀" in screen_text(app)


async def large(app: ReviewApp, pilot: Pilot[Any]) -> str:
    """What stands there once the photo has been opened large."""
    await pilot.press("v")
    await pilot.pause()
    await settled(app, pilot)
    return screen_text(app)


async def test_a_damaged_photo_gives_a_plain_line(app: ReviewApp, book: Book) -> None:
    [photo] = book.photos(JOB, MONDAY)
    book.media(photo.sha256).write_bytes(b"\xff\xd8 torn")
    async with app.run_test(size=SIZE) as pilot:
        shown = await large(app, pilot)
    assert "This photo is not a JPEG, PNG, TIFF, HEIC or AVIF picture" in shown
    assert photo.sha256 not in shown


async def test_a_missing_photo_gives_a_plain_line(app: ReviewApp, book: Book) -> None:
    [photo] = book.photos(JOB, MONDAY)
    book.media(photo.sha256).unlink()
    async with app.run_test(size=SIZE) as pilot:
        shown = await large(app, pilot)
    assert "This photo is gone from the book's folder; joblog check says what is missing" in shown


async def test_a_huge_photo_says_where_it_can_be_looked_at(app: ReviewApp, book: Book) -> None:
    [photo] = book.photos(JOB, MONDAY)
    Image.new("1", (12_000, 9_000)).save(book.media(photo.sha256), "PNG")
    async with app.run_test(size=SIZE) as pilot:
        shown = " ".join((await large(app, pilot)).split())
    assert "This photo with 108 megapixels is too large to be drawn here (over 90)" in shown
    assert "V in your viewer" in shown


async def test_the_original_is_opened_as_a_copy_in_a_program_outside(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []

    def shows(path: Path) -> str:
        opened.append(path)
        return ""

    monkeypatch.setattr("joblog_tui.evidence.open_outside", shows)
    [photo] = book.photos(JOB, MONDAY)
    async with app.run_test(size=SIZE) as pilot:
        await large(app, pilot)
        await pilot.press("V")
        await until(pilot, lambda: bool(opened))
    [copy] = opened
    assert copy.read_bytes() == book.media(photo.sha256).read_bytes()
    assert copy != book.media(photo.sha256) and copy.parent == book.store / "incoming"


async def test_where_no_program_shows_it_the_screen_says_so(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    why = "there is no screen that a picture viewer could show it on"
    monkeypatch.setattr("joblog_tui.evidence.open_outside", lambda path: why)
    async with app.run_test(size=(140, 45)) as pilot:
        await large(app, pilot)
        await pilot.press("V")
        await until(pilot, lambda: f"eave.jpg is not shown: {why}" in told(app))


async def test_a_missing_original_is_not_opened(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog_tui.evidence.open_outside", pytest.fail)
    [photo] = book.photos(JOB, MONDAY)
    book.media(photo.sha256).unlink()
    async with app.run_test(size=(140, 45)) as pilot:
        await large(app, pilot)
        await pilot.press("V")
        await pilot.pause()
        assert "eave.jpg: this photo is gone" in told(app)


@pytest.mark.parametrize(
    ("platform", "environment", "why"),
    [
        ("linux", {"SSH_CONNECTION": "10.0.0.2 50000 10.0.0.1 22"}, "over ssh, and there is no"),
        ("linux", {}, "there is no screen"),
        ("linux", {"DISPLAY": ":0"}, "xdg-open is missing"),
        ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, "xdg-open is missing"),
        ("darwin", {}, "open is missing"),
    ],
)
def test_why_there_is_no_viewer(
    platform: str, environment: dict[str, str], why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog_tui.opening.which", lambda name: None)
    assert why in no_viewer(platform, environment)


def test_where_there_may_be_one_nothing_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("joblog_tui.opening.which", lambda name: f"/usr/bin/{name}")
    assert no_viewer("linux", {"DISPLAY": ":0"}) == ""
    assert no_viewer("darwin", {}) == ""
    assert no_viewer("win32", {}) == ""


async def test_the_place_of_a_photo_is_copied_and_shown(
    app: ReviewApp, book: Book, tmp_path: Path
) -> None:
    [eave] = book.photos(JOB, MONDAY)
    path = tmp_path / "placed.png"
    Image.new("RGB", (64, 48), (9, 9, 9)).save(path)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    at = Moment(eave.taken.at + timedelta(minutes=4), "EXIF with offset")
    keep.keep_photo(
        book, JOB, path, Photo(sha256, path.name, at, 64, 48, Position(41.5241234, -70.6712349))
    )
    async with app.run_test(size=(140, 45)) as pilot:
        await large(app, pilot)
        await pilot.press("y")
        await pilot.pause()
        assert app.clipboard == "41.524123, -70.671235"
        nearest = "it has no place of its own; nearest is photo placed.png, 4 min later"
        assert nearest in screen_text(app)
        await pilot.press("right")
        assert "41.524123" not in screen_text(app)
        await pilot.press("y")
        await pilot.pause()
        assert "41.524123, -70.671235  copied; by its camera" in screen_text(app)


async def test_where_nothing_is_known_of_a_place_that_is_said(app: ReviewApp) -> None:
    async with app.run_test(size=(140, 45)) as pilot:
        await large(app, pilot)
        await pilot.press("y")
        await pilot.pause()
        assert "no photo and no track of this day says where it was" in told(app)
        assert app.clipboard == ""


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


async def test_what_was_spoken_of_without_a_photo_is_called_out(book: Book) -> None:
    said = "covered the flashing at the dormer"
    reading = read(said, Vocabulary(places=("dormer",)))
    at = datetime.combine(MONDAY, time(20), UTC)
    decisions.add_typed(book, JOB, reading, said, at)
    app = ReviewApp(open_desk(book, JOB), MONDAY)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        shown = screen_text(app)
    assert "1 lacks its photo: take it now" in shown
    [line] = [line for line in shown.splitlines() if "flashing" in line and "covered" in line][:1]
    assert "[no photo]" in line
