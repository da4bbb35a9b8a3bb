"""How much each feature of a way to take an utterance apart speaks for it or against it.

Natural logarithms of odds: of two ways, the one whose weights add up to one more is e times as
likely. A word that a stretch holds weighs nothing.
"""

from __future__ import annotations

STRETCH = -0.4
"""For each stretch, so that fewer, longer ones win."""
UNREAD = {"number": -3.5, "word": -1.7, "filler": -1.05}
"""For each word that no stretch holds: a number left over is far worse than a word left over."""
PAUSE = -0.15
"""For each pause that a stretch runs across."""
TALK_CLAUSE, TALK_PAUSE = -1.6, -1.0
"""What mere talk costs for running on past "and", "but", "okay" or a pause, so that a fact behind
it stands."""
AMOUNT_FIRST = -0.02
"""Where the amount stands first: "spoiled one elbow" rather than "two elbows spoiled"."""
LOOSE = -0.5
"""Where `..` stands for words that are in no table."""
MEANINGS = {
    "more": 0.06, "not this": 0.1, "break": 0.01, "numbered place": 0.01, "place": 0.005,
    "subject": -0.05, "maybe instead": -0.05, "range": -0.1, "price": -0.2, "pay": -0.2,
    "clock": -0.5,
    "adjust": -0.5, "request": -2.0, "about it": -0.1, "adjust instead": 0.05,
    "this not that": 0.05, "moved": 0.05, "more labor": 0.6, "talk": -0.1,
    "weather": 0.03, "moment": 0.1, "share": 0.2,
}  # fmt: skip
"""For each stretch by what it means; a meaning that is not here weighs nothing."""
