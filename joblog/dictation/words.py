"""Text to plain lower-case words, whatever a recognizer or a keyboard made of it."""

from __future__ import annotations

import re

from joblog.model import UNHEARD


def words_of(text: str) -> list[str]:
    """The words of `text`: lower case, no punctuation, marks spelled out.

    `12' 4 1/2"` becomes 12 feet 4 1/2 inches, `7/8ths` 7/8, `9x14` 9 by 14, `$13.50` 13.50
    dollars, `38°` 38 degrees, `½` 1/2. Fractions, decimals and clock times stay one word. So does
    what people write in short: `N eave` north eave, `(3) 1x8x12` 3 pieces of 1 by 8 by 12,
    `7:30-4:00` 7:30 to 4:00, `$14.90/stick` 14.90 dollars a stick, `2pc` 2 pieces, `w/` with, `#8`
    number 8, `16" o.c.` 16 inches on center.
    """
    return [word for word, _ in marked_words(text)]


Marked = list[tuple[str, bool]]
"""Words, each with whether a comma or full stop stood before it."""


def marked_words(text: str) -> Marked:
    """The words as in `words_of`, each with whether a comma or full stop stood before it."""
    if text.isascii() and text.replace(" ", "").isalpha():
        said = text.lower().split()
        if "em" not in said and _BEARINGS.keys().isdisjoint(said):
            whole = [_IN_SHORT.get(word, word) for word in said]
            first = int(whole[:1] == ["mm"])
            return [(word, False) for word in whole[first:] if word not in _HUMS]
    plain = text.lower()
    if not plain.isascii():
        plain = _VULGAR_SIGN.sub(lambda sign: f" {_VULGAR[sign.group()]} ", plain)
    plain = _BEARING.sub(lambda short: f"{_BEARINGS[short.group(1)]} ", plain)
    if not _PLAINLY.fullmatch(plain):
        plain = _spelled(plain)
    found: list[tuple[str, bool]] = []
    pause = False
    for word in _WORD.findall(plain):
        if word != UNHEARD and word in ",.;":
            pause = bool(found)
            continue
        metric = word == "mm" and bool(found) and not pause
        # "405 mm" is a length; "nine, mm, and a half" was thought over.
        if word in _HUMS or (word == "mm" and not metric):
            continue  # A pause before "um" is one before the word behind it too.
        word = _IN_SHORT.get(word, word)
        owner = word[:-2] if word.endswith("'s") and word not in _SHORT else ""
        found.append((owner or word, pause))
        if owner:
            found.append(("is", False))
        pause = False
    return found


def _spelled(plain: str) -> str:
    """The text with its marks spelled out."""
    held = set(plain)
    for marks, pattern, spelled in _MARKS:
        # What a digit is in other scripts is left to the patterns.
        if held.isdisjoint(marks) and plain.isascii():
            continue
        changed = re.sub(pattern, spelled, plain)
        if changed != plain:
            plain = changed
            held = set(plain)
    return plain


# Whole words and commas: no mark stands for anything.
_PLAINLY = re.compile(r"(?:(?!em\b)[a-z]++(?:'[a-z]++)*+[,;]? *+)*+\.?")
# Said while thinking, as is "mm" behind a pause: "thirty five, uh, and a quarter" is one number.
_HUMS = frozenset("uh um uhh umm uhm erm hmm hm mmm mhm ah eh huh hoo whoo".split())

# Words in which "'s" belongs to a phrase of the language; elsewhere it is "is".
_SHORT = frozenset(("it's", "that's", "there's", "let's"))


_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_VULGAR_SIGN = re.compile("|".join(_VULGAR))

_BEARING = re.compile(
    r"(?<!['\u2019])\b(n|s|e|w|ne|nw|se|sw)\.? "
    r"(?=(?:eave|wall|gable|side|rake|end|elevation|corner|face|dormer"
    r"|fascia|soffit|porch|roof|deck|garage)s?\b)",
    re.IGNORECASE,
)
"""A point of the compass in short, where a part of a house stands behind it."""
_BEARINGS = {
    "n": "north", "s": "south", "e": "east", "w": "west", "ne": "northeast", "nw": "northwest",
    "se": "southeast", "sw": "southwest",
}  # fmt: skip

_IN_SHORT = {
    "pc": "piece", "pcs": "pieces", "ea": "each", "approx": "about", "recd": "got", "rec'd": "got",
    "del'd": "delivered", "ret'd": "returned", "thru": "through", "tmrw": "tomorrow",
    "tmw": "tomorrow", "bdl": "bundle", "bdls": "bundles", "bx": "box", "bxs": "boxes",
    "shts": "sheets", "stks": "sticks", "rls": "rolls", "hrs": "hours", "mins": "minutes",
}  # fmt: skip
"""Words that are written in short and never said so."""

_DIGITS = "0123456789"
_MARKS: list[tuple[str, str, str]] = [
    ("/", r"\bw/o\b", "without "),
    ("/", r"\bw/", "with "),
    ("(", r"\((\d+)\)\s*(?=\d)", r"\1 pieces of "),
    ("(", r"\((\d+)\)", r" \1 "),
    ("#", r"#\s*(?=\d)", " number "),
    ("d", r"(?<=\d)d\b(?=\s*(?:$|[\d,;(]))", " penny nails "),
    ("d", r"(?<=\d)d\b", " penny "),
    (
        "$",
        r"^\s*\$\s*(\d+(?:\.\d+)?)\s*/\s*([a-z]+)\s+([a-z][a-z ]*?)\s*$",
        r"\3 is \1 dollars a \2",
    ),
    (_DIGITS, r"(?<=\d)\s*(?:o\.c\.?|o/c|oc)(?![a-z])", " inches on center "),
    ("c", r"(?<=[\d\"'])\s*(?:o\.c\.?|o/c|oc)(?![a-z])", " on center "),
    (":", r"(\d+:\d\d(?:\s*[ap]m)?)\s*[-\u2013]\s*(?=\d)", r"\1 to "),
    (":", r"(\d)\s*[-\u2013]\s*(?=\d+:\d\d)", r"\1 to "),
    (".", r"(\d)\s*(ft|in)\.(?!\d)", r"\1 \2 "),
    ("-\u2013", r"('|\u2032|\u2019)\s*[-\u2013]\s*(?=\d)", r"\1 "),
    ("$", r"\$\s*(\d+(?:\.\d+)?)\s*/\s*ea(?:ch)?\b\.?", r"\1 dollars each"),
    ("$", r"\$\s*(\d+(?:\.\d+)?)\s*/\s*(?=[a-z])", r"\1 dollars a "),
    ("/", r"(?<=\d)\s*/\s*ea(?:ch)?\b\.?", " each"),
    ("/", r"(?<=\d)\s*/\s*(?=[a-z]{2})", " a "),
    ("&+", r"\s[&+]\s", " and "),
    ("±~", r"(?:\u00b1|~)\s*(?=\d)", " about "),
    ("@", r"(?<=\d)\s*@\s*(?=\d)", " at "),
    ("’‘`´′", r"[’‘`´′]", "'"),
    ("“”″'", r"[“”″]|''", '"'),
    ("\N{FRACTION SLASH}", "\N{FRACTION SLASH}", "/"),
    (",", r"(?<=\d),(?=\d{3}\b)", ""),
    ("$", r"\$\s*(\d+(?:\.\d+)?)", r"\1 dollars"),
    ("°", r"(?<=\d)\s*°\s*f?\b", " degrees "),
    ("°", r"(?<=\d)\s*°", " degrees "),
    ("x×", r"(?<=[\d'\"])\s*[x×]\s*(?=\d)", " by "),
    ('"', r'(?<=\d)\s*"', " inches "),
    ("'", r"(?<=\d)\s*'(?![a-z])", " feet "),
    ("/", r"(\d/\d+)\s*(?:ths?|nds?|rds?)\b", r"\1"),
    (_DIGITS, r"\b(\d+) (\d+)(?:ths?|nds)\b", r"\1/\2"),
    ("-", r"(?<=\d)-(?=\d+/\d)", " "),
    (_DIGITS, r"(?<=\d)s\b", ""),
    (_DIGITS, r"(?<=\d)(?=[a-z])(?!(?:st|nd|rd|th)\b)", " "),
    ("@", r"@", " at "),
    ("e", r"\b'?em\b", "them"),
    (".", r"\ba\.\s*m\b\.?", "am"),
    (".", r"\bp\.\s*m\b\.?", "pm"),
]
"""Characters of which one must be there, what they may stand in, and how that is spelled out."""


_WORD = re.compile(
    r"[,;…]|\.(?!\d)|\d+/\d+|\d+:\d\d|\d*\.\d+|\d+[a-z]+|\d+|[^\W\d_]+(?:'[^\W\d_]+)*"
)
