"""Words and patterns of material that is carried between jobs, or out of and into the shop."""

from __future__ import annotations

WORDS: dict[str, str] = {
    # No phrase of two words that no other table has: it would no longer be read as two elsewhere.
    "CARRIES": "moved, carried, hauled, took, brought, sent, ran, lent, loaned, gave, transferred, "
    "shifted, trucked, drove, borrowed, swiped, grabbed, got, fetched, pulled, stole, robbed, "
    "carted, lugged, brought over, sent over, hauled over, brought out, brought in, brought by, "
    "brought home, sent out, carried back, took back, brought back, sent back, hauled back, went "
    "back, came, went, went over, came in, got in, dropped off, moving, taking, bringing, sending, "
    "hauling, carrying, borrowing, had, picked up, loaded, loaded up, transferring, lend, move, "
    "transfer, got delivered, delivered, taken, taken back, unloaded",
    "PUTSBACK": "put, put the, threw, stuck, loaded, tossed, set, left, stacked, stored, packed, "
    "took, brought, carried, hauled, moved",
    "THISWAY": "back, over, out, up, down, along, here, in, across, now, today, home",
    "INTO": "to, into, onto",
    "OUTFROM": "from, out of, off",
    "JOBWORD": "job, jobs, jobsite, project",
    "HOUSEWORD": "house, place, site, home",
    "SHOPWORD": "shop, stock, warehouse, storage, barn, workshop, in stock, inventory",
    "RIDEWORD": "truck, van, trailer, pickup",
    "OWNROOM": "garage, shed, basement, carport",
    "INRIDE": "in the truck, in the trailer, in the van, in the pickup, in stock, back on the "
    "truck",
    "LEFTINRIDE": "left in the truck, left in the trailer, left on the truck",
}

SHAPES: dict[str, str] = {
    "NAMEOFJOB": "( OTHER | SIDE | PART | SPOT | ITEM | COLOR | LASTOF | ORDINAL | NUM | MIX | "
    "EQUIPMENT | COMPASS | the | my | our | that | this )+",
    "JOBEND": "e=( NAMEOFJOB ( JOBWORD | HOUSEWORD ) )",
    "SHOPEND": "( the | my | our )* s=SHOPWORD",
    "OWNEND": "( my | our ) s=( OWNROOM | RIDEWORD )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    (
        "carried",
        "v=CARRIES AMOUNT THISWAY* ( t=INTO | f=OUTFROM ) "
        "( JOBEND | SHOPEND | OWNEND | e=NAMEOFJOB )",
    ),
    ("carried", "v=CARRIES e=NAMEOFJOB t=JOBWORD AMOUNT"),
    (
        "carried",
        "AMOUNT WAS* v=CARRIES? THISWAY* ( t=INTO | f=OUTFROM ) ( JOBEND | SHOPEND | OWNEND )",
    ),
    ("carried", "y=USED AMOUNT THISWAY* f=OUTFROM ( JOBEND | SHOPEND | OWNEND )"),
    ("carried", "v=PUTSBACK the? AMOUNT ( left | THISWAY )* t=( INTO | IN ) ( SHOPEND | OWNEND )"),
    (
        "carried",
        "v=PUTSBACK the? AMOUNT ( left? back t=INTO ( the | my | our )* s=RIDEWORD "
        "| left? back? s=INRIDE | s=LEFTINRIDE )",
    ),
)
