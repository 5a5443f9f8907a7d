"""A request for more that is met by turning the rest of the mix down."""

import pytest

from monreq.domain import commands as c
from monreq.domain.refusals import NotThisWay
from monreq.domain.requests import Move, RequestState, Way
from monreq.domain.setup import Setting
from monreq.domain.trail import trail
from monreq.domain.ways import rest_down
from tests.support.queue_rows import about, row
from tests.support.stage import Stage


def test_rest_down_leaves_the_source_click_and_talkback_and_turns_down_everything_else(stage: Stage) -> None:
    stage.correct("ears", "drums", is_on=False)
    request = stage.ask("ears", "voice", 60, "bass")

    decision = stage.done(request, way=Way.REST_DOWN)

    levels = {source: stage.level("ears", source) for source in ("voice", "drums", "guitar", "talk", "click")}
    assert levels == {"voice": -250, "drums": -250, "guitar": -280, "talk": -250, "click": -250}
    assert stage.level("ears", None) == -100
    assert stage.show.decisions[decision].move is None


def test_rest_down_by_a_figure_is_the_hands(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 60), change=25, way=Way.REST_DOWN)

    assert (stage.level("front", "voice"), stage.level("front", "drums")) == (-200, -225)


@pytest.mark.parametrize("change", [0, -10])
def test_rest_down_goes_down(stage: Stage, change: int) -> None:
    request = stage.ask("front", "voice", 60)

    with pytest.raises(NotThisWay):
        stage.done(request, change=change, way=Way.REST_DOWN)


def test_rest_down_has_no_one_level_to_read_off(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)

    with pytest.raises(NotThisWay):
        stage.done(request, read=-100, way=Way.REST_DOWN)


def test_rest_down_goes_as_far_as_the_range_and_lists_only_what_went_down(stage: Stage) -> None:
    stage.put("front", "drums", -900)
    stage.put("front", "guitar", -880)

    decision = stage.done(stage.ask("front", "voice", 60), way=Way.REST_DOWN)

    assert stage.show.decisions[decision].also == (Move("front", "guitar", Setting(-880), Setting(-900)),)


def test_rest_down_with_everything_down_already_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)
    for source in ("drums", "guitar"):
        stage.put("front", source, -900)

    with pytest.raises(NotThisWay):
        stage.done(request, way=Way.REST_DOWN)
    with pytest.raises(NotThisWay):
        rest_down(stage.show, row(stage, "front", "voice"), 60)


@pytest.mark.parametrize(
    ("change", "state"), [(None, RequestState.DONE), (60, RequestState.DONE), (59, RequestState.DONE_IN_PART)]
)
def test_rest_down_met_the_request_as_far_as_the_rest_went_down(
    stage: Stage, change: int | None, state: RequestState
) -> None:
    request = stage.ask("front", "voice", 60)
    stage.done(request, change=change, way=Way.REST_DOWN)

    known = trail(stage.show, request, about(stage, request))

    assert known is not None
    assert (known.state, known.done) == (state, None)


def test_rest_down_meets_all_that_one_musician_asked_together(stage: Stage) -> None:
    more, less = stage.ask("front", "voice", 60), stage.ask("front", "voice", -20)
    decision = stage.done(more, less, way=Way.REST_DOWN)

    answered = stage.show.decisions[decision]

    assert stage.level("front", "drums") == -240
    assert [answered.state_of(one) for one in answered.requests] == [RequestState.DONE] * 2


def test_undo_of_rest_down_leaves_out_what_left_the_mix_since(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)
    decision = stage.done(request, way=Way.REST_DOWN)
    stage.do(c.RemoveSource("drums"))

    stage.undo(decision)

    assert stage.level("front", "guitar") == -200
    assert request in stage.show.open_requests
