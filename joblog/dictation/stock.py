"""Materials: used, spoiled, delivered, returned, on hand, needed; and prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import cast

from joblog.dictation.draft import (
    Draft,
    Parts,
    ambiguous,
    is_put_there,
    item_in,
    item_named,
    whole_in,
    words_of,
)
from joblog.dictation.grammar import FRAC, ITEM, MIX, NUM, OTHER, Atom, Stretch, find, has_any, is_a
from joblog.dictation.lengths import new_number
from joblog.dictation.numbers import Number
from joblog.dictation.places import add_item, name_of, naming_place, place_in
from joblog.dictation.telling import kind_named
from joblog.model import STOCK_KINDS, Entry, Item, Kind
from joblog.quantity import money, tape, unit_named


def add_stock(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An amount beside a verb; other words around it may tell of something rarer."""
    kind = cast(Kind, stretch.meaning)
    first = stretch.atoms[0].words
    before = draft.before(stretch)
    if "x" in parts and before is not None and is_a(before, "EQUIPMENT"):
        return False  # "The truck took three tries."
    unsure = kind in ("used", "delivered") or first in ("left", "dropped", "dropped off", "short")
    if _is_item_first(parts, stretch) and not _counts_the_named(draft, parts, stretch):
        return False
    if kind == "needed" and _was_to_come(draft, stretch):
        item = _named(parts)
        draft.subject = item or draft.subject
        return draft.add(Entry("note", note=words_of(stretch.atoms)))
    if kind == "on_hand" and stretch.atoms[-1].words == "over" and _leads_on(draft, stretch):
        return False  # "The one over the door".
    taken = _taken_by_trouble(draft, stretch)
    if taken:
        _leave_out_wind(draft, stretch)
    understood = set(draft.understood)
    named = kind_named(draft, stretch) if unsure else None
    if named not in (None, kind, *_UNSURE.get(kind, ())):
        draft.understood = understood  # Words that tell of something else stay not understood.
    if named in _UNSURE.get(kind, ()):
        draft.doubts.append((len(draft.entries), f"{kind}, or {named}?"))
        assert named is not None
        kind = named
    elif taken:
        draft.doubts.append((len(draft.entries), "used, or spoiled?"))
        kind = "spoiled"
    elif first == "bent up" and _is_stiff(parts):
        draft.doubts.append((len(draft.entries), "bent to shape, or spoiled?"))
        kind = "spoiled"
    elif stretch.meaning == "used" and _comes_off_the_truck(draft, stretch):
        draft.doubts.append((len(draft.entries), "used, or delivered?"))
        kind = "delivered"
    elif stretch.meaning == "delivered" and stretch.atoms[0].words in ("put", "threw"):
        kind = "used"
    elif _goes_in(draft, stretch):
        draft.doubts.append((len(draft.entries), "delivered, or put in?"))
        kind = "used"
    return _add_stock(draft, kind, parts, stretch)


def _leads_on(draft: Draft, stretch: Stretch) -> bool:
    behind = draft.behind(stretch)
    led = behind is not None and has_any((behind,), "ARTICLE", "PART", "SIDE")
    return led and behind is not None and not behind.pause


def _was_to_come(draft: Draft, stretch: Stretch) -> bool:
    """ "We were supposed to get thirty sheets and they brought twenty six": what was ordered."""
    before = draft.before(stretch)
    led = (before,) if before is not None and not stretch.atoms[0].pause else ()
    said = " ".join(atom.words for atom in (*led, *stretch.atoms))
    return "supposed to get" in said and any(
        is_a(atom, "DELIVER") for atom in draft.atoms[stretch.end :]
    )


def _is_item_first(parts: Parts, stretch: Stretch) -> bool:
    """ "Elbows six", where no "quantity" stands between."""
    item, count = parts.get("i"), parts.get("n")
    if not item or not count or has_any(stretch.atoms, "QUANTITY"):
        return False
    places = [id(atom) for atom in stretch.atoms]
    return places.index(id(item[-1])) + 1 == places.index(id(count[0]))


_UNSURE: dict[Kind, tuple[Kind, ...]] = {
    "used": ("spoiled", "returned"),
    "delivered": ("spoiled", "returned"),
    "on_hand": ("delivered",),
    "spoiled": ("returned", "delivered"),
    "needed": ("spoiled",),
}
"""What an amount may be in spite of its verb: the driver that "left" or "dropped" something."""


def _taken_by_trouble(draft: Draft, stretch: Stretch) -> bool:
    """ "The wind took a sheet", "the brake jammed and ate a piece"."""
    last = draft.newest()
    taking = stretch.atoms[0].words in ("took", "ate", "chewed through", "swallowed")
    return taking and last is not None and last.kind in ("problem", "weather")


def _leave_out_wind(draft: Draft, stretch: Stretch) -> None:
    """ "The wind took one" tells what became of it, and no weather."""
    at = len(draft.entries) - 1
    by, last = draft.made_by.get(at), draft.entries[at]
    if by is None or by.end != stretch.start or last.fahrenheit is not None:
        return
    if last.kind == "weather" and last.note == "wind":
        del draft.entries[at], draft.made_by[at]
        draft.doubts = [doubt for doubt in draft.doubts if doubt[0] != at]


def _is_stiff(parts: Parts) -> bool:
    """True for what comes in sticks or sheets: coil is bent up to be used."""
    item = _named(parts)
    return item is not None and item.unit in ("stick", "sheet", "each")


def _comes_off_the_truck(draft: Draft, stretch: Stretch) -> bool:
    after = draft.behind(stretch)
    return after is not None and after.words == "off the truck"


def _goes_in(draft: Draft, stretch: Stretch) -> bool:
    """ "Got six hangers in on the south eave"."""
    if stretch.meaning != "delivered" or stretch.atoms[-1].words != "in":
        return False
    behind = next((other for other in draft.stretches if other.start == stretch.end), None)
    placed = behind is not None and behind.meaning == "place"
    return placed and is_a(stretch.atoms[0], "PUT")


def add_subject(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An item named by itself: of what the amounts before it were, or those that follow."""
    item = item_in(parts["i"])
    if item is not None and not draft.awaiting:
        if _is_out_too(draft, stretch):
            wanted = draft.entries[-1].kind == "needed"
            entry = Entry("on_hand", item=item.name, quantity=Fraction(0), unit=item.unit)
            draft.add(entry)
            return not wanted or draft.add(replace(entry, kind="needed", quantity=None))
        before = draft.before(stretch)
        apart = stretch.atoms[0].pause or (before is not None and is_a(before, "FILLER"))
        if apart and not _counts_follow(draft, stretch) and _names_late(draft, item):
            return True
    return add_item(draft, parts, stretch)


def _is_out_too(draft: Draft, stretch: Stretch) -> bool:
    """ "Out of staples and hangers"."""
    by = draft.made_by.get(len(draft.entries) - 1)
    none = by is not None and by.meaning in ("on_hand", "subject") and _lacking(draft)
    joined = draft.joined(stretch)
    return none and joined and not _counts_follow(draft, stretch)


def _lacking(draft: Draft) -> bool:
    """True where the last thing told is that none of something is left."""
    told = [entry for entry in draft.entries[-2:] if entry.kind != "needed"]
    return bool(told) and told[-1].kind == "on_hand" and told[-1].quantity == 0


def _counts_follow(draft: Draft, stretch: Stretch) -> bool:
    return any(
        other.start >= stretch.end and other.meaning in (*STOCK_KINDS, "more", "measure")
        for other in draft.stretches
    )


def _names_late(draft: Draft, item: Item) -> bool:
    """ "Used ten and scrapped two, that's the starter strip"."""
    found = False
    for at in range(len(draft.entries) - 1, -1, -1):
        entry = draft.entries[at]
        if entry.kind not in STOCK_KINDS or entry.item is not None or entry.note is not None:
            break
        found = True
        unit, why = _unit_of(item, None if entry.unit in _LOOSE.values() else entry.unit)
        draft.entries[at] = replace(entry, item=item.name, unit=unit)
        draft.doubts[:] = [doubt for doubt in draft.doubts if doubt != (at, _OF_WHAT)]
        draft.doubts.extend([(at, why)] if why else [])
    return found


_OF_WHAT = "of what? No item was said"


def _is_among_them(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Three rolls left, one of them is started" counts no fourth: it is told in the note."""
    last = draft.newest()
    count = whole_in(parts.get("n"))
    if last is None or last.quantity is None or count is None or count > last.quantity:
        return False
    if _kind_of(draft, parts, stretch) not in (None, last.kind):
        return False
    note = " ".join(filter(None, (last.note, words_of(stretch.atoms))))
    draft.entries[-1] = replace(last, note=note)
    return True


def add_named_more(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Hangers ten, end caps two": counts behind what they are of, in a list that has its verb."""
    if draft.verb is None or not _counts_the_named(draft, parts, stretch):
        return False
    return _add_stock(draft, _told_kind(draft, stretch), parts, stretch)


def _counts_the_named(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """False where the number behind an item may be a length: "fascia twelve foot", "J nine"."""
    behind = draft.behind(stretch)
    if behind is not None and not behind.pause:
        of_another = behind.char in (NUM, MIX, FRAC, ITEM) or behind.words == "of"
        if of_another or has_any((behind,), "FOOT", "INCH", "UNIT", "MONEY"):
            return False
    unit = _unit(parts.get("u"))
    if unit is not None:
        return unit not in _NO_COUNT
    item = _named(parts)
    plural = parts["i"][-1].words.endswith("s")
    return plural or (item is not None and item.unit == "each")


def add_more(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """An amount without a verb: the words around it tell what happened, or the verb before it."""
    unit = _unit(parts.get("u"))
    named = "i" in parts or "u" in parts
    plain = "i" in parts or unit not in (None, *_NO_COUNT)
    count = parts.get("n", ())
    if "c" in parts and draft.verb != "delivered":
        return False
    if any(is_a(atom, "NONE") for atom in count) and draft.verb not in ("on_hand", "needed"):
        return False
    if not named and [atom.words for atom in count] == ["no"]:
        return False  # "No, six": not none of it.
    if has_any(stretch.atoms, "OFTHEM") and _is_among_them(draft, parts, stretch):
        return True
    before = _listed_before(draft)
    goes_on = before is not None and _goes_on(draft, stretch, named)
    if before is not None and goes_on and (before.kind in STOCK_KINDS or not plain):
        same = _told_kind(draft, stretch) or before.kind
        if not named and _is_far_more(parts, before):
            draft.doubts.append((len(draft.entries), "so many of the same, or a measure?"))
        return before.kind in STOCK_KINDS and _add_stock(draft, same, parts, stretch)
    if draft.awaiting and not named and any(is_a(atom, "DOZEN") for atom in count):
        return new_number(draft, _count(count, None)[0] or Fraction(0))
    if draft.verb is None or draft.awaiting:
        listed = draft.subject is not None and len(stretch.atoms) > 1
        if not plain and not listed:
            return False
        kind = _kind_of(draft, parts, stretch)
        if kind is not None:
            return _add_stock(draft, kind, parts, stretch)
        if _is_to_do_too(draft, parts, stretch):
            return True
        if draft.awaiting or not plain:
            return False
        if before is not None and before.kind in STOCK_KINDS and "i" in parts:
            if "u" in parts or not any(atom.words == "of" for atom in stretch.atoms):
                draft.doubts.append((len(draft.entries), f"{before.kind} too?"))
            return _add_stock(draft, before.kind, parts, stretch)
        draft.subject = item_in(parts.get("i")) or draft.subject
        return draft.add(
            Entry("note", note=words_of(stretch.atoms)),
            "used, delivered, scrapped or left over? It was not said.",
        )
    if not named and any(atom.char in (MIX, FRAC) for atom in count):
        return False
    last = draft.newest()
    waits = last is not None and last.item is not None and last.quantity is None
    doubtful = not named and not waits and not _plainly_more(draft, stretch)
    made = _add_stock(draft, _kind_of(draft, parts, stretch), parts, stretch)
    if made and doubtful and draft.entries:
        why = f"a number by itself: {words_of(count)!r} more?"
        draft.doubts.append((len(draft.entries) - 1, why))
    return made


def _is_to_do_too(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Tomorrow bring the brake and two rolls of coil"."""
    last = draft.newest()
    if last is None or last.kind != "todo" or not draft.joined(stretch) or "i" not in parts:
        return False
    thing = thing_of(draft, parts)
    quantity, why = amount_of(parts)
    note = f"{last.note} and {words_of(stretch.atoms)}"
    if thing is None or last.item is not None:
        draft.entries[-1] = replace(last, note=note)
        return True
    named, whys = thing
    at = len(draft.entries) - 1
    draft.entries[-1] = replace(
        last, note=note, item=named.item, unit=named.unit, quantity=quantity
    )
    draft.doubts += [(at, doubt) for doubt in (why, *whys) if doubt]
    return True


def _plainly_more(draft: Draft, stretch: Stretch) -> bool:
    """ "And two", "then three more", "eight on the south": another of the same list."""
    if is_a(draft.atoms[stretch.start - 1], "AND"):
        return True
    if any(atom.words in ("more", "another") for atom in stretch.atoms):
        return True
    behind = next((other for other in draft.stretches if other.start == stretch.end), None)
    return stretch.atoms[0].pause and behind is not None and behind.meaning == "place"


def _is_far_more(parts: Parts, before: Entry) -> bool:
    """Whether a bare number is another order of number than the count before it."""
    number = whole_in(parts.get("n"))
    return number is not None and number > 3 * max(before.quantity or 1, 3)


def _listed_before(draft: Draft) -> Entry | None:
    """What was said last before this utterance, or put right at its beginning: a list goes on."""
    if draft.verb is not None or draft.awaiting:
        return None
    if any(entry.kind != "correction" for entry in draft.entries):
        return None
    return draft.last()


def _goes_on(draft: Draft, stretch: Stretch, named: bool) -> bool:
    """ "And four on the south eave", "another two", "six on the garage": more of the same."""
    before = draft.before(stretch)
    led = before is not None and before.words in ("and", "plus", "also", "then")
    more = any(atom.words in ("more", "another") for atom in stretch.atoms)
    if not named and any(atom.char in (MIX, FRAC) for atom in stretch.atoms):
        return more
    return led or more or (not named and is_put_there(draft, stretch))


_NO_COUNT = ("in", "ft", "ft2", "square")
"""Units of size, which without a material count nothing."""


def _kind_of(draft: Draft, parts: Parts, stretch: Stretch) -> Kind | None:
    """What happened to an amount that has no verb of its own."""
    last_entry = draft.newest()
    if last_entry is not None and last_entry.kind == "on_hand" and last_entry.quantity == 0:
        draft.doubts.append((len(draft.entries), "used, or left over?"))
        return kind_named(draft, stretch) or "used"
    if draft.awaiting:
        last = draft.last()
        return last.kind if last is not None and last.kind in STOCK_KINDS else None
    if any(is_a(atom, "STATE") and is_a(atom, "SPOIL") for atom in stretch.atoms):
        return "spoiled"
    return _told_kind(draft, stretch) or _put_there(draft, stretch) or _put_by_hand(draft, stretch)


def _told_kind(draft: Draft, stretch: Stretch) -> Kind | None:
    named = kind_named(draft, stretch)
    if named is not None and draft.verb not in (None, named):
        draft.doubts.append((len(draft.entries), f"{draft.verb}, or {named}?"))
    return named or draft.verb or _verb_behind(draft, stretch) or _strange_verb(draft, stretch)


def _put_there(draft: Draft, stretch: Stretch) -> Kind | None:
    """ "Six sticks of fascia, east wall": what is told of a place with no other word is on it."""
    facts = [other for other in draft.stretches if other.meaning not in _IDLE_BESIDE]
    placed = any(other.meaning == "place" for other in draft.stretches)
    alone = all(other.meaning == "more" and _is_counted(other.parts) for other in facts)
    named = "i" in stretch.parts or draft.subject is not None
    closed = max((other.end for other in draft.stretches), default=0)
    words = any(
        not _says_nothing(draft.atoms[at]) and not _is_of_later(draft, closed, at)
        for at in draft.unread
    )
    return "used" if placed and alone and named and not words else None


def _is_of_later(draft: Draft, closed: int, at: int) -> bool:
    """ "Ten tubes on the garage, that was a lot of gaps": said of it when all was told."""
    behind = draft.atoms[closed : at + 1]
    telling = ("DELIVER", "RETURN", "SPOIL", "NEED", "LEFTOVER", "COUNTED", "ISNOT", "NOTGOING")
    return bool(behind) and behind[0].pause and not has_any(behind, *telling)


def _put_by_hand(draft: Draft, stretch: Stretch) -> Kind | None:
    """ "On the west gable I put fifteen sticks of fascia"."""
    before = draft.before(stretch)
    if before is None or before.words != "put" or not _is_counted(stretch.parts):
        return None
    placed = any(other.meaning == "place" for other in draft.stretches)
    if not placed or has_any(draft.atoms, "EQUIPMENT", "NEED", "ONLIST", *_PLANS):
        return None
    draft.understood.add(stretch.start - 1)
    return "used"


_PLANS = ("FUTURE", "NOTGOING", "WILLBE")


def _is_counted(parts: Parts) -> bool:
    """True for so many pieces; a length or a bare fraction may as well be a measure."""
    unit, count = _unit(parts.get("u")), parts.get("n", ())
    if unit not in (None, "each"):
        return unit not in _NO_COUNT
    return "i" in parts and any(atom.char == NUM for atom in count)


_IDLE_BESIDE = {"place", "numbered place", "subject"}


def _says_nothing(atom: Atom) -> bool:
    return has_any((atom,), "FILLER", "AND", "ARTICLE")


def _verb_behind(draft: Draft, stretch: Stretch) -> Kind | None:
    """ "Two tubes of caulk and a gallon of paint used": the verb that closes a list."""
    last = stretch
    for other in draft.stretches:
        if other.start < stretch.end:
            continue
        if other.meaning in ("place", "numbered place"):
            if other.atoms[0].words == "up":
                return "used"  # "Nine j channel up on the garage wall".
            continue
        if other.meaning in _CLOSING:
            listed = "i" in other.parts and _amount_first(other)
            joined = is_a(draft.atoms[other.start - 1], "AND") or other.atoms[0].pause
            return cast(Kind, other.meaning) if listed and joined else None
        if other.meaning != "more":
            return None
        last = other
    return kind_named(draft, last, behind=True) if last is not stretch else None


_IDLE = {"ordered", "wanted", "asked", "counted", "showed", "opened", "moved", "stacked", "loaded"}
"""What is done with material without using it."""
_CLOSING = ("used", "delivered", "returned", "on_hand")


def _strange_verb(draft: Draft, stretch: Stretch) -> Kind | None:
    """ "Toenailed six two by fours": something was done with them, so they are used, it seems."""
    for at in range(stretch.start - 1, max(stretch.start - 4, -1), -1):
        atom = draft.atoms[at]
        if at not in draft.unread:
            return None
        if atom.char == OTHER and atom.words.endswith("ed") and atom.words not in _IDLE:
            draft.doubts.append((len(draft.entries), f"{atom.words!r}: were they used?"))
            draft.understood.add(at)
            return "used"
    return None


def _amount_first(stretch: Stretch) -> bool:
    count = stretch.parts.get("n") or stretch.parts.get("u", ())
    return bool(count) and count[0] is stretch.atoms[0]


def _was_verb(stretch: Stretch) -> bool:
    """ "Two were short" ends with such a verb and one word more."""
    return len(stretch.atoms) > 1 and is_a(stretch.atoms[-2], "WAS")


def _add_stock(draft: Draft, kind: Kind | None, parts: Parts, stretch: Stretch) -> bool:
    assert kind is not None
    quantity, why = _amount(parts, stretch)
    if kind == "used" and quantity is None and _is_gone(parts, stretch):
        kind, quantity, why = "on_hand", Fraction(0), None
    thing = _what(draft, parts, wanted=kind == "needed")
    if _is_nothing(draft, kind, quantity, parts, stretch) or thing is None:
        return False
    if quantity == 0 and kind in ("used", "spoiled", "delivered", "returned", "moved"):
        return draft.add(Entry("note", note=words_of(stretch.atoms)))
    if "c" in parts and _is_length_each(parts, stretch):
        return False
    cost, cost_whys = _cost(kind, parts, stretch, quantity)
    entry = Entry(
        kind,
        place=words_of((*parts["b"], *parts["p"])) if "p" in parts else _where(parts.get("r", ())),
        item=thing.item.name if thing.item else None,
        quantity=quantity,
        unit=thing.unit,
        reason=_reason(parts) if kind == "spoiled" else None,
        unit_cost=cost,
        carried=("item",) if thing.carried else (),
    )
    if kind == "moved":
        entry = as_before(draft, entry)
    if _said_before(draft, entry, stretch):
        return True
    if _is_offcut(parts):
        _name_whole_ones(draft, thing, entry, stretch)
    if _drop_unfinished(draft, entry):
        entry = replace(entry, carried=())  # "Need hangers, thirty".
    if draft.verb is None or not isinstance(stretch.atoms[0].value, Number):
        # "Used three, one scrapped, and two sticks of channel": the two were used.
        draft.verb = kind
    whys = [
        _of_those(draft, entry, stretch),
        _which(parts),
        _not_done(draft, kind, stretch),
        _how_long(parts),
        why,
        *thing.whys,
        *cost_whys,
        *ambiguous(stretch.atoms),
    ]
    if kind == "on_hand" and quantity == 0 and entry.item and _is_out(stretch):
        # What ran out is needed, and none of it is left.
        wanted = replace(entry, kind="needed", quantity=None)
        if stretch.atoms[0].words in _NEARLY_OUT:
            return draft.add(wanted, *whys)
        return draft.add(entry, *whys) and draft.add(wanted)
    return draft.add(entry, *whys)


def as_before(draft: Draft, entry: Entry) -> Entry:
    """ "Took six sheets to the mill job and two rolls of coil": all of it went there."""
    told = (*draft.context.standing, *draft.entries)
    last = next((one for one in reversed(told) if one.kind == "moved"), None)
    if last is None:
        return entry
    return replace(entry, from_job=last.from_job, to_job=last.to_job)


def _is_offcut(parts: Parts) -> bool:
    return has_any(parts.get("u", ()), "OFFCUT")


def _how_long(parts: Parts) -> str | None:
    """An offcut without a length is some part of a stick, and nobody knows which."""
    lengths = (atom.said.length for atom in parts.get("i", ()) if atom.said is not None)
    if not _is_offcut(parts) or any(lengths):
        return None
    return "how long is it? An offcut is no whole one"


def _name_whole_ones(draft: Draft, thing: _Thing, entry: Entry, stretch: Stretch) -> None:
    """ "One stick and a five foot offcut of F channel left": the stick is of it too, and of nothing
    that was spoken of before."""
    last, at = draft.newest(), len(draft.entries) - 1
    if last is None or thing.item is None or not draft.joined(stretch):
        return
    unnamed = last.item is None or "item" in last.carried
    if last.kind == entry.kind and unnamed and last.note is None:
        unit, why = _unit_of(thing.item, last.unit)
        carried = tuple(name for name in last.carried if name != "item")
        draft.entries[at] = replace(last, item=entry.item, unit=unit, carried=carried)
        draft.doubts = [doubt for doubt in draft.doubts if doubt != (at, _OF_WHAT)]
        draft.doubts += [(at, why)] if why else []


def _of_those(draft: Draft, entry: Entry, stretch: Stretch) -> str | None:
    """ "Two of those went on the garage": of what was counted before, or as many more?"""
    last = draft.last()
    same = last is not None and (last.kind, last.item) == (entry.kind, entry.item)
    if not same or "item" not in entry.carried or not has_any(stretch.atoms, "OFTHEM"):
        return None
    return "of what was counted before, or more of it?"


def _is_gone(parts: Parts, stretch: Stretch) -> bool:
    """ "The last of the paint is gone": how much it was is not said, but none is left."""
    last = "n" in parts and "u" not in parts and is_a(parts["n"][-1], "LASTOF")
    return last and any("gone" in atom.words.split() for atom in stretch.atoms)


def _is_out(stretch: Stretch) -> bool:
    return any(is_a(atom, "OUTOF") and _RAN_OUT & {*atom.words.split()} for atom in stretch.atoms)


_RAN_OUT = {"out", "outta"}
_NEARLY_OUT = ("about out of", "running out of")


def _is_nothing(
    draft: Draft, kind: Kind, quantity: Fraction | None, parts: Parts, stretch: Stretch
) -> bool:
    """True where the words are no amount after all."""
    item = _named(parts)
    if quantity == 0 and kind != "on_hand" and (item is None or stretch.meaning == "more"):
        return True
    bare = not ({"i", "x", "u"} & parts.keys())
    if bare and kind != "needed" and _only_an_article(parts):
        return True
    if kind != "on_hand" or "x" in parts or item or parts.get("u") or draft.subject or draft.verb:
        return False
    return not any(is_a(atom, "LEFTOVER") for atom in stretch.atoms)


@dataclass(frozen=True)
class _Thing:
    """What an amount is of; `carried` when the item was said before, not now."""

    item: Item | None
    unit: str | None
    carried: bool = False
    whys: tuple[str | None, ...] = ()


def _what(draft: Draft, parts: Parts, *, wanted: bool = False) -> _Thing | None:
    """None where what is named is a length of nothing."""
    unit = _unit(parts.get("u"))
    item = _named(parts)
    if "x" in parts and item is None:
        item = Item(words_of(parts["x"]).removeprefix("of "), "each")
    item = item or draft.subject
    carried = item is None
    if item is None:
        item = _carried_item(draft, unit)
    if item is None:
        return None if _is_length(parts, unit) else _Thing(None, unit, whys=(_OF_WHAT,))
    if item_named(draft.vocabulary, item.name) is None:
        return _Thing(item, unit or item.unit, carried=carried)
    loose = bool(parts.get("u")) and parts["u"][0].words in _LOOSE
    unit, why = _unit_of(item, None if loose else unit, wanted=wanted)
    pieces = _counts_pieces(parts) if "i" in parts else _counts_many(parts)
    if not carried and item.unit in _BY_WEIGHT and pieces:
        return _Thing(item, "each", whys=(f"so many {item.name}, or so many {item.unit}?",))
    return _Thing(item, unit, carried=carried, whys=(why,))


_BY_WEIGHT = ("lb", "box")
"""Units of what is sold by the pound or the box, and seldom counted by the piece."""


def _counts_pieces(parts: Parts) -> bool:
    """True for "two hundred screws"; "six of staples" are so many of their own unit."""
    by_unit = bool(parts.get("u")) or any(atom.words == "of" for atom in parts.get("i", ()))
    counted = (isinstance(a.value, Number) or is_a(a, "DOZEN") for a in parts.get("n", ()))
    return not by_unit and any(counted)


def _counts_many(parts: Parts) -> bool:
    """True for "screws, two hundred", not for "a box of staples, used one"."""
    most = [a.value.value for a in parts.get("n", ()) if isinstance(a.value, Number)]
    return not parts.get("u") and any(value > _FEW for value in most)


_FEW = 12
"""Boxes or pounds that are used at once, at most."""


def _not_done(draft: Draft, kind: Kind, stretch: Stretch) -> str | None:
    """A doubt whether it has happened at all."""
    if kind != "needed":
        return "is that done, or still to do?" if _is_ahead(draft, stretch) else None
    short = _amount_first(stretch) and _was_verb(stretch)
    return "so many are missing, or so many are too short?" if short else None


def _is_length_each(parts: Parts, stretch: Stretch) -> bool:
    """ "A pair, thirty six and a quarter each" is a length."""
    return not has_any(stretch.atoms, *_BUYING) and any(_is_part(atom) for atom in parts["c"])


def _cost(
    kind: Kind, parts: Parts, stretch: Stretch, quantity: Fraction | None
) -> tuple[Decimal | None, list[str | None]]:
    """What one of it costs, and doubts about that."""
    if "c" not in parts:
        return None, []
    cost, why = _unit_cost(parts, quantity)
    whys = [None if has_any(stretch.atoms, *_BUYING) else "a price, or a length?", why]
    if kind == "delivered":
        return cost, whys
    return None, [*whys, "a price, of what did not come?"]


_BUYING = ("MONEY", "DELIVER", "PAID", "PUT")


def _is_part(atom: Atom) -> bool:
    """True for a fraction as of an inch; prices have decimals."""
    return isinstance(atom.value, Number) and atom.value.fraction and not atom.value.decimal


def _named(parts: Parts) -> Item | None:
    """The item named; of two names in a row the last: "a downspout elbow"."""
    return next(reversed(_items(parts)), None)


def _which(parts: Parts) -> str | None:
    items = _items(parts)
    return f"{items[0].name} or {items[-1].name}?" if len(items) > 1 else None


def _items(parts: Parts) -> list[Item]:
    return [cast(Item, atom.value) for atom in parts.get("i", ()) if atom.char == ITEM]


def _is_ahead(draft: Draft, stretch: Stretch) -> bool:
    """True for "taking back two rolls tomorrow"."""
    after = draft.behind(stretch)
    told_to = draft.atoms[0].words in ("return", "use", "take back", "send back", "bring back")
    return told_to or (after is not None and is_a(after, "FUTURE"))


def _said_before(draft: Draft, entry: Entry, stretch: Stretch) -> bool:
    """ "Used fifteen siding panels, yeah, fifteen": said twice, and once meant."""
    last = draft.newest()
    if last is None or stretch.meaning != "more" or {"i", "u"} & stretch.parts.keys():
        return False
    if stretch.end < len(draft.atoms) or is_a(draft.atoms[stretch.start - 1], "AND"):
        return False
    if entry.quantity != last.quantity or last.kind != entry.kind:
        return False
    draft.forget_doubts()
    draft.doubts.append((len(draft.entries) - 1, "said twice: once more, or again?"))
    return True


def _drop_unfinished(draft: Draft, entry: Entry) -> bool:
    """Takes out what was begun, and then said in full, or denied: "used eight, hang on, eight
    hangers". True where the item was named there, and how many of it only now."""
    last = draft.newest()
    if last is None or last.kind != entry.kind or last.note is not None or draft.awaiting:
        return False
    begun = last.item is None and entry.item is not None and last.quantity == entry.quantity
    vague = last.quantity is None and last.item == entry.item and entry.quantity is not None
    out = last.quantity == 0 and last.kind == "on_hand" and entry.item == last.item
    if begun or vague or out:
        draft.entries.pop()
        draft.forget_doubts()
    return vague


def _is_length(parts: Parts, unit: str | None) -> bool:
    """True for "fifteen and a half feet" and "nineteen and five eighths" of nothing named."""
    return unit in ("in", "ft") or (
        unit is None and any(atom.char in (MIX, FRAC) for atom in parts.get("n", ()))
    )


def _only_an_article(parts: Parts) -> bool:
    """True for the "a" of "got a delivery": no amount."""
    return "n" in parts and all(atom.words in ("a", "an", "both") for atom in parts["n"])


def _amount(parts: Parts, stretch: Stretch) -> tuple[Fraction | None, str | None]:
    if any(is_a(atom, "NOTANY") or is_a(atom, "OUTOF") for atom in stretch.atoms):
        return Fraction(0), None
    if stretch.meaning == "on_hand" and "u" not in parts:
        gone = stretch.atoms[0].words == "nothing" or is_a(stretch.atoms[0], "LASTOF")
        if gone and "n" not in parts:
            return Fraction(0), None
    if "n" in parts:
        if is_a(parts["n"][-1], "LASTOF") and words_of(parts.get("u", ())) not in _SINGLE:
            return None, "how many?"
        return _count(parts["n"], parts.get("h"))
    if "h" in parts:
        return _count((), parts["h"])
    unit, name = words_of(parts.get("u", ())), words_of(parts.get("i", ())).split()
    single = unit in _SINGLE if unit else bool(name) and name[-1] in _SINGLE
    single = single or any(atom.words in ("a", "an") for atom in stretch.atoms)
    # "Box of nails" and "her elbow" are one; "gallon backing" and "these vent" may be misheard.
    named = any(
        atom.words == "of" or (is_a(atom, "ARTICLE") and atom.words not in _NOT_ONE)
        for atom in stretch.atoms
    )
    if single and named and "i" in parts:
        return Fraction(1), None
    running_low = any(atom.words in _RUNNING_LOW for atom in stretch.atoms)
    return None, None if running_low else "how many?"


_NOT_ONE = ("these", "those", "some")
_SINGLE = frozenset(
    "sheet stick piece box roll bundle tube pair length panel strip board gallon bag pail can case "
    "post elbow vent downspout louver hanger nailer four six eight".split()
) | {"a piece"}
"""Words for one of something; "the siding" may be any number."""


def _carried_item(draft: Draft, unit: str | None) -> Item | None:
    """The item spoken of just before, when the unit said now can be a unit of it."""
    before = (*draft.context.standing, *draft.entries)
    named = [entry.item for entry in reversed(before) if entry.item]
    if draft.context.item and not any(entry.item for entry in draft.entries):
        named.insert(0, draft.context.item)
    for name in named[:_REMEMBERED]:
        item = item_named(draft.vocabulary, name)
        if item is None:
            own = next((entry.unit for entry in reversed(before) if entry.item == name), None)
            return Item(name, own or unit or "each")
        if unit is None or unit in (item.unit, *dict(item.also), *_COUNTED):
            return item
    return None


_REMEMBERED = 6
"""Items back that "three more sticks" may be of; the last one that is counted so."""


# Ways of saying "one of it" that mean the item's own unit.
_COUNTED = {"each"}
_LOOSE = {
    "panel": "sheet", "panels": "sheet", "strip": "stick", "strips": "stick", "board": "stick",
    "boards": "stick", "length": "stick", "lengths": "stick", "piece": "each", "pieces": "each",
    "a piece": "each", "offcut": "each", "offcuts": "each", "cutoff": "each", "cutoffs": "each",
}  # fmt: skip
_RUNNING = {"linear feet": "ft", "running feet": "ft"}


def _unit(atoms: tuple[Atom, ...] | None) -> str | None:
    if not atoms:
        return None
    word = atoms[0].words
    return _LOOSE.get(word) or _RUNNING.get(word) or unit_named(word) or word.removesuffix("s")


def _unit_of(item: Item, said: str | None, *, wanted: bool = False) -> tuple[str, str | None]:
    if said is None or said in _COUNTED or said == item.unit:
        return item.unit, None
    if said in ("ft2", "square", "ft"):
        return said, None
    if said in dict(item.also) or {said, item.unit} <= {"ft2", "square"} or said == "pair":
        return said, None
    if {said, item.unit} <= {"in", "ft"}:
        return said, None
    if wanted and said in _BY_WEIGHT and item.unit in _BY_WEIGHT:
        return said, None  # Nails are bought by the box as well as by the pound.
    return said, f"{item.name} is counted by the {item.unit}, not by the {said}"


def _count(
    atoms: Sequence[Atom], half: Sequence[Atom] | None
) -> tuple[Fraction | None, str | None]:
    """How many the words say, and a doubt where they leave one."""
    value: Fraction | None = None if atoms else Fraction(1)
    why: str | None = None
    for at, atom in enumerate(atoms):
        if isinstance(atom.value, Number):
            value, why = _counted_on(value, atom, atom.value, atoms[:at], why)
        else:
            value, why = _counted_by_word(value, atom, atoms, why)
    if half and value is not None:
        value += sum(cast(Number, a.value).value for a in half if a.char == FRAC)
    return value, why


def _counted_on(
    value: Fraction | None, atom: Atom, number: Number, before: Sequence[Atom], why: str | None
) -> tuple[Fraction, str | None]:
    if atom.char == FRAC and any(is_a(one, "DOZEN") for one in before):
        return (value or 0) + 12 * number.value, why  # "A dozen and a half".
    if value is not None and before[-1].words != "another":
        return value, f"{tape(value)}, or {tape(number.value)}?"
    return number.value, why


def _counted_by_word(
    value: Fraction | None, atom: Atom, atoms: Sequence[Atom], why: str | None
) -> tuple[Fraction | None, str | None]:
    counted = any(isinstance(one.value, Number) for one in atoms)
    if is_a(atom, "DOZEN"):
        return (value if value is not None else Fraction(1)) * 12, why
    if is_a(atom, "LASTOF") and counted:
        return value, why
    for name, (number, doubt) in _COUNT_WORDS.items():
        if is_a(atom, name):
            return value if number is None else number, doubt.format(atom.words) or why
    if atom.words in ("a", "an", "another") and value is None:
        return Fraction(1), why
    return value, why


_COUNT_WORDS: dict[str, tuple[Fraction | None, str]] = {
    "NONE": (Fraction(0), ""),
    "COUPLE": (Fraction(2), "a couple: exactly two?"),
    "ONEMORE": (Fraction(1), ""),
    "AFULL": (Fraction(1), ""),
    "LASTOF": (Fraction(1), ""),
    "BOTHOF": (Fraction(2), ""),
    "VAGUE": (None, "{!r} is how many?"),
    "ABOUT": (None, "only roughly: {!r}"),
}
"""How many such a word says, None where it leaves that open, and the doubt that it brings."""


def _where(reason: tuple[Atom, ...]) -> str | None:
    """The place named in a reason; "split on the rake" names nothing else."""
    only = find("WHERE", reason[1:]) if reason and is_a(reason[0], "IN") else ()
    if only and only[-1] is reason[-1] and len(only) >= len(reason) - 2:
        return name_of(only)
    return place_in(reason)


def _without_place(reason: tuple[Atom, ...]) -> tuple[Atom, ...]:
    """Why, without where: "on the north eave, cut too short". What "fell off the north eave" is
    told so."""
    named = naming_place(reason)
    if not named:
        return reason
    first = next(at for at, atom in enumerate(reason) if atom is named[0])
    end = first + len(named)
    while first and (is_a(reason[first - 1], "ARTICLE") or reason[first - 1].words in _AT_IT):
        first -= 1
    before = reason[first - 1] if first else None
    if before is not None and is_a(before, "IN") and not reason[first].pause:
        return reason
    return (*reason[:first], *reason[end:])


_AT_IT = ("on", "at", "in", "along", "for", "over", "up on", "out on", "up at")


def _reason(parts: Parts) -> str | None:
    state = words_of(parts.get("v", ()))
    because = words_of(_without_place(parts.get("r", ())))
    vague = ("scrapped", "spoiled", "wasted", "scrap", "threw out", "threw away", "tossed", "lost")
    if state in vague and because:
        return because
    return " ".join(part for part in (state, because) if part) or None


def money_in(atoms: Sequence[Atom]) -> Decimal | None:
    """What is said of money: "fifteen ninety", "two dollars and ten cents"."""
    return _unit_cost({"c": tuple(atoms), "per": ()}, None)[0]


def _unit_cost(parts: Parts, quantity: Fraction | None) -> tuple[Decimal | None, str | None]:
    """What one costs: said of one ("at", "each"), else the total divided."""
    total = Fraction(0)
    bare: list[Fraction] = []
    why: str | None = None
    each = "per" in parts or ("f" not in parts and words_of(parts.get("w", ())) == "at")
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
        if 1 <= bare[0] < 10 and bare[1] >= 10 and not each and (quantity or 1) >= _MANY:
            hundreds = bare[0] * 100 + bare[1]
            why = f"{bare[0]}.{int(bare[1]):02} or {hundreds} dollars?"
            total = hundreds if total < (quantity or 1) else total
    elif bare:
        total += bare[0] if not total else bare[0] / 100
    if each:
        return money(total), why
    if not quantity:
        return None, "a price, but for how many?"
    share = total / quantity
    if why:
        return money(share), why
    if (share * 100).denominator != 1:
        return money(share), "the price does not divide evenly: rounded to the cent"
    return money(share), None


_MANY = 5
"""From so many on, "two seventy" for all of them may well be hundreds."""


def add_price(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """A price said after the delivery it belongs to."""
    last = draft.entries[-1] if draft.entries else draft.context.last
    if last is None or last.kind != "delivered" or last.unit_cost is not None:
        return False
    money = any(is_a(atom, "MONEY") for atom in parts["c"])
    if not money and not ({"w", "per", "f"} & parts.keys()):
        if stretch.end < len(draft.atoms) or not draft.entries:
            return False
        draft.doubts.append((len(draft.entries) - 1, "is that the price?"))
    cost, why = _unit_cost(parts, last.quantity)
    if not draft.entries:
        draft.awaiting = True
        return draft.add(replace(last, unit_cost=cost, carried=()), why)
    draft.entries[-1] = replace(last, unit_cost=cost)
    draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
    return True


def add_price_of(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Thirty two bucks a sheet for the vented and thirty for the solid": each of its own."""
    named = parts["x"][0]
    meant = [
        at
        for at, entry in enumerate(draft.entries)
        if entry.kind == "delivered" and entry.unit_cost is None and _is_of(entry, named)
    ]
    bare = not has_any(stretch.atoms, "MONEY", "EACH", "UNIT")
    priced = any(entry.unit_cost is not None for entry in draft.entries)
    if len(meant) != 1 or (bare and not priced):
        return False
    one = {**parts, "per": (named,)}
    cost, why = _unit_cost(one, draft.entries[meant[0]].quantity)
    draft.entries[meant[0]] = replace(draft.entries[meant[0]], unit_cost=cost)
    draft.doubts.extend([(meant[0], why)] if why else [])
    return True


def _is_of(entry: Entry, named: Atom) -> bool:
    """Whether the item of an entry is called so, or has that profile or colour."""
    if isinstance(named.value, Item):
        return entry.item in (named.value.name, named.value.variant_of)
    said = (entry.item or "", entry.profile or "", entry.colour or "")
    return any(f" {named.words} " in f" {words.lower()} " for words in said)


def _calls_for(atom: Atom) -> bool:
    """Words that ask for material rather than for a hand, a tool or silence."""
    unsure = (*_UNSURELY_NEEDED, "short")
    return (is_a(atom, "NEED") and atom.words not in unsure) or is_a(atom, "UNIT")


_UNSURELY_NEEDED = ("grab", "get me", "bring", "bring me", "bring up", "bring out", "fetch")


def add_request(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """Something is needed, in words that hold no plain amount of an item."""
    before = draft.before(stretch)
    denied = before is not None and before.words == "ain't"
    if denied or any(is_a(atom, "NOTGOING") for atom in stretch.atoms):
        return False
    wanted = find("WANTED", stretch.atoms)
    if wanted and wanted[0] is stretch.atoms[0] and item_in(wanted) is not None:
        return False
    item = item_in(stretch.atoms)
    first = next(atom for atom in stretch.atoms if is_a(atom, "NEED"))
    if item is None and (is_a(first, "MUST") or first.words in _UNSURELY_NEEDED):
        return False  # "Don't forget the lock code", "bring the forty foot ladder".
    if item is None and not any(_calls_for(atom) for atom in stretch.atoms):
        return False
    entry = Entry(
        "needed",
        item=item.name if item else None,
        note=words_of(stretch.atoms),
        place=place_in(stretch.atoms),
    )
    return draft.add(entry, "needed, but how many of what?")


_RUNNING_LOW = ("low on", "running low on", "short on", "shopping list", "on the list")
"""Words that ask for more without saying how many, as "ran out of" does."""


def amount_of(parts: Parts) -> tuple[Fraction | None, str | None]:
    """How many are counted in the parts of an amount, and a doubt."""
    return _count(parts["n"], parts.get("h")) if "n" in parts else (None, "how many?")


def thing_of(draft: Draft, parts: Parts) -> tuple[Entry, tuple[str | None, ...]] | None:
    """An entry that holds the item of an amount and its unit, and doubts about them."""
    thing = _what(draft, parts)
    if thing is None:
        return None
    entry = Entry("note", item=thing.item.name if thing.item else None, unit=thing.unit)
    return entry, thing.whys
