"""What a person says of an order: allowances, what is on hand, what running short may cost."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from joblog.catalog.naming import surely_called
from joblog.catalog.read_csv import HIGHEST_TAX
from joblog.model import Item, OrderCosts, StockLength
from joblog.named import under_names
from joblog.ordering.foresee import Need
from joblog.quantity import about, fraction_of, inches_of, money_of
from joblog.reason import BeyondReason, check

RISK = 0.10
"""Of running short, where earlier jobs tell how much is needed and nobody says a risk."""


@dataclass(frozen=True, slots=True)
class Shares:
    """Allowances as shares of gross: by item name, and for all other items if one was said."""

    items: dict[str, Fraction]
    usual: Fraction | None = None


def shares_of(texts: Sequence[str]) -> Shares:
    """Allowances as a person says them, in percent: "7%", "fascia=10%". Raises ValueError."""
    shares = Shares({})
    for text in texts:
        name, equals, percent = text.rpartition("=")
        share = fraction_of(percent.strip().removesuffix("%")) / 100
        if not 0 <= share <= 1:
            raise ValueError(f"an allowance of {percent.strip()} is not between 0 and 100%")
        if equals and _name(name) in shares.items:
            raise ValueError(f"an allowance for {_name(name)} is said twice; say it once")
        if equals:
            shares.items[_name(name)] = share
        else:
            shares = replace(shares, usual=share)
    return shares


def stakes_of(
    risk: str | None, trip: str | None, missing: str | None, left_over: str | None
) -> tuple[float | None, OrderCosts | None]:
    """What may be risked, as a person says it: a chance of running short, or what mistakes cost.

    At most one of `risk` ("10%"), `trip` (the money that one trip for all that is missing costs)
    and `missing` (the money that each pack missing costs); the last two with `left_over`, the
    money that each pack left over costs. Raises ValueError.
    """
    if sum(text is not None for text in (risk, trip, missing)) > 1:
        raise ValueError("say one of --risk, --trip and --missing")
    if risk is not None:
        share = fraction_of(risk.strip().removesuffix("%")) / 100
        if not Fraction(1, 1000) <= share <= Fraction(999, 1000):
            raise ValueError(f"a risk of {risk.strip()} is not between 0.1% and 99.9%")
        return float(share), None
    dearer = trip if trip is not None else missing
    if dearer is None and left_over is None:
        return None, None
    if dearer is None or left_over is None:
        raise ValueError("--left-over goes with --trip or --missing; say what both cost")
    costs = OrderCosts(money_of(dearer), money_of(left_over), once=trip is not None)
    if costs.second_trip <= 0 or costs.left_over <= 0:
        raise ValueError("a second trip and a pack left over must cost something")
    return None, costs


def stakes_in_words(
    risk: float | None, costs: OrderCosts | None, chance_any: float, saved: float = 0.0
) -> str:
    """What an order was made at, the chance that anything of it is missing, and how much of its
    cost a better one could save at most, in words."""
    often = percent(Fraction(round(chance_any * 1000), 1000))
    if costs is None:
        share = percent(Fraction(RISK if risk is None else risk).limit_denominator(100_000))
        usual = " (usual; say --risk for another)" if risk is None else ""
        words = (
            f"ordered so that anything at all is missing on at most {share} of such jobs{usual}; "
            f"with these packs something is on {often}"
        )
    elif costs.once:
        words = (
            f"ordered at the least cost of all of it: a trip for all that is missing "
            f"{costs.second_trip}, each pack left over {costs.left_over}; something is missing on "
            f"{often} of such jobs"
        )
    else:
        words = (
            f"ordered at the least cost of each item: each pack missing {costs.second_trip}, each "
            f"pack left over {costs.left_over}; something is missing on {often} of such jobs"
        )
    if saved >= 0.001:
        best = percent(Fraction(round(saved * 1000), 1000))
        words += f". The search for the best stopped early; it could save at most {best}"
    return words


def counts_of(texts: Sequence[str]) -> dict[str, Fraction]:
    """What is on hand as a person says it: "soffit panel=3". Raises ValueError."""
    counts: dict[str, Fraction] = {}
    for text in texts:
        name, equals, count = text.rpartition("=")
        if not equals:
            raise ValueError(f"{text!r} is written like soffit panel=3")
        if _name(name) in counts:
            raise ValueError(f"{_name(name)} is said twice; say it once")
        counts[_name(name)] = fraction_of(count)
        if counts[_name(name)] < 0:
            raise ValueError(f"{text!r} is below zero")
    return counts


def cutoffs_of(texts: Sequence[str]) -> dict[str, tuple[StockLength, ...]]:
    """Cutoffs on hand as a person says them: "F channel=63.5", "F channel=63.5 x 2", in inches
    where no unit is said. Raises ValueError."""
    lengths: dict[str, tuple[StockLength, ...]] = {}
    for text in texts:
        name, equals, said = text.rpartition("=")
        found = _CUTOFF.fullmatch(said.strip())
        if not equals or found is None:
            raise ValueError(f"{text!r} is written like F channel=63.5 x 2")
        length, pieces = inches_of(found["length"]), int(found["pieces"] or 1)
        if length <= 0 or not pieces:
            raise ValueError(f"{text!r} is no cutoff; it has no length, or there are none of it")
        name = _name(name)
        lengths[name] = (*lengths.get(name, ()), StockLength(length, pieces, offcut=True))
    return lengths


_CUTOFF = re.compile(r"(?P<length>.+?)(?:\s+x\s*(?P<pieces>\d{1,4}))?", re.IGNORECASE)


def tax_of(text: str) -> Fraction:
    """Sales tax as a person says it, in percent: "8.25%". Raises ValueError."""
    share = fraction_of(text.strip().removesuffix("%")) / 100
    if not 0 <= share <= HIGHEST_TAX:
        raise ValueError(
            f"a sales tax of {text.strip()} is not between 0 and {about(HIGHEST_TAX * 100)}%"
        )
    return share


Said = TypeVar("Said")


def in_order(
    said: Mapping[str, Said],
    needs: Sequence[Need],
    catalog: Sequence[Item],
    asked: Sequence[Item] = (),
) -> dict[str, Said]:
    """What was said by name, under the names of what is needed or `asked` for: their own, or what
    they are spoken of by. Raises ValueError, with the nearest names, for any other."""
    items = [*(need.item for need in needs), *asked]
    names = [item.name for item in items]
    return under_names(said, names, "this order", surely_called(items, catalog))


def check_on_hand(
    on_hand: Mapping[str, Fraction], needs: Sequence[Need], *, sure: bool = False
) -> None:
    """Raises BeyondReason for more on hand than any job has, unless a person is `sure`."""
    units = {need.item.name: need.item.unit for need in needs}
    for name, number in on_hand.items():
        try:
            check("quantity", number, units.get(name, ""), sure=sure)
        except BeyondReason as error:
            raise BeyondReason(f"{name} on hand: {error}") from None


def percent(share: Fraction) -> str:
    """A share in words: 0.05 is "5 %"."""
    return f"{about(share * 100, 2)} %"


def _name(text: str) -> str:
    return " ".join(text.lower().split())
