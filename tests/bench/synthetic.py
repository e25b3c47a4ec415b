"""Workshops of any size for measurements: the demonstration's content with as many made-up variants as wanted."""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

ROOT = Path(__file__).parents[2]
VARIANTS_PER_FAMILY = 10


def lay_down(folder: Path, variants: int, *, kits: tuple[str, ...] | None = None, seed: int = 1) -> Path:
    """Write a workshop with so many variants into an empty folder and return it.

    Each family is the demonstration's first with another name; each variant is its second mark with some values
    of its own, inside the plausible ranges. `kits` keeps only these kits. The same arguments give the same bytes.
    """
    chance = random.Random(seed)
    # Editions are of other machines: every page would be reported as removed.
    shutil.copytree(ROOT / "content", folder / "content", ignore=shutil.ignore_patterns("editions", "offers.yml"))
    for name in ("mkdocs.yml",):
        if (ROOT / name).exists():
            shutil.copy(ROOT / name, folder / name)
    # The pictures show variants of the demonstration; here they show those of the first family.
    pictures = folder / "content" / "pictures.yml"
    shown = re.sub(r"\btamsin-mk\w+\b(?!-)", "made-up-0000-mk0", pictures.read_text(encoding="utf-8"))
    pictures.write_text(shown, encoding="utf-8")
    for kind in ("kits", "procedures") if kits is not None else ():
        for file in (folder / "content" / kind).glob("*.yml"):
            if file.stem not in (*(kits or ()), "shared"):
                file.unlink()
    family_text = (ROOT / "machines" / "tamsin" / "family.yml").read_text(encoding="utf-8")
    variant_text = (ROOT / "machines" / "tamsin" / "mk2.yml").read_text(encoding="utf-8")
    for number in range(variants):
        family = f"made-up-{number // VARIANTS_PER_FAMILY:04d}"
        home = folder / "machines" / family
        if not home.is_dir():
            home.mkdir(parents=True)
            text = family_text.replace("name: Tamsin", f"name: Made-up {family[-4:]}", 1)
            (home / "family.yml").write_text(text, encoding="utf-8")
        mark = number % VARIANTS_PER_FAMILY
        text = variant_text.replace("name: Tamsin Mark 2", f"name: Made-up {family[-4:]} Mark {mark}", 1)
        (home / f"mk{mark}.yml").write_text(_varied(text, chance), encoding="utf-8")
    return folder


def _varied(text: str, chance: random.Random) -> str:
    """Return a variant with a mass and a heater power of its own."""
    mass = f"  mass: {chance.randint(400, 650)} g ± 5 g\n"
    power = f"\nheater:\n  power: {chance.randint(900, 1400)} W ± 30 W\n"
    return text.replace("boiler:\n", f"boiler:\n{mass}", 1).rstrip("\n") + "\n" + power
