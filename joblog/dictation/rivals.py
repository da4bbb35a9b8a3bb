"""A second opinion: other ways to take the words apart that are nearly as likely.

What a rival has instead of the chosen way, by meaning, tells whether it is worth a question: in
some swaps (an amount and its price, or two amounts) the chosen way was always right.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache

from joblog.dictation.facts import fact_of
from joblog.dictation.grammar import Chart, Cover
from joblog.dictation.weights import RIVAL, SETTLED
from joblog.model import Entry, Reading


def rivals(chart: Chart, meanings: Iterable[str]) -> Iterator[tuple[str, Cover]]:
    """Covers nearly as likely as the chosen one, which means so much, and what each swaps; the
    nearest first, without those whose swap is settled."""
    mine = tuple(meanings)
    left = MOST
    for one in chart.near(RIVAL):
        swap = swap_of(mine, one.meanings)
        if swap is not None and swap not in SETTLED:
            yield swap, chart.cover_of(one)
            left -= 1
            if not left:
                return


@lru_cache(maxsize=4096)
def swap_of(meanings: tuple[str, ...], others: tuple[str, ...]) -> str | None:
    """What a rival means that the chosen cover does not, and instead of what; None where it can
    bring no fact to count with."""
    mine, other = Counter(meanings), Counter(others)
    gained = sorted((other - mine).elements())
    if (gained or other != mine) and not any(map(_TELLING.__contains__, gained)):
        return None
    return f"{' + '.join(sorted((mine - other).elements()))} > {' + '.join(gained)}"


def told_instead(chosen: Reading, rival: Reading) -> tuple[int, Entry] | None:
    """A plain fact to count with that only the rival has, and of which chosen entry it may be what
    was meant: the first that only the chosen reading has."""
    mine = [fact_of(entry) for entry in chosen.entries]
    theirs = [fact_of(entry) for entry in rival.entries]
    doubtful = {doubt.entry for doubt in rival.doubts}
    for at, entry in enumerate(rival.entries):
        if entry.kind in COUNTED and at not in doubtful and theirs[at] not in mine:
            only_mine = (at for at, fact in enumerate(mine) if fact not in theirs)
            return next(only_mine, len(mine) - 1), entry
    return None


MOST = 4
"""Rivals that are read."""
COUNTED = frozenset(
    ("measure", "used", "spoiled", "delivered", "returned", "on_hand", "needed", "start", "stop",
     "break", "labor")
)  # fmt: skip
_TELLING = {
    *COUNTED, "second side", "area", "pitch", "range", "more", "moment", "span", "labor done",
    "more labor", "share", "pieces",
}  # fmt: skip
"""Meanings that may add an entry to count with."""
