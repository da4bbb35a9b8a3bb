"""The pieces of words that the general recognizer writes, and their text."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from pathlib import Path

BEGIN = 1
END = 2
SPACE = "▁".encode()
"""The mark with which a piece says that a space goes before it."""


def read_pieces(path: Path) -> tuple[bytes, ...]:
    """The pieces of a `tokenizer.bin`, by token number; a space is a space already.

    The file is a list of byte strings, each after its length: one byte, or from 128 on two, the
    low seven bits first. A piece of length 0 has no text. Raises ValueError when the file ends
    inside a piece.
    """
    held = path.read_bytes()
    pieces: list[bytes] = []
    at = 0
    while at < len(held):
        length = held[at]
        at += 1
        if length >= 128:
            if at >= len(held):
                raise ValueError(f"{path.name} ends inside piece {len(pieces)}")
            length = length - 128 + held[at] * 128
            at += 1
        if at + length > len(held):
            raise ValueError(f"{path.name} ends inside piece {len(pieces)}")
        pieces.append(held[at : at + length].replace(SPACE, b" "))
        at += length
    return tuple(pieces)


def write_out(tokens: Sequence[int], pieces: Sequence[bytes]) -> str:
    """The text of a row of tokens. Begin, end and other marks in angle brackets have none."""
    held = b"".join(pieces[token] for token in tokens if not is_mark(token, pieces))
    return held.decode("utf-8", errors="replace").strip()


def cut(text: str, numbers: Mapping[bytes, int]) -> tuple[int, ...]:
    """The tokens of a text: its words' letters joined two by two, the lowest number first.

    `numbers` are those of the pieces. No piece reaches from one word into the next. Raises
    ValueError for a letter that is no piece.
    """
    return tuple(token for word in text.split() for token in _cut_word(word, numbers))


def numbered(pieces: Sequence[bytes]) -> dict[bytes, int]:
    """The numbers of all pieces that are text, for `cut`."""
    # A byte that is also a letter comes twice, the letter last.
    return {piece: token for token, piece in enumerate(pieces) if not is_mark(token, pieces)}


def _cut_word(word: str, numbers: Mapping[bytes, int]) -> list[int]:
    row = [letter.encode() for letter in f" {word}"]
    while len(row) > 1:
        pairs = [numbers.get(one + next_one, math.inf) for one, next_one in pairwise(row)]
        lowest = min(pairs)
        if lowest == math.inf:
            break
        place = pairs.index(lowest)
        row[place : place + 2] = [row[place] + row[place + 1]]
    if strange := [piece for piece in row if piece not in numbers]:
        raise ValueError(f"{word!r} cannot be written, because of {strange[0].decode()!r}")
    return [numbers[piece] for piece in row]


def is_mark(token: int, pieces: Sequence[bytes]) -> bool:
    """Whether a token steers the model and is no text, such as the end of the utterance."""
    piece = pieces[token]
    return token <= END or piece.startswith(b"<<ST_")
