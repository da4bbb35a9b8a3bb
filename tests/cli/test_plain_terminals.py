"""Terminals without UTF-8, narrow ones, and readers that stop early: no trace, and nothing lost."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from running import Say

JOB = "Müller – Ecke 木"
PLACE = "façade"
AT = ("--book", "book")
ASCII = {
    "PYTHONUTF8": "0", "PYTHONIOENCODING": "", "PYTHONCOERCECLOCALE": "0", "LC_ALL": "C",
    "LANG": "C",
}  # fmt: skip
PATIENCE = 120.0
"""Seconds, only so that no fault hangs."""
LISTS = ("day", "squareup", "entries", "photos", "recordings", "todo", "history", "jobs", "covered")

posix = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no locale called C")


@pytest.fixture
def book(say: Say) -> str:
    """A job, a place and a doubt whose words are not in ASCII."""
    say("new", JOB, "--zone", "America/Chicago", "--place", PLACE, *AT)
    for words in (
        f"used three sticks of J on the {PLACE}",
        f"note the wire behind the {PLACE} → “live”",
        "used eight sheets",
        f"covered the wire behind the {PLACE}",
    ):
        assert say("write", words, "--at", "2026-10-05 14:30", *AT)[0] == 0
    return "book"


Run = Callable[..., subprocess.CompletedProcess[bytes]]


@pytest.fixture
def run(book: str, tmp_path: Path) -> Run:
    def run(*words: str, **more: str) -> subprocess.CompletedProcess[bytes]:
        env = {**os.environ, **ASCII, "PYTHONPATH": os.pathsep.join(sys.path), **more}
        command = [sys.executable, "-m", "joblog", *words, "--book", book]
        return subprocess.run(command, env=env, capture_output=True, check=False, cwd=tmp_path)

    return run


@posix
@pytest.mark.parametrize("command", LISTS)
def test_a_terminal_without_utf_8_gets_plain_signs(run: Run, command: str) -> None:
    said = run(command)
    assert (said.returncode, said.stderr) == (0, b"")
    shown = said.stdout.decode("ascii")
    assert "\\u" not in shown
    assert "\\x" not in shown


@posix
def test_a_name_is_still_known_by_its_plain_signs(run: Run) -> None:
    assert "Muller - Ecke ?" in run("jobs").stdout.decode("ascii")
    assert "facade" in run("day").stdout.decode("ascii")
    complaint = run("day", "--job", "Nowhere").stderr.decode("ascii")
    assert complaint.startswith("Error: there is no job called 'Nowhere'")
    assert "Muller - Ecke" in complaint


@posix
def test_a_program_gets_every_sign_as_it_is(run: Run) -> None:
    listed = json.loads(run("entries", "--json").stdout.decode("ascii"))
    assert PLACE in {entry["entry"].get("place") for entry in listed}
    [shown, *_] = csv.DictReader(io.StringIO(run("entries", "--csv").stdout.decode("utf-8")))
    assert PLACE in shown["entry"]


@posix
def test_what_it_was_told_in_bytes_that_are_no_text_is_no_trace(run: Run) -> None:
    said = run("day", "--job", os.fsdecode(b"M\xfcller"))
    assert said.returncode == 1
    assert said.stderr.decode("ascii").startswith("Error: what was typed holds signs that this")


@pytest.mark.parametrize("columns", ["20", "40", "80", "300"])
@pytest.mark.parametrize("command", ["day", "squareup", "entries", "history"])
def test_no_width_is_too_narrow(
    book: str, say: Say, monkeypatch: pytest.MonkeyPatch, command: str, columns: str
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    status, shown, complaint = say(command, *AT)
    assert (status, complaint) == (0, "")
    assert shown


@pytest.mark.parametrize("command", ["day", "squareup"])
def test_no_width_is_too_narrow_for_plain_signs(run: Run, command: str) -> None:
    said = run(command, COLUMNS="20")
    assert (said.returncode, said.stderr) == (0, b"")
    assert said.stdout


@posix
@pytest.mark.parametrize("command", ["entries", "squareup", "day"])
def test_a_reader_that_stops_early_gets_no_trace(
    book: str, say: Say, tmp_path: Path, command: str
) -> None:
    long = "\n".join(f"note the {number}th thing that was told" for number in range(200))
    say("write", long, "--at", "2026-10-05 15:30", *AT)
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    script = f"{sys.executable} -m joblog {command} --book {book} | head -n 1"
    said = subprocess.run(
        ["sh", "-c", script], env=env, capture_output=True, check=False, cwd=tmp_path
    )
    assert said.stderr == b""
    assert len(said.stdout.splitlines()) == 1


@posix
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "> /dev/full"])
def test_output_that_cannot_be_written_is_no_trace(book: str, tmp_path: Path, closed: str) -> None:
    if closed.endswith("full") and not Path("/dev/full").exists():
        pytest.skip("there is no full device")
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    script = f"{sys.executable} -m joblog entries --book {book} {closed}"
    said = subprocess.run(
        ["sh", "-c", script], env=env, capture_output=True, check=False, cwd=tmp_path
    )
    assert b"Traceback" not in said.stderr
    assert b"Exception ignored" not in said.stderr
    assert len(said.stderr.splitlines()) <= 1


@posix
@pytest.mark.parametrize(("columns", "lines"), [(80, 24), (60, 20)])
def test_the_review_draws_in_plain_signs(
    book: str, tmp_path: Path, columns: int, lines: int
) -> None:
    pexpect = pytest.importorskip("pexpect")
    env = {**os.environ, **ASCII, "TERM": "xterm", "PYTHONPATH": os.pathsep.join(sys.path)}
    review = pexpect.spawn(
        sys.executable,
        ["-m", "joblog", "review", "--book", book],
        env=env,
        dimensions=(lines, columns),
        timeout=PATIENCE,
        cwd=str(tmp_path),
    )
    shown = b""
    for wanted, key in ((b"Of what", "s"), (b"material", "q")):
        review.expect(wanted)
        shown += review.before + review.after
        review.send(key)
    review.expect(pexpect.EOF)
    shown += review.before
    review.close()
    assert review.exitstatus == 0
    assert b"Traceback" not in shown
    assert not [byte for byte in shown if byte >= 0x80]
