"""The house of a job by the one door: taken in from a table, kept, and made into a take-off."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.book import Book
from joblog.model import Job
from joblog.service import Desk, ServiceError, decide, house, open_desk, planning
from joblog.service.places import Place
from joblog.service.planning import Measured
from joblog.sheet import Reading

JOB = Job("Mill house", "America/Chicago")
HEAD = "what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter\n"
HIP = HEAD + "".join(
    f"side,{name},{feet} ft,,eave,outside,12,,,,,\n"
    for name, feet in (("front", 42), ("left", 28), ("back", 42), ("right", 28))
)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield open_desk(book, JOB.name)


def table(folder: Path, text: str = HIP, name: str = "house.csv") -> Path:
    file = folder / name
    file.write_text(text, "utf-8")
    return file


def test_a_house_is_taken_in_and_kept(desk: Desk, tmp_path: Path) -> None:
    found = house.take_in_house(desk, table(tmp_path))

    assert found.kept
    assert found.changed
    assert house.house_of(desk).house == found.house
    assert found.notes == ("no side says its height; left out: siding",)


def test_the_same_table_again_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    house.take_in_house(desk, table(tmp_path))

    again = house.take_in_house(desk, table(tmp_path))

    assert again.kept
    assert not again.changed


def test_a_house_that_does_not_close_is_not_kept(desk: Desk, tmp_path: Path) -> None:
    found = house.take_in_house(desk, table(tmp_path, HIP.replace("back,42", "back,40")))

    assert not found.kept
    assert "2' apart" in found.problems[0].why
    with pytest.raises(ServiceError, match="nobody described the house yet"):
        house.house_of(desk)


def test_one_that_somebody_is_sure_of_is_kept_and_taken_off_later(
    desk: Desk, tmp_path: Path
) -> None:
    crooked = table(tmp_path, HIP.replace("back,42", "back,41.5"))
    house.take_in_house(desk, crooked, Reading(sure=True))

    later = house.house_of(desk)

    assert later.problems == ()
    assert '6" apart' in later.notes[0]
    assert len(later.runs) == 4


def test_a_table_is_read_and_kept_nowhere(desk: Desk, tmp_path: Path) -> None:
    found = house.read_table(table(tmp_path))

    assert not found.kept
    assert house.described(found.house).runs == found.runs
    assert house.house_if_any(desk) is None


def test_a_table_of_a_house_is_told_from_one_of_runs(tmp_path: Path) -> None:
    runs = table(tmp_path, "work,place,length,depth\nboxed eave,front,42,12\n", "runs.csv")

    assert house.is_house(table(tmp_path))
    assert not house.is_house(runs)


def test_a_house_is_found_by_where_its_book_is(desk: Desk, tmp_path: Path) -> None:
    place, nowhere = Place(desk.book.folder), Place(tmp_path / "none", asked=False)
    assert house.house_if_known(place, None) is None
    assert house.house_if_known(nowhere, None) is None

    kept = house.take_in_house(desk, table(tmp_path)).house

    assert house.house_at(place, JOB.name).house == kept
    known = house.house_if_known(place, None)
    assert known is not None
    assert known.house == kept


def test_a_house_on_its_way_is_no_ground_for_a_take_off_until_somebody_is_sure(
    desk: Desk, tmp_path: Path
) -> None:
    place = Place(desk.book.folder)
    house.take_in_house(desk, table(tmp_path))
    rows = [dict(row) for row in house.house_of(desk).rows]
    rows[1]["length"] = "43 ft"

    changed = house.change_house(desk, rows)
    taken = planning.take_off(place, None, Measured(house=True))
    sure = house.be_sure_of_house(desk)

    assert changed.changed
    assert "1' apart" in changed.problems[0].why
    assert taken.found.lines == ()
    assert taken.problems == changed.problems
    assert sure.problems == ()
    assert planning.take_off(place, None, Measured(house=True)).found.lines


def test_rows_are_a_house_before_it_is_kept(desk: Desk, tmp_path: Path) -> None:
    kept = house.take_in_house(desk, table(tmp_path)).house
    rows = house.house_of(desk).rows

    assert house.house_of_rows(rows).house == kept
    with pytest.raises(ServiceError, match="length"):
        house.house_of_rows([{**row, "length": "oops"} for row in rows])


def test_where_no_walk_was_told_none_is_kept(desk: Desk) -> None:
    found = house.take_in_told_house(desk)

    assert not found.kept
    assert "nobody has told a walk" in found.problems[0].why


def test_undo_takes_a_house_back(desk: Desk, tmp_path: Path) -> None:
    house.take_in_house(desk, table(tmp_path))

    decide.undo(desk)

    assert house.house_if_any(desk) is None


def test_a_house_is_taken_where_runs_are(desk: Desk, tmp_path: Path) -> None:
    place = Place(desk.book.folder)

    of_table = planning.take_off(place, None, Measured(table(tmp_path)))
    house.take_in_house(desk, table(tmp_path))
    of_job = planning.take_off(place, None, Measured())
    asked = planning.take_off(place, None, Measured(house=True))

    assert of_table.problems == ()
    assert of_table.found.lines
    assert of_job.found == of_table.found == asked.found


def test_what_holds_of_every_run_of_a_house_goes_with_it(desk: Desk, tmp_path: Path) -> None:
    place = Place(desk.book.folder)
    house.take_in_house(desk, table(tmp_path, HIP + "every,face=16 in\n"))

    as_kept = planning.take_off(place, None, Measured())
    as_said_now = planning.take_off(place, None, Measured(values=(("face", "12"),)))

    assert as_kept.found.pieces[0].pieces == 33
    assert as_said_now.found.pieces[0].pieces == 44


def test_an_order_for_the_house_says_so(desk: Desk, tmp_path: Path) -> None:
    house.take_in_house(desk, table(tmp_path))

    bought = planning.what_to_buy(Place(desk.book.folder), None, Measured(house=True))

    assert {line.why for line in bought.lines} == {("the house",)}


def test_without_a_house_a_take_off_asks_for_runs(desk: Desk) -> None:
    place = Place(desk.book.folder)

    with pytest.raises(ServiceError, match="name a FILE of runs"):
        planning.take_off(place, None, Measured())
    with pytest.raises(ServiceError, match="nobody described the house yet"):
        planning.take_off(place, None, Measured(house=True))


def test_what_cannot_be_read_of_a_house_is_told_with_its_row(desk: Desk, tmp_path: Path) -> None:
    bad = table(tmp_path, HIP + "window,kitchen,36,48\n")

    taken = planning.take_off(Place(desk.book.folder), None, Measured(bad))

    assert taken.problems[0].what == "house.csv, row 6"
