"""The name that a person means by what he typed, among those that there are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeVar

from joblog.model import Item

Said = TypeVar("Said")
Known = Callable[[str], str | None]
"""The name of what a text surely means, wherever it is; None where that is not sure."""


def one_named(text: str, names: Iterable[str], where: str, known: Known | None = None) -> str:
    """The one of the names that a text is, or that is `known` by it.

    `where` is what has these names, for a person: "this order". Raises ValueError, with the names
    that are nearest, where none of them is meant.
    """
    there = list(dict.fromkeys(names))
    typed = _plain(text)
    for name in there:
        if _plain(name) == typed:
            return name
    meant = known(typed) if known else None
    if meant in there:
        return str(meant)
    called = f"{typed!r}" if meant is None else f"{typed!r} ({meant})"
    raise ValueError(f"nothing in {where} is called {called}; {suggested(typed, there)}")


def under_names(
    said: Mapping[str, Said], names: Iterable[str], where: str, known: Known | None = None
) -> dict[str, Said]:
    """What was said by name, under the names that were meant. Raises ValueError as `one_named`
    does, and where two names are the same thing."""
    there = list(names)
    found: dict[str, Said] = {}
    for text, what in said.items():
        name = one_named(text, there, where, known)
        if name in found:
            raise ValueError(f"{name} is said twice; say it once")
        found[name] = what
    return found


def nearest(text: str, names: Sequence[str], most: int = 3) -> tuple[str, ...]:
    """The names that look most like a text, the likeliest first; none where none does."""
    from rapidfuzz import fuzz, process

    found = process.extract(
        _plain(text), {name: _plain(name) for name in names}, scorer=fuzz.WRatio, score_cutoff=70
    )
    return tuple(name for _, _, name in found[:most])


def suggested(text: str, names: Sequence[str]) -> str:
    """A question with the nearest names, or all that there are where none is near."""
    near = nearest(text, names)
    if near:
        return f"is it {' or '.join(near)}?"
    if not names:
        return "it names none"
    more = f" and {len(names) - MOST} more" if len(names) > MOST else ""
    return f"it has {', '.join(names[:MOST])}{more}"


MOST = 8
"""Names that are told."""


def spoken_of(items: Iterable[Item]) -> Known:
    """Knows an item by its own name, and by one that is said for it alone."""
    owners: dict[str, set[str]] = {}
    for item in items:
        for word in item.spoken:
            owners.setdefault(_plain(word), set()).add(item.name)
    for item in items:
        owners[_plain(item.name)] = {item.name}
    return lambda text: (
        next(iter(found)) if len(found := owners.get(_plain(text), ())) == 1 else None
    )


def _plain(name: str) -> str:
    return " ".join(name.lower().split())
