"""What a job had beside its planned work and material: extras, expenses, drives."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.form import describe
from joblog.model import Beside, BesideLine, BookEntry


def beside_of(entries: Sequence[BookEntry], zone: ZoneInfo) -> Beside:
    """Every extra, expense and drive that stands without a doubt, and their sums, exactly."""
    lines = tuple(_lines(entries, zone))
    extras = [line for line in lines if line.kind == "extra"]
    return Beside(
        lines,
        to_charge=_money(line.price for line in extras),
        unpriced=sum(line.price is None for line in extras),
        extra_hours=_sum(line.hours for line in extras),
        spent=_money(line.price for line in lines if line.kind == "expense"),
        miles=_sum(line.miles for line in lines),
        driven_minutes=_sum(line.minutes for line in lines),
    )


def _lines(entries: Sequence[BookEntry], zone: ZoneInfo) -> Iterable[BesideLine]:
    for kept in sorted(entries, key=lambda one: (one.at, one.id)):
        said = kept.entry
        if kept.open or said.kind not in ("extra", "expense", "drive"):
            continue
        yield BesideLine(
            said.kind,
            kept.at.astimezone(zone).date(),
            said.note or describe(said),
            said.price,
            said.hours,
            said.miles,
            said.minutes if said.kind == "drive" else None,
            said.who,
            kept.id,
        )


def _money(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), Decimal(0))


def _sum(amounts: Iterable[Fraction | None]) -> Fraction:
    return sum((amount for amount in amounts if amount is not None), Fraction(0))
