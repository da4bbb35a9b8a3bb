"""Runs come from a spreadsheet, from options, or from what was dictated at a place."""

import csv
import io
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.model import Amount, BookEntry, Depth, Entry, Run
from joblog.sheet import Reading
from joblog.takeoff.runs import as_dictated, read_runs, run_of, with_usual
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works

DEMO = Path(__file__).parents[2] / "fixtures" / "demo" / "runs.csv"
HEAD = "work,place,length,depth,depths,pitch,run,width,openings,around,items\n"


def said(entry: Entry, *doubts: str, standing: str = "heard") -> BookEntry:
    at = datetime(2026, 10, 5, 12, tzinfo=UTC)
    return BookEntry(1, 1, at, entry, doubts, standing, "heard", at, "")  # type: ignore[arg-type]


def measure(inches: int | str, place: str = "north eave", **more: object) -> Entry:
    return Entry("measure", place=place, inches=Fraction(inches), **more)  # type: ignore[arg-type]


def test_a_row_is_a_run_with_its_measures_in_their_usual_units() -> None:
    [run], problems = read_runs(HEAD + "Boxed Eave,North  Eave,41,11 7/8,,,,,,,\n")
    assert problems == ()
    assert run == Run(
        "boxed eave",
        "north eave",
        (("length", Amount(Fraction(41), "ft")), ("depth", Amount(Fraction(95, 8), "in"))),
        row="runs, row 2",
    )


def test_depths_may_be_even_or_at_their_places_in_feet() -> None:
    even = run_of({"work": "boxed eave", "length": "41", "depths": "11 7/8; 12"})
    placed = run_of({"work": "boxed eave", "length": "41", "depths": "0: 11 7/8; 20' 6\": 12"})
    assert even.depths == (Depth(Fraction(95, 8)), Depth(Fraction(12)))
    assert placed.depths == (
        Depth(Fraction(95, 8), Fraction(0)),
        Depth(Fraction(12), Fraction(246)),
    )


def test_openings_give_their_area_and_their_edge() -> None:
    run = run_of({"work": "wall", "width": "41", "height": "9", "openings": "3x4; 3x4"})
    assert dict(run.measures)["openings"] == Amount(Fraction(24), "ft2")
    assert dict(run.measures)["around"] == Amount(Fraction(28), "ft")


def test_an_edge_that_a_person_gives_counts() -> None:
    run = run_of({"work": "wall", "width": "41", "height": "9", "openings": "3x4", "around": "9"})
    assert dict(run.measures)["around"] == Amount(Fraction(9), "ft")


def test_an_item_may_stand_in_for_another() -> None:
    run = run_of({"work": "boxed eave", "items": "Soffit Panel: vented soffit panel"})
    assert run.instead == (("soffit panel", "vented soffit panel"),)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("boxd eave,x,41,12,,,,,,,", "there is no kind of work 'boxd eave'"),
        (",x,41,12,,,,,,,", "there is no kind of work ''"),
        ("boxed eave,x,0,12,,,,,,,", "length is zero"),
        ("boxed eave,x,-4,12,,,,,,,", "length: -4 is below zero"),
        ("boxed eave,x,41 cubits,12,,,,,,,", "length: there is no unit 'cubits'"),
        ("boxed eave,x,41,12 lb,,,,,,,", "depth: '12 lb' is no amount in in"),
        ("boxed eave,x,1/0,12,,,,,,,", "length: '1/0' divides by zero"),
        ("boxed eave,x,41,12,11; 12,,,,,,", "has both depth and depths"),
        ("boxed eave,x,41,,11; 0,,,,,,", "depths: 0 is no depth"),
        ("boxed eave,x,41,,11; deep,,,,,,", "depths: 'deep' is not an amount"),
        ("boxed eave,x,41,12,,6,,,,,", "boxed eave takes no pitch"),
        ("gable wall,x,,,11; 12,6,,24,,,", "gable wall is measured once"),
        ("gable wall,x,,,,1/2,,24,,,", "pitch: '1/2' may mean two things"),
        ("gable wall,x,,,,6,,24,door,,", "openings: 'door' is not an amount"),
        ("boxed eave,x,41,1,,,,,,,", "depth 1 in is below 3 in"),
        ("boxed eave,x,41,,11; 1,,,,,,", "depth 1 in is below 3 in"),
        ("boxed eave,x,4100,12,,,,,,,", "length 4,100 ft is more than 400 ft"),
        ("boxed eave,x,11 9/8,12,,,,,,,", "is it 12 1/8?"),
        ("boxed eave,x,41,12,,,,,,,fascia", "is written like soffit panel: vented"),
        ("boxed eave,x,41,12,,,,,,,,,9", "has more cells than there are columns"),
    ],
)
def test_a_bad_row_is_named_and_left_out(row: str, why: str) -> None:
    runs, [problem] = read_runs(HEAD + "boxed eave,good,41,12,,,,,,,\n" + row + "\n")
    assert [run.place for run in runs] == ["good"]
    assert problem.what == "runs, row 3"
    assert why in problem.why


def test_numbers_beyond_reason_are_taken_from_whoever_is_sure() -> None:
    runs, problems = read_runs(HEAD + "boxed eave,x,4100,1,,,,,,,\n", reading=Reading(sure=True))
    assert problems == ()
    assert dict(runs[0].measures)["depth"] == Amount(Fraction(1), "in")


def test_a_table_without_kinds_of_work_is_refused() -> None:
    runs, [problem] = read_runs("place,length\nnorth,41\n")
    assert (runs, "has no column work" in problem.why) == ((), True)


def test_a_missing_file_and_a_picture_are_plain_lines(tmp_path: Path) -> None:
    picture = tmp_path / "runs.csv"
    picture.write_bytes(b"\xff\xd8\xff\xe0")
    _, [missing] = read_runs(tmp_path / "none.csv")
    _, [no_text] = read_runs(picture)
    assert "is not there" in missing.why
    assert "has no column work" in no_text.why


def test_the_temperature_of_the_day_holds_for_every_run_that_does_not_say_its_own() -> None:
    runs = [
        run_of({"work": "boxed eave", "place": "a"}),
        run_of({"work": "boxed eave", "place": "b", "fahrenheit": "70"}),
        run_of({"work": "wall", "place": "c"}),
    ]
    cold = with_usual(runs, fahrenheit=35)
    assert [dict(run.measures).get("fahrenheit") for run in cold] == [
        Amount(Fraction(35)),
        Amount(Fraction(70)),
        None,
    ]


def test_the_demo_runs_are_read_and_taken_off_without_a_problem() -> None:
    runs, problems = read_runs(DEMO)
    found, wrong = take_off(runs, starter_catalog())
    assert (problems, wrong) == ((), ())
    assert {line.place for line in found.lines} == {"north eave", "south eave", "west gable"}


CELLS = st.sampled_from(
    ["", "0", "-1", "1/0", "41", "11 7/8", "12 ft 6 in", "9999999", "1e9", "x", "3 x 4", "6/12",
     "0: 12; 41: 13", "12; 13; 14", "500: 12", ";", ":", "=1+1", "\x1b[31m", "fascia: gutter",
     "soffit panel: caulk", "½", "٣", "1" * 60, "'", '"']
) | st.text(max_size=8)  # fmt: skip
COLUMNS = HEAD.strip().split(",")


@settings(max_examples=200)
@given(st.sampled_from(sorted(starter_works())), st.lists(CELLS, min_size=10, max_size=10))
def test_whatever_stands_in_a_row_it_is_taken_off_or_refused_in_words(
    work: str, cells: list[str]
) -> None:
    out = io.StringIO()
    csv.writer(out).writerows([COLUMNS, [work, *cells]])
    runs, problems = read_runs(out.getvalue())
    found, wrong = take_off(runs, starter_catalog())
    assert len(runs) + len(problems) <= 1
    assert all(problem.why for problem in (*problems, *wrong))
    assert all(line.gross >= line.net >= 0 for line in found.lines)


# --- dictated -----------------------------------------------------------------------------------


def test_a_short_measure_at_the_place_is_a_depth_and_a_long_one_the_length() -> None:
    entries = [said(measure("191/16")), said(measure("49/4")), said(measure(492))]
    [run], told = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert run.depths == (Depth(Fraction(191, 16)), Depth(Fraction(49, 4)))
    assert dict(run.measures)["length"] == Amount(Fraction(492), "in")
    assert told == (
        "north eave: length 41' as dictated, taken to be the length",
        "north eave: depth 11 15/16, 12 1/4 in as dictated, taken to be the depth, evenly from end "
        "to end",
    )


def test_a_measure_is_of_what_was_said_and_a_reveal_is_no_depth() -> None:
    entries = [
        said(measure(492, dimension="length")),
        said(measure("99/8", dimension="depth")),
        said(measure("9/8", dimension="reveal")),
    ]
    [run], told = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    found, _ = take_off([run], starter_catalog())
    assert run.depths == (Depth(Fraction(99, 8)),)
    assert told == (
        "north eave: length 41' as dictated",
        "north eave: depth 12 3/8 in as dictated",
        "north eave: reveal 1 1/8 in left alone: boxed eave takes no reveal",
    )
    # 41 ft times 12 3/8 in, by hand: 41 * 99 / 96 = 42.28 square feet.
    assert [round(float(figure.amount.quantity), 2) for figure in found.figures] == [42.28]


def test_beside_a_depth_that_was_named_a_bare_measure_is_not_taken_for_another() -> None:
    entries = [said(measure("99/8", dimension="depth")), said(measure(14))]
    [run], told = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert run.depths == (Depth(Fraction(99, 8)),)
    assert told[1] == "north eave: 14 in left alone: say what it is, such as 'depth'"


def test_bare_measures_too_unlike_to_be_one_depth_are_not_guessed() -> None:
    entries = [said(measure("99/8")), said(measure("9/8"))]
    eave = run_of({"work": "boxed eave", "place": "north eave"})
    assert as_dictated([eave], entries) == (
        (eave,),
        ("north eave: 12 3/8 in, 1 1/8 in left alone: say what it is, such as 'depth'",),
    )


def test_width_and_height_of_a_wall_are_told_apart_by_their_names_alone() -> None:
    wall = [run_of({"work": "wall", "place": "north eave"})]
    named = [said(measure(264, dimension="width")), said(measure(112, dimension="height"))]
    [run], _ = as_dictated(wall, named)
    [bare], _ = as_dictated(wall, [said(measure(264)), said(measure(112))])
    assert dict(run.measures) == {
        "width": Amount(Fraction(264), "in"),
        "height": Amount(Fraction(112), "in"),
    }
    assert bare == wall[0]


def test_the_depth_of_the_soffit_is_the_depth_of_its_run_and_that_of_the_fascia_is_not() -> None:
    entries = [
        said(measure(14, item="vented soffit panel", dimension="depth")),
        said(measure(6, item="fascia", dimension="depth")),
    ]
    [run], _ = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert run.depths == (Depth(Fraction(14)),)


def test_depths_said_with_where_they_are_stand_there() -> None:
    entries = [
        said(Entry("measure", place="north eave", inches=Fraction(14), note="at 4 ft")),
        said(Entry("measure", place="north eave", inches=Fraction(57, 4), note="at 12 1/2 ft")),
    ]
    [run], told = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert run.depths == (Depth(Fraction(14), Fraction(48)), Depth(Fraction(57, 4), Fraction(150)))
    assert told == (
        "north eave: depth 14, 14 1/4 in as dictated, taken to be the depth, at 4', 12' 6\"",
    )


def test_a_dictated_pitch_is_taken() -> None:
    pitch = said(Entry("measure", place="west gable", pitch=Fraction(6)))
    [run], _ = as_dictated([run_of({"work": "rake", "place": "west gable"})], [pitch])
    assert dict(run.measures)["pitch"] == Amount(Fraction(6))


def test_what_the_run_has_already_stays() -> None:
    given = run_of({"work": "boxed eave", "place": "north eave", "length": "40", "depth": "11"})
    entries = [said(measure(12)), said(measure(492))]
    assert as_dictated([given], entries) == ((given,), ())


def test_a_doubtful_measure_is_left_out_and_said_so() -> None:
    entries = [said(measure(12), "eleven or twelve?"), said(measure(492))]
    [run], told = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert run.depths == ()
    assert told[0] == "north eave: 1 measure is doubtful and was left out; settle it first"


def test_a_measure_that_an_open_change_may_take_back_is_left_out_and_said_so() -> None:
    change = Entry("correction", action="drop")
    eave = [run_of({"work": "boxed eave", "place": "north eave"})]
    [run], told = as_dictated(eave, [said(measure(12)), said(measure(14)), said(change, "which?")])
    [settled], _ = as_dictated(eave, [said(measure(12)), said(measure(14)), said(change)])
    [refused], _ = as_dictated(
        eave, [said(measure(12)), said(measure(14)), said(change, "which?", standing="dropped")]
    )
    assert run.depths == (Depth(Fraction(12)),)
    assert told[0] == "north eave: 1 measure is doubtful and was left out; settle it first"
    assert settled.depths == refused.depths == (Depth(Fraction(12)), Depth(Fraction(14)))


@pytest.mark.parametrize(
    "entry",
    [
        said(measure(12), standing="dropped"),
        said(measure(12, place="south eave")),
        said(measure(12, item="fascia")),
        said(measure(12, pieces=6)),
        said(Entry("note", place="north eave")),
    ],
)
def test_what_is_no_depth_of_this_place_is_left_alone(entry: BookEntry) -> None:
    run = run_of({"work": "boxed eave", "place": "north eave"})
    assert as_dictated([run], [entry]) == ((run,), ())


def test_two_different_lengths_are_asked_about_and_neither_is_taken() -> None:
    run = run_of({"work": "boxed eave", "place": "north eave"})
    same, told = as_dictated([run], [said(measure(492)), said(measure(480))])
    assert same == (run,)
    assert told == ("north eave: which length is it? These were said: 41', 40'",)


def test_depths_at_their_places_may_differ_as_they_like() -> None:
    entries = [said(measure(8, note="at 0 ft")), said(measure(24, note="at 20 ft"))]
    [run], _ = as_dictated([run_of({"work": "boxed eave", "place": "north eave"})], entries)
    assert [depth.depth for depth in run.depths] == [8, 24]
