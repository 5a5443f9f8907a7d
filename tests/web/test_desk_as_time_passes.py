"""The desk notices that time passes: its open page, the page as it is loaded, and what it sends."""

from collections.abc import Iterator
from typing import Any

import pytest
from flask_socketio import SocketIOTestClient

from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain.cautions import CautionCode
from monreq.domain.readings import EarMethod
from monreq.domain.requests import RequestState
from monreq.domain.time_passing import as_of
from tests.evenings.clock import Chance, Clock, ruled
from tests.support.api_client import ApiClient
from tests.support.desk_page import press, states
from tests.support.evening import Evening
from tests.support.markup import Element, Markup
from tests.support.threads import wait_until
from tests.support.visitor import Page, Visitor
from tests.support.web_app import Site

ROW = "row-ears-drums-level"
HOUR_S, GAP_S = 3600, 30
FULL = "this ear's day may be full"


@pytest.fixture(autouse=True)
def clock() -> Iterator[Clock]:
    clock = Clock()
    with ruled(clock, Chance(1)):
        yield clock


@pytest.fixture
def request_id(evening: Evening) -> str:
    """Less than an hour before a day at 94 dB(A) may be full (NIOSH 98-126), the bass asks for more drums."""
    evening.do(m.MeasureEarLevel("ears", 940, EarMethod.COUPLER, is_field_level=True))
    return evening.ask("ears", "drums", 30, "bass")


def open_desk(evening: Evening) -> SocketIOTestClient:
    token = evening.link().rsplit("/", 1)[1]
    return evening.monreq.socketio.test_client(evening.monreq.flask, namespace="/desk", auth={"token": token})


def told(desk: SocketIOTestClient, revision: int, as_of: int | None) -> dict[str, Any]:
    """Wait until a desk is told a revision as of a moment; returns that push."""
    heard: list[dict[str, Any]] = []

    def is_told() -> bool:
        heard.extend(one["args"][0] for one in desk.get_received("/desk") if one["name"] == "changed")
        return any((one["revision"], one["as_of"]) == (revision, as_of) for one in heard)

    wait_until(is_told)
    return heard[-1]


def sends(within: Element, value: str) -> bool:
    return any(within.every("button", value=value))


def suggests_the_raise(page: Page) -> bool:
    return sends(page.markup.root.one(id=ROW), f"done:{ROW}")


def test_open_desk_is_told_a_row_anew_when_the_day_is_full(evening: Evening, clock: Clock) -> None:
    evening.do(m.MeasureEarLevel("ears", 940, EarMethod.COUPLER, is_field_level=True))
    desk = open_desk(evening)
    evening.ask("ears", "drums", 30, "bass")
    asked = told(desk, evening.show.revision, clock.now_ms)

    clock.wait(HOUR_S)
    push = told(desk, evening.show.revision, as_of(evening.show, clock.now_ms).at_ms)

    assert (push["after"], push["after_as_of"]) == (asked["revision"], asked["as_of"])
    before, now = (Markup(one["fragments"][ROW]).root.one(id=ROW) for one in (asked, push))
    assert [sends(row, f"done:{ROW}") for row in (before, now)] == [True, False]
    assert FULL in now.text


def test_open_desk_is_told_what_is_left_of_a_day_anew_every_minute(evening: Evening, clock: Clock) -> None:
    evening.do(m.MeasureEarLevel("ears", 970, EarMethod.COUPLER, is_field_level=True))
    desk = open_desk(evening)
    evening.ask("ears", None, 60, "bass")
    asked = told(desk, evening.show.revision, clock.now_ms)

    clock.wait(240)
    push = told(desk, evening.show.revision, as_of(evening.show, clock.now_ms).at_ms)

    # Worked by hand: 4 of 30 min at 97 dB(A) leave 13 of 15 min at 100 dB(A) (NIOSH 98-126).
    rows = [Markup(one["fragments"]["row-ears--level"]).root.text for one in (asked, push)]
    assert [": about 15 min" in rows[0], ": about 13 min" in rows[1]] == [True, True]


def test_desk_that_is_loaded_shows_what_is_suggested_by_now(
    evening: Evening, engineer: Visitor, request_id: str, clock: Clock
) -> None:
    before = engineer.get("/desk")

    clock.wait(HOUR_S)
    after = engineer.get("/desk")

    assert suggests_the_raise(before)
    assert not suggests_the_raise(after)
    assert FULL in after.place(ROW)
    form = after.markup.root.one(id="desk").attrs
    assert (form["data-revision"], form["data-as-of"]) == (
        str(evening.show.revision),
        str(as_of(evening.show, clock.now_ms).at_ms),
    )
    assert states(evening, request_id) == [RequestState.WAITING]


def test_page_and_what_is_read_again_are_told_as_of_the_same_moment(
    evening: Evening, engineer: Visitor, request_id: str, clock: Clock
) -> None:
    clock.wait(HOUR_S)
    moment = as_of(evening.show, clock.now_ms).at_ms
    again = engineer.ask("GET", "/desk/places").get_json()
    at = open_desk(evening).get_received("/desk")[0]["args"][0]

    assert (again["revision"], again["as_of"]) == (evening.show.revision, moment)
    assert at == {"revision": again["revision"], "as_of": again["as_of"]}
    assert FULL in Markup(again["fragments"]["queue"]).root.text
    assert request_id in evening.show.open_requests


def test_raise_that_a_page_still_shows_is_not_entered_when_the_day_is_full(
    evening: Evening, engineer: Visitor, request_id: str, clock: Clock
) -> None:
    shown = engineer.get("/desk")
    before = evening.show

    clock.wait(HOUR_S)
    page = press(engineer, shown, f"done:{ROW}")

    assert page.notes == [
        "Not entered: this ear's day may be full before a song is over, so no raise is suggested any more. If it went up already, type by "
        "how much."
    ]
    assert evening.show.revision == before.revision
    assert not suggests_the_raise(page)
    assert FULL in page.place(ROW)
    assert states(evening, request_id) == [RequestState.WAITING]


def test_what_the_hand_did_is_typed_on_a_full_day(
    evening: Evening, engineer: Visitor, request_id: str, clock: Clock
) -> None:
    shown = engineer.get("/desk")
    clock.wait(HOUR_S)

    asked = press(engineer, shown, f"figure:{ROW}", figure="+3")
    engineer.do(asked, "confirm")

    assert asked.notes == [
        "Drums in Rhythm: goes up though this ear's day may be full. The same again confirms."
    ]
    assert evening.level("ears", "drums") == -110 + 30
    assert states(evening, request_id) == [RequestState.DONE]


def test_raise_is_suggested_again_on_an_open_desk_once_the_last_counts_no_more(
    evening: Evening, engineer: Visitor, clock: Clock
) -> None:
    evening.ask("ears", "drums", 30, "bass")
    press(engineer, engineer.get("/desk"), f"done:{ROW}")
    desk = open_desk(evening)
    evening.ask("ears", "drums", 30, "bass")
    told(desk, evening.show.revision, clock.now_ms)
    before = engineer.get("/desk")

    clock.wait(GAP_S)
    push = told(desk, evening.show.revision, clock.now_ms)

    assert not suggests_the_raise(before)
    assert sends(Markup(push["fragments"][ROW]).root, f"done:{ROW}")
    assert suggests_the_raise(engineer.get("/desk"))


def test_raise_in_a_song_that_goes_on_for_long_is_suggested_once(
    evening: Evening, engineer: Visitor, clock: Clock
) -> None:
    evening.do(so.BeginSong())
    evening.ask("ears", "drums", 30, "bass")
    press(engineer, engineer.get("/desk"), f"done:{ROW}")
    evening.ask("ears", "drums", 30, "bass")

    clock.wait(20 * 60)

    assert not suggests_the_raise(engineer.get("/desk"))


def test_json_queue_tells_what_a_decision_without_a_figure_would_do_by_now(
    site: Site, desk: ApiClient
) -> None:
    site.do(m.MeasureEarLevel("ears", 940, EarMethod.COUPLER, is_field_level=True))
    asked = {"client_id": "a", "kind": "level", "source": "voice", "musician": "bass", "change_db": 3}
    request = desk.post("/mixes/ears/requests", asked).json["request"]
    before = desk.get("/queue").json["rows"][0]
    site.wait(HOUR_S)

    after = desk.get("/queue").json["rows"][0]
    level = desk.post("/decisions", {"requests": [request], "outcome": "done"}).json["level_db"]

    assert (before["suggested_db"], after["suggested_db"]) == (3, 0)
    assert after["caution_codes"][0] == CautionCode.DOSE_FULL
    assert level == after["set_level_db"]
