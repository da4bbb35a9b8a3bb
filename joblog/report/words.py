"""The words for what a squared-up job is made of: the same on the page, in a table, on the screen.

had + came - back - left = gone = used + spoiled + cut off + unexplained
gone - planned = work + cut off + handling + unexplained
real cost - plan cost = the same in money + price
real hours - planned hours = work + pace, and + pay in money
"""

from __future__ import annotations

WORDS = {
    "planned": "planned",
    "opening": "had",
    "delivered": "came",
    "returned": "back",
    "on_hand": "left",
    "consumed": "gone",
    "placed": "used",
    "spoiled": "spoiled",
    "offcut": "cut off",
    "unaccounted": "unexplained",
    "total": "differs",
    "scope": "work",
    "handling": "handling",
    "price": "price",
    "efficiency": "pace",
    "rate": "pay",
    "actual": "real",
    "planned_cost": "plan cost",
    "actual_cost": "real cost",
    "planned_rate": "planned an hour",
    "actual_rate": "real an hour",
    "used": "used",
    "hours": "hours",
}
"""What each figure of the model is called, by the name of its field."""

SHORT = {
    "planned": "plan",
    "spoiled": "spoil",
    "cut off": "cut",
    "unexplained": "unexp",
    "plan cost": "plan",
    "real cost": "real",
    "planned an hour": "plan/hour",
    "real an hour": "real/hour",
}
"""What stands over a column that has no room for the word."""

SETTLED_BY = {
    "count": "a count of what is left",
    "delivery": "a delivery that nobody said",
    "use": "saying how much was used",
    "decision": "a decision on these entries",
    "hours": "saying the hours",
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


def shortened(headings: tuple[str, ...]) -> tuple[str, ...]:
    """Headings with the short word of each that has one."""
    return tuple(SHORT.get(heading, heading) for heading in headings)
