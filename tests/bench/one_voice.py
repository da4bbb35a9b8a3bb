"""One simulated user: how much is asked of a voice before and after it is known, and what is wrong.

    python -m tests.bench.one_voice VOICE... [--decisions 200] [--promise 1/200] [--times 20]
    python -m tests.bench.one_voice --invented
    python -m tests.bench.one_voice --strangers VOICE...

Needs the hearings that `python -m tests.bench.yardstick --hear` keeps; VOICE is one of them, or
"all" for each that no recognizer was trained on. The user says phrases of the open half in an order
drawn anew each time and answers as the truth says, until so many decisions are made; what is asked
and what is silently wrong is then counted, by utterance, on the half of the phrases that he never
says. He either hears everything read back ("by ear"), or in the evening answers what is asked and
sees one in four of the others that are wrong ("in review"). What stands in for his own decisions
are the other voices, never he.

`--invented` does the same without any sound, for voices that are drawn from a stated model: signs
as `_invented` says, right with the probability of weights that differ from those that come with
joblog by a normal deviation, and better over all by 1.5 in log-odds.

Only phrases whose text is read right and without a question: what is wrong then was misheard.

`--strangers` prints what goes into `joblog/voice/strangers.py`, of the phrases that a careful
person would not want to be asked about, and what each promise would ask of a voice that nothing is
known of: below which confidence, of how many of these entries.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import get_args

import numpy as np

from joblog.dictation import SHIPPED, Judgement, fact_of, judged_by, read, words_told
from joblog.form import entry_from_json
from joblog.model import Entry, Reading, Vocabulary
from joblog.voice import NOTICED, PROMISE, Decision, How, interval, learned, mixed_up_in
from joblog.voice.promise import Strangers, threshold
from joblog.voice.strangers import STRANGERS
from tests.bench.corpus import Phrase, exact, phrases, words
from tests.bench.spoken import Spoken, load_hearings
from tests.bench.trade_model import UNSEEN

BEFORE = "before"
WAYS: tuple[How, ...] = ("by ear", "in review")


@dataclass(frozen=True)
class Told:
    """One utterance of a voice: its entries, each as a decision that knows the truth."""

    text: str
    exact: bool
    """But for places."""
    plain: bool
    """Whether a careful person would not want to be asked."""
    entries: tuple[Decision, ...]


@dataclass
class Count:
    """Utterances, and what became of them."""

    said: int = 0
    asked: int = 0
    silent: int = 0
    decisions: float = 0.0


def main() -> None:
    arguments = argparse.ArgumentParser("tests.bench.one_voice", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("voices", nargs="*")
    arguments.add_argument("--decisions", type=int, default=200)
    arguments.add_argument("--promise", type=Fraction, default=PROMISE)
    arguments.add_argument("--times", type=int, default=20)
    arguments.add_argument("--phrases", type=int, help="at most so many utterances of each voice")
    arguments.add_argument("--invented", action="store_true")
    arguments.add_argument("--strangers", action="store_true")
    said = arguments.parse_args()
    if said.invented:
        draw = np.random.default_rng(16)
        others = _strangers({f"s{at}": _invented(draw, 800, same=at) for at in range(8)})
        told = {f"invented {at}": _invented(draw, 1200, better=1.5) for at in range(3)}
        known = dict.fromkeys(told, others)
    else:
        voices = UNSEEN if "all" in said.voices else said.voices
        every = _heard({*voices, *UNSEEN}, said.phrases)
        if said.strangers:
            _print_strangers({voice: every[voice] for voice in voices})
            return
        told = {voice: every[voice] for voice in voices}
        known = {
            voice: _strangers(
                {name: one for name, one in every.items() if name != voice}, STRANGERS
            )
            for voice in voices
        }
    for voice, mine in told.items():
        counts = simulate(mine, known[voice], said.decisions, said.promise, said.times)
        _print(voice, counts, said.times)


def simulate(
    told: Sequence[Told], strangers: Strangers, decisions: int, promise: Fraction, times: int
) -> dict[str, Count]:
    """What is asked and silently wrong before, and after so many decisions of each kind."""
    counts = {name: Count() for name in (BEFORE, *WAYS)}
    first = replace(SHIPPED, asks_below=threshold((), 0, strangers, promise))
    for time in range(times):
        draw = random.Random(time)
        texts = sorted({one.text for one in told})
        draw.shuffle(texts)
        order = {text: at for at, text in enumerate(texts[len(texts) // 2 :])}
        said = sorted((one for one in told if one.text in order), key=lambda one: order[one.text])
        left = [one for one in told if one.text not in order]
        _tally(counts[BEFORE], left, first)
        for way in WAYS:
            given = _decisions(said, way, decisions, first, draw)
            counts[way].decisions += sum(one.said for one in given) / times
            _tally(counts[way], left, learned(given, promise, strangers).judgement)
    return counts


def _decisions(
    said: Iterable[Told], way: How, wanted: int, judgement: Judgement, draw: random.Random
) -> list[Decision]:
    found: list[Decision] = []
    every, passed = round(1 / NOTICED[way]), 0
    for at, one in enumerate(said):
        if sum(decision.said for decision in found) >= wanted:
            break
        for entry in one.entries:
            asked = _asks(entry, judgement)
            mine = replace(entry, how=way, asked=asked, together=at)
            if way == "by ear" or asked or (not entry.right and draw.random() < NOTICED[way]):
                found.append(mine)
                continue
            passed += 1
            if passed % every == 0:
                let_pass = replace(mine, right=True, meant=(), said=False, stands_for=every)
                found.append(let_pass)
    return found


def _asks(entry: Decision, judgement: Judgement) -> bool:
    return entry.anyway or judgement.sureness(entry.signs, entry.words) < judgement.asks_below


def _tally(count: Count, told: Iterable[Told], judgement: Judgement) -> None:
    for one in told:
        asked = any(_asks(entry, judgement) for entry in one.entries)
        count.said += 1
        count.asked += asked
        count.silent += not one.exact and not asked and bool(one.entries)


def _print(voice: str, counts: dict[str, Count], times: int) -> None:
    print(f"\n{voice}: utterances that are counted each time, and shares over all {times} times")
    print(f"{'':12}{'decisions':>10}{'said':>8}{'asked':>8}{'silent':>8}   95 % of silent")
    for name, one in counts.items():
        # The same utterances are drawn again and again: as sure as of those of one time.
        found = interval(round(one.silent / times), round(one.said / times))
        said = max(1, one.said)
        print(
            f"{name:12}{one.decisions:10.0f}{found.count:8}{one.asked / said:8.1%}"
            f"{one.silent / said:8.2%}   {found.low:.2%} to {found.high:.2%}"
        )


# --- what was heard ---------------------------------------------------------------------------


@cache
def _vocabulary() -> Vocabulary:
    return words()


def _heard(voices: Iterable[str], most: int | None) -> dict[str, list[Told]]:
    found: dict[str, list[Told]] = {voice: [] for voice in voices}
    read_right = {phrase.text for phrase in phrases() if _is_read_right(phrase)}
    for spoken in load_hearings("open"):
        mine = found.get(spoken.voice)
        if mine is None or len(spoken.utterances) != 1 or (most and len(mine) >= most):
            continue
        if spoken.phrase.text not in read_right:
            continue
        mine.append(_told(spoken))
    return found


def _is_read_right(phrase: Phrase) -> bool:
    """Whether the text itself is read exactly and without a question: what is wrong then was
    misheard, and only that is for a voice to teach."""
    reading = read(phrase.text, _vocabulary(), phrase.context)
    return exact(phrase, reading) and not reading.doubts


def _told(spoken: Spoken) -> Told:
    phrase, heard = spoken.phrase, spoken.utterances[0]
    judged = judged_by(heard, _vocabulary(), phrase.context)
    reading = Reading(tuple(one.entry for one in judged))
    anywhere = frozenset(f"{at}.place" for at in range(len(phrase.entries)))
    right = exact(replace(phrase, free=phrase.free | anywhere), reading)
    meant = [entry_from_json(shown) for shown in phrase.entries]
    return Told(
        phrase.text,
        right,
        phrase.doubt is False,
        tuple(
            Decision(
                one.signs,
                right,
                "card",
                False,
                one.anyway,
                words=words_told(one.entry),
                meant=_mixed_up(one.entry, meant) if len(judged) == len(meant) == 1 else (),
            )
            for one in judged
        ),
    )


def _mixed_up(heard: Entry, meant: Sequence[Entry]) -> tuple[tuple[str, str], ...]:
    [said] = meant
    return () if fact_of(said) == fact_of(heard) else mixed_up_in(heard, said)


def _print_strangers(told: dict[str, list[Told]]) -> None:
    plain = {voice: [one for one in mine if one.plain] for voice, mine in told.items()}
    found = _strangers(plain)
    print(f"STRANGERS = {found}")
    entries = [entry for mine in plain.values() for one in mine for entry in one.entries]
    for promise in (Fraction(1, 50), Fraction(1, 100), PROMISE, Fraction(1, 400)):
        below = threshold((), 0, found, promise)
        asked = [_asks(entry, replace(SHIPPED, asks_below=below)) for entry in entries]
        silent = sum(not (entry.right or asks) for entry, asks in zip(entries, asked, strict=True))
        print(
            f"{promise}: below {below:.4f}, asked {sum(asked) / len(entries):.1%},"
            f" silent {silent} of {len(entries)}"
        )


def _strangers(told: dict[str, list[Told]], otherwise: Strangers | None = None) -> Strangers:
    """How sure joblog was of what was wrong in all that these voices said; where nothing was heard
    of any, `otherwise`."""
    if otherwise is not None and not any(told.values()):
        return otherwise
    entries = [entry for mine in told.values() for one in mine for entry in one.entries]
    wrong = [
        round(SHIPPED.sureness(entry.signs), 4)
        for entry in entries
        if not entry.right and not entry.anyway
    ]
    kept = tuple(sorted(sure for sure in wrong if sure >= 0.5))
    return Strangers(len(entries), sum(map(bool, told.values())), kept)


# --- an invented voice ------------------------------------------------------------------------


def _invented(
    draw: np.random.Generator, count: int, better: float = 0.0, same: int | None = None
) -> list[Told]:
    """Utterances of one entry each. The first sign is 1; each other is normal, scaled so that all
    of them together move the log-odds by a standard deviation of 2 around 3.5. Strangers are
    right by the weights that come with joblog."""
    weights = np.array(SHIPPED.weights)
    scale = 2 / np.sqrt(np.sum(weights[1:] ** 2))
    signs = np.hstack([np.ones((count, 1)), draw.normal(0, scale, (count, len(weights) - 1))])
    signs[:, 1] += (3.5 - weights[0]) / weights[1]
    his = weights.copy()
    if same is None:
        his[1:] += draw.normal(0, 0.5 / scale / math.sqrt(len(weights)), len(weights) - 1)
        his[0] += better + (weights[1] - his[1]) * (3.5 - weights[0]) / weights[1]
    right = draw.random(count) < 1 / (1 + np.exp(-signs @ his))
    return [
        Told(
            str(at), bool(one), True, (Decision(tuple(map(float, row)), bool(one), "card", False),)
        )
        for at, (row, one) in enumerate(zip(signs, right, strict=True))
    ]


assert set(WAYS) < set(get_args(How))

if __name__ == "__main__":
    main()
