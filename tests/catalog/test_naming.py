"""What a name means in a catalog: sure only where nothing else fits."""

from __future__ import annotations

import pytest

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
