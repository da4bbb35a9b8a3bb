"""Sizes, lengths, profiles and colours beside an item's name become part of the item.

"Four ten foot sticks of white J" are four sticks of one item. What tells it from others of its
name is taken out of the words before any sentence is looked for, so that no pattern has to know of
it, and a size is taken neither for a count nor for a measure. What nobody's catalog holds becomes
an item by its own words here, so that it is never taken for a neighbour.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from typing import cast

from joblog.dictation.grammar import (
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    SPOT,
    Atom,
    chars_of,
    has_any,
    is_a,
    number_atom,
    shape,
)
from joblog.dictation.items import Lines, Said, meant, together
from joblog.dictation.numbers import NUMBER_WORDS, Number, number_at
from joblog.model import Item
from joblog.quantity import tape


def with_attributes(atoms: list[Atom]) -> list[Atom]:
    """The atoms with every item holding what was said of it beside its name."""
    look = _look()
    text = "".join(atom.char for atom in atoms)
    if look.strange.search(text):
        atoms = _with_strangers(atoms, text)
        text = "".join(atom.char for atom in atoms)
    if ITEM not in text or not look.telling.search(text):
        return atoms
    return _Folding(atoms, text).folded()


@dataclass(frozen=True, slots=True)
class _Look:
    """What is looked for among the characters of the atoms."""

    telling: re.Pattern[str]
    """Anything that tells an item from another."""
    run: re.Pattern[str]
    """An item with all before it that may tell it from another."""
    attribute: re.Pattern[str]
    behind: re.Pattern[str]
    strange: re.Pattern[str]
    """What no catalog knows, as it stands beside a count."""


@cache
def _look() -> _Look:
    attribute = shape("ATTRIBUTE").pattern
    told = re.sub(r"\?P<\w+>", "?:", attribute)
    beside = f"[{chars_of('COLOR', 'STATE', 'ARTICLE')}]"
    piece = f"(?![{chars_of('FOOT', 'INCH')}])[{chars_of('UNIT')}]"
    of = f"[{chars_of('OF')}]"
    first = f"[^{ITEM}{SPOT}{''.join(NUMBERS)}{chars_of(*_NO_NOUN)}]"
    noun = f"[{chars_of('OTHER', 'GOODS')}]"
    skipped = f"(?:{told}|{beside})*+"
    done = f"[{chars_of('USED', 'DELIVER', 'RETURN', 'SPOIL', 'NEED')}]"
    return _Look(
        re.compile(f"{told}|{ITEM}{beside}?{ITEM}"),
        re.compile(f"{skipped}(?:{piece}{of}?)?{skipped}{ITEM}"),
        re.compile(attribute),
        re.compile(f"[{chars_of('WITHIN')}]?[{chars_of('THAT')}]?(?P<told>{told})"),
        re.compile(
            f"{piece}{of}{skipped}(?P<of>{first}{noun}{{0,2}}{ITEM}?)"
            f"|{done}{NUM}{skipped}(?P<counted>[{chars_of('OTHER')}]{{1,3}})"
            f"|(?P<goods>[{chars_of('GOODS')}])"
        ),
    )


_NO_NOUN = (
    "FILLER", "AND", "ARTICLE", "COLOR", "STATE", "UNIT", "IN", "BESIDE", "BETWEEN", "SIDE", "EACH",
    "MEN", "HOURWORD", "MINUTE", "TAKEBACK", "WAS", "OR",
)  # fmt: skip
"""What the name of a thing does not begin with."""


# --- what no catalog knows --------------------------------------------------------------------


def _with_strangers(atoms: Sequence[Atom], text: str) -> list[Atom]:
    """The atoms with things that nobody's catalog holds as items of their own."""
    found: list[Atom] = []
    at = 0
    for match in _look().strange.finditer(text):
        name = cast(str, match.lastgroup)
        start = match.start(name)
        end = _end_of_name(atoms, start, match.end(name))
        if name == "counted" and not atoms[end - 1].words.endswith("s"):
            continue  # "Used two out back": only things come in numbers.
        words = " ".join(atom.words for atom in atoms[start:end])
        found += atoms[at:start]
        found.append(_stranger(words, atoms[start].pause))
        at = end
    return [*found, *atoms[at:]]


def _end_of_name(atoms: Sequence[Atom], start: int, end: int) -> int:
    """Where the name ends at the latest: before a pause, and before what is done with it."""
    for at in range(start + 1, end):
        words = atoms[at].words
        if atoms[at].pause or (words.endswith(("ing", "ed")) and words not in _NAMES_IN_ING):
            return at
    return end


_NAMES_IN_ING = frozenset("siding molding moulding flashing roofing decking casing railing".split())


def _stranger(words: str, pause: bool) -> Atom:
    item = Item(words, "each")
    return Atom(ITEM, words, item, pause, Said(lines=Lines(words, (item,))))


# --- what stands beside a name ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Told:
    """One attribute among the atoms, from `start` to `end`."""

    start: int
    end: int
    kind: str
    """As the pattern names it."""
    said: Said
    led: bool
    """A count, a unit or "of" stands before it."""
    before_unit: bool = False


@dataclass
class _Folding:
    atoms: Sequence[Atom]
    text: str
    dropped: set[int] = field(default_factory=set)
    counts: dict[int, Atom] = field(default_factory=dict)
    """Counts that stood in one number with a size, by where that number stood."""
    items: dict[int, Atom] = field(default_factory=dict)

    def folded(self) -> list[Atom]:
        for run in _look().run.finditer(self.text):
            self._take(run.start(), run.end() - 1)
        kept: list[Atom] = []
        pause = False
        for at, atom in enumerate(self.atoms):
            if at in self.counts:
                kept.append(replace(self.counts[at], pause=pause or atom.pause))
                pause = False
            elif at in self.dropped:
                pause = pause or atom.pause
                continue
            atom = self.items.get(at, atom)
            kept.append(replace(atom, pause=True) if pause and not atom.pause else atom)
            pause = False
        return kept

    def _take(self, start: int, at: int) -> None:
        """Gives the item at `at` what is told before it, from `start` on, and behind it."""
        atom = self.atoms[at]
        assert atom.said is not None and atom.said.lines is not None
        lines = atom.said.lines
        taken = [told for told in self._before(start, at) if self._belongs(told, lines)]
        taken += list(self._behind(at, lines, bool(taken)))
        if not taken:
            return
        whys = []
        said = Said()
        for told in taken:
            told, why = self._without_count(told, lines)
            self.dropped.update(range(told.start, told.end))
            said = together(said, told.said)
            whys += [why] if why else []
        item, why = meant(lines, said)
        whys += [why] if why else []
        words = " ".join(
            [
                *(self._words(told) for told in taken if told.end <= at),
                atom.words,
                *(self._words(told) for told in taken if told.start > at),
            ]
        )
        said = replace(said, lines=lines, why="; ".join(whys) or None)
        self.items[at] = Atom(ITEM, words, item, atom.pause, said)

    def _words(self, told: _Told) -> str:
        return " ".join(atom.words for atom in self.atoms[told.start : told.end])

    def _before(self, start: int, item: int) -> Iterator[_Told]:
        before = self.atoms[start - 1] if start else None
        led = before is not None and _counts(before)
        if before is not None and _is_lumber(before) and not self.atoms[start].pause:
            size = cast(Item, before.value).size
            yield _Told(start - 1, start, "cross", Said(size=size), True)
        found: list[_Told] = []
        at = start
        while at < item:
            match = _look().attribute.match(self.text, at, item)
            if match is not None:
                kind = cast(str, match.lastgroup).partition("__")[0]
                said = _SAID[kind](self.atoms[at : match.end()])
                found.append(_Told(at, match.end(), kind, said, led))
                at = match.end()
                continue
            if is_a(self.atoms[at], "UNIT"):
                found = [replace(told, before_unit=True) for told in found]
            led = led or not is_a(self.atoms[at], "STATE")
            at += 1
        yield from found

    def _belongs(self, told: _Told, lines: Lines) -> bool:
        """True where the words are of the item and not an amount or a measure beside it."""
        if told.kind not in _UNSURE or _is_known(told.said, lines):
            return True
        if told.kind == "cross":
            return told.led or told.said.size in _LUMBER
        if told.kind == "bare" and told.before_unit:
            return False  # "Half a sheet of plywood".
        if told.kind != "foot" and lines.items[0].unit in _BY_WEIGHT:
            return True
        if any(atom.words.startswith(_CUTTING) for atom in self.atoms[: told.start]):
            return False
        return told.led or told.before_unit or self._counted_in(told) is not None

    def _without_count(self, told: _Told, lines: Lines) -> tuple[_Told, str | None]:
        """ "Six five inch elbows" may be written "six five", which is one number by itself."""
        parts = None if told.led or _is_known(told.said, lines) else self._counted_in(told)
        if parts is None:
            return told, None
        count, rest = parts
        self.counts[told.start] = count
        said = _SAID[told.kind]([rest, *self.atoms[told.start + 1 : told.end]])
        sure = said.size in _LUMBER or _is_known(said, lines) or rest.char == "bare"
        one = self.atoms[told.start].words
        why = None if sure else f"{count.words} of {_shown(said)}, or {one} in one?"
        return replace(told, said=said), why

    def _counted_in(self, told: _Told) -> tuple[Atom, Atom] | None:
        """A number as a count and the first number of a size, where it can be both."""
        atom = self.atoms[told.start]
        words = atom.words.split()
        if told.kind not in _UNSURE or atom.char not in (NUM, MIX) or len(words) < 2:
            return None
        for split in range(1, len(words)):
            count, size = number_at(words[:split], 0), number_at(words[split:], 0)
            if count is None or size is None or count[0].whole is None or count[0].fraction:
                continue
            if (count[1], size[1]) == (split, len(words) - split):
                return number_atom(words[:split], count[0]), number_atom(words[split:], size[0])
        return None

    def _behind(self, at: int, lines: Lines, taken: bool) -> Iterator[_Told]:
        """ "Fascia, one by eight"; "J in white": only what cannot be a fact of its own."""
        after = at + 1
        if after < len(self.atoms) and _is_lumber(self.atoms[after]):
            said = Said(size=cast(Item, self.atoms[after].value).size)
            if not taken and _is_known(said, lines) and self._ends(after + 1):
                yield _Told(after, after + 1, "cross", said, True)
            return
        match = _look().behind.match(self.text, after)
        if match is None or not self._ends(match.end()):
            return
        start = match.start("told")
        found = cast(re.Match[str], _look().attribute.match(self.text, start, match.end()))
        kind = cast(str, found.lastgroup).partition("__")[0]
        said = _SAID[kind](self.atoms[start : found.end()])
        if kind not in _UNSURE or (not taken and _is_known(said, lines)):
            yield _Told(after, found.end(), kind, said, True)

    def _ends(self, at: int) -> bool:
        """True where what was told is not of something that is named behind it."""
        if at >= len(self.atoms) or self.atoms[at].pause:
            return True
        after = self.atoms[at]
        return after.char != ITEM and not has_any((after,), "OTHER", "UNIT", "PART", "SIDE", "BY")


def _counts(atom: Atom) -> bool:
    return atom.char == NUM or has_any((atom,), *_COUNTING)


_COUNTING = ("UNIT", "ONE", "COUPLE", "DOZEN", "BOTHOF", "ONEMORE", "LASTOF", "VAGUE", "OF")
_UNSURE = ("cross", "foot", "inch", "bare", "penny")
"""Kinds of attributes whose numbers may count or measure something instead."""
_BY_WEIGHT = ("lb", "box")
_CUTTING = ("cut", "rip", "chop", "saw")


def _is_known(said: Said, lines: Lines) -> bool:
    """True where a line of the catalog has that size or comes in that length."""
    if said.length is not None:
        return False
    return said.size is not None and any(item.size == said.size for item in lines.items)


def _is_lumber(atom: Atom) -> bool:
    """True for an item that is called by its size alone: "one by eight"."""
    if atom.char != ITEM or not cast(Item, atom.value).size:
        return False
    words = atom.words.split()
    return all(word[0].isdecimal() or word.rstrip("s") in _SIZED for word in words)


_SIZED = NUMBER_WORDS | {"by", "sixe"}
_LUMBER = frozenset(
    f"{thick}x{wide}" for thick in ("1", "2", "4", "6", "5/4") for wide in (2, 3, 4, 6, 8, 10, 12)
)


def _shown(said: Said) -> str:
    return said.size or (f"{tape(said.length)} in" if said.length is not None else "")


# --- what each kind of words says -------------------------------------------------------------


def _numbers(atoms: Sequence[Atom]) -> list[Fraction]:
    return [
        Fraction(5, 4) if is_a(atom, "FIVEQUARTER") else cast(Number, atom.value).value
        for atom in atoms
        if atom.char in NUMBERS or is_a(atom, "FIVEQUARTER")
    ]


def _crossed(atoms: Sequence[Atom]) -> Said:
    thick, wide, *long = _numbers(atoms)
    first = "5/4" if thick == Fraction(5, 4) else tape(thick)
    return Said(size=f"{first}x{tape(wide)}", length=long[0] * 12 if long else None)


def _inches(atoms: Sequence[Atom]) -> Said:
    numbers = _numbers(atoms)
    one = not numbers or atoms[0].char not in NUMBERS
    return Said(size=f"{tape(sum(numbers, Fraction(one)))} in")


_SAID: dict[str, Callable[[Sequence[Atom]], Said]] = {
    "cross": _crossed,
    "penny": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])}d"),
    "gauge": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} ga"),
    "number": lambda atoms: Said(size=f"#{tape(_numbers(atoms)[0])}"),
    "foot": lambda atoms: Said(length=_numbers(atoms)[0] * 12),
    "inch": _inches,
    "five": lambda atoms: Said(size="5/4"),
    "bare": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} in"),
    "profile": lambda atoms: Said(profile=atoms[0].words),
    "colour": lambda atoms: Said(colour=atoms[0].words),
}
"""By the name that the pattern gives the words."""
