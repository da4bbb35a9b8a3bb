"""All keys and marks on one page."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from joblog_tui.widgets.keybar import KeyBar

_PAGES = (
    (
        "deciding",
        (
            ("a", "right as it is read: accept it and go to the next doubt"),
            ("1 to 9", "it was this other reading: take it and go on"),
            ("c, enter", "put the words right by hand; they are read again as you type"),
            ("d", "drop it: it does not count, but it is kept"),
            ("u", "take back the last decision"),
        ),
    ),
    (
        "moving",
        (
            ("↑ ↓", "up and down the list"),
            ("n, p", "next and previous doubt, on to other days when this one is done"),
            ("space", "more of the lower half, when it is long"),
            ("esc", "back"),
        ),
    ),
    (
        "more",
        (
            ("t", "type in something you forgot to say"),
            ("v", "the photo, large; ← → for the others of the day"),
            ("s", "square up: planned against actual; ← → for money, hours, why, extras"),
            ("enter", "in square up: the entries behind a line, with recording and photo"),
            ("c", "in square up: close the job, so that the next bid learns from it"),
            ("r", "in square up and the list of days: rates, what closed jobs teach"),
            ("i", "in the list of days: the catalog, to add to, change and drop from"),
            ("f2", "in the list of days: the light or the dark theme; it is remembered"),
            ("q", "done; everything is saved already"),
        ),
    ),
    (
        "marks",
        (
            ("▸", "where the keys work"),
            ("?", "in the list: waits for you. After a word: not surely heard"),
            ("✓ ×", "accepted, dropped"),
        ),
    ),
)


class HelpScreen(ModalScreen[None]):
    DEFAULT_CSS = """
    HelpScreen {
        background: $surface;
        VerticalScroll { padding: 0 1; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape,question_mark,enter,space", "app.pop_screen", "back", key_display="esc"),
    ]

    def compose(self) -> ComposeResult:
        with VerticalScroll():
            yield Static(_page(), markup=False)
        yield KeyBar()


def _page() -> Content:
    lines: list[Content] = []
    for title, keys in _PAGES:
        lines.append(Content.styled(title, "bold"))
        lines += [Content.assemble((f"  {key:<10}", "bold $accent"), what) for key, what in keys]
    return Content("\n").join(lines)
