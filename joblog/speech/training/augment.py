"""One clean recording as many: other throats, tempos, rooms, microphones, noises and telephones.

Everything happens to a whole batch at once, on the device that the sound is on. Nothing repeats:
each draw comes from the generator that is handed in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import torch
from torch import Tensor

from joblog.speech.trade import BREATH
from joblog.speech.training.features import BANDS, RATE, band_edges

LOUDEST = 32767.0


@dataclass(frozen=True)
class Pieces:
    """What each recording of a batch is joined from, padded: (recordings, pieces).

    Sizes in samples of the outcome; `speed` is how many samples of the source make one.
    """

    start: Tensor
    """Where in the store the piece begins, in samples."""
    length: Tensor
    speed: Tensor
    gain: Tensor
    gap: Tensor
    """Silence before the piece."""


def joined(
    store: Tensor, pieces: Pieces, samples: int, draw: torch.Generator
) -> tuple[Tensor, Tensor]:
    """Sound (recordings, samples), its loudest sample at 1, from a store of 16-bit sound; and
    where it is.

    Tempo and pitch waver a little inside every recording.
    """
    size = len(pieces.start)
    ends = (pieces.gap + pieces.length).cumsum(1)
    at = torch.arange(samples, device=store.device).expand(size, -1).contiguous()
    piece = torch.searchsorted(ends, at, right=True)
    inside = piece < ends.shape[1]
    piece = piece.clamp(max=ends.shape[1] - 1)
    begin = (ends - pieces.length).gather(1, piece)
    into = (at - begin).float()
    length = pieces.length.gather(1, piece).float().clamp(min=1.0)
    # Whole waves over the piece, so that it begins and ends where it should; `slope` is the change
    # of tempo and pitch.
    waves = _uniform(pieces.start.shape, 1, 5, draw, store).floor().gather(1, piece)
    slope = _uniform(pieces.start.shape, -0.07, 0.07, draw, store).gather(1, piece)
    turn = math.pi * waves / length
    waver = slope / turn * torch.sin(turn * into) ** 2
    source = (into + waver).clamp(min=0.0) * pieces.speed.gather(1, piece)
    inside &= into >= 0
    whole = source.floor()
    part = source - whole
    index = (pieces.start.gather(1, piece) + whole.long()).clamp(1, len(store) - 3)
    before, here, after, beyond = (store[index + shift].float() for shift in (-1, 0, 1, 2))
    # Catmull and Rom's cubic through four samples.
    sound = here + 0.5 * part * (
        after - before
        + part * (2 * before - 5 * here + 4 * after - beyond
                  + part * (3 * (here - after) + beyond - before))
    )  # fmt: skip
    sound = torch.where(inside, sound * pieces.gain.gather(1, piece), torch.zeros_like(sound))
    return sound / sound.abs().amax(1, keepdim=True).clamp(min=1.0), inside


def recorded(sound: Tensor, spoken: Tensor, draw: torch.Generator) -> Tensor:
    """Sound as a microphone on a site might record it, of the size of 16-bit whole numbers.

    Some recorders fall silent where nothing is `spoken`, noise, echo and all.
    """
    sound = _in_a_room(sound, draw)
    power = (sound**2).mean(1, keepdim=True).sqrt().clamp(min=1e-6)
    under = _ratio(sound, 3, 35, 0.8, draw) * _noise(sound, draw)
    others = sum(sound.roll(shift, 0).roll(shift * 7919, 1) for shift in (1, 2, 3))
    under = under + _ratio(sound, 10, 28, 0.15, draw) * _level(others)
    sound = sound + power * under
    gated = _some((len(sound), 1), 0.3, draw, sound)
    sound = _through_a_channel(torch.where(gated & ~spoken, 0.0, sound), draw)
    sound = sound / sound.abs().amax(1, keepdim=True).clamp(min=1e-6)
    size = len(sound)
    sound = sound * LOUDEST * 10 ** (-_uniform((size, 1), 0, 32, draw, sound) / 20)
    over = torch.where(
        _some((size, 1), 0.06, draw, sound), _uniform((size, 1), 1.5, 4, draw, sound), 1.0
    )
    top = sound.abs().amax(1, keepdim=True)
    sound = torch.minimum(torch.maximum(sound * over, -top), top)
    sound = torch.where(_some((size, 1), 0.12, draw, sound), _in_steps(sound), sound)
    # Most with the noise that the recognizer lays under what it hears, louder or softer.
    breath = (sound**2).mean(1, keepdim=True).sqrt() * 10 ** (
        -(BREATH + _uniform((size, 1), -5, 6, draw, sound)) / 20
    )
    breath = (breath * _some((size, 1), 0.7, draw, sound)).clamp(min=1.0)
    hiss = torch.randn(sound.shape, generator=draw, device=sound.device)
    return (sound + breath * hiss).round()


def throats(size: int, like: Tensor, draw: torch.Generator) -> Tensor:
    """Corners (recordings, 42) of mel bands, shifted as by other vocal tracts."""
    edges = band_edges(like.device)[None].expand(size, -1)
    tract = (1 + 0.10 * torch.randn((size, 1), generator=draw, device=like.device)).clamp(0.76, 1.3)
    top = edges[:, -1:]
    knee = 0.85 * top * tract.clamp(max=1.0)
    # Linear up to a knee, then straight to the same highest frequency, as Kaldi warps.
    high = top - (top - edges) * (top - knee / tract) / (top - knee)
    warped = torch.where(edges < knee, edges / tract, high)
    knots = _uniform((size, 9), -0.07, 0.07, draw, like) * _uniform((size, 1), 0, 1, draw, like)
    knots[:, 0] = knots[:, -1] = 0.0
    warped = warped * (1 + _between(knots, BANDS + 2))
    warped = warped.clamp(10.0, RATE / 2 - 10).cummax(1)[0]
    return warped + torch.arange(BANDS + 2, device=like.device) * 1e-2


def masked(bands: Tensor, draw: torch.Generator) -> Tensor:
    """Log bands with a few of them and a few moments blotted out, and another tone of voice."""
    size, _, count = bands.shape
    tilt = _between(0.5 * torch.randn((size, 6), generator=draw, device=bands.device), count)
    bands = bands + tilt[:, None] * _some((size, 1, 1), 0.7, draw, bands)
    for axis, widest in ((2, 7), (1, 12), (1, 12)):
        length = bands.shape[axis]
        at = torch.arange(length, device=bands.device)[None]
        first = _uniform((size, 1), 0, length, draw, bands)
        wide = _uniform((size, 1), 0, widest, draw, bands)
        hole = (at >= first) & (at < first + wide) & _some((size, 1), 0.5, draw, bands)
        hole = hole[:, None, :] if axis == 2 else hole[:, :, None]
        bands = torch.where(hole, bands.mean(axis, keepdim=True), bands)
    return bands


def _in_a_room(sound: Tensor, draw: torch.Generator) -> Tensor:
    """Half of the recordings get the echo of a room: noise that dies away after the sound."""
    size, samples = sound.shape
    length = int(0.4 * RATE)
    at = torch.arange(length, device=sound.device)[None]
    fade = torch.exp(-6.9 * at / (RATE * _uniform((size, 1), 0.08, 0.7, draw, sound)))
    echo = torch.randn((size, length), generator=draw, device=sound.device) * fade
    echo = echo * (at > RATE * _uniform((size, 1), 0, 0.02, draw, sound))
    echo = echo / echo.norm(dim=1, keepdim=True).clamp(min=1e-6)
    echo = echo * _uniform((size, 1), 0.1, 1.0, draw, sound) * _some((size, 1), 0.55, draw, sound)
    echo[:, 0] = 1.0
    whole = samples + length
    spectrum = torch.fft.rfft(sound, whole) * torch.fft.rfft(echo, whole)
    return torch.fft.irfft(spectrum, whole)[:, :samples]


def _through_a_channel(sound: Tensor, draw: torch.Generator) -> Tensor:
    """Another frequency response; three in ten cut off like a telephone."""
    size, samples = sound.shape
    curve = _uniform((size, 10), -9, 7, draw, sound) * _uniform((size, 1), 0, 1, draw, sound)
    curve = curve + _uniform((size, 1), -4, 4, draw, sound) * torch.linspace(
        -1, 1, 10, device=sound.device
    )
    bins = samples // 2 + 1
    hertz = torch.linspace(0, RATE / 2, bins, device=sound.device)[None]
    # The curve's knots lie evenly on a scale like the ear's.
    place = (1 + hertz / 700).log() / math.log(1 + RATE / 1400)
    gain = 10 ** (_at(curve, place.expand(size, -1)) / 20)
    cut = _uniform((size, 1), 3200, 4000, draw, sound)
    steep = _uniform((size, 1), 40, 250, draw, sound)
    low = torch.sigmoid((cut - hertz) / steep * 4)
    gain = torch.where(_some((size, 1), 0.3, draw, sound), gain * low, gain)
    cut = _uniform((size, 1), 60, 350, draw, sound)
    high = torch.sigmoid((hertz - cut) / 40)
    gain = torch.where(_some((size, 1), 0.2, draw, sound), gain * high, gain)
    return torch.fft.irfft(torch.fft.rfft(sound) * gain, samples)


def _noise(sound: Tensor, draw: torch.Generator) -> Tensor:
    """Noise of one kind for each recording: hiss, rumble, gusts of wind, a saw, a compressor,
    the mains."""
    size, samples = sound.shape
    kind = torch.randint(0, 7, (size, 1), generator=draw, device=sound.device)
    hiss = torch.randn((size, samples), generator=draw, device=sound.device)
    spectrum = torch.fft.rfft(hiss)
    hertz = torch.linspace(0, RATE / 2, spectrum.shape[1], device=sound.device)[None]
    fall = torch.where(kind == 1, 1.0, _uniform((size, 1), 0, 1.2, draw, sound))
    noise = _level(torch.fft.irfft(spectrum / hertz.clamp(min=20.0) ** fall, samples))
    gusts = _between(_uniform((size, max(3, samples // 6000)), 0.1, 1, draw, sound), samples)
    noise = torch.where((kind == 1) | (kind == 2), noise * gusts, noise)
    runs = _between(
        (
            torch.rand((size, max(3, samples // 6000)), generator=draw, device=sound.device) < 0.7
        ).float(),
        samples,
    )
    noise = torch.where(
        kind == 3, 0.4 * noise + _level(_hum(sound, 60, 420, 14, draw)) * runs, noise
    )
    # A compressor: a low hum, and a beat some times a second.
    time = torch.arange(samples, device=sound.device)[None] / RATE
    beat = torch.sin(2 * math.pi * _uniform((size, 1), 5, 30, draw, sound) * time).clamp(min=0) ** 2
    pump = noise * (0.3 + beat) + 0.7 * _level(_hum(sound, 25, 60, 10, draw))
    noise = torch.where(kind == 4, pump, noise)
    mains = 0.3 * noise + _level(_hum(sound, 48, 62, 5, draw))
    return _level(torch.where(kind == 5, mains, noise))


def _hum(sound: Tensor, lowest: float, highest: float, tones: int, draw: torch.Generator) -> Tensor:
    """A motor: a wavering tone with overtones."""
    size, samples = sound.shape
    drift = _between(_uniform((size, 5), 0.92, 1.08, draw, sound), samples)
    phase = (drift * _uniform((size, 1), lowest, highest, draw, sound)).cumsum(1) * (
        2 * math.pi / RATE
    )
    hum = torch.zeros_like(sound)
    for tone in range(1, tones):
        hum += _uniform((size, 1), 0.1, 1, draw, sound) / tone**0.7 * torch.sin(tone * phase)
    return hum


def _in_steps(sound: Tensor) -> Tensor:
    """As telephones keep sound: 255 steps, finer where it is soft (the curve of G.711's mu-law)."""
    small = (sound / LOUDEST).clamp(-1, 1)
    curved = small.sign() * torch.log1p(255 * small.abs()) / math.log(256)
    stepped = (curved * 127).round() / 127
    return stepped.sign() * torch.expm1(stepped.abs() * math.log(256)) / 255 * LOUDEST


def _ratio(like: Tensor, low: float, high: float, share: float, draw: torch.Generator) -> Tensor:
    """By how much noise is softer than the sound, in some of the recordings; nothing in others."""
    size = (len(like), 1)
    return _some(size, share, draw, like) * 10 ** (-_uniform(size, low, high, draw, like) / 20)


def _level(sound: Tensor) -> Tensor:
    return sound / sound.std(1, keepdim=True).clamp(min=1e-9)


def _between(knots: Tensor, count: int) -> Tensor:
    """Straight lines through evenly spaced knots (recordings, knots), at `count` points."""
    place = torch.linspace(0, 1, count, device=knots.device).expand(len(knots), -1)
    return _at(knots, place)


def _at(knots: Tensor, place: Tensor) -> Tensor:
    last = knots.shape[1] - 1
    at = place * last
    left = at.floor().long().clamp(0, last - 1)
    part = at - left
    return knots.gather(1, left) * (1 - part) + knots.gather(1, left + 1) * part


def _uniform(
    shape: tuple[int, ...] | torch.Size,
    low: float,
    high: float,
    draw: torch.Generator,
    like: Tensor,
) -> Tensor:
    return low + (high - low) * torch.rand(tuple(shape), generator=draw, device=like.device)


def _some(shape: tuple[int, ...], share: float, draw: torch.Generator, like: Tensor) -> Tensor:
    return torch.rand(shape, generator=draw, device=like.device) < share
