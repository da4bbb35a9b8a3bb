"""The catalog of the book: what is bought and done, to be looked up, changed, added and dropped."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import Input, OptionList, Static

from joblog.form import plain
from joblog.service.catalog import drop_line
from joblog.service.desk import Desk, read_catalog
from joblog.service.prices import beside_catalog, priced_catalog, prices_in, where_priced
from joblog_tui.ask import AskScreen
from joblog_tui.catalog_form import CatalogFormScreen
from joblog_tui.catalog_lines import CatalogLine, catalog_lines, found
from joblog_tui.choose import ChooseScreen
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.catalog_list import CatalogList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.search_line import SearchLine
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import FAINT, counted, in_doubt


class CatalogScreen(ClosedOnce[None]):
    DEFAULT_CSS = """
    CatalogScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-wrap: nowrap; }
        Sheet { height: 5; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("f", "search", "find"),
        Binding("plus", "add", "add one", key_display="+"),
        Binding("d", "drop", "drop it"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "back", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._catalog = desk.catalog
        self._lines: tuple[CatalogLine, ...] = ()
        self._said: tuple[str, ...] = ()
        # Prices that were said to be others by now.
        self._where: dict[str, str] = {}
        # Where the prices of items were said or paid.

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield SearchLine()
        yield CatalogList()
        yield Sheet()
        yield KeyBar()

    def on_mount(self) -> None:
        self.query_one(Lines).focus()

    def on_screen_resume(self) -> None:
        self._read()

    # --- what is shown ------------------------------------------------------------------------

    def _read(self) -> None:
        with trouble_shown(self):
            kept, prices = read_catalog(self._desk), prices_in(self._desk.book)
            self._catalog = priced_catalog(self._desk.book)
            self._said = beside_catalog(prices, kept)
            self._where = where_priced(prices, kept)
            self._lay_out()

    def on_resize(self) -> None:
        self._lay_out()

    def _lay_out(self) -> None:
        self._lines = catalog_lines(self._catalog, self.app.size.width - 2)
        words = self.query_one(SearchLine).value
        shown = found(self._lines, words)
        self.query_one(CatalogList).lines = shown
        self.query_one("#head", Static).update(head(self._lines, shown))
        self._show()

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def _show(self) -> None:
        chosen = self.query_one(CatalogList).chosen
        nothing = Content.styled("Nothing is called so. Esc shows the whole catalog.", FAINT)
        self.query_one(Sheet).show(self._meaning(chosen) if chosen else nothing)
        self.refresh_bindings()

    def _meaning(self, line: CatalogLine) -> Content:
        said = (plain(one) for one in self._said if one.startswith(f"{line.name}: "))
        if line.line != "item":
            return line.meaning
        notes = [in_doubt(one) for one in said]
        if not notes and line.name in self._where:
            notes = [Content.styled(plain(self._where[line.name]), FAINT)]
        return Content("\n").join([line.meaning, *notes])

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "search":
            return not self.query_one(SearchLine).has_focus
        if action == "drop":
            return self.query_one(CatalogList).chosen is not None
        return action != "turn" or self.query_one(Sheet).longer

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    # --- looking for one ----------------------------------------------------------------------

    def action_search(self) -> None:
        self.query_one(SearchLine).open()

    def on_input_changed(self, _changed: Input.Changed) -> None:
        chosen = self.query_one(CatalogList).chosen_id
        self._lay_out()
        self.query_one(CatalogList).choose(chosen)

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        self.query_one(Lines).focus()

    def action_back(self) -> None:
        search = self.query_one(SearchLine)
        if search.is_open:
            search.close()
            self.query_one(Lines).focus()
        else:
            self.dismiss()

    # --- changing -----------------------------------------------------------------------------

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        chosen = self.query_one(CatalogList).chosen
        if chosen is not None:
            self.app.push_screen(CatalogFormScreen(self._desk, chosen.line, chosen))

    def action_add(self) -> None:
        def add(chosen: int | None) -> None:
            if chosen is not None:
                self._add(("item", "task")[chosen])

        question = "Add what to the catalog?"
        self.app.push_screen(ChooseScreen(question, ("an item", "a task")), add)

    def _add(self, line: str) -> None:
        def show(added: str | None) -> None:
            if added is None:
                return
            # The new one may not be among those that were looked for.
            self.query_one(SearchLine).close()
            self._read()
            self.query_one(CatalogList).choose(added)

        self.app.push_screen(CatalogFormScreen(self._desk, line), show)

    def action_drop(self) -> None:
        chosen = self.query_one(CatalogList).chosen
        if chosen is None:
            return

        def drop(sure: bool | None) -> None:
            if sure:
                self._drop(chosen.name)

        self.app.push_screen(AskScreen(self._question(chosen)), drop)

    def _question(self, chosen: CatalogLine) -> Content:
        both = sum(line.name == chosen.name for line in self._lines) > 1
        what = "the item and the task" if both else f"the {chosen.line}"
        return Content.assemble(
            f"Drop {what} ",
            (plain(chosen.name), "bold"),
            " from the catalog? Jobs and plans that name it keep what they have.",
        )

    def _drop(self, name: str) -> None:
        with trouble_shown(self):
            drop_line(self._desk.book, name)
        self._read()


def head(every: tuple[CatalogLine, ...], shown: tuple[CatalogLine, ...]) -> Content:
    """How many items and tasks there are, and how many of them are in the list."""
    items = sum(line.line == "item" for line in every)
    some = f"  {len(shown)} of them shown" if len(shown) < len(every) else ""
    return Content.assemble(
        ("catalog", "bold"),
        f": {counted(items, 'item')}, {counted(len(every) - items, 'task')}",
        (some, FAINT),
    )
