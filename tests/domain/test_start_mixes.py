"""Where mixes start: everything low, the own source forward."""

import pytest

from monreq.domain import stage_commands as s
from monreq.domain.carry_commands import CarryLevels
from monreq.domain.setup import Output, Setting
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from monreq.domain.start_mixes import FORWARD_TENTHS, own_forward, own_sources
from tests.support.stage import Stage


@pytest.fixture
def stage() -> Stage:
    stage = Stage()
    for source, name in {
        "kick": "Kick",
        "bass": "Bass",
        "lead": "Lead voice",
        "gvoice": "Guitar voice",
    }.items():
        stage.source(source, name)
    for musician, name in {"ada": "Bass", "bo": "Lead voice", "cy": "Drums"}.items():
        stage.musician(musician, name)
    stage.wedge("m1", "ada", name="Bass")
    stage.in_ears("m2", "bo", name="Lead voice")
    stage.wedge("m3", "cy", name="Drums")
    return stage


@pytest.mark.parametrize(("mix", "own"), [("m1", ("bass",)), ("m2", ("lead",)), ("m3", ())])
def test_a_source_named_like_the_chair_is_the_own_one(stage: Stage, mix: str, own: tuple[str, ...]) -> None:
    assert own_sources(stage.show, mix) == own


def test_a_source_that_stands_beside_the_musician_goes_before_its_name(stage: Stage) -> None:
    stage.do(s.PlaceOnStage((("cy", Standing(Spot(0, 400))),), (("kick", SourcePlace(beside="cy")),)))

    assert own_sources(stage.show, "m3") == ("kick",)


@pytest.mark.parametrize(
    ("mix", "source", "output"), [("m1", "bass", Output.WEDGE), ("m2", "lead", Output.IN_EAR_PAIR)]
)
def test_the_own_source_starts_over_the_rest_and_below_the_top_of_the_scale(
    stage: Stage, mix: str, source: str, output: Output
) -> None:
    rest = stage.show.position(mix, "kick").setting.level_tenths

    settings = own_forward(stage.show, mix)

    assert stage.show.mix(mix).output is output
    assert settings == {source: Setting(rest + FORWARD_TENTHS)}
    assert settings[source].level_tenths < 0


def test_what_is_planned_can_be_carried_into_the_show_and_is_confirmed_by_nobody(stage: Stage) -> None:
    settings = own_forward(stage.show, "m1")

    stage.do(CarryLevels("m1", tuple(settings.items())))

    position = stage.show.position("m1", "bass")
    assert position.setting == settings["bass"]
    assert position.confirmed_at_ms is None
