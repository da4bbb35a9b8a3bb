"""Nothing that was ever noted is lost, whatever is said or done to it afterwards."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.book import Book, BookError, decisions
from joblog.book.history import merged, spoken
from joblog.model import Doubt, Entry, Job, Reading
from tests.book.every_kind import EVERY_KIND

JOB = Job("Gull Point cottage", "America/New_York")
AT = datetime(2026, 10, 5, 14, 0, tzinfo=UTC)
ELEVEN = Entry("measure", place="north wall", inches=Fraction(95, 8), as_said="11 7/8")
TWELVE = Entry("measure", inches=Fraction(12), as_said="12")
PANELS = Entry("used", item="soffit panel", quantity=Fraction(3), unit="sheet")
DROP = Entry("correction", action="drop")


def becomes(entry: Entry | None) -> Entry:
    return Entry("correction", action="replace", replacement=entry)


def read(*entries: Entry, doubts: tuple[Doubt, ...] = ()) -> Reading:
    return Reading(entries, doubts)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


def typed(book: Book, *entries: Entry, doubts: tuple[Doubt, ...] = ()) -> int:
    return decisions.add_typed(book, JOB.name, read(*entries, doubts=doubts), "as typed", AT)[0]


# --- what a person changes --------------------------------------------------------------------


def test_a_typed_entry_without_doubt_stands(book: Book):
    entry = book.entry(typed(book, ELEVEN))
    assert (entry.standing, entry.change, entry.open) == ("accepted", "typed", False)
    assert (entry.at, entry.said, entry.utterance) == (AT, "as typed", None)


def test_a_typed_entry_with_a_doubt_waits(book: Book):
    entry = book.entry(typed(book, ELEVEN, doubts=(Doubt(0, "which wall?"),)))
    assert (entry.standing, entry.open) == ("heard", True)


def test_accepting_settles_the_doubts_and_keeps_the_old_version(book: Book):
    id = typed(book, ELEVEN, doubts=(Doubt(0, "which wall?"),))
    accepted = decisions.accept(book, id)
    assert (accepted.standing, accepted.doubts, accepted.open) == ("accepted", (), False)
    assert accepted.entry == ELEVEN
    assert book.versions(id)[0].doubts == ("which wall?",)


def test_accepting_or_dropping_twice_adds_nothing(book: Book):
    id = typed(book, ELEVEN, doubts=(Doubt(0, "?"),))
    assert decisions.accept(book, id) == decisions.accept(book, id)
    assert decisions.drop(book, id) == decisions.drop(book, id)
    assert [version.change for version in book.versions(id)] == ["typed", "accepted", "dropped"]


def test_accepting_what_was_typed_notes_that_a_person_looked_again(book: Book):
    accepted = decisions.accept(book, typed(book, ELEVEN))
    assert (accepted.version, accepted.change, accepted.standing) == (2, "accepted", "accepted")


def test_a_dropped_entry_stays_in_the_list_and_readable(book: Book):
    id = typed(book, ELEVEN)
    decisions.drop(book, id)
    [entry] = book.entries(JOB.name)
    assert (entry.standing, entry.entry) == ("dropped", ELEVEN)


def test_a_correction_replaces_the_entry_and_adds_the_rest_beside_it(book: Book):
    id = typed(book, ELEVEN)
    reading = read(TWELVE, PANELS, doubts=(Doubt(1, "how many?"),))
    first, second = decisions.correct(book, id, reading, "twelve and some panels")
    assert (first.id, first.version, first.entry) == (id, 2, TWELVE)
    assert (first.standing, first.change, first.said) == (
        "accepted", "corrected", "twelve and some panels",
    )  # fmt: skip
    assert (second.entry, second.doubts, second.open) == (PANELS, ("how many?",), True)
    assert second.at == first.at
    assert book.entries(JOB.name) == (first, second)


def test_a_correction_in_which_nothing_is_read_changes_nothing(book: Book):
    id = typed(book, ELEVEN)
    with pytest.raises(BookError, match="nothing that could be noted was read in 'um'"):
        decisions.correct(book, id, Reading(), "um")
    assert len(book.versions(id)) == 1


def test_undo_takes_back_a_correction_with_all_that_it_added(book: Book):
    id = typed(book, ELEVEN)
    _, beside = decisions.correct(book, id, read(TWELVE, PANELS), "twelve and some panels")
    undone = decisions.undo(book, id)
    assert (undone.entry, undone.change, undone.version) == (ELEVEN, "undone", 3)
    assert book.entry(beside.id).standing == "dropped"


def test_undo_brings_doubts_and_standing_back(book: Book):
    id = typed(book, ELEVEN, doubts=(Doubt(0, "which wall?"),))
    decisions.accept(book, id)
    undone = decisions.undo(book, id)
    assert (undone.standing, undone.doubts, undone.open) == ("heard", ("which wall?",), True)


def test_undo_again_goes_further_back_and_ends_at_what_was_noted_first(book: Book):
    id = typed(book, ELEVEN, doubts=(Doubt(0, "?"),))
    decisions.accept(book, id)
    decisions.correct(book, id, read(TWELVE), "twelve")
    decisions.drop(book, id)
    assert decisions.undo(book, id).entry == TWELVE
    assert (decisions.undo(book, id).entry, book.entry(id).standing) == (ELEVEN, "accepted")
    assert decisions.undo(book, id).standing == "heard"
    with pytest.raises(BookError, match="nothing to undo"):
        decisions.undo(book, id)
    assert len(book.versions(id)) == 7


def test_undo_after_an_undo_and_a_new_change_takes_back_the_new_change(book: Book):
    id = typed(book, ELEVEN)
    decisions.correct(book, id, read(TWELVE), "twelve")
    decisions.undo(book, id)
    decisions.drop(book, id)
    undone = decisions.undo(book, id)
    assert (undone.entry, undone.standing) == (ELEVEN, "accepted")
    with pytest.raises(BookError, match="nothing to undo"):
        decisions.undo(book, id)


def test_an_entry_that_is_not_there_is_said_so(book: Book):
    with pytest.raises(BookError, match="no entry 7"):
        decisions.accept(book, 7)
    with pytest.raises(BookError, match="no entry 7"):
        decisions.correct(book, 7, read(TWELVE), "twelve")
    with pytest.raises(BookError, match="no entry 7"):
        decisions.undo(book, 7)


# --- what is said on the ladder ---------------------------------------------------------------


def told(*readings: Reading) -> list[list[tuple[Entry, str, str, tuple[str, ...]]]]:
    said = [(reading, f"utterance {number}") for number, reading in enumerate(readings)]
    return [
        [(v.entry, v.standing, v.change, v.doubts) for v in versions]
        for versions in spoken(said, "heard")
    ]


def test_scratch_that_drops_the_entry_before_it_and_is_kept():
    assert told(read(PANELS, ELEVEN), read(DROP)) == [
        [(PANELS, "heard", "heard", ())],
        [(ELEVEN, "heard", "heard", ()), (ELEVEN, "dropped", "dropped", ())],
        [(DROP, "accepted", "heard", ())],
    ]


def test_what_was_scratched_keeps_its_own_words():
    [[_, dropped], _] = spoken([(read(ELEVEN), "eleven"), (read(DROP), "scratch that")], "heard")
    assert (dropped.said, dropped.part) == ("eleven", 1)


def test_scratch_that_twice_drops_the_two_entries_before():
    versions = told(read(PANELS), read(ELEVEN), read(DROP), read(DROP))
    assert [of[-1][1] for of in versions] == ["dropped", "dropped", "accepted", "accepted"]


def test_a_replacement_keeps_what_it_does_not_say():
    north = Entry("measure", place="north wall", inches=Fraction(12), as_said="12")
    correction = becomes(TWELVE)
    assert told(read(ELEVEN), read(correction)) == [
        [(ELEVEN, "heard", "heard", ()), (north, "heard", "corrected", ())],
        [(correction, "accepted", "heard", ())],
    ]


def test_a_correction_with_nothing_before_it_is_doubtful():
    [[(_, standing, _, doubts)]] = told(read(DROP))
    assert (standing, doubts) == ("heard", ("nothing was said before it that it could change",))


def test_a_doubtful_scratch_that_drops_nothing_and_makes_both_doubtful():
    versions = told(read(ELEVEN), read(DROP, doubts=(Doubt(0, "one recognizer heard 'match'"),)))
    assert versions == [
        [(ELEVEN, "heard", "heard", ("may have been taken back right after: utterance 1",))],
        [
            (
                DROP, "heard", "heard",
                ("one recognizer heard 'match'", "it is not certain what it takes back"),
            )
        ],
    ]  # fmt: skip


def test_a_replacement_that_could_not_be_read_makes_both_doubtful():
    versions = told(read(ELEVEN), read(becomes(None)))
    assert [len(of) for of in versions] == [1, 1]
    assert all(of[0][3] for of in versions)


def test_the_doubt_of_a_replacement_goes_to_the_entry():
    doubts = (Doubt(0, "twelve or twenty?"),)
    [[_, (entry, standing, _, on_entry)], [correction]] = told(
        read(ELEVEN), read(becomes(TWELVE), doubts=doubts)
    )
    assert (entry.inches, standing, on_entry) == (12, "heard", ("twelve or twenty?",))
    assert correction[1] == "heard"


def test_a_replacement_that_leaves_part_of_a_doubtful_entry_leaves_the_doubt():
    doubts = (Doubt(0, "which wall?"),)
    [[_, corrected], _] = told(read(ELEVEN, doubts=doubts), read(becomes(TWELVE)))
    assert corrected[3] == ("which wall?",)


def test_a_replacement_settles_the_doubt_that_it_answers_and_no_other():
    doubts = (Doubt(0, "3 or 4 sheets?"), Doubt(0, "which wall?"))
    nine = Entry("used", item="soffit panel", quantity=Fraction(9), unit="sheet")
    [[_, corrected], _] = told(read(PANELS, doubts=doubts), read(becomes(nine)))
    assert corrected[0] == nine
    assert corrected[3] == ("which wall?",)


def test_a_doubt_about_what_a_replacement_leaves_as_it_was_stays():
    doubts = (Doubt(0, "3 of soffit panel, or of siding?"),)
    nine = Entry("used", quantity=Fraction(9))
    [[_, corrected], _] = told(read(PANELS, doubts=doubts), read(becomes(nine)))
    assert corrected[3] == ("3 of soffit panel, or of siding?",)


def test_a_number_within_another_one_is_not_the_number_of_a_doubt():
    doubts = (Doubt(0, "13 or 30 sheets?"),)
    nine = Entry("used", item="soffit panel", quantity=Fraction(9), unit="sheet")
    [[_, corrected], _] = told(read(PANELS, doubts=doubts), read(becomes(nine)))
    assert corrected[3] == ("13 or 30 sheets?",)


def test_a_replacement_of_another_kind_leaves_the_doubts_that_it_does_not_answer():
    doubts = (Doubt(0, "which wall?"),)
    [[_, corrected], _] = told(read(ELEVEN, doubts=doubts), read(becomes(PANELS)))
    assert corrected[3] == ("it was measure before: utterance 0", "which wall?")


def test_a_replacement_of_another_kind_is_doubtful():
    [[_, corrected], _] = told(read(ELEVEN), read(becomes(PANELS)))
    assert (corrected[0], corrected[3]) == (PANELS, ("it was measure before: utterance 0",))


def test_an_amount_of_another_form_does_not_mix_with_the_old_one():
    area = Entry("measure", square_inches=Fraction(144))
    assert merged(ELEVEN, area) == Entry("measure", place="north wall", square_inches=Fraction(144))


def test_a_replacement_that_says_no_amount_keeps_the_old_one():
    south = Entry("measure", place="south wall")
    assert merged(ELEVEN, south) == Entry(
        "measure", place="south wall", inches=Fraction(95, 8), as_said="11 7/8"
    )


# --- any history ------------------------------------------------------------------------------

fractions = st.fractions(min_value=0, max_value=5000, max_denominator=64).filter(bool)
texts = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), min_size=1, max_size=20)
maybe = st.none() | texts
entries = st.one_of(
    st.builds(
        Entry, st.just("measure"), item=maybe, place=maybe, inches=fractions, as_said=maybe,
        pieces=st.none() | st.integers(1, 99),
    ),
    st.builds(
        Entry, st.just("delivered"), item=maybe, quantity=fractions, unit=maybe, note=maybe,
        unit_cost=st.none() | st.decimals(0, 10_000, places=2),
    ),
    st.builds(Entry, st.just("start"), time=st.times().map(lambda t: time(t.hour, t.minute))),
    st.builds(Entry, st.just("labor"), hours=fractions, workers=st.integers(1, 9), task=maybe),
    st.sampled_from(EVERY_KIND),
)  # fmt: skip
readings = st.lists(entries, min_size=1, max_size=3).flatmap(
    lambda chosen: st.builds(
        Reading,
        st.just(tuple(chosen)),
        st.lists(st.builds(Doubt, st.integers(0, len(chosen) - 1), texts), max_size=3).map(tuple),
    )
)


@given(readings)
@settings(max_examples=40, deadline=None)
def test_what_was_written_comes_back_exactly(reading: Reading):
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder)) as book:
        book.add_job(JOB)
        decisions.add_typed(book, JOB.name, reading, "said", AT)
        found = book.entries(JOB.name)
    assert [kept.entry for kept in found] == list(reading.entries)
    assert [set(kept.doubts) for kept in found] == [
        {doubt.why for doubt in reading.doubts if doubt.entry == number}
        for number in range(len(found))
    ]


corrections = st.just(DROP) | st.builds(becomes, st.none() | entries)
sayings = st.lists(entries | corrections, max_size=3).flatmap(
    lambda chosen: st.builds(
        Reading,
        st.just(tuple(chosen)),
        st.lists(st.builds(Doubt, st.integers(0, 2), texts), max_size=3).map(tuple),
    )
)


@given(st.lists(sayings, max_size=6))
def test_whatever_is_said_every_entry_keeps_the_version_that_was_heard(said: list[Reading]):
    heard = [entry for reading in said for entry in reading.entries]
    versions = spoken([(reading, "words") for reading in said], "heard")
    assert [of[0].entry for of in versions] == heard


def test_money_keeps_its_cents(book: Book):
    id = typed(book, Entry("delivered", item="nails", unit_cost=Decimal("13.50")))
    assert str(book.entry(id).entry.unit_cost) == "13.50"


SIZED = Entry(
    "used", item="fascia 1x8", size="1x8", colour="white", length=Fraction(144),
    quantity=Fraction(3), unit="stick", day=date(2026, 10, 1),
)  # fmt: skip


def test_a_new_amount_leaves_size_colour_and_day_as_they_were():
    assert merged(SIZED, Entry("used", quantity=Fraction(4))) == replace(
        SIZED, quantity=Fraction(4)
    )


def test_another_variant_keeps_the_colour_and_not_the_size_of_the_old_one():
    other = Entry("used", item="fascia 1x6")
    assert merged(SIZED, other) == replace(SIZED, item="fascia 1x6", size=None)


def test_quite_another_item_keeps_nothing_that_told_the_old_one_from_others():
    found = merged(SIZED, Entry("used", item="j channel", quantity=Fraction(2)))
    assert (found.size, found.colour, found.length, found.day) == (None, None, None, SIZED.day)


def test_a_new_price_of_an_extra_leaves_its_hours_and_words():
    extra = Entry("extra", note="moved the shutters", price=Decimal(60), hours=Fraction(2))
    assert merged(extra, Entry("extra", price=Decimal(70))) == replace(extra, price=Decimal(70))


def test_a_new_day_of_something_to_do_leaves_its_words():
    call = Entry("todo", note="call the yard", day=date(2026, 10, 1))
    assert merged(call, Entry("todo", day=date(2026, 10, 2))) == replace(
        call, day=date(2026, 10, 2)
    )
