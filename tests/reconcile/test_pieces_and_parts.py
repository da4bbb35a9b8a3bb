"""Geometric waste of the pieces really cut; places, days and reasons."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Catalog, Entry, Item, Plan, PlannedItem, StockLine
from joblog.reconcile import reconcile
from joblog.reconcile.pieces import NOTHING, CutPieces, cut_pieces
from tests.reconcile.told import JOB, PANEL, PLAN, book, cut, hours, kept, stock


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
    assert gap.text == "panel: the pieces cut need 2 panels, and only 1 were told installed"
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


def test_spoiled_without_a_price_comes_last_and_more_of_it_first() -> None:
    clip, tape, plug = Item("clip", "box"), Item("tape", "roll"), Item("plug", "each")
    free = PlannedItem(plug, Fraction(9), Decimal(0))
    plan = Plan((PlannedItem(clip, Fraction(9)), PlannedItem(tape, Fraction(9)), free, *PLAN.items))
    spoiled = [
        Entry("spoiled", item="clip", quantity=Fraction(2), unit="box", reason="wet"),
        Entry("spoiled", item="tape", quantity=Fraction(3), unit="roll", reason="torn"),
        Entry("spoiled", item="plug", quantity=Fraction(8), unit="each", reason="lost"),
        stock("spoiled", "1/40", reason="scratched"),
    ]
    found = reconcile(JOB, plan, book(*spoiled)).reasons
    # 1/40 of 20.00, eight at nothing, and then what nobody knows the price of.
    assert [(one.text, one.cost) for one in found] == [
        ("scratched", Decimal("0.50")),
        ("lost", Decimal("0.00")),
        ("torn", None),
        ("wet", None),
    ]


def test_reasons_cost_what_was_planned_and_else_what_was_paid() -> None:
    came = stock("delivered", 4, unit_cost=Decimal("22.00"))
    broke = stock("spoiled", 2, reason="cracked")
    [planned] = reconcile(JOB, PLAN, book(came, broke)).reasons
    [bought] = reconcile(JOB, Plan(), book(came, broke), Catalog((PANEL,))).reasons
    assert (planned.cost, bought.cost) == (Decimal("40.00"), Decimal("44.00"))


def test_places_come_in_the_order_they_were_told_and_no_place_last() -> None:
    entries = [
        kept(1, stock("used", 1)),
        kept(2, stock("used", 2, place="south eave")),
        kept(3, hours(3, place="rake")),
        kept(4, stock("used", 4, place="south eave")),
        kept(5, stock("spoiled", 5, place="north eave"), minutes=24 * 60),
    ]
    found = reconcile(JOB, PLAN, entries).parts
    assert [(part.place, part.day, part.name, part.entries) for part in found] == [
        ("south eave", None, "panel", (2, 4)),
        ("rake", None, "hang", (3,)),
        ("north eave", None, "panel", (5,)),
        ("", None, "panel", (1,)),
        (None, date(2026, 10, 5), "panel", (1, 2, 4)),
        (None, date(2026, 10, 5), "hang", (3,)),
        (None, date(2026, 10, 6), "panel", (5,)),
    ]
    assert (found[0].used, found[0].unit, found[1].hours, found[1].unit) == (6, "sheet", 3, "hours")


def test_parts_are_of_the_day_at_the_job_not_in_utc() -> None:
    # 14 hours after 12:00 UTC it is 22:00 in New York, and the next day in UTC.
    result = reconcile(JOB, PLAN, [kept(1, stock("used", 1), minutes=14 * 60)])
    assert [part.day for part in result.parts if part.day] == [date(2026, 10, 5)]


def test_what_no_balance_counts_is_in_no_part() -> None:
    entries = [kept(1, stock("used", 1), "?"), kept(2, stock("used", 2, "gal"))]
    assert reconcile(JOB, PLAN, entries).parts == ()


def test_what_is_in_no_part_keeps_nothing_after_it_out() -> None:
    entries = [
        kept(1, stock("used", 1), "?"),
        kept(2, stock("on_hand", 1)),
        kept(3, stock("used", 2)),
    ]
    assert [part.used for part in reconcile(JOB, PLAN, entries).parts] == [2, 2]


def test_hours_of_no_task_are_a_part_under_their_own_name() -> None:
    result = reconcile(JOB, PLAN, book(Entry("labor", hours=Fraction(3))))
    assert {part.name for part in result.parts} == {"no task named"}


def test_counts_needs_and_pieces_are_in_no_part() -> None:
    entries = book(stock("on_hand", 1), stock("needed", 2), cut(1, 100))
    assert reconcile(JOB, PLAN, entries).parts == ()


# --- pieces in the units that stock is counted in


def pieces_of(unit: str, *entries: Entry, **more: object) -> CutPieces:
    made = Item("board", unit, stock_length=Fraction(144), **more)  # type: ignore[arg-type]
    return cut_pieces(made, book(*entries))


def test_pieces_of_what_is_counted_in_feet_or_inches_are_whole_sticks_of_it() -> None:
    # Two pieces of 100 in: one from each stick of 144 in, 12 ft.
    assert pieces_of("ft", cut(2, 100)) == CutPieces(Fraction(200, 12), Fraction(24), (1,))
    assert pieces_of("in", cut(2, 100)) == CutPieces(Fraction(200), Fraction(288), (1,))
    assert pieces_of("stick", cut(2, 100)) == CutPieces(Fraction(200, 144), Fraction(2), (1,))


def test_what_is_not_cut_from_sticks_has_no_pieces() -> None:
    for unit in ("lb", "ft2", "square", "gal", "box", "pair"):
        assert pieces_of(unit, cut(2, 100)) == NOTHING
    assert cut_pieces(Item("board", "stick"), book(cut(2, 100))) == NOTHING


def test_the_saw_cut_counts_an_eighth_unless_the_item_says_otherwise() -> None:
    # Two pieces of 72 in are a stick of 144 in, but for the saw cut between them.
    assert pieces_of("stick", cut(2, 72)).gross == 2
    assert pieces_of("stick", cut(2, 72), kerf=Fraction(0)).gross == 1
    # An eighth (common practice): 71 15/16 twice leaves just enough for it.
    assert pieces_of("stick", cut(2, "1151/16")).gross == 1
    assert pieces_of("stick", cut(2, "1151/16"), kerf=Fraction(1, 4)).gross == 2


def test_pieces_of_no_length_or_number_are_passed_over_and_the_next_ones_counted() -> None:
    odd = [cut(0, 30), cut(3, 0), cut(-1, 30), cut(2, -30), cut(1, 145), Entry("measure", pieces=2)]
    found = pieces_of("stick", *odd, cut(1, 144))
    assert found == CutPieces(Fraction(1), Fraction(1), (7,), (5,))


def test_more_pieces_than_a_cut_list_may_have_are_all_in_the_balance() -> None:
    # 6,000 pieces of 47 7/8 in with their cuts fill 2,000 sheets of 144 in.
    result = reconcile(JOB, PLAN, book(cut(6000, "383/8"), stock("delivered", 2100)))
    [line] = [line for line in result.stock if line.item == "panel"]
    assert (line.at_least, line.pieces) == (2000, Fraction(383 * 6000, 8 * 144))
