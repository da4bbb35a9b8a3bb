"""A run of a command in one piece: killed at any instant, and said again, it ran once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from joblog.book.repeating import Run
from joblog.book.repeating import Said as Said
from joblog.book.repeating import Untold as Untold
from joblog.service import places
from joblog.service.errors import refusing
from joblog.service.places import Place

if TYPE_CHECKING:
    from joblog.book import Book


class Running:
    """A command while it is run: its one book, and whether it decides anything.

    `words` is a digest of all that it was told. Whatever opens the book at that place meanwhile is
    given this one.
    """

    def __init__(self, place: Place, words: str) -> None:
        self._place, self._words = place, words
        self._book: Book | None = None
        self._run: Run | None = None

    @property
    def decides(self) -> bool:
        """Whether something was written, which is not kept until the end."""
        return self._run is not None and self._run.decides

    def book_at(self, place: Place, opened: Callable[[], Book]) -> Book | None:
        """The book, opened so where that is the first time; None for another place."""
        if place.folder.resolve() != self._place.folder.resolve():
            return None
        if self._book is None:
            self._book = opened()
            self._run = Run(self._book, self._words)
        return self._book

    def untold(self) -> Untold | None:
        """What a run of the same words decided that was killed before it told of it."""
        if not self._place.has_book:
            return None
        with places.opened(self._place):
            assert self._run is not None
            with refusing():
                return self._run.untold()

    def keep(self, status: int, told: Sequence[Said]) -> None:
        """Puts all that was decided into the book, and what is to be told of it. Raises
        `ServiceError`; then nothing was decided."""
        if self._run is not None:
            with refusing():
                self._run.keep(status, told)

    def end(self) -> None:
        """Takes back what was not kept, and notes that the rest was told."""
        if self._run is not None and self._book is not None:
            self._run.give_up()
            self._book.close()
            self._run.end()


@contextmanager
def running(place: Place, words: str) -> Iterator[Running]:
    """The command that is run, until the `with` ends."""
    command = Running(place, words)
    before = places.RUNNING.set(command)
    try:
        yield command
    finally:
        places.RUNNING.reset(before)
