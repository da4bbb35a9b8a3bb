"""Backups: the book's states kept in a folder elsewhere, and a whole book made of one again."""

from __future__ import annotations

from joblog.backup.already import copied_already, restored_already
from joblog.backup.glance import glance
from joblog.backup.lookup import Lookup
from joblog.backup.memory import due, identity
from joblog.backup.nouns import Far, Kept, Outcome, Progress, Restored, State
from joblog.backup.restoring import restore
from joblog.backup.stated import states
from joblog.backup.taking import back_up

__all__ = [
    "Far", "Kept", "Lookup", "Outcome", "Progress", "Restored", "State", "back_up",
    "copied_already", "due",
    "glance", "identity", "restore", "restored_already", "states",
]  # fmt: skip
