"""All closed jobs beside their bids: what they earned over the time, by season, crew and house."""

from __future__ import annotations

from collections.abc import Iterator

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.model import JobGroup, JobResult, OverJobs
from joblog.report import over_jobs as told
from joblog.service import ServiceError, opened
from joblog.service.desk import Desk
from joblog.service.over_jobs import compared
from joblog.service.places import Place
from joblog.service.record import changed_since
from joblog_tui.columns import in_columns
from joblog_tui.plots import over_time
from joblog_tui.plotted import PlottedScreen
from joblog_tui.polled import read_on_change
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.headed_list import HeadedList, Row
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.plot import PlotView
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DOUBT, FAINT, counted

HOW_TO_START = """\
Close a job that had a bid, and it stands here: square up, then c."""

_COLUMNS = ("earned", "earned_an_hour", "hours_over", "wasted_share")
_HEADS = ("earned", "an hour", "hours", "wasted")


class OverJobsScreen(PlottedScreen[None]):
    DEFAULT_CSS = """
    OverJobsScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 3; }
        HeadedList { height: 40%; min-height: 6; }
        Sheet { height: 5; border-top: solid $panel; }
        PlotView { height: 1fr; }
        &.-short HeadedList { height: 6; min-height: 6; }
        &.-short Sheet { height: 3; }
    }
    """
    AUTO_FOCUS = ""
    BINDINGS = [  # noqa: RUF012
        Binding("p", "plotted", "other plot"),
    ]

    class Read(Message):
        """The jobs were read, away from the keyboard; or why they were not."""

        def __init__(self, found: OverJobs | None, trouble: str = "") -> None:
            super().__init__()
            self.found = found
            self.trouble = trouble

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._found = OverJobs()
        self._known = False
        self._plotted = 0
        # Which of the figures that are plotted.

    def compose(self) -> ComposeResult:
        yield Static("reading the closed jobs …", id="head", markup=False)
        yield HeadedList("larger")
        yield Sheet()
        yield PlotView()
        yield KeyBar()

    def on_mount(self) -> None:
        read_on_change(self, self._desk, self.read_anew)

    def on_screen_resume(self) -> None:
        self.read_anew()

    # --- what is shown ------------------------------------------------------------------------

    def read_anew(self) -> None:
        # What was written until here is read now; what comes while it is read comes after.
        changed_since(self._desk)
        self._read()

    @work(thread=True, exclusive=True)
    def _read(self) -> None:
        # A book of its own, away from the keyboard: there may be many jobs.
        try:
            with opened(Place(self._desk.book.folder)) as book:
                self.post_message(self.Read(compared(book)))
        except (ServiceError, OSError) as trouble:
            self.post_message(self.Read(None, str(trouble)))

    def on_over_jobs_screen_read(self, read: Read) -> None:
        if read.found is None:
            told_of = f"The jobs cannot be compared: {plain(read.trouble)}"
            self.query_one("#head", Static).update(Content.styled(told_of, DOUBT))
            return
        self._found = read.found
        self._known = True
        with trouble_shown(self):
            self._lay_out()

    def on_resize(self) -> None:
        if self._known:
            self._lay_out()

    def _lay_out(self) -> None:
        self.query_one("#head", Static).update(head(self._found))
        listed = self.query_one(HeadedList)
        before = listed.chosen_id
        listed.show(rows(self._found, self.app.size.width - 3))
        listed.choose(before)
        if self._found.results and self.focused is None and not self.has_class("-large"):
            self.query_one(Lines).focus()
        self._show()

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        if self._known:
            self._show()

    def _show(self) -> None:
        name = told.PLOTTED[self._plotted]
        chosen = self.query_one(HeadedList).chosen_id
        if not self._found.results:
            self.query_one(PlotView).plot = None
            self.query_one(Sheet).show(Content(HOW_TO_START))
        else:
            marked = members(self._found, chosen)
            course = told.course_of(self._found, name)
            plot = over_time(course, marked)
            self.query_one(PlotView).plot = plot
            caption = f"{told.NAMES[name]}: {plot.caption}"
            self.query_one(Sheet).show(meaning(self._found, chosen, course, caption))
        self.refresh_bindings()

    # --- keys ---------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "step":
            return self.has_class("-large")
        if action == "plotted":
            return bool(self._found.results)
        return action != "turn" or self.query_one(Sheet).longer

    def action_plotted(self) -> None:
        self._plotted = (self._plotted + 1) % len(told.PLOTTED)
        self._show()

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()


def head(found: OverJobs) -> Content:
    """How many jobs are compared, and how many are left out."""
    jobs = counted(len(found.results), "closed job") if found.results else "no closed job yet"
    parts = [Content.assemble(("what the jobs earned", "bold"), f": {jobs}")]
    if found.left_out:
        left = f"{counted(len(found.left_out), 'job')} not among them"
        parts.append(Content.styled(left, DOUBT))
    return Content("\n").join(parts)


def rows(found: OverJobs, width: int) -> list[Row]:
    """All together, the groups, then job by job, the latest first."""
    made: list[Row] = []
    for by, title in (("all", "together"), *told.BY.items()):
        groups = [group for group in found.groups if group.by == by]
        names = [plain(group.name) for group in groups]
        cells = [(str(len(group.jobs)), *_cells(group)) for group in groups]
        heads, shown = in_columns(title, ("jobs", *_HEADS), names, cells, width)
        made += [
            Row(heads, text, f"{by} {group.name}")
            for text, group in zip(shown, groups, strict=True)
        ]
    results = tuple(reversed(found.results))
    names = [plain(one.job) for one in results]
    heads, shown = in_columns("job by job", _HEADS, names, [_of_job(one) for one in results], width)
    made += [Row(heads, text, f"job {one.job}") for text, one in zip(shown, results, strict=True)]
    return made


def _cells(group: JobGroup) -> tuple[str, ...]:
    by_name = {one.name: one for one in group.figures}
    return tuple(told.cell(by_name[name], len(group.jobs)) for name in _COLUMNS)


def _of_job(one: JobResult) -> tuple[str, ...]:
    return tuple(told.of_job(one, name) for name in _COLUMNS)


def members(found: OverJobs, chosen: str | None) -> frozenset[str]:
    """The jobs of the line under the cursor; none of the line of all of them."""
    kind, _, name = (chosen or "all").partition(" ")
    if kind == "job":
        return frozenset([name])
    groups = (one for one in found.groups if one.by == kind and one.name == name)
    return frozenset(job for group in groups for job in group.jobs if kind != "all")


def meaning(found: OverJobs, chosen: str | None, plotted: told.Course, caption: str) -> Content:
    """What the plot shows, and all there is of the line under the cursor."""
    lines = [Content.styled(caption, FAINT)]
    kind, _, name = (chosen or "all").partition(" ")
    of_job = [one for one in found.results if kind == "job" and one.job == name]
    if of_job:
        lines += _of_one(of_job[0])
    elif kind == "all":
        # The one that is drawn stands first.
        trends = dict.fromkeys((told.trend_words(plotted.trend), *told.trend_lines(found)))
        lines += [Content(plain(line)) for line in trends]
        lines += [Content.styled(plain(line), DOUBT) for line in told.left_out_lines(found)]
    else:
        groups = (one for one in found.groups if one.by == kind and one.name == name)
        lines += [Content(plain("; ".join(group.jobs))) for group in groups]
    lines += [Content.styled(plain(line), FAINT) for line in told.what_it_means(found)]
    return Content("\n").join(lines)


def _of_one(one: JobResult) -> Iterator[Content]:
    names = ("charged", "cost", "earned_a_foot", "material_over", "unexplained_share", "extras",
             "expenses", "miles")  # fmt: skip
    crew = told.crew_cell(one)
    parts = [f"{told.NAMES[name]} {told.of_job(one, name)}" for name in names]
    yield Content(plain(f"{one.house}, {one.season}, crew {crew}: {', '.join(parts)}"))
    for line in told.unknown_lines([one]):
        yield Content.styled(plain(line), DOUBT)
