"""Lines put together from what two recognizers heard, and what speaks for a meaning."""

from functools import partial

from hypothesis import given
from hypothesis import strategies as st

from joblog.dictation import best, read
from joblog.dictation.grammar import known_words
from joblog.dictation.hypotheses import hypotheses_of
from joblog.dictation.weigh import likelihoods, meanings_of
from joblog.model import Hearing, Plan, Word
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
