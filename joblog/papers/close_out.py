"""The close-out: what the job was planned to take, what it took, why, and what nobody knows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from joblog.form import amount, units_of
from joblog.local import money_written
from joblog.model import (
    Closing,
    CoveredWork,
    LaborVariance,
    MoneyVariance,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.papers.blocks import Block, Facts, Heading, Paper, Table, Text, Warning
from joblog.papers.figures import idle, on_paper, without
from joblog.papers.job_book import standing
from joblog.report.covered import lacking_lines
from joblog.report.differences import in_words, known_line
from joblog.report.figures import (
    balance_table,
    beside_sums,
    beside_table,
    gap_line,
    hours_of_no_task,
    labor_table,
    money_shown,
    money_table,
    pay_table,
    place_table,
    quantity_table,
    reason_table,
    since_closing,
    than_planned,
    units_cell,
)
from joblog.report.table import Table as Report
from joblog.report.words import SETTLED_BY, heads


def close_out(
    result: Reconciliation,
    closing: Closing | None = None,
    covered: Sequence[CoveredWork] = (),
    behind: Mapping[int, str] | None = None,
    bid: Sequence[Block] = (),
) -> Paper:
    """The job squared up, on paper. `bid` is what was bid and what became of it, where it was.

    `behind` names the recording and photos behind an entry, by its number.
    """
    return Paper(
        f"{result.job}: close-out",
        about=tuple(_about(result, closing)),
        blocks=(
            *_cautions(result),
            *_sums(result),
            *bid,
            *_in_words(result),
            *_material(result),
            *_labor(result),
            *_why(result, behind or {}),
            *_beside(result),
            *_covered(covered),
            *_not_known(result),
            *_since(result, closing),
        ),
        footer=f"{result.job}, close-out",
    )


def _about(result: Reconciliation, closing: Closing | None) -> Iterator[tuple[str, str]]:
    yield "the job is", standing(closing)
    if result.record is not None and (known := known_line(result.record)):
        yield "known", known


def _cautions(result: Reconciliation) -> Iterator[Block]:
    if result.open_doubts:
        what = "1 entry waits" if result.open_doubts == 1 else f"{result.open_doubts} entries wait"
        yield Warning(f"{what} for a decision; the figures are without them.")
    for gap in result.gaps:
        if gap.contradiction:
            yield Warning(f"This cannot be: {gap_line(gap)}")


def _sums(result: Reconciliation) -> Iterator[Block]:
    """What it all came to, in the fewest figures."""
    pairs = []
    if result.material is not None:
        of = f"{len(result.material_of)} of {len(result.stock)} items"
        pairs.append(("material", f"{_differs(result.material)}, on {of}"))
    if result.labor is not None:
        hours = than_planned(result.labor.hours, f"{amount(abs(result.labor.hours))} man-hours")
        pairs.append(("hours", hours))
        if result.labor.total is not None:
            pairs.append(("pay", _differs(result.labor)))
    pairs += [("beside the plan", line) for line in beside_sums(result.beside)]
    if pairs:
        yield Heading("What it came to")
        yield Facts(tuple(pairs))


def _differs(parts: MoneyVariance | LaborVariance) -> str:
    size = "" if parts.total is None else money_written(abs(parts.total))
    return than_planned(parts.total, size)


def _in_words(result: Reconciliation) -> Iterator[Block]:
    pairs = [(line.item, _item(line)) for line in result.stock]
    pairs += [(line.task, _task(line)) for line in result.tasks]
    if pairs:
        yield Heading("In words")
        yield Facts(tuple(pairs))


def _item(line: StockLine) -> str:
    if line.consumed is None:
        if not line.at_most:
            return "nothing was told of it"
        return f"{_range(line)} gone: how much is left is not known"
    went = f"{units_of(line.consumed, line.unit, line.item)} gone"
    if line.planned is None:
        return f"{went}; none was planned"
    differs = line.consumed - line.planned
    told = f"{went}, {than_planned(differs, units_of(abs(differs), line.unit, line.item))}"
    if line.money is None or line.money.total is None:
        return told
    return f"{told}; {_cost(line.money)}"


def _range(line: StockLine) -> str:
    least = units_of(line.at_least, line.unit, line.item)
    if line.at_least >= line.at_most:
        return f"at least {least}"
    return f"{amount(line.at_least)} to {units_of(line.at_most, line.unit, line.item)}"


def _task(line: TaskLine) -> str:
    if not line.entries:
        return "no hours were told"
    took = f"{amount(line.actual)} man-hours"
    done = "" if line.done is None else f" for {units_of(line.done, line.unit)}"
    if line.planned is None:
        return f"{took}{done}; none were planned"
    differs = line.actual - line.planned
    told = f"{took}{done}, {than_planned(differs, amount(abs(differs)))}"
    if line.variance is None or line.variance.total is None:
        return told
    return f"{told}; {_cost(line.variance)}"


def _cost(parts: MoneyVariance | LaborVariance) -> str:
    """Such as "it cost $21.40 more than planned ($42.80 more wasted than allowed, $21.40 saved
    by less work)"."""
    shown = in_words(parts)
    told = f"it cost {_differs(parts).removeprefix('just ')}"
    return f"{told} ({shown})" if shown else told


def _material(result: Reconciliation) -> Iterator[Block]:
    if not result.stock:
        return
    yield Heading("Material")
    stock = balance_table(result)
    costs = heads("planned_cost", "actual_cost")
    yield on_paper(without(stock, *costs, *idle(stock)), "What came, went and is left")
    quantities = quantity_table(result)
    if quantities.rows:
        more = "More (+) or less (-) than planned, and why"
        yield on_paper(without(quantities, *idle(quantities)), more)
    money = money_table(result)
    if money.rows:
        yield on_paper(
            without(money, *idle(money)), "The same in money", total=_has_sum(money.rows)
        )
    if quantities.rows or money.rows:
        yield Text(_MATERIAL_WORDS, small=True)
    yield from _unsure(stock, quantities, money)
    places = place_table(result)
    if places.rows:
        yield on_paper(without(places, *idle(places)), 'By place; "-" is no place said')


_MATERIAL_WORDS = (
    "Work: more or less was built than planned. Usage: more or less went into the same work."
    " Cutoffs: what the lengths forced. Wasted: beyond what the plan allows for it."
    " Unexplained: gone, and nobody said where. Price: what one cost, beside what was planned."
)
_LABOR_WORDS = (
    "Work: more or less was done than planned. Pace: the same work took longer or went faster."
)


def _unsure(*reports: Report) -> Iterator[Block]:
    if any("?" in cell for report in reports for row in report.rows for cell in row):
        yield Text(
            'A "?" is a figure that the record does not settle. What would settle it stands under'
            ' "What is not known".',
            small=True,
        )


def _has_sum(rows: Sequence[Sequence[str]]) -> bool:
    return rows[-1][0].startswith("together")


def _labor(result: Reconciliation) -> Iterator[Block]:
    if not (result.tasks or result.untold_hours):
        return
    yield Heading("Hours")
    if result.tasks:
        hours, pay = labor_table(result), pay_table(result)
        yield on_paper(hours, "Man-hours")
        if any(line.planned_cost is not None or line.actual_cost for line in result.tasks):
            yield on_paper(pay, "The same in money", total=_has_sum(pay.rows))
        yield Text(_LABOR_WORDS, small=True)
        yield from _unsure(hours, pay)
    if line := hours_of_no_task(result):
        yield Text(f"{line}.")


def _why(result: Reconciliation, behind: Mapping[int, str]) -> Iterator[Block]:
    if result.reasons:
        yield Heading("Why material was wasted")
        yield on_paper(reason_table(result, behind))


def _beside(result: Reconciliation) -> Iterator[Block]:
    if result.beside.lines:
        yield Heading("Beside the plan")
        table = beside_table(result)
        yield on_paper(without(table, *idle(table)))


def _covered(work: Sequence[CoveredWork]) -> Iterator[Block]:
    if work:
        lacking = lacking_lines(work)
        yield Heading("Covered work")
        whole = f"{len(work) - len(lacking)} of {len(work)} with all that shows it"
        yield Text("\n".join([whole, *lacking]))


def _not_known(result: Reconciliation) -> Iterator[Block]:
    yield Heading("What is not known")
    if not result.gaps:
        yield Text("Nothing is missing from the record.")
        return
    rows = tuple(
        (
            gap.text,
            "" if gap.width is None else units_cell(gap.width, gap.unit, gap.name),
            "" if gap.money is None else money_shown(gap.money),
            SETTLED_BY[gap.settled_by],
        )
        for gap in result.gaps
    )
    headings = ("what", "how much is open", "worth", "what would settle it")
    kept = [at for at, _ in enumerate(headings) if any(row[at] for row in rows)]
    yield Table(
        tuple(headings[at] for at in kept),
        tuple(tuple(row[at] for at in kept) for row in rows),
        right=frozenset(kept.index(at) for at in (1, 2) if at in kept),
    )


def _since(result: Reconciliation, closing: Closing | None) -> Iterator[Block]:
    if closing is None or not closing.reopened:
        return
    changes = since_closing(closing.figures, result)
    if changes.rows:
        yield Heading("Changed since it was closed")
        yield on_paper(changes)
