"""What listening keeps: each utterance once, and what was decided by ear, which can be undone."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from joblog.audio.decode import blocks
from joblog.book import Book, keep
from joblog.book.copies import kept_sounds
from joblog.dictation import read
from joblog.model import BookEntry, Doubt, Hearing, Reading, Utterance, Word
from joblog.service import Desk, ServiceError, decide, listening, open_desk, record, taking_in
from joblog.service.listening import Drop, KeepBoth, LetStand, Replace, Settle, Spool

sys.path.append(str(Path(__file__).parents[1] / "book"))
import fake_ears

AT = datetime(2026, 10, 5, 18, 31, 7, 250_000, UTC)
DAY = AT.date()
QUIET = Reading()


@dataclass
class Ladder:
    """Somebody who talks, and whose words are understood as they are written."""

    desk: Desk
    spool: Spool
    at: datetime = AT
    before: np.ndarray | None = None

    def catch(self, seconds: float = 1.5) -> tuple[Path, datetime]:
        """An utterance in the spool, of a sound of its own; it was said half a minute later."""
        self.at += timedelta(seconds=30)
        noise = np.random.default_rng(int(self.at.timestamp())).normal(0, 3000, 64_000)
        self.before = noise.astype(np.int16)
        return self.spool.put(self.before[: int(seconds * 16_000)], self.at), self.at

    def say(
        self,
        words: str,
        decision: listening.Decision | None = None,
        *,
        doubt: str | None = None,
        read_as: Reading | None = None,
    ) -> tuple[BookEntry, ...]:
        path, at = self.catch()
        reading = self.read(words) if read_as is None else read_as
        if doubt:
            reading = replace(reading, doubts=(Doubt(0, doubt),))
        return listening.keep_utterance(self.desk, path, at, heard(words), reading, decision)

    def read(self, words: str) -> Reading:
        context = listening.context_today(self.desk, self.at + timedelta(seconds=5))
        return read(words, self.desk.vocabulary, context)

    def standing(self) -> list[str]:
        """What counts or may count, in words."""
        every = record.read_entries(self.desk, DAY)
        return [said(one) + "?" * one.open for one in every if one.standing != "dropped"]


def heard(words: str, confidence: float = 0.97) -> Utterance:
    parts = tuple(Word(word, 0.1, 1.4, confidence) for word in words.split())
    hearings = (
        Hearing("trade", words, parts, (), confidence),
        Hearing("general free", words, parts, (), confidence),
    )
    return Utterance(0.1, 1.4, hearings)


def said(kept: BookEntry) -> str:
    entry = kept.entry
    amount = entry.inches if entry.inches is not None else entry.quantity
    return f"{entry.place} {amount}"


@pytest.fixture
def ladder(book: Book) -> Iterator[Ladder]:
    desk = open_desk(book, "Corner porch")
    with listening.open_spool(desk) as spool:
        yield Ladder(desk, spool)


def test_an_utterance_becomes_a_recording_with_its_words_and_entries(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit")
    [recording] = record.recordings(ladder.desk)
    assert (recording.made.at, recording.seconds) == (ladder.at, 1.5)
    assert (recording.made.source, recording.trouble) == ("container", None)
    [utterance] = ladder.desk.book.utterances("Corner porch")
    assert (utterance.recording, utterance.id) == (recording.sha256, entry.utterance)
    assert utterance.utterance == heard("north eave used three sheets of soffit")
    assert ladder.standing() == ["north eave 3"]
    assert ladder.spool.waiting() == ()


def test_the_sound_is_kept_byte_for_byte_and_known_by_what_it_sounds_like(ladder: Ladder) -> None:
    path, at = ladder.catch()
    original = path.read_bytes()
    listening.keep_utterance(ladder.desk, path, at, heard("hm"), QUIET)
    [recording] = record.recordings(ladder.desk)
    kept = ladder.desk.book.media(recording.sha256)
    assert kept.read_bytes() == original
    [sound] = kept_sounds(ladder.desk.book)
    assert sound.sound is not None
    assert len(np.concatenate(list(blocks(kept)))) == sound.sound.seconds * 16_000


def test_where_nothing_was_read_the_sound_is_kept_and_nothing_asked(ladder: Ladder) -> None:
    assert ladder.say("mumbling", read_as=QUIET) == ()
    assert len(record.recordings(ladder.desk)) == 1
    day = record.read_day(ladder.desk, DAY)
    assert (day.doubts, day.troubles) == (0, ())


def test_kept_again_after_a_kill_nothing_doubles(ladder: Ladder) -> None:
    path, at = ladder.catch()
    bytes = path.read_bytes()
    words = "north eave used three sheets of soffit"
    first = listening.keep_utterance(ladder.desk, path, at, heard(words), ladder.read(words))
    path.write_bytes(bytes)  # as if it had been killed before it was done with the spool
    again = listening.keep_utterance(ladder.desk, path, at, heard(words), ladder.read(words))
    assert again == first
    assert ladder.standing() == ["north eave 3"]
    assert ladder.spool.waiting() == ()


def test_it_neither_fails_nor_waits_while_files_are_being_taken_in(ladder: Ladder) -> None:
    with keep.taking_in(ladder.desk.book), Book.open(ladder.desk.book.folder):
        ladder.say("north eave used three sheets of soffit")
    assert ladder.standing() == ["north eave 3"]


def test_a_copy_that_passes_is_swept_by_no_other_program(
    ladder: Ladder, monkeypatch: pytest.MonkeyPatch
) -> None:
    from joblog.book import media

    copied = media._copied

    def while_another_opens_the_book(source: Path, passing: Path) -> tuple[str, int]:
        done = copied(source, passing)
        Book.open(ladder.desk.book.folder).close()
        return done

    monkeypatch.setattr(media, "_copied", while_another_opens_the_book)
    ladder.say("north eave used three sheets of soffit")
    assert ladder.standing() == ["north eave 3"]


def test_intake_that_fails_at_a_copy_takes_out_nothing_that_was_kept_meanwhile(
    ladder: Ladder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from joblog.book import intake

    path, at = ladder.catch()
    copy = tmp_path / "copy.wav"
    copy.write_bytes(path.read_bytes())
    compared = intake.compared

    def kept_meanwhile(*given: Any) -> Any:
        listening.keep_utterance(ladder.desk, path, at, heard("hm"), QUIET)
        return compared(given[0], kept_sounds(ladder.desk.book), *given[2:])

    monkeypatch.setattr(intake, "compared", kept_meanwhile)
    # It hears text files, and fails at others.
    done = intake.take_in(
        ladder.desk.book, "Corner porch", [copy], recognizers=(), listen=fake_ears.listen
    )
    assert len(done.problems) == 1
    [recording] = record.recordings(ladder.desk)
    assert ladder.desk.book.media(recording.sha256).read_bytes() == copy.read_bytes()


# --- decided by ear ---------------------------------------------------------------------------


def test_nothing_said_accepts_several_in_one_step(ladder: Ladder) -> None:
    one, *_ = ladder.say("north eave used three sheets of soffit")
    other, *_ = ladder.say("south eave used two sheets of soffit")
    accepted = listening.decide_by_ear(ladder.desk, LetStand((one.id, other.id)))
    assert [entry.standing for entry in accepted] == ["accepted", "accepted"]
    [step] = decide.steps(ladder.desk)
    assert (step.who, step.entries) == ("you, by ear", (one.id, other.id))
    assert step.what.startswith("let stand: installed 3 soffit panels")


def test_nothing_said_leaves_what_is_doubtful_doubtful(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit", doubt="3 or 13?")
    assert listening.decide_by_ear(ladder.desk, LetStand((entry.id,))) == ()
    assert ladder.standing() == ["north eave 3?"]
    assert decide.steps(ladder.desk) == ()


def test_nothing_said_leaves_doubtful_what_the_rest_of_the_job_casts_a_doubt_on(
    ladder: Ladder,
) -> None:
    ladder.say("five sheets of soffit delivered")
    [entry] = ladder.say("north eave used three hundred sheets of soffit")
    assert entry.open
    assert listening.decide_by_ear(ladder.desk, LetStand((entry.id,))) == ()


def test_an_utterance_and_what_it_drops_are_kept_together(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit")
    [dropped] = ladder.say("scratch that", Drop(entry.id), read_as=QUIET)
    assert (dropped.id, dropped.standing) == (entry.id, "dropped")
    assert len(record.recordings(ladder.desk)) == 2
    assert ladder.standing() == []


def test_a_decision_that_cannot_be_made_keeps_nothing_and_the_sound_waits(ladder: Ladder) -> None:
    path, at = ladder.catch()
    with pytest.raises(ServiceError, match="there is no entry 99"):
        listening.keep_utterance(ladder.desk, path, at, heard("scratch that"), QUIET, Drop(99))
    assert record.recordings(ladder.desk) == ()
    assert [waits for waits, _ in ladder.spool.waiting()] == [path]


def test_a_repeated_number_replaces_and_keeps_what_it_does_not_say(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit", doubt="3 or 13?")
    other = ladder.read("used thirteen sheets")
    now, *_ = ladder.say("used thirteen sheets", replacing(entry, other))
    assert (now.id, said(now), now.entry.item) == (entry.id, "north eave 13", "soffit panel")
    assert (now.standing, now.doubts) == ("accepted", ())
    assert ladder.standing() == ["north eave 13"]


def test_a_number_said_again_after_it_was_dropped_brings_it_back(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit")
    listening.decide_by_ear(ladder.desk, Drop(entry.id))
    other = ladder.read("north eave used four sheets of soffit")
    listening.decide_by_ear(ladder.desk, replacing(entry, other))
    assert ladder.standing() == ["north eave 4"]


def test_keep_both_gives_the_repeated_number_back_as_one_of_its_own(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave fourteen and five eighths")
    other = ladder.read("fourteen and a half")
    ladder.say("fourteen and a half", replacing(entry, other))
    listening.decide_by_ear(ladder.desk, LetStand((entry.id,)))
    assert ladder.standing() == ["north eave 29/2"]
    first, second = ladder.say("keep both", KeepBoth(), read_as=QUIET)
    assert (said(first), said(second)) == ("north eave 117/8", "north eave 29/2")
    assert ladder.standing() == ["north eave 117/8", "north eave 29/2"]


def test_a_spoken_correction_without_entries_of_its_own_is_taken_back_alone(
    ladder: Ladder,
) -> None:
    [entry] = ladder.say("north eave fourteen and five eighths")
    other = ladder.read("fourteen and a half")
    ladder.say("no make that fourteen and a half", replacing(entry, other), read_as=QUIET)
    [back] = listening.decide_by_ear(ladder.desk, KeepBoth())
    assert said(back) == "north eave 117/8"
    assert ladder.standing() == ["north eave 117/8"]


def test_with_nothing_changed_by_ear_there_is_nothing_to_take_back(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave fourteen and five eighths")
    listening.decide_by_ear(ladder.desk, LetStand((entry.id,)))
    with pytest.raises(ServiceError, match="nothing was changed by ear"):
        listening.decide_by_ear(ladder.desk, KeepBoth())


def test_an_answer_settles_a_doubt_for_the_evening(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave forty", doubt="14 or 40?")
    by = replace(entry.entry, inches=Fraction(14))
    [now] = ladder.say("fourteen", Settle(entry.id, by, "fourteen"), read_as=QUIET)
    assert (said(now), now.standing, now.doubts) == ("north eave 14", "accepted", ())
    assert record.read_day(ladder.desk, DAY).doubts == 0


def test_an_answer_that_it_is_right_settles_it_too(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave forty", doubt="14 or 40?")
    [now] = ladder.say("forty", Settle(entry.id), read_as=QUIET)
    assert (said(now), now.looked_at) == ("north eave 40", True)


def test_undo_takes_back_what_was_answered_and_passes_over_what_was_let_stand(
    ladder: Ladder,
) -> None:
    [doubtful] = ladder.say("north eave forty", doubt="14 or 40?")
    [dropped] = ladder.say("south eave fifty")
    [fine] = ladder.say("south eave sixty")
    ladder.say("forty", Settle(doubtful.id), read_as=QUIET)
    listening.decide_by_ear(ladder.desk, Drop(dropped.id))
    listening.decide_by_ear(ladder.desk, LetStand((fine.id,)))
    decide.undo(ladder.desk)
    assert ladder.standing() == ["north eave 40", "south eave 50", "south eave 60"]
    decide.undo(ladder.desk)
    assert ladder.standing() == ["north eave 40?", "south eave 50", "south eave 60"]
    with pytest.raises(ServiceError, match="there is nothing to undo"):
        decide.undo(ladder.desk)
    decide.redo(ladder.desk)
    decide.redo(ladder.desk)
    assert ladder.standing() == ["north eave 40", "south eave 60"]
    assert decide.undo_entry(ladder.desk, fine.id).standing == "heard"


def replacing(entry: BookEntry, other: Reading) -> Replace:
    return Replace(entry.id, other.entries[0], "the new words", tuple(d.why for d in other.doubts))


# --- he went on speaking ----------------------------------------------------------------------


def going_on(ladder: Ladder) -> tuple[str, Path, datetime]:
    """Keeps "fourteen", of which the whole is caught then: its recording, and the whole."""
    path, at = ladder.catch()
    [entry] = listening.keep_utterance(
        ladder.desk, path, at, heard("north eave fourteen"), ladder.read("north eave fourteen")
    )
    listening.decide_by_ear(ladder.desk, LetStand((entry.id,)))
    assert ladder.before is not None
    whole = ladder.spool.put(ladder.before[: 3 * 16_000], at)
    [recording] = record.recordings(ladder.desk)
    return recording.sha256, whole, at


def test_the_whole_takes_the_place_of_its_beginning(ladder: Ladder) -> None:
    begun, whole, at = going_on(ladder)
    words = "north eave fourteen and five eighths"
    [entry] = listening.keep_utterance(
        ladder.desk, whole, at, heard(words), ladder.read(words), begun=[begun]
    )
    assert said(entry) == "north eave 117/8"
    assert ladder.standing() == ["north eave 117/8"]
    assert sum(band.accepted for band in listening.evidence(ladder.desk)) == 0
    first = ladder.desk.book.recording(begun)
    assert first.standing == "superseded"
    assert first.superseded_by in {one.sha256 for one in record.recordings(ladder.desk)} - {begun}


def test_what_was_changed_in_the_beginning_by_ear_is_not_lost(ladder: Ladder) -> None:
    begun, whole, at = going_on(ladder)
    [entry] = record.read_entries(ladder.desk, DAY)
    by = replace(entry.entry, inches=Fraction(40))
    listening.decide_by_ear(ladder.desk, Settle(entry.id, by, "forty"))
    words = "north eave fourteen and five eighths"
    listening.keep_utterance(
        ladder.desk, whole, at, heard(words), ladder.read(words), begun=[begun]
    )
    assert ladder.standing() == ["north eave 40", "north eave 117/8?"]


# --- after a restart --------------------------------------------------------------------------


def test_what_an_earlier_run_caught_and_did_not_keep_is_left_over(ladder: Ladder) -> None:
    path, at = ladder.catch()
    [left] = listening.left_over(ladder.desk)
    assert (left.path, left.at, left.begun) == (path, at, ())


def test_what_was_kept_is_not_left_over_and_waits_no_longer(ladder: Ladder) -> None:
    path, at = ladder.catch()
    bytes = path.read_bytes()
    listening.keep_utterance(ladder.desk, path, at, heard("hm"), QUIET)
    path.write_bytes(bytes)
    assert listening.left_over(ladder.desk) == ()
    assert not path.exists()


def test_a_whole_that_is_left_over_knows_its_beginning_in_the_book(ladder: Ladder) -> None:
    begun, whole, at = going_on(ladder)
    ladder.say("south eave fifty")
    [left] = listening.left_over(ladder.desk)
    assert (left.path, left.at, left.begun) == (whole, at, (begun,))


@pytest.mark.parametrize("kept", [False, True])
def test_a_beginning_whose_whole_is_there_is_not_heard_again(ladder: Ladder, kept: bool) -> None:
    path, at = ladder.catch()
    assert ladder.before is not None
    whole = ladder.spool.put(ladder.before[: 3 * 16_000], at)
    if kept:
        listening.keep_utterance(ladder.desk, whole, at, heard("hm"), QUIET)
    left = [one.path for one in listening.left_over(ladder.desk)]
    assert left == ([] if kept else [whole])
    assert not path.exists()


def test_a_damaged_one_keeps_nobody_from_listening_and_is_told_in_the_evening(
    ladder: Ladder,
) -> None:
    path, _ = ladder.catch()
    path.write_bytes(b"RIFF and nothing more")
    whole, _ = ladder.catch()
    assert [left.path for left in listening.left_over(ladder.desk)] == [whole]
    [recording] = record.recordings(ladder.desk)
    assert ladder.desk.book.media(recording.sha256).read_bytes() == b"RIFF and nothing more"
    [trouble] = record.read_day(ladder.desk, DAY).troubles
    assert "cannot be read any more; say again what it said" in trouble
    assert [one for one, _ in ladder.spool.waiting()] == [whole]


def test_what_a_bad_disk_cut_short_is_kept_with_that_trouble(ladder: Ladder) -> None:
    path, at = ladder.catch()
    path.write_bytes(path.read_bytes()[:-8000])
    listening.keep_utterance(ladder.desk, path, at, heard("hm"), QUIET)
    [recording] = record.recordings(ladder.desk)
    assert (recording.trouble or "").startswith("ends early")


def test_listening_begun_again_goes_on_in_the_same_place(ladder: Ladder) -> None:
    ladder.say("north eave fourteen and five eighths")
    [dropped] = ladder.say("south eave fifty")
    listening.decide_by_ear(ladder.desk, Drop(dropped.id))
    context = listening.context_today(ladder.desk, AT + timedelta(hours=1))
    assert context.place == "north eave"
    assert context.last is not None
    assert context.last.inches == Fraction(117, 8)
    assert context.at == datetime(2026, 10, 5, 14, 31, 7, 250_000)
    assert listening.context_today(ladder.desk, AT + timedelta(days=1)).place is None
    assert listening.context_today(ladder.desk, AT).place is None


def test_what_was_said_today_is_what_came_before_on_this_day(ladder: Ladder) -> None:
    [one] = ladder.say("north eave fourteen and five eighths")
    ladder.say("south eave fifty")
    assert listening.entries_today(ladder.desk, ladder.at) == (one,)
    assert listening.entries_today(ladder.desk, AT + timedelta(days=1)) == ()


def test_the_whole_day_is_recorded_beside_the_book_and_never_taken_in(ladder: Ladder) -> None:
    folder = ladder.desk.book.folder
    with listening.record_day(ladder.desk, pytest.fail) as recorder:
        recorder.write(np.zeros(16_000, np.int16), AT)
    assert (folder / "days" / "2026-10-05" / "13-31-07.opus").is_file()
    intake = taking_in.take_in(ladder.desk, [folder])
    assert (intake.recordings, intake.left_out) == (0, ())


# --- evidence ---------------------------------------------------------------------------------


def test_what_became_of_the_read_backs_is_counted_by_how_sure_they_were(ladder: Ladder) -> None:
    [right] = ladder.say("north eave used three sheets of soffit")
    [wrong] = ladder.say("north eave used two sheets of soffit")
    [gone] = ladder.say("south eave fifty and a half")
    ladder.say("south eave sixty")  # never read back
    listening.decide_by_ear(ladder.desk, LetStand((right.id, wrong.id)))
    ladder.say("used four sheets", replacing(wrong, ladder.read("used four sheets")))
    ladder.say("scratch that", Drop(gone.id), read_as=QUIET)
    bands = listening.evidence(ladder.desk)
    assert [bands[0].low, *(band.high for band in bands)] == [0.0, *listening.EDGES, 1.0]
    total = [sum(getattr(band, name) for band in bands) for name in ("accepted", "changed")]
    assert total == [1, 1]
    assert sum(band.dropped for band in bands) == 1
    assert all(band.high > 0.5 for band in bands if band.accepted)


def test_what_was_let_stand_and_put_right_in_the_evening_was_not_right(ladder: Ladder) -> None:
    edited, dropped, accepted = (
        ladder.say(f"{place} eave used three sheets of soffit")[0].id
        for place in ("north", "south", "north")
    )
    listening.decide_by_ear(ladder.desk, LetStand((edited, dropped, accepted)))
    decide.edit(ladder.desk, edited, "quantity", "4")
    decide.drop(ladder.desk, dropped)
    decide.accept(ladder.desk, accepted)
    bands = listening.evidence(ladder.desk)
    assert (sum(band.overruled for band in bands), sum(band.accepted for band in bands)) == (2, 1)


def test_what_was_taken_back_is_no_evidence(ladder: Ladder) -> None:
    [entry] = ladder.say("north eave used three sheets of soffit")
    listening.decide_by_ear(ladder.desk, Drop(entry.id))
    decide.undo(ladder.desk)
    assert sum(band.dropped for band in listening.evidence(ladder.desk)) == 0
