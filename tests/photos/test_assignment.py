"""All photos and all cues of a day, tied at once."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.model import BookEntry, ClockCorrection, Entry, Kind, Moment, Photo, Position, Tie
from joblog.photos import assign
from joblog.photos.cues import photos_said

EIGHT = datetime(2026, 10, 5, 12, 0, tzinfo=UTC)
HOUSE = Position(38.62, -70.41)


def said(
    id: int, seconds: float, note: str | None = None, kind: Kind = "photo", place: str | None = None
) -> BookEntry:
    at = EIGHT + timedelta(seconds=seconds)
    return BookEntry(id, 1, at, Entry(kind, place, note), (), "heard", "heard", at, "")


def shot(name: str, seconds: float, position: Position | None = None) -> Photo:
    moment = Moment(EIGHT + timedelta(seconds=seconds), "EXIF with offset")
    return Photo(name, f"{name}.jpg", moment, 64, 48, position, camera="Phone")


def tied(
    photos: Sequence[Photo],
    entries: Sequence[BookEntry],
    clocks: Sequence[ClockCorrection] = (),
    **more: object,
) -> dict[str, Tie]:
    found = assign(photos, entries, clocks, "UTC", **more)  # type: ignore[arg-type]
    return {tie.photo: tie for tie in found}


def test_two_photos_near_one_word_leave_the_other_word_its_own() -> None:
    """To the nearest in time, both would be of the second word."""
    ties = tied([shot("a", 31), shot("b", 44)], [said(1, 0), said(2, 38)])
    assert {name: tie.entry for name, tie in ties.items()} == {"a": 1, "b": 2}
    assert not ties["a"].sure


def test_two_photos_of_something_takes_two() -> None:
    ties = tied(
        [shot("a", 6), shot("b", 16), shot("c", 70)],
        [said(1, 0, "two photos of the north eave"), said(2, 62, "the gable")],
    )
    assert {name: tie.entry for name, tie in ties.items()} == {"a": 1, "b": 1, "c": 2}
    assert all(tie.sure for tie in ties.values())


@pytest.mark.parametrize(
    ("note", "count"),
    [
        ("two photos of the north eave", 2),
        ("three pictures of the flashing", 3),
        ("a couple of pictures of the garage", 2),
        ("took 4 photos of the gable", 4),
        ("the two windows", 1),
        ("the flashing", 1),
        ("", 1),
    ],
)
def test_how_many_photos_were_said_is_read_from_the_words(note: str, count: int) -> None:
    assert photos_said(note) == count


@pytest.mark.parametrize("note", ["the last one", "that", "it"])
def test_a_picture_of_the_last_one_belongs_to_what_was_told_before_it(note: str) -> None:
    ties = tied([shot("a", 48)], [said(1, 0, kind="problem"), said(2, 42, note)])
    assert (ties["a"].entry, ties["a"].cue, ties["a"].seconds) == (1, 2, 48.0)
    assert ties["a"].reason == "said 'photo' 6 s before, of what was told before it"


def test_a_picture_of_the_last_one_with_nothing_before_it_is_its_own() -> None:
    assert tied([shot("a", 48)], [said(2, 42, "the last one")])["a"].entry == 2


def test_covered_it_and_photo_of_it_call_for_one_photo() -> None:
    ties = tied([shot("a", 18)], [said(1, 0, "the wire", "covered"), said(2, 11, "the wire")])
    assert (ties["a"].entry, ties["a"].sure) == (2, True)


def test_covered_work_calls_for_a_photo_by_itself() -> None:
    ties = tied([shot("a", 7)], [said(1, 0, "the wire", "covered")])
    assert (ties["a"].cue, ties["a"].reason) == (1, "said 'covered' 7 s before")


def test_a_late_photo_alone_is_the_first_of_its_word_not_one_that_follows_itself() -> None:
    early, late = (tied([shot("a", at)], [said(1, 0)])["a"].margin for at in (6, 60))
    assert early is not None
    assert late is not None
    assert early > late + 3


def test_a_second_photo_that_nobody_announced_is_with_the_first() -> None:
    ties = tied([shot("a", 6), shot("b", 14)], [said(1, 0)])
    assert {tie.entry for tie in ties.values()} == {1}


def test_a_burst_goes_together() -> None:
    photos = [shot(f"a{part}", 6 + part / 2) for part in range(4)]
    ties = tied(photos, [said(1, 0), said(2, 14)])
    assert {tie.entry for tie in ties.values()} == {1}


def test_a_close_call_is_offered_and_says_what_else_it_may_be() -> None:
    ties = tied([shot("a", 20)], [said(1, 10, "the gable"), said(2, 14, "the eave")])
    [tie] = ties.values()
    other = 3 - tie.entry
    assert not tie.sure
    assert tie.margin is not None
    assert tie.margin < 3
    assert tie.reason.endswith(f"not sure: it may belong to entry {other}")


def test_a_clear_case_has_a_wide_margin() -> None:
    [tie] = tied([shot("a", 6)], [said(1, 0), said(2, 3000)]).values()
    assert tie.sure
    assert tie.margin is not None
    assert tie.margin > 3


def test_photos_that_answer_the_other_way_round_are_asked_about() -> None:
    photos = [shot("a", 100), shot("b", 106)]
    ties = tied(photos, [said(1, 94), said(2, 99)], apart={("a", 1)})
    assert {name: tie.sure for name, tie in ties.items()} == {"a": False, "b": False}


def test_what_a_person_gave_a_word_is_not_given_a_second_time() -> None:
    photos = [shot("mine", 5000), shot("a", 31)]
    entries = [said(1, 0), said(2, 90)]
    assert tied(photos, entries)["a"].cue == 1
    ties = tied(photos, entries, tied={("mine", 1)})
    assert "mine" not in ties
    assert not ties["a"].sure


def test_a_pair_that_was_untied_is_not_made_again() -> None:
    assert tied([shot("a", 6)], [said(1, 0)], apart={("a", 1)}) == {}
    moved = tied([shot("a", 6)], [said(1, 0), said(2, -2)], apart={("a", 1)})
    assert moved["a"].entry == 2


def test_a_photo_of_another_site_is_not_surely_of_this_one() -> None:
    there = Position(HOUSE.latitude + 0.01, HOUSE.longitude)
    here = [shot(f"h{part}", 1000 * part, HOUSE) for part in range(1, 5)]
    assert tied([*here, shot("a", 6, HOUSE)], [said(1, 0)])["a"].sure
    away = tied([*here, shot("a", 6, there)], [said(1, 0)])["a"]
    assert not away.sure or away.cue is None


def test_a_place_whose_position_is_known_decides_between_two_words() -> None:
    """Twenty metres apart, with errors of five: six seconds either way say less."""
    north = Position(HOUSE.latitude + 0.0004, HOUSE.longitude, error=5.0)
    south = Position(HOUSE.latitude - 0.0004, HOUSE.longitude, error=5.0)
    entries = [
        said(1, 0, "the north eave", place="north eave"),
        said(2, 4, "the south eave", place="south eave"),
    ]
    spots = {"north eave": north, "south eave": south}
    for where, entry in ((north, 1), (south, 2)):
        [tie] = tied([shot("a", 9, where)], entries, spots=spots).values()
        assert tie.entry == entry


def test_a_photo_nobody_spoke_of_goes_to_the_words_of_its_place_rather_than_the_nearest() -> None:
    north = Position(HOUSE.latitude + 0.0006, HOUSE.longitude, error=5.0)
    south = Position(HOUSE.latitude - 0.0006, HOUSE.longitude, error=5.0)
    entries = [said(1, 0, kind="used", place="north eave"), said(2, 60, kind="used", place="south")]
    spots = {"north eave": north, "south": south}
    assert tied([shot("a", 40, north)], entries)["a"].entry == 2
    assert tied([shot("a", 40, north)], entries, spots=spots)["a"].entry == 1


def test_by_a_clock_that_nobody_is_sure_of_every_tie_is_a_question() -> None:
    day = EIGHT.date()
    clock = ClockCorrection("Phone", day, 620.0, 0.0, EIGHT, 0.6, "not sure", 1, "spoken cues")
    [tie] = tied([shot("a", -614)], [said(1, 0)], [clock]).values()
    assert (tie.entry, tie.sure) == (1, False)
    assert "if its clock was about 10 min slow" in tie.reason
    assert tie.reason.endswith("not sure: what its camera's clock was off by is not known")


def test_a_clock_put_right_is_said_in_the_reason() -> None:
    clock = ClockCorrection("Phone", EIGHT.date(), 620.0, 0.0, EIGHT, 1.0, "", 5, "spoken cues")
    [tie] = tied([shot("a", -614)], [said(1, 0)], [clock]).values()
    assert tie.reason == "said 'photo' 6 s before (its clock was about 10 min slow)"


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 900), max_size=8, unique=True),
    st.lists(st.integers(0, 900), min_size=1, max_size=6, unique=True),
    st.integers(-86_400, 86_400),
)
def test_moving_the_whole_day_changes_no_tie(taken: list[int], told: list[int], shift: int) -> None:
    def at(moved: int) -> list[tuple[str, int, bool]]:
        photos = [shot(f"{number}", second + moved) for number, second in enumerate(taken)]
        entries = [said(number, second + moved) for number, second in enumerate(told, 1)]
        return [(tie.photo, tie.entry, tie.sure) for tie in tied(photos, entries).values()]

    assert sorted(at(shift)) == sorted(at(0))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 400), min_size=1, max_size=5, unique=True),
    st.lists(st.integers(0, 400), min_size=1, max_size=5, unique=True),
)
def test_no_margin_is_below_zero(taken: list[int], told: list[int]) -> None:
    """The assignment that was found is the best one."""
    photos = [shot(f"{number}", 3 * second) for number, second in enumerate(taken)]
    entries = [said(number, 3 * second) for number, second in enumerate(told, 1)]
    for tie in tied(photos, entries).values():
        assert tie.margin is None or tie.margin >= -1e-6
