"""A stretch of a recording is what decoding all of it would give, louder and slower if wanted."""

from pathlib import Path

import numpy as np
import pytest
from sounds import babble, loudest_hertz, quiet, tone

from fixtures.voices import CODECS, write
from joblog.audio.decode import NEAR, RATE, AudioError, Samples, blocks, samples
from joblog.audio.stretch import MOST, SLOWER, slowed, stretch


@pytest.fixture(scope="module")
def day() -> Samples:
    """Long enough that what is asked for lies deep in it."""
    return babble(NEAR + 12.0) * np.float32(1.5)


def off_by(found: Samples, wanted: Samples) -> int:
    """Samples by which the one lies behind the other, where they are most alike."""
    size = 1 << (2 * len(wanted)).bit_length()
    spectrum = np.fft.rfft(wanted, size) * np.conj(np.fft.rfft(found, size))
    alike = np.fft.irfft(spectrum, size)
    return int((np.argmax(alike) + size // 2) % size - size // 2)


@pytest.mark.parametrize("ending", CODECS)
def test_a_stretch_deep_in_a_recording_is_the_one_that_was_asked_for(
    ending: str, day: Samples, tmp_path: Path
) -> None:
    path = write(tmp_path / f"day{ending}", day)
    start, end = NEAR + 6.25, NEAR + 9.5
    found = stretch(path, start, end)
    wanted = samples(path)[round(start * RATE) : round(end * RATE)]
    assert len(found) == len(wanted)
    assert abs(off_by(found, wanted)) <= RATE // 100


def test_what_comes_long_before_it_is_not_even_decoded(day: Samples, tmp_path: Path) -> None:
    path = write(tmp_path / "day.wav", day)
    assert NEAR < blocks(path, NEAR + 6.0).begins <= NEAR + 6.0


def test_of_a_recording_with_holes_everything_before_it_is_decoded(
    day: Samples, tmp_path: Path
) -> None:
    path = write(tmp_path / "day.wav", day)
    wanted = samples(path)[round((NEAR + 6) * RATE) : round((NEAR + 7) * RATE)]
    found = stretch(path, NEAR + 6.0, NEAR + 7.0, whole=False)
    assert abs(off_by(found, wanted)) == 0


def test_slower_is_as_high_as_before(tmp_path: Path) -> None:
    slow = slowed(tone(440.0, 2.0))
    assert len(slow) / RATE == pytest.approx(2.0 / SLOWER, rel=0.05)
    assert loudest_hertz(slow) == pytest.approx(440.0, rel=0.01)


def test_a_soft_stretch_is_made_louder_but_not_without_end(tmp_path: Path) -> None:
    soft = write(tmp_path / "soft.wav", babble(3.0) * np.float32(0.01))
    still = write(tmp_path / "still.wav", quiet(3.0) + np.float32(1e-4))
    louder = np.abs(stretch(soft, 1.0, 2.0)).max() / np.abs(samples(soft)[RATE : 2 * RATE]).max()
    assert louder == pytest.approx(10 ** (MOST / 20), rel=0.01)
    assert np.abs(stretch(still, 1.0, 2.0)).max() < 0.01


def test_a_stretch_behind_the_end_says_where_the_recording_ends(tmp_path: Path) -> None:
    path = write(tmp_path / "short.wav", tone(seconds=3.0))
    with pytest.raises(AudioError, match="ends after 3 s"):
        stretch(path, 5.0, 6.0)


def test_a_damaged_recording_says_so(tmp_path: Path) -> None:
    path = tmp_path / "torn.wav"
    path.write_bytes(b"RIFF torn")
    with pytest.raises(AudioError, match="no recording that can be read"):
        stretch(path, 0.0, 1.0)
