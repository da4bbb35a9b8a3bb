"""A paper as PDF, for printing and for handing over."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

import typst

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
        "images": [_suffix(image) for image in made.images],
    }
    # The texts come as data beside the template: nothing in them is ever read as a command. It may
    # read nothing outside of its folder.
    with TemporaryDirectory(prefix="joblog-paper-") as folder:
        room = Path(folder)
        (room / "main.typ").write_bytes(files("joblog.papers").joinpath("paper.typ").read_bytes())
        (room / "paper.json").write_text(json.dumps(told), "utf-8")
        for number, image in enumerate(made.images):
            (room / f"{number}.{_suffix(image)}").write_bytes(image)
        try:
            return typst.compile(
                room / "main.typ", root=room, format="pdf", ignore_system_fonts=not strange
            )
        except RuntimeError as error:
            why = f"the PDF cannot be made ({error}); as a page for the browser it may do"
            raise PaperError(why) from None


def _suffix(image: bytes) -> str:
    return "png" if image.startswith(b"\x89PNG") else "jpg"


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
