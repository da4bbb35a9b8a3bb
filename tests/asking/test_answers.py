"""The answers that fit a doubt, most likely first."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.asking.answers import MOST
from joblog.asking.learned import decided
from joblog.asking.offers import as_kind
from joblog.dictation import fact_of
from joblog.model import Entry, Item

sys.path.append(str(Path(__file__).parent))
from asked import PLAN, answers, heard, kept, says, used

NO_ITEM = "of what? No item was said"


def test_of_sheets_of_something_the_only_item_counted_in_sheets_comes_first() -> None:
    first = answers(kept(used(8, None), NO_ITEM))[0]
    assert (first.says, first.because) == ("soffit panel", "the only one counted in panels")
    assert first.settles[0].becomes == used(8, "soffit panel")


def test_of_sticks_of_something_all_that_come_in_sticks_are_offered() -> None:
    found = says(answers(kept(used(8, None, unit="stick"), NO_ITEM)))
    assert {"fascia", "j channel"} <= {*found[:2]}


def test_what_was_spoken_of_that_day_comes_before_what_was_not() -> None:
    before = kept(used(3, "j channel", unit="stick"), id=7)
    asked = kept(used(8, None, unit="stick"), NO_ITEM, id=9)
    assert says(answers(asked, around=(before,)))[0] == "j channel"


def test_what_could_count_nowhere_is_no_answer() -> None:
    found = answers(kept(used(8, None), NO_ITEM))
    assert all(one.settles[0].becomes.item or one.says.startswith("note") for one in found)  # type: ignore[union-attr]


def test_a_name_nobody_knows_is_offered_what_is_called_nearly_so() -> None:
    why = "'j chanel' is not in the catalog: joblog catalog set \"j chanel\" unit=stick"
    assert says(answers(kept(used(3, "j chanel", unit="stick"), why)))[0] == "j channel"


def test_what_became_of_it_is_answered_by_each_thing_that_can() -> None:
    found = says(answers(kept(used(), "used, or spoiled?")))
    assert found[0] == "wasted"
    assert {"delivered", "left over", "returned"} <= {*found}


def test_only_the_kind_changes_when_it_was_wasted() -> None:
    entry = used(place="north eave")
    first = answers(kept(entry, "used, or spoiled?"))[0]
    assert first.settles[0].becomes == as_kind(entry, "spoiled")


def test_words_without_a_verb_are_offered_as_each_thing_that_can_become_of_it() -> None:
    why = "used, delivered, scrapped or left over? It was not said."
    note = kept(Entry("note", note="six sheets of soffit"), why, said="six sheets of soffit")
    became = [one.settles[0].becomes for one in answers(note)]
    assert [one.kind for one in became if one][:3] == ["used", "spoiled", "delivered"]
    assert became[0] == used(6)


@pytest.mark.parametrize(
    ("why", "entry", "meant"),
    [
        ("10, or 12?", used(10), used(12)),
        ("two, or four?", used(2), used(4)),
        (
            "two numbers, 11 and 12 inches: which one holds?",
            Entry("measure", inches=Fraction(11), as_said="11"),
            Entry("measure", inches=Fraction(12), as_said="12"),
        ),
        (
            "inches, or feet?",
            Entry("measure", inches=Fraction(9), as_said="9"),
            Entry("measure", inches=Fraction(108), as_said="108 feet"),
        ),
    ],
)
def test_the_numbers_that_a_doubt_names_are_its_answers(
    why: str, entry: Entry, meant: Entry
) -> None:
    facts = [fact_of(one.settles[0].becomes) for one in answers(kept(entry, why))]  # type: ignore[arg-type]
    assert facts[0] == fact_of(meant)


def test_how_many_is_answered_by_the_key_of_that_number() -> None:
    found = answers(kept(used(None), "how many?"))
    assert [one.settles[0].becomes.quantity for one in found] == [*range(1, 10)]  # type: ignore[union-attr]


def test_said_twice_is_answered_by_letting_it_go() -> None:
    first = answers(kept(used(), "said twice: is it one, or two?"))[0]
    assert (first.settles[0].becomes, first.says) == (None, "the same, said again: drop it")


def test_half_past_four_or_four_and_thirty_two_is_settled_at_once() -> None:
    why = "4:30 and 2, or 4 o'clock and 32? said in one breath"
    stop = kept(Entry("stop", time=time(16, 30)), why, id=1)
    left = kept(
        Entry("on_hand", item="soffit panel", quantity=Fraction(2), unit="sheet"), why, id=2
    )
    first = answers(stop, left)[0]
    assert first.says == "4:00 PM, 32 panels"
    assert [one.becomes for one in first.settles] == [
        Entry("stop", time=time(16)),
        Entry("on_hand", item="soffit panel", quantity=Fraction(32), unit="sheet"),
    ]


def test_two_numbers_in_a_row_become_one_length_and_the_first_is_changed() -> None:
    whys = "two numbers in a row: one length, or two?"
    one = kept(Entry("measure", inches=Fraction(1), as_said="1"), id=1)
    other = kept(Entry("measure", inches=Fraction(44), as_said="44"), whys, id=2)
    first = answers(other, breath=(one, other))[0]
    became = {each.entry: each.becomes for each in first.settles}
    assert became[2] is None
    assert became[1] is not None
    assert became[1].inches == 144


def test_morning_or_afternoon_is_half_a_day() -> None:
    found = answers(kept(Entry("stop", time=time(16, 30)), "morning or afternoon?"))
    assert found[0].settles[0].becomes == Entry("stop", time=time(4, 30))


def test_no_time_is_answered_by_when_it_was_said() -> None:
    first = answers(kept(Entry("stop"), "when? No time was said"))[0]
    assert (first.settles[0].becomes, first.because) == (
        Entry("stop", time=time(15, 20)),
        "when it was said",
    )


def test_people_besides_him_or_in_all_are_both_offered() -> None:
    asked = kept(Entry("start", time=time(7), workers=4), "3 besides you, or 3 in all?")
    assert answers(asked)[0].settles[0].becomes == Entry("start", time=time(7), workers=3)


def test_which_tuesday_is_a_week_off() -> None:
    entry = Entry("todo", note="call the inspector", day=date(2026, 10, 6))
    found = answers(kept(entry, "'tuesday': this week's, or the one after?"))
    assert found[0].settles[0].becomes.day == date(2026, 10, 13)  # type: ignore[union-attr]


def test_a_variant_that_the_doubt_names_comes_first() -> None:
    from dataclasses import replace

    from joblog.model import PlannedItem

    lines = [
        PlannedItem(Item(f"fascia {size}", "stick", variant_of="fascia", size=size), Fraction(4))
        for size in ("1x6", "1x8", "1x10")
    ]
    asked = kept(used(4, "fascia", unit="stick"), "which fascia: 1x6 or 1x8?")
    found = says(answers(asked, plan=replace(PLAN, items=tuple(lines))))
    assert {*found[:2]} == {"fascia 1x6", "fascia 1x8"}


def test_there_are_never_more_answers_than_digit_keys() -> None:
    assert len(answers(kept(used(8, None, unit="each"), NO_ITEM))) <= MOST == 9


def test_one_thing_is_offered_once() -> None:
    found = answers(kept(used(8, None), NO_ITEM))
    assert len({one.settles[0].becomes for one in found}) == len(found)


# --- what else was heard -------------------------------------------------------------------------


SIXTEEN = "used sixteen sheets of soffit on the north eave"
SIXTY = "used sixty sheets of soffit on the north eave"
SOUTH = "used sixteen sheets of soffit on the south eave"


def test_what_the_other_recognizer_heard_is_an_answer_and_says_where_it_is_from() -> None:
    said = heard(("trade", SIXTY, 0.6), ("general free", SIXTEEN, 0.7), scored=(SIXTEEN, SIXTY))
    asked = kept(
        used(16, place="north eave"), "which number: 16 sheets or 60 sheets?", said=SIXTEEN
    )
    first = answers(asked, utterance=said)[0]
    assert (first.says, first.because) == ("60 panels", f"heard: {SIXTY}")


def test_choices_that_differ_only_in_their_place_are_both_shown_by_it() -> None:
    said = heard(("trade", SIXTEEN, 0.6), ("general free", SOUTH, 0.6), scored=(SIXTEEN, SOUTH))
    asked = kept(used(16, place="porch"), "which place: porch or north eave?", said=SIXTEEN)
    found = says(answers(asked, utterance=said))
    assert {"north eave", "south eave"} <= {*found}


def test_a_meaning_of_more_things_adds_those_that_are_missing() -> None:
    both = "used six sheets of soffit two sheets cracked"
    said = heard(
        ("trade", both, 0.6), ("general free", "used six sheets of soffit", 0.6), scored=(both,)
    )
    asked = kept(used(6), "more was said than is here: was anything left out?")
    first = answers(asked, utterance=said)[0]
    assert [one.kind for one in first.settles[0].beside] == ["spoiled"]


def test_what_its_neighbour_says_is_not_added_a_second_time() -> None:
    both = "used six sheets of soffit two sheets cracked"
    said = heard(
        ("trade", both, 0.6), ("general free", "used six sheets of soffit", 0.6), scored=(both,)
    )
    neighbour = kept(
        Entry("spoiled", item="soffit panel", quantity=Fraction(3), unit="sheet"), id=2
    )
    more = kept(Entry("note", note="and hot"), id=3)
    asked = kept(used(7), "not heard clearly")
    found = answers(asked, utterance=said, breath=(asked, neighbour, more))
    assert all(not one.settles[0].beside for one in found)


def test_which_words_are_an_answer_where_only_words_are_asked_about() -> None:
    said = heard(
        ("trade", "covered the wire behind the south saw thick", 0.4),
        ("general free", "covered the wire behind the south soffit", 0.8),
    )
    asked = kept(Entry("covered", note="covered the wire behind the south saw thick"))
    found = answers(asked, utterance=said)
    notes = [one.settles[0].becomes.note for one in found if one.settles[0].becomes]
    assert notes[0] == "covered the wire behind the south soffit"


# --- what was answered before --------------------------------------------------------------------


def test_what_was_answered_before_is_likelier_each_time() -> None:
    changes = [(used(4, "jay", unit="stick"), used(4, "j channel", unit="stick"))] * 3
    why = "'jay' is not in the catalog: joblog catalog set \"jay\" unit=stick"
    asked = kept(used(2, "jay", unit="stick"), why)
    first = answers(asked, decided=decided(changes))[0]
    assert (first.says, first.because) == ("j channel", "answered so 3 times")


def test_sheets_of_something_are_what_they_were_before() -> None:
    changes = [(used(4, None), used(4, "plywood"))] * 4
    first = answers(kept(used(2, None), NO_ITEM), decided=decided(changes))[0]
    assert first.says == "plywood"


def test_a_number_that_was_put_right_says_nothing_of_the_next() -> None:
    assert decided([(used(14), used(40))]) == {}


def test_a_place_that_was_only_missing_says_nothing_of_the_next() -> None:
    assert decided([(used(), used(place="north eave"))]) == {}


def test_a_price_may_be_that_of_all_of_it() -> None:
    entry = Entry(
        "delivered", item="soffit panel", quantity=Fraction(6), unit="sheet",
        unit_cost=Decimal("210.00"),
    )  # fmt: skip
    found = {one.says: one.because for one in answers(kept(entry, "not heard clearly"))}
    assert found["$35.00"] == "for all of it"


def test_a_fraction_whose_end_was_lost_is_offered_whole() -> None:
    said = "north eave seven and one sixty four"
    asked = kept(
        Entry("measure", inches=Fraction(7), place="north eave"), "not heard clearly", said=said
    )
    assert "7 1/64 in" in says(answers(asked))


def test_hours_on_no_task_of_the_job_are_offered_its_tasks() -> None:
    labor = Entry("labor", hours=Fraction(2), note="hanging")
    first = answers(kept(labor, "'hanging' is no task of this job"))[0]
    assert first.says == "hang soffit"


def test_of_an_item_that_was_not_said_the_others_counted_so_are_offered() -> None:
    entry = used(20, "fascia", unit="stick", carried=("item",))
    found = says(answers(kept(entry, "with it 29 sticks would be gone, and only 26 ever came")))
    assert "j channel" in found
    assert "soffit panel" not in found


def test_of_an_item_that_was_said_no_other_is_offered() -> None:
    entry = used(20, "fascia", unit="stick")
    found = says(answers(kept(entry, "with it 29 sticks would be gone, and only 26 ever came")))
    assert "j channel" not in found


def test_a_word_that_was_not_understood_may_be_what_another_item_is_counted_in() -> None:
    entry = used(1, "fascia", unit="stick", carried=("item",))
    found = says(answers(kept(entry, "not understood: 'shed'")))
    assert "soffit panel, 1 panel" in found


def test_what_nobody_measures_has_a_price_for_a_length() -> None:
    entry = Entry("measure", item="screws", inches=Fraction(740))
    found = answers(kept(entry, "740 inches, or two numbers?"))
    price = Entry("price", item="screws", unit="lb", unit_cost=Decimal("7.40"))
    assert price in [one.settles[0].becomes for one in found]


def test_a_depth_is_of_no_item_that_was_not_named() -> None:
    entry = Entry("measure", inches=Fraction(14), dimension="depth")
    before = kept(used(3, "fascia", unit="stick"), id=7)
    found = answers(kept(entry, "which item: depth or no item?", id=9), around=(before,))
    assert not any("fascia" in one.means for one in found)


def test_whose_pay_was_told_is_the_helpers_or_everybodys() -> None:
    told = Entry(
        "labor", hours=Fraction(6), workers=2, task="hang soffit", unit_cost=Decimal(18),
        who="the helper",
    )  # fmt: skip
    found = answers(kept(told, "is that the helper's pay, or everybody's?"))
    assert says(found)[0] == "everybody's pay"
    assert found[0].settles[0].becomes == replace(told, who=None)
