"""The corpus of phrases: loading it and holding a reading against it. Conventions: README.md."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from joblog.dictation import Context, read
from joblog.form import entry_from_json, entry_to_json
from joblog.model import Entry, Plan, PlannedTask, Reading, Task, Vocabulary
from joblog.plan import vocabulary

PLACES = ("north eave", "south eave", "east wall", "west gable", "porch ceiling", "garage wall")
TASKS = {
    "hang soffit": ("hung soffit", "hanging soffit", "soffit"),
    "wrap fascia": ("wrapped fascia", "wrapping fascia", "fascia"),
    "side walls": ("siding", "hung siding", "sided"),
    "hang gutter": ("hung gutter", "gutter", "gutters"),
}
NOT_COMPARED = {"reason", "note", "as_said", "carried"}


@dataclass(frozen=True)
class Phrase:
    """One utterance and the entries a careful person would write down."""

    text: str
    entries: tuple[dict[str, Any], ...]
    doubt: bool | None
    free: frozenset[str]
    context: Context
    tags: tuple[str, ...]
    held_out: bool


@cache
def words() -> Vocabulary:
    """The vocabulary of the job that the phrases speak of."""
    tasks = tuple(PlannedTask(Task(name, said), 1) for name, said in TASKS.items())  # type: ignore[arg-type]
    return vocabulary(Plan(tasks=tasks, places=PLACES))


def phrases() -> tuple[Phrase, ...]:
    """All phrases; `held_out` marks the half that nobody looks at while building."""
    return _loaded("phrases.jsonl")


def practice() -> tuple[Phrase, ...]:
    """More phrases, written for building only: none of them counts in any figure of the README."""
    return _loaded("practice.jsonl")


def plain() -> tuple[Phrase, ...]:
    """Plain phrases of which none needs a question, written before the rules that ask less of
    them; `held_out` marks the half that nobody looks at."""
    return _loaded("plain.jsonl")


def to_hear() -> tuple[Phrase, ...]:
    """Sentences whose text is read right: for how well they are heard (`tests.bench.plain`)."""
    return _loaded("to_hear.jsonl")


def exact(phrase: Phrase, reading: Reading) -> bool:
    """True when the entries that stand are the phrase's, on every field that is compared."""
    found = standing(entry_to_json(entry) for entry in reading.entries)
    wanted = standing(phrase.entries)
    if not any(entry["kind"] == "needed" for entry in wanted):
        # These truths are older than the rule that what ran out is needed.
        found = [entry for entry in found if not _ran_out(entry)]
    if _matches(wanted, found, phrase.free):
        return True
    # Beside other entries, one note more or less is not wrong.
    return any(
        _matches(fewer_wanted, fewer_found, phrase.free)
        for fewer_wanted, fewer_found in (
            (wanted, _without_note(found)),
            (_without_note(wanted), found),
        )
        if fewer_wanted and fewer_found
    )


@dataclass(frozen=True)
class Figures:
    """How many phrases of a part of the corpus are read how."""

    phrases: int
    exact: int
    doubted: int
    silent: int
    """Wrong without a doubt."""
    needless: int
    """Doubted, though right and plain."""
    missed: int
    """Not doubted, where a careful person would ask."""


def figures(half: Iterable[Phrase], vocabulary: Vocabulary) -> Figures:
    """How the phrases are read now."""
    read_so = [(one, read(one.text, vocabulary, one.context)) for one in half]
    return Figures(
        phrases=len(read_so),
        exact=sum(exact(one, reading) for one, reading in read_so),
        doubted=sum(bool(reading.doubts) for _, reading in read_so),
        silent=sum(not exact(one, r) and not r.doubts for one, r in read_so),
        needless=sum(bool(r.doubts) and exact(one, r) and one.doubt is False for one, r in read_so),
        missed=sum(not r.doubts and one.doubt is True for one, r in read_so),
    )


def standing(entries: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """The entries with each changed one as it ends: whether "four, no, five" is read as five or as
    four and its change, five stands. A change of what was said earlier stays a change."""
    left: list[dict[str, Any]] = []
    for entry in entries:
        inner = entry.get("with")
        if entry["kind"] != "correction" or not inner or not left or left[-1].get("action"):
            left.append(entry)
        elif inner["kind"] == left[-1]["kind"]:
            said = {name: value for name, value in inner.items() if value is not None}
            left[-1] = {**left[-1], **said}
        else:
            left[-1] = inner
    return left


def same_but_for_place(wanted: dict[str, Any], found: dict[str, Any]) -> bool:
    """True when one entry is the other in kind, item and every number."""
    return _same(wanted, found, {"place"})


def _loaded(name: str) -> tuple[Phrase, ...]:
    lines = (Path(__file__).parent / name).read_text("utf-8").splitlines()
    return tuple(_phrase(json.loads(line)) for line in lines)


def _ran_out(entry: dict[str, Any]) -> bool:
    return entry["kind"] == "needed" and entry["quantity"] is None and "note" not in entry


def _without_note(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    at = next((at for at, entry in enumerate(entries) if entry["kind"] in ("note", *_NOTES)), None)
    return entries if at is None else entries[:at] + entries[at + 1 :]


def _matches(
    wanted: list[dict[str, Any]], found: list[dict[str, Any]], free: frozenset[str]
) -> bool:
    return len(wanted) == len(found) and all(
        _same(one, other, {field for field in _FIELDS if f"{at}.{field}" in free})
        for at, (one, other) in enumerate(zip(wanted, found, strict=True))
    )


_FIELDS = [
    "place", "item", "quantity", "unit", "unit_cost", "inches", "square_inches", "pitch",
    "pieces", "time", "minutes", "workers", "hours", "task", "fahrenheit", "action", "kind",
]  # fmt: skip


def _same(wanted: dict[str, Any], found: dict[str, Any], free: set[str]) -> bool:
    fields = {"kind", *_FIELDS} - free
    if wanted["kind"] == "note" and found["kind"] in _NOTES:
        # These truths are older than these kinds, and call all of them notes.
        fields = set()
    if wanted["kind"] == "correction":
        fields.discard("place")
        inner, other = wanted.get("with"), found.get("with")
        if bool(inner) != bool(other) or (inner and other and not _same(inner, other, free)):
            return False
    if _item_goes_further(wanted.get("item"), found.get("item")):
        fields.discard("item")
    return all(_plain(wanted.get(field)) == _plain(found.get(field)) for field in fields)


def _item_goes_further(wanted: object, found: object) -> bool:
    """True for an item by its own words where the truth knows none, or for a variant of its item.

    The truths were written when no entry could hold either.
    """
    known = {item.name: item for item in words().items}
    if wanted is None:
        return found is not None and found not in known
    return found in known and known[str(found)].variant_of == wanted


_NOTES = ("todo", "extra", "expense", "drive", "inspection", "visit", "price")


def _plain(value: object) -> str | None:
    """The value as text; "left of the door" and "left of door" are one place."""
    return None if value is None else str(value).replace(" the ", " ").removeprefix("the ")


def _phrase(line: dict[str, Any]) -> Phrase:
    last: Entry | None = entry_from_json(line["last"]) if line.get("last") else None
    at = datetime.fromisoformat(line["at"]) if line.get("at") else None
    item = last.item if last else None
    digest = hashlib.sha256(line["text"].encode()).digest()
    return Phrase(
        line["text"],
        tuple(line["entries"]),
        line.get("doubt"),
        frozenset(line.get("free", ())),
        Context(at=at, place=line.get("place"), last=last, item=item),
        tuple(line["tags"]),
        digest[0] % 2 == 1,
    )
