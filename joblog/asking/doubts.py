"""Every sentence in which something is doubted, with what is asked of it and what may answer that.

The book keeps a doubt as the sentence that a person reads, and so do books of before; this table
tells from the sentence what kind of doubt it is. The first line that fits is meant. A new doubt
needs its line here: `tests/asking/test_doubts.py` holds that none is without.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from joblog.form import WORDS

About = Literal[
    "item", "place", "job", "became", "number", "whose", "time", "kind", "words", "record", "stock"
]
"""What is asked."""

Offer = Literal[
    "clocks",
    "days",
    "fractions",
    "gone twice",
    "inches or feet",
    "items",
    "jobs",
    "joined",
    "kinds",
    "note",
    "numbers",
    "others",
    "pieces",
    "places",
    "prices",
    "so many of it",
    "still to do",
    "tasks",
    "things",
    "units",
    "variants",
    "verbs",
    "whose pay",
    "workers",
]
"""What may answer a doubt, besides what else was heard; see `answers.OFFERS`."""


@dataclass(frozen=True, slots=True)
class Doubted:
    """One kind of doubt."""

    sentence: str
    """A pattern of the whole sentence."""
    about: About
    asks: str
    """How it is asked, with the parts of the sentence by name."""
    offers: tuple[Offer, ...] = ()
    together: bool = False
    """Whether one answer fits all entries of one kind that are doubted in these very words."""
    joint: bool = False
    """Whether it is one doubt about all entries of the breath that it stands at."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A sentence with the kind of doubt that it is."""

    why: str
    kind: Doubted
    parts: Mapping[str, str] = field(default_factory=dict)

    @property
    def ways(self) -> tuple[str, ...]:
        """What it may be, as far as the sentence names it, each by what tells it apart."""
        if "ways" in self.parts:
            return _apart(self.parts["ways"])
        return tuple(self.parts[name] for name in ("one", "two") if self.parts.get(name))

    @property
    def asks(self) -> str:
        """The question, in the words of a crew."""
        parts = dict(self.parts)
        if "ways" in parts:
            parts["ways"] = " or ".join(self.ways)
        if self.kind.about not in ("became", "kind"):
            return self.kind.asks.format(why=self.why, **parts)
        called = {name: _KIND.sub(_as_called, said) for name, said in parts.items()}
        return self.kind.asks.format(why=_KIND.sub(_as_called, self.why), **called)


def _apart(ways: str) -> tuple[str, ...]:
    """Only what tells them apart: of "2 people, 7 hours or 7 hours" that is "2 people", "none"."""
    each = [way.split(", ") for way in ways.split(" or ")]
    common = {said for said in each[0] if all(said in way for way in each)}
    left = [", ".join(said for said in way if said not in common) for way in each]
    return tuple(way or "none" for way in left) if any(left) else tuple(ways.split(" or "))


def _as_called(kind: re.Match[str]) -> str:
    return WORDS[kind.group()]


_KIND = re.compile(r"\b(?:used|spoiled|returned|on_hand|labor|todo)\b")


def told_apart(whys: Iterable[str]) -> tuple[Doubt, ...]:
    """The doubts of an entry by their kinds, the most telling one first, each question once."""
    found = sorted(map(kind_of, whys), key=lambda doubt: _ORDER[doubt.kind])
    return tuple({doubt.asks: doubt for doubt in reversed(found)}.values())[::-1]


@lru_cache(maxsize=4096)
def kind_of(why: str) -> Doubt:
    """What kind of doubt a sentence is; of one that is in no line of the table, only whether it
    is right as it stands."""
    for kind, pattern in _COMPILED:
        fits = pattern.fullmatch(why)
        if fits is not None:
            return Doubt(why, kind, {name: said or "" for name, said in fits.groupdict().items()})
    return Doubt(why, UNKNOWN)


def of_one_kind(one: str, other: str) -> bool:
    """Whether two sentences doubt the same thing, of whatever entry."""
    return one == other or kind_of(one).kind is kind_of(other).kind is not UNKNOWN


UNKNOWN = Doubted("", "words", "{why}")
_LEFT = r"(?: heard two ways; the other is: .*)?"
_Q = r"'(?P<said>.*)'|\"(?P<also>.*)\""

DOUBTS = (
    # --- what is missing: it counts nowhere until it is told -------------------------------------
    Doubted(r"of what\? No item was said", "item", "Of what?", ("things", "note")),
    Doubted(r"needed, but how many of what\?", "item", "Needed: what?", ("things", "note")),
    Doubted(
        r"used, delivered, scrapped or left over\? It was not said\.",
        "became",
        "What became of it?",
        ("verbs", "note"),
    ),
    Doubted(r"how many\?", "number", "How many?", ("so many of it", "note")),
    Doubted(
        rf"(?:{_Q}) is how many\?",
        "number",
        "How many is '{said}{also}'?",
        ("so many of it", "note"),
    ),
    Doubted(r"how many hours(?: is that)?\?", "number", "How many hours?", ("so many of it",)),
    Doubted(r"how long was the break\?", "number", "How long was the break?", ("so many of it",)),
    Doubted(r"when\? No time was said", "time", "When?", ("clocks",)),
    Doubted(r"hours on which task\?", "item", "Hours on which task?", ("tasks",)),
    Doubted(
        rf"(?:{_Q}) is no task of this job",
        "item",
        "'{said}{also}' is no task of this job: which is it?",
        ("tasks",),
        True,
    ),
    Doubted(
        r"(?:(?P<said>.+) each|a price, but|money for (?P<also>.+), but):? for how many\?",
        "number",
        "A price: for how many?",
        ("so many of it", "numbers"),
    ),
    Doubted(
        r"says to change (?:the last one|what was said before): to what\?",
        "number",
        "Something was to be changed: to what?",
        ("numbers",),
    ),
    Doubted(rf"which job is (?:{_Q})\?", "job", "Which job is '{said}{also}'?", ("jobs",), True),
    # --- which item ------------------------------------------------------------------------------
    Doubted(
        r"'(?P<said>.*)' is not in the catalog: joblog catalog set .*",
        "item",
        "'{said}': which item?",
        ("items",),
        True,
    ),
    Doubted(
        r"(?P<said>.*): no such line in the catalog, a new one\?(?:; .*)?",
        "item",
        "{said}: which item?",
        ("variants", "items"),
        True,
    ),
    Doubted(
        rf"which item: (?P<ways>.+)\?{_LEFT}",
        "item",
        "Which: {ways}?",
        ("variants", "items"),
    ),
    # --- what was done ---------------------------------------------------------------------------
    Doubted(
        rf"what was done: (?P<ways>.+)\?{_LEFT}",
        "became",
        "What was done: {ways}?",
        ("kinds",),
    ),
    Doubted(
        r"(?P<one>used|spoiled|delivered|returned|on_hand|moved|needed), or"
        r" (?P<two>used|spoiled|delivered|returned|on_hand|moved|needed|left over|put in)\?",
        "became",
        "{one}, or {two}?",
        ("kinds",),
    ),
    Doubted(
        r"taken off the truck, or used\?",
        "became",
        "Taken off the truck, or installed?",
        ("kinds",),
    ),
    Doubted(r"bent to shape, or spoiled\?", "became", "Bent to shape, or wasted?", ("kinds",)),
    Doubted(
        rf"(?:{_Q}): were they used\?", "became", "'{said}{also}': were they installed?", ("kinds",)
    ),
    Doubted(
        r"(?P<one>used|spoiled|delivered|returned|on_hand|moved|needed) too\?",
        "became",
        "{one} too?",
        ("kinds", "note"),
    ),
    Doubted(
        r"is that done, or still to do\?",
        "became",
        "Is that done, or still to do?",
        ("still to do",),
    ),
    Doubted(
        r"so many are missing, or so many are too short\?",
        "became",
        "Are so many missing, or too short?",
        ("kinds",),
    ),
    # --- the same thing twice, in all or beside -------------------------------------------------
    Doubted(
        r"said twice: (?:is it one, or two|once more, or again)\?",
        "stock",
        "Said twice: is it one, or two?",
        ("gone twice",),
    ),
    Doubted(r"in all, or more of it\?", "stock", "In all, or more of it?", ("gone twice",)),
    Doubted(
        r"the sum of what was said before it, or more\?",
        "stock",
        "The sum of what was said before it, or more?",
        ("gone twice",),
    ),
    Doubted(
        r"of what was counted before, or more of it\?",
        "stock",
        "Of what was counted before, or more of it?",
        ("gone twice",),
    ),
    Doubted(
        r"a number by itself: '(?P<said>.*)' more\?",
        "stock",
        "'{said}' by itself: so many more?",
        ("gone twice",),
    ),
    Doubted(
        r"there were (?P<said>.+): does the rest tell what became of them\?",
        "stock",
        "There were {said}: does the rest tell what became of them?",
        ("gone twice",),
    ),
    # --- numbers ---------------------------------------------------------------------------------
    Doubted(
        rf"which number: (?P<ways>.+)\?{_LEFT}",
        "number",
        "Which number: {ways}?",
        ("fractions", "prices"),
    ),
    Doubted(
        r"a number alone: inches, feet or a count\?",
        "number",
        "A number alone: inches, feet or a count?",
        ("inches or feet", "pieces", "note"),
    ),
    Doubted(
        r"(?P<hour>\d+):(?P<minutes>\d+) and (?P<ones>\d+), or \d+ o'clock and (?P<many>\d+)\?"
        r" said in one breath",
        "number",
        "{hour}:{minutes} and {ones}, or {hour} o'clock and {many}?",
        ("clocks", "numbers"),
        joint=True,
    ),
    Doubted(
        r"two numbers in a row: one length, or two\?",
        "number",
        "Two numbers in a row: one length, or two?",
        ("joined",),
    ),
    Doubted(
        r"a fraction by itself: does it belong to the number before it\?",
        "number",
        "Does the fraction belong to the number before it?",
        ("joined",),
    ),
    Doubted(
        r"said twice: (?P<one>.+), then (?P<two>.+); or two lengths\?",
        "number",
        "{one}, then {two}: one length, or two?",
        ("numbers",),
    ),
    Doubted(
        r"two (?:numbers|temperatures|prices)(?:, (?P<ways>.+))?: which one holds\?",
        "number",
        "Which one holds: {ways}?",
        ("numbers",),
    ),
    Doubted(
        r"inches, or feet\?|of an inch, or of a foot\?|millimetres, or thousandths\?",
        "number",
        "{why}",
        ("inches or feet",),
    ),
    Doubted(
        r"(?P<number>[\d/ ]+) inches, or (?P=number) pieces\?",
        "number",
        "{number} inches, or {number} pieces?",
        ("pieces", "numbers"),
    ),
    Doubted(
        r"so many instead, or a measure\?|so many of the same, or a measure\?"
        r"|said in one breath with another fact: is it a measure of its own\?",
        "number",
        "{why}",
        ("so many of it", "pieces", "gone twice"),
    ),
    Doubted(
        r"so many (?P<one>.+), or so many (?P<two>.+)\?",
        "number",
        "So many {one}, or so many {two}?",
        ("units",),
        True,
    ),
    Doubted(
        r"(?P<item>.+) is counted by the (?P<unit>.+), not by the (?P<said>.+)",
        "number",
        "{item} is counted by the {unit}: how many?",
        ("units",),
    ),
    Doubted(r"a couple: exactly two\?", "number", "A couple: exactly two?", ("so many of it",)),
    Doubted(rf"only roughly: (?:{_Q})", "number", "Only roughly: is it that?"),
    Doubted(
        rf"(?:{_Q}) begins with a zero: is a digit before it missing\?",
        "number",
        "'{said}{also}' begins with a zero: is a digit missing?",
        ("joined",),
    ),
    Doubted(
        rf"(?:{_Q}): one number, digit by digit\?",
        "number",
        "'{said}{also}': one number, digit by digit?",
        ("joined",),
    ),
    Doubted(
        r"a number was left over: (?P<said>.+)",
        "number",
        "'{said}': a number for what?",
        ("numbers",),
    ),
    Doubted(
        r"is (?P<number>.+) minutes, or another number\?",
        "number",
        "{number} minutes, or another number?",
        ("numbers",),
    ),
    Doubted(
        r"the price does not divide evenly: rounded to the cent",
        "number",
        "The price does not divide evenly: rounded to the cent?",
    ),
    Doubted(
        r"a price, or a length\?|a price, of what did not come\?|is that the price\?|dollars\?"
        r"|(?P<led>.+) so much, or to that\?",
        "number",
        "{why}",
        ("numbers", "note"),
    ),
    Doubted(
        r"so (?:many|many pieces|long|large|much money)\?|that warm or cold\?|a length of nothing"
        r"|more than eleven inches after the feet|was it measured so much too long\?"
        r"|.+ hours is more than a day's work|a break of .+ hours is longer than a day's work"
        r"|a piece of .+ cannot be cut from .+|the times and the hours do not agree",
        "number",
        "{why}",
        ("numbers",),
    ),
    # --- who and when ----------------------------------------------------------------------------
    Doubted(
        r"how many are at work from then on\?", "whose", "How many are at work then?", ("workers",)
    ),
    Doubted(
        r"(?P<number>\d+) besides you, or (?P=number) in all\?",
        "whose",
        "{number} besides you, or {number} in all?",
        ("workers",),
    ),
    Doubted(r"(?P<number>\d+) people\?", "whose", "{number} people?", ("workers",)),
    Doubted(rf"is (?:{_Q}) a helper\?", "whose", "Is '{said}{also}' a helper?", ("workers",), True),
    Doubted(
        r"of how many of them is that the pay\?|is that the helper's pay, or everybody's\?"
        r"|whose pay is that\? Nobody else was said to be there",
        "whose",
        "{why}",
        ("whose pay", "workers"),
    ),
    Doubted(r"hours of how many people\?", "whose", "Hours of how many people?", ("workers",)),
    Doubted(
        r"morning or afternoon\?|that early\?|not yet that late|minutes, or the time\?"
        r"|a stop before its start\?|from when to when, or a length\?",
        "time",
        "{why}",
        ("clocks",),
    ),
    Doubted(rf"now, or at (?:{_Q})\?", "time", "Now, or at '{said}{also}'?", ("clocks",)),
    Doubted(
        rf"did the work start or stop then, or only (?:{_Q})\?",
        "time",
        "Did the work start or stop then, or only '{said}{also}'?",
        ("note",),
    ),
    Doubted(
        r"did the day (?P<said>start|stop) then, or something else\?",
        "time",
        "Did the day {said} then, or something else?",
        ("note",),
    ),
    Doubted(
        rf"(?:{_Q}): (?:on which of these days|of which day was that said|which one"
        r"|today, or a week ago|this week's, or the one (?:after|before))\?"
        rf"|how many days ago\?|(?:'.*'|\".*\") days ago\?",
        "time",
        "Which day: {why}",
        ("days",),
    ),
    Doubted(
        r"stops at (?P<one>.+), before the start at (?P<two>.+)"
        r"|a start at .+, and no stop since the one at .+"
        r"|a break at .+, (?:before the start|after the stop) at .+"
        r"|the break is as long as the whole day's work",
        "time",
        "{why}",
        ("clocks", "numbers", "gone twice"),
    ),
    # --- what the record of the job says against it ----------------------------------------------
    Doubted(
        r"far from the others on (?P<place>.+), which are (?P<others>.+) in",
        "number",
        "The others on {place} are {others}: is it this?",
        ("numbers", "inches or feet"),
    ),
    Doubted(
        r"with it (?P<total>.+) would be gone, and only (?P<came>.+) ever came",
        "stock",
        "With it {total} would be gone, and only {came} ever came: is it right?",
        ("others", "kinds", "gone twice"),
    ),
    Doubted(
        r"(?P<left>.+) left, (?:where .+ were left before and .+|and only .+ ever came)",
        "stock",
        "{why}: is it right?",
        ("kinds",),
    ),
    Doubted(r".+ is below zero", "stock", "{why}", ("numbers",)),
    Doubted(
        r"(?P<paid>.+) a (?P<unit>.+) is far from the planned (?P<planned>.+)",
        "number",
        "{paid} a {unit}, where {planned} was planned: is it right?",
        ("numbers",),
    ),
    Doubted(
        r"with it .+ (?:crew hours would be on|man-hours would be put to) tasks, and only .+"
        r" were worked that day",
        "number",
        "{why}: is it right?",
        ("numbers", "workers"),
    ),
    # --- which place -----------------------------------------------------------------------------
    Doubted(
        rf"which place: (?P<ways>.+)\?{_LEFT}",
        "place",
        "Which place: {ways}?",
        ("places",),
    ),
    Doubted(
        r"what was said at (?P<clock>.+) came in later: is it (?P<one>.+), or (?P<two>.+)\?",
        "place",
        "What was said at {clock} came in later: is it {one}, or {two}?",
        ("places",),
    ),
    # --- whether it is what it was read as ---------------------------------------------------
    Doubted(
        r"an amount in (?:a (?P<kind>\w+)|what is to do): is it one\?",
        "kind",
        "An amount in words: does it count?",
        ("verbs", "kinds"),
    ),
    Doubted(r"a time in a note: of the work\?", "kind", "A time: of the work?", ("kinds",)),
    Doubted(
        r"numbers or material were named that fit no entry",
        "kind",
        "Numbers or material in words: what are they?",
        ("verbs",),
    ),
    Doubted(
        r"only words, or this: '(?P<said>.*)'\?", "kind", "Only words, or '{said}'?", ("verbs",)
    ),
    Doubted(
        r"sounds like (?:one fact, not several: is each of them meant\?)",
        "kind",
        "One thing, or several: is each of them meant?",
        ("gone twice",),
    ),
    Doubted(
        r"sounds like (?P<said>more than a note: is there something to count\?|.+)",
        "kind",
        "Sounds like {said}",
        ("kinds", "verbs"),
    ),
    Doubted(
        r"it was (?P<kind>\w+) before: (?P<said>.*)",
        "kind",
        "It was {kind} before: is it this now?",
        ("kinds",),
    ),
    # --- what is changed by it -------------------------------------------------------------------
    Doubted(
        r"which one: (?P<one>.+), or (?P<two>.+)\?",
        "kind",
        "Which one is changed: {one}, or {two}?",
    ),
    Doubted(
        r"may have been taken back right after: (?P<said>.*)",
        "kind",
        "Taken back by '{said}'?",
        ("gone twice",),
    ),
    Doubted(
        r"says to take back the last one, and there is none before|nothing was said before it that"
        r" it could change|says to change the last one, and there is none before it"
        r"|it is not certain what it takes back"
        r"|nothing was said before as these words have it: .+\?"
        r"|is it this that is changed\?|instead of what was said before\?"
        r"|what was said at .+ came in later: was .+ meant\?",
        "kind",
        "{why}",
        ("note",),
    ),
    Doubted(
        r"something seems to be put right or taken back: is this what stands\?",
        "words",
        "Something seems to be taken back: is this what stands?",
        joint=True,
    ),
    # --- two numbers or names by themselves ------------------------------------------------------
    Doubted(
        r"which (?P<name>.+): (?P<ways>.+)\?(?:; .*)?",
        "item",
        "Which {name}: {ways}?",
        ("variants",),
        True,
    ),
    Doubted(
        r"(?P<count>.+) of (?P<one>.+), or (?P<two>.+)\?",
        "item",
        "{count} of {one}, or {two}?",
        ("variants", "numbers"),
    ),
    Doubted(r"(?P<one>.+) miles in all, or (?P<two>.+)\?", "number", "{why}", ("numbers",)),
    Doubted(
        r"'(?P<said>.+)' is (?P<one>.+) or (?P<two>[\d/ .]+)",
        "number",
        "'{said}': {one} or {two}?",
        ("numbers",),
    ),
    Doubted(r"(?P<said>[\d/ ]+) is (?P<one>[\d/ ]+)\?", "number", "{why}", ("numbers",)),
    Doubted(
        r"(?P<one>.*\d.*?),? or (?P<two>.+)\?",
        "number",
        "{one}, or {two}?",
        ("numbers", "joined", "prices"),
    ),
    Doubted(r"(?P<one>.+), or (?P<two>.+)\?", "words", "{one}, or {two}?", ("numbers", "variants")),
    Doubted(r"(?P<one>.+) or (?P<two>.+)\?", "item", "{one}, or {two}?", ("variants", "numbers")),
    # --- how it was heard ------------------------------------------------------------------------
    Doubted(
        r"not understood: (?P<said>.*)",
        "words",
        "{said} was not understood: is it right?",
        ("others",),
    ),
    Doubted(
        r"unclear words beside it: (?P<said>.*): is it right\?",
        "words",
        "{said} is not clear: is it right?",
        joint=True,
    ),
    Doubted(
        r"several things in one breath: is each right, and is it all\?",
        "words",
        "Several things in one breath: is each right, and is it all?",
        joint=True,
    ),
    Doubted(
        r"more was said than is here: was anything left out\?",
        "words",
        "More was said: was anything left out?",
        joint=True,
    ),
    Doubted(
        r"said in an unusual way: is it right\?",
        "words",
        "Said in an unusual way: is it right?",
        ("fractions", "prices"),
    ),
    Doubted(
        r"not heard clearly|a word was not heard: .*"
        r"|heard two ways; the other is: .*",
        "words",
        "Not heard clearly: is it right?",
        ("fractions", "prices"),
    ),
    Doubted(r"only one recognizer heard anything", "words", "Hardly heard: was it said at all?"),
    Doubted(r"the words are not clear", "words", "Are these the words?"),
    Doubted(
        r"a long breath was parted here: does it belong to what comes (?P<said>next|before)\?",
        "words",
        "A long breath was parted: does it belong to what comes {said}?",
    ),
    Doubted(
        r"too much at once to be read: say or type it in parts",
        "words",
        "Too much at once: say it in parts",
    ),
    Doubted(
        r"may be the same sound as (?P<said>.+); keep one of the two, .*",
        "words",
        "May be the same as in {said}: does it count?",
    ),
    Doubted(
        r"this entry is damaged in the book; .*|when this was said, .* is damaged in the book; .*"
        r"|a doubt about this is damaged in the book; .*",
        "words",
        "{why}",
    ),
)
_COMPILED = tuple((kind, re.compile(kind.sentence, re.DOTALL)) for kind in DOUBTS)
_ORDER = {kind: at for at, kind in enumerate((*DOUBTS, UNKNOWN))}
