"""Text to plain lower-case words, whatever a recognizer or a keyboard made of it."""

from __future__ import annotations

import re

from joblog.model import UNHEARD


def words_of(text: str) -> list[str]:
    """The words of `text`: lower case, no punctuation, marks spelled out.

    `12' 4 1/2"` becomes 12 feet 4 1/2 inches, `7/8ths` 7/8, `9x14` 9 by 14, `$13.50` 13.50
    dollars, `38°` 38 degrees, `½` 1/2. Fractions, decimals and clock times stay one word.
    """
    return [word for word, _ in marked_words(text)]


Marked = list[tuple[str, bool]]
"""Words, each with whether a comma or full stop stood before it."""


def marked_words(text: str) -> Marked:
    """The words as in `words_of`, each with whether a comma or full stop stood before it."""
    if text.isascii() and text.replace(" ", "").isalpha() and " em" not in text:
        return [(word, False) for word in text.lower().split() if word not in _HUMS]
    plain = _VULGAR_SIGN.sub(lambda sign: f" {_VULGAR[sign.group()]} ", text.lower())
    for pattern, spelled in _MARKS:
        plain = pattern.sub(spelled, plain)
    found: list[tuple[str, bool]] = []
    pause = False
    for word in _WORD.findall(plain):
        if word != UNHEARD and word in ",.;":
            pause = bool(found)
            continue
        if word in _HUMS:
            continue  # A pause before "um" is one before the word behind it too.
        owner = word[:-2] if word.endswith("'s") and word not in _SHORT else ""
        found.append((owner or word, pause))
        if owner:
            found.append(("is", False))
        pause = False
    return found


# Said while thinking; "thirty five, uh, and a quarter" is one number.
_HUMS = frozenset("uh um uhh umm uhm erm hmm hm ah eh huh".split())

# Words in which "'s" belongs to a phrase of the language; elsewhere it is "is".
_SHORT = frozenset(("it's", "that's", "there's", "let's"))


_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_VULGAR_SIGN = re.compile("|".join(_VULGAR))

_MARKS: list[tuple[re.Pattern[str], str]] = [
    (re.compile(r"(?<=\d)\s*@\s*(?=\d)"), " at "),
    (re.compile(r"[’‘`´′]"), "'"),
    (re.compile(r"[“”″]|''"), '"'),
    (re.compile("\N{FRACTION SLASH}"), "/"),
    (re.compile(r"(?<=\d),(?=\d{3}\b)"), ""),
    (re.compile(r"\$\s*(\d+(?:\.\d+)?)"), r"\1 dollars"),
    (re.compile(r"(?<=\d)\s*°\s*f?\b"), " degrees "),
    (re.compile(r"(?<=\d)\s*°"), " degrees "),
    (re.compile(r"(?<=[\d'\"])\s*[x×]\s*(?=\d)"), " by "),
    (re.compile(r'(?<=\d)\s*"'), " inches "),
    (re.compile(r"(?<=\d)\s*'(?![a-z])"), " feet "),
    (re.compile(r"(\d/\d+)\s*(?:ths?|nds?|rds?)\b"), r"\1"),
    (re.compile(r"\b(\d+) (\d+)(?:ths?|nds)\b"), r"\1/\2"),
    (re.compile(r"(?<=\d)-(?=\d+/\d)"), " "),
    (re.compile(r"(?<=\d)s\b"), ""),
    (re.compile(r"(?<=\d)(?=[a-z])(?!(?:st|nd|rd|th)\b)"), " "),
    (re.compile(r"@"), " at "),
    (re.compile(r"\b'?em\b"), "them"),
    (re.compile(r"\ba\.\s*m\b\.?"), "am"),
    (re.compile(r"\bp\.\s*m\b\.?"), "pm"),
]


_WORD = re.compile(
    r"[,;…]|\.(?!\d)|\d+/\d+|\d+:\d\d|\d*\.\d+|\d+[a-z]+|\d+|[^\W\d_]+(?:'[^\W\d_]+)*"
)
