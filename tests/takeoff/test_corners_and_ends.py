"""What is at corners, ends, openings and seams is counted once, and each piece is one that can be
cut. All of it is worked by hand from common practice unless a source stands beside it."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.model import Amount, Catalog, Depth, Run, TakeOff, TakeOffLine
from joblog.takeoff.take_off import take_off
from tests.takeoff.laid import laid_end_to_end

CATALOG = starter_catalog()


def run(work: str, **measures: str) -> Run:
    """Measures as "41 ft", "12 in", "2"."""
    parted = ((name, *text.partition(" ")) for name, text in measures.items())
    amounts = ((name, Amount(Fraction(number), unit)) for name, number, _, unit in parted)
    return Run(work, "north", tuple(amounts))


def taken(*runs: Run, catalog: Catalog = CATALOG) -> TakeOff:
    found, problems = take_off(runs, catalog)
    assert problems == ()
    return found


def line(found: TakeOff, item: str) -> TakeOffLine:
    [one] = [one for one in found.lines if one.item == item]
    return one


def feet(found: TakeOff, item: str) -> Fraction:
    """What there is of an item that comes in stock lengths, laps not counted."""
    stock = {one.name: one.stock_length or Fraction(0) for one in CATALOG.items}[item]
    return sum((one.net * stock for one in found.lines if one.item == item), Fraction(0)) / 12


def cuts(found: TakeOff, item: str) -> list[Fraction]:
    """The pieces of an item, each by itself, the longest first."""
    pieces = [
        p.length for p in laid_end_to_end(found.pieces) if p.item == item for _ in range(p.pieces)
    ]
    return sorted(pieces, reverse=True)


def items(found: TakeOff) -> set[str]:
    return {one.item for one in found.lines}


EAVE = {"length": "42 ft", "depth": "12 in"}


# --- an eave at its corners ---------------------------------------------------------------------


def test_a_perimeter_of_140_ft_has_148_ft_of_edge_as_one_row_or_as_four() -> None:
    # 42 by 28 ft, 12 in deep: 44 by 30 ft along the edge. An inch of fascia around each corner.
    whole = taken(run("boxed eave", length="140 ft", depth="12 in", outside_corners="4"))
    sides = taken(
        *(
            run("boxed eave", length=length, depth="12 in", outside_corners="1")
            for length in ("42 ft", "28 ft", "42 ft", "28 ft")
        )
    )
    assert feet(whole, "fascia") == feet(sides, "fascia") == 148 + Fraction(4, 12)


def test_an_inside_corner_takes_both_depths_away() -> None:
    found = taken(run("boxed eave", **EAVE, inside_corners="1"))
    assert feet(found, "fascia") == 42 - 2 + Fraction(1, 12)


def test_a_side_told_by_its_ends_goes_beyond_each_by_the_neighbors_depth() -> None:
    # 16 in deep here, 15 around both corners: edge 40 ft and 30 in, so 43 panels of 12 in.
    side = {"length": "40 ft", "depth": "16 in", "beyond": "30 in", "slanted": "30 in"}
    found = taken(
        run("boxed eave", **side, next_depth="15 in", outside_corners="1", mitred_ends="2")
    )
    assert feet(found, "fascia") == 42 + Fraction(7, 12)
    assert cuts(found, "soffit panel") == [Fraction(63, 4)] * 43
    # Two triangles of 15 by 16 in are cut away.
    area = next(one for one in found.figures if one.name == "soffit area").amount.quantity
    assert area * 144 == 510 * 16 - 2 * Fraction(15 * 16, 2)


def test_a_divider_goes_from_the_corner_of_the_wall_to_that_of_the_fascia() -> None:
    # The root of 12 x 12 + 5 x 5 is 13. Two corners; with two channels at each, four pieces.
    corners = {"next_depth": "5 in", "outside_corners": "1", "inside_corners": "1"}
    one = taken(run("boxed eave", **EAVE, **corners))
    two = taken(run("boxed eave", **EAVE, **corners, dividers="2"))
    assert (cuts(one, "H trim"), cuts(two, "H trim")) == ([13, 13], [13, 13, 13, 13])


def test_slanted_panels_come_out_of_whole_ones_and_it_is_said() -> None:
    found = taken(run("boxed eave", **EAVE, outside_corners="1"))
    assert "what falls off is not taken for the other side" in found.notes[-1]
    assert not taken(run("boxed eave", **EAVE)).notes


def test_at_a_gable_the_wall_channel_goes_on_and_a_return_is_closed_with_coil() -> None:
    # 10 in beyond the wall at each gable, none of it on a slant; 2 ft of coil to a return.
    found = taken(run("boxed eave", **EAVE, beyond="20 in", slanted="0 in", returns="2"))
    assert feet(found, "F channel") == 42 + Fraction(20, 12)
    assert feet(found, "fascia") == 42 + Fraction(22, 12)
    assert line(found, "trim coil").net == Fraction(4, 50)


def test_a_free_end_takes_a_channel_across_it() -> None:
    found = taken(run("boxed eave", length="11 ft", depth="12 in", free_ends="2"))
    assert cuts(found, "F channel") == [132, 12, 12]


def test_drip_edge_goes_on_where_it_is_said() -> None:
    # 144 in of edge in 10 ft lengths: one joint of 2 in.
    found = taken(run("boxed eave", length="12 ft", depth="12 in", drip_edge="1"))
    assert line(found, "drip edge").gross == Fraction(146, 120)
    assert "drip edge" not in items(taken(run("boxed eave", **EAVE)))


def test_an_old_table_with_hips_is_told_what_to_write() -> None:
    _, [problem] = take_off([run("boxed eave", **EAVE, hips="4")], CATALOG)
    assert problem.why.startswith("boxed eave: takes no hips any more; say outside_corners")


def test_where_depths_differ_they_are_those_along_the_wall_and_panels_begin_before_it() -> None:
    # 3 ft of wall, 18 in deep where it begins and 12 in where it ends, and 12 in beyond it at its
    # beginning: a panel of 18 in there, then three that run out by 2 in each and so are as long as
    # their longer edges: 18, 16 and 14. A quarter inch less each.
    depths = (Depth(Fraction(18)), Depth(Fraction(12)))
    sizes = (
        ("length", Amount(Fraction(3), "ft")),
        ("beyond", Amount(Fraction(12), "in")),
        ("ahead", Amount(Fraction(12), "in")),
    )
    found = taken(Run("boxed eave", "north", sizes, depths))
    cut = [piece.length for piece in found.pieces if piece.item == "soffit panel"]
    pieces = [p.pieces for p in found.pieces if p.item == "soffit panel"]
    assert cut == [length - Fraction(1, 4) for length in (18, 16, 14)]
    assert pieces == [2, 1, 1]


# --- fascia from coil ---------------------------------------------------------------------------


@pytest.mark.parametrize("work", ["boxed eave", "rake"])
def test_fascia_bent_from_coil_takes_a_third_of_its_length_in_coil_and_no_sticks(work: str) -> None:
    # Strips of 8 in, three side by side in 24; bent in 10 ft pieces that lap an inch: 40 ft take
    # four joints. A rake of 4 in 12 over 0 would be level; 40 ft of slope come from 24 and 32.
    level = {"length": "40 ft"} if work == "boxed eave" else {"run": "24 ft", "pitch": "16"}
    found = taken(run(work, **level, depth="12 in", coil="1"))
    assert "fascia" not in items(found)
    assert line(found, "trim coil").net == Fraction(40, 3 * 50)
    assert line(found, "trim coil").gross == (40 + Fraction(4, 12)) / (3 * 50)


def test_laps_of_coil_are_nailed_as_joints_of_sticks_are() -> None:
    # 40 ft: 14 spaces of 3 ft, 15 pairs, and two at each of four joints.
    found = taken(run("boxed eave", length="40 ft", depth="12 in", coil="1"))
    assert line(found, "trim nails").net == Fraction(38, 420)


def test_channel_parts_the_soffit_at_the_ridge_where_it_is_said() -> None:
    # Source: the industry's public installation manual of vinyl siding, "soffit": at the peak of a
    # gable two J channels back to back, one on each slope; or a panel is bent there.
    rake = {"run": "12 ft", "pitch": "6", "depth": "12 in"}
    found = taken(run("rake", **rake, parted="1"), run("rake", **rake, parted="1"))
    assert cuts(found, "J channel") == [12, 12]
    assert "J channel" not in items(taken(run("rake", **rake)))


# --- vented panels ------------------------------------------------------------------------------


def test_every_third_panel_is_vented() -> None:
    found = taken(run("boxed eave", length="12 ft", depth="12 in", vented="1/3"))
    assert len(cuts(found, "vented soffit panel")) == 4
    assert len(cuts(found, "soffit panel")) == 8


def test_where_depths_differ_a_vented_panel_is_cut_for_its_own_place() -> None:
    # 6 ft, 12 in deep at its beginning and 18 at its end: 12 1/2, 13 1/2 ... in the middles of the
    # six panels, each a quarter inch shorter. Every second one is vented.
    depths = (Depth(Fraction(12)), Depth(Fraction(18)))
    sizes = (("length", Amount(Fraction(6), "ft")), ("vented", Amount(Fraction(1, 2))))
    found, _ = take_off([Run("boxed eave", "north", sizes, depths)], CATALOG, tolerance=Fraction(2))
    vented = [p for p in found.pieces if p.item == "vented soffit panel"]
    solid = [p for p in found.pieces if p.item == "soffit panel"]
    assert [p.label for p in vented] == ["north 2", "north 4", "north 6"]
    assert [p.label for p in solid] == ["north 1", "north 3", "north 5"]
    lengths = Counter(p.length for p in (*vented, *solid))
    assert lengths == Counter(Fraction(49, 4) + number for number in range(6))


def test_an_attic_says_how_much_vented_panel_the_ratios_ask_for_and_how_much_there_is() -> None:
    # 1200 square feet: 8 at 1/150; 8 square inches in a foot of panel make 144 ft. There are four
    # pieces of 11 3/4 in.
    eave = run("boxed eave", length="12 ft", depth="12 in", vented="1/3")
    found = taken(run("attic", area="1200 ft2"), eave)
    figures = {one.name: one for one in found.figures}
    assert figures["vented panel for it at 1/150"].amount == Amount(Fraction(144), "ft")
    assert figures["vented panel for it at 1/300"].amount == Amount(Fraction(72), "ft")
    assert figures["vented panel in these runs"].amount == Amount(Fraction(47, 12), "ft")
    assert figures["its open area"].amount == Amount(Fraction(47, 12) * 8 / 144, "ft2")
    assert "the local code, which decides" in figures["its open area"].note


def test_an_attic_without_vented_panels_says_nothing_of_what_there_is() -> None:
    found = taken(run("attic", area="1200 ft2"), run("boxed eave", **EAVE))
    assert [one.name for one in found.figures if one.work == "attic"] == [
        "vent area at 1/150",
        "vent area at 1/300",
        "vented panel for it at 1/150",
        "vented panel for it at 1/300",
    ]


def test_without_an_open_area_in_the_catalog_the_figures_are_left_out_and_it_is_said() -> None:
    shut = tuple(replace(item, open_area=None) for item in CATALOG.items)
    found = taken(run("attic", area="1200 ft2"), catalog=replace(CATALOG, items=shut))
    assert [one.name for one in found.figures][:2] == ["vent area at 1/150", "vent area at 1/300"]
    assert "vented soffit panel has no open area in the catalog" in found.notes[0]


# --- openings -----------------------------------------------------------------------------------


def test_a_window_takes_four_pieces_of_j_channel_an_inch_past_each_corner() -> None:
    # 3 by 4 ft, twice. Undersill trim below each, and a drip cap an inch past its sides.
    found = taken(run("window", width="3 ft", height="4 ft", count="2"))
    assert cuts(found, "J channel") == [50] * 4 + [38] * 4
    assert cuts(found, "undersill trim") == [36, 36]
    assert cuts(found, "drip cap") == [38, 38]
    # 14 ft around each, 24 ft of bead to a tube.
    assert line(found, "caulk").net == Fraction(28, 24)


def test_a_door_has_no_foot() -> None:
    found = taken(run("door", width="36 in", height="80 in"))
    assert cuts(found, "J channel") == [81, 81, 38]
    assert "undersill trim" not in items(found)


def test_a_window_wider_than_a_stick_is_long_has_a_joint_in_each_line() -> None:
    # 148 in and a lap of 1 in: 144 and 5.
    found = taken(run("window", width="146 in", height="4 ft"))
    assert cuts(found, "J channel") == [144, 144, 50, 50, 5, 5]


# --- walls --------------------------------------------------------------------------------------


def test_no_starter_goes_under_a_door_and_undersill_trim_ends_a_wall_under_an_eave() -> None:
    found = taken(run("wall", width="40 ft", height="9 ft", door_width="3 ft", under_eave="1"))
    assert (feet(found, "starter strip"), feet(found, "undersill trim")) == (37, 40)
    assert "J channel" not in items(found)


def test_a_wall_under_anything_else_ends_in_j_channel() -> None:
    found = taken(run("wall", width="40 ft", height="9 ft", under_roof="1"))
    assert feet(found, "J channel") == 40


def test_corner_posts_are_pieces_as_high_as_the_wall() -> None:
    found = taken(run("wall", width="40 ft", height="9 ft", corners="2", inside_corners="1"))
    assert cuts(found, "corner post") == [108, 108]
    assert cuts(found, "inside corner post") == [108]


def test_a_cheek_of_a_dormer_is_a_triangle_with_j_channel_along_the_roof() -> None:
    # 6 ft along and 4 ft high: 12 square feet; six courses of 6, 5, 4, 3, 2 and 1 ft. The area is
    # that of a lumber dealer's printed page "Estimating siding and accessories" (page 70 of its
    # catalog): one side of a dormer 6 ft along and 4 ft high.
    found = taken(run("wall", width="6 ft", height="4 ft", height_end="0 ft", under_eave="1"))
    siding = line(found, "siding panel")
    assert siding.net == Fraction(12, 8)
    assert siding.gross == Fraction(21 * 12 + 1, 144)  # 252 in: one joint of an inch
    # The root of 72 x 72 + 48 x 48, rounded up to 1/64.
    assert Fraction(8653, 100) < feet(found, "J channel") * 12 < Fraction(8655, 100)
    assert feet(found, "undersill trim") == 6
    assert "starter strip" not in items(found)


def test_a_wall_that_slopes_is_sided_course_by_course() -> None:
    # 12 ft wide, 8 ft and 4 ft high: six whole courses of 8 in, then 12, 10, 8, 6, 4 and 2 ft.
    found = taken(run("wall", width="12 ft", height="8 ft", height_end="4 ft", siding_lap="0 in"))
    assert line(found, "siding panel").gross == 6 + Fraction(42, 12)
    assert line(found, "siding panel").net == Fraction(12 * 6, 8)


def test_the_panels_of_a_course_lap_by_an_inch() -> None:
    # Source: the industry's public installation manual of vinyl siding, "horizontal siding": panels
    # overlap by half the notch at their end, or about 1 in. 24 ft in each of 3 courses: 72 ft, and
    # six joints: six panels that lap cover 71 ft 6 in.
    found = taken(run("wall", width="24 ft", height="2 ft"))
    assert line(found, "siding panel").gross == Fraction(72 * 12 + 6, 144)


def test_house_wrap_laps_six_inches_over_the_strip_below_and_a_foot_at_the_end() -> None:
    # 20 ft wide and 12 high: a strip of 9 ft and one of 3 1/2, each 21 ft long.
    found = taken(run("wall", width="20 ft", height="12 ft"))
    assert line(found, "house wrap").gross == Fraction(25, 2) * 21 / 900
    assert line(found, "house wrap").net == Fraction(240, 900)


def test_a_frieze_board_goes_under_the_eave_only() -> None:
    under = taken(run("wall", width="40 ft", height="9 ft", under_eave="1", frieze="1"))
    beside = taken(run("wall", width="40 ft", height="9 ft", frieze="1"))
    assert (feet(under, "frieze board"), "frieze board" in items(beside)) == (40, False)


def test_the_gable_on_a_sided_wall_needs_no_starter_and_each_slope_is_a_line_by_itself() -> None:
    # 24 ft wide at 6 in 12: slopes of 161 in: a stick and 18 in with the lap, each.
    found = taken(run("gable wall", width="24 ft", pitch="6", on_wall="1"))
    assert "starter strip" not in items(found)
    assert cuts(found, "J channel") == [144, 144, 18, 18]


def test_the_gable_end_of_the_lumber_dealer() -> None:
    # Source: the same printed page: a gable end 28 ft wide and 4 ft high has 56 square feet. A rise
    # of 4 ft over half of 28 is 3 3/7 in 12.
    found = taken(run("gable wall", width="28 ft", pitch="24/7"))
    assert line(found, "siding panel").net == Fraction(56, 8)


# --- ceilings -----------------------------------------------------------------------------------


def test_a_porch_of_8_by_6_has_trim_of_96_96_72_and_72() -> None:
    found = taken(run("porch ceiling", length="8 ft", width="6 ft"))
    assert cuts(found, "F channel") == [96, 96, 72, 72]
    assert cuts(found, "soffit panel") == [Fraction(287, 4)] * 8


@pytest.mark.parametrize(
    ("open_sides", "j", "f"),
    [
        ("1", [96], [96, 72, 72]),
        ("2", [96, 72], [96, 72]),
        ("3", [96, 72, 72], [96]),
        ("4", [96, 96, 72, 72], []),
    ],
)
def test_at_a_beam_a_ceiling_takes_j_channel(open_sides: str, j: list[int], f: list[int]) -> None:
    found = taken(run("porch ceiling", length="8 ft", width="6 ft", open_sides=open_sides))
    assert (cuts(found, "J channel"), cuts(found, "F channel")) == (j, f)


def test_a_ceiling_wider_than_a_panel_is_hung_in_rows_with_a_seam() -> None:
    # 14 ft across: two rows of 84 in, each panel a quarter inch shorter; H trim along the seam,
    # 240 in: 144 and 96 with a lap of 3/4 in.
    found = taken(run("porch ceiling", length="20 ft", width="14 ft"))
    assert cuts(found, "soffit panel") == [Fraction(335, 4)] * 40
    assert cuts(found, "H trim") == [144, Fraction(387, 4)]


def test_a_ceiling_as_wide_as_a_panel_and_its_gap_has_no_seam() -> None:
    found = taken(run("porch ceiling", length="20 ft", width="144.25 in"))
    assert cuts(found, "soffit panel") == [144] * 20
    assert "H trim" not in items(found)


def test_a_ceiling_of_panels_of_no_known_length_is_refused_in_words() -> None:
    items = tuple(replace(item, stock_length=None) for item in CATALOG.items)
    porch = run("porch ceiling", length="20 ft", width="8 ft")
    _, [problem] = take_off([porch], replace(CATALOG, items=items))
    assert "needs the stock length of soffit panel in the catalog" in problem.why


# --- gutters ------------------------------------------------------------------------------------

GUTTER = {"length": "42.5 ft", "drop": "9 ft"}


def test_a_gutter_that_turns_corners_has_corner_pieces_and_no_caps_there() -> None:
    found = taken(run("gutter run", **GUTTER, outside_corners="1", end_caps="0"))
    assert line(found, "outside gutter corner").net == 1
    assert not {"end cap", "inside gutter corner"} & items(found)


def test_downspouts_are_counted_along_all_of_a_gutter_that_hangs_together() -> None:
    # All around a house, 42 1/2 and 30 2/3 ft twice: 146 1/3 ft, one to every 35 ft: five.
    begun = ("0 ft", "42.5 ft", f"{Fraction(439, 6)} ft", f"{Fraction(347, 3)} ft")
    lengths = ("42.5 ft", f"{Fraction(92, 3)} ft") * 2
    sides = (
        run("gutter run", length=length, drop="9 ft", before=before)
        for length, before in zip(lengths, begun, strict=True)
    )
    found = taken(*sides)
    assert [one.net for one in found.lines if one.item == "gutter outlet"] == [2, 1, 1, 1]


def test_each_downspout_has_an_outlet_two_straps_at_least_and_its_elbows() -> None:
    found = taken(run("gutter run", **GUTTER, downspouts="2"))
    assert line(found, "gutter outlet").net == 2
    assert line(found, "downspout strap").net == 4
    assert line(found, "elbow").net == 6
    assert cuts(found, "downspout") == [108, 108]


def test_seams_of_a_gutter_are_sealed_a_foot_each() -> None:
    # 42 1/2 ft in 10 ft lengths: four joints; two seams at a corner; a cap; two outlets: nine feet.
    found = taken(run("gutter run", **GUTTER, outside_corners="1", end_caps="1"))
    assert line(found, "caulk").net == Fraction(9, 24)


def test_caps_corners_outlets_and_elbows_are_counted_whole_and_hangers_are_not() -> None:
    found = taken(run("gutter run", **GUTTER, outside_corners="1", inside_corners="1"))
    whole = {one.item for one in found.lines if one.counted}
    assert whole == {
        "outside gutter corner", "inside gutter corner", "end cap", "gutter outlet", "elbow",
    }  # fmt: skip


# --- catalogs of before -------------------------------------------------------------------------


def test_what_an_older_catalog_lacks_is_taken_as_it_usually_is_and_said() -> None:
    fewer = tuple(item for item in CATALOG.items if item.name != "gutter outlet")
    found = taken(run("gutter run", **GUTTER), catalog=replace(CATALOG, items=fewer))
    assert line(found, "gutter outlet").net == 2
    assert "gutter outlet is not in the catalog; it is taken as it usually is" in found.notes


# --- what always holds --------------------------------------------------------------------------

FEET = st.fractions(min_value=12, max_value=90, max_denominator=12)
DEPTHS = st.integers(3 * 16, 40 * 16).map(lambda parts: Fraction(parts, 16))
SHARES = st.sampled_from([Fraction(0), Fraction(1, 3), Fraction(1, 2), Fraction(3, 4), Fraction(1)])


@settings(max_examples=60)
@given(FEET, st.lists(DEPTHS, min_size=1, max_size=3), SHARES, st.integers(0, 2), st.integers(0, 1))
def test_each_panel_of_an_eave_is_cut_once_whichever_are_vented(
    length: Fraction, depths: list[Fraction], vented: Fraction, outside: int, inside: int
) -> None:
    # Inside corners of 40 in leave something of 12 ft.
    measures = (
        ("length", Amount(length, "ft")),
        ("vented", Amount(vented)),
        ("outside_corners", Amount(Fraction(outside))),
        ("inside_corners", Amount(Fraction(inside))),
    )
    along = tuple(Depth(depth) for depth in depths)
    solid = replace_measure(measures, "vented", Fraction(0))
    found = taken(Run("boxed eave", "north", measures, along))
    plain = taken(Run("boxed eave", "north", solid, along))
    panels = cuts(found, "vented soffit panel") + cuts(found, "soffit panel")
    assert sorted(panels) == sorted(cuts(plain, "soffit panel"))
    assert len(cuts(found, "vented soffit panel")) == ceil(vented * len(panels))
    for way in ("net", "gross"):
        parts = [getattr(one, way) for one in found.lines if one.item.endswith("soffit panel")]
        assert sum(parts) == getattr(line(plain, "soffit panel"), way)
    assert all(one.net <= one.gross for one in found.lines)


def replace_measure(
    measures: tuple[tuple[str, Amount], ...], name: str, number: Fraction
) -> tuple[tuple[str, Amount], ...]:
    return tuple((known, Amount(number) if known == name else one) for known, one in measures)


@given(
    st.integers(1, 200), st.integers(1, 200), st.integers(0, 120), st.integers(0, 2), st.booleans()
)
def test_every_line_of_a_wall_is_no_less_gross_than_net(
    width: int, height: int, end: int, corners: int, eave: bool
) -> None:
    wall = run(
        "wall", width=f"{width} in", height=f"{height} in", height_end=f"{end} in",
        corners=str(corners), under_eave=str(int(eave)), under_roof=str(int(not eave)),
    )  # fmt: skip
    found = taken(wall)
    assert all(0 < one.net <= one.gross for one in found.lines)
    assert feet(found, "corner post") * 12 == corners * max(height, end)
