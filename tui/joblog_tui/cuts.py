"""The cut list of the pieces that were said on the job: each stick with its cuts and marks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual import work
from textual.content import Content
from textual.message import Message

from joblog.form import plain
from joblog.model import CutPlan, Problem
from joblog.report.cut_sheet import CAUTION, Group, about_plan, after_plan, groups
from joblog.service import ServiceError
from joblog.service.cutting import ToCut, cut_list, pieces_to_cut
from joblog.service.desk import Desk
from joblog_tui.columns import fitted
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.widgets.panes import list_width
from joblog_tui.wording import FAINT, counted, in_doubt

_EMPTY = """\
No pieces were said to be cut on this job.

Say them as you call them out, with how many and from what:

    cut six fascia at 35 7/8, north eave

A list of pieces from a spreadsheet: joblog cuts --from PIECES.csv"""


class CutsScreen(ListedScreen):
    ENTER = ""

    class Cut(Message):
        """A cut list was worked out, or could not be: `why`."""

        def __init__(
            self, to_cut: ToCut, plans: tuple[CutPlan, ...], uncut: tuple[Problem, ...], why: str
        ) -> None:
            super().__init__()
            self.to_cut, self.plans, self.uncut, self.why = to_cut, plans, uncut, why

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._to_cut: ToCut | None = None
        self._cut: CutsScreen.Cut | None = None

    def read(self) -> None:
        now = pieces_to_cut(self._desk)
        if now != self._to_cut:
            self._to_cut, self._cut = now, None
            if now.pieces:
                self._work_out(now)

    @work(thread=True, exclusive=True)
    def _work_out(self, to_cut: ToCut) -> None:
        try:
            plans, uncut = cut_list(to_cut)
        except ServiceError as error:
            self.post_message(self.Cut(to_cut, (), (), str(error)))
        else:
            self.post_message(self.Cut(to_cut, plans, uncut, ""))

    def on_cuts_screen_cut(self, cut: Cut) -> None:
        # The pieces may be others by now; then another list is on its way.
        if cut.to_cut == self._to_cut:
            self._cut = cut
            self.lay_out()

    def head(self) -> Content:
        pieces = sum(piece.pieces for piece in self._to_cut.pieces) if self._to_cut else 0
        head = Content.assemble(
            (plain(self._desk.job.name), "bold"), f": {counted(pieces, 'piece')} to cut"
        )
        doubtful = len(self._to_cut.doubtful) if self._to_cut else 0
        if doubtful:
            left_out = f"; {counted(doubtful, 'entry', 'entries')} in doubt, not in the list"
            head = Content.assemble(head, in_doubt(left_out))
        if pieces and self._cut is None:
            return Content.assemble(
                head, "\n", ("Working out what to cut from which stick…", "bold")
            )
        troubles = self._cut.uncut if self._cut else ()
        told = [in_doubt(f"{one.what}: {one.why}") for one in troubles]
        if self._cut and self._cut.why:
            told.append(in_doubt(self._cut.why))
        return Content("\n").join([head, *told])

    def lines(self, width: int) -> Sequence[ListLine]:
        if self._cut is None:
            return ()
        return [
            line
            for number, plan in enumerate(self._cut.plans)
            for line in _lines(plan, number, width, self.app.size.width)
        ]

    def empty(self) -> str:
        return "" if self._to_cut and self._to_cut.pieces else _EMPTY

    def open(self, line: ListLine) -> None:
        """Nothing stands behind a stick."""


def _lines(plan: CutPlan, number: int, width: int, across: int) -> Iterable[ListLine]:
    head = fitted(plain("; ".join(about_plan(plan)[:1])), width)
    room = max(20, across - list_width(across) - 3 if list_width(across) < across else across - 3)
    notes = [Content.styled(plain(line), FAINT) for line in about_plan(plan)[1:]]
    notes += [Content.styled(plain(line), FAINT) for line in after_plan(plan)]
    for at, group in enumerate(groups(plan.sticks), 1):
        left = group.left()
        stock = f"{group.stock()}: {', '.join(group.cuts())}"
        shown = f"{fitted(stock, width - len(left) - 2):<{width - len(left)}}{left}"
        yield ListLine(
            head, shown, f"{number} {at}", Content("\n").join([_stick(group, plan, room), *notes])
        )


def _stick(group: Group, plan: CutPlan, room: int) -> Content:
    """The stick drawn to scale, and under it where to mark it and where the pieces go."""
    stacks = group.stacks(plan.at_once)
    lines = [
        Content.styled(f"{group.stock()}{f', stacked {stacks}' if stacks else ''}", "bold"),
        Content(drawn(group, room)),
        Content(f"cut {', '.join(group.cuts())}"),
        Content(f"marks at {', '.join(group.marks())}"),
    ]
    if group.left():
        lines.append(Content(f"left: {group.left()}"))
    if group.which():
        lines.append(Content(f"from {plain(', '.join(group.which()))}"))
    if group.places():
        lines.append(Content(f"for {plain('; '.join(group.places()))}"))
    return Content("\n").join([*lines, Content.styled(CAUTION, FAINT)])


def drawn(group: Group, room: int) -> str:
    """A stick such as "[ 35 7/8 | 35 7/8 |......]", its parts as long as they are on it."""
    stick = group.first
    inner = room - 2
    parts = []
    at = 0
    for cut in stick.cuts:
        end = min(inner, round(cut.mark / stick.length * inner))
        across, length = max(0, end - at - 1), group.length_of(cut)
        # Half a length would be read as another one.
        parts.append(length.center(across) if len(length) <= across else " " * across)
        at = max(at, end)
    return f"[{'|'.join(parts)}|".ljust(room - 1, ".")[: room - 1] + "]"
