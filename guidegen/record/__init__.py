"""The assessment record: everything a guide says about one variant with one kit.

`assess` fills it; charts, pages, the bench sheet and `data/<variant>/<kit>.json` read nothing else. Every key
names its unit: `_k` a temperature difference in kelvin, `_degc` a temperature, `_s` seconds, `_j_per_k` a heat
capacity. Numbers are rounded to six significant digits before anyone reads them, so that a record is the same
on every processor. `format` goes up when a key comes, changes its meaning or goes away; `upgrades` brings what an
older edition kept to today's, and `read` is the only door through which a kept record comes in.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from guidegen.record.base import Figure, Record, rounded
from guidegen.record.closed_coil import ClosedCoil
from guidegen.record.computed import AfterSteam, Budget, CoilPart, CoolDown, Energy, WarmUp
from guidegen.record.curves import FromCold, Shot, Trace, WhatIf
from guidegen.record.drinks import AfterFlush, Display, Drink, Waiting
from guidegen.record.finding import LintFinding
from guidegen.record.first import FirstKit
from guidegen.record.gains import Gain
from guidegen.record.learned import Learned
from guidegen.record.measured import Measured
from guidegen.record.outputs import Chapter, Output
from guidegen.record.procedure import Instruction
from guidegen.record.scene import Scene
from guidegen.record.self_check import SelfCheck
from guidegen.record.stated import (
    BoltAccess,
    Build,
    Downside,
    Evidence,
    Fit,
    Input,
    KitNote,
    KitPart,
    Missing,
    Origin,
    Protrusion,
    Restore,
    Torque,
    VariantPart,
)
from guidegen.record.together import Together
from guidegen.record.upgrades import FORMAT, GivenWords, Unreadable, upgraded
from guidegen.record.worth import Worth

__all__ = [
    "FORMAT",
    "Assessment",
    "Evidence",
    "Figure",
    "Fit",
    "GivenWords",
    "Outline",
    "Trace",
    "Unreadable",
    "Waiting",
    "read",
    "rounded",
    "upgraded",
]


class Outline(Record):
    """What is known of one variant with one kit before anything is computed over time."""

    variant: VariantPart
    kit: KitPart
    fit: Fit


class Assessment(Record):
    """One variant with one kit. See the module's docstring.

    `same_cup_shot` is the shot with the kit at the setpoint for the same cup beside the one without it at the present
    setpoint; null where a thermostat has one temperature. `self_check` holds the rules and words of the self-check.
    Curves, "what if" and what a thermostat's phase makes of a drink are those of one machine, the draw nearest to the
    medians of the headlines; `typical` says by place what the headlines are on it.
    `origin` is null in a record that an edition kept before records stated it.
    `withheld` says that there is no instruction because of what is `missing`.
    `worth` is null without draws, of a kit that leaves every temperature as it is, and in editions of before.
    `before_fitting` and `before_restoring` say what other kits have to do with either; `together` has each other kit
    that fits the variant as well. `scene` is what drawings are made of; null in editions of before. `measured` is what
    logged runs say; null where nobody logged the machine with the kit, and in editions of before. `learned` is what
    they taught; null where nobody let it be learned, and in editions of before. `gains` are stated by the workshop and
    not computed; `first` are kits that this one goes onto: without it means a machine with them. Both are absent before
    2027.
    """

    format: Literal[2] = FORMAT
    origin: Origin | None
    variant: VariantPart
    kit: KitPart
    edition: str
    fit: Fit
    budget: Annotated[Budget, Chapter("Mass and heat", "", 9)]
    drinks: Annotated[
        dict[str, Drink],
        Chapter("Drinks", "What one shot takes out of a warm, idle machine, and how it comes back.", 1),
    ]
    shot: Shot
    same_cup_shot: Shot | None
    from_cold: FromCold
    what_if: WhatIf
    waiting: Annotated[
        tuple[Waiting, ...],
        Chapter("The same drink again", "The second drink after a wait, the machine left alone in between.", 2),
    ]
    same_cup_degc: Annotated[
        Figure,
        Chapter("The same cup", "", 4),
        Output(
            "Setpoint for the same cup",
            "Setpoint at which the mean outlet with the kit equals the one without it at the present setpoint.",
            "shot",
        ),
    ]
    after_flush: Annotated[AfterFlush | None, Chapter("After a flush", "", 3)] = None
    after_steam: Annotated[
        AfterSteam, Chapter("After steam", "Steam itself is not modelled; the way back from it is.", 6)
    ]
    display: Annotated[
        Display,
        Chapter("What the display shows", "Is mine right? A test shot of the main drink, with the kit.", 5),
    ]
    warm_up: Annotated[WarmUp, Chapter("From cold", "", 7)]
    energy: Annotated[Energy, Chapter("Energy", "", 8)]
    coil: Annotated[CoilPart | None, Chapter("The coil", "", 10)]
    closed_coil: Annotated[
        ClosedCoil | None,
        Chapter("The closed coil", "Water that warms up in the coil, and what it would do if it were trapped.", 11),
    ] = None
    cool_down: Annotated[
        CoolDown,
        Chapter("Cooling down", "Upper bounds for planning. A contact thermometer decides, never the clock.", 12),
    ]
    torques: tuple[Torque, ...]
    protrusions: tuple[Protrusion, ...]
    bolts: BoltAccess | None = None
    gains: tuple[Gain, ...] = ()
    first: tuple[FirstKit, ...] = ()
    downsides: tuple[Downside, ...]
    restore: Restore
    self_check: SelfCheck
    builds: tuple[Build, ...]
    inputs: tuple[Input, ...]
    influence: dict[str, dict[str, float]] = Field(default_factory=dict)
    typical: dict[str, float] = Field(default_factory=dict)
    procedure: Instruction | None
    withheld: str | None
    missing: tuple[Missing, ...] = ()
    before_fitting: tuple[KitNote, ...]
    before_restoring: tuple[KitNote, ...]
    together: tuple[Together, ...]
    lint: tuple[LintFinding, ...]
    worth: Worth | None = None
    scene: Scene | None = None
    measured: Measured | None = None
    learned: Learned | None = None
    basis: Literal["nominal", "range from our assumptions", "95 % interval"] = "nominal"

    @property
    def main_drink(self) -> str:
        """The id of the drink that warm-up, waiting and the headlines speak of: the workshop's choice."""
        return self.shot.drink

    @property
    def main(self) -> Drink:
        """The main drink itself."""
        return self.drinks[self.main_drink]

    def of_edition(self, name: str) -> Assessment:
        """The same record under an edition's name, which an order that its self-check writes must carry, too."""
        pair = self.self_check.pair.model_copy(update={"edition": name})
        return self.model_copy(
            update={"edition": name, "self_check": self.self_check.model_copy(update={"pair": pair})}
        )

    def to_json(self) -> str:
        """The whole record to be looked at: indented, keys as documented, one line end."""
        return self.model_dump_json(by_alias=True, indent=1) + "\n"


def read(data: Mapping[str, Any], words: GivenWords) -> Assessment:
    """A record that an edition kept, whatever its format. Raises `Unreadable` with the fields that are the matter."""
    try:
        return Assessment.model_validate(upgraded(data, words))
    except ValidationError as error:
        raise Unreadable(_faults(error)) from error


def _faults(error: ValidationError) -> str:
    """What a record lacks, or has otherwise, in words for whoever changes its form."""
    details = error.errors(include_url=False)
    lacks = [".".join(map(str, one["loc"])) for one in details if one["type"] == "missing"]
    if lacks:
        return f"the record lacks {', '.join(lacks)}; add what stands in to guidegen/record/upgrades.py"
    return "; ".join(f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in details)
