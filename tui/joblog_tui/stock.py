"""What lies in the shop and on open jobs; enter takes it from stock to the job on the desk."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from joblog.form import plain, unit_shown, units_of
from joblog.local import day_written
from joblog.model import STOCK, Layer
from joblog.report.figures import amount, cost_cell, money_shown
from joblog.report.stock import since_cell, to_know
from joblog.service.desk import Desk
from joblog.service.stock import StockItem, WhatLies, take, what_lies
from joblog_tui.columns import in_columns
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.wording import FAINT, in_doubt


class StockScreen(ListedScreen):
    ENTER = "take it here"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._lies: WhatLies | None = None

    def read(self) -> None:
        self._lies = what_lies(self._desk.book)

    def head(self) -> Content:
        cost = money_shown(self._lies.cost) if self._lies else "?"
        notes = self._lies.notes if self._lies else ()
        return Content("\n").join(
            [
                Content.assemble(("Material", "bold"), f" in stock and on jobs, {cost} together"),
                *(in_doubt(plain(note)) for note in notes),
            ]
        )

    def lines(self, width: int) -> Sequence[ListLine]:
        if self._lies is None:
            return ()
        items = self._lies.items
        names = [f"{plain(one.lying.item)}, {_unit(one)}" for one in items]
        rows = [_cells(one) for one in items]
        _, shown = in_columns("material", ("how many", "cost", "since"), names, rows, width)
        return [
            ListLine(_where(one), text, _id(one), _meaning(one))
            for text, one in zip(shown, items, strict=True)
        ]

    def empty(self) -> str:
        return "Nothing lies anywhere, as far as anybody told."

    def open(self, line: ListLine) -> None:
        found = next(one for one in self._lies.items if _id(one) == line.id) if self._lies else None
        if found is None or found.lying.where != STOCK:
            self.notify("It lies on a job. Say or type where it goes: took six over to a job.")
            return
        take(self._desk, [found.lying.item])
        many = units_of(found.lying.quantity, found.lying.unit, found.lying.item)
        self.notify(f"{many}: from stock to {plain(self._desk.job.name)}", markup=False)
        self.read_anew()


def _id(one: StockItem) -> str:
    return f"{one.lying.where}\n{one.lying.item}"


def _where(one: StockItem) -> str:
    return "in stock: the shop, the truck" if one.lying.where == STOCK else plain(one.lying.where)


def _unit(one: StockItem) -> str:
    return plain(unit_shown(one.lying.unit, one.lying.item, many=True))


def _cells(one: StockItem) -> tuple[str, ...]:
    return amount(one.lying.quantity), cost_cell(one.cost), since_cell(one.since)


def _meaning(one: StockItem) -> Content:
    parts = [
        Content.assemble((plain(one.lying.item), "bold"), f", {_where(one)}"),
        *(Content(_layer(layer, one)) for layer in one.lying.layers),
        *(in_doubt(told) for told in to_know(one.lying, one.unpriced)),
        Content.styled("What leaves first is what was bought first.", FAINT),
    ]
    return Content("\n").join(parts)


def _layer(layer: Layer, one: StockItem) -> str:
    many = units_of(layer.quantity, one.lying.unit, one.lying.item)
    day = f", bought on {day_written(layer.day)}" if layer.day is not None else ""
    return f"{many} {_price(layer)}{day}"


def _price(layer: Layer) -> str:
    from joblog.quantity import money

    return "of unknown price" if layer.each is None else f"at {money_shown(money(layer.each))}"
