"""What the ways to take an utterance apart weigh. Phrases are invented."""

from collections import Counter
from itertools import islice, pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from joblog.dictation.grammar import Chart, features_of
from joblog.dictation.language import SENTENCES
from joblog.dictation.read import said_in
from joblog.dictation.weights import WEIGHTS
from joblog.dictation.words import marked_words
from joblog.model import Plan
from joblog.plan import vocabulary
from tests.bench.weigh import HAND, SCALE, Candidate, Problem

WORDS = vocabulary(Plan(places=("garage wall", "north eave")))
SAID = (
    "garage wall twelve six",
    "north eave, fourteen and a half, used nine sheets of soffit",
    "soffit, eight sheets used and the neighbor's dog barked, okay, spoiled one",
    "blorp seven garage frum, the north eave is wet, two sheets of soffit",
    "took some zorby pictures of the garage wall, nine and a half, photo",
    "don't hand me four sheets of soffit, and then, north eave ten",
)


def atoms_in(text: str) -> tuple[object, ...]:
    return tuple(said_in(marked_words(text), WORDS).atoms)


def chart_of(text: str) -> Chart:
    return Chart(said_in(marked_words(text), WORDS).atoms)


@pytest.mark.parametrize("text", SAID)
def test_the_features_of_every_cover_weigh_as_much_as_the_cover(text: str) -> None:
    atoms = said_in(marked_words(text), WORDS).atoms
    for stretches, unread, score in islice(Chart(atoms).covers(), 50):
        found = features_of(atoms, stretches, unread)
        weighed = sum(WEIGHTS.get(name, 0.0) * count for name, count in found.items())
        assert weighed == pytest.approx(score)


@pytest.mark.parametrize("text", SAID)
def test_covers_come_best_first_and_the_first_is_the_one_that_is_read(text: str) -> None:
    found = list(islice(chart_of(text).covers(), 50))
    assert all(one[2] >= other[2] - 1e-9 for one, other in pairwise(found))
    assert found[0][2] == pytest.approx(chart_of(text).cover()[2])


@pytest.mark.parametrize("text", SAID)
def test_no_cover_comes_twice_and_each_holds_every_word_once(text: str) -> None:
    atoms = atoms_in(text)
    for stretches, unread, _ in islice(chart_of(text).covers(), 50):
        held = [at for one in stretches for at in range(one.start, one.end)] + unread
        assert sorted(held) == list(range(len(atoms)))


def test_a_refused_stretch_is_in_no_cover() -> None:
    chart = chart_of("garage wall twelve six")
    first = chart.cover()[0][-1]
    chart.refuse(first.start, first.end, first.meaning)
    refused = (first.start, first.end, first.meaning)
    for stretches, _, _ in islice(chart.covers(), 30):
        assert refused not in [(one.start, one.end, one.meaning) for one in stretches]


def test_a_word_that_is_left_unread_weighs_by_what_it_is() -> None:
    atoms = said_in(marked_words("seven soffit garage wall delivered blorp and"), WORDS).atoms
    assert features_of(atoms, [], range(len(atoms))) == {
        "unread number": 1,
        "unread item": 1,
        "unread place": 1,
        "unread word": 1,
        "unread strange": 1,
        "unread filler": 1,
    }


def test_every_weight_is_of_something_that_the_tables_can_mean() -> None:
    meanings = {f"as {meaning}" for meaning, _ in SENTENCES}
    named = {name for name in WEIGHTS if name.startswith("as ")}
    assert named - meanings == set()


# --- learning them ------------------------------------------------------------------------------


def _all(problem: Problem) -> NDArray[np.bool_]:
    return np.ones(problem.count, bool)


def candidate(features: dict[str, int], *, right: bool, silent: bool = False) -> Candidate:
    return Candidate(Counter(features), right, silent)


def test_what_is_right_becomes_likelier_than_by_hand() -> None:
    right = candidate({"as pieces": 1}, right=True)
    wrong = candidate({"as measure": 1}, right=False, silent=True)
    problem = Problem.of([[wrong, right]] * 20)
    assert problem.told(problem.chosen(problem.hand)) == "right 0.00%, silent 100.00%"
    learned = problem.learned(_all(problem))
    assert problem.told(problem.chosen(learned)) == "right 100.00%, silent 0.00%"


def test_what_no_utterance_tells_of_stays_as_it_was_set_by_hand() -> None:
    same = {"as request": 1, "stretch": 2}
    pair = [candidate(same, right=True), candidate(same | {"as used": 1}, right=False)]
    problem = Problem.of([pair] * 5)
    learned = dict(zip(problem.names, problem.learned(_all(problem)), strict=True))
    assert learned["as request"] == pytest.approx(SCALE * HAND["as request"])
    assert learned["as used"] < 0


def test_an_utterance_of_which_nothing_is_right_teaches_nothing() -> None:
    right = [candidate({"as used": 1}, right=True), candidate({"as more": 1}, right=False)]
    hopeless = [candidate({"as used": 1}, right=False), candidate({"as more": 1}, right=False)]
    alone, both = Problem.of([right]), Problem.of([right, hopeless])
    assert both.learned(_all(both)) == pytest.approx(alone.learned(_all(alone)))


def test_a_silent_mistake_is_dearer_than_one_that_is_asked_about() -> None:
    def learned(silent: bool) -> float:
        wrong = candidate({"as more": 1}, right=False, silent=silent)
        problem = Problem.of([[candidate({"as used": 1}, right=True), wrong]])
        weights = dict(zip(problem.names, problem.learned(_all(problem)), strict=True))
        return weights["as used"] - weights["as more"]

    assert learned(silent=True) > learned(silent=False)
