"""Which items learn from each other."""

import pytest

from joblog.catalog.lines import starter
from joblog.rates import family_of


@pytest.mark.parametrize("item", [item.name for item in starter()])
def test_every_item_of_the_catalog_has_a_family(item: str) -> None:
    assert family_of(item) != "other"


@pytest.mark.parametrize(
    ("item", "family"),
    [
        ("White Soffit Panel", "panels"),
        ("8d common nails", "fasteners"),
        ("half inch plywood", "sheets"),
        ("fascia 1x6", "trim"),
        ("panel soffit", "other"),
        ("1x6", "other"),
        ("", "other"),
    ],
)
def test_the_last_words_of_a_name_tell_its_family(item: str, family: str) -> None:
    assert family_of(item) == family
