"""Everything about one entry: what it reads as, why it is doubtful, what was heard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.rereading import Choice
from joblog_tui.wording import FAINT, clock, doubt_lines, heard_table


@dataclass(frozen=True, slots=True)
class Case:
    """What the card shows."""

    entry: BookEntry
    zone: str
    utterance: BookUtterance | None = None
    choices: Sequence[Choice] = ()
    versions: Sequence[BookEntry] = ()
    recording: str | None = None
    """Name of the file it was heard in."""


def card(case: Case) -> Content:
    """The whole card as text, the most urgent first."""
    parts = [
        _reading(case.entry),
        *doubt_lines(case.entry),
        *_choices(case),
        *_heard(case),
        *_carried(case.entry),
        *_versions(case),
        *_recording(case),
    ]
    return Content("\n").join(parts)


def _reading(entry: BookEntry) -> Content:
    state = {"dropped": "  (dropped)", "accepted": "  (accepted)"}.get(entry.standing, "")
    return Content.assemble((describe(entry.entry), "bold"), (state, FAINT))


def _choices(case: Case) -> list[Content]:
    if not case.choices:
        return []
    keep = [_choice("a", "keep it as read above")] if case.entry.open else []
    return keep + [
        _choice(
            str(number),
            describe(choice.revision.reading.entries[0]),
            f"  {_source(choice)}",
        )
        for number, choice in enumerate(case.choices, start=1)
    ]


def _source(choice: Choice) -> str:
    # The words of a whole hearing stand further down the card anyway.
    return f"{choice.heard_by}: {choice.revision.text}" if choice.second_best else choice.heard_by


def _choice(key: str, meaning: str, source: str = "") -> Content:
    return Content.assemble((f" {key} ", "bold $accent"), plain(meaning), (plain(source), FAINT))


def _heard(case: Case) -> list[Content]:
    if case.utterance is None:
        return [Content.assemble(("typed: ", FAINT), plain(case.entry.said))]
    shown = [heard_table(case.utterance.utterance.hearings)]
    if case.entry.said not in {h.text for h in case.utterance.utterance.hearings}:
        shown.insert(0, Content.assemble(("read from: ", FAINT), plain(case.entry.said)))
    if case.utterance.unread:
        shown.append(Content.assemble(("not read: ", FAINT), plain(case.utterance.unread)))
    return shown


def _carried(entry: BookEntry) -> list[Content]:
    if not entry.entry.carried:
        return []
    return [
        Content.assemble(
            ("not said here, taken from before: ", FAINT), plain(", ".join(entry.entry.carried))
        )
    ]


def _versions(case: Case) -> list[Content]:
    if len(case.versions) < 2:
        return []
    return [Content.styled("versions, newest first:", FAINT)] + [
        Content.assemble(
            (f" {clock(version.changed_at, case.zone)} {version.change}: ", FAINT),
            describe(version.entry),
        )
        for version in sorted(case.versions, key=lambda version: -version.version)
    ]


def _recording(case: Case) -> list[Content]:
    if case.utterance is None or case.recording is None:
        return []
    start = int(case.utterance.utterance.start)
    return [
        Content.assemble(
            ("recording: ", FAINT), f"{plain(case.recording)}, {start // 60}:{start % 60:02} in"
        )
    ]
