"""The desk's auxes and who stands where: said, changed, moved, and gone with whom they belong to."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.measuring_events import MarginsMadeStale
from monreq.domain.plan_refusals import NoFacing, NoSuchAux
from monreq.domain.refusals import BadSetting, NoPlaceOnStage, UnknownMix, UnknownMusician, UnknownSource
from monreq.domain.setup import Musician
from monreq.domain.stage_events import DeskDescribed, MusicianPlaced, SourcePlaced
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from tests.support.stage import Stage


def stand(stage: Stage, musician: str, x_cm: int, y_cm: int, facing_deg: int = 0) -> None:
    stage.do(s.PlaceOnStage(((musician, Standing(Spot(x_cm, y_cm), facing_deg)),)))


def put(stage: Stage, source: str, place: SourcePlace) -> None:
    stage.do(s.PlaceOnStage(sources=((source, place),)))


# The desk.


def test_a_desk_is_described_once(stage: Stage) -> None:
    said = stage.do(s.DescribeDesk(DeskFacts(8, taken=(7, 3, 7))))
    again = stage.do(s.DescribeDesk(DeskFacts(8, taken=(3, 7))))

    assert said == (DeskDescribed(DeskFacts(8, taken=(3, 7))),)
    assert again == ()
    assert stage.show.desk == DeskFacts(8, taken=(3, 7))


def test_a_desk_that_cannot_be_is_refused(stage: Stage) -> None:
    with pytest.raises(NoSuchAux):
        stage.do(s.DescribeDesk(DeskFacts(8, taken=(9,))))


# Numbering.


def test_mixes_are_put_on_auxes_and_others_stay(stage: Stage) -> None:
    stage.do(s.NumberAuxes((("front", (5,)),)))
    stage.do(s.NumberAuxes((("ears", (1, 2)),)))

    assert {mix.id: mix.auxes for mix in stage.show.mixes.values()} == {"front": (5,), "ears": (1, 2)}


def test_a_mix_on_the_auxes_it_has_is_left_alone(stage: Stage) -> None:
    stage.do(s.NumberAuxes((("front", (5,)),)))

    assert stage.do(s.NumberAuxes((("front", (5,)), ("ears", ())))) == ()


def test_a_mix_that_comes_from_another_aux_has_stale_readings(stage: Stage) -> None:
    stage.read_margin("front", "voice", 90)

    stage.do(s.NumberAuxes((("front", (5,)),)))

    assert stage.show.readings["front", "voice"].stale_because


def test_numbers_that_cannot_be_are_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        stage.do(s.NumberAuxes((("fill", (1,)),)))
    with pytest.raises(BadSetting):
        stage.do(s.NumberAuxes((("front", (1000,)),)))


# The stage plan.


def test_musicians_and_sources_are_placed_once(stage: Stage) -> None:
    command = s.PlaceOnStage(
        musicians=(("singer", Standing(Spot(0, 150), -90)),),
        sources=(("voice", SourcePlace(beside="singer")), ("drums", SourcePlace(Spot(20, 400)))),
    )

    said, again = stage.do(command), stage.do(command)

    assert said == (
        MusicianPlaced("singer", Standing(Spot(0, 150), 270)),
        SourcePlaced("voice", SourcePlace(beside="singer")),
        SourcePlaced("drums", SourcePlace(Spot(20, 400))),
    )
    assert again == ()


def test_a_musician_is_taken_off_the_plan(stage: Stage) -> None:
    stand(stage, "singer", 0, 150)

    stage.do(s.PlaceOnStage((("singer", None),)))

    assert stage.show.standings == {}


def test_click_and_talkback_are_central_unless_said(stage: Stage) -> None:
    before = {source: stage.show.place_of(source).is_central for source in stage.show.sources}

    put(stage, "click", SourcePlace())
    put(stage, "drums", SourcePlace(is_central=True))

    after = {source: stage.show.place_of(source).is_central for source in stage.show.sources}
    assert before == {"voice": False, "drums": False, "guitar": False, "talk": True, "click": True}
    assert after == {"voice": False, "drums": True, "guitar": False, "talk": True, "click": False}


def test_what_stands_beside_a_musician_has_no_place_of_its_own(stage: Stage) -> None:
    put(stage, "voice", SourcePlace(Spot(5, 5), beside="singer"))

    assert stage.show.place_of("voice") == SourcePlace(beside="singer")


def test_who_leaves_the_show_leaves_the_plan(stage: Stage) -> None:
    stand(stage, "singer", 0, 150)
    put(stage, "voice", SourcePlace(beside="singer", is_central=True))
    put(stage, "drums", SourcePlace(Spot(0, 400)))

    stage.do(c.RemoveMusician("singer"))
    stage.do(c.RemoveSource("drums"))

    assert stage.show.standings == {}
    assert stage.show.source_places == {"voice": SourcePlace(is_central=True)}


@pytest.mark.parametrize("spot", [Spot(100_001, 0), Spot(0, -100_001), Spot(10**30, 0)])
def test_a_place_beyond_every_stage_is_refused(stage: Stage, spot: Spot) -> None:
    with pytest.raises(NoPlaceOnStage):
        stand(stage, "singer", spot.x_cm, spot.y_cm)
    with pytest.raises(NoPlaceOnStage):
        put(stage, "voice", SourcePlace(spot))


@pytest.mark.parametrize("facing_deg", [361, -361, 10**30])
def test_a_facing_beyond_a_full_circle_is_refused(stage: Stage, facing_deg: int) -> None:
    with pytest.raises(NoFacing):
        stand(stage, "singer", 0, 0, facing_deg)


def test_who_is_not_in_the_show_is_not_placed(stage: Stage) -> None:
    with pytest.raises(UnknownMusician):
        stand(stage, "nobody", 0, 0)
    with pytest.raises(UnknownSource):
        put(stage, "horn", SourcePlace())
    with pytest.raises(UnknownMusician):
        put(stage, "voice", SourcePlace(beside="nobody"))


def test_a_musician_is_marked_as_lead(stage: Stage) -> None:
    stage.do(c.PutMusician(Musician("singer", "Singer", is_lead=True)))

    assert [one.id for one in stage.show.musicians.values() if one.is_lead] == ["singer"]


# Readings hold for the place they were read at.


@pytest.fixture
def measured(stage: Stage) -> Stage:
    stand(stage, "singer", 0, 150)
    stand(stage, "bass", 200, 300)
    put(stage, "drums", SourcePlace(Spot(0, 400)))
    put(stage, "voice", SourcePlace(beside="bass"))
    for source in ("voice", "drums"):
        stage.read_margin("front", source, 90)
    return stage


@pytest.mark.parametrize(
    "command",
    [
        s.PlaceOnStage((("singer", Standing(Spot(50, 150))),)),
        s.PlaceOnStage((("singer", Standing(Spot(0, 150), 45)),)),
        s.PlaceOnStage((("bass", Standing(Spot(100, 300))),)),
        s.PlaceOnStage(sources=(("drums", SourcePlace(Spot(0, 380))),)),
    ],
    ids=["the wedge moves", "its musician turns", "the mic's musician moves", "a mic moves"],
)
def test_a_move_on_stage_makes_readings_stale_once(measured: Stage, command: s.PlaceOnStage) -> None:
    events = measured.do(command)

    stale = [event.mix for event in events if isinstance(event, MarginsMadeStale)]
    assert stale == ["front"]
    assert measured.show.readings["front", "voice"].stale_because == "moved on the stage plan"


@pytest.mark.parametrize(
    "command",
    [
        s.PlaceOnStage((("drummer", Standing(Spot(0, 450))),)),
        s.PlaceOnStage((("singer", None),)),
        s.PlaceOnStage(sources=(("guitar", SourcePlace(Spot(0, 380))),)),
        s.PlaceOnStage(sources=(("drums", SourcePlace(Spot(0, 400), is_central=True)),)),
    ],
    ids=["somebody else", "taken off the plan", "placed first", "only marked"],
)
def test_what_did_not_move_leaves_readings_as_they_are(measured: Stage, command: s.PlaceOnStage) -> None:
    measured.do(command)

    assert measured.show.readings["front", "voice"].stale_because == ""
