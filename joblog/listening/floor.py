"""Who has the floor: the person always, and the answer only while nobody speaks.

While an answer is heard the microphone hears it too. Its sound is known, and how loud it comes
back is learned from the first one on; only what is clearly louder than that, and is speech, is the
person, and then the answer stops at once. All else is silence for what finds speech, which is told
of every frame a little later then: so that his first sounds, when it is clear that they are his,
are still to be had.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from joblog.audio.decode import RATE, Samples
from joblog.audio.speaker import Speaker
from joblog.audio.voice import FRAME, SpeechJudge

TAIL = 0.3
"""Seconds after an answer in which its echo, and what the loudspeaker still holds, may come."""
SPREAD = 12
"""Frames, 0.4 s, over which the sound of an answer may come back."""
ABOVE_ECHO, ABOVE_NOISE = 6.0, 8.0
"""Decibels by which a person must be louder than the echo expected, and than the noise."""
SPEECH = 0.6
"""How likely it must be speech at all."""
CERTAIN, AMONG = 3, 6
"""So many of the last frames, a fifth of a second, must be his before an answer is stopped."""
HELD = 25
"""Frames, 0.8 s, that are held back while an answer is heard."""
ONSET = 3
"""Frames before the first loud one in which a word may begin softly."""
LOUD = -35.0
"""Decibels below full scale above which a frame of the answer tells how loud it comes back."""
FIRST_GUESS = 0.0
"""Decibels of echo before any was heard: as loud as it was played."""


class Floor:
    """Listens frame by frame: gives what is the person's, and says when he cuts in."""

    def __init__(self, speaker: Speaker, echo: float | None = None) -> None:
        """`echo` as below, where it is known from the beginning."""
        self._speaker = speaker
        self._judge: SpeechJudge | None = None
        self._answer: list[float] = []  # decibels of its frames
        self._at = 0  # frames since it began
        self._left = 0  # frames for which it may still be heard
        self._his: deque[bool] = deque(maxlen=AMONG)
        self._held: deque[tuple[Samples, bool]] = deque()  # frames, and whether they may be his
        self._noise = -60.0
        self._echo: list[float] = []
        self._came: deque[float] = deque([] if echo is None else [echo], maxlen=4)
        self.echo = echo
        """Decibels by which an answer comes back softer, or louder, than it was played."""

    @property
    def answering(self) -> bool:
        """Whether an answer, or its echo, may be in what is heard."""
        return self._left > 0

    def say(self, sound: Samples, rate: int) -> None:
        """Begins an answer; `sound` is mono, -1 to 1."""
        step = FRAME * rate // RATE
        frames = [sound[at : at + step] for at in range(0, len(sound), step)]
        self._answer = [decibels(frame) for frame in frames]
        self._at, self._echo = 0, []
        self._his.clear()
        self._left = len(frames) + round(TAIL * RATE / FRAME)
        self._judge = self._judge or SpeechJudge()
        self._speaker.play(sound, rate)

    def stop(self) -> None:
        """Ends the answer at once; its echo may still come for a moment."""
        self._speaker.stop()
        self._left = min(self._left, round(TAIL * RATE / FRAME))

    def hear(self, frame: Samples) -> tuple[list[Samples], bool]:
        """What is to be listened to now, in frames of FRAME samples as they came, each of them
        once; silence where it is not his. And whether he just cut in."""
        level = decibels(frame)
        if not self._left:
            # The softest of the last seconds, rising slowly.
            self._noise = min(level, self._noise + 0.05) if level > -90 else self._noise
            return [frame], False
        self._left -= 1
        self._at += 1
        probability = self._judge.of(frame) if self._judge else 0.0
        expected = max(self._answer[max(0, self._at - SPREAD) : self._at], default=-90.0)
        louder = level > max(expected + self._comes_back() + ABOVE_ECHO, self._noise + ABOVE_NOISE)
        self._his.append(louder and probability >= SPEECH)
        self._held.append((frame, louder))
        if expected > LOUD:
            self._echo.append(level - expected)
        if sum(self._his) >= CERTAIN:
            self.stop()
            self._left = 0
            return self._released(), True
        if not self._left:
            self._learn()
            return self._released(), False
        return [_silence(self._held.popleft()[0])] if len(self._held) > HELD else [], False

    def _released(self) -> list[Samples]:
        """What was held back: his from his first sounds on, and silence before."""
        flags = [louder for _, louder in self._held]
        quiet = next((at for at in reversed(range(len(flags))) if not any(flags[at : at + 3])), -1)
        begins = max(0, quiet + 1 - ONSET) if any(flags[quiet + 1 :]) else len(flags)
        held = [
            frame if at >= begins else _silence(frame) for at, (frame, _) in enumerate(self._held)
        ]
        self._held.clear()
        return held

    def _comes_back(self) -> float:
        """Decibels of the echo, as far as it is known by now."""
        if self.echo is not None:
            return self.echo
        return float(np.quantile(self._echo, 0.9)) if len(self._echo) >= 10 else FIRST_GUESS

    def _learn(self) -> None:
        """How loud the answer that is over came back.

        A hammer or a radio meanwhile makes it look louder, nothing makes it look softer: so the
        softest of the last few counts.
        """
        if len(self._echo) >= 10:
            self._came.append(float(np.quantile(self._echo, 0.9)))
            self.echo = min(self._came)

    def was_own_voice(self) -> None:
        """Who cut in was nobody: the answer comes back louder than was thought, from now on."""
        if self._echo:
            self.echo = float(np.quantile(self._echo, 0.9))
            self._came.clear()
            self._came.append(self.echo)


def _silence(frame: Samples) -> Samples:
    return np.zeros(len(frame), np.float32)


def decibels(sound: Samples) -> float:
    """Loudness against full scale; -100 and softer is -100."""
    power = float(np.mean(np.square(sound))) if len(sound) else 0.0
    return max(-100.0, 10 * float(np.log10(power + 1e-12)))
