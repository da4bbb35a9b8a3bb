"""What a cell may look like: spellings that leave its meaning alone, and slips that do not."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from random import Random

from tests.bench.tables.kinds import Value

VULGAR = {
    "1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
    "1/3": "⅓", "2/3": "⅔", "1/5": "⅕", "1/6": "⅙", "1/10": "⅒",
}  # fmt: skip
NO_MEANING = None
"""Of a slip that nobody should take for a number."""
Slip = tuple[str, str, "Value | None"]
"""What it is called, the cell, and what was meant."""


def usual(sort: str, value: Value, decimal: str, random: Random) -> str:
    """The cell as most people type it."""
    sort = "number" if sort == "degrees" else sort
    if isinstance(value, str):
        return value
    if isinstance(value, date):
        return value.isoformat()
    if sort == "list":
        return "; ".join(map(str, value))  # type: ignore[arg-type]
    if sort == "worded":
        many, unit = value  # type: ignore[misc]
        return f"{decimals(many, decimal) or fraction(many)} {unit}"
    assert isinstance(value, Fraction)
    if sort == "tape":
        return feet_and_inches(value)
    if sort == "money":
        cents = f"{value.numerator * 100 // value.denominator:03d}"
        return f"{cents[:-2]}{decimal}{cents[-2:]}"
    if sort == "feet":
        value = value / 12
        if decimals(value, decimal) is None:
            return feet_and_inches(value * 12)
    if sort == "pitch" and random.random() < 0.5:
        return f"{fraction(value)}/12"
    if random.random() < 0.4 and sort in ("inches", "number"):
        return fraction(value)
    return decimals(value, decimal) or fraction(value)


def otherwise(sort: str, value: Value, decimal: str, random: Random) -> tuple[str, str]:
    """Another spelling of the same, and what it is called."""
    sort = "number" if sort == "degrees" else sort
    found: list[tuple[str, str]] = []
    if isinstance(value, date):
        return "month first", f"{value.month}/{value.day}/{value.year}"
    if isinstance(value, str):
        return "capitals", value.upper()
    if not isinstance(value, Fraction):
        return "spaces", f"  {usual(sort, value, decimal, random)} "
    if sort == "money":
        cents = usual(sort, value, decimal, random)
        found = [("dollar sign", f"${cents}"), ("thousands", grouped(value, decimal, 2))]
        return random.choice(found)
    bare = value / 12 if sort == "feet" else value
    whole, rest = divmod(bare, 1)
    if rest:
        part = f"{rest.numerator}/{rest.denominator}"
        before = f"{whole} " if whole else ""
        found.append(("fraction", f"{before}{part}"))
        found.append(("fraction slash", f"{before}{part.replace('/', chr(0x2044))}"))
        found.append(("one fraction", f"{bare.numerator}/{bare.denominator}"))
        found.append(("space in the fraction", f"{before}{rest.numerator} / {rest.denominator}"))
        if whole:
            found.append(("no-break space", f"{whole}\u00a0{part}"))
            found.append(("thin space", f"{whole}\u2009{part}"))
            found.append(("hyphen", f"{whole}-{part}"))
        if part in VULGAR:
            found.append(("vulgar fraction", f"{whole or ''}{VULGAR[part]}"))
            found.append(("vulgar fraction apart", f"{before}{VULGAR[part]}"))
    if sort == "pitch":
        found = [(name, f"{text}/12") for name, text in found if "one" not in name]
        found += [("on 12", f"{fraction(value)} in 12"), ("colon", f"{fraction(value)}:12")]
        return random.choice(found)
    if sort == "whole":
        return "nought behind", f"{whole}{decimal}0"
    if sort == "number":
        if bare >= 1000:
            found.append(("thousands", grouped(bare, decimal, 0 if bare.denominator == 1 else 2)))
        if (shown := decimals(bare, decimal)) and decimal in shown:
            found.append(("nought behind", f"{shown}0"))
        return random.choice(found or [("as it is", usual(sort, value, decimal, random))])
    long = feet_and_inches(value)
    if sort == "tape":
        found.clear()
    found += [
        ("feet and inches", long),
        ("primes", long.replace("'", "′").replace('"', "″")),
        ("curly quotes", long.replace("'", "’").replace('"', "”")),
        ("feet, inches in words", long.replace("'", " ft").replace('"', " in")),
        ("hyphen behind the feet", long.replace("' ", "'-")),
        ("unit", f"{fraction(value)} in"),
        ("unit in quotes", f'{fraction(value)}"'),
    ]
    if sort == "feet" and (shown := decimals(bare, decimal)):
        found += [("unit", f"{shown} ft"), ("unit in quotes", f"{shown}'")]
    return random.choice(found)


def slip(sort: str, value: Value, decimal: str, random: Random) -> Slip:
    """A cell that went wrong, what was meant by it, or NO_MEANING."""
    other = "," if decimal == "." else "."
    if isinstance(value, date):
        return random.choice(
            (
                ("days before months", f"{value.day}.{value.month}.{value.year}", value),
                ("no such day", "2026-02-30", NO_MEANING),
                ("no such month", "2025-13-01", NO_MEANING),
                ("short year", f"{value.month}/{value.day}/{value.year % 100}", value),
                ("no day", "last week", NO_MEANING),
            )
        )
    if sort == "list" or isinstance(value, str):
        return "spaces", f" {usual(sort, value, decimal, random)}  ", value
    if sort == "worded":
        many, unit = value  # type: ignore[misc]
        return random.choice(
            (
                ("a unit nobody has", f"{many} parsec", NO_MEANING),
                ("no unit", f"{fraction(many)}", NO_MEANING),
                ("no number", f"some {unit}", NO_MEANING),
            )
        )
    assert isinstance(value, Fraction)
    shown = usual(sort, value, decimal, random)
    sort = "feet" if sort == "tape" else sort
    bare = value / 12 if sort == "feet" else value
    plain = decimals(bare, decimal) or fraction(bare)
    whole = int(bare) or 3
    below = Fraction(-whole) if sort == "degrees" else NO_MEANING
    slips: list[Slip] = [
        ("the other sign", plain.replace(decimal, other), value),
        ("improper part", f"{whole} 9/8", NO_MEANING),
        ("over nought", f"{whole} 1/0", NO_MEANING),
        ("letter for a digit", f"{whole}O", NO_MEANING),
        ("l for one", f"l{whole}", NO_MEANING),
        ("two signs", f"{whole}{decimal}{decimal}5", NO_MEANING),
        ("two decimals", f"{whole}{decimal}5{decimal}2", NO_MEANING),
        ("groups of two", f"1{other}20{other}000", NO_MEANING),
        ("group too short", f"{whole}{other}20{other}5", NO_MEANING),
        ("a sign and a fraction", f"{whole}{decimal}7/8", NO_MEANING),
        ("two numbers", f"{whole} {whole}", NO_MEANING),
        ("one or the other", f"{whole} or {whole + 1}", NO_MEANING),
        ("about", f"~{plain}", NO_MEANING),
        ("asked", f"{plain}?", NO_MEANING),
        ("word before", f"approx {plain}", NO_MEANING),
        ("word behind", f"{plain} heavy", NO_MEANING),
        ("none", random.choice(("n/a", "-", "?", "tbd", "#REF!", "#DIV/0!", "TRUE")), NO_MEANING),
        ("formula", "=A1*2", NO_MEANING),
        ("below zero", f"-{whole}", below),
        ("below zero, long sign", f"\u2212{whole}", below),
        ("in brackets", f"({whole})", NO_MEANING),
        ("beyond reason", "9" * 26, NO_MEANING),
        ("nought too many", f"{whole}000000", NO_MEANING),
        ("metric", f"{whole} cm", NO_MEANING),
        ("metres", f"{whole} m", NO_MEANING),
        ("full width", in_digits_from(0xFF10, whole), bare_of(sort, whole)),
        ("Arabic digits", in_digits_from(0x660, whole), bare_of(sort, whole)),
        ("superscript", f"{whole}²", NO_MEANING),
        ("in a circle", "②", NO_MEANING),
        ("Roman", "Ⅻ", NO_MEANING),
        ("half of a fraction", f"{whole} ⅟", NO_MEANING),
        ("two fractions", f"{whole} ½ ¼", NO_MEANING),
        ("fraction of a fraction", f"{whole} ½/2", NO_MEANING),
        ("exponent", "1.5e3", bare_of(sort, 1500)),
        ("underscore", "1_000", NO_MEANING),
        ("hexadecimal", "0x10", NO_MEANING),
        ("infinite", random.choice(("inf", "nan", "Infinity")), NO_MEANING),
        ("doubled", f"{shown}{shown}", "unclear"),
        ("unit twice", f"{plain} in in", NO_MEANING),
        ("sheets of it", f"{whole} bananas", NO_MEANING),
    ]  # fmt: skip
    if sort in ("inches", "feet"):
        slips += [
            ("more inches than a foot has", f"{whole}' 13\"", NO_MEANING),
            ("feet twice", f"{whole}' 6'", NO_MEANING),
            ("inches before feet", f"6\" {whole}'", NO_MEANING),
            ("Swiss thousands", "1'000", NO_MEANING),
            ("a width by a height", f"{whole} x 4", NO_MEANING),
        ]
    if sort == "pitch":
        slips += [
            ("a day out of it", random.choice(("6-Dec", "12-Jun", "2026-06-12")), NO_MEANING),
            ("other run", f"{whole}/10", NO_MEANING),
            ("degrees", f"{whole + 20}°", NO_MEANING),
        ]
    if sort == "money":
        slips += [("euro", f"{plain} €", NO_MEANING), ("cents", f"{whole}¢", NO_MEANING)]
    if sort == "whole":
        slips += [("a part", f"{whole} 1/2", NO_MEANING), ("none of it", "0", NO_MEANING)]
        slips += [("times", f"{whole}x", NO_MEANING)]
    return random.choice(slips)


def bare_of(sort: str, number: int) -> Fraction:
    return Fraction(number * (12 if sort == "feet" else 1))


def in_digits_from(nought: int, number: int) -> str:
    return str(number).translate({ord("0") + digit: nought + digit for digit in range(10)})


def decimals(value: Fraction, decimal: str) -> str | None:
    """With up to four decimals, None where it has more."""
    scaled = value * 10_000
    if scaled.denominator != 1:
        return None
    text = f"{int(scaled):05d}"
    behind = text[-4:].rstrip("0")
    return f"{text[:-4]}{decimal}{behind}" if behind else text[:-4]


def fraction(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def grouped(value: Fraction, decimal: str, places: int) -> str:
    text = f"{round(value * 10**places):0{places + 1}d}"
    before, behind = (text[:-places], text[-places:]) if places else (text, "")
    if Fraction(int(text), 10**places) != value:
        return decimals(value, decimal) or fraction(value)
    comma = "," if decimal == "." else "."
    thousands = f"{int(before):,}".replace(",", comma)
    return f"{thousands}{decimal}{behind}" if places else thousands


def feet_and_inches(value: Fraction) -> str:
    feet, rest = divmod(value, 12)
    if not rest:
        return f"{feet}'"
    return f"{feet}' {fraction(rest)}\"" if feet else f'{fraction(rest)}"'
