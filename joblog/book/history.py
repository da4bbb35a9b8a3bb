"""The history of an entry: every change is a new version, and nothing written is written over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from joblog.form import ATTRIBUTES, FIELDS
from joblog.local import money_written
from joblog.model import Change, Entry, Reading, Standing
from joblog.quantity import tape


@dataclass(frozen=True, slots=True)
class Version:
    """One state of an entry, before the book gives it its number."""

    entry: Entry
    doubts: tuple[str, ...]
    standing: Standing
    change: Change
    said: str
    part: int = 0
    """Which of the things said made it: an index into what `spoken` was given."""
    origin: Change | None = None
    """What made this state, where the version only brings it back or moves it."""
    by: int = -1
    """Which of the new entries of `spoken_after` made it: a correction; -1 for none."""


def spoken(said: Iterable[tuple[Reading, str]], change: Change) -> list[list[Version]]:
    """The entries of what was said in one go, in order, each with all its versions.

    `said` are the readings of one recording, or of one typed line, with their words. A correction
    among them changes the entry before it that it means, and is kept itself. One that is doubtful
    takes nothing away: it makes what it may have meant doubtful too.
    """
    return spoken_after((), said, change)[1]


def spoken_after(
    before: Sequence[Version], said: Iterable[tuple[Reading, str]], change: Change
) -> tuple[list[list[Version]], list[list[Version]]]:
    """The same of what was said after others: what becomes of each of those, and the new entries.

    `before` is what stands of them, oldest first. The first lists hold the versions that each of
    them gets, none for one that stays as it is.
    """
    earlier = [[version] for version in before]
    kept: list[list[Version]] = []
    for part, (reading, words) in enumerate(said):
        for version in versions(reading, words, change):
            version = replace(version, part=part)
            if version.entry.kind == "correction":
                version = _applied(replace(version, by=len(kept)), earlier, kept)
                version = replace(version, by=-1)
            kept.append([version])
    return [versions[1:] for versions in earlier], kept


def versions(reading: Reading, said: str, change: Change) -> list[Version]:
    """A first version of every entry of a reading; what a person wrote without doubt stands."""
    return [
        _settled(Version(entry, _doubts(reading, number), "heard", change, said))
        for number, entry in enumerate(reading.entries)
    ]


def merged(before: Entry, after: Entry) -> Entry:
    """`after`, with what it does not say taken from `before` when both are of one kind.

    An amount is taken over only when `after` has none at all: half of an old amount is no amount.
    Nor is what told one item from another where it is another item now.
    """
    if before.kind != after.kind:
        return after
    names = [name for name in (*FIELDS[after.kind], "place", "day") if name not in AMOUNTS]
    if all(getattr(after, name) is None for name in AMOUNTS):
        names += AMOUNTS
    names = [name for name in names if name not in ATTRIBUTES or _still_so(before, after, name)]
    kept = {name: getattr(before, name) for name in names if getattr(after, name) is None}
    carried = [name for name in before.carried if kept.get(name) is not None]
    return replace(after, **kept, carried=tuple(dict.fromkeys([*after.carried, *carried])))


def _still_so(before: Entry, after: Entry, name: str) -> bool:
    """Whether the old size, length, profile or colour holds for the new item: not where it is quite
    another, nor where the old name told it and the new one does not."""
    if after.item in (None, before.item) or before.item is None:
        return True
    old, new = before.item.split(), after.item.split()
    if name == "size" and "by" in old:
        return False  # The name of a board is its size.
    return bool({*old} & {*new}) and not ({*str(getattr(before, name)).split()} & ({*old} - {*new}))


AMOUNTS = [
    "quantity", "inches", "square_inches", "pitch", "as_said", "minutes", "time", "hours",
    "fahrenheit", "note",
]  # fmt: skip
"""What an entry is about; the other fields say of what, where and by whom."""


def _applied(
    correction: Version, earlier: Sequence[list[Version]], kept: Sequence[list[Version]]
) -> Version:
    """Does to the entry before it what the correction says; the correction as it then stands."""
    entry, part = correction.entry, correction.part
    standing = [one for one in (*earlier, *kept) if _stands(one[-1])]
    if len(standing) <= entry.back:
        return _doubtful(correction, NOTHING_BEFORE)
    meant = standing[-1 - entry.back]
    if entry.action == "replace" and entry.replacement is not None:
        meant.append(replaced(meant[-1], correction, entry.replacement))
    elif entry.action == "drop" and not correction.doubts:
        gone = replace(meant[-1], doubts=(), standing="dropped", change="dropped", part=part)
        meant.append(replace(gone, by=correction.by))
    else:
        perhaps = _doubtful(meant[-1], f"may have been taken back right after: {correction.said}")
        if any(meant is one for one in earlier):
            meant.append(replace(perhaps, change="corrected", part=part, by=correction.by))
        else:
            meant[-1] = perhaps
        return _doubtful(correction, "it is not certain what it takes back")
    return correction if correction.doubts else replace(correction, standing="accepted")


NOTHING_BEFORE = "nothing was said before it that it could change"


def replaced(before: Version, correction: Version, replacement: Entry) -> Version:
    """What a correction makes of what was there before: what it does not say stays."""
    after = merged(before.entry, replacement)
    doubts = correction.doubts
    if before.entry.kind != after.kind:
        doubts += (f"it was {before.entry.kind} before: {before.said}",)
    # What was doubtful may be the very thing that the new words leave as it was.
    left = (why for why in before.doubts if not _answered(why, before.entry, after))
    doubts = tuple(dict.fromkeys((*doubts, *left)))
    standing: Standing = "heard" if doubts else correction.standing
    return replace(correction, entry=after, doubts=doubts, standing=standing, change="corrected")


def _answered(why: str, before: Entry, after: Entry) -> bool:
    """Whether a doubt is about what was said before and is said no more, and about nothing else."""
    names = [name for name in FIELDS[before.kind] if name in _TOLD] + ["place"]
    gone = [name for name in names if getattr(before, name) != getattr(after, name)]
    if why.startswith(_OF_OTHER_WORDS):
        return False
    if any(re.search(pattern, why) for name in gone for pattern in _ASKS_FOR.get(name, ())):
        return True
    stays = [name for name in names if name not in gone]
    return any(
        _speaks(why, before, name) and not _of_its_unit(why, before, name) for name in gone
    ) and not any(_speaks(why, after, name) for name in stays)


_OF_OTHER_WORDS = ("not understood", "a word was not heard", "a number was left over")
"""How doubts begin that are about words which are in no field."""

_ASKS_FOR = {
    "quantity": (r"how many\?$", r"exactly two\?$", r"^only roughly"),
    "inches": (r"^only roughly",),
    "item": (r"^of what\?",),
    "hours": (r"^how many hours", r"^only roughly"),
    "workers": (r"how many people\?$",),
    "task": (r"which task\?$",),
    "minutes": (r"^how long",),
}
"""What asks for a field without repeating its value."""


def _of_its_unit(why: str, entry: Entry, name: str) -> bool:
    """Whether a doubt that repeats a number asks what it is of: "9 inches, or 9 pieces?"."""
    value = getattr(entry, name)
    if name == "as_said" or not isinstance(value, Fraction):
        return False
    return set(_FIGURES.findall(why)) <= {tape(value)} and " or " in why


_FIGURES = re.compile(r"(?<![\w/])(?:\d+ )?\d+(?:/\d+)?(?![\w/])")


def _speaks(why: str, entry: Entry, name: str) -> bool:
    value = getattr(entry, name)
    if value is None:
        return False
    written = [tape(value) if isinstance(value, Fraction) else str(value)]
    if isinstance(value, Decimal):
        written.append(money_written(value, bare=True))
    words = "|".join(map(re.escape, written))
    return re.search(rf"(?<![\w/])(?:{words})(?![\w/])", why) is not None


_TOLD = (
    "quantity", "inches", "as_said", "item", "unit", "minutes", "hours", "workers", "task", "size",
    "profile", "colour", "dimension", "unit_cost", "price", "miles",
    "width", "height", "at",
)  # fmt: skip
"""Fields whose value a doubt may repeat."""


def _stands(version: Version) -> bool:
    return version.entry.kind != "correction" and version.standing != "dropped"


def _doubtful(version: Version, why: str) -> Version:
    return replace(version, doubts=(*version.doubts, why), standing="heard")


def _doubts(reading: Reading, number: int) -> tuple[str, ...]:
    return tuple(doubt.why for doubt in reading.doubts if doubt.entry == number)


def _settled(version: Version) -> Version:
    if version.change == "heard" or version.doubts:
        return version
    return replace(version, standing="accepted")
