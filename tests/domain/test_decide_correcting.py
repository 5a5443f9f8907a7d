"""Levels entered as they stand on the desk, before the mark and after it."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import LevelCorrected, SendPut
from monreq.domain.refusals import NoPanInMono, OutsideRange, PanOutOfRange, SourceNotInMix, UnknownMix
from monreq.domain.requests import Move
from monreq.domain.setup import Setting
from tests.support.stage import Stage


def test_correction_enters_what_stands_on_the_desk(stage: Stage) -> None:
    stage.correct("ears", "voice", level=-90, pan=-40, is_on=False)

    assert stage.setting("ears", "voice") == Setting(-90, -40, is_on=False)


def test_correction_of_nothing_confirms_the_level(stage: Stage) -> None:
    stage.wait(60)

    stage.correct("front", "voice")

    position = stage.show.position("front", "voice")
    assert position.setting == Setting(-200)
    assert position.confirmed_at_ms == stage.now_ms


def test_correction_leaves_waiting_requests_as_they_are(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    stage.correct("front", "voice", -100)

    assert list(stage.show.open_requests) == [request]


def test_correction_outside_the_range_is_refused(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.correct("front", "voice", 101)
    with pytest.raises(OutsideRange):
        stage.correct("front", None, -901)
    with pytest.raises(PanOutOfRange):
        stage.correct("ears", "voice", pan=101)
    with pytest.raises(NoPanInMono):
        stage.correct("front", "voice", pan=1)


def test_entered_settings_are_start_settings_before_the_mark_and_corrections_after_it(stage: Stage) -> None:
    entered = c.EnterSettings("front", ((None, Setting(-20)), ("voice", Setting(-120))))

    before = stage.do(entered)
    stage.mark()
    after = stage.do(c.EnterSettings("front", (("voice", Setting(-110)), (None, Setting(-20)))))

    assert before == (SendPut("front", None, Setting(-20)), SendPut("front", "voice", Setting(-120)))
    assert after == (LevelCorrected(Move("front", "voice", Setting(-120), Setting(-110))),)


def test_entered_settings_are_taken_all_or_none(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.do(c.EnterSettings("front", (("voice", Setting(-120)), (None, Setting(101)))))

    assert stage.level("front", "voice") == -200


def test_correction_of_what_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        stage.correct("nosuch", "voice", -100)
    with pytest.raises(SourceNotInMix):
        stage.correct("front", "click", -100)


def test_entered_pan_of_a_wedge_is_refused(stage: Stage) -> None:
    with pytest.raises(NoPanInMono):
        stage.do(c.EnterSettings("front", (("voice", Setting(-200, 10)),)))

    assert stage.setting("front", "voice") == Setting(-200)
