"""The laptop's clock is set back: whoever was let in stays in, and what they send is taken."""

import time

import pytest

from tests.support.evening import Evening
from tests.support.visitor import JSON, Visitor

DAY_S = 86_400


@pytest.mark.parametrize("seconds", [1, 3600, 400 * DAY_S])
def test_everybody_stays_in_and_is_heard(
    evening: Evening, engineer: Visitor, singer: Visitor, monkeypatch: pytest.MonkeyPatch, seconds: int
) -> None:
    phone, desk = singer.get("/mix/front"), engineer.get("/desk")
    now = time.time()
    monkeypatch.setattr(time, "time", lambda: now - seconds)

    asked = singer.press(phone, "more Voice", None, **JSON)
    marked = engineer.press(desk, desk.button_with("mark:"), None, **JSON)

    assert (asked.status, marked.status) == (201, 201)
    assert [singer.get("/mix/front").status, engineer.get("/desk").status] == [200, 200]
    assert evening.asked() == [("front", "voice", "level", 30)]


@pytest.mark.security
def test_a_cookie_still_ends_when_its_time_is_over(
    engineer: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = time.time()
    monkeypatch.setattr(time, "time", lambda: now + 61 * DAY_S)

    assert engineer.get("/desk").status == 401
