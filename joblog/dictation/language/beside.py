"""Words that stand beside a fact, by what they can change of it."""

from __future__ import annotations

WORDS: dict[str, str] = {
    # Words that a number, an item or what happened may hang on, whatever the fact is.
    "TELLING_MORE": "double, triple, twice, thrice, fore, won, odd, ish, nother, plus, minus, "
    "times, tenths, hundredths, teen, single, nil, other, others, rest, remainder, extra, more, "
    "less, fewer, most, least, every, either, neither, per, pairs, none, any, only, except, "
    "besides, nor, hardly, barely, supposed, wish, whether, unless, perhaps, worth, again, same, "
    "than, versus, actually, sorry, wait, rather, mean, meant, change, changed, fix, oops, "
    "forgot, old, existing, original, by, or, not, no, if, might, could, would, seems, apart, "
    "remaining, missing, still, i'd, he'd, they'd, yet, want, wanted, count, counted, instead, "
    "another, nope, naw, nah, no joke",
    # Words that it may hang on where it counts something.
    "TELLING_OF_STOCK": "after, before, since, up, down, out, off, over, higher, lower, like, "
    "where, stuff, thing, things, kind, type, looked, replaced, swap, swapped, borrowed, lent, "
    "loaned, stole, sold, gave, ordered, asked, buy, left, gone, cut, away, back, good, bad, "
    "about, check, checked, measured, measure, center, centers, wrong, too, for",
    # Words that say nothing of a fact that they stand beside.
    "IDLY": "up, away, there, here, now, on, then",
    # Words that only help the verb or the amount behind them.
    "AUXILIARY": "have, has, had, were, was, are, is, been, there were, there was, i have, we "
    "have, i had, we had, forgot, i forgot, almost forgot",
    "WHEREABOUTS": "as, on, at, along, under, above, below, behind, beside, with, from, around, "
    "because, near, across, between, inside, outside, against, through, toward, towards, onto, "
    "into",
    "POINTING": "it, them, there, here, they, him, he, she, me, i, us, we, that, this, those, "
    "these, in there, up there, over there, over here, up here, you",
}

HARMLESS: tuple[str, ...] = (
    "OTHER", "PART", "SIDE", "EQUIPMENT", "FILLER", "AND", "ARTICLE", "LACK", "WHEREABOUTS",
    "POINTING",
)  # fmt: skip
"""Classes of words that may stand beside any fact; of their words, none that tells more."""
UNDOING: tuple[str, ...] = (
    "TELLING_MORE", "NOTGOING", "ISNOT", "NOTANY", "HASNO", "NONE", "ABOUT", "ORSO", "HEAVY",
    "LIGHT", "LESS", "INCH", "FOOT", "METRIC", "UNIT", "EACH", "DOZEN", "COUPLE", "VAGUE", "BOTHOF",
    "ONEMORE", "LASTOF", "TAKEBACK", "INSTEAD", "NOWAIT", "SLIP", "AGAIN", "FUTURE", "WILLBE",
    "LATER", "USED", "DELIVER", "RETURN", "NEED", "LEFTOVER", "COUNTED", "OUTOF", "HOURWORD",
    "MINUTE", "START", "STOP", "BREAK", "MONEY", "MILES", "TALK", "PITCHWORD", "AREA", "AFULL",
    "PIECEWORD", "DEGREES",
)  # fmt: skip
"""Classes of words that undo or change even a length to the sixteenth."""
