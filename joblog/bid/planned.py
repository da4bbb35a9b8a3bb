"""The plan of a job that was bid on: the bid's own quantities, hours and prices."""

from __future__ import annotations

from dataclasses import replace

from joblog.model import Bid, Plan

YOURS = "you said so in the bid"


def plan_of(bid: Bid) -> Plan:
    """What the job is squared against. Offcuts and net stay as they were taken off."""
    before = bid.basis.plan
    return Plan(
        tuple(
            replace(
                line,
                quantity=item.quantity,
                unit_cost=item.price,
                source=YOURS if {"quantity", "waste"} & set(item.changed) else line.source,
            )
            for line, item in zip(before.items, bid.items, strict=True)
        ),
        tuple(
            replace(
                line,
                hours=task.hours,
                quantity=task.amount,
                hourly_cost=task.hourly_cost,
                source=YOURS if {"hours", "pace"} & set(task.changed) else line.source,
            )
            for line, task in zip(before.tasks, bid.tasks, strict=True)
        ),
        before.places,
    )
