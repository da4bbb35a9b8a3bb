"""A sketch of the site in metres, without any map: as text for the terminal, and as SVG."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from string import ascii_uppercase
from xml.sax.saxutils import escape

from joblog.form import plain
from joblog.model import Sketch, Spot

LEAST = 10.0
"""Metres that a sketch is wide and high at least."""

ROWS = 24
"""Lines of the drawing in the terminal at most."""

TALL = 2.0
"""How much higher than wide a character is."""

MANY = "+"
"""Ten photos and more at one spot."""


def as_sketch(sketch: Sketch, width: int = 80) -> str:
    """The sketch in characters: a letter for each place, else how many photos are at a spot."""
    left, bottom, right, top = _extent(sketch)
    columns = max(20, width - 2)
    step = max((right - left) / (columns - 1), (top - bottom) / (ROWS - 1) / TALL)
    lines = int((top - bottom) / (step * TALL)) + 1

    def cell(spot: Spot) -> tuple[int, int]:
        return round((top - spot.north) / (step * TALL)), round((spot.east - left) / step)

    marks = {spot: mark for mark, spot in zip(_letters(), _places(sketch), strict=False)}
    counted = Counter(cell(spot) for spot in sketch.spots if spot.kind == "photo")
    shown = {at: str(many) if many < 10 else MANY for at, many in counted.items()}
    shown |= {cell(spot): mark for spot, mark in marks.items()}
    last = max(lines, 1 + max(row for row, _ in shown))
    wide = 1 + max(column for _, column in shown)
    drawing = [
        "".join(shown.get((row, column), " ") for column in range(wide)).rstrip()
        for row in range(last)
    ]
    return "\n".join([*drawing, "", *_legend(sketch, marks, step)])


def as_svg(sketch: Sketch, title: str) -> str:
    """The sketch as one SVG file, a unit a metre; names are text in it and never markup."""
    left, bottom, right, top = _extent(sketch)
    margin = max(right - left, top - bottom) * 0.15
    size = max(right - left, top - bottom) + 2 * margin
    wide, high = right - left + 2 * margin, top - bottom + 2 * margin
    bar, foot = _round_length(size / 4), margin * 0.6 - bottom
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<svg xmlns="http://www.w3.org/2000/svg" width="800"'
        f' viewBox="{left - margin:.2f} {-top - margin:.2f} {wide:.2f} {high:.2f}">\n'
        f"<title>{escape(plain(title))}</title>\n"
        f'<g font-family="sans-serif" font-size="{size / 40:.2f}"'
        f' stroke-width="{size / 400:.3f}">\n'
        + "\n".join(_shapes(sketch, size))
        + f'\n<path d="M{left:.2f} {foot:.2f}h{bar:g}" stroke="black"/>\n'
        f'<text x="{left:.2f}" y="{foot - size / 100:.2f}">{bar:g} m, north is up</text>\n'
        "</g>\n</svg>\n"
    )


def _shapes(sketch: Sketch, size: float) -> Iterator[str]:
    if sketch.fence is not None:
        east, north, radius = sketch.fence
        yield (
            f'<circle cx="{east:.2f}" cy="{-north:.2f}" r="{radius:.2f}" fill="none" stroke="grey"'
            ' stroke-dasharray="1 1"><title>fence</title></circle>'
        )
    for spot in sketch.spots:
        colour = "#1a6" if spot.kind == "place" else "#26c"
        told = escape(plain(", ".join(filter(None, (spot.label, spot.note)))))
        middle = f'cx="{spot.east:.2f}" cy="{-spot.north:.2f}"'
        yield (
            f'<circle {middle} r="{spot.error:.2f}" fill="{colour}" fill-opacity="0.1"/>'
            f'<circle {middle} r="{size / 120:.2f}" fill="{colour}">'
            f"<title>{told} (within {spot.error:.0f} m)</title></circle>"
        )
        if spot.kind == "place":
            yield (
                f'<text x="{spot.east + size / 80:.2f}" y="{-spot.north:.2f}">'
                f"{escape(plain(spot.label))}</text>"
            )


def _legend(sketch: Sketch, marks: dict[Spot, str], step: float) -> Iterator[str]:
    yield f"north is up; a column is {step:.1f} m, a line {step * TALL:.1f} m"
    for spot, mark in marks.items():
        yield f"{mark}  {plain(spot.label)}, within {spot.error:.0f} m"
    photos = sum(spot.kind == "photo" for spot in sketch.spots)
    yield f"1 to 9, {MANY}: photos taken there, {photos} in all" if photos else "no photos"
    if sketch.unplaced:
        yield f"{sketch.unplaced} more without a position"


def _extent(sketch: Sketch) -> tuple[float, float, float, float]:
    """West, south, east and north end of what is drawn; the fence may reach beyond."""
    east = [spot.east for spot in sketch.spots]
    north = [spot.north for spot in sketch.spots]
    wide = max(0.0, LEAST - (max(east) - min(east))) / 2
    high = max(0.0, LEAST - (max(north) - min(north))) / 2
    return min(east) - wide, min(north) - high, max(east) + wide, max(north) + high


def _places(sketch: Sketch) -> list[Spot]:
    return [spot for spot in sketch.spots if spot.kind == "place"]


def _letters() -> Iterator[str]:
    yield from ascii_uppercase
    while True:
        yield "@"


def _round_length(length: float) -> float:
    """A length of one, two or five tens, hundreds and so on, no longer than this."""
    power = 1.0
    while power * 10 <= length:
        power *= 10
    return next(power * step for step in (5, 2, 1) if power * step <= max(length, 1.0))
