"""A number of five thousand digits in any cell is one plain problem, wherever tables are read."""

from collections.abc import Callable
from pathlib import Path

import pytest

from joblog.catalog.read_csv import read_catalog
from joblog.cutting.read_pieces import read_pieces
from joblog.cutting.read_plan import read_plans
from joblog.model import Problem
from joblog.ordering.wishes import counts_of
from joblog.plan import read_json
from joblog.plan.read_csv import read_csv
from joblog.rates.read_csv import read_history_csv
from joblog.takeoff.runs import read_runs

ENDLESS = "7" * 5000
VAST = "7" * 13

CATALOG = "line,name,unit,cost,length,kerf,covers,sold by,also\n"
PLAN = "line,name,quantity,unit,cost,opening,net,offcut,amount\n"
RATES = "job,date,item,net,consumed,geometric,task,quantity,crew hours,temperature,depth,crew\n"
RUNS = "work,place,length,depth,pitch,depths\n"
PIECES = "length,pieces,label\n"


@pytest.mark.parametrize("number", [ENDLESS, VAST])
@pytest.mark.parametrize(
    ("read", "table"),
    [
        (read_catalog, CATALOG + "item,post,stick,#\n"),
        (read_catalog, CATALOG + "item,post,stick,,#\n"),
        (read_catalog, CATALOG + "item,post,stick,,10 ft,#\n"),
        (read_catalog, CATALOG + "item,wrap,roll,,,,# ft2\n"),
        (read_catalog, CATALOG + "item,wrap,roll,,,,,box of #\n"),
        (read_catalog, CATALOG + "item,wrap,roll,,,,,,pallet = #\n"),
        (read_csv, PLAN + "item,post,#,stick\n"),
        (read_csv, PLAN + "item,post,9,stick,#\n"),
        (read_csv, PLAN + "item,post,9,stick,,#\n"),
        (read_csv, PLAN + "item,post,9,stick,,,#\n"),
        (read_csv, PLAN + "item,post,9,stick,,,,#\n"),
        (read_csv, PLAN + "task,hang soffit,#,\n"),
        (read_csv, PLAN + "task,hang soffit,9,,,,,,# ft\n"),
        (read_history_csv, RATES + "a,2026-01-01,post,#,9\n"),
        (read_history_csv, RATES + "a,2026-01-01,post,9,#\n"),
        (read_history_csv, RATES + "a,2026-01-01,,,,,hang soffit,#,9\n"),
        (read_history_csv, RATES + "a,2026-01-01,,,,,hang soffit,9,#\n"),
        (read_history_csv, RATES + "a,2026-01-01,post,9,9,,,,,#\n"),
        (read_history_csv, RATES + "a,2026-01-01,post,9,9,,,,,,,#\n"),
        (read_runs, RUNS + "boxed eave,north eave,#,12\n"),
        (read_runs, RUNS + "boxed eave,north eave,40 ft,#\n"),
        (read_runs, RUNS + "boxed eave,north eave,40 ft,,,# 12\n"),
        (read_pieces, PIECES + "#,2\n"),
        (read_pieces, PIECES + "40,#\n"),
    ],
)
def test_a_cell_of_endless_digits_is_a_short_problem(
    read: Callable[[str], tuple[object, tuple[Problem, ...]]], table: str, number: str
) -> None:
    _, problems = read(table.replace("#", number))
    assert problems
    assert all(len(problem.why) < 240 and "limit" not in problem.why for problem in problems)


def test_a_count_of_endless_digits_is_refused_in_a_short_line() -> None:
    with pytest.raises(ValueError, match="beyond reason") as refused:
        counts_of([f"post={ENDLESS}"])
    assert len(str(refused.value)) < 200


@pytest.mark.parametrize("number", [ENDLESS, f'"{ENDLESS}"', f'"{VAST}"', '"1e999999999"'])
def test_a_printed_plan_with_an_endless_number_is_no_plan(tmp_path: Path, number: str) -> None:
    file = tmp_path / "plan.json"
    item = f'{{"item": {{"name": "post", "unit": "stick"}}, "quantity": {number}}}'
    file.write_text(f'{{"items": [{item}]}}', "utf-8")
    _, problems = read_json(file)
    assert problems
    assert all(len(problem.why) < 240 and "limit" not in problem.why for problem in problems)


@pytest.mark.parametrize("number", [ENDLESS, f'"{ENDLESS}"', '"1e999999999"'])
def test_a_printed_cut_list_with_an_endless_number_is_none(tmp_path: Path, number: str) -> None:
    file = tmp_path / "cuts.json"
    file.write_text(f'{{"plans": [{{"sticks": [], "kerf": {number}}}]}}', "utf-8")
    with pytest.raises(ValueError, match="is no cut list"):
        read_plans(file)
