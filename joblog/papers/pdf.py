"""A paper as PDF, for printing and for handing over."""

from __future__ import annotations

from typing import Literal

from joblog.papers.blocks import Paper

Size = Literal["letter", "A4"]


def as_pdf(paper: Paper, size: Size = "letter") -> bytes:
    """The same paper always gives the same bytes; its text can be searched and copied."""
    raise NotImplementedError
