"""What an utterance means at its moment: kept, put right, answered, commanded, or not for us."""

from datetime import time, timedelta
from fractions import Fraction

from joblog.listening.acts import (
    Accept,
    Ask,
    Do,
    Drop,
    Ignore,
    Keep,
    KeepBoth,
    Replace,
    Settle,
)
from joblog.listening.conversation import Conversation
from joblog.model import UNHEARD, BookEntry, Entry, Reading
from tests.bench.corpus import words
from tests.listening.talking import BEGUN, Talk, talk

NOTHING = Keep(Reading())


def kept(talking: Talk) -> tuple[Entry, ...]:
    [keep] = talking.of(Keep)
    assert isinstance(keep, Keep)
    return keep.reading.entries


def last_inches(talking: Talk) -> Fraction | None:
    last = talking.conversation.context.last
    return last.inches if last else None


# --- reading back and silence -----------------------------------------------------------------


def test_an_entry_is_kept_and_read_back() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    assert [entry.inches for entry in kept(talking)] == [Fraction(117, 8)]
    assert talking.said == "north eave, fourteen and five eighths"


def test_a_place_is_read_back_once() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("north eave fifteen and a half", after=5)
    assert talking.said == "fifteen and a half"


def test_silence_accepts_what_was_read_back() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    assert talking.waits(2.9) == ()
    assert talking.waits(0.2) == (Accept((1,)),)
    assert talking.waits(9) == ()


def test_going_on_accepts_what_was_read_back() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("used three sheets of soffit")
    assert talking.of(Accept) == [Accept((1,))]


def test_silence_does_not_accept_what_is_in_doubt() -> None:
    talking = talk()
    talking.hears("used about three sheets of soffit")
    assert talking.said == "not sure: used three sheets of soffit panel"
    assert talking.waits(9) == ()


def test_silence_does_not_accept_a_note_of_which_only_some_words_were_read() -> None:
    talking = talk()
    talking.hears("the ladder is on the south eave")
    assert talking.waits(9) == ()


def test_silence_does_not_accept_what_he_spoke_into() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.conversation.answered(talking.now, whole=False)
    talking.hears("used three sheets of soffit")
    assert talking.of(Accept) == []


def test_silence_accepts_nothing_where_answers_are_beeps() -> None:
    talking = talk(aloud=False)
    talking.hears("north eave fourteen and five eighths")
    assert talking.waits(9) == ()


def test_of_several_entries_of_one_breath_only_those_without_doubt_are_accepted() -> None:
    talking = talk()
    talking.hears("delivered six sheets of soffit, used about three")
    assert len(kept(talking)) == 2
    assert talking.waits(9) == (Accept((1,)),)


# --- taking back and putting right ------------------------------------------------------------


def test_scratch_that_drops_the_last_one_and_says_what() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("scratch that")
    assert talking.acts[:2] == (NOTHING, Drop(1))
    assert talking.said == "dropped: fourteen and five eighths"


def test_scratch_that_again_drops_the_one_before() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("used three sheets of soffit")
    talking.hears("scratch that")
    talking.hears("scratch that")
    assert talking.of(Drop) == [Drop(1)]
    assert talking.conversation.context.last is None


def test_scratch_that_drops_also_long_after() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.waits(600)
    talking.hears("scratch that")
    assert talking.of(Drop) == [Drop(1)]


def test_scratch_that_with_nothing_before_drops_nothing() -> None:
    talking = talk()
    talking.hears("scratch that")
    assert talking.of(Drop) == []
    assert [entry.kind for entry in kept(talking)] == ["correction"]


def test_what_is_dropped_is_not_accepted() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("scratch that")
    assert talking.of(Accept) == []
    assert talking.waits(9) == ()


def perhaps_scratched() -> Talk:
    talking = talk()
    talking.hears("used three rolls of flashing")
    talking.hears("scratch that", other="crash it")
    return talking


def test_scratch_that_heard_otherwise_too_puts_the_last_one_in_doubt_and_asks() -> None:
    talking = perhaps_scratched()
    assert talking.of(Drop) == []
    [doubted] = talking.of(Replace)
    assert isinstance(doubted, Replace)
    assert (doubted.id, doubted.by.quantity, len(doubted.doubts)) == (1, 3, 1)
    assert talking.said == "drop used three rolls of flashing?"
    assert talking.waits(9) == ()


def test_what_is_said_after_a_doubtful_scratch_that_is_kept() -> None:
    talking = talk()
    talking.hears("used three rolls of flashing")
    talking.hears(
        "scratch that, south eave ten and a half", other="scratch at south eave ten and a half"
    )
    assert [entry.inches for entry in kept(talking)] == [None, Fraction(21, 2)]
    assert talking.said == "south eave, ten and a half, drop used three rolls of flashing?"


def test_yes_or_saying_it_again_drops_it() -> None:
    for said, other in (("yes", None), ("scratch that", None), ("scratch that", "crash it")):
        talking = perhaps_scratched()
        talking.hears(said, other=other)
        assert talking.of(Drop) == [Drop(1)]


def test_no_lets_it_stand_without_a_doubt() -> None:
    talking = perhaps_scratched()
    talking.hears("no")
    assert [one.id for one in talking.of(Settle)] == [1]  # type: ignore[union-attr]


def test_make_it_puts_the_last_one_right() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("make it fourteen and three eighths", after=60)
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert (change.id, change.by.inches, change.by.place) == (1, Fraction(115, 8), "north eave")
    assert talking.said == "instead: fourteen and three eighths"


def test_make_it_passes_over_a_note_said_in_between() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("the ladder is on the south eave")
    talking.hears("make it fourteen and three eighths")
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert change.id == 1


def test_a_new_place_puts_the_last_one_right() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("i meant the south eave")
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert (change.by.place, change.by.inches) == ("south eave", Fraction(117, 8))


def test_a_correction_in_the_same_breath_is_done_by_the_book_and_read_back_as_it_ends() -> None:
    talking = talk()
    talking.hears("north eave fourteen and a half, no wait, make that fifteen and a half")
    assert talking.of(Replace) == []
    assert talking.said == "north eave, fifteen and a half"
    assert talking.waits(9) == (Accept((1,)),)


# --- a number by itself -----------------------------------------------------------------------


def test_a_number_by_itself_just_after_the_read_back_replaces_the_last_one() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("forty and five eighths", after=1.5)
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert (change.id, change.by.inches, change.doubts) == (1, Fraction(325, 8), ())
    assert talking.said == "instead: forty and five eighths"
    assert last_inches(talking) == Fraction(325, 8)


def test_the_number_that_was_put_right_is_accepted_by_silence() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("forty and five eighths", after=1.5)
    assert talking.of(Accept) == []
    assert talking.waits(4) == (Accept((1,)),)


def test_a_number_by_itself_into_the_read_back_replaces_too() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.hears("forty and a half")
    assert [change.by.inches for change in talking.of(Replace)] == [Fraction(81, 2)]  # type: ignore[union-attr]


def test_a_count_by_itself_replaces_a_count() -> None:
    talking = talk()
    talking.hears("used three sheets of soffit")
    talking.hears("four", after=1.5)
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert (change.by.kind, change.by.quantity) == ("used", Fraction(4))


def test_a_time_by_itself_replaces_a_time() -> None:
    talking = talk()
    talking.hears("started at seven thirty")
    talking.hears("seven fifteen", after=1.5)
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert change.by.time == time(7, 15)


def test_a_number_by_itself_later_is_a_new_one() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("forty and five eighths", after=3.5)
    assert talking.of(Replace) == []
    assert talking.of(Accept) == [Accept((1,))]
    assert [entry.place for entry in kept(talking)] == ["north eave"]


def test_a_number_with_a_place_is_never_a_replacement() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("south eave fifteen and a half", after=1.5)
    assert talking.of(Replace) == []


def test_a_number_by_itself_replaces_nothing_where_nothing_is_read_back() -> None:
    talking = talk(aloud=False)
    talking.hears("north eave fourteen and five eighths")
    talking.hears("forty and five eighths", after=1.5)
    assert talking.of(Replace) == []


def test_keep_both_takes_the_replacement_back() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("fifteen and a half", after=1.5)
    talking.hears("keep both")
    assert talking.acts[:2] == (NOTHING, KeepBoth())
    talking.hears("scratch that")
    assert talking.of(Drop) == [Drop(2)]
    talking.hears("scratch that")
    assert talking.of(Drop) == [Drop(1)]


def test_keep_both_without_a_replacement_does_nothing() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("keep both")
    assert talking.of(KeepBoth) == []


def test_keep_both_does_not_bring_back_what_was_dropped_since() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("fifteen and a half", after=1.5)
    talking.hears("scratch that")
    talking.hears("keep both")
    assert talking.of(KeepBoth) == []


def test_the_same_number_again_is_said_to_be_the_same() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("fourteen and five eighths", after=1.5)
    assert talking.said == "the same: fourteen and five eighths"
    talking.hears("keep both")
    assert talking.of(KeepBoth) == [KeepBoth()]


# --- questions --------------------------------------------------------------------------------


def asked(other: str = "south eave forty") -> Talk:
    talking = talk()
    talking.hears("south eave fourteen", other=other, sure=0.8)
    return talking


def test_a_number_heard_two_ways_is_asked_back() -> None:
    talking = asked()
    assert len(talking.of(Ask)) == 1
    assert talking.said == "fourteen, or forty?"


def test_the_number_said_again_settles_it() -> None:
    talking = asked()
    talking.hears("forty")
    [settled] = talking.of(Settle)
    assert isinstance(settled, Settle)
    assert (settled.id, settled.by.inches, settled.by.place) == (1, Fraction(40), "south eave")
    assert talking.conversation.question is None
    assert last_inches(talking) == 40


def test_the_first_and_the_second_settle_it() -> None:
    settled = []
    for answer in ("the first", "the second one"):
        talking = asked()
        talking.hears(answer)
        settled += [one.by.inches for one in talking.of(Settle)]  # type: ignore[union-attr]
    assert settled == [14, 40]


def test_neither_leaves_it_in_doubt() -> None:
    talking = asked()
    talking.hears("neither")
    assert talking.of(Settle) == []
    assert talking.said == "left open"
    assert talking.conversation.question is None


def test_yes_to_one_of_two_settles_nothing() -> None:
    talking = asked()
    talking.hears("yes")
    assert talking.of(Settle) == []


def test_an_answer_that_is_heard_two_ways_settles_nothing() -> None:
    talking = asked()
    talking.hears("forty", other="fourteen", sure=0.8)
    assert talking.of(Settle) == []


def test_no_answer_in_six_seconds_leaves_it_in_doubt() -> None:
    talking = asked()
    assert talking.waits(6.5) == ()
    talking.hears("the second")
    assert talking.of(Settle) == []


def test_a_third_number_becomes_the_number() -> None:
    talking = asked()
    talking.hears("sixteen", after=1.5)
    [change] = talking.of(Replace)
    assert isinstance(change, Replace)
    assert (change.id, change.by.inches) == (1, Fraction(16))


def test_another_entry_instead_of_an_answer_leaves_it_in_doubt() -> None:
    talking = asked()
    talking.hears("used three sheets of soffit")
    assert talking.of(Settle) == []
    assert talking.conversation.question is None


def test_what_only_one_recognizer_heard_is_settled_by_yes() -> None:
    talking = talk()
    talking.hears("south eave fourteen and a half", other="")
    assert talking.said == "south eave, fourteen and a half, right?"
    talking.hears("yes")
    assert [one.id for one in talking.of(Settle)] == [1]  # type: ignore[union-attr]


def test_nothing_is_asked_where_answers_are_beeps() -> None:
    talking = talk(aloud=False)
    talking.hears("south eave fourteen", other="south eave forty", sure=0.8)
    assert talking.of(Ask) == []


# --- yes and no -------------------------------------------------------------------------------


def test_yes_accepts_at_once_and_is_no_note() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("yes")
    assert talking.acts == (Accept((1,)), NOTHING)


def test_yes_accepts_what_was_broken_off() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.now += timedelta(seconds=1)
    talking.conversation.answered(talking.now, whole=False)
    talking.hears("yes")
    assert talking.of(Accept) == [Accept((1,))]


def test_no_waits_for_what_it_is_instead() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("no")
    assert talking.acts[0] == NOTHING
    assert talking.of(Accept) == []
    talking.hears("forty and five eighths", after=2)
    assert [change.by.inches for change in talking.of(Replace)] == [Fraction(325, 8)]  # type: ignore[union-attr]


def test_no_with_a_number_is_a_correction() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("no, forty and five eighths")
    assert [change.by.inches for change in talking.of(Replace)] == [Fraction(325, 8)]  # type: ignore[union-attr]


def test_okay_by_itself_is_kept_and_not_answered() -> None:
    talking = talk()
    talking.hears("okay")
    assert talking.acts == (NOTHING,)


def test_a_number_before_the_answer_began_is_a_new_one() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.hears("fifteen and a half", after=-0.2)
    assert talking.of(Replace) == []


# --- commands ---------------------------------------------------------------------------------


def test_a_command_is_handed_on() -> None:
    talking = talk()
    talking.hears("read back the cut list")
    assert talking.acts == (NOTHING, Do("cut list"))


def test_while_paused_only_resume_is_taken() -> None:
    talking = talk()
    talking.hears("pause")
    assert talking.of(Do) == [Do("pause")]
    talking.hears("north eave fourteen and five eighths")
    assert talking.acts == (Ignore("paused"),)
    talking.hears("resume")
    assert talking.of(Do) == [Do("resume")]
    talking.hears("north eave fourteen and five eighths")
    assert len(kept(talking)) == 1


def test_the_place_and_the_last_one_are_told() -> None:
    talking = talk()
    talking.hears("which place are we at")
    assert talking.said == "no place yet"
    talking.hears("north eave fourteen and five eighths")
    talking.hears("which place are we at")
    assert talking.said == "north eave"
    talking.hears("read the last one")
    assert talking.said == "north eave, fourteen and five eighths"


def test_a_photo_note_is_kept_at_the_place() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("photo note")
    [photo] = kept(talking)
    assert (photo.kind, photo.place, photo.carried) == ("photo", "north eave", ("place",))


# --- what is not for us -----------------------------------------------------------------------


def test_our_own_voice_is_ignored() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.hears("eave fourteen and five eighths")
    assert talking.acts == (Ignore("it is our own voice"),)


def test_another_number_into_our_own_is_not_our_voice() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.hears("fourteen and three eighths")
    assert [change.by.inches for change in talking.of(Replace)] == [Fraction(115, 8)]  # type: ignore[union-attr]


def test_another_number_much_softer_than_he_speaks_is_our_voice_misheard() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", answered=False)
    talking.hears("fourteen and three eighths", level=-12.0)
    assert talking.acts == (Ignore("it is our own voice"),)


def test_the_same_words_a_while_later_are_his() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("north eave fourteen and five eighths", after=4)
    assert len(kept(talking)) == 1


def test_talk_that_is_mostly_unheard_is_kept_and_not_answered() -> None:
    talking = talk()
    talking.hears(f"the {UNHEARD} {UNHEARD} and {UNHEARD}")
    assert talking.acts == (NOTHING,)


def test_talk_much_softer_than_he_speaks_is_kept_and_not_answered() -> None:
    talking = talk()
    talking.hears("the ladder is on the south eave", level=-14.0)
    assert talking.acts == (NOTHING,)


def test_a_note_at_his_usual_level_stays_a_note() -> None:
    talking = talk()
    talking.hears("the ladder is on the south eave", level=-3.0)
    assert [entry.kind for entry in kept(talking)] == ["note"]


def test_a_sure_fact_said_softly_is_still_a_fact() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths", level=-14.0)
    assert len(kept(talking)) == 1


def test_a_command_an_answer_or_a_taking_back_of_others_is_not_taken() -> None:
    talking = asked()
    for said in ("scratch that", "the second", "yes", "next one", "pause"):
        talking.hears(said, level=-14.0)
        assert talking.acts == (NOTHING,)


def test_talk_of_others_neither_accepts_nor_takes_back() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    talking.hears("the ladder is on the south eave", level=-14.0, after=0.8)
    assert talking.of(Accept) == []
    assert talking.waits(4) == (Accept((1,)),)


def test_words_not_heard_clearly_are_kept_by_their_sound_alone() -> None:
    talking = talk()
    talking.hears("the market closed down again", other="there mark it rose round a game", sure=0.3)
    assert [type(act) for act in talking.acts] == [Keep]
    assert [entry.kind for entry in kept(talking)] == []


def test_a_note_that_is_called_so_is_read_back_though_it_is_not_clear() -> None:
    talking = talk()
    talking.hears("note the ladder stays here", other="note the latter stays ear", sure=0.3)
    assert talking.said.startswith("note")


# --- beginning again --------------------------------------------------------------------------


def test_a_conversation_that_begins_again_knows_what_stood() -> None:
    talking = talk()
    talking.hears("north eave fourteen and five eighths")
    context = talking.conversation.context
    begun = Talk(Conversation(words(), context, kept=(_in_the_book(context.last),)), words())
    begun.hears("scratch that")
    assert begun.of(Drop) == [Drop(7)]


def _in_the_book(entry: Entry | None) -> BookEntry:
    assert entry is not None
    return BookEntry(7, 1, BEGUN, entry, (), "heard", "heard", BEGUN, "fourteen")


def test_only_what_may_be_a_depth_is_cut_shorter() -> None:
    def said_back(text: str) -> str:
        talking = Talk(Conversation(words(), shorter=Fraction(1, 4)), words())
        talking.hears(text)
        return talking.said

    assert "cut" in said_back("north eave depth fourteen and five eighths")
    assert "cut" in said_back("north eave fourteen and five eighths")
    assert "cut" not in said_back("north eave reveal fourteen and five eighths")


def test_a_correction_puts_right_the_entry_that_it_fits_not_the_last_one() -> None:
    talking = talk()
    talking.hears("used three sheets of soffit")
    talking.hears("north eave fourteen and a half", after=9)
    talking.hears("not three, seven", after=9)
    [made] = talking.of(Replace)
    assert isinstance(made, Replace)
    assert (made.id, made.by.item, made.by.quantity) == (1, "soffit panel", 7)


def test_a_number_put_right_twice_in_one_breath_is_the_last_one() -> None:
    talking = talk()
    talking.hears("used three sheets of soffit")
    talking.hears("make it nine, no, ten")
    assert talking.said == "instead: used ten sheets of soffit panel"


def test_a_note_is_not_put_right_by_a_number() -> None:
    talking = talk()
    talking.hears("note the ladder is on the porch")
    talking.hears("no, make that nine", after=9)
    assert talking.of(Replace) == []
    assert talking.said == "not sure: change it to what, say it again"
