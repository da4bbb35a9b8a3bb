"""Piece lists from spreadsheets, and the wishes that are typed beside them."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.cutting.cut_lists import cut_lists
from joblog.cutting.read_pieces import read_pieces
from joblog.model import Catalog, Item, Piece

HEAD = "length,pieces,label\n"
CHANNEL = Item(
    "wall channel",
    "stick",
    stock_length=Fraction(120),
    other_lengths=(Fraction(60),),
    kerf=Fraction(1, 16),
    least_offcut=Fraction(6),
)


def test_lengths_pieces_and_labels_are_read() -> None:
    pieces, problems = read_pieces(HEAD + "12' 4 1/2\",2,north eave\n14.625,10,\n")
    assert problems == ()
    assert [(piece.length, piece.pieces, piece.label) for piece in pieces] == [
        (Fraction(297, 2), 2, "north eave"),
        (Fraction(117, 8), 10, ""),
    ]


def test_columns_may_stand_in_any_order_and_only_length_is_needed() -> None:
    pieces, _ = read_pieces("Item, LENGTH \nfascia,35 7/8\n")
    assert pieces == (Piece(Fraction(287, 8), 1, "", "fascia", "pieces, row 2"),)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("0,1,", "must be longer than zero"),
        ("-3,1,", "'-3' is not a length"),
        (",1,", "has no length"),
        ("abc,1,", "'abc' is not a length"),
        ("1/0,1,", "divides by zero"),
        ("20,,", "does not say how many"),
        ("20,0,", "asks for 0 pieces"),
        ("20,-2,", "must be a whole number"),
        ("20,1.5,", "must be a whole number"),
        ("20,²,", "must be a whole number"),
        ("20,99999999999999,", "must be a whole number"),
        ("20,1,left,right", "more cells than there are columns"),
    ],
)
def test_a_bad_row_is_named_and_left_out(row: str, why: str) -> None:
    pieces, [problem] = read_pieces(HEAD + "20,1,good\n\n" + row + "\n")
    assert [piece.label for piece in pieces] == ["good"]
    assert problem.what == "pieces, row 4"
    assert why in problem.why


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "has no column length"),
        (b"size,pieces\n3,2\n", "for length say --column size=length"),
        (b"length\n", "holds no row below its first one"),
        (b"length\n\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\n", "is no t"),
        (b"length\n\xe2\x85\x9e\n\xff\n", "no text in an encoding"),
    ],
)
def test_a_file_that_is_no_piece_list_says_so(tmp_path: Path, content: bytes, why: str) -> None:
    file = tmp_path / "list.csv"
    file.write_bytes(content)
    pieces, [problem] = read_pieces(file)
    assert (pieces, problem.what) == ((), "list.csv")
    assert why in problem.why


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    _, [problem] = read_pieces(tmp_path / "none.csv")
    assert problem.why == "is not there. Check the name."


@given(st.text(max_size=200))
def test_any_text_is_pieces_or_problems_and_never_a_crash(text: str) -> None:
    pieces, problems = read_pieces("length,pieces\n" + text)
    assert all(piece.length > 0 and piece.pieces > 0 for piece in pieces)
    assert pieces or problems


def test_each_item_gets_a_list_of_its_own_from_its_own_stock() -> None:
    pieces = [
        Piece(Fraction(50), 2, item="wall channel"),
        Piece(Fraction(50), 2, item="own invention"),
    ]
    (channel, other), problems = cut_lists(pieces, Catalog((CHANNEL,)))
    assert problems == ()
    assert {stick.length for stick in channel.sticks} <= {60, 120}
    assert (channel.kerf, channel.useful) == (Fraction(1, 16), 6)
    assert [stick.length for stick in other.sticks] == [144]
    assert (other.kerf, other.useful) == (Fraction(1, 8), 24)


def test_what_was_typed_comes_before_the_catalog() -> None:
    [plan], _ = cut_lists(
        [Piece(Fraction(50), 2, item="wall channel")],
        Catalog((CHANNEL,)),
        stock=["12' x 3 @ $18.50"],
        offcuts=["4' 6\""],
        kerf="3/32",
        useful="30",
    )
    assert (plan.kerf, plan.useful, plan.spent, plan.priced) == (
        Fraction(3, 32),
        30,
        Fraction(37, 2),
        True,
    )
    assert [(stick.length, stick.offcut) for stick in plan.sticks] == [(54, True), (144, False)]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"stock": ["twelve"]}, "--stock twelve: 'twelve' is not a length"),
        ({"stock": ["12' x 0"]}, "there are none of it"),
        ({"stock": ["12' @ cheap"]}, "not an amount of money"),
        ({"offcuts": ["60 @ 3"]}, "has no cost any more"),
        ({"kerf": "thin"}, "--kerf thin"),
        ({"useful": "-1"}, "--useful -1"),
        ({"lap": "12'", "sure": True}, "less than the stock length"),
        ({"lap": "12'"}, "lap 144 in is more than 36 in, which no job has; say --sure"),
        ({"kerf": "3"}, "kerf 3 in is more than 1/2 in"),
        ({"stock": ["144'"]}, "stock length 1,728 in is more than 720 in"),
        ({"stock": ["12' x ١٠"]}, "write it with the digits 0 to 9"),
        ({"item": "gutter"}, "nothing in this list is called 'gutter'"),
    ],
)
def test_a_wish_that_cannot_be_read_is_named(typed: dict[str, object], why: str) -> None:
    with pytest.raises(ValueError, match=why.replace("(", r"\(")):
        cut_lists([Piece(Fraction(20))], Catalog(), **typed)  # type: ignore[arg-type]


def test_an_item_may_be_named_by_what_it_is_spoken_of_as() -> None:
    catalog = Catalog((Item("fascia", "stick", ("fascia board",), stock_length=Fraction(192)),))
    [plan], _ = cut_lists(
        [Piece(Fraction(150), item="fascia"), Piece(Fraction(20), item="gutter")],
        catalog,
        item="Fascia Board",
    )
    assert [stick.length for stick in plan.sticks] == [192]
    # Where the list itself calls it so, it is the catalog's item all the same.
    [plan], _ = cut_lists([Piece(Fraction(150), item="fascia board")], catalog)
    assert [stick.length for stick in plan.sticks] == [192]


def test_offcuts_are_not_shared_out_among_items() -> None:
    pieces = [Piece(Fraction(20), item="fascia"), Piece(Fraction(20), item="gutter")]
    with pytest.raises(ValueError, match="say --item"):
        cut_lists(pieces, Catalog(), offcuts=["60"])
