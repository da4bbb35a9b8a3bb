"""A book of every version, made by a joblog of its day; and every joblog at every older book.

    python -m tests.bench.older_books make 17    what the release of version 17 makes, for the tests
    python -m tests.bench.older_books matrix     every release opens the books of all before it

The releases come from the history of this repository, and run in the environment of today. A book
is kept as its release left it, without its originals, which are the same for all; beside it is what
that release said it holds. `make` hears a recording in earnest, which takes some seconds each.
"""

from __future__ import annotations

import argparse
import json
import lzma
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

from tests.bench.older_day import ASKED

ROOT = Path(__file__).parents[2]
KEPT = ROOT / "tests/book/older"
DAY = Path(__file__).with_name("older_day.py")

LAST = {
    1: "c6196717", 2: "72675b51", 3: "dc0ccb23", 4: "512de3d8", 5: "5f77e785", 6: "a0a48417",
    7: "14958d09", 8: "42d89ba1", 9: "cb46ae8d", 10: "c2e4ee03", 11: "8e2b2d75", 12: "26b51e54",
    13: "390093f5", 14: "472b987d", 15: "6984ac7b", 16: "955090d9", 17: "309d018f", 21: "4ec425b0",
}  # fmt: skip
"""The last commit of each version of the book; a release of a new one is added when it is out."""
NEVER_OUT = frozenset({18, 19, 20})
"""Versions at which no release stopped: they came in one day."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=("make", "matrix"))
    parser.add_argument("versions", type=int, nargs="*", default=sorted(LAST))
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        {"make": make, "matrix": matrix}[asked.what](asked.versions, Path(folder))


def make(versions: list[int], scratch: Path) -> None:
    """Has the releases of these versions make their books, and keeps them."""
    for version in versions:
        release, book = released(version, scratch), scratch / "book"
        told = scratch / "told.json"
        _run(release, "make", book, KEPT / "files", told)
        _keep(f"book-{version:02}.sqlite", (book / "book.sqlite").read_bytes())
        _keep(f"told-{version:02}.json", told.read_bytes())
        shutil.rmtree(book)


def matrix(versions: list[int], scratch: Path) -> None:
    """Prints, for each release and each older book, how many of the things that it held were said
    otherwise; and the same of the joblog of today, in the last line."""
    print("release", *(f"{version:>4}" for version in versions))
    for release in (*versions, None):
        older = [one for one in versions if release is None or one <= release]
        books = {version: scratch / f"{release} opens {version}" for version in older}
        for version, book in books.items():
            laid_out(version, book)
        place = ROOT if release is None else released(release, scratch)
        pairs = [part for book in books.values() for part in (book, book.with_suffix(".json"))]
        _run(place, "tell", *pairs)
        cells = []
        for version, book in books.items():
            now = json.loads(book.with_suffix(".json").read_text("utf-8"))
            lost = [path for path, *_ in differences(told(version), now) if held(path)]
            cells.append(f"{len(lost) or 'ok':>4}")
            for path in lost[:3]:
                print(f"        {release or 'today'} of {version}: {path}", file=sys.stderr)
            shutil.rmtree(book)
        print(f"{release or 'today':>7}", *cells, flush=True)


def released(version: int, scratch: Path) -> Path:
    """The joblog that was the last of a version, taken out of the history."""
    place = scratch / f"release {version}"
    if not place.is_dir():
        archive = subprocess.run(
            ["git", "archive", LAST[version], "joblog"], cwd=ROOT, capture_output=True, check=True
        ).stdout
        with tarfile.open(fileobj=BytesIO(archive)) as files:
            files.extractall(place, filter="data")
    return place


def laid_out(version: int, folder: Path) -> None:
    """The book of a version in a new folder, with its originals, as it was left."""
    folder.mkdir(mode=0o755)
    (folder / "book.sqlite").write_bytes(lzma.decompress(_kept(f"book-{version:02}.sqlite")))
    for original in (KEPT / "files/originals").iterdir():
        for place in _places(original):
            (folder / "media" / place).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(original, folder / "media" / place)


def told(version: int) -> dict[str, Any]:
    """What the release of that version said that its book holds, by the words it was asked with."""
    found: dict[str, Any] = json.loads(lzma.decompress(_kept(f"told-{version:02}.json")))["told"]
    return {asked: found[asked] for words in ASKED if (asked := " ".join(words)) in found}


def differences(before: Any, now: Any, path: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Where what was said before is not said now: the place, and both. What is said besides is
    none; names that were changed since are followed."""
    if isinstance(before, dict) and isinstance(now, dict):
        for key, value in before.items():
            name = key if key in now else RENAMED.get(key, key)
            at = f"{path}/{key}"
            if name in now:
                yield from differences(value, now[name], at)
            else:
                yield at, value, None
    elif isinstance(before, list) and isinstance(now, list) and len(before) == len(now):
        for number, (one, other) in enumerate(zip(before, now, strict=True)):
            yield from differences(one, other, f"{path}/{number}")
    elif before != now:
        yield path, before, now


RENAMED = {
    "opening": "had", "on_hand": "left", "consumed": "gone", "placed": "installed",
    "spoiled": "wasted", "offcut": "cutoffs", "unaccounted": "unexplained",
    "planned_cost": "plan_cost",
}  # fmt: skip


def held(path: str) -> bool:
    """Whether it is something that the book holds, and not what a joblog makes of it."""
    return not path.startswith(MADE_OF_IT)


MADE_OF_IT = ("/squareup ", "/rates", "/covered ", "/todo ", "/stock")


def _places(original: Path) -> list[str]:
    import hashlib

    sha256 = hashlib.sha256(original.read_bytes()).hexdigest()
    return [f"{sha256[:2]}/{sha256}{original.suffix}"]


def _run(release: Path, *words: object) -> None:
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(release), str(release / "tui")]),
        "HOME": str(release),
        "LC_ALL": "en_US.UTF-8",
    }
    subprocess.run([sys.executable, str(DAY), *map(str, words)], env=environment, check=True)


def _kept(name: str) -> bytes:
    return (KEPT / f"{name}.xz").read_bytes()


def _keep(name: str, content: bytes) -> None:
    (KEPT / f"{name}.xz").write_bytes(lzma.compress(content, preset=9 | lzma.PRESET_EXTREME))


if __name__ == "__main__":
    main()
