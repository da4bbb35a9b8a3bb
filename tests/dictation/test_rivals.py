"""Doubts from readings that are nearly as likely. Phrases are invented."""

import pytest

from joblog.dictation import read, rivals
from joblog.dictation.grammar import Chart
from joblog.dictation.read import said_in
from joblog.dictation.rivals import swap_of
from joblog.dictation.words import marked_words
from joblog.model import Doubt, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("garage wall", "north eave")))
TWO_WAYS = "soffit is fifteen and a quarter shy, started at seven thirty"
"""A length that is a little less, or sheets that are short."""
OTHER_WAY = "or was it needed: 15 1/4 sheets of soffit panel?"


@pytest.fixture(autouse=True)
def nothing_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rivals, "SETTLED", frozenset())
    monkeypatch.setattr(rivals, "RIVAL", 6.0)


def doubts(text: str) -> list[Doubt]:
    return [*read(text, WORDS).doubts]


def test_a_rival_that_counts_otherwise_is_asked_about_by_name_at_the_entry_it_would_be() -> None:
    assert doubts(TWO_WAYS) == [Doubt(0, OTHER_WAY)]


def test_a_rival_that_tells_no_other_fact_asks_nothing() -> None:
    assert doubts("used nine sheets of soffit at the garage wall") == []


def test_a_rival_that_is_far_behind_asks_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rivals, "RIVAL", 0.0)
    assert doubts(TWO_WAYS) == []


def test_a_swap_that_is_settled_asks_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rivals, "SETTLED", frozenset(["measure > needed", "measure > more"]))
    assert OTHER_WAY not in [doubt.why for doubt in doubts(TWO_WAYS)]


def test_what_is_in_doubt_already_is_not_asked_about_twice() -> None:
    assert [doubt.why for doubt in doubts("two sheets of soffit at the garage wall")] == [
        "used there? It was not said."
    ]


def test_few_rivals_are_read_however_many_there_are(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rivals, "RIVAL", 1000.0)
    said = said_in(marked_words(TWO_WAYS + ", spoiled nine elbows, north eave ten"), WORDS)
    chart = Chart(said.atoms)
    found = list(rivals.rivals(chart, (one.meaning for one in chart.cover()[0])))
    assert len(found) == rivals.MOST < len(chart.near(1000.0))


@pytest.mark.parametrize(
    ("mine", "others", "swap"),
    [
        (("used",), ("used",), " > "),
        (("place", "used"), ("place", "more"), "used > more"),
        (("delivered",), ("delivered", "more"), " > more"),
        (("more",), ("measure", "measure"), "more > measure + measure"),
        (("used", "place"), ("used",), None),
        (("problem",), ("note",), None),
        (("used",), ("used", "subject"), None),
    ],
)
def test_a_swap_names_what_each_means_that_the_other_does_not(
    mine: tuple[str, ...], others: tuple[str, ...], swap: str | None
) -> None:
    assert swap_of(mine, others) == swap
