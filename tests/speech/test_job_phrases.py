"""What is expected to be said, and the words of a job."""

import random

import pytest
from num2words import num2words
from said import JOB

from joblog.model import Vocabulary
from joblog.speech.phrases import phrases, spelled
from joblog.speech.words import figures, job_words


def plain_number(number: int) -> str:
    """As num2words, a general-purpose library, spells it; without "and", hyphens and commas."""
    return num2words(number).replace("-", " ").replace(",", "").replace(" and ", " ")


def test_numbers_are_spelled_as_num2words_spells_them() -> None:
    assert [spelled(number) for number in range(10_000)] == list(map(plain_number, range(10_000)))


def test_the_phrases_of_a_job_are_the_same_every_time() -> None:
    first = phrases(JOB)
    phrases.cache_clear()
    random.seed(99)
    assert phrases(JOB) == first


def test_the_phrases_have_the_names_of_the_job_and_nothing_left_to_fill_in() -> None:
    together = " ".join(phrases(JOB))
    for name in ("soffit panel", "wall channel", "trim nails", "south eave", "hang soffit"):
        assert name in together
    assert not set(together) & set("{}|()")


def test_every_fraction_follows_a_number_somewhere() -> None:
    together = " ".join(phrases(JOB))
    for top in (3, 5, 7, 9, 11, 13, 15):
        assert f"and {spelled(top)} sixteenths" in together


def test_a_job_without_names_has_phrases_too() -> None:
    assert len(phrases(Vocabulary())) == len(phrases(JOB))


def test_almost_every_expected_word_can_be_written() -> None:
    words = job_words(JOB)
    expected = [word for phrase in phrases(JOB) for word in phrase.split()]
    assert sum(word not in words for word in expected) / len(expected) < 0.005


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        ("42", "forty two"),
        ("1/2", "one half"),
        ("15/16", "fifteen sixteenths"),
        ("7:30", "seven thirty"),
        ("4:05", "four oh five"),
        ("12:00", "twelve o'clock"),
    ],
)
def test_figures_are_said_as_a_person_says_them(figure: str, said: str) -> None:
    assert " ".join(figures()[figure]) == said


def test_the_words_of_a_job_are_those_of_its_items_places_and_tasks_and_of_numbers() -> None:
    words = job_words(Vocabulary(JOB.items, ("Quay wall",), JOB.tasks))
    assert {"quay", "soffit", "hang", "eleven", "sixteenths", "heavy"} <= words
    assert "quay" not in job_words(Vocabulary())
