"""What goes around the guard: rows put back, gains that come, pans, outputs that are off, keys pressed twice."""

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.ears import ear_powers
from monreq.domain.guard_ear import louder_than_advised
from monreq.domain.requests import Call, Kind
from monreq.domain.setup import Mix, Output
from tests.support.queue_rows import row, take
from tests.support.stage import Stage


def waiting(stage: Stage) -> list[int]:
    return [request.amount for request in stage.show.open_requests.values() if request.is_put_back]


# Gains that come.


def test_a_gain_turned_down_is_not_made_up_for_above_what_hurt_since(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -100))
    stage.call("ears", Call.HURTS, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") == -250


def test_a_gain_turned_down_is_not_made_up_for_above_what_hurt_though_somebody_asked_before_it(
    stage: Stage,
) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -100))
    stage.ask("ears", "guitar", 30, "bass")
    stage.call("ears", Call.HURTS, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") == -250


def test_a_second_gain_planned_down_hides_no_first_that_is_still_to_be_made_up_for(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -60))
    stage.plan_preamp("guitar", -60)
    stage.ask("ears", "guitar", 120, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") <= -250 + 60 + 30


def test_what_comes_in_before_a_planned_gain_is_turned_comes_in_as_much_lower(stage: Stage) -> None:
    stage.done(stage.ask_out("ears", "guitar", "bass"))
    stage.plan_preamp("guitar", 120)
    stage.ask_in("ears", "guitar", "bass")

    take(stage, row(stage, "ears", "guitar", Kind.IN_OUT))

    assert stage.level("ears", "guitar") == -370


# Pans, and outputs that are off.


def test_undo_of_a_pan_leaves_no_ear_above_the_bound(stage: Stage) -> None:
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.put("ears", source, -250, -100)
    centred = [stage.done(stage.ask_pan("ears", source, 100, "bass")) for source in ("voice", "drums")]
    stage.mark()
    for _ in range(3):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)

    for decision in centred:
        stage.undo(decision)

    assert louder_than_advised(stage.show, "ears") is None
    assert stage.row("ears", "voice", Kind.PAN) is not None


def test_sends_asked_up_while_an_output_is_off_come_to_no_more_when_it_is_on(stage: Stage) -> None:
    stage.mark()
    stage.correct("ears", None, is_on=False)
    for source in ("voice", "drums", "guitar", "click"):
        for _ in range(5):
            stage.ask("ears", source, 30, "bass")
            take(stage, row(stage, "ears", source))
            stage.wait(600)

    stage.correct("ears", None, is_on=True)

    assert louder_than_advised(stage.show, "ears") is None


# Keys that are pressed twice, and mixes that come out elsewhere.


def test_a_song_begun_and_ended_in_a_second_is_no_new_gap(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")
    take(stage, row(stage, "ears", "voice"))

    for _ in range(3):
        stage.do(so.BeginSong())
        stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")

    assert row(stage, "ears", "voice").suggestion.move == 0


def test_a_song_taken_back_is_no_new_gap(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")
    take(stage, row(stage, "ears", "voice"))
    stage.wait(60)

    stage.do(so.BeginSong())
    stage.do(so.TakeBackStretch())
    stage.ask("ears", "voice", 30, "bass")

    assert row(stage, "ears", "voice").suggestion.move == 0


def test_a_mix_that_comes_out_elsewhere_and_back_remembers_its_evening_and_what_hurt(stage: Stage) -> None:
    stage.mark()
    for _ in range(3):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)
    facts = stage.show.mix("ears")

    stage.do(c.PutMix(Mix("ears", facts.name, Output.WEDGE, facts.musicians)))
    stage.do(c.PutMix(facts))
    before = stage.level("ears", None)
    for _ in range(6):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)

    assert before == -100
    assert louder_than_advised(stage.show, "ears") is None
    assert stage.level("ears", None) < 0  # six raises of 3 dB, but for what the evening had already


def test_what_was_off_at_the_mark_gives_no_allowance_to_a_mix_that_comes_out_elsewhere_and_back(
    stage: Stage,
) -> None:
    stage.put("ears", "guitar", -60, is_on=False)
    for source in ("voice", "drums"):
        stage.put("ears", source, -400)
    stage.mark()
    at_mark = louder_ear(stage)
    stage.ask_in("ears", "guitar", "bass")
    take(stage, row(stage, "ears", "guitar", Kind.IN_OUT))
    stage.correct("ears", "guitar", is_on=True)
    facts = stage.show.mix("ears")

    stage.do(c.PutMix(Mix("ears", facts.name, Output.WEDGE, facts.musicians)))
    stage.do(c.PutMix(facts))

    assert stage.setting("ears", "guitar").is_on
    assert louder_ear(stage) <= at_mark


def louder_ear(stage: Stage) -> float:
    """Return the power at the louder ear that the evening of the in-ears counts from."""
    began = stage.show.began_as_now("ears")
    assert began is not None
    return max(ear_powers(stage.show.sources, began.levels, began.gains))


def test_what_the_guard_knows_is_the_fold_of_the_log_and_goes_with_what_it_is_about(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 30))
    stage.call("front", Call.SQUEAL)
    stage.done(stage.ask_out("front", "drums"))

    stage.do(c.RemoveSource("voice"))
    without_voice = stage.show.past
    stage.do(c.RemoveMix("front"))

    past = stage.show.past
    assert all("voice" not in one.levels.sends for one in without_voice.began.values())
    assert all("voice" not in one.stood.levels.sends for one in without_voice.disproofs)
    assert [mix for mix, _ in past.began] == ["ears"]
    assert (past.before_raises, past.disproofs, past.last_heard) == ({}, (), {})
    assert stage.at(stage.show.revision) == stage.show


def test_what_was_lowered_in_the_very_moment_before_a_song_is_not_taken_back_in_it_at_once(
    stage: Stage,
) -> None:
    decision = stage.done(stage.ask("ears", "voice", -60, "bass"))
    stage.do(so.BeginSong())
    stage.wait(300)

    stage.undo(decision)

    assert stage.level("ears", "voice") == -280
    assert waiting(stage) == [30]
