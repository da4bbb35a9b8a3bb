"""What waits for a person, as questions with the answers that fit; the dearest first.

`questions` is cheap: it lists what is asked, without answers. Only the question that is shown needs
these: `with_answers` works them out for it alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary
from zoneinfo import ZoneInfo

from joblog.asking.answer import Answer
from joblog.asking.countable import counts
from joblog.asking.doubts import About, Doubt, kind_of, of_one_kind, told_apart
from joblog.asking.looks import RECORDS, unsure_words
from joblog.asking.stakes import COVERED, at_stake, prices
from joblog.book import Book, decisions
from joblog.book.answered import changes_decided
from joblog.form import describe
from joblog.model import BookEntry, Entry, Settled
from joblog.reconcile import sensed
from joblog.reconcile.sense import known_items
from joblog.service.desk import Desk, once, read_catalog, remember
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import local_day, not_looked_at, read_entries
from joblog.service.stock import came

if TYPE_CHECKING:
    from joblog.asking.setting import Setting


__all__ = [
    "About",
    "Answer",
    "Question",
    "answer",
    "drop",
    "get_ready",
    "keep",
    "keep_cheap",
    "keep_rest",
    "questions",
    "with_answers",
]


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of one entry, or once of several of the same kind."""

    about: About
    asks: str
    """One plain sentence: "3 times 'J': which item?"."""
    entries: tuple[BookEntry, ...]
    answers: tuple[Answer, ...] = ()
    """Most likely first, at most 9; none until `with_answers`."""
    keep: bool = True
    """False where it cannot count as it stands: "8 sheets of something"."""
    cost: Decimal = Decimal(0)
    """What it would cost if it were wrong; for the order alone."""
    unsure: tuple[str, ...] = ()
    """Words that were not surely heard."""


@use_case
def questions(desk: Desk, day: date | None = None) -> tuple[Question, ...]:
    """What waits on a day, or in the whole job; the dearest first, the same kind together."""
    return once(desk, f"questions {day}", lambda: _questions(desk, day))


def _questions(desk: Desk, day: date | None) -> tuple[Question, ...]:
    every = read_entries(desk, day)
    items = known_items(desk.plan, read_catalog(desk))
    known = prices(desk.plan, desk.catalog, items)
    found = []
    for entries in asked_together([entry for entry in every if entry.open]):
        facts, _ = _apart(entries)
        doubts = told_apart(why for one in facts for why in one.doubts)
        found.append(
            Question(
                doubts[0].kind.about,
                _asks(facts, doubts),
                entries,
                keep=all(counts(one.entry, items) for one in facts),
                cost=at_stake([one.entry for one in facts], doubts, known),
                unsure=_unsure(desk, entries[0]) if len(entries) == 1 else (),
            )
        )
    records = [one for one in every if one.standing == "heard" and _is_heard(one) and not one.open]
    looks = zip(records, _look_up(desk, records), strict=True)
    found += [
        Question("record", WORDS_ASKED, (one,), cost=_cost_of_words(one.entry), unsure=unsure)
        for one, unsure in looks
        if unsure
    ]
    return tuple(_in_order(found))


WORDS_ASKED = "Are these the words?"
"""What is asked of a record whose words were not surely heard. It is only a look, no doubt: the
record counts as it is, and is not shown again once it was looked at."""


def _cost_of_words(entry: Entry) -> Decimal:
    return COVERED if entry.kind == "covered" else Decimal(0)


def _unsure(desk: Desk, kept: BookEntry) -> tuple[str, ...]:
    """The words of a record that were not surely heard; none of one that was typed or changed."""
    if not _is_heard(kept):
        return ()
    [unsure] = _look_up(desk, [kept])
    return unsure


def _is_heard(kept: BookEntry) -> bool:
    heard = kept.utterance is not None and kept.change == "heard"
    return heard and kept.entry.kind in RECORDS


def _look_up(desk: Desk, records: Sequence[BookEntry]) -> list[tuple[str, ...]]:
    """Of each, the words that were not surely heard; all in a few looks into the book."""
    # What was heard never changes, and to look it up again at every step would take its time.
    known = _UNSURE.setdefault(desk.book, {})
    fresh = [one for one in records if (one.id, one.version) not in known]
    said = desk.book.hearings_among({one.utterance or 0 for one in fresh})
    for one in fresh:
        known[one.id, one.version] = unsure_words(one.entry, said.get(one.utterance or 0, ()))
    return [known[one.id, one.version] for one in records]


_UNSURE: WeakKeyDictionary[Book, dict[tuple[int, int], tuple[str, ...]]] = WeakKeyDictionary()


@use_case
def with_answers(desk: Desk, question: Question) -> Question:
    """The question with its answers, as it is shown."""
    facts = [(one.id, one.version, one.doubts) for one in question.entries]
    return once(desk, f"answers to {facts}", lambda: _with_answers(desk, question))


def _with_answers(desk: Desk, question: Question) -> Question:
    # Kept out of the start of the review.
    from joblog.asking.answers import answers_to

    facts, changes = _apart(question.entries)
    doubts = told_apart(why for one in facts for why in one.doubts)
    found = answers_to(_setting(desk, facts), doubts)
    if changes:
        found = _with_changes(desk, facts, changes, found)
    return replace(question, answers=found)


def get_ready(desk: Desk) -> None:
    """Loads what finds answers, which takes a second or two the first time; touches no book, so
    that a thread of its own may do it while the first question is read."""
    import joblog.asking.answers  # noqa: F401
    from joblog.dictation import read

    read("used two sheets of soffit panel on the north eave", desk.vocabulary)


@use_case
def answer(desk: Desk, question: Question, number: int) -> tuple[BookEntry, ...]:
    """Settles it by the answer of that number, the first one being 1, in one step.

    The entries as they then stand, those that came beside them last. Where what is answered makes
    no sense among the others, that is asked next. Raises `ServiceError` for an answer that is not
    there.
    """
    if not 1 <= number <= len(question.answers):
        raise ServiceError(f"there is no answer {number} to that; choose another key")
    settles = question.answers[number - 1].settles
    return _settle(desk, question.entries, _with_new_doubts(desk, question, settles))


@use_case
def keep(desk: Desk, question: Question) -> tuple[BookEntry, ...]:
    """All its entries are right as they stand. Raises `ServiceError` where one counts nowhere."""
    if not question.keep:
        raise ServiceError("it cannot count as it stands: answer it, edit it or drop it")
    return _settle(desk, question.entries, _as_they_stand(question.entries))


@use_case
def drop(desk: Desk, question: Question) -> tuple[BookEntry, ...]:
    """None of its entries counts; they stay readable. A change that was not meant leaves what it
    changed as that was before."""
    facts, changes = _apart(question.entries)
    gone = [Settled(one.id, None, one.said) for one in changes]
    for one in facts:
        before = _before(desk, one) if changes else None
        if before is None:
            gone.append(Settled(one.id, None, one.said))
        else:
            gone.append(Settled(one.id, before.entry, before.said, doubts=before.doubts))
    return _settle(desk, question.entries, gone)


@use_case
def keep_rest(desk: Desk, day: date | None = None) -> int:
    """Everything of the day, or of the job, that nobody asks about is right, in one step; how many
    entries that were."""
    asked = {one.id for question in questions(desk, day) for one in question.entries}
    rest = [one for one in not_looked_at(desk, day) if one.id not in asked]
    return len(_settle(desk, rest, _as_they_stand(rest)))


@use_case
def keep_cheap(desk: Desk, asked: Iterable[Question]) -> int:
    """Keeps as they stand, in one step, those of these that cost nothing in any figure and are no
    record of covered work; how many entries that were."""
    cheap = [
        one for question in asked if question.keep and not question.cost for one in question.entries
    ]
    return len(_settle(desk, cheap, _as_they_stand(cheap)))


def _as_they_stand(entries: Iterable[BookEntry]) -> list[Settled]:
    return [Settled(one.id, one.entry, one.said) for one in entries]


def _settle(
    desk: Desk, entries: Sequence[BookEntry], settled: Sequence[Settled]
) -> tuple[BookEntry, ...]:
    """One step, unless what was shown has changed since."""
    few = len(entries) < 20
    stand = map(desk.book.entry, (one.id for one in entries)) if few else _of_job(desk)
    versions = {one.id: one.version for one in stand}
    for one in entries:
        if versions.get(one.id) != one.version:
            raise ServiceError("this was changed meanwhile; look at it again")
    remember(desk)
    return decisions.settle(desk.book, settled, seen={one.id: one.doubts for one in entries})


def _of_job(desk: Desk) -> tuple[BookEntry, ...]:
    return desk.book.entries(desk.job.name)


def _with_new_doubts(
    desk: Desk, question: Question, settles: Sequence[Settled]
) -> tuple[Settled, ...]:
    """What is answered, each with what the whole job then casts on it and nobody has seen yet."""
    becomes = {one.entry: one.becomes for one in settles}
    seen = {why for one in question.entries for why in one.doubts}
    entries = [_as_answered(one, becomes) for one in _of_job(desk)]
    fresh: dict[int, tuple[str, ...]] = {}
    for one in sensed(desk.job, desk.plan, entries, read_catalog(desk), came(desk)):
        if one.id in becomes and one.standing != "dropped":
            new = [why for why in one.doubts if not any(of_one_kind(why, old) for old in seen)]
            fresh[one.id] = tuple(new)
    return tuple(replace(one, doubts=fresh.get(one.entry, ())) for one in settles)


def _as_answered(kept: BookEntry, becomes: dict[int, Entry | None]) -> BookEntry:
    if kept.id not in becomes:
        return kept
    entry = becomes[kept.id]
    if entry is None:
        return replace(kept, standing="dropped", doubts=())
    return replace(kept, entry=entry, standing="heard", change="heard", origin=None, doubts=())


# --- what is asked together, and in which order -------------------------------------------------


def asked_together(entries: Iterable[BookEntry]) -> tuple[tuple[BookEntry, ...], ...]:
    """The doubtful entries in groups that one question is asked about: those of one breath that
    share a doubt about all of it, those whose very words one answer settles alike, and a change
    with what it changes."""
    every = list(entries)
    changed = {one.id: fact.id for one in every if (fact := _changed_by(one, every))}
    groups: dict[object, list[BookEntry]] = {}
    for one in every:
        kinds = [kind_of(why).kind for why in one.doubts]
        key: object = changed.get(one.id, one.id)
        if one.id in changed or one.id in changed.values():
            pass
        elif one.utterance is not None and all(kind.joint for kind in kinds):
            key = one.utterance, one.doubts
        elif len(kinds) == 1 and kinds[0].together:
            key = one.doubts, one.entry.item, one.entry.unit
        groups.setdefault(key, []).append(one)
    return tuple(map(tuple, groups.values()))


def _changed_by(said: BookEntry, every: Sequence[BookEntry]) -> BookEntry | None:
    """What a doubtful change changed, or may have taken back, and what is doubtful for it."""
    if said.entry.kind != "correction":
        return None
    for one in reversed(every):
        changed = one.said == said.said and {*said.doubts} <= {*one.doubts}
        taken_back = f"may have been taken back right after: {said.said}" in one.doubts
        if one.entry.kind != "correction" and (changed or taken_back):
            return one
    return None


def _apart(
    entries: Sequence[BookEntry],
) -> tuple[tuple[BookEntry, ...], tuple[BookEntry, ...]]:
    """The facts that are asked about, and the words that may have changed them. Where there is
    nothing but such words, they are what is asked about."""
    facts = tuple(one for one in entries if one.entry.kind != "correction")
    changes = tuple(one for one in entries if one.entry.kind == "correction")
    return (facts, changes) if facts else (changes, ())


def _with_changes(
    desk: Desk,
    facts: Sequence[BookEntry],
    changes: Sequence[BookEntry],
    found: Sequence[Answer],
) -> tuple[Answer, ...]:
    """The answers, which settle the words of the change too; and first that it was not meant."""
    also = tuple(_as_they_stand(changes))
    answers = [replace(one, settles=(*one.settles, *also)) for one in found]
    [*_, fact] = facts
    before = _before(desk, fact)
    if before is not None:
        stays = Settled(fact.id, before.entry, before.said, doubts=before.doubts)
        gone = tuple(Settled(one.id, None, one.said) for one in changes)
        line = describe(before.entry)
        answers = [one for one in answers if one.means != line]
        answers.insert(0, Answer(f"not changed: {line}", line, "", (stays, *gone)))
    return tuple(answers[:MOST_ANSWERS])


MOST_ANSWERS = 9


def _before(desk: Desk, kept: BookEntry) -> BookEntry | None:
    """What an entry was before it was changed by the words that it now rests on."""
    versions = desk.book.versions(kept.id)
    if len(versions) < 2 or versions[-2].entry == kept.entry:
        return None
    return versions[-2]


def _asks(entries: Sequence[BookEntry], doubts: Sequence[Doubt]) -> str:
    """The sentence that asks, of the most telling doubt and of one about something else."""
    first = doubts[0]
    asks = first.asks
    if len(entries) > 1 and not first.kind.joint:
        named = asks if asks.startswith("'") else f": {asks[:1].lower()}{asks[1:]}"
        return f"{len(entries)} times{'' if named.startswith(':') else ' '}{named}"
    asks = f"{asks[:1].upper()}{asks[1:]}"
    other = next((one for one in doubts[1:] if one.kind.about != first.kind.about), None)
    return asks if other is None else f"{asks} {other.asks[:1].upper()}{other.asks[1:]}"


def _in_order(found: Iterable[Question]) -> Iterator[Question]:
    """The dearest first, with all of its kind behind it."""
    kinds: dict[object, list[Question]] = {}
    for one in sorted(found, key=lambda one: (-one.cost, one.entries[0].at, one.entries[0].id)):
        kinds.setdefault(_kind(one), []).append(one)
    for same in kinds.values():
        yield from same


def _kind(question: Question) -> object:
    whys = question.entries[0].doubts
    return question.about, told_apart(whys)[0].kind if whys else None


# --- where it is asked --------------------------------------------------------------------------


def _setting(desk: Desk, asked: Sequence[BookEntry]) -> Setting:
    """What is known where the question is asked."""
    from functools import lru_cache

    from joblog.asking.learned import decided
    from joblog.asking.setting import Setting
    from joblog.dictation import read
    from joblog.service.said import context_after

    first = asked[0]
    zone = ZoneInfo(desk.job.zone)
    around = desk.book.entries(desk.job.name, local_day(first.at, zone))
    breath = tuple(sorted((one for one in around if _together(one, first)), key=lambda one: one.id))
    before = [
        one
        for one in around
        if one not in breath
        and (one.at, one.id) < (first.at, first.id)
        and one.standing != "dropped"
        and one.entry.kind != "correction"
    ]
    context = context_after(desk, before, first.at)
    one_breath = all(one.utterance == first.utterance for one in asked)
    heard = first.utterance if one_breath else None
    return Setting(
        tuple(asked),
        lru_cache(maxsize=256)(lambda text: read(text, desk.vocabulary, context)),
        desk.vocabulary,
        desk.plan,
        read_catalog(desk),
        context,
        breath if one_breath else tuple(asked),
        tuple(before),
        None if heard is None else desk.book.utterance(heard).utterance,
        decided(changes_decided(desk.book)),
    )


def _together(one: BookEntry, other: BookEntry) -> bool:
    """Whether both come of the same words."""
    if other.utterance is not None:
        return one.utterance == other.utterance
    return (one.utterance, one.at, one.said) == (None, other.at, other.said)
