"""Learns waste and production rates from closed jobs.

The model of waste. A job that needs the base b (net plus the geometric waste its cut list
forces) and consumes C shows the handling rate r = C / b - 1. Geometric waste is never learned
where it was worked out. Rates are pooled in three steps, each logarithm of a rate lying normally
about the one above it:

    contractor   m        ~ Normal(log 0.05, 0.4)
    family       mu_f     ~ Normal(m, 0.3)
    item         theta_i  ~ Normal(mu_f, tau_f),  tau_f half-normal of scale 0.35
    job          log(r + slack) ~ t about exp(theta_i + x . beta_f), see `spread`

The numbers in the first three lines are the stated prior: five in a hundred, within about a
factor of two either way. It is common practice, not a measurement, and rates that rest on it
say so. The variants of an item (its sizes, lengths, colors) are a family of their own, whose mean
lies about that of the family of the item: Normal(mu_f, 0.2).

How jobs scatter is shared by all families of the contractor: the t has 4 degrees, because an
accident may cost a third of an item; its spread is log-normal with scale 0.6, so that its standard
deviation is about 0.7; the lump is one of three sizes, equally likely, in pieces. Where an item is
told in coarse steps (sticks of 12 ft, in feet) a piece is two of them, and counts are as good as
half a step (`steps`).

beta_f are effects of the conditions x (temperature in steps of 20 F, depth of 12 in, crew of one
person, each centred; and whether geometric waste was worked out): Normal(0, 0.15) for one step but
for the last, Normal(0.4, 0.4). A condition takes part once six jobs of the family told it and it
differs between them by a quarter of a step (standard deviation). The lines of a job are taken to
have half of their variance in common, so that they say hardly more of its weather and crew than one
line does. Nothing is carried on beyond what a job had: a value beyond counts as the nearest that
was seen, and the prediction is less sure by what a step may matter, 0.15 for each, two at most.
While a condition takes no part, the same goes for all that lies between the new job's value and the
mean of the item's jobs.

The model of hours is the same with r the crew hours for one unit, exp(theta_i + x . beta) + h / b:
h is what a job takes before the first unit (0, 1/4, 1/2, 1 or 2 crew hours, equally likely), the
same for all tasks. Tasks share that and how jobs scatter, not their mean, because their units
differ; a task's prior is the estimate's own rate where there is one, otherwise practically flat.
How far estimates lie off (standard deviation of the logarithm) is learned from all tasks that have
one, and is 0.35 before, log-normal with scale 0.6. The standard deviation of a job's hours is about
a quarter of its task's. How heavy their tails are is learned too: 4 degrees, or 20, which is nearly
the log-normal that many small delays make; equally likely. One more condition is practice, the
logarithm of how many jobs of the task came before (Wright's curve), Normal(0, 0.1), from eight jobs
of a task on.

Drift: from ten jobs on it is asked whether the level of all waste, or of all hours, moves with time
(`drift`). If following it would have foretold the jobs clearly better than forgetting nothing (by
2 in log density; half-lives of 3 to 24 jobs are tried), each line's log rate is taken back to
today's by how its job's level lay then, predictions carry the variance of the next job's level, and
a note says since when. A half-life that is asked for takes the place of this: a line that is that
old counts half, its likelihood is raised to that power.

Everything but beta and drift is summed over grids (`pool`); beta is its most likely value, with its
error carried into predictions. Sources, from memory: Gelman and others, Bayesian Data Analysis, ch.
5 and 15; for size as exposure Buehlmann and Straub's credibility model (1970); for drift Durbin and
Koopman, Time Series Analysis by State Space Methods, ch. 2.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from functools import partial

from joblog.model import History, Rates
from joblog.rates.drift import drift_of
from joblog.rates.hours import learn_hours
from joblog.rates.learned import Learned, key_of, past_of, weight_of
from joblog.rates.shown import notes_of, odd_in, rates_of
from joblog.rates.waste import learn_waste


def learn(
    history: History,
    *,
    half_life: float | None = None,
    as_of: date | None = None,
    estimate: Mapping[str, Fraction] | None = None,
    families: Mapping[str, str] | None = None,
) -> Learned:
    """The rates of every item and task of `history`; with no jobs, the stated prior.

    `half_life` in days, counted back from `as_of` (the latest job unless given); `estimate` holds
    crew hours for one unit of a task, as planned. `families` names the family of an item where the
    caller knows it, for items of no closed job too: the variants of an item (its sizes, lengths,
    colors) are a family that bears the item's name. It goes before the family of a line, which goes
    before the one that the item's name tells. Raises ValueError for a half-life that is not
    above zero, or lines that cannot be (nothing net, hours not above zero).
    """
    if half_life is not None and not half_life > 0:
        raise ValueError("the half-life must be above zero days")
    last = max((line.day for line in past_of(history)), default=date.min)
    weigh = partial(weight_of, as_of=as_of or last, half_life=half_life)
    named = {key_of(item): family for item, family in (families or {}).items()}
    waste, nobody = learn_waste(history.uses, weigh, named)
    hours = learn_hours(history.work, weigh, estimate or {})
    if half_life is None:
        if drift := drift_of([*waste.values()]):
            waste, nobody = learn_waste(history.uses, weigh, named, drift)
        if drift := drift_of([hours]):
            hours = learn_hours(history.work, weigh, estimate or {}, drift)
    groups = (*waste.values(), hours)
    rates = Rates(
        rates=tuple(rate for group in groups for rate in rates_of(group)),
        odd=tuple(odd for group in groups for odd in odd_in(group)),
        notes=tuple(notes_of(history, groups)),
    )
    return Learned(rates, waste, hours, nobody, named)
