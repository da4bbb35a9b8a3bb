"""Clocks and ties of a job's photos, kept in step with its entries and with a person's word."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from functools import lru_cache, partial
from hashlib import sha256
from zoneinfo import ZoneInfo

from joblog.book import ground, rows
from joblog.book.rows import Row
from joblog.book.store import Book
from joblog.model import BookEntry, ClockCorrection, Entry, Fence, Photo, Position, Tie

BY_HAND = "tied by hand"

METHOD = 1
"""Counts up with every change of how clocks are found, so that older books find theirs anew."""


def tie_photos(book: Book, job: str) -> None:
    """Puts the clocks of the job's cameras right and ties its photos anew; every decision does so.

    A photo that a person tied belongs to those entries and no others; a pair that a person untied
    stays apart, and a clock that a person set stays set. Ties wait while the photo or the entry is
    elsewhere or dropped.
    """
    with book._writing():
        photos = book.photos(job)
        kept = book.ties(job), book.clocks(job)
        if not photos and not any(kept):
            return
        entries = book.entries(job)
        told = _told(entries)
        clocks = _clocks(book, job, photos, told)
        ties = _ties(book, job, photos, entries, told, clocks)
        if (ties, clocks) == kept:
            return
        number = book._job(job)["id"]
        book._db.execute(
            "DELETE FROM tie WHERE photo IN (SELECT sha256 FROM photo WHERE job = ?)", [number]
        )
        book._db.execute("DELETE FROM clock WHERE job = ?", [number])
        for one in ties:
            book._insert("tie", rows.tie_row(one))
        for clock in clocks:
            book._insert("clock", {"job": number, **rows.clock_row(clock)})


def _clocks(
    book: Book, job: str, photos: Sequence[Photo], told: tuple[BookEntry, ...]
) -> tuple[ClockCorrection, ...]:
    from joblog.photos.cues import spoken_cues

    row = book._job(job)
    said = book._kept("hand_clock", "SELECT * FROM hand_clock WHERE job = ?", row["id"])
    by_hand = {(one["camera"], date.fromisoformat(one["day"])): one["seconds"] for one in said}
    ordered = sorted(told, key=lambda kept: (kept.at, kept.id))
    rests_on = _mark(
        METHOD,
        row["zone"],
        sorted(by_hand.items()),
        [(one.camera, one.taken, one.clock, one.satellites) for one in photos],
        [(cue.at, cue.entry.kind) for cue in spoken_cues(ordered)],
    )
    kept = f"clocks of {row['id']}"
    if book.setting(kept) == rests_on and not book._hurt("clock"):
        return book.clocks(job)
    found = _reckoned(tuple(photos), told, row["zone"], frozenset(by_hand.items()))
    book.set_setting(kept, rests_on)
    return found


def _mark(*rests_on: object) -> str:
    """What clocks rest on, short; another program started later need not reckon them anew."""
    return sha256(repr(rests_on).encode()).hexdigest()


def _told(entries: Iterable[BookEntry]) -> tuple[BookEntry, ...]:
    """What clocks and ties go by: where nothing of it changed, nothing is reckoned anew."""
    return tuple(
        BookEntry(
            kept.id,
            1,
            kept.at,
            Entry(kept.entry.kind, kept.entry.place, kept.entry.note),
            (),
            "dropped" if kept.standing == "dropped" else "heard",
            "heard",
            kept.at,
            "",
        )
        for kept in entries
    )


@lru_cache(maxsize=4)
def _reckoned(
    photos: tuple[Photo, ...],
    told: tuple[BookEntry, ...],
    zone: str,
    by_hand: frozenset[tuple[tuple[str, date], float]],
) -> tuple[ClockCorrection, ...]:
    from joblog.photos import clocks

    return clocks(photos, told, zone, dict(by_hand))


@lru_cache(maxsize=4)
def _assigned(
    photos: tuple[Photo, ...],
    told: tuple[BookEntry, ...],
    clocks: tuple[ClockCorrection, ...],
    zone: str,
    tied: frozenset[tuple[str, int]],
    apart: frozenset[tuple[str, int]],
    fence: Fence | None,
    spots: frozenset[tuple[str, Position]] = frozenset(),
) -> tuple[Tie, ...]:
    from joblog.photos import assign

    return assign(
        photos, told, clocks, zone, spots=dict(spots), fence=fence, tied=tied, apart=apart
    )


def _ties(
    book: Book,
    job: str,
    photos: Sequence[Photo],
    entries: Sequence[BookEntry],
    told: tuple[BookEntry, ...],
    clocks: tuple[ClockCorrection, ...],
) -> tuple[Tie, ...]:
    from joblog.photos.clock import by_clock, put_right
    from joblog.photos.geo import learned_places

    row = book._job(job)
    said = book._rows(
        "SELECT hand_tie.* FROM hand_tie JOIN photo ON photo.sha256 = hand_tie.photo"
        " JOIN entry ON entry.id = hand_tie.entry"
        " WHERE photo.job = :job AND entry.job = :job AND photo.standing = 'kept'",
        job=row["id"],
    )
    zone, found = ZoneInfo(row["zone"]), by_clock(clocks)
    moments = {photo.sha256: put_right(photo, found, zone)[0] for photo in photos}
    by_hand = _by_hand(said, entries, moments)
    where = {id: one.position for id, one in ground.placed(book, photos, moments).items()}
    guess = partial(
        _assigned,
        tuple(replace(photo, position=where.get(photo.sha256)) for photo in photos),
        told,
        clocks,
        row["zone"],
        frozenset((one.photo, one.entry) for one in by_hand),
        frozenset((one["photo"], one["entry"]) for one in said if not one["tied"]),
        ground.fence(book, job) if where else None,
    )
    guessed = guess()
    # Of these ties themselves, not of those that stand, so that the same always comes of the same.
    if spots := learned_places(where, (*by_hand, *guessed), entries):
        guessed = guess(frozenset(spots.items()))
    taken = {photo.sha256: photo.taken.at for photo in photos}
    both = [*by_hand, *guessed]
    return tuple(sorted(both, key=lambda one: (taken[one.photo], one.photo, one.entry)))


def _by_hand(
    said: Sequence[Row], entries: Sequence[BookEntry], moments: Mapping[str, datetime]
) -> list[Tie]:
    standing = {kept.id: kept for kept in entries if kept.standing != "dropped"}
    return [
        Tie(
            row["photo"],
            row["entry"],
            BY_HAND,
            (moments[row["photo"]] - standing[row["entry"]].at).total_seconds(),
        )
        for row in said
        if row["tied"] and row["entry"] in standing
    ]
