"""One question at a time: a doubtful number asked back with its rivals, and what answers it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from joblog.aloud import say_question
from joblog.aloud.say import differing, number_of
from joblog.dictation import Context, fact_of, read
from joblog.dictation.choose import about_hearing
from joblog.dictation.fields import COMPETES
from joblog.dictation.hypotheses import plain_words
from joblog.dictation.numbers import NUMBER_WORDS
from joblog.dictation.read import NOT_UNDERSTOOD
from joblog.dictation.weigh import likelihoods, meanings_of
from joblog.model import Entry, HeardUtterance, Hearing, Kind, Reading, Vocabulary


@dataclass(frozen=True, slots=True)
class Question:
    """What one doubtful entry may be; or only whether it is so, where there is one candidate."""

    at: int
    """Which entry of its reading."""
    candidates: tuple[Entry, ...]
    """The likeliest first."""
    words: str
    """ "fourteen, or forty?"; "" where it is asked by reading back alone."""
    number: str = ""
    """The field in which they differ."""


def question_for(
    heard: HeardUtterance, vocabulary: Vocabulary, context: Context | None = None
) -> Question | None:
    """What to ask of an utterance: its first entry in doubt that hearing better would settle.

    None where nothing is in doubt, and where what is in doubt is how the words are meant: that is
    for the evening, when there is time to say why.
    """
    reading = heard.reading
    for at, entry in enumerate(reading.entries):
        whys = [doubt.why for doubt in reading.doubts if doubt.entry == at]
        if not whys or not has_a_number(entry):
            continue
        if all(map(about_hearing, whys)):
            return _asked(at, heard, vocabulary, context)
        if all(about_hearing(why) or why.startswith(NOT_UNDERSTOOD) for why in whys):
            # Which of two numbers it is says nothing of the other words; that all is right does.
            return Question(at, (entry,), "")
    return None


def answer_in(
    hearings: Sequence[Hearing],
    question: Question,
    vocabulary: Vocabulary,
    context: Context | None = None,
) -> Reading | None:
    """The candidate that the words choose, as a reading of one entry with no doubt.

    None where they choose none, where one hearing chooses one and another another, and where one
    recognizer alone heard a number that was heard two ways before: it may mishear it every time.
    """
    chosen: dict[int, list[Hearing]] = {}
    for hearing in hearings:
        at = _choice(hearing.text, question, vocabulary, context)
        if at is not None:
            chosen.setdefault(at, []).append(hearing)
    if len(chosen) != 1:
        return None
    [(at, heard_so)] = chosen.items()
    alone = len({hearing.recognizer.split()[0] for hearing in heard_so}) < 2
    plain = any(_is_plain(hearing.text, question) for hearing in heard_so)
    if alone and not plain and len(question.candidates) > 1:
        return None
    return Reading((question.candidates[at],))


def declines(hearings: Sequence[Hearing]) -> bool:
    """Whether one of them says that it is not right, and nothing else: "no", "neither"."""
    return any(_says(hearing.text, _WRONG, _RIGHT) for hearing in hearings)


def agrees(hearings: Sequence[Hearing]) -> bool:
    """Whether one of them says that it is right, and nothing else: "yes"."""
    return any(_says(hearing.text, _RIGHT) for hearing in hearings)


def has_a_number(entry: Entry) -> bool:
    """Whether a few words can ask for it and put it right: not where it is but words, and a
    correction is said again sooner than asked."""
    if entry.kind in _NEVER_ASKED:
        return False
    return entry.kind not in _MAY_HAVE_NONE or bool(_numbers(entry))


def is_only_words(entry: Entry) -> bool:
    """Whether any words at all could have made it: it names no number, day, item or person."""
    if entry.kind not in ANYBODYS:
        return entry.kind in _ONLY_WORDS
    return not (_numbers(entry) or entry.item or entry.who)


_ONLY_WORDS: tuple[Kind, ...] = ("note", "problem", "covered", "photo")
_NEVER_ASKED: tuple[Kind, ...] = (*_ONLY_WORDS, "correction")
ANYBODYS: tuple[Kind, ...] = ("todo", "extra", "expense", "drive", "inspection", "visit")
"""What anybody talks of, also to somebody else: whose it is does not show in the words."""
_MAY_HAVE_NONE: tuple[Kind, ...] = (*ANYBODYS, "corner")
MOST_CANDIDATES = 3
"""More than that nobody keeps in mind on a ladder."""

_ORDER = ("first", "second", "third")
_RIGHT = frozenset("yes yeah yep yup right correct exactly".split())
_WRONG = frozenset("no nope neither none wrong not".split())
_BESIDE = frozenset("that that's is it it's one of them of those".split())
_LOOSE = frozenset("uh um okay ok please it is it's i said one the number well".split())
_JOINING = frozenset("and a an inch inches".split())


def _asked(
    at: int, heard: HeardUtterance, vocabulary: Vocabulary, context: Context | None
) -> Question:
    entry = heard.reading.entries[at]
    meanings = meanings_of(
        heard.utterance.hearings,
        lambda text: read(text, vocabulary, context),
        vocabulary,
        heard.utterance.scored,
    )
    likely: dict[object, float] = {}
    entries = {fact_of(entry): entry}
    for share, meaning in zip(likelihoods(meanings), meanings, strict=True):
        rival = _in_place(meaning.reading, at, heard.reading)
        if rival is not None and _alike_but_a_number(entry, rival):
            fact = fact_of(rival)
            likely[fact] = likely.get(fact, 0.0) + share
            entries.setdefault(fact, rival)
    ranked = sorted(entries, key=lambda fact: -likely.get(fact, 0.0))
    candidates = [entries[fact] for fact in ranked if likely.get(fact, 0.0) >= COMPETES]
    own = fact_of(entry)
    candidates = [entry, *(one for one in candidates if fact_of(one) != own)]
    number = _one_number(candidates)
    if len(candidates) == 1 or not number:
        return Question(at, (entry,), "")
    kept = [one for one in candidates if differing((entry, one)) in ((), (number,))]
    kept = kept[:MOST_CANDIDATES]
    return Question(at, tuple(kept), say_question(kept), number)


def _in_place(reading: Reading, at: int, chosen: Reading) -> Entry | None:
    """The entry that stands where the doubtful one does, in a reading that is otherwise the same
    number of things."""
    if len(reading.entries) != len(chosen.entries):
        return None
    return reading.entries[at]


def _alike_but_a_number(one: Entry, other: Entry) -> bool:
    names = differing((one, other))
    if len(names) > 1:
        return False
    alike = ("item", *names) if names == ("size",) else names  # A variant is named by its size.
    same = replace(other, **{name: getattr(one, name) for name in alike}, as_said=one.as_said)
    return fact_of(same) == fact_of(one) and other.place == one.place


def _one_number(candidates: Sequence[Entry]) -> str:
    """The number in which the likeliest rival differs."""
    names: Iterable[str] = differing(candidates[:2])
    return next(iter(names), "")


def _choice(
    text: str, question: Question, vocabulary: Vocabulary, context: Context | None
) -> int | None:
    if _says(text, _RIGHT):
        # "Yes" to "fourteen, or forty?" chooses nothing.
        return None if len(question.candidates) > 1 else 0
    turn = _turn(text, question)
    return _number_said(text, question, vocabulary, context) if turn is None else turn


def _is_plain(text: str, question: Question) -> bool:
    """Whether mishearing the same words again cannot have chosen: by its turn, or by its number in
    words that were not asked, "thirteen" for "one foot one"."""
    asked = frozenset(plain_words(question.words))
    new = (word for word in _number_words(text) if word not in asked)
    return _turn(text, question) is not None or any(word in NUMBER_WORDS for word in new)


def _turn(text: str, question: Question) -> int | None:
    """The candidate that "the first", "the second" or "the last" is."""
    said, count = _bare(text), len(question.candidates)
    if count < 2 or said not in (*_ORDER[:count], "last"):
        return None
    return count - 1 if said == "last" else _ORDER.index(said)


def _number_said(
    text: str, question: Question, vocabulary: Vocabulary, context: Context | None
) -> int | None:
    """The candidate whose number is all that the words say."""
    words = _number_words(text)
    found = set()
    for at, candidate in enumerate(question.candidates):
        number = question.number or next(iter(_numbers(candidate)), "")
        if not number:
            continue
        if words and words == _number_words(number_of(candidate, number)):
            found.add(at)
            continue
        last = replace(context or Context(), last=candidate, told=(candidate,))
        change = read(f"make it {text}", vocabulary, last)
        if change.unread or change.doubts or len(change.entries) != 1:
            continue
        made = change.entries[0].replacement
        if made is not None and fact_of(made) == fact_of(candidate):
            found.add(at)
    return found.pop() if len(found) == 1 else None


def _numbers(entry: Entry) -> tuple[str, ...]:
    return differing((entry, Entry(entry.kind)))


def _says(text: str, one: frozenset[str], also: frozenset[str] = frozenset()) -> bool:
    """Whether it is said by a word of `one`, and beside it stand none but those of `also`."""
    words = set(plain_words(text)) - _LOOSE
    return bool(words & one) and words <= one | also | _BESIDE


def _bare(text: str) -> str:
    return " ".join(word for word in plain_words(text) if word not in _LOOSE)


def _number_words(text: str) -> list[str]:
    return [word for word in plain_words(text) if word not in _LOOSE | _JOINING]
