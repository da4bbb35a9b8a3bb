"""Which items learn from each other."""

from fractions import Fraction

import pytest

from joblog.catalog.lines import starter
from joblog.model import History
from joblog.rates import family_of, learn, predict
from tests.rates.closed import scattered, uses


@pytest.mark.parametrize("item", [item.name for item in starter()])
def test_every_item_of_the_catalog_has_a_family(item: str) -> None:
    assert family_of(item) != "other"


@pytest.mark.parametrize(
    ("item", "family"),
    [
        ("White Soffit Panel", "panels"),
        ("8d common nails", "fasteners"),
        ("half inch plywood", "sheets"),
        ("fascia 1x6", "trim"),
        ("panel soffit", "other"),
        ("1x6", "other"),
        ("", "other"),
    ],
)
def test_the_last_words_of_a_name_tell_its_family(item: str, family: str) -> None:
    assert family_of(item) == family


def test_the_family_that_the_caller_names_goes_before_all_others() -> None:
    # An invented shop whose long panels are handled like its short ones, and like nothing else.
    history = History(uses(scattered(0.3, 0.2, 20), "ten footer"))
    learned = learn(history, families={"Ten Footer": "long stuff", "twelve footer": "long stuff"})
    assert list(learned.waste) == ["long stuff"]
    like, unlike = (
        predict(learned, item, Fraction(40), Fraction(0)) for item in ("twelve footer", "caulk")
    )
    assert like.source == "no closed job of it yet; from 20 jobs of other long stuff"
    assert like.median > unlike.median
