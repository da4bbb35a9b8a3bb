"""From words to entries. Pure: no disk, no clock, no network."""

from joblog.dictation.choose import best, read_heard
from joblog.dictation.competing import competing
from joblog.dictation.draft import Context
from joblog.dictation.facts import fact_of
from joblog.dictation.paragraphs import sentences
from joblog.dictation.read import after, read

__all__ = ["Context", "after", "best", "competing", "fact_of", "read", "read_heard", "sentences"]
