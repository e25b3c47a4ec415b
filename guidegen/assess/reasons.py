"""Why a figure has no value: kept in English beside the number, translated when a record is made of it.

So numbers can be kept between runs whatever language the workshop publishes in.
"""

from __future__ import annotations

from typing import TypeVar

from guidegen.language import gettext, marked
from guidegen.record.base import Figure, Record

P = TypeVar("P")

_DETAIL = "\n"


def reason(message: str, detail: object = "") -> str:
    """A marked message, with what fills its `{detail}`.

    >>> described_reason(reason("no published value: {detail}", "too hot"))
    'no published value: too hot'
    """
    return f"{message}{_DETAIL}{detail}" if detail else message


LONGER, MORE = marked("longer than {detail}"), marked("more than {detail}")


def longer_than(limit: float, dimension: str, unit: str) -> str:
    """Why a figure has no value whose median lies beyond what was watched; a time in whole minutes or hours.

    >>> described_reason(longer_than(1200.0, "time", "s")), described_reason(longer_than(480.0, "volume", "ml"))
    ('longer than 20 min', 'more than 480 ml')
    """
    if dimension != "time":
        return reason(MORE, f"{limit:g} {unit}")
    return reason(LONGER, f"{limit / 3600:g} h" if limit % 3600 == 0 else f"{limit // 60:g} min")


def described_reason(kept: str) -> str:
    """The sentence of a kept reason in the workshop's language."""
    message, _, detail = kept.partition(_DETAIL)
    return gettext(message).format(detail=detail) if detail else gettext(message)


def described(part: P) -> P:
    """A part of the record with every reason in it translated; the very same object where there is none."""
    if isinstance(part, Figure):
        if part.reason is None:
            return part
        return part.model_copy(update={"reason": described_reason(part.reason)})
    if isinstance(part, Record):
        changed = {}
        for name in type(part).model_fields:
            value = getattr(part, name)
            now = described(value)
            if now is not value:
                changed[name] = now
        return part.model_copy(update=changed) if changed else part
    if isinstance(part, dict):
        return {key: described(value) for key, value in part.items()}  # type: ignore[return-value]
    if isinstance(part, tuple) and part and isinstance(part[0], Record):
        return tuple(map(described, part))  # type: ignore[return-value]
    return part
