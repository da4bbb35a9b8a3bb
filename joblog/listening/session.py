"""One session of listening: sound comes in, what is said is kept, and the answer is heard.

Everything hangs on the sound's own clock, so that a recording that is listened to faster than it
was made goes the same way as a microphone. An utterance goes through these steps, each done before
the next:

1. Speech is found, and is silent for as long as the air behind it: its sound goes to the disk.
2. It is heard by every recognizer and read, while nobody knows yet whether he goes on speaking.
3. Once he has been silent for long enough, the answer begins. If he goes on after all it stops, and
   all of it is heard anew, as one utterance.
4. When the pause is as long as one that ends an utterance in any recording, it enters the book.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Protocol
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from joblog.aloud.beeps import Beep, beep
from joblog.aloud.voices import Voice, VoiceError
from joblog.audio.decode import RATE, Samples
from joblog.audio.level import Conditioned, Conditioner, Meter
from joblog.audio.microphone import Microphone
from joblog.audio.speaker import Speaker
from joblog.audio.voice import AIR, FRAME, Cutter, Stretch
from joblog.dictation import SHIPPED, Context, Judgement, read_heard
from joblog.dictation.hypotheses import plain_words
from joblog.dictation.numbers import NUMBER_WORDS, is_written
from joblog.listening import acts
from joblog.listening.acts import Act
from joblog.listening.commands import Command
from joblog.listening.conversation import OWN_VOICE, REPLACES_WITHIN, Conversation, Heard
from joblog.listening.cut_walk import CutWalk
from joblog.listening.doing import Doing, Promise
from joblog.listening.ear import Ear, Said, Unheard
from joblog.listening.floor import TAIL, Floor
from joblog.listening.track import Track
from joblog.model import BookEntry, HeardUtterance, Reading, Utterance
from joblog.service import listening as service
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, refusing
from joblog.service.listening import Spool

Sound = NDArray[np.int16]

SOON = 0.5
"""Seconds of silence after which something that is plainly complete is answered."""
STALE = 6.0
"""Seconds after which an answer that found no silence is not given any more."""
AGAIN = 3600.0
"""Seconds before the same warning is said a second time."""
LOST_AGAIN = 60.0
"""The same, for what costs words."""
STILL_PAUSED = 180.0
"""Seconds after which somebody who may have forgotten it is told that nothing is heard."""
UNHEARD_ECHO = -100.0
"""Decibels of what does not come back at all."""
LOWEST = 7
"""Of the frequencies of a frame, the one from which loudness counts: 219 Hz, above wind."""
LASTING = 10
"""Seconds for which something must be wrong before he is told."""
KNOWN_FROM = 3
"""Utterances that must have been his for sure before it is known how loud he usually is."""


@dataclass(frozen=True, slots=True)
class Found:
    """Somebody seems to have said something; he may go on, and then it is found anew."""

    at: datetime
    seconds: float


@dataclass(frozen=True, slots=True)
class Caught:
    """An utterance, from `begin` to `end` in seconds of the sound, and what became of it."""

    begin: float
    end: float
    heard: str
    entries: tuple[BookEntry, ...]
    """What it changed, then what it brought."""
    at: datetime
    ignored: str | None = None
    """Why it is not kept."""


@dataclass(frozen=True, slots=True)
class Answered:
    """What is said to him: when it begins, how long it takes, and how long after he ended."""

    words: str
    begin: float
    seconds: float
    after: float | None = None
    question: bool = False


@dataclass(frozen=True, slots=True)
class Stopped:
    """He cut in, and the answer ended."""

    at: float


@dataclass(frozen=True, slots=True)
class SoFar:
    """What he is saying."""

    words: str


@dataclass(frozen=True, slots=True)
class Loudness:
    """In decibels against full scale, once a second."""

    decibels: float
    seconds: float
    """Of sound so far."""


@dataclass(frozen=True, slots=True)
class Warned:
    """Something that he should know, or put right."""

    words: str


Event = Found | Caught | Answered | Stopped | SoFar | Loudness | Warned


class Cuts(Protocol):
    """The cut list that is walked through."""

    def walk(self, at: datetime) -> CutWalk:
        """The list as it is at that moment."""
        ...

    def one_more(self, at: datetime) -> None:
        """Notes that one more piece is cut."""
        ...


class Words(Protocol):
    """Words while they are being said."""

    ended: bool
    """Whether by the words it is over."""

    def begin(self) -> None: ...

    def feed(self, sound: Samples) -> str: ...


@dataclass(slots=True)
class Session:
    """What a session needs."""

    desk: Desk
    microphone: Microphone
    speaker: Speaker
    doing: Doing
    """Hears; `Beside` for a microphone."""
    speaking: Doing
    """Makes the sound of answers."""
    ear: Ear
    voice: Voice | None = None
    """None answers by beeps."""
    silent: bool = False
    """Answers nothing at all."""
    greets: bool = True
    """Says when he may begin, and learns by it how loud its own voice comes back. A recording is
    not greeted, and no voice comes back into it."""
    cuts: Cuts | None = None
    shorter: Fraction | None = None
    """Inches by which a piece is cut shorter than measured; said with each measure then."""
    words: Words | None = None
    judgement: Judgement = SHIPPED
    """Of what is heard; the one that the ear has."""
    record: Callable[[Sound, datetime], None] | None = None
    """Where all the sound goes, if it is to be kept; but for what is said while paused."""
    on_event: Callable[[Event], None] = lambda event: None


@dataclass(slots=True)
class _Utterance:
    """One on its way through the steps; `begin` and `end` are samples of the sound."""

    begin: int
    end: int
    at: datetime
    level: float
    file: Path | None
    context: Context
    """What it is read in."""
    promise: Promise[HeardUtterance | Unheard]
    heard: HeardUtterance | None = None
    after: Conversation | None = None
    """How the conversation stands after it; None until it is heard."""
    acts: tuple[Act, ...] = ()
    soon: bool = False
    """It is plainly complete: he need not wait for a longer pause."""
    asks: bool = False
    """The answer is a question, and that can wait for a longer pause."""
    answered: bool = False


@dataclass(slots=True)
class _ToSay:
    words: str
    since: float
    """When what it answers ended, in seconds of the sound."""
    of: _Utterance | None
    sound: Promise[tuple[Samples, int]]


def listen(session: Session) -> None:
    """Listens until the microphone ends or is closed, and keeps all that was said by then.

    Raises `ServiceError` where another one listens into this book already.
    """
    with service.open_spool(session.desk) as spool:
        session.ear.wake()
        loop = _Loop(session, spool)
        try:
            loop.run()
        finally:
            session.doing.close()
            session.speaking.close()


class _Loop:
    def __init__(self, session: Session, spool: Spool) -> None:
        self._s, self._desk, self._spool = session, session.desk, spool
        self._floor = Floor(session.speaker, None if session.greets else UNHEARD_ECHO)
        self._cutter = Cutter(nearest=True)
        self._conditioner, self._meter = Conditioner(), Meter()
        self._raw, self._clear = Track[np.int16](), Track[np.float32]()
        self._waiting = np.zeros(0, np.float32)  # conditioned, less than a frame
        self._anchor: tuple[int, datetime] = (0, datetime.now(UTC))
        self._open: _Utterance | None = None  # he may still go on
        self._due: deque[_Utterance] = deque()  # over, in order
        self._to_say: _ToSay | None = None
        self._outdated: list[Path] = []  # beginnings of what he is still saying
        self._answerer: Conversation | None = None  # whose answer is heard
        self._samples = 0  # that came
        self._heard = 0  # and of which it is known whose they are
        self._usual: deque[float] = deque(maxlen=15)  # how loud he was when it was he for sure
        self._warned: dict[str, float] = {}
        self._wrong: tuple[str | None, int] = (None, 0)  # and for how many seconds
        self._to_warn: deque[str] = deque()  # aloud, once nothing else is to be said
        self._answered = -STALE  # when the last answer had ended
        self._cut_in_at: float | None = None  # the beginning of what he was saying then
        self._told = 0.0
        self._paused_at = 0.0  # or when he was last told that it is
        self._told_noise = False
        self._zone = ZoneInfo(session.desk.job.zone)
        self._talk = Conversation(session.desk.vocabulary)

    # --- the sound ----------------------------------------------------------------------------

    def run(self) -> None:
        # Ctrl-C ends the listening; what was said by then is still kept.
        stopped = True
        with suppress(KeyboardInterrupt):
            self._listen()
            stopped = False
        self._take(self._conditioner.end())
        self._break_off()
        while self._due:
            self._settle(self._due.popleft())
        self._throw_away()
        if self._s.doing.live and not stopped:
            self._end_answering()

    def _end_answering(self) -> None:
        """Lets the last answer be heard when the sound is over."""
        if self._to_say is not None:
            self._to_say.sound.result()
            self._speak()
        until = time.monotonic() + STALE
        while self._s.speaker.playing and time.monotonic() < until:
            time.sleep(0.05)

    def _listen(self) -> None:
        begun = False
        for block in self._s.microphone.blocks():
            if block.lost:
                self._break_off()
                # What he may have said against it meanwhile was not heard: no silence accepts it.
                self._talk.answered(self._moment(self._samples), whole=False)
            self._anchor = (self._raw.end, block.at)
            if not begun:
                begun = True
                self._begin(block.at)
            if self._s.record is not None and not self._talk.paused:
                self._s.record(block.sound, block.at)
            self._meter.feed(block.sound)
            self._raw.add(block.sound)
            self._take(self._conditioner.feed(block.sound))
            self._tell_loudness()

    def _break_off(self) -> None:
        """Ends what is being said where the sound ends."""
        said = self._cutter.end()
        if said is not None:
            self._ended(said)
        self._gone_on()

    def _begin(self, at: datetime) -> None:
        """What an earlier session caught and did not keep comes first; then he is told to speak."""
        for left in service.left_over(self._desk):
            self._keep_left_over(left)
        self._talk = Conversation(
            self._desk.vocabulary,
            service.context_today(self._desk, at),
            aloud=self._s.voice is not None,
            kept=service.entries_today(self._desk, at),
            shorter=self._s.shorter,
        )
        # How loud he is by this microphone was learned on other days too.
        if self._s.greets:
            self._usual.extend(service.loudness(self._desk, self._s.microphone.name))
        place = self._talk.context.place
        if self._s.greets:
            self._say(f"listening, {place}" if place else "listening", "resumed", self._now, None)

    def _take(self, sound: Conditioned) -> None:
        self._clear.add(sound.for_hearing)
        finding = np.concatenate([self._waiting, sound.for_finding])
        whole = len(finding) - len(finding) % FRAME
        self._waiting = finding[whole:]
        for frame in finding[:whole].reshape(-1, FRAME):
            self._frame(frame)

    def _frame(self, frame: Samples) -> None:
        self._samples += FRAME
        was_answering = self._floor.answering
        his, cut_in = self._floor.hear(frame)
        if cut_in:
            self._cut_in()
            self._s.on_event(Stopped(self._now))
        elif was_answering and not self._floor.answering:
            self._answer_ended(whole=True)
        for one in his:
            self._heard += FRAME
            was_silent = self._cutter.begun is None
            for stretch in self._cutter.feed(one):
                self._ended(stretch)
            self._show_words(was_silent)
        self._look()

    def _cut_in(self) -> None:
        """Who cuts in twice while the same utterance is answered is our own voice, turned up: in
        the middle of an utterance nobody could tell it by its words."""
        said = self._cutter.begun
        if said is not None and said == self._cut_in_at:
            self._floor.was_own_voice()
        self._cut_in_at = said
        self._answer_ended(whole=False)

    def _show_words(self, was_silent: bool) -> None:
        begun, words = self._cutter.begun, self._s.words
        if begun is None or words is None:
            return
        since = self._heard - FRAME
        if was_silent:
            words.begin()
            since = _samples(begun)
        self._s.on_event(SoFar(words.feed(self._clear.part(since, self._heard))))

    def _look(self) -> None:
        """What can be done by now."""
        said = self._cutter.so_far()
        if said is not None:
            if self._open is None or self._open.end != _samples(said.end):
                self._gone_on()
                self._open = self._caught(said)
        elif self._open is not None:
            self._gone_on()
        while self._due and self._due[0].promise.ready(self._now):
            self._settle(self._due.popleft())
        one = self._open
        if one is not None and not self._due and one.promise.ready(self._now):
            self._understand(one)
            self._answer(one)
        self._speak()
        if self._cutter.begun is None and not self._due and not self._floor.answering:
            self._let_stand(self._moment(self._samples))

    # --- an utterance, step by step -------------------------------------------------------------

    def _caught(self, said: Stretch) -> _Utterance:
        """Its sound is on the disk before anything else is done with it."""
        begin, end = _samples(said.start), _samples(said.end)
        at = self._moment(begin)
        file = None if self._talk.paused else self._put(begin, end, at)
        self._throw_away()
        clear = self._clear.part(begin, end)
        context = replace(self._talk.context, at=self._local(at))
        task = Said(clear, context)
        promise = self._s.doing.start(self._now, lambda: self._s.ear.hear(task))
        self._s.on_event(Found(at, (end - begin) / RATE))
        return _Utterance(
            begin, end, at, _loudness(self._raw.part(begin, end)), file, context, promise
        )

    def _put(self, begin: int, end: int, at: datetime) -> Path | None:
        """Its file in the spool; None where the disk refuses, and then he is told so."""
        try:
            with refusing():
                return self._spool.put(self._raw.part(begin, end), at)
        except ServiceError as error:
            self._warn(f"what you say is not kept: {error}", aloud=True, again=LOST_AGAIN)
            return None

    def _gone_on(self) -> None:
        """He did not end where it seemed that he had."""
        one, self._open = self._open, None
        if one is None:
            return
        if one.file is not None:
            self._outdated.append(one.file)
        if self._to_say is not None and self._to_say.of is one:
            self._to_say = None
        if one.after is not None and self._answerer is one.after and self._floor.answering:
            self._floor.stop()

    def _throw_away(self) -> None:
        """Beginnings of what is now on the disk as a whole."""
        while self._outdated:
            self._spool.done(self._outdated.pop())

    def _ended(self, said: Stretch) -> None:
        one = self._open
        if one is None or one.end != _samples(said.end):
            self._gone_on()
            one = self._caught(said)
        self._open = None
        self._due.append(one)

    def _understand(self, one: _Utterance) -> None:
        """What it means, as far as the conversation has come; changes nothing yet."""
        if one.after is not None:
            return
        outcome = self._heard_or_nothing(one.promise.result(), one.end - one.begin)
        if outcome.utterance.hearings and one.context != (
            now := replace(self._talk.context, at=one.context.at)
        ):
            # Something before it was still being heard when it was caught.
            outcome = read_heard(outcome.utterance, self._desk.vocabulary, now, self._s.judgement)
        one.heard, one.after = outcome, self._talk.copy()
        one.after.context = replace(one.after.context, at=one.context.at)
        level = one.level - float(np.median(self._usual)) if self._knows_him else None
        # Without the air around it: what comes back of an answer does not begin before it.
        air = timedelta(seconds=AIR)
        begun, ended = one.at + air, self._moment(one.end) - air
        one.acts = one.after.hear(Heard(outcome, begun, ended, level))
        one.asks = any(isinstance(act, acts.Ask) for act in one.acts)
        one.soon = not one.asks and not _hangs(outcome)

    def _settle(self, one: _Utterance) -> None:
        """It is over: into the book with it."""
        self._understand(one)
        assert one.heard is not None and one.after is not None
        self._answer(one)
        self._talk = one.after
        entries: tuple[BookEntry, ...] = ()
        ignored = None
        for act in one.acts:
            match act:
                case acts.Accept(ids):
                    self._accept(ids)
                case acts.Keep(reading):
                    entries = self._kept(one, reading)
                case acts.Ignore(why):
                    ignored = why
                    if why == OWN_VOICE:
                        self._floor.was_own_voice()
                    if one.file is not None:
                        self._spool.done(one.file)
                case acts.Do("cut done") if self._s.cuts is not None:
                    self._s.cuts.one_more(one.at)
                case _:
                    pass  # said already, or done with the keeping
        if one.heard.reading.entries and not any(entry.open for entry in entries) and entries:
            self._usual.append(one.level)
            if self._s.greets:
                service.note_loudness(self._desk, self._s.microphone.name, tuple(self._usual))
        begin, end = one.begin / RATE, one.end / RATE
        text = _text(one.heard.utterance)
        self._s.on_event(Caught(begin, end, text, entries, one.at, ignored))

    def _kept(self, one: _Utterance, reading: Reading) -> tuple[BookEntry, ...]:
        """The entries that the book has now; none where it refuses, and then the sound waits."""
        assert one.heard is not None and one.after is not None
        file = one.file or self._put(one.begin, one.end, one.at)
        if file is None:
            return ()
        decision = next((found for found in map(_decision, one.acts) if found is not None), None)
        try:
            entries = service.keep_utterance(
                self._desk, file, one.at, one.heard.utterance, reading, decision
            )
        except ServiceError as error:
            words = f"what you said waits beside the book: {error}"
            self._warn(words, aloud=True, again=LOST_AGAIN)
            return ()
        one.after.stored([entry.id for entry in entries])
        return entries

    def _keep_left_over(self, left: service.LeftOver) -> None:
        sound = self._spool.sound(left.path)
        conditioner = Conditioner()
        clear = [conditioner.feed(sound).for_hearing, conditioner.end().for_hearing]
        context = service.context_today(self._desk, left.at)
        said = self._s.ear.hear(Said(np.concatenate(clear), context))
        outcome = self._heard_or_nothing(said, len(sound))
        heard, reading = outcome.utterance, outcome.reading
        made = service.keep_utterance(
            self._desk, left.path, left.at, heard, reading, begun=left.begun
        )
        self._s.on_event(Caught(0.0, 0.0, _text(heard), made, left.at, "caught before, kept now"))

    def _heard_or_nothing(self, outcome: HeardUtterance | Unheard, samples: int) -> HeardUtterance:
        """What was heard; of what could not be heard, which is said, there is only its length."""
        if isinstance(outcome, HeardUtterance):
            return outcome
        self._warn(f"something was not heard: {outcome.why}")
        return HeardUtterance(Utterance(0.0, samples / RATE, ()), Reading())

    def _let_stand(self, now: datetime) -> None:
        """What silence decides."""
        for act in self._talk.passed(now):
            if isinstance(act, acts.Accept):
                self._accept(act.ids)

    def _accept(self, ids: tuple[int, ...]) -> None:
        try:
            service.decide_by_ear(self._desk, service.LetStand(ids))
        except ServiceError as error:  # It stays as it was heard, and is only not accepted.
            self._warn(str(error))

    # --- the answer -----------------------------------------------------------------------------

    def _answer(self, one: _Utterance) -> None:
        if one.answered:
            return
        one.answered = True
        since = one.end / RATE - AIR
        for act in one.acts:
            match act:
                case acts.Say(words, sign):
                    self._say(words, sign, since, one)
                case acts.Ask(_, words):
                    self._say(words, "doubtful", since, one)
                case acts.Do(command) if command in _OF_CUTS:
                    self._say(self._of_cuts(command, one.at), "kept", since, one)
                case _:
                    pass

    def _of_cuts(self, command: Command, at: datetime) -> str:
        walk = self._s.cuts.walk(at) if self._s.cuts is not None else CutWalk()
        match command:
            case "cut list":
                return walk.say_list()
            case "left to cut":
                return walk.say_left()
            case "cut done":
                return walk.one_more().say_next()
            case _:
                return walk.say_next()

    def _say(self, words: str, sign: Beep, since: float, of: _Utterance | None) -> None:
        """Prepares an answer; it is given when nobody speaks. One that still waits gives way."""
        if self._s.silent:
            return
        voice = self._s.voice

        def sound() -> tuple[Samples, int]:
            try:
                return beep(sign) if voice is None else voice.say(words)
            except VoiceError:
                return beep(sign)

        promise = self._s.speaking.start(self._now, sound)
        self._to_say = _ToSay(words, since, of, promise)

    def _speak(self) -> None:
        """Gives the answer that waits, if it is made and nobody speaks."""
        if self._to_say is None and self._to_warn and self._may_warn():
            self._say(self._to_warn[0], "not understood", self._now, None)
        what = self._to_say
        if what is None or self._floor.answering or not what.sound.ready(self._now):
            return
        if self._now - what.since > STALE:
            self._to_say = None
            self._talk.unsaid()
            return
        one = what.of
        waits = one is not None and one is self._open
        if one is not None and waits and not self._is_over(one):
            return
        if self._cutter.begun is not None and not waits:
            return
        self._to_say = None
        if self._to_warn and what.words == self._to_warn[0]:
            self._to_warn.popleft()
        sound, rate = what.sound.result()
        if not len(sound):
            return
        self._answerer = one.after if one is not None and waits else self._talk
        if self._answerer is not None:
            self._answerer.answering(what.words, self._moment(self._samples))
        self._floor.say(sound, rate)
        after = self._now - what.since if what.of is not None else None
        seconds = len(sound) / rate
        asks = one is not None and one.asks
        self._s.on_event(Answered(what.words, self._now, seconds, after, asks))

    def _may_warn(self) -> bool:
        """Whether nobody speaks, and nothing is being answered or may be put right any more."""
        since = self._now - self._answered
        replied = self._talk.question is None and since > REPLACES_WITHIN.total_seconds()
        busy = self._cutter.begun is not None or self._due or self._floor.answering
        return replied and not busy

    def _is_over(self, one: _Utterance) -> bool:
        """Whether he has hardly more to say: by what was understood, or by the words alone."""
        words_ended = self._s.words is not None and self._s.words.ended
        return self._cutter.silent_for >= SOON and (one.soon or (words_ended and not one.asks))

    def _answer_ended(self, whole: bool) -> None:
        self._answered = self._now
        if self._answerer is not None:
            at = self._moment(self._samples) - (timedelta(seconds=TAIL) if whole else timedelta())
            self._answerer.answered(at, whole=whole)
            self._answerer = None

    # --- around it ------------------------------------------------------------------------------

    @property
    def _now(self) -> float:
        """Seconds of the sound so far."""
        return self._samples / RATE

    def _moment(self, sample: int) -> datetime:
        begun, at = self._anchor
        return at + timedelta(seconds=(sample - begun) / RATE)

    def _local(self, at: datetime) -> datetime:
        return at.astimezone(self._zone).replace(tzinfo=None)

    @property
    def _knows_him(self) -> bool:
        return len(self._usual) >= KNOWN_FROM

    def _tell_loudness(self) -> None:
        if self._now - self._told < 1.0:
            return
        self._told = self._now
        self._s.on_event(Loudness(self._meter.level, self._now))
        warning = self._meter.warning
        self._wrong = (warning, self._wrong[1] + 1 if warning == self._wrong[0] else 1)
        if warning is not None and self._wrong[1] >= LASTING:
            self._warn(warning, aloud=True)
        if (noise := self._conditioner.noise) is not None and not self._told_noise:
            self._told_noise = True
            windy = ", and wind" if noise.windy else ""
            self._s.on_event(Warned(f"noise of the place: {noise.floor:.0f} dB{windy}"))
        if not self._talk.paused:
            self._paused_at = self._now
        elif self._now - self._paused_at > STILL_PAUSED:
            self._paused_at = self._now
            self._say("still paused", "paused", self._now, None)

    def _warn(self, words: str, aloud: bool = False, again: float | None = None) -> None:
        again = AGAIN if again is None else again
        if self._now - self._warned.get(words, -again) < again:
            return
        self._warned[words] = self._now
        self._s.on_event(Warned(words))
        if aloud:
            self._to_warn.append(words)


_OF_CUTS: frozenset[Command] = frozenset({"cut list", "left to cut", "cut done", "next cut"})


def _decision(act: Act) -> service.Decision | None:
    match act:
        case acts.Drop(id):
            return service.Drop(id)
        case acts.Replace(id, by, said, doubts):
            return service.Replace(id, by, said, doubts)
        case acts.Settle(id, by, said):
            return service.Settle(id, by, said)
        case acts.KeepBoth():
            return service.KeepBoth()
        case _:
            return None


def _hangs(heard: HeardUtterance) -> bool:
    """Whether it may well go on: "eleven", "at", "north eave and"."""
    words = plain_words(_text(heard.utterance))
    return bool(words) and (words[-1] in _HANGING or _whole_number(words))


def _whole_number(words: Sequence[str]) -> bool:
    """Whether the words end in a number that a fraction may follow."""
    last = words[-1]
    return (last in NUMBER_WORDS and last not in _ENDS) or (is_written(last) and "/" not in last)


_HANGING = frozenset("and at by of to the a an minus plus with for on in from uh um".split())
_ENDS = frozenset(
    "half quarter quarters eighth eighths sixteenth sixteenths third thirds heavy light".split()
)


def _text(utterance: Utterance) -> str:
    """The words of the hearing that stands."""
    return utterance.hearings[0].text if utterance.hearings else ""


def _samples(seconds: float) -> int:
    return round(seconds * RATE)


def _loudness(sound: Sound) -> float:
    """Decibels of its louder frames, which are the voice's, without wind; nothing is lifted in it,
    so that one further off is softer."""
    whole = len(sound) - len(sound) % FRAME
    frames = sound[:whole].reshape(-1, FRAME) / 32768
    if not len(frames):
        return -100.0
    spectrum = np.abs(np.fft.rfft(frames * np.hanning(FRAME), axis=1)) ** 2
    power = spectrum[:, LOWEST:].sum(axis=1) / FRAME**2
    return float(np.quantile(10 * np.log10(power + 1e-12), 0.85))
