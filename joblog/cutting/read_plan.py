"""A cut list as it was printed with --json, read back."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

from joblog.model import Cut, CutPlan, Piece, Stick, StockLength


def read_plans(file: Path) -> tuple[CutPlan, ...]:
    """The plans in the file. Raises ValueError with a plain line when it is no printed cut list."""
    try:
        shown = json.loads(file.read_text("utf-8-sig"))
        plans = tuple(_plan(plan) for plan in shown["plans"])
    except OSError as error:
        raise ValueError(f"{file.name}: cannot be read: {error.strerror}") from None
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError):
        raise ValueError(
            f"{file.name}: is no cut list; make one with: joblog cuts --json"
        ) from None
    for plan in plans:
        if not all(_adds_up(stick, plan) for stick in (*plan.sticks, *plan.already)):
            raise ValueError(f"{file.name}: a stick does not add up; the file was changed")
    return plans


def _adds_up(stick: Stick, plan: CutPlan) -> bool:
    cut = sum((cut.length for cut in stick.cuts), Fraction(0))
    return (
        stick.length == cut + stick.kerf + stick.remainder
        and min(stick.kerf, stick.remainder, plan.kerf, plan.useful) >= 0
        and all(cut.length > 0 for cut in stick.cuts)
    )


def _plan(shown: dict[str, Any]) -> CutPlan:
    return CutPlan(
        sticks=tuple(map(_stick, shown["sticks"])),
        kerf=_exact(shown["kerf"]),
        useful=_exact(shown["useful"]),
        spent=_exact(shown["spent"]),
        at_least=_exact(shown["at_least"]),
        priced=bool(shown["priced"]),
        patterns=int(shown["patterns"]),
        patterns_proved=bool(shown["patterns_proved"]),
        stopped=str(shown.get("stopped", "")),
        settings=int(shown["settings"]),
        at_once=int(shown["at_once"]),
        short=tuple(map(_piece, shown["short"])),
        spare=tuple(map(_offcut, shown["spare"])),
        already=tuple(map(_stick, shown["already"])),
        made=tuple(map(_piece, shown["made"])),
        item=shown["item"],
    )


def _stick(shown: dict[str, Any]) -> Stick:
    return Stick(
        length=_exact(shown["length"]),
        cuts=tuple(
            Cut(_exact(cut["length"]), _exact(cut["mark"]), str(cut["label"]))
            for cut in shown["cuts"]
        ),
        kerf=_exact(shown["kerf"]),
        remainder=_exact(shown["remainder"]),
        kept=bool(shown["kept"]),
        offcut=bool(shown["offcut"]),
        label=str(shown["label"]),
        load=int(shown["load"]),
    )


def _piece(shown: dict[str, Any]) -> Piece:
    return Piece(
        _exact(shown["length"]),
        int(shown["pieces"]),
        str(shown["label"]),
        shown["item"],
        str(shown["source"]),
    )


def _offcut(shown: dict[str, Any]) -> StockLength:
    return StockLength(
        _exact(shown["length"]), int(shown["pieces"]), offcut=True, label=str(shown["label"])
    )


def _exact(shown: Any) -> Fraction:
    """The number as it was printed; one with an exponent, which never is, could fill the memory."""
    text = str(shown)
    if "e" in text.lower() or len(text) > _LONGEST:
        raise ValueError(f"{text:.40} is no number of a cut list")
    return Fraction(text)


_LONGEST = 400
