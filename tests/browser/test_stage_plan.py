"""The stage plan under a hand: dragged, moved and turned by keys, and saved as it is shown."""

from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import OpenDesk


def open_stage(open_desk: OpenDesk) -> Page:
    page = open_desk().page
    page.get_by_role("link", name="Prepare").click()
    page.get_by_role("link", name="Stage", exact=True).click()
    return page


def musician(page: Page, name: str) -> Locator:
    return page.locator('svg [data-field^="musician-"]', has=page.locator(f'[aria-label^="{name}:"]'))


def field(page: Page, name: str, figure: str) -> str:
    one = musician(page, name).get_attribute("data-field")
    return page.locator(f'[name="{one}-{figure}"]').input_value()


def test_arrow_keys_move_a_musician_and_brackets_turn_them(open_desk: OpenDesk) -> None:
    page = open_stage(open_desk)
    bass = musician(page, "Bass")
    before = (float(field(page, "Bass", "x")), float(field(page, "Bass", "y")))

    bass.get_by_role("button").focus()
    for key in ("ArrowLeft", "ArrowUp", "ArrowUp", "]"):
        page.keyboard.press(key)
    page.get_by_role("button", name="save the stage").click()

    expect(page.get_by_role("heading", name="Stage", exact=True)).to_be_visible()
    after = (float(field(page, "Bass", "x")), float(field(page, "Bass", "y")))
    assert after == (before[0] - 0.25, before[1] + 0.5)
    assert field(page, "Bass", "facing") == "15"
    assert "rotate(15)" in (musician(page, "Bass").locator(".facing").get_attribute("transform") or "")


def test_a_dragged_musician_stands_where_they_were_let_go_once_it_is_saved(
    open_desk: OpenDesk,
) -> None:
    page = open_stage(open_desk)
    lead = musician(page, "Lead voice")
    lead.scroll_into_view_if_needed()
    box = lead.locator("rect").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    before = float(field(page, "Lead voice", "y"))

    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 60, steps=4)
    page.mouse.up()
    page.get_by_role("button", name="save the stage").click()

    expect(page.get_by_role("heading", name="Stage", exact=True)).to_be_visible()
    assert float(field(page, "Lead voice", "y")) > before + 0.2
    moved = musician(page, "Lead voice").get_attribute("transform") or ""
    assert moved.split()[1] == f"-{round(float(field(page, 'Lead voice', 'y')) * 100)})"
