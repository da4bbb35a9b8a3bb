"""From words to entries. Pure: no disk, no clock, no network."""

from joblog.dictation.choose import (
    Judged,
    best,
    best_of,
    fields_doubted,
    judged_by,
    read_heard,
    weigh_up,
)
from joblog.dictation.competing import competing
from joblog.dictation.draft import Context
from joblog.dictation.facts import fact_of
from joblog.dictation.hypotheses import candidates
from joblog.dictation.judgement import SHIPPED, Judgement
from joblog.dictation.paragraphs import sentences
from joblog.dictation.read import after, read
from joblog.dictation.told import told, words_told
from joblog.dictation.transfers import jobs_called

__all__ = [
    "SHIPPED",
    "Context",
    "Judged",
    "Judgement",
    "after",
    "best",
    "best_of",
    "candidates",
    "competing",
    "fact_of",
    "fields_doubted",
    "jobs_called",
    "judged_by",
    "read",
    "read_heard",
    "sentences",
    "told",
    "weigh_up",
    "words_told",
]
