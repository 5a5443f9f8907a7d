"""The fold: how each event changes the state. Folding never refuses; what is recorded has happened."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import (
    fold_band,
    fold_carry,
    fold_groups,
    fold_guard,
    fold_hearing,
    fold_measuring,
    fold_requests,
    fold_songs,
    fold_stage,
    fold_telling,
)
from monreq.domain import group_events as g
from monreq.domain import hearing_events as h
from monreq.domain import measuring_events as m
from monreq.domain import song_events as so
from monreq.domain import stage_events as s
from monreq.domain import telling_events as t
from monreq.domain.levels import Levels, Position
from monreq.domain.setup import Mix
from monreq.domain.show import Show, without
from monreq.domain.subjects import EVERY_MIX, mix_subject, subjects


def fold(show: Show, log: Iterable[e.Recorded]) -> Show:
    """Return the state after the events that follow it in the log."""
    for recorded in log:
        applied = _APPLY[type(recorded.event)](show, recorded.event, recorded)
        applied = fold_measuring.ears_turned(applied, recorded.at_ms)
        show = fold_guard.track(show, applied, recorded)
        changed_at = _changed_at(show, recorded)
        show = replace(show, revision=recorded.revision, at_ms=recorded.at_ms, changed_at=changed_at)
    return show


def after(show: Show, events: Sequence[e.Event]) -> Show:
    """Return the state that events would leave, were they recorded now by the desk."""
    first = show.revision + 1
    return fold(
        show, [e.Recorded(first + place, show.at_ms, e.DESK, event) for place, event in enumerate(events)]
    )


def _changed_at(show: Show, recorded: e.Recorded) -> Mapping[str, int]:
    """Stamp the mixes an event shows in: its own, or all where it belongs to none."""
    of_mixes = [subject for subject in subjects(recorded.event) if subject.startswith("mix:")]
    if of_mixes and EVERY_MIX not in of_mixes:
        touched = [mix for mix in show.mixes if mix_subject(mix) in of_mixes]
    else:
        touched = list(show.mixes)
    return {**show.changed_at, **dict.fromkeys(touched, recorded.revision)}


def _show_opened(show: Show, event: e.ShowOpened, _: e.Recorded) -> Show:
    return replace(show, name=event.name, is_demo=event.is_demo, is_open=True)


def _show_renamed(show: Show, event: e.ShowRenamed, _: e.Recorded) -> Show:
    return replace(show, name=event.name)


def _show_closed(show: Show, _event: e.ShowClosedForGood, _: e.Recorded) -> Show:
    return replace(show, is_open=False)


def _settings_changed(show: Show, event: e.SettingsChanged, _: e.Recorded) -> Show:
    return replace(show, settings=event.settings)


def _source_put(show: Show, event: e.SourcePut, _: e.Recorded) -> Show:
    return replace(show, sources={**show.sources, event.source.id: event.source})


def _source_removed(show: Show, event: e.SourceRemoved, _: e.Recorded) -> Show:
    show = fold_stage.without_source(fold_measuring.without_source(show, event.source), event.source)
    show = fold_telling.without_source(show, event.source)
    return replace(show, sources=without(show.sources, [event.source]))


def _sources_reordered(show: Show, event: e.SourcesReordered, _: e.Recorded) -> Show:
    return replace(show, sources={source: show.sources[source] for source in event.sources})


def _musician_put(show: Show, event: e.MusicianPut, _: e.Recorded) -> Show:
    return replace(show, musicians={**show.musicians, event.musician.id: event.musician})


def _musician_removed(show: Show, event: e.MusicianRemoved, _: e.Recorded) -> Show:
    show = fold_stage.without_musician(show, event.musician)
    mixes = {
        mix.id: replace(mix, musicians=tuple(one for one in mix.musicians if one != event.musician))
        for mix in show.mixes.values()
    }
    return replace(show, musicians=without(show.musicians, [event.musician]), mixes=mixes)


def _mix_put(show: Show, event: e.MixPut, _: e.Recorded) -> Show:
    show = _without_mark_of_other_output(fold_measuring.mix_put(show, event.mix), event.mix)
    show = replace(show, mixes={**show.mixes, event.mix.id: event.mix})
    if event.mix.is_stereo or event.mix.id not in show.levels:
        return show
    return replace(show, levels={**show.levels, event.mix.id: _without_pan(show.levels[event.mix.id])})


def _without_mark_of_other_output(show: Show, mix: Mix) -> Show:
    """Compare a mix that comes from another output no more with how it stood before: the figures have no scale in common."""
    old = show.mixes.get(mix.id)
    if show.mark is None or old is None or old.output is mix.output:
        return show
    return replace(show, mark=without(show.mark, [mix.id]))


def _without_pan(levels: Levels) -> Levels:
    """Put every send in the middle: a mono mix has no left and right."""
    sends = {
        source: replace(position, setting=replace(position.setting, pan_percent=0))
        for source, position in levels.sends.items()
    }
    return replace(levels, sends=sends)


def _mix_removed(show: Show, event: e.MixRemoved, _: e.Recorded) -> Show:
    show = fold_telling.without_mix(fold_measuring.without_mix(show, event.mix), event.mix)
    show = fold_band.without_mix(show, event.mix)
    return replace(
        show,
        mixes=without(show.mixes, [event.mix]),
        levels=without(show.levels, [event.mix]),
        changed_at=without(show.changed_at, [event.mix]),
        ear_levels=without(show.ear_levels, [event.mix]),
        to_hear=without(show.to_hear, [event.mix]),
    )


def _send_put(show: Show, event: e.SendPut, recorded: e.Recorded) -> Show:
    old = show.levels.get(event.mix)
    before = old.at(event.source) if old else None
    # What a send begins with was planned, not looked at on the desk.
    position = (
        Position(event.setting, entered_at=recorded.revision)
        if before is None
        else replace(
            before,
            setting=event.setting,
            confirmed_at_ms=recorded.at_ms,
            entered_at=before.entered(event.setting.level_tenths, recorded.revision),
        )
    )
    levels = Levels(position) if old is None else old.with_position(event.source, position)
    return replace(show, levels={**show.levels, event.mix: levels})


def _send_removed(show: Show, event: e.SendRemoved, _: e.Recorded) -> Show:
    old = show.levels[event.mix]
    levels = replace(old, sends=without(old.sends, [event.source]))
    return replace(show, levels={**show.levels, event.mix: levels})


def _gap_begun(show: Show, event: so.GapBegun, recorded: e.Recorded) -> Show:
    return fold_songs.gap_begun(fold_hearing.song_over(show), event, recorded)


def _code_replaced(show: Show, event: e.CodeReplaced, _: e.Recorded) -> Show:
    return replace(show, codes={**show.codes, event.mix: show.codes.get(event.mix, 0) + 1})


def _soundcheck_marked(show: Show, _event: e.SoundcheckMarked, recorded: e.Recorded) -> Show:
    levels = {mix: _nothing_done(old) for mix, old in show.levels.items()}
    show = fold_hearing.soundcheck_over(show)
    return replace(show, levels=levels, mark=levels, marked_at_ms=recorded.at_ms, marked_gains=show.gains)


def _nothing_done(levels: Levels) -> Levels:
    return Levels(
        output=replace(levels.output, done_tenths=0),
        sends={source: replace(position, done_tenths=0) for source, position in levels.sends.items()},
    )


# Each function takes the one event type it stands beside; a test keeps the list complete.
_APPLY: Mapping[type, Callable[[Show, Any, e.Recorded], Show]] = {
    e.ShowOpened: _show_opened,
    e.ShowRenamed: _show_renamed,
    e.ShowClosedForGood: _show_closed,
    e.SettingsChanged: _settings_changed,
    e.SourcePut: _source_put,
    e.SourceRemoved: _source_removed,
    e.SourcesReordered: _sources_reordered,
    e.MusicianPut: _musician_put,
    e.MusicianRemoved: _musician_removed,
    e.MixPut: _mix_put,
    e.MixRemoved: _mix_removed,
    e.SendPut: _send_put,
    e.SendRemoved: _send_removed,
    e.CodeReplaced: _code_replaced,
    e.ChangeAsked: fold_requests.change_asked,
    e.RequestsCancelledOut: fold_requests.requests_cancelled_out,
    e.RequestWithdrawn: fold_requests.request_withdrawn,
    e.RequestsAnswered: fold_requests.requests_answered,
    e.DecisionUndone: fold_requests.decision_undone,
    e.LevelCorrected: fold_requests.level_corrected,
    g.GroupPut: fold_groups.group_put,
    g.GroupRemoved: fold_groups.group_removed,
    h.HeardSaid: fold_hearing.heard_said,
    m.PreampChangePlanned: fold_measuring.preamp_change_planned,
    m.PreampMoved: fold_measuring.preamp_moved,
    m.PreampChangeDropped: fold_measuring.preamp_change_dropped,
    m.MarginRead: fold_measuring.margin_read,
    m.MarginsMadeStale: fold_measuring.margins_made_stale,
    m.OpenMicsCounted: fold_measuring.open_mics_counted,
    m.EarLevelMeasured: fold_measuring.ear_level_measured,
    s.DeskDescribed: fold_stage.desk_described,
    s.MusicianPlaced: fold_stage.musician_placed,
    s.SourcePlaced: fold_stage.source_placed,
    k.BandMatched: fold_carry.band_matched,
    k.LevelsCarried: fold_carry.levels_planned,
    k.LevelsPutLow: fold_carry.levels_planned,
    b.BandChosen: fold_band.band_chosen,
    b.KeepAsked: fold_band.keep_asked,
    b.KeepAnswered: fold_band.keep_answered,
    b.MixKept: fold_band.mix_kept,
    so.SetListPut: fold_songs.set_list_put,
    so.SongChosen: fold_songs.song_chosen,
    so.SongBegun: fold_songs.song_begun,
    so.GapBegun: _gap_begun,
    so.StretchTakenBack: fold_songs.stretch_taken_back,
    so.SongMovesPlanned: fold_songs.song_moves_planned,
    so.SongMovesDropped: fold_songs.song_moves_dropped,
    t.CallsSeen: fold_telling.calls_seen,
    t.NoteSent: fold_telling.note_sent,
    t.NoteAnswered: fold_telling.note_answered,
    t.NoteTakenBack: fold_telling.note_taken_back,
    t.LineCheckBegun: fold_telling.line_check_begun,
    t.LineHeard: fold_telling.line_heard,
    t.LineCheckEnded: fold_telling.line_check_ended,
    e.SoundcheckMarked: _soundcheck_marked,
}
