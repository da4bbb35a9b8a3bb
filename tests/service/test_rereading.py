"""What edited words change, and what they leave alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction

from joblog.dictation import read
from joblog.model import BookEntry, Entry, Item, Reading, Vocabulary
from joblog.service.rereading import other_choices, revise, words_of
from tests.tui.evening import hearing, utterance

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


def test_a_hearing_that_reads_the_same_is_no_choice() -> None:
    heard = utterance(hearing("trade", WORDS), hearing("general", WORDS.replace("six", "6")))
    assert other_choices(kept(USED), heard, reads) == ()


def test_an_n_best_line_that_reads_otherwise_is_a_choice() -> None:
    other = WORDS.replace("six", "sixteen")
    heard = utterance(hearing("trade", WORDS, also=(other,)))
    choices = other_choices(kept(USED), heard, reads)
    assert [(choice.heard_by, choice.revision.text) for choice in choices] == [("trade", other)]


def test_whole_hearings_come_before_n_best_lines() -> None:
    heard = utterance(
        hearing("trade", WORDS, also=(WORDS.replace("six", "sixteen"),)),
        hearing("general", WORDS.replace("six", "ten")),
    )
    choices = other_choices(kept(USED), heard, reads)
    assert [c.revision.reading.entries[0].quantity for c in choices] == [10, 16]


def test_hearings_that_differ_only_in_place_are_choices() -> None:
    words = "front porch used six sheets of soffit panel"
    other = words.replace("front porch", "back eave")
    heard = utterance(hearing("trade", words), hearing("general", other))
    [choice] = other_choices(kept(reads(words).entries[0], words), heard, reads)
    assert choice.revision.reading.entries[0].place == "back eave"


def test_a_place_put_right_before_the_words_makes_no_choice_of_them() -> None:
    placed = replace(USED, place="front porch", carried=("place",))
    heard = utterance(hearing("trade", WORDS), hearing("general", WORDS))
    assert other_choices(kept(placed), heard, reads) == ()


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
