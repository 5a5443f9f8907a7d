"""Calls that come one after another: worked by the keyboard in the queue's order, before anything else is made louder."""

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.conftest import OpenDesk
from tests.support.demo import Demo
from tests.support.hands import Desk, figures

CALLERS = {"hurts": "drums", "squeal": "lead", "nothing": "accord", "talk": "bass"}
NAMES = {"drums": "Drums", "lead": "Lead voice", "accord": "Accordion", "bass": "Bass"}
ENTERS = 400  # enough for any hand: most find the answer before them still on its way


@pytest.fixture
def desk(demo: Demo, open_desk: OpenDesk) -> Desk:
    """A desk while a song runs, with two ordinary raises waiting and the first in hand."""
    desk = open_desk()
    if desk.page.locator("#song.runs").count() == 0:
        desk.press("g")
        expect(desk.page.locator("#song.runs")).to_have_count(1)
    demo.ask("accord", "accord", 3)
    demo.ask("guitar", "guitar", 3)
    expect(desk.rows).to_have_count(2)
    desk.row("accord", "accord").is_current()
    return desk


def call(demo: Demo, desk: Desk, what: str) -> None:
    """Let somebody call, and wait until the desk shows it."""
    demo.call(CALLERS[what], what)
    expect(desk.row(CALLERS[what], kind="call").place.locator(".caller")).to_have_count(1)


def in_hand(desk: Desk) -> Locator:
    return desk.page.locator("#queue > li.now")


def shown(desk: Desk) -> list[str]:
    ids: list[str] = desk.rows.evaluate_all("(rows) => rows.map((row) => row.id)")
    return ids


def queued(demo: Demo) -> list[str]:
    return [f"row-{row['mix']}-{row['source'] or ''}-{row['kind']}" for row in demo.rows()]


def is_whole_below_the_bar(row: Locator) -> bool:
    found: bool = row.evaluate(
        """(row) => row.getBoundingClientRect().top >= document.getElementById("song").getBoundingClientRect().bottom
             && row.getBoundingClientRect().bottom <= innerHeight"""
    )
    return found


def answers(desk: Desk, count: int) -> list[str]:
    """What was answered last, the oldest first."""
    return list(reversed(desk.last_answers.all_inner_texts()[:count]))


def enter_while_calls_wait(demo: Demo, desk: Desk) -> None:
    for _ in range(ENTERS):
        if not any(row["urgent"] for row in demo.rows()):
            return
        desk.press("Enter")
        desk.page.wait_for_timeout(50)


@pytest.mark.parametrize(
    "coming",
    [
        ("hurts", "nothing", "talk", "squeal"),
        ("talk", "nothing", "squeal", "hurts"),
        ("nothing", "hurts", "squeal", "talk"),
    ],
    ids="-".join,
)
def test_evening_of_calls_is_recorded_in_the_order_of_the_queue_before_any_raise(
    demo: Demo, desk: Desk, coming: tuple[str, ...]
) -> None:
    for what in coming:
        call(demo, desk, what)
        top = queued(demo)[0]
        expect(in_hand(desk)).to_have_id(top)
        assert shown(desk) == queued(demo)
        assert is_whole_below_the_bar(in_hand(desk))
    waiting = demo.rows()
    assert [row["urgent"] for row in waiting] == ["hurts", "squeal", "nothing", "talk", None, None]

    enter_while_calls_wait(demo, desk)

    left = demo.rows()
    expect(desk.rows).to_have_count(len(left))
    recorded = answers(desk, len(waiting) - len(left))
    assert [text.partition(":")[0] for text in recorded[:4]] == [
        f"call in {NAMES[CALLERS[what]]}" for what in ("hurts", "squeal", "nothing", "talk")
    ]
    assert recorded[0].endswith(figures("done -6"))
    assert {row["kind"] for row in left} == {"level"}


def test_call_of_lower_rank_stays_below_and_leaves_the_hand_alone(demo: Demo, desk: Desk) -> None:
    call(demo, desk, "hurts")
    desk.row("drums", kind="call").is_current()

    call(demo, desk, "talk")

    desk.row("drums", kind="call").is_current()
    assert shown(desk)[:2] == ["row-drums--call", "row-bass--call"]


def test_person_who_goes_to_a_row_past_a_call_comes_back_to_it_after_the_answer(
    demo: Demo, desk: Desk
) -> None:
    call(demo, desk, "hurts")
    desk.row("drums", kind="call").is_current()
    desk.press("ArrowDown")
    desk.row("accord", "accord").is_current()
    demo.ask("bass", "kick", -1)
    expect(desk.rows).to_have_count(4)
    desk.row("accord", "accord").is_current()

    desk.press("Enter")

    desk.row("accord", "accord").is_gone()
    desk.row("drums", kind="call").is_current()


def test_call_that_comes_while_a_person_is_past_another_brings_the_hand_to_the_top_one(
    demo: Demo, desk: Desk
) -> None:
    call(demo, desk, "hurts")
    desk.row("drums", kind="call").is_current()
    desk.press("ArrowDown", "ArrowDown")
    desk.row("guitar", "guitar").is_current()

    call(demo, desk, "talk")

    desk.row("drums", kind="call").is_current()


def test_call_that_is_seen_is_still_before_ordinary_rows(demo: Demo, desk: Desk) -> None:
    call(demo, desk, "talk")
    row = desk.row("bass", kind="call")
    row.is_current()
    desk.press("c")
    expect(row.place.locator(".seen")).to_have_count(1)
    desk.press("ArrowDown")
    desk.row("accord", "accord").is_current()

    desk.press("Enter")

    desk.row("accord", "accord").is_gone()
    row.is_current()


def test_call_that_was_set_aside_lets_ordinary_rows_be_worked(demo: Demo, desk: Desk) -> None:
    call(demo, desk, "talk")
    desk.row("bass", kind="call").is_current()

    desk.press("s")

    expect(desk.row("bass", kind="call").place).to_contain_class("aside")
    desk.row("accord", "accord").is_current()


def test_raise_that_is_taken_back_waits_behind_a_call(demo: Demo, desk: Desk) -> None:
    desk.press("Enter")
    desk.row("accord", "accord").is_gone()
    call(demo, desk, "talk")
    desk.row("bass", kind="call").is_current()

    desk.press("u")

    expect(desk.row("accord", "accord").place).to_have_count(1)
    desk.row("bass", kind="call").is_current()


def test_call_that_comes_while_a_figure_is_typed_takes_the_hand_when_it_is_not_typed_any_more(
    demo: Demo, desk: Desk
) -> None:
    desk.type("+1")
    call(demo, desk, "hurts")
    expect(in_hand(desk)).to_have_id("row-accord-accord-level")

    desk.press("Escape")

    desk.row("drums", kind="call").is_current()


def ask_for_twelve_rows(demo: Demo, desk: Desk) -> None:
    demo.clear()
    for source in ("kick", "snare", "bass"):
        for mix in ("bass", "drums", "accord", "guitar"):
            demo.ask(mix, source, -1)
    expect(desk.rows).to_have_count(12)


@pytest.mark.parametrize("height", [900, 600])
def test_call_that_takes_the_hand_is_seen_whole_wherever_the_page_stood(
    demo: Demo, desk: Desk, height: int
) -> None:
    desk.page.set_viewport_size({"width": 1440, "height": height})
    ask_for_twelve_rows(demo, desk)
    desk.press(*["ArrowDown"] * 11)

    call(demo, desk, "talk")
    call(demo, desk, "hurts")

    desk.row("drums", kind="call").is_current()
    assert is_whole_below_the_bar(in_hand(desk))


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (1440, 600), (1100, 600)])
def test_row_that_a_person_goes_up_to_does_not_hide_beneath_the_bar(
    demo: Demo, desk: Desk, width: int, height: int
) -> None:
    desk.page.set_viewport_size({"width": width, "height": height})
    ask_for_twelve_rows(demo, desk)
    desk.press(*["ArrowDown"] * 11)

    for _ in range(4):
        desk.press("ArrowUp")
        assert is_whole_below_the_bar(in_hand(desk))
