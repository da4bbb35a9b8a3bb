"""What speaks for an entry, in numbers that stay within bounds."""

from dataclasses import replace

import pytest

from joblog.dictation.confidence import (
    MOST,
    WEIGHTS,
    Evidence,
    ScoredEvidence,
    confidence,
    signs_of,
)

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
SCORES = ScoredEvidence(
    margin=4.0, worst=0.5, trade=3.0, general=-2.0, untold=False, numbers=2, level=-25.0,
    above_noise=10.0,
)  # fmt: skip
HEARD = 15
"""How many signs there are of what was only heard."""
UNREAD = 11
"""Where the words that belong to no entry stand among the signs."""


def test_each_sign_has_its_weight() -> None:
    assert len(signs_of(EVIDENCE)) == len(WEIGHTS)


def test_signs_stand_in_the_order_of_their_weights() -> None:
    evidence = replace(
        EVIDENCE, sure=(0.1, 0.2, 0.3), kept=(0.4, 0.5, 0.6), unread=2, note=True, several=True
    )
    even = pytest.approx(0.0, abs=1e-3)
    assert signs_of(evidence)[:HEARD] == (
        1.0, even, even, 1.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.0, 2.0, 1.0, 0.0, 1.0,
    )  # fmt: skip


def test_where_nothing_was_scored_only_the_signs_of_what_was_heard_count() -> None:
    assert not any(signs_of(EVIDENCE)[HEARD:])


def test_where_lines_were_scored_all_signs_have_weights_of_their_own() -> None:
    signs = signs_of(replace(EVIDENCE, scores=SCORES))
    assert not any(signs[:HEARD])
    assert signs[HEARD : 2 * HEARD] == signs_of(EVIDENCE)[:HEARD]
    even = pytest.approx(0.0, abs=1e-3)
    assert signs[2 * HEARD :] == (4.0, even, 3.0, -2.0, -2.0, 0.0, 2.0, 0.0, -2.0)


def test_a_lead_beyond_all_doubt_says_no_more_than_a_great_one() -> None:
    far = replace(SCORES, margin=99.0, trade=99.0, general=-99.0)
    signs = signs_of(replace(EVIDENCE, scores=far))[2 * HEARD :]
    assert signs[:5] == (MOST, pytest.approx(0.0, abs=1e-3), MOST, -MOST, -MOST)


def test_a_voice_that_nobody_measured_counts_as_a_usual_one() -> None:
    unmeasured = replace(SCORES, level=None, above_noise=None)
    assert signs_of(replace(EVIDENCE, scores=unmeasured))[-2:] == (0.0, 0.0)


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
