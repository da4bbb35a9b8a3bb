"""Damaged pictures and track logs are read, or refused in plain words, by what a crash would end.

A few of those of `tests.bench.mutants`, which takes in 200,000.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable
from pathlib import Path

import pytest
from enduring import LIMITS, Endured, ready
from mutants import mutant, whole
from pictures import ZONE, save, say_size
from PIL import Image

from joblog.photos import PhotoError, read, thumbnail
from joblog.workers import Lost, Pool


def endured(folder: Path, files: Iterable[tuple[str, bytes]]) -> list[Endured | Lost]:
    paths = []
    for number, (name, content) in enumerate(files):
        (folder / str(number)).mkdir()
        paths.append(folder / str(number) / name)
        paths[-1].write_bytes(content)
    pool: Pool[Path, Endured] = Pool(ready, 1, LIMITS)
    with pool:
        return [answer for _, answer in pool.answers(paths)]


def test_every_whole_file_is_read(tmp_path: Path) -> None:
    found = endured(tmp_path, whole().items())
    assert [getattr(one, "how", one) for one in found] == ["read"] * len(whole())


def test_every_damaged_file_is_read_or_refused_in_plain_words(tmp_path: Path) -> None:
    files = list(map(mutant, range(200)))
    found = endured(tmp_path, files)
    # Decoders of HEIC before pillow-heif 1.8 die of some; that costs the file, and nothing else.
    came = {
        one.how
        for (name, _), one in zip(files, found, strict=True)
        if not (name.endswith(".heic") and isinstance(one, Lost) and one.how == "died")
    }
    assert came == {"read", "refused"}


def test_a_mutant_is_the_same_every_time() -> None:
    assert [mutant(seed) for seed in range(20)] == [mutant(seed) for seed in range(20)]
    assert len({mutant(seed) for seed in range(20)}) == 20


def test_a_progressive_jpeg_that_claims_too_much_is_not_drawn(tmp_path: Path) -> None:
    path = save(tmp_path / "wide.jpg", image=Image.new("RGB", (64, 48), "red"), progressive=True)
    content = bytearray(path.read_bytes())
    frame = content.index(b"\xff\xc2")
    content[frame + 5 : frame + 9] = (8000).to_bytes(2) + (8000).to_bytes(2)
    path.write_bytes(content)
    assert read(path, ZONE).look is None
    with pytest.raises(PhotoError, match="with 64 megapixels is too large to be drawn here"):
        thumbnail(path, (90, 90))


def test_a_png_that_swells_is_refused_by_its_size_alone(tmp_path: Path) -> None:
    path = save(tmp_path / "vast.png")
    content = bytearray(path.read_bytes())
    content[16:24] = (60_000).to_bytes(4) * 2
    content[29:33] = zlib.crc32(content[12:29]).to_bytes(4)
    path.write_bytes(content)
    with pytest.raises(PhotoError, match=r"too large \(over 200 megapixels\); save a smaller copy"):
        read(path, ZONE)


def test_a_jpeg_of_one_scan_may_be_larger(tmp_path: Path) -> None:
    path = say_size(save(tmp_path / "wide.jpg"), 11_600, 8_700)
    assert thumbnail(path, (116, 87)).size == (116, 87)


def test_what_a_codec_complains_of_does_not_reach_the_terminal(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    packed = whole()["packed.tiff"]
    torn = packed[:40] + bytes(200) + packed[240:]
    [found] = endured(tmp_path, [("packed.tiff", torn)])
    assert getattr(found, "how", found) in ("read", "refused")
    assert capfd.readouterr() == ("", "")


def test_a_picture_longer_than_any_is_refused_before_it_takes_memory(tmp_path: Path) -> None:
    path = save(tmp_path / "long.tiff", image=Image.new("RGB", (65_536, 1)))
    with pytest.raises(PhotoError, match="65536 by 1 pixels"):
        read(path, ZONE)
    assert read(save(tmp_path / "wide.png", image=Image.new("RGB", (65_535, 1))), ZONE).height == 1


def test_a_jpeg_with_a_scan_for_each_colour_is_as_large_to_draw_as_a_progressive_one(
    tmp_path: Path,
) -> None:
    path = save(tmp_path / "wide.jpg", image=Image.new("RGB", (64, 48), "red"))
    content = bytearray(path.read_bytes())
    frame = content.index(b"\xff\xc0")
    content[frame + 5 : frame + 9] = (8000).to_bytes(2) + (8000).to_bytes(2)
    path.write_bytes(content)
    # In one scan the decoder keeps only some rows of it.
    assert thumbnail(path, (32, 32)).size == (32, 32)
    scan = content.index(b"\xff\xda")
    content[scan + 2 : scan + 14] = bytes.fromhex("0008 01 01 00 00 3f 00") + bytes(4)
    path.write_bytes(content)
    with pytest.raises(PhotoError, match=r"with 64 megapixels is too large to be drawn here"):
        thumbnail(path, (32, 32))


def test_a_jpeg_that_ends_where_its_scan_should_begin_comes_to_an_end(tmp_path: Path) -> None:
    # Its last mark has no length, and none led back to where it was read, for ever.
    content = whole()["grey.jpg"]
    (tmp_path / "short.jpg").write_bytes(content[: content.index(b"\xff\xda")] + b"\xff\xd9")
    with pytest.raises(PhotoError, match="is damaged or cut off"):
        read(tmp_path / "short.jpg", ZONE)
