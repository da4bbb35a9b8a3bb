"""Bids: made of measured runs or of a plan, changed number by number, kept, offered, looked back
on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book import Book, bids, closed
from joblog.model import (
    Bid,
    BidBasis,
    BidOutcome,
    Catalog,
    Closing,
    Offer,
    Plan,
    Problem,
    SaidPrice,
)
from joblog.reconcile.prices import with_prices
from joblog.service import places
from joblog.service.desk import Desk, read_catalog, refresh
from joblog.service.errors import ServiceError, refusing, use_case
from joblog.service.jobs import begin_job
from joblog.service.places import Place
from joblog.service.planning import (
    Learning,
    Measured,
    foreseen_of_plan,
    take_off,
)
from joblog.service.prices import prices_in
from joblog.service.record import read_balance
from joblog.sheet import refused

if TYPE_CHECKING:
    from joblog.bid.basis import PriceSource

Numbers = Sequence[tuple[str, str]]
"""Numbers that a person sets, by their names, as typed: ("soffit panel.price", "31.50")."""

LEARNED = Learning(learned=True)
"""Waste and hours as the closed jobs teach them."""


@dataclass(frozen=True, slots=True)
class MadeBid:
    """A bid as it is kept, and what a person should know of how it was made."""

    bid: Bid
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    """Rows that could not be read. Where runs are among them, nothing was kept."""
    kept: bool = True


# --- making and changing ------------------------------------------------------------------------


@use_case
def begin_bid(place: Place, job: str, zone: str | None = None) -> bool:
    """Makes the job, and the book, where there is none of that name; whether it did."""
    with places.made_or_opened(place) as book:
        if job in (known.name for known in book.jobs()):
            return False
        begin_job(book, job, zone)
        return True


@use_case
def bid_on_runs(
    desk: Desk,
    measured: Measured,
    numbers: Numbers = (),
    learning: Learning | None = None,
    *,
    sure: bool = False,
) -> MadeBid:
    """A bid on measured runs, kept as the job's, and the job's plan made of it.

    Waste and hours are those that the closed jobs teach, prices the latest. Numbers that a person
    set in the job's bid before stay set; a first bid begins with the usual ones of the last bid.
    Raises `ServiceError` for runs that cannot be understood at all, numbers that cannot be, or that
    hardly anybody means unless a person is `sure`, and a job that is closed.
    """
    from joblog.bid.basis import basis_of_runs

    _check_open(desk)
    taken = take_off(
        Place(desk.book.folder), desk.job.name, measured, learning or LEARNED, to_plan=True
    )
    said = prices_in(desk.book)
    known = with_prices(read_catalog(desk), said)
    before = desk.book.plan(desk.job.name)
    with refusing(ValueError):
        basis = basis_of_runs(
            taken.found, known, before, taken.cut, taken.foreseen, _sources(known, said)
        )
    made = _worked_out(desk, basis, numbers, sure)
    if refused(taken.problems):
        return MadeBid(made.bid, made.notes, (*taken.problems, *taken.unread), kept=False)
    return _kept(desk, made, (*taken.problems, *taken.unread), before)


@use_case
def bid_on_plan(
    desk: Desk, numbers: Numbers = (), learning: Learning | None = None, *, sure: bool = False
) -> MadeBid:
    """The same of the plan that the job has. Raises `ServiceError` where it has none."""
    from joblog.bid.basis import basis_of_plan

    _check_open(desk)
    plan = desk.book.plan(desk.job.name)
    if not (plan.items or plan.tasks):
        raise ServiceError(
            f"{desk.job.name}: has no plan to bid on; say joblog bid RUNS.csv, or load a plan"
        )
    said = prices_in(desk.book)
    known = with_prices(read_catalog(desk), said)
    foreseen, notes, unread = foreseen_of_plan(Place(desk.book.folder), plan, learning or LEARNED)
    basis = basis_of_plan(plan, known, foreseen, _sources(known, said))
    made = _worked_out(desk, basis, numbers, sure)
    return _kept(desk, MadeBid(made.bid, (*notes, *made.notes)), unread, plan)


@use_case
def change_bid(desk: Desk, numbers: Numbers, *, sure: bool = False) -> MadeBid:
    """The job's bid with these numbers set, or worked out again where "" is said of one."""
    _check_open(desk)
    before = newest(desk)
    made = bid_with(desk, before, numbers, sure=sure)
    return _kept(desk, MadeBid(made), (), desk.book.plan(desk.job.name))


@use_case
def bid_with(desk: Desk, before: Bid, numbers: Numbers, *, sure: bool = False) -> Bid:
    """A bid with these numbers set, not kept. Raises `ServiceError`, naming the number."""
    from joblog.bid.said import with_said
    from joblog.bid.work_out import names_of, work_out
    from joblog.catalog.naming import surely_called

    with refusing(ValueError):
        also = surely_called(read_catalog(desk).items)
        said = with_said(before.said, numbers, names_of(before.basis), also, sure=sure)
        return work_out(desk.job.name, _today(desk), before.basis, said)


# --- reading ------------------------------------------------------------------------------------


@use_case
def newest(desk: Desk) -> Bid:
    """The job's bid as it stands. Raises `ServiceError` where there is none."""
    found = newest_if_any(desk)
    if found is None:
        raise ServiceError(
            f"{desk.job.name}: there is no bid yet; make one with joblog bid RUNS.csv, or of its"
            " plan with joblog bid --from-plan"
        )
    return found


@use_case
def newest_if_any(desk: Desk) -> Bid | None:
    kept = bids.newest_bid(desk.book, desk.job.name)
    return kept.bid if kept else None


@use_case
def versions(desk: Desk) -> tuple[tuple[datetime, Bid], ...]:
    """Every version of the job's bid that stands, oldest first, each with when it was made, in the
    time zone of the job."""
    zone = ZoneInfo(desk.job.zone)
    kept = bids.bids_of(desk.book, desk.job.name)
    return tuple((one.at.astimezone(zone), one.bid) for one in kept)


@use_case
def numbers_of(bid: Bid) -> tuple[str, ...]:
    """The names of all numbers of a bid that can be set, those of its lines last."""
    return (
        *GENERAL_NUMBERS,
        *(f"expense.{one.name}" for one in bid.beside if one.miles is None and one.hours is None),
        *(f"extra.{one.name}" for one in bid.extras),
        *(f"{item.name}.{number}" for item in bid.items for number in OF_ITEM),
        *(f"{task.name}.{number}" for task in bid.tasks for number in OF_TASK),
    )


GENERAL_NUMBERS = (
    "overhead", "margin", "price", "round", "tax", "tax on", "hourly cost", "other hours",
    "packs", "miles", "mile rate", "valid", "not included",
)  # fmt: skip
"""The numbers of a whole bid, in the order in which they are thought of."""
OF_ITEM = ("price", "waste", "quantity", "packs")
OF_TASK = ("amount", "hours", "pace", "hourly cost")


@use_case
def earlier_values(desk: Desk, name: str) -> tuple[str, ...]:
    """What was ever said of a number, in any bid of the book, the latest first."""
    said = [dict(kept.bid.said).get(name) for kept in reversed(bids.every_bid(desk.book))]
    return tuple(dict.fromkeys(text for text in said if text))


@use_case
def offer(bid: Bid, *, by_place: bool = False) -> Offer:
    """What the customer is shown. Raises `ServiceError` while the bid lacks a price."""
    from joblog.bid.offer import offer_of

    with refusing(ValueError):
        return offer_of(bid, by_place=by_place)


@use_case
def write_offer(desk: Desk, bid: Bid, *, by_place: bool = False) -> Path:
    """What the customer is shown, as PDF in the folder `papers` beside the book; its file."""
    from joblog.papers.bid import offer_paper
    from joblog.service.papers import as_file_name, beside_book

    name = f"{as_file_name(bid.job)}, bid {bid.day.isoformat()}.pdf"
    return beside_book(desk, offer_paper(offer(bid, by_place=by_place)), name)


@use_case
def what_became(desk: Desk) -> BidOutcome:
    """The job's bid beside what the job really came to, so far or as it was closed.

    Raises `ServiceError` where there is no bid, and before anything was told of the job.
    """
    from joblog.bid.became import became

    bid = newest(desk)
    if not desk.book.days(desk.job.name):
        raise ServiceError(f"{desk.job.name}: nothing was told of this job yet.")
    closing = closed.closing(desk.book, desk.job.name)
    stands = closing is not None and not closing.reopened
    return became(bid, closing.figures if closing and stands else read_balance(desk))


# --- how it is done -----------------------------------------------------------------------------


def _worked_out(desk: Desk, basis: BidBasis, numbers: Numbers, sure: bool) -> MadeBid:
    from joblog.bid.said import named, with_said
    from joblog.bid.work_out import names_of, work_out
    from joblog.catalog.naming import surely_called

    recent = closed.latest_closings(desk.book, RECENT)
    share, jobs = _other_hours(recent)
    basis = replace(
        basis, other_share=share, other_jobs=jobs, off_before=_off_before(desk.book, recent)
    )
    names = names_of(basis)
    before = newest_if_any(desk)
    notes: list[str] = []
    if before is not None:
        kept, gone = [], []
        for name, text in before.said:
            try:
                kept.append((named(name, names), text))
            except ValueError:
                gone.append(name)
        notes += [f"{name}: was set, and there is no such line any more" for name in gone]
    else:
        kept, told = _usual(desk.book)
        notes += told
    with refusing(ValueError):
        also = surely_called(read_catalog(desk).items)
        said = with_said(tuple(kept), numbers, names, also, sure=sure)
        return MadeBid(work_out(desk.job.name, _today(desk), basis, said), tuple(notes))


RECENT = 20
"""Closed jobs that say how many hours at work belong to no task, and how far bids were off."""


def _other_hours(recent: Sequence[Closing]) -> tuple[Fraction, int]:
    """Man-hours at work that were told to no task, for each hour of a task, and on how many jobs
    both are known: hours of a task that were in doubt would count as those of none."""
    known = [
        (figures.untold_hours, sum((task.actual for task in figures.tasks), Fraction(0)))
        for figures in (closing.figures for closing in recent)
        if figures.untold_hours is not None and not any(task.left_out for task in figures.tasks)
    ]
    on_tasks = sum((hours for _, hours in known), Fraction(0))
    # What was told beyond the hours of attendance on one job is no hour less on another.
    others = sum((max(other, Fraction(0)) for other, _ in known), Fraction(0))
    return (others / on_tasks, len(known)) if on_tasks else (Fraction(0), 0)


def _off_before(book: Book, recent: Sequence[Closing]) -> float:
    """How far the latest bids with a closed job were off beyond what they said."""
    from joblog.bid.became import became
    from joblog.bid.track import off_beyond

    past = []
    for closing in recent:
        kept = bids.newest_bid(book, closing.job)
        if kept is not None:
            past.append((kept.bid, became(kept.bid, closing.figures)))
    return off_beyond(past)


def _usual(book: Book) -> tuple[list[tuple[str, str]], list[str]]:
    """The contractor's usual numbers, as in the last bid of any job, and a note on them."""
    from joblog.bid.work_out import USUAL

    last = bids.last_bid(book)
    if last is None:
        return [], []
    usual = [(name, text) for name, text in last.bid.said if name in USUAL]
    if not usual:
        return [], []
    words = ", ".join(f"{name} {text}" for name, text in usual)
    return usual, [f"{words}: as in the last bid ({last.bid.job}); --set says otherwise"]


def _kept(desk: Desk, made: MadeBid, unread: Iterable[Problem], before: Plan) -> MadeBid:
    from joblog.bid.planned import plan_of

    plan = plan_of(made.bid)
    bids.keep_bid(desk.book, made.bid, plan)
    refresh(desk)
    names = {line.item.name for line in plan.items} | {line.task.name for line in plan.tasks}
    gone = [
        name
        for name in (
            *(line.item.name for line in before.items),
            *(line.task.name for line in before.tasks),
        )
        if name not in names
    ]
    told = [f"no longer in the plan: {', '.join(gone)}"] if gone else []
    return MadeBid(made.bid, (*made.bid.basis.notes, *made.notes, *told), tuple(unread))


def _check_open(desk: Desk) -> None:
    if desk.job.name in closed.closed_jobs(desk.book):
        raise ServiceError(
            f"{desk.job.name} is closed, and its bid stays as it was; joblog close --back opens it"
        )


def _sources(known: Catalog, said: Iterable[SaidPrice]) -> Mapping[str, PriceSource]:
    """Where the price of each item came from: what was last paid or said, else the catalog."""
    from joblog.bid.basis import PriceSource

    told = {one.item: one for one in said}
    found = {}
    for item in known.items:
        if item.unit_cost is None:
            continue
        last = told.get(item.name)
        if last and (item.unit_cost, item.priced) == (last.unit_cost, last.at.date()):
            words = f"{'paid' if last.paid else 'said'}{last.job and f' ({last.job})'}"
            found[item.name] = PriceSource(words, item.priced)
        else:
            found[item.name] = PriceSource("catalog", item.priced)
    return found


def _today(desk: Desk) -> date:
    return datetime.now(ZoneInfo(desk.job.zone)).date()
