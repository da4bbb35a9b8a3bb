"""Written notes to sentences, each to be read as something said after the one before. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, in order, as they were written, none of them empty.

    A sentence ends with its line, with a full stop, question or exclamation mark, or a semicolon.
    No end is the stop in "41 ft. 6 in.", "7 a.m." or "1.5"; and where all lines that go on in lower
    case are full, they were only broken to fit.
    """
    return tuple(
        part for line in _lines(text) for one in _parted(line) if _WORD.search(part := one.strip())
    )


def _lines(text: str) -> Iterator[str]:
    """The lines, those that were broken to fit joined again."""
    lines = [_BULLET.sub("", line).strip() for line in text.splitlines()]
    if not _were_broken(lines):
        yield from lines
        return
    whole = ""
    for line in lines:
        if _may_go_on(whole, line):
            whole = f"{whole} {line}"
            continue
        yield whole
        whole = line
    yield whole


def _were_broken(lines: Sequence[str]) -> bool:
    """Whether each line that goes on in lower case was full: its next word had no room any more.

    A list of short notes has a line that is not.
    """
    width = max(map(len, lines), default=0)
    going_on = [(one, other) for one, other in pairwise(lines) if _may_go_on(one, other)]
    return width >= _BROKEN_AT and all(
        len(one) + 1 + len(other.split()[0]) > width for one, other in going_on
    )


def _may_go_on(line: str, after: str) -> bool:
    return bool(line) and not line.endswith(_ENDS) and after[:1].islower()


def _parted(line: str) -> Iterator[str]:
    start = 0
    for stop in _STOP.finditer(line):
        if stop.group(1) == "." and not _ends_here(line, stop):
            continue
        yield line[start : stop.end()]
        start = stop.end()
    yield line[start:]


def _ends_here(line: str, stop: re.Match[str]) -> bool:
    """Whether a full stop ends a sentence, and not only a word cut short."""
    before = _LAST_WORD.search(line[: stop.start()])
    after = line[stop.end() : stop.end() + 1]
    if before is None or before.group().lower() not in _CUT_SHORT:
        return True
    return after.isupper()


_STOP = re.compile(r"([.!?;])[\"')]*\s+")
_WORD = re.compile(r"\w")
_LAST_WORD = re.compile(r"[a-z.]+$", re.IGNORECASE)
_BULLET = re.compile(r"^\s*(?:[-*\u2022]\s+|\d+[.)]\s+(?=[A-Za-z]))")
_BROKEN_AT = 55
"""Characters that lines have at least that were broken because they were full."""
_ENDS = (".", "!", "?", ";", ":")
_CUT_SHORT = frozenset(
    "ft in lb lbs oz hr hrs min mins pc pcs ea approx no st mr mrs ms dr jr sr a.m p.m am pm vs etc"
    " sq yd yds gal qty dia avg max temp deg lf sf mon tue tues wed thu thur thurs fri sat sun jan"
    " feb mar apr jun jul aug sep sept oct nov dec".split()
)
"""Words that are written with a full stop behind them."""
