"""Texts with figures as they are said aloud, and words made comparable for counting errors."""

from __future__ import annotations

import re
from collections.abc import Callable

from num2words import num2words  # type: ignore[import-untyped]


def aloud(text: str) -> str:
    """The text as a person reads it out: figures and marks in words, punctuation kept.

    `12' 4 1/2"` becomes twelve feet four and a half inches, `7:30` seven thirty, `$3.25` three
    dollars and twenty five cents, `2x4s` two by fours. Text without figures comes back as it is.
    """
    said = text.lower()
    for sign, fraction in _VULGAR.items():
        said = said.replace(sign, f" {fraction}")
    for pattern, spelled in _ALOUD:
        said = pattern.sub(spelled, said)
    return " ".join(said.split()).replace(" ,", ",")


def comparable(text: str) -> str:
    """The words of a text in one spelling: what was said and what was heard meet here.

    Figures are spelled out as in `aloud`. Without effect on the count are: capitals, punctuation,
    hyphens and apostrophes, um and uh, o'clock, "and" inside a number, "a half" for "one half",
    "three fourths" for "three quarters", -metre for -meter. Sound-alikes are not made the same.
    """
    words = aloud(text)
    for pattern, spelled in _COMPARABLE:
        words = pattern.sub(spelled, words)
    return " ".join(words.split())


_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip

_PARTS = {
    2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth",
    9: "ninth", 10: "tenth", 16: "sixteenth", 32: "thirty second", 64: "sixty fourth",
}  # fmt: skip


def _whole(number: int) -> str:
    """1412 as fourteen twelve and 1200 as twelve hundred, the way a person says them."""
    hundreds, rest = divmod(number, 100)
    if 1100 <= number <= 9999 and hundreds % 10:
        low = "hundred" if not rest else f"oh {_whole(rest)}" if rest < 10 else _whole(rest)
        return f"{_whole(hundreds)} {low}"
    return re.sub(r"[-,]| and\b", " ", num2words(number))


def _digits(figures: str) -> str:
    return " ".join("oh" if one == "0" else _whole(int(one)) for one in figures if one.isdigit())


def _money(found: re.Match[str]) -> str:
    dollars, cents = int(found[1].replace(",", "")), int(found[2] or 0)
    parts = [f"{_whole(dollars)} dollar{'s' * (dollars != 1)}"] if dollars or not cents else []
    parts += [f"{_whole(cents)} cent{'s' * (cents != 1)}"] if cents else []
    return f" {' and '.join(parts)} "


def _price(found: re.Match[str]) -> str:
    dollars, cents = int(found[1]), int(found[2])
    low = f"oh {_whole(cents)}" if cents < 10 else _whole(cents)
    return f"{_whole(dollars)} {low if cents else 'dollars'}"


def _clock(found: re.Match[str]) -> str:
    hour, minute = int(found[1]), int(found[2])
    low = "o'clock" if not minute else f"oh {_whole(minute)}" if minute < 10 else _whole(minute)
    return f"{_whole(hour)} {low}"


def _mixed(found: re.Match[str]) -> str:
    part = _part(int(found[2]), int(found[3]))
    return f"{_whole(int(found[1]))} and {part}"


def _fraction(found: re.Match[str]) -> str:
    return _part(int(found[1]), int(found[2]))


def _part(top: int, bottom: int) -> str:
    """Five eighths; what is no fraction of an inch, such as 6/12, is a pitch: six twelve."""
    if bottom not in _PARTS or top > bottom:
        return f"{_whole(top)} {_whole(bottom)}"
    if top == 1:
        return f"{'an' if bottom == 8 else 'a'} {_PARTS[bottom]}"
    return f"{_whole(top)} {_PARTS[bottom]}s".replace("halfs", "halves")


def _lumber(found: re.Match[str]) -> str:
    plural = {"6": "sixes"}.get(found[2], f"{_whole(int(found[2]))}s")
    return f"{_whole(int(found[1]))} by {plural if found[3] else _whole(int(found[2]))}"


def _decimal(found: re.Match[str]) -> str:
    whole = _whole(int(found[1])) if found[1] else ""
    return f"{whole} point {_digits(found[2])}"


def _ordinal(found: re.Match[str]) -> str:
    return re.sub(r"[-,]| and\b", " ", num2words(int(found[1]), ordinal=True))


_EACH = r"(?=\s+(?:each|apiece|a\s|per\b))"
_ALOUD: list[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]]] = [
    (re.compile("\N{FRACTION SLASH}"), "/"),
    (re.compile(r"[’‘`´′]"), "'"),
    (re.compile(r"[“”″]|''"), '"'),
    (re.compile(r"(?<=\d),(?=\d{3}\b)"), ""),
    (re.compile(r"\$\s*(\d+)(?:\.(\d\d))?\b"), _money),
    (re.compile(r"\b(\d{3})-(\d{4})\b"), lambda found: _digits(found[1] + found[2])),
    (re.compile(r"(?<=\bat )(\d+)\.(\d\d)\b"), _price),
    (re.compile(rf"\b(\d+)\.(\d\d)\b{_EACH}"), _price),
    (re.compile(r"(?<=\d)\s*°\s*f?\b"), " degrees "),
    (re.compile(r"\b(\d{1,2}):(\d\d)\b"), _clock),
    (re.compile(r"(\d/\d+)\s*(?:ths?|nds?|rds?)\b"), r"\1"),
    # "nine in twelve" is a pitch, "8 ft 3 in" a length.
    (re.compile(r"((?:'|\bft|\bfeet|\bfoot)\s*[\d/ ]+?)\s*\bin\b(?!\s*\d)\.?"), r"\1 inches "),
    (re.compile(r"(/\d+)\s+in\b(?!\s*\d)\.?"), r"\1 inches "),
    (re.compile(r"\b1\s*'(?!\w)"), "1 foot "),
    (re.compile(r"(?<=\d)\s*'(?![a-z])"), " feet "),
    (re.compile(r"(?<![\d/] )(?<![\d/])1/2\s*(?:\"|-?inch\b)"), "half inch "),
    (re.compile(r"(?<![\d/] )(?<![\d/])(\d/\d+)\s*\"(?=\s*[a-z])"), r"\1 inch "),
    (re.compile(r"(?<![\d/ ])(?<![\d/] )1\s*\""), "1 inch "),
    (re.compile(r"(?<=\d)\s*\""), " inches "),
    (re.compile(r"(?<=\d)\s*ft\b\.?"), " feet "),
    (re.compile(r"(?<=\d)\s*lbs?\b\.?"), " pounds "),
    (re.compile(r"(?<=\d)\s*oz\b\.?"), " ounces "),
    (re.compile(r"(?<=\d)\s*mm\b"), " millimeters "),
    (re.compile(r"(?<=\d)\s*cm\b"), " centimeters "),
    (re.compile(r"(?<=\d)\s*m\b(?!\.)"), " meters "),
    (re.compile(r"(?<=\d)\s*(?:hrs?)\b\.?"), " hours "),
    (re.compile(r"(?<=\d)\s*(?:mins?)\b\.?"), " minutes "),
    (re.compile(r"(?<=\d)\s*%"), " percent "),
    (re.compile(r"\b([ap])\.?\s?m\b\.?"), r"\1 m "),
    (re.compile(r"(?<=\d)([ap])m\b"), r" \1 m "),
    (re.compile(r"\bosb\b"), "o s b"),
    (re.compile(r"\b(\d+)\s*[x×]\s*(\d+)(s?)\b"), _lumber),
    (re.compile(r"\b(\d+)[ -]+(?:and[ -]+)?(\d+)/(\d+)\b"), _mixed),
    (re.compile(r"\b(\d+)/(\d+)\b"), _fraction),
    (re.compile(r"(?<![\w.])(\d*)\.(\d+)\b"), _decimal),
    (re.compile(r"\b(\d+)(?:st|nd|rd|th)\b"), _ordinal),
    (re.compile(r"\b(0\d+|\d{7,})\b"), lambda found: f" {_digits(found[1])} "),
    (re.compile(r"(\d+)"), lambda found: f" {_whole(int(found[1]))} "),
]  # fmt: skip

_NUMBER = (
    "zero oh one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty "
    "ninety hundred thousand"
).split()
_ANY = "|".join(_NUMBER)
_ANY_PART = "half|quarter|third|fourth|fifth|sixth|eighth|tenth|sixteenth|thirty second"
_COMPARABLE: list[tuple[re.Pattern[str], str]] = [
    (re.compile(r"'"), ""),
    (re.compile(r"\bto-day\b"), "today"),
    (re.compile(r"[^a-z]+"), " "),
    (re.compile(r"\b(?:u+[hm]+|h+m+|er|erm|oclock)\b"), " "),
    (re.compile(r"\bzero\b"), "oh"),
    (re.compile(r"\boh point\b"), "point"),
    (re.compile(r"\bok\b"), "okay"),
    (re.compile(r"metre(s?)\b"), r"meter\1"),
    (re.compile(r"\bo s b\b"), "osb"),
    (re.compile(r"\b([ap]) m\b"), r"\1m"),
    (re.compile(r"(?<!sixty) \bfourth(s?)\b"), r" quarter\1"),
    (re.compile(rf"\b(?:an?) (?=(?:{_ANY_PART}|sixty fourth|hundred|thousand)\b)"), "one "),
    (re.compile(rf"\b({_ANY}|dollars?)\s+and\s+(?=(?:{_ANY}|half|quarter)\b)"), r"\1 "),
]  # fmt: skip
