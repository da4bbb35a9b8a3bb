"""Words and patterns of quantities, lengths, areas and pitches."""

from __future__ import annotations

DIMENSIONS: dict[str, str] = {
    "length": "length, long, run, runs, span, cut length",
    "depth": "depth, deep, overhang depth, depths",
    "width": "width, wide",
    "height": "height, high, tall",
    "rise": "rise",
    "reveal": "reveal, reveals",
    "overhang": "overhang, overhangs",
    "spacing": "spacing, on center, on centers, centers, center to center, oc",
    "gap": "gap, gaps, gap is",
}
"""What the words of DIMENSION and ABOUTIT say that a measure is of."""

WORDS: dict[str, str] = {
    "UNIT": "sheet, sheets, stick, sticks, box, boxes, roll, rolls, bundle, bundles, tube, "
    "tubes, pair, pairs, gallon, gallons, gal, pound, pounds, lb, lbs, square, squares, square "
    "feet, square foot, sq ft, piece, pieces, length, lengths, each, linear feet, running feet, "
    "feet, foot, ft, panel, panels, strip, strips, board, boards, bag, bags, pail, pails, can, "
    "cans, case, cases, pallet, pallets, crate, crates, carton, cartons, quart, quarts, pint, "
    "pints, jug, jugs, cartridge, cartridges, spool, spools, load, loads, truckload, truckloads, "
    "skid, skids, pack, packs, package, packages, packet, packets, pcs, half gallon, half "
    "gallons, lift, lifts, stack, stacks, ounce, ounces, coils, offcut, offcuts, cutoff, cutoffs",
    "OFFCUT": "offcut, offcuts, cutoff, cutoffs",
    "DOZEN": "dozen",
    "COUPLE": "couple, couple of, a couple, a couple of, a couple more, couple more",
    "VAGUE": "a few, several, some, a bunch, a bunch of, a lot of, lots of, many, a handful of, "
    "most of, a few more, some more, a mess of, a mess, a pile of, plenty of, loads of, tons of, "
    "a stack of",
    "AREA": "square feet, square foot, sq ft",
    "SQUAREINCH": "square inch, square inches, sq in",
    "SQUARE": "square, squares",
    "NONE": "no, none, zero, nothing, no more",
    "ABOUT": "about, around, roughly, maybe, almost, nearly, approximately, approx, close to, "
    "just under, just over, give or take, like, probably, i think, i guess, say, somewhere "
    "around, a little over, a little under, in the neighborhood of, at least, at most, more "
    "than, less than, over, under, not sure, better than, upwards of, nearly about, somewhere "
    "near, not quite, a touch over, a touch under, just shy of, i don't know, i dunno, call it "
    "about, a hair over, a hair under, just a hair over, just a hair under, a bit over, a bit "
    "under, i'd guess, i'd say, i would say, i wanna say, i want to say, i'm guessing, the "
    "better part of, better part of, the best part of",
    "ORSO": "or so, ish, give or take, more or less, i think, i guess, roughly, maybe, about, or "
    "thereabouts, probably, if that, a hair over, a hair under, a bit over, a bit under",
    "OR": "or, to",
    "CLAUSE": "and, but, so, okay, ok, alright, because, cause, anyway, anyhow, and then, then, "
    "now, all right, oh, before i close this up, about to cover, going to cover, before i cover, "
    "before it's covered, before we close, before she gets buried, before i close, before i "
    "seal, before i wrap, before we cover, before we wrap, before we seal, before i button, "
    "before i hide, before i box, before i bury, before i put the, before we put the, before i "
    "hang the, before we hang the",
    "COLOR": "white, black, brown, almond, bronze, gray, grey, green, red, blue, clay, sand, "
    "cream, tan, dark, new, old, good, full, whole, more, extra, other, vented, solid, all, of "
    "them, last, remaining, big, long, short, those, spare, single, fresh, brand new, beige, "
    "ivory, odd, assorted, matching, prefinished, mill, perforated, lonely, measly, lousy, "
    "stinking, decent, of those, of these",
    "INCH": "inch, inches",
    "FOOT": "foot, feet, ft",
    "METRIC": "millimeter, millimeters, millimetre, millimetres, mm, centimeter, centimeters, "
    "centimetre, centimetres, cm, meter, meters, metre, metres, yard, yards, mil, mils",
    "HEAVY": "heavy, strong, full, plus, fat, a hair heavy, a hair strong, a bit heavy, a little "
    "heavy, a tad heavy, a heavy, a strong, a full, a fat, big, a big",
    "LIGHT": "light, shy, scant, minus, a hair light, a hair shy, a bit light, a little light, a "
    "tad light, a bit shy, weak, a light, a scant, shy of, a shy, a hair short, scant of, a tad "
    "shy",
    "OFF": "over, under, shy of, past, short of, less than, off of",
    "LESS": "less, minus, take off, take away, plus",
    "EXACT": "exactly, even, on the money, on the nose, dead on, right on, flat, on the dot, on "
    "the button, square, dead even, on the head",
    "SOFTLY": "and change, and a bit, and a hair, a hair, and some, and a little",
    "DIMENSION": "on center, on centers, center to center, oc, reveals, "
    "tape says, tape reads, width, height, depth, length, run, rise, span, overhang "
    "depth, reveal, gap, offset, spacing, clearance, thickness, measurement, measure, measures, "
    "measured, reads, distance, opening, size, deep, wide, high, long, tall, need a cut at, cut "
    "at, cut length, mark, rip at, runs, overhang, step, jog, total, needs to be, has to be, "
    "drops to, goes to, it drops to, comes in at, checks at, came out to, out to out, in the "
    "clear, gap is, projection, drop, lap, goes, it goes, steps to, opens to, we're at, i'm at, "
    "it's at, come to, came to, cut them at, cut it at, cut it to, across, end to end, corner to "
    "corner, side to side, this end, that end, far end, near end, at the far end, at the near "
    "end, first one, second one, third one, next one, last one, one end, other end, the other "
    "end, each end, i make it, i'd call that, call that, has it at, came out at, measures out "
    "at, measures out to, taped at, tapes at, tapes out at, i'm getting, i'm reading, reading, "
    "the tape, on the tape, reading is, it measures, taped, works out to, wants to be, short "
    "side, long side, short end, long end, short leg, long leg, i have, we have, i need, i show, "
    "showing, i've got, tape is reading, tape is at, tape is on, tape shows, tape is showing, "
    "laser says, laser reads, reads out, gonna be, going to be, will be, it'll be, that'll be, "
    "gotta be, has got to be, got to be, coming in at, ought to be, oughta be, should be cut to, "
    "needs to be cut to, has to be cut to, wants cutting at, each of them",
    "NAMEDDIMENSION": ", ".join(DIMENSIONS.values()),
    "CAMEIN": "came in, comes in, came up",
    "ABOUTIT": "gap, opening, height, width, depth, length, reveal, overhang, rise, span, "
    "thickness, distance, measurement, size, row, course, depths, cut, piece",
    "CUT": "cut me, cut, cutting, rip, make, cut up, mark, chop, ripping, ripped, cut out, need, "
    "give me, gimme, cut list, run, run me, i want, want, do, saw, saw me, i need, we need, "
    "i'll need, we'll need, rip it, rip it to, make me, cut me out, need you to cut, "
    "can you cut me, can you cut",
    "PIECEWORD": "piece, pieces, length, lengths, strip, strips, panel, panels, sheet, sheets, "
    "stick, sticks, cuts, pcs, board, boards, blocks, block, rips, patches, fillers, filler, "
    "blanks, count",
    "QUANTITY": "quantity, qty, count of, quantity of",
    "PITCHWORD": "pitch, slope, roof pitch, pitch is, slope is, pitch of, a pitch of, rise",
    "ROOF": "roof, gable, rake, west gable, pitch, slope, hip, dormer",
}

SHAPES: dict[str, str] = {
    "VALUE": "( MIX | NUM | FRAC )",
    "INCHES": "( MIX | NUM | FRAC ) INCH?",
    "FEET": "( MIX | NUM | a ) FOOT ( ( AND | nothing )* ( MIX | NUM | FRAC ) ( of an )? INCH? )?",
    "LONG": "NUM oh? ( MIX | NUM ) INCH?",
    "LENGTH": "ABOUT? ( HEAVY | LIGHT )? ABOUT? ( FEET | NUM AND? ( HEAVY | LIGHT ) FRAC INCH? "
    "| ( MIX | NUM ) INCH? LESS ( NUM | FRAC ) ( of an INCH )? | NUM INCH AND FRAC "
    "| FRAC ( of an INCH )? OFF ( MIX | NUM ) INCH? | VALUE METRIC ( AND? VALUE METRIC? )? | "
    "FRAC of? ( a | an ) INCH | LONG | INCHES "
    "| ( a | an )? INCH ( AND FRAC )? ) "
    "( ORSO | AND? ( it's | that's | is )? ( HEAVY | LIGHT ) ( FRAC ( of an INCH )? )? | EXACT "
    "| SOFTLY )? ORSO?",
    "COUNT": "( all | the | LASTOF | leftover | unused | spare | my | our )* last? ABOUT* "
    "( FRAC a? DOZEN | ( NUM | a | another | COUPLE )? "
    "DOZEN ( AND FRAC )? | MIX "
    "| NUM OR NUM | another? NUM "
    "| FRAC of? ( a | an )? | COUPLE | BOTHOF | ONEMORE | AFULL | LASTOF | VAGUE | a | an | "
    "another | "
    "NONE )",
    "SIZE": "( ( MIX | NUM | FRAC | an | a )? ( INCH | FOOT ) ( AND FRAC )? | NUM by NUM | FRAC )",
    "PIECES": "n=( NUM | a pair | a | a DOZEN | COUPLE | ONEMORE ) COLOR* SIZE? "
    "( i=ITEM? ( PIECEWORD | OFTHEM )+ | PIECEWORD of? ARTICLE* ITEM )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    (
        "measure",
        "( DIMENSION | CAMEIN at )* ( is | at | of | was )? m=LENGTH DIMENSION* ( times n=NUM )? "
        "( for ( the | a )? i=ITEM )?",
    ),
    ("measure", "i=ITEM DIMENSION* ( is | at | was )? m=LENGTH ( times n=NUM )?"),
    ("second side", "by m=LENGTH DIMENSION+"),
    (
        "measure",
        "( CUT | NEED )? PIECES ( at | to | by | of | CUTTO | DOWNTO )? m=LENGTH each? DIMENSION*",
    ),
    ("measure", "CUT? n=NUM COLOR* i=ITEM m=MIX INCH?"),
    ("measure", "PIECEWORD of i=ITEM CUTTO m=LENGTH"),
    ("position", "at p=( ( NUM | MIX ) FOOT ) ( it's | is | DIMENSION )*"),
    ("about it", "ABOUTIT ( is | at | here )*"),
    ("measure", "CUT n=NUM ( at | of | to ) m=LENGTH"),
    ("measure", "CUT n=NUM m=MIX INCH?"),
    ("measure", "CUT i=ITEM? ( at | to )? m=LENGTH ( times n=NUM )?"),
    ("measure", "CUT? n=NUM COLOR* SIZE? i=ITEM ( of | at | to | by | CUTTO ) m=LENGTH"),
    (
        "measure",
        "CUT? n=( NUM | a pair | ONEMORE | COUPLE | a DOZEN ) more? ( at | of ) m=LENGTH i=ITEM?",
    ),
    ("measure", "CUT? n=( NUM | COUPLE ) each at m=LENGTH"),
    ("measure", "CUT? n=( a DOZEN | COUPLE ) COLOR* SIZE? i=ITEM ( of | at | to | by ) m=LENGTH"),
    ("measure", "( CUT | NEED ) ABOUT? n=NUM OFTHEM i=ITEM ( at | of | to ) m=LENGTH"),
    ("measure", "QUANTITY n=NUM COLOR* i=ITEM? ( of | at )? m=LENGTH"),
    ("measure", "m=LENGTH QUANTITY n=NUM"),
    (
        "pieces",
        "AND? ( CUT | NEED )* n=( NUM | COUPLE | a DOZEN | ONEMORE ) ( OFTHEM | PIECEWORD )",
    ),
    ("pieces", "make n=NUM"),
    ("measure", "m=INCHES"),
    ("measure", "call the? p=WHERE DIMENSION* m=LENGTH"),
    ("measure", "m=( MIX ( FOOT | INCH )? | NUM FOOT AND? ( MIX | NUM | FRAC ) INCH? ) i=ITEM"),
    ("measure", "m=LENGTH n=NUM ( times | pieces | OFTHEM )"),
    (
        "area",
        "( CUT? PIECES ( at | of )? )? DIMENSION* i=ITEM? ( is | of )? m=LENGTH by k=LENGTH "
        "( for ( the | a )? i=ITEM )?",
    ),
    (
        "area",
        "( i=ITEM ( is | was )? | DIMENSION )* s=( VALUE | NUM NUM ) "
        "( AREA | q=SQUARE | v=SQUAREINCH )",
    ),
    ("area", "( i=ITEM ( is | was )? | DIMENSION )* a q=SQUARE ( AND h=FRAC )?"),
    ("pitch", "PITCHWORD ( is | a | an )* r=NUM ( ( in | over | on | AND )? o=NUM )?"),
    ("pitch", "( a | an )? r=( NUM | MIX ) ( in | over | on )? o=NUM PITCHWORD"),
    ("pitch", "( a | an )? r=( NUM | MIX ) ( in | over ) o=NUM"),
    ("pitch", "ROOF? ( is | PITCHWORD )* ( a | an ) r=NUM o=NUM"),
    ("pitch", "ROOF ( is | PITCHWORD )* r=NUM o=NUM"),
    ("pitch", "PITCHWORD? ( is | a | an )* t=TWELFTHS PITCHWORD?"),
    ("range", "DIMENSION* a=LENGTH OR b=LENGTH"),
    ("range", "between a=LENGTH AND b=LENGTH"),
)
