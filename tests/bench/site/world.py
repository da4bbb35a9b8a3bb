"""The air of the site while something listens there: its microphone, its speaker, the person.

What the speaker plays comes back into the microphone, late, softer and with the room in it. The
person says what the day has planned, waits for read-backs or talks over them, and is logged with
the times at which he truly spoke. Time is the sound's time: it runs as fast as a clock while
anybody speaks or is being answered, and is skipped where nothing is going on, so that latencies
are those of a day that takes a day.
"""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import psutil
from numpy.typing import NDArray

from joblog.audio.decode import RATE, Samples
from tests.bench.site.noises import Bed, loud
from tests.bench.site.voices import Say, far, say
from tests.bench.site_day import Day, Said, to_json, words_of

try:
    from joblog.audio.microphone import Block
except ImportError:

    @dataclass(frozen=True, slots=True)
    class Block:  # type: ignore[no-redef]
        """Stands in until the microphone's room is there."""

        sound: NDArray[np.int16]
        at: datetime
        lost: bool = False


BEGUN = datetime(2026, 10, 5, 11, 0, tzinfo=UTC)
"""Seven in the morning in New York."""
BLOCK = 800
"""Samples of a block: 50 ms."""
SPEAKERS = {"earpiece": None, "belt": -25.0, "loudspeaker": -6.0}
"""How loud the microphone hears what is played, in dB; None for not at all."""
AT_WORK = 4.0
"""Seconds that whatever listens may take over what it found."""
PATIENCE = 6.0
"""Seconds for which the person waits for an answer before he goes on."""
NOT_SAID = (-1.0, -1.0)
_NOTHING = np.zeros(0, np.float32)


class Log:
    """Lines of JSON in a file, each there for good once it is written."""

    def __init__(self, path: Path) -> None:
        self._file = path.open("a", encoding="utf-8", buffering=1)
        self._lock = threading.Lock()

    def __call__(self, what: str, **more: Any) -> None:
        with self._lock:
            self._file.write(json.dumps({"what": what, **more}) + "\n")

    def close(self) -> None:
        self._file.close()


@dataclass
class Play:
    """Something that the speaker played: seconds from the day's start."""

    start: float
    end: float
    """When it ended, or would end if nobody stops it."""
    whole: float
    """Seconds it is long."""
    sound: Samples


class Site:
    """Microphone, speaker and clock of one run, from `begin` seconds of the day on.

    `already` is who said what when before, in a run that was killed. `kill_at` is the second at
    which this process dies of SIGKILL. `pace` False never waits, for tests.
    """

    name = "the site's microphone"

    def __init__(
        self,
        day: Day,
        log: Log,
        bed: Callable[[], NDArray[np.int16]],
        *,
        begin: int = 0,
        already: dict[int, tuple[float, float]] | None = None,
        speaker: str = "belt",
        position: Path | None = None,
        kill_at: float | None = None,
        pace: bool = True,
        say: Say = say,
        aside: Sequence[int] = (),
    ) -> None:
        self._day, self._log, self._bed, self._say = day, log, bed, say
        self._echo, self._pace, self._kill_at = SPEAKERS[speaker], pace, kill_at
        self._chance = random.Random(f"{day.seed} {begin}")
        self._sample = begin * RATE
        self._anchor = (begin * 1.0, time.monotonic())
        self._lock = threading.RLock()
        self._plays: list[Play] = []
        self._questions: list[float] = []
        self._waiting = list(day.said)
        self._spoken: dict[int, tuple[float, float]] = dict(already or {})
        self._speaking: list[tuple[int, Samples]] = []  # first sample, and what is said
        self._working_until = 0.0
        self._closed = False
        self._position = os.open(position, os.O_WRONLY | os.O_CREAT) if position else None
        self._costs = Costs(log, aside)
        log("begun", at=begin, echo=self._echo)
        self._talk = [(one.at, one.end) for one in day.around if one.text]

    # --- the clock

    def seconds(self) -> float:
        """Seconds of the day so far."""
        with self._lock:
            sound, wall = self._anchor
            return sound + (time.monotonic() - wall if self._pace else 0.0)

    @property
    def paced(self) -> bool:
        """Whether time passes as it does while something goes on."""
        return self._pace

    def clock(self) -> datetime:
        return BEGUN + timedelta(seconds=self.seconds())

    # --- the microphone

    def blocks(self) -> Iterator[Block]:
        """What is heard, to the end of the day, or until `close`."""
        rest = np.zeros(0, np.int16)
        lost = False
        while not self._closed and self._sample < self._day.seconds * RATE:
            began = time.thread_time()
            while len(rest) < BLOCK:
                rest = np.concatenate([rest, self._bed()])
            under, rest = rest[:BLOCK], rest[BLOCK:]
            first, start = self._sample, self._sample / RATE
            self._wait_until(start + BLOCK / RATE)
            sound = self._heard(first, under)
            self._sample += BLOCK
            self._mark(start)
            if any(one <= start < other for one, other in self._day.unplugged):
                lost = True
                continue
            block = Block(sound, BEGUN + timedelta(seconds=start), lost)
            lost = False
            self._costs.mine += time.thread_time() - began
            yield block
        self._costs.write(self._sample / RATE)

    def close(self) -> None:
        self._closed = True

    # --- the speaker

    def play(self, sound: Samples, rate: int) -> None:
        """Begins to play, in place of what is being played."""
        self.stop()
        samples = np.asarray(sound, np.float32)
        count = round(len(samples) * RATE / rate)
        if rate != RATE:
            old = np.arange(len(samples)) / rate
            samples = np.interp(np.arange(count) / RATE, old, samples).astype(np.float32)
        with self._lock:
            now = self.seconds()
            one = Play(now, now + count / RATE, count / RATE, self._returned(samples))
            self._plays.append(one)
        self._log("play", start=now, whole=one.whole)

    def stop(self) -> None:
        with self._lock:
            now = self.seconds()
            if self._plays and self._plays[-1].end > now:
                one = self._plays[-1]
                one.end = now
                kept = round((now - one.start) * RATE)
                one.sound = one.sound[:kept]
                self._log("stop", start=one.start, end=now)

    @property
    def playing(self) -> bool:
        with self._lock:
            return bool(self._plays) and self._plays[-1].end > self.seconds()

    # --- what the listener tells

    def told(self, what: str, **more: Any) -> None:
        """Logs what the listener reports; "question" also lets the person answer it, and after
        "found" time passes as it does, for something is being made of what was found."""
        with self._lock:
            if what == "question":
                self._questions.append(self.seconds())
            if what == "found":
                self._working_until = self.seconds() + AT_WORK
        self._log(what, now=self.seconds(), **more)

    # --- inside

    def _returned(self, sound: Samples) -> Samples:
        """What of a played sound gets into the microphone, and when."""
        if self._echo is None:
            return _NOTHING
        late = np.zeros(round(self._chance.uniform(0.02, 0.12) * RATE), np.float32)
        return np.concatenate([late, far(sound, self._chance.randrange(1000))]) * np.float32(
            loud(self._echo)
        )

    def _heard(self, first: int, under: NDArray[np.int16]) -> NDArray[np.int16]:
        sound = under.astype(np.float32) / 32768
        with self._lock:
            self._begin_to_speak((first + BLOCK) / RATE)
            for begin, voice in self._speaking:
                _lay(sound, voice, begin - first)
            for one in self._plays[-3:]:
                _lay(sound, one.sound, round(one.start * RATE) - first)
            for one in self._plays[-6:-3]:
                one.sound = _NOTHING  # its time is all that matters of it now
            self._speaking = [
                (begin, voice) for begin, voice in self._speaking if begin + len(voice) > first
            ]
        return np.clip(np.round(sound * 32767), -32768, 32767).astype(np.int16)

    def _begin_to_speak(self, until: float) -> None:
        """Whatever the person begins to say before that second."""
        while self._waiting:
            one = self._waiting[0]
            if one.number in self._spoken:
                self._waiting.pop(0)
                continue
            at = self._when(one, until)
            if at is None or at >= until:
                return
            self._waiting.pop(0)
            if at < 0:
                self._spoken[one.number] = NOT_SAID
                self._log("said", number=one.number, start=-1.0, end=-1.0)
                continue
            # Not before the sound that is being made: a run that was killed goes on after it.
            begin = max(round(at * RATE), self._sample)
            span = (begin / RATE, begin / RATE + one.seconds)
            self._spoken[one.number] = span
            self._speaking.append((begin, words_of(one, self._day.voice, self._say)))
            self._log("said", number=one.number, start=span[0], end=span[1])

    def _when(self, one: Said, now: float) -> float | None:
        """When he says it: a second, -1 for never, None for not known yet."""
        if not one.after:
            # What he would have said while nothing ran is not said later.
            return -1.0 if one.at < now - 1.0 else one.at
        before = self._spoken.get(one.number - 1, NOT_SAID)
        if before == NOT_SAID:
            return -1.0
        ended = before[1]
        answers = [play for play in self._plays if play.start > ended - 0.2]
        match one.after:
            case "gap":
                return ended + one.wait
            case "answer":
                done = [play for play in answers if play.end <= now]
                if answers and not done:
                    return None
                return self._patient(ended, done[-1].end + one.wait if done else None, now)
            case "over":
                return self._patient(ended, answers[0].start + one.wait if answers else None, now)
            case "silence":
                return -1.0 if answers else ended + one.wait if now > ended + one.wait else None
            case "question":
                asked = [
                    play.end
                    for play in answers
                    if any(abs(play.start - question) < 1.0 for question in self._questions)
                ]
                if asked:
                    return asked[-1] + one.wait if asked[-1] <= now else None
                return -1.0 if now > ended + PATIENCE else None
        raise ValueError(one.after)

    @staticmethod
    def _patient(ended: float, at: float | None, now: float) -> float | None:
        if at is not None:
            return at
        return ended + PATIENCE if now >= ended + PATIENCE else None

    def _wait_until(self, end: float) -> None:
        """Lets time pass: as long as it takes where something is going on, at once elsewhere."""
        while self._pace and (left := end - self.seconds()) > 0:
            if not self._busy(end):
                break
            time.sleep(left)
        with self._lock:
            if end > self.seconds():
                self._anchor = (end, time.monotonic())

    def _busy(self, now: float) -> bool:
        if now < self._working_until or (self._kill_at is not None and now >= self._kill_at):
            return True
        with self._lock:
            if self._plays and now < self._plays[-1].end + 4:
                return True
            if self._waiting and not self._waiting[0].after and now > self._waiting[0].at - 0.5:
                return True
            last = max((end for _, end in self._spoken.values()), default=NOT_SAID[1])
            if now < last + PATIENCE + 0.5:
                return True
        while self._talk and self._talk[0][1] + 2.5 < now:
            self._talk.pop(0)
        return any(start - 0.2 < now < end + 2.5 for start, end in self._talk[:3])

    def _mark(self, start: float) -> None:
        if self._position is not None:
            os.pwrite(self._position, f"{start:12.2f}".encode(), 0)
        self._costs.at(start)
        if self._kill_at is not None and start >= self._kill_at:
            self._log("killed", at=start)
            self._kill_at = float("inf")
            wait = self._chance.uniform(0.0, 0.25)
            threading.Timer(wait, os.kill, (os.getpid(), signal.SIGKILL)).start()


def _lay(sound: Samples, over: Samples, begin: int) -> None:
    """Adds one sound to another, from its sample `begin` on, which may lie before its first."""
    first, last = max(begin, 0), min(begin + len(over), len(sound))
    if first < last:
        sound[first:last] += over[first - begin : last - begin]


class Costs:
    """What this process and those that it started have cost, once a minute of sound."""

    def __init__(self, log: Log, aside: Sequence[int]) -> None:
        self._log, self._aside = log, set(aside)
        self._next = 0.0
        self._me = psutil.Process()
        self.mine = 0.0
        """CPU seconds that the site itself took."""

    def at(self, seconds: float) -> None:
        if seconds >= self._next:
            self.write(seconds)
            self._next = (seconds // 60 + 1) * 60

    def write(self, seconds: float) -> None:
        cpu, memory = -self.mine, 0
        for one in (self._me, *self._me.children(recursive=True)):
            if one.pid in self._aside:
                continue
            try:
                times = one.cpu_times()
                cpu += times.user + times.system
                memory += one.memory_info().rss
            except psutil.Error:
                continue
        self._log("cost", at=seconds, wall=time.monotonic(), cpu=cpu, memory=memory)


class Piped:
    """The noises of a day, made by a process of their own so that their cost is nobody else's."""

    def __init__(self, day: Day, begin: int, folder: Path) -> None:
        plan = folder / "plan.json"
        if not plan.exists():
            plan.write_text(to_json(day), encoding="utf-8")
        command = [sys.executable, "-m", "tests.bench.site_day", "--raw", str(plan)]
        environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        self._process = subprocess.Popen(
            [*command, "--begin", str(begin)], stdout=subprocess.PIPE, env=environment
        )
        self.pid = self._process.pid

    def __call__(self) -> NDArray[np.int16]:
        out: BinaryIO = self._process.stdout  # type: ignore[assignment]
        raw = out.read(RATE * 2)
        if len(raw) < RATE * 2:
            raise RuntimeError("the noises of the site have ended early")
        return np.frombuffer(raw, np.int16)

    def close(self) -> None:
        self._process.kill()
        self._process.wait()


def from_bed(bed: Bed, begin: int = 0) -> Callable[[], NDArray[np.int16]]:
    """The noises of a day, made where they are heard."""
    seconds = iter(range(begin, 1 << 30))
    return lambda: bed.second(next(seconds))
