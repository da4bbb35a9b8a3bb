"""A question as it is put: what is asked, the answers with their keys, and what was heard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.questions import Answer, Question
from joblog_tui.wording import DOUBT, FAINT, clock, heard_table, in_doubt

MOST_ENTRIES = 4
"""Of a question about more, only the first are shown."""


@dataclass(frozen=True, slots=True)
class Heard:
    """An entry with what there is of its sound."""

    entry: BookEntry
    utterance: BookUtterance | None = None
    recording: str | None = None
    """Name of the file it was heard in; None for what was typed."""


def question_card(
    question: Question, heard: Sequence[Heard], zone: str, width: int, cheap: int = 0
) -> Content:
    """The whole question as text. `heard` holds its entries, each with its sound.

    What it takes to decide stands first: what is asked, what was heard, how it stands. An answer
    has one line of at most `width` cells, so that the less likely are what may be out of sight.
    `cheap` is how many questions, this one too, can be kept in one go; 0 where they cannot.
    """
    shown = heard[:MOST_ENTRIES]
    answers = [_answer(number, one) for number, one in enumerate(question.answers, start=1)]
    parts = [
        Content.styled(plain(question.asks), "bold"),
        *_about(question, zone),
        *(line for one in shown for line in heard_lines(one)),
        Content(""),
        *_as_it_stands(question),
        *([key_line("A", f"keep all {cheap} that change no figure")] if cheap else []),
        *(line.truncate(width, ellipsis=True) for line in answers),
        Content(""),
        *(line for one in shown for line in source_lines(one)),
    ]
    return Content("\n").join(parts)


def _about(question: Question, zone: str) -> list[Content]:
    """The entries as they stand, where no line of the answers says it."""
    if len(question.entries) == 1:
        if question.keep:
            return []
        [entry] = question.entries
        return [Content.assemble(("? ", f"bold {DOUBT}"), in_doubt(describe(entry.entry)))]
    shown = [
        Content.assemble((f"{clock(one.at, zone)}  ", FAINT), describe(one.entry))
        for one in question.entries[:MOST_ENTRIES]
    ]
    more = len(question.entries) - len(shown)
    return [*shown, *([Content.styled(f"and {more} more", FAINT)] if more else [])]


def _answer(number: int, answer: Answer) -> Content:
    says, means = plain(answer.says), plain(answer.means)
    because = f"  ({plain(answer.because)})" if answer.because else ""
    return key_line(str(number), says, f"{'' if means == says else '  ' + means}{because}")


def _as_it_stands(question: Question) -> list[Content]:
    if not question.keep:
        return []
    if len(question.entries) > 1:
        return [key_line("a", f"keep all {len(question.entries)} as they are")]
    return [key_line("a", "keep it as it is:", f" {describe(question.entries[0].entry)}")]


def key_line(key: str, does: str, more: str = "") -> Content:
    """A key, and what it does."""
    return Content.assemble((f" {key} ", "bold $accent"), f" {does}", (more, FAINT))


def heard_lines(heard: Heard) -> list[Content]:
    """The words that an entry was read from, heard or typed, and what was not read of them."""
    entry, said = heard.entry, heard.utterance
    if said is None:
        return [Content.assemble(("typed: ", FAINT), plain(entry.said))]
    lines = [heard_table(said.utterance.hearings)]
    if entry.said not in {hearing.text for hearing in said.utterance.hearings}:
        lines.insert(0, Content.assemble(("read from: ", FAINT), plain(entry.said)))
    if said.unread:
        lines.append(Content.assemble(("not read: ", FAINT), plain(said.unread)))
    return lines


def source_lines(heard: Heard) -> list[Content]:
    """What of an entry comes from earlier words, and where in which recording it was said."""
    entry, said, lines = heard.entry, heard.utterance, []
    if said is None:
        return []
    if entry.entry.carried:
        carried = plain(", ".join(entry.entry.carried))
        lines.append(Content.styled(f"{carried}: from what was said before", FAINT))
    if heard.recording is not None:
        start = int(said.utterance.start)
        at = f"{plain(heard.recording)}, at {start // 60}:{start % 60:02}"
        lines.append(Content.styled(at, FAINT))
    return lines


def left_card(days: str, others: int, unsigned: Sequence[str]) -> Content:
    """Nothing waits any more; what can still be done with `days`: the rest accepted, signed off."""
    lines = [Content.styled("✓ Nothing left to decide", "bold $success"), Content("")]
    if others:
        word = "the other entry is" if others == 1 else f"all {others} others are"
        lines.append(key_line("a", f"{word} right", f"  {plain(days)}, nobody doubted"))
    if unsigned:
        what = unsigned[0] if len(unsigned) == 1 else f"{unsigned[0]} to {unsigned[-1]}"
        lines.append(key_line("o", f"sign off {what}"))
    if not others and not unsigned:
        lines.append(Content("Everything is signed off."))
    lines += [key_line("s", "square up"), key_line("q", "done")]
    return Content("\n").join(lines)
