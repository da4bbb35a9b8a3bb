"""A paper as one HTML file that needs nothing else: no script, no address outside."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

from jinja2 import Environment, StrictUndefined, Template

from joblog.papers.blocks import Paper
from joblog.papers.data import laid


def as_html(paper: Paper) -> str:
    """The whole page; every text of the paper is shown as it is written."""
    made = laid(paper)
    style = _file("paper.css")
    return _template().render(
        paper=made.paper,
        images=[_address(image) for image in made.images],
        style=style,
        style_hash=b64encode(sha256(style.encode()).digest()).decode(),
    )


def _address(image: bytes) -> str:
    kind = "png" if image.startswith(b"\x89PNG") else "jpeg"
    return f"data:image/{kind};base64,{b64encode(image).decode()}"


@cache
def _template() -> Template:
    # What fills it is escaped wherever it stands, and a name that is not there is an error.
    room = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    return room.from_string(_file("paper.html.jinja"))


def _file(name: str) -> str:
    # One line end on every system: the page's policy holds a hash of its style.
    return files("joblog.papers").joinpath(name).read_text("utf-8").replace("\r\n", "\n")
