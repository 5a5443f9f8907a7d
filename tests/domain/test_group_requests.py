"""Requests for a group: what can be asked, how it adds up, what is suggested, what a hand's answer sets."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.cautions import CautionCode
from monreq.domain.group_refusals import LevelOfGroup, OneSourceAtATime
from monreq.domain.refusals import OutsideRange, SourceAlreadyOn, SourceNotInMix, SourceOff, UnknownMix
from monreq.domain.requests import Kind, RequestState, RowKey, Way
from monreq.domain.suggest import NEAR_FEEDBACK
from monreq.domain.ways import ways_for
from tests.support.group_stage import KIT, group_stage
from tests.support.queue_rows import row
from tests.support.stage import Stage

LEVEL = RowKey("front", "kit", Kind.LEVEL)


@pytest.fixture
def stage() -> Stage:
    return group_stage()


def levels(stage: Stage, mix: str = "front") -> list[int]:
    return [stage.level(mix, source) for source in KIT.sources]


def test_requests_for_a_group_are_one_row_that_lists_each_send_to_set(stage: Stage) -> None:
    stage.correct("front", "overhead", is_on=False)
    stage.ask("front", "kit", -30)
    stage.ask("front", "kit", -10)

    found = row(stage, "front", "kit")
    assert (found.key, found.asked, found.now) == (LEVEL, -40, None)
    assert [(one.source, one.before.level_tenths, one.after.level_tenths) for one in found.sends] == [
        ("kick", -200, -240),
        ("snare", -200, -240),
    ]


def test_group_and_one_of_its_sources_are_rows_of_their_own(stage: Stage) -> None:
    stage.ask("front", "kit", -30)
    stage.ask("front", "kick", 10)

    assert {one.key.source for one in stage.rows} == {"kit", "kick"}


def test_asking_for_a_group_with_a_sub_mix_is_asking_for_the_sub_mix(stage: Stage) -> None:
    stage.do(g.PutGroup(replace(KIT, sub_mix="drums")))

    stage.ask("front", "kit", -30)

    assert [one.key.source for one in stage.rows] == ["drums"]


def test_where_the_sub_mix_is_off_and_single_sends_are_on_the_request_is_for_the_group(stage: Stage) -> None:
    stage.do(g.PutGroup(replace(KIT, sub_mix="drums")))
    stage.correct("front", "drums", is_on=False)

    stage.ask("front", "kit", -30)

    assert [one.key.source for one in stage.rows] == ["kit"]


def test_group_whose_sends_are_all_off_takes_no_level(stage: Stage) -> None:
    for source in KIT.sources:
        stage.correct("front", source, is_on=False)

    with pytest.raises(SourceOff):
        stage.ask("front", "kit", 30)


def test_group_takes_no_pan_and_stands_in_no_unknown_mix(stage: Stage) -> None:
    stage.do(c.RemoveSend("front", "kick"))
    stage.do(g.PutGroup(replace(KIT, sources=("kick",))))

    with pytest.raises(OneSourceAtATime):
        stage.ask_pan("ears", "kit", 20, "bass")
    with pytest.raises(UnknownMix):
        stage.ask("nosuch", "kit", 30)
    with pytest.raises(SourceNotInMix):
        stage.ask("front", "kit", 30)


def test_group_is_put_in_while_any_of_it_is_off_and_taken_out_while_any_is_on(stage: Stage) -> None:
    with pytest.raises(SourceAlreadyOn):
        stage.ask_in("front", "kit")

    stage.done(stage.ask_out("front", "kit"))

    assert not any(stage.setting("front", source).is_on for source in KIT.sources)
    with pytest.raises(SourceOff):
        stage.ask_out("front", "kit")


def test_undo_puts_in_again_only_what_was_in(stage: Stage) -> None:
    stage.correct("front", "snare", is_on=False)
    decision = stage.done(stage.ask_out("front", "kit"))

    stage.undo(decision)

    assert [stage.setting("front", source).is_on for source in KIT.sources] == [True, False, True]


def test_sound_of_a_group_is_answered_in_words(stage: Stage) -> None:
    request = stage.ask_sound("front", "kit", "boomy")

    decision = stage.done(request, why="cut some lows")

    assert stage.show.decisions[decision].also == ()
    assert stage.show.decisions[decision].reason == "cut some lows"


def test_requests_of_one_musician_for_a_group_cancel_out(stage: Stage) -> None:
    stage.ask("front", "kit", 30)
    stage.ask("front", "kit", -30)

    assert not stage.rows


def test_opposed_requests_for_a_group_wait_with_nothing_suggested(stage: Stage) -> None:
    stage.ask("ears", "kit", 30, "bass")
    stage.ask("ears", "kit", -10, "drummer")

    found = row(stage, "ears", "kit")
    assert (found.is_disagreement, found.suggestion.move) == (True, 0)
    assert [one.code for one in found.suggestion.cautions] == [CautionCode.THEY_DISAGREE]


def test_raise_of_a_group_is_bounded_by_the_mic_with_the_least_margin_and_says_which(stage: Stage) -> None:
    stage.read_margin("front", "snare", 100, open_mics=5)
    stage.read_margin("front", "overhead", 50, open_mics=5)
    stage.ask("front", "kit", 60)

    found = row(stage, "front", "kit")
    # Worked by hand: 10 and 5 dB, S = 1/9 + 1/2.162, G = S / (1 + S): 4.38 dB together, 3 of them reserve.
    assert found.suggestion.move == 13
    assert [(one.code, one.source) for one in found.suggestion.cautions] == [
        (CautionCode.LOW_MARGIN, ""),
    ]
    assert found.cut_because == NEAR_FEEDBACK


def test_mics_read_alone_have_less_left_together_than_each(stage: Stage) -> None:
    for source in ("voice", "drums", "talk"):
        stage.correct("front", source, is_on=False)
    stage.read_margin("front", "snare", 80)
    stage.read_margin("front", "overhead", 80)
    stage.ask("front", "kit", 60)

    # From memory: two equal paths ring 3 dB earlier than one, so 8 dB each are 5 dB together, 3 of them reserve.
    assert row(stage, "front", "kit").suggestion.move == 19


def test_raise_of_a_group_stops_where_its_highest_send_meets_the_end_of_the_range(stage: Stage) -> None:
    stage.correct("ears", "kick", 90)
    stage.ask("ears", "kit", 30, "bass")

    found = row(stage, "ears", "kit")
    assert found.suggestion.move == 10
    assert (CautionCode.END_OF_RANGE, "kick") in [(one.code, one.source) for one in found.suggestion.cautions]


def test_done_moves_every_send_and_its_figure_is_the_change(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    decision = stage.done(request)

    assert levels(stage) == [-230, -230, -230]
    answered = stage.show.decisions[decision]
    assert (answered.move, answered.done) == (None, -30)
    assert answered.state_of(answered.requests[0]) is RequestState.DONE
    assert [stage.show.position("front", one).done_tenths for one in KIT.sources] == [-30, -30, -30]


def test_another_figure_stops_at_each_sends_range_and_undo_takes_back_what_each_did(stage: Stage) -> None:
    stage.correct("front", "kick", -890)
    request = stage.ask("front", "kit", -30)

    decision = stage.done(request, change=-50)

    assert levels(stage) == [-900, -250, -250]
    stage.undo(decision)
    assert levels(stage) == [-890, -200, -200]
    assert list(stage.show.open_requests) == [request]


def test_figure_that_can_move_nothing_is_refused(stage: Stage) -> None:
    for source in KIT.sources:
        stage.correct("front", source, -900)
    request = stage.ask("front", "kit", -30)

    with pytest.raises(OutsideRange):
        stage.done(request, change=-30)


def test_level_read_off_is_not_taken_for_a_group(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    with pytest.raises(LevelOfGroup):
        stage.done(request, read=-200)


def test_less_than_asked_is_done_in_part(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "kit", -60), change=-20)

    answered = stage.show.decisions[decision]
    assert answered.state_of(answered.requests[0]) is RequestState.DONE_IN_PART


def test_group_asked_up_can_be_met_at_the_same_loudness(stage: Stage) -> None:
    stage.ask("ears", "kit", 30, "bass")
    found = row(stage, "ears", "kit")
    assert ways_for(stage.show, found) == (Way.SAME_LOUDNESS, Way.REST_DOWN)

    decision = stage.done(*(one.id for one in found.requests), way=Way.SAME_LOUDNESS)

    assert levels(stage, "ears") == [-220, -220, -220]
    # Six equal sends, three of them up 3 dB: 10 lg((3 * 10^0.3 + 3) / 6) = 1.76 dB louder, so the output goes 1.8 down.
    assert stage.level("ears", None) == -118
    assert stage.show.decisions[decision].done == 30


def test_rest_down_leaves_the_group_and_lowers_everything_else(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "kit", 30), way=Way.REST_DOWN)

    assert levels(stage) == [-200, -200, -200]
    assert [stage.level("front", one) for one in ("voice", "drums", "guitar", "talk")] == [
        -230,
        -230,
        -230,
        -200,
    ]
    assert stage.show.decisions[decision].moves_of_group == ()


def test_group_that_is_all_there_is_in_a_mix_is_met_plainly(stage: Stage) -> None:
    for source in ("voice", "drums", "guitar"):
        stage.correct("front", source, is_on=False)
    stage.ask("front", "kit", 30)

    assert ways_for(stage.show, row(stage, "front", "kit")) == ()


@given(
    change=st.integers(-120, 120).filter(bool),
    starts=st.lists(st.integers(-900, 100), min_size=3, max_size=3),
)
def test_what_is_suggested_can_be_set_at_every_send_and_taken_back(change: int, starts: list[int]) -> None:
    stage = group_stage()
    for source, level in zip(KIT.sources, starts, strict=True):
        stage.correct("front", source, level)
    request = stage.ask("front", "kit", change)
    suggested = row(stage, "front", "kit").suggestion.move

    if suggested:
        stage.undo(stage.done(request))

    assert suggested is not None
    assert abs(suggested) <= abs(change)
    assert levels(stage) == starts
