"""From the tables of `language/` to a parser: words to atoms, atoms to the best sentences.

Every word or phrase of the tables becomes one character, every pattern a regular expression over
such characters, and a chart over the utterance finds the cheapest way to cover its words with
patterns (Viterbi over spans). What no pattern covers is kept as unread.
"""

from __future__ import annotations

import functools
import itertools
import operator
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from heapq import heappop, heappush
from itertools import accumulate, pairwise
from typing import Generic, TypeVar

from joblog.dictation.items import Said, lines_by_name, plainly
from joblog.dictation.language import ERRAND_WORDS, HOUSE_WORDS, SENTENCES, SHAPES, WORDS
from joblog.dictation.numbers import MOST_DIGITS, PARTS, Number, is_written, may_begin, number_at
from joblog.dictation.turns import turns
from joblog.dictation.weights import WEIGHTS
from joblog.dictation.words import Marked, marked_words
from joblog.model import Item, Vocabulary


@dataclass(slots=True, unsafe_hash=True)
class Atom:
    """One word, phrase or number of the utterance; `words` as they were said.

    Nothing changes one; that it is not frozen makes each in half the time.
    """

    char: str
    words: str
    value: Number | Item | str | None = None
    pause: bool = False
    """A comma or full stop stood before it."""
    said: Said | None = None
    """What was said of an item beside its name, and what its name may mean."""


@dataclass(slots=True)
class Sentence:
    """One pattern and what it means."""

    meaning: str
    regex: str
    features: tuple[str, ...]
    """What it weighs by wherever it stands, names of `WEIGHTS`."""
    early: bool
    """Whether it runs to the end of the utterance, or of any clause in it."""
    rambling: bool
    """Whether it weighs as much as in mere talk that it runs past the end of a clause."""
    parted: bool
    """Whether it may end before any number behind a pause."""
    holds: int
    """Which of `_HELD` weighs what it holds."""
    weight: float
    needs: int
    """Bits of the sets of characters of each of which a match always holds one."""
    pattern: re.Pattern[str] | None = None
    """Compiled when it is first needed: most utterances need few."""
    matches: Callable[[str, int], re.Match[str] | None] | None = None
    """Its `match`, once it is compiled."""
    parts: tuple[tuple[int, str], ...] = ()
    """The number of each group, once it is compiled, and of what it is a part."""

    def compiled(self) -> re.Pattern[str]:
        if self.pattern is None:
            self.pattern = re.compile(_numbered(self.regex))
            self.matches = self.pattern.match
            self.parts = _groups(self.pattern)
        return self.pattern


@dataclass(slots=True)
class Stretch:
    """A stretch of atoms read as one sentence; `parts` holds what its names matched."""

    start: int
    end: int
    meaning: str
    parts: dict[str, tuple[Atom, ...]]
    atoms: tuple[Atom, ...]
    sentence: Sentence | None = None
    """The pattern, where it was found by one."""


NUM, MIX, FRAC, CLOCK, ITEM, SPOT, OTHER, TWELFTHS, HUGE = (chr(0xF000 + at) for at in range(9))
_SPECIAL = {
    "NUM": NUM, "MIX": MIX, "FRAC": FRAC, "CLOCK": CLOCK, "ITEM": ITEM, "SPOT": SPOT,
    "OTHER": OTHER, "TWELFTHS": TWELFTHS, "HUGE": HUGE,
}  # fmt: skip
NUMBERS = frozenset((NUM, MIX, FRAC, CLOCK, TWELFTHS, HUGE))


def atoms_of(text: str, vocabulary: Vocabulary) -> list[Atom]:
    """The text as atoms: names of the job first, then numbers and the longest known phrases."""
    return atoms_among(marked_words(text), vocabulary)


def atoms_among(marked: Marked, vocabulary: Vocabulary) -> list[Atom]:
    """The same of words as `marked_words` gives them."""
    said = [word for word, _ in marked]
    words = _spelled_out(said)
    stops = [at for at, (word, pause) in enumerate(marked) if pause and word not in JOINING]
    stops.append(len(words))
    names = _names(vocabulary)
    phrases = _grammar().phrases
    atoms: list[Atom] = []
    at, count, coming = 0, len(words), 0
    while at < count:
        while stops[coming] <= at:
            coming += 1
        word = words[at]
        alone = phrases.get(word)
        if alone is not None and alone.plain is not None and word not in names:
            atoms.append(Atom(alone.plain, said[at], None, marked[at][1]))
            at += 1
            continue
        char, value, end, other = _next_atom(words, at, names, phrases, stops[coming])
        spelled = said[at] if end == at + 1 else " ".join(said[at:end])
        atoms.append(Atom(char, spelled, value, marked[at][1], other))
        at = end
    return atoms


def _spelled_out(said: list[str]) -> list[str]:
    """The words with the apostrophe and the g that are dropped in "dont" and "hangin"."""
    if not _CONTRACTED.keys().isdisjoint(said):
        said = [_CONTRACTED.get(word, word) for word in said]
    if not any(word.endswith("in") for word in said):
        return said
    known = _grammar().phrases
    return [
        f"{word}g" if word.endswith("in") and word not in known and f"{word}g" in known else word
        for word in said
    ]


_CONTRACTED = {
    word.replace("'", ""): word
    for word in (
        "don't doesn't didn't can't isn't aren't wasn't weren't couldn't wouldn't shouldn't "
        "haven't hasn't hadn't ain't that's there's what's i'm i've you're they're we've you've"
    ).split()
}
"""Contractions that are written without their apostrophe and are no other word then."""


# Words that go on with a number after a comma: "eleven, and a half", "15, sixteenths".
JOINING = frozenset([*PARTS, "and", "point", "hundred", "thousand"])


def _next_atom(
    words: list[str], at: int, names: _Names, phrases: Trie, stop: int
) -> tuple[str, Number | Item | str | None, int, Said | None]:
    word = words[at]
    if word in ("outside", "inside") and words[at + 1 : at + 2] == ["corner"]:
        if turns(words, at, stop):
            [turn] = chars_in("TURN")
            return turn, None, at + 2, None
        phrases = _without_turns(phrases, word)
    named = names.get(word)
    if named:
        hit = _longest(named, words, at)
        if hit:
            longer = _longest(phrases[word], words, at) if word in phrases else None
            if longer and longer[1] > hit[1] and is_a(Atom(longer[0], word), "GOODS"):
                return longer[0], None, longer[1], None  # "Gutter guard" is no gutter.
            return hit[0][0], hit[0][1], hit[1], hit[0][2]
    if len(word) > MOST_DIGITS and is_written(word):
        return HUGE, None, at + 1, None
    if word.endswith("/12") and word[:-3].isdecimal():
        return TWELFTHS, word[:-3], at + 1, None
    known = phrases.get(word)
    phrase = _longest(known, words, at) if known else None
    if phrase is None or phrase[1] == at + 1:
        number = number_at(words, at, stop)
        if number and number[1] > at + 1:
            number = _before_a_name(words, at, number, names)
        if number:
            return _number_char(number[0]), number[0], number[1], None
    if phrase:
        return phrase[0], None, phrase[1], None
    return (CLOCK if ":" in word else OTHER), None, at + 1, None


def _without_turns(phrases: Trie, word: str) -> Trie:
    """The phrases, for where "outside corner" is none."""
    alone = phrases[word]
    after = {name: node for name, node in alone.after.items() if name != "corner"}
    return {**phrases, word: _Node(alone.owner, after, alone.plain)}


def _before_a_name(
    words: list[str], at: int, number: tuple[Number, int], names: _Names
) -> tuple[Number, int] | None:
    """ "Thirty one by sixes": the "one" belongs to the name that goes on behind the number."""
    for split in range(at + 1, number[1]):
        named = names.get(words[split])
        hit = _longest(named, words, split) if named else None
        if hit and hit[1] > number[1]:
            return number_at(words, at, split)
    return number


Cover = tuple[list[Stretch], list[int], float]
"""The stretches, the indexes of atoms that none of them covers, and the sum of the weights."""


class Chart:
    """The ways to cover the atoms with sentences, and the best from each atom to the end (Viterbi).

    `refuse` takes one way out and works out anew what rested on it. `steps` counts the atoms
    that were worked out.
    """

    def __init__(self, atoms: Sequence[Atom]) -> None:
        self._atoms = atoms
        self._text = "".join([atom.char for atom in atoms])
        grammar = _grammar()
        word = WEIGHTS["unread word"]
        self._unread = [grammar.unread.get(char, word) for char in self._text]
        self._ways = self._all_ways(grammar)
        count = len(atoms)
        self._best = [0.0] * (count + 1)
        self._step: list[_Way | None] = [None] * count
        self.steps = 0
        self._work_out(count - 1)

    def refuse(self, start: int, end: int, meaning: str) -> None:
        """Never again read the atoms from `start` to `end` as `meaning`."""
        self._ways[start] = [
            way for way in self._ways[start] if way[1] != end or way[2].meaning != meaning
        ]
        self._work_out(start)

    def cover(self) -> Cover:
        """The best cover."""
        return self._cover(self._steps(0), self._best[0])

    def _steps(self, at: int) -> list[tuple[int, _Way | None]]:
        """The best steps from an atom on."""
        steps: list[tuple[int, _Way | None]] = []
        while at < len(self._atoms):
            way = self._step[at]
            steps.append((at, way))
            at = at + 1 if way is None else way[1]
        return steps

    def covers(self) -> Iterator[Cover]:
        """All covers, the best first.

        A* (Hart, Nilsson and Raphael 1968): what is still to come is known exactly.
        """
        count = len(self._atoms)
        order = itertools.count()
        heap: list[tuple[float, int, int, float, _Steps | None]] = []
        heappush(heap, (-self._best[0], next(order), 0, 0.0, None))
        while heap:
            total, _, at, so_far, taken = heappop(heap)
            if at == count:
                yield self._cover(_listed(taken), -total)
                continue
            ways: list[tuple[float, int, _Way | None]]
            ways = [(way[0], way[1], way) for way in self._ways[at]]
            ways.append((self._unread[at], at + 1, None))
            for weight, end, way in ways:
                weighs = so_far + weight
                step = (taken, at, way)
                heappush(heap, (-weighs - self._best[end], next(order), end, weighs, step))

    def _cover(self, steps: Iterable[tuple[int, _Way | None]], score: float) -> Cover:
        stretches: list[Stretch] = []
        unread: list[int] = []
        for at, way in steps:
            if way is None:
                unread.append(at)
            else:
                _, end, sentence, match = way
                stretches.append(self._stretch(at, end, sentence, match))
        return stretches, unread, score

    def _stretch(self, at: int, end: int, sentence: Sentence, match: re.Match[str]) -> Stretch:
        parts = _parts(match, self._atoms, sentence.parts)
        return Stretch(at, end, sentence.meaning, parts, tuple(self._atoms[at:end]), sentence)

    def _work_out(self, last: int) -> None:
        """The best way from each atom up to `last`, which rest on those behind it."""
        best = self._best
        self.steps += last + 1
        for start in range(last, -1, -1):
            most, step = best[start + 1] + self._unread[start], None
            for way in self._ways[start]:
                score = best[way[1]] + way[0]
                if score > most + 1e-9:
                    most, step = score, way
            best[start], self._step[start] = most, step

    def _all_ways(self, grammar: _Grammar) -> list[list[_Way]]:
        """Every sentence that matches from each atom, with what it weighs there."""
        atoms, text = self._atoms, self._text
        pauses = [atom.pause for atom in atoms]
        pause_weighs, talk_pause = WEIGHTS["pause"], WEIGHTS["talk past a pause"]
        breath, clause = WEIGHTS["in one breath"], WEIGHTS["talk past a clause"]
        # What it weighs to run on up to each atom: from one on, it is the difference.
        nothing = [0.0] * (len(atoms) + 1)
        crossed = over = nothing
        clauses: list[int] = []
        if True in pauses:
            crossed = [0.0, *accumulate([pause_weighs * pause for pause in pauses])]
        if crossed is not nothing or not grammar.clause.isdisjoint(text):
            over = [
                0.0,
                *accumulate(
                    [
                        clause if char in grammar.clause else talk_pause * pause
                        for char, pause in zip(text, pauses, strict=True)
                    ]
                ),
            ]
            clauses = [at for at in range(1, len(atoms)) if over[at + 1] < over[at]]
        held_in = [
            nothing
            if weights.keys().isdisjoint(text)
            else [0.0, *accumulate([weights.get(char, 0.0) for char in text])]
            for weights in grammar.held
        ]
        seen = 0
        fillers, serves = grammar.fillers, grammar.serves
        every: list[list[_Way]] = []
        for start in range(len(atoms) - 1, -1, -1):
            char = text[start]
            seen |= serves[char]
            together = start > 0 and not pauses[start] and text[start - 1] not in fillers
            begins = breath if together else 0.0
            ways: list[_Way] = []
            for sentence in grammar.beginning(char, seen):
                matches = sentence.matches or sentence.compiled().match
                match = matches(text, start)
                if match is None or (end := match.end()) == start:
                    continue
                held = held_in[sentence.holds]
                ran = over if sentence.rambling else crossed
                weight = begins + sentence.weight - held[start] - ran[start + 1]
                if clauses and sentence.early:
                    # It may end with any clause: what is said after it may be a fact.
                    for last in clauses:
                        if start < last < end:
                            part = sentence.compiled().match(text, start, last)
                            if part is not None and part.end() == last:
                                ways.append((weight + held[last] + ran[last], last, sentence, part))
                if sentence.parted and True in pauses[start + 1 : end]:
                    # "Forty feet, two windows": what stands behind a pause may be another number.
                    numbers = [at for at in range(start + 1, end) if text[at] in NUMBERS]
                    for last in (at for at in numbers if pauses[at]):
                        part = sentence.compiled().match(text, start, last)
                        if part is not None and part.end() == last:
                            ways.append((weight + held[last] + ran[last], last, sentence, part))
                ways.append((weight + held[end] + ran[end], end, sentence, match))
            every.append(ways)
        every.reverse()
        return every


def features_of(
    atoms: Sequence[Atom], stretches: Iterable[Stretch], unread: Iterable[int]
) -> Counter[str]:
    """How often a cover has each feature of `WEIGHTS`; weighed so, they add up to its score."""
    grammar = _grammar()
    text = "".join(atom.char for atom in atoms)
    pauses = [atom.pause for atom in atoms]
    found = Counter(grammar.unread_as.get(text[at], "unread word") for at in unread)
    for stretch in stretches:
        sentence = stretch.sentence
        assert sentence is not None
        found.update(sentence.features)
        found["in one breath"] += _in_one_breath(text, pauses, stretch.start, grammar)
        for at in range(stretch.start, stretch.end):
            kept = _HELD[sentence.holds].items()
            found.update([name for name, held in kept if text[at] in grammar.classes[held]])
        for at in range(stretch.start + 1, stretch.end):
            if sentence.rambling and text[at] in grammar.clause:
                found["talk past a clause"] += 1
            elif pauses[at]:
                found["talk past a pause" if sentence.rambling else "pause"] += 1
    return found


def _in_one_breath(text: str, pauses: Sequence[bool], start: int, grammar: _Grammar) -> bool:
    """Whether a sentence begins right behind a word that could belong to it."""
    return start > 0 and not pauses[start] and text[start - 1] not in grammar.fillers


_HELD = (
    {"strange in a fact": "OTHER"},
    {"number in words": "NUMBERS", "item in words": "ITEM"},
    {"one in a subject": "ONE"},
)
"""Names of `WEIGHTS`, each with the class of words that it counts: in facts, in what is kept as
words, and in the naming of an item."""
_Way = tuple[float, int, Sentence, "re.Match[str]"]
"""What it weighs to take the sentence up to an atom, and its match."""
_Steps = tuple["_Steps | None", int, "_Way | None"]
"""The last step of a cover, with those before it."""


def _listed(taken: _Steps | None) -> list[tuple[int, _Way | None]]:
    steps: list[tuple[int, _Way | None]] = []
    while taken is not None:
        taken, at, way = taken
        steps.append((at, way))
    return steps[::-1]


def number_atom(words: Sequence[str], number: Number) -> Atom:
    """An atom of a number that stands in those words."""
    return Atom(_number_char(number), " ".join(words), number)


def is_a(atom: Atom, name: str) -> bool:
    """True when the atom stands in the class of words `name`."""
    return atom.char in _grammar().classes[name]


def has_any(atoms: Iterable[Atom], *names: str) -> bool:
    """True when one of the atoms stands in one of these classes of words."""
    union = _union(names)
    for atom in atoms:  # noqa: SIM110  # Of one or two, mostly: quicker than any() over them.
        if atom.char in union:
            return True
    return False


@cache
def _union(names: tuple[str, ...]) -> frozenset[str]:
    return frozenset().union(*(_grammar().classes[name] for name in names))


def whole_as(meanings: frozenset[str], atoms: Sequence[Atom]) -> Stretch | None:
    """The first of the atoms from which on they are all a sentence of one of these meanings."""
    text = "".join(atom.char for atom in atoms)
    grammar = _grammar()
    for start, char in enumerate(text):
        for _, sentence in grammar.starting.get(char, (0, ()))[1]:
            if sentence.meaning not in meanings:
                continue
            match = sentence.compiled().match(text, start)
            if match is not None and match.end() == len(text):
                parts = _parts(match, atoms, sentence.parts)
                rest = tuple(atoms[start:])
                return Stretch(start, len(text), sentence.meaning, parts, rest, sentence)
    return None


def find(name: str, atoms: Sequence[Atom]) -> tuple[Atom, ...]:
    """The first place in `atoms` where the shape `name` matches; empty when nowhere."""
    pattern = _grammar().shape(name)
    match = pattern.search("".join(atom.char for atom in atoms))
    return tuple(atoms[match.start() : match.end()]) if match else ()


def shape(name: str) -> re.Pattern[str]:
    """A shape, class or word of the tables, over the characters of atoms; group names may end in
    "__1"."""
    return _grammar().shape(name)


def chars_in(name: str) -> frozenset[str]:
    """The characters that stand in a class of words; none where the tables have no such class."""
    return _grammar().classes.get(name, frozenset())


def chars_of(*names: str) -> str:
    """The inside of a regex class of all characters that stand in these classes of words."""
    return _ranges(_union(names))


def all_found(name: str, atoms: Sequence[Atom]) -> Iterator[dict[str, tuple[Atom, ...]]]:
    """What the names of the shape `name` hold at each place where it matches; all of the match
    under ""."""
    pattern = _grammar().shape(name)
    groups = _groups(pattern)
    for match in pattern.finditer("".join([atom.char for atom in atoms])):
        yield {"": tuple(atoms[match.start() : match.end()]), **_parts(match, atoms, groups)}


def _groups(pattern: re.Pattern[str]) -> tuple[tuple[int, str], ...]:
    return tuple((group, name.partition("__")[0]) for name, group in pattern.groupindex.items())


def _parts(
    match: re.Match[str], atoms: Sequence[Atom], groups: Iterable[tuple[int, str]]
) -> dict[str, tuple[Atom, ...]]:
    parts: dict[str, tuple[Atom, ...]] = {}
    for group, name in groups:
        start, end = match.span(group)
        if start < end:
            parts[name] = tuple(atoms[start:end])
    return parts


def known_words() -> frozenset[str]:
    """Every word that stands in the tables, for the recognizers' vocabulary."""
    listed = " ".join(phrase for line in WORDS.values() for phrase in line.split(","))
    literal = " ".join(pattern for _, pattern in SENTENCES) + " ".join(SHAPES.values())
    words = {word for word in literal.split() if word.isalpha() and word.islower()}
    named = frozenset(word for word in listed.split() if not any(map(str.isdecimal, word)))
    return named | {word for word in words if len(word) > 1 or word == "a"}


# --- compiling the tables ---------------------------------------------------------------------

_Owner = TypeVar("_Owner")


@dataclass(slots=True)
class _Node(Generic[_Owner]):
    """A word of a phrase: whose phrase ends with it, and which words may follow."""

    owner: _Owner | None = None
    after: dict[str, _Node[_Owner]] = field(default_factory=dict)
    plain: _Owner | None = None
    """The owner, where no other phrase goes on with this word and no number begins with it."""


Trie = dict[str, "_Node[str]"]
_Name = tuple[str, Item | str, Said | None]
"""ITEM and the item with what else it may mean, or SPOT and the place's name."""
_Names = dict[str, "_Node[_Name]"]


@dataclass
class _Grammar:
    classes: dict[str, frozenset[str]]
    phrases: Trie
    starting: dict[str, tuple[int, tuple[tuple[int, Sentence], ...]]]
    """By the character that they may begin with, each with what it needs, and all those needs."""
    serves: dict[str, int]
    """Of each character the bits of the sets that it is in."""
    unread_as: dict[str, str]
    """What it is to leave it unread, of each character that is no plain word of the tables."""
    unread: dict[str, float]
    """What that weighs."""
    held: tuple[dict[str, float], ...]
    """What a character weighs in the sentences of each of `_HELD`."""
    fillers: frozenset[str]
    clause: frozenset[str]
    """At which mere talk may end."""
    shape: Callable[[str], re.Pattern[str]]
    chosen: dict[tuple[str, int], tuple[Sentence, ...]] = field(default_factory=dict)

    def beginning(self, char: str, seen: int) -> tuple[Sentence, ...]:
        """The sentences that may begin with a character before others that serve `seen`."""
        needs, sentences = self.starting.get(char, (0, ()))
        key = (char, seen & needs)
        chosen = self.chosen.get(key)
        if chosen is None:
            lacking = ~seen
            chosen = tuple([sentence for needs, sentence in sentences if not needs & lacking])
            if len(self.chosen) == MOST_CHOSEN:
                self.chosen.clear()
            self.chosen[key] = chosen
        return chosen


MOST_CHOSEN = 20_000
"""Choices of sentences that are kept; each takes some 200 bytes."""


@cache
def _grammar() -> _Grammar:
    chars = _chars_of_phrases()
    alone = itertools.count(max(map(ord, chars.values())) + 1)

    def char_of(phrase: str) -> str:
        # There is room for 41,000 characters below those of numbers and names.
        if phrase not in chars:
            chars[phrase] = chr(next(alone))
        return chars[phrase]

    classes = {
        name: frozenset(char_of(" ".join(phrase.split())) for phrase in line.split(","))
        for name, line in WORDS.items()
    }
    classes.update({name: frozenset((char,)) for name, char in _SPECIAL.items()})
    firm = frozenset().union(*(found for name, found in classes.items() if name not in _PLAIN))
    plain = frozenset().union(*(classes[name] for name in _PLAIN))
    classes["OTHER"] |= plain - firm
    cues = frozenset().union(*(classes[name] for name in _CUES)) | NUMBERS
    ends = classes["TAKEBACK"]
    compiler = _Compiler(classes, char_of, cues, ends, frozenset(chars))
    sentences = []
    bits: dict[frozenset[str], int] = {}
    for meaning, source in SENTENCES:
        regex, first, _ = compiler.sequence(source.split())
        needs = sum(
            1 << bits.setdefault(one, len(bits)) for one in {*compiler.needs(source.split())}
        )
        features = _features(meaning, source)
        weight = sum(WEIGHTS.get(feature, 0.0) for feature in features)
        early = meaning in _MAY_END_EARLY
        rambling = early and meaning != "extra"  # "Extra, two hours, sixty dollars."
        holds = 1 if meaning in _WORDY else 2 if meaning == "subject" else 0
        sentence = Sentence(
            meaning, regex, features, early, rambling, meaning == "measure", holds, weight, needs
        )
        sentences.append((sentence, first))
    starting: dict[str, list[int]] = {}
    for at, (_, first) in enumerate(sentences):
        for char in first:
            starting.setdefault(char, []).append(at)

    @cache
    def begun(places: tuple[int, ...]) -> tuple[int, tuple[tuple[int, Sentence], ...]]:
        found = [sentences[at][0] for at in places]
        every = functools.reduce(operator.or_, (one.needs for one in found))
        return every, tuple([(one.needs, one) for one in found])

    serves = dict.fromkeys((*chars.values(), *_SPECIAL.values()), 0)
    for needed, bit in bits.items():
        for char in needed & serves.keys():
            serves[char] |= 1 << bit
    fillers = classes["FILLER"] | classes["AND"] | classes["ARTICLE"]
    classes["NUMBERS"] = NUMBERS
    unread_as = {
        **dict.fromkeys(classes["OTHER"], "unread strange"),
        **dict.fromkeys(fillers, "unread filler"),
        **dict.fromkeys(NUMBERS, "unread number"),
        ITEM: "unread item",
        SPOT: "unread place",
    }

    def held(names: Mapping[str, str]) -> dict[str, float]:
        return {char: WEIGHTS[name] for name, kept in names.items() for char in classes[kept]}

    phrases = _by_first_word({tuple(phrase.split()): char for phrase, char in chars.items()})

    @cache
    def shape(name: str) -> re.Pattern[str]:
        return re.compile(_numbered(compiler.sequence([name])[0]))

    return _Grammar(
        classes,
        phrases,
        {char: begun(tuple(found)) for char, found in starting.items()},
        serves,
        unread_as,
        {char: WEIGHTS[name] for char, name in unread_as.items()},
        tuple(held(names) for names in _HELD),
        fillers,
        classes["CLAUSE"],
        shape,
    )


# Sentences whose builders keep all that they hold as words.
_WORDY = {"talk", "note", "problem", "covered", "photo", "todo", "visit", "inspection"}
# Sentences that run to the end of the utterance, or of any clause in it.
_MAY_END_EARLY = {"talk", "todo", "extra", "visit", "inspection", "drive"}


def _chars_of_phrases() -> dict[str, str]:
    """A character for every phrase of the tables, the same for those that stand in the same classes
    and that no pattern names: so the patterns stay small.

    Those of the classes that patterns name most stand beside each other, as one range.
    """
    within: dict[str, list[str]] = {}
    for name, line in WORDS.items():
        for phrase in line.split(","):
            within.setdefault(" ".join(phrase.split()), []).append(name)
    patterns = " ".join([*SHAPES.values(), *(source for _, source in SENTENCES)])
    named = Counter([token.rpartition("=")[2].rstrip("?*+") for token in patterns.split()])
    alike = {
        phrase: (
            sorted({(-named[name], name) for name in names}),
            phrase if phrase in named else "",
        )
        for phrase, names in within.items()
    }
    chars: dict[str, str] = {}
    last: object = None
    code = 0x4E00 - 1
    for phrase in sorted(alike, key=alike.__getitem__):
        code += alike[phrase] != last
        last = alike[phrase]
        chars[phrase] = chr(code)
    return chars


def _features(meaning: str, source: str) -> tuple[str, ...]:
    found = ["stretch", f"as {meaning}"]
    if source.startswith("AMOUNT"):
        found.append("amount first")
    if "=.." in source or "SUBJECTWORDS" in source:
        found.append("loose")
    return tuple(found)


# Classes whose words tell something only beside others; elsewhere they are words like any other.
_PLAIN = (
    "EDITING", "HEDGING", "HESITATING", "ASIDE", "ASIDEALONE", "GROPING", "LINK", "NAMEDDIMENSION",
        "LACK", "OUTBY", "BREAKDOWN", "DOING", "GOODLY", "BOOK", "SKYDID", "IDLE",
    "PLAINLY", "TENS", "WIND", "COLOUR", "PROFILE", "PENNY", "GAUGE", "FIVEQUARTER", "GOODS",
    "FOOTER", "COLORED", "SHADE", "LONGS", "MATERIAL", "NAILS", "HAVING", "LYING", "STORE",
    "SHEETING", "CARRIES", "PUTSBACK", "THISWAY", "INTO", "OUTFROM", "JOBWORD", "HOUSEWORD",
    "SHOPWORD", "RIDEWORD", "OWNROOM", "INRIDE", "LEFTINRIDE",
    *ERRAND_WORDS, *(name for name in HOUSE_WORDS if name != "TURN"),
)  # fmt: skip


# Words at which "..." stops: whatever begins a fact of its own.
_CUES = (
    "USED", "DELIVER", "RETURN", "NEED", "START", "STOP", "BREAK", "PHOTO", "NOTE", "TAKEBACK",
    "AND", "COVER", "INSTEAD",
)  # fmt: skip


def alternatives_of(tokens: Sequence[str], at: int) -> tuple[list[list[str]], int, str]:
    """The alternatives inside a bracket of a pattern, where it ends, and the mark behind it."""
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


@dataclass
class _Compiler:
    classes: dict[str, frozenset[str]]
    char_of: Callable[[str], str]
    cues: frozenset[str]
    ends: frozenset[str]
    phrases: frozenset[str]
    words: dict[str, tuple[str, frozenset[str], bool]] = field(default_factory=dict)
    """What is known of a token already: the tables are read each time the program starts."""
    needed: dict[str, list[frozenset[str]]] = field(default_factory=dict)

    def sequence(self, tokens: list[str]) -> tuple[str, frozenset[str], bool]:
        """Regex of a sequence, the characters it may begin with, and whether it may be empty."""
        self.check(tokens)
        regex, first, empty = "", frozenset[str](), True
        at = 0
        while at < len(tokens):
            piece, piece_first, piece_empty, at = self.element(tokens, at)
            regex += piece
            if empty:
                first |= piece_first
            empty = empty and piece_empty
        return regex, first, empty

    def needs(self, tokens: list[str]) -> list[frozenset[str]]:
        """Sets of characters of each of which a match always holds one."""
        found: list[frozenset[str]] = []
        at = 0
        while at < len(tokens):
            token = tokens[at].partition("=")[2] or tokens[at]
            whole: list[frozenset[str]]
            if token == "(":
                options, at, mark = alternatives_of(tokens, at + 1)
                each = [self.needs(option) for option in options]
                smallest = [min(needed, key=_how_common) for needed in each if needed]
                whole = [frozenset().union(*smallest)] if all(each) else []
            else:
                at += 1
                mark = token[-1] if token[-1] in "?*+" else ""
                name = token.removesuffix(mark) if mark else token
                if name in SHAPES:
                    if name not in self.needed:
                        self.needed[name] = self.needs(SHAPES[name].split())
                    whole = self.needed[name]
                else:
                    whole = [] if name.startswith("..") else [self.word(name)[1]]
            if mark not in ("?", "*"):
                found += whole
        return found

    def check(self, tokens: list[str]) -> None:
        """Words that the tables know as one phrase reach a pattern as one: name its class."""
        for first, second in pairwise(tokens):
            if f"{first} {second}" in self.phrases:
                raise ValueError(f"{first!r} {second!r} is a phrase of WORDS; name its class")

    def element(self, tokens: list[str], at: int) -> tuple[str, frozenset[str], bool, int]:
        token = tokens[at]
        name = ""
        if "=" in token:
            name, _, token = token.partition("=")
        mark = ""
        if token == "(":
            alternatives, at, mark = alternatives_of(tokens, at + 1)
            regexes = [self.sequence(option) for option in alternatives]
            regex = _either([(found[0], found[1]) for found in regexes])
            first = frozenset().union(*(found[1] for found in regexes))
            empty = any(found[2] for found in regexes)
        else:
            at += 1
            if token[-1] in "?*+":
                token, mark = token[:-1], token[-1]
            regex, first, empty = self.word(token)
        if mark:
            regex = f"{regex}{mark}" if _is_class(regex) else f"(?:{regex}){mark}"
            empty = empty or mark in "?*"
        if name:
            regex = f"(?P<{name}{_NUMBER_HERE}>{regex})"
        return regex, first, empty, at

    def word(self, token: str) -> tuple[str, frozenset[str], bool]:
        if token not in self.words:
            self.words[token] = self.read(token)
        return self.words[token]

    def read(self, token: str) -> tuple[str, frozenset[str], bool]:
        if token == "......":
            return f"[^{_ranges(self.ends)}]*", frozenset(), True
        if token == "....":
            lengths = self.ends | self.classes["COVER"] | {MIX, FRAC}
            return f"[^{_ranges(lengths)}]*", frozenset(), True
        if token == "...":
            return f"[^{_ranges(self.cues)}]*", frozenset(), True
        if token == "..":
            allowed = self.activity()
            # "Hang siding and used" names a task no longer than "hang siding".
            joint, done = _ranges(self.classes["AND"]), _ranges(self.classes["USED"])
            return (
                f"(?:[{_ranges(allowed)}]{{1,6}}(?<![{joint}])(?<![{joint}][{done}]))",
                allowed,
                False,
            )
        if token in SHAPES:
            return self.sequence(SHAPES[token].split())
        if token in self.classes:
            allowed = self.classes[token]
        elif token.isupper():
            raise ValueError(f"the tables name no class or shape {token}")
        else:
            allowed = frozenset((self.char_of(token),))
        return f"[{_ranges(allowed)}]", allowed, False

    def activity(self) -> frozenset[str]:
        """Words that may name a task: anything but numbers, fillers and the cues of other facts."""
        named = (self.classes[name] for name in _ACTIVITY)
        fillers = self.classes["FILLER"] - self.classes["ARTICLE"]
        plain = self.classes["OTHER"] | {ITEM, SPOT}
        return plain.union(*named) - fillers


def _either(options: Sequence[tuple[str, frozenset[str]]]) -> str:
    """Regex of alternatives with the characters that they may begin with, neighbours of one
    character as one class."""
    merged: list[str] = []
    for alone, neighbours in itertools.groupby(options, lambda option: _is_class(option[0])):
        if alone:
            chars = frozenset[str]().union(*(first for _, first in neighbours))
            merged.append(f"[{_ranges(chars)}]")
        else:
            merged += [regex for regex, _ in neighbours]
    return merged[0] if len(merged) == 1 and _is_class(merged[0]) else f"(?:{'|'.join(merged)})"


def _is_class(regex: str) -> bool:
    """True for a regex of exactly one of some characters."""
    return regex[:1] == "[" and regex[1] != "^" and regex.find("]") == len(regex) - 1


_NUMBER_HERE = "__#"


def _numbered(regex: str) -> str:
    """A pattern may give one name twice, in two alternatives; a regex may not."""
    first, *more = regex.split(_NUMBER_HERE)
    return first + "".join(f"__{number}{part}" for number, part in enumerate(more))


def _how_common(chars: frozenset[str]) -> tuple[bool, int]:
    """Numbers are in most utterances, a word of a small class in few."""
    return NUM in chars, len(chars)


def _ranges(chars: Iterable[str]) -> str:
    """The characters as the inside of a regex class, neighbours as ranges."""
    parts: list[list[int]] = []
    for code in sorted(map(ord, chars)):
        if parts and parts[-1][1] == code - 1:
            parts[-1][1] = code
        else:
            parts.append([code, code])
    return "".join(chr(a) if a == b else f"{chr(a)}-{chr(b)}" for a, b in parts)


_ACTIVITY = (
    "USED", "PART", "SIDE", "ARTICLE", "EQUIPMENT", "COVER", "IN", "CUT", "DELIVER", "DIMENSION",
    "AND",
)  # fmt: skip


def _by_first_word(owners: dict[tuple[str, ...], _Owner]) -> dict[str, _Node[_Owner]]:
    root: _Node[_Owner] = _Node()
    for words, owner in owners.items():
        node = root
        for word in words:
            node = node.after.setdefault(word, _Node())
        node.owner = owner
    for word, node in root.after.items():
        if not node.after and len(word) <= MOST_DIGITS and not may_begin(word):
            node.plain = node.owner
    return root.after


def _longest(node: _Node[_Owner], words: Sequence[str], at: int) -> tuple[_Owner, int] | None:
    """The longest phrase that goes on behind `words[at]`, whose node this is."""
    found: tuple[_Owner, int] | None = None
    end, count = at + 1, len(words)
    while True:
        if node.owner is not None:
            found = node.owner, end
        after = node.after.get(words[end]) if end < count else None
        if after is None:
            return found
        node, end = after, end + 1


@lru_cache(maxsize=8)
def _names(vocabulary: Vocabulary) -> _Names:
    """Spoken names of items and places by first word, longest first; the first owner wins."""
    owners: dict[tuple[str, ...], _Name] = {}
    for place in vocabulary.places:
        owners.setdefault(tuple(place.lower().split()), (SPOT, place, None))
    for name, lines in lines_by_name(vocabulary).items():
        plain = plainly(lines)
        for spelled in _spellings(name):
            owners.setdefault(_words_of_name(spelled), (ITEM, *plain))
    return _by_first_word(owners)


def _words_of_name(name: str) -> tuple[str, ...]:
    """As the name would be heard: "1x8" is "1 by 8"."""
    return tuple(word for word, _ in marked_words(name)) or (name,)


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
