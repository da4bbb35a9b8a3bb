"""What a person decides teaches whose voice it is, and is forgotten when he says so."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book, intake, keep
from joblog.book.verdicts import Verdict, verdicts
from joblog.dictation import SHIPPED, Context, Judgement, read_heard
from joblog.model import BookEntry, Hearing, Moment, Problem, Recording, Utterance, Word
from joblog.service import Desk, ServiceError, decide, open_desk, questions, taking_in, voice
from joblog.service.listening import Drop, LetStand, decide_by_ear
from joblog.voice import card

sys.path.append(str(Path(__file__).parents[1] / "book"))
import fake_ears

MORNING = datetime(2026, 10, 5, 8, 0, tzinfo=ZoneInfo("America/Chicago"))
SURE = ("north eave used three sheets of soffit", "south eave fifty and a half")
DOUBTED = "north eave used about three sheets of soffit"


def heard(words: str, number: int = 0) -> Utterance:
    parts = tuple(Word(word, 1.0, 2.0, 0.97) for word in words.split())
    names = ("trade", "general free", "general constrained")
    hearings = tuple(Hearing(name, words, parts, (), 0.97) for name in names)
    return Utterance(20.0 * number, 20.0 * number + 3, hearings)


def say(desk: Desk, folder: Path, *lines: str, day: int = 0) -> list[BookEntry]:
    """A recording of these lines, and its entries."""
    sound = folder / f"{day}.wav"
    sound.write_bytes(" ".join(lines).encode() + bytes([day]))
    made = Moment(MORNING + timedelta(days=day), "file name")
    recording = Recording(intake.media.fingerprint(sound), sound.name, made, 60.0)
    said = tuple(
        read_heard(heard(line, at), desk.vocabulary, Context()) for at, line in enumerate(lines)
    )
    before = {one.id for one in desk.book.entries(desk.job.name)}
    keep.keep_recording(desk.book, desk.job.name, sound, recording, said)
    return [one for one in desk.book.entries(desk.job.name) if one.id not in before]


@pytest.fixture
def porch(book: Book) -> Desk:
    return open_desk(book, "Corner porch")


def told(book: Book) -> list[tuple[bool, bool, bool]]:
    """Of each verdict whether it stood as it was heard, was given by ear, was given at all."""
    return [(one.now == one.heard.entry, one.by_ear, one.said) for one in verdicts(book)]


# --- verdicts ---------------------------------------------------------------------------------


def test_what_is_accepted_changed_and_dropped_is_a_verdict(porch: Desk, tmp_path: Path) -> None:
    doubted, wrong, gone = say(porch, tmp_path, DOUBTED, *SURE)
    decide.accept(porch, doubted.id)
    decide.edit(porch, wrong.id, "quantity", "4")
    decide.drop(porch, gone.id)
    assert told(porch.book) == [
        (True, False, True),
        (False, False, True),
        (False, False, True),
    ]


def test_what_he_let_pass_counts_only_on_a_day_that_he_went_through(
    porch: Desk, tmp_path: Path
) -> None:
    doubted, *_ = say(porch, tmp_path, DOUBTED, *SURE)
    say(porch, tmp_path, *SURE, day=1)
    assert told(porch.book) == []
    decide.accept(porch, doubted.id)
    assert sorted(told(porch.book)) == [(True, False, False)] * 2 + [(True, False, True)]


def test_what_is_kept_with_all_the_others_was_let_pass_and_not_said(
    porch: Desk, tmp_path: Path
) -> None:
    doubted, *_ = say(porch, tmp_path, DOUBTED, *SURE)
    decide.accept(porch, doubted.id)
    assert questions.keep_rest(porch) == 2
    assert sorted(told(porch.book)) == [(True, False, False)] * 2 + [(True, False, True)]


def test_what_was_undone_is_no_verdict(porch: Desk, tmp_path: Path) -> None:
    [entry, _] = say(porch, tmp_path, *SURE)
    decide.drop(porch, entry.id)
    decide.undo(porch)
    assert told(porch.book) == []


def test_what_was_undone_and_decided_otherwise_is_one(porch: Desk, tmp_path: Path) -> None:
    doubted, *_ = say(porch, tmp_path, DOUBTED, *SURE)
    decide.edit(porch, doubted.id, "quantity", "4")
    decide.undo(porch)
    decide.accept(porch, doubted.id)
    assert told(porch.book)[0] == (True, False, True)


def test_where_something_is_moved_says_nothing_of_how_it_was_heard(
    porch: Desk, tmp_path: Path
) -> None:
    [entry, _] = say(porch, tmp_path, *SURE)
    decide.move_entry(porch, entry.id, at=MORNING + timedelta(hours=3))
    assert told(porch.book) == []


def test_what_later_words_changed_is_no_verdict(porch: Desk, tmp_path: Path) -> None:
    say(porch, tmp_path, SURE[0], "no make that four")
    assert told(porch.book) == []


def test_what_is_let_stand_or_dropped_by_ear_is_a_verdict(porch: Desk, tmp_path: Path) -> None:
    right, wrong = say(porch, tmp_path, *SURE)
    decide_by_ear(porch, LetStand((right.id,)))
    decide_by_ear(porch, Drop(wrong.id))
    assert told(porch.book) == [(True, True, True), (False, True, True)]


def test_a_withdrawn_recording_says_nothing(porch: Desk, tmp_path: Path) -> None:
    doubted, *_ = say(porch, tmp_path, DOUBTED, *SURE)
    decide.accept(porch, doubted.id)
    [recording] = porch.book.recordings(porch.job.name)
    decide.withdraw(porch, recording.sha256)
    assert told(porch.book) == []


# --- what they teach --------------------------------------------------------------------------


def test_decisions_teach_and_are_forgotten_and_the_history_stays(
    porch: Desk, tmp_path: Path
) -> None:
    wrong, other = say(porch, tmp_path, *SURE)
    decide.edit(porch, wrong.id, "quantity", "4")
    decide_by_ear(porch, LetStand((other.id,)))
    known = voice.voice_in(porch.book)
    assert known.decisions == 2
    assert known.judgement.weights != SHIPPED.weights
    assert known.mixed_up == (("three", "four", 1),)
    assert known.silent is not None and (known.silent.found, known.silent.count) == (1, 2)
    steps = decide.steps(porch)
    voice.forget(porch.book)
    assert voice.voice_in(porch.book).decisions == 0
    assert voice.judgement_in(porch.book).weights == SHIPPED.weights
    assert decide.steps(porch)[:-1] == steps
    assert decide.steps(porch)[-1].what == "let the voice be learned anew"
    decide.undo(porch)
    assert voice.voice_in(porch.book).decisions == 2
    decide.redo(porch)
    decide.edit(porch, wrong.id, "quantity", "5")
    assert voice.voice_in(porch.book).decisions == 1


def test_of_what_he_let_pass_one_in_four_is_taken_for_all(porch: Desk, tmp_path: Path) -> None:
    lines = [f"north eave used {number} sheets of soffit" for number in ("two", "six", "nine")]
    doubted, *_ = say(porch, tmp_path, DOUBTED, *lines, *SURE)
    decide.accept(porch, doubted.id)
    known = voice.voice_in(porch.book)
    assert known.decisions == 2
    assert known.silent is not None and known.silent.count == 5


def test_what_was_only_added_is_no_decision(porch: Desk, tmp_path: Path) -> None:
    [entry] = say(porch, tmp_path, "south eave fifty and a half")
    decide.edit(porch, entry.id, "dimension", "depth")
    [verdict] = verdicts(porch.book)
    assert isinstance(verdict, Verdict) and verdict.now != verdict.heard.entry
    assert voice.voice_in(porch.book).decisions == 0


def test_all_jobs_of_the_book_teach(book: Book, porch: Desk, tmp_path: Path) -> None:
    mill = open_desk(book, "Mill house")
    for desk, day in ((porch, 0), (mill, 1)):
        [entry] = say(desk, tmp_path, "eighteen and five eighths", day=day)
        decide.drop(desk, entry.id)
    assert voice.voice_in(book).decisions == 2


# --- the promise ------------------------------------------------------------------------------


def test_the_promise_is_one_in_two_hundred_until_it_is_set(book: Book) -> None:
    assert voice.promise_of(book) == Fraction(1, 200)
    assert voice.promise(book, "1/100") == Fraction(1, 100)
    assert voice.promise_of(book) == Fraction(1, 100)
    assert voice.promise(book, "0.5%") == Fraction(1, 200)
    voice.forget(book)
    assert voice.promise_of(book) == Fraction(1, 200)


@pytest.mark.parametrize("text", ["0", "1", "never", "1/0", "-1/200", "1/1000000", "", "%"])
def test_what_is_no_promise_is_refused(book: Book, text: str) -> None:
    with pytest.raises(ServiceError, match="is no promise to keep"):
        voice.promise(book, text)
    assert voice.promise_of(book) == Fraction(1, 200)


# --- the card ---------------------------------------------------------------------------------


def card_read(monkeypatch: pytest.MonkeyPatch, *lines: str) -> Path:
    """A recording in which these lines are heard."""
    file = Path("card.wav")
    file.write_bytes("\n".join(lines).encode())
    said = [SimpleNamespace(utterance=heard(line, at)) for at, line in enumerate(lines)]
    listened = SimpleNamespace(heard=said)
    monkeypatch.setattr(taking_in, "hear", lambda files, words: iter([(files[0], listened)]))
    return file


def plain(line: str) -> str:
    return line.replace(",", "")


def test_every_line_of_the_card_is_a_decision(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = [plain(line) for line in voice.card_lines()]
    lines[2] = lines[2].replace("thirty", "thirteen")
    result = voice.hear_card(book, card_read(monkeypatch, "hm", *lines[:-1]))
    assert (result.right, len(result.wrong)) == (len(lines) - 2, 1)
    assert result.wrong[0] == (voice.card_lines()[2], lines[2])
    assert result.missing == (voice.card_lines()[-1],)
    known = voice.voice_in(book)
    assert known.decisions == len(lines) - 1
    assert known.mixed_up == (("thirteen", "thirty", 1),)


def test_the_same_recording_of_the_card_counts_once(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = [plain(line.words) for line in card()]
    for _ in range(2):
        voice.hear_card(book, card_read(monkeypatch, *lines))
    assert voice.voice_in(book).decisions == len(lines)
    voice.forget(book)
    assert voice.voice_in(book).decisions == 0


def test_what_is_not_the_card_teaches_nothing(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    file = card_read(monkeypatch, "did you see the game", "no")
    with pytest.raises(ServiceError, match=r"card\.wav: only 0 of the card's 32 lines"):
        voice.hear_card(book, file)
    broken = Problem("card.wav", "is not a recording that can be read")
    monkeypatch.setattr(taking_in, "hear", lambda files, words: iter([(files[0], broken)]))
    with pytest.raises(ServiceError, match=r"^card\.wav: is not a recording that can be read$"):
        voice.hear_card(book, file)
    assert voice.voice_in(book).decisions == 0


# --- where it decides -------------------------------------------------------------------------


@pytest.mark.parametrize(("below", "waits"), [(2.0, True), (0.0, False)])
def test_what_comes_in_is_judged_as_was_learned(
    book: Book, tmp_path: Path, below: float, waits: bool
) -> None:
    file = fake_ears.recording(tmp_path, "monday.wav", SURE[0])
    judgement = replace(SHIPPED, asks_below=below)
    intake.take_in(
        book, "Mill house", [file], listen=fake_ears.listen, judgement=judgement, workers=1
    )
    [entry] = book.entries("Mill house")
    assert entry.open is waits


def test_taking_in_asks_for_what_was_learned(
    porch: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    [wrong, _] = say(porch, tmp_path, *SURE)
    decide.edit(porch, wrong.id, "quantity", "4")
    given: list[Judgement] = []
    monkeypatch.setattr(intake, "take_in", lambda *_, judgement, **more: given.append(judgement))
    taking_in.take_in(porch, [tmp_path])
    assert given == [voice.judgement_in(porch.book)]
    assert given[0].weights != SHIPPED.weights


def test_what_was_heard_before_stays_as_it_was_judged(porch: Desk, tmp_path: Path) -> None:
    doubted, wrong, _ = say(porch, tmp_path, DOUBTED, *SURE)
    decide.edit(porch, wrong.id, "quantity", "4")
    voice.voice_in(porch.book)
    assert porch.book.entry(doubted.id) == doubted
