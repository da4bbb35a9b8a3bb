"""Notes typed in the evening come apart into what was said one after another."""

from joblog.dictation.paragraphs import sentences


def test_every_line_of_a_list_is_a_sentence_however_long_one_is() -> None:
    notes = (
        "same on the south eave",
        "the owner wants a light block by the back door, told her sixty bucks",
        "forty dollars at the dump",
        "drove thirty two miles",
    )
    assert sentences("\n".join(notes)) == notes


def test_lines_that_were_broken_to_fit_are_joined_again() -> None:
    text = (
        "we put up nine sheets of vented soffit on the north eave and then the wind\n"
        "came up so we quit at three. the owner wants a light block by the back door\n"
        "and i told her sixty bucks for it\n"
    )
    assert sentences(text) == (
        "we put up nine sheets of vented soffit on the north eave and then the wind came up so we "
        "quit at three.",
        "the owner wants a light block by the back door and i told her sixty bucks for it",
    )


def test_a_stop_that_cuts_a_word_short_ends_nothing() -> None:
    assert sentences("N eave 41 ft. 6 in. deep. S eave 40 ft.") == (
        "N eave 41 ft. 6 in. deep.",
        "S eave 40 ft.",
    )
