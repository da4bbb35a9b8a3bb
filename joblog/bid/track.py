"""How far off earlier bids were, beyond what they said: for what no line of a bid foresees.

Prices move, work turns out larger than it was measured, a day is lost to the rain. None of that is
in the waste and the hours that are learned line by line, and all of it is in how far the real costs
of earlier jobs lay from what was bid.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from statistics import NormalDist

from joblog.model import Bid, BidOutcome

JOBS = 3.0
"""So many bids weigh as much as the belief that the lines say all; a rule of thumb."""
FAR = 0.5
"""In logarithms; what lies farther off counts as so far, so that no accident decides."""
LEVEL = 0.8


def off_beyond(past: Iterable[tuple[Bid, BidOutcome]]) -> float:
    """The standard deviation, as a share of the cost, of what earlier bids do not explain.

    The mean square of what each bid was off by, on the log scale, less the variance that it said
    itself (method of moments, as for a variance component: any text on random effects), drawn
    towards nothing while there are few. A bid that foretold no interval, or whose real cost is not
    all known, tells nothing.
    """
    beyond = [square for bid, outcome in past if (square := _beyond(bid, outcome)) is not None]
    return math.sqrt(max(sum(beyond) / (len(beyond) + JOBS), 0.0)) if beyond else 0.0


def _beyond(bid: Bid, outcome: BidOutcome) -> float | None:
    if bid.chances is None or outcome.lacks:
        return None
    said = next((one for one in bid.chances.intervals if one.level == LEVEL), None)
    real = float(outcome.cost + outcome.overhead)
    if said is None or said.low <= 0 or real <= 0:
        return None
    low, high = math.log(said.low), math.log(said.high)
    off = max(-FAR, min(FAR, math.log(real) - (low + high) / 2))
    told = _own(bid, (high - low) / 2 / NormalDist().inv_cdf((1 + LEVEL) / 2))
    return off**2 - told


def _own(bid: Bid, deviation: float) -> float:
    """The variance that its lines said by themselves, without what earlier bids added to it."""
    return max(deviation**2 - bid.basis.off_before**2, 0.0)
