"""What is typed at the desk and makes little sense is asked about once, and recorded as it was once it is confirmed."""

import json

import pytest

from monreq.domain import commands as c
from monreq.domain.band import Band, KeptMix
from monreq.domain.band_commands import ChooseBand
from monreq.domain.requests import RequestState
from monreq.domain.setup import Output, Setting
from tests.support.desk_page import VOICE, press, rows, states
from tests.support.evening import Evening
from tests.support.visitor import JSON, MINUS, Page, Visitor

AGAINST = f"Voice in Front wedge: asked {MINUS}3, typed +2. The same again confirms."
CORRECT = "enter as corrected from the desk"
USUAL = {"voice": -40, "drums": -110}


def figure(page: Page, typed: str, verb: str = "figure") -> dict[str, str]:
    """What a script sends of a figure typed in the voice's row."""
    fields = dict(page.sent_by(page.button_with(f"{verb}:{VOICE}"), {f"{VOICE}-figure": typed}))
    return {name: value if isinstance(value, str) else value[0] for name, value in fields.items()}


@pytest.fixture
def shows_before(evening: Evening) -> None:
    """Five shows in which the singer's wedge was kept as it stands."""
    kept = [
        KeptMix(
            f"k{number}",
            "front",
            "Evening",
            Setting(-60),
            {source: Setting(level) for source, level in {**USUAL, "guitar": -160, "talk": -200}.items()},
            number,
            show=f"before{number}",
            heard_as=Output.WEDGE,
        )
        for number in range(5)
    ]
    evening.monreq.bands.add(Band("band1", "The Test Matches", kept=tuple(kept)))
    evening.do(ChooseBand("band1"))
    for source in ("drums", "guitar"):
        evening.do(c.CorrectLevel("front", source, evening.level("front", source), is_on=True))


def test_a_figure_against_what_was_asked_is_asked_about_and_nothing_recorded(
    evening: Evening, engineer: Visitor
) -> None:
    request = evening.ask("front", "voice", -30)
    before = evening.show

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure="+2")

    assert page.status == 422
    assert page.notes == [AGAINST]
    assert evening.show == before
    assert states(evening, request) == [RequestState.WAITING]


def test_the_same_key_again_confirms_it_as_it_was_typed(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", -30)
    asked = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure="+2")
    (field,) = (one for one in asked.markup.root.every("input") if one.attrs.get("autofocus") is not None)

    page = engineer.do(asked, "confirm")

    assert field.attrs["value"] == "+2"
    assert page.notes == []
    assert rows(page) == []
    assert evening.level("front", "voice") == -20
    assert states(evening, request) == [RequestState.DONE_IN_PART]


def test_another_text_is_looked_at_anew(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", -30)
    asked = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure="+2")

    again = engineer.do(asked, "confirm", {f"{VOICE}-figure": "+3"})
    taken = engineer.do(again, "confirm", {f"{VOICE}-figure": "-3"})

    assert again.notes == [AGAINST.replace("+2", "+3")]
    assert taken.notes == []
    assert evening.level("front", "voice") == -70


def test_a_script_is_asked_and_confirms_with_a_submission_of_its_own(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("front", "voice", -30)
    fields = figure(engineer.get("/desk"), "+2")

    asked = engineer.post("/desk", {**fields, "client_id": "first"}, **JSON)
    said = json.loads(asked.response.data)
    confirming = {**fields, "client_id": "second", "confirms": said["confirms"]}
    answers = [engineer.post("/desk", confirming, **JSON) for _ in range(2)]

    assert (asked.status, said["error"], said["message"]) == (422, "makes_little_sense", AGAINST)
    assert [one.status for one in answers] == [201, 201]
    assert evening.level("front", "voice") == -20
    assert len(evening.show.decisions) == 1


def test_what_was_confirmed_of_one_text_confirms_no_other(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", -30)
    page = engineer.get("/desk")
    said = json.loads(engineer.post("/desk", figure(page, "+2"), **JSON).response.data)

    other = engineer.post("/desk", {**figure(page, "+4"), "confirms": said["confirms"]}, **JSON)

    assert other.status == 422
    assert json.loads(other.response.data)["message"] == AGAINST.replace("+2", "+4")


@pytest.mark.parametrize("confirms", ["x", ":", "a:b", "against_asked.voice", "x" * 20_000])
def test_what_confirms_nothing_is_asked_about_as_if_it_were_the_first(
    evening: Evening, engineer: Visitor, confirms: str
) -> None:
    evening.ask("front", "voice", -30)
    fields = {**figure(engineer.get("/desk"), "+2"), "confirms": confirms}

    assert engineer.post("/desk", fields, **JSON).status == 422
    assert evening.level("front", "voice") == -40


def test_what_was_confirmed_of_some_requests_confirms_nothing_of_others(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("front", "voice", -30)
    said = json.loads(engineer.post("/desk", figure(engineer.get("/desk"), "+2"), **JSON).response.data)
    evening.ask("front", "voice", -10)

    other = engineer.post(
        "/desk", {**figure(engineer.get("/desk"), "+2"), "confirms": said["confirms"]}, **JSON
    )

    assert other.status == 422
    assert json.loads(other.response.data)["message"] == AGAINST.replace("3, t", "4, t")


def test_a_new_doubt_about_the_same_text_is_asked_about(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", -30)
    fields = figure(engineer.get("/desk"), "@ +2")
    said = json.loads(engineer.post("/desk", fields, **JSON).response.data)
    evening.do(c.CorrectLevel("front", "voice", -200))

    again = engineer.post("/desk", {**fields, "confirms": said["confirms"]}, **JSON)

    assert again.status == 422
    assert "+22 dB in one go" in json.loads(again.response.data)["message"]


def test_a_correction_that_jumps_is_asked_about_and_confirmed(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", -30)
    asked = press(engineer, engineer.get("/desk"), f"corrected:{VOICE}", figure="-24")

    page = engineer.do(asked, "confirm")

    assert asked.notes == [f"Voice in Front wedge: {MINUS}20 dB in one go. The same again confirms."]
    assert page.notes == []
    assert evening.level("front", "voice") == -240
    assert states(evening, request) == [RequestState.WAITING]


def test_the_suggested_move_is_never_asked_about(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", -30)
    evening.do(c.CorrectLevel("front", "voice", -300))

    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert page.notes == []
    assert evening.level("front", "voice") == -330


@pytest.mark.usefixtures("shows_before")
def test_a_figure_far_from_the_shows_before_is_said_with_how_far(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 60)

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure="+7")

    assert page.notes == ["Voice in Front wedge: 7 dB above the last 5 shows. The same again confirms."]


@pytest.mark.usefixtures("shows_before")
def test_several_levels_are_asked_about_in_one_line_and_stay_in_their_fields(
    evening: Evening, engineer: Visitor
) -> None:
    typed = {"voice-level": "-15", "drums-level": "-22.5", "output-level": "-7"}

    asked = engineer.do(engineer.get("/desk/mix/front"), CORRECT, typed)
    fields = {name: asked.markup.fields(asked.button(CORRECT).form)[name][0] for name in typed}
    before = [evening.level("front", one) for one in ("voice", "drums", None)]
    page = engineer.do(asked, CORRECT)

    assert asked.notes == [
        f"Voice in Front wedge: {MINUS}11 dB in one go, 5.2 dB below the last 5 shows; "
        f"Drums in Front wedge: {MINUS}11.5 dB in one go, 6 dB below the last 5 shows. The same again confirms."
    ]
    assert fields == typed
    assert before == [-40, -110, -60]
    assert page.notes == ["3 entered."]
    assert [evening.level("front", one) for one in ("voice", "drums", None)] == [-150, -225, -70]


def test_levels_typed_over_once_more_are_looked_at_anew(evening: Evening, engineer: Visitor) -> None:
    asked = engineer.do(engineer.get("/desk/mix/front"), CORRECT, {"voice-level": "-24"})

    again = engineer.do(asked, CORRECT, {"voice-level": "-30"})
    page = engineer.do(again, CORRECT, {"voice-level": "-8"})

    assert [one.notes for one in (asked, again)] == [
        [f"Voice in Front wedge: {MINUS}20 dB in one go. The same again confirms."],
        [f"Voice in Front wedge: {MINUS}26 dB in one go. The same again confirms."],
    ]
    assert page.notes == ["1 entered."]
    assert evening.level("front", "voice") == -80


def test_what_another_desk_moved_meanwhile_is_not_put_back_by_confirming(
    evening: Evening, engineer: Visitor
) -> None:
    asked = engineer.do(engineer.get("/desk/mix/front"), CORRECT, {"voice-level": "-24"})
    evening.do(c.CorrectLevel("front", "drums", -100))

    page = engineer.do(asked, CORRECT)

    assert page.notes == ["1 entered."]
    assert evening.level("front", "drums") == -100


def test_a_show_whose_band_is_gone_is_held_against_none(evening: Evening, engineer: Visitor) -> None:
    evening.do(ChooseBand("gone"))
    evening.ask("front", "voice", 30)

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure="+2")

    assert page.notes == []
    assert evening.level("front", "voice") == -20


def test_a_figure_asked_about_is_asked_in_the_language_of_the_page(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("front", "voice", -30)
    fields = figure(engineer.get("/desk"), "+2")

    said = engineer.post("/desk", fields, **{**JSON, "Accept-Language": "de"})

    assert "typed" not in json.loads(said.response.data)["message"]
