"""A paper as one HTML file that needs nothing else: no script, no address outside."""

from __future__ import annotations

from joblog.papers.blocks import Paper


def as_html(paper: Paper) -> str:
    """The whole page; every text of the paper is shown as it is written."""
    raise NotImplementedError
