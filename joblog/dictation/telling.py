"""What happened to an amount that stands beside no plain verb, told by the words around it.

"The kid sat on two sticks of gutter", "eight squares of siding, the delivery finally": the words
of a fact are often some way off. `TELLTALES` in `language/` lists them by kind.
"""

from __future__ import annotations

import re
from functools import cache
from typing import cast

from joblog.dictation.draft import Draft
from joblog.dictation.grammar import Stretch, is_a
from joblog.dictation.language import TELLTALES, UNTOLD, WORDS
from joblog.model import Kind


def kind_named(draft: Draft, stretch: Stretch, *, behind: bool = False) -> Kind | None:
    """The kind that the words around an amount tell, and None when they tell none.

    The words that told it count as understood. `behind` asks only what stands behind the amount.
    Where words of two kinds stand around it, the rarer event wins.
    """
    first, last = _clause(draft, stretch)
    counted = [atom for name in ("n", "u", "h", "i", "x") for atom in stretch.parts.get(name, ())]
    text, owners = "", list[tuple[int, int]]()
    for at in range(stretch.start if behind else first, last):
        atom = draft.atoms[at]
        if any(atom is other for other in counted):
            text += "" if text.endswith(" # ") else " # "
        else:
            owners.append((len(text), at))
            text += f" {atom.words} "
    if not any(at in draft.unread for _, at in owners):
        return None
    if _untold().search(text):
        return None
    said = frozenset(text.split())
    for kind, pattern, name, cues in _tellers():
        match = None if cues.isdisjoint(said) else _compiled(pattern).search(text)
        telling = {at for begin, at in owners if match and match.start() <= begin < match.end()}
        telling |= {
            at
            for _, at in owners
            if is_a(draft.atoms[at], name) and draft.atoms[at].words not in _weak()
        }
        if telling & draft.unread:
            draft.understood.update(telling)
            return kind
    return None


def _clause(draft: Draft, stretch: Stretch) -> tuple[int, int]:
    """The words around a stretch, up to the facts before and behind it."""
    facts = [other for other in draft.stretches if other.meaning not in _BESIDE]
    first = max((other.end for other in facts if other.end <= stretch.start), default=0)
    last = min((other.start for other in facts if other.start >= stretch.end), default=None)
    if first:
        breaks = [at for at in range(first, stretch.start) if _breaks(draft, at)]
        first = breaks[0] if breaks else first
    if last is None:
        return first, len(draft.atoms)
    return first, next((at for at in range(stretch.end, last) if _breaks(draft, at)), last)


def _breaks(draft: Draft, at: int) -> bool:
    """Where one fact ends and the next begins: "used nine, botched one of them"."""
    return draft.atoms[at].pause or is_a(draft.atoms[at], "AND")


# Stretches that stand beside a fact and are none.
_BESIDE = {"place", "numbered place", "subject", "crew", "price", "pay", "day"}


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


@cache
def _tellers() -> list[tuple[Kind, str, str, frozenset[str]]]:
    """Of each kind what tells it, its class, and words of which every phrase that tells it has
    one."""
    return [
        (
            cast(Kind, kind),
            "(?:" + "|".join(map(_regex, line.split(","))) + ")(?= |$)",
            _CLASS[kind],
            frozenset(word for phrase in line.split(",") for word in _cues(phrase)),
        )
        for kind, line in TELLTALES
    ]


@cache
def _untold() -> re.Pattern[str]:
    return re.compile("(?:" + "|".join(map(_regex, UNTOLD.split(","))) + r")(?= .*#)")


@cache
def _weak() -> frozenset[str]:
    return frozenset(phrase.strip() for phrase in WORDS["WEAK"].split(","))


_CLASS = {
    "spoiled": "SPOIL",
    "returned": "RETURN",
    "delivered": "DELIVER",
    "needed": "NEED",
    "on_hand": "LEFTOVER",
    "used": "USED",
}


def _cues(phrase: str) -> list[str]:
    """The longest word of a phrase, or each of what may stand in its place."""
    words = re.findall(r"\([^)]*\)|[^ ]+", phrase)
    longest = max(words, key=lambda word: (word[0] not in "#.(", len(word)))
    return re.findall(r"[^ |()]+", longest)


def _regex(phrase: str) -> str:
    """`#` is the amount, `..` up to four words; every word has a space on either side."""
    return "".join(r"(?: +[^ #]+){0,4}" if word == ".." else f" +{word}" for word in phrase.split())
