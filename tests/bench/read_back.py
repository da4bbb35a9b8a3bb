"""What the read-backs of the corpus say, read again, and how long they take.

    python -m tests.bench.read_back [--seconds]

Every entry that the open half is read as, and every entry that should stand after the open half of
the conversations, is said and the words are read: the number, item and kind must come out again.
`--seconds` also speaks each with espeak-ng and measures.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import median
from time import perf_counter

from joblog.aloud import say_entry
from joblog.aloud.numbers import size_in_words
from joblog.aloud.say import SECONDS
from joblog.aloud.voices import EspeakVoice
from joblog.dictation import Context, fact_of, read
from joblog.form import ATTRIBUTES, entry_from_json
from joblog.listening.questions import is_only_words
from joblog.model import Entry, Vocabulary
from tests.bench.corpus import Phrase, phrases, site, words
from tests.bench.corpus.conversations import talks


@dataclass(frozen=True)
class Said:
    """What is said of an entry."""

    of: str
    """The words that it came from."""
    entry: Entry
    line: str
    vocabulary: Vocabulary
    context: Context

    @property
    def comes_back(self) -> bool:
        """Whether the words are read as the same fact."""
        back = read(self.line, self.vocabulary, self.context).entries
        return any(bare(one) == bare(self.entry) for one in back)


def main() -> None:
    for name, said in (("corpus", list(read_backs())), ("conversations", list(of_talks()))):
        for one in said:
            if not one.comes_back:
                back = read(one.line, one.vocabulary, one.context).entries
                print(f"{one.of!r}\n   said {one.line!r}\n   read {list(map(told, back))}")
        same = sum(one.comes_back for one in said)
        print(f"{name}: {same} of {len(said)} read back to the same fact")
        if "--seconds" in sys.argv:
            _seconds([one.line for one in said])


def read_backs() -> Iterator[Said]:
    """Of every entry that the open half is read as and that holds a fact."""
    vocabulary = words()
    for phrase in _open():
        for entry in read(phrase.text, vocabulary, phrase.context).entries:
            entry = entry.replacement or entry
            if entry.kind != "correction" and not is_only_words(entry):
                yield _said(phrase.text, entry, vocabulary, phrase.context)


def of_talks() -> Iterator[Said]:
    """Of every entry that should stand after a conversation of the open half."""
    vocabulary = site.words()
    for talk in talks():
        for shown in talk.entries:
            entry = entry_from_json({name: value for name, value in shown.items() if value})
            if not is_only_words(entry):
                yield _said(" / ".join(talk.lines), entry, vocabulary, Context(at=talk.at))


def _said(of: str, entry: Entry, vocabulary: Vocabulary, context: Context) -> Said:
    here = Context(at=context.at, place=entry.place)
    return Said(of, entry, say_entry(entry), vocabulary, here)


def told(entry: Entry) -> dict[str, object]:
    """What an entry holds, for showing."""
    fields = ((name, getattr(entry, name)) for name in entry.__slots__)
    return {name: value for name, value in fields if value not in (None, (), 0)}


def _open() -> tuple[Phrase, ...]:
    return tuple(phrase for phrase in phrases() if not phrase.held_out)


def bare(entry: Entry) -> tuple[object, ...]:
    """The fact, without what is mere words, what the item's own name tells already, and the unit
    of no amount."""
    name = f" {size_in_words(entry.item or '')} "
    said = ((one, size_in_words(str(getattr(entry, one)))) for one in ATTRIBUTES)
    told = [one for one, words_for_it in said if f" {words_for_it} " in name]
    unit = entry.unit if entry.quantity is not None or entry.kind == "price" else None
    return fact_of(replace(entry, note=None, unit=unit, **dict.fromkeys(told)))


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
