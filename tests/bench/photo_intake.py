"""How fast photos of 12 megapixels are taken in, and what memory that takes.

    python -m tests.bench.photo_intake [--photos N] [--distinct N] [--workers N]

Makes some distinct photos with EXIF, and of each as many copies as it takes whose bytes differ
only in the camera's fraction of a second; then takes them in. Prints photos a second, processor
time of all processes, and the most memory that any process held in the first and in the last
quarter of the run: it must not grow. Goal: 25 a second on two cores, 2,000 photos.
"""

from __future__ import annotations

import argparse
import resource
import tempfile
import threading
import time
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import psutil
from PIL import Image

from joblog.book import Book
from joblog.book.intake import take_in
from joblog.book.progress import Far
from joblog.model import Job

SIZE = (4000, 3000)
JOB = Job("bench", "America/New_York")
LOOK = 0.05
"""Seconds between two looks at the processes."""


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.photo_intake", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--photos", type=int, default=2000)
    arguments.add_argument("--distinct", type=int, default=50)
    arguments.add_argument("--workers", type=int, default=2)
    asked = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        files = Path(folder) / "files"
        files.mkdir()
        total = make(files, asked.photos, min(asked.distinct, asked.photos))
        print(f"{asked.photos:,} photos of {total / asked.photos / 1e6:.1f} MB")
        with Book.create(Path(folder) / "book") as book, Watch() as watch:
            book.add_job(JOB)
            began, cpu = time.monotonic(), processor_time()
            came = take_in(book, JOB.name, [files], workers=asked.workers, progress=watch.note)
            wall, cpu = time.monotonic() - began, processor_time() - cpu
        print(f"{came.photos:,} taken in, {len(came.problems)} problems")
        print(f"{came.photos / wall:.1f} a second; {cpu / came.photos * 1000:.0f} ms of processor")
        print("most memory of a process, MB: " + ", ".join(map(str, watch.quarters())))
    return 0 if came.photos == asked.photos else 1


def make(folder: Path, count: int, distinct: int) -> int:
    """The photos' bytes in all."""
    draw = np.random.default_rng(7)
    total = 0
    for number in range(distinct):
        picture = scene(draw)
        first = folder / f"{number:03}.jpg"
        taken = datetime(2026, 10, 5, 8) + timedelta(minutes=number)
        picture.save(first, quality=85, exif=block(taken))
        content = first.read_bytes()
        at = content.index(b"000000\0")
        for copy in range(number, count, distinct):
            said = f"{copy:06}".encode()
            path = folder / f"{number:03}_{copy:06}.jpg"
            path.write_bytes(content[:at] + said + content[at + 6 :])
            total += len(content)
        first.unlink()
    return total


def scene(draw: np.random.Generator) -> Image.Image:
    """Structure of every size, and the noise of a small sensor."""
    light = np.zeros((SIZE[1] // 4, SIZE[0] // 4, 3), np.float32)
    for size in (8, 32, 128):
        rough = draw.normal(size=(SIZE[1] // 4 // size + 2, SIZE[0] // 4 // size + 2, 3))
        for band in range(3):
            one = Image.fromarray(rough[:, :, band].astype(np.float32))
            wide = one.resize((SIZE[0] // 4, SIZE[1] // 4), Image.Resampling.BICUBIC)
            light[:, :, band] += np.asarray(wide) * size**0.5
    light = (light - light.min()) / (light.max() - light.min()) * 230 + 10
    large = Image.fromarray(light.astype(np.uint8)).resize(SIZE, Image.Resampling.BICUBIC)
    noise = draw.integers(-12, 13, (SIZE[1], SIZE[0], 1), dtype=np.int16)
    return Image.fromarray(np.clip(np.asarray(large) + noise, 0, 255).astype(np.uint8))


def block(taken: datetime) -> bytes:
    exif = Image.Exif()
    exif[0x010F], exif[0x0110], exif[0x0112] = "Invented", "Seven", 6
    exif[0x8769] = {0x9003: f"{taken:%Y:%m:%d %H:%M:%S}", 0x9011: "-04:00", 0x9291: "000000"}
    exif[0x8825] = {1: "N", 2: (38.0, 37.0, 12.0), 3: "W", 4: (70.0, 24.0, 36.0), 0x1F: 6.5}
    return exif.tobytes()


class Watch:
    """Looks at the memory of this process and its children while something runs."""

    def __init__(self) -> None:
        self._held: list[tuple[float, int]] = []
        self._share = 0.0
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> Watch:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    def note(self, far: Far) -> None:
        self._share = far.done / max(1, far.files)

    def quarters(self) -> list[int]:
        """The most that one process held in each quarter of the files, in MB."""
        return [
            max((held for share, held in self._held if at <= share * 4 <= at + 1), default=0) >> 20
            for at in range(4)
        ]

    def _look(self) -> None:
        own = psutil.Process()
        while not self._over.wait(LOOK):
            with suppress(psutil.Error):
                for one in (own, *own.children(recursive=True)):
                    self._held.append((self._share, one.memory_info().rss))


def processor_time() -> float:
    """Of this process and of those that it has ended."""
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


if __name__ == "__main__":
    raise SystemExit(main())
