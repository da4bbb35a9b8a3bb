"""Strange words that sound like the job's. The mishearings were seen in recognizers' output."""

import pytest

from joblog.dictation import read
from joblog.dictation.hypotheses import hypotheses_of
from joblog.dictation.repair import numbered, repaired
from joblog.model import Hearing, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "south eave")))


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("saw fit panel", "soffit panel"),
        ("facia nine feet", "fascia nine feet"),
        ("North Eve eleven", "north eave eleven"),
        ("Southeave twelve", "south eave twelve"),
        ("used for sticks of channel", "used four sticks of channel"),
        ("used to sheets of soffit", "used two sheets of soffit"),
        ("delivered nine sticks of wall chandel", "delivered nine sticks of wall channel"),
    ],
)
def test_a_strange_word_becomes_the_jobs_word_it_sounds_like(heard: str, meant: str) -> None:
    assert repaired(heard, WORDS) == meant


@pytest.mark.parametrize(
    "heard",
    [
        "used four sticks of wall channel",
        "note the driveway is steep",
        "photo for the owner",
        "call mike about the door",
        "north eave eleven and seven eighths",
    ],
)
def test_what_reads_well_is_left_alone(heard: str) -> None:
    assert repaired(heard, WORDS) is None


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("north eave to feet six", "north eave two feet six"),
        ("used for sticks of fascia", "used four sticks of fascia"),
        ("north eave for and a quarter", "north eave four and a quarter"),
        ("to and a half inches", "two and a half inches"),
        ("twenty for inches", "twenty four inches"),
        ("used won stick of fascia", "used one stick of fascia"),
        ("used tree sheets of soffit", "used three sheets of soffit"),
        ("ate and a half", "eight and a half"),
    ],
)
def test_before_what_is_counted_a_word_that_sounds_like_a_number_is_one(
    heard: str, meant: str
) -> None:
    assert numbered(heard, WORDS) == meant


@pytest.mark.parametrize(
    "heard",
    [
        "used for trim",
        "worked for hours",
        "cut it to length",
        "two for each",
        "five to ten feet",
        "quarter to and a half",
    ],
)
def test_a_word_that_makes_sense_stays_a_word(heard: str) -> None:
    assert numbered(heard, WORDS) is None


def test_five_ate_may_be_five_eight() -> None:
    assert repaired("north eave five ate", WORDS) == "north eave five eight"


def test_of_what_was_heard_the_number_is_believed_before_the_word() -> None:
    hearing = Hearing("general free", "used for sticks of fascia")
    lines = sorted(hypotheses_of((hearing,), WORDS), key=lambda line: -line.weight)
    assert [line.text for line in lines] == [
        "used four sticks of fascia",
        "used for sticks of fascia",
    ]


def test_what_was_typed_keeps_its_words_and_is_asked_about() -> None:
    reading = read("north eave for and a quarter", WORDS)
    assert "four and 1/4" in reading.doubts[0].why
