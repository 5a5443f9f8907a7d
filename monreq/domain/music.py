"""The music of a mix, for what is said of its balance: without click, talkback and audience mics."""

from collections.abc import Mapping

from monreq.domain import plausible
from monreq.domain.decibels import to_db
from monreq.domain.levels import Levels
from monreq.domain.remembering import by_identity
from monreq.domain.setup import Source, SourceUse
from monreq.domain.show import Show

_NOT_MUSIC = frozenset({SourceUse.CLICK, SourceUse.TALKBACK, SourceUse.AUDIENCE_MIC})


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
