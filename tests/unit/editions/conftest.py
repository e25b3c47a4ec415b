"""A small workshop with a history, and a way to publish it that needs neither physics nor the engine."""

from __future__ import annotations

import datetime
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from guidegen.editions import around, kept, place, snapshot
from guidegen.editions.edition import FILE, Edition
from tests.unit.editions.small import Data, edition, record

Publish = Callable[..., Edition]
SETTINGS = "site_name: A Workshop\nsite_url: https://guides.example/\n"


def git(root: Path, *words: str) -> str:
    """Run git in the workshop."""
    done = subprocess.run(["git", "-C", str(root), *words], capture_output=True, text=True, check=True)
    return done.stdout


def commit(root: Path, day: datetime.date = datetime.date(2025, 3, 1)) -> None:
    """Commit everything."""
    git(root, "add", "--all")
    git(root, "commit", "--quiet", "--allow-empty", "--message", "Work", f"--date={day}T12:00:00+00:00")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A workshop that is all committed."""
    root = tmp_path / "work shop"
    (root / "content").mkdir(parents=True)
    (root / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    (root / "content" / "workshop.yml").write_text("contact: post@workshop.example\n", encoding="utf-8")
    (root / ".gitignore").write_text("/site/\n/.guidegen/\n/units/\n", encoding="utf-8")
    git(root, "init", "--quiet")
    git(root, "config", "user.name", "A Test")
    git(root, "config", "user.email", "test@workshop.example")
    commit(root)
    return root


@pytest.fixture
def publish(root: Path) -> Publish:
    """Put an edition of two small guides into the site, as publishing does at its end."""

    def put(name: str, older: str | None = None, records: list[Data] | None = None, **more: object) -> Edition:
        held = records or [record("plain-one"), record("plain-two")]
        guides = {f"{one['variant']['id']}/{one['kit']['id']}": one["kit"]["revision"] for one in held}
        facts = edition(name, older, guides=guides, **more)
        files = {f"guides/{guide}/{page}.html": f"<p>{name} {page}</p>".encode()
                 for guide in guides for page in ("index", "install")}  # fmt: skip
        files |= {f"sheets/{guide}.pdf": b"%PDF" for guide in guides}
        files |= {"index.html": b"<p>home</p>", FILE: facts.to_bytes()}
        files |= {kept.SNAPSHOT + path: data for path, data in snapshot.pack(held).items()}
        place.commit(root / "site", name, files, around.versions(root, [name]))
        around.refresh(root)
        commit(root)
        return facts

    return put
