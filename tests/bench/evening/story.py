"""The job, its recordings, and what each thing said in them means. Everything is invented."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
JOB = "Larch Lane carriage house"
ZONE = "America/Chicago"
PLAN = HERE / "plan.csv"


@dataclass(frozen=True)
class Told:
    """One thing said, and the facts that stand for it in the end: none where it was taken back."""

    said: str
    entries: tuple[dict[str, Any], ...]


@dataclass(frozen=True)
class Recorded:
    """`made` is local time; `noise` a kind of noise and how many dB the voice is above it."""

    name: str
    made: str
    voice: str
    noise: tuple[str, float] | None


RECORDED = (
    Recorded("thursday-1.m4a", "2026-05-14T07:05:00", "piper joe", ("compressor", 8)),
    Recorded("thursday-2.opus", "2026-05-14T07:30:00", "festival kal", ("compressor", 10)),
    Recorded("thursday-3.flac", "2026-05-14T08:10:00", "piper joe", ("wind", 8)),
    Recorded("thursday-4.m4a", "2026-05-14T10:20:00", "festival ked", ("saw", 8)),
    Recorded("thursday-5.opus", "2026-05-14T12:05:00", "piper joe", ("saw", 8)),
    Recorded("thursday-6.m4a", "2026-05-14T14:15:00", "piper joe", ("compressor", 8)),
    Recorded("thursday-7.m4a", "2026-05-14T16:35:00", "festival kal", ("wind", 8)),
    Recorded("friday-1.m4a", "2026-05-15T07:20:00", "piper joe", ("wind", 8)),
    Recorded("friday-2.opus", "2026-05-15T09:40:00", "festival kal", ("saw", 8)),
    Recorded("friday-3.flac", "2026-05-15T11:50:00", "piper joe", ("compressor", 8)),
    Recorded("friday-4.m4a", "2026-05-15T14:30:00", "festival ked", ("wind", 8)),
    Recorded("friday-5.m4a", "2026-05-15T16:20:00", "piper joe", ("saw", 8)),
    Recorded("saturday-1.m4a", "2026-05-16T08:00:00", "piper joe", ("saw", 8)),
    Recorded("saturday-2.opus", "2026-05-16T10:45:00", "festival kal", ("compressor", 8)),
    Recorded("saturday-3.m4a", "2026-05-16T13:10:00", "piper joe", ("wind", 8)),
)
"""These voices taught the recognizers nothing; confidence was fitted on them."""


def told(recording: str) -> tuple[Told, ...]:
    """What was said in a recording, in order."""
    lines = map(json.loads, (HERE / "told.jsonl").read_text("utf-8").splitlines())
    return tuple(
        Told(line["said"], tuple(line["entries"]))
        for line in lines
        if line["recording"] == recording
    )
