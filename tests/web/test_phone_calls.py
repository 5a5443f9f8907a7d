"""Calls to the desk from the phone page."""

import pytest

from tests.support.evening import Evening
from tests.support.visitor import Visitor


@pytest.mark.parametrize("call", ["hurts", "squeal", "nothing", "talk"])
def test_a_call_reaches_the_desk(evening: Evening, singer: Visitor, call: str) -> None:
    page = singer.get("/mix/front")

    page = singer.do(page, page.button_with(f"call-{call}:"))

    (request,) = evening.show.open_requests.values()
    assert (request.key.mix, request.call) == ("front", call)
    assert f"Desk called: {call}" in page.place("calls")


@pytest.mark.parametrize(
    ("who", "call", "advice"),
    [
        ("singer", "hurts", "Step away from the wedge."),
        ("singer", "squeal", "Step back from the wedge; keep the mic off it."),
        ("singer", "nothing", "Check the wedge: power? cable?"),
        ("bassist", "hurts", "Turn the pack down or take BOTH out."),
        ("bassist", "nothing", "Turn the pack down or take BOTH out. Then: pack on? battery? plug?"),
    ],
)
def test_a_call_says_what_to_do_at_once(
    request: pytest.FixtureRequest, who: str, call: str, advice: str
) -> None:
    visitor: Visitor = request.getfixturevalue(who)
    page = visitor.get("/")
    page = visitor.get(page.headers["Location"])

    page = visitor.do(page, page.button_with(f"call-{call}:"))

    assert advice in page.place("calls")


def test_both_earpieces_are_always_named_together(bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")

    page = bassist.do(page, page.button_with("call-hurts:"))

    assert "one earpiece" not in page.text
    assert page.text.count("take BOTH out") >= 1
