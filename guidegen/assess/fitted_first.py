"""Kits that go onto another one: what owners are asked about it, and what the record keeps of it."""

from __future__ import annotations

from guidegen.assess.stated import downsides, restore
from guidegen.language import gettext
from guidegen.record.first import FirstKit
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.workshop.fitted import fitted
from guidegen.workshop.questions import OfferedAnswer, Question, Questions


def questions_of(known: Catalogue) -> Questions:
    """The workshop's questions, and whether each kit is fitted that another one goes onto."""
    written = known.questions or Questions()
    wanted = dict.fromkeys(kit.needs for kit in known.kits.values() if kit.needs is not None)
    made = [is_fitted(known.kits[name]) for name in wanted if name in known.kits]
    return written.model_copy(update={"questions": (*written.questions, *made)})


def is_fitted(kit: Kit) -> Question:
    """The question whether a kit is on the owner's machine; none was on it as it left the factory."""
    yes = gettext("Yes, it is fitted, and the record of its tests is signed")
    answers = {"yes": yes, "no": gettext("No, or not yet")}
    return Question(
        fact=fitted(kit.id),
        title=gettext("The {kit} is on the machine").format(kit=kit.name),
        ask=gettext("Is the {kit} on your machine?").format(kit=kit.name),
        why=gettext("This kit goes onto it. If you do not have it, it is fitted first."),
        tool=gettext("your eyes"),
        where=gettext("on the record that you signed when it was fitted"),
        look="outside",
        minutes=1,
        may_differ=True,
        photos=(gettext("the signed record"),),
        choices=tuple(OfferedAnswer.model_validate({"is": word, "says": says}) for word, says in answers.items()),
    )


def first_of(known: Catalogue, kit: Kit) -> tuple[FirstKit, ...]:
    """What the record keeps of the kits that have to be on the machine before this one, in the order of fitting."""
    first = known.first(kit.id)
    return tuple(FirstKit(id=one.id, name=one.name, downsides=downsides(one), restore=restore(one)) for one in first)
