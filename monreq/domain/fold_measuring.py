"""How events about measurements and preamps change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import measuring_events as m
from monreq.domain.readings import MarginReading, PreampChange
from monreq.domain.show import Show


def preamp_change_planned(show: Show, event: m.PreampChangePlanned, _: e.Recorded) -> Show:
    """Plan a change of gain: nothing has moved yet."""
    planned = PreampChange(event.change, event.source, event.change_tenths)
    return replace(show, preamp_changes={**show.preamp_changes, event.change: planned})


def preamp_moved(show: Show, event: m.PreampMoved, _: e.Recorded) -> Show:
    """Turn a gain as planned."""
    moved = replace(show.preamp_changes[event.change], is_moved=True)
    gain = show.gains.get(moved.source, 0) + moved.change_tenths
    return replace(
        show,
        preamp_changes={**show.preamp_changes, event.change: moved},
        gains={**show.gains, moved.source: gain},
    )


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
