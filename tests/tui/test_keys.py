"""Every screen shows all its keys, a key means one thing, and the page of keys knows them all."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from evening import SIZE, screen_text

from joblog_tui.app import ReviewApp
from joblog_tui.help import HelpScreen, page, parts_for
from joblog_tui.rates import RatesScreen
from joblog_tui.widgets.keybar import KeyBar

EVERYWHERE = ["g go", "/ search", "s square up", "u undo", "r redo", "? keys", "q done"]
WAYS = {
    "questions": ([], ["1-9 answer", "a keep", "d drop", "e edit", "w other words", "l later"]),
    "days": (["escape"], ["enter open the day", "n next question", *EVERYWHERE]),
    "day": (
        ["escape", "enter"],
        ["enter open", "n next question", "w write one in", "esc back", *EVERYWHERE],
    ),
    "entry": (
        ["escape", "enter", "enter"],
        ["d drop", "m move", "x split", "j join", "t tie photos", "h what it was", *EVERYWHERE],
    ),
    "go": (["g"], ["enter go there", "esc back", "? keys", "q done"]),
    "square up": (
        ["s"],
        [
            "→ next page",
            "← page before",
            "enter entries behind the line",
            "c close the job",
            "esc back",
            "g go",
            "/ search",
            "u undo",
        ],
    ),
    "behind a line": (["s", "enter"], ["esc back", *EVERYWHERE]),
    "rates": (["g", "r"], ["esc back", *EVERYWHERE]),
    "in the way of closing": (
        ["s", "c"],
        ["enter entries behind the line", "c close it anyway", "esc back"],
    ),
    "help": (["question_mark"], ["space more", "esc back"]),
    "catalog": (
        ["g", "i"],
        ["enter change it", "f find", "+ add one", "d drop it", "esc back", *EVERYWHERE],
    ),
    "looking in the catalog": (["g", "i", "f"], ["enter to the list", "esc back"]),
    "a line of the catalog": (
        ["g", "i", "enter"],
        ["enter save", "↑ ↓ other field", "^u empty the line", "esc leave it as it was"],
    ),
    "a question": (["g", "i", "d"], ["y yes", "n no"]),
    "what to add": (["g", "i", "plus"], ["esc neither"]),
    "plan": (["g", "p"], ["enter entries behind the line", "esc back", *EVERYWHERE]),
    "gallery": (
        ["g", "v"],
        ["p play", "v photo", "V in your viewer", "y where it was", "t tie", "esc back"],
    ),
    "photo": (
        ["g", "v", "enter"],
        ["→ next photo", "enter all of its day", "V in your viewer", "t tie", "esc back"],
    ),
    "entries of a photo": (["g", "v", "t"], ["enter tie or untie", "esc back", *EVERYWHERE]),
    "jobs": (["g", "j"], ["enter turn to it", "+ new job", "esc back", *EVERYWHERE]),
    "the bin": (["g", "h", "b"], ["tab this job or all", "esc back", *EVERYWHERE]),
    "what an entry was": (
        ["escape", "enter", "enter", "h"],
        ["enter back to the entry", "esc back", *EVERYWHERE],
    ),
    "search": (["slash"], ["↑ ↓ up and down", "enter open it", "tab this job or all", "esc back"]),
    "a new job": (["g", "j", "plus"], ["enter begin the job", "↑ ↓ other field", "esc leave it"]),
}


ONE_MEANING = {
    "a": {"keep", "right as it is", "accept", "keep all that nobody doubts"},
    "d": {"drop", "drop it", "done", "bring back"},
    "e": {"edit", "edit the line"},
    "g": {"go", "back"},
    "l": {"later"},
    "m": {"move"},
    "n": {"next question", "next untied", "no"},
    "o": {"sign off"},
    "p": {"play"},
    "q": {"done"},
    "r": {"redo"},
    "s": {"square up"},
    "t": {"tie photos", "tie"},
    "u": {"undo"},
    "v": {"photo"},
    "w": {"other words", "write one in", "try a sentence"},
    "question_mark": {"keys", "back"},
    "slash": {"search"},
}
"""What a key may be called: the same thing, in the words of the screen. What a key opened it closes
again."""


@pytest.mark.parametrize(("way", "keys"), WAYS.values(), ids=WAYS)
async def test_all_keys_of_a_screen_are_shown_mean_one_thing_and_are_on_the_page_of_keys(
    app: ReviewApp, way: list[str], keys: list[str]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*way)
        await pilot.pause()
        bottom = " ".join(screen_text(app).splitlines()[-3:])
        assert [key for key in keys if key not in bottom] == []
        assert _meaning_otherwise(app) == []
        assert _not_on_the_page(app) == []


def _meaning_otherwise(app: ReviewApp) -> list[tuple[str, str]]:
    return [(key, what) for key, what in _keys(app) if what not in ONE_MEANING.get(key, {what})]


def _not_on_the_page(app: ReviewApp) -> list[str]:
    if app.screen.is_modal or "question_mark" not in app.screen.active_bindings:
        return []  # There everything is said beside the keys.
    known = page(parts_for(type(app.screen).__name__)).plain.split()
    shown = (bar for bar, _ in _displayed(app))
    return [key for key in shown if not {key, *key.split()} & set(known)]


def _keys(app: ReviewApp) -> Iterator[tuple[str, str]]:
    for key, active in app.screen.active_bindings.items():
        if active.binding.show and active.binding.description:
            yield key, active.binding.description


def _displayed(app: ReviewApp) -> Iterator[tuple[str, str]]:
    for active in app.screen.active_bindings.values():
        if active.binding.show and active.binding.description:
            yield app.get_key_display(active.binding), active.binding.description


async def test_the_page_of_keys_begins_with_those_of_the_screen_before(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "question_mark")
        await pilot.pause()
        assert screen_text(app).splitlines()[0].strip() == "square up"
        await pilot.press("space", "space")
        await pilot.pause()
        assert isinstance(app.screen, HelpScreen)
        await pilot.press("question_mark")
        await pilot.pause()
        assert not isinstance(app.screen, HelpScreen)


async def test_q_ends_the_review(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("q")
        await pilot.pause()
        assert not app.is_running


async def test_keys_typed_after_q_open_nothing(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.simulate_key("q")
        app.simulate_key("s")
        app.simulate_key("g")
        await pilot.pause()
        assert not app.is_running


async def test_the_keys_of_a_screen_stay_while_another_is_being_set_up(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        bar = app.screen.query_one(KeyBar)
        before = bar.render()
        app.push_screen(RatesScreen(app._desk))
        assert bar.render() == before
        await pilot.pause()
