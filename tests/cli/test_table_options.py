"""How a table is to be read, said on a command line or asked at a terminal."""

import ctypes
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook
from running import Say

from joblog.sheet import apart
from joblog.workers import Pool


@pytest.fixture
def job(say: Say) -> Say:
    assert say("new", "Mill house", "--zone", "America/Chicago", "--book", "book")[0] == 0
    return say


def planned(job: Say, *words: str) -> tuple[int, dict[str, tuple[str, str]], str]:
    """After loading a plan: the exit status, quantity and cost by item, and what was told."""
    status, _, told = job("plan", *words, "--book", "book")
    items = json.loads(job("plan", "--json", "--book", "book")[1])["items"]
    return (
        status,
        {line["item"]["name"]: (line["quantity"], line["unit_cost"]) for line in items},
        told,
    )


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="Windows has no pipes among its files.")
def test_a_pipe_is_no_table_and_nobody_waits_for_it(job: Say) -> None:
    os.mkfifo("plan.csv")
    status, _, told = planned(job, "plan.csv")
    assert (status, "plan.csv: cannot be read: it is no file" in told) == (1, True)


def test_a_price_that_is_called_otherwise_is_asked_for_and_never_ignored(job: Say) -> None:
    Path("plan.csv").write_text("line,name,quantity,price\nitem,fascia,7,14.90\n")
    status, items, told = planned(job, "plan.csv")
    assert (status, items) == (1, {})
    assert "for cost say --column price=cost; to leave it out say --column price=" in told
    meant = planned(job, "plan.csv", "--column", "price=cost")
    assert meant[:2] == (0, {"fascia": ("7", "14.90")})
    left_out = planned(job, "plan.csv", "--column", "price=")
    assert left_out[:2] == (0, {"fascia": ("7", None)})


def test_a_plan_with_a_bad_row_is_not_loaded_unless_that_is_said(job: Say) -> None:
    Path("plan.csv").write_text("line,name,quantity\nitem,fascia,7\nitem,gutter,many\n")
    status, items, told = planned(job, "plan.csv")
    assert (status, items) == (1, {})
    assert told.endswith(
        "The plan was not loaded; mend these first:\n"
        "plan.csv, row 3: gutter: 'many' is not a number\n"
        "Or say --without-bad-rows to take the other rows.\n"
    )
    status, items, told = planned(job, "plan.csv", "--without-bad-rows")
    assert (status, list(items)) == (0, ["fascia"])
    assert "plan.csv: 1 row was left out" in told


def test_how_a_table_was_read_is_not_among_what_is_to_be_mended(job: Say) -> None:
    Path("plan.csv").write_text("line;name;quantity\nitem;fascia;7,5\nitem;gutter;many\n")
    _, _, told = planned(job, "plan.csv")
    how, wrong = told.split("The plan was not loaded; mend these first:\n")
    assert "semicolons between the cells" in how
    assert wrong.startswith("plan.csv, row 3: gutter")


def test_a_number_beyond_reason_is_taken_from_whoever_is_sure(job: Say) -> None:
    Path("plan.csv").write_text(f"line,name,quantity\nitem,fascia,{'9' * 9}\n")
    status, items, told = planned(job, "plan.csv")
    assert (status, items) == (1, {})
    assert "say --sure if it is so" in told
    assert planned(job, "plan.csv", "--sure")[:2] == (0, {"fascia": ("999999999", None)})


def test_decimal_commas_are_understood_where_the_table_is_of_such(job: Say) -> None:
    Path("plan.csv").write_bytes(
        "line;name;quantity;cost\nitem;fascia;7,5;12,50\n".encode("utf-16")
    )
    status, items, told = planned(job, "plan.csv")
    assert (status, items) == (0, {"fascia": ("15/2", "12.50")})
    assert "read with UTF-16 letters; semicolons between the cells; decimal commas" in told


def test_a_comma_that_may_part_thousands_or_decimals_is_asked_about(job: Say) -> None:
    Path("plan.csv").write_text("line;name;quantity\nitem;fascia;1,250\n")
    status, items, told = planned(job, "plan.csv")
    assert (status, items) == (1, {})
    assert "plan.csv, row 2: holds '1,250', of which nobody can tell" in told
    assert "--without-bad-rows" not in told
    assert planned(job, "plan.csv", "--decimal", ".")[1] == {"fascia": ("1250", None)}
    assert planned(job, "plan.csv", "--decimal", ",")[1] == {"fascia": ("5/4", None)}


def test_a_workbook_is_read_as_a_table_is(job: Say) -> None:
    workbook = Workbook()
    for row in (["line", "name", "quantity", "cost"], ["item", "fascia", 7.5, 12.5]):
        workbook.active.append(row)
    workbook.save("plan.xlsx")
    assert planned(job, "plan.xlsx")[:2] == (0, {"fascia": ("15/2", "12.5")})


def test_a_workbook_that_kills_the_process_that_opens_it_ends_in_one_line_and_1(
    job: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    Workbook().save("plan.xlsx")
    with Pool(crashing, 1) as pool:
        monkeypatch.setattr(apart, "_standing", pool)
        status, items, told = planned(job, "plan.xlsx")
    assert (status, items) == (1, {})
    assert told == (
        "The plan was not loaded; mend these first:\n"
        "plan.xlsx: makes the program stop that opens workbooks; save it as CSV, and take that\n"
    )


def crashing() -> Callable[[object], object]:
    return crash


def crash(closed: object) -> object:
    return ctypes.string_at(0)


def test_a_new_job_with_a_bad_plan_says_how_to_go_on(say: Say) -> None:
    Path("plan.csv").write_text("line,name,quantity\nitem,fascia,many\n")
    status, _, told = say("new", "Mill house", "--plan", "plan.csv", "--book", "book")
    assert status == 1
    assert told.endswith("Mill house has no plan yet; then say joblog plan plan.csv\n")


def test_earlier_jobs_with_a_bad_row_are_not_kept_unless_that_is_said(job: Say) -> None:
    head = "job,date,item,work,gone\nElm,2025-05-01,fascia,10,12\n"
    Path("paper.csv").write_text(f"{head}Oak,2025-06-01,fascia,ten,12\n")
    status, _, told = job("rates", "--add", "paper.csv", "--book", "book")
    assert status == 1
    assert "No earlier job was kept; mend these first:" in told
    status, _, told = job("rates", "--add", "paper.csv", "--without-bad-rows", "--book", "book")
    assert status == 0
    assert "1 lines of earlier jobs kept, 1 of them new" in told


def test_a_job_that_used_less_than_its_work_is_kept_and_told_of(job: Say) -> None:
    Path("paper.csv").write_text("job,date,item,work,gone\nElm,2025-05-01,fascia,10,9\n")
    status, _, told = job("rates", "--add", "paper.csv", "--book", "book")
    assert status == 0
    assert "it is kept, but look whether something on hand was forgotten" in told


@pytest.mark.parametrize(
    ("columns", "why"),
    [
        (["price"], "is written THEIRS=OURS"),
        (["=cost"], "is written THEIRS=OURS"),
        (["price=cost", "price=net"], "names 'price' twice"),
    ],
)
def test_a_column_is_said_as_theirs_and_ours(job: Say, columns: list[str], why: str) -> None:
    words = [word for column in columns for word in ("--column", column)]
    status, _, told = job("plan", "plan.csv", *words, "--book", "book")
    assert status == 2
    assert why in told


def test_pieces_of_an_unknown_column_are_not_taken_for_one_each(say: Say) -> None:
    Path("pieces.csv").write_text("length,quantity\n41,8\n")
    status, shown, told = say("cuts", "--from", "pieces.csv", "--json")
    assert (status, json.loads(shown)["plans"]) == (1, [])
    assert told.startswith("pieces.csv: 'quantity' is no column of a list of pieces; for pieces")
    status, shown, _ = say("cuts", "--from", "pieces.csv", "--column", "quantity=pieces", "--json")
    assert status == 0
    assert sum(len(stick["cuts"]) for stick in json.loads(shown)["plans"][0]["sticks"]) == 8


@pytest.mark.skipif(sys.platform == "win32", reason="pexpect has no terminal there")
def test_at_a_terminal_each_thing_is_asked_once(job: Say, tmp_path: Path) -> None:
    pexpect = pytest.importorskip("pexpect")
    Path("plan.csv").write_text(
        "line;name;quantity;price;remarks\nitem;fascia;1,250;12.00;back\n"
        "item;gutter;99999999;12.00;\nitem;coil;88888888;12.00;\n"
    )
    words = ["-m", "joblog", "plan", "plan.csv", "--book", "book"]
    env = {**os.environ, "LANG": "C.UTF-8", "PYTHONPATH": os.pathsep.join(sys.path)}
    asked = pexpect.spawn(sys.executable, words, env=env, cwd=tmp_path, timeout=120)
    for question, answer in (
        ("Is 'price' the column cost\\?", "y"),
        ("Leave the column 'remarks' out\\?", "y"),
        ("Is it so\\?", "y"),
    ):
        asked.expect(question)
        asked.sendline(answer)
    asked.expect(pexpect.EOF)
    asked.close()
    assert asked.exitstatus == 0
    items = json.loads(job("plan", "--json", "--book", "book")[1])["items"]
    assert [(line["quantity"], line["unit_cost"]) for line in items] == [
        ("1250", "12.00"),
        ("99999999", "12.00"),
        ("88888888", "12.00"),
    ]
