"""States as they are written in a backup: one JSON file each, which holds its own digest in its
name, so that one that was cut, changed or half synchronised is not believed."""

from __future__ import annotations

import errno
import hashlib
import json
import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from secrets import token_hex
from typing import Any

from joblog.backup.medium import DAMAGED, STATES, Medium, found, state_files
from joblog.backup.nouns import FORM, Kept, State
from joblog.book.errors import BookError
from joblog.book.schema import plainly

_DIGEST = re.compile(r"UTC ([0-9a-f]{16})")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_NAME = re.compile(
    r"book\.sqlite|originals"
    r"|media/[0-9a-f]{2}/[0-9a-f]{64}\.[a-z0-9]{1,8}"
    r"|(?:listening|days|papers|media/damaged)/[^./\x00][^/\x00]*"
    r"|[^./\x00][^/\x00]*\.toml",
    re.DOTALL,
)
"""What a file may be called, below the folder of a book: a backup is from outside as well."""
_LEAST = 4096
"""Bytes. No piece but the last is smaller, so that a list of pieces makes no more than it tells."""
_MOST_OF_A_PIECE = 16 << 20
MOST = 64 << 20
"""Bytes; no state file is larger."""


def states(folder: Path) -> tuple[tuple[State, ...], tuple[str, ...]]:
    """`states_in` of the backup in a folder that was named. Raises `BookError`."""
    with plainly(folder):
        return states_in(found(folder))


def states_in(place: Path) -> tuple[tuple[State, ...], tuple[str, ...]]:
    """The states that lie in a backup, the newest first, and what is said of those that do not
    read as they were written."""
    read, bad = _read(place)
    return read, tuple(_DAMAGED.format(f"{STATES}/{file.name}") for file in bad)


def with_damaged_put_aside(medium: Medium) -> tuple[tuple[State, ...], tuple[str, ...]]:
    """`states_in`, which tells once of a damaged one: that is renamed and kept. One that was put
    aside when it had not arrived whole yet counts again once it is."""
    for aside in put_aside(medium.place):
        whole = aside.with_name(aside.name.removesuffix(DAMAGED))
        with suppress(ValueError, OSError, RecursionError, BookError):
            if not whole.exists():
                read_state(aside)
                aside.replace(whole)
    read, bad = _read(medium.place)
    said = []
    for file, why in bad.items():
        aside = file.with_name(file.name + DAMAGED)
        if aside.exists():
            aside = file.with_name(f"{file.stem} {token_hex(4)}{file.suffix}{DAMAGED}")
        try:
            if isinstance(why, OSError) and why.errno != errno.EIO:
                raise why  # It may be whole, and only not to be read now.
            file.replace(aside)
        except OSError:
            said.append(_DAMAGED.format(f"{STATES}/{file.name}"))
        else:
            said.append(_PUT_ASIDE.format(f"{STATES}/{file.name}", aside.name))
    return read, tuple(said)


def put_aside(place: Path) -> tuple[Path, ...]:
    """The damaged ones that were put aside."""
    with suppress(OSError):
        return tuple(sorted((place / STATES).glob(f"*.json{DAMAGED}")))
    return ()


_DAMAGED = "{}: this backup is damaged, and was left out. The others do without it"
_PUT_ASIDE = (
    "{}: this backup is damaged, and was put aside as {}. The others do without it; what only it"
    " may need is kept until you delete that file"
)


def _read(place: Path) -> tuple[tuple[State, ...], dict[Path, Exception]]:
    read: dict[str, State] = {}
    bad: dict[Path, Exception] = {}
    for file in state_files(place):
        try:
            state = read_state(file)
            read[file.name[file.name.index("UTC ") :][:20]] = state  # A copy by another program.
        except (ValueError, OSError, RecursionError) as why:
            bad[file] = why
    return tuple(sorted(read.values(), key=_in_order, reverse=True)), bad


def read_state(file: Path) -> State:
    """Raises ValueError where it is not as it was written, OSError, and `BookError` where it is of
    a newer form than is known here."""
    digest = _DIGEST.search(file.name)
    if digest is None or file.stat().st_size > MOST:
        raise ValueError(f"{file.name}: no state")
    text = file.read_bytes()
    if hashlib.sha256(text).hexdigest()[:16] != digest[1]:
        raise ValueError(f"{file.name}: not as it was written")
    told = json.loads(text)
    try:
        if told["form"] > FORM:
            raise BookError(
                f"{file.name}: this backup was written by a newer joblog ({told['joblog']}, form"
                f" {told['form']}; this one knows {FORM}). Nothing was changed; install the newer"
                " joblog."
            )
        return _state(file.name, told)
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError(f"{file.name}: {error}") from error


def write_state(medium: Medium, state: State) -> State:
    """Writes it, last of all: from then on it counts. The state, with the name of its file."""
    told = {
        "form": FORM,
        "joblog": state.joblog,
        "book": state.book,
        "book version": state.version,
        "number": state.number,
        "at": state.at.isoformat(),
        "counts": dict(state.counts),
        "mark": state.mark,
        "lacking": list(state.lacking),
        "name": state.name,
        "after": " ".join(state.after),
        "of": state.of,
        "database": _kept_told(state.database),
        "originals": _kept_told(state.originals),
        "beside": [_kept_told(one) for one in state.beside],
    }
    text = json.dumps(told, indent=1).encode()
    name = f"{state.at:%Y-%m-%d %H-%M-%S} UTC {hashlib.sha256(text).hexdigest()[:16]}.json"
    medium.write(f"{STATES}/{name}", text)
    return _state(name, told)


def listed(medium: Medium, state: State) -> Iterator[Kept]:
    """The originals of a state. Where a part of its list is damaged, those of the other parts."""
    rest = b""
    for piece in state.originals.pieces:
        content = medium.read(piece)
        # The line that begins before a hole, and the one that ends behind it, are no JSON.
        *lines, rest = (b"\n" if content is None else rest + content).split(b"\n")
        for line in lines:
            try:
                yield _kept(json.loads(line))
            except (ValueError, KeyError, TypeError):
                continue


def may_be_called(name: str) -> bool:
    """Whether a file of a book may have that name, below its folder."""
    return _NAME.fullmatch(name) is not None


def line_of(kept: Kept) -> bytes:
    """A line of the list of originals."""
    return json.dumps(_kept_told(kept)).encode() + b"\n"


def _kept_told(kept: Kept) -> dict[str, Any]:
    told: dict[str, Any] = {"name": kept.name, "sha256": kept.sha256, "bytes": kept.bytes}
    if kept.pieces != (kept.sha256,):
        told["pieces"] = list(kept.pieces)
    if kept.parity:
        told |= {"parity": list(kept.parity), "piece": kept.piece}
    if kept.written:
        told["written"] = kept.written
    return told


def _kept(told: dict[str, Any]) -> Kept:
    pieces, parity = tuple(told.get("pieces", (told["sha256"],))), tuple(told.get("parity", ()))
    written = int(told.get("written", 0))
    piece = int(told.get("piece", 0))
    kept = Kept(told["name"], told["sha256"], int(told["bytes"]), pieces, written, parity, piece)
    if not all(_SHA256.fullmatch(one) for one in (kept.sha256, *pieces, *parity)):
        raise ValueError(f"{kept.name}: no SHA-256")
    if kept.parity and not _LEAST <= kept.piece <= _MOST_OF_A_PIECE:
        raise ValueError(f"{kept.name}: no pieces")
    if not may_be_called(kept.name) or len(pieces) > kept.bytes // _LEAST + 1:
        raise ValueError(f"{kept.name}: no file of a book")
    return kept


def _state(name: str, told: dict[str, Any]) -> State:
    at = datetime.fromisoformat(told["at"])
    if at.tzinfo is None:
        raise ValueError(f"{name}: its moment has no zone")
    return State(
        name,
        at.astimezone(UTC),
        int(told["number"]),
        str(told["book"]),
        str(told["joblog"]),
        int(told["book version"]),
        _kept(told["database"]),
        _kept(told["originals"]),
        tuple(_kept(one) for one in told["beside"]),
        {str(sort): int(count) for sort, count in told["counts"].items()},
        str(told["mark"]),
        tuple(map(str, told["lacking"])),
        str(told.get("name", "")),
        tuple(str(told.get("after", "")).split()),
        str(told.get("of", "")),
    )


def _in_order(state: State) -> tuple[int, datetime]:
    # By number first: the clock of a computer whose battery went may be years off.
    return state.number, state.at
