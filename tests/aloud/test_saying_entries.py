"""An entry is read back in few words, and none of its numbers is lost on the way."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.aloud import say_changed, say_dropped, say_entries, say_entry, say_question
from joblog.aloud.say import SECONDS, differing, seconds_of
from joblog.dictation import fact_of, read
from joblog.model import UNHEARD, Entry
from tests.bench.corpus import phrases, words
from tests.bench.read_back import read_backs

DEPTH = Entry("measure", place="north eave", inches=Fraction(117, 8), as_said="14 5/8")
SHEETS = Entry("used", item="soffit panel", quantity=Fraction(3), unit="sheet")


def test_a_measure_is_said_with_its_place_and_its_cut() -> None:
    said = say_entry(DEPTH, cut=Fraction(115, 8), seconds=9.0)
    assert said == "north eave, fourteen and five eighths, cut fourteen and three eighths"


def test_a_place_that_was_said_last_is_not_said_again() -> None:
    assert say_entry(DEPTH, place_known="north eave") == "fourteen and five eighths"


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (SHEETS, "used three sheets of soffit panel"),
        (replace(SHEETS, quantity=Fraction(1, 2)), "used half a sheet of soffit panel"),
        (replace(SHEETS, kind="on_hand", quantity=Fraction(0)), "left zero sheets of soffit panel"),
        (replace(SHEETS, quantity=None), "used how many, soffit panel"),
        (
            Entry("used", item="end cap", quantity=Fraction(3), unit="each"),
            "used three end caps",
        ),
        (Entry("start", time=time(7, 30), workers=2), "started seven thirty, two people"),
        (Entry("stop", time=time(16)), "stopped four o'clock"),
        (Entry("stop", time=time(19, 5)), "stopped seven oh five pm"),
        (Entry("break", minutes=Fraction(30)), "break, thirty minutes"),
        (
            Entry("labor", hours=Fraction(5, 2), workers=2, task="hang soffit"),
            "two and a half hours, hang soffit, two people",
        ),
        (Entry("weather", fahrenheit=Fraction(38), note="cloudy"), "thirty eight degrees, cloudy"),
        (Entry("measure", pitch=Fraction(4)), "pitch four in twelve"),
        (Entry("measure", square_inches=Fraction(1152), as_said="8 square feet"),
         "eight square feet"),
        (Entry("photo", note="gable"), "photo, gable"),
        (Entry("photo", place="west gable", note="the west gable"), "photo, the west gable"),
        (
            Entry("used", item="fascia 1x6", size="1x6", quantity=Fraction(4), unit="stick"),
            "used four sticks of one by six fascia",
        ),
        (
            Entry("on_hand", item="j channel", length=Fraction(120), quantity=Fraction(2),
                  unit="stick"),
            "left two sticks of ten foot j channel",
        ),
        (
            Entry("delivered", item="trim nails", size="1 1/2 in", quantity=Fraction(3), unit="lb"),
            "delivered three pounds of one and a half inch trim nails",
        ),
        (
            Entry("used", item="two by four", size="2x4", length=Fraction(96),
                  quantity=Fraction(8), unit="stick"),
            "used eight sticks of eight foot two by four",
        ),
        (
            Entry("used", item="vented soffit panel", profile="center vented",
                  quantity=Fraction(1), unit="sheet"),
            "used one sheet of center vented soffit panel",
        ),
        (
            Entry("used", item="gutter hanger", size="5 in", quantity=Fraction(4), unit="each",
                  day=date(2026, 10, 12)),
            "used four five inch gutter hangers, on monday",
        ),
        (
            Entry("measure", place="north eave", dimension="reveal", inches=Fraction(9, 8)),
            "north eave, reveal, one and an eighth",
        ),
        (
            Entry("price", item="fascia", unit="stick", unit_cost=Decimal("14.90")),
            "fascia is fourteen ninety a stick",
        ),
        (
            Entry("price", item="trim nails", unit="lb", unit_cost=Decimal("5.85")),
            "trim nails are five eighty five a pound",
        ),
        (
            Entry("extra", note="light block by the back door", price=Decimal("60"), who="customer",
                  hours=Fraction(2)),
            "extra work, sixty dollars, two hours",
        ),
        (
            Entry("todo", note="call about the dumpster", day=date(2026, 10, 9)),
            "reminder, call about the dumpster, on friday",
        ),
        (Entry("expense", price=Decimal("40"), note="the dump"), "paid forty dollars for the dump"),
        (
            Entry("expense", price=Decimal("50"), note="paid forty bucks for the dump"),
            "paid fifty dollars for the dump",
        ),
        (Entry("expense", price=Decimal("80"), note="paid the kid ninety"),
         "expense eighty dollars"),
        (
            Entry("moved", item="soffit panel", quantity=Fraction(6), unit="sheet",
                  to_job="Mill porch"),
            "moved six sheets of soffit panel to the mill porch job",
        ),
        (
            Entry("moved", item="elbow", quantity=Fraction(5), unit="each", from_job="stock"),
            "moved five elbows from stock",
        ),
        (Entry("drive", miles=Fraction(40), note="drove thirty two miles"), "drove forty miles"),
        (Entry("drive", miles=Fraction(32)), "drove thirty two miles"),
        (
            Entry("inspection", time=time(9), note="building inspector at nine"),
            "inspection at nine o'clock, building inspector",
        ),
        (Entry("visit", time=time(14), who="dave", note="dave"), "dave came by at two o'clock"),
        (Entry("visit", note="wanted a card", who="neighbor"), "neighbor came by, wanted a card"),
        (Entry("correction", action="drop"), "dropped the last one"),
        (Entry("correction", action="replace", replacement=DEPTH),
         "instead, north eave, fourteen and five eighths"),
    ],
)  # fmt: skip
def test_every_kind_is_said_in_few_words(entry: Entry, said: str) -> None:
    assert say_entry(entry) == said


def test_of_a_note_only_its_first_words_are_said() -> None:
    note = f"the ladder {UNHEARD} is on the south eave behind the truck"
    assert say_entry(Entry("note", note=note)) == "note, the ladder is on"


def test_several_entries_of_one_breath_are_one_line() -> None:
    broken = replace(SHEETS, kind="spoiled", quantity=Fraction(1))
    assert say_entries((SHEETS, broken), seconds=9.0) == (
        "used three sheets of soffit panel, spoiled one sheet of soffit panel"
    )


def test_an_item_said_just_before_is_the_first_to_be_spared() -> None:
    broken = replace(SHEETS, kind="spoiled", quantity=Fraction(1))
    assert say_entries((SHEETS, broken)) == "used three sheets of soffit panel, spoiled one sheet"


def test_a_carried_place_is_spared_where_time_is_short() -> None:
    carried = replace(DEPTH, carried=("place",))
    assert say_entry(carried, seconds=1.5) == "fourteen and five eighths"


def test_a_place_that_was_said_is_never_spared() -> None:
    assert say_entry(DEPTH, seconds=0.5) == "north eave, fourteen and five eighths"


def test_what_was_put_right_or_taken_back_is_said_so() -> None:
    assert say_changed(DEPTH, place_known="north eave") == "instead: fourteen and five eighths"
    assert say_dropped(DEPTH) == "dropped: fourteen and five eighths"


def test_a_question_is_asked_in_nothing_but_the_numbers() -> None:
    forty = replace(DEPTH, inches=Fraction(40), as_said="40")
    fourteen = replace(DEPTH, inches=Fraction(14), as_said="14")
    assert say_question((fourteen, forty)) == "fourteen, or forty?"


def test_entries_that_differ_in_two_numbers_are_no_question() -> None:
    assert differing((SHEETS, replace(SHEETS, quantity=Fraction(4), unit="box"))) == ("quantity",)
    with pytest.raises(ValueError):
        say_question((SHEETS, DEPTH))


def test_control_characters_of_a_place_are_not_passed_on() -> None:
    assert "\x1b" not in say_entry(replace(DEPTH, place="north\x1b[31m eave"))


def test_every_read_back_of_the_open_corpus_says_the_same_fact() -> None:
    assert [(one.of, one.line) for one in read_backs() if not one.comes_back] == []


def test_few_read_backs_of_the_open_corpus_are_longer_than_they_should() -> None:
    lines = [one.line for one in read_backs()]
    long = [line for line in lines if seconds_of(line) > SECONDS]
    assert len(lines) >= 400
    assert len(long) / len(lines) < 0.06


def test_a_breath_is_said_whole_where_time_is_no_matter() -> None:
    vocabulary = words()
    plain = [
        phrase
        for phrase in phrases()
        if not phrase.held_out and len(phrase.entries) > 1 and not phrase.doubt
    ]
    readings = [read(phrase.text, vocabulary, phrase.context) for phrase in plain]
    for reading in readings:
        said = say_entries(reading.entries, seconds=60.0)
        numbers = [fact_of(entry) for entry in reading.entries if entry.inches]
        back = [fact_of(entry) for entry in read(said, vocabulary).entries]
        assert set(numbers) <= set(back) or reading.doubts, said
