"""The day review: `review(desk)`."""

from __future__ import annotations

import gc
from collections.abc import Callable, Sequence
from datetime import date

from textual import events, work
from textual.app import App
from textual.binding import Binding
from textual.message import Message
from textual.worker import get_current_worker

from joblog.form import plain
from joblog.model import Step
from joblog.service import Desk, Place, ServiceError, decide
from joblog.service.places import lasts
from joblog.service.questions import questions
from joblog.service.start import begin_at
from joblog.service.words import words_known
from joblog_tui import guard, themes
from joblog_tui.days import DaysScreen
from joblog_tui.go import PLACES, Destination, GoScreen, place_of
from joblog_tui.questions import QuestionsScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.turning import back_to
from joblog_tui.widgets.picture import ask_terminal

BEGIN, REST = 10.0, 2.0
"""Seconds before the first look at a little of the book, and between two: no key waits for them."""


def review(desk: Desk, day: date | None = None, *, sure: bool = True) -> None:
    """Shows the review until the person is done with it. Where it is not `sure` that this job is
    meant, it asks first.

    Raises ReviewError when a fault of the screens themselves ended it; what was decided until then
    is in the book.
    """
    _run(ReviewApp(desk, day, sure=sure))


def begin(place: Place) -> None:
    """The same where there is no job yet: the first one is begun in the book of the place."""
    app = ReviewApp(None, place=place)
    try:
        _run(app)
    finally:
        app.close_book()


def _look_for_garbage() -> None:
    """From now on, where that was put off; not among what is loaded already."""
    if not gc.isenabled():
        gc.freeze()
        gc.set_threshold(50_000)
        gc.enable()


def _run(app: ReviewApp) -> None:
    app.run()
    if app.fault is not None:
        raise ReviewError(
            f"the review stopped at a fault of its own ({type(app.fault).__name__}: {app.fault}). "
            "Everything decided until then is kept: open it again."
        ) from app.fault


class ReviewError(Exception):
    """The screens failed. Its cause is what happened."""


class ReviewApp(App[None]):
    """Starts at `day`, else at the questions that wait, else at the list of days."""

    ENABLE_COMMAND_PALETTE = False
    # What is said stands on lines of its own above the keys, which stay in sight.
    CSS = """
    ToastRack { margin: 0 0 2 0; }
    Toast { width: 100%; max-width: 100%; margin: 0; padding: 0 1; }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("g", "go", "go"),
        Binding("slash", "go_to('/')", "search", key_display="/"),
        Binding("s", "go_to('s')", "square up"),
        Binding("u", "undo", "undo"),
        Binding("r", "redo", "redo"),
        Binding("question_mark", "help", "keys"),
        Binding("q", "quit", "done"),
    ]

    class Damaged(Message):
        """Something in the book is not as it was written."""

        def __init__(self, line: str) -> None:
            super().__init__()
            self.line = line

    class Due(Message):
        """A backup is due."""

        def __init__(self, line: str) -> None:
            super().__init__()
            self.line = line

    def __init__(
        self,
        desk: Desk | None,
        day: date | None = None,
        *,
        sure: bool = True,
        place: Place | None = None,
    ) -> None:
        super().__init__()
        self._at = desk
        self._day = day
        self._sure = sure
        self._place = place
        # Where the first job is begun; only then the book is its own, to open and to close.
        self._leaving = False
        self._turned_at = 0.0
        # When a step was last taken back or done again: a key held down does it once.
        self.fault: Exception | None = None
        ask_terminal()

    @property
    def _desk(self) -> Desk:
        assert self._at is not None
        return self._at

    def on_mount(self) -> None:
        self.call_after_refresh(_look_for_garbage)
        if self._at is None:
            themes.put_on(self)
            self._begin_first()
            return
        self.push_screen(DaysScreen(self._desk))
        if not self._sure:
            self.action_go_to("j")
            self.notify("Several jobs are open. Which one? Enter turns to it.")
            return
        with trouble_shown(self.screen):
            if self._day is not None:
                from joblog_tui.day import DayScreen

                self.push_screen(DayScreen(self._desk, self._day))
            elif questions(self._desk):
                self.push_screen(QuestionsScreen(self._desk))
        # What it takes to look is loaded while the first screen is read.
        self.call_after_refresh(self._ask_names)
        if lasts(self._desk.book.folder):
            self._look_for_backup()
            self.set_timer(BEGIN, self._look_for_damage)

    @work(thread=True)
    def _look_for_backup(self) -> None:
        # A book of its own: it may take a moment in a large one, and no key waits for it.
        from joblog.service import keeping_safe, opened

        try:
            with opened(Place(self._desk.book.folder)) as book:
                line = keeping_safe.reminder(book)
        except ServiceError:
            return  # What is wrong with the book is told where it is read.
        if line:
            self.post_message(self.Due(line))

    def on_review_app_due(self, due: Due) -> None:
        self.notify(f"{plain(due.line)} (g y)", timeout=12, markup=False)

    @work(thread=True, group="damage")
    def _look_for_damage(self) -> None:
        """A little of everything in turn, while he decides, and of it what is wrong in a line."""
        from joblog.service import checking, opened

        worker = get_current_worker()

        def tell(found: checking.Damage) -> None:
            self.post_message(self.Damaged(f"{found.what}: {found.why}"))

        try:
            with opened(Place(self._desk.book.folder)) as book:
                checking.look_on(book, tell, lambda: not worker.is_cancelled, rest=REST)
        except ServiceError:
            return  # What is wrong with the book is told where it is read.

    def on_review_app_damaged(self, damaged: Damaged) -> None:
        self.notify(
            f"{plain(damaged.line)} (joblog check)", severity="error", timeout=20, markup=False
        )

    def _ask_names(self) -> None:
        from joblog_tui.naming import ask_names

        ask_names(self.screen, self._desk)

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

    # --- taking back, and doing again ---------------------------------------------------------

    def action_undo(self) -> None:
        self._turn("took back", decide.undo)

    def action_redo(self) -> None:
        self._turn("done again", decide.redo)

    def _turn(self, called: str, way: Callable[[Desk], tuple[Step, ...]]) -> None:
        """Goes one step along the job's history, and says what it was."""
        before, self._turned_at = self._turned_at, Message().time
        if self._at is None or self._turned_at - before < guard.HELD:
            return
        with trouble_shown(self.screen):
            steps = way(self._desk)
            what = plain("; ".join(step.what for step in steps))
            self.notify(f"{called}: {what}", timeout=8, markup=False)
            turned = getattr(self.screen, "turned", None)
            if turned is not None:
                turned(steps)
            else:
                # Any other screen reads anew as it does when it is come back to.
                self.screen.post_message(events.ScreenResume())

    # --- the first job ------------------------------------------------------------------------

    def _begin_first(self) -> None:
        from joblog_tui.begin import BeginScreen

        assert self._place is not None
        words = words_known(Place(self._place.folder, asked=False))
        self.push_screen(BeginScreen(self._begin, words, first=True), self._begun)

    def _begin(self, name: str, zone: str | None, places: Sequence[str]) -> None:
        assert self._place is not None
        self._at = begin_at(self._place, name, zone, places)

    def _begun(self, name: str | None) -> None:
        if name is None:
            self.exit()
        else:
            self.push_screen(DaysScreen(self._desk))

    def close_book(self) -> None:
        """Closes the book where it was opened here."""
        if self._place is not None and self._at is not None:
            self._at.book.close()

    # --- from place to place ------------------------------------------------------------------

    def action_go(self) -> None:
        self.push_screen(GoScreen(place_of(self.screen_stack)), self._go_to)

    def action_go_to(self, key: str) -> None:
        self._go_to(next(place for place in PLACES if place.key == key))

    def _go_to(self, place: Destination | None) -> None:
        """Opens a place over what is in sight; one that is open already is come back to."""
        if place is None:
            return
        for screen in self.screen_stack:
            if place.is_of(screen):
                back_to(self, screen)
                return
        self.push_screen(place.opened(self._desk))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if self._at is None and action in ("go", "go_to", "undo", "redo"):
            return False
        if isinstance(self.screen, GoScreen):
            # There its letters are places.
            return action not in ("go", "go_to", "undo", "redo")
        if action == "go_to":
            here = next((place for place in PLACES if place.is_of(self.screen)), None)
            return any(place.key == parameters[0] and place != here for place in PLACES)
        return True

    def action_help(self) -> None:
        from joblog_tui.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))
