"""Signs that a terminal cannot show: for each a plain one stands in, on screens as well."""

from __future__ import annotations

import codecs
import sys
import unicodedata
from io import TextIOWrapper

PLAIN = str.maketrans(
    {
        **dict.fromkeys("▸▶›→", ">"),
        **dict.fromkeys("◂◀‹←", "<"),
        **dict.fromkeys("↑▲", "^"),
        **dict.fromkeys("↓▼", "v"),
        **dict.fromkeys("✓✔", "+"),
        **dict.fromkeys("×✗", "x"),
        **dict.fromkeys("…·•", "."),
        **dict.fromkeys("‐‑–—─━╌╍═▔▁▂⎺⎻⎼⎽╴╶", "-"),
        **dict.fromkeys("│┃║▏▕▎┊┆╵╷", "|"),
        **dict.fromkeys("┌┐└┘├┤┬┴┼╭╮╰╯┏┓┗┛╺╸╹╻", "+"),
        **dict.fromkeys("█▇▆▅▄▃▀▌▐▍▋▊▉■", "#"),
        **dict.fromkeys("▒░▓", ":"),
        **dict.fromkeys("“”″", '"'),
        **dict.fromkeys("‘’′", "'"),
        "⁄": "/", "°": "*", "≈": "~", "≤": "<", "≥": ">", "−": "-",
    }
)  # fmt: skip
"""One sign for one sign, so that columns and screens keep their places."""

_LONGER = {"€": "EUR", "£": "GBP", "¥": "JPY"}


def write_what_it_can() -> None:
    """Has standard output and error show plain signs for those that their encoding lacks, instead
    of failing or showing codes."""
    codecs.register_error("joblog.plain", _plain)
    codecs.register(_ascii_by_another_name)
    for stream in (sys.stdout, sys.stderr, sys.__stdout__, sys.__stderr__):
        if isinstance(stream, TextIOWrapper):
            ascii_alone = codecs.lookup(stream.encoding).name == "ascii"
            stream.reconfigure(encoding=ASCII if ascii_alone else None, errors="joblog.plain")


ASCII = "joblog_ascii"


def _ascii_by_another_name(name: str) -> codecs.CodecInfo | None:
    """ASCII, by a name that click does not take for a mistake: else it would write UTF-8."""
    if name != ASCII:
        return None
    known = codecs.lookup("ascii")
    return codecs.CodecInfo(
        known.encode,
        known.decode,
        known.streamreader,
        known.streamwriter,
        known.incrementalencoder,
        known.incrementaldecoder,
        name=ASCII,
    )


def can_be_written(text: str) -> bool:
    """Whether standard output can show every sign of a text as it is."""
    try:
        text.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def plain_signs(text: str) -> str:
    """The text in ASCII: the sign that stands for each of its signs, "?" where there is none."""
    return "".join(map(_stands_for, text))


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plain_signs(error.object[error.start : error.end]), error.end


def _stands_for(sign: str) -> str:
    if sign.isascii():
        return sign
    shown = _LONGER.get(sign) or sign.translate(PLAIN)
    if not shown.isascii():
        # "é" is e, "½" is 1/2, and what has no such parts is unknown here.
        parts = unicodedata.normalize("NFKD", sign).translate(PLAIN)
        shown = "".join(part for part in parts if part.isascii()) or "?"
    return shown
