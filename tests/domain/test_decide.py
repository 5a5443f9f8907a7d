"""The gate: every command has its decision, and a show that is not open takes none."""

from typing import get_args

import pytest

from monreq.domain import band_commands as b
from monreq.domain import carry_commands as k
from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain import hearing_commands as h
from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain import stage_commands as s
from monreq.domain import telling_commands as t
from monreq.domain.decide import _DECIDE, decide
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.groups import Group
from monreq.domain.hearing import Heard
from monreq.domain.notes import Reply
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import IdTaken, ShowClosed, UnknownShow
from monreq.domain.requests import Call, Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Settings, Source, SourceKind
from monreq.domain.show import Show
from monreq.domain.songs import Song
from monreq.domain.typed_commands import EnterTyped
from tests.support.stage import START_MS, small_stage

EVERY_BUT_OPEN: list[c.Command] = [
    c.RenameShow("Late show"),
    c.CloseShow(),
    c.ChangeSettings(Settings()),
    c.PutSource(Source("horn", "Horn", SourceKind.OPEN_MIC)),
    c.RemoveSource("voice"),
    c.ReorderSources(()),
    c.PutMusician(Musician("horn", "Horn")),
    c.RemoveMusician("singer"),
    c.PutMix(Mix("fill", "Fill", Output.WEDGE, ())),
    c.RemoveMix("front"),
    c.PutSend("front", "voice", Setting(0)),
    c.RemoveSend("front", "voice"),
    c.ReplaceCode(None),
    c.AskForLevel("front", None, "voice", 30),
    c.AskForPan("ears", "bass", "voice", 20),
    c.AskForInOrOut("front", None, "voice", is_in=False),
    c.AskAboutSound("front", None, "voice", "muddy"),
    c.CallDesk("front", None, Call.HURTS),
    c.Withdraw("r1"),
    c.Answer(("r1",), Outcome.DONE),
    c.Undo("d1"),
    c.CorrectLevel("front", "voice", -100),
    c.EnterSettings("front", (("voice", Setting(-100)),)),
    g.PutGroup(Group("band", "Band", ("voice", "drums"))),
    g.RemoveGroup("band"),
    h.SayHeard("front", None, "d1", Heard.RIGHT),
    m.PlanPreampChange("voice", 30),
    m.ConfirmPreamp("p1"),
    m.DropPreampChange("p1"),
    m.ReadMargin("front", "voice", 90, 3),
    m.MakeMarginsStale("front", "another mic"),
    m.CountOpenMics(4),
    m.MeasureEarLevel("ears", 940, EarMethod.COUPLER),
    s.DescribeDesk(DeskFacts(8)),
    s.NumberAuxes((("front", (1,)),)),
    s.PlaceOnStage(),
    b.ChooseBand("band1"),
    b.AskToKeep((("front", ((None, Setting(-60)),)),)),
    b.AnswerKeep("front", "q1", None, agrees=True),
    b.NoteKept(("front",), "Late show"),
    k.CarryLevels("front", (("voice", Setting(-100)),)),
    k.NoteMatches("band1", (("voice", "voice"),), (("front", "front"),)),
    k.DoTogether((c.RenameShow("Late show"),)),
    so.PutSetList((Song("blue", "Blue moor"),)),
    so.ChooseSong(None),
    so.BeginSong(),
    so.BeginGap(),
    so.TakeBackStretch(),
    so.PlanSongMoves("blue", ()),
    so.DropSongMoves("s1"),
    t.SayCallsSeen(("r1",)),
    t.TakeBackRaise(("r1",), "voice", -230),
    t.SendNote("two minutes"),
    t.AnswerNote("n1", "front", None, Reply.OK),
    t.TakeNoteBack("n1"),
    t.BeginLineCheck(),
    t.AnswerLineCheck("l1", "front", None, is_heard=True),
    t.EndLineCheck("l1"),
    c.MarkSoundcheck(),
    EnterTyped(c.CorrectLevel("front", "voice", -100)),
]


def test_every_command_has_its_decision() -> None:
    assert set(_DECIDE) == set(get_args(c.Command))


def test_the_list_here_is_every_command_but_opening() -> None:
    assert {type(command) for command in EVERY_BUT_OPEN} == set(get_args(c.Command)) - {c.OpenShow}


@pytest.mark.parametrize("command", EVERY_BUT_OPEN, ids=lambda command: type(command).__name__)
def test_show_that_never_began_takes_no_command(command: c.Command) -> None:
    with pytest.raises(UnknownShow):
        decide(Show("nosuch"), command, START_MS)


NOT_OF_CODES = [command for command in EVERY_BUT_OPEN if not isinstance(command, c.ReplaceCode)]


@pytest.mark.parametrize("command", NOT_OF_CODES, ids=lambda command: type(command).__name__)
def test_closed_show_takes_no_command(command: c.Command) -> None:
    stage = small_stage()
    stage.do(c.CloseShow())

    with pytest.raises(ShowClosed):
        stage.do(command)


def test_a_code_can_be_replaced_when_the_show_is_closed() -> None:
    stage = small_stage()
    stage.do(c.CloseShow())

    stage.do(c.ReplaceCode("front"))

    assert stage.show.generation("front") == 1


def test_closed_show_is_not_opened_again() -> None:
    stage = small_stage()
    stage.do(c.CloseShow())

    with pytest.raises(IdTaken):
        stage.do(c.OpenShow("Again"))


def test_closing_keeps_what_waits() -> None:
    stage = small_stage()
    request = stage.ask("front", "voice", 30)

    stage.do(c.CloseShow())

    assert list(stage.show.open_requests) == [request]


def test_deciding_leaves_the_state_untouched() -> None:
    stage = small_stage()
    before = stage.show

    events = decide(before, c.AskForLevel("front", None, "voice", 30), START_MS)

    assert len(events) == 1
    assert before == stage.at(before.revision)
