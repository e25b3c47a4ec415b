"""Ask axe of a page: every rule, the experimental ones too, but those of level AAA."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

_ASKED = """async () => {
    const values = axe.getRules().filter((rule) => !rule.tags.includes("wcag2aaa")).map((rule) => rule.ruleId);
    const found = await axe.run(document, { runOnly: { type: "rule", values } });
    return found.violations.flatMap((one) =>
        one.nodes.map((node) => `${one.id}: ${node.target.join(" ")}: ${node.failureSummary}`));
}"""


_LAID_OUT = """() => {
    for (const one of document.querySelectorAll("*"))
        if (getComputedStyle(one).contentVisibility === "auto") one.style.contentVisibility = "visible";
}"""


def lay_out(page: Page) -> None:
    """Lay out now what is laid out once it comes near: what never was near has neither boxes nor shown text."""
    page.evaluate(_LAID_OUT)


def violations(page: Page, script: str) -> list[str]:
    """What axe, given as its script, finds, one line each: rule, place, summary."""
    lay_out(page)
    page.evaluate(script)
    found: list[str] = page.evaluate(_ASKED)
    return found
