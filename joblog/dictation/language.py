"""The language of the ladder, as tables. A new phrase is one more line here.

WORDS    classes of words and phrases; a word may stand in several.
SHAPES   named pieces of a sentence, built of classes and other shapes.
SENTENCES what a stretch of words can mean: (meaning, pattern).

Patterns are read word by word. `CLASS` any word or phrase of a class, or a shape; `word` that
very word; `?` maybe, `*` any number, `+` one or more, `( a | b )` either; `name=X` keeps what X
matched for the builder of that meaning (in `meanings.py`). `...` is any words up to the next
cue or number; `....` any words up to an exact length; `......` any words to the end; `..` one or
more words that are no number. NUM is a whole number, MIX a whole with a fraction, FRAC a fraction
alone, CLOCK "7:30", TWELFTHS "8/12"; ITEM a spoken name of the catalog, SPOT a place of the job;
OTHER any word that is in no table.
"""

from __future__ import annotations

WORDS: dict[str, str] = {
    # one entry a line: words and "phrases of several words", separated by commas
    "FILLER": "um, uh, ah, oh yeah, okay, ok, so, then, well, please, just, now, alright, all "
    "right, i, we, i've, we've, we're, i'm, you know, yeah, yep, the, also, plus, total, today, "
    "got, that's, that is, there's, there is, there are, it's, it is, to, of, here, let me see, "
    "let's see, i got, we got, i get, says, right here, is, it, and then, altogether, i read that "
    "as, call it, hey, man, real quick, this one, that one, for, so far, yesterday, this morning, "
    "at the moment, all told, comes to, comes out to, figures to, be, mark it, mark that, log, "
    "put me down for, put down, write down, record, looks like, "
    "there we go, there you go, thank you, thanks, she's, i believe, believe, go ahead, "
    "two readings, two measurements, three readings, "
    "can you, could you, would you, that piece, this piece, the piece, piece has, "
    "start over, start again",
    "AND": "and, n, comma",
    "CONFIRM": "yeah, yep, yes, write, write that, i said, say again, call it, make that, right, "
    "what was it, let me count, hang on, "
    "okay write",
    "ARTICLE": "a, an, the, another, this, that, these, those, some, my, our",
    # --- quantities
    "UNIT": "sheet, sheets, stick, sticks, box, boxes, roll, rolls, bundle, bundles, tube, tubes, "
    "pair, pairs, gallon, gallons, gal, pound, pounds, lb, lbs, square, squares, square feet, "
    "square foot, sq ft, piece, pieces, length, lengths, each, linear feet, running feet, feet, "
    "foot, ft, panel, panels, strip, strips, board, boards, bag, bags, pail, pails, can, cans, "
    "case, cases",
    "DOZEN": "dozen",
    "COUPLE": "couple, couple of, a couple, a couple of, a couple more",
    "VAGUE": "a few, several, some, a bunch, a bunch of, a lot of, lots of, many, a handful of, "
    "most of, a few more, some more",
    "AREA": "square feet, square foot, sq ft",
    "SQUAREINCH": "square inch, square inches, sq in",
    "SQUARE": "square, squares",
    "NONE": "no, none, zero, nothing, no more",
    "ABOUT": "about, around, roughly, maybe, almost, nearly, approximately, approx, close to, "
    "just under, just over, give or take, like, probably, i think, i guess, say, somewhere "
    "around, a little over, a little under, in the neighborhood of, at least, at most, more than, "
    "less than, over, under, not sure, better than, upwards of, nearly about, somewhere near, not "
    "quite, a touch over, a touch under, just shy of",
    "ORSO": "or so, ish, give or take, more or less, i think, i guess, roughly, maybe, about, or "
    "thereabouts, probably, if that",
    "OR": "or, to",
    "COLOR": "white, black, brown, almond, bronze, gray, grey, green, red, blue, clay, sand, "
    "cream, tan, dark, new, old, good, full, whole, more, extra, other, vented, solid, all, of "
    "them, last, remaining, big, long, short, those",
    # --- lengths
    "INCH": "inch, inches",
    "FOOT": "foot, feet, ft",
    "METRIC": "millimeter, millimeters, millimetre, millimetres, mm, centimeter, centimeters, "
    "centimetre, centimetres, cm, meter, meters, metre, metres, yard, yards",
    "HEAVY": "heavy, strong, full, plus, fat, a hair heavy, a hair strong, a bit heavy, a little "
    "heavy, a hair over, a tad heavy, a heavy, a strong, a full, a fat, big, a big",
    "LIGHT": "light, shy, scant, minus, a hair light, a hair shy, a bit light, a little light, a "
    "hair under, a tad light, a bit shy, weak, a light, a scant, shy of, a shy, a hair short, "
    "scant of, a tad shy",
    "OFF": "over, under, shy of, past, short of, less than, off of",
    "LESS": "less, minus, take off, take away, plus",
    "EXACT": "exactly, even, on the money, on the nose, dead on, right on, flat, on the dot, on "
    "the button, square, dead even, on the head",
    "SOFTLY": "and change, and a bit, and a hair, a hair, and some, and a little",
    "DIMENSION": "tape says, tape reads, width, height, depth, length, run, rise, span, overhang "
    "depth, reveal, gap, offset, spacing, clearance, thickness, measurement, measure, measures, "
    "measured, reads, distance, opening, size, deep, wide, high, long, tall, need a cut at, cut "
    "at, cut length, mark, rip at, runs, overhang, step, jog, total, needs to be, has to be, "
    "drops to, goes to, it drops to, comes in at, checks at, came out to, out to out, in the "
    "clear, gap is, projection, drop, lap, goes, it goes, steps to, opens to, we're at, i'm at, "
    "it's at, come to, came to, cut them at, cut it at, cut it to, across, end to end, corner to "
    "corner, side to side, this end, that end, far end, near end, at the far end, at the near "
    "end, first one, second one, third one, next one, last one, one end, other end, the other "
    "end, each end, "
    "i make it, i'd call that, call that, has it at, came out at, "
    "measures out at, measures out to, taped at, tapes at, tapes out at, i'm getting, "
    "i'm reading, reading, the tape, on the tape, reading is, it measures, taped, "
    "works out to, wants to be, "
    "short side, long side, short end, long end, short leg, long leg, i have, we have, "
    "i need, i show, showing, i've got, "
    "tape is reading, tape is at, tape is on, tape shows, tape is showing, laser says, "
    "laser reads, reads out",
    "CAMEIN": "came in, comes in, came up",
    "ABOUTIT": "gap, opening, height, width, depth, length, reveal, overhang, rise, span, "
    "thickness, "
    "distance, measurement, size, row, course, depths, cut, piece",
    "CUT": "cut me, cut, cutting, rip, make, cut up, mark, chop, ripping, ripped, cut out, need, "
    "give me, cut list, "
    "run, run me, i want, want, do, saw, saw me, "
    "i need, we need, i'll need, we'll need, rip it, rip it to, make me, cut me out, "
    "need you to cut, can you cut me, can you cut",
    "PIECEWORD": "piece, pieces, length, lengths, strip, strips, panel, panels, sheet, sheets, "
    "stick, sticks, cuts, pcs, board, boards, blocks, block, rips, patches, fillers, filler, "
    "blanks, "
    "count",
    "QUANTITY": "quantity, qty, count of, quantity of",
    "PITCHWORD": "pitch, slope, roof pitch, pitch is, slope is, pitch of, a pitch of, rise",
    "ROOF": "roof, gable, rake, west gable, pitch, slope, hip, dormer",
    # --- materials
    "USED": "ate up, sank, patched in, popped in, rolled out, stuck up, went into, bent up, used "
    "me, i used me, went up with, went in with, used up the last, is gone, all gone, used, use, "
    "using, put up, put in, hung, installed, nailed up, went up, placed, went through, used up, "
    "ran, we used, i used, set, burned through, burnt through, tacked, tacked up, knocked in, "
    "nailed off, nailed it off with, nailed on, took, that took, went on, went in, went under, "
    "went over, screwed on, glued, stapled, slapped up, shot, fastened, laid, fitted, got up, put "
    "on, go up, gone up, are up, is up, consumed, chewed through, mounted, applied",
    "CUTTO": "cut to, cut at, ripped to",
    "OFTHEM": "of them, of those, of these",
    "HIGHOF": "thermometer reads, thermometer says, high of, low of, temperature is, temp, it got "
    "up to, up to",
    "DOWNTO": "down to",
    "LASTOF": "the last, our last, my last, one last",
    "ONLIST": "on the list, on the order",
    "ONEMORE": "one more, another one, one last, single, a single",
    "DIDNOT": "didn't, did not",
    "GETGOING": "get started, get going",
    "FORTHEDAY": "for the day",
    "PUT": "put, got, threw",
    "SPOIL": "scrapped, spoiled, wasted, ruined, threw out, threw away, thrown out, lost, tossed, "
    "cracked, broke, broken, bent, dented, scratched, split, damaged, chipped, torn, ripped, "
    "warped, cut wrong, cut short, cut too short, miscut, dropped, scrap, bad, no good, snapped, "
    "shattered, botched, junk, junked, kinked, trashed, garbage, wrecked, crushed, creased, "
    "buckled, blew away, blown off, soaked, smashed, messed up, screwed up, mangled, chucked, to "
    "the dumpster, in the dumpster, in the trash, tore, cut it short, bad cut",
    "DELIVER": "delivered, delivery of, delivery, received, picked up, dropped off, unloaded, "
    "brought, bought, brought in, came, arrived, came in, showed up, got in, sent over, got "
    "delivered, took delivery of, loaded, brought out, delivery came, in from, yard delivered, "
    "yard sent, yard sent over, truck brought, supplier delivered, fetched, just came, came "
    "today, hauled in",
    "RETURN": "returned, return, took back, sent back, brought back, taken back, gave back, going "
    "back, went back, returning, back to the yard, back to the store, back to the supplier, to "
    "return",
    "SENT": "brought, took, sent, carried, hauled, taking, sending, bringing, gave",
    "LEFTOVER": "left, left over, leftover, remaining, on hand, still here, still on site, in the "
    "truck, in the trailer, remain, over, still left, to spare, still in the truck, leftovers, in "
    "stock, to go, still good",
    "COUNTED": "counted, count, on hand, have, still have, we have, i have, inventory, got left, "
    "left with, left over, leftover, still got, down to, we still have, i still have, i've still "
    "got, we've got, i've got, i count, counting, there's still, leftovers, remaining",
    "OUTOF": "out of, ran out of, all out of, used up all the, no more",
    "NEED": "gonna need, could use, i could use, we could use, going to want, gonna want, it'll "
    "take, could stand to have, remind me to buy, remind me to order, need, needs, need to get, "
    "need to order, order, still need, short, missing, we need, i need, have to get, pick up, "
    "buy, needed, will need, going to need, bring, gotta have, got to have, gotta get, shopping "
    "list, grab, short on, we're short, low on, running low on, get me, reorder, we'll need, i'll "
    "need, short by, have to order, need another, order another, remind me to get, don't forget "
    "to order, on the list",
    "WAS": "is, are, was, were, got, get, been, be, has, have, all, just, have been",
    "EACH": "each, apiece, a piece, per, every",
    "MONEY": "dollar, dollars, bucks, buck, cent, cents",
    "LOT": "for the lot, for all of them, altogether, total, all in, for the whole lot, in all",
    # --- time and labor
    "START": "started, start, starting, began, begin, clocked in, got started, starting work, "
    "start work, started work, on the job, got to work, on site, got going, kicked off",
    "ARRIVE": "arrived, got here, here, showed up, back at it, back at work, back to work, back, "
    "came, came in, got back, rolled in, up and running, pulled in, in, at work, back on the "
    "ladder, set up",
    "STOP": "stopped, stop, finished, finish, quit, knocked off, done for the day, called it a "
    "day, heading home, packed up, clocked out, quitting, packed it in, finished up, end of day, "
    "stopping, going home, stopped work, quit early, quitting time, that's it for today, that's a "
    "wrap, shut down, shut it down, rolled up, wrapped it up, wrapped up, wrapping up, packed up "
    "the tools, called it, pulled off, that's it for the day",
    "LEAVE": "left, done, all done, off site, out of here, gone, went home, leaves, off, heading "
    "out",
    "BREAK": "lunch, break, coffee, coffee break, lunch break, dinner, rain delay, downtime, down "
    "time, waited, waiting, took lunch, took a break, had lunch, breakfast, sat out, sat out the "
    "rain, waited out the rain, waited on, for lunch, for coffee, water break, rain break, smoke "
    "break, delay, rained out, for a break, broke for lunch, held up",
    "HOURWORD": "hour, hours, hrs, hr, man hours, crew hours",
    "MINUTE": "minute, minutes, min, mins",
    "OCLOCK": "o'clock, oclock, sharp",
    "AM": "am, a m, this morning, in the morning, morning",
    "PM": "pm, p m, this afternoon, in the afternoon, afternoon, in the evening, tonight, at night",
    "NOON": "noon, midday, midnight",
    "PAST": "past, after",
    "TO": "to, till, til, before, of, until",
    "UNTIL": "to, till, til, until, through",
    "HELPER": "helper, helpers, apprentice",
    "MEN": "man, men, guy, guys, people, workers, hands, of us, man crew",
    "ALONE": "alone, by myself, myself, just me, on my own, solo, working alone, only me",
    "WORKED": "worked, working, spent, put in, took, work",
    # --- places
    "COMPASS": "north, south, east, west, northeast, northwest, southeast, southwest, north east, "
    "north west, south east, south west, front, rear",
    "SIDE": "north, south, east, west, northeast, northwest, southeast, southwest, north east, "
    "north west, south east, south west, front, back, rear, left, right, upper, lower, inside, "
    "outside, garage, main, street, left hand, right hand, second, first, third, top, bottom, "
    "kitchen, bedroom, bathroom, porch, house, "
    "both, each, either, far, near, lower left, upper left",
    "PART": "windows, doors, rafters, corners, wall, eave, eaves, overhang, gable, corner, rake, "
    "ridge, valley, roof, window, door, porch, dormer, side, end, elevation, bay, peak, frieze, "
    "ceiling, deck, chimney, garage, shed, addition, entry, hip, section, bump out, picture "
    "window, bay window, garage door, front door, back door, story, stairs, steps, driveway, "
    "breezeway, sill, soffits, top, bottom, middle, center, edge, posts, studs, beam, vent, "
    "shutters, "
    "carport, patio, landing, basement, foundation, gables, rakes, peaks, dormers, walls, jamb, "
    "threshold, header, lintel, railing, entryway, sunroom, mudroom, loft, attic, "
    "rafter, joist, joists, stud, rafter tails, column, columns, band, skirt, water table, "
    "up top, down low, up high, sides, ends, returns, "
    "eave return, gable return",
    "MINOR": "end, corner, peak, valley, ridge, side, edge, section, bottom, top, middle, rake, "
    "row, course",
    "BESIDE": "over by, over, above, below, under, underneath, beneath, behind, beside, "
    "next to, left of, right "
    "of, to the left of, to the right of, past, by, near, around, alongside, just past, just left "
    "of, just right of, across from, right by, right next to, just above, just below, just under, "
    "right above, right below, right under, right over, just over, "
    "opposite, opposite of",
    "BETWEEN": "between, in between",
    "IN": "on, at, in, for, along, from, to, onto, off, up to, across, all along, all over",
    "WHEN": "weekend, the weekend, monday, tuesday, wednesday, thursday, friday, saturday, sunday, "
    "easter, christmas, thanksgiving, winter, spring, summer, night, month, end of the day",
    "BECAUSE": "because, because of, due to, in, by, on, off, from, when, while, during, with, "
    "at, against, under, after, trying, going, out of, it, the, wrong, too",
    "WHY": "because, because of, due to, on account of, too much, too",
    # --- the rest of a working day
    "DEGREES": "degrees, degree, degrees fahrenheit, above, degrees out, in the shade, out, "
    "outside, fahrenheit",
    "SKY": "rained, it rained, snowed, blowing, gusting, cold, hot, warm, windy, rain, raining, "
    "rainy, snow, snowing, wind, sunny, sun, cloudy, overcast, clear, frost, freezing, humid, "
    "wet, dry, cool, storm, foggy, fog, gusty, drizzle, sleet, calm, muggy, chilly, icy, light "
    "rain, heavy rain, light snow, heavy wind, gusts, heavy frost, heavy dew, drizzling, breezy, "
    "hail, thunder, lightning, light wind, dew",
    "WEATHER": "weather, temperature, temp, the weather is, it's, it is, outside, high of, low "
    "of, temperature is, it was, it got up to, it's about, getting, too, pretty, really, very, a "
    "bit",
    "COVER": "close this up, before i close this up, sealing up, sealing, going to hide, hide, "
    "concealed, conceal, cover, covers, covers it, cover up, is closed now, goes over it, about "
    "to hide, closes up, gets buried, will ever see, covered, covering, about to cover, going to "
    "cover, closing up, closed up, closing, buried, burying, hiding, hidden, sealed up, about to "
    "close, about to be covered, covering up, covered up, boxed in, boxing in, going to be "
    "hidden, going to be covered, this gets covered, before i cover, about to bury, before it's "
    "covered, gets covered, i'm covering, getting covered, before we close, closed in, sheathing "
    "over, wrapping over, about to wrap, will be covered, will be hidden, won't see",
    "TROUBLE": "problem, problem with, trouble, issue, careful, careful with, bad news, heads up, "
    "watch out, rotten, rot, leak, leaking, trouble with, issue with, uh oh",
    "FAULT": "asbestos, chewed, lead paint, termite damage, damage, too close, won't lock, bad "
    "batch, don't match, doesn't match, not matching, getting in, no duct, popped, not bending, "
    "heaved, soaking wet, quit on me, mush, bats, squirrels, not good, moves, it's broke, won't "
    "close, stripped, uneven, peeling, rodents, mice, wet behind, delaminated, never put on, "
    "unsafe, punky, spongy, rotted, wrong, rotten, rot, leaking, leaks, not square, not plumb, "
    "not level, out of square, out of plumb, out of level, doesn't fit, won't fit, loose, rusted, "
    "rusty, big scratch, dent, soft spot, soft, mold, moldy, termites, carpenter ants, hornets, "
    "wasps, bees, nest, water damage, water stain, sagging, sags, bowed, crooked, off by, pulling "
    "away, is bad, was bad, no backing, nothing to nail to, wavy, gap behind, missing a, stuck, "
    "wrong color, wrong size, the wrong way, hit a nail, hit a wire, not straight, isn't straight",
    "NOTE": "note, note that, note to self, remember, remember to, remember that, reminder, "
    "remind me, for the record, question, don't forget, memo, make a note, call, check, ask, "
    "tell, checked, plan is, plan is to, hope to, hoping to, plan to, idea, asked, called, told, "
    "talked to, paid, owes, owner, customer, homeowner, inspector, neighbor, tell the, color is, "
    "quoted, think about, deliver to",
    "PHOTO": "photo, photos, picture, pictures, take a photo, take a picture, took a picture, "
    "took a photo, taking a picture, taking a photo, snap, take photo, photo of, picture of, "
    "photos of, pictures of, take a photo of, take a picture of, took a picture of, took a photo "
    "of, taking a picture of, taking a photo of, photograph, photographed, pic, pics, pic of, "
    "snapshot, snapped, shot of, got a picture of, get a picture of, got a photo of, get a photo "
    "of, snap a picture of, snapping a photo of",
    "TAKE": "taking, took, take, got, get, getting",
    "TAKEBACK": "scratch that, strike that, delete that, undo that, undo, forget that, cancel "
    "that, take that back, never mind, disregard, disregard that, erase that, erase, forget that "
    "one, scratch that one, delete that one, drop that one, throw it out, ignore what i just "
    "said, strike that one, scrap that, ignore that, drop that, remove that, scratch, strike, "
    "delete, scratch it, forget it, kill that, belay that, lose that, wipe that, throw that out, "
    "cancel, forget, drop, remove, lose, kill, take out, clear, wipe, "
    "take that one out, don't count that one, don't count that, skip that, skip that one, "
    "never mind that, throw that one out, ditch that, not that one, "
    "scratch what i just said, scratch all that, scratch all of that, forget what i said, "
    "ignore what i said, disregard what i said, forget i said that, "
    "that was wrong throw it out",
    "LAST": "the last one, the last entry, the last measurement, last one, that last one, last "
    "entry, the last, that last measurement, last measurement, the one before, "
    "that last number, the last number, last number, the last reading, that last reading, "
    "the last line",
    "INSTEAD": "make it, make that, correction, change that to, wait make that, wait make it, "
    "change it to, change the last one to, change the last one, i mean, i meant, that should be, "
    "no that's, no it's, correct that to, scratch that make it, correction make it, actually make "
    "it, no make it, no make that, oops that was, sorry that was, sorry that's, "
    "should have been, that should have been, should've been, that should've been, it's "
    "actually, that's actually, "
    "no that was, no it was, no those were, replace that with, replace it with, "
    "let's call that, let's call that last one, wrong it was, "
    "it was actually, that was actually, fix that, fix that last one, "
    "change that last one to, swap that for, that last number is off, the last one was, "
    "the last one should be, that last one was, that last one should be, "
    "better make it, better make that, measured again and it's, i meant to say, "
    "no should be, remeasured, "
    "last one should be, last one should have been, make the last one, make that last one, "
    "no last one was, "
    "i misread that it's, i misread that, i misread it, i read it wrong, i read that wrong, "
    "i measured wrong, i got it wrong, i said it wrong, i said that wrong, misread that, "
    "call that one, that is actually, "
    "make those, make them",
    "SLIP": "oops, that was wrong, that's wrong, that's not right, my mistake, my bad, "
    "no that's wrong, wrong, nope, no no, whoops, shoot, dang",
    "SAID": "i said, i had said, i told you, i called out, i had, i wrote",
    "CHANGED": "that was, those were, it was, it's, that's, that is, these were, they were, "
    "that one was, those got, this is, was, were, measured again, and, nope, no",
    "WASIT": "that was, it was, those were, they were, that one was, no that's, no it's, "
    "it should be, that should be, should be, should say, that should say, "
    "it should have been, wait that's, wait no that's, wait that was, actually that's, "
    "actually it's, actually it was, actually that was, these were, that's actually, "
    "it's actually, make that one",
    "MOVETHAT": "put that on, put that one on, move that to, move it to, that goes on, "
    "that goes with, "
    "that belongs to, that belongs on, that was for, that's for, that one's for, "
    "those are for, those were for, those were on, that was on, that's on, they were on, "
    "those went on, that went on, it was on",
    "NOWAIT": "er, no, wait, no wait, wait no, sorry, actually, hold on, uh no, or rather, rather, "
    "oops, nope, whoops, my mistake, my bad, excuse me, correction",
    "AGAIN": "same again, ditto, same as last one, same thing, same as before, another one just "
    "like it, another just like it, one more just like it, same as that, same as the last one, "
    "same measurement, one more the same, another one the same, same, "
    "and again, once more, same here, same on, repeat that, same deal, likewise, "
    "same as above, same number, another of the same, same goes, "
    "one more just like that, another just like that, another one like that, "
    "one more like that, another like that, one more like it, another one like it",
    "NOTGOING": "not going to, won't, will not, didn't, did not, haven't, not, never, isn't, "
    "wasn't, don't, do not, doesn't, can't, couldn't, wouldn't, weren't, aren't, no lunch, no "
    "problem, no need, no break, hasn't, hadn't, without, nobody",
    "FUTURE": "should, will, going to, gonna, tomorrow, next week, would, might, plan to, "
    "planning to, want to, if, supposed to, could, later, hoping, wants, by monday, by friday, "
    "we'll, i'll, they'll, he'll, she'll, it'll, hope to, expect, expecting, plan on, comes at, "
    "due, ought to, about to, i'd like to, we'd like to, like to, trying to, need to, have to, "
    "estimate, estimated, bid, next time, "
    "should be, it should be",
    "EQUIPMENT": "ladder, ladders, extension ladder, step ladder, scaffold, scaffolding, plank, "
    "planks, brake, nail gun, compressor, saw, table saw, miter saw, chop saw, drill, hammer, "
    "level, pump jack, generator, extension cord, cord, hose, snips, chalk line, trailer, truck, "
    "lift, dumpster, tape measure, tape, grinder, router, blade, sawhorses, saw horses, "
    "stepladder, bucket, tarp, drop cloth, gun, crane, ladder stand, stage, staging, jacks",
    "NAMEDNUMBER": "house number, job number, lot number, phone number, order number, invoice, "
    "invoice number, purchase order, part number, room number, unit number, zip code, code, "
    "permit number, permit, lot, number is, address, room, route, highway, apartment, call me at, "
    "the number is, page, model number, serial number, ticket number, number, address is, phone, "
    "cell, extension, exit, po number, ticket, gate code, model, color code",
    "ODD": "percent, penny, on center, o c, gauge, grit, psi, volt, volts, amp, amps, mil, ply, "
    "inch nails, miles, years, year, days, day, weeks, week, months, trips, trip, coats, coat, "
    "rows, row, courses, course, corners, studs, minutes ago, hours ago, story, inch nail, guys "
    "coming, people coming, houses",
}

SHAPES: dict[str, str] = {
    "VALUE": "( MIX | NUM | FRAC )",
    "INCHES": "( MIX | NUM | FRAC ) INCH?",
    "FEET": "( MIX | NUM | a ) FOOT ( ( AND | nothing )* ( MIX | NUM | FRAC ) ( of an )? INCH? )?",
    "LONG": "NUM oh? ( MIX | NUM ) INCH?",
    "LENGTH": "ABOUT? ( HEAVY | LIGHT )? ABOUT? ( FEET | NUM AND? ( HEAVY | LIGHT ) FRAC INCH? "
    "| ( MIX | NUM ) INCH? LESS FRAC ( of an INCH )? | NUM INCH AND FRAC "
    "| FRAC ( of an INCH )? OFF ( MIX | NUM ) INCH? | VALUE METRIC ( AND? VALUE METRIC? )? | "
    "FRAC of an INCH | LONG | INCHES "
    "| ( a | an )? INCH ( AND FRAC )? ) "
    "( ORSO | AND? ( it's | that's | is )? ( HEAVY | LIGHT ) | EXACT | SOFTLY )? ORSO?",
    "COUNT": "( all | the )? last? ABOUT? ( FRAC a? DOZEN | ( NUM | a | another | COUPLE )? "
    "DOZEN ( AND FRAC )? | MIX "
    "| NUM OR NUM | another? NUM "
    "| FRAC of? ( a | an )? | COUPLE | VAGUE | a | an | another | NONE )",
    "SIZE": "( ( MIX | NUM | FRAC | an | a )? ( INCH | FOOT ) ( AND FRAC )? | NUM by NUM | FRAC )",
    "THING": "of? ( ARTICLE | COLOR )* SIZE? ( ARTICLE | COLOR )* ITEM",
    "STRANGER": "( of ( ARTICLE | COLOR )* OTHER+ ITEM? | OTHER+ ITEM )",
    "AMOUNT": "n=COUNT COLOR* ( SIZE? u=UNIT ( AND h=FRAC )? )? COLOR* "
    "( i=THING | x=STRANGER )? ORSO?",
    "PIECES": "n=( NUM | a pair | a | a DOZEN | COUPLE | ONEMORE ) COLOR* SIZE? "
    "( i=ITEM? ( PIECEWORD | OFTHEM )+ | PIECEWORD of? ARTICLE* ITEM )",
    "HANDS": "with? ( w=( NUM | a | an | another ) ( HELPER | MEN ) | ALONE "
    "| ( a | the )? crew of w=NUM "
    "| me AND w=( a | an | one | NUM ) HELPER )",
    "DAYPART": "( AM | PM )",
    "TIME": "( CLOCK | NOON | ( FRAC | NUM MINUTE? ) ( PAST | TO ) NUM | NUM oh? NUM | NUM ) "
    "OCLOCK? DAYPART?",
    "HOUR": "NUM OCLOCK? DAYPART?",
    "HOURS": "ABOUT? ( VALUE of? ( a | an )? HOURWORD ( AND ( FRAC | NUM MINUTE ) )? "
    "| ( a | an ) HOURWORD ( AND FRAC )? )",
    "DURATION": "( HOURS | ABOUT? ( NUM | a ) MINUTE )",
    "PRICE": "( a MONEY NUM? | ( NUM | MIX ) ( MONEY ( AND? NUM MONEY? )? | NUM )? )",
    "PER": "per=( EACH UNIT? | ( a | an ) UNIT )",
    "SUBJECTWORDS": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | WAS | IN | is | EQUIPMENT )+",
    "CORE": "( SPOT | COMPASS+ ( ITEM | PART )* | OTHER? SIDE+ ( ITEM | PART )+ | OTHER? PART+ )",
    "NEARBY": "( CORE | SIDE* ITEM | ( SIDE | EQUIPMENT )* OTHER ( OTHER | PIECEWORD | UNIT )? "
    "| EQUIPMENT )",
    "SPAN": "( from ARTICLE* NEARBY to ARTICLE* NEARBY | PART to ARTICLE* PART )",
    "PAIR": "BETWEEN ( ARTICLE* NUM? CORE | ARTICLE NUM? NEARBY ) ( AND the? NEARBY )?",
    "STOCKVERB": "( USED | DELIVER | RETURN | SPOIL | NEED | LEFTOVER )",
    "WHERE": "( SPAN | PAIR | SIDE of the? CORE | ( ( BESIDE ARTICLE* )? CORE | BESIDE ARTICLE "
    "NEARBY ) "
    "( ( of | from ) the? ( CORE | SIDE ) )? "
    "( BESIDE the? ( CORE | ITEM ) | PAIR )? ( on the SIDE side )? )",
    "NAMED": "( SPOT ( BESIDE the? NEARBY | PAIR )? | BESIDE the SIDE* ( ITEM | PART )+ "
    "( of the CORE )? | ( BESIDE the? | MINOR of the? )? SPOT "
    "| SIDE+ ( ITEM | PART )+ ( of the CORE )? | PAIR )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    # --- fragments that belong to the fact beside them
    (
        "place",
        "( ( up | over | down | out | back )? IN )? the? p=WHERE "
        "( is | are | measures | measured | reads | was )?",
    ),
    ("numbered place", "p=( PART number? NUM )"),
    ("place", "call the? p=WHERE DIMENSION*"),
    ("place", "at the p=ITEM"),
    ("subject", "( the | a )? i=ITEM ( DIMENSION | WAS | is )*"),
    ("crew", "HANDS ( today | here )?"),
    # --- measures
    (
        "measure",
        "( DIMENSION | CAMEIN at )* ( is | at | of | was )? m=LENGTH DIMENSION* ( times n=NUM )? "
        "( for ( the | a )? i=ITEM )?",
    ),
    ("measure", "i=ITEM DIMENSION* ( is | at | was )? m=LENGTH ( times n=NUM )?"),
    ("measure", "CUT? PIECES ( at | to | by | of | CUTTO | DOWNTO )? m=LENGTH each? DIMENSION*"),
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
    ("measure", "QUANTITY n=NUM COLOR* i=ITEM? ( of | at )? m=LENGTH"),
    ("measure", "m=LENGTH QUANTITY n=NUM"),
    (
        "pieces",
        "AND? ( CUT | NEED )* n=( NUM | COUPLE | a DOZEN | ONEMORE ) ( OFTHEM | PIECEWORD )",
    ),
    ("pieces", "make n=NUM"),
    ("measure", "m=INCHES"),
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
    ("pitch", "PITCHWORD ( is | a | an )* r=NUM ( ( in | over | on | AND )? o=NUM )?"),
    ("pitch", "( a | an )? r=( NUM | MIX ) ( in | over | on )? o=NUM PITCHWORD"),
    ("pitch", "( a | an )? r=( NUM | MIX ) ( in | over ) o=NUM"),
    ("pitch", "ROOF? ( is | PITCHWORD )* ( a | an ) r=NUM o=NUM"),
    ("pitch", "ROOF ( is | PITCHWORD )* r=NUM o=NUM"),
    ("pitch", "PITCHWORD? ( is | a | an )* t=TWELFTHS PITCHWORD?"),
    ("range", "DIMENSION* a=LENGTH OR b=LENGTH"),
    ("range", "between a=LENGTH AND b=LENGTH"),
    # --- materials
    ("used", "USED AMOUNT"),
    ("used", "PUT AMOUNT ( up | on )"),
    ("used", "AMOUNT WAS? ( USED | up | gone )"),
    ("spoiled", "v=SPOIL AMOUNT r=( ( BECAUSE | CUT | SKY | SPOIL | OTHER ) ... )?"),
    ("spoiled", "AMOUNT WAS* v=SPOIL r=( ( BECAUSE | CUT | SKY | SPOIL | OTHER ) ... )?"),
    ("spoiled", "u=UNIT i=THING WAS* v=SPOIL r=( ( BECAUSE | CUT | SKY | SPOIL | OTHER ) ... )?"),
    ("spoiled", "v=SPOIL ( ARTICLE | COLOR )+ i=ITEM"),
    ("delivered", "DELIVER AMOUNT ( in | today )?"),
    ("delivered", "DELIVER AMOUNT in? w=( at | for ) c=PRICE PER? f=LOT?"),
    ("delivered", "DELIVER AMOUNT in? c=PRICE ( PER | f=LOT )"),
    ("delivered", "AMOUNT WAS* DELIVER"),
    ("delivered", "AMOUNT WAS* DELIVER w=( at | for ) c=PRICE PER? f=LOT?"),
    ("delivered", "AMOUNT WAS* DELIVER c=PRICE ( PER | f=LOT )"),
    ("delivered", "PUT AMOUNT in"),
    ("delivered", "PUT AMOUNT in? w=( at | for ) c=PRICE PER? f=LOT?"),
    ("delivered", "PUT AMOUNT in? c=PRICE ( PER | f=LOT )"),
    ("price", "w=( at | for )? c=PRICE ( PER | f=LOT )"),
    ("returned", "RETURN AMOUNT"),
    ("returned", "RETURN ( ARTICLE | COLOR )+ i=ITEM"),
    ("returned", "SENT AMOUNT ( back | RETURN )"),
    ("returned", "AMOUNT WAS* RETURN"),
    ("returned", "AMOUNT WAS* back"),
    ("on_hand", "AMOUNT WAS* LEFTOVER"),
    ("on_hand", "COUNTED AMOUNT LEFTOVER?"),
    ("on_hand", "LEFTOVER ( IN ARTICLE* ( EQUIPMENT | OTHER | FILLER ) )? AMOUNT"),
    ("on_hand", "DOWNTO LASTOF u=UNIT i=THING"),
    ("on_hand", "OUTOF the? i=ITEM"),
    ("needed", "NEED AMOUNT"),
    ("needed", "PUT AMOUNT ONLIST"),
    ("needed", "AMOUNT ( WAS | more )? NEED"),
    ("request", "NEED ......"),
    ("request", "OTHER+ NEED ......"),
    ("more", "AMOUNT"),
    # --- time and labor
    ("start", "ALONE? START ( at | around )? t=TIME HANDS? y=( WHY ... )?"),
    ("start", "START ( at | around )? t=HOUR HANDS"),
    ("start", "START HANDS ( at | around )? t=TIME"),
    ("start", "START HANDS?"),
    ("start", "ARRIVE ( at | around ) t=TIME HANDS?"),
    ("start", "the? h=HELPER ( ARRIVE | START ) ( at | around )? t=TIME"),
    ("start", "DIDNOT ( start | GETGOING ) UNTIL t=TIME y=( WHY ... )?"),
    ("stop", "STOP ( at | around | by )? t=TIME HANDS? y=( WHY ... )?"),
    ("stop", "STOP ( at | around )? t=HOUR HANDS"),
    ("stop", "LEAVE ( at | around ) t=TIME HANDS?"),
    ("stop", "the? h=HELPER ( LEAVE | STOP ) ( at | around )? t=TIME"),
    ("stop", "STOP"),
    ("span", "WORKED ( from )? a=TIME UNTIL b=TIME"),
    ("break", "( STOP | START )? ( for )? BREAK ( for | of | was | took )? d=DURATION"),
    ("break", "took? a? d=DURATION ( for | of )? OTHER? BREAK ( at t=TIME )?"),
    ("break", "BREAK ( from )? a=TIME UNTIL b=TIME"),
    ("break", "STOP? for? BREAK at t=TIME ( for? d=DURATION )?"),
    ("break", "( took | take ) m=NUM"),
    ("labor", "( HANDS )? WORKED? d=DURATION each? HANDS? ( on | of | for )? task=.. HANDS?"),
    ("labor", "WORKED? task=.. ( for | took | in )? d=DURATION each? HANDS?"),
    ("labor", "WORKED d=HOURS HANDS?"),
    ("labor", "WORKED? task=.. from a=TIME UNTIL b=TIME"),
    # --- the rest
    ("weather", "WEATHER* ( SKY | AND | WAS )* ABOUT? f=NUM DEGREES ( below zero )? ( AND? SKY )*"),
    ("weather", "HIGHOF f=NUM ( SKY | AND )*"),
    ("weather", "WEATHER? ABOUT? c=NUM DEGREES? ( celsius | centigrade )"),
    ("weather", "WEATHER* SKY ( AND? ( WEATHER | SKY | OTHER ) )* ( since TIME )?"),
    ("weather", "SKY ABOUT? NUM miles an HOURWORD"),
    ("weather", "weather ......"),
    ("covered", "SUBJECTWORDS? COVER ......"),
    ("problem", "TROUBLE ......"),
    ("problem", "SUBJECTWORDS? FAULT ..."),
    ("note", "NOTE ......"),
    ("note", "NUM ( FOOT | INCH ) EQUIPMENT ......"),
    ("note", "the? EQUIPMENT ......"),
    ("note", "NAMEDNUMBER ......"),
    ("note", "NUM by NUM s? OTHER ......"),
    ("note", "NUM ODD ......"),
    ("note", "NOTGOING ......"),
    ("note", "FUTURE ......"),
    ("note", "NONE SPOIL"),
    ("note", "no ( FAULT | PHOTO ) ......"),
    (
        "photo",
        "( NUM | ARTICLE | COUPLE | more | taking | took | take | got | get )* PHOTO NUM? ....",
    ),
    # --- taking back
    ("drop", "SLIP* TAKEBACK+ LAST? too?"),
    ("instead", "SLIP* TAKEBACK? INSTEAD instead?"),
    ("instead", "SAID ( LENGTH | ITEM | TIME | SPOT ) INSTEAD"),
    ("new duration", "d=DURATION"),
    ("maybe instead", "SLIP* NOWAIT"),
    ("not this", "not a=( NUM | MIX ) b=( NUM | MIX )"),
    (
        "this not that",
        "CHANGED* m=( NUM | MIX ) ( INCH | PIECEWORD | UNIT | HOURWORD )? not LENGTH ",
    ),
    ("this not that", "( CHANGED | WASIT )* i=ITEM not ITEM"),
    ("this not that", "NOWAIT* ( WASIT | ARTICLE ITEM was ) actually? i=ITEM"),
    ("this not that", "NOWAIT* WASIT only? m=( NUM | MIX ) ( UNIT | PIECEWORD )?"),
    ("this not that", "NOWAIT* WASIT only? d=DURATION"),
    ("this not that", "NOWAIT* WASIT t=TIME"),
    ("this not that", "t=TIME not TIME"),
    ("this not that", "d=DURATION not ( DURATION | NUM )"),
    ("moved", "NOWAIT* ( MOVETHAT | WASIT ) IN? the? p=WHERE ( not IN? the? WHERE )?"),
    ("moved", "CHANGED? IN the? p=WHERE not IN? the? WHERE"),
    ("this not that", "CHANGED* v=STOCKVERB not STOCKVERB"),
    ("again", "AGAIN"),
    ("adjust", "( HEAVY | LIGHT )"),
    ("adjust instead", "not ( HEAVY | LIGHT ) ( HEAVY | LIGHT )"),
    ("adjust instead", "a=( HEAVY | LIGHT ) not ( HEAVY | LIGHT )"),
    ("clock", "t=TIME"),
)
