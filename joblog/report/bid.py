"""A bid for the person who makes it, what became of it, and what its customer is shown; as text
and as tables for CSV."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal

from joblog.form import WORDS, amount, plain, to_json, unit_shown, units_of
from joblog.local import day_written, moment_written, money_written
from joblog.model import (
    Bid,
    BidChances,
    BidItem,
    BidOutcome,
    BidTask,
    Interval,
    Offer,
)
from joblog.quantity import about, tape
from joblog.report.table import Shown, Table, as_text

SET = "*"
"""Stands behind a number that a person set."""
SHOWN_DRIVERS = 3


def bid_sheet(bid: Bid, notes: Iterable[str] = (), width: int = 100) -> str:
    """The bid line by line, its sums, by place and by the foot, and how it may turn out."""
    title = f"{bid.job}, bid of {day_written(bid.day)}"
    parts = [f"{plain(title)}\n{'=' * len(plain(title))}"]
    parts += _wrapped((f"No bid yet: {lack}." for lack in bid.lacks), width)
    parts += [as_text(item_table(bid), width)] if bid.items else []
    parts += [as_text(task_table(bid), width)] if bid.tasks else []
    parts += _wrapped(source_lines(bid), width)
    parts.append(as_text(sum_table(bid), width))
    parts += _wrapped(margin_lines(bid), width)
    if shows_places(bid):
        parts.append(as_text(place_table(bid), width))
    parts += _wrapped(foot_lines(bid), width)
    parts += _wrapped(chance_lines(bid), width)
    parts += _wrapped(_beside_lines(bid), width)
    parts += _wrapped(set_lines(bid), width)
    parts += _wrapped((f"note: {note}" for note in notes), width)
    return "\n\n".join(part for part in parts if part)


def set_lines(bid: Bid) -> Iterator[str]:
    """The numbers that a person set, as typed."""
    if bid.said:
        told = ", ".join(f"{name}={text}" for name, text in bid.said)
        yield f"{SET} you set: {told}"


# --- the lines ----------------------------------------------------------------------------------


def item_table(bid: Bid) -> Table:
    """The material."""
    headings = ("material", "work", "cutoffs", "waste", "in all", "price", "cost")
    rows = tuple(
        (
            item.name,
            "-" if item.net is None else _cell(item.net),
            _cell(item.offcut),
            _marked(_cell(item.waste), item, "waste", "quantity"),
            _marked(_charged(item), item, "quantity", "packs"),
            _marked(_money(item.price), item, "price"),
            _money(item.cost),
        )
        for item in bid.items
    )
    return Table(headings, rows, right=frozenset(headings[1:]))


def _charged(item: BidItem) -> str:
    if not item.whole:
        return units_of(item.quantity, item.unit, item.name).replace("about ", "~")
    called = unit_shown(item.pack_name or item.unit, item.name, many=item.packs != 1)
    return f"{item.packs} {called}"


def item_source(item: BidItem) -> str:
    day = f", {day_written(item.priced, short=True, year=True)}" if item.priced else ""
    price = f"price: {item.price_source}{day}" if item.price_source else ""
    waste = f"waste: {item.source}" if item.source else ""
    return "; ".join(filter(None, [waste, price]))


def task_table(bid: Bid) -> Table:
    """The labor."""
    headings = ("hours", "to do", "an hour", WORDS["crew_hours"], "pay", "cost")
    rows = tuple(
        (
            task.name,
            _marked("-" if task.amount is None else _to_do(task.amount, task.unit), task, "amount"),
            _marked("-" if task.pace is None else near(task.pace, 1), task, "pace"),
            _marked(near(task.hours), task, "hours", "pace"),
            _marked(_money(task.hourly_cost), task, "hourly cost"),
            _money(task.cost),
        )
        for task in bid.tasks
    )
    return Table(headings, rows, right=frozenset(headings[1:]))


def _to_do(quantity: Fraction, unit: str) -> str:
    return units_of(quantity, unit).replace("about ", "~")


def source_lines(bid: Bid) -> Iterator[str]:
    """Where the figures came from, line by line."""
    for item in bid.items:
        if source := item_source(item):
            yield f"{item.name}: {source}"
    for task in bid.tasks:
        if task.source:
            yield f"{task.name}: {task.source}"
    if bid.basis.other_share and "other hours" not in dict(bid.said):
        jobs = (
            "1 closed job" if bid.basis.other_jobs == 1 else f"{bid.basis.other_jobs} closed jobs"
        )
        yield f"other hours: {percent(bid.basis.other_share)} of the hours on tasks, as in {jobs}"


def shows_places(bid: Bid) -> bool:
    return len(bid.places) > 1 and not bid.lacks


def sum_table(bid: Bid) -> Table:
    """What it comes to, from the cost to the total: every line is the sum of those above it, or a
    part of the next sum. What rests on a cost that nobody knows says so."""
    return Table(
        ("sums", "money"),
        tuple((words, sum_cell(money, how)) for words, money, how in sums(bid)),
        right=frozenset(("money",)),
    )


Standing = Literal["", "at least", "at most", "?"]
"""How a sum stands: exact, no less or no more than it says, or not known at all."""


def sum_cell(money: Decimal, how: Standing) -> str:
    if how == "?" or (how == "at least" and not money):
        return Shown("?", "")
    if how:
        return Shown(f"{how} {money_written(money, bare=True)}", "")
    return _money(money)


def standing_of(bid: Bid) -> Mapping[str, Standing]:
    """The sums of a bid that a cost is missing in, by their names in `Bid`; of a whole bid none."""
    found: dict[str, Standing] = {}
    if any(item.cost is None and item.charged for item in bid.items):
        found["material"] = "at least"
    if any(task.cost is None if task.hours else "hours" not in task.changed for task in bid.tasks):
        found["labor"] = "at least"
    if any(one.cost is None for one in bid.beside):
        found["besides"] = "at least"
    if not (found or bid.lacks):
        return {}
    found |= dict.fromkeys(("cost", "all_cost"), "at least")
    if bid.overhead_share:
        found["overhead"] = "at least"
    found |= dict.fromkeys(("margin", "margin_share", "markup_share", "rounding"), "?")
    if "price" not in dict(bid.said):
        found["price"] = "?"
    if bid.tax_on == "material" or ("price" in found and bid.tax_on != "nothing"):
        found["tax"] = "?"
    if "price" in found or "tax" in found:
        found["total"] = "?"
    return found


def sums(bid: Bid) -> Iterator[tuple[str, Decimal, Standing]]:
    """The sums in words, in the order in which they follow from each other, and how they stand."""
    how = standing_of(bid)
    for words, money, name in _sums(bid):
        yield words, money, how.get(name, "")


def _sums(bid: Bid) -> Iterator[tuple[str, Decimal, str]]:
    yield "material", bid.material, "material"
    yield "hours", bid.labor, "labor"
    for one in bid.beside:
        if one.cost is not None:
            driven = f", {amount(one.miles)} miles" if one.miles is not None else ""
            if one.hours is not None:
                driven = f", {amount(one.hours)} {WORDS['crew_hours']} that belong to no task"
            yield f"{one.name}{driven}", one.cost, ""
    yield "cost", bid.cost, "cost"
    yield f"overhead{_of_cost(bid)}", bid.overhead, "overhead"
    yield "cost with overhead", bid.all_cost, "all_cost"
    yield _margin_words(bid), bid.margin, "margin"
    if bid.rounding:
        yield f"rounded up to the next {dict(bid.said)['round']}", bid.rounding, "rounding"
    for extra in bid.extras:
        if extra.taken:
            yield f"extra: {extra.name}", extra.price, ""
    yield "price", bid.price, "price"
    if bid.tax_on != "nothing":
        what = " on the material's part of the price" if bid.tax_on == "material" else ""
        yield f"tax, {percent(bid.tax_share)}{what}", bid.tax, "tax"
        yield "total with tax", bid.total, "total"


def _of_cost(bid: Bid) -> str:
    if bid.overhead_share is None:
        return ", a sum"
    return f", {percent(bid.overhead_share)} of the cost" if bid.overhead_share else ""


def _margin_words(bid: Bid) -> str:
    said = dict(bid.said).get("margin")
    if said is not None:
        return f"margin, {said.removesuffix('%').strip()} % of the price"
    shown = bid.margin and not bid.lacks
    return f"margin, {percent(bid.margin_share)} of the price" if shown else "margin"


def margin_lines(bid: Bid) -> Iterator[str]:
    """What the margin is as a markup, which is another number; and with the rounding."""
    if bid.lacks or bid.markup_share is None or not (bid.margin or bid.rounding):
        return
    rounded = f"With the rounding {percent(bid.margin_share)} of the price is margin" * bool(
        bid.rounding
    )
    yield (
        f"{rounded or 'The margin is a share of the price'}; as a markup on the cost it would be "
        f"{percent(bid.markup_share)}."
    )


def place_table(bid: Bid) -> Table:
    return Table(
        ("place", "cost", "price"),
        tuple(
            (place.name or "no place named", _money(place.cost), _money(place.price))
            for place in bid.places
        ),
        right=frozenset(("cost", "price")),
    )


def foot_lines(bid: Bid) -> Iterator[str]:
    for foot in () if bid.lacks else bid.feet:
        yield (
            f"{foot.work}: {money_written(foot.a_foot)} a foot, {amount(foot.feet)} ft for "
            f"{money_written(foot.price)} before tax"
        )


def chance_lines(bid: Bid) -> Iterator[str]:
    """How it may turn out, in words; that nobody knows, where nobody does."""
    found = bid.chances
    if bid.lacks:
        return
    if found is None:
        if bid.items or bid.tasks:
            yield "Nobody knows yet how far off it may be: no job was closed to learn that from."
        return
    yield f"With overhead, the job will cost {'; '.join(map(_interval, found.intervals))}."
    yield f"It costs more than it is charged for in {chance_words(found)}."
    drivers = [one for one in found.drivers[:SHOWN_DRIVERS] if one.share > 0.01]
    if drivers:
        told = "; ".join(
            f"{one.words} ({about_money(one.low)} to {about_money(one.high)}, about "
            f"{round(100 * one.share)} % of it)"
            for one in drivers
        )
        yield f"What makes it uncertain: {told}."
    if found.certain:
        yield f"Taken as they stand, for nothing is known of them: {', '.join(found.certain)}."


def chance_words(found: BidChances) -> str:
    """ "about 4 of 100 jobs"."""
    of = round(100 * found.over)
    return "fewer than 1 of 100 jobs" if of < 1 else f"about {of} of 100 jobs"


def _interval(one: Interval) -> str:
    often = {0.5: "in every other job", 0.8: "in 8 of 10", 0.95: "in 19 of 20"}[one.level]
    return f"about {about_money(one.low)} to {about_money(one.high)} {often}"


def about_money(figure: float) -> str:
    """Whole dollars: what is only about so much has no cents."""
    return money_written(Decimal(round(figure))).removesuffix(".00")


def _beside_lines(bid: Bid) -> Iterator[str]:
    for extra in bid.extras:
        if not extra.taken:
            yield f"not in it, may be had beside: {extra.name}, {money_written(extra.price)}"
    if bid.left_out:
        yield f"not included: {'; '.join(bid.left_out)}"
    if bid.valid_until:
        yield f"valid until {day_written(bid.valid_until)}"


# --- for programs -------------------------------------------------------------------------------


def bid_table(bid: Bid) -> Table:
    """Everything of a bid, one row each, exact."""
    headings = (
        "line", "name", "unit", "net", "cutoffs", "waste", "quantity", "charged", "price",
        "hours", "hourly cost", "cost", "set", "from",
    )  # fmt: skip
    return Table(
        headings,
        tuple(tuple(row.get(heading, "") for heading in headings) for row in _rows(bid)),
        right=frozenset(headings[3:12]),
    )


def _rows(bid: Bid) -> Iterator[Mapping[str, str]]:
    for item in bid.items:
        yield {
            "line": "item",
            "name": item.name,
            "unit": item.unit,
            "net": "" if item.net is None else tape(item.net),
            "cutoffs": tape(item.offcut),
            "waste": tape(item.waste),
            "quantity": tape(item.quantity),
            "charged": tape(item.charged),
            "price": _exact(item.price),
            "cost": _exact(item.cost),
            "set": ", ".join(item.changed),
            "from": item_source(item),
        }
    for task in bid.tasks:
        yield {
            "line": "task",
            "name": task.name,
            "unit": task.unit,
            "quantity": "" if task.amount is None else tape(task.amount),
            "hours": tape(task.hours),
            "hourly cost": _exact(task.hourly_cost),
            "cost": _exact(task.cost),
            "set": ", ".join(task.changed),
            "from": task.source,
        }
    for words, money, how in sums(bid):
        yield {"line": "sum", "name": words, "cost": "" if how else _exact(money)}
    for place in () if bid.lacks else bid.places:
        yield {
            "line": "place",
            "name": place.name,
            "cost": _exact(place.cost),
            "price": _exact(place.price),
        }
    for extra in bid.extras:
        if not extra.taken:
            yield {"line": "extra", "name": extra.name, "price": _exact(extra.price)}


def bid_json(bid: Bid) -> dict[str, Any]:
    """The bid without what it was made of, which is the plan and a thousand chances."""
    shown = to_json(bid, in_words=True)
    assert isinstance(shown, dict)
    del shown["basis"]
    # A sum that lacks a cost would be taken for the whole of it by a program.
    shown |= dict.fromkeys(standing_of(bid))
    if bid.lacks:
        shown |= {"places": [], "feet": []}
    return {**shown, "parts": to_json(bid.basis.parts)}


def version_table(kept: Sequence[tuple[datetime, Bid]]) -> Table:
    """Every version of a bid, oldest first, with the numbers that were set in it."""
    return Table(
        ("made", "cost", "price", "margin", "set"),
        tuple(
            (
                Shown(moment_written(made, year=True), made.isoformat()),
                sum_cell(bid.all_cost, standing_of(bid).get("all_cost", "")),
                sum_cell(bid.price, standing_of(bid).get("price", "")),
                "?" if bid.lacks else percent(bid.margin_share),
                ", ".join(f"{name}={text}" for name, text in bid.said),
            )
            for made, bid in kept
        ),
        right=frozenset(("cost", "price", "margin")),
        notes=_LACKING * any(bid.lacks for _, bid in kept),
    )


_LACKING = ("? is no bid yet: a price was missing.",)


# --- for the customer ---------------------------------------------------------------------------


def offer_sheet(offer: Offer, width: int = 100) -> str:
    """The offer as text."""
    title = plain(f"Bid for {offer.job}, {day_written(offer.day)}")
    parts = [f"{title}\n{'=' * len(title)}", as_text(work_table(offer), width)]
    parts.append(as_text(price_table(offer), width))
    if offer.options:
        parts.append(as_text(option_table(offer), width))
    parts += _wrapped(offer_lines(offer), width)
    return "\n\n".join(parts)


def work_table(offer: Offer) -> Table:
    """What is offered."""
    if any(place for place, _ in offer.work):
        return Table(("place", "work"), offer.work)
    return Table(("work",), tuple((what,) for _, what in offer.work))


def price_table(offer: Offer) -> Table:
    """What is asked for it."""
    rows = [(name or "the rest", money_written(price)) for name, price in offer.places]
    rows += [(name, money_written(price)) for name, price in offer.taken if offer.places]
    rows.append(("together" if rows else "price", money_written(offer.price)))
    if offer.tax_words:
        rows.append((offer.tax_words, money_written(offer.tax)))
        rows.append(("total", money_written(offer.total)))
    return Table(("for", "price"), tuple(rows), right=frozenset(("price",)))


def option_table(offer: Offer) -> Table:
    """What may be had beside it."""
    return Table(
        ("if you want it as well", "price"),
        tuple((name, money_written(price)) for name, price in offer.options),
        right=frozenset(("price",)),
    )


def offer_lines(offer: Offer) -> Iterator[str]:
    if offer.taken and not offer.places:
        yield f"In the price: {'; '.join(name for name, _ in offer.taken)}."
    if offer.options and offer.tax_words:
        yield "Prices of what you may have as well are before tax."
    if offer.left_out:
        yield f"Not included: {'; '.join(offer.left_out)}."
    if offer.valid_until:
        yield f"This bid is valid until {day_written(offer.valid_until)}."


def offer_csv(offer: Offer) -> Table:
    """Everything of an offer, one row each, exact."""
    rows = [("work", place, what, "") for place, what in offer.work]
    rows += [("place", place, "", _exact(price)) for place, price in offer.places]
    rows += [("extra", "", name, _exact(price)) for name, price in offer.taken]
    rows += [
        ("price", "", "", _exact(offer.price)),
        ("tax", "", offer.tax_words, _exact(offer.tax)),
        ("total", "", "", _exact(offer.total)),
    ]
    rows += [("option", "", name, _exact(price)) for name, price in offer.options]
    rows += [("not included", "", what, "") for what in offer.left_out]
    if offer.valid_until:
        rows.append(("valid until", "", offer.valid_until.isoformat(), ""))
    return Table(("line", "place", "what", "price"), tuple(rows), right=frozenset(("price",)))


# --- what became of it --------------------------------------------------------------------------


def outcome_sheet(found: BidOutcome, width: int = 100) -> str:
    """The bid beside the job, in money."""
    title = plain(f"{found.job}, the bid and what became of it")
    parts = [f"{title}\n{'=' * len(title)}", as_text(outcome_table(found), width)]
    parts += _wrapped(earned_lines(found), width)
    if found.extra_lines:
        parts.append(as_text(extra_table(found), width))
    parts += _wrapped(beside_lines(found), width)
    if found.losses:
        parts.append(as_text(loss_table(found), width))
    parts += _wrapped([found.next_time], width)
    parts += _wrapped((f"not known: {lack}" for lack in found.lacks), width)
    return "\n\n".join(part for part in parts if part)


def outcome_table(found: BidOutcome) -> Table:
    """What was bid and what it came to, line by line; what is not known of either says so."""
    no_price = any(lack.startswith("the bid has no price") for lack in found.charged_lacks)
    some = any(line.lacks for line in found.lines)
    least: Standing = "at least" if some else ""
    priced: Standing = "?" if no_price else ""
    charged: Standing = "?" if no_price else "at least" if found.charged_lacks else ""
    left: Standing = "?" if found.charged_lacks else "at most" if some else ""
    of_lines = [
        (line.name, line.bid, _least(no_price), line.real or _NONE, _least(bool(line.lacks)))
        for line in found.lines
    ]
    lines = [
        *of_lines,
        ("cost", found.bid_price - found.hoped, _least(no_price), found.cost, least),
        ("charged", found.bid_price, priced, found.charged, charged),
        ("earned", found.hoped, priced, found.earned, left),
        ("overhead", found.overhead, "", found.overhead, ""),
        ("left after overhead", found.hoped - found.overhead, priced, found.profit, left),
    ]
    rows = tuple(
        (
            name,
            sum_cell(bid, in_bid),
            sum_cell(real, how),
            "?" if in_bid or how else _difference(bid, real),
        )
        for name, bid, in_bid, real, how in lines
    )
    return Table(
        ("money", "bid", "actual", "differs"), rows, frozenset(("bid", "actual", "differs"))
    )


_NONE = Decimal("0.00")


def _least(lacking: bool) -> Standing:
    return "at least" if lacking else ""


def earned_lines(found: BidOutcome) -> Iterator[str]:
    if found.charged_lacks:
        yield "What it earned is not known, for nobody knows what was charged."
        return
    least = "at most " if found.lacks else ""
    line = f"Earned {least}{money_written(found.earned)} before overhead"
    parts = []
    if found.earned_an_hour is not None:
        parts.append(
            f"{money_written(found.earned_an_hour)} for each of {near(found.hours)} man-hours"
        )
    if found.earned_a_foot is not None and found.feet is not None:
        parts.append(f"{money_written(found.earned_a_foot)} for each of {amount(found.feet)} ft")
    yield f"{line}: {', '.join(parts)}." if parts else f"{line}."
    if found.extras:
        yield f"{money_written(found.extras)} of what was charged are extras beside the bid."


def extra_table(found: BidOutcome) -> Table:
    """Extras that the bid did not have, what is charged for each, and whether that was agreed."""
    return Table(
        ("extra", "price", "agreed"),
        tuple((line.text, _money(line.price), line.agreed) for line in found.extra_lines),
        right=frozenset(("price",)),
    )


def beside_lines(found: BidOutcome) -> Iterator[str]:
    """Money spent beside material and miles driven, where any were."""
    if found.expenses:
        yield f"Spent beside material: {money_written(found.expenses)}."
    if found.miles:
        yield f"Driven: {amount(found.miles)} miles."


def loss_table(found: BidOutcome) -> Table:
    """Where the most was lost."""
    return Table(
        ("lost most on", "money", "why"),
        tuple((loss.name, _money(loss.money), loss.why) for loss in found.losses),
        right=frozenset(("money",)),
    )


# --- cells --------------------------------------------------------------------------------------


def percent(share: Fraction) -> str:
    """A share that may be of any sign: "12 %", "about 17.42 %"."""
    return f"{about(share * 100, 2).replace('~', 'about ')} %"


def near(quantity: Fraction, places: int = 2) -> str:
    """A figure that is no more exact than what it was foreseen from: "13.25", "5"."""
    return about(quantity, places).lstrip("~")


def _cell(quantity: Fraction) -> str:
    return amount(quantity).replace("about ", "~")


def _marked(cell: str, line: BidItem | BidTask, *numbers: str) -> str:
    return cell + SET if set(numbers) & set(line.changed) else cell


def _money(money: Decimal | None) -> str:
    return (
        Shown("?", "") if money is None else Shown(money_written(money, bare=True), _exact(money))
    )


def _difference(bid: Decimal, real: Decimal | None) -> str:
    return "?" if real is None else money_written(real - bid, sign=True, bare=True)


def _exact(money: Decimal | None) -> str:
    return "" if money is None else f"{money:f}"


def _wrapped(lines: Iterable[str], width: int) -> list[str]:
    """The lines as one paragraph block, each wrapped; nothing of none."""
    found = [textwrap.fill(plain(line), width, subsequent_indent="  ") for line in lines]
    return ["\n".join(found)] if found else []
