"""Decisions on voices that he is not: what stands in for his own while there are too few.

`python -m tests.bench.one_voice --strangers` makes it of what was heard of voices that no
recognizer was trained on, judged by the weights that come with joblog; it is made anew when these
are fitted anew.
"""

from joblog.voice.promise import Strangers

STRANGERS = Strangers(entries=1, voices=1, wrong=())
