"""A source that is asked up in three mixes: what counts, and where it is told."""

import pytest

from monreq.domain.asked_up import LATELY_MS, asked_up
from monreq.domain.cautions import CautionCode
from monreq.domain.queue import queue
from tests.support.stage import Stage


@pytest.fixture
def stage(stage: Stage) -> Stage:
    stage.musician("keys")
    stage.wedge("side", "keys")
    return stage


def test_source_that_three_mixes_ask_up_is_told(stage: Stage) -> None:
    stage.ask("front", "voice", 30)
    stage.ask("ears", "voice", 10, "bass")
    assert asked_up(stage.show) == {}

    stage.ask("side", "voice", 30)

    assert asked_up(stage.show) == {"voice": 3}


def test_rows_of_that_source_carry_it_as_their_last_caution(stage: Stage) -> None:
    for mix, musician in (("front", None), ("ears", "bass"), ("side", None)):
        stage.ask(mix, "voice", 60, musician)
    stage.ask("front", "drums", 30)

    codes = {row.key[:2]: row.suggestion.cautions[-1].code for row in queue(stage.show)}
    assert codes.pop(("front", "drums")) is not CautionCode.ASKED_UP
    assert set(codes.values()) == {CautionCode.ASKED_UP}
    assert all(
        row.cut_because in ("in_steps", "not_rung_out")
        for row in queue(stage.show)
        if row.key.source == "voice"
    )


def test_what_was_done_lately_counts_and_what_was_taken_back_does_not(stage: Stage) -> None:
    first = stage.done(stage.ask("front", "voice", 30))
    stage.done(stage.ask("ears", "voice", 30, "bass"))
    stage.ask("side", "voice", 30)
    assert asked_up(stage.show) == {"voice": 3}

    stage.undo(first)
    stage.withdraw(next(iter(stage.show.open_requests)))

    assert asked_up(stage.show) == {}


def test_what_one_mix_asks_down_and_what_makes_up_for_a_preamp_does_not_count(stage: Stage) -> None:
    stage.ask("front", "voice", 30)
    stage.ask("ears", "voice", 30, "bass")
    stage.plan_preamp("voice", -30)
    stage.ask("side", "voice", -30)

    assert asked_up(stage.show) == {}


def test_what_was_done_before_the_preamp_was_turned_does_not_count(stage: Stage) -> None:
    for mix, musician in (("front", None), ("ears", "bass"), ("side", None)):
        stage.done(stage.ask(mix, "voice", 30, musician))
    assert asked_up(stage.show) == {"voice": 3}

    stage.plan_preamp("voice", 30)

    assert asked_up(stage.show) == {}


def test_what_was_done_before_the_soundcheck_mark_or_long_ago_does_not_count(stage: Stage) -> None:
    for mix, musician in (("front", None), ("ears", "bass")):
        stage.done(stage.ask(mix, "voice", 30, musician))
    stage.wait(1)
    stage.mark()
    stage.ask("side", "voice", 30)
    assert asked_up(stage.show) == {}

    for mix, musician in (("front", None), ("ears", "bass")):
        stage.done(stage.ask(mix, "voice", 30, musician))
    assert asked_up(stage.show) == {"voice": 3}
    stage.wait(LATELY_MS / 1000 + 1)
    stage.ask("side", "drums", 30)

    assert asked_up(stage.show) == {}
