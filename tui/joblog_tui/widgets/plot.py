"""A plot in characters that tell its parts apart without colour."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from textual.app import RenderResult
from textual.reactive import reactive
from textual_plotext import PlotextPlot

from joblog.local import day_written
from joblog.report.learned import rate_shown as figure
from joblog.report.over_jobs import shown_as
from joblog_tui.columns import fitted
from joblog_tui.plots import Bars, Course, OverTime, Plot

LABELS = 38
"""Columns that the names beside the bars take at most."""
AXES = 3
"""Lines that the frame and the figures under it take."""


class PlotView(PlotextPlot):
    DEFAULT_CSS = """
    PlotView { height: 1fr; min-height: 7; }
    """

    plot: reactive[Plot | None] = reactive(None)

    def watch_plot(self, plot: Plot | None) -> None:
        # Every bar has a line of its own, however many there are.
        self.styles.height = len(plot.bars) + AXES if isinstance(plot, Bars) else "1fr"
        self._draw()

    def on_resize(self) -> None:
        self._draw()

    def render(self) -> RenderResult:
        return "" if self.plot is None else super().render()

    def _draw(self) -> None:
        self.plt.clear_figure()
        if isinstance(self.plot, Bars):
            _bars(self.plt, self.plot, self.size.width)
        elif isinstance(self.plot, OverTime):
            _over_time(self.plt, self.plot, self.size.width)
        elif self.plot is not None:
            _course(self.plt, self.plot, self.size.width)
        self.refresh()


def _bars(plt: Any, plot: Bars, width: int) -> None:
    count = len(plot.bars)
    end = max([1.25, *(bar.perhaps for bar in plot.bars)])
    # So many marks that none of the columns between is left empty.
    marks = max(2 * width, 40)
    for at, bar in enumerate(plot.bars):
        for low, high, marker in ((0.0, bar.sure, "█"), (bar.sure, bar.perhaps, "?")):
            if high > low:
                places = [low + (high - low) * step / marks for step in range(marks + 1)]
                if marker == "?":
                    places = [place for place in places if place > bar.sure + end / marks]
                plt.scatter(places, [count - at] * len(places), marker=marker)
    plt.vline(1.0)
    plt.xlim(0, end)
    plt.ylim(1, max(count, 2))
    plt.yticks(
        [count - at for at in range(count)], [fitted(bar.label, LABELS) for bar in plot.bars]
    )
    plt.xticks([0, 0.5, 1, *([1.5, 2] if end >= 2 else [])],
               ["0", "half", "planned", *(["", "twice"] if end >= 2 else [])])  # fmt: skip


def _course(plt: Any, plot: Course, width: int) -> None:
    days = [point.day.toordinal() for point in plot.points]
    first, last = (min(days), max(days)) if days else (0, 0)
    if first == last:
        first, last = first - 1, last + 1
    steps = [first + (last - first) * step / width for step in range(width + 1)]
    for height, marker in ((plot.low, "-"), (plot.high, "-"), (plot.mean, "=")):
        plt.scatter(steps, [height] * len(steps), marker=marker)
    for odd, marker in ((False, "o"), (True, "X")):
        shown = [point for point in plot.points if point.odd is odd]
        if shown:
            plt.scatter(
                [point.day.toordinal() for point in shown],
                [point.value for point in shown],
                marker=marker,
            )
    values = [plot.low, plot.high, *(point.value for point in plot.points)]
    plt.xlim(first, last)
    _heights(plt, values, lambda height: figure(plot.kind, height))
    _days(plt, days)


def _over_time(plt: Any, plot: OverTime, width: int) -> None:
    days = [point.day.toordinal() for point in plot.points]
    if not days:
        return
    first, last = min(days), max(days)
    if first == last:
        first, last = first - 1, last + 1
    values = [point.value for point in plot.points]
    if plot.line is not None:
        begin, end = plot.line
        values += plot.line
        shares = [step / width for step in range(width + 1)]
        plt.scatter(
            [first + (last - first) * share for share in shares],
            [begin + (end - begin) * share for share in shares],
            marker="-",
        )
    for odd, marker in ((False, "o"), (True, "X")):
        shown = [point for point in plot.points if point.odd is odd]
        if shown:
            plt.scatter(
                [point.day.toordinal() for point in shown],
                [point.value for point in shown],
                marker=marker,
            )
    plt.xlim(first, last)
    _heights(plt, values, lambda height: shown_as(plot.name, height))
    _days(plt, days)


def _heights(plt: Any, values: list[float], shown: Callable[[float], str]) -> None:
    bottom, top = min(0.0, *values), max(0.0, *values) * 1.05
    top = top if top > bottom else bottom + 1.0
    plt.ylim(bottom, top)
    heights = [bottom + (top - bottom) * step / 3 for step in range(4)]
    plt.yticks(heights, [shown(height) for height in heights])


def _days(plt: Any, days: list[int]) -> None:
    if days:
        ticks = sorted({min(days), (min(days) + max(days)) // 2, max(days)})
        plt.xticks(ticks, [_day(date.fromordinal(day)) for day in ticks])


def _day(day: date) -> str:
    return day_written(day, short=True, year=True)
