"""Whatever is said in whatever order: nothing is lost, and the conversation knows what stands."""

from dataclasses import dataclass, field, replace

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.dictation.pointing import LOOKED
from joblog.listening.acts import (
    Accept,
    Act,
    Ask,
    Drop,
    Ignore,
    Keep,
    KeepBoth,
    Replace,
    Settle,
)
from joblog.model import Entry
from tests.listening.talking import Talk, talk

LINES = (
    "north eave fourteen and five eighths",
    "used three sheets of soffit",
    "used about four sheets of soffit",
    "started at seven thirty",
    "the ladder is on the south eave",
    "north eave fourteen and a half and used two sticks of fascia",
    "north eave twelve and a half, no wait, make that thirteen and a half",
    "scratch that",
    "forty and five eighths",
    "fourteen and five eighths",
    "four",
    "keep both",
    "photo note",
    "pause",
    "resume",
    "yes",
    "no",
    "the second",
    "same again",
    "make it nine",
    "make it nine, no, ten",
    "not three sheets, seven",
    "that was fascia, not soffit",
    "used two sticks of fascia, and not three sheets, seven",
)
HEARD_OTHERWISE = {
    "north eave fourteen and five eighths": "north eave forty and five eighths",
    "used three sheets of soffit": "used thirteen sheets of soffit",
    "forty and five eighths": "fourteen and five eighths",
    "scratch that": "scratch at",
}


@dataclass
class Line:
    """One entry of a book, as a person's decisions leave it."""

    entry: Entry
    doubts: int
    standing: str = "heard"


@dataclass
class Notebook:
    """A book that does what the acts say, and holds that they can be done."""

    lines: dict[int, Line] = field(default_factory=dict)
    undo: tuple[int, Line, int] | None = None

    def do(self, acts: tuple[Act, ...]) -> None:
        own: list[int] = []
        for act in acts:
            match act:
                case Keep(reading):
                    own = self._keep(reading.entries, {doubt.entry for doubt in reading.doubts})
                case Drop(id):
                    self._standing(id).standing = "dropped"
                case Replace(id, by, _, doubts):
                    self.undo = (id, replace(self._standing(id)), own[0])
                    self.lines[id] = Line(by, len(doubts))
                    self.lines[own[0]].standing = "dropped"
                case Settle(id, by, _):
                    self._standing(id)
                    self.lines[id] = Line(by, 0, "accepted")
                case KeepBoth():
                    assert self.undo is not None
                    changed, before, given_up = self.undo
                    self.lines[changed] = before
                    self.lines[given_up].standing = "heard"
                    self.undo = None
                case Accept(ids):
                    for id in ids:
                        assert self._standing(id).doubts == 0
                        self.lines[id].standing = "accepted"
                case _:
                    pass

    def _keep(self, entries: tuple[Entry, ...], doubted: set[int]) -> list[int]:
        ids: list[int] = []
        before: list[int] = []
        for at, entry in enumerate(entries):
            id = len(self.lines) + 1
            ids.append(id)
            self.lines[id] = Line(entry, int(at in doubted))
            if entry.kind != "correction":
                before.append(id)
                continue
            self.lines[id].standing = "said"
            if entry.back >= len(before):
                continue
            meant = before[-1 - entry.back]
            if entry.replacement is not None:
                self.lines[meant] = Line(entry.replacement, int(at in doubted))
            elif at not in doubted:
                self.lines[meant].standing = "dropped"
                before.remove(meant)
        return ids

    def _standing(self, id: int) -> Line:
        assert self.lines[id].standing != "dropped"
        return self.lines[id]

    def stands(self) -> tuple[Entry, ...]:
        """As far back as words can point."""
        found = [one.entry for one in self.lines.values() if one.standing in ("heard", "accepted")]
        return tuple(found[-LOOKED:])


moments = st.lists(
    st.tuples(
        st.sampled_from(LINES),
        st.booleans(),
        st.sampled_from((0.6, 1.5, 4.0)),
        st.booleans(),
        st.sampled_from((None, -14.0)),
    ),
    min_size=3,
    max_size=12,
)


@settings(max_examples=120, deadline=None)
@given(moments)
def test_the_book_and_the_conversation_agree_on_what_stands(
    said: list[tuple[str, bool, float, bool, float | None]],
) -> None:
    talking, book = talk(), Notebook()
    for line, once, after, answered, level in said:
        other = None if once else HEARD_OTHERWISE.get(line)
        acts = talking.hears(
            line, other=other, sure=0.8, after=after, answered=answered, level=level
        )
        book.do(acts)
        assert sum(isinstance(act, Keep | Ignore) for act in acts) == 1
        assert sum(isinstance(act, Ask) for act in acts) <= 1
        assert talking.conversation.context.told == book.stands()
    ending(talking, book)


def ending(talking: Talk, book: Notebook) -> None:
    talking.conversation.answered(talking.now)
    book.do(talking.waits(10))
    assert talking.conversation.question is None
