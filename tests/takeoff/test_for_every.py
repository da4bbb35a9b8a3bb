"""What holds of every run is said once, and a name that none of them takes is no silence."""

from __future__ import annotations

from fractions import Fraction

import pytest

from joblog.model import Amount, Run
from joblog.takeoff.for_every import for_every

EAVE = Run("boxed eave", "front", (("length", Amount(Fraction(42), "ft")),))
WALL = Run("wall", "front", (("width", Amount(Fraction(42), "ft")),))
COLD = Run("boxed eave", "back", (("fahrenheit", Amount(Fraction(30))),))


def test_a_measure_holds_of_every_run_that_takes_it_and_does_not_say_otherwise() -> None:
    eave, wall, cold = for_every((EAVE, WALL, COLD), (("fahrenheit", "35"),))

    assert dict(eave.measures)["fahrenheit"].quantity == 35
    assert wall == WALL
    assert cold == COLD


def test_it_may_be_written_with_a_blank_and_in_its_unit() -> None:
    (wall,) = for_every((WALL,), (("Stud spacing", "2 ft"),))

    assert dict(wall.measures)["stud_spacing"] == Amount(Fraction(24), "in")


def test_a_stand_in_holds_of_every_run_that_uses_the_item() -> None:
    eave, wall = for_every((EAVE, WALL), (("items", "Fascia: fascia 1x8"),))

    assert eave.instead == (("fascia", "fascia 1x8"),)
    assert wall.instead == ()


@pytest.mark.parametrize(
    ("name", "text", "why"),
    [
        ("fahrenhiet", "35", "none of the runs takes fahrenhiet; did you mean fahrenheit"),
        ("lap", "-1", "lap: -1 is below zero"),
        ("lap", "oops", "lap: "),
        ("items", "fasica: fascia 1x8", "none of the runs uses fasica; did you mean fascia"),
        ("items", "fascia", "is written like"),
    ],
)
def test_what_cannot_be_so_is_refused_in_words(name: str, text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        for_every((EAVE,), ((name, text),))
