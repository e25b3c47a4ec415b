"""How an owner goes through a self-check by keyboard alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page as Tab


def press_not_sure(page: Tab) -> None:
    """Answer "not sure" to the questions shown, by keyboard alone."""
    shown = page.locator(".sc-question:not([hidden])")
    if not shown.first.locator("legend").evaluate("(node) => node === document.activeElement"):
        shown.first.locator("legend").focus()
    for place in range(shown.count()):
        measures = shown.nth(place).locator("[data-number]").count() > 0
        page.keyboard.press("Tab")
        for _ in range(12):
            if page.evaluate("document.activeElement.value") == "not-sure":
                break
            kind = page.evaluate("document.activeElement.type")
            page.keyboard.press("ArrowDown" if kind == "radio" and not measures else "Tab")
            if measures and page.evaluate("document.activeElement.type") == "radio":
                page.keyboard.press("ArrowDown")
        assert page.evaluate("document.activeElement.value") == "not-sure"
        page.keyboard.press("Space")
    page.keyboard.press("Enter")


def answer(page: Tab, answers: dict[str, str]) -> None:
    """Answer the questions shown and go on with Enter."""
    shown = page.locator(".sc-question:not([hidden])")
    for place in range(shown.count()):
        box = shown.nth(place)
        written = answers[box.get_attribute("data-fact")]
        field = box.locator("[data-number]")
        if field.count():
            number, unit = written.split()
            box.locator("[data-unit]").select_option(unit)
            field.fill(number)
            field.focus()
        else:
            box.locator(f'input[value="{written}"]').check()
            box.locator(f'input[value="{written}"]').focus()
    page.keyboard.press("Enter")
