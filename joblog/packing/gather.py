"""All rows of a job: what is or was in it, what tells of it, and all that these rest on.

An entry or an original that was moved to another job goes along, and so does a transfer that
another job tells of; of the steps, whatever they did to these. So nothing that the history names is
missing, and a closed job rests on what it rested on.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from joblog.book.database import Database
from joblog.book.rows import Row
from joblog.book.schema_of_transfers import MOVED
from joblog.model import STOCK
from joblog.packing.columns import NAMES_IN_ENTRIES, setting_of_job

Rows = dict[str, list[Row]]


def gather(db: Database, job: int) -> Rows:
    """The rows of a job by table, as they stand in this book.

    Of other jobs there is their line in `job` and what has to do with this one; a job that entries
    only name, and that this book does not have, has a line too, with a number below zero.
    """
    [(name, zone)] = db.execute("SELECT name, zone FROM job WHERE id = ?", [job])
    held = _Held(job)
    held.entries = _entries(db, job, name)
    mine = [
        row["noun"].split()
        for row in db.query(
            "SELECT noun FROM step_effect WHERE step IN (SELECT step FROM step_job WHERE job = ?)",
            [job],
        )
    ]
    held.recordings = _recordings(db, held, mine)
    held.photos = {key[1] for key in mine if key[0] in ("photo", "tie")} | _first(
        db, "SELECT sha256 FROM photo WHERE job = ?", job
    )
    for sort in ("closing", "bid", "house"):
        held.own[sort] = _first(db, f"SELECT id FROM {sort} WHERE job = ?", job)
    found = _by_table(db, held)
    found["step_effect"] = [
        row
        for row in db.query("SELECT * FROM step_effect ORDER BY step, ordinal")
        if held.has(row["noun"])
    ]
    steps = {row["step"] for row in found["step_effect"]}
    found["step"] = _among(db, "step", "id", steps)
    found["step_job"] = _among(db, "step_job", "step", steps)
    found["step_turn"] = _among(db, "step_turn", "step", steps)
    found["setting"] = [
        row
        for row in db.query("SELECT * FROM setting ORDER BY name")
        if (parts := setting_of_job(row["name"])) and parts[1] == name
    ]
    found["job"] = _jobs(db, found, job, zone)
    found["planned_item"] += _planned_elsewhere(db, found, job)
    return found


@dataclass(slots=True)
class _Held:
    """What goes along, by its numbers."""

    job: int
    entries: set[Any] = field(default_factory=set)
    recordings: set[Any] = field(default_factory=set)
    photos: set[Any] = field(default_factory=set)
    own: dict[str, set[Any]] = field(default_factory=dict)

    def has(self, noun: str) -> bool:
        """Whether a noun of a step is among it."""
        kind, *key = noun.split()
        return kind in _HELD and _HELD[kind](self, key)


_HELD: dict[str, Callable[[_Held, list[str]], bool]] = {
    "entry": lambda held, key: int(key[0]) in held.entries,
    "recording": lambda held, key: key[0] in held.recordings,
    "photo": lambda held, key: key[0] in held.photos,
    "tie": lambda held, key: key[0] in held.photos and int(key[1]) in held.entries,
    **dict.fromkeys(
        ("clock", "fence", "plan", "signing"), lambda held, key: int(key[0]) == held.job
    ),
    "closing": lambda held, key: int(key[0]) in held.own["closing"],
    "bid": lambda held, key: int(key[0]) in held.own["bid"],
    "house": lambda held, key: int(key[0]) in held.own["house"],
}


def _entries(db: Database, job: int, name: str) -> set[Any]:
    """Those that are or were in the job, that tell of it, and those that they came beside."""
    found = _first(
        db,
        "SELECT id FROM entry WHERE job = :job UNION"
        " SELECT entry FROM entry_version WHERE job = :job OR left_job = :job UNION"
        f" SELECT entry FROM entry_version WHERE {MOVED} AND json_valid(content) AND :name IN"
        " (json_extract(content, '$.from_job'), json_extract(content, '$.to_job'))",
        job=job,
        name=name,
    )
    fresh = found
    while fresh:
        beside = _first(
            db,
            "SELECT beside FROM entry WHERE beside IS NOT NULL"
            " AND id IN (SELECT value FROM json_each(:ids))",
            ids=_listed(fresh),
        )
        fresh = beside - found
        found = found | fresh
    return found


def _recordings(db: Database, held: _Held, mine: Iterable[list[str]]) -> set[Any]:
    """Those that are or were in the job, those that its entries were heard in, and those that took
    the place of any of them."""
    found = {key[1] for key in mine if key[0] == "recording"} | _first(
        db,
        "SELECT sha256 FROM recording WHERE job = :job UNION SELECT recording FROM utterance WHERE"
        " id IN (SELECT utterance FROM entry WHERE id IN (SELECT value FROM json_each(:ids)))",
        job=held.job,
        ids=_listed(held.entries),
    )
    fresh = found
    while fresh:
        longer = _first(
            db,
            "SELECT superseded_by FROM recording WHERE superseded_by IS NOT NULL"
            " AND sha256 IN (SELECT value FROM json_each(:ids))",
            ids=_listed(fresh),
        )
        fresh = longer - found
        found = found | fresh
    return found


def _by_table(db: Database, held: _Held) -> Rows:
    entries, recordings, photos = held.entries, held.recordings, held.photos
    found: Rows = {}
    for table in ("planned_item", "planned_task", "planned_place", "track", "clock", "hand_clock"):
        found[table] = _among(db, table, "job", {held.job})
    for table in ("fence", "signing", "closing", "bid", "house"):
        found[table] = _among(db, table, "job", {held.job})
    for sort in ("closing", "bid", "house"):
        found[f"{sort}_undone"] = _among(db, f"{sort}_undone", sort, held.own[sort])
    found["recording"] = _among(db, "recording", "sha256", recordings)
    found["sound_print"] = _among(db, "sound_print", "recording", recordings)
    found["utterance"] = _among(db, "utterance", "recording", recordings)
    utterances = {row["id"] for row in found["utterance"]}
    found["hearing"] = _among(db, "hearing", "utterance", utterances)
    found["entry"] = _among(db, "entry", "id", entries)
    found["entry_version"] = _among(db, "entry_version", "entry", entries)
    found["doubt"] = _among(db, "doubt", "entry", entries)
    found["photo"] = _among(db, "photo", "sha256", photos)
    for table in ("tie", "hand_tie"):
        found[table] = [
            row
            for row in _among(db, table, "photo", photos)
            if row["entry"] in entries and (row.get("cue") is None or row["cue"] in entries)
        ]
    return found


def _planned_elsewhere(db: Database, found: Rows, job: int) -> list[Row]:
    """Lines of the plans of other jobs: in what they count what they tell to have been moved."""
    told = {(row["id"], row["job"]) for row in found["entry"] if row["job"] != job}
    homes = dict(told)
    moved = {
        (homes[row["entry"]], json.loads(row["content"]).get("item"))
        for row in found["entry_version"]
        if row["entry"] in homes and row["content"].startswith('{"kind": "moved"')
    }
    lines = _among(db, "planned_item", "job", {number for number, _ in moved})
    return [row for row in lines if (row["job"], row["name"]) in moved]


def _jobs(db: Database, found: Rows, job: int, zone: str) -> list[Row]:
    """The lines of all jobs that the rows refer to, this one first."""
    numbers = {job, *(number for number in _numbers_of_jobs(found) if number is not None)}
    rows = _among(db, "job", "id", numbers)
    known = {row["name"] for row in rows}
    named = sorted(names_of_jobs(found["entry_version"]) - known - {STOCK})
    rows += db.query(
        "SELECT * FROM job WHERE name IN (SELECT value FROM json_each(?)) ORDER BY id",
        [json.dumps(named)],
    )
    known |= {row["name"] for row in rows}
    rows += [
        {"id": -1 - zlib.crc32(name.encode()), "name": name, "zone": zone, "places": "[]"}
        | {"beside": 1}
        for name in named
        if name not in known
    ]
    return sorted(rows, key=lambda row: (row["id"] != job, row["id"]))


def _numbers_of_jobs(found: Rows) -> Iterator[int | None]:
    for table in ("entry", "entry_version", "recording", "photo", "step_job"):
        for row in found[table]:
            yield row["job"]
            yield row.get("left_job")
    for row in found["step_effect"]:
        kind = row["noun"].split()[0]
        for value in (row["before"], row["after"]):
            if value is not None and kind == "recording":
                yield json.loads(value)[0]
            if value is not None and kind == "photo":
                yield int(value.split()[0])


def names_of_jobs(versions: Iterable[Row]) -> set[str]:
    """The jobs that these versions name as an end of a transfer."""
    names: set[str] = set()
    for row in versions:
        if "_job" in row["content"]:
            names |= set(_named(json.loads(row["content"])))
    return names


def _named(shown: Row) -> Iterator[str]:
    yield from (shown[key] for key in NAMES_IN_ENTRIES if shown.get(key))
    if "with" in shown:
        yield from _named(shown["with"])


def _among(db: Database, table: str, column: str, values: Iterable[Any]) -> list[Row]:
    """The rows that have one of the values in a column, in the order of their keys."""
    where = f"{column} IN (SELECT value FROM json_each(?))"
    return list(db.query(f"SELECT * FROM {table} WHERE {where} ORDER BY 1", [_listed(values)]))


def _first(db: Database, sql: str, *values: Any, **named: Any) -> set[Any]:
    return {row[0] for row in db.execute(sql, named or values)}


def _listed(values: Iterable[Any]) -> str:
    return json.dumps(sorted(values))
