"""Pulls the plug on every command that writes, at every moment, on a disk that keeps little.

    python -m tests.bench.kills.plug --draws 100 [--seed N] [--only WORD] [--results FILE]

The calls of one undisturbed run are done again on a disk as in `power`: before and after every
sync, renaming and line that a person was told, so many disks are drawn that may be left. Each is
opened: SQLite finds the book whole, and what a command had told to its end is there. On each whose
books do not hold the same as another's, and on every twentieth of all, `joblog check` finds
nothing, and the same command said again ends as if nothing had happened; only one that had ended by
itself is not said again, for that would be a second time.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import random
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from tests.bench.kills import shim
from tests.bench.kills.__main__ import SCRATCH, Templates, afterwards, load, with_the_shim
from tests.bench.kills.cases import Case
from tests.bench.kills.power import Call, Disk, calls_of, lay
from tests.bench.kills.running import Zygote, command

END = "at the end"
EVERY = 20
"""Of disks whose books hold the same, every so-many-th gets the commands too."""


def main() -> int:
    parser = argparse.ArgumentParser("tests.bench.kills.plug", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--draws", type=int, default=100, help="At each moment of each command.")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="Cases whose words hold this.")
    parser.add_argument("--results", type=Path, help="A line of JSON for each is added there.")
    parser.add_argument("--shown", type=int, default=3)
    asked = parser.parse_args()
    if not shim.loaded():
        return with_the_shim("tests.bench.kills.plug")
    with tempfile.TemporaryDirectory(dir=SCRATCH, prefix="plug-") as made:
        return pull_all(Path(made), asked)


@dataclass(slots=True)
class Pulled:
    """A disk that was drawn, and what is wrong with it; "" for nothing."""

    case: str
    moment: str
    wrong: str
    where: str
    ran: bool


def pull_all(scratch: Path, asked: argparse.Namespace) -> int:
    from tests.bench.kills.cases import CASES

    load()
    zygote, dice = Zygote(scratch), random.Random(asked.seed)
    templates = Templates(scratch, zygote)
    sums: Counter[str] = Counter()
    print(f"{'':58}moments  disks   run  wrong", flush=True)
    for case in CASES:
        if case.only_reads or (asked.only is not None and asked.only not in case.name):
            continue
        found = list(pulled(zygote, templates, case, asked.draws, dice))
        wrong = [one for one in found if one.wrong]
        counted = {
            "moments": len({one.moment for one in found}),
            "disks": len(found),
            "run": sum(one.ran for one in found),
            "wrong": len(wrong),
        }
        sums.update(counted)
        _print_line(case.name, counted)
        kinds = {one.wrong: one for one in reversed(wrong)}
        for kind, one in list(kinds.items())[: asked.shown]:
            times = sum(other.wrong == kind for other in wrong)
            print(f"    {times} x {kind}, first {one.moment}: {one.where[:500]}", flush=True)
        if asked.results:
            with asked.results.open("a") as lines:
                lines.writelines(json.dumps(asdict(one)) + "\n" for one in found)
    _print_line("all", sums)
    return 1 if sums["wrong"] else 0


def pulled(
    zygote: Zygote, templates: Templates, case: Case, draws: int, dice: random.Random
) -> Iterator[Pulled]:
    """Every disk that was drawn of a command."""
    from tests.bench.kills.state import state

    do = case.do or command(case.words)
    template = templates.of(case)
    zygote.begin(template)
    log = zygote.scratch / "log"
    undisturbed = zygote.run(do, log=log)
    zygote.load_what_it_loaded()
    if undisturbed.status not in case.ends_with:
        print(f"{case.name}: ends with {undisturbed.status}: {undisturbed.complained}")
    real = {
        path.relative_to(zygote.world).as_posix(): None if path.is_dir() else path.read_bytes()
        for path in zygote.world.rglob("*")
        if not path.name.endswith("-shm")
    }
    expected = state(afterwards(zygote, case))
    calls = list(calls_of(log))
    disk, known = Disk(template, zygote.world), set[bytes]()
    looked: dict[bytes, int] = {}
    told_all = max((at for at, call in enumerate(calls) if call.what == "tell"), default=len(calls))
    for at, call in enumerate([*calls, None]):
        if _is_a_moment(calls, at):
            for _ in range(draws):
                found = disk.drawn(dice)
                if (mark := _mark(found, at > told_all)) not in known:
                    known.add(mark)
                    moment = f"before call {at + 1} of {len(calls)}" if call else END
                    told = at > told_all
                    yield _look(zygote, case, found, moment, told, expected, undisturbed, looked)
        if call is not None:
            disk.do(call)
    _must_be_like_it(disk, real, case)


def _must_be_like_it(disk: Disk, real: dict[str, bytes | None], case: Case) -> None:
    """With all of it on the disk, the folder is what the run left: else a call was not seen."""
    model = {path: said for path, said in disk.drawn(None).items() if not path.endswith("-shm")}
    if other := [path for path in {*model, *real} if model.get(path, 0) != real.get(path, 0)]:
        raise SystemExit(f"{case.name}: the calls do not lead to what is in {other[:5]}")


def _is_a_moment(calls: list[Call], at: int) -> bool:
    around = calls[max(0, at - 1) : at + 1]
    return at == len(calls) or any(call.what in ("sync", "tell", "rename") for call in around)


def _look(zygote, case, found, moment, told, expected, undisturbed, looked) -> Pulled:  # type: ignore[no-untyped-def]
    from tests.bench.kills.state import outcome, state, whole

    shutil.rmtree(zygote.world, ignore_errors=True)
    zygote.world.mkdir()
    lay(found, zygote.world)

    def wrong(what: str, where: str, ran: bool = False) -> Pulled:
        return Pulled(case.name, moment, what, where, ran)

    try:
        if broken := whole(zygote.world):
            return wrong("SQLite finds it broken", "; ".join(broken[:3]))
        left = state(afterwards(zygote, case) if told else zygote.world)
    except Exception as error:
        return wrong("cannot be opened", f"{type(error).__name__}: {error}")
    if told and (lacks := _lacks(expected, left)):
        return wrong("told, and not there", lacks)
    digest = hashlib.sha256(repr((left.digest(), told)).encode()).digest()
    times = looked[digest] = looked.get(digest, 0) + 1
    if times % EVERY != 1:
        return wrong("", "")
    ended = moment == END
    if (zygote.world / "book/book.sqlite").exists():
        checked = zygote.run(command(("check",)))
        if checked.status:
            return wrong("check finds", checked.complained, ran=True)
    if ended:
        return wrong("", "", ran=True)
    again = zygote.run(case.do or command(case.words))
    came, where = outcome(expected, state(afterwards(zygote, case)))
    if came not in ("same", "left over"):
        return wrong(f"{came} when run again", where, ran=True)
    if again.status != undisturbed.status:
        return wrong("ends otherwise when run again", again.complained[-300:], ran=True)
    return wrong("", "", ran=True)


def _lacks(expected, left) -> str:  # type: ignore[no-untyped-def]
    """What of all that should be there is not; more files may be."""
    for table, rows in expected.rows.items():
        if rows != left.rows.get(table):
            return f"{table} {next(iter(rows - left.rows.get(table, Counter())), '')}"[:300]
    return next(
        (f"no {name}" for name, mark in expected.files.items() if left.files.get(name) != mark), ""
    )


def _mark(found: dict[str, bytes | None], told: bool) -> bytes:
    digest = hashlib.sha256(str(told).encode())
    for path in sorted(found):
        digest.update(path.encode() + b"\0" + (found[path] or b"") + b"\0")
    return digest.digest()


def _print_line(name: str, counted: Counter[str] | dict[str, int]) -> None:
    numbers = [counted[one] for one in ("moments", "disks", "run", "wrong")]
    moments, disks, run, wrong = numbers
    print(f"{name[:57]:58}{moments:7}{disks:7}{run:6}{wrong:7}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
