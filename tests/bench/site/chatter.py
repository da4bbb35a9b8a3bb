"""What other people say within earshot: on the radio, in passing, and to him."""

from __future__ import annotations

VOICES = (
    "flite slt", "flite rms", "flite awb", "flite kal",
    "espeak", "espeak scotland", "espeak rp", "espeak new york",
)  # fmt: skip
"""None of them ever speaks for the person."""

RADIO = tuple(
    """
traffic is moving at forty five miles an hour on the interstate
we have a high of seventy two today with a forty percent chance of rain
it is nine fifteen and you are listening to the morning show
the home team won last night six to three in extra innings
call us now at five five five two one two one
that was a number one record back in nineteen seventy eight
gas is up eleven cents to three dollars and forty nine cents a gallon
so my wife says to me you are not putting that boat in the driveway
well thanks for having me on the program
the council votes on the new budget this thursday at seven
you can get two large pizzas for twenty one ninety nine all week
let us go to the phones who is on line four
i have been fishing that lake for thirty years and i never saw anything like it
there is a fifteen minute delay on the northbound bridge
winds out of the west at ten to fifteen miles an hour
the market closed down one hundred and twelve points
coming up after the break the weather for the weekend
he ran for eighty six yards and two touchdowns on sunday
do not forget to set your clocks back this weekend
she says the trick is to let the dough rest for an hour and a half
we will be right back
the river is expected to crest at twelve and a half feet
my grandfather built that house in nineteen twenty four
and now a word from our sponsors
three lanes are closed by the stadium until half past five
you know what i think i think nobody wants to pay for it
the recipe calls for two and three quarters cups of flour
so it is third down and seven at the thirty five yard line
a quarter of the people asked said they had no opinion
good morning everybody and welcome back to the show
""".strip().splitlines()
)
PASSING = tuple(
    """
hey did you see where i left the cooler
the truck is coming back around two
watch the hose
i will be over by the shed
are we getting lunch or what
no the other one the blue one
he said he would be here by now
grab me another one of those would you
it was like twenty bucks
that dog has been barking since six this morning
i got to pick up the kids at three thirty
turn that down a little
yeah okay see you tomorrow
""".strip().splitlines()
)
NEIGHBOUR = tuple(
    """
good morning how is it going up there
looks like it might rain later on
you want a cup of coffee
how long do you figure until you are done
my brother in law did his for about four thousand dollars
that is looking real nice
do you do gutters too
be careful up there
i am going to the store do you need anything
is that the same color as the old one
we have been in this house for twenty six years
is my car in your way
""".strip().splitlines()
)
