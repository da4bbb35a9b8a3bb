"""Listening to what a job has besides material: to-dos, extras, prices, drives, visits."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.listening.acts import Accept, Act, Keep, Replace, Say
from joblog.listening.conversation import Heard
from joblog.listening.for_us import is_for_us
from joblog.listening.questions import has_a_number, is_only_words
from joblog.model import Entry, HeardUtterance, Reading, Utterance
from tests.listening.talking import BEGUN, SPOKEN, Talk, hearings, talk

FRIDAY = date(2026, 10, 9)
ERRANDS = (
    Entry("todo", note="call the office", day=FRIDAY),
    Entry("todo", note="call junior", who="junior"),
    Entry("extra", note="moved the shutters", price=Decimal("60")),
    Entry("expense", note="dump", price=Decimal("40")),
    Entry("drive", miles=Fraction(32)),
    Entry("visit", note="painter", who="painter"),
    Entry("inspection", time=time(9)),
)
PRICE = Entry("price", item="fascia", unit="stick", unit_cost=Decimal("14.90"))
MERE = Entry("todo", note="get going")


def for_us(
    entry: Entry, said: str, level: float | None = 0.0, *, among_others: bool = False
) -> bool:
    return is_for_us(Reading((entry,)), hearings(said), level, among_others=among_others)


@pytest.mark.parametrize("entry", [*ERRANDS, PRICE])
def test_what_names_a_number_a_day_or_a_person_is_for_us(entry: Entry) -> None:
    assert for_us(entry, "whatever the words are")


def test_something_to_do_that_names_nothing_is_for_us_only_where_he_calls_it_so() -> None:
    assert not for_us(MERE, "got to get going")
    assert for_us(MERE, "remind me to get going")
    assert for_us(MERE, "don't forget to get going")


@pytest.mark.parametrize("entry", ERRANDS)
def test_what_anybody_talks_of_is_not_taken_from_somebody_far_away(entry: Entry) -> None:
    assert not for_us(entry, "whatever the words are", -12.0)
    assert not for_us(entry, "whatever the words are", -5.0, among_others=True)


def test_a_price_of_an_item_is_taken_however_soft_it_is_said() -> None:
    assert for_us(PRICE, "fascia is fourteen ninety a stick", -12.0)


@pytest.mark.parametrize(
    ("entry", "number", "only_words"),
    [
        (MERE, False, True),
        (Entry("todo", note="call junior", who="junior"), False, False),
        (replace(MERE, day=FRIDAY), True, False),
        (Entry("extra", note="moved the shutters"), False, True),
        (Entry("extra", hours=Fraction(2)), True, False),
        (Entry("drive", miles=Fraction(32)), True, False),
        (PRICE, True, False),
        (Entry("note", note="no answer"), False, True),
        (Entry("corner", corner="outside"), False, False),
        (Entry("interruption", at=Fraction(120), length=Fraction(96)), True, False),
    ],
)
def test_a_few_words_can_ask_only_for_what_has_a_number_or_a_day(
    entry: Entry, number: bool, only_words: bool
) -> None:
    assert (has_a_number(entry), is_only_words(entry)) == (number, only_words)


# --- read back, and put right by ear ----------------------------------------------------------


def hears_as(talking: Talk, text: str, reading: Reading) -> tuple[Act, ...]:
    """The words, read as said here, kept as entry 1, and answered to the end."""
    utterance = HeardUtterance(Utterance(0.0, SPOKEN, hearings(text)), reading)
    acts = talking.conversation.hear(Heard(utterance, BEGUN, talking.now, 0.0))
    talking.conversation.stored([1])
    said = next(act for act in acts if isinstance(act, Say))
    talking.conversation.answering(said.words, talking.now)
    talking.conversation.answered(talking.now)
    return acts


def test_something_to_do_with_a_day_is_read_back_and_accepted_by_silence() -> None:
    talking = talk()
    acts = hears_as(talking, "call the office by friday", Reading((ERRANDS[0],)))
    assert [act.words for act in acts if isinstance(act, Say)] == [
        "reminder, call the office, on friday"
    ]
    assert talking.waits(3.5) == (Accept((1,)),)


def test_silence_does_not_accept_a_to_do_of_which_only_the_words_were_read_back() -> None:
    talking = talk()
    hears_as(
        talking, "remind me to call the office", Reading((Entry("todo", note="call the office"),))
    )
    assert talking.waits(9) == ()


SIZED = Entry(
    "used", item="fascia 1x8", size="1x8", colour="white", quantity=Fraction(3), unit="stick",
    day=FRIDAY,
)  # fmt: skip


@pytest.mark.parametrize(
    ("before", "said", "after"),
    [
        (SIZED, "make it nine", replace(SIZED, quantity=Fraction(9))),
    ],
)
def test_a_number_put_right_by_ear_leaves_size_dimension_and_day(
    before: Entry, said: str, after: Entry
) -> None:
    talking = talk()
    hears_as(talking, "whatever the words were", Reading((before,)))
    talking.hears(said)
    [made] = talking.of(Replace)
    assert isinstance(made, Replace)
    told = replace(made.by, as_said=None, carried=())
    assert told == after


def test_a_number_by_itself_puts_right_what_was_just_read_back_with_its_size() -> None:
    talking = talk()
    hears_as(talking, "whatever the words were", Reading((SIZED,)))
    talking.hears("nine", after=1.0)
    [made] = talking.of(Replace)
    assert isinstance(made, Replace)
    assert (made.by.quantity, made.by.size, made.by.item) == (9, "1x8", "fascia 1x8")


def test_a_number_does_not_put_right_a_to_do_without_one() -> None:
    talking = talk()
    hears_as(talking, "whatever the words were", Reading((SIZED,)))
    hears_as(talking, "remind me to call", Reading((Entry("todo", note="call"),)))
    talking.conversation.stored([2])
    talking.hears("make it nine")
    assert [act.by.item for act in talking.of(Replace) if isinstance(act, Replace)] == [
        "fascia 1x8"
    ]
    assert talking.of(Keep)


@pytest.mark.parametrize(
    ("before", "said", "field", "value"),
    [
        ("paid forty bucks for dump", "no, fifty", "price", Decimal("50.00")),
        ("drove thirty two miles", "make it forty", "miles", 40),
    ],
)
def test_what_was_paid_or_driven_is_put_right_by_ear(
    before: str, said: str, field: str, value: object
) -> None:
    talking = talk()
    talking.hears(before)
    talking.hears(said)
    [made] = talking.of(Replace)
    assert isinstance(made, Replace)
    assert getattr(made.by, field) == value


def test_what_no_number_fits_is_not_taken_back_for_one() -> None:
    talking = talk()
    hears_as(talking, "whatever the words were", Reading((replace(ERRANDS[0], day=FRIDAY),)))
    talking.hears("no, fourteen and a half", after=9)
    assert talking.of(Replace) == []
    assert talking.said == "not sure: change it to what, say it again"
