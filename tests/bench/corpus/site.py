"""The job that the conversations of `talk.jsonl` speak of: its plan, its catalog, its places."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

from joblog.catalog.lines import starter
from joblog.model import Item, Plan, PlannedItem, PlannedTask, Task, Vocabulary
from joblog.plan import vocabulary

PLACES = ("north eave", "south eave", "east wall", "west gable", "porch", "garage", "dormer")
TASKS = (
    Task("hang soffit", ("hung soffit", "hanging soffit", "soffit")),
    Task("wrap fascia", ("wrapped fascia", "wrapping fascia")),
    Task("hang siding", ("hung siding", "siding", "hanging siding")),
    Task("hang gutter", ("hung gutter", "gutters", "hanging gutter")),
    Task("framing", ("framed", "framing", "blocking")),
)


def _variant(of: str, unit: str, feet: int, *, size: str = "", profile: str = "") -> Item:
    name = f"{of} {size}" if size else f"{profile} {of}"
    length = Fraction(feet * 12)
    return Item(
        name, unit, stock_length=length, variant_of=of, size=size, profile=profile
    )  # fmt: skip


PLANNED = (
    _variant("soffit panel", "sheet", 12, profile="vented"),
    _variant("soffit panel", "sheet", 12, profile="solid"),
    _variant("fascia", "stick", 12, size="1x6"),
    _variant("fascia", "stick", 12, size="1x8"),
)


@cache
def words() -> Vocabulary:
    """What the job may speak of: some lines in variants, and trim nails but no siding nails."""
    known = {item.name: item for item in starter()}
    spoken = {"soffit panel": "soffit", "fascia": "fascia board"}
    variants = [replace(item, spoken=(spoken[item.variant_of],)) for item in PLANNED]
    plain = [known[name] for name in ("J channel", "trim coil", "trim nails", "siding panel")]
    items = tuple(PlannedItem(item, Fraction(1)) for item in (*variants, *plain))
    tasks = tuple(PlannedTask(task, Fraction(1)) for task in TASKS)
    return vocabulary(Plan(items=items, tasks=tasks, places=PLACES))
