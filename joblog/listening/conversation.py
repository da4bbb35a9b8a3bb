"""What an utterance means at this moment, and what is done and said about it. Pure.

The listening loop tells it what was heard, when its answers begin and end, and which ids the book
gave; it gives back acts, in the order in which they are done. It never talks to the book itself.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from fractions import Fraction

from joblog.aloud import (
    say_changed,
    say_doubtful,
    say_dropped,
    say_entries,
    say_entry,
    say_unsure,
)
from joblog.aloud.say import SECONDS, seconds_of
from joblog.dictation import Context, after, fact_of, read
from joblog.dictation.choose import about_hearing
from joblog.dictation.hypotheses import plain_words
from joblog.dictation.numbers import NUMBER_WORDS, is_written
from joblog.dictation.pointing import LOOKED
from joblog.listening.acts import (
    Accept,
    Act,
    Ask,
    Do,
    Drop,
    Ignore,
    Keep,
    KeepBoth,
    Replace,
    Say,
    Settle,
)
from joblog.listening.commands import Command, command_in
from joblog.listening.for_us import (
    LATELY,
    OTHERS,
    is_for_us,
    is_soft,
    is_worth_an_answer,
    words_of_the_trade,
)
from joblog.listening.questions import (
    Question,
    agrees,
    answer_in,
    declines,
    has_a_number,
    question_for,
)
from joblog.model import BookEntry, Doubt, Entry, HeardUtterance, Reading, Vocabulary

OWN_VOICE = "it is our own voice"
"""Why something is ignored."""
REPLACES_WITHIN = timedelta(seconds=3)
"""After the end of a read-back; later a number by itself is a new one, and silence has accepted."""
HEARD_ENOUGH = timedelta(seconds=0.5)
"""Into an answer, before which nobody can be replying to it: he is only going on."""
ANSWERS_WITHIN = timedelta(seconds=6)
"""After the end of a question; then what it asks of stays doubtful."""
ECHO_WITHIN = timedelta(seconds=1)
"""After the end of what we said: sound still on its way through microphone and recognizers."""
DEEPEST = 48
"""Inches; what is longer is a run and no depth that a piece is cut for."""
TAIL = timedelta(seconds=0.3)
"""After the end of a question that waits for an answer: the same, of a slow headset."""
MOSTLY_OURS = 0.6
"""Share of the words heard, in their order, that we said ourselves."""
SOFTER_THAN_HE = -6.0
"""Decibels against his usual voice, from which other numbers than ours may be ours misheard."""


@dataclass(frozen=True, slots=True)
class Heard:
    """An utterance, read in `Conversation.context`, and what the loop knows of it."""

    utterance: HeardUtterance
    """Its chosen hearing first."""
    begun: datetime
    ended: datetime
    level: float | None = None
    """Decibels against his usual voice; None while that is not known."""


class Conversation:
    """The state of a talk: what was kept last, what was read back, what is asked.

    `aloud` is whether answers are words: what was not read back is not accepted by silence, and
    nothing is asked. `kept` are entries of the day that stand already, the last one last.
    `shorter` is by how many inches a piece is cut shorter than measured, where that is to be said.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        context: Context | None = None,
        *,
        aloud: bool = True,
        kept: Sequence[BookEntry] = (),
        shorter: Fraction | None = None,
    ) -> None:
        self._vocabulary = vocabulary
        self._trade = words_of_the_trade(vocabulary)
        self._aloud = aloud
        self._shorter = shorter
        self.context = context or Context()
        """What utterances are read in; the loop puts the local time into it."""
        self.paused = False
        self._kept = [
            _Kept(one.entry, bool(one.doubts), one.id)
            for one in kept
            if one.standing != "dropped" and one.entry.kind != "correction"
        ]
        self._waiting: list[_Kept | None] = []
        self._to_read_back: list[_Kept] = []
        self._read_back: list[_Kept] = []
        self._answer: _Answer | None = None
        self._pending: _Pending | None = None
        self._asked_before: _Pending | None = None
        self._changed: _Changed | None = None
        self._place_said: str | None = None
        self._others: deque[datetime] = deque(maxlen=OTHERS)

    @property
    def question(self) -> Question | None:
        """What is asked and not answered yet."""
        return self._pending.question if self._pending else None

    def copy(self) -> Conversation:
        """Another one that stands as this one does now."""
        return deepcopy(self, {id(one): one for one in (self._vocabulary, self._trade)})

    def hear(self, heard: Heard) -> tuple[Act, ...]:
        """What to do about an utterance."""
        self._to_read_back = []
        command = command_in([one.text for one in heard.utterance.utterance.hearings])
        if self.paused:
            return self._while_paused(command)
        if self._is_echo(heard):
            return (Ignore(OWN_VOICE),)
        return (*self.passed(heard.begun), *self._meant(heard, command))

    def stored(self, ids: Sequence[int]) -> None:
        """The book has the last utterance that was to be kept; the ids of its entries, in order.

        Ids of entries that the utterance changed may stand before them.
        """
        known = {one.id for one in self._kept}
        own = [id for id in ids if id not in known]
        for kept, id in zip(self._waiting, own, strict=False):
            if kept is not None:
                kept.id = id
        self._waiting = []

    def answering(self, words: str, at: datetime) -> None:
        """An answer begins to sound."""
        self._answer = _Answer(words, at)
        self._read_back, self._to_read_back = self._to_read_back, []

    def unsaid(self) -> None:
        """The answer was not given: what it was to read back was not heard by anybody."""
        self._to_read_back = []

    def answered(self, at: datetime, *, whole: bool = True) -> None:
        """The answer has ended, or was broken off."""
        if self._answer is not None:
            self._answer.ended = at
            self._answer.whole = whole

    def passed(self, now: datetime) -> tuple[Act, ...]:
        """What the silence until `now` decides. Everything that began before it has been told."""
        answer = self._answer
        if answer is None or answer.ended is None:
            return ()
        if now > answer.ended + ANSWERS_WITHIN:
            self._pending = None
        return self._accepted() if now > answer.ended + REPLACES_WITHIN else ()

    # --- the steps of hearing -----------------------------------------------------------------

    def _while_paused(self, command: Command | None) -> tuple[Act, ...]:
        if command != "resume":
            return (Ignore("paused"),)
        self.paused = False
        return Keep(Reading()), Do("resume"), Say("listening", "resumed")

    def _meant(self, heard: Heard, command: Command | None) -> tuple[Act, ...]:
        if not is_soft(heard.level):
            if command is not None:
                return self._commanded(command)
            answer = self._answer_to_question(heard) or self._answer_to_read_back(heard)
            if answer:
                return answer
        hearings, reading = heard.utterance.utterance.hearings, heard.utterance.reading
        if not is_for_us(
            reading, hearings, heard.level, self._trade, self._among_others(heard.begun)
        ):
            self._others.append(heard.begun)
            return (Keep(Reading()),)
        self._asked_before, self._pending = self._pending, None
        if reading.entries and reading.entries[0].kind == "correction":
            return self._corrected(heard)
        change = None if is_soft(heard.level) else self._bare_number(heard)
        if change is not None:
            return self._replaced(heard, self._last_fact, change, Reading())
        return (*self._accepted(), *self._newly_kept(heard.utterance))

    def _among_others(self, now: datetime) -> bool:
        """Whether others have been talking all the time lately."""
        return len(self._others) == OTHERS and self._others[0] > now - LATELY

    def _accepted(self, *, agreed: bool = False) -> tuple[Act, ...]:
        """What was read back whole, holds a number and is in no doubt."""
        read_back, self._read_back = self._read_back, []
        whole = self._answer is not None and self._answer.whole
        if not self._aloud or not (whole or agreed):
            return ()
        ids = tuple(
            one.id
            for one in read_back
            if one.id is not None and not one.doubtful and has_a_number(one.entry)
        )
        return (Accept(ids),) if ids else ()

    # --- commands -----------------------------------------------------------------------------

    def _commanded(self, command: Command) -> tuple[Act, ...]:
        match command:
            case "keep both":
                return self._kept_both()
            case "photo note":
                carried = ("place",) if self.context.place else ()
                note = Entry("photo", place=self.context.place, note="photo note", carried=carried)
                return (*self._accepted(), *self._newly_kept_entries(Reading((note,))))
            case "which place":
                said = Say(self.context.place or "no place yet", "kept")
            case "read last":
                last = self._kept[-1] if self._kept else None
                said = Say(_again(last), "kept" if last else "not understood")
            case "pause":
                self.paused = True
                self._pending = None
                return *self._accepted(), Keep(Reading()), Do("pause"), Say("paused", "paused")
            case "resume":
                said = Say("listening", "resumed")
            case _:
                return *self._accepted(), Keep(Reading()), Do(command)
        return *self._accepted(), Keep(Reading()), said

    def _kept_both(self) -> tuple[Act, ...]:
        changed, self._changed = self._changed, None
        if changed is None:
            return Keep(Reading()), Say("nothing was changed", "not understood")
        changed.kept.entry, changed.kept.doubtful = changed.before, changed.was_doubtful
        self._kept.append(changed.own)
        self._now_last()
        return Keep(Reading()), KeepBoth(), Say("kept both", "kept")

    # --- a question ---------------------------------------------------------------------------

    def _answer_to_question(self, heard: Heard) -> tuple[Act, ...]:
        pending = self._pending
        if pending is None or pending.kept.id is None or not self._is_reply(heard):
            return ()
        hearings = heard.utterance.utterance.hearings
        if pending.drops and agrees(hearings):
            self._pending = None
            return Keep(Reading()), *self._dropped(pending.kept)
        if declines(hearings) and not pending.drops:
            self._pending = None
            return Keep(Reading()), Say("left open", "doubtful")
        chosen = answer_in(hearings, pending.question, self._vocabulary, self.context)
        if pending.drops:  # "No" to that lets it stand.
            chosen = Reading((pending.kept.entry,)) if declines(hearings) else None
        if chosen is None:
            return ()
        self._pending = None
        [entry] = chosen.entries
        settled = Settle(pending.kept.id, entry, _text(heard))
        pending.kept.entry, pending.kept.doubtful = entry, False
        self._changed = None
        self._now_last()
        return Keep(Reading()), settled, Say(say_entry(entry), "kept")

    def _answer_to_read_back(self, heard: Heard) -> tuple[Act, ...]:
        """ "Yes" accepts at once, also where the answer was broken off; "no" waits for more."""
        if not self._read_back or not self._is_reply(heard):
            return ()
        if agrees(heard.utterance.utterance.hearings):
            return *self._accepted(agreed=True), Keep(Reading())
        if declines(heard.utterance.utterance.hearings):
            self._to_read_back = self._read_back
            return Keep(Reading()), Say("what then", "doubtful")
        return ()

    def _is_reply(self, heard: Heard) -> bool:
        """Whether he can have heard what we said last, and it is not too long ago."""
        answer = self._answer
        if answer is None or not self._aloud or heard.begun < answer.begun + HEARD_ENOUGH:
            return False
        within = ANSWERS_WITHIN if self._pending else REPLACES_WITHIN
        return answer.ended is None or heard.begun <= answer.ended + within

    # --- putting right ------------------------------------------------------------------------

    def _corrected(self, heard: Heard) -> tuple[Act, ...]:
        reading = _one_change(heard.utterance.reading)
        first, rest = reading.entries[0], _without_first(reading)
        whys = _whys(reading, 0)
        last = self._kept[-1 - first.back] if first.back < len(self._kept) else None
        if first.replacement is not None and _puts_right(first.replacement, last, whys):
            change = Reading((first.replacement,), _doubts(whys))
            return self._replaced(heard, last, change, _by_itself(rest))
        if first.action != "drop" or last is None or last.id is None:
            said = "change it to what" if first.action == "replace" else "drop what"
            return Keep(reading), Say(f"{say_doubtful(said)}, say it again", "not understood")
        if whys and not self._asked_to_drop(last):
            return self._perhaps_dropped(heard, last, _by_itself(rest))
        self._pending = None
        if rest.entries:
            drop, _ = self._dropped(last)
            kept = self._newly_kept(replace(heard.utterance, reading=rest))
            return kept[0], drop, *kept[1:]
        return Keep(Reading()), *self._dropped(last)

    def _dropped(self, last: _Kept) -> tuple[Act, Act]:
        assert last.id is not None
        self._read_back = []
        self._changed = None
        self._kept.remove(last)
        self._now_last()
        return Drop(last.id), Say(say_dropped(last.entry), "dropped")

    def _asked_to_drop(self, last: _Kept) -> bool:
        pending = self._asked_before
        return pending is not None and pending.drops and pending.kept is last

    def _perhaps_dropped(self, heard: Heard, last: _Kept, rest: Reading) -> tuple[Act, ...]:
        """It may have been taken back: it is in doubt from now on, and asked about. `rest` is what
        was said after it."""
        assert last.id is not None
        entry, text = last.entry, _text(heard)
        why = f"may have been taken back right after: {text}"
        self._read_back = []
        self._changed = None
        last.doubtful = True
        self._waiting, fresh = [None], list[_Kept]()
        for at, one in enumerate(rest.entries):
            self._take(one, bool(_whys(rest, at)), fresh)
        self.context = after(self.context, rest)
        self._told()
        entries, doubts = (entry, *rest.entries), (Doubt(0, why), *_later(rest, 1))
        kept = Keep(Reading(entries, doubts, rest.unread))
        made = Replace(last.id, entry, text, (why,))
        asked = f"drop {say_entry(entry, place_known=entry.place)}?"
        words = ", ".join(filter(None, (self._spoken([one.entry for one in fresh]), asked)))
        if not self._aloud:
            return kept, made, Say(words, "doubtful")
        question = Question(0, (entry,), words)
        self._pending = _Pending(question, last, drops=True)
        return kept, made, Ask(question, words)

    def _replaced(
        self, heard: Heard, last: _Kept | None, change: Reading, rest: Reading
    ) -> tuple[Act, ...]:
        """An entry becomes the one of `change`; `rest` is what was said after it."""
        [by], whys = change.entries, _whys(change, 0)
        if last is None or last.id is None:
            return self._newly_kept(heard.utterance)
        same = fact_of(by) == fact_of(last.entry) and by.place == last.entry.place
        self._read_back = []
        if same and last.doubtful and not whys:
            last.doubtful = False
            said = Say(say_entry(by, place_known=by.place), "kept")
            return Keep(rest), Settle(last.id, last.entry, _text(heard)), said
        own = _Kept(by, bool(whys))
        self._changed = _Changed(last, last.entry, last.doubtful, own)
        last.entry, last.doubtful = by, bool(whys) or last.entry.kind != by.kind
        decided = Replace(last.id, by, _text(heard), whys)
        self._now_last()
        self._waiting = [own]
        words = say_changed(by, place_known=self._place_said)
        self._place_said = by.place or self._place_said
        if same:
            words = f"the same: {say_entry(by, place_known=by.place)}"
        if last.doubtful:
            words = say_doubtful(words)
        fresh: list[_Kept] = []
        self.context = after(self.context, rest)
        for at, entry in enumerate(rest.entries):
            self._take(entry, bool(_whys(rest, at)), fresh)
        self._told()
        self._to_read_back = [last, *fresh]
        entries = (by, *rest.entries)
        sure = heard.utterance.reading.confidence
        sure = sure if len(sure) == len(entries) else ()
        keep = Reading(entries, (*_doubts(whys), *_later(rest, 1)), rest.unread, sure)
        words = ", ".join(filter(None, (words, self._spoken([one.entry for one in fresh]))))
        return Keep(keep), decided, Say(words, "doubtful" if last.doubtful else "kept")

    def _bare_number(self, heard: Heard) -> Reading | None:
        """What the last entry becomes by a number said alone just after it was read back."""
        last = self._last_fact
        if last is None or last not in self._read_back or not self._is_reply(heard):
            return None
        reading, text = heard.utterance.reading, _text(heard)
        if not _is_bare(text, last.entry):
            return None
        if len(reading.entries) == 1 and reading.entries[0].as_said:
            text = reading.entries[0].as_said
        context = replace(self.context, last=last.entry, told=(last.entry,))
        change = read(f"make it {text}", self._vocabulary, context)
        made = change.entries[0].replacement if len(change.entries) == 1 else None
        if made is None or made.kind != last.entry.kind or change.unread:
            return None
        heard_so = (why for at in range(len(reading.entries)) for why in _whys(reading, at))
        whys = [*_whys(change, 0), *(why for why in heard_so if about_hearing(why))]
        return Reading((made,), _doubts(tuple(dict.fromkeys(whys))))

    # --- keeping ------------------------------------------------------------------------------

    def _newly_kept(self, utterance: HeardUtterance) -> tuple[Act, ...]:
        return self._newly_kept_entries(utterance.reading, utterance)

    def _newly_kept_entries(
        self, reading: Reading, utterance: HeardUtterance | None = None
    ) -> tuple[Act, ...]:
        before = self.context
        self.context = after(self.context, reading)
        self._changed = None
        self._waiting, fresh = [], list[_Kept]()
        for at, entry in enumerate(reading.entries):
            self._take(entry, bool(_whys(reading, at)), fresh)
        self._told()
        self._to_read_back = fresh
        hearings = utterance.utterance.hearings if utterance else ()
        if not fresh or (utterance and not is_worth_an_answer(reading, hearings)):
            self._to_read_back = []
            return (Keep(reading),)
        question = question_for(utterance, self._vocabulary, before) if utterance else None
        asked = self._waiting[question.at] if question else None
        if not self._aloud or question is None or asked is None:
            return Keep(reading), self._read_back_of(fresh)
        self._pending = _Pending(question, asked)
        if not question.words:
            return Keep(reading), self._read_back_of(fresh, asks=True)
        others = self._spoken([one.entry for one in fresh if one is not asked])
        words = ", ".join(filter(None, (others, question.words)))
        return Keep(reading), Ask(question, words)

    def _take(self, entry: Entry, doubtful: bool, fresh: list[_Kept]) -> None:
        """An entry of an utterance; a correction is done to one of the same utterance, as the book
        does it, which finds none before them."""
        if entry.kind != "correction":
            kept = self._push(entry, doubtful)
            fresh.append(kept)
            return
        self._waiting.append(None)
        if entry.back >= len(fresh):
            return
        meant = fresh[-1 - entry.back]
        if entry.replacement is not None:
            meant.entry = entry.replacement
            meant.doubtful |= doubtful
        elif doubtful:
            meant.doubtful = True
        else:
            fresh.remove(meant)
            self._kept.remove(meant)
            self._now_last()

    def _push(self, entry: Entry, doubtful: bool) -> _Kept:
        kept = _Kept(entry, doubtful)
        self._kept.append(kept)
        del self._kept[:-REMEMBERED]
        self._waiting.append(kept)
        return kept

    def _read_back_of(self, fresh: Sequence[_Kept], *, asks: bool = False) -> Say:
        doubtful = any(one.doubtful and has_a_number(one.entry) for one in fresh)
        frame = say_unsure if asks else say_doubtful if doubtful else str
        words = self._spoken([one.entry for one in fresh], SECONDS - seconds_of(frame("")))
        return Say(frame(words), "doubtful" if doubtful else "kept")

    def _spoken(self, entries: Sequence[Entry], seconds: float = SECONDS) -> str:
        cuts = [self._cut(entry) for entry in entries]
        words = say_entries(entries, place_known=self._place_said, cuts=cuts, seconds=seconds)
        for entry in entries:
            self._place_said = entry.place or self._place_said
        return words

    def _cut(self, entry: Entry) -> Fraction | None:
        """What to cut for a depth that was measured. A piece is called out as it is to be cut."""
        if self._shorter is None or entry.inches is None or entry.pieces is not None:
            return None
        may_be = entry.dimension is None and entry.inches <= DEEPEST
        is_depth = entry.dimension == "depth" or may_be
        return entry.inches - self._shorter if is_depth and self._shorter < entry.inches else None

    @property
    def _last_fact(self) -> _Kept | None:
        """What "make it nine" puts right: a note said in between has no number."""
        facts = (one for one in reversed(self._kept) if has_a_number(one.entry))
        return next(facts, None)

    def _now_last(self) -> None:
        """The context after an entry was changed or taken back."""
        last = self._last_fact.entry if self._last_fact else None
        item = last.item if last and last.item else self.context.item
        place = last.place if last and last.place else self.context.place
        self.context = replace(self.context, item=item, place=place)
        self._told()

    def _told(self) -> None:
        """What words can point back at is what was kept: they count back from its end."""
        told = tuple(one.entry for one in self._kept[-LOOKED:])
        self.context = replace(self.context, told=told, last=told[-1] if told else None)

    # --- our own voice ------------------------------------------------------------------------

    def _is_echo(self, heard: Heard) -> bool:
        answer = self._answer
        if answer is None or heard.begun < answer.begun:
            return False
        # What answers a question is made of our own words, and cannot begin before its end. As loud
        # as he usually is, it is he who says the same again.
        his = heard.level is not None and heard.level > SOFTER_THAN_HE
        within = timedelta() if his else TAIL if self._pending else ECHO_WITHIN
        if answer.ended is not None and heard.begun > answer.ended + within:
            return False
        words, ours = plain_words(_text(heard)), plain_words(answer.words)
        if not words or _in_order(words, ours) < MOSTLY_OURS * len(words):
            return False
        # "Fourteen and three eighths" into our "fourteen and five eighths" is he putting it right.
        foreign = [word for word in words if word not in ours and _is_number(word)]
        return not foreign or (heard.level is not None and heard.level <= SOFTER_THAN_HE)


REMEMBERED = 200
"""Entries that can be taken back one after the other."""


@dataclass(slots=True, eq=False)
class _Kept:
    """An entry that was kept in this talk; its id once the book has it."""

    entry: Entry
    doubtful: bool
    id: int | None = None


@dataclass(slots=True)
class _Answer:
    words: str
    begun: datetime
    ended: datetime | None = None
    whole: bool = True


@dataclass(frozen=True, slots=True)
class _Pending:
    question: Question
    kept: _Kept
    drops: bool = False
    """Whether it is asked if this is to be dropped."""


@dataclass(frozen=True, slots=True)
class _Changed:
    """A replacement that "keep both" takes back."""

    kept: _Kept
    before: Entry
    was_doubtful: bool
    own: _Kept


def _text(heard: Heard) -> str:
    hearings = heard.utterance.utterance.hearings
    return hearings[0].text if hearings else ""


def _again(last: _Kept | None) -> str:
    if last is None:
        return "nothing yet"
    said = say_entry(last.entry)
    return say_doubtful(said) if last.doubtful else said


def _whys(reading: Reading, at: int) -> tuple[str, ...]:
    return tuple(doubt.why for doubt in reading.doubts if doubt.entry == at)


def _doubts(whys: Sequence[str], at: int = 0) -> tuple[Doubt, ...]:
    return tuple(Doubt(at, why) for why in whys)


def _later(reading: Reading, by: int) -> tuple[Doubt, ...]:
    return tuple(Doubt(doubt.entry + by, doubt.why) for doubt in reading.doubts)


def _without_first(reading: Reading) -> Reading:
    doubts = tuple(Doubt(doubt.entry - 1, doubt.why) for doubt in reading.doubts if doubt.entry)
    return Reading(reading.entries[1:], doubts, reading.unread, reading.confidence[1:])


def _puts_right(by: Entry, last: _Kept | None, whys: Sequence[str]) -> bool:
    """Whether there is something that the words may put right: words alone have no number, and what
    is of another kind, and in doubt, is said again sooner than taken back."""
    return (
        last is not None and has_a_number(last.entry) and (by.kind == last.entry.kind or not whys)
    )


def _one_change(reading: Reading) -> Reading:
    """ "Make it nine, no, ten" changes one entry, and to the last that is said."""
    while len(reading.entries) > 1 and _goes_on(*reading.entries[:2]):
        kept = tuple(doubt for doubt in reading.doubts if doubt.entry)
        reading = _without_first(replace(reading, doubts=kept))
    return reading


def _goes_on(first: Entry, then: Entry) -> bool:
    same = first.kind == then.kind == "correction" and first.back == then.back
    return same and first.replacement is not None and then.replacement is not None


def _by_itself(rest: Reading) -> Reading:
    """What was said after a correction, for an utterance that begins with an entry of its own: what
    it changes of what was said before, nobody can tell there from that entry."""
    standing, entries = 0, list[Entry]()
    for entry in rest.entries:
        if entry.kind != "correction":
            standing += 1
        elif entry.back >= standing:
            entry = replace(entry, back=len(rest.entries) + 1)
        elif entry.action == "drop":
            standing -= 1
        entries.append(entry)
    return replace(rest, entries=tuple(entries))


def _is_bare(text: str, last: Entry) -> bool:
    """Whether the words are a number and its unit and nothing else."""
    words = plain_words(text)
    units = {last.unit, f"{last.unit}s", f"{last.unit}es"} if last.unit else set()
    return any(map(_is_number, words)) and all(
        _is_number(word) or word in _BESIDE_A_NUMBER or word in units for word in words
    )


def _is_number(word: str) -> bool:
    return word in NUMBER_WORDS or is_written(word)


_BESIDE_A_NUMBER = frozenset(
    "and a an of inch inches foot feet heavy light strong shy o'clock oclock minutes hours degrees"
    " dollar dollars bucks cents mile miles uh um okay no sorry it's".split()
)


def _in_order(words: Sequence[str], ours: Sequence[str]) -> int:
    """How many of the words are ours, in our order: the longest common subsequence."""
    from rapidfuzz.distance import LCSseq

    return int(LCSseq.similarity(words, ours))
