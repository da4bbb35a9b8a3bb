"""Decisions on voices that he is not: what stands in for his own while there are too few.

`python -m tests.bench.one_voice --strangers` makes it of what was heard of voices that no
recognizer was trained on, judged by the weights that come with joblog; it is made anew when these
are fitted anew. Not measured yet (no voices): as it stands, it asks below `DOUBTFUL`.
"""

from joblog.dictation.judgement import DOUBTFUL
from joblog.voice.promise import Strangers

STRANGERS = Strangers(entries=400, voices=0, wrong=(DOUBTFUL, DOUBTFUL))
