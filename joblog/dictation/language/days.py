"""Words for a day that is not the one on which they are said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_PARTS = ("", " morning", " afternoon", " evening", " night")


def _each(*leads: str, parts: bool = False) -> str:
    """Every weekday behind each of the words that lead to it."""
    return ", ".join(
        f"{lead} {day}{part}".strip()
        for lead in leads
        for day in WEEKDAYS
        for part in (_PARTS if parts else ("",))
    )


WORDS: dict[str, str] = {
    "DAYBACK": "yesterday, yesterday morning, yesterday afternoon, yesterday evening, the day "
    "before yesterday, day before yesterday, last night, "
    + _each("last", "this past", "on last"),
    "DAYAHEAD": "tomorrow, tomorrow we, tomorrow i, tomorrow morning, tomorrow afternoon, tomorrow "
    "evening, tomorrow night, first thing tomorrow, first thing tomorrow morning, tomorrow first "
    "thing, day after tomorrow, the day after tomorrow, by tomorrow, for tomorrow, before "
    "tomorrow, by tomorrow morning, first thing in the morning, "
    + _each(
        "by", "before", "next", "coming", "this coming", "first thing", "by next", "come", "until",
        "on next", "no later than", "not until",
    ),
    "DAYNAMED": _each("", "on", "this", parts=True),
    "DAYSINCE": "since yesterday, since last week, " + _each("since", "since last"),
    "DAYNOW": "today, this morning, this afternoon, right now, now, just now, this evening, "
    "tonight",
    "DAYVAGUE": "next week, last week, later this week, this week, next month, last month, the "
    "other day, a few days ago, over the weekend, on the weekend, the weekend, this weekend, next "
    "time, end of the week, by the end of the week, the end of the week",
    "DAYSAGO": "days ago, day ago",
}  # fmt: skip

SENTENCES: tuple[tuple[str, str], ...] = (
    ("day", "( DAYBACK | DAYNAMED )"),
    ("day", "n=( NUM | a | COUPLE ) DAYSAGO"),
)

ALSO: tuple[tuple[str, str], ...] = (
    ("FILLER", "DAYBACK"), ("FILLER", "DAYNAMED"), ("FILLER", "DAYSINCE"),
    ("FUTURE", "DAYAHEAD"), ("LATER", "DAYAHEAD"),
)  # fmt: skip
"""Classes that hold the words of another one too."""


def dated(sentences: Sequence[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """The sentences, with the day by which something is needed behind or before it."""
    for meaning, pattern in sentences:
        yield meaning, f"{pattern} DAYLEAD*" if meaning == "needed" else pattern
    yield "needed", "DAYLEAD FILLER* ( NEED | get ) AMOUNT"
