"""What the plots are drawn from, and that they tell their parts apart without colour."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from textual.app import App, ComposeResult

from joblog.model import Interval, Reconciliation, StockLine
from joblog.rates import JobRate
from joblog.service.learning import RateLine
from joblog_tui.plots import Bars, Course, Plot, course, planned_against_gone
from joblog_tui.widgets.plot import PlotView

SOFFIT = StockLine(
    item="soffit panel",
    unit="sheet",
    planned=Fraction(16),
    opening=Fraction(0),
    delivered=Fraction(20),
    returned=Fraction(0),
    on_hand=Fraction(0),
    consumed=Fraction(20),
    placed=Fraction(20),
    spoiled=Fraction(0),
    offcut=Fraction(0),
    unaccounted=Fraction(0),
    at_least=Fraction(20),
    at_most=Fraction(20),
)
UNCOUNTED = replace(
    SOFFIT,
    on_hand=None,
    consumed=None,
    unaccounted=None,
    at_least=Fraction(8),
    delivered=Fraction(16),
)
RATE = RateLine("waste", "soffit panel", 3, 0.06, Interval(0.8, 0.04, 0.09),
                Interval(0.8, 0.01, 0.15), "3 jobs")  # fmt: skip
JOBS = (
    JobRate("a", date(2026, 3, 2), 0.05, 0.06, 1.0, False),
    JobRate("b", date(2026, 6, 1), 0.30, 0.06, 0.1, True),
    JobRate("c", date(2026, 9, 7), 0.07, 0.06, 1.0, False),
)


def bars(*lines: StockLine) -> Bars:
    return planned_against_gone(Reconciliation("job", stock=lines))


async def drawn(plot: Plot, width: int = 78, height: int = 14) -> list[str]:
    class Drawing(App[None]):
        def compose(self) -> ComposeResult:
            yield PlotView()

    app = Drawing()
    async with app.run_test(size=(width, height)) as pilot:
        app.query_one(PlotView).plot = plot
        await pilot.pause()
        strips = app.screen._compositor.render_strips()
        return ["".join(segment.text for segment in strip) for strip in strips]


def test_a_bar_says_how_much_is_gone_of_what_was_planned() -> None:
    [bar] = bars(SOFFIT).bars
    assert bar.label == "soffit panel: 20 of 16 panels"
    assert (bar.sure, bar.perhaps) == (1.25, 1.25)


def test_a_bar_without_a_count_shows_its_range() -> None:
    [bar] = bars(UNCOUNTED).bars
    assert bar.label == "soffit panel: 8-20? of 16 panels"
    assert (bar.sure, bar.perhaps) == (0.5, 1.25)


def test_what_was_not_planned_is_named_and_not_drawn() -> None:
    plot = bars(SOFFIT, replace(SOFFIT, item="trim coil", planned=None))
    assert len(plot.bars) == 1
    assert "Not in the plan: trim coil." in plot.caption


def test_the_course_of_a_rate_says_what_its_marks_mean() -> None:
    caption = course(RATE, JOBS).caption
    assert "o a job" in caption
    assert "X one unlike the others" in caption
    assert "- the average 4 times in 5: 4.0% to 9.0%" in caption


async def test_bars_are_told_apart_without_colour() -> None:
    lines = await drawn(bars(SOFFIT, UNCOUNTED))
    [known] = [line for line in lines if "20 of 16" in line]
    [unknown] = [line for line in lines if "8-20?" in line]
    assert "█████" in known
    assert "?????" not in known
    assert "█████" in unknown
    assert "?????" in unknown


async def test_every_bar_has_a_line_of_its_own() -> None:
    lines = await drawn(bars(*(replace(SOFFIT, item=f"item {at}") for at in range(9))), height=20)
    shown = [line.split(":")[0].strip() for line in lines if " of 16 sheets" in line]
    assert shown == [f"item {at}" for at in range(9)]


async def test_a_single_bar_is_drawn() -> None:
    lines = await drawn(bars(SOFFIT))
    assert any("20 of 16 panels┤█████" in line for line in lines)


async def test_jobs_mean_and_interval_are_told_apart_without_colour() -> None:
    shown = "\n".join(await drawn(course(RATE, JOBS)))
    assert shown.count("X") == 1
    assert "o" in shown
    assert "=====" in shown
    assert "-----" in shown
    assert "Mar 2, 2026" in shown


async def test_a_single_job_is_drawn() -> None:
    shown = "\n".join(await drawn(course(RATE, JOBS[:1])))
    assert "Mar 2, 2026" in shown
    assert "o" in shown


async def test_no_job_at_all_leaves_the_interval() -> None:
    shown = "\n".join(await drawn(course(RATE, ())))
    assert "=====" in shown


async def test_control_characters_in_a_name_do_not_reach_the_terminal() -> None:
    plot = bars(replace(SOFFIT, item="\x1b[31mfascia [b]x[/b]"))
    shown = "\n".join(await drawn(plot))
    assert "[31mfascia [b]x[/b]: 20 of 16" in shown
    assert "\x1b" not in shown


def test_a_course_keeps_every_job_in_order() -> None:
    found = course(RATE, JOBS)
    assert isinstance(found, Course)
    assert [point.value for point in found.points] == [0.05, 0.30, 0.07]
