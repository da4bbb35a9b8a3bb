"""All extras with their prices, money spent and miles driven, over the whole job."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from joblog.form import plain
from joblog.model import Reconciliation
from joblog.report.figures import beside_sums
from joblog.service.desk import Desk
from joblog.service.record import read_balance
from joblog_tui.beside import beside
from joblog_tui.listed import ListedScreen, ListLine


class ExtrasScreen(ListedScreen):
    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._squared: Reconciliation | None = None

    def read(self) -> None:
        self._squared = read_balance(self._desk)

    def head(self) -> Content:
        sums = beside_sums(self._squared.beside) if self._squared else ()
        return Content("\n").join(
            [
                Content.assemble((plain(self._desk.job.name), "bold"), ": beside the plan"),
                *map(Content, sums),
            ]
        )

    def lines(self, width: int) -> Sequence[ListLine]:
        if self._squared is None:
            return ()
        return [
            ListLine(row.head, row.shown, str(row.entries[0]), row.meaning, row.entries[0])
            for row in beside(self._squared, width)
        ]

    def empty(self) -> str:
        return "No extra work, money spent or driving was said."
