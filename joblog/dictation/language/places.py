"""Words and patterns of places, and of what belongs to the fact beside it."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "MANY": "sticks, sheets, rolls, boxes, tubes, bundles, pieces, lengths, panels, strips, "
    "boards, pounds, squares, gallons",
    "COMPASS": "north, south, east, west, northeast, northwest, southeast, southwest, north "
    "east, north west, south east, south west, front, rear",
    "SIDE": "north, south, east, west, northeast, northwest, southeast, southwest, north east, "
    "north west, south east, south west, front, back, rear, left, right, upper, lower, inside, "
    "outside, garage, main, street, left hand, right hand, second, first, third, top, bottom, "
    "kitchen, bedroom, bathroom, porch, house, both, each, either, far, near, lower left, upper "
    "left",
    "PART": "windows, doors, rafters, corners, wall, eave, eaves, gable, corner, rake, "
    "ridge, valley, roof, window, door, porch, dormer, side, end, elevation, bay, peak, frieze, "
    "ceiling, deck, chimney, garage, shed, addition, entry, hip, section, bump out, picture "
    "window, bay window, garage door, front door, back door, story, stairs, steps, driveway, "
    "breezeway, sill, soffits, top, bottom, middle, center, edge, posts, studs, beam, vent, "
    "shutters, carport, patio, landing, basement, foundation, gables, rakes, peaks, dormers, "
    "walls, jamb, threshold, header, lintel, railing, entryway, sunroom, mudroom, loft, attic, "
    "rafter, joist, joists, stud, rafter tails, column, columns, band, skirt, water table, up "
    "top, down low, up high, sides, ends, returns, eave return, gable return, cheek, chase, "
    "ledger, lid, slider, skylight, cupola, return, sliding door, patio door, entry door, "
    "bathroom, kitchen, floor, partition",
    "BIGPART": "carport, breezeway, porch, garage, dormer, chimney, gable, roof, deck, shed, "
    "addition, entry, mudroom, patio, sunroom, driveway, bump out, slider, front door, back "
    "door, garage door, cupola",
    "MINOR": "end, corner, peak, valley, ridge, side, edge, section, bottom, top, middle, rake, "
    "row, course",
    "BESIDE": "over by, over, above, below, under, underneath, beneath, behind, beside, next to, "
    "left of, right of, to the left of, to the right of, past, by, near, around, alongside, just "
    "past, just left of, just right of, across from, right by, right next to, just above, just "
    "below, just under, right above, right below, right under, right over, just over, opposite, "
    "opposite of",
    "BETWEEN": "between, in between",
    "IN": "on, at, in, for, along, from, to, onto, off, up to, across, all along, all over, to "
    "finish, to do, to complete, to block, to get around, to trim out, to close "
    "in",
    "WHEN": "weekend, the weekend, monday, tuesday, wednesday, thursday, friday, saturday, "
    "sunday, easter, christmas, thanksgiving, winter, spring, summer, night, month, end of the "
    "day",
    "BECAUSE": "because, because of, due to, in, by, on, off, from, when, while, during, with, "
    "at, against, under, after, trying, going, out of, it, the, wrong, too, cause",
    "WHY": "because, because of, due to, on account of, too much, too, cause",
}

SHAPES: dict[str, str] = {
    "CORE": "( SPOT | COMPASS+ ( ITEM | PART )* | OTHER? SIDE+ ( ITEM | PART )+ | OTHER? PART+ )",
    "NEARBY": "( CORE | SIDE* ITEM | ( SIDE | EQUIPMENT )* OTHER ( OTHER | PIECEWORD | UNIT )? "
    "| EQUIPMENT )",
    "SPAN": "( from ARTICLE* NEARBY to ARTICLE* NEARBY | PART to ARTICLE* PART )",
    "PAIR": "BETWEEN ( ARTICLE* NUM? CORE | ARTICLE NUM? NEARBY ) ( AND the? NEARBY )?",
    "WHERE": "( SPAN | PAIR | SIDE of the? CORE | ( ( BESIDE THAT* )? CORE | BESIDE THAT "
    "NEARBY ) "
    "( ( of | from ) the? ( CORE | SIDE ) )? "
    "( BESIDE the? ( CORE | ITEM ) | PAIR )? ( on the SIDE side )? )",
    "NAMED": "( IN the SIDE* BIGPART | SPOT ( BESIDE the? NEARBY | PAIR )? | BESIDE the SIDE* ( "
    "ITEM | PART )+ "
    "( of the CORE )? | ( BESIDE the? | MINOR of the? )? SPOT "
    "| SIDE+ ( ITEM | PART )+ ( of the CORE )? | PAIR )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    (
        "place",
        "( ( up | over | down | out | back )? IN )? OUR? p=WHERE "
        "( is | are | measures | measured | reads | was )?",
    ),
    ("numbered place", "p=( PART number? NUM )"),
    ("place", "at the p=ITEM"),
    ("subject", "( the | all )? MANY of ( the | that )? i=ITEM"),
    ("subject", "( the | all )? i=ITEM ( DIMENSION | WAS | is )*"),
    ("crew", "CREW ( today | here )?"),
)
