"""Utterances that were caught lie whole on the disk, dated, until they are kept."""

from __future__ import annotations

import multiprocessing
import stat
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest

from joblog.audio.decode import blocks
from joblog.audio.made import dated
from joblog.audio.sameness import sound_print
from joblog.book import Book, BookError
from joblog.book.listened import _print_of
from joblog.book.spool import ASIDE, Spool, sound_and_end

AT = datetime(2026, 10, 5, 18, 31, 7, 250_499, UTC)
SOUND = np.arange(-800, 800, dtype=np.int16)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        yield made


@pytest.fixture
def spool(book: Book) -> Iterator[Spool]:
    with Spool(book) as one:
        yield one


def test_what_is_put_waits_with_its_moment_until_it_is_done(spool: Spool) -> None:
    later = spool.put(SOUND, AT + timedelta(minutes=1))
    first = spool.put(SOUND[:100], AT)
    moment = AT.replace(microsecond=250_000)
    assert spool.waiting() == ((first, moment), (later, moment + timedelta(minutes=1)))
    assert first.name == "20261005T183107250Z.wav"
    assert np.array_equal(spool.sound(later), SOUND)
    spool.done(first)
    assert [path for path, _ in spool.waiting()] == [later]


@pytest.mark.parametrize("zone", ["America/New_York", "Asia/Tokyo"])
def test_its_file_dates_itself_to_the_millisecond_in_any_zone(spool: Spool, zone: str) -> None:
    path = spool.put(SOUND, AT.astimezone(timezone(timedelta(hours=-4))))
    # The name tells it too, and must not be what is read here.
    made, doubts = dated(path.rename(path.with_name("moved.wav")), zone, 0.1)
    assert (made.at, made.source, doubts) == (AT.replace(microsecond=250_000), "container", ())


def test_equal_sounds_at_other_moments_are_other_bytes(spool: Spool) -> None:
    one, other = spool.put(SOUND, AT), spool.put(SOUND, AT + timedelta(milliseconds=1))
    assert one.read_bytes() != other.read_bytes()


def test_two_of_one_moment_both_wait_in_the_order_in_which_they_were_put(spool: Spool) -> None:
    first, second = spool.put(SOUND[:50], AT), spool.put(SOUND, AT)
    assert [path for path, _ in spool.waiting()] == [first, second]
    assert len(spool.sound(first)) == 50


def test_a_sound_of_another_form_is_a_mistake_of_the_program(spool: Spool) -> None:
    with pytest.raises(TypeError):
        spool.put(np.zeros(10, np.float32), AT)  # type: ignore[arg-type]
    assert spool.waiting() == ()


@pytest.mark.parametrize(
    ("what", "count", "whole"),
    [("cut in a sample", 1599, False), ("whole", 1600, True), ("a size of gigabytes", 1600, False)],
)
def test_what_a_bad_disk_left_of_one_is_had(
    spool: Spool, what: str, count: int, whole: bool
) -> None:
    path = spool.put(SOUND, AT)
    content = bytearray(path.read_bytes())
    if what == "cut in a sample":
        del content[-1]
    if what == "a size of gigabytes":
        size = content.index(b"data") + 4
        content[4:8] = content[size : size + 4] = b"\xff\xff\xff\x7f"
    path.write_bytes(content)
    sound, is_whole = sound_and_end(path)
    assert (len(sound), is_whole) == (count, whole)
    assert np.array_equal(sound, SOUND[:count])


def test_no_bit_of_a_head_makes_more_of_it_than_a_sound_or_a_plain_line(spool: Spool) -> None:
    path = spool.put(SOUND, AT)
    content = path.read_bytes()
    refused = 0
    for bit in range(0, 8 * content.index(b"data") + 64, 5):
        damaged = bytearray(content)
        damaged[bit // 8] ^= 1 << bit % 8
        path.write_bytes(damaged)
        try:
            assert len(spool.sound(path)) <= len(SOUND)
        except BookError as error:
            assert "is no utterance that listening kept" in str(error)
            refused += 1
    assert refused


@pytest.mark.parametrize("seconds", [0.001, 1.0, 3.2])
def test_its_print_is_the_one_that_a_decoder_makes_of_it(spool: Spool, seconds: float) -> None:
    loud = np.random.default_rng(1).normal(size=round(seconds * 16_000)) * 9000
    sound = np.clip(loud, -32768, 32767).astype(np.int16)
    sound[:2] = -32768, 32767
    path = spool.put(sound, AT)
    ours, decoded = _print_of(path)[0], sound_print(blocks(path))
    assert (ours.seconds, ours.exact) == (decoded.seconds, decoded.exact)
    assert np.array_equal(ours.words, decoded.words)


def test_only_the_owner_may_listen_to_what_waits(spool: Spool) -> None:
    path = spool.put(SOUND, AT)
    if sys.platform != "win32":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_what_a_kill_cut_off_is_put_aside_and_what_is_whole_stays(book: Book) -> None:
    with Spool(book) as spool:
        path = spool.put(SOUND, AT)
        half = path.with_name("20261005T190000000Z.part")
        half.write_bytes(path.read_bytes()[:700])
        empty = path.with_name("20261005T190000001Z.part")
        empty.write_bytes(path.read_bytes()[:40])
    with Spool(book) as spool:
        assert [one for one, _ in spool.waiting()] == [path]
        assert not half.exists() and not empty.exists()
        [kept] = (spool.folder / ASIDE).iterdir()
        assert kept.read_bytes() == path.read_bytes()[:700]


def test_what_others_put_into_the_folder_is_left_alone(book: Book) -> None:
    with Spool(book) as spool:
        for name in ("notes.wav", "20269905T190000000Z.wav", "20261005T183107250Z.wav.txt"):
            (spool.folder / name).write_bytes(b"RIFF")
    with Spool(book) as spool:
        assert spool.waiting() == ()
        assert len(list(spool.folder.glob("*.*av*"))) == 3


def test_a_file_that_holds_no_such_sound_is_told_in_words(spool: Spool) -> None:
    path = spool.put(SOUND, AT)
    path.write_bytes(b"RIFF and nothing more")
    with pytest.raises(BookError, match="is no utterance that listening kept"):
        spool.sound(path)


def test_a_second_listener_is_refused_until_the_first_has_stopped(book: Book) -> None:
    with Spool(book), pytest.raises(BookError, match="is being listened for already"):
        Spool(book)
    Spool(book).close()


def test_a_listener_that_was_killed_bars_nobody(book: Book) -> None:
    process = multiprocessing.get_context("spawn").Process(target=_hold, args=(book.folder,))
    process.start()
    process.join()
    assert process.exitcode == 9
    with Spool(book) as spool:
        assert len(spool.waiting()) == 1


def _hold(folder: Path) -> None:
    import os

    with Book.open(folder) as book:
        Spool(book).put(SOUND, AT)
        os._exit(9)


def test_a_disk_that_refuses_is_told_in_words_and_leaves_no_half(
    spool: Spool, monkeypatch: pytest.MonkeyPatch
) -> None:
    import errno
    import os

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "no space")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BookError, match="the disk is full"):
        spool.put(SOUND, AT)
    assert [path.name for path in spool.folder.iterdir()] == ["listening.lock"]
