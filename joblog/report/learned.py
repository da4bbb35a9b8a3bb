"""What was learned from closed jobs, and how well it would have predicted."""

from __future__ import annotations

from dataclasses import fields

from joblog.form import Json, plain, to_json
from joblog.local import day_written
from joblog.model import BackTest, Interval, OddJob, Prediction, Rate, RateKind, Rates
from joblog.report.table import Shown, Table, as_text


def learned(rates: Rates, width: int = 100) -> str:
    """Every rate, the jobs that stand out and what the figures rest on, as text."""
    parts = []
    for kind, title in _TITLES.items():
        table = rate_table(rates, kind)
        if table.rows:
            parts.append(f"{title}\n{'=' * len(title)}\n{as_text(table, width)}")
    if rates.odd:
        lines = "\n".join(f"  {_odd(odd)}" for odd in rates.odd)
        parts.append(f"jobs unlike the others, which count for less:\n{lines}")
    if rates.notes:
        parts.append("\n".join(map(plain, rates.notes)))
    return "\n\n".join(parts) or "nothing here yet"


_TITLES = {
    "waste": "waste, on top of the work and its cutoffs; 4 times in 5 it is between",
    "hours": "done in one man-hour (feet, sheets, ...); 4 times in 5 it is between",
}


def rate_table(rates: Rates, kind: str | None = None) -> Table:
    """One line a rate; of both kinds unless one is named. The intervals hold 80 %."""
    headings = ("rate", "kind", "jobs", "average", "average between", "next job between", "from")
    kept = [at for at in range(len(headings)) if kind is None or headings[at] != "kind"]
    rows = [_row(rate) for rate in rates.rates if kind in (None, rate.kind)]
    return Table(
        tuple(headings[at] for at in kept),
        tuple(tuple(row[at] for at in kept) for row in rows),
        right=frozenset(headings[2:6]),
    )


def rates_json(rates: Rates) -> dict[str, Json]:
    """Every rate under the names that the page has for its figures, hours as done in one."""
    return {
        "rates": [
            {
                "name": rate.name,
                "kind": rate.kind,
                "family": rate.family,
                "jobs": rate.n,
                "counted": rate.counted,
                "average": _as_shown(rate.kind, rate.mean),
                "average_between": _ends(rate.kind, rate.interval),
                "next_job_between": _ends(rate.kind, rate.next_job),
                "own": rate.own,
                "from": rate.source,
            }
            for rate in rates.rates
        ],
        "odd": [
            to_json(odd)
            | {name: _as_shown(odd.kind, getattr(odd, name)) for name in ("value", "usual")}
            for odd in rates.odd
        ],
        "notes": list(rates.notes),
    }


def _ends(kind: RateKind, interval: Interval) -> dict[str, float | None]:
    ends = [_as_shown(kind, end) for end in (interval.low, interval.high)]
    low, high = reversed(ends) if kind == "hours" else ends
    return {"level": interval.level, "low": low, "high": high}


def _as_shown(kind: RateKind, value: float) -> float | None:
    """A share that is wasted; of hours what is done in one, None where it took none."""
    if kind == "waste":
        return value
    return 1 / value if value > 0 else None


def prediction_json(prediction: Prediction) -> dict[str, object]:
    """A prediction with its distribution as the percentiles 1 to 99, not in all its thousand."""
    whole = prediction.equally_likely
    shown = {
        field.name: to_json(getattr(prediction, field.name))
        for field in fields(prediction)
        if field.name != "equally_likely"
    }
    percentiles = [
        (whole[len(whole) * at // 100 - 1] + whole[len(whole) * at // 100]) / 2
        for at in range(1, 100)
    ]
    return {**shown, "percentiles": percentiles}


def back_tested(test: BackTest, width: int = 100) -> str:
    """Coverage of the intervals and cost of each way of ordering, as text."""
    held, ways = coverage_table(test), cost_table(test)
    parts = [f"each of the last {test.jobs} jobs, predicted from the ones before it"]
    if held.rows:
        parts.append(as_text(held, width))
    if ways.rows:
        parts.append(as_text(ways, width))
    if test.notes:
        parts.append("\n".join(map(plain, test.notes)))
    return "\n\n".join(parts)


def coverage_table(test: BackTest) -> Table:
    """How many of the predictions held what happened, for each interval."""
    hours = dict(test.hours_coverage)
    material = dict(test.coverage)
    headings = ("interval", "material held", "hours held")
    return Table(
        headings,
        tuple(
            (f"{level:.0%}", _share(material.get(level)), _share(hours.get(level)))
            for level in sorted({*material, *hours})
        ),
        right=frozenset(headings),
    )


def cost_table(test: BackTest) -> Table:
    """What each way of ordering would have cost, in packs left over, and how often it ran short."""
    headings = ("way of ordering", "cost of an order", "ran short", "packs left")
    short, left = dict(test.short), dict(test.left_over)
    return Table(
        headings,
        tuple(
            (way, f"{cost:.2f}", _share(short[way]), f"{left[way]:.2f}") for way, cost in test.costs
        ),
        right=frozenset(headings[1:]),
    )


def _row(rate: Rate) -> tuple[str, ...]:
    return (
        rate.name,
        rate.kind,
        str(rate.n),
        _figure(rate, rate.mean),
        _between(rate, rate.interval),
        _between(rate, rate.next_job),
        rate.source,
    )


def _between(rate: Rate, interval: Interval) -> str:
    low, high = interval.low, interval.high
    ends = sorted((low, high), reverse=rate.kind == "hours")
    return Shown(
        rate_between(rate.kind, low, high), " to ".join(_exactly(rate.kind, end) for end in ends)
    )


def _figure(rate: Rate | OddJob, value: float) -> str:
    return Shown(rate_shown(rate.kind, value), _exactly(rate.kind, value))


def rate_shown(kind: RateKind, value: float) -> str:
    """Waste in hundredths, "6.8%" and "26%", "none" where it took no more than the work; what is
    done in one man-hour with three figures, "9.35", and nothing where it took no time."""
    if kind == "hours":
        return f"{1 / value:.3g}" if value > 0 else ""
    if value < 0.0005:
        return "none"
    return f"{value:.1%}" if value < 0.0995 else f"{value:.0%}"


def rate_between(kind: RateKind, low: float, high: float) -> str:
    """ "2.1% to 26%", "up to 26%" where it may be none; the fewer man-hours, the more is done."""
    if kind == "hours":
        low, high = high, low
    shown = rate_shown(kind, low), rate_shown(kind, high)
    if shown[0] == shown[1]:
        return shown[0]
    return f"up to {shown[1]}" if shown[0] == "none" else " to ".join(shown)


def _exactly(kind: RateKind, value: float) -> str:
    return f"{max(value, 0):.1%}" if kind == "waste" else f"{1 / value:.3g}"


def _odd(odd: OddJob) -> str:
    return plain(
        f"{odd.job}, {day_written(odd.day)}: {odd.name} {_figure(odd, odd.value)} where "
        f"{_figure(odd, odd.usual)} is usual; counts for {odd.weight:.0%}"
    )


def _share(value: float | None) -> str:
    return "-" if value is None else f"{value:.0%}"
