"""What a copy of a paper leaves out, in words, so that nobody takes it for the whole."""

from __future__ import annotations

from collections.abc import Iterable

from joblog.model import BookEntry
from joblog.papers.blocks import Text, Warning
from joblog.papers.record import Copy, kept_back


def left_out(
    copy: Copy, entries: Iterable[BookEntry] = (), *, photos: bool = True
) -> tuple[Warning | Text, ...]:
    """One line, or none where the copy has all there is; `photos` says whether it shows any of
    which it is known where they were taken."""
    parts = []
    if copy.handed_out:
        parts.append("prices, costs and hours")
        of = tuple(entries)
        doubtful = sum(one.open for one in of)
        dropped = sum(one.standing == "dropped" for one in of)
        others = len(kept_back(of)) - doubtful - dropped
        parts += [
            f"{count} {'entry' if count == 1 else 'entries'} {what}"
            for count, what in (
                (doubtful, "that nobody has decided on yet"),
                (dropped, "that the contractor took back"),
                (others, "about hours, money and errands"),
            )
            if count
        ]
    if photos and not copy.positions:
        parts.append("where the photos were taken")
    if not parts:
        return ()
    *most, last = parts
    named = f"{', '.join(most)} and {last}" if most else last
    line = f"This copy leaves out {named}."
    return (Warning(line) if copy.handed_out else Text(line, small=True),)
