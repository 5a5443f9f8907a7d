"""The ways to meet a request for more: which are open, the same loudness, and what undo makes of either."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.drifts import drift_db
from monreq.domain.margins import margin_of
from monreq.domain.refusals import NotThisWay, OutsideRange, UndoOutsideRange
from monreq.domain.requests import Call, Outcome, RequestState, Way
from monreq.domain.setup import Setting
from monreq.domain.ways import output_against, ways_for
from tests.support.queue_rows import row
from tests.support.stage import Stage, small_stage

OTHER_WAYS = [Way.SAME_LOUDNESS, Way.REST_DOWN]
HALF_A_TENTH_DB = 0.05
WEDGE_TRIP_TENTHS = 60


def test_a_source_asked_up_can_be_met_both_ways(stage: Stage) -> None:
    stage.ask("front", "voice", 30)

    assert ways_for(stage.show, row(stage, "front", "voice")) == tuple(OTHER_WAYS)


def test_what_is_asked_down_of_the_whole_mix_or_of_no_level_is_met_plainly(stage: Stage) -> None:
    stage.ask("front", "voice", -30)
    stage.ask("front", None, 30)
    stage.ask("ears", "click", 30, "bass")
    stage.ask_pan("ears", "voice", 20, "bass")
    stage.ask_out("front", "drums")
    stage.ask_sound("front", "guitar", "muddy")
    stage.call("front", Call.SQUEAL)

    assert [ways_for(stage.show, one) for one in stage.rows] == [()] * 7


def test_a_disagreement_is_met_in_no_other_way(stage: Stage) -> None:
    up = stage.ask("ears", "voice", 60, "bass")
    down = stage.ask("ears", "voice", -10, "drummer")

    assert ways_for(stage.show, row(stage, "ears", "voice")) == ()
    for way in OTHER_WAYS:
        with pytest.raises(NotThisWay):
            stage.done(up, down, way=way)


@pytest.mark.parametrize("off", ["voice", "output"])
def test_what_is_not_heard_is_met_in_no_other_way(stage: Stage, off: str) -> None:
    stage.ask("front", "voice", 30)

    stage.correct("front", None if off == "output" else off, is_on=False)

    assert ways_for(stage.show, row(stage, "front", "voice")) == ()


def test_a_source_that_is_alone_is_met_in_no_other_way(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)
    for source in ("drums", "guitar"):
        stage.correct("front", source, is_on=False)

    assert ways_for(stage.show, row(stage, "front", "voice")) == ()
    with pytest.raises(NotThisWay):
        stage.done(request, way=Way.SAME_LOUDNESS)


@pytest.mark.parametrize("way", OTHER_WAYS)
def test_what_makes_up_for_a_preamp_is_done_plainly(stage: Stage, way: Way) -> None:
    up = stage.ask("front", "voice", 120)
    change = stage.plan_preamp("voice", 60)
    compensating = stage.compensating(change)["front"]

    with pytest.raises(NotThisWay):
        stage.done(up, compensating, way=way)

    assert compensating in stage.show.open_requests


@pytest.mark.parametrize("way", OTHER_WAYS)
@pytest.mark.parametrize("outcome", [Outcome.NOT_DONE, Outcome.SET_ASIDE])
def test_what_was_not_done_was_done_in_no_way(stage: Stage, way: Way, outcome: Outcome) -> None:
    request = stage.ask("front", "voice", 30)

    with pytest.raises(NotThisWay):
        stage.do(c.Answer((request,), outcome, reason="near_feedback", way=way))


def test_same_loudness_raises_the_send_and_lowers_the_output(stage: Stage) -> None:
    """Worked by hand: one of three equal sources up by 6 dB is 10 lg((3.98 + 2) / 3) = 3.0 dB more."""
    request = stage.ask("front", "guitar", 60)

    decision = stage.done(request, way=Way.SAME_LOUDNESS)

    assert stage.show.decisions[decision].way is Way.SAME_LOUDNESS
    assert (stage.level("front", "guitar"), stage.level("front", None)) == (-140, -30)
    assert stage.show.decisions[decision].done == 60


def test_same_loudness_goes_against_what_the_hand_did(stage: Stage) -> None:
    request = stage.ask("front", "guitar", 60)
    against = output_against(stage.show, row(stage, "front", "guitar"), 30)

    decision = stage.done(request, read=-170, way=Way.SAME_LOUDNESS)

    answered = stage.show.decisions[decision]
    assert answered.also == (against,)
    assert answered.state_of(answered.requests[0]) is RequestState.DONE_IN_PART


@pytest.mark.parametrize("change", [0, -30])
def test_same_loudness_never_raises_an_output(stage: Stage, change: int) -> None:
    request = stage.ask("front", "guitar", 60)

    with pytest.raises(NotThisWay):
        stage.done(request, change=change, way=Way.SAME_LOUDNESS)


def test_same_loudness_with_the_output_at_the_end_of_its_range_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "guitar", 60)
    stage.put("front", None, -890)

    with pytest.raises(OutsideRange):
        stage.done(request, way=Way.SAME_LOUDNESS)

    assert stage.level("front", "guitar") == -200


def test_same_loudness_reckons_with_a_preamp_that_was_turned_and_with_trims(stage: Stage) -> None:
    stage.correct("front", "talk", is_on=False)
    stage.mark()
    stage.turn_preamp(stage.plan_preamp("guitar", 100), though_rows_wait=True)
    before = drift_db(stage.show, "front")

    stage.done(stage.ask("front", "drums", 60), change=60, way=Way.SAME_LOUDNESS)

    assert drift_db(stage.show, "front") == pytest.approx(before, abs=HALF_A_TENTH_DB)


@pytest.mark.parametrize("way", OTHER_WAYS)
def test_undo_of_a_way_is_refused_whole_where_one_send_cannot_go_back(stage: Stage, way: Way) -> None:
    decision = stage.done(stage.ask("front", "voice", 60), change=60, way=way)
    for source in ("drums", None):
        stage.correct("front", source, level=100)
    before = stage.show

    with pytest.raises(UndoOutsideRange):
        stage.undo(decision)

    assert stage.show is before


LEVELS = st.integers(-600, 0)
TRIMS = st.integers(1, 120)


@given(st.sampled_from(OTHER_WAYS), LEVELS, LEVELS, LEVELS, TRIMS)
def test_undo_of_a_way_leads_back_exactly(way: Way, voice: int, drums: int, guitar: int, change: int) -> None:
    stage = standing(voice, drums, guitar)
    start = stage.show
    request = stage.ask("front", "voice", change)

    stage.undo(stage.done(request, change=min(change, 100 - voice), way=way))

    assert settings_of(stage) == {
        source: position.setting for source, position in start.levels["front"].sends.items()
    }
    assert stage.level("front", None) == 0
    assert list(stage.show.open_requests) == [request]


@given(
    LEVELS,
    LEVELS,
    LEVELS,
    st.lists(st.tuples(st.sampled_from(["voice", "drums", "guitar"]), TRIMS), max_size=6),
)
def test_same_loudness_keeps_the_drift_of_music_within_the_rounding_of_each_move(
    voice: int, drums: int, guitar: int, raises: list[tuple[str, int]]
) -> None:
    stage = standing(voice, drums, guitar)
    stage.correct("front", "talk", is_on=False)
    stage.mark()
    moves = 0

    for source, change in raises:
        if stage.level("front", source) + change <= 100 and stage.level("front", None) >= -700:
            stage.done(stage.ask("front", source, change), change=change, way=Way.SAME_LOUDNESS)
            moves += 1

    drift = drift_db(stage.show, "front")
    assert drift is not None
    assert abs(drift) <= HALF_A_TENTH_DB * moves + 1e-9


@given(LEVELS, LEVELS, LEVELS, TRIMS)
def test_rest_down_spends_no_margin_and_makes_no_mix_louder(
    voice: int, drums: int, guitar: int, amount: int
) -> None:
    stage = standing(voice, drums, guitar)
    for source in ("voice", "drums", "talk"):
        stage.read_margin("front", source, 60, open_mics=3)
    stage.mark()

    stage.done(stage.ask("front", "voice", amount), way=Way.REST_DOWN)

    left = [margin_of(stage.show, "front", source).left_db for source in ("voice", "drums", "talk")]
    drift = drift_db(stage.show, "front")
    assert left[0] == left[2] == 6.0
    assert left[1] == pytest.approx(6 + min(amount, WEDGE_TRIP_TENTHS) / 10)
    assert drift is not None
    assert drift <= 0


def standing(voice: int, drums: int, guitar: int) -> Stage:
    stage = small_stage()
    for source, level in (("voice", voice), ("drums", drums), ("guitar", guitar)):
        stage.put("front", source, level)
    return stage


def settings_of(stage: Stage) -> dict[str, Setting]:
    return {source: position.setting for source, position in stage.show.levels["front"].sends.items()}
