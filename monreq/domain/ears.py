"""What each ear gets of a mix: the power of all its sends, by where they are panned, click and talkback included.

Unlike in `music`, nothing is left out here: an ear does not know what a sound is for. A source in the middle counts in
either ear as its level; one at a side puts 3 dB more into that ear and nothing into the other. As everywhere, channels
are taken as gain-staged alike and sources as unrelated, so that powers add: an estimate.
"""

import math
from collections.abc import Mapping

from monreq.domain import plausible
from monreq.domain.decibels import power_ratio, to_db
from monreq.domain.levels import Levels
from monreq.domain.panning import constant_power
from monreq.domain.remembering import by_identity
from monreq.domain.setup import Source
from monreq.domain.show import Held

Ears = tuple[float, float]

PERCENT = 100
IN_THE_MIDDLE = 2.0  # constant power puts half of a centred source into each ear: twice that is its level


def ear_powers(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> Ears:
    """Return the power at the left and the right ear, on one scale for all mixes and moments of a show; 0 is silence.

    Args:
        sources: The input list, for trims; what is not in it any more has none.
        levels: Where the mix stands; a mono mix has every pan in the middle.
        gains: How far preamps were turned. [0.1 dB]
    """
    return with_output_on(sources, levels, gains) if levels.output.setting.is_on else (0.0, 0.0)


@by_identity
def with_output_on(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> Ears:
    """Return `ear_powers` as they are, or would be if the output were on."""
    powers = [
        source_powers(sources, levels, gains, source)
        for source, position in levels.sends.items()
        if position.setting.is_on
    ]
    return math.fsum(left for left, _ in powers), math.fsum(right for _, right in powers)


def source_powers(
    sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int], source: str
) -> Ears:
    """Return what one source of a mix puts into the left and the right ear, or would if it were on."""
    left, right = constant_power(levels.sends[source].setting.pan_percent / PERCENT)
    at_ear = to_db(at_ear_tenths(sources, levels, gains, source))
    power = power_ratio(plausible.nearest_db(at_ear)) * IN_THE_MIDDLE
    return power * left**2, power * right**2


def louder_ear_db(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> float | None:
    """Return the level at the ear that gets more, on the scale of `ear_powers`; None in silence. [dB]."""
    louder = max(ear_powers(sources, levels, gains))
    return 10 * math.log10(louder) if louder else None


def at_ear_tenths(
    sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int], source: str
) -> int:
    """Return what a source comes to at the ear: its send, its preamp, its trim and the output. [0.1 dB].

    Whether it is on does not matter: it is what it would come in with.
    """
    trim = sources[source].trim_tenths if source in sources else 0
    return path_tenths(levels, gains, source) + trim


def path_tenths(levels: Levels, gains: Mapping[str, int], source: str) -> int:
    """Return how far a source is turned up in a mix, all along its path: preamp, send and output. [0.1 dB]."""
    send = levels.sends[source].setting.level_tenths
    return send + levels.output.setting.level_tenths + gains.get(source, 0)


@by_identity
def turned_up(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> Held:
    """Return how far all that can ring and is on in a mix is turned up along its path. [0.1 dB]."""
    return {
        source: path_tenths(levels, gains, source)
        for source, position in levels.sends.items()
        if position.setting.is_on and source in sources and sources[source].can_ring
    }
