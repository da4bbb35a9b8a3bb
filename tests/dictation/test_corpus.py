"""The corpus of phrases as a gate: what is read right stays right, and nothing new goes silent.

`misses.txt` in the corpus names the phrases of the open half and of practice that are not read
exactly yet. Of the held-out half only totals are looked at.
"""

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from joblog.dictation import read
from tests.bench.corpus import Figures, exact, figures, phrases, practice, to_hear, words

MISSES = Path(__file__).parents[1] / "bench/corpus/misses.txt"
ASKED, SILENT = "asked", "silent"


@cache
def missed() -> frozenset[tuple[str, str]]:
    """(how, text) of the phrases that are not read exactly."""
    shown = (*(one for one in phrases() if not one.held_out), *practice())
    read_so = ((one, read(one.text, words(), one.context)) for one in shown)
    return frozenset(
        (ASKED if reading.doubts else SILENT, one.text)
        for one, reading in read_so
        if not exact(one, reading)
    )


def known() -> frozenset[tuple[str, str]]:
    lines = (line.partition("\t") for line in MISSES.read_text("utf-8").splitlines())
    return frozenset((how, text) for how, _, text in lines)


def listed(found: Iterable[tuple[str, str]]) -> str:
    return "\n".join(f"{how}\t{text}" for how, text in sorted(found))


def test_every_phrase_that_was_read_exactly_still_is() -> None:
    before = {text for _, text in known()}
    assert listed(one for one in missed() if one[1] not in before) == ""


def test_no_phrase_that_was_asked_about_is_now_wrong_in_silence() -> None:
    before = {text for how, text in known() if how == SILENT}
    assert listed(one for one in missed() if one[0] == SILENT and one[1] not in before) == ""


def test_no_phrase_is_called_missed_that_is_read_by_now() -> None:
    assert listed(known() - missed()) == ""


def test_the_totals_of_the_open_half_do_not_fall() -> None:
    no_worse(
        figures((one for one in phrases() if not one.held_out), words()),
        Figures(phrases=442, exact=436, doubted=54, silent=2, needless=5, missed=2),
    )


def test_the_totals_of_practice_do_not_fall() -> None:
    no_worse(
        figures(practice(), words()),
        Figures(phrases=3795, exact=3615, doubted=600, silent=14, needless=115, missed=11),
    )


def test_the_totals_of_the_held_out_half_do_not_fall() -> None:
    no_worse(
        figures((one for one in phrases() if one.held_out), words()),
        Figures(phrases=438, exact=408, doubted=65, silent=13, needless=15, missed=1),
    )


def no_worse(now: Figures, before: Figures) -> None:
    assert now.phrases == before.phrases
    assert now.exact >= before.exact
    assert now.silent <= before.silent
    assert now.needless <= before.needless
    assert now.missed <= before.missed


def test_every_plain_sentence_is_read_exactly_and_asks_nothing() -> None:
    read_so = [(one, read(one.text, words(), one.context)) for one in to_hear()]
    odd = [one.text for one, reading in read_so if reading.doubts or not exact(one, reading)]
    assert not odd, "\n".join(odd)
