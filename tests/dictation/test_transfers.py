"""Material that is carried between jobs, or out of and into the shop. Phrases are invented."""

from dataclasses import replace
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.dictation.transfers import jobs_called
from joblog.model import STOCK, Entry, Plan
from joblog.plan import vocabulary

WORDS = replace(
    vocabulary(Plan(places=("north eave", "porch ceiling"))), jobs=("Mill porch", "Oak Street")
)
PANELS = Context(
    last=Entry("used", item="soffit panel", quantity=Fraction(4), unit="sheet"),
    item="soffit panel",
)
Carried = tuple[str, Fraction | None, str | None, str | None, str | None]


def told(said: str, context: Context | None = None) -> list[Carried]:
    return [
        (one.kind, one.quantity, one.item, one.from_job, one.to_job)
        for one in read(said, WORDS, context).entries
    ]


@pytest.mark.parametrize(
    ("said", "quantity", "item", "from_job", "to_job"),
    [
        (
            "took six sheets of soffit over to the mill job",
            6,
            "soffit panel",
            None,
            "Mill porch",
        ),
        ("brought four sticks of j from the Oak Street job", 4, "J channel", "Oak Street", None),
        ("moved ten soffit panels to the porch job", 10, "soffit panel", None, "Mill porch"),
        ("borrowed two rolls of coil from the mill job", 2, "trim coil", "Mill porch", None),
        ("lent the mill job two rolls of coil", 2, "trim coil", None, "Mill porch"),
        ("two rolls of coil went over to the mill job", 2, "trim coil", None, "Mill porch"),
        ("got five soffit panels from stock", 5, "soffit panel", STOCK, None),
        ("i brought six elbows from the shop", 6, "elbow", STOCK, None),
        ("took two rolls of coil back to the shop", 2, "trim coil", None, STOCK),
        ("put two soffit panels back in the truck", 2, "soffit panel", None, STOCK),
        ("got five soffit panels from Mill", 5, "soffit panel", "Mill porch", None),
    ],
)
def test_what_is_carried_has_one_end_told(
    said: str, quantity: int, item: str, from_job: str | None, to_job: str | None
) -> None:
    assert told(said) == [("moved", quantity, item, from_job, to_job)]
    assert not [doubt for doubt in read(said, WORDS).doubts if "which job" in doubt.why]


def test_what_is_left_of_what_was_spoken_of_goes_back_to_the_truck() -> None:
    assert told("put the three left back in the truck", PANELS) == [
        ("moved", 3, "soffit panel", None, STOCK)
    ]


def test_what_is_used_from_the_shop_came_from_there_and_was_used() -> None:
    assert told("used two sheets from the shop", PANELS) == [
        ("moved", 2, "soffit panel", STOCK, None),
        ("used", 2, "soffit panel", None, None),
    ]


@pytest.mark.parametrize(
    "said",
    [
        "took six sheets of soffit and two rolls of coil over to the mill job",
        "took six sheets of soffit over to the mill job and two rolls of coil",
    ],
)
def test_all_of_a_list_goes_where_the_list_goes(said: str) -> None:
    assert told(said) == [
        ("moved", 6, "soffit panel", None, "Mill porch"),
        ("moved", 2, "trim coil", None, "Mill porch"),
    ]


@pytest.mark.parametrize("name", ["Henderson", "last", "other"])
def test_what_is_no_jobs_name_is_asked_about(name: str) -> None:
    reading = read(f"brought four sticks of j channel from the {name} job", WORDS)
    assert reading.entries[0].from_job == name.lower()
    assert [doubt.why for doubt in reading.doubts] == [f"which job is {name.lower()!r}?"]


def test_the_other_job_is_the_only_other_one_there_is() -> None:
    two = replace(WORDS, jobs=("Oak Street",))
    [entry] = read("brought four sticks of j channel from the other job", two).entries
    assert entry.from_job == "Oak Street"


@pytest.mark.parametrize(
    "said",
    [
        "moved ten soffit panels to the north eave",
        "moved ten soffit panels to the porch ceiling",
        "moved ten soffit panels to the garage",
        "took two soffit panels up to the porch",
        "put six soffit panels up in the garage",
        "used six soffit panels on the porch",
    ],
)
def test_what_is_moved_to_a_place_of_the_job_stays_on_it(said: str) -> None:
    assert all(kind != "moved" for kind, *_ in told(said))


def test_the_yard_and_the_store_are_no_stock_of_his_own() -> None:
    assert told("took two rolls of coil back to the yard")[0][0] == "returned"
    assert told("brought two rolls of coil from the store")[0][0] == "delivered"


def test_a_name_is_matched_by_its_words_and_not_by_a_part_of_one() -> None:
    jobs = ("Corner porch", "Corner barn", "Corn Road")
    assert jobs_called("corner porch", jobs) == ("Corner porch",)
    assert jobs_called("the Corners'", jobs) == ("Corner porch", "Corner barn")
    assert jobs_called("corn", jobs) == ("Corn Road",)
    assert jobs_called("harbor", jobs) == ()
