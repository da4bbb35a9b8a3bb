"""Whether a recording was too loud for what recorded it, so that the tops of its waves are cut."""

from __future__ import annotations

import numpy as np

from joblog.audio.decode import Samples

TOP = 0.995
"""Of the loudest sample, from which a wave is at its top. Not of full scale: recorders turn down
what was cut off before."""
MUCH = 0.02
"""The share of samples at the top from which words suffer. Our voices have at most 0.00013 unless
cut, in noise too, and 0.02 to 0.2 when they are 10 dB too loud."""
SOFTEST = 0.05
"""Of full scale: softer sound has so few steps that many samples share the highest."""


def clips(samples: Samples) -> bool:
    """Whether the sound of an utterance is cut so much that words may be misheard."""
    loud = np.abs(samples)
    top = float(loud.max(initial=0.0))
    return top >= SOFTEST and float(np.mean(loud >= TOP * top)) >= MUCH
