"""Commands that are killed at their calls to the disk, and disks that lost what was not synced."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

from joblog.cli.command import FILES
from tests.bench.kills import shim
from tests.bench.kills.cases import without_words
from tests.bench.kills.power import Call, Disk

ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(shim.compiler() is None, reason="needs Linux and a C compiler")
def test_a_command_that_was_killed_and_said_again_ran_once() -> None:
    words = ["-m", "tests.bench.kills", "--kills", "6", "--only", "sign 2026-10-05"]
    search = os.pathsep.join([str(ROOT), str(ROOT / "tui"), *sys.path])
    done = subprocess.run(
        [sys.executable, *words],
        env={**os.environ, "PYTHONPATH": search},
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    calls, kills, same, left, *wrong = done.stdout.splitlines()[-2].split()[1:8]
    assert int(calls) > 20
    assert (int(kills), int(same) + int(left), wrong) == (6, 6, ["0", "0", "0"])


def test_every_command_has_words_to_be_killed_with() -> None:
    assert without_words(set(FILES)) == set()
    assert without_words({"invented"}) == {"invented"}


def test_what_was_synced_is_on_every_disk(tmp_path: Path) -> None:
    (tmp_path / "kept").write_bytes(b"was there")
    disk = Disk(tmp_path, Path("/world"))
    for call in made_whole("new", b"all of it"):
        disk.do(call)
    assert each_of(disk) == [{"kept": b"was there", "new": b"all of it"}]


def test_what_was_not_synced_is_there_or_not_or_in_part(tmp_path: Path) -> None:
    disk = Disk(tmp_path, Path("/world"))
    disk.do(call("make", "new"))
    disk.do(call("sync", ""))
    disk.do(call("write", "new", written=b"a" * 512 + b"b" * 512))
    found = [disk["new"] for disk in each_of(disk)]
    assert b"" in found
    assert b"a" * 512 + b"b" * 512 in found
    assert b"a" * 512 in found
    assert bytes(512) + b"b" * 512 in found


def test_a_name_is_certain_only_when_its_folder_was_synced(tmp_path: Path) -> None:
    disk = Disk(tmp_path, Path("/world"))
    *before, last = made_whole("new", b"all of it")
    for one in before:
        disk.do(one)
    assert {tuple(disk) for disk in each_of(disk)} == {(), ("new",), ("passing",)}
    disk.do(last)
    assert {tuple(disk) for disk in each_of(disk)} == {("new",)}


def made_whole(name: str, content: bytes) -> list[Call]:
    """A file that is written under a passing name, and takes its own when it is on the disk."""
    return [
        call("make", "passing"),
        call("write", "passing", written=content),
        call("sync", "passing"),
        call("rename", "passing", name),
        call("sync", ""),
    ]


def call(what: str, name: str, other: str = "", written: bytes = b"") -> Call:
    return Call(what, f"/world/{name}".rstrip("/"), f"/world/{other}", 0, written)


def each_of(disk: Disk) -> list[dict[str, bytes | None]]:
    """Every disk that there may be, as far as two thousand draws find them."""
    found: list[dict[str, bytes | None]] = []
    dice = random.Random(1)
    for _ in range(2000):
        if (one := disk.drawn(dice)) not in found:
            found.append(one)
    return found
