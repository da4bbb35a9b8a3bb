"""Speaks the evening's recordings into a folder, and takes them into a book of their own.

    python -m tests.bench.evening.sounds FOLDER

makes FOLDER/recordings, FOLDER/starts.json (when each thing was said, in seconds) and, through
`joblog add`, FOLDER/book. Needs the synthesizers that `fixtures/voices.py` names. About seven
minutes of sound; hearing them takes a minute or two.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np

from fixtures.voices import mix, noise, silence, speak, write
from joblog.audio.decode import RATE, Samples
from tests.bench.evening.story import JOB, PLAN, RECORDED, ZONE, Recorded, told

BETWEEN = 1.3
"""Seconds between two things said."""


def main() -> None:
    folder = Path(sys.argv[1])
    sounds = folder / "recordings"
    sounds.mkdir(parents=True, exist_ok=True)
    starts = {one.name: _spoken(sounds, one, seed) for seed, one in enumerate(RECORDED)}
    (folder / "starts.json").write_text(json.dumps(starts, indent=1), "utf-8")
    book = str(folder / "book")
    _joblog("new", JOB, "--zone", ZONE, "--plan", str(PLAN), "--book", book)
    _joblog("add", str(sounds), "--book", book)


def _spoken(folder: Path, recorded: Recorded, seed: int) -> list[float]:
    """Writes one recording; the second at which each thing said begins."""
    pieces: list[Samples] = [silence(0.6)]
    starts = []
    for one in told(recorded.name):
        starts.append(round(sum(map(len, pieces)) / RATE, 2))
        pieces += [speak(one.said, recorded.voice), silence(BETWEEN)]
    sound = np.concatenate(pieces)
    if recorded.noise:
        kind, decibels = recorded.noise
        sound = mix(sound, noise(kind, len(sound) / RATE, seed), decibels)
    made = datetime.fromisoformat(recorded.made).replace(tzinfo=ZoneInfo(ZONE))
    write(folder / recorded.name, sound, made)
    print(f"{recorded.name}: {len(sound) / RATE:.0f} s", flush=True)
    return starts


def _joblog(*words: str) -> None:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    subprocess.run([sys.executable, "-m", "joblog", *words], env=environment, check=True)


if __name__ == "__main__":
    main()
