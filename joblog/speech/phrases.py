"""What is likely to be said on a job: phrases made from its vocabulary, for recognizers to expect.

Nothing is refused because it is not here; what is here is merely expected.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping
from functools import lru_cache

from joblog.model import Item, Vocabulary

COUNT = 6000
"""Phrases drawn. Numbers up to a hundred and every fraction come up many times in as many."""

TEMPLATES: tuple[tuple[int, str], ...] = (
    (14, "{place} {measure}"),
    (3, "{place} (is|measures|at|needs|goes) {measure}"),
    (6, "{measure}"),
    (2, "{measure} times {number}"),
    (3, "{place} {measure} times {number}"),
    (3, "{measure} by {measure}"),
    (2, "(window|door|opening) {small} {measure} by {measure}"),
    (5, "(cut|mark|rip|make) (|one|{number}|it|them) (|at) {measure}"),
    (3, "{item} (|piece|pieces|cut) {measure}"),
    (2, "{number} (pieces|lengths|sticks) (of|at) {measure}"),
    (2, "(|{place}) (length|width|height|depth|run|gap|reveal|offset) {measure}"),
    (2, "{item} (depth|length|run|width) {measure}"),
    (2, "(|{place}) (pitch|slope|rise) {small} (|in|over|on) twelve"),
    (2, "measure (|the) {place} (|at) {measure}"),
    (9, "{use} {amount}(|| on the {place}| for the {place})"),
    (4, "{use} {amount} {number} (scrapped|{state})"),
    (3, "{use} {amount} and {amount}"),
    (3, "{amount} (used|up) (|on the {place})"),
    (2, "{amount} on the {place} and {number} on the {side}"),
    (5, "(scrapped|spoiled|lost|broke|ruined|threw out) {amount} (|{state}|{why})"),
    (4, "{amount} (scrapped|spoiled|{state}) (|{why}|on the {place})"),
    (7, "(delivered|got|received|picked up|unloaded|bought) {amount} (|at {number} dollars)"),
    (2, "{amount} (delivered|came|here)"),
    (4, "(returned|sent back|took back) {amount} (|to the {shop})"),
    (2, "{amount} returned (|to the {shop})"),
    (4, "{amount} (left|left over|on hand|remaining)"),
    (2, "(counted|still have|have) {amount} (|left|on hand)"),
    (4, "(need|need|order|out of|short|missing) {amount} (|by {day}|tomorrow)"),
    (4, "need {number} more {unitof}{item} (|by {day}|for the {place})"),
    (6, "(started|start|stopped|stop|arrived|quit|done|back|knocked off) at {time}"),
    (2, "(started|stopped|done|quit) {time}"),
    (3, "(started|stopped) at {time} with {crew}"),
    (3, "{person} (left|came|here|started|stopped) at {time}"),
    (1, "{crew} (today|on the crew|on the crew today|on site)"),
    (5, "(lunch|break|rain delay|travel|waited|clean up|set up) {span}"),
    (1, "(lunch|break) at {time}"),
    (5, "{hours} (on|on the) {work} (|with {crew})"),
    (3, "{work} {hours} (|with {crew})"),
    (2, "{crew} {hours} on (|the) {work}"),
    (4, "(photo|picture|took a photo|take a picture|photos) of (|the) {thing}(|| before siding)"),
    (1, "(photo|picture)"),
    (4, "(covered|covering|closing up|covered up) (|the) {thing}(|| {where})(|| now)"),
    (3, "(note|note that|reminder|remember) (|the) {thing} is {state}"),
    (2, "(note|reminder) (call|ask|check|bring|fix|move) the ({who}|{thing}|{tool})"),
    (3, "(call|ask) the {who} (|about (|the) {thing})"),
    (3, "(problem|problem|issue) (|the) {thing} is {state} (|on the {place})"),
    (2, "(|the) {thing} is {state} (|{where})"),
    (2, "the {who} (called|is here|was here|wants the {thing} moved)"),
    (1, "(moved|move) the {tool} to the {place}"),
    (2, "{number} degrees (|and windy|and cold|and rain|and sunny)"),
    (1, "(cold|hot|windy|rain|sunny|snow) {number} degrees"),
    (2, "(scratch|strike|delete) that"),
    (3, "(scratch that|no|no wait|wait|correction|sorry) make it ({measure}|{number}|{amount})"),
    (2, "(change that to|change the last one to|no that is) ({measure}|{number}|{amount})"),
    (2, "same (again|as the last one|again on the {place}|on the {place})"),
    (2, "{number} (linear feet|square feet|feet|squares) of {item} (|on the {place}|done)"),
    (2, "(nailed off|installed|hung|finished|wrapped|cut) the {item} on the {place}"),
    (1, "(finished|started on|done with|working on) the {place}"),
    (1, "{number} foot {tool} (on|moved to|needed on) the {place}"),
)
"""How often each is expected, and its form: one of `(a|b)`, and slots in braces."""

WORDS: Mapping[str, str] = {
    "side": "north|south|east|west|front|back|left|right|garage|street",
    "part": "wall|side|eave|gable|overhang|rake|corner|porch|window|door|header|dormer|bay",
    "use": "used|used|used|put up|hung|installed|cut|we used|wrapped|nailed up",
    "state": "cracked|bent|broken|scratched|dented|warped|split|wet|loose|rotten|damaged|short"
    "|missing|crooked|leaking|buckled|wrong size|wrong color",
    "why": "in the cold|in the wind|on the brake|on the saw|at the corner|cut short|cut wrong",
    "shop": "yard|supplier|store|truck|shop",
    "day": "monday|tuesday|wednesday|thursday|friday|saturday|tomorrow|noon",
    "who": "inspector|owner|customer|electrician|plumber|roofer|painter|supplier|neighbor|helper",
    "person": "helper|helper|one helper|two helpers|crew|roofer|electrician",
    "tool": "ladder|brake|scaffold|saw|plank|trailer|compressor|nail gun",
    "thing_word": "wood|flashing|sheathing|sub fascia|drip edge|vent|ridge vent|wire|pipe|window"
    "|door|rafter|rafter tails|house wrap|blocking|corner|gutter|roof|felt|insulation|header|sill"
    "|chimney|valley|rot|rotten wood|nail|framing|post|beam|delivery|damage",
    "where_word": "behind|above|below|under|at|by|over|beside|near|around|on",
    "fraction": "a half|a half|one half|a quarter|a quarter|one quarter|three quarters"
    "|three quarters|an eighth|one eighth|three eighths|three eighths|five eighths|five eighths"
    "|seven eighths|seven eighths|a sixteenth|one sixteenth|three sixteenths|five sixteenths"
    "|seven sixteenths|nine sixteenths|eleven sixteenths|thirteen sixteenths|fifteen sixteenths",
    "touch": "|||||| heavy| light| strong| shy| even| inches| inches| full| scant",
    "minutes": "five|ten|fifteen|twenty|twenty five|thirty|thirty five|forty|forty five|fifty"
    "|fifty five|oh five",
}

UNITS: Mapping[str, tuple[str, str]] = {
    "in": ("inch", "inches"),
    "ft": ("foot", "feet"),
    "ft2": ("square foot", "square feet"),
    "lb": ("pound", "pounds"),
    "gal": ("gallon", "gallons"),
    "box": ("box", "boxes"),
    "each": ("", ""),
}
"""How units are said, one and many, where it is not the unit itself and with an s."""

ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen"
    " fifteen sixteen seventeen eighteen nineteen"
).split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()


@lru_cache(maxsize=8)
def phrases(vocabulary: Vocabulary) -> tuple[str, ...]:
    """Phrases that may be said on this job, in lower case and spelled out, the same every time."""
    draw = random.Random(7)
    slots = _slots(vocabulary, draw)
    forms = [form for _, form in TEMPLATES]
    weights = [weight for weight, _ in TEMPLATES]
    return tuple(
        " ".join(_expanded(form, slots, draw).split())
        for form in draw.choices(forms, weights, k=COUNT)
    )


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
    forms = " ".join([*(form for _, form in TEMPLATES), *WORDS.values()])
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
