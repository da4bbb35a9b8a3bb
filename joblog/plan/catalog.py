"""The starter catalog: plain generic items for eaves and walls, as people say them."""

from __future__ import annotations

from fractions import Fraction

from joblog.model import Item


def starter() -> tuple[Item, ...]:
    """Items that any job may speak of. A plan's own items come before these.

    Stock lengths are common practice in the trade: twelve-foot soffit, channel and siding, ten
    and twelve-foot trim.
    """
    return _STARTER


def _item(
    name: str, unit: str, spoken: str = "", feet: int | None = None, **also: int | Fraction
) -> Item:
    return Item(
        name,
        unit,
        tuple(part.strip() for part in spoken.split(",") if part.strip()),
        tuple((other, Fraction(count)) for other, count in also.items()),
        Fraction(feet * 12) if feet else None,
    )


_STARTER = (
    _item("soffit panel", "sheet", "soffit, soffit panels, vented soffit, solid soffit", 12),
    _item("wall channel", "stick", "channel, f channel, wall channels", 12),
    _item("j channel", "stick", "j-channel, jay channel", 12),
    _item("fascia", "stick", "fascia board, fascia trim, fascia metal", 12),
    _item("frieze board", "stick", "frieze", 12),
    _item("trim coil", "roll", "coil, coil stock, roll of coil"),
    _item("starter strip", "stick", "starter, starter strips", 12),
    _item("siding panel", "sheet", "siding, vinyl siding, siding panels", 12),
    _item("corner post", "stick", "corner posts, outside corner, inside corner", 10),
    _item("undersill trim", "stick", "under sill, undersill, utility trim, finish trim", 12),
    _item("drip edge", "stick", "drip edges", 10),
    _item("flashing", "roll", "step flashing, metal flashing"),
    _item("house wrap", "roll", "housewrap, wrap"),
    _item("trim nails", "lb", "painted nails, finish nails"),
    _item("roofing nails", "lb", "roofing nail"),
    _item("siding nails", "lb", "nails, box nails"),
    _item("screws", "lb", "deck screws, trim screws"),
    _item("staples", "box", "staple"),
    _item("gutter", "stick", "gutters", 10),
    _item("downspout", "stick", "downspouts, down spout", 10),
    _item("gutter hanger", "each", "hangers, hanger, gutter hangers"),
    _item("elbow", "each", "elbows"),
    _item("soffit vent", "each", "vents, vent, soffit vents"),
    _item("gable vent", "each", "gable vents, louver, louvers"),
    _item("shutter", "pair", "shutters"),
    _item("backing", "stick", "nailer, nailers, backing lumber, blocking"),
    _item("two by four", "stick", "2 by 4, 2x4, two by fours, 2 by 4s"),
    _item("two by six", "stick", "2 by 6, 2x6, two by sixes"),
    _item("one by six", "stick", "1 by 6, 1x6"),
    _item("one by eight", "stick", "1 by 8, 1x8"),
    _item("plywood", "sheet", "ply"),
    _item("sheathing", "sheet", "o s b, osb"),
    _item("drywall", "sheet", "sheet rock, sheetrock"),
    _item("insulation", "bundle", "batts, insulation batts"),
    _item("shingles", "bundle", "shingle"),
    _item("felt", "roll", "felt paper, tar paper"),
    _item("caulk", "tube", "caulking, sealant, tubes of caulk"),
    _item("paint", "gal", ""),
    _item("primer", "gal", ""),
)
