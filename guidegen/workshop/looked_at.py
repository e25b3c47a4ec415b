"""`looked_at`: a warning that somebody looked at, and found to be none.

    looked_at:
      boiler.water: {seen: 300 ml, because: It was weighed twice; the boiler is that large., date: 2026-03-31}

The key is the value's name as the warning prints it, `seen` the value as it stands: another value is warned of again.
"""

from __future__ import annotations

import datetime

from guidegen.workshop.base import Line, Model, Prose


class LookedAt(Model):
    """What was seen, why it is right, and on which day somebody looked."""

    seen: Line
    because: Prose
    date: datetime.date
