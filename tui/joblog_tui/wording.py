"""How times, days, entries and doubts are worded and marked on the screen.

Everything here returns `Content`, which is literal text with styles: what came from outside is
never read as markup, and control characters are gone before it gets there.
"""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from textual.content import Content

from joblog.form import describe, plain
from joblog.local import clock_written, day_written
from joblog.model import BookEntry, Hearing

UNSURE_BELOW = 0.7
"""A word under this confidence is marked. Chosen by eye; the recognizers' scales differ."""

DOUBT = "$warning"
FAINT = "$foreground-muted"
DONE = "$success"

MARKS = {"open": "?", "accepted": "✓", "dropped": "×", "heard": " "}


def day_name(day: date) -> str:
    """Such as "Mon, Oct 5, 2026", as the country writes it."""
    return day_written(day)


def clock(at: datetime, zone: str) -> str:
    """Local wall time, such as "7:32 AM", as the country writes it."""
    return clock_written(at.astimezone(ZoneInfo(zone)))


def clock_column(at: datetime, zone: str) -> str:
    """The same as wide as any, so that times stand under one another."""
    return clock(at, zone).rjust(len(clock_written(time(12, 58))))


def counted(count: int, one: str, many: str | None = None) -> str:
    """Such as "1 photo", "3 photos"."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def entry_line(
    entry: BookEntry, zone: str, photos: int = 0, *, unanswered: bool = False
) -> Content:
    """One line of the day's list: mark, time, what it says, and how many photos it has."""
    state = "open" if entry.open else entry.standing
    style = {"open": f"bold {DOUBT}", "dropped": f"{FAINT} strike"}.get(state, "")
    picture = (f"  [{counted(photos, 'photo')}]", FAINT) if photos else ("", "")
    if unanswered:
        picture = ("  [no photo]", DOUBT)
    return Content.assemble(
        (f"{MARKS[state]} ", f"bold {DOUBT if state == 'open' else DONE}"),
        (f"{clock_column(entry.at, zone)}  ", FAINT),
        (describe(entry.entry), style),
        picture,
    )


def in_doubt(text: str) -> Content:
    return Content.styled(plain(text), DOUBT)


def doubt_lines(entry: BookEntry) -> list[Content]:
    """Why the entry waits for a person, one line for each reason; none when it does not."""
    if not entry.open:
        return []
    return [Content.assemble(("? ", f"bold {DOUBT}"), in_doubt(why)) for why in entry.doubts]


def heard_words(hearing: Hearing) -> Content:
    """What a recognizer heard; a word it was unsure of carries a "?" and a style."""
    if not hearing.words:
        return Content(plain(hearing.text))
    parts: list[str | Content | tuple[str, str]] = []
    for word in hearing.words:
        if parts:
            parts.append(" ")
        if word.confidence < UNSURE_BELOW:
            parts.append((f"{plain(word.text)}?", f"underline {DOUBT}"))
        else:
            parts.append(plain(word.text))
    return Content.assemble(*parts)


def heard_table(hearings: tuple[Hearing, ...]) -> Content:
    """What was heard, once, a line for each way of hearing it; the chosen one first.

    Who heard it so is left out: what recognizers are called means nothing to a contractor.
    """
    groups: dict[str, list[Hearing]] = {}
    for hearing in hearings:
        groups.setdefault(plain(hearing.text), []).append(hearing)
    words = [_alike(text, group) for text, group in groups.items()]
    return Content("\n").join(
        Content.assemble((f"{'   or' if place else 'heard'}: ", FAINT), line)
        for place, line in enumerate(words)
    )


def _alike(text: str, group: list[Hearing]) -> Content:
    if not text.strip():
        return Content.styled("nothing", FAINT)
    return heard_words(next((hearing for hearing in group if hearing.words), group[0]))
