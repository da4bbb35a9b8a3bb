"""What is speech and what is music, as far as two recognizers show."""

import pytest

from joblog.model import Hearing
from joblog.speech.nothing import is_speech


def heard(trade: str, free: str, along: str = "") -> list[Hearing]:
    return [
        Hearing("trade", trade),
        Hearing("general free", free),
        Hearing("general constrained", along),
    ]


# Heard by these two in sung vowels over chords (`tests.bench.edges`).
@pytest.mark.parametrize(
    ("trade", "free", "along", "seconds"),
    [
        ("eighty", "Thank you for watching!", "Thank you.", 2.9),
        ("the", "You", "You", 1.8),
        ("", "Mm-hmm,", "You", 0.8),
        ("are", "Uh?", "You.", 1.8),
        ("a the other", "♪ ♪", "I'm here. I'm here.", 5.6),
    ],
)
def test_song_in_which_both_find_no_words_is_no_speech(
    trade: str, free: str, along: str, seconds: float
) -> None:
    assert not is_speech(heard(trade, free, along), seconds)


def test_what_only_one_of_them_finds_no_words_in_is_kept() -> None:
    assert is_speech(heard("used nine panels", "Thank you.", "thank you"), 1.9)
    assert is_speech(heard("", "we should talk about the price", "we should"), 2.5)


def test_one_word_that_means_something_is_kept() -> None:
    assert is_speech(heard("nine", "Nine.", "nine"), 1.0)
    assert is_speech(heard("", "Nine.", "nine"), 1.0)


def test_one_word_in_a_long_stretch_is_kept() -> None:
    assert is_speech(heard("", "Nine.", "nine"), 4.0)
    assert is_speech(heard("nine", ""), 4.0)
    assert is_speech(heard("a", "Nine."), 4.0)


def test_thanks_that_both_of_them_hear_are_words() -> None:
    assert is_speech(heard("thank you", "Thank you.", "Thank you."), 1.1)


def test_speech_that_the_trade_knows_no_word_for_is_speech() -> None:
    assert is_speech(heard("…", "Thank you.", "Thank you."), 1.1)


def test_saying_a_word_twice_is_speech() -> None:
    assert is_speech(heard("the", "No, no.", "no no"), 1.2)


def test_going_round_in_circles_is_no_speech() -> None:
    assert not is_speech(heard("a", "I'm here. I'm here. I'm here.", "i'm here"), 3.0)


def test_one_recognizer_alone_is_believed() -> None:
    assert is_speech([Hearing("trade", "you")], 2.0)
    assert not is_speech([Hearing("trade", "")], 2.0)
