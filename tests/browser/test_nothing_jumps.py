"""Nothing jumps under the hand: the row in hand and all above it stay where they are, whatever arrives."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenDesk
from tests.support.demo import Demo
from tests.support.hands import Desk

ASKS = 50
SOURCES = ("kick", "snare", "bass", "guitar", "lead")  # in every mix of the demo
MIXES = ("bass", "drums", "accord", "guitar", "lead")

# Measures in every frame, so that a place that moves and comes back is seen too.
WATCH = """(places) => {
  const tops = () => places.map((place) => document.querySelector(place)?.getBoundingClientRect().top ?? NaN);
  const first = tops();
  window.shifted = 0;
  window.frames = 0;
  const look = () => {
    tops().forEach((top, at) => { window.shifted = Math.max(window.shifted, Math.abs(top - first[at]) || 0); });
    if (tops().some(Number.isNaN)) window.shifted = Infinity;
    window.frames += 1;
    window.watching = requestAnimationFrame(look);
  };
  look();
}"""
STOP = "() => { cancelAnimationFrame(window.watching); return [window.shifted, window.frames]; }"


def ask_many(demo: Demo) -> None:
    """Ask for many things in many mixes, some of them again and again."""
    for number in range(ASKS):
        source = SOURCES[number % len(SOURCES)]
        mix = MIXES[number // 2 % len(MIXES)]
        demo.ask(mix, source, 1 + number % 3)


def shift_while(page: Page, places: list[str], demo: Demo) -> tuple[float, int]:
    page.evaluate(WATCH, places)
    ask_many(demo)
    waiting = sum(len(row["requests"]) for row in demo.rows())
    expect(page.locator("#queue > li[data-row]")).to_have_count(len(demo.rows()))
    assert waiting >= ASKS
    shifted, frames = page.evaluate(STOP)
    return shifted, frames


@pytest.fixture
def desk(demo: Demo, open_desk: OpenDesk) -> Desk:
    for mix, source in (("bass", "kick"), ("drums", "lead"), ("accord", "snare"), ("guitar", "bass")):
        demo.ask(mix, source, 2)
    desk = open_desk()
    expect(desk.rows).to_have_count(4)
    return desk


@pytest.mark.parametrize("height", [900, 600])
@pytest.mark.parametrize("steps", [0, 3])
def test_head_is_whole_or_out_of_the_way_when_a_call_comes(
    demo: Demo, desk: Desk, steps: int, height: int
) -> None:
    desk.page.set_viewport_size({"width": 1280, "height": height})
    desk.press(*["ArrowDown"] * steps)

    demo.call("guitar", "hurts")

    row = desk.row("guitar", kind="call").place
    expect(row).to_contain_class("now")
    expect(row).to_be_in_viewport(ratio=1)
    head = desk.page.locator("header.top").bounding_box()
    assert head
    assert head["y"] == 0 or head["y"] + head["height"] <= 0


@pytest.mark.parametrize("steps", [0, 2])
def test_row_in_hand_and_all_above_stay_while_fifty_requests_arrive(
    demo: Demo, desk: Desk, steps: int
) -> None:
    desk.press(*["ArrowDown"] * steps)
    above = [f"#{row.get_attribute('id')}" for row in desk.rows.all()[: steps + 1]]
    expect(desk.page.locator(above[-1])).to_contain_class("now")

    shifted, frames = shift_while(desk.page, above, demo)

    assert frames > 1
    assert shifted == 0
    expect(desk.page.locator(above[-1])).to_contain_class("now")


def test_figure_half_typed_stays_under_the_hand(demo: Demo, desk: Desk) -> None:
    desk.type("+1")
    field = desk.page.locator(".now input[name$='-figure']")

    shifted, _ = shift_while(desk.page, [".now input[name$='-figure']"], demo)

    assert shifted == 0
    expect(field).to_be_focused()
    expect(field).to_have_value("+1")


def test_song_bar_keeps_its_height_when_a_request_comes(demo: Demo, open_desk: OpenDesk) -> None:
    page = open_desk().page
    page.set_viewport_size({"width": 1280, "height": 900})
    for running in (1, 0):  # until a gap begins
        page.keyboard.press("g")
        expect(page.locator(".song.runs")).to_have_count(running)
    bar, fits = page.locator(".song"), page.locator(".song-fits")
    before, said = bar.bounding_box(), fits.inner_text()

    demo.ask("bass", "kick", 2)

    expect(fits).not_to_have_text(said)
    assert bar.bounding_box() == before


def test_answer_frees_the_order(demo: Demo, desk: Desk) -> None:
    ask_many(demo)
    expect(desk.rows).to_have_count(len(demo.rows()))
    answered = desk.page.locator(f"#{desk.rows.first.get_attribute('id')}")
    expect(answered).to_contain_class("now")

    desk.press("Enter")

    expect(answered).to_have_count(0)
    planned = [f"row-{row['mix']}-{row['source'] or ''}-{row['kind']}" for row in demo.rows()]
    shown = desk.rows.evaluate_all("(rows) => rows.map((row) => row.id)")
    assert shown == planned
