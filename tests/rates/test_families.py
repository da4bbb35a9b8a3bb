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
    assert like.source == "borrowed from 20 jobs of other long stuff; no job of it yet"
    assert like.median > unlike.median


KINDS = {f"soffit panel {feet} ft": "soffit panel" for feet in (8, 10, 12)}


def test_a_kind_of_an_item_learns_from_its_other_kinds_and_says_so() -> None:
    history = History(
        (
            *uses(scattered(0.2, 0.2, 12), "soffit panel 8 ft"),
            *uses(scattered(0.2, 0.2, 12, 4), "soffit panel 10 ft"),
            *uses(scattered(0.04, 0.2, 12, 5), "siding panel"),
        )
    )
    learned = learn(history, families=KINDS)
    kind, panel = (
        predict(learned, item, Fraction(40), Fraction(0))
        for item in ("soffit panel 12 ft", "vented soffit panel")
    )
    assert kind.source == "borrowed from 24 jobs of other kinds of soffit panel; no job of it yet"
    assert panel.source == "borrowed from 12 jobs of other panels; no job of it yet"
    assert kind.median > panel.median + 1


def test_the_first_kinds_of_an_item_lean_on_its_family() -> None:
    first = uses((0.05,), "soffit panel 8 ft")
    alone, among = (
        predict(learn(History(lines), families=KINDS), "soffit panel 8 ft", Fraction(40))
        for lines in (first, (*first, *uses(scattered(0.25, 0.2, 15), "siding panel")))
    )
    assert among.median > alone.median + 0.5
