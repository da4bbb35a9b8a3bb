"""joblog is watched from outside while it works: it asks no network and leaves nothing behind.

Every command runs in a network namespace of its own, without a network, under strace, as for a
person whose settings forbid nothing.
"""

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import termios
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
RECORDING = ROOT / "fixtures/demo/recordings/wednesday-3.m4a"

ALONE = ["unshare", "--net", "--map-root-user"]
SEEN = "connect,sendto,sendmsg,sendmmsg,open,openat,openat2,creat,mkdir,mkdirat"
WATCHED = [
    "strace",
    "--follow-forks",
    "--seccomp-bpf",
    "-qq",
    f"--trace={SEEN}",
    "--string-limit=512",
]
FORBIDDING = ("CI", "ORT_DISABLE_TELEMETRY", "ORT_RUNNING_UNIT_TESTS", "DO_NOT_TRACK")
"""Settings under which a library that posts its use holds still, as it would not at home."""

WRITTEN = re.compile(
    r'\b(?:open|openat|openat2)\((?:\w+, )?"(?P<opened>[^"]*)".*\bO_(?:WRONLY|RDWR|CREAT)\b.*= \d'
    r'|\b(?:creat|mkdir|mkdirat)\((?:\w+, )?"(?P<made>[^"]*)".*= \d'
)
ASKED = re.compile(r"\b(?:connect|sendto|sendm?msg)\(.*sa_family=.*")
"""Any address of any family: a look-up asks a name server, or a local service that asks one."""


def may_be_watched() -> bool:
    if sys.platform != "linux" or not shutil.which("strace") or not shutil.which("unshare"):
        return False
    tried = subprocess.run([*ALONE, *WATCHED, "-o", "/dev/null", "true"], capture_output=True)
    return tried.returncode == 0


pytestmark = pytest.mark.skipif(
    not may_be_watched(), reason="needs strace and network namespaces (Linux)"
)


class Home:
    """A person's folders, in which joblog is run and watched."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.book = folder / "book"
        self.temporary = folder / "temporary"
        (folder / "home").mkdir()
        self.temporary.mkdir()
        self.trace = folder / "trace"
        self.environment = {
            **{name: value for name, value in os.environ.items() if name not in FORBIDDING},
            "HOME": str(folder / "home"),
            "XDG_CACHE_HOME": str(folder / "home/cache"),
            "TMPDIR": str(self.temporary),
            "JOBLOG_BOOK": str(self.book),
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONPATH": os.pathsep.join([str(ROOT), str(ROOT / "tui")]),
            "TERM": "xterm-256color",
        }

    def command(self, *words: str) -> list[str]:
        watched = [*ALONE, *WATCHED, "-o", str(self.trace)]
        return [*watched, sys.executable, "-m", "joblog", *words]

    def run(self, *words: str) -> str:
        done = subprocess.run(
            self.command(*words), env=self.environment, capture_output=True, text=True, cwd=ROOT
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def review(self) -> bytes:
        """Opens the review in a terminal and leaves it by its key; what the terminal got."""
        ours, theirs = pty.openpty()
        termios.tcsetwinsize(theirs, (40, 120))
        shown = b""
        with subprocess.Popen(
            self.command("review"),
            env=self.environment, cwd=ROOT, stdin=theirs, stdout=theirs, stderr=theirs,
        ) as reviewing:  # fmt: skip
            os.close(theirs)
            while reviewing.poll() is None:
                if select.select([ours], [], [], 0.5)[0]:
                    try:
                        shown += os.read(ours, 65536)
                    except OSError:  # the other side is closed
                        break
                elif b"\x1b[?1049h" in shown:  # the screen is up, and has come to rest
                    os.write(ours, b"q")
            assert reviewing.wait(60) == 0, shown
        os.close(ours)
        return shown

    def asked_of_a_network(self) -> list[str]:
        return ASKED.findall(self.trace.read_text(errors="replace"))

    def written_elsewhere(self) -> list[str]:
        """Files and folders made or written outside the book and the folder for temporary ones."""
        found = WRITTEN.finditer(self.trace.read_text(errors="replace"))
        paths = {str((ROOT / (path["opened"] or path["made"])).resolve()) for path in found}
        ours = (str(self.book), str(self.temporary), "/dev/", "/proc/self/")
        return sorted(path for path in paths if not path.startswith(ours))


@pytest.fixture
def home(tmp_path: Path) -> Iterator[Home]:
    home = Home(tmp_path)
    yield home
    assert home.asked_of_a_network() == []
    assert home.written_elsewhere() == []
    assert list((tmp_path / "home").iterdir()) == []


def test_the_watching_sees_what_is_asked_and_written(home: Home) -> None:
    program = (
        "import socket, pathlib; "
        "socket.socket(socket.AF_INET, socket.SOCK_DGRAM).connect_ex(('192.0.2.1', 9));"
        f"pathlib.Path({str(home.folder / 'home/id')!r}).write_text('1')"
    )
    command = [*home.command()[:-2], "-c", program]
    subprocess.run(command, env=home.environment, check=True)
    assert len(home.asked_of_a_network()) == 1
    assert home.written_elsewhere() == [str(home.folder / "home/id")]
    (home.folder / "home/id").unlink()
    home.trace.write_text("")


def test_the_demo_is_between_the_computer_and_itself(home: Home) -> None:
    assert "fascia" in home.run("demo", "--no-ui", str(home.book))


def test_hearing_a_recording_is_between_the_computer_and_itself(home: Home) -> None:
    assert home.run("hear", str(RECORDING))


def test_a_job_is_begun_filled_and_reviewed_between_the_computer_and_itself(home: Home) -> None:
    for words in (["new", "Porch"], ["add", str(RECORDING)]):
        home.run(*words)
        assert home.asked_of_a_network() == []
        assert home.written_elsewhere() == []
    assert home.review()
