"""What a person decided of one entry that was heard, and how much it tells.

Which decisions there are depends on what was asked, and that must not be mistaken for how often
joblog is right:

- On the card every line is known, whatever joblog thought of it: each counts whole.
- What was asked about in the review gets a verdict, right or wrong. What was not asked about gets
  one only where he sees by himself that it is wrong. Nobody knows how often he does; one time in
  four is assumed. So a wrong one that he found stands for four, and to keep the shares right what
  was asked about counts a quarter for the promise, as does what he let pass on a day that he went
  through (for the weights one in four of these counts, whole). For the weights an answer to a
  question counts whole: given its signs, it does not matter that it was asked for. These are
  Horvitz and Thompson's weights (1952), times a quarter.
- What was read back aloud was heard by him whatever joblog thought of it, through wind and saw: one
  time in two is assumed.
- What he let pass on a day on which he decided nothing counts nothing.

He is never asked about what is sure only to learn from it: one in fifty of those would be two more
questions a day, and at one wrong in two hundred it would take ten thousand entries until they told
anything. The card and the reading back tell it without a question.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from joblog.dictation import told
from joblog.model import Entry

How = Literal["card", "by ear", "in review"]
NOTICED: Mapping[How, float] = {"card": 1.0, "by ear": 0.5, "in review": 0.25}
"""How often he would find a wrong entry that was not asked about. Assumed, not measured."""


@dataclass(frozen=True, slots=True)
class Decision:
    """One entry as it was heard, and what he said of it."""

    signs: tuple[float, ...]
    """What `joblog.dictation` judges it by."""
    right: bool
    """Whether everything in it stood."""
    how: How
    asked: bool
    """Whether joblog asked about it then."""
    anyway: bool = False
    """Whether it asks about it however sure it is: the words themselves are doubted."""
    said: bool = True
    """False where he only let it pass."""
    words: frozenset[str] = frozenset()
    """Of its numbers and names, as heard."""
    meant: tuple[tuple[str, str], ...] = ()
    """Words that were heard, each with what he said it was."""
    together: int = 0
    """The same for what was said in one breath."""
    stands_for: int = 1
    """Entries that he let pass, of which this one is taken for all."""

    @property
    def share(self) -> float:
        """How much it counts for the promise."""
        found = not self.right and not self.asked
        return 1.0 if found else NOTICED[self.how] * self.stands_for


def mixed_up_in(heard: Entry, meant: Entry) -> tuple[tuple[str, str], ...]:
    """The words of an entry that were heard for others: (("fifty", "fifteen"),).

    A word is told from another where a number or name of as many words stands in its place.
    """
    from rapidfuzz.distance import Levenshtein

    before, after = told(heard), told(meant)
    found: list[tuple[str, str]] = []
    for field, words in before.items():
        others: Sequence[str] = after.get(field, ())
        if len(words) == len(others):
            steps = Levenshtein.editops(words, others)
            if all(step.tag == "replace" for step in steps):
                found += [(words[step.src_pos], others[step.dest_pos]) for step in steps]
    return tuple(found)
