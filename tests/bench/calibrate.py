"""Fits the confidence of entries to spoken phrases, and shows how far it can be believed.

    python -m tests.bench.calibrate

Needs the hearings that `python -m tests.bench.yardstick --hear` keeps. Fits on the open half of
the corpus, prints the weights for `joblog/dictation/confidence.py`, and the reliability of the
weights that stand there on both halves: of the entries shown as so sure, how many are right.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

import numpy as np

from joblog.dictation import choose, read
from joblog.dictation.confidence import Evidence, confidence, signs_of
from joblog.form import entry_to_json
from tests.bench.corpus import same_but_for_place, words
from tests.bench.spoken import Spoken, load_hearings

RIDGE = 0.5
BINS = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.97, 0.99, 1.0)


def main() -> None:
    halves = {half: list(_entries(load_hearings(half))) for half in ("open", "held")}
    print("weights:", tuple(round(float(weight), 2) for weight in _fit(halves["open"])))
    for half, entries in halves.items():
        print(f"\n{half} half, {len(entries)} entries that hold a number, item or time")
        print(f"{'shown as':14}{'entries':>9}{'right':>8}{'shown':>8}")
        sure = np.array([confidence(evidence) for evidence, _ in entries])
        right = np.array([correct for _, correct in entries])
        for low, high in pairwise(BINS):
            held = (sure >= low) & (sure < high if high < 1 else sure <= high)
            if held.any():
                print(
                    f"{low:.2f} to {high:.2f}  {held.sum():9}{right[held].mean():8.1%}"
                    f"{sure[held].mean():8.1%}"
                )


def _entries(spoken: list[Spoken]) -> Iterator[tuple[Evidence, bool]]:
    vocabulary = words()
    for one in spoken:
        reader = partial(read, vocabulary=vocabulary, context=one.phrase.context)
        for hearings in one.stretches if len(one.stretches) == 1 else []:
            lines = choose.lines_of(hearings, reader, vocabulary)
            if not lines:
                continue
            chosen = choose.standing(lines, vocabulary)
            for at, entry in enumerate(chosen.reading.entries):
                if entry.kind == "note":
                    continue
                found = entry_to_json(entry)
                right = any(same_but_for_place(wanted, found) for wanted in one.phrase.entries)
                yield choose.evidence_of(at, chosen, lines, vocabulary), right


def _fit(entries: list[tuple[Evidence, bool]]) -> np.ndarray:
    """Newton's method on the penalised likelihood of a logistic regression."""
    signs = np.array([signs_of(evidence) for evidence, _ in entries])
    right = np.array([float(correct) for _, correct in entries])
    weights = np.zeros(signs.shape[1])
    penalty = RIDGE * np.eye(len(weights))
    penalty[0, 0] = 0.0
    for _ in range(30):
        sure = 1 / (1 + np.exp(-signs @ weights))
        slope = signs.T @ (right - sure) - penalty @ weights
        curve = (signs * (sure * (1 - sure))[:, None]).T @ signs + penalty
        weights = weights + np.linalg.solve(curve, slope)
    return weights


if __name__ == "__main__":
    main()
