"""A small job to bid on, for tests: one eave and one gable, made up."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    BidBasis,
    BidGround,
    BidPart,
    Item,
    Plan,
    PlannedItem,
    PlannedTask,
    Task,
)

PANEL = Item("soffit panel", "sheet", stock_length=Fraction(144))
NAILS = Item("trim nails", "each", pack=Fraction(500), pack_name="box")
HANG = Task("hang soffit", unit="ft", crew=1)

PARTS = (
    BidPart("north eave", "boxed eave", Fraction(41)),
    BidPart("east gable", "gable", Fraction(24)),
)


def basis(
    *,
    chances: bool = True,
    panel_price: str | None = "31.25",
    hourly: str | None = "40",
) -> BidBasis:
    """9 panels (8 net, 1/2 cutoffs, 1/2 waste), 820 nails, 13 man-hours for 65 ft."""
    panels = tuple(float(8.5 + one / 100) for one in range(100))
    hours = tuple(10 + 6 * one / 99 for one in range(100))
    return BidBasis(
        Plan(
            (
                PlannedItem(
                    PANEL,
                    Fraction(9),
                    None if panel_price is None else Decimal(panel_price),
                    net=Fraction(8),
                    offcut=Fraction(1, 2),
                    source="4 jobs, 1 to 11 %",
                ),
                PlannedItem(NAILS, Fraction(820), Decimal("0.015"), net=Fraction(820)),
            ),
            (
                PlannedTask(
                    HANG,
                    Fraction(13),
                    None if hourly is None else Decimal(hourly),
                    Fraction(65),
                    "6 jobs",
                ),
            ),
            ("north eave", "east gable"),
        ),
        PARTS,
        (
            BidGround(
                "soffit panel", (Fraction(2, 3), Fraction(1, 3)), panels if chances else (), 4
            ),
            BidGround("trim nails", (Fraction(41, 65), Fraction(24, 65))),
        ),
        (
            BidGround(
                "hang soffit", (Fraction(41, 65), Fraction(24, 65)), hours if chances else (), 6
            ),
        ),
    )
