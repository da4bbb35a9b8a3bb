"""Words that say nothing by themselves."""

from __future__ import annotations

WORDS: dict[str, str] = {
    "FILLER": "um, uh, ah, oh yeah, okay, ok, so, then, well, please, just, now, alright, all "
    "right, i, we, i've, we've, we're, i'm, you know, yeah, yep, the, also, plus, total, today, "
    "got, that's, that is, there's, there is, there are, it's, it is, to, of, here, let me see, "
    "let's see, i get, says, right here, is, it, and then, altogether, i read that as, call it, "
    "hey, man, real quick, this one, that one, for, so far, yesterday, this morning, at the "
    "moment, all told, comes to, comes out to, figures to, be, mark it, mark that, log, put me "
    "down for, put down, write down, record, looks like, there we go, there you go, thank you, "
    "thanks, she's, i believe, believe, go ahead, two readings, two measurements, three "
    "readings, can you, could you, would you, that piece, this piece, the piece, piece has, "
    "start over, start again, what time is it, what time is it now, what does it say, what is it "
    "say, what's that say, what is that say, phew, whew, geez, jeez, shoot, dang, darn, dang it, "
    "darn it, boy, lord, wow, gosh, oh boy, anyhow, anyway, heck, damn, sheesh, ugh, oof, yup, "
    "man oh man, oh man, lord have mercy, let me think, what was it, hang on, i'll tell you "
    "what, i tell you what, you ain't gonna believe this, you won't believe this, believe it or "
    "not, no lie, if you can believe it, finally, at last, as it happens, fyi, by the way, let "
    "me count, as of now, as of today, my friend, buddy, boss, if you want to be exact, to be "
    "exact, if you want it exact, to be precise, if it matters, for what it's worth, if i'm "
    "honest, to tell the truth, if you ask me, already, good news, in no time, ended up, had to, "
    "chalk up, counted up, okay cool, cool cool, near as i can tell, as near as i can tell, as "
    "far as i can tell, far as i can tell, if i counted right, by my count, guess what, turns "
    "out, that's it, that's that, and that's that, here we go, where was i, what am i saying, "
    "what is it now, write that down, read that again, yo, bro, dude, homie, sir, fellas, guys, "
    "folks, bud, pal, mate, chief, brother, easy, no big deal, sweet, right on, you see, y'know, "
    "okay so, alright so, basically, literally, honestly, real easy, piece of cake, kay, aight, "
    "ight, bruh, my dude, fam, no cap, deadass, straight up, ha, huh, whatever, listen, look, "
    "quick one, real talk, swear, i swear, final answer, let me see now, i would say, i'd say, "
    "gimme a second, gimme a sec, gimme a minute, one sec, forgot to say, i forgot to say, "
    "forgot to mention, i forgot to mention, forgot to tell you, i forgot to tell you, should've "
    "said, should have said, i should've said, i should mention, i should say, "
    "roughly speaking, generally speaking",
    "AND": "and, n, comma, oh and, and oh",
    "ARTICLE": "a, an, the, another, this, that, these, those, some, my, our, your, his, her, "
    "their",
    "THAT": "the, a, an, this, that, these, those",
    "OUR": "the, your, my, our, her, his, their",
    "IDLEWORD": "too, only, ones, though, tho, stuff, twice, exactly",
}

CLOSINGS: tuple[str, ...] = (
    "thank you for watching", "thanks for watching", "thank you very much", "thank you so much",
    "thanks for listening", "thank you for listening", "please subscribe", "thank you", "thanks",
    "good bye", "goodbye", "bye bye", "bye", "you", "see you next time", "see you",
)  # fmt: skip
"""What recognizers write for music and for silence, and what ends a talk; alone it says nothing."""
