"""The house of the job on a screen of its own: drawn, and written row by row."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from evening import JOB, SIZE, screen_text

from joblog.book import Book
from joblog.book.houses import house_of, keep_house
from joblog.model import Body, House, Side
from joblog_tui.app import ReviewApp
from joblog_tui.house_row import HouseRowScreen

FOOT = Fraction(12)
SHED = Body(
    "main",
    tuple(
        Side(name, feet * FOOT, height=8 * FOOT, depth=FOOT)
        for name, feet in (("front", 20), ("left", 10), ("back", 20), ("right", 10))
    ),
)


def the_house(book: Book) -> House:
    found = house_of(book, JOB)
    assert found is not None
    return found


async def test_a_job_without_a_house_says_how_to_describe_one(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o")
        await pilot.pause()
        assert "Nobody described the house yet." in screen_text(app)


async def test_every_side_stands_in_the_list_and_is_drawn(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=(140, 45)) as pilot:
        await pilot.press("escape", "g", "o", "down")
        await pilot.pause()
        text = screen_text(app)
        assert "the house, 4 sides" in text
        assert "back 20'" in text and "left 10'" in text
        assert "└─────" in text


async def test_a_side_that_is_measured_again_is_kept_and_taken_back(
    app: ReviewApp, book: Book
) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "down", "enter")
        assert isinstance(app.screen, HouseRowScreen)
        await pilot.press("down", "ctrl+u", *"21 ft")
        await pilot.pause()
        # The front is a foot longer than the back now.
        assert "does not close" in " ".join(screen_text(app).split())
        await pilot.press("enter")
        await pilot.pause()
        assert the_house(book).bodies[0].sides[0].length == 21 * FOOT
        assert " the walk does not close: front 21'" in screen_text(app)
        assert "$" not in screen_text(app) and "--sure" not in screen_text(app)
        await pilot.press("u")
        await pilot.pause()
        assert the_house(book) == House((SHED,))


async def test_what_cannot_be_read_is_said_and_nothing_is_kept(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "down", "enter", "down", "ctrl+u", *"twenty", "enter")
        await pilot.pause()
        assert isinstance(app.screen, HouseRowScreen)
        assert "twenty" in screen_text(app)
        assert the_house(book) == House((SHED,))


async def test_what_is_wrong_is_called_as_its_field_is(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "down")
        await pilot.pause()
        assert "side front: length 20', height 8'" in screen_text(app)
        assert "soffit deep 12 in" in screen_text(app)
        await pilot.press("plus", "2", "down", "3")
        await pilot.pause()
        assert "width: may be feet or inches; write 3 ft or 3 in" in screen_text(app)


async def test_a_number_beyond_reason_is_told(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "down", "enter", "down", "ctrl+u", *"4000")
        await pilot.pause()
        told = " ".join(screen_text(app).split())
        assert "is more than 400 ft, which no job has" in told
        assert "--sure" not in told


async def test_a_house_is_written_side_by_side(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "plus")
        await pilot.pause()
        assert "Begin with what?" in screen_text(app)
        await pilot.press("1")
        await pilot.press(*"front", "down", *"20 ft", "enter")
        await pilot.pause()
        assert [side.length for side in the_house(book).bodies[0].sides] == [20 * FOOT]
        assert "front" in screen_text(app)
        await pilot.press("plus", "1", *"left", "down", *"10 ft", "enter")
        await pilot.pause()
        sides = the_house(book).bodies[0].sides
        assert [(side.name, side.length) for side in sides] == [
            ("front", 20 * FOOT),
            ("left", 10 * FOOT),
        ]


async def test_a_side_is_dropped_only_when_asked_for(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "down", "d")
        await pilot.pause()
        assert "Drop front?" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert the_house(book) == House((SHED,))
        await pilot.press("y")
        await pilot.pause()
        expected = replace(SHED, sides=SHED.sides[1:])
        assert the_house(book) == House((expected,))


async def test_where_nothing_was_said_of_a_walk_the_house_stays(app: ReviewApp, book: Book) -> None:
    keep_house(book, JOB, House((SHED,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "o", "m")
        await pilot.pause()
        assert the_house(book) == House((SHED,))
