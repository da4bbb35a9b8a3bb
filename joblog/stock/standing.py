"""How all accounts stood at some moment, as text, so that the ledger can be gone on from there.

Whatever one end still owes another is kept as it is: a delivery that is told later pays it.
"""

from __future__ import annotations

import json
from collections import deque
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from joblog.model import Layer
from joblog.stock.account import Account, Outflow, Part

Accounts = Mapping[tuple[str, str], Account]
"""By end and item."""


def standing_text(accounts: Accounts) -> str:
    """The accounts with everything in them."""
    outflows: list[Outflow] = []
    numbers: dict[int, int] = {}

    def number(outflow: Outflow) -> int:
        if id(outflow) not in numbers:
            numbers[id(outflow)] = len(outflows)
            outflows.append(outflow)
        return numbers[id(outflow)]

    kept = [
        [
            end,
            item,
            [_part(part, number) for part in account.lying],
            [number(outflow) for outflow in account.consumed],
            [number(outflow) for outflow in account.owing],
        ]
        for (end, item), account in accounts.items()
    ]
    # One may name others, which come to the end of the list while it is walked along.
    flows = [
        [[_part(part, number) for part in outflow.parts], str(outflow.missing)]
        for outflow in outflows
    ]
    return json.dumps([kept, flows], ensure_ascii=False, separators=(",", ":"))


def standing_from(text: str) -> dict[tuple[str, str], Account]:
    """The accounts behind `standing_text`."""
    kept, flows = json.loads(text)
    outflows = [Outflow([], Fraction(missing)) for _, missing in flows]
    for outflow, (parts, _) in zip(outflows, flows, strict=True):
        outflow.parts = [_part_from(part, outflows) for part in parts]
    return {
        (end, item): Account(
            deque(_part_from(part, outflows) for part in lying),
            [outflows[number] for number in consumed],
            deque(outflows[number] for number in owing),
        )
        for end, item, lying, consumed, owing in kept
    }


def _part(part: Part, number: Callable[[Outflow], int]) -> list[Any]:
    if part.owed is not None:
        return [str(part.quantity), number(part.owed), str(part.offset)]
    layer = part.layer or Layer(part.quantity, None)
    each = None if layer.each is None else str(layer.each)
    return [str(part.quantity), None, each, layer.day and layer.day.isoformat()]


def _part_from(kept: list[Any], outflows: list[Outflow]) -> Part:
    quantity = Fraction(kept[0])
    if kept[1] is not None:
        return Part(quantity, owed=outflows[kept[1]], offset=Fraction(kept[2]))
    each = None if kept[2] is None else Fraction(kept[2])
    return Part(quantity, Layer(quantity, each, kept[3] and date.fromisoformat(kept[3])))
