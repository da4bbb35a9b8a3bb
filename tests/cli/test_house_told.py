"""joblog house --measured: the house of a job from the walk that was told around it."""

from __future__ import annotations

from pathlib import Path

from running import Say

WALK = (
    "walls are nine feet high, eaves overhang twelve, gables overhang ten",
    "front eave forty two feet, outside corner",
    "left side twenty eight, gable, six twelve pitch, outside corner",
    "back eave forty two feet, two windows three by five, outside corner",
    "right side twenty eight, gable, six twelve pitch",
)


def told(say: Say, *lines: str) -> tuple[int, str, str]:
    """What the command says after these lines were written down."""
    assert say("new", "Mill house", "--zone", "America/Chicago", "--book", "book")[0] == 0
    for line in lines:
        assert say("write", line, "--book", "book")[0] == 0
    return say("house", "--measured", "--book", "book")


def test_the_house_of_a_told_walk_is_kept(say: Say) -> None:
    status, out, err = told(say, *WALK, "that's all the way around")

    assert status == 0
    assert "gable 6/12" in out
    assert "2 windows 3' x 5'" in out
    assert "Mill house: the house is kept; joblog undo takes it back" in err
    assert say("house", "--book", "book")[1] == out
    assert "the house is as it was" in say("house", "--measured", "--book", "book")[2]


def test_where_nothing_was_told_nothing_is_drawn(say: Say) -> None:
    status, out, err = told(say)

    assert (status, out) == (1, "")
    assert "nobody has told a walk around it" in err


def test_a_walk_with_a_hole_is_told_and_not_kept(say: Say) -> None:
    status, _, err = told(say, *WALK[:2], *WALK[3:], "that's all the way around")

    assert status == 1
    _, wrong = err.split("The house was not kept; mend these first:\n")
    assert wrong.startswith("entry ")
    assert "which corner is behind right side? Nobody said it" in wrong
    assert say("house", "--book", "book")[0] == 1


def test_what_a_table_says_of_every_run_stays(say: Say) -> None:
    told(say, *WALK, "that's all the way around")
    table = say("house", "--csv", "--book", "book")[1]
    Path("house.csv").write_text(f"{table}every,frieze=1\n", "utf-8")
    assert say("house", "house.csv", "--book", "book")[0] == 0

    assert say("house", "--measured", "--book", "book")[0] == 0

    assert "every,frieze=1," in say("house", "--csv", "--book", "book")[1]


def test_a_table_and_a_walk_are_not_taken_at_once(say: Say) -> None:
    told(say)
    Path("house.csv").write_text("what\n", "utf-8")

    status, _, err = say("house", "house.csv", "--measured", "--book", "book")

    assert status == 2
    assert "name a table, or say --measured, not both" in err
