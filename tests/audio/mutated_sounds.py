"""Recordings that were damaged at random, each from its seed."""

from __future__ import annotations

import random
from collections.abc import Mapping
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import av
import numpy as np

from tests.audio.sounds import babble
from tests.structured import damaged

KINDS: Mapping[str, tuple[str, str, int, str, dict[str, str]]] = {
    "plain.wav": ("wav", "pcm_s16le", 16_000, "mono", {"write_bext": "1"}),
    "three bytes.wav": ("wav", "pcm_s24le", 16_000, "stereo", {}),
    "float.wav": ("wav", "pcm_f32le", 8_000, "mono", {}),
    "ima.wav": ("wav", "adpcm_ima_wav", 16_000, "mono", {}),
    "ms.wav": ("wav", "adpcm_ms", 16_000, "stereo", {}),
    "telephone.wav": ("wav", "pcm_mulaw", 8_000, "mono", {}),
    "large.w64": ("w64", "pcm_s16le", 8_000, "mono", {}),
    "plain.flac": ("flac", "flac", 16_000, "mono", {}),
    "stereo.flac": ("flac", "flac", 44_100, "stereo", {}),
    "voice.opus": ("ogg", "libopus", 48_000, "mono", {}),
    "stereo.ogg": ("ogg", "vorbis", 44_100, "stereo", {}),
    "stereo.opus": ("ogg", "libopus", 48_000, "stereo", {}),
    "voice.mp3": ("mp3", "libmp3lame", 16_000, "mono", {}),
    "stereo.mp3": ("mp3", "libmp3lame", 44_100, "stereo", {"id3v2_version": "3"}),
    "phone.m4a": ("ipod", "aac", 16_000, "mono", {}),
    "exact.m4a": ("ipod", "alac", 8_000, "stereo", {}),
    "pieces.mp4": ("mp4", "aac", 16_000, "mono", {"movflags": "frag_keyframe+empty_moov"}),
    "plain.mov": ("mov", "pcm_s16be", 16_000, "mono", {}),
    "plain.aiff": ("aiff", "pcm_s16be", 16_000, "mono", {}),
    "plain.caf": ("caf", "pcm_s16be", 16_000, "mono", {}),
    "exact.caf": ("caf", "alac", 16_000, "mono", {}),
    "voice.mka": ("matroska", "libopus", 48_000, "mono", {}),
    "exact.mkv": ("matroska", "pcm_s16le", 16_000, "mono", {}),
    "voice.webm": ("webm", "libopus", 48_000, "mono", {}),
    "raw.aac": ("adts", "aac", 16_000, "mono", {}),
    "old.wma": ("asf", "wmav2", 44_100, "stereo", {}),
    "plain.au": ("au", "pcm_mulaw", 8_000, "mono", {}),
}
"""Container, codec, samples a second, channels, options of the container."""


@cache
def whole() -> dict[str, bytes]:
    """Half a second of babble in every kind of file, by its name."""
    here = Path(__file__).parent
    kept = {name: (here / name).read_bytes() for name in ("tone.amr", "tone.3gp")}
    return {**{name: _written(*kind) for name, kind in KINDS.items()}, **kept}


def mutant(seed: int) -> tuple[str, bytes]:
    """A name and what the file holds: one to eight changes to one of the whole files."""
    draw = random.Random(seed)
    name = draw.choice(sorted(whole()))
    akin = [content for other, content in sorted(whole().items()) if _akin(name, other)]
    lenders = [whole()[name], *(akin if draw.random() < 0.8 else whole().values())]
    return name, damaged(lenders[0], lenders, draw)


def _akin(name: str, other: str) -> bool:
    return name.rpartition(".")[2] == other.rpartition(".")[2]


def _written(container: str, codec: str, rate: int, layout: str, options: dict[str, str]) -> bytes:
    plane = (babble(0.5)[None] * 32767).astype(np.int16)
    frame = av.AudioFrame.from_ndarray(plane, "s16", "mono")
    frame.sample_rate = 16_000
    stream = BytesIO()
    with av.open(stream, "w", format=container, options={"fflags": "+bitexact", **options}) as file:
        file.metadata.update({"title": "eave", "date": "2026-10-05", "creation_time": _MADE})
        track: Any = file.add_stream(codec, rate=rate, layout=layout)
        track.codec_context.options = {"strict": "experimental"}
        track.bit_rate = 64_000
        track.codec_context.open()
        size = track.codec_context.frame_size or 1024
        pieces = av.AudioResampler(track.format.name, layout, rate, size)
        for piece in (*pieces.resample(frame), *pieces.resample(None)):
            file.mux(track.encode(piece))
        file.mux(track.encode(None))
    return stream.getvalue()


_MADE = "2026-10-05T07:32:10Z"
