"""What speaks for an entry, in numbers that stay within bounds."""

from dataclasses import replace

import pytest

from joblog.dictation.confidence import WEIGHTS, Evidence, confidence, signs_of

EVIDENCE = Evidence(
    meaning=0.5,
    fact=0.5,
    everyone=True,
    sure=(0.9, 0.9, 0.9),
    kept=(1.0, 1.0, 1.0),
    doubts=False,
    unread=0,
    note=False,
    measure=False,
    several=False,
)
UNREAD = 11
"""Where the words that belong to no entry stand among the signs."""


def test_each_sign_has_its_weight() -> None:
    assert len(signs_of(EVIDENCE)) == len(WEIGHTS)


def test_signs_stand_in_the_order_of_their_weights() -> None:
    evidence = replace(
        EVIDENCE, sure=(0.1, 0.2, 0.3), kept=(0.4, 0.5, 0.6), unread=2, note=True, several=True
    )
    even = pytest.approx(0.0, abs=1e-3)
    assert signs_of(evidence) == (
        1.0, even, even, 1.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.0, 2.0, 1.0, 0.0, 1.0,
    )  # fmt: skip


def test_more_than_four_unread_words_say_no_more_than_four() -> None:
    assert [signs_of(replace(EVIDENCE, unread=n))[UNREAD] for n in (3, 4, 5, 99)] == [3, 4, 4, 4]


@pytest.mark.parametrize(("meaning", "sign"), [(0.0, -8.0), (1e-9, -8.0), (1.0, 8.0)])
def test_what_is_impossible_or_certain_is_a_bounded_sign(meaning: float, sign: float) -> None:
    assert signs_of(replace(EVIDENCE, meaning=meaning))[1] == sign


def test_what_nobody_heard_and_nobody_kept_is_hardly_sure() -> None:
    nothing = replace(
        EVIDENCE, meaning=0.01, fact=0.01, everyone=False, sure=(0.0,) * 3, kept=(0.0,) * 3
    )
    assert 0 < confidence(nothing) < 0.1 < 0.9 < confidence(EVIDENCE) < 1
