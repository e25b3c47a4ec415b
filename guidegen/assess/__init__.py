"""Assessment: the only place where fields of the catalogue meet physics, fit and safety.

`inputs` draws the uncertain facts, `network_of` makes networks of them, `figures` makes figures of what the physics
computes, `verdict` judges whether the kit goes on, `stated` repeats what the catalogue says, `guiding` resolves and
lints the procedure for the facts that `adapt` makes of machine and kit. `Assessor` puts one record together;
`reference` gathers what pages print beside the records.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

__all__ = ["DRAWS", "Assessor"]

if TYPE_CHECKING:
    from guidegen.assess.assessor import DRAWS, Assessor


def __getattr__(name: str) -> Any:
    """Import the names when they are asked for: whoever only judges a fit loads nothing that computes."""
    if name in __all__:
        from guidegen.assess import assessor

        return getattr(assessor, name)
    raise AttributeError(f"module 'guidegen.assess' has no attribute {name!r}")
