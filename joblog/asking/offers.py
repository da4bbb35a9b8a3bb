"""What may answer a doubt besides what else was heard: from the doubt's own words, from plan,
catalog and day. One function for each `Offer` that the table of doubts names.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from datetime import time as clock_time
from datetime import timedelta
from fractions import Fraction
from typing import Any

from joblog.asking.doubts import Doubt, Offer
from joblog.asking.setting import Candidate, Setting, alone
from joblog.dictation import Context, read
from joblog.form import FIELDS as FIELDS_OF
from joblog.form import unit_shown
from joblog.model import STOCK, STOCK_KINDS, BookEntry, Entry, Item, Kind, Settled
from joblog.quantity import money, tape
from joblog.reconcile.units import in_unit_of

Offering = Callable[[Setting, Doubt], Iterator[Candidate]]


def _each(of_one: Callable[[BookEntry, Setting, Doubt], Iterator[Candidate]]) -> Offering:
    """An offer that is made for each entry by itself, and for several only what fits all."""

    def offered(setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
        each = [_by_change(kept, of_one(kept, setting, doubt)) for kept in setting.asked]
        for change, first in each[0].items():
            row = [one[change] for one in each if change in one]
            if len(row) == len(each):
                settles = tuple(settled for one in row for settled in one.settles)
                yield Candidate(settles, first.weight, first.because)

    return offered


def _by_change(kept: BookEntry, candidates: Iterator[Candidate]) -> dict[object, Candidate]:
    """Candidates by what they change of an entry, so that one change can be made to several."""
    found: dict[object, Candidate] = {}
    for one in candidates:
        becomes = one.settles[0].becomes
        changes = frozenset(
            (name, getattr(becomes, name))
            for name in _NAMES
            if becomes is not None and getattr(becomes, name) != getattr(kept.entry, name)
        )
        found.setdefault((becomes is None, changes, one.because, len(one.settles)), one)
    return found


_NAMES = tuple(one.name for one in fields(Entry) if one.name != "carried")


def _with(kept: BookEntry, **told: Any) -> Entry:
    carried = tuple(name for name in kept.entry.carried if name not in told)
    return replace(kept.entry, **told, carried=carried)


# --- the doubt's own words --------------------------------------------------------------------


def _ways(doubt: Doubt) -> list[str]:
    """What the doubt names, the way it names it: "10", "12 1/4 in", "1x6", "two"."""
    found: list[str] = []
    for name in ("one", "two", "ways", "said", "also", "number", "others", "planned", "came"):
        said = doubt.parts.get(name, "")
        if said:
            found += re.split(r",? or |, and | and (?=\d)|, (?=\d)", said)
    return [one.strip("' \"") for one in found]


def _numbers(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Its number as each of those that the doubt names, read as if it were put right so."""
    context = Context(
        at=setting.context.at, place=kept.entry.place, last=kept.entry, told=(kept.entry,)
    )
    for at, way in enumerate(dict.fromkeys(_ways(doubt))):
        for words in (f"make it {way}", way):
            entries = read(words, setting.vocabulary, context).entries
            made = entries[0].replacement or entries[0] if len(entries) == 1 else None
            if made is not None and made.kind == kept.entry.kind:
                same = replace(made, place=kept.entry.place, note=kept.entry.note)
                yield alone(kept, same, 0.3 * 0.8**at)
                break


def _kinds(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """What became of it, as the doubt names it, then as anything else that can become of it."""
    named = [kind for words, kind in KIND_WORDS if words in doubt.why]
    other = [kind for kind in _BECOMES if kept.entry.kind in STOCK_KINDS and kind not in named]
    for at, kind in enumerate((*dict.fromkeys(named), *other)):
        weight = 0.4 if kind in named else 0.03 * 0.8**at
        if kind == kept.entry.kind:
            continue
        if kind in STOCK_KINDS and kept.entry.kind in STOCK_KINDS:
            yield alone(kept, as_kind(kept.entry, kind), weight)
        else:
            yield from _read_as(kept, setting, kind, weight)


KIND_WORDS: tuple[tuple[str, Kind], ...] = (
    ("spoiled", "spoiled"), ("scrapped", "spoiled"), ("used", "used"), ("put in", "used"),
    ("bent to shape", "used"), ("off the truck", "delivered"), ("delivered", "delivered"),
    ("sent back", "returned"), ("returned", "returned"), ("left over", "on_hand"),
    ("on_hand", "on_hand"), ("on hand", "on_hand"), ("ever came", "delivered"),
    ("needed", "needed"), ("missing", "needed"), ("too short", "spoiled"),
    ("measured", "measure"), ("measure", "measure"), ("problem", "problem"), ("note", "note"),
    ("hours were worked", "labor"), ("a break", "break"), ("extra", "extra"),
)  # fmt: skip
"""Words of doubts, with what they call."""
_BECOMES: tuple[Kind, ...] = ("used", "spoiled", "delivered", "on_hand", "returned", "needed")


def as_kind(entry: Entry, kind: Kind) -> Entry:
    """The same fact as one of another kind, with all that such a one can hold."""
    keeps = (*FIELDS_OF[kind], "place", "note", "day", "carried")
    told: dict[str, Any] = {name: getattr(entry, name) for name in keeps}
    return Entry(kind, **told)


def _read_as(kept: BookEntry, setting: Setting, kind: Kind, weight: float) -> Iterator[Candidate]:
    """Its words as they would read with the word of that kind before or behind them."""
    words = kept.entry.note or kept.said
    if kind == "note":
        yield from _note(kept, setting, None)
        return
    for frame in _FRAMES.get(kind, ()):
        entries = setting.read(frame.format(words)).entries
        found = [one for one in entries if one.kind == kind and (one.item or kind != "needed")]
        if len(found) == 1:
            place = found[0].place or kept.entry.place
            yield alone(kept, replace(found[0], place=place), weight)
            return


_FRAMES: dict[Kind, tuple[str, ...]] = {
    "used": ("used {}",), "delivered": ("delivered {}",), "spoiled": ("scrapped {}",),
    "returned": ("returned {}",), "on_hand": ("{} left",), "needed": ("need {}",),
    "measure": ("{}", "measure {}"), "labor": ("worked {}",), "problem": ("problem {}",),
    "todo": ("have to {} tomorrow",), "break": ("break {}",),
}  # fmt: skip


def _verbs(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Mere words as a fact: what they would be as each kind, and what a part of them says."""
    for at, kind in enumerate(_BECOMES):
        yield from _read_as(kept, setting, kind, 0.2 * 0.8**at)
    yield from _parts(kept, setting, doubt)


def _parts(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The facts that the words from somewhere on say by themselves: "say started at nine"."""
    heard = doubt.parts.get("said") if doubt.kind.about == "kind" else None
    words = (heard or kept.entry.note or kept.said).split()[:_MOST_WORDS]
    for start in range(len(words)):
        found = setting.read(" ".join(words[start:]))
        if len(found.entries) == 1 and found.entries[0].kind not in ("note", "correction"):
            [made] = found.entries
            weight = 0.2 if not (found.doubts or found.unread) else 0.08
            yield alone(kept, replace(made, place=made.place or kept.entry.place), weight)


_MOST_WORDS = 16


def _note(kept: BookEntry, setting: Setting, doubt: Doubt | None) -> Iterator[Candidate]:
    """Words that count nowhere."""
    note = Entry("note", note=kept.entry.note or kept.said, place=kept.entry.place)
    yield alone(kept, note, 0.04, "counts nowhere")


def _gone_twice(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """It is no fact of its own: it says again what was said, or is part of it."""
    yield alone(kept, None, 0.5, NO_MORE.get(doubt.kind.about, "no fact of its own: drop it"))


NO_MORE = {"stock": "the same, said again: drop it", "kind": "not meant: drop it"}


def _still_to_do(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    yield alone(kept, Entry("todo", note=kept.said, place=kept.entry.place), 0.5, "not done yet")
    yield alone(kept, as_kind(kept.entry, "needed"), 0.1)


# --- numbers ------------------------------------------------------------------------------------


def _prices(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The price of one as that of all of them, and that of all as that of one; of what nobody
    measures, a price for the length."""
    entry = kept.entry
    if entry.kind == "measure":
        yield from _price_instead(kept, setting)
        return
    if entry.unit_cost is None or not entry.quantity or entry.quantity == 1:
        return
    for many, because in ((1 / entry.quantity, "for all of it"), (entry.quantity, "for each")):
        cost = money(Fraction(entry.unit_cost) * many)
        yield alone(kept, _with(kept, unit_cost=cost), 0.05, because)


def _price_instead(kept: BookEntry, setting: Setting) -> Iterator[Candidate]:
    """What is bought by weight, tube or roll has no length: "nails are seven forty" is $7.40."""
    item = setting.items.get(kept.entry.item or "")
    number = kept.entry.inches
    if item is None or item.unit in _LONG or number is None or number % 1:
        return
    for hundredth, weight in ((100, 0.4), (1, 0.1)):
        if hundredth == 1 or number >= 100:
            cost = money(number / hundredth)
            made = Entry("price", item=item.name, unit=item.unit, unit_cost=cost)
            yield alone(kept, made, weight)


_LONG = ("stick", "sheet", "each", "ft", "in", "yd", "sqft", "board foot")
"""What is counted so can be measured."""


def _fractions(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """A measure with the end of its fraction, which is easily lost: "seven and one sixty four"."""
    if kept.entry.kind != "measure":
        return
    heard = setting.utterance.hearings if setting.utterance else ()
    for text in dict.fromkeys((kept.said, *(one.text for one in heard))):
        for cut, whole in _ENDS:
            words = re.sub(
                rf"\b(and \w+|one|three|five|seven|nine) {cut}s?\b", rf"\1 {whole}", text
            )
            entries = setting.read(words).entries if words != text else ()
            if len(entries) == 1 and entries[0].kind == "measure":
                place = entries[0].place or kept.entry.place
                yield alone(kept, replace(entries[0], place=place), 0.03)


_ENDS = (
    ("sixty four", "sixty fourths"), ("thirty two", "thirty seconds"),
    ("thirty second", "thirty seconds"), ("sixteen", "sixteenths"), ("eight", "eighths"),
    ("four", "quarters"), ("a half", "half"),
)  # fmt: skip


def _so_many_of_it(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """A small number of it, in order, so that the key is the number; hours and minutes as they are
    usually told."""
    entry = kept.entry
    if entry.kind in STOCK_KINDS:
        for number in range(1, 10):
            yield alone(kept, _with(kept, quantity=Fraction(number)), 0.3 - number / 100)
    elif entry.kind == "labor":
        for at, hours in enumerate((8, 4, 2, 6, 3, 1, 5, 7)):
            yield alone(kept, _with(kept, hours=Fraction(hours)), 0.2 * 0.9**at)
    elif entry.kind == "break":
        for at, minutes in enumerate((30, 15, 60, 45, 20, 10)):
            yield alone(kept, _with(kept, minutes=Fraction(minutes)), 0.2 * 0.9**at)
    elif entry.kind == "measure" and entry.inches is not None and entry.inches % 1 == 0:
        yield from _counted(kept, setting, entry.inches)


def _counted(kept: BookEntry, setting: Setting, number: Fraction) -> Iterator[Candidate]:
    """So many of what was spoken of before, and of that what was done with it."""
    before = [one.entry for one in setting.around if one.at <= kept.at and one.id != kept.id]
    last = next((one for one in reversed(before) if one.item), None)
    if last is None or last.item is None:
        return
    item = setting.items.get(last.item)
    unit = item.unit if item else last.unit
    kinds = dict.fromkeys((*([last.kind] if last.kind in STOCK_KINDS else []), "used"))
    for at, kind in enumerate(kinds):
        made = Entry(kind, place=kept.entry.place, item=last.item, quantity=number, unit=unit)
        yield alone(kept, made, 0.15 * 0.7**at)


def _inches_or_feet(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    entry = kept.entry
    yield from _sides_otherwise(kept, entry)
    if entry.inches is None:
        return
    feet = "feet" in (entry.as_said or "") or "'" in (entry.as_said or "")
    parts = [(Fraction(1, 12), "in")] if feet else [(Fraction(12), "feet")]
    if "thousandths" in doubt.why:
        parts = [(Fraction(254, 10000), "thousandths")]
    for times, said in parts:
        inches = entry.inches * times
        yield alone(kept, _with(kept, inches=inches, as_said=f"{tape(inches)} {said}"), 0.2)
    fraction = entry.inches % 1
    if "of an inch" in doubt.why and fraction:
        yield alone(kept, _with(kept, inches=entry.inches - fraction + 12 * fraction), 0.3)
    feet_part = entry.inches % 12
    if "of an inch" in doubt.why and feet_part >= 1:
        yield alone(kept, _with(kept, inches=entry.inches - feet_part + feet_part / 12), 0.3)


def _sides_otherwise(kept: BookEntry, entry: Entry) -> Iterator[Candidate]:
    """Both measures of an area, an opening or an interruption in the other unit."""
    names = ("at", "length") if entry.kind == "interruption" else ("width", "height")
    one, other = (getattr(entry, name) for name in names)
    if one is None or other is None:
        return
    times = Fraction(12) if max(one, other) < IN_FEET else Fraction(1, 12)
    sides: dict[str, Any] = dict(zip(names, (one * times, other * times), strict=True))
    if entry.square_inches is not None:
        said = f"{tape(one)} feet by {tape(other)} feet" if times > 1 else None
        sides |= {"square_inches": one * other * times**2, "as_said": said}
    yield alone(kept, _with(kept, **sides), 0.2)


IN_FEET = 60
"""Inches; what is shorter on all sides, and may be of either, was taken for inches."""


def _pieces(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """So many pieces, of the length measured before; or so many of what was used before."""
    entry = kept.entry
    if entry.kind != "measure":
        return
    number = entry.inches
    if number is not None and number % 1 == 0:
        before = [one.entry for one in setting.around if one.at <= kept.at and one.id != kept.id]
        last = next((one for one in reversed(before) if one.inches is not None), None)
        if last is not None and last.kind == "measure" and last.pieces is None:
            yield alone(kept, replace(last, pieces=int(number), carried=()), 0.1)
        yield from _counted(kept, setting, number)
    if entry.pieces is not None and entry.inches is not None:
        yield alone(kept, _with(kept, pieces=None), 0.1)


def _joined(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """With the number said just before it as one: "one forty four" is 144, "nine, and a half"."""
    mine = kept.entry.inches
    ids = [one.id for one in setting.breath]
    before = setting.breath[ids.index(kept.id) - 1] if kept.id in ids[1:] else None
    if before is None:
        earlier = [one for one in setting.around if (one.at, one.id) < (kept.at, kept.id)]
        before = earlier[-1] if earlier else None
    if before is None or mine is None or before.entry.inches is None:
        return
    first = before.entry.inches
    joined: list[Fraction] = []
    if first % 1 == 0:
        if mine < 1:
            joined.append(first + mine)
        if first < 100 and 10 <= mine < 100:
            joined.append(first * 100 + mine)
        if first % 10 == 0 and mine < 10:
            joined.append(first + mine)
        if mine < 12:
            joined.append(first * 12 + mine)
    for at, inches in enumerate(joined):
        whole = replace(before.entry, inches=inches, as_said=tape(inches))
        settles = (Settled(kept.id, None, kept.said), Settled(before.id, whole, before.said))
        yield Candidate(settles, 0.3 * 0.8**at, f"one length: {tape(inches)} in")


def _units(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """So many of the item's own unit, of its packs, or by the piece."""
    entry = kept.entry
    item = setting.items.get(entry.item or "")
    if item is None or entry.quantity is None:
        return
    units = dict.fromkeys((item.unit, *(unit for unit, _ in item.also), "each"))
    for at, unit in enumerate(units):
        yield alone(kept, _with(kept, unit=unit), 0.2 * 0.8**at)
    if item.pack != 1 and entry.unit == item.pack_name:
        many = entry.quantity * item.pack
        because = f"{tape(item.pack)} {item.unit} to the {item.pack_name}"
        yield alone(kept, _with(kept, quantity=many, unit=item.unit), 0.5, because)


# --- things -------------------------------------------------------------------------------------


def _things(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """What is counted so: the only planned item first, then what was spoken of that day, then the
    rest of plan and catalog."""
    entry = kept.entry
    if "item" not in FIELDS_OF[entry.kind]:
        return
    planned = [line.item.name for line in setting.plan.items]
    spoken = Counter(one.entry.item for one in setting.around if one.entry.item)
    fitting = [item for item in setting.items.values() if _fits(item, entry)]
    own = [item for item in fitting if item.name in planned]
    uncounted = entry.unit is None and entry.quantity is None
    for item in fitting:
        if uncounted and not (spoken[item.name] or _is_named(item, kept)):
            continue  # Then any item at all would fit.
        weight = 0.02 + 0.05 * min(spoken[item.name], 4)
        because = ""
        if item.name in planned:
            weight += 0.2
            if len(own) == 1 and entry.unit not in (None, "each"):
                weight, because = (
                    0.9,
                    f"the only one counted in {unit_shown(item.unit, item.name, many=True)}",
                )
        yield alone(
            kept, _with(kept, item=item.name, unit=entry.unit or item.unit), weight, because
        )


def _others(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Where the item was not said but taken from before: the others of plan and day, those counted
    in the same unit first; where a word was not understood, also in what they are counted in."""
    from rapidfuzz.fuzz import WRatio

    entry = kept.entry
    if entry.kind not in STOCK_KINDS or "item" not in entry.carried or entry.quantity is None:
        return
    spoken = Counter(one.entry.item for one in setting.around if one.entry.item)
    lost = doubt.parts.get("said", "").strip("' ")
    named = (line.item.name for line in setting.plan.items)
    for name in dict.fromkeys((*named, *spoken)):
        item = setting.items.get(name or "")
        if item is None or item.name == entry.item:
            continue
        told = 0.04 * min(spoken[item.name], 4)
        if _fits(item, entry):
            yield alone(kept, _with(kept, item=item.name), 0.15 + told)
        elif lost:
            words = (item.unit, item.name, *item.spoken)
            like = max(WRatio(lost, word) for word in words) / 100
            made = _with(kept, item=item.name, unit=item.unit)
            yield alone(kept, made, 0.05 + told / 2 + 0.2 * like)


def _jobs(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The other jobs of the book, those called nearly so first, and stock."""
    from rapidfuzz.fuzz import WRatio

    name = "from_job" if kept.entry.from_job is not None else "to_job"
    said = doubt.parts.get("said") or doubt.parts.get("also") or ""
    for at, job in enumerate((*setting.vocabulary.jobs, STOCK)):
        like = WRatio(said.lower(), job.lower()) / 100
        yield alone(kept, _with(kept, **{name: job}), 0.1 * 0.9**at + 0.4 * like**2)


def _is_named(item: Item, kept: BookEntry) -> bool:
    words = f" {kept.entry.note or kept.said} ".lower()
    return any(f" {name.lower()} " in words for name in (item.name, *item.spoken))


def _fits(item: Item, entry: Entry) -> bool:
    if entry.unit is None or entry.quantity is None:
        return True
    if entry.unit == "each":
        return item.unit in ("each", "stick", "sheet")
    return in_unit_of(item, entry.quantity, entry.unit) is not None


def _items(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Items that are called nearly so, then those that are counted so."""
    from rapidfuzz.fuzz import WRatio

    said = doubt.parts.get("said") or kept.entry.item or ""
    if not said and kept.entry.kind not in STOCK_KINDS:
        # A depth is of no item, nor is money for the dump: only what was named is worth asking.
        for item in setting.items.values():
            if item.name in doubt.ways or _is_named(item, kept):
                yield alone(kept, _with(kept, item=item.name), 0.3)
        return
    for item in setting.items.values():
        names = (item.name, *item.spoken)
        like = max(WRatio(said, name) for name in names) / 100
        if like > _NEARLY and _fits(item, kept.entry):
            unit = item.unit if kept.entry.unit in (None, "each") else kept.entry.unit
            yield alone(kept, _with(kept, item=item.name, unit=unit), 0.4 * like)
    for one in _things(kept, setting, doubt):
        yield Candidate(one.settles, one.weight * 0.3, one.because)


_NEARLY = 0.7


def _variants(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The lines of the catalog that the doubt names by what tells them apart."""
    name = doubt.parts.get("name", "") or doubt.parts.get("said", "").split(",")[0]
    family = [
        item
        for item in setting.items.values()
        if name and name in (item.variant_of, item.name, *item.spoken)
    ]
    ways = _ways(doubt)
    planned = [line.item.name for line in setting.plan.items]
    for item in (*family, *setting.items.values()):
        told = " ".join(filter(None, (item.size, item.profile, item.colour)))
        if item.name in ways or (item in family and (not ways or told in ways)):
            weight = 0.5 if item.name in planned else 0.3
            yield alone(kept, _with(kept, item=item.name, unit=_unit_of(item, kept)), weight)
        elif item in family:
            weight = 0.1 if item.name in planned else 0.05
            yield alone(kept, _with(kept, item=item.name, unit=_unit_of(item, kept)), weight)


def _unit_of(item: Item, kept: BookEntry) -> str | None:
    unit = kept.entry.unit
    return item.unit if in_unit_of(item, Fraction(1), unit) is None else unit


def _tasks(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    from rapidfuzz.fuzz import WRatio

    said = doubt.parts.get("said") or doubt.parts.get("also") or kept.entry.note or ""
    names = dict.fromkeys(
        (
            *(task.name for task in setting.vocabulary.tasks),
            *(task.name for task in (setting.catalog.tasks if setting.catalog else ())),
        )
    )
    spoken = Counter(one.entry.task for one in setting.around if one.entry.task)
    for at, name in enumerate(names):
        like = WRatio(said, name) / 100 if said else 0.0
        weight = 0.1 * 0.95**at + 0.3 * like + 0.05 * min(spoken[name], 3)
        yield alone(kept, _with(kept, task=name), weight)


def _places(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """What the doubt names, then the places of the job, those spoken of that day first."""
    spoken = Counter(one.entry.place for one in setting.around if one.entry.place)
    named = [way for way in _ways(doubt) if way != "no place"]
    for place in dict.fromkeys((*named, *setting.vocabulary.places, *spoken)):
        weight = 0.3 if place in named else 0.02 + 0.02 * min(spoken[place], 4)
        yield alone(kept, _with(kept, place=place), weight)
    yield alone(kept, _with(kept, place=None), 0.1)


# --- people and times ---------------------------------------------------------------------------


def _workers(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    entry = kept.entry
    if "workers" not in FIELDS_OF[entry.kind]:
        return
    asked = doubt.kind.about == "whose"
    numbers = [int(one) for one in re.findall(r"\d+", doubt.why)] if asked else []
    named = [one for number in numbers for one in (number, number + 1)]
    people = dict.fromkeys((*named, *range(1, 5)))
    for at, many in enumerate(one for one in people if 0 < one <= 12):
        yield alone(kept, _with(kept, workers=many), 0.3 * 0.8**at)
    yield alone(kept, _with(kept, workers=None), 0.05)


def _whose_pay(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The helper's, those of all helpers, or everybody's."""
    entry = kept.entry
    if entry.kind != "labor" or entry.unit_cost is None:
        return
    one = "the helpers" if (entry.workers or 1) > 2 else "the helper"
    for rank, who in enumerate(dict.fromkeys((entry.who, one, None))):
        yield alone(kept, _with(kept, who=who), 0.5 * 0.8**rank)


def _clocks(setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    if {"hour", "ones"} <= doubt.parts.keys():
        yield from _clock_and_count(setting, doubt)
        return
    yield from _each(_clock)(setting, doubt)


def _clock(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Half a day off, what the doubt names, and when it was said."""
    entry = kept.entry
    if "time" not in FIELDS_OF[entry.kind]:
        return
    if entry.time is not None:
        other = entry.time.replace(hour=(entry.time.hour + 12) % 24)
        yield alone(kept, _with(kept, time=other), 0.4)
    yield from _numbers(kept, setting, doubt)
    at = setting.context.at
    if at is not None:
        for rank, minutes in enumerate((5, 15, 30)):
            down = at - timedelta(minutes=at.minute % minutes)
            told = clock_time(down.hour, down.minute)
            yield alone(kept, _with(kept, time=told), 0.2 * 0.7**rank, "when it was said")


def _clock_and_count(setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """Half past four and two sheets, or four and thirty two."""
    minutes, ones, many = (int(doubt.parts[name]) for name in ("minutes", "ones", "many"))
    hour = int(doubt.parts["hour"])
    for minute, count in ((0, many), (minutes, ones)):
        settles = []
        for kept in setting.asked:
            entry = kept.entry
            if entry.time is not None and entry.time.hour % 12 == hour % 12:
                entry = replace(entry, time=entry.time.replace(minute=minute))
            elif entry.quantity in (ones, many):
                entry = replace(entry, quantity=Fraction(count))
            settles.append(Settled(kept.id, entry, kept.said))
        yield Candidate(tuple(settles), 0.8)


def _days(kept: BookEntry, setting: Setting, doubt: Doubt) -> Iterator[Candidate]:
    """The day as it is read and those a week off, and the days around it."""
    at = setting.context.at
    if at is None:
        return
    today, day = at.date(), kept.entry.day
    near = [*([day + timedelta(days=7), day - timedelta(days=7)] if day else [])]
    ahead = kept.entry.kind in ("todo", "needed", "inspection", "visit")
    for off in (1, 2, 3, 4, 5) if ahead else (-1, -2, -3, -4, -5):
        near.append(today + timedelta(days=off))
    for rank, one in enumerate(dict.fromkeys(near)):
        yield alone(kept, _with(kept, day=None if one == today else one), 0.3 * 0.8**rank)
    yield alone(kept, _with(kept, day=None), 0.1, "that day")


OFFERS: dict[Offer, Offering] = {
    "clocks": _clocks,
    "days": _each(_days),
    "fractions": _each(_fractions),
    "gone twice": _each(_gone_twice),
    "inches or feet": _each(_inches_or_feet),
    "items": _each(_items),
    "jobs": _each(_jobs),
    "joined": _each(_joined),
    "kinds": _each(_kinds),
    "note": _each(_note),
    "numbers": _each(_numbers),
    "others": _each(_others),
    "pieces": _each(_pieces),
    "places": _each(_places),
    "prices": _each(_prices),
    "so many of it": _each(_so_many_of_it),
    "still to do": _each(_still_to_do),
    "tasks": _each(_tasks),
    "things": _each(_things),
    "units": _each(_units),
    "variants": _each(_variants),
    "verbs": _each(_verbs),
    "whose pay": _each(_whose_pay),
    "workers": _each(_workers),
}
