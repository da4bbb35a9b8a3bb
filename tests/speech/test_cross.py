"""Lines put to every recognizer, whatever it listed itself."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from said import CLIPS, JOB

from joblog.audio.decode import Samples
from joblog.model import Alternative, Hearing, Scored, Vocabulary
from joblog.speech import Scorer, cross_score, listen

SOUND: Samples = np.zeros(16_000, np.float32)


@dataclass
class Judge:
    """A recognizer that hears one line, and has an opinion of some."""

    name: str
    line: str
    opinions: dict[str, float] = field(default_factory=dict)

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        return (Hearing(self.name, self.line, alternatives=(Alternative(self.line, 0.0),)),)

    def score(
        self, samples: Samples, lines: Sequence[str], vocabulary: Vocabulary
    ) -> tuple[float | None, ...]:
        return tuple(self.opinions.get(line) for line in lines)


@dataclass
class Deaf:
    """One that cannot score."""

    name: str = "trade"

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        return (Hearing(self.name, "used four sticks"),)


TRADE = Judge("trade", "used four sticks", {"used four sticks": 90.0, "used forty sticks": 84.0})
GENERAL = Judge("general", "used forty sticks", {"used four sticks": -9.0, "used forty sticks": -4})


def scored(*recognizers: Judge | Deaf, more: Sequence[str] = ()) -> dict[str, Scored]:
    hearings = [one for ear in recognizers for one in ear.hear(SOUND, JOB)]

    def candidates(heard: Sequence[Hearing], vocabulary: Vocabulary) -> list[str]:
        return [*(hearing.text for hearing in heard), *more]

    return {one.text: one for one in cross_score(SOUND, hearings, JOB, recognizers, candidates)}


def test_each_recognizer_tells_of_the_line_that_the_other_heard() -> None:
    found = scored(TRADE, GENERAL)
    assert (found["used four sticks"].trade, found["used four sticks"].general) == (90.0, -9.0)
    assert (found["used forty sticks"].trade, found["used forty sticks"].general) == (84.0, -4.0)


def test_what_is_said_on_a_job_is_likelier_than_a_heap_of_words() -> None:
    likely, heap = "used four sticks", "channel wall the panel"
    general = Judge("general", heap, {heap: -1.0, likely: -2.0})
    found = scored(TRADE, general)
    assert (found[likely].language or 0) > (found[heap].language or 0)


def test_a_line_that_nobody_heard_and_nobody_holds_for_near_is_left_out() -> None:
    far = Judge("general", "used forty sticks", {"used forty sticks": -4.0, "used a stick": -40.0})
    assert "used a stick" not in scored(TRADE, far, more=["used a stick", "used no sticks"])


def test_a_line_that_was_heard_stays_however_far_it_is() -> None:
    assert scored(TRADE, Judge("general", "used for sex"))["used for sex"].general is None


def test_a_recognizer_that_cannot_score_leaves_it_to_the_others() -> None:
    assert not isinstance(Deaf(), Scorer)
    assert scored(Deaf(), GENERAL)["used four sticks"] == Scored(
        "used four sticks", None, -9.0, scored(Deaf(), GENERAL)["used four sticks"].language
    )
    assert scored(Deaf()) == {}


def test_an_utterance_of_a_recording_keeps_what_was_scored_and_how_loud_it_was() -> None:
    def candidates(heard: Sequence[Hearing], vocabulary: Vocabulary) -> list[str]:
        return [hearing.text for hearing in heard]

    (utterance,) = listen(CLIPS / "used.ogg", JOB, [TRADE, GENERAL], candidates).utterances
    assert {one.text for one in utterance.scored} == {"used four sticks", "used forty sticks"}
    assert utterance.level is not None
    assert utterance.noise is not None
    assert utterance.level > utterance.noise


def test_without_candidates_nothing_is_scored() -> None:
    (utterance,) = listen(CLIPS / "used.ogg", JOB, [TRADE, GENERAL]).utterances
    assert utterance.scored == ()
