"""One record per variant and kit: the verdict, the numbers, and the words of both."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from guidegen.assess import (
    builds,
    fitted_first,
    guiding,
    inputs,
    learned,
    measured,
    origin,
    pictures,
    sanity,
    stated,
    verdict,
    ways,
)
from guidegen.assess.asking import question, served
from guidegen.assess.family_scale import family_of
from guidegen.assess.kept import Kept
from guidegen.assess.numbers import Numbers, Studies, compute
from guidegen.assess.question import PairQuestion
from guidegen.assess.sanity import NotComputed
from guidegen.assess.scene import scene
from guidegen.assess.together import together
from guidegen.assess.wording import worded
from guidegen.heat.validity import ValidityError
from guidegen.language import translation
from guidegen.record import Assessment, Outline, places
from guidegen.record.self_check import SelfCheck
from guidegen.record.together import Together
from guidegen.trade import Catalogue
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine
from guidegen.trade.uncertain import Uncertain

DRAWS = 2048
"""Against 20,000 plain draws the ends of the ranges are off by up to 15 % of their width with 256 draws, by up to 6 %
with 1,024 and by less than 5 % with 2,048; tests/properties/test_network_ranges.py prints how far."""
DOMINANT = 3
"""So many of the inputs that move a headline most decide what its range may be called."""


class Assessor:
    """Assesses pairs of one catalogue.

    Numbers are looked for among those that were kept before they are computed; words are always made anew. What a
    variant is without a kit is computed once for all of its kits, as long as they come one after the other.
    """

    def __init__(self, known: Catalogue, edition: str, draws: int = DRAWS, kept: Kept | None = None) -> None:
        self.known, self.edition, self.draws, self._kept = known, edition, draws, kept
        self._served = served(known)
        self._pictured = repr(dict(pictures.every(known))).encode()
        self._studies, self._variant = Studies(), ""
        self._pairs: tuple[Machine, Mapping[str, tuple[Together, ...]]] | None = None

    def assess(self, machine: Machine, kit: Kit) -> Assessment:
        """The record of one pair. Raises `CatalogueError` where its requirements cannot be judged.

        That is `NotComputed` where its quantities are such that there are no numbers.
        """
        with self._sane(machine, kit):
            return self._assessed(machine, kit)

    @contextmanager
    def _sane(self, machine: Machine, kit: Kit) -> Iterator[None]:
        """Refuse, with its place, what nothing can be computed with."""
        if found := sanity.look(self.known, machine, kit, self._served):
            raise NotComputed(found)
        try:
            yield
        except ValidityError as error:
            raise NotComputed([sanity.outside(self.known, machine, kit, error)]) from error

    def _assessed(self, machine: Machine, kit: Kit) -> Assessment:
        pair = verdict.judged(self.known, machine, kit, self.edition)
        listed = self._inputs(machine, kit)
        asked, fitted = question(machine, kit, listed, self._served, self.draws, self.known.first(kit.id))
        if found := [*sanity.too_long(self.known, machine, kit, (asked.plain, asked.fitted), self._served)]:
            raise NotComputed(found)
        names = {one.id: one.name for one in fitted.parts}
        numbers = worded(self._numbers(machine, kit, asked), self.known, names)
        logged = measured.measured(self.known, machine.id, kit.id, asked, numbers, self._kept)
        fit = verdict.fit_part(pair.check)
        printed = guiding.computed(
            numbers.coil, numbers.closed_coil, numbers.cool_down.with_, numbers.display, numbers.warm_up
        )
        guided = guiding.guide(self.known, machine, kit, fit, pair, dict(printed), self.edition)
        return Assessment(
            **{name: getattr(numbers, name) for name in Numbers.model_fields},
            origin=origin.origin(self.known, machine, kit),
            variant=pictures.with_variant(self.known, stated.variant_part(machine), machine),
            kit=pictures.with_kit(self.known, stated.kit_part(kit), kit, machine),
            edition=self.edition,
            fit=fit,
            torques=stated.torques(machine),
            protrusions=verdict.protrusions(machine, kit, pair),
            bolts=verdict.bolts(kit, pair),
            gains=stated.gains(kit.gains),
            first=fitted_first.first_of(self.known, kit),
            downsides=stated.downsides(kit),
            restore=stated.restore(kit),
            self_check=SelfCheck.model_validate({**pair.check.payload, "makes": ways.made(pair.check.payload)}),
            builds=builds.builds(self.known, machine, kit),
            inputs=tuple(inputs.recorded(one) for one in listed),
            procedure=guided.procedure,
            before_fitting=guided.before_fitting,
            before_restoring=guided.before_restoring,
            together=self._together_with(machine).get(kit.id, ()),
            withheld=guided.withheld,
            missing=guided.missing,
            lint=guided.lint,
            scene=scene(self.known, machine, kit),
            measured=logged,
            learned=learned.learned(self.known, machine.id, kit.id),
            basis=_basis(listed, leading(numbers), self.draws),
        )

    def outline(self, machine: Machine, kit: Kit) -> Outline:
        """The verdict alone, without its self-check and the minutes of remedies: a few milliseconds."""
        fit = verdict.standing(self.known, machine, kit).fit
        return Outline(variant=stated.variant_part(machine), kit=stated.kit_part(kit), fit=fit)

    def has_numbers(self, machine: Machine, kit: Kit) -> bool:
        """Whether the numbers of a pair are kept, so that its record takes no computing."""
        return self._kept is not None and self._kept.find(self._asked(machine, kit)) is not None

    def held(self, machine: Machine, kit: Kit) -> dict[str, bytes]:
        """The kept numbers of a pair as they are kept, by name; empty where there are none."""
        return {} if self._kept is None else self._kept.held(self._asked(machine, kit))

    def key(self, machine: Machine, kit: Kit) -> bytes:
        """Everything of the catalogue that the record of a pair depends on, words and places too, as bytes.

        The program is not in it: who keeps records for longer than one process adds that.
        """
        known = self.known
        procedures = [*known.procedures.values()]
        parts = [
            machine,
            kit,
            *known.kits.values(),
            known.workshop,
            known.drinks,
            known.glossary,
            known.hazards,
            known.acts,
            known.facts,
            known.questions,
            known.read,
            known.shared,
            known.pictures,
            *procedures,
            known.builds.get(machine.family),
            *(run for run in known.runs.values() if run.variant == machine.id),
        ]
        # Places stand in the record: those of the inputs, and those of the steps.
        placed = [machine, *known.first(kit.id), kit, known.procedures.get(kit.id), known.shared, known.acts,
                  known.workshop, known.drinks]  # fmt: skip
        names = f"{machine.id} {machine.family_name} {kit.id} {[*known.kits]} {[*known.procedures]}"
        names += f" {family_of(known, machine)}"
        named = f"{self.edition} {translation().fingerprint} {self.draws} {names}"
        digests = [one.digest if one else b"-" for one in parts]
        digests += [one.digest_of_places if one else b"-" for one in placed]
        # A photograph that is taken anew under the same name is another one; its words may come from any variant.
        beside = known.album.digest, self._pictured, learned.digest(known, machine.id)
        return b"\0".join((named.encode(), *beside, *digests))

    def _together_with(self, machine: Machine) -> Mapping[str, tuple[Together, ...]]:
        """By kit, the others on a variant; made once for all of its kits."""
        if self._pairs is None or self._pairs[0] is not machine:
            self._pairs = machine, together(self.known, machine)
        return self._pairs[1]

    def _asked(self, machine: Machine, kit: Kit) -> PairQuestion:
        with self._sane(machine, kit):
            listed, first = self._inputs(machine, kit), self.known.first(kit.id)
            return question(machine, kit, listed, self._served, self.draws, first)[0]

    def _inputs(self, machine: Machine, kit: Kit) -> list[Uncertain]:
        return [*inputs.of_machine(machine, self.known), *kit.inputs(self.known.first(kit.id))]

    def _numbers(self, machine: Machine, kit: Kit, asked: PairQuestion) -> Numbers:
        if machine.id != self._variant:
            # Studies take some 20 MB each, and no other variant asks for them.
            self._studies, self._variant = Studies(), machine.id
        if self._kept is None:
            return compute(asked, self._studies)
        return self._kept.get(asked, lambda: compute(asked, self._studies), f"{machine.id} with {kit.id}")


def leading(numbers: Numbers) -> list[str]:
    """The inputs that move a headline most."""
    headlines = places.headlines(numbers.shot.drink)
    return [name for place in headlines for name in list(numbers.influence.get(place, {}))[:DOMINANT]]


def _basis(listed: list[Uncertain], leading: list[str], draws: int) -> str:
    """What the ranges may be called: while an input that matters most is assumed, not a confidence interval."""
    if not draws:
        return "nominal"
    evidence = {one.id: one.evidence for one in listed}
    assumed = any(evidence.get(name, "assumed") == "assumed" for name in leading) or not leading
    return "range from our assumptions" if assumed else "95 % interval"
