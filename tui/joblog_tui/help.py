"""All keys and marks, those of the screen that one came from first."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import ModalScreen, Screen

from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Part:
    """Keys that belong together, and the names of the screens they work on."""

    title: str
    keys: tuple[tuple[str, str], ...]
    screens: tuple[str, ...] = ()


_EVERYWHERE = Part(
    "everywhere",
    (
        ("g", "go: every other place, one letter each"),
        ("/", "search everything that was ever said, in all jobs"),
        ("s", "square up: planned against used, hours, money, why"),
        ("u r", "undo, redo: the last step of the job, whatever it was"),
        ("enter", "open what is under the cursor"),
        ("space", "more of a text that is longer than its place"),
        ("esc", "back"),
        ("? q", "this page; done (everything is saved already)"),
        ("f2", "in the list of days: light or dark"),
    ),
)
_PARTS = (
    Part(
        "questions",
        (
            ("1-9", "that answer, and on to the next question"),
            ("a", "keep it as it is; at the end: all that nobody doubts"),
            ("A", "keep all that cost nothing if they are wrong"),
            ("d", "drop it: it does not count, but it is kept"),
            ("e", "edit it field by field"),
            ("w", "say it in other words"),
            ("l", "later: it goes to the end"),
            ("o", "sign the day off"),
        ),
        ("QuestionsScreen",),
    ),
    Part(
        "sound and photos",
        (
            ("p", "play it; again: slower; a third time: with what is around"),
            ("v", "the photo, large"),
            ("V", "its original in your own viewer"),
            ("y", "where it was said or taken, copied"),
        ),
        (
            "QuestionsScreen",
            "DayScreen",
            "EntryScreen",
            "BehindScreen",
            "PhotosOfScreen",
            "EntriesOfScreen",
            "GalleryScreen",
            "PhotoScreen",
        ),
    ),
    Part(
        "days, a day",
        (
            ("n", "the next question"),
            ("w", "write one in that you forgot to say"),
            ("o", "sign the day off: you looked at it, and it is right"),
            ("f2", "in the list of days: the light or the dark theme; it is remembered"),
        ),
        ("DaysScreen", "DayScreen"),
    ),
    Part(
        "an entry",
        (
            ("enter e", "edit the line under the cursor"),
            ("a", "right as it is"),
            ("d", "drop it, or bring it back"),
            ("w", "say it in other words"),
            ("m", "move it to another day, time or job"),
            ("x", "split it into several"),
            ("j", "join it with another"),
            ("t", "tie photos to it, or untie them"),
            ("h", "what it was, version by version; there b lets it be that again"),
        ),
        ("EntryScreen", "VersionsScreen"),
    ),
    Part(
        "photos",
        (
            ("← →", "the next and the one before; ↑ ↓ by rows"),
            ("enter", "a small one large; from a large one all of its day"),
            ("n", "the next one that belongs to no entry"),
            ("t", "tie it to an entry, or untie it"),
        ),
        ("GalleryScreen", "PhotoScreen", "EntriesOfScreen"),
    ),
    Part(
        "square up",
        (
            ("← →", "balance, money, hours, places, days, why, beside, missing"),
            ("+", "fill in the count, hours or amount that is missing"),
            ("a", "say that all of a task was done, as planned"),
            ("c", "close the job, so that the next bid learns from it"),
        ),
        ("SquareUpScreen", "InTheWayScreen"),
    ),
    Part(
        "history, the bin",
        (
            ("b", "from the history: the bin, all that counts no more; in it: bring it back"),
            ("tab", "in the bin: of this job, or of all"),
        ),
        ("HistoryScreen", "BinScreen"),
    ),
    Part("to do", (("d", "done: off the list; u brings it back"),), ("ErrandsScreen",)),
    Part(
        "items and tasks",
        (("f", "find one by its names"), ("+", "add one"), ("d", "drop it")),
        ("CatalogScreen",),
    ),
    Part(
        "papers",
        (("enter", "write it as PDF"), ("o", "to hand out, or your own; p: with positions")),
        ("PapersScreen",),
    ),
    Part(
        "bid",
        (
            ("enter", "change a number; the rest follows"),
            ("+", "add an expense, or an extra that the customer may have"),
            ("o", "the bid as the customer sees it; there w writes it as PDF"),
            ("b", "bid on the plan that the job has"),
        ),
        ("BidScreen",),
    ),
    Part(
        "house",
        (
            ("enter", "change a side, or what is in it; what the walk comes to is shown"),
            ("+", "add a side, window, door, interruption, ceiling below the line"),
            ("d", "drop it"),
            ("m", "take the house from what was said on a walk around it"),
        ),
        ("HouseScreen",),
    ),
    Part("jobs", (("enter", "turn to it"), ("+", "begin a new one")), ("JobsScreen",)),
    Part("search", (("tab", "in this job, or in all"),), ("SearchScreen",)),
    Part(
        "earned",
        (("enter", "the plot, larger"), ("p", "earned an hour, hours, or waste over the time")),
        ("OverJobsScreen",),
    ),
    Part("rates", (("enter", "the plot, larger"),), ("RatesScreen",)),
)
_MARKS = Part(
    "marks",
    (
        ("?", "waits for you; after a word: not surely heard"),
        ("✓ ×", "accepted or signed off; dropped"),
        ("↶", "a step that was taken back"),
        ("▸", "where the keys work"),
        ("*word*", "what you searched for"),
    ),
)


class HelpScreen(ModalScreen[None]):
    DEFAULT_CSS = """
    HelpScreen {
        background: $surface;
        Sheet { height: 1fr; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn", "more", key_display="space"),
        Binding("down", "scroll(1)", "scroll", show=False),
        Binding("up", "scroll(-1)", "scroll", show=False),
        Binding("escape,question_mark,enter", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, about: Screen[Any]) -> None:
        super().__init__()
        self._about = type(about).__name__

    def compose(self) -> ComposeResult:
        yield Sheet()
        yield KeyBar()

    def on_resize(self) -> None:
        # A blank stands before a line, another and the scroll bar after it.
        self.query_one(Sheet).show(page(parts_for(self._about), self.app.size.width - 3))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "turn" or self.query_one(Sheet).longer

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def action_scroll(self, way: int) -> None:
        self.query_one(Sheet).scroll_relative(y=way, animate=False)


def parts_for(screen: str) -> tuple[Part, ...]:
    """Every part; those of this screen first, then what works everywhere."""
    here = [part for part in _PARTS if screen in part.screens]
    others = [part for part in _PARTS if part not in here]
    return (*here, _EVERYWHERE, *others, _MARKS)


def page(parts: Sequence[Part], width: int = 78) -> Content:
    """All parts, no line longer than `width`."""
    lines: list[Content] = []
    for part in parts:
        lines.append(Content.styled(part.title, "bold"))
        for key, what in part.keys:
            first, *rest = textwrap.wrap(what, max(20, width - _INDENT))
            lines.append(Content.assemble((f"  {key:<{_INDENT - 2}}", "bold $accent"), first))
            lines += [Content(" " * _INDENT + more) for more in rest]
    return Content("\n").join(lines)


_INDENT = 11
