"""What every sentence of doubt asks."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import joblog
from joblog.asking.doubts import DOUBTS, UNKNOWN, kind_of, of_one_kind, told_apart
from joblog.asking.offers import OFFERS
from joblog.dictation.doubter import SOUNDS

ROOMS = Path(joblog.__file__).parent
HEARD = " heard two ways; the other is: 'used twelve? sheets'"
SENTENCES = {
    "of what? No item was said": "Of what?",
    "needed, but how many of what?": "Needed: what?",
    "used, delivered, scrapped or left over? It was not said.": "What became of it?",
    "how many?": "How many?",
    "'some' is how many?": "How many is 'some'?",
    "how many hours is that?": "How many hours?",
    "how long was the break?": "How long was the break?",
    "when? No time was said": "When?",
    "hours on which task?": "Hours on which task?",
    "which job is 'henderson'?": "Which job is 'henderson'?",
    "'hanging' is no task of this job": "'hanging' is no task of this job: which is it?",
    "a price, but for how many?": "A price: for how many?",
    "money for fascia, but for how many?": "A price: for how many?",
    "twelve dollars each: for how many?": "A price: for how many?",
    "says to change the last one: to what?": "Something was to be changed: to what?",
    "'J' is not in the catalog: joblog catalog set \"J\" unit=stick": "'J': which item?",
    "fascia, 1x12: no such line in the catalog, a new one?": "fascia, 1x12: which item?",
    f"which item: reveal or no item?{HEARD}": "Which: reveal or no item?",
    "what was done: spoiled or measure?": "What was done: wasted or measure?",
    "used, or spoiled?": "installed, or wasted?",
    "delivered, or put in?": "delivered, or put in?",
    "taken off the truck, or used?": "Taken off the truck, or installed?",
    "bent to shape, or spoiled?": "Bent to shape, or wasted?",
    "'toenailed': were they used?": "'toenailed': were they installed?",
    "used too?": "installed too?",
    "is that done, or still to do?": "Is that done, or still to do?",
    "so many are missing, or so many are too short?": "Are so many missing, or too short?",
    "said twice: is it one, or two?": "Said twice: is it one, or two?",
    "said twice: once more, or again?": "Said twice: is it one, or two?",
    "in all, or more of it?": "In all, or more of it?",
    "the sum of what was said before it, or more?": "The sum of what was said before it, or more?",
    "of what was counted before, or more of it?": "Of what was counted before, or more of it?",
    "a number by itself: 'one' more?": "'one' by itself: so many more?",
    "there were six: does the rest tell what became of them?": (
        "There were six: does the rest tell what became of them?"
    ),
    f"which number: 2 people, 7 hours or 7 hours?{HEARD}": "Which number: 2 people or none?",
    "a number alone: inches, feet or a count?": "A number alone: inches, feet or a count?",
    "4:30 and 2, or 4 o'clock and 32? said in one breath": "4:30 and 2, or 4 o'clock and 32?",
    "two numbers in a row: one length, or two?": "Two numbers in a row: one length, or two?",
    "a fraction by itself: does it belong to the number before it?": (
        "Does the fraction belong to the number before it?"
    ),
    "said twice: 41, then 41 3; or two lengths?": "41, then 41 3: one length, or two?",
    "two numbers, 11 and 12 inches: which one holds?": "Which one holds: 11 and 12 inches?",
    "inches, or feet?": "inches, or feet?",
    "9 inches, or 9 pieces?": "9 inches, or 9 pieces?",
    "so many instead, or a measure?": "so many instead, or a measure?",
    "so many screws, or so many lb?": "So many screws, or so many lb?",
    "siding nails is counted by the lb, not by the box": (
        "siding nails is counted by the lb: how many?"
    ),
    "a couple: exactly two?": "A couple: exactly two?",
    "only roughly: 'about'": "Only roughly: is it that?",
    "'zero six' begins with a zero: is a digit before it missing?": (
        "'zero six' begins with a zero: is a digit missing?"
    ),
    "'one zero six': one number, digit by digit?": "'one zero six': one number, digit by digit?",
    "a number was left over: six": "'six': a number for what?",
    "is 7 minutes, or another number?": "7 minutes, or another number?",
    "the price does not divide evenly: rounded to the cent": (
        "The price does not divide evenly: rounded to the cent?"
    ),
    "is that the price?": "is that the price?",
    "so many pieces?": "so many pieces?",
    "18 hours is more than a day's work": "18 hours is more than a day's work",
    "how many are at work from then on?": "How many are at work then?",
    "3 besides you, or 3 in all?": "3 besides you, or 3 in all?",
    "14 people?": "14 people?",
    "is 'dale' a helper?": "Is 'dale' a helper?",
    "hours of how many people?": "Hours of how many people?",
    "is that the helper's pay, or everybody's?": "is that the helper's pay, or everybody's?",
    "morning or afternoon?": "morning or afternoon?",
    "now, or at 'nine'?": "Now, or at 'nine'?",
    "did the work start or stop then, or only 'fascia'?": (
        "Did the work start or stop then, or only 'fascia'?"
    ),
    "did the day start then, or something else?": "Did the day start then, or something else?",
    "'tuesday': on which of these days?": "Which day: 'tuesday': on which of these days?",
    "stops at 7:00 AM, before the start at 8:00 AM": (
        "stops at 7:00 AM, before the start at 8:00 AM"
    ),
    "far from the others on north eave, which are 12, 12 1/8 in": (
        "The others on north eave are 12, 12 1/8: is it this?"
    ),
    "with it 20 sheets would be gone, and only 16 ever came": (
        "With it 20 sheets would be gone, and only 16 ever came: is it right?"
    ),
    "20 sheets left, and only 16 ever came": "20 sheets left, and only 16 ever came: is it right?",
    "4 left, where 2 were left before and none came since": (
        "4 left, where 2 were left before and none came since: is it right?"
    ),
    "-3 is below zero": "-3 is below zero",
    "$40.00 a panel is far from the planned $21.40": (
        "$40.00 a panel, where $21.40 was planned: is it right?"
    ),
    "with it 9 man-hours would be put to tasks, and only 8 were worked that day": (
        "with it 9 man-hours would be put to tasks, and only 8 were worked that day: is it right?"
    ),
    "which place: no place or by window?": "Which place: no place or by window?",
    "what was said at 07:30 came in later: is it porch, or garage?": (
        "What was said at 07:30 came in later: is it porch, or garage?"
    ),
    "an amount in a note: is it one?": "An amount in words: does it count?",
    "a time in a note: of the work?": "A time: of the work?",
    "numbers or material were named that fit no entry": (
        "Numbers or material in words: what are they?"
    ),
    "only words, or this: 'started at nine'?": "Only words, or 'started at nine'?",
    "sounds like one fact, not several: is each of them meant?": (
        "One thing, or several: is each of them meant?"
    ),
    "sounds like something was measured, not a problem": (
        "Sounds like something was measured, not a problem"
    ),
    "it was measure before: north eave twelve": "It was measure before: is it this now?",
    "which one: stop: 16:30, or start: 07:30?": (
        "Which one is changed: stop: 16:30, or start: 07:30?"
    ),
    "may have been taken back right after: scratch that": "Taken back by 'scratch that'?",
    "it is not certain what it takes back": "it is not certain what it takes back",
    "something seems to be put right or taken back: is this what stands?": (
        "Something seems to be taken back: is this what stands?"
    ),
    "which fascia: 1x6 or 1x8?": "Which fascia: 1x6 or 1x8?",
    "six of fascia, or soffit?": "six of fascia, or soffit?",
    "30 miles in all, or twelve?": "30 miles in all, or twelve?",
    "'thirty three sixty fourths' is 33/64 or 30 3/64": (
        "'thirty three sixty fourths': 33/64 or 30 3/64?"
    ),
    "10 18/16 is 11 1/8?": "10 18/16 is 11 1/8?",
    "10, or 12?": "10, or 12?",
    "two, or four?": "two, or four?",
    "soffit panel or fascia?": "soffit panel, or fascia?",
    "not understood: 'panel'": "'panel' was not understood: is it right?",
    "unclear words beside it: 'hoot': is it right?": "'hoot' is not clear: is it right?",
    "several things in one breath: is each right, and is it all?": (
        "Several things in one breath: is each right, and is it all?"
    ),
    "more was said than is here: was anything left out?": "More was said: was anything left out?",
    "said in an unusual way: is it right?": "Said in an unusual way: is it right?",
    "not heard clearly": "Not heard clearly: is it right?",
    "only one recognizer heard anything": "Hardly heard: was it said at all?",
    "the words are not clear": "Are these the words?",
    "a long breath was parted here: does it belong to what comes next?": (
        "A long breath was parted: does it belong to what comes next?"
    ),
    "too much at once to be read: say or type it in parts": "Too much at once: say it in parts",
    "may be the same sound as monday.m4a; keep one of the two, and withdraw the other if it is": (
        "May be the same as in monday.m4a: does it count?"
    ),
    "this entry is damaged in the book; say it anew, or drop it": (
        "this entry is damaged in the book; say it anew, or drop it"
    ),
}


@pytest.mark.parametrize("why", SENTENCES)
def test_a_sentence_of_doubt_asks_plainly(why: str) -> None:
    assert kind_of(why).asks == SENTENCES[why]


def test_every_line_of_the_table_is_met_by_a_sentence() -> None:
    met = {kind_of(why).kind for why in SENTENCES}
    assert [kind.sentence for kind in DOUBTS if kind not in met] == []


def test_every_question_that_the_rooms_below_ask_is_in_the_table() -> None:
    asked = {text for file in WHERE for text in _questions_in(file)} - {*SOUNDS.values()}
    asked |= {f"sounds like {sound}" for sound in SOUNDS.values()}
    assert len(asked) > 60
    assert sorted(text for text in asked if kind_of(text).kind is UNKNOWN) == []


def test_every_offer_of_the_table_is_made_by_something() -> None:
    assert {offer for kind in DOUBTS for offer in kind.offers} == set(OFFERS)


def test_a_sentence_of_nobody_is_asked_as_it_is() -> None:
    doubt = kind_of("the moon was full")
    assert (doubt.kind, doubt.asks) == (UNKNOWN, "the moon was full")


def test_of_several_doubts_what_is_missing_comes_first() -> None:
    doubts = told_apart(["not heard clearly", "of what? No item was said"])
    assert [doubt.asks for doubt in doubts] == ["Of what?", "Not heard clearly: is it right?"]


def test_one_question_is_asked_once() -> None:
    whys = ["said twice: once more, or again?", "said twice: is it one, or two?"]
    assert len(told_apart(whys)) == 1


def test_two_sentences_of_one_kind_doubt_the_same() -> None:
    assert of_one_kind("which number: 1 or 2?", "which number: 30 or 40?")
    assert not of_one_kind("which number: 1 or 2?", "of what? No item was said")


def test_two_sentences_of_no_kind_are_not_of_one_kind() -> None:
    assert not of_one_kind("the moon was full", "the tide was low")


WHERE = (
    *sorted((ROOMS / "dictation").glob("*.py")),
    *(ROOMS / "book" / name for name in ("history.py", "late.py")),
    *(ROOMS / "reconcile" / name for name in ("sense.py", "counts.py")),
)


def _questions_in(file: Path) -> Iterator[str]:
    """The texts of a file that ask something, with a word or a number where they have a gap."""
    tree = ast.parse(file.read_text("utf-8"))
    inside = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        for part in node.values
    } | {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if id(node) in inside:
            continue
        text = _text(node)
        if text.endswith("?") and " " in text and not set(text) & {"\\", "[", "="}:
            yield text


def _text(node: ast.AST) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value.replace("{!r}", "'x'").replace("{}", "next")
    return "".join(map(_part, node.values)) if isinstance(node, ast.JoinedStr) else ""


def _part(part: ast.expr) -> str:
    if isinstance(part, ast.Constant):
        return str(part.value)
    assert isinstance(part, ast.FormattedValue)
    return "'x'" if part.conversion == ord("r") else GAPS.get(ast.unparse(part.value), "5")


GAPS = {
    "SAYS": "sounds like ", "_ONLY_WORDS": "only words, or this",
    "kind": "used", "before.kind": "used", "draft.verb": "used",
    "named": "spoiled", "question": "so many", "_WHICH['number']": "which number",
    "_WHICH[worst.field]": "which number", "since": "what was said at 07:30 came in later",
}  # fmt: skip
"""What may stand in a gap of such a text, by what is put there; else a number."""
