"""All closed jobs beside their bids: what they earned, by season, crew and house, and where it
goes."""

from __future__ import annotations

from joblog.book import Book, bids, closed
from joblog.model import OverJobs
from joblog.service.errors import use_case


@use_case
def compared(book: Book) -> OverJobs:
    """Every closed job of the book with its bid as it stands; the others are told, with why."""
    from joblog.bid.over_jobs import over_jobs

    closings = {closing.job: closing for closing in closed.closings(book)}
    beside, left_out = [], []
    for job in book.jobs():
        closing, kept = closings.get(job.name), bids.newest_bid(book, job.name)
        if closing is None:
            left_out.append((job.name, "not closed" if kept else "not closed, and has no bid"))
        elif closing.reopened:
            left_out.append((job.name, "changed since it was closed; close it again"))
        else:
            beside.append((closing, None if kept is None else kept.bid))
    return over_jobs(beside, left_out)
