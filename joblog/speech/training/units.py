"""What the model tells apart: phones, each after a kind of sound.

A phone is one of the 39 of CMUdict without stress, a pause (SIL) or speech of no known word (SPN).
How it begins and goes on depends on the sound before it, of which ten kinds are told apart. The
network has two outputs for each phone after each kind: its first frame, and every later one.
"""

from __future__ import annotations

KINDS: dict[str, str] = {
    "pause": "SIL SPN",
    "lips": "P B F V",
    "teeth": "T D TH DH S Z",
    "palate": "CH JH SH ZH K G HH",
    "nose": "M N NG",
    "side": "L",
    "curled": "R ER",
    "round": "UW W OW AW UH",
    "front": "IY Y EY AY OY IH",
    "open": "AA AO AE EH AH",
}
"""Phones by the mark that they leave on the next one."""

SOUNDS = tuple(sorted(" ".join(list(KINDS.values())[1:]).split()))
PHONES = ("SIL", *SOUNDS, "SPN")
"""All phones; the network's outputs follow this order."""
NUMBER = {phone: number for number, phone in enumerate(PHONES)}
SIL = NUMBER["SIL"]
SPN = NUMBER["SPN"]
KIND = tuple(
    next(number for number, row in enumerate(KINDS.values()) if phone in row.split())
    for phone in PHONES
)
"""Kind of each phone."""
OUTPUTS = len(PHONES) * len(KINDS) * 2


def output(phone: int, before: int) -> int:
    """The output for the first frame of a phone after another; that for later frames is next."""
    return 2 * (phone * len(KINDS) + KIND[before])


PLACED = (
    "<eps>",
    "SIL",
    *(f"{phone}_{place}" for phone in SOUNDS for place in "BEIS"),
    "SPN_S",
)
"""Phones by their place in a word (begin, end, inside, single), as Kaldi numbers them."""
PLACED_NUMBER = {phone: number for number, phone in enumerate(PLACED)}


def placed(phones: list[str]) -> list[int]:
    """Numbers in `PLACED` of a word's phones."""
    if len(phones) == 1:
        return [PLACED_NUMBER[f"{phones[0]}_S"]]
    places = ["B", *"I" * (len(phones) - 2), "E"]
    return [PLACED_NUMBER[f"{phone}_{at}"] for phone, at in zip(phones, places, strict=True)]


def bare(number: int) -> int:
    """The number in `PHONES` of a phone of `PLACED`."""
    return NUMBER[PLACED[number].split("_")[0]]
