"""An original comes in whole or not at all, and only once."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path

import pytest

from joblog.book import Book, BookError, keep, media


def a_file(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def stored(store: Path) -> list[str]:
    return sorted(path.relative_to(store).as_posix() for path in store.glob("??/*"))


def full(*_: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def test_an_original_is_named_by_the_hash_of_its_bytes(tmp_path: Path):
    content = os.urandom(3_000_000)
    kept = media.stow(tmp_path / "media", a_file(tmp_path, "A.JPG", content))
    sha256 = hashlib.sha256(content).hexdigest()
    assert kept == media.Stowed(sha256, f"{sha256[:2]}/{sha256}.jpg", 3_000_000)
    assert (tmp_path / "media" / kept.media).read_bytes() == content


def test_the_same_bytes_twice_are_one_file_untouched(tmp_path: Path):
    store = tmp_path / "media"
    kept = media.stow(store, a_file(tmp_path, "a.jpg", b"picture"))
    before = (store / kept.media).stat()
    assert media.stow(store, a_file(tmp_path, "b.jpg", b"picture")) == kept
    assert stored(store) == [kept.media]
    assert (store / kept.media).stat().st_ino == before.st_ino


def test_a_name_without_a_sane_ending_gets_one(tmp_path: Path):
    endings = [
        media.stow(tmp_path / "media", a_file(tmp_path, name, name.encode())).media.split(".")[1]
        for name in ("note", "a.j p", "a.ﬀ", "a.averyverylongending")
    ]
    assert endings == ["bin"] * 4


def test_the_source_is_read_only_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    source = a_file(tmp_path, "a.jpg", b"picture" * 500_000)
    read = []
    real = os.read
    monkeypatch.setattr(os, "read", lambda fd, size: read.append(real(fd, size)) or read[-1])
    media.stow(tmp_path / "media", source)
    assert b"".join(read) == source.read_bytes()


def test_everything_is_on_disk_before_it_takes_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    done = []
    fsync, replace = os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda fd: (done.append("fsync"), fsync(fd)))
    monkeypatch.setattr(
        Path, "replace", lambda self, to: (done.append("rename"), replace(self, to))
    )
    media.stow(tmp_path / "media", a_file(tmp_path, "a.jpg", b"picture"))
    assert done == ["fsync", "fsync", "rename", "fsync"]  # file, new folder, then its place


def test_a_full_disk_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        media.stow(tmp_path / "media", a_file(tmp_path, "a.jpg", b"picture"))
    assert [path for path in (tmp_path / "media").rglob("*") if path.is_file()] == []


def test_what_a_killed_copy_left_is_gone_after_the_book_is_opened(tmp_path: Path):
    Book.create(tmp_path).close()
    kept = media.stow(tmp_path / "media", a_file(tmp_path, "a.jpg", b"picture"))
    a_file(tmp_path / "media" / "incoming", "0123456789abcdef", b"pict")
    Book.open(tmp_path).close()
    assert list((tmp_path / "media" / "incoming").iterdir()) == []
    assert stored(tmp_path / "media") == [kept.media]


def test_a_copy_that_is_still_running_is_left_alone(tmp_path: Path):
    with Book.create(tmp_path) as book, keep.taking_in(book):
        running = a_file(tmp_path / "media", "incoming.part", b"")
        (tmp_path / "media" / "incoming").mkdir()
        running = running.rename(tmp_path / "media" / "incoming" / "0123456789abcdef")
        Book.open(tmp_path).close()
        assert running.exists()


def test_two_intakes_at_once_are_refused(tmp_path: Path):
    with (
        Book.create(tmp_path) as book,
        keep.taking_in(book),
        Book.open(tmp_path) as other,
        pytest.raises(BookError, match="being taken in already"),
        keep.taking_in(other),
    ):
        pass
