"""How a walk around a house is read that is told aloud.

    python -m tests.bench.walks [--half open|practice|locked] [--show]

Sixty utterances, each with what was said before it and what it means, written before the tables
that read them; of the locked half only counts are printed. Those for practice were written for
building only.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import dataclass, replace
from pathlib import Path

from joblog.dictation import Context, after, fact_of, read
from joblog.form import describe, entry_from_json
from joblog.model import Entry, Reading
from tests.bench.corpus import words

FILE = Path(__file__).parent / "corpus/walks.jsonl"


@dataclass(frozen=True)
class Told:
    """One utterance of a walk, and the entries a careful person would write down."""

    text: str
    before: tuple[str, ...]
    entries: tuple[Entry, ...]
    doubt: bool | None
    """None where it may be asked about or not."""


@dataclass(frozen=True)
class Found:
    """How utterances of walks are read."""

    told: int
    exact: int
    """Right, and asked about only where it should be."""
    silent: int
    """Wrong without a doubt."""
    needless: int
    """Right, and asked about though it is plain."""


def walks(half: str) -> tuple[Told, ...]:
    """Those of the half "open" or "locked", or those written for building."""
    lines = map(json.loads, FILE.read_text("utf-8").splitlines())
    return tuple(
        Told(
            one["text"],
            tuple(one["after"]),
            tuple(map(entry_from_json, one["entries"])),
            one["doubt"],
        )
        for one in lines
        if one["half"] == half
    )


def read_there(told: Told) -> Reading:
    """How it is read after what was said before it."""
    return read(told.text, words(), context_of(told))


def context_of(told: Told) -> Context:
    context = Context()
    for text in told.before:
        context = after(context, read(text, words(), context))
    return context


def is_right(told: Told, reading: Reading) -> bool:
    """Whether every fact is as it should be, and every place that was named."""
    return len(told.entries) == len(reading.entries) and all(
        _same(wanted, found) for wanted, found in zip(told.entries, reading.entries, strict=True)
    )


def found_of(half: str) -> Found:
    """The figures of one half."""
    every = [(told, read_there(told)) for told in walks(half)]
    right = [(told, reading) for told, reading in every if is_right(told, reading)]
    needless = sum(told.doubt is False and bool(reading.doubts) for told, reading in right)
    return Found(
        len(every),
        len(right) - needless,
        sum(not is_right(told, reading) and not reading.doubts for told, reading in every),
        needless,
    )


def _same(wanted: Entry, found: Entry) -> bool:
    inner, other = wanted.replacement, found.replacement
    if inner is not None and other is not None:
        return _same(inner, other)
    if wanted.place is not None and wanted.place != found.place:
        return False
    if wanted.kind == "interruption" and wanted.note != found.note:
        return False
    told = replace(found, pieces=found.pieces if wanted.pieces else _of_several(found.pieces))
    if wanted.inches is None and wanted.square_inches is None:
        return fact_of(replace(told, back=0)) == fact_of(wanted)
    # A soffit's depth may be said with its item.
    return fact_of(replace(told, item=wanted.item, back=0)) == fact_of(wanted)


def _of_several(pieces: int | None) -> int | None:
    """One of a thing is as many as nobody counted."""
    return None if pieces == 1 else pieces


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--half", choices=("open", "practice", "locked"), default="open")
    parser.add_argument("--show", action="store_true")
    asked_for = parser.parse_args()
    half = asked_for.half
    found = found_of(half)
    print(
        f"{half}: {found.told} told, {found.exact} exact, {found.silent} silently wrong, "
        f"{found.needless} asked about needlessly"
    )
    for told in walks(half) if asked_for.show and half != "locked" else ():
        reading = read_there(told)
        if is_right(told, reading) and not (told.doubt is False and reading.doubts):
            continue
        print(f"\n{told.text}   after {told.before}")
        print("   wanted", [(describe(entry), entry.place) for entry in told.entries])
        print("   found ", [(describe(entry), entry.place) for entry in reading.entries])
        print("   doubts", [doubt.why for doubt in reading.doubts])


if __name__ == "__main__":
    main()
