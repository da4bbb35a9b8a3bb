"""Which of several lines stands when every recognizer has told of all of them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.dictation import best_of, read_heard, weigh_up
from joblog.dictation.choose import about_hearing
from joblog.model import Alternative, Hearing, Plan, Reading, Scored, Utterance
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "south eave")))
FIFTEEN, FIFTY = "used fifteen sheets of soffit", "used fifty sheets of soffit"


def hearings(trade: str, general: str) -> tuple[Hearing, ...]:
    return tuple(
        Hearing(name, line, alternatives=(Alternative(line, -2.0),), confidence=0.9)
        for name, line in (
            ("trade", trade),
            ("general free", general),
            ("general constrained", general),
        )
    )


def reading(heard: tuple[Hearing, ...], *scored: Scored) -> Reading:
    return best_of(Utterance(0.0, 2.0, heard, scored, -25.0, -60.0), WORDS)[1]


def test_what_both_hear_and_nothing_comes_near_is_surer_than_what_something_comes_near() -> None:
    both = hearings(FIFTEEN, FIFTEEN)
    alone = reading(both, Scored(FIFTEEN, 90.0, -1.0, -9.0), Scored(FIFTY, None, -30.0, -9.0))
    pressed = reading(both, Scored(FIFTEEN, 90.0, -1.0, -9.0), Scored(FIFTY, 89.9, -1.1, -9.0))
    assert alone.confidence[0] > pressed.confidence[0]


def test_a_number_that_another_comes_near_keeps_it_as_its_rival() -> None:
    pressed = reading(
        hearings(FIFTEEN, FIFTY), Scored(FIFTEEN, 90.0, -3.0, -9.0), Scored(FIFTY, 88.0, -1.0, -9.0)
    )
    [rival] = [one for one in pressed.rivals if one.field == "number"]
    assert {said for said, _ in rival.values} == {"15 sheets", "50 sheets"}
    assert 0.99 < sum(share for _, share in rival.values) <= 1.0


def test_a_doubt_says_which_number_and_quotes_the_other_line() -> None:
    torn = reading(
        hearings(FIFTEEN, FIFTY), Scored(FIFTEEN, 90.0, -3.0, -9.0), Scored(FIFTY, 88.0, -1.0, -9.0)
    )
    [why] = {doubt.why for doubt in torn.doubts}
    assert why.startswith("which number: ")
    assert "15 sheets" in why
    assert "50 sheets" in why
    assert FIFTEEN in why or FIFTY in why
    assert about_hearing(why)


def test_a_number_that_sounds_just_like_another_is_asked_about_though_all_heard_it() -> None:
    pressed = reading(
        hearings(FIFTEEN, FIFTEEN),
        Scored(FIFTEEN, 90.0, -1.0, -9.0),
        Scored(FIFTY, 88.0, -1.0, -9.0),
    )
    [why] = {doubt.why for doubt in pressed.doubts}
    assert why.startswith("which number: 15 sheets or 50 sheets?")


@pytest.mark.parametrize(
    "beside", [Scored(FIFTY, 88.0, -3.5, -9.0), Scored(FIFTY, 88.0, -1.0, -15.0)]
)
def test_a_number_that_is_heard_or_said_otherwise_is_not_asked_about(beside: Scored) -> None:
    told = reading(hearings(FIFTEEN, FIFTEEN), Scored(FIFTEEN, 90.0, -1.0, -9.0), beside)
    assert not [doubt for doubt in told.doubts if "which number" in doubt.why]


def test_a_doubt_says_which_place() -> None:
    north, south = "north eave eleven", "south eave eleven"
    torn = reading(
        hearings(north, south), Scored(north, 90.0, -2.0, -9.0), Scored(south, 89.0, -2.0, -9.0)
    )
    [rival] = torn.rivals
    assert (rival.field, {said for said, _ in rival.values}) == (
        "place",
        {"north eave", "south eave"},
    )


def test_other_words_for_the_same_fact_cost_nothing() -> None:
    said, loose = "north eave eleven and a half", "uh north eave eleven and one half"
    heard = hearings(said, said)
    weighed = weigh_up(
        Utterance(
            0.0, 2.0, heard, (Scored(said, 90.0, -3.0, -9.0), Scored(loose, 89.0, -3.0, -12.0))
        ),
        WORDS,
    )
    assert weighed is not None
    [entry] = weighed.chosen.reading.entries
    assert entry.inches == Fraction(23, 2)
    assert weighed.evidence[0].fact == pytest.approx(1.0)
    assert weighed.chosen.scores is not None
    # Two lines of the same meaning are together likelier than either: ln 2 for two that are alike.
    assert weighed.chosen.scores.general == pytest.approx(0.693, abs=0.001)


def test_a_line_that_only_scoring_brought_up_can_stand() -> None:
    strange = "used fit teen sheets of soffit"
    found = reading(
        hearings(strange, strange),
        Scored(strange, None, -30.0, -60.0),
        Scored(FIFTEEN, 95.0, -1.0, -9.0),
    )
    assert [(one.kind, one.quantity) for one in found.entries] == [("used", 15)]


def test_a_hearing_that_stands_comes_first_and_what_was_scored_stays_with_it() -> None:
    scored = (Scored(FIFTEEN, 90.0, -30.0, -9.0), Scored(FIFTY, 99.0, -1.0, -9.0))
    utterance = Utterance(0.0, 2.0, hearings(FIFTEEN, FIFTY), scored)
    assert read_heard(utterance, WORDS).utterance.scored == scored


LINES = (FIFTEEN, FIFTY, "north eave eleven", "note the gate is locked", "seven of clubs")
SCORE = st.none() | st.floats(-400, 400)
SCORED = st.builds(Scored, st.sampled_from(LINES), SCORE, SCORE, SCORE)


@given(
    st.sampled_from(LINES),
    st.sampled_from(LINES),
    st.lists(SCORED, max_size=5, unique_by=lambda one: one.text),
)
def test_whatever_the_scores_are_every_probability_is_one(
    trade: str, general: str, scored: list[Scored]
) -> None:
    utterance = Utterance(0.0, 2.0, hearings(trade, general), tuple(scored))
    weighed = weigh_up(utterance, WORDS)
    assert weighed is not None
    assert sum(weighed.likely) == pytest.approx(1.0)
    found = best_of(utterance, WORDS)[1]
    assert all(0 <= one <= 1 for one in found.confidence)
    for rival in found.rivals:
        assert sum(share for _, share in rival.values) <= 1.001
