"""Strange words that sound like the job's. The mishearings were seen in recognizers' output."""

import pytest

from joblog.dictation.repair import repaired
from joblog.model import Plan
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
