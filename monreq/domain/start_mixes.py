"""Where mixes start before anybody asked: every source low, the own one forward."""

from collections.abc import Mapping

from monreq.domain.input_words import words_of
from monreq.domain.setup import Setting, Source, SourceUse
from monreq.domain.show import Show
from monreq.domain.starting_low import START_TENTHS

FORWARD_TENTHS = (
    100  # chosen: 10 dB is about twice as loud (the sone rule); the own source leads without a push
)


def own_sources(show: Show, mix: str) -> tuple[str, ...]:
    """Return the sources of those who hear a mix, in the order of the input list.

    A source is theirs that stands beside them on the stage plan; where none does, one that is named like their chair
    or their mix: "Bass" is the bass player's.

    Raises:
        UnknownMix: There is no such mix.
    """
    facts = show.mix(mix)
    sends = show.levels[mix].sends
    music = [one for one in show.sources.values() if one.id in sends and one.use is SourceUse.MUSIC]
    beside = [one.id for one in music if show.place_of(one.id).beside in facts.musicians]
    if beside:
        return tuple(beside)
    names = [facts.name]
    for musician in facts.musicians:
        names += [show.musicians[musician].name, show.musicians[musician].chair]
    wanted = [words for name in names if (words := words_of(name))]
    return tuple(one.id for one in music if _is_named(one, wanted))


def own_forward(show: Show, mix: str) -> Mapping[str, Setting]:
    """Return the start settings of a mix's own sources: higher than the rest by `FORWARD_TENTHS`, pans as they are.

    Raises:
        UnknownMix: There is no such mix.
    """
    level = show.settings.in_range(START_TENTHS[show.mix(mix).output] + FORWARD_TENTHS)
    sends = show.levels[mix].sends
    return {source: Setting(level, sends[source].setting.pan_percent) for source in own_sources(show, mix)}


def _is_named(source: Source, wanted: list[set[str]]) -> bool:
    """Tell whether a source's name has every word of one of the names, or the other way about."""
    words = words_of(source.name)
    return any(words and (words <= one or one <= words) for one in wanted)
