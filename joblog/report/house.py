"""A house as a table: for a person side by side, and as the table that it is read from."""

from __future__ import annotations

from collections.abc import Iterator

from joblog.house.read_table import COLUMNS, rows_of
from joblog.house.scene import heights_of, soffit_of
from joblog.model import Body, House, Opening, Side
from joblog.quantity import feet_and_inches, tape
from joblog.report.table import Table


def house_table(house: House) -> Table:
    """What `joblog house` takes in."""
    rows = tuple(tuple(row[column] for column in COLUMNS) for row in rows_of(house))
    return Table(COLUMNS, rows)


def house_list(house: House) -> Table:
    """Side by side, in the order of the walk, each with the corner behind it."""
    rows = [row for body in house.bodies for row in _body(body)]
    for ceiling in house.ceilings:
        size = (feet_and_inches(ceiling.length), feet_and_inches(ceiling.width))
        open_sides = f"{ceiling.open_sides} open edges" if ceiling.open_sides else ""
        rows.append((ceiling.name, *size, "ceiling", "", "", open_sides))
    if house.attic is not None:
        rows.append(("attic", "", "", "", "", "", f"{tape(house.attic / 144)} ft2"))
    every = f"of every run: {', '.join(f'{name}={value}' for name, value in house.every)}"
    return Table(
        ("side", "length", "height", "top", "soffit", "corner", "in it"),
        tuple(rows),
        frozenset(("length", "height")),
        (every,) if house.every else (),
    )


def _body(body: Body) -> Iterator[tuple[str, ...]]:
    many = f" x {body.count}" if body.count > 1 else ""
    if body.name and (body.name != "main" or many):
        yield (f"{body.name}{many}:", "", "", "", "", "", "")
    for number, side in enumerate(body.sides, 1):
        yield (
            side.name or f"side {number}",
            feet_and_inches(side.length),
            heights_of(side),
            f"gable {tape(side.pitch)}/12" if side.pitch is not None else side.top,
            soffit_of(side),
            side.corner,
            ", ".join(_in_it(side)),
        )


def _in_it(side: Side) -> Iterator[str]:
    if side.gutter:
        yield "gutter"
    if not side.siding:
        yield "no siding"
    for opening in side.openings:
        yield _opening(opening)
    for one in side.interruptions:
        span = f"{feet_and_inches(one.at)} to {feet_and_inches(one.at + one.length)}"
        yield f"{one.what or 'interrupted'} from {span}"


def _opening(opening: Opening) -> str:
    many = f"{opening.count} " if opening.count > 1 else ""
    plural = "s" if opening.count > 1 else ""
    kind = "opening" if opening.kind == "other" else opening.kind
    size = f"{feet_and_inches(opening.width)} x {feet_and_inches(opening.height)}"
    return f"{many}{kind}{plural} {size}"
