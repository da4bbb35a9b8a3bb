"""Time and labor: clocks, starts and stops, breaks, hours on tasks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import cast

from joblog.dictation.days import hour_to_go_by
from joblog.dictation.draft import Draft, Parts, whole_in, words_of
from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    ITEM,
    NUM,
    NUMBERS,
    OTHER,
    Atom,
    Stretch,
    has_any,
    is_a,
)
from joblog.dictation.numbers import Number
from joblog.dictation.places import name_of, place_in
from joblog.model import Entry, Kind, Vocabulary
from joblog.quantity import money, tape


def add_attendance(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    kind = cast(Kind, stretch.meaning)
    whys: list[str | None] = []
    last = draft.newest()
    if _is_of_others(draft, stretch) or ("t" not in parts and _is_for_a_day(draft, stretch)):
        return False
    if "t" in parts:
        if _is_no_clock(draft, parts, stretch):
            return False
        near = hour_to_go_by(draft)
        clock, why = time_of(parts["t"], near, kind)
        if clock is None:
            return False
        early = "that early?" if kind == "start" and clock.hour < 5 else None
        whys += [why or early, _roughly(parts["t"], stretch), _another(draft, stretch)]
        if "b" in parts and time_of(parts["b"], near, kind)[0] != clock:
            return False
        if last is not None and last.kind == kind and draft.timeless == len(draft.entries):
            draft.entries[-1] = replace(last, time=clock)  # "Packed up and left at five."
            return True
    elif (
        _before_a_number(draft, stretch)
        or _is_of_something_else(draft, stretch)
        or _of_a_thing(draft, stretch)
    ):
        return False
    elif last is not None and last.kind == kind and last.time and len(parts) == 0:
        return True  # "Lost the light at six forty, quit."
    elif draft.context.at is not None and hour_to_go_by(draft) == draft.context.at:
        clock = draft.context.at.time().replace(second=0, microsecond=0)
        whys.append(_at_that_number(draft, stretch))
    else:
        clock = None
        whys.append("when? No time was said")
    workers, why = hands(parts.get("w"))
    whys.append(why)
    if "t" not in parts:
        draft.timeless = len(draft.entries) + 1
    if "h" in parts:
        # A helper who comes or goes: the day itself neither starts nor stops.
        return draft.add(Entry(kind, time=clock), "how many are at work from then on?")
    note = words_of((*_without_leads(parts.get("gap", ())), *parts.get("y", ()))) or None
    place = place_in(parts["gap"]) if "gap" in parts else None
    return draft.add(Entry(kind, time=clock, workers=workers, note=note, place=place), *whys)


def _of_a_thing(draft: Draft, stretch: Stretch) -> bool:
    """ "One of them is started", "I started cutting frieze": no clock of the day's work."""
    before, after = draft.before(stretch), draft.behind(stretch)
    if before is not None and before.words in ("is", "was", "are", "were", "gets", "got"):
        return not stretch.atoms[0].pause
    doing = after is not None and not after.pause and len(stretch.atoms) == 1
    return doing and after is not None and after.words.endswith(("ing", "in", "in'"))


def _is_of_others(draft: Draft, stretch: Stretch) -> bool:
    """ "Building inspector came at ten": nobody who works here."""
    before = draft.before(stretch)
    led = (before,) if before is not None and not stretch.atoms[0].pause else ()
    driven = has_any(led, "EQUIPMENT", "SELLER")  # "Truck here at ten".
    return driven or has_any((*led, *stretch.atoms), "INSPECT", "CUSTOMER", "VISITOR")


def _is_for_a_day(draft: Draft, stretch: Stretch) -> bool:
    """ "Monday morning start on the garage": still to do."""
    plain = any(atom.words in ("start", "finish", "stop", "begin") for atom in stretch.atoms)
    return plain and has_any(draft.atoms, "DAYNAMED", "DAYAHEAD")


def _without_leads(gap: Sequence[Atom]) -> Sequence[Atom]:
    """The words between a verb and its time, without the day and what only leads to the time."""
    kept = [atom for atom in gap if not has_any((atom,), "DAYBACK", "DAYNAMED")]
    while kept and has_any((kept[-1],), "AT", "FILLER"):
        kept.pop()
    return kept


def _another(draft: Draft, stretch: Stretch) -> str | None:
    """A doubt where the time may be another day's, or another thing's than the work's."""
    before = draft.before(stretch)
    if before is not None and before.char == ITEM and not stretch.atoms[0].pause:
        return f"did the work start or stop then, or only {before.words!r}?"
    return None


def _at_that_number(draft: Draft, stretch: Stretch) -> str | None:
    """A doubt where no time was understood, and a number follows in the same breath."""
    for atom in draft.atoms[stretch.end :]:
        if atom.pause or is_a(atom, "AND"):
            return None
        if atom.char in NUMBERS:
            return f"now, or at {atom.words!r}?"
    return None


def _is_no_clock(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """A number that a unit follows, or a bare one that nothing marks as a time of day."""
    after = draft.behind(stretch)
    named = stretch.atoms[-1] is parts["t"][-1]
    if _counts_something(draft, parts["t"], stretch) or _is_year(draft, parts["t"]):
        return True
    if any(atom.pause for atom in parts["t"][1:] if atom.char == NUM):
        return True  # "Quit four, thirty minute lunch."
    if is_a(stretch.atoms[-1], "HOURWORD") and (whole_in(parts["t"]) or 0) < 100:
        return True  # "At 0700 hours" is a clock, "started four hours" is none.
    if stretch.atoms[0].words == "left" and any(atom.words == "right" for atom in draft.atoms):
        return True  # "Left at nine, right at ten."
    if len(_said_time(parts["t"])) > 1 or parts["t"][0].char != NUM:
        return False
    at = next(at for at, atom in enumerate(stretch.atoms) if atom is parts["t"][0])
    before = stretch.atoms[at - 1]
    marked = parts["t"][0].pause or _is_any(before, ("AT", "ABOUT", "UNTIL"))
    if not marked and named and after is not None and not after.pause and _is_any(after, _NAMING):
        return True  # "Finished four windows."
    strong = is_a(before, "START") or is_a(before, "STOP")
    return not marked and not strong


def _is_year(draft: Draft, clock: Sequence[Atom]) -> bool:
    """ "In nineteen fifty two"."""
    at = next(at for at, atom in enumerate(draft.atoms) if atom is clock[0])
    return at > 0 and draft.atoms[at - 1].words == "in" and whole_in(tuple(clock)) in (18, 19, 20)


def _counts_something(draft: Draft, clock: Sequence[Atom], stretch: Stretch) -> bool:
    """True where a unit follows: "nine inches", "twelve by eighteen"."""
    after = draft.behind(stretch)
    if after is None or stretch.atoms[-1] is not clock[-1]:
        return False
    return after.words in ("by", "in", "of") or _is_any(after, _COUNTING)


def _is_any(atom: Atom, names: Sequence[str]) -> bool:
    return has_any((atom,), *names)


_NAMING = ("OTHER", "PART", "SIDE", "EQUIPMENT", "COLOR", "DIMENSION")


def _said_time(clock: Sequence[Atom]) -> list[Atom]:
    return [atom for atom in clock if not is_a(atom, "ORSO") and not is_a(atom, "EXACT")]


_COUNTING = ("ITEM", "INCH", "FOOT", "METRIC", "HOURWORD", "MINUTE", "DEGREES", "PIECEWORD", "UNIT")


def _roughly(clock: Sequence[Atom], stretch: Stretch) -> str | None:
    """A doubt where the time is only about right: "about seven thirty"."""
    at = next(at for at, atom in enumerate(stretch.atoms) if atom is clock[0])
    before = stretch.atoms[at - 1] if at else None
    last = clock[-1]
    if is_a(last, "ORSO") and not isinstance(last.value, Number):
        return f"only roughly: {last.words!r}"
    if before is None or not is_a(before, "ABOUT") or before.words in ("around", "like"):
        return None
    return f"only roughly: {before.words!r}"


def _before_a_number(draft: Draft, stretch: Stretch) -> bool:
    """A time was said, but not one that could be read."""
    after = draft.atoms[stretch.end : stretch.end + 2]
    return any(atom.char in NUMBERS for atom in after)


def _is_of_something_else(draft: Draft, stretch: Stretch) -> bool:
    """ "Quit playing with that", "stop blinking", "took three tries to start": not the work."""
    before, after = draft.before(stretch), draft.behind(stretch)
    if before is not None and before.words == "to" and not stretch.atoms[0].pause:
        return True
    unread = after is not None and stretch.end in draft.unread
    return unread and after is not None and after.char == OTHER and not after.pause


def add_moment(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Had everybody swinging by seven twenty", said just then: a guess, always doubtful."""
    near = draft.context.at
    if near is None or draft.entries or draft.place or not stretch.start:
        return False
    kind: Kind = "start" if near.hour < 11 else "stop"
    clock, _ = time_of(parts["t"], near, kind)
    if clock is None or _counts_something(draft, parts["t"], stretch):
        return False
    passed = near - datetime.combine(near.date(), clock, near.tzinfo)
    named = any(_is_any(atom, ("ITEM", "SPOT", "PART", "DIMENSION")) for atom in draft.atoms)
    if named or not timedelta(minutes=-10) <= passed <= timedelta(minutes=45):
        return False
    return draft.add(Entry(kind, time=clock), f"did the day {kind} then, or something else?")


def add_span(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Worked seven to four thirty": a start and a stop."""
    spanning = stretch.atoms[0] is not parts["a"][0]
    proof = spanning or _is_timed(draft, parts, stretch)
    if _counts_something(draft, parts["b"], stretch) or not (proof or _goes_down(parts)):
        return False
    first, why = time_of(parts["a"], hour_to_go_by(draft), "start")
    second, other_why = time_of(parts["b"], hour_to_go_by(draft), "stop")
    if first is None or second is None:
        return False
    last = draft.newest()
    if last is not None and last.kind == "stop" and last.time and first < last.time:
        # "Eight to noon and one to five."
        first = first.replace(hour=first.hour + 12) if first.hour < 12 else first
        why = None if last.time <= first < second else why
    if first >= second:
        why = why or "a stop before its start?"
    workers, crew_why = hands(parts.get("w"))
    workers, draft.workers = workers or draft.workers, None
    unsure = None if proof else "from when to when, or a length?"
    draft.add(Entry("start", time=first, workers=workers), why, crew_why, unsure)
    return draft.add(Entry("stop", time=second, workers=workers), other_why, unsure)


def _is_timed(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """True when the words leave no doubt that the two numbers are times of day."""
    marked = any(_is_time_of_day(parts[name]) for name in ("a", "b"))
    crew = draft.workers is not None and stretch.start > 0
    before = draft.made_by.get(len(draft.entries) - 1)
    again = before is not None and before.meaning == "span"
    twice = sum(is_a(atom, "UNTIL") for atom in draft.atoms) > 1
    plain = not any(_is_any(atom, ("INCH", "FOOT", "UNIT", "ITEM")) for atom in draft.atoms)
    return (
        marked
        or crew
        or again
        or (twice and plain)
        or any(is_a(atom, "BREAK") for atom in draft.atoms)
    )


def _is_time_of_day(atoms: Sequence[Atom]) -> bool:
    if any(atom.char == CLOCK or any(is_a(atom, n) for n in _DAYTIME) for atom in atoms):
        return True
    numbers = [atom.value.whole for atom in atoms if isinstance(atom.value, Number)]
    return len(numbers) == 2 and numbers[1] in (15, 30, 45) and (numbers[0] or 13) <= 12


_DAYTIME = ("NOON", "OCLOCK", "AM", "PM", "PAST")


def _goes_down(parts: Parts) -> bool:
    """ "Eight to four": a day's work; a range of lengths would go up."""
    first, second = whole_in(parts["a"]), whole_in(parts["b"])
    return first is not None and second is not None and 5 <= first <= 11 and 1 <= second < first


def add_break(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    workers, crew_why = hands(parts.get("w"))
    before = draft.before(stretch)
    if before is not None and before.char == ITEM and is_a(stretch.atoms[0], "EATING"):
        return False  # "Gutters ate two hours."
    if "y" in parts and _task_with(draft.vocabulary, parts["y"]) is not None:
        return False  # "Took four hours to hang siding."
    if "m" in parts:
        number = cast(Number, parts["m"][0].value).value
        after = draft.atoms[stretch.end : stretch.end + 1]
        if number not in _IDIOM or any(atom.words.partition(" ")[0] == "to" for atom in after):
            return False
        return draft.add(Entry("break", minutes=number))
    if not _is_one_number(parts.get("d", ())) or _is_still_to_come(parts, stretch):
        return False
    if "y" in parts and _names_task(draft, parts["y"], stretch):
        return False
    if "n" in parts:
        number = cast(Number, parts["n"][0].value).value
        if number % 5 or not 0 < number <= 60:
            return False
        last = is_a(stretch.atoms[-1], "BREAK") or "t" in parts
        whys = "minutes, or the time?" if number <= 12 and not last else None
        after = draft.atoms[stretch.end : stretch.end + 1]
        if any(_is_any(atom, ("MINUTE", "HOURWORD", "OCLOCK", "AM", "PM")) for atom in after):
            return False
        clock, why = None, None
        if "t" in parts:
            clock, why = time_of(parts["t"], hour_to_go_by(draft), "break")
        return draft.add(Entry("break", time=clock, minutes=number), whys, why)
    clock, why = None, None
    if "t" in parts:
        clock, why = time_of(parts["t"], hour_to_go_by(draft), "break")
        if clock is None:
            return False
    if "d" in parts:
        minutes, other_why = duration(parts["d"], bare=1)
        entry = Entry("break", time=clock, minutes=minutes, workers=workers)
        return draft.add(entry, why, other_why, crew_why)
    if "t" in parts:
        return draft.add(Entry("break", time=clock), why, "how long was the break?")
    between = _between(draft, parts)
    if between is None:
        return False
    clock, minutes, why = between
    return draft.add(Entry("break", time=clock, minutes=minutes), why)


def _names_task(draft: Draft, why: Sequence[Atom], stretch: Stretch) -> bool:
    """ "Took four hours to hang siding"."""
    behind = draft.atoms[stretch.end : stretch.end + 2]
    return (
        why[0].words == "to" and task_named(draft.vocabulary, words_of((*why, *behind))) is not None
    )


_IDIOM = (5, 10, 15)
"""Minutes one "takes"."""


def _between(draft: Draft, parts: Parts) -> tuple[time, Fraction, str | None] | None:
    first, why = time_of(parts["a"], hour_to_go_by(draft), "break")
    second, other_why = time_of(parts["b"], hour_to_go_by(draft), "break")
    if first is None or second is None:
        return None
    minutes = (second.hour * 60 + second.minute - first.hour * 60 - first.minute) % (12 * 60)
    return first, Fraction(minutes), why or other_why


def add_crew(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    workers, why = hands(parts.get("w"))
    for at in range(len(draft.entries) - 1, -1, -1):
        entry = draft.entries[at]
        if entry.kind in ("weather", "note"):
            continue  # "Three hours on siding, it was hot, two of us."
        if entry.kind not in _CREWED or entry.workers is not None:
            break
        draft.entries[at] = replace(entry, workers=workers)
        draft.doubts.extend([(at, why)] if why else [])
        before = draft.entries[at - 1] if at else None
        if before is None or (before.kind, entry.kind) != ("start", "stop"):
            return True
    else:
        at = -1
    if 0 <= at < len(draft.entries) - 1:
        return True
    if stretch.end == len(draft.atoms):
        return not draft.entries and put_crew(draft, parts)
    draft.workers = workers
    return True


def put_crew(draft: Draft, parts: Parts, again: bool = False) -> bool:
    """ "By myself": who was at what was told before; `again` where it was told otherwise."""
    workers, why = hands(parts.get("w"))
    last = draft.last()
    if workers is None or last is None or last.kind not in _CREWED:
        return False
    if last.workers is not None and not again:
        return False
    draft.awaiting = True
    return draft.add(replace(last, workers=workers, carried=()), why)


_CREWED = ("start", "stop", "labor", "break")


def add_labor(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    last = draft.newest()
    if not _is_one_number(parts.get("d", ())):
        return False
    if stretch.meaning == "more labor" and (last is None or last.kind != "labor"):
        return False
    named = _worked(draft, parts)
    if named is None:
        return False
    minutes, why = named
    workers, hands_why = hands(parts.get("w"))
    workers = workers or draft.workers
    whys = [why, hands_why, _another(draft, stretch) if "d" in parts else None]
    if minutes is not None and _together(parts.get("d", ())):
        minutes = minutes / workers if workers else minutes
        whys.append(None if workers else "hours of how many people?")
    hours = None if minutes is None else minutes / 60
    entry = _on_a_task(Entry("labor", hours=hours, workers=workers), draft, parts, stretch)
    if entry is None:
        return False
    if "task" not in parts:
        whys.append("hours on which task?")
    elif entry.task is None:
        whys.append(f"{entry.note!r} is no task of this job")
    return draft.add(entry, *whys)


def _worked(draft: Draft, parts: Parts) -> tuple[Fraction | None, str | None] | None:
    """How many minutes the work took, None where nobody said, and a doubt about that; nothing
    where the words are no times of day."""
    if "a" in parts:
        between = _between(draft, parts)
        if between is None:
            return None
        _, minutes, why = between
        if "e" in parts and duration(parts["e"])[0] != minutes:
            why = "the times and the hours do not agree"
        return minutes, why
    if "day" in parts:
        return None, "how many hours is that?"
    return duration(parts["d"])


def _on_a_task(entry: Entry, draft: Draft, parts: Parts, stretch: Stretch) -> Entry | None:
    """The entry with its task, or with the words for it in its note; None where it is no work."""
    if "task" not in parts:
        # "Gutters ate two hours": they are the task.
        before = draft.before(stretch)
        return None if before is not None and before.char == ITEM else entry
    if all(_is_any(atom, ("ARTICLE", "WORKED", "AND", "FILLER", "IN")) for atom in parts["task"]):
        return None
    words = words_of(parts["task"])
    led = draft.before(stretch)
    doing = led is not None and stretch.start - 1 in draft.unread and is_a(led, "OTHER")
    said = f"{led.words} {words}" if led is not None and doing else words
    task = task_named(draft.vocabulary, said) or _task_with(draft.vocabulary, parts["task"])
    entry = replace(entry, task=task, place=place_in(parts["task"]))
    if task is not None:
        return entry
    last = draft.last()
    again = last is not None and last.kind == "labor" and name_of(parts["task"]) == entry.place
    if last is not None and again and last.task:
        # "Two hours on the south eave": of what was done before.
        return replace(entry, task=last.task, carried=("task",))
    before = draft.before(stretch)
    waited = before is not None and _is_any(before, ("BREAK", "IDLE"))
    if waited or stretch.meaning == "more labor" or not _is_work(parts, stretch):
        return None
    return replace(entry, note=words)


def add_labor_done(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Hung forty feet of soffit in three hours": how much was done of a task in its hours.

    It is told of the work; what it took of the material is told by itself, and must not be counted
    twice.
    """
    words = f"{words_of(parts['v'])} {words_of(parts['task'])}"
    task = task_named(draft.vocabulary, words)
    if words_of(parts["v"]).endswith("used"):
        return False
    if task is None or not _is_one_number(parts["d"]) or has_any(stretch.atoms, *_OTHER_FACTS):
        return False
    unit = next(name for word, name in _DONE_IN.items() if is_a(parts["u"][0], word))
    quantity = cast(Number, parts["q"][0].value).value
    if not add_labor(draft, {**parts, "task": (*parts["v"], *parts["task"])}, stretch):
        return False
    draft.entries[-1] = replace(draft.entries[-1], quantity=quantity, unit=unit)
    return True


_OTHER_FACTS = ("BREAK", "IDLE", "DELIVER", "RETURN", "SPOIL", "NEED", "LEFTOVER")
_DONE_IN = {"FOOT": "ft", "AREA": "ft2", "SQUARE": "square"}


def add_pay(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """What an hour costs, said right after the hours: "six hours at twenty five an hour"."""
    last = draft.newest()
    if last is None or last.kind != "labor" or last.unit_cost is not None:
        return False
    dollars = cast(Number, parts["c"][0].value).value
    cents = cast(Number, parts["n"][0].value).value if "n" in parts else Fraction(0)
    who, why = _paid(draft, parts, stretch, last)
    draft.entries[-1] = replace(last, unit_cost=money(dollars + cents / 100), who=who)
    draft.doubts.extend([(len(draft.entries) - 1, why)] if why else [])
    return True


def _paid(
    draft: Draft, parts: Parts, stretch: Stretch, last: Entry
) -> tuple[str | None, str | None]:
    """Whose pay it is, None for everybody's, and a doubt about that.

    "With a helper at eighteen an hour" is the helper's, and so is it with "the helper at
    eighteen"; "two of us at thirty an hour" is everybody's.
    """
    named = parts.get("w", ())
    by = draft.made_by.get(len(draft.entries) - 1)
    crew = by.parts.get("w", ()) if by is not None and "w" not in parts else ()
    behind = bool(crew) and crew[-1] is draft.before(stretch)
    if not named and not (behind and has_any(crew, "HELPER", "KIN", "NAME")):
        return None, None
    people = last.workers or 1
    if people == 1:
        return None, None if not named else "whose pay is that? Nobody else was said to be there"
    if has_any(stretch.atoms[-1:], "APIECE"):
        return None, None
    if not named and stretch.atoms[0].pause:
        return "the helper", "is that the helper's pay, or everybody's?"
    several = any(atom.words.endswith("helpers") for atom in (*named, *crew))
    why = "of how many of them is that the pay?" if people > 2 and not several else None
    names = [atom.words for atom in named if has_any((atom,), "NAME")]
    return " ".join(names) or ("the helpers" if people > 2 else "the helper"), why


def _is_work(parts: Parts, stretch: Stretch) -> bool:
    """Without a task of the job: hours always, minutes only where words speak of work."""
    if "d" not in parts:
        return "a" in parts
    if any(is_a(atom, "HOURWORD") for atom in parts["d"]):
        return True
    return has_any(stretch.atoms, "WORKED", "DOING")


def _together(atoms: Sequence[Atom]) -> bool:
    """True for man hours: the hours of all the people added up."""
    return any(atom.words in ("man hours", "crew hours") for atom in atoms)


def add_share(draft: Draft, parts: Parts, stretch: Stretch) -> bool:
    """ "Sixteen hours for the two of us, eight apiece"."""
    share = cast(Number, parts["n"][0].value).value
    last = draft.newest()
    if last is None or last.kind != "labor" or last.hours != share * (last.workers or 0):
        return False
    draft.entries[-1] = replace(last, hours=share)
    return True


def task_named(vocabulary: Vocabulary, words: str) -> str | None:
    """The task whose spoken name stands in the words; the longest name wins."""
    padded = f" {words} "
    found = [
        (len(name), task.name)
        for task in vocabulary.tasks
        for name in (task.name, *task.spoken)
        if f" {name.lower()} " in padded
    ]
    return max(found)[1] if found else None


def _task_with(vocabulary: Vocabulary, atoms: Sequence[Atom]) -> str | None:
    """The only task in whose names a material stands: "gutter work"."""
    words = " ".join(atom.words for atom in atoms if atom.char == ITEM).split()
    owners = [_tasks_by_word(vocabulary).get(word.removesuffix("s"), ()) for word in words]
    only = {names[0] for names in owners if len(names) == 1}
    return only.pop() if len(only) == 1 else None


@lru_cache(maxsize=8)
def _tasks_by_word(vocabulary: Vocabulary) -> dict[str, tuple[str, ...]]:
    """By each word of their names, without the s of more than one, the tasks."""
    owners: dict[str, tuple[str, ...]] = {}
    for task in vocabulary.tasks:
        said = " ".join((task.name, *task.spoken)).lower().split()
        for word in {word.removesuffix("s") for word in said}:
            owners[word] = (*owners.get(word, ()), task.name)
    return owners


def duration(atoms: Sequence[Atom], bare: int = 60) -> tuple[Fraction, str | None]:
    """Minutes, and a doubt when they were only roughly said; `bare` minutes is one of no unit."""
    minutes = Fraction(0)
    pending: Fraction | None = None
    why: str | None = None
    in_hours = False
    before: Atom | None = None
    for atom in atoms:
        before, previous = atom, before
        if isinstance(atom.value, Number):
            if atom.char == FRAC and in_hours:
                minutes += atom.value.value * 60
            elif pending is not None and previous is not None and previous.char == NUM:
                pending = joined_digits(pending, atom.value.value)
            elif pending is not None:
                why = f"{tape(pending)} or {tape(atom.value.value)}?"
            else:
                pending = atom.value.value
        elif is_a(atom, "HOURWORD"):
            if pending is None and atom.words.endswith("s"):
                why = "how many hours?"
            else:
                minutes += (pending if pending is not None else Fraction(1)) * 60
            pending, in_hours = None, True
        elif is_a(atom, "MINUTE"):
            minutes += pending if pending is not None else Fraction(1)
            pending = None
        elif is_a(atom, "ABOUT") or (is_a(atom, "ORSO") and atom.words != "to"):
            why = f"only roughly: {atom.words!r}"
    if pending is not None and in_hours:
        odd = pending % 5 or not 0 < pending < 60
        why = f"is {tape(pending)} minutes, or another number?" if odd else why
    return minutes + (1 if in_hours else bare) * (pending or 0), why


def _is_still_to_come(parts: Parts, stretch: Stretch) -> bool:
    """True for "break time in an hour"."""
    if "d" not in parts or parts["d"][0] is stretch.atoms[0]:
        return False
    at = next(at for at, atom in enumerate(stretch.atoms) if atom is parts["d"][0])
    back = any(atom.words == "back" for atom in stretch.atoms[:at])
    return stretch.atoms[at - 1].words == "in" and not back


def _is_one_number(atoms: Sequence[Atom]) -> bool:
    """False where two numbers stand side by side that are no digits of one."""
    for first, second in pairwise(atoms):
        if first.char == NUM and second.char == NUM:
            one, other = cast(Number, first.value).value, cast(Number, second.value).value
            return not second.pause and joined_digits(one, other) != other
    return True


def joined_digits(first: Fraction, second: Fraction) -> Fraction:
    """ "One five" is fifteen; what is no pair of digits stays the second number alone."""
    return first * 10 + second if 0 < first < 10 and second < 10 else second


def hands(crew: tuple[Atom, ...] | None) -> tuple[int | None, str | None]:
    """People at work, the speaker included, and a doubt when that is not sure."""
    if not crew:
        return None, None
    number = whole_in(crew)
    if number is None and any(is_a(atom, "COUPLE") for atom in crew):
        number = 2
    speaker = any(is_a(atom, "ME") or is_a(atom, "ALONE") for atom in crew)
    persons = _persons(crew)
    helpers = any(is_a(atom, "HELPER") for atom in crew)
    why = None
    if any(is_a(atom, "BOTH") for atom in crew):
        number = 2
    elif any(atom.words.endswith(("crew", "team")) for atom in crew):
        pass
    elif speaker:
        strangers = [a for a in crew if a.char == OTHER]
        if strangers and any(atom.words == "i" for atom in crew):
            why = f"is {strangers[0].words!r} a helper?"
        number = 1 + (number or 0) + len(persons)
    elif any(atom.words in ("with", "helping", "helped") for atom in crew):
        unknown = [atom.words for atom in persons if atom.char == OTHER]
        if unknown:
            why = f"is {unknown[0]!r} a helper?"
        elif number and not helpers:
            why = f"{number} besides you, or {number} in all?"
        number = 1 + (number or len(persons) or 1)
    elif helpers:
        number = 1 + (number or 1)
    if number is not None and number > 12:
        why = f"{number} people?"
    return number, why


def _persons(crew: Sequence[Atom]) -> list[Atom]:
    """Who is named besides the speaker and besides those who are only counted."""
    found: list[Atom] = []
    for before, atom in zip((None, *crew), crew, strict=False):
        person = atom.char == OTHER or has_any((atom,), *_PERSON)
        counted = before is not None and (before.char == NUM or is_a(before, "COUPLE"))
        again = before is not None and is_a(before, "KIN") and not atom.pause
        if person and not counted and not again:
            found.append(atom)
    return found


_PERSON = ("KIN", "HELPER", "NAME")


def time_of(
    atoms: Sequence[Atom], near: datetime | None, kind: str
) -> tuple[time | None, str | None]:
    """A clock time; morning or afternoon from the words, else from the recording's own time."""
    read = _clock(atoms)
    if read is None:
        return None, None
    hour, minute = read
    if not (0 <= hour <= 23 and 0 <= minute <= 59):
        return None, None
    if any(is_a(atom, "PM") for atom in atoms):
        return time(hour % 12 + 12, minute), None
    if any(is_a(atom, "AM") for atom in atoms):
        return time(hour % 12 if hour == 12 else hour, minute), None
    if any(is_a(atom, "NOON") for atom in atoms) or hour > 12 or hour == 0:
        return time(hour, minute), None
    morning, afternoon = time(hour % 12, minute), time(hour % 12 + 12, minute)
    if near is None:
        # Without a clock to go by: work starts in the morning and stops in the afternoon, and
        # nobody rests before seven.
        early = 4 <= hour < 12 if kind == "start" else kind == "break" and 7 <= hour < 12
        late = hour in (12, 1, 2, 3) or (kind != "start" and hour in (4, 5, 6))
        if early or late:
            return (morning if early else afternoon), None
        return (morning if kind == "start" else afternoon), "morning or afternoon?"
    return _nearest(morning, afternoon, near, kind)


def _nearest(morning: time, afternoon: time, near: datetime, kind: str) -> tuple[time, str | None]:
    """Of two times of day the one that is meant: one at which that is done, and in the past."""

    def ahead(clock: time) -> timedelta:
        return datetime.combine(near.date(), clock, near.tzinfo) - near

    first, last = _DONE_AT[kind]
    if kind == "stop" and morning.hour >= 7 and timedelta() <= -ahead(morning) <= _JUST_NOW:
        first = morning.hour  # Rained out at half past nine.
    fitting = [clock for clock in (morning, afternoon) if first <= clock.hour < last]
    past = [clock for clock in fitting if ahead(clock) <= _SOON]
    if past:
        return (past[0] if kind == "start" else past[-1]), None
    nearest = min(fitting, key=lambda clock: abs(ahead(clock)))
    return nearest, None if ahead(nearest) <= _SAID_AT_THE_END else "not yet that late"


_DONE_AT = {"start": (4, 16), "stop": (10, 24), "break": (7, 24)}
"""Between which hours work starts, stops and rests; common practice."""
_JUST_NOW = timedelta(hours=2)
_SOON = timedelta(minutes=60)
"""A clock and a recorder may differ, and "stopping at four thirty" may be said at four."""
_SAID_AT_THE_END = timedelta(hours=3)
"""Notes of a day are often dictated at its end, by a recorder whose clock is off."""


def _clock(atoms: Sequence[Atom]) -> tuple[int, int] | None:
    """Hour and minute as they were said, 7 for seven in the evening too."""
    for atom in atoms:
        if atom.char == CLOCK:
            hours, _, minutes = atom.words.partition(":")
            return int(hours), int(minutes)
        if atom.words in _NAMED_HOURS:
            return _NAMED_HOURS[atom.words], 0
    numbers = [atom.value for atom in atoms if isinstance(atom.value, Number)]
    turn = next((atom for atom in atoms if is_a(atom, "PAST") or is_a(atom, "TO")), None)
    if turn is not None and len(numbers) == 2:
        return _past_or_to(turn, numbers[0], numbers[1], atoms)
    wholes = [number.whole for number in numbers if number.whole is not None]
    if len(wholes) == 1 and numbers[0].value.denominator == 1:
        hour = wholes[0]
        if 100 <= hour <= 2359:
            return hour // 100, hour % 100
        return (hour, 0) if 0 < hour <= 23 else None
    if len(wholes) == 2 and 0 < wholes[0] <= 23 and wholes[1] < 60:
        oh = any(atom.words in ("oh", "o") for atom in atoms)
        return (wholes[0], wholes[1]) if wholes[1] >= 10 or oh else None
    return None


_NAMED_HOURS = {"noon": 12, "midday": 12, "midnight": 0}


def _past_or_to(
    turn: Atom, first: Number, second: Number, atoms: Sequence[Atom]
) -> tuple[int, int] | None:
    """ "Quarter past seven", "ten to eight"."""
    minutes = first.value * 60 if first.whole is None else first.value
    if minutes.denominator != 1 or second.whole is None or not 1 <= second.whole <= 12:
        return None
    if is_a(turn, "PAST"):
        return second.whole, int(minutes)
    if minutes % 5 and not any(is_a(atom, "MINUTE") for atom in atoms):
        return None  # "Eight to four" is a day's work.
    return (second.whole - 1) or 12, 60 - int(minutes)
