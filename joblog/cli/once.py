"""What every command that decides is marked with: killed at any instant, said again, it ran once.

Its decision is one transaction, and what it tells is told when that is on disk. Whoever says the
same words again, after it was killed in between, is told what was decided then.
"""

from __future__ import annotations

import hashlib
import io
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TextIO, TypeVar

import click

from joblog.cli.printing import complain, somebody_is_there

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.service.repeating import Running, Said, Untold

Command = TypeVar("Command", bound=Callable[..., Any])


def once(*writes: str) -> Callable[[Command], Command]:
    """Marks a command that decides. `writes` are those of its options that name files to write.

    A form of it that only shows is run as ever. It asks nothing once it has begun to write.
    """

    def marked(command: Command) -> Command:
        @wraps(command)
        def run(*, place: Place, **said: Any) -> int:
            from joblog.service.repeating import running

            words = _words(said, writes)
            with running(place, words) as now:
                try:
                    untold = now.untold()
                    if untold is not None:
                        if untold.is_meant:
                            return _tell_again(untold)
                        _tell_of_earlier(untold)
                    with _listening(now) as telling:
                        status = int(command(place=place, **said) or 0)
                    now.keep(status, telling.said)
                    telling.tell()
                    return status
                finally:
                    now.end()

        return run  # type: ignore[return-value]

    return marked


def can_ask() -> bool:
    """Whether somebody is at a terminal, and what he is asked is not held back."""
    from joblog.service.places import decides_now

    return somebody_is_there() and not decides_now()


def _tell_again(untold: Untold) -> int:
    complain(
        f"written already {_moment(untold.at)}, and stopped before it could be told; not written"
        " again. Say the same once more to write it a second time."
    )
    for one in untold.told:
        _write(one, sys.stdout, sys.stderr)
    return untold.status


def _tell_of_earlier(untold: Untold) -> None:
    complain(
        f"the same was written {_moment(untold.at)} too, and stopped before it could be told. It"
        " is written again now; joblog undo takes that back."
    )


def _moment(at: datetime) -> str:
    from joblog.local import moment_written

    return f"on {moment_written(at.astimezone())}"


def _words(said: dict[str, Any], writes: Sequence[str]) -> str:
    """A digest of a command and all that it was told, what is in the files that it reads too."""
    path = click.get_current_context().command_path.partition(" ")[2]
    told = {name: _told(value, name in writes) for name, value in sorted(said.items())}
    return hashlib.sha256(json.dumps([path, told]).encode()).hexdigest()


def _told(value: Any, written: bool) -> Any:
    match value:
        case tuple() | list():
            return [_told(one, written) for one in value]
        case str() | Path() if not written:
            return [str(value), _content(str(value))]
        case _:
            return repr(value)


def _content(name: str) -> str | None:
    try:
        if not Path(name).is_file():  # A pipe would be waited for without end.
            return None
        with Path(name).open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except (OSError, ValueError):
        return None


class _Telling:
    """What a command tells; held back from where it begins to write, until that is on disk."""

    def __init__(self, running: Running, out: TextIO, error: TextIO) -> None:
        self.said: list[Said] = []
        self._running, self._out, self._error = running, out, error
        self._held: list[Said] = []

    def say(self, one: Said) -> None:
        self.said.append(one)
        if self._running.decides:
            self._held.append(one)
        else:
            _write(one, self._out, self._error)

    def tell(self) -> None:
        """Writes what was held back."""
        held, self._held = self._held, []
        for one in held:
            _write(one, self._out, self._error)


@contextmanager
def _listening(running: Running) -> Iterator[_Telling]:
    """What is printed meanwhile."""
    out, error = sys.stdout, sys.stderr
    telling = _Telling(running, out, error)
    sys.stdout, sys.stderr = _Stream(telling, "out", out), _Stream(telling, "error", error)
    try:
        yield telling
    finally:
        sys.stdout, sys.stderr = out, error


class _Stream(io.TextIOBase):
    """In the place of a standard stream; what is written becomes pieces of what is told."""

    def __init__(self, telling: _Telling, where: Literal["out", "error"], real: TextIO) -> None:
        self._telling, self._where, self._real = telling, where, real
        self.buffer = _Buffer(telling)

    def write(self, text: str) -> int:
        from joblog.service.repeating import Said

        if not isinstance(text, str):  # click asks by this whether it takes bytes
            raise TypeError("a text is written here")
        if text:
            self._telling.say(Said(self._where, text))
        return len(text)

    def writable(self) -> bool:
        return True

    def isatty(self) -> bool:
        return self._real.isatty()

    def fileno(self) -> int:
        return self._real.fileno()

    @property
    def encoding(self) -> str:  # type: ignore[override]
        return self._real.encoding

    @property
    def errors(self) -> str | None:  # type: ignore[override]
        return self._real.errors


class _Buffer(io.RawIOBase):
    """Below standard output, for what is written to a program in UTF-8, as it is."""

    def __init__(self, telling: _Telling) -> None:
        self._telling = telling

    def write(self, written: Any) -> int:
        from joblog.service.repeating import Said

        piece = bytes(written)
        if piece:
            self._telling.say(Said("bytes", piece.decode()))
        return len(piece)

    def writable(self) -> bool:
        return True


def _write(one: Said, out: TextIO, error: TextIO) -> None:
    if one.where == "bytes":
        out.flush()
        out.buffer.write(one.text.encode())
        out.buffer.flush()
        return
    stream = out if one.where == "out" else error
    stream.write(one.text)
    stream.flush()
