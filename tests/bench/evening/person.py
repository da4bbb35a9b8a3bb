"""Somebody who knows what he said: which keys he presses at a question, and what he must type.

He takes one key where one is right, keeping it or an answer or dropping it; else he puts the
fields right that differ, with what the job completes; else he says the whole thing in other words.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import product
from pathlib import Path
from typing import Any

from joblog.form import entry_from_json, entry_to_json
from joblog.model import BookEntry, Entry
from joblog.service import Desk, ServiceError, open_desk, record
from joblog.service.editing import (
    NAMES,
    change_of,
    fields_in_doubt,
    lines,
    narrowed,
    offered,
    typed,
)
from joblog.service.places import Place, opened
from joblog.service.questions import Question
from joblog.service.reading import reader_instead
from joblog.service.rereading import revise, words_of
from tests.bench.evening.story import JOB, Told, told

LATE = 1.5
"""Seconds by which the listener may begin before or after what was said."""
WORDS_OF_A_SENTENCE = 3
"""Whoever types so many into a field has typed a sentence."""


@dataclass(frozen=True)
class Answered:
    """What one question took."""

    how: str
    """keep, answer N, drop, edit, words, or to drop it and write it anew."""
    keys: tuple[str, ...]
    """Names of keys; single letters are typed."""
    sentence: bool = False
    anew: int = 0
    """Keys to write it in anew on another screen, which are counted and not pressed."""

    @property
    def count(self) -> int:
        return len(self.keys) + self.anew


@dataclass
class Person:
    """Somebody at a desk; `starts` tells of each recording when each thing was said in it."""

    desk: Desk
    starts: Mapping[str, Sequence[float]]
    _told: dict[str, tuple[Told, ...]] = field(default_factory=dict)

    @classmethod
    @contextmanager
    def of(cls, folder: Path) -> Iterator[Person]:
        """Him, at a copy of the book that was told into the folder."""
        starts = json.loads((folder / "starts.json").read_text("utf-8"))
        with tempfile.TemporaryDirectory() as beside:
            copied = Path(beside) / "book"
            shutil.copytree(folder / "book", copied)
            with opened(Place(copied)) as book:
                yield cls(open_desk(book, JOB), starts)

    @property
    def doubts(self) -> int:
        return sum(one.open for one in record.read_entries(self.desk))

    def answers(self, question: Question) -> Answered:
        """What he does about a question."""
        as_it_stands = [(one.id, [one.entry]) for one in question.entries]
        if question.keep and self._all_meant(question, as_it_stands):
            return Answered("keep", ("a",))
        for number, answer in enumerate(question.answers, start=1):
            made = [
                (one.entry, [*([] if one.becomes is None else [one.becomes]), *one.beside])
                for one in answer.settles
            ]
            if self._all_meant(question, made):
                return Answered(f"answer {number}", (str(number),))
        wanted = self._wanted(question)
        if not wanted:
            return Answered("drop", ("d",))
        first = question.entries[0]
        edited = min(
            (keys for meant in wanted if (keys := self._edited(first, meant)) is not None),
            key=lambda one: one.count,
            default=None,
        )
        words = self._in_words(first, wanted)
        ways = [way for way in (edited, words) if way is not None]
        if not ways:
            anew = 2 + sum(len(one.said) for one in self.lines(first))
            return Answered("drop, and anew", ("d",), sentence=True, anew=anew)
        return min(ways, key=lambda way: way.count)

    # --- what was meant -----------------------------------------------------------------------

    def lines(self, entry: BookEntry) -> tuple[Told, ...]:
        """What was said where an entry was heard."""
        found = record.sound_of(self.desk, entry)
        if found is None:
            return ()
        said, recording = found
        heard = said.utterance
        if recording.name not in self._told:
            self._told[recording.name] = told(recording.name)
        return tuple(
            one
            for one, start in zip(
                self._told[recording.name], self.starts[recording.name], strict=True
            )
            if heard.start - LATE < start < heard.end
        )

    def right(self, entry: BookEntry) -> bool:
        """Whether an entry as it stands is one of those meant."""
        meant = [one for line in self.lines(entry) for one in line.entries]
        return any(same(entry.entry, one) for one in meant)

    def _wanted(self, question: Question) -> list[dict[str, Any]]:
        """What was meant where a question's entries were heard, less what others say already."""
        asked = {one.id for one in question.entries}
        words = {id(one): one for entry in question.entries for one in self.lines(entry)}
        left = [meant for line in words.values() for meant in line.entries]
        for other in record.read_entries(self.desk):
            if other.id in asked or other.standing == "dropped" or other.entry.kind == "correction":
                continue
            if any(id(one) in words for one in self.lines(other)):
                _take(other.entry, left)
        return left

    def _all_meant(self, question: Question, made: Iterable[tuple[int, Sequence[Entry]]]) -> bool:
        """Whether what would stand of a question's entries is what was meant, all of it."""
        left = self._wanted(question)
        settled = set()
        for entry, become in made:
            settled.add(entry)
            if not all(_take(one, left) for one in become):
                return False
        return not left and settled >= {one.id for one in question.entries}

    # --- typing -------------------------------------------------------------------------------

    def _edited(self, entry: BookEntry, meant: dict[str, Any]) -> Answered | None:
        """The keys that put an entry's fields right one by one; None where they cannot be.

        The line of what is doubted is open already; from an open line tab leads to the next one and
        up to the one before, enter keeps it and goes back to what is left in doubt.
        """
        wanted = entry_from_json({"kind": meant["kind"], **meant})
        keys: list[str] = ["e"]
        sentence = False
        now = entry
        open_at = self._next_in_doubt(now, ())
        opened = open_at is not None
        at = open_at or "kind"
        looked_at: list[str] = []
        while wrong := self._wrong(now, wanted, meant, at):
            name = wrong[0]
            rows = [line.field for line in lines(now.entry)]
            keys += _moves(rows, at, name, opened=opened)
            text = typed(wanted, name)
            try:
                change = change_of(self.desk, now, name, text)
            except ServiceError:
                return None
            letters = self._letters(now, name, text)
            if letters is None:
                return None
            emptied = ["ctrl+u"] if not letters else []
            if name in ("note", "reason"):
                letters = min(letters, ["end", *_put_right(typed(now.entry, name), text)], key=len)
                sentence |= _is_sentence(letters)
            doubts = tuple(why for why in now.doubts if why not in change.settles)
            now = replace(now, entry=change.becomes, doubts=(*doubts, *change.asks))
            looked_at.append(name)
            keys += [*emptied, *letters]
            left = self._next_in_doubt(now, looked_at)
            if left is None and len(wrong) > 1:
                # Enter would leave; tab keeps it and opens the next line.
                keys += ["tab", "tab"] if self._picked(entry, name, letters, text) else ["tab"]
                rows = [line.field for line in lines(now.entry)]
                at, opened = rows[(rows.index(name) + 1) % len(rows)], True
            else:
                keys.append("enter")
                at, opened = left or name, left is not None
        if not same(now.entry, meant):
            return None
        while opened and (left := self._next_in_doubt(now, looked_at)):
            keys.append("enter")
            looked_at.append(left)
        if not looked_at:
            keys += [*(["escape"] if opened else []), *(["a"] if now.doubts else ["escape"])]
        return Answered("edit", tuple(keys), sentence)

    def _wrong(self, now: BookEntry, wanted: Entry, meant: Mapping[str, Any], at: str) -> list[str]:
        """The fields that are not as meant: the kind first, what is in doubt last."""
        rows = [line.field for line in lines(now.entry)]
        wrong = [name for name in rows if not _as_meant(now.entry, wanted, meant, name)]
        return sorted(wrong, key=lambda name: (name != "kind", name in fields_in_doubt(now)))

    def _next_in_doubt(self, entry: BookEntry, looked_at: Sequence[str]) -> str | None:
        rows = [line.field for line in lines(entry.entry)]
        left = (one for one in fields_in_doubt(entry) if one not in looked_at and one in rows)
        return next(left, None)

    def _letters(self, entry: BookEntry, name: str, text: str) -> list[str] | None:
        """What is typed until the first of the list is the one that is meant, or all of it; None
        where another name would be taken for it."""
        if name in NAMES:
            choices = offered(self.desk, entry.entry, name)
            typings = {text[:count] for count in range(1, len(text))} | _beginnings(text)
            now = typed(entry.entry, name)
            for some in sorted(typings, key=lambda one: (len(one), one)):
                fitting = [one for one in narrowed(choices, some, 2) if one != some]
                known = some.casefold() in map(str.casefold, choices)
                if some != now and not known and fitting[:1] == [text]:
                    return list(some)
            known = text.casefold() in map(str.casefold, choices)
            if not known and narrowed(choices, text, 1):
                return [*text, "up"]
        return list(text)

    def _picked(self, entry: BookEntry, name: str, letters: Sequence[str], text: str) -> bool:
        """Whether one of the list is picked, which tab then takes first."""
        return name in NAMES and "".join(letters) != text

    def _in_words(self, entry: BookEntry, wanted: Sequence[dict[str, Any]]) -> Answered | None:
        """The keys to say it again as it was said; None where that is read otherwise."""
        words = " and ".join(one.said for one in self.lines(entry))
        left = list(wanted)
        revision = revise(entry, words, reader_instead(self.desk, entry))
        if not all(_take(one, left) for one in revision.reading.entries) or left:
            return None
        before = words_of(entry, reader_instead(self.desk, entry))
        keys = min(["ctrl+u", *words], _put_right(before, words), key=len)
        return Answered("words", ("w", *keys, "enter"), sentence=_is_sentence(keys))


def _put_right(before: str, after: str) -> list[str]:
    """The keys that make one line of words another from its end, where the cursor is: those words
    that differ are taken out and written anew, the same before and behind them stay."""
    if not all(letter.isalnum() or letter == " " for letter in before):
        return ["ctrl+u", *after]
    old, new = before.split(), after.split()
    most = min(len(old), len(new))
    first = next((at for at in range(most) if old[at] != new[at]), most)
    left = most - first
    last = next((at for at in range(left) if old[-1 - at] != new[-1 - at]), left)
    written = " ".join(new[first : len(new) - last]) + (" " if last else "")
    if not last and first == len(old):
        written = f" {written}"
    return [*["ctrl+left"] * last, *["ctrl+w"] * (len(old) - first - last), *written]


def _is_sentence(keys: Sequence[str]) -> bool:
    """Whether so many words are typed that it is a sentence."""
    typed = "".join(key for key in keys if len(key) == 1)
    return len(typed.split()) >= WORDS_OF_A_SENTENCE


def _beginnings(name: str) -> set[str]:
    """Beginnings of one or two letters of some of its words, one after the other."""
    words = name.casefold().split()
    parts = ([word[:many] for many in range(min(len(word), 2) + 1)] for word in words)
    return {"".join(each) for each in product(*parts)} - {""}


def _moves(rows: Sequence[str], at: str, to: str, *, opened: bool) -> list[str]:
    """From line to line: open ones each give way to the next, shut ones are gone over."""
    down, up = (rows.index(to) - rows.index(at)) % len(rows), rows.index(at) - rows.index(to)
    if opened:
        back = up % len(rows)
        return ["tab"] * down if down <= back else ["up"] * back
    return [*(["up"] * up if up > 0 else ["down"] * -up), "enter"]


def same(entry: Entry, meant: Mapping[str, Any]) -> bool:
    """Whether an entry says what was meant. A place that was not said may be any or none."""
    if "correction" in (entry.kind, meant["kind"]):
        return entry.kind == meant["kind"]
    wanted = entry_from_json(dict(meant))
    return all(_as_meant(entry, wanted, meant, name) for name in {*_facts(entry), *_facts(wanted)})


def _facts(entry: Entry) -> set[str]:
    return {name for name, value in entry_to_json(entry).items() if value not in (None, "", [])}


def _as_meant(entry: Entry, wanted: Entry, meant: Mapping[str, Any], name: str) -> bool:
    if name in ("as_said", "carried"):
        return True
    if name == "place" and "place" in (*meant.get("carried", ()), *entry.carried):
        return True
    has, should = getattr(entry, name), getattr(wanted, name)
    if name == "dimension" and should is None:
        return True
    if isinstance(has, str) and isinstance(should, str):
        return Counter(has.lower().split()) == Counter(should.lower().split())
    if isinstance(has, int | Fraction) and isinstance(should, int | Fraction):
        return Fraction(has) == Fraction(should)
    return bool(has == should)


def _take(entry: Entry, left: list[dict[str, Any]]) -> bool:
    """Takes what an entry says out of what was meant; False where it is none of that."""
    for place, meant in enumerate(left):
        if same(entry, meant):
            del left[place]
            return True
    return False
