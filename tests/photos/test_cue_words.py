"""From what is said to what a cue calls for."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from joblog.dictation import read
from joblog.model import BookEntry, Catalog, Job, Plan
from joblog.photos.cues import cue_of, spoken_cues
from joblog.plan import vocabulary

JOB = Job("Invented", "UTC", ("north eave", "garage"))
WORDS = vocabulary(Plan(places=JOB.places), JOB, Catalog())
EIGHT = datetime(2026, 10, 5, 8, tzinfo=UTC)


def told(*lines: str, apart: float = 60) -> list[BookEntry]:
    """The entries of what was said, line by line."""
    found = [entry for line in lines for entry in read(line, WORDS).entries]
    moments = [EIGHT + timedelta(seconds=apart * number) for number in range(len(found))]
    return [
        BookEntry(number, 1, at, entry, (), "heard", "heard", at, "")
        for number, (entry, at) in enumerate(zip(found, moments, strict=True), 1)
    ]


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("two photos of the north eave", 2),
        ("three pictures of the flashing", 3),
        ("a couple of pictures of the garage", 2),
        ("took three photos of the gable", 3),
        ("two pictures", 2),
        ("photo of the gable", 1),
        ("photo", 1),
        ("photo of the two windows", 1),
    ],
)
def test_the_number_of_photos_said_survives_the_reading(line: str, count: int) -> None:
    entries = told(line)
    [cue] = spoken_cues(entries)
    assert cue_of(cue, entries, ()).count == count


@pytest.mark.parametrize("line", ["picture of the last one", "photo of that", "picture of it"])
def test_words_that_point_back_point_to_what_was_told_before(line: str) -> None:
    entries = told("problem the wood is rotten at the north eave", line)
    assert [entry.entry.kind for entry in entries] == ["problem", "photo"]
    assert cue_of(entries[1], entries, ()).to == entries[0]


def test_covered_work_calls_for_a_photo_unless_one_is_said_in_the_same_breath() -> None:
    lines = ("covered the wire behind the south soffit", "photo of the wire")
    assert [cue.entry.kind for cue in spoken_cues(told(*lines, apart=12))] == ["photo"]
    assert [cue.entry.kind for cue in spoken_cues(told(*lines, apart=90))] == ["covered", "photo"]
