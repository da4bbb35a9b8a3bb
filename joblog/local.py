"""Days, times and money as the country writes them, and read back as typed.

The words are English whatever the country; order, separators, 12 or 24 hours and the currency are
the country's, by the system's locale: LC_ALL, then LC_TIME or LC_MONETARY, then LANG. C, POSIX and
what nobody knows count as the United States. JSON and CSV do not pass through here: they are ISO.
"""

from __future__ import annotations

import os
import re
import sys
from contextlib import suppress
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Literal

from joblog.quantity import money_of

if TYPE_CHECKING:
    from babel import Locale

# Babel is loaded where it is first needed: a command that shows no day is not slower for it.


def day_written(day: date, *, short: bool = False, year: bool | None = None) -> str:
    """ "Mon, Oct 5, 2026"; short "Oct 5". With or without the year where `year` says so:
    "Mon, Oct 5" and "Oct 5, 2026"."""
    skeleton = "MMMd" if short else "MMMEd"
    return _by_skeleton("y" + skeleton if (not short if year is None else year) else skeleton, day)


def clock_written(at: time | datetime, *, seconds: bool = False) -> str:
    """ "4:30 PM" or "16:30"; a datetime is taken as it stands, so it is to be in the job's zone."""
    from babel.dates import format_time

    clock = at.time() if isinstance(at, datetime) else at
    return _blanks(format_time(clock, "medium" if seconds else "short", locale=_dates()))


def moment_written(at: datetime, *, year: bool = False, seconds: bool = False) -> str:
    """ "Oct 5, 4:30 PM", of a datetime in the job's zone; "Oct 5, 2026, 4:30 PM" with its year."""
    day = day_written(at.date(), short=True, year=year)
    return f"{day}, {clock_written(at, seconds=seconds)}"


def money_written(money: Decimal, *, sign: bool = False, bare: bool = False) -> str:
    """ "$1,234.50", exact: parts of a cent are shown where there are any.

    `sign` puts a plus before more than nothing; `bare` leaves the currency out, for columns.
    """
    from babel.numbers import format_currency, format_decimal

    places = money.as_tuple().exponent
    shown = money.normalize() if isinstance(places, int) and places < -2 else money
    size = abs(shown)
    if bare:
        pattern = "#,##0.00##############"
        text = format_decimal(size, pattern, locale=_money(), decimal_quantization=False)
    else:
        text = format_currency(size, currency(), locale=_money(), decimal_quantization=False)
    before = "-" if shown < 0 else "+" if sign and shown else ""
    return before + _blanks(text)


def currency() -> str:
    """The currency of the country: "USD"."""
    from babel.numbers import get_territory_currencies

    found = get_territory_currencies(_money().territory or "US", tender=True)
    return str(found[0]) if found else "USD"


def letter_paper() -> bool:
    """Whether the country prints on letter paper; the others print on A4."""
    return (_dates().territory or "US") in _LETTER


_LETTER = frozenset("BZ CA CL CO CR GT MX NI PA PH PR SV US VE".split())
"""Unicode CLDR, supplemental data, paperSize (from memory)."""


def day_read(text: str, near: date) -> date:
    """The day that somebody typed: "Oct 5", "5 Oct", "10/5" in the country's order, "2026-10-05",
    "yesterday", "Monday" (the last one). One without a year is the one closest to `near`.

    Raises ValueError with a plain line for what is no day.
    """
    words = re.sub(r"(?<=\d)(st|nd|rd|th)\b|\b(of|the|at|on)\b|,", " ", text.lower())
    parts = [part for part in re.split(r"[\s./-]+", words) if part]
    weekdays = [_WEEKDAYS[part] for part in parts if part in _WEEKDAYS]
    months = [_MONTHS[part] for part in parts if part in _MONTHS]
    numbers = [part for part in parts if part.isascii() and part.isdigit()]
    if parts in (["today"], ["yesterday"]):
        return near - timedelta(parts == ["yesterday"])
    known = len(weekdays) + len(months) + len(numbers) == len(parts)
    if known and len(weekdays) == 1 and len(parts) == 1:
        return near - timedelta((near.weekday() - weekdays[0]) % 7)
    ways = _ways(months, numbers) if known else []
    found = next((day for way in ways if (day := _of_calendar(way, near))), None)
    if found is None:
        raise ValueError(f"{text!r} is no day; write {day_written(near, short=True)}")
    if any(weekday != found.weekday() for weekday in weekdays):
        raise ValueError(f"{text!r} is no day: {day_written(found)} by the calendar")
    return found


def clock_read(text: str, near: time | None = None) -> time:
    """The time that somebody typed: "4:30 pm", "430p", "16:30", "16.30", "1630", "7", "noon".

    Without a.m. or p.m. it is as on a 24 hour clock; with `near`, an hour that may be of either
    half of the day is of the half that lies closer. Raises ValueError for what is no time.
    """
    words = " ".join(text.lower().replace(".m.", "m").split())
    if words in _NAMED_CLOCKS:
        return _NAMED_CLOCKS[words]
    found = _CLOCK.fullmatch(words)
    if found is None:
        raise ValueError(f"{text!r} is no time; write 4:30 pm or 16:30")
    hour, minute, half = (
        int(found["hour"]),
        int(found["minute"] or found["run"] or 0),
        found["half"],
    )
    if half:
        hour = hour % 12 + 12 * (half == "p") if 1 <= hour <= 12 else 24
    if hour > 23 or minute > 59:
        raise ValueError(f"{text!r} is no time; write 4:30 pm or 16:30")
    read = time(hour, minute)
    if near is None or half or not 1 <= hour <= 12 or found["hour"].startswith("0"):
        return read
    other = time((hour + 12) % 24, minute)
    return min(read, other, key=lambda clock: abs(_minutes(clock) - _minutes(near)))


def money_read(text: str) -> Decimal:
    """An amount of money as the country writes it, or as joblog does: "21.40", "$1,250", "21,40 €".

    Raises ValueError for what is none, and for "1.250" where nobody can be sure what it means.
    """
    from babel.numbers import get_currency_symbol, get_decimal_symbol

    symbol = get_currency_symbol(currency(), _money())
    bare = _blanks(text).replace(symbol, "").replace(currency(), "").strip()
    bare = re.sub(r"^- +", "-", bare)
    if get_decimal_symbol(_money()) != ",":
        return money_of(bare)
    if re.fullmatch(r"-?[0-9]{1,3}\.[0-9]{3}", bare):
        raise ValueError(f"{text!r} may be thousands or parts of one; write 1250 or 1,25")
    try:
        return money_of(bare, decimal=",")
    except ValueError:
        return money_of(bare)


# --- whose country ----------------------------------------------------------------------------


def _dates() -> Locale:
    return _english_of(_named_by("LC_TIME"))


def _money() -> Locale:
    return _english_of(_named_by("LC_MONETARY"), figures=True)


def _named_by(category: Literal["LC_TIME", "LC_MONETARY"]) -> str:
    """What the system calls the locale, in the order of POSIX; "" where it names none."""
    for variable in ("LC_ALL", category, "LANG"):
        if os.environ.get(variable):
            return os.environ[variable]
    return _of_windows()


@cache
def _of_windows() -> str:
    if sys.platform != "win32":
        return ""
    import ctypes

    name = ctypes.create_unicode_buffer(85)
    ctypes.windll.kernel32.GetUserDefaultLocaleName(name, len(name))
    return name.value


@cache
def _english_of(name: str, *, figures: bool = False) -> Locale:
    """English as it is written in the country of that locale; of the United States for none.

    Where English of a country is not known, its figures are as in its own language, and its days
    as in English of the world, with 12 or 24 hours as in its own language.
    """
    from babel import Locale, UnknownLocaleError

    language, country = _language_and_country(name)
    with suppress(UnknownLocaleError, ValueError):
        return Locale.parse(f"en_{country or 'US'}")
    with suppress(UnknownLocaleError, ValueError):
        own = Locale.parse(f"{language}_{country}")
        around = "H" in own.time_formats["short"].pattern
        return own if figures else Locale("en", "150" if around else "001")
    return Locale("en", "US")


def _language_and_country(name: str) -> tuple[str, str]:
    """("de", "AT") of "de_AT.UTF-8"; the country where it is mostly spoken of a language alone."""
    from babel.core import get_global

    language, *rest = re.split(r"[_-]", re.split(r"[.@]", name)[0])
    likely = get_global("likely_subtags").get(language, "").split("_")
    known = language not in ("C", "POSIX") and len(likely) > 1
    country = rest[-1] if rest and len(rest[-1]) == 2 else likely[-1]
    return (language, country.upper()) if known else ("", "")


def _by_skeleton(skeleton: str, day: date) -> str:
    from babel.dates import format_skeleton

    return _blanks(format_skeleton(skeleton, day, locale=_dates()))


def _blanks(text: str) -> str:
    """With plain blanks and a plain minus: a terminal may have no glyph for the others."""
    plain = re.sub(r"[\u00a0\u2009\u202f]", " ", text).replace("\N{MINUS SIGN}", "-")
    return re.sub(r"[\u200e\u200f]", "", plain)


# --- reading ----------------------------------------------------------------------------------


def _ways(months: list[int], numbers: list[str]) -> list[tuple[str, int, str]]:
    """The ways, likeliest first, in which these may be a year ("" for none), a month and a day."""
    if len(months) == 1 and len(numbers) == 1:
        return [("", months[0], numbers[0])]
    if len(months) == 1 and len(numbers) == 2:
        one, other = numbers
        return [(other, months[0], one), (one, months[0], other)]
    if months or len(numbers) not in (2, 3):
        return []
    if len(numbers) == 3 and len(numbers[0]) == 4:
        return [(numbers[0], int(numbers[1]), numbers[2])]
    one, other, *year = numbers
    ways = [("".join(year), int(one), other), ("".join(year), int(other), one)]
    pattern = str(_dates().date_formats["short"].pattern)
    return ways if pattern.index("M") < pattern.index("d") else ways[::-1]


def _of_calendar(way: tuple[str, int, str], near: date) -> date | None:
    """That day; None where the calendar has none. Without a year it is the one closest to `near`,
    and a year of two figures is of this century."""
    year, month, day = way
    if len(year) not in (0, 2, 4) or len(day) > 2:
        return None
    full = int(year) + 2000 * (len(year) == 2) if year else 0
    days = []
    for tried in [full] if year else [near.year, near.year - 1, near.year + 1]:
        with suppress(ValueError):
            days.append(date(tried, month, int(day)))
    return min(days, key=lambda found: abs(found - near), default=None)


_WEEKDAYS = {
    written: at
    for at, name in enumerate("monday tuesday wednesday thursday friday saturday sunday".split())
    for written in (name, name[:3], name[:4], name[:5])
}
_MONTHS = {
    written: at
    for at, name in enumerate(
        "january february march april may june july august september october november "
        "december".split(), 1,
    )
    for written in (name, name[:3], name[:4])
}  # fmt: skip
_NAMED_CLOCKS = {"noon": time(12), "midnight": time(0)}
_CLOCK = re.compile(
    r"(?P<hour>\d{1,2})(?: ?[:.h] ?(?P<minute>\d{2})|(?P<run>(?<=\d)\d{2}))? ?h?"
    r"(?: ?(?P<half>[ap])m?)?",
    re.ASCII,
)


def _minutes(clock: time) -> int:
    return 60 * clock.hour + clock.minute
