"""A show at the desk by the keyboard alone: songs and gaps, reasons, corrections, other people's wishes, other pages."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import OpenDesk
from tests.support.demo import Demo
from tests.support.hands import Desk, figures

REASONS = {
    "c": "get closer to the mic",
    "a": "turn the amp down, or tilt it up at you",
    "f": "near feedback",
    "l": "try less of another source first",
    "p": "checking polarity first",
    "s": "after this song",
}
SONGS = "Blue moor\nLong road\nLast train"


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


@pytest.fixture
def with_songs(desk: Desk) -> Desk:
    """A desk whose show has a set list, and runs none of it."""
    page = desk.page
    page.goto(f"{page.url}/songs")
    page.get_by_label("Songs in the order").fill(SONGS)
    page.get_by_role("button", name="use this set list").click()
    page.get_by_role("link", name="Queue").click()
    expect(desk.line).to_have_text("live")
    if strip(desk).get_attribute("class") == "song runs":
        desk.press("g")
        expect(strip(desk)).not_to_contain_class("runs")
    desk.press("t")
    desk.type("1")
    desk.press("Enter")
    expect(strip(desk)).to_contain_text("Blue moor")
    return desk


def strip(desk: Desk) -> Locator:
    return desk.page.locator("#song")


def is_left(page: Page, pattern: str) -> None:
    expect(page).to_have_url(re.compile(pattern))


def test_evening_by_keyboard_alone(demo: Demo, with_songs: Desk) -> None:
    desk = with_songs

    desk.press("g")
    expect(strip(desk)).to_contain_text("song runs Blue moor 1 of 3")
    for mix, source in (("bass", "kick"), ("drums", "lead"), ("accord", "snare")):
        demo.ask(mix, source, -1)
    expect(desk.rows).to_have_count(3)
    expect(strip(desk)).to_contain_text("3 rows for the gap")
    desk.press("g")
    expect(strip(desk)).to_contain_text("gap next: Long road 2 of 3")
    expect(strip(desk)).to_contain_text("of 3 fit into what is left")
    expect(strip(desk).locator("time")).to_have_text(re.compile(r"\d+ s left"))
    for left in (2, 1, 0):
        expect(desk.page.locator("#queue .settling")).to_have_count(0)
        desk.press("Enter")
        expect(desk.rows).to_have_count(left)
    desk.press("g")
    expect(strip(desk)).to_contain_text("song runs Long road")

    assert demo.rows() == []


def test_mistaken_gap_costs_one_undo(with_songs: Desk) -> None:
    desk = with_songs
    desk.press("g")
    expect(strip(desk)).to_contain_class("runs")
    desk.press("g")
    expect(strip(desk)).to_contain_text("next: Long road")
    expect(desk.last_answers.first).to_have_text("the gap began")

    desk.press("u")

    expect(strip(desk)).to_contain_text("song runs Blue moor")


def test_song_is_chosen_by_its_neighbours_and_by_the_beginning_of_its_name(with_songs: Desk) -> None:
    desk = with_songs

    desk.press(".")
    expect(strip(desk)).to_contain_text("Long road")
    desk.press(",")
    expect(strip(desk)).to_contain_text("Blue moor")
    desk.press("t")
    desk.type("last")
    desk.press("Enter")

    expect(strip(desk)).to_contain_text("Last train")


def test_reason_has_a_letter(demo: Demo, desk: Desk) -> None:
    for letter, reason in REASONS.items():
        demo.ask("accord", "kick", 3)
        desk.row("accord", "kick").is_current()

        desk.press("x", letter)

        expect(desk.last_answers.first).to_have_text(f"Kick in Accordion: not done, {reason}")


def test_reason_in_own_words(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", 3)
    desk.row("accord", "kick").is_current()

    desk.press("x", "w")
    desk.type("the house is loud")
    desk.press("Enter")

    expect(desk.last_answers.first).to_have_text("Kick in Accordion: not done, the house is loud")


def test_keys_do_nothing_else_while_reasons_are_open(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", 3)
    row = desk.row("accord", "kick")
    row.is_current()

    desk.press("x", "g", "n", "d", "Enter", "Escape")

    expect(row.place.locator("details.reason")).not_to_have_attribute("open", "")
    expect(desk.page.locator("body")).to_be_focused()
    assert len(demo.rows()) == 1
    desk.press("s")
    expect(row.place).to_contain_class("aside")


def test_keys_of_another_script_are_found_by_their_place(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", -1)
    row = desk.row("accord", "kick")
    row.is_current()

    desk.page.evaluate(
        """() => document.body.dispatchEvent(
             new KeyboardEvent("keydown", { key: "س", code: "KeyS", bubbles: true, cancelable: true }))"""
    )

    expect(row.place).to_contain_class("aside")


def test_keys_with_a_modifier_answer_nothing(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", -1)
    row = desk.row("accord", "kick")
    row.is_current()

    for modifier in ("ctrlKey", "altKey", "metaKey"):
        for key in ("Enter", "s", "x", "d"):
            desk.page.evaluate(
                """([key, modifier]) => document.body.dispatchEvent(new KeyboardEvent("keydown",
                     { key, bubbles: true, cancelable: true, [modifier]: true }))""",
                [key, modifier],
            )

    assert demo.row("accord", "kick")["state"] == "waiting"
    expect(row.place.locator("details.reason")).not_to_have_attribute("open", "")


def test_undo_pressed_twice_at_once_takes_one_answer_back(demo: Demo, desk: Desk) -> None:
    for source in ("kick", "snare"):
        demo.answer(demo.ask("accord", source, -1))
    expect(desk.last_answers.first).to_contain_text("Snare in Accordion")

    desk.page.evaluate(
        """() => { for (let turn = 0; turn < 2; turn++) document.body.dispatchEvent(
             new KeyboardEvent("keydown", { key: "u", code: "KeyU", bubbles: true, cancelable: true })); }"""
    )

    desk.row("accord", "snare").is_current()
    expect(desk.rows).to_have_count(1)
    expect(desk.last_answers.first).to_contain_text("Kick in Accordion")


def test_level_is_corrected_and_the_row_waits_on(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "snare", -1)
    row = desk.row("accord", "snare")
    row.is_current()

    desk.press("c")
    desk.type("-20")
    desk.press("Enter")
    row.shows("-1", "-20 to -21")
    desk.press("Enter")

    row.is_gone()
    assert demo.level("accord", "snare") == -21


def test_line_for_somebody_says_what_it_would_ask(demo: Demo, desk: Desk) -> None:
    desk.press("n")
    desk.type("2k+3")
    expect(desk.page.locator("#asked-reads")).to_have_text("Bass: Kick +3")
    desk.press("Enter")

    desk.row("bass", "kick").is_current()
    assert demo.row("bass", "kick")["sum_db"] == 3
    expect(desk.page.locator("#asked-line")).to_have_value("")


def test_mix_is_opened_by_its_number_and_left_again(desk: Desk) -> None:
    desk.press("m", "2")
    is_left(desk.page, r"/desk/mix/bass(\?show=\w+)?$")

    desk.press("q")

    is_left(desk.page, r"/desk$")


def test_mix_of_the_row_is_kept_from_its_page(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "snare", -1)
    desk.row("accord", "snare").is_current()

    desk.press("k")

    is_left(desk.page, r"/desk/mix/accord(\?show=\w+)?#keep$")


def test_help_lists_the_keys(desk: Desk) -> None:
    desk.press("?")

    expect(desk.page.get_by_text("done as suggested")).to_be_visible()
    expect(desk.page.locator(".keys-help dt kbd").first).to_have_text("enter")


def test_letters_typed_in_a_field_are_no_keys(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", -1)
    row = desk.row("accord", "kick")
    row.is_current()

    desk.press("n")
    desk.type("sxgudmq")
    desk.press("Escape")

    expect(desk.page.locator("#asked-line")).not_to_be_focused()
    assert demo.row("accord", "kick")["state"] == "waiting"
    desk.press("Enter")
    row.is_gone()
    assert figures("-1") in desk.last_answers.first.inner_text()
