"""How far a level at the ear that was typed in may be off, and so every dose and time that rests on it."""

import math
from dataclasses import dataclass
from typing import Final

INSTRUMENT_DB: Final = (
    1.5  # ISO 9612:2009 Table C.5: a class 2 or personal meter, since nobody is asked for better
)
POSITION_DB: Final = 1.0  # ISO 9612:2009, C.6: where the microphone was
# chosen: one reading over a song shows nothing of how songs differ; ISO 9612:2009, 9.3 takes samples within 3 dB of one
# another as of one kind, and its own example of a working day in Annex E has 2.0 dB.
SAMPLING_DB: Final = 2.0
COVERAGE: Final = 1.65  # ISO 9612:2009, clause 14: one-sided, 95 %


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure, and between which others it lies."""

    about: float
    low: float
    high: float


def combined_db(*contributions_db: float) -> float:
    """Return the standard uncertainty of several contributions, each times its sensitivity. [dB].

    References:
        ISO 9612:2009, C.1: the square root of the sum of squares.
    """
    return math.hypot(*contributions_db)


def expanded_db(standard_db: float) -> float:
    """Return the uncertainty that 19 of 20 stay below, of a standard uncertainty. [dB].

    References:
        ISO 9612:2009, clause 14: U = 1.65 u.
    """
    return COVERAGE * standard_db


TYPED_LEVEL_DB: Final = expanded_db(combined_db(SAMPLING_DB, INSTRUMENT_DB, POSITION_DB))
"""How far a level that was typed in may be off, either way: all of a day rests on the same reading. [dB]."""
