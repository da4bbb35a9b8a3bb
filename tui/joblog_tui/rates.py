"""What closed jobs teach: every rate with how sure it is and where it came from, and plots."""

from __future__ import annotations

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.model import OddJob
from joblog.report.learned import rate_between as span
from joblog.report.learned import rate_shown as figure
from joblog.service import ServiceError, learning
from joblog.service.desk import Desk
from joblog.service.learning import Lessons, RateLine, learn_lessons
from joblog.service.record import read_balance
from joblog_tui.columns import in_columns
from joblog_tui.plots import Plot, course, planned_against_gone
from joblog_tui.plotted import PlottedScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.headed_list import HeadedList, Row
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.plot import PlotView
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DOUBT, FAINT, counted, day_name

HOW_TO_START = """\
To learn from this job, close it: square up, then c.
To learn from earlier jobs on paper: joblog rates --add FILE, a CSV file with the \
columns job, date, item, work, gone."""

HEADS = ("jobs", "average", "between", "next job")
TITLES = {"waste": "waste", "hours": "done in an hour"}
THIS_JOB = "this job"


class RatesScreen(PlottedScreen[None]):
    DEFAULT_CSS = """
    RatesScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 9; }
        HeadedList { height: 30%; min-height: 6; }
        Sheet { height: 5; border-top: solid $panel; }
        #drawn { height: 1fr; scrollbar-size-vertical: 1; }
        &.-short HeadedList { height: 5; min-height: 5; }
        &.-short Sheet { height: 4; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("down", "step(1)", "other rate", key_display="↑ ↓"),
    ]

    class Read(Message):
        """The jobs were read and learned from, away from the keyboard; or why they were not."""

        def __init__(self, lessons: Lessons | None, trouble: str = "") -> None:
            super().__init__()
            self.lessons = lessons
            self.trouble = trouble

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._lessons: Lessons | None = None

    def compose(self) -> ComposeResult:
        yield Static("reading the closed jobs …", id="head", markup=False)
        yield HeadedList("larger")
        yield Sheet()
        with VerticalScroll(id="drawn", can_focus=False):
            yield PlotView()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        if not self.has_class("-large"):
            self.query_one(Lines).focus()
        self._learn()

    # --- what is shown ------------------------------------------------------------------------

    @work(thread=True, exclusive=True)
    def _learn(self) -> None:
        try:
            self.post_message(self.Read(learn_lessons(self._desk.book.folder, self._desk.plan)))
        except (ServiceError, OSError, ValueError) as trouble:
            self.post_message(self.Read(None, str(trouble)))

    def on_rates_screen_read(self, read: Read) -> None:
        if read.lessons is None:
            self.query_one("#head", Static).update(
                Content.styled(f"The rates cannot be learned: {plain(read.trouble)}", DOUBT)
            )
            return
        self._lessons = read.lessons
        self.query_one("#head", Static).update(head(read.lessons))
        self._lay_out()

    def on_resize(self) -> None:
        self._lay_out()

    def _lay_out(self) -> None:
        if self._lessons is not None:
            width = self.app.size.width - 2
            self.query_one(HeadedList).show(rows(self._lessons, width))
            self._show()

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def _show(self) -> None:
        with trouble_shown(self):
            line = self._chosen
            plot = self._plot(line)
            self.query_one(PlotView).plot = plot
            self.query_one(Sheet).show(meaning(line, self._lessons, plot.caption))
            self.refresh_bindings()

    def _plot(self, line: RateLine | None) -> Plot:
        if line is None or self._lessons is None or self._lessons.learned is None:
            return planned_against_gone(read_balance(self._desk))
        return course(line, learning.course_of(self._lessons.learned, line.name))

    @property
    def _chosen(self) -> RateLine | None:
        """The rate under the cursor; None for this job."""
        chosen = self.query_one(HeadedList).chosen_id
        if chosen is None or chosen == THIS_JOB or self._lessons is None:
            return None
        return self._lessons.lines[int(chosen)]

    # --- keys ---------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "step":
            return self.has_class("-large")
        drawn = self.query_one("#drawn", VerticalScroll)
        return action != "turn" or self.query_one(Sheet).longer or drawn.max_scroll_y > 0

    def action_turn(self) -> None:
        if self.query_one(Sheet).longer:
            self.query_one(Sheet).turn()
        drawn = self.query_one("#drawn", VerticalScroll)
        if drawn.scroll_offset.y >= drawn.max_scroll_y:
            drawn.scroll_home(animate=False)
        else:
            drawn.scroll_page_down(animate=False)


def head(lessons: Lessons) -> Content:
    """How many jobs teach, which are left out, and what the rates rest on."""
    jobs = f"learned from {counted(lessons.jobs, 'closed job')}"
    parts = [Content.styled(f"rates: {jobs if lessons.jobs else 'nothing learned yet'}", "bold")]
    parts += [Content.styled(plain(note), DOUBT) for note in lessons.notes]
    if not lessons.jobs:
        parts.append(Content(HOW_TO_START))
    return Content("\n").join(parts)


def rows(lessons: Lessons, width: int = 78) -> list[Row]:
    """This job first, then a line for every item and every task."""
    found = [Row(THIS_JOB, "planned against gone", THIS_JOB)]
    for kind, title in TITLES.items():
        lines = [(at, line) for at, line in enumerate(lessons.lines) if line.kind == kind]
        heads, shown = in_columns(
            title, HEADS, [_name(line) for _, line in lines], [_cells(line) for _, line in lines],
            width,
        )  # fmt: skip
        found += [Row(heads, text, str(at)) for text, (at, _) in zip(shown, lines, strict=True)]
    return found


def _name(line: RateLine) -> str:
    return f"{plain(line.name)}, {plain(line.unit)}" if line.unit else plain(line.name)


def _cells(line: RateLine) -> tuple[str, ...]:
    known = line.interval
    return (
        str(line.jobs),
        figure(line.kind, line.mean),
        "-" if known is None else span(line.kind, known.low, known.high),
        span(line.kind, line.next_job.low, line.next_job.high),
    )


def meaning(line: RateLine | None, lessons: Lessons | None, caption: str) -> Content:
    """One rate in words, with the jobs that stand out, and what the plot below shows."""
    if line is None:
        return Content.assemble(("planned against gone", "bold"), f"\n{plain(caption)}")
    what = (
        "waste, on top of what the work and its cutoffs take"
        if line.kind == "waste"
        else f"{plain(line.unit) or 'units'} done in one man-hour"
    )
    odd = [one for one in (lessons.odd if lessons else ()) if one.name == line.name]
    return Content("\n").join(
        [
            Content.assemble(
                (plain(line.name), "bold"),
                f": {figure(line.kind, line.mean)} {what}. From {plain(line.source)}.",
            ),
            Content.styled(caption, FAINT),
            *map(_odd, odd),
        ]
    )


def _odd(one: OddJob) -> Content:
    return Content.styled(
        f"{plain(one.job)}, {day_name(one.day)}: {figure(one.kind, one.value)} where "
        f"{figure(one.kind, one.usual)} is usual; it counts {one.weight:.0%}",
        DOUBT,
    )
