"""Tables as people save them, whatever program wrote them."""

import codecs
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Problem
from joblog.sheet import (
    AS_IT_IS,
    Columns,
    Notice,
    Question,
    Reading,
    Sheet,
    each_row,
    read_sheet,
    refused,
)
from joblog.sheet.opening import UnreadableError
from joblog.sheet.parted import parted

COLUMNS = Columns(
    "a list of boards",
    ("name", "wide", "long", "least offcut", "bought"),
    required=("wide",),
    alike={"width": "wide"},
    perhaps={"broad": "wide"},
    words=("name",),
    days=("bought",),
)


def cells(sheet: Sheet) -> list[dict[str, str]]:
    return [dict(row.cells) for row in sheet.rows]


def read(content: str | bytes, reading: Reading = AS_IT_IS) -> Sheet:
    return read_sheet(content, "boards", COLUMNS, reading)


def why(content: str | bytes, reading: Reading = AS_IT_IS) -> list[str]:
    """What is refused of a table, none of whose rows is taken."""
    sheet = read(content, reading)
    assert sheet.rows == ()
    return [f"{problem.what}: {problem.why}" for problem in refused(sheet.problems)]


# --- letters and separators


@pytest.mark.parametrize(
    ("encoding", "mark", "told"),
    [
        ("utf-8", b"", ()),
        ("utf-8", codecs.BOM_UTF8, ()),
        ("cp1252", b"", ("read with Windows letters",)),
        ("utf-16-le", codecs.BOM_UTF16_LE, ("read with UTF-16 letters",)),
        ("utf-16-be", codecs.BOM_UTF16_BE, ("read with UTF-16 letters",)),
        ("utf-16-le", b"", ("read with UTF-16 letters",)),
        ("utf-16-be", b"", ("read with UTF-16 letters",)),
        ("utf-32-le", codecs.BOM_UTF32_LE, ("read with UTF-32 letters",)),
    ],
)
def test_every_usual_encoding_is_found_out_and_said(
    encoding: str, mark: bytes, told: tuple[str, ...]
) -> None:
    sheet = read(mark + "name,wide\r\ncaf\u00e9 board,5\u00bd\r\n".encode(encoding))
    assert cells(sheet) == [{"name": "caf\u00e9 board", "wide": "5\u00bd"}]
    assert tuple(problem.why for problem in sheet.problems) == told


@pytest.mark.parametrize(
    ("separator", "told"),
    [
        (",", ()),
        (";", ("read with semicolons between the cells",)),
        ("\t", ("read with tabs between the cells",)),
    ],
)
def test_what_parts_the_cells_is_found_out_and_said(separator: str, told: tuple[str, ...]) -> None:
    sheet = read(f"name{separator}wide\na{separator}5\n")
    assert cells(sheet) == [{"name": "a", "wide": "5"}]
    assert tuple(problem.why for problem in sheet.problems) == told


def test_a_first_line_of_the_program_says_what_parts_the_cells() -> None:
    sheet = read("sep=;\r\nname;wide\r\na, b;5\r\n")
    assert [row.where for row in sheet.rows] == ["boards, row 2"]
    assert cells(sheet) == [{"name": "a, b", "wide": "5"}]


@pytest.mark.parametrize(
    "content",
    [
        b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01",
        b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR",
        b"%PDF-1.7\n\x01\x02",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 an old workbook",
        b"PK\x03\x04 no workbook at all",
        "name,wide\na\u215e,5\n".encode() + b"\xff,5\n",
        b"name,wide\na\x81,5\n",
    ],
)
def test_what_is_no_table_is_refused_in_one_line(content: bytes) -> None:
    [line] = why(content)
    assert "\n" not in line


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    sheet = read_sheet(tmp_path / "none.csv", "boards", COLUMNS)
    assert sheet.problems == (Problem("none.csv", "is not there. Check the name."),)


# --- columns


def test_a_column_that_nobody_knows_is_refused_with_what_it_may_be() -> None:
    [problem] = read("name,wide,lond\na,5,16\n").problems
    assert isinstance(problem, Question)
    assert problem.why.startswith(
        "'lond' is no column of a list of boards; for long say --column lond=long; to leave it "
        "out say --column lond="
    )
    assert [way.asks for way in problem.ways] == [
        "Is 'lond' the column long?",
        "Leave the column 'lond' out?",
    ]


def test_where_nobody_would_read_all_columns_the_first_ones_are_named() -> None:
    many = Columns("a list of runs", tuple(f"measure {number}" for number in range(63)))
    [problem] = read_sheet("measure 1,zzz\n1,5\n", "runs", many).problems
    assert problem.why.endswith("measure 8, measure 9 and 53 more")


def test_what_a_person_says_of_a_column_counts() -> None:
    [question] = read("name,broad\na,5\n").problems
    assert isinstance(question, Question)
    meant, left_out = (way.settle(Reading()) for way in question.ways)
    assert cells(read("name,broad\na,5\n", meant)) == [{"name": "a", "wide": "5"}]
    assert why("name,broad\na,5\n", left_out) == [
        "boards: has no column wide; its first row must name the columns of a list of boards: "
        "name, wide, long, least offcut, bought"
    ]


def test_a_column_that_nobody_knows_and_that_is_empty_is_no_matter() -> None:
    assert cells(read("name,wide,remarks\na,5,\nb,6\n")) == [
        {"name": "a", "wide": "5"},
        {"name": "b", "wide": "6"},
    ]


@pytest.mark.parametrize(
    "header", ["Least_Offcut,WIDTH", " least offcut ,Wide", "\ufeffleast-offcut,\u00a0wide"]
)
def test_capitals_blanks_hyphens_and_certain_spellings_are_no_difference(header: str) -> None:
    assert cells(read(f"{header}\n24,5\n")) == [{"least offcut": "24", "wide": "5"}]


@pytest.mark.parametrize(
    ("header", "named", "said"),
    [
        ("wide,wide", {}, "boards: has 2 columns for wide ('wide', 'wide'); rename one"),
        ("wide,width", {}, "leave one out with --column width="),
        ("wide,broad", {"broad": "wide"}, "leave one out with --column broad="),
        ("wide,,long", {}, "has a column without a name, the 2nd, that holds 'x'"),
        ("wide,long", {"tall": "long"}, "has no column 'tall', of which --column speaks"),
        ("wide,tall", {"tall": "high"}, "--column tall=high names no column of a list of boards"),
    ],
)
def test_columns_that_cannot_be_told_apart_are_refused(
    header: str, named: dict[str, str], said: str
) -> None:
    lines = why(f"{header}\n5,x,16\n", Reading(named=named))
    assert any(said in line for line in lines)


# --- rows


def test_rows_are_counted_as_a_spreadsheet_program_counts_them() -> None:
    text = '\n\nname,wide\n"two\nlines",5\n\n,,\nb,6\n'
    assert [row.where for row in read(text).rows] == ["boards, row 4", "boards, row 7"]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("a,5,16,9", "has more cells than there are columns ('9')"),
        ("a,=B2,16", "wide: '=B2' is a formula without its result"),
        ("a,#DIV/0!,16", "wide: #DIV/0! is an error of the spreadsheet"),
        ('a,"5\n6",16', "wide: '5\\n6' holds more than one line"),
        ('a,5,"16\nb,6,12\nc,7,8"', "long: a quotation mark makes one cell of several lines"),
    ],
)
def test_a_row_that_means_nothing_sure_is_refused_whole(row: str, said: str) -> None:
    sheet = read(f"name,wide,long\nfirst,1,2\n{row}\n")
    assert cells(sheet) == [{"name": "first", "wide": "1", "long": "2"}]
    [problem] = sheet.problems
    assert problem.what == "boards, row 3"
    assert problem.why.startswith(said)


def test_a_quotation_mark_that_is_not_closed_refuses_the_table() -> None:
    [line] = why('name,wide\nb,2\n"a,5\nc,6\n')
    assert line.startswith("boards: cannot be read from row 3 on: a quotation mark is not closed")


def test_empty_cells_at_the_end_may_be_left_out() -> None:
    assert cells(read("name,wide,long\na,5\n")) == [{"name": "a", "wide": "5", "long": ""}]


def test_signs_that_nobody_sees_make_no_other_name() -> None:
    assert cells(read('name,wide\n\ufeff"north ea\u200bve\u00a0",\u200e5\n')) == [
        {"name": "north eave", "wide": "5"}
    ]


def test_an_apostrophe_that_guards_a_cell_from_being_a_formula_is_taken_away() -> None:
    assert cells(read("name,wide\n'=a,'-5\n")) == [{"name": "=a", "wide": "-5"}]


# --- decimals


@pytest.mark.parametrize(
    ("text", "decimal"),
    [
        ("wide;long\n41,5;3\n", ","),
        ("wide;long\n41.5;1,250\n", "."),
        ("wide;long\n1.234,5;3\n", ","),
        ("wide;long\n15,375;41,5\n", ","),
        ("wide\tlong\n0,125\t3\n", ","),
        ('wide,long\n"1,250",3\n', "."),
        ('wide,long\n"1,250.5",3\n', "."),
        ("name;wide\na 1,5 b;3\n", "."),
    ],
)
def test_the_decimal_sign_is_what_the_table_does(text: str, decimal: str) -> None:
    sheet = read(text)
    assert (sheet.decimal, refused(sheet.problems)) == (decimal, ())
    assert any("decimal commas" in problem.why for problem in sheet.problems) == (decimal == ",")


@pytest.mark.parametrize(
    "text",
    [
        "wide;long\n1,250;3\n",
        "wide;long\n1.250;3\n",
        'wide,long\n"41,5",3\n',
    ],
)
def test_a_number_that_may_be_two_is_asked_about(text: str) -> None:
    [question] = read(text).problems
    assert isinstance(question, Question)
    for way in question.ways:
        reading = way.settle(Reading())
        assert read(text, reading).decimal == reading.decimal
        assert refused(read(text, reading).problems) == ()


def test_decimals_both_ways_in_one_table_are_refused() -> None:
    [line] = why("wide;long\n41,5;3\n41.5;3\n")
    assert "has a decimal comma" in line


def test_both_ways_where_commas_part_the_cells_is_for_each_row_to_refuse() -> None:
    sheet = read('wide,long\n"41,5",3\n41.5,3\n')
    assert (len(sheet.rows), sheet.decimal) == (2, ".")


# --- each row


def test_bad_rows_are_told_of_or_by_wish_left_out() -> None:
    text = "name,wide\na,5\nb,x\nc,y\nd,1,2\n"

    def number(row: object) -> None:
        int(row.cells["wide"])  # type: ignore[attr-defined]

    assert len(refused(each_row(read(text), number))) == 3
    left_out = each_row(read(text, Reading(without_bad_rows=True)), number)
    assert all(isinstance(problem, Notice) for problem in left_out)
    assert left_out[-1] == Notice("boards", "3 rows were left out")


# --- whatever it is

WORDS = st.text(st.characters(min_codepoint=32, blacklist_categories=["Cs", "Cc"]), max_size=12)


@given(st.binary(max_size=300) | WORDS.map(str.encode))
def test_any_bytes_at_all_are_read_or_refused(content: bytes) -> None:
    sheet = read(content)
    assert all("wide" in row.cells for row in sheet.rows)
    assert not (sheet.rows and any(problem.what == "boards" for problem in refused(sheet.problems)))


@given(
    st.lists(st.tuples(WORDS, st.integers(0, 999)), min_size=1, max_size=6),
    st.sampled_from([",", ";", "\t"]),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"]),
)
def test_a_table_is_the_same_in_every_dress(
    rows: list[tuple[str, int]], separator: str, encoding: str
) -> None:
    def quoted(cell: object) -> str:
        return '"' + str(cell).replace('"', '""') + '"'

    lines = [("name", "wide"), *rows]
    text = "".join(f"{quoted(name)}{separator}{quoted(wide)}\r\n" for name, wide in lines)
    plain = read(",".join(("name", "wide")) + text.partition("\r\n")[1] + "\r\n".join(
        f"{quoted(name)},{quoted(wide)}" for name, wide in rows
    ))  # fmt: skip
    dressed = read(text.encode(encoding))
    assert cells(dressed) == cells(plain)
    assert [problem.what for problem in refused(dressed.problems)] == [
        problem.what for problem in refused(plain.problems)
    ]


@pytest.mark.parametrize("text", ["," * 1_100, "\n" * 1_100])
def test_a_file_of_nothing_but_commas_is_refused_before_it_fills_the_memory(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog.sheet.parted.MOST_CELLS", 1_000)
    with pytest.raises(UnreadableError, match="more than 1,000 cells"):
        parted(text, lambda row: 0)
