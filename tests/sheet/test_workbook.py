"""Workbooks: cells as a person sees them, numbers as they were typed."""

import io
import zipfile
from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from joblog.sheet import Columns, Sheet, read_sheet, refused, workbook
from joblog.sheet.opening import UnreadableError

COLUMNS = Columns("a list of boards", ("name", "wide", "day"), words=("name",), days=("day",))


def saved(fill: Callable[[Worksheet], Any]) -> bytes:
    workbook = Workbook()
    sheet = workbook.active
    sheet.append(["name", "wide", "day"])
    fill(sheet)
    content = io.BytesIO()
    workbook.save(content)
    return content.getvalue()


def read(content: bytes) -> Sheet:
    return read_sheet(content, "boards", COLUMNS)


@pytest.mark.parametrize(
    ("value", "shown_as", "text"),
    [
        (41.1, "General", "41.1"),
        (41.099999999999994, "General", "41.1"),  # 37.7 + 3.4 in a spreadsheet program
        (0.1 + 0.2, "General", "0.3"),
        (11.875, "# ?/?", "11.875"),
        (41, "General", "41"),
        (41.0, "0.00", "41"),
        (1e-7, "General", "0.0000001"),
        (12345678.5, "#,##0.00", "12345678.5"),
        (1250, '"$"#,##0.00', "1250"),
        (0.07, "0%", "7%"),
        (0.075, "0.0%", "7.5%"),
        (41, '0" ft"', "41 ft"),
        (41.5, '0.0\\ "ft"', "41.5 ft"),
        (41, "0\\'", "41'"),
        (41, '0\\"', '41"'),
        (7, "000", "007"),
        ("11 7/8", "General", "11 7/8"),
        ("  5\u00bd ", "General", "5\u00bd"),
        (True, "General", "true"),
    ],
)
def test_a_cell_comes_as_it_was_typed(value: object, shown_as: str, text: str) -> None:
    def fill(sheet: Worksheet) -> None:
        sheet["B2"] = value
        sheet["B2"].number_format = shown_as

    assert [row.cells["wide"] for row in read(saved(fill)).rows] == [text]


def test_a_day_is_written_as_one_where_days_belong() -> None:
    sheet = read(saved(lambda sheet: sheet.append(["a", 5, date(2026, 10, 5)])))
    assert sheet.rows[0].cells["day"] == "2026-10-05"


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        (["a", date(2026, 6, 12)], "wide: 2026-06-12 is a day, which a spreadsheet makes of"),
        ([datetime(2026, 6, 12), 5], "name: 2026-06-12 is a day"),
        (["a", time(3, 4)], "wide: 03:04:00 is a time of day"),
        (["a", "=1+1"], "wide: is a formula without its result"),
        (["a", "#REF!"], "wide: #REF! is an error of the spreadsheet"),
        (["a", 5, None, "more"], "has more cells than there are columns ('more')"),
    ],
)
def test_a_cell_that_cannot_be_known_refuses_its_row(cells: list[object], said: str) -> None:
    sheet = read(saved(lambda sheet: [sheet.append(["first", 1]), sheet.append(cells)]))
    assert [row.cells["name"] for row in sheet.rows] == ["first"]
    [problem] = sheet.problems
    assert problem.what == "boards, row 3"
    assert problem.why.startswith(said)


def test_cells_that_are_merged_are_filled_in_by_nobody() -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["a", 5])
        sheet.append([None, 6])
        sheet.merge_cells("A2:A3")

    sheet = read(saved(fill))
    assert sheet.rows == ()
    assert [problem.why for problem in sheet.problems] == [
        "name: is one cell with others (A2:A3); part them, and fill in each"
    ] * 2


def test_a_formula_counts_as_the_workbook_shows_it() -> None:
    content = saved(lambda sheet: sheet.append(["a", "=2*3"]))
    assert [row.cells["wide"] for row in read(_with_result(content, "6")).rows] == ["6"]


def _with_result(content: bytes, result: str) -> bytes:
    """The workbook as a spreadsheet program saves it, which writes what a formula gives."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w") as new:
        for part in old.namelist():
            text = old.read(part).decode()
            new.writestr(part, text.replace("</f><v></v>", f"</f><v>{result}</v>").replace(
                "</f><v />", f"</f><v>{result}</v>"
            ))  # fmt: skip
    return out.getvalue()


def test_hidden_rows_and_other_sheets_are_told_of() -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["a", 5])
        sheet.append(["b", 6])
        sheet.row_dimensions[3].hidden = True
        other = sheet.parent.create_sheet("Notes")
        other["A1"] = "bring the ladder"

    sheet = read(saved(fill))
    assert [row.where for row in sheet.rows] == ["boards, row 2", "boards, row 3"]
    assert [problem.why for problem in sheet.problems] == [
        "read with sheet 'Sheet'; not read: 'Notes'; 1 hidden row read too"
    ]


def test_two_sheets_with_the_same_columns_are_refused() -> None:
    def fill(sheet: Worksheet) -> None:
        sheet.append(["a", 5])
        sheet.parent.copy_worksheet(sheet).title = "Last year"

    [problem] = read(saved(fill)).problems
    assert problem.why.startswith("has several sheets with such columns ('Sheet', 'Last year')")


def test_its_numbers_take_the_decimal_sign_of_its_text() -> None:
    sheet = read(saved(lambda sheet: [sheet.append(["1.5", "41,5"]), sheet.append([1.5, 41.25])]))
    assert (sheet.decimal, refused(sheet.problems)) == (",", ())
    assert [row.cells["wide"] for row in sheet.rows] == ["41,5", "41,25"]
    assert [row.cells["name"] for row in sheet.rows] == ["1.5", "1.5"]


@pytest.mark.parametrize("cut", [30, 200, 2000])
def test_a_workbook_that_is_cut_off_is_refused_in_one_line(cut: int) -> None:
    [problem] = read(saved(lambda sheet: sheet.append(["a", 5]))[:cut]).problems
    assert "workbook" in problem.why


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/styles.xml"])
def test_a_workbook_with_a_part_that_is_damaged_is_refused_in_one_line(part: str) -> None:
    content = saved(lambda sheet: sheet.append(["a", 5]))
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name)[:40] if name == part else old.read(name))
    [problem] = read(out.getvalue()).problems
    assert problem.why == "is a workbook that is damaged; save it once more"


def test_a_document_of_another_program_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "boards.ods"
    with zipfile.ZipFile(file, "w") as parts:
        parts.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    [problem] = read_sheet(file, "", COLUMNS).problems
    assert problem.why == "is no workbook that can be read here; save it as .xlsx or CSV"


def with_part(content: bytes, name: str, change: Callable[[str], str]) -> bytes:
    """The workbook with one of its parts written otherwise."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(made, "w") as new:
        for part in old.namelist():
            text = old.read(part).decode()
            new.writestr(part, change(text) if part == name else text, zipfile.ZIP_DEFLATED)
    return made.getvalue()


FAR = {
    "a last cell": '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>',
    "one cell of all": '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
    "many cells": "<row>" + "<c/>" * 500_001 + "</row></sheetData>",
    "a far column": '<row><c r="XFD9"/></row>' + "<row/>" * 1000 + "</sheetData>",
}


@pytest.mark.parametrize("how", FAR)
def test_a_workbook_that_is_small_and_reaches_far_is_refused(how: str) -> None:
    far = with_part(
        saved(lambda sheet: sheet.append(["a", 1])),
        "xl/worksheets/sheet1.xml",
        lambda text: text.replace("</sheetData>", FAR[how]),
    )
    with pytest.raises(UnreadableError, match="reaches to, more than 500,000 cells"):
        workbook.refuse_too_large(far)


def test_a_workbook_of_a_large_job_is_none_of_these(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "MOST_CELLS", 40_100)
    rows = "<row>" + '<c r="T1" t="n"><v>1</v></c>' * 20 + "</row>"
    large = with_part(
        saved(lambda sheet: None),
        "xl/worksheets/sheet1.xml",
        lambda text: text.replace("</sheetData>", rows * 2_000 + "</sheetData>"),
    )
    workbook.refuse_too_large(large)


def test_a_workbook_that_unpacks_to_more_than_a_memory_holds_is_refused() -> None:
    bomb = io.BytesIO(saved(lambda sheet: None))
    with zipfile.ZipFile(bomb, "a", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/media/picture.bin", bytes(65 << 20))
    assert len(bomb.getvalue()) < 100_000
    with pytest.raises(UnreadableError, match="unpacks to more than 64 MB"):
        workbook.refuse_too_large(bomb.getvalue())
