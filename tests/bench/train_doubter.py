"""Learns what an utterance holds from its words alone, and which readings are odd, for
`joblog/dictation/doubter.py`.

    python -m tests.bench.train_doubter [--cross] [--show]

Learns from the practice phrases and conversations, the open halves of both, and what the grammar
generates, and writes `joblog/dictation/doubter.json`. What is odd is learned from readings whose
words were scored by what was learned without them. With `--cross` it writes nothing, but prints,
for some thresholds, how many silent errors of what was left out would be asked about and how many
right readings disturbed, whole speakers being left out at a time; `--show` lists those.
"""

from __future__ import annotations

import argparse
import json
import random
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from joblog.dictation import Context, after, doubter
from joblog.dictation.doubter import ALWAYS, NAMES, Opinion, held_by, rows_of
from joblog.dictation.generate import derivations
from joblog.dictation.pieces import pieces_of
from joblog.dictation.read import doubted_by, heard, said_in, understand
from joblog.dictation.signs import Heard
from joblog.dictation.words import marked_words
from joblog.form import entry_from_json
from joblog.model import Reading, Vocabulary
from tests.bench.corpus import Phrase, exact, phrases, practice, site, words
from tests.bench.corpus.conversations import Talk, judged, practice_talks, stands_of, talks
from tests.bench.walks import context_of, walks

FILE = Path(doubter.__file__).with_name(doubter.FILE)
GENERATED = ((False, 3000), (True, 1500))
"""Sentences generated for each of the two jobs, in likely and in all ways."""
COUNTS = {"generated": 0.3, "phrase": 1.0, "talk": 3.0}
"""What each counts: of conversations there are fewest, and they are the most like a job."""
PENALTY = 3.0
"""Half of it times the sum of the squared weights is added to the loss."""
LEAST = 0.1
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
    rows: frozenset[str]
    held: frozenset[str]
    unknown: frozenset[str] = frozenset()
    fold: int = -1
    """With which others it is left out; -1 for what never is."""


NOTHING = Heard((), (), ())


@dataclass(frozen=True)
class Read:
    """How an utterance is read before it is doubted by what is learned here."""

    source: str
    kind: str
    text: str
    fold: int
    asked: bool
    silent: bool | None
    """Strictly: something wrong is in no doubt, and would be if all of it were. None where nobody
    knows in which line of a conversation."""
    heard: Heard = NOTHING
    signs: frozenset[str] = frozenset()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--cross", action="store_true")
    parser.add_argument("--show", action="store_true")
    asked = parser.parse_args()
    examples = [*_phrases(), *_walks(), *_talk(), *_generated()]
    readings = [*_read_phrases(), *_read_talk()]
    every = [*_read_at_first()]
    for fold in range(FOLDS):
        opinion = _opinion_of([one for one in examples if one.fold != fold])
        every += [
            replace(one, signs=opinion.signs(one.heard)) for one in readings if one.fold == fold
        ]
    if asked.cross or asked.show:
        _cross(every, asked.show)
        return
    opinion = _opinion_of(examples)
    shown = {
        "biases": opinion.biases,
        "scale": opinion.scale,
        "odd": _odd(every),
        "weights": opinion.weights,
    }
    text = json.dumps(shown, separators=(",", ":"))
    FILE.write_text(text + "\n", "utf-8")
    print(f"{len(opinion.weights)} rows of words in {len(text) // 1000} kB")


def _opinion_of(examples: Sequence[Example]) -> Opinion:
    """What the words of some examples tell, as small as it is kept."""
    kept = _kept(examples)
    weights, biases = _learned(examples, kept)
    scale = float(np.abs(weights).max()) / 127
    rounded = np.where(np.abs(weights) < LEAST, 0, np.round(weights / scale)).astype(int)
    return Opinion(
        tuple(round(float(bias), 3) for bias in biases),
        {
            row: [
                int(one)
                for name in np.flatnonzero(rounded[at])
                for one in (name, rounded[at, name])
            ]
            for row, at in kept.items()
            if rounded[at].any()
        },
        round(scale, 6),
    )


# --- what is learned from -----------------------------------------------------------------------


def _phrases() -> Iterator[Example]:
    vocabulary = words()
    for at, phrase in enumerate(_open_phrases()):
        free = {name.partition(".")[2] for name in phrase.free}
        yield Example(
            "phrase",
            _rows(phrase.text, vocabulary, phrase.context),
            held_by(map(entry_from_json, phrase.entries)),
            NEW | free,
            at % FOLDS,
        )


def _walks() -> Iterator[Example]:
    """What is told on a walk around a house. What is odd is not learned from it: nothing is, where
    every word of it is read."""
    vocabulary = words()
    for at, told in enumerate(walks("practice")):
        rows = _rows(told.text, vocabulary, context_of(told))
        yield Example("phrase", rows, held_by(told.entries), frozenset(("place",)), at % FOLDS)


def _open_phrases() -> list[Phrase]:
    return [*practice(), *(one for one in phrases() if not one.held_out)]


def _talk() -> Iterator[Example]:
    """Conversations of one line: of several nobody wrote down which line says what."""
    vocabulary = site.words()
    for talk, fold in _open_talks():
        if len(talk.lines) > 1:
            continue
        yield Example(
            "talk",
            _rows(talk.lines[0], vocabulary, Context(at=talk.at, place=talk.place)),
            held_by(map(entry_from_json, talk.entries)),
            frozenset(name.partition(".")[2] for name in talk.free),
            fold,
        )


def _open_talks() -> Iterator[tuple[Talk, int]]:
    """Conversations, each with its fold. In the practice file each speaker begins with what is
    plain: all that one of them says is left out at once."""
    speaker, before = 0, ""
    for talk in practice_talks():
        speaker += talk.kind == "plain" != before
        before = talk.kind
        yield talk, speaker % FOLDS
    for at, talk in enumerate(talks()):
        yield talk, at % FOLDS


def _read_phrases() -> Iterator[Read]:
    vocabulary = words()
    for at, phrase in enumerate(_open_phrases()):
        found = list(_heard(phrase.text, vocabulary, phrase.context))
        if len(found) == 1:
            [(read_as, reading)] = found
            # The old truths tell of the whole utterance only: where it is asked about, all of it.
            silent = None if reading.doubts else not exact(phrase, reading)
            yield Read("phrase", "phrase", phrase.text, at % FOLDS, read_as.asked, silent, read_as)


def _read_talk() -> Iterator[Read]:
    vocabulary = site.words()
    for talk, fold in _open_talks():
        context = Context(at=talk.at, place=talk.place)
        lines: list[tuple[Heard, Reading]] = []
        for line in talk.lines:
            found = list(_heard(line, vocabulary, context))
            if len(found) != 1:
                break
            lines += found
            context = after(context, found[0][1])
        else:
            whole = [reading for _, reading in lines]
            silent = _silent(talk, whole)
            mended = [
                at
                for at, one in enumerate(whole)
                if silent
                and not _silent(talk, [*whole[:at], doubted_by(one, "?"), *whole[at + 1 :]])
            ]
            for at, (read_as, _) in enumerate(lines):
                # What changes what was said is said last.
                last = at == max(mended, default=0 if len(lines) == 1 else -1)
                wrong = (True if last else None) if silent else False
                yield Read("talk", talk.kind, talk.lines[at], fold, read_as.asked, wrong, read_as)


def _read_at_first() -> Iterator[Read]:
    """The same conversations as they were read before the rules were built on them: so does talk
    go wrong that nobody has seen. First the names of the signs, then of each line its fold, its
    class, whether it was silent, whether it was asked about, and its signs."""
    names, *lines = map(json.loads, AT_FIRST.read_text("utf-8").splitlines())
    for fold, kind, silent, asked, signs in lines:
        there = frozenset(names[at] for at in signs)
        yield Read("at first", kind, "", fold, bool(asked), bool(silent), signs=there)


AT_FIRST = Path(__file__).parent / "corpus" / "odd_readings.jsonl"


def _silent(talk: Talk, readings: Sequence[Reading]) -> bool:
    standing = stands_of(list(zip(readings, talk.lines, strict=True)))
    return judged(talk, standing, site.words()).silent


def _heard(text: str, vocabulary: Vocabulary, context: Context) -> Iterator[tuple[Heard, Reading]]:
    """The pieces of an utterance as they were read before this second opinion."""
    for piece, _ in pieces_of(marked_words(text)):
        understood = understand(piece, vocabulary, context)
        if understood is not None:
            reading, stretches, score = understood
            own = [one for one in reading.doubts if not doubter.is_second_opinion(one.why)]
            reading = replace(reading, doubts=tuple(own))
            said = said_in(piece, vocabulary, context)
            yield heard(piece, said, reading, stretches, score), reading


def _generated() -> Iterator[Example]:
    for seed, vocabulary in enumerate((words(), site.words())):
        for evenly, count in GENERATED:
            found = derivations(vocabulary, random.Random(seed), evenly=evenly)
            for one in islice(found, count):
                if not one.reading.doubts:
                    held = held_by(one.reading.entries)
                    yield Example("generated", frozenset(rows_of(one.atoms)), held)


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


def _odd(every: Iterable[Read]) -> dict[str, int]:
    """What each sign weighs, in hundredths of log-odds that something wrong is in no doubt."""
    known = [one for one in every if one.silent is not None]
    counts = Counter(sign for one in known for sign in one.signs)
    names = sorted(sign for sign, count in counts.items() if count >= SELDOM_ODD)
    at = {name: number for number, name in enumerate(names)}
    cells = [(row, at[s]) for row, one in enumerate(known) for s in one.signs if s in at]
    rows, columns = zip(*cells, strict=True)
    there = csr_matrix((np.ones(len(rows)), (rows, columns)), shape=(len(known), len(names)))
    turned = there.T.tocsr()
    sign = np.array([1.0 if one.silent else -1.0 for one in known])
    share = np.array([ODD_COUNTS[one.source] for one in known])

    def loss(flat: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        margins = (there @ flat[:-1] + flat[-1]) * sign
        slope = -share * sign / (1 + np.exp(np.clip(margins, -30, 30)))
        total = share @ np.logaddexp(0, -margins) + ODD_PENALTY / 2 * flat[:-1] @ flat[:-1]
        inner = turned @ slope + ODD_PENALTY * flat[:-1]
        return float(total), np.append(inner, slope.sum())

    found = minimize(loss, np.zeros(len(names) + 1), jac=True, method="L-BFGS-B").x
    weights = {name: round(100 * weight) for name, weight in zip(names, found[:-1], strict=True)}
    return {ALWAYS: round(100 * found[-1])} | {n: weight for n, weight in weights.items() if weight}


SELDOM_ODD = 5
ODD_COUNTS = {"phrase": 0.2, "talk": 0.5, "at first": 1.0}
"""The rules were made for phrases and, by now, for most of the talk: little of it is wrong."""
ODD_PENALTY = 15.0

# --- how much it is worth -----------------------------------------------------------------------

FOLDS = 4
SURE = (-230, -210, -190, -170, -150, -130)
"""Hundredths of log-odds."""


def _cross(every: Sequence[Read], show: bool) -> None:
    over: list[tuple[int, Read]] = []
    for fold in range(FOLDS):
        weights = _odd(one for one in every if one.fold != fold)
        over += (
            (weights[ALWAYS] + sum(weights.get(sign, 0) for sign in one.signs), one)
            for one in every
            if one.fold == fold
        )
    print("caught+disturbed above", *SURE)
    sources = sorted({(one.source, one.kind) for one in every})
    for asked in (False, True):
        for source, kind in (*sources, ("talk", ""), ("at first", "")):
            mine = [
                (score, one)
                for score, one in over
                if one.source == source and kind in (one.kind, "") and one.asked == asked
            ]
            silent = sum(one.silent is True for _, one in mine)
            fine = sum(one.silent is False for _, one in mine)
            told = [
                f"{sum(one.silent is True and score > least for score, one in mine)}+"
                f"{sum(one.silent is False and score > least for score, one in mine)}"
                for least in SURE
            ]
            print(
                f"{'asked already' if asked else 'not asked yet'} {source} {kind or 'all':9} "
                f"of {silent}+{fine}: {' '.join(told)}"
            )
    if show:
        for score, one in sorted(over, key=lambda found: -found[0]):
            if one.source == "talk" and (score > min(SURE) or one.silent):
                print(f"{score:5} {'SILENT' if one.silent else ''} {one.kind}: {one.text}")


if __name__ == "__main__":
    main()
