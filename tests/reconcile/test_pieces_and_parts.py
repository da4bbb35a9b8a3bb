"""Geometric waste of the pieces really cut; places, days and reasons."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Entry, StockLine
from joblog.reconcile import reconcile
from tests.reconcile.told import JOB, PLAN, book, cut, hours, kept, stock


def line(*entries: Entry) -> StockLine:
    return reconcile(JOB, PLAN, book(*entries)).stock[0]


def test_the_offcut_is_what_the_pieces_force() -> None:
    one = line(cut(18, "29/2"))
    # 9 pieces of 14 1/2 in and their saw cuts are 131 1/2 in of a stick of 144: 2 sticks.
    assert one.pieces == Fraction(18 * 29, 2 * 144)
    assert (one.offcut, one.placed) == (2 - one.pieces, one.pieces)


def test_pieces_are_part_of_what_was_told_used_at_their_place() -> None:
    one = line(cut(18, "29/2", place="north eave"), stock("used", 5, place="north eave"))
    assert one.placed + one.offcut == 5


def test_pieces_at_a_place_without_a_use_are_added() -> None:
    one = line(cut(18, "29/2", place="south eave"), stock("used", 5, place="north eave"))
    assert one.placed + one.offcut == 7


def test_a_use_at_no_place_holds_all_pieces() -> None:
    one = line(cut(18, "29/2", place="south eave"), stock("used", 5))
    assert one.placed + one.offcut == 5


def test_pieces_that_need_more_than_was_told_used_are_a_gap() -> None:
    result = reconcile(JOB, PLAN, book(cut(18, "29/2"), stock("used", 1)))
    [gap] = [gap for gap in result.gaps if gap.settled_by == "use"]
    assert gap.text == "panel: the pieces cut need 2 sheets, and only 1 were told used"
    assert result.stock[0].placed + result.stock[0].offcut == 2


def test_a_piece_longer_than_the_stock_is_in_no_cut_list_and_is_named() -> None:
    result = reconcile(JOB, PLAN, book(cut(2, 150)))
    [gap] = [gap for gap in result.gaps if gap.settled_by == "decision"]
    assert (gap.entries, result.stock[0].pieces) == ((1,), None)


def test_pieces_of_no_item_are_named() -> None:
    bare = Entry("measure", inches=Fraction(12), pieces=6)
    gaps = reconcile(JOB, PLAN, book(bare)).gaps
    assert any("not said of what" in gap.text and gap.entries == (1,) for gap in gaps)


PLACES = st.sampled_from([None, "north eave", "south eave"])
MOVES = st.lists(
    st.tuples(
        st.sampled_from(["delivered", "returned", "used", "spoiled"]),
        st.fractions(min_value=0, max_value=50, max_denominator=8),
        PLACES,
        st.integers(0, 5000),
    ),
    max_size=15,
)


@given(MOVES)
def test_the_parts_by_place_and_by_day_add_up_to_the_whole(moves) -> None:  # type: ignore[no-untyped-def]
    entries = [
        kept(number, stock(kind, amount, place=place), minutes=minutes, standing="accepted")
        for number, (kind, amount, place, minutes) in enumerate(moves, 1)
    ]
    result = reconcile(JOB, PLAN, entries)
    [one] = result.stock
    places = [part for part in result.parts if part.place is not None]
    days = [part for part in result.parts if part.day is not None]
    told = sum((amount for kind, amount, _, _ in moves if kind == "used"), Fraction(0))
    for parts in (places, days):
        assert sum(part.used for part in parts) == told
        assert sum(part.delivered for part in parts) == one.delivered
        assert sum(part.returned for part in parts) == one.returned
        assert sum(part.spoiled for part in parts) == one.spoiled


def test_hours_are_parted_by_place_too() -> None:
    result = reconcile(JOB, PLAN, book(hours(6, place="north eave"), hours(2, workers=2)))
    places = {part.place: part.hours for part in result.parts if part.place is not None}
    assert places == {"north eave": 6, "": 4}


def test_reasons_come_dearest_first_in_the_words_they_were_told() -> None:
    result = reconcile(
        JOB,
        PLAN,
        book(
            stock("spoiled", 1, reason="wind took it"),
            stock("spoiled", 2, reason="cracked"),
            stock("spoiled", 1, reason="cracked"),
        ),
    )
    first, second = result.reasons
    assert (first.text, first.quantity, first.cost, first.entries) == (
        "cracked",
        3,
        Decimal("60.00"),
        (2, 3),
    )
    assert second.text == "wind took it"
