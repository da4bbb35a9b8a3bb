"""The patterns of `language/` as trees, for whoever must know which way through them was taken.

The reader compiles the same patterns to regular expressions, which say that a pattern matches and
not how; a tree says which alternatives, how often, and which words, and can be walked at random.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from joblog.dictation.grammar import alternatives_of, shape
from joblog.dictation.language import SENTENCES, SHAPES


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A class of words, a kind of number or name, a very word, or any words (`...`)."""

    token: str
    key: str
    """Stands for the leaf and what is around it in the tables, whatever else is added there."""

    @property
    def wild(self) -> bool:
        return self.token.startswith("..")


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One part after the other."""

    parts: tuple[Node, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Choice:
    """One of several."""

    options: tuple[Node, ...]
    key: str


@dataclass(frozen=True, slots=True, eq=False)
class Repeat:
    """A part that is said at least so many times, and once at most where `mark` is `?`."""

    part: Node
    mark: str
    key: str


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """A part that the builder of the meaning asks for by name."""

    name: str
    part: Node


Node = Leaf | Row | Choice | Repeat | Named


@dataclass(frozen=True, slots=True, eq=False)
class Pattern:
    """One line of `SENTENCES`."""

    meaning: str
    source: str
    key: str
    tree: Node


@cache
def patterns() -> tuple[Pattern, ...]:
    """The lines of `SENTENCES` in their order."""
    return tuple(
        Pattern(meaning, source, _key(meaning, source), _tree(meaning, source.split()))
        for meaning, source in SENTENCES
    )


@cache
def shape_tree(name: str) -> Node:
    return _tree(name, SHAPES[name].split())


Step = tuple[Choice | Repeat | Leaf, int, int]
"""An option taken, 0; how often, 0; or where the words of a leaf begin and end."""


def way_through(node: Node, text: str, start: int, end: int) -> list[Step] | None:
    """The way by which the characters from `start` to `end` are what `node` says, in order; of
    several the one that a regular expression would find first. None where there is none, or it
    is not found in `MOST_TRIES`."""
    tries = _Tries(text, end)
    for at, trail in _ways(node, start, None, tries):
        if at == end:
            steps: list[Step] = []
            while trail is not None:
                steps.append(trail[0])
                trail = trail[1]
            return steps[::-1]
        if tries.spent():
            break
    return None


MOST_TRIES = 20_000

# --- from the tables to trees -------------------------------------------------------------------


def _tree(owner: str, tokens: Sequence[str]) -> Node:
    parts: list[Node] = []
    at = 0
    while at < len(tokens):
        part, at = _element(owner, tokens, at)
        parts.append(part)
    return parts[0] if len(parts) == 1 else Row(tuple(parts))


def _element(owner: str, tokens: Sequence[str], at: int) -> tuple[Node, int]:
    begun = at
    name, equals, token = tokens[at].partition("=")
    if not equals:
        name, token = "", tokens[at]
    node: Node
    if token == "(":
        options, at, mark = alternatives_of(tokens, at + 1)
        trees = tuple(_tree(owner, option) for option in options)
        source = " ".join(tokens[begun:at])
        node = trees[0] if len(trees) == 1 else Choice(trees, _key(owner, source))
    else:
        at += 1
        mark = token[-1] if token[-1] in "?*+" else ""
        token = token.removesuffix(mark) if mark else token
        around = " ".join(tokens[max(0, begun - 2) : at + 2])
        node = shape_tree(token) if token in SHAPES else Leaf(token, _key(owner, token, around))
    if mark:
        node = Repeat(node, mark, _key(owner, "repeat", " ".join(tokens[begun : at + 1])))
    return (Named(name, node) if name else node), at


def _key(*words: str) -> str:
    return f"{zlib.crc32(' / '.join(words).encode()):08x}"


# --- which way was taken ------------------------------------------------------------------------

_Trail = tuple[Step, "_Trail"] | None


@dataclass(slots=True)
class _Tries:
    text: str
    end: int
    count: int = 0

    def spent(self) -> bool:
        self.count += 1
        return self.count > MOST_TRIES


def _ways(node: Node, at: int, trail: _Trail, tries: _Tries) -> Iterator[tuple[int, _Trail]]:
    if tries.spent():
        return
    match node:
        case Leaf():
            found = shape(node.token).match(tries.text, at, tries.end)
            if found is None:
                return
            least = at if node.wild and node.token != ".." else at + 1
            for end in range(found.end(), least - 1, -1):
                yield end, ((node, at, end), trail)
        case Row():
            yield from _in_turn(node.parts, 0, at, trail, tries)
        case Choice():
            for index, option in enumerate(node.options):
                yield from _ways(option, at, ((node, index, 0), trail), tries)
        case Repeat():
            yield from _again(node, 0, at, trail, tries)
        case Named():
            yield from _ways(node.part, at, trail, tries)


def _in_turn(
    parts: Sequence[Node], first: int, at: int, trail: _Trail, tries: _Tries
) -> Iterator[tuple[int, _Trail]]:
    if first == len(parts):
        yield at, trail
        return
    for end, longer in _ways(parts[first], at, trail, tries):
        yield from _in_turn(parts, first + 1, end, longer, tries)


def _again(
    node: Repeat, times: int, at: int, trail: _Trail, tries: _Tries
) -> Iterator[tuple[int, _Trail]]:
    if times == 0 or node.mark != "?":
        for end, longer in _ways(node.part, at, trail, tries):
            if end > at:
                yield from _again(node, times + 1, end, longer, tries)
    if times >= (node.mark == "+"):
        yield at, ((node, times, 0), trail)
