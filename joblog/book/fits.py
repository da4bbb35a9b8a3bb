"""Whether what the book holds fits together.

Rows that are each as they were written can still be at odds with each other: where one was lost
together with its seal, or came into the file by another way. What is asked here holds of every
sound book, however it was moved, merged, undone and redone, and whichever joblog wrote it; a row
that is known to be damaged is passed over, for it is named already.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from joblog.book import media, nouns, seals
from joblog.book.hurt import ACCEPT, OTHER, WORDS, Damage
from joblog.book.rows import Row
from joblog.book.store import Book

ACCEPTED = "misfits accepted"
"""The setting that holds the marks of those that a person takes as they are."""
AFTER_THE_END = 1.0
"""Seconds by which speech may end after its recording: codecs count their last block otherwise."""
BESIDE = timedelta(milliseconds=2)
"""By so much a moment may differ from one that was reckoned again."""
NAMED = 3
"""So many of what is missing are named in a line."""


def misfits(book: Book, looks: Iterable[str] | None = None) -> Iterator[Damage]:
    """What does not fit, and no person took as it is; in all ways (`LOOKS`), or in these.

    Raises `BookError`.
    """
    if book._sound.saved:
        return  # What could be read of a damaged file has gaps, which are named as such.
    taken = _accepted(book)
    for look in LOOKS if looks is None else looks:
        yield from (found for found in LOOKS[look](book) if _mark(found) not in taken)


def accept(book: Book) -> None:
    """Takes what does not fit as it is, after a person has looked at it."""
    if found := set(map(_mark, misfits(book))):
        book.set_setting(ACCEPTED, json.dumps(sorted(_accepted(book) | found)))


def strays(book: Book) -> tuple[Path, ...]:
    """Files among the originals that the book does not hold; none while files are coming in.

    A taking in that was killed leaves some: nothing is wrong with them, and nothing is deleted.
    """
    if book._sound.saved or not book.store.is_dir():
        return ()
    held = {row["media"] for row in book._rows(media.in_all("media"))}
    with suppress(OSError), media.in_use(book.store):  # Or where nothing may be written.
        found = (path for folder in _folders(book.store) for path in folder.iterdir())
        return tuple(
            sorted(one for one in found if one.relative_to(book.store).as_posix() not in held)
        )
    return ()


def _folders(store: Path) -> Iterator[Path]:
    """Those of the originals; what is coming in or was put aside lies in others."""
    return (one for one in store.iterdir() if len(one.name) == 2 and one.is_dir())


def _mark(found: Damage) -> str:
    return hashlib.sha256(f"{found.what}\n{found.why}".encode()).hexdigest()[:16]


def _accepted(book: Book) -> set[str]:
    with suppress(ValueError, TypeError):
        return set(json.loads(book.setting(ACCEPTED) or "[]"))
    return set()


def _misfit(what: str, why: str, table: str = "", key: str = "", *, figures: bool = True) -> Damage:
    remedy = "Say joblog check --mend to look for it in the backups."
    return Damage(what, why, f"{remedy} {ACCEPT}", figures, False, table, key)


def _called(book: Book, table: str, key: str) -> str:
    return WORDS.get(table, OTHER).name(book, table, key)


# --- what refers to what ----------------------------------------------------------------------


def _references(book: Book) -> Iterator[Damage]:
    """Rows that refer to one that is not there."""
    columns = seals.tables(book._db)
    for table in columns:
        if not book._db.execute(f"PRAGMA foreign_key_check({table})").fetchone():
            continue
        for parent, pairs in _foreign(book, table):
            there = _primary(columns.get(parent, ()))
            names = [f'"{one}"' if one else own for (_, one), own in zip(pairs, there, strict=True)]
            mine = [f'child."{one}"' for one, _ in pairs]
            told = " AND ".join(f"{one} IS NOT NULL" for one in mine)
            same = " AND ".join(
                f"{one} = parent.{name}" for one, name in zip(mine, names, strict=True)
            )
            missing = "||'|'||".join(f"CAST({one} AS TEXT)" for one in mine)
            for row in book._rows(
                f"SELECT {seals.key(columns[table], 'child.')} AS own, {missing} AS missing"
                f" FROM {table} child WHERE {told}"
                f" AND NOT EXISTS (SELECT 1 FROM {parent} parent WHERE {same})"
            ):
                if row["own"] in book._hurt(table) or row["missing"] in book._hurt(parent):
                    continue
                gone = _called(book, parent, row["missing"])
                what = _called(book, table, row["own"])
                yield _misfit(what, f"{gone}, which it rests on, is gone", parent, row["missing"])


def _primary(columns: seals.Columns) -> list[str]:
    """The parts of a key in their order."""
    return [name for _, name in sorted((place, name) for name, _, place in columns if place)]


def _foreign(book: Book, table: str) -> Iterator[tuple[str, list[tuple[str, str | None]]]]:
    """The tables that one refers to, each with its own columns and those they stand for."""
    found: dict[int, tuple[str, list[tuple[str, str | None]]]] = {}
    for id, _, parent, own, theirs, *_ in book._db.execute(f"PRAGMA foreign_key_list({table})"):
        found.setdefault(id, (parent, []))[1].append((own, theirs))
    return iter(found.values())


# --- what is numbered through -----------------------------------------------------------------

_NUMBERED = {
    "doubt": (("entry", "version"), "a doubt about entry {0}", True),
    "utterance": (("recording",), "recording {name}", False),
    "hearing": (("utterance",), "what was heard in utterance {0}", False),
    "step_effect": (("step",), "step {0} of the history", False),
}
"""Tables whose rows are numbered from 0 on within others, and never deleted."""


def _gaps(book: Book) -> Iterator[Damage]:
    """Numbers that are left out among rows which are numbered through."""
    for table, (within, called, figures) in _NUMBERED.items():
        names = ", ".join(within)
        hurt = {tuple(key.split("|")[: len(within)]) for key in book._hurt(table)}
        for row in book._rows(
            f"SELECT {names}, count(*) AS count, max(ordinal) + 1 AS numbered FROM {table}"
            f" GROUP BY {names} HAVING count(*) != max(ordinal) + 1"
        ):
            key = tuple(str(row[name]) for name in within)
            if key in hurt or (table == "utterance" and book._hurt(table)):
                continue
            missing = row["numbered"] - row["count"]
            name = "" if table != "utterance" else _name_of_recording(book, key[0])
            why = f"{missing} of {row['numbered']} lines of it {_are(missing)} gone"
            yield _misfit(called.format(*key, name=name), why, figures=figures)
    for row in book._rows(
        "SELECT id, what FROM step WHERE id NOT IN (SELECT step FROM step_effect)"
    ):
        if not (book._hurt("step") or book._hurt("step_effect")):
            yield _misfit(
                f"step {row['id']} of the history", "what it changed is gone", figures=False
            )


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _name_of_recording(book: Book, sha256: str) -> str:
    found = book._rows("SELECT name FROM recording WHERE sha256 = ?", sha256)
    return str(found[0]["name"]) if found else sha256[:12]


# --- entries ----------------------------------------------------------------------------------


def _hurt_entries(book: Book) -> set[str]:
    """The numbers of entries of which anything is known to be damaged."""
    tables = ("entry", "entry_version", "doubt")
    return {key.partition("|")[0] for table in tables for key in book._hurt(table)}


def _versions(book: Book) -> Iterator[Damage]:
    """Entries without all versions from 1 on, or that are not where the newest one puts them."""
    hurt = _hurt_entries(book)
    for row in book._rows(
        "SELECT id, coalesce(count, 0) AS count, coalesce(newest, 1) AS newest FROM entry LEFT JOIN"
        " (SELECT entry, count(*) AS count, max(version) AS newest FROM entry_version"
        " GROUP BY entry) ON entry = id WHERE count IS NULL OR count != newest"
    ):
        id = row["id"]
        if str(id) in hurt:
            continue
        there = {
            one["version"]
            for one in book._rows("SELECT version FROM entry_version WHERE entry = ?", id)
        }
        for number in [one for one in range(1, row["newest"] + 1) if one not in there][:NAMED]:
            yield _misfit(
                f"entry {id}, version {number}", "it is gone", "entry_version", f"{id}|{number}"
            )
    for row in book._rows(
        "SELECT id FROM entry JOIN entry_version newest ON newest.entry = id AND version ="
        " (SELECT max(version) FROM entry_version WHERE entry = id)"
        " WHERE newest.job IS NOT entry.job OR newest.at IS NOT entry.at"
    ):
        if str(row["id"]) not in hurt:
            why = "its job or its moment is not the one that its newest version has"
            yield _misfit(f"entry {row['id']}", why)


def _sounds(book: Book) -> Iterator[Damage]:
    """Utterances that do not lie in their recording, and entries that were not said when theirs
    was."""
    hurt, unheard = book._hurt("recording"), book._hurt("utterance")
    for id, at, start, end, seconds, made, sha256, trouble in book._tuples(
        'SELECT utterance.id, at, "start", "end", seconds, made_at, sha256, trouble'
        " FROM utterance JOIN recording ON sha256 = recording",
        {},
    ):
        if sha256 in hurt or str(id) in unheard:
            continue
        inside = 0 <= start <= end and (trouble or end <= seconds + AFTER_THE_END)
        if inside and _is_at(at, made, start):
            continue
        what = f"utterance {id} of {_name_of_recording(book, sha256)}"
        why = f"it was not said when its recording was made, {start:.1f} s after it began"
        if not inside:
            why = f"{start:.1f} to {end:.1f} s is no part of {seconds:.1f} s of sound"
        yield _misfit(what, why, figures=False)
    entries = _hurt_entries(book)
    for row in book._rows(
        "SELECT entry.id AS id, utterance FROM entry JOIN utterance ON utterance.id = utterance"
        " JOIN entry_version first ON first.entry = entry.id AND version = 1"
        " WHERE beside IS NULL AND first.at IS NOT utterance.at"
    ):
        if str(row["id"]) not in entries and str(row["utterance"]) not in unheard:
            why = "it was first noted at another moment than it was said"
            yield _misfit(f"entry {row['id']}", why, figures=False)


def _is_at(at: str, made: str, start: float) -> bool:
    try:
        told = datetime.fromisoformat(made) + timedelta(seconds=start)
        return abs(datetime.fromisoformat(at) - told) <= BESIDE
    except (ValueError, OverflowError):  # A person took a damaged moment as it reads.
        return False


# --- the history ------------------------------------------------------------------------------


def _history(book: Book) -> Iterator[Damage]:
    """What is not what the steps that stand led to."""
    if book._hurt("step") or book._hurt("step_effect"):
        return  # Some steps are named as damaged; of where the others lead nothing is known.
    led = _led_to(book)
    for damaged in _hurt_entries(book):
        led.pop(f"entry {damaged}", None)
    for noun in _by_an_older_joblog(book):
        led.pop(noun, None)
    states = _states(book)
    others = [noun for noun in led if not noun.startswith("entry ")]
    now = {**states, **_texts(book, others)}
    for noun, value in led.items():
        if noun not in now:
            if _kind(noun) in _ROWS:
                table = _ROWS[_kind(noun)]
                key = noun.split()[1]
                if key not in book._hurt(table):
                    what = _called(book, table, key)
                    yield _misfit(what, "the history tells of it, and it is gone", table, key)
        elif not _same(noun, now[noun], value) and not _is_hurt(book, noun):
            yield _misfit(_noun_called(book, noun), "it is not what its history led to")


def _led_to(book: Book) -> dict[str, str | None]:
    """What each noun of the history is, if the last step that stands made it so."""
    led: dict[str, str | None] = {}
    stands: set[str] = set()
    for noun, before, after, undone in book._tuples(
        "SELECT noun, before, after, undone FROM step_effect JOIN step ON step = id"
        " ORDER BY step, ordinal",
        {},
    ):
        if undone is None:
            led[noun] = after
            stands.add(noun)
        elif noun not in stands:
            led.setdefault(noun, before if before is not None else nouns.nothing(noun))
    return led


def _by_an_older_joblog(book: Book) -> Iterator[str]:
    """Entries of steps that were made of what an older joblog had decided, which kept none.

    They say what was done and with which words, as versions do; what was taken back among them
    cannot always be told.
    """
    for (noun,) in book._tuples(
        "SELECT effect.noun FROM step JOIN step_effect effect ON effect.step = step.id"
        " WHERE noun LIKE 'entry %' AND EXISTS (SELECT 1 FROM step_effect other"
        " JOIN entry_version ON entry = CAST(substr(other.noun, 7) AS INTEGER)"
        " WHERE other.step = step.id AND other.noun LIKE 'entry %'"
        "  AND changed_at = step.at AND what = change || ': ' || said)",
        {},
    ):
        yield noun


def _states(book: Book) -> dict[str, str]:
    """Of every entry the version whose state it shows."""
    return {
        f"entry {id}": str(version if restores is None else restores)
        for id, version, restores in book._tuples(
            "SELECT entry, max(version), restores FROM entry_version GROUP BY entry", {}
        )
    }


def _texts(book: Book, asked: Iterable[str]) -> Mapping[str, str | None]:
    """What these nouns are now, without those that are not there at all."""
    lines = nouns.catalog_lines(book)
    found: dict[str, str | None] = {}
    for noun in asked:
        if nouns.is_line(noun):
            found[noun] = lines.get(noun)
            continue
        if _kind(noun) in _ROWS and not _is_there(book, noun):
            continue
        # A later joblog may tell of nouns that this one does not know.
        with suppress(KeyError):
            found[noun] = nouns.now(book, noun)
    return found


def _kind(noun: str) -> str:
    return noun.partition(" ")[0]


_ROWS = {
    "entry": "entry", "recording": "recording", "photo": "photo", "closing": "closing",
    "bid": "bid", "house": "house",
}  # fmt: skip
"""Nouns that are a row each, which is never deleted."""


def _is_there(book: Book, noun: str) -> bool:
    table = _ROWS[_kind(noun)]
    column = "sha256" if table in ("recording", "photo") else "id"
    return bool(book._rows(f"SELECT 1 FROM {table} WHERE {column} = ?", noun.split()[1]))


_RESTS_ON: Mapping[str, Sequence[str]] = {
    "recording": ("recording",), "photo": ("photo",), "tie": ("hand_tie",), "fence": ("fence",),
    "clock": ("hand_clock",), "plan": ("planned_item", "planned_task", "planned_place"),
    "item": ("catalog_item",), "task": ("catalog_task",), "closing": ("closing", "closing_undone"),
    "bid": ("bid", "bid_undone"), "house": ("house", "house_undone"), "signing": ("signing",),
    "entry": (),
}  # fmt: skip
"""The tables that say what a noun is."""


def _is_hurt(book: Book, noun: str) -> bool:
    return any(book._hurt(table) for table in _RESTS_ON.get(_kind(noun), ()))


def _same(noun: str, one: str | None, other: str | None) -> bool:
    if one != other and _kind(noun) in ("plan", "item", "task"):
        return _alike(_lines(one), _lines(other))
    return one == other


def _lines(text: str | None) -> list[Row]:
    """The rows that a text of a plan or of a line of the catalog holds."""
    told = json.loads(text or "{}")
    if any(isinstance(value, list) for value in told.values()):
        return [row for table in sorted(told) for row in told[table]]
    return [{**told, "ordinal": 0}] if told else []


def _alike(one: list[Row], other: list[Row]) -> bool:
    """Whether rows say the same in the columns that both have: an older joblog had fewer."""
    return len(one) == len(other) and all(
        mine[name] == theirs[name]
        for mine, theirs in zip(one, other, strict=True)
        for name in mine.keys() & theirs.keys()
    )


def _noun_called(book: Book, noun: str) -> str:
    kind, *key = noun.split()
    if kind == "entry":
        return noun
    if kind in _ROWS:
        return _called(book, _ROWS[kind], key[0])
    if kind in ("item", "task"):
        from urllib.parse import unquote

        return f"catalog {kind} {unquote(key[0])}"
    if kind in ("plan", "fence", "signing", "clock"):
        found = book._rows("SELECT name FROM job WHERE id = ?", int(key[0]))
        job = found[0]["name"] if found else key[0]
        beside = " ".join(key[1:])
        return f"the {kind} of {job}{f', {beside}' if beside else ''}"
    return f"a photo's tie to entry {key[-1]}"


# --- closings ---------------------------------------------------------------------------------


def _closings(book: Book) -> Iterator[Damage]:
    """Closings that rest on versions which are gone, or do not read as what they are."""
    hurt, entries = book._hurt("closing"), _hurt_entries(book)
    for row in book._rows(
        "SELECT id FROM closing WHERE NOT (json_valid(figures) AND json_valid(plan)"
        " AND json_valid(taught) AND json_valid(rests_on))"
    ):
        if str(row["id"]) not in hurt:
            yield _misfit(f"closing {row['id']}", "it cannot be read")
    gone: dict[int, list[str]] = {}
    for id, entry, version in book._tuples(
        "SELECT closing.id, json_extract(value, '$[0]') AS rested,"
        " json_extract(value, '$[1]') AS was"
        " FROM closing, json_each(CASE WHEN json_valid(rests_on) THEN rests_on ELSE '[]' END)"
        " WHERE NOT EXISTS (SELECT 1 FROM entry_version WHERE entry = rested AND version = was)",
        {},
    ):
        if str(id) not in hurt and str(entry) not in entries:
            gone.setdefault(id, []).append(f"entry {entry}, version {version}")
    for id, named in gone.items():
        more = f" and {len(named) - NAMED} more" if len(named) > NAMED else ""
        why = f"{'; '.join(named[:NAMED])}{more}, which it rests on, is gone"
        yield _misfit(f"closing {id}", why)


LOOKS: Mapping[str, Callable[[Book], Iterator[Damage]]] = {
    "what refers to what": _references,
    "what is numbered through": _gaps,
    "entries and their versions": _versions,
    "entries and their recordings": _sounds,
    "the history and what it led to": _history,
    "closings and what they rest on": _closings,
}
