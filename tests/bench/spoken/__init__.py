"""The corpus of phrases spoken by machine voices and heard by the recognizers, kept on disk.

`hear` fills the cache, `load_hearings` gives what is in it; scoring needs no sound.
"""

from tests.bench.spoken.cache import Spoken, last_ears, load_hearings
from tests.bench.spoken.hear import LEVELS, VOICES, hear, mixed
from tests.bench.spoken.wording import aloud, comparable

__all__ = [
    "LEVELS",
    "VOICES",
    "Spoken",
    "aloud",
    "comparable",
    "hear",
    "last_ears",
    "load_hearings",
    "mixed",
]
