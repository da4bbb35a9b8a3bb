"""From the tables of `language/` to a parser: words to atoms, atoms to the best sentences.

Every word or phrase of the tables becomes one character, every pattern a regular expression over
such characters, and a chart over the utterance finds the cheapest way to cover its words with
patterns (Viterbi over spans). What no pattern covers is kept as unread.
"""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from itertools import accumulate, pairwise
from typing import Generic, TypeVar

from joblog.dictation.items import Said, lines_by_name, plainly
from joblog.dictation.language import SENTENCES, SHAPES, WORDS
from joblog.dictation.numbers import MOST_DIGITS, PARTS, Number, is_written, number_at
from joblog.dictation.words import Marked, marked_words
from joblog.model import Item, Vocabulary


@dataclass(frozen=True, slots=True)
class Atom:
    """One word, phrase or number of the utterance; `words` as they were said."""

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
    weight: float
    needs: int
    """Bits of the sets of characters of each of which a match always holds one."""
    pattern: re.Pattern[str] | None = None
    """Compiled when it is first needed: most utterances need few."""

    def compiled(self) -> re.Pattern[str]:
        self.pattern = self.pattern or re.compile(_numbered(self.regex))
        return self.pattern


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of atoms read as one sentence; `parts` holds what its names matched."""

    start: int
    end: int
    meaning: str
    parts: dict[str, tuple[Atom, ...]]
    atoms: tuple[Atom, ...]


NUM, MIX, FRAC, CLOCK, ITEM, SPOT, OTHER, TWELFTHS, HUGE = (chr(0xF000 + at) for at in range(9))
_SPECIAL = {
    "NUM": NUM, "MIX": MIX, "FRAC": FRAC, "CLOCK": CLOCK, "ITEM": ITEM, "SPOT": SPOT,
    "OTHER": OTHER, "TWELFTHS": TWELFTHS, "HUGE": HUGE,
}  # fmt: skip
NUMBERS = frozenset((NUM, MIX, FRAC, CLOCK, TWELFTHS, HUGE))

# Costs in words: a stretch costs something so that fewer, longer ones win; a number left over is
# far worse than a word left over; a filler costs next to nothing.
STRETCH_COST = 0.4
UNREAD_COST = {"number": 2.5, "word": 0.7, "filler": 0.05}
PAUSE_COST = 0.15
CLAUSE_COST, TALK_PAUSE_COST = 1.6, 1.0
"""What mere talk costs for running on past "and", "but", "okay" or a pause: more than the stretch
it would save, so that a fact behind it stands, and less than leaving the words behind it unread."""
WEIGHTS = {
    "more": 0.06, "not this": 0.1, "break": 0.01, "numbered place": 0.01, "place": 0.005,
    "subject": -0.05, "maybe instead": -0.05, "range": -0.1, "price": -0.2, "pay": -0.2,
    "clock": -0.5,
    "adjust": -0.5, "request": -2.0, "about it": -0.1, "adjust instead": 0.05,
    "this not that": 0.05, "moved": 0.05, "more labor": 0.6, "talk": -0.1,
    "weather": 0.03, "moment": 0.1, "share": 0.2,
}  # fmt: skip
"""What is added to a sentence's score. A request for "new blades" is less sure than an amount."""
AMOUNT_FIRST = -0.02
"""Added where the amount stands first: "spoiled one elbow" rather than "two elbows spoiled"."""
LOOSE = -0.5
"""Added where `..` stands for words that are in no table."""


def atoms_of(text: str, vocabulary: Vocabulary) -> list[Atom]:
    """The text as atoms: names of the job first, then numbers and the longest known phrases."""
    return atoms_among(marked_words(text), vocabulary)


def atoms_among(marked: Marked, vocabulary: Vocabulary) -> list[Atom]:
    """The same of words as `marked_words` gives them."""
    words = [word for word, _ in marked]
    stops = [at for at, (word, pause) in enumerate(marked) if pause and word not in JOINING]
    stops.append(len(words))
    names = _names(vocabulary)
    phrases = _grammar().phrases
    atoms: list[Atom] = []
    at, count, coming = 0, len(words), 0
    while at < count:
        while stops[coming] <= at:
            coming += 1
        char, value, end, said = _next_atom(words, at, names, phrases, stops[coming])
        spelled = words[at] if end == at + 1 else " ".join(words[at:end])
        atoms.append(Atom(char, spelled, value, marked[at][1], said))
        at = end
    return atoms


# Words that go on with a number after a comma: "eleven, and a half", "15, sixteenths".
JOINING = frozenset([*PARTS, "and", "point", "hundred", "thousand"])


def _next_atom(
    words: list[str], at: int, names: _Names, phrases: Trie, stop: int
) -> tuple[str, Number | Item | str | None, int, Said | None]:
    word = words[at]
    named = names.get(word)
    if named:
        hit = _longest(named, words, at)
        if hit:
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


class Chart:
    """The best ways to cover the atoms with sentences, from each atom to the end (Viterbi).

    `refuse` takes one way out and works out anew what rested on it. `steps` counts the atoms
    that were worked out.
    """

    def __init__(self, atoms: Sequence[Atom]) -> None:
        self._atoms = atoms
        self._text = "".join(atom.char for atom in atoms)
        self._refused: set[tuple[int, int, str]] = set()
        self._grammar = _grammar()
        # How many pauses stand before each atom; a sentence had rather not run across one.
        self._paused = [0, *accumulate(atom.pause for atom in atoms)]
        self._over = [
            0.0,
            *accumulate(
                CLAUSE_COST if is_a(atom, "CLAUSE") else TALK_PAUSE_COST * atom.pause
                for atom in atoms
            ),
        ]
        count = len(atoms)
        self._clauses = [at for at in range(1, count) if self._over[at + 1] > self._over[at]]
        serves = [self._grammar.serves[char] for char in reversed(self._text)]
        self._seen = [*accumulate(serves, operator.or_)][::-1]
        self._best: list[float] = [0.0] * (count + 1)
        self._step: list[tuple[int, Sentence, re.Match[str]] | None] = [None] * count
        self.steps = 0
        self._work_out(count - 1)

    def refuse(self, start: int, end: int, meaning: str) -> None:
        """Never again read the atoms from `start` to `end` as `meaning`."""
        self._refused.add((start, end, meaning))
        self._work_out(start)

    def cover(self) -> tuple[list[Stretch], list[int], float]:
        """The best stretches, the indexes of atoms that none of them covers, and the score."""
        stretches: list[Stretch] = []
        unread: list[int] = []
        at = 0
        while at < len(self._atoms):
            chosen = self._step[at]
            if chosen is None:
                unread.append(at)
                at += 1
                continue
            end, sentence, match = chosen
            stretches.append(self._stretch(at, end, sentence, match))
            at = end
        return stretches, unread, self._best[0]

    def _stretch(self, at: int, end: int, sentence: Sentence, match: re.Match[str]) -> Stretch:
        parts = {
            name.partition("__")[0]: tuple(self._atoms[match.start(name) : match.end(name)])
            for name, found in match.groupdict().items()
            if found
        }
        return Stretch(at, end, sentence.meaning, parts, tuple(self._atoms[at:end]))

    def _work_out(self, last: int) -> None:
        """The best way from each atom up to `last`, which rest on those behind it."""
        text = self._text
        self.steps += last + 1
        for start in range(last, -1, -1):
            char = text[start]
            self._best[start] = self._best[start + 1] - _unread_cost(char, self._grammar)
            self._step[start] = None
            lacking = ~self._seen[start]
            for needs, sentence in self._grammar.starting.get(char, ()):
                if needs & lacking:
                    continue
                match = (sentence.pattern or sentence.compiled()).match(text, start)
                if match is not None and match.end() > start:
                    self._offer(start, sentence, match)

    def _offer(self, start: int, sentence: Sentence, match: re.Match[str]) -> None:
        """Takes a sentence that matches from `start` where nothing better was found."""
        end = match.end()
        if sentence.meaning != "talk":
            crossed = PAUSE_COST * (self._paused[end] - self._paused[start + 1])
            self._keep(start, end, sentence, match, crossed)
            return
        if (start, end, "talk") in self._refused:
            return
        # Mere talk may end with any clause: what is said after it may be a fact.
        for last in self._clauses:
            if not start < last < end:
                continue
            part = sentence.compiled().match(self._text, start, last)
            if part is not None and part.end() == last:
                self._keep(start, last, sentence, part, self._over[last] - self._over[start + 1])
        self._keep(start, end, sentence, match, self._over[end] - self._over[start + 1])

    def _keep(
        self, start: int, end: int, sentence: Sentence, match: re.Match[str], crossed: float
    ) -> None:
        score = self._best[end] + (end - start) + sentence.weight - crossed
        if score <= self._best[start] + 1e-9:
            return
        if self._refused and (start, end, sentence.meaning) in self._refused:
            return
        self._best[start] = score
        self._step[start] = (end, sentence, match)


def number_atom(words: Sequence[str], number: Number) -> Atom:
    """An atom of a number that stands in those words."""
    return Atom(_number_char(number), " ".join(words), number)


def is_a(atom: Atom, name: str) -> bool:
    """True when the atom stands in the class of words `name`."""
    return atom.char in _grammar().classes[name]


def has_any(atoms: Iterable[Atom], *names: str) -> bool:
    """True when one of the atoms stands in one of these classes of words."""
    union = _union(names)
    return any(atom.char in union for atom in atoms)


@cache
def _union(names: tuple[str, ...]) -> frozenset[str]:
    return frozenset().union(*(_grammar().classes[name] for name in names))


def find(name: str, atoms: Sequence[Atom]) -> tuple[Atom, ...]:
    """The first place in `atoms` where the shape `name` matches; empty when nowhere."""
    pattern = _grammar().shape(name)
    match = pattern.search("".join(atom.char for atom in atoms))
    return tuple(atoms[match.start() : match.end()]) if match else ()


def shape(name: str) -> re.Pattern[str]:
    """The shape `name` of the tables over the characters of atoms; group names may end in "__1"."""
    return _grammar().shape(name)


def chars_in(name: str) -> frozenset[str]:
    """The characters that stand in a class of words; none where the tables have no such class."""
    return _grammar().classes.get(name, frozenset())


def chars_of(*names: str) -> str:
    """The inside of a regex class of all characters that stand in these classes of words."""
    return _ranges(_union(names))


@lru_cache(maxsize=4096)
def numbers_in(text: str, vocabulary: Vocabulary) -> tuple[Fraction | str, ...]:
    """The numbers of a text in order, clock times as they were written."""
    return tuple(
        atom.value.value if isinstance(atom.value, Number) else atom.words
        for atom in atoms_of(text, vocabulary)
        if atom.char in NUMBERS
    )


def known_words() -> frozenset[str]:
    """Every word that stands in the tables, for the recognizers' vocabulary."""
    listed = " ".join(phrase for line in WORDS.values() for phrase in line.split(","))
    literal = " ".join(pattern for _, pattern in SENTENCES) + " ".join(SHAPES.values())
    words = {word for word in literal.split() if word.isalpha() and word.islower()}
    return frozenset(listed.split()) | {word for word in words if len(word) > 1 or word == "a"}


# --- compiling the tables ---------------------------------------------------------------------

_Owner = TypeVar("_Owner")


@dataclass(slots=True)
class _Node(Generic[_Owner]):
    """A word of a phrase: whose phrase ends with it, and which words may follow."""

    owner: _Owner | None = None
    after: dict[str, _Node[_Owner]] = field(default_factory=dict)


Trie = dict[str, "_Node[str]"]
_Name = tuple[str, Item | str, Said | None]
"""ITEM and the item with what else it may mean, or SPOT and the place's name."""
_Names = dict[str, "_Node[_Name]"]


@dataclass
class _Grammar:
    classes: dict[str, frozenset[str]]
    phrases: Trie
    starting: dict[str, tuple[tuple[int, Sentence], ...]]
    """By the character that they may begin with, each with what it needs."""
    serves: dict[str, int]
    """Of each character the bits of the sets that it is in."""
    fillers: frozenset[str]
    shape: Callable[[str], re.Pattern[str]]


@cache
def _grammar() -> _Grammar:
    chars: dict[str, str] = {}

    def char_of(phrase: str) -> str:
        # There is room for 41,000 phrases below the characters of numbers and names.
        return chars.setdefault(phrase, chr(0x4E00 + len(chars)))

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
        weight = WEIGHTS.get(meaning, 0.0) - STRETCH_COST
        weight += AMOUNT_FIRST if source.startswith("AMOUNT") else 0.0
        weight += LOOSE if "=.." in source or "SUBJECTWORDS" in source else 0.0
        sentences.append((Sentence(meaning, regex, weight, needs), first))
    starting: dict[str, list[Sentence]] = {}
    for sentence, first in sentences:
        for char in first:
            starting.setdefault(char, []).append(sentence)
    serves = {
        char: sum(1 << bit for needed, bit in bits.items() if char in needed)
        for char in (*chars.values(), *_SPECIAL.values())
    }
    phrases = _by_first_word({tuple(phrase.split()): char for phrase, char in chars.items()})

    @cache
    def shape(name: str) -> re.Pattern[str]:
        return re.compile(_numbered(compiler.sequence([name])[0]))

    return _Grammar(
        classes,
        phrases,
        {char: tuple((one.needs, one) for one in found) for char, found in starting.items()},
        serves,
        classes["FILLER"] | classes["AND"] | classes["ARTICLE"],
        shape,
    )


# Classes whose words tell something only beside others; elsewhere they are words like any other.
_PLAIN = (
    "LACK", "OUTBY", "BREAKDOWN", "DOING", "GOODLY", "BOOK", "SKYDID", "IDLE",
    "PLAINLY", "TENS", "WIND", "COLOUR", "PROFILE", "PENNY", "GAUGE", "FIVEQUARTER", "GOODS",
)  # fmt: skip


# Words at which "..." stops: whatever begins a fact of its own.
_CUES = (
    "USED", "DELIVER", "RETURN", "NEED", "START", "STOP", "BREAK", "PHOTO", "NOTE", "TAKEBACK",
    "AND", "COVER", "INSTEAD",
)  # fmt: skip


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
                options, at, mark = self.bracket(tokens, at + 1)
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
            regex = f"(?P<{name}{_NUMBER_HERE}>{regex})"
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
            return f"[{_ranges(allowed)}]{{1,6}}", allowed, False
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


def _unread_cost(char: str, grammar: _Grammar) -> float:
    if char in NUMBERS:
        return UNREAD_COST["number"]
    return UNREAD_COST["filler" if char in grammar.fillers else "word"]
