"""Taking a packed job into a book."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal
from urllib.parse import quote

from joblog.book import Book, media, nouns
from joblog.book.closed import _marks_of_plans
from joblog.book.keep import taking_in
from joblog.book.rows import Row, moment_text
from joblog.book.schema import plainly
from joblog.book.schema_of_transfers import MOVED
from joblog.book.steps import JOBLOG, deciding
from joblog.form import from_json
from joblog.model import Plan
from joblog.packing.columns import SORTS, TABLES, Turn
from joblog.packing.compare import Been, later, only_in, told
from joblog.packing.gather import Rows, gather, names_of_jobs
from joblog.packing.load import Loaded, legible, loaded
from joblog.packing.nouns import PackError, Unpacked
from joblog.packing.pack import book_id
from joblog.packing.state import Elsewhere, digest, elsewhere, ranks, shared, state

Outcome = Literal["new", "went on", "same", "older"]


def unpack(book: Book, file: Path, name: str | None = None) -> Unpacked:
    """Takes the job in a pack into the book: all of it, in one transaction, or nothing.

    Unpacked again it changes nothing. One that went on since takes the place of what is here;
    where what is here went on too, `PackError` tells which has what. `name` is what the job is to
    be called here. Everything is verified before anything is written.
    """
    with loaded(file) as pack, taking_in(book):
        met = _met(book, pack, name)
        if met.outcome in ("same", "older"):
            if met.outcome == "same" and _is_later(met):
                with book._writing():
                    _note_costs(met)
            return met.told()
        media_of = _stowed(book, pack, met)
        with book._writing():
            met = _met(book, pack, name)  # As it is now that nobody else writes.
            if met.outcome in ("new", "went on"):
                with legible(file, sqlite3.IntegrityError):
                    _take_in(met, media_of)
        book._remembered.forget()
        return met.told()


@dataclass(slots=True)
class _Met:
    """A pack, and what this book has of its job."""

    book: Book
    pack: Loaded
    own: str
    """The id of this book."""
    name: str
    outcome: Outcome
    job: int | None
    """The number of the job in this book."""
    here: Rows
    apart: Elsewhere
    """What another job of this book has of the originals."""
    lines: list[str] = field(default_factory=list)
    entries: int = 0
    originals: int = 0

    def told(self) -> Unpacked:
        return Unpacked(self.name, self.outcome, self.entries, self.originals, tuple(self.lines))


def _met(book: Book, pack: Loaded, name: str | None) -> _Met:
    own, db = book_id(book), book._db
    job = _number_here(book, own, *pack.origin)
    apart, lines = _held_elsewhere(book, pack, own)
    if job is None:
        called = _free_name(book, pack, name)
        met = _Met(book, pack, own, called, "new", None, {}, apart, lines)
        met.entries = sum(row["job"] == pack.head.job for row in pack.found["entry"])
        return met
    [taken] = book._rows("SELECT name, beside FROM job WHERE id = ?", job)
    called = taken["name"]
    if name not in (None, called):
        raise PackError(
            f"{pack.file.path}: its job is known in this book already, as {called!r}. Nothing was"
            " changed; say it without --as."
        )
    here = gather(db, job)
    of_book = state(here, shared(db, own), apart.originals)
    of_pack = state(pack.found, pack.known, apart.originals)
    if taken["beside"]:  # Of it there is only what other jobs have to do with it.
        which = "both" if any(key[0] != "job" for key, _ in only_in(of_book, of_pack)) else "new"
    else:
        which = later(of_book, pack, of_pack, _been(book, job))
    if which == "both":
        _refuse(pack, called, told(only_in(of_book, of_pack)), told(only_in(of_pack, of_book)))
    outcome = _OUTCOMES[which]
    met = _Met(book, pack, own, called, outcome, job, here, apart, lines)
    if outcome in ("new", "went on"):
        fresh = (kept.row for (table, _), kept in only_in(of_pack, of_book) if table == "entry")
        met.entries = sum(row["job"] == pack.head.job for row in fresh)
    return met


_OUTCOMES: Mapping[str, Outcome] = {
    "same": "same", "here": "older", "pack": "went on", "new": "new",
}  # fmt: skip


def _refuse(pack: Loaded, job: str, mine: str, theirs: str) -> None:
    raise PackError(
        f"{job}: went on in this book and in {pack.file.path.name}, each without the other. Only"
        f" here: {mine}. Only in the pack: {theirs}. Nothing was changed. Go on with one of them;"
        " to look at the pack, unpack it into a book of its own with --book."
    )


def _number_here(book: Book, own: str, made: str, number: int) -> int | None:
    """The number that a job has in this book; None where it is not in it."""
    if made == own:
        found = book._rows("SELECT id FROM job WHERE id = ?", number)
    else:
        found = book._rows(
            "SELECT job AS id FROM packed_job WHERE book = ? AND number = ?", made, number
        )
    return int(found[0]["id"]) if found else None


def _been(book: Book, job: int) -> Been:
    found = book._rows("SELECT * FROM packed_state WHERE job = ? ORDER BY at", job)
    return Been(
        frozenset(row[name] for row in found for name in ("digest", "stands")),
        found[-1]["stands"] if found else None,
        tuple((row["packed_by"], row["packed_at"]) for row in found),
    )


def _free_name(book: Book, pack: Loaded, name: str | None) -> str:
    called = name or pack.head.name
    if book._rows("SELECT 1 FROM job WHERE name = ?", called):
        raise PackError(
            f"{pack.file.path}: there is another job called {called!r} in this book. Say what this"
            " one is to be called: --as NAME"
        )
    return called


def _held_elsewhere(book: Book, pack: Loaded, own: str) -> tuple[Elsewhere, list[str]]:
    """The originals of the pack that a job of this book has which the pack does not know."""
    known = {
        _number_here(book, own, *pack.known.origin("job", row["id"])) for row in pack.found["job"]
    }
    lines, held = [], set()
    for table in media.TABLES:
        for row in pack.found[table]:
            found = book._rows(
                f"SELECT job.id, job.name FROM {table} JOIN job ON job.id = {table}.job"
                " WHERE sha256 = ?",
                row["sha256"],
            )
            if found and found[0]["id"] not in known:
                held.add(row["sha256"])
                lines.append(f"{row['name']} is in this book already, on {found[0]['name']}")
    return elsewhere(pack.found, held), lines


# --- originals --------------------------------------------------------------------------------


def _stowed(book: Book, pack: Loaded, met: _Met) -> Mapping[str, str]:
    """Puts the originals that the book does not have into its store; where each is there."""
    there = pack.file.originals()
    places: dict[str, str] = {}
    for table in media.TABLES:
        for row in pack.found[table]:
            sha256 = row["sha256"]
            if sha256 in met.apart.originals:
                continue
            place = media.place_of(sha256, row["media"])
            places[sha256] = place
            if sha256 not in there:
                continue
            with plainly(book.store):
                if media.is_whole(book.store / place, Path(place).stem):
                    continue
                with pack.file.original(sha256) as reading:
                    whole = media.stow_from(book.store, reading, place)
            if not whole:
                raise PackError(f"{pack.file.path}: changed while it was being read. Say it again.")
    return places


# --- rows -------------------------------------------------------------------------------------


def _take_in(met: _Met, media_of: Mapping[str, str]) -> None:
    book, pack = met.book, met.pack
    met.lines += _take_lines(met)
    numbers = _Numbers(met)
    names = {}
    for row in pack.found["job"]:
        own_name = met.name if row["id"] == pack.head.job else None
        number = numbers.job(row, own_name)
        names[row["name"]] = row["name"] if number is None else _name_of(book, number)
    turn = Turn(numbers.of, lambda name: names.get(name, name))
    book._db.execute("PRAGMA defer_foreign_keys = ON")
    _put_away(met)
    for table in TABLES:
        if table != "job":
            _write(met, table, turn, media_of)
    _note(met, turn)
    there = pack.file.originals()
    for sort in media.TABLES:
        for row in pack.found[sort]:
            if row["sha256"] in met.apart.originals:
                continue
            if row["sha256"] in there:
                met.originals += 1
            elif not (book.store / media_of[row["sha256"]]).is_file():
                met.lines.append(f"the original of {row['name']} was not in the pack")


def _name_of(book: Book, job: int) -> str:
    return str(book._rows("SELECT name FROM job WHERE id = ?", job)[0]["name"])


class _Numbers:
    """The numbers that rows of a pack have in this book, given to them where they are new."""

    def __init__(self, met: _Met) -> None:
        self._met = met
        self._jobs: dict[int, int | None] = {}
        self._known: dict[tuple[str, int], int] = {}
        self._undone = self._of_undone()
        for sort in SORTS:
            if sort != "job":
                self._give(sort)
        self._utterances = self._of_utterances()

    def of(self, sort: str, number: int) -> int | None:
        """The number here of a row of the pack."""
        match sort:
            case "job":
                return self._jobs[number]
            case "utterance":
                return self._utterances[number]
            case "undone":
                return self._undone[number]
        return self._known[sort, number]

    def job(self, row: Row, name: str | None) -> int | None:
        """The number here of a job of the pack; it is begun where it is not here yet, under its
        name, or with None beside the packed one. None for one that this very book only names."""
        met, book = self._met, self._met.book
        made, there = met.pack.known.origin("job", row["id"])
        number = _number_here(book, met.own, made, there)
        if number is None and (made != met.own or there > 0):
            called = self._free(row["name"]) if name is None else name
            new = {"name": called, "zone": row["zone"], "places": row["places"]}
            if made == met.own:  # This book is an earlier state of the one that it was packed in.
                new["id"] = there
            number = book._insert("job", {**new, "beside": int(name is None)})
            if made != met.own:
                origin = met.pack.known.names.get(row["name"], row["name"])
                come = {"job": number, "book": made, "number": there, "name": origin}
                book._insert("packed_job", come)
        elif name is not None:
            book._db.execute(
                "UPDATE job SET beside = 0, places = ? WHERE id = ?", [row["places"], number]
            )
        self._jobs[row["id"]] = number
        return number

    def _free(self, name: str) -> str:
        """A name for a job that is here only beside the packed one, and is no other job's."""
        book = self._met.book
        taken = {row["name"] for row in book._rows("SELECT name FROM job")}
        taken |= names_of_jobs(book._rows(f"SELECT content FROM entry_version WHERE {MOVED}"))
        called, count = name, 1
        while called in taken:
            called = f"{name} (elsewhere{f' {count}' if count > 1 else ''})"
            count += 1
        return called

    def _give(self, sort: str) -> None:
        met, book = self._met, self._met.book
        [last] = book._rows(f"SELECT coalesce(max(id), 0) AS id FROM {sort}")
        fresh = last["id"]
        here = {
            (row["book"], row["number_there"]): row["number"]
            for row in book._rows("SELECT * FROM packed_row WHERE sort = ?", sort)
        }
        own = {row["id"] for row in met.here.get(sort, ())}
        for row in sorted(met.pack.found[sort], key=lambda row: int(row["id"])):
            made, there = met.pack.known.origin(sort, row["id"])
            if made == met.own:
                if there not in own and book._rows(f"SELECT 1 FROM {sort} WHERE id = ?", there):
                    raise PackError(
                        f"{met.pack.file.path}: comes from a copy of this very book, and both went"
                        f" on since: its {sort} {there} is another one here. Nothing was changed."
                        " Unpack it into a book of its own with --book."
                    )
                fresh = max(fresh, there)
                self._known[sort, row["id"]] = there
            elif (made, there) in here:
                self._known[sort, row["id"]] = here[made, there]
            else:
                fresh += 1
                self._known[sort, row["id"]] = fresh
                come = {"sort": sort, "number": fresh, "book": made, "number_there": there}
                book._insert("packed_row", come)

    def _of_utterances(self) -> dict[int, int | None]:
        book, met = self._met.book, self._met
        [last] = book._rows("SELECT coalesce(max(id), 0) AS id FROM utterance")
        fresh = last["id"]
        numbers: dict[int, int | None] = {}
        for row in sorted(met.pack.found["utterance"], key=lambda row: int(row["id"])):
            found = book._rows(
                'SELECT id, "start", "end" FROM utterance WHERE recording = ? AND ordinal = ?',
                row["recording"],
                row["ordinal"],
            )
            if row["id"] in met.apart.utterances:
                alike = [one for one in found if _cut_alike(one, row)]
                numbers[row["id"]] = alike[0]["id"] if alike else None
            elif found:
                numbers[row["id"]] = found[0]["id"]
            else:
                fresh += 1
                numbers[row["id"]] = fresh
        return numbers

    def _of_undone(self) -> dict[int, int]:
        """What was undone in the pack was undone after all that was undone here."""
        [last] = self._met.book._rows("SELECT coalesce(max(undone), 0) AS undone FROM step")
        return {
            number: last["undone"] + rank for number, rank in ranks(self._met.pack.found).items()
        }


def _cut_alike(one: Row, other: Row) -> bool:
    return bool(one["start"] == other["start"] and one["end"] == other["end"])


def _own_number(met: _Met, turn: Turn) -> int:
    number = turn.number("job", met.pack.head.job)
    assert isinstance(number, int)
    return number


def _put_away(met: _Met) -> None:
    """Takes the rows out that those of the pack take the place of: of what is only ever added,
    none."""
    full = {row["id"] for row in met.here.get("job", ())[1:] if not row["beside"]}
    for name, table in TABLES.items():
        if table.lasting and not table.derived:
            continue
        for row in met.here.get(name, ()):
            if not met.apart.has(name, row) and row.get("job") not in full:
                where = " AND ".join(f'"{column}" = ?' for column in table.key)
                values = [row[column] for column in table.key]
                met.book._db.execute(f"DELETE FROM {name} WHERE {where}", values)


def _write(met: _Met, name: str, turn: Turn, media_of: Mapping[str, str]) -> None:
    job = _own_number(met, turn)
    table, book = TABLES[name], met.book
    where = " AND ".join(f'"{column}" = ?' for column in table.key)
    mark = _marks_of_plans(book, {job})[job] if name == "closing" else ""
    for row in met.pack.found[name]:
        if met.apart.has(name, row):
            continue
        turned = table.turned(row, turn)
        if "media" in table.columns:
            turned["media"] = media_of[row["sha256"]]
        if "plan_mark" in table.columns:
            # As long as the plan is the one that it was closed with, nothing else is looked at.
            plan = from_json(Plan, json.loads(row["plan"]))
            turned["plan_mark"] = mark if plan == book.plan(met.name) else ""
        key = [turned[column] for column in table.key]
        here = book._rows(f"SELECT * FROM {name} WHERE {where}", *key)
        if name == "step_effect":
            many = "SELECT count(*) AS count FROM step_effect WHERE step = ?"
            turned["ordinal"] = book._rows(many, turned["step"])[0]["count"]
        if not here:
            book._insert(name, turned)
        elif changed := {
            column: turned[column]
            for column in sorted(table.changing)
            if turned[column] != here[0][column]
        }:
            sets = ", ".join(f'"{column}" = ?' for column in changed)
            book._db.execute(f"UPDATE {name} SET {sets} WHERE {where}", [*changed.values(), *key])


def _note(met: _Met, turn: Turn) -> None:
    """Notes where the job comes from, what it brought with it, and how it stands now."""
    book, pack, job = met.book, met.pack, _own_number(met, turn)
    _note_costs(met)
    now = state(gather(book._db, job), shared(book._db, met.own), met.apart.originals)
    book._db.insert(
        "packed_state",
        {
            "job": job,
            "digest": pack.head.digest,
            "stands": digest(now),
            "at": moment_text(datetime.now(UTC)),
            "packed_at": moment_text(pack.head.packed_at),
            "packed_by": pack.head.book,
        },
        replace=True,
    )


def _is_later(met: _Met) -> bool:
    """Whether a pack that tells the same of its job was packed after the one that was taken in."""
    found = met.book._rows(
        "SELECT packed_by, packed_at FROM packed_state WHERE job = ? ORDER BY at DESC", met.job
    )
    return bool(found) and (
        found[0]["packed_by"] == met.pack.head.book
        and found[0]["packed_at"] < moment_text(met.pack.head.packed_at)
    )


def _note_costs(met: _Met) -> None:
    """Notes what came to the job and what it cost, and when the jobs beside it were closed."""
    book, pack = met.book, met.pack
    names: dict[str, str] = {}
    for row in pack.found["job"]:
        number = _number_here(book, met.own, *pack.known.origin("job", row["id"]))
        names[row["name"]] = row["name"] if number is None else _name_of(book, number)
        _put(book, "closed", pack.closed.get(row["id"]), number)
        if row["id"] == pack.head.job:
            own = number
    came = [
        {**one, **{end: names.get(one[end], one[end]) for end in ("from_job", "to_job")}}
        for one in pack.came
    ]
    _put(book, "came", json.dumps(came, ensure_ascii=False), own)


def _put(book: Book, column: str, value: str | None, job: int | None) -> None:
    book._db.execute(
        f"UPDATE packed_job SET {column} = :value WHERE job = :job AND {column} IS NOT :value",
        {"value": value, "job": job},
    )


# --- the catalog ------------------------------------------------------------------------------


def _take_lines(met: _Met) -> list[str]:
    """Puts the lines of the catalog that the job names, and this book does not have, into its own;
    a line on those that it has otherwise.

    While this book's catalog is the starter's, nobody decided anything of it, and the job's lines
    take the place of the starter's.
    """
    book = met.book
    own = any(nouns.kept_lines(book, sort) for sort in met.pack.lines)
    lines = {sort: {row["name"]: row for row in nouns.lines_of(book, sort)} for sort in _SORTS}
    before = nouns.catalog_lines(book)
    otherwise: list[str] = []
    fresh: dict[str, str | None] = {}
    for sort, rows in met.pack.lines.items():
        for row in rows:
            name, noun = row["name"], f"{sort} {quote(row['name'], safe='')}"
            if nouns.same(noun, before.get(noun), json.dumps(row)):
                continue
            if own and name in lines[sort]:
                otherwise.append(name)
                continue
            fresh[noun] = before.get(noun)
            lines[sort][name] = row
    if fresh:
        with deciding(book, JOBLOG) as step:
            for sort, kept in lines.items():
                nouns.write_lines(book, sort, kept.values())
            step.before.update(fresh)
            step.what = f"catalog: {len(fresh)} lines that came with {met.name}"
    if not otherwise:
        return []
    more = f" and {len(otherwise) - _NAMED} more" if len(otherwise) > _NAMED else ""
    return [
        f"the catalog here has otherwise: {', '.join(otherwise[:_NAMED])}{more}. It stays as it is;"
        " what the job tells of these may come out otherwise"
    ]


_SORTS = ("item", "task")
_NAMED = 6
