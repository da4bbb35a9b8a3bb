"""The houses of the jobs: every version stays, and the newest one that stands is the house."""

from __future__ import annotations

import json

from joblog.book import rows
from joblog.book.steps import YOU, deciding
from joblog.book.store import Book
from joblog.form import from_json
from joblog.model import House


def keep_house(book: Book, job: str, house: House, who: str = YOU) -> bool:
    """One more version of the house of a job: a step that can be undone; whether there was one. The
    same house again is no step."""
    before = house_of(book, job)
    if before == house:
        return False
    with deciding(book, who) as step:
        number = book._job(job)["id"]
        row = {"job": number, "at": rows.moment_text(step.at), "content": rows.as_json(house)}
        step.brought(f"house {book._insert('house', row)}")
        step.what = f"{'described' if before is None else 'changed'} the house: {_held(house)}"
    return True


def house_of(book: Book, job: str) -> House | None:
    """The house of a job as it stands; None where nobody described one."""
    found = book._kept(
        "house",
        "SELECT * FROM house WHERE job = ? AND id NOT IN (SELECT house FROM house_undone)"
        " ORDER BY id DESC LIMIT 1",
        book._job(job)["id"],
    )
    return from_json(House, json.loads(found[0]["content"])) if found else None


def _held(house: House) -> str:
    sides = sum(len(body.sides) for body in house.bodies)
    parts = [f"{sides} {'side' if sides == 1 else 'sides'}"] if sides else []
    many = len(house.ceilings)
    parts += [f"{many} {'ceiling' if many == 1 else 'ceilings'}"] if many else []
    parts += ["an attic"] if house.attic is not None else []
    return ", ".join(parts) or "nothing yet"
