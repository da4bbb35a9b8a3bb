"""Words and patterns of a walk around a house: corners, openings, what interrupts an eave."""

from __future__ import annotations

WORDS: dict[str, str] = {
    # Read as one only where a corner is turned: see `turns.py`.
    "TURN": "outside corner, inside corner",
    "ALLAROUND": "all the way around, all the way round, that's all the way around, that's all the "
    "way round, that's the whole way around, back where i started, back to where i started, back "
    "where we started, back to where we started, back at the start, back where i began, that "
    "closes it, that closes it up, that closes the house, that's the whole house, around to where "
    "i started, that's all four sides",
    "WALKVERB": "starts, begins, ends, stops, runs, dies, butts",
    "OPENINGWORD": "window, windows, picture window, bay window, door, doors, front door, back "
    "door, garage door, patio door, sliding door, entry door, slider, sliders, vent, vents",
    "VENTWORD": "vent, vents",
    "WINDOWWORD": "window, windows, picture window, bay window",
    "INTERRUPTS": "interrupts, interrupt, interrupting, interrupts it, interrupts that, "
    "interrupts this, is in the way of it",
    "INTERRUPTED": "interrupted, it's interrupted, gets interrupted, is interrupted",
    "WINGWORD": "wing, ell, annex",
    "WALKWORD": "corner, window, windows, door, doors, vent, opening, side",
}

SHAPES: dict[str, str] = {
    "ONESIDE": "( FEET | NUM oh | NUM NUM | ( MIX | NUM ) INCH? )",
    "INTHEWAY": "( ( SIDE | PART | OTHER | SPOT | ITEM | EQUIPMENT )+ )",
    "WALL": "( SIDE | PART | SPOT | HOUSEWORD | OTHER )+",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    ("corner", "( AND | then | ARTICLE | another )* c=TURN ( there | here )?"),
    ("corner", "r=ALLAROUND"),
    (
        "corner",
        "( the walk | it )? e=WALKVERB ( up | in | out )? ( at | into | against | from | to )+ "
        "ARTICLE? WALL",
    ),
    ("corner instead", "( SO | INSTEAD | SHOULDBE )+ ARTICLE? c=TURN"),
    ("corner instead", "SO* not ARTICLE? ( inside | outside ) SO* ARTICLE? d=( inside | outside )"),
    (
        "corner instead",
        "SO* ARTICLE? ( c=TURN | d=( inside | outside ) ) not ARTICLE? ( inside | outside )",
    ),
    ("drop walked", "SLIP* TAKEBACK ( the | LAST | last | that )* w=WALKWORD"),
    (
        "top",
        "( it's | that's | is | with | ARTICLE )* ( t=( gable ( end | wall | side )? | hip end? "
        "| eave side? ) | o=open ( at the | up | on )* top? )",
    ),
    (
        "place",
        "OUR? p=( ( BIGPART | WINGWORD ) ( COMPASS | left | right | back ) ) ( is | measures )?",
    ),
    (
        "wall opening",
        "( n=( NUM | a | an | ONEMORE | COUPLE ) )? ( SIDE | OTHER | gable )* "
        "o=( OPENINGWORD | ITEM ) ( is | are )? a=ONESIDE by b=ONESIDE ( at x=LENGTH )?",
    ),
    (
        "wall opening",
        "( n=( NUM | a | an | COUPLE ) )? a=ONESIDE by b=ONESIDE ( SIDE | OTHER )* o=OPENINGWORD",
    ),
    (
        "interruption",
        "( AND | ARTICLE )* w=INTHEWAY INTERRUPTS it? ( the? ( SIDE | PART | SPOT )+ )? "
        "from a=LENGTH to b=LENGTH",
    ),
    (
        "interruption",
        "INTERRUPTED by ARTICLE? w=INTHEWAY from a=LENGTH to b=LENGTH",
    ),
    (
        "interruption",
        "INTERRUPTED from a=LENGTH to b=LENGTH by ARTICLE? w=INTHEWAY",
    ),
)
