"""Recorded builds of a kit, and logged runs: what turns assumptions into measurements."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from guidegen.workshop.base import Document, Id, Line, Model, Prose


class RecordedBuild(Model):
    """One build that somebody carried out."""

    id: Id
    variant: Id
    kit: Id
    revision: Line
    date: datetime.date
    role: Line
    minutes: float = Field(gt=0, le=10_000)
    findings: tuple[Prose, ...]


class Builds(Document):
    """machines/<family>/builds.yml."""

    builds: tuple[RecordedBuild, ...]


class LoggedRun(Document):
    """machines/<family>/runs/<run>.yml, which says what the logged CSV file beside it is."""

    variant: Id
    kit: Id | None = None
    date: datetime.date
    kind: Literal["cold-start", "idle", "shot", "long-draw", "cooling", "outlet"]
    file: Line
    logger: Line
    note: Prose | None = None
