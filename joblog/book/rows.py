"""Nouns to rows of the book's tables and back. Exact numbers travel as text, lists as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from joblog.form import entry_from_json, entry_to_json, to_json
from joblog.model import (
    Alternative,
    Amount,
    BookEntry,
    BookUtterance,
    Change,
    ClockCorrection,
    Direction,
    Entry,
    Hearing,
    Item,
    Job,
    Look,
    Moment,
    PastUse,
    PastWork,
    Photo,
    PlannedItem,
    PlannedTask,
    Position,
    Recording,
    Scored,
    Standing,
    Task,
    Tie,
    Utterance,
    Word,
)

Row = dict[str, Any]


def moment_text(at: datetime) -> str:
    """UTC, always of the same width, so that the order of the texts is the order of the moments.

    Raises ValueError for a moment without a zone, and one that no calendar in UTC holds.
    """
    if at.tzinfo is None:
        raise ValueError(f"{at} has no time zone")
    try:
        return at.astimezone(UTC).isoformat(timespec="microseconds")
    except OverflowError:
        raise ValueError(f"{at} is no time that can be kept") from None


def bounds(day: date, zone: str) -> tuple[str, str]:
    """The first moment of a local day and that of the next one."""
    local = ZoneInfo(zone)
    start = datetime.combine(day, time(), local)
    end = datetime.combine(day + timedelta(days=1), time(), local)
    return moment_text(start), moment_text(end)


def local_day(text: str, zone: str) -> date:
    """The day it was at the job when it was `text`."""
    return datetime.fromisoformat(text).astimezone(ZoneInfo(zone)).date()


def readable(name: str) -> str:
    """A file's name as text; what is no text in it becomes a question mark in a box."""
    return name.encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def content(entry: Entry) -> str:
    """The entry as the JSON text that the book keeps."""
    return json.dumps(entry_to_json(entry), ensure_ascii=False)


def as_json(value: object) -> str:
    """Any noun, or a container of them, as JSON text."""
    return json.dumps(to_json(value), ensure_ascii=False, allow_nan=False)


def job_from(row: Row) -> Job:
    return Job(row["name"], row["zone"], tuple(json.loads(row["places"])))


def item_row(item: Item) -> Row:
    return {
        "name": item.name,
        "unit": item.unit,
        "spoken": as_json(item.spoken),
        "also": as_json(item.also),
        "stock_length": _text(item.stock_length),
        "more": _more(item, ("name", "unit", "spoken", "also", "stock_length")),
    }


def item_from(row: Row) -> Item:
    return _item(*(row[name] for name in _ITEM))


_ITEM = ("name", "unit", "spoken", "also", "stock_length", "more")


@lru_cache(maxsize=65_536)
def _item(
    name: str, unit: str, spoken: str, also: str, stock_length: str | None, further: str
) -> Item:
    """The item behind its columns; a plan has thousands, and is read back more than once."""
    more = json.loads(further)
    covers = more.get("covers")
    return Item(
        name,
        unit,
        tuple(json.loads(spoken)),
        tuple((unit, Fraction(count)) for unit, count in json.loads(also)),
        _fraction(stock_length),
        other_lengths=tuple(map(Fraction, more.get("other_lengths", ()))),
        pack=Fraction(more.get("pack", 1)),
        pack_name=more.get("pack_name", ""),
        covers=Amount(Fraction(covers["quantity"]), covers["unit"]) if covers else None,
        kerf=_fraction(more.get("kerf")),
        least_offcut=_fraction(more.get("least_offcut")),
        unit_cost=_money(more.get("unit_cost")),
        length_costs=tuple(
            (Fraction(length), Decimal(cost)) for length, cost in more.get("length_costs", ())
        ),
        supplier=more.get("supplier", ""),
        least_order=_money(more.get("least_order")),
        tax=_fraction(more.get("tax")),
        priced=date.fromisoformat(more["priced"]) if more.get("priced") else None,
        per_pound=_fraction(more.get("per_pound")),
        open_area=_fraction(more.get("open_area")),
        counted=more.get("counted", False),
        variant_of=more.get("variant_of", ""),
        size=more.get("size", ""),
        profile=more.get("profile", ""),
        colour=more.get("colour", ""),
    )


def task_row(task: Task) -> Row:
    return {
        "name": task.name,
        "spoken": as_json(task.spoken),
        "more": _more(task, ("name", "spoken")),
    }


def task_from(row: Row) -> Task:
    more = json.loads(row["more"])
    return Task(
        row["name"],
        tuple(json.loads(row["spoken"])),
        unit=more.get("unit", ""),
        per_hour=_fraction(more.get("per_hour")),
        crew=more.get("crew", 1),
        hourly_cost=_money(more.get("hourly_cost")),
    )


def planned_item_row(planned: PlannedItem) -> Row:
    return {
        **item_row(planned.item),
        "quantity": str(planned.quantity),
        "unit_cost": _text(planned.unit_cost),
        "opening": str(planned.opening),
        "net": _text(planned.net),
        "offcut": str(planned.offcut),
        "source": planned.source,
        "task": planned.task,
    }


def planned_item_from(row: Row) -> PlannedItem:
    return PlannedItem(
        item_from(row),
        _exact(row["quantity"]),
        _money(row["unit_cost"]),
        _exact(row["opening"]),
        _fraction(row["net"]),
        _exact(row["offcut"]),
        row["source"],
        row["task"],
    )


def planned_task_row(planned: PlannedTask) -> Row:
    return {
        **task_row(planned.task),
        "hours": str(planned.hours),
        "hourly_cost": _text(planned.hourly_cost),
        "quantity": _text(planned.quantity),
        "source": planned.source,
    }


def planned_task_from(row: Row) -> PlannedTask:
    return PlannedTask(
        task_from(row),
        Fraction(row["hours"]),
        _money(row["hourly_cost"]),
        _fraction(row["quantity"]),
        row["source"],
    )


def recording_row(recording: Recording) -> Row:
    return {
        "sha256": recording.sha256,
        "name": readable(recording.name),
        "made_at": moment_text(recording.made.at),
        "made_source": recording.made.source,
        "seconds": float(recording.seconds),
        "trouble": recording.trouble,
    }


def recording_from(row: Row) -> Recording:
    return Recording(
        row["sha256"],
        row["name"],
        Moment(datetime.fromisoformat(row["made_at"]), row["made_source"]),
        row["seconds"],
        row["trouble"],
        row["standing"],
        row["superseded_by"],
    )


def hearing_row(hearing: Hearing) -> Row:
    return {
        "recognizer": hearing.recognizer,
        "text": hearing.text,
        "words": as_json([[w.text, w.start, w.end, w.confidence] for w in hearing.words]),
        "alternatives": as_json([[a.text, a.log_probability] for a in hearing.alternatives]),
        "confidence": float(hearing.confidence),
    }


def hearing_from(row: Row) -> Hearing:
    return Hearing(
        row["recognizer"],
        row["text"],
        tuple(Word(*word) for word in json.loads(row["words"])),
        tuple(Alternative(*line) for line in json.loads(row["alternatives"])),
        row["confidence"],
    )


def utterance_row(utterance: Utterance) -> Row:
    return {
        "start": float(utterance.start),
        "end": float(utterance.end),
        "scored": as_json([[s.text, s.trade, s.general, s.language] for s in utterance.scored]),
        "level": utterance.level,
        "noise": utterance.noise,
    }


def utterance_from(row: Row, hearings: tuple[Hearing, ...]) -> BookUtterance:
    return BookUtterance(
        row["id"],
        row["recording"],
        datetime.fromisoformat(row["at"]),
        Utterance(
            row["start"],
            row["end"],
            hearings,
            tuple(Scored(*line) for line in json.loads(row["scored"])),
            row["level"],
            row["noise"],
        ),
        row["unread"],
    )


def entry_from(row: Row, doubts: tuple[str, ...]) -> BookEntry:
    return entry_of(row["id"], row["version"], doubts, *(row[name] for name in _ENTRY))


_ENTRY = ("at", "content", "standing", "change", "changed_at", "said", "utterance", "origin")


def entry_of(
    id: int,
    version: int,
    doubts: tuple[str, ...],
    at: str,
    content: str,
    standing: Standing,
    change: Change,
    changed_at: str,
    said: str,
    utterance: int | None,
    origin: Change | None,
) -> BookEntry:
    """The same of the columns, for a job has tens of thousands."""
    return BookEntry(
        id, version, datetime.fromisoformat(at), _entry(content), doubts, standing, change,
        datetime.fromisoformat(changed_at), said, utterance, origin,
    )  # fmt: skip


@lru_cache(maxsize=16_384)
def _entry(content: str) -> Entry:
    """The entry behind `content`; many say the same, and all are read at every start."""
    return entry_from_json(json.loads(content))


def photo_row(photo: Photo) -> Row:
    position, looks = photo.position, photo.look
    return {
        "sha256": photo.sha256,
        "name": readable(photo.name),
        "taken_at": moment_text(photo.taken.at),
        "taken_source": photo.taken.source,
        "width": photo.width,
        "height": photo.height,
        "latitude": position and position.latitude,
        "longitude": position and position.longitude,
        "altitude": position and position.altitude,
        "position_error": position and position.error,
        "orientation": photo.orientation,
        "camera": photo.camera,
        "trouble": photo.trouble,
        "clock": photo.clock and photo.clock.isoformat(timespec="microseconds"),
        "satellites": photo.satellites and moment_text(photo.satellites),
        "direction": photo.direction and photo.direction.degrees,
        "north": photo.direction and photo.direction.north,
        "likeness": looks and looks.likeness,
        "sharpness": looks and looks.sharpness,
        "brightness": looks and looks.brightness,
        "remarks": as_json(photo.remarks),
    }


def photo_from(row: Row) -> Photo:
    position = direction = look = None
    if row["latitude"] is not None:
        position = Position(
            row["latitude"], row["longitude"], row["altitude"], row["position_error"]
        )
    if row["direction"] is not None:
        direction = Direction(row["direction"], row["north"])
    if row["likeness"] is not None:
        look = Look(row["likeness"], row["sharpness"], row["brightness"])
    return Photo(
        row["sha256"],
        row["name"],
        Moment(datetime.fromisoformat(row["taken_at"]), row["taken_source"]),
        row["width"],
        row["height"],
        position,
        row["orientation"],
        row["camera"],
        row["trouble"],
        row["clock"] and datetime.fromisoformat(row["clock"]),
        row["satellites"] and datetime.fromisoformat(row["satellites"]),
        direction,
        look,
        tuple(json.loads(row["remarks"])),
        row["standing"],
    )


def tie_row(tie: Tie) -> Row:
    return {
        "photo": tie.photo,
        "entry": tie.entry,
        "reason": tie.reason,
        "seconds": float(tie.seconds),
        "margin": tie.margin,
        "sure": int(tie.sure),
        "cue": tie.cue,
    }


def tie_from(row: Row) -> Tie:
    return Tie(
        row["photo"],
        row["entry"],
        row["reason"],
        row["seconds"],
        row["margin"],
        bool(row["sure"]),
        row["cue"],
    )


def clock_row(clock: ClockCorrection) -> Row:
    return {
        "camera": clock.camera,
        "day": clock.day.isoformat(),
        "seconds": float(clock.seconds),
        "drift": float(clock.drift),
        "around": moment_text(clock.around),
        "confidence": float(clock.confidence),
        "reason": clock.reason,
        "cues": clock.cues,
        "source": clock.source,
    }


def clock_from(row: Row) -> ClockCorrection:
    return ClockCorrection(
        row["camera"],
        date.fromisoformat(row["day"]),
        row["seconds"],
        row["drift"],
        datetime.fromisoformat(row["around"]),
        row["confidence"],
        row["reason"],
        row["cues"],
        row["source"],
    )


def key(name: str) -> str:
    """How an earlier job, or its item or task, is looked up however it was written."""
    return " ".join(name.lower().split())


def past_use_row(use: PastUse) -> Row:
    return {
        "job_key": key(use.job),
        "item_key": key(use.item),
        **_past_row(use),
        "item": use.item,
        "net": str(use.net),
        "consumed": str(use.consumed),
        "geometric": _text(use.geometric),
        "family": use.family,
    }


def past_use_from(row: Row) -> PastUse:
    return PastUse(
        row["job"],
        date.fromisoformat(row["day"]),
        row["item"],
        Fraction(row["net"]),
        Fraction(row["consumed"]),
        _fraction(row["geometric"]),
        row["family"],
        _fraction(row["fahrenheit"]),
        _fraction(row["depth"]),
        row["crew"],
    )


def past_work_row(work: PastWork) -> Row:
    return {
        "job_key": key(work.job),
        "task_key": key(work.task),
        **_past_row(work),
        "task": work.task,
        "quantity": str(work.quantity),
        "crew_hours": str(work.crew_hours),
    }


def past_work_from(row: Row) -> PastWork:
    return PastWork(
        row["job"],
        date.fromisoformat(row["day"]),
        row["task"],
        Fraction(row["quantity"]),
        Fraction(row["crew_hours"]),
        _fraction(row["fahrenheit"]),
        _fraction(row["depth"]),
        row["crew"],
    )


def _past_row(line: PastUse | PastWork) -> Row:
    return {
        "job": line.job,
        "day": line.day.isoformat(),
        "fahrenheit": _text(line.fahrenheit),
        "depth": _text(line.depth),
        "crew": line.crew,
    }


def _more(noun: Item | Task, columns: Sequence[str]) -> str:
    """Everything of a noun that has no column of its own and is not as it is by default."""
    own = {
        name: value
        for name, default in _DEFAULTS[type(noun)].items()
        if name not in columns and (value := getattr(noun, name)) != default
    }
    return as_json(own) if own else "{}"


_DEFAULTS: Mapping[type, Mapping[str, object]] = {
    noun: {field.name: field.default for field in fields(noun)} for noun in (Item, Task)
}


def _text(number: Fraction | Decimal | None) -> str | None:
    return None if number is None else str(number)


def _fraction(text: str | None) -> Fraction | None:
    return None if text is None else _exact(text)


_exact = lru_cache(maxsize=16_384)(Fraction)
"""The number behind its text; to make one of a text takes long, and many are alike."""


def _money(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)
