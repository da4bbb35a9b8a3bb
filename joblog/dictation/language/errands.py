"""Words and patterns of what a job has besides work and material: things to do, extras, prices of
today, money spent, driving, inspections and visits."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "MUST": "i want to, we want to, i wanna, don't forget to, don't forget, don't forget that, do "
    "not forget to, don't let me forget to, don't let me forget, remember to, remind me to, "
    "remind me that, remind me, remind us to, make sure to, make sure we, make sure i, make sure, "
    "be sure to, be sure and, need to, have to, gotta, ought to, oughta, should, must, better, "
    "note to self, needs to be, need to be, has to be, have to be, gotta be, got to be, should "
    "be, ought to be, supposed to, reminder, want to, wanna, need you to, remember the, remember "
    "my, still gotta, still have to, still need to, can't forget to, can't forget, better not "
    "forget, better not forget to, got to remember to, gotta remember to, have to remember to",
    "PLANNING": "we'll, i'll, gonna, going to, plan to, planning to, plan on, planning on, hoping "
    "to, hope to, aiming to, fixing to, figuring on, thinking of, thinking about, looking to",
    "GETTING": "gotta get, got to get, have to get, need to get, be sure to get, make sure to "
    "get, remember to get, gotta have, need to have, going to get, gonna get, have to have",
    "ERRAND": "check, call, call the, call up, ask, ask the, tell the, tell, text, email, "
    "schedule, remind, check with, call back",
    "CHORE": "leave, pay, come, go, call, ask, check, tell, text, email, schedule, follow, fix, "
    "caulk, paint, prime, clean, clean up, finish, finished, touch, haul, return, take, take "
    "back, bring, replace, repair, patch, seal, swap, look at, get, grab, pick up, drop off, "
    "sharpen, tarp, cover, redo, reset, rehang, renail, wrap, flash, meet, talk, send, mail, "
    "write up, measure, remeasure, start, hang, put up, put, set up, tear, pull, move, cut, bend, "
    "install, load, unload, nail, sand, trim, buy, rent, line, sweep, sweep up, work, change, "
    "charge, print, order, hit, knock out, frame, side, build, dig, tackle, wash, rinse, oil, "
    "grease, run, drop, pack, tidy, shim, block, strip, prep, demo, rip, nail off, button up, "
    "grab the, grab that, get that, move the, turn off, turn on, put the, put that, put it back, "
    "take the, take that, take it, pick up the, pick that up, shut off, start the, pull that, "
    "go get, run get, go grab, swing by, stop by, stop at, run by, go by, drop by, swing past, "
    "run to, run over to, go to, hit up, order up, snake, mow, tie down, strap, label, mark, "
    "double check, recheck, redo, rehang, refasten, tighten, tighten up, straighten, touch up, "
    "knock down, take down, fill, fill up, top off, gas up, charge up, unplug, lock, lock up",
    "CUSTOMER": "customer, owner, homeowner, client, landlord, landlady, lady, tenant, homeowners, "
    "owners, customers, building manager, property manager",
    "TITLE": "mr, mrs, miss, ms, mister, missus",
    "VISITOR": "architect, neighbor, neighbors, salesman, rep, realtor, adjuster, electrician, "
    "plumber, roofer, roofers, painter, painters, mason, gc, general contractor, contractor, "
    "electricians, plumbers, engineer, designer, landscaper, landscapers, surveyor, super, "
    "superintendent, project manager, framers, insulators, drywallers, estimator, appraiser, "
    "hvac guy, hvac man, salesmen, sales rep, gutter guy, window guy, siding guy, roof guy, "
    "paint guy, neighbor lady, neighbor guy, delivery guy, insurance guy, insurance adjuster, "
    "developer, project engineer, handyman, arborist, next door neighbor, next door neighbors, "
    "neighbor next door, guy next door, lady next door, neighbor across the street, neighbor "
    "from across the street",
    "CAMEBY": "looked at, looked over, came by, stopped by, stopped in, dropped in, dropped by, "
    "swung by, came over, visited, coming by, comes by, coming over, stopping by, stops by, "
    "dropping by, swinging by, came around, walked the job, walked through, came out, came out "
    "to look, come by, come out, come around, poked his head in, poked her head in, showed up, "
    "pulled up, popped in, popped by, popped over, rolled up, met with, meeting with, came to "
    "look, came to see, came to check, met",
    "COMING": "is coming, come to, coming, coming by, coming over, coming back, comes by, stops "
    "by, stopping by, dropping by, swinging by, comes, come, due, showing up",
    "INSPECT": "inspector, inspection, inspectors, building inspector, code officer, building "
    "official, inspections, inspected, final inspection, walkthrough, to inspect, code guy, code "
    "man, code enforcement, building department, inspecting",
    "OFFICIAL": "city guy, city man, county guy, county man, town guy, man from the city, guy from "
    "the city, man from the county, guy from the county, man from the town, guy from the town",
    "VERDICT": "signed off on, passed, failed, pass, fail, approved, red tagged, okayed, flunked, "
    "had, got",
    "EXTRAWORK": "extra trip, extra work, change order, extra charge, extras, not in the bid, not "
    "in the contract, not in the plan, not on the plan, outside the contract, on top of the "
    "contract, on top of the bid, upcharge, beyond the contract, not part of the bid, out of "
    "scope, outside the bid, added work, extra job, extra for, extra to, add on, add on for",
    "WANTS": "adding, adds, wants, wanted, asked for, asked if, asked could, asked me, asked us, "
    "requested, wants us to, wants me to, added, asking for, asks for, asked about adding",
    "LOOKS": "see, know, talk, meet, look, come, pick, think, choose, decide, hear, discuss, "
    "check, walk, wait, pay, find, stop, sell",
    "BILL": "charge, bill, charged, billed, charging, billing, invoice",
    "COSTING": "is up, are up, up to, went up, went down, gone up, came down, going up, is, are, "
    "was, were, runs, run, running, costs, cost, costing, now, up, to, at, went, goes, gone, for, "
    "price, has, it's, jumped, down, went up to, got, going for, went for, sells, selling, "
    "priced, just, only, about, and, again, comes to, wants, want, charges, charging, charge, "
    "quoted, asking, gets, us, me, price is, price was, i, the, of, get, getting, says, said, "
    "they want, today, these days, been, done, on up, way, back",
    "PRICEOF": "price of, the price of, cost of, the cost of, price on, price for",
    "ASKING": "they want, they charge, they are asking, they get",
    "NOWADAYS": "now, today, nowadays, already, again",
    "SELLER": "yard, supply house, lumberyard, lumber yard, supplier, store, they, distributor",
    "SPENDING": "for the dump, to the dump, gas, parking, tolls, toll, dump, dump fee, dump fees, "
    "dump run, tipping, landfill, permit, permits, diesel, fuel, rental, rentals, blades, bit, "
    "bits, batteries, propane, postage, ferry, motel, hotel, ticket, repair, repairs, tires, "
    "tire, oil, gloves, tarps, rope, string, chalk, pencils, snacks, donuts, pizza, drinks, "
    "sandwiches, tip, insurance, copies, printing, fee, fees, rags, masks, glasses, lift, "
    "scaffold",
    "DEAR": "rental, rented, permit, permits, dumpster, insurance, repair, repairs, tires, lift, "
    "scaffold, dump, landfill, tipping, motel, hotel, trailer, crane, generator, rent",
    "CHEAP": "parking, toll, tolls, ferry, ice, snacks, donuts, tip, chalk, pencils, copies, "
    "postage, rags, string, coffee, lunch, breakfast, dinner, meter, drinks, sandwiches",
    "SPENT": "spent, paid, i paid, we paid, cost me, cost us, cost, costs, was, came to, ran me, "
    "set me back, for, on, is, at, put in, dropped, charged me, charged us, they charged me, they "
    "charged us, the, a, money, bill, my, me, us, ran",
    "MILES": "miles, mile",
    "DRIVE": "drove, drive, driving, driven, mileage, trip, put on, commute, travelled, traveled, "
    "hauling, ran, went, that's, truck, run, round trip",
    "THERE": "round trip, there, back, total, altogether, way, driving, drive, truck, down, out, "
    "travel, on, in, of",
    # Words that stand in patterns below as themselves, and are words like any other elsewhere.
    "THEMSELVES": "cash, gave, offered, quote, figure, them, rented, mileage, know, somebody, "
    "someone, says, add, across",
    # What something is covered with, and how it gets there.
    "SPREAD": "put, threw, throwed, pulled, stretched, draped, laid, got, tied, strapped, rolled, "
    "nailed, stapled, tacked, ran, hung, pinned",
    "SHEETING": "tarp, tarps, plastic, poly, visqueen, sheeting, drop cloth, blue tarp, big tarp",
    "BACKFORTH": "each way, one way, both ways, each trip, per trip, a trip, each time",
}

SHAPES: dict[str, str] = {
    "LEAD": "( FILLER | AND | DAYBACK | DAYAHEAD | DAYNAMED | ME )",
    "SOMEBODY": "( ARTICLE | OTHER | COLOR | SIDE | ITEM | NUM of )* ( CUSTOMER | VISITOR | KIN | "
    "MEN )+ ( AND ARTICLE* ( KIN | OTHER | CUSTOMER ) )? ( ( from | across | in ) ARTICLE* ( OTHER "
    "| SELLER | PART | ITEM )+ )? NAME?",
    "NAMEDONE": "( TITLE ( NAME | OTHER )* | NAME )",
    "CAME": "( CAMEBY | ( is | are | was | were | be | will | WILLBE | FUTURE | FILLER "
    ")* ( here | by | due | over | COMING ) | ( was | were | came ) out )",
    "WANTING": "( WANTS ( me | us | to | for )* | would like | ( had | told ) ( me | us )+ )",
    "MUSTDO": "( MUST | ( NEED | COUNTED | needs | has | got | still | had ) to )",
    "RATE": "( EACH UNIT? | ( a | an | per | the ) ( UNIT | hundred | thousand ) )",
    "SPEND": "( SPENDING | EQUIPMENT )",
    "DRIVEGAP": "( DRIVE | FILLER | AND | OTHER | ARTICLE | IN | SPENDING | SELLER | BACKFORTH | "
    "SPOT | PART | back | EQUIPMENT | DOING | DROVE | ME )",
    "DOLLARS": "( a MONEY NUM? | a? ( NUM | MIX ) ( MONEY ( AND? NUM MONEY? )? | oh? NUM )? )",
    "ATHOUR": "( AT | ABOUT )+ t=TIME",
    "DAYLEAD": "( DAYAHEAD | DAYNAMED )",
    "SELLING": "( ( at | from )? ARTICLE? who=SELLER )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    (
        "price now",
        "PRICEOF? i=THING COSTING* c=DOLLARS EXACT? per=RATE ( NOWADAYS | FILLER | SELLING | "
        "COSTING )*",
    ),
    ("price now", "PRICEOF? i=THING COSTING+ c=MONEYED ( NOWADAYS | SELLING )*"),
    ("price now", "PRICEOF i=THING COSTING* c=DOLLARS ( NOWADAYS | SELLING )*"),
    (
        "price now",
        "ARTICLE? who=SELLER COSTING+ c=DOLLARS per=RATE? ( for | on ) i=THING NOWADAYS*",
    ),
    (
        "price now",
        "ARTICLE? who=SELLER COSTING+ c=DOLLARS ( for | on ) per=( ( a | the | one ) UNIT ) "
        "i=THING",
    ),
    ("price now", "ASKING c=DOLLARS ( for | on ) per=( ( a | the | one ) UNIT ) i=THING"),
    ("price now", "c=DOLLARS per=RATE ( for | on ) i=THING NOWADAYS*"),
    ("expense", "SPEND+ SPENT* c=DOLLARS ( for SPEND | a ( day | week | month ) )*"),
    ("expense", "BREAK SPENT* c=( NUM NUM )"),
    ("expense", "SPEND+ ( IN ARTICLE* ( OTHER | PART | SPEND ) | ATWORK ) SPENT* c=DOLLARS"),
    ("expense", "SPENDING ( OTHER | SPEND | ARTICLE | IN | PART | FILLER )* c=MONEYED"),
    ("expense", "( OTHER | SPEND )+ SPENT* c=MONEYED ( for the day )?"),
    (
        "expense",
        "( bought | got )? BREAK ( SPENT | OTHER | IN | ARTICLE | MEN | CROWD )* c=MONEYED",
    ),
    (
        "expense",
        "rented ARTICLE* ( OTHER | SPEND )+ SPENT* c=DOLLARS ( for ( OTHER | the | day )+ )?",
    ),
    ("expense", "c=DOLLARS for ARTICLE* ( OTHER | COLOR )* SPEND+"),
    ("expense", "c=DOLLARS on SPENDING"),
    ("expense", "c=MONEYED to ( OTHER | TALK ) ......"),
    ("expense", "bought ( NAME | KIN | HELPER | ARTICLE | OTHER )* BREAK SPENT* c=DOLLARS"),
    (
        "expense",
        "c=MONEYED ( for | on | in | at | of )? ARTICLE* ( OTHER | SPEND | BREAK )+ "
        "( in ARTICLE* SPEND )?",
    ),
    (
        "expense",
        "( spent | paid | PAID ) c=DOLLARS ( for | on | at | in )? ARTICLE* ( OTHER | "
        "COLOR | SPEND | PART | BREAK )+",
    ),
    ("expense", "paid ARTICLE* ( NAME | KIN | HELPER )+ c=DOLLARS cash"),
    (
        "expense",
        "paid ARTICLE* ( OTHER | NAME | KIN | HELPER | SPEND )+ c=MONEYED ( for ... )?",
    ),
    ("drive", "DRIVEGAP* ABOUT? m=VALUE MILES ......"),
    ("drive", "drove DRIVEGAP* d=DURATION ......"),
    ("drive", "mileage ( FILLER | WAS )* m=VALUE"),
    ("drive", "d=DURATION BACKFORTH ......"),
    ("drive", "d=DURATION ( drive | of? driving ) ......"),
    ("inspection", "OTHER* INSPECT ......"),
    ("inspection", "VERDICT ( ARTICLE | OTHER )* INSPECT ......"),
    ("inspection", "SOMEBODY FILLER* CAME .... INSPECT ......"),
    ("inspection", "ARTICLE? OFFICIAL FILLER* ( passed | failed | VERDICT ) ......"),
    ("visit", "who=SOMEBODY FILLER* CAME ......"),
    ("visit", "who=NAMEDONE FILLER* CAMEBY ......"),
    ("extra", "who=SOMEBODY FILLER* WANTING ......"),
    ("extra", "who=NAMEDONE FILLER* WANTING ......"),
    ("extra", "who=SOMEBODY ( says | said ) ( to | add | go )+ ......"),
    ("extra", "who=SOMEBODY .... extra ...."),
    ("extra", "who=( she | he | they ) WANTING ......"),
    ("extra", "who=ASKING ( us to | me to | ARTICLE* ( OTHER | PART | COLOR )+ ) ......"),
    (
        "extra",
        "( gave | told | quoted | offered ) who=( SOMEBODY | her | him | them | NAMEDONE ) "
        "( ARTICLE | PRICEOF | price | quote | figure | of | at )* c=DOLLARS ( for | to ) ......",
    ),
    ("extra", "( did | worked ) ARTICLE* extra ......"),
    ("extra", "EXTRAWORK ......"),
    ("extra", "extra ......"),
    ("extra", "SUBJECTWORDS EXTRAWORK ......"),
    ("extra", "BILL ARTICLE* who=SOMEBODY ......"),
    ("todo", "MUSTDO ......"),
    ("todo", "GETTING ......"),
    ("todo", "DAYAHEAD ......"),
    ("todo", "DAYNAMED ( LEAD | NAME | somebody )* CHORE ......"),
    ("todo", "CHORE .... DAYLEAD ...."),
    ("todo", "DAYLEAD? FILLER* PLANNING ......"),
    ("todo", "( come | go ) back AND? CHORE ......"),
    ("todo", "have ( NAME | KIN | HELPER | OTHER ) CHORE ......"),
    ("todo", "let ARTICLE* ( NAME | KIN | HELPER | CUSTOMER ) know ......"),
    ("todo", "ERRAND ......"),
    ("todo", "SUBJECTWORDS MUSTDO ......"),
)
