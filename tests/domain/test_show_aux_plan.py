"""The aux plan of a show: numbered as the desk is labelled, lead singers first and never shared, costs by what is heard."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.plan_refusals import TooManyMixes
from monreq.domain.setup import Mix, Musician, Output
from monreq.domain.show_aux_plan import (
    carried_twice,
    fits,
    not_entered,
    plan_show,
    wanted,
    wedges_without_place,
)
from monreq.domain.stage_plan import Spot, Standing
from tests.support.stage import Stage


@pytest.fixture
def stage() -> Stage:
    """Three wedges one metre apart, the last a lead singer's, and an in-ear pair; two sources."""
    stage = Stage()
    for place, mix in enumerate(("left", "middle", "lead")):
        stage.wedge(mix, stage.musician(mix))
        stage.do(s.PlaceOnStage(((mix, Standing(Spot(100 * place, 100))),)))
    stage.do(c.PutMusician(Musician("lead", "Lead", is_lead=True)))
    stage.in_ears("ears", stage.musician("drummer"))
    for source in ("voice", "kick"):
        stage.source(source)
        for mix in ("left", "middle", "lead", "ears"):
            stage.put(mix, source, -100)
    return stage


def numbers(stage: Stage, desk: DeskFacts) -> dict[str, tuple[int, ...]]:
    return dict(plan_show(stage.show, desk).numbers)


def test_mixes_are_numbered_as_the_desk_is_labelled_lead_first(stage: Stage) -> None:
    assert numbers(stage, DeskFacts(6)) == {"left": (4,), "middle": (5,), "lead": (3,), "ears": (1, 2)}
    assert numbers(stage, DeskFacts(4, 1)) == {"left": (2,), "middle": (3,), "lead": (1,), "ears": (5,)}


def test_effects_have_what_is_left(stage: Stage) -> None:
    planned = plan_show(stage.show, DeskFacts(8, outputs=6, external_effects=1, internal_effects=1))

    assert planned.effects == ((6,), (7,))
    assert (planned.plan.auxes_needed, planned.plan.outputs_needed) == (7, 6)
    assert planned.plan.is_enough


def test_if_auxes_run_out_those_added_last_have_none_and_the_lead_singer_has(stage: Stage) -> None:
    planned = plan_show(stage.show, DeskFacts(4))

    assert planned.numbers == {"left": (2,), "middle": (3,), "lead": (1,), "ears": ()}
    assert planned.plan.missing_auxes == 1


def test_a_lead_singers_mix_is_never_shared(stage: Stage) -> None:
    stage.put("left", "kick", -250)

    sharing = plan_show(stage.show, DeskFacts(4)).plan.sharing

    assert sharing is not None
    assert [one.mixes for one in sharing.shared] == [("left", "middle")]
    assert plan_show(stage.show, DeskFacts(3)).plan.sharing is None


def test_sharing_costs_what_is_heard_not_how_sends_and_output_make_it(stage: Stage) -> None:
    stage.put("left", "voice", -40)
    stage.put("left", "kick", -40)
    stage.put("left", None, -60)

    sharing = plan_show(stage.show, DeskFacts(4)).plan.sharing

    assert sharing is not None
    assert sharing.off_by_db == pytest.approx(0)
    assert sharing.shared[0].levels == pytest.approx({"voice": -8, "kick": -8})


def test_sharing_costs_half_of_what_two_mixes_differ_by(stage: Stage) -> None:
    stage.put("left", "voice", -40)
    stage.put("left", "kick", -160)

    sharing = plan_show(stage.show, DeskFacts(4)).plan.sharing

    assert sharing is not None
    assert sharing.off_by_db == pytest.approx(3)


def test_a_wedge_of_nowhere_is_not_shared(stage: Stage) -> None:
    stage.do(s.PlaceOnStage((("left", None),)))

    assert [mix.id for mix in wedges_without_place(stage.show)] == ["left"]
    assert plan_show(stage.show, DeskFacts(4)).plan.sharing is None


def test_a_shared_mix_stands_amid_those_who_hear_it(stage: Stage) -> None:
    stage.do(c.PutMix(Mix("left", "Left", Output.WEDGE, ("left", "middle"))))

    places = {mix.id: mix.place for mix in wanted(stage.show)}

    assert places == {"lead": (2.0, 1.0), "left": (0.5, 1.0), "middle": (1.0, 1.0), "ears": None}


def test_mixes_as_they_were_added_are_told(stage: Stage) -> None:
    stage.wedge("fill", "left")

    assert [mix.id for mix in not_entered(stage.show)] == ["fill"]


def test_an_aux_that_carries_two_mixes_is_told(stage: Stage) -> None:
    stage.do(s.NumberAuxes((("left", (1,)), ("ears", (1, 2)), ("lead", (3,)))))

    twice = carried_twice(stage.show)

    assert {number: [mix.id for mix in mixes] for number, mixes in twice.items()} == {1: ["left", "ears"]}


def test_numbers_of_the_plan_fit_the_desk(stage: Stage) -> None:
    desk = DeskFacts(6, internal_effects=1)
    before = fits(stage.show, desk)

    stage.do(s.NumberAuxes(tuple(plan_show(stage.show, desk).numbers.items())))

    assert before is False
    assert fits(stage.show, desk) is True


@pytest.mark.parametrize(
    ("desk", "left"),
    [
        (DeskFacts(6, internal_effects=2), (4,)),
        (DeskFacts(6, taken=(4,)), (4,)),
        (DeskFacts(6), (5,)),
        (DeskFacts(6), ()),
    ],
    ids=["no aux left for an effect", "taken", "twice", "none"],
)
def test_numbers_that_cannot_be_do_not_fit(stage: Stage, desk: DeskFacts, left: tuple[int, ...]) -> None:
    numbered = {"left": left, "middle": (5,), "lead": (3,), "ears": (1, 2)}

    stage.do(s.NumberAuxes(tuple(numbered.items())))

    assert fits(stage.show, desk) is False


def test_a_plan_follows_the_show(stage: Stage) -> None:
    desk = DeskFacts(4)
    before = plan_show(stage.show, desk).plan.sharing

    stage.put("left", "kick", -180)
    after = plan_show(stage.show, desk).plan.sharing

    assert before is not None
    assert after is not None
    assert [before.off_by_db, after.off_by_db] == pytest.approx([0, 8**0.5])


def test_an_empty_show_needs_nothing() -> None:
    planned = plan_show(Stage().show, DeskFacts(0))

    assert (planned.numbers, planned.plan.auxes_needed, planned.plan.is_enough) == ({}, 0, True)


def test_more_mixes_than_are_planned_are_refused() -> None:
    stage = Stage()
    for number in range(65):
        stage.wedge(f"m{number}")

    with pytest.raises(TooManyMixes):
        plan_show(stage.show, DeskFacts(64))
