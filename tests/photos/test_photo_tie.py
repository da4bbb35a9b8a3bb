"""Which words a photo belongs to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import BookEntry, Entry, Kind, Moment, Photo, Standing, Tie
from joblog.photos import assign
from joblog.photos.assign import AROUND_LIMIT, CUE_LIMIT
from joblog.photos.clock import BURST

NOON = datetime(2026, 10, 5, 16, 0, tzinfo=UTC)


def tie(photos: Sequence[Photo], entries: Sequence[BookEntry]) -> tuple[Tie, ...]:
    return assign(photos, entries, (), "UTC")


def said(id: int, seconds: float, kind: Kind = "note", standing: Standing = "heard") -> BookEntry:
    at = NOON + timedelta(seconds=seconds)
    return BookEntry(id, 1, at, Entry(kind), (), standing, "heard", at, "")


def shot(seconds: float, sha256: str = "a", source: str = "EXIF with offset") -> Photo:
    moment = Moment(NOON + timedelta(seconds=seconds), source)
    return Photo(sha256, "eave.jpg", moment, 64, 48)


ENTRIES = st.lists(
    st.builds(
        said,
        st.integers(1, 99),
        st.integers(-30, 30).map(lambda half_minutes: half_minutes * 30),
        st.sampled_from(["photo", "note", "covered", "correction"]),
        st.sampled_from(["heard", "accepted", "dropped"]),
    ),
    max_size=12,
    unique_by=lambda entry: entry.id,
)

PHOTOS = st.lists(
    st.builds(
        shot,
        st.integers(-900, 900) | st.sampled_from([-30, 0, 15, 30]),
        st.text("abcdef", min_size=4, max_size=4),
    ),
    max_size=6,
    unique_by=lambda photo: photo.sha256,
)


def counted(entries: Sequence[BookEntry]) -> list[BookEntry]:
    return [e for e in entries if e.standing != "dropped" and e.entry.kind != "correction"]


def apart(photo: Photo, entry: BookEntry) -> timedelta:
    return abs(photo.taken.at - entry.at)


def test_a_photo_belongs_to_the_word_photo_said_before_it() -> None:
    (found,) = tie([shot(4)], [said(1, 0, "photo")])
    assert (found.entry, found.seconds, found.reason) == (1, 4.0, "said 'photo' 4 s before")


def test_a_photo_may_come_before_the_word() -> None:
    (found,) = tie([shot(-8)], [said(1, 0, "photo")])
    assert (found.seconds, found.reason, found.sure) == (-8.0, "said 'photo' 8 s after", True)


def test_a_photo_long_before_the_word_belongs_to_it_as_to_any_words_near() -> None:
    (found,) = tie([shot(-65)], [said(1, 0, "photo")])
    assert (found.entry, found.sure, found.cue) == (1, True, None)
    assert found.reason == "said nearest, 1 min 5 s after"


def test_the_word_photo_wins_over_nearer_words() -> None:
    (found,) = tie([shot(100)], [said(1, 0, "photo"), said(2, 99, "problem")])
    assert found.entry == 1


def test_without_the_word_it_belongs_to_what_was_said_nearest() -> None:
    (found,) = tie([shot(0)], [said(1, -300), said(2, 35, "problem")])
    assert (found.entry, found.reason, found.cue) == (2, "said nearest, 35 s after", None)


def test_a_word_photo_long_ago_is_only_words_around() -> None:
    (found,) = tie([shot(240)], [said(1, 0, "photo"), said(2, 500)])
    assert (found.entry, found.reason) == (1, "said nearest, 4 min before")


def test_a_photo_far_from_all_words_belongs_to_none() -> None:
    assert tie([shot(0)], [said(1, 601), said(2, -601, "photo")]) == ()


def test_several_photos_may_belong_to_one_word() -> None:
    found = tie([shot(9, "b"), shot(4, "a")], [said(1, 0, "photo")])
    assert [(one.photo, one.entry) for one in found] == [("a", 1), ("b", 1)]


def test_each_of_two_words_has_the_photos_nearest_to_it() -> None:
    found = tie([shot(5, "a"), shot(62, "b")], [said(1, 0, "photo"), said(2, 60, "photo")])
    assert [(one.photo, one.entry) for one in found] == [("a", 1), ("b", 2)]


def test_of_two_equally_near_the_one_said_before_counts() -> None:
    (found,) = tie([shot(30)], [said(1, 60, "photo"), said(2, 0, "photo")])
    assert found.entry == 2


def test_of_two_said_at_once_the_first_in_the_book_counts() -> None:
    (found,) = tie([shot(3)], [said(8, 0), said(7, 0), said(9, 0)])
    assert (found.entry, found.reason) == (7, "said nearest, 3 s before")


def test_at_the_same_moment_is_said_so() -> None:
    (found,) = tie([shot(0.2)], [said(1, 0, "photo")])
    assert (found.seconds, found.reason) == (0.2, "said 'photo' at the same moment")


@pytest.mark.parametrize(
    "passed_over",
    [
        said(1, 0, "photo", "dropped"),
        said(1, 0, "correction"),
        said(1, 0, "correction", "accepted"),
    ],
)
def test_dropped_entries_and_corrections_are_passed_over(passed_over: BookEntry) -> None:
    assert tie([shot(1)], [passed_over]) == ()


def test_a_photo_of_which_only_the_day_is_known_belongs_to_no_words() -> None:
    assert tie([shot(0, source="day in file name")], [said(1, 0, "photo")]) == ()


def test_a_photo_timed_by_its_file_says_so() -> None:
    (found,) = tie([shot(4, source="file time")], [said(1, 0, "photo")])
    assert found.reason == "said 'photo' 4 s before (by the file time)"


@given(PHOTOS, ENTRIES, st.randoms())
def test_the_order_of_what_comes_in_does_not_matter(
    photos: list[Photo], entries: list[BookEntry], random: Random
) -> None:
    ties = tie(photos, entries)
    random.shuffle(photos)
    random.shuffle(entries)
    assert tie(photos, entries) == ties


@given(PHOTOS, ENTRIES)
def test_nothing_is_tied_beyond_its_limit_or_to_what_does_not_count(
    photos: list[Photo], entries: list[BookEntry]
) -> None:
    ids = {entry.id: entry for entry in counted(entries)}
    for found in tie(photos, entries):
        limit = AROUND_LIMIT if found.cue is None else CUE_LIMIT + BURST * len(photos)
        assert found.entry in ids
        assert timedelta(seconds=abs(found.seconds)) <= limit


@given(PHOTOS, ENTRIES)
def test_each_photo_has_one_tie_and_answers_a_cue_or_none(
    photos: list[Photo], entries: list[BookEntry]
) -> None:
    ties = tie(photos, entries)
    assert len({one.photo for one in ties}) == len(ties)
    cues = {entry.id for entry in counted(entries) if entry.entry.kind in ("photo", "covered")}
    assert all(one.cue is None or one.cue in cues for one in ties)


@given(PHOTOS, ENTRIES)
def test_every_photo_with_words_within_the_limit_is_tied(
    photos: list[Photo], entries: list[BookEntry]
) -> None:
    tied = {found.photo for found in tie(photos, entries)}
    for photo in photos:
        near = any(apart(photo, entry) <= AROUND_LIMIT for entry in counted(entries))
        assert (photo.sha256 in tied) == near
