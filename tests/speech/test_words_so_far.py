"""Words while they are said, by the trade recognizer that listens along."""

import numpy as np
import pytest
from said import LINES, clip

from joblog.model import UNHEARD
from joblog.speech import SpeechError
from joblog.speech.recognizer import RATE
from joblog.speech.streaming import WordsSoFar

BLOCK = RATE // 10
SILENCE = np.zeros(2 * RATE, np.float32)


@pytest.fixture(scope="module")
def listening() -> WordsSoFar:
    return WordsSoFar()


@pytest.fixture
def words(listening: WordsSoFar) -> WordsSoFar:
    listening.begin()
    return listening


def shown(words: WordsSoFar, sound: np.ndarray) -> list[str]:
    """What is shown after every tenth of a second."""
    return [words.feed(sound[at : at + BLOCK]) for at in range(0, len(sound), BLOCK)]


@pytest.mark.parametrize("name", ["measure", "used"])
def test_words_are_shown_while_they_are_said(words: WordsSoFar, name: str) -> None:
    came = shown(words, clip(name))
    assert came[0] == ""
    lengths = [len(line.split()) for line in dict.fromkeys(came)]
    assert len(lengths) >= 2
    assert lengths == sorted(lengths)
    assert LINES[name].startswith(came[-1])
    assert 2 * lengths[-1] >= len(LINES[name].split())


def test_with_the_silence_after_it_all_of_it_is_there_and_it_is_over(words: WordsSoFar) -> None:
    shown(words, clip("measure"))
    assert not words.ended
    came = shown(words, SILENCE)
    assert came[-1] == LINES["measure"]
    assert words.ended


def test_one_who_goes_on_is_not_over_and_what_was_before_stays(words: WordsSoFar) -> None:
    shown(words, np.concatenate([clip("measure"), SILENCE]))
    ended = []
    for at in range(0, len(clip("used")), BLOCK):
        line = words.feed(clip("used")[at : at + BLOCK])
        assert line.startswith(LINES["measure"])
        ended.append((len(line) > len(LINES["measure"]), words.ended))
    assert (True, False) in ended
    assert (True, True) not in ended
    assert shown(words, SILENCE)[-1] == f"{LINES['measure']} {LINES['used']}"


def test_the_next_utterance_begins_with_nothing(words: WordsSoFar) -> None:
    shown(words, np.concatenate([clip("used"), SILENCE]))
    words.begin()
    assert not words.ended
    came = shown(words, np.concatenate([clip("measure"), SILENCE]))
    assert came[0] == ""
    assert came[-1] == LINES["measure"]


def test_an_utterance_that_was_broken_off_leaves_nothing_behind(words: WordsSoFar) -> None:
    shown(words, clip("measure"))
    words.begin()
    assert shown(words, np.concatenate([clip("used"), SILENCE]))[-1] == LINES["used"]


def test_silence_is_no_word_and_is_never_over(words: WordsSoFar) -> None:
    assert set(shown(words, np.concatenate([SILENCE, SILENCE]))) == {""}
    assert not words.ended


def test_what_no_word_is_known_for_is_shown_as_unheard(words: WordsSoFar) -> None:
    came = shown(words, np.concatenate([clip("note"), SILENCE]))
    assert "[unk]" not in came[-1]
    assert UNHEARD in came[-1]


def test_without_a_model_one_is_told_so() -> None:
    with pytest.raises(SpeechError):
        WordsSoFar("no-such-folder")
