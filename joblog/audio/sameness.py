"""Whether two recordings hold the same sound, however it was cut, tagged, coded or resampled.

After J. Haitsma and T. Kalker, "A highly robust audio fingerprinting system" (2002, from memory):
every 32 ms of sound get a word of 32 bits, each of which says whether the step from one band of
the spectrum to the next grew or fell. Copies of a sound agree in most bits; other sounds, be it
the same sentence said again, agree in half of them.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE, Samples

Name = TypeVar("Name")
Words = NDArray[np.uint32]

STEP = 512
"""Samples from one word to the next: 32 ms."""
WINDOW = 4096
"""Samples that a word is made of. Eight steps, so that half a step off changes few of its bits."""
BANDS, LOWEST, HIGHEST = 33, 300.0, 3000.0
"""Bands of equal width to the ear, in hertz: what even a telephone's codec keeps."""
FAINT, UNDER_SPEECH = 1e-3, 0.03
"""What is softer than this, or than this part of the recording's loudest, is noise that a codec
may replace by another; it has no word."""
AROUND = 24
"""Words to either side that are judged together with one: a second and a half in all."""
AGREES = 0.32
"""The share of other bits up to which two places sound the same: 99 of 100 places of a copy have
0.30 at most, other sounds 0.5 on the whole."""
ALIKE = 0.8
"""The share of a recording's sound that must be in another one for it to be a copy, whole or in
part. `tests/bench/copies.py` finds 0.86 at least in copies; in others 0.25, where a synthesizer
says the same sentence twice, and 0.71 in nothing but the same beeper."""
INDEXED = 20_000
"""Words of one recording that can be looked up, spread over all of it: eleven minutes' worth."""
TRIED = 4
"""Shifts of two recordings that are looked into; a copy with a hole needs two of them."""


@dataclass(frozen=True, slots=True, eq=False)
class SoundPrint:
    """What a recording sounds like: its length, its exact samples, and a word for every step."""

    seconds: float
    exact: str
    """SHA-256 of the samples at 16 bits; empty where there is nothing but silence."""
    words: Words
    """One for every 32 ms; 0 where it is too soft to tell."""

    def packed(self) -> bytes:
        """The words as bytes for keeping."""
        return zlib.compress(self.words.astype("<u4").tobytes())


SILENT = SoundPrint(0.0, "", np.zeros(0, np.uint32))
"""The print of what has no sound, or none that can be decoded."""


def unpacked(seconds: float, exact: str, packed: bytes) -> SoundPrint:
    """The print that was kept."""
    return SoundPrint(seconds, exact, np.frombuffer(zlib.decompress(packed), "<u4"))


def sound_print(blocks: Iterable[Samples]) -> SoundPrint:
    """The print of a recording's blocks; works as they come."""
    exact, length, silent = hashlib.sha256(), 0, True
    words: list[Words] = []
    levels: list[Samples] = []

    def counted() -> Iterator[Samples]:
        nonlocal length, silent
        for block in blocks:
            whole = np.rint(block * 32767).astype("<i2")
            exact.update(whole.tobytes())
            length += len(block)
            silent = silent and not whole.any()
            yield block

    for some, loud in _measured(counted()):
        words.append(some)
        levels.append(loud)
    level = np.concatenate([np.zeros(0, np.float32), *levels])
    every = np.concatenate([np.zeros(0, np.uint32), *words])
    sounding = level[level > FAINT]
    least = max(FAINT, UNDER_SPEECH * float(np.quantile(sounding, 0.95))) if len(sounding) else 0.0
    every[level < least] = 0
    return SoundPrint(length / RATE, "" if silent else exact.hexdigest(), every)


@dataclass(frozen=True, slots=True)
class Likeness(Generic[Name]):
    """How much two recordings have in common."""

    other: Name
    mine: float
    """The share of this one's sound that is in the other one, 0 to 1."""
    theirs: float
    """The share of the other one's sound that is in this one."""
    begins: float
    """Seconds in the other one at which this one begins; less than 0 when it begins before."""


class Prints(Generic[Name]):
    """Prints in which others can be looked up."""

    def __init__(self, prints: Mapping[Name, SoundPrint]) -> None:
        self._prints = dict(prints)
        self._names = list(prints)
        self._exact = {one.exact: name for name, one in prints.items() if one.exact}
        places = [_sounding(one.words, INDEXED) for one in prints.values()]
        words = [one.words[at] for one, at in zip(prints.values(), places, strict=True)]
        owners = [np.full(len(at), number) for number, at in enumerate(places)]
        every = np.concatenate([np.zeros(0, np.uint32), *words])
        order = np.argsort(every, kind="stable")
        self._words = every[order]
        self._places = np.concatenate([np.zeros(0, np.int64), *places])[order]
        self._owners = np.concatenate([np.zeros(0, np.int64), *owners])[order]

    def like(self, new: SoundPrint) -> tuple[Likeness[Name], ...]:
        """Those that have any sound in common with this one, the most alike first."""
        found = []
        for number, shifts in self._shifts(new).items():
            name = self._names[number]
            likeness = _likeness(name, new.words, self._prints[name].words, shifts)
            if likeness is not None:
                found.append(likeness)
        exact = self._exact.get(new.exact) if new.exact else None
        if exact is not None:
            found = [one for one in found if one.other != exact]
            found.append(Likeness(exact, 1.0, 1.0, 0.0))
        return tuple(sorted(found, key=lambda one: -max(one.mine, one.theirs)))

    def _shifts(self, new: SoundPrint) -> dict[int, list[int]]:
        """By how many steps this print may lie in which of the others: the likeliest few."""
        places = _sounding(new.words, INDEXED)
        flips = np.concatenate([[0], 1 << np.arange(32)]).astype(np.uint32)
        sought = (new.words[places, None] ^ flips).ravel()
        first = np.searchsorted(self._words, sought, "left")
        count = np.searchsorted(self._words, sought, "right") - first
        # A word that is everywhere, as in a steady tone, tells nothing.
        count[count > 50] = 0
        hits = np.repeat(first, count) + _counting(count)
        mine = np.repeat(np.repeat(places, len(flips)), count)
        owners, shifts = self._owners[hits], self._places[hits] - mine
        pairs, votes = np.unique(np.stack([owners, shifts]), axis=1, return_counts=True)
        likely: dict[int, list[int]] = {}
        for at in np.argsort(-votes, kind="stable"):
            chosen = likely.setdefault(int(pairs[0, at]), [])
            if len(chosen) < TRIED:
                chosen.append(int(pairs[1, at]))
        return likely


def _likeness(name: Name, mine: Words, theirs: Words, shifts: list[int]) -> Likeness[Name] | None:
    """How far they agree when either shift may hold at any place."""
    in_mine, in_theirs = np.zeros(len(mine), bool), np.zeros(len(theirs), bool)
    best, most = 0, 0
    for shift in shifts:
        begin, start = max(0, -shift), max(0, shift)
        length = min(len(mine) - begin, len(theirs) - start)
        a, b = mine[begin : begin + length], theirs[start : start + length]
        agreeing = _agreeing(a, b)
        in_mine[begin : begin + length] |= agreeing
        in_theirs[start : start + length] |= agreeing
        if (count := int(agreeing.sum())) > most:
            best, most = shift, count
    if not most:
        return None
    return Likeness(name, _share(in_mine, mine), _share(in_theirs, theirs), best * STEP / RATE)


def _agreeing(a: Words, b: Words) -> NDArray[np.bool_]:
    """The places around which both sound and have most bits in common."""
    both = (a != 0) & (b != 0)
    if both.sum() < AROUND:
        return np.zeros(len(a), bool)
    other = np.where(both, _ones(a ^ b), 0)
    share = _around(other) / np.maximum(1, 32 * _around(both))
    return np.asarray(both & (share <= AGREES) & (_around(both) >= AROUND / 2), np.bool_)


def _around(values: NDArray[np.integer] | NDArray[np.bool_]) -> NDArray[np.int64]:
    """The sum of every value with its neighbours up to AROUND away."""
    total = np.concatenate([[0], np.cumsum(values, dtype=np.int64)])
    at = np.arange(len(values))
    ends = total[np.minimum(at + AROUND + 1, len(values))]
    return np.asarray(ends - total[np.maximum(at - AROUND, 0)], np.int64)


def _share(part: NDArray[np.bool_], words: Words) -> float:
    return float(part.sum() / max(1, np.count_nonzero(words)))


def _ones(words: Words) -> NDArray[np.uint8]:
    """How many bits of each word are set."""
    return np.asarray(_BITS[words & 0xFFFF] + _BITS[words >> 16], np.uint8)


_BITS = np.array([number.bit_count() for number in range(1 << 16)], np.uint8)


def _sounding(words: Words, most: int) -> NDArray[np.int64]:
    """The places that have a word, every so-manieth when they are more than `most`."""
    places = np.flatnonzero(words)
    return places[:: max(1, -(-len(places) // most))]


def _counting(counts: NDArray[np.int64]) -> NDArray[np.int64]:
    """0, 1, 2 … for each count, one after the other."""
    ends = np.cumsum(counts)
    return np.arange(int(ends[-1]) if len(ends) else 0) - np.repeat(ends - counts, counts)


def _measured(blocks: Iterable[Samples]) -> Iterator[tuple[Words, Samples]]:
    """The words of the blocks, and how loud each of their places is."""
    edges = np.rint(np.geomspace(LOWEST, HIGHEST, BANDS + 1) * WINDOW / RATE).astype(int)
    shape = np.hanning(WINDOW).astype(np.float32)
    rest = np.zeros(0, np.float32)
    before: NDArray[np.float64] | None = None
    for block in blocks:
        sound = np.concatenate([rest, block])
        count = max(0, (len(sound) - WINDOW) // STEP + 1)
        rest = sound[count * STEP :]
        if not count:
            continue
        if np.ptp(sound) <= FAINT / 5:  # A recorder's constant is no sound.
            before = np.zeros((1, BANDS - 1))
            yield np.zeros(count, np.uint32), np.zeros(count, np.float32)
            continue
        windows = np.lib.stride_tricks.sliding_window_view(sound, WINDOW)[::STEP][:count]
        power = np.abs(np.fft.rfft(windows * shape)) ** 2
        total = np.concatenate([np.zeros((count, 1)), np.cumsum(power, axis=1)], axis=1)
        bands = total[:, edges[1:]] - total[:, edges[:-1]]
        steps = bands[:, :-1] - bands[:, 1:]
        grown = np.diff(steps, axis=0, prepend=steps[:1] if before is None else before) > 0
        before = steps[-1:]
        # The root of the mean square: a Hann window lets three eighths of the power through.
        loud = np.sqrt(bands.sum(axis=1) * 2 / (WINDOW**2 * 3 / 8)).astype(np.float32)
        yield (grown * _POWERS).sum(axis=1).astype(np.uint32), loud


_POWERS = 1 << np.arange(32, dtype=np.int64)
