"""How sure a hearing is, as the probability that all its words are right.

Logistic curves fitted to 380 dictated phrases and 60 sentences of plain talk, spoken by machine
voices, some with wind or a saw 15 dB under them; each voice was judged by curves fitted to the
others. People may be heard worse than that: the figures order hearings, they promise nothing.
"""

from __future__ import annotations

import math


def of_trade(share: float) -> float:
    """From the share of the best line among all that compete with it."""
    return _logistic(7.05 * share - 3.30)


def of_constrained(probability: float) -> float:
    """From the mean probability of a piece (geometric)."""
    return _logistic(3.79 * math.log(probability + 0.001) + 2.46)


def of_free(probability: float, lead: float) -> float:
    """From the mean probability of a piece, and by how much the free line beats the constrained
    one: nats for each word, at most 4 of which count. For a line that says something else."""
    return _logistic(21.7 * math.log(probability + 0.001) + 0.76 * min(lead, 4.0) + 0.84)


def _logistic(score: float) -> float:
    return 1 / (1 + math.exp(-score))
