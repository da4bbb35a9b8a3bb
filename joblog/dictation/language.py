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
    "let's see, i get, says, right here, is, it, and then, altogether, i read that as, call it, "
    "hey, man, real quick, this one, that one, for, so far, yesterday, this morning, at the "
    "moment, all told, comes to, comes out to, figures to, be, mark it, mark that, log, put me "
    "down for, put down, write down, record, looks like, there we go, there you go, thank you, "
    "thanks, she's, i believe, believe, go ahead, two readings, two measurements, three "
    "readings, can you, could you, would you, that piece, this piece, the piece, piece has, "
    "start over, start again, what time is it, what time is it now, what does it say, what is "
    "it say, what's that say, what is that say, phew, whew, geez, jeez, shoot, dang, darn, dang "
    "it, darn it, boy, lord, wow, gosh, oh boy, anyhow, anyway, heck, damn, sheesh, ugh, oof, "
    "yup, man oh man, oh man, lord have mercy, let me think, what was it, hang on, i'll tell "
    "you what, i tell you what, you ain't gonna believe this, you won't believe this, believe "
    "it or not, no lie, if you can believe it, finally, at last, as it happens, fyi, by the "
    "way, let me count, as of now, as of today, my friend, buddy, boss, if you want to be "
    "exact, to be exact, if you want it exact, to be precise, if it matters, for what it's "
    "worth, if i'm honest, to tell the truth, if you ask me, already, good news, in no time, "
    "ended up, had to, chalk up, counted up, okay cool, cool cool, "
    "near as i can tell, as near as i can tell, as far as i can tell, far as i can tell, if i "
    "counted right, by my count, guess what, turns out",
    "AND": "and, n, comma",
    "CONFIRM": "yeah, yep, yes, write, write that, i said, say again, call it, make that, right, "
    "what was it, let me count, hang on, "
    "okay write",
    "ARTICLE": "a, an, the, another, this, that, these, those, some, my, our, "
    "your, his, her, their",
    "THAT": "the, a, an, this, that, these, those",
    "OUR": "the, your, my, our, her, his, their",
    # --- quantities
    "UNIT": "sheet, sheets, stick, sticks, box, boxes, roll, rolls, bundle, bundles, tube, tubes, "
    "pair, pairs, gallon, gallons, gal, pound, pounds, lb, lbs, square, squares, square feet, "
    "square foot, sq ft, piece, pieces, length, lengths, each, linear feet, running feet, feet, "
    "foot, ft, panel, panels, strip, strips, board, boards, bag, bags, pail, pails, can, cans, "
    "case, cases, "
    "pallet, pallets, crate, crates, carton, cartons, quart, quarts, pint, pints, jug, jugs, "
    "cartridge, cartridges, spool, spools, load, loads, truckload, truckloads, skid, skids, pack, "
    "packs, package, packages, packet, packets, pcs, half gallon, half gallons, lift, lifts, "
    "stack, stacks, ounce, ounces, coils",
    "DOZEN": "dozen",
    "COUPLE": "couple, couple of, a couple, a couple of, a couple more, couple more",
    "VAGUE": "a few, several, some, a bunch, a bunch of, a lot of, lots of, many, a handful of, "
    "most of, a few more, some more, "
    "a mess of, a mess, a pile of, plenty of, loads of, tons of, a stack of",
    "AREA": "square feet, square foot, sq ft",
    "SQUAREINCH": "square inch, square inches, sq in",
    "SQUARE": "square, squares",
    "NONE": "no, none, zero, nothing, no more",
    "ABOUT": "about, around, roughly, maybe, almost, nearly, approximately, approx, close to, "
    "just under, just over, give or take, like, probably, i think, i guess, say, somewhere "
    "around, a little over, a little under, in the neighborhood of, at least, at most, more than, "
    "less than, over, under, not sure, better than, upwards of, nearly about, somewhere near, not "
    "quite, a touch over, a touch under, just shy of, "
    "i don't know, i dunno, call it about, "
    "a hair over, a hair under, just a hair over, just a hair under, a bit over, "
    "a bit under, i'd guess, i'd say, i would say, i wanna say, i want to say, "
    "i'm guessing, "
    "the better part of, better part of, the best part of",
    "ORSO": "or so, ish, give or take, more or less, i think, i guess, roughly, maybe, about, or "
    "thereabouts, probably, if that, "
    "a hair over, a hair under, a bit over, a bit under",
    "OR": "or, to",
    "CLAUSE": "and, but, so, okay, ok, alright, because, cause, anyway, anyhow, and then, then, "
    "now, "
    "all right, oh, "
    "before i close this up, about to cover, going to cover, before i cover, before it's "
    "covered, before we close, before she gets buried, before i close, before i seal, before i "
    "wrap, before we cover, before we wrap, before we seal, before i button, before i hide, "
    "before i box, before i bury, "
    "before i put the, before we put the, before i hang the, before we hang the",
    "COLOR": "white, black, brown, almond, bronze, gray, grey, green, red, blue, clay, sand, "
    "cream, tan, dark, new, old, good, full, whole, more, extra, other, vented, solid, all, of "
    "them, last, remaining, big, long, short, those, "
    "spare, single, fresh, brand new, beige, ivory, odd, assorted, matching, prefinished, mill, "
    "perforated, lonely, measly, lousy, stinking, decent, of those, of these",
    # --- lengths
    "INCH": "inch, inches",
    "FOOT": "foot, feet, ft",
    "METRIC": "millimeter, millimeters, millimetre, millimetres, mm, centimeter, centimeters, "
    "centimetre, centimetres, cm, meter, meters, metre, metres, yard, yards, "
    "mil, mils",
    "HEAVY": "heavy, strong, full, plus, fat, a hair heavy, a hair strong, a bit heavy, "
    "a little heavy, a tad heavy, a heavy, a strong, a full, a fat, big, a big",
    "LIGHT": "light, shy, scant, minus, a hair light, a hair shy, a bit light, "
    "a little light, a tad light, a bit shy, weak, a light, a scant, shy of, a shy, "
    "a hair short, scant of, a tad shy",
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
    "laser reads, reads out, "
    "gonna be, going to be, will be, it'll be, that'll be, "
    "gotta be, has got to be, got to be, coming in at, ought to be, oughta be, "
    "should be cut to, needs to be cut to, has to be cut to, wants cutting at, "
    "each of them",
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
    "on, go up, gone up, are up, is up, consumed, chewed through, mounted, applied, "
    "gone through, ran through, blew through, tore through, burned up, flew "
    "through, plowed through, threw up, hanging, installing, nailing up, putting up, put in "
    "place, nailed, screwed up on, stuck on, wrapped on, tacked on, slid in, snapped in, pinned "
    "up, pinned, caulked in, sprayed on, rolled on, brushed on, spread, squeezed out, pumped out, "
    "unrolled, strung, fed in, locked in, buttoned up, drove in, sunk, drove, went down, hung up, "
    "is on, are on, all on, all up, whipped through, ripped through, knocked out, cranked out, "
    "slung up, threw on, slapped on, spent up, eaten up, eats up, soaked up, sucked "
    "up, drank, ate, goes through, swallowed, made use of, finished off, polished off, killed "
    "off, emptied, is in, are in, in place, in and nailed, up and nailed, up now, on now, up so "
    "far, now up, fastened up, stapled up, stapled on, glued on, glued down, nailed down, mounted "
    "up, tucked in, tucked up, got through, popped up, popped on, run through, clipped on, "
    "clipped in, hooked up, "
    "gone into, gone in, burned, "
    "laid down, stood up, stood, plugged in, strapped up, lapped, slid up",
    "LEDBY": "went on, goes on, put on, nailed on, nailed up on, went up on, go on, went in, "
    "went under, went over, put in, put up on, hung on, hung over, hung under",
    "CUTTO": "cut to, cut at, ripped to",
    "OFTHEM": "of them, of those, of these",
    "HIGHOF": "thermometer reads, thermometer says, high of, low of, temperature is, temp, it got "
    "up to, up to, "
    "got up to, heat index, wind chill, feels like, felt like, temp is, temp was, thermometer, "
    "mercury, topped out at, it hit, temperature, real feel, high today, low today, "
    "low this morning, high was, low was, temperature was, warmed up to, cooled off to, cooled "
    "down to, it got down to, got down to, down around, up around",
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
    "the dumpster, in the dumpster, in the trash, tore, cut it short, bad cut, "
    "busted, busted up, bust, ran over, run over, drove over, backed over, stepped on, sat on, "
    "flattened, folded, folded up, crumpled, gouged, marred, nicked, snapped off, shot to pieces, "
    "goofed, goofed up, goofed on, fouled up, flubbed, butchered, chewed up, mutilated, "
    "demolished, destroyed, throw away, throw out, pitched, ditched, binned, tossed out, tossed "
    "away, dumped, discarded, no longer any good, no good anymore, useless, unusable, not usable, "
    "worthless, cut it wrong, cut too long, cut too small, cut too narrow, mis cut, miss cut, "
    "mismeasured, rusted, froze, frozen, faded, delaminated, rotted, twisted, spilled, spilt, "
    "leaked out, dried out, dried up, hardened, set up hard, went bad, gone bad, got wet, got "
    "soaked, swelled, swelled up, swell up, blew off, blown away, flew off, blew over, fell off, "
    "fell off the truck, tore up, torn up, ripped up, trash, in the scrap pile, on the scrap "
    "pile, to the scrap pile, for the scrap pile, scrapping, melted, punctured, cracking, "
    "splitting, breaking, bending, dinged, dinged up, banged up, beat up, chipping, pinched, "
    "squashed, bashed, hacked up, for the dump, to the dump, for the burn pile, on the burn pile, "
    "toast, for firewood, bit the dust, kicked the bucket, is done for, write off, wrote off, "
    "written off, a loss, are a loss, is a loss, drilled wrong, nailed wrong, ruining, wasting, "
    "losing, breaks, cracks, mashed, loused up, boogered, boogered up, screwed the pooch on, "
    "buggered, buggered up, mucked up, defective, came apart, fell apart, blew out, cut crooked, "
    "ripped crooked, ripped wrong, went to waste, went in the trash, went in the dumpster, went "
    "in the scrap pile, went to scrap, stolen, walked off, "
    "in half, right in half, clean in half, trashing, botching, butchering, "
    "junking, tossing, cracking up, killed, "
    "firewood, kindling, got rained on, rained on, got snowed on, got away from me, got away from "
    "us, got away",
    "DELIVER": "delivered, delivery of, delivery, received, picked up, dropped off, unloaded, "
    "brought, bought, brought in, came, arrived, came in, showed up, got in, sent over, got "
    "delivered, took delivery of, loaded, brought out, delivery came, in from, yard delivered, "
    "yard sent, yard sent over, truck brought, supplier delivered, fetched, just came, came "
    "today, hauled in, "
    "just got, got my, landed, sent out, sent us, sent me, shipped, dropped off at, comes in, "
    "came off, came off the truck, truck dropped, truck dropped off, driver dropped, driver "
    "dropped off, supplier sent, supplier dropped, supplier dropped off, supplier brought, yard "
    "brought, yard dropped, yard dropped off, they brought, they delivered, they dropped, they "
    "dropped off, they sent, they sent over, driver left, truck left, driver brought, driver "
    "delivered, truck delivered, lumber yard sent, lumber yard delivered, lumberyard sent, "
    "lumberyard delivered, drops off, brings, brought by, brought over, dropped by, hauled over, "
    "carted in, trucked in, rolled in, turned up, purchased, buying, got hold of, got home with, "
    "stocked up on, restocked, offloaded, unload, accepted, signed for, finally here, made it "
    "here, received from the yard, showed up with, came back with, new delivery, shipment, "
    "shipment of, a shipment of, a load of, load came, truck came, dropped at, picked me up, ran "
    "and got, went and got, went and bought, grabbed, scored, lugged in, brought home, brought "
    "back from the store, got from the yard, got from the store, from the yard, from the "
    "supplier, from the store, from the lumber yard, off the truck, got a delivery of, delivery "
    "had, order came, order came in, order arrived, order is in, order is here, delivery is here, "
    "delivery is in, truck had, truck is here, delivery today, pick up today, "
    "grabbed up, ran out and got, drove in, supply house sent, supply house delivered, supply "
    "house dropped off, "
    "brung, brung me, brought me, "
    "got our, "
    "drop was, today's drop was, shipment was, load was",
    "RETURN": "returned, return, took back, sent back, brought back, taken back, gave back, going "
    "back, went back, returning, back to the yard, back to the store, back to the supplier, to "
    "return, "
    "handed back, handing back, turned in, turned back in, got credit for, credit for, for "
    "credit, credited, drove back, carried back, hauled back, shipped back, took it back, traded "
    "in, exchanged, sending back, taking back, bringing back, giving back, back on the truck, "
    "back to the lumber yard, back to the lumberyard, back to supply, back to the supply house, "
    "to the return desk, at the return desk, went back on the truck, got my money back on, got a "
    "refund on, refunded, got a refund for, dropped back off, swapped back, restocked at the "
    "store, loaded up to go back, to go back, take back, send back, bring back, go back, goes "
    "back, returns, "
    "yard picked up, they picked up, driver picked up, supplier picked up, store took back, "
    "driver took back, yard took back, they took back, driver took, picked up the extra, picked "
    "up the leftover, picked up the unused, came and got, came and took",
    "SENT": "brought, took, sent, carried, hauled, taking, sending, bringing, gave",
    "LEFTOVER": "left, left over, leftover, remaining, on hand, still here, still on site, in the "
    "truck, in the trailer, remain, over, still left, to spare, still in the truck, leftovers, in "
    "stock, to go, still good, "
    "still on the truck, still on the rack, still in the shed, still in the garage, still in the "
    "box, still untouched, unopened, to my name, still around, still sitting here, sitting here, "
    "still laying here, laying here, lying around, laying around, left on the truck, left in the "
    "truck, left in the trailer, left in the shed, left in the garage, left in the box, left on "
    "the pile, in the pile, on the pile, still to use, in the van, in the pickup, left now, left "
    "yet, is left, are left, sitting in the truck, untouched, on the truck still, and holding, "
    "on site",
    "COUNTED": "counted, count, on hand, have, still have, we have, i have, inventory, got left, "
    "left with, left over, leftover, still got, down to, we still have, i still have, i've still "
    "got, we've got, i've got, i count, counting, there's still, leftovers, remaining, "
    "leaves us with, leaves me with, leaves us, leaves me, that leaves, leaving, leaves, left me "
    "with, left us with, count is, count says, my count is, counts, inventory is, inventory says, "
    "stock is, stock says, on the shelf, pile has, box has, kept, sitting on, down to just, have "
    "left, have got, am down to, still holding, remaining is, all that's left is, all that is "
    "left is, all i've got left is, all i have left is, all we've got left is, all we have left "
    "is, what's left is, what is left is, only have, only got, i only have, we only have, just "
    "have, we're down to, i'm down to, got about, stock check, all we got left is, all i got left "
    "is, there's still a, remains, in stock is, on hand is, on hand we have, found another, still "
    "sitting on, ended up with, end up with, wound up with, wind up with, "
    "there ain't but, ain't but, ain't got but, there's just, there's only, there is only, got "
    "just, counted up",
    "OUTOF": "out of, ran out of, all out of, used up all the, no more, "
    "fresh out of, clean out of, plumb out of, all gone on, about out of, no more of the, used "
    "the last of, used up the last of, used up the last of the, used the last of the, ran dry of, "
    "ran dry on, that's the last of, finished the last of, went through the last of, that was the "
    "last of, that does it for, that does it for the, we're out of, i'm out of, we are out of, i "
    "am out of, no more of, run out of, running out of, bone dry on, dead out of, that's it for "
    "the, that's the end of, there went the last of, there goes the last of, put up the last of, "
    "hung the last of, "
    "eats up the last of, eats up the last of the, ate up the last of, took the last of, takes "
    "the last of, there goes the last of the, took the last of the",
    "NEED": "gonna need, could use, i could use, we could use, going to want, gonna want, it'll "
    "take, could stand to have, remind me to buy, remind me to order, need, needs, need to get, "
    "need to order, order, still need, short, missing, we need, i need, have to get, pick up, "
    "buy, needed, will need, going to need, bring, gotta have, got to have, gotta get, shopping "
    "list, grab, short on, we're short, low on, running low on, get me, reorder, we'll need, i'll "
    "need, short by, have to order, remind me to get, don't forget "
    "to order, on the list, "
    "gotta buy, got to get, got to buy, have to buy, need to buy, need to pick up, have to pick "
    "up, gotta pick up, lacking, have them send, have them send out, have them bring, tell them "
    "to send, tell them to bring, add to the order, to the order, for the order, to the list, "
    "order me, order us, order up, must get, must have, must buy, can use, we'll want, i'll want, "
    "won't make it without, won't finish without, be short, coming up short, came up short, run "
    "short, running short, ran short, comes up short, am short, wasn't delivered, to buy, to get, "
    "to order, to pick up, on the shopping list, put me in for, be sure and get, be sure to get, "
    "make sure to get, remember to get, remember to buy, remember to order, don't forget to get, "
    "don't forget to buy, don't forget, required, requires, calls for, will take, "
    "gonna take, going to take, ought to get, should get, should order, oughta do, ought to do, "
    "should do it, would do it, will do it, ought to do it, grab me, gonna be short, going to be "
    "short, gonna be shy, going to be shy, bring me, bring up, bring out, "
    "fetch me, fetch, still to come, still coming, yet to come, yet to get, still missing, wish i "
    "had, could stand, be needing, gonna be needing, going to be needing, "
    "get us, "
    "pick me up, should cover, should "
    "be enough, will cover it, would be enough, gets us there, "
    "gonna need me, need me, i need me, need me another, "
    "to send, to bring, order us up, order me up, i'd like, we'd like",
    "WAS": "is, are, was, were, got, get, been, be, has, have, all, just, have been",
    "EACH": "each, apiece, a piece, per, every, "
    "a pop, a throw, each one, per piece, for each, a copy, per each, piece",
    "MONEY": "dollar, dollars, bucks, buck, cent, cents, buckaroos",
    "LOT": "for the lot, for all of them, altogether, total, all in, for the whole lot, in all, "
    "the lot, for everything, for both, for the pair, for the bunch, for the whole bunch, all "
    "together, for the whole thing, for the load, for the order, the whole lot, for it all, "
    "for the both of them, for both of them, for the two of them, for the set",
    # What a piece is like; a verb where nothing follows: "eight sheets used".
    "STATE": "bent, wet, unopened, unused, leftover, damaged, cracked, broken, used, warped, "
    "dented, scratched, ripped, torn, crushed, faded, rusty, bad, ruined, split, chipped, "
    "soaked, "
    "half used, opened, open, busted, partial, scrap, junk, usable, twisted, cut, spoiled, "
    "kinked, "
    "painted, primed, center, defective, rotted, moldy, rusted, mangled, smashed, remaining, "
    "left",
    "BOTHOF": "both, both of the, both of those, both of them, both of my",
    "MUCKED": "screwed, messed, mucked, fouled, banged, busted, tore, beat, chewed, loused, "
    "goofed, "
    "boogered, jacked, balled",
    "SINGLE": "sheet, stick, box, roll, bundle, tube, gallon, pallet, case, bag, crate, carton, "
    "load",
    "TELLING": "tell, tell the, told, call, call the, called, texted, text, let",
    "AHEAD": "tomorrow, tomorrow i, tomorrow we, for tomorrow",
    "ONEPIECE": "a piece",
    "MISSINGA": "missing a",
    "LEFTOF": "left of, remaining of, leftover of, left over of",
    "ONE": "a, an, another",
    "AFULL": "a full, a big, a heavy, a light",
    "ORDINAL": "first, second, third, fourth, fifth, sixth, seventh, eighth, ninth, tenth, "
    "eleventh, "
    "twelfth",
    "REMIND": "remind me, remind me to, remember to, don't forget to, note to self, don't let me "
    "forget, make sure to, be sure to, make sure we, make sure i, make sure",
    "CUTUP": "cut up, chopped up, sawed up, sawed down, ripped down, cut down, cut in",
    "NOTANY": "not a, not one, not any, not a single, not a one, not so much as a, not even a, "
    "not "
    "even one, ain't a, ain't one, ain't any, isn't any, isn't a, isn't one, ain't no, "
    "don't have any, haven't got any, haven't any, don't have a, haven't a, haven't "
    "got a, don't have a single, haven't got a single, ain't got a, ain't got any, ain't got no, "
    "hardly any, not a lick of",
    "PAID": "paid, i paid, we paid, charged me, charged us, cost me, cost us, cost, costs, ran "
    "me, "
    "ran us, run me, set me back, set us back, spent, came out to, came to, they want, they "
    "charged "
    "me, they charged us, price was, price is, going for, went for, gave, paying, running me, "
    "bill was, bill came to, total came to, invoice was, sold me",
    # Verbs and parts of verbs that tell nothing of an amount further off.
    "WEAK": "over, to go, short, ran, set, got, in, took, lost, bad, put up, left, came, back, "
    "buy, "
    "get some, get more, order, light, broke, split, popped, bring, on the list, have, go up, "
    "use, "
    "arrived, showed up, pick up, is up, is on, is in, are in, in place, drove, down, went "
    "up, "
    "went in, went on, went over, went under, went into, to get, to buy, to order, to pick up, "
    "came "
    "in, is left, are left, shot, ate, laid, placed, cracks, breaks, toast, trash, junk, scrap, "
    "to "
    "return, garbage, returns, lack, fetch, would do, spread, nailed, glued, from the yard, from "
    "the store, from the supplier, delivery, went back, torn, cut short, go back, remain, "
    "ripped, needs, brings",
    # --- time and labor
    "START": "started, start, starting, began, begin, clocked in, got started, starting work, "
    "start work, started work, on the job, got to work, on site, got going, kicked off, got "
    "rolling, got moving, got at it, got after it, on the clock, tools out and working, punched "
    "in, dug in, up and at it, first nail, getting going, getting started, starting up, started "
    "up, started in, first hammer, clocking in, punching in, fired up, opened up, tools out, "
    "firing up, hit it, got cracking, boots on the ground, on site, hit the ground, broke out "
    "the tools, set up and started, underway, commenced, start time, "
    "hit the job, start of day, start of the day, arrived on site, ready to roll, ready to go, "
    "resumed, resuming, working again, back working, clock me in, put me in, began work, got "
    "set up, kicked it off, picked back up, opened the trailer, unlocked the trailer, and we're "
    "off, we're off, "
    "picked it back up, picked up where we left off",
    "ARRIVE": "arrived, got here, here, showed up, back at it, back at work, back to work, "
    "back, came, came in, got back, rolled in, up and running, pulled in, in, at work, back on "
    "the ladder, set up, pulled up, made it, made it here, got on site, got to the site, got to "
    "the job, got out here, got up here, on it, at it, on site, back on it, back on the job, "
    "back from lunch, got in, showed, got to the house, joined me, joined us, came on, hopped "
    "on, came to help, started with me, got dropped off, made it in, came by to help, "
    "on the ladder, back on the wall, back on the roof, back on the scaffold, back on the "
    "staging, arrived at the job, arrived at the house",
    "ONSITE": "arrived, got here, showed up, back at it, back at work, back to work, got back, "
    "rolled in, up and running, pulled in, at work, back on the ladder, pulled up, made it, "
    "made it here, got on site, got to the site, got to the job, got out here, got up here, on "
    "site, back on it, back on the job, back from lunch, got in, got to the house, joined me, "
    "joined us, hopped on, came to help, started with me, got dropped off, made it in, came by "
    "to help, on the ladder, back on the wall, back on the roof, back on the scaffold, back on "
    "the staging, arrived at the job, arrived at the house",
    "WEAKLY": "here, back, on it, at it",
    "ATWORK": "on the ladder, at work, on site, on it, at it, up and running, back at it, back "
    "on it, back at work, back to work, on the clock, on the job, on the roof, on the scaffold",
    "STOP": "stopped, stop, finished, finish, quit, knocked off, done for the day, called it a "
    "day, heading home, packed up, clocked out, quitting, packed it in, finished up, end of "
    "day, stopping, going home, stopped work, quit early, quitting time, that's it for today, "
    "that's a wrap, shut down, shut it down, rolled up, wrapped it up, wrapped up, wrapping up, "
    "packed up the tools, called it, pulled off, that's it for the day, off the clock, calling "
    "it, headed home, headed out, shut her down, dropped the tools, lights out, gave up, gave "
    "it up, knocking off, rolling out, punched out, done for the night, done working, done "
    "work, put the tools away, tools down, called her a day, locked up, loaded up, packing up, "
    "packing it in, shutting down, closed up shop, last one out, pulled the plug, cut out "
    "early, called it quits, hung it up, clocking out, wrapping it up, quits, tools away, "
    "bagged it, shut it all down, that'll do it for the day, that'll do it for today, that'll "
    "do it, that's all for today, end of the day, that's it for me, done for today, calling it "
    "a day, calling it quits, tools in the truck, tools loaded, truck is loaded, rained us out, "
    "rained me out, got rained out, ran us off, snowed out, lost the light, lost daylight, ran "
    "out of daylight, ran out of light, got dark, too dark to see, wrapped things up, finished "
    "things up, wound it up, buttoned it up for the day, buttoned up for the day, rolled up the "
    "cords, put up the tools, heading out for the day, pack it in, that was it, gone home, done "
    "and gone, stop time, end time, "
    "finish time, quit time, clock me out, put me out, that's a day, that's the day, that's my "
    "day, everybody out, all out, we're done, i'm done, cleaned up and gone, off the ladder, "
    "swept up, cleared out, left for the day, left early, left for home, bailed, had to quit, "
    "had to stop, stopped early, stopping early, done early, knocked it off, signed off, "
    "signing off, pulling off the job, pulling off site, locked the trailer, closed the "
    "trailer, that's quits, finished for the day, off the roof, off the job, "
    "packing it up, packing her up, enough for today, enough for one day, that's enough for "
    "today, good enough for today, that wraps it up for the day, that wraps it up, that does it "
    "for today, that does it, closed up the trailer, closed up the truck, locked up the "
    "trailer, put the tools up, picking up the tools, putting the tools away, heading to the "
    "house",
    "LEAVE": "left, done, all done, off site, out of here, gone, went home, leaves, off, heading "
    "out, "
    "took off, went on home, heading home, headed home, home, out the gate, leaving, split, "
    "got out of here, drove off, pulled out, rolling out of here, cut out, bailed, "
    "had to go, had to leave, has to go, has to leave, clocked out, headed out, went to the "
    "doctor, had to split, checked out",
    "DONE": "done, all done, outta here, out of here, heading out, finished, gone",
    "DROVE": "stopped us, stopped me, shut us down, shut me down, ran us off, ran me off, "
    "chased us off, chased me off, drove us off, drove me off, sent us home, sent me home, "
    "rained us out, rained me out, "
    "got chased off by, chased off by, got run off by, run off by, got rained off, got chased "
    "off, got run off, got blown off",
    "PUTAWAY": "pulled, put, loaded, rolled, packed, picked up, hauled, folded, locked, stowed, "
    "tarped, loaded up, locked up, rolled up, put away, packed up, took down, took",
    "SETUP": "set up, unlocked, unloaded, opened, opened up, got out",
    "DELAYED": "held us up, held me up, delayed us, delayed me, cost us, cost me, set us back, "
    "set me back, slowed us, stopped us for, stopped me for",
    "AT": "at, by, since, as of",
    "BREAK": "lunch, break, coffee, coffee break, lunch break, dinner, rain delay, downtime, "
    "down time, waited, waiting, took lunch, took a break, had lunch, breakfast, sat out, sat "
    "out the rain, waited out the rain, waited on, for lunch, for coffee, water break, rain "
    "break, smoke break, delay, rained out, for a break, broke for lunch, held up, smoke, a "
    "smoke, breather, snack, rest, rested, lunch run, coffee run, breakfast run, supper, nap, "
    "bite to eat, a bite to eat, sandwich, a sandwich, for a smoke, cigarette, a cigarette, a "
    "coffee, parts run, hardware store run, store run, supply run, waiting for, waiting around, "
    "stood around, sat around, parked it, broken down, rain hold, in the shade, sat in the "
    "truck, run for coffee, eating, ate lunch, for breakfast, "
    "breaks, coffee breaks",
    "IDLE": "sat down, took off, down, lost, idle, shut down, stopped, knocked off, broke, "
    "broke off, "
    "held up, out, hung up, stuck, paused, took, sat, laid off, off, was off, took off, stepped "
    "away, ran out, "
    "quit, shut down for, delayed, waited out, "
    "waited, had to stop, had to wait, had to quit, had to shut down, waiting",
    "EATING": "ate, eating, lunched, had lunch, took lunch, broke for lunch",
    "RESTPLACE": "in the truck, in the trailer, in the shade, in the van, on the tailgate",
    "RESTING": "sat down, sat, rested, broke, paused, knocked off, took off, broke off",
    "HOURWORD": "hour, hours, hrs, hr, man hours, crew hours",
    "MINUTE": "minute, minutes, min, mins",
    "OCLOCK": "o'clock, oclock, sharp, o clock",
    "AM": "am, a m, this morning, in the morning, morning, this mornin",
    "PM": "pm, p m, this afternoon, in the afternoon, afternoon, in the evening, tonight, at night",
    "NOON": "noon, midday, midnight",
    "PAST": "past, after",
    "TO": "to, till, til, before, of, until",
    "UNTIL": "to, till, til, until, through",
    "HELPER": "helper, helpers, apprentice, my helper, my apprentice",
    "MEN": "man, men, guy, guys, people, workers, hands, of us, man crew, "
    "others, other guys, other men, other people, more guys, more men, fellas, fellows, bodies, "
    "person crew, man team, guy crew, of the guys, more hands, of the crew",
    "ITS": "it's, it is, it was",
    "ME": "me, i, just me, only me, myself",
    "KIN": "kid, boy, son, brother, nephew, cousin, buddy, partner, wife, dad, father, uncle, "
    "daughter, guy, man, fella, hand, other guy, other man, brother in law, son in law, laborer, "
    "foreman, neighbor kid, new guy, new kid, old man, boss, carpenter, young fella, kids, one "
    "other",
    "DOING": "hanging, putting, laying, nailing, running, setting, setting up, doing, helping, "
    "cleaning, "
    "fixing, tearing, tearing off, ripping off, taking down, picking up, loading, moving, "
    "caulking, "
    "painting, building, pulling, prepping, bending, measuring, unloading, trimming, getting "
    "ready, "
    "cleanup, clean up, setup, teardown, prep, layout, travel, driving, paperwork, sweeping up, "
    "sweeping, setting up the, demo, tear off, hauling, digging, chasing, looking for, hunting",
    "PLAINLY": "anywhere, batch, belly, early, late, gets, go, helped, keeps, once, shows, "
    "time, where, push, pull, heave, us, labor, duration, "
    "task, "
    "job, grabbed, w, "
    "blows",
    "NAME": "danny, ray, mike, joe, bob, bill, tom, jim, john, dave, steve, mark, paul, pete, "
    "sam, "
    "luis, jose, juan, carlos, miguel, tony, nick, matt, chris, kevin, brian, eddie, frank, gary, "
    "greg, jack, jake, jeff, jerry, josh, kyle, larry, lou, manny, marco, marty, max, mickey, "
    "pat, phil, randy, rick, ricky, rob, ron, ryan, scott, sean, ted, terry, tim, travis, tyler, "
    "vic, walt, wes, zach, maria, ana, rosa, linda, lisa, sue, kim, kate, amy, jen, jess, hector, "
    "pedro, pablo, raul, ivan, sal, vinnie, al, andy, ben, charlie, dan, dean, don, doug, earl, "
    "ed, "
    "ernie, felix, fred, george, hank, harry, howie, ike, jimmy, johnny, ken, lenny, leo, mario, "
    "mitch, ned, omar, oscar, ralph, roy, russ, stan, ty, wade, will junior",
    "BOTH": "both of us, the both of us, us both, us two, both guys, both men, we both",
    "CROWD": "everybody, everyone, the whole crew, whole crew, the whole gang, whole gang, all of "
    "us, we all, the guys, the crew, all the guys, the boys, boys, "
    "crew",
    "APIECE": "apiece, each, a man, per man, a head, a piece",
    "BOOK": "let's call it, let's say, call it, charge, charged, figure, figured, put down, "
    "log, book, bill, billed, mark down, chalk up, "
    "put, add, write down, write up, did, give it, gave it, went, got in, had, run, easy, enter, "
    "ended up, ended up being, used up, killed, burned, burned up, logged, got, need to log, "
    "total, "
    "you can put me down for, put me down for",
    "GOODLY": "good, solid, full, whole, long, extra, more, other, last, hard, straight, real, "
    "big, "
    "another, every bit of, all of, one more, single, couple more, short",
    "ALONE": "alone, by myself, myself, just me, on my own, solo, working alone, only me, "
    "just myself, single handed, no helper, without help, no help, one man, one man crew, one "
    "man show, working solo, alone today, "
    "nobody here but me, nobody but me, no one else, nobody else, "
    "working by myself, working on my own, worked alone, worked by myself",
    "WORKED": "worked, working, spent, put in, took, work, put in, worked on, ran, ate up, went "
    "on, "
    "ate",
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
    "eave return, gable return, "
    "cheek, chase, ledger, lid, slider, skylight, cupola, return, sliding door, patio door, "
    "entry door, bathroom, kitchen",
    "BIGPART": "carport, breezeway, porch, garage, dormer, chimney, gable, roof, deck, shed, "
    "addition, "
    "entry, mudroom, patio, sunroom, driveway, bump out, slider, front door, back door, "
    "garage door, cupola",
    "MINOR": "end, corner, peak, valley, ridge, side, edge, section, bottom, top, middle, rake, "
    "row, course",
    "BESIDE": "over by, over, above, below, under, underneath, beneath, behind, beside, "
    "next to, left of, right "
    "of, to the left of, to the right of, past, by, near, around, alongside, just past, just left "
    "of, just right of, across from, right by, right next to, just above, just below, just under, "
    "right above, right below, right under, right over, just over, "
    "opposite, opposite of",
    "BETWEEN": "between, in between",
    "IN": "on, at, in, for, along, from, to, onto, off, up to, across, all along, all over, "
    "to finish, to do, to complete, to get around, to trim out, to close in",
    "WHEN": "weekend, the weekend, monday, tuesday, wednesday, thursday, friday, saturday, "
    "sunday, "
    "easter, christmas, thanksgiving, winter, spring, summer, night, month, end of the day",
    "BECAUSE": "because, because of, due to, in, by, on, off, from, when, while, during, with, "
    "at, against, under, after, trying, going, out of, it, the, wrong, too, "
    "cause",
    "WHY": "because, because of, due to, on account of, too much, too, cause",
    # --- the rest of a working day
    "DEGREES": "degrees, degree, degrees fahrenheit, above, degrees out, in the shade, out, "
    "outside, fahrenheit, "
    "above zero, outside right now",
    "SKY": "rained, it rained, snowed, blowing, gusting, cold, hot, warm, windy, rain, raining, "
    "rainy, snow, snowing, wind, sunny, sun, cloudy, overcast, clear, frost, freezing, humid, "
    "wet, dry, cool, storm, foggy, fog, gusty, drizzle, sleet, calm, muggy, chilly, icy, light "
    "rain, heavy rain, light snow, heavy wind, gusts, heavy frost, heavy dew, drizzling, breezy, "
    "hail, thunder, lightning, light wind, dew, "
    "damp, thunderstorm, thunderstorms, showers, shower, downpour, misty, mist, snowy, stormy, "
    "sleeting, hailing, freezing rain, pouring, pouring rain, sprinkling, sprinkle, sprinkles, "
    "flurries, scorcher, hazy, haze, brisk, crisp, frosty, nippy, bitter, mild, balmy, nice "
    "day, nice out, beautiful day, beautiful out, gorgeous out, sticky, dry out, partly cloudy, "
    "partly sunny, clouds, clouded up, clouding up, no wind, no clouds, no rain, not a cloud, "
    "hot out, cold out, wind chill, lightning, muddy, mud, slick, ice, dreary, drizzly, steady "
    "rain, hard rain, blizzard, cold front, heat wave, dew, sun out, sunshine, "
    "raining hard, snowing hard, raining a little, blowing hard, "
    "cold one, hot one, warm one, a hot one, a cold one, wet one",
    "WIND": "blowing, gusting, gusts, wind, winds, light wind, heavy wind, gusty, breeze, blew, "
    "gusting to, gusts to, gusts of, gusting at, breezes, "
    "windy",
    "TENS": "twenties, thirties, forties, fifties, sixties, seventies, eighties, nineties, teens, "
    "single digits, hundreds, triple digits",
    "NEGATIVE": "minus, negative",
    "BELOW": "below zero, below",
    "SKYDID": "started, stopped, quit, let up, picking up, picked up, coming, coming in, came "
    "in, moved "
    "in, blew in, cleared up, cleared off, clearing, clearing up, burned off, died down, dying "
    "down, "
    "rolled in, rolling in, held off, kept up, on and off, off and on, moving in, hit, coming "
    "down, "
    "came, out, came out, starting, begin, began, start, stopping, lifted, turned, turning",
    "WEATHER": "weather, temperature, temp, the weather is, it's, it is, outside, high of, low "
    "of, temperature is, it was, it got up to, it's about, getting, too, pretty, really, very, a "
    "bit, "
    "a little, a bit, and a bit, some, kinda, kind of, sort of, plenty, awful, awfully, mighty, "
    "starting to, started to, fixing to, beginning to, fixin to",
    "COVER": "close this up, before i close this up, sealing up, sealing, going to hide, hide, "
    "concealed, conceal, cover, covers, covers it, cover up, is closed now, goes over it, about "
    "to hide, closes up, gets buried, will ever see, covered, covering, about to cover, going to "
    "cover, closing up, closed up, closing, buried, burying, hiding, hidden, sealed up, about to "
    "close, about to be covered, covering up, covered up, boxed in, boxing in, going to be "
    "hidden, going to be covered, this gets covered, before i cover, about to bury, before it's "
    "covered, gets covered, i'm covering, getting covered, before we close, closed in, sheathing "
    "over, wrapping over, about to wrap, will be covered, will be hidden, won't see, "
    "nobody will ever see, never see again, see again, last look, disappears, out of sight, "
    "going over top of, closing her up, close it up, closing it up, buttoning up, button it up, "
    "buttoned up over, boxing it in, boxed it in, gets boxed in, will be behind, goes behind, "
    "about to disappear, gone for good, before she gets buried, getting buried, getting closed "
    "in, sealed in, sealing it up, skinned over, sheeted over, sheathed over, gets hidden, gets "
    "sealed, "
    "won't be seen, be seen again, seen again, be visible again, close this, close it in, "
    "before i close, before i seal, before i wrap, before we cover, before we wrap, before we "
    "seal, before i button, before i hide, before i box, before i bury, "
    "going over, goes over, goes on over, going on over, is going over, "
    "before i put the, before we put the, before i hang the, before we hang the, before it goes "
    "up, last chance to see, last chance, going to be behind, gonna be behind, before i nail, "
    "close up, "
    "gonna bury, gonna cover, gonna hide, gonna close, going to bury, going to close",
    "TROUBLE": "problem, problem with, trouble, issue, careful, careful with, bad news, heads "
    "up, rotten, rot, leak, leaking, trouble with, issue with, uh oh, "
    "watch out for",
    "FAULT": "asbestos, chewed, lead paint, termite damage, damage, won't lock, bad batch, "
    "don't match, doesn't match, not matching, getting in, no duct, popped, not bending, "
    "heaved, soaking wet, quit on me, mush, bats, squirrels, not good, moves, it's broke, won't "
    "close, stripped, uneven, peeling, rodents, mice, wet behind, delaminated, never put on, "
    "unsafe, punky, spongy, rotted, wrong, rotten, rot, leaking, leaks, not square, not plumb, "
    "not level, out of square, out of plumb, out of level, doesn't fit, won't fit, loose, "
    "rusted, rusty, big scratch, dent, soft spot, soft, mold, moldy, termites, carpenter ants, "
    "hornets, wasps, bees, nest, water damage, water stain, sagging, sags, bowed, crooked, off "
    "by, pulling away, is bad, was bad, no backing, nothing to nail to, wavy, gap behind, "
    "missing a, stuck, wrong color, wrong size, the wrong way, hit a nail, hit a wire, not "
    "straight, isn't straight, out of line, upside down, backwards, inside out, live wire, bare "
    "wire, bare wires, knob and tube, exposed wire, exposed wires, racked, warped, lifting, "
    "curling, cupped, twisted, hanging by, hanging off, falling off, fell off, coming off, "
    "coming loose, came loose, pulled away, pulled loose, separated, separating, foamed, "
    "gouged, crumbling, crumbled, rusting, corroded, clogged, plugged, plugged up, bulging, "
    "buckling, bubbling, blistered, swollen, swelled, cut through, notched, ants, bees, wasp "
    "nest, hornet, mouse, birds, bird nest, raccoon, raccoons, carpenter bees, woodpecker, "
    "woodpecker holes, hole, holes, crack, cracks, wet spot, wet rot, dry rot, rot hole, "
    "daylight, drafty, won't hold, won't line up, doesn't line up, don't line up, won't go in, "
    "won't go, won't start, won't run, won't lay flat, won't snap, won't shut, won't open, "
    "jammed, seized, seized up, tripped, out of whack, out of level, cockeyed, not flush, "
    "proud, isn't any, nothing behind, no meat, nothing solid, not nailed, not attached, not "
    "fastened, not sealed, never sealed, never nailed, never primed, unprimed, unpainted, "
    "ungrounded, not grounded, bent over, in the way, wrong stuff, wrong profile, wrong "
    "material, wrong order, mismatched, faded, discolored, stained, scuffed, scratches, dents, "
    "dinged, dinged up, beat up, shot, eaten up, eaten, gone bad, falling apart, failing, "
    "failed, recalled, defective, defect, hit a pipe, hit a stud, hit a cable, cut a wire, cut "
    "a cable, nicked, nicked a wire, punctured, you can see daylight, you can see through, is "
    "bare, are bare, wet inside, water coming in, water is coming in, water getting in, water "
    "is getting in, water running, water behind, water in the, dripping, seeping, wicking, "
    "condensation, wet clear through, wet all the way through, soaked through, rotted out, "
    "pulling off, pulling loose, rubbing, rubbing on, is shot, aren't even, isn't even, not "
    "even, isn't flat, isn't plumb, isn't level, isn't square, aren't plumb, aren't level, "
    "aren't square, ain't level, ain't square, ain't plumb, not flat, not lined up, not tight, "
    "hornet's nest, wasps nest, isn't flush, won't sit flat, "
    "clean through, big gap, gap where, gap between, water stains, stains, water marks, "
    "daylight showing, full of, eaten through, "
    "popping, is broken, are broken, popping off, popped off, "
    "ate through, eaten by, chewed up",
    "TOO": "too close, too wide, too long, too short, too high, too low, too narrow, too tight, "
    "too thick, too thin, too big, too small, too shallow, too deep, out of plumb, out of level",
    "QUALITY": "grounded, nailed, sealed, attached, flashed, fastened, caulked, primed, vented, "
    "supported, level, plumb, square, straight, even, flush, flat, tight, secured, anchored, "
    "insulated, painted, lined up, screwed down, nailed down, nailed off, blocked, braced, "
    "connected, hooked up, working right, draining, holding",
    "ISNOT": "isn't, aren't, wasn't, weren't, not, never, ain't",
    "COMPARED": "lower, higher, wider, narrower, shorter, longer, taller",
    "OUTBY": "out, off, dips, dip, dipped, sags, sag, bows, bow, dropped, drops, settled, sunk, "
    "sinks, "
    "leans, leaning, crowned, crown, crowns, hump, humps, twisted, cupped, racked, bowed, "
    "sagging, "
    "wavers, wanders, runs off, runs out, falls off, kicks out, kicked out, bulge, bulges, "
    "bulged, tapers, tilted, tilts, heaved, lifted, pulled away, out of plumb, out of level, "
    "out of "
    "square, out of line, low, proud, off level, off plumb, short, heaves, rolls, rolled, moved, "
    "shifted, slid, dips down, swayback, sway, swale, rotted, rot, dry rot, rotten, goes right in",
    "LACK": "flashing, backing, blocking, nailer, nailers, house wrap, housewrap, wrap, vapor "
    "barrier, "
    "insulation, sheathing, felt, felt paper, tar paper, ledger, framing, solid wood, vapor, "
    "header, "
    "kickout, air gap, wood, weep holes, lookouts, hangers, vents, vent, ventilation, baffles, "
    "ground wire, ground, support, primer, caulking, studs, rafters, sub fascia, joist",
    "CRACKED": "cracked, split, broken, broke, bent, chipped, torn, warped, snapped, crushed, "
    "buckled, "
    "smashed, ripped, ripped off, torn off, tore, tore off, missing, damaged, blown off, "
    "loose, busted, busted up, kinked, shattered, came off, gone, dented, ruined, shredded, "
    "ripped up, "
    "cut short, cut too short, cut wrong",
    "WETNESS": "wet, damp, soaked, saturated, soaking, mushy, black, cracked, split, spongy",
    "UNCOVERED": "before it's covered, before it gets covered, before it's closed up, before "
    "it's buried, before it's hidden, before it's sealed up, before it goes, before it's gone",
    "BREAKDOWN": "quit, quit on me, died, dead, broke, broke down, busted, not bending, not "
    "working, won't start, won't run, won't hold, leaks, tripped, tripping, jammed, jams, "
    "jamming, smoking, acting up, out of gas, ran out of gas, overheated, overheating, burned "
    "out, burnt out, blew, blew up, seized up, won't shut off, slipping, bent, cracked, "
    "misfiring, stalling, stalled, not cutting, burned up, gave out, went down, "
    "shot, toast, dull, worn out, frayed, has a bent, wore out, "
    "is shot, are shot",
    "HASNO": "no, has no, have no, had no, got no, without any, ain't no, isn't any, "
    "never any, not any, without, ain't any, missing the, wasn't any, "
    "nobody put, nobody put any, never put, never put any, they forgot the, forgot the, left "
    "out the, left off the, skipped the, without the",
    "NOTE": "note, note that, note to self, remember, remember to, remember that, reminder, "
    "remind me, for the record, question, don't forget, memo, make a note, call, check, ask, "
    "tell, checked, plan is, plan is to, hope to, hoping to, plan to, idea, asked, called, told, "
    "talked to, paid, owes, owner, customer, homeowner, inspector, neighbor, tell the, color is, "
    "quoted, think about, deliver to",
    "RECORD": "for the record, note, memo, heads up, see",
    "PHOTO": "photo, photos, picture, pictures, take a photo, take a picture, took a picture, "
    "took a photo, taking a picture, taking a photo, snap, take photo, photo of, picture of, "
    "photos of, pictures of, take a photo of, take a picture of, took a picture of, took a "
    "photo of, taking a picture of, taking a photo of, photograph, photographed, pic, pics, pic "
    "of, snapshot, snapped, shot of, got a picture of, get a picture of, got a photo of, get a "
    "photo of, snap a picture of, snapping a photo of, camera on, camera, close up of, get a "
    "close up of, closeup, closeup of, video of, video, a shot of, get a shot of, got a shot "
    "of, image of, take a shot of, snap of, took a snap of, grab a picture of, grab a photo of, "
    "grab a shot of, photographing, get pictures of, got pictures of, more pictures, selfie, "
    "get me a photo of, get me a picture of, get me a photo, get me a picture, need a photo of, "
    "need a picture of, want a picture of, want a photo of, a close up, close up shot, close ups",
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
    "that was wrong throw it out, "
    "take that one off, take that off, take it off, take it out, forget what i just said, "
    "take that last one off, take the last one off, take that last one off the list, "
    "take that off the list, take the last one off the list",
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
    "make those, make them, "
    "let me correct that, let me fix that, let me change that, but it was, "
    "but it's really, but it was really",
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
    "NOWAIT": "er, no, wait, no wait, wait no, sorry, actually, hold on, uh no, or rather, "
    "rather, "
    "oops, nope, whoops, my mistake, my bad, excuse me, correction, "
    "i am sorry, i'm sorry",
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
    "estimate, estimated, bid, next time, should be, it should be, figuring on, planning on, "
    "thinking about, thinking of, aiming to, aiming for, shooting for, is coming, coming "
    "monday, coming tuesday, coming wednesday, coming thursday, coming friday, coming saturday, "
    "coming tomorrow, coming back, fixing to, looking to, next thing, next up, wanna, want us "
    "to, wants us to, would be, should be, might be, promised, scheduled, scheduled for, "
    "penciled in, monday we, tomorrow we, tomorrow i, i'd, we'd, in the morning i'll, then "
    "i'll, then we'll, if we, if i, if it, if the, unless, shall, may, when we get to, wish, "
    "hopefully, hope, let's, let us, gotta, gotta be, got to be, have to be, need to be, he'd, "
    "she'd, they'd, "
    "i want to, we want to, i wanna, "
    "forecast, forecast says, the forecast, calling for, they're calling for, chance of, "
    "supposed to rain",
    "WILLBE": "gonna be, going to be, will be, it'll be, that'll be, she'll be",
    "LATER": "tomorrow, next week, by monday, by friday, later, next time, coming up",
    "TALK": "hand me, hand me up, pass me, pass it, pass that, toss me, throw me, bring me, "
    "send up, "
    "send me, send it, send that, hold that, hold it, hold this, hold the, hold your, hold still, "
    "hold up, grab the other, grab that, grab this, grab the, grab your, grab hold, grab it, "
    "lift it, "
    "lift, lift up, lower, lower it, easy, watch your, watch that, watch the, watch it, watch "
    "yourself, "
    "look out, look at, look at that, look up, looky here, give me a hand, give me a minute, "
    "give me a "
    "sec, give me a second, give me that, give me the, give it a, give me some, can you, can "
    "we, could "
    "you, would you, will you, will ya, would ya, did you, did he, did she, did they, do you, "
    "do we, "
    "does he, does it, does that, are you, are we, are they, have you, has he, you, you got, "
    "you want, you need, you can, you're, you see, you should, you guys, you all, y'all, your, "
    "yours, "
    "you'll, you've, you'd, tell him, "
    "ask him, ask her, tell her, tell them, let me know, let go, let it, let him, let her, come "
    "on, "
    "come here, come down, come up here, come over, move the, move that, move it, move your, "
    "move over, slide that, slide it, slide the, slide over, push it, pull it, push that, pull "
    "that, push "
    "up, pull up on, turn that, turn it, turn the, turn off, turn on, shut that, shut it off, "
    "shut off, "
    "shut the, kill the, start the, wait up, wait a minute, wait a second, wait for me, hang on "
    "a, "
    "hang on a second, be right, be right there, stay there, stay back, stay put, step back, "
    "don't "
    "step, don't move, keep it, keep going, keep coming, keep that, put it back, put that, put it "
    "down, put the, right there, over here, up a hair, down a hair, up a bit, "
    "down a bit, a little more, little more, whoa, hello, hi, good morning, good afternoon, "
    "ma'am, sir, "
    "no sir, yes sir, yes ma'am, thanks, where'd, where is, where's, where are, where did, "
    "where do, who is, who's, who has, who left, who took, how is, how's, how long, how many, "
    "how much, "
    "how far, how come, how about, what'd, what is, what's, what are, what do, what did, what "
    "about, what the, "
    "which one, when is, when do, when are, why is, why did, why don't, is that, is it, is he, "
    "is she, is "
    "there any, testing, check one, need you to, need a hand, stop right there, stop there, "
    "stop it, "
    "stop that, stopped to, stopped by, don't let, sorry about, excuse me ma'am, nice to meet, "
    "see you, so long, bless you, take it easy, no thanks, sure thing, sounds good, copy that, "
    "roger, "
    "go get, go ahead and, go grab, run down, run over, run up, run get, climb, climb down, "
    "get down, get up here, get off, get out of, get over here, get that, get your, set it "
    "down, set that, nail it, nail that, drop it, catch, catch it, clean up, sweep up, pick up "
    "the, pick that up, "
    "park, parked, plug it, plug that, unplug, take that, take this, take it, take the, "
    "tilt it, tip it, flip it, flip that, spin it, raise it, higher, slower, slow down, hurry "
    "up, back "
    "it up, back up a, back up a little, scoot, nudge it, tap it, tighten it, loosen it, feed "
    "me, feed "
    "it, my wife, my truck, my phone, my back, my knee, the radio, "
    "be careful, left him, left her, left them, left a message, i need a hand, i'm gonna need "
    "you, gonna need you, i need you, what time, you know what, i'll be, tell your, "
    "watch out, did we, did anybody, did anyone, has anybody, have we, "
    "wrong one, wrong ones, not that one, slide down, slide up, scoot over, come up, back off, "
    "ease up, ease it, grab me, grab us",
    "EQUIPMENT": "ladder, ladders, extension ladder, step ladder, scaffold, scaffolding, plank, "
    "planks, brake, nail gun, compressor, saw, table saw, miter saw, chop saw, drill, hammer, "
    "level, pump jack, generator, extension cord, cord, hose, snips, chalk line, trailer, truck, "
    "lift, dumpster, tape measure, tape, grinder, router, blade, sawhorses, saw horses, "
    "stepladder, bucket, tarp, drop cloth, gun, crane, ladder stand, stage, staging, jacks",
    "NAMEDNUMBER": "house number, job number, lot number, phone number, order number, invoice, "
    "invoice number, purchase order, part number, room number, unit number, zip code, code, "
    "permit number, permit, lot, number is, address, room, route, highway, apartment, call me at, "
    "the number is, page, model number, serial number, ticket number, number, address is, phone, "
    "cell, extension, exit, po number, ticket, gate code, model, color code, "
    "unit, suite, apt",
    "ODD": "percent, penny, on center, o c, gauge, grit, psi, volt, volts, amp, amps, ply, "
    "inch nails, miles, years, year, days, day, weeks, week, months, trips, trip, "
    "coats, coat, rows, row, courses, course, corners, studs, minutes ago, "
    "hours ago, story, inch nail, guys coming, people coming, houses, "
    "footer, footers",
}

UNTOLD = (
    "of the #, out of the #, out of #, (started|began|start|starting) .. with, "
    "(everything|all|anything) (but|except), except, instead of, supposed to, if, whether"
)
"""Words before an amount that undo whatever else is said of it."""

TELLTALES: tuple[tuple[str, str], ...] = (
    # What tells the kind of an amount from some way off, the rarer events first. `#` is the
    # amount, `..` up to four words, and ( a | b ) is written (a|b).
    (
        "spoiled",
        "(ran|run|drove|backed|rolled|walked|stepped|sat|fell|tripped|knelt|stood|slipped|landed) "
        ".. (over|on|onto|into|through|down) .. #, (foot|knee|elbow|boot|hand|hammer|ladder|saw|"
        "blade|drill|screwdriver|fist|thumb) (through|went|slipped|caught|chewed|ate|hit) .., "
        "saw ate, saw chewed, (can't|cannot|couldn't|can not) (use|save|salvage), (won't|no) "
        "use, "
        "one gone, for the (scrap|trash|burn|junk) .., (scrap|trash|burn|junk) "
        "(pile|bin|heap|can), "
        "# .. (fall|slide|blow|snap|crack|break|bend|split|folded|"
        "buckled|snapped|crumpled|blew|fell|flew|slid|froze|melted|burst|popped|bent|"
        "cracked|split|broke|tore|twisted|warped) .., there goes # .. cut .. (short|wrong), cut "
        ".. "
        "# .. (short|wrong|crooked|long), cut .. (too short|too long|wrong) .., (wind|gust|storm|"
        "dog|kid|kids|truck|forklift|mice|rats|squirrels|rain|water|tree|branch) (took|got|ate|"
        "broke|knocked|blew|grabbed|tore|caught|chewed|bent|ruined|crushed) .., blew .. "
        "(away|off|"
        "down|over), knocked .. over, kicked .. over, tipped .. over, went over in the truck, "
        "spilled .., (no|any) good, not usable, unusable, messed .. up, screwed .. up, goofed "
        ".., "
        "mangled .., had to (throw|rip|tear|pull|toss|pitch|chuck|scrap|ditch|trash|dump) .., "
        "(threw|tossed|"
        "pitched|chucked|throw|toss|pitch|chuck) # .. (out|away), into the dumpster, in the "
        "dumpster, went in the (dumpster|trash), cut # too, hammer .. #, wrong length, too "
        "short, "
        "short by .., measured .. wrong, by mistake .. cut, hit # with, put a (foot|knee|hammer|"
        "ladder|hand|boot|nail|screw|hole) .., got rained on, rained on, left .. out in the "
        "rain, "
        "ain't worth .., (dinged|nicked|gouged|marred|scraped|scuffed) .., (drilled|nailed|bent|"
        "ripped|notched|mitered) .. (wrong|crooked|backwards), backwards, upside down, off the "
        "(roof|ladder|scaffold|sawhorses|rack) .. (and|broke|bent), i've ruined, i ruined, "
        "as (scrap|waste|junk|spoiled|ruined), fell apart, came apart, bit the dust, let go, in "
        "half, to pieces, ended up in the "
        "trash, "
        "didn't make it, beyond saving, # .. tossed, chalk up",
    ),
    (
        "returned",
        "(gave|took|taken|brought|sent|hauled|carried|handed|shipped|ran|drove|dropped|send|take|"
        "bring|loaded|taking|sending|bringing|running|turned) .. # .. back, (gave|took|taken|"
        "brought|sent|hauled|carried|handed|shipped|ran|drove|send|take|turned|taking|sending|"
        "hauling|traded|turning) .. (back|back in) .. #, back .. "
        "(yard|store|supplier|supply|depot|"
        "lumberyard|house|counter), return (desk|counter), (for|got|gave|get|giving) .. (credit|"
        "refund), (credited|refunded) .., money back, went back, (picked|pick) up the extra, "
        "took .. back, sent .. back, exchanged, swapped .. #, as a return, returns, return",
    ),
    (
        "delivered",
        "(yard|supplier|driver|truck|delivery|they|lumberyard|order|shipment|load|supply|house|depot|"
        "freight) .. (sent|dropped|left|brought|delivered|had|came|shipped|unloaded|comes|brings|"
        "drops|hauled|gave|included|carried) .., (delivery|shipment|order|load|drop) (was|is) "
        ".., (is|are) here .., (is|are) finally (here|in), got in, got .. (finally|at "
        "last), "
        "a (drop|delivery|load|truck|shipment|order|truckload|drop off) .. #, finally "
        "(got|came|here|showed), at last .., here .. finally, (ran|went|drove|run|swung|"
        "stopped|been|back|home|coming|came|zipped|popped|trip) .. (yard|store|supplier|depot|"
        "lumberyard|counter|supply|town) .., delivery .., shipment .., (came|come|comes|coming) "
        "(off|in|with|from|on) .., packing slip .., drop was .., (picked|pick) .. up, paid .., "
        "charged .., cost .., on the (truck|trailer) from .., hauled .. (in|home|over), "
        "(sent|dropped|brought|shipped|carried) .. (over|out|by|off|up), just got, just bought, "
        "(landed|unloaded|offloaded|received|purchased|shipped) .., backordered .. came, "
        "(arrived|showed up|turned up), (got|took) .. (delivery|shipment), from the "
        "(yard|supplier|"
        "store|lumberyard|depot|driver), delivered, new stock, fresh stock, stocked up .., "
        "signed for .., checked in .., been dropped, was dropped, were dropped, got .. dropped",
    ),
    (
        "needed",
        "(owe|owes|owed) .. #, # .. (owed|oughta|ought to|backordered|on order|needed|wanted|shy|"
        "missing), (want|wants|wanting|needing) .. #, would like .. #, on back order, "
        "backordered, "
        "have (them|him|her|the yard|the supplier|joe) (send|bring|drop|get|order) .., "
        "(send|bring|get|fetch|grab|order|buy|find) (me|us) .., (send|bring|order) (up|out|over) "
        ".., (add|put|throw|stick|write) .. (order|list), (get|order|buy|grab|fetch|pick up) .. # "
        ".. (tomorrow|next trip|next time|in the morning|before|monday), (not|ain't|isn't|don't|"
        "didn't) .. enough .., (waiting|wait) (on|for) .. #, (still|yet) to (come|get|buy), "
        "be sure .. get, make sure .. (get|order), (short|shy|lacking|missing|lack) .. #, "
        "# .. (short|shy), (run|come|came|coming|be|being|up|am|ran) (short|shy), one more .. "
        "and, "
        "to finish, tell .. (send|bring|order), (gonna|going to|got to|gotta|have to|need to) "
        "(get|buy|order|pick up|have|want|need) .., should (get|order|buy|have) .., reorder, "
        "to the order, on the order, for the order, next (trip|run|order|load) ..",
    ),
    (
        "on_hand",
        "(leaves|leave|leaving|left) (us|me|you|it) .. #, leaves .. #, (that|which) leaves .., "
        "left .. #, # .. (left|remaining|remain|unopened|untouched|unused), "
        "(count|inventory|stock|tally|pile) (is|was|says|shows|has|at|stands|comes|of) .., "
        "(counted|counting|count) .. #, kept .. #, down to .. #, (still|only|just) (have|got|has) "
        ".., i have .. #, we have .. #, still (in|on|at|under|sitting|here|around|laying) .., "
        "(sitting|laying|lying|stacked|leaning|waiting) (in|on|at|by|here|there|around|under|"
        "behind|against) .., all that .. left, what's left .., (in|on) (stock|hand|the shelf|the "
        "truck|the rack|the trailer|the van|the shed|the pile) .., (there's|there is|there are) "
        "still .., still .. #, got .. (in|on) the "
        "(truck|trailer|shed|garage|van|rack|pile|shop) .., "
        "(have|got|has) .. on the (truck|trailer|rack|pile) .., to my name, to spare, extra, put "
        "(by|aside|away), saved .. #, set aside",
    ),
    (
        "used",
        "there goes .., there went .., up went .., on went .., in went .., down went .., out "
        "went "
        ".., (gone|go|went|going|goes|ran|blew|tore|burned|run|flew|chewed|cut|plowed) through "
        ".., "
        "(banged|knocked|whacked|hammered|toenailed|bumped|jammed|worked|pushed) "
        "(in|up|on|through|down) .. #, (rolled|brushed|sprayed|slopped) .. #, "
        "(put|threw|slapped|got|stuck|tacked|nailed|had|have|hung|slid|ran|shot|pinned|popped|set|"
        "put up|screwed|stapled|glued) # .. (up|on|in|down|over|along|across|around), "
        "(put|threw|slapped|stuck|tacked|nailed|slid|pinned|stapled|screwed|glued|wrapped|ran|set|"
        "strung) .. (up|on|in|around|along|across|with) .. #, (took|takes|take|taken|ate|eats|"
        "swallowed|used|uses|drank|needed|consumed) .. #, (knocked out|finished|wrapped|covered|"
        "sided|did|done|trimmed|sheathed|filled|sealed|papered|cased|caulked|painted|primed|"
        "insulated|closed|closed up|closed in|completed|buttoned up|dried in|flashed|roofed|"
        "shingled|wrapping|covering|siding|patched|patching|fixed|made|built|framed|blocked|"
        "shimmed|trimming|capped|capping|lined|lining|banded|furred|felted|skinned) .. "
        "(with|using|"
        "out of|took|in) .. #, (it was|that was|that makes|makes|that's) .. # .. (up|on|in|used|"
        "hung|installed|so far|today|put up|down), # .. (up|on|in|hung|used|installed|"
        "placed|nailed|tacked|down|gone|later|done|all on|all up), all "
        "(used|up|on|hung|in|gone), "
        "(used|hung|installed|put up|nailed up|nailed|set|ran|placed|tacked up|ran out) .. #, "
        "i (put up|used|hung|installed|nailed|put on|put in|set), we (put up|used|hung|"
        "installed|nailed|put on|put in|set), (is|are) (on|up|in) the .., so far .., worth of "
        ".., "
        "and counting, (did|done) .. #, knocked .. out, banged .. out, cranked .. out",
    ),
)

SHAPES: dict[str, str] = {
    "WANTED": "NEED AMOUNT",
    "VALUE": "( MIX | NUM | FRAC )",
    "INCHES": "( MIX | NUM | FRAC ) INCH?",
    "FEET": "( MIX | NUM | a ) FOOT ( ( AND | nothing )* ( MIX | NUM | FRAC ) ( of an )? INCH? )?",
    "LONG": "NUM oh? ( MIX | NUM ) INCH?",
    "LENGTH": "ABOUT? ( HEAVY | LIGHT )? ABOUT? ( FEET | NUM AND? ( HEAVY | LIGHT ) FRAC INCH? "
    "| ( MIX | NUM ) INCH? LESS FRAC ( of an INCH )? | NUM INCH AND FRAC "
    "| FRAC ( of an INCH )? OFF ( MIX | NUM ) INCH? | VALUE METRIC ( AND? VALUE METRIC? )? | "
    "FRAC of? ( a | an ) INCH | LONG | INCHES "
    "| ( a | an )? INCH ( AND FRAC )? ) "
    "( ORSO | AND? ( it's | that's | is )? ( HEAVY | LIGHT ) | EXACT | SOFTLY )? ORSO?",
    "COUNT": "( all | the | LASTOF | leftover | unused | spare | my | our )* last? ABOUT? "
    "( FRAC a? DOZEN | ( NUM | a | another | COUPLE )? "
    "DOZEN ( AND FRAC )? | MIX "
    "| NUM OR NUM | another? NUM "
    "| FRAC of? ( a | an )? | COUPLE | BOTHOF | ONEMORE | AFULL | LASTOF | VAGUE | a | an | "
    "another | "
    "NONE )",
    "SIZE": "( ( MIX | NUM | FRAC | an | a )? ( INCH | FOOT ) ( AND FRAC )? | NUM by NUM | FRAC )",
    "THING": "of? ( ARTICLE | COLOR | STATE )* SIZE? ( ARTICLE | COLOR | STATE )* ITEM ITEM?",
    "NAMEDAMOUNT": "item? i=THING QUANTITY n=( NUM | MIX | FRAC ) u=UNIT?",
    "STRANGER": "( of ( ARTICLE | COLOR )* OTHER+ ITEM? | OTHER+ ITEM | PART ITEM )",
    "AMOUNT": "( n=COUNT COLOR* i=ITEM u=UNIT ORSO? | AMOUNT_OF )",
    "AMOUNT_OF": "( n=COUNT ( ( COLOR | STATE )* SIZE? u=UNIT ( AND h=FRAC )? | COLOR* ) "
    "| u=ONEPIECE of | u=UNIT AND h=FRAC ) "
    "( COLOR* i=THING | COLOR* x=STRANGER | COLOR* ) ORSO?",
    "NAMED_AMOUNT": "n=COUNT ( ( COLOR | STATE )* SIZE? u=UNIT ( COLOR* i=THING | COLOR* "
    "x=STRANGER "
    "| COLOR* ) | COLOR* i=THING | COLOR* x=STRANGER )",
    "PIECES": "n=( NUM | a pair | a | a DOZEN | COUPLE | ONEMORE ) COLOR* SIZE? "
    "( i=ITEM? ( PIECEWORD | OFTHEM )+ | PIECEWORD of? ARTICLE* ITEM )",
    "PERSON": "( ( ARTICLE | one )* COLOR* ( KIN | HELPER ) NAME? | ARTICLE? ( NAME | OTHER ) )",
    "HELPING": "( ( NUM | COUPLE | a | an | another ) COLOR* ( HELPER | MEN ) )",
    "CREW": "w=( ( with | w | had )? ( the | a | all | just | only )* HELPING ( here | on )? "
    "| ( the | all )* BOTH | with? ( a | the | our )? crew of NUM | HELPING AND ME | workers "
    "NUM | ( ALONE | "
    "ME ) PERSON* AND ( HELPING | PERSON ) ( AND ( HELPING | PERSON ) )* | ME AND NUM more | ( "
    "a | the | my )? HELPER ( too | also ) | ( with | w ) ( PERSON AND )* PERSON "
    "| PERSON? ( PERSON AND )+ ( ME | NAME AND ME ) | with? ALONE | PERSON is? with ( me | us ) "
    "| PERSON ( helping | helped ) "
    "( me | out )* )",
    "WHO": "( ( ARTICLE | COLOR | one )* ( HELPER | KIN ) NAME? | the? NUM more? MEN | COUPLE MEN "
    "| NAME ( AND NAME )* | OTHER )",
    "DAYPART": "( AM | PM )",
    "TIME": "( CLOCK | NOON | ( FRAC | NUM MINUTE? ) ( PAST | TO ) NUM | NUM ( oh | o )? NUM | "
    "NUM ) OCLOCK? DAYPART? ( ORSO | EXACT )?",
    "HOUR": "NUM OCLOCK? DAYPART?",
    "TIMEY": "( CLOCK | NOON | ( FRAC | NUM MINUTE? ) ( PAST | TO ) NUM | NUM ( oh | o )? NUM "
    "OCLOCK? "
    "| NUM OCLOCK | NUM DAYPART ) DAYPART?",
    "ATTIME": "( AT | ITS )* ABOUT*",
    "GAP": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | WORKED | IN | EQUIPMENT | FILLER | "
    "BESIDE "
    "| USED | SKY | COLOR | BECAUSE | AND | PAST | LEAVE | FORTHEDAY | HELPER | KIN | NAME )*",
    "RESTED": "( FILLER | OTHER | ARTICLE | ABOUT | WAS | RESTPLACE | SKY | IN | NAME | KIN | "
    "ITEM )*",
    "CHAT": "( FILLER | OTHER | ARTICLE | ABOUT | WAS | AND | when | before )*",
    "HOURS": "ABOUT? GOODLY* ( NUM OR )? ( VALUE GOODLY? of? ( a | an )? HOURWORD ( AND? ( FRAC "
    "| NUM MINUTE ) )? | ( ARTICLE | GOODLY ) GOODLY? HOURWORD ( AND? ( FRAC | NUM MINUTE ) )? "
    "| HOURWORD AND ( FRAC | NUM MINUTE ) | FRAC of? ( a | an )? HOURWORD ) ORSO?",
    "DURATION": "( HOURS | ABOUT? GOODLY? ( NUM OR )? NUM MINUTE ORSO? )",
    "HEAT": "HIGHOF ( RESTPLACE | LEFTOVER | of | WAS | is | reads | says | at | around | OTHER "
    "| IN | ARTICLE | EQUIPMENT "
    "| WEATHER | to "
    "| DOWNTO | dropped | ABOUT )*",
    "SKYWORDS": "SKY ( AND? ( WEATHER | SKY ) )*",
    "BLOW": "( mile | miles | mph | knots | an | per )+ HOURWORD?",
    "WHILE": "( ( since | till | UNTIL | at | around | by | from | about )+ TIME )",
    "SUBJECT": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | IN | COLOR | WAS | is )",
    "DAYS": "( ( FRAC | NUM | MIX | a | the | all | VAGUE | GOODLY )+ a? ( day | days | AM | PM "
    ") )",
    "FORTASK": "( ( my | our ) time | just | only | mostly | all | on | of | for | to | in | "
    "total | GOODLY | doing | "
    "went )*",
    "TAKING": "( AM | PM | took | taking | WORKED | was | were | is | that's | for | in | all | "
    "only | just | ran | today | about | of | a | total | me | us | FILLER | BOOK )*",
    "PRICE": "( a MONEY NUM? | ( NUM | MIX ) ( MONEY ( AND? NUM MONEY? )? | NUM )? )",
    "MONEYED": "( a MONEY NUM? | ( NUM | MIX ) MONEY ( AND? NUM MONEY? )? )",
    "WHOLE": "( LOT | for ( the | all )* ( NUM | UNIT | bunch | batch | order ) )",
    "PRICED": "( w=( at | for )? c=PRICE ( PER | f=WHOLE ) | w=( at | for )? c=MONEYED "
    "( PER | f=WHOLE )? | PAID c=PRICE ( PER | f=WHOLE ) )",
    "PER": "per=( EACH UNIT? | ( a | an ) UNIT )",
    "SUBJECTWORDS": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | WAS | IN | is | EQUIPMENT )+",
    "CORE": "( SPOT | COMPASS+ ( ITEM | PART )* | OTHER? SIDE+ ( ITEM | PART )+ | OTHER? PART+ )",
    "NEARBY": "( CORE | SIDE* ITEM | ( SIDE | EQUIPMENT )* OTHER ( OTHER | PIECEWORD | UNIT )? "
    "| EQUIPMENT )",
    "SPAN": "( from ARTICLE* NEARBY to ARTICLE* NEARBY | PART to ARTICLE* PART )",
    "PAIR": "BETWEEN ( ARTICLE* NUM? CORE | ARTICLE NUM? NEARBY ) ( AND the? NEARBY )?",
    "STOCKVERB": "( USED | DELIVER | RETURN | SPOIL | NEED | LEFTOVER )",
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
    # --- fragments that belong to the fact beside them
    (
        "place",
        "( ( up | over | down | out | back )? IN )? OUR? p=WHERE "
        "( is | are | measures | measured | reads | was )?",
    ),
    ("numbered place", "p=( PART number? NUM )"),
    ("place", "at the p=ITEM"),
    ("subject", "( the | a | all )? i=ITEM ( DIMENSION | WAS | is )*"),
    ("crew", "CREW ( today | here )?"),
    # --- measures
    (
        "measure",
        "( DIMENSION | CAMEIN at )* ( is | at | of | was )? m=LENGTH DIMENSION* ( times n=NUM )? "
        "( for ( the | a )? i=ITEM )?",
    ),
    ("measure", "i=ITEM DIMENSION* ( is | at | was )? m=LENGTH ( times n=NUM )?"),
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
    # --- materials
    ("used", "USED NAMEDAMOUNT"),
    ("spoiled", "v=SPOIL NAMEDAMOUNT"),
    ("delivered", "DELIVER NAMEDAMOUNT"),
    ("returned", "RETURN NAMEDAMOUNT"),
    ("on_hand", "( LEFTOVER | COUNTED ) NAMEDAMOUNT"),
    ("needed", "NEED NAMEDAMOUNT"),
    ("used", "NAMEDAMOUNT USED"),
    ("spoiled", "NAMEDAMOUNT v=SPOIL"),
    ("delivered", "NAMEDAMOUNT DELIVER"),
    ("on_hand", "NAMEDAMOUNT LEFTOVER"),
    ("needed", "NAMEDAMOUNT NEED"),
    ("used", "USED AMOUNT"),
    ("used", "CUTUP AMOUNT"),
    ("used", "PUT AMOUNT ( up | on | into | onto )"),
    ("used", "PUT AMOUNT b=BESIDE ARTICLE* p=CORE"),
    ("used", "AMOUNT WAS? ( USED | up | gone )"),
    (
        "spoiled",
        "( the? SKY )? v=SPOIL AMOUNT r=( ( BECAUSE | cut | SKY | SPOIL | OTHER | COLOR ) ... )?",
    ),
    ("spoiled", "AMOUNT WAS* v=SPOIL r=( ( BECAUSE | cut | SKY | SPOIL | OTHER | COLOR ) ... )?"),
    (
        "spoiled",
        "u=UNIT i=THING WAS* v=SPOIL r=( ( BECAUSE | cut | SKY | SPOIL | OTHER | COLOR ) ... )?",
    ),
    ("spoiled", "v=SPOIL ( ARTICLE | COLOR )+ i=ITEM"),
    ("spoiled", "v=MUCKED AMOUNT up"),
    (
        "spoiled",
        "v=CUT AMOUNT ( ARTICLE? VALUE? INCH )? r=( too? ( short | wrong | crooked | long ) ... )",
    ),
    ("delivered", "DELIVER AMOUNT ( in | today )?"),
    ("delivered", "DELIVER AMOUNT in? PRICED"),
    ("delivered", "DELIVER AMOUNT in? w=( at | for ) c=PRICE"),
    ("delivered", "AMOUNT WAS* DELIVER PRICED?"),
    ("delivered", "AMOUNT WAS* DELIVER w=( at | for ) c=PRICE"),
    ("delivered", "NAMED_AMOUNT PRICED ( WAS* DELIVER )?"),
    ("delivered", "u=SINGLE i=THING WAS* DELIVER PRICED?"),
    ("used", "u=SINGLE i=THING WAS* ( USED | up )"),
    ("returned", "u=SINGLE i=THING WAS* RETURN"),
    ("delivered", "PUT AMOUNT in"),
    ("delivered", "PUT AMOUNT in? PRICED"),
    ("delivered", "PUT AMOUNT in? w=( at | for ) c=PRICE EXACT?"),
    ("delivered", "PAID c=PRICE ( for | on ) AMOUNT DELIVER?"),
    ("delivered", "c=MONEYED ( for | on ) AMOUNT DELIVER?"),
    ("delivered", "DELIVER AMOUNT DELIVER"),
    ("delivered", "AMOUNT w=( at | for ) c=PRICE PER? WAS* DELIVER"),
    ("price", "PRICED"),
    ("price", "c=( NUM NUM )"),
    ("price", "PAID c=PRICE EXACT?"),
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
    ("on_hand", "COUNTED? AMOUNT LEFTOF the? i=ITEM"),
    ("on_hand", "NOTANY u=UNIT? COLOR* i=THING LEFTOVER"),
    ("on_hand", "nothing ( LEFTOVER of? | BESIDE ) the? i=ITEM"),
    ("on_hand", "LASTOF of the? i=ITEM WAS* ( gone | up | USED )"),
    ("on_hand", "n=NONE i=ITEM LEFTOVER"),
    ("on_hand", "i=ITEM ( count | is )+ at? n=NUM"),
    ("needed", "NEED AMOUNT"),
    ("needed", "PUT AMOUNT ONLIST"),
    ("needed", "( FUTURE | REMIND | to )+ ( NEED | get )+ AMOUNT"),
    ("needed", "REMIND AMOUNT"),
    ("needed", "MISSINGA u=UNIT i=THING"),
    ("needed", "NEED to NEED AMOUNT"),
    ("needed", "( TELLING ( yard | OTHER )* | AHEAD )+ NEED FILLER? AMOUNT"),
    ("needed", "get AMOUNT"),
    ("needed", "FUTURE? be? AMOUNT ( short of? | shy ) i=ITEM?"),
    ("needed", "AMOUNT ( WAS | more )? NEED"),
    ("request", "NEED ( ARTICLE | COLOR | STATE )* ITEM"),
    ("request", "NEED ......"),
    ("request", "OTHER+ NEED ......"),
    ("more", "AMOUNT"),
    ("more", "AMOUNT w=( at | for ) c=PRICE"),
    # --- time and labor
    ("start", "CREW? START ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("start", "CREW? START gap=GAP ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("start", "START ATTIME t=HOUR CREW?"),
    ("start", "START gap=GAP ATTIME t=HOUR CREW?"),
    ("start", "START CREW ATTIME t=TIME"),
    ("start", "START CREW?"),
    ("start", "SETUP the? EQUIPMENT+ ATTIME t=TIME"),
    ("start", "CREW? WAS? ATWORK ATTIME t=TIME"),
    ("start", "START ( was | is ) ATTIME t=TIME"),
    ("start", "CREW ( AM | today | here | FILLER )* t=TIMEY"),
    ("start", "START ATTIME t=NUM HOURWORD"),
    ("start", "CREW? WAS? ( ARRIVE | CROWD ) ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("start", "CREW? ONSITE gap=GAP ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("start", "CREW? WEAKLY gap=( IN GAP ) ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("start", "CREW on ATTIME t=TIME"),
    ("start", "CROWD is? ( ARRIVE | START ) CREW? ATTIME t=TIME CREW?"),
    ("start", "h=WHO is? ( ONSITE | START ) gap=GAP ATTIME t=TIME"),
    ("start", "h=WHO is? ( ARRIVE | START ) ATTIME t=TIME"),
    ("start", "DIDNOT ( start | GETGOING ) UNTIL t=TIME y=( ( WHY | after ) ... )?"),
    ("start", "ITS ATTIME t=TIME CHAT CREW? ( START | ARRIVE )"),
    ("start", "t=TIMEY CHAT CREW? START ( ATTIME b=TIME )?"),
    ("start", "t=TIMEY CHAT CREW? ATWORK"),
    ("start", "( IN the? ( PART | OTHER | SIDE ) ) by t=TIME"),
    ("stop", "CREW? STOP ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("stop", "CREW? STOP gap=GAP ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
    ("stop", "STOP ATTIME t=HOUR CREW?"),
    ("stop", "STOP gap=GAP ATTIME t=HOUR CREW?"),
    ("stop", "( CREW | CROWD )? LEAVE at t=HOUR CREW?"),
    ("stop", "( CREW | CROWD )? LEAVE ATTIME t=TIME CREW?"),
    (
        "stop",
        "( CREW | CROWD )? LEAVE gap=( ( ARTICLE | for | early | with | late ) GAP ) at t=TIME "
        "CREW?",
    ),
    ("stop", "h=WHO ( LEAVE | STOP ) gap=GAP ATTIME t=TIME"),
    ("stop", "( sent | lost ) h=WHO ( home | LEAVE )? ATTIME t=TIME"),
    ("stop", "ITS ATTIME t=TIME CHAT CREW? ( STOP | LEAVE )"),
    ("stop", "t=TIMEY CHAT CREW? STOP ( ATTIME b=TIME )?"),
    ("stop", "STOP"),
    ("stop", "STOP ( was | is ) ATTIME t=TIME"),
    (
        "stop",
        "( the | SKY )* DROVE ( the | FILLER )* SKY* ATTIME t=TIME y=( ( WHY | after ) ... )?",
    ),
    ("stop", "PUTAWAY the? EQUIPMENT+ ( up | down | away | OTHER )* ATTIME t=TIME"),
    ("stop", "t=TIMEY CHAT CREW? DONE"),
    ("stop", "STOP ATTIME t=NUM HOURWORD"),
    ("moment", "( at | by ) t=TIMEY"),
    ("span", "CREW? WORKED CHAT from? a=TIME UNTIL b=TIME CREW?"),
    ("span", "( WAS | here | on | ARRIVE )* from? a=TIME UNTIL b=TIME CREW?"),
    (
        "span",
        "CREW? ( on | START | ARRIVE ) ATTIME a=TIME AND? ( out | STOP | LEAVE ) ATTIME b=TIME "
        "CREW?",
    ),
    ("break", "( STOP | START )? ( for )? BREAK ( for | of | was | took )? d=DURATION"),
    ("break", "( STOP | START )? BREAK CHAT d=DURATION CREW?"),
    (
        "break",
        "( took | ME | us )* ARTICLE? d=DURATION ( for | of )? OTHER? BREAK ( at t=TIME )? ( "
        "for ( OTHER | "
        "ITEM | BREAK )+ )?",
    ),
    ("break", "IDLE? d=DURATION FORTASK CHAT BREAK ( at t=TIME )?"),
    ("break", "took d=NUM to CHAT BREAK"),
    (
        "break",
        "IDLE for? d=DURATION y=( ( while | for | to | on | with | WHY | waiting ) ... )? ( at "
        "t=TIME )?",
    ),
    ("break", "CREW? IDLE for? d=DURATION y=( ( for | to | on | with ) ... ) at t=TIME"),
    ("break", "CHAT BREAK CHAT d=( HOURWORD AND? ( FRAC | NUM MINUTE ) )"),
    ("break", "IDLE ATTIME t=TIME for d=DURATION"),
    ("break", "( STOP | IDLE )? for? BREAK ( from | was )? a=TIME UNTIL b=TIME"),
    ("break", "BREAK RESTED d=DURATION CREW?"),
    ("break", "d=hour BREAK"),
    ("break", "BREAK n=NUM"),
    ("break", "CREW? EATING from? a=TIME UNTIL b=TIME"),
    ("break", "( took | take )? n=NUM for? BREAK"),
    ("break", "the? EQUIPMENT+ ( was | is | went | OTHER )* IDLE for? d=DURATION"),
    ("break", "BREAK d=( NUM NUM MINUTE )"),
    (
        "break",
        "ARTICLE* BREAK ( at | START )? t=TIME ( AND | FILLER | took | was | duration )* "
        "d=DURATION",
    ),
    ("break", "STOP? for? BREAK at t=TIME ( for | back in | RESTED )? d=DURATION"),
    ("break", "CREW? RESTING for d=NUM"),
    ("break", "( the | SKY | OTHER )* DELAYED d=DURATION"),
    (
        "break",
        "( ARTICLE | GOODLY | grabbed | had | got | took | ate )+ BREAK RESTED d=DURATION CREW?",
    ),
    ("break", "a=TIME UNTIL b=TIME for? BREAK"),
    ("break", "d=DURATION ( off | down | lost | out | wasted ) ( at t=TIME )?"),
    ("break", "STOP? for? BREAK at t=HOUR for? d=DURATION"),
    ("break", "SUBJECT+ ( was | is ) IDLE for? d=DURATION"),
    ("break", "STOP? for? BREAK at t=TIME ( for? d=DURATION )?"),
    ("break", "CHAT BREAK ATTIME t=TIMEY ( for? d=DURATION )?"),
    ("break", "( took | take ) m=NUM"),
    (
        "labor",
        "( CREW | BOOK | WORKED | ITS )* d=DURATION APIECE? ( for? CREW )? FORTASK task=.. CREW",
    ),
    (
        "labor",
        "( CREW | BOOK | WORKED | ITS )* d=DURATION APIECE? ( for? CREW )? FORTASK task=.. "
        "WORKED? CREW?",
    ),
    (
        "labor",
        "CREW? ( ( WORKED | DAYS ) ( ARTICLE | AM | PM | day )* ( on | at )? )? task=.. TAKING "
        "CREW? "
        "TAKING d=DURATION ( job | WORKED )? APIECE? ( for | with )? CREW?",
    ),
    (
        "labor",
        "it? TAKING CREW? TAKING d=DURATION ( to TAKE? | to put | NEED ) task=.. ( up | on | "
        "done )? CREW?",
    ),
    (
        "labor",
        "it? TAKING CREW? TAKING d=DURATION ( to TAKE? | to put | NEED ) the? task=ITEM ( up | "
        "on | done )?",
    ),
    ("labor", "( HOURWORD | time ) ( on | for ) task=.. TAKING d=VALUE HOURWORD? CREW?"),
    ("labor", "( HOURWORD | time ) ( on | for )? FILLER* d=VALUE FORTASK task=.. WORKED? CREW?"),
    ("labor", "CREW? WORKED d=HOURS CREW?"),
    ("labor", "d=hour ( on | of | for ) task=.. CREW?"),
    ("labor", "CREW? WORKED? task=.. from a=TIME UNTIL b=TIME ( FILLER* e=DURATION )?"),
    (
        "labor",
        "( CREW | BOOK | WORKED )* ABOUT? day=DAYS FORTASK task=.. WORKED? CREW?",
    ),
    ("labor", "CREW? task=.. TAKING CREW? TAKING d=( ( a | an | NUM )? HOURWORD AND? NUM )"),
    (
        "labor",
        "( CREW | BOOK | WORKED )* d=( ( a | an | NUM ) HOURWORD AND? NUM ) ( on | of | for ) "
        "task=.. CREW?",
    ),
    ("break", "BREAK RESTED d=( ( a | an | NUM ) HOURWORD AND? NUM )"),
    ("labor", "task=.. d=( NUM NUM MINUTE )"),
    ("labor", "( labor | task )* task=.. HOURWORD d=VALUE CREW?"),
    ("more labor", "AND? d=( VALUE | an ) more? ( on | of | for ) the? task=.."),
    ("more labor", "AND? task=( ITEM | OTHER | USED ITEM ) d=VALUE"),
    ("share", "( at | that's )? n=VALUE HOURWORD? APIECE"),
    # --- the rest
    ("weather", "WEATHER* ( SKY | AND | WAS )* ABOUT? f=NUM DEGREES ( AND? SKY )*"),
    (
        "weather",
        "( NEGATIVE n=NUM | ( it's | WEATHER )* n=NUM DEGREES? BELOW ) DEGREES? ( ( at | by ) "
        "TIME )?",
    ),
    ("weather", "CHAT WEATHER* HEAT f=NUM DEGREES* ( SKY | AND | DAYPART | today )*"),
    ("weather", "WEATHER* HEAT NEGATIVE n=NUM DEGREES* ( SKY | AND | DAYPART | today )*"),
    ("weather", "WEATHER* f=( NUM NUM ) DEGREES+"),
    ("weather", "WEATHER? ABOUT? c=NUM DEGREES? ( celsius | centigrade )"),
    (
        "weather",
        "WEATHER* SKYWORDS ( WEATHER | SKY | AND | OTHER | DAYPART )* ABOUT? bare=NUM DEGREES?",
    ),
    (
        "weather",
        "( SKY | AND | WIND )* WIND ( NUM ( to | OR ) | WAS | is | to | at | OTHER | ABOUT | "
        "WEATHER | HIGHOF | up | OUTOF the? SIDE )* NUM BLOW? ( OUTOF the? SIDE )?",
    ),
    (
        "weather",
        "bare=NUM ( AND | WAS | WEATHER | at | in | the | OTHER | DAYPART )* SKY ( AND? ( "
        "WEATHER | SKY | OTHER ) )*",
    ),
    (
        "weather",
        "WEATHER* SKY ( AND? ( WEATHER | SKY | OTHER | SKYDID | WAS | DAYPART | day ) )* ( ( "
        "OUTOF | "
        "off | from | to | over )* the SIDE )? WHILE?",
    ),
    ("weather", "( SKY | AND | WAS | WEATHER )* SKY ( HIGHOF | ABOUT )* NUM BLOW"),
    ("weather", "( started | START | STOP | quit ) to? CHAT SKY ( AND? SKY )* WHILE?"),
    (
        "weather",
        "( it's | in | WEATHER )* the? ( high | low | mid | upper | lower | middle )? TENS ( "
        "AND? SKY )*",
    ),
    ("weather", "weather ......"),
    ("covered", "SUBJECTWORDS? COVER ......"),
    (
        "covered",
        "SUBJECTWORDS? ( before | after | once ) ARTICLE* ITEM ( goes | go | gets | is | LEDBY "
        ") ......",
    ),
    (
        "covered",
        "( putting | laying | hanging | nailing | running | setting ) ARTICLE? ITEM ( over | "
        "under ) ......",
    ),
    ("problem", "TROUBLE ......"),
    ("problem", "ARTICLE* SIDE* ( ITEM | LACK | PART )+ ( is | are | was | were )+ WETNESS ..."),
    ("problem", "SUBJECTWORDS? FAULT ..."),
    ("problem", "SUBJECTWORDS? FAULT"),
    (
        "problem",
        "( the | this | that | my )? EQUIPMENT+ ( is | was | just | keeps | got | has | ARTICLE "
        ")* BREAKDOWN ...",
    ),
    ("problem", "( the | this | that | my )? EQUIPMENT ( won't | can't | ain't ) ......"),
    ("problem", "SUBJECT+ ( has | got )* a? LENGTH ( OUTBY | belly ) ..."),
    (
        "problem",
        "( ARTICLE | SIDE )* ( ITEM? ( PART | OTHER | SPOT ) )+ ( is | are | was | were | got "
        ")* CRACKED",
    ),
    (
        "problem",
        "SUBJECT+ ( is | was | are | were | has | just )* OUTBY ( by | about | ABOUT | of )* "
        "LENGTH ( in LENGTH )? ...",
    ),
    ("problem", "SUBJECT+ ( is | was | are | were | by )* LENGTH ( FAULT | TOO | COMPARED ) ..."),
    ("problem", "SUBJECTWORDS TOO ..."),
    ("problem", "SUBJECTWORDS ISNOT QUALITY ..."),
    ("problem", "SUBJECTWORDS ISNOT QUALITY"),
    ("problem", "ISNOT QUALITY ..."),
    ("problem", "SUBJECT* FAULT ( by | for | about | of | ABOUT | in )* LENGTH ( in LENGTH )? ..."),
    ("problem", "SUBJECT* FAULT SUBJECT* OUTBY ( by | about | ABOUT )* LENGTH ( in LENGTH )? ..."),
    ("problem", "SUBJECT* FAULT NUM OTHER ..."),
    (
        "problem",
        "FRAC of? the? ( ITEM | PART | OTHER )+ ( is | are | was | were )+ ( FAULT | CRACKED ) ...",
    ),
    (
        "problem",
        "ARTICLE? OUTBY ( in | at ) the? ( SPOT | PART | SIDE | ITEM | OTHER )+ ABOUT? LENGTH ...",
    ),
    ("problem", "ABOUT? NUM ( PART | OTHER )+ ( is | are | was | were )* ( FAULT | CRACKED ) ..."),
    ("problem", "SUBJECTWORDS ABOUT? NUM FAULT ..."),
    (
        "problem",
        "( ARTICLE | SIDE )* ( ITEM? ( PART | OTHER | SPOT ) )+ ( is | are | was | were | got "
        ")* CRACKED ...",
    ),
    (
        "problem",
        "( the | this | that )* COLOR* ITEM+ ( is | are | was | were | all | WAS )+ CRACKED ...",
    ),
    (
        "problem",
        "( the | this | that )* COLOR* ITEM+ ( is | are | was | were | all | WAS )+ CRACKED",
    ),
    ("problem", "HASNO ( LACK | OTHER )* LACK ..."),
    ("problem", "SUBJECTWORDS HASNO ( LACK | OTHER )* LACK ..."),
    ("problem", "SUBJECT* FAULT SUBJECT* ABOUT? in FRAC ..."),
    ("problem", "SUBJECTWORDS HASNO ITEM ( BESIDE | at | on | in | there ) ..."),
    ("problem", "HASNO ITEM ( where | anywhere | at all ) ..."),
    ("problem", "HASNO ( PART | LACK | DIMENSION )+ at all ..."),
    ("problem", "ARTICLE? CRACKED ( OTHER | PART )+"),
    ("problem", "HASNO ITEM BESIDE ......"),
    ("problem", "OTHER meter ( says | reads | shows ) ABOUT? NUM ODD ......"),
    ("photo", "RECORD PHOTO ...."),
    ("note", "NOTE ......"),
    ("talk", "TALK ...."),
    ("talk", "ARTICLE* NUM ( FOOT | INCH ) EQUIPMENT ......"),
    ("talk", "the? EQUIPMENT ......"),
    ("note", "NAMEDNUMBER ......"),
    ("note", "NUM by NUM s? OTHER ......"),
    ("note", "( NUM | NUM by NUM ) INCH? ODD ......"),
    ("talk", "CUT NUM MINUTE ......"),
    ("talk", "NEED to ......"),
    ("talk", "NOTANY more? ( PHOTO | FAULT ) ......"),
    ("talk", "NEED ARTICLE? NUM GOODLY* HOURWORD ......"),
    ("talk", "NUM NUM NUM NUM? ( lift | go | push | pull | up | heave )"),
    ("talk", "testing NUM+"),
    ("talk", "( IDLE | DROVE ) DAYS"),
    ("talk", "( up | down | over | higher | lower ) ( up | down | over | higher | lower )+ ......"),
    ("talk", "NOTGOING ......"),
    ("talk", "FUTURE ......"),
    ("talk", "WILLBE ...."),
    ("note", "NONE SPOIL"),
    ("note", "no ( FAULT | PHOTO | DELIVER ) ......"),
    (
        "photo",
        "( NUM | ARTICLE | COUPLE | more | taking | took | take | got | get | last | snap )* "
        "PHOTO NUM? ....",
    ),
    ("photo", "NOTE? PHOTO .... UNCOVERED ...."),
    ("photo", "NOTE PHOTO ...."),
    # --- taking back
    ("drop", "SLIP* TAKEBACK+ LAST? too?"),
    ("instead", "SLIP* TAKEBACK? INSTEAD instead?"),
    ("instead", "SAID ( LENGTH | ITEM | TIME | SPOT ) INSTEAD"),
    ("new duration", "d=DURATION"),
    ("maybe instead", "SLIP* NOWAIT"),
    ("not this", "not a=( NUM | MIX ) b=( NUM | MIX )"),
    (
        "this not that",
        "CHANGED* m=( NUM | MIX ) ( INCH | PIECEWORD | UNIT | HOURWORD )? ( not | NOTANY ) LENGTH ",
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
    ("this not that", "( the | BREAK )* CHANGED+ m=NUM MINUTE not NUM MINUTE?"),
    ("this not that", "CHANGED* v=STOCKVERB not STOCKVERB"),
    ("again", "AGAIN"),
    ("adjust", "( HEAVY | LIGHT )"),
    ("adjust instead", "not ( HEAVY | LIGHT ) ( HEAVY | LIGHT )"),
    ("adjust instead", "a=( HEAVY | LIGHT ) not ( HEAVY | LIGHT )"),
    ("clock", "t=TIME"),
)
