"""Saying an entry again by hand."""

from __future__ import annotations

from textual.binding import Binding
from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.rereading import Reader, Revision, revise, words_of
from joblog_tui.saying import SayingScreen, preview
from joblog_tui.wording import FAINT, doubt_lines, heard_table


class CorrectScreen(SayingScreen[Revision | None]):
    """Gives back what to save, or None when it was left.

    The line starts with words that say the entry as it stands, and saving them changes nothing.
    """

    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it as it was", key_display="esc"),
    ]

    def __init__(
        self, where: str, read: Reader, entry: BookEntry, utterance: BookUtterance | None = None
    ) -> None:
        super().__init__()
        self._where = where
        self._entry = entry
        self._read = read
        self._utterance = utterance
        self.start = plain(words_of(entry, read))

    def head(self) -> str:
        return f"{self._where}: put right"

    def known(self) -> Content:
        return known(self._entry, self._utterance)

    def would(self) -> Content:
        return _AS_IT_STANDS if self._untouched else preview(self._revision(), self._entry)

    def save(self) -> None:
        if self._untouched:
            self.notify("Nothing was typed, so nothing is changed.")
            self.dismiss(None)
            return
        revision = self._revision()
        if revision.reading.entries:
            self.dismiss(revision)
        else:
            self.notify("These words say nothing to keep. Esc leaves it as it was.")

    @property
    def _untouched(self) -> bool:
        return self.words == self.start

    def _revision(self) -> Revision:
        return revise(self._entry, self.words, self._read)


_AS_IT_STANDS = Content.styled("as it stands; nothing is changed until you type", FAINT)


def known(entry: BookEntry, utterance: BookUtterance | None) -> Content:
    """What there is to go by: the entry as it stands, its doubts, and what was heard."""
    lines = [
        Content.assemble(("now: ", FAINT), (describe(entry.entry), "bold")),
        *doubt_lines(entry),
    ]
    if utterance is not None:
        lines.append(heard_table(utterance.utterance.hearings))
    return Content("\n").join(lines)
