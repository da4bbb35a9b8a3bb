"""Every decision that a person can make, one by one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, BookError, closed, decisions, entries, steps, ties
from joblog.book.history import Version
from joblog.model import Entry, Item, Plan, PlannedItem
from tests.book.two_jobs import (
    AT,
    CUE,
    JOB,
    LEFT,
    NINE,
    OTHER,
    USED,
    a_book,
    balance,
    pictured,
    recorded,
    said,
    shown,
    wrote,
)

# The entries of `a_book`, by the order in which they were said.
CAME_ID, NINE_ID, CORRECTION_ID, CUE_ID, LEFT_ID = 1, 2, 3, 4, 5


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as book:
        yield book


def morning(book: Book) -> str:
    return book.recordings(JOB.name)[0].sha256


def wall(book: Book) -> str:
    return next(photo.sha256 for photo in book.photos(JOB.name) if photo.name == "wall.jpg")


def tied(book: Book, photo: str) -> list[tuple[int, str]]:
    return [(one.entry, one.reason) for one in book.ties(JOB.name) if one.photo == photo]


def words(book: Book) -> list[tuple[str, str, str]]:
    return [(step.who, step.what, step.state) for step in steps.steps(book, JOB.name)]


# --- the history ------------------------------------------------------------------------------


def test_the_history_says_who_decided_what_in_words_and_in_order(book: Book) -> None:
    decisions.drop(book, NINE_ID)
    wrote(book, LEFT, USED)
    steps.undo_last(book, JOB.name)
    assert words(book) == [
        ("you, aloud", "corrected: morning 2", "done"),
        ("you", "dropped: installed 9 soffit panels, north eave", "done"),
        (
            "you",
            "wrote: left 12 soffit panels; installed 3 soffit panels, north eave",
            "undone",
        ),
    ]
    assert [step.entries for step in steps.steps(book, JOB.name)] == [(2,), (2,), (6, 7)]
    assert {step.jobs for step in steps.steps(book, JOB.name)} == {(JOB.name,)}


def test_undoing_what_was_written_takes_all_its_entries_back_and_redoing_brings_them(
    book: Book,
) -> None:
    ids = wrote(book, LEFT, USED)
    became = shown(book)
    [undone] = steps.undo_last(book, JOB.name)
    assert (undone.entries, undone.state) == (ids, "undone")
    assert {book.entry(id).standing for id in ids} == {"dropped"}
    [redone] = steps.redo_last(book, JOB.name)
    assert (redone.id, redone.state) == (undone.id, "done")
    assert shown(book) == became
    assert {book.entry(id).change for id in ids} == {"redone"}


def test_a_new_decision_forgets_what_could_be_redone(book: Book) -> None:
    decisions.drop(book, NINE_ID)
    steps.undo_last(book, JOB.name)
    decisions.accept(book, CAME_ID)
    with pytest.raises(BookError, match="Gull Point cottage: there is nothing to redo"):
        steps.redo_last(book, JOB.name)
    assert [state for _, _, state in words(book)] == ["done", "forgotten", "done"]


def test_a_decision_in_another_job_forgets_nothing_here(book: Book) -> None:
    decisions.drop(book, NINE_ID)
    steps.undo_last(book, JOB.name)
    wrote(book, USED, job=OTHER)
    steps.redo_last(book, JOB.name)
    assert book.entry(NINE_ID).standing == "dropped"


def test_a_decision_that_forgets_a_step_of_two_jobs_forgets_what_rested_on_it_in_the_other(
    book: Book,
) -> None:
    decisions.move(book, NINE_ID, job=OTHER.name)
    decisions.drop(book, NINE_ID)
    steps.undo_last(book, OTHER.name)
    steps.undo_last(book, JOB.name)
    decisions.accept(book, CAME_ID)
    with pytest.raises(BookError, match="nothing to redo"):
        steps.redo_last(book, OTHER.name)


def test_nothing_to_undo_is_said_so_even_when_something_was_said_aloud(book: Book) -> None:
    with pytest.raises(BookError, match="Gull Point cottage: there is nothing to undo"):
        steps.undo_last(book, JOB.name)


def test_what_was_put_right_aloud_can_be_undone_and_redone_by_its_entry(book: Book) -> None:
    assert decisions.undo(book, NINE_ID).entry == USED
    with pytest.raises(BookError, match="entry 2 is as it was first noted"):
        decisions.undo(book, NINE_ID)
    assert decisions.redo(book, NINE_ID).entry == NINE
    with pytest.raises(BookError, match="entry 2: there is nothing to redo"):
        decisions.redo(book, NINE_ID)


def test_what_rests_on_a_step_goes_with_it(book: Book) -> None:
    [id] = wrote(book, USED)
    _, beside = decisions.correct(book, id, said(NINE, LEFT), "nine, and twelve left")
    decisions.drop(book, beside.id)
    decisions.accept(book, CAME_ID)
    was = shown(book)
    decisions.undo(book, id)
    assert [state for *_, state in words(book)] == ["done", "done", "undone", "undone", "done"]
    assert book.entry(CAME_ID).looked_at
    decisions.redo(book, id)
    assert shown(book) == was


def test_redoing_a_step_brings_back_what_it_rested_on_first(book: Book) -> None:
    decisions.drop(book, CAME_ID)
    decisions.move_original(book, morning(book), OTHER.name)
    was = shown(book)
    decisions.undo(book, NINE_ID)
    decisions.undo(book, CAME_ID)
    decisions.redo(book, NINE_ID)
    assert shown(book) == was


def test_a_step_whose_entry_something_else_changed_since_is_not_taken_back(book: Book) -> None:
    decisions.accept(book, CAME_ID)
    now = book.entry(CAME_ID)
    with book._writing():
        entries.add_version(book, CAME_ID, Version(now.entry, ("?",), "heard", "corrected", "so"))
    was = shown(book)
    with pytest.raises(BookError, match="cannot be undone: what it changed is different by now"):
        steps.undo_last(book, JOB.name)
    assert shown(book) == was


def test_undo_reaches_back_over_closing_the_program(book: Book) -> None:
    was = shown(book)
    decisions.drop(book, NINE_ID)
    with Book.open(book.folder) as again:
        steps.undo_last(again, JOB.name)
    assert shown(book) == was


def test_a_decision_that_is_cut_off_leaves_nothing_behind(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = list(book._db.conn.iterdump())

    def cut_off(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(steps, "tie_photos", cut_off)
    for decide in (
        lambda: decisions.drop(book, NINE_ID),
        lambda: decisions.withdraw(book, morning(book)),
        lambda: decisions.move_original(book, morning(book), OTHER.name),
        lambda: decisions.untie(book, wall(book), CUE_ID),
    ):
        with pytest.raises(KeyboardInterrupt):
            decide()
    assert list(book._db.conn.iterdump()) == before


# --- drop and restore -------------------------------------------------------------------------


def test_a_restored_entry_has_the_doubts_and_the_standing_that_it_had(book: Book) -> None:
    [id] = wrote(book, USED, doubt="which wall?")
    decisions.drop(book, id)
    restored = decisions.restore(book, id)
    assert (restored.doubts, restored.standing, restored.change) == (
        ("which wall?",), "heard", "restored",
    )  # fmt: skip
    assert decisions.restore(book, id) == restored


def test_what_was_written_and_undropped_counts_as_never_looked_at(book: Book) -> None:
    [id] = wrote(book, USED)
    assert not book.entry(id).looked_at
    decisions.drop(book, id)
    assert not decisions.undo(book, id).looked_at
    assert decisions.accept(book, id).looked_at


# --- edit -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "value", "exact"),
    [
        ("quantity", "11 7/8", Fraction(95, 8)),
        ("quantity", Fraction(9), Fraction(9)),
        ("quantity", 9, Fraction(9)),
        ("unit", "Boxes", "box"),
        ("item", "  ridge   cap ", "ridge cap"),
        ("place", "north wall", "north wall"),
        ("place", "", None),
        ("place", None, None),
        ("note", "for the porch", "for the porch"),
        ("unit_cost", "$13.50", Decimal("13.50")),
        ("kind", "returned", "returned"),
    ],
)
def test_one_field_is_edited_exactly_and_the_others_stay(
    book: Book, field: str, value: object, exact: object
) -> None:
    came = Entry("delivered", "yard", item="nails", quantity=Fraction(4), unit="lb")
    [id] = wrote(book, came)
    now = decisions.edit(book, id, field, value)
    names = ("kind", "place", "note", "item", "quantity", "unit", "unit_cost")
    expected = {name: getattr(came, name) for name in names} | {field: exact}
    assert {name: getattr(now.entry, name) for name in names} == expected
    assert book.versions(id)[0].entry == came


@pytest.mark.parametrize(
    ("entry", "field", "value", "exact"),
    [
        (Entry("start", time=time(7)), "time", "7:30", time(7, 30)),
        (Entry("labor", hours=Fraction(8)), "workers", "2", 2),
        (Entry("labor", hours=Fraction(8)), "hours", "7.5", Fraction(15, 2)),
        (Entry("weather", fahrenheit=Fraction(3)), "fahrenheit", "-4", Fraction(-4)),
        (Entry("measure", pitch=Fraction(6)), "pitch", "7/12", Fraction(7)),
        (Entry("measure", pitch=Fraction(6)), "pitch", "7", Fraction(7)),
        (Entry("measure", inches=Fraction(6)), "pieces", "4", 4),
    ],
)
def test_every_kind_of_field_is_read_as_a_person_types_it(
    book: Book, entry: Entry, field: str, value: str, exact: object
) -> None:
    [id] = wrote(book, entry)
    assert getattr(decisions.edit(book, id, field, value).entry, field) == exact


def test_a_length_that_is_edited_takes_the_place_of_what_was_said_and_of_an_area(
    book: Book,
) -> None:
    [id] = wrote(book, Entry("measure", square_inches=Fraction(144), as_said="one square foot"))
    assert decisions.edit(book, id, "inches", "12' 4 1/2\"").entry == Entry(
        "measure", inches=Fraction(297, 2)
    )


def test_a_field_that_was_edited_is_no_longer_one_that_held_from_earlier_words(book: Book) -> None:
    [id] = wrote(book, Entry("note", "north wall", "rain", carried=("place",)))
    assert decisions.edit(book, id, "place", "garage").entry.carried == ()


@pytest.mark.parametrize(
    ("field", "value", "why"),
    [
        ("quantity", 0.1, "not exact"),
        ("quantity", True, "not exact"),
        ("quantity", "a few", "'a few' is not a number"),
        ("quantity", "-1", "too little"),
        ("quantity", "9" * 5000, "too long"),
        ("quantity", "", "it says no amount; drop it instead"),
        ("unit", "lorry", "there is no unit 'lorry'"),
        (
            "hours",
            "3",
            "used has no 'hours' to change; it has colour, day, item, kind, length, note, place",
        ),
        ("kind", "start", "start has no item, quantity, unit"),
        ("kind", "wish", "cannot become 'wish'; it can become measure"),
        ("kind", "correction", "cannot become 'correction'"),
        ("kind", None, "cannot become None"),
        ("note", "\x1b[2J", "cannot be shown"),
        ("note", "\ud800", "cannot be shown"),
        ("note", 7, "not exact"),
    ],
)
def test_what_cannot_be_kept_exactly_is_refused_and_changes_nothing(
    book: Book, field: str, value: object, why: str
) -> None:
    [id] = wrote(book, USED)
    with pytest.raises(BookError, match=f"entry {id}: .*{why}"):
        decisions.edit(book, id, field, value)
    assert len(book.versions(id)) == 1


@pytest.mark.parametrize("value", ["25:00", "noon", "7:6:5"])
def test_no_time_of_day_is_refused(book: Book, value: str) -> None:
    [id] = wrote(book, Entry("start", time=time(7)))
    with pytest.raises(BookError, match="is not a time; write it like 16:30"):
        decisions.edit(book, id, "time", value)


def test_a_value_that_would_read_as_none_at_all_is_refused(book: Book) -> None:
    [id] = wrote(book, Entry("measure", pitch=Fraction(6)))
    with pytest.raises(BookError, match="'0' is no pitch that can be kept"):
        decisions.edit(book, id, "pitch", "0")


def test_no_whole_number_of_people_is_refused(book: Book) -> None:
    [id] = wrote(book, Entry("labor", hours=Fraction(8)))
    with pytest.raises(BookError, match=r"'1\.5' is not a whole number"):
        decisions.edit(book, id, "workers", "1.5")


def test_a_unit_of_an_item_of_the_job_may_be_edited_in(book: Book) -> None:
    bag = Item("sand", "bag", also=(("scoop", Fraction(1, 9)),))
    book.set_plan(JOB.name, Plan((PlannedItem(bag, Fraction(2)),)))
    [id] = wrote(book, USED)
    assert decisions.edit(book, id, "unit", "scoop").entry.unit == "scoop"
    assert decisions.edit(book, id, "unit", "Bags").entry.unit == "bag"


def test_an_edit_settles_only_the_doubts_that_it_is_told_to(book: Book) -> None:
    [id] = wrote(book, USED, doubt="which wall?")
    left = decisions.edit(book, id, "quantity", "9")
    assert (left.doubts, left.standing) == (("which wall?",), "heard")
    settled = decisions.edit(book, id, "place", "dormer", settles=["which wall?"])
    assert (settled.doubts, settled.standing) == ((), "accepted")
    with pytest.raises(BookError, match="has no doubt 'which wall\\?'"):
        decisions.edit(book, id, "place", "garage", settles=["which wall?"])


def test_editing_in_what_is_there_already_adds_nothing(book: Book) -> None:
    [id] = wrote(book, USED)
    assert decisions.edit(book, id, "quantity", "3").version == 1


def test_a_dropped_entry_is_not_edited(book: Book) -> None:
    decisions.drop(book, NINE_ID)
    with pytest.raises(BookError, match="entry 2 is dropped; restore it first"):
        decisions.edit(book, NINE_ID, "quantity", "8")


# --- ties -------------------------------------------------------------------------------------


def test_a_photo_tied_by_hand_stays_so_when_photos_are_tied_anew(book: Book) -> None:
    made = decisions.tie(book, wall(book), NINE_ID)
    assert (made.reason, made.seconds) == ("tied by hand", 7195.0)
    ties.tie_photos(book, JOB.name)
    assert tied(book, wall(book)) == [(NINE_ID, "tied by hand")]
    assert decisions.tie(book, wall(book), NINE_ID) == made


def test_a_photo_can_be_tied_to_several_entries_by_hand(book: Book) -> None:
    decisions.tie(book, wall(book), NINE_ID)
    decisions.tie(book, wall(book), CAME_ID)
    assert [entry for entry, _ in tied(book, wall(book))] == [CAME_ID, NINE_ID]


def test_a_pair_that_was_untied_does_not_come_back(book: Book) -> None:
    assert [entry for entry, _ in tied(book, wall(book))] == [CUE_ID]
    decisions.untie(book, wall(book), CUE_ID)
    ties.tie_photos(book, JOB.name)
    assert tied(book, wall(book)) == []
    with pytest.raises(BookError, match=r"wall\.jpg is not tied to entry 4"):
        decisions.untie(book, wall(book), CUE_ID)


def test_a_tie_by_hand_waits_while_its_entry_is_dropped(book: Book) -> None:
    decisions.tie(book, wall(book), NINE_ID)
    decisions.drop(book, NINE_ID)
    assert [entry for entry, _ in tied(book, wall(book))] == [CUE_ID]
    decisions.restore(book, NINE_ID)
    assert tied(book, wall(book)) == [(NINE_ID, "tied by hand")]


def test_what_cannot_be_tied_is_said_so(book: Book, tmp_path: Path) -> None:
    elsewhere = pictured(book, tmp_path, "elsewhere", AT, OTHER)
    with pytest.raises(BookError, match="in the job 'Heron House' and entry 2 in 'Gull Point"):
        decisions.tie(book, elsewhere, NINE_ID)
    decisions.drop(book, NINE_ID)
    with pytest.raises(BookError, match="entry 2 is dropped"):
        decisions.tie(book, wall(book), NINE_ID)
    with pytest.raises(BookError, match="there is no photo abc in this book"):
        decisions.tie(book, "abc", NINE_ID)


# --- move -------------------------------------------------------------------------------------


def test_an_entry_moves_to_another_day_and_its_old_version_stays_where_it_was(book: Book) -> None:
    there = AT + timedelta(days=1)
    was = book.entry(CAME_ID)
    moved = decisions.move(book, CAME_ID, at=there)
    assert (moved.at, moved.change, moved.entry) == (there, "moved", was.entry)
    assert (moved.standing, moved.doubts, moved.looked_at) == (was.standing, was.doubts, False)
    assert book.versions(CAME_ID)[0] == was
    assert [kept.id for kept in book.entries(JOB.name, date(2026, 10, 6))] == [CAME_ID]
    assert decisions.move(book, CAME_ID, at=there, job=JOB.name) == moved
    assert decisions.undo(book, CAME_ID).at == was.at


def test_a_moment_without_a_zone_is_refused(book: Book) -> None:
    with pytest.raises(BookError, match=r"entry 1: .* has no time zone"):
        decisions.move(book, CAME_ID, at=datetime(2026, 10, 6, 12))


def test_an_entry_moves_to_another_job_and_counts_there(book: Book) -> None:
    decisions.move(book, NINE_ID, job=OTHER.name)
    assert book.job_of(NINE_ID) == OTHER.name
    assert NINE_ID not in {kept.id for kept in book.entries(JOB.name)}
    assert [kept.entry for kept in book.entries(OTHER.name)] == [NINE]
    assert [step.jobs for step in steps.steps(book, OTHER.name)] == [(JOB.name, OTHER.name)]
    steps.undo_last(book, OTHER.name)
    assert book.entries(OTHER.name) == ()


def test_a_recording_moves_with_all_that_was_heard_in_it(book: Book) -> None:
    was = shown(book)
    heard, versions = book.utterances(JOB.name), book.versions(NINE_ID)
    decisions.move_original(book, morning(book), OTHER.name)
    assert [one.name for one in book.recordings(OTHER.name)] == ["morning.wav"]
    assert book.utterances(OTHER.name) == heard[:3]
    assert [kept.id for kept in book.entries(OTHER.name)] == [CAME_ID, NINE_ID, CORRECTION_ID]
    assert book.versions(NINE_ID)[:2] == versions
    assert book.holds(morning_of(book, OTHER.name)) == OTHER.name
    steps.undo_last(book, JOB.name)
    assert shown(book) == was


def morning_of(book: Book, job: str) -> str:
    return next(one.sha256 for one in book.recordings(job) if one.name == "morning.wav")


def test_an_entry_that_was_moved_by_itself_stays_when_its_recording_moves(book: Book) -> None:
    decisions.move(book, NINE_ID, job=OTHER.name)
    decisions.move_original(book, morning(book), OTHER.name)
    decisions.move(book, NINE_ID, job=JOB.name)
    decisions.move_original(book, morning_of(book, OTHER.name), JOB.name)
    assert book.versions(NINE_ID)[-1].change == "moved"
    assert len(book.entries(JOB.name)) == 5


def test_a_photo_moves_and_is_tied_anew_in_both_jobs(book: Book) -> None:
    [id] = wrote(book, CUE, job=OTHER)
    decisions.move(book, id, at=AT + timedelta(hours=2))
    decisions.tie(book, wall(book), NINE_ID)
    photo = wall(book)
    decisions.move_original(book, photo, OTHER.name)
    assert [one.entry for one in book.ties(OTHER.name)] == [id]
    assert tied(book, photo) == []
    decisions.move_original(book, photo, JOB.name)
    assert tied(book, photo) == [(NINE_ID, "tied by hand")]


def test_what_cannot_be_moved_is_said_so(book: Book) -> None:
    with pytest.raises(BookError, match=r"morning\.wav is in the job 'Gull Point cottage' already"):
        decisions.move_original(book, morning(book), JOB.name)
    with pytest.raises(BookError, match="there is no recording or photo abc"):
        decisions.move_original(book, "abc", JOB.name)
    with pytest.raises(BookError, match="there is no job called 'nowhere'"):
        decisions.move_original(book, morning(book), "nowhere")


# --- withdraw ---------------------------------------------------------------------------------


def test_a_withdrawn_recording_counts_no_more_and_stays_readable(book: Book) -> None:
    without = shown(book)
    heard = book.utterances(JOB.name)
    withdrawn = decisions.withdraw(book, morning(book))
    assert (withdrawn.standing, withdrawn.superseded_by) == ("withdrawn", None)
    read = {kept.id: kept for kept in book.entries(JOB.name)}
    assert {read[id].standing for id in (CAME_ID, NINE_ID)} == {"dropped"}
    assert read[NINE_ID].entry == NINE
    assert book.utterances(JOB.name) == heard
    decisions.bring_back(book, morning(book))
    assert {**shown(book)} == without


def test_what_was_dropped_before_a_recording_was_withdrawn_stays_dropped(book: Book) -> None:
    decisions.drop(book, CAME_ID)
    decisions.withdraw(book, morning(book))
    decisions.bring_back(book, morning(book))
    assert book.entry(CAME_ID).standing == "dropped"
    assert book.entry(NINE_ID).standing == "heard"


def test_a_withdrawn_entry_that_moved_comes_back_where_it_is(book: Book) -> None:
    decisions.withdraw(book, morning(book))
    decisions.move(book, NINE_ID, job=OTHER.name)
    decisions.bring_back(book, morning(book))
    assert (book.job_of(NINE_ID), book.entry(NINE_ID).standing) == (OTHER.name, "heard")


def test_a_recording_gives_way_to_the_one_that_holds_all_of_it(book: Book, tmp_path: Path) -> None:
    whole = recorded(book, tmp_path, "whole", said(USED), said(LEFT))
    cut = decisions.withdraw(book, morning(book), superseded_by=whole, who=steps.JOBLOG)
    assert (cut.standing, cut.superseded_by) == ("superseded", whole)
    assert words(book)[-1] == (
        "joblog", "withdrew: morning.wav, which whole.wav holds too", "done",
    )  # fmt: skip
    with pytest.raises(BookError, match="nothing to undo"):
        steps.undo_last(book, JOB.name)
    with pytest.raises(BookError, match=r"whole\.wav has the same sound and counts"):
        decisions.bring_back(book, cut.sha256)
    decisions.withdraw(book, whole)
    assert decisions.bring_back(book, cut.sha256).superseded_by is None


def test_a_day_of_nothing_but_a_withdrawn_recording_is_no_day(book: Book, tmp_path: Path) -> None:
    late = recorded(book, tmp_path, "late", hours=48)
    assert date(2026, 10, 7) in book.days(JOB.name)
    decisions.withdraw(book, late)
    assert date(2026, 10, 7) not in book.days(JOB.name)


def test_what_cannot_be_withdrawn_or_brought_back_is_said_so(book: Book) -> None:
    with pytest.raises(BookError, match=r"morning\.wav is not withdrawn"):
        decisions.bring_back(book, morning(book))
    with pytest.raises(BookError, match=r"morning\.wav cannot supersede itself"):
        decisions.withdraw(book, morning(book), superseded_by=morning(book))
    decisions.withdraw(book, morning(book))
    with pytest.raises(BookError, match=r"morning\.wav is withdrawn already"):
        decisions.withdraw(book, morning(book))
    with pytest.raises(BookError, match="there is no recording abc"):
        decisions.withdraw(book, "abc")


# --- closed jobs ------------------------------------------------------------------------------


def close(book: Book) -> None:
    for job in (JOB, OTHER):
        closed.close_job(book, job.name, date(2026, 10, 5), balance(book, job))  # type: ignore[arg-type]


def reopened(book: Book) -> list[tuple[int, ...]]:
    return [closing.changed for closing in closed.closings(book)]


def test_both_jobs_are_reopened_when_an_entry_moves_between_them(book: Book) -> None:
    close(book)
    decisions.move(book, NINE_ID, job=OTHER.name)
    assert reopened(book) == [(NINE_ID,), (NINE_ID,)]
    steps.undo_last(book, JOB.name)
    assert reopened(book) == [(), ()]


def test_a_job_that_lost_as_many_versions_as_it_gained_is_reopened(book: Book) -> None:
    close(book)
    decisions.move(book, CUE_ID, job=OTHER.name)
    decisions.drop(book, LEFT_ID)
    # The words about a photo are in no figure, wherever they went.
    assert closed.closings(book)[0].changed == (LEFT_ID,)


def test_a_job_is_reopened_when_an_entry_moves_in_time_or_a_recording_is_withdrawn(
    book: Book,
) -> None:
    close(book)
    decisions.move(book, LEFT_ID, at=AT)
    assert reopened(book) == [(LEFT_ID,), ()]
    steps.undo_last(book, JOB.name)
    decisions.withdraw(book, morning(book))
    assert reopened(book)[0][:2] == (CAME_ID, NINE_ID)


# --- settings ---------------------------------------------------------------------------------


def test_a_setting_is_kept_and_replaced_and_forgotten(book: Book) -> None:
    assert book.setting("job") is None
    book.set_setting("job", JOB.name)
    book.set_setting("job", OTHER.name)
    with Book.open(book.folder) as again:
        assert again.setting("job") == OTHER.name
    book.set_setting("job", None)
    assert book.setting("job") is None


def test_an_entry_or_original_that_is_not_there_is_said_so(book: Book) -> None:
    for decide in (decisions.undo, decisions.redo, decisions.restore, decisions.drop):
        with pytest.raises(BookError, match="there is no entry 99"):
            decide(book, 99)
    with pytest.raises(BookError, match="there is no entry 99"):
        book.job_of(99)


def test_the_moments_of_steps_are_in_utc(book: Book) -> None:
    assert {step.at.tzinfo for step in steps.steps(book, JOB.name)} == {UTC}
