"""What the general model is given to learn: recordings, and the tokens of what is said in them."""

import pytest

pytest.importorskip("torch")
pytest.importorskip("transformers")

from joblog.speech.general import SHIPPED
from joblog.speech.tokens import BEGIN, END, read_pieces, write_out
from joblog.speech.training.general.teach import Lessons
from joblog.speech.training.recordings import Utterance

PIECES = read_pieces(SHIPPED / "pieces.bin")
LINES = ("north eave eleven and seven eighths", "used four sticks", "the neighbor's dog")
SAID = tuple(
    Utterance(at * 32_000, 32_000, f"libri/{at}", "general", tuple(line.split()), (0, 31_999))
    for at, line in enumerate(LINES)
)


def test_every_recording_has_the_words_of_its_pieces_or_none() -> None:
    lessons = iter(Lessons(SAID, PIECES, 400 * 32_000, 1))
    taught = [next(lessons) for _ in range(20)]
    found = set()
    for batch in taught:
        for row, size in zip(batch.tokens.tolist(), batch.lengths.tolist(), strict=True):
            told = [token for token in row if token != -100]
            assert (told[0], told[-1]) == (BEGIN, END)
            assert size <= 160_000  # ten seconds
            found.add(write_out(told, PIECES))
    pairs = {f"{one} {one}" for one in LINES}
    assert found <= {"", *LINES, *pairs}
    assert {"", *LINES} <= found


def test_where_nothing_is_said_nothing_is_heard_of_the_voice() -> None:
    for batch in (next(iter(Lessons(SAID, PIECES, 400 * 32_000, seed))) for seed in range(5)):
        for row, gains in zip(batch.tokens.tolist(), batch.pieces.gain.tolist(), strict=True):
            silent = [token for token in row if token != -100] == [BEGIN, END]
            assert silent == (not any(gains))
