"""A take-off is exact, keeps net and gross apart, and says how each line came about."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog, without
from joblog.model import Amount, Catalog, Depth, Piece, Run, TakeOff, TakeOffLine
from joblog.takeoff.take_off import check, take_off
from joblog.takeoff.works import read_works
from tests.takeoff.laid import laid_end_to_end

CATALOG = starter_catalog()
EAVE = {"length": Amount(Fraction(41), "ft"), "depth": Amount(Fraction(12), "in")}
WAVING = tuple(Depth(Fraction(depth)) for depth in ("12", "12", "49/4"))


def eave(depths: tuple[Depth, ...] = (), **measures: Amount) -> Run:
    """41 ft of boxed eave, 12 in deep unless `depths` say otherwise."""
    sizes = {**EAVE, **measures}
    if depths:
        del sizes["depth"]
    return Run("boxed eave", "north eave", tuple(sizes.items()), depths, row="runs.csv, row 2")


def count(number: int) -> Amount:
    return Amount(Fraction(number))


def taken(run: Run) -> TakeOff:
    found, problems = take_off([run], CATALOG)
    assert problems == ()
    return found


def line(found: TakeOff, item: str) -> TakeOffLine:
    [one] = [one for one in found.lines if one.item == item]
    return one


def pieces(found: TakeOff, item: str) -> list[Piece]:
    return [piece for piece in laid_end_to_end(found.pieces) if piece.item == item]


# --- a boxed eave, worked by hand from common practice ------------------------------------------


def test_soffit_pieces_are_a_quarter_inch_shorter_than_the_depth_one_to_a_foot() -> None:
    # 41 pieces of 11 3/4 in. A 12 ft panel holds 12 of them with 1/8 in kerf: 142 3/8 in.
    found = taken(eave())
    assert pieces(found, "soffit panel") == [
        Piece(Fraction(47, 4), 41, "north eave 1-41", "soffit panel")
    ]
    panels = line(found, "soffit panel")
    assert (panels.unit, panels.net) == ("sheet", 41 * Fraction(47, 4) / 144)
    assert panels.gross == Fraction(41, 12)


def test_below_forty_degrees_the_gap_is_three_eighths() -> None:
    found = taken(eave(fahrenheit=count(39)))
    assert pieces(found, "soffit panel")[0].length == Fraction(93, 8)


def test_a_catalog_that_calls_an_item_otherwise_is_understood_by_what_it_is_called_aloud() -> None:
    items = tuple(
        replace(item, name="wall channel", spoken=("channel", "f channel"))
        if item.name == "F channel"
        else item
        for item in CATALOG.items
    )
    found, problems = take_off([eave()], replace(CATALOG, items=items))
    assert problems == ()
    assert line(found, "wall channel").net == line(taken(eave()), "F channel").net


def test_channel_and_fascia_run_the_length_with_their_laps() -> None:
    # 492 in: three joints. Fascia laps 1 in: 495 in; channel 3/4 in: 494 1/4 in.
    found = taken(eave())
    assert (line(found, "fascia").net, line(found, "fascia").gross) == (
        Fraction(492, 144),
        Fraction(495, 144),
    )
    assert line(found, "F channel").gross == Fraction(1977, 4) / 144
    assert pieces(found, "fascia") == [
        Piece(Fraction(144), 3, "north eave", "fascia"),
        Piece(Fraction(63), 1, "north eave", "fascia"),
    ]


def test_fascia_nails_come_in_pairs_no_more_than_3_ft_apart_and_two_at_each_joint() -> None:
    # 41 ft: 14 spaces, 15 pairs; 3 joints of two: 36 nails, 420 in a pound in this catalog.
    assert line(taken(eave()), "trim nails").net == Fraction(36, 420)


def test_channel_is_nailed_at_every_stud_and_each_soffit_piece_twice() -> None:
    # Studs every 16 in along 492 in: 31 of them. 31 + 2 x 41 = 113 nails, 180 in a pound.
    assert line(taken(eave()), "siding nails").net == Fraction(113, 180)


def test_a_return_wraps_a_further_inch_of_fascia() -> None:
    assert line(taken(eave(returns=count(2))), "fascia").net == Fraction(494, 144)


def test_a_corner_makes_the_edge_longer_by_both_depths() -> None:
    # 12 in deep on both sides of each of two corners: 2 x (12 + 12) in = 4 ft more edge, and 1 in
    # around each corner.
    assert line(taken(eave(outside_corners=count(2))), "fascia").net == Fraction(45 * 12 + 2, 144)


def test_hours_are_the_length_over_the_rate_of_the_catalog() -> None:
    # The starter's rate is 8 ft an hour.
    assert taken(eave()).tasks[0].hours == Fraction(41, 8)


def test_a_task_without_a_rate_has_no_hours() -> None:
    found, _ = take_off([eave()], without(CATALOG, "hang soffit"))
    assert [task.hours for task in found.tasks] == [None, Fraction(41, 15)]


def test_each_line_says_its_formulas_with_their_numbers() -> None:
    panels = line(taken(eave()), "soffit panel")
    assert panels.net_formula.endswith(
        "piece = depth - gap = 12 in - 1/4 in = 11 3/4 in; "
        "net = (pieces - cut_away * pieces / panels) * piece / stock = "
        "(41 - 0 x 41 / 41) x 11 3/4 in / 144 in/sheet = ~3.3455 sheet"
    )
    assert panels.gross_formula == (
        "gross = pieces / per_stock(stock, piece, kerf) = "
        "41 / per_stock(144 in/sheet, 11 3/4 in, 1/8 in) = ~3.4167 sheet"
    )


# --- depths -------------------------------------------------------------------------------------


def test_depths_that_agree_are_cut_in_one_batch_to_the_smallest() -> None:
    agreed = tuple(Depth(Fraction(depth)) for depth in ("12", "97/8", "12"))
    found = taken(eave(agreed))
    assert [piece.length for piece in pieces(found, "soffit panel")] == [Fraction(47, 4)]
    assert "the batch can be cut ahead" in found.notes[0]


def test_depths_that_differ_give_each_piece_its_own_length_and_say_where_it_goes() -> None:
    # 12 in for 20 1/2 ft, then a quarter inch more over the other 20 1/2: a sixteenth more at 25.6
    # ft, so from the middle of piece 27 on, and three of them at 35.9 ft, from piece 37 on.
    found = taken(eave(WAVING))
    cut = pieces(found, "soffit panel")
    assert sum(piece.pieces for piece in cut) == 41
    assert (cut[0].length, cut[-1].length) == (Fraction(47, 4), Fraction(191, 16))
    assert cut[0].label == "north eave 1-26"
    assert cut[-1].label == "north eave 37-41"
    assert "cut each piece to its own" in found.notes[0]
    assert "rounded down to 1/16" in found.notes[1]


def test_own_pieces_add_up_in_net_and_gross() -> None:
    found = taken(eave(WAVING))
    cut = pieces(found, "soffit panel")
    assert line(found, "soffit panel").net == sum(p.length * p.pieces for p in cut) / 144
    # 11 3/4 to 11 13/16 in: 12 to a panel with kerf; 11 7/8 in: 12 x 11 7/8 + 11/8 = 143 7/8, also
    # 12; 11 15/16 in: 144 5/8 in, so 11.
    fits = {Fraction(191, 16): 11}
    assert line(found, "soffit panel").gross == sum(
        Fraction(p.pieces, fits.get(p.length, 12)) for p in cut
    )


def test_pieces_of_a_second_run_of_the_kind_at_a_place_are_told_apart() -> None:
    found, _ = take_off([eave(), eave()], CATALOG)
    assert [piece.label for piece in pieces(found, "soffit panel")] == [
        "north eave 1-41",
        "north eave (2) 1-41",
    ]


# --- other kinds of work ------------------------------------------------------------------------


def test_a_rake_is_measured_up_its_slope() -> None:
    # 12 ft of run at 6 in 12: 13.416 ft, rounded up to 1/64 in: 161 in, so 14 pieces.
    sizes = {"run": Amount(Fraction(12), "ft"), "pitch": count(6), "depth": EAVE["depth"]}
    found = taken(Run("rake", "west gable", tuple(sizes.items())))
    assert found.figures[0].amount == Amount(Fraction(161, 12), "ft")
    assert pieces(found, "soffit panel")[0].pieces == 14
    assert line(found, "F channel").net == Fraction(161, 144)


def test_a_gable_is_sided_course_by_course_and_its_openings_taken_off() -> None:
    # 24 ft wide, 6 ft high: 72 - 6 = 66 square feet; 8 in courses of 12 ft panels cover 8 each.
    # Nine courses, each as long as the gable at its foot: 24 x (9 + 8 + ... + 1) / 9 = 120 ft, less
    # 9 ft of openings: 1332 in, which take nine joints of an inch.
    sizes = {
        "width": Amount(Fraction(24), "ft"),
        "pitch": count(6),
        "openings": Amount(Fraction(6), "ft2"),
        "around": Amount(Fraction(10), "ft"),
    }
    siding = line(taken(Run("gable wall", "west", tuple(sizes.items()))), "siding panel")
    assert (siding.net, siding.gross) == (Fraction(66, 8), Fraction(1332 + 9, 144))


def test_a_wall_takes_whole_courses() -> None:
    # 41 x 9 ft: 369 square feet net; 14 courses of 8 in reach above 9 ft: 574 ft of panels, and 48
    # joints of an inch: 48 panels of 12 ft that lap by an inch cover 572 ft 1 in.
    sizes = {"width": Amount(Fraction(41), "ft"), "height": Amount(Fraction(9), "ft")}
    siding = line(taken(Run("wall", "north wall", tuple(sizes.items()))), "siding panel")
    assert (siding.net, siding.gross) == (Fraction(369, 8), Fraction(574 + 4, 12))


def test_a_porch_ceiling_has_channel_all_around() -> None:
    sizes = {"length": Amount(Fraction(20), "ft"), "width": Amount(Fraction(8), "ft")}
    found = taken(Run("porch ceiling", "porch", tuple(sizes.items())))
    assert line(found, "F channel").net == Fraction(56, 12)
    # 95 3/4 in twice with a kerf is more than 144 in, so each piece takes a panel.
    assert line(found, "soffit panel").gross == 20


def test_a_gutter_has_hangers_every_two_feet_and_a_downspout_every_35() -> None:
    # 41 ft: 21 spaces, 22 hangers; two downspouts of 9 ft with three elbows each.
    sizes = {"length": Amount(Fraction(41), "ft"), "drop": Amount(Fraction(9), "ft")}
    found = taken(Run("gutter run", "north eave", tuple(sizes.items())))
    assert line(found, "gutter hanger").net == 22
    assert line(found, "downspout").net == Fraction(18, 10)
    assert line(found, "elbow").net == 6


def test_a_butt_joint_is_a_lap_of_zero() -> None:
    found = taken(eave(lap=Amount(Fraction(0), "in")))
    assert line(found, "fascia").gross == line(found, "fascia").net


def test_another_item_may_stand_in_for_the_usual_one() -> None:
    run = Run("boxed eave", "x", tuple(EAVE.items()), (), (("soffit panel", "solid soffit panel"),))
    assert line(taken(run), "solid soffit panel").net == 41 * Fraction(47, 4) / 144


# --- what cannot be -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("run", "why"),
    [
        (Run("boxd eave", "x"), "is no kind of work; there are boxed eave, rake"),
        (Run("boxed eave", "x"), "needs length (ft, of the eave along the wall)"),
        (eave(length=Amount(Fraction(0), "ft")), "length is zero"),
        (eave(depth=Amount(Fraction(-1), "in")), "depth is -1 in, below zero"),
        (eave(length=Amount(Fraction(3), "lb")), "comes out in lb, but must be in ft"),
        (eave(face=Amount(Fraction(0), "in")), "face is zero"),
        (eave(colour=count(3)), "takes no colour; it takes length, depth"),
        (eave(depth=Amount(Fraction(13), "ft")), "longer than its stock of 144 in"),
        (eave(depth=Amount(Fraction(1, 8), "in")), "asks for a piece of -1/8 in"),
        (eave(length=Amount(Fraction(10**6), "ft")), "check the length"),
        (eave(length=Amount(Fraction(10**9), "ft")), "length is more than 1,000,000 ft"),
        (eave(lap=Amount(Fraction(12), "ft")), "a lap as long as the stock"),
        (Run("wall", "x", (), WAVING), "is measured once, but several depths came"),
        (
            Run("boxed eave", "x", tuple(EAVE.items()), (), (("gutter", "fascia"),)),
            "uses no gutter, so nothing can stand in for it",
        ),
        (
            Run("boxed eave", "x", tuple(EAVE.items()), (), (("fascia", "gold"),)),
            "uses gold, which is not in the catalog",
        ),
        (
            Run("boxed eave", "x", tuple(EAVE.items()), (), (("fascia", "caulk"),)),
            "needs the stock length of caulk in the catalog",
        ),
        (
            Run("boxed eave", "x", tuple(EAVE.items()), (), (("fasica", "caulk"),)),
            "uses no fasica, so nothing can stand in for it; is it fascia?",
        ),
        (
            Run("boxed eave", "x", tuple(EAVE.items()), (), (("fascia", "j chanel"),)),
            "uses j chanel, which is not in the catalog; is it J channel",
        ),
    ],
)
def test_a_run_that_cannot_be_taken_off_is_left_out_whole_and_named(run: Run, why: str) -> None:
    found, [problem] = take_off([eave(), run], CATALOG)
    assert found == taken(eave())
    assert why in problem.why


def test_the_problem_names_the_row_and_the_kind_of_work() -> None:
    _, [problem] = take_off([eave(length=Amount(Fraction(0), "ft"))], CATALOG)
    assert problem.what == "runs.csv, row 2"
    assert problem.why.startswith("boxed eave: ")


def test_openings_larger_than_the_wall_are_refused() -> None:
    sizes = {
        "width": Amount(Fraction(4), "ft"),
        "height": Amount(Fraction(4), "ft"),
        "openings": Amount(Fraction(20), "ft2"),
    }
    _, [problem] = take_off([Run("wall", "x", tuple(sizes.items()))], CATALOG)
    assert "siding panel comes out below zero" in problem.why


def test_a_formula_that_adds_feet_to_square_feet_names_the_run_and_the_formula() -> None:
    works, _ = read_works(
        "[deck.takes]\nlength = { unit = 'ft' }\n"
        "[[deck.figures]]\nname = 'odd'\nformula = 'length + length * length'\nunit = 'ft'\n"
    )
    run = Run("deck", "yard", (("length", Amount(Fraction(3), "ft")),), row="runs.csv, row 9")
    _, [problem] = take_off([run], Catalog(), works)
    assert problem.what == "runs.csv, row 9"
    assert problem.why == (
        "deck: odd (length + length * length) adds or compares ft and ft2, which do not mix"
    )


def test_squarings_without_end_are_a_problem_that_names_the_kind_of_work() -> None:
    squarings = "".join(f"a{at + 1} = 'a{at} * a{at}'\n" for at in range(44))
    works, _ = read_works(
        f"[deck.takes]\nlength = {{ unit = 'ft' }}\n[deck.let]\na0 = 'length / ft'\n{squarings}"
        "[[deck.figures]]\nname = 'vast'\nformula = 'a44'\n"
    )
    [problem] = check(works, Catalog())
    assert problem.what == "deck"
    assert problem.why == "a7 (a6 * a6) comes to a number beyond reason"


# --- what always holds --------------------------------------------------------------------------

FEET = st.fractions(min_value=1, max_value=120, max_denominator=12)
INCHES = st.integers(4 * 16, 70 * 16).map(lambda parts: Fraction(parts, 16))


@settings(max_examples=40)
@given(FEET, st.lists(INCHES, min_size=1, max_size=5), st.integers(0, 3), st.integers(0, 2))
def test_gross_is_never_less_than_net_and_pieces_cover_what_is_measured(
    feet: Fraction, depths: list[Fraction], corners: int, returns: int
) -> None:
    run = eave(
        tuple(Depth(depth) for depth in depths),
        length=Amount(feet, "ft"),
        outside_corners=count(corners),
        returns=count(returns),
    )
    found = taken(run)
    assert all(one.net <= one.gross for one in found.lines)
    assert all(0 < piece.length <= 144 for piece in laid_end_to_end(found.pieces))
    fascia = sum(piece.length * piece.pieces for piece in pieces(found, "fascia"))
    joints = sum(piece.pieces for piece in pieces(found, "fascia")) - 1
    needed = line(found, "fascia").net * 144 + joints
    assert needed <= fascia < needed + Fraction(1, 16)
    soffit = pieces(found, "soffit panel")
    assert sum(piece.pieces for piece in soffit) >= feet
    assert all(piece.length <= max(depths) - Fraction(1, 4) for piece in soffit)
