"""Which pieces may follow one another along the words of a job."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.speech.spelling import Spelling, piece_tree
from joblog.speech.tokens import END

WORDS = ("north", "soffit", "eighths", "o'clock", "six")
MARKS = [b"<unk>", b"<s>", b"</s>"]


def cut(text: str, at: set[int]) -> list[bytes]:
    """The text in pieces, cut before each place that is named."""
    edges = [0, *sorted(place for place in at if 0 < place < len(text)), len(text)]
    return [text[a:b].encode() for a, b in pairwise(edges)]


def accepts(pieces: list[bytes], words: tuple[str, ...] = WORDS) -> bool:
    vocabulary = [*MARKS, *dict.fromkeys(pieces)]
    spelling = Spelling(words, piece_tree(vocabulary))
    return spelling.accepts([*(vocabulary.index(piece) for piece in pieces), END])


@given(
    st.lists(st.sampled_from(WORDS), min_size=1, max_size=4),
    st.sets(st.integers(0, 40)),
)
def test_words_of_the_job_are_accepted_however_they_are_cut(words: list[str], at: set[int]) -> None:
    assert accepts(cut(" " + " ".join(words), at))


@given(st.text("northsix ", min_size=1, max_size=12), st.sets(st.integers(0, 12)))
def test_nothing_else_is_accepted(text: str, at: set[int]) -> None:
    right = all(word in ("north", "six") for word in text.strip(" ").split(" "))
    single = "  " not in text and text.strip() and not text.endswith(" ")
    assert accepts(cut(text, at), ("north", "six")) == bool(right and single)


@pytest.mark.parametrize("text", [" sof", " soffits", " soffit north", " nor th", ","])
def test_half_words_longer_words_and_punctuation_are_refused(text: str) -> None:
    assert not accepts([text.encode()], ("soffit",))


def test_a_line_may_not_go_on_after_its_end() -> None:
    spelling = Spelling(("six",), piece_tree([*MARKS, b" six"]))
    assert spelling.accepts([3, END])
    assert not spelling.accepts([3])
    assert not spelling.accepts([END])


def test_the_words_that_a_token_finishes_are_told() -> None:
    pieces = [*MARKS, b" six", b" north", b" nor", b"ty six", b"ty"]
    spelling = Spelling(("six", "north", "sixty"), piece_tree(pieces))
    choices = spelling.choices(spelling.choices(spelling.begin).way(0).to)
    written = {
        token: choices.way(place).written for place, token in enumerate(choices.tokens.tolist())
    }
    six = ("six",)
    assert written == {3: six, 4: six, 5: six, 6: ("sixty",), 7: (), END: six}
