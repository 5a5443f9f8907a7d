"""Drift of a mix: how much louder it became at the louder ear since the soundcheck mark, as the guard counts it (`ears`)."""

import math
from collections.abc import Mapping
from typing import Final

from monreq.domain.ears import louder_ear_db, with_output_on
from monreq.domain.levels import Levels, Position
from monreq.domain.setup import Setting
from monreq.domain.show import Show

NOTICED_DB: Final = 1.0  # chosen: what is heard side by side; below it a line would only be noise


def drift_db(show: Show, mix: str) -> float | None:
    """Return how much louder a mix is at the louder ear than at the soundcheck mark, positive when louder. [dB].

    An estimate: it assumes what `ears` assumes. Click, talkback and pans count; a source that left the show since was
    heard at the mark.

    Returns:
        None before the mark, for a mix that was added since, and where the mix was or is silent.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    before = (show.mark or {}).get(mix)
    if before is None:
        return None
    was = louder_ear_db(show.sources, before, show.marked_gains)
    is_now = louder_ear_db(show.sources, show.levels[mix], show.gains)
    return None if was is None or is_now is None else is_now - was


def louder_by(
    show: Show, settings: Mapping[str | None, Setting], before: Levels, gains_before: Mapping[str, int]
) -> float | None:
    """Return how much louder a mix is at the louder ear in these settings, with the preamps as now, than it stood. [dB].

    An output that is off counts as on: it comes on with the level that it has.

    Args:
        show: The show now.
        settings: By source; None is the output.
        before: How the mix stood.
        gains_before: How far preamps had been turned then, by source. [0.1 dB]

    Returns:
        None where every send was or is off.
    """
    sends = {one: Position(setting) for one, setting in settings.items() if one is not None}
    was = max(with_output_on(show.sources, before, gains_before))
    is_now = max(with_output_on(show.sources, Levels(Position(settings[None]), sends), show.gains))
    return 10 * math.log10(is_now / was) if was and is_now else None
