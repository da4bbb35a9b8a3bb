"""The language of the ladder, as tables. A new phrase is one more line here.

WORDS    classes of words and phrases; a word may stand in several.
SHAPES   named pieces of a sentence, built of classes and other shapes.
SENTENCES what a stretch of words can mean: (meaning, pattern).

Patterns are read word by word. `CLASS` any word or phrase of a class, or a shape; `word` that
very word; `?` maybe, `*` any number, `+` one or more, `( a | b )` either; `name=X` keeps what X
matched for the builder of that meaning (in `meanings.py`). `...` is any words up to the next
cue; `......` any words to the end; `..` one or more words that are no number. NUM is a whole
number, MIX a whole with a fraction, FRAC a fraction alone, CLOCK "7:30"; ITEM a spoken name of
the catalog, SPOT a place of the job; OTHER any word that is in no table.
"""

from __future__ import annotations

WORDS: dict[str, str] = {
    # one entry a line: words and "phrases of several words", separated by commas
    "FILLER": "um, uh, er, ah, okay, ok, so, then, well, please, just, now, alright, all right, "
    "i, we, i've, we've, you know, yeah, the, also, plus, total, today, got, that's, that is, "
    "there's, there is, there are, it's, it is, to, of",
    "AND": "and, n, comma",
    "ARTICLE": "a, an, the, another, this, that, these, those, some, my, our",
    # --- quantities
    "UNIT": "sheet, sheets, stick, sticks, box, boxes, roll, rolls, bundle, bundles, tube, tubes, "
    "pair, pairs, gallon, gallons, gal, pound, pounds, lb, lbs, square, squares, square feet, "
    "square foot, sq ft, piece, pieces, length, lengths, each, linear feet, running feet, feet, "
    "foot, ft, panel, panels, strip, strips, board, boards, bag, bags, pail, pails, can, cans, "
    "case, cases",
    "DOZEN": "dozen",
    "COUPLE": "couple, couple of, a couple, a couple of",
    "VAGUE": "a few, several, some, a bunch, a bunch of, a lot of, lots of, many, a handful of",
    "AREA": "square feet, square foot, sq ft",
    "NONE": "no, none, zero, nothing",
    "ABOUT": "about, around, roughly, maybe, almost, nearly, approximately, approx, close to, "
    "just under, just over, give or take, or so, ish, like, probably, i think, i guess, say, "
    "somewhere around, a little over, a little under, "
    "at least, at most, more than, less than, over, under, not sure",
    "COLOR": "white, black, brown, almond, bronze, gray, grey, green, red, blue, clay, sand, "
    "cream, tan, dark, new, old, good, full, whole, more, extra, other, of the, vented, solid",
    # --- lengths
    "INCH": "inch, inches",
    "FOOT": "foot, feet, ft",
    "METRIC": "millimeter, millimeters, mm, centimeter, centimeters, cm, meter, meters, "
    "yard, yards",
    "HEAVY": "heavy, strong, full, plus, fat, a hair heavy, a hair strong, a bit heavy, "
    "a little heavy, a hair over, a tad heavy",
    "LIGHT": "light, shy, scant, minus, a hair light, a hair shy, a bit light, a little light, "
    "a hair under, a tad light, a bit shy, weak",
    "EXACT": "exactly, even, on the money, on the nose, dead on, right on, flat, on the dot",
    "SOFTLY": "and change, and a bit, and a hair, a hair, ish, or so, give or take",
    "DIMENSION": "width, height, depth, length, run, rise, span, overhang depth, reveal, gap, "
    "offset, spacing, clearance, thickness, measurement, measure, measures, measured, reads, "
    "distance, opening, size, deep, wide, high, long, tall, need a cut at, cut at, cut length, "
    "mark, rip, rip at, put down, write down, cut it at, cut them at",
    "CUT": "cut, cutting, rip, cut me, need, make, cut up",
    "PIECEWORD": "piece, pieces, length, lengths, strip, strips, panel, panels, sheet, sheets, "
    "stick, sticks, cuts, pcs, board, boards",
    "PITCHWORD": "pitch, slope, roof pitch, pitch is, slope is, pitch of, a pitch of",
    # --- materials
    "USED": "used, use, using, put up, put in, hung, installed, nailed up, went up, placed, "
    "went through, used up, ran, we used, i used, set",
    "SPOIL": "scrapped, spoiled, wasted, ruined, threw out, threw away, thrown out, lost, tossed, "
    "cracked, broke, broken, bent, dented, scratched, split, damaged, chipped, torn, ripped, "
    "warped, cut wrong, cut short, cut too short, miscut, dropped, scrap, bad, no good, "
    "snapped, shattered, botched, junk, junked, kinked, trashed, garbage, wrecked",
    "DELIVER": "delivered, delivery of, delivery, received, picked up, dropped off, unloaded, "
    "brought, bought, brought in, came, arrived, came in, showed up, on the truck, got in, "
    "got delivered, took delivery of, loaded",
    "RETURN": "returned, return, took back, sent back, brought back, taken back, "
    "going back, went back, returning",
    "LEFTOVER": "left, left over, leftover, remaining, on hand, still here, still on site, "
    "in the truck, in the trailer, remain, over",
    "COUNTED": "counted, count, on hand, have, still have, we have, i have, there is, there are, "
    "there's, inventory, got left, left with, left over, leftover",
    "OUTOF": "out of, ran out of, all out of, no more",
    "NEED": "need, needs, need to get, need to order, order, still need, short, missing, "
    "we need, i need, have to get, pick up, buy, needed, will need, going to need, bring",
    "WAS": "is, are, was, were, got, get, been, be, has, have, all, came, came in",
    "EACH": "each, apiece, a piece, per, every",
    "MONEY": "dollar, dollars, bucks, cent, cents",
    # --- time and labor
    "START": "started, start, starting, began, begin, on site, arrived, got here, clocked in, "
    "here, got started, starting work, start work, started work, on the job, got to work",
    "STOP": "stopped, stop, finished, finish, quit, knocked off, done, done for the day, "
    "called it a day, left, heading home, packed up, off site, clocked out, quitting, all done, "
    "finished up, end of day, stopping, wrapping up, going home, stopped work",
    "BREAK": "lunch, break, coffee, coffee break, lunch break, dinner, rain delay, downtime, "
    "down time, waited, waiting, took lunch, took a break, had lunch, breakfast",
    "HOURWORD": "hour, hours, hrs, hr, man hours, crew hours",
    "MINUTE": "minute, minutes, min, mins",
    "OCLOCK": "o'clock, oclock, sharp",
    "AM": "am, a m, this morning, in the morning, morning",
    "PM": "pm, p m, this afternoon, in the afternoon, afternoon, in the evening, tonight",
    "NOON": "noon, midday, midnight",
    "PAST": "past, after",
    "TO": "to, till, til, before, of",
    "HELPER": "helper, helpers, apprentice",
    "MEN": "man, men, guy, guys, people, workers, hands, of us, man crew",
    "ALONE": "alone, by myself, myself, just me, on my own, solo",
    "WORKED": "worked, working, spent, put in, took",
    # --- places
    "SIDE": "north, south, east, west, northeast, northwest, southeast, southwest, north east, "
    "north west, south east, south west, front, back, rear, left, right, upper, lower, inside, "
    "outside, garage, main, street, left hand, right hand, second, first, third, top, bottom, "
    "kitchen, bedroom, bathroom, porch, house",
    "PART": "wall, eave, eaves, overhang, gable, corner, rake, ridge, valley, roof, window, door, "
    "porch, dormer, side, end, elevation, bay, peak, return, frieze, ceiling, deck, chimney, "
    "garage, shed, addition, entry, hip, run, section, bump out",
    "IN": "on, at, in, for, along, around, above, below, over, by, near, behind, under, from, "
    "to, onto, up on, over on, off",
    "BECAUSE": "because, because of, due to, in, by, on, off, from, when, while, during, with, "
    "at, against, under, after, trying, going, out of, it, the, wrong, too",
    # --- the rest of a working day
    "DEGREES": "degrees, degree, degrees fahrenheit, above",
    "SKY": "cold, hot, warm, windy, rain, raining, rainy, snow, snowing, wind, sunny, sun, cloudy, "
    "overcast, clear, frost, freezing, humid, wet, dry, cool, storm, foggy, fog, gusty, drizzle, "
    "sleet, calm, muggy, chilly, icy",
    "WEATHER": "weather, temperature, temp, the weather is, it's, it is, outside",
    "COVER": "covered, covering, about to cover, going to cover, closing up, closed up, closing, "
    "buried, burying, hiding, hidden, sealed up, about to close, about to be covered, "
    "covering up, covered up, boxed in, boxing in",
    "TROUBLE": "problem, problem with, trouble, issue, careful, careful with, bad news, heads up, "
    "watch out, rotten, rot, leak, leaking",
    "NOTE": "note, note that, note to self, remember, remember to, remember that, reminder, "
    "remind me, for the record, question, don't forget, memo, make a note, call, check, ask, tell",
    "PHOTO": "photo, photos, picture, pictures, take a photo, take a picture, took a picture, "
    "took a photo, taking a picture, taking a photo, snap, shot, take photo, photo of, "
    "picture of, photos of, pictures of, take a photo of, take a picture of, took a picture of, "
    "took a photo of, taking a picture of, taking a photo of",
    "TAKEBACK": "scratch that, strike that, delete that, undo that, undo, forget that, "
    "cancel that, take that back, never mind, disregard, disregard that, erase that, "
    "scrap that, ignore that, drop that, remove that, scratch the last one, delete the last one",
    "INSTEAD": "make it, make that, no make it, no make that, correction, change that to, "
    "change it to, change the last one to, i mean, i meant, no wait, wait no, sorry, "
    "that should be, actually, no that's, no it's, correct that to, wait, no, "
    "scratch that make it, correction make it, wait make it, actually make it",
    "AGAIN": "same again, ditto, same as last one, same thing, same as before, again",
    "NOTGOING": "not going to, won't, will not, didn't, did not, haven't, not, never, "
    "isn't, wasn't, don't, do not, doesn't, can't, couldn't, wouldn't, weren't, aren't",
    "FUTURE": "should, will, going to, gonna, tomorrow, next week, would, might, plan to, "
    "planning to, want to, if, supposed to, could, later, hoping, wants, by monday, by friday",
    "EQUIPMENT": "ladder, ladders, extension ladder, step ladder, scaffold, scaffolding, plank, "
    "planks, brake, nail gun, compressor, saw, table saw, miter saw, chop saw, drill, hammer, "
    "level, pump jack, generator, extension cord, cord, hose, snips, chalk line, trailer, truck, "
    "lift, dumpster, tape measure, tape, grinder, router, blade, sawhorses, saw horses",
    "NAMEDNUMBER": "house number, job number, lot number, phone number, order number, invoice, "
    "invoice number, purchase order, part number, room number, unit number, zip code, code, "
    "permit number, permit, lot, number is, address, room, route, highway, apartment, "
    "call me at, the number is, page, model number, serial number, ticket number",
    "PREPOSITION": "of, for, at, to, with, in, on",
}

SHAPES: dict[str, str] = {
    "VALUE": "( MIX | NUM | FRAC )",
    "INCHES": "( MIX | NUM | FRAC ) INCH?",
    "FEET": "( MIX | NUM ) FOOT ( AND? ( MIX | NUM | FRAC ) INCH? )?",
    "LONG": "NUM oh? ( MIX | NUM ) INCH?",
    "LENGTH": "ABOUT? ( FEET | VALUE METRIC | LONG | INCHES | INCH AND FRAC | FRAC of an inch ) "
    "( HEAVY | LIGHT | EXACT | SOFTLY )?",
    "COUNT": "ABOUT? ( FRAC a? DOZEN | ( NUM | a ) DOZEN | MIX | NUM | FRAC of? ( a | an )? "
    "| COUPLE | VAGUE | a | an | another | NONE )",
    "SIZE": "( ( MIX | NUM | FRAC | an | a )? ( INCH | FOOT ) ( AND FRAC )? | NUM by NUM )",
    "THING": "of? ( ARTICLE | COLOR )* SIZE? ITEM",
    "STRANGER": "of ( ARTICLE | COLOR )* OTHER+",
    "AMOUNT": "n=COUNT COLOR* ( SIZE? u=UNIT ( AND h=FRAC )? )? COLOR* ( i=THING | x=STRANGER )?",
    "HANDS": "with? ( w=( NUM | a | an | another ) ( HELPER | MEN ) | ALONE )",
    "DAYPART": "( AM | PM )",
    "TIME": "( CLOCK | NOON | ( FRAC | NUM MINUTE? ) ( PAST | TO ) NUM | NUM oh? NUM | NUM ) "
    "OCLOCK? DAYPART?",
    "HOURS": "ABOUT? ( VALUE of? ( a | an )? HOURWORD ( AND ( FRAC | NUM MINUTE ) )? "
    "| ( a | an ) HOURWORD ( AND FRAC )? )",
    "DURATION": "( HOURS | ABOUT? ( NUM | a ) MINUTE )",
    "PRICE": "( NUM | MIX ) ( MONEY ( AND? NUM MONEY? )? | NUM )?",
    "COST": "( at | for | cost ) c=PRICE per=( EACH UNIT? | ( a | an ) UNIT )?",
    "WHERE": "( SPOT | SIDE+ ( ITEM | PART )* | PART+ on the SIDE side | PART+ )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    # --- places: a fragment that belongs to the fact beside it
    ("place", "IN the? p=WHERE"),
    ("place", "the? p=WHERE ( is | measures | measured | reads )?"),
    ("numbered place", "p=( PART NUM )"),
    # --- measures
    ("measure", "DIMENSION* ( is | at | of )? m=LENGTH DIMENSION* ( times n=NUM )?"),
    ("measure", "i=ITEM DIMENSION* ( is | at )? m=LENGTH ( times n=NUM )?"),
    ("measure", "CUT n=NUM ( PIECEWORD | ITEM )? ( at | of | to ) m=LENGTH"),
    ("measure", "CUT n=NUM m=MIX INCH?"),
    ("measure", "CUT i=ITEM? ( at | to )? m=LENGTH ( times n=NUM )?"),
    ("measure", "n=NUM ( PIECEWORD | ITEM ) ( of | at ) m=LENGTH"),
    ("measure", "n=NUM at m=LENGTH"),
    ("measure", "m=INCHES"),
    ("measure", "m=LENGTH n=NUM ( times | pieces | of them )"),
    ("area", "DIMENSION* i=ITEM? m=LENGTH by k=LENGTH"),
    ("area", "( i=ITEM is? | DIMENSION )? s=VALUE AREA"),
    ("pitch", "PITCHWORD r=NUM ( ( in | over | on )? o=NUM )?"),
    ("pitch", "r=NUM ( in | over | on )? o=NUM PITCHWORD"),
    ("pitch", "r=NUM ( in | over ) o=NUM"),
    ("range", "DIMENSION* a=LENGTH ( to | or ) b=LENGTH"),
    # --- materials
    ("used", "USED AMOUNT"),
    ("used", "AMOUNT ( WAS )? USED"),
    ("spoiled", "v=SPOIL AMOUNT r=( BECAUSE ... )?"),
    ("spoiled", "AMOUNT WAS* v=SPOIL r=( BECAUSE ... )?"),
    ("delivered", "DELIVER AMOUNT COST?"),
    ("delivered", "AMOUNT WAS* DELIVER COST?"),
    ("returned", "RETURN AMOUNT"),
    ("returned", "AMOUNT WAS* RETURN"),
    ("returned", "AMOUNT WAS* back"),
    ("on_hand", "AMOUNT WAS* LEFTOVER"),
    ("on_hand", "COUNTED AMOUNT LEFTOVER?"),
    ("on_hand", "LEFTOVER AMOUNT"),
    ("on_hand", "OUTOF the? i=ITEM"),
    ("needed", "NEED AMOUNT"),
    ("needed", "AMOUNT ( WAS | more )? NEED"),
    ("needed", "NEED ......"),
    ("needed", "OTHER+ NEED ......"),
    ("more", "AMOUNT"),
    # --- time and labor
    ("start", "START ( at | around )? t=TIME HANDS?"),
    ("start", "START HANDS?"),
    ("stop", "STOP ( at | around )? t=TIME"),
    ("stop", "( STOP | STOP for the day )"),
    ("break", "BREAK ( for | of | was | took )? d=DURATION"),
    ("break", "( took )? d=DURATION ( for | of )? BREAK"),
    ("break", "BREAK ( from )? a=TIME to b=TIME"),
    ("break", "BREAK at t=TIME"),
    ("labor", "WORKED? d=HOURS ( on | of | for )? task=.. HANDS?"),
    ("labor", "task=.. ( for | took | in )? d=HOURS HANDS?"),
    ("labor", "WORKED d=HOURS HANDS?"),
    # --- the rest
    ("weather", "WEATHER? ( SKY | AND | WAS )* ABOUT? f=NUM DEGREES ( below zero )? ( AND? SKY )*"),
    ("weather", "WEATHER? SKY ( AND? ( SKY | very | a bit | getting ) )*"),
    ("weather", "weather ......"),
    ("covered", "COVER ......"),
    ("problem", "TROUBLE ......"),
    ("problem", "OTHER* the? OTHER* WAS? ( rotten | leaking | rot ) ......"),
    ("note", "NOTE ......"),
    ("note", "NUM ( FOOT | INCH ) EQUIPMENT ......"),
    ("note", "the? EQUIPMENT ......"),
    ("note", "NAMEDNUMBER ......"),
    ("note", "NOTGOING ......"),
    ("note", "FUTURE ......"),
    ("note", "NONE SPOIL"),
    ("photo", "PHOTO ......"),
    ("photo", "PHOTO"),
    # --- taking back
    ("drop", "TAKEBACK"),
    ("instead", "TAKEBACK? INSTEAD"),
    ("again", "AGAIN"),
)
