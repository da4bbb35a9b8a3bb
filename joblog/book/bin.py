"""What counts no more and can be brought back: nothing that a person made or said is ever deleted.

Every step keeps what it changed, as it was before and after. So the bin is not kept anywhere: it is
what a step that stands took away, and what went when a step was taken back, until that stands
again. Bringing it back is a step of its own, which can be undone.

An entry that was corrected still counts, and is not in the bin; what it was is in its history
(`changes`), and comes back by the number of the step that changed it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from joblog.book import nouns, rows, things
from joblog.book.copies import same_sound_that_counts
from joblog.book.decisions import line_of
from joblog.book.errors import BookError
from joblog.book.rows import Row
from joblog.book.steps import YOU, Deciding, deciding, steps_among
from joblog.book.store import Book
from joblog.model import Step


@dataclass(frozen=True, slots=True)
class Binned:
    """What one step took away, or what was taken back with it."""

    step: Step
    """Its `id` is what it is brought back by."""
    at: datetime
    """When it went, in UTC. Of what an older joblog took back, when it had been decided."""
    things: tuple[str, ...]
    """What went, each in a line: "used 3 sheets of soffit panel", "plan: 4 items, 2 tasks"."""
    entries: tuple[int, ...]
    """The entries among them."""


def binned(book: Book, job: str | None = None) -> tuple[Binned, ...]:
    """All that is in the bin, of one job (with what belongs to all jobs) or of every one; what went
    last comes first."""
    wanted = None if job is None else book._job(job)["name"]
    looked = _Looked(book)
    gone: dict[int, list[_Effect]] = {}
    for effect in _candidates(book):
        if looked.is_gone(effect):
            gone.setdefault(effect.step, []).append(effect)
    steps = steps_among(book, gone)
    found = [
        _binned(looked, steps[id], effects)
        for id, effects in gone.items()
        if wanted is None or not steps[id].jobs or wanted in steps[id].jobs
    ]
    once = _once(found, gone, looked)
    return tuple(sorted(once, key=lambda one: (one.at, one.step.id), reverse=True))


def bring_back(book: Book, id: int, who: str = YOU) -> Step:
    """Makes all that went with a step stand as it was; the step that this is.

    What stands in its place now goes to the bin. Of a recording that was withdrawn, the entries
    that something else was decided of since stay as that made them. Raises `BookError` where there
    is no such step, where nothing went with it, or all of it stands as it was.
    """
    with book._writing():
        found = steps_among(book, [id])
        if id not in found:
            raise BookError(f"there is no step {id} in this book; joblog bin lists what went")
        effects = [*_effects(book, "step.id = ?", id)]
        looked = _Looked(book)
        values = _as_it_was(looked, effects)
        if not values:
            raise BookError(f"nothing went with step {id}: {found[id].what}")
        told = [looked.told(effect) for effect in effects if effect.noun in values]
        with deciding(book, who) as step:
            went = summary([one for one in told if one])
            done = found[id].state == "done"
            step.what = f"brought back: {went}" if done else f"done again: {found[id].what}"
            _put(step, values)
        return _made(book, step, f"all that went with step {id} stands as it was: {found[id].what}")


def _made(book: Book, step: Deciding, otherwise: str) -> Step:
    if not step.before:
        raise BookError(otherwise)
    [(number,)] = book._db.execute("SELECT max(id) FROM step").fetchall()
    return steps_among(book, [number])[number]


def bring_back_version(book: Book, id: int, version: int, who: str = YOU) -> Step:
    """Makes an entry once more what it was in one of its versions; the step that this is.

    Raises `BookError` where there is no such entry or version, where it did not stand in it, and
    where it stands as it was.
    """
    with book._writing():
        every = {one.version: one for one in book.versions(id)}
        was = every.get(version)
        if was is None or was.standing == "dropped":
            stood = ", ".join(
                str(one.version) for one in every.values() if one.standing != "dropped"
            )
            raise BookError(f"entry {id} did not stand in version {version}; it did in {stood}")
        with deciding(book, who) as step:
            step.what = f"brought back: {line_of(was.entry)}"
            step.put_back({f"entry {id}": str(version)})
        return _made(book, step, f"entry {id} stands as it was in version {version}")


def summary(told: Sequence[str], few: int = 3) -> str:
    """Several things in one line: "fascia; drip edge and 12 more"."""
    more = f" and {len(told) - few} more" if len(told) > few else ""
    return "; ".join(told[:few]) + more


# --- what a step did to one noun --------------------------------------------------------------


class _Effect(NamedTuple):
    """`lost` is what the noun was that it is no more through this step, and `left` what it was made
    then: before and after of a step that stands, after and before of one that was taken back."""

    step: int
    noun: str
    lost: str | None
    left: str | None
    undone: bool

    @property
    def kind(self) -> str:
        return self.noun.partition(" ")[0]

    @property
    def key(self) -> str:
        return self.noun.partition(" ")[2]


def _candidates(book: Book) -> Iterator[_Effect]:
    """The effects by which anything may have gone, each once."""
    # Most steps only changed entries that stand where they stood: these are not looked at.
    elsewhere = (
        "SELECT 'entry ' || entry FROM entry_version WHERE left_job IS NOT NULL UNION"
        " SELECT 'entry ' || entry FROM entry_version newest WHERE standing = 'dropped' AND"
        " version = (SELECT max(version) FROM entry_version WHERE entry = newest.entry)"
    )
    yield from _effects(
        book,
        f"noun IN ({elsewhere}) OR noun < 'entry ' OR noun > 'entry!' OR undone IS NOT NULL",
    )


def _effects(book: Book, where: str, *values: object) -> Iterator[_Effect]:
    for row in book._rows(
        "SELECT step, noun, before, after, undone FROM step_effect JOIN step ON step.id = step"
        f" WHERE {where} ORDER BY step, ordinal",
        *values,
    ):
        undone = row["undone"] is not None
        was, became = (row["before"], row["after"])
        lost, left = (became, was) if undone else (was, became)
        yield _Effect(row["step"], row["noun"], lost, left, undone)


UNREADABLE = (BookError, ValueError, KeyError, TypeError)
"""What comes of a row that is damaged or gone: joblog check names it."""


@dataclass(slots=True)
class _Looked:
    """What nouns are now and were, each looked up once."""

    book: Book
    _now: dict[str, str | None] = field(default_factory=dict)
    _entries: dict[str, dict[int, Row]] = field(default_factory=dict)
    _lines: Mapping[str, str] | None = None

    def is_gone(self, effect: _Effect) -> bool:
        """Whether what the step took away is a thing that does not stand now."""
        return _GONE.get(effect.kind, _Looked.replaced)(self, effect)

    def now(self, noun: str) -> str | None:
        if nouns.is_line(noun):
            if self._lines is None:
                self._lines = nouns.catalog_lines(self.book)
            return self._lines.get(noun)
        if noun not in self._now:
            self._now[noun] = None
            with suppress(*UNREADABLE):
                self._now[noun] = nouns.now(self.book, noun)
        return self._now[noun]

    def replaced(self, effect: _Effect) -> bool:
        now = self.now(effect.noun)
        return effect.lost is not None and not nouns.same(effect.noun, effect.lost, now)

    def entry(self, effect: _Effect) -> bool:
        """Of a step that stands, the entry itself must have gone; of one that was taken back, any
        change of it is in no other place than the bin."""
        versions = self.versions(effect.key)
        was, became = (versions.get(int(one or 0)) for one in (effect.lost, effect.left))
        now = versions[max(versions)] if versions else None
        if was is None or now is None or was["standing"] == "dropped":
            return False
        if _elsewhere(was, became):
            return _elsewhere(was, now)
        return effect.undone and _told_by(was) != _told_by(now)

    def original(self, effect: _Effect) -> bool:
        was, left, now = (
            things.original_state(effect.noun, one)
            for one in (effect.lost, effect.left, self.now(effect.noun))
        )
        return was is not None and was[1] == "kept" and left != was and now != was

    def tie(self, effect: _Effect) -> bool:
        now = self.now(effect.noun)
        if effect.lost is None:  # It was tied by itself, until somebody took it away.
            return effect.left == now == "0"
        return now != effect.lost and (effect.undone or effect.lost == "1")

    def setting(self, effect: _Effect) -> bool:
        now = self.now(effect.noun)
        return now != effect.lost and bool(self.told(effect))

    def closing(self, effect: _Effect) -> bool:
        return effect.lost is not None and self.now(effect.noun) is None

    def version_of_whole(self, effect: _Effect) -> bool:
        """A bid or a house: the newest one that stands is the one of its job."""
        was = self.whole_lost(effect)
        if was is None:
            return False
        now = things.newest_whole(self.book, effect.kind, was["job"])
        return now is None or now["content"] != was["content"]

    def whole_lost(self, effect: _Effect) -> Row | None:
        """The version of a bid or house that the step took away."""
        if effect.lost is not None:
            return things.whole(self.book, effect.kind, int(effect.key))
        if effect.left is None or effect.undone:
            return None
        return things.whole_before(self.book, effect.kind, int(effect.key))

    def versions(self, id: str) -> dict[int, Row]:
        """All versions of an entry by their numbers: standing, job, moment and content."""
        if id not in self._entries:
            self._entries[id] = {
                row["version"]: row
                for row in self.book._rows(
                    "SELECT version, standing, job, at, content,"
                    " coalesce(origin, change) AS made_by FROM entry_version WHERE entry = ?",
                    int(id),
                )
            }
        return self._entries[id]

    def only_went_along(self, effect: _Effect) -> bool:
        """Whether an entry is as it went with its recording, and nothing else was decided of it."""
        versions = self.versions(effect.key)
        newest = versions[max(versions)]
        away = newest["standing"] == "dropped" and newest["made_by"] == "withdrawn"
        return away or self.now(effect.noun) == effect.left

    def told(self, effect: _Effect) -> str:
        """What went, in a line; "" for what nothing went of."""
        if effect.kind == "entry":
            was = self.versions(effect.key).get(int(effect.lost or 0))
            return things.entry_told(was["content"]) if was else ""
        if effect.kind in things.WHOLES:
            whole = self.whole_lost(effect)
            return things.whole_told(effect.kind, whole["content"]) if whole else ""
        try:
            return things.told(self.book, effect.noun, effect.lost)
        except UNREADABLE:
            return f"a {effect.kind} that cannot be read any more"

    def mark(self, effect: _Effect) -> object:
        """The same for effects that took the same thing away."""
        if effect.kind == "entry":
            return effect.noun, _told_by(self.versions(effect.key)[int(effect.lost or 0)])
        if effect.kind in things.WHOLES:
            whole = self.whole_lost(effect)
            return effect.kind, whole and (whole["job"], whole["content"])
        return effect.noun, effect.lost


_GONE = {
    "entry": _Looked.entry,
    "recording": _Looked.original,
    "photo": _Looked.original,
    "tie": _Looked.tie,
    "closing": _Looked.closing,
    "setting": _Looked.setting,
    **dict.fromkeys(things.WHOLES, _Looked.version_of_whole),
}
"""By kind, when a thing is gone; any other is when it is anything else by now."""


def _elsewhere(was: Row, now: Row | None) -> bool:
    return now is None or now["standing"] == "dropped" or now["job"] != was["job"]


def _told_by(version: Row) -> tuple[object, ...]:
    return version["content"], version["standing"] == "dropped", version["job"], version["at"]


# --- one line of the bin ----------------------------------------------------------------------


def _binned(looked: _Looked, step: Step, effects: Sequence[_Effect]) -> Binned:
    back = next((turn.at for turn in reversed(step.turns) if turn.undone), step.at)
    told = [(effect, line) for effect in effects if (line := looked.told(effect))]
    # What came with a recording or a photo goes with it.
    told.sort(key=lambda one: one[0].kind not in ("recording", "photo"))
    return Binned(
        step,
        step.at if step.state == "done" else back,
        tuple(dict.fromkeys(line for _, line in told)),
        tuple(int(effect.key) for effect, _ in told if effect.kind == "entry"),
    )


def _once(
    found: Iterable[Binned], gone: Mapping[int, Sequence[_Effect]], looked: _Looked
) -> Iterator[Binned]:
    """Without those that took away only what another one took away too: what stands tells more of
    it than what was taken back, and the last time more than the one before."""
    met: set[object] = set()
    for one in sorted(found, key=_tells_most):
        marks = {looked.mark(effect) for effect in gone[one.step.id]}
        if not marks <= met:
            yield one
        met |= marks


def _tells_most(one: Binned) -> tuple[bool, int]:
    return (False, -one.step.id) if one.step.state == "done" else (True, one.step.id)


# --- bringing back ----------------------------------------------------------------------------


def _as_it_was(looked: _Looked, effects: Sequence[_Effect]) -> dict[str, str | None]:
    """What each noun is to be again; nothing where nothing went."""
    # Whether one is brought back that somebody noted is told by what was there before.
    if not any(looked.told(effect) for effect in effects):
        return {}
    with_recording = any(effect.kind == "recording" for effect in effects)
    values: dict[str, str | None] = {}
    for effect in effects:
        if effect.kind in things.WHOLES:
            whole = looked.whole_lost(effect)
            values[effect.noun] = None if whole is None else str(whole["id"])
        elif effect.kind != "entry" or not with_recording or looked.only_went_along(effect):
            values[effect.noun] = effect.lost
    return values


def _put(step: Deciding, values: Mapping[str, str | None]) -> None:
    book = step.book
    for noun, value in values.items():
        kind, _, key = noun.partition(" ")
        if kind == "recording":
            _must_not_count_twice(book, key, value)
        if kind in things.WHOLES and value is not None:
            whole = things.whole(book, kind, int(value))
            assert whole is not None
            now = things.newest_whole(book, kind, whole["job"])
            if now is None or now["content"] != whole["content"]:
                row = {name: whole[name] for name in ("job", "content")}
                added = book._insert(kind, {**row, "at": rows.moment_text(step.at)})
                step.brought(f"{kind} {added}")
    step.put_back({noun: value for noun, value in values.items() if not _is_whole(noun)})


def _must_not_count_twice(book: Book, sha256: str, value: str | None) -> None:
    becomes = things.original_state(f"recording {sha256}", value)
    recording = book.recording(sha256)
    if recording.standing == "kept" or becomes is None or becomes[1] != "kept":
        return
    if (other := same_sound_that_counts(book, sha256)) is not None:
        raise BookError(
            f"{recording.name}: {other} has the same sound and counts; withdraw that one first"
        )


def _is_whole(noun: str) -> bool:
    return noun.partition(" ")[0] in things.WHOLES
