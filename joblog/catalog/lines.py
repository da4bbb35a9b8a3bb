"""The starter catalog: plain generic items and tasks for eaves and walls, as people say them.

Its sizes and rates are common practice. Its nail counts are those of common wire nails (a public
table of penny sizes, which what a pound of such wire makes bears out within 5 %) or, for other
nails, rough figures from memory, as is the open area of vented panels: the box knows better. It has
no prices.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from joblog.model import Amount, Catalog, Item, Task


def starter_catalog() -> Catalog:
    """What a book starts with."""
    return Catalog(_STARTER, _TASKS)


def starter() -> tuple[Item, ...]:
    """Items that any job may speak of. A plan's own items come before these.

    Stock lengths are common practice in the trade: twelve-foot soffit, channel and siding, ten
    and twelve-foot trim.
    """
    return _STARTER


def with_item(catalog: Catalog, item: Item) -> Catalog:
    """The catalog with this item in the place of the one of its name, or at the end."""
    names = [known.name for known in catalog.items]
    if item.name not in names:
        return replace(catalog, items=(*catalog.items, item))
    at = names.index(item.name)
    return replace(catalog, items=(*catalog.items[:at], item, *catalog.items[at + 1 :]))


def with_task(catalog: Catalog, task: Task) -> Catalog:
    """The catalog with this task in the place of the one of its name, or at the end."""
    names = [known.name for known in catalog.tasks]
    if task.name not in names:
        return replace(catalog, tasks=(*catalog.tasks, task))
    at = names.index(task.name)
    return replace(catalog, tasks=(*catalog.tasks[:at], task, *catalog.tasks[at + 1 :]))


def spelled(catalog: Catalog, name: str) -> str:
    """A name as the catalog spells it, else as the starter does, else in lower case: capitals are
    no difference, and "j channel" is the J channel."""
    words = " ".join(name.lower().split())
    lines: tuple[Item | Task, ...] = (*catalog.items, *catalog.tasks)
    own = next((line.name for line in lines if line.name.lower() == words), None)
    return own or _SPELLED.get(words, words)


def without(catalog: Catalog, name: str) -> Catalog:
    """The catalog without the item or task of that name. Raises ValueError when it has none."""
    own = spelled(catalog, name)
    items = tuple(item for item in catalog.items if item.name != own)
    tasks = tuple(task for task in catalog.tasks if task.name != own)
    if (items, tasks) == (catalog.items, catalog.tasks):
        raise ValueError(f"the catalog has no {name!r}")
    return Catalog(items, tasks)


def _item(
    name: str,
    unit: str,
    spoken: str = "",
    feet: int | None = None,
    *,
    cut: bool = False,
    covers: str = "",
    per_pound: int | None = None,
    longer: tuple[int, ...] = (),
    of: str = "",
    size: str = "",
    profile: str = "",
    open_area: int | None = None,
    counted: bool = False,
) -> Item:
    """`cut`: it is sawn to length, so that kerf and offcuts count; `of`: what it is one of;
    `open_area`: square inches a foot."""
    quantity, _, covered = covers.partition(" ")
    return Item(
        name,
        unit,
        tuple(part.strip() for part in spoken.split(",") if part.strip()),
        stock_length=Fraction(feet * 12) if feet else None,
        other_lengths=tuple(Fraction(other * 12) for other in longer),
        covers=Amount(Fraction(quantity), covered) if covers else None,
        kerf=Fraction(1, 8) if cut else None,
        least_offcut=Fraction(12) if cut else None,
        per_pound=Fraction(per_pound) if per_pound else None,
        open_area=Fraction(open_area) if open_area else None,
        counted=counted,
        variant_of=of,
        size=size,
        profile=profile,
    )


def _lumber(thick: str, wide: str, feet: int, longer: tuple[int, ...]) -> Item:
    """A board by its nominal size, which is what it is called by: "two by four", "2x4"."""
    size = f"{_FIGURES[thick]}x{_FIGURES[wide]}"
    wides = f"{wide}es" if wide == "six" else f"{wide}s"
    spoken = f"{_FIGURES[thick]} by {_FIGURES[wide]}, {size}, {thick} by {wides}"
    return _item(f"{thick} by {wide}", "stick", spoken, feet, cut=True, longer=longer, size=size)


_FIGURES = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "six": 6,
    "eight": 8,
    "ten": 10,
    "twelve": 12,
}


_COMMON_NAILS = (
    (4, 315), (5, 270), (6, 180), (8, 105), (10, 70), (12, 65), (16, 50), (20, 30),
)  # fmt: skip

_STARTER = (
    _item(
        "soffit panel", "sheet", "soffit, soffit panels, soffit board, soffit metal", 12, cut=True
    ),
    *(
        _item(
            f"{profile} soffit panel",
            "sheet",
            f"{profile} soffit, {profile} panel, {profile} panels",
            12,
            cut=True,
            of="soffit panel",
            profile=profile,
            open_area=open_area,
        )
        for profile, open_area in (("vented", 8), ("solid", None))
    ),
    _item("F channel", "stick", "wall channel, channel, f-channel, wall channels", 12, cut=True),
    _item("J channel", "stick", "j-channel, jay channel, j, jay, j trim, j mold", 12, cut=True),
    _item("H trim", "stick", "h channel, h mold, divider", 12, cut=True),
    _item("fascia", "stick", "fascia board, fascia trim, fascia metal", 12, cut=True),
    _item("frieze board", "stick", "frieze", 12, cut=True),
    _item(
        "trim coil",
        "roll",
        "coil, coil stock, metal coil, aluminum coil, trim metal",
        covers="50 ft",
    ),
    _item("starter strip", "stick", "starter, starter strips", 12, cut=True),
    _item(
        "siding panel", "sheet", "siding, vinyl siding, siding panels", 12, cut=True, covers="8 ft2"
    ),
    _item("corner post", "stick", "corner posts, outside corner, inside corner", 10, cut=True),
    _item("inside corner post", "stick", "inside corner posts", 10, cut=True),
    _item(
        "undersill trim", "stick", "under sill, undersill, utility trim, finish trim", 12, cut=True
    ),
    _item("drip edge", "stick", "drip edges, drip, drip edge metal, eave drip", 10, cut=True),
    _item("drip cap", "stick", "head flashing, window cap", 10, cut=True),
    _item("flashing", "roll", "step flashing, metal flashing"),
    _item("house wrap", "roll", "housewrap, wrap", covers="900 ft2"),
    _item(
        "trim nails", "lb", "trim nail, painted nails, finish nails, finishing nails", per_pound=420
    ),
    _item("roofing nails", "lb", "roofing nail", per_pound=180),
    _item("siding nails", "lb", "nails, box nails", per_pound=180),
    *(
        _item(
            f"{size}d common nails",
            "lb",
            "commons, framing nails, sinkers",
            per_pound=count,
            of="common nails",
            size=f"{size}d",
        )
        for size, count in _COMMON_NAILS
    ),
    _item("screws", "lb", "deck screws, trim screws, wood screws, sheet metal screws"),
    _item("staples", "box", "staple, t fifty staples, crown staples"),
    _item("gutter", "stick", "gutters", 10, cut=True, longer=(16, 20)),
    _item("downspout", "stick", "downspouts, down spout", 10, cut=True),
    _item("gutter hanger", "each", "hangers, hanger, gutter hangers"),
    _item("downspout strap", "each", "downspout straps"),
    _item("gutter outlet", "each", "outlets, outlet, drop outlet", counted=True),
    *(
        _item(
            f"{way} gutter corner",
            "each",
            f"{way} miter, {way} miter box",
            counted=True,
        )
        for way in ("outside", "inside")
    ),
    _item("elbow", "each", "elbows", counted=True),
    _item("end cap", "each", "end caps", counted=True),
    _item("soffit vent", "each", "vents, vent, soffit vents"),
    _item("gable vent", "each", "gable vents, louver, louvers"),
    _item("shutter", "pair", "shutters"),
    _item(
        "backing",
        "stick",
        "nailer, nailers, backing lumber, blocking",
        8,
        cut=True,
        longer=(10, 12, 16),
    ),
    *(_lumber("two", wide, 8, (10, 12, 16)) for wide in ("four", "six", "eight", "ten", "twelve")),
    *(
        _lumber("one", wide, 12, (8, 10, 16))
        for wide in ("six", "eight", "two", "three", "four", "ten", "twelve")
    ),
    *(
        _item(
            f"{side} by {side} post",
            "stick",
            f"{side} by {many}, {_FIGURES[side]}x{_FIGURES[side]} post, {side} by {side} posts",
            8,
            cut=True,
            longer=(10, 12),
            size=f"{_FIGURES[side]}x{_FIGURES[side]}",
        )
        for side, many in (("four", "fours"), ("six", "sixes"))
    ),
    _item("plywood", "sheet", "ply", covers="32 ft2"),
    _item("sheathing", "sheet", "o s b, osb", covers="32 ft2"),
    _item("drywall", "sheet", "sheet rock, sheetrock", covers="32 ft2"),
    _item("insulation", "bundle", "batts, insulation batts"),
    _item("shingles", "bundle", "shingle"),
    _item("felt", "roll", "felt paper, tar paper"),
    _item("caulk", "tube", "caulking, sealant, tubes of caulk"),
    _item("paint", "gal", ""),
    _item("primer", "gal", ""),
)

_TASKS = (
    Task("hang soffit", ("hung soffit",), "ft", Fraction(8)),
    Task("hang ceiling", ("hung the ceiling",), "ft2", Fraction(12)),
    Task("wrap fascia", ("wrapped fascia", "hung fascia"), "ft", Fraction(15)),
    Task("hang siding", ("hung siding",), "ft2", Fraction(30)),
    Task("hang gutter", ("hung gutter", "hung gutters"), "ft", Fraction(15)),
)

_LINES: tuple[Item | Task, ...] = (*_STARTER, *_TASKS)
_SPELLED = {line.name.lower(): line.name for line in reversed(_LINES)}
