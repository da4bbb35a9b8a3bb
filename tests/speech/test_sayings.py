"""Sentences that recognizers expect, with what changes filled in from the job."""

from joblog.model import Plan
from joblog.plan import vocabulary
from joblog.speech.phrases import phrases, sayings

WORDS = vocabulary(Plan(places=("north eave",)))


def test_no_slot_of_a_saying_stays_unfilled() -> None:
    assert not [phrase for phrase in phrases(WORDS) if "{" in phrase or "(" in phrase]


def test_sayings_make_part_of_what_is_expected() -> None:
    openings = {" ".join(saying.split()[:3]) for saying in sayings() if "{" not in saying}
    said = {" ".join(phrase.split()[:3]) for phrase in phrases(WORDS)}
    assert len(openings & said) > len(openings) // 2
