"""The cut list on the terminal, on a page and as a table."""

from __future__ import annotations

import json
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from joblog.cli import commands
from joblog.cutting.cuts import plan_cuts
from joblog.model import Piece, StockLength
from joblog.report.cut_sheet import CAUTION, cut_page, cut_sheet, cut_table

EVIL = '<script>alert("x")</script>'
TWELVE_FEET = StockLength(Fraction(144))
PORCH = [
    Piece(Fraction(287, 8), 12, "north eave"),
    Piece(Fraction(95, 2), 5, "gable"),
    Piece(Fraction(117, 8), 10, "porch"),
    Piece(Fraction(181, 4), 4, "south eave"),
    Piece(Fraction(45, 2), 6, "porch"),
]


class Tags(HTMLParser):
    """Counts what opens and closes."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def test_identical_sticks_stand_together_with_their_marks() -> None:
    # By hand: marks of 35 7/8 with a kerf of 1/8 are 36 apart.
    plan, _ = plan_cuts([Piece(Fraction(287, 8), 12, "north eave")], [TWELVE_FEET])
    shown = cut_sheet([plan])
    assert "3 x 12'" in shown
    assert "4 x 35 7/8" in shown
    assert "marks 35 7/8, 71 7/8, 107 7/8, 143 7/8" in shown
    assert "for   north eave" in shown
    assert shown.endswith(CAUTION)


def test_a_porch_fits_a_terminal_of_80_by_24() -> None:
    plan, _ = plan_cuts(PORCH, [TWELVE_FEET])
    lines = cut_sheet([plan], 80).splitlines()
    assert max(map(len, lines)) <= 80
    assert len(lines) <= 24


def test_a_length_is_never_torn_apart_at_the_end_of_a_line() -> None:
    plan, _ = plan_cuts([Piece(Fraction(127, 16), 17, "porch")], [TWELVE_FEET])
    marks = [cut.mark for cut in plan.sticks[0].cuts]
    text = cut_sheet([plan], 80)
    assert all(f"{mark // 1} {mark % 1}" in text for mark in marks if mark.denominator > 1)


def test_thirty_seconds_are_on_the_tape_and_64ths_are_said_not_to_be() -> None:
    fine, _ = plan_cuts([Piece(Fraction(383, 32))], [TWELVE_FEET])
    finer, _ = plan_cuts([Piece(Fraction(765, 64))], [TWELVE_FEET])
    assert "11 31/32" in cut_sheet([fine])
    assert "*" not in cut_sheet([fine])
    assert "11 61/64* lies between 11 15/16 and 11 31/32" in cut_sheet([finer])
    assert "11 61/64* lies between 11 15/16 and 11 31/32" in cut_page([finer])


def test_stacks_of_two_and_the_single_one_are_shown() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 10)], [TWELVE_FEET], at_once=2)
    assert "5 x 12' stacked 2x2+1" in cut_sheet([plan])


def test_a_gap_is_shown_when_the_search_was_too_short() -> None:
    wanted = [Piece(Fraction(600 + 7 * at, 16), 3) for at in range(40)]
    plan, _ = plan_cuts(wanted, [TWELVE_FEET], effort=0)
    assert not plan.proved
    assert "best found so far, at most" in cut_sheet([plan])


def test_what_no_stock_is_left_for_stands_on_the_sheet() -> None:
    plan, _ = plan_cuts([Piece(Fraction(80), 3, "eave")], [StockLength(Fraction(144), 2)])
    assert "NO STOCK LEFT for 1 x 80 eave" in cut_sheet([plan])


def test_labels_are_text_and_never_markup() -> None:
    plan, _ = plan_cuts([Piece(Fraction(20), 2, EVIL + "\x1b[31m", item=EVIL)], [TWELVE_FEET])
    tags = Tags()
    tags.feed(cut_page([plan], EVIL))
    assert "script" not in tags.seen
    assert EVIL in tags.text
    assert "\x1b" not in cut_page([plan]) + cut_sheet([plan])


def test_the_page_asks_for_nothing_from_outside() -> None:
    plan, _ = plan_cuts(PORCH, [TWELVE_FEET])
    page = cut_page([plan])
    assert "http" not in page
    assert "src=" not in page
    assert "url(" not in page


def test_the_table_has_every_cut() -> None:
    plan, _ = plan_cuts(PORCH, [TWELVE_FEET])
    assert len(cut_table([plan]).rows) == 37  # 12 + 5 + 10 + 4 + 6


def test_the_command_names_file_and_row_and_cuts_the_rest(tmp_path: Path) -> None:
    file = tmp_path / "pieces.csv"
    file.write_text("length,pieces,label\n35 7/8,4,eave\n0,1,\n13',1,rake\n", "utf-8")
    done = CliRunner().invoke(commands, ["cuts", "--from", str(file)], standalone_mode=False)
    assert done.return_value == 1
    assert "4 x 35 7/8" in done.stdout
    assert done.stderr.splitlines() == [
        "pieces.csv, row 3: length 0: a piece must be longer than zero",
        "pieces.csv, row 4: 13' is longer than the longest stock, 12'",
        "What follows is without that.",
    ]


def test_the_command_takes_what_a_take_off_pipes_in() -> None:
    runs = str(Path(__file__).parents[2] / "fixtures" / "demo" / "runs.csv")
    pieces = CliRunner().invoke(commands, ["takeoff", runs, "--pieces"]).stdout
    done = CliRunner().invoke(commands, ["cuts", "--item", "fascia"], input=pieces)
    named = CliRunner().invoke(commands, ["cuts", "--from", "-", "--item", "fascia"], input=pieces)
    assert done.exit_code == 0
    assert done.stdout.startswith("fascia: 9 of 12', 10 pieces")
    assert named.stdout == done.stdout


def test_what_is_piped_in_and_is_no_list_is_a_plain_line() -> None:
    bad_row = CliRunner().invoke(commands, ["cuts"], input="length\n0\n20\n")
    no_text = CliRunner().invoke(commands, ["cuts"], input=b"length\n\xff\n")
    assert bad_row.stderr.splitlines() == [
        "pieces, row 2: length 0: a piece must be longer than zero",
        "What follows is without that.",
    ]
    assert no_text.stderr.splitlines() == [
        "pieces: read with Windows letters",
        "pieces, row 2: 'ÿ' is not a length",
        "What follows is without that.",
    ]


def test_the_command_writes_page_and_json(tmp_path: Path) -> None:
    file, page = tmp_path / "pieces.csv", tmp_path / "cuts.html"
    file.write_text("length,pieces,label\n35 7/8,4,eave\n", "utf-8")
    asked = ["cuts", "--from", str(file), "--html", str(page), "--json"]
    done = CliRunner().invoke(commands, asked, standalone_mode=False)
    [plan] = json.loads(done.stdout)["plans"]
    assert plan["proved"] is True
    assert [cut["mark"] for cut in plan["sticks"][0]["cuts"]] == [
        "287/8",
        "575/8",
        "863/8",
        "1151/8",
    ]
    assert "35 7/8" in page.read_text("utf-8")


def test_the_command_plans_the_rest_of_a_list_that_was_begun(tmp_path: Path) -> None:
    file, changed, was = tmp_path / "a.csv", tmp_path / "b.csv", tmp_path / "was.json"
    file.write_text("length,pieces,label\n35 7/8,12,eave\n", "utf-8")
    changed.write_text("length,pieces,label\n35 7/8,9,eave\n", "utf-8")
    first = ["cuts", "--from", str(file), "--json"]
    was.write_text(CliRunner().invoke(commands, first).stdout, "utf-8")
    again = ["cuts", "--from", str(changed), "--was", str(was), "--done", "1", "--begun", "2"]
    done = CliRunner().invoke(commands, again, standalone_mode=False)
    # By hand: 4 and 2 of 9 are cut; of the other 3 two fit the 72 in that are left, 1 is cut anew.
    assert done.return_value == 0
    assert "cut already and left as it is: 2 of 12'" in done.stdout
    assert "1 x 6' cutoff" in done.stdout
    assert "2 x 35 7/8" in done.stdout


def test_a_file_that_is_no_earlier_list_says_so(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text("length\n35 7/8\n", "utf-8")
    asked = ["cuts", "--from", str(file), "--was", str(file), "--done", "1"]
    done = CliRunner().invoke(commands, asked)
    assert done.exit_code == 1
    assert "a.csv: is no cut list" in done.stderr


def test_a_cut_list_in_an_empty_home_leaves_nothing_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("HOME", "USERPROFILE"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.delenv("JOBLOG_BOOK", raising=False)
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(commands, ["cuts"], input="length,item\n60,fascia\n")
    assert done.stdout.startswith("fascia: 1 of 12', 1 pieces")
    assert list(tmp_path.iterdir()) == []


def test_pieces_of_no_item_are_cut_beside_a_book_that_cannot_be_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = tmp_path / "book.sqlite"
    book.write_text("no book at all")
    monkeypatch.setenv("JOBLOG_BOOK", str(tmp_path))
    done = CliRunner().invoke(commands, ["cuts", "--seconds", "100"], input="length\n60\n")
    assert done.exit_code == 0
    assert done.stdout.startswith("cut list: 1 of 12', 1 pieces")
    assert (list(tmp_path.iterdir()), book.read_text()) == ([book], "no book at all")


@pytest.mark.parametrize("seconds", ["0", "-1", "soon", "100000"])
def test_seconds_that_cannot_be_are_refused_in_one_line(seconds: str) -> None:
    done = CliRunner().invoke(commands, ["cuts", "--seconds", seconds], input="length\n60\n")
    assert done.exit_code == 2
    assert "--seconds" in done.stderr
    assert "Traceback" not in done.output
