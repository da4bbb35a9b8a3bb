"""Lines put together from what two recognizers heard, and what speaks for a meaning."""

from functools import partial

from hypothesis import given
from hypothesis import strategies as st

from joblog.dictation import best, candidates, read
from joblog.dictation.grammar import known_words
from joblog.dictation.hypotheses import MOST_NEAR, hypotheses_of
from joblog.dictation.weigh import likelihoods, meanings_of
from joblog.model import Hearing, Plan, Scored, Word
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave",)))


def heard(recognizer: str, **words: float) -> Hearing:
    """A hearing of words, each with its confidence."""
    told = tuple(Word(word, at, at + 1, sure) for at, (word, sure) in enumerate(words.items()))
    return Hearing(recognizer, " ".join(words), told, confidence=0.5)


def texts(*hearings: Hearing) -> set[str]:
    return {line.text for line in hypotheses_of(hearings, WORDS)}


def test_where_two_recognizers_differ_twice_either_is_taken_in_either_place() -> None:
    found = texts(
        Hearing("trade", "hung three sheets of soffit to scrapped"),
        Hearing("general constrained", "hand three sheets of soffit two scrapped"),
    )
    assert "hung three sheets of soffit two scrapped" in found
    assert "hand three sheets of soffit to scrapped" in found


def test_where_they_differ_once_there_is_nothing_to_put_together() -> None:
    hearings = (Hearing("trade", "used three"), Hearing("general constrained", "used four"))
    assert texts(*hearings) == {"used three", "used four"}


def test_two_hearings_of_one_recognizer_are_not_put_together() -> None:
    hearings = (
        Hearing("trade", ""),
        Hearing("general free", "hand three sheets two scrapped"),
        Hearing("general constrained", "hung three sheets to scrapped"),
    )
    assert texts(*hearings) == {
        "hand three sheets two scrapped", "hung three sheets to scrapped"
    }  # fmt: skip


def test_a_word_that_one_is_sure_of_and_the_other_is_not_is_asked_about() -> None:
    hearings = (
        heard("trade", used=1.0, three=1.0, sheets=1.0, of=1.0, fascia=0.1),
        heard("general free", hues=0.1, three=1.0, sheets=1.0, of=1.0, soffit=0.9),
        heard("general constrained", hues=0.1, three=1.0, sheets=1.0, of=1.0, soffit=0.9),
    )
    reading = best(hearings, WORDS)[1]
    [entry] = reading.entries
    assert (entry.kind, entry.quantity) == ("used", 3)
    assert reading.doubts


SAID = "used three four sheets of soffit north eave to".split()
LINE = st.lists(st.sampled_from(SAID), max_size=9).map(" ".join)
HEARINGS = st.tuples(
    LINE.map(partial(Hearing, "trade")),
    LINE.map(partial(Hearing, "general free")),
    LINE.map(partial(Hearing, "general constrained")),
)


@given(HEARINGS)
def test_the_likelihoods_of_all_meanings_add_up_to_one(hearings: tuple[Hearing, ...]) -> None:
    likely = likelihoods(meanings_of(hearings, partial(read, vocabulary=WORDS), WORDS))
    assert abs(sum(likely) - bool(likely)) < 1e-9


@given(HEARINGS)
def test_every_entry_of_a_reading_has_a_confidence(hearings: tuple[Hearing, ...]) -> None:
    reading = best(hearings, WORDS)[1]
    assert len(reading.confidence) == len(reading.entries)


def test_what_the_lines_of_one_recognizer_weigh_adds_up_to_one() -> None:
    hearings = (
        Hearing("trade", "used three sheets of soffit"),
        Hearing("general free", "used three sheets of soft it"),
        Hearing("general constrained", "used three sheets of soffit"),
    )
    lines = hypotheses_of(hearings, WORDS)
    for family in ("trade", "general"):
        weights = [line.weight for line in lines if line.family == family]
        assert abs(sum(weights) - 1) < 1e-9


def test_a_line_put_together_is_of_the_hearing_that_most_of_it_is_from() -> None:
    hearings = (
        Hearing("trade", "hung three sheets of soffit to scrapped nine"),
        Hearing("general constrained", "hand three sheets of soffit two scrapped mine"),
    )
    of = {one.text: one.hearing for one in hypotheses_of(hearings, WORDS)}
    assert of["hung three sheets of soffit to scrapped mine"] == 0
    assert of["hand three sheets of soffit two scrapped nine"] == 1


def test_the_words_that_recognizers_are_told_of_are_plain_ones() -> None:
    assert [word for word in known_words() if word != word.lower()] == []


def test_a_number_word_meets_its_rivals_by_sound() -> None:
    found = candidates((Hearing("trade", "used fifteen sheets of soffit"),), WORDS)
    assert found[0] == "used fifteen sheets of soffit"
    assert {"used fifty sheets of soffit", "need fifteen sheets of soffit"} <= set(found)


def test_a_row_of_digits_meets_the_number_it_sounds_like_and_the_other_way_round() -> None:
    assert "north eave forty" in candidates((Hearing("trade", "north eave four two"),), WORDS)
    assert "north eave four two" in candidates((Hearing("trade", "north eave forty"),), WORDS)


def test_lines_are_put_to_the_recognizers_in_plain_words() -> None:
    found = candidates((Hearing("general free", "Used three boxes, North-eave."),), WORDS)
    assert found[0] == "used three boxes north eave"
    assert candidates((Hearing("trade", ""),), WORDS) == ()


def test_however_many_numbers_are_said_only_so_many_rivals_are_put() -> None:
    said = " ".join(["eight four two sixteen fifty"] * 8)
    assert len(candidates((Hearing("trade", said),), WORDS)) <= MOST_NEAR + 1


def test_a_line_that_was_only_scored_belongs_to_the_hearing_it_is_nearest_to() -> None:
    hearings = (
        Hearing("trade", "used three sheets"),
        Hearing("general constrained", "north eave fifty two"),
    )
    scored = (Scored("used three sheets", 9.0, -1.0), Scored("north eave fifteen two", None, -2.0))
    lines = {one.text: one for one in hypotheses_of(hearings, WORDS, scored)}
    assert lines["used three sheets"].scored == scored[0]
    assert (lines["north eave fifteen two"].hearing, lines["north eave fifteen two"].weight) == (
        1,
        0,
    )
