"""An 8-hour day on a building site as a microphone hears it, made up from a seed.

    python -m tests.bench.site_day --day open [--minutes 480] [--dense 1] [--wav FILE]

prints what happens when; `--wav` writes what the microphone hears, to listen to.

There are two days, with other sentences, another voice (festival kal, piper joe; neither ever
trained our models) and other weather. The OPEN day is for building: whoever works on what listens
may run it, look at it and hear it. The LOCKED day is only counted, at the end and by figures alone:
nobody who works on what listens runs it before, prints its sentences or looks at what went wrong.
Half of the sentences of both are plain lines of the corpus' held-out half, and those are never
shown by any command of this measure, on neither day.

A shorter day is the beginning of the long one. `dense` puts that many times as much speech of the
person into an hour, so that little time tells more; false ones an hour stay what they are.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np

from fixtures.voices import write
from joblog.audio.decode import RATE, Samples
from joblog.dictation import read
from joblog.form import entry_to_json
from tests.bench.corpus import exact, phrases, words
from tests.bench.site import chatter
from tests.bench.site.noises import Bed, Sounding, loud, loudness, without_rumble
from tests.bench.site.sentences import COMMANDS, PAUSE, RESUME, SCRATCH, Line, told
from tests.bench.site.voices import Say, far, say
from tests.bench.spoken.wording import aloud

HOURS = 8.0
VOICE = {"open": "festival kal", "locked": "piper joe"}
SEED = {"open": 1305, "locked": 90117}
NORMAL = -26.0
"""dB below full scale: how loud the person is, but for 6 dB more or less."""
LEAST, MOST = 5.0, 30.0
"""dB between the person and what else sounds above 200 Hz: over a saw he shouts."""


@dataclass(frozen=True)
class Said:
    """Something that the person says to the log.

    `after` tells when: "" at `at`; "gap", `wait` seconds after the one before has ended; "answer",
    `wait` seconds after the read-back of the one before has ended; "over", `wait` seconds into that
    read-back; "silence", if nothing has answered the one before for `wait` seconds, else never;
    "question", `wait` seconds after a question about the one before, else never. Where no answer
    comes, "answer" and "over" are said six seconds after the one before.
    """

    number: int
    scene: int
    text: str
    at: float
    """Seconds from the day's start; a guess where `after` says otherwise."""
    seconds: float
    level: float
    """dB below full scale."""
    kind: str = "fact"
    """"fact", "command", "drop", "replace" or "reply"."""
    facts: tuple[dict[str, Any], ...] = ()
    """What stands in the book at the end of the day because of it."""
    after: str = ""
    wait: float = 0.0
    room: int = 0
    """0 for close to the microphone, else which room is around him."""
    gap: float = 0.0
    """Seconds of the pause inside, where there is one."""
    secret: bool = False
    """Its words are shown to nobody."""
    above: float = MOST
    """dB by which he is louder than all else above 200 Hz."""


@dataclass(frozen=True)
class Day:
    """A day, or the beginning of one: what the person says, and all else that sounds."""

    name: str
    seconds: float
    voice: str
    seed: int
    said: tuple[Said, ...]
    around: tuple[Sounding, ...]
    unplugged: tuple[tuple[float, float], ...] = ()
    """From when to when nothing comes from the microphone."""
    scenes: dict[int, str] = field(default_factory=dict)
    """What each scene is: "single", "series", ..."""


def day(name: str, seconds: float = HOURS * 3600, dense: float = 1.0, say: Say = say) -> Day:
    """The first `seconds` of the "open" or the "locked" day."""
    chance = random.Random(SEED[name])
    scenes = _scenes(name, chance)
    cell = HOURS * 3600 / len(scenes) / dense
    planned: list[Said] = []
    kinds: dict[int, str] = {}
    for scene, (kind, steps) in enumerate(scenes[: int(seconds // cell)]):
        kinds[scene] = kind
        planned += _placed(scene, steps, cell, len(planned), VOICE[name], SEED[name], say)
    busy = [(one.at - 8, one.at + one.seconds + 12) for one in planned]
    around = _around(seconds, SEED[name], busy, say)
    bed = Bed(SEED[name], around, say)
    voice = VOICE[name]
    heard = tuple(_loud_enough(one, bed) for one in planned)
    unplugged = tuple(_free(seconds, 20.0, busy, random.Random(SEED[name] + 5), seconds / 14400))
    return Day(name, seconds, voice, SEED[name], heard, around, unplugged, kinds)


def bed_of(day: Day, say: Say = say) -> Bed:
    """All that sounds on that day but the person."""
    return Bed(day.seed, day.around, say)


def words_of(one: Said, voice: str, say: Say = say) -> Samples:
    """How the person says it, as loud as he says it; a tail of the room may follow its end."""
    parts = [say(part.strip(), voice) for part in one.text.split("...")]
    between = np.zeros(round(one.gap * RATE), np.float32)
    dry = np.concatenate([sound for part in parts for sound in (between, part)][1:])
    wet = far(dry, one.room) if one.room else dry
    return wet * np.float32(loud(one.level) / max(loudness(dry), 1e-9))


def to_json(day: Day) -> str:
    return json.dumps(asdict(day))


def from_json(text: str) -> Day:
    row = json.loads(text)
    row["said"] = tuple(Said(**{**one, "facts": tuple(one["facts"])}) for one in row["said"])
    row["around"] = tuple(Sounding(**one) for one in row["around"])
    row["unplugged"] = tuple((start, end) for start, end in row["unplugged"])
    row["scenes"] = {int(scene): kind for scene, kind in row["scenes"].items()}
    return Day(**row)


@dataclass(frozen=True)
class _Step:
    """One thing said in a scene, before it has a time."""

    text: str
    kind: str = "fact"
    facts: tuple[dict[str, Any], ...] = ()
    after: str = "gap"
    wait: float = 1.0
    secret: bool = False


def _scenes(name: str, chance: random.Random) -> list[tuple[str, list[_Step]]]:
    """The day's scenes, in an order without meaning."""
    day = told(name)
    plain = [*map(_once, day.singles), *_corpus_lines(name)]
    chance.shuffle(plain)
    scenes: list[tuple[str, list[_Step]]] = [("paused", [_once(one)]) for one in day.paused]
    for number, row in enumerate(day.series):
        waits = (1.0, 1.5) if number < 2 else (4.5, 6.5)
        steps = [replace(_once(one), wait=chance.uniform(*waits)) for one in row]
        scenes.append(("series", steps))
    scenes.append(("bare series", [replace(_once(one), wait=9.0) for one in day.bare]))
    for one in day.scratched:
        first = replace(_once(one), facts=())
        scratch = _Step(SCRATCH, "drop", after="answer", wait=chance.uniform(0.3, 2.0))
        scenes.append(("scratched", [first, scratch, replace(_once(one), after="answer")]))
    for changes, kind, after, wait in (
        (day.corrected, "corrected", "gap", (2.0, 4.0)),
        (day.repeated, "repeated", "answer", (0.5, 1.8)),
    ):
        for first_line, change, last in changes:
            first = replace(_once(first_line), facts=())
            second = _Step(change, "replace", last.facts, after, chance.uniform(*wait))
            scenes.append((kind, [first, second]))
    for _ in range(4):
        one, other = plain.pop(), replace(plain.pop(), wait=chance.uniform(0.9, 1.5))
        scenes.append(("pair", [one, other]))
        wait = chance.uniform(0.3, 0.9)
        scenes.append(("over", [plain.pop(), replace(plain.pop(), after="over", wait=wait)]))
    for command in (*COMMANDS, *COMMANDS[1:5]):
        scenes.append(("command", [_Step(command, "command")]))
    for _ in range(2):
        again = _Step(RESUME, "command", after="silence", wait=4.0)
        resume = _Step(RESUME, "command", wait=chance.uniform(20.0, 30.0))
        scenes.append(("paused listening", [_Step(PAUSE, "command"), resume, again, again]))
    scenes += [("single", _asked(one, chance)) for one in plain]
    chance.shuffle(scenes)
    return scenes


def _once(one: Line) -> _Step:
    return _Step(one.words, facts=one.facts)


def _asked(one: _Step, chance: random.Random) -> list[_Step]:
    """The sentence and, half of the time, what he answers when its number is asked back."""
    inches = [fact["inches"] for fact in one.facts if fact.get("inches")]
    if len(inches) != 1 or chance.random() < 0.5:
        return [one]
    whole, part = divmod(Fraction(inches[0]), 1)
    number = f"{whole} {part}" if part and whole else str(whole or part)
    return [one, _Step(aloud(number), "reply", after="question", wait=0.7, secret=one.secret)]


def _corpus_lines(name: str) -> Iterator[_Step]:
    """Plain lines of the corpus' held-out half, chosen by rule and without a look at them."""
    vocabulary = words()
    for one in phrases():
        digest = hashlib.sha256(one.text.encode()).digest()
        if not one.held_out or (digest[1] % 2 == 0) != (name == "open"):
            continue
        alone = one.context.last is None and one.context.place is None
        short = len(one.text.split()) <= 12 and not any(sign in one.text for sign in "…\"'/")
        if not (alone and short and len(one.entries) == 1 and one.doubt is False):
            continue
        reading = read(one.text, vocabulary, one.context)
        plain = one.entries[0]["kind"] in ("measure", "used", "delivered", "spoiled", "returned")
        if plain and not reading.doubts and exact(one, reading):
            facts = tuple(map(entry_to_json, reading.entries))
            yield _Step(aloud(one.text), facts=facts, secret=True)


def _placed(
    scene: int,
    steps: Sequence[_Step],
    cell: float,
    first: int,
    voice: str,
    seed: int,
    say: Say,
) -> Iterator[Said]:
    """The scene somewhere in its part of the day, with how loud and where each thing is said."""
    chance = random.Random(seed * 1000 + scene)
    level, room = NORMAL + chance.uniform(-6, 6), chance.choice([0, scene + 1])
    if chance.random() < 0.03:
        level = NORMAL + 14  # with the microphone too close: it clips
    said = []
    at = 0.0
    for number, step in enumerate(steps):
        gap = chance.uniform(0.3, 0.7) if "..." in step.text else 0.0
        one = Said(
            first + number,
            scene,
            step.text,
            at,
            0.0,
            level + chance.uniform(-1, 1),
            step.kind,
            step.facts,
            step.after if number else "",
            step.wait,
            room,
            gap,
            step.secret,
        )
        dry = words_of(replace(one, room=0), voice, say)
        if number:
            one = replace(one, at=at + {"answer": 6.0, "over": 6.0}.get(step.after, step.wait))
        one = replace(one, seconds=len(dry) / RATE)
        at = one.at + one.seconds
        said.append(one)
    begin = scene * cell + chance.uniform(8.0, max(8.0, cell - at - 15.0))
    yield from (replace(one, at=begin + one.at) for one in said)


def _loud_enough(one: Said, bed: Bed) -> Said:
    """As loud as he must be to be 5 to 30 dB above all else."""
    noise = without_rumble(bed.stretch(one.at, one.at + one.seconds))
    under = 20 * np.log10(max(loudness(noise), 1e-6))
    level = float(np.clip(one.level, under + LEAST, under + MOST))
    return replace(one, level=level, above=level - float(under))


def _around(
    seconds: float, seed: int, busy: Sequence[tuple[float, float]], say: Say
) -> tuple[Sounding, ...]:
    """Noises and other people's talk, as they would be over the whole day, as far as it goes."""
    found: list[Sounding] = []
    for kind, (hourly, lasts, level) in _NOISES.items():
        chance = random.Random(f"{seed} {kind}")
        for number in range(round(hourly * HOURS)):
            at, length = chance.uniform(0, HOURS * 3600), chance.uniform(*lasts)
            one = Sounding(kind, at, length, chance.uniform(*level), number)
            # What is lost or torn by such moments was not there to be heard.
            spoils = kind in ("clipping", "dropout", "handling")
            if not (spoils and _meets(busy, one.at, one.end)):
                found.append(one)
    found += _radio(seconds, random.Random(f"{seed} radio"), say)
    for kind, lines, hourly, level in (
        ("passing", chatter.PASSING, 6, (-20, -8)),
        ("neighbour", chatter.NEIGHBOUR, 2, (-3, 0)),
    ):
        chance = random.Random(f"{seed} {kind}")
        for number in range(hourly * round(HOURS)):
            text, voice = chance.choice(lines), chance.choice(chatter.VOICES)
            at, loudest = chance.uniform(0, HOURS * 3600), NORMAL + chance.uniform(*level)
            if at < seconds:
                length = len(say(text, voice)) / RATE
                one = Sounding(kind, at, length, loudest, number + 1, text, voice)
                if kind == "passing" or not _meets(busy, one.at, one.end):
                    found.append(one)
    return tuple(sorted((one for one in found if one.at < seconds), key=lambda one: one.at))


_NOISES: dict[str, tuple[float, tuple[float, float], tuple[float, float]]] = {
    "saw": (20, (4.0, 14.0), (-38, -26)),
    "ripping": (2, (30.0, 150.0), (-40, -30)),
    "compressor": (5, (30.0, 180.0), (-43, -34)),
    "rain": (0.5, (300.0, 1200.0), (-46, -38)),
    "hammering": (10, (3.0, 20.0), (-34, -22)),
    "car": (25, (5.0, 12.0), (-44, -30)),
    "handling": (12, (0.2, 1.0), (-22, -8)),
    "clipping": (3, (0.3, 2.0), (25, 40)),
    "dropout": (8, (0.05, 3.0), (0, 0)),
}
"""How often an hour, for how many seconds, and how loud in dB (of "clipping", how much louder)."""


def _radio(seconds: float, chance: random.Random, say: Say) -> Iterator[Sounding]:
    """A radio somewhere that is on for some minutes now and then: talk, and tunes between."""
    number = 0
    for part in range(12):
        at = (part + chance.random() * 0.8) / 12 * HOURS * 3600
        level = NORMAL - chance.uniform(6, 20)
        off, hosts = at + chance.uniform(120, 360), chance.sample(chatter.VOICES, 2)
        while at < min(off, seconds):
            number += 1
            if chance.random() < 0.12:
                one = Sounding("tune", at, chance.uniform(4, 20), level, number)
            else:
                text, voice = chance.choice(chatter.RADIO), chance.choice(hosts)
                length = len(say(text, voice)) / RATE
                one = Sounding("radio", at, length, level, number, text, voice)
            yield one
            at = one.end + chance.uniform(0.2, 1.5)


def _free(
    seconds: float,
    length: float,
    busy: Sequence[tuple[float, float]],
    chance: random.Random,
    count: float,
) -> Iterator[tuple[float, float]]:
    """Stretches in which the person says nothing."""
    for _ in range(int(count)):
        at = chance.uniform(0, seconds - length)
        if not _meets(busy, at, at + length):
            yield at, at + length


def _meets(stretches: Iterable[tuple[float, float]], start: float, end: float) -> bool:
    return any(start < one_end and one_start < end for one_start, one_end in stretches)


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser("tests.bench.site_day", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--day", choices=tuple(SEED), default="open")
    parser.add_argument("--minutes", type=float, default=HOURS * 60)
    parser.add_argument("--dense", type=float, default=1.0)
    parser.add_argument("--wav", type=Path)
    parser.add_argument("--raw", type=Path, help="a plan; its noises as raw sound, for the measure")
    parser.add_argument("--begin", type=int, default=0, help="the second at which --raw begins")
    asked = parser.parse_args(arguments)
    if asked.raw:
        _write_raw(from_json(asked.raw.read_text("utf-8")), asked.begin)
        return
    made = day(asked.day, asked.minutes * 60, asked.dense)
    for one in sorted((*made.said, *made.around), key=lambda one: one.at):
        print(_told(one, made))
    if asked.wav:
        write(asked.wav, heard(made))


def heard(day: Day, say: Say = say) -> Samples:
    """All of a short day at once, each thing said at the time planned, and nothing answering."""
    bed = bed_of(day, say)
    sound = np.concatenate([bed.second(k) for k in range(int(day.seconds))]) / np.float32(32768)
    for one in day.said:
        if one.after in ("silence", "question"):
            continue
        begin, voice = round(one.at * RATE), words_of(one, day.voice, say)[: len(sound)]
        end = min(begin + len(voice), len(sound))
        sound[begin:end] += voice[: max(end - begin, 0)]
    return np.clip(sound, -1, 1).astype(np.float32)


def _write_raw(day: Day, begin: int) -> None:
    """The noises from that second on, until nobody listens to them any more."""
    bed = bed_of(day)
    with suppress(BrokenPipeError):
        for second in range(begin, int(day.seconds) + 2):
            sys.stdout.buffer.write(bed.second(second).tobytes())
            sys.stdout.buffer.flush()
        return
    # What is left in the buffer could not be written at the end either.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _told(one: Said | Sounding, day: Day) -> str:
    minute = f"{one.at / 60:7.2f}  {one.seconds:5.1f} s {one.level:5.0f} dB  "
    if isinstance(one, Sounding):
        return f"{minute}{one.kind:12} {one.text}"
    hidden = one.secret or day.name == "locked"
    when = f" ({one.after} {one.wait:.1f} s)" if one.after else ""
    return f"{minute}HE SAYS      {'(not shown)' if hidden else one.text}{when}"


if __name__ == "__main__":
    main()
