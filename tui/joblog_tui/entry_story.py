"""How an entry came about: what was heard, where, with which photos, and every change of it."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.record import Evidence
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
    if len(versions) < 2:
        return []
    newest_first = sorted(versions, key=lambda version: -version.version)
    return [Content.styled("changes, newest first:", FAINT)] + [
        Content.assemble(
            (f" {clock(one.changed_at, zone)} {one.change}: ", FAINT), describe(one.entry)
        )
        for one in newest_first
    ]


def _named(name: str, text: str) -> Content:
    return Content.assemble((f"{name}: ", FAINT), plain(text))
