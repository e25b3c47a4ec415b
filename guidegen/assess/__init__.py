"""Assessment: the only place where fields of the catalogue meet physics, fit and safety.

`inputs` draws the uncertain facts, `network_of` makes networks of them, `figures` makes figures of what the physics
computes, `verdict` judges whether the kit goes on, `stated` repeats what the catalogue says, `guiding` resolves and
lints the procedure for the facts that `adapt` makes of machine and kit. `Assessor` puts one record together;
`reference` gathers what pages print beside the records.
"""

from guidegen.assess.assessor import DRAWS, Assessor

__all__ = ["DRAWS", "Assessor"]
