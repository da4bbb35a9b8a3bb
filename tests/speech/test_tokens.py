"""The tokenizer's file and the text of its pieces."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.speech.tokens import cut, numbered, read_pieces, write_out

MARKS = [b"<unk>", b"<s>", b"</s>"]


def filed(pieces: list[bytes]) -> bytes:
    """As the file has it: one length byte, or from 128 on low seven bits first, then the rest."""
    lengths = [
        bytes([n]) if (n := len(piece)) < 128 else bytes([n % 128 + 128, n // 128])
        for piece in pieces
    ]
    return b"".join(part for pair in zip(lengths, pieces, strict=True) for part in pair)


@given(pieces=st.lists(st.binary(max_size=400)))
def test_pieces_come_back_as_they_were_filed(
    pieces: list[bytes], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("pieces") / "tokenizer.bin"
    path.write_bytes(filed(pieces))
    spaced = tuple(piece.replace("▁".encode(), b" ") for piece in pieces)
    assert read_pieces(path) == spaced


def test_a_file_that_ends_inside_a_piece_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "tokenizer.bin"
    path.write_bytes(filed([b"north", b"wall"])[:-1])
    with pytest.raises(ValueError, match="ends inside piece 1"):
        read_pieces(path)


def test_text_is_written_without_marks_and_with_letters_that_need_two_pieces() -> None:
    pieces = [*MARKS, b" caf", b"\xc3", b"\xa9", b" north", b"<<ST_0>>"]
    assert write_out([1, 6, 7, 3, 4, 5, 2], pieces) == "north café"


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="<▁ \n")))
def test_a_text_cut_into_bytes_comes_back_whole(text: str) -> None:
    pieces = [*MARKS, *(bytes([value]) for value in range(256))]
    tokens = [3 + value for value in text.encode()]
    assert write_out(tokens, pieces) == text.strip()


LETTERS = [letter.encode() for letter in " abcdefghijklmnopqrstuvwxyz'"]
PIECES = [*MARKS, b" w", b"al", b"all", b" wal", b"ll", *LETTERS]
NUMBERS = numbered(PIECES)


@given(st.lists(st.text("walk's", min_size=1, max_size=8), max_size=4))
def test_words_that_are_cut_and_written_are_the_same_words(words: list[str]) -> None:
    assert write_out(cut(" ".join(words), NUMBERS), PIECES) == " ".join(words)


def test_the_piece_that_comes_first_in_the_file_is_joined_first() -> None:
    # " w" before "al", both before " wal" and "all", of which "all" comes first.
    assert [PIECES[token] for token in cut("wall all", NUMBERS)] == [b" w", b"all", b" ", b"all"]


def test_a_letter_that_is_no_piece_is_named_with_its_word() -> None:
    with pytest.raises(ValueError, match="'naïve' cannot be written, because of 'ï'"):
        cut("a naïve wall", NUMBERS)
