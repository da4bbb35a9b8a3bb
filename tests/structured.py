"""Damage done to a file by the parts of its format (boxes, chunks, pages, frames) and its bytes.

Blind changes of bytes seldom get past a checksum or a length; these drop, double, swap, move and
nest whole parts, lie about their lengths, and mostly make the checksums right again.
"""

from __future__ import annotations

import random
import re
import struct
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

EXTREMES = (b"\0\0\0\0", b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\x80\0\0\0", b"\xff\xff\0\0")


@dataclass(frozen=True, slots=True)
class Part:
    """From byte to byte; and where its own length is written in it, if it is: at, how many bytes,
    in which order."""

    start: int
    end: int
    length_at: int = 0
    length_bytes: int = 0
    order: str = "big"


def damaged(whole: bytes, lenders: Sequence[bytes], draw: random.Random) -> bytes:
    """The file with one to eight changes; the others lend their parts."""
    content = bytearray(whole)
    for _ in range(draw.choice((1, 1, 2, 3, 8))):
        change = draw.choice(BLIND if draw.random() < 0.4 else STRUCTURED)
        change(content, lenders, draw)
        del content[LARGEST:]
    if draw.random() < 0.75:
        make_checksums_right(content)
    return bytes(content)


LARGEST = 1 << 18
"""Bytes; parts that are doubled fifty times, again and again, would fill the disk."""
DEEPEST = 20
"""Parts within each other; deeper ones are there, but no part of what is changed further."""


def parts_of(content: bytes) -> list[Part]:
    """The parts of a file by its format, those within others too; none where it is not known."""
    for at, beginning, find in _KINDS:
        if content[at : at + len(beginning)] == beginning:
            return list(find(content))
    return []


def make_checksums_right(content: bytearray) -> None:
    """Writes the checksums of PNG chunks, Ogg pages and FLAC frames as they should be."""
    if content.startswith(b"\x89PNG"):
        for part in _png(content):
            end = part.end - 4
            content[end : part.end] = struct.pack(">I", zlib.crc32(content[part.start + 4 : end]))
    elif content.startswith(b"OggS"):
        for part in _ogg(content):
            content[part.start + 22 : part.start + 26] = bytes(4)
            crc = checksum(content[part.start : part.end], _OGG, 32)
            content[part.start + 22 : part.start + 26] = struct.pack("<I", crc)
    elif content.startswith(b"fLaC"):
        for part in _flac(content):
            frame = content[part.start : part.end]
            if frame[0] != 0xFF or len(frame) < 10:
                continue
            head = _flac_head(frame)
            frame[head] = checksum(frame[:head], EIGHT, 8)
            frame[-2:] = struct.pack(">H", checksum(frame[:-2], SIXTEEN, 16))
            content[part.start : part.end] = frame


def _chunks(content: bytes, at: int, order: str, size: int, head: int) -> Iterator[Part]:
    """Chunks of a name, a length of `size` bytes, and what is in them."""
    while at + head <= len(content):
        length = int.from_bytes(content[at + 4 : at + 4 + size], order)  # type: ignore[arg-type]
        end = min(len(content), at + head + length + (length % 2 if size == 4 else 0))
        yield Part(at, end, at + 4, size, order)
        at = end


def _wav(content: bytes) -> Iterator[Part]:
    return _chunks(content, 12, "little", 4, 8)


def _aiff(content: bytes) -> Iterator[Part]:
    return _chunks(content, 12, "big", 4, 8)


def _caf(content: bytes) -> Iterator[Part]:
    return _chunks(content, 8, "big", 8, 12)


def _png(content: bytes) -> Iterator[Part]:
    at = 8
    while at + 12 <= len(content):
        end = min(len(content), at + 12 + int.from_bytes(content[at : at + 4]))
        yield Part(at, end, at, 4)
        at = end


def _jpeg(content: bytes) -> Iterator[Part]:
    at = 2
    while content[at : at + 1] == b"\xff" and at + 4 <= len(content):
        end = at + 2 + int.from_bytes(content[at + 2 : at + 4])
        yield Part(at, end, at + 2, 2)
        if content[at + 4 : at + 10] == b"Exif\0\0":
            for part in _tiff(content[at + 10 : end]):
                yield Part(at + 10 + part.start, at + 10 + part.end)
        at = end
        if content[at : at + 2] == b"\xff\xda":
            scan = content.find(b"\xff\xd9", at)
            yield Part(at, scan if scan > 0 else len(content), at + 2, 2)
            return


def _tiff(content: bytes) -> Iterator[Part]:
    """The entries of all directories."""
    order = "little" if content[:1] == b"I" else "big"

    def number(at: int, size: int) -> int:
        return int.from_bytes(content[at : at + size], order)  # type: ignore[arg-type]

    ahead, seen = [number(4, 4)], set[int]()
    while ahead:
        at = ahead.pop()
        if at in seen or not 8 <= at < len(content) - 2:
            continue
        seen.add(at)
        for entry in range(at + 2, min(len(content) - 12, at + 2 + 12 * number(at, 2)), 12):
            yield Part(entry, entry + 12, entry + 4, 4, order)
            if number(entry, 2) in (0x8769, 0x8825, 0xA005, 0x014A):
                ahead.append(number(entry + 8, 4))
        ahead.append(number(at + 2 + 12 * number(at, 2), 4))


_HOLDS_BOXES = frozenset(
    b"moov trak mdia minf stbl dinf edts udta moof traf mvex iprp ipco meta ilst".split()
)


def _boxes(content: bytes, at: int = 0, end: int | None = None, deep: int = 0) -> Iterator[Part]:
    end = len(content) if end is None else end
    while at + 8 <= end:
        size = int.from_bytes(content[at : at + 4])
        stop = min(end, at + max(8, size)) if size else end
        yield Part(at, stop, at, 4)
        name = content[at + 4 : at + 8]
        if name in _HOLDS_BOXES and deep < DEEPEST:
            yield from _boxes(content, at + (12 if name == b"meta" else 8), stop, deep + 1)
        at = stop


def _ogg(content: bytes) -> Iterator[Part]:
    at = 0
    while content[at : at + 4] == b"OggS" and at + 27 <= len(content):
        segments = content[at + 27 : at + 27 + content[at + 26]]
        end = min(len(content), at + 27 + len(segments) + sum(segments))
        yield Part(at, end, at + 26, 1)
        at = end


def _flac(content: bytes) -> Iterator[Part]:
    at = 4
    while at + 4 <= len(content):
        end = min(len(content), at + 4 + int.from_bytes(content[at + 1 : at + 4]))
        yield Part(at, end, at + 1, 3)
        last = content[at] & 0x80
        at = end
        if last:
            break
    starts = [found.start() for found in _FLAC_FRAME.finditer(content, at)]
    for start, end in pairwise([*starts, len(content)]):
        yield Part(start, end)


_FLAC_FRAME = re.compile(rb"\xff[\xf8\xf9][^\x00-\x0f][\x00-\xaf]")


def _flac_head(frame: bytes) -> int:
    """Where the checksum of a frame's head stands."""
    first = frame[4]
    at = 5 + max(0, 7 - (first ^ 0xFF).bit_length() - 1 if first >= 0xC0 else 0)
    at += {6: 1, 7: 2}.get(frame[2] >> 4, 0)
    at += {12: 1, 13: 2, 14: 2}.get(frame[2] & 15, 0)
    return min(at, len(frame) - 3)


def _mp3(content: bytes) -> Iterator[Part]:
    starts = [found.start() for found in re.finditer(rb"\xff[\xe2-\xff][\x10-\xef]", content)]
    if content.startswith(b"ID3"):
        yield Part(0, starts[0] if starts else len(content), 6, 4)
    for start, end in pairwise([*starts, len(content)]):
        yield Part(start, end)


def _amr(content: bytes) -> Iterator[Part]:
    at = 6
    while at < len(content):
        end = min(len(content), at + _AMR_BYTES[content[at] >> 3 & 15])
        yield Part(at, end, at, 1)
        at = end


_AMR_BYTES = (13, 14, 16, 18, 20, 21, 27, 32, 6, 1, 1, 1, 1, 1, 1, 1)
"""Of a frame with its head, by its kind (RFC 4867, section 5.3)."""


def _matroska(content: bytes, at: int = 0, end: int | None = None, deep: int = 0) -> Iterator[Part]:
    end = len(content) if end is None else end
    while at + 2 <= end:
        name_bytes = _vint(content[at])
        length_at = at + name_bytes
        if not name_bytes or length_at >= end or not (size := _vint(content[length_at])):
            return
        length = int.from_bytes(content[length_at : length_at + size]) & ~(1 << 7 * size)
        inside = length_at + size
        stop = min(end, inside + length)
        yield Part(at, stop, length_at, size)
        if content[at:length_at] in _HOLDS_ELEMENTS and deep < DEEPEST:
            yield from _matroska(content, inside, stop, deep + 1)
        at = stop


def _vint(first: int) -> int:
    return 9 - first.bit_length() if first else 0


_HOLDS_ELEMENTS = tuple(map(bytes.fromhex, "18538067 1549a966 1654ae6b ae e1 1f43b675 a0".split()))
"""Segment, Info, Tracks, TrackEntry, Audio, Cluster, BlockGroup."""


def _marks(content: bytes) -> Iterator[Part]:
    """What stands between angle brackets, and between those."""
    return (Part(*found.span()) for found in re.finditer(rb"<[^<>]*>|[^<>]+", content))


_KINDS: tuple[tuple[int, bytes, Callable[[bytes], Iterator[Part]]], ...] = (
    (8, b"WAVE", _wav), (0, b"FORM", _aiff), (0, b"caff", _caf), (0, b"\x89PNG", _png),
    (0, b"\xff\xd8", _jpeg), (0, b"II*\0", _tiff), (0, b"MM\0*", _tiff), (4, b"ftyp", _boxes),
    (0, b"OggS", _ogg), (0, b"fLaC", _flac), (0, b"#!AMR\n", _amr),
    (0, b"\x1aE\xdf\xa3", _matroska), (0, b"<?xml", _marks), (0, b"ID3", _mp3), (0, b"\xff", _mp3),
)  # fmt: skip


def coded_number(number: int) -> bytes:
    """A frame's number as FLAC writes it, like a letter in UTF-8 (RFC 9639, section 9.1.5)."""
    return chr(number).encode("utf-8", "surrogatepass")


def checksum(content: bytes, table: Sequence[int], bits: int) -> int:
    """The remainder of these bytes by the polynomial that the table was made for."""
    crc, mask = 0, (1 << bits) - 1
    for byte in content:
        crc = (crc << 8 & mask) ^ table[(crc >> bits - 8) ^ byte]
    return crc


def _table(polynomial: int, bits: int) -> tuple[int, ...]:
    found = []
    for byte in range(256):
        crc = byte << bits - 8
        for _ in range(8):
            crc = crc << 1 ^ (polynomial if crc >> bits - 1 else 0)
            crc &= (1 << bits) - 1
        found.append(crc)
    return tuple(found)


_OGG, EIGHT, SIXTEEN = _table(0x04C11DB7, 32), _table(0x07, 8), _table(0x8005, 16)
"""Polynomials: RFC 3533, section 6; RFC 9639, sections 9.1.8 and 9.3."""

Change = Callable[[bytearray, Sequence[bytes], random.Random], None]


def _somewhere(content: bytearray, draw: random.Random) -> int:
    """Half of the time in the head, where the metadata stands."""
    end = len(content)
    return draw.randrange(max(1, min(end, 1500) if draw.random() < 0.5 else end))


def _flip(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    if content:
        content[_somewhere(content, draw)] ^= 1 << draw.randrange(8)


def _byte(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    if content:
        content[_somewhere(content, draw)] = draw.randrange(256)


def _extreme(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    at = _somewhere(content, draw)
    content[at : at + 4] = draw.choice(EXTREMES)


def _cut_off(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    del content[_somewhere(content, draw) :]


def _cut_out(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    at = _somewhere(content, draw)
    del content[at : at + draw.randrange(1, 200)]


def _again(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    at, length = _somewhere(content, draw), draw.randrange(1, 400)
    content[at:at] = content[at : at + length] * draw.choice((1, 1, 2, 50))


def _noise(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    at = _somewhere(content, draw)
    content[at:at] = draw.randbytes(draw.randrange(1, 100))


def _spliced(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    other = draw.choice(whole)
    content[_somewhere(content, draw) :] = other[draw.randrange(len(other)) :]


def _part(content: bytes | bytearray, draw: random.Random) -> Part | None:
    found = parts_of(bytes(content))
    return draw.choice(found) if found else None


def _dropped(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    if part := _part(content, draw):
        del content[part.start : part.end]


def _doubled(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    if part := _part(content, draw):
        content[part.end : part.end] = content[part.start : part.end] * draw.choice((1, 1, 2, 50))


def _swapped(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    one, other = _part(content, draw), _part(content, draw)
    if one and other and one.end <= other.start:
        first, second = content[one.start : one.end], content[other.start : other.end]
        content[other.start : other.end] = first
        content[one.start : one.end] = second


def _lied_about(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    """Its length, or another number in its head, is an extreme one or a little off."""
    part = _part(content, draw)
    if part is None or part.end - part.start < 1:
        return
    at, size = part.length_at, part.length_bytes
    if not size or draw.random() < 0.4:
        size = draw.choice((1, 2, 4, 8))
        at = draw.randrange(part.start, min(part.end, part.start + 64))
    held = content[at : at + size]
    if not held:  # The part ends where the file does.
        return
    said = int.from_bytes(held, part.order)  # type: ignore[arg-type]
    most = (1 << 8 * len(held)) - 1
    near = max(0, min(most, said + draw.choice((-1, 1, 2, -2, 8, 100))))
    number = draw.choice((0, 1, most, most >> 1, (most >> 1) + 1, near, near, said * 2 & most))
    content[at : at + len(held)] = number.to_bytes(len(held), part.order)  # type: ignore[arg-type]


def _filled(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    if part := _part(content, draw):
        start = draw.randrange(part.start, max(part.start + 1, part.end))
        length = min(part.end - start, draw.choice((4, 16, 256, 1 << 16)))
        fill = draw.choice((b"\0", b"\xff", b"\x7f", b""))
        content[start : start + length] = fill * length or draw.randbytes(length)


def _moved_in(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    """A part of another file in the place of one of this."""
    other = draw.choice(whole)
    theirs, ours = _part(other, draw), _part(content, draw)
    if theirs and ours:
        content[ours.start : ours.end] = other[theirs.start : theirs.end]


def _nested(content: bytearray, whole: Sequence[bytes], draw: random.Random) -> None:
    """A part within its like, many deep."""
    part = _part(content, draw)
    if part is not None:
        head = content[part.start : min(part.end, part.start + draw.choice((8, 8, 12, 16)))]
        content[part.start : part.start] = head * draw.choice((1, 3, 50, 3000))


BLIND: tuple[Change, ...] = (
    _flip, _flip, _byte, _byte, _extreme, _extreme, _cut_off, _cut_out, _again, _noise, _spliced,
)  # fmt: skip
STRUCTURED: tuple[Change, ...] = (
    _dropped, _doubled, _swapped, _lied_about, _lied_about, _lied_about, _filled,
    _moved_in, _nested,
)  # fmt: skip
