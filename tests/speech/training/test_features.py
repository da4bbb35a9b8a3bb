"""Features against Kaldi's own, and what augmentation keeps."""

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")
knf = pytest.importorskip("kaldi_native_fbank", reason="needs the extra train")

from joblog.speech.training.augment import throats  # noqa: E402
from joblog.speech.training.features import BANDS, band_edges, cepstra, frames_of  # noqa: E402

RATE = 16_000


def kaldi(sound: np.ndarray) -> np.ndarray:
    """The cepstra of Kaldi's code with the settings of conf/mfcc.conf."""
    options = knf.MfccOptions()
    options.frame_opts.dither = 0
    options.mel_opts.num_bins = options.num_ceps = BANDS
    options.mel_opts.low_freq, options.mel_opts.high_freq = 20, 7600
    options.use_energy = False
    online = knf.OnlineMfcc(options)
    online.accept_waveform(RATE, sound.tolist())
    online.input_finished()
    return np.stack([online.get_frame(number) for number in range(online.num_frames_ready)])


def noise(seconds: float, loudness: float) -> np.ndarray:
    draw = np.random.default_rng(0)
    return (draw.standard_normal(round(seconds * RATE)) * loudness).astype(np.float32)


@pytest.mark.parametrize("loudness", [1.0, 300.0, 8000.0])
def test_cepstra_are_those_of_kaldi(loudness: float) -> None:
    sound = noise(1.3, loudness)
    ours = cepstra(torch.from_numpy(sound)[None])[0].numpy()
    # Single precision: energies of 10^10 are summed in another order.
    np.testing.assert_allclose(ours, kaldi(sound), atol=0.01)


def test_a_tone_has_the_cepstra_of_kaldi() -> None:
    sound = (5000 * np.sin(np.arange(RATE) * 0.3) + noise(1.0, 1.0)).astype(np.float32)
    ours = cepstra(torch.from_numpy(sound)[None])[0].numpy()
    np.testing.assert_allclose(ours, kaldi(sound), atol=0.02)


def test_frames_are_counted_as_kaldi_counts_them() -> None:
    assert [frames_of(samples) for samples in (399, 400, 559, 560)] == [0, 1, 1, 2]


def test_other_throats_keep_the_bands_in_order_and_below_half_the_rate() -> None:
    draw = torch.Generator().manual_seed(1)
    edges = throats(200, torch.zeros(1), draw)
    assert (edges.diff(dim=1) > 0).all()
    assert edges.min() > 0
    assert edges.max() < RATE / 2
    assert edges[:, 20].std() > 0.03 * band_edges()[20]
