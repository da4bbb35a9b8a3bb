"""What is said for training, and by whom it is made up to be said."""

import random
from collections import Counter
from importlib.util import find_spec
from itertools import islice

import pytest

from joblog.speech.training.lexicon import lexicon
from joblog.speech.training.synthesize import A_PACK, ALONE, _habits, plan
from joblog.speech.training.text import lone_numbers
from joblog.speech.training.voices import FOREIGN_SHARE, VOICES

WITHOUT = pytest.mark.skipif(find_spec("pocketsphinx") is None, reason="needs the extra train")


@WITHOUT
def test_every_sixth_pack_says_words_of_numbers_alone():
    packs = list(plan(1.6, ["flite"]))
    assert len(packs) >= 2 * ALONE
    for number, pack in enumerate(packs):
        kinds = {line["kind"] for line in pack.lines}
        assert len(pack.lines) == A_PACK
        assert (kinds == {"alone"}) == (number % ALONE == ALONE - 1)


@WITHOUT
def test_lone_words_are_known_and_mostly_digits():
    words = Counter(line.text for line in islice(lone_numbers(4), 4000))
    assert words.keys() <= lexicon().pronunciations.keys()
    digits = "zero one two three four five six seven eight nine oh".split()
    assert sum(words[digit] for digit in digits) / 4000 == pytest.approx(0.55, abs=0.03)
    assert {"eighth", "sixteenths", "hundred", "thirteen", "thirty"} <= words.keys()


def test_one_made_speaker_in_five_comes_from_elsewhere():
    tables = [_habits(random.Random(seed)) for seed in range(2000)]
    assert sum(map(bool, tables)) / 2000 == pytest.approx(FOREIGN_SHARE, abs=0.03)
    assert {"θɹˈi".translate(table) for table in tables} == {"θɹˈi", "sɹˈi", "tɹˈi", "fɹˈi"}


def test_the_voices_that_test_have_no_share_in_training():
    assert {voice.engine for voice in VOICES if not voice.share} == {
        "festival", "piper", "pico", "gnuspeech"
    }  # fmt: skip
    assert sum(voice.share for voice in VOICES) == pytest.approx(1.0)
