"""How a change of level is heard: rules of thumb for a listener, not measures of a sound."""

from enum import StrEnum

from monreq.domain import plausible

JUST_HEARD_DB = 3.0  # in ordinary listening: loudness table at epanorama.net; side by side, 1 dB is heard
CLEARLY_HEARD_DB = 5.0  # the same table, and Caltrans' noise training, slide 74: "readily perceptible"
TWICE_AS_LOUD_DB = 10.0  # the same table; at 20 to 200 Hz 5 to 6 dB do


class Heard(StrEnum):
    """How much of a change a listener notices, either way."""

    HARDLY = "hardly"
    JUST = "just"
    CLEARLY = "clearly"
    TWICE = "twice"


def heard_as(change_db: float) -> Heard:
    """Return how a change [dB] of a whole mix, up or down, is noticed in ordinary listening: twice is also half.

    Raises:
        NotAFigure, BeyondBelief: The change is not finite, or beyond 120 dB.
    """
    size = abs(plausible.db(change_db))
    if size >= TWICE_AS_LOUD_DB:
        return Heard.TWICE
    if size >= CLEARLY_HEARD_DB:
        return Heard.CLEARLY
    return Heard.JUST if size >= JUST_HEARD_DB else Heard.HARDLY


def loudness_ratio(change_db: float) -> float:
    """Return how many times as loud something is heard after a change [dB]; holds above 40 phon.

    Raises:
        NotAFigure, BeyondBelief: The change is not finite, or beyond 120 dB.

    References:
        The sone doubles with each 10 phon above 40: 2^(d / 10), ISO 532-1. Some pages print 2^(0.1 P - 40), with the 40
        outside the tenth: a misprint of 2^((P - 40) / 10).
    """
    return float(2 ** (plausible.db(change_db) / 10))
