"""General-purpose libraries that read numbers or quantities, on the same phrases, without sound.

    python -m tests.bench.libraries

Needs quantulum3, text2num and word2number (`pip install`); a row says so where one is missing.
Each stands in the columns that it claims to do, and "-" elsewhere. A cell holds two shares of the
phrases: every number of the phrase's entries was found / found, and none besides. In the column
without numbers: nothing was found. The libraries know nothing of the trade and are not made for
it: the sizes inside names ("half inch plywood") cost them the second share, not the first.
"""

from __future__ import annotations

import importlib
import re
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from joblog.dictation import read
from joblog.form import entry_to_json
from tests.bench.corpus import Phrase, phrases, words
from tests.bench.spoken.wording import aloud

Found = list[tuple[float, str]]
"""Numbers with what they are: "length" in inches, "area" in square inches, "time" in hours,
"number" for anything else."""
Reader = Callable[[Phrase], Found]

_FIELDS = {
    "quantity": ("number", 1.0), "pieces": ("number", 1.0), "workers": ("number", 1.0),
    "fahrenheit": ("number", 1.0), "unit_cost": ("number", 1.0), "pitch": ("number", 1.0),
    "inches": ("length", 1.0), "square_inches": ("area", 1.0), "hours": ("time", 1.0),
    "minutes": ("time", 1 / 60),
}  # fmt: skip
_OTHER_FIGURES = {"time", "with"}
"""Clock times and corrections are in no column."""


@dataclass(frozen=True)
class Part:
    """One column: the phrases whose entries hold these fields and no other numbers."""

    name: str
    fields: frozenset[str]
    tagged: frozenset[str] = frozenset()
    """Where any are given, the phrase has one of them."""
    untagged: frozenset[str] = frozenset()
    suits: Callable[[list[float]], bool] = bool
    """Whether these wanted numbers belong here."""
    with_unit: bool = False
    claimed_by: frozenset[str] = frozenset({"quantulum3"})


_WORDED = frozenset({"dozen", "pair", "couple", "none_left", "same", "half", "total_cost"})
"""Numbers that are not said as numbers."""
_VAGUE = frozenset({"approximate", "range"})
_ALL = frozenset({"quantulum3", "text2num", "word2number"})
_UNITS = frozenset({"feet", "metric"})
_BENT = frozenset({"heavy", "light", "below_zero"})
"""The entry holds another number than was said."""


def _one_whole(numbers: list[float]) -> bool:
    return len(numbers) == 1 and numbers[0].is_integer()


def _several_whole(numbers: list[float]) -> bool:
    return len(numbers) > 1 and all(number.is_integer() for number in numbers)


def _broken(numbers: list[float]) -> bool:
    return any(not number.is_integer() for number in numbers)


PARTS = (
    Part(
        "one count",
        frozenset({"quantity", "workers", "fahrenheit"}),
        untagged=_WORDED | _VAGUE,
        suits=_one_whole,
        claimed_by=_ALL,
    ),
    Part(
        "counts",
        frozenset({"quantity", "workers", "pieces"}),
        untagged=_WORDED | _VAGUE,
        suits=_several_whole,
        claimed_by=_ALL - {"word2number"},
    ),
    Part(
        "fractions",
        frozenset({"quantity", "inches"}),
        untagged=_WORDED | _VAGUE | _BENT | _UNITS,
        suits=_broken,
    ),
    Part(
        "feet, metric",
        frozenset({"inches"}),
        tagged=_UNITS,
        untagged=_VAGUE | _BENT | {"shortened"},
        with_unit=True,
    ),
    Part(
        "areas",
        frozenset({"square_inches"}),
        tagged=frozenset({"area"}),
        untagged=_VAGUE | {"square"},
        with_unit=True,
    ),
    Part("hours", frozenset({"hours", "minutes"}), untagged=_VAGUE, with_unit=True),
)
NONE = "no number"


def main() -> None:
    every = phrases()
    readers = {"joblog": _joblog(), **_libraries()}
    columns = {part.name: [one for one in every if _belongs(one, part)] for part in PARTS}
    columns[NONE] = [one for one in every if not _figures(one)]
    print(f"{'':13}" + "".join(f"{name:>14}" for name in columns) + "   texts a second")
    print(f"{'phrases':13}" + "".join(f"{len(chosen):14}" for chosen in columns.values()))
    for name, reader in readers.items():
        if isinstance(reader, str):
            print(f"{name:13}  {reader}")
            continue
        trouble: Counter[str] = Counter()
        cells = [_cell(name, reader, part, columns[part.name], trouble) for part in PARTS]
        silent = sum(not _careful(reader, one, trouble) for one in columns[NONE])
        cells.append(f"{silent / len(columns[NONE]):.0%}")
        speed = _speed(reader, every[:200])
        print(f"{name:13}" + "".join(f"{cell:>14}" for cell in cells) + f"{speed:>17,.0f}")
        for what, count in trouble.most_common(3):
            print(f"{'':13}  failed {count} times: {what}")


def _cell(
    name: str, reader: Reader, part: Part, chosen: Sequence[Phrase], trouble: Counter[str]
) -> str:
    if name != "joblog" and name not in part.claimed_by:
        return "-"
    all_found = nothing_else = 0
    for phrase in chosen:
        wanted = _known(_wanted(phrase, part), part)
        found = _known(_careful(reader, phrase, trouble), part)
        all_found += not wanted - found
        nothing_else += wanted == found
    return f"{all_found / len(chosen):.0%} / {nothing_else / len(chosen):.0%}"


def _known(numbers: Iterable[tuple[float, str]], part: Part) -> Counter[tuple[int, str]]:
    """Numbers to a thousandth; what they are counts only where the unit belongs to the column."""
    return Counter((round(value * 1000), what if part.with_unit else "") for value, what in numbers)


def _belongs(phrase: Phrase, part: Part) -> bool:
    tags = frozenset(phrase.tags)
    figures = _figures(phrase)
    return (
        bool(figures)
        and figures <= part.fields
        and not phrase.free
        and (not part.tagged or bool(tags & part.tagged))
        and not tags & part.untagged
        and part.suits([value for value, _ in _wanted(phrase, part)])
    )


def _figures(phrase: Phrase) -> set[str]:
    """The fields of the phrase's entries that hold numbers."""
    return {
        name
        for entry in phrase.entries
        for name, value in entry.items()
        if value is not None and (name in _FIELDS or name in _OTHER_FIGURES)
    }


def _wanted(phrase: Phrase, part: Part) -> Found:
    return [one for entry in phrase.entries for one in _numbers_of(entry, part.fields)]


def _numbers_of(entry: dict[str, Any], fields: Iterable[str]) -> Found:
    return [
        (float(Fraction(str(entry[name]))) * _FIELDS[name][1], _FIELDS[name][0])
        for name in sorted(fields)
        if entry.get(name) is not None
    ]


def _careful(reader: Reader, phrase: Phrase, trouble: Counter[str]) -> Found:
    """What is found; where a library breaks down, nothing, and the breakdown is counted."""
    try:
        return reader(phrase)
    except Exception as error:  # Libraries raise anything; the table says what and how often.
        trouble[f"{type(error).__name__}: {str(error)[:60]}"] += 1
        return []


def _speed(reader: Reader, some: Sequence[Phrase]) -> float:
    began = time.perf_counter()
    for phrase in some:
        _careful(reader, phrase, Counter())
    return len(some) / (time.perf_counter() - began)


def _joblog() -> Reader:
    vocabulary = words()

    def reader(phrase: Phrase) -> Found:
        reading = read(phrase.text, vocabulary, phrase.context)
        entries = [entry_to_json(entry) for entry in reading.entries]
        clocks = [(0.0, "clock") for entry in entries if entry.get("time") is not None]
        return [one for entry in entries for one in _numbers_of(entry, _FIELDS)] + clocks

    return reader


def _libraries() -> dict[str, Reader | str]:
    made = {"quantulum3": _quantulum3, "text2num": _text2num, "word2number": _word2number}
    readers: dict[str, Reader | str] = {}
    for name, make in made.items():
        try:
            readers[name] = make()
        except ImportError as error:
            readers[name] = f"is not installed ({error}); pip install {name}"
    return readers


def _quantulum3() -> Reader:
    # Without its classifier, which tells apart units of the same name, as minutes of time and of
    # arc: what it has stored does not load into a newer scikit-learn. It is given the minutes.
    warnings.filterwarnings("ignore", module="quantulum3")
    parser: Any = importlib.import_module("quantulum3.parser")

    def reader(phrase: Phrase) -> Found:
        found: Found = []
        end = -99
        for one in parser.parse(phrase.text):
            unit = "minute" if "minute" in one.surface else one.unit.name
            what, factor = _QUANTULUM.get(unit, ("number", 1.0))
            value = one.value * factor
            # "12 feet 4 inches" is one length to us and two quantities to it.
            if found and what == found[-1][1] == "length" and one.span[0] - end < 6:
                found[-1] = (found[-1][0] + value, what)
            else:
                found.append((value, what))
            end = one.span[1]
        return found

    return reader


_QUANTULUM = {
    "inch": ("length", 1.0),
    "foot": ("length", 12.0),
    "yard": ("length", 36.0),
    "millimetre": ("length", 1 / 25.4),
    "centimetre": ("length", 1 / 2.54),
    "metre": ("length", 100 / 2.54),
    "square inch": ("area", 1.0),
    "square foot": ("area", 144.0),
    "square metre": ("area", (100 / 2.54) ** 2),
    "hour": ("time", 1.0),
    "minute": ("time", 1 / 60),
}


def _text2num() -> Reader:
    text_to_num: Any = importlib.import_module("text_to_num")

    def reader(phrase: Phrase) -> Found:
        figures = text_to_num.alpha2digit(phrase.text, "en")
        return [(float(one), "number") for one in re.findall(_PLAIN_NUMBER, figures)]

    return reader


_PLAIN_NUMBER = r"(?<![\w./:])\d+(?:\.\d+)?(?![\w/:])"


def _word2number() -> Reader:
    w2n: Any = importlib.import_module("word2number.w2n")

    def reader(phrase: Phrase) -> Found:
        try:
            return [(float(w2n.word_to_num(aloud(phrase.text))), "number")]
        except ValueError:  # Its way to say that there is no number.
            return []

    return reader


if __name__ == "__main__":
    main()
