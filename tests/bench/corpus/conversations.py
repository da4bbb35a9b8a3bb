"""Conversations with what a careful person would note of them, and how a reading compares."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

from joblog.book.decisions import add_typed
from joblog.book.history import spoken
from joblog.dictation import Context, after, read
from joblog.form import ATTRIBUTES, entry_to_json
from joblog.model import Entry, Job, Reading, Vocabulary
from joblog.quantity import unit_named
from joblog.service.desk import Desk
from joblog.service.taking_in import write_down

CLASSES = ("plain", "sizes", "rambling", "sequence", "note", "chatter")


@dataclass(frozen=True)
class Talk:
    """Things said one after another, and the entries that stand after all of them."""

    kind: str
    """One of `CLASSES`."""
    lines: tuple[str, ...]
    doubts: tuple[bool | None, ...]
    """Of each line, whether a careful person would want to be asked; None where either is right."""
    entries: tuple[dict[str, Any], ...]
    at: datetime
    place: str | None
    free: frozenset[str]
    locked: bool


@dataclass(frozen=True)
class Stands:
    """An entry that stands after a conversation, and whether anything about it is in doubt."""

    entry: Entry
    doubted: bool


@dataclass
class Judged:
    """How a conversation was read."""

    right: bool
    asked: bool
    silent: bool
    """Strictly: a fact that nobody said stands without a doubt, or one that was said is lost."""
    plainly_silent: bool
    """Leniently: wrong, and nothing at all is in doubt."""
    needless: bool
    dropped: bool
    """A size, length, profile or colour is nowhere, not even in a doubt."""
    wrong: list[dict[str, Any]] = field(default_factory=list)
    lost: list[dict[str, Any]] = field(default_factory=list)


def talks(locked: bool = False) -> tuple[Talk, ...]:
    """The half that may be looked at, or the other one, which is only counted."""
    return tuple(talk for talk in _loaded("talk.jsonl") if talk.locked is locked)


def fresh_talks() -> tuple[Talk, ...]:
    """Written when the rules were; nobody read them, and they are only counted."""
    return tuple(_loaded("talk_fresh.jsonl"))


def practice_talks() -> tuple[Talk, ...]:
    """More of them, for building only: none counts in any figure of the README."""
    return tuple(_loaded("talk_practice.jsonl"))


def _loaded(name: str) -> Iterator[Talk]:
    lines = (Path(__file__).parent / name).read_text("utf-8").splitlines()
    return map(_talk, map(json.loads, lines))


def stands_after(talk: Talk, vocabulary: Vocabulary) -> list[Stands]:
    """What stands after all lines were read one after another."""
    context = Context(at=talk.at, place=talk.place)
    said = []
    for line in talk.lines:
        reading = read(line, vocabulary, context)
        context = after(context, reading)
        said.append((reading, line))
    return stands_of(said)


def stands_of(said: Sequence[tuple[Reading, str]]) -> list[Stands]:
    """What stands after these readings of these lines."""
    return [
        Stands(versions[-1].entry, bool(versions[-1].doubts))
        for versions in spoken(said, "heard")
        if versions[-1].standing != "dropped"
        and (versions[-1].entry.kind != "correction" or versions[-1].doubts)
    ]


def stands_after_writing(talk: Talk, desk: Desk) -> list[Stands]:
    """What stands after each line was written down by itself, in a job of its own."""
    number = len(desk.book.jobs())
    job = Job(f"talk {number}", "UTC")
    desk.book.add_job(job)
    own = replace(desk, job=job)
    if talk.place:
        before = Reading((Entry("note", place=talk.place, note="here"),))
        add_typed(own.book, job.name, before, "here", talk.at.replace(tzinfo=UTC))
    for line in talk.lines:
        write_down(own, line, talk.at)
    return [
        Stands(kept.entry, bool(kept.doubts))
        for kept in own.book.entries(job.name)[bool(talk.place) :]
        if kept.standing != "dropped" and (kept.entry.kind != "correction" or kept.doubts)
    ]


def judged(talk: Talk, standing: Sequence[Stands], vocabulary: Vocabulary) -> Judged:
    """How what stands compares with the truth."""
    names = _names(vocabulary)
    wanted = [(at, entry) for at, entry in enumerate(talk.entries)]
    found = [(one, entry_to_json(one.entry)) for one in standing]
    lost, wrong, doubtful = [], [], 0
    for at, truth in wanted:
        free = {name for name in truth if f"{at}.{name}" in talk.free} | {
            name.partition(".")[2] for name in talk.free if name.startswith(f"{at}.")
        }
        hit = next((one for one in found if _same(truth, one[1], free, names)), None)
        if hit is None:
            lost.append(truth)
        else:
            found.remove(hit)
    for one, shown in found:
        if one.entry.kind == "note" and not one.doubted:
            continue
        doubtful += one.doubted
        wrong += [] if one.doubted and one.entry.kind in ("note", "correction") else [shown]
    asked = any(one.doubted for one in standing)
    right = not lost and not wrong
    confident = any(not one.doubted and one.entry.kind != "note" for one, _ in found)
    facts = [truth for truth in lost if truth["kind"] != "note"]
    doubts = sum(one.doubted for one in standing)
    return Judged(
        right,
        asked,
        not right and (confident or len(facts) > doubts),
        not right and not asked,
        asked and right and all(doubt is False for doubt in talk.doubts),
        _dropped(talk.entries, standing),
        wrong,
        lost,
    )


def _dropped(wanted: Iterable[dict[str, Any]], standing: Sequence[Stands]) -> bool:
    kept = [
        " ".join(str(getattr(one.entry, name) or "") for name in (*ATTRIBUTES, "note", "item"))
        for one in standing
    ]
    told = " ".join(kept)
    said = [str(entry[name]) for entry in wanted for name in ATTRIBUTES if entry.get(name)]
    return any(value not in told for value in said) and not any(one.doubted for one in standing)


_WORDY = {"note", "todo", "extra", "expense", "drive", "inspection", "visit", "problem", "covered",
          "photo"}  # fmt: skip
_PASSED_OVER = {"reason", "as_said", "carried", "note", "who", "kind"}
_IDLE = set(
    "a an the to of and is are was it that this i we he she they on in at for so then but my our "
    "his her be with there up out".split()
)


def _same(
    truth: dict[str, Any], found: dict[str, Any], free: set[str], names: dict[str, str]
) -> bool:
    if truth["kind"] != found["kind"] and "kind" not in free:
        return False
    carried = set(found.get("carried") or ())
    for name in {*truth, *found} - _PASSED_OVER - free:
        one, other = truth.get(name), found.get(name)
        if name == "dimension" and one is None:
            continue
        if name in carried and one is None:
            continue
        if name == "item":
            if _item(one, names) != _item(other, names) and one != _base(other, names):
                return False
        elif name == "unit":
            if _unit(one) != _unit(other) and not (other and one is None):
                return False
        elif name == "place" and _is_part_of(one, found):
            continue
        elif _plain(one) != _plain(other):
            return False
    if truth["kind"] in _WORDY and "note" not in free:
        wanted = _words(truth.get("note"))
        told = _words(" ".join(str(value) for value in found.values() if value is not None))
        if not wanted <= told:
            return False
    if truth.get("who") and "who" not in free:
        told = _words(f"{found.get('who') or ''} {found.get('note') or ''}")
        return _words(truth["who"]) <= told
    return True


def _is_part_of(place: str | None, found: dict[str, Any]) -> bool:
    """True for "dormer rake" where the place is the dormer and the note says "rake": what is told
    of a part of a place of the job is kept with that place."""
    kept, note = _words(found.get("place")), _words(found.get("note"))
    return bool(kept) and kept < _words(place) <= kept | note


def _names(vocabulary: Vocabulary) -> dict[str, str]:
    """Every spoken name to its line, and "=line" to what it is a variant of."""
    names: dict[str, str] = {}
    for item in vocabulary.items:
        for name in (item.name, *item.spoken):
            names.setdefault(_singular(name), item.name)
        if item.variant_of:
            names[f"={item.name}"] = item.variant_of
    return names


def _item(name: str | None, names: dict[str, str]) -> str | None:
    return None if name is None else names.get(_singular(name), _singular(name))


def _base(name: str | None, names: dict[str, str]) -> str | None:
    return None if name is None else names.get(f"={name}", name)


def _singular(name: str) -> str:
    return " ".join(word.removesuffix("s") for word in name.lower().replace("-", " ").split())


def _unit(unit: str | None) -> str | None:
    return None if unit in (None, "each") else unit_named(unit) or unit


def _plain(value: object) -> str | None:
    if value is None or value == "":
        return None
    if re.fullmatch(r"-?[0-9]+([./][0-9]+)?", str(value)):
        return str(Fraction(str(value)))
    return str(value).lower().replace(" the ", " ").removeprefix("the ")


def _words(text: str | None) -> set[str]:
    return set(re.findall(r"[a-z0-9/.]+", (text or "").lower().replace("'", ""))) - _IDLE


def _talk(shown: dict[str, Any]) -> Talk:
    first = shown["lines"][0]["text"]
    return Talk(
        shown["class"],
        tuple(line["text"] for line in shown["lines"]),
        tuple(line.get("doubt") for line in shown["lines"]),
        tuple(shown["entries"]),
        datetime.fromisoformat(shown["at"]),
        shown.get("place"),
        frozenset(shown.get("free", ())),
        hashlib.sha256(first.encode()).digest()[0] % 2 == 1,
    )
