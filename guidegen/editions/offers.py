"""`offers.json` at the site's root: prices, stock, lead time. It changes daily and is never inside an edition."""

from __future__ import annotations

import datetime
from pathlib import Path

from pydantic import Field

from guidegen.editions import lines
from guidegen.editions.edition import Closed
from guidegen.problems import EnvironmentProblem, nearest

FILE = "offers.json"


class Offer(Closed):
    """What a kit costs today and how soon it leaves the workshop."""

    price: str
    stock: int | None = Field(default=None, ge=0)
    lead_time_days: int | None = Field(default=None, ge=0)
    note: str | None = None


class Offers(Closed):
    """`content/offers.json`. After `valid_until` no page shows it any more."""

    format: int = 1
    valid_until: datetime.date
    kits: dict[str, Offer]


def path_of(root: Path) -> Path:
    """Where the workshop writes it."""
    return root / "content" / FILE


def files(root: Path) -> dict[str, bytes]:
    """The file for the site's root; what cannot be read is refused, with what is wrong.

    A workshop that offers nothing says so, because a page that asks for a missing file leaves a word on the console.
    """
    try:
        offered = lines.validated(Offers, path_of(root))
    except FileNotFoundError:
        return {FILE: b'{"format":1,"kits":{}}\n'}
    kits = {path.stem for path in (root / "content" / "kits").glob("*.yml")}
    for kit in offered.kits:
        if kit not in kits:
            near = nearest(kit, kits)
            hint = f"did you mean {near}?" if near else f"the kits: {', '.join(sorted(kits)) or 'none'}"
            raise EnvironmentProblem(f"{path_of(root).as_posix()} offers {kit}, and there is no such kit; {hint}")
    return {FILE: (offered.model_dump_json(exclude_none=True, indent=1) + "\n").encode()}
