"""What the guard has to know of the past: kept up after every event, whichever road it came by."""

from collections.abc import Mapping
from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.carry_events import LevelsCarried, LevelsPutLow
from monreq.domain.ears import path_tenths
from monreq.domain.fold_held import held
from monreq.domain.guard_ear import MS_PER_S
from monreq.domain.levels import Levels, Position
from monreq.domain.requests import Call, Outcome
from monreq.domain.setup import Output
from monreq.domain.show import Disproof, Show, Stood, with_past, without

_DISPROVING = (Call.HURTS, Call.SQUEAL)


def track(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Return a show with what the guard goes by brought up to date.

    Args:
        before: The show before the event.
        show: The show after it, but for this.
        recorded: The event.
    """
    if isinstance(recorded.event, e.ChangeAsked) and recorded.event.call not in _DISPROVING:
        return show
    show = _still_there(before, show, recorded)
    show = _began(before, show, recorded)
    show = _before_raises(before, show, recorded)
    show = _disproofs(show, recorded)
    show = _last_heard(before, show, recorded)
    return held(before, show, recorded)


def _still_there(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Forget what is gone, and begin anew where a mix is heard in another way."""
    if before.mixes is not show.mixes:
        show = _of_mixes(before, show, recorded)
    gone = before.sources.keys() - show.sources.keys() if before.sources is not show.sources else set()
    for source in gone:
        show = _without_source(show, source)
    return show


def _of_mixes(before: Show, show: Show, recorded: e.Recorded) -> Show:
    gone = before.mixes.keys() - show.mixes.keys()
    turned = {
        one.id
        for one in show.mixes.values()
        if one.id in before.mixes and before.mixes[one.id].output != one.output
    }
    anew = {
        (mix, show.mixes[mix].output): _stood(show, mix, recorded) for mix in turned if mix in show.levels
    }
    return with_past(
        show,
        began={place: one for place, one in {**anew, **show.past.began}.items() if place[0] not in gone},
        before_raises=without(show.past.before_raises, gone | turned),
        disproofs=tuple(one for one in show.past.disproofs if one.mix not in gone),
        last_heard={
            place: one for place, one in show.past.last_heard.items() if place[0] not in gone | turned
        },
    )


def _without_source(show: Show, source: str) -> Show:
    """Forget a source: another of the same id starts anew."""
    return with_past(
        show,
        began={place: _stood_without(one, source) for place, one in show.past.began.items()},
        before_raises=_all_without(show.past.before_raises, source),
        disproofs=tuple(replace(one, stood=_stood_without(one.stood, source)) for one in show.past.disproofs),
        last_heard={place: one for place, one in show.past.last_heard.items() if place[1] != source},
    )


def _all_without(stood: Mapping[str, tuple[Stood, ...]], source: str) -> dict[str, tuple[Stood, ...]]:
    return {mix: tuple(_stood_without(one, source) for one in moments) for mix, moments in stood.items()}


def _stood_without(stood: Stood, source: str) -> Stood:
    levels = replace(stood.levels, sends=without(stood.levels.sends, [source]))
    return replace(stood, levels=levels, gains=without(stood.gains, [source]))


def _began(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep what the evening is measured from: how mixes were set by hand, until the first mark; then that mark."""
    if isinstance(recorded.event, e.SoundcheckMarked):
        if before.mark is not None:
            return show
        return with_past(show, began=_all_stood(show, recorded), first_mark=recorded.revision)
    by_hand = _set_by_hand(show, recorded.event)
    if not by_hand:
        return show
    began = dict(show.past.began)
    for mix, source in by_hand:
        place = (mix, show.mixes[mix].output)
        was = began.get(place)
        began[place] = (
            _stood(show, mix, recorded)
            if was is None
            else _set_anew(before, show, was, (mix, source), recorded.event)
        )
    return with_past(show, began=began)


def _set_anew(before: Show, show: Show, was: Stood, place: tuple[str, str | None], event: e.Event) -> Stood:
    """Return how a mix began once a level was entered: after the mark only what is new, or lower than it was.

    What was off at the mark stays off in what the evening counts from: it made the mix no louder then.
    """
    mix, source = place
    levels, old = show.levels[mix], was.levels.at(source)
    position = levels.output if source is None else levels.sends[source]
    if old is not None and _is_no_beginning(before, show, old, place, event):
        return was
    if old is not None and show.mark is not None and not old.setting.is_on:
        position = replace(position, setting=replace(position.setting, is_on=False))
    gains = was.gains if source is None else {**was.gains, source: show.gains.get(source, 0)}
    return replace(was, levels=was.levels.with_position(source, position), gains=gains)


def _is_no_beginning(
    before: Show, show: Show, began: Position, place: tuple[str, str | None], event: e.Event
) -> bool:
    """Whether nothing was said of a level, or after the mark nothing that is lower than it began.

    A start setting that stood so already is said of the level: a mix that is entered as a whole counts from all of it.
    """
    mix, source = place
    now = show.position(mix, source).setting
    stood = before.levels[mix].at(source) if mix in before.levels else None
    if show.mark is not None:
        return now.level_tenths >= began.setting.level_tenths
    if isinstance(event, e.SendPut) and stood is not None and stood.setting == now:
        return False
    return stood is not None and stood.setting.level_tenths == now.level_tenths


def _set_by_hand(show: Show, event: e.Event) -> list[tuple[str, str | None]]:
    """Return what somebody put where; after the mark a correction says what is so, and begins nothing."""
    match event:
        case e.SendPut(mix=mix, source=source) if mix in show.mixes:
            return [(mix, source)]
        case LevelsCarried(mix=mix, settings=settings) | LevelsPutLow(mix=mix, settings=settings):
            return [(mix, source) for source, _ in settings]
        case e.LevelCorrected(move=move) if show.mark is None:
            return [(move.mix, move.source)]
        case e.RequestsAnswered(is_typed=True, move=move, also=also) if show.mark is None:
            return [(one.mix, one.source) for one in (move, *also) if one is not None]
        case _:
            return []


def _before_raises(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep how a mix stood before moves, as long as they count, or will if the song or gap is taken back."""
    mix = _moved_mix(recorded.event)
    if mix is None or mix not in before.levels:
        return show
    began_ms = [stretch.at_ms for stretch in (show.stretch, show.stretch_before) if stretch and stretch.at_ms]
    oldest_ms = min([recorded.at_ms - show.settings.gap_s * MS_PER_S, *began_ms])
    kept = tuple(one for one in show.past.before_raises.get(mix, ()) if one.at_ms >= oldest_ms)
    stood = (*kept, _stood(before, mix, recorded))
    return with_past(show, before_raises={**show.past.before_raises, mix: stood})


def _moved_mix(event: e.Event) -> str | None:
    match event:
        case e.RequestsAnswered(mix=mix, outcome=Outcome.DONE) | e.DecisionUndone(mix=mix):
            return mix
        case _:
            return None


def _disproofs(show: Show, recorded: e.Recorded) -> Show:
    """Keep what calls disprove, until they are taken back."""
    match recorded.event:
        case e.ChangeAsked(request=request, mix=mix, call=call) if call in _DISPROVING:
            return with_past(show, disproofs=_disproved(show, request, mix, call, recorded))
        case e.RequestWithdrawn(request=request) if any(
            request in one.requests for one in show.past.disproofs
        ):
            left = (replace(one, requests=one.requests - {request}) for one in show.past.disproofs)
            return with_past(show, disproofs=tuple(one for one in left if one.requests))
        case _:
            return show


def _disproved(show: Show, request: str, mix: str, call: Call, recorded: e.Recorded) -> tuple[Disproof, ...]:
    stood = _stood(show, mix, recorded)
    known = [one for one in show.disproofs_of(mix, call) if _is_the_same(one.stood, stood)]
    if not known:
        new = Disproof(mix, show.mixes[mix].output, call, stood, frozenset([request]))
        return (*show.past.disproofs, new)
    again = replace(known[0], stood=stood, requests=known[0].requests | {request})
    return tuple(again if one is known[0] else one for one in show.past.disproofs)


def _is_the_same(one: Stood, other: Stood) -> bool:
    return one.levels is other.levels and one.gains is other.gains


def _last_heard(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep how far a send was turned up when it went out of a mix: it may come back as that. What is entered, nobody heard."""
    is_start = not isinstance(recorded.event, e.LevelCorrected | e.RequestsAnswered)
    entered = _set_by_hand(show, recorded.event) if is_start else []
    went_out = {
        (mix, source): path_tenths(was, before.gains, source)
        for mix, was, now in _changed(before, show)
        if was.output.setting.is_on
        for source, position in was.sends.items()
        if position.setting.is_on and not (source in now.sends and now.sends[source].setting.is_on)
        if (mix, source) not in entered
    }
    return with_past(show, last_heard={**show.past.last_heard, **went_out}) if went_out else show


def _changed(before: Show, show: Show) -> list[tuple[str, Levels, Levels]]:
    """Return the mixes that stand otherwise than before, with how they stood and stand."""
    if before.levels is show.levels:
        return []
    return [
        (mix, before.levels[mix], levels)
        for mix, levels in show.levels.items()
        if mix in before.levels and before.levels[mix] is not levels
    ]


def _all_stood(show: Show, recorded: e.Recorded) -> dict[tuple[str, Output], Stood]:
    return {(mix, show.mixes[mix].output): _stood(show, mix, recorded) for mix in show.levels}


def _stood(show: Show, mix: str, recorded: e.Recorded) -> Stood:
    return Stood(show.levels[mix], show.gains, recorded.at_ms, recorded.revision)
