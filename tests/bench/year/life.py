"""An invented tradesman's year: what he would type, moment by moment, and what is true of it.

Nothing here knows how joblog counts. A `Step` is one thing that he types or does, with the facts in
it as plain tuples whose first word says what they are:

    ("opening", job, at, item, quantity)            ("plan", job, at, items, tasks)
    ("delivered", job, at, item, quantity, price)   ("used", job, at, item, quantity, place)
    ("cut", job, at, item, pieces, inches, place)   ("spoiled", job, at, item, quantity, why, place)
    ("counted", job, at, item, quantity)            ("returned", job, at, item, quantity)
    ("moved", job, at, item, quantity, other end)   ("brought", job, at, item, quantity, other end)
    ("start", job, at, people) ("stop", job, at) ("break", job, at, minutes)
    ("labor", job, at, task, amount, hours, people, helper's pay) ("done", job, at, task, amount)
    ("extra", job, at, price) ("expense", job, at, price) ("drive", job, at, miles)
    ("weather", job, at, fahrenheit) ("depth", job, at, inches) ("closed", job, at)

`moved` goes from the job to the other end, `brought` comes from there; an end is a job or "shop".
Told from both ends, the fact stands in the step that tells it first.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

Fact = tuple[Any, ...]
SHOP = "shop"
ZONE = "America/New_York"
PLACES = ("north eave", "south eave", "west gable")
UNITS = {
    "soffit panel": "sheet", "F channel": "stick", "fascia": "stick", "trim nails": "lb",
    "caulk": "tube", "drip edge": "stick",
}  # fmt: skip
STOCK_INCHES = {"soffit panel": 144, "F channel": 144, "fascia": 144, "drip edge": 120}
KERF = Fraction(1, 8)
PRICES = {
    "soffit panel": "21.40", "F channel": "6.25", "fascia": "14.90", "trim nails": "8.75",
    "caulk": "7.30", "drip edge": "9.60",
}  # fmt: skip
PAY, HELPER_PAY = Decimal("40.00"), ("18", "22")
REASONS = (
    "cut too short", "fell off the ladder", "bent in the wind", "measured wrong", "dropped it",
)  # fmt: skip
TALK = (
    "need 4 sheets of soffit panel", "problem, the wood is rotten on the north eave",
    "covered the wire behind the soffit", "inspector came by at ten", "tomorrow bring the brake",
)  # fmt: skip
FIRST_NAMES = (
    "Harbor", "Meadow", "Willow", "Orchard", "Quarry", "Heron", "Falcon", "Juniper", "Prairie",
    "Lantern",
)  # fmt: skip
SECOND_NAMES = ("lane", "farm", "court", "cottage")
WORK = {"hang soffit": ("hung", "soffit", 8.0), "wrap fascia": ("wrapped", "fascia", 15.0)}


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that is typed or done, in the order of the year."""

    job: str
    at: datetime
    """By the job's own clock."""
    does: str
    """"says", or what is done beside: "plan", "take", "done", "close"."""
    words: str
    """What is said; else what it is done with."""
    truth: tuple[Fact, ...]


@dataclass(slots=True)
class World:
    """What is really where, and what things really cost and take."""

    luck: random.Random
    as_measured: bool = False
    lies: dict[tuple[str, str], Fraction] = field(default_factory=lambda: defaultdict(Fraction))
    """By end and item."""
    prices: dict[str, Decimal] = field(
        default_factory=lambda: {item: Decimal(price) for item, price in PRICES.items()}
    )
    pace: dict[str, float] = field(default_factory=dict)
    waste: dict[str, float] = field(default_factory=dict)
    begun: set[str] = field(default_factory=set)
    """Jobs that something was told on before they were planned."""


def a_year(seed: int, jobs: int, *, as_measured: bool = False) -> tuple[Step, ...]:
    """All that is typed and done, in the order of time.

    The work of a job turns out a tenth larger or smaller than it was measured; or just as measured.
    """
    world = World(random.Random(seed), as_measured)
    world.pace = {task: WORK[task][2] * world.luck.uniform(0.75, 1.1) for task in WORK}
    world.waste = {item: world.luck.uniform(0.02, 0.12) for item in STOCK_INCHES}
    names = [f"{first} {second}" for second in SECOND_NAMES for first in FIRST_NAMES][:jobs]
    today = date(2024, 1, 8)
    steps: list[Step] = []
    for number, name in enumerate(names):
        following = names[number + 1] if number + 1 < len(names) else None
        made = list(JobLife(world, name, today, number == 0, following).steps())
        steps += made
        today = made[-1].at.date() + timedelta(days=world.luck.randint(3, 9))
    return tuple(steps)


class JobLife:
    """One job from its plan to its closing; every method gives steps."""

    def __init__(
        self, world: World, name: str, first: date, first_of_all: bool, following: str | None
    ) -> None:
        self.world, self.luck, self.name = world, world.luck, name
        self.following, self.first_of_all = following, first_of_all
        self.day, self.minute = first, 0
        self.helper = self.luck.random() < 0.4
        self.days = self.luck.randint(1, 4)
        self.feet = 32 * self.days + self.luck.randint(-8, 16)
        self.by_pieces = self.luck.random() < 0.6
        self.drip = self.luck.random() < 0.4
        self.lengths = self.luck.sample((26, 30, 34, 41, 50, 62), self.luck.choice((1, 2)))
        self.keeps = self.by_pieces and self.luck.random() < 0.25
        if self.keeps:
            self.lengths = [80]  # One to a stick, and five feet of each may be kept.
        self.uncounted = self.luck.choice((*UNITS, *("",) * 12))
        self.net: dict[str, Fraction] = {}
        self.did: dict[str, int] = {}
        self.without: set[str] = set()
        self.had: set[str] = set()
        self.lost: set[str] = set()
        self.place: tuple[date, str] | None = None

    # --- the course of the job

    def steps(self) -> Iterator[Step]:
        yield self.plan()
        yield from self.begins_with()
        for number in range(self.days):
            self.minute = 7 * 60
            yield from self.one_day(number)
            if number + 1 < self.days:
                self.day = self.next_day()
        goes_on = self.luck.choice(("in the evening", "in the morning", ""))
        if goes_on == "in the evening":
            self.minute += 45
            yield from self.goes_on()
        if self.luck.random() < 0.4 or goes_on == "in the morning":
            self.day, self.minute = self.next_day(), 7 * 60
            if goes_on == "in the morning":
                yield from self.goes_on()
            yield from self.goes_back()
        yield from self.done_in_all()
        self.minute = max(self.minute, 19 * 60)
        yield self.step("close", str(self.day), ("closed", self.name, self.now()))
        for item in UNITS:
            if item == self.uncounted:
                continue  # It stays where it is: nobody knows that it is there.
            self.world.lies[SHOP, item] += self.world.lies.pop((self.name, item), Fraction(0))
        if self.luck.random() < 0.3:
            self.minute += 30
            yield self.step("says", "note the light was good all day")

    def one_day(self, number: int) -> Iterator[Step]:
        self.people = people = 2 if self.helper and self.luck.random() < 0.8 else 1
        yield self.says(
            "started at 7:30" + (" with one helper" if people == 2 else ""),
            ("start", self.name, self.at("7:30"), people), clock="7:31",
        )  # fmt: skip
        degrees = self.luck.randint(28, 92)
        yield self.says(f"it was {degrees} degrees", ("weather", self.name, self.now(), degrees))
        yield from self.deliveries(number)
        if number == 0 and self.luck.random() < 0.5:
            inches = self.luck.choice((10, 12, 16))
            yield self.says(
                f"depth {inches} inches", ("depth", self.name, self.now(), Fraction(inches))
            )
        yield from self.work(number)
        yield self.says("lunch half an hour", ("break", self.name, self.now(), 30), clock="12:30")
        yield from self.material(number)
        yield from self.beside(number)
        if number + 1 == self.days:
            yield from self.counts()
        elif self.luck.random() < 0.25:
            yield from self.counts(only=self.luck.choice(("soffit panel", "fascia")))
        # Half an hour of lunch, and some time beside what was told of tasks.
        quarters = 4 * self.at_work + self.luck.randint(3, 7)
        stop = datetime.combine(self.day, time(7, 30)) + timedelta(minutes=15 * int(quarters))
        yield self.says(
            f"stopped at {stop:%I:%M}".replace(" 0", " "),
            ("stop", self.name, stop),
            clock=f"{stop.hour}:{stop.minute + 5:02}",
        )

    # --- plan and opening

    def plan(self) -> Step:
        feet = self.feet
        items: list[tuple[Any, ...]] = []
        net = Fraction(feet, 8)
        items.append(self.planned("soffit panel", net, net * Fraction(1, 16), "hang soffit"))
        if self.by_pieces:
            pieces = {length: max(4, feet // (2 * len(self.lengths))) for length in self.lengths}
            inches = sum(length * count for length, count in pieces.items())
            net = Fraction(inches, 144)
            items.append(self.planned("F channel", net, -(-net // 1) - net, ""))
        net = Fraction(feet, 12)
        items.append(self.planned("fascia", net, Fraction(0), "wrap fascia"))
        if self.drip:
            items.append(self.planned("drip edge", Fraction(feet, 10), Fraction(0), ""))
        nails = Fraction(max(2, round(feet / 25)))
        items.append(("trim nails", nails, self.price("trim nails"), None, Fraction(0), ""))
        self.net = {item: net or quantity for item, quantity, _, net, _, _ in items}
        self.planned_quantity = {item: quantity for item, quantity, *_ in items}
        tasks = [
            (task, Fraction(round(4 * feet / WORK[task][2]), 4), PAY, Fraction(feet))
            for task in WORK
        ]
        self.minute = 6 * 60
        fact = ("plan", self.name, self.now(), tuple(items), tuple(tasks))
        if not self.first_of_all:
            return self.step("plan", "", fact)
        # There before anybody told of anything: what it cost is not known.
        self.world.lies[self.name, "fascia"] += 2
        had = ("opening", self.name, self.now(), "fascia", Fraction(2))
        return self.step("plan", "", fact, had)

    def planned(self, item: str, net: Fraction, offcut: Fraction, task: str) -> tuple[Any, ...]:
        quantity = -(-(net + offcut) * Fraction(21, 20) // 1)
        return (item, Fraction(quantity), self.price(item), net, offcut, task)

    def begins_with(self) -> Iterator[Step]:
        """What lies in the shop of what is planned; the first job has what nobody ever told of."""
        there = [
            item for item in self.net if self.world.lies[SHOP, item] and self.luck.random() < 0.6
        ]
        if self.name in self.world.begun:
            for item in there:
                quantity = self.world.lies[SHOP, item] // 1
                if quantity:
                    self.world.lies[SHOP, item] -= quantity
                    self.world.lies[self.name, item] += quantity
                    fact = ("brought", self.name, self.now(), item, quantity, SHOP)
                    yield self.says(f"brought {many(quantity, item)} from the shop", fact)
        elif there:
            facts = []
            for item in there:
                quantity = self.world.lies.pop((SHOP, item))
                self.world.lies[self.name, item] += quantity
                facts.append(("opening", self.name, self.now(), item, quantity))
            yield self.step("take", "; ".join(there), *facts)

    # --- material

    def deliveries(self, number: int) -> Iterator[Step]:
        if number == 0:
            for item, quantity in self.planned_quantity.items():
                lacks = quantity - self.world.lies[self.name, item]
                if lacks > 0:
                    yield from self.deliver(item, Fraction(-(-lacks // 1)))
        elif self.luck.random() < 0.2:
            yield from self.deliver("caulk", Fraction(self.luck.randint(2, 4)))

    def deliver(self, item: str, quantity: Fraction) -> Iterator[Step]:
        price: Decimal | None
        price = self.price(item)
        if self.luck.random() < (0.3 if item == "caulk" else 0.04):
            price = None  # He does not say.
        self.had.add(item)
        words = f"delivered {many(quantity, item)}"
        if price is not None:
            words += f" at ${price} each"
        self.world.lies[self.name, item] += quantity
        yield self.says(words, ("delivered", self.name, self.now(), item, quantity, price))

    def material(self, number: int) -> Iterator[Step]:
        """What is used, cut and spoiled on one day."""
        for item in (*self.net, "caulk"):
            if item == "caulk":
                if self.world.lies[self.name, item]:
                    yield from self.use(item, Fraction(1), number)
                continue
            share = self.net[item] * self.really / self.days
            if item == "F channel":
                yield from self.cut(number)
            elif item == "trim nails":
                yield from self.use(item, Fraction(max(1, round(2 * share)), 2), number)
            else:
                exact = float(share) * (1 + self.luck.uniform(0, 2 * self.world.waste[item]))
                yield from self.use(item, Fraction(max(1, round(exact))), number)
            if item in STOCK_INCHES and self.luck.random() < 5 * self.world.waste[item]:
                yield from self.spoil(item, number)

    def use(self, item: str, quantity: Fraction, number: int) -> Iterator[Step]:
        yield from self.enough(item, quantity)
        place = PLACES[number % 3]
        words = f"used {many(quantity, item)}"
        # A place holds until another is named.
        if self.place != (self.day, place) or self.luck.random() < 0.7:
            words += f" on the {place}"
        self.place = (self.day, place)
        self.world.lies[self.name, item] -= quantity
        yield self.says(words, ("used", self.name, self.now(), item, quantity, place))

    def cut(self, number: int) -> Iterator[Step]:
        """Pieces of one length, or of two on different days."""
        length = self.lengths[number % len(self.lengths)]
        pieces = max(4, self.feet // (2 * self.days))
        a_stick = (144 + KERF) // (length + KERF)
        sticks = Fraction(-(-pieces // int(a_stick)))
        # As many pieces as fill whole sticks: what lies there is then told by no cut list.
        pieces = int(sticks * a_stick)
        yield from self.enough("F channel", sticks)
        place = PLACES[number % 3]
        self.place = (self.day, place)
        words = f"cut {pieces} pieces of F channel at {length} inches on the {place}"
        self.world.lies[self.name, "F channel"] -= sticks
        fact = ("cut", self.name, self.now(), "F channel", pieces, Fraction(length), place)
        yield self.says(words, fact)

    def spoil(self, item: str, number: int) -> Iterator[Step]:
        yield from self.enough(item, Fraction(1))
        place, why = PLACES[number % 3], self.luck.choice(REASONS)
        words = f"spoiled {many(Fraction(1), item)} on the {place}, {why}"
        self.world.lies[self.name, item] -= 1
        yield self.says(words, ("spoiled", self.name, self.now(), item, Fraction(1), why, place))

    def enough(self, item: str, quantity: Fraction) -> Iterator[Step]:
        lacks = quantity - self.world.lies[self.name, item]
        if lacks <= 0:
            return
        in_shop = self.world.lies[SHOP, item]
        if in_shop >= lacks and self.luck.random() < 0.7:
            fetched = Fraction(min(in_shop // 1, -(-lacks // 1) + 1))
            if fetched >= lacks:
                self.world.lies[SHOP, item] -= fetched
                self.world.lies[self.name, item] += fetched
                yield self.says(
                    f"brought {many(fetched, item)} from the shop",
                    ("brought", self.name, self.now(), item, fetched, SHOP),
                )
                return
        yield from self.deliver(item, Fraction(-(-lacks // 1)) + self.luck.randint(0, 3))

    def counts(self, only: str | None = None) -> Iterator[Step]:
        """What is left of each item, and what becomes of it before the job closes."""
        for item in UNITS:
            if only not in (None, item) or not self.known(item):
                continue
            if only is None and item == self.uncounted:
                continue
            lost = self.lose(item)
            if self.keeps and item == "F channel" and only is None:
                self.world.lies[self.name, item] += FIVE_FEET * self.luck.randint(1, 2)
            yield from self.count(item)
            if only is None and not lost and self.luck.random() < 0.1:
                yield from self.goes_on([item])

    def count(self, item: str) -> Iterator[Step]:
        """Whole ones, and beside them the offcuts of five feet that were kept."""
        left = self.world.lies[self.name, item]
        offcuts = next(
            (
                n
                for n in range(len(MANY))
                if not (left - n * FIVE_FEET) % 1 and n * FIVE_FEET <= left
            ),
            0,
        )
        fact = ("counted", self.name, self.now(), item, left)
        if not offcuts or item != "F channel":
            words = f"{many(left, item)} left" if left else f"no {item} left"
            yield self.says(words, fact)
            return
        if whole := left - offcuts * FIVE_FEET:
            yield self.says(f"{many(whole, item)} left")
            fact = ("counted", self.name, self.now(), item, left)
        plural = "s" * (offcuts > 1)
        yield self.says(f"kept {MANY[offcuts]} five foot offcut{plural} of {item}", fact)

    def known(self, item: str) -> bool:
        return item in self.net or item in self.had or self.world.lies[self.name, item] > 0

    def lose(self, item: str) -> bool:
        """Now and then one is gone that nobody can explain; whether one ever was on this job. He
        does not say."""
        if self.keeps and item == "F channel":
            return False
        several = item in STOCK_INCHES and self.world.lies[self.name, item] >= 2
        if several and self.luck.random() < 0.15:
            self.world.lies[self.name, item] -= 1
            self.lost.add(item)
        return item in self.lost

    def goes_on(self, items: Sequence[str] = tuple(UNITS)) -> Iterator[Step]:
        """Some of what was counted goes to the shop or to the next job."""
        for item, whole in self.counted():
            if item not in items or self.luck.random() < 0.5:
                continue
            quantity = Fraction(self.luck.randint(1, whole))
            end = self.following if self.following and self.luck.random() < 0.6 else SHOP
            self.world.lies[self.name, item] -= quantity
            self.world.lies[end, item] += quantity
            there = "back to the shop" if end == SHOP else f"over to the {end} job"
            fact = ("moved", self.name, self.now(), item, quantity, end)
            yield self.says(f"took {many(quantity, item)} {there}", fact)
            if end != SHOP and self.luck.random() < 0.3:
                # Told from the other end as well: it is one fact.
                self.world.begun.add(end)
                words = f"brought {many(quantity, item)} from the {self.name} job"
                yield Step(end, self.now(), "says", words, ())

    def goes_back(self) -> Iterator[Step]:
        """Some of what was counted in the evening goes back to the yard in the morning."""
        for item, whole in self.counted():
            if self.luck.random() < 0.4:
                quantity = Fraction(self.luck.randint(1, whole))
                self.world.lies[self.name, item] -= quantity
                fact = ("returned", self.name, self.now(), item, quantity)
                yield self.says(f"returned {many(quantity, item)}", fact)

    def counted(self) -> list[tuple[str, int]]:
        """What was counted at the end, and how many whole ones of it are there; no nails."""
        return [
            (item, int(self.world.lies[self.name, item] // 1))
            for item in (*STOCK_INCHES, "caulk")
            if item != self.uncounted and self.world.lies[self.name, item] >= 1
        ]

    # --- hours and what is beside

    def work(self, number: int) -> Iterator[Step]:
        """Both tasks, with how much was done, or on a bad day without."""
        if number == 0:
            share = self.luck.randint(90, 112)
            self.really = Fraction(100 if self.world.as_measured else share, 100)
            self.mood = self.luck.lognormvariate(0, 0.15)
        people = self.people
        self.at_work = Fraction(0)
        for task, (did, what, _) in WORK.items():
            feet = max(4, round(self.feet * self.really / self.days))
            hours = feet / (self.world.pace[task] * self.mood * self.luck.uniform(0.92, 1.08))
            quarters = Fraction(min(22, max(3, round(4 * hours / people))), 4)
            self.at_work += quarters
            two = "two of us " if people == 2 else ""
            pay = self.luck.choice(HELPER_PAY) if people == 2 and self.luck.random() < 0.6 else None
            paid = f", the helper at ${pay} an hour" if pay else ""
            amount: Fraction | None = Fraction(feet)
            words = f"{two}{did} {feet} feet of {what} in {hours_said(quarters)}{paid}"
            if self.luck.random() < 0.07:
                self.without.add(task)
                amount = None
                words = f"{two}{hours_said(quarters)} on {what}{paid}"
            fact = ("labor", self.name, self.now(), task, amount, quarters, people, pay)
            self.did[task] = self.did.get(task, 0) + feet
            yield self.says(words, fact)

    def done_in_all(self) -> Iterator[Step]:
        """In the evening he is asked how much was done in hours without an amount, and says so."""
        for task in sorted(self.without):
            if self.luck.random() < 0.7:
                amount = Fraction(self.did[task])
                yield self.step(
                    "done", f"{task}|{amount}", ("done", self.name, self.now(), task, amount)
                )

    def beside(self, number: int) -> Iterator[Step]:
        """Money, miles, and what no figure is made of."""
        for words in TALK:
            if self.luck.random() < 0.08:
                yield self.says(words)
        if self.luck.random() < 0.1:
            item = self.luck.choice(("soffit panel", "fascia"))
            yield self.says(f"{item} is now ${self.price(item)} a {UNITS[item]}")
        if self.luck.random() < 0.15:
            yield self.says("break 15 minutes", ("break", self.name, self.now(), 15))
        miles = self.luck.randint(6, 40)
        yield self.says(f"drove {miles} miles", ("drive", self.name, self.now(), miles))
        if self.luck.random() < 0.25:
            price = self.luck.choice((20, 40, 55))
            yield self.says(
                f"{price} dollars at the dump", ("expense", self.name, self.now(), Decimal(price))
            )
        if self.luck.random() < 0.2:
            price = self.luck.choice((60, 85, 120))
            yield self.says(
                f"customer wants a light block, told her {price} dollars",
                ("extra", self.name, self.now(), Decimal(price)),
            )

    # --- how it is told

    def price(self, item: str) -> Decimal:
        """Today's: it moves a little all the year."""
        moved = self.world.prices[item] * Decimal(str(round(self.luck.uniform(0.985, 1.02), 4)))
        self.world.prices[item] = moved.quantize(Decimal("0.01"))
        return self.world.prices[item]

    def says(self, words: str, *facts: Fact, clock: str | None = None) -> Step:
        if clock is not None:
            hour, minute = map(int, clock.split(":"))
            self.minute = max(self.minute, 60 * hour + minute)
        return self.step("says", words, *facts)

    def step(self, does: str, words: str, *facts: Fact) -> Step:
        # Facts were made with the moment that the step has; the next one is a minute later.
        made = Step(self.name, self.now(), does, words, facts)
        self.minute += 1
        return made

    def now(self) -> datetime:
        return datetime.combine(self.day, time(self.minute // 60, self.minute % 60))

    def at(self, clock: str, noon: bool = False) -> datetime:
        hour, minute = map(int, clock.split(":"))
        return datetime.combine(self.day, time(hour + 12 * noon, minute))

    def next_day(self) -> date:
        following = self.day + timedelta(days=1)
        return following + timedelta(days=2 if following.weekday() == 5 else 0)


def many(quantity: Fraction, item: str) -> str:
    """As it is typed: "1 stick of fascia", "2 1/2 pounds of trim nails"."""
    unit = {"lb": "pound"}.get(UNITS[item], UNITS[item])
    return f"{mixed(quantity)} {unit}{'' if quantity <= 1 else 's'} of {item}"


FIVE_FEET = Fraction(60, 144)
MANY = ("no", "a", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven")


def hours_said(hours: Fraction) -> str:
    return f"{mixed(hours)} hour{'' if hours == 1 else 's'}"


def mixed(amount: Fraction) -> str:
    whole, rest = amount // 1, amount % 1
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else {Fraction(1, 2): "half a"}.get(rest, str(rest))
