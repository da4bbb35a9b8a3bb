"""Learns what an utterance holds from its words alone, for `joblog/dictation/doubter.py`.

    python -m tests.bench.train_doubter [--cross] [--show]

Learns from the practice phrases, the open halves of the phrases and of the conversations, and what
the grammar generates, and writes `joblog/dictation/doubter.json`. With `--cross` it writes nothing,
but learns four times from three quarters of them and prints, for some thresholds, how many silent
errors of the other quarters would be asked about and how many right readings disturbed; `--show`
lists those.
"""

from __future__ import annotations

import argparse
import itertools
import json
import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from joblog.dictation import Context, doubter, read
from joblog.dictation.doubter import NAMES, contradictions, held_by, rows_of
from joblog.dictation.generate import derivations
from joblog.dictation.read import said_in
from joblog.dictation.words import marked_words
from joblog.form import entry_from_json
from joblog.model import Reading, Vocabulary
from tests.bench.corpus import exact, phrases, practice, site, words
from tests.bench.corpus.conversations import judged, stands_after, talks

FILE = Path(doubter.__file__).with_name(doubter.FILE)
GENERATED = ((False, 3000), (True, 1500))
"""Sentences generated for each of the two jobs, in likely and in all ways."""
COUNTS = {"generated": 0.3, "phrase": 1.0, "talk": 3.0}
"""What each counts: of conversations there are fewest, and they are the most like a job."""
PENALTY = 3.0
"""Half of it times the sum of the squared weights is added to the loss."""
LEAST = 0.07
"""Weights below this are left out, for the size of the file."""
SELDOM = 2
NEW = frozenset(
    ["price", "miles"]
    + [f"kind {kind}" for kind in ("extra", "price", "expense", "drive", "inspection", "visit")]
)
"""What there was no word for when the old phrases were written."""


@dataclass(frozen=True)
class Example:
    """An utterance, what it holds, and what nobody knows of it."""

    source: str
    text: str
    rows: frozenset[str]
    held: frozenset[str]
    unknown: frozenset[str] = frozenset()
    found: frozenset[str] = frozenset()
    """What its reading holds."""
    doubted: bool = False
    right: bool = True
    silent: bool = False
    """Strictly: something wrong is in no doubt, whatever else is."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cross", action="store_true")
    parser.add_argument("--show", action="store_true")
    asked = parser.parse_args()
    said = [*_phrases(), *_talk()]
    made = list(_generated())
    if asked.cross:
        _cross(said, made, asked.show)
        return
    kept = _kept([*said, *made])
    weights, biases = _learned([*said, *made], kept)
    scale = float(np.abs(weights).max()) / 127
    rounded = np.where(np.abs(weights) < LEAST, 0, np.round(weights / scale)).astype(int)
    shown = {
        "biases": [round(float(bias), 3) for bias in biases],
        "scale": round(scale, 6),
        "weights": {
            row: [
                int(one)
                for name in np.flatnonzero(rounded[at])
                for one in (name, rounded[at, name])
            ]
            for row, at in kept.items()
            if rounded[at].any()
        },
    }
    text = json.dumps(shown, separators=(",", ":"))
    FILE.write_text(text + "\n", "utf-8")
    print(f"{len(shown['weights'])} rows of words in {len(text) // 1000} kB")  # type: ignore[arg-type]


# --- what is learned from -----------------------------------------------------------------------


def _phrases() -> Iterator[Example]:
    vocabulary = words()
    for phrase in (*practice(), *(one for one in phrases() if not one.held_out)):
        reading = read(phrase.text, vocabulary, phrase.context)
        free = {name.partition(".")[2] for name in phrase.free}
        yield Example(
            "phrase",
            phrase.text,
            _rows(phrase.text, vocabulary, phrase.context),
            held_by(map(entry_from_json, phrase.entries)),
            NEW | free,
            held_by(reading.entries),
            _doubted(reading),
            exact(phrase, reading),
            not exact(phrase, reading) and not _doubted(reading),
        )


def _talk() -> Iterator[Example]:
    """Conversations of one line: of several nobody wrote down which line says what."""
    vocabulary = site.words()
    for talk in talks():
        if len(talk.lines) > 1:
            continue
        context = Context(at=talk.at, place=talk.place)
        reading = read(talk.lines[0], vocabulary, context)
        judgement = judged(talk, stands_after(talk, vocabulary), vocabulary)
        yield Example(
            "talk",
            talk.lines[0],
            _rows(talk.lines[0], vocabulary, context),
            held_by(map(entry_from_json, talk.entries)),
            frozenset(name.partition(".")[2] for name in talk.free),
            held_by(reading.entries),
            _doubted(reading),
            judgement.right,
            judgement.silent,
        )


def _generated() -> Iterator[Example]:
    for seed, vocabulary in enumerate((words(), site.words())):
        for evenly, count in GENERATED:
            found = derivations(vocabulary, random.Random(seed), evenly=evenly)
            for one in islice(found, count):
                if not one.reading.doubts:
                    held = held_by(one.reading.entries)
                    yield Example("generated", one.text, frozenset(rows_of(one.atoms)), held)


def _doubted(reading: Reading) -> bool:
    """Whether it was asked about before this second opinion."""
    return any(not doubt.why.startswith(doubter.SAYS) for doubt in reading.doubts)


def _rows(text: str, vocabulary: Vocabulary, context: Context) -> frozenset[str]:
    return frozenset(rows_of(said_in(marked_words(text), vocabulary, context).atoms))


# --- learning -----------------------------------------------------------------------------------


def _kept(examples: Sequence[Example]) -> dict[str, int]:
    """Rows of words that are said more than once, each with its number."""
    counts = Counter(row for one in examples for row in one.rows)
    often = sorted(row for row, count in counts.items() if count >= SELDOM)
    return {row: at for at, row in enumerate(often)}


def _matrix(examples: Sequence[Example], kept: dict[str, int]) -> csr_matrix:
    where = [sorted(kept[row] for row in one.rows if row in kept) for one in examples]
    ends = np.cumsum([0, *map(len, where)])
    columns = np.concatenate([np.array(one, np.int64) for one in where])
    ones = np.ones(len(columns), np.float32)
    return csr_matrix((ones, columns, ends), shape=(len(examples), len(kept)))


def _learned(
    examples: Sequence[Example], kept: dict[str, int]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Weights and biases of one logistic regression a name, all fitted at once."""
    rows = _matrix(examples, kept)
    turned = rows.T.tocsr()
    sign = np.array([[1.0 if name in one.held else -1.0 for name in NAMES] for one in examples])
    share = np.array(
        [[COUNTS[one.source] * (name not in one.unknown) for name in NAMES] for one in examples]
    )
    sign, share = sign.astype(np.float32), share.astype(np.float32)
    size = len(kept) * len(NAMES)

    def loss(flat: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        weights = flat[:size].reshape(len(kept), len(NAMES)).astype(np.float32)
        margins = (rows @ weights + flat[size:].astype(np.float32)) * sign
        lost = share * np.logaddexp(0, -margins)
        slope = -share * sign / (1 + np.exp(np.clip(margins, -30, 30)))
        total = float(lost.sum()) + PENALTY / 2 * float((weights**2).sum())
        inner = (turned @ slope + PENALTY * weights).ravel()
        return total, np.concatenate([inner, slope.sum(0)]).astype(np.float64)

    start = np.zeros(size + len(NAMES))
    found = minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 60}).x
    return found[:size].reshape(len(kept), len(NAMES)), found[size:]


# --- how much it is worth -----------------------------------------------------------------------

FOLDS = 4
SURER = (-1.0, -0.5, 0.0, 0.5, 1.0)
"""Log-odds on top of what `contradictions` asks for."""


def _cross(said: Sequence[Example], made: Sequence[Example], show: bool) -> None:
    mixed = list(said)
    random.Random(0).shuffle(mixed)
    over: list[tuple[float, str, Example]] = []
    for fold in range(FOLDS):
        rest = [one for at, one in enumerate(mixed) if at % FOLDS != fold]
        kept = _kept([*rest, *made])
        weights, biases = _learned([*rest, *made], kept)
        weights = np.where(np.abs(weights) < LEAST, 0, weights)
        held_out = mixed[fold::FOLDS]
        scores = _matrix(held_out, kept) @ weights + biases
        for one, row in zip(held_out, scores, strict=True):
            found = contradictions(dict(zip(NAMES, map(float, row), strict=True)), one.found)
            why, most = max(found, key=lambda pair: pair[1], default=("", -9.0))
            over.append((most, why, one))
    for source, doubted in itertools.product(("phrase", "talk"), (False, True)):
        mine = [one for one in over if (one[2].source, one[2].doubted) == (source, doubted)]
        silent = sum(one.silent for _, _, one in mine)
        for surer in SURER:
            asked = [one for most, _, one in mine if most > surer]
            caught = sum(one.silent for one in asked)
            print(
                f"{source:7}{'asked already' if doubted else 'not asked yet':14} {surer:+.1f}  "
                f"caught {caught} of {silent}, disturbed {len(asked) - caught} of "
                f"{len(mine) - silent}"
            )
    if show:
        for most, why, one in sorted(over, key=lambda found: -found[0]):
            if most > min(SURER) or one.silent:
                print(f"{most:5.1f} {'SILENT' if one.silent else 'right'} {why}: {one.text}")


if __name__ == "__main__":
    main()
