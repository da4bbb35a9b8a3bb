"""Words and patterns of clocks, crews, breaks and hours."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "START": "cranked up, cranked it up, geared up, saddled up, fired it up, started, start, "
    "starting, began, begin, clocked in, got started, starting work, start work, started work, "
    "on the job, got to work, on site, got going, kicked off, got rolling, got moving, got at "
    "it, got after it, on the clock, tools out and working, punched in, dug in, up and at it, "
    "first nail, getting going, getting started, starting up, started up, started in, first "
    "hammer, clocking in, punching in, fired up, opened up, tools out, firing up, hit it, got "
    "cracking, boots on the ground, hit the ground, broke out the tools, set up and started, "
    "underway, commenced, start time, hit the job, start of day, start of the day, arrived on "
    "site, ready to roll, ready to go, resumed, resuming, working again, back working, clock me "
    "in, put me in, began work, got set up, kicked it off, picked back up, opened the trailer, "
    "unlocked the trailer, and we're off, we're off, picked it back up, picked up where we left "
    "off",
    "ARRIVE": "arrived, got here, here, showed up, back at it, back at work, back to work, back, "
    "came, came in, got back, rolled in, up and running, pulled in, in, at work, back on the "
    "ladder, set up, pulled up, made it, made it here, got on site, got to the site, got to the "
    "job, got out here, got up here, on it, at it, on site, back on it, back on the job, back "
    "from lunch, got in, showed, got to the house, joined me, joined us, came on, hopped on, "
    "came to help, started with me, got dropped off, made it in, came by to help, on the ladder, "
    "back on the wall, back on the roof, back on the scaffold, back on the staging, arrived at "
    "the job, arrived at the house",
    "ONSITE": "arrived, got here, showed up, back at it, back at work, back to work, got back, "
    "rolled in, up and running, pulled in, at work, back on the ladder, pulled up, made it, made "
    "it here, got on site, got to the site, got to the job, got out here, got up here, on site, "
    "back on it, back on the job, back from lunch, got in, got to the house, joined me, joined "
    "us, hopped on, came to help, started with me, got dropped off, made it in, came by to help, "
    "on the ladder, back on the wall, back on the roof, back on the scaffold, back on the "
    "staging, arrived at the job, arrived at the house",
    "WEAKLY": "here, back, on it, at it",
    "ATWORK": "on the ladder, at work, on site, on it, at it, up and running, back at it, back "
    "on it, back at work, back to work, on the clock, on the job, on the roof, on the scaffold",
    "STOP": "day is done, day done, put the tools down, put my tools down, set the tools down, "
    "stopped, stop, finished, finish, quit, knocked off, done for the day, called it a day, "
    "heading home, packed up, clocked out, quitting, packed it in, finished up, end of day, "
    "stopping, going home, stopped work, quit early, quitting time, that's it for today, that's a "
    "wrap, shut down, shut it down, rolled up, wrapped it up, wrapped up, wrapping up, packed up "
    "the tools, called it, pulled off, that's it for the day, off the clock, calling it, headed "
    "home, headed out, shut her down, dropped the tools, lights out, gave up, gave it up, "
    "knocking off, rolling out, punched out, done for the night, done working, done work, put the "
    "tools away, tools down, called her a day, locked up, loaded up, packing up, packing it in, "
    "shutting down, closed up shop, last one out, pulled the plug, cut out early, called it "
    "quits, hung it up, clocking out, wrapping it up, quits, tools away, bagged it, shut it all "
    "down, that'll do it for the day, that'll do it for today, that'll do it, that's all for "
    "today, end of the day, that's it for me, done for today, calling it a day, calling it quits, "
    "tools in the truck, tools loaded, truck is loaded, rained us out, rained me out, got rained "
    "out, ran us off, snowed out, lost the light, lost daylight, ran out of daylight, ran out of "
    "light, got dark, too dark to see, wrapped things up, finished things up, wound it up, "
    "buttoned it up for the day, buttoned up for the day, rolled up the cords, put up the tools, "
    "heading out for the day, pack it in, that was it, gone home, done and gone, stop time, end "
    "time, finish time, quit time, clock me out, put me out, that's a day, that's the day, that's "
    "my day, everybody out, all out, we're done, i'm done, cleaned up and gone, off the ladder, "
    "swept up, cleared out, left for the day, left early, left for home, bailed, had to quit, had "
    "to stop, stopped early, stopping early, done early, knocked it off, signed off, signing off, "
    "pulling off the job, pulling off site, locked the trailer, closed the trailer, that's quits, "
    "finished for the day, off the roof, off the job, packing it up, packing her up, enough for "
    "today, enough for one day, that's enough for today, good enough for today, that wraps it up "
    "for the day, that wraps it up, that does it for today, that does it, closed up the trailer, "
    "closed up the truck, locked up the trailer, put the tools up, picking up the tools, putting "
    "the tools away, heading to the house",
    "LEAVE": "left, done, all done, off site, out of here, gone, went home, leaves, off, heading "
    "out, took off, went on home, heading home, headed home, home, out the gate, leaving, split, "
    "got out of here, drove off, pulled out, rolling out of here, cut out, bailed, had to go, "
    "had to leave, has to go, has to leave, clocked out, headed out, went to the doctor, had to "
    "split, checked out",
    "DONE": "done, all done, outta here, out of here, heading out, finished, gone",
    "DRIVENOFF": "rained out, snowed out, blown out, frozen out, rained off, stormed out",
    "DROVE": "stopped us, stopped me, shut us down, shut me down, ran us off, ran me off, chased "
    "us off, chased me off, drove us off, drove me off, sent us home, sent me home, rained us "
    "out, rained me out, got chased off by, chased off by, got run off by, run off by, got "
    "rained off, got chased off, got run off, got blown off",
    "PUTAWAY": "pulled, put, put the, loaded, rolled, packed, picked up, hauled, folded, locked, "
    "stowed, tarped, loaded up, locked up, rolled up, put away, packed up, took down, took",
    "SETUP": "set up, unlocked, unloaded, opened, opened up, got out",
    "DELAYED": "held us up, held me up, delayed us, delayed me, cost us, cost me, set us back, "
    "set me back, slowed us, stopped us for, stopped me for",
    "AT": "at, by, since, as of",
    "BREAK": "lunch, break, coffee, coffee break, lunch break, dinner, rain delay, downtime, down "
    "time, waited, waiting, took lunch, took a break, had lunch, breakfast, sat out, sat out the "
    "rain, waited out the rain, waited on, for lunch, for coffee, water break, rain break, smoke "
    "break, delay, rained out, for a break, broke for lunch, held up, smoke, a smoke, breather, "
    "snack, rest, rested, lunch run, coffee run, breakfast run, supper, nap, bite to eat, a bite "
    "to eat, sandwich, a sandwich, for a smoke, cigarette, a cigarette, a coffee, parts run, "
    "hardware store run, store run, supply run, waiting for, waiting around, stood around, sat "
    "around, parked it, broken down, rain hold, in the shade, sat in the truck, run for coffee, "
    "eating, ate lunch, for breakfast, breaks, coffee breaks, make break, made break, make a "
    "break, make pause, made pause, taking lunch, taking a break",
    "IDLE": "sat down, took off, down, lost, idle, shut down, stopped, knocked off, broke, broke "
    "off, held up, out, hung up, stuck, paused, took, sat, laid off, off, was off, stepped away, "
    "ran out, quit, shut down for, delayed, waited out, waited, had to stop, had to wait, had to "
    "quit, had to shut down, waiting",
    "EATING": "ate, eating, lunched, had lunch, took lunch, broke for lunch",
    "RESTPLACE": "in the truck, in the trailer, in the shade, in the van, on the tailgate",
    "RESTING": "sat down, sat, rested, broke, paused, knocked off, took off, broke off",
    "HOURWORD": "hour, hours, hrs, hr, man hours, crew hours",
    "MINUTE": "minute, minutes, min, mins",
    "OCLOCK": "o'clock, oclock, sharp, o clock",
    "AM": "am, a m, this morning, in the morning, in the mornin, morning, this mornin",
    "PM": "pm, p m, this afternoon, in the afternoon, afternoon, in the evening, tonight, at night",
    "DAYPARTS": "am, a m, pm, p m",
    "NOON": "noon, midday, midnight",
    "PAST": "past, after",
    "TO": "to, till, til, before, of, until",
    "UNTIL": "to, till, til, until, through",
    "HELPER": "helper, helpers, apprentice, my helper, my apprentice",
    "MEN": "man, men, guy, guys, people, workers, hands, of us, man crew, others, other guys, "
    "other men, other people, more guys, more men, fellas, fellows, bodies, person crew, man "
    "team, guy crew, of the guys, more hands, of the crew, dudes, lads, fellers, helpers, "
    "buddies, other dudes, other fellas, other fellows",
    "ITS": "it's, it is, it was",
    "ME": "me, i, just me, only me, myself",
    "KIN": "him, kid, boy, son, brother, nephew, cousin, buddy, partner, wife, dad, father, "
    "uncle, daughter, guy, man, fella, hand, other guy, other man, brother in law, son in law, "
    "laborer, foreman, neighbor kid, new guy, new kid, old man, boss, carpenter, young fella, "
    "kids, one other",
    "DOING": "hanging, putting, laying, nailing, running, setting, setting up, doing, helping, "
    "cleaning, fixing, tearing, tearing off, ripping off, taking down, picking up, loading, "
    "moving, caulking, painting, building, pulling, prepping, bending, measuring, unloading, "
    "trimming, getting ready, cleanup, clean up, setup, teardown, prep, layout, travel, driving, "
    "paperwork, sweeping up, sweeping, setting up the, demo, tear off, hauling, digging, "
    "chasing, looking for, hunting",
    "PLAINLY": "anywhere, batch, belly, early, late, gets, go, helped, keeps, once, shows, time, "
    "where, push, pull, heave, us, labor, duration, task, job, grabbed, w, blows",
    "NAME": "danny, ray, mike, joe, bob, bill, tom, jim, john, dave, steve, mark, paul, pete, "
    "sam, luis, jose, juan, carlos, miguel, tony, nick, matt, chris, kevin, brian, eddie, frank, "
    "gary, greg, jack, jake, jeff, jerry, josh, kyle, larry, lou, manny, marco, marty, max, "
    "mickey, pat, phil, randy, rick, ricky, rob, ron, ryan, scott, sean, ted, terry, tim, "
    "travis, tyler, vic, walt, wes, zach, maria, ana, rosa, linda, lisa, sue, kim, kate, amy, "
    "jen, jess, hector, pedro, pablo, raul, ivan, sal, vinnie, al, andy, ben, charlie, dan, "
    "dean, don, doug, earl, ed, ernie, felix, fred, george, hank, harry, howie, ike, jimmy, "
    "johnny, ken, lenny, leo, mario, mitch, ned, omar, oscar, ralph, roy, russ, stan, ty, wade, "
    "will junior",
    "BOTH": "both of us, the both of us, us both, us two, both guys, both men, we both",
    "CROWD": "everybody, everyone, the whole crew, whole crew, the whole gang, whole gang, all of "
    "us, we all, the guys, the crew, all the guys, the boys, boys, crew, fellas, the fellas, "
    "fellows, the fellows, dudes, the dudes, the men, the lads, the whole bunch, whole bunch, "
    "the bunch",
    "APIECE": "apiece, each, a man, per man, a head, a piece",
    "BOOK": "i'd put, let's call it, let's say, call it, charge, charged, figure, figured, put "
    "down, log, book, bill, billed, mark down, chalk up, put, add, write down, write up, did, "
    "give it, gave it, went, got in, had, run, easy, enter, ended up, ended up being, used up, "
    "killed, burned, burned up, logged, got, need to log, total, you can put me down for, put me "
    "down for",
    "GOODLY": "good, solid, full, whole, long, extra, more, other, last, hard, straight, real, "
    "big, another, every bit of, all of, one more, single, couple more, short",
    "ALONE": "alone, by myself, myself, just me, on my own, solo, working alone, only me, just "
    "myself, single handed, no helper, without help, no help, one man, one man crew, one man "
    "show, working solo, alone today, nobody here but me, nobody but me, no one else, nobody "
    "else, working by myself, working on my own, worked alone, worked by myself",
    "WORKED": "worked, working, spent, put in, took, work, worked on, ran, ate up, went on, ate",
}

SHAPES: dict[str, str] = {
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
    "PAYEE": "( ARTICLE* ( HELPER | KIN ) NAME? | NAME )",
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
    "DAYS": "( ( FRAC | NUM | MIX | a | the | all | VAGUE | GOODLY )+ a? ( day | days | AM | PM "
    ") )",
    "FORTASK": "( ( my | our ) time | DAYNOW | just | only | mostly | all | on | of | for | to | "
    "in | total | GOODLY | doing | "
    "went )*",
    "TAKING": "( AM | PM | took | taking | WORKED | was | were | is | that's | for | in | all | "
    "only | just | ran | today | about | of | a | total | me | us | FILLER | BOOK )*",
}

SENTENCES: tuple[tuple[str, str], ...] = (
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
    ("stop", "( CREW | CROWD )? STOP ATTIME t=TIME CREW? y=( ( WHY | after ) ... )?"),
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
    ("stop", "CREW? DRIVENOFF ATTIME t=TIME"),
    ("stop", "STOP"),
    ("stop", "STOP ( was | is ) ATTIME t=TIME"),
    (
        "stop",
        "( the | SKY )* DROVE ( the | FILLER )* SKY* ATTIME t=TIME y=( ( WHY | after ) ... )?",
    ),
    (
        "stop",
        "PUTAWAY the? ( EQUIPMENT | tools | cords | gear )+ ( up | down | away | OTHER )* ATTIME "
        "t=TIME",
    ),
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
        "( took | ME | us | them )* ARTICLE? d=DURATION ( for | of )? OTHER? BREAK ( at t=TIME )? "
        "( for ( OTHER | ITEM | BREAK )+ )?",
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
    ("break", "CREW? EATING RESTED d=DURATION CREW?"),
    ("break", "d=hour BREAK"),
    ("break", "BREAK n=NUM"),
    ("break", "CREW? EATING from? a=TIME UNTIL b=TIME"),
    ("break", "( took | take )? n=NUM for? BREAK ( at t=TIME )?"),
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
    ("break", "BREAK ( CHAT | ITS )* from? a=TIME UNTIL b=TIME"),
    ("break", "d=DURATION ( off | down | lost | out | wasted ) ( at t=TIME )?"),
    ("break", "STOP? for? BREAK at t=HOUR for? d=DURATION"),
    ("break", "( took | ME | us | them )+ ARTICLE? BREAK at t=TIME for? d=DURATION"),
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
    (
        "labor done",
        "CREW? v=.. q=VALUE u=( FOOT | AREA | SQUARE ) of? task=.. TAKING d=HOURS CREW?",
    ),
    (
        "pay",
        "( at | AND? w=PAYEE ( at | gets | get | makes | make | is at | costs ) ) c=( NUM | MIX ) "
        "( MONEY ( AND? n=NUM MONEY? )? | n=NUM )? ( a | an | per | the ) d=HOURWORD "
        "( APIECE | for w=PAYEE )?",
    ),
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
)
