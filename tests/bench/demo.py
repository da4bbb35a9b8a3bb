"""What the demo's recordings are heard and read as, against what was said in them.

    python -m tests.bench.demo

Prints, for each voice with its noise, the word error rate (jiwer) and the share of things said
that became exactly the right entries: for each hearing alone and for all together as intake does
it. "silent" is the share of things said that became a wrong entry without any doubt.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

import jiwer

from fixtures.demo_script import RECORDINGS, DemoRecording, Line
from joblog.dictation import Context, after, best_of, candidates, read
from joblog.dictation.words import words_of
from joblog.form import entry_to_json
from joblog.model import Reading, Utterance, Vocabulary
from joblog.plan import read_csv, vocabulary
from joblog.speech import listen, recognizers

FIXTURES = Path(__file__).parents[2] / "fixtures" / "demo"
WAYS = ("trade", "general free", "general constrained", "together")


@dataclass
class Score:
    """Counts over things said."""

    said: int = 0
    words: int = 0
    wrong_words: int = 0
    exact: int = 0
    doubted: int = 0
    silent: int = 0


def main() -> None:
    plan, _ = read_csv(FIXTURES / "plan.csv")
    words = vocabulary(plan)
    ears = recognizers()
    scores: dict[tuple[str, str], Score] = defaultdict(Score)
    for recording in RECORDINGS:
        heard = listen(FIXTURES / "recordings" / recording.name, words, ears, candidates)
        if len(heard.utterances) != len(recording.lines):
            print(f"{recording.name}: {len(recording.lines)} said, {len(heard.utterances)} heard")
        for way in WAYS:
            for kind in (_name(recording), "all"):
                _measure(recording, heard.utterances, way, words, scores[kind, way])
    _print(scores)


def _measure(
    recording: DemoRecording,
    utterances: tuple[Utterance, ...],
    way: str,
    vocabulary: Vocabulary,
    score: Score,
) -> None:
    context = Context()
    start = datetime.fromisoformat(recording.made)
    for line, utterance in zip(recording.lines, utterances, strict=False):
        context = replace(context, at=start + timedelta(seconds=utterance.start))
        text, reading = _read(way, utterance, vocabulary, context)
        context = after(context, reading)
        said, heard = " ".join(words_of(line.text)), " ".join(words_of(text))
        counted = jiwer.process_words(_spelled(said), _spelled(heard) or "-")
        score.said += 1
        score.words += counted.hits + counted.substitutions + counted.deletions
        score.wrong_words += counted.substitutions + counted.deletions + counted.insertions
        exact = matches(line, reading)
        score.exact += exact
        score.doubted += bool(reading.doubts)
        score.silent += not exact and not reading.doubts
    score.said += len(recording.lines) - min(len(recording.lines), len(utterances))


def _read(
    way: str, utterance: Utterance, vocabulary: Vocabulary, context: Context
) -> tuple[str, Reading]:
    hearings = utterance.hearings
    if way == "together":
        chosen, reading = best_of(utterance, vocabulary, context)
        return hearings[chosen].text if hearings else "", reading
    text = next((one.text for one in hearings if one.recognizer == way), "")
    return text, read(text, vocabulary, context)


def matches(line: Line, reading: Reading) -> bool:
    """True when the entries are those of the script, in every field and in every word."""
    found = [json.loads(json.dumps(entry_to_json(entry))) for entry in reading.entries]
    return [told(entry) for entry in found] == [told(entry) for entry in line.entries]


def told(entry: Mapping[str, object]) -> dict[str, str]:
    """What an entry says; that its place was said before and not here is not compared."""
    return {
        name: str(value)
        for name, value in entry.items()
        if value not in (None, "") and name != "carried"
    }


_FIGURES = {str(n): word for n, word in enumerate("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen".split())}  # fmt: skip  # noqa: E501


def _spelled(text: str) -> str:
    return " ".join(_FIGURES.get(word, word) for word in text.split())


def _name(recording: DemoRecording) -> str:
    noise = f" + {recording.noise[0]} {recording.noise[1]:.0f} dB" if recording.noise else ""
    return recording.voice + noise


def _print(scores: dict[tuple[str, str], Score]) -> None:
    print(f"{'voice':28}{'hearing':22}{'said':>5}{'wer':>8}{'exact':>8}{'doubted':>9}{'silent':>8}")
    for (voice, way), score in scores.items():
        print(
            f"{voice:28}{way:22}{score.said:5}{score.wrong_words / max(1, score.words):8.1%}"
            f"{score.exact / score.said:8.1%}{score.doubted / score.said:9.1%}"
            f"{score.silent / score.said:8.1%}"
        )


if __name__ == "__main__":
    main()
