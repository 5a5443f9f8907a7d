"""A musician who is taken out while their phone is open, and lists and forms as long as any band's."""

import pytest

from monreq.domain import commands as c
from monreq.domain.carry_commands import DoTogether
from monreq.domain.setup import Source, SourceKind
from tests.support.evening import Evening
from tests.support.prepare_page import PREPARE
from tests.support.visitor import Visitor


def test_who_was_taken_out_of_a_shared_mix_asks_for_nobody_else(
    evening: Evening, bassist: Visitor, drummer: Visitor
) -> None:
    page = bassist.get("/mix/ears")
    evening.do(c.RemoveMusician("bass"))

    after = bassist.do(page, "more Drums")

    assert after.notes == [
        "You were taken out of this mix at the desk: load this page again and say who you are."
    ]
    assert "You were taken out of this mix at the desk. Say who you are" in after.text
    assert evening.asked() == []
    assert "taken out" not in drummer.get("/mix/ears").text


def test_who_was_taken_out_still_calls_the_desk(evening: Evening, bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")
    evening.do(c.RemoveMusician("bass"))

    bassist.do(page, page.button_with("call-hurts:"))

    assert [kind for _, _, kind, _ in evening.asked()] == ["call"]


def test_who_says_who_they_are_goes_on(evening: Evening, bassist: Visitor) -> None:
    evening.do(c.RemoveMusician("bass"))

    page = bassist.do(bassist.get("/mix/ears/who"), "yes, open my mix")
    bassist.do(page, "more Drums")

    assert evening.asked() == [("ears", "drums", "level", 30)]


def test_a_mix_that_nobody_hears_says_so(evening: Evening, singer: Visitor) -> None:
    evening.do(c.RemoveMusician("singer"))

    page = singer.get("/mix/front")

    assert "Nobody hears this mix now, so nothing can be asked here: ask the engineer." in page.text


def test_two_hundred_sources_are_placed_and_their_levels_entered(evening: Evening, engineer: Visitor) -> None:
    sources = [Source(f"x{number}", f"Source {number}", SourceKind.OPEN_MIC) for number in range(200)]
    evening.do(DoTogether([c.PutSource(one) for one in sources]))

    placed = engineer.do(
        engineer.get(PREPARE), "save the stage", {"source-x199-x": "1", "source-x199-y": "2"}
    )
    entered = engineer.do(
        engineer.get("/desk/mix/ears"), "enter as corrected from the desk", {"x199-level": "-33"}
    )

    spot = evening.show.place_of("x199").spot
    assert (placed.notes, entered.notes) == ([], ["1 entered."])
    assert spot is not None
    assert (spot.x_cm, spot.y_cm) == (100, 200)
    assert evening.level("ears", "x199") == -330


@pytest.mark.parametrize("letter", ["x", "混", "ع"])
def test_two_hundred_long_names_of_any_script_are_pasted_at_once(
    evening: Evening, engineer: Visitor, letter: str
) -> None:
    before = len(evening.show.sources)
    lines = "\n".join(
        f"{letter * 50} {chr(65 + number // 26)}{chr(65 + number % 26)}" for number in range(200)
    )

    page = engineer.do(engineer.get(PREPARE), "add these sources", {"lines": lines})

    assert page.notes == []
    assert len(evening.show.sources) == before + 200


@pytest.mark.security
def test_nobody_but_the_desk_sends_a_list_that_long(evening: Evening, stranger: Visitor) -> None:
    answer = stranger.post(f"{PREPARE}/lists/sources", {"lines": "混" * 30_000})

    assert answer.status == 413
    assert len(evening.show.sources) == 6
