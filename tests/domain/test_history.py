"""A mix's history, and the difference between two moments of it."""

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.carry_commands import CarryLevels
from monreq.domain.events import Recorded
from monreq.domain.hearing import Heard
from monreq.domain.hearing_commands import SayHeard
from monreq.domain.history import Difference, Entry, What, difference, history
from monreq.domain.readings import EarMethod
from monreq.domain.requests import Call, Kind, Move, Way
from monreq.domain.setup import Setting
from monreq.domain.subjects import EVERY_MIX, mix_subject, subjects
from tests.support.stage import START_MS, Stage, small_stage


def about(stage: Stage, mix: str) -> list[Recorded]:
    wanted = {mix_subject(mix), EVERY_MIX}
    return [one for one in stage.log if wanted.intersection(subjects(one.event))]


def entries_after(stage: Stage, revision: int, mix: str = "front") -> list[Entry]:
    return [entry for entry in history(about(stage, mix)) if entry.revision > revision]


def test_every_event_about_a_mix_is_an_entry() -> None:
    stage = small_stage()
    first, second = stage.ask("front", "voice", 30), stage.ask("front", "drums", 10)
    decision = stage.done(first)
    stage.do(SayHeard("front", None, decision, Heard.RIGHT))
    stage.undo(decision)
    stage.not_done(first)
    stage.set_aside(second)
    stage.withdraw(second)
    stage.ask("front", "guitar", 10)
    stage.ask("front", "guitar", -10)
    stage.correct("front", "voice", level=-50)
    stage.do(c.RemoveSend("front", "drums"))
    stage.do(CarryLevels("front", ((None, Setting(-60)), ("voice", Setting(-80)))))
    stage.mark()
    stage.read_margin("front", "voice", 90)
    stage.in_ears("front", "singer")
    stage.make_stale("front")
    stage.drop_preamp(stage.plan_preamp("voice", 30))
    stage.turn_preamp(stage.plan_preamp("voice", -30))
    stage.do(m.MeasureEarLevel("front", 950, EarMethod.AT_THE_EAR))
    stage.do(c.RemoveMix("front"))

    entries = history(about(stage, "front"))

    assert [entry.revision for entry in entries] == [one.revision for one in about(stage, "front")]
    assert {entry.what for entry in entries} == set(What)


def test_an_entry_of_an_answer_has_the_settings_around_the_move() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 40)
    start = stage.show.revision
    stage.wait(3)
    decision = stage.done(request, change=20, why="near_feedback")

    assert entries_after(stage, start) == [
        Entry(
            revision=start + 1,
            at_ms=START_MS + 3000,
            by="desk",
            what=What.DONE,
            source="guitar",
            kind=Kind.LEVEL,
            amount=40,
            before=Setting(-200),
            after=Setting(-180),
            reason="near_feedback",
            requests=(request,),
            decision=decision,
        )
    ]


def test_an_entry_of_another_way_has_its_further_moves_and_so_has_its_undoing() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 60)
    start = stage.show.revision
    stage.undo(stage.done(request, way=Way.REST_DOWN))

    done, undone = entries_after(stage, start)

    assert (done.way, done.before, done.after) == (Way.REST_DOWN, None, None)
    assert done.also == tuple(
        Move("front", source, Setting(-200), Setting(-260)) for source in ("voice", "drums")
    )
    assert (undone.way, undone.what) == (Way.REST_DOWN, What.UNDONE)
    assert undone.also == tuple(
        Move("front", source, Setting(-260), Setting(-200)) for source in ("voice", "drums")
    )


def test_a_preamp_that_is_turned_stands_in_every_history_with_what_makes_up_for_it() -> None:
    stage = small_stage()
    start = stage.show.revision
    change = stage.plan_preamp("voice", 60)
    stage.turn_preamp(change, though_rows_wait=True)

    planned, asked, turned = entries_after(stage, start, "ears")

    assert (planned.what, planned.source, planned.amount) == (What.PREAMP_PLANNED, "voice", 60)
    assert (asked.what, asked.by, asked.amount, asked.group) == (What.ASKED, "desk", -60, change)
    assert (turned.what, turned.source, turned.amount) == (What.PREAMP_TURNED, "voice", 60)


def test_a_reading_stands_in_the_history_with_how_many_mics_were_open() -> None:
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=4)
    stage.make_stale("front", "wedge turned")

    read, stale = history(about(stage, "front"))[-2:]

    assert (read.what, read.source, read.amount, read.open_mics) == (What.MARGIN_READ, "voice", 90, 4)
    assert (stale.what, stale.reason) == (What.MARGINS_STALE, "wedge turned")


def test_an_entry_of_asking_is_the_musicians() -> None:
    stage = small_stage()
    start = stage.show.revision
    stage.ask_sound("ears", "guitar", "harsh", "bass")
    stage.call("ears", Call.TALK, "drummer")

    entries = entries_after(stage, start, "ears")

    assert [(entry.by, entry.words, entry.call) for entry in entries] == [
        ("bass", "harsh", None),
        ("drummer", "", Call.TALK),
    ]


def test_what_is_taken_back_or_withdrawn_says_what_it_was() -> None:
    stage = small_stage()
    answered, withdrawn = stage.ask("front", "guitar", 40), stage.ask("front", "voice", 10)
    decision = stage.not_done(answered)
    start = stage.show.revision
    stage.undo(decision)
    stage.withdraw(withdrawn)

    undone, taken_back = entries_after(stage, start)

    assert (undone.what, undone.source, undone.kind, undone.amount) == (
        What.UNDONE,
        "guitar",
        Kind.LEVEL,
        40,
    )
    assert (undone.decision, undone.requests) == (decision, (answered,))
    assert (taken_back.what, taken_back.source, taken_back.amount) == (What.WITHDRAWN, "voice", 10)
    assert taken_back.requests == (withdrawn,)


def test_requests_that_cancel_out_are_named_together() -> None:
    stage = small_stage()
    first, second = stage.ask("front", "guitar", 10), stage.ask("front", "guitar", -10)

    entry = history(about(stage, "front"))[-1]

    assert (entry.what, entry.source, entry.requests) == (What.CANCELLED_OUT, "guitar", (first, second))


def test_a_mix_has_nothing_of_another_in_its_history() -> None:
    stage = small_stage()
    start = stage.show.revision
    stage.ask("front", "guitar", 10)

    assert entries_after(stage, start, "ears") == []


def test_nothing_differs_between_a_moment_and_itself() -> None:
    stage = small_stage()

    assert difference(stage.show, stage.show, "front") == ()


def test_what_moved_differs_the_output_first_and_then_in_the_order_of_the_input_list() -> None:
    stage = small_stage()
    then = stage.show
    stage.correct("ears", "guitar", is_on=False)
    stage.correct("ears", "voice", level=-100, pan=20)
    stage.correct("ears", None, level=-50)
    stage.correct("front", "drums", level=0)

    assert difference(then, stage.show, "ears") == (
        Difference(None, Setting(-100), Setting(-50)),
        Difference("voice", Setting(-250), Setting(-100, 20)),
        Difference("guitar", Setting(-250), Setting(-250, is_on=False)),
    )


def test_what_was_undone_does_not_differ() -> None:
    stage = small_stage()
    then = stage.show
    stage.undo(stage.done(stage.ask("front", "guitar", 30)))

    assert difference(then, stage.show, "front") == ()


def test_sources_that_came_and_went_differ_from_nothing() -> None:
    stage = small_stage()
    then = stage.show
    stage.do(c.RemoveSource("guitar"))
    stage.source("horn")

    assert difference(then, stage.show, "front") == (
        Difference("horn", None, stage.setting("front", "horn")),
        Difference("guitar", Setting(-200), None),
    )


def test_a_mix_that_was_not_there_yet_stands_nowhere() -> None:
    stage = small_stage()
    then = stage.at(1)

    (output, *sends) = difference(then, stage.show, "front")

    assert output == Difference(None, None, Setting(0))
    assert [(one.source, one.then) for one in sends] == [
        ("voice", None),
        ("drums", None),
        ("guitar", None),
        ("talk", None),
    ]
