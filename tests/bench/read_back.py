"""What the read-backs of the corpus say, read again, and how long they take.

    python -m tests.bench.read_back [--seconds]

Every entry of the open half is said and the words are read: the number, item and kind must come
out again. `--seconds` also speaks each with espeak-ng and measures.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import median
from time import perf_counter

from joblog.aloud import say_entry
from joblog.aloud.say import SECONDS
from joblog.aloud.voices import EspeakVoice
from joblog.dictation import Context, fact_of, read
from joblog.model import Entry
from tests.bench.corpus import Phrase, phrases, words

TEXT = ("note", "problem", "covered", "photo")


def main() -> None:
    said = list(read_backs())
    vocabulary = words()
    same = 0
    for text, entry, line in said:
        back = read(line, vocabulary, Context(place=entry.place)).entries
        if any(bare(one) == bare(entry) for one in back):
            same += 1
        else:
            print(f"{text!r}\n   said {line!r}\n   read {[bare(one) for one in back]}")
    print(f"{same} of {len(said)} read back to the same fact")
    if "--seconds" in sys.argv:
        _seconds([line for _, _, line in said])


def read_backs() -> Iterator[tuple[str, Entry, str]]:
    """(words, entry, what is said of it) of every entry of the open half that holds a fact."""
    vocabulary = words()
    for phrase in _open():
        for entry in read(phrase.text, vocabulary, phrase.context).entries:
            entry = entry.replacement or entry
            if entry.kind not in (*TEXT, "correction"):
                yield phrase.text, entry, say_entry(entry)


def _open() -> tuple[Phrase, ...]:
    return tuple(phrase for phrase in phrases() if not phrase.held_out)


def bare(entry: Entry) -> tuple[object, ...]:
    return fact_of(replace(entry, note=None))


def _seconds(lines: Sequence[str]) -> None:
    voice = EspeakVoice()
    begun, long = list[float](), list[float]()
    for line in lines:
        at = perf_counter()
        sound, rate = voice.say(line)
        begun.append(perf_counter() - at)
        long.append(len(sound) / rate)
    print(f"sound is there after {_of(begun)}, and lasts {_of(long)}, {max(long):.2f} s at most")
    print(f"{sum(one > SECONDS for one in long)} of {len(long)} last over {SECONDS} s")


def _of(seconds: Sequence[float]) -> str:
    ranked = sorted(seconds)
    return f"{median(ranked):.3f} s (median), {ranked[len(ranked) * 95 // 100]:.3f} s (95th)"


if __name__ == "__main__":
    main()
