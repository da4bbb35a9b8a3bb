"""What a name means in the catalog: the item that is called so, what it is a variant of, and those
that it may well be."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rapidfuzz.distance import DamerauLevenshtein

from joblog.catalog.amounts import size_of
from joblog.model import Catalog, Item


@dataclass(frozen=True, slots=True)
class Meant:
    """What a name means among the items of a catalog."""

    item: Item | None = None
    """The one that it surely is."""
    how: str = ""
    """How it is known to be that one, where it is not its very name: "which is also called so"."""
    likely: tuple[Item, ...] = ()
    """Those that it may be where none is sure, the likeliest first."""


MOST = 8
"""Items that it may be; with one more for none of them, a digit each settles it."""


class Named:
    """Items by their names; for many names among the same items."""

    def __init__(self, items: Sequence[Item]) -> None:
        self.items = tuple(items)
        self._called = {item.name.lower(): item for item in reversed(self.items)}
        self._sure: tuple[dict[object, list[int]], ...] = tuple({} for _ in _SURE)
        """Places of items by what makes sure of them, for each way to be sure."""
        self._of: dict[str, dict[int, None]] = {}
        """Places of items by the words of their names."""
        self._found: dict[tuple[str, ...], tuple[Item, ...]] = {}
        self._longest = max((len(item.name.split()) for item in self.items), default=0)
        for at, item in enumerate(self.items):
            for found, (keys, _, _) in zip(self._sure, _SURE, strict=True):
                for key in dict.fromkeys(keys(item)):
                    found.setdefault(key, []).append(at)
            for called in (item.name, *item.spoken):
                for word in map(_single, _split(called)):
                    self._of.setdefault(word, {})[at] = None

    def called(self, name: str) -> Item | None:
        """The first item of that very name, capitals or not."""
        return self._called.get(name.lower())

    def meant(self, name: str) -> Meant:
        """What a name surely means, as `surely` has it; else what it may well mean, because it
        shares words with it."""
        found = self.surely(name)
        return found if found.item or found.likely else Meant(likely=self._likely(name))

    def surely(self, name: str) -> Meant:
        """What a name means: an item's own name, then a name that is said for one item alone, then
        the very words of either in another order or number, then a name said for several with the
        size of one.

        Nothing is taken for sure that fits two items, which then are likely, nor what adds or lacks
        a word.
        """
        for known, (_, key, how) in zip(self._sure, _SURE, strict=True):
            found = known.get(key(name), ())
            if len(found) == 1:
                return Meant(self.items[found[0]], how)
            if found:
                return Meant(likely=tuple(self.items[at] for at in found[:MOST]))
        return Meant()

    def variant_of(self, name: str) -> Item | None:
        """A new variant of one of the items, by the size beside its name: "fascia 1x8" of
        "fascia"."""
        called, own = _words(name), self._sure[0]
        if called in own:
            return None
        words = called.split(" ")
        found: dict[int, Item] = {}
        for begin in range(len(words)):
            for end in range(begin + 1, min(begin + self._longest, len(words)) + 1):
                for at in own.get(" ".join(words[begin:end]), ()):
                    size = size_of(" ".join((*words[:begin], *words[end:])))
                    if not self.items[at].variant_of and _SIZE.fullmatch(size):
                        found.setdefault(at, _variant(self.items[at], called, size))
        return found[min(found)] if found else None

    def _likely(self, name: str) -> tuple[Item, ...]:
        """Those that share the most telling words with it, a letter of which may be wrong.

        What shares its last telling word, which mostly says what it is, goes before all others; of
        what shares as much, the one with the fewest words beside them.
        """
        telling = tuple(_single(word) for word in _split(name) if _tells(_single(word)))
        if telling not in self._found:
            self._found[telling] = self._sharing(telling)
        return self._found[telling]

    def _sharing(self, telling: Sequence[str]) -> tuple[Item, ...]:
        sharing = {at for word in telling for other in self._alike(word) for at in self._of[other]}
        ranked = []
        for at in sorted(sharing):
            item = self.items[at]
            best = max(_shared(telling, called) for called in (item.name, *item.spoken))
            if best[1]:
                ranked.append((best, -at, item))
        most = max((best[:2] for best, _, _ in ranked), default=(False, 0))
        ranked.sort(key=lambda one: one[:2], reverse=True)
        return tuple(item for best, _, item in ranked if best[:2] == most)[:MOST]

    def _alike(self, word: str) -> Sequence[str]:
        return [other for other in self._of if _alike(word, other)]


def _variant(item: Item, called: str, size: str) -> Item:
    return replace(item, name=called, spoken=(), variant_of=item.name, size=size)


def meant(name: str, items: Sequence[Item]) -> Meant:
    """What a name means among the items, as `Named` has it; so do the two below."""
    return Named(items).meant(name)


def surely(name: str, items: Sequence[Item]) -> Meant:
    return Named(items).surely(name)


def variant_of(name: str, items: Sequence[Item]) -> Item | None:
    return Named(items).variant_of(name)


def item_called(name: str, catalog: Catalog) -> Item | None:
    """The item that surely is called so; None where there is none, or more than one."""
    return surely(name, catalog.items).item


def surely_called(*among: Sequence[Item]) -> Callable[[str], str | None]:
    """Knows the name of the item that is surely meant; what is sure of the first ones counts."""

    def known(name: str) -> str | None:
        found = next(filter(None, (surely(name, items).item for items in among)), None)
        return found.name if found else None

    return known


def families_of(catalog: Catalog, others: Iterable[str] = ()) -> Mapping[str, str]:
    """What each item is a variant of, by the name of the item: they learn together and apart.

    The item that the others are variants of is of its own family. Of `others`, names that the
    catalog does not have, those that are one of its items in a size of their own.
    """
    families = {item.name: item.variant_of for item in catalog.items if item.variant_of}
    named = Named(catalog.items)
    for name in others:
        if name not in families and (variant := named.variant_of(name)) is not None:
            families[name] = variant.variant_of
    heads = set(families.values())
    return families | {item.name: item.name for item in catalog.items if item.name in heads}


_SIZE = re.compile(r"[\d/]+x[\d/]+|(\d+ )?\d+(/\d+)? in|\d+d|#\d+|\d+ ga")


# --- what is sure -----------------------------------------------------------------------------


def _own_name(item: Item) -> Iterable[object]:
    return (_words(item.name),)


def _said_names(item: Item) -> Iterable[object]:
    return map(_words, item.spoken)


def _bags(item: Item) -> Iterable[object]:
    return map(_bag, (item.name, *item.spoken))


def _bags_with_size(item: Item) -> Iterable[object]:
    """A name that is said for several sizes, with the size of this one: "8d commons"."""
    beside = " ".join(filter(None, (item.size, item.profile)))
    called = (f"{called} {beside}" for called in (item.variant_of or item.name, *item.spoken))
    return map(_bag, called) if beside else ()


# --- what is likely ---------------------------------------------------------------------------


def _shared(telling: Sequence[str], called: str) -> tuple[bool, int, int]:
    """Whether the other name has the last of the words, how many of them, and how few besides.

    Where it has not, what it is itself must be among them: a paint brush may be paint, but a wall
    anchor is no wall channel.
    """
    other = [_single(word) for word in _split(called)]
    shared = [any(_alike(word, one) for one in other) for word in telling]
    if not shared[-1] and not any(_alike(other[-1], word) for word in telling):
        return False, 0, 0
    return shared[-1], sum(shared), sum(shared) - len(other)


def _alike(one: str, other: str) -> bool:
    """The same word; one of five letters or more may have one letter too many, too few or wrong."""
    if one == other:
        return True
    long = min(len(one), len(other)) >= 5
    return long and DamerauLevenshtein.distance(one, other, score_cutoff=1) <= 1


def _tells(word: str) -> bool:
    """Whether a word tells items apart by what they are; a size or a colour of many does not."""
    return word.isalpha() and len(word) > 2 and word not in _COMMON


_COMMON = frozenset(
    "white black brown gray grey green red blue clear vented solid metal aluminum vinyl wood pvc "
    "steel copper galvanized treated primed painted plain trim stock board panel stick sheet piece "
    "roll box common finish and the for with".split()
)
"""Words of colour, stuff, shape and finish: "white aluminum" is no more a coil than a gutter."""


# --- words ------------------------------------------------------------------------------------


@lru_cache(maxsize=8192)
def _words(name: str) -> str:
    return " ".join(name.lower().split())


@lru_cache(maxsize=8192)
def _bag(name: str) -> tuple[str, ...]:
    """The words of a name in any order, no plural."""
    return tuple(sorted(map(_single, _split(name))))


@lru_cache(maxsize=8192)
def _split(name: str) -> tuple[str, ...]:
    """The words of a name: a size is one, and what a hyphen joins are two."""
    sized = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", size_of(name))
    return tuple(re.findall(r"[^\s,;()]+", sized)) or (name,)


def _single(word: str) -> str:
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


_SURE: tuple[tuple[Callable[[Item], Iterable[object]], Callable[[str], object], str], ...] = (
    (_own_name, _words, ""),
    (_said_names, _words, "which is also called so"),
    (_bags, _bag, "in other words"),
    (_bags_with_size, _bag, "by its size"),
)
"""The ways to be sure, the surest first: what an item may be called, how a name is compared with
it, and how it is then known."""
