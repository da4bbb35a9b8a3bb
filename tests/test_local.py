"""Days, times and money as countries write them, and read back."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog import local

MONDAY = date(2026, 10, 5)
AFTERNOON = datetime(2026, 10, 5, 16, 30, 9)

COUNTRIES = ("en_US.UTF-8", "de_DE.UTF-8", "en_GB", "sv_SE", "pt_BR", "zh_TW", "C", "POSIX", "")


def of(country: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LC_ALL", country)


@pytest.mark.parametrize(
    ("country", "day", "clock", "money"),
    [
        # As the common locale data has them (CLDR 47: en_US, en_DE, en_GB).
        ("en_US.UTF-8", "Mon, Oct 5, 2026", "4:30 PM", "$1,234.50"),
        ("de_DE.UTF-8", "Mon, 5 Oct 2026", "16:30", "1.234,50 €"),
        ("en_GB", "Mon, 5 Oct 2026", "16:30", "£1,234.50"),
        # No country at all counts as the United States.
        ("C", "Mon, Oct 5, 2026", "4:30 PM", "$1,234.50"),
        ("POSIX", "Mon, Oct 5, 2026", "4:30 PM", "$1,234.50"),
        ("xx_YY", "Mon, Oct 5, 2026", "4:30 PM", "$1,234.50"),
    ],
)
def test_a_country_writes_them_its_own_way(
    country: str, day: str, clock: str, money: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    of(country, monkeypatch)
    assert local.day_written(MONDAY) == day
    assert local.clock_written(AFTERNOON) == clock
    assert local.money_written(Decimal("1234.5")) == money


@pytest.mark.parametrize(
    ("country", "letter"),
    # Unicode CLDR, supplemental data, paperSize (from memory).
    [("en_US", True), ("en_CA", True), ("C", True), ("en_GB", False), ("de_DE", False)],
)
def test_the_paper_is_the_countrys(
    country: str, letter: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    of(country, monkeypatch)
    assert local.letter_paper() is letter


def test_days_and_money_may_be_of_two_countries(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("LC_ALL")
    monkeypatch.setenv("LC_TIME", "en_GB.UTF-8")
    monkeypatch.setenv("LC_MONETARY", "en_US.UTF-8")
    assert local.day_written(MONDAY, short=True) == "5 Oct"
    assert local.money_written(Decimal("21.40")) == "$21.40"


def test_what_names_all_of_it_goes_before_what_names_a_part(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("LC_TIME", "en_GB.UTF-8")
    assert local.day_written(MONDAY, short=True) == "Oct 5"


def test_a_day_is_written_as_short_as_it_is_wanted() -> None:
    assert local.day_written(MONDAY, year=False) == "Mon, Oct 5"
    assert local.day_written(MONDAY, short=True) == "Oct 5"
    assert local.day_written(MONDAY, short=True, year=True) == "Oct 5, 2026"
    assert local.moment_written(AFTERNOON) == "Oct 5, 4:30 PM"
    assert local.moment_written(AFTERNOON, year=True, seconds=True) == "Oct 5, 2026, 4:30:09 PM"


@pytest.mark.parametrize(
    ("money", "shown"),
    [("21.4", "$21.40"), ("-3", "-$3.00"), ("0.125", "$0.125"), ("13.500", "$13.50"),
     ("0", "$0.00"), ("123456789012345678901234567890.01",
                      "$123,456,789,012,345,678,901,234,567,890.01")],
)  # fmt: skip
def test_money_is_exact_whatever_its_size(money: str, shown: str) -> None:
    assert local.money_written(Decimal(money)) == shown


def test_in_a_column_money_has_no_currency() -> None:
    assert local.money_written(Decimal("1021.4"), bare=True) == "1,021.40"
    assert local.money_written(Decimal("1021.4"), bare=True, sign=True) == "+1,021.40"
    assert local.money_written(Decimal("0"), bare=True, sign=True) == "0.00"


@pytest.mark.parametrize(
    "typed",
    ["Oct 5", "5 Oct", "October 5th", "5 October 2026", "Mon, Oct 5, 2026", "10/5", "10/5/26",
     "2026-10-05", "the 5th of October", "today", "Monday", "mon"],
)  # fmt: skip
def test_a_day_is_read_whichever_way_it_is_typed(typed: str) -> None:
    assert local.day_read(typed, MONDAY) == MONDAY


def test_figures_alone_are_read_in_the_order_of_the_country(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert local.day_read("9/8", MONDAY) == date(2026, 9, 8)
    of("en_GB", monkeypatch)
    assert local.day_read("9/8", MONDAY) == date(2026, 8, 9)
    assert local.day_read("4.5.2026", MONDAY) == date(2026, 5, 4)


def test_where_only_one_order_is_a_day_it_is_that_one() -> None:
    assert local.day_read("25/10", MONDAY) == date(2026, 10, 25)


def test_a_day_without_its_year_is_the_closest() -> None:
    assert local.day_read("Dec 31", date(2026, 1, 2)) == date(2025, 12, 31)
    assert local.day_read("Jan 2", date(2025, 12, 31)) == date(2026, 1, 2)
    assert local.day_read("sunday", MONDAY) == date(2026, 10, 4)


@pytest.mark.parametrize(
    "typed", ["", "Tue, Oct 5", "Feb 30", "soon", "5", "1 2 3 4", "13/13", "Oct Nov", "Oct 5 maybe"]
)
def test_what_is_no_day_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match="is no day"):
        local.day_read(typed, MONDAY)


@pytest.mark.parametrize(
    "typed", ["4:30 pm", "4:30 PM", "4:30 p.m.", "430p", "16:30", "16.30", "1630", "16h30"]
)
def test_a_time_is_read_whichever_way_it_is_typed(typed: str) -> None:
    assert local.clock_read(typed) == time(16, 30)


def test_noon_and_midnight_are_times() -> None:
    assert [local.clock_read(typed) for typed in ("noon", "12 pm", "midnight", "12am")] == [
        time(12), time(12), time(0), time(0),
    ]  # fmt: skip


def test_an_hour_of_either_half_of_the_day_is_the_one_close_by() -> None:
    assert local.clock_read("4:30") == time(4, 30)
    assert local.clock_read("4:30", time(15)) == time(16, 30)
    assert local.clock_read("7", time(8)) == time(7)
    assert local.clock_read("04:30", time(15)) == time(4, 30)


@pytest.mark.parametrize("typed", ["", "24:00", "7:75", "13 pm", "0 am", "7:5", "half past"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match="is no time"):
        local.clock_read(typed)


def test_money_is_read_as_the_country_writes_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert local.money_read("$1,250") == 1250
    of("de_DE", monkeypatch)
    assert local.money_read("1.250,40 €") == Decimal("1250.40")
    assert local.money_read("21.40") == Decimal("21.40")
    assert local.money_read("1.250.000 €") == 1_250_000
    assert local.money_read("1 250,40") == Decimal("1250.40")
    assert local.money_read("0,125") == Decimal("0.125")


def test_money_that_is_written_as_another_country_does_is_asked_about() -> None:
    with pytest.raises(ValueError, match=r"is it 21\.40\?"):
        local.money_read("21,40")


def test_money_that_may_be_a_thousand_times_another_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    of("de_DE", monkeypatch)
    with pytest.raises(ValueError, match="may be thousands"):
        local.money_read("1.250")


@pytest.mark.parametrize("country", COUNTRIES)
@given(day=st.dates(date(2000, 1, 1), date(2099, 12, 31)), clock=st.times())
def test_what_is_written_is_read_back(country: str, day: date, clock: time) -> None:
    with pytest.MonkeyPatch.context() as patch:
        of(country, patch)
        assert local.day_read(local.day_written(day), MONDAY) == day
        assert local.day_read(local.day_written(day, short=True), day) == day
        assert local.clock_read(local.clock_written(clock)) == clock.replace(
            second=0, microsecond=0
        )


@pytest.mark.parametrize("country", COUNTRIES)
@given(cents=st.integers(-(10**11), 10**11))
def test_money_that_is_written_is_read_back(country: str, cents: int) -> None:
    with pytest.MonkeyPatch.context() as patch:
        of(country, patch)
        money = Decimal(cents).scaleb(-2)
        assert local.money_read(local.money_written(money)) == money
