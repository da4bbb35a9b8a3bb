"""Which words of a record were not surely heard."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from joblog.asking.looks import unsure_words
from joblog.model import Entry, Kind

sys.path.append(str(Path(__file__).parent))
from asked import heard

SAID = "covered the wire behind the soffit"
MISHEARD = "covered the wire behind the saw thick"


def look(note: str, *lines: tuple[str, str, float], kind: Kind = "covered") -> tuple[str, ...]:
    return unsure_words(Entry(kind, note=note), heard(*lines).hearings)


def test_what_all_heard_alike_needs_no_look() -> None:
    lines = [(name, SAID, 0.6) for name in ("trade", "general free", "general constrained")]
    assert look(SAID, *lines) == ()


def test_a_word_that_the_recognizers_heard_otherwise_is_unsure() -> None:
    found = look(
        MISHEARD,
        ("general free", MISHEARD, 0.8),
        ("general constrained", SAID, 0.9),
        ("trade", SAID, 0.9),
    )
    assert found == ("saw", "thick")


def test_covered_work_wants_more_than_one_recognizer_that_is_half_sure() -> None:
    lines = [(f"general {how}", SAID, 0.7) for how in ("free", "constrained")]
    lines.append(("trade", "covered", 0.9))
    assert "wire" in look(SAID, *lines)
    assert look(SAID, *lines, kind="note") == ()


def test_a_word_that_tells_nothing_is_not_looked_at() -> None:
    lines = [
        ("general free", "closing in the porch", 0.95),
        ("general constrained", "closing up the porch", 0.95),
        ("trade", "closing in a porch", 0.95),
    ]
    assert look("closing in the porch", *lines) == ()


def test_a_place_where_no_word_was_known_is_unsure() -> None:
    lines = [(name, "covered … pipe", 0.95) for name in ("trade", "general free")]
    assert look("covered … pipe", *lines, ("general constrained", "covered … pipe", 0.95)) == ("…",)


@pytest.mark.parametrize("kind", ["photo", "used", "weather"])
def test_only_records_are_looked_at(kind: Kind) -> None:
    assert look("one two", ("trade", "three four", 0.1), kind=kind) == ()


def test_what_was_typed_has_no_words_that_were_misheard() -> None:
    assert unsure_words(Entry("covered", note=SAID), ()) == ()


def test_what_one_recognizer_alone_heard_cannot_be_held_against_another() -> None:
    assert look(SAID, ("general free", SAID, 0.2), ("trade", "", 0.0)) == ()
