"""Kinds of work are data: ours hold together, and a person's own are checked before they count."""

from pathlib import Path

import pytest

from joblog.catalog.lines import starter_catalog
from joblog.model import Amount, Run
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
