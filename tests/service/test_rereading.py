"""What edited words change, and what they leave alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction

from joblog.dictation import read
from joblog.model import BookEntry, Entry, Item, Reading, Vocabulary
from joblog.service.rereading import revise, words_of

MOMENT = datetime(2026, 10, 5, 12, tzinfo=UTC)
WORDS = "used six sheets of soffit panel two sheets cracked"
VOCABULARY = Vocabulary(items=(Item("soffit panel", "sheet"),), places=("front porch", "back eave"))
USED = Entry("used", item="soffit panel", quantity=Fraction(6), unit="sheet")


def reads(text: str) -> Reading:
    return read(text, VOCABULARY)


def kept(entry: Entry, said: str = WORDS) -> BookEntry:
    return BookEntry(1, 1, MOMENT, entry, ("doubtful",), "heard", "heard", MOMENT, said)


def test_the_changed_part_replaces_the_entry_in_hand() -> None:
    revision = revise(kept(USED), WORDS.replace("six", "nine"), reads)
    assert [entry.quantity for entry in revision.reading.entries] == [9]


def test_the_unchanged_part_stays_as_it_is() -> None:
    revision = revise(kept(USED), WORDS.replace("six", "nine"), reads)
    assert [entry.kind for entry in revision.stays] == ["spoiled"]


def test_unchanged_words_are_the_entry_itself() -> None:
    revision = revise(kept(USED), WORDS, reads)
    assert revision.reading.entries == (USED,)


def test_the_second_of_two_can_be_changed_alone() -> None:
    spoiled = reads(WORDS).entries[1]
    revision = revise(kept(spoiled), WORDS.replace("two", "three"), reads)
    assert [entry.quantity for entry in revision.reading.entries] == [3]


def test_taking_the_words_away_leaves_nothing_to_save() -> None:
    revision = revise(kept(USED), "", reads)
    assert revision.reading.entries == ()


def test_doubts_follow_the_entries_they_are_about() -> None:
    text = "used six sheets of soffit panel three sheets cracked"
    doubtful = replace(reads(text), doubts=())
    assert revise(kept(doubtful.entries[1]), text, reads).reading.doubts == ()


def test_words_that_still_read_as_the_entry_are_its_words() -> None:
    assert words_of(kept(USED), reads) == WORDS


def test_words_of_another_place_are_not_those_of_the_entry() -> None:
    placed = replace(USED, place="front porch")
    assert words_of(kept(placed), reads) == "used six sheets of soffit panel, front porch"


def test_what_reads_as_a_change_of_something_before_is_no_change_in_the_place_of_a_fact() -> None:
    nine = replace(USED, quantity=Fraction(9))
    change = Entry("correction", action="replace", replacement=nine)
    revision = revise(kept(USED), "nine", lambda text: Reading((change,)))
    assert revision.reading.entries == (nine,)
