"""Everything that was ever said, in all jobs: found by the words of it."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.book import searching
from joblog.model import Found as Found
from joblog.service.desk import Desk
from joblog.service.errors import use_case


@use_case
def search(desk: Desk, words: str, *, every_job: bool = True, most: int = 200) -> tuple[Found, ...]:
    """Where all these words are, the last one as far as it is typed; this job and newest first.

    What is typed is words and numbers ("11 7/8"), never a search language; accents and capitals
    make no difference. What was heard beside an entry, in other words, is found once, as that.
    """
    sought = searching.phrases(words)
    found: dict[object, Found] = {}
    lines = desk.book.found(words, desk.job.name, every_job=every_job)
    for row in lines:
        at = datetime.fromisoformat(row["at"]).astimezone(ZoneInfo(row["zone"]))
        one = (row["photo"], row["entry"], row["utterance"], row["recording"])
        key = ("entry", row["entry"]) if row["entry"] is not None else one
        found.setdefault(
            key,
            Found(
                job=row["job"],
                day=at.date(),
                at=at,
                text=row["text"],
                marks=searching.marks(row["text"], sought) or (),
                entry=row["entry"],
                recording=row["recording"],
                photo=row["photo"],
            ),
        )
        if len(found) >= most:
            break
    return tuple(found.values())


@use_case
def slow_search(desk: Desk) -> str:
    """A line that says why searching takes its time here; "" where it does not."""
    if desk.book.finds_by_index:
        return ""
    return (
        "this SQLite has no full-text index (FTS5), so every line is looked at; that takes longer"
    )
