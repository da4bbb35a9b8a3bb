"""Recordings of one sound: what each sounds like, and which of them counts.

One that a longer one supersedes stays in the book with its entries. What nobody decided of them is
dropped, in a step that can be undone; nothing is deleted.
"""

from __future__ import annotations

import zlib
from base64 import b85decode, b85encode
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from joblog.book import rows
from joblog.book.entries import as_is
from joblog.book.nouns import recording_text
from joblog.book.steps import BY_EAR, JOBLOG, YOU, deciding, last_of
from joblog.form import describe
from joblog.model import Doubt, HeardUtterance, Moment, RecordingStanding

if TYPE_CHECKING:
    from joblog.audio.sameness import SoundPrint
    from joblog.book.store import Book


@dataclass(frozen=True, slots=True)
class KeptSound:
    """A recording of the book, of any job, with what it sounds like if that is known yet."""

    sha256: str
    job: str
    name: str
    made: Moment
    seconds: float
    trouble: str | None
    standing: RecordingStanding
    superseded_by: str | None
    sound: SoundPrint | None

    @property
    def counts(self) -> bool:
        return self.standing == "kept"


@dataclass(frozen=True, slots=True)
class Shorter:
    """A recording all of which is in a longer one, which begins at so many seconds of it."""

    sha256: str
    begins: float


@dataclass(frozen=True, slots=True)
class Settled:
    """What was heard in a longer recording, less what a person had decided in shorter ones."""

    heard: tuple[HeardUtterance, ...]
    dropped: frozenset[int]
    """Which of its entries, counted through, are decided elsewhere."""


def kept_sounds(book: Book) -> tuple[KeptSound, ...]:
    """Every recording of the book that can be read."""
    found = book._rows(
        "SELECT recording.*, job.name AS job_name, exact, words FROM recording"
        " JOIN job ON job.id = recording.job"
        " LEFT JOIN sound_print ON sound_print.recording = sha256 ORDER BY made_at, sha256"
    )
    hurt = book._hurt("recording")
    return tuple(
        KeptSound(
            row["sha256"],
            row["job_name"],
            row["name"],
            Moment(datetime.fromisoformat(row["made_at"]), row["made_source"]),
            row["seconds"],
            row["trouble"],
            row["standing"],
            row["superseded_by"],
            _print_from(row),
        )
        for row in found
        if row["sha256"] not in hurt
    )


def _print_from(row: rows.Row) -> SoundPrint | None:
    """None where it is not known yet, or damaged: it is found out again then."""
    from joblog.audio.sameness import unpacked

    if row["words"] is None:
        return None
    try:
        return unpacked(row["seconds"], row["exact"], b85decode(row["words"]))
    except (ValueError, zlib.error):
        return None


def keep_print(book: Book, sha256: str, sound: SoundPrint) -> None:
    """Keeps what a recording of the book sounds like."""
    words = b85encode(sound.packed()).decode()
    with book._writing():
        book._db.execute(
            "INSERT OR REPLACE INTO sound_print VALUES (?, ?, ?)", [sha256, sound.exact, words]
        )


def same_sound_that_counts(book: Book, sha256: str) -> str | None:
    """The name of a recording with the sound of this one, that would count twice beside it."""
    every = {one.sha256: one for one in kept_sounds(book)}
    one = every.get(sha256)
    if one is None:
        return None
    beside = [*shorter_than(book, sha256), *([one.superseded_by] if one.superseded_by else [])]
    rivals = [every[other] for other in beside if other in every]
    rivals += _alike(one, [other for other in every.values() if other.sha256 != sha256])
    return next((rival.name for rival in rivals if rival.counts), None)


def shorter_than(book: Book, sha256: str) -> tuple[str, ...]:
    """Those that a recording superseded, and what these had superseded."""
    found = book._rows(
        "WITH RECURSIVE under (sha256) AS (SELECT sha256 FROM recording WHERE superseded_by = ?"
        " UNION SELECT recording.sha256 FROM recording JOIN under"
        " ON superseded_by = under.sha256) SELECT sha256 FROM under ORDER BY sha256",
        sha256,
    )
    return tuple(row["sha256"] for row in found)


def settle(book: Book, heard: Sequence[HeardUtterance], shorter: Sequence[Shorter]) -> Settled:
    """What of a longer recording's entries is new, before it is kept.

    An entry that was heard alike in a shorter one, and there accepted, corrected or dropped by a
    person, is dropped here, so that it counts as was decided and once. One that was heard otherwise
    at a place where something was decided is doubtful.
    """
    decided = [one for each in shorter for one in _decided(book, each)]
    out: list[HeardUtterance] = []
    dropped: set[int] = set()
    number = 0
    for one in heard:
        near = [d for d in decided if d.overlaps(one.utterance.start, one.utterance.end)]
        fresh: list[int] = []
        for at, entry in enumerate(one.reading.entries):
            same = next((d for d in near if d.heard == rows.content(entry)), None)
            if same is None:
                fresh.append(at)
            else:
                near.remove(same)
                decided.remove(same)
                dropped.add(number + at)
        number += len(one.reading.entries)
        doubts = [Doubt(at, d.doubt) for at in fresh for d in near]
        reading = replace(one.reading, doubts=(*one.reading.doubts, *doubts))
        out.append(replace(one, reading=reading))
    return Settled(tuple(out), frozenset(dropped))


def supersede(book: Book, sha256: str, shorter: Sequence[Shorter], settled: Settled) -> None:
    """Puts a longer recording, just kept, in the place of shorter ones, in one step.

    What a person decided in those stays. What nobody decided is dropped.
    """
    if not shorter:
        return
    with deciding(book, JOBLOG) as step:
        names = []
        for each in shorter:
            recording = book.recording(each.sha256)
            names.append(recording.name)
            if recording.standing == "kept":
                [row] = book._rows("SELECT job FROM recording WHERE sha256 = ?", each.sha256)
                text = recording_text(row["job"], "superseded", sha256)
                step.put(f"recording {each.sha256}", text)
            decided = {one.entry for one in _decided(book, each)}
            for id in entries_of(book, each.sha256):
                if id not in decided and (kept := book.entry(id)).standing != "dropped":
                    step.add_version(id, as_is(kept, "withdrawn", "dropped"))
        every = entries_of(book, sha256)
        for at in sorted(settled.dropped):
            if (kept := book.entry(every[at])).standing != "dropped":
                # Not "withdrawn": it stays dropped when the recording is brought back.
                step.add_version(every[at], as_is(kept, "dropped", "dropped"))
        step.what = f"put {book.recording(sha256).name} in the place of: {', '.join(names)}"


@dataclass(frozen=True, slots=True)
class _Decision:
    """An entry of a shorter recording that a person decided: when it was said, in seconds of the
    longer one, and what was heard then."""

    entry: int
    start: float
    end: float
    heard: str
    doubt: str

    def overlaps(self, start: float, end: float) -> bool:
        return min(self.end, end) - max(self.start, start) > 0.2


def _decided(book: Book, shorter: Shorter) -> list[_Decision]:
    name = book.recording(shorter.sha256).name
    found = []
    for row in book._rows(
        'SELECT entry.id, utterance."start", utterance."end" FROM entry'
        " JOIN utterance ON utterance.id = entry.utterance"
        " WHERE recording = ? ORDER BY entry.id",
        shorter.sha256,
    ):
        first, *_, now = (*book.versions(row["id"]), book.entry(row["id"]))
        if (now.origin or now.change) in ("heard", "withdrawn") or not _by_a_person(book, now.id):
            continue
        shown = describe(now.entry)
        found.append(
            _Decision(
                now.id,
                row["start"] - shorter.begins,
                row["end"] - shorter.begins,
                rows.content(first.entry),
                f"was decided already, in the shorter {name}, and counts as that;"
                f" {'dropped: ' * (now.standing == 'dropped')}{shown}",
            )
        )
    return found


def _by_a_person(book: Book, id: int) -> bool:
    last = last_of(book, f"entry {id}")
    if last is None:
        return False
    [step] = book._rows("SELECT who FROM step WHERE id = ?", last["id"])
    return step["who"] in (YOU, BY_EAR)


def _alike(one: KeptSound, others: Sequence[KeptSound]) -> list[KeptSound]:
    from joblog.audio.sameness import ALIKE, SILENT, Prints

    prints = Prints({other: other.sound or SILENT for other in others})
    return [
        like.other
        for like in prints.like(one.sound or SILENT)
        if max(like.mine, like.theirs) >= ALIKE
    ]


def entries_of(book: Book, sha256: str) -> tuple[int, ...]:
    """Ids of the entries that were read from a recording, as they were said."""
    found = book._rows(
        "SELECT entry.id FROM entry JOIN utterance ON utterance.id = entry.utterance"
        " WHERE recording = ? ORDER BY entry.id",
        sha256,
    )
    return tuple(row["id"] for row in found)
