"""Other readings of the same words, with what speaks for them. Phrases are invented."""

from fractions import Fraction

from joblog.dictation import competing
from joblog.form import reading_to_json
from joblog.model import Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("garage wall", "north eave")))


def test_two_bare_numbers_compete_with_one_length_in_feet() -> None:
    (other,) = competing("garage wall twelve six", WORDS)
    assert [entry.inches for entry in other.reading.entries] == [12, 6]
    assert "'twelve' as measure and 'six' as measure" in other.why


def test_a_plain_length_has_no_competitor() -> None:
    assert competing("north eave fourteen and a half", WORDS) == ()


def test_the_nearest_competitor_stands_first() -> None:
    gaps = [other.worse_by for other in competing("garage wall nine twelve six", WORDS)]
    assert gaps == sorted(gaps) and gaps


def test_competitors_stand_in_the_json_under_or() -> None:
    others = competing("garage wall twelve six", WORDS)
    shown = reading_to_json(others[0].reading, others)["or"]
    assert shown[0]["entries"][0]["inches"] == str(Fraction(12))
    assert set(shown[0]) == {"entries", "why", "worse_by"}
