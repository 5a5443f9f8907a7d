"""Groups at the desk: one row that lists each send, answered with one key or a figure for all."""

import pytest

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain import measuring_commands as m
from monreq.domain.groups import Group
from tests.support.desk_page import press
from tests.support.evening import Evening
from tests.support.visitor import Visitor

MINUS = "\N{MINUS SIGN}"
BAND = "row-ears-band-level"


@pytest.fixture(autouse=True)
def band(evening: Evening) -> None:
    evening.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"))))


def test_row_of_a_group_lists_each_send_with_the_level_to_set(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "band", -30, "bass")

    row = engineer.get("/desk").place(BAND)

    assert f"Drums {MINUS}11 to {MINUS}14" in row
    assert f"Guitar {MINUS}16 to {MINUS}19" in row
    assert f"done {MINUS}3 on 2 sends" in row
    assert "stands there, corrected" not in row
    assert "level" not in row


def test_one_key_records_the_move_of_every_send(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "band", -30, "bass")

    page = press(engineer, engineer.get("/desk"), f"done:{BAND}")

    assert (evening.level("ears", "drums"), evening.level("ears", "guitar")) == (-140, -190)
    assert f"Band in Rhythm: done {MINUS}3" in page.place("decisions")


def test_figure_is_the_change_of_all_and_no_level_is_taken(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "band", -30, "bass")

    refused = press(engineer, engineer.get("/desk"), f"figure:{BAND}", figure="@ -12")
    press(engineer, engineer.get("/desk"), f"figure:{BAND}", figure="-2")

    assert "A group has no one level to read off" in refused.text
    assert (evening.level("ears", "drums"), evening.level("ears", "guitar")) == (-130, -180)


def test_caution_names_the_send_that_bounds_the_move(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", "guitar", is_on=True))
    evening.do(m.ReadMargin("front", "drums", 40, 3))
    evening.ask("front", "band", 60)

    assert "Drums: margin 4 dB, reserve 3: at most +1" in engineer.get("/desk").place("row-front-band-level")


def test_group_to_be_taken_out_says_how_many_sends(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.AskForInOrOut("ears", "bass", "band", is_in=False))

    page = press(engineer, engineer.get("/desk"), "done:row-ears-band-in_out")

    assert not evening.show.position("ears", "drums").setting.is_on
    assert "Band in Rhythm: done out" in page.place("decisions")


def test_history_of_the_mix_tells_each_send(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "band", -30, "bass")
    press(engineer, engineer.get("/desk"), f"done:{BAND}")

    assert (
        f"Drums {MINUS}11 to {MINUS}14, Guitar {MINUS}16 to {MINUS}19" in engineer.get("/desk/mix/ears").text
    )
