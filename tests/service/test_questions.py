"""What is asked in the evening, in which order, and what an answer makes of it."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book, decisions
from joblog.book import keep as keeping
from joblog.dictation import read
from joblog.model import (
    Doubt,
    Entry,
    HeardUtterance,
    Hearing,
    Item,
    Job,
    Moment,
    Plan,
    PlannedItem,
    Reading,
    Recording,
    Settled,
    Utterance,
    Vocabulary,
    Word,
)
from joblog.service import Desk, ServiceError, decide, open_desk
from joblog.service.questions import (
    Question,
    answer,
    drop,
    get_ready,
    keep,
    keep_cheap,
    keep_rest,
    questions,
    with_answers,
)
from joblog.service.record import read_entries

JOB = Job("Mill house", "America/Chicago", ("north eave", "south eave"))
MORNING = datetime(2026, 10, 5, 8, 0, tzinfo=ZoneInfo(JOB.zone))
UNCLEAR = "not heard clearly"
Said = tuple[str, Reading]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    book = Book.create(tmp_path / "book")
    book.add_job(JOB)
    lines = (
        PlannedItem(Item("soffit panel", "sheet", ("soffit",)), Fraction(40), Decimal("20.00")),
        PlannedItem(Item("J channel", "stick"), Fraction(10), Decimal("9.00")),
    )
    book.set_plan(JOB.name, Plan(items=lines, places=JOB.places))
    return open_desk(book, JOB.name)


def test_what_nobody_doubts_is_no_question(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(3))
    assert questions(desk) == ()


def test_the_dearest_is_asked_first(desk: Desk, tmp_path: Path) -> None:
    told(
        desk,
        tmp_path,
        (Entry("note", note="hot"), "the words are not clear"),
        used(3, "J channel", "stick", why="which item: j channel or fascia?"),
        used(30, why="which item: soffit panel or fascia?"),
    )
    assert [one.cost for one in questions(desk)] == [600, 27, 0]


def test_what_is_asked_the_same_stands_together(desk: Desk, tmp_path: Path) -> None:
    which = "which item: soffit panel or fascia?"
    told(desk, tmp_path, used(1, why=which), used(9, why="used, or spoiled?"), used(30, why=which))
    assert [one.about for one in questions(desk)] == ["item", "item", "became"]


def test_one_day_asks_only_of_itself(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(3, why=UNCLEAR))
    assert len(questions(desk, MORNING.date())) == 1
    assert questions(desk, MORNING.date() + timedelta(days=1)) == ()


def test_a_question_is_listed_without_answers_and_shown_with_them(
    desk: Desk, tmp_path: Path
) -> None:
    told(desk, tmp_path, used(8, None, why="of what? No item was said"))
    [listed] = questions(desk)
    assert (listed.answers, listed.asks) == ((), "Of what?")
    assert with_answers(desk, listed).answers[0].says == "soffit panel"


def test_what_answers_is_loaded_without_the_book(desk: Desk) -> None:
    desk.book.close()
    get_ready(desk)


# --- answering -----------------------------------------------------------------------------------


def test_an_answer_settles_the_doubts_that_were_seen(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, None, why="of what? No item was said"))
    [settled] = answer(desk, shown(desk), 1)
    assert (settled.entry.item, settled.doubts, settled.looked_at) == ("soffit panel", (), True)
    assert questions(desk) == ()


def test_an_answer_is_one_step_and_undone_as_one(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, *(jay(many) for many in (2, 3, 4)))
    before = read_entries(desk)
    answer(desk, shown(desk), 1)
    decide.undo(desk)
    assert [(one.entry, one.doubts) for one in read_entries(desk)] == [
        (one.entry, one.doubts) for one in before
    ]


def test_the_same_question_of_several_is_asked_once(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, *(jay(many) for many in (2, 3, 4)))
    question = shown(desk)
    assert question.asks == "3 times 'chay': which item?"
    number = [one.says for one in question.answers].index("J channel") + 1
    found = answer(desk, question, number)
    assert [(one.entry.quantity, one.entry.item) for one in found] == [
        (2, "J channel"),
        (3, "J channel"),
        (4, "J channel"),
    ]


def test_what_one_answer_would_not_fit_is_asked_by_itself(desk: Desk, tmp_path: Path) -> None:
    why = "of what? No item was said"
    told(desk, tmp_path, used(2, None, why=why), used(3, None, why=why))
    assert len(questions(desk)) == 2


def test_an_answer_that_is_not_there_changes_nothing(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, None, why="of what? No item was said"))
    with pytest.raises(ServiceError, match="no answer 99"):
        answer(desk, shown(desk), 99)
    assert len(questions(desk)) == 1


def test_what_makes_no_sense_once_it_is_answered_is_asked_next(desk: Desk, tmp_path: Path) -> None:
    told(
        desk,
        tmp_path,
        (Entry("delivered", item="soffit panel", quantity=Fraction(20), unit="sheet"), None),
        used(16, why="16, or 60?"),
    )
    question = shown(desk)
    number = [one.says for one in question.answers].index("60 panels") + 1
    answer(desk, question, number)
    [left] = questions(desk)
    assert left.asks.startswith("With it 60 ")


def test_what_was_answered_by_another_meanwhile_is_not_overwritten(
    desk: Desk, tmp_path: Path
) -> None:
    told(desk, tmp_path, used(8, None, why="of what? No item was said"))
    question = shown(desk)
    decide.edit(desk, question.entries[0].id, "item", "J channel")
    with pytest.raises(ServiceError, match="meanwhile"):
        answer(desk, question, 1)


def test_an_answer_is_learned_from(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, jay(2))
    question = shown(desk)
    answer(desk, question, 1)
    told(desk, tmp_path, jay(5))
    assert shown(desk).answers[0].because == "answered so before"


# --- keeping and dropping -----------------------------------------------------------------------


def test_what_can_count_nowhere_cannot_be_kept(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, None, why="of what? No item was said"))
    question = shown(desk)
    assert not question.keep
    with pytest.raises(ServiceError, match="cannot count"):
        keep(desk, question)


def test_what_is_kept_is_settled_as_it_stands(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR))
    [kept] = keep(desk, shown(desk))
    assert (kept.entry.quantity, kept.change, kept.open) == (8, "accepted", False)


def test_what_is_dropped_counts_nowhere_and_comes_back_by_undoing(
    desk: Desk, tmp_path: Path
) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR))
    [dropped] = drop(desk, shown(desk))
    assert dropped.standing == "dropped"
    decide.undo(desk)
    assert len(questions(desk)) == 1


def test_the_rest_is_kept_in_one_step_and_what_is_asked_is_not(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(1), used(2), used(3, why=UNCLEAR))
    assert keep_rest(desk, MORNING.date()) == 2
    assert [one.looked_at for one in read_entries(desk)] == [True, True, False]
    decide.undo(desk)
    assert [one.looked_at for one in read_entries(desk)] == [False, False, False]


def test_the_rest_is_kept_once(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(1))
    keep_rest(desk)
    assert keep_rest(desk) == 0


# --- records of which the words are unsure --------------------------------------------------------

WIRE, WRONG = "covered the wire behind the soffit", "covered the wire behind the saw thick"


def test_a_record_of_hidden_work_is_shown_with_its_unsure_words(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, record(WRONG, WIRE))
    question = shown(desk)
    assert (question.about, question.unsure) == ("record", ("saw", "thick"))
    assert WIRE in [one.says for one in question.answers]


def test_a_record_ranks_above_material(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR), record(WRONG, WIRE))
    assert [one.about for one in questions(desk)] == ["record", "words"]


def test_a_look_is_no_doubt(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, record(WRONG, WIRE))
    assert [one.open for one in read_entries(desk)] == [False]


def test_a_look_does_not_come_back(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, record(WRONG, WIRE))
    keep(desk, shown(desk))
    assert questions(desk) == ()


def test_the_other_words_take_the_place_of_those_that_were_misheard(
    desk: Desk, tmp_path: Path
) -> None:
    told(desk, tmp_path, record(WRONG, WIRE))
    question = shown(desk)
    number = [one.says for one in question.answers].index(WIRE) + 1
    [settled] = answer(desk, question, number)
    assert (settled.entry.note, settled.said) == (WIRE, WIRE)


def test_mere_notes_are_kept_all_together_and_covered_work_is_not(
    desk: Desk, tmp_path: Path
) -> None:
    told(
        desk,
        tmp_path,
        record(WRONG, WIRE),
        record("the brown coil is lighter than the old", "the ground oil is light for the cold"),
        record("siding behind the meter is loose", "hiding behind meeting is lose"),
    )
    assert keep_cheap(desk, questions(desk)) == 2
    assert [one.entries[0].entry.kind for one in questions(desk)] == ["covered"]


def test_the_rest_does_not_hold_a_record_that_is_to_be_looked_at(
    desk: Desk, tmp_path: Path
) -> None:
    told(desk, tmp_path, record(WRONG, WIRE))
    assert keep_rest(desk) == 0


# --- a change with what it changed ---------------------------------------------------------------


def test_a_change_and_what_it_changed_are_asked_about_once(desk: Desk, tmp_path: Path) -> None:
    changed(desk, tmp_path)
    question = shown(desk)
    assert [one.entry.kind for one in question.entries] == ["used", "correction"]
    keep(desk, question)
    assert questions(desk) == ()


def test_a_change_that_was_not_meant_leaves_what_was_there(desk: Desk, tmp_path: Path) -> None:
    changed(desk, tmp_path)
    drop(desk, shown(desk))
    fact, change = read_entries(desk)
    assert (fact.entry.quantity, fact.open) == (8, False)
    assert change.standing == "dropped"


def test_that_it_was_not_meant_is_the_first_answer(desk: Desk, tmp_path: Path) -> None:
    changed(desk, tmp_path)
    question = shown(desk)
    assert question.answers[0].says.startswith("not changed: ")
    answer(desk, question, 1)
    assert [one.entry.quantity for one in read_entries(desk) if one.standing != "dropped"] == [8]
    assert questions(desk) == ()


# --- settling, in the book ----------------------------------------------------------------------


def test_a_doubt_that_was_not_shown_stays(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR))
    [entry] = read_entries(desk)
    now = replace(entry.entry, quantity=Fraction(9))
    [left] = decisions.settle(desk.book, [Settled(entry.id, now, "nine")], seen={})
    assert (left.entry.quantity, left.doubts, left.open) == (9, (UNCLEAR,), True)


def test_what_an_answer_leaves_in_doubt_waits_on(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR))
    [entry] = read_entries(desk)
    now = replace(entry.entry, quantity=None)
    settled = Settled(entry.id, now, "some", doubts=("how many?",))
    [left] = decisions.settle(desk.book, [settled], seen={entry.id: entry.doubts})
    assert (left.doubts, left.open) == (("how many?",), True)


def test_what_an_answer_adds_comes_and_goes_with_it(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8, why=UNCLEAR))
    [entry] = read_entries(desk)
    wasted = Entry("spoiled", item="soffit panel", quantity=Fraction(2), unit="sheet")
    settled = Settled(entry.id, entry.entry, "six, two cracked", beside=(wasted,))
    _, added = decisions.settle(desk.book, [settled], seen={entry.id: entry.doubts})
    assert added.entry == wasted
    decide.undo(desk)
    assert [one.standing for one in read_entries(desk)] == ["heard", "dropped"]


def test_settling_what_was_looked_at_already_is_no_step(desk: Desk, tmp_path: Path) -> None:
    told(desk, tmp_path, used(8))
    [entry] = read_entries(desk)
    kept = [Settled(entry.id, entry.entry, entry.said)]
    decisions.settle(desk.book, kept)
    decisions.settle(desk.book, kept)
    assert len(decide.steps(desk)) == 1


# --- what was said -------------------------------------------------------------------------------


Told = tuple[Entry, str | None] | HeardUtterance


def used(
    quantity: int, item: str | None = "soffit panel", unit: str = "sheet", *, why: str | None = None
) -> Told:
    return Entry("used", item=item, quantity=Fraction(quantity), unit=unit), why


def jay(quantity: int) -> Told:
    why = "'chay' is not in the catalog: joblog catalog set \"chay\" unit=stick"
    return used(quantity, "chay", "stick", why=why)


def record(note: str, other: str) -> HeardUtterance:
    """A record that one recognizer heard so, and everybody else otherwise."""
    lines = (("general free", note), ("general constrained", other), ("trade", other))
    hearings = tuple(
        Hearing(name, text, tuple(Word(word, 0, 1, 0.6) for word in text.split()), confidence=0.6)
        for name, text in lines
    )
    return HeardUtterance(Utterance(0.0, 3.0, hearings), read(note, Vocabulary()))


def changed(desk: Desk, folder: Path) -> None:
    """ "Used eight", and a change to nine that is not certain."""
    nine = replace(used_entry(), quantity=Fraction(9))
    correction = Entry("correction", action="replace", replacement=nine)
    told(desk, folder, used(8), (correction, "is it this that is changed?"))


def used_entry() -> Entry:
    return Entry("used", item="soffit panel", quantity=Fraction(8), unit="sheet")


def told(desk: Desk, folder: Path, *said: Told) -> None:
    """A recording in which each of these was said, a minute apart."""
    heard = [_heard(at, one) for at, one in enumerate(said)]
    count = len(desk.book.recordings(JOB.name))
    sound = folder / f"{count}.wav"
    sound.write_bytes(f"sound {count}".encode())
    sha256 = hashlib.sha256(sound.read_bytes()).hexdigest()
    made = Moment(MORNING + timedelta(hours=count), "file name")
    keeping.keep_recording(
        desk.book, JOB.name, sound, Recording(sha256, sound.name, made, 600.0), tuple(heard)
    )


def _heard(at: int, said: Told) -> HeardUtterance:
    if isinstance(said, HeardUtterance):
        utterance = replace(said.utterance, start=60.0 * at, end=60.0 * at + 3)
        return replace(said, utterance=utterance)
    entry, why = said
    doubts = () if why is None else (Doubt(0, why),)
    of = f" of {entry.item}" if entry.item else ""
    words = Hearing("trade", f"{entry.kind} {entry.quantity} {entry.unit}s{of}")
    return HeardUtterance(Utterance(60.0 * at, 60.0 * at + 3, (words,)), Reading((entry,), doubts))


def shown(desk: Desk) -> Question:
    """The first question, with its answers."""
    return with_answers(desk, questions(desk)[0])
