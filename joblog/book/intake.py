"""Files and folders into the book: copied, heard or looked at, and kept, one after the other."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book import ground, keep, media, ties
from joblog.book.compare import Verdict, compared
from joblog.book.copies import (
    Shorter,
    entries_of,
    keep_print,
    kept_sounds,
    settle,
    supersede,
)
from joblog.book.decisions import bring_back
from joblog.book.earlier import give_back, standing_before
from joblog.book.errors import BookError
from joblog.book.gather import gather
from joblog.book.hearing import (
    Found,
    Listen,
    Listened,
    Log,
    Met,
    Original,
    Outcome,
    Picture,
    Sound,
    Task,
    limits_of,
    lost,
    prepared,
    read_after,
    why,
)
from joblog.book.late import note_late
from joblog.book.media import Stowed
from joblog.book.progress import Gauge, Progress, nobody
from joblog.book.steps import JOBLOG, deciding
from joblog.book.store import Book
from joblog.book.verify import heal
from joblog.model import (
    BookEntry,
    HeardUtterance,
    Moment,
    Photo,
    Problem,
    Recording,
    Track,
    Vocabulary,
)
from joblog.workers import Limits, Lost, Pool

if TYPE_CHECKING:
    from joblog.audio.sameness import SoundPrint
    from joblog.dictation import Judgement
    from joblog.speech import Recognizer


@dataclass(frozen=True, slots=True)
class Intake:
    """What came of it. `already_there` counts files whose bytes the book had."""

    recordings: int
    photos: int
    already_there: int
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...]
    """Recordings that were passed over for one of the same sound, or took the place of one."""
    left_out: tuple[str, ...]
    """Files in the named folders that are neither recordings nor photos."""
    stopped: bool
    """Whether a person stopped it with Ctrl-C; taking in the same again does the rest."""
    tracks: int = 0
    """Logs of tracks."""
    healed: tuple[str, ...] = ()
    """Files whose original in the book was damaged or missing, and is whole again."""
    troubles: tuple[Problem, ...] = ()
    """What a person should know of recordings that came in, such as that one breaks off."""
    left: int = 0
    """Files that were not come to, where it was stopped."""


def take_in(
    book: Book,
    job: str,
    paths: Iterable[Path],
    *,
    recognizers: Sequence[Recognizer] | None = None,
    listen: Listen | None = None,
    judgement: Judgement | None = None,
    progress: Progress | None = None,
    workers: int = 2,
    limits: Limits | None = None,
) -> Intake:
    """Takes recordings, photos and logs of tracks, and folders of them, into a job.

    The photos are tied anew, and what was taken outside of the job's fence is told.

    What the book has already is passed over, also when the same sound comes cut, tagged or coded
    otherwise; a longer one takes the place of what is in it. Everything else comes in whole or not
    at all, and recordings come in the order in which they were made: stopped at any instant and run
    again, the book ends up as if it had not been stopped. A file that cannot be taken in is a
    problem in the answer and keeps no other from coming in.

    `recognizers` and `listen` (a function that can be imported by name) go to the processes that
    hear; those of joblog by default, and so `judgement` of what is heard. Whatever reads a file
    works there too, within `limits`.
    Raises `BookError` when there is no such job, or files are coming into this book already.
    """
    from joblog.plan import vocabulary

    place = book.job(job)
    words = vocabulary(book.plan(job), place, book.catalog(), book.names_of_jobs())
    ready: Callable[[], Callable[[Task], Outcome]] = partial(
        prepared, place.zone, words, recognizers, listen, judgement
    )
    gauge = Gauge(progress or nobody)
    tally = _Tally(job, gauge, judgement)
    with keep.taking_in(book):
        try:
            gauge.at("looking round")
            gathered = gather(paths, book.folder)
            tally.problems += gathered.problems
            tally.left_out += map(str, gathered.left_out)
            others = len(gathered.photos) + len(gathered.tracks)
            gauge.files = len(gathered.recordings) + others
            with Pool(ready, workers, limits or limits_of, tally.hears) as pool:
                new = _new(book, place.zone, gathered.recordings, pool, tally)
                sounds = [one.sound for one in new]
                pictures = _pictures(book, gathered.photos, tally)
                logs = _logs(book, gathered.tracks, tally)
                gauge.expect({one.sound.stowed.sha256: one.seconds for one in new}, others)
                behind = {one.sound.stowed.sha256: one for one in new}
                # Sounds last: whoever has loaded the models has no room left for a large photo.
                with closing(pool.answers(chain(pictures, logs, sounds))) as done:
                    for task, outcome in _in_turn(sounds, tally.counted(done)):
                        _keep(book, task, outcome, behind, tally, words)
        except KeyboardInterrupt:
            tally.stopped = True
        gauge.at("tying")
        try:
            ties.tie_photos(book, job)
        except BookError as error:
            tally.problems.append(Problem(job, f"photos are not tied to entries: {error}"))
        else:
            tally.notes += ground.notes(book, job, tally.seen)
    return Intake(
        tally.recordings,
        tally.photos,
        tally.already_there,
        tuple(dict.fromkeys(tally.problems)),
        tuple(tally.notes),
        tuple(tally.left_out),
        tally.stopped,
        tally.tracks,
        tuple(tally.healed),
        tuple(tally.troubles),
        gauge.files - gauge.done,
    )


@dataclass(slots=True)
class _Tally:
    """How far it has come."""

    job: str
    gauge: Gauge
    judgement: Judgement | None = None
    recordings: int = 0
    photos: int = 0
    tracks: int = 0
    already_there: int = 0
    seen: list[str] = field(default_factory=list)
    """SHA-256 of the photos that are new."""
    problems: list[Problem] = field(default_factory=list)
    notes: list[Problem] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    stopped: bool = False
    healed: list[str] = field(default_factory=list)
    troubles: list[Problem] = field(default_factory=list)

    def hears(self, task: Task, seconds: float) -> None:
        """So many seconds of a recording are heard."""
        if isinstance(task, Sound):
            self.gauge.hears(task.stowed.sha256, task.source.name, seconds)

    def counted(
        self, done: Iterable[tuple[Task, Outcome | Lost]]
    ) -> Iterator[tuple[Task, Outcome | Lost]]:
        """The same, and each is told of."""
        for task, outcome in done:
            if isinstance(task, Sound):
                self.gauge.hears(task.stowed.sha256, task.source.name)
            else:
                self.gauge.saw(task.source.name)
            yield task, outcome

    def finished(self, path: Path, problem: Problem | None = None) -> None:
        self.problems += [problem] if problem else []
        self.gauge.finished(path.name)


@dataclass(frozen=True, slots=True)
class _New:
    """A recording that the book does not have: what it sounds like, and which ones it replaces."""

    sound: Sound
    prints: SoundPrint | None
    shorter: tuple[Shorter, ...]

    @property
    def seconds(self) -> float:
        return self.prints.seconds if self.prints else 0.0


def _new(
    book: Book,
    zone: str,
    paths: Iterable[Path],
    pool: Pool[Task, Outcome],
    tally: _Tally,
) -> list[_New]:
    """The recordings that are new, copied into the store, in the order in which they were made."""
    found: list[tuple[Found, Met]] = []
    for task, outcome in pool.answers(_found(book, paths, tally)):
        if isinstance(task, Found) and isinstance(outcome, Met):
            found.append((task, outcome))
        else:
            _lose(book, task, outcome, tally)
    if not found:
        return []
    from joblog.audio.made import far_off

    _print_originals(book, pool)
    kept = kept_sounds(book)
    days = Counter(
        _day(one.made, zone) for one in kept if one.job == tally.job and one.standing != "withdrawn"
    )
    days.update(_day(met.made, zone) for _, met in found)
    new = []
    for (task, met), verdict in zip(found, compared(found, kept, tally.job), strict=True):
        if verdict.same_as is not None:
            _discard(book, task.stowed)
            _same(task.source, verdict, tally)
            continue
        own = _day(met.made, zone)
        others = {day for day, count in days.items() if count > (day == own)}
        known_better = verdict.made != met.made
        doubts = () if known_better else met.doubts
        if odd := far_off(verdict.made, zone, others):
            doubts = (*doubts, odd)
        decodes = met.sound is not None
        sound = Sound(
            task.source, task.copy, task.stowed, verdict.made, doubts, verdict.perhaps, decodes
        )
        new.append(_New(sound, met.sound, verdict.shorter))
    return sorted(new, key=lambda one: (one.sound.made.at, one.sound.stowed.sha256))


def _day(made: Moment, zone: str) -> date:
    return made.at.astimezone(ZoneInfo(zone)).date()


def _found(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[Found]:
    for path, stowed in _stowed(book, paths, tally):
        tally.gauge.copying(path.name)
        yield Found(path, book.store / stowed.media, stowed)


def _print_originals(book: Book, pool: Pool[Task, Outcome]) -> None:
    """Finds out what those sound like that an older joblog took in."""
    from joblog.audio.sameness import SILENT

    unknown = [one.sha256 for one in kept_sounds(book) if one.sound is None]
    tasks = (Original(book.media(sha256), sha256) for sha256 in unknown)
    for task, outcome in pool.answers(tasks):
        if isinstance(task, Original) and task.source.exists():
            sound = outcome.sound if isinstance(outcome, Met) else None
            keep_print(book, task.sha256, sound or SILENT)


def _same(path: Path, verdict: Verdict, tally: _Tally) -> None:
    if verdict.elsewhere is not None:
        why = f"has the same sound as {verdict.same_as}, in the job {verdict.elsewhere!r} already"
        tally.finished(path, Problem(str(path), f"{why}; left there."))
    else:
        why = f"passed over: it has the same sound as {verdict.same_as}, which the book has."
        tally.notes.append(Problem(str(path), why))
        tally.finished(path)


def _pictures(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[Picture]:
    """The photos that are new, each copied into the store when its turn comes."""
    for path, stowed in _stowed(book, paths, tally):
        yield Picture(path, book.store / stowed.media, stowed)


def _logs(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[Log]:
    for path, stowed in _stowed(book, paths, tally):
        yield Log(path, book.store / stowed.media, stowed)


def _stowed(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[tuple[Path, Stowed]]:
    lengths = book.lengths()
    met: set[str] = set()
    for path in paths:
        stowed = _copied(book, path, lengths, tally)
        if stowed is not None and stowed.sha256 in met:
            _passed_over(path, tally.job, tally)
            stowed = None
        if stowed is None:
            tally.gauge.passed()
            continue
        met.add(stowed.sha256)
        yield path, stowed


def _copied(book: Book, path: Path, lengths: Collection[int], tally: _Tally) -> Stowed | None:
    """A copy in the store; None, and told, for what the book has or what cannot be copied."""
    try:
        # Only what is as long as an original can be one; all else is read but once.
        known = path.stat().st_size in lengths and media.fingerprint(path)
        if known and (holder := book.holds(known)):
            if heal(book, path, known):
                tally.healed.append(str(path))
            if not (holder == tally.job and _back(book, path, known, tally)):
                _passed_over(path, holder, tally)
            return None
        return media.stow(book.store, path)
    except OSError as error:
        tally.finished(path, Problem(str(path), why(error)))
        return None


def _back(book: Book, path: Path, sha256: str, tally: _Tally) -> bool:
    """Brings a recording back that was withdrawn; False for one that was not, or may not."""
    try:
        if book.recording(sha256).standing == "kept":
            return False
        bring_back(book, sha256)
    except BookError:
        return False
    tally.notes.append(Problem(str(path), "was withdrawn; it is back, with its entries."))
    tally.recordings += 1
    tally.finished(path)
    return True


def _passed_over(path: Path, holder: str, tally: _Tally) -> None:
    if holder == tally.job:
        tally.already_there += 1
        tally.gauge.finished(path.name, already=True)
    else:
        tally.finished(path, Problem(str(path), f"is in the job {holder!r} already; left there."))


def _in_turn(
    sounds: Iterable[Sound], done: Iterable[tuple[Task, Outcome | Lost]]
) -> Iterator[tuple[Task, Outcome | Lost]]:
    """Photos as they are done, but every recording after those that were made before it."""
    due = deque(sounds)
    heard: dict[str, Outcome | Lost] = {}
    for task, outcome in done:
        if not isinstance(task, Sound):
            yield task, outcome
            continue
        heard[task.stowed.sha256] = outcome
        while due and due[0].stowed.sha256 in heard:
            sound = due.popleft()
            yield sound, heard.pop(sound.stowed.sha256)


def _keep(
    book: Book,
    task: Task,
    outcome: Outcome | Lost,
    new: Mapping[str, _New],
    tally: _Tally,
    words: Vocabulary,
) -> None:
    try:
        if isinstance(task, Sound) and isinstance(outcome, Listened):
            _keep_recording(book, new[task.stowed.sha256], outcome, tally, words)
            tally.recordings += 1
        elif isinstance(task, Picture) and isinstance(outcome, Photo):
            keep.keep_photo(book, tally.job, task.copy, outcome)
            tally.photos += 1
            tally.seen.append(outcome.sha256)
        elif isinstance(task, Log) and isinstance(outcome, Track):
            keep.keep_track(book, tally.job, task.copy, outcome)
            tally.tracks += 1
        else:
            _lose(book, task, outcome, tally)
            return
    except BookError as error:
        _lose(book, task, Problem(str(task.source), str(error)), tally)
        return
    tally.finished(task.source)


def _keep_recording(
    book: Book, new: _New, outcome: Listened, tally: _Tally, words: Vocabulary
) -> None:
    """Keeps a recording, read as what was said on its day after all that was said before it."""
    recording, job = outcome.recording, book.job(tally.job)
    shorter = [id for one in new.shorter for id in entries_of(book, one.sha256)]
    at = recording.made.at

    def read() -> tuple[tuple[BookEntry, ...], tuple[HeardUtterance, ...]]:
        before = standing_before(book, job.name, at)
        perhaps, judgement = new.sound.perhaps, tally.judgement
        return before, read_after(outcome, job.zone, words, before, perhaps, judgement)

    while True:
        before, heard = read()
        with book._writing():
            if shorter:
                # What they put right is put right by this one, which says the same.
                with deciding(book, JOBLOG) as step:
                    give_back(step, shorter)
                    step.what = f"is in {recording.name} too: what a shorter recording put right"
                before, heard = read()
            elif standing_before(book, job.name, at) != before:
                continue  # Somebody wrote or decided something while it was read.
            kept = _keep_read(book, new, recording, heard, tally, before)
            if kept:
                with deciding(book, JOBLOG) as step:
                    note_late(step, job.name, entries_of(book, recording.sha256), words)
        break
    if not kept:
        return
    if recording.trouble:
        tally.troubles.append(Problem(recording.name, recording.trouble))
    names = {one.sha256: one.name for one in kept_sounds(book)} if new.shorter else {}
    for one in new.shorter:
        why = f"takes the place of {names[one.sha256]}, which has only a part of it."
        tally.notes.append(Problem(str(new.sound.source), why))


def _keep_read(
    book: Book,
    new: _New,
    recording: Recording,
    heard: Sequence[HeardUtterance],
    tally: _Tally,
    before: Sequence[BookEntry],
) -> bool:
    from joblog.audio.sameness import SILENT

    settled = settle(book, heard, new.shorter)

    def also() -> None:
        keep_print(book, recording.sha256, new.prints or SILENT)
        supersede(book, recording.sha256, new.shorter, settled)

    copy = new.sound.copy
    return keep.keep_recording(book, tally.job, copy, recording, settled.heard, also, before=before)


def _lose(book: Book, task: Task, outcome: Outcome | Lost, tally: _Tally) -> None:
    """Takes the copy out again and says what was wrong."""
    if isinstance(task, Original):
        return
    _discard(book, task.stowed)
    if isinstance(outcome, Problem):
        tally.finished(task.source, outcome)
    else:
        why = lost(outcome if isinstance(outcome, Lost) else Lost("died"))
        tally.finished(task.source, Problem(str(task.source), why))


def _discard(book: Book, stowed: Stowed) -> None:
    """Takes a copy out again, but not one that listening has put into the book meanwhile."""
    if book.holds(stowed.sha256) is None:
        media.discard(book.store, stowed)
