"""What a paper is made of: blocks, one after the other, for HTML and PDF alike.

Every string is plain text and is shown as it is written; nothing in it is ever markup. A line
feed in it is a new line, nothing else in it has a meaning.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Level = Literal[1, 2]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; 1 is a part of the paper, 2 a part of that part."""

    text: str
    level: Level = 1


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph."""

    text: str
    small: bool = False
    """Beside the matter: where a figure came from, what was left out."""


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and their values, one under the other: (name, value)."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Headings and rows of cells, every row as long as the headings."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    right: frozenset[int] = frozenset()
    """Columns of numbers, counted from 0: they stand to the right and are never wrapped."""
    total: bool = False
    """The last row is a sum of those above it."""
    widths: tuple[float, ...] = ()
    """How wide the columns are beside each other; () leaves it to what stands in them."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture, a JPEG or PNG that was made for this paper, never an original."""

    image: bytes = field(repr=False)
    alt: str
    """What it shows, in words, for those who cannot see it."""
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """Pictures in rows of `across`."""

    pictures: tuple[Picture, ...]
    across: int = 3


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line, in the drawing's own units, y downwards."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float = 1.0
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle; `shade` is how dark it is filled, 0 white to 1 black, None not at all."""

    x: float
    y: float
    width: float
    height: float
    shade: float | None = None
    border: bool = True


@dataclass(frozen=True, slots=True)
class Label:
    """Words in a drawing, `size` high, its base line at `y`."""

    x: float
    y: float
    text: str
    size: float = 10.0
    anchor: Literal["start", "middle", "end"] = "start"


@dataclass(frozen=True, slots=True)
class Drawing:
    """Lines, boxes and words on a field of `width` by `height`; as wide as the page at most."""

    width: float
    height: float
    shapes: tuple[Line | Box | Label, ...]
    alt: str
    """What it shows, in words."""
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Warning:
    """What a reader must not miss: a caution, something doubtful, something left out."""

    text: str


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows begins on a new page."""


Block = Heading | Text | Facts | Table | Pictures | Drawing | Warning | PageBreak


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: its title, a few facts at its head, and its blocks."""

    title: str
    about: tuple[tuple[str, str], ...] = ()
    """What it is about, at the head of the first page: (name, value)."""
    blocks: tuple[Block, ...] = ()
    footer: str = ""
    """Stands at the foot of each page, beside its number: the job and the paper in a few words."""
    language: str = "en"
