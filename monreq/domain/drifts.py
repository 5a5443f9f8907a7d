"""Drift of a mix: how much louder it became since the soundcheck mark, sends and output together."""

import math
from collections.abc import Mapping
from typing import Final

from monreq.domain import balance, plausible
from monreq.domain.decibels import to_db
from monreq.domain.levels import Levels, Position
from monreq.domain.remembering import by_identity
from monreq.domain.setup import Setting, Source, SourceUse
from monreq.domain.show import Show

NOTICED_DB: Final = 1.0  # chosen: what is heard side by side; below it a line would only be noise

_NOT_MUSIC = frozenset({SourceUse.CLICK, SourceUse.TALKBACK, SourceUse.AUDIENCE_MIC})


def drift_db(show: Show, mix: str) -> float | None:
    """Return how much louder a mix became since the soundcheck mark: an estimate, positive when louder. [dB].

    Assumes what `balance.drift` assumes. Click, talkback and audience mics are left out; a source that left the show
    since counts as the music it was.

    Returns:
        None before the mark, for a mix that was added since, and where the mix was or is silent.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    before = (show.mark or {}).get(mix)
    if before is None:
        return None
    return _drift(show.sources, before, show.marked_gains, show.levels[mix], show.gains)


def louder_by(
    show: Show, settings: Mapping[str | None, Setting], before: Levels, gains_before: Mapping[str, int]
) -> float | None:
    """Return how much louder a mix is in these settings, and with the preamps as now, than it stood: as `drift_db`. [dB].

    Args:
        show: The show now.
        settings: By source; None is the output.
        before: How the mix stood.
        gains_before: How far preamps had been turned then, by source. [0.1 dB]

    Returns:
        None where the mix was or is silent.
    """
    sends = {one: Position(setting) for one, setting in settings.items() if one is not None}
    after = Levels(Position(settings[None]), sends)
    return _drift(show.sources, before, gains_before, after, show.gains)


@by_identity
def _drift(
    sources: Mapping[str, Source],
    before: Levels,
    gains_before: Mapping[str, int],
    after: Levels,
    gains: Mapping[str, int],
) -> float | None:
    was, is_now = _heard(sources, before, gains_before), _heard(sources, after, gains)
    if not was or not is_now:
        return None
    of_output = to_db(after.output.setting.level_tenths - before.output.setting.level_tenths)
    change = balance.drift(was, is_now) + of_output
    return change if math.isfinite(change) else None


def heard(show: Show, levels: Levels, gains: Mapping[str, int]) -> Mapping[str, float]:
    """Return what each source that counts as music contributes to a mix; none where the output is off. [dB].

    That is its send level, its trim, and how far its preamp was turned.
    """
    return _heard(show.sources, levels, gains)


@by_identity
def _heard(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> Mapping[str, float]:
    if not levels.output.setting.is_on:
        return {}
    return {
        source: plausible.nearest_db(
            to_db(position.setting.level_tenths + gains.get(source, 0) + _trim(sources.get(source)))
        )
        for source, position in levels.sends.items()
        if position.setting.is_on and _is_music(sources.get(source))
    }


def _trim(source: Source | None) -> int:
    return source.trim_tenths if source else 0


def _is_music(source: Source | None) -> bool:
    return source is None or source.use not in _NOT_MUSIC
