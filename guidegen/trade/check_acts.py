"""A workshop's own acts against the rest of it: the hazards that they carry, and the values that they print."""

from __future__ import annotations

import re
from collections.abc import Iterator

from guidegen.problems import Code, Problem, nearest
from guidegen.trade.catalogue import Catalogue
from guidegen.trade.contradiction import problem
from guidegen.workshop.rows import SLOTS

STATED = re.compile(r"\{([a-z0-9_-]+)\}")
"""A name in braces without a dot: a slot of the act, or a value that a procedure states."""
PRINTED = (*SLOTS, "with", "amount", "limit")


def check_acts(known: Catalogue) -> Iterator[Problem]:
    """Yield what an own act asks for and the workshop does not have."""
    if known.acts is None:
        return
    hazards = known.hazards.hazards if known.hazards else {}
    stated = {name for one in (known.shared, *known.procedures.values()) if one for name in one.values}
    for name, act in known.acts.acts.items():
        for index, hazard in enumerate(act.hazards):
            if hazard not in hazards:
                near = nearest(hazard, hazards)
                fix = f"write {near}" if near else "add it to content/hazards.yml"
                words = f'no hazard "{hazard}"'
                yield problem(known.acts, ("acts", name, "hazards", index), Code.OWN_ACT, words, fix)
        for loc, text in act.texts():
            for value in STATED.findall(text):
                if value not in (*PRINTED, *stated):
                    near = nearest(value, (*PRINTED, *stated))
                    fix = f"write {{{near}}}" if near else "state it under values: of the procedure"
                    words = f"nothing is called {{{value}}}"
                    yield problem(known.acts, ("acts", name, *loc), Code.OWN_ACT, words, fix)
