"""What a customer is shown of a bid: the work, its price, what may be had beside it; no more."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from joblog.form import amount, on_a_tape
from joblog.model import Bid, Offer
from joblog.quantity import about


def offer_of(bid: Bid, *, by_place: bool = False) -> Offer:
    """The offer. It holds nothing of cost, hours, margin, waste or overhead, so that no paper made
    of it can. Raises ValueError, in words, while the bid lacks a price."""
    if bid.lacks:
        raise ValueError(f"{bid.job}: is no offer yet: {'; '.join(bid.lacks)}")
    return Offer(
        job=bid.job,
        day=bid.day,
        work=tuple(_work(bid)),
        places=tuple((place.name, place.price) for place in bid.places) if by_place else (),
        taken=tuple((extra.name, extra.price) for extra in bid.extras if extra.taken),
        price=bid.price,
        tax=bid.tax,
        tax_words=_tax(bid),
        total=bid.total,
        options=tuple((extra.name, extra.price) for extra in bid.extras if not extra.taken),
        left_out=bid.left_out,
        valid_until=bid.valid_until,
    )


def _work(bid: Bid) -> Iterator[tuple[str, str]]:
    """Each stretch of work, with its length where it has one; what a plan holds, by its names."""
    parts = [part for part in bid.basis.parts if part.place or part.work]
    if any(part.place for part in parts):
        for part in parts:
            yield part.place, f"{part.work}{_length(part.feet)}"
        return
    for task in bid.tasks:
        yield "", task.name


def _length(feet: Fraction | None) -> str:
    if not feet:
        return ""
    return f", {amount(feet)} ft" if on_a_tape(feet) else f", about {round(feet)} ft"


def _tax(bid: Bid) -> str:
    if bid.tax_on == "nothing":
        return ""
    rate = f"{about(bid.tax_share * 100, 4)} %"
    return f"{rate} tax on material" if bid.tax_on == "material" else f"{rate} tax"
