"""The take-offs by hand of five invented houses: their own sums."""

import csv
from math import ceil, sqrt
from pathlib import Path

import pytest

HOUSES = Path(__file__).parent / "houses"
BY_HAND = [
    pytest.param(line, id=f"{path.stem}: {line['place']}, {line['item']}")
    for path in sorted(HOUSES.glob("*_by_hand.csv"))
    for line in csv.DictReader(path.read_text("utf-8").splitlines())
]
WRITTEN_TO = 0.00006
"""Feet: amounts stand with four decimals."""


@pytest.mark.parametrize("line", BY_HAND)
def test_what_was_put_into_the_calculator_comes_to_what_was_written_down(
    line: dict[str, str],
) -> None:
    came_to = eval(line["arithmetic"], {"__builtins__": {}}, {"ceil": ceil, "root": sqrt})
    assert float(line["amount"]) == pytest.approx(came_to, abs=WRITTEN_TO)


@pytest.mark.parametrize("line", [p for p in BY_HAND if ";" in p.values[0]["pieces"]])  # type: ignore[index,operator]
def test_pieces_add_up_to_their_amount(line: dict[str, str]) -> None:
    inches = sum(float(piece) for piece in line["pieces"].split(";"))
    assert inches / 12 == pytest.approx(float(line["amount"]), abs=WRITTEN_TO)
