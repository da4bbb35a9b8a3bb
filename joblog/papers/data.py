"""A paper as plain data, which both of its writers fill their template with."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from joblog.form import plain
from joblog.papers.blocks import Paper


@dataclass(frozen=True, slots=True)
class Laid:
    """`paper` as dictionaries and lists, each block with its name as `is`; a picture's `image` is
    the number of its bytes in `images`."""

    paper: dict[str, Any]
    images: tuple[bytes, ...]


def laid(paper: Paper) -> Laid:
    """The paper with every text as it can be printed: no sign in it steers anything."""
    images: list[bytes] = []
    return Laid(_plain(paper, images), tuple(images))


def printable(text: str) -> str:
    """The text without signs that are not shown but do something; line feeds stay."""
    lines = _UNPAIRED.sub("\N{REPLACEMENT CHARACTER}", text).splitlines()
    return "\n".join(_UNSEEN.sub("", plain(line.replace("\t", " "))) for line in lines)


_UNPAIRED = re.compile(r"[\ud800-\udfff\ufffe\uffff]")
_UNSEEN = re.compile(r"[\u061c\u200b\u2060-\u206f\ufeff\U000e0000-\U000e0fff]")


def _plain(value: Any, images: list[bytes]) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, bytes):
        images.append(value)
        return len(images) - 1
    if isinstance(value, tuple):
        return [_plain(one, images) for one in value]
    if isinstance(value, frozenset):
        return sorted(value)
    if is_dataclass(value):
        shown = {one.name: _plain(getattr(value, one.name), images) for one in fields(value)}
        return {"is": type(value).__name__, **shown}
    return value
