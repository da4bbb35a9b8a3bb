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


def as_pdf(paper: Paper, size: Size = "letter") -> bytes:
    """The same paper always gives the same bytes; its text can be searched and copied.

    Latin, Greek and Cyrillic are set in fonts that come along. Where other signs stand in it, the
    fonts of this computer are used as well, it may look otherwise elsewhere, and it says so at its
    end.
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
        return typst.compile(
            room / "main.typ", root=room, format="pdf", ignore_system_fonts=not strange
        )


def _suffix(image: bytes) -> str:
    return "png" if image.startswith(b"\x89PNG") else "jpg"


_BEYOND = re.compile(
    r"[^\u0000-\u024f\u0259\u02b0-\u03ff\u0400-\u052f\u1e00-\u1eff\u2000-\u218f\u2190-\u21ff\u2200-\u22ff\u2500-\u25ff]"
)
"""Signs that the fonts which come along may lack."""

_TOLD = 20
"""Such signs that are named at the end."""
