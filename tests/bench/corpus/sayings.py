"""The practice phrases with slots for what changes, for the recognizers to expect.

    python -m tests.bench.corpus.sayings

Writes `joblog/speech/sayings.txt` anew. Neither half of the corpus that measures goes into it.
"""

from __future__ import annotations

from pathlib import Path

from joblog.dictation.grammar import FRAC, ITEM, MIX, NUM, SPOT, atoms_of, known_words
from joblog.dictation.numbers import Number
from joblog.model import Vocabulary
from joblog.speech import phrases
from tests.bench.corpus import practice, words

FILE = Path(phrases.__file__).parent / "sayings.txt"
STRANGE = 1
"""Words in no table that a saying may have: names and oaths are not to be expected."""


def main() -> None:
    vocabulary = words()
    known = known_words() | phrases.expected_words()
    known |= {
        word
        for item in vocabulary.items
        for name in (item.name, *item.spoken)
        for word in name.split()
    }
    found = {_saying(phrase.text, vocabulary, known) for phrase in practice()} - {""}
    FILE.write_text("".join(f"{saying}\n" for saying in sorted(found)), "utf-8")
    print(f"{len(found)} sayings in {FILE.name}")


def _saying(text: str, vocabulary: Vocabulary, known: frozenset[str]) -> str:
    """The phrase with its numbers, items and places as slots; empty where it is of no use."""
    if any(letter.isdigit() for letter in text):
        return ""
    said: list[str] = []
    strange = 0
    for atom in atoms_of(text, vocabulary):
        if atom.char == ITEM:
            said.append("{item}")
        elif atom.char == SPOT:
            said.append("{place}")
        elif isinstance(atom.value, Number):
            said.append(_slot(atom.char, atom.value, atom.words))
        else:
            said += atom.words.split()
            strange += len(set(atom.words.split()) - known)
    return " ".join(said) if len(said) > 1 and strange <= STRANGE else ""


def _slot(char: str, number: Number, words_said: str) -> str:
    if char == NUM:
        return "{small}" if (number.whole or 0) <= 12 else "{number}"
    if char == FRAC:
        return "{fraction}"
    assert char == MIX
    return "{number} and {fraction}" if " and " in words_said else "{number} {fraction}"


if __name__ == "__main__":
    main()
