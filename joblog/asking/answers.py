"""The answers to a question, most likely first, from what else was heard, from what the doubt
itself leaves open, and from what was answered before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from joblog.asking.answer import Answer
from joblog.asking.countable import counts
from joblog.asking.doubts import Doubt
from joblog.asking.heard import other_words, otherwise_heard
from joblog.asking.learned import as_decided_before
from joblog.asking.offers import OFFERS
from joblog.asking.setting import Candidate, Setting
from joblog.dictation import fact_of
from joblog.dictation.fields import in_words
from joblog.form import ATTRIBUTES, WORDS, describe, dollars, named, units_of
from joblog.local import clock_written, day_written
from joblog.model import UNHEARD, BookEntry, Entry

MOST, FEW = 9, 3
"""Answers: one for each digit key; and so many however unlikely they are."""
LEAST_SHARE = 0.03
"""Of what the likeliest is worth; what is less likely only makes the list longer to read."""


def answers_to(setting: Setting, doubts: Sequence[Doubt]) -> tuple[Answer, ...]:
    """What fits best, at most `MOST`; none that leaves everything as it is."""
    words = _of_words(setting, doubts)
    ranked = _ranked(_candidates(setting, doubts, words), setting, words)
    return _told(ranked[:MOST], setting)


def _candidates(setting: Setting, doubts: Sequence[Doubt], words: bool) -> Iterator[Candidate]:
    yield from otherwise_heard(setting)
    yield from as_decided_before(setting)
    if words:
        yield from other_words(setting)
    for rank, doubt in enumerate(doubts):
        for offer in doubt.kind.offers:
            for candidate in OFFERS[offer](setting, doubt):
                yield _weakened(candidate, 0.5**rank)


def _weakened(candidate: Candidate, by: float) -> Candidate:
    return Candidate(candidate.settles, candidate.weight * by, candidate.because)


def _ranked(candidates: Iterable[Candidate], setting: Setting, words: bool) -> list[Candidate]:
    """Each thing that it may be once, by all that speaks for it."""
    stands = tuple(_fact(one.entry) for one in setting.asked)
    dropped = (None,) * len(setting.asked)
    note = setting.asked[0].entry.note
    found: dict[object, Candidate] = {}
    weights: dict[object, float] = {}
    best: dict[object, float] = {}
    for one in candidates:
        facts = tuple(_fact(each.becomes) for each in one.settles)
        beside = tuple(_fact(entry, words) for each in one.settles for entry in each.beside)
        if (facts == stands and not beside) or not _may_be(one, setting):
            continue
        if words and one.settles[0].becomes and one.settles[0].becomes.note == note:
            continue  # Only other words would answer.
        if facts == dropped and not one.because:
            continue  # There is a key for that.
        key: object = (facts, beside)
        if _only_words(one) and not words:
            key = "only words", ()  # Which words do not matter where a fact was meant.
        one = _weakened(one, GAPPED if _has_gaps(one) else 1.0)
        one = _weakened(one, NAMELESS ** _names_lost(one, setting))
        weights[key] = weights.get(key, 0.0) + one.weight
        if one.weight > best.get(key, -1.0):
            found[key], best[key] = one, one.weight
    order = sorted(found, key=lambda key: -weights[key])
    least = LEAST_SHARE * max(weights.values(), default=0.0)
    return [found[key] for at, key in enumerate(order) if at < FEW or weights[key] >= least]


def _of_words(setting: Setting, doubts: Sequence[Doubt]) -> bool:
    """Whether it is asked which words were said, and not what they come to."""
    text = all(one.entry.kind in TEXT for one in setting.asked)
    return text and all(doubt.kind.about in ("words", "record") for doubt in doubts)


TEXT = ("note", "problem", "covered", "photo", "todo", "extra")
"""Kinds that are but words."""


GAPPED = 0.1
"""What an answer is worth with words in it that nobody understood."""


def _has_gaps(one: Candidate) -> bool:
    return any(
        UNHEARD in f"{entry.place} {entry.item} {entry.note}"
        for each in one.settles
        for entry in (each.becomes, *each.beside)
        if entry is not None
    )


def _only_words(one: Candidate) -> bool:
    return all(
        entry is not None and entry.kind == "note"
        for each in one.settles
        for entry in (each.becomes, *each.beside)
    )


NAMELESS = 0.2
"""What an answer is worth that takes a name that the job knows away, for none or an unknown one."""


def _names_lost(one: Candidate, setting: Setting) -> int:
    """How many names the job knows are gone from what it would be."""
    stands = {kept.id: kept.entry for kept in setting.asked}
    lost = 0
    for each in one.settles:
        before, after = stands.get(each.entry), each.becomes
        if one.because.startswith("answered") or before is None or after is None:
            continue
        if before.kind == after.kind:
            lost += before.task is not None and after.task is None
            lost += before.item in setting.items and not _known(after.item, setting)
    return lost


def _known(item: str | None, setting: Setting) -> bool:
    return item is None or item in setting.items


def _fact(entry: Entry | None, words: bool = True) -> object:
    """What tells it from others; of mere words beside a fact, only that there are some."""
    if entry is None:
        return None
    if entry.kind == "note" and not words:
        return "note"
    whose_pay = entry.who if entry.kind == "labor" else None
    return fact_of(entry), entry.place, entry.note if entry.kind in TEXT else None, whose_pay


def _may_be(one: Candidate, setting: Setting) -> bool:
    """Whether it settles anything: what could count nowhere is no answer."""
    return all(each.becomes is None or counts(each.becomes, setting.items) for each in one.settles)


def _told(candidates: Sequence[Candidate], setting: Setting) -> tuple[Answer, ...]:
    """The candidates as answers; those that say the same in short are told in full."""
    stands = {one.id: one for one in (*setting.asked, *setting.breath)}
    shorts = [_short(one, stands) for one in candidates]
    return tuple(
        Answer(
            short if shorts.count(short) == 1 else _means(one),
            _means(one),
            "" if one.because == short else one.because,
            one.settles,
        )
        for one, short in zip(candidates, shorts, strict=True)
    )


def _means(one: Candidate) -> str:
    entries = [entry for each in one.settles for entry in (each.becomes, *each.beside) if entry]
    return "; ".join(map(describe, entries)) or "dropped"


def _short(one: Candidate, stands: dict[int, BookEntry]) -> str:
    """What is otherwise than it stands, in a few words."""
    parts: list[str] = []
    for each in one.settles:
        before = stands[each.entry].entry
        if each.becomes is None:
            if len(one.settles) == 1:
                parts.append(one.because or "drop it")
            continue
        parts += _differing(before, each.becomes)
        parts += [describe(entry) for entry in each.beside]
    return ", ".join(dict.fromkeys(parts)) or _means(one)


def _differing(before: Entry, after: Entry) -> Iterator[str]:
    if before.kind != after.kind:
        if _alike(before, after):
            yield KINDS.get(after.kind, after.kind)
        else:
            yield describe(after)
        return
    if after.kind in TEXT and after.note and before.note != after.note:
        yield after.note
        return
    if any(getattr(before, name) != getattr(after, name) for name in ("item", *ATTRIBUTES)):
        yield named(after) or "no item"
    if before.task != after.task:
        yield after.task or "no task"
    if before.dimension != after.dimension:
        yield after.dimension or "no dimension"
    for name in ("top", "corner", "opening"):
        if getattr(before, name) != getattr(after, name):
            yield getattr(after, name) or f"no {name}"
    yield from _numbers(before, after)
    if after.kind == "labor" and before.who != after.who:
        yield f"the pay of {after.who}" if after.who else "everybody's pay"
    if before.place != after.place:
        yield after.place or "no place"
    if before.day != after.day:
        yield day_written(after.day, short=True) if after.day else "that day"
    if before.note != after.note and after.note:
        yield after.note


def _numbers(before: Entry, after: Entry) -> Iterator[str]:
    """The numbers that are otherwise, and those that are no more."""
    names = [
        name
        for name in NUMBERS
        if getattr(before, name) != getattr(after, name) and name not in ("unit", "as_said")
    ]
    if before.unit != after.unit and after.quantity is not None and "quantity" not in names:
        names.append("quantity")
    yield from (_number(after, name) for name in names if getattr(after, name) is not None)
    yield from (NUMBERS[name] for name in names if getattr(after, name) is None)


def _number(entry: Entry, name: str) -> str:
    """One number of an entry, as a crew writes it."""
    if name == "quantity":
        return units_of(entry.quantity, entry.unit if entry.unit != "each" else "", entry.item)
    if name == "workers":
        return "1 person" if entry.workers == 1 else f"{entry.workers} people"
    if name == "time" and entry.time is not None:
        return clock_written(entry.time)
    if name in ("unit_cost", "price"):
        return dollars(getattr(entry, name))
    told: dict[str, Any] = {name: getattr(entry, name)}
    return in_words(Entry(entry.kind, **told), "number")


NUMBERS = {
    "quantity": "no number", "inches": "no length", "square_inches": "no area",
    "pitch": "no pitch", "pieces": "not so many pieces", "time": "no time",
    "minutes": "no minutes", "workers": "alone", "hours": "no hours", "fahrenheit": "no degrees",
    "length": "no length", "size": "no size", "unit_cost": "no price", "price": "no price",
    "miles": "no miles", "width": "no width", "height": "no height", "at": "nowhere along it",
}  # fmt: skip
"""Fields that are numbers, by what is said where there is none."""


def _alike(before: Entry, after: Entry) -> bool:
    """Whether it is the same of the same, but for what became of it."""
    names = ("item", "quantity", "unit", "place", "inches", "hours")
    return bool(before.item) and all(getattr(before, n) == getattr(after, n) for n in names)


KINDS = {**WORDS, "note": "only a note", "todo": "still to do", "on_hand": "left over"}
"""What became of it, in a few words."""
