"""Where a clock ends and a count begins, said in one breath: "quit at four thirty two sheets left".

Half past four and two sheets, or four and thirty two: nobody can tell, so both are asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from joblog.dictation.numbers import DIGITS, spelled
from joblog.dictation.words import Marked
from joblog.model import Doubt, Entry

HOURS = {spelled(hour): hour for hour in range(1, 13)}
MINUTES = {spelled(minutes): minutes for minutes in range(20, 60, 10)}


def clock_or_count(words: Marked, entries: Sequence[Entry]) -> list[Doubt]:
    """A doubt on the entries of a time and of a count that may part in another place."""
    for hour, minutes, ones in _in_one_breath(words):
        times = [
            at for at, one in enumerate(entries) if one.time and one.time.hour % 12 == hour % 12
        ]
        ways = {0: minutes + ones, minutes: ones}
        for at in times:
            time = entries[at].time
            count = ways.get(time.minute) if time else None
            both = [at, *(other for other, one in enumerate(entries) if one.quantity == count)]
            if count is not None and len(both) > 1:
                why = (
                    f"{hour}:{minutes} and {ones}, or {hour} o'clock and {minutes + ones}?"
                    " said in one breath"
                )
                return [Doubt(one, why) for one in both]
    return []


def _in_one_breath(words: Marked) -> Iterator[tuple[int, int, int]]:
    for (hour, _), (tens, parted), (ones, also) in zip(words, words[1:], words[2:], strict=False):
        whole = hour in HOURS and tens in MINUTES and DIGITS.get(ones, 0)
        if whole and not (parted or also):
            yield HOURS[hour], MINUTES[tens], DIGITS[ones]
