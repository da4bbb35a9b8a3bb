"""Sayings with sizes, lengths, profiles and colours, and the items they are of.

`sizes_said.txt` holds one saying a line, and below it what each of its entries holds: kind,
quantity, unit, item, and what else is told. The job is the one that `tests.bench.corpus.site`
describes: fascia in 1x6 and 1x8, soffit vented and solid.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.dictation import read
from joblog.form import entry_to_json
from tests.bench.corpus.site import words

PLAIN = ("quantity", "unit", "item")
NAMED = ("pieces", "inches", "size", "length", "profile", "colour", "unit_cost")
ORDER = ("quantity", "pieces", "inches", "unit", "item", *NAMED[2:])


def sayings() -> Iterator[tuple[str, list[str]]]:
    saying, told = "", list[str]()
    for line in (Path(__file__).parent / "sizes_said.txt").read_text("utf-8").splitlines():
        if line.startswith(" "):
            told.append(line.strip())
            continue
        if saying:
            yield saying, told
        saying, told = line, []
    yield saying, told


@pytest.mark.parametrize(("saying", "told"), [*sayings()])
def test_a_size_is_told_of_its_item(saying: str, told: list[str]) -> None:
    found = []
    for entry in read(saying, words()).entries:
        shown = entry_to_json(entry)
        parts = [(name, shown.get(name)) for name in ORDER if shown.get(name) not in (None, "")]
        written = [str(part) if name in PLAIN else f"{name}={part}" for name, part in parts]
        found.append(", ".join([entry.kind, *written]))
    assert found == told
