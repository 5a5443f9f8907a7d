"""The whole job without a script: every button is a plain form, and every answer leads to a page by 303."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Phone, figures


@pytest.fixture
def phone(open_phone: OpenPhone) -> Phone:
    return open_phone("Bass", scripts=False)


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk(scripts=False)


def test_ask_and_answer_without_a_script(demo: Demo, phone: Phone, desk: Desk) -> None:
    phone.ask("more Kick")
    phone.sees("Kick", "+3, waiting")
    phone.ask("more Kick")
    phone.sees("Kick", "+6, waiting")

    desk.page.reload()
    row = desk.row("bass", "kick")
    expect(row.set_to).to_have_text(figures("-8 to -5"))
    row.press("done +3")

    row.is_gone()
    expect(desk.last_answers.first).to_have_text("Kick in Bass: done +3")
    phone.page.reload()
    phone.sees("Kick", "asked +6, done +3: no further until feedback is checked")
    assert demo.level("bass", "kick") == -5


def test_answer_with_a_figure_without_a_script(demo: Demo, phone: Phone, desk: Desk) -> None:
    demo.ask("bass", "snare", 3)
    demo.ask("bass", "guitar", 3)
    desk.page.reload()
    row = desk.row("bass", "snare")

    row.figure.fill("+2")
    row.press("done so")

    expect(desk.last_answers.first).to_have_text("Snare in Bass: done +2")
    phone.page.reload()
    phone.sees("Snare", "asked +3, done +2")
    phone.sees("Guitar", "+3, waiting")


def test_not_done_and_undo_without_a_script(demo: Demo, phone: Phone, desk: Desk) -> None:
    demo.ask("bass", "lead", 3)
    desk.page.reload()
    row = desk.row("bass", "lead")
    row.place.locator("summary", has_text="not done").click()
    row.press("after this song")
    phone.page.reload()
    phone.sees("Lead voice", "not done: after this song")

    desk.page.locator("#decisions").get_by_role("button", name="undo").first.click()

    expect(row.sum).to_have_text("+3")
    phone.page.reload()
    phone.sees("Lead voice", "+3, waiting")


def test_refused_figure_is_told_on_the_page(demo: Demo, desk: Desk) -> None:
    demo.ask("bass", "lead", 3)
    desk.page.reload()
    row = desk.row("bass", "lead")

    row.figure.fill("louder")
    row.press("done so")

    expect(desk.page.get_by_role("alert").first).to_contain_text("Type the change with its sign")
    expect(row.sum).to_have_text("+3")


def test_amount_is_kept_after_each_ask(phone: Phone) -> None:
    phone.choose("a lot")

    phone.ask("less Guitar")

    phone.sees("Guitar", "-6, waiting")
    expect(phone.page.get_by_label("a lot")).to_be_checked()
    phone.ask("less Guitar")
    phone.sees("Guitar", "-12, waiting")


def test_page_loaded_again_sends_nothing(demo: Demo, phone: Phone) -> None:
    phone.ask("more Accordion")
    phone.sees("Accordion", "+3, waiting")

    phone.page.reload()

    phone.sees("Accordion", "+3, waiting")
    assert demo.row("bass", "accord")["asked"] == 1


def test_form_sent_twice_counts_once(demo: Demo, phone: Phone) -> None:
    phone.button("more Accordion").dblclick()

    phone.sees("Accordion", "+3, waiting")
    assert demo.row("bass", "accord")["asked"] == 1


def test_take_back_without_a_script(demo: Demo, phone: Phone) -> None:
    phone.ask("less Lead voice")

    phone.ask("take back Lead voice -3")

    assert demo.rows() == []
    expect(phone.button("take back Lead voice -3")).to_have_count(0)


def test_call_and_its_taking_back_without_a_script(demo: Demo, phone: Phone) -> None:
    phone.call("nothing")

    expect(phone.calls).to_contain_text("Desk called: nothing")
    expect(phone.calls).to_contain_text("Check the wedge: power? cable?")
    assert demo.row("bass", None, "call")["urgent"] == "nothing"
    phone.ask("take back nothing")
    expect(phone.calls).to_have_text("")
    assert demo.rows() == []


def test_pan_out_and_whole_mix_without_a_script(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Drums", scripts=False)

    phone.unfold("Guitar")
    phone.ask("Guitar further right")
    phone.sees("Guitar", "20 to the right, waiting")
    phone.unfold("Trumpet")
    phone.ask("take out Trumpet")
    phone.sees("Trumpet", "out, waiting")
    phone.ask("whole mix louder")
    expect(phone.whole).to_contain_text("Whole mix: +3, waiting")

    kinds = {(row["source"], row["kind"]) for row in demo.rows()}
    assert kinds == {("guitar", "pan"), ("trumpet", "in_out"), (None, "level")}
