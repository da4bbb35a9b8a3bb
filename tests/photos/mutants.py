"""Pictures and track logs that were damaged at random, each from its seed."""

from __future__ import annotations

import random
from functools import cache
from io import BytesIO
from typing import Any

import pillow_heif
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from tests.structured import damaged

pillow_heif.register_heif_opener()

XMP = (
    b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-'
    b'syntax-ns#"><rdf:Description xmlns:xmp="http://ns.adobe.com/xap/1.0/" '
    b'xmp:CreateDate="2026-10-05T09:05:21-04:00"/></rdf:RDF></x:xmpmeta>'
)

GPX = (
    b'<?xml version="1.0" encoding="UTF-8"?><gpx version="1.1" creator="invented" '
    b'xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
    + b"".join(
        b'<trkpt lat="38.62%02d" lon="-70.41"><ele>4</ele>'
        b"<time>2026-10-05T13:%02d:00Z</time><hdop>1.5</hdop></trkpt>" % (minute, minute)
        for minute in range(60)
    )
    + b"</trkseg></trk></gpx>"
)


@cache
def whole() -> dict[str, bytes]:
    """A small picture of every kind with all its metadata, and a track log, by its name."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0112], exif[0x0132] = "Invented", 6, "2026:10:05 21:40:00"
    exif[0x8769] = {
        0x9003: "2026:10:05 09:05:21", 0x9011: "-04:00", 0x9291: "250", 0x927C: bytes(range(200)),
    }  # fmt: skip
    exif[0x8825] = {
        1: "N", 2: (38.0, 37.0, 12.0), 3: "W", 4: (70.0, 24.0, 36.0), 5: b"\0", 6: 4.0,
        7: (13.0, 5.0, 21.0), 0x10: "T", 0x11: 123.5, 0x1D: "2026:10:05", 0x1F: 6.5,
    }  # fmt: skip
    block = exif.tobytes()
    picture = Image.radial_gradient("L").resize((160, 120)).convert("RGB")
    noisy = Image.blend(picture, Image.effect_noise((160, 120), 90).convert("RGB"), 0.4)
    texts = PngInfo()
    texts.add_text("Creation Time", "Mon, 05 Oct 2026 09:05:21 -0400", zip=True)
    texts.add_itxt("XML:com.adobe.xmp", XMP.decode())
    whole_exif = Image.Exif()
    whole_exif.load(block)
    return {
        "plain.jpg": _saved(noisy, "JPEG", exif=block, xmp=XMP),
        "progressive.jpg": _saved(noisy, "JPEG", exif=block, progressive=True),
        "moving.jpg": _saved(noisy, "JPEG", exif=block) + b"\0\0\0\x18ftypmp42" + bytes(900),
        "pair.jpg": _saved(noisy, "MPO", save_all=True, append_images=[picture]),
        "grey.jpg": _saved(noisy.convert("L"), "JPEG", exif=block),
        "photo.heic": _saved(noisy, "HEIF", exif=block, xmp=XMP),
        "photo.avif": _saved(noisy, "AVIF", exif=block, xmp=XMP),
        "photo.png": _saved(noisy, "PNG", exif=block, pnginfo=texts),
        "palette.png": _saved(noisy.convert("P"), "PNG"),
        "photo.tiff": _saved(noisy, "TIFF", exif=whole_exif),
        "packed.tiff": _saved(noisy, "TIFF", compression="tiff_lzw"),
        "walk.gpx": GPX,
    }


def mutant(seed: int) -> tuple[str, bytes]:
    """A name and what the file holds: one to eight changes to one of the whole files."""
    draw = random.Random(seed)
    name, content = draw.choice(sorted(whole().items()))
    akin = [other for named, other in sorted(whole().items()) if named[-4:] == name[-4:]]
    lenders = akin if draw.random() < 0.8 else list(whole().values())
    return name, damaged(content, lenders, draw)


def _saved(picture: Image.Image, kind: str, **options: Any) -> bytes:
    stream = BytesIO()
    picture.save(stream, kind, **options)
    return stream.getvalue()
