"""A bid on paper: for the person who makes it, for the customer, and what became of it."""

from __future__ import annotations

from collections.abc import Iterator

from joblog.local import day_written, money_written
from joblog.model import Bid, BidOutcome, Offer
from joblog.papers.blocks import Block, Heading, Paper, Text, Warning
from joblog.papers.figures import on_paper
from joblog.report import bid as told


def bid_paper(bid: Bid) -> Paper:
    """All there is of a bid, for oneself: cost, hours and margin too."""
    return Paper(
        f"{bid.job}: bid",
        about=(
            ("job", bid.job),
            ("made", day_written(bid.day)),
            ("price", "?" if "price" in told.standing_of(bid) else money_written(bid.price)),
            ("", "for yourself: it shows cost, hours and margin"),
        ),
        blocks=tuple(_bid(bid)),
        footer=f"{bid.job}, bid, for yourself",
    )


def _bid(bid: Bid) -> Iterator[Block]:
    for lack in bid.lacks:
        yield Warning(f"No bid yet: {lack}.")
    if bid.items:
        yield Heading("Material")
        yield on_paper(told.item_table(bid))
    if bid.tasks:
        yield Heading("Hours")
        yield on_paper(told.task_table(bid))
    for line in told.source_lines(bid):
        yield Text(line, small=True)
    yield Heading("What it comes to")
    yield on_paper(told.sum_table(bid))
    for line in told.margin_lines(bid):
        yield Text(line)
    if told.shows_places(bid):
        yield on_paper(told.place_table(bid))
    for line in told.foot_lines(bid):
        yield Text(line)
    yield Heading("How it may turn out")
    for line in told.chance_lines(bid):
        yield Text(line)
    for line in told.set_lines(bid):
        yield Text(line, small=True)


def offer_paper(offer: Offer) -> Paper:
    """What a customer is handed: made of an offer, which holds nothing else."""
    return Paper(
        f"Bid for {offer.job}",
        about=(("date", day_written(offer.day)),),
        blocks=tuple(_offer(offer)),
        footer=f"Bid for {offer.job}, {day_written(offer.day)}",
    )


def _offer(offer: Offer) -> Iterator[Block]:
    yield Heading("The work")
    yield on_paper(told.work_table(offer))
    yield Heading("The price")
    yield on_paper(told.price_table(offer), total=True)
    if offer.options:
        yield Heading("What you may have as well")
        yield on_paper(told.option_table(offer))
    for line in told.offer_lines(offer):
        yield Text(line)


def outcome_blocks(found: BidOutcome) -> tuple[Block, ...]:
    """What became of a bid, as a part of the close-out."""
    return tuple(_outcome(found))


def _outcome(found: BidOutcome) -> Iterator[Block]:
    yield Heading("The bid, and what became of it")
    for lack in found.lacks:
        yield Warning(f"Not known: {lack}.")
    yield on_paper(told.outcome_table(found))
    for line in told.earned_lines(found):
        yield Text(line)
    if found.extra_lines:
        yield on_paper(told.extra_table(found), "Extras beside the bid")
    for line in told.beside_lines(found):
        yield Text(line)
    if found.losses:
        yield on_paper(told.loss_table(found))
    yield Text(found.next_time)
