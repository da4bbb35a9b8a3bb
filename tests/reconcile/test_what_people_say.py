"""What people say of material, all the way: words into a book, squared up, closed, and learned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, closed
from joblog.model import BookEntry, Gap, Job, PastUse, StockLine
from joblog.rates import learn
from joblog.rates.read_csv import read_history_csv
from joblog.reconcile.allowed import why_it_teaches_nothing
from joblog.service import Desk, closing, open_desk, planning, record, taking_in

ZONE = "America/New_York"
PLAN = """line,name,quantity,unit,cost,amount,task
item,soffit panel,14,sheet,20,,hang soffit
item,F channel,10,stick,8,,
task,hang soffit,8,hour,40,80 ft,
place,north eave,,,,,
place,south eave,,,,,
"""
MONDAY, TUESDAY = date(2026, 11, 2), date(2026, 11, 3)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        yield made


@pytest.fixture
def desk(book: Book, tmp_path: Path) -> Desk:
    return begun(book, tmp_path, "Gull Point")


def begun(book: Book, folder: Path, name: str, plan: str = PLAN) -> Desk:
    book.add_job(Job(name, ZONE, ("north eave", "south eave")))
    file = folder / "plan.csv"
    file.write_text(plan)
    desk = open_desk(book, name)
    planning.load_plan(desk, file)
    return desk


def say(desk: Desk, words: str, clock: str, day: date = MONDAY) -> tuple[BookEntry, ...]:
    """Written down at that time of the job's own clock; nothing of it may be in doubt."""
    at = datetime.fromisoformat(f"{day}T{clock}")
    told = taking_in.write_down(desk, words, at)
    assert told and not any(one.open for one in told), [one.doubts for one in told]
    return told


def balance_of(desk: Desk, item: str) -> StockLine:
    return next(line for line in record.read_balance(desk).stock if line.item == item)


def gaps_of(desk: Desk, item: str) -> list[Gap]:
    return [gap for gap in record.read_balance(desk).gaps if gap.name == item]


def close(desk: Desk) -> dict[str, PastUse]:
    """What the job teaches of each item; nothing may be in the way of closing it."""
    draft = closing.draft_closing(desk)
    assert draft.obstacles == ()
    _, taught = closing.close(desk, draft)
    return {use.item: use for use in taught.uses}


# --- pieces cut, and used told at one count -----------------------------------------------------


def test_pieces_cut_at_no_place_are_in_what_was_told_used_at_one(desk: Desk) -> None:
    say(desk, "delivered fourteen sheets of soffit panel", "08:00")
    say(desk, "cut eighteen pieces of soffit panel at 60 inches", "09:00")
    say(desk, "used nine sheets of soffit panel on the north eave", "10:00")
    say(desk, "five sheets of soffit panel left", "11:00")
    line = balance_of(desk, "soffit panel")
    # Two of 60 in to a sheet of 144 in: 9 sheets, of which 18 x 60 in are 7 1/2.
    assert (line.consumed, line.placed, line.offcut, line.unaccounted) == (
        9, Fraction(15, 2), Fraction(3, 2), 0,
    )  # fmt: skip
    assert (line.allowed, line.allowed_by) == (Fraction(15, 2), "pieces cut")
    assert gaps_of(desk, "soffit panel") == []
    use = close(desk)["soffit panel"]
    assert (use.net, use.geometric, use.consumed) == (Fraction(15, 2), Fraction(3, 2), 9)


def test_pieces_at_a_place_of_their_own_are_still_added_to_what_was_used_elsewhere(
    desk: Desk,
) -> None:
    say(desk, "delivered fourteen sheets of soffit panel", "08:00")
    say(desk, "south eave cut four pieces of soffit panel at 60 inches", "09:00")
    say(desk, "used nine sheets of soffit panel on the north eave", "10:00")
    say(desk, "three sheets of soffit panel left", "11:00")
    line = balance_of(desk, "soffit panel")
    # Four of 60 in take two sheets more.
    assert (line.placed + line.offcut, line.consumed, line.unaccounted) == (11, 11, 0)
    # What was put up on the north eave was not measured in pieces.
    assert line.allowed_by == "as planned"


# --- parts of sticks ----------------------------------------------------------------------------


def test_one_and_a_half_sticks_left_of_nine_told_used_closes(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used nine sticks of F channel", "09:00")
    say(desk, "one and a half sticks of F channel left", "10:00")
    line = balance_of(desk, "F channel")
    half = Fraction(1, 2)
    assert (line.on_hand, line.consumed, line.placed) == (3 * half, 17 * half, 17 * half)
    assert (line.kept, line.unaccounted) == (half, 0)
    assert not any(gap.contradiction for gap in gaps_of(desk, "F channel"))
    assert close(desk)["F channel"].consumed == 17 * half


@pytest.mark.parametrize(
    "words",
    [
        ("one stick and a five foot offcut of F channel left",),
        ("one stick of F channel left", "kept a five foot offcut of F channel"),
        ("a five foot piece of F channel left", "one stick of F channel left"),
        ("one stick of F channel left", "five feet of F channel left"),
    ],
)
def test_an_offcut_that_was_kept_lies_beside_the_whole_sticks(
    desk: Desk, words: tuple[str, ...]
) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used nine sticks of F channel", "09:00")
    for minute, said in enumerate(words):
        say(desk, said, f"10:0{minute}")
    line = balance_of(desk, "F channel")
    # 5 ft of sticks of 12 ft.
    assert (line.on_hand, line.kept, line.unaccounted) == (1 + Fraction(5, 12), Fraction(5, 12), 0)
    assert "F channel" in close(desk)


def test_whole_sticks_beside_an_offcut_are_of_it_and_not_of_what_was_used_before(
    desk: Desk,
) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used nine sticks of F channel", "09:00")
    say(desk, "used three sticks of fascia", "09:30")
    say(desk, "one stick and a five foot offcut of F channel left", "10:00")
    assert balance_of(desk, "F channel").on_hand == 1 + Fraction(5, 12)
    assert balance_of(desk, "fascia").last_count is None


def test_an_offcut_of_the_pieces_that_was_kept_is_no_waste(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "cut nine pieces of F channel at 84 inches", "09:00")
    say(desk, "one stick of F channel left", "10:00")
    say(desk, "kept three five foot offcuts of F channel", "10:05")
    line = balance_of(desk, "F channel")
    # A piece of 84 in from each stick leaves 60 in, three of which are 15 ft.
    assert (line.kept, line.unaccounted) == (Fraction(15, 12), 0)
    assert (line.placed, line.offcut) == (9 * Fraction(84, 144), 9 * Fraction(60, 144) - line.kept)
    use = close(desk)["F channel"]
    assert use.net + (use.geometric or 0) == use.consumed


def test_an_offcut_of_before_and_a_new_one_may_be_told_as_one_amount(desk: Desk) -> None:
    say(desk, "10 1/3 sticks of F channel came", "08:00")
    say(desk, "used eight sticks of F channel", "09:00")
    say(desk, "3 1/6 sticks of F channel left", "10:00")
    line = balance_of(desk, "F channel")
    # Two sticks, the third of one that was there, and 5/6 of one that was kept of the eight.
    assert (line.kept, line.unaccounted) == (Fraction(5, 6), 0)
    assert not any(gap.contradiction for gap in gaps_of(desk, "F channel"))


def test_more_than_an_offcut_explains_still_cannot_be(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used nine sticks of F channel", "09:00")
    say(desk, "two and a half sticks of F channel left", "10:00")
    [gap] = [gap for gap in gaps_of(desk, "F channel") if gap.contradiction]
    # 7 1/2 can be gone by the count; of the 9 that were told, half a stick may be an offcut.
    assert (gap.width, balance_of(desk, "F channel").kept) == (Fraction(3, 2), 0)


def test_an_offcut_without_a_length_is_asked_about(desk: Desk) -> None:
    [kept] = taking_in.write_down(desk, "kept an offcut of F channel")
    assert kept.doubts == ("how long is it? An offcut is no whole one",)


# --- counts, and what came after them -----------------------------------------------------------


def test_what_was_counted_in_the_evening_and_returned_in_the_morning_is_known(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used seven sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "17:00")
    say(desk, "returned two sticks of F channel", "07:00", TUESDAY)
    line = balance_of(desk, "F channel")
    assert (line.on_hand, line.consumed, line.unaccounted) == (1, 7, 0)
    assert not any(gap.settled_by == "count" for gap in gaps_of(desk, "F channel"))
    assert close(desk)["F channel"].consumed == 7


def test_where_all_that_came_is_told_of_nothing_is_left_whatever_was_counted_before(
    desk: Desk,
) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used seven sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "12:00")
    say(desk, "used three sticks of F channel", "16:00")
    line = balance_of(desk, "F channel")
    assert (line.on_hand, line.consumed, line.unaccounted) == (0, 10, 0)


@pytest.mark.parametrize(
    "words", ["took two sticks of F channel back to the shop", "returned two sticks of F channel"]
)
def test_what_went_right_after_it_was_counted_was_out_of_that(desk: Desk, words: str) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used seven sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "17:00")
    say(desk, words, "17:01")
    line = balance_of(desk, "F channel")
    assert (line.on_hand, line.consumed, line.unaccounted) == (1, 7, 0)
    assert close(desk)["F channel"].consumed == 7


def test_what_went_right_after_it_was_counted_with_an_offcut_was_out_of_that(desk: Desk) -> None:
    say(desk, "twelve sticks of F channel came", "08:00")
    say(desk, "used nine sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "17:00")
    say(desk, "kept a five foot offcut of F channel", "17:01")
    say(desk, "took two sticks of F channel back to the shop", "17:02")
    line = balance_of(desk, "F channel")
    assert (line.on_hand, line.kept, line.unaccounted) == (1 + Fraction(5, 12), Fraction(5, 12), 0)


def test_what_went_right_after_a_count_was_no_more_there_where_that_closes_too(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used five sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "17:00")
    say(desk, "returned two sticks of F channel", "17:01")
    line = balance_of(desk, "F channel")
    assert (line.on_hand, line.consumed, line.unaccounted) == (3, 5, 0)


def test_more_returned_than_was_counted_cannot_be(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used six sticks of F channel", "09:00")
    say(desk, "two sticks of F channel left", "17:00")
    say(desk, "returned three sticks of F channel", "07:00", TUESDAY)
    [gap] = gaps_of(desk, "F channel")
    assert gap.text == "F channel: 3 sticks returned, where 2 were counted as left"
    assert [one.why for one in closing.draft_closing(desk).obstacles] == [
        f"{gap.text}: entries {gap.entries[0]}, {gap.entries[1]} cannot all be right"
    ]


def test_what_was_typed_with_its_time_keeps_its_order_within_the_day(desk: Desk) -> None:
    say(desk, "ten sticks of F channel came", "08:00")
    say(desk, "used seven sticks of F channel", "09:00")
    say(desk, "three sticks of F channel left", "10:05")
    say(desk, "ten more sticks of F channel came", "14:00")
    say(desk, "used five sticks of F channel", "16:00")
    line = balance_of(desk, "F channel")
    # 12 were told used, of 20; the three of the morning are not what is left.
    assert (line.on_hand, line.unaccounted) == (None, None)
    assert (line.at_least, line.at_most, line.last_count) == (12, 20, 3)
    [gap] = gaps_of(desk, "F channel")
    assert gap.settled_by == "count"
    assert gap.text == (
        "F channel: 3 counted as left, and more came or was used since; 12 to 20 sticks may be gone"
    )
    assert why_it_teaches_nothing(line) == "more came or was used after what is left was counted"
    say(desk, "eight sticks of F channel left", "17:00")
    assert balance_of(desk, "F channel").unaccounted == 0


def test_a_day_that_is_told_of_afterwards_has_its_counts_at_its_end(desk: Desk) -> None:
    for words in (
        "ten sticks of F channel came", "three sticks of F channel left",
        "used seven sticks of F channel",
    ):  # fmt: skip
        [told] = taking_in.write_notes(desk, words, MONDAY)
        assert told.entries
    assert balance_of(desk, "F channel").unaccounted == 0


# --- more used than the take-off, on the feet that were planned ---------------------------------

FEET = """line,name,quantity,unit,cost,amount,task
item,soffit panel,7,sheet,20,,hang soffit
task,hang soffit,8,hour,40,80 ft,
"""


def worked(book: Book, folder: Path, name: str, day: date, done: str = "80") -> Desk:
    """A job of seven sheets by its take-off that used nine on the feet that were done."""
    desk = begun(book, folder, name, FEET)
    say(desk, "ten sheets of soffit panel came", "08:00", day)
    say(desk, "used nine sheets of soffit panel", "15:00", day)
    say(desk, f"hung {done} feet of soffit in eight hours", "16:00", day)
    say(desk, "one sheet of soffit panel left", "17:00", day)
    return desk


def test_more_used_on_the_planned_feet_is_usage_and_not_more_work(
    book: Book, tmp_path: Path
) -> None:
    desk = worked(book, tmp_path, "Mill house", MONDAY)
    line = balance_of(desk, "soffit panel")
    assert (line.allowed, line.allowed_by) == (7, "80 of 80 ft done")
    assert line.variance is not None and line.money is not None
    assert (line.variance.scope, line.variance.usage, line.variance.total) == (0, 2, 2)
    assert (line.money.scope, line.money.usage) == (0, 40)


def test_more_feet_done_than_planned_are_more_work(book: Book, tmp_path: Path) -> None:
    desk = worked(book, tmp_path, "Mill house", MONDAY, "100")
    line = balance_of(desk, "soffit panel")
    # 7 sheets for 80 ft are 8 3/4 for 100 ft, and 9 were used.
    assert (line.allowed, line.allowed_by) == (Fraction(35, 4), "100 of 80 ft done")
    assert line.variance is not None
    assert (line.variance.scope, line.variance.usage) == (Fraction(7, 4), Fraction(1, 4))


def test_eight_jobs_that_used_nine_of_seven_teach_what_the_same_jobs_on_paper_do(
    book: Book, tmp_path: Path
) -> None:
    paper = ["job,date,item,net,consumed,geometric,crew"]
    for number in range(1, 9):
        day = date(2026, number, 5)
        close(worked(book, tmp_path, f"job {number}", day))
        paper.append(f"job {number},{day},soffit panel,7,9,0,1")
    told, _ = closed.history(book)
    written, problems = read_history_csv("\n".join(paper))
    assert problems == ()
    assert [(use.net, use.consumed) for use in told.uses] == [(7, 9)] * 8
    [by_book] = [rate for rate in learn(told).rates.rates if rate.kind == "waste"]
    [by_paper] = [rate for rate in learn(written).rates.rates if rate.kind == "waste"]
    # Nine of seven are 29 % more; what was told used beside nothing wasted would be no waste.
    assert by_book.mean == pytest.approx(2 / 7, abs=0.04)
    assert by_book.mean == pytest.approx(by_paper.mean)
