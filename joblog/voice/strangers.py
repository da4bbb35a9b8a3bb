"""Decisions on voices that he is not: what stands in for his own while there are too few.

`python -m tests.bench.one_voice --strangers all` makes it of what was heard of voices that no
recognizer was trained on, saying phrases that are read right as text, clean and in noise, judged by
the weights that come with joblog; it is made anew when these are fitted anew.
"""

from joblog.voice.promise import Strangers

STRANGERS = Strangers(
    entries=1688,
    voices=3,
    wrong=(
        0.56,
        0.6234,
        0.6285,
        0.6321,
        0.646,
        0.6689,
        0.67,
        0.6861,
        0.7255,
        0.7753,
        0.7898,
        0.7911,
        0.7912,
        0.8105,
        0.8363,
        0.8468,
        0.8503,
        0.8587,
        0.8807,
        0.8841,
        0.8868,
        0.9336,
        0.941,
        0.9578,
        0.9638,
        0.9697,
        0.9751,
        0.9813,
        0.9851,
        0.9897,
        0.9939,
    ),
)
