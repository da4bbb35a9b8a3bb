"""What was covered, and the photos that show it as it was: what an inspector may ask for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import date, datetime
from io import BytesIO
from pathlib import Path

from joblog.book.media import settle
from joblog.model import BookEntry, CoveredWork, Photo, Placed, Problem, Proof, Tie
from joblog.service import ground, record
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.files import put

MOST_ACROSS = 3000
"""Pixels of the longer side of a picture that is given away."""


@use_case
def covered(desk: Desk, day: date | None = None) -> tuple[CoveredWork, ...]:
    """Every entry about covered work of the job, or of one day, that was not dropped, in time.

    A photo of it is one that is tied to it, or to "photo" that was said in the same breath.
    """
    from joblog.photos.alike import rank

    entries = sorted(record.read_entries(desk, day), key=lambda one: (one.at, one.id))
    wanted = [one for one in entries if one.entry.kind == "covered" and one.standing != "dropped"]
    if not wanted:
        return ()
    evidence = record.read_evidence(desk, [one.id for one in wanted])
    photos = {photo.sha256: photo for photo in record.photos(desk)}
    gather = _Gathering(
        photos,
        record.ties(desk),
        record.corrected_moments(desk),
        {sha256: by.reason for sha256, (_, by) in record.put_right(desk).items()},
        ground.placed(desk),
        rank(record.alike(desk)),
    )
    return tuple(
        _one(entry, evidence[entry.id].recording, gather.proofs(_said_with(entry, entries)))
        for entry in wanted
    )


def unproved(work: Iterable[CoveredWork]) -> tuple[CoveredWork, ...]:
    """Those without a photo."""
    return tuple(one for one in work if not one.proofs)


@use_case
def hand_out(
    desk: Desk, work: Iterable[CoveredWork], folder: Path, *, originals: bool = False
) -> tuple[Problem, ...]:
    """Writes the photos of covered work into a new folder, to be given away; what went wrong.

    Each is a copy without any metadata, upright and no larger than MOST_ACROSS, under the number of
    its entry; or, if that is asked for, the original byte for byte, with all that its camera wrote
    there. Raises `ServiceError` where the folder cannot be made, or holds anything else already.
    """
    given = [
        (proof, folder / _name(one, number, proof.photo, originals))
        for one in work
        for number, proof in enumerate(one.proofs, 1)
    ]
    _make(folder, {target.name for _, target in given})
    problems = []
    for proof, target in given:
        try:
            _give(desk.book.media(proof.photo.sha256), target, originals)
        except Exception as error:  # One picture must not keep the others back.
            problems.append(Problem(proof.photo.name, f"was left out: {error}"))
    return tuple(problems)


RECORD = "covered.txt"
"""What the record itself is called beside its photos."""


def _make(folder: Path, names: Set[str]) -> None:
    """Makes the folder; one that was begun, by a run that was killed, is gone on with."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        settle(folder.parent)
        others = {one.name for one in folder.iterdir() if not one.name.startswith(".")}
    except FileExistsError:
        raise ServiceError(f"{folder}: is there already; name a new folder") from None
    except OSError as error:
        raise ServiceError(f"{folder}: cannot be made: {error.strerror}") from None
    if others - names - {RECORD}:
        raise ServiceError(f"{folder}: is there already; name a new folder")


def _give(original: Path, target: Path, whole: bool) -> None:
    if whole:
        put(target, original.read_bytes())
        return
    # Drawn anew, pixel by pixel: nothing that stood beside the pixels comes along.
    bare = record.thumbnail(original, (MOST_ACROSS, MOST_ACROSS))
    bare.info.clear()
    drawn = BytesIO()
    bare.save(drawn, "JPEG", quality=92)
    put(target, drawn.getvalue())


def _name(one: CoveredWork, number: int, photo: Photo, whole: bool) -> str:
    name = Path(re.sub(r"[^\w.-]+", "_", photo.name, flags=re.ASCII))
    suffix = name.suffix if whole else ".jpg"
    return f"entry-{one.entry.id}-{number}-{name.stem[:60]}{suffix}"


class _Gathering:
    def __init__(
        self,
        photos: Mapping[str, Photo],
        ties: Sequence[Tie],
        moments: Mapping[str, datetime],
        corrections: Mapping[str, str],
        placed: Mapping[str, Placed],
        alike: Mapping[str, tuple[int, int]],
    ) -> None:
        self._photos, self._ties = photos, ties
        self._moments, self._corrections = moments, corrections
        self._placed, self._alike = placed, alike

    def proofs(self, entries: frozenset[int]) -> tuple[Proof, ...]:
        """The photos of these entries, each once."""
        found = {
            tie.photo: Proof(
                self._photos[tie.photo],
                self._moments[tie.photo],
                self._corrections.get(tie.photo, ""),
                self._placed.get(tie.photo),
                tie,
            )
            for tie in self._ties
            if (tie.entry in entries or tie.cue in entries) and tie.photo in self._photos
        }
        return tuple(sorted(found.values(), key=self._order))

    def _order(self, proof: Proof) -> tuple[bool, datetime, str]:
        sha256 = proof.photo.sha256
        place, _ = self._alike.get(sha256, (1, 1))
        return place > 1, proof.taken, sha256


def _said_with(entry: BookEntry, entries: Sequence[BookEntry]) -> frozenset[int]:
    """The entry, and "photo" where that was said right after it."""
    from joblog.photos.cues import IN_ONE_BREATH

    after = [one for one in entries if (one.at, one.id) > (entry.at, entry.id)]
    counted = [one for one in after if one.standing != "dropped" and one.entry.kind != "correction"]
    beside = {
        one.id
        for one in counted[:1]
        if one.entry.kind == "photo" and one.at - entry.at <= IN_ONE_BREATH
    }
    return frozenset({entry.id} | beside)


def _one(entry: BookEntry, heard_in: str | None, proofs: tuple[Proof, ...]) -> CoveredWork:
    lacks = []
    if not proofs:
        lacks.append("no photo")
    elif not any(proof.tie.sure for proof in proofs):
        lacks.append("no photo that is surely of it")
    if proofs and not any(proof.placed for proof in proofs):
        lacks.append("no position")
    if entry.open:
        lacks.append("it waits for a decision")
    return CoveredWork(entry, heard_in, proofs, tuple(lacks))
