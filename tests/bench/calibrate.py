"""Fits which meaning to choose and how sure to be of it, and shows how far that can be believed.

    python -m tests.bench.calibrate [--phrases N]

Needs the hearings that `python -m tests.bench.yardstick --hear` keeps. Fits on the open half of the
corpus, clean and in noise, said by the voices that our recognizer was not trained on, as no user's
was, and prints the weights for `joblog/dictation/confidence.py`. What it then shows is judged on
phrases that were left out of the fit, a third of them at a time: how often the chosen meaning is
exact, the reliability table (of the entries shown as so sure, how many are right), and what asking
below each confidence costs: utterances with a doubt, wrong ones without one ("silent"; "wrong"
leaves out a wrong place), doubts on what was exact and plain ("needless").
"""

from __future__ import annotations

import argparse
import hashlib
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from joblog.dictation import read
from joblog.dictation.choose import evidence_of, standing
from joblog.dictation.confidence import WEIGHTS, signs_of
from joblog.dictation.weigh import Meaning, likelihoods, meanings_of
from joblog.form import entry_to_json
from joblog.model import Entry, Vocabulary
from tests.bench.corpus import Phrase, exact, same_but_for_place, words
from tests.bench.spoken import Spoken, load_hearings, mixed
from tests.bench.trade_model import UNSEEN

Numbers = NDArray[np.float64]

FOLDS = 3
RIDGE = 1.0
BINS = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.97, 0.99, 1.0)
ASKED_BELOW = (0.0, 0.8, 0.85, 0.9, 0.93, 0.95, 0.96, 0.97)


@dataclass(frozen=True)
class Case:
    """One utterance with everything it may mean, and which of that is what was said."""

    spoken: Spoken
    meanings: list[Meaning]
    right: Numbers
    """1 for each meaning that is exact."""


@dataclass(frozen=True)
class Outcome:
    """What became of a case."""

    snr: float | None
    plain: bool
    """Whether a careful person would not want to be asked."""
    exact: bool
    but_the_place: bool
    asks: bool
    """Whether the words themselves leave a doubt."""
    sure: tuple[float, ...]
    right: tuple[bool, ...]


def main() -> None:
    arguments = argparse.ArgumentParser("tests.bench.calibrate", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--phrases", type=int, help="a fair sample of so many phrases")
    cases = _cases(arguments.parse_args().phrases)
    choice = _fit_choice(cases)
    print("CHOICE =", tuple(round(float(weight), 2) for weight in choice))
    evidence: list[list[tuple[Numbers, Outcome]]] = []
    for fold in range(FOLDS):
        weights = _fit_choice([case for case in cases if _fold(case) != fold])
        evidence.append([_weighed(case, weights) for case in cases if _fold(case) == fold])
    every = [one for part in evidence for one in part]
    print("WEIGHTS =", tuple(round(float(weight), 2) for weight in _fit_calibration(every)))
    outcomes: list[Outcome] = []
    for fold, part in enumerate(evidence):
        weights = _fit_calibration(
            [one for at in range(FOLDS) if at != fold for one in evidence[at]]
        )
        outcomes += [
            replace(outcome, sure=tuple(1 / (1 + np.exp(-signs @ weights))))
            for signs, outcome in part
        ]
    _print_reliability(outcomes)
    _print_costs(outcomes)


def _cases(count: int | None) -> list[Case]:
    spoken = [
        one for one in load_hearings("open") if len(one.stretches) == 1 and one.voice in UNSEEN
    ]
    if count is not None:
        wanted = {
            one.text
            for one in mixed({one.phrase.text: one.phrase for one in spoken}.values())[:count]
        }
        spoken = [one for one in spoken if one.phrase.text in wanted]
    with ProcessPoolExecutor(2) as pool:
        cases = list(pool.map(_case, spoken, chunksize=64))
    return [case for case in cases if case.meanings]


def _case(spoken: Spoken) -> Case:
    reader = partial(read, vocabulary=_vocabulary(), context=spoken.phrase.context)
    meanings = meanings_of(spoken.stretches[0], reader, _vocabulary())
    right = [float(exact(spoken.phrase, meaning.reading)) for meaning in meanings]
    return Case(spoken, meanings, np.array(right))


@cache
def _vocabulary() -> Vocabulary:
    return words()


def _fold(case: Case) -> int:
    return hashlib.sha256(case.spoken.phrase.text.encode()).digest()[-1] % FOLDS


# --- fitting ----------------------------------------------------------------------------------


def _fit_choice(cases: Sequence[Case]) -> Numbers:
    """A conditional logit in which any exact meaning is right: expectation and Newton steps."""
    held = [case for case in cases if case.right.any()]
    signs = np.array([meaning.signs for case in held for meaning in case.meanings])
    right = np.concatenate([case.right for case in held])
    starts = np.cumsum([0, *(len(case.meanings) for case in held[:-1])])
    whose = np.repeat(np.arange(len(held)), [len(case.meanings) for case in held])
    spread = signs.std(axis=0)
    spread[spread == 0] = 1.0
    scaled = signs / spread
    weights = np.zeros(signs.shape[1])
    for _ in range(40):
        score = scaled @ weights
        raised = np.exp(score - np.maximum.reduceat(score, starts)[whose])
        likely = raised / np.add.reduceat(raised, starts)[whose]
        meant = likely * right
        meant /= np.add.reduceat(meant, starts)[whose] + 1e-12
        means = np.add.reduceat(scaled * likely[:, None], starts)
        slope = scaled.T @ (meant - likely) - RIDGE * weights
        curve = (scaled * likely[:, None]).T @ scaled - means.T @ means
        weights = weights + np.linalg.solve(curve + RIDGE * np.eye(len(weights)), slope)
    return np.asarray(weights / spread)


def _fit_calibration(weighed: Sequence[tuple[Numbers, Outcome]]) -> Numbers:
    """Newton's method on the penalised likelihood of a logistic regression.

    An entry counts as right where the whole utterance is, but for places: what is missing beside
    an entry has no entry of its own to doubt.
    """
    signs = np.concatenate([one for one, _ in weighed])
    right = np.concatenate([np.full(len(one), float(what.but_the_place)) for one, what in weighed])
    spread = signs.std(axis=0)
    spread[spread == 0] = 1.0
    scaled = signs / spread
    weights = np.zeros(signs.shape[1])
    penalty = RIDGE * np.eye(len(weights))
    penalty[0, 0] = 0.0
    for _ in range(30):
        sure = 1 / (1 + np.exp(-scaled @ weights))
        slope = scaled.T @ (right - sure) - penalty @ weights
        curve = (scaled * (sure * (1 - sure))[:, None]).T @ scaled + penalty
        weights = weights + np.linalg.solve(curve, slope)
    return np.asarray(weights / spread)


def _weighed(case: Case, choice: Numbers) -> tuple[Numbers, Outcome]:
    likely = likelihoods(case.meanings, [float(weight) for weight in choice])
    chosen = standing(case.meanings, likely)
    phrase, reading = case.spoken.phrase, chosen.reading
    signs = [
        signs_of(evidence_of(at, chosen, case.meanings, likely))
        for at in range(len(reading.entries))
    ]
    whole = exact(phrase, reading)
    anywhere = frozenset(f"{at}.place" for at in range(len(phrase.entries)))
    outcome = Outcome(
        case.spoken.snr,
        phrase.doubt is False,
        whole,
        exact(replace(phrase, free=phrase.free | anywhere), reading),
        bool(reading.doubts),
        (),
        tuple(whole or _is_wanted(entry, phrase) for entry in reading.entries),
    )
    return np.array(signs).reshape(len(signs), len(WEIGHTS)), outcome


def _is_wanted(entry: Entry, phrase: Phrase) -> bool:
    return any(same_but_for_place(wanted, entry_to_json(entry)) for wanted in phrase.entries)


# --- what it is worth -------------------------------------------------------------------------


def _print_reliability(outcomes: Sequence[Outcome]) -> None:
    pairs = [pair for one in outcomes for pair in zip(one.sure, one.right, strict=True)]
    sure, right = np.array([one for one, _ in pairs]), np.array([two for _, two in pairs])
    print(f"\nreliability, {len(pairs)} entries of phrases left out of the fit")
    print(f"{'shown as':14}{'entries':>9}{'shown':>8}{'right':>8}")
    for low, high in pairwise(BINS):
        held = (sure >= low) & (sure < high if high < 1 else sure <= high)
        if held.any():
            shown, share = sure[held].mean(), right[held].mean()
            print(f"{low:.2f} to {high:.2f}  {held.sum():9}{shown:8.1%}{share:8.1%}")


def _print_costs(outcomes: Sequence[Outcome]) -> None:
    print(
        f"\n{'noise':8}{'asked below':>12}{'exact':>8}{'doubt':>8}{'silent':>8}{'wrong':>8}"
        f"{'needless':>10}"
    )
    for level in sorted({one.snr for one in outcomes}, key=lambda snr: -(snr or 999)):
        mine = [one for one in outcomes if one.snr == level]
        for below in ASKED_BELOW:
            shares = "".join(
                f"{sum(counted) / len(mine):{width}.1%}"
                for counted, width in zip(_counts(mine, below), (8, 8, 8, 8, 10), strict=True)
            )
            name = "clean" if level is None else f"{level:.0f} dB"
            print(f"{name:8}{below:12.2f}{shares}")


def _counts(outcomes: Sequence[Outcome], below: float) -> Iterator[list[bool]]:
    asked = [one.asks or min(one.sure, default=0.0) < below for one in outcomes]
    both = list(zip(outcomes, asked, strict=True))
    yield [one.exact for one in outcomes]
    yield asked
    yield [not one.exact and not doubted for one, doubted in both]
    yield [not one.but_the_place and not doubted for one, doubted in both]
    yield [one.exact and one.plain and doubted for one, doubted in both]


if __name__ == "__main__":
    main()
