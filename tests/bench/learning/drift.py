"""Whether it is noticed that a person wastes more, or less, than before; how often for nothing."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from scipy.stats import kendalltau

from joblog.rates import learn
from tests.bench.learning.scores import Score
from tests.bench.learning.simulators import Setting, contractor
from tests.bench.learning.trade import Contractor

JOBS = 40
SURE = 0.05


def show_drift(setting: Setting, foreseen: dict[str, list[Score]]) -> None:
    """Prints how often drift is told, of those who drifted up, down, or not at all, and what their
    next orders cost: `foreseen` by method, one for each person.

    Beside joblog stands a plain test that knows nothing of prices or packs: Kendall's rank
    correlation of each job's waste, against what its items usually lose, with its number, at
    5 percent. It shows what there is to be noticed.
    """
    people = [contractor(setting, number) for number in range(len(foreseen["joblog"]))]
    ways = {"joblog": told_by_joblog, f"rank test, {SURE:.0%}": noticed_by_ranks}
    print("\nDrift noticed after 40 jobs, percent of people (right way / wrong way)")
    columns = [*ways, "material held", *(f"cost, {method}" for method in foreseen)]
    print(f"{'':28}" + "".join(f"{column:>16}" for column in columns))
    truths: dict[str, Callable[[float], bool]] = {
        "up by half to double": lambda far: 1.5 <= far < 2,
        "up to double or more": lambda far: far >= 2,
        "down to 1/2 .. 2/3": lambda far: 0.5 < far <= 2 / 3,
        "down to half or less": lambda far: far <= 0.5,
        "stayed": lambda far: far == 1,
    }
    for truth, is_so in truths.items():
        numbers = [n for n, person in enumerate(people) if is_so(person.moved[JOBS - 1])]
        of_these = [people[number] for number in numbers]
        if not of_these:
            continue
        cells = []
        for noticed in ways.values():
            found = np.array([noticed(person) for person in of_these])
            right = np.sign(np.log(of_these[0].moved[JOBS - 1]))
            if right == 0:
                cells.append(f"- / {100 * np.mean(found != 0):.0f}")
            else:
                cells.append(
                    f"{100 * np.mean(found == right):.0f} / {100 * np.mean(found == -right):.0f}"
                )
        held = [foreseen["joblog"][number].covered for number in numbers]
        cells.append(" ".join(f"{100 * level:.0f}" for level in np.mean(held, axis=0)))
        cells += [
            f"{np.mean([scores[n].cost for n in numbers]):.2f}"
            if max(numbers) < len(scores)
            else "-"
            for scores in foreseen.values()
        ]
        print(f"{truth + f' ({len(of_these)})':28}" + "".join(f"{cell:>16}" for cell in cells))


def told_by_joblog(person: Contractor) -> int:
    """1 where it says that more is wasted than it was, -1 for less, 0 where it says nothing."""
    notes = learn(person.history(JOBS), estimate=person.estimate).rates.notes
    return next(filter(None, map(_way_of, notes)), 0)


def _way_of(note: str) -> int:
    if "waste" not in note or "since" not in note:
        return 0
    return 1 if "more" in note else -1 if "less" in note else 0


def noticed_by_ranks(person: Contractor) -> int:
    """1 for more, -1 for less, 0 where the test is not sure."""
    past = person.history(JOBS).uses
    lost, needed = (partial(_by_item, past, part) for part in (_lost, _needed))
    usual = {name: max(0.005, lost(name) / needed(name)) for name in {use.item for use in past}}
    of_job = []
    for uses in person.uses[:JOBS]:
        expected = sum(_needed(use) * usual[use.item] for use in uses)
        of_job.append(sum(_lost(use) for use in uses) / expected)
    found = kendalltau(range(JOBS), of_job)
    return int(np.sign(found.statistic)) if found.pvalue < SURE else 0


def _by_item(past, part, name: str) -> float:  # type: ignore[no-untyped-def]
    return sum(part(use) for use in past if use.item == name)


def _lost(use) -> float:  # type: ignore[no-untyped-def]
    return float(use.consumed - use.net - (use.geometric or 0))


def _needed(use) -> float:  # type: ignore[no-untyped-def]
    return float(use.net)
