"""The question what a planned name is in the catalog, asked once, over whatever is in sight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.binding import Binding
from textual.events import Key

from joblog.form import plain
from joblog.service.desk import Desk
from joblog.service.naming import settle_name, unsettled_names
from joblog_tui.choose import ChooseScreen
from joblog_tui.guard import Guard
from joblog_tui.trouble import trouble_shown

if TYPE_CHECKING:
    from textual.screen import Screen

    from joblog.service.naming import Unsure


def ask_names(screen: Screen[object], desk: Desk) -> None:
    """Asks for the first planned name that may be one of the catalog's, then for the next; none
    where there is none. One that is left stays open, and is asked when the review is next begun."""
    with trouble_shown(screen):
        asked = unsettled_names(desk)
        if asked:
            _ask(screen, desk, asked[0])


def _ask(screen: Screen[object], desk: Desk, one: Unsure) -> None:
    def settle(chosen: int | None) -> None:
        if chosen is None:
            return
        with trouble_shown(screen):
            item = one.likely[chosen].name if chosen < len(one.likely) else None
            for line in settle_name(desk, one.name, item):
                screen.notify(plain(line), timeout=12, markup=False)
            if unsettled_names(desk):
                # Words over the answers of the next question would hide the last of them.
                ask_names(screen, desk)
                return
            became = "a thing of its own" if item is None else item
            screen.notify(plain(f"{one.name}: {became} from now on; u takes it back."))

    screen.app.push_screen(NameScreen(one), settle)


class NameScreen(ChooseScreen):
    """Closes with the place of the item among the likely ones; the one after them is for none."""

    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it open", key_display="esc"),
    ]

    def __init__(self, one: Unsure) -> None:
        answers = [plain(item.name) for item in one.likely]
        super().__init__(
            f"The plan says {plain(one.name)}. Which of your catalog is it? Until it is said, it "
            "learns nothing from other jobs.",
            [*answers, "none of these; it is a thing of its own"],
        )
        self._guard = Guard(self, [str(digit) for digit in range(1, 10)])

    def on_mount(self) -> None:
        self._guard.renew()

    def takes(self, key: Key) -> bool:
        return self._guard.takes(key)
