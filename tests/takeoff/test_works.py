"""Kinds of work are data: ours hold together, and a person's own are checked before they count."""

from fractions import Fraction
from pathlib import Path

import pytest

from joblog.catalog.lines import starter_catalog
from joblog.model import Amount, Run, TakeOff
from joblog.takeoff.take_off import check, take_off
from joblog.takeoff.works import read_works, starter_works

DECK = """
[deck]
about = "boards on joists"
[deck.takes]
length = { unit = "ft" }
width = { unit = "ft" }
gap = { unit = "in", usual = 0.25 }
[deck.let]
rows = "ceil(width / (5.5 * inch + gap))"
[[deck.uses]]
item = "one by six"
net = "rows * length / stock"
[[deck.figures]]
name = "deck"
formula = "length * width"
unit = "ft2"
"""


def test_our_own_kinds_of_work_are_read_and_hold_together() -> None:
    works, problems = read_works(Path("joblog/takeoff/works.toml").resolve())
    assert (dict(works), problems) == (dict(starter_works()), ())
    assert check(works, starter_catalog()) == ()
    assert set(works) >= {
        "boxed eave", "rake", "gable wall", "wall", "porch ceiling", "gutter run",
    }  # fmt: skip


def test_a_person_may_add_a_kind_of_work() -> None:
    works, problems = read_works(DECK)
    assert (problems, check(works, starter_catalog())) == ((), ())
    size = (("length", Amount(12, "ft")), ("width", Amount(10, "ft")))
    found, _ = take_off([Run("deck", "yard", size)], starter_catalog(), works)
    # 120 in / 5 3/4 in is 20.9, so 21 rows of 12 ft.
    assert (found.lines[0].item, found.lines[0].gross) == ("one by six", 21)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("length * width", "length + length * width", "adds or compares ft and ft2"),
        ("rows * length / stock", "rows * length", "comes out in ft, but must be in stick"),
        ("rows * length / stock", "rows + length / stock", "adds or compares"),
        ("rows * length / stock", "rows * hight / stock", "uses 'hight'"),
        ("rows * length / stock", "rows / per_pound", "needs the number in a pound of one by six"),
        ("one by six", "one by seven", "not in the catalog"),
        ("length * width", "length.real", "may hold only"),
        ("length * width", "__import__('os')", "not known here"),
    ],
)
def test_formulas_that_do_not_hold_together_are_found_before_they_are_used(
    old: str, new: str, why: str
) -> None:
    works, problems = read_works(DECK.replace(old, new))
    assert problems == ()
    [problem] = check(works, starter_catalog())
    assert problem.what == "deck"
    assert why in problem.why


@pytest.mark.parametrize(
    ("old", "new", "where", "why"),
    [
        ("about", "colour", "works, deck", "has 'colour'"),
        ('"ft" }\nwidth', '"cubit" }\nwidth', "works, deck, takes length", "unit 'cubit'"),
        ("length =", "ft =", "works, deck, takes ft", "no unit or function"),
        ("length =", "stock =", "works, deck, takes stock", "mean something already"),
        ("length =", "__x =", "works, deck, takes __x", "cannot be called so"),
        ("0.25", '"little"', "works, deck, takes gap", "no number"),
        ("0.25", "1, zero = 0", "works, deck, takes gap", "neither true nor false"),
        ("0.25", "-1", "works, deck, takes gap", "below zero"),
        ("net =", "pieces =", "works, deck, uses 1", "needs either pieces and piece"),
        ('net = "rows * length / stock"', "net = 3", "works, deck, uses 1", "text in quotes"),
        ("[[deck.uses]]", "[deck.uses]", "works, deck, uses", "once for each"),
        ('unit = "ft2"', 'unit = "acre"', "works, deck, figures 1", "unit 'acre'"),
        ('six"\n', "six\"\ntask = 'dig'\n", "works, deck", "uses one by six in dig, which is none"),
        ("[deck]\n", "[deck]\nvaries = 'width'\n", "works, deck", "must also say along and face"),
    ],
)
def test_a_kind_that_cannot_be_read_is_left_out_and_its_place_named(
    old: str, new: str, where: str, why: str
) -> None:
    works, [problem] = read_works(DECK.replace(old, new))
    assert works == {}
    assert problem.what == where
    assert why in problem.why


def test_a_kind_that_is_no_table_is_named() -> None:
    _, [problem] = read_works('deck = "boards"')
    assert (problem.what, problem.why) == ("works, deck", "is no table")


@pytest.mark.parametrize("number", ["7" * 5000, "7" * 13, f"{'7' * 5000}.5"])
def test_a_usual_value_of_endless_digits_is_a_plain_line(number: str) -> None:
    works, [problem] = read_works(f"[x.takes]\nl = {{ usual = {number} }}")
    assert works == {}
    assert "beyond reason" in problem.why and len(problem.why) < 100


@pytest.mark.parametrize("text", ["[deck", "a = 1e999999999", "[x.takes]\nl = { usual = nan }"])
def test_what_is_no_toml_of_ours_is_a_plain_line(text: str) -> None:
    works, [problem] = read_works(text)
    assert works == {}
    assert "is no TOML" in problem.why


def test_a_missing_file_is_a_plain_line(tmp_path: Path) -> None:
    _, [problem] = read_works(tmp_path / "none.toml")
    assert (problem.what, "cannot be read" in problem.why) == ("none.toml", True)


def test_an_item_may_name_the_work_that_it_is_used_up_in() -> None:
    labor = '[[deck.labor]]\ntask = "Lay boards"\nquantity = "length * width"\n'
    named = DECK.replace('six"\n', 'six"\ntask = "lay boards"\n') + labor
    works, problems = read_works(named)
    size = (("length", Amount(12, "ft")), ("width", Amount(10, "ft")))
    found, _ = take_off([Run("deck", "yard", size)], starter_catalog(), works)
    assert (problems, found.lines[0].task) == ((), "lay boards")


def test_all_that_our_own_works_use_names_a_work_of_theirs() -> None:
    for work in starter_works().values():
        assert {use.task for use in work.uses} <= {labor.task for labor in work.labor}


# --- what only some works say -------------------------------------------------------------------

FENCE = """
[fence.takes]
length = { unit = "ft" }
height = { unit = "ft", usual = "length / 10" }
doors = { usual = 0, most = 4 }
[fence.gone]
gates = "say doors in its place"
[[fence.uses]]
item = "one by six"
along = [["2", "length"], ["doors", "height"]]
lap = "0 * inch"
[[fence.uses]]
item = "four by four post"
net = "length / (8 * ft) * one"
counted = true
[[fence.notes]]
when = "doors"
say = "hang the doors first"
[[fence.figures]]
name = "boards in stock lengths"
item = "one by six"
formula = "hung / stock"
"""


def fenced(text: str = FENCE, **measures: int) -> TakeOff:
    works, problems = read_works(text)
    assert (problems, check(works, starter_catalog())) == ((), ())
    units = {"length": "ft", "height": "ft"}
    sizes = tuple((name, Amount(Fraction(n), units.get(name, ""))) for name, n in measures.items())
    found, wrong = take_off([Run("fence", "yard", sizes)], starter_catalog(), works)
    assert wrong == ()
    return found


def test_several_lines_are_each_covered_by_themselves() -> None:
    # Two lines of 20 ft in sticks of 12, and a door as high as a tenth of that.
    pieces = [(p.length, p.pieces) for p in fenced(length=20, doors=1).pieces]
    assert pieces == [(144, 2), (96, 2), (24, 1)]


def test_a_usual_value_may_be_made_of_other_measures() -> None:
    board, _ = fenced(length=20, doors=1).lines
    given, _ = fenced(length=20, doors=1, height=6).lines
    assert (board.net, given.net) == (Fraction(42, 12), Fraction(46, 12))


def test_what_is_counted_whole_says_so() -> None:
    assert [line.counted for line in fenced(length=20).lines] == [False, True]


def test_a_note_is_said_where_its_formula_comes_to_something() -> None:
    assert fenced(length=20, doors=1).notes == ("fence: hang the doors first",)
    assert fenced(length=20).notes == ()


def test_a_figure_may_ask_for_all_pieces_of_an_item() -> None:
    # 42 ft of pieces in sticks of 12 ft.
    [figure] = fenced(length=20, doors=1).figures
    assert figure.amount == Amount(Fraction(42, 12), "stick")


def test_a_figure_of_all_pieces_is_tried_before_it_is_used() -> None:
    works, _ = read_works(FENCE.replace("hung / stock", "hung * stock"))
    [problem] = check(works, starter_catalog())
    assert "boards in stock lengths (hung * stock) comes out in" in problem.why


def test_a_measure_that_is_gone_says_what_to_write() -> None:
    works, _ = read_works(FENCE)
    _, [problem] = take_off(
        [Run("fence", "yard", (("gates", Amount(Fraction(1))),))], starter_catalog(), works
    )
    assert problem.why == "fence: takes no gates any more; say doors in its place"


def test_a_measure_says_its_own_bounds() -> None:
    works, _ = read_works(FENCE)
    assert [(one.least, one.most) for one in works["fence"].takes][-1] == (None, 4)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('"length / 10"', '"lenght / 10"', "no formula of what it takes"),
        ('"length / 10"', '"length +"', "usual cannot be read"),
        ('"length / 10"', '""', "usual value that is no number"),
        ("most = 4", "most = -4", "has a most below zero"),
        ('[["2", "length"], ["doors", "height"]]', '["length"]', "pairs of how many and how long"),
        ('[["2", "length"], ["doors", "height"]]', "[]", "pairs of how many and how long"),
        ("counted = true", "counted = 1", "neither true nor false"),
        ('when = "doors"', "", "has no when"),
    ],
)
def test_what_cannot_be_read_of_these_is_named(old: str, new: str, why: str) -> None:
    works, [problem] = read_works(FENCE.replace(old, new))
    assert works == {}
    assert why in problem.why


def test_a_file_of_ones_own_may_change_only_what_is_usual() -> None:
    works, problems = read_works('["boxed eave".usual]\nface = 16\ndrip_edge = 1\n')
    assert (problems, check(works, starter_catalog())) == ((), ())
    sizes = (("length", Amount(Fraction(16), "ft")), ("depth", Amount(Fraction(12), "in")))
    found, _ = take_off([Run("boxed eave", "x", sizes)], starter_catalog(), works)
    assert [p.pieces for p in found.pieces if p.item == "soffit panel"] == [12]
    assert "drip edge" in {line.item for line in found.lines}


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ('["boxed eave".usual]\nfaces = 16', "takes no faces; it takes length"),
        ('["boxed eave".usual]\nface = 0', "cannot be zero"),
        ('["boxed eave".usual]\nface = "wide"', "no number"),
        ("[deck.usual]\ngap = 1", "is of no work of ours; there are boxed eave"),
    ],
)
def test_a_usual_value_that_cannot_be_is_named(text: str, why: str) -> None:
    works, [problem] = read_works(text)
    assert works == {}
    assert why in problem.why


def test_a_kind_of_work_as_it_was_written_before_takes_nothing_new() -> None:
    # A person's own "boxed eave" stands whole in the place of ours.
    works, problems = read_works(
        """
["boxed eave"]
varies = "depth"
along = "length"
face = "face"
["boxed eave".takes]
length = { unit = "ft" }
depth = { unit = "in" }
hips = { usual = 0 }
face = { unit = "in", usual = 12 }
["boxed eave".let]
edge = "length + hips * depth"
[["boxed eave".uses]]
item = "soffit panel"
pieces = "ceil(edge / face)"
piece = "depth"
[["boxed eave".uses]]
item = "fascia"
along = "edge"
lap = "1 * inch"
"""
    )
    assert (problems, check(works, starter_catalog())) == ((), ())
    sizes = (
        ("length", Amount(Fraction(40), "ft")),
        ("depth", Amount(Fraction(12), "in")),
        ("hips", Amount(Fraction(2))),
    )
    found, wrong = take_off([Run("boxed eave", "x", sizes)], starter_catalog(), works)
    assert wrong == ()
    assert [line.net * 12 for line in found.lines] == [42, 42]
