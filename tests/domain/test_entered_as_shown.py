"""What is entered as it was shown, though time passed since."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain.ear_refusals import DayFullSince
from monreq.domain.requests import Kind, Outcome, Way
from monreq.domain.setup import SourceKind
from monreq.domain.typed_commands import EnterTyped
from tests.support.ear_levels import measured_stage
from tests.support.stage import Stage, small_stage


def shown(stage: Stage, request: str, figure: int, **more: object) -> None:
    answer = c.Answer((request,), Outcome.DONE, figure, is_as_shown=True)
    stage.do(replace(answer, **more))  # type: ignore[arg-type]  # fields of the command


def test_a_raise_that_was_shown_before_the_day_was_full_is_not_entered_after_it() -> None:
    stage = measured_stage(940)
    request = stage.ask("ears", "voice", 30, "bass")
    stage.wait(3600)
    before = stage.show

    with pytest.raises(DayFullSince):
        shown(stage, request, 30)

    assert stage.show is before


def test_what_a_hand_did_is_entered_also_when_the_day_is_full() -> None:
    stage = measured_stage(940)
    request = stage.ask("ears", "voice", 30, "bass")
    stage.wait(3600)

    stage.do(EnterTyped(c.Answer((request,), Outcome.DONE, 30), (), ("day_full.voice",)))

    assert stage.level("ears", "voice") == -220


def test_what_was_shown_and_is_suggested_still_is_entered_on_a_full_day() -> None:
    stage = measured_stage(940)
    down, louder = stage.ask("ears", "voice", -30, "bass"), stage.ask("ears", "guitar", 30, "bass")
    stage.wait(3600)

    shown(stage, down, -30)
    shown(stage, louder, 20, way=Way.SAME_LOUDNESS)

    assert (stage.level("ears", "voice"), stage.level("ears", "guitar")) == (-280, -230)


def test_a_figure_that_was_smaller_than_it_would_be_by_now_is_entered_as_it_was_shown() -> None:
    stage = small_stage()
    stage.done(stage.ask("front", "voice", 20))
    request = stage.ask("front", "voice", 30)
    row = stage.row("front", "voice")
    stage.wait(60)

    assert row is not None
    shown(stage, request, row.suggestion.move or 0)

    assert row.suggestion.move == 10
    assert stage.level("front", "voice") == -200 + 20 + 10


def test_what_is_said_to_have_come_in_came_in_as_the_page_says_by_now() -> None:
    stage = small_stage()
    stage.source("keys", kind=SourceKind.DIRECT)
    stage.put("ears", "keys", -200, is_on=False)
    for source in ("voice", "guitar", "drums"):
        stage.done(stage.ask("ears", source, 30, "bass"))
    request = stage.ask_in("ears", "keys", "bass")
    by_then = stage.row("ears", "keys", Kind.IN_OUT)
    stage.wait(60)

    stage.do(EnterTyped(c.Answer((request,), Outcome.DONE, 1)))

    assert by_then is not None
    assert by_then.suggestion.comes_in_tenths == -221
    assert stage.level("ears", "keys") == -200
