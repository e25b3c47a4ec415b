"""What a command takes before it has anything to say: its help, and `list` of workshops of three sizes.

Each is a process of its own, beside a bare Python that imports the reader of YAML; they take turns.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.bench._aims import PYTHON, Aim, guidegen, in_turn, run, say
from tests.bench.synthetic import ROOT, lay_down

SIZES = (8, 100, 1000)
ABOVE_S = 0.3


def main() -> Iterator[Aim]:
    """A line of medians, and an aim for each size."""
    with tempfile.TemporaryDirectory() as folder:
        roots = {size: lay_down(Path(folder) / str(size), size) for size in SIZES}
        lists = {f"list of {size}": partial(guidegen, root, "list") for size, root in roots.items()}
        bare, help_ = partial(run, [PYTHON, "-c", "import yaml"]), partial(guidegen, ROOT, "--help")
        spent = in_turn({"import yaml": bare, "--help": help_, **lists})
    say("starts", ", ".join(f"{name} {took:.2f} s" for name, took in spent.items()))
    for size in SIZES:
        above = spent[f"list of {size}"] - spent["import yaml"]
        yield Aim(f"list of {size} variants, above import yaml", above, ABOVE_S, "s",
                  "imports of the models, and that every file is read and cross-checked")  # fmt: skip
