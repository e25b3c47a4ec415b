"""A page of one step at a time, and a hand that works through it as an owner would."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidegen.assess.scene import scene
from guidegen.assess.verdict import judged, protrusions
from guidegen.record import Assessment
from guidegen.record.procedure import InstructionCourse
from guidegen.site import bind
from guidegen.site.finish import finish
from guidegen.site.output import OutputTree
from guidegen.site.pages.pair import pair_page
from tests.fixtures.records import record, site
from tests.mutants.draft import catalogue

if TYPE_CHECKING:
    from conftest import Open, Watched
    from playwright.sync_api import Page as Tab

EDITION = "2026.9"
LONG, SHORT = ("tamsin-mk2", "feed-preheater"), ("tamsin-mk1", "loop-controller")
"""A long instruction with two cases and a short one with one."""
PATH, BACK = "guides/{}/{}/install.html", "guides/{}/{}/restore.html"


@cache
def published(variant: str, kit: str) -> Assessment:
    """The record of a pair as an edition has it, with what its drawings need."""
    one, known = record(variant, kit), catalogue()
    machine, chosen = known.machines[variant], known.kits[kit]
    decided = tuple(protrusions(machine, chosen, judged(known, machine, chosen, EDITION)))
    drawn = {"scene": scene(known, machine, chosen), "protrusions": decided}
    return one.model_copy(update={"edition": EDITION, "kit": one.kit.model_copy(update={"revision": "B"}), **drawn})


def lay(folder: Path, shell: Path, *pairs: tuple[str, str]) -> Path:
    """The instructions of some pairs in the real frame."""
    records = [published(*pair) for pair in pairs]
    pages = [pair_page(one, kind, site(*records)) for one in records for kind in ("install", "restore")]
    files, problems = finish(bind.bind(pages, shell / ".guidegen" / "engine" / "site"))
    own = ("install.html", "restore.html")
    assert [one for one in problems if not one.path.endswith(own) and "guides/" in one.path] == []
    OutputTree(folder / "site", folder / "manifest.json").write(files)
    return folder / "site"


def begun(open_page: Open, address: str, pair: tuple[str, str], path: str = PATH, **more: str) -> Watched:
    """The page of a pair in its first step."""
    watched = open_page(address + path.format(*pair), size="narrow", **more)
    if pair == LONG and path == PATH:
        watched.page.get_by_text("You trim your own boiler", exact=True).click()
    watched.page.locator(".gs-begin").click()
    watched.page.wait_for_selector(".gs-on")
    return watched


def where(page: Tab) -> str:
    """What the page says it shows."""
    return page.locator(".gs-where").inner_text()


def number(page: Tab) -> str:
    """The number of the step that is shown."""
    return where(page).rpartition("step ")[2]


def onward(page: Tab) -> None:
    """Tap on Next, later than a second tap that was meant for the step before."""
    page.wait_for_timeout(450)
    page.locator(".gs-next").click()


def kept(page: Tab) -> dict[str, Any]:
    """The progress that the device keeps."""
    text = page.evaluate("localStorage[Object.keys(localStorage).find((key) => key.startsWith('guidegen.steps.'))]")
    found: dict[str, Any] = json.loads(text)
    return found


def put(page: Tab, **changes: Any) -> None:
    """Leave the page with the kept progress changed, and come back to it."""
    address = page.url
    page.locator(".gs-leave").click()
    page.evaluate(
        """(changes) => {
          const key = Object.keys(localStorage).find((one) => one.startsWith('guidegen.steps.'));
          localStorage[key] = JSON.stringify({ ...JSON.parse(localStorage[key]), ...changes });
        }""",
        changes,
    )
    page.goto("about:blank")
    page.goto(address)
    page.wait_for_selector(".gs-on")


def place_of(record: Assessment, key: str) -> int:
    """The place of a step among all of its course."""
    course = record.procedure.fitting  # type: ignore[union-attr]
    return [step.key for step in course.steps].index(key)


def fill(page: Tab, course: InstructionCourse) -> None:
    """Put in what the shown step asks for: readings on their limit, a name, a tick."""
    anchor = page.locator("li.gg-step.is-now").get_attribute("id")
    (step,) = [one for one in course.steps if one.anchor == anchor]
    for box in page.locator("li.gg-step.is-now :is(.gs-check, .gg-hold .gg-ticks) input").all():
        box.check()
    for field in page.locator("li.gg-step.is-now .gs-field input").all():
        if field.get_attribute("inputmode") == "decimal" and step.hold is not None and step.hold.accept is not None:
            field.fill(step.hold.accept.limit.split(" ")[0])
        elif not field.input_value():
            field.fill("seen")
