"""The stage plan in numbers: typed on Prepare, and offered as pans that nobody enters but the engineer."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.setup import Setting, Source, SourceKind
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

PREPARE = "/desk/prepare"
EARS = "/desk/mix/ears"
FILL = "fill in the pans of the stage plan"


def save(visitor: Visitor, page: Page | None = None, /, **typed: str) -> Page:
    page = page or visitor.get(PREPARE)
    return visitor.do(page, "save the stage", {name.replace("_", "-"): text for name, text in typed.items()})


def stand(evening: Evening, **spots: tuple[int, int]) -> None:
    evening.do(s.PlaceOnStage(tuple((one, Standing(Spot(*spot))) for one, spot in spots.items())))


def pans(page: Page) -> dict[str, str]:
    fields = page.markup.fields(page.markup.root.one("form", id="levels"))
    return {name.removesuffix("-pan"): value for name, (value,) in fields.items() if name.endswith("-pan")}


# Prepare.


def test_places_are_typed_and_shown_again(evening: Evening, engineer: Visitor) -> None:
    page = save(
        engineer,
        musician_singer_x="-0.5",
        musician_singer_y="1,25 m",
        musician_singer_facing="90",
        source_voice_beside="singer",
        source_drums_x="0",
        source_drums_y="4",
        source_drums_central="y",
    )

    assert page.notes == []
    assert evening.show.standings == {"singer": Standing(Spot(-50, 125), 90)}
    assert evening.show.source_places == {
        "voice": SourcePlace(beside="singer"),
        "drums": SourcePlace(Spot(0, 400), is_central=True),
    }
    fields = page.markup.fields(page.button("save the stage").form)
    assert [fields[f"musician-singer-{one}"] for one in ("x", "y", "facing")] == [
        ["\N{MINUS SIGN}0.5"],
        ["1.25"],
        ["90"],
    ]
    assert (fields["source-voice-beside"], fields["source-drums-central"]) == (["singer"], ["y"])


def test_a_stage_saved_as_it_stands_changes_nothing(evening: Evening, engineer: Visitor) -> None:
    before = evening.show

    page = save(engineer)

    assert page.notes == []
    assert evening.show == before


def test_what_another_desk_placed_meanwhile_stays(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)
    stand(evening, bass=(100, 300))

    save(engineer, page, musician_singer_x="0", musician_singer_y="1")

    assert evening.show.standings == {"bass": Standing(Spot(100, 300)), "singer": Standing(Spot(0, 100))}


def test_emptied_fields_take_a_musician_off_the_plan(evening: Evening, engineer: Visitor) -> None:
    stand(evening, singer=(0, 100))

    save(engineer, musician_singer_x="", musician_singer_y=" ")

    assert evening.show.standings == {}


def test_a_click_is_central_until_it_is_unticked(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)
    fields = dict(page.sent_by(page.button("save the stage")))
    del fields["source-click-central"]

    engineer.post("/desk/prepare/stage", fields)

    assert evening.show.source_places == {"click": SourcePlace()}


def test_a_kick_that_is_put_somewhere_stays_central_as_ticked(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.PutSource(Source("kick", "Kick", SourceKind.OPEN_MIC)))

    save(engineer, source_kick_x="-2", source_kick_y="3")

    assert evening.show.source_places == {"kick": SourcePlace(Spot(-200, 300), is_central=True)}


@pytest.mark.parametrize(
    ("field", "text", "sentence"),
    [
        ("musician_singer_x", "1", "Ada: a place has two figures: type both, or neither."),
        ("source_voice_y", "1", "Voice: a place has two figures: type both, or neither."),
        ("musician_singer_x", "left", "Ada: Type metres like 1.5 or -2, and degrees like 90."),
        ("source_voice_beside", "nobody", "There is no such musician in this show."),
        ("seen", "999999", "The show has not come that far."),
    ],
)
def test_a_place_that_cannot_be_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, field: str, text: str, sentence: str
) -> None:
    before = evening.show

    page = save(engineer, **{field: text})

    assert page.notes == [sentence]
    assert evening.show == before


@pytest.mark.parametrize(
    ("x", "facing", "sentence"),
    [
        ("1001", "0", "A place on stage is two figures in metres, each at most 1000 from the middle."),
        ("1", "361", "A musician faces somewhere from 0 to 360 degrees: 0 is towards the audience."),
        ("1", "north", "Ada: Type metres like 1.5 or -2, and degrees like 90."),
    ],
)
def test_a_standing_that_cannot_be_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, x: str, facing: str, sentence: str
) -> None:
    page = save(engineer, musician_singer_x=x, musician_singer_y="1", musician_singer_facing=facing)

    assert page.notes == [sentence]
    assert evening.show.standings == {}


# A mix's page.


@pytest.fixture
def placed(evening: Evening) -> Evening:
    """Bass and drummer side by side, a guitar at their left hands, the drums at their right."""
    stand(evening, bass=(0, 300), drummer=(0, 300))
    places = (("guitar", SourcePlace(Spot(200, 300))), ("drums", SourcePlace(Spot(-200, 300))))
    evening.do(s.PlaceOnStage(sources=places))
    return evening


def test_pans_of_the_stage_plan_stand_beside_those_that_are(placed: Evening, engineer: Visitor) -> None:
    page = engineer.get(EARS)

    assert pans(page) == dict.fromkeys(("voice", "drums", "guitar", "click", "talk"), "middle")
    rows = {one.one("th").text: one.text for one in page.markup.root.every("tr") if "left 60" in one.text}
    assert list(rows) == ["Guitar"]
    assert "Nothing is entered by this." in page.text
    assert placed.show.position("ears", "guitar").setting.pan_percent == 0


def test_the_button_fills_fields_and_enters_nothing(placed: Evening, engineer: Visitor) -> None:
    before = placed.show
    form = engineer.get(EARS).button(FILL).form

    page = engineer.get(f"{form.attrs['action']}?pans=stage")

    assert pans(page) == {
        "voice": "middle",
        "drums": "right 60",
        "guitar": "left 60",
        "click": "middle",
        "talk": "middle",
    }
    assert "nothing is entered yet" in page.text
    assert placed.show == before


def test_filled_in_pans_are_entered_by_the_engineer_and_nothing_else(
    placed: Evening, engineer: Visitor
) -> None:
    before = {source: placed.show.position("ears", source) for source in ("voice", "click", "talk")}
    level = placed.level("ears", "guitar")
    page = engineer.get(f"{EARS}?pans=stage")

    after = engineer.do(page, "enter as corrected from the desk")

    assert after.notes == ["2 entered."]
    assert placed.show.position("ears", "guitar").setting == Setting(level, -60)
    assert placed.show.position("ears", "drums").setting.pan_percent == 60
    assert {source: placed.show.position("ears", source) for source in before} == before


def test_without_places_the_page_says_where_to_enter_them(engineer: Visitor) -> None:
    page = engineer.get(f"{EARS}?pans=stage")

    assert FILL not in page.buttons()
    assert "No pans from the stage plan" in page.text
    assert set(pans(page).values()) == {"middle"}


def test_a_stereo_source_keeps_its_balance(placed: Evening, engineer: Visitor) -> None:
    placed.do(c.PutSource(Source("guitar", "Guitar", SourceKind.DIRECT, is_stereo=True)))

    assert pans(engineer.get(f"{EARS}?pans=stage"))["guitar"] == "middle"


def test_a_wedge_has_no_pans(placed: Evening, engineer: Visitor) -> None:
    stand(placed, singer=(0, 100))

    page = engineer.get("/desk/mix/front?pans=stage")

    assert "stage plan" not in page.text
    assert pans(page) == {}
