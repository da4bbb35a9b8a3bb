"""The listening loop on scripted sound: what is kept, what is answered, and when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from joblog.aloud.beeps import beep
from joblog.audio.decode import RATE, samples
from joblog.audio.level import Meter
from joblog.audio.voice import AIR
from joblog.book import BookError
from joblog.listening import session as room
from joblog.listening.conversation import OWN_VOICE
from joblog.listening.cut_walk import CutWalk
from joblog.listening.session import Answered, Caught, Found, Loudness, SoFar, listen
from joblog.model import Piece
from joblog.service import Desk, ServiceError, listening, record
from tests.audio.sounds import even_babble
from tests.listening.ladder import (
    BEGUN,
    MEASURE,
    OTHER,
    Ladder,
    Line,
    a_desk,
    made,
    on_ladder,
    session,
)

ELEVEN = "north eave 95/8"
FOURTEEN = "south eave 29/2"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with a_desk(tmp_path) as desk:
        yield desk


def seconds_of(at: datetime) -> float:
    return (at - BEGUN).total_seconds()


def whole(sound: np.ndarray) -> np.ndarray:
    return (sound * 32767).astype(np.int16)


# --- kept and answered ------------------------------------------------------------------------


def test_an_utterance_is_kept_with_its_moment_and_read_back_once(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE))
    assert ladder.standing() == [(ELEVEN, "heard")]
    [recording] = record.recordings(desk)
    assert seconds_of(recording.made.at) == pytest.approx(1.0 - AIR, abs=0.1)
    assert recording.seconds == pytest.approx(1.5 + 2 * AIR, abs=0.1)
    [answer] = ladder.of(Answered)
    assert answer.words == "north eave, eleven and seven eighths"
    assert answer.begin - 2.5 == pytest.approx(answer.after, abs=0.1)
    assert len(ladder.played) == 1
    assert ladder.waiting() == []


def test_what_is_kept_is_the_microphone_s_sound_to_the_sample(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE, decibels=-20.0))
    sound = np.concatenate([block.sound for block in ladder.blocks()])
    listen(session(ladder))
    [recording] = record.recordings(desk)
    kept = samples(desk.book.media(recording.sha256))
    at = round(seconds_of(recording.made.at) * RATE)
    np.testing.assert_array_equal(kept, sound[at : at + len(kept)] / np.float32(32768))


def test_its_sound_is_on_the_disk_before_anything_hears_it(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE))
    seen: list[int] = []
    ladder.deaf = lambda said: bool(seen.append(len(ladder.waiting())))
    listen(session(ladder))
    assert seen == [1]


def test_the_answer_waits_until_he_has_been_silent_and_comes_before_the_pause_is_over(
    desk: Desk,
) -> None:
    [answer] = on_ladder(desk, Line(1.0, MEASURE)).of(Answered)
    assert answer.after is not None
    assert answer.after + 0.05 >= room.SOON
    assert answer.after < 0.8


def test_what_may_well_go_on_is_answered_only_after_the_longer_pause(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, "north eave eleven"), seconds=5)
    [answer] = ladder.of(Answered)
    assert answer.after is not None
    assert answer.after > 0.75


def test_a_pause_and_then_the_rest_are_one_utterance(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, "north eave eleven"), Line(2.9, "and seven eighths"))
    assert ladder.caught == [MEASURE]
    assert ladder.standing() == [(ELEVEN, "heard")]
    assert ladder.answers == ["north eave, eleven and seven eighths"]
    assert len(record.recordings(desk)) == 1
    assert ladder.waiting() == []


def test_one_who_goes_on_stops_the_first_answer_and_is_heard_as_one(desk: Desk) -> None:
    more = "scratch that north eave fourteen"
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(3.2, more, 2.0), seconds=8)
    assert len(ladder.of(Found)) >= 2
    assert ladder.stops == 1
    began, ended = ladder.played[0]
    assert began <= 3.2 < ended < 3.7
    assert ladder.caught == [f"{MEASURE} {more}"]
    assert ladder.standing() == [("north eave 14", "heard")]
    assert len(record.recordings(desk)) == 1


def test_two_utterances_are_two_in_the_order_in_which_they_were_said(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(6.0, OTHER))
    assert ladder.caught == [MEASURE, OTHER]
    assert [one for one, _ in ladder.standing()] == [ELEVEN, FOURTEEN]
    first, second = ladder.of(Caught)
    assert first.end < second.begin


def test_an_utterance_that_was_caught_while_another_was_heard_is_read_after_it(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), Line(4.0, "fourteen and a half"), seconds=12)
    slow = session(ladder)
    slow.doing.seconds = 4.0  # type: ignore[attr-defined]
    listen(slow)
    assert ladder.caught == [MEASURE, "fourteen and a half"]
    assert [one for one, _ in ladder.standing()] == [ELEVEN, "north eave 29/2"]


def test_an_answer_that_found_no_silence_for_long_is_not_given(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=12)
    slow = session(ladder)
    slow.doing.seconds = room.STALE + 0.5  # type: ignore[attr-defined]
    listen(slow)
    assert ladder.played == []
    assert ladder.standing() == [(ELEVEN, "heard")]


def test_nothing_said_keeps_nothing_and_answers_nothing(desk: Desk) -> None:
    ladder = on_ladder(desk, seconds=5)
    assert (ladder.played, ladder.caught, ladder.asked) == ([], [], [])
    assert record.recordings(desk) == ()


def test_words_are_shown_while_they_are_said(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), Line(5.0, OTHER))

    class Words:
        ended = False
        fed: list[int] = []  # noqa: RUF012

        def begin(self) -> None:
            self.fed.append(0)

        def feed(self, sound: np.ndarray) -> str:
            self.fed[-1] += len(sound)
            return f"{len(self.fed)}: {self.fed[-1]}"

    words = Words()
    listen(session(ladder, words=words))
    shown = [event.words for event in ladder.of(SoFar)]
    first, second = words.fed
    assert first / RATE == pytest.approx(AIR + 1.5 + 0.8, abs=0.15)
    assert shown.index(f"1: {first}") < shown.index(f"2: {second}") == len(shown) - 1
    assert first / RATE / 0.032 == pytest.approx(shown.index(f"1: {first}"), abs=10)


def test_what_may_go_on_is_answered_at_once_where_the_words_themselves_have_ended(
    desk: Desk,
) -> None:
    class Words:
        ended = True

        def begin(self) -> None:
            """They begin."""

        def feed(self, sound: np.ndarray) -> str:
            return ""

    ladder = made(desk, Line(1.0, "north eave eleven"), seconds=5)
    listen(session(ladder, words=Words()))
    [answer] = ladder.of(Answered)
    assert answer.after is not None
    assert answer.after < 0.75


def test_the_last_answer_is_heard_to_its_end_where_time_passes(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=3.35)
    live = session(ladder)
    live.doing.live = True  # type: ignore[attr-defined]
    looks = iter([True, True, False])
    live.speaker = Once(ladder, looks)  # type: ignore[assignment]
    listen(live)
    assert len(ladder.played) == 1
    assert next(looks, None) is None


class Once:
    """A loudspeaker that is still playing as often as it is asked so many times."""

    def __init__(self, ladder: Ladder, looks: Iterator[bool]) -> None:
        self._looks, self.play, self.stop = looks, ladder.play, ladder.stop

    @property
    def playing(self) -> bool:
        return next(self._looks)


def test_loudness_is_told_once_a_second(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), seconds=6.2)
    told = [event.seconds for event in ladder.of(Loudness)]
    assert len(told) == 6
    assert max(event.decibels for event in ladder.of(Loudness)) > -40


# --- decided by ear ---------------------------------------------------------------------------


def test_silence_accepts_three_seconds_after_the_answer_and_not_before(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=9)
    standing: list[tuple[float, str]] = []
    ladder.at_block = lambda now: standing.extend((now, how) for _, how in ladder.standing())
    listen(session(ladder))
    [(_, ended)] = ladder.played
    accepted = min(now for now, how in standing if how == "accepted")
    assert accepted - ended == pytest.approx(3.0, abs=0.15)
    assert accepted - ended >= 3.0


def test_scratch_that_drops_the_last_one(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(5.2, "scratch that", 1.0), seconds=12)
    assert ladder.standing() == []
    assert ladder.answers[1] == "dropped: eleven and seven eighths"
    assert len(record.recordings(desk)) == 2


def test_scratch_that_into_the_answer_stops_it_and_drops_the_last_one(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(4.0, "scratch that", 1.0), seconds=9)
    began, ended = ladder.played[0]
    assert began < 4.0 < ended < 4.5
    assert ladder.stops == 1
    assert ladder.standing() == []


def test_a_bare_number_right_after_the_answer_replaces_the_one_before(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(5.5, "fourteen and a half"))
    assert ladder.standing() == [("north eave 29/2", "accepted")]


def test_keep_both_gives_both_numbers_back(desk: Desk) -> None:
    again = (Line(5.5, "fourteen and a half"), Line(10.5, "keep both", 1.0))
    ladder = on_ladder(desk, Line(1.0, MEASURE), *again)
    assert sorted(one for one, _ in ladder.standing()) == ["north eave 29/2", ELEVEN]


def test_a_doubtful_number_is_asked_once_and_the_answer_settles_it(desk: Desk) -> None:
    doubtful = Line(1.0, "north eave fourteen", other="north eave forty")
    ladder = on_ladder(desk, doubtful, Line(6.0, "forty", 0.6), seconds=10)
    assert [event.question for event in ladder.of(Answered)] == [True, False]
    assert ladder.standing() == [("north eave 40", "accepted")]


def test_a_doubtful_number_that_nobody_answers_for_stays_doubtful(desk: Desk) -> None:
    doubtful = Line(1.0, "north eave fourteen", other="north eave forty")
    ladder = on_ladder(desk, doubtful, seconds=10)
    assert [event.question for event in ladder.of(Answered)] == [True]
    [entry] = ladder.entries()
    assert entry.open


# --- paused -----------------------------------------------------------------------------------


def test_paused_keeps_nothing_on_the_disk_until_it_is_told_to_resume(desk: Desk) -> None:
    ladder = made(
        desk,
        Line(1.0, "pause", 0.6),
        Line(4.0, MEASURE),
        Line(8.0, "resume", 0.6),
        Line(11.0, OTHER),
    )
    seen: list[tuple[float, int, int]] = []

    def look(now: float) -> None:
        seen.append((now, len(ladder.waiting()), len(record.recordings(desk))))

    ladder.at_block = look
    listen(session(ladder))
    assert {row[1:] for row in seen if 3.0 < row[0] < 8.6} == {(0, 1)}
    assert ladder.standing() == [(FOURTEEN, "heard")]
    assert ladder.answers == ["paused", "listening", "south eave, fourteen and a half"]
    assert [event.ignored for event in ladder.of(Caught)] == [None, "paused", None, None]
    assert len(record.recordings(desk)) == 3


def test_what_he_was_saying_when_it_was_paused_leaves_nothing_either(desk: Desk) -> None:
    """Caught before "pause" was understood, so that its sound is in the spool already."""
    ladder = made(desk, Line(1.0, "pause", 0.6), Line(3.0, MEASURE), seconds=12)
    slow = session(ladder)
    slow.doing.seconds = 4.0  # type: ignore[attr-defined]
    listen(slow)
    assert [event.ignored for event in ladder.of(Caught)] == [None, "paused"]
    assert ladder.waiting() == []
    assert len(record.recordings(desk)) == 1


def test_while_paused_the_recording_of_the_day_takes_nothing_either(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, "pause", 0.6), Line(4.0, MEASURE), Line(8.0, "resume", 0.6))
    recorded: list[float] = []
    listen(session(ladder, record=lambda sound, at: recorded.append(seconds_of(at))))
    assert {int(second) for second in recorded} == {0, 1, 2, 9, 10}


# --- whatever happens -------------------------------------------------------------------------


def test_a_gap_in_the_sound_ends_the_utterance(desk: Desk) -> None:
    ladder = on_ladder(
        desk, Line(1.0, MEASURE, 1.0), Line(62.3, OTHER), seconds=66, missing={2.0: 60.0}
    )
    assert [one for one, _ in ladder.standing()] == [ELEVEN, FOURTEEN]
    first, second = record.recordings(desk)
    assert seconds_of(first.made.at) == pytest.approx(1.0 - AIR, abs=0.1)
    assert seconds_of(second.made.at) == pytest.approx(62.3 - AIR, abs=0.4)


def test_a_gap_in_the_sound_is_no_silence_that_accepts(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), seconds=70, missing={6.0: 60.0})
    assert ladder.played[0][1] < 6.0
    assert ladder.standing() == [(ELEVEN, "heard")]


def test_ctrl_c_keeps_what_was_said_by_then(desk: Desk) -> None:
    ladder = on_ladder(desk, Line(1.0, MEASURE), seconds=30, interrupted=2.5)
    assert ladder.standing() == [(ELEVEN, "heard")]
    assert ladder.waiting() == []


def test_ctrl_c_keeps_what_is_still_being_heard(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), Line(4.0, OTHER), seconds=30, interrupted=6.0)
    slow = session(ladder)
    slow.doing.seconds = 100.0  # type: ignore[attr-defined]
    listen(slow)
    assert [one for one, _ in ladder.standing()] == [ELEVEN, FOURTEEN]


def test_what_makes_sound_and_hears_is_closed_at_the_end(desk: Desk) -> None:
    over = session(made(desk, seconds=0.5))
    listen(over)
    assert over.doing.closed  # type: ignore[attr-defined]
    assert over.speaking.closed  # type: ignore[attr-defined]


def test_only_one_listens_at_a_time(desk: Desk) -> None:
    with (
        listening.open_spool(desk),
        pytest.raises(ServiceError, match="is being listened for already"),
    ):
        on_ladder(desk, Line(1.0, MEASURE))
    assert on_ladder(desk, Line(1.0, MEASURE)).standing() == [(ELEVEN, "heard")]


def test_what_an_earlier_run_left_in_the_spool_is_kept_first(desk: Desk) -> None:
    left = BEGUN - timedelta(hours=1)
    with listening.open_spool(desk) as spool:
        spool.put(whole(even_babble(1.5)), left)
    ladder = made(desk, Line(-3600.0, OTHER), Line(1.0, MEASURE))
    ladder.seconds = 4.0
    listen(session(ladder))
    assert ladder.caught == [OTHER, MEASURE]
    assert [one for one, _ in ladder.standing()] == [FOURTEEN, ELEVEN]
    assert [event.ignored for event in ladder.of(Caught)] == ["caught before, kept now", None]
    assert record.recordings(desk)[0].made.at == left.astimezone(UTC)
    assert ladder.waiting() == []


def test_what_an_earlier_run_left_is_kept_once_though_its_beginning_was_left_too(
    desk: Desk,
) -> None:
    left = BEGUN - timedelta(hours=1)
    sound = whole(even_babble(3.0))
    with listening.open_spool(desk) as spool:
        spool.put(sound[: 2 * RATE], left)
        spool.put(sound, left)
    ladder = made(desk, Line(-3600.0, OTHER, 3.0), seconds=1.0)
    listen(session(ladder))
    assert ladder.caught == [OTHER]
    assert ladder.waiting() == []


def test_where_the_ear_is_lost_the_sound_is_kept_and_he_is_warned_once(desk: Desk) -> None:
    ladder = on_ladder(
        desk, Line(1.0, MEASURE), Line(5.0, OTHER), seconds=9, deaf=lambda said: True
    )
    assert len(record.recordings(desk)) == 2
    assert ladder.standing() == []
    assert ladder.warnings == [
        "something was not heard: what hears it came to an end; it is begun anew"
    ]


def test_an_ear_that_is_lost_once_hears_the_next_one(desk: Desk) -> None:
    lost = iter([True, False])
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(5.0, OTHER), deaf=lambda said: next(lost))
    assert ladder.caught == ["", OTHER]
    assert ladder.standing() == [(FOURTEEN, "heard")]


def test_a_lost_ear_keeps_what_an_earlier_run_left_too(desk: Desk) -> None:
    with listening.open_spool(desk) as spool:
        spool.put(whole(even_babble(1.5)), BEGUN - timedelta(hours=1))
    ladder = on_ladder(desk, seconds=1.0, deaf=lambda said: True)
    assert len(record.recordings(desk)) == 1
    assert len(ladder.warnings) == 1
    assert ladder.waiting() == []


def test_where_the_disk_refuses_he_is_told_so_and_listening_goes_on(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = listening.Spool.put
    full = iter([True, True, False])

    def refuses(self: listening.Spool, sound: np.ndarray, at: datetime) -> Path:
        if next(full, False):
            raise BookError("the disk is full")
        return put(self, sound, at)

    monkeypatch.setattr(listening.Spool, "put", refuses)
    ladder = on_ladder(desk, Line(1.0, MEASURE), Line(12.0, OTHER), seconds=14)
    assert ladder.warnings == ["what you say is not kept: the disk is full"]
    assert ladder.answers[1] == ladder.warnings[0]
    assert ladder.caught == [MEASURE, OTHER]
    assert ladder.standing() == [(FOURTEEN, "heard")]


def test_where_the_book_refuses_the_sound_waits_in_the_spool(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuses(*given: object) -> None:
        raise ServiceError("the book is locked")

    with monkeypatch.context() as closed:
        closed.setattr(listening, "keep_utterance", refuses)
        ladder = on_ladder(desk, Line(1.0, MEASURE), seconds=4)
    assert ladder.warnings == ["what you said waits beside the book: the book is locked"]
    assert len(ladder.waiting()) == 1
    later = made(desk, *ladder.script, seconds=1.0)
    listen(session(later))
    assert later.standing() == [(ELEVEN, "heard")]
    assert later.waiting() == []


# --- how it answers ---------------------------------------------------------------------------


def test_beeps_answer_without_words_and_silence_accepts_nothing(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=9)
    listen(session(ladder, voice=None))
    [(began, ended)] = ladder.played
    sound, rate = beep("kept")
    assert ended - began == pytest.approx(len(sound) / rate)
    assert ladder.standing() == [(ELEVEN, "heard")]


def test_answers_may_be_done_without(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=9)
    listen(session(ladder, silent=True, greets=True))
    assert (ladder.played, ladder.answers) == ([], [])
    assert ladder.standing() == [(ELEVEN, "heard")]


def test_a_voice_that_fails_is_replaced_by_a_beep(desk: Desk) -> None:
    ladder = made(desk, Line(1.0, MEASURE), seconds=5)
    ladder.voice.hoarse = True
    listen(session(ladder))
    [(began, ended)] = ladder.played
    sound, rate = beep("kept")
    assert ended - began == pytest.approx(len(sound) / rate)


def test_he_is_told_when_he_may_speak_and_at_which_place_he_was(desk: Desk) -> None:
    on_ladder(desk, Line(1.0, MEASURE))
    ladder = made(desk, seconds=3, begun=BEGUN + timedelta(hours=1))
    listen(session(ladder, greets=True))
    assert ladder.answers == ["listening, north eave"]


def test_its_own_voice_is_neither_heard_nor_in_its_way(desk: Desk) -> None:
    for echo in (-6.0, -25.0):
        ladder = made(desk, Line(5.0, MEASURE), seconds=13, echo=echo)
        listen(session(ladder, greets=True))
        assert ladder.caught == [MEASURE]
        assert ladder.stops == 0


def test_a_loudspeaker_that_is_turned_up_does_not_stop_every_answer(desk: Desk) -> None:
    ladder = made(desk, Line(3.0, MEASURE), Line(11.0, OTHER), seconds=16)

    def turned_up(now: float) -> None:
        ladder.echo = -6.0 if now > 2.5 else None

    ladder.at_block = turned_up
    listen(session(ladder, greets=True))
    assert ladder.stops == 2
    assert [began < 8.0 for began, _ in ladder.played] == [True] * 4 + [False]
    assert [ended - began for began, ended in ladder.played][3:] == [pytest.approx(1.5)] * 2
    assert [one for one, _ in ladder.standing()] == [ELEVEN, FOURTEEN]


def test_its_own_voice_after_an_utterance_is_over_is_told_by_its_words(desk: Desk) -> None:
    ladder = made(desk, Line(3.0, "north eave eleven"), Line(11.0, OTHER), seconds=16)

    def turned_up(now: float) -> None:
        ladder.echo = -6.0 if now > 2.5 else None

    ladder.at_block = turned_up
    listen(session(ladder, greets=True))
    assert ladder.stops == 1
    assert [event.ignored for event in ladder.of(Caught)] == [None, OWN_VOICE, None]
    assert [one for one, _ in ladder.standing()] == ["north eave 11", FOURTEEN]


def test_a_warning_is_said_once_and_again_only_after_a_while(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    ladder = on_ladder(desk, seconds=35.0)
    [warning] = ladder.warnings
    assert "hears nothing" in warning
    assert ladder.answers == [warning]
    monkeypatch.setattr(room, "AGAIN", 5.0)
    assert len(on_ladder(desk, seconds=35.0).warnings) > 2


def test_what_is_wrong_for_a_moment_only_is_not_worth_a_word(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    ladder = made(desk, seconds=18)
    flickering = property(lambda meter: "it is too loud" if int(ladder.now) % 9 else None)
    monkeypatch.setattr(Meter, "warning", flickering)
    listen(session(ladder))
    assert ladder.warnings == []


def test_how_noisy_the_place_is_is_told_once(desk: Desk) -> None:
    ladder = on_ladder(desk, seconds=8.0)
    assert ladder.told == ["noise of the place: -120 dB"]
    assert ladder.played == []


def test_while_paused_he_is_reminded_from_time_to_time(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(room, "STILL_PAUSED", 3.0)
    ladder = on_ladder(desk, Line(1.0, "pause", 0.6), seconds=10.0)
    assert ladder.answers == ["paused", "still paused", "still paused"]


def test_a_warning_waits_until_nothing_can_be_put_right_any_more(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(room, "LASTING", 1)
    ladder = made(desk, Line(1.0, MEASURE), Line(6.5, "fourteen and a half"), seconds=15)
    loud = property(lambda meter: "it is too loud" if ladder.now > 2.5 else None)
    monkeypatch.setattr(Meter, "warning", loud)
    listen(session(ladder))
    assert ladder.standing() == [("north eave 29/2", "accepted")]
    assert ladder.answers[2:] == ["it is too loud"]
    [_, (_, ended), (began, _)] = ladder.played
    assert began - ended >= 3.0


# --- the cut list -----------------------------------------------------------------------------


@dataclass
class OnPaper:
    """A cut list that counts for itself."""

    walked: CutWalk
    moments: list[datetime]

    def walk(self, at: datetime) -> CutWalk:
        return self.walked

    def one_more(self, at: datetime) -> None:
        self.walked = self.walked.one_more()
        self.moments.append(at)


def a_list() -> OnPaper:
    return OnPaper(CutWalk((Piece(29, 1, "A"), Piece(14, 2, ""), Piece(6, 1, ""))), [])  # type: ignore[arg-type]


def asked(desk: Desk, cuts: OnPaper | None, *lines: str) -> Ladder:
    script = [Line(1.0 + 5.0 * at, line, 1.0) for at, line in enumerate(lines)]
    ladder = made(desk, *script)
    listen(session(ladder, cuts=cuts))
    return ladder


def test_a_cut_list_is_walked_through_by_voice(desk: Desk) -> None:
    cuts = a_list()
    ladder = asked(
        desk, cuts, "what's next to cut", "next one", "how many are left", "read back the cut list"
    )
    assert ladder.answers == [
        "next, twenty nine, A",
        "next, fourteen, one more like it",
        "three left of four",
        "two at fourteen; one at six",
    ]
    assert cuts.walked.done == 1
    assert [seconds_of(at) for at in cuts.moments] == [pytest.approx(6.0 - AIR, abs=0.1)]


def test_one_who_goes_on_after_next_one_has_cut_one_piece(desk: Desk) -> None:
    cuts = a_list()
    ladder = made(desk, Line(1.0, "next one", 1.0), Line(2.6, "please", 0.6), seconds=6)
    listen(session(ladder, cuts=cuts))
    assert ladder.caught == ["next one please"]
    assert cuts.walked.done == 1


def test_without_a_cut_list_he_is_told_so(desk: Desk) -> None:
    assert asked(desk, None, "what's next to cut", "next one").answers == [
        "there is no cut list",
        "there is no cut list",
    ]
