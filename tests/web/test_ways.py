"""The ways that a row offers to meet a request for more, in words, and which of them comes first."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

MINUS = "\N{MINUS SIGN}"
VOICE = "row-front-voice-level"
DRUMS = "row-ears-drums-level"
WAYS = {"done", "same_loudness", "rest_down"}


def offers(page: Page, place: str) -> list[str]:
    """What the row's keys record, the first under Enter; nothing of figures, setting aside and reasons."""
    row = page.markup.root.one(id=place)
    ways = [one for one in row.every("button") if one.attrs["value"].partition(":")[0] in WAYS]
    return [one.text for one in ways]


def press(engineer: Visitor, what: str, place: str) -> Page:
    page = engineer.get("/desk")
    return engineer.do(page, page.button_with(f"{what}:{place}"))


def test_upward_row_offers_the_same_loudness_as_two_moves_and_the_rest_down(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("ears", "drums", 30, "bass")

    page = engineer.get("/desk")

    assert f"{MINUS}11 to {MINUS}8" in page.place(DRUMS)
    assert offers(page, DRUMS) == [
        "enter done +3",
        f"= same loudness: output {MINUS}0.6 (to {MINUS}6.6), then +3",
        f"r rest down {MINUS}3 instead",
    ]


def test_same_loudness_is_recorded_by_one_key(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")

    press(engineer, "same_loudness", DRUMS)

    assert (evening.level("ears", "drums"), evening.level("ears", None)) == (-80, -66)


def test_same_loudness_is_not_offered_where_the_output_would_stay(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(c.CorrectLevel("ears", "drums", -400))
    evening.ask("ears", "drums", 30, "bass")

    assert offers(engineer.get("/desk"), DRUMS) == ["enter done +3", f"r rest down {MINUS}3 instead"]


def test_same_loudness_comes_first_once_a_mix_drifted_over_three_db(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(c.CorrectLevel("ears", None, -29))
    evening.ask("ears", "drums", 30, "bass")

    first, *others = offers(engineer.get("/desk"), DRUMS)

    assert first == f"enter same loudness: output {MINUS}0.6 (to {MINUS}3.5), then +3"
    assert others == ["d done +3", f"r rest down {MINUS}3 instead"]


def test_rest_down_comes_first_at_the_reserve_and_is_recorded_by_one_key(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(m.ReadMargin("front", "voice", 30, 3))
    evening.ask("front", "voice", 30)

    page = engineer.get("/desk")
    press(engineer, "rest_down", VOICE)

    assert "margin 3 dB, reserve 3: no raise" in page.place(VOICE)
    assert offers(page, VOICE) == [f"enter rest down {MINUS}3 instead"]
    assert (evening.level("front", "voice"), evening.level("front", "drums")) == (-40, -140)


def test_source_asked_up_is_told_with_its_share_and_what_to_ask_first(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("front", "voice", 10)
    evening.ask("ears", "drums", 10, "bass")

    page = engineer.get("/desk")

    assert "7 dB over the rest together. First: playing now? polarity? mic close?" in page.place(VOICE)
    assert "7 dB under the rest together. First: playing now? polarity? mic close?" in page.place(DRUMS)


@pytest.mark.parametrize("mix", ["front", "ears"])
def test_shares_of_a_mix_stand_with_what_they_rest_on(engineer: Visitor, mix: str) -> None:
    text = engineer.get(f"/desk/mix/{mix}").text

    assert text.count("if channels are gain-staged alike. It says nothing about masking") == 1


def test_figures_beside_the_queue_stand_with_what_they_rest_on(engineer: Visitor) -> None:
    text = engineer.get("/desk").text

    assert (
        text.count("if channels are gain-staged alike and playing and packs are unchanged. Estimates.") == 1
    )
