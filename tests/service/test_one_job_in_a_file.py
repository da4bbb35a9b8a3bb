"""A job goes from one book into another by the service, as a person asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from joblog.book import Book
from joblog.service import Desk, ServiceError
from joblog.service.desk import open_desk
from joblog.service.packing import must_be_a_pack, pack_job, unpack_job
from joblog.service.record import read_balance
from tests.packing.books import new_book


def test_a_job_is_packed_and_unpacked_with_its_figures(desk: Desk, tmp_path: Path) -> None:
    packed = pack_job(desk, tmp_path / "porch")
    assert packed.file == tmp_path / "porch.jobpack"
    with new_book(tmp_path / "other") as other:
        unpacked = unpack_job(other, packed.file)
        assert (unpacked.job, unpacked.outcome) == (desk.job.name, "new")
        assert (unpacked.entries, unpacked.originals) == (packed.entries, packed.originals)
        figures = read_balance(open_desk(other, desk.job.name))
        assert [one.consumed for one in figures.stock] == [
            one.consumed for one in read_balance(desk).stock
        ]
        assert unpack_job(other, packed.file).outcome == "same"


def test_a_job_of_another_name_is_taken_in_under_that(desk: Desk, tmp_path: Path) -> None:
    packed = pack_job(desk, tmp_path / "porch.jobpack")
    with new_book(tmp_path / "other") as other:
        assert unpack_job(other, packed.file, "North porch").job == "North porch"
        with pytest.raises(ServiceError, match="known in this book already, as 'North porch'"):
            unpack_job(other, packed.file, "South porch")


def test_what_is_no_pack_is_refused_in_a_line(book: Book, tmp_path: Path) -> None:
    letter = tmp_path / "letter.jobpack"
    letter.write_text("a letter")
    with pytest.raises(ServiceError, match="is no pack of a job"):
        unpack_job(book, letter)
    with pytest.raises(ServiceError, match="is no pack of a job"):
        must_be_a_pack(letter)


def test_a_folder_that_is_not_there_is_named(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(ServiceError, match=r"nowhere: is not there\. Name a folder"):
        pack_job(desk, tmp_path / "nowhere" / "porch")
