"""How a change sounds: about what phones ask, for how long, and what each answer asks for again."""

import pytest

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from monreq.domain.hearing import MOST_TO_HEAR, Heard
from monreq.domain.hearing_commands import SayHeard
from monreq.domain.hearing_refusals import HeardAlready
from monreq.domain.history import What, history
from monreq.domain.refusals import MusicianRequired, SourceOff, UnknownDecision
from monreq.domain.requests import Call, Way
from monreq.domain.setup import Settings
from monreq.domain.song_commands import BeginGap, BeginSong
from monreq.domain.still_to_hear import to_hear
from monreq.domain.subjects import mix_subject, subjects
from tests.support.queue_rows import row
from tests.support.stage import Stage


def asked(stage: Stage, mix: str = "front") -> list[str]:
    return [decision.id for decision in to_hear(stage.show, mix)]


def say(stage: Stage, decision: str, heard: Heard, mix: str = "front", musician: str | None = None) -> None:
    stage.do(SayHeard(mix, musician, decision, heard))


def test_what_was_done_to_a_level_is_asked_about_and_once_only(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 30))
    assert asked(stage) == [decision]

    say(stage, decision, Heard.RIGHT)

    assert asked(stage) == []
    assert not stage.rows
    with pytest.raises(HeardAlready):
        say(stage, decision, Heard.TOO_LITTLE)


def test_what_made_no_difference_to_hear_is_not_asked_about(stage: Stage) -> None:
    stage.not_done(stage.ask("front", "voice", 30))
    stage.set_aside(stage.ask("front", "drums", 30))
    stage.done(stage.ask_out("front", "guitar"))
    stage.done(stage.ask_sound("front", "voice", "muddy"))
    stage.done(stage.ask("front", None, 30), change=0)
    stage.done(stage.call("front", Call.HURTS))
    change = stage.plan_preamp("voice", 30)
    stage.done(stage.compensating(change)["front"])

    assert asked(stage) == []


def test_rest_down_and_a_group_are_asked_about(stage: Stage) -> None:
    stage.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"))))

    down = stage.done(stage.ask("front", "voice", 30), way=Way.REST_DOWN)
    group = stage.done(stage.ask("front", "band", -30))

    assert asked(stage) == [down, group]


def test_what_was_taken_back_is_not_asked_about(stage: Stage) -> None:
    stage.undo(stage.done(stage.ask("front", "voice", 30)))

    assert asked(stage) == []


def test_who_asks_again_is_not_asked_about_the_answer_before(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 30))

    stage.ask("front", "voice", 10)

    assert asked(stage) == []


def test_no_more_than_three_are_asked_about_and_the_latest_of_a_row_only(stage: Stage) -> None:
    for source in ("voice", "drums", "guitar"):
        stage.done(stage.ask("front", source, 10))
    last = [stage.done(stage.ask("front", source, 10)) for source in ("drums", "voice", "talk")]

    assert asked(stage) == last
    assert len(last) == MOST_TO_HEAR


def test_what_a_whole_song_was_played_with_is_not_asked_about_any_more(stage: Stage) -> None:
    before = stage.done(stage.ask("front", "voice", 30))
    stage.wait(1)
    stage.do(BeginSong())
    stage.wait(60)
    during = stage.done(stage.ask("front", "drums", 30))
    assert asked(stage) == [before, during]

    stage.wait(60)
    stage.do(BeginGap())

    assert asked(stage) == [during]


def test_soundcheck_mark_ends_the_questions_before_it(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 30))

    stage.mark()

    assert asked(stage) == []


def test_mix_that_goes_takes_its_questions_with_it(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 30))

    stage.do(c.RemoveMix("front"))

    assert "front" not in stage.show.to_hear


@pytest.mark.parametrize(
    ("asked_tenths", "heard", "again"),
    [
        (30, Heard.TOO_LITTLE, 30),
        (30, Heard.TOO_MUCH, -20),
        (-60, Heard.TOO_MUCH, -60),
        (-60, Heard.TOO_LITTLE, 30),
        (10, Heard.TOO_MUCH, -10),
    ],
)
def test_not_right_asks_again_by_itself(stage: Stage, asked_tenths: int, heard: Heard, again: int) -> None:
    decision = stage.done(stage.ask("front", "voice", asked_tenths))

    say(stage, decision, heard)

    assert row(stage, "front", "voice").asked == again
    assert stage.show.heard[decision].heard is heard


def test_the_last_amount_of_who_says_it_is_asked_again(stage: Stage) -> None:
    requests = [
        stage.ask("ears", "voice", 60, "bass"),
        stage.ask("ears", "voice", 10, "bass"),
        stage.ask("ears", "voice", 30, "drummer"),
    ]
    decision = stage.done(*requests)

    say(stage, decision, Heard.TOO_LITTLE, "ears", "bass")

    assert row(stage, "ears", "voice").by_musician == (("bass", 10),)


def test_half_is_whole_touches_of_the_show(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(touch_tenths=15)))
    decision = stage.done(stage.ask("front", "voice", 60))

    say(stage, decision, Heard.TOO_MUCH)

    assert row(stage, "front", "voice").asked == -30


def test_what_cannot_be_asked_again_is_refused_and_stays_asked_about(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 30))
    stage.correct("front", "voice", is_on=False)

    with pytest.raises(SourceOff):
        say(stage, decision, Heard.TOO_LITTLE)

    assert asked(stage) == [decision]
    say(stage, decision, Heard.RIGHT)


def test_who_shares_a_mix_says_who_says_it_and_only_of_their_own_mix(stage: Stage) -> None:
    decision = stage.done(stage.ask("ears", "voice", 30, "bass"))

    with pytest.raises(MusicianRequired):
        say(stage, decision, Heard.RIGHT, "ears")
    with pytest.raises(UnknownDecision):
        say(stage, decision, Heard.RIGHT, "front")
    with pytest.raises(UnknownDecision):
        say(stage, "d999", Heard.RIGHT)


def test_what_was_heard_stands_in_the_history_of_the_mix(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 30))
    say(stage, decision, Heard.RIGHT)

    log = [one for one in stage.log if mix_subject("front") in subjects(one.event)]
    last = history(log)[-1]
    assert (last.what, last.source, last.words, last.decision) == (What.HEARD, "voice", "right", decision)


def test_what_a_musician_got_along_with_what_makes_up_for_a_preamp_is_asked_about(stage: Stage) -> None:
    own = stage.ask("front", "voice", -30)
    makes_up = stage.compensating(stage.plan_preamp("voice", 30))["front"]

    decision = stage.done(own, makes_up)

    assert asked(stage) == [decision]
