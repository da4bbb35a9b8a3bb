"""Words and patterns that take back, change or repeat what was said."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "TAKEBACK": "scratch that, strike that, delete that, undo that, undo, forget that, cancel "
    "that, take that back, never mind, disregard, disregard that, erase that, erase, forget that "
    "one, scratch that one, delete that one, drop that one, throw it out, ignore what i just "
    "said, strike that one, scrap that, ignore that, drop that, remove that, scratch, strike, "
    "delete, scratch it, forget it, kill that, belay that, lose that, wipe that, throw that out, "
    "cancel, forget, drop, remove, lose, kill, take out, clear, wipe, take that one out, don't "
    "count that one, don't count that, skip that, skip that one, never mind that, throw that one "
    "out, ditch that, not that one, scratch what i just said, scratch all that, scratch all of "
    "that, forget what i said, ignore what i said, disregard what i said, forget i said that, "
    "that was wrong throw it out, take that one off, take that off, take it off, take it out, "
    "forget what i just said, take that last one off, take the last one off, take that last one "
    "off the list, take that off the list, take the last one off the list",
    "LAST": "the last one, the last entry, the last measurement, last one, that last one, last "
    "entry, the last, that last measurement, last measurement, the one before, that last number, "
    "the last number, last number, the last reading, that last reading, the last line",
    "INSTEAD": "make it, make that, correction, change that to, wait make that, wait make it, "
    "change it to, change the last one to, change the last one, i mean, i meant, that should be, "
    "no that's, no it's, correct that to, scratch that make it, correction make it, actually "
    "make it, no make it, no make that, oops that was, sorry that was, sorry that's, should have "
    "been, that should have been, should've been, that should've been, it's actually, that's "
    "actually, no that was, no it was, no those were, replace that with, replace it with, let's "
    "call that, let's call that last one, wrong it was, it was actually, that was actually, fix "
    "that, fix that last one, change that last one to, swap that for, that last number is off, "
    "the last one was, the last one should be, that last one was, that last one should be, "
    "better make it, better make that, measured again and it's, i meant to say, no should be, "
    "remeasured, last one should be, last one should have been, make the last one, make that "
    "last one, no last one was, i misread that it's, i misread that, i misread it, i read it "
    "wrong, i read that wrong, i measured wrong, i got it wrong, i said it wrong, i said that "
    "wrong, misread that, call that one, that is actually, make those, make them, let me correct "
    "that, let me fix that, let me change that, but it was, but it's really, but it was really",
    "SLIP": "oops, that was wrong, that's wrong, that's not right, my mistake, my bad, no that's "
    "wrong, wrong, nope, no no, whoops, shoot, dang",
    "SAID": "i said, i had said, i told you, i called out, i had, i wrote",
    "CHANGED": "that was, those were, it was, it's, that's, that is, these were, they were, that "
    "one was, those got, this is, was, were, measured again, and, nope, no",
    "WASIT": "that was, it was, those were, they were, that one was, no that's, no it's, it "
    "should be, that should be, should be, should say, that should say, it should have been, "
    "wait that's, wait no that's, wait that was, actually that's, actually it's, actually it "
    "was, actually that was, these were, that's actually, it's actually, make that one",
    "SHOULDBE": "should be, should have been, should've been, should say, should read, was really, "
    "is really, was actually, is actually, were actually, ought to be, was supposed to be, were "
    "really, got to be, had to be",
    "MAKE": "make, change, call, set",
    "ONES": "one, ones, entry, number, measurement, reading, figure, line, count",
    "LIKEWISE": "too, as well, also, the same, is the same, same there, was the same, same thing "
    "there, same as well, the same there",
    "MOVETHAT": "put that on, put that one on, move that to, move it to, that goes on, that goes "
    "with, that belongs to, that belongs on, that was for, that's for, that one's for, those are "
    "for, those were for, those were on, that was on, that's on, they were on, those went on, "
    "that went on, it was on",
    "NOWAIT": "er, no, naw, nah, wait, no wait, wait no, sorry, actually, hold on, uh no, or "
    "rather, rather, oops, nope, whoops, my mistake, my bad, excuse me, correction, i am sorry, "
    "i'm sorry",
    "EDITING": "naw, nah, no, wait, no wait, wait no, sorry, er, i mean, i meant, i meant to "
    "say, make it, make that, no make it, no make that, wait make that, wait make it, scratch "
    "that make it, actually, actually make it, correction, correction make it, rather, or "
    "rather, hold on, uh no, oops, whoops, nope, my mistake, my bad, excuse me, i am sorry, i'm "
    "sorry, scratch that, strike that, no it's, no that's, no no, call it, better make it, "
    "better make that, i should say, or should i say, let me correct that, let me fix that, "
    "well, hang on, no sorry, i take that back, take that back, start over, let me start over, "
    "check that, i lied, that's wrong, no that's wrong, that ain't right, that's not right, "
    "pardon me, wait a minute, wait a second, wait a sec, hang on a second, hang on a minute, no "
    "wait a minute, dang it, dang, shoot, come to think of it, now that i think of it, no it "
    "was, no that was, or no, well no, but no, oh no, oh wait, no actually, let me back up, more "
    "like, closer to, uh uh, nuh uh, hold the phone, but i count, but i counted, but i only "
    "count, but it's, but it was, i'm lying, no i'm lying, no that's not right, i miscounted, no "
    "i miscounted, i counted wrong, miscounted, hold it, hold up, count again, my bad that was, no "
    "my bad, my bad it's, i tell a lie, no i tell a lie, tell a lie, i am lying, no i am lying, "
    "let me recount, let me count again, no count again, not that, wait nah, nah wait, no hold "
    "up, no hold on",
    "HEDGING": "maybe, or maybe, possibly, or possibly, perhaps, or was it, was it, could be, "
    "might be, or could be, or might be",
    "HESITATING": "okay, ok, yeah, you know, let me see, let's see, well, it's, that's, that is, "
    "it is, let me think, like, so, hang on, what was it, it was, i guess, i think, alright, all "
    "right, he says, he said, she says, or is it",
    "ASIDE": "what was it, what was, what is, what is it, what is it now, what am, what do, what "
    "did, where was, where was i, where am, where did, let me, let me see, let me think, let me "
    "count, lemme, read that, read that again, write that down, how many, was that, was it, don't "
    "hold me, oh i don't know, give me a second, one second, just a second, "
    "gimme a sec, gimme a second, gimme a minute, give me a sec, one sec, what am i saying",
    "GROPING": "i mean, i meant, well, hold on, hang on, wait, or rather, er, let me see, let me "
    "think, let me count",
    "ASIDEALONE": "count again, let me recount, hold it, hold up, wait, hold on, hang on, what, "
    "yes, yep, right, oh, well, not even, not quite, not exactly, that's it, that's that, and "
    "that's that, here we go",
    "EXCUSE": "tape, tape's, tape measure, hook, laser, i read, i was reading, i was looking, i "
    "had it, i looked, misread, i misread, upside down, slipped, sagging, hooked, talking, "
    "hollering, yelling, he says, he said, she says, he's saying",
    "LINK": "is, was, of, at, are, were, by, we, i, they, he, she",
    "AGAIN": "the same again, the same on, same again, ditto, same as last one, same thing, same "
    "as before, another one just like it, another just like it, one more just like it, same as "
    "that, same as the last one, same measurement, one more the same, another one the same, same, "
    "and again, once more, same "
    "here, same on, repeat that, same deal, likewise, same as above, same number, another of the "
    "same, same goes, one more just like that, another just like that, another one like that, "
    "one more like that, another like that, one more like it, another one like it",
    "CONFIRM": "yeah, yep, yes, write, write that, i said, say again, call it, make that, right, "
    "what was it, let me count, hang on, okay write",
}

AMENDS: dict[str, str] = {
    "begins": "no, nah, naw, nope, no no, wait, no wait, wait no, hold on, actually, sorry, my "
    "bad, my mistake, oops, whoops, oh snap, snap, shoot, dang, damn, correction, rather, or "
    "rather, not, wrong, no sir, no man, no dude, oh no",
    "takes back": "no wait, wait no, my bad, my mistake, oops, whoops, correction, or rather, i "
    "mean, i meant, make it, make that, instead of, was wrong, i was wrong, that was, it was, "
    "should be, should have said, should've been, i lied, miscounted, i miscounted, counted again, "
    "i counted again, i read it wrong, i read that wrong, i read it, i misread it, i misread that, "
    "told me, meant to say, more like, called it, not, the wrong, they cost, it cost, those cost",
    "ends": "sorry, actually, instead, wrong, rather, oops, dang",
    "begins plainly": "nah, naw, nope, no no, my bad, my mistake, oops, whoops, oh snap, shoot, "
    "dang, correction, or rather, no wait, wait no, i mean, i meant, no sir, no man, no dude, "
    "wrong",
    "plainly takes back": "my bad, my mistake, no wait, wait no, i mean, i meant, make it, make "
    "that, i read the wrong, i measured the wrong, i counted the wrong, i "
    "was wrong, was wrong, should have said, i lied, miscounted, i "
    "miscounted, counted again, i counted again, i read it wrong, i read "
    "that wrong, i misread that, i misread it, not right, that's wrong, that is wrong, "
    "ain't right, isn't right, that's not it",
    "says nothing": "the a an that this these those them it its it's that's they they're their "
    "there there's is was are were be been being should have had has i we you he she of on at in "
    "for to by from so oh well ok okay yeah no nah naw nope wait hold actually sorry my bad oops "
    "whoops snap shoot dang darn damn man dude bro sir boss yo buddy hey mean meant i'm make made "
    "put say said says call just only like really instead rather correction change "
    "scratch got get took gone went came come us ones mistake wrong lied again count counted "
    "miscounted recount read misread measured checked told me and but or then all told out lot em "
    "folks gotta guess think thought now too cost costs",
}
"""Words of half a sentence that changes what was said before: which may tell that it does, where it
begins, anywhere, and where it ends; which plainly do; and which words only lead to what is told."""

SHAPES: dict[str, str] = {
    "SO": "( NOWAIT | SLIP | CHANGED | WASIT )",
    "ITSUNIT": "( INCH | PIECEWORD | UNIT | HOURWORD | MINUTE | degrees )",
    "WHAT": "( the | ARTICLE )? ( o=ITEM | IN? the? w=WHERE ) ONES?",
    "BUTSO": "( m=( NUM | MIX ) ITSUNIT? | ARTICLE* a=SUCH ONES? )",
    "SUCH": "( PROFILE | COLOUR | CROSSED | NUM PENNY | number NUM | NUM GAUGE "
    "| ( NUM | MIX | FRAC ) INCH )",
}

SENTENCES: tuple[tuple[str, str], ...] = (
    ("drop", "SLIP* TAKEBACK+ LAST? too?"),
    ("drop that", "SLIP* TAKEBACK WHAT"),
    ("kept", "keep WHAT"),
    (
        "shorter",
        "( take | knock | shave ) ( a | an )? m=FRAC ( of an INCH )? off ( the? w=WHERE )?",
    ),
    ("drop those", "SLIP* TAKEBACK ( LAST | the | those )* n=NUM ONES?"),
    ("drop those", "SLIP* TAKEBACK n=BOTHOF ( those | them | these )?"),
    ("instead of that", "NOWAIT* MAKE WHAT to?"),
    ("instead of that", "NOWAIT* WHAT SHOULDBE"),
    ("instead", "SLIP* TAKEBACK? INSTEAD instead?"),
    ("instead", "SAID ( LENGTH | ITEM | TIME | SPOT ) INSTEAD"),
    ("new duration", "d=DURATION"),
    ("maybe instead", "SLIP* NOWAIT"),
    ("not this", "not x=( NUM | MIX ) b=( NUM | MIX )"),
    (
        "this not that",
        "CHANGED* m=( NUM | MIX ) ( INCH | PIECEWORD | UNIT | HOURWORD )? "
        "( not | NOTANY ) x=LENGTH",
    ),
    (
        "this not that",
        "SO* WHAT ( CHANGED | WASIT | is )+ m=( NUM | MIX ) ITSUNIT? ( not | NOTANY ) "
        "x=( NUM | MIX ) ITSUNIT?",
    ),
    ("this not that", "SO* m=( NUM | MIX ) ITSUNIT? ( not | NOTANY ) x=( NUM | MIX ) ITSUNIT?"),
    (
        "this not that",
        "SO* m=( NUM | MIX ) ITSUNIT? IN the? w=WHERE ( not | NOTANY ) x=( NUM | MIX ) ITSUNIT?",
    ),
    ("this not that", "SO* not x=( NUM | MIX ) ITSUNIT? SO* m=( NUM | MIX ) ITSUNIT?"),
    ("this not that", "NOWAIT* WHAT SHOULDBE m=( NUM | MIX ) ITSUNIT?"),
    ("this not that", "( SLIP | NOWAIT )+ m=LENGTH"),
    ("this not that", "( SLIP | NOWAIT )+ m=( NUM | MIX ) ( UNIT | PIECEWORD )"),
    ("this not that", "( SLIP | NOWAIT )+ ( only | just ) m=( NUM | MIX ) ( UNIT | PIECEWORD )?"),
    ("new day", "SO* ( MOVETHAT | CHANGED | WASIT | NOWAIT ) d=( DAYBACK | DAYNAMED | DAYAHEAD )"),
    ("new price", "( SLIP | NOWAIT | WASIT | INSTEAD | CHANGED )+ c=PRICE"),
    ("this not that", "SO* ARTICLE* i=ITEM ( not ARTICLE* y=ITEM | NOTANY by NUM )"),
    ("this not that", "SO* not ARTICLE* y=ITEM SO* ARTICLE* i=ITEM"),
    ("this not that", "NOWAIT* i=ITEM WASIT ITEM"),
    ("like this not that", "SO* ARTICLE* a=SUCH ONES? not ARTICLE* z=SUCH ONES?"),
    ("like this not that", "SO* not ARTICLE* z=SUCH ONES? SO* ARTICLE* a=SUCH ONES?"),
    ("like this not that", "SO* ( WASIT | NOWAIT ) ARTICLE* a=SUCH ONES?"),
    ("this not that", "NOWAIT* ( WASIT | ARTICLE ITEM was ) actually? i=ITEM"),
    ("this not that", "NOWAIT* WASIT only? m=( NUM | MIX ) ( UNIT | PIECEWORD )?"),
    ("this not that", "NOWAIT* WASIT only? d=DURATION"),
    ("this not that", "NOWAIT* WASIT t=TIME"),
    ("this not that", "t=TIME not TIME"),
    ("this not that", "d=DURATION not x=( DURATION | NUM )"),
    ("time not that", "SO* ( b=START | e=STOP | r=BREAK ) SO* t=TIME not x=TIME"),
    ("time not that", "SO* t=TIME not x=TIME"),
    ("less", "( INSTEAD | SO )* n=NUM ( less | fewer )"),
    ("moved", "NOWAIT+ CHANGED IN? the? p=WHERE ( not IN? the? y=WHERE )?"),
    ("moved", "NOWAIT* ( MOVETHAT | WASIT ) IN? the? p=WHERE ( not IN? the? y=WHERE )?"),
    ("moved", "NOWAIT+ IN? the? p=WHERE"),
    ("moved", "SO* not IN? the? y=WHERE SO* IN? the? p=WHERE"),
    ("moved", "CHANGED? IN? the? p=WHERE not IN? the? y=WHERE"),
    ("this not that", "( the | BREAK )* CHANGED+ m=NUM MINUTE not x=NUM MINUTE?"),
    ("this not that", "CHANGED* v=STOCKVERB not z=STOCKVERB"),
    ("again", "AGAIN"),
    ("again", "AGAIN ( IN? the? w=WHERE )? but ( ITS | INSTEAD | only | with )* BUTSO"),
    ("again", "AGAIN but ( ITS | INSTEAD | only | with )* BUTSO IN the? w=WHERE"),
    ("again", "IN? the? w=WHERE l=LIKEWISE"),
    ("new crew", "SO+ CREW"),
    ("adjust", "( HEAVY | LIGHT )"),
    ("adjust instead", "not ( HEAVY | LIGHT ) ( HEAVY | LIGHT )"),
    ("adjust instead", "a=( HEAVY | LIGHT ) not ( HEAVY | LIGHT )"),
    ("clock", "t=TIME"),
)
