"""Every kind of recording comes out as the same sound."""

import os
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
from sounds import loudest_hertz, quiet, tone, write_float_wave, write_titled_wave

from fixtures.voices import write
from joblog.audio.decode import RATE, AudioError, blocks, samples
from joblog.audio.made import dated

KINDS = [
    ("8-khz.wav", {"codec_rate": 8_000}),
    ("16-khz.wav", {}),
    ("44-khz.wav", {"codec_rate": 44_100}),
    ("48-khz.wav", {"codec_rate": 48_000}),
    ("stereo.wav", {"channels": 2, "codec_rate": 44_100}),
    ("mono.flac", {}),
    ("stereo.flac", {"channels": 2, "codec_rate": 48_000}),
    ("voice.ogg", {}),
    ("voice.opus", {}),
    ("voice.mp3", {}),
    ("stereo.mp3", {"channels": 2, "codec_rate": 44_100}),
    ("voice.m4a", {}),
    ("stereo.m4a", {"channels": 2, "codec_rate": 44_100}),
    ("voice.3gp", {}),
    ("voice.amr", {}),
    ("voice.webm", {}),
]
every_kind = pytest.mark.parametrize(("name", "how"), KINDS, ids=[name for name, _ in KINDS])


@every_kind
def test_every_kind_keeps_its_length(tmp_path: Path, name: str, how: dict[str, int]) -> None:
    sound = samples(write(tmp_path / name, tone(seconds=2.0), **how))
    # AAC and MP3 fill their last frame: at 16 kHz 1024 and 576 samples.
    assert len(sound) / RATE == pytest.approx(2.0, abs=0.13)


@every_kind
def test_every_kind_keeps_its_tone(tmp_path: Path, name: str, how: dict[str, int]) -> None:
    sound = samples(write(tmp_path / name, tone(hertz=1234.0, seconds=2.0), **how))
    assert loudest_hertz(sound) == pytest.approx(1234.0, abs=2.0)


@every_kind
def test_every_kind_keeps_its_loudness(tmp_path: Path, name: str, how: dict[str, int]) -> None:
    sound = samples(write(tmp_path / name, tone(seconds=2.0), **how))
    middle = sound[RATE // 2 : RATE]
    assert float(np.sqrt(np.mean(middle**2))) == pytest.approx(0.5 / np.sqrt(2), rel=0.1)


@every_kind
def test_a_whole_recording_has_no_trouble(tmp_path: Path, name: str, how: dict[str, int]) -> None:
    stream = blocks(write(tmp_path / name, tone(seconds=2.0), **how))
    list(stream)
    assert stream.trouble is None


@pytest.mark.parametrize("file", ["tone.amr", "tone.3gp"])
def test_what_old_telephones_record_is_read(file: str) -> None:
    sound = samples(Path(__file__).with_name(file))  # a second of 440 Hz, in frames of 20 ms
    assert len(sound) == pytest.approx(RATE, abs=RATE // 50)
    assert loudest_hertz(sound) == pytest.approx(440, abs=2)


def test_a_codec_that_is_none_is_no_recording(tmp_path: Path) -> None:
    path = write_titled_wave(tmp_path / "strange.wav", b"eave", tone(seconds=0.5))
    plain, unknown = b"fmt \x10\0\0\0\x01\0", b"fmt \x10\0\0\0\x21\x43"
    path.write_bytes(path.read_bytes().replace(plain, unknown))
    with pytest.raises(AudioError, match="a form that cannot be read"):
        samples(path)


def test_a_title_in_an_old_encoding_keeps_no_recording_from_being_read(tmp_path: Path) -> None:
    path = write_titled_wave(
        tmp_path / "latin.wav", "caf\u00e9".encode("latin-1"), tone(seconds=1.0)
    )
    assert len(samples(path)) == RATE
    assert dated(path, "UTC", 1.0)[0].source == "file time"


def test_blocks_are_a_second_long_but_the_last(tmp_path: Path) -> None:
    lengths = [len(block) for block in blocks(write(tmp_path / "a.flac", tone(seconds=2.5)))]
    assert lengths == [RATE, RATE, RATE // 2]


def test_blocks_are_mono_floats_within_full_scale(tmp_path: Path) -> None:
    block = next(blocks(write(tmp_path / "a.mp3", 2 * tone(), channels=2)))
    assert (block.dtype, block.ndim) == (np.float32, 1)
    assert float(np.abs(block).max()) <= 1.0


def test_lossless_kinds_keep_every_sample(tmp_path: Path) -> None:
    sound = tone(seconds=1.0)
    kept = samples(write(tmp_path / "a.flac", sound))
    np.testing.assert_allclose(kept, sound, atol=1 / 32767)


def test_seconds_are_counted_as_the_blocks_go_by(tmp_path: Path) -> None:
    stream = blocks(write(tmp_path / "a.wav", tone(seconds=2.5)))
    list(stream)
    assert stream.seconds == 2.5


def test_a_recording_longer_than_a_first_look_at_it_is_read_to_its_end(tmp_path: Path) -> None:
    assert len(samples(write(tmp_path / "a.mp3", quiet(40.0)))) == 40 * RATE


def test_two_recordings_joined_into_one_file_keep_their_tones(tmp_path: Path) -> None:
    first = write(tmp_path / "a.mp3", tone(hertz=700.0, seconds=2.0))
    second = write(tmp_path / "b.mp3", tone(hertz=1900.0), codec_rate=44_100, channels=2)
    first.write_bytes(first.read_bytes() + second.read_bytes())
    sound = samples(first)
    assert loudest_hertz(sound[: 2 * RATE]) == pytest.approx(700.0, abs=2.0)
    assert loudest_hertz(sound[-RATE:]) == pytest.approx(1900.0, abs=2.0)


def test_figures_that_are_no_numbers_become_silence_or_full_scale(tmp_path: Path) -> None:
    sound = np.array([0.25, np.nan, np.inf, -np.inf, 7.0] * 400, np.float32)
    kept = samples(write_float_wave(tmp_path / "a.wav", sound))
    assert kept[:5].tolist() == [0.25, 0.0, 1.0, -1.0, 1.0]


def test_a_long_recording_takes_little_memory(tmp_path: Path) -> None:
    path = write(tmp_path / "long.flac", quiet(600.0))
    tracemalloc.start()
    seconds = sum(len(block) for block in blocks(path)) / RATE
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert seconds == 600.0
    assert peak < 2_000_000  # the whole of it would be 38 MB


def test_a_name_that_looks_like_an_address_is_only_a_name(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "a.wav", tone(seconds=1.0)).rename("concat:2026-10-05T14:30:12|b.wav")
    assert len(samples(Path("concat:2026-10-05T14:30:12|b.wav"))) == RATE


def test_a_name_that_is_no_unicode_can_be_read(tmp_path: Path) -> None:
    path = write(tmp_path / "a.wav", tone(seconds=1.0)).rename(tmp_path / "\udcff\udcfe.wav")
    assert len(samples(path)) == RATE


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="Windows has no pipes among its files.")
def test_a_pipe_is_no_recording_and_nobody_waits_for_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.wav")
    with pytest.raises(AudioError, match="is no ordinary file"):
        samples(tmp_path / "pipe.wav")
