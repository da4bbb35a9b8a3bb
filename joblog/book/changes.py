"""What became of one entry, original or line of the catalog: every change, by whom, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from urllib.parse import quote, unquote

from joblog.book.decisions import line_of, line_told
from joblog.book.entries import NEVER
from joblog.book.errors import BookError
from joblog.book.steps import ALOUD, steps_among
from joblog.book.store import Book
from joblog.model import Step


@dataclass(frozen=True, slots=True)
class Changed:
    """One change of a thing."""

    at: datetime
    """When, in UTC. Of what came in, when it was said or taken."""
    who: str
    how: str
    """Of an entry what made the version: "heard", "typed", "corrected", "dropped" and the like; of
    anything else "came in", "decided", "taken back" or "done again"."""
    what: str
    """Of an entry what it was from then on, of anything else what was done, in a line."""
    said: str = ""
    """Of an entry the words that it was read from."""
    why: str = ""
    """Of an entry the step in words, "taken back: " and the step where it was."""
    step: int | None = None
    """The step that did it; None for what came in."""
    version: int | None = None
    """Of an entry."""
    stands: bool = True
    """Whether it counted from then on."""
    doubts: tuple[str, ...] = ()
    job: str = ""
    """Where an entry was from then on."""
    moment: datetime | None = None
    """When an entry counted for from then on."""


def of_entry(book: Book, id: int) -> tuple[Changed, ...]:
    """Every version of an entry, oldest first. Raises `BookError` where there is none."""
    versions = book.versions(id)
    rows = {
        row["version"]: row
        for row in book._rows(
            "SELECT version, restores, name, entry_version.at AS at FROM entry_version"
            " LEFT JOIN job ON job.id = entry_version.job WHERE entry = ?",
            id,
        )
    }
    decided = _Steps(book, id)
    found: list[Changed] = []
    state = NEVER
    for one in versions:
        row = rows[one.version]
        became = one.version if row["restores"] is None else row["restores"]
        step, undone = decided.that_made(one.version, state, became)
        found.append(
            Changed(
                at=one.changed_at,
                who=_who(step, one.change) or (ALOUD if one.utterance is not None else "you"),
                how=one.change,
                what=line_of(one.entry),
                said=one.said,
                why=_why(step, undone),
                step=None if step is None else step.id,
                version=one.version,
                stands=one.standing != "dropped",
                doubts=one.doubts,
                job=row["name"] or "",
                moment=_moment(row["at"]) or one.at,
            )
        )
        state = became
    return tuple(found)


def of_original(book: Book, sha256: str) -> tuple[Changed, ...]:
    """How a recording or photo came in, and what was decided of it, its ties too, oldest first."""
    found = book._rows(
        "SELECT made_at AS at, name FROM recording WHERE sha256 = :sha256"
        " UNION ALL SELECT taken_at, name FROM photo WHERE sha256 = :sha256",
        sha256=sha256,
    )
    if not found:
        raise BookError(f"there is no recording or photo {sha256[:12]} in this book")
    [came] = found
    first = Changed(datetime.fromisoformat(came["at"]), "", "came in", came["name"])
    nouns = [f"recording {sha256}", f"photo {sha256}"]
    found = book._rows(
        "SELECT DISTINCT step FROM step_effect WHERE noun IN (?, ?) OR noun BETWEEN ? AND ?",
        *nouns,
        f"tie {sha256} ",
        f"tie {sha256}!",
    )
    return first, *_decided(book, [row["step"] for row in found])


def of_line(book: Book, name: str) -> tuple[Changed, ...]:
    """What was decided of an item or a task of the catalog, by its exact name, oldest first."""
    found = book._rows(
        "SELECT step, before, after FROM step_effect WHERE noun IN (?, ?) ORDER BY step",
        *(f"{kind} {quote(name, safe='')}" for kind in ("item", "task")),
    )
    told = {row["step"]: line_told(row["before"], row["after"]) for row in found}
    back = {row["step"]: line_told(row["after"], row["before"]) for row in found}
    return tuple(
        replace(one, what=(back if one.how == "taken back" else told)[one.step or 0])
        for one in _decided(book, [*told])
    )


def lines_ever(book: Book) -> tuple[str, ...]:
    """The names of all items and tasks that anything was ever decided of."""
    found = book._rows(
        "SELECT DISTINCT noun FROM step_effect WHERE noun BETWEEN 'item ' AND 'item!'"
        " OR noun BETWEEN 'task ' AND 'task!'"
    )
    return tuple(dict.fromkeys(unquote(row["noun"].partition(" ")[2]) for row in found))


# --- the steps of an entry --------------------------------------------------------------------


class _Steps:
    """The steps that changed an entry, found by the versions that they made of it."""

    def __init__(self, book: Book, entry: int) -> None:
        self._effects = book._rows(
            "SELECT step, before, after FROM step_effect WHERE noun = ? ORDER BY step",
            f"entry {entry}",
        )
        self._steps = steps_among(book, [row["step"] for row in self._effects])

    def that_made(self, version: int, was: int, became: int) -> tuple[Step | None, bool]:
        """The step that made a version, which turned the entry from one state to another; and
        whether it did so by being taken back."""
        if version == became:
            return self._of(after=version), False
        done = self._of(before=was, after=became)
        return (done, False) if done else (self._of(before=became, after=was), True)

    def _of(self, after: int, before: int | None = None) -> Step | None:
        found = (
            row["step"]
            for row in self._effects
            if _state(row["after"]) == after and (before is None or _state(row["before"]) == before)
        )
        id = next(found, None)
        return None if id is None else self._steps[id]


def _state(text: str | None) -> int:
    return int(text or NEVER)


def _who(step: Step | None, change: str) -> str:
    if step is None:
        return ""
    turns = [turn for turn in step.turns if turn.undone == (change == "undone")]
    return turns[-1].who if change in ("undone", "redone") and turns else step.who


def _why(step: Step | None, undone: bool) -> str:
    if step is None:
        return ""
    return f"taken back: {step.what}" if undone else step.what


def _moment(text: str | None) -> datetime | None:
    return datetime.fromisoformat(text) if text else None


# --- everything else --------------------------------------------------------------------------


def _decided(book: Book, ids: Sequence[int]) -> tuple[Changed, ...]:
    found = [line for step in steps_among(book, ids).values() for line in told_of(step)]
    return tuple(sorted(found, key=lambda one: one.at))


def told_of(step: Step) -> Iterator[Changed]:
    """A step, and each time that it was taken back or done again."""
    yield Changed(step.at, step.who, "decided", step.what, step=step.id)
    for turn in step.turns:
        how = _TURNED[turn.undone]
        yield Changed(turn.at, turn.who, how, step.what, step=step.id)


_TURNED: Mapping[bool, str] = {True: "taken back", False: "done again"}
