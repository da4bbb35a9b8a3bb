"""A paper as one HTML file that needs nothing else, no script, no address outside; its drawings
alone as one SVG file."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template

from joblog.papers.blocks import Paper
from joblog.papers.data import laid


def as_html(paper: Paper) -> str:
    """The whole page; every text of the paper is shown as it is written."""
    made = laid(paper)
    style = _file("paper.css")
    return _template("paper.html.jinja").render(
        paper=made.paper,
        images=[_address(image) for image in made.images],
        style=style,
        style_hash=b64encode(sha256(style.encode()).digest()).decode(),
    )


def as_svg(paper: Paper) -> str:
    """The drawings of a paper, one below the other."""
    made = laid(paper).paper
    drawings = [block for block in made["blocks"] if block["is"] == "Drawing"]
    below = [_APART]
    for block in drawings:
        below.append(below[-1] + block["height"] + 2 * _APART)
    return (
        _template("drawings.svg.jinja")
        .render(
            paper=made,
            placed=list(zip(drawings, below, strict=False)),
            wide=max((block["width"] for block in drawings), default=0) + 2 * _APART,
            high=below[-1],
            apart=_APART,
        )
        .lstrip()
    )


_APART = 24.0
"""Between two drawings in one file, and around them, in their own units."""


def _address(image: bytes) -> str:
    kind = "png" if image.startswith(b"\x89PNG") else "jpeg"
    return f"data:image/{kind};base64,{b64encode(image).decode()}"


@cache
def _template(name: str) -> Template:
    # What fills it is escaped wherever it stands, and a name that is not there is an error.
    room = Environment(
        loader=FunctionLoader(_file),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return room.get_template(name)


def _file(name: str) -> str:
    # One line end on every system: the page's policy holds a hash of its style.
    return files("joblog.papers").joinpath(name).read_text("utf-8").replace("\r\n", "\n")
