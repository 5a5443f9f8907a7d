"""What becomes of requests when a source, musician, mix or send is taken out."""

import pytest

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.refusals import SourceNotInMix
from monreq.domain.requests import Kind, Outcome, RowKey
from tests.support.stage import Stage


def answers(events: tuple[e.Event, ...]) -> list[e.RequestsAnswered]:
    return [event for event in events if isinstance(event, e.RequestsAnswered)]


def test_musician_who_leaves_a_mix_gets_an_answer_to_what_waits_there(stage: Stage) -> None:
    stage.ask("ears", "voice", 20, "bass")
    stays = stage.ask("ears", "voice", 20, "drummer")

    stage.in_ears("ears", "drummer")

    assert list(stage.show.open_requests) == [stays]


def test_removed_source_answers_what_waits_for_it_as_not_done(stage: Stage) -> None:
    one = stage.ask("front", "voice", 10)
    two = stage.ask("ears", "voice", 10, "bass")
    three = stage.ask("ears", "voice", 10, "drummer")
    other = stage.ask("front", "drums", 10)

    events = stage.do(c.RemoveSource("voice"))

    told = [(event.mix, event.requests, event.outcome, event.reason) for event in answers(events)]
    assert told == [
        ("front", (one,), Outcome.NOT_DONE, "removed"),
        ("ears", (two, three), Outcome.NOT_DONE, "removed"),
    ]
    assert list(stage.show.open_requests) == [other]


def test_each_answer_of_a_removal_is_called_after_its_revision(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    stage.ask("ears", "voice", 10, "bass")
    stage.ask_pan("ears", "voice", 10, "bass")

    stage.do(c.RemoveSource("voice"))

    decided = [
        (recorded.event.decision, recorded.revision)
        for recorded in stage.log
        if isinstance(recorded.event, e.RequestsAnswered)
    ]
    assert len(decided) == 3
    assert all(decision == f"d{revision}" for decision, revision in decided)


def test_removed_source_answers_also_what_was_set_aside(stage: Stage) -> None:
    stage.set_aside(stage.ask("front", "voice", 10))

    stage.do(c.RemoveSource("voice"))

    assert stage.rows == ()


def test_removed_source_leaves_each_mix_by_an_event_of_that_mix(stage: Stage) -> None:
    events = stage.do(c.RemoveSource("click"))

    assert events == (e.SendRemoved("ears", "click"), e.SourceRemoved("click"))
    assert "click" not in stage.show.sources
    with pytest.raises(SourceNotInMix):
        stage.setting("ears", "click")


def test_removed_musician_gets_answers_and_leaves_every_mix(stage: Stage) -> None:
    stage.ask("ears", "voice", 10, "bass")
    stays = stage.ask("ears", "voice", 10, "drummer")

    stage.do(c.RemoveMusician("bass"))

    assert list(stage.show.open_requests) == [stays]
    assert "bass" not in stage.show.musicians
    assert stage.show.mixes["ears"].musicians == ("drummer",)


def test_removed_mix_answers_what_waits_in_it(stage: Stage) -> None:
    stage.ask("ears", "voice", 10, "bass")
    stays = stage.ask("front", "voice", 10)

    events = stage.do(c.RemoveMix("ears"))

    assert len(answers(events)) == 1
    assert events[-1] == e.MixRemoved("ears")
    assert list(stage.show.open_requests) == [stays]
    assert "ears" not in stage.show.levels


def test_send_taken_off_answers_what_waits_for_it_there_only(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    stays = stage.ask("ears", "voice", 10, "bass")

    stage.do(c.RemoveSend("front", "voice"))

    assert list(stage.show.open_requests) == [stays]
    with pytest.raises(SourceNotInMix):
        stage.setting("front", "voice")


def test_removal_keeps_the_answers_given_before(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 10))

    stage.do(c.RemoveSource("voice"))

    assert stage.show.decisions[decision].key == RowKey("front", "voice", Kind.LEVEL)
