"""Which column of a table is which of ours; one that nobody knows is asked about, never ignored."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from joblog.model import Problem
from joblog.sheet.nouns import Columns, Question, Reading, Way


@dataclass(frozen=True, slots=True)
class Matched:
    """The columns of a table, in its order."""

    names: tuple[str | None, ...]
    """Ours; None for one that is left out."""
    problems: tuple[Problem, ...] = ()


def matched(
    file: str,
    header: Sequence[str],
    columns: Columns,
    reading: Reading,
    sample: Callable[[int], str],
) -> Matched:
    """What each cell of the first row names. `sample` is something that a column holds; "" where
    it holds nothing."""
    names = Names(columns, reading.named)
    ours = [names.ours(cell) for cell in header]
    unknown = list(_unknown(file, header, ours, columns, sample)) if any(ours) else []
    asked = {way.ours for problem in unknown if isinstance(problem, Question)
             for way in problem.ways}  # fmt: skip
    problems = [
        *_wrongly_named(file, header, columns, reading),
        *unknown,
        *_twice(file, header, ours),
    ]
    missing = [name for name in columns.required if name not in ours and name not in asked]
    if missing or not any(ours):
        lacking = " and no column ".join(missing)
        why = f"has no column {lacking}" if missing else "names no column"
        problems.append(Problem(file, f"{why}; {listed_for(columns)}"))
    return Matched(tuple(name or None for name in ours), tuple(problems))


def listed_for(columns: Columns) -> str:
    """What the first row of a table may name, for a person."""
    return f"its first row must name the columns of {columns.of}: {_those_to_read(columns.names)}"


class Names:
    """Our names of columns by how somebody may have written them."""

    def __init__(self, columns: Columns, named: Mapping[str, str] = {}) -> None:
        self._ours = {key(name): name for name in columns.names}
        self._ours |= {key(other): name for other, name in columns.alike.items()}
        self._ours |= {key(other): self._ours.get(key(name), "") for other, name in named.items()}

    def ours(self, written: str) -> str | None:
        """Our name; "" for a column that is left out, None for one that is not known."""
        return self._ours.get(key(written))

    def count(self, header: Sequence[str]) -> int:
        """How many columns of a first row are known."""
        return sum(bool(key(cell)) and self.ours(cell) is not None for cell in header)


def key(written: str) -> str:
    """A column's name, however it is written."""
    return " ".join(re.sub(r"[_\-\u2010-\u2013]", " ", written.casefold()).split())


def _wrongly_named(
    file: str, header: Sequence[str], columns: Columns, reading: Reading
) -> Iterator[Problem]:
    there = set(map(key, header))
    ours = Names(columns)
    for old, new in reading.named.items():
        if key(old) not in there:
            yield Problem(
                file,
                f"has no column {old!r}, of which --column speaks; it has {_listed(header)}",
            )
        elif new and not ours.ours(new):
            yield Problem(
                file,
                f"--column {said(old, new)} names no column of {columns.of}; those are"
                f" {', '.join(columns.names)}",
            )


def _unknown(
    file: str,
    header: Sequence[str],
    ours: Sequence[str | None],
    columns: Columns,
    sample: Callable[[int], str],
) -> Iterator[Problem]:
    taken = {name for name in ours if name}
    for place, (written, name) in enumerate(zip(header, ours, strict=True)):
        if name is not None or not (held := sample(place)):
            continue
        if not key(written):
            why = f"has a column without a name, the {_th(place + 1)}, that holds {held[:40]!r};"
            yield Problem(file, f"{why} name it in the first row, or empty it")
            continue
        likely = [one for one in _likely(written, columns) if one not in taken][:2]
        meant = "".join(f"; for {one} say --column {said(written, one)}" for one in likely)
        every = "" if likely else f"; the columns are {_those_to_read(columns.names)}"
        yield Question(
            file,
            f"{written!r} is no column of {columns.of}{meant}; to leave it out say --column"
            f" {said(written, '')}{every}",
            (
                *(
                    Way(f"Is {written!r} the column {one}?", _as(written, one), one)
                    for one in likely
                ),
                Way(f"Leave the column {written!r} out?", _as(written, "")),
            ),
        )


def _those_to_read(names: Sequence[str]) -> str:
    """Names for a person: where nobody would read all of them, the first ones."""
    if len(names) <= _READ_THROUGH:
        return ", ".join(names)
    return f"{', '.join(names[:_SHOWN])} and {len(names) - _SHOWN} more"


_READ_THROUGH = 30
_SHOWN = 10


def _likely(written: str, columns: Columns) -> list[str]:
    """What an unknown name may mean: by our list of such, then what is spelled nearly so."""
    # Loaded only for a name that nobody knows: a command that reads no table starts without it.
    from rapidfuzz import fuzz, process

    perhaps = {key(other): name for other, name in columns.perhaps.items()}
    listed = [perhaps[key(written)]] if key(written) in perhaps else []
    near = process.extract(key(written), columns.names, scorer=fuzz.ratio, score_cutoff=70)
    return list(dict.fromkeys([*listed, *(name for name, _, _ in near)]))


def _twice(file: str, header: Sequence[str], ours: Sequence[str | None]) -> Iterator[Problem]:
    for name, times in Counter(filter(None, ours)).items():
        if times == 1:
            continue
        written = [cell for cell, one in zip(header, ours, strict=True) if one == name]
        apart = len(set(map(key, written))) == times
        what = f"leave one out with --column {said(written[-1], '')}" if apart else "rename one"
        yield Problem(file, f"has {times} columns for {name} ({_listed(written)}); {what}")


def _as(written: str, ours: str) -> Callable[[Reading], Reading]:
    return lambda reading: replace(reading, named={**reading.named, written: ours})


def said(written: str, ours: str) -> str:
    """Two names as --column takes them on a command line."""
    pair = f"{written}={ours}"
    return pair if re.fullmatch(r"[\w=-]+", pair) else '"' + pair.replace('"', '\\"') + '"'


def _listed(cells: Sequence[str]) -> str:
    return ", ".join(repr(cell) for cell in cells if cell) or "none"


def _th(place: int) -> str:
    ends = {1: "st", 2: "nd", 3: "rd"}
    return f"{place}{'th' if place % 100 in (11, 12, 13) else ends.get(place % 10, 'th')}"
