"""What is pushed into a page leaves alone whoever is using it: folds, focus, scroll, and the text is still new."""

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Phone, figures


@pytest.fixture
def phone(open_phone: OpenPhone) -> Phone:
    return open_phone("Drums")


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def test_fold_stays_open_while_its_strip_and_others_change(demo: Demo, phone: Phone) -> None:
    phone.unfold("Guitar")

    phone.ask("Guitar sounds muddy")
    demo.ask("drums", "kick", -1)

    phone.sees("Guitar", "muddy: waiting")
    phone.sees("Kick", "-1, waiting")
    expect(phone.page.locator("#strips details[open]")).to_have_count(1)
    expect(phone.button("Guitar sounds muddy")).to_be_visible()


def test_focus_stays_on_the_button_that_was_pressed(phone: Phone) -> None:
    phone.reveal("Snare")
    phone.button("more Snare").focus()
    phone.page.keyboard.press("Enter")
    phone.sees("Snare", "+3, waiting")

    expect(phone.button("more Snare")).to_be_focused()


def test_focused_text_is_still_renewed(demo: Demo, phone: Phone) -> None:
    phone.tape("Bass").focus()
    request = demo.ask("drums", "bass", -1)
    phone.sees("Bass", "-1, waiting")

    demo.answer(request)

    phone.sees("Bass", "done -1")
    expect(phone.tape("Bass")).to_be_focused()


def test_focus_stays_while_other_strips_change(demo: Demo, phone: Phone) -> None:
    phone.button("less Accordion").focus()

    request = demo.ask("drums", "kick", -1)
    phone.sees("Kick", "-1, waiting")
    demo.answer(request)
    phone.sees("Kick", "done -1")

    expect(phone.button("less Accordion")).to_be_focused()


def test_strip_under_the_thumb_stays_where_it_is(demo: Demo, phone: Phone) -> None:
    for source in ("Overheads", "Saxophone"):
        phone.reveal(source)
    thumb = phone.button("more Saxophone")
    phone.page.evaluate("scrollTo(0, 150)")
    before = thumb.bounding_box()

    for source in ("kick", "snare", "over"):
        demo.ask("drums", source, -1)
    phone.sees("Overheads", "-1, waiting")

    assert phone.page.evaluate("scrollY") > 0
    assert thumb.bounding_box() == before


@pytest.mark.parametrize("scrolled", [0, 150])
def test_call_is_told_in_view_and_moves_no_strip(phone: Phone, scrolled: int) -> None:
    phone.reveal("Saxophone")
    phone.page.evaluate("(y) => scrollTo(0, y)", scrolled)
    before = phone.button("more Saxophone").bounding_box()

    _tap(phone.page.get_by_text("Call the desk"))
    _tap(phone.page.get_by_role("button", name="hurts"))

    expect(phone.calls.get_by_text("Turn the pack down or take BOTH out.")).to_be_in_viewport(ratio=1)
    assert phone.button("more Saxophone").bounding_box() == before


def _tap(place: Locator) -> None:
    """Press where a place is seen, as a thumb does: what is in view is not scrolled to first."""
    box = place.bounding_box()
    assert box is not None
    place.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def test_focused_button_of_a_row_shows_the_new_figure(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", -1)
    row = desk.row("accord", "kick")
    done = row.place.get_by_role("button", name="enter")
    done.focus()

    demo.ask("accord", "kick", -1)

    expect(done).to_have_text(figures("enter done -2"))
    expect(done).to_be_focused()


def test_reasons_that_are_open_stay_open_with_what_was_typed(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "snare", -1)
    row = desk.row("accord", "snare")
    row.is_current()
    desk.press("x", "w")
    desk.type("later")

    demo.ask("accord", "snare", -1)

    row.shows("-2", "-17 to -19")
    expect(row.place.get_by_label("own words")).to_have_value("later")
    expect(row.place.get_by_label("own words")).to_be_focused()
