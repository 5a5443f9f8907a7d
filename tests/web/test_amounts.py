"""The phone's amounts, chosen before the source or tapped after it, in its opened strip."""

import pytest

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from monreq.domain.setup import Settings
from monreq.web.amounts import steps
from monreq.web.phone_view import phone_places
from monreq.web.places import PlaceRenderer
from tests.support.evening import SHOW, Evening
from tests.support.phone_page import error_of, waiting
from tests.support.visitor import JSON, MINUS, Page, Visitor

AMOUNTS = {"touch": 10, "some": 30, "lot": 60}


def sizes(page: Page, source: str) -> list[str]:
    """Return the buttons of a source that name a figure, in the order of the page."""
    return [name for name in page.buttons() if name.startswith(source) and " dB " in name]


def chosen(page: Page) -> list[str]:
    return page.markup.fields(page.button("more Voice").form)["amount"]


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize(("way", "sign"), [("more", 1), ("less", -1)])
def test_amount_tapped_after_the_source_is_what_is_asked(
    evening: Evening, singer: Visitor, way: str, sign: int, amount: str
) -> None:
    page = singer.do(singer.get("/mix/front"), f"Voice {AMOUNTS[amount] // 10} dB {way}")

    assert evening.asked() == [("front", "voice", "level", sign * AMOUNTS[amount])]
    assert f"{'+' if sign > 0 else MINUS}{AMOUNTS[amount] // 10}, waiting" in page.place("strip-voice")


def test_amount_tapped_after_the_source_leaves_the_chosen_one_chosen(
    evening: Evening, singer: Visitor
) -> None:
    page = singer.get("/mix/front?amount=touch")

    page = singer.do(page, "Voice 6 dB more")

    assert chosen(page) == ["touch"]
    singer.do(page, "more Voice")
    assert [amount for _, _, amount in waiting(evening)] == [60, 10]


def test_amount_tapped_after_the_source_counts_over_the_chosen_one(evening: Evening, singer: Visitor) -> None:
    singer.press(singer.get("/mix/front"), "Voice 6 dB less", {"amount": "touch"})

    assert waiting(evening) == [("voice", "level", -60)]


def test_amounts_after_are_those_of_the_show(evening: Evening, singer: Visitor) -> None:
    evening.do(c.ChangeSettings(Settings(touch_tenths=15, some_tenths=40, lot_tenths=80)))
    page = singer.get("/mix/front")

    assert sizes(page, "Voice") == [
        f"Voice {figure} dB {way}" for way in ("less", "more") for figure in ("1.5", "4", "8")
    ]
    singer.press(page, "Voice 1.5 dB more")
    assert waiting(evening) == [("voice", "level", 15)]


def test_buttons_show_signed_figures_the_smallest_first() -> None:
    offered = steps(Settings(touch_tenths=15, some_tenths=40, lot_tenths=80))

    assert [one.signed for one in offered.less] == [f"{MINUS}1.5", f"{MINUS}4", f"{MINUS}8"]
    assert [one.signed for one in offered.more] == ["+1.5", "+4", "+8"]


def test_open_phones_are_told_all_figures_when_the_amounts_change(evening: Evening) -> None:
    before = phone_places(evening.show, "front")
    evening.do(c.ChangeSettings(Settings(lot_tenths=80)))

    changed = PlaceRenderer(evening.monreq.flask.jinja_env).changed(
        before, phone_places(evening.show, "front")
    )

    assert set(changed) == {"figure-lot", "strip-voice", "strip-drums", "strip-talk"}
    assert "8 dB" in changed["figure-lot"]
    assert evening.show.changed_at["front"] == evening.show.revision


def test_a_source_that_is_off_has_no_amounts(singer: Visitor) -> None:
    assert sizes(singer.get("/mix/front"), "Guitar") == []


def test_talkback_can_only_be_asked_up(singer: Visitor) -> None:
    assert sizes(singer.get("/mix/front"), "Talkback") == [
        f"Talkback {figure} dB more" for figure in (1, 3, 6)
    ]


def test_a_group_is_asked_for_by_an_amount_of_its_own(evening: Evening, bassist: Visitor) -> None:
    evening.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"))))

    page = bassist.do(bassist.get("/mix/ears"), "Band 6 dB less")

    assert waiting(evening) == [("band", "level", -60)]
    assert f"{MINUS}6, waiting" in page.place("strip-band")


def test_what_was_tapped_by_mistake_is_taken_back(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "Voice 6 dB more")

    page = singer.do(page, "take back Voice +6")

    assert evening.asked() == []
    assert "waiting" not in page.place("strip-voice")


@pytest.mark.parametrize(
    "do", ["more-enormous:voice", "less-:voice", "more-lot-lot:voice", "louder-lot:voice"]
)
def test_amount_that_there_is_none_of_is_refused(evening: Evening, singer: Visitor, do: str) -> None:
    page = singer.get("/mix/front")
    fields = {**page.sent_by(page.button("more Voice")), "do": do}

    answer = singer.post("/mix/front", fields, **JSON)

    assert (answer.status, error_of(answer)) == (422, "page_out_of_date")
    assert evening.monreq.shows.state(SHOW).open_requests == {}


def test_same_tap_sent_twice_counts_once(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("Voice 6 dB more"))

    assert [singer.post("/mix/front", fields, **JSON).status for _ in range(2)] == [201, 201]

    assert waiting(evening) == [("voice", "level", 60)]
