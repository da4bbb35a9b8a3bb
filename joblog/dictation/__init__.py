"""From words to entries. Pure: no disk, no clock, no network."""

from joblog.dictation.choose import Judged, best, judged_by, read_heard
from joblog.dictation.competing import competing
from joblog.dictation.draft import Context
from joblog.dictation.facts import fact_of
from joblog.dictation.judgement import SHIPPED, Judgement
from joblog.dictation.paragraphs import sentences
from joblog.dictation.read import after, read
from joblog.dictation.told import told, words_told

__all__ = [
    "SHIPPED",
    "Context",
    "Judged",
    "Judgement",
    "after",
    "best",
    "competing",
    "fact_of",
    "judged_by",
    "read",
    "read_heard",
    "sentences",
    "told",
    "words_told",
]
