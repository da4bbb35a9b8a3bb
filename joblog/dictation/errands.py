"""Things to do, extras, prices of today, money spent, driving, inspections and visits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import cast

from joblog.dictation.draft import Draft, Parts, item_in, whole_in, words_of
from joblog.dictation.grammar import (
    FRAC,
    ITEM,
    MIX,
    NUM,
    NUMBERS,
    SPOT,
    Atom,
    Stretch,
    all_found,
    has_any,
    is_a,
    whole_as,
)
from joblog.dictation.labor import duration, time_of
from joblog.dictation.numbers import Number
from joblog.dictation.places import place_in
from joblog.dictation.stock import amount_of, thing_of
from joblog.model import Entry, Kind
from joblog.quantity import money, tape


def add_errand(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """A clause that tells of something to do, wanted beyond the plan, or of somebody who came."""
    errand = errand_of(draft, parts, stretch)
    if errand is None:
        return False
    rest = _to_do_behind(stretch) if stretch.meaning != "todo" else None
    if rest is not None:
        told = replace(stretch, end=rest.start, atoms=stretch.atoms[: rest.start - stretch.start])
        first, then = errand_of(draft, parts, told), errand_of(draft, rest.parts, rest)
        if first is not None and then is not None:
            draft.place = draft.place or first[0].place
            draft.add(first[0], *first[1])
            return draft.add(then[0], *then[1])
    entry, whys = errand
    draft.place = draft.place or entry.place
    return draft.add(entry, *whys)


def _to_do_behind(stretch: Stretch) -> Stretch | None:
    """What the speaker himself has to do, in a later clause: "came over, i have to call her"."""
    for at, atom in enumerate(stretch.atoms):
        if at < _SOON or not atom.pause:
            continue
        begin = at
        while begin < len(stretch.atoms) and has_any((stretch.atoms[begin],), "AND", "ARTICLE"):
            begin += 1
        rest = stretch.atoms[begin:]
        own = bool(rest) and (rest[0].words in ("i", "we") or rest[0].words.startswith("remind"))
        while rest and has_any(rest[:1], "ME", "FILLER"):
            rest = rest[1:]
        found = whole_as(frozenset(("todo",)), rest) if own and has_any(rest[:1], "MUST") else None
        if found is not None:
            start = stretch.end - len(rest)
            return replace(found, start=start, end=stretch.end, atoms=tuple(rest))
    return None


Errand = tuple[Entry, list[str | None]]


def errand_of(draft: Draft, parts: Parts, stretch: Stretch) -> Errand | None:
    """What such a clause comes to, with doubts; None where it tells of none of it."""
    atoms = stretch.atoms
    if not _begins(draft, stretch) or _is_none(draft, stretch):
        return None
    if stretch.meaning != "todo" and tells_of_stock(atoms):
        return None
    somebody = parts.get("who", ())
    entry = Entry(
        cast(Kind, stretch.meaning),
        place=place_in([atom for atom in atoms if not any(atom is one for one in somebody)]),
        note=words_of(atoms),
        who=words_of(_bare(somebody)) if somebody else None,
    )
    if entry.kind == "todo":
        return _with_what(entry, draft, atoms)
    if entry.kind == "extra":
        return _with_price(entry, parts, atoms)
    return _with_time(entry, draft, atoms)


def goes_on_with(draft: Draft, stretch: Stretch) -> bool:
    """Adds what follows "and" to what is to do: "bring the long ladder, and the brake"."""
    last, by = draft.newest(), draft.made_by.get(len(draft.entries) - 1)
    if last is None or by is None or last.kind not in _CLAUSES or stretch.atoms[0].pause:
        return False
    between = draft.atoms[by.end : stretch.start]
    if stretch.meaning != "covered" and not draft.joined(stretch):
        return False
    if not all(has_any((atom,), "AND", "ARTICLE", "FILLER") for atom in between):
        return False
    draft.entries[-1] = replace(
        last,
        note=" ".join(filter(None, (last.note, words_of(between), words_of(stretch.atoms)))),
        place=last.place or place_in(stretch.atoms),
    )
    return True


def errand_among(draft: Draft, atoms: Sequence[Atom]) -> Errand | None:
    """What words come to that were taken for a note, or for a plan; all of them are kept."""
    found = whole_as(_CLAUSES, atoms)
    if found is None:
        return None
    offset = next((at for at, atom in enumerate(draft.atoms) if atom is found.atoms[0]), 0)
    stretch = replace(found, start=offset, end=offset + len(found.atoms))
    errand = errand_of(draft, found.parts, stretch)
    if errand is None:
        return None
    entry, whys = errand
    return replace(entry, note=words_of(atoms), place=entry.place or place_in(atoms)), whys


_CLAUSES = frozenset(("todo", "extra", "visit", "inspection"))


def tells_of_stock(atoms: Sequence[Atom]) -> bool:
    """True where a counted material stands beside what happened to it."""
    counted = any(
        one.char == NUM and (other.char == ITEM or is_a(other, "UNIT"))
        for one, other in pairwise(atoms)
    )
    return counted and has_any(atoms, "USED", "SPOIL", "DELIVER", "RETURN", "COUNTED", "LEFTOVER")


def _begins(draft: Draft, stretch: Stretch) -> bool:
    """True where a clause begins: not in "waiting on the inspector", "i got a call"."""
    at = stretch.start
    while at and not draft.atoms[at].pause:
        before = draft.atoms[at - 1]
        if has_any((before,), "AND", "CLAUSE", "NOTE", *_DAYS):
            return True
        if before.char == SPOT or is_a(before, "PART"):
            return True
        if not has_any((before,), "FILLER", "ME") or before.words in ("to", "of", "got"):
            return (
                is_a(before, "ARTICLE")
                and at - 1 == stretch.start - 1
                and stretch.meaning not in ("todo",)
                and _begins(draft, replace(stretch, start=at - 1))
            )
        at -= 1
    return True


_DAYS = ("DAYAHEAD", "DAYBACK", "DAYNAMED", "DAYNOW")


def _is_none(draft: Draft, stretch: Stretch) -> bool:
    """True where the words tell of none of it: questions, denials, forecasts."""
    atoms = stretch.atoms
    if stretch.meaning == "todo":
        return _is_nothing_to_do(draft, stretch)
    if stretch.meaning == "extra":
        hours = {id(atom) for found in all_found("DURATION", atoms) for atom in found[""]}
        if _is_length([atom for atom in atoms if id(atom) not in hours]):
            return True
        if atoms[0].words == "extra" and not (len(atoms) > 1 and atoms[1].pause):
            return True
        if is_a(atoms[0], "CHORE") and not is_a(atoms[0], "BILL"):
            return True  # "Write up the extra for the shutters" is still to do.
        told = has_any(atoms, "NUMBERS", "EXTRAWORK") or _is_asked_to_do(atoms)
        if atoms[0].words in ("she", "he", "they") and not told:
            return True
        wanting = next((at for at, atom in enumerate(atoms) if is_a(atom, "WANTS")), None)
        return wanting is not None and any(is_a(atom, "LOOKS") for atom in atoms[wanting + 1 :][:2])
    return False


def _is_asked_to_do(atoms: Sequence[Atom]) -> bool:
    """ "They asked us to hang a bracket"."""
    return any(
        is_a(first, "WANTS") and is_a(second, "CHORE")
        for first, second in pairwise(atom for atom in atoms if atom.words not in _US)
    )


_US = ("us", "me", "to", "if", "we", "i", "could", "can", "would")


def _is_nothing_to_do(draft: Draft, stretch: Stretch) -> bool:
    atoms = stretch.atoms
    must = next((at for at, atom in enumerate(atoms) if is_a(atom, "MUST")), None)
    led = [*draft.atoms[max(0, stretch.start - 3) : stretch.start], *atoms[: must or 0]]
    if has_any(led, *_UNDONE) or any(atom.words == "you" for atom in atoms[1:3]):
        return True  # "Call you back in five" is said to somebody.
    planning = next((at for at, atom in enumerate(atoms) if is_a(atom, "PLANNING")), None)
    if must is None and planning is not None and planning <= _SOON:
        # A plan of his own, for a day.
        return not has_any(atoms, "DAYAHEAD", "DAYNAMED") or has_any(atoms[:planning], "OTHER")
    named = has_any(atoms, "DAYNAMED") and not has_any(atoms, "DAYAHEAD")
    verb = next((atom.words for atom in atoms[:3] if is_a(atom, "CHORE")), None)
    if must is None and named and verb in _PAST_TOO:
        return True  # "Friday put up the lights."
    if is_a(atoms[0], "DAYAHEAD"):
        # "Tomorrow the gutter guys come", "tomorrow it's going to rain".
        others = has_any(atoms, "CUSTOMER", "VISITOR", "KIN", "MEN") and has_any(atoms, "COMING")
        doing = len(atoms) > 1 and has_any((atoms[1],), "CHORE", "ITEM", "USED", "START")
        return len(atoms) == 1 or others or (not doing and has_any(atoms, "SKY", "DELIVER"))
    if is_a(atoms[0], "GETTING"):
        return item_in(tuple(atoms)) is not None  # Something to be bought.
    if atoms[0].words == "check" and len(atoms) > 1 and atoms[1].words in _LOOK:
        return True
    if must is None:
        # "Call the breezeway twenty six and an eighth" is a measure.
        return any(atom.char in (MIX, FRAC) for atom in atoms)
    after = atoms[must + 1] if must + 1 < len(atoms) else None
    if after is None or after.char in NUMBERS:
        return True  # "Needs to be nine and a quarter" is a measure.
    if atoms[must].words == "reminder":
        return False
    if atoms[must].words == "note to self":
        # "Note to self, the outlet is dead" is a note.
        return not has_any(atoms[must + 1 : must + 3], "CHORE", "ERRAND", "MUST", "NEED")
    # "It should rain", "that should do it": only who does it has something to do.
    own = {atom.words for atom in led} & {"i", "we"} or is_a(after, "CHORE")
    return atoms[must].words in _WEAK and not own


_LOOK = ("it", "that", "this", "out", "one", "yes", "again")
_SOON = 3
"""Words before "we'll" that still begin a clause."""
_PAST_TOO = frozenset("put set cut hit run come".split()) | {"put up"}
"""Verbs that may as well tell what was done."""
_UNDONE = ("NOTGOING", "TALK", "ISNOT")
_WEAK = ("should", "should be", "must", "better", "supposed to", "want to", "wanna", "ought to be")


def _bare(atoms: Sequence[Atom]) -> list[Atom]:
    return [atom for atom in atoms if not is_a(atom, "ARTICLE")]


def _with_what(entry: Entry, draft: Draft, atoms: Sequence[Atom]) -> tuple[Entry, list[str | None]]:
    """With the material that is counted in it, where it is one."""
    amounts = [parts for parts in all_found("NAMED_AMOUNT", atoms) if item_in(parts.get("i"))]
    buying = any(atom.words in _BUYING for atom in atoms)
    if not amounts and buying and (item := item_in(tuple(atoms))) is not None:
        return replace(entry, kind="needed", item=item.name, unit=item.unit), []
    if len(amounts) == 1 and (buying or _is_got(amounts[0][""], atoms)):
        entry = replace(entry, kind="needed")
    if amounts and any(atom.words in ("whether", "if") for atom in atoms):
        return entry, ["an amount in what is to do: is it one?"]
    if len(amounts) != 1:
        return entry, []
    parts = amounts[0]
    quantity, why = amount_of(parts)
    named = thing_of(draft, parts)
    if quantity is None or named is None:
        return entry, []
    thing, whys = named
    return replace(entry, item=thing.item, unit=thing.unit, quantity=quantity), [why, *whys]


def _is_got(amount: Sequence[Atom], atoms: Sequence[Atom]) -> bool:
    """ "Better get another gallon of primer"."""
    at = next(at for at, atom in enumerate(atoms) if atom is amount[0])
    return at > 0 and atoms[at - 1].words in ("get", "grab")


_BUYING = ("order", "reorder", "buy", "pick up")


def _with_price(
    entry: Entry, parts: Parts, atoms: Sequence[Atom]
) -> tuple[Entry, list[str | None]]:
    """With what it costs the customer and how long it took."""
    hours: Fraction | None = None
    whys: list[str | None] = []
    used: set[int] = set()
    for found in all_found("DURATION", atoms):
        minutes, why = duration(found[""])
        hours = minutes / 60
        whys.append(why)
        used |= {id(atom) for atom in found[""]}
    price: Decimal | None = None
    for found in all_found("DOLLARS", atoms):
        said = found[""]
        if any(id(atom) in used for atom in said):
            continue
        if not _is_price(said, atoms):
            if _is_for_each(said, atoms):
                whys.append(f"{words_of(said)} each: for how many?")
            continue
        if price is not None:
            whys.append("two prices: which one holds?")
        price, why = dollars(said, small=False)
        whys.append(why)
    return replace(entry, price=price, hours=hours), whys


def _is_price(said: Sequence[Atom], atoms: Sequence[Atom]) -> bool:
    """True for an amount with "dollars", and for one that nothing follows."""
    if has_any(said, "MONEY"):
        return True
    at = next(at for at, atom in enumerate(atoms) if atom is said[-1])
    after = atoms[at + 1] if at + 1 < len(atoms) else None
    return after is None or after.pause or is_a(after, "LOT") or after.words in _ENDING


def _is_for_each(said: Sequence[Atom], atoms: Sequence[Atom]) -> bool:
    """ "A hundred a piece"."""
    at = next(at for at, atom in enumerate(atoms) if atom is said[-1])
    return has_any(atoms[at + 1 : at + 2], "EACH", "APIECE")


_ENDING = ("for", "to", "extra", "total", "flat", "even", "cash")


def dollars(atoms: Sequence[Atom], *, small: bool | None) -> tuple[Decimal, str | None]:
    """An amount of money: "forty", "sixty two fifty", "a dollar ten", and a doubt.

    "Two fifty" is 2.50 where `small`, 250 where not, and either where nobody knows.
    """
    total, bare = Fraction(0), list[Fraction]()
    marked = tens = False
    for atom in atoms:
        if isinstance(atom.value, Number):
            bare.append(atom.value.value)
        elif is_a(atom, "MONEY"):
            marked = True
            share = Fraction(1, 100) if atom.words.startswith("cent") else Fraction(1)
            total += (bare.pop() if bare else Fraction(1)) * share
        elif atom.words == "oh":
            tens = True
    if marked and bare:
        return money(total + bare[-1] / 100), None
    if len(bare) == 2:
        whole, part = bare
        if whole >= 10 or (part < 10 and not tens) or small:
            return money(whole + part / 100), None
        hundreds = whole * 100 + part
        either = f"{whole}.{int(part):02} or {hundreds} dollars?" if small is None else None
        return money(hundreds), either
    return money(total + sum(bare)), None


def _with_time(entry: Entry, draft: Draft, atoms: Sequence[Atom]) -> tuple[Entry, list[str | None]]:
    """With the time of day that somebody came, or will come."""
    for found in all_found("ATHOUR", atoms):
        ahead = has_any(atoms, "DAYAHEAD", "DAYNAMED", "DAYBACK", "FUTURE", "COMING")
        clock, why = time_of(found["t"], None if ahead else draft.context.at, "break")
        if clock is not None:
            return replace(entry, time=clock), [None if ahead else why]
    for found in all_found("TIMEY", atoms):
        clock, why = time_of(found[""], None, "break")
        if clock is not None and has_any(found[""], "OCLOCK", "AM", "PM", "NOON"):
            return replace(entry, time=clock), []
    return entry, []


def add_price_now(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Fascia is fourteen ninety a stick now": what one costs, nothing bought."""
    unit = tuple(atom for atom in parts.get("per", ()) if is_a(atom, "UNIT"))
    named = thing_of(draft, {**parts, "u": unit} if unit else parts)
    per = [atom.words for atom in parts.get("per", ())]
    if named is None or item_in(parts["i"]) is None or per == ["piece"] or _is_length(parts["c"]):
        return False
    thing, whys = named
    cost_at = next(at for at, atom in enumerate(stretch.atoms) if atom is parts["c"][0])
    led = stretch.atoms[cost_at - 1].words if cost_at else ""
    by_so_much = led in _RISEN and f"{led} so much, or to that?"
    last = draft.newest()
    if last is not None and last.kind == "delivered" and last.unit_cost is None:
        return False  # It is what was delivered that costs so much.
    cost, why = dollars(parts["c"], small=None if thing.unit in _DEAR_UNITS else True)
    who = words_of(_bare(parts["who"])) if "who" in parts else None
    entry = replace(thing, kind="price", unit_cost=cost, who=who, note=_untold(parts, stretch))
    return draft.add(entry, why, by_so_much or None, *whys)


def _untold(parts: Parts, stretch: Stretch) -> str | None:
    """The words of a price that its fields do not say."""
    told = {id(atom) for part in parts.values() for atom in part}
    idle = ("PRICEOF", "ASKING", "COSTING", "FILLER", "ARTICLE", "IN", "NOWADAYS")
    left = [atom for atom in stretch.atoms if id(atom) not in told and not has_any((atom,), *idle)]
    return words_of(left) or None


_RISEN = (
    "went up",
    "gone up",
    "going up",
    "went down",
    "came down",
    "jumped",
    "is up",
    "up",
    "down",
)
_DEAR_UNITS = ("roll", "square", "box", "bundle", "gal", "pallet", "pail", "case")
"""Units of which one costs dollars or hundreds of them; common practice."""


def _is_length(atoms: Sequence[Atom]) -> bool:
    """True for a number with a fraction as of an inch; prices have decimals."""
    return any(
        isinstance(atom.value, Number) and atom.value.fraction and not atom.value.decimal
        for atom in atoms
    )


def add_expense(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Forty bucks for the dump": money spent that is no material of the catalog."""
    before = draft.before(stretch)
    if before is not None and not before.pause and has_any((before,), "KIN", "NAME", "OTHER"):
        return False  # "My cousin paid eleven thousand for that boat."
    if _is_length(parts["c"]) or _is_clock(parts["c"], stretch.atoms[0]):
        return False
    small = True if has_any(draft.atoms, "CHEAP") else None
    price, why = dollars(parts["c"], small=False if has_any(stretch.atoms, "DEAR") else small)
    after = draft.behind(stretch)
    if after is not None and not after.pause and has_any((after,), *_NO_MONEY):
        return False
    money_told = any(atom.words in _OF_MONEY for atom in stretch.atoms)
    dear = has_any(stretch.atoms, "SPENDING") and price >= _NO_COUNT
    alone = len(parts["c"]) == 1 and not money_told and not dear
    whys = [why, "dollars?" if alone else None]
    item = item_in(stretch.atoms)
    if item is not None:
        whys.append(f"money for {item.name}, but for how many?")
    return draft.add(
        Entry("expense", price=price, note=words_of(stretch.atoms), place=place_in(stretch.atoms)),
        *whys,
    )


def _is_clock(atoms: Sequence[Atom], first: Atom) -> bool:
    """ "Lunch twelve thirty" is a time; "breakfast nine eighty" is none."""
    whole = whole_in(tuple(atoms[-1:]))
    return is_a(first, "BREAK") and not has_any(atoms, "MONEY") and whole is not None and whole < 60


_NO_COUNT = 10
"""Dollars; what is less may as well count something. Common practice."""
_OF_MONEY = ("spent", "paid", "cost", "cost me", "cost us", "costs", "i paid", "we paid")
_NO_MONEY = ("HOURWORD", "MINUTE", "FOOT", "INCH", "EACH", "UNIT", "ITEM")


def add_drive(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Drove thirty two miles, forty minutes"."""
    atoms = stretch.atoms
    miles = None
    whys: list[str | None] = []
    rest: Sequence[Atom] = atoms
    if "m" in parts:
        miles = cast(Number, parts["m"][0].value).value
        at = next(at for at, atom in enumerate(atoms) if atom is parts["m"][-1])
        rest = atoms[at + 2 :]
        rate = rest[:2]
        if miles >= _TOO_FAR or (rate and rate[0].words in ("an", "per", "a")):
            return False
        if any(atom.words in ("gallon", "gal") for atom in rest[:3]) or has_any(rest, "MONEY"):
            return False  # Miles to the gallon; money that was spent on the way.
        if rest and is_a(rest[0], "BACKFORTH"):
            whys.append(f"{tape(miles)} miles in all, or {rest[0].words}?")
    spans = [parts["d"]] if "d" in parts else [found[""] for found in all_found("DURATION", rest)]
    minutes = None
    for span in spans:
        minutes, why = duration(span)
        whys.append(why)
    last = draft.newest()
    if miles is None and last is not None and last.kind == "drive" and last.minutes is None:
        note = f"{last.note} {words_of(atoms)}"
        draft.entries[-1] = replace(last, minutes=minutes, note=note)
        return True
    entry = Entry("drive", miles=miles, minutes=minutes, note=words_of(atoms))
    return draft.add(entry, *whys)


_TOO_FAR = 1000
"""Miles that nobody drives for a day's work; common practice."""
