"""How long intake takes: 60 recordings of 15 s and 80 photos of 12 megapixels on two workers.

    python -m tests.bench.intake

Prints wall time, CPU time of all processes, how much of it was spent inside the recognizers and
how much is work of our own (decoding, voice detection, dictation, hashing, photos, the book).
"""

from __future__ import annotations

import resource
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from fixtures.voices import write
from joblog.audio.decode import samples
from joblog.book import Book
from joblog.book.intake import take_in
from joblog.model import Hearing, Job, Vocabulary
from joblog.plan import read_csv
from joblog.speech import Recognizer, recognizers

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
RATE = 16_000


class Timed:
    """A recognizer that writes down how much CPU time it took."""

    def __init__(self, inner: Recognizer, ledger: Path) -> None:
        self.name, self._inner, self._ledger = inner.name, inner, ledger

    def hear(self, sound: Any, vocabulary: Vocabulary, start: float = 0.0) -> tuple[Hearing, ...]:
        before = time.process_time()
        heard = self._inner.hear(sound, vocabulary, start)
        self._note(before)
        return heard

    def begin(self) -> None:
        before = time.process_time()
        getattr(self._inner, "begin", int)()
        self._note(before)

    def _note(self, before: float) -> None:
        with self._ledger.open("a") as ledger:
            ledger.write(f"{time.process_time() - before}\n")


def main(recordings: int = 60, photos: int = 80) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        files = place / "files"
        files.mkdir()
        _make_recordings(files, recordings)
        _make_photos(files, photos)
        ledger = place / "ledger"
        ears = tuple(Timed(one, ledger) for one in recognizers())
        plan, _ = read_csv(DEMO / "plan.csv")
        job = Job("bench", "America/New_York")
        with Book.create(place / "book") as book:
            book.add_job(job)
            book.set_plan(job.name, plan)
            began, cpu = time.monotonic(), _cpu()
            intake = take_in(book, job.name, [files], recognizers=ears, workers=2)
            wall, cpu = time.monotonic() - began, _cpu() - cpu
        hearing = sum(map(float, ledger.read_text().split()))
        print(f"{intake.recordings} recordings, {intake.photos} photos, {intake.problems}")
        print(f"wall {wall:.1f} s, CPU {cpu:.1f} s, of it recognizers {hearing:.1f} s")
        print(f"work of our own: {(cpu - hearing) / cpu:.1%} of the CPU time")
        print(f"recognizers: {hearing / (recordings * 15):.3f} of real time")


def _make_recordings(folder: Path, count: int) -> None:
    spoken = [samples(file) for file in sorted((DEMO / "recordings").iterdir())]
    river = np.concatenate(spoken)
    start = datetime(2026, 10, 5, 7, 0, tzinfo=UTC)
    for number in range(count):
        piece = np.take(river, range(number * 9 * RATE, (number * 9 + 15) * RATE), mode="wrap")
        made = start + timedelta(minutes=10 * number)
        write(folder / f"recording-{number}.m4a", piece.astype(np.float32), made)


def _make_photos(folder: Path, count: int) -> None:
    chance = np.random.default_rng(0)
    grain = chance.integers(0, 40, (3000, 4000, 3), np.uint8)
    for number in range(count):
        picture = Image.fromarray(np.roll(grain, number, axis=1) + np.uint8(number))
        exif = Image.Exif()
        exif.get_ifd(0x8769)[0x9003] = f"2026:10:05 {8 + number // 10:02}:{number % 10:02}:00"
        picture.save(folder / f"photo-{number}.jpg", exif=exif, quality=80)


def _cpu() -> float:
    return sum(
        usage.ru_utime + usage.ru_stime
        for usage in map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    )


if __name__ == "__main__":
    main()
