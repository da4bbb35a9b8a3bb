"""Random keys in the review, and a watch over what has been decided."""

from __future__ import annotations

import random
from string import ascii_lowercase, digits

from joblog.book import Book
from joblog.model import Entry
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.correct import CorrectScreen
from joblog_tui.day import DayScreen
from joblog_tui.widgets.words_line import WordsLine
from tests.tui.evening import JOB, SIZE

MOVING = (
    "up", "down", "left", "right", "pageup", "pagedown", "home", "end", "tab", "shift+tab",
    "enter", "escape", "space", "backspace", "delete", "ctrl+u", "ctrl+a", "ctrl+w", "ctrl+k",
    "question_mark", "slash", "full_stop", "f1", "ctrl+p", "ctrl+z", "ctrl+down", "ctrl+left",
)  # fmt: skip
LEAVING = ("q", "ctrl+q", "ctrl+c")
KEYS = (*MOVING, *ascii_lowercase.replace("q", ""), *digits)
WORDS = ("used 3 sticks of fascia", "north eave 12 inches", "two sheets cracked", "6 hours", "[b]")
"""Sometimes typed whole, since random letters hardly ever read as anything."""


async def press_at_random(book: Book, seed: int, presses: int) -> str | None:
    """Presses keys until there were so many; what went wrong, with the keys before it, or None.

    Wrong is a fault of the screens, and a decided entry that says something else after keys that
    decide nothing: anything but dropping, taking back, and saving words that were typed.
    """
    last: list[str] = []
    try:
        wrong = await _press(book, random.Random(seed), presses, last)
    except Exception as fault:
        wrong = f"{type(fault).__name__}: {fault}"
    return wrong and f"{wrong}, after {', '.join(last[-20:])}"


async def _press(book: Book, dice: random.Random, presses: int, pressed: list[str]) -> str | None:
    app = ReviewApp(open_desk(book, JOB))
    # Leaving it raises what went wrong in it.
    async with app.run_test(size=SIZE) as pilot:
        decided, may_change, unanswered = decisions(book), False, False
        for _ in range(presses):
            key, waits = a_key(app, dice), dice.random() < 0.8
            unanswered |= not waits
            may_change |= _decides(app, key, unanswered)
            pressed.append(f"{key} at {type(app.screen).__name__}")
            if not waits:
                # Some keys come before the one before has been answered.
                app.simulate_key(key)
                continue
            await pilot.press(*(key if key in WORDS else (key,)))
            if app.fault is not None:
                break
            now = decisions(book)
            changed = [id for id, said in decided.items() if now.get(id) != said]
            if changed and not may_change:
                return f"entries {changed} changed"
            decided, may_change, unanswered = now, False, False
    return None


def a_key(app: ReviewApp, dice: random.Random) -> str:
    """Mostly a key that the screen offers, else one to move by, else any; in the line of words now
    and then words, whole."""
    if isinstance(app.screen, CorrectScreen) and dice.random() < 0.2:
        return dice.choice(WORDS)
    active = app.screen.active_bindings
    offered = [key for key in active if active[key].binding.show and key not in LEAVING]
    kind = dice.random()
    if offered and kind < 0.55:
        return dice.choice(offered)
    return dice.choice(MOVING if kind < 0.8 else KEYS)


def decisions(book: Book) -> dict[int, Entry]:
    """What every accepted entry says."""
    return {one.id: one.entry for one in book.entries(JOB) if one.standing == "accepted"}


def _decides(app: ReviewApp, key: str, unanswered: bool) -> bool:
    """Whether a key may change a decision where it is pressed; keys that the app has not answered
    yet may have changed the screen by then."""
    if unanswered:
        return key in ("d", "u", "enter")
    if isinstance(app.screen, CorrectScreen):
        return key == "enter" and app.screen.query_one(WordsLine).value != app.screen.start
    return isinstance(app.screen, DayScreen) and key in ("d", "u")
