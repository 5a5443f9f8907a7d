"""The fold: how each event changes the state. Folding never refuses; what is recorded has happened."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import (
    fold_band,
    fold_carry,
    fold_groups,
    fold_measuring,
    fold_songs,
    fold_stage,
    fold_telling,
)
from monreq.domain import group_events as g
from monreq.domain import measuring_events as m
from monreq.domain import song_events as so
from monreq.domain import stage_events as s
from monreq.domain import telling_events as t
from monreq.domain.requests import Decision, Move, Outcome, Request, RowKey
from monreq.domain.show import Levels, Position, Show, without


def fold(show: Show, log: Iterable[e.Recorded]) -> Show:
    """Return the state after the events that follow it in the log."""
    for recorded in log:
        show = _APPLY[type(recorded.event)](show, recorded.event, recorded)
        changed_at = _changed_at(show, recorded)
        show = replace(show, revision=recorded.revision, at_ms=recorded.at_ms, changed_at=changed_at)
    return show


def _changed_at(show: Show, recorded: e.Recorded) -> Mapping[str, int]:
    """Stamp the mixes an event shows in: its own, or all where it belongs to none."""
    of_mixes = [subject for subject in e.subjects(recorded.event) if subject.startswith("mix:")]
    if of_mixes and e.EVERY_MIX not in of_mixes:
        touched = [mix for mix in show.mixes if e.mix_subject(mix) in of_mixes]
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
    show = fold_measuring.mix_put(show, event.mix)
    show = replace(show, mixes={**show.mixes, event.mix.id: event.mix})
    if event.mix.is_stereo or event.mix.id not in show.levels:
        return show
    return replace(show, levels={**show.levels, event.mix.id: _without_pan(show.levels[event.mix.id])})


def _without_pan(levels: Levels) -> Levels:
    """Put every send in the middle: a mono mix has no left and right."""
    sends = {
        source: replace(position, setting=replace(position.setting, pan_percent=0))
        for source, position in levels.sends.items()
    }
    return replace(levels, sends=sends)


def _mix_removed(show: Show, event: e.MixRemoved, _: e.Recorded) -> Show:
    show = fold_telling.without_mix(fold_measuring.without_mix(show, event.mix), event.mix)
    return replace(
        show,
        mixes=without(show.mixes, [event.mix]),
        levels=without(show.levels, [event.mix]),
        changed_at=without(show.changed_at, [event.mix]),
        ear_levels=without(show.ear_levels, [event.mix]),
    )


def _send_put(show: Show, event: e.SendPut, recorded: e.Recorded) -> Show:
    old = show.levels.get(event.mix)
    before = old.at(event.source) if old else None
    # What a send begins with was planned, not looked at on the desk.
    position = (
        Position(event.setting)
        if before is None
        else replace(before, setting=event.setting, confirmed_at_ms=recorded.at_ms)
    )
    levels = Levels(position) if old is None else old.with_position(event.source, position)
    return replace(show, levels={**show.levels, event.mix: levels})


def _send_removed(show: Show, event: e.SendRemoved, _: e.Recorded) -> Show:
    old = show.levels[event.mix]
    levels = replace(old, sends=without(old.sends, [event.source]))
    return replace(show, levels={**show.levels, event.mix: levels})


def _code_replaced(show: Show, event: e.CodeReplaced, _: e.Recorded) -> Show:
    return replace(show, codes={**show.codes, event.mix: show.codes.get(event.mix, 0) + 1})


def _change_asked(show: Show, event: e.ChangeAsked, recorded: e.Recorded) -> Show:
    request = Request(
        id=event.request,
        key=RowKey(event.mix, event.source, event.kind),
        musician=event.musician,
        amount=event.amount,
        words=event.words,
        call=event.call,
        at_ms=recorded.at_ms,
        client_id=event.client_id,
        group=event.group,
        target=event.target,
    )
    return replace(show, open_requests={**show.open_requests, request.id: request})


def _requests_cancelled_out(show: Show, event: e.RequestsCancelledOut, _: e.Recorded) -> Show:
    return _closed(show, event.requests)


def _request_withdrawn(show: Show, event: e.RequestWithdrawn, _: e.Recorded) -> Show:
    return _closed(show, (event.request,))


def _closed(show: Show, requests: tuple[str, ...]) -> Show:
    return replace(
        show, open_requests=without(show.open_requests, requests), closed=show.closed.union(requests)
    )


def _requests_answered(show: Show, event: e.RequestsAnswered, recorded: e.Recorded) -> Show:
    decision = Decision(
        id=event.decision,
        key=RowKey(event.mix, event.source, event.kind),
        outcome=event.outcome,
        requests=tuple(show.open_requests[request] for request in event.requests),
        asked=event.asked,
        move=event.move,
        reason=event.reason,
        at_ms=recorded.at_ms,
        by=recorded.by,
        way=event.way,
        also=event.also,
        desk=event.desk,
    )
    show = replace(show, decisions={**show.decisions, decision.id: decision})
    if event.outcome is Outcome.SET_ASIDE:
        aside = {one.id: replace(one, is_set_aside=True) for one in decision.requests}
        return replace(show, open_requests={**show.open_requests, **aside})
    latest = {decision.key: decision.id} if decision.is_for_musicians else {}
    show = replace(_closed(show, event.requests), latest={**show.latest, **latest})
    return _all_moved(show, event, recorded)


def _decision_undone(show: Show, event: e.DecisionUndone, recorded: e.Recorded) -> Show:
    decision = replace(show.decisions[event.decision], is_undone=True)
    decisions = {**show.decisions, decision.id: decision}
    back = {one.id: replace(one, is_set_aside=False) for one in decision.requests if one.id in event.requests}
    show = replace(
        show,
        decisions=decisions,
        open_requests=_in_order_of_asking({**show.open_requests, **back}),
        closed=show.closed.difference(back),
        latest={**without(show.latest, [decision.key]), **_latest_answer(decisions, decision.key)},
    )
    return _all_moved(show, event, recorded)


def _latest_answer(decisions: Mapping[str, Decision], key: RowKey) -> Mapping[RowKey, str]:
    """Return the decision that answered musicians in a row last and still stands, as an entry; empty if none does."""
    answers = [one for one in decisions.values() if one.key == key and one.outcome is not Outcome.SET_ASIDE]
    standing = [answer.id for answer in answers if answer.is_for_musicians and not answer.is_undone]
    return {key: standing[-1]} if standing else {}


def _in_order_of_asking(requests: Mapping[str, Request]) -> Mapping[str, Request]:
    return dict(sorted(requests.items(), key=lambda item: int(item[0][1:])))


def _level_corrected(show: Show, event: e.LevelCorrected, recorded: e.Recorded) -> Show:
    return _moved(show, event.move, recorded, counts_as_done=False)


def _soundcheck_marked(show: Show, _event: e.SoundcheckMarked, recorded: e.Recorded) -> Show:
    levels = {mix: _nothing_done(old) for mix, old in show.levels.items()}
    return replace(show, levels=levels, mark=levels, marked_at_ms=recorded.at_ms, marked_gains=show.gains)


def _nothing_done(levels: Levels) -> Levels:
    return Levels(
        output=replace(levels.output, done_tenths=0),
        sends={source: replace(position, done_tenths=0) for source, position in levels.sends.items()},
    )


def _all_moved(show: Show, event: e.RequestsAnswered | e.DecisionUndone, recorded: e.Recorded) -> Show:
    for move in (event.move, *event.also):
        show = _moved(show, move, recorded, counts_as_done=True)
    return show


def _moved(show: Show, move: Move | None, recorded: e.Recorded, *, counts_as_done: bool) -> Show:
    if move is None:
        return show
    levels = show.levels[move.mix]
    old = levels.at(move.source)
    done = move.after.level_tenths - move.before.level_tenths if counts_as_done else 0
    position = Position(
        setting=move.after,
        confirmed_at_ms=recorded.at_ms,
        done_tenths=(old.done_tenths if old else 0) + done,
    )
    show = replace(show, levels={**show.levels, move.mix: levels.with_position(move.source, position)})
    return fold_songs.towards_targets(show, move.mix, move.source)


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
    e.ChangeAsked: _change_asked,
    e.RequestsCancelledOut: _requests_cancelled_out,
    e.RequestWithdrawn: _request_withdrawn,
    e.RequestsAnswered: _requests_answered,
    e.DecisionUndone: _decision_undone,
    e.LevelCorrected: _level_corrected,
    g.GroupPut: fold_groups.group_put,
    g.GroupRemoved: fold_groups.group_removed,
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
    k.LevelsCarried: fold_carry.levels_carried,
    b.BandChosen: fold_band.band_chosen,
    so.SetListPut: fold_songs.set_list_put,
    so.SongChosen: fold_songs.song_chosen,
    so.SongBegun: fold_songs.song_begun,
    so.GapBegun: fold_songs.gap_begun,
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
