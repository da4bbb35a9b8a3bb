"""The squared-up job on one page and as tables."""

from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction

from joblog.model import Closing, Entry, Reconciliation
from joblog.reconcile import reconcile
from joblog.report import squared_up
from joblog.report.figures import (
    balance_table,
    day_table,
    gap_table,
    labor_table,
    money_table,
    pay_table,
    place_table,
    quantity_table,
    reason_table,
    since_closing,
)
from tests.reconcile.told import JOB, PLAN, book, cut, hours, kept, stock

FULL = reconcile(
    JOB,
    PLAN,
    book(
        stock("delivered", 12, unit_cost=Decimal("21.00")),
        stock("used", 9, place="north eave"),
        stock("spoiled", 2, reason="cracked in the cold"),
        stock("on_hand", 1),
        hours(10, workers=1, quantity=Fraction(80), unit="ft", unit_cost=Decimal("45.00")),
    ),
)


def cells(table: object, row: int = 0) -> dict[str, str]:
    return dict(zip(table.headings, table.rows[row], strict=True))  # type: ignore[attr-defined]


def test_the_parts_of_a_difference_stand_beside_it() -> None:
    found = cells(quantity_table(FULL))
    # 1 + 12 - 1 = 12 used up, 10 planned: 9 used on the same work (-1), 2 spoiled, 1 unexplained.
    parts = ("allowed", "differs", "work", "usage", "wasted", "unexplained")
    assert [found[part] for part in parts] == ["10", "+2", "0", "-1", "+2", "+1"]


def test_what_is_allowed_for_the_work_says_by_what() -> None:
    pieces = reconcile(
        JOB,
        PLAN,
        book(stock("delivered", 12), cut(8, 100), stock("used", 10), stock("on_hand", "3.5")),
    )
    # Eight pieces of 100 in are 800 in of sheets of 144; of 13 that came 3 1/2 are left.
    assert cells(quantity_table(pieces))["allowed by"] == "pieces cut"
    page = squared_up(pieces)
    assert "panel: about 5.56 panels allowed for the work: pieces cut" in page
    assert "panel: 1/2 panel of those told installed were kept and counted as left" in page
    assert "allowed by" not in page


def test_the_same_in_money_with_the_price() -> None:
    found = cells(money_table(FULL))
    assert (found["plan cost"], found["actual cost"], found["differs"]) == (
        "200.00",
        "251.00",
        "+51.00",
    )
    assert (found["usage"], found["wasted"], found["price"]) == ("-20.00", "+40.00", "+11.00")


def test_hours_are_shown_with_pace_and_pay() -> None:
    assert cells(labor_table(FULL))["differs"] == "+2"
    assert cells(labor_table(FULL))["actual an hour"] == "8 ft"
    assert cells(pay_table(FULL))["pay"] == "-50.00"


def test_a_missing_count_is_a_range_and_never_a_nought() -> None:
    open_ended = reconcile(JOB, PLAN, book(stock("delivered", 12), stock("used", 4)))
    assert cells(balance_table(open_ended))["gone"] == "4-13?"
    assert cells(quantity_table(open_ended))["differs"] == "?"
    assert cells(money_table(open_ended))["actual cost"] == "?"


def test_usage_and_unexplained_are_marked_where_a_use_waits_for_a_decision() -> None:
    waiting = reconcile(
        JOB,
        PLAN,
        [kept(1, stock("delivered", 9)), kept(2, stock("used", 4), "four or forty?"),
         kept(3, stock("on_hand", 2))],
    )  # fmt: skip
    found = cells(quantity_table(waiting))
    assert (found["usage"], found["unexplained"]) == ("-10?", "+8?")


def test_the_page_says_first_how_far_it_can_be_relied_on() -> None:
    page = squared_up(FULL)
    assert "Known: 1 of 1 item (100% of planned cost), 1 of 1 task, " in page


def test_the_page_names_the_count_that_settles_most() -> None:
    open_ended = reconcile(JOB, PLAN, book(stock("delivered", 12), stock("used", 4)))
    assert "One count would tell most: panel, where 9 panels ($180.00) are open." in squared_up(
        open_ended
    )


def test_what_cannot_be_stands_at_the_top_with_its_entries() -> None:
    wrong = reconcile(
        JOB,
        PLAN,
        [
            kept(1, stock("delivered", 3), standing="accepted"),
            kept(2, stock("returned", 6), standing="accepted"),
        ],
    )
    assert (
        "Cannot be: panel: 6 panels returned, but only 4 ever came ($40.00) [entries 1, 2]"
        in squared_up(wrong)
    )


def test_a_reason_names_the_recording_and_photo_behind_it() -> None:
    behind = {3: "monday.wav at 0:42, photo broken.jpg"}
    assert cells(reason_table(FULL, behind)) == {
        "item": "panel",
        "wasted": "2 panels",
        "cost": "40.00",
        "why": "cracked in the cold",
        "said in": "monday.wav at 0:42, photo broken.jpg",
    }
    page = squared_up(FULL, behind=behind)
    assert "panel: 2 panels, $40.00, cracked in the cold (monday.wav at 0:42, photo" in page


def test_places_and_days_have_a_table_each() -> None:
    assert cells(place_table(FULL))["place"] == "north eave"
    assert cells(day_table(FULL))["day"] == "Oct 5"


def test_gaps_have_a_table_with_their_worth() -> None:
    open_ended = reconcile(JOB, PLAN, book(stock("delivered", 12), stock("used", 4)))
    found = cells(gap_table(open_ended))
    assert (found["settled by"], found["width"], found["worth"]) == (
        "a count of what is left",
        "9 panels",
        "180.00",
    )


def test_no_line_of_the_page_is_wider_than_its_terminal() -> None:
    shown = squared_up(FULL, 80) + squared_up(
        reconcile(JOB, PLAN, book(Entry("used", quantity=Fraction(3)), stock("used", 4))), 80
    )
    assert max(map(len, shown.splitlines())) <= 80


def test_words_from_outside_cannot_move_the_cursor() -> None:
    nasty = reconcile(JOB, PLAN, book(stock("spoiled", 1, reason="\x1b[2Jgone\x07")))
    assert "\x1b" not in squared_up(nasty)


DAY = date(2026, 10, 7)
AT = datetime(2026, 10, 7, 20, tzinfo=UTC)


def test_a_closed_job_says_so() -> None:
    assert "\nClosed on Wed, Oct 7, 2026.\n" in squared_up(
        FULL, closing=Closing("invented", DAY, AT, FULL)
    )


def test_a_reopened_job_says_by_what_and_which_figures_changed() -> None:
    then = reconcile(JOB, PLAN, book(stock("delivered", 12), stock("on_hand", 3)))
    page = squared_up(FULL, closing=Closing("invented", DAY, AT, then, changed=(4,)))
    assert (
        "Closed on Wed, Oct 7, 2026, reopened by entry 4; close it again when it is right." in page
    )
    assert cells(since_closing(then, FULL)) == {
        "what": "panel",
        "gone then": "10",
        "now": "12",
        "cost then": "200.00",
        "cost now": "251.00",
    }


def test_an_empty_job_has_a_page_too() -> None:
    assert "invented, squared up" in squared_up(Reconciliation("invented"))


def test_an_item_or_task_that_is_gone_since_closing_is_shown_as_gone() -> None:
    found = since_closing(FULL, Reconciliation("invented"))
    assert [row[0] for row in found.rows] == ["panel", "hang, man-hours"]
    assert {row[2] for row in found.rows} == {"-"}
