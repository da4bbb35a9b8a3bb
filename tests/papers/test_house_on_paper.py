"""The house on paper, and its drawings alone as one file."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

from joblog.model import House, Job
from joblog.papers.blocks import Drawing, Label, Warning
from joblog.papers.house import house_paper
from joblog.papers.html import as_html, as_svg
from joblog.papers.pdf import as_pdf
from tests.house.test_drawn import MAIN

JOB = Job("Mill house", "America/Chicago")
SVG = "{http://www.w3.org/2000/svg}"


def test_every_side_is_drawn_from_above_and_from_outside() -> None:
    paper = house_paper(JOB, House((MAIN,)))
    plan, *sides = (block for block in paper.blocks if isinstance(block, Drawing))
    words = [shape.text for shape in plan.shapes if isinstance(shape, Label)]
    assert words == [
        "front 42'", "left 28'", "back 26'", "wing side 12'", "wing back 16'", "right 40'",
    ]  # fmt: skip
    assert [side.caption.partition(":")[0] for side in sides] == [one.name for one in MAIN.sides]


def test_everything_lies_on_the_field_of_its_drawing() -> None:
    for block in house_paper(JOB, House((MAIN,))).blocks:
        if isinstance(block, Drawing):
            for shape in block.shapes:
                if not isinstance(shape, Label):
                    assert 0 <= shape.x1 <= block.width  # type: ignore[union-attr]
                    assert 0 <= shape.y2 <= block.height  # type: ignore[union-attr]


def test_what_a_walk_lacks_is_told_first() -> None:
    paper = house_paper(JOB, House((MAIN,)), ["the walk does not close to the inch"])
    assert paper.blocks[0] == Warning("the walk does not close to the inch")


def test_the_drawings_alone_are_one_file_in_which_names_are_text() -> None:
    hostile = replace(MAIN, sides=(replace(MAIN.sides[0], name="<script>&"), *MAIN.sides[1:]))
    paper = house_paper(replace(JOB, name='"><b>'), House((hostile,)))
    tree = ET.fromstring(as_svg(paper))
    texts = [one.text for one in tree.iter(f"{SVG}text")]
    assert any(text and text.startswith("<script>& 42'") for text in texts)
    assert tree.find(f"{SVG}title").text == '"><b>: the house'  # type: ignore[union-attr]
    assert {one.tag.removeprefix(SVG) for one in tree.iter()} <= {
        "svg", "title", "rect", "g", "text", "line",
    }  # fmt: skip


def test_it_is_made_as_a_page_and_as_pdf() -> None:
    paper = house_paper(JOB, House((MAIN,)))
    assert as_html(paper).count("<svg ") == 1 + len(MAIN.sides)
    assert as_pdf(paper).startswith(b"%PDF")
