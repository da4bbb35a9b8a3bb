"""The closed jobs behind the rates."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from joblog.model import Conditions, History, PastUse, PastWork, Reconciliation, StockLine, TaskLine
from joblog.rates import by_job, history_of, joined, learn
from joblog.reconcile.allowed import why_it_teaches_nothing
from tests.rates.closed import scattered, uses, work

DAY = date(2025, 10, 9)


def line(
    item: str, consumed: int | None, placed: int, left_out: tuple[int, ...] = (), **more: object
) -> StockLine:
    nothing = Fraction(0)
    used = None if consumed is None else Fraction(consumed)
    allowed = {"allowed": Fraction(39), "allowed_offcut": Fraction(3), "allowed_by": "pieces cut"}
    return StockLine(
        item, "sheet", None, nothing, Fraction(60), nothing, nothing, used, Fraction(placed),
        Fraction(2), Fraction(3), Fraction(1), Fraction(placed), Fraction(60), left_out=left_out,
        **(allowed | more),
    )  # type: ignore[arg-type]  # fmt: skip


def test_a_squared_up_job_gives_its_counted_items_with_what_their_work_should_have_taken() -> None:
    done = Reconciliation(
        "Gull Point",
        (line("soffit panel", 46, 40), line("fascia", None, 9), line("caulk", 4, 0),
         line("siding panel", 80, 74, (7,)), line("flashing", 6, 5, allowed=None)),
    )  # fmt: skip
    use = PastUse("Gull Point", DAY, "soffit panel", Fraction(39), Fraction(46), Fraction(3))
    assert history_of([(DAY, done)]) == History((replace(use, allowed_by="pieces cut"),))


@pytest.mark.parametrize(
    "one, why",
    [
        (line("panel", 46, 40), ""),
        (line("panel", 46, 40, (7, 9)), "without entries 7, 9 it is not whole"),
        (line("panel", None, 40), "nobody counted what is left"),
        (
            line("panel", None, 40, last_count=Fraction(6)),
            "more came or was used after what is left was counted",
        ),
        (line("panel", 4, 0), "nobody said that any was installed"),
        (line("panel", 4, -1), "it does not add up"),
        (
            line("panel", 46, 40, allowed=None),
            "neither the plan nor any pieces say how much the work should have taken",
        ),
        (
            line("panel", 6, 4, allowed=Fraction(0)),
            "none of the work was done that it was planned for",
        ),
        (line("panel", 30, 29, allowed_by="as planned"), ""),
        (line("panel", 30, 29, allowed_by="41 of 40 ft done"), ""),
    ],
)
def test_what_teaches_nothing_of_waste_says_why(one: StockLine, why: str) -> None:
    assert why_it_teaches_nothing(one) == why


@pytest.mark.parametrize("consumed, net, by", [(37, 32, "as installed"), (38, 39, "as planned")])
def test_where_far_less_is_gone_than_was_planned_the_work_was_what_was_installed(
    consumed: int, net: int, by: str
) -> None:
    # The plan takes 39 and 3 of cutoffs; nine tenths of them are 37.8.
    done = Reconciliation("Gull Point", (line("panel", consumed, 32, allowed_by="as planned"),))
    [use] = history_of([(DAY, done)]).uses
    assert (use.net, use.geometric, use.allowed_by) == (net, 3, by)


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
        done_hours=Fraction(0 if done is None else actual),
    )  # fmt: skip


def test_a_squared_up_job_gives_the_hours_of_what_was_told_done_and_never_of_the_plan() -> None:
    done = Reconciliation(
        "Gull Point", tasks=(task("hang soffit", 12, 90, 82), task("wrap fascia", 6, 82, None))
    )
    assert history_of([(DAY, done)]).work == (
        PastWork("Gull Point", DAY, "hang soffit", Fraction(82), Fraction(12)),
    )


@pytest.mark.parametrize(
    "line",
    [
        task("in doubt", 12, 90, 82, left_out=(7,)),
        task("without hours", 0, 90, 82, entries=()),
        task("of no size", 12, None, None),
        task("of nothing", 12, None, 0),
        task("as planned, it may be", 12, 90, None),
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


def test_a_job_that_placed_one_sheet_teaches_and_one_that_placed_none_does_not() -> None:
    done = Reconciliation("Gull Point", (line("fascia", 2, 1), line("caulk", 2, 0)))
    assert [use.item for use in history_of([(DAY, done)]).uses] == ["fascia"]


def test_hours_of_one_teach_and_of_nothing_do_not() -> None:
    done = Reconciliation("Gull Point", tasks=(task("hang", 1, 90, 82), task("wrap", 0, 90, 82)))
    assert [one.task for one in history_of([(DAY, done)]).work] == ["hang"]


def test_an_item_and_a_task_of_one_name_are_not_the_same_and_neither_are_other_spellings() -> None:
    book = History(uses((0.05,), "soffit"))
    hung = work([0.1], "soffit").work
    both, notes = joined(book, History(uses((0.3,), " Soffit "), hung))
    assert both == History(book.uses, hung)
    assert notes == ("job 1: is in the book and on paper; counted as in the book",)


def test_hours_that_both_hold_count_as_in_the_book() -> None:
    book, paper = work([0.1]), work([0.4, 0.4])
    both, _ = joined(book, paper)
    assert both.work == (*book.work, paper.work[1])


def test_jobs_come_in_order_of_time_whatever_their_order_in_the_history() -> None:
    learned = learn(History(uses((0.05, 0.10, 0.15))[::-1]))
    assert [one.job for one in by_job(learned, "soffit panel")] == ["job 1", "job 2", "job 3"]
    assert by_job(learned, "fascia") == ()
