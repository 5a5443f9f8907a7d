"""Every road by which a send, an output, a mute, a pan or a gain changes: typed by a hand, or past the guard.

The roads are found, not listed: events by what their fold does to a show, commands by what they decide.
"""

import typing

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from monreq.domain import carry_commands as k
from monreq.domain import carry_events as ke
from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain import guard
from monreq.domain import measuring_commands as m
from monreq.domain import measuring_events as me
from monreq.domain import telling_commands as t
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decide import decide
from monreq.domain.fold import fold
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Call, Kind, Outcome
from monreq.domain.sense import doubts
from monreq.domain.setup import Mix, Output, Setting, Source, SourceKind
from monreq.domain.show import Show
from monreq.domain.typed_commands import EnterTyped
from tests.domain.test_any_commands import anything_of
from tests.support.guarded_bounds import line_up
from tests.support.guarded_evening import Evening
from tests.support.stage import START_MS, Stage, small_stage, standing

TYPED = "a hand typed where it stands"
LOWER = "it only goes down, out or away"
START = "it begins low, or as it was kept and converted, before anybody hears it"
TURNED = (
    "a hand turned the gain and says so; it is refused while a mix is not lowered, unless that is said too"
)
SET_UP = "the mix comes out of another output, or of one instead of two: typed in Prepare"
GUARDED = "as far as the guard advises; a figure that was typed or shown is recorded as it was"

# What each command can do to levels, and why that is no way past the guard.
ROADS = {
    (c.Answer, e.RequestsAnswered): GUARDED,
    (c.Undo, e.DecisionUndone): GUARDED,
    (c.CorrectLevel, e.LevelCorrected): TYPED,
    (c.EnterSettings, e.LevelCorrected): TYPED,
    (c.EnterSettings, e.SendPut): TYPED,
    (c.PutSend, e.SendPut): TYPED,
    (c.PutMix, e.SendPut): START,
    (c.PutSource, e.SendPut): START,
    (c.PutMix, e.MixPut): SET_UP,
    (c.PutMix, ke.LevelsPutLow): LOWER,
    (EnterTyped, e.RequestsAnswered): TYPED,
    (EnterTyped, e.LevelCorrected): TYPED,
    (EnterTyped, e.SendPut): TYPED,
    (k.CarryLevels, ke.LevelsCarried): START,
    (m.ConfirmPreamp, me.PreampMoved): TURNED,
    (t.TakeBackRaise, e.RequestsAnswered): LOWER,
    (c.RemoveSend, e.SendRemoved): LOWER,
    (c.RemoveSource, e.SendRemoved): LOWER,
    (c.RemoveSource, e.SourceRemoved): LOWER,
    (c.RemoveMix, e.MixRemoved): LOWER,
}
COMPOSED = (k.DoTogether, EnterTyped)  # made of these, each decided by itself


def busy_stage() -> Stage:
    """Return a show in which everything can happen: requests, calls, a decision, a planned and a turned preamp."""
    stage = small_stage()
    stage.put("ears", "guitar", -250, 40)
    stage.done(stage.ask("ears", "voice", -30, "bass"))
    stage.turn_preamp(stage.plan_preamp("guitar", -30))
    stage.plan_preamp("drums", -60)
    stage.ask("front", "voice", 30)
    stage.ask("front", None, 30)
    stage.ask_out("ears", "guitar", "bass")
    stage.ask_pan("ears", "guitar", 20, "bass")
    stage.call("front", Call.SQUEAL)
    return stage


def is_moved(before: Show, after: Show) -> bool:
    return standing(before) != standing(after) or before.gains != after.gains


def events_of(command: type) -> set[type]:
    """Return the kinds of event that a road of a command goes by."""
    return {event for of, event in ROADS if of is command}


MOVING = {event for _, event in ROADS}


@pytest.mark.parametrize("kind", typing.get_args(e.Event), ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
def test_every_event_that_moves_something_is_on_a_known_road(kind: type, data: st.DataObject) -> None:
    show = busy_stage().show
    event = data.draw(anything_of(kind, "", show))

    try:
        after = fold(show, [e.Recorded(show.revision + 1, START_MS, e.DESK, event)])
    except (KeyError, AttributeError, TypeError, ValueError, OverflowError):
        return  # no such event is ever decided on this state

    assert kind in MOVING or not is_moved(show, after)


@pytest.mark.parametrize("kind", typing.get_args(c.Command), ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(max_examples=20, deadline=None)
def test_every_command_that_moves_something_is_a_known_road(kind: type, data: st.DataObject) -> None:
    show = busy_stage().show

    try:
        events = decide(show, data.draw(anything_of(kind, "", show)), START_MS)
    except Refusal:
        return

    for event in events if kind not in COMPOSED else ():
        after = fold(show, [e.Recorded(show.revision + 1, START_MS, e.DESK, event)])
        assert type(event) in events_of(kind) or not is_moved(show, after)
        show = after


START_ENTERED = c.EnterSettings("front", (("voice", Setting(-100)),))


def one_of_each_road() -> dict[tuple[type, type], c.Command]:
    """Return a command for each road, on a busy stage."""
    show = busy_stage().show
    waiting = {(request.key.source, request.key.kind): request.id for request in show.open_requests.values()}
    planned = next(change.id for change in show.preamp_changes.values() if not change.is_moved)
    guitar, call = waiting["guitar", Kind.IN_OUT], waiting[None, Kind.CALL]
    commands: list[tuple[type, c.Command]] = [
        (e.RequestsAnswered, c.Answer((guitar,), Outcome.DONE)),
        (e.DecisionUndone, c.Undo(next(iter(show.decisions)))),
        (e.LevelCorrected, c.CorrectLevel("front", "voice", -100)),
        (e.SendPut, c.EnterSettings("front", (("voice", Setting(-100)),))),
        (e.SendPut, c.PutSend("front", "voice", Setting(-100))),
        (e.SendPut, c.PutMix(Mix("side", "Side", Output.WEDGE, ()))),
        (e.SendPut, c.PutSource(Source("horn", "Horn", SourceKind.OPEN_MIC))),
        (e.MixPut, c.PutMix(Mix("ears", "Ears", Output.WEDGE, ("bass", "drummer")))),
        (ke.LevelsCarried, k.CarryLevels("front", (("voice", Setting(-100)),))),
        (me.PreampMoved, m.ConfirmPreamp(planned)),
        (e.RequestsAnswered, t.TakeBackRaise((call,), None, -30)),
        (e.SendRemoved, c.RemoveSend("front", "voice")),
        (e.SendRemoved, c.RemoveSource("voice")),
        (e.SourceRemoved, c.RemoveSource("guitar")),
        (e.MixRemoved, c.RemoveMix("front")),
        (ke.LevelsPutLow, c.PutMix(Mix("front", "Front", Output.IN_EAR_PAIR, ("singer",)))),
    ]
    listed = {(type(command), event): command for event, command in commands}
    typed: list[c.Command] = [
        c.Answer((guitar,), Outcome.DONE),
        c.CorrectLevel("front", "voice", -100),
        START_ENTERED,
    ]
    of = (e.RequestsAnswered, e.LevelCorrected, e.SendPut)
    return listed | {(EnterTyped, event): confirmed(show, one) for event, one in zip(of, typed, strict=True)}


def confirmed(show: Show, command: c.Command) -> EnterTyped:
    """Return what was typed, and asked about, and typed again."""
    names = (one.name for one in doubts(show, decide(show, command, START_MS), ()))
    return EnterTyped(command, (), tuple(names))


@pytest.mark.parametrize("road", ROADS, ids=lambda road: f"{road[0].__name__}-{road[1].__name__}")
def test_no_road_is_listed_that_nothing_goes_by(road: tuple[type, type]) -> None:
    stage = busy_stage()
    if road == (c.EnterSettings, e.LevelCorrected):
        stage.mark()
    commands = one_of_each_road()
    command = commands.get(road) or commands[road[0], e.SendPut]

    events = decide(stage.show, command, START_MS)

    moved = set()
    for event in events:
        before = stage.show
        stage.show = fold(before, [e.Recorded(before.revision + 1, START_MS, e.DESK, event)])
        moved |= {type(event)} if is_moved(before, stage.show) else set()
    assert road[1] in moved


@pytest.fixture
def _nothing_is_advised(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the guard advise nothing at all."""
    none = Caution(CautionCode.AFTER_HURTS, -9999)
    monkeypatch.setattr(guard, "_limits", lambda *_, **__: [none])
    monkeypatch.setattr(guard, "comes_in_limits", lambda *_: [none])
    monkeypatch.setattr(guard, "louder_than_advised", lambda *_: none)


STEPS = st.lists(
    st.tuples(
        st.sampled_from(
            [
                "ask",
                "ask",
                "in",
                "pan",
                "take",
                "take",
                "take",
                "undo",
                "correct",
                "plan",
                "turn",
                "drop",
                "hurts",
            ]
        ),
        st.integers(0, 999),
        st.integers(0, 999),
    ),
    min_size=20,
    max_size=60,
)


class Unmoved(Evening):
    """An evening on which advice must raise nothing."""

    def _check(self, before: Show, mix: str, row: object) -> None:
        del row
        was, now = before.levels[mix], self.show.levels[mix]
        assert now.output.setting.level_tenths <= was.output.setting.level_tenths
        for source, position in now.sends.items():
            old, new = was.sends[source].setting, position.setting
            assert old.is_on or not new.is_on
            assert new.level_tenths <= old.level_tenths or not new.is_on
        assert not guard._is_louder(before, self.show, mix)


@pytest.mark.usefixtures("_nothing_is_advised")
@given(st.integers(0, 10_000), STEPS)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_where_the_guard_advises_nothing_no_suggestion_and_no_undo_raises_anything(
    seed: int, steps: list[tuple[str, int, int]]
) -> None:
    evening = Unmoved(line_up(seed))

    for kind, one, other in steps:
        evening.step(kind, one, other)
