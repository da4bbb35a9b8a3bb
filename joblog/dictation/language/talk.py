"""Words and patterns of weather, covered work, problems, notes, photos and mere talk."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "DEGREES": "degrees, degree, degrees fahrenheit, above, degrees out, in the shade, out, "
    "outside, fahrenheit, above zero, outside right now",
    "SKY": "rained, it rained, snowed, blowing, gusting, cold, hot, warm, windy, rain, raining, "
    "rainy, snow, snowing, wind, sunny, sun, cloudy, overcast, clear, frost, freezing, humid, "
    "wet, dry, cool, storm, foggy, fog, gusty, drizzle, sleet, calm, muggy, chilly, icy, light "
    "rain, heavy rain, light snow, heavy wind, gusts, heavy frost, heavy dew, drizzling, breezy, "
    "hail, thunder, lightning, light wind, dew, damp, thunderstorm, thunderstorms, showers, "
    "shower, downpour, misty, mist, snowy, stormy, sleeting, hailing, freezing rain, pouring, "
    "pouring rain, sprinkling, sprinkle, sprinkles, flurries, scorcher, hazy, haze, brisk, "
    "crisp, frosty, nippy, bitter, mild, balmy, nice day, nice out, beautiful day, beautiful "
    "out, gorgeous out, sticky, dry out, partly cloudy, partly sunny, clouds, clouded up, "
    "clouding up, no wind, no clouds, no rain, not a cloud, hot out, cold out, wind chill, "
    "muddy, mud, slick, ice, dreary, drizzly, steady rain, hard rain, blizzard, cold front, heat "
    "wave, sun out, sunshine, raining hard, snowing hard, raining a little, blowing hard, cold "
    "one, hot one, warm one, a hot one, a cold one, wet one",
    "WIND": "blowing, gusting, gusts, wind, winds, light wind, heavy wind, gusty, breeze, blew, "
    "gusting to, gusts to, gusts of, gusting at, breezes, windy",
    "TENS": "twenties, thirties, forties, fifties, sixties, seventies, eighties, nineties, "
    "teens, single digits, hundreds, triple digits",
    "NEGATIVE": "minus, negative",
    "BELOW": "below zero, below",
    "SKYDID": "started, stopped, quit, let up, picking up, picked up, coming, coming in, came "
    "in, moved in, blew in, cleared up, cleared off, clearing, clearing up, burned off, died "
    "down, dying down, rolled in, rolling in, held off, kept up, on and off, off and on, moving "
    "in, hit, coming down, came, out, came out, starting, begin, began, start, stopping, lifted, "
    "turned, turning",
    "WEATHER": "weather, temperature, temp, the weather is, it's, it is, outside, high of, low "
    "of, temperature is, it was, it got up to, it's about, getting, too, pretty, really, very, a "
    "bit, a little, and a bit, some, kinda, kind of, sort of, plenty, awful, awfully, mighty, "
    "starting to, started to, fixing to, beginning to, fixin to",
    "COVER": "close this up, before i close this up, sealing up, sealing, going to hide, hide, "
    "concealed, conceal, cover, covers, covers it, cover up, is closed now, goes over it, about "
    "to hide, closes up, gets buried, will ever see, covered, covering, about to cover, going to "
    "cover, closing up, closed up, closing, buried, burying, hiding, hidden, sealed up, about to "
    "close, about to be covered, covering up, covered up, boxed in, boxing in, going to be "
    "hidden, going to be covered, this gets covered, before i cover, about to bury, before it's "
    "covered, gets covered, i'm covering, getting covered, before we close, closed in, sheathing "
    "over, wrapping over, about to wrap, will be covered, will be hidden, won't see, nobody will "
    "ever see, never see again, see again, last look, disappears, out of sight, going over top "
    "of, closing her up, close it up, closing it up, buttoning up, button it up, buttoned up "
    "over, boxing it in, boxed it in, gets boxed in, will be behind, goes behind, about to "
    "disappear, gone for good, before she gets buried, getting buried, getting closed in, sealed "
    "in, sealing it up, skinned over, sheeted over, sheathed over, gets hidden, gets sealed, "
    "won't be seen, be seen again, seen again, be visible again, close this, close it in, before "
    "i close, before i seal, before i wrap, before we cover, before we wrap, before we seal, "
    "before i button, before i hide, before i box, before i bury, going over, goes over, goes on "
    "over, going on over, is going over, before i put the, before we put the, before i hang the, "
    "before we hang the, before it goes up, last chance to see, last chance, going to be behind, "
    "gonna be behind, before i nail, close up, gonna bury, gonna cover, gonna hide, gonna close, "
    "going to bury, going to close, tarped over, papered over",
    "TROUBLE": "problem, problem with, trouble, issue, careful, careful with, bad news, heads "
    "up, rotten, rot, leak, leaking, trouble with, issue with, uh oh, watch out for",
    "FAULT": "outta line, outta plumb, outta level, outta square, outta whack, asbestos, chewed, "
    "lead paint, termite damage, damage, won't lock, bad batch, don't match, doesn't match, not "
    "matching, getting in, no duct, popped, not bending, heaved, soaking wet, quit on me, mush, "
    "bats, squirrels, not good, moves, it's broke, won't close, stripped, uneven, peeling, "
    "rodents, mice, wet behind, delaminated, never put on, unsafe, punky, spongy, rotted, wrong, "
    "rotten, rot, leaking, leaks, not square, not plumb, not level, out of square, out of plumb, "
    "out of level, doesn't fit, won't fit, loose, rusted, rusty, big scratch, dent, soft spot, "
    "soft, mold, moldy, termites, carpenter ants, hornets, wasps, bees, nest, water damage, water "
    "stain, sagging, sags, bowed, crooked, off by, pulling away, is bad, was bad, no backing, "
    "nothing to nail to, wavy, gap behind, missing a, stuck, wrong color, wrong size, the wrong "
    "way, hit a nail, hit a wire, not straight, isn't straight, out of line, upside down, "
    "backwards, inside out, live wire, bare wire, bare wires, knob and tube, exposed wire, "
    "exposed wires, racked, warped, lifting, curling, cupped, twisted, hanging by, hanging off, "
    "falling off, fell off, coming off, coming loose, came loose, pulled away, pulled loose, "
    "separated, separating, foamed, gouged, crumbling, crumbled, rusting, corroded, clogged, "
    "plugged, plugged up, bulging, buckling, bubbling, blistered, swollen, swelled, cut through, "
    "notched, ants, wasp nest, hornet, mouse, birds, bird nest, raccoon, raccoons, carpenter "
    "bees, woodpecker, woodpecker holes, hole, holes, crack, cracks, wet spot, wet rot, dry rot, "
    "rot hole, daylight, drafty, won't hold, won't line up, doesn't line up, don't line up, won't "
    "go in, won't go, won't start, won't run, won't lay flat, won't snap, won't shut, won't open, "
    "jammed, seized, seized up, tripped, out of whack, cockeyed, not flush, proud, isn't any, "
    "nothing behind, no meat, nothing solid, not nailed, not attached, not fastened, not sealed, "
    "never sealed, never nailed, never primed, unprimed, unpainted, ungrounded, not grounded, "
    "bent over, in the way, wrong stuff, wrong profile, wrong material, wrong order, mismatched, "
    "faded, discolored, stained, scuffed, scratches, dents, dinged, dinged up, beat up, shot, "
    "eaten up, eaten, gone bad, falling apart, failing, failed, recalled, defective, defect, hit "
    "a pipe, hit a stud, hit a cable, cut a wire, cut a cable, nicked, nicked a wire, punctured, "
    "you can see daylight, you can see through, is bare, are bare, wet inside, water coming in, "
    "water is coming in, water getting in, water is getting in, water running, water behind, "
    "water in the, dripping, seeping, wicking, condensation, wet clear through, wet all the way "
    "through, soaked through, rotted out, pulling off, pulling loose, rubbing, rubbing on, is "
    "shot, aren't even, isn't even, not even, isn't flat, isn't plumb, isn't level, isn't square, "
    "aren't plumb, aren't level, aren't square, ain't level, ain't square, ain't plumb, not flat, "
    "not lined up, not tight, hornet's nest, wasps nest, isn't flush, won't sit flat, clean "
    "through, big gap, gap where, gap between, water stains, stains, water marks, daylight "
    "showing, full of, eaten through, popping, is broken, are broken, popping off, popped off, "
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
    "sinks, leans, leaning, crowned, crown, crowns, hump, humps, twisted, cupped, racked, bowed, "
    "sagging, wavers, wanders, runs off, runs out, falls off, kicks out, kicked out, bulge, "
    "bulges, bulged, tapers, tilted, tilts, heaved, lifted, pulled away, out of plumb, out of "
    "level, out of square, out of line, low, proud, off level, off plumb, short, heaves, rolls, "
    "rolled, moved, shifted, slid, dips down, swayback, sway, swale, rotted, rot, dry rot, "
    "rotten, goes right in",
    "LACK": "flashing, backing, blocking, nailer, nailers, house wrap, housewrap, wrap, vapor "
    "barrier, insulation, sheathing, felt, felt paper, tar paper, ledger, framing, solid wood, "
    "vapor, header, kickout, air gap, wood, weep holes, lookouts, hangers, vents, vent, "
    "ventilation, baffles, ground wire, ground, support, primer, caulking, studs, rafters, sub "
    "fascia, joist",
    "CRACKED": "cracked, split, broken, broke, bent, chipped, torn, warped, snapped, crushed, "
    "buckled, smashed, ripped, ripped off, torn off, tore, tore off, missing, damaged, blown "
    "off, loose, busted, busted up, kinked, shattered, came off, gone, dented, ruined, shredded, "
    "ripped up, cut short, cut too short, cut wrong",
    "WETNESS": "wet, damp, soaked, saturated, soaking, mushy, black, cracked, split, spongy",
    "UNCOVERED": "before it's covered, before it gets covered, before it's closed up, before "
    "it's buried, before it's hidden, before it's sealed up, before it goes, before it's gone",
    "BREAKDOWN": "quit, quit on me, died, dead, broke, broke down, busted, not bending, not "
    "working, won't start, won't run, won't hold, leaks, tripped, tripping, jammed, jams, "
    "jamming, smoking, acting up, out of gas, ran out of gas, overheated, overheating, burned "
    "out, burnt out, blew, blew up, seized up, won't shut off, slipping, bent, cracked, "
    "misfiring, stalling, stalled, not cutting, burned up, gave out, went down, shot, toast, "
    "dull, worn out, frayed, has a bent, wore out, is shot, are shot",
    "HASNO": "no, has no, have no, had no, got no, without any, ain't no, isn't any, never any, "
    "not any, without, ain't any, missing the, wasn't any, nobody put, nobody put any, never "
    "put, never put any, they forgot the, forgot the, left out the, left off the, skipped the, "
    "without the",
    "NOTE": "note, note that, note to self, remember, remember to, remember that, reminder, "
    "remind me, for the record, question, don't forget, memo, make a note, call, check, ask, "
    "tell, checked, plan is, plan is to, hope to, hoping to, plan to, idea, asked, called, told, "
    "talked to, paid, owes, owner, customer, homeowner, inspector, neighbor, tell the, color is, "
    "quoted, think about, deliver to",
    "RECORD": "for the record, note, memo, heads up, see",
    "PHOTO": "photo, photos, picture, pictures, take a photo, take a picture, took a picture, "
    "took a photo, taking a picture, taking a photo, snap, take photo, photo of, picture of, "
    "photos of, pictures of, take a photo of, take a picture of, took a picture of, took a photo "
    "of, taking a picture of, taking a photo of, photograph, photographed, pic, pics, pic of, "
    "snapshot, snapped, shot of, got a picture of, get a picture of, got a photo of, get a photo "
    "of, snap a picture of, snapping a photo of, camera on, camera, close up of, get a close up "
    "of, closeup, closeup of, video of, video, a shot of, get a shot of, got a shot of, image "
    "of, take a shot of, snap of, took a snap of, grab a picture of, grab a photo of, grab a "
    "shot of, photographing, get pictures of, got pictures of, more pictures, selfie, get me a "
    "photo of, get me a picture of, get me a photo, get me a picture, need a photo of, need a "
    "picture of, want a picture of, want a photo of, a close up, close up shot, close ups",
    "TAKE": "taking, took, take, got, get, getting",
    "NOTGOING": "not going to, won't, will not, didn't, did not, haven't, not, never, isn't, "
    "wasn't, don't, do not, doesn't, can't, couldn't, wouldn't, weren't, aren't, no lunch, no "
    "problem, no need, no break, hasn't, hadn't, without, nobody",
    "FUTURE": "should, will, going to, gonna, tomorrow, next week, would, might, plan to, "
    "planning to, want to, if, supposed to, could, later, hoping, wants, by monday, by friday, "
    "we'll, i'll, they'll, he'll, she'll, it'll, hope to, expect, expecting, plan on, comes at, "
    "due, ought to, about to, i'd like to, we'd like to, like to, trying to, need to, have to, "
    "estimate, estimated, bid, next time, should be, it should be, figuring on, planning on, "
    "thinking about, thinking of, aiming to, aiming for, shooting for, is coming, coming monday, "
    "coming tuesday, coming wednesday, coming thursday, coming friday, coming saturday, coming "
    "tomorrow, coming back, fixing to, looking to, next thing, next up, wanna, want us to, wants "
    "us to, would be, might be, promised, scheduled, scheduled for, penciled in, monday we, "
    "tomorrow we, tomorrow i, i'd, we'd, in the morning i'll, then i'll, then we'll, if we, if "
    "i, if it, if the, unless, shall, may, when we get to, wish, hopefully, hope, let's, let us, "
    "gotta, gotta be, got to be, have to be, need to be, he'd, she'd, they'd, i want to, we want "
    "to, i wanna, forecast, forecast says, the forecast, calling for, they're calling for, "
    "chance of, supposed to rain",
    "WILLBE": "gonna be, going to be, will be, it'll be, that'll be, she'll be",
    "LATER": "tomorrow, next week, by monday, by friday, later, next time, coming up",
    "TALK": "used to be, used to have, used to get, used to do, used to work, used to live, used "
    "to go, used to make, we used to get, we used to do, we used to have, we used to work, i "
    "used to get, i used to do, i used to have, i used to work, hand me, hand me up, pass me, "
    "pass it, pass that, toss me, throw me, bring me, send up, send me, send it, send that, hold "
    "that, hold it, hold this, hold the, hold your, hold still, hold up, grab the other, grab "
    "that, grab this, grab the, grab your, grab hold, grab it, lift it, lift, lift up, lower, "
    "lower it, easy, watch your, watch that, watch the, watch it, watch yourself, look out, look "
    "at, look at that, look up, looky here, give me a hand, give me a minute, give me a sec, "
    "give me a second, give me that, give me the, give it a, give me some, can you, can we, "
    "could you, would you, will you, will ya, would ya, did you, did he, did she, did they, do "
    "you, do we, does he, does it, does that, are you, are we, are they, have you, has he, you, "
    "you got, you want, you need, you can, you're, you see, you should, you guys, you all, "
    "y'all, your, yours, you'll, you've, you'd, tell him, ask him, ask her, tell her, tell them, "
    "let me know, let go, let it, let him, let her, come on, come here, come down, come up here, "
    "come over, move the, move that, move it, move your, move over, slide that, slide it, slide "
    "the, slide over, push it, pull it, push that, pull that, push up, pull up on, turn that, "
    "turn it, turn the, turn off, turn on, shut that, shut it off, shut off, shut the, kill the, "
    "start the, wait up, wait a minute, wait a second, wait for me, hang on a, hang on a second, "
    "be right, be right there, stay there, stay back, stay put, step back, don't step, don't "
    "move, keep it, keep going, keep coming, keep that, put it back, put that, put it down, put "
    "the, right there, over here, up a hair, down a hair, up a bit, down a bit, a little more, "
    "little more, whoa, hello, hi, good morning, good afternoon, ma'am, sir, no sir, yes sir, "
    "yes ma'am, thanks, where'd, where is, where's, where are, where did, where do, who is, "
    "who's, who has, who left, who took, how is, how's, how long, how many, how much, how far, "
    "how come, how about, what'd, what is, what's, what are, what do, what did, what about, what "
    "the, which one, when is, when do, when are, why is, why did, why don't, is that, is it, is "
    "he, is she, is there any, testing, check one, need you to, need a hand, stop right there, "
    "stop there, stop it, stop that, stopped to, stopped by, don't let, sorry about, excuse me "
    "ma'am, nice to meet, see you, so long, bless you, take it easy, no thanks, sure thing, "
    "sounds good, copy that, roger, go get, go ahead and, go grab, run down, run over, run up, "
    "run get, climb, climb down, get down, get up here, get off, get out of, get over here, get "
    "that, get your, set it down, set that, nail it, nail that, drop it, catch, catch it, clean "
    "up, sweep up, pick up the, pick that up, park, parked, plug it, plug that, unplug, take "
    "that, take this, take it, take the, tilt it, tip it, flip it, flip that, spin it, raise it, "
    "higher, slower, slow down, hurry up, back it up, back up a, back up a little, scoot, nudge "
    "it, tap it, tighten it, loosen it, feed me, feed it, my wife, my truck, my phone, my back, "
    "my knee, the radio, be careful, left him, left her, left them, left a message, i need a "
    "hand, i'm gonna need you, gonna need you, i need you, what time, you know what, i'll be, "
    "tell your, watch out, did we, did anybody, did anyone, has anybody, have we, wrong one, "
    "wrong ones, not that one, slide down, slide up, scoot over, come up, back off, ease up, "
    "ease it, grab me, grab us, used to pay, used to cost, used to buy, used to charge, used to "
    "run, used to see, we used to pay, i used to pay, they used to charge, we used to buy, we "
    "used to charge",
    "EQUIPMENT": "ladder, ladders, extension ladder, step ladder, scaffold, scaffolding, plank, "
    "planks, brake, nail gun, compressor, saw, table saw, miter saw, chop saw, drill, hammer, "
    "level, pump jack, generator, extension cord, cord, hose, snips, chalk line, trailer, truck, "
    "lift, dumpster, tape measure, tape, grinder, router, blade, sawhorses, saw horses, "
    "stepladder, bucket, tarp, drop cloth, gun, crane, ladder stand, stage, staging, jacks",
    "NAMEDNUMBER": "house number, job number, lot number, phone number, order number, invoice, "
    "invoice number, purchase order, part number, room number, unit number, zip code, code, "
    "permit number, permit, lot, number is, address, room, route, highway, apartment, call me "
    "at, the number is, page, model number, serial number, ticket number, number, address is, "
    "phone, cell, extension, exit, po number, ticket, gate code, model, color code, unit, suite, "
    "apt",
    "ODD": "percent, penny, gauge, grit, psi, volt, volts, amp, amps, ply, "
    "miles, years, year, days, day, weeks, week, months, trips, trip, coats, coat, rows, "
    "row, courses, course, corners, studs, minutes ago, hours ago, story, inch nail, guys "
    "coming, people coming, houses, footer, footers",
}

SHAPES: dict[str, str] = {
    "HEAT": "HIGHOF ( RESTPLACE | LEFTOVER | of | WAS | is | reads | says | at | around | OTHER "
    "| IN | ARTICLE | EQUIPMENT "
    "| WEATHER | to "
    "| DOWNTO | dropped | ABOUT )*",
    "SKYWORDS": "SKY ( AND? ( WEATHER | SKY ) )*",
    "BLOW": "( mile | miles | mph | knots | an | per )+ HOURWORD?",
    "WHILE": "( ( since | till | UNTIL | at | around | by | from | about )+ TIME )",
    "SUBJECT": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | IN | COLOR | WAS | is )",
    "SUBJECTWORDS": "( OTHER | ITEM | PART | SIDE | SPOT | ARTICLE | WAS | IN | is | EQUIPMENT )+",
}

SENTENCES: tuple[tuple[str, str], ...] = (
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
    ("weather", "( it's | WEATHER )* WILLBE SKY f=NUM NOWADAYS"),
    ("weather", "( started | START | STOP | quit ) to? CHAT SKY ( AND? SKY )* WHILE?"),
    (
        "weather",
        "( it's | in | WEATHER )* the? ( high | low | mid | upper | lower | middle )? TENS ( "
        "AND? SKY )*",
    ),
    ("weather", "weather ......"),
    ("covered", "SUBJECTWORDS? COVER ......"),
    ("covered", "tarped ARTICLE* ( SIDE | OTHER )* ( SPOT | PART | ITEM ) ......"),
    (
        "covered",
        "SPREAD ARTICLE* ( OTHER | COLOR | sheet | of )* SHEETING ( up | down | back | out )* "
        "( over | on | across | around | above ) ......",
    ),
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
    ("tally", "NUM OFTHEM"),
    ("note", "NONE SPOIL"),
    ("note", "no ( FAULT | PHOTO | DELIVER ) ......"),
    (
        "photo",
        "( NUM | ARTICLE | COUPLE | more | taking | took | take | got | get | last | snap )* "
        "PHOTO NUM? ....",
    ),
    ("photo", "NOTE? PHOTO .... UNCOVERED ...."),
    ("photo", "NOTE PHOTO ...."),
)
