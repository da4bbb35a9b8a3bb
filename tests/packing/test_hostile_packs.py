"""A pack comes from outside: it is refused in a line, or it is what was packed."""

from __future__ import annotations

import hashlib
import json
import os
import random
import struct
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from joblog.book import Book, schema, schema_of_packs
from joblog.book.verify import verify
from joblog.packing import file as files
from joblog.packing import load, unpack
from joblog.packing.load import loaded
from joblog.packing.nouns import PackError
from joblog.packing.state import digest
from tests.packing.books import new_book, rows_of

Members = dict[str, bytes]


@pytest.fixture
def whole(made: Path) -> bytes:
    return (made / "job.jobpack").read_bytes()


@pytest.fixture
def file(tmp_path: Path, whole: bytes) -> Path:
    place = tmp_path / "job.jobpack"
    place.write_bytes(whole)
    return place


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="Windows has no pipes among its files.")
def test_a_pipe_is_no_pack_and_nobody_waits_for_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(PackError, match="is no pack of a job"), loaded(tmp_path / "pipe"):
        pass


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """A book that nothing comes into, whatever it is given."""
    with new_book(tmp_path_factory.mktemp("other") / "book") as opened:
        before = rows_of(opened)
        yield opened
        assert rows_of(opened) == before
        assert not list(opened.store.glob("??/*"))


def refused(book: Book, file: Path) -> str:
    """What is told."""
    with pytest.raises(PackError) as told:
        unpack(book, file)
    assert "\n" not in str(told.value)
    assert str(told.value).startswith(str(file))
    return str(told.value)


# --- damaged ----------------------------------------------------------------------------------


def test_one_that_was_cut_short_is_refused(other: Book, file: Path, whole: bytes) -> None:
    for length in (0, 21, len(whole) // 2, len(whole) - 70, len(whole) - 1):
        file.write_bytes(whole[:length])
        assert "Get it again" in refused(other, file)


def test_a_flipped_bit_is_found_or_makes_no_difference(
    tmp_path: Path, file: Path, whole: bytes
) -> None:
    with loaded(file) as pack:
        right = digest(pack.state)
        originals = pack.file.originals()
    chosen = random.Random(5)
    harmless = 0
    for _ in range(60):
        at, bit = chosen.randrange(len(whole)), chosen.randrange(8)
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 1 << bit]) + whole[at + 1 :])
        try:
            with loaded(file) as pack:
                # A date, or who may read it: nothing that is asked.
                assert (digest(pack.state), pack.file.originals()) == (right, originals)
                harmless += 1
        except PackError:
            pass
    assert harmless < 15


def test_another_file_is_no_pack(other: Book, file: Path) -> None:
    file.write_text("a letter")
    assert "is no pack of a job" in refused(other, file)
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("letter.txt", "a letter")
    assert "is no pack of a job" in refused(other, file)
    file.unlink()
    assert "is not there" in refused(other, file)


# --- made to harm -----------------------------------------------------------------------------


def rewritten(
    file: Path,
    change: Callable[[Members], None],
    head: Callable[[dict[str, Any]], None] | None = None,
) -> None:
    """Changes a pack and puts its list, its head and their marks right again."""
    with zipfile.ZipFile(file) as archive:
        members = {info.filename: archive.read(info) for info in archive.infolist()}
    first = json.loads(members.pop(files.HEAD))
    members.pop(files.LIST)
    change(members)
    listed = [[name, len(told), hashlib.sha256(told).hexdigest()] for name, told in members.items()]
    members[files.LIST] = json.dumps(listed).encode()
    first["list"] = hashlib.sha256(members[files.LIST]).hexdigest()
    if head is not None:
        head(first)
    members[files.HEAD] = json.dumps(first).encode()
    with zipfile.ZipFile(file, "w") as archive:
        archive.comment = hashlib.sha256(members[files.HEAD]).hexdigest().encode()
        for name, told in members.items():
            archive.writestr(name, told)


@pytest.fixture
def right_mark(monkeypatch: pytest.MonkeyPatch, file: Path) -> None:
    """Who made the pack put the mark of its rows right as well."""
    with loaded(file) as pack:
        told = pack.head.digest
    monkeypatch.setattr(load, "digest", lambda state: told)


def lines_of(members: Members, table: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in members[f"rows/{table}.jsonl"].decode().splitlines()]


def put(members: Members, table: str, lines: list[dict[str, Any]]) -> None:
    members[f"rows/{table}.jsonl"] = "".join(f"{json.dumps(one)}\n" for one in lines).encode()


def changed(table: str, **values: object) -> Callable[[Members], None]:
    """The first row of a table says something else."""

    def change(members: Members) -> None:
        lines = lines_of(members, table)
        lines[0].update(values)
        put(members, table, lines)

    return change


def test_a_name_that_leads_out_of_the_book_is_refused(other: Book, file: Path) -> None:
    for name in ("../../evil.sh", "/etc/passwd", "originals/../evil", "C:\\evil", "rows/a/b.jsonl"):
        with zipfile.ZipFile(file, "a") as archive:
            archive.writestr(name, "evil")
        assert "Nothing was changed" in refused(other, file)


@pytest.mark.usefixtures("right_mark")
def test_no_path_in_a_row_is_used(file: Path, tmp_path: Path) -> None:
    rewritten(file, changed("photo", media="../../../evil/../a b.sh;rm", name="../../evil.sh"))
    with new_book(tmp_path / "book") as book:
        unpack(book, file)
        for row in book._rows("SELECT sha256, media FROM photo"):
            assert row["media"].startswith(f"{row['sha256'][:2]}/{row['sha256']}.")
            assert "/" not in row["media"][3:]
    assert not list(tmp_path.rglob("evil*"))


def test_rows_with_another_mark_are_refused(other: Book, file: Path) -> None:
    rewritten(file, changed("photo", name="another.jpg"))
    assert "does not hold together" in refused(other, file)


def test_a_bomb_is_refused_before_it_is_opened(
    other: Book, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(files, "MOST_ROWS", 1 << 22)
    with zipfile.ZipFile(file, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("rows/doubts.jsonl", bytes(1 << 23))
    assert file.stat().st_size < 100_000
    assert "more than any job holds" in refused(other, file)


def test_originals_are_never_packed_together(other: Book, file: Path) -> None:
    name = f"originals/{hashlib.sha256(bytes(1 << 20)).hexdigest()}"
    with zipfile.ZipFile(file, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, bytes(1 << 20))
    assert "is damaged" in refused(other, file)


def test_a_size_that_is_not_what_is_there_is_refused(other: Book, file: Path, whole: bytes) -> None:
    at = whole.rindex(b"PK\x01\x02")
    for size in (0, 1, 5_000, 0xFFFFFFF0):
        lie = struct.pack("<L", size)
        file.write_bytes(whole[: at + 24] + lie + whole[at + 28 :])
        assert "is damaged" in refused(other, file)


def test_a_list_of_names_without_end_is_not_read(other: Book, file: Path, whole: bytes) -> None:
    end = whole.rindex(b"PK\x05\x06")
    many = struct.pack("<HHL", 60_000, 60_000, 0xF0000000)
    file.write_bytes(whole[: end + 8] + many + whole[end + 16 :])
    assert "Nothing was changed" in refused(other, file)


@pytest.mark.parametrize(
    ("table", "values"),
    [
        ("entry", {"job": 77}),
        ("entry", {"job": "1; DROP TABLE job"}),
        ("entry", {'id") VALUES (1); --': 1}),
        ("entry", {"at": "yesterday"}),
        ("entry", {"id": 2**70}),
        ("entry_version", {"content": "["}),
        ("entry_version", {"content": '{"kind": "explode"}'}),
        ("entry_version", {"content": "[" * 100_000}),
        ("entry_version", {"version": 9}),
        ("entry_version", {"changed_at": "2026-10-05"}),
        ("entry_version", {"standing": "believed"}),
        ("step_effect", {"noun": "entry"}),
        ("step_effect", {"noun": "plan 1; x", "after": "{}"}),
        ("recording", {"sha256": "../../../etc/passwd"}),
        ("recording", {"made_at": "2026-10-05T14:00:00"}),
        ("photo", {"bytes": 5}),
        ("job", {"zone": "../../../etc/passwd"}),
        ("job", {"places": "{}x"}),
        ("job", {"name": "  "}),
        ("job", {"name": "\x1b[31mred"}),
        ("closing", {"figures": "{}"}),
        ("closing", {"rests_on": '[["x"]]'}),
        ("signing", {"rests_on": "{}"}),
        ("house", {"content": '{"bodies": 5}'}),
        ("bid", {"content": "[]"}),
        ("track", {"points": "[[1]]"}),
        ("hearing", {"words": "{"}),
        ("utterance", {"scored": "[[1, 2]]"}),
        ("hearing", {"words": '[["nine", "x", 1, 1]]'}),
        ("packed_row", {"sort": "entry"}),
    ],
    ids=lambda one: one if isinstance(one, str) else str(one)[:40],
)  # fmt: skip
@pytest.mark.usefixtures("right_mark")
def test_rows_that_nobody_could_read_are_refused(
    other: Book, file: Path, table: str, values: dict[str, object]
) -> None:
    def change(members: Members) -> None:
        lines = lines_of(members, table) or [{}]
        lines[0].update(values)
        put(members, table, lines)

    rewritten(file, change)
    refused(other, file)


def test_an_original_that_is_another_one_is_refused(other: Book, file: Path) -> None:
    def change(members: Members) -> None:
        name = next(one for one in members if one.startswith("originals/"))
        members[name] = b"x" * len(members[name])

    rewritten(file, change)
    assert "is damaged" in refused(other, file)


def test_a_pack_of_a_newer_joblog_is_refused_in_words(other: Book, file: Path) -> None:
    for newer in ({"form": 2}, {"schema": 1000}):
        rewritten(file, lambda members: None, lambda head, newer=newer: head.update(newer))
        assert "install the newer joblog" in refused(other, file)


def test_a_pack_of_an_older_joblog_is_brought_up_to_date(file: Path, tmp_path: Path) -> None:
    first = schema.MIGRATIONS.index(schema_of_packs.packs) + 1
    rewritten(
        file,
        lambda members: members.__delitem__("rows/step_turn.jsonl"),
        lambda head: head.update(schema=first),
    )
    with new_book(tmp_path / "book") as book:
        assert unpack(book, file).outcome == "new"
        assert list(verify(book)) == []


def test_what_nothing_in_the_job_refers_to_does_not_come_in(other: Book, file: Path) -> None:
    def change(members: Members) -> None:
        put(members, "setting", [{"name": "voice promise", "value": "1"}])
        lines = lines_of(members, "job")
        put(members, "job", [*lines, {**lines[0], "id": 900, "name": "Smuggled"}])

    rewritten(file, change, lambda head: head.update(digest="0"))
    refused(other, file)  # The job's own setting is gone, and with it the mark.
    assert other.jobs() == ()
