"""Sentences from the tables that read them, each with its derivation and what that means.

A sentence is walked out of the patterns of `language/` at random, as often one way as another as
people at work do (`productions.json`, counted by `tests/bench/count_productions.py`). Slots are
filled from the job. What it means is what the builders make of exactly these stretches: no chart
is asked, so that whatever reads the words can be held against it.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import cast

from joblog.dictation.draft import Context
from joblog.dictation.grammar import (
    Atom,
    Stretch,
    known_words,
    shape,
)
from joblog.dictation.language import WORDS
from joblog.dictation.numbers import spelled
from joblog.dictation.productions import Productions, productions
from joblog.dictation.read import meaning_of, said_in
from joblog.dictation.trees import Choice, Leaf, Named, Node, Repeat, Row, patterns
from joblog.dictation.words import marked_words
from joblog.model import Item, Reading, Vocabulary
from joblog.quantity import spoken_unit


@dataclass(frozen=True, slots=True)
class Derivation:
    """A sentence, how it was put together, and what that means."""

    text: str
    atoms: tuple[Atom, ...]
    stretches: tuple[Stretch, ...]
    reading: Reading

    @property
    def meanings(self) -> tuple[str, ...]:
        return tuple(stretch.meaning for stretch in self.stretches)


def derivations(
    vocabulary: Vocabulary,
    draw: random.Random,
    context: Context | None = None,
    *,
    evenly: bool = False,
) -> Iterator[Derivation]:
    """Sentences that carry a meaning after `context`, without end; the same for the same `draw`.

    `evenly` takes rare ways as often as common ones, to try every pattern. Passed over are rows of
    words that the lexer parts elsewhere ("twenty", "five"), that say a number again, or that a
    builder makes nothing of: of them nobody could say what they were meant to be.
    """
    walk = _Walk(vocabulary, draw, productions(), evenly)
    while True:
        found = _derivation(walk.utterance(), vocabulary, context)
        if found is not None:
            yield found


def sentences(vocabulary: Vocabulary, draw: random.Random) -> Iterator[str]:
    """What is likely to be said on this job, without end: plain words, no figures."""
    walk = _Walk(vocabulary, draw, productions(), False)
    while True:
        form = walk.form()
        for _ in range(FILLED):
            yield walk.filled(form)


FILLED = 2
"""How often each form is filled from the job: putting it together takes longer."""
AS_SAID, PART_AS_SAID = 0.5, 0.6
"""Share of utterances worded whole as somebody said them once, and of stretches in the others
(what is seen again is likelier than its parts say: an adaptor grammar, Johnson et al. 2007)."""


def _derivation(said: _Said, vocabulary: Vocabulary, context: Context | None) -> Derivation | None:
    text = said.text()
    marked = marked_words(text)
    if not marked or [word for word, _ in marked] != said.words:
        return None
    atoms = said_in(marked, vocabulary).atoms
    if sum(len(atom.words.split()) for atom in atoms) != len(said.words):
        return None  # It repairs itself, though nobody meant it to.
    at_word: dict[int, int] = {}
    words = 0
    for at, atom in enumerate(atoms):
        at_word[words] = at
        words += len(atom.words.split())
    at_word[words] = len(atoms)
    chars = "".join(atom.char for atom in atoms)
    for leaf, start, end in said.leaves:
        begin, stop = at_word.get(start), at_word.get(end)
        if begin is None or stop is None:
            return None
        if leaf is not None and not shape(leaf.token).fullmatch(chars, begin, stop):
            return None
    stretches = []
    for meaning, start, end, parts in said.stretches:
        begin, stop = at_word[start], at_word[end]
        named = {
            name: tuple(atoms[at_word.get(first, 0) : at_word.get(last, 0)])
            for name, (first, last) in parts.items()
            if last > first
        }
        if stop == begin or not all(named.values()):
            return None
        stretches.append(Stretch(begin, stop, meaning, named, tuple(atoms[begin:stop])))
    reading = meaning_of(atoms, stretches, vocabulary, context)
    return None if reading is None else Derivation(text, tuple(atoms), tuple(stretches), reading)


@dataclass(slots=True)
class _Said:
    """A sentence in the making."""

    words: list[str] = field(default_factory=list)
    leaves: list[tuple[Leaf | None, int, int]] = field(default_factory=list)
    stretches: list[tuple[str, int, int, dict[str, tuple[int, int]]]] = field(default_factory=list)
    parts: dict[str, tuple[int, int]] = field(default_factory=dict)

    def text(self) -> str:
        return " ".join(self.words)

    def add(self, leaf: Leaf | None, words: str) -> None:
        start = len(self.words)
        self.words += words.split()
        self.leaves.append((leaf, start, len(self.words)))


class _Walk:
    """Walks at random through the patterns, filling slots from one job."""

    def __init__(
        self, vocabulary: Vocabulary, draw: random.Random, known: Productions, evenly: bool
    ) -> None:
        self._draw = draw
        self._known = known
        self._every = evenly
        self._tried = ""
        """The meaning that is said in rare ways as often as in common ones."""
        self._evenly = False
        self._items = vocabulary.items or (Item("piece", "each"),)
        self._places = vocabulary.places
        self._tasks = [name for task in vocabulary.tasks for name in (task.name, *task.spoken)]
        self._item = self._items[0]
        self._many = True
        self._meanings = sorted({pattern.meaning for pattern in patterns()})
        self._words = known_words()
        self._said = _Said()
        self._open = False
        """True while slots are left open."""

    def utterance(self) -> _Said:
        """A sentence with its derivation, every slot filled."""
        self._said = said = _Said()
        self._item = self._draw.choice(self._items)
        for meaning, form in self._units():
            if not meaning:
                said.add(None, form)
                continue
            self._evenly = meaning == self._tried
            pattern = self._known.pattern(meaning, self._draw, self._evenly)
            start = len(said.words)
            said.parts = {}
            self._many = True
            self._walk(pattern.tree)
            said.stretches.append((meaning, start, len(said.words), said.parts))
        return said

    def form(self) -> str:
        """A sentence with slots in braces: one that was said, or put together anew of stretches
        that were said and stretches that were not."""
        units = self._known.utterance(self._draw)
        if self._draw.random() < AS_SAID:
            return " ".join(form for _, form in units)
        self._open = True
        words = []
        for meaning, form in units:
            if not meaning:
                words.append(form)
            elif self._draw.random() < PART_AS_SAID:
                words.append(self._known.said(meaning, self._draw))
            else:
                self._said = _Said()
                self._walk(self._known.pattern(meaning, self._draw, False).tree)
                words.append(self._said.text())
        self._open = False
        return " ".join(words)

    def filled(self, form: str) -> str:
        """The form with its slots filled from the job."""
        self._item = self._draw.choice(self._items)
        self._many = True
        return self._filled(form)

    def _units(self) -> Sequence[tuple[str, str]]:
        if not self._every:
            return self._known.utterance(self._draw)
        self._tried = self._draw.choice(self._meanings)
        if self._draw.random() < _ALONE:
            return [(self._tried, "")]
        return self._known.utterance_with(self._tried, self._draw)

    def _walk(self, node: Node) -> None:
        kind = type(node)
        if kind is Row:
            for part in cast(Row, node).parts:
                self._walk(part)
        elif kind is Leaf:
            self._leaf(cast(Leaf, node))
        elif kind is Choice:
            choice = cast(Choice, node)
            self._walk(choice.options[self._known.option(choice, self._draw, self._evenly)])
        elif kind is Repeat:
            repeat = cast(Repeat, node)
            for _ in range(self._known.times(repeat, self._draw, self._evenly)):
                self._walk(repeat.part)
        else:
            named = cast(Named, node)
            start = len(self._said.words)
            self._walk(named.part)
            self._said.parts[named.name] = start, len(self._said.words)

    def _leaf(self, leaf: Leaf) -> None:
        token = leaf.token
        if leaf.wild:
            filling = self._known.filling(leaf, self._draw, self._evenly)
            self._said.add(leaf, filling if self._open else self._filled(filling))
        elif token in _SLOTS:
            kept = self._open and token != "OTHER"
            slot = f"{{{token}::{leaf.key}}}" if kept else self._slot(token, leaf.key)
            self._said.add(leaf, slot)
        elif token in WORDS:
            word = self._known.word(leaf, self._draw, self._evenly)
            if token in ("UNIT", "SINGLE"):
                word = self._unit(word, token)
            self._said.add(leaf, word)
        else:
            self._said.add(leaf, token)

    def _unit(self, word: str, token: str) -> str:
        """Mostly the unit that the item comes in, one or many as was counted."""
        if self._evenly or self._draw.random() > OWN_UNIT:
            return word
        if self._open:
            return "{UNIT}" if token == "UNIT" else "{ONEUNIT}"
        own = self._own_unit(self._many and token == "UNIT")
        return own if own in _UNITS else word

    def _own_unit(self, many: bool) -> str:
        units = [self._item.unit, self._item.unit, *(unit for unit, _ in self._item.also)]
        return spoken_unit(self._draw.choice(units))[many]

    def _filled(self, form: str) -> str:
        if "{" not in form:
            return form
        words = []
        for word in form.split():
            if word[0] != "{":
                words.append(word)
                continue
            kind, _, key = word[1:-1].partition(":")
            words.append(self._slot(kind, key[1:] if key[:1] == ":" else self._known.key_of(key)))
        return " ".join(filter(None, words))

    def _slot(self, kind: str, key: str) -> str:
        draw, known = self._draw, self._known
        if kind == "ITEM":
            return self._name()
        if kind == "SPOT":
            return draw.choice(self._places) if self._places else known.place(draw)
        if kind == "NUM":
            number = known.number(key, draw, self._evenly)
            self._many = number != 1
            return spelled(number)
        if kind == "MIX":
            return f"{spelled(known.number(key, draw, self._evenly))} {known.tail(draw)}"
        if kind == "FRAC":
            return known.fraction(key, draw)
        if kind == "OTHER":
            return known.strange(key, draw)
        if kind == "TASK":
            return draw.choice(self._tasks).lower() if self._tasks else self._name()
        if kind in ("UNIT", "ONEUNIT"):
            return self._own_unit(kind == "UNIT" and self._many)
        hour, minute = draw.randrange(1, 13), draw.choice((0, 5, 10, 15, 20, 30, 40, 45, 50))
        return f"{hour}:{minute:02}" if kind == "CLOCK" else f"{draw.randrange(1, 15)}/12"

    def _name(self) -> str:
        """The item as somebody calls it, now and then with what tells it from others."""
        luck = self._draw.random()
        if luck < self._known.stranger_share:
            return self._known.stranger(self._draw)
        if self._draw.random() < _OTHER_ITEM:
            self._item = self._draw.choice(self._items)
        item = self._item
        name = self._draw.choice((item.name, item.name, *item.spoken)).lower()
        many = name + ("es" if name.endswith(("x", "ch", "sh")) else "s")
        if self._many and many.split()[-1] in self._words and self._draw.random() < _PLURAL:
            name = many
        told = self._draw.random() < self._known.told_share
        return f"{self._known.told(self._draw)} {name}" if told else name


OWN_UNIT, _OTHER_ITEM, _PLURAL = 0.85, 0.1, 0.3
_ALONE = 0.5
_SLOTS = frozenset(("NUM", "MIX", "FRAC", "CLOCK", "ITEM", "SPOT", "OTHER", "TWELFTHS"))


_UNITS = frozenset(" ".join(unit.split()) for unit in WORDS["UNIT"].split(","))
