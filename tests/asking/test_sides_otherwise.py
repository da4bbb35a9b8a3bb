"""What was said as one by the other, and may be of inches or of feet."""

from fractions import Fraction

import pytest

from joblog.model import Entry
from joblog.service.questions import questions, with_answers
from tests.house.told import written

FRONT = ("front eave forty two feet", "outside corner")


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("vent eight by eight", {"width": Fraction(96), "height": Fraction(96)}),
        (
            "porch roof interrupts it from ten to eighteen",
            {"at": Fraction(10), "length": Fraction(8)},
        ),
    ],
)
def test_the_other_unit_is_offered_for_both_sides(said: str, told: dict[str, Fraction]) -> None:
    with written(*FRONT, said) as (desk, _):
        [question] = questions(desk)
        settled = [one.settles[0].becomes for one in with_answers(desk, question).answers]
    assert told in [{name: getattr(entry, name) for name in told} for entry in settled]


def test_an_area_in_feet_is_that_of_its_sides() -> None:
    with written("deck seven by ten") as (desk, _):
        [question] = questions(desk)
        settled = [one.settles[0].becomes for one in with_answers(desk, question).answers]
    assert (
        Entry(
            "measure",
            place="deck",
            square_inches=Fraction(84 * 120),
            width=Fraction(84),
            height=Fraction(120),
            as_said="7 feet by 10 feet",
        )
        in settled
    )
