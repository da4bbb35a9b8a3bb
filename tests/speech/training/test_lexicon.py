"""Which words of recordings have a pronunciation."""

import json

import pytest

pytest.importorskip("torch", reason="needs the extra train")
pytest.importorskip("pocketsphinx", reason="needs the extra train")

from joblog.speech.training.build import spoken_lexicon


def test_a_name_that_no_dictionary_has_is_guessed_for_synthesizers_and_not_for_people(
    tmp_path,
) -> None:
    for voice, word in (("libri/19", "cucumetto"), ("flite/slt", "romexer")):
        rows = [{"voice": voice, "text": f"the {word}"}]
        listing = tmp_path / f"{word}.jsonl"
        listing.write_text("".join(json.dumps(row) + "\n" for row in rows))
    words = spoken_lexicon([tmp_path])
    assert "the" in words
    assert "romexer" in words
    assert "cucumetto" not in words
