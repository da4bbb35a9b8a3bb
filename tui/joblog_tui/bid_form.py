"""A few numbers of a bid to be changed: what it then comes to is shown while they are typed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction

from textual.content import Content

from joblog.form import amount, plain
from joblog.model import Bid
from joblog.report import bid as told
from joblog.service import ServiceError
from joblog.service.bidding import OF_ITEM, bid_with, change_bid, earlier_values
from joblog.service.desk import Desk
from joblog.service.errors import FieldError
from joblog_tui.form_screen import FormScreen
from joblog_tui.widgets.completing import Choices
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.wording import FAINT


class BidFormScreen(FormScreen[Bid]):
    """Closes with the bid as it then stands, or None. A number that is emptied is worked out
    again."""

    def __init__(self, desk: Desk, bid: Bid, numbers: tuple[str, ...]) -> None:
        super().__init__()
        self._desk = desk
        self._bid = bid
        self._names = numbers
        self._held = {name: held(bid, name) for name in numbers}

    def head(self) -> str:
        line, _, _ = self._names[0].rpartition(".")
        return f"{line or 'the bid'}: a line that you empty is worked out again"

    def rows(self) -> Iterable[FieldRow]:
        for name in self._names:
            short = name.rpartition(".")[2]
            yield FieldRow(name, short, self._held[name], self._choices(name), stay_open=True)

    def _choices(self, name: str) -> Choices:
        fixed = _FIXED.get(name.rpartition(".")[2])
        return lambda: fixed or earlier_values(self._desk, name)

    def would(self, values: Mapping[str, str]) -> Content:
        return comes_to(self._with(values))

    def keep(self, values: Mapping[str, str]) -> Bid:
        changed = self._changed(values)
        if not changed:
            return self._bid
        self._with(values)
        return change_bid(self._desk, changed, sure=True).bid

    def _with(self, values: Mapping[str, str]) -> Bid:
        try:
            # Whoever types it here sees the sums that follow before he keeps it.
            return bid_with(self._desk, self._bid, self._changed(values), sure=True)
        except ServiceError as error:
            field = next((name for name in self._names if str(error).startswith(f"{name}:")), None)
            raise FieldError(str(error), field) from None

    def _changed(self, values: Mapping[str, str]) -> list[tuple[str, str]]:
        return [(name, text) for name, text in values.items() if text.strip() != self._held[name]]


class AddToBidScreen(FormScreen[Bid]):
    """An expense, or an extra that the customer may have."""

    def __init__(self, desk: Desk, bid: Bid) -> None:
        super().__init__()
        self._desk = desk
        self._bid = bid

    def head(self) -> str:
        return "add an expense of yours, or an extra that the customer may have"

    def rows(self) -> Iterable[FieldRow]:
        yield FieldRow("kind", "which", "expense", lambda: ("expense", "extra"), stay_open=True)
        yield FieldRow("name", "what", "", stay_open=True)
        yield FieldRow("money", "money", "", stay_open=True)

    def would(self, values: Mapping[str, str]) -> Content:
        if not (values["name"].strip() and values["money"].strip()):
            return Content.styled("say what it is, and its money", FAINT)
        return comes_to(bid_with(self._desk, self._bid, self._number(values), sure=True))

    def keep(self, values: Mapping[str, str]) -> Bid:
        for field, called in (("name", "what it is"), ("money", "its money")):
            if not values[field].strip():
                raise FieldError(f"say {called}", field)
        return change_bid(self._desk, self._number(values), sure=True).bid

    def _number(self, values: Mapping[str, str]) -> list[tuple[str, str]]:
        kind = values["kind"].strip().lower()
        if kind not in ("expense", "extra"):
            raise FieldError("say expense or extra", "kind")
        return [(f"{kind}.{values['name'].strip()}", values["money"])]


def comes_to(bid: Bid) -> Content:
    """The sums that follow."""
    from joblog_tui.bid import summary

    return Content("\n").join(summary(bid))


def held(bid: Bid, name: str) -> str:
    """What a number is now, as it would be typed; "" where it is nothing."""
    said = dict(bid.said).get(name)
    if said is not None:
        return plain(said)
    if name == "other hours":
        return next((amount(one.hours) for one in bid.beside if one.hours is not None), "")
    line, _, number = name.rpartition(".")
    field = _FIELDS.get(number, number)
    items, tasks = {one.name: one for one in bid.items}, {one.name: one for one in bid.tasks}
    if number in OF_ITEM and line in items:
        return _typed(getattr(items[line], field), number)
    return _typed(getattr(tasks[line], field), number) if line in tasks else ""


_FIELDS = {"hourly cost": "hourly_cost", "packs": "whole"}
_FIXED: Mapping[str, tuple[str, ...]] = {"packs": ("yes", "no"), "tax on": ("material", "all")}


def _typed(value: object, number: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, Fraction):
        text = told.near(value) if number in ("hours", "pace") else amount(value)
        return text.removeprefix("about ")
    return ""
