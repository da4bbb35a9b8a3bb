"""Numbers, lengths, money and days as a strict reader takes them: what it does not know it refuses.

Written from what is said about tables, and sharing no code with the program.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from datetime import date
from fractions import Fraction


class RefusedError(Exception):
    """A cell or a table that cannot be read for sure."""


PLAIN_SPACES = dict.fromkeys(map(ord, "\u00a0\u2009\u202f\u2007\t\n\r"), " ")
QUOTES = str.maketrans({"\u2032": "'", "\u2019": "'", "\u2018": "'", "\u2033": '"', "\u201d": '"',
                        "\u201c": '"', "\u2044": "/", "\u2212": "-"})  # fmt: skip


def plain(text: str) -> str:
    """One space for all kinds and runs of it, primes for curly quotes, fractions in ASCII."""
    text = text.translate(PLAIN_SPACES).translate(QUOTES)
    out = []
    for sign in text:
        if unicodedata.category(sign) == "No" and "\u2044" in unicodedata.normalize("NFKC", sign):
            above, below = unicodedata.normalize("NFKC", sign).split("\u2044")
            if not below:
                raise RefusedError(f"half a fraction in {text!r}")
            if out and out[-1] == "/":
                raise RefusedError(f"two fractions in {text!r}")
            out.append(f" {above}/{below} ")
        else:
            out.append(sign)
    return " ".join("".join(out).split())


def number(text: str, decimal: str = ".") -> Fraction:
    """An unsigned number: 3, 0.625, 1,200.5, 7/8, 11 7/8, 11-7/8."""
    text = re.sub(r"(?<=\d) ?/ ?(?=\d)", "/", plain(text))
    if found := re.fullmatch(r"(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)", text):
        whole, above, below = (int(part or 0) for part in found.groups())
        if below == 0 or (found[1] and above >= below):
            raise RefusedError(f"no fraction: {text!r}")
        return whole + Fraction(above, below)
    mark, comma = re.escape(decimal), re.escape("," if decimal == "." else ".")
    grouped = rf"[0-9]{{1,3}}(?:{comma}[0-9]{{3}})+"
    if not re.fullmatch(rf"(?:{grouped}|[0-9]+)(?:{mark}[0-9]+)?|{mark}[0-9]+", text):
        raise RefusedError(f"no number: {text!r}")
    digits = text.replace("," if decimal == "." else ".", "").replace(decimal, ".")
    if len(digits) > 15:
        raise RefusedError("beyond reason")
    return Fraction("0" + digits)


def degrees(text: str, decimal: str = ".") -> Fraction:
    """A temperature, which may be below zero."""
    text = plain(text)
    below = text.startswith("-")
    return (-1 if below else 1) * number(text[1:] if below else text, decimal)


def inches(text: str, decimal: str = ".", bare: int = 1) -> Fraction:
    """A length in inches; a bare number is so many inches each."""
    text = plain(text).lower()
    feet = re.fullmatch(r"(.+?) ?(?:'(?!')|ft\.?(?= |-|$|\d)|feet\b|foot\b)[ -]*(.*)", text)
    if feet:
        rest = feet[2]
        if rest and not re.fullmatch(r".+?(?:\"|''|in\.?|inch|inches)?", rest):
            raise RefusedError(text)
        small = number(_without_inches(rest), decimal) if rest else Fraction(0)
        if small >= 12:
            raise RefusedError(f"more than 12 in beside the feet: {text!r}")
        return 12 * number(feet[1], decimal) + small
    without = _without_inches(text)
    return number(without, decimal) * (bare if without == text else 1)


def _without_inches(text: str) -> str:
    return re.sub(r" ?(?:\"|''|inches|inch|in\.?)$", "", text)


def money(text: str, decimal: str = ".") -> Fraction:
    """Dollars: 13.50, $1,250, .5."""
    text = plain(text)
    text = text[1:] if text.startswith("$") else text
    if "/" in text or " " in text:
        raise RefusedError(f"no money: {text!r}")
    return number(text[:-1] if re.fullmatch(r"[0-9]+[.]", text) else text, decimal)


def whole(text: str, decimal: str = ".") -> Fraction:
    """How many of something, 1 or more."""
    found = number(text, decimal)
    if found.denominator != 1 or found < 1 or "/" in text:
        raise RefusedError(f"no whole number: {text!r}")
    return found


def pitch(text: str, decimal: str = ".") -> Fraction:
    """Rise over 12: 6, 6/12, 6 in 12."""
    text = plain(text).lower()
    if found := re.fullmatch(r"(.+?) ?(?:/|:|in|on) ?12", text):
        rise = number(found[1], decimal)
    else:
        rise = number(text, decimal)
        if rise < 1:
            raise RefusedError(f"a pitch below one: {text!r}")
    if not 0 < rise <= 24:
        raise RefusedError(f"no pitch: {text!r}")
    return rise


def day(text: str, decimal: str = ".") -> date:
    """2026-10-05, or 10/5/2026 with the month first."""
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            return date.fromisoformat(text)
        if found := re.fullmatch(r"([0-9]{1,2})/([0-9]{1,2})/([0-9]{4})", text):
            return date(int(found[3]), int(found[1]), int(found[2]))
    except ValueError:
        pass
    raise RefusedError(f"no day: {text!r}")


def told(cells: Iterable[str]) -> set[str]:
    """The decimal signs that cells with numbers show: none, one, or both where they clash."""
    runs = (run for cell in cells for run in re.findall(r"[0-9.,]*[0-9][0-9.,]*", _plain(cell)))
    return {sign for run in runs if (sign := _told_by(run))}


def _told_by(run: str) -> str:
    """The sign that parts its decimals, "" where it has none or may be read both ways."""
    run = run.rstrip(".,")
    commas, points = run.count(","), run.count(".")
    if commas and points:
        return "." if run.rindex(".") > run.rindex(",") else ","
    if commas + points == 1 and not _EITHER_WAY.fullmatch(run):
        return "," if commas else "."
    if commas + points > 1:
        return "." if commas else ","
    return ""


_EITHER_WAY = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")


def open_to_doubt(cells: Iterable[str]) -> bool:
    """Whether some cell reads differently by the sign: 1,200 or 1.200."""
    return any(
        _EITHER_WAY.fullmatch(run)
        for cell in cells
        for run in re.findall(r"[0-9.,]+", _plain(cell))
    )


def _plain(cell: str) -> str:
    try:
        return plain(cell)
    except RefusedError:
        return ""
