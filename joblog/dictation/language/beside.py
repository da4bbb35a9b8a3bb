"""Words that stand beside a fact, by what they can change of it."""

from __future__ import annotations

WORDS: dict[str, str] = {
    # Words that a number, an item or what happened may hang on, whatever the fact is.
    "TELLING_MORE": "double, triple, twice, thrice, fore, won, odd, ish, nother, plus, minus, "
    "times, tenths, hundredths, teen, single, nil, other, others, rest, remainder, extra, more, "
    "less, fewer, most, least, every, either, neither, per, pairs, none, any, only, except, "
    "besides, nor, hardly, barely, supposed, wish, whether, unless, perhaps, worth, again, same, "
    "than, versus, actually, sorry, wait, rather, mean, meant, change, changed, fix, oops, "
    "forgot, old, existing, original, by, or, not, no, if, might, could, would, seems, apart, "
    "remaining, missing, still, i'd, he'd, they'd, yet, want, wanted, count, counted, instead, "
    "another, nope, naw, nah, no joke",
    # Words that it may hang on where it counts something.
    "TELLING_OF_STOCK": "after, before, since, up, down, out, off, over, higher, lower, like, "
    "where, stuff, thing, things, kind, type, looked, replaced, swap, swapped, borrowed, lent, "
    "loaned, stole, sold, gave, ordered, asked, buy, left, gone, cut, away, back, good, bad, "
    "about, check, checked, measured, measure, center, centers, wrong, too, for",
    # Words that say nothing of a fact that they stand beside.
    "IDLY": "up, away, there, here, now, on, then",
    # Words that only help the verb or the amount behind them.
    "AUXILIARY": "have, has, had, were, was, are, is, been, there were, there was, i have, we "
    "have, i had, we had, forgot, i forgot, almost forgot",
    "WHEREABOUTS": "as, on, at, along, under, above, below, behind, beside, with, from, around, "
    "because, near, across, between, inside, outside, against, through, toward, towards, onto, "
    "into",
    "POINTING": "it, them, there, here, they, him, he, she, me, i, us, we, that, this, those, "
    "these, in there, up there, over there, over here, up here, you",
}

HARMLESS: tuple[str, ...] = (
    "OTHER", "PART", "SIDE", "EQUIPMENT", "FILLER", "AND", "ARTICLE", "LACK", "WHEREABOUTS",
    "POINTING",
)  # fmt: skip
"""Classes of words that may stand beside any fact; of their words, none that tells more."""
UNDOING: tuple[str, ...] = (
    "TELLING_MORE", "NOTGOING", "ISNOT", "NOTANY", "HASNO", "NONE", "ABOUT", "ORSO", "HEAVY",
    "LIGHT", "LESS", "INCH", "FOOT", "METRIC", "UNIT", "EACH", "DOZEN", "COUPLE", "VAGUE", "BOTHOF",
    "ONEMORE", "LASTOF", "TAKEBACK", "INSTEAD", "NOWAIT", "SLIP", "AGAIN", "FUTURE", "WILLBE",
    "LATER", "USED", "DELIVER", "RETURN", "NEED", "LEFTOVER", "COUNTED", "OUTOF", "HOURWORD",
    "MINUTE", "START", "STOP", "BREAK", "MONEY", "MILES", "TALK", "PITCHWORD", "AREA", "AFULL",
    "PIECEWORD", "DEGREES",
)  # fmt: skip
"""Classes of words that undo or change even a length to the sixteenth."""
IN_PASSING: tuple[str, ...] = (
    # When, of a day that is known anyway.
    "(early |late |later )?(this |in the )?(morning|afternoon|evening)",
    "tonight|as of (tonight|today|now|this morning)|right now|right away|first thing( today)?",
    "(right |just )?(before|after|at|over|around|since) (lunch|lunchtime|dinner|coffee|breakfast)",
    # Where the material or he himself is, and not where it goes.
    "(right |way |back |over |up |down |out )*(here|there|yonder)|over here by( the)?",
    "(up |out |down |back )?(on|in|at|to|by)( the| my| our| a| his)? ({STORED})",
    "on( the| my| our)? (job|site|way (in|out|home|here|over|back|up))",
    "from( the| my| our)? other job",
    # How it is said.
    "(that|it|this) (was|is)|that was all|i am|am|are|we are|we have|have|has|whoa|yikes",
    "roughly speaking|generally speaking|by my (math|count|tape|eye)|no joke|no kidding|looking "
    "good|looks good|went fine|no problem|no trouble|nice and easy|hold still|look at that",
    "((pretty|really|real|very|nice|and) )*(fast|quick|quickly|slow|slowly|straight|clean|tight|"
    "smooth|neat|easy)|all( the)? way (around|round|across|along|down|up|over|through)",
    "okay write down|write down|looking at|i am looking at|let me tell you|before i forget",
    "like i said|like i figured|as planned|as usual|for sure|for real|that day|sits|lands on",
)
"""Rows of words, as patterns, that can change no fact they stand beside, whatever it is.

Articles and words of `FILLER` may be missing from them, as they are left out of what nobody
understood.
"""
STORED = (
    "truck", "van", "trailer", "rack", "stack", "pile", "shop", "ladder", "carton", "box truck",
    "pickup", "hardware store", "supply house", "lumber yard", "lumberyard", "yard", "store",
    "dumpster", "driveway", "scaffold", "bench", "sawhorses", "ground", "brake",
)  # fmt: skip
"""Where material lies, is bought or is worked, which is no place of the house."""
LEADS_ON: dict[str, frozenset[str]] = {
    "stock": frozenset(
        "with without before after since while when because so that which who until already "
        "pretty nice real just to as".split()
    ),
    "time": frozenset("it because after before while when since so in under which".split()),
    "lying": frozenset("in at under on against by inside outside behind near from".split()),
}
"""Words that what follows a whole fact may begin with, and no name of what was counted: of what was
used, of when work was, and of material that lies or comes somewhere."""
OFF_OF = "(up |out |down |back )?(from|off)( of)?( the| my| our| a| his)? ({STORED})"
OF_A_KIND: dict[str, tuple[str, ...]] = {
    "measure": (
        OFF_OF,
        "(the )?(first|second|third|next|last|short|long|other|same|this|that) "
        "(piece|one|board|panel|stick|run|cut|length|bay|course|row)",
        "(over |right |up |down )*(by|near|next to|beside)( the)? (electric |gas |water )?meter",
        "(the )?(exposure|readings?|reading|measurement|sticks out|length|width)( on| of| is)?",
        "again|short|long|(the )?pitch|(at )?(the )?(far|near|other|back|front) end|about",
    ),
    "returned": (
        "(for|a|on)?( a| full)* ?(credit|refund|exchange)",
        "(the )?wrong (colou?r|shade|size|weight|kind|width|profile|one|ones)",
        "(that|they|it) (was|were)",
    ),
    "spoiled": (
        OFF_OF,
        "((that|it|they) )?came( in)? [a-z]+ed", "(had |to |on )?(a )?(bad|poor) [a-z]+",
        "(getting|carrying|taking|pulling|lifting|unloading|bringing|hauling)( it| them)?"
        "( off| down| up| from| out| around| over| in| of| to| the| a| my| {STORED}| house)*",
    ),
    "delivered": (
        OFF_OF,"(on|in) (the )?way in", "at( the)? [a-z]+ (store|yard|house|depot)"),
    "start": (
        "(got|i got|we got) (here|there|in|set up)", "set up( the)? ladders?", "day",
        "it was( still| pretty)? (dark|cold|hot|wet|raining|early|foggy|windy)",
    ),
    "stop": (
        "(packed|cleaned|loaded|locked|rolled) up", "left early", "beat|i am beat|dentist",
        "(because |it )*(got|was|is)( too| pretty)? (dark|cold|hot|wet|late|windy)",
    ),
    "on_hand": (OFF_OF,),
    "break": ("in the (shade|truck|van|house|garage|sun)",),
    "labor": ("spent( me)?( the)?( last)?|worked|that was",),
}  # fmt: skip
"""The same that can change no fact of one kind."""
