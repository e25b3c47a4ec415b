"""The effects of what stands around the steps: stops, after-care, symptoms and what they come from."""

from __future__ import annotations

from guidegen.judge.acts.effects import KernelEffect

OFF = {"mains": "off"}

AROUND: dict[str, KernelEffect] = {
    "stop": KernelEffect("The work ends here.", place="stop"),
    "care": KernelEffect("Something is done outside of the machine, whether or not it is on.", place="care"),
    "care-in-use": KernelEffect("Something is done with the machine in use.", {"mains": "live"}, place="care"),
    "care-inside": KernelEffect(
        "The machine is opened for it, cut off and cool; its earth is tested again.",
        {**OFF, "temperature": "cool"},
        role="electrically-skilled",
        place="care",
    ),
    "symptom": KernelEffect("Somebody notices it; the machine may be used on.", place="symptom"),
    "symptom-stops": KernelEffect("Somebody notices it, and uses the machine no more.", place="symptom"),
    "cause": KernelEffect("It is what a symptom can come from.", place="cause"),
}
"""By their names; `kernel` has all."""
