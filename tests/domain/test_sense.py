"""What is typed at the desk is looked at before it is recorded: what is doubted, what is not, and how it is confirmed."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.decide import decide
from monreq.domain.events import RequestsAnswered
from monreq.domain.group_commands import PutGroup
from monreq.domain.groups import Group
from monreq.domain.refusals import OutsideRange
from monreq.domain.requests import Call, Kind, Outcome
from monreq.domain.sense import Doubt, DoubtCode, MakesLittleSense
from monreq.domain.setup import Setting
from monreq.domain.typed_commands import EnterTyped
from monreq.domain.unusual import ShowsBefore
from tests.support.stage import START_MS, Stage, small_stage

SENDS = ("voice", "drums", "guitar", "talk")
BEFORE: ShowsBefore = (("front", tuple((one, -200) for one in SENDS)),) * 5


@pytest.fixture
def stage() -> Stage:
    """A wedge whose levels were confirmed, at the soundcheck mark."""
    return marked()


def marked() -> Stage:
    stage = small_stage()
    for source in (None, *SENDS):
        stage.correct("front", source, stage.level("front", source))
    stage.mark()
    return stage


def doubts(stage: Stage, command: c.Command, before: ShowsBefore = ()) -> tuple[Doubt, ...]:
    """Return what is doubted about something typed; nothing where it is taken."""
    try:
        decide(stage.show, EnterTyped(command, before), START_MS)
    except MakesLittleSense as doubtful:
        return doubtful.doubts
    return ()


def done(request: str, change: int | None = None, read: int | None = None) -> c.Answer:
    return c.Answer((request,), Outcome.DONE, change, read)


def codes(found: tuple[Doubt, ...]) -> list[DoubtCode]:
    return [one.code for one in found]


@pytest.mark.parametrize("change", [0, 10, 30, 40])
def test_a_figure_in_the_direction_that_was_asked_is_taken(stage: Stage, change: int) -> None:
    assert doubts(stage, done(stage.ask("front", "guitar", 30), change)) == ()


@pytest.mark.parametrize(("asked", "typed"), [(30, -60), (-30, 20)])
def test_a_sign_against_what_was_asked_is_doubted(stage: Stage, asked: int, typed: int) -> None:
    found = doubts(stage, done(stage.ask("front", "guitar", asked), typed))

    assert found == (Doubt(DoubtCode.AGAINST_ASKED, "front", "guitar", Kind.LEVEL, typed, asked),)


def test_a_level_read_off_on_the_other_side_is_doubted_like_a_change(stage: Stage) -> None:
    assert codes(doubts(stage, done(stage.ask("front", "guitar", 30), read=-250))) == [
        DoubtCode.AGAINST_ASKED
    ]


def test_a_pan_against_what_was_asked_is_doubted() -> None:
    stage = small_stage()
    request = stage.ask_pan("ears", "voice", -20, "bass")

    assert doubts(stage, done(request, 20)) == (
        Doubt(DoubtCode.AGAINST_ASKED, "ears", "voice", Kind.PAN, 20, -20),
    )


def test_where_musicians_disagree_the_engineer_chooses_the_side() -> None:
    stage = small_stage()
    requests = (stage.ask("ears", "voice", 30, "bass"), stage.ask("ears", "voice", -10, "drummer"))

    assert doubts(stage, c.Answer(requests, Outcome.DONE, -10)) == ()


@pytest.mark.parametrize("call", [Call.HURTS, Call.SQUEAL])
def test_louder_at_a_call_is_doubted_and_quieter_never(stage: Stage, call: Call) -> None:
    request = stage.call("front", call)

    assert codes(doubts(stage, done(request, 30)))[0] is DoubtCode.LOUDER_AT_CALL
    assert doubts(stage, done(request, -150)) == ()


@pytest.mark.parametrize(("change", "is_doubted"), [(100, False), (101, True), (-100, False), (-101, True)])
def test_a_jump_of_more_than_ten_decibels_is_doubted(stage: Stage, change: int, *, is_doubted: bool) -> None:
    request = stage.ask("front", "guitar", 10 if change > 0 else -10)
    stage.correct("front", "guitar", -200)

    found = [one for one in doubts(stage, done(request, change)) if one.code is DoubtCode.JUMP]

    assert found == ([Doubt(DoubtCode.JUMP, "front", "guitar", typed=change)] if is_doubted else [])


def test_a_jump_from_what_was_only_planned_is_none() -> None:
    planned = small_stage()
    start = c.EnterSettings("front", (("voice", Setting(-60)), (None, Setting(-110))))

    assert doubts(planned, start) == ()


def test_a_correction_that_jumps_is_doubted_and_one_that_confirms_is_not(stage: Stage) -> None:
    assert codes(doubts(stage, c.CorrectLevel("front", "guitar", -350))) == [DoubtCode.JUMP]
    assert doubts(stage, c.CorrectLevel("front", "guitar", -200)) == ()
    assert doubts(stage, c.CorrectLevel("front", "guitar", is_on=False)) == ()


@pytest.mark.parametrize(("change", "left"), [(60, None), (61, 29)])
def test_a_raise_into_the_reserve_of_a_margin_that_was_read_is_doubted(
    stage: Stage, change: int, left: int | None
) -> None:
    stage.read_margin("front", "voice", 90, open_mics=3)
    request = stage.ask("front", "voice", 60)

    found = doubts(stage, done(request, change))

    assert found == (() if left is None else (Doubt(DoubtCode.INTO_RESERVE, "front", "voice", figure=left),))


def test_a_raise_of_the_output_into_the_reserve_names_the_mic(stage: Stage) -> None:
    stage.read_margin("front", "voice", 90, open_mics=3)

    assert doubts(stage, c.CorrectLevel("front", None, 70)) == (
        Doubt(DoubtCode.INTO_RESERVE, "front", "voice", figure=20),
    )


@pytest.mark.parametrize(
    ("call", "doubt"),
    [
        (Call.SQUEAL, Doubt(DoubtCode.AFTER_SQUEAL, "front", "voice")),
        (Call.HURTS, Doubt(DoubtCode.AFTER_HURTS, "front", None)),
    ],
)
def test_a_raise_of_the_output_to_where_it_squealed_or_hurt_is_doubted(
    stage: Stage, call: Call, doubt: Doubt
) -> None:
    stage.done(stage.call("front", call), change=-60)

    assert doubts(stage, c.CorrectLevel("front", None, -30)) == ()
    assert doubts(stage, c.CorrectLevel("front", None, -20)) == (doubt,)


def test_a_raise_past_the_bound_of_the_evening_is_doubted() -> None:
    stage = small_stage()
    for source in (None, *SENDS, "click"):
        stage.correct("ears", source, stage.level("ears", source))
    stage.correct("ears", "talk", -600)
    stage.mark()
    stage.correct("ears", "talk", -490)
    room = stage.show.settings.source_evening_tenths - 110

    assert doubts(stage, c.CorrectLevel("ears", "talk", -490 + room)) == ()
    assert doubts(stage, c.CorrectLevel("ears", "talk", -490 + room + 10)) == (
        Doubt(DoubtCode.PAST_EVENING, "ears", "talk"),
    )


def test_what_goes_down_is_never_doubted_for_where_it_stands(stage: Stage) -> None:
    stage.read_margin("front", "voice", 10, open_mics=3)

    assert doubts(stage, done(stage.ask("front", "voice", -30), -30)) == ()


def test_what_is_unusual_across_shows_is_doubted_once_it_goes_away_from_there(stage: Stage) -> None:
    stage.correct("front", "guitar", -100)
    request = stage.ask("front", "guitar", 20)

    assert doubts(stage, done(request, 20), BEFORE) == (
        Doubt(DoubtCode.UNUSUAL, "front", "guitar", figure=120, shows=5),
    )
    assert doubts(stage, c.CorrectLevel("front", "guitar", -120), BEFORE) == ()


def test_start_levels_are_held_against_the_shows_before() -> None:
    planned = small_stage()
    levels = {"voice": -200, "drums": -200, "guitar": -60, "talk": -200}
    for source in ("voice", "drums", "talk"):
        planned.correct("front", source, -200)

    found = doubts(
        planned,
        c.EnterSettings("front", tuple((one, Setting(level)) for one, level in levels.items())),
        BEFORE,
    )

    assert found == (Doubt(DoubtCode.UNUSUAL, "front", "guitar", figure=140, shows=5),)


def test_a_group_is_doubted_as_one(stage: Stage) -> None:
    stage.do(PutGroup(Group("band", "Band", ("drums", "guitar"))))
    request = stage.ask("front", "band", -30)

    assert doubts(stage, done(request, 20))[0] == Doubt(
        DoubtCode.AGAINST_ASKED, "front", "band", Kind.LEVEL, 20, -30
    )
    assert doubts(stage, done(request, -120)) == (Doubt(DoubtCode.JUMP, "front", "band", typed=-120),)


def test_confirmed_by_name_it_is_recorded_as_it_was(stage: Stage) -> None:
    request = stage.ask("front", "guitar", -30)

    stage.do(EnterTyped(done(request, 20), confirmed=("against_asked.guitar",)))

    assert stage.level("front", "guitar") == -180
    assert request in stage.show.closed


def test_another_doubt_than_the_one_confirmed_is_asked_about(stage: Stage) -> None:
    request = stage.ask("front", "guitar", -30)
    command = EnterTyped(done(request, 120), confirmed=("against_asked.guitar",))

    with pytest.raises(MakesLittleSense) as doubtful:
        stage.do(command)

    assert DoubtCode.JUMP in codes(doubtful.value.doubts)
    assert stage.level("front", "guitar") == -200


def test_what_is_refused_is_refused_and_not_asked_about(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.do(EnterTyped(c.CorrectLevel("front", "guitar", 5000)))


LEVELS = st.integers(-600, 100)


@given(st.data(), st.sampled_from(SENDS), LEVELS, st.integers(1, 90))
def test_whatever_is_typed_is_taken_once_its_doubts_are_confirmed(
    data: st.DataObject, source: str, level: int, margin: int
) -> None:
    stage = marked()
    stage.read_margin("front", "voice", margin, open_mics=3)
    request = stage.ask("front", source, 30 if source == "talk" else data.draw(st.sampled_from([-30, 30])))
    command: Any = data.draw(
        st.sampled_from(
            [
                done(request, read=level),
                c.CorrectLevel("front", source, level),
                c.EnterSettings("front", ((source, Setting(level)), (None, Setting(level)))),
            ]
        )
    )
    names = tuple(one.name for one in doubts(stage, command, BEFORE))

    events = decide(stage.show, EnterTyped(command, BEFORE, names), START_MS)

    bare = decide(stage.show, command, START_MS)
    assert [replace(one, is_typed=False) if isinstance(one, RequestsAnswered) else one for one in events] == [
        *bare
    ]
    assert all(one.is_typed for one in events if isinstance(one, RequestsAnswered))
