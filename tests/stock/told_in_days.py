"""Movements of an invented item, told by the day."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from joblog.stock import Movement

BEGIN = datetime(2026, 8, 1, 12, tzinfo=UTC)


def on(
    day: int,
    job: str,
    what: str,
    quantity: object,
    each: str | None = None,
    *,
    other: str = "",
    into: bool = False,
    entry: int | None = None,
    item: str = "panel",
) -> Movement:
    """What happened on a day of August (from 1 on); `each` is what one cost."""
    at = BEGIN + timedelta(days=day - 1)
    price = None if each is None else Fraction(Decimal(each))
    many = Fraction(str(quantity))
    return Movement(
        job,
        item,
        "sheet",
        what,
        many,
        at,
        price,
        at.date(),
        other,
        into,
        entry,  # type: ignore[arg-type]
    )


def day(number: int) -> date:
    return (BEGIN + timedelta(days=number - 1)).date()
