"""Materials: used, spoiled, delivered, returned, on hand, needed; and prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import cast

from joblog.dictation.draft import Draft, Parts, ambiguous, item_in, words_of
from joblog.dictation.grammar import FRAC, MIX, Atom, Stretch, is_a
from joblog.dictation.lengths import new_number
from joblog.dictation.numbers import Number
from joblog.dictation.places import place_in
from joblog.model import STOCK_KINDS, Entry, Item, Kind
from joblog.quantity import money, tape, unit_named


def add_stock(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    return _add_stock(draft, cast(Kind, stretch.meaning), parts, stretch)


def add_more(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An amount without a verb takes over the verb said before it in the same breath."""
    named = "i" in parts or "u" in parts
    count = parts["n"]
    last = draft.context.last
    if not draft.entries and not named and last is not None and _goes_on(draft, stretch):
        draft.verb = last.kind
        return _add_stock(draft, last.kind, parts, stretch) if last.kind in STOCK_KINDS else False
    if draft.verb is None or draft.awaiting:
        unit = _unit(parts.get("u"))
        if draft.awaiting and not named and any(is_a(atom, "DOZEN") for atom in count):
            return new_number(draft, _count(count, None)[0] or Fraction(0))
        if "i" not in parts and unit in (None, "in", "ft", "ft2", "square"):
            return False
        if draft.awaiting:
            last = draft.last()
            kind = last.kind if last is not None and last.kind in STOCK_KINDS else None
            return _add_stock(draft, kind, parts, stretch) if kind else False
        return draft.add(
            Entry("note", note=words_of(stretch.atoms)),
            "used, delivered, scrapped or left over? It was not said.",
        )
    if not named and count[0].words == "no":
        return False  # "No, six": not none of it.
    if not named and any(atom.char in (MIX, FRAC) for atom in count):
        return False
    if not named and not is_a(draft.atoms[stretch.start - 1], "AND"):
        draft.doubts.append((len(draft.entries), f"a number by itself: {words_of(count)!r} more?"))
    return _add_stock(draft, draft.verb, parts, stretch)


def _goes_on(draft: Draft, stretch: Stretch) -> bool:
    """ "And four on the south eave", "another two": more of what was said before."""
    before = draft.atoms[stretch.start - 1] if stretch.start else None
    led = before is not None and before.words in ("and", "plus", "also", "then")
    more = any(atom.words in ("more", "another") for atom in stretch.atoms)
    return led or more


def _add_stock(draft: Draft, kind: Kind | None, parts: Parts, stretch: Stretch) -> bool:
    assert kind is not None
    whys: list[str | None] = []
    carried: list[str] = []
    item = item_in(parts.get("i"))
    note: str | None = None
    last = draft.last()
    quantity, why = _amount(parts, stretch)
    whys.append(why)
    unit = _unit(parts.get("u"))
    if kind == "on_hand" and not (item or unit or draft.subject or draft.verb):
        leftover = any(is_a(atom, "LEFTOVER") for atom in stretch.atoms)
        if not leftover and "x" not in parts:
            return False
    if item is None and "x" not in parts and draft.subject is not None:
        item = draft.subject
    if item is None and "x" in parts:
        note = words_of(parts["x"]).removeprefix("of ")
        whys.append(f"{note!r} is no item of this job")
    elif item is None:
        item = _carried_item(draft, unit)
        if item is None and _is_length(parts, unit):
            return False
        if item is not None:
            carried.append("item")
        else:
            whys.append("of what? No item was said")
    if item is not None:
        loose = "u" in parts and parts["u"][0].words in _LOOSE
        unit, why = _unit_of(item, None if loose else unit)
        whys.append(why)
    if kind == "spoiled" and quantity == 0:
        return draft.add(Entry("note", note=words_of(stretch.atoms)))
    cost: Decimal | None = None
    if "c" in parts:
        cost, why = _unit_cost(parts, quantity)
        whys.append(why)
    entry = Entry(
        kind,
        place=place_in(parts.get("r", ())),
        item=item.name if item else None,
        quantity=quantity,
        unit=unit,
        note=note,
        reason=_reason(parts) if kind == "spoiled" else None,
        unit_cost=cost,
        carried=tuple(carried),
    )
    if stretch.meaning == "more" and last is not None and "item" in carried:
        entry = replace(entry, unit=entry.unit or last.unit)
    if draft.verb is None or not isinstance(stretch.atoms[0].value, Number):
        # "Used three, one scrapped, and two sticks of channel": the two were used.
        draft.verb = kind
    return draft.add(entry, *whys, *ambiguous(stretch.atoms))


def _is_length(parts: Parts, unit: str | None) -> bool:
    """True for "fifteen and a half feet" and "nineteen and five eighths" of nothing named."""
    return unit in ("in", "ft") or (
        unit is None and any(atom.char in (MIX, FRAC) for atom in parts.get("n", ()))
    )


def _amount(parts: Parts, stretch: Stretch) -> tuple[Fraction | None, str | None]:
    if "n" in parts:
        return _count(parts["n"], parts.get("h"))
    if any(is_a(atom, "OUTOF") for atom in stretch.atoms):
        return Fraction(0), None
    return None, "how many?"


def _carried_item(draft: Draft, unit: str | None) -> Item | None:
    """The item spoken of just before, when the unit said now can be a unit of it."""
    names = [entry.item for entry in reversed(draft.entries) if entry.item]
    names.append(draft.context.item or "")
    if not names[0]:
        return None
    for item in draft.vocabulary.items:
        if item.name == names[0]:
            fits = unit is None or unit == item.unit or unit in dict(item.also)
            return item if fits or unit in _COUNTED else None
    return None


# Ways of saying "one of it" that mean the item's own unit.
_COUNTED = {"each"}
_LOOSE = {
    "panel": "sheet", "panels": "sheet", "strip": "stick", "strips": "stick", "board": "stick",
    "boards": "stick", "length": "stick", "lengths": "stick", "piece": "each", "pieces": "each",
}  # fmt: skip
_RUNNING = {"linear feet": "ft", "running feet": "ft"}


def _unit(atoms: tuple[Atom, ...] | None) -> str | None:
    if not atoms:
        return None
    word = atoms[0].words
    return _LOOSE.get(word) or _RUNNING.get(word) or unit_named(word) or word


def _unit_of(item: Item, said: str | None) -> tuple[str, str | None]:
    if said is None or said in _COUNTED or said == item.unit:
        return item.unit, None
    if said in dict(item.also) or {said, item.unit} <= {"ft2", "square"} or said == "pair":
        return said, None
    if {said, item.unit} <= {"in", "ft"}:
        return said, None
    return said, f"{item.name} is counted by the {item.unit}, not by the {said}"


def _count(
    atoms: Sequence[Atom], half: Sequence[Atom] | None
) -> tuple[Fraction | None, str | None]:
    value: Fraction | None = None
    why: str | None = None
    for at, atom in enumerate(atoms):
        if isinstance(atom.value, Number):
            if atom.char == FRAC and any(is_a(before, "DOZEN") for before in atoms[:at]):
                value = (value or 0) + 12 * atom.value.value  # "A dozen and a half".
                continue
            if value is not None and atoms[at - 1].words != "another":
                why = f"{tape(value)}, or {tape(atom.value.value)}?"
                continue
            value = atom.value.value
        elif is_a(atom, "NONE"):
            value = Fraction(0)
        elif is_a(atom, "DOZEN"):
            value = (value if value is not None else Fraction(1)) * 12
        elif is_a(atom, "COUPLE"):
            value, why = Fraction(2), "a couple: exactly two?"
        elif is_a(atom, "VAGUE"):
            why = f"{atom.words!r} is how many?"
        elif is_a(atom, "ABOUT"):
            why = f"only roughly: {atom.words!r}"
        elif atom.words in ("a", "an", "another") and value is None:
            value = Fraction(1)
    if half and value is not None:
        value += sum(cast(Number, a.value).value for a in half if a.char == FRAC)
    return value, why


def _reason(parts: Parts) -> str | None:
    state = words_of(parts.get("v", ()))
    because = "" if place_in(parts.get("r", ())) else words_of(parts.get("r", ()))
    vague = ("scrapped", "spoiled", "wasted", "scrap", "threw out", "threw away", "tossed", "lost")
    if state in vague and because:
        return because
    return " ".join(part for part in (state, because) if part) or None


def _unit_cost(parts: Parts, quantity: Fraction | None) -> tuple[Decimal | None, str | None]:
    """What one costs: said of one ("at", "each"), else the total divided."""
    total = Fraction(0)
    bare: list[Fraction] = []
    for atom in parts["c"]:
        if isinstance(atom.value, Number):
            bare.append(atom.value.value)
        elif atom.words == "a":
            bare.append(Fraction(1))
        elif is_a(atom, "MONEY"):
            cents = atom.words in ("cent", "cents")
            total += (bare.pop() if bare else Fraction(0)) / (100 if cents else 1)
    if len(bare) == 2 and bare[1] < 100:
        cents_after = bare[0] >= 10 or bare[1] >= 20 or bare[1] == 10
        total += bare[0] + bare[1] / 100 if cents_after else bare[0] * 100 + bare[1]
        if 1 <= bare[0] < 10 and bare[1] >= 10:
            dollars = f"{bare[0]}.{int(bare[1]):02}"
            return money(total), f"{dollars} or {bare[0] * 100 + bare[1]} dollars?"
    elif bare:
        total += bare[0] if not total else bare[0] / 100
    each = "per" in parts or ("f" not in parts and parts["w"][0].words == "at")
    if each:
        return money(total), None
    if not quantity:
        return None, "a price, but for how many?"
    share = total / quantity
    if (share * 100).denominator != 1:
        return money(share), "the price does not divide evenly: rounded to the cent"
    return money(share), None


def add_price(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """A price said after the delivery it belongs to."""
    last = draft.entries[-1] if draft.entries else draft.context.last
    if last is None or last.kind != "delivered" or last.unit_cost is not None:
        return False
    cost, why = _unit_cost(parts, last.quantity)
    if not draft.entries:
        draft.awaiting = True
        return draft.add(replace(last, unit_cost=cost, carried=()), why)
    draft.entries[-1] = replace(last, unit_cost=cost)
    draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
    return True


def add_request(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """Something is needed, in words that hold no plain amount of an item."""
    if any(is_a(atom, "NOTGOING") for atom in stretch.atoms):
        return False
    item = item_in(stretch.atoms)
    entry = Entry(
        "needed",
        item=item.name if item else None,
        note=words_of(stretch.atoms),
        place=place_in(stretch.atoms),
    )
    return draft.add(entry, "needed, but how many of what?")
