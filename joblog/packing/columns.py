"""Every column of every table of a book, and what becomes of it when a job goes into another book.

Numbers of rows are a book's own, so a job that travels gets others. They stand in columns of their
own and inside texts: in the nouns of steps, in what a signature and a closing rest on, in figures.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from joblog.book.rows import Row

Value = Any


@dataclass(frozen=True, slots=True)
class Turn:
    """What numbers and names of one book become."""

    number: Callable[[str, int], int | str | None]
    """Of a sort of row, such as "entry", and its number."""
    name: Callable[[str], str]
    """Of a job."""


Column = Callable[[Value, Turn], Value]
"""What becomes of what stands in a column."""


def same(value: Value, turn: Turn) -> Value:
    """What is the same in every book."""
    return value


def anew(value: Value, turn: Turn) -> Value:
    """What each book makes for itself; a pack holds it, and it tells nothing."""
    return None


def number(sort: str) -> Column:
    """The number of a row of that sort, or none."""
    return lambda value, turn: None if value is None else turn.number(sort, value)


def name(value: Value, turn: Turn) -> Value:
    """The name of a job."""
    return None if value is None else turn.name(value)


@dataclass(frozen=True, slots=True)
class Table:
    """A table of which rows go along."""

    columns: Mapping[str, Column]
    key: tuple[str, ...]
    """What tells its rows apart in whatever book, once turned."""
    lasting: bool = True
    """Whether its rows are only ever added. Of the others, those of the later state count."""
    changing: frozenset[str] = frozenset()
    """The columns of lasting rows that may change."""
    derived: bool = False
    """Whether joblog makes its rows of others; they go along, and are not compared."""

    def turned(self, row: Row, turn: Turn) -> Row:
        """The row as it is elsewhere, without what is made anew."""
        found = {
            name: use(row[name], turn) for name, use in self.columns.items() if use is not anew
        }
        return found | effect(row, turn) if "noun" in row else found


# --- texts that hold numbers of rows, or names of jobs ----------------------------------------


def entry_content(value: str, turn: Turn) -> str:
    """What an entry says, as `rows.content` writes it: between which jobs something was moved."""
    shown = json.loads(value)
    turned = _entry(shown, turn)
    return value if turned == shown else json.dumps(turned, ensure_ascii=False)


def _entry(shown: Row, turn: Turn) -> Row:
    return {
        key: turn.name(value)
        if key in NAMES_IN_ENTRIES and value is not None
        else _entry(value, turn)
        if key == "with"
        else value
        for key, value in shown.items()
    }


NAMES_IN_ENTRIES = frozenset({"from_job", "to_job"})


def rests_on(value: str, turn: Turn) -> str:
    """What a closing rests on: entries, each with its version and how it counted."""
    return json.dumps([[turn.number("entry", entry), *more] for entry, *more in json.loads(value)])


def figures(value: str, turn: Turn) -> str:
    """The figures of a closing."""
    shown = {**json.loads(value)}
    shown["job"] = turn.name(shown["job"])
    return json.dumps(_figures(shown, turn), ensure_ascii=False)


def _figures(shown: Value, turn: Turn) -> Value:
    if isinstance(shown, list):
        return [_figures(one, turn) for one in shown]
    if not isinstance(shown, dict):
        return shown
    return {
        key: _numbers(value, turn) if key in NUMBERS_IN_FIGURES else _figures(value, turn)
        for key, value in shown.items()
    }


def _numbers(value: Value, turn: Turn) -> Value:
    if isinstance(value, list):
        return [turn.number("entry", one) for one in value]
    return turn.number("entry", value)


NUMBERS_IN_FIGURES = frozenset({"entry", "entries", "left_out", "without_amount"})
"""The fields of figures that hold numbers of entries."""


def bid(value: str, turn: Turn) -> str:
    """A bid: the job that it is for."""
    shown = json.loads(value)
    return json.dumps({**shown, "job": turn.name(shown["job"])}, ensure_ascii=False)


def house(value: str, turn: Turn) -> str:
    """A house: each part of it may say which entry it was told in."""

    def entry(found: re.Match[str]) -> str:
        return f"{found[1]}{turn.number('entry', int(found[2]))}{found[3]}"

    return _TOLD_IN.sub(entry, value)


_TOLD_IN = re.compile(r'("(?:row|attic_row)": "entry )(\d+)(")')
ROWS_OF_HOUSES = frozenset({"row", "attic_row"})


def setting_name(value: str, turn: Turn) -> str:
    """How many pieces of a cut list of a job are cut is kept under the name of that job."""
    begin, job, rest = setting_of_job(value) or (value, None, "")
    return value if job is None else f"{begin}{turn.name(job)}{rest}"


def setting_of_job(value: str) -> tuple[str, str, str] | None:
    """The parts of a setting's name before, with and behind the name of a job."""
    found = re.fullmatch(r"(cut of )(.*)(: list [0-9a-f]+)", value, re.DOTALL)
    return None if found is None else (found[1], found[2], found[3])


# --- nouns of steps ---------------------------------------------------------------------------


def effect(row: Row, turn: Turn) -> Row:
    """What a step did to a noun: the noun, and what it was before and after."""
    kind, *key = row["noun"].split()
    noun = NOUNS[kind]
    turned = [str(use(one, turn)) for use, one in zip(noun.key, key, strict=True)]
    return {
        "noun": " ".join((kind, *turned)),
        "before": None if row["before"] is None else noun.value(row["before"], turn),
        "after": None if row["after"] is None else noun.value(row["after"], turn),
    }


@dataclass(frozen=True, slots=True)
class Noun:
    """A kind of noun that goes along."""

    key: tuple[Column, ...]
    """What becomes of each word behind its kind."""
    value: Column = same
    """What becomes of what it was before and after."""


def _counted(sort: str) -> Column:
    """The number of a row as a word."""
    return lambda value, turn: turn.number(sort, int(value))


def _recording(value: str, turn: Turn) -> str:
    job, *more = json.loads(value)
    return json.dumps([turn.number("job", job), *more])


def _photo(value: str, turn: Turn) -> str:
    job, *more = value.split(" ")
    return " ".join((str(turn.number("job", int(job))), *more))


def _signing(value: str, turn: Turn) -> str:
    at, standing = json.loads(value)
    return json.dumps([at, signed(standing, turn)])


def signed(value: str, turn: Turn) -> str:
    """What a signature rests on: the versions of entries, and photos."""
    shown = json.loads(value)
    entries = {str(turn.number("entry", int(id))): at for id, at in shown["entries"].items()}
    return json.dumps({**shown, "entries": entries})


NOUNS: Mapping[str, Noun] = {
    "entry": Noun((_counted("entry"),)),
    "recording": Noun((same,), _recording),
    "photo": Noun((same,), _photo),
    "tie": Noun((same, _counted("entry"))),
    "clock": Noun((_counted("job"), same, same)),
    "fence": Noun((_counted("job"),)),
    "plan": Noun((_counted("job"),)),
    "closing": Noun((_counted("closing"),)),
    "bid": Noun((_counted("bid"),)),
    "house": Noun((_counted("house"),)),
    "signing": Noun((_counted("job"), same), _signing),
}
LEFT_NOUNS = frozenset({"item", "task", "past", "setting"})
"""What belongs to all jobs: each book has its own."""


# --- the tables -------------------------------------------------------------------------------


def _all(*names: str) -> dict[str, Column]:
    return dict.fromkeys(names, same)


_LINE = _all("ordinal", "name")
TABLES: Mapping[str, Table] = {
    "job": Table(
        {"id": number("job"), "name": name, "beside": anew, **_all("zone", "places")},
        ("id",),
        changing=frozenset({"places"}),
    ),
    "planned_item": Table(
        {
            "job": number("job"),
            **_LINE,
            **_all("unit", "spoken", "also", "stock_length", "quantity", "unit_cost", "opening"),
            **_all("more", "net", "offcut", "source", "task"),
        },
        ("job", "ordinal"),
        lasting=False,
    ),
    "planned_task": Table(
        {
            "job": number("job"),
            **_LINE,
            **_all("spoken", "hours", "hourly_cost", "more", "quantity", "source"),
        },
        ("job", "ordinal"),
        lasting=False,
    ),
    "planned_place": Table({"job": number("job"), **_LINE}, ("job", "ordinal"), lasting=False),
    "recording": Table(
        {
            "sha256": same,
            "job": number("job"),
            "media": anew,
            **_all("name", "bytes", "made_at", "made_source", "seconds", "trouble"),
            **_all("standing", "superseded_by"),
        },
        ("sha256",),
        changing=frozenset({"job", "trouble", "standing", "superseded_by"}),
    ),
    "sound_print": Table(_all("recording", "exact", "words"), ("recording",), derived=True),
    "utterance": Table(
        {
            "id": number("utterance"),
            **_all("recording", "ordinal", "at", "start", "end", "unread"),
            **_all("scored", "level", "noise"),
        },
        ("id",),
    ),
    "hearing": Table(
        {
            "utterance": number("utterance"),
            **_all("ordinal", "recognizer", "text", "words", "alternatives", "confidence"),
        },
        ("utterance", "ordinal"),
    ),
    "entry": Table(
        {
            "id": number("entry"),
            "job": number("job"),
            "utterance": number("utterance"),
            "beside": number("entry"),
            **_all("ordinal", "at", "beside_version"),
        },
        ("id",),
        changing=frozenset({"job", "at"}),
    ),
    "entry_version": Table(
        {
            "entry": number("entry"),
            "content": entry_content,
            "job": number("job"),
            "left_job": number("job"),
            **_all("version", "standing", "change", "changed_at", "said", "restores"),
            **_all("at", "origin"),
        },
        ("entry", "version"),
    ),
    "doubt": Table(
        {"entry": number("entry"), **_all("version", "ordinal", "why")},
        ("entry", "version", "ordinal"),
    ),
    "photo": Table(
        {
            "job": number("job"),
            "media": anew,
            **_all("sha256", "name", "bytes", "taken_at", "taken_source", "width", "height"),
            **_all("latitude", "longitude", "altitude", "orientation", "camera", "trouble"),
            **_all("position_error", "direction", "north", "clock", "satellites", "likeness"),
            **_all("sharpness", "brightness", "remarks", "standing"),
        },
        ("sha256",),
        changing=frozenset({"job", "trouble", "standing"}),
    ),
    "track": Table(
        {
            "job": number("job"),
            "media": anew,
            **_all("sha256", "name", "bytes", "began", "ended", "points", "trouble"),
        },
        ("sha256",),
        changing=frozenset({"job", "trouble"}),
    ),
    "tie": Table(
        {
            "entry": number("entry"),
            "cue": number("entry"),
            **_all("photo", "reason", "seconds", "margin", "sure"),
        },
        ("photo", "entry"),
        derived=True,
    ),
    "clock": Table(
        {
            "job": number("job"),
            **_all("camera", "day", "seconds", "drift", "around", "confidence", "reason"),
            **_all("cues", "source"),
        },
        ("job", "camera", "day"),
        derived=True,
    ),
    "hand_tie": Table(
        {"entry": number("entry"), **_all("photo", "tied")}, ("photo", "entry"), lasting=False
    ),
    "hand_clock": Table(
        {"job": number("job"), **_all("camera", "day", "seconds")},
        ("job", "camera", "day"),
        lasting=False,
    ),
    "fence": Table(
        {"job": number("job"), **_all("latitude", "longitude", "radius")}, ("job",), lasting=False
    ),
    "signing": Table(
        {"job": number("job"), "rests_on": signed, **_all("day", "at")},
        ("job", "day"),
        lasting=False,
    ),
    "closing": Table(
        {
            "id": number("closing"),
            "job": number("job"),
            "plan_mark": anew,
            "rests_on": rests_on,
            "figures": figures,
            **_all("day", "closed_at", "versions", "taught", "plan"),
        },
        ("id",),
    ),
    "closing_undone": Table({"closing": number("closing")}, ("closing",), lasting=False),
    "bid": Table({"id": number("bid"), "job": number("job"), "at": same, "content": bid}, ("id",)),
    "bid_undone": Table({"bid": number("bid")}, ("bid",), lasting=False),
    "house": Table(
        {"id": number("house"), "job": number("job"), "at": same, "content": house}, ("id",)
    ),
    "house_undone": Table({"house": number("house")}, ("house",), lasting=False),
    "step": Table(
        {
            "id": number("step"),
            "undone": number("undone"),
            **_all("at", "who", "what", "forgotten"),
        },
        ("id",),
        changing=frozenset({"undone", "forgotten"}),
    ),
    "step_job": Table({"step": number("step"), "job": number("job")}, ("step", "job")),
    "step_effect": Table(
        # Its noun says what its numbers are of.
        {"step": number("step"), "ordinal": anew, **_all("noun", "before", "after")},
        ("step", "noun"),
    ),
    "step_turn": Table(
        {"id": number("step_turn"), "step": number("step"), **_all("at", "who", "undone")},
        ("id",),
    ),
    "setting": Table({"name": setting_name, "value": same}, ("name",), lasting=False),
}
"""The tables of which rows go along, each after those that it refers to."""

LEFT: Mapping[str, str] = {
    "seal": "made by whatever writes a row",
    "seen_whole": "when an original was last looked at here",
    "said": "made of the other rows",
    "repeat": "which commands this book did not answer yet",
    "packed_job": "read as what the numbers of jobs are elsewhere",
    "packed_row": "read as what the numbers of rows are elsewhere",
    "packed_state": "read as what has been packed before",
    "catalog_item": "belongs to all jobs; what a job names goes along by itself",
    "catalog_task": "belongs to all jobs; what a job names goes along by itself",
    "past_use": "earlier jobs from paper, which are jobs of their own",
    "past_work": "earlier jobs from paper, which are jobs of their own",
}
"""The tables of which no rows go along as they are, and why."""

SORTS = ("job", "entry", "step", "step_turn", "closing", "bid", "house")
"""What is numbered in each book by itself. An utterance is known by its recording and its place."""
