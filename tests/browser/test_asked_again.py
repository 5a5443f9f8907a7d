"""A figure that makes little sense is asked about where it was typed, and the same key again confirms it."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Desk, figures

AGAINST = figures("Kick in Bass: asked -3, typed +2. The same again confirms.")


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def expect_questions(watch: Watch, number: int) -> None:
    """Take for right what the browser says of answers that ask."""
    for _ in range(number):
        watch.expect("the server responded with a status of 422")


def test_type_enter_read_the_line_enter(demo: Demo, desk: Desk, watch: Watch) -> None:
    expect_questions(watch, 1)
    demo.ask("bass", "kick", -3)
    row = desk.row("bass", "kick")
    row.is_current()
    before = demo.level("bass", "kick")
    assert before is not None

    desk.type("+2")
    desk.press("Enter")
    expect(desk.not_sent).to_have_text(AGAINST)
    expect(row.figure).to_have_value("+2")
    expect(row.figure).to_be_focused()
    assert demo.level("bass", "kick") == before
    row.is_current()
    desk.press("Enter")

    row.is_gone()
    expect(desk.not_sent).to_be_empty()
    assert demo.level("bass", "kick") == before + 2


def test_typed_over_it_is_looked_at_anew(demo: Demo, desk: Desk, watch: Watch) -> None:
    expect_questions(watch, 2)
    demo.ask("bass", "snare", -3)
    row = desk.row("bass", "snare")
    row.is_current()
    desk.type("+2")
    desk.press("Enter")
    expect(desk.not_sent).to_contain_text("typed +2")
    row.is_current()

    row.figure.fill("+3")
    desk.press("Enter")
    expect(desk.not_sent).to_contain_text("typed +3")
    row.is_current()
    row.figure.fill("-3")
    desk.press("Enter")

    row.is_gone()
    expect(desk.last_answers.first).to_have_text(figures("Snare in Bass: done -3"))


def test_escape_gives_the_figure_up_and_takes_the_line_away(demo: Demo, desk: Desk, watch: Watch) -> None:
    expect_questions(watch, 1)
    demo.ask("horns", "kick", -3, "trumpet")
    row = desk.row("horns", "kick")
    row.is_current()
    desk.type("+2")
    desk.press("Enter")
    expect(desk.not_sent).to_contain_text("typed +2")
    row.is_current()

    desk.press("Escape")

    expect(desk.not_sent).to_be_empty()
    expect(row.figure).to_have_value("")
    desk.press("Enter")
    row.is_gone()
    expect(desk.last_answers.first).to_have_text(figures("Kick in Horns: done -3"))


def test_the_question_about_one_row_outlives_an_answer_to_another(
    demo: Demo, desk: Desk, watch: Watch
) -> None:
    expect_questions(watch, 1)
    for source in ("kick", "guitar"):
        demo.ask("guitar", source, -3)
    asked, other = desk.row("guitar", "kick"), desk.row("guitar", "guitar")
    expect(desk.rows).to_have_count(2)
    asked.figure.fill("+1")
    asked.press("done so")
    expect(desk.not_sent).to_contain_text("typed +1")

    other.place.click()
    other.press(figures("done -3"))
    other.is_gone()
    asked.place.click()
    asked.press("done so")

    asked.is_gone()
    expect(desk.last_answers.first).to_have_text(figures("Kick in Guitar: done +1"))


def test_what_was_confirmed_once_is_asked_about_the_next_time(demo: Demo, desk: Desk, watch: Watch) -> None:
    expect_questions(watch, 2)
    row = desk.row("accord", "kick")
    for _ in range(2):
        demo.ask("accord", "kick", -3)
        row.is_current()
        desk.type("+1")
        desk.press("Enter")
        expect(desk.not_sent).to_contain_text("typed +1")
        row.is_current()
        desk.press("Enter")
        row.is_gone()


def test_a_correction_that_is_asked_about_keeps_its_text_and_gets_the_focus_back(
    demo: Demo, desk: Desk, watch: Watch
) -> None:
    expect_questions(watch, 1)
    demo.ask("drums", "kick", -3)
    row = desk.row("drums", "kick")
    row.is_current()

    desk.press("c")
    desk.type("-58")
    desk.press("Enter")
    expect(desk.not_sent).to_contain_text("dB in one go")
    expect(row.figure).to_have_value("c -58")
    expect(row.figure).to_be_focused()
    row.is_current()
    desk.press("Enter")

    expect(row.set_to).to_contain_text(figures("-58"))
    assert demo.level("drums", "kick") == -58


def test_without_a_script_the_field_stands_in_the_question(
    demo: Demo, open_desk: OpenDesk, watch: Watch
) -> None:
    expect_questions(watch, 1)
    demo.ask("lead", "kick", -3)
    plain = open_desk(scripts=False)
    row = plain.row("lead", "kick")
    row.figure.fill("+2")
    row.press("done so")
    expect(plain.page.get_by_role("alert").first).to_contain_text("The same again confirms.")
    field = plain.page.get_by_label("typed")
    expect(field).to_have_value("+2")
    expect(field).to_be_focused()

    plain.press("Enter")

    row.is_gone()
    expect(plain.last_answers.first).to_have_text(figures("Kick in Lead voice: done +2"))
