"""From the words of one utterance to its entries."""

from __future__ import annotations

from dataclasses import replace

from joblog.dictation.grammar import NUMBERS, Atom, Stretch, atoms_of, cover, is_a
from joblog.dictation.meanings import Context, Draft, build
from joblog.dictation.words import words_of
from joblog.model import Doubt, Entry, Reading, Vocabulary


def read(text: str, vocabulary: Vocabulary, context: Context | None = None) -> Reading:
    """The entries, doubts and unread words of one utterance. Pure.

    Words that make no entry at all become a note, so that nothing said is lost; a number that no
    entry used always leaves a doubt.
    """
    words = words_of(text)
    if not words:
        return Reading()
    context = context or Context()
    atoms = atoms_of(words, vocabulary)
    rejected: set[tuple[int, int, str]] = set()
    while True:
        stretches, unread, _ = cover(atoms, rejected)
        if _only_talk(atoms, stretches):
            return _as_note(words, atoms, context, doubtful=False)
        draft = Draft(vocabulary, context, atoms=atoms)
        refused = _refused(draft, stretches)
        if refused is None:
            break
        rejected.add((refused.start, refused.end, refused.meaning))
    if draft.awaiting:
        draft.entries.append(Entry("correction", action="replace"))
        draft.doubts.append((len(draft.entries) - 1, "says to change the last one: to what?"))
    if not draft.entries:
        if draft.place is not None and not unread:
            note = Entry("note", note=" ".join(words), place=draft.place)
            return Reading((note,))
        return _as_note(words, atoms, context, doubtful=any(a.char in NUMBERS for a in atoms))
    return _finish(draft, atoms, unread)


def after(context: Context, reading: Reading) -> Context:
    """The context for the next utterance of the same recording."""
    for entry in reading.entries:
        entry = entry.replacement or entry
        if entry.kind == "correction":
            continue
        context = replace(
            context,
            place=entry.place or context.place,
            last=entry,
            item=entry.item or context.item,
        )
    return context


def _refused(draft: Draft, stretches: list[Stretch]) -> Stretch | None:
    for stretch in stretches:
        if not build(draft, stretch):
            return stretch
    return None


def _only_talk(atoms: list[Atom], stretches: list[Stretch]) -> bool:
    """True for plans and denials: "should be done by three", "not going to use the last two"."""
    marked = [at for at, atom in enumerate(atoms) if is_a(atom, "FUTURE") or is_a(atom, "NOTGOING")]
    covered = {
        at
        for stretch in stretches
        if stretch.meaning in _HOLDS_TALK
        for at in range(stretch.start, stretch.end)
    }
    return any(at not in covered for at in marked)


# Stretches whose words may speak of plans and denials without being undone by them.
_HOLDS_TALK = {"note", "problem", "covered", "photo", "needed", "instead", "drop", "spoiled"}


def _as_note(words: list[str], atoms: list[Atom], context: Context, *, doubtful: bool) -> Reading:
    entry = Entry("note", note=" ".join(words))
    why = "numbers were said that fit no entry"
    return Reading((entry,), (Doubt(0, why),) if doubtful else ())


def _finish(draft: Draft, atoms: list[Atom], unread: list[int]) -> Reading:
    left = [atoms[at] for at in unread]
    words = " ".join(atom.words for atom in left if not _filler(atom))
    doubts = [Doubt(entry, why) for entry, why in draft.doubts]
    numbers = [atom.words for atom in left if atom.char in NUMBERS]
    if numbers:
        last = len(draft.entries) - 1
        doubts.append(Doubt(last, f"a number was left over: {', '.join(numbers)}"))
    return Reading(tuple(draft.entries), tuple(doubts), words)


def _filler(atom: Atom) -> bool:
    return is_a(atom, "FILLER") or is_a(atom, "AND") or is_a(atom, "ARTICLE")
