"""Requests entered at the desk for somebody without a phone."""

import pytest

from tests.support.evening import Evening
from tests.support.visitor import MINUS, Visitor

PAGE = "/desk/mix/front"


def test_ask_for_somebody_without_a_phone(evening: Evening, engineer: Visitor) -> None:
    page = engineer.do(
        engineer.get("/desk/mix/ears"), "ask", {"source": "drums", "change": "+3", "musician": "drummer"}
    )

    (request,) = evening.show.open_requests.values()
    assert (request.musician, request.key.source, request.amount) == ("drummer", "drums", 30)
    assert page.path == "/desk"
    assert "asked once by Cy" in page.place("row-ears-drums-level")


def test_the_only_musician_of_a_mix_need_not_be_chosen(evening: Evening, engineer: Visitor) -> None:
    engineer.do(engineer.get(PAGE), "ask", {"source": "", "change": f"{MINUS}1,5"})

    assert evening.asked() == [("front", None, "level", -15)]
    assert [one.musician for one in evening.show.open_requests.values()] == ["singer"]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ("3", "Type the change with its sign, like +4 or -1.5, or @ and the level read off, like @ -12."),
        ("@ -3", "Type the change with its sign, like +3."),
        ("+13", "One request can change at most 12 dB."),
        ("0", "A change of nothing is no change."),
    ],
)
def test_asking_for_somebody_in_an_unreadable_way_is_refused(
    evening: Evening, engineer: Visitor, change: str, sentence: str
) -> None:
    page = engineer.do(engineer.get(PAGE), "ask", {"source": "voice", "change": change})

    assert (page.path, page.notes) == (PAGE, [sentence])
    assert evening.asked() == []
