"""How events about measurements and preamps change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import measuring_events as m
from monreq.domain.ear_course import Course
from monreq.domain.ear_levels import DAY_MS, change_heard, on_to, turned_to
from monreq.domain.ears import path_tenths
from monreq.domain.readings import EarLevel, MarginReading, PreampChange
from monreq.domain.setup import Mix
from monreq.domain.show import Show, without


def preamp_change_planned(show: Show, event: m.PreampChangePlanned, _: e.Recorded) -> Show:
    """Plan a change of gain: nothing has moved yet."""
    planned = PreampChange(event.change, event.source, event.change_tenths)
    return replace(show, preamp_changes={**show.preamp_changes, event.change: planned})


def preamp_moved(show: Show, event: m.PreampMoved, _: e.Recorded) -> Show:
    """Turn a gain as planned."""
    planned = show.preamp_changes[event.change]
    paths = {
        mix: path_tenths(levels, show.gains, planned.source)
        for mix, levels in show.levels.items()
        if planned.source in levels.sends
    }
    moved = replace(planned, is_moved=True, paths=paths)
    gain = show.gains.get(moved.source, 0) + moved.change_tenths
    return replace(
        show,
        preamp_changes={**show.preamp_changes, event.change: moved},
        gains={**show.gains, moved.source: gain},
    )


def preamp_change_dropped(show: Show, event: m.PreampChangeDropped, _: e.Recorded) -> Show:
    """Forget a change that was planned."""
    return replace(show, preamp_changes=without(show.preamp_changes, [event.change]))


def margin_read(show: Show, event: m.MarginRead, recorded: e.Recorded) -> Show:
    """Keep a reading, with how things stood."""
    levels = show.levels[event.mix]
    reading = MarginReading(
        event.margin_tenths,
        event.open_mics,
        levels.sends[event.source].setting.level_tenths,
        levels.output.setting.level_tenths,
        recorded.at_ms,
        show.gains.get(event.source, 0),
        revision=recorded.revision,
        gains=show.gains,
    )
    return replace(show, readings={**show.readings, (event.mix, event.source): reading})


def margins_made_stale(show: Show, event: m.MarginsMadeStale, _: e.Recorded) -> Show:
    """Mark a mix's readings stale."""
    stale = {
        place: replace(reading, stale_because=event.because)
        for place, reading in show.readings.items()
        if place[0] == event.mix
    }
    return replace(show, readings={**show.readings, **stale})


def open_mics_counted(show: Show, event: m.OpenMicsCounted, _: e.Recorded) -> Show:
    """Keep how many mics are open."""
    return replace(show, open_mics=event.open_mics)


def ear_level_measured(show: Show, event: m.EarLevelMeasured, recorded: e.Recorded) -> Show:
    """Keep a level at the ear, with how the mix stood; those before it stay, since the ear had them too."""
    earlier = on_to(show.ear_levels.get(event.mix, ()), recorded.at_ms)
    if event.is_correction and earlier:
        right = replace(
            earlier[-1],
            level_tenths=event.level_tenths,
            how=event.how,
            words=event.words,
            is_field_level=event.is_field_level,
        )
        return _with_ear_levels(show, event.mix, (*earlier[:-1], right))
    measured = EarLevel(
        event.level_tenths,
        event.how,
        event.words,
        recorded.at_ms,
        show.levels[event.mix],
        show.gains,
        Course.begun(recorded.at_ms),
        event.is_field_level,
    )
    is_new_day = bool(earlier) and recorded.at_ms - earlier[0].at_ms >= DAY_MS
    return _with_ear_levels(show, event.mix, (measured,) if is_new_day else (*earlier, measured))


def ears_turned(show: Show, at_ms: int) -> Show:
    """Note for every ear that a level was measured at how loud it is from now on, where that changed."""
    turned = {
        mix: turned_to(measured, at_ms, change)
        for mix, measured in show.ear_levels.items()
        if (change := change_heard(show, mix)) != measured[-1].course.change_db
    }
    return replace(show, ear_levels={**show.ear_levels, **turned}) if turned else show


def mix_put(show: Show, mix: Mix) -> Show:
    """Forget the levels at the ear of a mix that is heard in another way from now on."""
    old = show.mixes.get(mix.id)
    if old is None or old.output is mix.output:
        return show
    return replace(show, ear_levels=without(show.ear_levels, [mix.id]))


def without_source(show: Show, source: str) -> Show:
    """Forget what was measured and turned of a source: another of the same id starts anew."""
    changes = {change.id: change for change in show.preamp_changes.values() if change.source != source}
    return replace(
        show,
        readings={place: reading for place, reading in show.readings.items() if place[1] != source},
        gains=without(show.gains, [source]),
        preamp_changes=changes,
    )


def without_mix(show: Show, mix: str) -> Show:
    """Forget what was measured in a mix."""
    readings = {place: reading for place, reading in show.readings.items() if place[0] != mix}
    return replace(show, readings=readings, ear_levels=without(show.ear_levels, [mix]))


def _with_ear_levels(show: Show, mix: str, measured: tuple[EarLevel, ...]) -> Show:
    return replace(show, ear_levels={**show.ear_levels, mix: measured})
