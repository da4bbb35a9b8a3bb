"""How many keys a doubt takes in the evening, pressed by somebody who knows what he said.

    python -m tests.bench.evening_keys [--half open|held|both] [--limit N] [--show]

Every utterance of the yardstick's cache (`tests.bench.yardstick`) is read as intake reads it, and
each question that it leaves is answered by the cheapest keys that lead to what was meant: one key
to keep it, to drop it, or for an answer that is offered; else one field edited (one key to open
it, the letters until completion or the number is there, and enter); else the whole sentence is
typed anew. What is in no entry at all is typed as well, and counts with the questions of its
utterance. Of the held half only totals are printed.
"""

from __future__ import annotations

import argparse
import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from fractions import Fraction
from functools import cache
from typing import Any

from joblog.asking.answer import Answer
from joblog.asking.answers import answers_to
from joblog.asking.countable import counts
from joblog.asking.doubts import told_apart
from joblog.asking.looks import RECORDS, unsure_words
from joblog.asking.setting import Setting
from joblog.dictation import Context, after, best_of, read
from joblog.form import describe, entry_to_json
from joblog.model import BookEntry, Entry, Reading, Settled, Utterance
from joblog.quantity import tape
from joblog.service.questions import asked_together
from tests.bench.corpus import Phrase, exact, standing
from tests.bench.spoken import Spoken, load_hearings
from tests.bench.yardstick import HALVES, _phrases, _vocabulary

NOW = datetime(2026, 10, 5, 15, 0, tzinfo=UTC)
Wanted = list[tuple[int, dict[str, Any]]]
"""What was meant and is in no entry yet: its place in the phrase, and the entry."""


@dataclass(frozen=True)
class Asked:
    """One question, and what it took."""

    how: str
    """keep, drop, answer N, field, fields or sentence."""
    keys: int
    answers: int
    shown: str = ""


def main(arguments: Sequence[str] | None = None) -> None:
    asked = _arguments(arguments)
    for half in HALVES[asked.half]:
        texts = {phrase.text for phrase in _phrases(half, asked.limit)}
        spoken = [one for one in load_hearings(half) if one.phrase.text in texts]
        with ProcessPoolExecutor(2) as pool:
            found = list(pool.map(_pressed, spoken, chunksize=32))
            looks = list(pool.map(_looked_at, spoken, chunksize=32))
        entries = sum(count for count, _ in found)
        _print(half, len(spoken), entries, [one for _, each in found for one in each])
        records, shown = (sum(count) for count in zip(*looks, strict=True))
        print(
            f"  {records} records that nobody doubts, {shown} shown for their words: "
            f"{100 * shown / entries:.1f} a hundred entries"
        )
        if asked.show and half == "open":
            _show(one for _, each in found for one in each)


def _pressed(one: Spoken) -> tuple[int, list[Asked]]:
    """The entries of an utterance, and what each question of it took."""
    kept, settings = _heard(one)
    wanted: Wanted = list(enumerate(standing(one.phrase.entries)))
    doubtful = [entry for entry in kept if entry.open]
    if not doubtful:
        return len(kept), []
    for entry in kept:
        if not entry.open:
            _take(entry.entry, one.phrase, wanted)
    right = {entry.id for entry in doubtful if _take(entry.entry, one.phrase, wanted)}
    found: list[Asked] = []
    settled: set[int] = set()
    left: list[BookEntry] = []
    for group in asked_together(doubtful):
        if all(entry.id in settled for entry in group):
            continue
        asked = _in_one_key(group, right, one.phrase, wanted, settings)
        if asked is None and len(group) > 1:
            # No key settles all of them: each is settled by itself.
            for entry in group:
                asked = _in_one_key([entry], right, one.phrase, wanted, settings)
                if asked is None:
                    left.append(entry)
                else:
                    found.append(asked[0])
                    settled |= asked[1]
        elif asked is None:
            left.append(group[0])
        else:
            found.append(asked[0])
            settled |= asked[1]
    found += _typed_or_dropped(left, one.phrase, wanted, settings)
    # One note more or less beside other entries is not wrong, as `corpus.exact` has it.
    lost = [entry for _, entry in wanted if entry["kind"] != "note" or not kept]
    if lost:
        keys = 2 + len(one.phrase.text)
        found.append(Asked("sentence", keys, 0, f"LOST {one.phrase.text}: {lost}"))
    return len(kept), found


def _heard(one: Spoken) -> tuple[list[BookEntry], dict[int, Setting]]:
    """The entries as the book would keep them, and where each stands."""
    context = one.phrase.context
    kept: list[BookEntry] = []
    settings: dict[int, Setting] = {}
    for number, utterance in enumerate(one.utterances):
        _, reading = best_of(utterance, _vocabulary(), context)
        breath = _as_kept(reading, utterance, number, len(kept))
        for entry in breath:
            settings[entry.id] = _setting(entry, breath, kept, utterance, context)
        kept += breath
        context = after(context, reading)
    return kept, settings


def _as_kept(reading: Reading, utterance: Utterance, number: int, first: int) -> list[BookEntry]:
    words = utterance.hearings[0].text if utterance.hearings else ""
    kept = []
    for at, entry in enumerate(reading.entries):
        doubts = tuple(doubt.why for doubt in reading.doubts if doubt.entry == at)
        kept.append(
            BookEntry(first + at, 1, NOW, entry, doubts, "heard", "heard", NOW, words, number)
        )
    return kept


def _setting(
    entry: BookEntry,
    breath: Sequence[BookEntry],
    before: Sequence[BookEntry],
    utterance: Utterance,
    context: Context,
) -> Setting:
    told = [
        BookEntry(-1, 1, NOW, one, (), "accepted", "accepted", NOW, "") for one in context.standing
    ]
    return Setting(
        (entry,),
        lambda text: read(text, _vocabulary(), context),
        _vocabulary(),
        context=context,
        breath=tuple(breath),
        around=(*told, *before),
        utterance=utterance,
    )


def _in_one_key(
    group: Sequence[BookEntry],
    right: set[int],
    phrase: Phrase,
    wanted: Wanted,
    settings: dict[int, Setting],
) -> tuple[Asked, set[int]] | None:
    """How one key settles all entries of a question, and which it settles; None where none does."""
    setting = replace(settings[group[0].id], asked=tuple(group))
    ids = {one.id for one in group}
    own = [one for one in group if one.id in right]
    answers = _answers(setting)
    if len(own) == len(group) and all(counts(one.entry, setting.items) for one in group):
        return Asked("keep", 1, len(answers)), ids
    for number, answer in enumerate(answers, 1):
        left = [*wanted, *((_place_of(one.entry, phrase), entry_to_json(one.entry)) for one in own)]
        if _all_meant(answer.settles, phrase, left):
            wanted[:] = [one for one in left if one in wanted]
            ids |= {each.entry for each in answer.settles}
            return Asked(f"answer {number}", 1, len(answers)), ids
    return None


def _answers(setting: Setting) -> tuple[Answer, ...]:
    return answers_to(setting, told_apart(why for one in setting.asked for why in one.doubts))


def _typed_or_dropped(
    left: Sequence[BookEntry], phrase: Phrase, wanted: Wanted, settings: dict[int, Setting]
) -> Iterator[Asked]:
    """What no single key makes right: fields are edited where that is least, what was never meant
    is dropped, and the rest is typed."""
    standing_yet = list(left)
    while standing_yet and wanted:
        keys, one, meant = min(
            (_keys_of_edits(one.entry, meant[1]), at, other)
            for at, one in enumerate(standing_yet)
            for other, meant in enumerate(wanted)
        )
        kept, told = standing_yet.pop(one), wanted.pop(meant)[1]
        sentence = 2 + len(phrase.text)
        fields = len(_differing(kept.entry, told))
        how = "sentence" if keys >= sentence else "field" if fields == 1 else "fields"
        answers = _answers(settings[kept.id])
        lines = [
            f"{how} {min(keys, sentence)}: {phrase.text}",
            f"   heard  {kept.said}",
            f"   stands {describe(kept.entry)}   {list(kept.doubts)}",
            f"   meant  {told}",
            *(f"   {number} {one.says}  ({one.because})" for number, one in enumerate(answers, 1)),
        ]
        yield Asked(how, min(keys, sentence), len(answers), "\n".join(lines))
    for _ in standing_yet:
        yield Asked("drop", 1, 0)


def _looked_at(one: Spoken) -> tuple[int, int]:
    """The records in it that nobody doubts, and how many of them are shown for their words."""
    kept, settings = _heard(one)
    records = [entry for entry in kept if not entry.open and entry.entry.kind in RECORDS]
    said = [settings[entry.id].utterance for entry in records]
    shown = [
        bool(heard and unsure_words(entry.entry, heard.hearings))
        for entry, heard in zip(records, said, strict=True)
    ]
    return len(records), sum(shown)


def _all_meant(settles: Sequence[Settled], phrase: Phrase, wanted: Wanted) -> bool:
    """Whether all that an answer makes was meant; takes it out of what was."""
    left = list(wanted)
    for one in settles:
        for entry in (one.becomes, *one.beside):
            if entry is not None and not _take(entry, phrase, left):
                return False
    fewer = len(left) < len(wanted)
    if fewer or not wanted:
        wanted[:] = left
    return fewer


def _take(entry: Entry, phrase: Phrase, wanted: Wanted) -> bool:
    """Whether this entry is one of those wanted; takes it out of them."""
    for at, (place, meant) in enumerate(wanted):
        whose = f"{place}."
        free = frozenset(
            f"0.{one.removeprefix(whose)}" for one in phrase.free if one.startswith(whose)
        )
        if exact(replace(phrase, entries=(meant,), free=free), Reading((entry,))):
            wanted.pop(at)
            return True
    return False


def _place_of(entry: Entry, phrase: Phrase) -> int:
    left: Wanted = list(enumerate(standing(phrase.entries)))
    before = list(left)
    _take(entry, phrase, left)
    return next((place for place, _ in before if place not in dict(left)), 0)


def _differing(entry: Entry, meant: dict[str, Any]) -> set[str]:
    """The fields in which an entry differs from what was meant."""
    stands = entry_to_json(entry)
    return {name for name in {*stands, *meant} - NOT_TYPED if stands.get(name) != meant.get(name)}


NOT_TYPED = {"note", "reason", "as_said", "carried", "day", "with", "back", "action"}


def _keys_of_edits(entry: Entry, meant: dict[str, Any]) -> int:
    """Keys to edit the fields in which an entry differs: one to open it, and of each what finds it,
    what is typed, and enter. A correction, or another kind with other fields, is typed anew."""
    names = _differing(entry, meant)
    if "correction" in (entry.kind, meant["kind"]) or ("kind" in names and len(names) > 1):
        return NO_EDIT
    keys = 1
    for name in names:
        value = str(meant.get(name) or "")
        completed = _until_completed(name, value) if name in ("item", "place", "task") else None
        typed = 1 if name == "kind" else completed or len(_as_typed(meant, name))
        keys += typed + (1 if len(names) == 1 else 2)
    return keys


NO_EDIT = 10_000


def _as_typed(meant: dict[str, Any], name: str) -> str:
    """A value as a person types it into its field."""
    value = meant.get(name)
    if value is None:
        return ""
    if name in ("inches", "quantity", "hours", "minutes"):
        return tape(Fraction(value))
    return str(value)


@cache
def _names(field: str) -> tuple[str, ...]:
    words = _vocabulary()
    if field == "item":
        return tuple(item.name for item in words.items)
    return words.places if field == "place" else tuple(task.name for task in words.tasks)


def _until_completed(field: str, value: str) -> int | None:
    """Letters until a name is the only one that begins so, and one key that completes it."""
    names = _names(field)
    if value not in names:
        return None
    for letters in range(1, len(value) + 1):
        if [one for one in names if one.startswith(value[:letters])] == [value]:
            return min(letters + 1, len(value))
    return len(value)


def _print(half: str, said: int, entries: int, found: Sequence[Asked]) -> None:
    count = len(found)
    if not count:
        print(f"{half}: no questions in {said} utterances")
        return
    keys = sum(one.keys for one in found)
    sentences = [one for one in found if one.how == "sentence"]
    short = [one for one in found if one.how != "sentence"]
    print(
        f"\n{half} half: {said} utterances, {entries} entries, {count} questions\n"
        f"  keys a question          {keys / count:6.2f}   with every letter of a sentence\n"
        f"  without the sentences    {sum(one.keys for one in short) / len(short):6.2f}\n"
        f"  one key                  {sum(one.keys == 1 for one in found) / count:7.1%}\n"
        f"  a sentence               {len(sentences) / count:7.1%}"
    )
    ways = Counter(one.how.split()[0] for one in found)
    print("  " + ", ".join(f"{how} {many / count:.1%}" for how, many in ways.most_common()))
    numbers = Counter(one.how for one in found if one.how.startswith("answer"))
    print("  " + ", ".join(f"{how} {many}" for how, many in sorted(numbers.items())))
    print(f"  answers offered          {sum(one.answers for one in found) / count:6.2f}")


def _show(found: Iterable[Asked]) -> None:
    for one in itertools.filterfalse(lambda one: one.keys == 1, found):
        print(one.shown, end="\n\n")


def _arguments(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser("tests.bench.evening_keys", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--half", choices=HALVES, default="open")
    parser.add_argument("--limit", type=int)
    parser.add_argument("--show", action="store_true")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    main()
