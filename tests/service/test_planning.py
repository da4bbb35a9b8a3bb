"""From measures to an order, and what earlier jobs teach, by the one door."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from joblog import sheet
from joblog.book import decisions
from joblog.model import Entry, OrderLine, Reading
from joblog.service import Desk, ServiceError, catalog, learning, places, planning
from joblog.service.planning import Learning, Measured
from tests.service.conftest import MORNING

EAVE = Measured(work="boxed eave", place="north eave", values=(("length", "41"), ("depth", "12")))
PAPER = "job,date,item,net,consumed\n" + "".join(
    f"porch {n},2026-0{n}-05,soffit panel,{20 + n},{22 + n}\n" for n in range(1, 7)
)


@pytest.fixture
def nowhere(tmp_path: Path) -> places.Place:
    return places.Place(tmp_path / "nowhere", asked=False)


@pytest.fixture
def paper(tmp_path: Path) -> Path:
    file = tmp_path / "earlier.csv"
    file.write_text(PAPER)
    return file


def test_a_take_off_needs_no_book(nowhere: places.Place) -> None:
    taken = planning.take_off(nowhere, None, EAVE)
    assert "soffit panel" in [need.item.name for need in taken.needs]
    assert (taken.foreseen, taken.problems) == (None, ())


@pytest.mark.parametrize(
    ("measured", "why"),
    [
        (Measured(), "name a FILE of runs"),
        (Measured(file=Path("x.csv"), work="boxed eave"), "not two of them"),
        (Measured(work="moat"), "moat"),
        (Measured(work="boxed eave", values=EAVE.values, tolerance="wide"), "wide"),
        (Measured(work="boxed eave", values=EAVE.values, tolerance="-1/8"), "below zero"),
    ],
)
def test_what_cannot_be_taken_off_is_refused(
    nowhere: places.Place, measured: Measured, why: str
) -> None:
    with pytest.raises(ServiceError, match=why):
        planning.take_off(nowhere, None, measured)


def test_a_take_off_becomes_the_plan_and_keeps_what_it_does_not_speak_of(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    taken = planning.take_off(place, desk.job.name, EAVE, to_plan=True)
    new, kept = planning.make_plan(desk, taken)
    assert "fascia" in new
    assert kept == ()
    assert "fascia" in [line.item.name for line in desk.plan.items]
    [fascia] = [line for line in desk.plan.items if line.item.name == "fascia"]
    assert fascia.task == "wrap fascia"


def test_dictated_measures_fill_in_what_the_table_does_not_say(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    run = Measured(
        work="boxed eave", place="north eave", values=EAVE.values, dictated=True, fahrenheit=35
    )
    assert planning.take_off(place, desk.job.name, run).found.lines


def test_an_order_by_what_was_learned_says_from_how_many_jobs(
    nowhere: places.Place, paper: Path
) -> None:
    bought = planning.what_to_buy(nowhere, None, EAVE, Learning(paper=paper), risk="10%")
    [panels] = [line for line in bought.lines if line.item == "soffit panel"]
    assert panels.bought >= panels.needed > panels.gross
    assert panels.jobs == 6


@pytest.mark.parametrize(
    ("wishes", "learned", "why"),
    [
        ({"risk": "10%"}, Learning(), "only known with --learned"),
        ({"allowances": ["7%"]}, Learning(learned=True), "is for one item"),
        ({"allowances": ["lots"]}, Learning(), "lots"),
        ({"on_hand": ["fascia=-3"]}, Learning(), "below zero"),
    ],
)
def test_wishes_that_make_no_sense_are_refused(
    nowhere: places.Place, wishes: dict[str, object], learned: Learning, why: str
) -> None:
    with pytest.raises(ServiceError, match=why):
        planning.what_to_buy(nowhere, None, EAVE, learned, **wishes)  # type: ignore[arg-type]


def test_what_is_still_to_do_of_the_plan_is_ordered_where_no_runs_are_named(desk: Desk) -> None:
    # Five panels are planned, and three were used; nobody said that any came.
    place = places.place_of(desk.book.folder)
    [line] = planning.what_to_buy(place, desk.job.name, Measured()).lines
    assert (line.item, line.gross) == ("soffit panel", Fraction(2))
    assert line.why == ("the plan of Corner porch: 5 panels planned, 3 installed, 0 on hand",)


def test_a_cut_list_needs_neither_book_nor_job(nowhere: places.Place) -> None:
    plans, problems = planning.what_to_cut(nowhere, "length,pieces\n48,6\n", stock=["12'"])
    assert problems == ()
    assert [len(plan.sticks) for plan in plans] == [3]
    with pytest.raises(ServiceError):
        planning.what_to_cut(nowhere, "length\n48\n", stock=["long"])


def test_a_line_of_the_catalog_is_set_taken_in_and_dropped(desk: Desk, tmp_path: Path) -> None:
    book, place = desk.book, places.place_of(desk.book.folder)
    catalog.set_line(book, "fascia", {"cost": "14.90"})
    assert catalog.drop_line(book, "fascia")
    with pytest.raises(ServiceError, match="the catalog has no 'gold'"):
        catalog.drop_line(book, "gold")
    with pytest.raises(ServiceError, match="there is no field 'finish'"):
        catalog.set_line(book, "soffit panel", {"finish": "red"})
    table = tmp_path / "catalog.csv"
    table.write_text("line,name,unit\nitem,felt strip,roll\nitem,tar,furlong per week\n")
    read, problems = catalog.take_in_catalog(book, table)
    assert read.items == ()
    assert len(problems) == 1
    assert "felt strip" not in [item.name for item in catalog.catalog_at(place).items]
    read, problems = catalog.take_in_catalog(book, table, sheet.Reading(without_bad_rows=True))
    assert [item.name for item in read.items] == ["felt strip"]
    known = catalog.catalog_at(place)
    assert "felt strip" in [item.name for item in known.items]


def test_own_kinds_of_work_stand_beside_the_book(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    (desk.book.folder / "works.toml").write_text("not toml =")
    works, problems = planning.works_at(place)
    assert "boxed eave" in works
    assert len(problems) == 1


def test_a_plan_is_loaded_from_a_file_or_refused(desk: Desk, tmp_path: Path) -> None:
    empty, full = tmp_path / "empty.csv", tmp_path / "plan.csv"
    empty.write_text("line,name,quantity,unit\n")
    full.write_text("line,name,quantity,unit\nitem,fascia,7,stick\n")
    assert planning.load_plan(desk, empty).plan is None
    planning.load_plan(desk, full)
    assert [line.item.name for line in desk.plan.items] == ["fascia"]


def test_earlier_jobs_from_paper_are_kept_learned_from_and_dropped(desk: Desk, paper: Path) -> None:
    assert learning.keep_past(desk.book, paper)[:2] == (6, 6)
    past = learning.past_in_book(desk.book)
    assert not past.empty
    [rate] = learning.rates_of(past).rates
    assert (rate.name, rate.n) == ("soffit panel", 6)
    assert learning.back_tested(past).coverage
    assert learning.drop_past(desk.book, "porch 1") == 1
    with pytest.raises(ServiceError, match="those that were: porch 2"):
        learning.drop_past(desk.book, "porch 1")


def test_a_file_of_earlier_jobs_teaches_without_a_book(nowhere: places.Place, paper: Path) -> None:
    assert len(learning.past_in_file(paper).history.uses) == 6
    history, _, problems = learning.history_at(nowhere, paper)
    assert (len(history.uses), problems) == (6, ())
    with pytest.raises(ServiceError, match="more than zero days"):
        learning.history_at(nowhere, paper, half_life=0.0)


def test_lessons_show_known_rates_and_what_the_plan_makes_of_them(desk: Desk, paper: Path) -> None:
    learning.keep_past(desk.book, paper)
    lessons = learning.learn_lessons(desk.book.folder, desk.plan)
    [line] = [one for one in lessons.lines if one.name == "soffit panel"]
    assert (lessons.jobs, line.jobs) == (6, 6)
    assert lessons.learned is not None
    assert len(learning.course_of(lessons.learned, "soffit panel")) == 6


def test_a_line_written_field_by_field_says_which_field_is_wrong(desk: Desk) -> None:
    catalog.keep_line(desk, "felt strip", {"line": "item", "unit": "roll"}, new=True)
    [line] = [one for one in catalog.written(desk.catalog) if one["name"] == "felt strip"]
    assert line["unit"] == "roll"
    with pytest.raises(catalog.FieldError, match="in the catalog already"):
        catalog.keep_line(desk, "felt strip", {"line": "item", "unit": "roll"}, new=True)
    with pytest.raises(catalog.FieldError) as wrong:
        catalog.keep_line(desk, "felt strip", {"line": "item", "cost": "dear"}, new=False)
    assert wrong.value.field == "cost"
    with pytest.raises(catalog.FieldError, match="needs a name"):
        catalog.keep_line(desk, "", {"line": "item"}, new=True)


# --- cutoffs on hand ------------------------------------------------------------------------------


def fascia(bought: planning.Bought) -> OrderLine:
    return next(line for line in bought.lines if line.item == "fascia")


RAKES = Measured(work="boxed eave", place="porch", values=(("length", "5"), ("depth", "12")))


def test_a_cutoff_on_hand_goes_into_the_cut_list_of_the_order(nowhere: places.Place) -> None:
    # One piece of 60 in is needed of fascia, a stick without the cutoff.
    new = planning.what_to_buy(nowhere, None, RAKES, allowances=["0%"])
    saved = planning.what_to_buy(nowhere, None, RAKES, allowances=["0%"], cutoffs=["Fascia=63.5"])
    assert (fascia(new).packs, fascia(saved).packs) == (1, 0)
    assert "fascia: the cut list takes the cutoffs 1 x 5' 3 1/2\"; they save 1 stick" in saved.notes


@pytest.mark.parametrize(
    ("cutoff", "why"),
    [
        ("gutter=60", "nothing in this order is called 'gutter'"),
        ("trim nails=60", "no pieces of it are cut for this order"),
        ("fascia=0", "is no cutoff"),
    ],
)
def test_a_cutoff_of_what_is_not_cut_is_refused(
    nowhere: places.Place, cutoff: str, why: str
) -> None:
    with pytest.raises(ServiceError, match=why):
        planning.what_to_buy(nowhere, None, RAKES, cutoffs=[cutoff])


def counted(desk: Desk, *lengths: str) -> None:
    for at, length in enumerate(lengths):
        entry = Entry(
            "on_hand", item="fascia", quantity=Fraction(1), unit="stick", length=Fraction(length)
        )
        when = MORNING + timedelta(minutes=at)
        decisions.add_typed(desk.book, desk.job.name, Reading((entry,)), "", when)


def test_a_cutoff_that_the_job_counted_by_its_length_is_cut_from_first(desk: Desk) -> None:
    counted(desk, "64")
    place = places.place_of(desk.book.folder)
    bought = planning.what_to_buy(place, desk.job.name, RAKES, allowances=["0%"])
    assert (fascia(bought).packs, fascia(bought).on_hand) == (0, 1)


def test_a_cutoff_too_short_for_the_piece_is_no_share_of_a_stick(desk: Desk) -> None:
    # Together they are 13/16 of a stick by their share, and neither holds a piece of 60 in.
    counted(desk, "58", "59")
    place = places.place_of(desk.book.folder)
    bought = planning.what_to_buy(place, desk.job.name, RAKES, allowances=["0%"])
    assert (fascia(bought).packs, fascia(bought).on_hand) == (1, 0)


def test_what_a_person_says_is_on_hand_stands_in_the_place_of_the_count(desk: Desk) -> None:
    counted(desk, "64")
    place = places.place_of(desk.book.folder)
    bought = planning.what_to_buy(
        place, desk.job.name, RAKES, allowances=["0%"], on_hand=["fascia=0"]
    )
    assert fascia(bought).packs == 1


def test_once_something_came_after_the_count_nobody_knows_which_cutoffs_are_left(
    desk: Desk,
) -> None:
    counted(desk, "64")
    later = Entry("delivered", item="fascia", quantity=Fraction(1), unit="stick")
    decisions.add_typed(
        desk.book, desk.job.name, Reading((later,)), "", MORNING + timedelta(hours=3)
    )
    place = places.place_of(desk.book.folder)
    bought = planning.what_to_buy(place, desk.job.name, RAKES, allowances=["0%"])
    assert (fascia(bought).packs, fascia(bought).cutoffs) == (1, ())


def test_a_cutoff_for_the_plan_of_a_job_is_refused_for_nothing_is_cut_of_it(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    with pytest.raises(ServiceError, match="no pieces of it are cut for this order"):
        planning.what_to_buy(place, desk.job.name, Measured(), cutoffs=["soffit panel=30"])
