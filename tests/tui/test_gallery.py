"""The photos of a day as small ones: in order, marked, drawn only where they are in sight."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, SIZE, screen_text, until
from PIL import Image
from textual.geometry import Size
from textual.pilot import Pilot

from joblog.book import Book, decisions, keep
from joblog.dictation import read
from joblog.model import Look, Moment, Photo, Vocabulary
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.entries_of import EntriesOfScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.gallery import GalleryScreen, fitting
from joblog_tui.photo import PhotoScreen
from joblog_tui.widgets import thumbnails
from joblog_tui.widgets.photo_cell import PhotoCell

NOON = datetime.combine(MONDAY, time(17), UTC)
"""In the zone of the job, an hour past."""


def photograph(book: Book, folder: Path, name: str, minutes: int, look: Look | None = None) -> None:
    path = folder / name
    Image.new("RGB", (64, 48), (40 + minutes * 7 % 200, 120, 150)).save(path)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    taken = Moment(NOON + timedelta(minutes=minutes), "EXIF with offset")
    keep.keep_photo(book, JOB, path, Photo(sha256, name, taken, 64, 48, look=look))


@pytest.fixture
def pictured(book: Book, tmp_path: Path) -> Book:
    """After the morning's one photo that is tied, twenty at noon that belong to nothing."""
    for number in range(20):
        photograph(book, tmp_path, f"noon-{number:02}.png", number)
    return book


async def opened(app: ReviewApp, book: Book, pilot: Pilot[Any]) -> GalleryScreen:
    screen = GalleryScreen(open_desk(book, JOB), MONDAY)
    app.push_screen(screen)
    await until(pilot, lambda: bool(screen.query(PhotoCell)) and drawn(app))
    return screen


def drawn(app: ReviewApp) -> bool:
    """Whether nothing in sight still waits for its picture."""
    lines = screen_text(app).splitlines()
    return not any(line.split() and set(line.split()) == {"…"} for line in lines)


def under_the_cursor(app: ReviewApp) -> str:
    """The two lines about the chosen one."""
    about = app.screen.query_one("#about").render()
    return str(about)


async def test_as_many_are_shown_as_fit(app: ReviewApp, pictured: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        shown = screen_text(app)
    assert "21 photos, 20 tied to nothing  1-8 of 21" in shown
    assert shown.count("tied to nothing") == 8 and "photo: the open" in shown


async def test_at_60_columns_there_are_fewer(app: ReviewApp, pictured: Book) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(app, pictured, pilot)
        shown = screen_text(app)
    assert "1-6 of 21" in shown
    assert "▸ 7:30 AM" in shown


async def test_arrows_move_by_one_by_a_row_and_by_a_page(app: ReviewApp, pictured: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        seen = []
        for key in ("right", "down", "pagedown", "left", "up", "end", "home"):
            await pilot.press(key)
            seen.append(under_the_cursor(app).split()[0])
    assert seen == [
        "noon-00.png",
        "noon-04.png",
        "noon-12.png",
        "noon-11.png",
        "noon-07.png",
        "noon-19.png",
        "eave.jpg",
    ]


async def test_keys_past_the_ends_stay_at_the_ends(app: ReviewApp, pictured: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        await pilot.press("left", "up", "pageup")
        assert under_the_cursor(app).startswith("eave.jpg")
        await pilot.press("end", "right", "down", "pagedown")
        assert under_the_cursor(app).startswith("noon-19.png")


async def test_what_a_photo_is_tied_to_and_why_stands_below(app: ReviewApp, book: Book) -> None:
    [tie] = book.ties(JOB)
    async with app.run_test(size=(140, 45)) as pilot:
        await opened(app, book, pilot)
        assert under_the_cursor(app) == f"eave.jpg\nphoto: the open eave  {tie.reason}"


async def test_an_entry_that_lacks_its_photo_has_a_place_among_them(
    app: ReviewApp, pictured: Book
) -> None:
    said = "covered the flashing at the dormer"
    reading = read(said, Vocabulary(places=("dormer",)))
    decisions.add_typed(pictured, JOB, reading, said, NOON + timedelta(hours=3))
    async with app.run_test(size=(140, 45)) as pilot:
        await opened(app, pictured, pilot)
        shown = screen_text(app)
        assert "1 entry without a photo" in shown and "no photo was taken" in shown
        await pilot.press("end")
        below = under_the_cursor(app)
        await pilot.press("V", "t")
        assert isinstance(app.screen, GalleryScreen)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
    assert "lacks its photo: covered" in below and f"said: {said}" in below


async def test_n_goes_on_to_the_next_that_belongs_to_nothing(
    app: ReviewApp, pictured: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        await pilot.press("n")
        first = under_the_cursor(app)
        await pilot.press("end", "n")
        assert under_the_cursor(app) == first
    assert first.startswith("noon-00.png")


async def test_where_every_photo_has_its_entry_there_is_no_next(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, book, pilot)
        assert "next untied" not in screen_text(app)


async def test_alike_photos_stand_together_the_best_first(
    app: ReviewApp, book: Book, tmp_path: Path
) -> None:
    for name, minutes, sharpness in (("a.png", 0, 10.0), ("b.png", 5, 1.5), ("c.png", 9, 90.0)):
        likeness = "ffff000012345678" if name == "b.png" else "0f0f3333aaaac3c3"
        photograph(book, tmp_path, name, minutes, Look(likeness, sharpness, 0.5))
    async with app.run_test(size=(140, 45)) as pilot:
        screen = await opened(app, book, pilot)
        names = []
        for _ in range(4):
            names.append(under_the_cursor(app).splitlines()[0])
            await pilot.press("right")
        assert "1/2 tied to nothing" in screen_text(app)
        assert "2/2 tied to nothing" in screen_text(app)
    assert names == ["eave.jpg", "c.png  1 of 2 alike", "a.png  2 of 2 alike", "b.png"]
    assert screen.player.state == "silent"


async def test_enter_opens_it_large_and_back_the_cursor_is_where_one_looked_last(
    app: ReviewApp, pictured: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        await pilot.press("right", "enter")
        await pilot.pause()
        assert isinstance(app.screen, PhotoScreen)
        await pilot.press("right", "right", "escape")
        await pilot.pause()
        assert isinstance(app.screen, GalleryScreen)
        assert under_the_cursor(app).startswith("noon-02.png")


async def test_a_photo_is_tied_to_an_entry_of_its_day_and_untied_again(
    app: ReviewApp, pictured: Book
) -> None:
    async with app.run_test(size=(140, 45)) as pilot:
        await opened(app, pictured, pilot)
        await pilot.press("right", "t")
        await pilot.pause()
        assert isinstance(app.screen, EntriesOfScreen)
        assert "noon-00.png, 1:00 PM, belongs to" in screen_text(app)
        nearest = app.screen.in_sight()
        app.screen.action_turn_tie()
        await pilot.pause()
        assert "▸[x]" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert under_the_cursor(app).endswith("tied by hand")
        await pilot.press("u")
        await pilot.pause()
        assert under_the_cursor(app) == "noon-00.png\ntied to nothing"
    assert nearest is not None and nearest.entry.kind == "photo"


async def test_what_another_program_adds_is_shown_without_a_key(
    app: ReviewApp, pictured: Book, tmp_path: Path
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        with Book.open(pictured.folder) as other:
            photograph(other, tmp_path, "late.png", 120)
        await until(pilot, lambda: "22 photos" in screen_text(app))


async def test_a_photo_that_cannot_be_drawn_says_why_in_its_place(
    app: ReviewApp, pictured: Book
) -> None:
    [gone, torn] = pictured.photos(JOB, MONDAY)[1:3]
    pictured.media(gone.sha256).unlink()
    pictured.media(torn.sha256).write_bytes(b"\x89PNG torn")
    async with app.run_test(size=(140, 45)) as pilot:
        await opened(app, pictured, pilot)
        for wanted in ("this photo is gone", "this photo is damaged", "▀"):
            await until(pilot, lambda wanted=wanted: wanted in screen_text(app))


async def test_only_what_is_in_sight_is_drawn_and_the_latest_are_kept(
    app: ReviewApp, pictured: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []

    def small(path: Path, size: tuple[int, int]) -> Image.Image:
        asked.append(path)
        return Image.new("RGB", (32, 24))

    monkeypatch.setattr("joblog.service.pictures.small", small)
    monkeypatch.setattr(thumbnails, "KEPT", 10)
    async with app.run_test(size=SIZE) as pilot:
        await opened(app, pictured, pilot)
        assert len(asked) == 8
        await pilot.press("right", "left")
        assert len(asked) == 8
        await pilot.press("pagedown")
        await until(pilot, lambda: drawn(app) and len(asked) == 16)
        await pilot.press("pageup")
        await until(pilot, lambda: drawn(app) and len(asked) >= 22)


async def test_a_day_without_photos_says_so(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.push_screen(GalleryScreen(open_desk(book, JOB), MONDAY + timedelta(days=1)))
        await pilot.pause()
        await pilot.pause()
        await pilot.press("right", "enter", "n", "p", "y", "V", "end")
        assert "There are no photos here." in screen_text(app)


async def test_of_the_whole_job_every_one_says_its_day(app: ReviewApp, pictured: Book) -> None:
    async with app.run_test(size=(140, 45)) as pilot:
        app.push_screen(GalleryScreen(open_desk(pictured, JOB)))
        await until(pilot, lambda: "▸ Oct 5, 7:30 AM" in screen_text(app))


async def test_it_is_laid_out_anew_when_the_terminal_becomes_larger(
    app: ReviewApp, pictured: Book
) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(app, pictured, pilot)
        few = len(app.screen.query(PhotoCell))
        await pilot.resize_terminal(140, 45)
        await until(pilot, lambda: len(app.screen.query(PhotoCell)) > few and drawn(app))
        assert "1-21 of 21" in screen_text(app)


@pytest.mark.parametrize(
    ("count", "room", "wanted"),
    [
        (2000, (79, 18), (4, 2)),
        (2000, (59, 14), (3, 2)),
        (1, (79, 18), (1, 1)),
        (0, (9, 3), (1, 1)),
    ],
)
def test_they_are_large_where_there_are_few(
    count: int, room: tuple[int, int], wanted: tuple[int, int]
) -> None:
    assert fitting(count, Size(*room)) == wanted
