"""How an entry came about: what was heard, where, with which photos, and every change of it."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.record import Evidence
from joblog_tui.wording import FAINT, clock, heard_table


def story(
    shown: Evidence, said: BookUtterance | None, versions: Sequence[BookEntry], zone: str
) -> Content:
    """What was heard first, the changes last, the newest of them first."""
    return Content("\n").join(
        [
            *_heard(shown.entry, said),
            *_recording(shown, said),
            *_photos(shown),
            *_changes(versions, zone),
        ]
    )


def _heard(entry: BookEntry, said: BookUtterance | None) -> list[Content]:
    if said is None:
        return [_named("typed", entry.said)]
    heard = [heard_table(said.utterance.hearings)]
    if entry.said not in {one.text for one in said.utterance.hearings}:
        heard.insert(0, _named("read from", entry.said))
    if said.unread:
        heard.append(_named("not read", said.unread))
    if entry.entry.carried:
        heard.append(_named("not said here, taken from before", ", ".join(entry.entry.carried)))
    return heard


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
