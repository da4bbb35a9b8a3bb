"""The nouns that steps are about: each can be read as a text, and made what a text says.

"entry 4", "recording SHA", "photo SHA", "tie SHA 4", "fence 1", "clock 1 CAMERA 2026-10-05",
"plan 1", "item NAME", "task NAME", "closing 3", "bid 5", "house 6",
"signing 1 2026-10-05", "past KEY" for an earlier job from paper, "setting NAME".
"""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import date
from typing import Literal
from urllib.parse import quote, unquote

from joblog.book import entries
from joblog.book.entries import NEVER
from joblog.book.rows import Row, item_row, task_row
from joblog.book.rows import key as key_of
from joblog.book.store import Book
from joblog.catalog.lines import starter_catalog

Read = Callable[..., str | None]
Write = Callable[[Book, Sequence[str], str | None, "Change"], None]
Change = Literal["done", "undone", "redone", "restored"]
OF_ALL = ("item", "task", "past", "setting")
"""The kinds of nouns that belong to all jobs."""


def recording_text(job: int, standing: str, superseded_by: str | None) -> str:
    """What a recording is, as a step keeps it."""
    return json.dumps([job, standing, superseded_by])


def photo_text(job: int, standing: str) -> str:
    """What a photo is, as a step keeps it; one that counts is its job alone, as it always was."""
    return str(job) if standing == "kept" else f"{job} {standing}"


def now(book: Book, noun: str) -> str | None:
    """What a noun is now: the version that an entry shows, the job of a photo and the like."""
    kind, *key = noun.split()
    return _READ[kind](book, *key)


def texts(book: Book, asked: Collection[str]) -> Mapping[str, str | None]:
    """`now` of each of these nouns."""
    lines = catalog_lines(book) if sum(map(is_line, asked)) > FEW else None
    return {
        noun: lines.get(noun) if lines is not None and is_line(noun) else now(book, noun)
        for noun in asked
    }


FEW = 8
"""So many lines of the catalog are looked up one by one in less time than all are read."""


def is_line(noun: str) -> bool:
    return noun.startswith(("item ", "task "))


def write(book: Book, noun: str, value: str | None, change: Change) -> None:
    """Makes a noun what a text says; lines of the catalog are written by `turning`."""
    kind, *key = noun.split()
    _WRITE[kind](book, key, value, change)


def same(noun: str, one: str | None, other: str | None) -> bool:
    """Whether two texts of a noun say the same. Where a line stands in the catalog is not told."""
    if one is None or other is None or not is_line(noun):
        return one == other
    return {**json.loads(one), "ordinal": 0} == {**json.loads(other), "ordinal": 0}


def moves_ties(book: Book, noun: str, before: str | None, after: str | None) -> bool:
    """Whether photos may be tied otherwise for this change.

    Of an entry, ties go by its moment, job, kind, place and note, and by whether it stands.
    """
    kind, *key = noun.split()
    if kind != "entry":
        return kind in ("recording", "photo", "tie", "clock", "fence")
    was, became = (_tied_by(book, int(key[0]), version) for version in (before, after))
    return was is None or was != became


def _tied_by(book: Book, id: int, version: str | None) -> tuple[object, ...] | None:
    found = book._rows(
        "SELECT job, at, standing, content FROM entry_version WHERE entry = ? AND version = ?",
        id,
        int(version or NEVER),
    )
    if not found:
        return None
    row = found[0]
    try:
        said = json.loads(row["content"])
    except ValueError:
        return None  # It is damaged; what it says now may be anything.
    told = tuple(said.get(name) for name in ("kind", "place", "note"))
    return row["job"], row["at"], row["standing"] == "dropped", told


def nothing(noun: str) -> str | None:
    """How it reads when a noun is not there: an entry stays, as if never noted."""
    return str(NEVER) if noun.startswith("entry ") else None


def jobs_of(book: Book, noun: str) -> set[int]:
    """The jobs that a noun belongs to; none for what belongs to all of them."""
    kind, key, *_ = noun.split()
    if kind not in _TABLES:
        return set()
    table, column = _TABLES[kind]
    found = book._rows(f"SELECT job FROM {table} WHERE {column} = ?", key)
    return {row["job"] for row in found}


def _recording_now(book: Book, sha256: str) -> str:
    [row] = book._rows(
        "SELECT job, standing, superseded_by FROM recording WHERE sha256 = ?", sha256
    )
    return recording_text(row["job"], row["standing"], row["superseded_by"])


def _photo_now(book: Book, sha256: str) -> str:
    [row] = book._rows("SELECT job, standing FROM photo WHERE sha256 = ?", sha256)
    return photo_text(row["job"], row["standing"])


def _tie_now(book: Book, photo: str, entry: str) -> str | None:
    found = book._rows("SELECT tied FROM hand_tie WHERE photo = ? AND entry = ?", photo, entry)
    return str(found[0]["tied"]) if found else None


def clock_noun(job: int, camera: str, day: date) -> str:
    """The noun of a camera's clock on one day; spaces in a camera's name would end it."""
    return f"clock {job} {quote(camera, safe='')} {day.isoformat()}"


def _clock_now(book: Book, job: str, camera: str, day: str) -> str | None:
    found = book._rows(
        "SELECT seconds FROM hand_clock WHERE job = ? AND camera = ? AND day = ?",
        int(job),
        unquote(camera),
        day,
    )
    return str(found[0]["seconds"]) if found else None


def _write_entry(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    assert change != "done"
    entries.bring_back(book, int(key[0]), int(value or NEVER), change)


def _write_recording(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, standing, superseded_by = json.loads(value or "")
    book._db.execute(
        "UPDATE recording SET job = ?, standing = ?, superseded_by = ? WHERE sha256 = ?",
        [job, standing, superseded_by, key[0]],
    )


def _write_photo(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    # Its ties are made anew afterwards, and those of the job that it leaves must not stay.
    book._db.execute("DELETE FROM tie WHERE photo = ?", [key[0]])
    job, _, standing = (value or "0").partition(" ")
    book._db.execute(
        "UPDATE photo SET job = ?, standing = ? WHERE sha256 = ?",
        [int(job), standing or "kept", key[0]],
    )


def _write_tie(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    photo, entry = key
    book._db.execute("DELETE FROM hand_tie WHERE photo = ? AND entry = ?", [photo, int(entry)])
    if value is not None:
        book._insert("hand_tie", {"photo": photo, "entry": int(entry), "tied": int(value)})


def _write_clock(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, camera, day = int(key[0]), unquote(key[1]), key[2]
    book._db.execute(
        "DELETE FROM hand_clock WHERE job = ? AND camera = ? AND day = ?", [job, camera, day]
    )
    if value is not None:
        row = {"job": job, "camera": camera, "day": day, "seconds": float(value)}
        book._insert("hand_clock", row)


def _fence_now(book: Book, job: str) -> str | None:
    found = book._rows("SELECT latitude, longitude, radius FROM fence WHERE job = ?", int(job))
    return json.dumps(list(found[0].values())) if found else None


def _write_fence(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    book._db.execute("DELETE FROM fence WHERE job = ?", [int(key[0])])
    if value is not None:
        latitude, longitude, radius = json.loads(value)
        row = {"latitude": latitude, "longitude": longitude, "radius": radius}
        book._insert("fence", {"job": int(key[0]), **row})


# --- the plan and the catalog -----------------------------------------------------------------

_PLAN = ("planned_item", "planned_task", "planned_place")


def _plan_now(book: Book, job: str) -> str | None:
    lines = {
        table: [
            {name: value for name, value in row.items() if name != "job"}
            for row in book._rows(f"SELECT * FROM {table} WHERE job = ? ORDER BY ordinal", int(job))
        ]
        for table in _PLAN
    }
    return json.dumps(lines, ensure_ascii=False) if any(lines.values()) else None


def _write_plan(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, lines = int(key[0]), json.loads(value or "{}")
    for table in _PLAN:
        book._db.execute(f"DELETE FROM {table} WHERE job = ?", [job])
        book._forget(table, f"{job}|")
        book._insert_all(table, [{"job": job, **row} for row in lines.get(table, ())])


def catalog_lines(book: Book) -> dict[str, str]:
    """All lines of the catalog as nouns with their texts, in their order."""
    return {
        f"{kind} {quote(row['name'], safe='')}": json.dumps(row, ensure_ascii=False)
        for kind in ("item", "task")
        for row in lines_of(book, kind)
    }


def kept_lines(book: Book, kind: str) -> list[Row]:
    """The items or the tasks of the catalog as they are kept, none while it is the starter's."""
    return book._rows(f"SELECT * FROM catalog_{kind} ORDER BY ordinal")


def write_lines(book: Book, kind: str, lines: Iterable[Row]) -> None:
    """Puts these items or tasks, in this order, in the place of those that are kept."""
    table = f"catalog_{kind}"
    book._db.execute(f"DELETE FROM {table}")
    book._forget(table, "")
    book._insert_all(table, [{**line, "ordinal": ordinal} for ordinal, line in enumerate(lines)])


def lines_of(book: Book, kind: str) -> list[Row]:
    """The lines as they are kept; those of the starter's while none are."""
    found = kept_lines(book, kind)
    if found or book._rows("SELECT 1 FROM catalog_item UNION ALL SELECT 1 FROM catalog_task"):
        return found
    starter = starter_catalog()
    lines = map(item_row, starter.items) if kind == "item" else map(task_row, starter.tasks)
    return [{"ordinal": ordinal, **line} for ordinal, line in enumerate(lines)]


def _line_now(kind: str) -> Callable[..., str | None]:
    def now(book: Book, name: str) -> str | None:
        found = book._rows(f"SELECT * FROM catalog_{kind} WHERE name = ?", unquote(name))
        if found:
            return json.dumps(found[0], ensure_ascii=False)
        lines = (row for row in lines_of(book, kind) if row["name"] == unquote(name))
        return next((json.dumps(row, ensure_ascii=False) for row in lines), None)

    return now


# --- closings, bids, houses and signatures ----------------------------------------------------


def _taken_back(table: str) -> tuple[Read, Write]:
    """Of what is never overwritten: that one was taken back stands beside it."""

    def now(book: Book, id: str) -> str | None:
        found = book._rows(
            f"SELECT 1 FROM {table} WHERE id = :id"
            f" AND :id NOT IN (SELECT {table} FROM {table}_undone)",
            id=int(id),
        )
        return "stands" if found else None

    def write(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
        if value is None:
            book._db.execute(f"INSERT INTO {table}_undone VALUES (?)", [int(key[0])])
        else:
            book._db.execute(f"DELETE FROM {table}_undone WHERE {table} = ?", [int(key[0])])

    return now, write


def _signing_now(book: Book, job: str, day: str) -> str | None:
    found = book._rows("SELECT at, rests_on FROM signing WHERE job = ? AND day = ?", int(job), day)
    return json.dumps(list(found[0].values())) if found else None


def _write_signing(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    job, day = int(key[0]), key[1]
    book._db.execute("DELETE FROM signing WHERE job = ? AND day = ?", [job, day])
    if value is not None:
        at, rests_on = json.loads(value)
        book._insert("signing", {"job": job, "day": day, "at": at, "rests_on": rests_on})


# --- earlier jobs and settings ----------------------------------------------------------------

_PAST = ("past_use", "past_work")


def past_noun(job: str) -> str:
    """The noun of an earlier job from paper."""
    return f"past {quote(key_of(job), safe='')}"


def _past_now(book: Book, key: str) -> str | None:
    lines = {
        table: book._rows(f"SELECT * FROM {table} WHERE job_key = ? ORDER BY 1, 2, 3", unquote(key))
        for table in _PAST
    }
    return json.dumps(lines, ensure_ascii=False) if any(lines.values()) else None


def _write_past(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    lines = json.loads(value or "{}")
    for table in _PAST:
        book._db.execute(f"DELETE FROM {table} WHERE job_key = ?", [unquote(key[0])])
        book._insert_all(table, lines.get(table, ()))


def setting_noun(name: str) -> str:
    """The noun of a setting that a person made."""
    return f"setting {quote(name, safe='')}"


def _write_setting(book: Book, key: Sequence[str], value: str | None, change: Change) -> None:
    book.set_setting(unquote(key[0]), value)


_OF_ITSELF = ("(SELECT id AS job FROM job)", "job")
_TABLES = {
    "entry": ("entry", "id"),
    "recording": ("recording", "sha256"),
    "photo": ("photo", "sha256"),
    "tie": ("photo", "sha256"),
    "closing": ("closing", "id"),
    "bid": ("bid", "id"),
    "house": ("house", "id"),
    "fence": _OF_ITSELF,
    "clock": _OF_ITSELF,
    "plan": _OF_ITSELF,
    "signing": _OF_ITSELF,
}
"""Where it says which job a noun is in, and by which column it is found there."""
_READ: dict[str, Read] = {
    "entry": lambda book, id: str(entries.state(book, int(id))),
    "recording": _recording_now,
    "photo": _photo_now,
    "tie": _tie_now,
    "clock": _clock_now,
    "fence": _fence_now,
    "plan": _plan_now,
    "item": _line_now("item"),
    "task": _line_now("task"),
    "signing": _signing_now,
    "past": _past_now,
    "setting": lambda book, name: book.setting(unquote(name)),
}
_WRITE: dict[str, Write] = {
    "entry": _write_entry,
    "recording": _write_recording,
    "photo": _write_photo,
    "tie": _write_tie,
    "clock": _write_clock,
    "fence": _write_fence,
    "plan": _write_plan,
    "signing": _write_signing,
    "past": _write_past,
    "setting": _write_setting,
}
for _table in ("closing", "bid", "house"):
    _READ[_table], _WRITE[_table] = _taken_back(_table)
