"""What a phrase says, field by field, and what is asked about it; phrases and places invented."""

from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest

from joblog.dictation import Context, after, read
from joblog.dictation.doubter import is_oddity
from joblog.dictation.labor import joined_digits
from joblog.form import entry_to_json
from joblog.model import Reading
from tests.bench.corpus import words

VOCABULARY = words()
MORNING = datetime(2026, 10, 5, 7, 40)
AFTERNOON = datetime(2026, 10, 5, 16, 20)


def reading(*said: str, at: datetime | None = None) -> Reading:
    """What the last of the utterances of one recording is read as."""
    context, found = Context(at=at), Reading()
    for text in said:
        found = read(text, VOCABULARY, context)
        context = after(context, found)
    return found


def facts(found: Reading) -> list[dict[str, Any]]:
    return [_told(entry_to_json(entry)) for entry in found.entries]


def _told(entry: dict[str, Any]) -> dict[str, Any]:
    kept = {name: value for name, value in entry.items() if value not in (None, [])}
    kept |= {"with": _told(kept["with"])} if "with" in kept else {}
    return {name: value for name, value in kept.items() if name not in ("as_said", "carried")}


def check(said: str, entries: list[dict[str, Any]], *whys: str, at: datetime | None = None) -> None:
    found = reading(*said.split(" / "), at=at)
    assert facts(found) == entries
    # What was learned to be odd is learned anew: it is held to its own tests.
    assert [doubt.why for doubt in found.doubts if not is_oddity(doubt.why)] == list(whys)
    assert {doubt.entry for doubt in found.doubts} <= set(range(len(entries)))


EAVE = {"kind": "measure", "place": "north eave"}
NAILS = {"kind": "used", "item": "siding nails", "unit": "lb"}
HANGERS = {"kind": "used", "item": "gutter hanger", "unit": "each"}


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("eleven point 625", "93/8"),
        ("eleven point fifteen", "223/20"),
        ("eleven point seventy", "117/10"),
        ("eleven point seventy five", "47/4"),
        ("eleven point seventy nine", "1179/100"),
        ("eleven point oh five", "221/20"),
        ("four feet and a half", "54"),
        ("four foot a half inch", "97/2"),
        ("a foot and a half", "18"),
        ("an inch", "1"),
        ("a sixteenth over nine", "145/16"),
        ("an eighth shy of twelve", "95/8"),
        ("nine and three quarters less a sixteenth", "155/16"),
        ("nine plus an eighth", "73/8"),
    ],
)
def test_a_length_is_exact(said: str, inches: str) -> None:
    check(f"north eave {said}", [{**EAVE, "inches": inches}])


@pytest.mark.parametrize(
    ("said", "inches", "why"),
    [
        ("four feet and a quarter", "193/4", "of an inch, or of a foot?"),
        ("four feet and three quarters", "195/4", "of an inch, or of a foot?"),
        ("four feet twelve", "60", "more than eleven inches after the feet"),
        ("five ten", "70", "5 feet 10, or two numbers?"),
        ("twelve six", "150", "12 feet 6, or two numbers?"),
        ("two forty", "240", "240 inches, or two numbers?"),
        ("nine four and a half", "225/2", "9 feet 4 1/2, or two numbers?"),
        ("forty mils", "200/127", "millimetres, or thousandths?"),
        ("about twelve inches", "12", "only roughly: 'about'"),
    ],
)
def test_a_length_that_may_be_another_is_asked_about(said: str, inches: str, why: str) -> None:
    check(f"north eave {said}", [{**EAVE, "inches": inches}], why)


@pytest.mark.parametrize(
    ("said", "quantity"),
    [
        ("one thousand five hundred", "1500"),
        ("two thousand nine hundred and forty", "2940"),
        ("a dozen", "12"),
        ("a dozen and a half", "18"),
        ("two dozen", "24"),
        ("both", "2"),
        ("another", "1"),
        ("half a", "1/2"),
    ],
)
def test_an_amount_is_exact(said: str, quantity: str) -> None:
    check(f"used {said} hangers", [{**HANGERS, "quantity": quantity}])


def test_what_was_said_last_is_changed_by_what_follows() -> None:
    was = {"kind": "correction", "action": "replace"}
    lunch = {"kind": "break", "minutes": "45"}
    check("lunch half an hour / no wait that was forty five minutes", [{**was, "with": lunch}])
    hours = {"kind": "labor", "hours": "3", "task": "hang soffit"}
    check("two hours on soffit / no that was three hours", [{**was, "with": hours}])
    longer = {**EAVE, "inches": "29/2"}
    check("north eave fourteen / it was fourteen and a half", [{**was, "with": longer}])
    heavy = {**EAVE, "inches": "233/16"}
    check("north eave fourteen and a half / not light, heavy", [{**was, "with": heavy}])
    light = {**EAVE, "inches": "231/16"}
    check("north eave fourteen and a half heavy / light not heavy", [{**was, "with": light}])


def test_same_again_before_anything_is_only_words() -> None:
    check("same again", [{"kind": "note", "note": "same again"}])


def test_a_fraction_cut_off_from_its_number_is_asked_about() -> None:
    check(
        "north eave nine / and a half",
        [{"kind": "correction", "action": "replace", "with": {**EAVE, "inches": "19/2"}}],
        "instead of what was said before?",
    )


def test_pieces_that_are_needed_each_of_a_length_are_cuts() -> None:
    check(
        "need three pieces of trim coil, each of them thirty six inches",
        [{"kind": "measure", "item": "trim coil", "inches": "36", "pieces": 3}],
    )
    check("each of them thirty six inches", [{"kind": "measure", "inches": "36"}])


def test_them_is_the_item_last_spoken_of() -> None:
    soffit = {"kind": "needed", "item": "soffit panel", "quantity": "8", "unit": "sheet"}
    check("used nine sheets of soffit / need eight of them", [soffit])


@pytest.mark.parametrize(
    ("said", "times"),
    [
        ("eight to noon and one to five", ["08:00", "12:00", "13:00", "17:00"]),
        ("crew of four, worked seven to four thirty", ["07:00", "16:30"]),
        ("worked from six to two thirty", ["06:00", "14:30"]),
        ("started at ten to eight", ["07:50"]),
        ("started at quarter past seven", ["07:15"]),
        ("started at half past six", ["06:30"]),
        ("started at seven oh five", ["07:05"]),
        ("started at 730", ["07:30"]),
        ("stopped at noon", ["12:00"]),
        ("quit at midday", ["12:00"]),
    ],
)
def test_a_time_of_day_is_read_however_it_is_said(said: str, times: list[str]) -> None:
    found = reading(said)
    assert [fact["time"] for fact in facts(found)] == times
    assert found.doubts == ()


@pytest.mark.parametrize(
    "said",
    [
        "left at nine, right at ten",
        "finished four windows",
        "started four hours",
        "started at twenty five",
        "forty minutes on dormers",
        "labor fascia four, two hours",
    ],
)
def test_numbers_that_are_no_time_and_no_length_are_a_doubtful_note(said: str) -> None:
    check(
        said,
        [{"kind": "note", "note": said.replace(",", "")}],
        "numbers or material were named that fit no entry",
    )


def test_a_time_of_day_is_the_one_that_has_passed() -> None:
    check("started at seven", [{"kind": "start", "time": "07:00"}], at=MORNING)
    check("started at seven", [{"kind": "start", "time": "07:00"}], at=AFTERNOON)
    check("stopped at four thirty", [{"kind": "stop", "time": "16:30"}], at=AFTERNOON)


def test_who_is_at_work_counts_the_speaker() -> None:
    crew = {"kind": "start", "time": "07:00"}
    check("just me today, started at seven", [{**crew, "workers": 1}])
    check("started at seven, me and two helpers", [{**crew, "workers": 3}])
    check("started at seven, the two of us", [{**crew, "workers": 2}])


def test_breaks_have_their_minutes_and_their_time() -> None:
    noon = {"kind": "break", "time": "12:00"}
    check("lunch from twelve to twelve thirty", [{**noon, "minutes": "30"}])
    check("lunch at twelve", [noon], "how long was the break?")
    check("break at ten fifteen minutes", [{"kind": "break", "time": "10:00", "minutes": "15"}])
    check("twenty minute break", [{"kind": "break", "minutes": "20"}])
    check(
        "quit four, thirty minute lunch",
        [{"kind": "stop", "time": "16:00"}, {"kind": "break", "minutes": "30"}],
    )


def test_hours_are_each_persons_and_on_a_task() -> None:
    soffit = {"kind": "labor", "task": "hang soffit"}
    check("two of us twelve man hours on soffit", [{**soffit, "hours": "6", "workers": 2}])
    check("three man hours on soffit", [{**soffit, "hours": "3"}], "hours of how many people?")
    check(
        "hung forty feet of soffit in three hours",
        [{**soffit, "hours": "3", "quantity": "40", "unit": "ft"}],
    )
    check("spent two hours", [{"kind": "labor", "hours": "2"}], "hours on which task?")
    check(
        "two hours on dormers",
        [{"kind": "labor", "hours": "2", "note": "dormers"}],
        "'dormers' is no task of this job",
    )


@pytest.mark.parametrize(
    ("said", "degrees"),
    [
        ("seventy degrees", "70"),
        ("it's three below", "-3"),
        ("minus five", "-5"),
        ("twelve celsius", "268/5"),  # 12 x 9/5 + 32
        ("seventy degrees feels like eighty", "70"),
        ("seven five degrees", "75"),
    ],
)
def test_a_temperature_is_in_fahrenheit(said: str, degrees: str) -> None:
    check(said, [{"kind": "weather", "fahrenheit": degrees}])


def test_weather_told_in_two_breaths_is_one() -> None:
    check("it's ninety five and sunny", [{"kind": "weather", "fahrenheit": "95", "note": "sunny"}])
    check(
        "seventy degrees, eighty degrees",
        [{"kind": "weather", "fahrenheit": "70"}],
        "two temperatures: which one holds?",
    )


def test_a_temperature_beyond_any_weather_is_asked_about() -> None:
    check(
        "a hundred and thirty degrees",
        [{"kind": "weather", "fahrenheit": "130"}],
        "that warm or cold?",
    )


def test_no_rain_is_only_words() -> None:
    check("no rain today", [{"kind": "note", "note": "no rain today"}])


def test_prices_are_of_one() -> None:
    soffit = {"kind": "delivered", "item": "soffit panel", "unit": "sheet"}
    check(
        "delivered seven sheets of soffit for twenty six dollars",
        [{**soffit, "quantity": "7", "unit_cost": "3.71"}],
        "the price does not divide evenly: rounded to the cent",
    )
    check(
        "delivered eight sheets of soffit for twenty six dollars",
        [{**soffit, "quantity": "8", "unit_cost": "3.25"}],
    )
    check(
        "delivered some soffit for two hundred dollars",
        [soffit],
        "'some' is how many?",
        "a price, but for how many?",
    )


def test_a_bare_dozen_is_more_of_the_same_and_not_a_change_of_it() -> None:
    soffit = {"kind": "used", "item": "soffit panel", "unit": "sheet"}
    check(
        "used nine sheets of soffit and a dozen",
        [{**soffit, "quantity": "9"}, {**soffit, "quantity": "12"}],
    )


def test_of_two_items_in_a_row_both_are_named_in_the_doubt() -> None:
    check(
        "used two downspout elbows",
        [{"kind": "used", "item": "elbow", "quantity": "2", "unit": "each"}],
        "downspout or elbow?",
    )


def test_a_crew_named_behind_a_day_was_there_from_its_start_to_its_stop() -> None:
    day = [
        {"kind": "start", "time": "07:00", "workers": 2},
        {"kind": "stop", "time": "16:30", "workers": 2},
    ]
    check("worked seven to four thirty, two of us", day)
    check("started at seven, stopped at four thirty, two of us", day)


def test_hundreds_of_thousands_are_read_and_asked_about() -> None:
    check("used two hundred thousand hangers", [{**HANGERS, "quantity": "200000"}], "so many?")


def test_a_start_before_five_is_asked_about() -> None:
    check("started at four", [{"kind": "start", "time": "04:00"}], "that early?")
    check("stopped at four", [{"kind": "stop", "time": "16:00"}])


@pytest.mark.parametrize("said", ["zero thirty", "an eighth past seven", "twenty five"])
def test_what_is_no_time_of_day_starts_nothing(said: str) -> None:
    assert "start" not in [fact["kind"] for fact in facts(reading(f"started at {said}"))]


def test_only_a_fraction_lies_over_a_length() -> None:
    check("north eave a half over nine", [{**EAVE, "inches": "19/2"}])
    found = reading("north eave one and a half over nine")
    assert facts(found)[0] == {**EAVE, "inches": "3/2"}
    assert {doubt.entry for doubt in found.doubts} >= {1}


def test_the_times_of_a_task_and_its_hours_must_agree() -> None:
    check(
        "on soffit from eight to ten that's three hours",
        [{"kind": "labor", "task": "hang soffit", "hours": "2"}],
        "the times and the hours do not agree",
    )


def test_hours_for_several_people_are_shared_out_when_the_share_is_said() -> None:
    check(
        "sixteen hours for the two of us on soffit, eight apiece",
        [{"kind": "labor", "task": "hang soffit", "hours": "8", "workers": 2}],
    )


@pytest.mark.parametrize(
    ("said", "kind"), [("delivered, not used", "delivered"), ("no, returned not used", "returned")]
)
def test_what_was_done_with_the_last_amount_may_be_changed(said: str, kind: str) -> None:
    soffit = {"kind": kind, "item": "soffit panel", "quantity": "9", "unit": "sheet"}
    check(
        f"used nine sheets of soffit / {said}",
        [{"kind": "correction", "action": "replace", "with": soffit}],
    )


def test_pieces_of_the_last_cut_may_be_changed_to_a_whole_number_only() -> None:
    cut = {**EAVE, "inches": "14", "pieces": 8}
    check(
        "north eave two at fourteen / eight pieces, not two",
        [{"kind": "correction", "action": "replace", "with": cut}],
    )
    check(
        "north eave two at fourteen / eight pieces, not nine",
        [{"kind": "correction", "action": "replace", "with": cut}],
        "nothing was said before as these words have it: measure: 2 pieces of 14 in, north eave?",
    )
    found = reading("north eave two at fourteen", "eight and a half pieces, not nine")
    assert [fact["kind"] for fact in facts(found)] == ["note"]
    assert found.doubts


def test_a_length_said_with_two_ends_is_asked_about() -> None:
    feet = {"kind": "measure", "inches": "120"}
    check("ten to twelve feet", [feet], "two numbers, 10 and 12 feet: which one holds?")


def test_areas_are_exact() -> None:
    check("one seventy five square feet", [{"kind": "measure", "square_inches": "25200"}])
    check(
        "nine by eleven feet",
        [{"kind": "measure", "square_inches": "14256", "width": "108", "height": "132"}],
    )
    check("ten squares", [{"kind": "measure", "square_inches": "144000"}])


@pytest.mark.parametrize(
    "said",
    ["one by two", "one by twelve", "two by four", "four by three", "six by six", "six by ten"],
)
def test_a_size_of_lumber_by_itself_is_no_area(said: str) -> None:
    check(said, [{"kind": "note", "note": said}])


def test_another_size_is_an_area_of_inches_or_feet() -> None:
    check(
        "seven by ten",
        [{"kind": "measure", "square_inches": "70", "width": "7", "height": "10"}],
        "inches, or feet?",
    )


def test_what_was_taken_off_the_trailer_may_have_come_and_not_gone_in() -> None:
    caulk = {"kind": "used", "item": "caulk", "quantity": "1", "unit": "tube"}
    check("used one tube of caulk off the trailer", [caulk], "not understood: 'off trailer'")


def test_a_fault_is_told_with_the_words_before_it_but_not_with_those_of_another_fact() -> None:
    check(
        "would you look at that, somebody foamed the gutter to the wall",
        [
            {"kind": "note", "note": "would you look at that"},
            {"kind": "problem", "note": "somebody foamed the gutter to the wall"},
        ],
    )


def test_one_of_a_thing_is_known_by_its_singular() -> None:
    check("used one elbow", [{"kind": "used", "item": "elbow", "quantity": "1", "unit": "each"}])


def test_a_place_behind_a_list_is_of_the_last_facts_of_one_kind() -> None:
    south = {"place": "south eave"}
    soffit = {"kind": "used", "item": "soffit panel", "quantity": "9", "unit": "sheet"}
    elbow = {"kind": "spoiled", "item": "elbow", "quantity": "1", "unit": "each"}
    hangers = {"kind": "used", "item": "gutter hanger", "quantity": "2", "unit": "each"}
    check(
        "used nine sheets of soffit, spoiled one elbow, used two hangers on the south eave",
        [soffit, {**elbow, "reason": "spoiled"}, {**hangers, **south}],
    )
    check(
        "spoiled one elbow, used nine sheets of soffit, used two hangers on the south eave",
        [{**elbow, "reason": "spoiled"}, {**soffit, **south}, {**hangers, **south}],
    )


def test_a_start_lies_in_the_morning_and_a_stop_in_the_evening_when_both_are_past() -> None:
    evening = datetime(2026, 10, 5, 20, 30)
    check("started at seven", [{"kind": "start", "time": "07:00"}], at=evening)
    check("stopped at seven", [{"kind": "stop", "time": "19:00"}], at=evening)


@pytest.mark.parametrize(
    ("first", "second", "joined"), [(7, 5, 75), (7, 12, 12), (12, 5, 5), (0, 5, 5), (7, 0, 70)]
)
def test_two_numbers_are_one_only_where_both_are_digits(
    first: int, second: int, joined: int
) -> None:
    assert joined_digits(Fraction(first), Fraction(second)) == joined


@pytest.mark.parametrize("led", ["no,", "make that"])
def test_another_amount_in_place_of_the_last_one_is_of_what_is_named_now(led: str) -> None:
    fascia = {"kind": "used", "item": "fascia", "quantity": "3", "unit": "stick"}
    check(
        f"used nine sheets of soffit / {led} three sticks of fascia",
        [{"kind": "correction", "action": "replace", "with": fascia}],
    )


def test_a_crew_named_after_the_weather_was_there_all_day() -> None:
    check(
        "started at seven, stopped at four, it was hot, two of us",
        [
            {"kind": "start", "time": "07:00", "workers": 2},
            {"kind": "stop", "time": "16:00", "workers": 2, "note": "it was hot"},
        ],
    )


def test_a_whole_number_is_not_taken_off_a_length_in_silence() -> None:
    check("north eave nine less one", [{**EAVE, "inches": "8"}], "9 less 1 is 8?")
