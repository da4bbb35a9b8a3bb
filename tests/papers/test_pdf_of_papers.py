"""A paper as PDF: its text can be read again, nothing in it acts, and it says nothing of us."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from io import BytesIO
from unicodedata import category

import pytest
import typst
from hostile import HOSTILE, paper_of, picture
from pypdf import PdfReader

from joblog.papers.blocks import Heading, Paper, Picture, Pictures, Table, Text
from joblog.papers.pdf import OURS, as_pdf


def read(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content))


def keys(made: PdfReader) -> Iterator[str]:
    """The names in all dictionaries of the file."""
    for entry in range(1, int(made.trailer["/Size"])):
        held = made.get_object(entry)
        waiting = [held]
        while waiting:
            one = waiting.pop()
            if isinstance(one, dict):
                yield from one
                waiting += [value for value in one.values() if isinstance(value, dict | list)]
            elif isinstance(one, list):
                waiting += one


def text_of(content: bytes) -> str:
    """All its words, without the breaks between lines."""
    return "".join("".join(page.extract_text() for page in read(content).pages).split())


@pytest.mark.parametrize("text", HOSTILE)
def test_what_tries_to_be_a_command_is_text(text: str) -> None:
    content = as_pdf(paper_of(text))
    assert text_of(content).count("".join(text.split())) >= 12
    acting = {"/JavaScript", "/JS", "/OpenAction", "/Launch", "/URI", "/AA", "/Annots", "/AcroForm"}
    assert not acting & set(keys(read(content)))


@pytest.mark.parametrize(
    "words",
    [
        "Łukasz Żižek, Şükrü, Ørsted, Čapek",
        "Nguyễn Đặng Thị Ửng",
        "Владимир Їжак, Ґалаґан",
        "7′ 5″ × 41½ ¼ ⅜ ⅝ ⅞ ⅓ – — … → ≤ ☐ °F € £",
    ],
)
def test_names_and_measures_can_be_searched_and_need_no_font_of_the_computer(words: str) -> None:
    content = as_pdf(Paper("a", blocks=(Text(words),)))
    assert "".join(words.split()) in text_of(content)
    assert "emptyboxes" not in text_of(content)


def test_signs_that_no_font_of_ours_has_are_told_of() -> None:
    assert "emptyboxeshere" in text_of(as_pdf(Paper("a", blocks=(Text("王"),))))


def test_the_fonts_that_come_along_have_every_sign_that_they_are_said_to() -> None:
    every = (chr(code) for code in range(0x10000))
    signs = [one for one in every if re.fullmatch(f"[{OURS}]", one) and category(one) != "Cn"]
    content = as_pdf(Paper("a", blocks=tuple(map(Text, signs))))
    drawn = [page.get_contents() for page in read(content).pages]
    # A sign that a font lacks is drawn as its glyph 0.
    missing = [
        found.group()
        for one in drawn
        if one is not None
        for found in re.finditer(rb"\((\\000\\000)+\)", one.get_data())
    ]
    assert (len(signs) > 1500, missing) == (True, [])


def test_a_hash_is_broken_over_lines_and_copied_in_one_piece() -> None:
    digest = "520bc64fbf75821a5a44a13a48ef29ff150534701a9758d1069112d9790c619d"
    narrow = Table(("a", "b", "c", "d"), ((digest, digest, digest, digest),), widths=(1, 1, 1, 1))
    text = text_of(as_pdf(Paper("a", blocks=(narrow,))))
    assert "\u200b" not in text
    pieces = re.findall(r"[0-9a-f]{8,}", text)
    assert sum(map(len, pieces)) >= 4 * len(digest)


def test_its_pages_are_of_the_size_asked_for() -> None:
    sizes = {
        size: tuple(
            round(float(side)) for side in read(as_pdf(Paper("a"), size)).pages[0].mediabox[2:]
        )
        for size in ("letter", "A4")
    }
    # 8.5 x 11 in, and 210 x 297 mm of ISO 216, in points of 1/72 in
    assert sizes == {"letter": (612, 792), "A4": (595, 842)}


def test_it_says_its_title_and_nothing_of_who_and_when() -> None:
    about = read(as_pdf(Paper("Corner porch: day sheet"))).metadata
    assert about is not None
    assert about.title == "Corner porch: day sheet"
    assert set(about) <= {"/Title", "/Creator"}


def test_the_same_paper_gives_the_same_bytes() -> None:
    assert as_pdf(paper_of("words")) == as_pdf(paper_of("words"))


def test_headings_are_its_outline_and_it_is_tagged() -> None:
    made = read(as_pdf(Paper("The job", blocks=(Heading("Covered work"), Heading("wire", 2)))))
    [first, [second, [third]]] = made.outline
    assert [first.title, second.title, third.title] == ["The job", "Covered work", "wire"]
    assert made.root_object["/MarkInfo"]["/Marked"]
    assert made.root_object["/Lang"] == "en"


def test_it_can_be_read_aloud(monkeypatch: pytest.MonkeyPatch) -> None:
    # ISO 14289-1 (PDF/UA-1), as far as typst checks it: alternative texts, headings, title.
    strictly = partial(typst.compile, pdf_standards=["ua-1"])
    monkeypatch.setattr("joblog.papers.pdf.typst.compile", strictly)
    assert b"pdfuaid" in as_pdf(paper_of("words"))


def test_the_heads_of_a_long_table_stand_on_every_page() -> None:
    rows = tuple((f"8:{at:03}", "used: 3 panels") for at in range(200))
    pages = read(as_pdf(Paper("a", blocks=(Table(("the time", "what was told"), rows),)))).pages
    assert len(pages) > 2
    assert all("what was told" in page.extract_text() for page in pages)
    assert all("8:199" not in page.extract_text() for page in list(pages)[:-1])


def test_a_picture_is_there_as_it_was_made() -> None:
    content = picture((400, 300))
    made = read(as_pdf(Paper("a", blocks=(Pictures((Picture(content, "the wire"),)),))))
    [image] = made.pages[0].images
    assert image.image is not None
    assert image.image.size == (400, 300)


def test_a_cell_longer_than_a_page_loses_no_word() -> None:
    words = " ".join(f"word{at}" for at in range(3000))
    made = read(as_pdf(Paper("a", blocks=(Table(("a", "b"), (("x", words),)),))))
    found = set(re.findall(r"word\d+", " ".join(page.extract_text() for page in made.pages)))
    assert found == set(words.split())
