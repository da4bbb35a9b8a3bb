"""A full hierarchical Bayesian model of the same jobs: what there was to be learned.

    pip install -e '.[reference]'
    python -m tests.bench.learning.reference [--held] [--only pieces small seasons drifting]
        [--contractors 24] [--jobs 1 3 5 10 40] [--warmup 400] [--draws 400]

writes `reference_open.json` (or `_held`) beside this file, which `python -m tests.bench.learning`
shows, and prints how well the chains agreed.

Written as a statistician would who knows the trade, and did not look at how joblog does it. Waste
of an item on a job, in pieces, is nothing at all with some chance (compound Poisson, its rate
scattered from job to job), else a gamma of the mean and variance that follow, else, rarely, an
accident. Its rate, in logarithms: person, family, item, job, a walk and a trend through the jobs,
cold, helper, depth. What the cut list forces is a share of the net of each item where nobody worked
it out. Hours: setting up, and units by pace; pace likewise. All scatter is unknown, with weak
priors. Unlike joblog it is told how many of an item's units are one piece.

Sampled by NumPyro's Hamiltonian Monte Carlo, its trajectories of one length: NUTS lets a whole
batch wait for its longest tree. People whose chains disagree are kept all the same; after 40 jobs
the chains of hours disagree for most of them (R-hat 1.3), so take those as near.
"""

from __future__ import annotations

import argparse
import json
import os
from functools import partial
from pathlib import Path

os.environ.setdefault(
    "XLA_FLAGS", "--xla_cpu_multi_thread_eigen=false intra_op_parallelism_threads=1"
)

import jax
import jax.numpy as jnp
import numpy as np
import numpyro
import numpyro.distributions as dist
from numpyro.diagnostics import split_gelman_rubin
from numpyro.infer.hmc import hmc
from numpyro.infer.util import initialize_model, potential_energy, transform_fn

from joblog.model import PastUse, PastWork
from tests.bench.learning.__main__ import reference_file
from tests.bench.learning.methods import Foreseen, Foresight, by_amounts, middle_intervals
from tests.bench.learning.scores import score, stored
from tests.bench.learning.simulators import FAMILIES, HELD, OPEN, USED, USED_TASKS, contractor
from tests.bench.learning.trade import JOBS, Asked, AskedWork, Contractor

jax.config.update("jax_enable_x64", True)

SIZES = (10, 40)
"""Data sets are filled up to so many jobs, with lines that weigh nothing: one model to compile."""

BATCH = 64
"""Data sets that are sampled at once."""

CHAINS = 2
STEPS = 24
"""Of one trajectory."""
SHIFT = 0.3
"""Pieces: counting to the half can tell up to a quarter less than there was."""


def main() -> None:
    asked = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    asked.add_argument("--held", action="store_true")
    asked.add_argument("--only", nargs="+", choices=tuple(OPEN), default=tuple(OPEN))
    asked.add_argument("--contractors", type=int, default=24)
    asked.add_argument("--first", type=int, default=0, help="go on from this person")
    asked.add_argument("--jobs", type=int, nargs="+", choices=JOBS, default=JOBS)
    asked.add_argument("--warmup", type=int, default=400)
    asked.add_argument("--draws", type=int, default=400)
    asked.add_argument("--into", type=Path, help="another file than the one that is shown")
    said = asked.parse_args()
    settings = HELD if said.held else OPEN
    file = said.into or reference_file(said.held)
    for size in SIZES:
        asked_of = [
            (name, jobs, number)
            for name in said.only
            for jobs in said.jobs
            for number in range(said.first, said.contractors)
            if size == _size(jobs)
        ]
        if not asked_of:
            continue
        people = [contractor(settings[name], number) for name, _, number in asked_of]
        after = [jobs for _, jobs, _ in asked_of]
        found, agreed = foresee(people, after, said.warmup, said.draws)
        # Read anew each time: another run may have written other lines of it.
        scores = json.loads(file.read_text()) if file.exists() else {}
        for name, jobs, _ in asked_of:
            scores[f"{name} {jobs}"] = scores.get(f"{name} {jobs}", [])[: said.first]
        for (name, jobs, _), person, foresight in zip(asked_of, people, found, strict=True):
            scores[f"{name} {jobs}"].append(stored(score(person, jobs, foresight)))
        keep(file, scores)
        print(f"up to {size} jobs: {agreed}", flush=True)


def keep(file: Path, scores: dict[str, list]) -> None:
    """Writes them, one simulator and number of jobs a line."""
    lines = (
        f"{json.dumps(key)}: {json.dumps(value, separators=(',', ':'))}"
        for key, value in sorted(scores.items())
    )
    file.write_text("{\n" + ",\n".join(lines) + "\n}\n")


def foresee(
    people: list[Contractor], after: list[int], warmup: int, draws: int
) -> tuple[list[Foresight], str]:
    """The job ahead of each of them, after so many jobs, and how far the chains can be believed."""
    uses = _stacked([_use_data(*each) for each in zip(people, after, strict=True)])
    work = _stacked([_work_data(*each) for each in zip(people, after, strict=True)])
    hours, of_work = _sampled(_hours, _ahead_hours, work, warmup, draws)
    amounts, of_uses = _sampled(_waste, _ahead_waste, uses, warmup, draws)
    foresights = []
    for number, (person, jobs) in enumerate(zip(people, after, strict=True)):
        ahead = person.ahead[jobs]
        foresights.append(
            Foresight(
                tuple(
                    by_amounts(asked, amounts[number, :, place] * float(asked.goods.unit))
                    for place, asked in enumerate(ahead.uses)
                ),
                tuple(_worked(hours[number, :, place]) for place, _ in enumerate(ahead.work)),
            )
        )
    return foresights, f"waste {of_uses}; hours {of_work}"


def _worked(hours: np.ndarray) -> Foreseen:
    return Foreseen(
        middle=float(np.median(hours)), amounts=np.sort(hours), intervals=middle_intervals(hours)
    )


# --- the models ---------------------------------------------------------------------------------


def _waste(given: dict) -> None:
    now = _sample_waste(given["items"], given["walk"])
    mean, size, scatter, forced, forced_scatter, odd = _use_mean(now, given, given, now["path"])
    known = given["known"] * given["weight"]
    share = jnp.log(now["forced"][given["item"]])
    numpyro.factor(
        "forced shares",
        jnp.sum(
            known
            * dist.Normal(share, now["forced_scatter"]).log_prob(jnp.log(given["share"] + 0.004))
        ),
    )
    numpyro.factor(
        "gone",
        jnp.sum(
            given["weight"]
            * _gone_log_prob(
                given["excess"], mean, size, scatter, forced, forced_scatter, odd, given["net"]
            )
        ),
    )


def _sample_waste(items: jax.Array, walk: jax.Array) -> dict:
    sample = numpyro.sample
    count, jobs = items.shape[0], walk.shape[0]
    person = sample("person", dist.Normal(jnp.log(0.05), 0.8))
    family = sample("between families", dist.HalfNormal(0.6)) * sample(
        "family", dist.Normal(0, 1).expand([len(FAMILIES)])
    )
    item = sample("between items", dist.HalfNormal(0.4)) * sample(
        "item", dist.Normal(0, 1).expand([count])
    )
    between_jobs = sample("between jobs", dist.HalfNormal(0.4))
    of_job = between_jobs * sample("job", dist.Normal(0, 1).expand([jobs]))
    step = sample("step", dist.HalfNormal(0.08))
    steps = step * sample("steps", dist.Normal(0, 1).expand([jobs]))
    trend = sample("trend", dist.Normal(0, 0.4))
    # From today backward: the person's rate is today's.
    backward = jnp.cumsum(steps[::-1])[::-1]
    cold = sample("cold", dist.Normal(0.15, 0.3)) + sample(
        "cold differs", dist.HalfNormal(0.2)
    ) * sample("cold by family", dist.Normal(0, 1).expand([len(FAMILIES)]))
    forced = sample("forced", dist.Normal(jnp.log(0.05), 1.0)) + sample(
        "forced differs", dist.HalfNormal(0.8)
    ) * sample("forced by item", dist.Normal(0, 1).expand([count]))
    return {
        "item": person + family[items] + item,
        "path": backward - trend * walk + of_job,
        "between_jobs": between_jobs,
        "step": step,
        "trend": trend,
        "cold": cold,
        "helper": sample("helper", dist.Normal(0, 0.35)),
        "deep": sample("deep", dist.Normal(0, 0.2)),
        "forced": jnp.exp(forced),
        "forced_scatter": sample("forced scatter", dist.HalfNormal(0.7)),
        "size": jnp.exp(
            sample("size", dist.Normal(jnp.log(0.5), 0.5))
            + 0.4 * sample("size by item", dist.Normal(0, 1).expand([count]))
        ),
        "scatter": sample("scatter", dist.HalfNormal(0.4)),
        "odd": sample("odd", dist.Beta(1.0, 60.0)),
    }


def _use_mean(now: dict, given: dict, rows: dict, path: jax.Array) -> tuple:
    item = rows["item"]
    family = given["items"][item]
    rate = jnp.exp(
        now["item"][item]
        + path[rows["job"]]
        + now["cold"][family] * rows["cold"]
        + now["helper"] * rows["helper"]
        + now["deep"] * rows["deep"]
    )
    unknown = 1 - rows["known"]
    forced = unknown * rows["net"] * now["forced"][item]
    # A gamma of rates, so that large jobs are told apart from lucky ones.
    mean = rate * (rows["net"] + rows["geometric"] + forced) + 1e-4
    return (
        mean,
        now["size"][item],
        now["scatter"],
        forced,
        forced * jnp.sqrt(jnp.expm1(now["forced_scatter"] ** 2)) * 0.7,
        now["odd"],
    )


def _gone_parts(mean: jax.Array, size: jax.Array, scatter: jax.Array) -> tuple:
    """The chance that nothing is lost, and mean and variance of what is lost otherwise."""
    events = mean / size
    lucky = scatter**2 + 1e-6
    nothing = jnp.exp(-jnp.log1p(lucky * events) / lucky)
    something = jnp.clip(1 - nothing, 1e-9, 1.0)
    second = 1.4 * size * mean + (1 + lucky) * mean**2
    return nothing, mean / something, second / something - (mean / something) ** 2


def _gone_log_prob(excess, mean, size, scatter, forced, forced_scatter, odd, net):  # type: ignore[no-untyped-def]
    nothing, average, spread = _gone_parts(mean, size, scatter)
    counting = 1 / 48 + forced_scatter**2
    none = jnp.log(nothing + 1e-12) + dist.Normal(forced, jnp.sqrt(counting + 0.005)).log_prob(
        excess
    )
    average = average + forced + SHIFT
    spread = jnp.clip(spread, 0.01, None) + counting
    shape = average**2 / spread
    seen = jnp.clip(excess + SHIFT, 0.02, None)
    some = jnp.log1p(-jnp.clip(nothing, 0, 1 - 1e-9)) + dist.Gamma(
        shape, average / spread
    ).log_prob(seen)
    struck = dist.Exponential(1 / (0.35 * net + average)).log_prob(seen)
    return jnp.logaddexp(jnp.log1p(-odd) + jnp.logaddexp(none, some), jnp.log(odd + 1e-12) + struck)


def _ahead_waste(key: jax.Array, now: dict, given: dict) -> jax.Array:
    """Pieces of each item of the job ahead, in one world that may be."""
    rows = given["ahead"]
    keys = jax.random.split(key, 8)
    shape = rows["net"].shape
    path = (
        now["between_jobs"] * jax.random.normal(keys[0])
        + now["step"] * jax.random.normal(keys[1])
        + now["trend"] / 40
    )
    mean, size, scatter, forced, _, odd = _use_mean(now, given, rows, path[None])
    nothing, average, spread = _gone_parts(mean, size, scatter)
    average, spread = average + SHIFT, jnp.clip(spread, 0.01, None)
    some = jnp.clip(
        jax.random.gamma(keys[2], average**2 / spread) * spread / average - SHIFT, 0, None
    )
    lost = jnp.where(jax.random.uniform(keys[3], shape) < nothing, 0.0, some)
    struck = jax.random.exponential(keys[4], shape) * 0.35 * rows["net"]
    lost = lost + jnp.where(jax.random.uniform(keys[5], shape) < odd, struck, 0.0)
    wide = now["forced_scatter"]
    ends = forced * jnp.exp(wide * jax.random.normal(keys[6], shape))
    return rows["net"] + rows["geometric"] + ends + lost


def _hours(given: dict) -> None:
    now = _sample_hours(given["planned"], given["walk"])
    middle, spread = _work_mean(now, given, now["path"])
    seen = dist.StudentT(6.0, middle, spread).log_prob(jnp.log(given["crew_hours"]))
    numpyro.factor("told", jnp.sum(given["weight"] * seen))


def _sample_hours(planned: jax.Array, walk: jax.Array) -> dict:
    sample = numpyro.sample
    count, jobs = planned.shape[0], walk.shape[0]
    task = sample("between tasks", dist.HalfNormal(0.3)) * sample(
        "task", dist.Normal(0, 1).expand([count])
    )
    between_jobs = sample("between jobs", dist.HalfNormal(0.25))
    step = sample("step", dist.HalfNormal(0.03))
    steps = step * sample("steps", dist.Normal(0, 1).expand([jobs]))
    trend = sample("trend", dist.Normal(0, 0.2))
    return {
        "pace": jnp.log(planned) + sample("person", dist.Normal(0, 0.3)) + task,
        "path": jnp.cumsum(steps[::-1])[::-1]
        - trend * walk
        + between_jobs * sample("job", dist.Normal(0, 1).expand([jobs])),
        "between_jobs": between_jobs,
        "step": step,
        "trend": trend,
        "cold": sample("cold", dist.Normal(0.05, 0.1)),
        "helper": sample("helper", dist.Normal(0, 0.2)),
        "deep": sample("deep", dist.Normal(0, 0.1)),
        "set_up": sample("set up", dist.HalfNormal(1.0).expand([count])),
        "days": sample("days", dist.HalfNormal(0.3)),
        "rest": sample("rest", dist.HalfNormal(0.15)),
    }


def _work_mean(now: dict, rows: dict, path: jax.Array) -> tuple[jax.Array, jax.Array]:
    task = rows["task"]
    working = rows["quantity"] * jnp.exp(
        now["pace"][task]
        + path[rows["job"]]
        + now["cold"] * rows["cold"]
        + now["helper"] * rows["helper"]
        + now["deep"] * rows["deep"]
    )
    middle = jnp.log(working + now["set_up"][task])
    days = 1 + working / 7
    return middle, jnp.sqrt(now["rest"] ** 2 + now["days"] ** 2 / days + 1e-4)


def _ahead_hours(key: jax.Array, now: dict, given: dict) -> jax.Array:
    rows = given["ahead"]
    keys = jax.random.split(key, 3)
    path = (
        now["between_jobs"] * jax.random.normal(keys[0])
        + now["step"] * jax.random.normal(keys[1])
        + now["trend"] / 40
    )
    middle, spread = _work_mean(now, rows, path[None])
    return jnp.exp(middle + spread * jax.random.t(keys[2], 6.0, middle.shape))


# --- sampling -----------------------------------------------------------------------------------


def _sampled(model, ahead, people: dict, warmup: int, draws: int) -> tuple[np.ndarray, str]:  # type: ignore[no-untyped-def]
    """Equally likely jobs ahead of each of them: people x draws x lines."""
    first = jax.tree.map(lambda each: each[0], people)
    start = initialize_model(jax.random.key(0), model, model_args=(first,)).param_info.z
    sample_of = {_waste: _sample_waste, _hours: _sample_hours}[model]
    by = {_waste: "items", _hours: "planned"}[model]

    # Jitted by itself, so that the sampler traces it once and not wherever it looks.
    density = jax.jit(lambda given, place: potential_energy(model, (given,), {}, place))

    def potential(given: dict):  # type: ignore[no-untyped-def]
        return partial(density, given)

    def one_chain(key: jax.Array, given: dict) -> tuple:
        keys = jax.random.split(key, 3)
        begin = {
            name: 0.2 * jax.random.normal(jax.random.fold_in(keys[0], place), value.shape)
            for place, (name, value) in enumerate(start.items())
        }
        init, kernel = hmc(potential_fn_gen=potential, algo="HMC")
        state = init(
            begin,
            warmup,
            step_size=0.1,
            trajectory_length=None,
            num_steps=STEPS,
            target_accept_prob=0.8,
            model_args=(given,),
            rng_key=keys[1],
        )

        def step(state, _):  # type: ignore[no-untyped-def]
            state = kernel(state, model_args=(given,))
            return state, (state.z, state.diverging)

        # One loop for both, so that it is compiled once.
        _, (places, diverged) = jax.lax.scan(step, state, None, length=warmup + draws)
        places, diverged = jax.tree.map(lambda each: each[warmup:], (places, diverged))

        def world(key: jax.Array, place: dict) -> jax.Array:
            substituted = numpyro.handlers.substitute(
                numpyro.handlers.seed(sample_of, jax.random.key(0)),
                transform_fn(transforms, place),
            )
            return ahead(key, substituted(given[by], given["walk"]), given)

        return jax.vmap(world)(jax.random.split(keys[2], draws), places), places, diverged

    transforms = _transforms(model, first)
    count = len(next(iter(people["ahead"].values())))
    run = jax.jit(jax.vmap(jax.vmap(one_chain, in_axes=(0, None)), in_axes=(0, 0)))
    amounts, agreed, divergent = [], [], []
    for start_of in range(0, count, BATCH):
        # The last batch is filled up with those that were there before.
        of_batch = np.arange(start_of, start_of + BATCH) % count
        keys = jax.random.split(jax.random.key(1 + start_of), (BATCH, CHAINS))
        found, places, diverged = run(keys, jax.tree.map(lambda each, w=of_batch: each[w], people))
        real = min(BATCH, count - start_of)
        amounts.append(np.array(found).reshape(BATCH, CHAINS * draws, -1)[:real])
        agreed.append(
            np.max([_disagreement(np.array(place)[:real]) for place in places.values()], axis=0)
        )
        divergent.append(np.array(diverged)[:real])
        print(".", end="", flush=True)
    disagreed = np.concatenate(agreed)
    return np.concatenate(amounts), (
        f"R-hat median {np.median(disagreed):.3f}, of nine in ten below"
        f" {np.quantile(disagreed, 0.9):.3f}, worst {disagreed.max():.3f};"
        f" {100 * np.mean(np.concatenate(divergent)):.2f} % divergent"
    )


def _disagreement(place: np.ndarray) -> np.ndarray:
    """R-hat of each person's worst value of one site: people x chains x draws x values."""
    return np.array([np.max(split_gelman_rubin(of_one)) for of_one in place])


def _transforms(model, given: dict) -> dict:  # type: ignore[no-untyped-def]
    """From unconstrained to what the model samples."""
    trace = numpyro.handlers.trace(numpyro.handlers.seed(model, jax.random.key(0))).get_trace(given)
    return {
        name: dist.transforms.biject_to(site["fn"].support)
        for name, site in trace.items()
        if site["type"] == "sample" and not site["is_observed"]
    }


# --- what the models are given ------------------------------------------------------------------


def _use_data(person: Contractor, jobs: int) -> dict:
    places = {goods.name: place for place, goods in enumerate(person.goods)}
    units = {goods.name: float(goods.unit) for goods in person.goods}
    past = person.history(jobs).uses

    def row(use: PastUse | Asked, name: str) -> dict:
        net, unit = float(use.net), units[name]
        geometric = float(use.geometric or 0)
        return {
            "item": places[name],
            "net": net / unit,
            "geometric": geometric / unit,
            "known": float(use.geometric is not None),
            "share": geometric / net,
            **_conditions(use),
        }

    rows = [
        {
            **row(use, use.item),
            "job": _size(jobs) - jobs + int(use.job.split()[1]) - 1,
            "excess": float(use.consumed - use.net - (use.geometric or 0)) / units[use.item],
        }
        for use in past
    ]
    ahead = [{**row(use, use.goods.name), "job": 0} for use in person.ahead[jobs].uses]
    return {
        **_columns(_filled(rows, USED, jobs)),
        "ahead": _columns(ahead),
        "items": np.array([FAMILIES.index(goods.family) for goods in person.goods]),
        "walk": np.arange(_size(jobs), 0, -1) / 40,
    }


def _work_data(person: Contractor, jobs: int) -> dict:
    places = {labor.name: place for place, labor in enumerate(person.labor)}
    rows = [
        {
            "task": places[work.task],
            "job": _size(jobs) - jobs + int(work.job.split()[1]) - 1,
            "quantity": float(work.quantity),
            "crew_hours": float(work.crew_hours),
            **_conditions(work),
        }
        for work in person.history(jobs).work
    ]
    ahead = [
        {
            "task": places[work.labor.name],
            "job": 0,
            "quantity": float(work.quantity),
            **_conditions(work),
        }
        for work in person.ahead[jobs].work
    ]
    return {
        **_columns(_filled(rows, USED_TASKS, jobs)),
        "ahead": _columns(ahead),
        "planned": np.array([float(labor.planned) for labor in person.labor]),
        "walk": np.arange(_size(jobs), 0, -1) / 40,
    }


def _size(jobs: int) -> int:
    return min(size for size in SIZES if size >= jobs)


def _filled(rows: list[dict], of_a_job: int, jobs: int) -> list[dict]:
    weighed = [{**row, "weight": 1.0} for row in rows]
    return weighed + [{**rows[0], "weight": 0.0}] * (of_a_job * _size(jobs) - len(rows))


def _conditions(line: PastUse | PastWork | Asked | AskedWork) -> dict[str, float]:
    """Around what is usual, and 0 where nobody said."""
    return {
        "cold": 0.0 if line.fahrenheit is None else (55 - float(line.fahrenheit)) / 20,
        "helper": 0.0 if line.crew is None else line.crew - 1.4,
        "deep": 0.0 if line.depth is None else (float(line.depth) - 12) / 12,
    }


def _columns(rows: list[dict]) -> dict[str, np.ndarray]:
    return {key: np.array([row[key] for row in rows]) for key in rows[0]}


def _stacked(people: list[dict]) -> dict:
    return jax.tree.map(lambda *each: jnp.stack([jnp.asarray(one) for one in each]), *people)


if __name__ == "__main__":
    main()
