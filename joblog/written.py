"""Numbers and lengths as people write them: the one grammar of tables, options and screens.

What is read means one thing. What may mean two is refused, with the question that settles it; so
are digits of other scripts, which nobody here can check. `decimal` is the sign that parts decimals,
"." or ","; the other one parts thousands, three figures each, and nothing else.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import cache

MOST = 10**12
"""Beyond any amount, length or price of a job; with it all sums stay within Decimal's 28 digits."""
LONGEST = 40
"""Characters. What is longer was not measured on a house."""


def number_written(text: str, *, decimal: str = ".") -> Fraction:
    """A number: "3", "-0.625", "95/8", "11 7/8", "11⅞", "1,200". Raises ValueError, in words."""
    cleaned = plainly(text)
    found = _number_alone(decimal).fullmatch(cleaned)
    if found is None:
        fits = _number_alone(decimal).fullmatch
        raise ValueError(refusal(text, "a number", decimal, fits))
    if len(cleaned) > LONGEST:
        raise ValueError(f"{shown(text)} is a number beyond reason")
    number = _value(found, "", text, "a number", decimal)
    if number > MOST:
        raise ValueError(f"{shown(text)} is a number beyond reason")
    return -number if cleaned.startswith("-") else number


def length_written(text: str, *, decimal: str = ".") -> tuple[Fraction, str]:
    """A length and its unit: "ft", "in", which it is of feet and inches together, or "" where none
    was written: 12' 4 1/2", 147-3/8, 14.625, 5 ft 3 in. Raises ValueError, in words."""
    cleaned = plainly(text)
    found = _length(decimal).fullmatch(cleaned)
    if found is None or not is_length(text, decimal=decimal):
        raise ValueError(refusal(text, "a length", decimal, _length(decimal).fullmatch))
    parts = {
        prefix: _value(found, prefix, text, "a length", decimal)
        for prefix in ("f_", "i_")
        if found[f"{prefix}any"]
    }
    for prefix in parts:
        _no_lost_blank(found[f"{prefix}ratio"], parts[prefix], text)
    number = parts.get("i_", Fraction(0))
    if "f_" not in parts:
        unit = "in" if found["inch"] else ""
    elif "i_" not in parts:
        number, unit = parts["f_"], "ft"
    else:
        _check_beside(found, parts, text)
        number, unit = 12 * parts["f_"] + number, "in"
    if number > MOST:
        raise ValueError(f"{shown(text)} is a length beyond reason")
    return (-number if cleaned.startswith("-") else number), unit


def is_length(text: str, *, decimal: str = ".") -> bool:
    """Whether it is written like a length, whatever is wrong with its numbers."""
    found = _length(decimal).fullmatch(plainly(text))
    return bool(found and len(text) <= LONGEST and (found["f_any"] or found["i_any"]))


def digits_written(text: str, *, decimal: str = ".") -> str | None:
    """A number without fraction bars as Python writes it, "-1250.5" for "-1,250.5"; else None."""
    found = _digits(decimal).fullmatch(plainly(text))
    if found is None:
        return None
    return found["sign"] + _as_python(found["figures"], decimal)


def decimal_sign(cells: Iterable[str]) -> str | None:
    """The sign that parts decimals in these cells of one table: "." or ","; None where nobody can
    tell ("1,200" alone may be twelve hundred or one and a fifth).

    Raises ValueError, in words, where one cell has it so and another the other way round.
    """
    first: dict[str, str] = {}
    for cell in cells:
        for sign in _signs(cell):
            first.setdefault(sign, cell)
    if len(first) == 2:
        comma, point = shown(first[","].strip()), shown(first["."].strip())
        raise ValueError(
            f"{comma} has a decimal comma and {point} a decimal point; write them all one way"
        )
    return next(iter(first), None)


def either_way(cells: Iterable[str]) -> str | None:
    """The first cell that is one number with decimal points and another with decimal commas, such
    as "1,200"; None where all mean the same either way, or cannot be read one of the ways."""
    for cell in cells:
        if any(_TWO_WAYS.fullmatch(figures) for figures in _figures(cell)):
            return cell
    return None


def plainly(text: str) -> str:
    """The text with plain blanks, one at a time, and plain signs for feet, inches, minus and slash.

    Fractions of one sign stay as they are.
    """
    plain = (text if text.isascii() and "\t" not in text else text.translate(_PLAIN)).strip(_UNSEEN)
    plain = _BLANKS.sub(" ", plain) if "  " in plain else plain
    # Within a number it takes something away: "8−¾" is no 8 3/4.
    return f"-{plain[1:]}" if plain.startswith("\N{MINUS SIGN}") else plain


def spelled_out(text: str) -> str:
    """The text in plain signs, with every fraction of one sign spelled out: "11⅞" as "11 7/8"."""
    return _BLANKS.sub(" ", _ONE_SIGN.sub(_spelled, plainly(text))).strip()


def shown(text: str) -> str:
    """The text in quotes, as far as its fortieth character."""
    return repr(text) if len(text) <= LONGEST else f"{text[:LONGEST]!r}..."


# --- signs --------------------------------------------------------------------------------------

_PLAIN = str.maketrans(
    {
        **dict.fromkeys(
            "\N{PRIME}\N{REVERSED PRIME}\N{MODIFIER LETTER PRIME}\N{ACUTE ACCENT}"
            "\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}"
            "\N{SINGLE HIGH-REVERSED-9 QUOTATION MARK}",
            "'",
        ),
        **dict.fromkeys(
            "\N{DOUBLE PRIME}\N{REVERSED DOUBLE PRIME}\N{MODIFIER LETTER DOUBLE PRIME}"
            "\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"
            "\N{DOUBLE HIGH-REVERSED-9 QUOTATION MARK}",
            '"',
        ),
        **dict.fromkeys("\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{FIGURE DASH}\N{EN DASH}", "-"),
        **dict.fromkeys("\N{FRACTION SLASH}\N{DIVISION SLASH}", "/"),
        # Every blank of one line. What parts lines parts numbers, and is left alone.
        **dict.fromkeys(
            "\t\N{NO-BREAK SPACE}\N{EN QUAD}\N{EM QUAD}\N{EN SPACE}\N{EM SPACE}"
            "\N{THREE-PER-EM SPACE}\N{FOUR-PER-EM SPACE}\N{SIX-PER-EM SPACE}\N{FIGURE SPACE}"
            "\N{PUNCTUATION SPACE}\N{THIN SPACE}\N{HAIR SPACE}\N{NARROW NO-BREAK SPACE}"
            "\N{MEDIUM MATHEMATICAL SPACE}",
            " ",
        ),
    }
)
_UNSEEN = (
    " \n\r\N{ZERO WIDTH NO-BREAK SPACE}\N{ZERO WIDTH SPACE}\N{WORD JOINER}"
    "\N{LEFT-TO-RIGHT MARK}\N{RIGHT-TO-LEFT MARK}"
)
"""What spreadsheets and pages leave around a number when it is copied."""
_BLANKS = re.compile(r" {2,}")
_VULGAR = {
    sign: f"{numerator}/{denominator}"
    for sign, parts in (
        (chr(point), unicodedata.decomposition(chr(point)))
        for point in (*range(0xBC, 0xBF), *range(0x2150, 0x218C))
    )
    if parts.startswith("<fraction> ")
    for numerator, slash, denominator in [
        "".join(chr(int(part, 16)) for part in parts.split()[1:]).partition("\N{FRACTION SLASH}")
    ]
    if denominator
}
"""Every fraction that is one sign: {"½": "1/2", ...}."""
_RAISED, _LOWERED = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"
_LEVEL = str.maketrans(_RAISED + _LOWERED, "0123456789" * 2)
_SIGN = rf"[{''.join(_VULGAR)}]|[{_RAISED}]+/[{_LOWERED}]+"
_ONE_SIGN = re.compile(_SIGN)


def _spelled(found: re.Match[str]) -> str:
    return f" {_ratio(found[0])} "


def _ratio(written: str) -> str:
    """A fraction with plain digits: "7/8" of "⅞", "⁷/₈" and "7 / 8"."""
    return _VULGAR.get(written, written).translate(_LEVEL).replace(" ", "")


# --- grammar ------------------------------------------------------------------------------------


def _whole(decimal: str) -> str:
    """Figures before the decimals. Blanks part thousands only where commas part decimals: else
    "1 200" may as well be two numbers."""
    groups = r"(?:,[0-9]{3})+" if decimal == "." else r"(?:(?:\.[0-9]{3})+|(?: [0-9]{3})+)"
    return rf"(?:[1-9][0-9]{{0,2}}{groups}|[0-9]+)"


def _number(decimal: str, joint: str, prefix: str = "") -> str:
    """A number without its sign; `joint` is what may part its whole from its fraction."""
    whole, ratio = _whole(decimal), "[0-9]+ ?/ ?[0-9]+"
    # With three figures they may as well be of the thousands before them: "1 200/300".
    beside = rf"(?![0-9]{{3}} ?/){ratio}" if decimal == "," else ratio
    return (
        rf"(?P<{prefix}any>(?P<{prefix}whole>{whole})(?:{joint}(?P<{prefix}beside>{beside})"
        rf"|{joint}?(?P<{prefix}sign>{_SIGN}))"
        rf"|(?P<{prefix}ratio>{ratio})|(?P<{prefix}only>{_SIGN})"
        rf"|(?P<{prefix}figures>{whole}(?:[{decimal}][0-9]+)?|[{decimal}][0-9]+))"
    )


@cache
def _number_alone(decimal: str) -> re.Pattern[str]:
    return re.compile(f"[-+]?{_number(decimal, ' ')}")


@cache
def _digits(decimal: str) -> re.Pattern[str]:
    return re.compile(
        rf"(?P<sign>-?)(?P<figures>{_whole(decimal)}(?:[{decimal}][0-9]*)?|[{decimal}][0-9]+)"
    )


@cache
def _length(decimal: str) -> re.Pattern[str]:
    feet, inches = _number(decimal, "[ -]", "f_"), _number(decimal, "[ -]", "i_")
    inch = r"\"|''|inches|inch|in\.?"
    # "12 ft2" is an area: behind a word inches stand apart, or say that they are inches.
    foot = rf"(?:'|(?:ft\.?+|feet|foot)(?=$|[ -]|.*(?:{inch})$))"
    beside = r"(?: ?- ?(?=[^ ])| ?)"
    return re.compile(
        rf"[-+]?(?:{feet} ?{foot}{beside})?(?:{inches} ?(?P<inch>{inch})?)?",
        re.ASCII | re.IGNORECASE,
    )


def _value(found: re.Match[str], prefix: str, text: str, kind: str, decimal: str) -> Fraction:
    if found[f"{prefix}figures"]:
        return _exact(found[f"{prefix}figures"], decimal)
    fraction = next(
        found[prefix + name] for name in ("beside", "sign", "ratio", "only") if found[prefix + name]
    )
    above, _, below = _ratio(fraction).partition("/")
    if not int(below):
        raise ValueError(f"{shown(text)} divides by zero")
    part = Fraction(int(above), int(below))
    if not found[f"{prefix}whole"]:
        return part
    number = part + _exact(found[f"{prefix}whole"], decimal).numerator
    if part.numerator >= part.denominator:
        raise ValueError(f"{shown(text)} is not {kind}: is it {_mixed(number)}?")
    return number


def _exact(figures: str, decimal: str) -> Fraction:
    return Fraction(int(figures) if figures.isdigit() else _as_python(figures, decimal))


def _as_python(figures: str, decimal: str) -> str:
    group = "," if decimal == "." else "."
    return figures.replace(group, "").replace(" ", "").replace(decimal, ".")


def _no_lost_blank(ratio: str | None, number: Fraction, text: str) -> None:
    """Raises ValueError for "117/8": no tape has it, and it is mostly 11 7/8 without its blank."""
    above, _, below = _ratio(ratio or "").partition("/")
    for at in range(1, len(above)):
        if above[at] != "0" and int(above[at:]) < int(below) and number > 1:
            meant = f"{above[:at]} {above[at:]}/{below}"
            raise ValueError(f"{shown(text)} is not a length: is it {meant}, or {_mixed(number)}?")


def _check_beside(found: re.Match[str], parts: dict[str, Fraction], text: str) -> None:
    """Raises ValueError for inches that cannot stand beside feet."""
    inches = found["i_any"]
    # "1'011" is a thousand of some countries.
    if parts["i_"] >= 12 or re.match("[0-9]{3}", found["i_whole"] or found["i_figures"] or ""):
        raise ValueError(
            f"{shown(text)} is not a length: it has {inches} inches beside its feet; 12 or more "
            "are another foot"
        )
    if parts["f_"].denominator != 1:
        raise ValueError(
            f"{shown(text)} is not a length: it has parts of a foot and inches beside them"
        )


def _mixed(number: Fraction) -> str:
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else f"{part or whole}"


# --- questions ----------------------------------------------------------------------------------


def refusal(text: str, kind: str, decimal: str, fits: Callable[[str], object]) -> str:
    """Why it is no number, length or amount, with what it may have been meant to be: the same with
    the other decimal sign, where that `fits`."""
    why = f"{shown(text)} is not {kind}"
    if any(
        sign.isdigit() and not sign.isascii() and sign not in _RAISED + _LOWERED for sign in text
    ):
        return f"{why}: write it with the digits 0 to 9"
    otherwise = _GAPS.sub("", plainly(text)).translate(_SWAPPED)
    if len(text) > LONGEST or otherwise[-1:] in (",", ".") or not fits(otherwise):
        return why
    other = "." if decimal == "," else ","
    apart = f" A {_NAMED[other]} only parts thousands here" if other in text else ""
    return f"{why}: is it {otherwise}?{apart}"


_NAMED = {".": "point", ",": "comma"}
_SWAPPED = str.maketrans(",.", ".,")
_GAPS = re.compile(r"(?<=[0-9]) (?=[0-9]{3}(?![0-9/]))")

# --- which way a table has it -------------------------------------------------------------------


def _signs(cell: str) -> Iterator[str]:
    """What the numbers of a cell show to be the decimal sign of whoever wrote it."""
    for figures in _figures(cell) if "," in cell or "." in cell else ():
        yield from (sign for shape, sign in _SHAPES if shape.fullmatch(figures))


def _figures(cell: str) -> list[str]:
    return [run.rstrip(".,") for run in _RUNS.findall(plainly(cell))]


_RUNS = re.compile(r"(?<![^\W_])[.,]?[0-9][0-9.,]*")
_TWO_WAYS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_SHAPES = tuple(
    (re.compile(shape.replace("D", rf"\{sign}").replace("T", rf"\{other}")), sign)
    for sign, other in ((".", ","), (",", "."))
    for shape in (
        r"[1-9][0-9]{0,2}(?:T[0-9]{3})+D[0-9]+",  # 1.234,5
        r"[1-9][0-9]{0,2}(?:T[0-9]{3}){2,}",  # 1.234.567
        r"[0-9]*D(?:[0-9]{1,2}|[0-9]{4,})",  # 41,5
        r"(?:0[0-9]*|[0-9]{4,})?D[0-9]{3}",  # 0,125 and 1234,567
    )
)
