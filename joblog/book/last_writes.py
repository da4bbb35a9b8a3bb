"""What was written last and is not in the book's file yet, because joblog or the computer was
stopped: SQLite's write-ahead log, as https://www.sqlite.org/fileformat2.html#walformat has it.

SQLite takes a log up to the first page whose checksum is wrong, and forgets the rest without a
word: one turned bit would lose every write after it. Which bit it was can be told from the
checksum, and it is turned back before SQLite reads the log; where it may have been one of several,
the page is let through as it is, and the seals of its rows tell. A write that was never finished is
none of this: no single bit makes its checksum right.
"""

from __future__ import annotations

import os
import shutil
import struct
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex

from joblog.book import media

HEAD, FRAME, PART = 32, 24, 512
MAGIC = 0x377F_0682
"""Its last bit says in which order the bytes of a word are summed up."""
MASK = 0xFFFF_FFFF
LONG = 8 << 20
"""Bytes that are summed up in half a second. More are there only while much is taken in."""
SURE = 2
"""So many whole writes after a wrong part tell that it was right once; one may be the very write
that a power cut left unfinished."""

Sum = tuple[int, int]


@dataclass(frozen=True, slots=True)
class PutRight:
    """What was done, and what could not be."""

    bits: int
    """Bits that had turned and were turned back."""
    lost: bool
    """Whether whole writes follow that cannot be read any more."""


def put_right(file: Path, store: Path) -> PutRight | None:
    """Turns back what has turned in the log of a book's file; None where nothing had.

    The log as it was is kept among what is damaged in the store. Raises OSError.
    """
    log = file.with_name(f"{file.name}-wal")
    try:
        was = log.read_bytes()
    except FileNotFoundError:
        return None
    if not HEAD < len(was) <= LONG:
        return None
    turned = bytearray(was)
    bits, end = _turn_back(turned)
    lost = _whole_writes_from(turned, end) >= SURE
    if not (bits or lost) or log.read_bytes() != was:
        return None  # Or another program is writing in it.
    _keep_aside(log, store)
    with log.open("r+b") as writing:
        for at in range(0, len(was), PART):
            if turned[at : at + PART] != was[at : at + PART]:
                writing.seek(at)
                writing.write(turned[at : at + PART])
        writing.flush()
        os.fsync(writing.fileno())
    return PutRight(bits, lost)


def _keep_aside(log: Path, store: Path) -> None:
    folder = store / media.DAMAGED
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    kept = folder / f"book.{token_hex(4)}.sqlite-wal"
    shutil.copyfile(log, kept)
    kept.chmod(0o600)


# --- the log ----------------------------------------------------------------------------------


def _turn_back(log: bytearray) -> tuple[int, int]:
    """Makes right what one turned bit made wrong, in each page; how many bits, and where the log
    ends for SQLite."""
    bits = _turn_back_head(log)
    if bits < 0:
        return 0, len(log)
    salts, told = bytes(log[16:24]), _stored(log, 24)
    now, frames = told, list(_frames(log))
    for number, at in enumerate(frames):
        words, stored = _words_at(log, at), _stored(log, at + 16)
        wrong_salts = _distance(bytes(log[at + 8 : at + 16]), salts)
        found = _summed(told, words)
        if wrong_salts > 1 or (wrong_salts and found != stored):
            return bits, at  # It is of an older log, or was never written.
        if wrong_salts:
            log[at + 8 : at + 16] = salts
            bits += 1
        elif found != stored:
            places = _turned_bits(words, found, stored)
            after = frames[number + 1] if number + 1 < len(frames) else None
            if _one_bit_apart(found, stored) and not _follows(log, after, stored):
                stored = found
            elif len(places) == 1:
                _turn(log, at, *places[0])
                words = _words_at(log, at)
            elif not places:
                return bits, at
            bits += 1
        now, told = _summed(now, words), stored
        struct.pack_into(">II", log, at + 16, *now)
    return bits, len(log)


def _frames(log: bytearray) -> range:
    """Where the pages of the log begin, each with what stands before it."""
    page = int.from_bytes(log[8:12], "big")
    return range(HEAD, len(log) - page - FRAME + 1, page + FRAME)


def _words_at(log: bytearray, at: int) -> array[int]:
    """What is summed up of a page."""
    swap, page = bool(log[3] & 1), int.from_bytes(log[8:12], "big")
    return _words(log[at : at + 8] + log[at + FRAME : at + FRAME + page], swap)


def _turn(log: bytearray, at: int, word: int, bit: int) -> None:
    start = at + 4 * word if word < 2 else at + FRAME + 4 * (word - 2)
    byte = 3 - bit // 8 if log[3] & 1 else bit // 8
    log[start + byte] ^= 1 << bit % 8


def _follows(log: bytearray, at: int | None, stored: Sum) -> bool:
    """Whether the next page goes on from this sum."""
    return at is not None and _summed(stored, _words_at(log, at)) == _stored(log, at + 16)


def _one_bit_apart(one: Sum, other: Sum) -> bool:
    return sum((a ^ b).bit_count() for a, b in zip(one, other, strict=True)) == 1


def _turn_back_head(log: bytearray) -> int:
    """The same of what the log begins with; -1 where it is not to be told."""
    if _head_is_right(log):
        return 0
    for at in range(HEAD * 8):
        log[at // 8] ^= 1 << at % 8
        if _head_is_right(log) and log[16:24] == log[HEAD + 8 : HEAD + 16]:
            return 1
        log[at // 8] ^= 1 << at % 8
    return -1


def _head_is_right(log: bytearray) -> bool:
    if int.from_bytes(log[:4], "big") | 1 != MAGIC | 1:
        return False
    return _summed((0, 0), _words(log[:24], bool(log[3] & 1))) == _stored(log, 24)


def _whole_writes_from(log: bytearray, end: int) -> int:
    """How many writes are whole behind the page, at `end`, that is not right."""
    before, whole = (0, 0), 0
    for at in _frames(log) if end < len(log) else ():
        stored = _stored(log, at + 16)
        if at > end and _summed(before, _words_at(log, at)) == stored:
            same = log[at + 8 : at + 16] == log[16:24]
            whole += same and int.from_bytes(log[at + 4 : at + 8], "big") > 0
        before = stored
    return whole


def _words(part: bytearray, swap: bool) -> array[int]:
    return array("I", struct.unpack(f"{'>' if swap else '<'}{len(part) // 4}I", part))


def _stored(log: bytearray, at: int) -> Sum:
    first, second = struct.unpack_from(">II", log, at)
    return first, second


def _summed(before: Sum, words: Sequence[int]) -> Sum:
    first, second = before
    pairs = iter(words)
    for one, other in zip(pairs, pairs, strict=True):
        first = (first + one + second) & MASK
        second = (second + other + first) & MASK
    return first, second


def _turned_bits(words: Sequence[int], found: Sum, stored: Sum) -> list[tuple[int, int]]:
    """The words and the bits of them any of which, turned, makes the sum right."""
    wanted = ((stored[0] - found[0]) & MASK, (stored[1] - found[1]) & MASK)
    return [
        (word, bit)
        for word, (first, second) in _weights(len(words))
        for bit in range(32)
        if (by := -(1 << bit) if words[word] >> bit & 1 else 1 << bit) * first & MASK == wanted[0]
        and by * second & MASK == wanted[1]
    ]


def _weights(count: int) -> Iterator[tuple[int, Sum]]:
    """By how much each word counts in the sum, from the last one to the first."""
    one, other = (1, 1), (0, 1)
    for word in range(count - 2, -1, -2):
        yield word + 1, other
        yield word, one
        one, other = _further(one), _further(other)


def _further(weight: Sum) -> Sum:
    first, second = weight
    return (first + second) & MASK, (first + 2 * second) & MASK


def _distance(one: bytes, other: bytes) -> int:
    return (int.from_bytes(one, "big") ^ int.from_bytes(other, "big")).bit_count()
