"""Entries whose rows are damaged: in their place, in doubt, and counted nowhere until settled."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import get_args
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from joblog.book import rows
from joblog.book.rows import Row
from joblog.model import BookEntry, Change, Entry

Find = Callable[..., list[Row]]

LEGIBLE = "this entry is damaged in the book; say it anew, or drop it"
WHEN = "when this was said, or for which job, is damaged in the book; look whether it belongs here"
DOUBT = "a doubt about this is damaged in the book; look whether it is right"


def hurt_entries(of: Callable[[str], Mapping[str, bool]], find: Find) -> dict[int, str]:
    """The entries that are damaged as they stand now, and why they need a person's eye."""
    found = {table: set(of(table)) for table in ("entry", "entry_version", "doubt")}
    hurt: dict[int, str] = {}
    for id in {_number(key) for keys in found.values() for key in keys}:
        damaged = [_number(key, 1) for key in found["entry_version"] if _number(key) == id]
        newest = max([*damaged, *(row["version"] for row in find(_VERSIONS, id))], default=1)
        if str(id) in found["entry"]:
            hurt[id] = WHEN
        if any(key.startswith(f"{id}|{newest}|") for key in found["doubt"]):
            hurt[id] = DOUBT
        if newest in damaged:
            hurt[id] = LEGIBLE
    return hurt


def shown(
    id: int, why: str, of: Callable[[str], Mapping[str, bool]], find: Find, *, every: bool
) -> Iterator[BookEntry]:
    """A damaged entry as it stands, or in all its versions, as far as it can be read.

    It is doubtful whatever it was, so that nothing counts it.
    """
    lines = find("SELECT * FROM entry WHERE id = ?", id)
    legible = {row["version"]: row for row in find(_VERSIONS, id)}
    damaged = {_number(key, 1) for key in of("entry_version") if _number(key) == id}
    newest = max([*legible, *damaged], default=1)
    for line in lines:
        for version in range(1 if every else newest, newest + 1):
            row = {**_NOTHING, **line, **legible.get(version, {}), "id": id, "version": version}
            yield _as_far_as_legible(row, why, version in damaged or version not in legible, find)


def _as_far_as_legible(row: Row, why: str, illegible: bool, find: Find) -> BookEntry:
    if illegible:
        row["content"] = rows.content(Entry("problem", note=f"damaged: {row['said']}"))
        row["change"] = row["change"] if row["change"] in get_args(Change) else "heard"
        row["origin"] = None
    for name in ("at", "changed_at"):
        row[name] = _moment(row[name])
    noted = find(f"{_DOUBTS} AND version = ? ORDER BY ordinal", row["id"], row["version"])
    kept = rows.entry_from(row, (why, *(str(doubt["why"]) for doubt in noted)))
    return replace(kept, standing="heard")


def sound(row: Row, table: str, unsound: Mapping[str, bool]) -> bool:
    """Whether a row is as it was written."""
    return not unsound or "|".join(str(row[name]) for name in KEYS[table]) not in unsound


def legible(row: Row) -> Row:
    """A damaged row of a job, a recording or a photo, fit to be shown."""
    fit = dict(row)
    for name in {"made_at", "taken_at"} & row.keys():
        fit[name] = _moment(row[name])
    if "zone" in row:
        try:
            ZoneInfo(str(row["zone"]))
        except (ZoneInfoNotFoundError, ValueError, OSError):
            fit["zone"] = "UTC"
    if "places" in row:
        try:
            fit["places"] = json.dumps([str(place) for place in json.loads(row["places"])])
        except ValueError:
            fit["places"] = "[]"
    if "trouble" in row:
        fit["trouble"] = "its line in the book is damaged"
    return fit


KEYS = {
    "job": ("id",), "recording": ("sha256",), "photo": ("sha256",), "tie": ("photo", "entry"),
    "track": ("sha256",), "fence": ("job",),
    "clock": ("job", "camera", "day"), "hand_clock": ("job", "camera", "day"),
    "utterance": ("id",), "hearing": ("utterance", "ordinal"), "closing": ("id",),
    "bid": ("id",), "house": ("id",), "packed_job": ("job",),
    "signing": ("job", "day"),
    "planned_item": ("job", "ordinal"), "planned_task": ("job", "ordinal"),
    "planned_place": ("job", "ordinal"),
    "catalog_item": ("ordinal",), "catalog_task": ("ordinal",),
    "past_use": ("job_key", "day", "item_key"), "past_work": ("job_key", "day", "task_key"),
}  # fmt: skip
"""The columns that a row's seal is found by."""


def among(found: Sequence[BookEntry], put: Iterable[BookEntry]) -> tuple[BookEntry, ...]:
    """The entries with the damaged ones in their place in time."""
    return tuple(sorted([*found, *put], key=lambda entry: entry.at))


_VERSIONS = "SELECT * FROM entry_version WHERE entry = ?"
_DOUBTS = "SELECT * FROM doubt WHERE entry = ?"
_NOTHING: Row = {
    "version": 1, "content": "", "standing": "heard", "change": "heard", "changed_at": "",
    "said": "", "utterance": None, "at": "", "origin": None,
}  # fmt: skip


def _number(key: str, part: int = 0) -> int:
    """A number in a row's key; -1 where that is damaged itself."""
    parts = key.split("|")
    return int(parts[part]) if len(parts) > part and parts[part].isdecimal() else -1


def _moment(text: object) -> str:
    try:
        return rows.moment_text(datetime.fromisoformat(str(text)))
    except ValueError:
        return rows.moment_text(datetime.fromtimestamp(0, UTC))
