"""Which tables of a book were looked over lately, and found as they were written.

Looking at every row of a large book takes seconds, and is to be had before the first screen. So it
is noted beside the book when it is closed, and counts for a day, as long as the file is the very
one that was closed then: what joblog itself writes is sound, and whatever else writes in it, or
puts another in its place, changes when the file was last written.
"""

from __future__ import annotations

import json
import os
import time
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from joblog.book.beside import clear, put

FRESH = timedelta(days=1)
"""What lies still may rot; after so long it is looked at again."""
ENDING = ".seen"


def lately(file: Path, now: datetime) -> dict[str, datetime]:
    """The tables that need not be looked at, each with when that was last done."""
    try:
        noted = json.loads(_beside(file).read_text("utf-8"))
        if noted["file"] != _mark(file):
            return {}
        seen = {table: datetime.fromisoformat(at) for table, at in noted["tables"].items()}
        return {table: at for table, at in seen.items() if now - FRESH < at <= now}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return {}  # Nothing is lost: it is looked at.


def note(file: Path, seen: dict[str, datetime]) -> None:
    """Notes when each table was looked at and found sound; of a database that is closed."""
    with suppress(OSError):
        # Of writing that another program has not put into the file yet, nothing is known.
        beside = [file.with_name(file.name + ending) for ending in ("-wal", "-journal")]
        clear(_beside(file))
        if not seen or any(one.exists() for one in beside):
            _beside(file).unlink(missing_ok=True)
            return
        tables = {table: at.isoformat() for table, at in seen.items()}
        if (noted := unchanged(file) or _marked(file)) is None:
            return
        put(_beside(file), json.dumps({"file": noted, "tables": tables}).encode())


def unchanged(file: Path) -> list[int] | None:
    """What the file was marked by when it was closed last, if it still is the very one."""
    with suppress(OSError, ValueError, TypeError, KeyError, AttributeError):
        noted: list[int] = json.loads(_beside(file).read_text("utf-8"))["file"]
        beside = [file.with_name(file.name + ending) for ending in ("-wal", "-journal")]
        written = any(one.exists() and one.stat().st_size for one in beside)
        return noted if noted == _mark(file) and not written else None
    return None


def _marked(file: Path) -> list[int] | None:
    """The file, told from what it is after any other writing; None where its clock is too coarse.

    Clocks of files tick some milliseconds, so that two writings may bear the same moment; none will
    bear the one that is set here.
    """
    own = time.time_ns() // 1_000_000 * 1_000_000 - 1_000_000 + os.getpid() % 900_000 + 7
    os.utime(file, ns=(file.stat().st_atime_ns, own))
    return _mark(file) if file.stat().st_mtime_ns == own else None


def _mark(file: Path) -> list[int]:
    now = file.stat()
    return [now.st_ino, now.st_dev, now.st_size, now.st_mtime_ns]


def _beside(file: Path) -> Path:
    return file.with_name(file.name + ENDING)
