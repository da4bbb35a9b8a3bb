"""What a spoken name means: one line of the catalog, or several that a size tells apart.

"Fascia" may be two lines, 1x6 and 1x8; what was said beside the name picks one of them. What the
plan holds comes before what only the catalog holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from fractions import Fraction
from functools import lru_cache

from joblog.model import Item, Vocabulary


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of an item beside its name; `length` in inches, of one piece as it comes."""

    size: str | None = None
    length: Fraction | None = None
    profile: str | None = None
    colour: str | None = None
    why: str | None = None
    """A doubt about which line of the catalog is meant."""
    lines: Lines | None = None
    """What the name by itself may mean."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines that a spoken name may mean, the plan's `planned` lines first."""

    name: str
    items: tuple[Item, ...]
    planned: int = 0
    others: tuple[Item, ...] = ()
    """Variants whose name ends in this one: "8d common nails", of "nails"."""
    telling: bool = False
    """The name itself says the size: "two by four", "vented panel"."""


def lines_by_name(vocabulary: Vocabulary) -> dict[str, Lines]:
    """Every name that a person may say, in lower case, with what it may mean."""
    families: dict[str, list[Item]] = {}
    claims: dict[str, list[Item]] = {}
    for item in vocabulary.items:
        families.setdefault(_family(item), []).append(item)
        for name in dict.fromkeys((item.name, *item.spoken, item.variant_of)):
            if name:
                claims.setdefault(name.lower(), []).append(item)
    planned = {item.name for item in vocabulary.items[: vocabulary.planned]}
    ends = _ends(vocabulary.items[: vocabulary.planned])
    others = _ends(item for item in vocabulary.items if item.variant_of)
    return {
        name: _lines_of(name, owners, families, planned, ends, tuple(others.get(name, ())))
        for name, owners in claims.items()
    }


def plainly(lines: Lines) -> tuple[Item, Said]:
    """What is meant where nothing but the name is said; a name may say a size itself."""
    item, why = meant(lines, Said())
    told = {name: getattr(item, name) or None for name in _TOLD} if lines.telling else {}
    return item, Said(why=why, lines=lines, **told)


def meant(lines: Lines, said: Said) -> tuple[Item, str | None]:
    """The line that fits what was said, or what they are all variants of and why it is unsure."""
    if said.profile and not any(item.profile for item in lines.items if _fit(item, said)):
        kept = [word for word in said.profile.split() if word not in MATERIALS]
        said = replace(said, profile=" ".join(kept) or None)
    sizes = {item.size for item in lines.items}
    if said.size and said.size not in sizes:
        other = next((item for item in lines.others if item.size == said.size), None)
        if other is not None:
            return other, None
    if len(lines.items) == 1:
        item = lines.items[0]
        return item, _contradicted(lines, said) if _fit(item, said) is None else None
    for level in (lines.items[: lines.planned], lines.items):
        fitting = [(fit, item) for item in level if (fit := _fit(item, said)) is not None]
        if not fitting:
            continue
        most = max(fit for fit, _ in fitting)
        best = [item for fit, item in fitting if fit == most]
        if most == 0 and any(_fit(item, said) is None for item in lines.items):
            break
        best = _of_that_length(best, said)
        plain = next((item for item in best if item.name == lines.name), None)
        if len(best) == 1 or plain is not None:
            return plain or best[0], None
        apart = " or ".join(_apart(item, lines.name) for item in best)
        return _base(lines), f"which {lines.name}: {apart}?"
    return _base(lines), _contradicted(lines, said)


@lru_cache(maxsize=8)
def _known(vocabulary: Vocabulary) -> dict[str, Item]:
    """By exact name every line, and what several lines are variants of."""
    known = {_family(item): item for item in reversed(vocabulary.items)}
    known = {name: _without_attributes(item, name) for name, item in known.items()}
    known.update({item.name: item for item in reversed(vocabulary.items)})
    return known


def item_called(vocabulary: Vocabulary, name: str | None) -> Item | None:
    """The line of exactly that name, or what several lines are variants of."""
    return None if name is None else _known(vocabulary).get(name)


@lru_cache(maxsize=8)
def lines_of_profile(vocabulary: Vocabulary) -> dict[str, Lines]:
    """By profile the variants that have it."""
    names = lines_by_name(vocabulary)
    found: dict[str, list[Item]] = {}
    for item in vocabulary.items:
        if item.profile and item.variant_of:
            found.setdefault(item.profile, []).append(item)
    return {
        profile: names[items[0].variant_of.lower()]
        for profile, items in found.items()
        if len({item.variant_of for item in items}) == 1
    }


def variant(vocabulary: Vocabulary, name: str, said: Said) -> tuple[Item, str | None] | None:
    """The line like the one of that name that fits what was said instead, and why it is unsure.

    None where no line is called so.
    """
    known = item_called(vocabulary, name)
    if known is None:
        return None
    family = _family(known)
    theirs = tuple(item for item in vocabulary.items if _family(item) == family)
    planned = {item.name for item in vocabulary.items[: vocabulary.planned]}
    return meant(Lines(family, theirs, sum(item.name in planned for item in theirs)), said)


def not_in_catalog(name: str, unit: str | None) -> str:
    """The doubt about an item that no line of plan or catalog is called by."""
    counted = unit or "each"
    return f'{name!r} is not in the catalog: joblog catalog set "{name}" unit={counted}'


def _family(item: Item) -> str:
    return item.variant_of or item.name


def _lines_of(
    name: str,
    owners: Sequence[Item],
    families: dict[str, list[Item]],
    planned: set[str],
    ends: dict[str, list[Item]],
    others: tuple[Item, ...],
) -> Lines:
    if owners[0].name not in planned and name in ends:
        # "Nails" are the planned trim nails, not siding nails that only the catalog knows.
        owners = ends[name]
        if len({_family(item) for item in owners}) > 1:
            return Lines(name, tuple(owners), len(owners), others)
    family = _family(owners[0])
    theirs = [item for item in owners if _family(item) == family]
    whole = families[family]
    exact = next((item for item in theirs if item.name.lower() == name), None)
    if exact is not None and exact.variant_of:
        theirs = [exact]
    elif family.lower() == name or len(theirs) > 1 or not theirs[0].variant_of:
        theirs = whole
    telling = len(theirs) == 1 and theirs[0].variant_of.lower() != name
    count = sum(item.name in planned for item in theirs)
    return Lines(family, tuple(theirs), count, others, telling)


def _ends(items: Iterable[Item]) -> dict[str, list[Item]]:
    """The last words of planned names: "nails" of "trim nails"."""
    found: dict[str, list[Item]] = {}
    for item in items:
        names = (item.variant_of, item.name, *item.spoken)
        ends = {tail for name in names for tail in _tails(name.lower())}
        for tail in sorted(ends):
            found.setdefault(tail, []).append(item)
    return found


def _tails(name: str) -> Iterable[str]:
    words = name.split()
    return (" ".join(words[at:]) for at in range(1, len(words)))


MATERIALS = frozenset("aluminum vinyl metal steel plastic pvc composite wooden fiberglass".split())
"""What tells no lines apart where no line says it."""
_TOLD = ("size", "profile", "colour")
"""What tells variants apart."""


def _fit(item: Item, said: Said) -> int | None:
    """How many attributes of the line were said; None where one contradicts what was said.

    "Center vented" is a kind of vented.
    """
    fit = 0
    for name in _TOLD:
        own, told = getattr(item, name).lower(), (getattr(said, name) or "").lower()
        if own and told:
            if own != told and not told.endswith(f" {own}"):
                return None
            fit += 1
    return fit


def _of_that_length(items: list[Item], said: Said) -> list[Item]:
    """Those of them that come in the length that was said, or all."""
    if said.length is None or len(items) < 2:
        return items
    long = [item for item in items if said.length in (item.stock_length, *item.other_lengths)]
    return long or items


def _contradicted(lines: Lines, said: Said) -> str | None:
    told = [getattr(said, name) for name in _TOLD if getattr(said, name)]
    what = f"{lines.name}, {', '.join(told)}"
    return f"{what}: no such line in the catalog, a new one?"


def _apart(item: Item, base: str) -> str:
    """What tells a variant from the others."""
    told = " ".join(filter(None, (getattr(item, name) for name in _TOLD)))
    return told if told and item.variant_of == base else item.name


def _base(lines: Lines) -> Item:
    """What the lines are variants of; a line that is called so, where there is one."""
    for item in lines.items:
        if item.name == lines.name:
            return item
    return _without_attributes(lines.items[0], lines.name)


def _without_attributes(item: Item, name: str) -> Item:
    if item.name == name:
        return item
    return replace(item, name=name, variant_of="", size="", profile="", colour="")


def together(one: Said, other: Said) -> Said:
    """Both; where both say one attribute the first holds, two sizes or profiles stand side by
    side."""
    both = {
        field.name: getattr(one, field.name) or getattr(other, field.name) for field in fields(Said)
    }
    for name in ("size", "profile"):
        first, second = getattr(one, name), getattr(other, name)
        if first and second and first != second:
            both[name] = f"{first} {second}"
    return Said(**both)
