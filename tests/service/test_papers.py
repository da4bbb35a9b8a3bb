"""Papers of a job: what stands on them, what does not, and how their files are written."""

from __future__ import annotations

import hashlib
import re
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from joblog.book import decisions, keep, ties
from joblog.model import (
    BookEntry,
    Entry,
    Item,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    Position,
    Reading,
)
from joblog.papers.blocks import Block, Facts, Paper, Picture, Pictures, Table, Text, Warning
from joblog.papers.html import as_html
from joblog.papers.record import Copy
from joblog.service import Desk, ServiceError, decide, open_desk, taking_in
from joblog.service.house import change_house
from joblog.service.papers import (
    KINDS,
    Kind,
    file_name,
    paper_of,
    papers_folder,
    put,
    within,
    write_beside_book,
    write_paper,
)

DAY = date(2026, 10, 5)
NOON = datetime(2026, 10, 5, 12, 0)
HERE = Position(38.62, -70.41, None, 6.0)
GPS = 0x8825


def said(desk: Desk, text: str, minute: int = 0) -> BookEntry:
    [entry] = taking_in.write_down(desk, text, NOON.replace(minute=minute))
    return entry


def told(desk: Desk, entry: Entry, minute: int = 0) -> BookEntry:
    at = datetime.fromisoformat(f"2026-10-05T17:{minute:02}:00+00:00")
    decisions.add_typed(desk.book, desk.job.name, Reading((entry,)), "typed", at)
    return max(desk.book.entries(desk.job.name), key=lambda one: one.id)


def shot(desk: Desk, folder: Path, name: str, at: datetime, **also: object) -> str:
    """A photo that lies on its side, with a position and a camera in its EXIF."""
    path = folder / f"{abs(hash(name))}.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x0110] = "Camera of Somebody"
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (38.0, 37.0, 12.0)
    picture = Image.new("RGB", (64, 48), (len(name), at.minute, 7))
    picture.paste("white", (0, 0, 64, 12))
    picture.save(path, exif=exif)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    moment = Moment(at, "EXIF with offset")
    photo = Photo(sha256, name, moment, 48, 64, HERE, 6, **also)  # type: ignore[arg-type]
    keep.keep_photo(desk.book, desk.job.name, path, photo)
    ties.tie_photos(desk.book, desk.job.name)
    return sha256


def covered_with_a_photo(desk: Desk, folder: Path) -> tuple[BookEntry, str]:
    entry = said(desk, "covered the flashing at the north eave")
    sha256 = shot(desk, folder, "flashing.jpg", entry.at + timedelta(seconds=40))
    decide.tie(desk, sha256, entry.id)
    return entry, sha256


def text_of(paper: Paper) -> str:
    """All that the paper says, one text a line."""
    return "\n".join(
        [paper.title, *(part for pair in paper.about for part in pair), *_texts(paper)]
    )


def _texts(paper: Paper) -> list[str]:
    found: list[str] = []
    for block in paper.blocks:
        found += _of_block(block)
    return found


def _of_block(block: Block) -> list[str]:
    match block:
        case Table():
            return [block.caption, *block.headings, *(cell for row in block.rows for cell in row)]
        case Facts():
            return [part for pair in block.pairs for part in pair]
        case Pictures():
            return [part for one in block.pictures for part in (one.alt, one.caption)]
        case _:
            return [getattr(block, "text", "")]


def pictures_of(paper: Paper) -> list[bytes]:
    return [
        one.image for block in paper.blocks if isinstance(block, Pictures) for one in block.pictures
    ]


def markers(jpeg: bytes) -> set[int]:
    """The second bytes of the markers before the pixels (ITU-T T.81, annex B)."""
    found, at = set(), 2
    while jpeg[at] == 0xFF and jpeg[at + 1] != 0xDA:
        found.add(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return found


# --- what stands on them ------------------------------------------------------------------------


def test_a_day_sheet_has_what_was_told_and_marks_what_is_in_doubt(desk: Desk) -> None:
    said(desk, "used a couple of panels")
    paper = paper_of(desk, "day", DAY)
    shown = text_of(paper)
    assert "installed: 3 soffit panels, north eave" in shown
    doubtful = [one for one in desk.book.entries(desk.job.name) if one.open]
    if doubtful:
        assert "in doubt, counted nowhere" in shown
        assert any(isinstance(one, Warning) for one in paper.blocks)


def test_what_was_taken_back_stands_apart(desk: Desk) -> None:
    entry = said(desk, "used seven panels")
    decide.drop(desk, entry.id)
    [apart] = [
        block.text
        for block in paper_of(desk, "day", DAY).blocks
        if isinstance(block, Text) and block.text.startswith("Taken back")
    ]
    assert "installed: 7 soffit panels" in apart


def test_covered_work_is_shown_with_its_photo_time_and_hash(desk: Desk, tmp_path: Path) -> None:
    _, sha256 = covered_with_a_photo(desk, tmp_path)
    shown = text_of(paper_of(desk, "covered"))
    assert "12:00:40 PM; the time is from EXIF with offset" in shown
    assert f"SHA-256 {sha256}" in shown


def test_what_covered_work_lacks_is_said(desk: Desk) -> None:
    said(desk, "covered the flashing at the north eave")
    assert "It lacks: no photo." in text_of(paper_of(desk, "covered"))


def test_a_position_is_left_out_unless_it_is_asked_for(desk: Desk, tmp_path: Path) -> None:
    covered_with_a_photo(desk, tmp_path)
    for kind in ("covered", "day", "job"):
        without = text_of(paper_of(desk, kind))
        assert "38.6" not in without
        assert "leaves out where the photos were taken" in without
        assert "38.62000 -70.41000 within 6 m" in text_of(
            paper_of(desk, kind, copy=Copy(positions=True))
        )


def test_the_book_of_a_job_has_its_lists_and_every_day(desk: Desk, tmp_path: Path) -> None:
    covered_with_a_photo(desk, tmp_path)
    told(desk, Entry("problem", note="the sheathing is wet"))
    told(desk, Entry("extra", note="wrap the porch beam"))
    told(desk, Entry("todo", note="call about the color"))
    told(desk, Entry("measure", item="soffit panel", inches=Fraction(30), pieces=4))
    shown = text_of(paper_of(desk, "job"))
    for words in (
        "the sheathing is wet",
        "wrap the porch beam",
        "call about the color",
        "5 panels",  # planned, and none of it came
        "4 x 30",
        "Mon, Oct 5, 2026",
        "flashing.jpg",
    ):
        assert words in shown


def test_a_copy_to_hand_out_has_no_money_no_hours_and_nothing_in_doubt(
    desk: Desk, tmp_path: Path
) -> None:
    covered_with_a_photo(desk, tmp_path)
    told(
        desk,
        Entry(
            "delivered",
            item="soffit panel",
            quantity=Fraction(8),
            unit="sheet",
            unit_cost=Decimal("21.37"),
        ),
    )
    told(
        desk,
        Entry("extra", note="wrap the porch beam", price=Decimal("140.19"), hours=Fraction(11)),
    )
    told(desk, Entry("expense", note="parking", price=Decimal("12.34")))
    told(desk, Entry("labor", hours=Fraction(17), task="hang soffit"))
    dropped = told(desk, Entry("note", note="nobody is to read this"))
    decide.drop(desk, dropped.id)
    for kind in ("day", "job"):
        own = text_of(paper_of(desk, kind))
        handed = text_of(paper_of(desk, kind, copy=Copy(handed_out=True)))
        for secret in ("21.37", "12.34", "17 hours", "nobody is to read this"):
            assert secret in own
            assert secret not in handed
        for secret in ("140.19", "11 hours", "parking", "hang soffit"):
            assert secret not in handed
        assert "delivered: 8 soffit panels" in handed
        assert "wrap the porch beam" in handed
        assert "This copy leaves out prices, costs and hours, 1 entry that the contractor" in handed


def test_what_an_extra_was_said_to_cost_is_not_handed_out(desk: Desk) -> None:
    told(desk, Entry("extra", note="wrapped the beam 140 dollars", price=Decimal(140)))
    told(desk, Entry("extra", note="hung a gutter", price=Decimal(90)))
    told(desk, Entry("note", note="he paid me $75 for the gate"))
    told(desk, Entry("problem", note="the beam costs more than I thought"))
    own = text_of(paper_of(desk, "job"))
    handed = text_of(paper_of(desk, "job", copy=Copy(handed_out=True)))
    for secret in ("140 dollars", "$75", "the beam costs", "$90.00"):
        assert secret in own
        assert secret not in handed
    assert "hung a gutter" in handed
    assert "3 entries about hours, money and errands" in handed


def test_a_close_out_is_never_handed_out(desk: Desk) -> None:
    with pytest.raises(ServiceError, match="all costs and hours"):
        paper_of(desk, "close-out", copy=Copy(handed_out=True))


def test_a_close_out_says_what_is_not_known_and_what_would_settle_it(desk: Desk) -> None:
    told(desk, Entry("delivered", item="soffit panel", quantity=Fraction(8), unit="sheet"))
    shown = text_of(paper_of(desk, "close-out"))
    assert "What is not known" in shown
    assert "a count of what is left" in shown


def test_only_a_day_sheet_and_covered_work_are_of_one_day(desk: Desk) -> None:
    for kind in ("job", "close-out"):
        with pytest.raises(ServiceError, match="of the whole job"):
            paper_of(desk, kind, DAY)


def test_a_job_without_a_word_says_so(desk: Desk) -> None:
    empty = open_desk(desk.book, "Mill house")
    for kind in ("day", "job"):
        with pytest.raises(ServiceError, match="nothing was said"):
            paper_of(empty, kind)


# --- what comes from outside --------------------------------------------------------------------

BAD = "<img src=x onerror=alert(1)>{{7*7}}=1+1 \x1b[31m\u202e*x*"


def test_names_and_notes_that_are_markup_are_text_in_every_paper(
    desk: Desk, tmp_path: Path
) -> None:
    at = datetime.fromisoformat("2026-10-05T17:00:00+00:00")
    item = Item(f"panel {BAD}", "sheet")
    desk.book.set_plan(desk.job.name, Plan(items=(PlannedItem(item, Fraction(5)),)))
    fresh = open_desk(desk.book, desk.job.name)
    told(fresh, Entry("note", note=BAD, place=BAD))
    told(fresh, Entry("problem", note=BAD))
    told(fresh, Entry("used", item=item.name, quantity=Fraction(2), unit="sheet"))
    told(fresh, Entry("spoiled", item=item.name, quantity=Fraction(1), unit="sheet", reason=BAD))
    covered_work = told(fresh, Entry("covered", note=BAD))
    sha256 = shot(fresh, tmp_path, f"{BAD}.jpg", at, camera=BAD, trouble=BAD, remarks=(BAD,))
    decide.tie(fresh, sha256, covered_work.id)
    change_house(fresh, [{"what": "side", "name": BAD, "length": "20 ft", "corner": "end"}])
    for kind in (one for one in KINDS if one != "jobs"):
        html = as_html(paper_of(fresh, kind, copy=Copy(positions=True)))
        assert "&lt;img src=x onerror=alert(1)&gt;{{7*7}}=1+1" in html
        assert "<img src=x" not in html
        assert "\x1b" not in html and "\u202e" not in html


# --- pictures -----------------------------------------------------------------------------------


def test_a_picture_on_a_paper_is_upright_and_says_nothing_of_its_camera(
    desk: Desk, tmp_path: Path
) -> None:
    covered_with_a_photo(desk, tmp_path)
    for kind in ("covered", "day", "job"):
        shown = pictures_of(paper_of(desk, kind, copy=Copy(positions=True)))
        assert shown
        for jpeg in shown:
            # JFIF, tables and frame: no EXIF or other application data (APP1 to APP15), no comment.
            assert markers(jpeg) <= {0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDD}
            assert b"Camera of Somebody" not in jpeg
            with Image.open(BytesIO(jpeg)) as picture:
                assert picture.height >= picture.width
                assert not picture.getexif()


def test_a_picture_takes_no_more_room_than_it_is_given() -> None:
    noise = np.random.default_rng(3).integers(0, 255, (1200, 1600, 3), dtype=np.uint8)
    picture = Image.fromarray(noise)
    for room in (400_000, 120_000, 32_000):
        assert len(within(picture, room)) <= room


def test_a_photo_that_is_gone_is_named_and_keeps_nothing_back(desk: Desk, tmp_path: Path) -> None:
    _, sha256 = covered_with_a_photo(desk, tmp_path)
    desk.book.media(sha256).unlink()
    paper = paper_of(desk, "day", DAY)
    assert "flashing.jpg: not shown; it is gone from the book's folder" in text_of(paper)
    assert "covered: the flashing" in text_of(paper)


# --- files --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["paper.html", "paper.pdf"])
def test_a_paper_is_written_and_never_over_another_file(tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    written = write_paper(Paper("a"), file)
    content = file.read_bytes()
    assert len(content) == written
    assert content.startswith(b"%PDF" if name.endswith("pdf") else b"<!DOCTYPE html>")
    with pytest.raises(ServiceError, match="is there already"):
        write_paper(Paper("b"), file)
    assert file.read_bytes() == content
    write_paper(Paper("b"), file, over=True)
    assert file.read_bytes() != content
    assert [one.name for one in tmp_path.iterdir()] == [name]


def test_a_file_that_cannot_be_whole_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(ServiceError, match=r"cannot be written: No space left on device"):
        put(tmp_path / "paper.html", b"words")
    assert list(tmp_path.iterdir()) == []


def test_a_picture_that_is_none_is_one_plain_line_and_no_file(tmp_path: Path) -> None:
    broken = Paper("a", blocks=(Pictures((Picture(b"no picture", "b"),)),))
    with pytest.raises(ServiceError, match="the PDF cannot be made"):
        write_paper(broken, tmp_path / "paper.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told_of(tmp_path: Path) -> None:
    with pytest.raises(ServiceError, match="cannot be written"):
        put(tmp_path / "no" / "paper.html", b"words")


def test_a_paper_is_called_after_its_job_in_signs_that_every_disk_takes(desk: Desk) -> None:
    assert file_name(desk, "day", DAY, "pdf") == "Corner porch, day sheet 2026-10-05.pdf"
    desk.book.add_job(type(desk.job)('../a:b*?"<c>|\x07', desk.job.zone))
    odd = open_desk(desk.book, '../a:b*?"<c>|\x07')
    assert file_name(odd, "job", None, "html") == "_a_b_c_, job book.html"
    desk.book.add_job(type(desk.job)("Đ" * 200, desk.job.zone))
    assert len(file_name(open_desk(desk.book, "Đ" * 200), "day", DAY, "pdf").encode()) < 200


def test_papers_beside_the_book_take_names_that_are_free(desk: Desk) -> None:
    first = write_beside_book(desk, "close-out")
    second = write_beside_book(desk, "close-out")
    handed = write_beside_book(desk, "day", DAY, Copy(handed_out=True))
    assert first.parent == papers_folder(desk) == desk.book.folder / "papers"
    assert (first.name, second.name, handed.name) == (
        "Corner porch, close-out.pdf",
        "Corner porch, close-out 2.pdf",
        "Corner porch, day sheet 2026-10-05 to hand out.pdf",
    )


def test_every_kind_of_paper_has_a_name(desk: Desk) -> None:
    kinds: tuple[Kind, ...] = KINDS
    names = {file_name(desk, kind, None, "pdf") for kind in kinds}
    assert len(names) == len(kinds)
    assert all(re.fullmatch(r"(Corner porch, )?[a-z -]+\.pdf", name) for name in names)
