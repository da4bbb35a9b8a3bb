"""A plan that calls a thing otherwise than the catalog, from loading it to what is learned."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, closed, decisions
from joblog.catalog.naming import families_of
from joblog.model import Catalog, Entry, Item, Job, Plan, PlannedItem, Reading
from joblog.service import Desk, ServiceError, naming, open_desk, places, planning, record
from joblog.service.catalog import set_line
from joblog.service.closing import close, draft_closing
from joblog.service.decide import undo
from joblog.service.desk import change_catalog_of
from joblog.service.learning import families_known, history_at, past_in_book
from joblog.service.planning import Learning, Measured
from tests.service.conftest import MORNING

PANEL = Item("soffit panel", "sheet", ("soffit",), stock_length=Fraction(144))
OWN = Catalog(
    (
        PANEL,
        Item("fascia", "stick", stock_length=Fraction(144)),
        Item("8d nails", "lb", ("framing nails",), size="8d"),
        Item("16d nails", "lb", ("framing nails",), size="16d"),
    )
)
HEAD = "line,name,quantity,unit,cost\n"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with Book.create(tmp_path / "book") as book:
        for name in ("porch", "barn"):
            book.add_job(Job(name, "America/Chicago"))
        book.change_catalog(lambda now: OWN)
        yield open_desk(book, "porch")


def load(desk: Desk, *rows: str) -> planning.Loaded:
    file = desk.book.folder / "plan.csv"
    file.write_text(HEAD + "".join(f"item,{row}\n" for row in rows))
    return planning.load_plan(desk, file)


def planned(desk: Desk) -> dict[str, tuple[Fraction, str]]:
    return {line.item.name: (line.quantity, line.item.unit) for line in desk.plan.items}


def tell(desk: Desk, *said: Entry) -> None:
    for n, entry in enumerate(said):
        at = MORNING + datetime.timedelta(minutes=n)
        decisions.add_typed(desk.book, desk.job.name, Reading((entry,)), "", at)


def order(desk: Desk, job: str = "porch", *, learned: bool = True) -> planning.Bought:
    place = places.place_of(desk.book.folder)
    return planning.what_to_buy(place, job, Measured(), Learning(learned=learned))


# --- when a plan is loaded ---------------------------------------------------------------------


def test_a_name_that_is_said_for_one_item_is_taken_for_it_and_told(desk: Desk) -> None:
    loaded = load(desk, "soffit,5,sheet,")
    assert planned(desk) == {"soffit panel": (Fraction(5), "sheet")}
    assert loaded.notes == (
        "soffit: taken for the catalog's soffit panel, which is also called so",
    )


def test_what_only_shares_a_word_is_asked_about_and_stays_as_it_was_planned(desk: Desk) -> None:
    load(desk, "vented soffit,5,sheet,")
    assert list(planned(desk)) == ["vented soffit"]
    [asked] = naming.unsettled_names(desk)
    assert (asked.name, asked.likely) == ("vented soffit", (PANEL,))
    [told] = naming.told_of_names(desk)
    assert told.startswith("vented soffit: may be your catalog's soffit panel; until you say which")
    assert 'joblog catalog same "vented soffit" "soffit panel"' in told


def test_a_name_said_for_two_items_is_asked_about(desk: Desk) -> None:
    load(desk, "framing nails,5,lb,", "nails 8d,2,lb,")
    [asked] = naming.unsettled_names(desk)
    assert [item.name for item in asked.likely] == ["8d nails", "16d nails"]
    assert "8d nails" in planned(desk)


def test_what_is_like_nothing_says_that_it_learns_nothing(desk: Desk) -> None:
    load(desk, "garage door opener,1,each,")
    assert naming.unsettled_names(desk) == ()
    [told] = naming.told_of_names(desk)
    assert told.startswith("garage door opener: is not in your catalog; it learns nothing")


def test_another_unit_is_put_in_the_catalogs_exactly_and_told(desk: Desk) -> None:
    loaded = load(desk, "fascia,82,ft,1.20")
    [line] = desk.plan.items
    # Twelve feet a stick, as the catalog above has it: 82 ft are 6 5/6, and 12 times 1.20 each.
    assert (line.quantity, line.unit_cost) == (Fraction(41, 6), Decimal("14.40"))
    assert loaded.notes == (
        "fascia: planned 82 ft, which is about 6.83 sticks as the catalog counts it",
    )


def test_a_unit_that_nothing_turns_into_the_catalogs_is_refused_in_words(desk: Desk) -> None:
    load(desk, "fascia,40,lb,")
    assert planned(desk) == {"fascia": (Fraction(40), "lb")}
    [told] = naming.told_of_names(desk)
    assert told.startswith("fascia: is planned in lb, and the catalog counts it in stick")


def test_a_price_that_is_no_exact_one_is_refused_in_words(desk: Desk) -> None:
    set_line(desk.book, "fascia", {"also": "bundle = 7"})
    load(desk, "fascia,2,bundle,100")
    [told] = naming.told_of_names(desk)
    assert "its price for one bundle is no exact one for one stick" in told


def test_two_names_of_one_item_are_not_made_one_line(desk: Desk) -> None:
    load(desk, "soffit panel,5,sheet,", "soffit,2,sheet,")
    assert planned(desk) == {
        "soffit panel": (Fraction(5), "sheet"), "soffit": (Fraction(2), "sheet"),
    }  # fmt: skip
    [told] = naming.told_of_names(desk)
    assert (
        told == "soffit: is the catalog's soffit panel, which is planned too; put both in one row"
    )


# --- what settles it ---------------------------------------------------------------------------


def test_a_name_that_is_settled_is_remembered_and_one_undo_takes_it_all_back(desk: Desk) -> None:
    load(desk, "vented soffit,5,sheet,")
    assert naming.settle_name(desk, "vented soffit", "soffit panel") == ()
    assert list(planned(desk)) == ["soffit panel"]
    assert naming.unsettled_names(desk) == ()
    barn = open_desk(desk.book, "barn")
    load(barn, "Vented Soffit,3,sheet,")
    assert list(planned(barn)) == ["soffit panel"]
    undo(barn)
    undo(desk)
    assert list(planned(open_desk(desk.book, "porch"))) == ["vented soffit"]
    assert desk.book.catalog() == OWN


def test_a_thing_of_its_own_is_a_line_of_the_catalog_and_not_asked_about_again(desk: Desk) -> None:
    load(desk, "vented soffit,5,sheet,")
    naming.settle_name(desk, "vented soffit", None)
    assert naming.told_of_names(desk) == ()
    assert "vented soffit" in [item.name for item in desk.book.catalog().items]


def test_what_no_job_plans_needs_its_unit_to_be_a_thing_of_its_own(desk: Desk) -> None:
    with pytest.raises(ServiceError, match="say what it is counted in"):
        naming.own_thing(desk.book, "ridge vent")
    assert naming.own_thing(desk.book, "ridge vent", "stick") == Item("ridge vent", "stick")
    with pytest.raises(ServiceError, match="in the catalog already"):
        naming.own_thing(desk.book, "fascia")
    with pytest.raises(ServiceError, match="there is no unit"):
        naming.own_thing(desk.book, "tar", "furlong per week")


@pytest.mark.parametrize(
    ("name", "item", "why"),
    [
        ("soffit", "gold", "the catalog has no 'gold'"),
        ("fascia", "soffit panel", "fascia is an item of the catalog itself"),
        ("Fascia", "fascia", "is its name already"),
    ],
)
def test_what_cannot_be_the_same_is_refused(desk: Desk, name: str, item: str, why: str) -> None:
    with pytest.raises(ServiceError, match=why):
        naming.same_as(desk.book, name, item)


def test_a_name_of_several_that_is_said_to_be_one_is_of_that_one_alone(desk: Desk) -> None:
    naming.same_as(desk.book, "framing nails", "16d nails")
    load(desk, "framing nails,5,lb,")
    assert list(planned(desk)) == ["16d nails"]


def test_a_line_of_the_catalog_that_changes_meets_the_plans_of_open_jobs(desk: Desk) -> None:
    load(desk, "vented soffit,5,sheet,", "fascia,40,lb,")
    set_line(desk.book, "soffit panel", {"said": "soffit; vented soffit"})
    now = open_desk(desk.book, "porch")
    assert planned(now) == {"soffit panel": (5, "sheet"), "fascia": (40, "lb")}
    change_catalog_of(desk.book, lambda known: known)
    assert open_desk(desk.book, "porch").plan == now.plan


def test_what_was_told_under_the_old_name_counts_under_the_new_one(desk: Desk) -> None:
    load(desk, "vented soffit,5,sheet,")
    tell(desk, Entry("used", item="vented soffit", quantity=Fraction(2), unit="sheet"))
    naming.settle_name(desk, "vented soffit", "soffit panel")
    tell(desk, Entry("used", item="soffit panel", quantity=Fraction(1), unit="sheet"))
    [line] = record.read_balance(desk).stock
    assert (line.item, line.placed) == ("soffit panel", 3)


# --- what is learned ---------------------------------------------------------------------------


def closed_porch(desk: Desk) -> None:
    """The porch, planned and told as vented soffit, and closed so."""
    load(desk, "vented soffit,10,sheet,")
    tell(
        desk,
        Entry("delivered", item="vented soffit", quantity=Fraction(14), unit="sheet"),
        Entry("used", item="vented soffit", quantity=Fraction(10), unit="sheet"),
        Entry("on_hand", item="vented soffit", quantity=Fraction(1), unit="sheet"),
    )
    close(desk, draft_closing(desk))


def test_an_order_by_what_was_learned_warns_of_a_name_that_met_nothing(desk: Desk) -> None:
    closed_porch(desk)
    barn = open_desk(desk.book, "barn")
    load(barn, "garage door opener,2,each,", "fascia,3,stick,")
    notes = "\n".join(order(barn, "barn").notes)
    assert "garage door opener: is not in your catalog; it learns nothing from other" in notes
    assert "prior" not in notes
    assert "garage door opener" not in "\n".join(order(barn, "barn", learned=False).notes)


def test_what_a_closed_job_taught_under_another_name_is_known_of_the_item(desk: Desk) -> None:
    closed_porch(desk)
    barn = open_desk(desk.book, "barn")
    load(barn, "soffit panel,10,sheet,")
    assert order(barn, "barn").lines[0].jobs == 0
    naming.same_as(desk.book, "vented soffit", "soffit panel")
    bought = order(barn, "barn")
    assert bought.lines[0].jobs == 1
    assert "vented soffit: counts as soffit panel, in 1 job" in bought.notes
    # The plan of the closed job stays as it was, so that it stays closed.
    assert closed.closed_jobs(desk.book) == {"porch"}


def test_jobs_on_paper_count_for_the_item_that_they_call_otherwise(desk: Desk) -> None:
    file = desk.book.folder / "paper.csv"
    file.write_text("job,date,item,net,consumed\nshed,2026-01-05,Soffit,20,22\n")
    history, notes, _ = history_at(places.place_of(desk.book.folder), file)
    assert [use.item for use in history.uses] == ["soffit panel"]
    assert notes == ("Soffit: counts as soffit panel, in 1 job",)


def test_what_a_closed_job_counted_otherwise_is_put_in_the_catalogs_unit(desk: Desk) -> None:
    board = Item("trim board", "ft")
    desk.book.set_plan("porch", Plan((PlannedItem(board, Fraction(24)),)))
    desk = open_desk(desk.book, "porch")
    tell(
        desk,
        Entry("delivered", item="trim board", quantity=Fraction(36), unit="ft"),
        Entry("used", item="trim board", quantity=Fraction(24), unit="ft"),
        Entry("on_hand", item="trim board", quantity=Fraction(0), unit="ft"),
    )
    close(desk, draft_closing(desk))
    naming.same_as(desk.book, "trim board", "fascia")
    [use] = past_in_book(desk.book).history.uses
    # Three sticks of twelve feet, of which two are in the wall.
    assert (use.item, use.consumed) == ("fascia", 3)


def test_variants_of_an_item_are_a_family_that_bears_its_name() -> None:
    board = Item("fascia", "stick")
    eight = Item("fascia 1x8", "stick", variant_of="fascia", size="1x8")
    families = families_of(Catalog((board, eight, PANEL)), ("fascia 1x6", "tar"))
    assert families == dict.fromkeys(("fascia", "fascia 1x8", "fascia 1x6"), "fascia")


def test_a_planned_size_that_the_catalog_lacks_learns_with_the_others(desk: Desk) -> None:
    loaded = load(desk, "fascia 1x8,12,stick,")
    assert loaded.notes == ("fascia 1x8: a size of the catalog's fascia, and learns with it",)
    past = past_in_book(desk.book)
    known = families_known(desk.book.catalog(), past.history, ["fascia 1x8"])
    assert known["fascia 1x8"] == "fascia"


def test_an_item_without_a_job_borrows_from_its_variants_and_says_so(desk: Desk) -> None:
    for n in (6, 10):
        set_line(
            desk.book, f"fascia 1x{n}", {"variant of": "fascia", "size": f"1x{n}", "unit": "stick"}
        )
    file = desk.book.folder / "paper.csv"
    rows = (f"shed {n},2026-0{n}-05,fascia 1x6,20,{23 + n % 2},0\n" for n in range(1, 7))
    file.write_text("job,date,item,net,consumed,geometric\n" + "".join(rows))
    load(desk, "fascia 1x10,20,stick,", "16d nails,5,lb,")
    place = places.place_of(desk.book.folder)
    ten, nails = planning.what_to_buy(place, "porch", Measured(), Learning(paper=file)).lines
    assert (ten.jobs, nails.jobs) == (0, 0)
    assert ten.interval and nails.interval
    assert ten.interval.high / 20 > nails.interval.high / 5
    assert "fascia" in ten.source
    assert "fascia" not in nails.source


def test_runs_of_a_job_that_is_begun_are_ordered_whole_and_that_is_told(desk: Desk) -> None:
    load(desk, "fascia,7,stick,", "8d nails,2,lb,")
    tell(desk, Entry("used", item="fascia", quantity=Fraction(3), unit="stick"))
    (desk.book.folder / "works.toml").write_text(
        "[edge.takes]\nlength = { unit = 'ft' }\n[[edge.uses]]\nitem = 'fascia'\n"
        "along = 'length'\nlap = '0 * inch'\n"
    )
    place = places.place_of(desk.book.folder)
    edge = Measured(work="edge", place="north", values=(("length", "24"),))
    bought = planning.what_to_buy(place, "porch", edge)
    assert [(line.item, line.why) for line in bought.lines] == [
        ("fascia", ("the edge",)),
        ("8d nails", ("the plan of porch",)),
    ]
    assert (
        "fascia: 3 sticks installed so far on porch; the order is for all of the runs"
        in bought.notes
    )


def test_a_bid_is_told_of_names_that_met_nothing_as_an_order_is(desk: Desk) -> None:
    load(desk, "garage door opener,2,each,", "fascia,3,stick,")
    place = places.place_of(desk.book.folder)
    _, notes, _ = planning.foreseen_of_plan(place, desk.plan, Learning(learned=True))
    assert notes[0].startswith("garage door opener: is not in your catalog")
    assert not [note for note in notes if note.startswith("fascia")]


def test_what_an_earlier_job_left_in_stock_is_told_beside_the_order(desk: Desk) -> None:
    load(desk, "soffit panel,10,sheet,")
    tell(
        desk,
        Entry("delivered", item="soffit panel", quantity=Fraction(14), unit="sheet"),
        Entry("used", item="soffit panel", quantity=Fraction(10), unit="sheet"),
        Entry("on_hand", item="soffit panel", quantity=Fraction(4), unit="sheet"),
    )
    close(desk, draft_closing(desk))
    barn = open_desk(desk.book, "barn")
    load(barn, "soffit panel,6,sheet,")
    assert (
        "soffit panel: 4 panels in stock, which the order does not count; bring them with "
        '--on-hand "soffit panel=4"'
    ) in order(barn, "barn", learned=False).notes
