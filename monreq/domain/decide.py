"""The one gate to the log: what a command comes to on a given state, as events or a refusal."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from monreq.domain import band_commands as b
from monreq.domain import carry_commands as k
from monreq.domain import commands as c
from monreq.domain import (
    decide_answering,
    decide_asking,
    decide_band,
    decide_calls,
    decide_carry,
    decide_exposure,
    decide_groups,
    decide_hearing,
    decide_line_check,
    decide_measuring,
    decide_notes,
    decide_setup,
    decide_songs,
    decide_stage,
    decide_typed,
    decide_undo,
)
from monreq.domain import group_commands as g
from monreq.domain import hearing_commands as h
from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain import stage_commands as s
from monreq.domain import telling_commands as t
from monreq.domain import typed_commands as y
from monreq.domain.events import Event
from monreq.domain.refusals import ShowClosed, UnknownShow
from monreq.domain.show import Show

# Each function takes the one command type it stands beside; a test keeps the list complete.
_DECIDE: Mapping[type, Callable[[Show, Any], tuple[Event, ...]]] = {
    c.OpenShow: decide_setup.open_show,
    c.RenameShow: decide_setup.rename_show,
    c.CloseShow: decide_setup.close_show,
    c.ChangeSettings: decide_setup.change_settings,
    c.PutSource: decide_setup.put_source,
    c.RemoveSource: decide_setup.remove_source,
    c.ReorderSources: decide_setup.reorder_sources,
    c.PutMusician: decide_setup.put_musician,
    c.RemoveMusician: decide_setup.remove_musician,
    c.PutMix: decide_setup.put_mix,
    c.RemoveMix: decide_setup.remove_mix,
    c.PutSend: decide_setup.put_send,
    c.RemoveSend: decide_setup.remove_send,
    c.ReplaceCode: decide_setup.replace_code,
    c.AskForLevel: decide_asking.ask_for_level,
    c.AskForPan: decide_asking.ask_for_pan,
    c.AskForInOrOut: decide_asking.ask_for_in_or_out,
    c.AskAboutSound: decide_asking.ask_about_sound,
    c.CallDesk: decide_asking.call_desk,
    c.Withdraw: decide_asking.withdraw,
    c.Answer: decide_answering.answer,
    c.Undo: decide_undo.undo,
    c.CorrectLevel: decide_answering.correct_level,
    c.EnterSettings: decide_answering.enter_settings,
    g.PutGroup: decide_groups.put_group,
    g.RemoveGroup: decide_groups.remove_group,
    h.SayHeard: decide_hearing.say_heard,
    m.PlanPreampChange: decide_measuring.plan_preamp_change,
    m.ConfirmPreamp: decide_measuring.confirm_preamp,
    m.DropPreampChange: decide_measuring.drop_preamp_change,
    m.ReadMargin: decide_measuring.read_margin,
    m.MakeMarginsStale: decide_measuring.make_margins_stale,
    m.CountOpenMics: decide_measuring.count_open_mics,
    m.MeasureEarLevel: decide_exposure.measure_ear_level,
    s.DescribeDesk: decide_stage.describe_desk,
    s.NumberAuxes: decide_stage.number_auxes,
    s.PlaceOnStage: decide_stage.place_on_stage,
    b.ChooseBand: decide_band.choose_band,
    b.AskToKeep: decide_band.ask_to_keep,
    b.AnswerKeep: decide_band.answer_keep,
    b.NoteKept: decide_band.note_kept,
    k.CarryLevels: decide_carry.carry_levels,
    k.NoteMatches: decide_carry.note_matches,
    k.DoTogether: lambda show, command: decide_carry.together(show, command, decide),
    so.PutSetList: decide_songs.put_set_list,
    so.ChooseSong: decide_songs.choose_song,
    so.BeginSong: decide_songs.begin_song,
    so.BeginGap: decide_songs.begin_gap,
    so.TakeBackStretch: decide_songs.take_back_stretch,
    so.PlanSongMoves: decide_songs.plan_song_moves,
    so.DropSongMoves: decide_songs.drop_song_moves,
    t.SayCallsSeen: decide_calls.say_calls_seen,
    t.TakeBackRaise: decide_calls.take_back_raise,
    t.SendNote: decide_notes.send_note,
    t.AnswerNote: decide_notes.answer_note,
    t.TakeNoteBack: decide_notes.take_note_back,
    t.BeginLineCheck: decide_line_check.begin_line_check,
    t.AnswerLineCheck: decide_line_check.answer_line_check,
    t.EndLineCheck: decide_line_check.end_line_check,
    c.MarkSoundcheck: decide_answering.mark_soundcheck,
    y.EnterTyped: lambda show, command: decide_typed.enter_typed(show, command, decide),
}


def decide(show: Show, command: c.Command, now_ms: int) -> tuple[Event, ...]:
    """Decide a command on a state.

    Args:
        show: The state, including every event before this one.
        command: What a person wants.
        now_ms: The time at which the events will be recorded. [ms since 1970, UTC]

    Returns:
        The events to append, none if there is nothing to change.

    Raises:
        Refusal: Why it cannot be; nothing is to be stored.
    """
    if not isinstance(command, c.OpenShow):
        if show.revision == 0:
            raise UnknownShow
        # A code in wrong hands still shows what there was, so it can be replaced when all else is over.
        if not show.is_open and not isinstance(command, c.ReplaceCode):
            raise ShowClosed
    if isinstance(command, c.Undo | c.Answer | y.EnterTyped):
        # A day that became full since, what was heard a moment ago: it counts as of now, as on the desk's page.
        show = replace(show, at_ms=max(show.at_ms, now_ms))
    return _DECIDE[type(command)](show, command)
