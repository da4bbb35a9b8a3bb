"""What was said is found, once, with where it is and which words of it were meant."""

from __future__ import annotations

from joblog.service import Desk
from joblog.service.search import search, slow_search


def test_an_entry_is_found_once_by_whatever_was_said_of_it(desk: Desk) -> None:
    [used] = search(desk, "three sheets of sof")
    assert used.entry is not None and used.job == desk.job.name
    assert used.recording == desk.book.recordings(desk.job.name)[0].sha256
    assert {"three", "sof"} <= {used.text[start:end] for start, end in used.marks}
    assert used.at.utcoffset() is not None and used.day == used.at.date()


def test_a_photo_and_a_recording_are_found_by_their_names(desk: Desk) -> None:
    photos = desk.book.photos(desk.job.name)
    assert [one.photo for one in search(desk, "eave.jpg") if one.photo] == [photos[0].sha256]
    [recording] = search(desk, "monday")
    assert recording.recording is not None and recording.entry is None


def test_no_more_are_given_than_were_asked_for(desk: Desk) -> None:
    assert len(search(desk, "eave")) > 1
    assert len(search(desk, "eave", most=1)) == 1


def test_nothing_is_found_by_no_words(desk: Desk) -> None:
    assert search(desk, "  ") == () and search(desk, '"*') == ()


def test_nothing_is_said_of_slowness_where_there_is_an_index(desk: Desk) -> None:
    assert slow_search(desk) == ""
