"""The house on paper: its plan and its sides with their measures, drawn to scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from joblog.house.scene import Scene, Word, elevations_of, plans_of
from joblog.model import House, Job
from joblog.papers.blocks import Block, Drawing, Heading, Label, Line, Paper, Text, Warning
from joblog.report.drawn import side_lines

WIDE = 480.0
"""Of a drawing, in its own units; the page makes it fit."""
HIGH = 300.0
ELEVATION_HIGH = 100.0
SIZE = 9.0
"""Of its letters."""


def house_paper(job: Job, house: House, notes: Sequence[str] = ()) -> Paper:
    """Every plan with a line on each of its sides, then each side that says how high it is.

    `notes` are what a person should know of the walk, such as that it does not close.
    """
    return Paper(
        f"{job.name}: the house",
        blocks=(*map(Warning, notes), *_blocks(house)),
        footer=f"{job.name}, the house as measured",
    )


def _blocks(house: House) -> Iterator[Block]:
    bodies = [body for body in house.bodies if body.sides]
    for body, scene in zip(bodies, plans_of(house), strict=True):
        yield Heading(scene.title)
        yield drawing_of(scene)
        for line in side_lines(body):
            yield Text(line, small=True)
    scenes = elevations_of(house)
    if scenes:
        yield Heading("Each side from outside, all in one scale")
    scale = min((_scale(scene, ELEVATION_HIGH) for scene in scenes), default=1.0)
    yield from (drawing_of(scene, scale) for scene in scenes)
    yield Text("Drawn from what was measured, to see a slip by; build by no drawing.", small=True)


def drawing_of(scene: Scene, scale: float | None = None) -> Drawing:
    """One scene, `scale` units to the inch; as large as fits where nobody says."""
    scale = _scale(scene, HIGH) if scale is None else scale
    left, bottom, right, top = scene.extent
    margin = SIZE * 2

    def x(across: float) -> float:
        return margin + (across - left) * scale

    def y(up: float) -> float:
        return margin + (top - up) * scale

    lines = tuple(
        Line(
            x(one.begins[0]),
            y(one.begins[1]),
            x(one.ends[0]),
            y(one.ends[1]),
            _WIDTHS[one.kind],
            dashed=one.kind in ("edge", "interrupted", "missing"),
        )
        for one in scene.strokes
    )
    labels = tuple(_label(word, x(word.at[0]), y(word.at[1])) for word in scene.words)
    return Drawing(
        2 * margin + (right - left) * scale,
        2 * margin + (top - bottom) * scale,
        (*lines, *labels),
        scene.title,
        scene.title,
    )


_WIDTHS = {"wall": 1.6, "edge": 0.6, "opening": 0.9, "interrupted": 2.4, "missing": 2.4}


def _scale(scene: Scene, high: float) -> float:
    left, bottom, right, top = scene.extent
    return min(WIDE / max(right - left, 1.0), high / max(top - bottom, 1.0))


def _label(word: Word, x: float, y: float) -> Label:
    """Within the walls, where no line of a soffit runs through it."""
    match word.beside:
        case "below":
            return Label(x, y - SIZE * 0.5, word.text, SIZE, "middle")
        case "above":
            return Label(x, y + SIZE * 1.3, word.text, SIZE, "middle")
        case "left":
            return Label(x + SIZE * 0.5, y, word.text, SIZE, "start")
        case "right":
            return Label(x - SIZE * 0.5, y, word.text, SIZE, "end")
    return Label(x, y + SIZE * 0.35, word.text, SIZE * 0.8, "middle")
