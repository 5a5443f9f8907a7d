"""Margins, open mics and preamps as the desk enters them, and what its pages say of them then."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.requests import Outcome
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

MINUS = "\N{MINUS SIGN}"
FRONT = "/desk/mix/front"


def read(engineer: Visitor, margin: str, open_mics: str = "1") -> Page:
    page = engineer.get(FRONT)
    button = page.button("enter", "/margin")
    return engineer.do(page, button, {"source": "voice", "margin": margin, "open_mics": open_mics})


def margins(page: Page) -> list[str]:
    return [one.text for one in page.markup.root.one(id="margins").every("li")]


def margin_in_view(engineer: Visitor) -> str:
    cells = list(engineer.get("/desk").markup.root.one(id="mix-front").every("td"))
    return cells[1].text


def test_a_margin_that_was_not_read_is_no_figure(engineer: Visitor) -> None:
    assert margins(engineer.get(FRONT)) == [
        "Voice not measured",
        "Drums not measured",
        "Talkback not measured",
    ]


def test_what_to_mind_before_a_reading_stands_beside_the_fields(engineer: Visitor) -> None:
    note = engineer.get(FRONT).markup.root.one(id="margins").one("p", **{"class": "note"})

    assert note.text == (
        "Before a reading: tell the stage. Everybody's ears out and heads away from the wedges; that mic off in all "
        "in-ears. Steps of 1 dB. Stop at the first ring and go back. Limiters stay in and nobody stands near a wedge or "
        "listens on cue at level: the engineer's ears are protected too."
    )


def test_a_reading_stands_with_the_number_of_open_mics(engineer: Visitor) -> None:
    page = read(engineer, "9", "4")

    assert margins(page)[0] == "Voice 9 dB read 9 dB with 4 open"
    assert margin_in_view(engineer) == "9 dB"


def test_a_margin_is_told_rounded_down(evening: Evening, engineer: Visitor) -> None:
    read(engineer, "9", "4")
    evening.do(m.CountOpenMics(5))

    assert margins(engineer.get(FRONT))[0] == "Voice 8 dB read 9 dB with 4 open"
    assert margin_in_view(engineer) == "8 dB"


def test_a_margin_that_is_overdrawn_is_told_with_its_sign(evening: Evening, engineer: Visitor) -> None:
    read(engineer, "2.6", "3")
    evening.do(m.CountOpenMics(6))

    assert margin_in_view(engineer) == f"{MINUS}0.5 dB"


@pytest.mark.parametrize(
    ("margin", "open_mics", "note"),
    [
        ("nan", "1", "Type how far the mic could be raised in dB, like 9 or 7.5."),
        ("-5", "1", "A feedback margin goes from 0 to 40 dB."),
        ("121", "1", "A feedback margin goes from 0 to 40 dB."),
        ("", "1", "Fill in every field; how many mics are open is a whole number, like 4."),
        ("9", "few", "Fill in every field; how many mics are open is a whole number, like 4."),
        ("9", "0", "The number of open mics is a whole number of at least one and at most 1000."),
    ],
)
def test_a_margin_that_cannot_be_is_refused_in_words(
    evening: Evening, engineer: Visitor, margin: str, open_mics: str, note: str
) -> None:
    page = read(engineer, margin, open_mics)

    assert page.notes == [note]
    assert dict(evening.show.readings) == {}


def test_a_preamp_change_puts_a_row_into_every_mix_that_hears_it(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")
    page = engineer.do(page, page.button("plan it"), {"source": "voice", "change": "+4"})

    assert evening.asked() == [("front", "voice", "level", -40), ("ears", "voice", "level", -40)]
    assert page.place("preamp") == (
        "Preamp of Voice +4: lower first, work its 2 compensating rows; then turn the gain. "
        "Mind the house fader, gate and compressor thresholds, recording send. "
        "gain is turned all the same (open: Front wedge, Rhythm) drop the plan"
    )


def test_a_gain_goes_up_once_its_rows_are_done_and_before_that_only_by_a_key_that_says_what_is_open(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get("/desk")
    page = engineer.do(page, page.button("plan it"), {"source": "voice", "change": "+4"})

    page = engineer.do(page, page.button("gain is turned all the same (open: Front wedge, Rhythm)"))
    turned_early = evening.show.gains
    page = engineer.do(page, page.button("plan it"), {"source": "guitar", "change": "+4"})
    waiting = [one for one in evening.show.open_requests.values() if one.key.source == "guitar"]
    for one in waiting:
        evening.do(c.Answer((one.id,), Outcome.DONE))
    page = engineer.get("/desk")
    engineer.do(page, page.button("gain is turned"))

    assert turned_early == {"voice": 40}
    assert [one.key.mix for one in waiting] == ["ears"]
    assert evening.show.gains == {"voice": 40, "guitar": 40}


def test_a_preamp_that_goes_down_is_turned_first(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")
    page = engineer.do(page, page.button("plan it"), {"source": "voice", "change": "-4"})
    before = evening.asked()

    page = engineer.do(page, page.button("gain is turned"))

    assert before == []
    assert evening.asked() == [("front", "voice", "level", 40), ("ears", "voice", "level", 40)]
    assert page.place("preamp").startswith(f"Preamp of Voice {MINUS}4 is done: work its 2 compensating rows.")


def test_open_mics_that_nobody_counted_are_told_beside_the_margins(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(m.ReadMargin("front", "voice", 90, 2))
    before = engineer.get("/desk").place("remarks")

    evening.do(m.CountOpenMics(3))

    assert "Open mics are not counted" in before
    assert "Open mics" not in engineer.get("/desk").place("remarks")


def test_readings_are_stale_for_the_reason_that_was_typed(evening: Evening, engineer: Visitor) -> None:
    page = read(engineer, "9")

    engineer.do(page, "readings are stale", {"because": "wedge moved"})

    assert evening.show.readings["front", "voice"].stale_because == "wedge moved"
