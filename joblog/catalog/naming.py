"""What a name means in the catalog: the item that is called so, what it is a variant of, and those
that it may well be."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from heapq import nsmallest
from itertools import chain

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
        self._called_so: list[tuple[int, int]] = []
        """Of each name that an item is called by, the place of the item and how many words."""
        self._with: dict[str, set[int]] = {}
        """Places of those names by a word in them."""
        self._ending: dict[str, set[int]] = {}
        """The same by their last word."""
        self._shared: dict[str, frozenset[int]] = {}
        self._found: dict[tuple[str, ...], tuple[Item, ...]] = {}
        self._lengths: dict[str, dict[int, None]] = {}
        """How many words the items' own names have that begin with a word."""
        for at, item in enumerate(self.items):
            words = _words(item.name).split(" ")
            self._lengths.setdefault(words[0], {})[len(words)] = None
            for found, (keys, _, _) in zip(self._sure, _SURE, strict=True):
                for key in dict.fromkeys(keys(item)):
                    found.setdefault(key, []).append(at)
            for called in (item.name, *item.spoken):
                self._put_words(at, [_single(word) for word in _split(called)])

    def _put_words(self, at: int, words: Sequence[str]) -> None:
        name = len(self._called_so)
        self._called_so.append((at, len(words)))
        self._ending.setdefault(words[-1], set()).add(name)
        for word in words:
            self._with.setdefault(word, set()).add(name)

    @cached_property
    def _near(self) -> _Near:
        return _Near(self._with)

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
        for begin, first in enumerate(words):
            for end in (begin + many for many in self._lengths.get(first, ())):
                for at in own.get(" ".join(words[begin:end]), ()) if end <= len(words) else ():
                    size = size_of(" ".join((*words[:begin], *words[end:])))
                    if not self.items[at].variant_of and _SIZE.fullmatch(size):
                        found.setdefault(at, _variant(self.items[at], called, size))
        return found[min(found)] if found else None

    def _likely(self, name: str) -> tuple[Item, ...]:
        """Those that share the most telling words with it, a letter of which may be wrong.

        What shares its last telling word, which mostly says what it is, goes before all others; of
        what shares as much, the one with the fewest words beside them.
        """
        telling = [_single(word) for word in _split(name) if _tells(_single(word))]
        # What a word that no name has is like is no matter, but that the last one is none.
        known = [word if self._having(word) else "" for word in telling]
        asked = (*filter(None, known[:-1]), *known[-1:])
        if asked not in self._found:
            self._found[asked] = self._sharing(asked)
        return self._found[asked]

    def _sharing(self, telling: tuple[str, ...]) -> tuple[Item, ...]:
        """The items of the names that share the most of these words, the likeliest first.

        What has not the last of them must be itself what one of them says: a paint brush may be
        paint, but a wall anchor is no wall channel.
        """
        *others, last = telling or ("",)
        among = self._having(last)
        if not among:
            among = frozenset(chain(*(self._of(self._ending, word) for word in others)))
        shared = Counter(chain(*(self._having(word) & among for word in others)))
        most = max(shared.values(), default=0)
        if not most and others:
            return self._found.setdefault((last,), self._sharing((last,)))
        fewest: dict[int, int] = {}
        for name in (one for one, many in shared.items() if many == most) if most else among:
            at, words = self._called_so[name]
            fewest[at] = min(words, fewest.get(at, words))
        likeliest = nsmallest(MOST, fewest.items(), key=lambda one: (one[1], one[0]))
        return tuple(self.items[at] for at, _ in likeliest)

    def _having(self, word: str) -> frozenset[int]:
        """Places of the names that have this word, a letter of which may be wrong."""
        if word not in self._shared:
            self._shared[word] = self._of(self._with, word)
        return self._shared[word]

    def _of(self, names: Mapping[str, set[int]], word: str) -> frozenset[int]:
        return frozenset(chain(*(names.get(one, ()) for one in self._near.alike(word))))


class _Near:
    """Words, found by one that has a letter too many, too few or wrong: what is left of either
    without some letter is then left of both, or is the other."""

    def __init__(self, words: Iterable[str]) -> None:
        self._left: dict[str, list[str]] = {}
        for word in words:
            for left in _less_a_letter(word):
                self._left.setdefault(left, []).append(word)

    def alike(self, word: str) -> Iterable[str]:
        near = dict.fromkeys(chain(*(self._left.get(left, ()) for left in _less_a_letter(word))))
        return [other for other in near if _alike(word, other)]


def _less_a_letter(word: str) -> Iterable[str]:
    """The word itself and, where it is long enough for one wrong letter, without each of them."""
    if len(word) < LONG:
        return (word,)
    return {word, *(word[:at] + word[at + 1 :] for at in range(len(word)))}


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


def _alike(one: str, other: str) -> bool:
    """The same word; a long one may have one letter too many, too few or wrong."""
    if one == other:
        return True
    long = min(len(one), len(other)) >= LONG
    return long and DamerauLevenshtein.distance(one, other, score_cutoff=1) <= 1


LONG = 5
"""Letters of a word of which one may be wrong."""


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


@lru_cache(maxsize=65_536)
def _words(name: str) -> str:
    return " ".join(name.lower().split())


@lru_cache(maxsize=65_536)
def _bag(name: str) -> tuple[str, ...]:
    """The words of a name in any order, no plural."""
    return tuple(sorted(map(_single, _split(name))))


@lru_cache(maxsize=65_536)
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
