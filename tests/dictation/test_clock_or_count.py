"""Where a clock ends and a count begins."""

import pytest

from joblog.dictation import read
from tests.bench.corpus import words


@pytest.mark.parametrize(
    "text",
    [
        "quit at four thirty two sheets of soffit left",
        "knocked off at three forty five sheets of siding left",
        "stopped at five twenty four sticks of fascia left",
    ],
)
def test_a_time_and_a_count_in_one_breath_are_both_asked_about(text: str) -> None:
    reading = read(text, words())
    assert {doubt.entry for doubt in reading.doubts} == set(range(len(reading.entries)))
    assert any("in one breath" in doubt.why for doubt in reading.doubts)


@pytest.mark.parametrize(
    "text",
    [
        "quit at four thirty, two sheets of soffit left",
        "quit at four, thirty two sheets of soffit left",
        "quit at four thirty",
        "stopped at four, used two sheets of soffit",
    ],
)
def test_where_he_paused_nothing_is_asked(text: str) -> None:
    assert not read(text, words()).doubts
