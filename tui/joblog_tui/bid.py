"""The bid of the job, line by line: any number can be changed, and all sums follow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from textual.binding import Binding
from textual.content import Content

from joblog.form import WORDS, plain, units_of
from joblog.local import day_written, money_written
from joblog.model import Bid, BidBeside, BidItem, BidOutcome, BidTask
from joblog.report import bid as told
from joblog.report.table import Table
from joblog.service.bidding import OF_ITEM, OF_TASK, bid_on_plan, newest_if_any, what_became
from joblog.service.desk import Desk
from joblog.service.record import days
from joblog_tui.bid_form import AddToBidScreen, BidFormScreen
from joblog_tui.columns import in_columns
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.offer import OfferScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import FAINT, in_doubt

_EMPTY = """\
This job has no bid yet.

Bid on what was measured:

    joblog bid RUNS.csv

or press b to bid on the plan that it has."""


class BidScreen(ListedScreen):
    ENTER = "change it"
    BINDINGS = [  # noqa: RUF012
        Binding("plus", "add", "add", key_display="+"),
        Binding("o", "offer", "for the customer"),
        Binding("b", "on_plan", "bid on the plan"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._bid: Bid | None = None
        self._became: BidOutcome | None = None
        self._numbers: dict[str, tuple[str, ...]] = {}
        # What enter changes, by the id of a line.

    def read(self) -> None:
        self._bid = newest_if_any(self._desk)
        told_of = self._bid is not None and bool(days(self._desk))
        self._became = what_became(self._desk) if told_of else None

    def head(self) -> Content:
        name = (plain(self._desk.job.name), "bold")
        if self._bid is None:
            return Content.assemble(name, ": bid")
        return Content("\n").join([Content.assemble(name, ": bid "), *summary(self._bid)])

    def empty(self) -> str:
        return _EMPTY

    def lines(self, width: int) -> Sequence[ListLine]:
        if self._bid is None:
            return ()
        self._numbers = {}
        return tuple(self._lines(self._bid, width))

    def _lines(self, bid: Bid, width: int) -> Iterator[ListLine]:
        heads: tuple[str, ...] = ("in all", "price", "cost")
        rows = _columns(told.item_table(bid), 4, 5, 6)
        names = [plain(item.name) for item in bid.items]
        head, shown = in_columns("material", heads, names, rows, width)
        for item, text in zip(bid.items, shown, strict=True):
            numbers = tuple(f"{item.name}.{one}" for one in OF_ITEM)
            yield self._line(head, text, f"item {item.name}", _item(bid, item), numbers)
        heads = (WORDS["crew_hours"], "an hour", "pay", "cost")
        rows = _columns(told.task_table(bid), 3, 2, 4, 5)
        names = [plain(task.name) for task in bid.tasks]
        head, shown = in_columns("hours", heads, names, rows, width)
        for task, text in zip(bid.tasks, shown, strict=True):
            numbers = tuple(f"{task.name}.{one}" for one in OF_TASK)
            yield self._line(head, text, f"task {task.name}", _task(task), numbers)
        yield from self._sums(bid, width)
        yield from self._for_customer(bid, width)
        if self._became is not None:
            yield from self._outcome(self._became, width)

    def _sums(self, bid: Bid, width: int) -> Iterator[ListLine]:
        rows = list(_sum_rows(bid))
        names = [plain(name) for name, _, _ in rows]
        cells = [(cell,) for _, cell, _ in rows]
        head, shown = in_columns("what it comes to", ("money",), names, cells, width)
        meaning = _lines_of([*told.margin_lines(bid), *told.chance_lines(bid)])
        for (name, _, numbers), text in zip(rows, shown, strict=True):
            yield self._line(head, text, f"sum {name.partition(',')[0]}", meaning, numbers)

    def _for_customer(self, bid: Bid, width: int) -> Iterator[ListLine]:
        rows = [
            (f"extra: {extra.name}", money_written(extra.price), (f"extra.{extra.name}",))
            for extra in bid.extras
            if not extra.taken
        ]
        until = "-" if bid.valid_until is None else day_written(bid.valid_until)
        rows.append(("valid until", until, ("valid",)))
        rows.append(("not included", "; ".join(bid.left_out) or "-", ("not included",)))
        names = [plain(name) for name, _, _ in rows]
        cells = [(plain(cell),) for _, cell, _ in rows]
        head, shown = in_columns("for the customer", ("",), names, cells, width)
        meaning = Content("What the customer sees beside the price. o shows all of it.")
        for (name, _, numbers), text in zip(rows, shown, strict=True):
            yield self._line(head, text, f"customer {name}", meaning, numbers)

    def _outcome(self, found: BidOutcome, width: int) -> Iterator[ListLine]:
        table = told.outcome_table(found)
        names = [row[0] for row in table.rows]
        cells = [row[1:] for row in table.rows]
        head, shown = in_columns("what became of it", table.headings[1:], names, cells, width)
        losses = [f"{loss.name}, {money_written(loss.money)}: {loss.why}" for loss in found.losses]
        missing = [f"not known: {lack}" for lack in found.lacks]
        extras = [
            f"extra: {line.text}, {money_written(line.price) if line.price is not None else '?'}, "
            f"{line.agreed}"
            for line in found.extra_lines
        ]
        beside = [*extras, *told.beside_lines(found)]
        meaning = _lines_of(
            [found.next_time, *told.earned_lines(found), *losses, *beside, *missing]
        )
        for name, text in zip(names, shown, strict=True):
            yield self._line(head, text, f"became {name}", meaning, ())

    def _line(
        self,
        head: str,
        shown: Content | str,
        id: str,
        meaning: Content,
        numbers: tuple[str, ...],
    ) -> ListLine:
        self._numbers[id] = numbers
        return ListLine(head, shown, id, meaning)

    # --- keys -----------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        numbers = self._numbers.get(line.id, ())
        if self._bid is None or not numbers:
            self.notify("This follows from the other lines.")
            return
        self.app.push_screen(BidFormScreen(self._desk, self._bid, numbers), self._changed)

    def _changed(self, bid: Bid | None) -> None:
        if bid is not None:
            self.read_anew()

    def action_add(self) -> None:
        if self._bid is not None:
            self.app.push_screen(AddToBidScreen(self._desk, self._bid), self._changed)

    def action_offer(self) -> None:
        if self._bid is not None:
            with trouble_shown(self):
                self.app.push_screen(OfferScreen(self._desk, self._bid))

    def action_on_plan(self) -> None:
        with trouble_shown(self):
            for note in bid_on_plan(self._desk).notes[:1]:
                self.notify(plain(note))
        self.read_anew()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action in ("add", "offer"):
            return self._bid is not None
        if action == "on_plan":
            return self._bid is None and bool(self._desk.plan.items or self._desk.plan.tasks)
        return super().check_action(action, parameters)


_PRICE = ("margin", "price", "round")


def _columns(table: Table, *at: int) -> list[tuple[str, ...]]:
    return [tuple(row[place] for place in at) for row in table.rows]


def _sum_rows(bid: Bid) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """The sums, those that a person decides on also where they are nothing; what enter changes."""
    how = told.standing_of(bid)
    yield "material", told.sum_cell(bid.material, how.get("material", "")), ("packs",)
    yield "hours", told.sum_cell(bid.labor, how.get("labor", "")), ("hourly cost",)
    other = next((one for one in bid.beside if one.hours is not None), None)
    yield "other hours", _cost_or_none(other), ("other hours",)
    for one in bid.beside:
        if one.miles is None and one.hours is None and one.cost is not None:
            yield one.name, told.sum_cell(one.cost, ""), (f"expense.{one.name}",)
    driving = next((one for one in bid.beside if one.miles is not None), None)
    yield "driving", _cost_or_none(driving), ("miles", "mile rate")
    for words, money, standing in told.sums(bid):
        cell = told.sum_cell(money, standing)
        kind = next((kind for kind in _DECIDED if words.partition(",")[0] == kind), None)
        if kind is not None:
            yield words, cell, _DECIDED[kind]
        elif words.startswith("extra: "):
            yield words, cell, (f"extra.{words.removeprefix('extra: ')}",)
        elif words.startswith("rounded"):
            yield words, cell, _PRICE
    if bid.tax_on == "nothing":
        yield "tax", told.sum_cell(bid.tax, ""), ("tax", "tax on")


def _cost_or_none(one: BidBeside | None) -> str:
    """Nothing where there is none of it; "?" where nobody says what it costs."""
    if one is None:
        return told.sum_cell(Decimal("0.00"), "")
    return "?" if one.cost is None else told.sum_cell(one.cost, "")


_DECIDED: dict[str, tuple[str, ...]] = {
    "cost": (),
    "overhead": ("overhead",),
    "cost with overhead": (),
    "margin": _PRICE,
    "price": _PRICE,
    "tax": ("tax", "tax on"),
    "total with tax": ("tax", "tax on"),
}


def summary(bid: Bid) -> list[Content]:
    """What the bid comes to in a line or two."""
    if bid.lacks:
        return [in_doubt(f"No bid yet: {lack}.") for lack in bid.lacks[:2]]
    line = (
        f"price {money_written(bid.price)}, cost with overhead {money_written(bid.all_cost)}, "
        f"margin {told.percent(bid.margin_share)}"
    )
    if bid.chances is None:
        return [Content(line)]
    over = told.chance_words(bid.chances)
    return [Content(line), Content.styled(f"costs more than the price in {over}", FAINT)]


def _item(bid: Bid, item: BidItem) -> Content:
    def of(quantity: object) -> str:
        return units_of(quantity, item.unit, item.name)  # type: ignore[arg-type]

    made = f"{of(item.quantity)} in all"
    if item.net is not None:
        made = (
            f"{of(item.net)} for the work, {of(item.offcut)} of {WORDS['offcut']}, "
            f"{of(item.waste)} for waste: {of(item.quantity)} in all"
        )
    parts = [Content.assemble((plain(item.name), "bold"), f": {made}")]
    if item.changed:
        parts.append(Content(f"you set: {', '.join(item.changed)}"))
    if source := told.item_source(item):
        parts.append(Content.styled(plain(source), FAINT))
    return Content("\n").join(parts)


def _task(task: BidTask) -> Content:
    much = "" if task.amount is None else f" for {units_of(task.amount, task.unit)}"
    hours = f"{told.near(task.hours)} {WORDS['crew_hours']}{much}"
    parts = [Content.assemble((plain(task.name), "bold"), f": {hours}")]
    if task.changed:
        parts.append(Content(f"you set: {', '.join(task.changed)}"))
    if task.source:
        parts.append(Content.styled(plain(task.source), FAINT))
    return Content("\n").join(parts)


def _lines_of(lines: Sequence[str]) -> Content:
    return Content("\n").join(Content(plain(line)) for line in lines)
