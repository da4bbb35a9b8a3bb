"""What a picture tells outside of its EXIF: XMP, and the texts and times of a PNG."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import BinaryIO
from xml.etree import ElementTree

from PIL import Image

LONGEST = 1 << 20
"""Bytes of XMP or of a text that are looked at; a packet of a camera takes some thousands."""

MOST_CHUNKS = 10_000
"""Of a PNG; one made to be slow would have millions."""

NAMESPACES = {
    "http://ns.adobe.com/xap/1.0/": "xmp",
    "http://ns.adobe.com/exif/1.0/": "exif",
    "http://ns.adobe.com/photoshop/1.0/": "photoshop",
}
"""Those of the XMP specification, part 2, and what it calls them; others tell us nothing."""

MOST_TEXT = 4 << 20
"""Bytes of all its texts; packed, ten thousand of the longest fit into a small file."""

XMP_IN_PNG = "XML:com.adobe.xmp"


@dataclass(frozen=True, slots=True)
class Beside:
    """XMP by names such as "xmp:CreateDate", a PNG's texts by their keywords."""

    xmp: Mapping[str, str] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)
    changed: datetime | None = None
    """When a PNG was last changed (tIME), in UTC."""
    exif: bytes = b""
    """Of a PNG; it may stand behind the pixels."""


def beside(stream: BinaryIO, image: Image.Image) -> Beside:
    """Everything that the picture tells beside its EXIF; what cannot be read is passed over."""
    if image.format == "PNG":
        return _of_png(stream)
    packet = image.info.get("xmp")
    if packet is None:
        packet = getattr(image, "tag_v2", {}).get(700)  # XMLPacket of a TIFF
    return Beside(_xmp(packet)) if isinstance(packet, bytes) else Beside()


def _xmp(packet: bytes) -> dict[str, str]:
    """Simple properties, as attributes or as elements; nothing of a packet with a DTD."""
    packet = packet.strip(b"\0 \r\n\t")
    # No entities, nor a coding in which they could hide; comments are not worth the risk.
    if len(packet) > LONGEST or b"<!" in packet or b"\0" in packet:
        return {}
    found: dict[str, str] = {}
    with suppress(ElementTree.ParseError, ValueError, LookupError):
        for element in ElementTree.fromstring(packet).iter():
            said = [(element.tag, element.text or ""), *element.attrib.items()]
            for name, value in said:
                space, _, word = name.removeprefix("{").partition("}")
                if space in NAMESPACES and value.strip():
                    found.setdefault(f"{NAMESPACES[space]}:{word}", value.strip())
    return found


def _of_png(stream: BinaryIO) -> Beside:
    """PNG specification, third edition, section 11.3: eXIf, tIME, tEXt, zTXt and iTXt."""
    texts: dict[str, str] = {}
    changed, exif = None, b""
    room = MOST_TEXT
    for kind, content in _chunks(stream):
        if kind == b"eXIf":
            exif = exif or content
        elif kind == b"tIME":
            changed = changed or _last_change(content)
        elif room > 0:
            keyword, text = _text(kind, content)
            texts.setdefault(keyword, text)
            room -= len(keyword) + len(text)
    packet = texts.pop(XMP_IN_PNG, "")
    return Beside(_xmp(packet.encode()), texts, changed, exif or _raw_profile(texts))


def _chunks(stream: BinaryIO) -> Iterator[tuple[bytes, bytes]]:
    """The chunks that tell something, wherever they stand; none of the pixels is read."""
    stream.seek(8)
    for _ in range(MOST_CHUNKS):
        head = stream.read(8)
        length, kind = int.from_bytes(head[:4]), head[4:]
        if len(head) < 8 or kind == b"IEND":
            return
        if kind in (b"eXIf", b"tIME", b"tEXt", b"zTXt", b"iTXt") and length <= LONGEST:
            yield kind, stream.read(length)
            stream.seek(4, 1)
        else:
            stream.seek(length + 4, 1)


def _last_change(content: bytes) -> datetime | None:
    if len(content) != 7:
        return None
    month, day, hour, minute, second = content[2:]
    year = int.from_bytes(content[:2])
    with suppress(ValueError):
        return datetime(year, month, day, hour, minute, min(second, 59), tzinfo=UTC)
    return None


def _text(kind: bytes, content: bytes) -> tuple[str, str]:
    keyword, _, rest = content.partition(b"\0")
    packed, coding = kind == b"zTXt", "latin-1"
    if kind == b"zTXt":
        rest = rest[1:]
    elif kind == b"iTXt":
        packed, coding = rest[:1] == b"\1", "utf-8"
        rest = rest[2:].partition(b"\0")[2].partition(b"\0")[2]
    if packed:
        try:
            rest = zlib.decompressobj().decompress(rest, LONGEST)
        except zlib.error:
            rest = b""
    return keyword.decode("latin-1"), rest.decode(coding, "replace")


def _raw_profile(texts: Mapping[str, str]) -> bytes:
    """EXIF as older programs put it into a PNG: its name, its length, and hexadecimal digits."""
    for keyword in ("Raw profile type exif", "Raw profile type APP1"):
        with suppress(ValueError):
            return bytes.fromhex("".join(texts.get(keyword, "").split()[2:]))
    return b""
