"""The letters of a file: its bytes, and in which encoding somebody's program wrote them."""

from __future__ import annotations

import codecs
import re
import stat
from pathlib import Path

LARGEST = 64 * 2**20
"""Bytes; no table of a job comes near it."""


class UnreadableError(ValueError):
    """A file that is no table; in words."""


def content_of(file: Path) -> bytes:
    """What the file holds. Raises UnreadableError."""
    try:
        if not stat.S_ISREG(file.stat().st_mode):  # A pipe would be waited for without end.
            raise UnreadableError("cannot be read: it is no file")
        with file.open("rb") as opened:
            content = opened.read(LARGEST + 1)
    except FileNotFoundError as error:
        raise UnreadableError("is not there. Check the name.") from error
    except OSError as error:
        raise UnreadableError(f"cannot be read: {error.strerror}") from error
    if len(content) > LARGEST:
        raise UnreadableError(f"cannot be read: it is larger than {LARGEST // 2**20} MB")
    return content


def letters_of(content: bytes) -> tuple[str, str]:
    """The text, and how it was encoded where that is worth telling. Raises UnreadableError."""
    for mark, encoding, told in _MARKS:
        if content.startswith(mark):
            return _decoded(content.removeprefix(mark), encoding), told
    if b"\0" in content:
        return _decoded(content, _by_zeros(content)), "UTF-16 letters"
    try:
        return _decoded(content, "utf-8"), ""
    except UnreadableError:
        if not content.isascii() and _mended(content):
            raise
        return _decoded(content, "cp1252"), "Windows letters"


_MARKS = (
    (codecs.BOM_UTF8, "utf-8", ""),
    (codecs.BOM_UTF32_LE, "utf-32-le", "UTF-32 letters"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "UTF-32 letters"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16 letters"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16 letters"),
)
"""UTF-32 stands before UTF-16, whose mark it begins with."""


def _by_zeros(content: bytes) -> str:
    """UTF-16 without a mark: most letters have a zero beside them, always on the same side."""
    first, second = content[::2].count(0), content[1::2].count(0)
    if max(first, second) * 4 < len(content) or min(first, second) * 4 > max(first, second):
        raise UnreadableError(_NO_TABLE)
    return "utf-16-be" if first > second else "utf-16-le"


def _mended(content: bytes) -> bool:
    """Whether letters beyond ASCII are UTF-8 in part: then it is damaged, and no Windows text."""
    return bool(_OF_TWO_OR_MORE.search(content))


_OF_TWO_OR_MORE = re.compile(rb"[\xc2-\xdf][\x80-\xbf]|[\xe0-\xef][\x80-\xbf]{2}")


def _decoded(content: bytes, encoding: str) -> str:
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError:
        raise UnreadableError(
            "is no text in an encoding that is known here; save it as CSV UTF-8 or as .xlsx"
        ) from None
    if _NO_LETTER.search(text):
        raise UnreadableError(
            "is no table: it holds signs that no text has; save it as CSV or .xlsx"
        )
    return text


_NO_TABLE = "is no table: it holds signs that no text has; save it as .xlsx or CSV"
_NO_LETTER = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f]")
