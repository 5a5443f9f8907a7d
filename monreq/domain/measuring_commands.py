"""Commands about what was measured on stage, or turned at a preamp; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.readings import EarMethod


@dataclass(frozen=True, slots=True)
class PlanPreampChange:
    """Plan to turn a source's preamp, compensated in every mix that hears it. [0.1 dB].

    The compensating rows come in the safe order: before the gain goes up, after it went down.
    """

    source: str
    change_tenths: int
    by: str = DESK


@dataclass(frozen=True, slots=True)
class ConfirmPreamp:
    """Say that the gain of a planned preamp change was turned.

    Attributes:
        though_rows_wait: Whether that is so although not every mix is lowered yet.
    """

    change: str
    though_rows_wait: bool = False
    by: str = DESK


@dataclass(frozen=True, slots=True)
class DropPreampChange:
    """Give up a planned preamp change that was not made; what still waits for it leaves the queue."""

    change: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class ReadMargin:
    """Enter how far an open mic could be raised in a wedge before it rang, and with how many mics open. [0.1 dB]."""

    mix: str
    source: str
    margin_tenths: int
    open_mics: int
    by: str = DESK


@dataclass(frozen=True, slots=True)
class MakeMarginsStale:
    """Say that EQ, a mic, a wedge or a position changed, so that a mix's readings do not hold any more."""

    mix: str
    because: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class CountOpenMics:
    """Say how many mics are open now."""

    open_mics: int
    by: str = DESK


@dataclass(frozen=True, slots=True)
class MeasureEarLevel:
    """Enter a level at the ear, how it was measured, and whether it is the level of a free or diffuse field. [0.1 dB(A)]."""

    mix: str
    level_tenths: int
    how: EarMethod
    words: str = ""
    is_correction: bool = False
    is_field_level: bool | None = None
    by: str = DESK


MeasuringCommand = (
    PlanPreampChange
    | ConfirmPreamp
    | DropPreampChange
    | ReadMargin
    | MakeMarginsStale
    | CountOpenMics
    | MeasureEarLevel
)
