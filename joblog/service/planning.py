"""From measures to an order: catalog, kinds of work, take-off, plan, what to buy, what to cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from joblog.book import decisions
from joblog.form import units_of
from joblog.model import (
    STOCK,
    Catalog,
    CutPlan,
    Item,
    Lying,
    OrderCosts,
    OrderLine,
    Plan,
    Problem,
    Run,
    StockLength,
    TakeOff,
    Task,
)
from joblog.quantity import feet_and_inches, tape
from joblog.reconcile.prices import price_notes, with_prices
from joblog.service.catalog import catalog_at
from joblog.service.desk import Desk, desk_at, read_catalog
from joblog.service.errands import wanted_at
from joblog.service.errors import ServiceError, refusing, use_case
from joblog.service.learning import families_known, history_at
from joblog.service.naming import told_of_names, told_of_plan
from joblog.service.places import Place, opened_if_there
from joblog.service.prices import prices_at, prices_in
from joblog.service.record import read_balance, read_entries
from joblog.service.stock import StockItem, what_lies
from joblog.sheet import AS_IT_IS, Reading, refused

if TYPE_CHECKING:
    from joblog.ordering.foresee import Foreseen, Need
    from joblog.ordering.wishes import Shares
    from joblog.service.house import Described
    from joblog.takeoff.runs import How
    from joblog.takeoff.works import Works


@dataclass(frozen=True, slots=True)
class Measured:
    """What runs are to be taken off: a file of them, or one run with its measures."""

    file: Path | None = None
    work: str | None = None
    place: str = ""
    values: tuple[tuple[str, str], ...] = ()
    dictated: bool = False
    """Whether what was dictated at the places of the job fills in what is not said."""
    fahrenheit: int | None = None
    tolerance: str = "1/8"
    works_file: Path | None = None
    house: bool = False
    """Whether they are those of the job's own house."""
    reading: Reading = AS_IT_IS
    """How the file, or the measures, are to be read."""

    @property
    def says_runs(self) -> bool:
        return self.file is not None or self.work is not None or self.house

    @property
    def called(self) -> str:
        """What they are, for a person."""
        if self.file is not None:
            return f"the runs in {self.file.name}"
        return "the house" if self.work is None else f"the {self.work}"


@dataclass(frozen=True, slots=True)
class Learning:
    """Whether, and how, waste and hours are taken from earlier jobs."""

    learned: bool = False
    paper: Path | None = None
    """Earlier jobs in a spreadsheet; naming them is asking to learn."""
    half_life: float | None = None
    crew: int | None = None
    reading: Reading = AS_IT_IS
    """How the paper is to be read."""

    @property
    def asked(self) -> bool:
        return self.learned or self.paper is not None


@dataclass(frozen=True, slots=True)
class TakenOff:
    """What runs need, what is foreseen of it where that was asked, and what could not be read."""

    found: TakeOff
    needs: tuple[Need, ...]
    foreseen: Foreseen | None
    problems: tuple[Problem, ...]
    unread: tuple[Problem, ...]
    """Rows of earlier jobs that could not be read; they spoil no plan."""
    cut: Mapping[str, Fraction]


@dataclass(frozen=True, slots=True)
class Bought:
    """An order, line by line, with what a person should know of it."""

    lines: tuple[OrderLine, ...]
    notes: tuple[str, ...]
    problems: tuple[Problem, ...]


# --- kinds of work ---------------------------------------------------------------------------


@use_case
def works_at(place: Place, file: Path | None = None) -> tuple[Works, tuple[Problem, ...]]:
    """Our kinds of work, then the book's own, then those of `file`; the later ones count."""
    from joblog.takeoff.take_off import check
    from joblog.takeoff.works import read_works, starter_works

    works = dict(starter_works())
    problems: list[Problem] = []
    own = place.folder / "works.toml"
    for source in ([own] if own.is_file() else []) + ([file] if file else []):
        read, unread = read_works(source)
        wrong = check(read, catalog_at(place))
        problems += [*unread, *wrong]
        bad = {problem.what for problem in wrong}
        works.update({name: kind for name, kind in read.items() if name not in bad})
    return works, tuple(problems)


# --- the plan ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Loaded:
    """What came of loading a plan."""

    plan: Plan | None
    """As the job now has it; None where the file holds none, or something of it was refused."""
    problems: tuple[Problem, ...]
    notes: tuple[str, ...] = ()
    """What was taken for which item of the catalog, and what was put in its unit."""


@use_case
def load_plan(desk: Desk, file: Path, reading: Reading = AS_IT_IS) -> Loaded:
    """Puts the plan in a file in the place of the job's, under the names of the catalog as far as
    they are sure; `naming.unsettled_names` has those that are not.

    A plan of which something is refused is not loaded at all.
    """
    from joblog.plan import read_csv, read_json
    from joblog.plan.meeting import met

    catalog = read_catalog(desk)
    if file.suffix.lower() == ".json":
        found, problems = read_json(file, sure=reading.sure)
    else:
        found, problems = read_csv(file, catalog, reading)
    if refused(problems) or not (found.items or found.tasks or found.places):
        return Loaded(None, problems)
    names = met(found, catalog)
    _set_plan(desk, names.plan)
    return Loaded(desk.plan, problems, names.notes)


@use_case
def make_plan(desk: Desk, taken: TakenOff) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Makes a take-off the job's plan; the items that it planned, and those that stay as before."""
    from joblog.ordering.planned import planned
    from joblog.plan.meeting import met

    known = with_prices(desk.book.catalog(), prices_in(desk.book))
    # What an earlier plan called otherwise is the very item that the take-off speaks of.
    before = met(desk.book.plan(desk.job.name), known).plan
    with refusing(ValueError):
        plan = planned(taken.found, known, before, dict(taken.cut), taken.foreseen)
    _set_plan(desk, plan)
    new = tuple(dict.fromkeys(line.item for line in taken.found.lines))
    return new, tuple(line.item.name for line in plan.items if line.item.name not in new)


def _set_plan(desk: Desk, plan: Plan) -> None:
    from joblog.plan import vocabulary

    decisions.load_plan(desk.book, desk.job.name, plan)
    desk.plan = desk.book.plan(desk.job.name)
    jobs = desk.book.names_of_jobs()
    desk.vocabulary = vocabulary(desk.plan, desk.job, desk.catalog, jobs)


# --- take-off, order, cut list ----------------------------------------------------------------


@use_case
def take_off(
    place: Place,
    job: str | None,
    measured: Measured,
    learning: Learning = Learning(),
    *,
    to_plan: bool = False,
) -> TakenOff:
    """What measured runs need. Raises `ServiceError` for what cannot be understood at all.

    `to_plan` says that a plan will be made of it: then gross comes from cut lists.
    """
    from joblog.ordering.needs import cut_from, needs_of, work_of

    known = catalog_at(place)
    found, _, problems = _runs_taken_off(place, job, measured, known)
    cut = cut_from(found, known) if to_plan or learning.asked else {}
    needs = needs_of(found, known, cut)
    if to_plan:
        said = prices_at(place)
        counted = _costs(needs_of(found, with_prices(known, said)))
        found = replace(found, notes=(*found.notes, *price_notes(said, counted, HAS, known)))
    if not learning.asked:
        return TakenOff(found, needs, None, problems, (), cut)
    foreseen, notes, unread = _foreseen(
        place, needs, work_of(found, known), learning, measured.fahrenheit
    )
    found = replace(found, notes=(*notes, *found.notes))
    return TakenOff(found, needs, foreseen, problems, unread, cut)


@use_case
def what_to_buy(
    place: Place,
    job: str | None,
    measured: Measured,
    learning: Learning = Learning(),
    *,
    allowances: Sequence[str] = (),
    on_hand: Sequence[str] = (),
    cutoffs: Sequence[str] = (),
    tax: str | None = None,
    risk: str | None = None,
    trip: str | None = None,
    missing: str | None = None,
    left_over: str | None = None,
) -> Bought:
    """The order for measured runs, or for what is still to do of the plan of the job where no runs
    are named; and for what was asked for on any open job and has not come since.

    Each line says why it is there. With a job, runs leave what else its plan still needs, and what
    is on hand there is deducted; of what its last count told by length, and of `cutoffs`, pieces
    are cut first. `tax` is for what has none in the catalog.
    """
    from joblog.ordering.order import NO_RESERVE, order, with_wanted
    from joblog.ordering.suppliers import with_tax
    from joblog.ordering.wishes import (
        counts_of,
        cutoffs_of,
        in_order,
        shares_of,
        stakes_of,
        tax_of,
    )

    with refusing(ValueError):
        shares = shares_of(allowances)
        chance, costs = stakes_of(risk, trip, missing, left_over)
        asked = wanted_at(place)
        there = OnHand(
            counts_of(on_hand),
            cutoffs_of(cutoffs),
            tuple(Item(one.item, one.unit) for one in asked if one.quantity is not None),
            measured.reading.sure,
        )
        usual_tax = None if tax is None else tax_of(tax)
    _check_stakes(shares.usual, chance, costs, learning)
    known = catalog_at(place)
    said = prices_at(place)
    priced = with_tax(with_prices(known, said), usual_tax)
    wants = _wants_of_runs if measured.says_runs else _wants_of_plan
    wanting = wants(place, job, measured, priced, there, shares)
    needs, notes, problems = wanting.needs, wanting.notes, wanting.problems
    with refusing(ValueError):
        rates = in_order(shares.items, needs, known.items)
    foreseen = None
    if learning.asked:
        foreseen, learned, unread = _foreseen(place, needs, {}, learning, measured.fahrenheit)
        strange = (line for line in wanting.unmet if _teaches_nothing(line, foreseen))
        notes, problems = (*learned, *strange, *notes), (*problems, *unread)
    elif shares.usual is None and any(need.allowance is not None for need in needs):
        notes = (*notes, NO_RESERVE)
    with refusing(ValueError):
        made = order(
            needs,
            wanting.on_hand,
            rates,
            shares.usual,
            foreseen,
            risk=chance,
            costs=costs,
        )
    lines = tuple(replace(line, why=(wanting.why[line.item],)) for line in made.lines)
    items = {item.name: item for item in (*priced.items, *(need.item for need in needs))}
    lines, told = with_wanted(lines, asked, items, wanting.job, wanting.on_hand)
    costs_of = {line.item: line.unit_cost for line in lines}
    notes = (
        *notes,
        *told,
        *_lying(place, lines, wanting.on_hand),
        *price_notes(said, costs_of, "the order counts", known),
    )
    return Bought(lines, (*notes, *made.told), problems)


@dataclass(frozen=True, slots=True)
class OnHand:
    """What a person says is there beside what the book knows, by the name of the item."""

    counts: Mapping[str, Fraction]
    """In the item's own unit; they stand in the place of what was counted on the job."""
    cutoffs: Mapping[str, tuple[StockLength, ...]]
    asked: tuple[Item, ...] = ()
    """Of what was asked for on open jobs some may be there too."""
    sure: bool = False
    """Whether amounts that no job has are meant as they are."""

    def named(self, needs: Sequence[Need], catalog: Catalog) -> OnHand:
        """The same under the names of what is needed or asked for. Raises `ServiceError` for
        another name, and for amounts that no job has."""
        from joblog.ordering.wishes import check_on_hand, in_order

        with refusing(ValueError):
            counts = in_order(self.counts, needs, catalog.items, self.asked)
            check_on_hand(counts, needs, sure=self.sure)
            cutoffs = in_order(self.cutoffs, needs, catalog.items)
            return replace(self, counts=counts, cutoffs=cutoffs)


@dataclass(frozen=True, slots=True)
class _Wanting:
    """What an order is for."""

    needs: tuple[Need, ...]
    on_hand: Mapping[str, Fraction]
    why: Mapping[str, str]
    """By the name of the item."""
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    unmet: tuple[str, ...] = ()
    """On items that are none of the catalog's, or not surely."""
    job: str | None = None
    """The one job that it is for, where it is for one of the book's."""


def _wants_of_plan(
    place: Place,
    job: str | None,
    measured: Measured,
    priced: Catalog,
    there: OnHand,
    shares: Shares,
) -> _Wanting:
    """What the plan of a job holds that is not installed yet."""
    from joblog.ordering.needs import still_needed

    with desk_at(place, job) as desk:
        still = still_needed(desk.plan, priced, read_balance(desk))
        # What was paid on the job itself is newer than what its plan took things to cost.
        now = {item.name: item.unit_cost for item in priced.items}
        paid = {
            one.item: one.unit_cost
            for one in prices_in(desk.book)
            if one.job == desk.job.name and one.unit_cost == now.get(one.item)
        }
        there = there.named(still.needs, priced)
        _check_cutoffs(there, still.needs)
        return _Wanting(
            tuple(_at(paid.get(need.item.name), need) for need in still.needs),
            {**still.on_hand, **there.counts},
            still.why,
            still.notes,
            unmet=told_of_names(desk),
            job=desk.job.name,
        )


def _wants_of_runs(
    place: Place,
    job: str | None,
    measured: Measured,
    priced: Catalog,
    there: OnHand,
    shares: Shares,
) -> _Wanting:
    """What runs need, and, where they are of a job, what else its plan still does."""
    from joblog.ordering.needs import needs_of, still_needed
    from joblog.ordering.order import ALLOWANCE
    from joblog.ordering.stock_cuts import joint_notes, with_cuts

    found, of_runs, problems = _runs_taken_off(place, job, measured, priced)
    needs = needs_of(found, priced)
    share = ALLOWANCE if shares.usual is None else shares.usual
    why = dict.fromkeys((need.item.name for need in needs), measured.called)
    if not job:
        there = there.named(needs, priced)
        needs = with_cuts(needs, found, there.cutoffs, there.counts, share)
        _check_cutoffs(there, needs)
        told = (*of_runs, *_saved(needs), *joint_notes(needs, found))
        return _Wanting(needs, there.counts, why, told, problems)
    with desk_at(place, job) as desk:
        balance = read_balance(desk)
        still = still_needed(desk.plan, priced, balance)
        others = tuple(need for need in still.needs if need.item.name not in why)
        there = there.named((*needs, *others), priced)
        # What runs need and the plan does not was counted all the same.
        counted = {line.item: line.on_hand for line in balance.stock if line.on_hand is not None}
        counted = {**counted, **still.on_hand}
        kept = _kept_cutoffs(desk, needs, found, counted, there.counts)
    on_hand = {
        name: quantity - kept.get(name, ((), Fraction(0)))[1]
        for name, quantity in {**counted, **there.counts}.items()
    }
    lengths = {
        name: (*there.cutoffs.get(name, ()), *kept.get(name, ((), Fraction(0)))[0])
        for name in {**there.cutoffs, **kept}
    }
    needs = with_cuts(needs, found, lengths, on_hand, share)
    _check_cutoffs(there, needs)
    notes = (
        f"{line.item}: {units_of(line.placed, line.unit, line.item)} installed so far on {job}; "
        "the order is for all of the runs"
        for line in balance.stock
        if line.item in why and line.placed
    )
    return _Wanting(
        (*needs, *others),
        on_hand,
        {**still.why, **why},
        (*of_runs, *still.notes, *notes, *_saved(needs), *joint_notes(needs, found)),
        problems,
        job=desk.job.name,
    )


def _kept_cutoffs(
    desk: Desk,
    needs: Sequence[Need],
    found: TakeOff,
    on_hand: Mapping[str, Fraction],
    said: Mapping[str, Fraction],
) -> dict[str, tuple[tuple[StockLength, ...], Fraction]]:
    """Cutoffs of the last count of the job, of what is cut from pieces and not said otherwise."""
    from joblog.ordering.stock_cuts import is_cut
    from joblog.reconcile.cutoffs import cutoffs_left

    entries = read_entries(desk)
    kept = {}
    for need in needs:
        name = need.item.name
        if name in said or not is_cut(need, [one for one in found.pieces if one.item == name]):
            continue
        lengths, share = cutoffs_left(need.item, entries, on_hand.get(name))
        if lengths:
            kept[name] = (lengths, share)
    return kept


def _saved(needs: Sequence[Need]) -> tuple[str, ...]:
    """What cutoffs on hand do for the order."""
    told = []
    for need in needs:
        if need.cut and need.cut.cutoffs:
            lengths = ", ".join(
                f"{one.pieces} x {feet_and_inches(one.length)}" for one in need.cut.cutoffs
            )
            saved = units_of(need.cut.saved, need.item.unit, need.item.name)
            told.append(
                f"{need.item.name}: the cut list takes the cutoffs {lengths}; they save {saved}"
            )
    return tuple(told)


def _check_cutoffs(there: OnHand, needs: Sequence[Need]) -> None:
    """Raises `ServiceError` for cutoffs of what is not cut here."""
    cut = [need.item.name for need in needs if need.cut]
    for name in there.cutoffs:
        if name not in cut:
            among = f"; pieces are cut here of {', '.join(cut)}" if cut else ""
            raise ServiceError(f"--cutoff {name}: no pieces of it are cut for this order{among}")


def _at(cost: Decimal | None, need: Need) -> Need:
    return need if cost is None else replace(need, item=replace(need.item, unit_cost=cost))


def _lying(
    place: Place, lines: Sequence[OrderLine], on_hand: Mapping[str, Fraction]
) -> Iterator[str]:
    """What of the ordered items lies in stock: whether it goes to this job, nobody said yet."""
    with opened_if_there(place) as book:
        lying = () if book is None else what_lies(book).items
    stock = {(one.item, one.unit): one.quantity for one in _in_stock(lying)}
    for line in lines:
        there = stock.get((line.item, line.unit), Fraction(0))
        if line.packs and there > 0:
            much = units_of(there, line.unit, line.item)
            yield (
                f"{line.item}: {much} in stock, which the order does not count; bring them with "
                f'--on-hand "{line.item}={tape(on_hand.get(line.item, Fraction(0)) + there)}"'
            )


def _in_stock(every: Iterable[StockItem]) -> Iterator[Lying]:
    return (one.lying for one in every if one.lying.where == STOCK and one.lying.counted)


def _teaches_nothing(line: str, foreseen: Foreseen) -> bool:
    """Whether no job taught anything of the item that a line is about, which it begins with."""
    known = foreseen.items.get(line.partition(": ")[0])
    return known is None or not known.n


HAS = "the catalog has"


def _costs(needs: Sequence[Need]) -> dict[str, Decimal | None]:
    return {need.item.name: need.item.unit_cost for need in needs}


def _check_stakes(
    usual: Fraction | None, chance: float | None, costs: OrderCosts | None, learning: Learning
) -> None:
    if (chance is not None or costs is not None) and not learning.asked:
        raise ServiceError("what running short may cost is only known with --learned")
    if learning.asked and usual is not None:
        raise ServiceError('with --learned, --allowance is for one item, like "fascia=10%"')


@use_case
def what_to_cut(
    place: Place,
    pieces: Path | bytes,
    was: Path | None = None,
    reading: Reading = AS_IT_IS,
    **wishes: Any,
) -> tuple[tuple[CutPlan, ...], tuple[Problem, ...]]:
    """Cut lists for the pieces of a file, or of what such a file holds. Needs no job.

    And no book: one is opened only for pieces of an item, whose lengths stand in its catalog.
    `was` is an earlier list that was begun; `wishes` are those of `cutting.cut_lists`.
    """
    from joblog.cutting.cut_lists import cut_lists
    from joblog.cutting.read_pieces import read_pieces
    from joblog.cutting.read_plan import read_plans

    wanted, problems = read_pieces(pieces, reading)
    with refusing(ValueError):
        earlier = read_plans(was) if was else ()
        named = any(piece.item for piece in wanted)
        catalog = catalog_at(place) if named else Catalog()
        plans, uncut = cut_lists(wanted, catalog, was=earlier, sure=reading.sure, **wishes)
    return plans, (*problems, *uncut)


@use_case
def read_cut_list(file: Path) -> tuple[CutPlan, ...]:
    """A cut list as it was printed with --json. Raises `ServiceError` where it is none."""
    from joblog.cutting.read_plan import read_plans

    with refusing(ValueError):
        return read_plans(file)


def _runs_taken_off(
    place: Place, job: str | None, measured: Measured, known: Catalog
) -> tuple[TakeOff, tuple[str, ...], tuple[Problem, ...]]:
    """What the runs need; of its notes those on the runs themselves, as what was left out of them;
    and what could not be read."""
    from joblog.quantity import fraction_of
    from joblog.reason import check
    from joblog.takeoff import runs as reading
    from joblog.takeoff import take_off as taking

    works, wrong = works_at(place, measured.works_file)
    runs, notes, unread = _runs(place, job, measured, works)
    if measured.dictated:
        with desk_at(place, job) as desk:
            runs, told = reading.as_dictated(runs, read_entries(desk), works)
        notes = (*notes, *told)
    sure = measured.reading.sure
    if measured.fahrenheit is not None:
        with refusing(ValueError):
            check("fahrenheit", measured.fahrenheit, sure=sure)
        runs = reading.with_usual(runs, works, fahrenheit=measured.fahrenheit)
    with refusing(ValueError):
        allowed = fraction_of(measured.tolerance)
        if allowed < 0:
            raise ServiceError(f"a tolerance of {measured.tolerance} is below zero")
        check("tolerance", allowed, "in", sure=sure)
    found, problems = taking.take_off(runs, known, works, allowed)
    return replace(found, notes=(*notes, *found.notes)), notes, (*wrong, *unread, *problems)


def _runs(
    place: Place, job: str | None, measured: Measured, works: Works
) -> tuple[tuple[Run, ...], tuple[str, ...], tuple[Problem, ...]]:
    """The runs of a file, of options, or of a house, with notes and what could not be read."""
    from joblog.service import house
    from joblog.takeoff import runs as reading

    if (measured.file is not None) + (measured.work is not None) + measured.house > 1:
        raise ServiceError("name a FILE of runs, one run with --work, or --house; not two of them")
    if measured.work is not None:
        cells = {"work": measured.work, "place": measured.place, **dict(measured.values)}
        with refusing(ValueError):
            return (reading.run_of(cells, works, how=_how(measured)),), (), ()
    if measured.file is None:
        found = house.house_at(place, job) if measured.house else house.house_if_known(place, job)
        if found is None:
            raise ServiceError(
                "name a FILE of runs or of a house, or one run with --work, --place and --set"
            )
        return _of_house(found, measured, works)
    if house.is_house(measured.file, measured.reading):
        return _of_house(house.read_table(measured.file, measured.reading), measured, works)
    runs, unread = reading.read_runs(measured.file, works, measured.reading)
    return _with_every(runs, measured.values, works, _how(measured)), (), unread


def _how(measured: Measured) -> How:
    """How a measure is read that was typed as an option."""
    from joblog.takeoff.runs import How

    return How(measured.reading.decimal or ".", measured.reading.sure)


def _of_house(
    found: Described, measured: Measured, works: Works
) -> tuple[tuple[Run, ...], tuple[str, ...], tuple[Problem, ...]]:
    values = {**dict(found.house.every), **dict(measured.values)}
    runs = _with_every(found.runs, tuple(values.items()), works, _how(measured))
    return runs, found.notes, found.problems


def _with_every(
    runs: tuple[Run, ...], values: tuple[tuple[str, str], ...], works: Works, how: How
) -> tuple[Run, ...]:
    from joblog.takeoff.for_every import for_every

    with refusing(ValueError):
        return for_every(runs, values, works, how)


def _foreseen(
    place: Place,
    needs: Sequence[Need],
    work: Mapping[Task, Fraction],
    learning: Learning,
    fahrenheit: int | None,
) -> tuple[Foreseen, tuple[str, ...], tuple[Problem, ...]]:
    """What the closed jobs of the book and those on paper foretell, notes, and unread rows."""
    from joblog.ordering.foresee import foresee
    from joblog.rates import learn

    history, notes, problems = history_at(
        place, learning.paper, learning.half_life, learning.reading
    )
    estimate = {task.name: 1 / task.per_hour for task in work if task.per_hour}
    learned = learn(
        history,
        half_life=learning.half_life,
        as_of=date.today(),
        estimate=estimate,
        families=families_known(catalog_at(place), history, (need.item.name for need in needs)),
    )
    warm = None if fahrenheit is None else Fraction(fahrenheit)
    with refusing(ValueError):
        foreseen = foresee(needs, dict(work), learned, fahrenheit=warm, crew=learning.crew)
    return foreseen, (*notes, *learned.rates.notes), problems


@use_case
def foreseen_of_plan(
    place: Place, plan: Plan, learning: Learning
) -> tuple[Foreseen, tuple[str, ...], tuple[Problem, ...]]:
    """What earlier jobs foretell of a job's plan, notes, and rows that could not be read."""
    from joblog.bid.basis import timed
    from joblog.ordering.needs import needs_of_plan

    known = catalog_at(place)
    foreseen, notes, problems = _foreseen(
        place, needs_of_plan(plan, known), timed(plan), learning, fahrenheit=None
    )
    strange = (line for line in told_of_plan(plan, known) if _teaches_nothing(line, foreseen))
    return foreseen, (*strange, *notes), problems
