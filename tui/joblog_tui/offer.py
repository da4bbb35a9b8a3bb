"""A bid as its customer sees it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from joblog.form import plain
from joblog.model import Bid
from joblog.report.bid import offer_sheet
from joblog.service.bidding import offer, write_offer
from joblog.service.desk import Desk
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.sheet import Sheet


class OfferScreen(Screen[None]):
    """Raises `ServiceError`, where it is made, for a bid that lacks a price."""

    DEFAULT_CSS = """
    OfferScreen {
        #head { background: $panel; padding: 0 1; height: auto; }
        Sheet { height: 1fr; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn", "more", key_display="space"),
        Binding("w", "write", "write it as PDF"),
        Binding("escape,enter", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, bid: Bid) -> None:
        super().__init__()
        self._desk, self._bid = desk, bid
        self._by_place = len(bid.places) > 1
        self._offer = offer(bid, by_place=self._by_place)

    def compose(self) -> ComposeResult:
        yield Static("as the customer sees it", id="head", markup=False)
        yield Sheet()
        yield KeyBar()

    def on_resize(self) -> None:
        # A blank stands before a line, another and the scroll bar after it.
        text = offer_sheet(self._offer, self.app.size.width - 3)
        self.query_one(Sheet).show(Content(text))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "turn" or self.query_one(Sheet).longer

    def action_write(self) -> None:
        with trouble_shown(self):
            file = write_offer(self._desk, self._bid, by_place=self._by_place)
            head = Content.assemble(("Written: ", "bold"), plain(str(file)))
            self.query_one("#head", Static).update(head)

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()
