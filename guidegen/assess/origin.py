"""What a record was made by and from, so that a later edition can explain why it differs."""

from __future__ import annotations

from guidegen.assess.kept import code_hash
from guidegen.record.stated import Origin
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.workshop.base import FINGERPRINT_DIGITS

JUDGES = "guidegen.assess.assessor"
"""The module whose imports are all that computes, judges and words a record."""
CONDITIONS = ("tariff", "room", "feed", "usage")
"""Parts of `content/workshop.yml` that figures are computed with."""


def origin(known: Catalogue, machine: Machine, kit: Kit) -> Origin:
    """The hash of what computes and judges, and of everything written that a pair's record is made from.

    The steps of its procedure and the hazard statements keep their own.
    """
    made_from = {"machine": machine.places.fingerprint(), "kit": kit.places.fingerprint()}
    made_from |= {f"kit {one.id}": one.places.fingerprint() for one in known.first(kit.id)}
    made_from |= {"drinks": known.drinks.places.fingerprint()}
    made_from |= {name: known.workshop.places.fingerprint(name) for name in CONDITIONS}
    made_from |= {"shared": known.shared.places.fingerprint()} if known.shared else {}
    return Origin(program=code_hash(JUDGES)[:FINGERPRINT_DIGITS], made_from=made_from)
