"""joblog is watched from outside while it works: it asks no network, and writes nowhere but into
the book and what a person names; what it makes in the book is its owner's alone.

Every command and the screens run in a network namespace of their own, without a network, under
strace, as for a person whose settings forbid nothing and whose umask hides nothing.
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

from joblog.cli.command import FILES
from tests.outside import every_command
from tests.outside.every_command import BEGINS, BOOKS, COMMANDS, NAMED, OTHERWISE

ROOT = Path(__file__).parents[2]

ALONE = ["unshare", "--net", "--map-root-user"]
OPENS = ("open", "openat", "openat2")
CHANGES = (
    "creat", "mkdir", "mkdirat", "mknod", "mknodat", "rename", "renameat", "renameat2", "link",
    "linkat", "symlink", "symlinkat", "unlink", "unlinkat", "rmdir", "truncate", "chmod",
    "fchmodat", "chown", "fchownat",
)  # fmt: skip
ASKS = ("socket", "connect", "sendto", "sendmsg", "sendmmsg")
WATCHED = [
    "strace",
    "--follow-forks",
    "--seccomp-bpf",
    "-qq",
    "--decode-fds=path",
    f"--trace={','.join(f'?{call}' for call in (*OPENS, *CHANGES, *ASKS))}",
    "--string-limit=512",
]
FORBIDDING = ("CI", "ORT_DISABLE_TELEMETRY", "ORT_RUNNING_UNIT_TESTS", "DO_NOT_TRACK")
"""Settings under which a library that posts its use holds still, as it would not at home."""

CALL = re.compile(r"(?:\d+ +)?(\w+)\((.*?)(?:\) += (-?\d+).*| <unfinished \.\.\.>)$")
PATH = re.compile(r'(?:(?:AT_FDCWD|\d+)<([^>]*)>, )?"([^"]*)"')
WRITES = re.compile(r"\bO_(?:WRONLY|RDWR|CREAT)\b")
ADDRESS = re.compile(r"sa_family=|\bAF_INET6?\b")
"""Any address of any family: a look-up asks a name server, or a local service that asks one."""
SOUND = re.compile(r'sa_family=AF_UNIX, sun_path="[^"]*/pulse[^"]*/native"')
"""The one service that is asked: what has this computer's own loudspeakers."""
DEVICES = ("/dev/null", "/dev/tty", "/dev/pts", "/dev/snd", "/proc/self")


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
        self.folder = folder = folder.resolve()
        self.book = folder / "book"
        self.sound = folder / "settings/pulse"
        self.sound.mkdir(parents=True)
        self.nothing = [folder / "home", folder / "temporary"]
        for one in self.nothing:
            one.mkdir()
        every_command.lay_out(folder)
        self.trace = folder.parent / "trace"
        self.environment = {
            **{name: value for name, value in os.environ.items() if name not in FORBIDDING},
            "HOME": str(folder / "home"),
            "XDG_CACHE_HOME": str(folder / "home/cache"),
            "TMPDIR": str(folder / "temporary"),
            # What the system's sound keeps of its own, whoever asks it for a loudspeaker.
            "XDG_CONFIG_HOME": str(self.sound.parent),
            "PULSE_RUNTIME_PATH": str(self.sound),
            "JOBLOG_BOOK": str(self.book),
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONPATH": os.pathsep.join([str(ROOT), str(ROOT / "tui")]),
            "TERM": "xterm-256color",
        }

    def watched(self, *words: str) -> list[str]:
        """The command that runs Python with these words and writes down what it asks for."""
        return [*ALONE, *WATCHED, "-o", str(self.trace), sys.executable, *words]

    def run(self, *words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            self.watched(*words), env=self.environment, capture_output=True, text=True,
            cwd=self.folder, umask=0,
        )  # fmt: skip

    def review(self) -> bytes:
        """Opens the review in a terminal and leaves it by its key; what the terminal got."""
        ours, theirs = pty.openpty()
        termios.tcsetwinsize(theirs, (40, 120))
        shown = b""
        with subprocess.Popen(
            self.watched("-m", "joblog", "review"),
            env=self.environment, cwd=self.folder, stdin=theirs, stdout=theirs, stderr=theirs,
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

    def calls(self) -> Iterator[tuple[str, str, str, bool]]:
        """What was asked of the system: while doing what, the call, its words, whether refused."""
        doing = "to begin with"
        for line in self.trace.read_text(errors="replace").splitlines():
            if BEGINS in line:
                doing = line.partition(BEGINS)[2].partition('"')[0]
                yield doing, "begins", "", False
            elif found := CALL.match(line):
                yield doing, found[1], found[2], (found[3] or "").startswith("-")

    def was_done(self) -> set[str]:
        return {doing.split()[0] for doing, call, *_ in self.calls() if call == "begins"}

    def asked_of_a_network(self) -> list[tuple[str, str]]:
        """While doing what, and what; refused or not."""
        return [
            (doing, f"{call}({words}")
            for doing, call, words, _ in self.calls()
            if call in ASKS and ADDRESS.search(words) and not SOUND.search(words)
        ]

    def written_elsewhere(self) -> list[tuple[str, str]]:
        """While doing what, and the files and folders outside the book, and outside what was named,
        that were made, changed or taken away."""
        ours = (self.book, self.folder / NAMED, self.sound, *map(Path, DEVICES))
        found = {
            (doing, str(path))
            for doing, call, words, refused in self.calls()
            if not refused and (call in CHANGES or (call in OPENS and WRITES.search(words)))
            for path in self._paths(words)
            if not any(path.is_relative_to(one) for one in ours)
        }
        return sorted(found)

    def _paths(self, words: str) -> list[Path]:
        return [Path(self.folder, base, path).resolve() for base, path in PATH.findall(words)]

    def left_behind(self) -> list[Path]:
        return [path for folder in self.nothing for path in folder.iterdir()]


@pytest.fixture
def home(tmp_path: Path) -> Home:
    (tmp_path / "person").mkdir()
    return Home(tmp_path / "person")


def kept_still(home: Home) -> bool:
    assert home.asked_of_a_network() == []
    assert home.written_elsewhere() == []
    return home.left_behind() == []


def test_the_watching_sees_what_is_asked_and_written(home: Home) -> None:
    program = (
        "import os, socket, pathlib; "
        "socket.socket(socket.AF_INET, socket.SOCK_DGRAM).connect_ex(('192.0.2.1', 9));"
        "from tests.outside.every_command import begins; begins('the writing');"
        "pathlib.Path('home/id').write_text('1'); os.rename('home/id', 'temporary/id');"
        "pathlib.Path('named/paper').write_text('1')"
    )
    assert home.run("-c", program).returncode == 0
    assert {doing for doing, _ in home.asked_of_a_network()} == {"to begin with"}
    assert home.written_elsewhere() == [
        ("the writing", str(home.folder / "home/id")),
        ("the writing", str(home.folder / "temporary/id")),
    ]
    assert home.left_behind() == [home.folder / "temporary/id"]


def test_every_command_has_words() -> None:
    assert {words[0] for words in COMMANDS} | set(OTHERWISE) == set(FILES)


def test_every_command_and_place_is_between_the_computer_and_itself(home: Home) -> None:
    done = home.run("-m", "tests.outside.every_command", str(home.folder))
    assert done.returncode == 0, done.stderr
    assert kept_still(home)
    assert home.was_done() == {*(words[0] for words in COMMANDS), every_command.SCREENS}
    books = [home.folder / book for book in BOOKS]
    assert [path for book in books for path in open_to_others(book)] == []


def open_to_others(book: Path) -> list[Path]:
    """Papers are there to be given away; the folder that they lie in is closed."""
    inside = [path for path in book.rglob("*") if path.parent.name != "papers"]
    return [path for path in (book, *inside) if path.stat().st_mode & 0o077]


def test_a_review_in_a_terminal_is_between_the_computer_and_itself(home: Home) -> None:
    assert home.run("-m", "joblog", "new", "Porch").returncode == 0
    assert kept_still(home)
    assert home.review()
    assert kept_still(home)


def test_only_what_is_to_fetch_something_asks_a_network(home: Home) -> None:
    done = home.run("-m", "joblog", "fetch-model")
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1
    assert home.asked_of_a_network() != []
