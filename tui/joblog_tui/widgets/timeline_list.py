"""A day as a time line: one line for each thing that was, in the order in which it was."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from textual.content import Content
from textual.widgets.option_list import Option

from joblog.form import amount, describe, plain
from joblog.service.timeline import Mark, Timeline, What
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DOUBT, FAINT, clock, clock_column, day_name, entry_line, in_doubt


class TimelineList(Lines):
    DEFAULT_CSS = """
    TimelineList { height: 1fr; min-height: 6; }
    """

    def __init__(self, zone: str) -> None:
        super().__init__("open")
        self._zone = zone
        self._marks: dict[str, Mark] = {}

    def show(self, day: Timeline, choose: str | None = None) -> None:
        """Shows a day with the cursor on the line `choose`, else on the one where it was."""
        chosen = choose or self.chosen
        self._marks = {name_of(mark): mark for mark in day.marks}
        self.fill(Option(line_of(mark, self._zone), name) for name, mark in self._marks.items())
        if chosen is not None:
            self.choose(chosen)

    @property
    def mark(self) -> Mark | None:
        """What the line under the cursor tells of."""
        chosen = self.chosen
        return None if chosen is None else self._marks.get(chosen)


def name_of(mark: Mark) -> str:
    """What a line is known by; the same as long as it is about the same."""
    if mark.entry is not None:
        return f"{mark.what} {mark.entry.id}"
    if mark.recording is not None:
        return f"recording {mark.recording.sha256}"
    if mark.photos:
        return f"photos {mark.photos[0].sha256}"
    return f"{mark.what} {mark.at.timestamp()} {mark.gap.text if mark.gap else ''}"


def line_of(mark: Mark, zone: str) -> Content:
    """One line of the day."""
    return _LINES[mark.what](mark, zone)


def lasting(time: timedelta) -> str:
    """Such as "13 s", "2 min", "2 h 30 min"."""
    seconds = round(time.total_seconds())
    if seconds < 60:
        return f"{seconds} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    return " ".join(filter(None, (f"{hours} h" if hours else "", f"{minutes} min" * bool(minutes))))


def _at(mark: Mark, zone: str, sign: str = " ") -> tuple[Content, Content]:
    style = f"bold {DOUBT}" if sign == "?" else FAINT
    return Content.styled(f"{sign} ", style), Content.styled(
        f"{clock_column(mark.at, zone)}  ", FAINT
    )


def _entry(mark: Mark, zone: str) -> Content:
    assert mark.entry is not None
    return entry_line(mark.entry, zone, len(mark.photos), unanswered=mark.unanswered)


def _work(mark: Mark, zone: str) -> Content:
    assert mark.hours is not None
    hours = mark.hours
    if hours.crew_hours is None:
        lacks = "a start" if hours.started is None else "a stop"
        return Content.assemble(*_at(mark, zone, "?"), in_doubt(f"at work, but {lacks} is missing"))
    until = f" to {clock(mark.until, zone)}" if mark.until else ""
    pause = f", break {amount(hours.break_minutes)} min" if hours.break_minutes else ""
    worked = f"{amount(hours.crew_hours)} man-hours"
    return Content.assemble(*_at(mark, zone), f"at work{until}{pause}: {worked}")


def _recording(mark: Mark, zone: str) -> Content:
    assert mark.recording is not None
    length = lasting(timedelta(seconds=mark.recording.seconds))
    trouble = f"  {plain(mark.recording.trouble)}" if mark.recording.trouble else ""
    return Content.assemble(
        *_at(mark, zone, "?" if trouble else " "),
        (f"recording, {length}  {plain(mark.recording.name)}", FAINT),
        (trouble, DOUBT),
    )


def _photos(mark: Mark, zone: str) -> Content:
    many = len(mark.photos)
    if many == 1:
        what = f"photo {plain(mark.photos[0].name)}"
    else:
        what = f"{many} photos, {_span(mark.at, mark.until or mark.at, zone)}"
    alone = "nothing was said of it" if many == 1 else f"nothing was said of {mark.unspoken}"
    return Content.assemble(*_at(mark, zone), what, (f"  {alone}" * bool(mark.unspoken), FAINT))


def _span(begin: datetime, end: datetime, zone: str) -> str:
    first, last = clock(begin, zone), clock(end, zone)
    return f"at {first}" if first == last else f"{first} to {last}"


def _silence(mark: Mark, zone: str) -> Content:
    assert mark.until is not None
    room = " " * len(clock_column(mark.at, zone))
    return Content.styled(f"  {room}  ... nothing for {lasting(mark.until - mark.at)} ...", FAINT)


def _due(mark: Mark, zone: str) -> Content:
    assert mark.entry is not None
    sign = "?" if mark.entry.open else " "
    return Content.assemble(
        (f"{sign} ", f"bold {DOUBT}"), ("due: ", "bold"), describe(mark.entry.entry)
    )


def _told_later(mark: Mark, zone: str) -> Content:
    assert mark.entry is not None
    told = day_name(mark.at.astimezone(ZoneInfo(zone)).date())
    sign = "?" if mark.entry.open else " "
    return Content.assemble(
        (f"{sign} ", f"bold {DOUBT}"), (f"told on {told}: ", FAINT), describe(mark.entry.entry)
    )


def _missing(mark: Mark, zone: str) -> Content:
    assert mark.gap is not None
    return Content.assemble(("? ", f"bold {DOUBT}"), in_doubt(mark.gap.text))


_LINES: dict[What, Callable[[Mark, str], Content]] = {
    "due": _due,
    "work": _work,
    "recording": _recording,
    "entry": _entry,
    "photos": _photos,
    "silence": _silence,
    "told later": _told_later,
    "missing": _missing,
}
