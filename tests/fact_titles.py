"""What a machine's facts are called, for pages that print a fact by its name: taken from the machine's model.

`python tests/fact_titles.py` writes the table anew after a fact was added or renamed; a test compares the two.
"""

from __future__ import annotations

import json
from pathlib import Path

from guidegen.trade.paths import known_facts

TABLE = Path(__file__).parents[1] / "guidegen" / "site" / "pages" / "data" / "facts.json"


def made() -> str:
    """The table as it must be."""
    titles = {name: field.spec.title for name, field in sorted(known_facts().items()) if field.spec is not None}
    return json.dumps(titles, ensure_ascii=False, indent=1) + "\n"


if __name__ == "__main__":
    TABLE.write_text(made(), encoding="utf-8", newline="\n")
