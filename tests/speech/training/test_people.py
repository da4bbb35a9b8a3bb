"""People's recordings in packs: who is held out, what is said, and where it is cut."""

import json

import numpy as np
import pytest

pytest.importorskip("soundfile", reason="needs the extra train")

from joblog.speech.training import people
from joblog.speech.training.people import (
    RATE,
    Placed,
    at_pauses,
    half_of,
    kind_of,
    lone,
    parted,
    placed,
    readings,
    said_as,
    spoken,
)


def tones(*lengths: float) -> np.ndarray:
    """Seconds of tone and of quiet by turns, quiet first."""
    parts = [
        (number % 2) * 0.5 * np.sin(np.arange(round(length * RATE)) * 0.3)
        for number, length in enumerate(lengths)
    ]
    return np.concatenate(parts).astype(np.float32)


def said(*words: tuple[str, float, float]) -> list[Placed]:
    return [
        Placed(word, round(start * RATE), round(end * RATE), True) for word, start, end in words
    ]


@pytest.mark.parametrize(
    ("corpus", "speaker", "half"),
    [
        ("an4", "fash", "locked"), ("an4", "mdxs", "fit"), ("an4", "ffmm", "train"),
        ("libri", "460", "locked"), ("libri", "332", "fit"), ("cathy", "cathy", "train"),
    ],
)  # fmt: skip
def test_a_speaker_belongs_to_one_half(corpus: str, speaker: str, half: str) -> None:
    assert half_of(corpus, speaker) == half


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Author of the danger trail, Philip Steels, etc.",
         "author of the danger trail philip steels et cetera"),
        ("I\N{RIGHT SINGLE QUOTATION MARK}m glad, Mr. Caf\N{LATIN SMALL LETTER E WITH ACUTE}!",
         "i'm glad mister cafe"),
        ("well-known 'tis so", "well known tis so"),
        ("in 1455", ""),
    ],
)  # fmt: skip
def test_a_text_is_written_as_it_is_said(text: str, words: str) -> None:
    assert " ".join(spoken(text)) == words


def test_only_words_of_numbers_are_digits() -> None:
    assert kind_of(["four", "oh", "sixty", "hundred"]) == "digits"
    assert kind_of(["enter", "four"]) == "general"


def test_a_list_is_read_without_what_has_no_sure_words(tmp_path) -> None:
    rows = ["file\tspeaker\tseconds\ttranscript", "a.flac\tx\t1.0\tFour", "b.flac\tx\t1.0\t4"]
    (tmp_path / "list.tsv").write_text("\n".join(rows) + "\n")
    (only,) = readings(tmp_path)
    assert (only.file.name, only.words) == ("a.flac", ("four",))


def test_a_word_that_was_not_heard_lies_after_the_one_before() -> None:
    one, two, three = placed(["four", "two", "six"], [("four", 10, 20), ("six", 50, 60)])
    assert (one.found, two.found, three.found) == (True, False, True)
    assert (two.start, three.start) == (20, 50)


def test_a_long_reading_is_cut_in_its_longest_pauses() -> None:
    sound = tones(0, 5, 0.5, 4, 0.2, 5)
    words = said(("a", 0, 5), ("b", 5.5, 9.5), ("c", 9.7, 14.7))
    first, second = at_pauses(words, len(sound), sound)
    assert (first.words, second.words) == (("a",), ("b", "c"))
    assert 5 * RATE <= first.end == second.start <= 5.5 * RATE


def test_a_reading_without_a_pause_is_left_out() -> None:
    words = said(("a", 0, 6), ("b", 6.05, 12))
    assert at_pauses(words, 12 * RATE, tones(0, 12)) == ()


def test_a_piece_in_which_most_words_were_not_found_is_left_out() -> None:
    lost = [Placed("b", 0, 0, False)] * 3
    assert at_pauses([*said(("a", 0, 1)), *lost], 8 * RATE, tones(0, 8)) == ()


def test_words_of_numbers_are_cut_out_alone_and_in_runs() -> None:
    sound = tones(0.2, 0.4, 0.1, 0.4, 0.1, 0.4, 0.2)
    words = said(("enter", 0.2, 0.6), ("four", 0.7, 1.1), ("two", 1.2, 1.6))
    pieces = lone(words, sound)
    assert [piece.words for piece in pieces] == [("four",), ("four", "two"), ("two",)]
    four = pieces[0]
    # All of the tone, and no more than the quiet around it.
    assert 0.6 * RATE <= four.start <= 0.7 * RATE
    assert 1.1 * RATE <= four.end <= 1.2 * RATE


def test_words_that_run_into_one_another_are_cut_out_only_together() -> None:
    sound = tones(0.2, 0.8, 0.3, 0.4, 0.2)
    words = said(("nine", 0.2, 0.6), ("nine", 0.6, 1.0), ("six", 1.3, 1.7))
    assert [piece.words for piece in lone(words, sound)] == [("nine", "nine"), ("six",)]


@pytest.mark.parametrize(
    ("heard", "words"),
    [
        ("Four, two.", "four two"),
        ("Oh, 6.", "zero six"),
        ("26", "twenty six"),
        ("8467", "eight four six seven"),
    ],
)
def test_figures_are_compared_as_they_are_said(heard: str, words: str) -> None:
    assert " ".join(said_as(heard)) == words


def test_a_large_folder_is_parted(tmp_path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(people, "A_FOLDER", 5000)
    folder = tmp_path / "libri"
    folder.mkdir()
    for number in range(9):
        (folder / f"{number}.jsonl").write_text(json.dumps({}))
        (folder / f"{number}.ogg").write_bytes(b"x" * 1000)
    parts = parted(folder)
    assert len(parts) >= 2
    assert sum(len(list(part.glob("*.ogg"))) for part in parts) == 9
    assert all(sum(f.stat().st_size for f in part.iterdir()) <= 5000 for part in parts)
    assert not folder.exists()
