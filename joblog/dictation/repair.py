"""Words that a recognizer wrote by their sound: "saw fit" for soffit, "used for sticks" for four.

Only words that no table knows are touched, and a repair is a further line beside the one that was
heard: it stands when the other recognizer heard the same. Before a unit in the plural or a fraction
"for" and "to" can be nothing but numbers: there the literal line is the one that is further off.
What was typed is never touched.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from joblog.dictation.grammar import FRAC, ITEM, NUM, NUMBERS, OTHER, Atom, atoms_of, has_any, is_a
from joblog.dictation.language import WORDS
from joblog.dictation.numbers import TENS
from joblog.model import Vocabulary

ALIKE = 0.87
"""From this likeness on, 0 to 1, two spellings are taken for one sound."""
LEAD = 0.02
"""By how much the best likeness must lead the next one."""
HOMOPHONES = {
    "for": "four", "to": "two", "too": "two", "won": "one", "ate": "eight", "tree": "three",
    "sex": "six", "tin": "ten", "fore": "four",
}  # fmt: skip


def repaired(text: str, vocabulary: Vocabulary) -> str | None:
    """The text with words of the job in place of strange ones that sound like them.

    None when nothing in it is strange, or nothing of the job sounds like it.
    """
    atoms = atoms_of(text, vocabulary)
    words: list[str] = []
    changed = False
    at = 0
    while at < len(atoms):
        number = _number_meant(atoms, at)
        if number:
            words.append(number)
            changed = True
            at += 1
            continue
        found = _by_sound(atoms, at, vocabulary)
        if found:
            phrase, at = found
            words.append(phrase)
            changed = True
            continue
        words.append(("," if atoms[at].pause else "") + atoms[at].words)
        at += 1
    return " ".join(words) if changed else None


def numbered(text: str, vocabulary: Vocabulary) -> str | None:
    """The text with numbers for words that sound like them, where the words make no sense there:
    "to feet six" is two feet six, "for and a quarter" four and a quarter. None where all does."""
    atoms = atoms_of(text, vocabulary)
    if not any(atom.words in HOMOPHONES for atom in atoms):
        return None
    words = [
        ("," if atom.pause else "") + (_only_a_number(atoms, at) or atom.words)
        for at, atom in enumerate(atoms)
    ]
    told = " ".join(words)
    return told if told != " ".join(("," if a.pause else "") + a.words for a in atoms) else None


def _only_a_number(atoms: Sequence[Atom], at: int) -> str | None:
    meant = HOMOPHONES.get(atoms[at].words)
    if meant is None or at + 1 >= len(atoms) or not _may_end_in_it(atoms, at):
        return None
    after = atoms[at + 1]
    fraction = is_a(after, "AND") and at + 2 < len(atoms) and atoms[at + 2].char == FRAC
    return meant if not after.pause and (fraction or _is_of_several(after, meant)) else None


def _is_of_several(after: Atom, meant: str) -> bool:
    """ "Feet" and "sticks" are counted; "to length" and "for hours" are not."""
    last = after.words.split()[-1]
    if not has_any((after,), "UNIT", "FOOT", "INCH"):
        return False
    return (last.endswith("s") or last in ("feet", "foot")) == (meant != "one")


def _may_end_in_it(atoms: Sequence[Atom], at: int) -> bool:
    """Whether no number stands before it, or one that another ends: "twenty" and "for"."""
    before = atoms[at - 1] if at else None
    if before is None or before.char not in NUMBERS:
        return True
    return before.words.split()[-1] in TENS and not atoms[at].pause


def _number_meant(atoms: Sequence[Atom], at: int) -> str | None:
    """ "For" before sticks or nails is four, and so is "ate" behind five where a length ends."""
    meant = HOMOPHONES.get(atoms[at].words)
    if meant is None:
        return None
    sure = _only_a_number(atoms, at)
    if sure or at + 1 >= len(atoms):
        ends = at > 0 and atoms[at].words == "ate" and atoms[at - 1].char == NUM
        return sure or (meant if ends else None)
    after = atoms[at + 1]
    counted = after.char == ITEM or is_a(after, "UNIT") or is_a(after, "MEN")
    length = has_any((after,), "FOOT", "INCH", "HOURWORD", "MINUTE")
    return meant if (counted or length) and _may_end_in_it(atoms, at) else None


def _by_sound(atoms: Sequence[Atom], at: int, vocabulary: Vocabulary) -> tuple[str, int] | None:
    """The job's phrase that one to three words from `at` sound like, and the index after them."""
    best: tuple[float, str, int] | None = None
    for end in range(at + 1, min(at + 4, len(atoms) + 1)):
        span = atoms[at:end]
        if span[-1].char in NUMBERS or (end > at + 1 and span[-1].pause):
            break
        if all(atom.char != OTHER for atom in span):
            continue
        joined = "".join(atom.words.replace(" ", "") for atom in span)
        found = _nearest(joined, vocabulary)
        if found and (best is None or found[0] > best[0] + LEAD):
            best = (*found, end)
    return None if best is None else (best[1], best[2])


@lru_cache(maxsize=4096)
def _nearest(word: str, vocabulary: Vocabulary) -> tuple[float, str] | None:
    from rapidfuzz.distance import JaroWinkler, Levenshtein

    if len(word) < 3:
        return None
    sound = _sound(word)
    scored: list[tuple[float, str]] = []
    for spelled, phrase, its_sound in _terms(vocabulary):
        written = JaroWinkler.similarity(word, spelled)
        if written < 0.6:
            continue
        heard = Levenshtein.normalized_similarity(sound, its_sound)
        scored.append((0.45 * written + 0.55 * heard, phrase))
    scored.sort(reverse=True)
    if not scored or scored[0][0] < ALIKE:
        return None
    second = next((one for one in scored if one[1] != scored[0][1]), (0.0, ""))
    return scored[0] if scored[0][0] - second[0] >= LEAD else None


@lru_cache(maxsize=8)
def _terms(vocabulary: Vocabulary) -> tuple[tuple[str, str, str], ...]:
    """Everything of the job that may be meant: spelled in one, as said, and its sound."""
    names: dict[str, None] = dict.fromkeys(vocabulary.places)
    for item in vocabulary.items:
        names.update(dict.fromkeys((item.name.lower(), *item.spoken)))
    for task in vocabulary.tasks:
        names.update(dict.fromkeys(task.spoken))
    for kind in ("PART", "UNIT", "SPOIL", "USED", "DELIVER", "RETURN", "PHOTO", "HELPER"):
        names.update(dict.fromkeys(_phrases(kind)))
    joined = ((name.replace(" ", "").replace("-", ""), name) for name in names)
    return tuple((word, name, _sound(word)) for word, name in joined if len(word) > 2)


def _phrases(kind: str) -> Iterable[str]:
    return (" ".join(phrase.split()) for phrase in WORDS[kind].split(","))


def _sound(word: str) -> str:
    """The primary code of Double Metaphone (Philips, C/C++ Users Journal 2000)."""
    from metaphone import doublemetaphone

    return str(doublemetaphone(word)[0]) or word
