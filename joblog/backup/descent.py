"""Which backups a book went on from: two copies of one book that are both worked in are told apart.

Each backup has a name that the book notes before it is copied, so that the book, all its copies
and all that is restored know each backup that they come from. A name that is noted and was never
used, because the backup was killed, does no harm.
"""

from __future__ import annotations

import json
import platform
from collections.abc import Collection, Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from secrets import token_hex

from joblog.backup.nouns import State
from joblog.book import Book, BookError

WENT_ON_FROM = "backups it went on from"
MOST = 4000
"""So many are remembered: of a backup each day, those of ten years."""


@dataclass(frozen=True, slots=True)
class Descent:
    """Where a book comes from."""

    names: tuple[str, ...] = ()
    """Of the backups that it went on from, the latest last."""
    told: tuple[str, ...] = ()
    """Of the backups of other copies that were told of."""
    name: str = ""
    """Of the backup that is being made; "" where none could be noted."""


def parted(states: Iterable[State]) -> tuple[State, ...]:
    """The backups that no other went on from, the newest first: more than one where copies of one
    book were worked in apart. `states` are the newest first."""
    every = tuple(states)
    gone_on_from = {name for one in every for name in one.after}
    ends: dict[str, State] = {}
    for one in every:
        if one.name and one.name not in gone_on_from:
            ends.setdefault(one.name, one)
    return tuple(ends.values())


def is_in(state: State, end: State) -> bool:
    """Whether what a backup holds went on to this one. Of one that an older joblog wrote nobody
    knows better."""
    return not state.name or state.name == end.name or state.name in end.after


def copies_of(state: State, ends: Sequence[State]) -> tuple[int, ...]:
    """The numbers of the copies that a backup went on to, from 1; none where there is only one."""
    if len(ends) < 2:
        return ()
    return tuple(number for number, end in enumerate(ends, 1) if is_in(state, end))


def of(book: Book) -> Descent:
    """What the book remembers; nothing where it cannot be read."""
    with suppress(BookError, ValueError, TypeError, KeyError, AttributeError):
        known = json.loads(book.setting(WENT_ON_FROM) or "{}")
        names, told = (tuple(str(known.get(key, "")).split()) for key in ("names", "told"))
        return Descent(names, told)
    return Descent()


def begin(book: Book) -> Descent:
    """What the book remembers, with the name of the backup that is about to be made, which is
    noted. Nothing can be noted in a damaged book, and a name that it does not know would be another
    copy's."""
    before, name = of(book), token_hex(4)
    try:
        _note(book, (*before.names, name), before.told)
    except BookError:
        return before
    return replace(before, name=name)


def settle(book: Book, before: Descent, state: State, told: Iterable[State] = ()) -> None:
    """Notes the backup that the book now is the same as, and of which other copies was told."""
    others = (*before.told, *(one.name for one in told))
    with suppress(BookError):
        _note(book, (*before.names, *state.after, state.name), others)


def others(ends: Iterable[State], before: Descent, state: State) -> tuple[State, ...]:
    """Those of the `ends` that are other copies' and were not told of yet, where the book went on
    from `before` and is the same as `state` now."""
    own = {*before.names, *before.told, *state.after, state.name}
    return tuple(one for one in ends if one.name not in own)


def is_own(state: State, names: Collection[str]) -> bool:
    """Whether the book went on from that backup, as far as is known."""
    return not names or not state.name or state.name in names


def where(book: Book) -> str:
    """Where the book lies, for a person who finds two of them."""
    return f"{book.folder.resolve()} on {platform.node() or 'this computer'}"


def _note(book: Book, names: Iterable[str], told: Iterable[str]) -> None:
    values = (filter(None, dict.fromkeys(some)) for some in (names, told))
    known = {
        key: " ".join([*some][-MOST:]) for key, some in zip(("names", "told"), values, strict=True)
    }
    text = json.dumps(known)
    if text != book.setting(WENT_ON_FROM):
        book.set_setting(WENT_ON_FROM, text)
