"""Random keys in the review, with another program writing meanwhile, and a watch over the book.

What a person has accepted may change only where a key was pressed that says so on the screen it was
pressed on. Whatever is pressed, nothing that was ever written may be gone.
"""

from __future__ import annotations

import asyncio
import random
from collections import Counter
from collections.abc import Collection, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from string import ascii_lowercase, digits
from traceback import format_exception
from typing import Any
from unittest.mock import patch

from textual.events import Key
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.widgets import Input

from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog.service import open_desk
from joblog_tui import guard
from joblog_tui.app import ReviewApp
from joblog_tui.correct import CorrectScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.go import PLACES, GoScreen
from joblog_tui.widgets.words_line import WordsLine
from tests.tui.evening import JOB, SIZE, ZONE, asked

MOVING = (
    "up", "down", "left", "right", "pageup", "pagedown", "home", "end", "tab", "shift+tab",
    "enter", "escape", "space", "backspace", "delete", "ctrl+u", "ctrl+a", "ctrl+w", "ctrl+k",
    "question_mark", "slash", "full_stop", "plus", "f1", "f2", "ctrl+p", "ctrl+z", "ctrl+down",
    "ctrl+left", "A",
)  # fmt: skip
LEAVING = ("q", "ctrl+q", "ctrl+c")
KEYS = (*MOVING, *ascii_lowercase.replace("q", ""), *digits)
WORDS = ("used 3 sticks of fascia", "north eave 12 inches", "two sheets cracked", "6 hours", "[b]")
"""Sometimes typed whole, since random letters hardly ever read as anything."""

CHANGING: dict[str, Collection[str]] = {
    "EntryScreen": ("a", "d"),
    "SplitScreen": ("enter",),
    "MergeScreen": ("enter",),
    "MoveScreen": ("enter",),
    "ChooseScreen": ("enter", *digits),
    "TypeScreen": ("enter",),
    "NewEntryScreen": ("enter",),
    "FillInScreen": ("enter",),
    "ErrandsScreen": ("d",),
}
"""Keys that change what was accepted because that is what they say on their screen; beside `u` and
`r` everywhere, words that were changed on the corrector, and a field that is written in."""

Written = frozenset[tuple[object, ...]]


@dataclass(slots=True)
class Evening:
    """What was pressed, and what went wrong."""

    wrong: str | None = None
    trace: str = ""
    pressed: list[str] = field(default_factory=list)
    screens: Counter[str] = field(default_factory=Counter)
    """How many keys each kind of screen got."""
    keys: Counter[tuple[str, str]] = field(default_factory=Counter)
    """How often each key was pressed on each kind of screen."""


async def press_at_random(book: Book, seed: int, presses: int) -> Evening:
    """Presses keys until there were so many, or something goes wrong.

    Wrong is a fault of the screens; an accepted entry that says something else, or is accepted no
    more, after keys that do not say so; and any version or step of the history that is gone.
    """
    evening = Evening()
    try:
        with _alone(), Book.open(book.folder) as other:
            await _press(book, other, random.Random(seed), presses, evening)
    except Exception as fault:
        evening.wrong = f"{type(fault).__name__}: {fault}"
        evening.trace = "".join(format_exception(fault)[-12:])
    if evening.wrong:
        evening.wrong += f", after {', '.join(evening.pressed[-20:])}"
    return evening


@contextmanager
def _alone() -> Iterator[None]:
    """Nothing is played, nor opened outside, and no time passes for reading."""
    with ExitStack() as stack:
        stack.enter_context(patch("joblog_tui.sound.Player.play", lambda *_, **__: None))
        stack.enter_context(patch("joblog_tui.evidence.open_outside", lambda *_: ""))
        for name in ("TO_BE_READ", "HELD"):
            stack.enter_context(patch.object(guard, name, 0.0))
        yield


async def _press(
    book: Book, other: Book, dice: random.Random, presses: int, evening: Evening
) -> None:
    app = ReviewApp(open_desk(book, JOB))
    app.animation_level = "none"
    # Leaving it raises what went wrong in it.
    async with app.run_test(size=SIZE) as pilot:
        await asked(pilot)
        decided, written, may, unanswered = accepted(book), everything(book), False, False
        changes = book.written()
        for _ in range(presses):
            if dice.random() < 0.01:
                evening.pressed.append(_write_elsewhere(other, dice))
                # What others accept is watched from now on; what they change is theirs.
                decided = accepted(book)
            key, waits = a_key(app, dice, evening.keys), dice.random() < 0.8
            unanswered |= not waits
            may |= _may_change(app, key, unanswered)
            name = type(app.screen).__name__
            evening.pressed.append(f"{key} at {name}")
            evening.screens[name] += 1
            evening.keys[name, key] += 1
            if not waits:
                # Some keys come before the one before has been answered.
                app.simulate_key(key)
                continue
            await _press_and_wait(pilot, key, dice)
            if app.fault is not None:
                break
            if book.written() != changes:
                changes = book.written()
                now, history = accepted(book), everything(book)
                changed = [id for id, said in decided.items() if now.get(id) != said]
                if changed and not may:
                    evening.wrong = f"entries {changed} changed"
                    return
                if gone := written - history:
                    evening.wrong = f"lost from the history: {sorted(map(str, gone))[:3]}"
                    return
                decided, written = now, history
            may = unanswered = False


async def _press_and_wait(pilot: Pilot[None], key: str, dice: random.Random) -> None:
    """Presses a key, or types words, and comes back when all of it is answered and drawn."""
    for one in key if key in WORDS else (key,):
        named = one if len(one) > 1 or one.isalnum() else _character_to_key(one)
        pilot.app.post_message(Key(named, one if len(one) == 1 else SIGNS.get(one)))
        await _answered(pilot)
    if dice.random() < 0.02:
        # Now and then what other threads work on is waited for, too.
        await pilot.pause()


async def _answered(pilot: Pilot[None]) -> None:
    """Comes back when nothing is left to do but what waits for time to pass or for threads.

    `Pilot.pause` looks at how idle the processor is, over 20 ms at least. Here it is seen on the
    loop itself: nothing is due, and what would be drawn at the next tick was drawn.
    """
    ready: Any = asyncio.get_running_loop()
    for _ in range(LONG):
        await asyncio.sleep(0)
        screen = pilot.app.screen
        if ready._ready or pilot.app._exception_event.is_set():
            continue
        to_draw = screen._layout_required or screen._scroll_required or screen._repaint_required
        if not (to_draw or screen._dirty_widgets or screen._callbacks):
            return
        screen._on_timer_update()
    await pilot.pause()


SIGNS = {"space": " ", "question_mark": "?", "slash": "/", "full_stop": ".", "plus": "+"}
LONG = 1000
"""Turns of the loop after which something that draws itself again and again is let go on."""


def a_key(app: ReviewApp, dice: random.Random, pressed: Counter[tuple[str, str]]) -> str:
    """Mostly a key that the screen offers, those pressed less often rather, else one to move by,
    else any; in a line of words now and then words, whole. Now and then the way to another place,
    so that all of them get keys."""
    if isinstance(app.focused, Input) and dice.random() < 0.15:
        return dice.choice(WORDS)
    active, kind = app.screen.active_bindings, dice.random()
    if isinstance(app.screen, GoScreen) and kind < 0.8:
        return dice.choice(PLACES).key
    if kind < 0.03 and not isinstance(app.focused, Input):
        return "g"
    offered = [key for key in active if active[key].binding.show and key not in LEAVING]
    if offered and kind < 0.55:
        name = type(app.screen).__name__
        return dice.choices(offered, [1 / (1 + pressed[name, key]) for key in offered])[0]
    return dice.choice(MOVING if kind < 0.8 else KEYS)


def accepted(book: Book) -> dict[int, Entry]:
    """What every accepted entry says."""
    return {one.id: one.entry for one in book.entries(JOB) if one.standing == "accepted"}


def everything(book: Book) -> Written:
    """Every version of every entry, every step, and every original, whatever the job."""
    tables = {
        "entry_version": "*",
        "step": "id, at, who, what",
        "recording": "sha256",
        "photo": "sha256",
        "utterance": "*",
    }
    return frozenset(
        (table, *row.values())
        for table, columns in tables.items()
        for row in book._rows(f"SELECT {columns} FROM {table}")
    )


def _write_elsewhere(other: Book, dice: random.Random) -> str:
    """Another program adds an entry, or decides one."""
    waiting = [one.id for one in other.entries(JOB) if one.open]
    does = dice.choice(("adds", "accepts", "drops"))
    if does != "adds" and waiting:
        id = dice.choice(waiting)
        (decisions.accept if does == "accepts" else decisions.drop)(other, id)
        return f"another program {does} entry {id}"
    at = datetime(2026, 10, 7, 9, tzinfo=ZONE) + timedelta(seconds=dice.randrange(20_000))
    note = Entry("note", note=f"the dog is loose, {dice.randrange(1000)}")
    decisions.add_typed(other, JOB, Reading((note,)), "told elsewhere", at)
    return "another program adds an entry"


def _may_change(app: ReviewApp, key: str, unanswered: bool) -> bool:
    """Whether a key may change what was accepted where it is pressed; keys that the app has not
    answered yet may have changed the screen by then."""
    screen: Any = app.screen
    if unanswered:
        return key in ("d", "u", "r", "a", "enter", *digits)
    if key in ("u", "r") and not isinstance(app.focused, Input):
        return True
    if isinstance(screen, CorrectScreen):
        return key == "enter" and screen.query_one(WordsLine).value != screen.start
    if isinstance(screen, EntryScreen) and screen._row is not None:
        return key in ("enter", "tab", "shift+tab", "up", "down")
    return key in CHANGING.get(type(screen).__name__, ())
