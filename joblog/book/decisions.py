"""Everything that a person decides. Each decision is one step of the job's history.

What is written is there whole, or not at all; it can be undone and redone. Every function raises
`BookError`, in words for a person, for a job, entry or original that is not there.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from itertools import islice
from typing import Literal

from joblog.book import nouns, steps
from joblog.book.catalog_told import changes_told
from joblog.book.copies import entries_of, same_sound_that_counts, shorter_than
from joblog.book.earlier import as_it_was, changes_elsewhere, give_back
from joblog.book.editing import edited
from joblog.book.entries import add_beside, add_entry, as_is
from joblog.book.errors import BookError
from joblog.book.history import Version, spoken_after, versions
from joblog.book.late import note_late
from joblog.book.nouns import photo_text, recording_text
from joblog.book.rows import moment_text
from joblog.book.steps import YOU, Deciding, deciding
from joblog.book.store import Book
from joblog.form import describe
from joblog.local import day_written, moment_written
from joblog.model import (
    BookEntry,
    Catalog,
    Change,
    Entry,
    Fence,
    Photo,
    Plan,
    Reading,
    Recording,
    RecordingStanding,
    Settled,
    Standing,
    Tie,
    Vocabulary,
)

# --- entries ----------------------------------------------------------------------------------


def add_typed(book: Book, job: str, reading: Reading, said: str, at: datetime) -> tuple[int, ...]:
    """Adds what a person wrote, as if said at `at`; the ids of the entries."""
    return write_down(book, job, [(reading, said)], at)[0]


def write_down(
    book: Book,
    job: str,
    said: Sequence[tuple[Reading, str]],
    at: datetime,
    before: Sequence[BookEntry] = (),
    words: Vocabulary | None = None,
) -> tuple[tuple[int, ...], ...]:
    """Adds what a person wrote, sentence by sentence, as if said at `at`; all in one step.

    `before` is what stands of what was said until then, oldest first: what the words put right of
    it is changed. With `words` it is noted what was said later and would be understood otherwise
    now. Of each sentence the ids of those that it changed, then of the new ones.
    """
    number = book._job(job)["id"]
    told: list[list[int]] = [[] for _ in said]
    with deciding(book) as step:
        first = _next_ordinal(book, number, at)
        earlier, kept = spoken_after([as_is(one, one.change) for one in before], said, "typed")
        ids = [
            step.added(add_entry(book, number, None, first + ordinal, at, made, [step.at]))
            for ordinal, made in enumerate(kept)
        ]
        for id, changes in zip([one.id for one in before], earlier, strict=True):
            for version in changes:
                step.add_version(id, version)
                told[version.part].append(id)
        for id, made in zip(ids, kept, strict=True):
            for version in made[1:]:
                told[version.part].append(id)
            told[made[0].part].append(id)
        read = [entry for reading, _ in said for entry in reading.entries]
        step.what = f"wrote: {_several(read)}"
        if words is not None:
            note_late(step, job, ids, words)
    return tuple(tuple(dict.fromkeys(ids)) for ids in told)


def _next_ordinal(book: Book, job: int, at: datetime) -> int:
    """So that what is written twice at one moment stays in the order in which it was written."""
    [found] = book._rows(
        "SELECT coalesce(max(ordinal), -1) + 1 AS next FROM entry"
        " WHERE job = ? AND utterance IS NULL AND at = ?",
        job,
        moment_text(at),
    )
    return int(found["next"])


def accept(book: Book, id: int) -> BookEntry:
    """It is right as it stands; its doubts are settled."""
    with deciding(book) as step:
        now = book.entry(id)
        if not now.looked_at:
            step.what = f"accepted: {line_of(now.entry)}"
            step.add_version(id, Version(now.entry, (), "accepted", "accepted", now.said))
    return book.entry(id)


def drop(book: Book, id: int) -> BookEntry:
    """It does not count; it stays readable."""
    with deciding(book) as step:
        now = book.entry(id)
        if now.standing != "dropped":
            step.what = f"dropped: {line_of(now.entry)}"
            step.add_version(id, as_is(now, "dropped", "dropped"))
    return book.entry(id)


def restore(book: Book, id: int) -> BookEntry:
    """A dropped entry stands again as it did before, with the doubts that it had."""
    with deciding(book) as step:
        now = book.entry(id)
        if (now.origin or now.change) == "merged" and now.standing == "dropped":
            raise BookError(f"entry {id} counts in another one; undo that to part them again")
        if now.standing == "dropped":
            step.what = f"restored: {line_of(now.entry)}"
            step.add_version(id, undropped(book, id))
    return book.entry(id)


def settle(
    book: Book, settled: Sequence[Settled], *, seen: Mapping[int, Sequence[str]] | None = None
) -> tuple[BookEntry, ...]:
    """Answers a question about one or several entries, as one step; the entries as they then
    stand, those that came beside them last.

    `seen` are the doubts of each that the person saw. These are settled, and no others: where any
    other is left, the entry waits on.
    """
    with deciding(book) as step:
        told: list[str] = []
        added: list[int] = []
        for one in settled:
            told += _settled_one(book, step, one, (seen or {}).get(one.entry, ()), added)
        step.what = "; ".join(dict.fromkeys(told))
    return tuple(map(book.entry, [*(one.entry for one in settled), *added]))


def _settled_one(
    book: Book, step: Deciding, one: Settled, seen: Sequence[str], added: list[int]
) -> Iterator[str]:
    now = book.entry(one.entry)
    if one.becomes is None:
        if now.standing != "dropped":
            step.add_version(one.entry, as_is(now, "dropped", "dropped"))
            yield f"dropped: {line_of(now.entry)}"
        return
    kept = one.becomes == now.entry
    doubts = tuple(dict.fromkeys(why for why in (*now.doubts, *one.doubts) if why not in seen))
    if kept and now.looked_at and not one.beside:
        return
    standing: Standing = "heard" if doubts else "accepted"
    change: Change = "accepted" if kept else "corrected"
    if not kept or not doubts:
        version = Version(one.becomes, doubts, standing, change, one.said)
        number = step.add_version(one.entry, version)
        for entry in one.beside:
            beside = Version(entry, (), "accepted", "corrected", one.said)
            added.append(step.added(add_beside(book, one.entry, number, beside)))
        became = _several([one.becomes, *one.beside])
        yield f"accepted: {became}" if kept else f"corrected: {line_of(now.entry)}, now {became}"


def correct(
    book: Book, id: int, reading: Reading, said: str, *, seen: Sequence[str] = ()
) -> tuple[BookEntry, ...]:
    """Puts the reading's first entry in the place of this one and its others beside it.

    The entries as they then stand, the changed one first. `seen` are the doubts that the person
    saw and decided in spite of: where there is no other, the entry is settled. Raises `BookError`
    for a reading without an entry.
    """
    made = versions(reading, said, "corrected")
    if not made:
        raise BookError(f"nothing that could be noted was read in {said!r}")
    if set(made[0].doubts) <= set(seen):
        made[0] = replace(made[0], doubts=(), standing="accepted")
    with deciding(book) as step:
        before = book.entry(id)
        number = step.add_version(id, made[0])
        added = [step.added(add_beside(book, id, number, version)) for version in made[1:]]
        step.what = f"corrected: {line_of(before.entry)}, now {_several(reading.entries)}"
    return tuple(map(book.entry, [id, *added]))


def edit(
    book: Book,
    id: int,
    field: str,
    value: object,
    *,
    settles: Sequence[str] = (),
    asks: Sequence[str] = (),
    looked_at: bool = True,
) -> BookEntry:
    """Changes one field of an entry by itself: one of its kind, or `place`, `note` or `kind`.

    `value` is text as a person types it ("9", "11 7/8", "13.50", "7:30", "north eave"), or the
    exact type of the field; None or "" empties it. All doubts stay but those in `settles`, which
    the caller knows to be answered; those in `asks` are new. Where none is left the entry is
    settled, unless `looked_at` is False: something else of it is still asked. Raises `BookError`
    for a field that its kind does not have, a value that is not exact, a unit that nobody knows,
    and a dropped entry.
    """
    with deciding(book) as step:
        now = book.entry(id)
        if now.standing == "dropped":
            raise BookError(f"entry {id} is dropped; restore it first")
        strange = [why for why in settles if why not in now.doubts]
        if strange:
            raise BookError(f"entry {id} has no doubt {strange[0]!r}")
        try:
            entry = edited(now.entry, field, value, _units(book, book.job_of(id)))
        except ValueError as error:
            raise BookError(f"entry {id}: {error}") from None
        left = (why for why in now.doubts if why not in settles)
        doubts = tuple(dict.fromkeys((*left, *asks)))
        if (entry, doubts) != (now.entry, now.doubts):
            step.what = f"edited {field}: {line_of(now.entry)}, now {line_of(entry)}"
            standing: Standing = "heard" if doubts or not looked_at else "accepted"
            step.add_version(id, Version(entry, doubts, standing, "edited", now.said))
    return book.entry(id)


def move(book: Book, id: int, *, at: datetime | None = None, job: str | None = None) -> BookEntry:
    """Moves an entry to another moment, or into another job, or both."""
    with deciding(book) as step:
        now, here = book.entry(id), book.job_of(id)
        there = book._job(job)["id"] if job is not None and job != here else None
        try:
            moment = moment_text(at) if at is not None and at != now.at else None
        except ValueError as error:
            raise BookError(f"entry {id}: {error}") from None
        if there is not None or moment is not None:
            when = f" to {moment_written(at, year=True)} {at:%Z}" if moment and at else ""
            where = f" from {here} to {job}" if there is not None else ""
            step.what = f"moved{where}{when}: {line_of(now.entry)}"
            step.add_version(id, as_is(now, "moved"), job=there, at=moment)
    return book.entry(id)


def undo(book: Book, id: int) -> BookEntry:
    """Takes back the last step that changed an entry, spoken ones too; the entry as it then stands.

    The whole step goes, with all that it changed or added elsewhere, and later steps that rest on
    it. Raises `BookError` when nothing is left to take back.
    """
    with book._writing():
        book.entry(id)
        last = steps.last_of(book, f"entry {id}")
        if last is None or last["before"] is None:
            raise BookError(f"entry {id} is as it was first noted; there is nothing to undo")
        steps.take_back(book, last["id"])
    return book.entry(id)


def redo(book: Book, id: int) -> BookEntry:
    """Does again what was undone last of an entry, as long as nothing else was decided since."""
    with book._writing():
        book.entry(id)
        undone = steps.undone_last_of(book, f"entry {id}")
        if undone is None:
            raise BookError(f"entry {id}: there is nothing to redo")
        steps.do_again(book, undone)
    return book.entry(id)


# --- photos -----------------------------------------------------------------------------------


def tie(book: Book, photo: str, id: int) -> Tie:
    """Ties a photo to an entry by hand; the photo keeps no tie that was only guessed."""
    with deciding(book) as step:
        taken, now = book.photo(photo), book.entry(id)
        here, there = book.holds(photo), book.job_of(id)
        if here != there:
            raise BookError(
                f"{taken.name} is in the job {here!r} and entry {id} in {there!r}; move one first"
            )
        if now.standing == "dropped":
            raise BookError(f"entry {id} is dropped; restore it first")
        if taken.standing == "withdrawn":
            raise BookError(f"{taken.name} is withdrawn; bring it back first")
        if nouns.now(book, f"tie {photo} {id}") != "1":
            step.what = f"tied {taken.name} to: {line_of(now.entry)}"
            step.put(f"tie {photo} {id}", "1")
    return next(one for one in book.ties(there) if (one.photo, one.entry) == (photo, id))


def untie(book: Book, photo: str, id: int) -> None:
    """Takes a photo from an entry; the two are not tied again by themselves."""
    with deciding(book) as step:
        taken, now = book.photo(photo), book.entry(id)
        tied = any((one.photo, one.entry) == (photo, id) for one in book.ties(book.job_of(id)))
        if not tied:
            raise BookError(f"{taken.name} is not tied to entry {id}")
        step.what = f"untied {taken.name} from: {line_of(now.entry)}"
        step.put(f"tie {photo} {id}", "0")


def set_clock(book: Book, job: str, camera: str, days: Sequence[date], seconds: float) -> None:
    """Adds so many seconds to all that a camera wrote on these days, whatever else is found out."""
    with deciding(book) as step:
        number = book._job(job)["id"]
        for day in days:
            noun = nouns.clock_noun(number, camera, day)
            if nouns.now(book, noun) != str(float(seconds)):
                step.put(noun, str(float(seconds)))
        step.what = f"set the clock of {camera} on {_days(days)}: {seconds:+.0f} s"


def unset_clock(book: Book, job: str, camera: str, days: Sequence[date]) -> None:
    """A clock that a person set is found out again by itself. Raises `BookError` for one unset."""
    with deciding(book) as step:
        number = book._job(job)["id"]
        clocks = [nouns.clock_noun(number, camera, day) for day in days]
        standing = [noun for noun in clocks if nouns.now(book, noun) is not None]
        if not standing:
            raise BookError(f"the clock of {camera} was not set by hand on {_days(days)}")
        for noun in standing:
            step.put(noun, None)
        step.what = f"no longer set by hand: the clock of {camera} on {_days(days)}"


def _days(days: Sequence[date]) -> str:
    return "; ".join(map(day_written, days))


def set_fence(book: Book, job: str, wanted: Fence | None) -> None:
    """Sets the fence by hand, or with None lets it be learned again; a step that can be undone."""
    value = None
    if wanted is not None:
        value = json.dumps([wanted.latitude, wanted.longitude, wanted.radius])
    with deciding(book) as step:
        noun = f"fence {book._job(job)['id']}"
        step.what = (
            f"set the fence: {wanted.latitude:.5f} {wanted.longitude:.5f}, {wanted.radius:.0f} m"
            if wanted
            else "let the fence be learned from the photos"
        )
        step.put(noun, value)


# --- the plan and the catalog -----------------------------------------------------------------


def load_plan(book: Book, job: str, plan: Plan) -> None:
    """Puts this plan in the place of the one before; a step that can be undone."""
    with deciding(book) as step:
        before = book.plan(job)
        with step.changing(f"plan {book._job(job)['id']}"):
            book.set_plan(job, plan)
        step.what = f"{'loaded another' if before != Plan() else 'loaded the'} plan: {_held(plan)}"


def _held(plan: Plan) -> str:
    parts = ((plan.items, "item"), (plan.tasks, "task"), (plan.places, "place"))
    counted = (f"{len(lines)} {name}{'s' * (len(lines) != 1)}" for lines, name in parts if lines)
    return ", ".join(counted) or "nothing"


def change_catalog(
    book: Book,
    change: Callable[[Catalog], Catalog],
    plans: Callable[[Catalog, Catalog, Plan], Plan] | None = None,
    jobs: Sequence[str] = (),
) -> Catalog:
    """Puts what `change` makes of the catalog in its place; the catalog as it then stands.

    The plan of each of `jobs` becomes what `plans` makes of it, of the catalog before and after.

    It is one step, in the history of every job, for the catalog belongs to all of them; each line
    is a noun of its own, so that taking one back leaves the others. What `change` raises passes
    through, and nothing is changed.
    """
    with deciding(book) as step:
        before, known = nouns.catalog_lines(book), book.catalog()
        catalog = book.change_catalog(change)
        after = nouns.catalog_lines(book)
        for noun in dict.fromkeys((*before, *after)):
            if not nouns.same(noun, before.get(noun), after.get(noun)):
                step.before[noun] = before.get(noun)
        told = [line_told(was, after.get(noun)) for noun, was in islice(step.before.items(), 1)]
        many = len(step.before)
        step.what = f"catalog: {told[0] if many == 1 else f'{many} lines'}"
        for job in jobs:
            plan = book.plan(job)
            became = plans(known, catalog, plan) if plans and told else plan
            if became != plan:
                with step.changing(f"plan {book._job(job)['id']}"):
                    book.set_plan(job, became)
                step.what += f"; the plan of {job} with it"
    return catalog


def line_told(before: str | None, after: str | None) -> str:
    """What became of a line of the catalog: "fascia; cost 14.90, now 15.20"."""
    name = json.loads(after or before or "{}").get("name")
    if before is None or after is None:
        return f"{'dropped' if after is None else 'added'} {name}"
    told = (f"{called} {was}, now {now}" for called, was, now in changes_told(before, after))
    return "; ".join((str(name), *told))


def set_settings(book: Book, what: str, values: Mapping[str, str | None]) -> None:
    """Makes settings of all jobs say otherwise, in one step of this name; None empties one."""
    with deciding(book) as step:
        step.what = what
        for name, value in values.items():
            step.put(nouns.setting_noun(name), value)


# --- originals --------------------------------------------------------------------------------


def move_original(book: Book, sha256: str, job: str) -> None:
    """Moves a photo, or a recording with all that was heard in it, into another job.

    The entries of a recording come along with their history, but for those that were moved out of
    its job by themselves. Ties made by hand wait until photo and entry are in one job again.
    """
    with deciding(book) as step:
        here, there = book.holds(sha256), book._job(job)["id"]
        if here is None:
            raise BookError(f"there is no recording or photo {sha256[:12]} in this book")
        if book._rows("SELECT 1 FROM track WHERE sha256 = ?", sha256):
            raise BookError("a track log belongs to all jobs; there is nothing to move")
        if here == job:
            raise BookError(f"{_name(book, sha256)} is in the job {job!r} already")
        step.what = f"moved from {here} to {job}: {_name(book, sha256)}"
        recording = _recording(book, sha256)
        if recording is None:
            step.put(f"photo {sha256}", photo_text(there, book.photo(sha256).standing))
            return
        text = recording_text(there, recording.standing, recording.superseded_by)
        step.put(f"recording {sha256}", text)
        for kept in _read_from(book, sha256):
            if book.job_of(kept.id) == here:
                step.add_version(kept.id, as_is(kept, "moved"), job=there)


def withdraw_photo(book: Book, sha256: str) -> Photo:
    """A photo belongs to no entry any more and is shown nowhere; it stays in the book."""
    return _stand_photo(book, sha256, "withdrawn")


def bring_back_photo(book: Book, sha256: str) -> Photo:
    """A photo that was withdrawn is there again, with what it was tied to by hand."""
    return _stand_photo(book, sha256, "kept")


def _stand_photo(book: Book, sha256: str, standing: Literal["kept", "withdrawn"]) -> Photo:
    with deciding(book) as step:
        photo = book.photo(sha256)
        if photo.standing == standing:
            raise BookError(f"{photo.name} is {standing} already")
        step.what = f"{'withdrew' if standing == 'withdrawn' else 'brought back'}: {photo.name}"
        [job] = nouns.jobs_of(book, f"photo {sha256}")
        step.put(f"photo {sha256}", photo_text(job, standing))
    return book.photo(sha256)


def withdraw(
    book: Book, sha256: str, *, superseded_by: str | None = None, who: str = YOU
) -> Recording:
    """A recording and all its entries count no more, and stay readable; the recording as it stands.

    `superseded_by` names the recording that holds all of this one, where that is why.
    """
    with deciding(book, who) as step:
        recording = book.recording(sha256)
        if recording.standing != "kept":
            raise BookError(f"{recording.name} is {recording.standing} already")
        standing: RecordingStanding = "withdrawn"
        step.what = f"withdrew: {recording.name}"
        if superseded_by is not None:
            standing = "superseded"
            step.what += f", which {book.recording(superseded_by).name} holds too"
            if superseded_by == sha256:
                raise BookError(f"{recording.name} cannot supersede itself")
        _stand(book, step, sha256, standing, superseded_by)
        # What was decided in shorter copies stands for what is said here.
        for one in (sha256, *shorter_than(book, sha256)):
            for kept in _read_from(book, one):
                if kept.standing != "dropped":
                    step.add_version(kept.id, as_is(kept, "withdrawn", "dropped"))
            give_back(step, entries_of(book, one))
    return book.recording(sha256)


def bring_back(book: Book, sha256: str, *, who: str = YOU) -> Recording:
    """A withdrawn recording counts again, with the entries that went with it.

    Raises `BookError` where another one of the same sound counts.
    """
    with deciding(book, who) as step:
        recording = book.recording(sha256)
        if recording.standing == "kept":
            raise BookError(f"{recording.name} is not withdrawn")
        if (other := same_sound_that_counts(book, sha256)) is not None:
            raise BookError(
                f"{recording.name}: {other} has the same sound and counts; withdraw that one first"
            )
        withdrawn_in = steps.last_of(book, f"recording {sha256}")
        step.what = f"brought back: {recording.name}"
        _stand(book, step, sha256, "kept", None)
        for kept in _read_from(book, sha256):
            if kept.standing == "dropped" and (kept.origin or kept.change) == "withdrawn":
                step.add_version(kept.id, undropped(book, kept.id))
        if withdrawn_in is not None:
            for _, id, _, _ in changes_elsewhere(book, entries_of(book, sha256)):
                last = steps.last_of(book, f"entry {id}")
                if last is not None and last["id"] == withdrawn_in["id"]:
                    step.add_version(id, as_it_was(book, id, int(last["before"])))
        for one in shorter_than(book, sha256):
            for kept in _read_from(book, one):
                last = steps.last_of(book, f"entry {kept.id}")
                if last and withdrawn_in and last["id"] == withdrawn_in["id"]:
                    step.add_version(kept.id, undropped(book, kept.id))
    return book.recording(sha256)


def _stand(
    book: Book,
    step: Deciding,
    sha256: str,
    standing: RecordingStanding,
    superseded_by: str | None,
) -> None:
    job, *_ = json.loads(nouns.now(book, f"recording {sha256}") or "")
    step.put(f"recording {sha256}", recording_text(job, standing, superseded_by))


def _read_from(book: Book, sha256: str) -> Iterator[BookEntry]:
    """The entries that were read from a recording, wherever they are now."""
    return map(book.entry, entries_of(book, sha256))


def undropped(book: Book, id: int) -> Version:
    """What an entry was before it was dropped. No entry begins as a dropped one."""
    change: Change = "restored"
    was = next(kept for kept in reversed(book.versions(id)) if kept.standing != "dropped")
    return as_is(was, change)


def _recording(book: Book, sha256: str) -> Recording | None:
    found = book._rows("SELECT 1 FROM recording WHERE sha256 = ?", sha256)
    return book.recording(sha256) if found else None


def _name(book: Book, sha256: str) -> str:
    return (_recording(book, sha256) or book.photo(sha256)).name


def _units(book: Book, job: str) -> frozenset[str]:
    """Units that are no common ones, but those of an item that this job or the catalog knows."""
    items = [*book.catalog().items, *(line.item for line in book.plan(job).items)]
    return frozenset(
        unit
        for item in items
        for unit in (item.unit, item.pack_name, *(name for name, _ in item.also))
        if unit
    )


def line_of(entry: Entry) -> str:
    """An entry as the history tells of it: "used 3 sheets of soffit panel, north eave"."""
    return describe(entry).replace(": ", " ", 1)


def _several(entries: Sequence[Entry]) -> str:
    return "; ".join(map(line_of, entries)) or "nothing that was understood"
