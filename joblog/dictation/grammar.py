"""From the tables of `language.py` to a parser: words to atoms, atoms to the best sentences.

Every word or phrase of the tables becomes one character, every pattern a regular expression over
such characters, and a chart over the utterance finds the cheapest way to cover its words with
patterns (Viterbi over spans). What no pattern covers is kept as unread.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TypeVar

from joblog.dictation.language import SENTENCES, SHAPES, WORDS
from joblog.dictation.numbers import Number, number_at
from joblog.model import Item, Vocabulary


@dataclass(frozen=True, slots=True)
class Atom:
    """One word, phrase or number of the utterance; `words` as they were said."""

    char: str
    words: str
    value: Number | Item | str | None = None


@dataclass(frozen=True, slots=True)
class Sentence:
    """One pattern and what it means."""

    meaning: str
    pattern: re.Pattern[str]
    weight: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of atoms read as one sentence; `parts` holds what its names matched."""

    start: int
    end: int
    meaning: str
    parts: dict[str, tuple[Atom, ...]]
    atoms: tuple[Atom, ...]


NUM, MIX, FRAC, CLOCK, ITEM, SPOT, OTHER = (chr(0xF000 + at) for at in range(7))
_SPECIAL = {
    "NUM": NUM, "MIX": MIX, "FRAC": FRAC, "CLOCK": CLOCK, "ITEM": ITEM, "SPOT": SPOT,
    "OTHER": OTHER,
}  # fmt: skip
NUMBERS = frozenset((NUM, MIX, FRAC, CLOCK))

# Costs in words: a stretch costs something so that fewer, longer ones win; a number left over is
# far worse than a word left over; a filler costs next to nothing.
STRETCH_COST = 0.4
UNREAD_COST = {"number": 2.5, "word": 0.7, "filler": 0.05}
REST_WEIGHT = {"..": 0.75, "...": 0.9}
WEIGHTS = {"more": 0.02, "numbered place": 0.01, "range": -0.1, "labor": -0.1, "needed": -0.05}


def atoms_of(words: Sequence[str], vocabulary: Vocabulary) -> list[Atom]:
    """The words as atoms: names of the job first, then numbers and the longest known phrases."""
    names = _names(vocabulary)
    phrases = _grammar().phrases
    atoms: list[Atom] = []
    at, count = 0, len(words)
    while at < count:
        word = words[at]
        named = names.get(word)
        if named:
            hit = _longest(named, words, at)
            if hit:
                value, end = hit
                atoms.append(Atom(value[0], " ".join(words[at:end]), value[1]))
                at = end
                continue
        known = phrases.get(word)
        hit_phrase = _longest(known, words, at) if known else None
        if hit_phrase is None or hit_phrase[1] == at + 1:
            number = number_at(words, at)
            if number:
                value_read, end = number
                atoms.append(Atom(_number_char(value_read), " ".join(words[at:end]), value_read))
                at = end
                continue
        if hit_phrase:
            char, end = hit_phrase
            atoms.append(Atom(char, " ".join(words[at:end])))
            at = end
            continue
        atoms.append(Atom(CLOCK if ":" in word else OTHER, word))
        at += 1
    return atoms


def cover(
    atoms: Sequence[Atom],
    rejected: Iterable[tuple[int, int, str]] = (),
) -> tuple[list[Stretch], list[int], float]:
    """The best stretches, the indexes of atoms that none of them covers, and the score.

    `rejected` holds (start, end, meaning) of stretches that the builder of the meaning refused.
    """
    text = "".join(atom.char for atom in atoms)
    grammar = _grammar()
    refused = set(rejected)
    count = len(atoms)
    best: list[float] = [0.0] * (count + 1)
    step: list[tuple[int, Sentence, re.Match[str]] | None] = [None] * count
    for start in range(count - 1, -1, -1):
        char = text[start]
        best[start] = best[start + 1] - _unread_cost(char, grammar)
        for sentence in grammar.starting.get(char, ()):
            match = sentence.pattern.match(text, start)
            if match is None:
                continue
            end = match.end()
            if end == start or (refused and (start, end, sentence.meaning) in refused):
                continue
            score = best[end] + (end - start) + sentence.weight - STRETCH_COST
            if score > best[start] + 1e-9:
                best[start] = score
                step[start] = (end, sentence, match)
    stretches: list[Stretch] = []
    unread: list[int] = []
    at = 0
    while at < count:
        chosen = step[at]
        if chosen is None:
            unread.append(at)
            at += 1
            continue
        end, sentence, match = chosen
        parts = {
            name: tuple(atoms[match.start(name) : match.end(name)])
            for name, found in match.groupdict().items()
            if found
        }
        stretches.append(Stretch(at, end, sentence.meaning, parts, tuple(atoms[at:end])))
        at = end
    return stretches, unread, best[0]


def is_a(atom: Atom, name: str) -> bool:
    """True when the atom stands in the class of words `name`."""
    return atom.char in _grammar().classes[name]


def find(name: str, atoms: Sequence[Atom]) -> tuple[Atom, ...]:
    """The first place in `atoms` where the shape `name` matches; empty when nowhere."""
    pattern = _grammar().shape(name)
    match = pattern.search("".join(atom.char for atom in atoms))
    return tuple(atoms[match.start() : match.end()]) if match else ()


def known_words() -> frozenset[str]:
    """Every word that stands in the tables, for the recognizers' vocabulary."""
    listed = " ".join(phrase for line in WORDS.values() for phrase in line.split(","))
    literal = " ".join(pattern for _, pattern in SENTENCES) + " ".join(SHAPES.values())
    words = {word for word in literal.split() if word.isalpha() and word.islower()}
    return frozenset(listed.split()) | {word for word in words if len(word) > 1 or word == "a"}


# --- compiling the tables ---------------------------------------------------------------------

Trie = dict[str, "list[tuple[tuple[str, ...], str]]"]
_Name = tuple[str, Item | str]
"""ITEM and the item, or SPOT and the place's name."""
_Owner = TypeVar("_Owner")


@dataclass
class _Grammar:
    classes: dict[str, frozenset[str]]
    phrases: Trie
    starting: dict[str, tuple[Sentence, ...]]
    fillers: frozenset[str]
    shape: Callable[[str], re.Pattern[str]]


@cache
def _grammar() -> _Grammar:
    chars: dict[str, str] = {}

    def char_of(phrase: str) -> str:
        return chars.setdefault(phrase, chr(0xE000 + len(chars)))

    classes = {
        name: frozenset(char_of(" ".join(phrase.split())) for phrase in line.split(","))
        for name, line in WORDS.items()
    }
    classes.update({name: frozenset((char,)) for name, char in _SPECIAL.items()})
    cues = frozenset().union(*(classes[name] for name in _CUES)) | NUMBERS
    ends = classes["TAKEBACK"]
    compiler = _Compiler(classes, char_of, cues, ends)
    sentences = []
    for meaning, source in SENTENCES:
        regex, first, _ = compiler.sequence(source.split())
        weight = WEIGHTS.get(meaning, 0.0)
        if " .. " in f" {source.replace('=', ' ')} ":
            weight -= 0.5
        sentences.append((Sentence(meaning, re.compile(regex), weight), first))
    starting: dict[str, list[Sentence]] = {}
    for sentence, first in sentences:
        for char in first:
            starting.setdefault(char, []).append(sentence)
    phrases: Trie = {}
    for phrase, char in chars.items():
        words = tuple(phrase.split())
        phrases.setdefault(words[0], []).append((words, char))
    for options in phrases.values():
        options.sort(key=lambda option: -len(option[0]))

    @cache
    def shape(name: str) -> re.Pattern[str]:
        return re.compile(compiler.sequence([name])[0])

    return _Grammar(
        classes,
        phrases,
        {char: tuple(found) for char, found in starting.items()},
        classes["FILLER"] | classes["AND"] | classes["ARTICLE"],
        shape,
    )


# Words at which "..." stops: whatever begins a fact of its own.
_CUES = (
    "USED", "DELIVER", "RETURN", "NEED", "START", "STOP", "BREAK", "PHOTO", "NOTE", "TAKEBACK",
    "AND",
)  # fmt: skip


@dataclass
class _Compiler:
    classes: dict[str, frozenset[str]]
    char_of: Callable[[str], str]
    cues: frozenset[str]
    ends: frozenset[str]

    def sequence(self, tokens: list[str]) -> tuple[str, frozenset[str], bool]:
        """Regex of a sequence, the characters it may begin with, and whether it may be empty."""
        regex, first, empty = "", frozenset[str](), True
        at = 0
        while at < len(tokens):
            piece, piece_first, piece_empty, at = self.element(tokens, at)
            regex += piece
            if empty:
                first |= piece_first
            empty = empty and piece_empty
        return regex, first, empty

    def element(self, tokens: list[str], at: int) -> tuple[str, frozenset[str], bool, int]:
        token = tokens[at]
        name = ""
        if "=" in token:
            name, _, token = token.partition("=")
        mark = ""
        if token == "(":
            alternatives, at, mark = self.bracket(tokens, at + 1)
            regexes = [self.sequence(option) for option in alternatives]
            regex = "(?:" + "|".join(found[0] for found in regexes) + ")"
            first = frozenset().union(*(found[1] for found in regexes))
            empty = any(found[2] for found in regexes)
        else:
            at += 1
            if token[-1] in "?*+":
                token, mark = token[:-1], token[-1]
            regex, first, empty = self.word(token)
        if mark:
            regex = f"(?:{regex}){mark}"
            empty = empty or mark in "?*"
        if name:
            regex = f"(?P<{name}>{regex})"
        return regex, first, empty, at

    def bracket(self, tokens: list[str], at: int) -> tuple[list[list[str]], int, str]:
        options: list[list[str]] = [[]]
        depth = 0
        while True:
            token = tokens[at]
            if depth == 0 and token[0] == ")":
                return options, at + 1, token[1:]
            if depth == 0 and token == "|":
                options.append([])
            else:
                depth += (token.partition("=")[2] or token) == "("
                depth -= token[0] == ")"
                options[-1].append(token)
            at += 1

    def word(self, token: str) -> tuple[str, frozenset[str], bool]:
        if token == "......":
            return f"[^{''.join(sorted(self.ends))}]*", frozenset(), True
        if token == "...":
            return f"[^{''.join(sorted(self.cues))}]*", frozenset(), True
        if token == "..":
            allowed = self.activity()
            return f"[{''.join(sorted(allowed))}]{{1,6}}", allowed, False
        if token in SHAPES:
            return self.sequence(SHAPES[token].split())
        if token in self.classes:
            allowed = self.classes[token]
        elif token.isupper():
            raise ValueError(f"the tables name no class or shape {token}")
        else:
            allowed = frozenset((self.char_of(token),))
        return f"[{''.join(sorted(allowed))}]", allowed, False

    def activity(self) -> frozenset[str]:
        """Words that may name a task: anything but numbers, fillers and the cues of other facts."""
        named = (self.classes[name] for name in _ACTIVITY)
        return frozenset((ITEM, OTHER, SPOT)).union(*named) - self.classes["FILLER"]


_ACTIVITY = (
    "USED", "PART", "SIDE", "ARTICLE", "EQUIPMENT", "COVER", "IN", "CUT", "DELIVER", "DIMENSION",
    "AND",
)  # fmt: skip


def _longest(
    options: Sequence[tuple[tuple[str, ...], _Owner]], words: Sequence[str], at: int
) -> tuple[_Owner, int] | None:
    for phrase, owner in options:
        end = at + len(phrase)
        if len(phrase) == 1 or tuple(words[at:end]) == phrase:
            return owner, end
    return None


@lru_cache(maxsize=8)
def _names(vocabulary: Vocabulary) -> dict[str, list[tuple[tuple[str, ...], _Name]]]:
    """Spoken names of items and places by first word, longest first; the first owner wins."""
    owners: dict[tuple[str, ...], _Name] = {}
    for place in vocabulary.places:
        owners.setdefault(tuple(place.lower().split()), (SPOT, place))
    for item in vocabulary.items:
        for name in (item.name, *item.spoken):
            for spelled in _spellings(name.lower()):
                owners.setdefault(tuple(spelled.split()), (ITEM, item))
    found: dict[str, list[tuple[tuple[str, ...], _Name]]] = {}
    for words, owner in owners.items():
        if words:
            found.setdefault(words[0], []).append((words, owner))
    for options in found.values():
        options.sort(key=lambda option: -len(option[0]))
    return found


def _spellings(name: str) -> Iterable[str]:
    yield name
    if name.endswith("s") and not name.endswith("ss"):
        yield name[:-1]
    else:
        yield name + ("es" if name.endswith(("x", "ch", "sh", "s")) else "s")


def _number_char(number: Number) -> str:
    if number.whole is None:
        return FRAC
    return MIX if number.fraction else NUM


def _unread_cost(char: str, grammar: _Grammar) -> float:
    if char in NUMBERS:
        return UNREAD_COST["number"]
    return UNREAD_COST["filler" if char in grammar.fillers else "word"]
