"""What is no recording, or no whole one, says so in one plain line."""

import struct
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from sounds import quiet, tone

from fixtures.voices import noise, write
from joblog.audio.decode import AudioError, blocks, samples
from joblog.audio.voice import stretches


def cut_in_half(path: Path) -> Path:
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    return path


def test_an_empty_file_says_so(tmp_path: Path) -> None:
    (tmp_path / "a.wav").touch()
    with pytest.raises(AudioError, match="is empty"):
        blocks(tmp_path / "a.wav")


def test_a_missing_file_says_so(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match="is not there"):
        blocks(tmp_path / "a.wav")


def test_a_folder_says_so(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match="is a folder"):
        blocks(tmp_path)


def test_a_file_without_permission_says_so(tmp_path: Path, monkeypatch) -> None:
    path = write(tmp_path / "a.wav", tone())

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)  # root may read anything
    with pytest.raises(AudioError, match="give yourself permission"):
        blocks(path)


def test_a_picture_named_as_sound_says_what_it_is(tmp_path: Path) -> None:
    Image.new("RGB", (64, 64), "gray").save(tmp_path / "a.wav", "JPEG")
    with pytest.raises(AudioError, match=r"no sound recording.*jpeg"):
        blocks(tmp_path / "a.wav")


@pytest.mark.parametrize("content", [b"%PDF-1.7\n" * 50, b"hello there\n" * 50, bytes(5000)])
def test_any_other_file_named_as_sound_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.wav").write_bytes(content)
    with pytest.raises(AudioError, match="is no recording that can be read"):
        blocks(tmp_path / "a.wav")


def test_the_error_names_the_file(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match=r"north wall\.wav: is not there"):
        blocks(tmp_path / "north wall.wav")


def test_a_recording_without_a_sample_is_refused(tmp_path: Path) -> None:
    whole = write(tmp_path / "a.wav", tone()).read_bytes()
    header = whole[: whole.index(b"data")] + struct.pack("<4sI", b"data", 0)
    (tmp_path / "a.wav").write_bytes(header[:4] + struct.pack("<I", len(header) - 8) + header[8:])
    with pytest.raises(AudioError, match="holds no sound"):
        blocks(tmp_path / "a.wav")


@pytest.mark.parametrize("ending", ["wav", "flac", "ogg", "opus", "mp3", "amr", "webm"])
def test_a_recording_cut_in_half_gives_its_half_and_says_so(tmp_path: Path, ending: str) -> None:
    stream = blocks(cut_in_half(write(tmp_path / f"a.{ending}", noise("wind", 10.0))))
    list(stream)
    assert stream.seconds == pytest.approx(5.0, abs=1.1)  # a page of Ogg holds a second
    assert stream.trouble is not None
    assert stream.trouble.startswith("ends early")


@pytest.mark.parametrize("ending", ["m4a", "3gp"])
def test_a_recording_whose_index_is_cut_off_says_so(tmp_path: Path, ending: str) -> None:
    path = cut_in_half(write(tmp_path / f"a.{ending}", noise("wind", 10.0)))
    with pytest.raises(AudioError, match="index is missing"):
        blocks(path)


@pytest.mark.parametrize("length", [0, 0xFFFFFFFF])
def test_a_recorder_that_lost_power_loses_no_sound(tmp_path: Path, length: int) -> None:
    path = write(tmp_path / "a.wav", tone(seconds=2.0))
    whole = bytearray(path.read_bytes())
    at = whole.index(b"data") + 4
    whole[4:8] = whole[at : at + 4] = struct.pack("<I", length)
    path.write_bytes(whole)
    stream = blocks(path)
    list(stream)
    assert (stream.seconds, stream.trouble) == (2.0, None)


@pytest.mark.parametrize("ending", ["flac", "ogg", "mp3", "webm"])
def test_a_hole_in_a_recording_is_reported_and_the_rest_is_read(
    tmp_path: Path, ending: str
) -> None:
    path = write(tmp_path / f"a.{ending}", noise("wind", 10.0))
    whole = bytearray(path.read_bytes())
    third = len(whole) // 3
    whole[third : third + 2000] = np.random.default_rng(1).bytes(2000)
    path.write_bytes(whole)
    stream = blocks(path)
    list(stream)
    assert 7.0 < stream.seconds < 10.0
    assert stream.trouble is not None
    assert stream.trouble.startswith("is damaged")


def test_a_playlist_leads_nowhere(tmp_path: Path) -> None:
    write(tmp_path / "other.mp3", tone())
    (tmp_path / "a.m3u8").write_text(
        f"#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\nfile://{tmp_path}/other.mp3\n"
        "#EXT-X-ENDLIST\n"
    )
    with pytest.raises(AudioError):
        blocks(tmp_path / "a.m3u8")


def test_a_list_of_files_leads_nowhere(tmp_path: Path) -> None:
    write(tmp_path / "other.mp3", tone())
    (tmp_path / "a.wav").write_text("ffconcat version 1.0\nfile other.mp3\n")
    with pytest.raises(AudioError):
        blocks(tmp_path / "a.wav")


def test_silence_is_sound_in_which_nobody_speaks(tmp_path: Path) -> None:
    stream = blocks(write(tmp_path / "a.wav", quiet(3.0)))
    assert list(stretches(stream)) == []
    assert (stream.seconds, stream.trouble) == (3.0, None)


@pytest.mark.parametrize("ending", ["wav", "flac", "opus", "mp3", "m4a", "amr", "webm"])
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_no_damage_does_worse_than_an_audio_error(tmp_path: Path, ending: str, data) -> None:
    path = write(tmp_path / f"a.{ending}", tone(seconds=0.5))
    whole = bytearray(path.read_bytes())
    places = st.integers(0, min(len(whole), 4000) - 1)
    for at in data.draw(st.lists(places, min_size=1, max_size=20)):
        whole[at] = data.draw(st.integers(0, 255))
    path.write_bytes(whole[: data.draw(st.integers(1, len(whole)))])
    try:
        samples(path)
    except AudioError as error:
        assert error.why
