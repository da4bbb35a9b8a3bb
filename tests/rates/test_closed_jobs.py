"""The closed jobs behind the rates."""

from datetime import date
from fractions import Fraction

import pytest

from joblog.model import Conditions, History, PastUse, PastWork, Reconciliation, StockLine, TaskLine
from joblog.rates import by_job, history_of, joined, learn
from tests.rates.closed import scattered, uses, work

DAY = date(2025, 10, 9)


def line(item: str, consumed: int | None, placed: int, left_out: tuple[int, ...] = ()) -> StockLine:
    nothing = Fraction(0)
    used = None if consumed is None else Fraction(consumed)
    return StockLine(
        item, "sheet", None, nothing, Fraction(60), nothing, nothing, used, Fraction(placed),
        Fraction(2), Fraction(3), Fraction(1), Fraction(placed), Fraction(60), left_out=left_out,
    )  # fmt: skip


def test_a_squared_up_job_gives_its_counted_items() -> None:
    done = Reconciliation(
        "Gull Point",
        (line("soffit panel", 46, 40), line("fascia", None, 9), line("caulk", 4, 0),
         line("siding panel", 80, 74, (7,))),
    )  # fmt: skip
    assert history_of([(DAY, done)]) == History(
        (PastUse("Gull Point", DAY, "soffit panel", Fraction(40), Fraction(46), Fraction(3)),)
    )


def test_each_job_of_an_item_can_be_shown_over_time() -> None:
    learned = learn(History((*uses((0.05, 0.10)), *uses((0.3,), "fascia"))))
    found = by_job(learned, "Soffit Panel")
    assert [one.job for one in found] == ["job 1", "job 2"]
    assert [round(one.value, 3) for one in found] == [0.05, 0.10]


def test_each_job_of_a_task_can_be_shown_over_time() -> None:
    found = by_job(learn(work([0.1, 0.2, 0.3])), "hang soffit")
    assert [round(one.value, 3) for one in found] == [0.1, 0.2, 0.3]


def test_an_odd_job_is_marked() -> None:
    found = by_job(learn(History(uses((*scattered(0.05, 0.2, 12), 0.7)))), "soffit panel")
    assert [one.job for one in found if one.odd] == ["job 13"]
    assert found[-1].weight < 0.2 < min(one.weight for one in found[:-1])


def task(
    name: str,
    actual: int,
    planned: int | None,
    done: int | None,
    entries: tuple[int, ...] = (1,),
    left_out: tuple[int, ...] = (),
) -> TaskLine:
    return TaskLine(
        name, None, Fraction(actual), entries=entries, left_out=left_out, unit="ft",
        planned_quantity=None if planned is None else Fraction(planned),
        done=None if done is None else Fraction(done),
    )  # fmt: skip


def test_a_squared_up_job_gives_the_hours_of_what_was_done_or_else_planned() -> None:
    done = Reconciliation(
        "Gull Point", tasks=(task("hang soffit", 12, 90, 82), task("wrap fascia", 6, 82, None))
    )
    assert history_of([(DAY, done)]).work == (
        PastWork("Gull Point", DAY, "hang soffit", Fraction(82), Fraction(12)),
        PastWork("Gull Point", DAY, "wrap fascia", Fraction(82), Fraction(6)),
    )


@pytest.mark.parametrize(
    "line",
    [
        task("in doubt", 12, 90, 82, left_out=(7,)),
        task("without hours", 0, 90, 82, entries=()),
        task("of no size", 12, None, None),
        task("of nothing", 12, None, 0),
    ],
)
def test_hours_that_teach_nothing_are_left_out(line: TaskLine) -> None:
    assert history_of([(DAY, Reconciliation("Gull Point", tasks=(line,)))]) == History()


def test_what_a_job_was_like_goes_with_all_that_it_teaches() -> None:
    like = Conditions(Fraction(41), Fraction(12), 2)
    done = Reconciliation(
        "Gull Point", (line("soffit panel", 46, 40),), (task("hang soffit", 12, 90, 82),),
        conditions=like,
    )  # fmt: skip
    taught = history_of([(DAY, done)])
    [use], [hung] = taught.uses, taught.work
    assert Conditions(use.fahrenheit, use.depth, use.crew) == like
    assert Conditions(hung.fahrenheit, hung.depth, hung.crew) == like


def test_a_job_of_the_book_that_is_on_paper_too_counts_once() -> None:
    book, paper = History(uses((0.05, 0.10))), History(uses((0.3, 0.3, 0.3)))
    both, told = joined(book, paper)
    assert both == History((*book.uses, paper.uses[2]))
    assert told == tuple(
        f"job {n}: is in the book and on paper; counted as in the book" for n in (1, 2)
    )
