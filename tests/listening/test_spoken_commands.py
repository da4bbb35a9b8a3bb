"""A command is taken when it is all that was said, and nothing that belongs to the log is one."""

import pytest

from joblog.listening.commands import PHRASES, Command, command_in
from tests.bench.corpus import phrases, practice

SAID: list[tuple[str, Command]] = [
    ("pause", "pause"),
    ("okay pause please", "pause"),
    ("stop listening", "pause"),
    ("resume", "resume"),
    ("uh resume listening", "resume"),
    ("start listening", "resume"),
    ("read back the cut list", "cut list"),
    ("hey, read me the cut list please", "cut list"),
    ("What's on the cut list?", "cut list"),
    ("what's next to cut", "next cut"),
    ("what is next", "next cut"),
    ("okay, next cut", "next cut"),
    ("next one", "cut done"),
    ("that one's cut", "cut done"),
    ("that one is cut, next one", "cut done"),
    ("how many are left", "left to cut"),
    ("how many pieces left to cut", "left to cut"),
    ("How many more?", "left to cut"),
    ("which place are we at", "which place"),
    ("where are we", "which place"),
    ("um what place is this", "which place"),
    ("read the last one", "read last"),
    ("read that back", "read last"),
    ("say that again please", "read last"),
    ("take a photo note", "photo note"),
    ("photo note", "photo note"),
    ("make a photo note", "photo note"),
    ("keep both", "keep both"),
    ("okay keep them both", "keep both"),
    ("keep both of them", "keep both"),
]


@pytest.mark.parametrize(("said", "command"), SAID)
def test_a_command_by_itself_is_taken(said: str, command: Command) -> None:
    assert command_in([said]) == command


def test_every_command_is_said_in_three_ways_here() -> None:
    ways = {command: sum(one == command for _, one in SAID) for command in PHRASES}
    assert min(ways.values()) >= 3


def test_one_hearing_of_several_is_enough() -> None:
    assert command_in(["paws", "", "pause", "pause it"]) == "pause"


@pytest.mark.parametrize(
    ("heard", "command"),
    [
        # Heard so by the recognizers when other synthesizers said them.
        ("What's next, took head.", "next cut"),
        ("Red that back.", "read last"),
        ("wrap back the cut list", "cut list"),
        ("They're a zoom listening.", "resume"),
    ],
)
def test_what_changes_nothing_is_taken_by_its_sound(heard: str, command: Command) -> None:
    assert command_in([heard]) == command


@pytest.mark.parametrize("heard", ["that one's good", "keep boat", "paws", "erase the last entry"])
def test_what_changes_something_is_not_taken_by_its_sound(heard: str) -> None:
    assert command_in([heard]) is None


@pytest.mark.parametrize(
    "said",
    [
        "pause north eave fourteen and a half",
        "next one is fourteen and a half",
        "how many are left in the box",
        "we paused for lunch",
        "keep both ladders on the truck",
        "read the last one to the inspector",
        "…",
        "",
        "okay please",
    ],
)
def test_a_command_among_other_words_is_none(said: str) -> None:
    assert command_in([said]) is None


def test_nothing_that_people_log_is_taken_for_a_command() -> None:
    shown = (one for one in phrases() if not one.held_out)
    logged = [one.text for one in (*shown, *practice())]
    assert len(logged) > 4000
    # Said to whoever is there, and of no use in the log.
    assert [text for text in logged if command_in([text])] == ["say that again"]


def test_nothing_of_the_half_that_nobody_looks_at_is_taken_for_a_command() -> None:
    assert sum(command_in([one.text]) is not None for one in phrases() if one.held_out) == 0
