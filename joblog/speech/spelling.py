"""Which pieces may come next, so that only words of the job are written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from joblog.speech.tokens import END, is_mark

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

PUNCTUATION = ",.?!;:"
"""What may stand after a word; the general recognizer writes it as it pleases."""
JOINTS = " -"
"""What may stand between two words."""


class Spelling:
    """Walks of a recognizer's pieces along the words of a job.

    Words are matched by character, in whatever case, because one word can be cut into pieces in
    several ways.
    """

    def __init__(self, words: Iterable[str], pieces: PieceTree) -> None:
        self.begin = Node()
        self._word = Node()
        self._closed = Node(ends=True)
        for word in words:
            _spell(self._word, word.lower())
        self._pieces = pieces

    def choices(self, node: Node) -> tuple[NDArray[np.int64], tuple[Node, ...]]:
        """The tokens that may come at a node, and the node to which each leads."""
        if node.tokens is None:
            import numpy as np

            found: list[tuple[int, Node]] = []
            self._walk(node, self._pieces, found)
            if node.ends:
                found.append((END, self._closed))
            node.tokens = np.array([token for token, _ in found], np.int64)
            node.nodes = tuple(to for _, to in found)
        return node.tokens, node.nodes

    def accepts(self, tokens: Sequence[int]) -> bool:
        """Whether a row of tokens, the end token last, writes nothing but words of the job."""
        node = self.begin
        for token in tokens:
            allowed, nodes = self.choices(node)
            places = (allowed == token).nonzero()[0]
            if not len(places):
                return False
            node = nodes[places[0]]
        return bool(tokens) and tokens[-1] == END

    def _walk(self, node: Node, piece: PieceTree, found: list[tuple[int, Node]]) -> None:
        for character, longer in piece.after.items():
            to = self._step(node, character)
            if to is not None:
                found.extend((token, to) for token in longer.tokens)
                self._walk(to, longer, found)

    def _step(self, node: Node, character: str) -> Node | None:
        if node is self.begin:
            return self._word if character == " " else self._word.after.get(character)
        if character in node.after:
            return node.after[character]
        if node.ends and character in JOINTS:
            return self._word
        if node.ends and character in PUNCTUATION and node is not self._closed:
            return self._closed
        return None


@dataclass(slots=True)
class Node:
    """A place inside a word: the characters that may follow, and whether a word ends here."""

    after: dict[str, Node] = field(default_factory=dict)
    ends: bool = False
    tokens: NDArray[np.int64] | None = None
    """Which tokens may come here, and in `nodes` where each leads; found when first asked for."""
    nodes: tuple[Node, ...] = ()


@dataclass(slots=True)
class PieceTree:
    """The pieces by their characters in lower case; `tokens` are those that end here."""

    after: dict[str, PieceTree] = field(default_factory=dict)
    tokens: list[int] = field(default_factory=list)


def piece_tree(pieces: Sequence[bytes]) -> PieceTree:
    """The tree of all pieces that are plain text."""
    root = PieceTree()
    for token, piece in enumerate(pieces):
        if not piece.isascii() or not piece or is_mark(token, pieces):
            continue
        place = root
        for character in piece.decode("ascii").lower():
            place = place.after.setdefault(character, PieceTree())
        place.tokens.append(token)
    return root


def _spell(node: Node, word: str) -> None:
    for character in word:
        node = node.after.setdefault(character, Node())
    node.ends = True
