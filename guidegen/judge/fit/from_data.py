"""What of a self-check the variant's data settle, in words: so that nobody takes it for the owner's answers."""

from __future__ import annotations

from guidegen.judge.fit.payload import Payload
from guidegen.language import gettext


def from_data(payload: Payload) -> tuple[str, ...]:
    """Return a line for each requirement of the kit itself that no question is about, with what of it is assumed."""
    own = (payload["conditions"][place] for place in payload["rules"]["roots"])
    doubt = gettext("; assumed, not measured: {facts}")
    return tuple(
        one["detail"] + (doubt.format(facts=", ".join(one["assumed"])) if one["assumed"] else "")
        for one in own
        if one["detail"]
    )
