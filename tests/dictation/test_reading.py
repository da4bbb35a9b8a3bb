"""What plain phrasing is read as. Phrases and places are invented."""

from datetime import datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import Context, after, read
from joblog.model import Entry, Plan, PlannedTask, Task, Vocabulary
from joblog.plan import vocabulary

TASKS = (
    PlannedTask(Task("hang soffit", ("hung soffit", "soffit")), Fraction(1)),
    PlannedTask(Task("wrap fascia", ("wrapped fascia", "fascia")), Fraction(1)),
)
WORDS: Vocabulary = vocabulary(Plan(tasks=TASKS, places=("north eave",)))
MORNING = Context(at=datetime(2026, 10, 5, 7, 40))
AFTERNOON = Context(at=datetime(2026, 10, 5, 16, 20))


def only(text: str, context: Context | None = None) -> Entry:
    reading = read(text, WORDS, context)
    assert reading.doubts == ()
    [entry] = reading.entries
    return entry


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("north wall eleven", "11"),
        ("eleven and seven eighths", "95/8"),
        ("eleven seven eighths", "95/8"),
        ("eleven and a half", "23/2"),
        ("eleven point six two five", "93/8"),
        ("five sixteenths", "5/16"),
        ("three and eleven thirty seconds", "107/32"),
        ("three and nine sixty fourths", "201/64"),
        ("a hundred and twelve and five eighths", "901/8"),
        ("one forty four and a half", "289/2"),
        ("forty one feet", "492"),
        ("nine feet four and one half inches", "225/2"),
        ("nine foot four", "112"),
        ("12' 4 1/2\"", "297/2"),
        ("14 and 5/8", "117/8"),
        ("11 7/8", "95/8"),
        ("two meters", "10000/127"),  # 25.4 mm in an inch, exactly
    ],
)
def test_a_length_is_exact_however_it_is_said(said: str, inches: str) -> None:
    assert only(said).inches == Fraction(inches)


@pytest.mark.parametrize(
    ("said", "inches"),
    [  # common practice: a sixteenth more, a sixteenth less
        ("eleven and seven eighths heavy", "191/16"),
        ("eleven and seven eighths light", "189/16"),
        ("eleven and seven eighths shy", "189/16"),
        ("eleven and seven eighths strong", "191/16"),
    ],
)
def test_heavy_and_light_are_a_sixteenth(said: str, inches: str) -> None:
    assert only(said).inches == Fraction(inches)


def test_the_words_are_kept_in_figures_beside_the_exact_length() -> None:
    entry = only("north wall eleven and seven eighths heavy")
    assert (entry.place, entry.as_said) == ("north wall", "11 7/8 heavy")


def test_pieces_go_with_the_length_they_are_cut_to() -> None:
    entry = only("cut six at fourteen and a half")
    assert (entry.pieces, entry.inches) == (6, Fraction(29, 2))


def test_two_lengths_make_an_area() -> None:
    assert only("nine by fourteen inches").square_inches == 126


def test_a_pitch_is_rise_over_twelve() -> None:
    assert only("pitch eight twelve").pitch == 8


@pytest.mark.parametrize(
    ("said", "kind", "quantity", "unit", "item"),
    [
        ("used three sheets of soffit", "used", "3", "sheet", "soffit panel"),
        ("used twelve soffit panels", "used", "12", "sheet", "soffit panel"),
        ("used four and a half pounds of trim nails", "used", "9/2", "lb", "trim nails"),
        ("delivered sixteen sheets of soffit panel", "delivered", "16", "sheet", "soffit panel"),
        ("returned one stick of wall channel", "returned", "1", "stick", "F channel"),
        ("half a pound of trim nails left", "on_hand", "1/2", "lb", "trim nails"),
        ("no fascia left", "on_hand", "0", "stick", "fascia"),
        ("no channel left", "on_hand", "0", "stick", "F channel"),
        ("need four more sticks of fascia", "needed", "4", "stick", "fascia"),
        ("a dozen elbows delivered", "delivered", "12", "each", "elbow"),
        ("used two twelve foot panels of soffit", "used", "2", "sheet", "soffit panel"),
    ],
)
def test_stock_is_read_with_its_unit_and_item(
    said: str, kind: str, quantity: str, unit: str, item: str
) -> None:
    entry = only(said)
    found = (entry.kind, entry.quantity, entry.unit, entry.item)
    assert found == (kind, Fraction(quantity), unit, item)


def test_spoiled_stock_keeps_its_reason() -> None:
    entry = only("two sheets of soffit cracked in the cold")
    assert (entry.kind, entry.quantity, entry.reason) == ("spoiled", 2, "cracked in the cold")


def test_a_delivery_keeps_its_cost_to_the_cent() -> None:
    entry = only("delivered ten sheets of soffit at thirteen fifty each")
    assert entry.unit_cost == Decimal("13.50")


def test_verb_and_item_carry_over_within_one_breath() -> None:
    reading = read("used three sheets of soffit, one scrapped, and two sticks of channel", WORDS)
    assert [(e.kind, e.quantity, e.item) for e in reading.entries] == [
        ("used", 3, "soffit panel"),
        ("spoiled", 1, "soffit panel"),
        ("used", 2, "F channel"),
    ]


def test_each_amount_goes_to_the_place_said_with_it() -> None:
    said = "used twelve panels of soffit on the north side and nine on the south"
    reading = read(said, WORDS)
    assert [(e.quantity, e.place) for e in reading.entries] == [(12, "north side"), (9, "south")]


@pytest.mark.parametrize(
    ("said", "context", "kind", "clock"),
    [
        ("started at seven thirty", MORNING, "start", time(7, 30)),
        ("started at quarter to eight", MORNING, "start", time(7, 45)),
        ("stopped at four thirty", AFTERNOON, "stop", time(16, 30)),
        ("finished at half past four", AFTERNOON, "stop", time(16, 30)),
        ("stopped at 4:30", AFTERNOON, "stop", time(16, 30)),
        ("stopped at noon", MORNING, "stop", time(12, 0)),
        ("started at seven in the morning", AFTERNOON, "start", time(7, 0)),
    ],
)
def test_a_clock_time_is_morning_or_afternoon_by_the_recording(
    said: str, context: Context, kind: str, clock: time
) -> None:
    entry = only(said, context)
    assert (entry.kind, entry.time) == (kind, clock)


def test_a_helper_is_one_more_person_at_work() -> None:
    assert only("started at eight with one helper", MORNING).workers == 2


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("lunch thirty minutes", 30), ("break half an hour", 30), ("lunch an hour and a half", 90)],
)
def test_a_break_is_kept_in_minutes(said: str, minutes: int) -> None:
    assert only(said).minutes == minutes


def test_hours_go_to_the_task_that_was_named() -> None:
    entry = only("hung soffit seven hours two men")
    assert (entry.task, entry.hours, entry.workers) == ("hang soffit", 7, 2)


def test_weather_keeps_degrees_and_words() -> None:
    entry = only("cold thirty eight degrees")
    assert (entry.kind, entry.fahrenheit, entry.note) == ("weather", 38, "cold")


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("covered the wire behind the south soffit", "covered"),
        ("problem the wood is rotten at the north eave", "problem"),
        ("note that the driveway is steep", "note"),
        ("photo of the north eave", "photo"),
        ("take a photo of the wire", "photo"),
    ],
)
def test_words_for_people_are_kept_as_words(said: str, kind: str) -> None:
    assert only(said).kind == kind


@pytest.mark.parametrize(
    "said",
    [
        "twenty four foot ladder moved to the west side",
        "house number forty two twelve",
        "nothing scrapped",
        "not going to use the last two panels",
        "should be done by three",
    ],
)
def test_what_is_no_measurement_becomes_a_note(said: str) -> None:
    assert only(said).kind == "note"


def test_what_is_to_be_done_with_lumber_is_no_measurement_either() -> None:
    entry = only("check the two by four above the door")
    assert (entry.kind, entry.note) == ("todo", "check the two by four above the door")


def test_scratch_that_takes_back_the_last_entry() -> None:
    before = Context(last=Entry("measure", inches=Fraction(9)))
    entry = only("scratch that", before)
    assert (entry.kind, entry.action) == ("correction", "drop")


def test_make_it_changes_the_number_of_the_last_entry() -> None:
    before = Context(last=Entry("used", item="soffit panel", quantity=Fraction(8), unit="sheet"))
    entry = only("make it nine", before)
    assert entry.replacement == Entry(
        "used", item="soffit panel", quantity=Fraction(9), unit="sheet"
    )


def test_a_correction_with_nothing_before_it_is_doubtful() -> None:
    assert read("scratch that", WORDS).doubts


def test_a_place_holds_for_the_rest_of_the_recording_and_says_so() -> None:
    first = read("north eave twelve and a quarter", WORDS)
    second = read("twelve and a half", WORDS, after(Context(), first))
    [entry] = second.entries
    assert (entry.place, entry.carried) == ("north eave", ("place",))


@pytest.mark.parametrize(
    "said",
    [
        "about forty feet",
        "twelve to fourteen inches",
        "eleven",
        "eleven fifteen",
        "three sheets of soffit",
        "used three sheets of unobtanium",
        "used a couple of sheets of soffit",
        "used three",
        "used three gallons of soffit",
        "twenty five thirty seconds",
        "started with two men",
    ],
)
def test_what_is_not_certain_is_doubtful(said: str) -> None:
    assert read(said, WORDS, MORNING).doubts


def test_words_that_belong_nowhere_are_reported() -> None:
    reading = read("wibble used three sheets of soffit wobble", WORDS)
    assert reading.unread == "wobble"  # "Soffit wobbles" would be something else.
    assert reading.entries[0].note == "wibble"


def test_a_number_that_belongs_nowhere_is_doubted() -> None:
    reading = read("used three sheets of soffit ninety four eleven", WORDS)
    assert [entry.kind for entry in reading.entries] == ["used", "measure"]
    assert 1 in {doubt.entry for doubt in reading.doubts}


def test_nothing_said_is_no_entry() -> None:
    assert read("", WORDS).entries == ()


@pytest.mark.parametrize(
    ("said", "kind"),
    [("twenty minute break, too hot", "break"), ("stopped at two, too much wind", "stop")],
)
def test_a_reason_said_behind_a_stop_is_no_entry_of_its_own(said: str, kind: str) -> None:
    entry = only(said, AFTERNOON)
    assert (entry.kind, entry.note is not None) == (kind, True)


def test_a_place_said_behind_a_correction_is_the_corrected_entrys() -> None:
    reading = read("used nine fascia, sorry, ten fascia on the north eave", WORDS)
    [used] = reading.entries
    assert (used.quantity, used.place) == (10, "north eave")


@pytest.mark.parametrize(
    "said",
    [
        "ask whether they need seven sticks of j channel",
        "if you can hear me over the saw twenty five and three eighths",
        "seven and one sixty four",
    ],
)
def test_talk_that_holds_an_amount_is_asked_about(said: str) -> None:
    assert read(said, WORDS).doubts


def test_where_along_a_run_a_measure_was_taken_is_kept_in_its_note() -> None:
    said = "north eave, at four feet fourteen and a half, at ten feet fourteen flat"
    first, second = read(said, WORDS).entries
    assert (first.inches, first.note) == (Fraction(29, 2), "at 4 ft")
    assert (second.inches, second.note) == (Fraction(14), "at 10 ft")


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("north eave, nineteen foot eleven, shy a sixteenth", "3823/16"),
        ("fourteen and a half heavy an eighth", "117/8"),
        ("fourteen and a half shy a sixteenth", "231/16"),
        ("fourteen and a strong half", "233/16"),
        ("a strong quarter inch", "5/16"),
    ],
)
def test_heavy_and_shy_may_say_by_how_much(said: str, inches: str) -> None:
    assert only(said).inches == Fraction(inches)


def test_plus_a_whole_number_is_one_measure_and_asked_about() -> None:
    reading = read("nine plus one", WORDS)
    assert [entry.inches for entry in reading.entries] == [10]
    assert [doubt.why for doubt in reading.doubts] == ["9 plus 1 is 10?"]


def test_further_pieces_are_of_the_item_of_the_cut_before() -> None:
    first = read("cut four soffit at thirty six and a quarter", WORDS)
    more = only("and two at thirty seven", after(Context(), first))
    assert (more.item, more.pieces, more.inches) == ("soffit panel", 2, 37)
