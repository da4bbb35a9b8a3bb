"""Files and folders into the book: copied, heard or looked at, and kept, one after the other."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from functools import partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book import keep, media, ties
from joblog.book.gather import gather
from joblog.book.hearing import Listen, Listened, Outcome, Picture, Sound, prepared, why
from joblog.book.media import Stowed
from joblog.book.schema import BookError
from joblog.book.store import Book
from joblog.book.verify import heal
from joblog.book.workers import Died, answers
from joblog.model import Photo, Problem

if TYPE_CHECKING:
    from joblog.speech import Recognizer

Progress = Callable[[int, int, str], None]
"""Files done, files in all, and what is being done."""


@dataclass(frozen=True, slots=True)
class Intake:
    """What came of it. `already_there` counts files whose bytes the book had."""

    recordings: int
    photos: int
    already_there: int
    problems: tuple[Problem, ...]
    left_out: tuple[str, ...]
    """Files in the named folders that are neither recordings nor photos."""
    stopped: bool
    """Whether a person stopped it with Ctrl-C; taking in the same again does the rest."""
    healed: tuple[str, ...] = ()
    """Files whose original in the book was damaged or missing, and is whole again."""


def take_in(
    book: Book,
    job: str,
    paths: Iterable[Path],
    *,
    recognizers: Sequence[Recognizer] | None = None,
    listen: Listen | None = None,
    progress: Progress | None = None,
    workers: int = 2,
) -> Intake:
    """Takes recordings and photos, and folders of them, into a job, and ties the photos anew.

    What the book has already is passed over. Everything else comes in whole or not at all, and
    recordings come in the order in which they were made: stopped at any instant and run again, the
    book ends up as if it had not been stopped. A file that cannot be taken in is a problem in the
    answer and keeps no other from coming in.

    `recognizers` and `listen` (a function that can be imported by name) go to the processes that
    hear; those of joblog by default. Raises `BookError` when there is no such job, or files are
    coming into this book already.
    """
    from joblog.plan import vocabulary

    place = book.job(job)
    words = vocabulary(book.plan(job), place, book.catalog())
    ready: Callable[[], Callable[[Sound | Picture], Outcome]] = partial(
        prepared, place.zone, words, recognizers, listen
    )
    tally = _Tally(job, progress or _silently)
    with keep.taking_in(book):
        try:
            gathered = gather(paths, book.folder)
            tally.problems += gathered.problems
            tally.left_out += map(str, gathered.left_out)
            tally.total = len(gathered.recordings) + len(gathered.photos)
            sounds = _sounds(book, place.zone, gathered.recordings, tally)
            pictures = _pictures(book, gathered.photos, tally)
            tasks: Iterator[Sound | Picture] = chain(sounds, pictures)
            with closing(answers(tasks, ready, workers)) as done:
                for task, outcome in _in_turn(sounds, done):
                    _keep(book, task, outcome, tally)
        except KeyboardInterrupt:
            tally.stopped = True
        try:
            ties.tie_photos(book, job)
        except BookError as error:
            tally.problems.append(Problem(job, f"photos are not tied to entries: {error}"))
    return Intake(
        tally.recordings,
        tally.photos,
        tally.already_there,
        tuple(dict.fromkeys(tally.problems)),
        tuple(tally.left_out),
        tally.stopped,
        tuple(tally.healed),
    )


@dataclass(slots=True)
class _Tally:
    """How far it has come."""

    job: str
    progress: Progress
    total: int = 0
    done: int = 0
    recordings: int = 0
    photos: int = 0
    already_there: int = 0
    problems: list[Problem] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    stopped: bool = False
    healed: list[str] = field(default_factory=list)

    def doing(self, what: str) -> None:
        self.progress(self.done, self.total, what)

    def finished(self, path: Path, problem: Problem | None = None) -> None:
        self.problems += [problem] if problem else []
        self.done += 1
        self.doing(path.name)


def _sounds(book: Book, zone: str, paths: Iterable[Path], tally: _Tally) -> list[Sound]:
    """The recordings that are new, copied into the store, in the order in which they were made."""
    from joblog.audio.made import made_at

    sounds = []
    for path, stowed in _stowed(book, paths, tally):
        try:
            made = made_at(path, zone, 0.0)
        except OSError as error:
            media.discard(book.store, stowed)
            tally.finished(path, Problem(str(path), why(error)))
        else:
            sounds.append(Sound(path, book.store / stowed.media, stowed, made))
    return sorted(sounds, key=lambda sound: (sound.made.at, sound.stowed.sha256))


def _pictures(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[Picture]:
    """The photos that are new, each copied into the store when its turn comes."""
    for path, stowed in _stowed(book, paths, tally):
        yield Picture(path, book.store / stowed.media, stowed)


def _stowed(book: Book, paths: Iterable[Path], tally: _Tally) -> Iterator[tuple[Path, Stowed]]:
    lengths = book.lengths()
    met: set[str] = set()
    for path in paths:
        tally.doing(f"copying {path.name}")
        try:
            # Only what is as long as an original can be one; all else is read but once.
            known = path.stat().st_size in lengths and media.fingerprint(path)
            if known and (holder := book.holds(known)):
                if heal(book, path, known):
                    tally.healed.append(str(path))
                _passed_over(path, holder, tally)
                continue
            stowed = media.stow(book.store, path)
        except OSError as error:
            tally.finished(path, Problem(str(path), why(error)))
            continue
        if stowed.sha256 in met:
            _passed_over(path, tally.job, tally)
            continue
        met.add(stowed.sha256)
        yield path, stowed


def _passed_over(path: Path, holder: str, tally: _Tally) -> None:
    if holder == tally.job:
        tally.already_there += 1
        tally.finished(path)
    else:
        tally.finished(path, Problem(str(path), f"is in the job {holder!r} already; left there."))


def _in_turn(
    sounds: Iterable[Sound], done: Iterable[tuple[Sound | Picture, Outcome | Died]]
) -> Iterator[tuple[Sound | Picture, Outcome | Died]]:
    """Photos as they are done, but every recording after those that were made before it."""
    due = deque(sounds)
    heard: dict[str, Outcome | Died] = {}
    for task, outcome in done:
        if isinstance(task, Picture):
            yield task, outcome
            continue
        heard[task.stowed.sha256] = outcome
        while due and due[0].stowed.sha256 in heard:
            sound = due.popleft()
            yield sound, heard.pop(sound.stowed.sha256)


def _keep(book: Book, task: Sound | Picture, outcome: Outcome | Died, tally: _Tally) -> None:
    problem = None
    try:
        if isinstance(outcome, Listened):
            keep.keep_recording(book, tally.job, task.copy, outcome.recording, outcome.heard)
            tally.recordings += 1
        elif isinstance(outcome, Photo):
            keep.keep_photo(book, tally.job, task.copy, outcome)
            tally.photos += 1
        else:
            problem = outcome if isinstance(outcome, Problem) else _lost(task)
    except BookError as error:
        problem = Problem(str(task.source), str(error))
    if problem:
        media.discard(book.store, task.stowed)
    tally.finished(task.source, problem)


def _lost(task: Sound | Picture) -> Problem:
    return Problem(
        str(task.source),
        "the program that was reading it died, perhaps for want of memory. Add it again by itself.",
    )


def _silently(done: int, total: int, doing: str) -> None:
    """Tells nobody."""
