"""Shells complete commands and the names in the book; names with blanks and commas too.

The shells themselves are asked: bash always, zsh and fish where they are installed.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest
from running import Say
from test_starting import loaded_by

from joblog.book.at_hand import names

JOB = "Smith, 4th & Main"
OTHER = "Corner porch"
AT = ("--book", "book")
HEAVY = {
    "joblog.book.store", "joblog.dictation", "joblog.speech", "numpy", "onnxruntime", "pandas",
    "sqlite_utils", "textual", "vosk",
}  # fmt: skip
PATIENCE = 120.0
"""Seconds, only so that no fault hangs."""

needs_pty = pytest.mark.skipif(sys.platform == "win32", reason="there is no pty on Windows")


def needs(shell: str) -> pytest.MarkDecorator:
    return pytest.mark.skipif(shutil.which(shell) is None, reason=f"{shell} is not installed")


@pytest.fixture
def book(say: Say, tmp_path: Path) -> Path:
    """Two jobs with an entry each, and `joblog` as a command that a shell finds."""
    plan = tmp_path / "plan.csv"
    plan.write_text(
        "line,name,quantity,unit\nitem,J channel,4,stick\nplace,north eave,,\n", "utf-8"
    )
    for job, day in ((JOB, "2026-10-05"), (OTHER, "2026-10-06")):
        assert say("new", job, "--zone", "America/Chicago", *AT)[0] == 0
        said = say("write", "used three sticks of J", "--at", f"{day} 21:30", "--job", job, *AT)
        assert said[0] == 0
    assert say("plan", str(plan), "--job", JOB, *AT)[0] == 0
    commands = tmp_path / "bin"
    commands.mkdir()
    joblog = commands / "joblog"
    joblog.write_text(
        f"#!{sys.executable}\nimport sys\nsys.path[:0] = {sys.path!r}\n"
        "from joblog.cli import main\nmain()\n",
        "utf-8",
    )
    joblog.chmod(0o755)
    return tmp_path / "book"


@pytest.fixture
def around(book: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The environment of a shell that finds joblog and the book."""
    commands = book.parent / "bin"
    monkeypatch.setenv("PATH", f"{commands}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setenv("JOBLOG_BOOK", str(book))
    return dict(os.environ)


Offers = Callable[..., list[str]]


@pytest.fixture
def offered(around: dict[str, str]) -> Offers:
    """What bash is told for the words typed so far, the last one being unfinished."""

    def ask(*typed: str) -> list[str]:
        asked = {
            "COMP_WORDS": "\n".join(("joblog", *typed)),
            "COMP_CWORD": str(len(typed)),
            "_JOBLOG_COMPLETE": "bash_complete",
        }
        said = subprocess.run(
            ["joblog"], env={**around, **asked}, capture_output=True, text=True, check=False
        )
        assert said.stderr == ""
        return said.stdout.split("\n")[:-1] if said.stdout.strip() else []

    return ask


# --- what is offered ----------------------------------------------------------------------------


@needs_pty
@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("use", ""), ["plain,Corner\\ porch", "plain,Smith,\\ 4th\\ \\&\\ Main"]),
        (("day", "--job", "cor"), ["plain,Corner\\ porch"]),
        (("day", "--job", '"cor'), ["plain,Corner porch"]),
        (("day", "--job", "=", "Cor"), ["plain,Corner\\ porch"]),
        (("move", "a.wav", "--to", "C"), ["plain,Corner\\ porch"]),
        (("day", ""), ["plain,2026-10-06", "plain,2026-10-05"]),
        (("entries", "--day", ""), ["plain,2026-10-06", "plain,2026-10-05"]),
        (("day", "--job", "Corner\\ porch", ""), ["plain,2026-10-06"]),
        (("cuts", "--item", "J ch"), ["plain,J\\ channel"]),
        (("takeoff", "--place", "n"), ["plain,north\\ eave"]),
        (("catalog", "s"), ["plain,set", "plain,same"]),
        (("catalog", "c"), ["file,c"]),
        (("catalog", "set", "house w"), ["plain,house\\ wrap"]),
        (("drop", "1"), ["plain,1"]),
        (("add", "photos/"), ["file,photos/"]),
        (("squareup", "--table", "rea"), ["plain,reasons"]),
        (("squ",), ["plain,squareup"]),
    ],
)
def test_names_are_offered_where_they_are_wanted(
    offered: Offers, typed: Sequence[str], told: list[str]
) -> None:
    assert offered(*typed) == told


@needs_pty
def test_where_no_book_is_nothing_is_offered_and_nothing_complained(
    offered: Offers, tmp_path: Path
) -> None:
    assert offered("day", "--book", str(tmp_path / "nowhere"), "--job", "") == []


@needs_pty
def test_a_file_that_is_no_book_is_no_harm(offered: Offers, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "book.sqlite").write_bytes(b"no database " * 100)
    assert offered("day", "--book", str(tmp_path / "other"), "--job", "") == []


def test_recordings_photos_and_cameras_are_known(say: Say, tmp_path: Path) -> None:
    photos = Path(__file__).parents[2] / "fixtures" / "demo" / "photos"
    say("new", OTHER, "--zone", "America/New_York", *AT)
    say("add", str(photos / "delivery.jpg"), *AT)
    assert [one.name for one in names(tmp_path / "book", "originals")] == ["delivery.jpg"]
    assert [one.name for one in names(tmp_path / "book", "cameras")] == ["Demo compact"]
    assert names(tmp_path / "book", "recordings") == ()


def test_an_entry_is_offered_with_what_it_says(say: Say, book: Path) -> None:
    say("drop", "1", "--job", JOB, *AT)
    assert [one.name for one in names(book, "entries")] == ["2"]
    assert "3 sticks of j channel" in names(book, "entries")[0].beside.lower()


def test_a_book_is_not_changed_by_being_asked(book: Path) -> None:
    before = {file.name: file.read_bytes() for file in book.glob("book.sqlite")}
    assert names(book, "days")
    assert {file.name: file.read_bytes() for file in book.glob("book.sqlite")} == before


ASKED = """
import json, sys
from joblog.service import place_of
from joblog.service.at_hand import at_hand
from joblog.cli import completing
for of in ("jobs", "items", "places", "days", "originals", "cameras", "entries"):
    at_hand(place_of(), of)
print(json.dumps(sorted(sys.modules)))
"""


def test_nothing_heavy_is_loaded_for_a_press_of_the_key(around: dict[str, str]) -> None:
    env = {**around, "PYTHONPATH": os.pathsep.join(sys.path)}
    said = subprocess.run(
        [sys.executable, "-c", ASKED], env=env, capture_output=True, text=True, check=True
    )
    assert not HEAVY & set(json.loads(said.stdout))


# --- the shells ---------------------------------------------------------------------------------


@needs("bash")
@needs_pty
def test_bash_types_the_rest_of_a_name(around: dict[str, str], say: Say) -> None:
    with typing(["bash", "--norc", "--noprofile", "-i"], around, lines(say, "bash")) as typed:
        assert typed("day --job Corn\t", "porch") == ["day", "--job", "Corner porch"]
        assert typed("day --job Smi\t", "Main") == ["day", "--job", JOB]
        assert typed('day --job "Smi\t', "Main") == ["day", "--job", JOB]
        assert typed("day --job=Corn\t", "porch") == ["day", "--job=Corner porch"]


@needs("zsh")
@needs_pty
def test_zsh_types_the_rest_of_a_name(around: dict[str, str], say: Say) -> None:
    with typing(["zsh", "-f", "-i"], around, lines(say, "zsh")) as typed:
        assert typed("day --job Corn\t", "porch") == ["day", "--job", "Corner porch"]
        assert typed("day --job Smi\t", "Main") == ["day", "--job", JOB]


@needs("fish")
def test_fish_offers_names_with_commas_whole(around: dict[str, str], say: Say) -> None:
    script = f"{lines(say, 'fish')}\ncomplete -C 'joblog use Smi'\ncomplete -C 'joblog day --job C'"
    fish = ["fish", "--no-config", "-c", script]
    said = subprocess.run(fish, env=around, capture_output=True, text=True, check=True)
    assert said.stdout.splitlines() == [JOB, OTHER]


def lines(say: Say, shell: str) -> str:
    """What joblog completion says to put into the shell's file."""
    status, shown, where = say("completion", shell)
    assert status == 0
    assert where.startswith(f"# {shell}: put this into ~/.")
    return shown.strip()


@contextmanager
def typing(
    command: list[str], around: dict[str, str], first: str
) -> Iterator[Callable[[str, str], list[str]]]:
    """Types into a shell on a terminal, after some lines; gives the words that joblog would get.

    What is typed ends with the Tab key, and is sent off when the shell has shown the rest of it.
    """
    pexpect = pytest.importorskip("pexpect")
    env = {**around, "TERM": "xterm", "PS1": "ready> ", "PROMPT": "ready> "}
    shell = pexpect.spawn(
        command[0], command[1:], env=env, encoding="utf-8", timeout=PATIENCE, dimensions=(24, 200)
    )
    # The folders of another may hold functions, which -u does not ask about.
    shell.sendline(first.replace("&& compinit", "&& compinit -u"))
    # The completion asks the command; what is sent off only shows its words.
    shell.sendline("joblog() { printf '<%s>' \"$@\"; echo; echo 'sent''off'; }; echo 'set''up'")
    shell.expect("setup")

    def typed(line: str, until: str) -> list[str]:
        shell.send(f"joblog {line}")
        shell.expect(until)
        shell.send("\r")
        shell.expect("sentoff")
        return re.findall(r"<([^<>]*)>", str(shell.before))

    try:
        yield typed
    finally:
        shell.close(force=True)


# --- how to have it -----------------------------------------------------------------------------


def test_the_shell_is_found_out(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("psutil.Process.parents", lambda _: [])
    monkeypatch.setenv("SHELL", "/usr/bin/fish")
    assert say("completion")[1] == "_JOBLOG_COMPLETE=fish_source joblog | source\n"
    monkeypatch.setenv("SHELL", "/bin/tcsh")
    status, _, complaint = say("completion")
    assert status == 2
    assert "which shell is it? Say one of: bash, zsh, fish" in complaint


def test_it_says_so_where_a_shell_would_not_find_joblog(
    say: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "")
    assert "A shell has to find joblog by its name" in say("completion", "bash")[2]


def test_completion_itself_needs_no_book(tmp_path: Path) -> None:
    assert not HEAVY & loaded_by(tmp_path, "completion", "bash")
