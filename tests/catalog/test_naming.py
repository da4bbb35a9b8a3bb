"""What a name means in a catalog: sure only where nothing else fits."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import DamerauLevenshtein

from joblog.catalog.lines import starter_catalog
from joblog.catalog.naming import MOST, item_called, meant, surely
from joblog.model import Catalog, Item

STARTER = starter_catalog().items


@pytest.mark.parametrize(
    ("name", "item"),
    [
        ("Soffit Panel", "soffit panel"),
        ("vented soffit", "vented soffit panel"),
        ("panels soffit", "soffit panel"),
        ("f-channel", "F channel"),
        ("J-channel", "J channel"),
        ("2x4", "two by four"),
        ("8d commons", "8d common nails"),
        ("deck screws", "screws"),
    ],
)
def test_a_name_is_sure_in_its_own_words_or_in_those_that_are_said_for_it(
    name: str, item: str
) -> None:
    found = item_called(name, starter_catalog())
    assert found is not None
    assert found.name == item


@pytest.mark.parametrize(
    ("name", "likeliest"),
    [
        ("perforated soffit", "soffit panel"),
        ("sofit panel", "soffit panel"),
        ("white aluminum coil", "trim coil"),
        ("fascia nailer", "backing"),
        ("window flashing", "flashing"),
    ],
)
def test_a_word_in_common_is_only_likely_the_nearest_name_first(name: str, likeliest: str) -> None:
    found = meant(name, STARTER)
    assert found.item is None
    assert found.likely[0].name == likeliest


@pytest.mark.parametrize(
    "name", ["garage door opener", "hurricane ties", "wall anchors", "white", "1/2 in", "x", ""]
)
def test_what_shares_no_telling_word_is_like_nothing(name: str) -> None:
    found = meant(name, STARTER)
    assert (found.item, found.likely) == (None, ())


def test_a_name_that_is_said_for_several_is_sure_of_none() -> None:
    found = surely("framing nails", STARTER)
    assert found.item is None
    assert len(found.likely) == MOST
    assert {item.variant_of for item in found.likely} == {"common nails"}


def test_no_name_is_sure_of_an_item_that_has_a_word_more_or_less() -> None:
    known = Catalog((Item("soffit panel", "sheet"), Item("soffit", "each")))
    assert item_called("vented soffit panel", known) is None
    assert item_called("soffit", known) == known.items[1]


WORDS = st.sampled_from(
    "soffit soffits sofit panel channel chanel wall anchor paint brush white clip fascia fasica"
    " facsia nail elbow J 1x6".split()
)
UNTELLING = ("j", "white", "panel", "1x6")
NAMES = st.lists(WORDS, min_size=1, max_size=4).map(" ".join)


@given(st.lists(st.tuples(NAMES, NAMES), max_size=10), NAMES)
def test_likely_are_those_that_share_the_most_telling_words(
    called: list[tuple[str, str]], name: str
) -> None:
    items = [Item(one, "each", (other,)) for one, other in called]

    found = meant(name, items)

    if not surely(name, items).item and not surely(name, items).likely:
        assert found.likely == _one_by_one(name, items)


def _one_by_one(name: str, items: list[Item]) -> tuple[Item, ...]:
    """The same, looked for in each name of each item."""
    telling = [word for word in _singles(name) if word not in UNTELLING]
    ranked = []
    for at, item in enumerate(items):
        shares = (_share(telling, _singles(called)) for called in (item.name, *item.spoken))
        ranked.append((max(shares, default=(False, 0, 0)), -at))
    most = max((share[:2] for share, _ in ranked), default=(False, 0))
    likely = sorted((one for one in ranked if one[0][:2] == most and most[1]), reverse=True)
    return tuple(items[-at] for _, at in likely[:MOST])


def _share(telling: list[str], called: list[str]) -> tuple[bool, int, int]:
    shared = [any(_near(word, other) for other in called) for word in telling]
    if not shared or not (shared[-1] or any(_near(called[-1], word) for word in telling)):
        return False, 0, 0
    return shared[-1], sum(shared), sum(shared) - len(called)


def _singles(name: str) -> list[str]:
    return [word.removesuffix("s") for word in name.lower().split()]


def _near(one: str, other: str) -> bool:
    """By the definition of Damerau and Levenshtein, of words of five letters or more."""
    if one == other or min(len(one), len(other)) < 5:
        return one == other
    return DamerauLevenshtein.distance(one, other) <= 1
