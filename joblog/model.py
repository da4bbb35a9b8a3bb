"""The nouns of joblog: everything that moves between rooms, as frozen dataclasses.

Read this file first. Nothing here does any work. Lengths are `Fraction` inches, other
quantities `Fraction`, money `Decimal`; moments are timezone-aware `datetime`; offsets inside a
recording are `float` seconds, because a clock is not a measurement of the work.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar, Literal

# --- the job and its plan ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity with its unit, such as 41 ft, 8 ft2, 144 in/stick; "" for a bare number."""

    quantity: Fraction
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the catalog. `unit` is the unit it is counted in."""

    name: str
    unit: str
    spoken: tuple[str, ...] = ()
    """Other names a person says for it; `name` itself always counts."""
    also: tuple[tuple[str, Fraction], ...] = ()
    """Other units it is spoken of in: (unit, how many of `Item.unit` one of them is)."""
    stock_length: Fraction | None = None
    """Inches; the usual one where it comes in several."""
    other_lengths: tuple[Fraction, ...] = ()
    """Inches; lengths that it also comes in."""
    pack: Fraction = Fraction(1)
    """How many of `unit` are sold together."""
    pack_name: str = ""
    """What such a pack is called, "box"; "" where it is sold singly."""
    covers: Amount | None = None
    """What one of its unit covers, such as 900 ft2."""
    kerf: Fraction | None = None
    """Inches that one cut takes away."""
    least_offcut: Fraction | None = None
    """Inches; a shorter remainder is not worth keeping."""
    unit_cost: Decimal | None = None
    """Of one of its unit, not of a pack."""
    length_costs: tuple[tuple[Fraction, Decimal], ...] = ()
    """(inches, what one of that length costs) of other lengths; none where nobody said."""
    supplier: str = ""
    """Where it is bought; "" where nobody said."""
    least_order: Decimal | None = None
    """The least that its supplier takes an order for, in money before tax."""
    tax: Fraction | None = None
    """Sales tax as a share of its price; None where nobody said."""
    priced: date | None = None
    """The day that it cost so: when a person set it, or when it was paid; None where nobody knows,
    or there is no price."""
    per_pound: Fraction | None = None
    """How many are in a pound, of what is sold by weight."""
    open_area: Fraction | None = None
    """Square inches of open vent area in a foot of it, of what is vented."""
    counted: bool = False
    """Counted whole where it goes, such as an end cap: no allowance for waste buys one more."""
    variant_of: str = ""
    """What several lines are variants of: "fascia" of "fascia 1x6" and "fascia 1x8"; "" where there
    is only one."""
    size: str = ""
    """Such as "1x8", "5 in", "8d"; "" where it has none, or has all. So of the next two."""
    profile: str = ""
    """Such as "vented", "solid"."""
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Task:
    """A kind of work that takes hours."""

    name: str
    spoken: tuple[str, ...] = ()
    unit: str = ""
    """What it is measured in, such as ft; "" where only hours are known."""
    per_hour: Fraction | None = None
    """How much of `unit` one person does in an hour: units per crew hour."""
    crew: int = 1
    """How many people usually do it."""
    hourly_cost: Decimal | None = None
    """Of one person."""


@dataclass(frozen=True, slots=True)
class Catalog:
    """What a contractor buys and does."""

    items: tuple[Item, ...] = ()
    tasks: tuple[Task, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """One contract at one place. `zone` is an IANA name such as "America/New_York"."""

    name: str
    zone: str
    places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """What the estimate says of one item. `quantity` is in the item's own unit.

    quantity = net + offcut + an allowance for handling waste.
    """

    item: Item
    quantity: Fraction
    unit_cost: Decimal | None = None
    opening: Fraction = Fraction(0)
    """What was already on hand before the first delivery."""
    net: Fraction | None = None
    """What the finished work measures; None where the plan does not part its quantity, and then
    all of it counts as work."""
    offcut: Fraction = Fraction(0)
    """The geometric waste in the quantity; 0 where the plan does not part it."""
    source: str = ""
    """Where the allowance came from, in words; "" where nobody said."""
    task: str = ""
    """The planned task that it goes up with, such as "hang soffit": how much of that was done says
    how much of this the work should have taken. "" where nobody said."""


@dataclass(frozen=True, slots=True)
class PlannedTask:
    """What the estimate says of one task. `hours` are crew hours: people times hours."""

    task: Task
    hours: Fraction
    hourly_cost: Decimal | None = None
    quantity: Fraction | None = None
    """How much of the task's unit the hours are for; None where only hours are planned."""
    source: str = ""
    """Where the hours came from, in words; "" where nobody said."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The planned side of the reconciliation."""

    items: tuple[PlannedItem, ...] = ()
    tasks: tuple[PlannedTask, ...] = ()
    places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """What this job may be talking about. Built from catalog, plan and job."""

    items: tuple[Item, ...] = ()
    places: tuple[str, ...] = ()
    tasks: tuple[Task, ...] = ()
    commands: tuple[str, ...] = ()
    """What may be said to joblog itself, where it listens and answers."""
    jobs: tuple[str, ...] = ()
    """Names of the other jobs of the book, that material may have come from or gone to; the newest
    first."""
    planned: int = 0
    """How many of `items`, the first ones, the job's plan holds; the catalog's come after them."""

    def __hash__(self) -> int:
        # It is looked up for every line heard; hashing all of it would cost more than reading.
        sizes = (len(self.items), len(self.tasks), len(self.commands), len(self.jobs))
        return hash((self.places, *sizes))


# --- the cut list -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Joints:
    """Where a run may be parted into pieces that lap each other; inches, from where it begins."""

    lap: Fraction = Fraction(0)
    spacing: Fraction | None = None
    """From one place to the next where a joint may fall, such as a rafter; None: anywhere."""
    first: Fraction = Fraction(0)
    """The first such place."""
    clear: Fraction = Fraction(0)
    """How far joints stay from both ends and from each other."""
    beside: str = ""
    """The item whose joints at the same place these are kept away from; "" for none."""
    stagger: Fraction = Fraction(0)
    """How far from those."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Pieces of one length that are to be cut. `length` in inches."""

    length: Fraction
    pieces: int = 1
    label: str = ""
    """Where it goes, such as "north eave 1-7"."""
    item: str | None = None
    """What it is cut from."""
    source: str = ""
    """Where the line came from, such as "pieces.csv, row 3"."""
    joints: Joints | None = None
    """Where it may be made of several pieces; None for a piece that stays whole."""


@dataclass(frozen=True, slots=True)
class JointedRun:
    """A run of so many pieces, and where its joints were put."""

    label: str
    length: Fraction
    joints: tuple[Fraction, ...]
    """Inches from where the run begins to the end of the piece before."""
    lap: Fraction
    """By which the next piece begins sooner."""
    pieces: int = 1
    """How many such runs there are."""
    note: str = ""
    """Which wish for its joints could not be kept; "" where all were."""


@dataclass(frozen=True, slots=True)
class StockLength:
    """A length that can be bought, or an offcut on hand; inches, and what one costs."""

    length: Fraction
    pieces: int | None = None
    """How many there are; None for as many as it takes."""
    cost: Decimal | None = None
    offcut: bool = False
    """On hand already: costs nothing and is used first."""
    label: str = ""


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece in its stick. `mark` is how far its end lies from the stick's end, in inches."""

    length: Fraction
    mark: Fraction
    label: str = ""


@dataclass(frozen=True, slots=True)
class Stick:
    """One stock piece with its cuts in order.

    length = sum of the cuts + kerf + remainder, exactly. `kerf` is all that the blade took; the
    last cut takes less, or nothing, where the last piece ends near or at the end of the stick.
    """

    length: Fraction
    cuts: tuple[Cut, ...]
    kerf: Fraction
    remainder: Fraction
    kept: bool = False
    """The remainder is long enough to be an offcut; else it is waste."""
    offcut: bool = False
    """The stick was an offcut on hand."""
    label: str = ""
    load: int = 0
    """Sticks of one load are stacked and cut at once."""


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to cut from what, in the order for the saw."""

    sticks: tuple[Stick, ...]
    kerf: Fraction
    """Of one cut."""
    useful: Fraction
    """A remainder at least this long is kept as an offcut."""
    spent: Fraction
    """What was made least: the cost of new sticks where they have one, else their inches."""
    at_least: Fraction
    """No plan can spend less than this; equal to `spent` when the plan is proved best."""
    priced: bool = False
    """True when `spent` is money."""
    patterns: int = 0
    """How many different ways of cutting a stick there are."""
    patterns_proved: bool = False
    """No plan that spends as little has fewer patterns, nor as few and longer offcuts."""
    stopped: str = ""
    """What ended the search, such as "after 10 seconds"; empty where nothing was left to try."""
    settings: int = 0
    """How often the saw's fence is set."""
    at_once: int = 1
    """Sticks stacked and cut together."""
    short: tuple[Piece, ...] = ()
    """Pieces that no stock was left for."""
    spare: tuple[StockLength, ...] = ()
    """Offcuts on hand that this plan leaves as they are."""
    already: tuple[Stick, ...] = ()
    """What was cut before this plan was made; it stays as it is."""
    made: tuple[Piece, ...] = ()
    """Pieces that came of it: wanted ones, and such as are too short to be an offcut."""
    item: str | None = None
    runs: tuple[JointedRun, ...] = ()
    """What was parted into pieces, and where."""
    joints_at_least: int = 0
    """No choice of places has fewer joints, whatever its stock."""

    @property
    def proved(self) -> bool:
        """True when no plan can spend less."""
        return self.spent == self.at_least

    @property
    def joints(self) -> int:
        """How many joints its runs have together."""
        return sum(len(run.joints) * run.pieces for run in self.runs)


# --- the house as it stands -------------------------------------------------------------------
# A walk around it from outside, side by side, with square corners. All lengths in inches.

Top = Literal["eave", "gable", "open"]
"""What a wall ends in above; "open": nothing of ours is there."""
Corner = Literal["outside", "inside", "straight", "end"]
"""What comes behind a side: a square corner outward or inward, the next side in the same line, or
the end of the walk, where it meets a wall or a roof."""
Hand = Literal["right", "left"]


@dataclass(frozen=True, slots=True)
class Opening:
    """A window, door or vent in a side."""

    kind: Literal["window", "door", "vent", "other"]
    width: Fraction
    height: Fraction
    count: int = 1
    name: str = ""
    at: Fraction | None = None
    """From where the side begins to the nearer edge of the first one; None where nobody said."""
    sill: Fraction | None = None
    """Its lower edge above the foot of the wall; None where nobody said."""
    row: str = field(default="", compare=False)
    """Where it was read, such as "house.csv, row 3"; so of the others."""


@dataclass(frozen=True, slots=True)
class Interruption:
    """Something that an eave stops for: no soffit, fascia or gutter there."""

    what: str
    """Such as "porch roof" or "chimney"."""
    at: Fraction
    """From where the side begins."""
    length: Fraction
    row: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Side:
    """One straight wall of the walk, from one corner to the next."""

    name: str
    length: Fraction
    """Along the wall."""
    top: Top = "eave"
    corner: Corner = "outside"
    """Behind it."""
    height: Fraction | None = None
    """Of its siding, where the side begins; a gable's triangle stands above it."""
    height_end: Fraction | None = None
    """Of its siding at its end, such as 0 on the cheek of a dormer; None where it is the same."""
    depth: Fraction | None = None
    """Of the soffit, from the wall to the back of the fascia."""
    depths: tuple[Depth, ...] = ()
    """Where it was measured more than once; then `depth` is None."""
    pitch: Fraction | None = None
    """Of a gable: rise in inches over 12, both slopes alike, the ridge in the middle."""
    gutter: bool = False
    siding: bool = True
    openings: tuple[Opening, ...] = ()
    interruptions: tuple[Interruption, ...] = ()
    row: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Body:
    """A stretch of the house that is walked around by itself: the main house, a dormer, a porch.

    It is closed where the last side leads to the first by a corner, and open where it ends.
    """

    name: str
    sides: tuple[Side, ...] = ()
    count: int = 1
    """How many are alike, such as three dormers."""
    row: str = field(default="", compare=False)

    @property
    def first(self) -> Corner:
        """What stands before the first side: "end" where the walk is open."""
        return self.sides[-1].corner if self.sides else "end"


@dataclass(frozen=True, slots=True)
class Ceiling:
    """A level ceiling under a roof, such as a porch's."""

    name: str
    length: Fraction
    width: Fraction
    open_sides: int = 0
    """Edges that end at a beam or a fascia, and take no channel on a wall."""
    row: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class House:
    """A house by its sides, in the order in which somebody walks around it."""

    bodies: tuple[Body, ...] = ()
    ceilings: tuple[Ceiling, ...] = ()
    attic: Fraction | None = None
    """Square inches of its floor."""
    at_hand: Hand = "right"
    """On which hand the house was during the walk; with the right one it goes clockwise, seen from
    above."""
    every: tuple[tuple[str, str], ...] = ()
    """What holds of every run that takes it, as it was typed: ("drip_edge", "1")."""
    sure: bool = False
    """Whether a person said that it is as it stands, though its walk does not close."""
    attic_row: str = field(default="", compare=False)


# --- the take-off and the order ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Depth:
    """One measured depth along a run, both in inches."""

    depth: Fraction
    at: Fraction | None = None
    """From the beginning of the run; None where all were measured evenly from end to end."""


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of one kind of work at one place, as measured."""

    work: str
    """Such as "boxed eave"."""
    place: str
    measures: tuple[tuple[str, Amount], ...] = ()
    """By the names that the kind of work gives them: ("length", 41 ft)."""
    depths: tuple[Depth, ...] = ()
    """Where the depth was measured more than once."""
    instead: tuple[tuple[str, str], ...] = ()
    """Items that stand in for the usual ones: (usual, this one)."""
    row: str = ""
    """Where it was read, such as "runs.csv, row 3"."""
    label: str = ""
    """What its pieces are called by, where that is more than its place: "front kitchen"."""


@dataclass(frozen=True, slots=True)
class TakeOffLine:
    """What one run needs of one item, in the item's own unit, exact and not rounded to packs."""

    place: str
    work: str
    item: str
    unit: str
    net: Fraction
    gross: Fraction
    net_formula: str
    """With its numbers filled in."""
    gross_formula: str
    task: str = ""
    """The work that it goes up with; "" where its kind of work does not say."""
    counted: bool = False
    """Counted whole, such as an end cap: no allowance for waste buys one more."""


@dataclass(frozen=True, slots=True)
class TakeOffTask:
    """The work of one run; `hours` are crew hours, None while the catalog has no rate for it."""

    place: str
    work: str
    task: str
    amount: Amount
    hours: Fraction | None
    formula: str


@dataclass(frozen=True, slots=True)
class Figure:
    """A size worth knowing that nothing is ordered by, such as the length of a rafter."""

    place: str
    work: str
    name: str
    amount: Amount
    formula: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class TakeOff:
    """Everything that a number of runs need."""

    lines: tuple[TakeOffLine, ...] = ()
    tasks: tuple[TakeOffTask, ...] = ()
    figures: tuple[Figure, ...] = ()
    pieces: tuple[Piece, ...] = ()
    """What is to be cut, in the order of the runs."""
    notes: tuple[str, ...] = ()
    """What a person should know before cutting, in words."""


@dataclass(frozen=True, slots=True)
class OrderedLength:
    """So much of an item in one of the lengths that it comes in."""

    length: Fraction
    """Inches."""
    packs: int
    pieces: Fraction
    """Sticks in all of the packs."""
    each: Decimal | None
    """What one stick costs."""
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class OrderLine:
    """What to buy of one item, in its own unit.

    gross = net + geometric waste; needed = gross + allowance + asked; bought = packs of `pack` that
    cover what is needed and not on hand. `net` is None where only the planned quantity is known.
    """

    item: str
    unit: str
    net: Fraction | None
    gross: Fraction
    rate: Fraction
    """The allowance for handling waste, as a share of gross."""
    allowance: Fraction
    needed: Fraction
    on_hand: Fraction
    packs: int
    pack: Fraction
    pack_name: str
    bought: Fraction
    unit_cost: Decimal | None
    cost: Decimal | None
    source: str = ""
    """Where the allowance came from, in words."""
    jobs: int | None = None
    """How many closed jobs of this item the allowance was learned from; None where none was."""
    interval: Interval | None = None
    """Where the whole consumption lies with 80 %, in the item's own unit, when it was learned."""
    chance_short: float | None = None
    """The chance of running short that the whole packs leave, when it was learned."""
    left_over: float | None = None
    """Expected, in the item's own unit, when it was learned."""
    asked: Fraction = Fraction(0)
    """What was asked for on open jobs beyond the rest."""
    why: tuple[str, ...] = ()
    """Why it stands in the order, in words: the runs or the plan, what was asked for on a job."""
    chance_any: float | None = None
    """The chance that anything is missing of all lines that were chosen together; the same on each
    of them, None on every other line."""
    supplier: str = ""
    """Where it is bought; "" where nobody said."""
    least_order: Decimal | None = None
    """The least that its supplier takes an order for, in money before tax."""
    tax: Fraction | None = None
    """Sales tax as a share of its cost, which is before tax; None where nobody said."""
    lengths: tuple[OrderedLength, ...] = ()
    """What is bought in which length, where the item is sold in several at their own prices;
    `bought` is then what they come to in the item's own unit, and `packs` all their packs."""
    cutoffs: tuple[StockLength, ...] = ()
    """Cutoffs on hand that the cut list of the item takes; what they save is in `on_hand`."""


# --- what was heard ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Word:
    """One word as a recognizer heard it; times in seconds from the recording's start."""

    text: str
    start: float
    end: float
    confidence: float
    """0 to 1, in the recognizer's own opinion."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """One line of an n-best list."""

    text: str
    log_probability: float


UNHEARD = "…"
"""Stands among a hearing's words where somebody spoke and the recognizer knew no word for it."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """What one recognizer made of one utterance."""

    recognizer: str
    """Such as "trade", "general free", "general constrained"."""
    text: str
    words: tuple[Word, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    """Best first; the first one is `text` itself. Natural logarithms."""
    confidence: float = 1.0
    """0 to 1, of the whole hearing."""


@dataclass(frozen=True, slots=True)
class Scored:
    """A line that may have been said, and how likely it is: natural logarithms.

    Those of one recognizer can be compared with each other, and with nothing else.
    """

    text: str
    """In lower case, without punctuation."""
    trade: float | None = None
    """Of the sound if this was said, by the trade recognizer; None where it cannot tell."""
    general: float | None = None
    """The same by the general recognizer."""
    language: float | None = None
    """Of these words on this job, whatever was heard."""


@dataclass(frozen=True, slots=True)
class Utterance:
    """One stretch of speech, with every hearing of it; the first hearing is the chosen one."""

    start: float
    end: float
    hearings: tuple[Hearing, ...]
    scored: tuple[Scored, ...] = ()
    """The lines that were put to every recognizer; none where none were put."""
    level: float | None = None
    """dBFS of the voice; None where nobody measured it, as in books of before."""
    noise: float | None = None
    """dBFS of what is beside the voice."""


@dataclass(frozen=True, slots=True)
class Moment:
    """When something was made, and how we know."""

    at: datetime
    source: str
    """Such as "container", "file name", "file time", "EXIF with offset", "GPS"."""


RecordingStanding = Literal["kept", "withdrawn", "superseded"]


@dataclass(frozen=True, slots=True)
class Recording:
    """One audio file."""

    sha256: str
    name: str
    made: Moment
    seconds: float
    trouble: str | None = None
    """Something a person should know of it: "ends early", "no speech found"."""
    standing: RecordingStanding = "kept"
    """What is not kept counts nowhere, and stays readable."""
    superseded_by: str | None = None
    """SHA-256 of the recording that holds all of this one."""


# --- what it says -----------------------------------------------------------------------------

Kind = Literal[
    "measure",
    "used",
    "spoiled",
    "delivered",
    "returned",
    "on_hand",
    "moved",
    "needed",
    "start",
    "stop",
    "break",
    "labor",
    "weather",
    "covered",
    "problem",
    "note",
    "photo",
    "todo",
    "extra",
    "price",
    "expense",
    "drive",
    "inspection",
    "visit",
    "corner",
    "wall_opening",
    "interruption",
    "correction",
]
WALK_KINDS: tuple[Kind, ...] = ("corner", "wall_opening", "interruption")
"""Kinds that only a walk around a house tells, beside the measures of its sides."""
OpeningKind = Literal["window", "door", "vent", "other"]
Turn = Literal["outside", "inside", "end", "around"]
"""What is said to come behind a side: a corner; "end" where the walk begins or stops at a wall or a
roof; "around" where it is back where it began."""
Dimension = Literal[
    "length", "depth", "width", "height", "rise", "reveal", "overhang", "spacing", "gap"
]
"""What a measure is of. Spacing is from center to center."""

STOCK_KINDS: tuple[Kind, ...] = (
    "used", "spoiled", "delivered", "returned", "on_hand", "moved", "needed",
)  # fmt: skip
STOCK = "stock"
"""What the shop, the truck and the garage are called as an end of a transfer: no job's name."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One fact. Which fields a kind uses is in `joblog.form.FIELDS`; the rest stay None."""

    kind: Kind
    place: str | None = None
    note: str | None = None
    item: str | None = None
    quantity: Fraction | None = None
    unit: str | None = None
    reason: str | None = None
    unit_cost: Decimal | None = None
    inches: Fraction | None = None
    square_inches: Fraction | None = None
    pitch: Fraction | None = None
    """Rise in inches over a run of 12."""
    pieces: int | None = None
    as_said: str | None = None
    time: time | None = None
    minutes: Fraction | None = None
    workers: int | None = None
    hours: Fraction | None = None
    task: str | None = None
    fahrenheit: Fraction | None = None
    size: str | None = None
    """Of the item as it was said: "1x8", "5 in", "1 1/2 in", "8d", "#8"."""
    length: Fraction | None = None
    """Inches; of one piece of the item as it comes, "ten foot sticks of J"; of what interrupts a
    side, along it."""
    profile: str | None = None
    """Of the item as it was said: "vented", "solid", "dutch lap"."""
    colour: str | None = None
    dimension: Dimension | None = None
    """What a measure is of; None where nobody said."""
    day: date | None = None
    """The day it holds for where that is not the day it was said: "yesterday", "by Friday"."""
    price: Decimal | None = None
    """Of all of it: an extra, an expense."""
    miles: Fraction | None = None
    who: str | None = None
    """A customer, supplier, inspector or one of the crew, in plain text; of hours, whose pay
    `unit_cost` is where it is not everybody's: "the helper"."""
    top: Top | None = None
    """Of the measure of a side: what its wall ends in; None where nobody said."""
    corner: Turn | None = None
    opening: OpeningKind | None = None
    width: Fraction | None = None
    """Inches, with `height`: of an opening, and of an area that was said as one by the other. How
    many alike there are is `pieces`."""
    height: Fraction | None = None
    at: Fraction | None = None
    """Inches from where the side begins, walked with the house on the right, to where an opening
    or an interruption begins; how long an interruption is, is its `length`."""
    from_job: str | None = None
    """Of what was moved: the job it came from, or `STOCK`; None for the job it is told on."""
    to_job: str | None = None
    """The job it went to, or `STOCK`; exactly one of the two is said."""
    action: Literal["drop", "replace"] | None = None
    replacement: Entry | None = None
    """The replacing entry of a correction; "with" in JSON."""
    back: int = 0
    """Of a correction: how many entries stand behind the one that it means; 0 for the last."""
    carried: tuple[str, ...] = ()
    """Fields that were not said here but hold from earlier words, such as ("place",)."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why an entry needs a person's eye. `entry` is its index in the reading."""

    entry: int
    why: str


FieldName = Literal["number", "item", "place", "kind"]
"""What of an entry may have been heard otherwise, in four words."""


@dataclass(frozen=True, slots=True)
class Rival:
    """What else one field of a heard entry may be."""

    entry: int
    """Which entry of its reading."""
    field: FieldName
    values: tuple[tuple[str, float], ...]
    """In words for a person, with their probabilities; first the one that stands."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What the dictation room makes of one utterance."""

    entries: tuple[Entry, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    unread: str = ""
    """Words that belong to no entry."""
    confidence: tuple[float, ...] = ()
    """Of each entry, 0 to 1, when it was heard; empty when it was typed."""
    rivals: tuple[Rival, ...] = ()
    """What else of the entries was heard, where anything competes."""


@dataclass(frozen=True, slots=True)
class OtherReading:
    """What the same words could mean as well, and what speaks for and against it."""

    reading: Reading
    why: str
    worse_by: float
    """How much less likely it is, in log-odds."""


@dataclass(frozen=True, slots=True)
class HeardUtterance:
    """An utterance and its entries, ready for the book."""

    utterance: Utterance
    reading: Reading


# --- photos -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Position:
    """WGS 84 degrees, north and east positive; altitude in metres above sea level."""

    latitude: float
    longitude: float
    altitude: float | None = None
    error: float | None = None
    """Metres, as whoever measured it says; None where nobody does."""


@dataclass(frozen=True, slots=True)
class Direction:
    """Where the camera looked: degrees clockwise from north, 0 to under 360."""

    degrees: float
    north: Literal["true", "magnetic"]


@dataclass(frozen=True, slots=True)
class Fence:
    """The ground that a job's work is on: a circle around a point, its radius in metres."""

    latitude: float
    longitude: float
    radius: float
    source: str
    """Such as "learned from 12 photos", "set by hand"."""


@dataclass(frozen=True, slots=True)
class TrackPoint:
    """Where somebody was at one moment: seconds since 1970 in UTC."""

    at: float
    position: Position


@dataclass(frozen=True, slots=True)
class Track:
    """A log of where somebody was, in the order of time."""

    sha256: str
    name: str
    points: tuple[TrackPoint, ...]
    trouble: str | None = None
    """What a person should know of it, such as points that tell no time."""


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a photo was taken, and how that is known: "camera", or the name of a track log."""

    position: Position
    source: str


@dataclass(frozen=True, slots=True)
class Look:
    """What a picture looks like, small: enough to find others like it and to pick the best one."""

    likeness: str
    """A perceptual hash of 64 bits, as 16 hexadecimal digits: alike pictures differ in few bits."""
    sharpness: float
    """Variance of the Laplacian of a grey copy of a fixed size: the higher, the sharper."""
    brightness: float
    """0 to 1, in the mean; far from the middle it is badly exposed."""


@dataclass(frozen=True, slots=True)
class Photo:
    """One picture. Width and height as a person sees it, orientation applied."""

    sha256: str
    name: str
    taken: Moment
    width: int
    height: int
    position: Position | None = None
    orientation: int = 1
    camera: str | None = None
    trouble: str | None = None
    clock: datetime | None = None
    """What the camera's own clock said, without a zone; None where it does not tell."""
    satellites: datetime | None = None
    """What the satellites said, in UTC; as old as the last fix."""
    direction: Direction | None = None
    look: Look | None = None
    """None where too little of it can be decoded, or an older joblog took it in."""
    remarks: tuple[str, ...] = ()
    """What kind of picture it is, in words, where that matters: a screenshot, a changed copy."""
    standing: Literal["kept", "withdrawn"] = "kept"
    """One that was withdrawn belongs to no entry and counts nowhere; it stays readable."""


@dataclass(frozen=True, slots=True)
class Tie:
    """Which entry a photo belongs to, and why we think so."""

    photo: str
    """SHA-256."""
    entry: int
    """Id of the entry in the book."""
    reason: str
    seconds: float
    """Photo's moment, its camera's clock put right, less the entry's: positive when the photo came
    after the words."""
    margin: float | None = None
    """How much worse the next best would explain the day, as a logarithm: at 3 the next best is
    twenty times less likely. None where nothing else was possible, or a person tied it."""
    sure: bool = True
    """False for a close call: offered, and asked about."""
    cue: int | None = None
    """The entry in which this photo was spoken of; None for one that nobody spoke of."""


ClockSource = Literal["by hand", "satellites", "spoken cues", "neighbouring day", "nothing"]


@dataclass(frozen=True, slots=True)
class ClockCorrection:
    """What the clock of a camera was off by on one day, and how we know.

    `seconds` is added to what the camera wrote; it grows by `drift` seconds each hour, and holds
    at `around`.
    """

    camera: str
    day: date
    """By the camera's own clock, where the job is."""
    seconds: float
    drift: float
    """Seconds an hour."""
    around: datetime
    confidence: float
    """0 to 1."""
    reason: str
    """In words for a person."""
    cues: int
    """Spoken cues that its photos answer, by this correction."""
    source: ClockSource

    SURE: ClassVar[float] = 0.95
    """The confidence from which on a correction is made."""

    @property
    def sure(self) -> bool:
        """Whether it is applied; a correction that nobody is sure of is only told."""
        return self.confidence >= self.SURE


@dataclass(frozen=True, slots=True)
class Spot:
    """A photo or a place on a sketch of the site: metres east and north of its middle."""

    kind: Literal["photo", "place"]
    label: str
    east: float
    north: float
    error: float
    """Metres."""
    note: str = ""
    """Of a photo when it was taken, and how many are alike."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """Where the photos of a job, or of one day, were taken, and where its places lie."""

    middle: Position
    spots: tuple[Spot, ...]
    fence: tuple[float, float, float] | None = None
    """Its middle, east and north, and its radius, in metres."""
    unplaced: int = 0
    """Photos without a position."""


@dataclass(frozen=True, slots=True)
class Proof:
    """A photo of covered work with all that makes it one."""

    photo: Photo
    taken: datetime
    """Its camera's clock put right."""
    correction: str
    """Why that is not what the camera wrote, in words; "" where it is."""
    placed: Placed | None
    tie: Tie


@dataclass(frozen=True, slots=True)
class CoveredWork:
    """An entry about work that was covered, and the photos that show it open."""

    entry: BookEntry
    heard_in: str | None
    """Name of the recording; None where it was typed."""
    proofs: tuple[Proof, ...]
    """The best of alike ones first, then by time."""
    lacks: tuple[str, ...]
    """What keeps it from being shown to anybody, in words; empty where nothing does."""


# --- the book ---------------------------------------------------------------------------------

Standing = Literal["heard", "accepted", "dropped"]
Change = Literal[
    "heard",
    "typed",
    "accepted",
    "corrected",
    "edited",
    "dropped",
    "restored",
    "moved",
    "withdrawn",
    "undone",
    "redone",
    "split",
    "merged",
]


@dataclass(frozen=True, slots=True)
class BookEntry:
    """One version of an entry as the book keeps it. Older versions stay readable."""

    id: int
    version: int
    at: datetime
    """When the words were said (or typed), in UTC."""
    entry: Entry
    doubts: tuple[str, ...]
    standing: Standing
    change: Change
    """What made this version."""
    changed_at: datetime
    said: str
    """The words this version was read from."""
    utterance: int | None = None
    """Id of the utterance in the book; None when typed."""
    origin: Change | None = None
    """What made the state that this version only brings back or moves; None where `change` did."""

    @property
    def looked_at(self) -> bool:
        """True when a person looked at it and let it stand."""
        return self.standing == "accepted" and (self.origin or self.change) != "typed"

    @property
    def open(self) -> bool:
        """True while it waits for a person: doubtful, and neither accepted nor dropped."""
        return self.standing == "heard" and bool(self.doubts)


@dataclass(frozen=True, slots=True)
class BookUtterance:
    """An utterance as the book keeps it."""

    id: int
    recording: str
    """SHA-256."""
    at: datetime
    """When it was said, in UTC."""
    utterance: Utterance
    unread: str


@dataclass(frozen=True, slots=True)
class Settled:
    """What becomes of one entry that was asked about."""

    entry: int
    becomes: Entry | None
    """None drops it; the very entry as it stands keeps it."""
    said: str
    """The words that it then rests on."""
    beside: tuple[Entry, ...] = ()
    """Entries that the answer adds beside it."""
    doubts: tuple[str, ...] = ()
    """What is doubted of it then."""


@dataclass(frozen=True, slots=True)
class Step:
    """One decision in the history of a job, or of several jobs."""

    id: int
    at: datetime
    who: str
    """"you", "you, aloud" for what was said in a recording, "you, by ear" for what was said, or let
    stand, when it was read back; "joblog" for what it did by itself."""
    what: str
    """In words: "dropped: used 3 sheets of soffit panel, north eave"."""
    jobs: tuple[str, ...]
    entries: tuple[int, ...]
    """Ids of the entries that it changed or added."""
    state: Literal["done", "undone", "forgotten"]
    """Undone can be redone; forgotten was undone, and is in the bin: something else was decided."""
    turns: tuple[Turned, ...] = ()
    """Each time that it was taken back or done again, oldest first."""


@dataclass(frozen=True, slots=True)
class Turned:
    """A step was taken back, or done again."""

    at: datetime
    who: str
    undone: bool


@dataclass(frozen=True, slots=True)
class Signed:
    """A day that was signed off: a person has looked at it, and all of it is right."""

    at: datetime
    changed: tuple[str, ...] = ()
    """What is otherwise since, each in a line: "entry 12 is new: used: 3 panels"; none where the
    day stands as it was signed."""


@dataclass(frozen=True, slots=True)
class Found:
    """One place where words that were looked for are: an entry, what was heard and became none, the
    name of a recording or a photo."""

    job: str
    day: date
    at: datetime
    """In the time zone of its job."""
    text: str
    """What to show of it, one line."""
    marks: tuple[tuple[int, int], ...]
    """Where in `text` the words are, as slices."""
    entry: int | None = None
    recording: str | None = None
    """SHA-256 of the recording that it is the name of, or was heard in."""
    photo: str | None = None
    """SHA-256."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be taken in: which file or row, and what to do."""

    what: str
    why: str


# --- the reconciliation -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class QuantityVariance:
    """Consumed less planned, in the item's own unit, in parts that add up to `total` exactly.

    Above zero is more than planned. `unaccounted` and `total` are None while nobody counted what
    was left.
    """

    scope: Fraction
    """The work itself came out larger or smaller: what the plan allows for the output that was
    really made, less what it has; with the offcuts of both where nobody said what pieces were cut.
    All that was placed of an item that is not planned and was not measured in pieces."""
    offcut: Fraction
    """Geometric waste less what the plan had of it; 0 where nobody said what pieces were cut."""
    handling: Fraction
    """Spoiled less the allowance of the plan."""
    unaccounted: Fraction | None
    total: Fraction | None
    usage: Fraction = Fraction(0)
    """More or less placed on the same work: placed less allowed. 0 in closings of before, where it
    is in `scope`."""


@dataclass(frozen=True, slots=True)
class MoneyVariance:
    """Real cost less planned cost, in parts that add up to `total` to the cent.

    The parts of `QuantityVariance` at the planned price, and the difference in price on all that
    was consumed (Warren and others, Accounting, on direct materials variances).
    """

    scope: Decimal
    offcut: Decimal
    handling: Decimal
    unaccounted: Decimal | None
    price: Decimal | None
    total: Decimal | None
    usage: Decimal = Decimal("0.00")
    """0 in closings of before, where it is in `scope`."""


@dataclass(frozen=True, slots=True)
class Layer:
    """So many of an item that came together, in its own unit."""

    quantity: Fraction
    each: Fraction | None
    """What one of them cost in dollars; None where nobody said."""
    day: date | None = None
    """When they were bought; None for what was there before anybody told of it."""


@dataclass(frozen=True, slots=True)
class Moved:
    """Material that was carried from one end to another: a job, or `STOCK`. One fact of both.

    What a job began with is such a fact too, though nobody told it as an entry: out of stock.
    """

    item: str
    unit: str
    quantity: Fraction
    """In the item's own unit."""
    from_job: str
    to_job: str
    at: datetime
    told: tuple[tuple[str, int], ...] = ()
    """Where it was told: (job, id of the entry); twice where both ends told it, and none for what
    a job began with."""
    layers: tuple[Layer, ...] = ()
    """What it cost, the oldest first; they add up to the quantity."""
    opening: bool = False
    """What `to_job` had before its first delivery."""
    unlike: Fraction | None = None
    """How many the other end tells of, the same day or the next, where it tells another number:
    it may be the same transfer."""


@dataclass(frozen=True, slots=True)
class Lying:
    """What lies at one end: on a job, or in `STOCK`."""

    where: str
    item: str
    unit: str
    quantity: Fraction
    layers: tuple[Layer, ...]
    """The oldest first; they add up to the quantity."""
    counted: bool = True
    """False where nobody counted it: then it is what the record leaves."""
    note: str = ""
    """What a person should know of it; "" where there is nothing."""


@dataclass(frozen=True, slots=True)
class StockLine:
    """The balance of one item, in its own unit.

    opening + delivered + moved_in - returned - moved_out - on_hand = consumed
    = placed + spoiled + offcut + unaccounted.
    `on_hand`, `consumed` and `unaccounted` are None when nobody counted what was left.
    """

    item: str
    unit: str
    planned: Fraction | None
    opening: Fraction
    delivered: Fraction
    returned: Fraction
    on_hand: Fraction | None
    consumed: Fraction | None
    placed: Fraction
    spoiled: Fraction
    offcut: Fraction
    """Geometric waste: what the pieces really cut force, by their best cut list."""
    unaccounted: Fraction | None
    at_least: Fraction
    """Consumed at least this much: what was placed, spoiled and cut off, or what a count before
    the last deliveries leaves no other way for."""
    at_most: Fraction
    """Consumed at most this much: everything that ever came, less what went back."""
    planned_cost: Decimal | None = None
    actual_cost: Decimal | None = None
    reasons: tuple[tuple[str, Fraction], ...] = ()
    """Why it was spoiled, in the person's own words, and how much."""
    entries: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    """Entries of this item that are doubtful or cannot be counted in its unit."""
    pieces: Fraction | None = None
    """What the pieces really cut measure together; None where nobody said what was cut."""
    variance: QuantityVariance | None = None
    money: MoneyVariance | None = None
    """None where no price is known."""
    allowed: Fraction | None = None
    """What the plan allows, net, for the output that was really made: standard quantity allowed.
    None where neither a plan nor pieces say, and in closings of before."""
    allowed_offcut: Fraction = Fraction(0)
    """The geometric waste that goes with it: of the pieces cut, else the plan's."""
    allowed_by: str = ""
    """What says how much output was made: "pieces cut", "41 of 40 ft done", "as planned"; "" where
    `allowed` is None."""
    last_count: Fraction | None = None
    """What was last counted as left, whether or not that is what is left now."""
    kept: Fraction = Fraction(0)
    """Offcuts of sticks told installed that were counted as left: they are in `on_hand`, and not in
    `placed` or `offcut`."""
    moved_in: Fraction = Fraction(0)
    """Brought from other jobs or from stock, beside what was there at the beginning."""
    moved_out: Fraction = Fraction(0)
    """Taken to other jobs or put into stock."""
    unpriced: Fraction = Fraction(0)
    """Of what was consumed, so much that nobody told a price of: what was bought is taken at the
    average paid on this job, else at the plan's; what was there before, the other way round."""


@dataclass(frozen=True, slots=True)
class LaborVariance:
    """Real less planned, of one task, in parts that add up exactly: crew hours, and money.

    `hours` = `scope_hours` + `efficiency_hours`; `total` = `scope` + `efficiency` + `rate`, to the
    cent. Efficiency is (AH - SH) x SR with SH the hours that the plan allows for what was done,
    rate is (AR - SR) x AH (any managerial accounting text). Scope and efficiency are None while
    nobody said how much was done in some of the hours: then nobody knows what the plan allows.
    """

    scope_hours: Fraction | None
    efficiency_hours: Fraction | None
    hours: Fraction
    scope: Decimal | None = None
    efficiency: Decimal | None = None
    rate: Decimal | None = None
    total: Decimal | None = None
    """Money is None where the plan has no hourly cost."""


@dataclass(frozen=True, slots=True)
class TaskLine:
    """Crew hours of one task."""

    task: str
    planned: Fraction | None
    actual: Fraction
    planned_cost: Decimal | None = None
    actual_cost: Decimal | None = None
    entries: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    unit: str = ""
    """What the task is measured in."""
    planned_quantity: Fraction | None = None
    done: Fraction | None = None
    """How much of `unit` was said to be done; None where nobody said."""
    done_hours: Fraction = Fraction(0)
    """The hours that it was said to be done in: all of `actual`, or less."""
    without_amount: tuple[int, ...] = ()
    """Entries with hours of which nobody said how much was done in them."""
    planned_rate: Fraction | None = None
    """Units per crew hour, as planned."""
    actual_rate: Fraction | None = None
    """Units per crew hour: `done` in `done_hours`; None where nobody said what was done."""
    variance: LaborVariance | None = None
    """None where no hours were planned, or none told."""


@dataclass(frozen=True, slots=True)
class DayHours:
    """Attendance of one day, from start, stop and break."""

    day: date
    started: time | None
    stopped: time | None
    break_minutes: Fraction
    crew_hours: Fraction | None
    """None when a start or a stop is missing."""
    on_tasks: Fraction
    """Crew hours that were said to belong to a task."""
    entries: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """What was told of one item or task at one place, or on one day.

    Exactly one of `place` and `day` says which; a place of "" is what was told of no place.
    """

    name: str
    """The item, or the task."""
    unit: str
    """"hours" for a task: crew hours."""
    place: str | None = None
    day: date | None = None
    delivered: Fraction = Fraction(0)
    returned: Fraction = Fraction(0)
    used: Fraction = Fraction(0)
    spoiled: Fraction = Fraction(0)
    hours: Fraction = Fraction(0)
    entries: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Reason:
    """Why material of one item was spoiled, in the person's own words."""

    text: str
    item: str
    unit: str
    quantity: Fraction
    cost: Decimal | None
    """At the planned price, else the average paid; None where neither is known."""
    entries: tuple[int, ...] = ()


Settling = Literal["count", "delivery", "use", "decision", "hours", "done", "pay", "plan"]
"""What would close a gap: a count of what is left, a delivery or a use that was not told, a
decision on doubtful entries, hours, how much was done in them, what an hour costs, a line in the
plan."""


@dataclass(frozen=True, slots=True)
class Gap:
    """Something that the record does not say, or says in two ways."""

    text: str
    """In words for a person."""
    settled_by: Settling
    name: str = ""
    """The item or task; "" where it is about neither."""
    unit: str = ""
    width: Fraction | None = None
    """How far apart the figures lie that it leaves open, in `unit`; None without a bound."""
    money: Decimal | None = None
    """The same in money; None where no price is known."""
    entries: tuple[int, ...] = ()
    """Those it rests on, or that contradict each other."""
    contradiction: bool = False
    """The entries cannot all be true; anything else is only missing."""


@dataclass(frozen=True, slots=True)
class Record:
    """How complete the record of a job is."""

    items: int
    items_settled: int
    """Items whose balance closes, with no entry in doubt."""
    tasks: int
    tasks_settled: int
    """Tasks whose hours are known, and how much was done in them where the task is measured."""
    days: int
    days_settled: int
    """Days with every start and stop."""
    cost_settled: Fraction | None
    """Share of the planned material cost that lies in settled items; None without a price."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a job was like, as far as it was told: what waste and hours may depend on."""

    fahrenheit: Fraction | None = None
    """Mean of the temperatures told."""
    depth: Fraction | None = None
    """Mean of the depths measured, in inches."""
    crew: int | None = None
    """People at work, in the mean of its hours."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was said to be needed of one item, and has not come since."""

    item: str
    unit: str
    quantity: Fraction | None
    """In the item's own unit, what was said at different times together; None where nobody said
    how much."""
    entries: tuple[int, ...]
    day: date | None = None
    """The first day that it was asked for."""
    note: str = ""
    """What a person should know of the amount; "" where there is nothing."""
    job: str = ""
    """Where it was asked for; "" where only one job is looked at."""


@dataclass(frozen=True, slots=True)
class SaidPrice:
    """What one of an item was last said to cost, or was paid for it."""

    item: str
    told: Decimal
    """Of one `told_unit`, as it was said."""
    told_unit: str
    at: datetime
    """When it was said, or held for, in the time zone of its job."""
    unit_cost: Decimal | None = None
    """Of one of the item's own unit; None where it cannot be turned into that exactly."""
    entry: int = 0
    job: str = ""
    """Where it was said or paid."""
    paid: bool = False
    """Whether it came with a delivery."""


@dataclass(frozen=True, slots=True)
class BesideLine:
    """One extra, expense or drive."""

    kind: Literal["extra", "expense", "drive"]
    day: date
    text: str
    """In the person's own words."""
    price: Decimal | None = None
    hours: Fraction | None = None
    miles: Fraction | None = None
    minutes: Fraction | None = None
    who: str | None = None
    entry: int = 0


@dataclass(frozen=True, slots=True)
class Beside:
    """What a job had beside its planned work and material; what is in doubt does not count."""

    lines: tuple[BesideLine, ...] = ()
    to_charge: Decimal = Decimal(0)
    """What the extras come to, of those with a price."""
    unpriced: int = 0
    """Extras whose price nobody said."""
    extra_hours: Fraction = Fraction(0)
    spent: Decimal = Decimal(0)
    miles: Fraction = Fraction(0)
    driven_minutes: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Reconciliation:
    """A job, squared up as far as its record goes."""

    job: str
    stock: tuple[StockLine, ...] = ()
    tasks: tuple[TaskLine, ...] = ()
    days: tuple[DayHours, ...] = ()
    open_doubts: int = 0
    gaps: tuple[Gap, ...] = ()
    """What is missing or contradicts itself: contradictions first, then what settles most."""
    material: MoneyVariance | None = None
    """The sum over the items that `material_of` names; None where no item has a price."""
    material_of: tuple[str, ...] = ()
    """Items with all parts of their variance in money known."""
    labor: LaborVariance | None = None
    """The sum over the tasks that have a variance."""
    untold_hours: Fraction | None = None
    """Crew hours at work that were told to no task; None where a day's hours are not known."""
    parts: tuple[Part, ...] = ()
    """By place, then by day."""
    reasons: tuple[Reason, ...] = ()
    """The dearest first."""
    record: Record | None = None
    conditions: Conditions = Conditions()
    beside: Beside = Beside()


@dataclass(frozen=True, slots=True)
class Closing:
    """A job as it was closed: its figures, and the entries they rest on."""

    job: str
    day: date
    """The day that the job counts for when rates are learned."""
    closed_at: datetime
    figures: Reconciliation
    changed: tuple[int, ...] = ()
    """Entries that are new, or count otherwise, since it was closed: they reopened the job."""
    plan_changed: bool = False
    told_on: tuple[tuple[int, str], ...] = ()
    """Of those that changed, what other jobs tell of this one: (entry, that job)."""

    @property
    def reopened(self) -> bool:
        """True once anything the figures rest on has changed."""
        return bool(self.changed) or self.plan_changed


# --- rates ------------------------------------------------------------------------------------
# Statistics are floats: they carry their own uncertainty, and no exact figure is made of them.


@dataclass(frozen=True, slots=True)
class PastUse:
    """What one closed job used of one item, in the item's own unit."""

    job: str
    day: date
    item: str
    net: Fraction
    """What the finished work should take: `StockLine.allowed`."""
    consumed: Fraction
    geometric: Fraction | None = None
    """What stock length and piece size forced; None where nobody worked it out."""
    family: str | None = None
    """Items of a family learn from each other; None takes the family of the catalog."""
    fahrenheit: Fraction | None = None
    depth: Fraction | None = None
    """Inches."""
    crew: int | None = None
    allowed_by: str = ""
    """What `net` rests on, as in `StockLine`, or "as installed" where less than nine tenths of what
    was planned was gone and nobody said how much of the work was done; "" on paper, and where an
    older joblog closed the job with what was told used as its net."""


@dataclass(frozen=True, slots=True)
class PastWork:
    """What one closed job took of one task. `crew_hours` are people times hours."""

    job: str
    day: date
    task: str
    quantity: Fraction
    crew_hours: Fraction
    fahrenheit: Fraction | None = None
    depth: Fraction | None = None
    crew: int | None = None


@dataclass(frozen=True, slots=True)
class History:
    """The closed jobs that rates are learned from."""

    uses: tuple[PastUse, ...] = ()
    work: tuple[PastWork, ...] = ()


RateKind = Literal["waste", "hours"]


@dataclass(frozen=True, slots=True)
class Interval:
    """Where a figure lies with probability `level`."""

    level: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Rate:
    """What was learned of one item or task.

    Waste is handling waste as a share of net plus geometric waste (0.06 is six in a hundred);
    hours are crew hours for one unit of the task.
    """

    kind: RateKind
    name: str
    family: str | None
    n: int
    """Jobs of this item or task."""
    counted: float
    """The same after the half-life: what they count for today."""
    mean: float
    interval: Interval
    """Of the rate itself."""
    next_job: Interval
    """Of one new job of the usual size."""
    own: float
    """0 to 1: how much of what was not known before, these jobs settled."""
    source: str


@dataclass(frozen=True, slots=True)
class OddJob:
    """A job far from what its item or task usually takes: kept, and counted for less."""

    kind: RateKind
    name: str
    job: str
    day: date
    value: float
    usual: float
    weight: float
    """0 to 1: what it still counts for."""


@dataclass(frozen=True, slots=True)
class Rates:
    """Everything that was learned, for showing."""

    rates: tuple[Rate, ...] = ()
    odd: tuple[OddJob, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Prediction:
    """What a new job will take: of an item in its own unit, or of a task in crew hours."""

    kind: RateKind
    name: str
    sure: float
    """What is needed whatever happens: net plus geometric waste; 0 for hours."""
    mean: float
    """Of the amounts, those beyond the 95 % interval taken as its ends: no far tail moves it."""
    median: float
    intervals: tuple[Interval, ...]
    """At 50, 80 and 95 %."""
    n: int
    source: str
    equally_likely: tuple[float, ...]
    """A thousand amounts, ascending, each as likely as the next: the whole distribution."""


@dataclass(frozen=True, slots=True)
class OrderCosts:
    """What a mistake costs: a second trip, and each pack left over.

    The trip is counted for each pack missing (the newsvendor's costs), or `once` for all of them.
    """

    second_trip: Decimal
    left_over: Decimal
    once: bool = False


@dataclass(frozen=True, slots=True)
class Order:
    """How many whole packs to order of an item, and what that risks."""

    item: str
    packs: int
    quantity: Fraction
    """In the item's own unit."""
    risk: float
    """The chance of running short that was asked for, or that costs least."""
    chance_short: float
    """The chance of running short that the whole packs leave."""
    left_over: float
    """Expected, in the item's own unit."""
    source: str
    covers: float = 0.0
    """The foreseen amount that is meant to be covered, with what is on hand."""


@dataclass(frozen=True, slots=True)
class BackTest:
    """How well each job would have been predicted from the ones before it."""

    jobs: int
    predictions: int
    coverage: tuple[tuple[float, float], ...]
    """(level, share of the predictions whose interval held what happened)."""
    hours_predictions: int
    hours_coverage: tuple[tuple[float, float], ...]
    costs: tuple[tuple[str, float], ...]
    """(way of ordering, cost), as many left-over packs of one job and item on average."""
    short: tuple[tuple[str, float], ...]
    """(way of ordering, share of the orders that ran short)."""
    left_over: tuple[tuple[str, float], ...]
    """(way of ordering, packs of one order left over on average)."""
    notes: tuple[str, ...] = ()


# --- the bid ------------------------------------------------------------------------------------
# Every sum is exact, to the cent, and is the sum of the lines that are shown under it. What is said
# of chances is a float, and shown as about so much.


@dataclass(frozen=True, slots=True)
class BidPart:
    """A stretch of the work that is priced by itself: what is done at one place."""

    place: str
    """"" where nobody says a place."""
    work: str
    """The kind of work, such as "boxed eave"; the task that goes the longest way where only a plan
    is known; "" for what belongs to no run."""
    feet: Fraction | None = None
    """How long it is; None for what is not measured in feet."""


@dataclass(frozen=True, slots=True)
class BidGround:
    """What stands behind one planned line of a bid: where it goes, and how it may turn out."""

    name: str
    """Of the planned item or task."""
    shares: tuple[Fraction, ...] = ()
    """How much of it goes into each part, in the order of the parts; together 1."""
    chances: tuple[float, ...] = ()
    """Amounts or man-hours, ascending, each as likely as the next; none where nobody knows."""
    jobs: int = 0
    """Closed jobs of it that they were learned from."""
    priced: date | None = None
    """The day on which the price was last said or paid, where that is known."""
    price_source: str = ""
    """Where the price came from, in words; "" where there is none."""


@dataclass(frozen=True, slots=True)
class BidBasis:
    """What a bid is made of before a person changes any number of it."""

    plan: Plan
    parts: tuple[BidPart, ...] = ()
    items: tuple[BidGround, ...] = ()
    """One for each planned item, in their order."""
    tasks: tuple[BidGround, ...] = ()
    notes: tuple[str, ...] = ()
    """What a person should know of it, in words."""
    items_together: float = 0.0
    """How much the items of a job turn out alike: 0 each for itself, 1 all of them."""
    tasks_together: float = 0.0
    """The same of its tasks."""
    other_share: Fraction = Fraction(0)
    """Man-hours at work that belong to no task, for each hour of a task, as on earlier jobs."""
    other_jobs: int = 0
    """How many closed jobs say so."""
    off_before: float = 0.0
    """How far earlier bids were off beyond what their lines said: a standard deviation, as a share
    of the cost."""


@dataclass(frozen=True, slots=True)
class BidItem:
    """A line of material, in the item's own unit.

    quantity = net + offcut + waste; cost = charged x price, to the cent. `charged` is the quantity,
    or the whole packs that hold it where those are charged.
    """

    name: str
    unit: str
    net: Fraction | None
    """What the finished work measures; None where the plan does not part it."""
    offcut: Fraction
    waste: Fraction
    quantity: Fraction
    packs: int
    """How many whole packs hold it."""
    pack: Fraction
    pack_name: str
    whole: bool
    """Whether whole packs are charged."""
    charged: Fraction
    price: Decimal | None
    """Of one of its unit; None where nobody knows."""
    cost: Decimal | None
    source: str = ""
    """Where the waste came from, in words."""
    price_source: str = ""
    priced: date | None = None
    changed: tuple[str, ...] = ()
    """Its numbers that a person set, by their names: "price", "waste"."""
    by_part: tuple[Decimal, ...] = ()
    """The cost, part by part."""


@dataclass(frozen=True, slots=True)
class BidTask:
    """A line of labor. cost = hours x hourly cost, to the cent; `hours` are man-hours."""

    name: str
    unit: str
    amount: Fraction | None
    """How much of `unit` is to be done; None where only hours are planned."""
    hours: Fraction
    hourly_cost: Decimal | None
    """Of one person; None where nobody knows."""
    cost: Decimal | None
    source: str = ""
    changed: tuple[str, ...] = ()
    by_part: tuple[Decimal, ...] = ()

    @property
    def pace(self) -> Fraction | None:
        """Units in a man-hour."""
        return self.amount / self.hours if self.amount and self.hours else None


@dataclass(frozen=True, slots=True)
class BidBeside:
    """A cost beside material and tasks: an expense, all the driving, hours around the work."""

    name: str
    cost: Decimal | None
    """None for miles whose rate nobody said, and hours whose pay nobody said."""
    miles: Fraction | None = None
    hours: Fraction | None = None
    """Man-hours that belong to no task."""


@dataclass(frozen=True, slots=True)
class BidExtra:
    """Work that the customer may have beside the rest, at a price of its own."""

    name: str
    price: Decimal
    taken: bool = False
    """Whether it is in the price already."""


@dataclass(frozen=True, slots=True)
class BidPlace:
    """What the work at one place costs, and what it is charged for before tax."""

    name: str
    cost: Decimal
    price: Decimal


@dataclass(frozen=True, slots=True)
class BidFoot:
    """What a foot of one kind of work costs, and what it is charged for."""

    work: str
    feet: Fraction
    price: Decimal
    """Of all of them."""
    a_foot: Decimal
    """To the cent."""


@dataclass(frozen=True, slots=True)
class BidDriver:
    """What makes the cost of a job uncertain: one item or task."""

    name: str
    share: float
    """Of the variance of the whole cost; all of them together are 1."""
    low: float
    """What it may come to in money: between these with 80 %."""
    high: float
    words: str = ""
    """The same for a person."""


@dataclass(frozen=True, slots=True)
class BidChances:
    """How the job may turn out in money, overhead included; all figures are about so much."""

    intervals: tuple[Interval, ...]
    """Of what the job will cost, at 50, 80 and 95 %."""
    mean: float
    over: float
    """The chance that it costs more than it is charged for."""
    drivers: tuple[BidDriver, ...]
    """What drives it, the strongest first."""
    certain: tuple[str, ...] = ()
    """Lines of which nobody knows how they vary; they are taken as they stand."""


@dataclass(frozen=True, slots=True)
class Bid:
    """What a job is offered for, and how that came about.

    cost = material + labor + beside; all_cost = cost + overhead;
    price = all_cost + margin + rounding + extras that are taken; total = price + tax.
    """

    job: str
    day: date
    """The day that it was made."""
    basis: BidBasis
    said: tuple[tuple[str, str], ...]
    """The numbers that a person set, by their names, as they were typed."""
    items: tuple[BidItem, ...]
    tasks: tuple[BidTask, ...]
    beside: tuple[BidBeside, ...]
    extras: tuple[BidExtra, ...]
    material: Decimal
    labor: Decimal
    besides: Decimal
    """The sum of `beside`."""
    cost: Decimal
    overhead: Decimal
    overhead_share: Fraction | None
    """Of the cost, as it was said; None where a sum was said."""
    all_cost: Decimal
    margin: Decimal
    margin_share: Fraction
    """Of the price before extras and tax, as it comes out to the cent."""
    markup_share: Fraction | None
    """The margin as a share of all cost, which is another number; None where nothing costs."""
    rounding: Decimal
    taken: Decimal
    """Extras that are in the price."""
    price: Decimal
    tax: Decimal
    tax_share: Fraction
    tax_on: Literal["nothing", "material", "all"]
    total: Decimal
    hours: Fraction
    """Man-hours of all tasks."""
    places: tuple[BidPlace, ...]
    feet: tuple[BidFoot, ...]
    chances: BidChances | None
    valid_until: date | None
    mile_rate: Decimal | None
    left_out: tuple[str, ...] = ()
    """What is not included, in the words of the person who bids."""
    lacks: tuple[str, ...] = ()
    """Why it is no bid yet, in words: a price that nobody knows. None where it is whole."""


@dataclass(frozen=True, slots=True)
class BidLoss:
    """Where a job cost more than its bid: how much, of what, and why in words."""

    name: str
    kind: str
    """What it is: "waste", "scope", "offcut", "price", "efficiency", "hours", "rate", "expenses",
    "driving", or "untold" for hours of no task."""
    money: Decimal
    why: str


@dataclass(frozen=True, slots=True)
class BidAgainst:
    """One kind of cost in the bid, and what it really came to."""

    name: str
    bid: Decimal
    real: Decimal | None
    """None where the record does not say."""
    lacks: tuple[str, ...] = ()
    """What the real figure lacks, in words; with any it is at least so much."""


@dataclass(frozen=True, slots=True)
class ExtraTold:
    """Work beside the bid, as it was told on the job."""

    text: str
    price: Decimal | None
    """None where nobody said one."""
    agreed: str = ""
    """Who asked for it or agreed to it, as it was said; "" where nobody said."""


@dataclass(frozen=True, slots=True)
class BidOutcome:
    """What became of a bid. earned = charged - cost; profit = earned - overhead."""

    job: str
    bid_price: Decimal
    extras: Decimal
    """What was charged beside the bid, before tax."""
    charged: Decimal
    lines: tuple[BidAgainst, ...]
    cost: Decimal
    """Of what is known; with `lacks` it is at least so much."""
    earned: Decimal
    overhead: Decimal
    """As it was bid."""
    profit: Decimal
    hoped: Decimal
    """What the bid hoped to earn: its price less its cost."""
    hours: Fraction
    """Man-hours that it took."""
    earned_an_hour: Decimal | None
    feet: Fraction | None
    earned_a_foot: Decimal | None
    losses: tuple[BidLoss, ...]
    """The largest first, at most three."""
    next_time: str
    """What to change, in one sentence."""
    extra_lines: tuple[ExtraTold, ...] = ()
    """The extras that are not in the bid; `extras` is the sum of those that have a price."""
    expenses: Decimal = Decimal("0.00")
    """Spent beside material, as it was told."""
    miles: Fraction = Fraction(0)
    lacks: tuple[str, ...] = ()
    charged_lacks: tuple[str, ...] = ()
    """Why it is not known what was charged."""
    hours_lacks: tuple[str, ...] = ()
    """Why more than `hours` may have been worked."""


@dataclass(frozen=True, slots=True)
class Offer:
    """What a customer is shown of a bid: nothing of cost, hours, margin, waste or overhead."""

    job: str
    day: date
    work: tuple[tuple[str, str], ...]
    """(place, what is done there), in words."""
    places: tuple[tuple[str, Decimal], ...]
    """What is asked for at each place, before tax; none where one price is asked for all."""
    taken: tuple[tuple[str, Decimal], ...]
    """Extras that are in the price."""
    price: Decimal
    tax: Decimal
    tax_words: str
    total: Decimal
    options: tuple[tuple[str, Decimal], ...]
    """Extras that are not in it, each with its price."""
    left_out: tuple[str, ...]
    valid_until: date | None


# --- what jobs earned, over all of them -----------------------------------------------------------
# A figure that the record does not settle is None, with its reason in `lacks`, and is in no sum.


@dataclass(frozen=True, slots=True)
class JobResult:
    """One closed job beside its bid, in the figures that are compared over jobs."""

    day: date
    """The day that it was closed for."""
    job: str
    house: str
    """Whose house it is, as far as the name of the job says."""
    season: str
    crew: int | None = None
    charged: Decimal | None = None
    """Before tax, extras too."""
    cost: Decimal | None = None
    earned: Decimal | None = None
    """Before overhead."""
    hours: Fraction | None = None
    """Man-hours, those of no task too."""
    hours_bid: Fraction | None = None
    feet: Fraction | None = None
    material: Decimal | None = None
    """What the material that is gone cost."""
    material_bid: Decimal | None = None
    gone: Decimal | None = None
    """What went of the items that were counted and priced, at what they cost; the next two are
    parts of it."""
    wasted: Decimal | None = None
    unexplained: Decimal | None = None
    items: int = 0
    """Items of the job that any of was told."""
    items_counted: int = 0
    """Those of them that are in `gone`."""
    extras: Decimal | None = None
    """Charged beside the bid."""
    expenses: Decimal | None = None
    miles: Fraction | None = None
    lacks: tuple[tuple[str, str], ...] = ()
    """(figure, why it is not known): the figure by its name here."""


@dataclass(frozen=True, slots=True)
class JobFigure:
    """A sum over jobs, or a share or rate made of two such sums."""

    name: str
    value: Fraction | None
    """None where no job tells it."""
    jobs: int
    """How many jobs stand behind it."""


@dataclass(frozen=True, slots=True)
class JobGroup:
    """Jobs that have something in common, and what they came to together."""

    by: Literal["all", "season", "crew", "house"]
    name: str
    jobs: tuple[str, ...]
    figures: tuple[JobFigure, ...]


@dataclass(frozen=True, slots=True)
class JobTrend:
    """Where a figure goes from job to job."""

    name: str
    jobs: int
    first: date | None = None
    last: date | None = None
    change: float | None = None
    """From the first of the jobs to the last; None where it cannot be told."""
    low: float | None = None
    """The change lies between these with 95 %."""
    high: float | None = None
    sure: bool = False
    """Whether that is up, or down, throughout."""


@dataclass(frozen=True, slots=True)
class OverJobs:
    """All closed jobs beside their bids, the oldest first."""

    results: tuple[JobResult, ...] = ()
    groups: tuple[JobGroup, ...] = ()
    """All together first; then by season, crew, house."""
    trends: tuple[JobTrend, ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()
    """Jobs that are not among them: (job, why)."""
