"""Words and patterns of materials: used, spoiled, delivered, returned, on hand, needed; prices."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "USED": "ate up, sank, patched in, popped in, rolled out, stuck up, went into, bent up, used "
    "me, i used me, went up with, went in with, used up the last, is gone, all gone, used, use, "
    "using, put up, put in, hung, installed, nailed up, went up, placed, went through, used up, "
    "ran, we used, i used, set, burned through, burnt through, tacked, tacked up, knocked in, "
    "nailed off, nailed it off with, nailed on, took, that took, went on, went in, went under, "
    "went over, screwed on, glued, stapled, slapped up, shot, fastened, laid, fitted, got up, "
    "put on, go up, gone up, are up, is up, consumed, chewed through, mounted, applied, gone "
    "through, ran through, blew through, tore through, burned up, flew through, plowed through, "
    "threw up, hanging, installing, nailing up, putting up, put in place, nailed, screwed up on, "
    "stuck on, wrapped on, tacked on, slid in, snapped in, pinned up, pinned, caulked in, "
    "sprayed on, rolled on, brushed on, spread, squeezed out, pumped out, unrolled, strung, fed "
    "in, locked in, buttoned up, drove in, sunk, drove, went down, hung up, is on, are on, all "
    "on, all up, whipped through, ripped through, knocked out, cranked out, slung up, threw on, "
    "slapped on, spent up, eaten up, eats up, soaked up, sucked up, drank, ate, goes through, "
    "swallowed, made use of, finished off, polished off, killed off, emptied, is in, are in, in "
    "place, in and nailed, up and nailed, up now, on now, up so far, now up, fastened up, "
    "stapled up, stapled on, glued on, glued down, nailed down, mounted up, tucked in, tucked "
    "up, got through, popped up, popped on, run through, clipped on, clipped in, hooked up, gone "
    "into, gone in, burned, laid down, stood up, stood, plugged in, strapped up, lapped, slid up",
    # What is done at the wall, said of today as of every day: "the ply i nail on the porch".
    "NAILS": "nail, hang, put, install, use, tack, staple, screw, fasten, nail up, hang up, put "
    "up, put on, put in, nail on, set",
    "LEDBY": "went on, goes on, put on, nailed on, nailed up on, went up on, go on, went in, "
    "went under, went over, put in, put up on, hung on, hung over, hung under",
    "CUTTO": "cut to, cut at, ripped to",
    "OFTHEM": "of them, of those, of these",
    "HIGHOF": "thermometer reads, thermometer says, high of, low of, temperature is, temp, it "
    "got up to, up to, got up to, heat index, wind chill, feels like, felt like, temp is, temp "
    "was, thermometer, mercury, topped out at, it hit, temperature, real feel, high today, low "
    "today, low this morning, high was, low was, temperature was, warmed up to, cooled off to, "
    "cooled down to, it got down to, got down to, down around, up around",
    "DOWNTO": "down to",
    "LASTOF": "the last, our last, my last, one last",
    "ONLIST": "on the list, on the order",
    "ONEMORE": "one more, another one, one last, single, a single",
    "DIDNOT": "didn't, did not",
    "GETGOING": "get started, get going",
    "FORTHEDAY": "for the day",
    "PUT": "put, got, threw",
    "SPOIL": "spoil, i spoil, we spoil, i ruin, i waste, throwed away, throwed out, chucked out, "
    "scrapped, spoiled, wasted, ruined, threw out, threw away, thrown out, lost, tossed, cracked, "
    "broke, broken, bent, dented, scratched, split, damaged, chipped, torn, ripped, warped, cut "
    "wrong, cut short, cut too short, miscut, dropped, scrap, bad, no good, snapped, shattered, "
    "botched, junk, junked, kinked, trashed, garbage, wrecked, crushed, creased, buckled, blew "
    "away, blown off, soaked, smashed, messed up, screwed up, mangled, chucked, to the dumpster, "
    "in the dumpster, in the trash, tore, cut it short, bad cut, busted, busted up, bust, ran "
    "over, run over, drove over, backed over, stepped on, sat on, flattened, folded, folded up, "
    "crumpled, gouged, marred, nicked, snapped off, shot to pieces, goofed, goofed up, goofed on, "
    "fouled up, flubbed, butchered, chewed up, mutilated, demolished, destroyed, throw away, "
    "throw out, pitched, ditched, binned, tossed out, tossed away, dumped, discarded, no longer "
    "any good, no good anymore, useless, unusable, not usable, worthless, cut it wrong, cut too "
    "long, cut too small, cut too narrow, mis cut, miss cut, mismeasured, rusted, froze, frozen, "
    "faded, delaminated, rotted, twisted, spilled, spilt, leaked out, dried out, dried up, "
    "hardened, set up hard, went bad, gone bad, got wet, got soaked, swelled, swelled up, swell "
    "up, blew off, blown away, flew off, blew over, fell off, fell off the truck, tore up, torn "
    "up, ripped up, trash, in the scrap pile, on the scrap pile, to the scrap pile, for the scrap "
    "pile, scrapping, melted, punctured, cracking, splitting, breaking, bending, dinged, dinged "
    "up, banged up, beat up, chipping, pinched, squashed, bashed, hacked up, for the dump, to the "
    "dump, for the burn pile, on the burn pile, toast, for firewood, bit the dust, kicked the "
    "bucket, is done for, write off, wrote off, written off, a loss, are a loss, is a loss, "
    "drilled wrong, nailed wrong, ruining, wasting, losing, breaks, cracks, mashed, loused up, "
    "boogered, boogered up, screwed the pooch on, buggered, buggered up, mucked up, defective, "
    "came apart, fell apart, blew out, cut crooked, ripped crooked, ripped wrong, went to waste, "
    "went in the trash, went in the dumpster, went in the scrap pile, went to scrap, stolen, "
    "walked off, in half, right in half, clean in half, trashing, botching, butchering, junking, "
    "tossing, cracking up, killed, firewood, kindling, got rained on, rained on, got snowed on, "
    "got away from me, got away from us, got away",
    "DELIVER": "come in, rolled in with, delivered, delivery of, delivery, received, picked up, "
    "dropped off, unloaded, "
    "brought, bought, brought in, came, arrived, came in, showed up, got in, sent over, got "
    "delivered, took delivery of, loaded, brought out, delivery came, in from, yard delivered, "
    "yard sent, yard sent over, truck brought, supplier delivered, fetched, just came, came "
    "today, hauled in, just got, got my, landed, sent out, sent us, sent me, shipped, dropped "
    "off at, comes in, came off, came off the truck, truck dropped, truck dropped off, driver "
    "dropped, driver dropped off, supplier sent, supplier dropped, supplier dropped off, "
    "supplier brought, yard brought, yard dropped, yard dropped off, they brought, they "
    "delivered, they dropped, they dropped off, they sent, they sent over, driver left, truck "
    "left, driver brought, driver delivered, truck delivered, lumber yard sent, lumber yard "
    "delivered, lumberyard sent, lumberyard delivered, drops off, brings, brought by, brought "
    "over, dropped by, hauled over, carted in, trucked in, rolled in, turned up, purchased, "
    "buying, got hold of, got home with, stocked up on, restocked, offloaded, unload, accepted, "
    "signed for, finally here, made it here, received from the yard, showed up with, came back "
    "with, new delivery, shipment, shipment of, a shipment of, a load of, load came, truck came, "
    "dropped at, picked me up, ran and got, went and got, went and bought, grabbed, scored, "
    "lugged in, brought home, brought back from the store, got from the yard, got from the "
    "store, from the yard, from the supplier, from the store, from the lumber yard, off the "
    "truck, got a delivery of, delivery had, order came, order came in, order arrived, order is "
    "in, order is here, delivery is here, delivery is in, truck had, truck is here, delivery "
    "today, pick up today, grabbed up, ran out and got, drove in, supply house sent, supply "
    "house delivered, supply house dropped off, brung, brung me, brought me, got our, drop was, "
    "today's drop was, shipment was, load was",
    "RETURN": "returned, return, took back, sent back, brought back, taken back, gave back, "
    "going back, went back, returning, back to the yard, back to the store, back to the "
    "supplier, to return, handed back, handing back, turned in, turned back in, got credit for, "
    "credit for, for credit, credited, drove back, carried back, hauled back, shipped back, took "
    "it back, traded in, exchanged, sending back, taking back, bringing back, giving back, back "
    "on the truck, back to the lumber yard, back to the lumberyard, back to supply, back to the "
    "supply house, to the return desk, at the return desk, went back on the truck, got my money "
    "back on, got a refund on, refunded, got a refund for, dropped back off, swapped back, "
    "restocked at the store, loaded up to go back, to go back, take back, send back, bring back, "
    "go back, goes back, returns, yard picked up, they picked up, driver picked up, supplier "
    "picked up, store took back, driver took back, yard took back, they took back, driver took, "
    "picked up the extra, picked up the leftover, picked up the unused, came and got, came and "
    "took",
    "SENT": "brought, took, sent, carried, hauled, taking, sending, bringing, gave",
    "LEFTOVER": "what is left, what's left, what i got left, what we got left, what i have left, "
    "what we have left, left, left over, leftover, remaining, on hand, still here, still on "
    "site, in the truck, in the trailer, remain, over, still left, to spare, still in the truck, "
    "leftovers, in stock, to go, still good, still on the truck, still on the rack, still in the "
    "shed, still in the garage, still in the box, still untouched, unopened, to my name, still "
    "around, still sitting here, sitting here, still laying here, laying here, lying around, "
    "laying around, left on the truck, left in the truck, left in the trailer, left in the shed, "
    "left in the garage, left in the box, left on the pile, in the pile, on the pile, still to "
    "use, in the van, in the pickup, left now, left yet, is left, are left, sitting in the "
    "truck, untouched, on the truck still, and holding, on site, "
    "what is left, what's left, what we got left, what i got left, what we have left, what i have "
    "left, all that is left, all that's left, all we got left, all we have left, all i got left, "
    "all i have left",
    "LYING": "is in, are in, is on, are on",
    "STORE": "trailer, truck, van, shed, shop, pickup, rack, pile",
    "HAVING": "we have, i have, we still have, i still have, we've got, i've got, we got left, i "
    "got left, we have left, i have left",
    "COUNTED": "counted, count, on hand, have, still have, we have, i have, inventory, got left, "
    "left with, left over, leftover, still got, down to, we still have, i still have, i've still "
    "got, we've got, i've got, i count, counting, there's still, leftovers, remaining, leaves us "
    "with, leaves me with, leaves us, leaves me, that leaves, leaving, leaves, left me with, "
    "left us with, count is, count says, my count is, counts, inventory is, inventory says, "
    "stock is, stock says, on the shelf, pile has, box has, kept, sitting on, down to just, have "
    "left, have got, am down to, still holding, remaining is, all that's left is, all that is "
    "left is, all i've got left is, all i have left is, all we've got left is, all we have left "
    "is, what's left is, what is left is, only have, only got, i only have, we only have, just "
    "have, we're down to, i'm down to, got about, stock check, all we got left is, all i got "
    "left is, there's still a, remains, in stock is, on hand is, on hand we have, found another, "
    "still sitting on, ended up with, end up with, wound up with, wind up with, there ain't but, "
    "ain't but, ain't got but, there's just, there's only, there is only, got just, counted up",
    "OUTOF": "outta, all outta, ran outta, clean outta, fresh outta, we are outta, we're outta, "
    "i'm outta, run outta, running outta, plumb outta, out of, ran out of, all out of, used up "
    "all the, no more, fresh out of, clean out of, plumb out of, all gone on, about out of, no "
    "more of the, used the last of, used up the last of, used up the last of the, used the last "
    "of the, ran dry of, ran dry on, that's the last of, finished the last of, went through the "
    "last of, that was the last of, that does it for, that does it for the, we're out of, i'm out "
    "of, we are out of, i am out of, no more of, run out of, running out of, bone dry on, dead "
    "out of, that's it for the, that's the end of, there went the last of, there goes the last "
    "of, put up the last of, hung the last of, eats up the last of, eats up the last of the, ate "
    "up the last of, took the last of, takes the last of, there goes the last of the, took the "
    "last of the",
    "NEED": "gimme, gonna need, could use, i could use, we could use, going to want, gonna want, "
    "it'll take, could stand to have, remind me to buy, remind me to order, need, needs, "
    "need to get, need to order, order, still need, short, missing, we need, i need, have to get, "
    "pick up, buy, needed, will need, going to need, bring, gotta have, got to have, gotta get, "
    "shopping list, grab, short on, we're short, low on, running low on, get me, reorder, "
    "we'll need, i'll need, short by, have to order, remind me to get, don't forget to order, "
    "on the list, "
    "gotta buy, got to get, got to buy, have to buy, need to buy, need to pick up, have to pick "
    "up, gotta pick up, lacking, have them send, have them send out, have them bring, tell them "
    "to send, tell them to bring, add to the order, to the order, for the order, to the list, "
    "order me, order us, order up, must get, must have, must buy, can use, we'll want, i'll "
    "want, won't make it without, won't finish without, be short, coming up short, came up "
    "short, run short, running short, ran short, comes up short, am short, wasn't delivered, to "
    "buy, to get, to order, to pick up, on the shopping list, put me in for, be sure and get, be "
    "sure to get, make sure to get, remember to get, remember to buy, remember to order, don't "
    "forget to get, don't forget to buy, don't forget, required, requires, calls for, will take, "
    "gonna take, going to take, ought to get, should get, should order, oughta do, ought to do, "
    "should do it, would do it, will do it, ought to do it, grab me, gonna be short, going to be "
    "short, gonna be shy, going to be shy, bring me, bring up, bring out, fetch me, fetch, still "
    "to come, still coming, yet to come, yet to get, still missing, wish i had, could stand, be "
    "needing, gonna be needing, going to be needing, get us, pick me up, should cover, should be "
    "enough, will cover it, would be enough, gets us there, gonna need me, need me, i need me, "
    "need me another, to send, to bring, order us up, order me up, i'd like, we'd like",
    "WAS": "is, are, was, were, got, get, been, be, has, have, all, just, have been",
    "EACH": "each, apiece, a piece, per, every, a pop, a throw, each one, per piece, for each, a "
    "copy, per each, piece",
    "MONEY": "dollar, dollars, bucks, buck, cent, cents, buckaroos",
    "LOT": "for the lot, for all of them, altogether, total, all in, for the whole lot, in all, "
    "the lot, for everything, for both, for the pair, for the bunch, for the whole bunch, all "
    "together, for the whole thing, for the load, for the order, the whole lot, for it all, for "
    "the both of them, for both of them, for the two of them, for the set",
    # What a piece is like; a verb where nothing follows: "eight sheets used".
    "STATE": "bent, wet, unopened, unused, leftover, damaged, cracked, broken, used, warped, "
    "dented, scratched, ripped, torn, crushed, faded, rusty, bad, ruined, split, chipped, "
    "soaked, half used, opened, open, busted, partial, scrap, junk, usable, twisted, cut, "
    "spoiled, kinked, painted, primed, center, defective, rotted, moldy, rusted, mangled, "
    "smashed, remaining, left, hidden",
    "BOTHOF": "both, both of the, both of those, both of them, both of my",
    "MUCKED": "screwed, messed, mucked, fouled, banged, busted, tore, beat, chewed, loused, "
    "goofed, boogered, jacked, balled",
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
    "eleventh, twelfth",
    "REMIND": "remind me, remind me to, remember to, don't forget to, note to self, don't let me "
    "forget, make sure to, be sure to, make sure we, make sure i, make sure",
    "CUTUP": "cut up, chopped up, sawed up, sawed down, ripped down, cut down, cut in",
    "NOTANY": "not a, not one, not any, not a single, not a one, not so much as a, not even a, "
    "not even one, ain't a, ain't one, ain't any, isn't any, isn't a, isn't one, ain't no, don't "
    "have any, haven't got any, haven't any, don't have a, haven't a, haven't got a, don't have "
    "a single, haven't got a single, ain't got a, ain't got any, ain't got no, hardly any, not a "
    "lick of",
    "PAID": "paid, i paid, we paid, charged me, charged us, cost me, cost us, cost, costs, ran "
    "me, ran us, run me, set me back, set us back, spent, came out to, came to, they want, they "
    "charged me, they charged us, price was, price is, going for, went for, gave, paying, "
    "running me, bill was, bill came to, total came to, invoice was, sold me",
    # Verbs and parts of verbs that tell nothing of an amount further off.
    "WEAK": "over, to go, short, ran, set, got, in, took, lost, bad, put up, left, came, back, "
    "buy, get some, get more, order, light, broke, split, popped, bring, on the list, have, go "
    "up, use, arrived, showed up, pick up, is up, is on, is in, are in, in place, drove, down, "
    "went up, went in, went on, went over, went under, went into, to get, to buy, to order, to "
    "pick up, came in, is left, are left, shot, ate, laid, placed, cracks, breaks, toast, trash, "
    "junk, scrap, to return, garbage, returns, lack, fetch, would do, spread, nailed, glued, "
    "from the yard, from the store, from the supplier, delivery, went back, torn, cut short, go "
    "back, remain, ripped, needs, brings",
}

SHAPES: dict[str, str] = {
    "WANTED": "NEED AMOUNT",
    "THING": "of? ( ARTICLE | COLOR | STATE )* ITEM ITEM?",
    "NAMEDAMOUNT": "item? i=THING ( QUANTITY n=( NUM | MIX | FRAC ) u=UNIT? | n=NUM u=UNIT? )",
    "STRANGER": "( of ( ARTICLE | COLOR )* OTHER+ ITEM? | OTHER+ ITEM | PART ITEM )",
    "AMOUNT": "( n=COUNT COLOR* i=ITEM u=UNIT ORSO? | AMOUNT_OF )",
    "AMOUNT_OF": "( n=COUNT ( ( COLOR | STATE )* u=UNIT ( AND h=FRAC )? | COLOR* ) "
    "| u=ONEPIECE of | u=UNIT AND h=FRAC ) "
    "( COLOR* i=THING | COLOR* x=STRANGER | COLOR* ) ORSO?",
    "NAMED_AMOUNT": "n=COUNT ( ( COLOR | STATE )* u=UNIT ( COLOR* i=THING | COLOR* "
    "x=STRANGER "
    "| COLOR* ) | COLOR* i=THING | COLOR* x=STRANGER )",
    "PRICE": "( a MONEY NUM? | ( NUM | MIX ) ( MONEY ( AND? NUM MONEY? )? | NUM )? )",
    "MONEYED": "( a MONEY NUM? | ( NUM | MIX ) MONEY ( AND? NUM MONEY? )? )",
    "WHOLE": "( LOT | for ( the | all )* ( NUM | UNIT | bunch | batch | order ) )",
    "PRICED": "( w=( at | for )? c=PRICE ( PER | f=WHOLE ) | w=( at | for )? c=MONEYED "
    "( PER | f=WHOLE )? | PAID c=PRICE ( PER | f=WHOLE ) )",
    "PER": "per=( EACH UNIT? | ( a | an ) UNIT )",
    "STOCKVERB": "( USED | DELIVER | RETURN | SPOIL | NEED | LEFTOVER )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    ("used", "USED NAMEDAMOUNT"),
    ("spoiled", "v=SPOIL NAMEDAMOUNT"),
    ("delivered", "DELIVER NAMEDAMOUNT"),
    ("returned", "RETURN NAMEDAMOUNT"),
    ("on_hand", "( LEFTOVER | COUNTED ) NAMEDAMOUNT"),
    ("needed", "NEED NAMEDAMOUNT"),
    ("delivered", "come NAMEDAMOUNT"),
    ("returned", "SENT i=THING back n=NUM u=MANY?"),
    ("used", "NAMEDAMOUNT USED"),
    ("spoiled", "NAMEDAMOUNT v=SPOIL"),
    ("delivered", "NAMEDAMOUNT DELIVER"),
    ("on_hand", "NAMEDAMOUNT LEFTOVER"),
    ("needed", "NAMEDAMOUNT NEED"),
    ("used", "USED AMOUNT"),
    ("used", "CUTUP AMOUNT"),
    ("used", "took ( me | us ) NAMED_AMOUNT"),
    ("used", "PUT AMOUNT ( up | on | into | onto )"),
    ("used", "PUT AMOUNT b=BESIDE ARTICLE* p=CORE"),
    ("used", "AMOUNT WAS? ( USED | up | gone )"),
    ("used", "NAMED_AMOUNT ( i | we | he | they | she | OTHER ) ( USED | NAILS )"),
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
    ("spoiled", "v=SPOIL ( ARTICLE | COLOR )+ u=SINGLE i=THING"),
    ("spoiled", "v=MUCKED AMOUNT up"),
    (
        "spoiled",
        "v=CUT AMOUNT ( ARTICLE? VALUE? INCH )? r=( too? ( short | wrong | crooked | long ) ... )",
    ),
    ("delivered", "DELIVER AMOUNT ( in | today )?"),
    ("delivered", "DELIVER AMOUNT in? PRICED"),
    ("delivered", "DELIVER AMOUNT in? w=( at | for ) c=PRICE EXACT?"),
    ("delivered", "AMOUNT WAS* DELIVER PRICED?"),
    ("delivered", "today? come ( in | today )? NAMED_AMOUNT"),
    ("delivered", "NAMED_AMOUNT come ( in | today )? PRICED?"),
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
    (
        "price of",
        "w=at? c=PRICE ( EACH | ( a | an ) UNIT )? for ( the | those | these )? "
        "x=( ITEM | PROFILE | COLOUR ) ( one | ONES )?",
    ),
    ("price", "c=( NUM NUM )"),
    ("price", "PAID c=PRICE EXACT?"),
    ("returned", "RETURN AMOUNT"),
    ("returned", "RETURN ( ARTICLE | COLOR )+ i=ITEM"),
    ("returned", "RETURN ( ARTICLE | COLOR )+ u=SINGLE i=THING"),
    ("returned", "SENT AMOUNT ( back | RETURN )"),
    ("returned", "AMOUNT WAS* RETURN"),
    ("returned", "AMOUNT WAS* back"),
    ("on_hand", "AMOUNT WAS* LEFTOVER"),
    ("on_hand", "AMOUNT ( LYING | ( is | are ) ( in | on ) ) ARTICLE STORE"),
    ("on_hand", "NAMED_AMOUNT HAVING ( LEFTOVER | here )?"),
    ("on_hand", "u=SINGLE i=THING WAS* ( left | leftover )"),
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
    ("needed", "NEED ( ARTICLE | COLOR | STATE )* i=ITEM"),
    ("needed", "( more | ARTICLE | COLOR | STATE )* i=ITEM ( is | are )? needed"),
    ("request", "NEED ......"),
    ("request", "( OTHER | PIECEWORD )+ NEED ......"),
    ("more", "AMOUNT"),
    ("named more", "i=THING n=NUM u=UNIT?"),
    ("more", "AMOUNT w=( at | for ) c=PRICE"),
)

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
        "still .., still .. #, (is|are) (in|on) the (truck|trailer|van|shed|shop|rack|pickup), got "
        ".. (in|on) the (truck|trailer|shed|garage|van|rack|pile|shop) .., "
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
        "installed|nailed|put on|put in|set), (is|are) (on|up|in) the .., so far .., # .. "
        "all .. (took|takes|needed|used|ate), worth of "
        ".., "
        "and counting, (did|done) .. #, knocked .. out, banged .. out, cranked .. out",
    ),
)
