"""Workshops of any size: the demonstration with its editions, then made-up families after its own, and their records.

Each made-up family is one of the demonstration's with another name, all of its variants, and values of their own: so
the mix of kits and variants is the demonstration's. Logged runs and recorded builds are of the demonstration's own
machines alone. The same arguments give the same bytes.
"""

from __future__ import annotations

import atexit
import random
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product
from pathlib import Path

from guidegen import pipeline, trade
from guidegen.assess import DRAWS, Assessor
from guidegen.assess.records_kept import KeptRecords
from guidegen.assess.workers import processors
from guidegen.record import Assessment
from guidegen.trade.kit import Kit
from guidegen.trade.machine import Machine

ROOT = Path(__file__).parents[2]
WORKSHOP = ("machines", "content", "mkdocs.yml")
SPREAD = 0.01
"""By this share at most a value of a made-up machine is below that of its model; those are plausible themselves."""
_WRITTEN = re.compile(r"^(  (?:mass|water|power): (?:\{is: )?)([\d.]+)", re.MULTILINE)
_FIGURE = re.compile(r'"(value|low|high)":(-?\d+\.\d+)')


def lay_down(folder: Path, variants: int, *, source: Path = ROOT, seed: int = 1) -> Path:
    """Write a workshop with so many variants, the demonstration's at least, and return its folder."""
    folder.mkdir()
    for name in WORKSHOP:
        copy = shutil.copytree if (source / name).is_dir() else shutil.copy
        copy(source / name, folder / name)
    models = {path.parent: [*_variants(path.parent)] for path in sorted((source / "machines").glob("*/family.yml"))}
    left = variants - sum(map(len, models.values()))
    number, chance = 0, random.Random(seed)
    while left > 0:
        for model, of_model in models.items():
            home = folder / "machines" / f"made-up-{number:04d}-{model.name}"
            for path in [model / "family.yml", *of_model[: max(left, 0)]] if left > 0 else ():
                home.mkdir(exist_ok=True)
                text = _renamed(path.read_text(encoding="utf-8"), model.name, home.name)
                (home / path.name).write_text(_WRITTEN.sub(lambda one: _varied(one, chance), text), encoding="utf-8")
            left -= len(of_model)
        number += 1
    return folder


def _variants(family: Path) -> Iterator[Path]:
    # By length, because a variant that is based on another has the longer name here.
    files = sorted(family.glob("*.yml"), key=lambda path: (len(path.stem), path.stem))
    return (path for path in files if path.stem not in ("family", "builds"))


def _renamed(text: str, model: str, made_up: str) -> str:
    """The same of another family: its ids, its places, and its name in words."""
    name = made_up.replace(f"-{model}", "").replace("made-up-", "Made-up ") + f" {model.capitalize()}"
    text = re.sub(rf"\b{model}\b", made_up, text)
    return re.sub(rf"\b{model.capitalize()}", name, text)


def _varied(found: re.Match[str], chance: random.Random) -> str:
    return f"{found[1]}{float(found[2]) * (1 - chance.uniform(0, SPREAD)):.4g}"


class Copies(Assessor):
    """Answers with the record of the model, its names and figures changed as those of the machine are."""

    models: Mapping[tuple[str, str], str]

    def assess(self, machine: Machine, kit: Kit) -> Assessment:
        """Nothing is computed."""
        variant, model = machine.id.removeprefix(f"{machine.family}-"), machine.family.split("-")[-1]
        text = self.models[f"{model}-{variant}", kit.id]
        if machine.family != model:
            share = 1 - random.Random(machine.id).uniform(0, SPREAD)
            text = _FIGURE.sub(lambda one: f'"{one[1]}":{float(one[2]) * share:.6g}', text)
            text = _renamed(text, model, machine.family)
        return Assessment.model_validate_json(text)


def keep_records(root: Path, *, source: Path = ROOT, draws: int = DRAWS) -> None:
    """Let a workshop find the records of all its pairs, as if they had been computed in an earlier run.

    Those of the demonstration's own pairs really are: once, and then kept in the `.guidegen/` of `source`. So are their
    numbers, from which the preview words its records; it computes those of a made-up pair while nobody waits.
    """
    with trade.opened(source) as known:
        made = pipeline.assess_all(known, source, draws=draws, workers=processors())
    shutil.copytree(source / ".guidegen" / "numbers", root / ".guidegen" / "numbers")
    with trade.opened(root) as known:
        copies = Copies(known, pipeline.EDITION, draws)
        copies.models = {(one.variant.id, one.kit.id): one.model_dump_json(by_alias=True) for one in made}
        records = KeptRecords(root, copies)
        for machine, kit in product(known.machines.values(), known.kits.values()):
            records.record(machine, kit)


@cache
def kept_workshop(variants: int) -> Path:
    """Such a workshop with its records, made once in a process; whoever edits something in it puts it back."""
    folder = Path(tempfile.mkdtemp(prefix="bench-"))
    atexit.register(shutil.rmtree, folder)
    root = lay_down(folder / "workshop", variants)
    keep_records(root)
    return root
