"""The closed jobs behind the rates."""

from datetime import date
from fractions import Fraction

from joblog.model import History, PastUse, Reconciliation, StockLine
from joblog.rates import by_job, history_of, learn
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
