"""Learns what the features of a reading weigh, from phrases whose entries are known.

    python -m tests.bench.weigh             how well weights learned on some phrases read others
    python -m tests.bench.weigh --write     learns from all of them and writes `weights.py`

An utterance can be taken apart in many ways; each is a candidate, and which of them come to the
entries that a careful person wrote down is known (which stretches he had in mind is not: latent
derivations). The weights make the right ones likely among all: a log-linear model, trained by
conditional likelihood with the mistakes made dearer, most of all the silent ones ("softmax-margin",
Gimpel and Smith, NAACL 2010), with a ridge towards what was set by hand. Last, one scale makes the
differences log-odds, on phrases that were left out. Held-out and locked phrases are only counted.
"""

from __future__ import annotations

import argparse
import itertools
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from joblog.dictation import Context, after, grammar, read, weights
from joblog.dictation.grammar import Chart, features_of
from joblog.dictation.pieces import pieces_of
from joblog.dictation.read import read_as, said_in
from joblog.dictation.words import marked_words
from joblog.model import Reading, Vocabulary
from tests.bench import talk
from tests.bench.corpus import Phrase, exact, figures, phrases, practice, site, words
from tests.bench.corpus.conversations import Talk, judged, practice_talks, stands_of, talks
from tests.bench.walks import Told, context_of, is_right, walks

HAND = {
    "stretch": -0.4, "unread number": -3.5, "unread item": -1.7, "unread place": -1.7,
    "unread word": -1.7, "unread strange": -1.7, "unread filler": -1.05, "pause": -0.15,
    "talk past a clause": -1.6, "talk past a pause": -1.0, "amount first": -0.02, "loose": -0.5,
    "in one breath": 0.0, "number in words": 0.0, "item in words": 0.0, "strange in a fact": 0.0,
    "one in a subject": 0.0,
    "as more": 0.06, "as not this": 0.1, "as break": 0.01, "as numbered place": 0.01,
    "as place": 0.005, "as subject": -0.05, "as maybe instead": -0.05, "as range": -0.1,
    "as price": -0.2, "as pay": -0.2, "as clock": -0.5, "as adjust": -0.5, "as request": -1.0,
    "as about it": -0.1, "as adjust instead": 0.05, "as this not that": 0.05, "as moved": 0.05,
    "as more labor": 0.6, "as talk": -0.1, "as weather": 0.03, "as moment": 0.1, "as share": 0.2,
    "as day": 0.45, "as todo": -0.05, "as note": -0.06,
}  # fmt: skip
"""In words explained. A new meaning may begin here with what seems right; others begin at 0."""
SCALE = 6.0
"""From those to log-odds, roughly."""
RIDGE = 1.0
SILENT, ASKED = 4.0, 1.0
"""What a wrong reading costs, in log-odds, where nothing is in doubt and where something is."""
MOST, LOOKED_AT, FAR = 30, 150, 6.0
"""Candidates of a phrase: so many, among so many covers, so far behind the best (by hand)."""
FOLDS = 5

Judge = Callable[[Reading], tuple[bool, bool]]
"""Whether a reading is right, and whether it is wrong in silence."""
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Case:
    """An utterance and who knows what it means."""

    text: str
    vocabulary: Vocabulary
    context: Context
    judge: Judge


@dataclass(frozen=True)
class Candidate:
    features: Counter[str]
    right: bool
    silent: bool


def main() -> None:
    parser = argparse.ArgumentParser("tests.bench.weigh", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--write", action="store_true")
    asked_for = parser.parse_args()
    by_hand = dict(weights.WEIGHTS) | HAND
    _use({name: HAND.get(name, 0.0) for name in by_hand})
    problem = Problem.of([found for case in cases() if (found := candidates(case))])
    scale, folded = problem.cross_validated()
    print(f"{problem.count} utterances, {len(problem.names)} features, scale {scale:.2f}")
    print(f"by hand      {problem.told(problem.chosen(problem.hand))}")
    print(f"left out     {problem.told(folded)}")
    found = problem.learned(np.ones(problem.count, bool)) * scale
    print(f"learned      {problem.told(problem.chosen(found))}")
    print("by hand, held out: ", *_held_out())
    learned = {name: round(float(w), 2) for name, w in zip(problem.names, found, strict=True)}
    table = {name: round(SCALE * scale * by, 2) for name, by in HAND.items()} | learned
    _use(table)
    print("learned, held out: ", *_held_out())
    if asked_for.write:
        _write(table, problem.count)


def cases() -> Iterator[Case]:
    """Everything that may be looked at."""
    vocabulary = words()
    for phrase in (*practice(), *(one for one in phrases() if not one.held_out)):
        yield Case(phrase.text, vocabulary, phrase.context, _judge_of(phrase))
    for told in walks("practice"):
        yield Case(told.text, vocabulary, context_of(told), _judge_of_walk(told))
    on_site = site.words()
    for conversation in (*talks(), *practice_talks()):
        context = Context(at=conversation.at, place=conversation.place)
        said: list[tuple[Reading, str]] = []
        for line in conversation.lines:
            yield Case(line, on_site, context, _judge_of_talk(conversation, tuple(said), context))
            reading = read(line, on_site, context)
            context = after(context, reading)
            said.append((reading, line))


def _judge_of(phrase: Phrase) -> Judge:
    def judge(reading: Reading) -> tuple[bool, bool]:
        right = exact(phrase, reading)
        return right, not right and not reading.doubts

    return judge


def _judge_of_walk(told: Told) -> Judge:
    def judge(reading: Reading) -> tuple[bool, bool]:
        right = is_right(told, reading)
        return right, not right and not reading.doubts

    return judge


def _judge_of_talk(
    conversation: Talk, before: tuple[tuple[Reading, str], ...], context: Context
) -> Judge:
    """By what stands after the whole conversation, its other lines read as they are now."""
    vocabulary = site.words()
    line, *behind = conversation.lines[len(before) :]

    def judge(reading: Reading) -> tuple[bool, bool]:
        said, now = [*before, (reading, line)], after(context, reading)
        for later in behind:
            other = read(later, vocabulary, now)
            now = after(now, other)
            said.append((other, later))
        found = judged(conversation, stands_of(said), vocabulary)
        return found.right, found.silent

    return judge


def candidates(case: Case) -> list[Candidate]:
    """The ways to take an utterance apart that come to a reading; empty where it is too long."""
    (marked, _), *more = pieces_of(marked_words(case.text))
    said = said_in(marked, case.vocabulary, case.context)
    found: list[Candidate] = []
    best: float | None = None
    if more or not said.atoms:
        return found
    for stretches, unread, score in itertools.islice(Chart(said.atoms).covers(), LOOKED_AT):
        if len(found) == MOST or (best is not None and score < best - FAR):
            break
        reading = read_as(said, stretches, unread)
        if isinstance(reading, Reading):
            best = score if best is None else best
            features = features_of(said.atoms, stretches, unread)
            found.append(Candidate(features, *case.judge(reading)))
    return found


@dataclass(frozen=True)
class Problem:
    """All candidates of all utterances as one matrix."""

    names: list[str]
    features: csr_matrix
    owner: NDArray[np.int64]
    """Of each candidate, the number of its utterance."""
    starts: NDArray[np.int64]
    """Where the candidates of each utterance begin."""
    right: Floats
    silent: NDArray[np.bool_]

    @classmethod
    def of(cls, found: Sequence[Sequence[Candidate]]) -> Problem:
        names = sorted({name for each in found for one in each for name in one.features})
        at = {name: number for number, name in enumerate(names)}
        every = [one for each in found for one in each]
        cells = [
            (row, at[name], count)
            for row, one in enumerate(every)
            for name, count in one.features.items()
        ]
        rows, columns, counts = zip(*cells, strict=True)
        shape = (len(every), len(names))
        sizes = [len(each) for each in found]
        return cls(
            names,
            csr_matrix((np.array(counts, float), (rows, columns)), shape=shape),
            np.repeat(np.arange(len(found)), sizes),
            np.cumsum([0, *sizes[:-1]]),
            np.array([float(one.right) for one in every]),
            np.array([one.silent for one in every]),
        )

    @property
    def count(self) -> int:
        return len(self.starts)

    @property
    def hand(self) -> Floats:
        return np.array([SCALE * HAND.get(name, 0.0) for name in self.names])

    def learned(self, which: NDArray[np.bool_]) -> Floats:
        """Weights that make what is right of some utterances likely."""
        open_to_choice = np.add.reduceat(self.right, self.starts) > 0
        rows = (open_to_choice & which)[self.owner]
        features, right = self.features[rows], self.right[rows]
        turned = features.T.tocsr()
        cost = np.where(right > 0, 0.0, np.where(self.silent[rows], SILENT, ASKED))
        owner = np.unique(self.owner[rows], return_inverse=True)[1]
        starts = np.flatnonzero(np.r_[True, owner[1:] != owner[:-1]])
        hand = self.hand

        def loss(at: Floats) -> tuple[float, Floats]:
            likely, total = _shares(features @ at + cost, owner, starts)
            hits = np.add.reduceat(likely * right, starts) + 1e-300
            away = at - hand
            slope = turned @ (likely * right / hits[owner] - likely / total[owner])
            value = -np.log(hits / total).sum() + RIDGE / 2 * away @ away
            return float(value), RIDGE * away - slope

        result = minimize(loss, hand, jac=True, method="L-BFGS-B", options={"maxiter": 200})
        return np.asarray(result.x, float)

    def cross_validated(self) -> tuple[float, NDArray[np.int64]]:
        """The scale at which utterances that were left out are likeliest to be read as they
        should, and which candidate is chosen of each."""
        fold = np.random.default_rng(0).integers(0, FOLDS, self.count)
        scores = np.zeros(len(self.owner))
        chosen = np.zeros(self.count, int)
        for number in range(FOLDS):
            at = self.learned(fold != number)
            rows = (fold == number)[self.owner]
            scores[rows] = (self.features @ at)[rows]
            chosen[fold == number] = self.chosen(at)[fold == number]
        scales = np.linspace(0.2, 1.5, 27)
        return max((self.likelihood(scale * scores), scale) for scale in scales)[1], chosen

    def chosen(self, at: Floats) -> NDArray[np.int64]:
        """The best candidate of each utterance, of equals the first."""
        scores = np.round(self.features @ at, 6)
        tops = np.flatnonzero(scores >= np.maximum.reduceat(scores, self.starts)[self.owner])
        first = np.unique(self.owner[tops], return_index=True)[1]
        return np.asarray(tops[first])

    def likelihood(self, scores: Floats) -> float:
        """Log-likelihood of what is right, where it is among the candidates."""
        likely, total = _shares(scores, self.owner, self.starts)
        hits = np.add.reduceat(likely * self.right, self.starts)
        return float(np.log(hits[hits > 0] / total[hits > 0]).sum())

    def told(self, chosen: NDArray[np.int64]) -> str:
        right, silent = self.right[chosen].sum(), self.silent[chosen].sum()
        return f"right {right / self.count:.2%}, silent {silent / self.count:.2%}"


def _shares(
    scores: Floats, owner: NDArray[np.int64], starts: NDArray[np.int64]
) -> tuple[Floats, Floats]:
    """How likely each is beside the best of its utterance, and the sums of that."""
    likely = np.exp(scores - np.maximum.reduceat(scores, starts)[owner])
    return likely, np.add.reduceat(likely, starts)


def _use(table: dict[str, float]) -> None:
    """Read by these weights from here on."""
    weights.WEIGHTS.clear()
    weights.WEIGHTS.update(table)
    grammar._grammar.cache_clear()


def _held_out() -> Iterator[str]:
    found = figures((one for one in phrases() if one.held_out), words())
    yield f"{found.phrases} phrases, {found.exact} exact, {found.silent} silent; conversations"
    vocabulary = site.words()
    locked = talks(locked=True)
    yield talk.line_of(
        [judged(one, talk.stands_after(one, vocabulary), vocabulary) for one in locked]
    )


def _write(table: dict[str, float], count: int) -> None:
    path = Path(weights.__file__)
    head = path.read_text("utf-8").partition("WEIGHTS = {")[0]
    lines = "".join(f'    "{name}": {weight},\n' for name, weight in sorted(table.items()))
    path.write_text(f"{head}WEIGHTS = {{\n{lines}}}\n", "utf-8")
    print(f"{path.name}: learned from {count} utterances")


if __name__ == "__main__":
    main()
