"""Kills every command that writes, at any instant, runs it again, and looks what the book holds.

    python -m tests.bench.kills --kills 5000 [--seed N] [--only WORD] [--results FILE]

Each command of the command line, and the screens, work on a small book of their own, in a fork of
this process that dies before or in the middle of one of its calls that change the disk, or after a
time drawn at random. Then the same is run again, and every row of every table, every original and
every file is held against those of a run that nobody disturbed.

What is not as at home: the time of day stands still, so that two runs write the same moments; what
is taken in is read in the same process, and heard by ears that read a text file. Not compared are
locks, what SQLite makes anew, how the stock stood and what was looked at (both are worked out again
where they are not there), which run told what, and the identity that a new book draws for itself.
Left over is where all is as it should be, but beside it lies a hidden file of what was being
written. Needs Linux and a C compiler. Exit status 1 where anything was lost, doubled or different.
"""

from __future__ import annotations

import argparse
import gc
import json
import os
import random
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from importlib import import_module
from pathlib import Path

from joblog.cli.command import FILES
from tests.bench.kills import screens, shim
from tests.bench.kills.cases import BEGUN, CASES, Case, lay_out, spoil, without_words
from tests.bench.kills.running import Zygote, command, instants

SCRATCH = Path("/dev/shm") if Path("/dev/shm").is_dir() else Path(tempfile.gettempdir())


def main() -> int:
    parser = argparse.ArgumentParser("tests.bench.kills", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--kills", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="Cases whose words hold this.")
    parser.add_argument("--results", type=Path, help="A line of JSON for each kill is added there.")
    parser.add_argument(
        "--shown", type=int, default=3, help="Kills told of each case that differs."
    )
    asked = parser.parse_args()
    if not shim.loaded():
        return with_the_shim("tests.bench.kills")
    with tempfile.TemporaryDirectory(dir=SCRATCH, prefix="kills-") as made:
        return kill_all(Path(made), asked)


def with_the_shim(module: str) -> int:
    """Begins this program anew, with the shim in it; its exit status."""
    with tempfile.TemporaryDirectory(prefix="shim-") as made:
        environment = shim.environment(shim.built(Path(made)))
        words = [sys.executable, "-m", module, *sys.argv[1:]]
        return os.waitstatus_to_exitcode(
            os.waitpid(os.spawnve(os.P_NOWAIT, sys.executable, words, environment), 0)[1]
        )


@dataclass(slots=True)
class Killed:
    """A kill, and what came of it when the same was run again."""

    case: str
    instant: str
    outcome: str
    where: str
    status: int
    told_same: bool
    said: str


def kill_all(scratch: Path, asked: argparse.Namespace) -> int:
    if unsaid := without_words(set(FILES)):
        raise SystemExit(f"no words in `cases` for: {', '.join(sorted(unsaid))}")
    load()
    zygote, dice = Zygote(scratch), random.Random(asked.seed)
    templates = Templates(scratch, zygote)
    chosen = [one for one in CASES if asked.only is None or asked.only in one.name]
    whole = sum(one.share for one in chosen)
    print(f"{'':58} calls  kills  same  left  lost doubled different  told otherwise", flush=True)
    sums: Counter[str] = Counter()
    begun = time.process_time()
    for case in chosen:
        many = max(1, round(asked.kills * case.share / whole))
        found = list(kills_of(zygote, templates, case, many, dice))
        counted = Counter(one.outcome for one in found)
        counted["calls"], counted["kills"] = templates.calls[case], len(found)
        counted["told otherwise"] = sum(not one.told_same for one in found)
        sums += counted
        _print_line(case.name, counted)
        for one in [one for one in found if one.outcome != "same"][: asked.shown]:
            print(f"    killed {one.instant}: {one.outcome}: {one.where[:600]}", flush=True)
        if asked.results:
            with asked.results.open("a") as lines:
                lines.writelines(json.dumps(asdict(one)) + "\n" for one in found)
    _print_line("all", sums)
    seconds = time.process_time() - begun + sum(os.times()[2:4])
    print(f"{seconds:.0f} s of processor")
    return 1 if sums["lost"] + sums["doubled"] + sums["different"] else 0


def kills_of(
    zygote: Zygote, templates: Templates, case: Case, many: int, dice: random.Random
) -> Iterator[Killed]:
    """Kills a case so many times, and runs it again each time."""
    from tests.bench.kills.state import outcome, state

    do = case.do or command(case.words)
    zygote.begin(templates.of(case))
    log = zygote.scratch / "log"
    undisturbed = zygote.run(do, log=log)
    zygote.load_what_it_loaded()
    templates.calls[case] = undisturbed.calls
    expected = state(afterwards(zygote, case))
    if undisturbed.status not in case.ends_with:
        print(f"{case.name}: ends with {undisturbed.status} undisturbed: {undisturbed.complained}")
    halves = [at for at, call in enumerate(noted(log), 1) if call == "write"]
    for instant in instants(undisturbed.calls, halves, undisturbed.seconds, many, dice):
        zygote.begin(templates.of(case))
        first = zygote.run(do, instant)
        again = zygote.run(do) if first.killed else first
        try:
            came, where = outcome(expected, state(afterwards(zygote, case)))
        except Exception as error:
            came, where = "lost", f"{type(error).__name__}: {error}"
        same = (again.status, again.told) == (undisturbed.status, undisturbed.told)
        said = "" if same else f"{again.status} {again.told[-200:]} {again.complained[-200:]}"
        yield Killed(case.name, str(instant), came, where, again.status, same, said)


def afterwards(zygote: Zygote, case: Case) -> Path:
    """The folder, after what is said afterwards."""
    if case.after:
        zygote.run(command(case.after))
    return zygote.world


def noted(log: Path) -> Iterator[str]:
    """The kinds of calls that were written down."""
    from tests.bench.kills.power import calls_of

    return (call.what for call in calls_of(log) if call.what != "tell")


class Templates:
    """The folders that cases begin with, each made once."""

    def __init__(self, scratch: Path, zygote: Zygote) -> None:
        self._scratch, self._zygote = scratch, zygote
        self._made: dict[tuple[tuple[str, ...], ...], Path] = {}
        self.calls: dict[Case, int] = {}
        empty = scratch / "laid out"
        lay_out(empty)
        self._empty = empty

    def of(self, case: Case) -> Path:
        return self._after((*BEGUN, *case.before))

    def _after(self, said: tuple[tuple[str, ...], ...]) -> Path:
        if not said:
            return self._empty
        if said not in self._made:
            self._zygote.begin(self._after(said[:-1]))
            if said[-1] == ("(spoil)",):
                spoil(self._zygote.world)
            elif said[-1] == ("(evening)",):
                self._zygote.run(lambda: screens.fill(self._zygote.world))
            elif (ran := self._zygote.run(command(said[-1]))).status:
                raise SystemExit(f"{' '.join(said[-1])}: {ran.complained}")
            made = self._scratch / f"template {len(self._made)}"
            shutil.copytree(self._zygote.world, made)
            self._made[said] = made
        return self._made[said]


def load() -> None:
    """Loads all that a command may need, so that a fork has it already."""

    from joblog.dictation import read
    from joblog.model import Vocabulary
    from tests.bench.kills import quick

    for name in {*FILES.values()}:
        import_module(f"joblog.cli.{name}")
    for name in LOADED:
        import_module(name)
    quick.put_in_place()
    read("used two sheets of soffit", Vocabulary())  # The first words take the longest.
    gc.collect()
    gc.freeze()


LOADED = (
    "joblog.service", "joblog.service.taking_in", "joblog.service.planning", "joblog.dictation",
    "joblog.service.bidding", "joblog.book.intake", "joblog.papers.day", "joblog.papers.html",
    "joblog.report", "joblog.report.bid", "joblog.listening.start", "joblog.listening.session",
    "joblog.audio.sameness", "joblog.audio.decode", "joblog.photos", "joblog.service.papers",
    "joblog.voice", "sqlite_utils", "joblog.service.covered", "joblog.service.learning",
    "joblog.report.planned", "joblog.service.voice", "tests.listening.talking",
    "PIL.JpegImagePlugin", "joblog.service.watching",
)  # fmt: skip


def _print_line(name: str, counted: Counter[str]) -> None:
    columns = ("calls", "kills", "same", "left over", "lost", "doubled", "different")
    calls, kills, same, left, lost, doubled, different = (counted[one] for one in columns)
    print(
        f"{name[:57]:58}{calls:6}{kills:7}{same:6}{left:6}{lost:6}{doubled:8}{different:10}"
        f"{counted['told otherwise']:16}",
        flush=True,
    )


if __name__ == "__main__":
    sys.exit(main())
