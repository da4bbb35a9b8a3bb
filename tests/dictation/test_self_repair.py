"""What is put right in mid-sentence is one fact, with the value meant. Phrases invented."""

import re
from datetime import datetime
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.form import describe
from joblog.model import Entry, Plan, PlannedTask, Task
from joblog.plan import vocabulary

TASKS = (PlannedTask(Task("hang soffit", ("hanging soffit",)), Fraction(1)),)
WORDS = vocabulary(Plan(tasks=TASKS, places=("north eave", "south eave", "west gable")))
AFTERNOON = Context(at=datetime(2026, 10, 5, 16, 30))


def only(text: str) -> str:
    reading = read(text, WORDS, AFTERNOON)
    assert reading.doubts == ()
    [entry] = reading.entries
    return re.sub(r" \(said: .*?\)", "", describe(entry))


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("used four no five five sheets of soffit", "installed: 5 soffit panels"),
        ("used three sheets of soffit no make it four", "installed: 4 soffit panels"),
        ("used nine fascia, sorry, ten fascia", "installed: 10 sticks of fascia"),
        ("spoiled two sticks of fascia, no, one stick", "1 stick of fascia"),
        ("delivered ten sticks of fascia i mean twelve sticks", "12 sticks of fascia"),
        ("delivered four sheets of soffit, no, five of fascia", "5 sticks of fascia"),
        ("quit at four, well four twenty", "stop: 4:20 PM"),
        ("four twenty, i mean we quit at four thirty", "stop: 4:30 PM"),
        ("took a twenty minute break, make that thirty", "break: 30 minutes"),
        ("two hours, no, two and a half hours hanging soffit", "2 1/2 hours"),
    ],
)
def test_a_number_is_put_right_by_a_number(said: str, meant: str) -> None:
    assert meant in only(said)


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("eave eleven foot eight minus the corner, call it eleven foot six and a half", "138 1/2"),
        ("north eave forty two and a, uh, and an eighth", "42 1/8"),
        ("north eave forty two and a uh and an eighth", "42 1/8"),
        ("north eave fourteen and five, and five eighths", "14 5/8"),
        ("the the north eave is is forty forty one", "41"),
        ("north eave forty one foot forty one foot two", "494"),
        ("north eave fourteen and a half, no wait, fourteen and five eighths", "14 5/8"),
        ("north eave fourteen and a half, no, five eighths", "14 5/8"),
        ("north eave eleven foot six, no, eight", "140"),
        ("north eave forty one foot, no, forty two", "504"),
    ],
)  # fmt: skip
def test_a_length_is_put_right_by_a_length(said: str, inches: str) -> None:
    assert f" {inches} in" in only(said)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("used four soffit on the north eave, i mean the south eave", "south eave"),
        ("the north, no, the south eave is fourteen and a quarter", "south eave"),
        ("north eave twelve and a half, no wait, south eave twelve and a half", "south eave"),
        ("used two sticks of fascia, no, wall channel", "2 sticks of F channel"),
        ("used, no, returned two sticks of fascia", "returned: 2 sticks of fascia"),
        ("used two sticks of fascia, no, returned two sticks", "returned: 2 sticks of fascia"),
    ],
)
def test_a_place_an_item_and_a_verb_are_put_right_by_their_like(said: str, meant: str) -> None:
    assert meant in only(said)


def test_two_repairs_in_one_breath_are_both_made() -> None:
    said = "used three no wait four sticks of fascia on the north no the west gable"
    assert only(said) == "installed: 4 sticks of fascia, west gable"


def test_of_several_numbers_the_one_that_goes_on_alike_is_put_right() -> None:
    cut = read("cut six at fourteen and a half, no, eight at fourteen and a half", WORDS)
    near = read("cut six fascia at eleven and a half and two, no, three at twelve", WORDS)
    assert [one.pieces for one in near.entries] == [6, 3]
    both = read("used four sheets of soffit and two sticks of fascia, no, five sheets", WORDS)
    assert [(one.pieces, one.inches) for one in cut.entries] == [(8, Fraction(29, 2))]
    assert [(one.quantity, one.unit) for one in both.entries] == [(5, "sheet"), (2, "stick")]


@pytest.mark.parametrize(
    "said", ["used three maybe four sheets of soffit", "used three sheets, maybe four, of soffit"]
)
def test_where_it_is_not_certain_which_holds_there_is_one_doubtful_entry(said: str) -> None:
    reading = read(said, WORDS)
    [entry] = reading.entries
    assert entry.kind == "used"
    assert [doubt.why for doubt in reading.doubts] == ["3, or 4?"]


def test_without_a_pause_no_may_belong_to_what_follows_it() -> None:
    doubted = read("used two sticks of fascia no wall channel", WORDS)
    none_left = read("used two sticks of fascia, no wall channel left", WORDS)
    assert [doubt.why for doubt in doubted.doubts] == ["fascia, or wall channel?"]
    assert [entry.item for entry in none_left.entries] == ["fascia", "F channel"]


@pytest.mark.parametrize(
    ("said", "facts"),
    [
        ("used two sheets of soffit, used two sheets of soffit", 2),
        ("used two sheets of soffit and used two sheets of soffit and used one stick of fascia", 3),
        ("cut fourteen and a half, fifteen and a quarter", 2),
        ("used four sheets of soffit, spoiled five sheets of soffit", 2),
        ("used four sheets of soffit on the west gable, no, north eave fourteen and a half", 2),
    ],
)
def test_two_facts_stay_two(said: str, facts: int) -> None:
    assert len(read(said, WORDS).entries) == facts


def test_what_was_said_before_is_changed_and_not_repaired() -> None:
    last = Entry("used", item="fascia", quantity=Fraction(5), unit="stick", place="north eave")
    context = Context(last=last, item="fascia", place="north eave")
    for said in ("i said five i meant nine", "no, nine"):
        [entry] = read(said, WORDS, context).entries
        assert entry.replacement is not None
        assert entry.replacement.quantity == 9


def test_a_number_and_another_sort_of_number_do_not_replace_each_other() -> None:
    reading = read("cut fourteen and a half, no, make it six pieces", WORDS)
    assert reading.entries[0].inches == Fraction(29, 2)


# --- thinking aloud ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("two, three, three sticks of fascia used", "installed: 3 sticks of fascia"),
        (
            "two, four, six, and the odd one, seven, used seven sticks of fascia",
            "installed: 7 sticks",
        ),
        ("i count eight, eight sticks of fascia left", "left: 8 sticks of fascia"),
        ("north eave, what was it, fourteen and a half", "measure: 14 1/2 in, north eave"),
        ("north eave, wait, let me get the tape back on it, fourteen and a half", "14 1/2 in"),
        ("used five, used six sticks of fascia", "installed: 6 sticks of fascia"),
        ("two hours, two and a half hours hanging soffit", "hours: 2 1/2 hours, hang soffit"),
        ("stopped at quarter to, it's quarter past four", "stop: 4:15 PM"),
        ("took a twenty minute lunch, no, thirty", "break: 30 minutes"),
        ("ten sticks of fascia left, no nine, nine sticks of fascia left", "left: 9 sticks"),
        ("put up nine sticks of fascia on the north eave, nine", "installed: 9 sticks of fascia"),
        ("north eave thirty foot, minus the corner, so twenty nine foot eight", "356 in"),
        ("that's nine sticks, no i miscounted, used ten sticks of fascia", "installed: 10 sticks"),
        ("north eave forty one, no, forty two foot six, yeah forty two six", "510 in"),
        ("fourteen and, sorry somebody called, fourteen and a half on the north eave", "14 1/2 in"),
        ("one two three four, four sticks of fascia left", "left: 4 sticks of fascia"),
        ("used a roll and, well call it a roll and a half of trim coil", "1 1/2 rolls"),
        ("used one box of, no, not a box, a pound of trim nails", "installed: 1 lb of trim nails"),
        ("north eave six, no that was the south eave, south eave six and a half", "south eave"),
        ("north eave is twelve foot, hold it, tape is bent, twelve foot two", "146 in"),
        ("north eave is eighty, hold up, he says ninety one and a half", "91 1/2 in"),
        ("north eave eighty, no, ninety and a half, i read it upside down", "90 1/2 in"),
        ("put two, no, put three sheets of soffit on the south eave", "installed: 3 soffit panels"),
        ("north eave one hundred and, one hundred twelve and a half", "112 1/2 in"),
        ("north eave is twenty and, gimme a second, five eighths", "20 5/8 in"),
        ("north eave is ten foot, no, that is the ten inch mark, eleven foot two", "134 in"),
        ("what is left, two, four, five sticks of fascia", "left: 5 sticks of fascia"),
        ("i used, was it a pound or, two pounds of trim nails", "installed: 2 lb of trim nails"),
        ("north eave twenty six, or is it, no, twenty six and a half", "26 1/2 in"),
    ],
)
def test_what_is_only_thought_aloud_is_no_fact(said: str, meant: str) -> None:
    assert meant in only(said)


def test_a_list_comes_out_of_what_is_asked_oneself_before_it() -> None:
    need = read("need uh what was it, oh yeah four tubes of caulk, six hangers", WORDS, AFTERNOON)
    assert [describe(entry) for entry in need.entries] == [
        "needed: 4 tubes of caulk",
        "needed: 6 gutter hanger",
    ]
    used = read("used elbows six, hangers ten and caulk two tubes", WORDS, AFTERNOON)
    assert [(entry.kind, entry.quantity) for entry in used.entries] == [
        ("used", 6),
        ("used", 10),
        ("used", 2),
    ]
    assert need.doubts == used.doubts == ()


def test_every_fact_beside_words_that_are_not_understood_is_asked_about() -> None:
    said = "the guys want the brake, used nine sheets of soffit, two sticks of fascia"
    reading = read(said, WORDS, AFTERNOON)
    assert [doubt.entry for doubt in reading.doubts] == [0, 1]


def test_what_should_have_come_is_not_needed() -> None:
    said = "we were supposed to get ten sheets of soffit and they brought eight"
    reading = read(said, WORDS, AFTERNOON)
    told = [(one.kind, one.quantity) for one in reading.entries if one.kind != "note"]
    assert told == [("delivered", 8)]


def test_a_sum_of_what_was_not_all_understood_is_asked_about() -> None:
    reading = read("used one tube of caulk and then some, so three tubes used", WORDS, AFTERNOON)
    assert {doubt.entry for doubt in reading.doubts} == {0, 1}


def test_numbers_that_the_amount_does_not_repeat_are_measures_in_doubt() -> None:
    reading = read("eleven, thirteen, used four sticks of fascia", WORDS, AFTERNOON)
    assert [entry.kind for entry in reading.entries] == ["measure", "measure", "used"]
    assert {doubt.entry for doubt in reading.doubts} >= {0, 1}


def test_a_number_behind_a_place_or_a_dimension_is_measured_and_not_counted_up() -> None:
    for said in ("north eave, four, used four sticks of fascia", "depth, four, used four fascia"):
        assert [one.kind for one in read(said, WORDS).entries] == ["measure", "used"]


def test_wait_before_a_number_still_changes_what_was_said_before() -> None:
    last = Entry("measure", inches=Fraction(12), place="north eave")
    [entry] = read("wait, eleven and a half", WORDS, Context(last=last)).entries
    assert (entry.kind, entry.action) == ("correction", "replace")


# --- said again in full -----------------------------------------------------------------------


def test_a_measure_said_again_with_more_is_one() -> None:
    said = "north eave fourteen and a half, that's the depth, depth fourteen and a half"
    assert only(said) == "measure: depth 14 1/2 in, north eave"
    assert only("cut four fascia at nine and a half, four of them").startswith("measure: 4 pieces")


def test_parts_that_were_summed_up_are_the_sum_and_asked_about() -> None:
    said = "used two sticks of fascia and used one, so three, used three sticks of fascia"
    reading = read(said, WORDS)
    assert [entry.quantity for entry in reading.entries] == [3]
    assert [doubt.why for doubt in reading.doubts] == [
        "the sum of what was said before it, or more?"
    ]
    apart = "used two fascia on the north eave, one on the west gable, three on the south eave"
    assert [entry.quantity for entry in read(apart, WORDS).entries] == [2, 1, 3]


def test_a_count_that_was_reckoned_out_loud_is_one_and_so_is_a_list_read_over() -> None:
    once = "delivered seven sticks of fascia, so delivered seven sticks of fascia"
    over = "delivered six fascia and two drip edge, delivered six fascia and two drip edge"
    assert [entry.quantity for entry in read(once, WORDS).entries] == [7]
    assert [entry.quantity for entry in read(over, WORDS).entries] == [6, 2]
    assert [doubt.why for doubt in read(over, WORDS).doubts] == ["said twice: is it one, or two?"]


def test_what_there_was_before_is_asked_about_and_not_used() -> None:
    reading = read("i had six, used two sticks of fascia", WORDS)
    assert [entry.quantity for entry in reading.entries] == [2]
    assert "there were six" in reading.doubts[0].why


def test_equal_readings_stay_as_many_as_were_said() -> None:
    said = "north eave fourteen and a half and again fourteen and a half"
    apart = "fourteen and a half on the north eave and fourteen and a half on the south eave"
    assert len(read(said, WORDS).entries) == 2
    assert len(read(apart, WORDS).entries) == 2


def test_an_amount_without_its_material_is_the_one_that_names_it() -> None:
    assert only("used five sticks, that's five sticks of fascia") == "installed: 5 sticks of fascia"
    twice = read("used two sticks of fascia, used two sticks of fascia", WORDS)
    assert [doubt.why for doubt in twice.doubts] == ["said twice: is it one, or two?"]


def test_two_numbers_before_one_unit_are_one_amount_in_doubt() -> None:
    tried = ("used four five sticks of fascia", "used four, five sticks of fascia")
    for said in (*tried, "four, five sticks of fascia used"):
        reading = read(said, WORDS)
        assert [entry.quantity for entry in reading.entries] == [5]
        assert [doubt.why for doubt in reading.doubts] == ["four, or five?"]


def test_a_place_alone_is_put_right_in_what_was_said_before() -> None:
    last = Entry("measure", inches=Fraction(12), place="north eave")
    reading = read("south eave, no that was the west gable", WORDS, Context(last=last))
    assert [entry.kind for entry in reading.entries] == ["correction"]


@pytest.mark.parametrize(
    ("said", "facts"),
    [
        ("up, down, that ladder, the depth is nine and an eighth", ["measure"]),
        ("i need nails and coil, i need two tubes of caulk", ["needed", "needed"]),
    ],
)
def test_talk_ends_where_a_plain_fact_begins(said: str, facts: list[str]) -> None:
    kinds = [entry.kind for entry in read(said, WORDS).entries]
    assert [kind for kind in kinds if kind != "note"] == facts


@pytest.mark.parametrize(
    ("said", "cost"),
    [
        ("delivered three sheets of soffit, at twenty twenty one", "20.21"),
        ("delivered three sheets of soffit thirty thirty five a sheet", "30.35"),
    ],
)
def test_dollars_and_cents_are_no_number_begun_twice(said: str, cost: str) -> None:
    [entry] = read(said, WORDS).entries
    assert str(entry.unit_cost) == cost


def test_a_length_that_a_piece_is_cut_to_may_be_begun_twice() -> None:
    [entry] = read("cut six at forty forty one", WORDS).entries
    assert entry.inches == 41


def test_as_many_people_as_hours_are_no_number_said_again() -> None:
    [entry] = read("two hours, hang soffit, two people", WORDS).entries
    assert (entry.hours, entry.workers) == (2, 2)


def test_a_clock_behind_a_number_is_no_number_that_grows() -> None:
    said = "testing forty five, worked from midnight or so through 9:45 pm"
    assert "21:45:00" in [str(entry.time) for entry in read(said, WORDS, AFTERNOON).entries]
