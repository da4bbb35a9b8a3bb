"""The bids of the jobs: every version stays, and the newest one that stands is the bid."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime

from joblog.book import rows
from joblog.book.steps import deciding
from joblog.book.store import Book
from joblog.form import from_json
from joblog.local import money_written
from joblog.model import Bid, Plan


@dataclass(frozen=True, slots=True)
class KeptBid:
    """One version of a bid."""

    id: int
    at: datetime
    """When it was made, in UTC."""
    bid: Bid


def keep_bid(book: Book, bid: Bid, plan: Plan | None) -> KeptBid:
    """One more version of the bid of its job, and with `plan` the plan that is made of it: one step
    that can be undone. The same bid again is no step."""
    before = newest_bid(book, bid.job)
    if before is not None and before.bid == bid and plan in (None, book.plan(bid.job)):
        return before
    with deciding(book) as step:
        number = book._job(bid.job)["id"]
        row = {"job": number, "at": rows.moment_text(step.at), "content": rows.as_json(bid)}
        id = book._insert("bid", row)
        step.brought(f"bid {id}")
        if plan is not None:
            with step.changing(f"plan {number}"):
                book.set_plan(bid.job, plan)
        made = "bid" if before is None else "changed the bid:"
        priced = not bid.lacks or "price" in dict(bid.said)
        price = f" {money_written(bid.price)}" if priced else ""
        step.what = f"{made}{price} for the job{'' if priced else ', without a price yet'}"
    return KeptBid(id, step.at.astimezone(UTC), bid)


def newest_bid(book: Book, job: str) -> KeptBid | None:
    """The bid of a job as it stands; None where there is none."""
    return next(iter(_bids(book, "job = ? ORDER BY id DESC LIMIT 1", book._job(job)["id"])), None)


def bids_of(book: Book, job: str) -> tuple[KeptBid, ...]:
    """Every version of the bid of a job that was not taken back, oldest first."""
    return _bids(book, "job = ? ORDER BY id", book._job(job)["id"])


def every_bid(book: Book) -> tuple[KeptBid, ...]:
    """Every version of the bids of all jobs that was not taken back, oldest first."""
    return _bids(book, "true ORDER BY id")


def last_bid(book: Book) -> KeptBid | None:
    """The one that was made last, whatever its job."""
    return next(iter(_bids(book, "true ORDER BY id DESC LIMIT 1")), None)


def _bids(book: Book, where: str, *values: object) -> tuple[KeptBid, ...]:
    found = book._kept(
        "bid",
        f"SELECT * FROM bid WHERE id NOT IN (SELECT bid FROM bid_undone) AND {where}",
        *values,
    )
    return tuple(
        KeptBid(
            row["id"],
            datetime.fromisoformat(row["at"]),
            from_json(Bid, json.loads(row["content"])),
        )
        for row in found
    )
