"""Both themes can be read: contrasts as WCAG 2.1 asks for them, computed from what is drawn."""

from __future__ import annotations

from itertools import product

import pytest
from evening import JOB, screen_text
from rich.segment import Segment
from textual.color import Color

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui import themes
from joblog_tui.app import ReviewApp
from joblog_tui.themes import THEMES
from joblog_tui.widgets.lines import CURSOR

TEXT = 4.5
"""Contrast of text with its ground, at least: WCAG 2.1, success criterion 1.4.3 (AA)."""
SIGNS = 3.0
"""Contrast of what is no text but must be seen: WCAG 2.1, success criterion 1.4.11 (AA)."""

COLOURS = ("foreground", "foreground-muted", "accent", "success", "warning", "error")
GROUNDS = ("background", "surface", "panel", "primary-muted")
DRAWN = frozenset("▁▂▃▄▅▆▇█▏▎▍▌▋▊▉▀▐▔▕─│┌┐└┘├┤┬┴┼╶╴╷╵━┃┏┓┗┛╺╸╹╻")


def luminance(colour: Color) -> float:
    """Relative luminance (WCAG 2.1, definition of "relative luminance")."""
    red, green, blue = (
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4
        for part in (colour.r / 255, colour.g / 255, colour.b / 255)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Color, other: Color) -> float:
    """The ratio of the lighter to the darker (WCAG 2.1, definition of "contrast ratio")."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_black_on_white_is_as_far_as_it_goes() -> None:
    # WCAG 2.1: "Contrast ratios can range from 1 to 21".
    assert contrast(Color.parse("black"), Color.parse("white")) == pytest.approx(21)
    assert contrast(Color.parse("white"), Color.parse("white")) == 1


@pytest.mark.parametrize("name", THEMES)
def test_every_colour_of_text_is_readable_on_every_ground(name: str) -> None:
    made = THEMES[name].to_color_system().generate()
    low = {
        (colour, ground): ratio
        for colour, ground in product(COLOURS, GROUNDS)
        if (ratio := contrast(Color.parse(made[colour]), Color.parse(made[ground]))) < TEXT
    }
    assert low == {}


@pytest.mark.parametrize("name", THEMES)
def test_the_line_under_the_cursor_and_the_rules_stand_out(name: str) -> None:
    made = {key: Color.parse(value) for key, value in THEMES[name].to_color_system().generate()
            .items() if value.startswith("#")}  # fmt: skip
    assert contrast(made["primary-muted"], made["background"]) >= SIGNS
    assert contrast(made["border"], made["background"]) >= SIGNS
    assert contrast(made["scrollbar"], made["scrollbar-background"]) >= SIGNS


WAYS = (
    ["escape"], ["escape", "enter"], ["escape", "question_mark"], ["escape", "g"],
    ["escape", "s"], ["escape", "s", "right"], ["escape", "s", "right", "right", "right"],
    ["escape", "s", "left"], ["escape", "s", "enter"], ["escape", "s", "c"], ["escape", "slash"],
    [],
)  # fmt: skip


@pytest.mark.parametrize("name", THEMES)
@pytest.mark.parametrize("way", WAYS, ids=" ".join)
async def test_all_that_a_screen_draws_is_readable(
    app: ReviewApp, name: str, way: list[str]
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        themes.put_on(app, name)
        await pilot.press(*way)
        await pilot.pause()
        assert unreadable(app) == {}


def unreadable(app: ReviewApp) -> dict[tuple[str, str, str], float]:
    """Words that are drawn with too little contrast, with their colours and how little it is."""
    found = {}
    for strip in app.screen._compositor.render_strips():
        for text, style, _ in strip:
            words = text.strip()
            if not words or style is None or set(words) <= DRAWN | {" "}:
                continue
            colour, ground = _pair(Segment(text, style))
            if (ratio := contrast(colour, ground)) < TEXT:
                found[words, colour.hex, ground.hex] = round(ratio, 2)
    return found


def _pair(segment: Segment) -> tuple[Color, Color]:
    style = segment.style
    assert style is not None and style.color is not None and style.bgcolor is not None
    colour, ground = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
    if style.dim:
        colour = ground.blend(colour, 0.5)
    return (ground, colour) if style.reverse else (colour, ground)


async def test_the_cursor_is_a_sign_and_not_only_a_colour(app: ReviewApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape", "s")
        await pilot.pause()
        [line] = [line for line in screen_text(app).splitlines() if line.startswith(CURSOR)]
        await pilot.press("down")
        await pilot.pause()
        [below] = [line for line in screen_text(app).splitlines() if line.startswith(CURSOR)]
        assert below != line


@pytest.mark.parametrize(
    ("colours", "theme"),
    [("15;0", "dark"), ("0;15", "light"), ("0;default;7", "light"), ("12;8", "dark"), ("", "dark")],
)
def test_the_terminal_says_whether_it_is_light(colours: str, theme: str) -> None:
    assert themes.by_terminal({"COLORFGBG": colours}) == theme


def test_a_terminal_that_says_nothing_is_dark() -> None:
    assert themes.by_terminal({}) == "dark"


async def test_a_key_changes_the_theme_and_it_is_remembered(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape", "f2")
        await pilot.pause()
        assert app.theme == THEMES["light"].name
    async with ReviewApp(open_desk(book, JOB)).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert pilot.app.theme == THEMES["light"].name
