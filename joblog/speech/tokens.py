"""The pieces of words that the general recognizer writes, and their text."""

from __future__ import annotations

from collections.abc import Sequence
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


def is_mark(token: int, pieces: Sequence[bytes]) -> bool:
    """Whether a token steers the model and is no text, such as the end of the utterance."""
    piece = pieces[token]
    return token <= END or piece.startswith(b"<<ST_")
