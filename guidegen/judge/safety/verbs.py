"""The imperatives that a step, or an avoidance, may start with: one verb, one meaning."""

from __future__ import annotations

import re

_LIST = """
    align ask attach bend blow bring brush call carry catch check clamp clean clear close collect compare
    confirm connect copy count cover cut deburr descale discard disconnect drain draw drill dry empty feel file fill
    find fit fix flush fold follow fuse guard guide hang hold install insulate join keep label lace lay leave let lift
    listen lock look loosen lower make mark measure mount move note open operate pack photograph pick place
    plug point polish pour press probe prove pull pump punch push put read reconnect record refit release remove
    reset rest restrain rinse rotate route run saw screw scribe seal search secure set shake show sign slide slip
    soak solder stand start stay stop strap strip support sweep swing switch take tap test thread tie tighten
    tilt trim try turn uncover undo unlock unplug unscrew untie unwind use verify wait warm wash watch wear
    weigh wind wipe work wrap write
    """
IMPERATIVES = frozenset(_LIST.split())


def first_word(text: str) -> str:
    """Return the first word in small letters, without signs.

    >>> first_word("Pull the plug.")
    'pull'
    """
    match = re.match(r"\W*([A-Za-z]+)", text)
    return match.group(1).lower() if match else ""


def is_imperative(text: str) -> bool:
    """Return whether a sentence starts with an imperative, or forbids one.

    >>> is_imperative("Wear eye protection."), is_imperative("Never work alone."), is_imperative("The lid is hot.")
    (True, True, False)
    """
    if re.match(r"\W*(never|do not|always)\b", text, re.IGNORECASE):
        return True
    return first_word(text) in IMPERATIVES
