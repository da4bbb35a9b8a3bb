"""Words over columns: those of `form.WORDS`, short where room is scarce."""

from __future__ import annotations

from joblog.form import WORDS

SHORT = {
    "planned": "plan",
    "delivered": "deliv",
    "returned": "return",
    "installed": "inst",
    "wasted": "waste",
    "cutoffs": "cutoff",
    "unexplained": "unexp",
    "moved in": "in",
    "moved out": "out",
    "plan cost": "plan",
    "actual cost": "actual",
    "planned an hour": "plan/hour",
    "actual an hour": "actual/hour",
}
"""What stands over a column that has no room for the word."""

IN_CSV = {"average between": "average, 80 %", "next job between": "next job, 80 %"}
"""What says more over a column in CSV, where no title stands above the table."""

SETTLED_BY = {
    "count": "a count of what is left",
    "delivery": "a delivery that nobody said",
    "use": "saying how much was installed",
    "decision": "a decision on these entries",
    "hours": "saying the hours",
    "done": "saying how much was done",
    "pay": "saying what an hour costs",
    "plan": "a line in the plan",
}
"""What would settle a gap in the record."""


def heads(*fields: str) -> tuple[str, ...]:
    """What stands over the columns of these figures."""
    return tuple(WORDS[field] for field in fields)


def short_heads(*fields: str) -> tuple[str, ...]:
    """The same for narrow columns."""
    return shortened(heads(*fields))


def whole(heading: str) -> str:
    """The word of a short heading, where there is room for it after all."""
    return _WHOLE.get(heading, heading)


_WHOLE = {short: word for word, short in SHORT.items() if not word.endswith("cost")}


def shortened(headings: tuple[str, ...]) -> tuple[str, ...]:
    """Headings with the short word of each that has one."""
    return tuple(SHORT.get(heading, heading) for heading in headings)
