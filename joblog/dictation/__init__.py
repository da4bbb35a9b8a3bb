"""From words to entries. Pure: no disk, no clock, no network."""

from joblog.dictation.choose import best, best_of, read_heard, weigh_up
from joblog.dictation.competing import competing
from joblog.dictation.draft import Context
from joblog.dictation.facts import fact_of
from joblog.dictation.hypotheses import candidates
from joblog.dictation.paragraphs import sentences
from joblog.dictation.read import after, read

__all__ = [
    "Context",
    "after",
    "best",
    "best_of",
    "candidates",
    "competing",
    "fact_of",
    "read",
    "read_heard",
    "sentences",
    "weigh_up",
]
