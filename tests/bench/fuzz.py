"""The dictation room on random strings of its own words: it must neither fall over nor invent.

    python -m tests.bench.fuzz [--count N] [--seed N]

Half of the strings are of all words that the room knows, numbers, what people write in short, the
catalog's items with their sizes, and places among them, and are read after what was said a moment
ago: reading one must raise nothing, doubts must be about entries that are there, every entry must
survive its JSON form, and what stands after it must be readable on. The other half hold no word
with a number in it: no entry read from one may hold a number. A million strings take half an hour.
Prints what went wrong, shortened to the fewest words that still do, and exits with 1 if anything
did.
"""

from __future__ import annotations

import argparse
import itertools
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from joblog.dictation import Context, after, competing, read
from joblog.dictation.grammar import known_words
from joblog.dictation.numbers import NUMBER_WORDS
from joblog.form import entry_from_json, entry_to_json
from tests.bench.corpus.site import words
from tests.dictation.test_fuzz import WORDS_WITH_A_NUMBER_IN_THEM, amounts

VOCABULARY = words()
FIGURES = {
    "7/8", "3", "12", "4 1/2", "11 5/8", "7:30", "13.50", "$4", "12'", '6"', "9x14", "#4", "1x8x12",
    "(3)", "5/4x6", "8d", "$14.90/stick", "7:30-4:00", '16" o.c.', "41' 6\"", "2pc", "N eave", ",",
    ".", ";", "w/", "7:75", "0/0", "1/0", "13/12", "24:00", "…",
}  # fmt: skip
EARLIER = (
    "north eave forty one six",
    "used nine sheets of soffit on the garage",
    "started at seven, two of us",
    "two sticks of one by eight fascia left",
    "tomorrow bring the brake, fascia is fourteen ninety a stick now",
)
"""What was said before, in turn, and nothing."""
SAID_AT = datetime(2026, 10, 14, 9, 20)
MOST_WORDS = 14
SHOWN = 20

Wrong = Callable[[str], str | None]
"""What is wrong with the reading of a text; None where nothing is."""


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.fuzz", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--count", type=int, default=1_000_000)
    arguments.add_argument("--seed", type=int, default=1)
    asked = arguments.parse_args()
    draw = random.Random(asked.seed)
    named = {word for name in _names() for word in name.split()}
    everything = sorted(known_words() | NUMBER_WORDS | FIGURES | named)
    earlier = [after(Context(SAID_AT), read(said, VOCABULARY)) for said in EARLIER]
    contexts = itertools.cycle([None, Context(SAID_AT), *earlier])
    wordless = sorted(
        word
        for word in (known_words() | named) - NUMBER_WORDS - WORDS_WITH_A_NUMBER_IN_THEM
        if not any(character.isdigit() for character in word)
    )
    began = time.monotonic()
    found = _search(draw, everything, asked.count // 2, lambda text: _falls_over(text, contexts))
    found |= _search(draw, wordless, asked.count - asked.count // 2, _invents)
    took = time.monotonic() - began
    print(f"{asked.count:,} strings, {asked.count / took:,.0f} a second: {len(found)} faults")
    for text, what in sorted(found.items())[:SHOWN]:
        print(f"  {what}: {text!r}")
    return 1 if found else 0


def _names() -> list[str]:
    """All that items, places and tasks are called."""
    names = [*VOCABULARY.places]
    for one in (*VOCABULARY.items, *VOCABULARY.tasks):
        names += [one.name.lower(), *one.spoken]
    return names


def _search(
    draw: random.Random, vocabulary: Sequence[str], count: int, wrong: Wrong
) -> dict[str, str]:
    """The shortest strings found that read wrongly, with what is wrong."""
    found: dict[str, str] = {}
    for _ in range(count):
        said = [draw.choice(vocabulary) for _ in range(draw.randint(1, MOST_WORDS))]
        if (what := wrong(" ".join(said))) is not None:
            found.setdefault(_shortest(said, what, wrong), what)
    return found


def _shortest(said: list[str], what: str, wrong: Wrong) -> str:
    """The string without every word that the fault does not need."""
    at = 0
    while at < len(said):
        fewer = said[:at] + said[at + 1 :]
        if wrong(" ".join(fewer)) == what:
            said = fewer
        else:
            at += 1
    return " ".join(said)


def _falls_over(text: str, contexts: Iterator[Context | None]) -> str | None:
    context = next(contexts)
    try:
        reading = read(text, VOCABULARY, context)
        survived = [entry_from_json(entry_to_json(entry)) for entry in reading.entries]
        read("no, nine", VOCABULARY, after(context or Context(), reading))
        if len(text) % 64 == 0:
            competing(text, VOCABULARY, context)
    except Exception as error:  # Whatever it is, a person's words must never raise it.
        return f"raises {type(error).__name__}"
    if any(not 0 <= doubt.entry < len(reading.entries) for doubt in reading.doubts):
        return "doubts an entry that is not there"
    return None if survived == list(reading.entries) else "is another entry after its JSON form"


def _invents(text: str) -> str | None:
    try:
        reading = read(text, VOCABULARY)
    except Exception as error:
        return f"raises {type(error).__name__}"
    invented = any(amount for entry in reading.entries for amount in amounts(entry))
    return "holds a number that was not said" if invented else None


if __name__ == "__main__":
    sys.exit(main())
