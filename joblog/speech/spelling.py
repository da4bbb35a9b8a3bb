"""Which pieces may come next, so that only words of the job are written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from joblog.speech.tokens import END, is_mark


class Spelling:
    """Walks of a recognizer's pieces along the words of a job.

    Words are matched by character, because one word can be cut into pieces in several ways.
    """

    def __init__(self, words: Iterable[str], pieces: PieceTree) -> None:
        self.begin = Node()
        self._word = Node()
        self._ended = Node(word="")
        for word in {word.lower() for word in words}:
            _spell(self._word, word)
        self._pieces = pieces

    def choices(self, node: Node) -> Choices:
        """The tokens that may come at a node, and the way that each one goes."""
        tokens, ways = self._own(node)
        if not node.word:
            return Choices(tokens, ways)
        # What may come after a word is the same for all words.
        others, onward = self._own(self._ended)
        return Choices(np.concatenate([tokens, others]), ways, node.word, onward)

    def accepts(self, tokens: Sequence[int]) -> bool:
        """Whether a row of tokens, the end token last, writes nothing but words of the job."""
        node = self.begin
        for token in tokens:
            choices = self.choices(node)
            places = (choices.tokens == token).nonzero()[0]
            if not len(places):
                return False
            node = choices.way(int(places[0])).to
        return bool(tokens) and tokens[-1] == END

    def _own(self, node: Node) -> tuple[NDArray[np.int64], tuple[Way, ...]]:
        """The choices at a node but for those that come after every word alike."""
        if node.tokens is None:
            found: list[tuple[int, Way]] = []
            first = {c: tree for c, tree in self._pieces.after.items() if c in node.after}
            self._walk(Way(node), PieceTree(first) if node.word else self._pieces, found)
            if node.word == "":
                found.append((END, Way(node)))
            node.tokens = np.array([token for token, _ in found], np.int64)
            node.ways = tuple(way for _, way in found)
        return node.tokens, node.ways

    def _walk(self, way: Way, piece: PieceTree, found: list[tuple[int, Way]]) -> None:
        for character, longer in piece.after.items():
            on = self._step(way, character)
            if on is not None:
                found.extend((token, on) for token in longer.tokens)
                self._walk(on, longer, found)

    def _step(self, way: Way, character: str) -> Way | None:
        node = way.to
        if node is self.begin:
            if character == " ":
                return Way(self._word)
            node = self._word
        if character in node.after:
            return Way(node.after[character], way.written)
        if node.word is None:
            return None
        written = (*way.written, node.word) if node.word else way.written
        return Way(self._word, written) if character == " " else None


@dataclass(slots=True)
class Node:
    """A place inside a word."""

    after: dict[str, Node] = field(default_factory=dict)
    """The characters that may follow."""
    word: str | None = None
    """The word that may end here; empty where one has ended before."""
    tokens: NDArray[np.int64] | None = None
    """Its own choices, and in `ways` where each leads; found when first asked for."""
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """Where a token leads, and the words that were finished on the way."""

    to: Node
    written: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choices:
    """The tokens that may come next."""

    tokens: NDArray[np.int64]
    own: tuple[Way, ...]
    """Where the first of the tokens lead."""
    word: str = ""
    """The word that ends when one of the other tokens comes."""
    after: tuple[Way, ...] = ()
    """Where those lead."""

    def way(self, place: int) -> Way:
        """Where the token at a place of `tokens` leads."""
        if place < len(self.own):
            return self.own[place]
        onward = self.after[place - len(self.own)]
        return Way(onward.to, (self.word, *onward.written))


@dataclass(slots=True)
class PieceTree:
    """The pieces by their characters; `tokens` are those that end here."""

    after: dict[str, PieceTree] = field(default_factory=dict)
    tokens: list[int] = field(default_factory=list)


def piece_tree(pieces: Sequence[bytes]) -> PieceTree:
    """The tree of all pieces that are plain text."""
    root = PieceTree()
    for token, piece in enumerate(pieces):
        if not piece.isascii() or not piece or is_mark(token, pieces):
            continue
        place = root
        for character in piece.decode("ascii"):
            place = place.after.setdefault(character, PieceTree())
        place.tokens.append(token)
    return root


def _spell(node: Node, word: str) -> None:
    for character in word:
        node = node.after.setdefault(character, Node())
    node.word = word
