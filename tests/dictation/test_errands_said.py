"""What is to do, extras, prices of today, money spent, drives, inspections and visits.

All sentences and names are invented.
"""

from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.model import Entry, Plan, Reading
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("west gable", "porch", "dormer", "north eave")))
WEDNESDAY = datetime(2026, 10, 14, 16, 30)


def heard(said: str) -> Reading:
    return read(said, WORDS, Context(at=WEDNESDAY))


def only(said: str) -> Entry:
    reading = heard(said)
    (entry,) = reading.entries
    assert reading.doubts == ()
    return entry


@pytest.mark.parametrize(
    "said",
    [
        "don't forget to call about the dumpster",
        "need to come back and caulk the west gable",
        "remember to charge both batteries",
        "call the office about the permit",
        "we still have to fix the loose downspout",
        "the drip edge on the porch has to be renailed",
        "come back and touch up the paint",
        "we gotta sweep the driveway",
        "gotta get the brake fixed",
        "i want to come back and check that flashing",
        "better get the tarp over the dormer",
        "have dave bring the long ladder",
        "check the north eave for level before we hang the gutter",
    ],
)
def test_what_somebody_has_to_do_is_to_do_and_keeps_every_word(said: str) -> None:
    entry = only(said)
    assert entry.kind == "todo"
    kept = (entry.note or "").split()
    assert set(said.split()) - set(kept) <= {"we", "the", "i"}


def test_a_day_to_come_makes_a_plan_something_to_do() -> None:
    entry = only("tomorrow finish the reveal on the dormer")
    assert (entry.kind, entry.day, entry.place) == ("todo", date(2026, 10, 15), "dormer")


def test_material_counted_in_what_is_to_do_is_held_with_it() -> None:
    entry = only("tomorrow bring the brake and two rolls of coil")
    assert (entry.kind, entry.item, entry.quantity) == ("todo", "trim coil", 2)
    assert "brake" in (entry.note or "")


def test_what_follows_and_is_to_do_as_well() -> None:
    entry = only("tomorrow bring the long ladder and the brake")
    assert "ladder and the brake" in (entry.note or "")


def test_what_somebody_had_better_get_is_needed() -> None:
    entry = only("better get another gallon of primer")
    assert (entry.kind, entry.item, entry.quantity) == ("needed", "primer", 1)


def test_money_spent_on_a_drive_is_an_expense_of_its_own() -> None:
    drive, spent = heard("hauled the scrap, nine miles, dump was eighteen dollars").entries
    assert (drive.kind, drive.miles) == ("drive", 9)
    assert (spent.kind, spent.price) == ("expense", Decimal("18.00"))


def test_what_is_to_be_bought_is_needed() -> None:
    entry = only("pick up ten tubes of caulk tomorrow")
    assert (entry.kind, entry.quantity, entry.day) == ("needed", 10, date(2026, 10, 15))


@pytest.mark.parametrize(
    "said",
    [
        "don't need to call anybody",
        "it should rain by noon",
        "that should do it",
        "you should see the other guy",
        "hold on i got a call",
        "the plans call for two by six rafters",
        "ain't got to the west gable yet",
        "friday put up the lights",
        "nobody has to know about that",
        "tomorrow it's supposed to snow",
    ],
)
def test_denials_and_forecasts_are_nothing_to_do(said: str) -> None:
    assert "todo" not in {entry.kind for entry in heard(said).entries}


def test_a_fraction_behind_has_to_be_is_a_measure_and_one_behind_a_tool_is_no_money() -> None:
    assert {entry.kind for entry in heard("the shim has to be nine sixteenths").entries} == {
        "measure"
    }
    assert "expense" not in {entry.kind for entry in heard("blade, nine and a half").entries}


def test_words_before_what_was_spent_stay_before_it() -> None:
    assert only("zonky, blades eighteen dollars").note == "zonky blades eighteen dollars"


def test_a_length_behind_needs_to_be_is_a_measure() -> None:
    assert only("the fascia on the porch needs to be nine foot seven and a half").kind == "measure"


def test_whether_an_amount_is_needed_is_asked() -> None:
    assert heard("ask whether they need seven sticks of j channel").doubts


@pytest.mark.parametrize(
    ("said", "price", "hours"),
    [
        ("customer wants the shutters moved, extra, two hours", None, 2),
        ("owner wants the shutters painted too, three hundred", "300", None),
        ("change order, second coat on the porch, a hundred and twenty", "120", None),
        ("homeowner asked could we hang two shutters, i said one twenty for the pair", "120", None),
        ("charge the owner forty five for the trim around the light", "45", None),
        ("owner says add a vent over the door, eighty five dollars extra", "85", None),
        ("she wants the mailbox post wrapped too, that's another forty", "40", None),
        ("extra, replaced two tails, hour and a half, ninety dollars", "90", Fraction(3, 2)),
    ],
)
def test_work_that_the_customer_asked_for_is_extra(
    said: str, price: str | None, hours: Fraction | None
) -> None:
    entry = only(said)
    assert (entry.kind, entry.hours) == ("extra", hours)
    assert entry.price == (None if price is None else Decimal(price))


@pytest.mark.parametrize(
    "said", ["owner wants to see the samples", "lady asked how much for paint"]
)
def test_questions_of_the_customer_are_no_extra_work(said: str) -> None:
    assert only(said).kind == "note"


@pytest.mark.parametrize(
    ("said", "cost", "unit"),
    [
        ("fascia is fourteen ninety a stick now", "14.90", "stick"),
        ("drip edge is nine forty a stick at the yard", "9.40", "stick"),
        ("coil's a hundred and twelve a roll now at the supply house", "112.00", "roll"),
        ("the yard wants eighteen fifty a stick for j channel", "18.50", "stick"),
        ("coil went up to ninety two a roll", "92.00", "roll"),
        ("caulk's six dollars a tube", "6.00", "tube"),
    ],
)
def test_what_a_thing_costs_now_is_a_price_and_no_count(said: str, cost: str, unit: str) -> None:
    entry = only(said)
    assert (entry.kind, entry.unit_cost, entry.unit) == ("price", Decimal(cost), unit)
    assert entry.quantity is None


def test_who_wants_that_price_is_kept() -> None:
    assert only("the yard wants eighteen fifty a stick for j channel").who == "yard"


@pytest.mark.parametrize(
    "said",
    [
        "frieze, one piece, a hundred and eighteen and a half",
        "j channel, sixty six and a half",
        "j channel, sixty six and a half, one piece",
    ],
)
def test_a_length_is_no_price(said: str) -> None:
    assert [entry.kind for entry in heard(said).entries] == ["measure"]


def test_what_was_delivered_has_the_price_though_another_material_stands_beside_it() -> None:
    said = "a dozen elbows got delivered with the gutter, six thirty five apiece"
    assert "price" not in {entry.kind for entry in heard(said).entries}


def test_a_price_said_with_a_delivery_is_that_deliverys() -> None:
    (entry,) = heard("got six rolls of coil delivered at ninety two a roll").entries
    assert (entry.kind, entry.unit_cost) == ("delivered", Decimal("92.00"))


@pytest.mark.parametrize(
    ("said", "price"),
    [
        ("parking twelve dollars", "12.00"),
        ("gas sixty two fifty", "62.50"),
        ("thirty five dollars at the dump", "35.00"),
        ("saw blade, twenty seven eighty", "27.80"),
        ("ferry ticket nineteen dollars", "19.00"),
        ("rented a lift, one eighty five for the day", "185.00"),
        ("lunch cost me fourteen dollars", "14.00"),
        ("breakfast nine eighty", "9.80"),
        ("paid forty for the dump", "40.00"),
        ("twelve fifty for a new bit", "12.50"),
        ("rental on the scaffold was two twenty", "220.00"),
        ("dump fee twenty two", "22.00"),
    ],
)
def test_money_spent_on_no_material_is_an_expense(said: str, price: str) -> None:
    entry = only(said)
    assert (entry.kind, entry.price) == ("expense", Decimal(price))


@pytest.mark.parametrize(
    "said",
    ["my cousin paid eleven thousand for that boat", "the twenty four foot ladder is in the truck"],
)
def test_other_peoples_money_and_sizes_of_tools_are_no_expense(said: str) -> None:
    assert "expense" not in {entry.kind for entry in heard(said).entries}


def test_a_price_that_may_be_dollars_or_hundreds_is_asked_about() -> None:
    assert heard("gas was two fifty").doubts


@pytest.mark.parametrize(
    ("said", "miles", "minutes"),
    [
        ("thirty two miles", 32, None),
        ("drove fifty two miles for the panels", 52, None),
        ("sixteen and a half miles to the yard", Fraction(33, 2), None),
        ("drove to the supply house and back, thirty one miles, fifty minutes", 31, 50),
    ],
)
def test_miles_are_a_drive(said: str, miles: Fraction, minutes: int | None) -> None:
    entry = only(said)
    assert (entry.kind, entry.miles, entry.minutes) == ("drive", miles, minutes)


def test_the_way_is_kept_with_a_drive() -> None:
    assert "drove" in (only("drove fifty two miles for the panels").note or "")


def test_wind_and_the_age_of_a_truck_are_no_drive() -> None:
    assert only("wind thirty miles an hour").kind == "weather"
    assert only("my truck's got two hundred thousand miles on it").kind == "note"


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("that truck gets nine miles to the gallon", "note"),
        ("homeowner asked for a light block, told her sixty bucks", "extra"),
    ],
)
def test_what_is_read_right_and_asked_about_all_the_same(said: str, kind: str) -> None:
    """When one of these is asked about no more it belongs to those that nobody is asked of."""
    reading = heard(said)
    (entry,) = reading.entries
    assert (entry.kind, entry.price) == (kind, Decimal(60) if kind == "extra" else None)
    assert len(reading.doubts) == 1


def test_a_rise_of_a_price_is_asked_about() -> None:
    assert heard("coil went up two dollars a roll").doubts


def test_a_price_of_a_roll_may_be_dollars_or_hundreds() -> None:
    reading = heard("house wrap one sixty five a roll")
    assert reading.entries[0].unit_cost == Decimal("165.00")
    assert reading.doubts


def test_a_plan_is_to_do_only_where_it_is_for_a_day() -> None:
    assert only("we'll do the dormer on friday").kind == "todo"
    assert only("i'm gonna think about that").kind == "note"


def test_miles_each_way_are_asked_about() -> None:
    assert heard("eighteen miles each way").doubts


@pytest.mark.parametrize(
    ("said", "kind", "clock", "who"),
    [
        (
            "inspector stopped by at eleven thirty and looked at it",
            "inspection",
            time(11, 30),
            None,
        ),
        ("inspection passed", "inspection", None, None),
        ("painter came by around two to look at the trim", "visit", time(14), "painter"),
        ("mrs alvarez stopped by at ten", "visit", time(10), "mrs alvarez"),
        ("owner and her mother came by at noon", "visit", time(12), "owner and mother"),
        ("gutter guy came by at ten", "visit", time(10), "gutter guy"),
        ("two of the neighbors come by and wanted a card", "visit", None, "two of the neighbors"),
    ],
)
def test_who_came_when(said: str, kind: str, clock: time | None, who: str | None) -> None:
    (entry,) = heard(said).entries
    assert (entry.kind, entry.time) == (kind, clock)
    assert who is None or entry.who == who.replace("the ", "")


def test_somebody_who_is_still_to_come_comes_on_that_day_within_working_hours() -> None:
    entry = only("building inspector is coming friday at nine")
    assert (entry.kind, entry.day, entry.time) == ("inspection", date(2026, 10, 16), time(9))


def test_somebody_who_came_on_a_weekday_came_on_the_last_one() -> None:
    entry = only("the painter stopped by on friday")
    assert (entry.kind, entry.day) == ("visit", date(2026, 10, 9))


def test_who_comes_to_look_starts_no_work() -> None:
    entry = only("building inspector came at ten, everything passed")
    assert (entry.kind, entry.time) == ("inspection", time(10))


def test_work_to_start_on_a_weekday_is_to_do() -> None:
    entry = only("monday morning start on the porch")
    assert (entry.kind, entry.day) == ("todo", date(2026, 10, 19))


def test_work_told_behind_a_visitor_is_not_lost() -> None:
    said = "so the painter comes and he drops off nine gutters no hangers"
    assert "delivered" in {entry.kind for entry in heard(said).entries}


def test_what_ran_out_is_needed_and_none_is_left() -> None:
    left, needed = heard("ran out of caulk").entries
    assert (left.kind, left.quantity) == ("on_hand", 0)
    assert (needed.kind, needed.item, needed.quantity) == ("needed", "caulk", None)


def test_what_has_nearly_run_out_is_needed_and_not_counted() -> None:
    (entry,) = heard("about out of caulk").entries
    assert entry.kind == "needed"


def test_all_that_ran_out_is_needed() -> None:
    entries = heard("all out of staples and hangers").entries
    assert [entry.kind for entry in entries] == ["on_hand", "needed"] * 2


def test_how_many_of_what_was_told_is_part_of_it() -> None:
    (entry,) = heard("joist ends are soft on the porch, three of them").entries
    assert (entry.kind, (entry.note or "")[-13:]) == ("problem", "three of them")


def test_a_year_and_what_one_used_to_do_are_no_amounts() -> None:
    said = ("my father did this in nineteen seventy one", "we used to get a dollar a foot")
    assert {entry.kind for one in said for entry in heard(one).entries} == {"note"}


def test_letters_that_are_dropped_in_speaking_are_heard() -> None:
    assert only("tomorrow we're startin on the west gable").kind == "todo"


def test_apostrophes_that_are_not_written_are_heard() -> None:
    assert only("dont let me forget the flashing").kind == "todo"
    left, needed = heard("outta caulk").entries
    assert (left.quantity, needed.kind) == (0, "needed")


def test_a_thing_to_remember_is_to_do_only_where_something_is_done() -> None:
    assert only("note to self the outlet on the porch is dead").kind == "note"
    assert only("note to self bring the long ladder").kind == "todo"


def test_a_year_starts_no_work() -> None:
    kinds = {entry.kind for entry in heard("my daddy built it in nineteen fifty two").entries}
    assert kinds == {"note"}


def test_where_the_money_went_is_kept() -> None:
    entry = only("put eleven bucks of gas in the generator")
    assert (entry.kind, entry.price) == ("expense", Decimal("11.00"))
    assert "generator" in (entry.note or "")


def test_owners_stay_owners_in_notes() -> None:
    assert only("problem, homeowner's hose is leaking").note == "homeowner's hose is leaking"


@pytest.mark.parametrize(
    ("said", "price"),
    [
        ("gave the homeowner a price of four hundred for the shutters", "400.00"),
        ("told the lady two fifty to redo the porch ceiling", "250.00"),
    ],
)
def test_a_price_he_named_for_more_work_is_an_extra(said: str, price: str) -> None:
    entry = only(said)
    assert (entry.kind, entry.price) == ("extra", Decimal(price))


def test_a_price_for_each_is_asked_about() -> None:
    reading = heard("she asked if we could paint the shutters, told her a hundred a piece")
    assert [entry.kind for entry in reading.entries] == ["extra"]
    assert reading.doubts


def test_what_he_has_to_do_behind_a_visit_is_to_do() -> None:
    reading = heard("next door neighbor came over about the fence, i have to call her tonight")
    assert [entry.kind for entry in reading.entries] == ["visit", "todo"]
    assert reading.entries[0].place is None


def test_a_call_promised_to_somebody_there_is_nothing_to_do() -> None:
    assert only("hang on, phone, call you back in five minutes").kind == "note"


def test_what_somebody_is_low_on_is_needed_without_a_question() -> None:
    assert only("low on coil").kind == "needed"


def test_an_inspection_that_was_moved_is_still_to_come() -> None:
    assert only("inspection's been moved to thursday").day == date(2026, 10, 15)
