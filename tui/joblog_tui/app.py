"""The day review: `review(desk)`."""

from __future__ import annotations

from datetime import date

from textual import events
from textual.app import App
from textual.binding import Binding

from joblog.service import Desk
from joblog.service.record import read_days
from joblog_tui.day import DayScreen
from joblog_tui.days import DaysScreen
from joblog_tui.go import PLACES, GoScreen, Place, place_of
from joblog_tui.help import HelpScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.picture import drawing_widget


def review(desk: Desk, day: date | None = None) -> None:
    """Shows the review until the person is done with it.

    Raises ReviewError when a fault of the screens themselves ended it; what was decided until then
    is in the book.
    """
    app = ReviewApp(desk, day)
    app.run()
    if app.fault is not None:
        raise ReviewError(
            f"the review stopped at a fault of its own ({type(app.fault).__name__}: {app.fault}). "
            "Everything decided until then is kept: open it again."
        ) from app.fault


class ReviewError(Exception):
    """The screens failed. Its cause is what happened."""


class ReviewApp(App[None]):
    """Starts at `day`, else at the first day with a doubt, else at the list of days."""

    ENABLE_COMMAND_PALETTE = False
    BINDINGS = [  # noqa: RUF012
        Binding("g", "go", "go"),
        Binding("slash", "go_to('/')", "search", key_display="/"),
        Binding("s", "go_to('s')", "square up"),
        Binding("question_mark", "help", "keys"),
        Binding("q", "quit", "done"),
    ]

    def __init__(self, desk: Desk, day: date | None = None) -> None:
        super().__init__()
        self._desk = desk
        self._day = day
        self._leaving = False
        self.fault: Exception | None = None
        drawing_widget()

    def on_mount(self) -> None:
        self.push_screen(DaysScreen(self._desk))
        with trouble_shown(self.screen):
            doubtful = [line.day for line in read_days(self._desk) if line.doubts]
            if self._day or doubtful:
                self.push_screen(DayScreen(self._desk, self._day or doubtful[0]))

    async def on_event(self, event: events.Event) -> None:
        if not (isinstance(event, events.Key) and self._too_soon(event)):
            await super().on_event(event)

    def _too_soon(self, key: events.Key) -> bool:
        """Whether a key was pressed before what it would now act on was in sight."""
        # A key that follows q too fast must not open a screen that is on its way out.
        if self._leaving or not self.screen.is_mounted:
            return True
        guarded = getattr(self.screen, "takes", None)
        return guarded is not None and not guarded(key)

    def _handle_exception(self, error: Exception) -> None:
        # Textual would print a traceback with the value of every variable, and end as if all were
        # well; `review` says it in a line instead.
        # Once it is left, a screen that was still being set up finds its parts gone: no fault.
        if not self._leaving:
            self.fault = self.fault or error
        super()._handle_exception(error)
        self._exit_renderables.clear()

    async def action_quit(self) -> None:
        self._leaving = True
        self.exit()

    # --- from place to place ------------------------------------------------------------------

    def action_go(self) -> None:
        self.push_screen(GoScreen(place_of(self.screen_stack)), self._go_to)

    def action_go_to(self, key: str) -> None:
        self._go_to(next(place for place in PLACES if place.key == key))

    def _go_to(self, place: Place | None) -> None:
        """Opens a place over what is in sight; one that is open already is come back to."""
        if place is None:
            return
        for screen in self.screen_stack:
            if place.is_of(screen):
                screen.pop_until_active()
                return
        self.push_screen(place.opened(self._desk))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "go":
            return not isinstance(self.screen, GoScreen)
        if action == "go_to":
            here = next((place for place in PLACES if place.is_of(self.screen)), None)
            return any(place.key == parameters[0] and place != here for place in PLACES)
        return True

    def action_help(self) -> None:
        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())
