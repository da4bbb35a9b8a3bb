"""One entry, field by field."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, time
from fractions import Fraction

import pytest

from joblog.book import decisions
from joblog.dictation import Context, read
from joblog.model import BookEntry, Doubt, Entry, Plan, Reading
from joblog.plan import vocabulary
from joblog.service import Desk, ServiceError, decide, editing, record
from joblog.service.editing import asked_of, change_of, lines, narrowed, offered, typed
from joblog.service.parting import can_be_merged, parts_of, together
from tests.book.every_kind import EVERY_KIND

NOON = datetime(2026, 10, 5, 17, tzinfo=UTC)


def wrote(desk: Desk, entry: Entry, *doubts: str) -> BookEntry:
    reading = Reading((entry,), tuple(Doubt(0, why) for why in doubts))
    [id] = decisions.add_typed(desk.book, desk.job.name, reading, "as written", NOON)
    return editing.read_entry(desk, id)


def used(quantity: int = 2, **fields: object) -> Entry:
    return replace(
        Entry("used", item="soffit panel", quantity=Fraction(quantity), unit="sheet"),
        **fields,  # type: ignore[arg-type]
    )


# --- what it holds ----------------------------------------------------------------------------


def test_every_field_of_its_kind_has_a_line_and_the_filled_ones_come_first() -> None:
    shown = lines(Entry("spoiled", quantity=Fraction(5, 2), reason="cracked"))
    assert [(line.field, line.typed) for line in shown if line.typed] == [
        ("kind", "wasted"),
        ("quantity", "2 1/2"),
        ("reason", "cracked"),
    ]
    assert {line.field for line in shown if not line.typed} == {
        "item", "unit", "size", "length", "profile", "colour", "place", "note", "day",
    }  # fmt: skip


@pytest.mark.parametrize("entry", EVERY_KIND, ids=lambda entry: entry.kind)
def test_what_a_line_shows_is_read_back_as_what_it_holds(desk: Desk, entry: Entry) -> None:
    kept = wrote(desk, entry)
    for line in lines(entry):
        if line.typed:
            assert change_of(desk, kept, line.field, line.typed).becomes == replace(
                entry, as_said=None if line.field == "inches" else entry.as_said
            )


def test_a_length_is_shown_as_the_tape_has_it() -> None:
    assert typed(Entry("measure", inches=Fraction(95, 8)), "inches") == "11 7/8"
    assert typed(Entry("measure", inches=Fraction(297, 2)), "inches") == "12' 4 1/2\""


def test_what_was_heard_stands_behind_it_and_nothing_behind_what_was_typed(desk: Desk) -> None:
    heard = record.sound_of(desk, record.read_entries(desk)[0])
    assert heard is not None
    assert heard[0].utterance.hearings[0].text == "north eave used three sheets of soffit"
    assert record.sound_of(desk, wrote(desk, used())) is None


# --- how it would read ------------------------------------------------------------------------


def test_what_is_typed_is_shown_before_it_is_kept(desk: Desk) -> None:
    entry = wrote(desk, used())
    assert change_of(desk, entry, "quantity", "11 7/8").becomes.quantity == Fraction(95, 8)
    assert desk.book.entry(entry.id).version == 1


@pytest.mark.parametrize(
    ("field", "text", "why"),
    [
        ("quantity", "a few", "'a few' is not a number"),
        ("unit", "lorry", "there is no unit 'lorry'"),
        ("unit", "lb", "soffit panel cannot be counted in lb; it can in panels"),
        ("day", "soon", "'soon' is no day"),
        ("hours", "3", "used has no 'hours'"),
        ("item", "", "without its item it counts nowhere; drop it instead"),
        ("quantity", "", "it says no amount; drop it instead"),
    ],
)
def test_what_a_field_cannot_hold_is_refused_in_a_line(
    desk: Desk, field: str, text: str, why: str
) -> None:
    entry = wrote(desk, used())
    with pytest.raises(ServiceError, match=why):
        change_of(desk, entry, field, text)


def test_a_name_that_a_person_says_for_an_item_is_its_name(desk: Desk) -> None:
    entry = wrote(desk, used())
    assert change_of(desk, entry, "item", "Soffit").becomes.item == "soffit panel"


def test_an_item_that_nobody_knows_is_kept_and_asked_about(desk: Desk) -> None:
    entry = wrote(desk, used())
    kept = decide.edit(desk, entry.id, "item", "zinc flashing strip")
    assert kept.entry.item == "zinc flashing strip"
    assert kept.open
    assert "'zinc flashing strip' is not in the catalog" in kept.doubts[0]
    assert decide.edit(desk, entry.id, "item", "soffit panel").standing == "accepted"


def test_a_kind_is_named_as_it_is_shown(desk: Desk) -> None:
    entry = wrote(desk, used())
    assert change_of(desk, entry, "kind", "left").becomes.kind == "on_hand"
    assert change_of(desk, entry, "kind", "on hand").becomes.kind == "on_hand"


def test_a_unit_is_called_as_the_crew_does(desk: Desk) -> None:
    assert typed(used(), "unit") == "panel"
    assert change_of(desk, wrote(desk, used()), "unit", "panels").becomes.unit == "sheet"


# --- doubts -----------------------------------------------------------------------------------


def test_a_side_of_an_area_that_is_put_right_makes_another_area(desk: Desk) -> None:
    ceiling = Entry(
        "measure",
        square_inches=Fraction(96 * 72),
        width=Fraction(96),
        height=Fraction(72),
        as_said="8 by 6",
        place="porch ceiling",
    )
    kept = wrote(desk, ceiling)
    becomes = change_of(desk, kept, "width", "10'").becomes
    assert (becomes.width, becomes.height) == (120, 72)
    assert (becomes.square_inches, becomes.as_said) == (120 * 72, None)
    by_area = change_of(desk, kept, "square_inches", "8640").becomes
    assert (by_area.square_inches, by_area.width, by_area.height) == (8640, None, None)


def test_what_a_corner_and_a_wall_can_be_is_offered(desk: Desk) -> None:
    assert offered(desk, Entry("corner"), "corner") == ("outside", "inside", "end", "around")
    assert offered(desk, Entry("measure"), "top") == ("eave", "gable", "open")
    kept = wrote(desk, Entry("corner", corner="outside"))
    with pytest.raises(ServiceError, match="'round' is none of outside, inside, end, around"):
        change_of(desk, kept, "corner", "round")


def test_the_doubt_that_the_field_was_about_is_settled_and_others_stay(desk: Desk) -> None:
    number, wall = "which number: 2 sheets or 10 sheets?", "which wall?"
    entry = wrote(desk, used(), number, wall)
    assert decide.edit(desk, entry.id, "quantity", "10").doubts == (wall,)
    assert decide.edit(desk, entry.id, "note", "by the door").doubts == (wall,)


def test_a_doubt_about_another_field_stays(desk: Desk) -> None:
    entry = wrote(desk, used(), "which number: 2 sheets or 10 sheets?")
    assert decide.edit(desk, entry.id, "place", "north eave").open


def test_of_several_numbers_the_one_that_was_asked_about_settles_it() -> None:
    why = "which number: 11 7/8 in, 4 pieces or 11 7/8 in, 14 pieces? heard two ways"
    cut = Entry("measure", inches=Fraction(95, 8), pieces=4)
    assert asked_of(cut, why) == ("pieces",)
    assert asked_of(used(6), "which number: 6 sheets or 6 boxes?") == ("unit",)
    assert asked_of(used(6), "which item: soffit panel or j channel?") == ("item", "task")
    assert asked_of(used(6), "which place: no place or north eave?") == ("place",)
    assert asked_of(used(6), "what was done: used or spoiled?") == ("kind",)
    assert asked_of(used(6), "not heard clearly") == ()


@pytest.mark.parametrize(
    ("words", "fields"),
    [
        ("delivered 3 zorbs", ("item",)),
        ("used six sheets", ("item",)),
        ("12 sheets of soffit panel", ("kind",)),
        ("used most of a box of staples", ("quantity",)),
        ("used a couple of sheets of soffit panel", ("quantity",)),
        ("about ten feet along the north eave it is fifteen and a half", ("inches",)),
        ("used two boxes of siding nails", ("unit",)),
        ("45 minutes hanging gutter", ("task",)),
        ("knocked off at three thirty today", ("time",)),
        ("helper showed up at nine", ("workers",)),
        ("broke for lunch at noon", ("minutes",)),
        ("weather was 200 degrees", ("fahrenheit",)),
    ],
)
def test_what_words_leave_open_is_answered_by_editing_that_field(
    words: str, fields: tuple[str, ...]
) -> None:
    morning = Context(at=datetime(2026, 10, 7, 12))
    reading = read(words, vocabulary(Plan()), morning)
    asked = [asked_of(reading.entries[one.entry], one.why) for one in reading.doubts]
    assert fields in asked


def sense(desk: Desk, *entries: Entry) -> list[tuple[str, ...]]:
    """What is asked of these entries because they do not fit each other."""
    for entry in entries:
        wrote(desk, entry)
    return [asked_of(one.entry, why) for one in record.read_entries(desk) for why in one.doubts]


@pytest.mark.parametrize(
    ("entries", "fields"),
    [
        ((used(-1),), ("quantity",)),
        (
            (replace(used(8), kind="delivered"), replace(used(40), kind="on_hand")),
            ("quantity",),
        ),
        (
            (replace(used(3), kind="on_hand"), replace(used(5), kind="on_hand")),
            ("quantity",),
        ),
        ((Entry("start", time=time(9)), Entry("stop", time=time(7))), ("time",)),
        ((Entry("start", time=time(7)), Entry("start", time=time(9))), ("time",)),
        (
            (
                Entry("start", time=time(9)),
                Entry("break", time=time(8)),
                Entry("stop", time=time(11)),
            ),
            ("time",),
        ),
        (
            (
                Entry("start", time=time(9)),
                Entry("break", minutes=Fraction(300)),
                Entry("stop", time=time(11)),
            ),
            ("minutes",),
        ),
        (
            (
                Entry("start", time=time(9)),
                Entry("stop", time=time(11)),
                Entry("labor", hours=Fraction(9)),
            ),
            ("hours", "workers"),
        ),
        (
            tuple(
                Entry("measure", "garage", inches=Fraction(inches)) for inches in (12, 12, 12, 60)
            ),
            ("inches",),
        ),
    ],
)
def test_what_does_not_fit_is_answered_by_editing_that_field(
    desk: Desk, entries: tuple[Entry, ...], fields: tuple[str, ...]
) -> None:
    assert sense(desk, *entries) == [fields]


def test_what_the_whole_job_doubts_stays_asked_until_its_field_is_edited(desk: Desk) -> None:
    wrote(desk, Entry("delivered", item="soffit panel", quantity=Fraction(8), unit="sheet"))
    too_many = wrote(desk, used(40))
    assert "would be gone, and only 8 ever came" in too_many.doubts[0]
    decide.edit(desk, too_many.id, "place", "north eave")
    assert editing.read_entry(desk, too_many.id).doubts == too_many.doubts
    decide.edit(desk, too_many.id, "quantity", "4")
    assert editing.read_entry(desk, too_many.id).standing == "accepted"


# --- what may stand there ---------------------------------------------------------------------


def test_units_that_the_item_can_be_counted_in_are_offered_its_own_first(desk: Desk) -> None:
    assert offered(desk, used(), "unit")[0] == "panel"
    assert "lb" not in offered(desk, used(), "unit")


def test_places_of_the_job_and_those_heard_are_offered(desk: Desk) -> None:
    wrote(desk, used(place="garage"))
    assert offered(desk, used(), "place") == ("north eave", "south eave", "garage")


def test_people_heard_before_and_days_of_the_job_are_offered(desk: Desk) -> None:
    wrote(desk, Entry("visit", who="the inspector"))
    assert offered(desk, Entry("visit"), "who") == ("the inspector",)
    assert offered(desk, Entry("visit"), "day") == ("Mon, Oct 5, 2026",)


def test_the_list_narrows_as_one_types() -> None:
    known = ("soffit panel", "soffit vent", "J channel", "vent strip")
    assert narrowed(known, "") == known
    assert narrowed(known, "so") == ("soffit panel", "soffit vent")
    assert narrowed(known, "ve") == ("vent strip", "soffit vent")
    assert narrowed(known, "so ve") == ("soffit vent",)
    assert narrowed(known, "sv") == ("soffit vent",)
    assert narrowed(known, "x") == ()


# --- splitting and merging --------------------------------------------------------------------


def test_a_split_and_a_merge_leave_the_balance_and_are_undone_as_one(desk: Desk) -> None:
    entry = wrote(desk, used(5), "which number: 5 sheets or 9 sheets?")
    placed = record.read_balance(desk).stock[0].placed
    parts = parts_of(entry.entry, "2", lambda text: read(text, desk.vocabulary))
    one, other = decide.split(desk, entry.id, parts)
    assert (one.entry.quantity, other.entry.quantity, other.open) == (2, 3, False)
    assert record.read_balance(desk).stock[0].placed == placed + 5
    assert can_be_merged(desk, one)[0].id == other.id
    assert decide.merge(desk, one.id, other.id).entry.quantity == 5
    decide.undo(desk)
    decide.undo(desk)
    assert editing.read_entry(desk, entry.id).doubts == entry.doubts


def test_two_alike_say_their_sum_and_others_are_refused() -> None:
    assert together(used(2), used(3)).quantity == 5
    with pytest.raises(ServiceError, match="not alike in place"):
        together(used(2), used(3, place="north eave"))


def test_two_facts_in_words_are_a_split_too(desk: Desk) -> None:
    words = (
        "used four sheets of soffit at the north eave, used two sheets of soffit at the south eave"
    )
    parts = parts_of(used(6), words, lambda text: read(text, desk.vocabulary))
    assert [(one.quantity, one.place) for one in parts] == [(4, "north eave"), (2, "south eave")]
    with pytest.raises(ServiceError, match="is not a number"):
        parts_of(used(6), "some of it", lambda text: read(text, desk.vocabulary))
