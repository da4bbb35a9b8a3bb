"""Sizes, lengths, profiles and colours beside an item's name become part of the item.

"Four ten foot sticks of white J" are four sticks of one item. What tells it from others of its
name is taken out of the words before any sentence is looked for, so that no pattern has to know of
it, and a size is taken neither for a count nor for a measure.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import cast

from joblog.dictation.grammar import (
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    Atom,
    chars_of,
    has_any,
    is_a,
    number_atom,
    shape,
)
from joblog.dictation.items import Lines, Said, meant, together
from joblog.dictation.numbers import NUMBER_WORDS, TENS, Number, number_at
from joblog.model import Item
from joblog.quantity import tape


def with_attributes(atoms: list[Atom]) -> list[Atom]:
    """The atoms with every item holding what was said of it beside its name."""
    text = _text(atoms)
    if ITEM not in text or not _look().telling.search(text):
        return atoms
    atoms = _again(_boards(atoms, text))
    text = _text(atoms)
    told = [*_beside(atoms, text)]
    taken = {at for one in told for at in range(one.start, one.end)}
    told += [one for one in _following(atoms, text, taken) if one.start not in taken]
    return _with_late_counts(_folded(atoms, told)) if told else atoms


def _with_late_counts(atoms: list[Atom]) -> list[Atom]:
    """ "Two by sixes, four, twelve foot": with its length told, a number alone counts it."""
    for at in range(1, len(atoms)):
        item, number = atoms[at - 1], atoms[at]
        told = item.char == ITEM and cast(Said, item.said).length is not None
        alone = at + 1 == len(atoms) or atoms[at + 1].pause
        if told and number.char == NUM and number.pause and alone:
            atoms[at - 1 : at + 1] = [replace(number, pause=item.pause), replace(item, pause=False)]
    return atoms


@dataclass(frozen=True, slots=True)
class _Told:
    """One attribute among the atoms, from `start` to `end`, and the item it belongs to."""

    start: int
    end: int
    item: int
    kind: str
    """As the pattern names it."""
    said: Said
    led: bool = False
    """A count, a unit or "of" stands before it."""
    before_unit: bool = False
    count: Atom | None = None
    """A count that stood in one number with it: "six five inch elbows"."""
    why: str | None = None


def attribute_in(atoms: Sequence[Atom]) -> Said | None:
    """What atoms say of an item that is not named beside them: "solid", "the brown"."""
    match = _look().attribute.fullmatch("".join(atom.char for atom in atoms))
    if match is None:
        return None
    return _SAID[cast(str, match.lastgroup).partition("__")[0]](atoms)


@dataclass(frozen=True, slots=True)
class _Look:
    """What is looked for among the characters of the atoms."""

    telling: re.Pattern[str]
    """Anything that tells an item from another."""
    run: re.Pattern[str]
    """An item with all before it that may tell it from another."""
    attribute: re.Pattern[str]
    lead: re.Pattern[str]
    """What may lead to an attribute behind its item: "in", "the"."""
    shade: re.Pattern[str]
    """A colour with a word of its own: "colonial gray"."""
    counted: re.Pattern[str]
    """An item, and then how many of it."""
    board: re.Pattern[str]
    again: re.Pattern[str]
    """So many of another size of what was named before."""
    boards_ahead: re.Pattern[str]
    ahead: re.Pattern[str]
    """So many of a size, and then of another one whose item is named."""


@cache
def _look() -> _Look:
    attribute = shape("ATTRIBUTE").pattern
    told = re.sub(r"\?P<\w+>", "?:", attribute)
    beside = f"[{chars_of('COLOR', 'STATE', 'ARTICLE')}]"
    piece = f"(?![{chars_of('FOOT', 'INCH')}])[{chars_of('UNIT')}]"
    of = f"[{chars_of('OF')}]"
    they, are, theyre = (shape(word).pattern for word in ("they", "are", "they're"))
    skipped = f"(?:{told}|{beside})*+"
    footers = f"(?<={NUM}[{chars_of('FOOTER')}])"
    board = f"{ITEM}[{chars_of('BY')}](?P<long>{NUM}[{chars_of('FOOT')}]?|[{chars_of('LONGS')}])"
    return _Look(
        re.compile(f"{told}|{ITEM}[^{ITEM}]*+{ITEM}|{board}"),
        re.compile(f"{skipped}(?:{piece}{of}?|{footers}{of})?{skipped}{ITEM}"),
        re.compile(attribute),
        re.compile(
            f"{of}(?={NUM}[{chars_of('FOOT')}])|{they}{are}|{theyre}"
            f"|[{chars_of('WITHIN')}]?[{chars_of('THAT')}]?"
        ),
        re.compile(f"[{chars_of('OTHER')}][{chars_of('COLOUR')}][{chars_of('COLORED')}]?"),
        re.compile(
            f"{ITEM}[^{NUM}{MIX}{FRAC}]{{0,3}}(?:[{NUM}{MIX}{FRAC}][{chars_of('UNIT', 'OFTHEM')}]"
            f"|(?<=[{chars_of(*_DONE)}]){NUM}(?![{chars_of('FOOT', 'INCH', 'BY')}]))"
        ),
        re.compile(board),
        re.compile(
            f"{NUM}{of}[{chars_of('THAT')}]?(?=[{NUM}{MIX}{FRAC}{chars_of('INCH')}]){told}"
            f"(?![{chars_of('UNIT', 'BY')}]|{skipped}{ITEM})"
            f"|[{chars_of('AND')}]{NUM}[{chars_of('COLOUR')}](?![{chars_of(*_OF_ANOTHER)}]|{ITEM})"
            f"|(?:{NUM}|[{chars_of('ONE')}]){piece}{of}[{chars_of('COLOUR')}]"
            f"(?![{chars_of(*_OF_ANOTHER)}]|{ITEM})"
        ),
        re.compile(f"{NUM}{ITEM}(?=(?P<ahead>[{chars_of('AND')}]?{NUM}{ITEM}{ITEM}))"),
        re.compile(
            f"{NUM}(?:{piece}{of}?|{of})?(?![{chars_of('INCH')}]){told}"
            f"(?=[{chars_of('AND')}]?{NUM}(?:{piece}{of}?|{of})?(?:{told})+{ITEM})"
        ),
    )


def _text(atoms: Sequence[Atom]) -> str:
    return "".join([atom.char for atom in atoms])


def _folded(atoms: Sequence[Atom], told: Sequence[_Told]) -> list[Atom]:
    """The atoms with their items as they were told; the words told stand among the item's own."""
    by_item: dict[int, list[_Told]] = {}
    for one in told:
        by_item.setdefault(one.item, []).append(one)
    dropped = {at for one in told for at in range(one.start, one.end)}
    counts = {one.start: one.count for one in told if one.count is not None}
    kept: list[Atom] = []
    pause = False
    for at, atom in enumerate(atoms):
        pause = pause or atom.pause
        if at in counts:
            kept.append(replace(counts[at], pause=pause))
            pause = False
        if at in dropped:
            continue
        if at in by_item:
            atom = _item(atoms, at, by_item[at])
        kept.append(replace(atom, pause=pause) if pause is not atom.pause else atom)
        pause = False
    return kept


def _item(atoms: Sequence[Atom], at: int, told: Sequence[_Told]) -> Atom:
    """The item at `at` with all that was told of it."""
    atom = atoms[at]
    plain = cast(Said, atom.said)
    lines = cast(Lines, plain.lines)
    said = replace(plain, why=None)
    for one in told:
        said = together(said, one.said)
    item, why = meant(lines, said)
    whys = [*(one.why for one in told), why]
    spans = sorted([(one.start, one.end) for one in told] + [(at, at + 1)])
    words = " ".join(one.words for start, end in spans for one in atoms[start:end] if one.words)
    said = replace(said, why="; ".join(filter(None, whys)) or None)
    return Atom(ITEM, words, item, atom.pause, said)


def _boards(atoms: list[Atom], text: str) -> list[Atom]:
    """ "Two by ten by sixteen": a board by its size, sixteen feet long."""
    found: list[Atom] = []
    at = 0
    for match in _look().board.finditer(text):
        start, end = match.span()
        if not _is_lumber(atoms[start]):
            continue
        words = " ".join(atom.words for atom in atoms[start:end])
        last = atoms[match.start("long")]
        feet = _LONGS[last.words] if last.char != NUM else int(_numbers([last])[0])
        said = replace(cast(Said, atoms[start].said), length=Fraction(feet * 12))
        found += [*atoms[at:start], replace(atoms[start], words=words, said=said)]
        at = end
    return [*found, *atoms[at:]] if found else atoms


_LONGS = {
    "eights": 8, "tens": 10, "twelves": 12, "fourteens": 14, "sixteens": 16, "eighteens": 18,
    "twenties": 20,
}  # fmt: skip


def _again(atoms: list[Atom]) -> list[Atom]:
    """ "Five sheets of half inch plywood and four of three quarter": plywood again.

    So too where it is named only behind the last: "six white and four brown elbows".
    """
    text = _text(atoms)
    gaps = [
        (match.end(), text.rfind(ITEM, 0, match.start())) for match in _look().again.finditer(text)
    ]
    for match in _look().ahead.finditer(text):
        end = match.end()
        if is_a(atoms[end], "AND") or atoms[end].pause:
            gaps.append((end, text.find(ITEM, end)))
    for match in _look().boards_ahead.finditer(text):
        end, thing = match.end(), match.end("ahead") - 1
        if _is_lumber(atoms[end - 1]) and _is_known(_size_of(atoms[end - 1]), _lines(atoms[thing])):
            gaps.append((end, thing))
    gaps += _boards_again(atoms, text)
    for end, item in sorted(gaps, reverse=True):
        if item >= 0:
            again = replace(atoms[item], words="", pause=False)
            atoms = [*atoms[:end], again, *atoms[end:]]
    return atoms


def _boards_again(atoms: Sequence[Atom], text: str) -> Iterator[tuple[int, int]]:
    """ "Three one by six fascia, two one by eight": fascia again, where it comes in that size."""
    for match in re.finditer(f"{NUM}{ITEM}(?!{ITEM})", text):
        start, end = match.span()
        item = text.rfind(ITEM, 0, start)
        listed = atoms[start].pause or is_a(atoms[start - 1], "AND")
        if item < 0 or not listed or not _is_lumber(atoms[end - 1]) or _is_lumber(atoms[item]):
            continue
        single = not atoms[end - 1].words.endswith("s")
        sized = _is_lumber(atoms[item - 1]) if item else False
        if single and sized and _is_known(_size_of(atoms[end - 1]), _lines(atoms[item])):
            yield end, item


# --- beside a name ----------------------------------------------------------------------------


def _beside(atoms: Sequence[Atom], text: str) -> Iterator[_Told]:
    """What is told right before and right behind each item."""
    start: int | None = None
    size_at = -1
    for run in _look().run.finditer(text):
        item = run.end() - 1
        start = run.start() if start is None else start
        if item == size_at:
            start = None
            continue
        if _is_lumber(atoms[item]) and _names_go_on(atoms, text, item):
            continue  # "Textured one by eight fascia" is one item.
        lines = _lines(atoms[item])
        before = [
            _without_count(atoms, one, lines)
            for one in _before(atoms, text, start, item)
            if _belongs(atoms, text, one, lines)
        ]
        behind = [*_behind(atoms, text, item, sized=any(one.said.size for one in before))]
        yield from (*before, *behind)
        start, size_at = None, behind[-1].start if behind else -1


def _names_go_on(atoms: Sequence[Atom], text: str, item: int) -> bool:
    """True where the item behind this one is the thing, and this one but its size."""
    run = _look().run.match(text, item + 1)
    return run is not None and not any(atom.pause for atom in atoms[item + 1 : run.end()])


def _lines(atom: Atom) -> Lines:
    return cast(Lines, cast(Said, atom.said).lines)


def _before(atoms: Sequence[Atom], text: str, start: int, item: int) -> list[_Told]:
    found: list[_Told] = []
    led = start > 0 and _counts(atoms[start - 1])
    at = start
    while at <= item:
        if at > start and atoms[at].pause:
            found = [one for one in found if one.kind not in _UNSURE]
            led = False
        match = _look().attribute.match(text, at, item)
        if match is not None:
            kind, said = _kind_and_said(atoms, match)
            found.append(_Told(at, match.end(), item, kind, said, led))
            at = match.end()
            continue
        if at < item and atoms[at].char == ITEM:
            found.append(_Told(at, at + 1, item, "cross", _size_of(atoms[at]), led=True))
        if is_a(atoms[at], "UNIT"):
            found = [replace(one, before_unit=True) for one in found]
        led = led or has_any((atoms[at],), "UNIT", "OF", "ONE", "THAT")
        at += 1
    return found


def _is_money(atoms: Sequence[Atom]) -> bool:
    """True for a decimal without a unit: sizes are said in fractions."""
    first = atoms[0].value
    return len(atoms) == 1 and isinstance(first, Number) and first.decimal


def _kind_and_said(atoms: Sequence[Atom], match: re.Match[str]) -> tuple[str, Said]:
    kind = cast(str, match.lastgroup).partition("__")[0]
    return kind, _SAID[kind](atoms[match.start() : match.end()])


def _belongs(atoms: Sequence[Atom], text: str, told: _Told, lines: Lines) -> bool:
    """True where the words are of the item and not an amount or a measure beside it."""
    if told.kind not in _UNSURE or _is_known(told.said, lines):
        return True
    if told.kind == "cross":
        return told.led or told.said.size in _LUMBER or _is_small(atoms[told.start : told.end])
    if told.kind == "bare" and (told.before_unit or _is_money(atoms[told.start : told.end])):
        return False  # "Half a sheet of plywood".
    if told.kind == "bare" and _is_flat(lines) and told.end == told.item:
        return not any(atom.words.startswith(_CUTTING) for atom in atoms[: told.start])
    if told.kind == "volume":
        return told.before_unit and told.led  # "Two five gallon pails of primer".
    if told.kind == "weight":
        return told.led and lines.items[0].unit not in _BY_WEIGHT  # "Fifteen pound felt".
    if told.kind != "foot" and lines.items[0].unit in _BY_WEIGHT:
        return True
    if any(atom.words.startswith(_CUTTING) for atom in atoms[: told.start]):
        return False
    if told.led or told.before_unit or _count_inside(atoms, told) is not None:
        return True
    if told.kind == "inch" and _beside_a_verb(atoms, told):
        return True
    behind = _look().counted.match(text, told.item)
    if behind is None or told.kind == "bare":
        return False
    # "Five inch gutter, four sticks".
    return any(atom.pause for atom in atoms[told.item + 1 : behind.end()])


def _is_small(atoms: Sequence[Atom]) -> bool:
    """True for a cross section of a few whole inches: "three by four downspout"."""
    numbers = _numbers(atoms)
    plain = all(atom.char == NUM or is_a(atom, "BY") for atom in atoms)
    return plain and len(numbers) == 2 and max(numbers) <= _WIDEST


_WIDEST = 6
"""Inches that a downspout or a post is wide, at most; common practice."""


def _beside_a_verb(atoms: Sequence[Atom], told: _Told) -> bool:
    """ "Used five inch gutter", "five inch gutter went up": so many inches were not used."""
    before = atoms[told.start - 1 : told.start] if told.start else ()
    behind = atoms[told.item + 1 : told.item + 2]
    return has_any(before, *_DONE) or (has_any(behind, *_DONE) and not behind[0].pause)


_DONE = ("LEDBY", "USED", "DELIVER", "RETURN", "SPOIL", "NEED", "PUT", "OUTOF")


def _without_count(atoms: Sequence[Atom], told: _Told, lines: Lines) -> _Told:
    """ "Twenty five inch elbows" may be twenty of five inches: the count is no part of the size."""
    parts = None if told.led or _is_known(told.said, lines) else _count_inside(atoms, told)
    if parts is None:
        return told
    count, rest = parts
    said = _SAID[told.kind]([rest, *atoms[told.start + 1 : told.end]])
    sure = said.size in _LUMBER or _is_known(said, lines) or told.kind == "bare"
    why = f"{count.words} of {_shown(said)}, or {_shown(told.said)}?"
    return replace(told, said=said, count=count, why=None if sure else why)


def _count_inside(atoms: Sequence[Atom], told: _Told) -> tuple[Atom, Atom] | None:
    """A number as a count and the first number of a size, where it can be both."""
    atom = atoms[told.start]
    words = atom.words.split()
    if told.kind not in _UNSURE or atom.char not in (NUM, MIX) or "/" in atom.words:
        return None
    if "and" in words and words[0] in TENS:
        return None  # "Forty one and a half" is one number.
    for split in range(1, len(words)):
        count, size = number_at(words[:split], 0), number_at(words[split:], 0)
        if count is None or size is None or count[0].whole is None or count[0].fraction:
            continue
        if (count[1], size[1]) == (split, len(words) - split):
            return number_atom(words[:split], count[0]), number_atom(words[split:], size[0])
    return None


def _behind(atoms: Sequence[Atom], text: str, item: int, *, sized: bool) -> Iterator[_Told]:
    """ "Fascia, one by eight", "J in white": only what cannot be a fact of its own."""
    after = item + 1
    if after < len(atoms) and _is_lumber(atoms[after]):
        said = _size_of(atoms[after])
        if not sized and _is_known(said, _lines(atoms[item])) and _ends(atoms, after + 1):
            yield _Told(after, after + 1, item, "cross", said)
        return
    lead = cast(re.Match[str], _look().lead.match(text, after))
    match = _look().attribute.match(text, lead.end())
    if (
        match is None
        or not _ends(atoms, match.end())
        or _is_money(atoms[match.start() : match.end()])
    ):
        return
    kind, said = _kind_and_said(atoms, match)
    if kind in _UNSURE and match.end() < len(atoms) and atoms[match.end()].char in NUMBERS:
        return  # "Fascia ten foot six".
    known = not sized and _is_known(said, _lines(atoms[item]))
    of_nails = kind in ("inch", "bare") and _lines(atoms[item]).items[0].unit in _BY_WEIGHT
    known = known or (of_nails and not sized and has_any(atoms[max(0, item - 2) : item], "UNIT"))
    known = known or (not sized and _is_thickness(atoms, item, kind, match))
    end = match.end()
    if end < len(atoms) and (_stands_for_it(atoms[end]) or atoms[end].words == "long"):
        end += kind != "foot" or atoms[end].words == "long"
    if kind not in _UNSURE or known or (kind == "foot" and _is_piece(atoms, item, said)):
        yield _Told(after, end, item, kind, said)


_OF_ANOTHER = ("OTHER", "UNIT", "PART", "SIDE", "BY", "OF", "MONEY", "EACH", "ONE")


def _is_piece(atoms: Sequence[Atom], item: int, said: Said) -> bool:
    """ "Four pieces fascia twelve foot": as it comes, not as it was cut."""
    units = [atom for atom in atoms[max(0, item - 3) : item] if is_a(atom, "UNIT")]
    piece = bool(units) and not has_any(units, "FOOT")
    if item and not units:
        # "Five two by fours ten foot long", "fifteen two by fours of eight feet".
        piece = atoms[item - 1].char == NUM and _is_lumber(atoms[item])
    cut = any(atom.words.startswith(_CUTTING) for atom in atoms[:item])
    long = cast(Fraction, said.length)
    return piece and not cut and _comes_so_long(_lines(atoms[item]), long)


def _is_thickness(atoms: Sequence[Atom], item: int, kind: str, match: re.Match[str]) -> bool:
    """ "Four sheets of plywood three quarter", "three quarter plywood, two sheets": of a sheet."""
    lines = _lines(atoms[item])
    told = atoms[match.start() : match.end()]
    thick = [atom for atom in told if atom.char == FRAC]
    if kind not in ("inch", "bare") or not thick or any(atom.char in (NUM, MIX) for atom in told):
        return False
    cut = any(atom.words.startswith(_CUTTING) for atom in atoms[:item])
    return _is_flat(lines) and not cut and any(one.char == NUM for one in atoms[:item])


def _is_flat(lines: Lines) -> bool:
    """True for what comes in sheets of some thickness, and not in panels of some profile."""
    return lines.items[0].unit == "sheet" and not any(item.profile for item in lines.items)


def _ends(atoms: Sequence[Atom], at: int) -> bool:
    """True where what was told is not of something that is named behind it."""
    if at >= len(atoms) or atoms[at].pause:
        return True
    after = atoms[at]
    return after.char != ITEM and not has_any((after,), *_OF_ANOTHER)


# --- alone behind a pause ---------------------------------------------------------------------


def _following(atoms: Sequence[Atom], text: str, taken: set[int]) -> Iterator[_Told]:
    """ "Two sheets of soffit delivered, white", "four hangers, five inch, on the garage"."""
    item: int | None = None
    alone = False
    at = 0
    while at < len(atoms):
        alone = atoms[at].pause or (alone and at in taken)
        if atoms[at].char == ITEM and at not in taken:
            if item is not None and atoms[at].pause and _is_its_size(atoms, item, at):
                yield _Told(at, at + 1, item, "cross", _size_of(atoms[at]))
            else:
                item, alone = at, True
        elif item is not None and alone and at not in taken:
            found = _alone(atoms, text, at, item)
            if found is not None:
                yield found
                at = found.end
                continue
        at += 1


def _is_its_size(atoms: Sequence[Atom], item: int, at: int) -> bool:
    """ "Four sticks of fascia used on the dormer, one by six"."""
    if not _is_lumber(atoms[at]) or not _ends(atoms, at + 1):
        return False
    return (
        _is_known(_size_of(atoms[at]), _lines(atoms[item]))
        and not cast(Item, atoms[item].value).size
    )


def _alone(atoms: Sequence[Atom], text: str, at: int, item: int) -> _Told | None:
    """The attribute at `at` that is of the item before it, where nothing else goes with it."""
    lead = cast(re.Match[str], _look().lead.match(text, at))
    shade = _look().shade.match(text, lead.end())
    match = shade or _look().attribute.match(text, lead.end())
    if match is None or not atoms[at].pause or is_a(atoms[at], "SKY"):
        return None
    if _is_money(atoms[match.start() : match.end()]):
        return None
    told = match.end()
    end = told + (told < len(atoms) and _stands_for_it(atoms[told]))
    if end < len(atoms) and not atoms[end].pause and not has_any((atoms[end],), *_GOES_ON):
        return None
    if shade is not None:
        said, kind = _coloured(atoms[match.start() : told]), "colour"
    else:
        kind, said = _kind_and_said(atoms, match)
    if kind in _UNSURE and not _fits_behind(atoms, at, item, kind, said):
        return None
    return _Told(at, end, item, kind, said)


def _stands_for_it(atom: Atom) -> bool:
    """ "The white ones", "white one"."""
    return not atom.pause and (is_a(atom, "ONES") or atom.words == "one")


_GOES_ON = ("IN", "AND", "USED", "SPOIL", "DELIVER", "RETURN", "LEFTOVER", "BESIDE", "OR", "AT")
"""What may go on without a pause behind an attribute that stands alone."""


def _fits_behind(atoms: Sequence[Atom], at: int, item: int, kind: str, said: Said) -> bool:
    """True where a number alone is the size of what was counted, and no measure."""
    lines = _lines(atoms[item])
    if _is_known(said, lines) or (kind in ("inch", "bare") and lines.items[0].unit in _BY_WEIGHT):
        return True
    before = atoms[:at]
    if kind == "bare" and atoms[at].char != FRAC:
        return False
    if any(atom.words.startswith(_CUTTING) for atom in before):
        return False
    if has_any(before, "DIMENSION") or any(atom.char in (MIX, FRAC) for atom in atoms[item:at]):
        return False
    if said.length is not None and not _comes_so_long(lines, said.length):
        return False
    start = item
    while start and has_any(
        (atoms[start - 1],), "COLOR", "STATE", "OF", "UNIT", "PROFILE", "COLOUR"
    ):
        start -= 1
    between = any(atom.char == NUM for atom in atoms[item:at])
    return between or (start > 0 and _counts(atoms[start - 1]))


def _comes_so_long(lines: Lines, length: Fraction) -> bool:
    """True for what may come as one piece, inches; anything else was measured."""
    rolled = lines.items[0].unit == "roll"
    return _SHORTEST <= length <= (_LONGEST_ROLL if rolled else _LONGEST)


_SHORTEST, _LONGEST, _LONGEST_ROLL = (Fraction(feet * 12) for feet in (6, 24, 300))


# --- what each kind of words says -------------------------------------------------------------


def _counts(atom: Atom) -> bool:
    return atom.char == NUM or has_any((atom,), *_COUNTING)


_COUNTING = ("UNIT", "ONE", "COUPLE", "DOZEN", "BOTHOF", "ONEMORE", "LASTOF", "VAGUE", "OF")
_UNSURE = ("cross", "foot", "inch", "bare", "penny", "weight", "volume")
"""Kinds of attributes whose numbers may count or measure something instead."""
_BY_WEIGHT = ("lb", "box")
_CUTTING = ("cut", "rip", "chop", "saw")


def _is_known(said: Said, lines: Lines) -> bool:
    """True where a line of the catalog has that size."""
    return said.size is not None and any(item.size == said.size for item in lines.items)


def _is_lumber(atom: Atom) -> bool:
    """True for an item that is called by its size alone: "one by eight"."""
    if atom.char != ITEM or not cast(Item, atom.value).size:
        return False
    words = atom.words.split()
    return all(
        word[0].isdecimal() or (word in _LONGS or word.removesuffix("s") in _SIZED)
        for word in words
    )


def _size_of(board: Atom) -> Said:
    return Said(size=cast(Item, board.value).size, length=cast(Said, board.said).length)


_SIZED = NUMBER_WORDS | {"by", "sixe", "foot", "feet", "ft"}
_LUMBER = frozenset(
    f"{thick}x{wide}" for thick in ("1", "2", "4", "6", "5/4") for wide in (2, 3, 4, 6, 8, 10, 12)
)


def _shown(said: Said) -> str:
    return said.size or (f"{tape(said.length)} in" if said.length is not None else "")


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


_WRITTEN = {"k style": "K style", "center vent": "center vented", "full vented": "fully vented"}
"""Profiles that are said in other words than they are written."""


_VOLUMES = {"gallon": "gal", "ounce": "oz", "quart": "qt", "pint": "pt"}


def _coloured(atoms: Sequence[Atom]) -> Said:
    return Said(colour=" ".join(atom.words for atom in atoms if not is_a(atom, "COLORED")))


_SAID: dict[str, Callable[[Sequence[Atom]], Said]] = {
    "cross": _crossed,
    "penny": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])}d"),
    "gauge": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} ga"),
    "volume": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} {_VOLUMES[atoms[-1].words]}"),
    "weight": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} lb"),
    "number": lambda atoms: Said(size=f"#{tape(_numbers(atoms)[0])}"),
    "foot": lambda atoms: Said(length=_numbers(atoms)[0] * 12),
    "footer": lambda atoms: Said(length=_numbers(atoms)[0] * 12),
    "inch": _inches,
    "five": lambda atoms: Said(size="5/4"),
    "bare": lambda atoms: Said(size=f"{tape(_numbers(atoms)[0])} in"),
    "profile": lambda atoms: Said(profile=_WRITTEN.get(atoms[0].words, atoms[0].words)),
    "colour": _coloured,
}
"""By the name that the pattern gives the words."""
