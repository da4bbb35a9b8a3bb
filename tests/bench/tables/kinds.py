"""The kinds of tables: their columns, and rows of which it is known what they mean."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from random import Random

Value = Fraction | str | date | tuple[object, ...]
Row = dict[str, Value]
"""What the cells mean, by column; a column that the row leaves empty is not in it."""


@dataclass(frozen=True)
class Kind:
    name: str
    columns: Mapping[str, str]
    """What is in each: word, list, number, degrees, money, whole, inches, feet, tape (a length that
    always says its unit), pitch, day, worded."""
    required: tuple[str, ...]
    rows: Callable[[Random], list[Row]]


def sixteenths(random: Random, low: int, high: int) -> Fraction:
    return Fraction(random.randint(low * 16, high * 16), 16)


def amount(random: Random, high: int = 60) -> Fraction:
    part = random.choice((1, 1, 1, 2, 4, 8, 10, 100))
    return Fraction(random.randint(part, high * part), part)


def price(random: Random) -> Fraction:
    return Fraction(random.randint(50, random.choice((5_000, 250_000))), 100)


def pay(random: Random) -> Fraction:
    return Fraction(random.randint(1200, 9000), 100)


NAMES = ("zorp", "quill", "vank", "brindle", "moxit", "tarn", "ploover", "snabe")


def named(random: Random, used: set[str]) -> str:
    """A name that no catalog has."""
    while True:
        name = f"{random.choice(NAMES)} {random.choice('abcdefghkmpqrtuvwxyz')}"
        if name not in used:
            used.add(name)
            return name


def some(random: Random, row: Row, chance: float = 0.5, **more: Value) -> None:
    for column, value in more.items():
        if random.random() < chance:
            row[column.replace("_", " ")] = value


def plan(random: Random) -> list[Row]:
    used: set[str] = set()
    rows: list[Row] = []
    for _ in range(random.randint(1, 5)):
        kind = random.choice(("item", "item", "item", "task", "place"))
        row: Row = {"line": kind, "name": named(random, used)}
        if kind == "item":
            row |= {
                "quantity": amount(random, 400) + 1,
                "unit": random.choice(("sheet", "stick", "ft", "each", "roll", "ft2")),
            }
            some(random, row, cost=price(random), opening=amount(random, 20))
            some(random, row, 0.3, source="from the take-off", said=(named(random, used),))
            if random.random() < 0.3:
                row["net"] = row["quantity"] - Fraction(1, 2)  # type: ignore[operator]
                row["offcut"] = Fraction(1, 4)
        elif kind == "task":
            row["quantity"] = amount(random, 60)
            some(random, row, cost=pay(random), unit="hour")
            some(random, row, 0.4, amount=(amount(random, 900), "ft"))
        rows.append(row)
    return rows


def catalog(random: Random) -> list[Row]:
    used: set[str] = set()
    rows: list[Row] = []
    for _ in range(random.randint(1, 4)):
        if random.random() < 0.25:
            row: Row = {"line": "task", "name": named(random, used), "unit": "ft"}
            row["per hour"] = amount(random, 40)
            some(random, row, cost=pay(random))
        else:
            row = {"line": "item", "name": named(random, used)}
            row["unit"] = random.choice(("stick", "sheet"))
            row["length"] = Fraction(random.choice((96, 120, 144, 144, 150, 192)))
            some(random, row, kerf=Fraction(1, random.choice((8, 16))))
            some(random, row, least_offcut=Fraction(random.choice((6, 12, 18))))
            some(random, row, cost=price(random))
            some(random, row, 0.3, size=random.choice(("1x8", "5 in")), said=(named(random, used),))
            if "cost" in row:
                some(random, row, priced=a_day(random))
        rows.append(row)
    return rows


def runs(random: Random) -> list[Row]:
    rows: list[Row] = []
    for number in range(random.randint(1, 4)):
        work = random.choice(("boxed eave", "rake", "wall", "gable wall", "gutter run"))
        row: Row = {"work": work, "place": f"{random.choice(('north', 'south'))} side {number}"}
        feet = Fraction(random.randint(4 * 12 * 4, 60 * 12 * 4), 4)
        if work == "boxed eave":
            row |= {"length": feet, "depth": sixteenths(random, 8, 30)}
        elif work == "rake":
            row |= {"run": feet / 2, "depth": sixteenths(random, 8, 30)}
            row["pitch"] = Fraction(random.randint(6, 24), 2)
        elif work == "wall":
            row |= {"width": feet, "height": Fraction(random.randint(80, 240))}
        elif work == "gable wall":
            row |= {"width": feet, "pitch": Fraction(random.randint(3, 12))}
        else:
            row |= {"length": feet, "drop": Fraction(random.randint(80, 240))}
        rows.append(row)
    return rows


def pieces(random: Random) -> list[Row]:
    rows: list[Row] = []
    counted = random.random() < 0.8
    for number in range(random.randint(1, 5)):
        row: Row = {"length": sixteenths(random, 4, 140)}
        if counted:
            row["pieces"] = Fraction(random.choice((1, 2, 8, random.randint(1, 60), 1200)))
        some(random, row, label=f"eave {number}")
        some(random, row, 0.3, item=random.choice(("soffit panel", "fascia")))
        rows.append(row)
    return rows


def history(random: Random) -> list[Row]:
    rows: list[Row] = []
    used: set[str] = set()
    for _ in range(random.randint(1, 4)):
        net = amount(random, 60) + 1
        row: Row = {"job": named(random, used), "date": a_day(random), "item": "fascia"}
        row |= {"work": net, "gone": net + amount(random, 10) / 10}
        some(random, row, 0.4, temperature=Fraction(random.randint(20, 100)))
        some(random, row, 0.3, crew=Fraction(random.randint(1, 4)))
        if random.random() < 0.4:
            row |= {"task": "wrap fascia", "quantity": amount(random, 300)}
            row["man-hours"] = amount(random, 60)
        rows.append(row)
    return rows


def house(random: Random) -> list[Row]:
    """A rectangle with a window or a door in some of its walls."""
    long, wide = (Fraction(12 * random.randint(10, 60)) for _ in range(2))
    gabled = random.random() < 0.5
    rows: list[Row] = [{"what": "body", "name": "main"}]
    for number, name in enumerate(("front", "left", "back", "right")):
        row: Row = {"what": "side", "name": name, "length": wide if number % 2 else long}
        row |= {"height": Fraction(96), "corner": "outside", "depth": sixteenths(random, 8, 30)}
        row["top"] = "gable" if number % 2 and gabled else "eave"
        if row["top"] == "gable":
            row["pitch"] = Fraction(random.randint(6, 24), 2)
        rows.append(row)
        if random.random() < 0.4:
            kind = random.choice(("window", "door"))
            size: Row = {"length": Fraction(36), "height": Fraction(random.choice((36, 48, 80)))}
            rows.append({"what": kind, "name": f"{kind} {number}", **size})
            some(random, rows[-1], 0.4, count=Fraction(2))
    return rows


def a_day(random: Random) -> date:
    return date(2024, 1, 1) + timedelta(days=random.randint(0, 800))


KINDS = (
    Kind(
        "plan",
        {
            "line": "word", "name": "word", "quantity": "number", "unit": "word", "cost": "money",
            "opening": "number", "net": "number", "offcut": "number", "amount": "worded",
            "said": "list", "source": "word", "task": "word",
        },
        ("line", "name"),
        plan,
    ),
    Kind(
        "catalog",
        {
            "line": "word", "name": "word", "unit": "word", "said": "list", "size": "word",
            "length": "feet", "kerf": "inches", "least offcut": "inches", "cost": "money",
            "priced": "day", "per hour": "number",
        },
        ("line", "name"),
        catalog,
    ),
    Kind(
        "runs",
        {
            "work": "word", "place": "word", "length": "feet", "run": "feet", "depth": "inches",
            "pitch": "pitch", "width": "feet", "height": "feet", "drop": "feet",
        },
        ("work",),
        runs,
    ),
    Kind(
        "pieces",
        {"length": "inches", "pieces": "whole", "label": "word", "item": "word"},
        ("length",),
        pieces,
    ),
    Kind(
        "history",
        {
            "job": "word", "date": "day", "item": "word", "work": "number", "gone": "number",
            "task": "word", "quantity": "number", "man-hours": "number", "temperature": "degrees",
            "crew": "whole",
        },
        ("job", "date", "item", "work", "gone"),
        history,
    ),
    Kind(
        "house",
        {
            "what": "word", "name": "word", "length": "tape", "height": "tape", "top": "word",
            "corner": "word", "depth": "inches", "pitch": "pitch", "count": "whole",
        },
        ("what",),
        house,
    ),
)  # fmt: skip
BY_NAME = {kind.name: kind for kind in KINDS}
