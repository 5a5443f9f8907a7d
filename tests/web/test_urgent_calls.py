"""Urgent calls at the desk and on the phone, without a script: what each offers first, and who has seen it."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.requests import Call, Outcome, Way
from tests.support.desk_page import press
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Page, Visitor

FRONT = "row-front--call"


def call(evening: Evening, mix: str, which: Call, musician: str | None = None) -> str:
    evening.do(c.CallDesk(mix, musician, which))
    return list(evening.show.open_requests)[-1]


def raised(evening: Evening, source: str | None, change: int) -> None:
    request = evening.ask("front", source, change)
    evening.do(c.Answer((request,), Outcome.DONE, change))


def first_key(page: Page, row: str) -> str:
    """What Enter records."""
    keys = [
        one for one in page.markup.root.one(id=row).every("button") if one.attrs.get("data-key") == "Enter"
    ]
    return keys[0].text


def steps(page: Page, row: str) -> list[str]:
    (found,) = (one for one in page.markup.root.one(id=row).every("ol"))
    return [one.text for one in found.every("li")]


def test_call_that_hurts_is_answered_first_by_the_output_down_six(
    evening: Evening, engineer: Visitor
) -> None:
    call(evening, "front", Call.HURTS)

    page = engineer.get("/desk")
    press(engineer, page, f"done:{FRONT}")

    assert first_key(page, FRONT) == f"enter done: output now {MINUS}12"
    assert "Ada, centre, aux 1: HURTS" in page.place(FRONT)
    assert evening.level("front", None) == -120


def test_squeal_is_answered_first_by_the_last_raise_taken_back(evening: Evening, engineer: Visitor) -> None:
    raised(evening, "drums", 10)
    raised(evening, "voice", 30)
    call(evening, "front", Call.SQUEAL)

    page = engineer.get("/desk")
    after = press(engineer, page, f"take_back:{FRONT}")

    assert first_key(page, FRONT) == f"enter done: Voice back to {MINUS}4 ({MINUS}3)"
    assert (evening.level("front", "voice"), evening.level("front", None)) == (-40, -60)
    assert list(evening.show.decisions.values())[-1].way is Way.LAST_RAISE
    assert f"call in Front wedge: done, last raise taken back {MINUS}3" in after.place("decisions")


def test_squeal_offers_the_output_down_three_second_and_first_where_nothing_was_raised(
    evening: Evening, engineer: Visitor
) -> None:
    call(evening, "front", Call.SQUEAL)
    alone = engineer.get("/desk")
    raised(evening, "voice", 30)
    both = engineer.get("/desk")

    assert first_key(alone, FRONT) == f"enter done: output now {MINUS}9"
    assert both.button_with(f"done:{FRONT}").words == f"d done: output now {MINUS}9"


def test_squeal_lists_the_mics_with_the_least_margin_first(evening: Evening, engineer: Visitor) -> None:
    """Worked by hand: each was read alone, and with the talkback mic three are on: 10 lg 3 = 4.8 dB less of each."""
    evening.do(m.ReadMargin("front", "voice", 90, 1))
    evening.do(m.ReadMargin("front", "drums", 50, 1))
    call(evening, "front", Call.SQUEAL)

    page = engineer.get("/desk")

    assert "least margin: Drums 0.2 dB, Voice 4.2 dB" in page.place(FRONT)
    assert steps(page, FRONT)[-1] == "it may be another wedge or the house"


def test_what_the_page_showed_is_what_is_taken_back(evening: Evening, engineer: Visitor) -> None:
    raised(evening, "voice", 30)
    call(evening, "front", Call.SQUEAL)
    page = engineer.get("/desk")
    evening.do(c.CorrectLevel("front", "voice", -5))

    press(engineer, page, f"take_back:{FRONT}")

    assert evening.level("front", "voice") == -40


def test_nothing_heard_is_looked_for_with_the_pack_down_at_the_desk_and_then_at_pack_or_wedge(
    evening: Evening, engineer: Visitor
) -> None:
    call(evening, "front", Call.NOTHING)
    call(evening, "ears", Call.NOTHING, "bass")

    page = engineer.get("/desk")

    desk = ["raise nothing before it is found", "mute?", "output up?", "listen on cue"]
    pack = ["pack on?", "battery", "volume", "channel", "plug"]
    assert steps(page, FRONT) == [*desk, "output down before a plug is touched", "wedge power", "cable"]
    assert steps(page, "row-ears--call") == ["pack down or both out first", *desk, *pack]


def test_phone_says_at_once_what_to_do_where_it_hurts(singer: Visitor, bassist: Visitor) -> None:
    told = []
    for phone, mix in ((singer, "front"), (bassist, "ears")):
        page = phone.get(f"/mix/{mix}")
        told.append(phone.do(page, page.button_with("call-hurts:")).place("calls"))

    assert "Step away from the wedge." in told[0]
    assert "Turn the pack down or take BOTH out." in told[1]


def test_phone_says_who_has_seen_the_call(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    desk = engineer.get("/desk")
    engineer.do(desk, desk.button("keep", action="/desk/name"), {"desk_name": "Stage side"})
    call(evening, "front", Call.TALK)
    before = singer.get("/mix/front").place("calls")

    after_desk = press(engineer, engineer.get("/desk"), f"seen:{FRONT}")

    assert "nobody has said yet that it was seen" in before
    assert "seen by Stage side" in singer.get("/mix/front").place("calls")
    assert "seen by Stage side" in after_desk.place(FRONT)
    assert f"seen:{FRONT}" not in [one.value for one in after_desk.markup.buttons()]


def test_desk_that_comes_late_is_told_which_desk_answered(evening: Evening, engineer: Visitor) -> None:
    other = Visitor(evening.monreq.flask)
    other.scan(evening.link(None))
    desk = engineer.get("/desk")
    engineer.do(desk, desk.button("keep", action="/desk/name"), {"desk_name": "Stage side"})
    call(evening, "front", Call.HURTS)
    both = other.get("/desk")
    press(engineer, engineer.get("/desk"), f"done:{FRONT}")

    late = press(other, both, f"done:{FRONT}")

    assert late.notes == ["No longer waiting: Front wedge, answered by Stage side. Nothing was changed."]
    assert evening.level("front", None) == -120


@pytest.mark.security
@pytest.mark.parametrize(
    "raised_field", ["", "voice", "voice:", "voice:-99999", "voice:+30", "x" * 30 + ":-30"]
)
def test_raise_that_the_page_did_not_show_is_not_taken_back(
    evening: Evening, engineer: Visitor, raised_field: str
) -> None:
    raised(evening, "voice", 30)
    call(evening, "front", Call.SQUEAL)

    page = press(engineer, engineer.get("/desk"), f"take_back:{FRONT}", raised=raised_field)

    assert page.notes == ["This page is out of date. Load it again."]
    assert evening.level("front", "voice") == -10


def test_desk_that_comes_late_is_told_which_desk_took_the_last_raise_back(
    evening: Evening, engineer: Visitor
) -> None:
    other = Visitor(evening.monreq.flask)
    other.scan(evening.link(None))
    desk = engineer.get("/desk")
    engineer.do(desk, desk.button("keep", action="/desk/name"), {"desk_name": "Stage side"})
    raised(evening, "voice", 30)
    call(evening, "front", Call.SQUEAL)
    both = other.get("/desk")
    press(engineer, engineer.get("/desk"), f"take_back:{FRONT}")

    late = press(other, both, f"done:{FRONT}")

    assert late.notes == ["No longer waiting: Front wedge, answered by Stage side. Nothing was changed."]
    assert evening.level("front", "voice") == -40
