"""What is kept of a thing in a step, told to a person, and which version of a bid or a house it is.

The texts are those of `nouns`. A bid and a house are kept whole, version by version: a step keeps
only that one was added, and the one before it is what went.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from urllib.parse import unquote

from joblog.book import nouns
from joblog.book.catalog_told import changes_told
from joblog.book.decisions import line_of
from joblog.book.rows import Row, _entry
from joblog.book.store import Book
from joblog.form import from_json
from joblog.local import day_written, money_written
from joblog.model import Bid, House

WHOLES = ("bid", "house")
"""Nouns that are versions of a whole, of which the newest that stands is the one of its job."""


def told(book: Book, noun: str, text: str | None) -> str:
    """What a noun was, in a line; "" where it was nothing."""
    kind, _, key = noun.partition(" ")
    if text is None and kind not in ("tie", "setting"):
        return ""
    return _TOLD[kind](book, key, text)


def entry_told(content: str) -> str:
    """An entry, from what the book keeps of a version of it."""
    try:
        return line_of(_entry(content))
    except (ValueError, KeyError, TypeError):
        return "an entry that cannot be read any more"


def original_state(noun: str, text: str | None) -> tuple[int, str] | None:
    """The number of the job and the standing of a recording or photo; None for anything else."""
    if text is None or not noun.startswith(("recording ", "photo ")):
        return None
    if noun.startswith("photo "):
        job, _, standing = text.partition(" ")
        return int(job), standing or "kept"
    of, standing, _ = json.loads(text)
    return int(of), str(standing)


# --- bids and houses --------------------------------------------------------------------------


def whole(book: Book, kind: str, id: int) -> Row | None:
    """One version: its id, job and content."""
    return _one(book, kind, "id = ?", id)


def newest_whole(book: Book, kind: str, job: int) -> Row | None:
    """The version that is the bid or the house of a job."""
    return _one(book, kind, f"job = ? AND {_STANDS.format(kind)}", job)


def whole_before(book: Book, kind: str, id: int) -> Row | None:
    """The version of the same job that this one took the place of."""
    return _one(
        book,
        kind,
        f"id < ? AND job = (SELECT job FROM {kind} WHERE id = ?) AND {_STANDS.format(kind)}",
        id,
        id,
    )


def whole_told(kind: str, content: str) -> str:
    """A version of a bid or house, in a line."""
    try:
        return _WHOLES[kind](json.loads(content))
    except (ValueError, KeyError, TypeError):
        return f"a {kind} that cannot be read any more"


def _one(book: Book, kind: str, where: str, *values: object) -> Row | None:
    found = book._rows(
        f"SELECT id, job, content FROM {kind} WHERE {where} ORDER BY id DESC LIMIT 1", *values
    )
    return found[0] if found else None


_STANDS = "id NOT IN (SELECT {0} FROM {0}_undone)"


def _bid_told(kept: object) -> str:
    bid = from_json(Bid, kept)
    priced = not bid.lacks or "price" in dict(bid.said)
    return f"bid of {money_written(bid.price)}" if priced else "bid without a price"


def _house_told(kept: object) -> str:
    house = from_json(House, kept)
    sides = sum(len(body.sides) for body in house.bodies)
    return f"house: {_counted(sides, 'side')}, {_counted(len(house.ceilings), 'ceiling')}"


_WHOLES: Mapping[str, Callable[[object], str]] = {"bid": _bid_told, "house": _house_told}


# --- everything else --------------------------------------------------------------------------


def _recording(book: Book, sha256: str, text: str | None) -> str:
    return f"recording {book.recording(sha256).name}"


def _photo(book: Book, sha256: str, text: str | None) -> str:
    return f"photo {book.photo(sha256).name}"


def _tie(book: Book, key: str, text: str | None) -> str:
    photo, entry = key.split()
    tied = "untied from" if text == "0" else "tied to"
    return f"photo {book.photo(photo).name}, {tied}: {line_of(book.entry(int(entry)).entry)}"


def _clock(book: Book, key: str, text: str | None) -> str:
    _, camera, day = key.split()
    on = day_written(date.fromisoformat(day))
    return f"clock of {unquote(camera)} on {on}: {float(text or 0):+.0f} s"


def _fence(book: Book, job: str, text: str | None) -> str:
    latitude, longitude, radius = json.loads(text or "")
    return f"fence: {latitude:.5f} {longitude:.5f}, {radius:.0f} m"


def _plan(book: Book, job: str, text: str | None) -> str:
    lines = json.loads(text or "{}")
    parts = (
        _counted(len(lines.get(f"planned_{one}", ())), one)
        for one in ("item", "task", "place")
        if lines.get(f"planned_{one}")
    )
    return f"plan: {', '.join(parts)}"


def _line(kind: str) -> Callable[[Book, str, str | None], str]:
    def told(book: Book, key: str, text: str | None) -> str:
        now = nouns.now(book, f"{kind} {key}")
        name = f"{kind} {unquote(key)}"
        if not now:
            return name
        return ", ".join((name, *(f"{one} {was}" for one, was, _ in changes_told(text, now))))

    return told


def _closing(book: Book, id: str, text: str | None) -> str:
    [row] = book._rows("SELECT day FROM closing WHERE id = ?", int(id))
    return f"closing for {day_written(date.fromisoformat(row['day']))}"


def _signing(book: Book, key: str, text: str | None) -> str:
    return f"signature of {day_written(date.fromisoformat(key.split()[1]))}"


def _past(book: Book, key: str, text: str | None) -> str:
    lines = [row for rows in json.loads(text or "{}").values() for row in rows]
    name = lines[0]["job"] if lines else unquote(key)
    return f"earlier job {name}, {_counted(len(lines), 'line')}"


def _setting(book: Book, name: str, text: str | None) -> str:
    said = _SETTINGS.get(unquote(name))
    if said is None or (text is None and unquote(name) != VOICE_SINCE):
        return ""
    return said


VOICE_SINCE = "voice since"
"""The setting that says from when on decisions teach; without it, all of them do."""
_SETTINGS = {
    "voice promise": "the promise of how many may be wrong without a question",
    "voice card": "what was heard of the card",
    VOICE_SINCE: "what your voice had taught",
}


def _counted(many: int, name: str) -> str:
    return f"{many} {name}{'s' * (many != 1)}"


_TOLD: Mapping[str, Callable[[Book, str, str | None], str]] = {
    "recording": _recording,
    "photo": _photo,
    "tie": _tie,
    "clock": _clock,
    "fence": _fence,
    "plan": _plan,
    "item": _line("item"),
    "task": _line("task"),
    "closing": _closing,
    "signing": _signing,
    "past": _past,
    "setting": _setting,
}
