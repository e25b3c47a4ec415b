"""What a build report must not hold: who somebody is, where somebody lives, and how to reach them."""

from __future__ import annotations

import re

_DAY = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")
_SIGNS = {
    "an address of mail or of a page": re.compile(r"\S@\S|(?i:https?:|www\.)"),
    "a telephone number": re.compile(r"(?:\+|\b00?)[0-9][0-9 ()/-]{6,}|\b(?:[0-9][ ()/-]*){9,}"),
    "an address": re.compile(
        r"\b[0-9]+[a-z]?,? [A-Z]\w+ (?i:street|road|lane|avenue|drive|close|square)\b"
        r"|\b\w*(?i:straße|strasse|gasse|platz|allee) [0-9]|\b(?i:rue|via|calle) [A-Z]"
        r"|\b(?i:post ?code)\b|\b[A-Z]{1,2}[0-9][0-9A-Z]? [0-9][A-Z]{2}\b"
    ),
    "a name": re.compile(r"\b(?:Mr|Mrs|Ms|Dr|Herr|Frau)\b\.? [A-Z]|\b(?i:name is|name:|regards|sincerely|yours)\b"),
    "a serial number": re.compile(r"\b(?i:serial)\b"),
}


def looks_private(text: str) -> str | None:
    """Return what of a person a line seems to hold, in words; None where it holds nothing of the kind.

    >>> looks_private("write to me@example.test"), looks_private("the nut needed 1/8 turn more")
    ('an address of mail or of a page', None)
    """
    bare = _DAY.sub("", text)
    return next((what for what, sign in _SIGNS.items() if sign.search(bare)), None)
