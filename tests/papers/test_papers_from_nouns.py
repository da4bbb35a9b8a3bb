"""Papers made of nouns alone: what they say of a day and of a job squared up."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    BookEntry,
    Closing,
    DayHours,
    Entry,
    Gap,
    Job,
    Moment,
    MoneyVariance,
    Photo,
    QuantityVariance,
    Reconciliation,
    Signed,
    StockLine,
    Tie,
)
from joblog.papers.blocks import Drawing, Facts, Heading, Pictures, Table, Text, Warning
from joblog.papers.close_out import close_out
from joblog.papers.data import laid, printable
from joblog.papers.day import day_sheet
from joblog.papers.leaving_out import left_out
from joblog.papers.record import Copy, DayRecord, Shot
from joblog.papers.time_line import time_line

JOB = Job("Corner porch", "America/Chicago")
DAY = date(2026, 10, 5)
OWN, HANDED = Copy(), Copy(handed_out=True)


def told(id: int, hour: int, entry: Entry, *doubts: str) -> BookEntry:
    """By the clock of the job, five hours behind UTC in October."""
    at = datetime(2026, 10, 5, hour + 5, tzinfo=UTC)
    return BookEntry(id, 1, at, entry, doubts, "heard", "heard", at, "words")


def shot(name: str, hour: int, *ties: Tie, image: bytes | None = b"\xff\xd8") -> Shot:
    at = datetime(2026, 10, 5, hour + 5, tzinfo=UTC)
    return Shot(Photo(name, name, Moment(at, "EXIF"), 4, 3), at, image, "", ties)


NOTE = told(1, 8, Entry("note", note="the gate sticks"))
DOUBTFUL = told(2, 9, Entry("note", note="seven or eleven"), "not heard clearly")
HOURS = DayHours(DAY, time(8), time(15, 30), Fraction(30), Fraction(7), Fraction(5))


def test_a_photo_is_numbered_and_its_entry_names_the_number() -> None:
    shots = (
        shot("a.jpg", 8, Tie("a.jpg", 1, "", 0)),
        shot("b.jpg", 9),
        shot("c.jpg", 10, Tie("c.jpg", 1, "", 0)),
    )
    blocks = day_sheet(JOB, DayRecord(DAY, (NOTE,), shots), OWN).blocks
    [table] = [block for block in blocks if isinstance(block, Table)]
    assert table.rows == (("8:00 AM", "note: the gate sticks", "1, 3"),)
    [pictures] = [block for block in blocks if isinstance(block, Pictures)]
    assert pictures.pictures[0].caption == "1. 8:00:00 AM  a.jpg\nnote: the gate sticks"
    assert pictures.pictures[1].caption == "2. 9:00:00 AM  b.jpg"


def test_photos_that_follow_each_other_are_named_as_a_run() -> None:
    shots = tuple(shot(f"{at:02}.jpg", 8, Tie(f"{at:02}.jpg", 1, "", 0)) for at in range(17))
    blocks = day_sheet(JOB, DayRecord(DAY, (NOTE,), shots), OWN).blocks
    [table] = [block for block in blocks if isinstance(block, Table)]
    assert table.rows[0][-1] == "1-17"


def test_what_is_in_doubt_is_marked_with_its_reason_and_counted_at_the_head() -> None:
    blocks = day_sheet(JOB, DayRecord(DAY, (NOTE, DOUBTFUL)), OWN).blocks
    [table] = [block for block in blocks if isinstance(block, Table)]
    assert table.rows == (
        ("8:00 AM", "", "note: the gate sticks"),
        ("9:00 AM", "?", "note: seven or eleven  (in doubt, counted nowhere)\n- not heard clearly"),
    )
    assert Warning("1 entry waits for a decision and counts nowhere.") in blocks


def test_a_copy_to_hand_out_says_how_much_it_holds_back() -> None:
    dropped = replace(told(3, 10, Entry("note", note="wrong")), standing="dropped")
    pay = told(4, 11, Entry("labor", hours=Fraction(3)))
    paper = day_sheet(JOB, DayRecord(DAY, (NOTE, DOUBTFUL, dropped, pay), hours=HOURS), HANDED)
    assert paper.blocks[0] == Warning(
        "This copy leaves out prices, costs and hours, 1 entry that nobody has decided on yet, "
        "1 entry that the contractor took back and 1 entry about hours, money and errands."
    )
    [table] = [block for block in paper.blocks if isinstance(block, Table)]
    assert table.rows == (("8:00 AM", "note: the gate sticks"),)
    assert paper.about == ()


def test_a_whole_copy_leaves_nothing_out() -> None:
    assert left_out(Copy(positions=True), [DOUBTFUL]) == ()


def test_a_day_that_was_changed_after_it_was_signed_says_so() -> None:
    signed = Signed(datetime(2026, 10, 6, 1, tzinfo=UTC), ("entry 2 is new",))
    paper = day_sheet(JOB, DayRecord(DAY, (NOTE,), signed=signed), OWN)
    assert ("signed off", "Oct 5, 2026, 8:00 PM") in paper.about
    assert Warning("It was changed after it was signed off:\nentry 2 is new") in paper.blocks


def test_what_other_days_say_of_this_one_and_what_is_wrong_stand_on_its_sheet() -> None:
    due = told(7, 8, Entry("todo", note="call about the color", day=DAY))
    later = told(8, 9, Entry("note", note="rain at noon", day=DAY), "not heard clearly")
    record = DayRecord(
        DAY, (NOTE,), due=(due,), told_later=(later,), unanswered=(NOTE,), troubles=("a.wav: cut",)
    )
    blocks = day_sheet(JOB, record, OWN).blocks
    assert (
        Facts((("Due on this day", "to do: call about the color (told on Mon, Oct 5, 2026)"),))
        in blocks
    )
    assert (
        Facts((("Told of it later", "note: rain at noon (told on Mon, Oct 5, 2026, in doubt)"),))
        in blocks
    )
    last = "a.wav: cut\nspoken of, without a photo: note: the gate sticks"
    assert blocks[-1] == Text(last, small=True)
    handed = day_sheet(JOB, record, HANDED).blocks
    assert not [block for block in handed if isinstance(block, Facts)]
    assert "a.wav" not in repr(handed)


def test_the_line_of_a_day_is_told_in_words_too() -> None:
    drawing = time_line(JOB, DAY, (NOTE, DOUBTFUL), (shot("a.jpg", 9),), HOURS)
    assert isinstance(drawing, Drawing)
    assert drawing.alt == (
        "The day along its hours: at work from 8:00 AM to 3:30 PM, 2 entries, 1 photo"
    )


def test_work_past_midnight_stays_in_the_drawing() -> None:
    late = replace(HOURS, started=time(20), stopped=time(2))
    drawing = time_line(JOB, DAY, (), (), late)
    assert drawing is not None
    for shape in drawing.shapes:
        assert 0 <= getattr(shape, "x", 0) <= drawing.width


def test_a_day_without_a_time_has_no_line() -> None:
    assert time_line(JOB, DAY, (), (), None) is None


# --- the close-out ------------------------------------------------------------------------------

PARTS = MoneyVariance(
    scope=Decimal("-21.40"),
    offcut=Decimal("0.00"),
    handling=Decimal("42.80"),
    unaccounted=Decimal("0.00"),
    price=Decimal("0.00"),
    total=Decimal("21.40"),
)
PANELS = StockLine(
    "soffit panel", "sheet", planned=Fraction(15), opening=Fraction(0), delivered=Fraction(16),
    returned=Fraction(0), on_hand=Fraction(0), consumed=Fraction(16), placed=Fraction(13),
    spoiled=Fraction(3), offcut=Fraction(0), unaccounted=Fraction(0), at_least=Fraction(16),
    at_most=Fraction(16), money=PARTS,
    variance=QuantityVariance(Fraction(-1), Fraction(0), Fraction(2), Fraction(0), Fraction(1)),
)  # fmt: skip


def test_the_close_out_says_in_words_what_differs_and_by_which_parts() -> None:
    blocks = close_out(Reconciliation("Corner porch", stock=(PANELS,))).blocks
    words = blocks[blocks.index(Heading("In words")) + 1]
    assert isinstance(words, Facts)
    assert words.pairs == (
        (
            "soffit panel",
            "16 panels gone, 1 panel more than planned; it cost $21.40 more than planned "
            "($42.80 more wasted than allowed, $21.40 saved by less work)",
        ),
    )


def test_a_count_that_is_missing_is_a_range_and_explained_where_it_stands() -> None:
    uncounted = replace(
        PANELS, on_hand=None, consumed=None, unaccounted=None, at_least=Fraction(13), money=None
    )
    gap = Gap("nobody counted", "count", "soffit panel", "sheet", Fraction(3), Decimal("64.20"))
    blocks = close_out(Reconciliation("Corner porch", stock=(uncounted,), gaps=(gap,))).blocks
    words = blocks[blocks.index(Heading("In words")) + 1]
    assert isinstance(words, Facts)
    assert words.pairs[0][1] == "13 to 16 panels gone: how much is left is not known"
    assert any(isinstance(one, Text) and one.text.startswith('A "?" is') for one in blocks)
    last = blocks[-1]
    assert isinstance(last, Table)
    assert last.rows == (("nobody counted", "3 panels", "$64.20", "a count of what is left"),)


def test_what_cannot_be_stands_first() -> None:
    gap = Gap("16 gone, and 12 came", "delivery", "soffit panel", contradiction=True)
    first = close_out(Reconciliation("Corner porch", stock=(PANELS,), gaps=(gap,))).blocks[0]
    assert first == Warning("This cannot be: 16 gone, and 12 came")


def test_what_was_bid_stands_before_the_words() -> None:
    bid = (Heading("The bid"), Text("as bid"))
    blocks = close_out(Reconciliation("Corner porch", stock=(PANELS,)), bid=bid).blocks
    assert blocks.index(Heading("The bid")) < blocks.index(Heading("In words"))


def test_a_job_that_changed_since_it_was_closed_shows_what_it_was_then() -> None:
    then = Reconciliation("Corner porch", stock=(replace(PANELS, consumed=Fraction(14)),))
    closing = Closing("Corner porch", DAY, datetime(2026, 10, 9, tzinfo=UTC), then, changed=(3,))
    paper = close_out(Reconciliation("Corner porch", stock=(PANELS,)), closing)
    state = "closed on Mon, Oct 5, 2026, changed since and open again"
    assert ("the job is", state) in paper.about
    changes = paper.blocks[paper.blocks.index(Heading("Changed since it was closed")) + 1]
    assert isinstance(changes, Table)
    assert changes.rows[0][:3] == ("soffit panel", "14", "16")


# --- the signs in a text ------------------------------------------------------------------------


def test_signs_that_are_not_shown_but_do_something_are_taken_out() -> None:
    assert printable("a\u202eb\u200bc\ufeff\U000e0041d\x07") == "a bcd "
    assert printable("one\r\ntwo\tthree") == "one\ntwo three"


def test_a_paper_becomes_data_with_its_pictures_apart() -> None:
    made = laid(day_sheet(JOB, DayRecord(DAY, (NOTE,), (shot("a.jpg", 8),)), OWN))
    assert made.images == (b"\xff\xd8",)
    [pictures] = [block for block in made.paper["blocks"] if block["is"] == "Pictures"]
    assert pictures["pictures"][0]["image"] == 0
