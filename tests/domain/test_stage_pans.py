"""Pans from the stage plan: on the musician's own side, central where marked, and only where places are known."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.refusals import UnknownMix
from monreq.domain.setup import Mix, Output
from monreq.domain.stage_pans import pans_from_stage
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    """The bass player alone in the ears, facing the audience at the back; a guitar at their left hand."""
    stage = small_stage()
    stage.do(c.PutMix(Mix("ears", "Ears", Output.IN_EAR_PAIR, ("bass",))))
    place(stage, bass=(0, 300))
    put(stage, guitar=SourcePlace(Spot(200, 300)), drums=SourcePlace(Spot(-200, 300)))
    return stage


def place(stage: Stage, **standings: tuple[int, ...]) -> None:
    placed = tuple((one, Standing(Spot(*where[:2]), *where[2:])) for one, where in standings.items())
    stage.do(s.PlaceOnStage(placed))


def put(stage: Stage, **places: SourcePlace) -> None:
    stage.do(s.PlaceOnStage(sources=tuple(places.items())))


def test_a_source_at_the_left_hand_is_panned_left_by_the_starting_width(stage: Stage) -> None:
    assert pans_from_stage(stage.show, "ears") == {"guitar": -60, "drums": 60, "talk": 0, "click": 0}


def test_who_turns_round_hears_the_sides_the_other_way_round(stage: Stage) -> None:
    place(stage, bass=(0, 300, 180))

    pans = pans_from_stage(stage.show, "ears")

    assert (pans["guitar"], pans["drums"]) == (60, -60)


def test_a_source_that_is_central_stays_in_the_middle_wherever_it_stands(stage: Stage) -> None:
    put(stage, drums=SourcePlace(Spot(-200, 300), is_central=True))

    assert pans_from_stage(stage.show, "ears")["drums"] == 0


def test_a_kick_and_a_bass_stay_in_the_middle_unless_somebody_said_otherwise(stage: Stage) -> None:
    stage.source("kick", name="Kick in")
    stage.source("bass", name="Kontrabass")
    unplaced = pans_from_stage(stage.show, "ears")

    put(stage, kick=SourcePlace(Spot(-200, 300), is_central=False))

    pans = pans_from_stage(stage.show, "ears")
    assert (unplaced["kick"], unplaced["bass"]) == (0, 0)
    assert (pans["kick"], pans["bass"]) == (60, 0)


def test_the_own_source_is_in_the_middle_and_beside_somebody_else_at_their_side(stage: Stage) -> None:
    place(stage, singer=(-100, 200))
    put(stage, voice=SourcePlace(beside="bass"))
    own = pans_from_stage(stage.show, "ears")["voice"]

    put(stage, voice=SourcePlace(beside="singer"))

    assert (own, pans_from_stage(stage.show, "ears")["voice"]) == (0, 42)  # 0.6 sin 45 degrees


def test_a_source_of_nowhere_has_no_advice(stage: Stage) -> None:
    put(stage, guitar=SourcePlace(), drums=SourcePlace(beside="drummer"))

    assert pans_from_stage(stage.show, "ears") == {"talk": 0, "click": 0}


def test_a_stereo_source_keeps_its_balance(stage: Stage) -> None:
    stage.source("guitar", is_stereo=True)

    assert "guitar" not in pans_from_stage(stage.show, "ears")


def test_those_who_share_a_mix_have_the_mean_of_their_pans(stage: Stage) -> None:
    stage.do(c.PutMix(Mix("ears", "Ears", Output.IN_EAR_PAIR, ("bass", "drummer"))))
    unknown = pans_from_stage(stage.show, "ears")

    place(stage, drummer=(400, 300))

    assert unknown == {}
    assert pans_from_stage(stage.show, "ears") == {"guitar": 0, "drums": 60, "talk": 0, "click": 0}


@pytest.mark.parametrize(
    "mix",
    [
        Mix("ears", "Ears", Output.IN_EAR_PAIR, ("bass",), is_fed_mono=True),
        Mix("ears", "Ears", Output.WEDGE, ("bass",)),
        Mix("ears", "Ears", Output.IN_EAR_PAIR, ()),
    ],
    ids=["fed mono", "wedge", "nobody"],
)
def test_without_left_and_right_or_anybody_there_is_no_advice(stage: Stage, mix: Mix) -> None:
    stage.do(c.PutMix(mix))

    assert pans_from_stage(stage.show, "ears") == {}


def test_a_mix_that_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        pans_from_stage(stage.show, "fill")
