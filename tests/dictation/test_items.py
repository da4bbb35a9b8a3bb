"""What a name means among variants, what is said beside it, and what no catalog knows."""

from dataclasses import replace
from fractions import Fraction

import pytest

from joblog.dictation import Context, after, read
from joblog.dictation.items import Said, lines_by_name, meant
from joblog.form import entry_to_json
from joblog.model import Item, Plan, PlannedItem, Vocabulary
from joblog.plan import vocabulary
from tests.bench.corpus.site import words

ATTRIBUTES = ("size", "length", "profile", "colour")
SIX = Item("fascia 1x6", "stick", variant_of="fascia", size="1x6", stock_length=Fraction(144))
EIGHT = Item("fascia 1x8", "stick", variant_of="fascia", size="1x8", stock_length=Fraction(192))
PLAIN = Item("fascia", "stick", ("fascia board",))
TRIM = Item("trim nails", "lb")
SIDING = Item("siding nails", "lb", ("nails",))


def known(*items: Item, planned: int = 0) -> Vocabulary:
    return Vocabulary(items, places=("north eave",), planned=planned)


def said_of(text: str, vocabulary: Vocabulary | None = None) -> list[tuple[object, ...]]:
    """Kind, item, quantity and unit of each entry, and what else is told of its item."""
    found = []
    for entry in read(text, vocabulary or words()).entries:
        shown = entry_to_json(entry)
        told = {name: shown[name] for name in ATTRIBUTES if name in shown}
        found.append((entry.kind, entry.item, shown.get("quantity"), entry.unit, told))
    return found


def whys(text: str, vocabulary: Vocabulary | None = None) -> list[str]:
    return [doubt.why for doubt in read(text, vocabulary or words()).doubts]


# --- which line is meant


def picked(name: str, vocabulary: Vocabulary, **said: str) -> tuple[str, str | None]:
    item, why = meant(lines_by_name(vocabulary)[name], Said(**said))  # type: ignore[arg-type]
    return item.name, why


def test_a_size_picks_its_variant() -> None:
    assert picked("fascia", known(SIX, EIGHT), size="1x8") == ("fascia 1x8", None)


def test_without_a_size_variants_are_asked_about() -> None:
    assert picked("fascia", known(SIX, EIGHT)) == ("fascia", "which fascia: 1x6 or 1x8?")


def test_a_line_that_is_called_just_so_is_meant_where_nothing_else_is_said() -> None:
    assert picked("fascia", known(SIX, EIGHT, PLAIN)) == ("fascia", None)


def test_variants_of_the_plan_come_before_a_line_that_only_the_catalog_has() -> None:
    planned = known(SIX, EIGHT, PLAIN, planned=2)
    assert picked("fascia", planned) == ("fascia", "which fascia: 1x6 or 1x8?")


def test_the_only_planned_variant_is_meant() -> None:
    assert picked("fascia", known(SIX, EIGHT, PLAIN, planned=1)) == ("fascia 1x6", None)


def test_a_variant_that_only_the_catalog_has_is_picked_by_its_size() -> None:
    assert picked("fascia", known(SIX, EIGHT, planned=1), size="1x8") == ("fascia 1x8", None)


def test_a_size_that_no_variant_has_is_kept_and_asked_about() -> None:
    for items in ((SIX, EIGHT), (SIX, EIGHT, PLAIN)):
        name, why = picked("fascia", known(*items), size="2x8")
        assert name == "fascia"
        assert why == "fascia, 2x8: no such line in the catalog, a new one?"


def test_a_line_without_sizes_takes_any() -> None:
    assert picked("fascia", known(PLAIN), size="2x8") == ("fascia", None)


def test_the_length_tells_variants_apart_where_nothing_else_does() -> None:
    lines = lines_by_name(known(SIX, EIGHT))["fascia"]
    item, why = meant(lines, Said(length=Fraction(192)))
    assert (item.name, why) == ("fascia 1x8", None)


def test_a_kind_of_a_profile_is_that_profile() -> None:
    vented = Item("vented panel", "sheet", variant_of="panel", profile="vented")
    solid = replace(vented, name="solid panel", profile="solid")
    both = known(vented, solid)
    assert picked("panel", both, profile="center vented") == ("vented panel", None)


def test_what_the_plan_holds_comes_before_what_the_catalog_calls_so() -> None:
    assert picked("nails", known(TRIM, SIDING, planned=1)) == ("trim nails", None)
    assert picked("nails", known(SIDING, TRIM)) == ("siding nails", None)


def test_two_planned_lines_of_a_name_are_asked_about() -> None:
    roofing = Item("roofing nails", "lb")
    name, why = picked("nails", known(TRIM, roofing, SIDING, planned=2))
    assert (name, why) == ("nails", "which nails: trim nails or roofing nails?")


def test_a_size_of_another_line_of_that_kind_is_that_line() -> None:
    eight = Item("8d common nails", "lb", variant_of="common nails", size="8d")
    assert picked("nails", known(TRIM, eight, SIDING, planned=1), size="8d") == (
        "8d common nails",
        None,
    )


def test_a_plan_of_the_starter_catalog_counts_its_own_lines_as_planned() -> None:
    plan = Plan(items=(PlannedItem(SIX, Fraction(1)), PlannedItem(TRIM, Fraction(1))))
    assert vocabulary(plan).planned == 2


# --- what is said beside a name


USED = ("used", "6", "stick")


@pytest.mark.parametrize(
    ("text", "item", "quantity", "unit", "told"),
    [
        ("used six one by eight fascia", "fascia 1x8", "6", "stick", {"size": "1x8"}),
        ("used six sticks of fascia, one by eight", "fascia 1x8", "6", "stick", {"size": "1x8"}),
        ("used six fascia one by eight", "fascia 1x8", "6", "stick", {"size": "1x8"}),
        ("used 6 1x8 fascia", "fascia 1x8", "6", "stick", {"size": "1x8"}),
        ("used four ten foot sticks of j", "J channel", "4", "stick", {"length": "120"}),
        ("used four ten footers of j", "J channel", "4", "stick", {"length": "120"}),
        ("used three ten foot j", "J channel", "3", "stick", {"length": "120"}),
        ("used six five inch elbows", "elbow", "6", "each", {"size": "5 in"}),
        ("used six elbows, five inch, on the porch", "elbow", "6", "each", {"size": "5 in"}),
        (
            "used two pounds of inch and a half trim nails",
            "trim nails", "2", "lb", {"size": "1 1/2 in"},
        ),
        ("used a box of three eighths staples", "staples", "1", "box", {"size": "3/8 in"}),
        ("used two pounds of six penny nails", "6d common nails", "2", "lb", {"size": "6d"}),
        ("used 2 lb of 8d nails", "8d common nails", "2", "lb", {"size": "8d"}),
        ("used a pound of number eight screws", "screws", "1", "lb", {"size": "#8"}),
        ("used two rolls of 29 gauge coil", "trim coil", "2", "roll", {"size": "29 ga"}),
        ("used two rolls of fifteen pound felt", "felt", "2", "roll", {"size": "15 lb"}),
        ("used two rolls of white coil", "trim coil", "2", "roll", {"colour": "white"}),
        ("used two rolls of coil in white", "trim coil", "2", "roll", {"colour": "white"}),
        ("used two rolls of coil, cream colored", "trim coil", "2", "roll", {"colour": "cream"}),
        (
            "used two rolls of coil, colonial gray",
            "trim coil", "2", "roll", {"colour": "colonial gray"},
        ),
        (
            "used three sheets of vented soffit",
            "vented soffit panel", "3", "sheet", {"profile": "vented"},
        ),
        (
            "used three vented panels, white",
            "vented soffit panel", "3", "sheet", {"profile": "vented", "colour": "white"},
        ),
        ("used half a sheet of solid", "solid soffit panel", "1/2", "sheet", {"profile": "solid"}),
        ("solid, four sheets, used", "solid soffit panel", "4", "sheet", {"profile": "solid"}),
        ("used four of the vented", "vented soffit panel", "4", "sheet", {"profile": "vented"}),
        (
            "used three 2x10x16",
            "two by ten", "3", "stick", {"size": "2x10", "length": "192"},
        ),
        (
            "used two one by eight by ten foot fascia",
            "fascia 1x8", "2", "stick", {"size": "1x8", "length": "120"},
        ),
        ("half inch plywood, two sheets used", "plywood", "2", "sheet", {"size": "1/2 in"}),
        (
            "used 4 pcs 1x8 fascia 12'",
            "fascia 1x8", "4", "stick", {"size": "1x8", "length": "144"},
        ),
        (
            "used two textured one by eight fascia",
            "fascia 1x8", "2", "stick", {"size": "1x8", "profile": "textured"},
        ),
        ("used four of the one by eights", "one by eight", "4", "stick", {"size": "1x8"}),
    ],
)  # fmt: skip
def test_what_is_said_beside_a_name_is_of_the_item(
    text: str, item: str, quantity: str, unit: str, told: dict[str, str]
) -> None:
    assert said_of(text) == [("used", item, quantity, unit, told)]


def test_a_size_of_its_own_is_told_of_each_item() -> None:
    assert said_of("used five sheets of half inch plywood and four of three quarter inch") == [
        ("used", "plywood", "5", "sheet", {"size": "1/2 in"}),
        ("used", "plywood", "4", "sheet", {"size": "3/4 in"}),
    ]
    assert said_of("used two sheets of soffit, white, and a roll of coil") == [
        ("used", "soffit panel", "2", "sheet", {"colour": "white"}),
        ("used", "trim coil", "1", "roll", {}),
    ]


def test_a_count_and_a_size_in_one_number_are_asked_about() -> None:
    assert said_of("twenty five inch elbows delivered") == [
        ("delivered", "elbow", "20", "each", {"size": "5 in"})
    ]
    assert whys("twenty five inch elbows delivered") == ["twenty of 5 in, or 25 in?"]


def test_a_count_and_a_nominal_size_in_one_number_are_plain() -> None:
    assert said_of("thirty one by eight fascia delivered") == [
        ("delivered", "fascia 1x8", "30", "stick", {"size": "1x8"})
    ]
    assert whys("thirty one by eight fascia delivered") == []


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("fascia sixteen and a half", "33/2"),
        ("cut four soffit at fourteen and a quarter", "57/4"),
        ("j channel, twelve foot, north eave", "144"),
    ],
)
def test_a_length_that_was_measured_is_no_size(text: str, inches: str) -> None:
    [entry] = read(text, words()).entries
    assert (entry.kind, entry.inches, entry.size, entry.length) == (
        "measure",
        Fraction(inches),
        None,
        None,
    )


@pytest.mark.parametrize(
    ("text", "quantity", "unit"),
    [
        ("used ten foot of coil", "10", "ft"),
        ("used half a sheet of plywood", "1/2", "sheet"),
        ("used a pound and a half of trim nails", "3/2", "lb"),
        ("used fifteen feet of flashing", "15", "ft"),
    ],
)
def test_an_amount_is_no_size(text: str, quantity: str, unit: str) -> None:
    [(_, _, found, counted, told)] = said_of(text)
    assert (found, counted, told) == (quantity, unit, {})


def test_a_measure_of_variants_needs_none_of_them() -> None:
    assert whys("fascia sixteen and a half") == []


def test_a_variant_spoken_of_before_goes_on() -> None:
    first = read("used six one by eight fascia", words())
    more = read("and two more", words(), after(Context(), first))
    assert [entry.item for entry in more.entries] == ["fascia 1x8"]


def told_after(*lines: str) -> list[tuple[str | None, str | None, str | None, tuple[str, ...]]]:
    context, reading = Context(), read("", words())
    for line in lines:
        reading = read(line, words(), context)
        context = after(context, reading)
    return [(one.item, one.size or one.profile, one.colour, one.carried) for one in reading.entries]


def test_what_was_said_of_an_item_holds_where_it_goes_on_unnamed() -> None:
    assert told_after("used six one by eight fascia on the porch", "and four on the garage") == [
        ("fascia 1x8", "1x8", None, ("item", "size"))
    ]


def test_another_colour_or_profile_said_alone_is_of_the_item_spoken_of() -> None:
    assert told_after("used six white j on the porch", "and two brown on the dormer") == [
        ("J channel", None, "brown", ("item",))
    ]
    assert told_after("used six vented panels", "and three solid") == [
        ("solid soffit panel", "solid", None, ())
    ]


# --- what no catalog knows


@pytest.mark.parametrize(
    ("text", "item", "quantity", "unit"),
    [
        ("used two bags of ice melt on the porch", "ice melt", "2", "bag"),
        ("used two sticks of three quarter quarter round", "quarter round", "2", "stick"),
        ("used eight joist hangers", "joist hangers", "8", "each"),
        ("used six gutter wedges", "gutter wedges", "6", "each"),
        ("used forty pavers", "pavers", "40", "each"),
        ("used four gizmos", "gizmos", "4", "each"),
        ("used nine foot of lattice", "lattice", "9", "ft"),
        ("used two packs of shims setting the window", "shims", "2", "pack"),
        ("used one piece of quarter inch lauan", "lauan", "1", "each"),
    ],
)
def test_an_item_of_no_catalog_is_kept_by_its_words(
    text: str, item: str, quantity: str, unit: str
) -> None:
    [(kind, found, amount, counted, _)] = said_of(text)
    assert (kind, found, amount, counted) == ("used", item, quantity, unit)
    assert f'{item!r} is not in the catalog: joblog catalog set "{item}" unit={unit}' in whys(text)


def test_an_unknown_item_is_not_taken_for_what_was_spoken_of_before() -> None:
    vocabulary = known(Item("soffit panel", "sheet", ("soffit",)))
    first = read("used nine sheets of soffit", vocabulary)
    [entry] = read("cracked two panels of siding", vocabulary, after(Context(), first)).entries
    assert (entry.kind, entry.item, entry.quantity) == ("spoiled", "siding", 2)


def test_more_of_an_unknown_item_is_of_that_item() -> None:
    first = read("used two bags of ice melt", words())
    [entry] = read("and two more", words(), after(Context(), first)).entries
    assert (entry.item, entry.quantity, entry.unit) == ("ice melt", 2, "bag")


def test_words_that_name_nothing_are_no_item() -> None:
    for text in (
        "used two out back",
        "took three tries to start",
        "two guys of mine",
        "froze solid last night",
    ):
        assert all(entry.item is None for entry in read(text, words()).entries)


# --- counted by the pound


@pytest.mark.parametrize(
    "text", ["used two hundred screws", "used three screws", "used a dozen screws"]
)
def test_a_count_of_what_is_sold_by_the_pound_is_of_pieces_and_asked_about(text: str) -> None:
    [(_, item, _, unit, _)] = said_of(text)
    assert (item, unit) == ("screws", "each")
    assert whys(text) == ["so many screws, or so many lb?"]


@pytest.mark.parametrize(
    ("text", "quantity", "unit"),
    [("used two pounds of screws", "2", "lb"), ("no screws left", "0", "lb")],
)
def test_what_is_told_by_the_pound_is_not_asked_about(text: str, quantity: str, unit: str) -> None:
    [(_, item, amount, counted, _)] = said_of(text)
    assert (item, amount, counted) == ("screws", quantity, unit)
    assert whys(text) == []


# --- no verb


def test_an_amount_at_a_place_without_any_verb_is_used_there() -> None:
    for text in ("six sheets of vented soffit, porch", "vented soffit, six sheets, porch"):
        [(kind, item, quantity, _, _)] = said_of(text)
        assert (kind, item, quantity) == ("used", "vented soffit panel", "6")
        assert whys(text) == []


def test_a_length_at_a_place_without_any_verb_is_no_amount() -> None:
    [entry] = read("gutter run porch fifty two feet", words()).entries
    assert (entry.kind, entry.inches) == ("measure", 624)


def test_a_stick_that_was_bent_up_may_be_spoiled_and_coil_is_used() -> None:
    assert said_of("bent up one stick of one by six fascia")[0][0] == "spoiled"
    assert whys("bent up one stick of one by six fascia") == ["bent to shape, or spoiled?"]
    assert said_of("bent up two rolls of coil")[0][0] == "used"
