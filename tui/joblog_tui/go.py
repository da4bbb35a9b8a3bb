"""All places of the review, one letter each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.events import Key
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.service.desk import Desk
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import FAINT


@dataclass(frozen=True, slots=True)
class Destination:
    """A screen that can be gone to, by its letter."""

    key: str
    name: str
    about: str
    screen: str
    """Module and class. Loaded when it is gone to: some stand on libraries that start slowly."""

    def opened(self, desk: Desk) -> Screen[None]:
        module, name = self.screen.split(":")
        made: Any = getattr(import_module(f"joblog_tui.{module}"), name)
        screen: Screen[None] = made(desk)
        return screen

    def is_of(self, screen: Screen[Any]) -> bool:
        kind = type(screen)
        return f"{kind.__module__}:{kind.__qualname__}" == f"joblog_tui.{self.screen}"


PLACES = (
    Destination("d", "days", "what was said, day by day", "days:DaysScreen"),
    Destination("n", "questions", "what waits for you, dearest first", "questions:QuestionsScreen"),
    Destination("v", "photos", "all of them, small, by day", "gallery:GalleryScreen"),
    Destination("t", "to do", "to do, to buy, open problems", "errands:ErrandsScreen"),
    Destination("x", "extras", "work to charge, money spent, miles", "extras:ExtrasScreen"),
    Destination("o", "house", "its sides, drawn, to be measured", "house:HouseScreen"),
    Destination("p", "plan", "planned, and gone of it so far", "plan:PlanScreen"),
    Destination("b", "bid", "what it will cost, and what to ask for it", "bid:BidScreen"),
    Destination("e", "earned", "all jobs: earned, by season, crew", "over_jobs:OverJobsScreen"),
    Destination("k", "stock", "what lies in the shop and on jobs", "stock:StockScreen"),
    Destination("c", "cut list", "what to cut from which stick", "cuts:CutsScreen"),
    Destination("s", "squared up", "planned against actual, and why", "squareup:SquareUpScreen"),
    Destination("r", "rates", "what closed jobs teach the next bid", "rates:RatesScreen"),
    Destination(
        "i", "items and tasks", "the catalog: what you buy and do", "catalog:CatalogScreen"
    ),
    Destination("w", "papers", "day sheets, job book, close-out, as PDF", "papers:PapersScreen"),
    Destination("/", "search", "everything ever said, in all jobs", "search:SearchScreen"),
    Destination("j", "jobs", "turn to another one, begin a new one", "jobs:JobsScreen"),
    Destination(
        "h", "history", "every step, what was taken back, the bin", "history:HistoryScreen"
    ),
    Destination("y", "backup", "keep the book safe elsewhere", "backup:BackupScreen"),
)


def place_of(screens: Iterable[Screen[Any]]) -> Destination | None:
    """The place that a stack of screens, the one in sight last, is at."""
    for screen in reversed(tuple(screens)):
        for place in PLACES:
            if place.is_of(screen):
                return place
    return None


class GoScreen(ClosedOnce[Destination]):
    """Closes with the place that was chosen."""

    DEFAULT_CSS = """
    GoScreen {
        #head { background: $panel; padding: 0 1; height: 1; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape,g", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, here: Destination | None) -> None:
        super().__init__()
        self._here = here

    def compose(self) -> ComposeResult:
        yield Static("Go where?", id="head", markup=False)
        yield Lines("go there")
        yield KeyBar()

    def on_mount(self) -> None:
        lines = self.query_one(Lines)
        lines.fill(Option(_line(place, place == self._here), place.key) for place in PLACES)
        lines.choose(self._here.key if self._here else PLACES[0].key)

    def on_resize(self) -> None:
        # On a small screen the places come first.
        room, bar = self.size.height - len(PLACES), self.query_one(KeyBar)
        keys = bar.get_content_height(self.size, self.size, self.size.width - 2)
        bar.display = room >= keys
        self.query_one("#head").display = room > keys

    def on_key(self, key: Key) -> None:
        for place in PLACES:
            if key.character == place.key:
                key.stop()
                key.prevent_default()
                self.dismiss(place)

    def on_option_list_option_selected(self, selected: OptionList.OptionSelected) -> None:
        self.dismiss(next(place for place in PLACES if place.key == selected.option.id))


def _line(place: Destination, here: bool) -> Content:
    about = "you are here" if here else place.about
    return Content.assemble(
        (place.key, "bold $accent"),
        (f"  {place.name:<18}", "bold" if here else ""),
        (about, "bold" if here else FAINT),
    )
