"""What is likely to be said on a job: phrases made from its vocabulary, for recognizers to expect.

Nothing is refused because it is not here; what is here is merely expected.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from importlib.resources import files

from joblog.model import Item, Vocabulary
from joblog.speech.forms import ONES, TEMPLATES, TENS, UNITS, WORDS

COUNT = 20_000
"""Phrases drawn: every fraction comes after every number some time, and it takes half a second."""

COMMANDED = 6
"""Times that each command is among the phrases: two hundred of them are then one in twenty-five."""


@lru_cache(maxsize=8)
def phrases(vocabulary: Vocabulary) -> tuple[str, ...]:
    """Phrases that may be said on this job, in lower case and spelled out, the same every time."""
    draw = random.Random(7)
    slots = _slots(vocabulary, draw)
    forms = [form for _, form in TEMPLATES]
    weights = [weight for weight, _ in TEMPLATES]
    chosen = draw.choices(forms, weights, k=COUNT)
    chosen += draw.choices(sayings(), k=COUNT // 2)
    said = [" ".join(_expanded(form, slots, draw).split()) for form in chosen]
    return (*said, *vocabulary.commands * COMMANDED)


@cache
def sayings() -> tuple[str, ...]:
    """Whole sentences of people at work, with slots for what changes, as in `TEMPLATES`."""
    return tuple(files("joblog.speech").joinpath("sayings.txt").read_text("utf-8").splitlines())


def spelled(number: int) -> str:
    """A whole number from 0 to 9999 in words, without "and"."""
    if number < 20:
        return ONES[number]
    if number < 100:
        return f"{TENS[number // 10 - 2]} {ONES[number % 10] if number % 10 else ''}".strip()
    size, name = (100, "hundred") if number < 1000 else (1000, "thousand")
    rest = spelled(number % size) if number % size else ""
    return f"{spelled(number // size)} {name} {rest}".strip()


def spoken_unit(unit: str) -> tuple[str, str]:
    """One and many of a unit as a person says them; both empty for "each"."""
    return UNITS.get(unit, (unit, unit + "s"))


def expected_words() -> frozenset[str]:
    """Every word that a phrase can have on any job."""
    forms = " ".join([*(form for _, form in TEMPLATES), *sayings(), *WORDS.values()])
    units = " ".join(name for pair in UNITS.values() for name in pair)
    plain = re.sub(r"\{\w+\}|[(|)]", " ", forms)
    return frozenset([*plain.split(), *units.split(), *ONES, *TENS, "hundred", "thousand"])


_CHOICE = re.compile(r"\(([^()]*)\)")
_SLOT = re.compile(r"\{(\w+)\}")


def _expanded(form: str, slots: Mapping[str, Callable[[], str]], draw: random.Random) -> str:
    while found := _CHOICE.search(form):
        form = form[: found.start()] + draw.choice(found[1].split("|")) + form[found.end() :]
    return _SLOT.sub(lambda slot: _expanded(slots[slot[1]](), slots, draw), form)


def _slots(vocabulary: Vocabulary, draw: random.Random) -> dict[str, Callable[[], str]]:
    words = {name: tuple(choices.split("|")) for name, choices in WORDS.items()}
    slots: dict[str, Callable[[], str]] = {
        name: lambda choices=choices: draw.choice(choices)  # type: ignore[misc]
        for name, choices in words.items()
    }
    items = vocabulary.items or (Item("piece", "each"),)
    tasks = [name for task in vocabulary.tasks for name in (task.name, *task.spoken)]

    def one_of(*forms: str) -> Callable[[], str]:
        return lambda: draw.choice(forms)

    def number() -> str:
        top = draw.choice((12, 20, 20, 60, 100, 100, 100, 400))
        return spelled(draw.randrange(1, top))

    def item() -> str:
        one = draw.choice(items)
        return draw.choice((one.name, one.name, *one.spoken))

    def amount() -> str:
        one = draw.choice(items)
        name = draw.choice((one.name, one.name, *one.spoken))
        unit, units = spoken_unit(draw.choice((one.unit, one.unit, *(u for u, _ in one.also))))
        if not unit:
            return f"{number()} {name}"
        return draw.choice(
            (
                f"{number()} {units} of {name}",
                f"{number()} {units} of {name}",
                f"{number()} {units} {name}",
                f"{number()} {name}",
                f"{number()} {units}",
                f"one {unit} of {name}",
                f"{draw.choice(('half a', 'a', 'a half', 'another'))} {unit} of {name}",
                f"{draw.choice(('a', 'one'))} {unit} and a half of {name}",
                f"{number()} and a half {units} of {name}",
            )
        )

    def unitof() -> str:
        unit, units = spoken_unit(draw.choice(items).unit)
        return draw.choice((f"{units} of ", "")) if unit else ""

    return slots | {
        "number": number,
        "small": lambda: spelled(draw.randrange(1, 13)),
        "item": item,
        "amount": amount,
        "unitof": unitof,
        "unit": lambda: spoken_unit(draw.choice(items).unit)[0] or "piece",
        "units": lambda: spoken_unit(draw.choice(items).unit)[1] or "pieces",
        "digits": lambda: " ".join(draw.choice(ONES[:10]) for _ in range(draw.randrange(2, 8))),
        "then": one_of("tomorrow", "by {small}", "the {place}", "{amount}", "by {day}"),
        "place": one_of(*vocabulary.places, *["{side} {part}"] * max(3, len(vocabulary.places))),
        "work": one_of(*tasks, "{item}", "{item}", "{place}"),
        "measure": one_of(
            *["{number} and {fraction}{touch}"] * 6,
            *["{number} {fraction}{touch}"] * 2,
            *["{number}{touch}"] * 2,
            "{number} and {fraction} inches",
            "{number} (feet|foot) {small}",
            "{number} (feet|foot) {small} and {fraction}{touch}",
            "{number} (feet|foot) (|{small} inches)",
            "{number} feet {small} and {fraction} inches",
            "{number} and a half feet",
            "{fraction} (inch|of an inch)",
        ),
        "time": one_of(
            "{small} {minutes}",
            "{small} {minutes}",
            "{small}",
            "{small} o'clock",
            "noon",
            "(quarter|half|ten|twenty|a quarter) (past|to|after) {small}",
            "{small} (|{minutes}) (this morning|this afternoon|in the morning)",
        ),
        "span": one_of(
            "{minutes} minutes", "{minutes} minutes", "half an hour", "an hour", "{hours}"
        ),
        "hours": one_of(
            "{small} hours",
            "{small} and a half hours",
            "one hour",
            "an hour",
            "an hour and a half",
            "half an hour",
            "{minutes} minutes",
        ),
        "crew": one_of("{small} men", "one helper", "{small} helpers", "a helper", "{small} guys"),
        "thing": one_of(
            "{thing_word}", "{thing_word}", "{item}", "{place}", "{thing_word} {where}"
        ),
        "where": one_of(
            "{where_word} the {place}", "on the {side} side", "{where_word} the {thing_word}"
        ),
    }
