"""Written notes to sentences, each to be read as something said after the one before. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, in order, as they were written, none of them empty.

    A sentence ends with its line, with a full stop, question or exclamation mark, or a semicolon.
    No end is the stop in "41 ft. 6 in.", "7 a.m." or "1.5"; and a long line that is gone on with in
    lower case was only broken to fit.
    """
    return tuple(
        part for line in _lines(text) for one in _parted(line) if _WORD.search(part := one.strip())
    )


def _lines(text: str) -> Iterator[str]:
    """The lines, those that were broken to fit joined again."""
    whole = ""
    for line in text.splitlines():
        line = _BULLET.sub("", line).strip()
        fits = len(whole) >= _BROKEN_AT and not whole.endswith(_ENDS) and line[:1].islower()
        if whole and fits:
            whole = f"{whole} {line}"
            continue
        yield whole
        whole = line
    yield whole


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
"""Characters from which on a line may have been broken because it was full."""
_ENDS = (".", "!", "?", ";", ":")
_CUT_SHORT = frozenset(
    "ft in lb lbs oz hr hrs min mins pc pcs ea approx no st mr mrs ms dr jr sr a.m p.m am pm vs etc"
    " sq yd yds gal qty dia avg max temp deg lf sf mon tue tues wed thu thur thurs fri sat sun jan"
    " feb mar apr jun jul aug sep sept oct nov dec".split()
)
"""Words that are written with a full stop behind them."""
