"""From the words of one utterance to its entries."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

from joblog.dictation.amends import amended, plainly_takes_back
from joblog.dictation.beside import keep_said, keep_words
from joblog.dictation.clocks import clock_or_count
from joblog.dictation.days import add_days
from joblog.dictation.digit_rows import digits_lost
from joblog.dictation.doubter import second_opinion
from joblog.dictation.draft import Context, Draft
from joblog.dictation.errands import errand_among
from joblog.dictation.grammar import (
    FRAC,
    ITEM,
    MIX,
    NUMBERS,
    SPOT,
    Atom,
    Chart,
    Stretch,
    has_any,
    is_a,
)
from joblog.dictation.language.fillers import CLOSINGS
from joblog.dictation.meanings import build
from joblog.dictation.naming import tell_items
from joblog.dictation.open_ended import facts_apart, runs_over_a_fact
from joblog.dictation.pieces import pieces_of
from joblog.dictation.places import place_in
from joblog.dictation.restated import leave_out_restated
from joblog.dictation.self_repair import Repaired, repaired
from joblog.dictation.sense import against_sense
from joblog.dictation.signs import Heard
from joblog.dictation.talk import names_amount
from joblog.dictation.words import Marked, marked_words
from joblog.model import STOCK_KINDS, UNHEARD, WALK_KINDS, Doubt, Entry, Reading, Vocabulary


def read(text: str, vocabulary: Vocabulary, context: Context | None = None) -> Reading:
    """The entries, doubts and unread words of one utterance. Pure.

    Words that make no entry at all become a note, so that nothing said is lost; a number that no
    entry used always leaves a doubt. A text too long for one utterance is read in pieces; the work
    is bounded by its length, and what would take more is a doubtful note.
    """
    said = marked_words(text)
    if _only_closes(said):
        return Reading()
    readings: list[tuple[Reading, bool]] = []
    for words, torn in pieces_of(said):
        reading = _piece(words, vocabulary, context)
        readings.append((reading, torn))
        context = after(context or Context(), reading)
    reading = readings[0][0] if len(readings) == 1 else _one_after_another(readings)
    return _with_owners(reading, text) if "'s" in text else reading


def _only_closes(words: Marked) -> bool:
    """Whether it is nothing but "thank you" and "bye", as music is heard."""
    return (
        bool(words) and _closing().fullmatch("".join(f"{word} " for word, _ in words)) is not None
    )


@cache
def _closing() -> re.Pattern[str]:
    return re.compile(f"(?:(?:{'|'.join(CLOSINGS)}) )+")


def _with_owners(reading: Reading, text: str) -> Reading:
    """The reading with "homeowner's" in its notes, where it was read as "homeowner is"."""
    owners = [word[:-2] for word in text.lower().split() if word.endswith("'s")]

    def restored(note: str | None) -> str | None:
        for owner in owners if note else ():
            note = f" {note} ".replace(f" {owner} is ", f" {owner}'s ", 1)[1:-1]
        return note

    entries = [
        replace(entry, note=restored(entry.note), reason=restored(entry.reason))
        for entry in reading.entries
    ]
    return replace(reading, entries=tuple(entries))


def _piece(words: Marked, vocabulary: Vocabulary, context: Context | None) -> Reading:
    apart = _put_right_first(words, vocabulary, context)
    if apart is not None:
        return apart
    understood = understand(words, vocabulary, context)
    if understood is None:
        return _too_dense(words)
    reading = understood[0]
    gaps = UNHEARD in [word for word, _ in words]
    return _with_gaps_doubted(reading) if gaps else reading


def _put_right_first(
    words: Marked, vocabulary: Vocabulary, context: Context | None
) -> Reading | None:
    """ "Wide i mean, and sixty one high": a correction with a fact behind it, each by itself."""
    pauses = [at for at, (word, pause) in enumerate(words) if pause and word in ("and", "then")]
    if context is None or not context.standing or not pauses:
        return None
    first, rest = words[: pauses[0]], words[pauses[0] :]
    if not plainly_takes_back([word for word, _ in first]):
        return None
    changed = understand(first, vocabulary, context)
    if changed is None or [one.kind for one in changed[0].entries] != ["correction"]:
        return None
    behind = understand([(rest[0][0], False), *rest[1:]], vocabulary, after(context, changed[0]))
    if behind is None or any(one.kind == "note" for one in behind[0].entries):
        return None
    return _one_after_another([(changed[0], False), (behind[0], False)])


def _too_dense(words: Marked) -> Reading:
    note = Entry("note", note=" ".join(word for word, _ in words))
    return Reading((note,), (Doubt(0, _TOO_DENSE),))


_TOO_DENSE = "too much at once to be read: say or type it in parts"
_TORN = "a long breath was parted here: does it belong to what comes {}?"


def _one_after_another(readings: Sequence[tuple[Reading, bool]]) -> Reading:
    """The readings of the pieces as one, with a doubt on both sides of a place where nobody
    paused; neighbours that were too dense are one note."""
    entries: list[Entry] = []
    doubts: list[Doubt] = []
    was_torn = False
    for reading, torn in readings:
        first = len(entries)
        dense = any(doubt.why == _TOO_DENSE for doubt in reading.doubts)
        if dense and doubts and doubts[-1] == Doubt(first - 1, _TOO_DENSE):
            note = f"{entries[-1].note} {reading.entries[0].note}"
            entries[-1] = replace(entries[-1], note=note)
            continue
        entries += reading.entries
        doubts += [Doubt(first + doubt.entry, doubt.why) for doubt in reading.doubts]
        if was_torn and 0 < first < len(entries):
            doubts += [Doubt(first - 1, _TORN.format("next")), Doubt(first, _TORN.format("before"))]
        elif 0 < first < len(entries) and _said_twice(entries[first - 1], entries[first]):
            doubts.append(Doubt(first, _SAID_TWICE))
        was_torn = torn
    unread = " ".join(reading.unread for reading, _ in readings if reading.unread)
    return Reading(tuple(entries), tuple(doubts), unread)


def _with_gaps_doubted(reading: Reading) -> Reading:
    """A doubt on every entry, where somebody spoke and no word was known for it: a number, a "no"
    or a "half" may have been among what is missing."""
    doubted = {doubt.entry for doubt in reading.doubts}
    gaps = [
        Doubt(at, f"{NOT_HEARD}: {UNHEARD!r}")
        for at in range(len(reading.entries))
        if at not in doubted
    ]
    return replace(reading, doubts=(*reading.doubts, *gaps))


NOT_HEARD = "a word was not heard"
NOT_UNDERSTOOD = "not understood"


def understand(
    words: Marked,
    vocabulary: Vocabulary,
    context: Context | None = None,
    refused: tuple[int, int, str] | None = None,
) -> tuple[Reading, list[Stretch], float] | None:
    """The reading with the stretches it was built of and the sum of their weights.

    `refused` is the (start, end, meaning) of a stretch that may not be used. None when it would
    take more than `MOST_STEPS`, which are counted, not timed: the same words are read the same on
    every machine.
    """
    said = said_in(words, vocabulary, context)
    if not said.atoms:
        return Reading(), [], 0.0
    chart = Chart(said.atoms)
    if refused is not None:
        chart.refuse(*refused)
    built = 0
    while chart.steps + built <= MOST_STEPS:
        stretches, unread, score = chart.cover()
        built += len(stretches)
        reading = read_as(said, stretches, unread)
        if isinstance(reading, Reading):
            if refused is None:
                looked_at = heard(words, said, reading, stretches, score)
                instead = amended(said.atoms, vocabulary, said.context, reading)
                reading = instead or _with_second_opinion(looked_at, reading)
                reading = _with_digits_kept(words, reading)
            return reading, stretches, score
        chart.refuse(reading.start, reading.end, reading.meaning)
    return None


def meaning_of(
    atoms: Sequence[Atom],
    stretches: Sequence[Stretch],
    vocabulary: Vocabulary,
    context: Context | None = None,
) -> Reading | None:
    """What exactly these stretches of the atoms mean, whatever others would cover them better;
    None where one of them does not carry its meaning."""
    covered = {at for one in stretches for at in range(one.start, one.end)}
    unread = [at for at in range(len(atoms)) if at not in covered]
    said = Said(Repaired(list(atoms), {}, {}), vocabulary, context or Context())
    reading = read_as(said, list(stretches), unread)
    return reading if isinstance(reading, Reading) else None


def heard(
    words: Marked, said: Said, reading: Reading, stretches: Sequence[Stretch], score: float
) -> Heard:
    """What is looked at when a reading is doubted."""
    kept = sum([atom.words.count(" ") + 1 for atom in said.atoms])
    return Heard(
        said.atoms,
        stretches,
        reading.entries,
        score,
        len(words) - kept,
        len(said.repaired.unsure),
        bool(said.context.told),
        bool(reading.doubts),
    )


def _with_second_opinion(heard: Heard, reading: Reading) -> Reading:
    """A doubt on every entry that is in none, where the words sound otherwise or something is odd:
    of a tangled sentence the rules may be sure of the wrong half."""
    if _only_says_where(heard.atoms):
        return reading
    doubted = {doubt.entry for doubt in reading.doubts}
    if len(doubted) == len(reading.entries):
        return reading
    why = second_opinion(heard)
    return reading if why is None else doubted_by(reading, why)


def doubted_by(reading: Reading, why: str) -> Reading:
    """The reading with one more doubt, on every entry that is in none."""
    doubted = {doubt.entry for doubt in reading.doubts}
    sure = [at for at in range(len(reading.entries)) if at not in doubted]
    return replace(reading, doubts=(*reading.doubts, *(Doubt(at, why) for at in sure)))


def _with_digits_kept(words: Marked, reading: Reading) -> Reading:
    """A doubt on every entry that is in none, where a digit of a row that was said is lost, or a
    clock may end elsewhere."""
    doubted = {doubt.entry for doubt in reading.doubts}
    found = (*digits_lost(words, reading.entries), *clock_or_count(words, reading.entries))
    lost = [doubt for doubt in found if doubt.entry not in doubted]
    return replace(reading, doubts=(*reading.doubts, *lost)) if lost else reading


def _only_says_where(atoms: Sequence[Atom]) -> bool:
    """Whether nothing is said but where he is: "on the porch now"."""
    beside = (atom for atom in atoms if atom.char != SPOT)
    return any(atom.char == SPOT for atom in atoms) and all(
        has_any((atom,), "IN", "ARTICLE", "FILLER") or atom.words == "now" for atom in beside
    )


MOST_STEPS = 600
"""Atoms covered and stretches built for one piece; the most tangled phrase of the corpus takes a
tenth of it."""


@dataclass(frozen=True, slots=True)
class Said:
    """What was said, before it is known what it means."""

    repaired: Repaired
    vocabulary: Vocabulary
    context: Context

    @property
    def atoms(self) -> Sequence[Atom]:
        return self.repaired.atoms


def said_in(words: Marked, vocabulary: Vocabulary, context: Context | None = None) -> Said:
    """The words as atoms, without what was begun and given up."""
    return Said(repaired(words, vocabulary), vocabulary, context or Context())


def read_as(said: Said, stretches: list[Stretch], unread: Sequence[int]) -> Reading | Stretch:
    """The reading of what was said, taken apart so; a stretch that does not carry its meaning."""
    too_long = next(filter(runs_over_a_fact, stretches), None)
    if too_long is not None:
        return too_long
    talk = _only_talk(said.atoms, stretches)
    if talk and (apart := facts_apart(said.atoms, stretches)):
        talk, stretches = False, apart
        covered = {at for one in apart for at in range(one.start, one.end)}
        unread = [at for at in range(len(said.atoms)) if at not in covered]
    draft = Draft(
        said.vocabulary,
        said.context,
        atoms=said.atoms,
        restarts=said.repaired.twice,
        unsure=said.repaired.unsure,
        stretches=stretches,
        unread=frozenset(unread),
    )
    if talk:
        return _planned(draft)
    return _refused(draft, stretches) or _reading_of(draft, unread)


def _planned(draft: Draft) -> Reading:
    """What is still to do, or a note where nobody said that he will do it."""
    errand = errand_among(draft, draft.atoms)
    if errand is None:
        reading = _as_note(draft.atoms, None, doubtful=names_amount(draft.atoms))
        draft.entries += reading.entries
        draft.doubts += [(doubt.entry, doubt.why) for doubt in reading.doubts]
    else:
        entry, whys = errand
        draft.entries.append(entry)
        draft.doubts += [(0, why) for why in whys if why]
    add_days(draft)
    return Reading(tuple(draft.entries), tuple(Doubt(*doubt) for doubt in draft.doubts))


def _reading_of(draft: Draft, uncovered: Sequence[int]) -> Reading:
    """What the draft comes to; the words as a note where it comes to nothing."""
    atoms = draft.atoms
    unread = [at for at in uncovered if at not in draft.understood]
    if draft.awaiting:
        draft.entries.append(Entry("correction", action="replace"))
        draft.doubts.append((len(draft.entries) - 1, "says to change the last one: to what?"))
    if not draft.entries or _guesswork(draft, atoms, unread):
        numbers = any(atom.char in NUMBERS for atom in atoms) and not _counts_time_only(atoms)
        material = any(atom.char == ITEM for atom in atoms) and any(map(_is_verb, atoms))
        strange = any(not _filler(atoms[at]) for at in unread)
        return _as_note(atoms, None if strange else draft, doubtful=numbers or material)
    add_days(draft)
    return _finish(draft, atoms, keep_words(draft, unread))


def after(context: Context, reading: Reading) -> Context:
    """The context for what is said next on the same day."""
    return context.after(reading)


def _refused(draft: Draft, stretches: Sequence[Stretch]) -> Stretch | None:
    for stretch in stretches:
        draft.stretch = stretch
        if not build(draft, stretch):
            return stretch
    return None


def _only_talk(atoms: Sequence[Atom], stretches: Sequence[Stretch]) -> bool:
    """True for plans and denials: "should be done by three", "not going to use the last two".

    A plan or denial undoes its own clause: words that a stretch of mere talk holds are spent, and
    "that's going to be nine and a quarter" is a measure.
    """
    if not has_any(atoms, "LATER", *_PLANS):
        return False
    if any(stretch.meaning in ("needed", "request") for stretch in stretches):
        # "He'll bring six more": it is coming already.
        return any(atom.words in _OTHERS_WILL for atom in atoms)
    before: Stretch | None = None
    for stretch in stretches:
        held = stretch.meaning in _HOLDS_TALK
        for at in range(stretch.start, stretch.end):
            if is_a(atoms[at], "LATER") and _puts_off(atoms, before, stretch, at):
                return True
            if held or not has_any((atoms[at],), *_PLANS):
                continue
            exact = any(atom.char in (MIX, FRAC) for atom in stretch.atoms)
            if not (exact and stretch.meaning in _LENGTHS and is_a(atoms[at], "WILLBE")):
                return True
        before = stretch
    read = {at for stretch in stretches for at in range(stretch.start, stretch.end)}
    return has_any((atom for at, atom in enumerate(atoms) if at not in read), *_PLANS)


_OTHERS_WILL = ("he'll", "she'll", "they'll")
_PLANS = ("FUTURE", "NOTGOING", "WILLBE")


def _puts_off(atoms: Sequence[Atom], before: Stretch | None, stretch: Stretch, at: int) -> bool:
    """True for "quitting at two tomorrow": a fact of a day that is still to come."""
    if at != stretch.start or before is None or before.end != at or atoms[at].pause:
        return False
    return before.meaning in ("start", "stop", "span", "break", "labor", "needed", "delivered")


_LENGTHS = {"measure", "area", "pitch"}
# Stretches whose words may speak of plans and denials without being undone by them.
_HOLDS_TALK = {
    "note", "talk", "problem", "covered", "photo", "instead", "drop", "spoiled", "not this",
    "start", "this not that", "adjust", "weather", "adjust instead", "moved",
    "like this not that", "drop that", "drop those", "time not that", "less", "new day",
    "instead of that", "corner instead", "todo", "extra",
    "inspection", "visit", "drive", "price now", "expense",
}  # fmt: skip


def _guesswork(draft: Draft, atoms: Sequence[Atom], unread: list[int]) -> bool:
    """True when all that was read is bare numbers amid mere talk, or words nobody understood."""
    strange = any(not _filler(atoms[at]) for at in unread)
    talk = any(one.meaning == "talk" and has_any(one.atoms, "TALK") for one in draft.stretches)
    facts = [entry for entry in draft.entries if entry.kind != "note" or not talk]
    return (strange or talk) and bool(facts) and all(map(_is_bare, facts))


def _counts_time_only(atoms: Sequence[Atom]) -> bool:
    """True where every number counts minutes or years, and nothing of the job is named: "two
    minutes, i'm on the phone"."""
    if has_any(atoms, *_OF_WORK) or any(atom.char in (ITEM, SPOT, MIX, FRAC) for atom in atoms):
        return False
    return all(
        any(is_a(one, "MINUTE") or one.words in _SPANS for one in atoms[at + 1 : at + 2])
        for at, atom in enumerate(atoms)
        if atom.char in NUMBERS
    )


_OF_WORK = ("START", "STOP", "BREAK", "IDLE", "HOURWORD", "UNIT", "PART", "DIMENSION", "WORKED",
            "DOING", "USED", "DRIVE")  # fmt: skip
_SPANS = ("year", "years", "years old", "days", "weeks", "months", "times", "percent")


def _is_bare(entry: Entry) -> bool:
    measured = entry.kind == "measure" and entry.inches is not None
    return measured and (entry.as_said or "").removeprefix("like ").replace(" ", "").isdecimal()


def _is_verb(atom: Atom) -> bool:
    return has_any((atom,), "USED", "DELIVER", "RETURN", "SPOIL")


def _as_note(atoms: Sequence[Atom], draft: Draft | None, *, doubtful: bool) -> Reading:
    words = " ".join(atom.words for atom in atoms)
    place = place_in(atoms) or (draft.place if draft and not draft.entries else None)
    entry = Entry("note", note=words, place=place)
    why = "numbers or material were named that fit no entry"
    return Reading((entry,), (Doubt(0, why),) if doubtful else ())


def _finish(draft: Draft, atoms: Sequence[Atom], unread: list[int]) -> Reading:
    tell_items(draft)
    leave_out_restated(draft)
    keep_said(draft, unread)
    left = [atoms[at] for at in unread]
    words = " ".join(atom.words for atom in left if not _filler(atom))
    doubts = [Doubt(entry, why) for entry, why in draft.doubts]
    doubts += [Doubt(_entry_at(draft, at), why) for at, why in draft.unsure.items()]
    # "One" stands for a thing as often as for a number.
    numbers = [_shortened(a.words) for a in left if a.char in NUMBERS and a.words != "one"]
    if numbers:
        why = f"a number was left over: {', '.join(numbers)}"
        doubts += [Doubt(at, why) for at in range(len(draft.entries))]
    elif words:
        why = f"{NOT_UNDERSTOOD}: {words!r}"
        doubts += [Doubt(at, why) for at in _around(draft, unread)]
    if len(draft.entries) > 1:
        doubts += [
            Doubt(at, _SAID_TWICE)
            for at, (one, other) in enumerate(pairwise(draft.entries), 1)
            if _said_twice(one, other)
        ]
        doubts += [Doubt(at, _RUN_ON) for at in _run_on(draft)]
        doubtful = {doubt.entry for doubt in doubts}
        doubts += [Doubt(at, _ALONE) for at in _bare_amid_others(draft) if at not in doubtful]
    doubtful = {doubt.entry for doubt in doubts}
    doubts += [
        Doubt(at, why)
        for at, entry in enumerate(draft.entries)
        if at not in doubtful
        for why in against_sense(entry, draft.vocabulary)
    ]
    return Reading(tuple(draft.entries), tuple(doubts), words)


def _around(draft: Draft, unread: Sequence[int]) -> list[int]:
    """The facts that words which nobody understood stand between, and the last one: what they
    tell may be of each."""
    counted = [at for at, entry in enumerate(draft.entries) if entry.kind in _COUNTED]
    made = [(draft.made_by[at], at) for at in counted if at in draft.made_by]
    around = set(counted[-1:])
    for place in unread:
        if not _filler(draft.atoms[place]):
            around.update([at for by, at in made if by.end <= place][-1:])
            around.update([at for by, at in made if by.start > place][:1])
    return sorted(around)


def _entry_at(draft: Draft, at: int) -> int:
    """The entry that was made of the atom at `at`, else the one made last."""
    made = (one for one, stretch in draft.made_by.items() if stretch.start <= at < stretch.end)
    return next(made, len(draft.entries) - 1)


def _shortened(words: str) -> str:
    return words if len(words) <= _SHOWN else f"{words[:_SHOWN]} and so on"


_SHOWN = 60
"""Characters of a number that fit in a doubt."""


_SAID_TWICE = "said twice: is it one, or two?"


def _said_twice(one: Entry, other: Entry) -> bool:
    return one.kind in STOCK_KINDS and _fact(one) == _fact(other)


def _fact(entry: Entry) -> tuple[object, ...]:
    told = entry.size, entry.length, entry.profile, entry.colour
    return entry.kind, entry.item, entry.quantity, entry.unit, *told


def _bare_amid_others(draft: Draft) -> Iterator[int]:
    """Whole numbers without a unit among facts of another kind, no place or dimension beside them:
    perhaps counted, perhaps only thought aloud."""
    if all(entry.kind in _BESIDE_MEASURES for entry in draft.entries):
        return
    for at, entry in enumerate(draft.entries):
        stretch = draft.made_by.get(at)
        if stretch is None or entry.kind != "measure" or entry.dimension or entry.pieces:
            continue
        before = draft.before(stretch)
        placed = before is not None and (before.char == SPOT or has_any((before,), "PART", "WAS"))
        if (entry.as_said or "").isdecimal() and not placed:
            yield at


_BESIDE_MEASURES = (
    "measure", "weather", "note", "photo", "covered", "correction", *WALK_KINDS,
)  # fmt: skip
_ALONE = "a number alone: inches, feet or a count?"


def _run_on(draft: Draft) -> Iterator[int]:
    """Measures said in one breath with a fact of another kind: perhaps part of that fact."""
    for at in range(1, len(draft.entries)):
        before, entry = draft.entries[at - 1], draft.entries[at]
        first, second = draft.made_by.get(at - 1), draft.made_by.get(at)
        if first is None or second is None or before.kind == entry.kind:
            continue
        if before.kind in WALK_KINDS or entry.kind in WALK_KINDS:
            continue
        between = draft.atoms[first.end : second.start + 1]
        parted = any(atom.pause or is_a(atom, "AND") or is_a(atom, "FILLER") for atom in between)
        if not parted and "measure" in (before.kind, entry.kind):
            yield at if entry.kind == "measure" else at - 1


_RUN_ON = "said in one breath with another fact: is it a measure of its own?"


# Kinds whose numbers are reckoned with.
_COUNTED = {
    "measure", "used", "spoiled", "delivered", "returned", "on_hand", "needed", "start", "stop",
    "break", "labor", "price",
}  # fmt: skip


def _filler(atom: Atom) -> bool:
    return has_any((atom,), "FILLER", "AND", "ARTICLE", "IDLEWORD")
