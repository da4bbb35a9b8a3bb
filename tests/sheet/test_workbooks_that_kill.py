"""Whatever a workbook does to the process that opens it, one plain line comes of it."""

import io
import multiprocessing
import os
import signal
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook

from joblog.sheet import Columns, apart, read_sheet
from joblog.sheet.cells import Grid
from joblog.workers import Limits, Pool

COLUMNS = Columns("a list of boards", ("name", "wide"), words=("name",))


def a_workbook() -> bytes:
    workbook = Workbook()
    for row in (["name", "wide"], ["fascia", 7.5]):
        workbook.active.append(row)
    content = io.BytesIO()
    workbook.save(content)
    return content.getvalue()


def dying() -> Callable[[apart._Closed], Grid | str]:
    return die_of_some


def die_of_some(closed: apart._Closed) -> Grid | str:
    if closed.content.endswith(b"kills"):
        os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))
    while closed.content.endswith(b"turns in circles"):
        pass
    return apart._open(closed)


def why(content: bytes) -> str:
    [problem] = read_sheet(content, "boards.xlsx", COLUMNS).problems
    assert problem.what == "boards.xlsx"
    assert len(problem.why.splitlines()) == 1
    return problem.why


def test_one_that_kills_the_process_that_opens_it_is_told_of_in_one_line_and_the_next_is_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with Pool(dying, 1) as pool:
        monkeypatch.setattr(apart, "_standing", pool)
        assert why(a_workbook() + b"kills") == (
            "makes the program stop that opens workbooks; save it as CSV, and take that"
        )
        [row] = read_sheet(a_workbook(), "boards.xlsx", COLUMNS).rows
    assert row.cells == {"name": "fascia", "wide": "7.5"}


def test_one_that_takes_for_ever_is_told_of_in_one_line_and_not_opened_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    endless = a_workbook() + b"turns in circles"
    with Pool(dying, 1, Limits(computing=0.5)) as pool:
        monkeypatch.setattr(apart, "_standing", pool)
        first = why(endless)
    assert first.startswith("takes too long to be opened")
    monkeypatch.setattr(apart, "_standing", None)
    assert why(endless) == first


def shared_by(cells: int, text: str) -> bytes:
    """A workbook of which so many cells hold one and the same text, which is written once."""
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(a_workbook())) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for part in old.namelist():
            written = old.read(part).decode()
            if part == "xl/worksheets/sheet1.xml":
                rows = '<row><c t="s"><v>0</v></c></row>' * cells
                written = written.replace("</sheetData>", f"{rows}</sheetData>")
            if part == "[Content_Types].xml":
                written = written.replace("</Types>", f"{SHARED}</Types>")
            new.writestr(part, written)
        new.writestr("xl/sharedStrings.xml", f"<sst {SPACE}><si><t>{text}</t></si></sst>")
    return made.getvalue()


SPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
SHARED = (
    '<Override PartName="/xl/sharedStrings.xml" ContentType="application/'
    'vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/>'
)
"""Of the file format, ECMA-376 part 1, 18.4.9 and 12.3.15; written from memory."""


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds a process to its memory")
def test_a_small_one_of_which_gigabytes_come_is_told_of_in_one_line(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    bomb = shared_by(cells=1_000, text="a" * (4 << 20))
    assert len(bomb) < 20_000
    with Pool(apart._ready, 1, Limits(memory=200 << 20)) as pool:
        monkeypatch.setattr(apart, "_standing", pool)
        assert why(bomb).startswith("takes too much memory to be opened")


def rows_of(content: bytes) -> list[str]:
    return [row.cells["name"] for row in read_sheet(content, "boards.xlsx", COLUMNS).rows]


def test_a_process_that_may_have_none_of_its_own_opens_it_by_itself(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(multiprocessing.current_process(), "_config", {"daemon": True})
    monkeypatch.setattr(apart, "_standing", None)
    assert rows_of(a_workbook()) == ["fascia"]


def test_where_the_system_starts_no_more_processes_it_is_opened_here(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with Pool(apart._ready, 1) as pool:
        monkeypatch.setattr(pool, "_hired", refuse)
        monkeypatch.setattr(apart, "_standing", pool)
        assert rows_of(a_workbook()) == ["fascia"]


def refuse() -> None:
    raise BlockingIOError(11, "Resource temporarily unavailable")


def test_a_table_that_is_no_workbook_starts_no_process(tmp_path: Path) -> None:
    (tmp_path / "boards.csv").write_text("name,wide\nfascia,7.5\n")
    script = (
        "import sys; from pathlib import Path; from joblog.sheet import Columns, read_sheet;"
        "[row] = read_sheet(Path('boards.csv'), '', Columns('boards', ('name', 'wide'))).rows;"
        "print(sorted({'multiprocessing', 'psutil', 'openpyxl'} & set(sys.modules)))"
    )
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    told = subprocess.run(
        [sys.executable, "-c", script], env=environment, cwd=tmp_path, capture_output=True
    )
    assert told.stdout.decode().strip() == "[]", told.stderr
