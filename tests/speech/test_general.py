"""The general recognizer on short clips."""

import pickle
from pathlib import Path

import numpy as np
import pytest
from said import JOB, LINES, clip, plain

from joblog.model import Hearing, Vocabulary
from joblog.speech import Recognizer, SpeechError
from joblog.speech.general import GeneralRecognizer
from joblog.speech.recognizer import RATE, Scorer

GENERAL = GeneralRecognizer()
NEAR = ("north wall seven and seven eighths heavy", "south eave seven and three eighths light")
"""Further and further from the line "measure"."""


def heard(name: str, start: float = 0.0) -> tuple[Hearing, Hearing]:
    free, constrained = GENERAL.hear(clip(name), JOB, start)
    return free, constrained


def score(name: str, *lines: str) -> list[float]:
    scores = GENERAL.score(clip(name), lines, JOB)
    assert all(one is not None and one < 0 for one in scores)
    return [one for one in scores if one is not None]


def test_it_is_a_recognizer_that_scores() -> None:
    assert isinstance(GENERAL, Recognizer)
    assert isinstance(GENERAL, Scorer)


def test_the_free_hearing_reads_a_note() -> None:
    free, _ = heard("note")
    assert plain(free.text) == LINES["note"]


@pytest.mark.parametrize("name", ["measure", "used"])
def test_the_constrained_hearing_reads_a_trade_phrase(name: str) -> None:
    _, constrained = heard(name)
    assert plain(constrained.text) == LINES[name]


def test_each_hearing_says_how_it_was_heard() -> None:
    assert [hearing.recognizer for hearing in heard("used")] == [
        "general free",
        "general constrained",
    ]


def test_a_note_is_surer_when_heard_freely() -> None:
    free, constrained = heard("note")
    assert constrained.confidence < 0.2 < 0.7 < free.confidence


def test_a_trade_phrase_is_heard_freely_too_and_both_are_sure() -> None:
    free, constrained = heard("used")
    assert free.text == constrained.text == LINES["used"]
    assert 0.5 < free.confidence == constrained.confidence


@pytest.mark.parametrize("name", ["measure", "used", "note"])
def test_log_probabilities_are_those_of_the_whole_softmax(name: str) -> None:
    free, constrained = heard(name)
    logs = [line.log_probability for line in (*free.alternatives, *constrained.alternatives)]
    assert max(logs) < 0
    assert free.alternatives[0].log_probability >= constrained.alternatives[0].log_probability


@pytest.mark.parametrize("name", ["measure", "used", "note"])
def test_no_two_alternatives_say_the_same(name: str) -> None:
    for hearing in heard(name):
        said = [plain(line.text).replace(" ", "") for line in hearing.alternatives]
        assert hearing.alternatives[0].text == hearing.text
        assert len(set(said)) == len(said)


def test_a_note_that_could_be_spelled_in_two_ways_has_alternatives() -> None:
    free, _ = heard("note")
    assert len(free.alternatives) > 1


def test_words_make_up_the_text_and_follow_one_another_inside_the_clip() -> None:
    for hearing in heard("measure"):
        times = [time for word in hearing.words for time in (word.start, word.end)]
        assert " ".join(word.text for word in hearing.words) == hearing.text
        assert times == sorted(times)
        assert 0 <= times[0] < times[-1] <= len(clip("measure")) / RATE


def test_times_count_from_the_start_that_is_given() -> None:
    early, late = heard("used")[1].words, heard("used", start=100.0)[1].words
    assert [word.start + 100 for word in early] == pytest.approx([word.start for word in late])


@pytest.mark.parametrize("loudness", [0.0, 0.001, 0.1])
def test_sound_without_speech_is_silent_or_unsure(loudness: float) -> None:
    hiss = np.random.default_rng(1).standard_normal(2 * RATE).astype(np.float32)
    for hearing in GENERAL.hear(hiss * np.float32(loudness), JOB):
        assert hearing.confidence < 0.5


def test_a_sound_too_short_to_hold_a_word_is_heard_without_a_word_being_sure() -> None:
    for hearing in GENERAL.hear(np.zeros(10, np.float32), JOB):
        assert hearing.confidence < 0.3


def test_only_the_words_that_are_asked_for_are_heard() -> None:
    recognizer = GeneralRecognizer(only=LINES["digits"].split())
    _, constrained = recognizer.hear(clip("digits"), Vocabulary())
    _, misled = recognizer.hear(clip("used"), Vocabulary())
    assert plain(constrained.text) == LINES["digits"]
    assert set(plain(misled.text).split()) <= {"three", "nine", "four", "3", "9", "4"}


@pytest.mark.parametrize("name", LINES)
def test_a_line_is_scored_as_the_search_did_that_found_it(name: str) -> None:
    """But for numbers that rounding to 8 bits moves."""
    free, _ = heard(name)
    found = [line.log_probability for line in free.alternatives]
    scores = score(name, *(line.text for line in free.alternatives))
    assert scores == pytest.approx(found, abs=0.1)


@pytest.mark.parametrize("name", LINES)
def test_a_line_that_the_search_cut_in_an_odd_way_is_scored_no_lower(name: str) -> None:
    _, constrained = heard(name)
    scores = score(name, *(line.text for line in constrained.alternatives))
    for line, scored in zip(constrained.alternatives, scores, strict=True):
        assert scored > line.log_probability - 0.5


def test_what_was_said_is_likelier_than_what_sounds_much_like_it() -> None:
    said, other, another = score("measure", LINES["measure"], *NEAR)
    assert said > other > another


def test_the_score_of_a_line_does_not_depend_on_the_others() -> None:
    alone = score("measure", LINES["measure"])
    among = score("measure", *NEAR, LINES["measure"], "", *["north wall"] * 40)
    assert among[2] == pytest.approx(alone[0], abs=0.1)


def test_the_same_line_is_scored_alike_in_capitals_with_a_hyphen_and_in_figures() -> None:
    plainly, *others = score("digits", "three nine four", "Three Nine Four", "three-nine 4")
    assert others == [plainly, plainly]


def test_a_line_of_strange_letters_has_no_score_and_does_not_harm_the_others() -> None:
    strange, said = GENERAL.score(clip("note"), ["naïve", LINES["note"]], JOB)
    assert strange is None
    assert said is not None and said > -2


def test_that_nothing_was_said_is_scored_too() -> None:
    nothing, said = score("note", "", LINES["note"])
    assert nothing < said


def test_no_line_no_score() -> None:
    assert GENERAL.score(clip("digits"), [], JOB) == ()


def test_another_sound_of_the_same_length_is_scored_anew() -> None:
    before = score("digits", LINES["digits"])
    (other,) = GENERAL.score(clip("digits")[::-1].copy(), [LINES["digits"]], JOB)
    assert other is not None and other < before[0] - 1


def test_it_can_be_sent_to_another_process_after_it_has_heard() -> None:
    before = heard("digits")
    again = pickle.loads(pickle.dumps(GENERAL))
    assert again.hear(clip("digits"), JOB) == before


def test_a_folder_without_a_model_is_named(tmp_path: Path) -> None:
    with pytest.raises(SpeechError, match="holds no general speech model") as failure:
        GeneralRecognizer(tmp_path).hear(clip("digits"), JOB)
    assert str(tmp_path) in str(failure.value)
