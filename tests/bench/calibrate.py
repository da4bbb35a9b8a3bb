"""Fits which meaning to choose and how sure to be of it, and shows how far that can be believed.

    python -m tests.bench.calibrate [--phrases N] [--write]

Needs the hearings that `python -m tests.bench.yardstick --hear` keeps, of the open half of the
corpus, clean and in noise, said by the voices that our recognizers were not trained on, as no
user's was; and what `python -m tests.bench.spoken.people` keeps of people saying numbers, where
that is there. Prints the weights for `joblog/dictation/confidence.py`, and with --write puts them
there. What it then shows is judged on voices and on phrases that were both left out of the fit: how
often the chosen meaning is exact, the reliability table of each speaker (of the entries shown as so
sure, how many are right), and what asking below each confidence costs: utterances with a doubt,
wrong ones without one ("silent"; "wrong" leaves out a wrong place), doubts on what was exact and
plain ("needless"). Last, the confidence to ask below for a promised share of silent ones.
"""

from __future__ import annotations

import argparse
import hashlib
from collections import defaultdict
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from joblog.dictation import confidence, read
from joblog.dictation.choose import evidence_of, standing
from joblog.dictation.confidence import signs_of
from joblog.dictation.weigh import Meaning, likelihoods, meanings_of
from joblog.form import entry_to_json
from joblog.model import Entry, Reading, Utterance, Vocabulary
from tests.bench.corpus import Phrase, exact, same_but_for_place, words
from tests.bench.spoken import Spoken, load_hearings, mixed
from tests.bench.spoken.people import Said, load_people, number_of
from tests.bench.trade_model import UNSEEN

Numbers = NDArray[np.float64]

FOLDS = 3
"""Parts of the phrases, and of the people, that are left out in turn."""
CHOICE_RIDGE, RIDGE = 8.0, 5.0
"""How strongly the fits of the choice and of the confidence are held to the weights that there are;
the best of 1 to 60 on 550 utterances, left out by phrase."""
PEOPLE_COUNT = 3.0
"""How many utterances of a machine one of a person counts for: users are people."""
BINS = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.97, 0.99, 1.0)
ASKED_BELOW = (0.0, 0.5, 0.7, 0.8, 0.85, 0.9, 0.93, 0.95, 0.96, 0.97, 0.98)
PROMISED = (0.002, 0.003, 0.005, 0.008, 0.01)
"""Shares of utterances that may be wrong without a doubt."""


@dataclass(frozen=True)
class Case:
    """One utterance with everything it may mean, and which of that is what was said."""

    speaker: str
    group: str
    """Who is left out together: each machine voice, and people in a few groups."""
    text: str
    snr: float | None
    phrase: Phrase | None
    """None for a row of numbers by a person."""
    utterance: Utterance
    meanings: list[Meaning]
    right: Numbers
    """1 for each meaning that is exact."""

    @property
    def fold(self) -> int:
        return _hash(self.text) % FOLDS

    @property
    def count(self) -> float:
        return 1.0 if self.phrase else PEOPLE_COUNT


@dataclass(frozen=True)
class Outcome:
    """What became of a case."""

    speaker: str
    group: str
    fold: int
    count: float
    snr: float | None
    plain: bool
    """Whether a careful person would not want to be asked."""
    exact: bool
    but_the_place: bool
    asks: bool
    """Whether the words themselves leave a doubt."""
    signs: Numbers
    """A row for each entry."""
    right: tuple[bool, ...]
    sure: tuple[float, ...] = ()


def main() -> None:
    arguments = argparse.ArgumentParser("tests.bench.calibrate", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--phrases", type=int, help="a fair sample of so many phrases")
    arguments.add_argument("--write", action="store_true", help="into confidence.py")
    arguments.add_argument("--unscored", action="store_true", help="as if no line were scored")
    arguments.add_argument("--as-it-is", action="store_true", help="judge the weights there are")
    asked = arguments.parse_args()
    cases = _cases(asked.phrases, asked.unscored)
    print(f"{len(cases)} utterances of {len({case.speaker for case in cases})} speakers")
    if asked.as_it_is:
        outcomes = [_weighed(case, np.array(confidence.CHOICE)) for case in cases]
        _show([_judged(one, np.array(confidence.WEIGHTS)) for one in outcomes])
        return
    # Signs that no case has keep the weights that they have.
    choice = _kept(_fit_choice(cases), confidence.CHOICE, _signs_of_meanings(cases))
    outcomes = _left_out(cases)
    weights = _kept(
        _fit_calibration(outcomes),
        confidence.WEIGHTS,
        np.concatenate([one.signs for one in outcomes]),
    )
    print("CHOICE =", choice)
    print("WEIGHTS =", weights)
    if asked.write:
        _write(choice, weights)
    _show(_judged_left_out(outcomes))


def _cases(count: int | None, unscored: bool) -> list[Case]:
    spoken: list[Spoken | Said] = [
        one for one in load_hearings("open") if len(one.utterances) == 1 and one.voice in UNSEEN
    ]
    if count is not None:
        phrases = {one.phrase.text: one.phrase for one in spoken if isinstance(one, Spoken)}
        wanted = {one.text for one in mixed(phrases.values())[:count]}
        spoken = [one for one in spoken if isinstance(one, Spoken) and one.phrase.text in wanted]
    spoken += load_people("fit")
    with ProcessPoolExecutor(2) as pool:
        cases = list(pool.map(partial(_case, unscored=unscored), spoken, chunksize=64))
    return [case for case in cases if case.meanings]


def _case(spoken: Spoken | Said, unscored: bool) -> Case:
    if isinstance(spoken, Said):
        said, phrase, [utterance] = spoken.speaker, None, [spoken.utterance]
        text, snr, group = spoken.text, None, f"people {_hash(said) % FOLDS}"
        reader = number_of
    else:
        said, phrase, [utterance] = spoken.voice, spoken.phrase, spoken.utterances
        text, snr, group = phrase.text, spoken.snr, said
        reader = partial(_read, context_of=text)
        _contexts[text] = phrase
    if unscored:
        utterance = replace(utterance, scored=())
    meanings = meanings_of(utterance.hearings, reader, _vocabulary(), utterance.scored)
    right = [float(_is_exact(phrase, text, meaning.reading)) for meaning in meanings]
    return Case(said, group, text, snr, phrase, utterance, meanings, np.array(right))


_contexts: dict[str, Phrase] = {}


@cache
def _read(text: str, context_of: str) -> Reading:
    """The same line comes from many voices, and reading it takes longer than weighing it."""
    return read(text, _vocabulary(), _contexts[context_of].context)


def _is_exact(phrase: Phrase | None, text: str, reading: Reading) -> bool:
    if phrase is None:
        return reading.entries == number_of(text).entries
    return exact(phrase, reading)


@cache
def _vocabulary() -> Vocabulary:
    return words()


def _hash(text: str) -> int:
    return hashlib.sha256(text.encode()).digest()[-1]


# --- fitting ----------------------------------------------------------------------------------


def _left_out(cases: Sequence[Case]) -> list[Outcome]:
    """Each case as chosen by a fit to other speakers saying other phrases."""
    parts: dict[tuple[str, int], list[Case]] = defaultdict(list)
    for case in cases:
        parts[case.group, case.fold].append(case)
    outcomes = []
    for (group, fold), part in sorted(parts.items()):
        others = [case for case in cases if case.group != group and case.fold != fold]
        weights = _fit_choice(others or [case for case in cases if case.fold != fold])
        outcomes += [_weighed(case, weights) for case in part]
    return outcomes


def _judged_left_out(outcomes: Sequence[Outcome]) -> list[Outcome]:
    judged = []
    for group, fold in sorted({(one.group, one.fold) for one in outcomes}):
        others = [one for one in outcomes if one.group != group and one.fold != fold]
        weights = _fit_calibration(others or [one for one in outcomes if one.fold != fold])
        judged += [
            _judged(one, weights) for one in outcomes if (one.group, one.fold) == (group, fold)
        ]
    return judged


def _judged(one: Outcome, weights: Numbers) -> Outcome:
    return replace(one, sure=tuple(1 / (1 + np.exp(-one.signs @ weights))))


def _signs_of_meanings(cases: Sequence[Case]) -> Numbers:
    return np.array([meaning.signs for case in cases for meaning in case.meanings])


def _fit_choice(cases: Sequence[Case]) -> Numbers:
    """A conditional logit in which any exact meaning is right: expectation and Newton steps.

    The ridge holds it to the weights that there are.
    """
    held = [case for case in cases if case.right.any()]
    signs = _signs_of_meanings(held)
    right = np.concatenate([case.right for case in held])
    starts = np.cumsum([0, *(len(case.meanings) for case in held[:-1])])
    sizes = [len(case.meanings) for case in held]
    whose = np.repeat(np.arange(len(held)), sizes)
    counts = np.array([case.count for case in held])
    counted = counts[whose]
    spread = signs.std(axis=0)
    spread[spread == 0] = 1.0
    scaled = signs / spread
    before = np.array(confidence.CHOICE) * spread
    weights = before.copy()
    for _ in range(25):
        score = scaled @ weights
        raised = np.exp(score - np.maximum.reduceat(score, starts)[whose])
        likely = raised / np.add.reduceat(raised, starts)[whose]
        meant = likely * right
        meant /= np.add.reduceat(meant, starts)[whose] + 1e-12
        means = np.add.reduceat(scaled * likely[:, None], starts)
        slope = scaled.T @ (counted * (meant - likely)) - CHOICE_RIDGE * (weights - before)
        curve = (scaled * (counted * likely)[:, None]).T @ scaled
        curve -= (means * counts[:, None]).T @ means
        step = np.linalg.solve(curve + CHOICE_RIDGE * np.eye(len(weights)), slope)
        weights = weights + step
        if np.abs(step).max() < 1e-4:
            break
    return np.asarray(weights / spread)


def _fit_calibration(outcomes: Sequence[Outcome]) -> Numbers:
    """Newton's method on the penalised likelihood of a logistic regression.

    An entry counts as right where the whole utterance is: what is missing beside an entry has no
    entry of its own to doubt.
    """
    held = [one for one in outcomes if len(one.signs)]
    signs = np.concatenate([one.signs for one in held])
    right = np.concatenate([np.full(len(one.signs), float(one.exact)) for one in held])
    counts = np.concatenate([np.full(len(one.signs), one.count) for one in held])
    spread = signs.std(axis=0)
    spread[spread == 0] = 1.0
    scaled = signs / spread
    before = np.array(confidence.WEIGHTS) * spread
    weights = before.copy()
    penalty = RIDGE * np.eye(len(weights))
    for _ in range(30):
        sure = 1 / (1 + np.exp(-scaled @ weights))
        slope = scaled.T @ (counts * (right - sure)) - penalty @ (weights - before)
        curve = (scaled * (counts * sure * (1 - sure))[:, None]).T @ scaled + penalty
        weights = weights + np.linalg.solve(curve, slope)
    return np.asarray(weights / spread)


def _weighed(case: Case, choice: Numbers) -> Outcome:
    likely = likelihoods(case.meanings, [float(weight) for weight in choice])
    chosen = standing(case.meanings, likely)
    phrase, reading = case.phrase, chosen.reading
    level, noise = case.utterance.level, case.utterance.noise
    signs = [
        signs_of(evidence_of(at, chosen, case.meanings, likely, level, noise))
        for at in range(len(reading.entries))
    ]
    whole = _is_exact(phrase, case.text, reading)
    but_the_place = whole
    if phrase is not None:
        anywhere = frozenset(f"{at}.place" for at in range(len(phrase.entries)))
        but_the_place = exact(replace(phrase, free=phrase.free | anywhere), reading)
    return Outcome(
        case.speaker,
        case.group,
        case.fold,
        case.count,
        case.snr,
        phrase is None or phrase.doubt is False,
        whole,
        but_the_place,
        bool(reading.doubts),
        np.array(signs).reshape(len(signs), len(confidence.WEIGHTS)),
        tuple(whole or _is_wanted(entry, phrase) for entry in reading.entries),
    )


def _is_wanted(entry: Entry, phrase: Phrase | None) -> bool:
    return phrase is not None and any(
        same_but_for_place(wanted, entry_to_json(entry)) for wanted in phrase.entries
    )


def _kept(fitted: Numbers, before: Sequence[float], signs: Numbers) -> tuple[float, ...]:
    known = signs.any(axis=0)
    return tuple(
        round(float(new), 3) if there else old
        for new, old, there in zip(fitted, before, known, strict=True)
    )


def _write(choice: Sequence[float], weights: Sequence[float]) -> None:
    """Puts both rows of weights into `confidence.py`, each half where it was."""
    path = Path(confidence.__file__)
    text = path.read_text("utf-8")
    half = len(confidence._CHOICE_HEARD), len(confidence._WEIGHTS_HEARD)
    for name, values in (
        ("_CHOICE_HEARD", choice[: half[0]]),
        ("_CHOICE_SCORED", choice[half[0] :]),
        ("_WEIGHTS_HEARD", weights[: half[1]]),
        ("_WEIGHTS_SCORED", weights[half[1] :]),
    ):
        begin = text.index(f"\n{name} = (") + 1
        end = text.index(")", begin)
        rows = [values[at : at + 12] for at in range(0, len(values), 12)]
        lines = "".join(f"    {', '.join(map(str, row))},\n" for row in rows)
        text = f"{text[:begin]}{name} = (\n{lines}{text[end:]}"
    path.write_text(text, "utf-8")


# --- what it is worth -------------------------------------------------------------------------


def _show(outcomes: Sequence[Outcome]) -> None:
    for speaker in sorted({one.speaker for one in outcomes if one.group == one.speaker}):
        _print_reliability(speaker, [one for one in outcomes if one.speaker == speaker])
    people = [one for one in outcomes if one.group != one.speaker]
    if people:
        _print_reliability("people", people)
        _print_people(people)
    machines = [one for one in outcomes if one.group == one.speaker]
    _print_costs(machines)
    _print_promises(machines)


def _print_reliability(whose: str, outcomes: Sequence[Outcome]) -> None:
    pairs = [pair for one in outcomes for pair in zip(one.sure, one.right, strict=True)]
    sure, right = np.array([one for one, _ in pairs]), np.array([two for _, two in pairs])
    print(f"\nreliability, {whose}: {len(pairs)} entries of voices and phrases left out")
    print(f"{'shown as':14}{'entries':>9}{'shown':>8}{'right':>8}")
    for low, high in pairwise(BINS):
        held = (sure >= low) & (sure < high if high < 1 else sure <= high)
        if held.any():
            shown, share = sure[held].mean(), right[held].mean()
            print(f"{low:.2f} to {high:.2f}  {held.sum():9}{shown:8.1%}{share:8.1%}")


def _print_people(outcomes: Sequence[Outcome]) -> None:
    print(
        f"\n{'person':10}{'said':>6}{'exact':>8}{'shown':>8}   at {_threshold():.2f}: doubt, silent"
    )
    for speaker in sorted({one.speaker for one in outcomes}):
        mine = [one for one in outcomes if one.speaker == speaker]
        asked, silent = _shares(mine, _threshold())
        right = np.mean([one.exact for one in mine])
        shown = np.mean([min(one.sure, default=0.0) for one in mine])
        print(f"{speaker:10}{len(mine):6}{right:8.1%}{shown:8.1%}{asked:20.1%}{silent:8.1%}")


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
            print(f"{_name(level):8}{below:12.2f}{shares}")


def _print_promises(outcomes: Sequence[Outcome]) -> None:
    """The confidence to ask below so that no more than so many are silent, and what it costs."""
    print(f"\n{'noise':8}{'silent at most':>15}{'asked below':>13}{'doubt':>8}{'silent':>8}")
    levels = sorted({one.snr for one in outcomes}, key=lambda snr: -(snr or 999))
    for level in (*levels, "all"):
        mine = [one for one in outcomes if level == "all" or one.snr == level]
        bars = sorted({0.0, 1.0, *(min(one.sure, default=0.0) for one in mine)})
        for promised in PROMISED:
            kept = next((bar for bar in bars if _shares(mine, bar)[1] <= promised), 1.0)
            asked, silent = _shares(mine, kept)
            name = level if isinstance(level, str) else _name(level)
            print(f"{name:8}{promised:15.1%}{kept:13.3f}{asked:8.1%}{silent:8.1%}")


def _shares(outcomes: Sequence[Outcome], below: float) -> tuple[float, float]:
    """Of the utterances, how many are asked about, and how many are wrong without."""
    asked = [_is_asked(one, below) for one in outcomes]
    silent = [not one.exact and not doubted for one, doubted in zip(outcomes, asked, strict=True)]
    return float(np.mean(asked)), float(np.mean(silent))


def _is_asked(one: Outcome, below: float) -> bool:
    return one.asks or min(one.sure, default=0.0) < below


def _threshold() -> float:
    from joblog.dictation.judgement import DOUBTFUL

    return DOUBTFUL


def _name(level: float | None) -> str:
    return "clean" if level is None else f"{level:.0f} dB"


def _counts(outcomes: Sequence[Outcome], below: float) -> Iterator[list[bool]]:
    both = [(one, _is_asked(one, below)) for one in outcomes]
    yield [one.exact for one in outcomes]
    yield [doubted for _, doubted in both]
    yield [not one.exact and not doubted for one, doubted in both]
    yield [not one.but_the_place and not doubted for one, doubted in both]
    yield [one.exact and one.plain and doubted for one, doubted in both]


if __name__ == "__main__":
    main()
