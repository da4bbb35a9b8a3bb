"""Folders that are watched: the recordings and photos that land there are taken in by themselves.

For people who leave a recorder running on the telephone and have its files copied over. A file is
taken in when it has stood still for a while, so also when it is copied slowly. What the folders
hold is looked at anew every time; what a change is told by only makes it look sooner. So it
does not matter whether a folder goes and comes back, or whether its disk tells of changes at all.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from joblog.book import ties
from joblog.book.errors import BookError
from joblog.book.keep import BusyError
from joblog.service import taking_in
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, refusing, use_case

if TYPE_CHECKING:
    from joblog.book.intake import Intake

STILL = 5.0
"""Seconds for which a file must not have changed."""
PATIENCE = 12
"""As many times as long, one that stops before its sound or picture does is waited for."""
AGAIN = 10.0
"""Seconds after which it is looked again where nothing told of a change."""
LATER = 60.0
"""Seconds after which it is tried again where the book refused."""
LOOK_ON = 600.0
"""Seconds after which a little of the book is looked at."""
PASSING = (
    ".part", ".partial", ".crdownload", ".download", ".tmp", ".temp", ".filepart", ".opdownload",
)  # fmt: skip
"""Endings of files that are being fetched or copied; they are named otherwise when that is done."""

Told = Literal["taken in", "noted", "problem", "waiting", "back"]


@dataclass(frozen=True, slots=True)
class News:
    """One thing to tell: of which file or folder, and what."""

    kind: Told
    what: str
    why: str = ""


@use_case
def watch(
    desk: Desk,
    folders: Sequence[Path],
    tell: Callable[[News], None],
    *,
    still: float = STILL,
    poll: bool = False,
    once: bool = False,
    model: Path | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> int:
    """Takes in what lies in the folders and what lands there, until it is stopped with Ctrl-C or
    `stop` says so; with `once`, until all that lies there is done. How many files were taken in.

    `still` is for how many seconds a file must not have changed. `poll` asks the disk instead of
    being told, as network folders need it.
    """
    watcher = Watcher(desk, folders, tell, still=still, model=model)
    with suppress(BookError):  # Killed after the last file came in, it had not tied the photos yet.
        ties.tie_photos(desk.book, desk.job.name)
    bell = _Bell(folders, stop, asleep=poll)
    looked_on = time.monotonic()
    try:
        while not stop():
            due = watcher.look()
            if not once and time.monotonic() - looked_on > LOOK_ON:
                looked_on = time.monotonic()
                _look_on(desk, tell)
            if watcher.stopped or (once and watcher.done):
                break
            bell.wait(min(due, still if poll else AGAIN))
    except KeyboardInterrupt:
        pass
    return watcher.taken


def _look_on(desk: Desk, tell: Callable[[News], None]) -> None:
    """Looks at a little of the book in passing, while nothing lands."""
    from joblog.service import checking

    with suppress(ServiceError):
        checking.look_on(
            desk.book, lambda found: tell(News("problem", found.what, f"{found.why}.")), rounds=1
        )


@dataclass(slots=True)
class _Seen:
    """A file as it was when it was looked at last, and since when it has been like that."""

    size: int
    changed: int
    """The file's own time, in nanoseconds."""
    since: float
    arrived: bool
    """Whether it came, or grew, while it was watched."""
    finished: bool = False
    looked_into: bool = False

    def like(self, facts: os.stat_result) -> bool:
        return (self.size, self.changed) == (facts.st_size, facts.st_mtime_ns)


@dataclass(slots=True)
class Watcher:
    """What is known of the folders. `look` does whatever is due, and tells of it."""

    desk: Desk
    folders: Sequence[Path]
    tell: Callable[[News], None]
    still: float = STILL
    model: Path | None = None
    now: Callable[[], float] = time.monotonic
    take: Callable[..., Intake] = taking_in.take_in
    taken: int = 0
    stopped: bool = False
    """Whether a person stopped it with Ctrl-C."""
    _seen: dict[Path, _Seen] = field(default_factory=dict)
    _gone: set[Path] = field(default_factory=set)
    _looked: bool = False
    _not_before: float = 0.0
    _said: set[str] = field(default_factory=set)

    @property
    def done(self) -> bool:
        """Whether nothing waits in the folders any more."""
        return self._looked and all(one.finished for one in self._seen.values())

    def look(self) -> float:
        """Looks at the folders and takes in what has come to rest.

        Seconds after which something will be due. Raises `ServiceError` for what is wrong with the
        book itself.
        """
        now = self.now()
        self._look_round(now)
        ready = [path for path, one in self._seen.items() if self._due(one) <= now]
        if ready and now >= self._not_before:
            self._do(ready)
        waiting = [self._due(one) for one in self._seen.values() if not one.finished]
        return max(0.0, min(waiting, default=now + AGAIN) - self.now(), self._not_before - now)

    def _due(self, one: _Seen) -> float:
        if one.finished:
            return float("inf")
        return one.since + self.still * (PATIENCE if one.looked_into else 1)

    # --- what lies there ----------------------------------------------------------------------

    def _look_round(self, now: float) -> None:
        for folder in self.folders:
            self._tell_whether_there(folder)
        there: set[Path] = set()
        for path, facts in self._files():
            there.add(path)
            one = self._seen.get(path)
            if one is None or not one.like(facts):
                arrived = self._looked or time.time() - facts.st_mtime < self.still * PATIENCE
                self._seen[path] = _Seen(facts.st_size, facts.st_mtime_ns, now, arrived)
        for path in self._seen.keys() - there:
            # Of what was taken in it is remembered, for when the folder comes back.
            if not self._seen[path].finished:
                del self._seen[path]
        self._looked = True

    def _tell_whether_there(self, folder: Path) -> None:
        if folder.is_dir() == (folder not in self._gone):
            return
        if folder in self._gone:
            self._gone.remove(folder)
            self.tell(News("back", str(folder), "is there again."))
        else:
            self._gone.add(folder)
            self.tell(News("waiting", str(folder), "is not there now."))

    def _files(self) -> Iterator[tuple[Path, os.stat_result]]:
        apart = self.desk.book.folder.resolve()
        for top in self.folders:
            for folder, folders, names in os.walk(top):
                here = Path(folder)
                folders[:] = sorted(
                    name
                    for name in folders
                    if not name.startswith(".") and (here / name).resolve() != apart
                )
                for name in sorted(names):
                    path = here / name
                    if not _passing(name) and (facts := _facts(path)) is not None:
                        yield path, facts

    # --- what has come to rest ----------------------------------------------------------------

    def _do(self, ready: Sequence[Path]) -> None:
        from joblog.book.arriving import has_already, unfinished
        from joblog.book.gather import sort_of

        new: list[Path] = []
        for path in ready:
            try:
                with refusing():
                    if sort_of(path) is None or has_already(self.desk.book, path):
                        self._seen[path].finished = True
                    else:
                        new.append(path)
            except OSError:
                continue  # It is gone again, or cannot be read yet: taking it in will say so.
        unsure = [path for path in new if self._seen[path].arrived and self._is_first_look(path)]
        growing = unfinished(unsure) if unsure else frozenset()
        for path in growing:
            self._seen[path].looked_into = True
        if due := [path for path in new if path not in growing]:
            self._take_in(due)

    def _is_first_look(self, path: Path) -> bool:
        return not self._seen[path].looked_into

    def _take_in(self, paths: Sequence[Path]) -> None:
        try:
            intake = self.take(self.desk, paths, model=self.model)
        except ServiceError as error:
            self._not_before = self.now() + (AGAIN if _busy(error) else LATER)
            self._tell_once(News("waiting", self.desk.job.name, f"{error} It is tried again."))
            return
        self._said.clear()
        self.stopped = intake.stopped
        told = {one.what for one in (*intake.problems, *intake.notes)}
        for problem in intake.problems:
            self.tell(News("problem", problem.what, problem.why))
        for note in intake.notes:
            self.tell(News("noted", note.what, note.why))
        self.taken += intake.recordings + intake.photos + intake.tracks
        for path in paths:
            one = self._seen[path]
            if str(path) in told:
                one.finished = True
            elif _in_book(self.desk, path):
                one.finished = True
                self.tell(News("taken in", str(path)))
            else:  # It was stopped, or nothing could be heard at all, which is told without a name.
                self._not_before = self.now() + LATER

    def _tell_once(self, news: News) -> None:
        if news.why not in self._said:
            self._said.add(news.why)
            self.tell(news)


def _in_book(desk: Desk, path: Path) -> bool:
    from joblog.book.arriving import has_already

    try:
        return has_already(desk.book, path)
    except OSError:
        return False


def _busy(error: ServiceError) -> bool:
    return isinstance(error.__cause__, BusyError)


def _passing(name: str) -> bool:
    return name.startswith((".", "~")) or name.lower().endswith(PASSING)


def _facts(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except OSError:
        return None


_NEVER = object()
"""Where nothing tells of changes."""


class _Bell:
    """Waits until something changes in the folders, or for some seconds."""

    def __init__(self, folders: Sequence[Path], stop: Callable[[], bool], asleep: bool) -> None:
        self._folders, self._stop, self._asleep = folders, stop, asleep
        self._watched: tuple[tuple[Path, int, int], ...] = ()
        self._changes: Iterator[Any] | None = None

    def wait(self, seconds: float) -> None:
        until = time.monotonic() + seconds
        while time.monotonic() < until and not self._stop():
            try:
                changes = None if self._asleep else self._told()
                told = _NEVER if changes is None else next(changes, _NEVER)
            except (OSError, RuntimeError):  # The folder is gone, or too many are watched.
                told = _NEVER
            if told is _NEVER:
                self._watched, self._changes = (), None
                time.sleep(min(0.5, max(0.0, until - time.monotonic())))
            elif told:
                return

    def _told(self) -> Iterator[Any] | None:
        """Changes, or nothing after a while; None where the disk cannot tell."""
        import watchfiles

        there = tuple(
            (folder, facts.st_dev, facts.st_ino)
            for folder in self._folders
            if (facts := _facts(folder)) is not None
        )
        if there != self._watched:
            # Another folder under the same name is not the one that was watched.
            self._watched = there
            folders = [folder for folder, *_ in there]
            self._changes = (
                watchfiles.watch(
                    *folders,
                    watch_filter=None,
                    rust_timeout=500,
                    yield_on_timeout=True,
                    ignore_permission_denied=True,
                )
                if folders
                else None
            )
        return self._changes
