"""The cut list as it is read at the saw: on the terminal, on paper or a phone, as a table."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape
from itertools import groupby
from typing import Any

from joblog.form import plain, to_json
from joblog.local import money_written
from joblog.model import Cut, CutPlan, Stick
from joblog.quantity import feet_and_inches, money, tape
from joblog.report.table import Table

CAUTION = "Eye and ear protection, blade guard on, follow the saw's manual; measure again."


def cut_sheet(plans: Sequence[CutPlan], width: int = 80) -> str:
    """The plans as text. Sticks that are cut alike stand together; all lengths in inches.

    Marks run along the stick from the end that the first cut is measured from, kerf included.
    """
    sheets = [_sheet(plan, width) for plan in plans]
    if any(plan.sticks for plan in plans):
        sheets.append(CAUTION)
    return "\n\n".join(sheets)


def cut_page(plans: Sequence[CutPlan], title: str = "Cut list") -> str:
    """The plans as one HTML page that stands by itself, for a phone or a printer."""
    body = "\n".join(_html_plan(plan) for plan in plans)
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_html(title)}</title>\n<style>{_STYLE}</style></head>\n"
        f"<body><h1>{_html(title)}</h1>\n{body}\n<p class=caution>{_html(CAUTION)}</p>"
        "</body></html>\n"
    )


def cut_table(plans: Iterable[CutPlan]) -> Table:
    """Every cut as one row, exact."""
    rows = [
        (
            plan.item or "",
            str(number),
            str(stick.load),
            tape(stick.length),
            "offcut" if stick.offcut else "new",
            stick.label,
            str(at),
            tape(cut.length),
            tape(cut.mark),
            cut.label,
            tape(stick.remainder),
            "keep" if stick.kept else "waste" if stick.remainder else "",
        )
        for plan in plans
        for number, stick in enumerate(plan.sticks, 1)
        for at, cut in enumerate(stick.cuts, 1)
    ]
    headings = (
        "item", "stick", "load", "stock", "from", "which", "cut", "length", "mark", "label",
        "left", "what of it",
    )  # fmt: skip
    right = frozenset(("stick", "load", "stock", "cut", "length", "mark", "left"))
    return Table(headings, tuple(rows), right)


def cut_json(plan: CutPlan) -> dict[str, Any]:
    """The plan as a JSON object, with whether it is proved best."""
    return {"proved": plan.proved, **to_json(plan)}


# --- what both say ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Group:
    """Sticks that follow each other and are cut alike."""

    sticks: tuple[Stick, ...]

    @property
    def first(self) -> Stick:
        return self.sticks[0]

    def stock(self) -> str:
        kind = " cutoff" if self.first.offcut else ""
        return f"{len(self.sticks)} x {feet_and_inches(self.first.length)}{kind}"

    def cuts(self) -> list[str]:
        """Such as "3 x 35 7/8", in order."""
        if self.first.cuts[0].length == self.first.length:
            return ["whole, no cut"]
        runs = [
            (length, len(list(run)))
            for length, run in groupby(cut.length for cut in self.first.cuts)
        ]
        return [f"{count} x {_shown(length)}" for length, count in runs]

    def marks(self) -> list[str]:
        return [_shown(cut.mark) for cut in self.first.cuts]

    def length_of(self, cut: Cut) -> str:
        return _shown(cut.length)

    def left(self) -> str:
        left = self.first.remainder
        return "" if not left else f"{'KEEP' if self.first.kept else 'waste'} {_shown(left)}"

    def stacks(self, at_once: int) -> str:
        """Such as "2x2+1": two stacks of two and a single one."""
        if at_once < 2 or len(self.sticks) < 2:
            return ""
        full, single = divmod(len(self.sticks), at_once)
        parts = [f"{full}x{at_once}"] if full else []
        return "+".join(parts + ["1"] * single)

    def places(self) -> list[str]:
        """Where the pieces go, with their length where that is not plain."""
        counted: dict[tuple[Fraction, str], int] = {}
        for cut in self._cuts():
            counted[cut.length, cut.label] = counted.get((cut.length, cut.label), 0) + 1
        labels = {label for _, label in counted}
        if labels == {""}:
            return []
        if len(labels) == 1:
            return [labels.pop()]
        lengths = {length for length, _ in counted}
        return [
            f"{count} {label or 'without label'}"
            if len(lengths) == 1
            else f"{_shown(length)}: {count} {label or 'without label'}"
            for (length, label), count in counted.items()
        ]

    def which(self) -> list[str]:
        return list(dict.fromkeys(stick.label for stick in self.sticks if stick.label))

    def _cuts(self) -> Iterable[Cut]:
        for at in range(len(self.first.cuts)):
            for stick in self.sticks:
                yield stick.cuts[at]


def groups(sticks: Sequence[Stick]) -> list[Group]:
    """The sticks in their order, those together that follow each other and are cut alike."""

    def alike(stick: Stick) -> tuple[object, ...]:
        return stick.length, stick.offcut, tuple(cut.length for cut in stick.cuts)

    return [Group(tuple(group)) for _, group in groupby(sticks, alike)]


def about_plan(plan: CutPlan) -> list[str]:
    """What is said above a plan: how much stock for how many pieces, how good it is, what lacks."""
    new = _stock_named(stick for stick in plan.sticks if not stick.offcut)
    old = sum(stick.offcut for stick in plan.sticks)
    stock = [new] if new else []
    if old:
        stock.append(f"{old} {'cutoff' if old == 1 else 'cutoffs'} on hand")
    pieces = sum(len(stick.cuts) for stick in plan.sticks)
    name = f"{plan.item}: " if plan.item else "cut list: "
    lines = [
        f"{name}{' and '.join(stock) or 'no stock'}, {pieces} pieces, kerf {_shown(plan.kerf)}",
        _proof(plan),
    ]
    if plan.already:
        lines.append(f"cut already and left as it is: {_stock_named(plan.already)}")
    lines += _joints(plan)
    lines += [
        f"NO STOCK LEFT for {line.pieces} x {_shown(line.length)} {line.label}".rstrip()
        for line in plan.short
    ]
    return lines


def _joints(plan: CutPlan) -> list[str]:
    """How many joints there are, and where each falls."""
    if not plan.runs:
        return []
    many = plan.joints
    fewest = ", fewest" if many == plan.joints_at_least else ""
    lines = [f"{many} {'joint' if many == 1 else 'joints'}{fewest}; from where each run begins:"]
    for run in plan.runs:
        count = f"{run.pieces} x " if run.pieces > 1 else ""
        name = f"{run.label or 'run'}, {count}{feet_and_inches(run.length)}"
        lap = f"; the next piece begins {_shown(run.lap)} before" if run.lap else ""
        note = f" ({run.note})" if run.note else ""
        lines.append(f"  {name}: {', '.join(map(feet_and_inches, run.joints))}{lap}{note}")
    return lines


def _stock_named(sticks: Iterable[Stick]) -> str:
    counted: dict[Fraction, int] = {}
    for stick in sticks:
        counted[stick.length] = counted.get(stick.length, 0) + 1
    return ", ".join(f"{count} of {feet_and_inches(length)}" for length, count in counted.items())


def _proof(plan: CutPlan) -> str:
    if not plan.sticks:
        return ""
    patterns = f"{plan.patterns} {'pattern' if plan.patterns == 1 else 'patterns'}"
    rest = [
        f"{patterns}, fewest" if plan.patterns_proved else patterns,
        f"fence set {_times(plan.settings)}",
        f"waste {_waste(plan):.1f} %",
    ]
    what = "cost" if plan.priced else "stock"
    least = f"least {what}, proved" if plan.proved else _gap(plan)
    cost = [money_written(money(plan.spent))] if plan.priced else []
    ended = [f"search ended {plan.stopped}"] if plan.stopped else []
    return "; ".join((*cost, least, *rest, *ended))


def _gap(plan: CutPlan) -> str:
    above = plan.spent - plan.at_least
    amount = money_written(money(above)) if plan.priced else feet_and_inches(above)
    share = float(100 * above / plan.spent)
    return f"best found so far, at most {amount} ({share:.1f} %) above the least"


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _waste(plan: CutPlan) -> float:
    """In hundredths of all stock, what is neither a piece, dust nor an offcut worth keeping."""
    total = sum((stick.length for stick in plan.sticks), Fraction(0))
    waste = sum((stick.remainder for stick in plan.sticks if not stick.kept), Fraction(0))
    return float(100 * waste / total)


_SIXTEENTHS, _LARGEST = 32, 1000


def _on_tape(length: Fraction) -> bool:
    return _SIXTEENTHS % length.denominator == 0


def _shown(length: Fraction) -> str:
    """As a tape reads it; with a star where no tape has such a mark."""
    if _on_tape(length):
        return tape(length)
    if length.denominator <= _LARGEST:
        return f"{tape(length)}*"
    return f"~{float(length):.4f}*"


def _not_on_tape(plan: CutPlan) -> list[str]:
    """For each length or mark off the tape, the marks beside it."""
    numbers = dict.fromkeys(
        number
        for stick in plan.sticks
        for cut in stick.cuts
        for number in (cut.length, cut.mark)
        if not _on_tape(number)
    )
    return [
        f"{_shown(number)} lies between {tape(_down(number))} and {tape(_down(number) + _PART)}"
        for number in numbers
    ]


_PART = Fraction(1, _SIXTEENTHS)


def _down(length: Fraction) -> Fraction:
    return length // _PART * _PART


# --- on the terminal ----------------------------------------------------------------------------


def _sheet(plan: CutPlan, width: int) -> str:
    lines = about_plan(plan)
    if plan.sticks:
        lines.append("")
    for number, group in enumerate(groups(plan.sticks), 1):
        lines += _group_lines(number, group, plan, width)
    if not plan.sticks:
        lines.append("nothing to cut")
    lines += [*_off_tape(plan), *after_plan(plan)]
    return "\n".join(part for line in lines if line or plan.sticks for part in _fitted(line, width))


def _group_lines(number: int, group: Group, plan: CutPlan, width: int) -> list[str]:
    stacks = group.stacks(plan.at_once)
    head = f"{number:2}) {group.stock()}{f' stacked {stacks}' if stacks else ''}"
    line = f"{head:<16}  {_listed(group.cuts(), ', ')}"
    left = group.left().replace(" ", _HELD)
    if left:
        line = f"{line:<{max(0, width - len(left) - 2)}}  {left}"
    lines = [line]
    if len(group.first.cuts) > 1:
        lines.append(f"    marks {_listed(group.marks(), ', ')}")
    if group.which():
        lines.append(f"    from  {_listed(group.which(), ', ')}")
    if group.places():
        lines.append(f"    for   {_listed(group.places(), '; ')}")
    return lines


_HELD = "\N{NO-BREAK SPACE}"


def _listed(parts: Iterable[str], between: str) -> str:
    """Parts that a line is broken between, not within: no length is torn in two."""
    return between.join(plain(part).replace(" ", _HELD) for part in parts)


def _off_tape(plan: CutPlan) -> list[str]:
    notes = _not_on_tape(plan)
    if not notes:
        return []
    shown = [f"  {note}" for note in notes[:_NOTES]]
    if len(notes) > _NOTES:
        shown.append(f"  and {len(notes) - _NOTES} more; --csv and --json have all of them exactly")
    return ["* not on the marks of a tape, so nothing was rounded; you decide:", *shown]


_NOTES = 4


def after_plan(plan: CutPlan) -> list[str]:
    """What is said below it: the offcuts to keep."""
    kept = sorted((stick.remainder for stick in plan.sticks if stick.kept), reverse=True)
    if not kept:
        return []
    return [f"cutoffs to keep: {_listed(map(_shown, kept), ', ')}"]


def _fitted(line: str, width: int) -> list[str]:
    shown = plain(line)
    if len(shown) > width:
        indent = " " * 10 if shown.startswith(" ") else "  "
        parts = textwrap.wrap(shown, width, subsequent_indent=indent, break_on_hyphens=False)
    else:
        parts = [shown]
    return [part.replace(_HELD, " ") for part in parts]


# --- on a page ----------------------------------------------------------------------------------


_STYLE = """
body{font:16px/1.35 system-ui,sans-serif;margin:1rem auto;max-width:50rem;padding:0 .6rem;
color:#111}
h1{font-size:1.3rem;margin:0 0 .4rem}h2{font-size:1.1rem;margin:1rem 0 .2rem}
section{border-top:1px solid #999;padding:.5rem 0;break-inside:avoid}
.head{display:flex;justify-content:space-between;font-weight:600}
.bar{display:flex;height:1.6rem;margin:.3rem 0;border:1px solid #333;background:#fff}
.bar span{border-right:2px solid #333;background:#e8e2d4;overflow:hidden;text-align:center;
font-size:.75rem;line-height:1.6rem;white-space:nowrap}
table{border-collapse:collapse;width:100%}td,th{text-align:left;padding:.1rem .5rem .1rem 0;
vertical-align:top}td.n{font-variant-numeric:tabular-nums;white-space:nowrap}
.note,.caution{font-size:.9rem}.box{display:inline-block;width:.9em;height:.9em;
border:1px solid #333;margin-right:.15em}
@media print{@page{margin:10mm}body{margin:0;max-width:none;font-size:11px;line-height:1.15;
columns:2;column-gap:6mm}h1,h2{margin:0 0 1mm;break-after:avoid}p{margin:.5mm 0}
section{padding:1mm 0}.bar{height:3.5mm;margin:.5mm 0}.bar span{font-size:7px;line-height:3.5mm}
td,th{padding:0 1.5mm 0 0}.note,.caution{font-size:10px}}
"""


def _html_plan(plan: CutPlan) -> str:
    first, *rest = about_plan(plan)
    parts = [f"<h2>{_html(first)}</h2>"]
    parts += [f"<p class=note>{_html(line)}</p>" for line in rest if line]
    parts += [_html_group(group, plan) for group in groups(plan.sticks)]
    notes = _not_on_tape(plan)
    if notes:
        shown = "<br>".join(map(_html, notes))
        parts.append(
            f"<p class=note>* not on the marks of a tape; nothing was rounded:<br>{shown}</p>"
        )
    parts += [f"<p class=note>{_html(line)}</p>" for line in after_plan(plan)]
    return "\n".join(parts)


def _html_group(group: Group, plan: CutPlan) -> str:
    stacks = group.stacks(plan.at_once)
    head = group.stock() + (f", stacked {stacks}" if stacks else "")
    bar = "".join(
        f'<span style="width:{float(100 * cut.length / group.first.length):.2f}%">'
        f"{_html(_shown(cut.length))}</span>"
        for cut in group.first.cuts
    )
    rows = "".join(
        f"<tr><td class=n>{at}</td><td class=n>{_html(_shown(cut.length))}</td>"
        f"<td class=n>{_html(_shown(cut.mark))}</td>"
        f"<td>{_html(_places_of(group, at - 1))}</td></tr>"
        for at, cut in enumerate(group.first.cuts, 1)
    )
    boxes = "<span class=box></span>" * len(group.sticks)
    which = group.which()
    source = f"<p class=note>from {_html(', '.join(which))}</p>" if which else ""
    return (
        f"<section><div class=head><span>{_html(head)}</span><span>{_html(group.left())}</span>"
        f"</div><div class=bar>{bar}</div>{source}<table><tr><th>cut<th>length<th>mark<th>for</tr>"
        f"{rows}</table>{boxes}</section>"
    )


def _places_of(group: Group, at: int) -> str:
    counted: dict[str, int] = {}
    for stick in group.sticks:
        label = stick.cuts[at].label
        counted[label] = counted.get(label, 0) + 1
    if len(counted) == 1:
        return next(iter(counted))
    return ", ".join(f"{count} {label or 'without label'}" for label, count in counted.items())


def _html(text: str) -> str:
    return escape(plain(text).replace(_HELD, " "), quote=True)
