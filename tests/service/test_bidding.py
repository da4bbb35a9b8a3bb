"""Bids by the one door: made, changed, kept with their plan, offered, and looked back on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book, decisions, steps
from joblog.catalog.lines import with_item, with_task
from joblog.model import (
    Bid,
    Catalog,
    Doubt,
    Entry,
    Item,
    Job,
    Plan,
    PlannedItem,
    PlannedTask,
    Reading,
    Task,
)
from joblog.service import Desk, ServiceError, bidding, closing, open_desk, planning, taking_in
from joblog.service.desk import change_catalog
from joblog.service.places import Place
from joblog.service.planning import Learning, Measured
from joblog.service.reading import reader_at

JOB = Job("Mill house", "America/Chicago", ("north eave", "south eave"))
OTHER = Job("Corner porch", "America/Chicago")
RUNS = "work,place,length,depth\nboxed eave,north eave,41,12\nboxed eave,south eave,30,12\n"
PAPER = "job,date,item,net,consumed,task,quantity,crew hours\n" + "".join(
    f"porch {n},2026-0{n}-05,soffit panel,{20 + n},{22 + n},hang soffit,100,{12 + n % 3}\n"
    for n in range(1, 7)
)
PAY = (("hourly cost", "40"), ("overhead", "10%"), ("margin", "20%"))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        made.add_job(JOB)
        made.add_job(OTHER)
        yield made


@pytest.fixture
def desk(book: Book) -> Desk:
    desk = open_desk(book, JOB.name)
    change_catalog(desk, _priced)
    return desk


def _priced(catalog: Catalog) -> Catalog:
    """With a price for every item that has none."""
    bare = (item for item in catalog.items if item.unit_cost is None)
    for item in bare:
        catalog = with_item(catalog, replace(item, unit_cost=Decimal("10")))
    return catalog


@pytest.fixture
def runs(tmp_path: Path) -> Measured:
    file = tmp_path / "runs.csv"
    file.write_text(RUNS, "utf-8")
    return Measured(file)


@pytest.fixture
def learning(tmp_path: Path) -> Learning:
    file = tmp_path / "earlier.csv"
    file.write_text(PAPER, "utf-8")
    return Learning(True, file)


def panel(bid: Bid) -> tuple[Fraction, Decimal | None]:
    [found] = [item for item in bid.items if item.name == "soffit panel"]
    return found.quantity, found.price


def test_a_bid_on_runs_is_kept_and_becomes_the_plan(desk: Desk, runs: Measured) -> None:
    made = bidding.bid_on_runs(desk, runs, PAY)
    assert made.kept and not made.problems
    assert not made.bid.lacks
    assert bidding.newest(desk) == made.bid
    plan = desk.book.plan(JOB.name)
    assert desk.plan == plan
    assert [line.quantity for line in plan.items] == [item.quantity for item in made.bid.items]
    assert [line.hours for line in plan.tasks] == [task.hours for task in made.bid.tasks]
    assert {line.hourly_cost for line in plan.tasks} == {Decimal("40")}
    assert plan.places == ("north eave", "south eave")


def test_a_bid_is_parted_by_place_and_by_the_foot(desk: Desk, runs: Measured) -> None:
    bid = bidding.bid_on_runs(desk, runs, PAY).bid
    north, south = bid.places
    assert (north.name, south.name) == ("north eave", "south eave")
    assert north.price + south.price == bid.price
    assert north.cost + south.cost == bid.material + bid.labor
    # 41 ft and 30 ft of the same work: the longer one is the dearer one, about as 41 to 30.
    assert abs(north.price / south.price - Decimal(41) / 30) < Decimal("0.05")
    [eaves] = bid.feet
    assert (eaves.work, eaves.feet, eaves.price) == ("boxed eave", Fraction(71), bid.price)


def test_waste_and_hours_are_what_earlier_jobs_took(
    desk: Desk, runs: Measured, learning: Learning
) -> None:
    bid = bidding.bid_on_runs(desk, runs, PAY, learning).bid
    [hang] = [task for task in bid.tasks if task.name == "hang soffit"]
    assert hang.source.startswith("6 jobs")
    # Invented: twelve to fourteen hours for a hundred feet, and 71 ft to do.
    assert Fraction(8) < hang.hours < Fraction(11)
    assert bid.chances is not None
    widest = bid.chances.intervals[-1]
    assert widest.low < float(bid.all_cost) < widest.high
    assert 0 <= bid.chances.over <= 1


def test_a_number_that_is_changed_stays_changed_and_the_rest_follows(
    desk: Desk, runs: Measured
) -> None:
    before = bidding.bid_on_runs(desk, runs, PAY).bid
    after = bidding.change_bid(desk, [("soffit panel.price", "31.50")]).bid
    quantity, price = panel(after)
    assert price == Decimal("31.50")
    assert after.price > before.price
    [planned] = [line for line in desk.plan.items if line.item.name == "soffit panel"]
    assert (planned.quantity, planned.unit_cost) == (quantity, Decimal("31.50"))
    # Bid anew on the same runs: what he set is still set.
    assert panel(bidding.bid_on_runs(desk, runs).bid)[1] == Decimal("31.50")
    assert bidding.change_bid(desk, [("soffit panel.price", "")]).bid.price == before.price


def test_a_change_of_a_bid_is_one_step_that_can_be_undone(desk: Desk, runs: Measured) -> None:
    first = bidding.bid_on_runs(desk, runs, PAY).bid
    plan = desk.book.plan(JOB.name)
    bidding.change_bid(desk, [("soffit panel.quantity", "40")])
    steps.undo_last(desk.book, JOB.name)
    assert bidding.newest(desk) == first
    assert desk.book.plan(JOB.name) == plan
    assert [bid for _, bid in bidding.versions(desk)] == [first]


def test_the_next_job_begins_with_the_usual_numbers_and_is_told_so(
    desk: Desk, runs: Measured
) -> None:
    bidding.bid_on_runs(desk, runs, (*PAY, ("price", "4200"), ("miles", "90")))
    made = bidding.bid_on_runs(open_desk(desk.book, OTHER.name), runs)
    assert dict(made.bid.said) == {"hourly cost": "40", "overhead": "10%"}
    assert any("as in the last bid (Mill house)" in note for note in made.notes)


def test_a_number_of_a_line_that_is_gone_is_told(
    desk: Desk, runs: Measured, tmp_path: Path
) -> None:
    bidding.bid_on_runs(desk, runs, (*PAY, ("fascia.price", "15")))
    file = tmp_path / "other.csv"
    file.write_text("work,place,width,pitch\ngable wall,east gable,18,6/12\n", "utf-8")
    made = bidding.bid_on_runs(desk, Measured(file))
    assert "fascia.price: was set, and there is no such line any more" in made.notes
    assert any(note.startswith("no longer in the plan: ") for note in made.notes)


def test_runs_that_cannot_be_read_leave_bid_and_plan_as_they_were(
    desk: Desk, tmp_path: Path
) -> None:
    file = tmp_path / "runs.csv"
    file.write_text(RUNS + "moat,south,3,4\n", "utf-8")
    made = bidding.bid_on_runs(desk, Measured(file), PAY)
    assert not made.kept
    assert made.problems
    assert bidding.newest_if_any(desk) is None
    assert desk.book.plan(JOB.name) == Plan()


def test_a_bid_on_a_plan_takes_its_quantities_and_the_catalogs_prices(desk: Desk) -> None:
    soffit = Item("soffit panel", "sheet", unit_cost=Decimal("10"))
    change_catalog(desk, lambda now: with_item(now, soffit))
    hang = Task("hang soffit", unit="ft", hourly_cost=Decimal("45"))
    change_catalog(desk, lambda now: with_task(now, hang))
    desk.book.set_plan(
        JOB.name,
        Plan(
            (
                PlannedItem(soffit, Fraction(12)),
                PlannedItem(
                    Item("fascia", "stick"), Fraction(9), Decimal("14.90"), net=Fraction(8)
                ),
            ),
            (PlannedTask(hang, Fraction(13), quantity=Fraction(65)),),
        ),
    )
    bid = bidding.bid_on_plan(desk, [("margin", "20%")]).bid
    # 12 x 10; the plan's own price of fascia stands before the catalog's.
    assert (bid.items[0].quantity, bid.items[0].cost) == (Fraction(12), Decimal("120.00"))
    assert bid.items[1].price == Decimal("14.90")
    assert bid.items[1].price_source == "the plan"
    assert bid.tasks[0].hourly_cost == Decimal("45")
    # The longest task in feet is what a foot is of.
    assert [(foot.work, foot.feet) for foot in bid.feet] == [("hang soffit", Fraction(65))]


def test_without_plan_or_bid_it_says_what_to_do(desk: Desk) -> None:
    with pytest.raises(ServiceError, match="has no plan to bid on"):
        bidding.bid_on_plan(desk)
    with pytest.raises(ServiceError, match="there is no bid yet"):
        bidding.newest(desk)
    with pytest.raises(ServiceError, match="there is no bid yet"):
        bidding.change_bid(desk, [("margin", "20%")])


def test_a_number_that_cannot_be_is_refused_and_nothing_is_kept(desk: Desk, runs: Measured) -> None:
    with pytest.raises(ServiceError, match="no line of the bid"):
        bidding.bid_on_runs(desk, runs, [("shingles.price", "3")])
    assert bidding.newest_if_any(desk) is None


def test_an_offer_needs_all_prices(desk: Desk, runs: Measured) -> None:
    bid = bidding.bid_on_runs(desk, runs, [("margin", "20%")]).bid
    with pytest.raises(ServiceError, match="say hourly cost"):
        bidding.offer(bid)
    whole = bidding.change_bid(desk, [("hourly cost", "40")]).bid
    assert bidding.offer(whole).price == whole.price


def test_an_offer_is_written_beside_the_book_and_over_none(desk: Desk, runs: Measured) -> None:
    bid = bidding.bid_on_runs(desk, runs, PAY).bid
    files = [bidding.write_offer(desk, bid, by_place=True) for _ in range(2)]
    assert [file.name for file in files] == [
        f"Mill house, bid {bid.day}.pdf",
        f"Mill house, bid {bid.day} 2.pdf",
    ]
    assert all(file.read_bytes().startswith(b"%PDF") for file in files)


def test_a_new_job_is_begun_for_a_bid_once(tmp_path: Path) -> None:
    place = Place(tmp_path / "new")
    assert bidding.begin_bid(place, "Barn", "America/Chicago")
    assert not bidding.begin_bid(place, "Barn")


def test_every_number_that_it_names_can_be_set(desk: Desk, runs: Measured) -> None:
    bid = bidding.bid_on_runs(desk, runs, (*PAY, ("expense.permit", "85"))).bid
    values = {
        "overhead": "5%", "margin": "3%", "price": "99", "round": "5", "tax": "1%",
        "tax on": "all", "hourly cost": "30", "packs": "yes", "miles": "3", "mile rate": "0.5",
        "valid": "30", "not included": "paint", "waste": "3%", "quantity": "4", "hours": "2",
        "pace": "9", "permit": "12", "amount": "50", "other hours": "3",
    }  # fmt: skip
    for name in bidding.numbers_of(bid):
        bidding.bid_with(desk, bid, [(name, values[name.rpartition(".")[2]])])


def wrote(desk: Desk, *lines: str) -> None:
    for minute, line in enumerate(lines):
        at = datetime(2026, 10, 5, 9, minute, tzinfo=ZoneInfo(JOB.zone))
        taking_in.keep_typed(desk, reader_at(desk, at)(line), line, at)


def test_a_closed_job_says_what_became_of_its_bid_and_can_be_bid_on_no_more(
    desk: Desk, runs: Measured
) -> None:
    bid = bidding.bid_on_runs(desk, runs, PAY).bid
    with pytest.raises(ServiceError, match="nothing was told"):
        bidding.what_became(desk)
    wrote(
        desk,
        "ten sheets of soffit panel delivered",
        "used nine soffit panels",
        "one soffit panel left",
    )
    found = bidding.what_became(desk)
    assert found.bid_price == bid.price
    # Nine panels at the ten of the catalog.
    assert found.lines[0].real == Decimal("90.00")
    closing.close(desk, closing.draft_closing(desk))
    assert bidding.what_became(desk) == found
    with pytest.raises(ServiceError, match="is closed, and its bid stays"):
        bidding.change_bid(desk, [("margin", "30%")])


def test_what_was_set_before_is_offered_the_latest_first(desk: Desk, runs: Measured) -> None:
    bidding.bid_on_runs(desk, runs, PAY)
    bidding.change_bid(desk, [("margin", "25%")])
    bidding.bid_on_runs(open_desk(desk.book, OTHER.name), runs, [("margin", "30%")])
    assert bidding.earlier_values(desk, "margin") == ("30%", "25%", "20%")
    assert bidding.earlier_values(desk, "soffit panel.price") == ()


def test_what_earlier_jobs_foretell_of_a_plan(desk: Desk, learning: Learning) -> None:
    hang = Task("hang soffit", unit="ft")
    plan = Plan(tasks=(PlannedTask(hang, Fraction(10), quantity=Fraction(100)),))
    foreseen, _, problems = planning.foreseen_of_plan(Place(desk.book.folder), plan, learning)
    assert foreseen.tasks["hang soffit"].n == 6
    assert not problems


def test_the_price_is_the_latest_one_with_its_day_and_where_it_came_from(
    desk: Desk, runs: Measured
) -> None:
    def told() -> tuple[Decimal | None, str, object]:
        [found] = [
            item
            for item in bidding.bid_on_runs(desk, runs, PAY).bid.items
            if item.name == "soffit panel"
        ]
        return found.price, found.price_source, found.priced

    assert told() == (Decimal("10"), "catalog", None)
    other = open_desk(desk.book, OTHER.name)
    wrote(other, "ten sheets of soffit panel delivered at 33.40 each")
    day = datetime(2026, 10, 5).date()
    assert told() == (Decimal("33.40"), "paid (Corner porch)", day)
    bidding.change_bid(desk, [("soffit panel.price", "30")])
    assert told() == (Decimal("30"), "", None)


def test_a_job_with_hours_in_doubt_says_nothing_of_hours_around_the_work(
    desk: Desk, runs: Measured
) -> None:
    other = open_desk(desk.book, OTHER.name)
    evening = datetime(2026, 10, 5, 18, tzinfo=ZoneInfo(JOB.zone))
    told = (
        Entry("start", time=time(8)),
        Entry("labor", hours=Fraction(1), task="hang soffit"),
        Entry("labor", hours=Fraction(5), task="hang soffit"),
        Entry("stop", time=time(15)),
    )
    reading = Reading(told, doubts=(Doubt(2, "five or nine?"),))
    decisions.add_typed(desk.book, OTHER.name, reading, "told", evening)
    closing.close(other, closing.draft_closing(other))
    bid = bidding.bid_on_runs(desk, runs, PAY).bid
    assert (bid.basis.other_share, bid.beside) == (0, ())


def test_hours_around_the_work_are_bid_as_on_closed_jobs(desk: Desk, runs: Measured) -> None:
    assert bidding.bid_on_runs(desk, runs, PAY).bid.beside == ()
    other = open_desk(desk.book, OTHER.name)
    evening = datetime(2026, 10, 5, 18, tzinfo=ZoneInfo(JOB.zone))
    told = (
        Entry("start", time=time(8)),
        Entry("labor", hours=Fraction(5), task="hang soffit", quantity=Fraction(40), unit="ft"),
        Entry("stop", time=time(15)),
    )
    decisions.add_typed(desk.book, OTHER.name, Reading(told), "told", evening)
    closing.close(other, closing.draft_closing(other))
    bid = bidding.bid_on_runs(desk, runs, PAY).bid
    # Seven hours there, five of them on a task: two for each five.
    assert (bid.basis.other_share, bid.basis.other_jobs) == (Fraction(2, 5), 1)
    [around] = bid.beside
    assert around.hours == Fraction(round(4 * bid.hours * Fraction(2, 5)), 4)
