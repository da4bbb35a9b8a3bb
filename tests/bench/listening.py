"""Something listens through a day on the site; what it wrote down is held against what was said.

    python -m tests.bench.listening [--day open|locked] [--minutes 480] [--dense 1]
        [--listener session|plain] [--speaker earpiece|belt|loudspeaker] [--kills 0] [--seed 1]
        [--fast] [--folder FOLDER] [--show] [--again]

Who may run it on which day is said in `site_day.py`; `--show` (what was missed or went wrong) works
on the open day only, and leaves out the corpus' lines even there.

The listener runs in a process of its own. Where nobody speaks and nothing is answered the day goes
by as fast as it can be listened to; elsewhere it takes as long as it takes. So 8 hours take about
an hour and a half, 30 minutes with `--dense 4` about ten minutes. `--kills 5` kills it five times,
three of them within three seconds after something was said, and starts it again where the
microphone was.

What is counted, and how:
- found: half of a true utterance or more lies in what the listener took for speech to it (what it
  reported as found, and the recordings in the book).
- false: entries made of what the person never said, whatever their standing (strictly), and those
  of them that wait for nobody (leniently). It also counts what was said aloud for nothing.
- facts: what stands at the end of the day of each scene, after everything scratched, corrected and
  answered by ear. Exact has the kind, item and every number, strictly also the place (where none
  was said, none or the last one said). A wrong or missing one is "asked" where a doubt stands for
  it, else a silent error.
- latency: from the true end of speech to the first sample played after it.
- CPU: of the listener's processes, less what the site itself takes; memory: resident, their sum.
  What a listener does by the wall clock while the day is skipped is not seen.
Folder: `log.jsonl` (what happened when), `book` (as it was at the end), `plan.json` (the day).
"""

from __future__ import annotations

import argparse
import json
import math
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from fixtures.voices import VoiceError
from joblog.book import Book
from joblog.form import entry_to_json
from joblog.model import Job, Plan, PlannedTask, Task
from joblog.service import Desk, open_desk
from tests.bench.corpus import PLACES, TASKS
from tests.bench.site import plain
from tests.bench.site.measure import Cost, Kept, Run, measure, report
from tests.bench.site.world import BEGUN, SPEAKERS, Log, Piped, Site
from tests.bench.site_day import HOURS, SEED, Day, day, from_json, to_json

JOB = "The house by the orchard"


def listen_by_session(desk: Desk, site: Site, told: Callable[..., None]) -> None:
    """The adapter: the listener that comes with joblog, at this site's microphone and speaker.

    The measure wants to be told of each utterance that is found, and when a question is begun; the
    rest it sees in the book and hears from the speaker.
    """
    from joblog.aloud.voices import best_voice
    from joblog.listening.doing import AtOnce, Beside
    from joblog.listening.ear import Ear
    from joblog.listening.session import Answered, Event, Found, Session, listen
    from joblog.service.listening import said_through
    from joblog.speech.streaming import WordsSoFar

    def on_event(event: Event) -> None:
        match event:
            case Found(at, seconds):
                told("found", start=at, end=at + timedelta(seconds=seconds))
            case Answered(words=words, question=True):
                told("question", text=words)
            case _:
                pass

    doing = Beside if site.paced else AtOnce
    ear = Ear(desk.vocabulary)
    try:
        listen(
            Session(
                desk,
                site,
                site,
                doing(),
                doing(),
                ear,
                best_voice(said_through(desk), "espeak"),
                words=WordsSoFar(),
                on_event=on_event,
            )
        )
    finally:
        ear.close()


def listen_plainly(desk: Desk, site: Site, told: Callable[..., None]) -> None:
    """The plain listener, to have something to compare with."""
    plain.listen(desk, site, plain.Espeak(), told)


LISTENERS = {"session": listen_by_session, "plain": listen_plainly}


def main(arguments: Sequence[str] | None = None) -> None:
    asked = _arguments(arguments)
    if asked.child:
        _listen_once(asked)
        return
    if asked.show and asked.day == "locked":
        sys.exit("what went wrong on the locked day is shown to nobody")
    with tempfile.TemporaryDirectory() as scratch:
        folder = asked.folder or Path(scratch)
        folder.mkdir(parents=True, exist_ok=True)
        if not (asked.again and (folder / "log.jsonl").exists()):
            _run(folder, asked)
        run = gathered(folder)
    figures = measure(run)
    print(f"{asked.day} day, voice {run.day.voice}, {asked.listener}, speaker {asked.speaker}")
    print("\n".join(report(figures, run)))
    if asked.show:
        for one in figures.missed:
            print(f"  missed at {run.spoken[one.number][0]:.1f} s: {_words(one.text, one.secret)}")
        for at, what in sorted(figures.false):
            near = [
                f"{one.kind} {one.text}".strip()
                for one in run.day.around
                if one.at < at + 2 and at - 6 < one.end and (one.text or one.kind != "rain")
            ]
            print(f"  for nothing at {at:.1f} s: {what}; sounding: {', '.join(near) or 'nothing'}")
        for scene, shown in figures.wrong:
            said = [one for one in run.day.said if one.scene == scene and one.number in run.spoken]
            if any(one.secret for one in said):
                print(f"  {run.day.scenes[scene]}: a line of the corpus")
                continue
            texts = " / ".join(one.text for one in said)
            at = run.spoken[said[0].number][0]
            print(f"  {run.day.scenes[scene]} at {at:.1f} s: {texts}\n    became {shown}")


def _words(text: str, secret: bool) -> str:
    return "a line of the corpus" if secret else text


def _run(folder: Path, asked: argparse.Namespace) -> None:
    """The whole day, started again after each kill."""
    for old in ("log.jsonl", "position", "plan.json"):
        (folder / old).unlink(missing_ok=True)
    shutil.rmtree(folder / "book", ignore_errors=True)
    try:
        made = day(asked.day, asked.minutes * 60, asked.dense)
    except VoiceError as error:
        sys.exit(str(error))
    (folder / "plan.json").write_text(to_json(made), encoding="utf-8")
    kills = instants(made, asked.kills, asked.seed)
    begin = 0
    while True:
        coming = [at for at in kills if at > begin]
        command = [
            sys.executable,
            "-m",
            "tests.bench.listening",
            "--child",
            "--folder",
            str(folder),
        ]
        command += ["--listener", asked.listener, "--speaker", asked.speaker]
        command += ["--fast"] if asked.fast else []
        command += ["--begin", str(begin)] + (["--kill-at", str(coming[0])] if coming else [])
        environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
        status = subprocess.run(command, env=environment).returncode
        if status == 0:
            return
        if status != -signal.SIGKILL:
            sys.exit(f"listening ended with status {status}")
        position = float((folder / "position").read_text())
        begin = math.ceil(position)
        kills = [at for at in kills if at > position]
        Log(folder / "log.jsonl")("again", died=position, at=float(begin))


def instants(made: Day, count: int, seed: int) -> list[float]:
    """When to kill: three of five soon after something was said, the others at any time."""
    chance = random.Random(seed)
    ends = [one.at + one.seconds for one in made.said if not one.after]
    early = min(10.0, made.seconds / 10)
    return sorted(
        chance.choice(ends) + chance.uniform(0.0, 3.0)
        if number % 5 in (0, 2, 4) and ends
        else chance.uniform(early, made.seconds - early)
        for number in range(count)
    )


def _listen_once(asked: argparse.Namespace) -> None:
    folder: Path = asked.folder
    made = from_json((folder / "plan.json").read_text("utf-8"))
    log = Log(folder / "log.jsonl")
    already = {row["number"]: (row["start"], row["end"]) for row in _rows(folder, "said")}
    noises = Piped(made, asked.begin, folder)
    try:
        site = Site(
            made,
            log,
            noises,
            begin=asked.begin,
            already=already,
            speaker=asked.speaker,
            position=folder / "position",
            kill_at=asked.kill_at,
            aside=(noises.pid,),
            pace=not asked.fast,
        )
        with desk_of(folder / "book") as desk:
            LISTENERS[asked.listener](desk, site, teller(site))
    finally:
        noises.close()


def teller(site: Site) -> Callable[..., None]:
    """What takes a listener's reports: their moments become seconds of the day."""

    def told(what: str, **more: Any) -> None:
        site.told(
            what,
            **{
                name: (value - BEGUN).total_seconds() if isinstance(value, datetime) else value
                for name, value in more.items()
            },
        )

    return told


class desk_of:  # noqa: N801 - used as a function is
    """A desk at the day's job, in the book of that folder; the book is made where there is none."""

    def __init__(self, folder: Path) -> None:
        made = (folder / "book.sqlite").exists()
        self._book = Book.open(folder) if made else Book.create(folder)

    def __enter__(self) -> Desk:
        if not self._book.jobs():
            self._book.add_job(Job(JOB, "America/New_York", PLACES))
            tasks = tuple(PlannedTask(Task(name, said), 1) for name, said in TASKS.items())  # type: ignore[arg-type]
            self._book.set_plan(JOB, Plan(tasks=tasks, places=PLACES))
        return open_desk(self._book, JOB)

    def __exit__(self, *_: object) -> None:
        self._book.close()


def gathered(folder: Path) -> Run:
    """All that is known of the run in a folder."""
    made = from_json((folder / "plan.json").read_text("utf-8"))
    spoken = {
        row["number"]: (row["start"], row["end"])
        for row in _rows(folder, "said")
        if row["start"] >= 0
    }
    stopped = {row["start"]: row["end"] for row in _rows(folder, "stop")}
    plays = tuple(
        (row["start"], stopped.get(row["start"], row["start"] + row["whole"]), row["whole"])
        for row in _rows(folder, "play")
    )
    with Book.open(folder / "book") as book:
        recordings = tuple(
            (start := _seconds(one.made.at), start + one.seconds, one.sha256)
            for one in book.recordings(JOB)
        )
        kept = tuple(_kept(book))
    return Run(
        made,
        spoken,
        plays,
        tuple((row["start"], row["end"]) for row in _rows(folder, "found")),
        recordings,
        kept,
        tuple(Cost(row["at"], row["cpu"], row["memory"]) for row in _rows(folder, "cost")),
        tuple((row["died"], row["at"]) for row in _rows(folder, "again")),
        any(row["echo"] is not None for row in _rows(folder, "begun")),
    )


def _kept(book: Book) -> Iterator[Kept]:
    utterances = {one.id: one for one in book.utterances(JOB)}
    for entry in book.entries(JOB):
        start = end = _seconds(entry.at)
        recording = ""
        if entry.utterance in utterances:
            one = utterances[entry.utterance]
            start = _seconds(one.at)
            end = start + one.utterance.end - one.utterance.start
            recording = one.recording
        dropped = entry.standing == "dropped"
        yield Kept(start, end, entry_to_json(entry.entry), entry.open, dropped, recording)


def _seconds(at: datetime) -> float:
    return (at - BEGUN) / timedelta(seconds=1)


def _rows(folder: Path, what: str) -> list[dict[str, Any]]:
    file = folder / "log.jsonl"
    if not file.exists():
        return []
    found = []
    for text in file.read_text("utf-8").splitlines():
        try:
            row = json.loads(text)
        except ValueError:  # It was being written when its writer was killed.
            continue
        if row["what"] == what:
            found.append(row)
    return found


def _arguments(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser("tests.bench.listening", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--day", choices=tuple(SEED), default="open")
    parser.add_argument("--minutes", type=float, default=HOURS * 60)
    parser.add_argument("--dense", type=float, default=1.0)
    parser.add_argument("--listener", choices=tuple(LISTENERS), default="session")
    parser.add_argument("--speaker", choices=tuple(SPEAKERS), default="belt")
    parser.add_argument("--fast", action="store_true", help="never wait; latencies are reckoned")
    parser.add_argument("--kills", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1, help="of the kills")
    parser.add_argument("--folder", type=Path, help="kept there; else thrown away")
    parser.add_argument("--show", action="store_true")
    parser.add_argument("--again", action="store_true", help="only count what is in --folder")
    parser.add_argument("--child", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--begin", type=int, default=0, help=argparse.SUPPRESS)
    parser.add_argument("--kill-at", type=float, help=argparse.SUPPRESS)
    return parser.parse_args(arguments)


if __name__ == "__main__":
    main()
