"""Whether the customer agreed to an extra, as far as anybody said so."""

from __future__ import annotations

import re

from joblog.model import BesideLine

NOT_SAID = "agreement not said"


def agreement(line: BesideLine) -> str:
    """Who agreed to an extra, or asked for it, in words; that nobody said so, where nobody did."""
    told = line.text.lower()
    if _NOT_YET.search(told):
        return f"not agreed yet: {line.who}" if line.who else "not agreed yet"
    if _AGREED.search(told):
        return f"agreed: {line.who}" if line.who else "agreed, as it was told"
    return f"asked for by {line.who}, {NOT_SAID}" if line.who else NOT_SAID


_WORDS = (
    r"(?:agree[sd]?|accept(?:s|ed)?|approve[sd]?|okay(?:ed|s)?|ok'?d|sa(?:id|ys) (?:yes|ok|okay)|"
    r"signed|(?:gave|gives) (?:the|a) go.ahead|sa(?:id|ys) (?:to )?go ahead)"
)
_AGREED = re.compile(rf"\b{_WORDS}\b")
_NOT_YET = re.compile(
    rf"\b(?:not|never|no one|nobody|hasn'?t|haven'?t|didn'?t|doesn'?t|won'?t|wouldn'?t|must|has to|"
    rf"needs? to|if|until|when|once|whether|waiting)\b[^.;]*\b{_WORDS}\b"
)
