"""How an entry came about: what was heard, where, with which photos, and every change of it."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from textual.content import Content

from joblog.form import describe, plain
from joblog.local import day_written
from joblog.model import BookEntry, BookUtterance
from joblog.service.record import Evidence, local_day
from joblog_tui.card import Heard, heard_lines
from joblog_tui.wording import FAINT, clock


def story(
    shown: Evidence, said: BookUtterance | None, versions: Sequence[BookEntry], zone: str
) -> Content:
    """What was heard first, the changes last, the newest of them first."""
    return Content("\n").join(
        [
            *heard_lines(Heard(shown.entry, said)),
            *_carried(shown.entry, said),
            *_recording(shown, said),
            *_photos(shown),
            *_changes(versions, zone),
        ]
    )


def _carried(entry: BookEntry, said: BookUtterance | None) -> list[Content]:
    if said is None or not entry.entry.carried:
        return []
    return [_named("not said here, taken from before", ", ".join(entry.entry.carried))]


def _recording(shown: Evidence, said: BookUtterance | None) -> list[Content]:
    if said is None or shown.recording is None:
        return []
    minutes, seconds = divmod(int(said.utterance.start), 60)
    return [_named("recording", f"{shown.recording}, {minutes}:{seconds:02} in")]


def _photos(shown: Evidence) -> list[Content]:
    return [_named("photo", ", ".join(one.name for one in shown.photos))] if shown.photos else []


def _changes(versions: Sequence[BookEntry], zone: str) -> list[Content]:
    """Each with its day where that is another one than that of the line above."""
    if len(versions) < 2:
        return []
    lines = [Content.styled("changes, newest first; h tells more:", FAINT)]
    above = None
    for one in sorted(versions, key=lambda version: -version.version):
        day = local_day(one.changed_at, ZoneInfo(zone))
        when = clock(one.changed_at, zone)
        when = when if day == above else f"{day_written(day, short=True)} {when}"
        above = day
        lines.append(Content.assemble((f" {when} {one.change}: ", FAINT), describe(one.entry)))
    return lines


def _named(name: str, text: str) -> Content:
    return Content.assemble((f"{name}: ", FAINT), plain(text))
