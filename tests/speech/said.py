"""The job and the recordings that the speech tests hear.

The clips were spoken by flite's voices rms and slt, with a quarter of a second of silence around
them: the name of each says which line of `LINES` is in it.
"""

from functools import cache
from pathlib import Path

from joblog.audio.decode import Samples, samples
from joblog.model import Item, Task, Vocabulary

CLIPS = Path(__file__).parent / "clips"

LINES = {
    "measure": "north wall eleven and seven eighths heavy",
    "used": "used four sticks of wall channel",
    "note": "the neighbor complained about the noise in the morning",
    "digits": "three nine four",
}

JOB = Vocabulary(
    items=(
        Item("soffit panel", "sheet", ("soffit",)),
        Item("wall channel", "stick", ("channel",)),
        Item("trim nails", "lb"),
    ),
    places=("north wall", "south eave"),
    tasks=(Task("hang soffit"),),
)


@cache
def clip(name: str) -> Samples:
    return samples(CLIPS / f"{name}.ogg")


def plain(text: str) -> str:
    """Lower case, without punctuation; a hyphen is a space."""
    kept = [c if c.isalnum() or c == "'" else " " for c in text.lower()]
    return " ".join("".join(kept).split())
