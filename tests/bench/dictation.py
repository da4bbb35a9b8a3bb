"""The dictation room alone on the corpus of phrases, without sound.

    python -m tests.bench.dictation [--show]

Prints, for the practice phrases and both halves: exact entries, doubts, wrong entries without a
doubt ("silent"), doubts that a careful person would not have had, and utterances per second.
`--show` lists what went wrong in the first two; of the held-out half only counts are printed.
"""

from __future__ import annotations

import json
import sys
import time

from joblog.dictation import read
from joblog.form import entry_to_json
from tests.bench.corpus import Phrase, exact, figures, phrases, plain, practice, words

LOOKED_AT = ("practice", "open", "plain")
"""Halves whose phrases may be shown; the others are only counted."""


def main(show: bool) -> None:
    vocabulary = words()
    every = phrases()
    halves = {
        "practice": practice(),
        "open": [phrase for phrase in every if not phrase.held_out],
        "held out": [phrase for phrase in every if phrase.held_out],
        "plain": [phrase for phrase in plain() if not phrase.held_out],
        "plain out": [phrase for phrase in plain() if phrase.held_out],
    }
    for name, half in halves.items():
        found = figures(half, vocabulary)
        count = found.phrases
        print(
            f"{name:9} {count} phrases: exact {found.exact / count:.1%}, "
            f"doubted {found.doubted / count:.1%}, silent {found.silent / count:.1%}, "
            f"needless doubts {found.needless / count:.1%}, missed doubts {found.missed}"
        )
        if show and name in LOOKED_AT:
            for phrase in half:
                reading = read(phrase.text, vocabulary, phrase.context)
                if not exact(phrase, reading):
                    _explain(phrase, [entry_to_json(e) for e in reading.entries], reading.doubts)
    began = time.process_time()
    for _ in range(3):
        for phrase in every:
            read(phrase.text, vocabulary, phrase.context)
    print(f"{3 * len(every) / (time.process_time() - began):,.0f} utterances a second of one core")


def _explain(phrase: Phrase, found: object, doubts: object) -> None:
    print(f"\n{'DOUBT ' if doubts else 'SILENT'} {phrase.text}")
    print(f"   wanted {[_brief(entry) for entry in phrase.entries]}")
    print(f"   found  {[_brief(entry) for entry in found]}")  # type: ignore[attr-defined]


def _brief(entry: dict[str, object]) -> str:
    shown = {name: value for name, value in entry.items() if value is not None}
    return json.dumps({k: v for k, v in shown.items() if k not in ("as_said", "carried", "note")})


if __name__ == "__main__":
    main("--show" in sys.argv)
