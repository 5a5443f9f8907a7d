"""The demo's simulated phones: what they ask makes sense, and a show that is taken apart does not stop them."""

import random

from monreq.cli import demo_show
from monreq.cli.demo_phones import MOST_ROWS, next_ask
from monreq.domain import commands as c
from monreq.domain.group_sends import settings_of
from monreq.domain.queue import queue
from monreq.domain.requests import Outcome
from tests.support.stage import Stage

SEED = 20261125


def demo_stage() -> Stage:
    stage = Stage(demo_show.NAME, is_demo=True)
    for command in demo_show.set_up():
        stage.do(command)
    return stage


def test_every_ask_can_be_asked_and_answered() -> None:
    stage, chance = demo_stage(), random.Random(SEED)
    kinds = set()

    for _ in range(400):
        ask = next_ask(stage.show, chance)
        assert ask is not None
        stage.do(ask)
        kinds.add(type(ask))
        if len(queue(stage.show)) >= MOST_ROWS:
            row = queue(stage.show)[0]
            stage.do(
                c.Answer(tuple(one.id for one in row.requests), Outcome.NOT_DONE, reason="near_feedback")
            )

    assert kinds == {c.AskForLevel, c.AskForPan, c.AskAboutSound, c.CallDesk}


def test_musicians_ask_for_what_they_hear_alone() -> None:
    stage, chance = demo_stage(), random.Random(SEED)

    for _ in range(400):
        ask = next_ask(stage.show, chance)
        assert ask is not None
        assert ask.musician in stage.show.mix(ask.mix).musicians
        if not isinstance(ask, c.CallDesk) and ask.source is not None:
            assert any(setting.is_on for setting in settings_of(stage.show, ask.mix, ask.source))


def test_nobody_asks_where_nobody_hears() -> None:
    stage = demo_stage()
    for musician in list(stage.show.musicians):
        stage.do(c.RemoveMusician(musician))
    without_musicians = next_ask(stage.show, random.Random(SEED))
    for mix in list(stage.show.mixes):
        stage.do(c.RemoveMix(mix))

    without_mixes = next_ask(stage.show, random.Random(SEED))

    assert (without_musicians, without_mixes) == (None, None)


def test_a_mix_that_went_silent_asks_no_more() -> None:
    stage, chance = demo_stage(), random.Random(SEED)
    for source, _ in stage.show.sends_in_order("lead"):
        stage.do(c.RemoveSend("lead", source.id))

    asked = [next_ask(stage.show, chance) for _ in range(200)]

    assert {ask.mix for ask in asked if ask is not None} == {"bass", "horns", "drums", "accord", "guitar"}
