"""From a scanned code to the first request: no more than three taps, whoever hears the mix and whatever is asked."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenContext
from tests.support.demo import Demo

MOST_TAPS = 3


def tap(page: Page, names: list[str]) -> int:
    """Tap one thing after another; returns how many taps it took."""
    for name in names:
        page.locator("button, summary").get_by_text(name, exact=True).or_(
            page.get_by_role("button", name=name, exact=True)
        ).first.click()
    return len(names)


@pytest.mark.parametrize(
    ("mix", "taps", "place"),
    [
        ("Bass", ["yes, open my mix", "more Bass"], "#strip-bass"),
        ("Bass", ["yes, open my mix", "Drums", "more Kick"], "#strip-kick"),
        ("Horns", ["Trumpet", "less Bass"], "#strip-bass"),
    ],
    ids=["single source", "source of a group", "shared mix"],
)
def test_first_request_after_a_scan_takes_at_most_three_taps(
    demo: Demo, open_context: OpenContext, mix: str, taps: list[str], place: str
) -> None:
    page = open_context(PHONE).new_page()
    page.goto(demo.links[mix])

    taken = tap(page, taps)

    expect(page.locator(place)).to_contain_text("waiting")
    assert taken <= MOST_TAPS
