"""Drift of a mix: how much louder it became since the soundcheck mark, sends and output together."""

import math
from collections.abc import Mapping

from monreq.domain import balance
from monreq.domain.decibels import to_db
from monreq.domain.setup import SourceUse
from monreq.domain.show import Levels, Show

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
    before, after = (show.mark or {}).get(mix), show.levels[mix]
    if before is None:
        return None
    of_output = to_db(after.output.setting.level_tenths - before.output.setting.level_tenths)
    sends_before, sends_after = heard(show, before, show.marked_gains), heard(show, after, show.gains)
    if not sends_before or not sends_after:
        return None
    drifted = balance.drift(sends_before, sends_after) + of_output
    return drifted if math.isfinite(drifted) else None


def heard(show: Show, levels: Levels, gains: Mapping[str, int]) -> dict[str, float]:
    """Return what each source that counts as music contributes to a mix; none where the output is off. [dB].

    That is its send level, its trim, and how far its preamp was turned.
    """
    if not levels.output.setting.is_on:
        return {}
    return {
        source: to_db(position.setting.level_tenths + _trim(show, source) + gains.get(source, 0))
        for source, position in levels.sends.items()
        if position.setting.is_on and _is_music(show, source)
    }


def _trim(show: Show, source: str) -> int:
    return show.sources[source].trim_tenths if source in show.sources else 0


def _is_music(show: Show, source: str) -> bool:
    return source not in show.sources or show.sources[source].use not in _NOT_MUSIC
