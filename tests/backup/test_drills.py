"""Drills: what a stick, a disk and a power cut do to a backup, and what comes back of it."""

from __future__ import annotations

import errno
import json
import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock
from made import JOB, a_day, content, objects

from joblog.backup import assembling, back_up, medium, restore, states, taking
from joblog.backup.pruning import needed_of
from joblog.book import Book, BookError, schema
from joblog.book.database import Database
from joblog.book.verify import verify

KILLED = 9
LIVES = 10_000
FEW = 4
"""So many kills; the bench of kills does it at every step."""


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-1])


def flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 4
    path.write_bytes(content)


names_of_any_signs = pytest.mark.skipif(os.name == "nt", reason="no such names on Windows")


def some(stick: Path) -> list[Path]:
    """Originals, and enough of the pieces."""
    every = objects(stick)
    return [path for number, path in enumerate(every) if path.suffix or number % 8 == 0]


MANNERS: tuple[Callable[[Path], None], ...] = (cut, flip, Path.unlink)


# --- damaged ----------------------------------------------------------------------------------


def test_every_damaged_object_costs_itself_alone_and_the_book_nothing(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    whole = content(book.folder)
    for number, path in enumerate(some(stick)):
        kept, sha256 = path.read_bytes(), path.name[:64]
        MANNERS[number % 3](path)
        restored = restore(stick, tmp_path / str(number))
        back = content(restored.folder)
        assert {name for name in whole if whole[name] != back.get(name)} == {
            name for name, digest in whole.items() if digest == sha256
        }
        assert len(restored.damaged) == (sha256 in whole.values()), restored.damaged
        path.write_bytes(kept)


def test_a_damaged_original_is_named_by_its_name(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    flip(next(path for path in objects(stick) if path.suffix == ".jpg"))
    [said] = restore(stick, tmp_path / "again").damaged
    assert said.startswith("photo IMG_0_")
    assert "missing" in said


def test_of_a_database_that_lost_more_what_can_be_read_comes_back_and_the_rest_is_named(
    book: Book, stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    for room in (assembling, taking):
        monkeypatch.setattr(room, "PIECE", 4096)
    back_up(book, stick)
    [state] = states(stick)[0]
    for path in [one for one in objects(stick) if b"used 3" in one.read_bytes()]:
        path.unlink()
    for one in state.database.parity:
        (stick / "objects" / one[:2] / one).unlink()
    restored = restore(stick, tmp_path / "again")
    assert restored.damaged[0].startswith("the book of ")
    assert any(said.startswith("entry 4, version 1: its line") for said in restored.damaged)
    with Book.open(restored.folder) as again:
        assert again.plan(JOB.name) == book.plan(JOB.name)


def test_where_nothing_of_a_state_can_be_read_the_one_before_is_taken(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    then = content(book.folder)
    a_day(book, 1)
    back_up(book)
    new, old = (state.database for state in states(stick)[0])
    for piece in {new.pieces[0], *new.parity} - {*old.pieces, *old.parity}:
        (stick / "objects" / piece[:2] / piece).unlink()
    restored = restore(stick, tmp_path / "again")
    assert "so the backup before was taken" in restored.damaged[1]
    assert content(restored.folder) == then


def test_any_damaged_object_is_written_anew_while_the_book_is_there(book: Book, stick: Path):
    back_up(book, stick)
    for number, path in enumerate(some(stick)):
        kept = path.read_bytes()
        MANNERS[number % 3](path)
        assert back_up(book, whole=True).damaged == ()
        assert path.read_bytes() == kept


def test_a_piece_that_is_alone_in_its_group_has_a_parity_of_its_own():
    piece = b"joblog"
    [parity] = assembling.parity_of([piece], len(piece))
    assert parity != piece
    assert [*assembling.parity_of([parity], len(piece))] == [piece]


def test_a_damaged_text_for_whoever_finds_the_stick_is_written_anew(book: Book, stick: Path):
    back_up(book, stick)
    text = stick / medium.READ_ME
    whole = text.read_bytes()
    flip(text)
    back_up(book, stick)
    assert text.read_bytes() == whole


def test_what_only_an_older_state_needs_is_named_when_it_is_lost(book: Book, stick: Path):
    back_up(book, stick)
    old = states(stick)[0][0].database
    a_day(book, 1)
    back_up(book)
    new = states(stick)[0][0].database
    for one in {*old.pieces, *old.parity} - {*new.pieces, *new.parity}:
        flip(stick / "objects" / one[:2] / one)
    [said] = back_up(book, whole=True).damaged
    assert said.startswith("the backup of ")


def test_a_share_of_the_older_objects_is_read_each_time(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("joblog.backup.looking_over.AT_LEAST", 100_000)
    outcome = back_up(book, stick)
    assert outcome.read_since is None
    for _ in range(20):
        outcome = back_up(book)
    assert outcome.read_since is not None


def test_a_stick_pulled_while_it_is_read_again_damages_nothing(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    back_up(book, stick)
    read_again, before = medium.read_again, objects(stick)
    pulled = stick.with_name("pulled")

    def pull(path: Path) -> str:
        if stick.exists():
            stick.rename(pulled)
        return read_again(path)

    monkeypatch.setattr(medium, "read_again", pull)
    with pytest.raises(BookError, match="is not there"):
        back_up(book)
    pulled.rename(stick)
    assert objects(stick) == before


def test_a_damaged_state_is_named_and_the_one_before_is_taken(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    then = content(book.folder)
    a_day(book, 1)
    back_up(book)
    flip(stick / "states" / states(stick)[0][0].file)
    restored = restore(stick, tmp_path / "again")
    assert "this backup is damaged, and was left out" in restored.damaged[0]
    assert content(restored.folder) == then


def test_a_damaged_state_is_told_once_and_put_aside_and_older_ones_are_dropped_all_the_same(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("joblog.backup.pruning.YOUNG", -60)
    for day in range(1, 5):
        back_up(book, stick)
        a_day(book, day)
    medium_before = medium.Medium(stick)
    newest, third, second, first = states(stick)[0]
    others = needed_of(medium_before, [newest, third, first]) or set()
    its_own = (needed_of(medium_before, [second]) or set()) - others
    cut(stick / "states" / second.file)
    assert "this backup is damaged, and was put aside" in back_up(book).damaged[0]
    assert (stick / "states" / f"{second.file}.damaged").is_file()
    a_day(book, 5)
    assert back_up(book, keep=1).damaged == ()
    assert len(states(stick)[0]) == 1
    left = set(medium.Medium(stick).objects)
    assert its_own <= left
    assert not {*first.database.pieces} <= left


def test_a_state_that_arrives_whole_after_it_was_put_aside_counts_again(book: Book, stick: Path):
    back_up(book, stick)
    file = stick / "states" / states(stick)[0][0].file
    whole = file.read_bytes()
    a_day(book, 1)
    back_up(book)
    cut(file)
    back_up(book)
    file.with_name(file.name + ".damaged").write_bytes(whole)
    assert back_up(book).damaged == ()
    assert len(states(stick)[0]) == 2


def test_a_backup_that_arrived_in_part_is_not_believed(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    a_day(book, 1)
    for path in objects(stick)[::2]:
        path.write_bytes(path.read_bytes()[:7])
    back_up(book)
    assert restore(stick, tmp_path / "again").damaged == ()


@names_of_any_signs
def test_a_backup_lies_on_fat_as_on_any_other(book: Book, stick: Path):
    # FAT knows no links, none of these signs, no name that differs in its case alone, and no file
    # of 4 GB: Microsoft, FAT32 File System Specification 1.03, "FAT Directory Structure", and its
    # long names.
    (book.folder / "papers").mkdir()
    (book.folder / "papers" / 'Smith: porch? "final".pdf').write_bytes(b"%PDF")
    back_up(book, stick)
    names = [path.relative_to(stick).as_posix() for path in stick.rglob("*")]
    assert not [name for name in names if re.search(r'[\\:*?"<>|\x00-\x1f]|[. ](/|$)', name)]
    assert len({name.casefold() for name in names}) == len(names)
    assert max(len(name.rpartition("/")[2]) for name in names) < 255
    assert all(path.stat().st_nlink == 1 for path in stick.rglob("*") if path.is_file())
    assert taking.LARGEST < 4 << 30


@names_of_any_signs
def test_papers_of_any_name_come_back(book: Book, stick: Path, tmp_path: Path):
    (book.folder / "papers").mkdir()
    for name in ("Smith: porch.pdf", "Ægir\n2.pdf", "no bytes.pdf"):
        (book.folder / "papers" / name).write_bytes(name.encode() if "no" not in name else b"")
    back_up(book, stick)
    folder = restore(stick, tmp_path / "again").folder
    before, after = (
        {path.name: path.read_bytes() for path in (one / "papers").iterdir()}
        for one in (book.folder, folder)
    )
    assert before == after


def test_a_state_copied_by_another_program_is_one_state(book: Book, stick: Path):
    back_up(book, stick)
    [file] = (stick / "states").iterdir()
    shutil.copy(file, file.with_name(f"{file.stem} (conflicted copy).json"))
    assert len(states(stick)[0]) == 1


def test_a_state_that_names_a_file_outside_the_book_is_not_believed(book: Book, stick: Path):
    back_up(book, stick)
    [file] = (stick / "states").iterdir()
    told = json.loads(file.read_text("utf-8"))
    for name in ("../../.bashrc", "/etc/passwd", "media/../../x", "book.sqlite-wal", "days/../x"):
        told["beside"][0]["name"] = name
        forged = json.dumps(told).encode()
        digest = medium.hashlib.sha256(forged).hexdigest()[:16]
        (stick / "states" / f"2026-10-05 12-00-00 UTC {digest}.json").write_bytes(forged)
    found, bad = states(stick)
    assert (len(found), len(bad)) == (1, 5)


def test_a_row_that_was_backed_up_damaged_comes_back_from_the_state_before(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    whole = content(book.folder)
    struck = Database(book.folder / "book.sqlite")
    struck.execute("UPDATE entry SET ordinal = 7 WHERE id = 1")
    struck.close()
    with Book.open(book.folder) as damaged:
        assert not back_up(damaged).new
        a_day(damaged, 1)
        assert "the book itself is damaged" in back_up(damaged, keep=1).damaged[0]
    assert len(states(stick)[0]) == 2  # Nothing is dropped then.
    restored = restore(stick, tmp_path / "again")
    assert restored.damaged == ()
    assert set(whole["entry"].splitlines()) < set(content(restored.folder)["entry"].splitlines())


def test_of_a_book_with_a_damaged_structure_all_that_can_be_read_is_backed_up(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    whole = content(book.folder)
    book.close()
    file = book.folder / "book.sqlite"
    page = file.read_bytes().index(b"used 3") // 4096
    with file.open("r+b") as torn:
        torn.seek(page * 4096)
        torn.write(bytes(4096))
    with Book.open(book.folder) as damaged:
        list(verify(damaged))
        assert "the book itself is damaged" in back_up(damaged, stick).damaged[0]
    restored = restore(stick, tmp_path / "again")
    assert content(restored.folder)["entry_version"] == whole["entry_version"]


def test_the_backup_of_an_older_book_is_brought_up_to_date(
    stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    with monkeypatch.context() as older:
        older.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:17])
        with Book.create(tmp_path / "old") as old:
            old.set_setting("theme", "an old one")
            version = back_up(old, stick).state.version
    with Book.open(restore(stick, tmp_path / "again").folder) as again:
        assert schema.version(again._db) == len(schema.MIGRATIONS) > version == 17
        assert again.setting("theme") == "an old one"
        assert back_up(again).damaged == ()


def test_an_original_that_is_damaged_in_the_book_is_named_and_not_kept_as_whole(
    book: Book, stick: Path
):
    flip(next((book.folder / "media").glob("??/*")))
    outcome = back_up(book, stick)
    assert len(outcome.damaged) == 1
    assert "its original in the book is damaged, and no backup here has it" in outcome.damaged[0]
    assert states(stick)[0][0].lacking == outcome.damaged


def test_a_backup_of_a_newer_form_is_refused_in_words(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    with pytest.MonkeyPatch.context() as newer:
        newer.setattr("joblog.backup.stated.FORM", 2)
        a_day(book, 1)
        back_up(book)
    before = sorted(stick.rglob("*"))
    for attempt in (lambda: restore(stick, tmp_path / "again"), lambda: back_up(book)):
        with pytest.raises(BookError, match=r"newer joblog .*install the newer joblog"):
            attempt()
    assert sorted(stick.rglob("*")) == before
    assert not (tmp_path / "again").exists()


def test_a_book_of_a_newer_joblog_is_refused_before_anything_is_made(
    book: Book, stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    back_up(book, stick)
    monkeypatch.setattr("joblog.book.schema.MIGRATIONS", ())
    with pytest.raises(BookError, match="written by a newer joblog"):
        restore(stick, tmp_path / "again")
    assert not list(tmp_path.glob("again*"))


# --- no room, no right, not alone -------------------------------------------------------------


def test_a_stick_without_room_is_told_before_anything_is_written(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    back_up(book, stick)
    before = objects(stick)
    a_day(book, 1)
    monkeypatch.setattr(taking, "room", lambda place: 1_000)
    with pytest.raises(BookError, match=r"has no room: \d+ KB more are needed"):
        back_up(book)
    assert objects(stick) == before


def test_a_stick_that_is_full_at_any_write_keeps_what_it_had(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    before = content(book.folder)
    a_day(book, 1)
    for number in range(LIVES):
        with pytest.MonkeyPatch.context() as full:
            full.setattr(medium, "_to_disk", full_after(number))
            try:
                back_up(book)
            except BookError as error:
                assert "is full" in str(error)
            else:
                break
        assert len(states(stick)[0]) == 1
        assert not list(stick.rglob("*.part"))
    assert number > 4
    assert content(restore(stick, tmp_path / "again").folder) == content(book.folder) != before


def full_after(writes: int) -> Callable[..., None]:
    left = writes

    def to_disk(file: object) -> None:
        nonlocal left
        left -= 1
        if left < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    return to_disk


def test_a_stick_that_may_not_be_written_is_said_so_plainly(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    def refused(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(Path, "mkdir", refused)
    with pytest.raises(BookError, match="no permission to write here"):
        back_up(book, stick)


def test_a_stick_that_reads_otherwise_than_it_was_written_is_not_trusted(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(medium, "read_again", lambda path: "0" * 64)
    with pytest.raises(BookError, match="This stick or disk is failing"):
        back_up(book, stick)
    assert not list(stick.rglob("*.part"))


def test_a_folder_that_nobody_may_read_is_said_to_be_so(
    book: Book, stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    back_up(book, stick)
    monkeypatch.setattr(medium, "state_files", lambda place: iter(()))

    def refused(path: Path, *_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr(Path, "open", refused)
    for do in (lambda: back_up(book, stick), lambda: restore(stick, tmp_path / "again")):
        with pytest.raises(BookError, match=f"{stick}: there is no permission"):
            do()


def test_two_first_backups_at_once_begin_one_and_the_same(book: Book, stick: Path):
    medium.Medium.begun(stick)
    with FileLock(stick / "in use.lock"), pytest.raises(BookError, match="another backup is being"):
        back_up(book, stick)
    assert back_up(book, stick).folder == stick


def test_two_backups_at_once_are_told_apart(book: Book, stick: Path):
    back_up(book, stick)
    with FileLock(stick / "in use.lock"), pytest.raises(BookError, match="another backup is being"):
        back_up(book)
    with (
        FileLock(book.folder / "book.sqlite.backup.lock"),
        pytest.raises(BookError, match="is being backed up already"),
    ):
        back_up(book)


# --- killed -----------------------------------------------------------------------------------

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="a fork is killed")


@needs_fork
def test_a_backup_killed_at_any_step_is_finished_by_the_next(
    folder: Path, stick: Path, tmp_path: Path
):
    with Book.open(folder) as book:
        back_up(book, stick)
        a_day(book, 1)
    copy, whole = tmp_path / "copy", content(folder)

    def once_more(step: int) -> int:
        return killed_before(step, lambda: back_up_at(copy, tmp_path / "copied stick"))

    def anew() -> None:
        for one, other in ((folder, copy), (stick, tmp_path / "copied stick")):
            shutil.rmtree(other, ignore_errors=True)
            shutil.copytree(one, other)

    anew()
    steps = once_more(LIVES)
    assert 15 < steps < 250
    for step in range(0, steps, steps // FEW):
        anew()
        assert once_more(step) == KILLED
        found, bad = states(tmp_path / "copied stick")
        assert bad == ()
        assert len(found) in (1, 2)
        assert once_more(LIVES) < 250
        assert len(states(tmp_path / "copied stick")[0]) == 2, f"killed before step {step}"
        shutil.rmtree(tmp_path / "again", ignore_errors=True)
    restored = restore(tmp_path / "copied stick", tmp_path / "again")
    assert (content(restored.folder), restored.damaged) == (whole, ())
    assert not list(copy.glob("passing/*"))


def back_up_at(folder: Path, stick: Path) -> None:
    with Book.open(folder) as book:
        back_up(book, stick)


@needs_fork
def test_a_restore_killed_at_any_step_leaves_no_book_and_is_finished_by_the_next(
    book: Book, stick: Path, tmp_path: Path
):
    back_up(book, stick)
    whole, new = content(book.folder), tmp_path / "again"
    steps = killed_before(LIVES, lambda: restore(stick, new))
    assert 10 < steps < 250
    for step in range(0, steps, steps // FEW):
        shutil.rmtree(new)
        assert killed_before(step, lambda: restore(stick, new)) == KILLED
        if not new.exists():
            assert killed_before(LIVES, lambda: restore(stick, new)) < 250
        assert content(new) == whole, f"killed before step {step}"
    with pytest.raises(BookError, match="is there already"):
        restore(stick, new)
    assert [path.name for path in tmp_path.glob("again*")] == ["again"]


def killed_before(step: int, do: Callable[[], object]) -> int:
    """Does it in a fork that ends before its `step`-th step on the disk as if killed.

    The number of steps when it was not killed, else KILLED.
    """
    if not (child := os.fork()):
        status = 255
        try:
            status = counted(step, do)
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def counted(last: int, do: Callable[[], object]) -> int:
    taken = 0

    def step(real: Callable[..., object]) -> Callable[..., object]:
        def stepped(*args: object, **named: object) -> object:
            nonlocal taken
            if taken == last:
                os._exit(KILLED)
            taken += 1
            return real(*args, **named)

        return stepped

    from joblog.book.database import Database

    for place, name in (
        (os, "fsync"), (os, "mkdir"), (os, "rename"), (os, "replace"), (os, "unlink"),
    ):  # fmt: skip
        setattr(place, name, step(getattr(place, name)))
    execute = Database.execute
    commit = step(execute)
    Database.execute = lambda db, sql, *values: (commit if sql == "COMMIT" else execute)(
        db, sql, *values
    )
    do()
    return taken
