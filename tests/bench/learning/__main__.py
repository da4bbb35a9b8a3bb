"""Four simulated trades: what learning from 1, 3, 5, 10 and 40 closed jobs is worth.

    python -m tests.bench.learning [--held | --fresh] [--only pieces small seasons drifting]
        [--contractors 24] [--jobs 1 3 5 10 40]

prints, for each simulator and number of closed jobs:
- order cost: packs for one item of the job ahead, 4 for each that lacked and 1 for each too many,
  by joblog, by the plain average, by flat ten percent (both of them on the cut list, where it is
  known), and by the reference, with the standard error of joblog against it over contractors;
- how often 50, 80 and 95 % intervals held what was told, of material and of hours;
- hours: the median of how far the middle was off;
- running short: the chance asked for, what the packs were said to leave, and how often they did;
- drift: how often it was told where waste had moved, and where it had not.

The reference is a full hierarchical Bayesian model (`reference.py`). What it came to on the open
settings lies in `reference_open.json`, so that nobody needs to run it; to run it again:

    pip install -e '.[reference]'
    python -m tests.bench.learning.reference [--held] [--only ...] [--contractors 24]

`--held` and `--fresh` take other settings. They are for the end: whoever changes the rates does not
look, and of those that were looked at nothing more can be told.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tests.bench.learning.drift import show_drift
from tests.bench.learning.methods import (
    RISKS,
    Method,
    flat_ten_percent,
    joblog,
    plain_average,
)
from tests.bench.learning.scores import LEVELS, Score, read, score
from tests.bench.learning.simulators import FRESH, HELD, OPEN, Setting, contractor
from tests.bench.learning.trade import JOBS

METHODS: dict[str, Method] = {
    "joblog": joblog,
    "average": plain_average,
    "flat 10%": flat_ten_percent,
}
REFERENCE = "reference"


def main() -> None:
    asked = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    other = asked.add_mutually_exclusive_group()
    other.add_argument("--held", action="store_true")
    other.add_argument("--fresh", action="store_true")
    asked.add_argument("--only", nargs="+", choices=tuple(OPEN), default=tuple(OPEN))
    asked.add_argument("--contractors", type=int, default=24)
    asked.add_argument("--jobs", type=int, nargs="+", choices=JOBS, default=JOBS)
    said = asked.parse_args()
    settings = HELD if said.held else FRESH if said.fresh else OPEN
    reference = {} if said.fresh else kept(said.held)
    found = {
        name: scored(settings[name], name, said.contractors, said.jobs, reference)
        for name in said.only
    }
    show(found)
    if "drifting" in said.only and max(JOBS) in said.jobs:
        after_all = found["drifting"]
        show_drift(
            settings["drifting"],
            {name: scores for (jobs, name), scores in after_all.items() if jobs == max(JOBS)},
        )


Scores = dict[tuple[int, str], list[Score]]
"""By closed jobs and method: one for each contractor."""


def scored(
    setting: Setting, name: str, contractors: int, jobs: Sequence[int], reference: dict
) -> Scores:
    """Every method on that many people of a setting, and the reference as far as it is kept."""
    found: Scores = {}
    for number in range(contractors):
        person = contractor(setting, number)
        for after in jobs:
            for method, foresee in METHODS.items():
                found.setdefault((after, method), []).append(
                    score(person, after, foresee(person, after))
                )
            held = reference.get(f"{name} {after}", [])
            if number < len(held):
                found.setdefault((after, REFERENCE), []).append(read(held[number]))
    return found


def kept(held: bool) -> dict:
    """What the reference came to, as `reference.py` wrote it; empty where it has not."""
    path = reference_file(held)
    return json.loads(path.read_text()) if path.exists() else {}


def reference_file(held: bool) -> Path:
    return Path(__file__).with_name(f"reference_{'held' if held else 'open'}.json")


def show(found: dict[str, Scores]) -> None:
    """Prints the tables, and below the simulators all of them together."""
    found = {**found, "all": _together(found)}
    names = (*METHODS, REFERENCE)
    print("Order cost, packs an item (4 a pack missing, 1 a pack left over)")
    _head("", "n", *names, "over reference", "small", "new", "people")
    for simulator, scores in found.items():
        for jobs in _jobs(scores):
            mine = scores[jobs, "joblog"]
            theirs = scores.get((jobs, REFERENCE), [])
            _row(
                simulator,
                jobs,
                *(_mean(_of_the_same(scores, jobs, name), "cost") for name in names),
                _against(mine[: len(theirs)], theirs),
                _beside(scores, jobs, "small_cost"),
                _beside(scores, jobs, "new_cost"),
                f"{len(mine)}/{len(theirs)}",
            )
    print(
        "\nover reference: joblog's cost against the reference's on the same people, in percent"
        "\nmore, with its standard error. small, new: joblog/average/flat/reference on items of"
        "\nunder 25 pieces, and on items never used before. people: all / those of the reference,"
        "\nwhose own figure stands only where they are all."
    )
    for title, key in (
        ("Material held by 50/80/95 % (told to the half piece)", "covered"),
        ("Material held by the intervals as printed", "printed"),
        ("Hours held by 50/80/95 %", "hours_covered"),
    ):
        print(f"\n{title}")
        _head("", "n", "joblog", REFERENCE)
        for simulator, scores in found.items():
            for jobs in _jobs(scores):
                _row(
                    simulator,
                    jobs,
                    *(
                        _percents(scores.get((jobs, name), []), key)
                        for name in ("joblog", REFERENCE)
                    ),
                )
    print("\nHours: median of how far off, percent")
    _head("", "n", *names)
    for simulator, scores in found.items():
        for jobs in _jobs(scores):
            _row(
                simulator,
                jobs,
                *(_median_off(_of_the_same(scores, jobs, name)) for name in names),
            )
    print(
        f"\nRunning short, percent: asked {', '.join(f'{risk:.0%}' for risk in RISKS)};"
        " said of the packs -> happened"
    )
    _head("", "n", "joblog", "", REFERENCE)
    for simulator, scores in found.items():
        for jobs in _jobs(scores):
            _row(
                simulator,
                jobs,
                _percents(scores[jobs, "joblog"], "said"),
                _percents(scores[jobs, "joblog"], "ran_short"),
                _percents(scores.get((jobs, REFERENCE), []), "said"),
                _percents(scores.get((jobs, REFERENCE), []), "ran_short"),
            )


def _together(found: dict[str, Scores]) -> Scores:
    """Of all simulators; first those people whom the reference foresaw too, as in each of them."""
    together: Scores = {}
    for foreseen in (True, False):
        for scores in found.values():
            for (jobs, method), of_people in scores.items():
                count = len(scores.get((jobs, REFERENCE), []))
                part = of_people[:count] if foreseen else of_people[count:]
                together.setdefault((jobs, method), []).extend(part)
    return together


def _jobs(scores: Scores) -> list[int]:
    return sorted({jobs for jobs, _ in scores})


def _mean(scores: Sequence[Score], key: str) -> str:
    values = [value for each in scores if (value := getattr(each, key)) is not None]
    return f"{np.mean(values):.2f}" if values else "-"


def _beside(scores: Scores, jobs: int, key: str) -> str:
    return "/".join(_mean(_of_the_same(scores, jobs, name), key) for name in (*METHODS, REFERENCE))


def _of_the_same(scores: Scores, jobs: int, name: str) -> list[Score]:
    """None where the method foresaw fewer people than joblog: means could not be compared."""
    of_method = scores.get((jobs, name), [])
    return of_method if len(of_method) == len(scores[jobs, "joblog"]) else []


def _against(mine: Sequence[Score], theirs: Sequence[Score]) -> str:
    if not theirs:
        return "-"
    ours, other = np.array([[a.cost, b.cost] for a, b in zip(mine, theirs, strict=True)]).T
    draw = np.random.default_rng(1)
    picks = draw.integers(len(ours), size=(2000, len(ours)))
    spread = np.std(ours[picks].mean(1) / other[picks].mean(1))
    return f"{100 * (ours.mean() / other.mean() - 1):+.1f} ±{100 * spread:.1f}"


def _percents(scores: Sequence[Score], key: str) -> str:
    values = [value for each in scores if (value := getattr(each, key)) is not None]
    return " ".join(f"{100 * each:3.0f}" for each in np.mean(values, axis=0)) if values else "-"


def _median_off(scores: Sequence[Score]) -> str:
    """The mean over people of each one's median: it can be kept in a small file."""
    values = [np.median(each.hours_off) for each in scores]
    return f"{100 * np.mean(values):.1f}" if values else "-"


def _head(*columns: str) -> None:
    _row(*columns)


def _row(*columns: object) -> None:
    first, jobs, *others = (str(column) for column in columns)
    print(f"{first:9} {jobs:>3}  " + "  ".join(f"{other:>15}" for other in others))


if __name__ == "__main__":
    assert len(LEVELS) == 3
    main()
