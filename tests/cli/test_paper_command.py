"""joblog paper: what it writes, where, and what it never does."""

from __future__ import annotations

from pathlib import Path

import pytest
from running import Say

BOOK = ("--book", "book")
SHEET = "Corner porch, day sheet 2026-10-05.pdf"


def test_without_a_name_a_pdf_is_written_here(porch: Say, tmp_path: Path) -> None:
    status, out, _ = porch("paper", "day", *BOOK)
    assert status == 0
    assert out.startswith(f"{SHEET}: written, ")
    assert (tmp_path / SHEET).read_bytes().startswith(b"%PDF")


def test_a_page_and_a_pdf_are_written_at_once(porch: Say, tmp_path: Path) -> None:
    status, out, _ = porch("paper", "job", "--html", "a.html", "--pdf", "a.pdf", *BOOK)
    assert (status, out.count("written")) == (0, 2)
    assert "measure: 11 7/8 in, north eave" in (tmp_path / "a.html").read_text("utf-8")


def test_a_file_is_never_overwritten_without_being_told(porch: Say, tmp_path: Path) -> None:
    (tmp_path / "a.html").write_text("mine")
    status, _, complaint = porch("paper", "close-out", "--html", "a.html", *BOOK)
    assert status == 1
    assert "a.html: is there already" in complaint
    assert (tmp_path / "a.html").read_text() == "mine"
    assert porch("paper", "close-out", "--html", "a.html", "--over", *BOOK)[0] == 0


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("paper", "day", "--pdf", "a.html"), "does not end in .pdf"),
        (("paper", "day", "--html", "a.pdf"), "ends in .pdf"),
        (("paper", "close-out", "--hand-out"), "all costs and hours"),
        (("paper", "job", "--day", "2026-10-05"), "of the whole job"),
        (("paper", "jobs", "--hand-out"), "nothing to hand out"),
        (("paper", "jobs", "--day", "2026-10-05"), "of all jobs"),
        (("paper", "diary"), "diary"),
    ],
)
def test_what_cannot_be_is_one_plain_line(
    porch: Say, tmp_path: Path, words: tuple[str, ...], complaint: str
) -> None:
    before = set(tmp_path.iterdir())
    status, _, complained = porch(*words, *BOOK)
    assert status != 0
    assert complaint in complained
    assert set(tmp_path.iterdir()) == before


def test_a_copy_to_hand_out_is_to_be_read_first(porch: Say) -> None:
    status, out, told = porch("paper", "day", "--hand-out", *BOOK)
    assert (status, "Corner porch, day sheet 2026-10-05 to hand out.pdf: written" in out) == (
        0,
        True,
    )
    assert "read it before you hand it out" in told


def test_covered_work_of_a_job_without_any_says_so(porch: Say, tmp_path: Path) -> None:
    assert porch("paper", "covered", "--html", "a.html", *BOOK)[0] == 0
    assert "Nothing was said to be covered." in (tmp_path / "a.html").read_text("utf-8")
