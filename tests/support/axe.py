"""Runs axe-core in a page: the rules of WCAG 2.2 to AA, and contrast as AAA asks for it."""

from typing import Any

from playwright.sync_api import Page

from tests.support.serving import ROOT

_SOURCE = ROOT / "monreq" / "web" / "scripts" / "node_modules" / "axe-core" / "axe.min.js"
_ENABLED = {"color-contrast-enhanced": {"enabled": True}}
_RULES = {
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    },
    "resultTypes": ["violations"],
}


def violations(page: Page, *, bars: bool = False) -> list[str]:
    """Return what a page does against the rules, each with the element and what was measured.

    Args:
        bars: Whether bars lie over what scrolls below them: then the size of targets is not judged here, since what a
            bar covers half would be taken for too small; `test_room.py` measures it, against 48 px.
    """
    return _found(page, {**_RULES, "rules": {**_ENABLED, "target-size": {"enabled": not bars}}})


def faint(page: Page) -> list[str]:
    """Return the texts of a page that stand out too little from their ground."""
    only = {"type": "rule", "values": ["color-contrast-enhanced", "link-in-text-block"]}
    return _found(page, {**_RULES, "runOnly": only})


def _found(page: Page, rules: dict[str, Any]) -> list[str]:
    page.evaluate(_SOURCE.read_text(encoding="utf-8"))
    found: dict[str, Any] = page.evaluate("(rules) => axe.run(document, rules)", rules)
    return [
        f"{one['id']}: {node['html'][:160]}: {(node['any'] or node['all'] or node['none'])[0]['message']}"
        for one in found["violations"]
        for node in one["nodes"]
    ]
