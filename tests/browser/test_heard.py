"""The question how a change sounds: held back until it was heard, over what stands there, answered by one tap."""

from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone

HEARD_BY_THEN_MS = 9_000  # and no sleep, after which a page asks the server for its time


def test_question_comes_a_little_later_moves_nothing_and_asks_again_by_one_tap(
    open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    phone, desk = open_phone("Bass", clocked=True), open_desk()
    question = phone.page.locator(".question")
    phone.ask("more Guitar")
    desk.row("bass", "guitar").shows(
        "+3", "-16 to -13", cautions=["feedback margin not measured: at most +3"]
    )
    desk.press("Enter")
    phone.sees("Guitar", "done +3")
    expect(question).to_be_hidden()
    before = phone.button("more Guitar").bounding_box()

    phone.page.clock.fast_forward(HEARD_BY_THEN_MS)
    expect(question).to_be_visible()

    assert phone.button("more Guitar").bounding_box() == before
    phone.button("still too little").click()
    phone.sees("Guitar", "+3, waiting")
    expect(question).to_have_count(0)
    expect(desk.row("bass", "guitar").place).to_contain_text("still too little after +3")
