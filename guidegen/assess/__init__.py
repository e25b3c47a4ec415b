"""Assessment: the only place where fields of the catalogue meet physics, fit and safety.

`inputs` draws the uncertain facts, `network_of` makes networks of them, `figures` makes figures of what the physics
computes, `fitting` judges whether the kit goes on, `told` repeats what the catalogue says, `guiding` resolves and
lints the procedure for the facts that `adapt` makes of machine and kit. `Assessor` puts one record together.
"""

from guidegen.assess.assessor import DRAWS, Assessor

__all__ = ["DRAWS", "Assessor"]
