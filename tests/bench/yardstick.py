"""The corpus of phrases, spoken by machine voices, heard, read, and held against what was meant.

    python -m tests.bench.yardstick [--hear [--again]] [--voices A,B] [--levels clean,10]
                                    [--half open|held|both] [--limit N] [--fresh] [--show]
                                    [--reliability]

`--hear` first speaks and hears what is not in the cache yet (hours for everything; it may be
stopped and goes on), `--again` also what an earlier state of the recognizers heard. Then, for each
half, level of noise and voice, and for each way of reading (each hearing alone, and all together
as intake does it), it prints: word error rate (jiwer), exact entries, utterances with a doubt,
wrong ones without a doubt ("silent"), those of them with a wrong kind, item or number and not only
a wrong place ("wrong"), doubts on what was exact and plain ("needless"), and utterances in which
nothing was heard ("lost", part of "silent"). The same texts without sound come first. Then, for all
together, why entries were not exact: each counts under the first cause that holds.

`--limit` takes a sample of each half, `--fresh` only what that state of the recognizers heard which
heard last. `--reliability` adds how often what is so sure of itself is right. `--show` lists what
went wrong in the open half, together only; of the held-out half only totals are ever printed.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import jiwer

from fixtures.voices import VoiceError
from joblog.dictation import Context, after, best_of, read
from joblog.form import entry_to_json
from joblog.model import Entry, Reading, Utterance, Vocabulary
from tests.bench.corpus import Phrase, exact, phrases, words
from tests.bench.spoken import (
    LEVELS,
    VOICES,
    Spoken,
    comparable,
    hear,
    last_ears,
    load_hearings,
    mixed,
)
from tests.bench.spoken.cache import ears, rows

TOGETHER = "together"
EVERY_VOICE = "all voices"
USUAL = ("trade", "general free", "general constrained")
WHOSE_CONFIDENCE = (
    "confidence of the hearing, and whether it alone reads exactly",
    "confidence of the entry, and whether it is right",
)
HALVES = {"open": ("open",), "held": ("held",), "both": ("open", "held")}


@dataclass
class Score:
    """Counts over utterances."""

    said: int = 0
    exact: int = 0
    doubted: int = 0
    silent: int = 0
    wrong: int = 0
    needless: int = 0
    lost: int = 0
    wordings: list[tuple[str, str]] = field(default_factory=list)
    """Words said and words heard, of each utterance."""


@dataclass(frozen=True)
class Judged:
    """One utterance, read in one way and held against its phrase."""

    way: str
    said: str
    heard: str
    exact: bool
    but_the_place: bool
    doubted: bool
    needless: bool
    sure: tuple[tuple[float, bool], ...] = ()
    """Of each hearing or, together, each entry: its confidence, and whether it is right."""
    cause: str = ""
    shown: str = ""


def main(arguments: Sequence[str] | None = None) -> None:
    asked = _arguments(arguments)
    chosen = [one for half in HALVES[asked.half] for one in _phrases(half, asked.limit)]
    if asked.hear:
        try:
            hear(chosen, asked.voices, asked.levels, asked.again)
        except VoiceError as error:
            sys.exit(str(error))
    _say_what_is_there(asked.fresh)
    for half in HALVES[asked.half]:
        _measure_half(half, asked)


def _measure_half(half: str, asked: argparse.Namespace) -> None:
    chosen = _phrases(half, asked.limit)
    texts = {phrase.text for phrase in chosen}
    spoken = [
        one
        for one in load_hearings(half, last_ears() if asked.fresh else None)
        if one.phrase.text in texts and one.voice in asked.voices and one.snr in asked.levels
    ]
    written = Score()
    for phrase in chosen:
        reading = read(phrase.text, _vocabulary(), phrase.context)
        _count(written, _judged(phrase, "written", phrase.text, reading))
    scores: dict[tuple[float | None, str, str], Score] = defaultdict(Score)
    causes: dict[float | None, Counter[tuple[str, bool]]] = defaultdict(Counter)
    sure: dict[str, list[tuple[float, bool]]] = defaultdict(list)
    failures = []
    with ProcessPoolExecutor(2) as pool:
        for one, judgements in zip(spoken, pool.map(_judge, spoken, chunksize=64), strict=True):
            for judged in judgements:
                _count(scores[one.snr, one.voice, judged.way], judged)
                _count(scores[one.snr, EVERY_VOICE, judged.way], judged)
                sure[judged.way] += judged.sure
                if judged.cause:
                    causes[one.snr][judged.cause, judged.doubted] += 1
                    failures.append(judged.shown)
    _print_scores(half, written, scores)
    _print_causes(causes, scores)
    if asked.reliability:
        for way, pairs in sure.items():
            _print_reliability(f"{way}: {WHOSE_CONFIDENCE[way == TOGETHER]}", pairs)
    if asked.show and half == "open":
        print("\n\n".join(["", *failures]))


def _judge(one: Spoken) -> list[Judged]:
    """One utterance in all ways of reading, the last of which is all hearings together."""
    judgements = []
    for way in _ways(one):
        text, reading = understood(one, way, _vocabulary())
        judged = _judged(one.phrase, way, text, reading)
        judgements.append(replace(judged, sure=((_confidence(one, way), judged.exact),)))
    text, reading = understood(one, TOGETHER, _vocabulary())
    judged = _judged(one.phrase, TOGETHER, text, reading)
    right = [judged.exact or _is_wanted(entry, one.phrase) for entry in reading.entries]
    judged = replace(judged, sure=tuple(zip(reading.confidence, right, strict=False)))
    if not judged.exact:
        cause = _cause(one, reading, _vocabulary())
        judged = replace(judged, cause=cause, shown=_explained(one, text, reading, cause))
    return [*judgements, judged]


@cache
def _vocabulary() -> Vocabulary:
    return words()


def _is_wanted(entry: Entry, phrase: Phrase) -> bool:
    """Whether this entry is one of the phrase's, wherever it stands among them."""
    return any(
        exact(replace(phrase, entries=(wanted,), free=_free(phrase, at)), Reading((entry,)))
        for at, wanted in enumerate(phrase.entries)
    )


def _free(phrase: Phrase, at: int) -> frozenset[str]:
    whose = f"{at}."
    return frozenset(f"0.{one.removeprefix(whose)}" for one in phrase.free if one.startswith(whose))


def understood(one: Spoken, way: str, vocabulary: Vocabulary) -> tuple[str, Reading]:
    """The words taken for heard and the reading of them: of one hearing alone, or `TOGETHER`.

    Where the voice detector made several stretches of one phrase, they are read one after the
    other, as in a recording, and their entries and doubts are put together.
    """
    context = one.phrase.context
    texts: list[str] = []
    whole = Reading()
    for utterance in one.utterances:
        text, reading = _read(utterance, way, vocabulary, context)
        context = after(context, reading)
        texts.append(text)
        moved = tuple(
            replace(doubt, entry=doubt.entry + len(whole.entries)) for doubt in reading.doubts
        )
        whole = replace(
            whole,
            entries=whole.entries + reading.entries,
            doubts=whole.doubts + moved,
            confidence=whole.confidence + reading.confidence,
        )
    return " ".join(texts), whole


def _read(
    utterance: Utterance, way: str, vocabulary: Vocabulary, context: Context
) -> tuple[str, Reading]:
    hearings = utterance.hearings
    if way == TOGETHER:
        chosen, reading = best_of(utterance, vocabulary, context)
        return (hearings[chosen].text if hearings else ""), reading
    text = next((one.text for one in hearings if one.recognizer == way), "")
    return text, read(text, vocabulary, context)


def _judged(phrase: Phrase, way: str, text: str, reading: Reading) -> Judged:
    right = exact(phrase, reading)
    anywhere = frozenset(f"{at}.place" for at in range(len(phrase.entries)))
    doubted = bool(reading.doubts)
    return Judged(
        way,
        comparable(phrase.text),
        comparable(text),
        right,
        exact(replace(phrase, free=phrase.free | anywhere), reading),
        doubted,
        doubted and right and phrase.doubt is False,
    )


def _count(score: Score, judged: Judged) -> None:
    score.said += 1
    score.exact += judged.exact
    score.doubted += judged.doubted
    score.silent += not judged.exact and not judged.doubted
    score.wrong += not judged.but_the_place and not judged.doubted
    score.needless += judged.needless
    score.lost += not judged.heard
    score.wordings.append((judged.said, judged.heard))


def _print_scores(
    half: str, written: Score, scores: dict[tuple[float | None, str, str], Score]
) -> None:
    print(f"\n{half} half")
    print(
        f"{'noise':8}{'voice':17}{'read from':21}{'said':>6}{'wer':>8}{'exact':>8}{'doubt':>8}"
        f"{'silent':>8}{'wrong':>8}{'needless':>10}{'lost':>7}"
    )
    _print_row("-", "none", "the text itself", written)
    voices = (*VOICES, *sorted({voice for _, voice, _ in scores} - {*VOICES, EVERY_VOICE}))
    for level in sorted({level for level, _, _ in scores}, key=lambda level: -(level or 999)):
        for voice in (*voices, EVERY_VOICE):
            for (at, whose, way), score in scores.items():
                if (at, whose) == (level, voice):
                    _print_row(_name(level), voice, way, score)


def _print_row(level: str, voice: str, way: str, score: Score) -> None:
    said = [one for one, _ in score.wordings]
    heard = [one for _, one in score.wordings]
    shares = "".join(
        f"{count / score.said:{width}.1%}"
        for count, width in (
            (score.exact, 8), (score.doubted, 8), (score.silent, 8), (score.wrong, 8),
            (score.needless, 10), (score.lost, 7),
        )
    )  # fmt: skip
    print(f"{level:8}{voice:17}{way:21}{score.said:6}{jiwer.wer(said, heard):8.1%}{shares}")


def _cause(one: Spoken, reading: Reading, vocabulary: Vocabulary) -> str:
    """The first reason that holds why the entries of all hearings together are not exact."""
    phrase = one.phrase
    if not exact(phrase, read(phrase.text, vocabulary, phrase.context)):
        return "the text itself is misread"
    if not any(hearing.text for hearings in one.stretches for hearing in hearings):
        return "nothing was heard"
    if len(one.stretches) > 1:
        return "cut into several stretches"
    if any(exact(phrase, understood(one, way, vocabulary)[1]) for way in _ways(one)):
        return "another hearing reads exactly"
    lines = [line for hearing in one.stretches[0] for line in hearing.alternatives]
    if any(exact(phrase, read(line.text, vocabulary, phrase.context)) for line in lines):
        return "an alternative of a hearing reads exactly"
    heard = [comparable(hearing.text) for hearing in one.stretches[0]]
    if comparable(phrase.text) in heard:
        return "heard word for word, read otherwise"
    wanted, found = phrase.entries, [entry_to_json(entry) for entry in reading.entries]
    if _values(wanted, NUMBERS) != _values(found, NUMBERS):
        return "a number is misheard"
    if _values(wanted, {"item"}) != _values(found, {"item"}):
        return "an item is misheard"
    if _values(wanted, {"kind"}) != _values(found, {"kind"}):
        return "what was done is misheard"
    if _values(wanted, {"place"}) != _values(found, {"place"}):
        return "a place is misheard"
    return "anything else is misheard"


NUMBERS = {
    "quantity", "unit_cost", "inches", "square_inches", "pitch", "pieces", "time", "minutes",
    "workers", "hours", "fahrenheit",
}  # fmt: skip


def _values(entries: Iterable[dict[str, Any]], fields: set[str]) -> Counter[tuple[str, str]]:
    """The values in these fields, also of the entry inside a correction, in no order."""
    values: Counter[tuple[str, str]] = Counter()
    for entry in entries:
        values.update((name, str(entry[name])) for name in fields if entry.get(name) is not None)
        values.update(_values([entry["with"]], fields) if entry.get("with") else ())
    return values


def _print_causes(
    causes: dict[float | None, Counter[tuple[str, bool]]],
    scores: dict[tuple[float | None, str, str], Score],
) -> None:
    for level, counted in sorted(causes.items(), key=lambda item: -(item[0] or 999)):
        said = scores[level, EVERY_VOICE, TOGETHER].said
        print(f"\nnot exact, {_name(level)}, share of {said} said: all, of them without a doubt")
        for cause in sorted({cause for cause, _ in counted}, key=lambda one: -_both(counted, one)):
            silent = counted[cause, False] / said
            print(f"  {cause:45}{_both(counted, cause) / said:7.1%}{silent:7.1%}")


def _both(counted: Counter[tuple[str, bool]], cause: str) -> int:
    return counted[cause, True] + counted[cause, False]


def _print_reliability(what: str, pairs: Iterable[tuple[float, bool]]) -> None:
    """How often what is so sure of itself is right: the share that is exact, by confidence."""
    print(f"\n{what}\n  confidence   count   mean   right")
    bins: dict[int, list[tuple[float, bool]]] = defaultdict(list)
    for confidence, right in pairs:
        bins[min(int(confidence * 20), 19)].append((confidence, right))
    for number, inside in sorted(bins.items()):
        mean = sum(confidence for confidence, _ in inside) / len(inside)
        exactly = sum(right for _, right in inside) / len(inside)
        low, high = number / 20, (number + 1) / 20
        print(f"  {low:.2f}-{high:.2f} {len(inside):8} {mean:7.2f} {exactly:7.1%}")


def _confidence(one: Spoken, way: str) -> float:
    return min(
        (
            hearing.confidence
            for hearings in one.stretches
            for hearing in hearings
            if hearing.recognizer == way
        ),
        default=0.0,
    )


def _explained(one: Spoken, text: str, reading: Reading, cause: str) -> str:
    found = [entry_to_json(entry) for entry in reading.entries]
    sound = ", ".join(filter(None, (one.voice, _name(one.snr), one.noise)))
    mark = "DOUBT" if reading.doubts else "SILENT"
    lines = [f"{mark} {one.phrase.text}   [{sound}] {cause}"]
    for hearings in one.stretches:
        for hearing in hearings:
            taken = ">" if hearing.text and hearing.text in text else " "
            lines.append(
                f" {taken} {hearing.recognizer:20} {hearing.confidence:.2f} {hearing.text}"
            )
    lines += [f"   because {doubt.why}" for doubt in reading.doubts]
    lines.append(f"   wanted {[_brief(entry) for entry in one.phrase.entries]}")
    lines.append(f"   found  {[_brief(entry) for entry in found]}")
    return "\n".join(lines)


def _brief(entry: dict[str, object]) -> str:
    shown = {name: value for name, value in entry.items() if value is not None}
    return json.dumps({k: v for k, v in shown.items() if k not in ("as_said", "carried", "note")})


def _ways(one: Spoken) -> tuple[str, ...]:
    """The names of its hearings, in their order; where nothing was heard, the usual ones."""
    names = [hearing.recognizer for hearings in one.stretches for hearing in hearings]
    return tuple(dict.fromkeys(names)) or USUAL


def _say_what_is_there(fresh: bool) -> None:
    """How much is in the cache, who heard it, and how long hearing it took."""
    last = last_ears()
    latest = {
        (row["voice"], row["noise"], row["snr"], row["text"]): row
        for row in rows()
        if not fresh or row["ears"] == last
    }
    if not latest:
        print("nothing has been heard yet; --hear does that")
        return
    states = Counter(row["ears"] for row in latest.values())
    seconds = sum(row["seconds"] for row in latest.values())
    cost: Counter[str] = Counter()
    for row in latest.values():
        cost.update(row["cpu"])
    heard_by = ", ".join(f"{count} by {state}" for state, count in states.items())
    print(
        f"{len(latest)} spoken phrases in the cache, heard {heard_by} (the recognizers now: "
        f"{ears()}); {sum(len(row['stretches']) != 1 for row in latest.values())} were not found "
        "as one stretch of speech"
    )
    speech = sum(
        part["end"] - part["start"] for row in latest.values() for part in row["stretches"]
    )
    shares = ", ".join(f"{name} {spent / speech:.3f}" for name, spent in cost.items())
    print(
        f"CPU seconds a second of speech: {shares}, sum {sum(cost.values()) / speech:.3f}; with "
        f"the pauses around it {sum(cost.values()) / seconds:.3f}"
    )


def _phrases(half: str, limit: int | None) -> list[Phrase]:
    """One half of the corpus, or a fair sample of it, always the same."""
    chosen = [one for one in phrases() if one.held_out == (half == "held")]
    return chosen if limit is None else mixed(chosen)[:limit]


def _name(level: float | None) -> str:
    return "clean" if level is None else f"{level:.0f} dB"


def _arguments(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser("tests.bench.yardstick", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--hear", action="store_true")
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--voices", type=lambda said: said.split(","), default=VOICES)
    parser.add_argument("--levels", type=_levels, default=LEVELS)
    parser.add_argument("--half", choices=HALVES, default="both")
    parser.add_argument("--limit", type=int)
    parser.add_argument("--fresh", action="store_true")
    parser.add_argument("--show", action="store_true")
    parser.add_argument("--reliability", action="store_true")
    return parser.parse_args(arguments)


def _levels(said: str) -> tuple[float | None, ...]:
    return tuple(None if one == "clean" else float(one) for one in said.split(","))


if __name__ == "__main__":
    main()
