"""Text of others made visible: what would drive a terminal, turn the line or forge another one is shown as an escape.

A file's name, a customer's order or a value of somebody's YAML may hold any character. Whoever prints goes through
here: a problem with each of its parts, the terminal with all that it shows.
"""

from __future__ import annotations

import re

_HIDDEN = (
    "\x00-\x08\x0b-\x1f\x7f-\x9f"  # control characters of both sets; tab and line feed are asked about below
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # marks that turn the direction of the text
    "\u2028\u2029"  # foreign ends of lines
    "\u2060-\u2065\ufeff\ufff9-\ufffb\U000e0000-\U000e0fff"  # what cannot be seen at all
    "\ud800-\udfff"  # bytes that are no text
)
_IN_LINES = re.compile(f"[{_HIDDEN}]")
_IN_ONE = re.compile(f"[{_HIDDEN}\t\n]")


def visible(text: str) -> str:
    r"""The text with every such character as its code, as JSON writes it; it has one line afterwards.

    >>> print(visible("red \x1b[31m, next\nline, turned \u202e"))
    red \u001b[31m, next\u000aline, turned \u202e
    """
    return _IN_ONE.sub(_escape, text)


def visible_lines(text: str) -> str:
    r"""The same for a text of several lines.

    >>> print(visible_lines("one\ntwo\r"))
    one
    two\u000d
    """
    return _IN_LINES.sub(_escape, text)


def _escape(found: re.Match[str]) -> str:
    code = ord(found[0])
    if code < 0x10000:
        return f"\\u{code:04x}"
    high, low = divmod(code - 0x10000, 0x400)
    return f"\\u{0xD800 + high:04x}\\u{0xDC00 + low:04x}"
