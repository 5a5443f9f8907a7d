"""The aux plan in words: estimates are called so, limits are named, and nothing is left out in silence."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.setup import Musician
from monreq.domain.stage_plan import Spot, Standing
from monreq.web.aux_plan_view import AuxLine, aux_plan_view
from tests.support.hands import figures
from tests.support.stage import Stage


@pytest.fixture
def stage() -> Stage:
    """Two wedges one metre apart and an in-ear pair, their levels entered."""
    stage = Stage()
    for place, mix in enumerate(("left", "right")):
        stage.wedge(mix, stage.musician(mix))
        stage.do(s.PlaceOnStage(((mix, Standing(Spot(100 * place, 100))),)))
    stage.in_ears("ears", stage.musician("drummer"))
    for source in ("voice", "kick"):
        stage.source(source)
        for mix in ("left", "right", "ears"):
            stage.put(mix, source, -100)
    return stage


def describe(stage: Stage, desk: DeskFacts) -> None:
    stage.do(s.DescribeDesk(desk))


def test_a_desk_with_enough_says_which_aux_carries_which_mix(stage: Stage) -> None:
    describe(stage, DeskFacts(3, 1, internal_effects=1))

    view = aux_plan_view(stage.show)

    assert view.needed == (
        "Needed: 5 auxes (2 wedges, 1 in-ear pair of two each, 1 effect send) and 4 outputs."
    )
    assert (view.verdict, view.is_enough) == ("The desk has enough.", True)
    assert view.lines == [
        AuxLine("Left", "wedge", "none", "aux 1"),
        AuxLine("Right", "wedge", "none", "aux 2"),
        AuxLine("Ears", "in-ear pair", "none", "stereo aux 4"),
    ]
    assert (view.effects, view.numbers) == ("Effect sends: aux 3.", "left:1 right:2 ears:4")
    assert (view.shares, view.hints) == ([], [])


def test_auxes_as_entered_that_fit_need_no_change(stage: Stage) -> None:
    stage.do(s.NumberAuxes((("left", (8,)), ("right", (7,)), ("ears", (3, 4)))))
    describe(stage, DeskFacts(8))

    view = aux_plan_view(stage.show)

    assert view.hints == ["The auxes as entered fit this desk: nothing has to change."]
    assert view.numbers == "left:3 right:4 ears:1,2"


def test_a_pair_on_mono_auxes_is_linked(stage: Stage) -> None:
    describe(stage, DeskFacts(4))

    assert [line.planned for line in aux_plan_view(stage.show).lines] == [
        "aux 3",
        "aux 4",
        "aux 1 and 2 linked",
    ]


def test_a_desk_with_too_few_says_what_could_be_shared_at_what_cost(stage: Stage) -> None:
    stage.put("left", "voice", -40)
    describe(stage, DeskFacts(3))

    view = aux_plan_view(stage.show)

    assert view.verdict == "1 aux and 1 output are missing."
    assert [line.planned for line in view.lines] == ["aux 1", "aux 2", "none left"]
    assert view.numbers == ""
    assert view.shares == [
        figures(
            "Left and Right share one mix. Off what each has now, on average over the sources: Left 2.1 dB, "
            "Right 2.1 dB. It would be: output 0; Voice -7, Kick -10."
        )
    ]
    assert view.hints == [
        "Only mixes of one kind are shared, wedges only within 2 m of one another, and a lead singer's never. "
        "The costs are estimates from the levels entered; ask the musicians first."
    ]


def test_a_cost_of_levels_that_nobody_entered_is_called_so(stage: Stage) -> None:
    stage.wedge("fill", "left")
    describe(stage, DeskFacts(4))

    hints = aux_plan_view(stage.show).hints

    assert "No levels were entered for Fill: its cost says nothing yet." in hints


def test_where_sharing_is_not_enough_the_limits_are_told(stage: Stage) -> None:
    stage.do(c.PutMusician(Musician("left", "Left", is_lead=True)))
    describe(stage, DeskFacts(3))

    view = aux_plan_view(stage.show)

    assert view.shares == []
    assert [hint[:22] for hint in view.hints] == ["No sharing is enough. "]


def test_wedges_of_nowhere_are_told_where_sharing_is_needed(stage: Stage) -> None:
    stage.do(s.PlaceOnStage((("left", None),)))
    describe(stage, DeskFacts(3))

    assert aux_plan_view(stage.show).hints[-1] == (
        "Not known where these wedges stand, so they are not shared: Left. Enter it under Stage."
    )


def test_an_aux_entered_twice_is_told_before_a_desk_is_described(stage: Stage) -> None:
    stage.do(s.NumberAuxes((("left", (1,)), ("ears", (1, 2)))))

    assert aux_plan_view(stage.show).hints == ["Aux 1 is entered for Left, Ears."]


def test_more_mixes_than_are_planned_are_told_in_a_sentence(stage: Stage) -> None:
    for number in range(62):
        stage.wedge(f"m{number}")
    describe(stage, DeskFacts(64))

    view = aux_plan_view(stage.show)

    assert (view.verdict, view.is_enough) == ("An aux plan is made for 64 mixes at most.", None)
