"""What the record holds of the water that stands in a coil and warms up."""

from __future__ import annotations

from typing import Annotated, Literal

from guidegen.record.base import Both, Figure, Record
from guidegen.record.outputs import Output


class ClosedCoil(Record):
    """The coil's water as it warms up from room temperature: what it pushes out, and what if it were locked in.

    `opens_first` is what gives way first on this machine's water path, as it is before any remedy: the relief valve
    where nothing that can close stands before it, else the tube, which yields. `unknown` where it is not known whether
    something closes.
    """

    opens_first: Literal["relief-valve", "tube", "unknown"]
    pushed_out_ml: Annotated[
        Both,
        Output(
            "Pushed out during a warm-up",
            "Water that leaves boiler and coil because it expands from room to idle temperature, measured cold.",
            "closed-coil",
        ),
    ]
    coil_pushed_out_ml: Annotated[
        Figure, Output("Pushed out by the coil", "The share of it that the coil's own water has.", "closed-coil")
    ]
    opens_bar: Annotated[
        Figure,
        Output(
            "First thing opens at",
            "Pressure at which the first thing gives way: a valve that the coil's water reaches, or else the tube.",
            "closed-coil",
        ),
    ]
    opens_after_k: Annotated[
        Figure,
        Output(
            "First thing opens after",
            "Warming from room temperature until then, the coil full and nothing but its tube giving.",
            "closed-coil",
        ),
    ]
    rise_bar: Annotated[
        Figure,
        Output(
            "Pressure rise of trapped water",
            "Pressure that the coil's water gains with each kelvin while both ends are closed, halfway from room to "
            "parked temperature.",
            "closed-coil",
        ),
    ]
    yields_bar: Annotated[
        Figure,
        Output(
            "Tube yields at",
            "Pressure at which straight tube of the softest temper begins to yield. Bends and joints may give way "
            "before.",
            "closed-coil",
        ),
    ]
    yields_after_k: Annotated[
        Figure,
        Output(
            "Tube yields after",
            "Warming from room temperature until then, both ends of the coil closed.",
            "closed-coil",
        ),
    ]
