"""The desk: what is read there of the queue, of the mixes and of the mark."""

import pytest

from monreq.domain import commands as c
from monreq.domain.presence import Desk, Snapshot
from monreq.domain.requests import Call
from monreq.domain.setup import Mix, Output, Source, SourceKind
from monreq.web.desk_view import desk_places
from monreq.web.health_view import health_places
from monreq.web.places import PlaceRenderer
from monreq.web.presence_view import presence_places
from tests.support.desk_page import DRUMS, VOICE, cells, press, rows
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Visitor


def test_empty_queue_says_that_nothing_waits(engineer: Visitor) -> None:
    page = engineer.get("/desk")

    assert page.place("queue") == "Nothing waits."
    assert "0 rows wait" in page.place("status")


def test_row_has_the_sum_who_asked_and_the_level_to_set(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    evening.ask("front", "voice", 30)
    evening.ask("front", "voice", -45)

    row = engineer.get("/desk").place(VOICE)

    assert "+1.5" in row
    assert f"asked 3 times by Ada: +3 +3 {MINUS}4.5" in row
    assert f"{MINUS}4 to {MINUS}2.5" in row
    assert "done +1.5" in row


def test_row_names_everybody_who_asked(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 10, "bass")
    evening.ask("ears", "drums", 10, "drummer")

    row = engineer.get("/desk").place(DRUMS)

    assert "asked 2 times by Bo and Cy: +1 +1" in row
    assert f"{MINUS}11 to {MINUS}9" in row


def test_row_says_what_was_cut_and_why(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 60)

    row = engineer.get("/desk").place(VOICE)

    assert "+6" in row
    assert "feedback margin not measured: at most +3" in row
    assert f"{MINUS}4 to {MINUS}1" in row
    assert "done +3" in row


def test_row_whose_musicians_disagree_has_no_quick_answer(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")
    evening.ask("ears", "drums", -20, "drummer")

    page = engineer.get("/desk")

    assert f"they disagree: Bo +3, Cy {MINUS}2" in page.place(DRUMS)
    assert f"stay at {MINUS}11" in page.place(DRUMS)
    assert not [one for one in page.markup.buttons() if one.value == f"done:{DRUMS}"]


def test_rows_stand_under_the_head_of_their_mix(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")

    head = next(
        one
        for one in engineer.get("/desk").markup.root.one(id="queue").every("li")
        if one.attrs["id"].startswith("head-ears-")
    )

    assert "Rhythm" in head.text
    assert "shared in-ear pair" in head.text
    assert "aux 3 and 4, back" in head.text


def test_every_mix_is_in_view_with_its_drift_and_what_waits(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", None, -20))
    evening.ask("ears", "drums", 30, "bass")
    evening.ask("ears", "voice", 30, "bass")
    evening.do(c.CallDesk("side", None, Call.TALK))

    page = engineer.get("/desk")

    assert cells(page, "front") == ("+4 dB", "0")
    assert cells(page, "ears") == ("0 dB", "2")
    assert cells(page, "side") == ("0 dB", "call")


@pytest.mark.parametrize(
    ("often", "figures"), [(11, " ".join(["+1"] * 11) + " +3"), (12, "12 of +1, 1 of +3")]
)
def test_very_many_figures_are_counted(evening: Evening, engineer: Visitor, often: int, figures: str) -> None:
    for _ in range(often):
        evening.ask("front", "voice", 10)
    evening.ask("front", "voice", 30)

    row = engineer.get("/desk").place(VOICE)

    assert f"asked {often + 1} times by Ada: {figures}" in row


def test_urgent_calls_stand_first_in_their_order(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    evening.do(c.CallDesk("side", None, Call.TALK))
    evening.do(c.CallDesk("ears", "bass", Call.NOTHING))
    evening.do(c.CallDesk("front", None, Call.HURTS))

    page = engineer.get("/desk")

    assert rows(page) == ["row-front--call", "row-ears--call", "row-side--call", VOICE]
    assert "Ada, centre, aux 1: HURTS" in page.place("row-front--call")
    assert f"done: output now {MINUS}12" in page.place("row-front--call")
    assert "Bo, back, aux 3 and 4: NOTHING" in page.place("row-ears--call")


@pytest.mark.security
def test_names_and_words_are_shown_as_they_were_typed(evening: Evening, engineer: Visitor) -> None:
    nasty = "<img src=x onerror=alert(1)>"
    evening.do(c.PutSource(Source("voice", nasty, SourceKind.OPEN_MIC)))
    evening.do(c.AskAboutSound("front", None, "voice", nasty))
    evening.do(c.RenameShow(nasty))

    pages = [engineer.get("/desk"), engineer.get("/desk/mix/front"), engineer.get("/desk/prepare")]

    assert all(nasty in page.text for page in pages[:2])
    assert not any("<img" in page.source for page in pages)


def test_the_mark_begins_drift_anew(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", None, -20))

    page = press(engineer, engineer.get("/desk"), "mark:")

    assert cells(page, "front") == ("0 dB", "0")
    assert evening.show.mark == evening.show.levels


def test_a_mix_that_is_switched_off_is_silent_though_the_mark_was_set(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(c.CorrectLevel("front", None, is_on=False))

    page = engineer.get("/desk")

    assert cells(page, "front") == ("silent", "0")


def test_a_mix_added_since_the_mark_has_none(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.PutMix(Mix("late", "Late", Output.WEDGE, ())))

    page = engineer.get("/desk")

    assert cells(page, "late") == ("no mark", "0")


def test_an_empty_show_is_prepared_first(evening: Evening, engineer: Visitor) -> None:
    for mix in list(evening.show.mixes):
        evening.do(c.RemoveMix(mix))

    answer = engineer.get("/desk")

    assert (answer.status, answer.headers["Location"]) == (303, "/desk/prepare")


def test_places_give_a_page_everything_again(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)

    again = engineer.get("/desk/places").response.json

    assert again is not None
    assert again["revision"] == evening.show.revision
    drawn = PlaceRenderer(evening.monreq.flask.jinja_env).everything(
        {**desk_places(evening.show), **presence_places(evening.show, Snapshot()), **health_places(())}
    )
    assert again["fragments"] == drawn
    assert f'id="{VOICE}"' in again["fragments"]["queue"]


def test_another_desk_is_said_to_be_on_its_row_by_source_and_mix(evening: Evening) -> None:
    evening.ask("front", "voice", 30)
    evening.ask("front", None, 10)
    desks = (Desk("page1", "House", VOICE), Desk("page2", "Stage side", "row-front--level"))

    places = presence_places(evening.show, Snapshot(desks=desks))
    drawn = PlaceRenderer(evening.monreq.flask.jinja_env).everything({"desks": places["desks"]})

    assert "is on Voice, Front wedge" in drawn["desks"]
    assert "is on whole mix, Front wedge" in drawn["desks"]
