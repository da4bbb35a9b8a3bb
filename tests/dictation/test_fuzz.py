"""Whatever is said: no exception, and no number that was not said."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.dictation import read
from joblog.dictation.grammar import known_words
from joblog.dictation.numbers import NUMBER_WORDS
from joblog.form import entry_from_json, entry_to_json
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave",)))
SPOKEN = sorted(known_words() | NUMBER_WORDS | {"soffit", "fascia", "nails", "channel"})
WORDLESS = sorted(word for word in known_words() - NUMBER_WORDS if word not in {"a", "an"})


def amounts(entry: Entry) -> list[Fraction | None]:
    inner = amounts(entry.replacement) if entry.replacement else []
    own = [entry.quantity, entry.inches, entry.square_inches, entry.pitch, entry.hours]
    money = [Fraction(cost) for cost in (entry.unit_cost, entry.price) if cost is not None]
    more = [entry.minutes, entry.fahrenheit, entry.length, entry.miles, *money]
    return [*own, *more, *inner]


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(SPOKEN), max_size=14).map(" ".join))
def test_any_string_of_known_words_is_read_without_an_exception(text: str) -> None:
    reading = read(text, WORDS)
    assert all(0 <= doubt.entry < len(reading.entries) for doubt in reading.doubts)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text_at_all_is_read_without_an_exception(text: str) -> None:
    read(text, WORDS)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(SPOKEN), max_size=14).map(" ".join))
def test_every_entry_survives_its_json_form(text: str) -> None:
    entries = read(text, WORDS).entries
    assert [entry_from_json(entry_to_json(entry)) for entry in entries] == list(entries)


WORDS_WITH_A_NUMBER_IN_THEM = {
    "an", "a", "another", "couple", "dozen", "pair", "no", "none", "nothing", "zero", "out",
    "half", "quarter", "inch", "hour", "minute", "noon", "midnight", "ran", "alone", "myself",
    "feet", "all", "eighth", "foot", "inches", "one's", "both", "single", "hr",
    # With a singular these say one: "scratched her downspout".
    "the", "this", "that", "my", "our", "your", "his", "her", "their",
}  # fmt: skip


@settings(max_examples=500, deadline=None)
@given(st.lists(st.sampled_from(WORDLESS), max_size=12))
def test_no_number_comes_out_where_none_was_said(words: list[str]) -> None:
    spoken = [word for word in words if word not in WORDS_WITH_A_NUMBER_IN_THEM]
    found = [amount for entry in read(" ".join(spoken), WORDS).entries for amount in amounts(entry)]
    assert [amount for amount in found if amount] == []


def test_clock_times_of_an_unknown_task_are_read_without_an_exception() -> None:
    assert read("hung dormers from eight to ten", WORDS).entries


def test_a_price_of_what_did_not_come_is_asked_about_and_not_kept() -> None:
    reading = read("two sticks of fascia bent at four dollars each", WORDS)
    assert all(entry.unit_cost is None for entry in reading.entries)
    assert read("4 1/2 pails $4 unusable", WORDS).doubts


def test_doubts_are_about_entries_that_are_there_when_a_number_takes_one_back() -> None:
    reading = read("three bad disregard seven", WORDS)
    assert all(doubt.entry < len(reading.entries) for doubt in reading.doubts)
