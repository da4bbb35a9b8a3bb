"""A paper as PDF, for printing and for handing over."""

from __future__ import annotations

import base64
import json
import re
from io import BytesIO
from pathlib import Path
from typing import Any, Literal

import typst
from PIL import Image

from joblog.papers.blocks import Paper
from joblog.papers.data import laid

Size = Literal["letter", "A4"]


class PaperError(Exception):
    """A paper that cannot be a PDF; in words for a person."""


def as_pdf(paper: Paper, size: Size = "letter") -> bytes:
    """The same paper always gives the same bytes; its text can be searched and copied.

    Latin, Greek and Cyrillic are set in fonts that come along. Where other signs stand in it, the
    fonts of this computer are used as well, it may look otherwise elsewhere, and it says so at its
    end. Raises PaperError for a picture that is none.
    """
    made = laid(paper)
    content = json.dumps(made.paper, ensure_ascii=False)
    strange = sorted(set(_BEYOND.findall(content)))
    told = {
        "paper": made.paper,
        "size": {"letter": "us-letter", "A4": "a4"}[size],
        "strange": strange[:_TOLD],
    }
    # The texts come as data beside the template: nothing in them is ever read as a command. All of
    # it is in memory, so that nothing of a paper lies where others might find it; besides, it may
    # read nothing but this room.
    room = Path(__file__).parent
    try:
        beside: Any = {
            "main.typ": (room / "paper.typ").read_bytes(),
            "paper.json": json.dumps(told).encode(),
            **{f"{at}.svg": _within_text(image) for at, image in enumerate(made.images)},
        }
        return typst.compile(beside, root=room, format="pdf", ignore_system_fonts=not strange)
    except (RuntimeError, OSError) as error:
        why = f"the PDF cannot be made ({error}); as a page for the browser it may do"
        raise PaperError(why) from None


def _within_text(image: bytes) -> bytes:
    """The picture in a drawing that holds nothing else: only texts can be handed over in memory.

    It comes out as it was, byte for byte. Raises OSError for a picture that is none.
    """
    with Image.open(BytesIO(image), formats=_FORMS) as opened:
        (width, height), form = opened.size, opened.format
    size = f'width="{width}" height="{height}"'
    content = base64.b64encode(image).decode()
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {width} {height}"><image'
        f' {size} href="data:image/{str(form).lower()};base64,{content}"/></svg>'
    ).encode()


_FORMS = ("JPEG", "PNG")

OURS = (
    "\n\u0020-\u007e\u00a0-\u024f\u0259\u02b0-\u02be\u02c6-\u02dd\u0300-\u0304\u0306-\u030c"
    "\u0323\u0327\u0328\u0384-\u038a\u038c\u038e-\u03a1\u03a3-\u03ff\u0400-\u04ff\u1e00-\u1eff"
    "\u2010-\u2027\u202f-\u2040\u2044\u2070\u2071\u2074-\u208e\u20a0-\u20b9\u2116\u2122\u2126"
    "\u2150\u2151\u2153-\u215f\u2190-\u2199\u2200-\u2214\u2219-\u221e\u2248\u2260-\u2265"
    "\u2500-\u25ff\u2610-\u2612\u2713-\u2718"
)
"""Signs that the fonts which come along have, as a class of a regular expression."""

_BEYOND = re.compile(f"[^{OURS}]")

_TOLD = 20
"""Such signs that are named at the end."""
