"""Whose voice it is: what was decided of what was heard, over all jobs, and what that teaches.

Nothing learned is kept: it follows anew from the history each time. The book keeps the promise,
what was heard of the card, and from when on decisions count.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book import Book, decisions
from joblog.book.verdicts import Verdict, verdicts
from joblog.form import from_json, to_json
from joblog.model import Entry, Problem, Utterance, Vocabulary
from joblog.service.errors import ServiceError, use_case

if TYPE_CHECKING:
    from joblog.dictation import Judged, Judgement
    from joblog.voice import Decision, Voice

LATEST = 400
"""Decisions that are learned from, the last ones: a year with a cold and a new microphone is not
like this one, and reading what was heard anew takes a fiftieth of a second each."""


@use_case
def voice_in(book: Book) -> Voice:
    """What is known of the voice in this book."""
    from joblog.voice import learned

    return learned(_decisions(book), promise_of(book))


@use_case
def judgement_in(book: Book) -> Judgement:
    """How sure one must be of what this voice says, for what is heard from now on.

    What was heard before is left as it was judged then: a doubt that somebody may have seen is
    settled by him, and not by a change of mind.
    """
    return voice_in(book).judgement


@use_case
def promise_of(book: Book) -> Fraction:
    """How many entries may be wrong without a question, as a share of all."""
    from joblog.voice import PROMISE

    kept = book.setting(_PROMISE)
    return Fraction(kept) if kept else PROMISE


@use_case
def promise(book: Book, text: str) -> Fraction:
    """Sets it, from text such as "1/200" or "0.5%". Raises `ServiceError` for what is none."""
    try:
        share = Fraction(text.removesuffix("%").strip()) / (100 if text.endswith("%") else 1)
    except (ValueError, ZeroDivisionError):
        share = Fraction(0)
    if not MOST_CAREFUL <= share <= LEAST_CAREFUL:
        raise ServiceError(
            f"{text!r} is no promise to keep; say how many entries may be wrong without a question:"
            " 1/200, from 1/2000 to 1/10"
        )
    decisions.set_settings(
        book, f"promised of what is heard: {text.strip()}", {_PROMISE: str(share)}
    )
    return share


MOST_CAREFUL, LEAST_CAREFUL = Fraction(1, 2000), Fraction(1, 10)


@dataclass(frozen=True, slots=True)
class CardHeard:
    """What came of a recording of the card."""

    right: int
    """Lines of which every entry was heard right."""
    wrong: tuple[tuple[str, str], ...]
    """The other lines, each with the words that were heard."""
    missing: tuple[str, ...]
    """Lines that were not found in the recording."""


def card_lines() -> tuple[str, ...]:
    """The lines to read aloud, the same for every job."""
    from joblog.voice import card

    return tuple(line.words for line in card())


@use_case
def hear_card(book: Book, recording: Path) -> CardHeard:
    """Hears a recording of the card, and keeps what was heard of each line.

    The same recording again takes the place of what was heard of it before. Raises `ServiceError`
    where it cannot be heard, or is no recording of the card.
    """
    from joblog.book.media import fingerprint
    from joblog.service.taking_in import hear
    from joblog.voice import aligned
    from joblog.voice.card import known

    [(_, listened)] = hear([recording], known())
    if isinstance(listened, Problem):
        raise ServiceError(f"{listened.what}: {listened.why}")
    said = [one.utterance for one in listened.heard]
    lines = card_lines()
    found = aligned([one.hearings[0].text for one in said], [line.lower() for line in lines])
    pairs = [
        {"line": lines[line], "utterance": to_json(one)}
        for one, line in zip(said, found, strict=True)
        if line is not None
    ]
    readings = _card(book)
    readings[fingerprint(recording)] = pairs
    results = [
        (pair["line"], [*_of_line(pair)], from_json(Utterance, pair["utterance"])) for pair in pairs
    ]
    right = sum(all(one.right for one in ones) and bool(ones) for _, ones, _ in results)
    if right < len(lines) * RECOGNIZED:
        raise ServiceError(
            f"{recording}: only {right} of the card's {len(lines)} lines were recognized; read it"
            " as joblog voice card prints it, and count silently to two after each line"
        )
    kept = json.dumps(readings, ensure_ascii=False)
    decisions.set_settings(book, f"read the card aloud: {recording.name}", {_CARD: kept})
    return CardHeard(
        right,
        tuple(
            (line, said.hearings[0].text)
            for line, ones, said in results
            if not ones or not all(one.right for one in ones)
        ),
        tuple(line for at, line in enumerate(lines) if at not in found),
    )


RECOGNIZED = 0.25
"""Share of the lines that must be heard right to believe that it was the card."""


@use_case
def forget(book: Book) -> None:
    """What was decided until now teaches nothing any more; it stays in the history, and undo makes
    it teach again."""
    since = datetime.now(UTC).isoformat()
    decisions.set_settings(book, "let the voice be learned anew", {_SINCE: since, _CARD: None})


_PROMISE, _CARD, _SINCE = "voice promise", "voice card", "voice since"


# --- decisions --------------------------------------------------------------------------------


def _decisions(book: Book) -> list[Decision]:
    kept = book.setting(_SINCE)
    given = verdicts(book, datetime.fromisoformat(kept) if kept else None)
    words = {job.name: _words(book, job.name) for job in book.jobs()}
    counted = list(_counted(given))[-LATEST:]
    found = [
        one
        for verdict, stands_for in counted
        if (one := _decision(book, verdict, words[verdict.job], stands_for)) is not None
    ]
    for pairs in _card(book).values():
        for pair in pairs:
            found += _of_line(pair, len(found))
    return found


def _counted(given: tuple[Verdict, ...]) -> Iterator[tuple[Verdict, int]]:
    """The verdicts, and of what he let pass one in so many for all of them."""
    from joblog.voice import NOTICED

    every = round(1 / NOTICED["in review"])
    passed = 0
    for verdict in given:
        passed += not verdict.said
        if verdict.said:
            yield verdict, 1
        elif passed % every == 0:
            yield verdict, every


def _decision(book: Book, verdict: Verdict, words: Vocabulary, stands_for: int) -> Decision | None:
    """None where today's reading does not find the entry in what was heard, and where he only added
    what was not there: nobody knows whether he had said it."""
    from joblog.dictation import fact_of
    from joblog.voice import Decision, mixed_up_in

    heard, now = verdict.heard.entry, verdict.now
    assert verdict.heard.utterance is not None
    if now is not None and fact_of(now) != fact_of(heard) and _only_added(heard, now):
        return None
    utterance = book.utterance(verdict.heard.utterance).utterance
    place = heard.place if "place" in heard.carried else None
    for one in _judged(utterance, words, place):
        if fact_of(one.entry) == fact_of(heard):
            return _made(
                one,
                Decision(
                    one.signs,
                    now is not None and fact_of(now) == fact_of(heard),
                    "by ear" if verdict.by_ear else "in review",
                    bool(verdict.heard.doubts),
                    said=verdict.said,
                    meant=mixed_up_in(heard, now) if now is not None else (),
                    together=verdict.heard.utterance,
                    stands_for=stands_for,
                ),
            )
    return None


@lru_cache(maxsize=2 * LATEST)
def _judged(utterance: Utterance, words: Vocabulary, place: str | None) -> tuple[Judged, ...]:
    """Remembered while the program runs: whoever watches a folder asks for each file that comes."""
    from joblog.dictation import Context, judged_by

    return judged_by(utterance, words, Context(place=place))


def _made(one: Judged, decision: Decision) -> Decision:
    from dataclasses import replace

    from joblog.dictation import words_told

    return replace(decision, anyway=one.anyway, words=words_told(one.entry))


def _only_added(heard: Entry, now: Entry) -> bool:
    before = {name: getattr(heard, name) for name in heard.__slots__}
    return all(
        value is None or value == getattr(now, name)
        for name, value in before.items()
        if name not in ("place", "note", "as_said", "carried")
    )


def _of_line(pair: dict[str, object], number: int = 0) -> Iterator[Decision]:
    """What was heard of a line of the card, each entry a decision."""
    from joblog.dictation import SHIPPED, fact_of, judged_by, read
    from joblog.voice import Decision, mixed_up_in
    from joblog.voice.card import known

    meant = read(str(pair["line"]), known()).entries
    utterance = from_json(Utterance, pair["utterance"])
    judged = judged_by(utterance, known())
    right = sorted(map(str, map(fact_of, meant))) == sorted(
        str(fact_of(one.entry)) for one in judged
    )
    for one in judged:
        instead = meant[0] if len(meant) == len(judged) == 1 else one.entry
        yield _made(
            one,
            Decision(
                one.signs,
                right,
                "card",
                one.anyway or SHIPPED.sureness(one.signs) < SHIPPED.asks_below,
                meant=mixed_up_in(one.entry, instead),
                together=-1 - number,
            ),
        )


def _card(book: Book) -> dict[str, list[dict[str, object]]]:
    kept = book.setting(_CARD)
    return dict(json.loads(kept)) if kept else {}


def _words(book: Book, job: str) -> Vocabulary:
    from joblog.plan import vocabulary

    return vocabulary(book.plan(job), book.job(job), book.catalog(), book.names_of_jobs())
