"""Levels typed in at the desk, as start levels or as corrections."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import LevelCorrected, SendPut
from monreq.domain.setup import Mix, Output, Setting
from tests.support.evening import SHOW, Evening
from tests.support.visitor import MINUS, Page, Visitor

CORRECT = "enter as corrected from the desk"
PAGE = "/desk/mix/front"


def last_kind(evening: Evening) -> type[object]:
    (recorded,) = evening.monreq.shows.about(SHOW, ["mix:front"], after=evening.show.revision - 1)
    return type(recorded.event)


def typed_fields(page: Page) -> dict[str, str]:
    return {name: values[0] for name, values in page.markup.fields(page.button(CORRECT).form).items()}


def test_page_shows_where_everything_stands(engineer: Visitor) -> None:
    fields = typed_fields(engineer.get("/desk/mix/ears"))

    assert fields["output-level"] == f"{MINUS}6"
    assert (fields["voice-level"], fields["voice-pan"], fields["voice-on"]) == (f"{MINUS}4", "middle", "on")
    assert "output-pan" not in fields
    assert "harp-level" not in fields


def test_entering_what_is_shown_changes_nothing(evening: Evening, engineer: Visitor) -> None:
    before = evening.show

    page = engineer.do(engineer.get("/desk/mix/ears"), CORRECT)

    assert page.notes == ["Nothing was changed."]
    assert evening.show == before


@pytest.mark.parametrize("typed", [f"{MINUS}12,5", "-12.5", "@ -12.5", " -12.5 dB"])
def test_after_the_mark_a_level_is_corrected_from_the_desk(
    evening: Evening, engineer: Visitor, typed: str
) -> None:
    page = engineer.do(engineer.get(PAGE), CORRECT, {"voice-level": typed})

    assert page.notes == ["1 entered."]
    assert evening.level("front", "voice") == -125
    assert last_kind(evening) is LevelCorrected
    assert f"Voice corrected from the desk {MINUS}4 to {MINUS}12.5 desk" in page.text


def test_before_the_mark_a_level_is_a_start_level(evening: Evening, engineer: Visitor) -> None:
    engineer.scan(_unmarked(evening))

    page = engineer.do(engineer.get("/desk/mix/solo"), "enter these start levels", {"output-level": "-3"})

    assert page.notes == ["1 entered."]
    assert evening.monreq.shows.state("show2").levels["solo"].output.setting == Setting(-30)
    recorded = evening.monreq.shows.about("show2", ["mix:solo"])
    assert isinstance(recorded[-1].event, SendPut)


def _unmarked(evening: Evening) -> str:
    shows = evening.monreq.shows
    shows.open("show2", c.OpenShow("Tomorrow"))
    show = shows.submit("show2", c.PutMix(Mix("solo", "Solo", Output.WEDGE, ()))).show
    return evening.monreq.link(show, None, "")


def test_pan_and_in_and_out_are_entered_together(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/mix/ears")
    fields = page.sent_by(page.button(CORRECT), {"voice-pan": "left 40"})
    del fields["drums-on"]

    answer = engineer.post(page.target(page.button(CORRECT).form), fields)

    assert engineer.get(answer.headers["Location"]).notes == ["2 entered."]
    assert evening.show.position("ears", "voice").setting == Setting(-40, -40)
    assert evening.show.position("ears", "drums").setting == Setting(-110, is_on=False)


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("voice-level", "loud", "Voice: Type the level as it stands on the desk, like -12 or -4.5."),
        ("voice-level", "", "Voice: Type the level as it stands on the desk, like -12 or -4.5."),
        ("output-level", "-1.25", "Whole mix (output): Levels and changes are whole tenths of a dB."),
        ("voice-pan", "middling", "Voice: Type the pan as middle, left 20 or right 20."),
        ("voice-level", "+10.1", "That is outside the range of the desk."),
        ("voice-pan", "right 101", "Pan goes from -1, left, to +1, right."),
    ],
)
def test_one_bad_figure_refuses_the_whole_form(
    evening: Evening, engineer: Visitor, field: str, typed: str, sentence: str
) -> None:
    before = evening.show

    page = engineer.do(engineer.get("/desk/mix/ears"), CORRECT, {"drums-level": "-9", field: typed})

    assert page.notes == [sentence]
    assert evening.show == before


def test_what_moved_since_the_page_was_drawn_is_not_put_back(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/mix/ears")
    evening.do(c.CorrectLevel("ears", "drums", -50))
    evening.do(c.CorrectLevel("ears", "voice", None, 30))
    evening.do(c.PutSend("ears", "harp", Setting(-200)))

    engineer.do(page, CORRECT, {"voice-level": "-7"})

    assert evening.show.position("ears", "drums").setting == Setting(-50)
    assert evening.show.position("ears", "voice").setting == Setting(-70, 30)
    assert evening.show.position("ears", "harp").setting == Setting(-200, is_on=True)


def test_the_same_form_sent_twice_is_entered_once(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PAGE)

    answers = [engineer.press(page, CORRECT, {"voice-level": "-7"}) for _ in range(2)]

    recorded = evening.monreq.shows.about(SHOW, ["mix:front"])
    assert [one.status for one in answers] == [303, 303]
    assert evening.level("front", "voice") == -70
    assert sum(isinstance(one.event, LevelCorrected) for one in recorded) == 1


@pytest.mark.parametrize("seen", ["", "0", "x", "-1", "999999999", "1" * 30])
def test_a_form_of_no_known_page_is_refused(evening: Evening, engineer: Visitor, seen: str) -> None:
    before = evening.show
    page = engineer.get(PAGE)

    answer = engineer.press(page, CORRECT, {"voice-level": "-7", "seen": seen})

    assert answer.status in (303, 404, 422)
    assert evening.show == before


def test_a_source_is_put_on_the_list_off(evening: Evening, engineer: Visitor) -> None:
    page = engineer.do(engineer.get(PAGE), "put Glass harp on it")

    assert evening.show.position("front", "harp").setting.is_on is False
    assert "harp-level" in typed_fields(page)


@pytest.mark.parametrize(("mix", "is_warned"), [("front", True), ("ears", False)])
def test_click_is_put_into_a_wedge_only_behind_a_caution(
    evening: Evening, engineer: Visitor, mix: str, *, is_warned: bool
) -> None:
    evening.do(c.RemoveSend("ears", "click"))

    page = engineer.get(f"/desk/mix/{mix}")

    assert "put Click on it" in page.buttons()
    assert ("click and audience mics leak into every open mic" in page.text) is is_warned


def test_what_was_taken_out_since_the_page_was_drawn_is_not_put_in_by_another_figure(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get("/desk/mix/ears")
    evening.do(c.CorrectLevel("ears", "voice", is_on=False))

    engineer.do(page, CORRECT, {"voice-level": "-7"})

    assert evening.show.position("ears", "voice").setting == Setting(-70, is_on=False)


def test_a_form_of_a_page_from_before_its_mix_was_put_is_refused(evening: Evening, engineer: Visitor) -> None:
    early = evening.show.revision
    evening.do(c.PutMix(Mix("late", "Late", Output.WEDGE, ())))
    page = engineer.get("/desk/mix/late")

    after = engineer.do(page, CORRECT, {"output-level": "-7", "seen": str(early)})

    assert after.notes == ["There is no such mix in this show."]
    assert evening.level("late", None) == 0
