"""What is printed is harmless and fits."""

import csv
import io

from joblog.report.table import Table, as_csv, as_text

EVIL = '=HYPERLINK("x")'


def test_a_formula_in_a_cell_is_disarmed_for_the_spreadsheet() -> None:
    written = as_csv(Table(("note",), ((EVIL,), ("-1/2",), ("@x",), ("+1 more",))))
    cells = [row[0] for row in csv.reader(io.StringIO(written))]
    assert cells == ["note", "'" + EVIL, "-1/2", "'@x", "'+1 more"]


def test_control_characters_never_reach_the_terminal() -> None:
    shown = as_text(Table(("note",), (("\x1b[31mred\x07",),)))
    assert "\x1b" not in shown
    assert "\x07" not in shown


def test_a_long_last_column_is_wrapped() -> None:
    shown = as_text(Table(("id", "note"), (("1", "word " * 60),)), width=80)
    assert max(map(len, shown.splitlines())) <= 80
