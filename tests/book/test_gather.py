"""What a person names is sorted into recordings, photos and the rest."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from joblog.book.gather import Gathered, gather

JPEG = b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01"
WAVE = b"RIFF\x24\0\0\0WAVEfmt "
HEIC = b"\0\0\0\x18ftypheic\0\0\0\0"
AVIF = b"\0\0\0\x1cftypavif\0\0\0\0"
M4A = b"\0\0\0\x18ftypM4A \0\0\0\0"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path


def a_file(path: Path, content: bytes = b"?") -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path


def sorted_out(*paths: Path) -> Gathered:
    return gather(paths, apart=Path("/nowhere"))


def test_folders_are_searched_to_the_bottom_in_the_order_of_names(folder: Path):
    c, b, a = (a_file(folder / name) for name in ("x/y/c.wav", "x/b.opus", "a.M4A"))
    photos = [a_file(folder / "x" / name) for name in ("p.HEIC", "q.avif")]
    gathered = sorted_out(folder)
    assert gathered.recordings == [a, b, c]
    assert gathered.photos == photos
    assert gathered.problems == []


def test_a_track_log_is_known_by_its_name(folder: Path):
    path = a_file(folder / "walk.GPX", b"<?xml version='1.0'?><gpx/>")
    assert sorted_out(folder).tracks == [path]


@pytest.mark.parametrize("content", [WAVE, M4A, b"OggS", b"fLaC", b"ID3\x04", b"#!AMR\n"])
def test_a_recording_is_known_by_how_it_begins(folder: Path, content: bytes):
    path = a_file(folder / "note", content)
    assert sorted_out(path).recordings == [path]


@pytest.mark.parametrize("content", [JPEG, HEIC, AVIF, b"\x89PNG\r\n\x1a\n", b"II*\0", b"MM\0*"])
def test_a_photo_is_known_by_how_it_begins(folder: Path, content: bytes):
    path = a_file(folder / "picture.sent", content)
    assert sorted_out(path).photos == [path]


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("a.wav", JPEG, "is named like a recording but holds a photo"),
        ("a.jpg", WAVE, "is named like a photo but holds a recording"),
        ("a.wav", b"", "is empty"),
        ("a.pdf", b"%PDF", "is neither a recording nor a photo"),
    ],
)
def test_a_file_that_cannot_come_in_gets_one_line(
    folder: Path, name: str, content: bytes, why: str
):
    path = a_file(folder / name, content)
    gathered = sorted_out(path)
    assert [problem.what for problem in gathered.problems] == [str(path)]
    assert gathered.problems[0].why.startswith(why)
    assert gathered.recordings == gathered.photos == []


def test_a_picture_of_another_sort_under_a_pictures_name_is_a_photo(folder: Path):
    path = a_file(folder / "a.jpg", HEIC)
    assert sorted_out(path).photos == [path]


def test_other_files_in_a_folder_are_left_out_and_hidden_ones_are_not_mentioned(folder: Path):
    plan = a_file(folder / "plan.csv", b"item,quantity")
    a_file(folder / ".DS_Store")
    a_file(folder / ".trash" / "a.wav")
    gathered = sorted_out(folder)
    assert gathered.left_out == [plan]
    assert gathered.recordings == gathered.problems == []


def test_a_file_named_twice_is_taken_once(folder: Path):
    path = a_file(folder / "a.wav")
    assert sorted_out(path, folder, path).recordings == [path]


def test_the_books_own_folder_is_passed_over(folder: Path):
    mine = a_file(folder / "a.wav")
    a_file(folder / "book" / "media" / "ab" / "ab.wav")
    assert gather([folder], apart=folder / "book").recordings == [mine]


def test_a_name_that_is_not_there_gets_one_line(folder: Path):
    [problem] = sorted_out(folder / "a.wav").problems
    assert (problem.what, problem.why) == (
        str(folder / "a.wav"), "is not there. Check the name.",
    )  # fmt: skip


def test_a_pipe_is_not_waited_for(folder: Path):
    os.mkfifo(folder / "a.wav")
    [problem] = sorted_out(folder / "a.wav").problems
    assert problem.why.startswith("is no ordinary file")
    assert sorted_out(folder).problems == []


def test_a_file_without_permission_gets_one_line(folder: Path, monkeypatch: pytest.MonkeyPatch):
    a_file(folder / "a.wav")
    b = a_file(folder / "b.wav")
    real = Path.open

    def guarded(self: Path, *mode: str):
        if self.name == "a.wav":
            raise PermissionError(13, "Permission denied", str(self))
        return real(self, *mode)

    monkeypatch.setattr(Path, "open", guarded)
    gathered = sorted_out(folder)
    assert gathered.recordings == [b]
    assert gathered.problems[0].why.startswith("there is no permission")
