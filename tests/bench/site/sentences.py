"""What the person says on the two days, and what a careful listener would write down.

A line is `words | kind; field value; field value`. Lengths are written as on a tape, 14 5/8. `...`
in the words is a pause inside the sentence. All were written for this measure; those of the locked
day are read by nobody who works on what listens.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any


@dataclass(frozen=True)
class Line:
    """One sentence with the entries that it says, as `joblog parse` would print them."""

    words: str
    facts: tuple[dict[str, Any], ...]


@dataclass(frozen=True)
class Told:
    """All sentences of one day, by the way in which they are said."""

    singles: tuple[Line, ...]
    paused: tuple[Line, ...]
    """With a pause inside."""
    series: tuple[tuple[Line, ...], ...]
    """Measures one after another, each said so that it is no bare number."""
    bare: tuple[Line, ...]
    """A series of bare numbers, said slowly."""
    scratched: tuple[Line, ...]
    """Said, taken back by "scratch that", and said again."""
    corrected: tuple[tuple[Line, str, Line], ...]
    """A sentence, the words that correct it, and what it comes to."""
    repeated: tuple[tuple[Line, str, Line], ...]
    """A sentence, the bare number said after its read-back, and what it comes to."""


def line(text: str) -> Line:
    """A line of the tables below. Raises `ValueError` where it is none."""
    words, *said = (part.strip() for part in text.split("|"))
    return Line(words, tuple(map(_fact, said)))


COMMANDS = (
    "read back the cut list",
    "what is next to cut",
    "how many are left",
    "which place are we at",
    "read the last one",
    "take a photo note",
)
"""Each is said alone. "pause" and "resume" have scenes of their own."""
SCRATCH = "scratch that"
PAUSE, RESUME = "pause", "resume"


def told(day: str) -> Told:
    """The sentences of the "open" or the "locked" day."""
    return {"open": _OPEN, "locked": _LOCKED}[day]


def _fact(text: str) -> dict[str, Any]:
    kind, *fields = (part.strip() for part in text.split(";"))
    fact: dict[str, Any] = {"kind": kind}
    for field in fields:
        name, _, value = field.partition(" ")
        fact[name] = str(sum(map(Fraction, value.split()))) if name == "inches" else value
    return {
        name: int(value) if name in ("pieces", "workers") else value for name, value in fact.items()
    }


def _lines(table: str) -> tuple[Line, ...]:
    return tuple(line(row) for row in table.strip().splitlines())


def _changes(table: str) -> tuple[tuple[Line, str, Line], ...]:
    """Rows of `sentence > changing words > the sentence it comes to`."""
    rows = (row.split(">") for row in table.strip().splitlines())
    return tuple((line(first), change.strip(), line(last)) for first, change, last in rows)


# ruff: noqa: E501
_OPEN = Told(
    singles=_lines("""
north eave fourteen and five eighths | measure; place north eave; inches 14 5/8
south eave fifteen and three sixteenths | measure; place south eave; inches 15 3/16
east wall is ninety seven and a quarter inches wide | measure; place east wall; inches 97 1/4
porch ceiling eleven feet four inches | measure; place porch ceiling; inches 136
soffit depth on the south eave sixteen and an eighth | measure; place south eave; item soffit panel; inches 16 1/8
garage wall forty one and a half | measure; place garage wall; inches 41 1/2
west gable twenty three and thirteen sixteenths | measure; place west gable; inches 23 13/16
north eave thirteen and seven eighths heavy | measure; place north eave; inches 13 15/16
used six sheets of soffit on the north eave | used; item soffit panel; quantity 6; unit sheet; place north eave
used two tubes of caulk on the porch ceiling | used; item caulk; quantity 2; unit tube; place porch ceiling
cracked two soffit panels on the porch ceiling | spoiled; item soffit panel; quantity 2; unit sheet; place porch ceiling
delivered forty soffit panels | delivered; item soffit panel; quantity 40; unit sheet
they dropped off twelve sticks of fascia | delivered; item fascia; quantity 12; unit stick
returned three sticks of j channel | returned; item J channel; quantity 3; unit stick
used five sticks of wall channel on the east wall | used; item F channel; quantity 5; unit stick; place east wall
need four more gutter hangers | needed; item gutter hanger; quantity 4; unit each
bent one stick of fascia | spoiled; item fascia; quantity 1; unit stick
used nine sheets of siding on the garage wall | used; item siding panel; quantity 9; unit sheet; place garage wall
started at seven thirty | start; time 07:30
hung soffit for two hours | labor; hours 2; task hang soffit
used one box of staples | used; item staples; quantity 1; unit box
east wall eighty eight and eleven sixteenths | measure; place east wall; inches 88 11/16
"""),
    paused=_lines("""
north eave eleven ... and seven eighths | measure; place north eave; inches 11 7/8
south eave sixteen ... and a quarter | measure; place south eave; inches 16 1/4
west gable thirty one ... and five sixteenths | measure; place west gable; inches 31 5/16
garage wall ... sixty two and a half | measure; place garage wall; inches 62 1/2
used four sheets of soffit ... on the south eave | used; item soffit panel; quantity 4; unit sheet; place south eave
porch ceiling nine feet ... six and a half inches | measure; place porch ceiling; inches 114 1/2
east wall forty ... and three quarters | measure; place east wall; inches 40 3/4
used ... seven sticks of fascia | used; item fascia; quantity 7; unit stick
"""),
    series=(
        _lines("""
north eave depth fourteen and a quarter | measure; place north eave; dimension depth; inches 14 1/4
next one fourteen and three eighths | measure; inches 14 3/8
next one fourteen and a half | measure; inches 14 1/2
next one fourteen and seven sixteenths | measure; inches 14 7/16
"""),
        _lines("""
south eave depth thirteen and five eighths | measure; place south eave; dimension depth; inches 13 5/8
next one thirteen and a half | measure; inches 13 1/2
next one thirteen and nine sixteenths | measure; inches 13 9/16
next one thirteen and three quarters | measure; inches 13 3/4
"""),
        _lines("""
west gable nineteen and a half | measure; place west gable; inches 19 1/2
west gable twenty two and a quarter | measure; place west gable; inches 22 1/4
west gable twenty five and an eighth | measure; place west gable; inches 25 1/8
west gable twenty eight | measure; place west gable; inches 28
"""),
        _lines("""
east wall thirty six and three eighths | measure; place east wall; inches 36 3/8
east wall fifty one and five eighths | measure; place east wall; inches 51 5/8
garage wall seventeen and a quarter | measure; place garage wall; inches 17 1/4
garage wall eighteen and seven eighths | measure; place garage wall; inches 18 7/8
"""),
    ),
    bare=_lines("""
fifteen and an eighth | measure; inches 15 1/8
fifteen and a quarter | measure; inches 15 1/4
fifteen and three eighths | measure; inches 15 3/8
fifteen and a half | measure; inches 15 1/2
"""),
    scratched=_lines("""
north eave twelve and nine sixteenths | measure; place north eave; inches 12 9/16
used eight sheets of soffit on the west gable | used; item soffit panel; quantity 8; unit sheet; place west gable
garage wall twenty nine and three quarters | measure; place garage wall; inches 29 3/4
used three rolls of flashing | used; item flashing; quantity 3; unit roll
"""),
    corrected=_changes("""
south eave fourteen and a quarter | measure; place south eave; inches 14 1/4 > no make that fifteen and a quarter > fifteen | measure; place south eave; inches 15 1/4
used five sheets of soffit on the north eave | used; item soffit panel; quantity 5; unit sheet; place north eave > make that six sheets > six | used; item soffit panel; quantity 6; unit sheet; place north eave
west gable forty and an eighth | measure; place west gable; inches 40 1/8 > correction fourteen and an eighth > fourteen | measure; place west gable; inches 14 1/8
east wall seventy three and a half | measure; place east wall; inches 73 1/2 > no make that seventy three and five eighths > it | measure; place east wall; inches 73 5/8
"""),
    repeated=_changes("""
north eave sixteen and three eighths | measure; place north eave; inches 16 3/8 > sixteen and five eighths > it | measure; place north eave; inches 16 5/8
porch ceiling eighty four and a quarter | measure; place porch ceiling; inches 84 1/4 > eighty four and three quarters > it | measure; place porch ceiling; inches 84 3/4
south eave thirty two and a half | measure; place south eave; inches 32 1/2 > thirty two and an eighth > it | measure; place south eave; inches 32 1/8
"""),
)

_LOCKED = Told(
    singles=_lines("""
south eave seventeen and three eighths | measure; place south eave; inches 17 3/8
north eave twelve and eleven sixteenths | measure; place north eave; inches 12 11/16
garage wall is one hundred and six and a half inches | measure; place garage wall; inches 106 1/2
west gable nine feet seven inches | measure; place west gable; inches 115
soffit depth on the north eave fifteen and five eighths | measure; place north eave; item soffit panel; inches 15 5/8
porch ceiling thirty eight and a quarter | measure; place porch ceiling; inches 38 1/4
east wall fifty five and fifteen sixteenths | measure; place east wall; inches 55 15/16
south eave eighteen and a half light | measure; place south eave; inches 18 7/16
used eleven sheets of soffit on the south eave | used; item soffit panel; quantity 11; unit sheet; place south eave
used three tubes of caulk on the east wall | used; item caulk; quantity 3; unit tube; place east wall
broke one sheet of siding on the garage wall | spoiled; item siding panel; quantity 1; unit sheet; place garage wall
delivered twenty four sticks of wall channel | delivered; item F channel; quantity 24; unit stick
they dropped off sixty soffit panels | delivered; item soffit panel; quantity 60; unit sheet
returned two rolls of trim coil | returned; item trim coil; quantity 2; unit roll
used four sticks of fascia on the south eave | used; item fascia; quantity 4; unit stick; place south eave
need six more elbows | needed; item elbow; quantity 6; unit each
bent two sticks of j channel | spoiled; item J channel; quantity 2; unit stick
used seven sticks of gutter on the north eave | used; item gutter; quantity 7; unit stick; place north eave
started at eight fifteen | start; time 08:15
wrapped fascia for three hours | labor; hours 3; task wrap fascia
used two boxes of staples | used; item staples; quantity 2; unit box
west gable sixty four and three sixteenths | measure; place west gable; inches 64 3/16
"""),
    paused=_lines("""
south eave twelve ... and five eighths | measure; place south eave; inches 12 5/8
north eave nineteen ... and a half | measure; place north eave; inches 19 1/2
garage wall twenty six ... and eleven sixteenths | measure; place garage wall; inches 26 11/16
porch ceiling ... fifty seven and a quarter | measure; place porch ceiling; inches 57 1/4
used nine sheets of soffit ... on the north eave | used; item soffit panel; quantity 9; unit sheet; place north eave
west gable eight feet ... three and a half inches | measure; place west gable; inches 99 1/2
east wall seventy ... and seven eighths | measure; place east wall; inches 70 7/8
used ... five sticks of gutter | used; item gutter; quantity 5; unit stick
"""),
    series=(
        _lines("""
south eave depth sixteen and an eighth | measure; place south eave; dimension depth; inches 16 1/8
next one sixteen and a quarter | measure; inches 16 1/4
next one sixteen and three sixteenths | measure; inches 16 3/16
next one sixteen and five sixteenths | measure; inches 16 5/16
"""),
        _lines("""
north eave depth eleven and three quarters | measure; place north eave; dimension depth; inches 11 3/4
next one eleven and seven eighths | measure; inches 11 7/8
next one twelve | measure; inches 12
next one eleven and fifteen sixteenths | measure; inches 11 15/16
"""),
        _lines("""
garage wall thirteen and a quarter | measure; place garage wall; inches 13 1/4
garage wall thirty three and an eighth | measure; place garage wall; inches 33 1/8
garage wall forty seven and a half | measure; place garage wall; inches 47 1/2
garage wall sixty | measure; place garage wall; inches 60
"""),
        _lines("""
west gable fifteen and three quarters | measure; place west gable; inches 15 3/4
west gable twenty one and five eighths | measure; place west gable; inches 21 5/8
east wall eighty two and a quarter | measure; place east wall; inches 82 1/4
east wall ninety and three eighths | measure; place east wall; inches 90 3/8
"""),
    ),
    bare=_lines("""
seventeen and a quarter | measure; inches 17 1/4
seventeen and three eighths | measure; inches 17 3/8
seventeen and a half | measure; inches 17 1/2
seventeen and five eighths | measure; inches 17 5/8
"""),
    scratched=_lines("""
south eave fourteen and three sixteenths | measure; place south eave; inches 14 3/16
used seven sheets of siding on the east wall | used; item siding panel; quantity 7; unit sheet; place east wall
porch ceiling sixty six and a quarter | measure; place porch ceiling; inches 66 1/4
used two sticks of drip edge | used; item drip edge; quantity 2; unit stick
"""),
    corrected=_changes("""
north eave eighteen and a half | measure; place north eave; inches 18 1/2 > no make that eighteen and an eighth > it | measure; place north eave; inches 18 1/8
used three sheets of soffit on the south eave | used; item soffit panel; quantity 3; unit sheet; place south eave > make that four sheets > it | used; item soffit panel; quantity 4; unit sheet; place south eave
garage wall fifty and a quarter | measure; place garage wall; inches 50 1/4 > correction fifteen and a quarter > it | measure; place garage wall; inches 15 1/4
west gable thirty seven and three quarters | measure; place west gable; inches 37 3/4 > no make that thirty seven and a quarter > it | measure; place west gable; inches 37 1/4
"""),
    repeated=_changes("""
south eave twelve and seven eighths | measure; place south eave; inches 12 7/8 > twelve and three eighths > it | measure; place south eave; inches 12 3/8
east wall forty four and an eighth | measure; place east wall; inches 44 1/8 > forty four and five eighths > it | measure; place east wall; inches 44 5/8
north eave twenty six and a half | measure; place north eave; inches 26 1/2 > twenty six and a quarter > it | measure; place north eave; inches 26 1/4
"""),
)
