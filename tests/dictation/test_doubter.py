"""A second opinion on what an utterance holds: it asks where the words sound otherwise."""

from dataclasses import replace
from functools import cache
from importlib.resources import files

import pytest

from joblog.dictation import Context, after, doubter, read
from joblog.dictation.doubter import NAMES, is_second_opinion, rows_of, second_opinion
from joblog.dictation.read import said_in
from joblog.dictation.signs import Heard
from joblog.dictation.words import marked_words
from joblog.model import STOCK_KINDS, Entry, Kind
from tests.bench.corpus import exact, phrases, practice, words


def opinion(text: str, *entries: Entry) -> str | None:
    return second_opinion(Heard(said_in(marked_words(text), words()).atoms, (), entries))


@cache
def read_right() -> tuple[tuple[str, tuple[Entry, ...], bool], ...]:
    """Phrases whose entries are right, and whether the second opinion asks about them."""
    shown = (*practice(), *(one for one in phrases() if not one.held_out))
    found = ((one, read(one.text, words(), one.context)) for one in shown)
    return tuple(
        (one.text, reading.entries, any(is_second_opinion(doubt.why) for doubt in reading.doubts))
        for one, reading in found
        if exact(one, reading)
    )


def test_what_is_read_as_it_sounds_is_not_asked_about() -> None:
    text = "used five sheets of soffit on the north eave"
    assert opinion(text, *read(text, words()).entries) is None


@pytest.mark.parametrize(
    ("text", "kind", "why"),
    [
        ("used five sheets of soffit on the north eave", "on_hand", "used, not left over"),
        ("three sticks of fascia left", "used", "left over, not used"),
        ("cracked two sheets of soffit in the cold", "used", "spoiled, not used"),
    ],
)
def test_what_is_read_as_another_kind_is_asked_about(text: str, kind: Kind, why: str) -> None:
    [entry] = read(text, words()).entries
    assert opinion(text, replace(entry, kind=kind)) == f"sounds like something was {why}"


def test_a_fact_that_became_a_note_is_asked_about() -> None:
    text = "north eave fourteen and five eighths"
    assert opinion(text, Entry("note", note=text)) == (
        "sounds like more than a note: is there something to count?"
    )


def test_few_of_the_phrases_that_are_read_right_are_disturbed() -> None:
    disturbed = [text for text, _, asked in read_right() if asked]
    assert len(disturbed) < 0.02 * len(read_right()), disturbed


def test_most_of_the_stock_that_is_taken_for_another_kind_is_asked_about() -> None:
    swapped = {"used": "on_hand", "spoiled": "used", "delivered": "used", "on_hand": "used"}
    mistaken = [
        (text, replace(entries[0], kind=swapped[entries[0].kind]))
        for text, entries, _ in read_right()
        if len(entries) == 1 and entries[0].kind in STOCK_KINDS and entries[0].kind in swapped
    ]
    asked = sum(opinion(text, entry) is not None for text, entry in mistaken)
    assert asked > 0.7 * len(mistaken)


def test_weights_added_as_one_number_are_the_sums_of_the_weights() -> None:
    learned = doubter._opinion()
    rows = set(rows_of(said_in(marked_words("used six and lost 4 1/2 ft"), words()).atoms))
    sums = dict.fromkeys(NAMES, 0)
    for row in rows:
        weighed = learned.weights.get(row, [])
        for at, weight in zip(weighed[::2], weighed[1::2], strict=True):
            sums[NAMES[at]] += weight
    plain = [
        sums[name] * learned.scale + bias
        for name, bias in zip(NAMES, learned.biases, strict=True)
    ]  # fmt: skip
    assert list(learned.scores(rows).values()) == pytest.approx(plain)


def test_what_was_learned_is_small() -> None:
    assert len(files("joblog.dictation").joinpath(doubter.FILE).read_bytes()) <= 300_000


def test_whether_something_is_odd_is_told_by_the_signs_of_the_reading() -> None:
    text = "the lady wants the gate fixed, and boss said fifty bucks, i guess"
    heard = Heard(said_in(marked_words(text), words()).atoms, (), (Entry("note", note=text),))
    signs = doubter._opinion().signs(heard)
    assert {"entries 1", "facts 0", "pauses 2", "asked False"} <= signs


@pytest.mark.parametrize(
    ("signs", "why"),
    [
        ({"strange fact 2": 9, "facts 3": 8}, "unclear words beside it: 'zorped': is it right?"),
        ({"EDITING left": 9, "as used": 8}, doubter.ODDITIES["taken back"]),
        ({"facts 3": 5, "pauses 3": 5, "EDITING left": 9}, doubter.ODDITIES["several"]),
        ({"numbers over 2": 3}, doubter.ODDITIES["lost"]),
    ],
)
def test_the_sort_of_signs_that_weighs_most_is_named(signs: dict[str, int], why: str) -> None:
    atoms = said_in(marked_words("used zorped four sheets"), words()).atoms
    assert doubter._oddest(signs, signs, Heard(atoms, (), ())) == why


def test_strange_words_are_not_named_where_there_are_none() -> None:
    signs = {"unread 3": 9, "as used": 1}
    atoms = said_in(marked_words("used four sheets"), words()).atoms
    assert doubter._oddest(signs, signs, Heard(atoms, (), ())) == doubter.ODDITIES["sort"]


def test_every_doubt_of_the_second_opinion_is_known_as_one() -> None:
    told = [why.format("zorped") for why in doubter.ODDITIES.values()]
    assert all(map(is_second_opinion, told))
    assert not is_second_opinion("not understood: 'zorped'")


def test_talk_longer_than_any_that_was_learned_from_is_no_odd_one() -> None:
    text = "used five sheets of soffit on the north eave " * 20
    atoms = said_in(marked_words(text), words()).atoms
    assert len(atoms) > doubter.LONGEST_LEARNED
    entry = read("used five sheets of soffit on the north eave", words()).entries[0]
    assert second_opinion(Heard(atoms, (), (entry,) * 20, told=True, asked=True)) is None


def test_one_measure_after_another_is_how_they_are_said() -> None:
    started = after(Context(), read("started at seven thirty with one helper", words()))
    said = "north eave forty one foot two, depth twelve and three eighths, reveal one and an eighth"
    assert read(said, words(), started).doubts == ()
