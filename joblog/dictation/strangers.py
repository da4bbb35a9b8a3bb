"""Things that nobody's catalog holds become items by their own words.

So that "two panels of siding" are never two of what was spoken of before, and "eight joist
hangers" never gutter hangers. A profile said alone is the variant that has it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import cast

from joblog.dictation.grammar import FRAC, ITEM, MIX, NUM, NUMBERS, SPOT, Atom, chars_of
from joblog.dictation.items import Lines, Said, lines_by_name, lines_of_profile, meant
from joblog.model import Item, Vocabulary


def with_strangers(atoms: list[Atom], vocabulary: Vocabulary) -> list[Atom]:
    """The atoms with every counted thing as an item, also where no table knows its words."""
    found: list[Atom] = []
    at = 0
    for match in _strange().finditer("".join([atom.char for atom in atoms])):
        name = cast(str, match.lastgroup)
        start = match.start(name)
        end = _end_of_name(atoms, start, match.end(name))
        words = " ".join(atom.words for atom in atoms[start:end])
        if name == "penny":
            nails = _nails(vocabulary)
            if nails is not None:
                found += [*atoms[at:end], nails]
                at = end
            continue
        item = _stranger(words)
        if name in _ONLY_MANY and not _are_many(atoms[start:end]):
            continue
        if name == "counted" and atoms[match.start()].words in _TAKES_TIME:
            continue  # "Took three tries".
        if name == "profile_first" and not atoms[match.end()].pause:
            continue
        if name.startswith("profile"):
            known = _of_profile(vocabulary, atoms[start].words)
            if known is None:
                continue
            item = replace(known, words=words)
        found += [*atoms[at:start], replace(item, pause=atoms[start].pause)]
        at = end
    return [*found, *atoms[at:]] if found else atoms


@cache
def _strange() -> re.Pattern[str]:
    any_number = f"[{NUM}{MIX}{FRAC}]"
    # The shape ATTRIBUTE in short: here only its end counts, and it stands in many places.
    told = (
        f"(?:{any_number}[{chars_of('BY')}]{any_number}|{any_number}?[{chars_of(*_MEASURED)}]"
        f"|[{chars_of('AND')}]?[{FRAC}{MIX}]|[{chars_of(*_TELLING)}])"
    )
    beside = f"(?:{told}|[{chars_of('COLOR', 'STATE', 'ARTICLE')}])*+"
    piece = f"(?![{chars_of('FOOT', 'INCH')}])[{chars_of('UNIT')}]"
    of, that = f"[{chars_of('OF')}]", f"[{chars_of('THAT')}]"
    other = f"(?![{chars_of(*_NO_WORD)}])[{chars_of('OTHER')}]"
    goods = f"[{chars_of('GOODS')}]"
    first = f"[^{ITEM}{SPOT}{''.join(sorted(NUMBERS))}{chars_of(*_NO_NOUN)}]"
    done = f"[{chars_of('USED', 'DELIVER', 'RETURN', 'SPOIL', 'NEED')}]"
    profile, colour = f"[{chars_of('PROFILE')}]", f"[{chars_of('COLOUR')}]*+"
    counted = (
        f"(?:(?:{piece}|{FRAC}){of}|{NUM}(?:{of}{that}?)?)(?:(?!{profile})(?:{told}|{that}))*+"
    )
    return re.compile(
        f"{piece}{of}(?P<penny>{NUM}[{chars_of('PENNY')}])(?!{beside}{ITEM})"
        f"|(?P<profile_panel>{profile}{colour}[{chars_of('PANEL')}])(?!{beside}{ITEM})"
        f"|{counted}(?P<profile>{profile}[{chars_of('PANEL')}]?)(?!{beside}(?:{piece}{of}?)?{ITEM})(?!{NUM}|{of})"
        f"|{NUM}{piece}(?P<profile_late>{profile})(?!{beside}(?:{piece}{of}?)?{ITEM})"
        f"|(?P<profile_first>{profile})(?={NUM})"
        f"|{piece}{of}{beside}(?P<of>{goods}|{first}(?:{other}){{0,2}}{ITEM}?)"
        f"|{done}{NUM}{beside}(?!{goods})(?P<counted>(?:{other}){{1,3}})(?!{ITEM})"
        f"|{NUM}{beside}(?P<before>(?:{other}){{1,2}}{ITEM})"
        f"|{NUM}(?P<behind>{ITEM}(?!{goods}){other})"
        f"|(?P<goods>{goods})"
    )


_MEASURED = ("INCH", "FOOT", "FOOTER", "PENNY", "GAUGE")
_TELLING = ("PROFILE", "MATERIAL", "SHADE", "COLOUR", "COLORED", "FIVEQUARTER")
_NO_WORD = (
    "MATERIAL",
    "PENNY",
    "GAUGE",
    "FOOTER",
    "COLORED",
    "COLOUR",
    "PROFILE",
    "SHADE",
    "FIVEQUARTER",
)
"""Words of no fact that tell an item from another: no part of the name of a thing."""
_NO_NOUN = (
    "FILLER", "AND", "ARTICLE", "COLOR", "STATE", "UNIT", "IN", "BESIDE", "BETWEEN", "SIDE", "EACH",
    "MEN", "HOURWORD", "MINUTE", "TAKEBACK", "EDITING", "WAS", "OR", "INCH",
    "FOOT", "USED", "DELIVER", "RETURN", "LEFTOVER", "MONEY", "NAMEDNUMBER", "METRIC", "DOZEN",
    "CUT",
)  # fmt: skip
"""What the name of a thing does not begin with."""
_ONLY_MANY = ("counted", "before", "behind")
"""Where only the plural tells that a thing is counted: "used two out back" is no thing."""


_TAKES_TIME = frozenset("took take takes ran run set lost need needs got made".split())
"""Verbs that are said as well of what is no material."""


_PROFILES = {
    **dict.fromkeys(("dutch lap", "clapboard", "double four", "double five"), "siding"),
    **dict.fromkeys(("double 4", "double 5", "board and batten"), "siding"),
    **dict.fromkeys(("triple three", "triple four"), "soffit"),
    **dict.fromkeys(("k style", "ogee", "half round"), "gutter"),
}
"""What else comes in a profile that is said alone."""


def _end_of_name(atoms: Sequence[Atom], start: int, end: int) -> int:
    """Where the name ends at the latest: before a pause, and before what is done with it."""
    for at in range(start + 1, end):
        words = atoms[at].words
        if atoms[at].pause or (words.endswith(("ing", "ed")) and words not in _NAMES_IN_ING):
            return at
    return end


_NAMES_IN_ING = frozenset("siding molding moulding flashing roofing decking casing railing".split())


def _are_many(atoms: Sequence[Atom]) -> bool:
    """True for a plural that is a name; a name of the catalog by itself is no stranger."""
    words = atoms[-1].words
    known = len(atoms) == 1 and atoms[0].char == ITEM
    return not known and words.endswith("s") and not words.endswith("ss")


def _nails(vocabulary: Vocabulary) -> Atom | None:
    """What "two pounds of ten penny" are of."""
    names = lines_by_name(vocabulary)
    lines = names.get("common nails") or names.get("nails")
    if lines is None:
        return None
    item, why = meant(lines, Said())
    return Atom(ITEM, "", item, said=Said(why=why, lines=lines))


def _stranger(words: str) -> Atom:
    item = Item(words, "each")
    return Atom(ITEM, words, item, said=Said(lines=Lines(words, (item,))))


def _of_profile(vocabulary: Vocabulary, profile: str) -> Atom | None:
    """The variant of that profile; "center vented" is a kind of vented."""
    lines = lines_of_profile(vocabulary).get(profile.split()[-1])
    lines = lines or lines_by_name(vocabulary).get(_PROFILES.get(profile, ""))
    if lines is None:
        return None
    item, why = meant(lines, Said(profile=profile))
    return Atom(ITEM, profile, item, said=Said(profile=profile, why=why, lines=lines))
