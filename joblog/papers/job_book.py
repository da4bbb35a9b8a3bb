"""The job book: the whole record of a job on paper, to keep or to hand over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from joblog.form import unit_shown, units_of
from joblog.local import clock_written, day_written
from joblog.model import Closing, CutPlan, StockLine
from joblog.papers.blocks import Block, Heading, PageBreak, Paper, Table, Text
from joblog.papers.covered import covered_blocks
from joblog.papers.day import day_blocks, hours_told
from joblog.papers.figures import idle, on_paper, without
from joblog.papers.leaving_out import left_out
from joblog.papers.photos import where
from joblog.papers.record import Copy, JobRecord, kept_back, local, speaks_of_money
from joblog.papers.told import words_of
from joblog.report.cut_sheet import CAUTION, about_plan, after_plan, groups
from joblog.report.figures import beside_sums, beside_table
from joblog.report.sheets import errand_list


def job_book(record: JobRecord, copy: Copy) -> Paper:
    """Covered work, problems, extras, what is to do, cut and order list, every day, all photos."""
    return Paper(
        f"{record.job.name}: job book",
        about=tuple(_about(record, copy)),
        blocks=tuple(_blocks(record, copy)),
        footer=f"{record.job.name}, job book",
    )


def standing(closing: Closing | None) -> str:
    """Whether the job is open, closed, or open again."""
    if closing is None:
        return "open"
    again = ", changed since and open again" if closing.reopened else ""
    return f"closed on {day_written(closing.day)}{again}"


def _about(record: JobRecord, copy: Copy) -> Iterator[tuple[str, str]]:
    days = record.days
    if days:
        first, last = day_written(days[0].day), day_written(days[-1].day)
        yield "days", first if len(days) == 1 else f"{first} to {last}: {len(days)} days"
    if record.job.places:
        yield "places", ", ".join(record.job.places)
    photos = sum(1 + len(shot.stands_for) for day in days for shot in day.shots)
    entries = sum(len(day.entries) for day in days)
    yield "in it", f"{_count(entries, 'entry', 'entries')}, {_count(photos, 'photo', 'photos')}"
    if not copy.handed_out:
        yield "the job is", standing(record.closing)


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def _blocks(record: JobRecord, copy: Copy) -> Iterator[Block]:
    every = [one for day in record.days for one in day.entries]
    placed = any(shot.placed for day in record.days for shot in day.shots)
    yield from left_out(copy, every, photos=placed)
    yield Heading("Covered work")
    yield from covered_blocks(record.job, record.covered, record.shots, copy)
    yield Heading("Problems")
    yield from _problems(record, copy)
    yield from _extras(record, copy)
    if not copy.handed_out:
        yield from _to_do(record)
        yield from _to_order(record)
        yield from _cuts(record.cuts)
    for day in record.days:
        yield PageBreak()
        yield Heading(day_written(day.day))
        if day.hours is not None and not copy.handed_out:
            yield Text(hours_told(day.hours))
        yield from day_blocks(record.job, day, copy)
    yield from _index(record, copy)


def _problems(record: JobRecord, copy: Copy) -> Iterator[Block]:
    hidden = kept_back(record.problems) if copy.handed_out else ()
    told = [one for one in record.problems if one not in hidden]
    if not told:
        yield Text("No problem is open.")
        return
    rows = []
    for one in told:
        said = words_of(one.entry, copy).removeprefix("problem: ")
        at = local(record.job, one.at)
        rows.append(
            (
                day_written(at.date()),
                clock_written(at),
                f"{said} (in doubt)" if one.open else said,
            )
        )
    yield Table(("day", "time", "problem"), tuple(rows))


def _extras(record: JobRecord, copy: Copy) -> Iterator[Block]:
    beside = record.balance.beside
    lines = [
        line
        for line in beside.lines
        if not copy.handed_out or (line.kind == "extra" and not speaks_of_money(line.text))
    ]
    if not lines:
        return
    yield Heading("Extras" if copy.handed_out else "Extras, expenses, miles")
    shown = replace(record.balance, beside=replace(beside, lines=tuple(lines)))
    table = beside_table(shown)
    hidden = ("price", "hours", "miles", "minutes", "entry") if copy.handed_out else ()
    yield on_paper(without(table, *hidden, *idle(table)))
    if not copy.handed_out:
        yield Text("\n".join(beside_sums(beside)))


def _to_do(record: JobRecord) -> Iterator[Block]:
    if record.to_do or record.wanted:
        yield Heading("To do and to buy")
        table = errand_list(record.job, record.to_do, record.wanted)
        yield on_paper(without(table, *idle(table)))


def _to_order(record: JobRecord) -> Iterator[Block]:
    lines = {line.item: line for line in record.balance.stock}
    rows = []
    for planned in record.plan.items:
        item = planned.item
        line = lines.get(item.name)
        here = planned.opening if line is None else _came(line)
        lacking = planned.quantity - here
        if lacking > 0:
            packs = -(-lacking // (item.pack or Fraction(1)))
            rows.append(
                (
                    item.name,
                    units_of(planned.quantity, item.unit, item.name),
                    units_of(here, item.unit, item.name),
                    _packs(packs, item.pack, item.pack_name, item.unit, item.name),
                )
            )
    yield Heading("Order list")
    if rows:
        yield Table(("item", "planned", "came so far", "still to come"), tuple(rows))
    elif record.plan.items:
        yield Text("All that was planned has come.")
    else:
        yield Text("There is no plan for this job, so nothing is known to be missing.")


def _came(line: StockLine) -> Fraction:
    return line.opening + line.delivered + line.moved_in - line.returned - line.moved_out


def _packs(packs: int, pack: Fraction, name: str, unit: str, item: str) -> str:
    whole = units_of(packs * pack, unit, item)
    if pack == 1:
        return whole
    called = name or unit_shown("", item) or "pack"
    return f"{packs} {called}{'' if packs == 1 else 's'} of {units_of(pack, unit, item)}: {whole}"


def _cuts(plans: Sequence[CutPlan]) -> Iterator[Block]:
    if not plans:
        return
    yield Heading("Cut list")
    for plan in plans:
        first, *rest = [line for line in about_plan(plan) if line]
        yield Heading(first, 2)
        if rest:
            yield Text("\n".join(rest), small=True)
        rows = tuple(
            (
                group.stock(),
                ", ".join(group.cuts()),
                ", ".join(group.marks()),
                "; ".join(group.places()),
                group.left(),
            )
            for group in groups(plan.sticks)
        )
        if rows:
            yield Table(("stock", "cut, inches", "marks", "for", "left"), rows)
        if kept := after_plan(plan):
            yield Text("\n".join(kept), small=True)
    yield Text(CAUTION, small=True)


def _index(record: JobRecord, copy: Copy) -> Iterator[Block]:
    rows = []
    for day in record.days:
        for number, shot in enumerate(day.shots, 1):
            at = local(record.job, shot.taken)
            rows.append(
                (
                    day_written(day.day, short=True),
                    str(number),
                    clock_written(at, seconds=True),
                    shot.photo.name,
                    where(shot, copy),
                    shot.photo.sha256,
                )
            )
            same = f"shows the same as no. {number}"
            rows += [
                ("", "", "", f"{photo.name}\n{same}", "", photo.sha256) for photo in shot.stands_for
            ]
    if not rows:
        return
    yield PageBreak()
    yield Heading("All photos")
    headings = ("day", "no.", "taken", "name", "where", "SHA-256")
    kept = [at for at, _ in enumerate(headings) if at != 4 or copy.positions]
    yield Table(
        tuple(headings[at] for at in kept),
        tuple(tuple(row[at] for at in kept) for row in rows),
        right=frozenset((1,)),
    )
