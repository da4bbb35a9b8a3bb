"""How much each feature of a way to take an utterance apart speaks for it or against it.

Natural logarithms of odds: of two ways, the one whose weights add up to one more is e times as
likely. A word that a stretch holds weighs nothing.
"""

from __future__ import annotations

WEIGHTS = {
    # For each stretch, so that fewer, longer ones win.
    "stretch": -0.4,
    # For each word that no stretch holds: a number left over is far worse than a word left over.
    # Strange is a word that no table holds, or only beside others.
    "unread number": -3.5, "unread item": -1.7, "unread place": -1.7, "unread word": -1.7,
    "unread strange": -1.7, "unread filler": -1.05,
    # For each stretch that begins right behind a word, without a pause or a filler.
    "in one breath": 0.0,
    # For each number and item in a stretch whose words are only kept; strange words in another.
    "number in words": 0.0, "item in words": 0.0, "strange in a fact": 0.0,
    # For each pause that a stretch runs across. What mere talk costs for running on past "and",
    # "but", "okay" or a pause, so that a fact behind it stands.
    "pause": -0.15, "talk past a clause": -1.6, "talk past a pause": -1.0,
    # Where the amount stands first: "spoiled one elbow" rather than "two elbows spoiled".
    "amount first": -0.02,
    # Where `..` stands for words that are in no table.
    "loose": -0.5,
    # For each stretch by what it means; a meaning that is not here weighs nothing.
    "as more": 0.06, "as not this": 0.1, "as break": 0.01, "as numbered place": 0.01,
    "as place": 0.005, "as subject": -0.05, "as maybe instead": -0.05, "as range": -0.1,
    "as price": -0.2, "as pay": -0.2, "as clock": -0.5, "as adjust": -0.5, "as request": -2.0,
    "as about it": -0.1, "as adjust instead": 0.05, "as this not that": 0.05, "as moved": 0.05,
    "as more labor": 0.6, "as talk": -0.1, "as weather": 0.03, "as moment": 0.1, "as share": 0.2,
    "as day": 0.45, "as todo": -0.05, "as note": -0.06,
}  # fmt: skip
