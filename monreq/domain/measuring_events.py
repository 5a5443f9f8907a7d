"""Events about what was measured on stage, or turned at a preamp; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.readings import EarMethod


@dataclass(frozen=True, slots=True)
class PreampChangePlanned:
    """The preamp gain of a source is to change; every mix that hears it is compensated. [0.1 dB]."""

    change: str
    source: str
    change_tenths: int


@dataclass(frozen=True, slots=True)
class PreampMoved:
    """The gain of a planned preamp change was turned."""

    change: str


@dataclass(frozen=True, slots=True)
class PreampChangeDropped:
    """A planned preamp change was given up: the gain stays as it is."""

    change: str


@dataclass(frozen=True, slots=True)
class MarginRead:
    """The feedback margin of an open mic in a wedge was read at the desk. [0.1 dB]."""

    mix: str
    source: str
    margin_tenths: int
    open_mics: int


@dataclass(frozen=True, slots=True)
class MarginsMadeStale:
    """EQ, a mic, a wedge or a position changed: the readings of a mix do not hold any more."""

    mix: str
    because: str


@dataclass(frozen=True, slots=True)
class OpenMicsCounted:
    """Somebody counted the mics that are open now."""

    open_mics: int


@dataclass(frozen=True, slots=True)
class EarLevelMeasured:
    """The level at the ear of somebody who hears a mix was measured with an instrument and typed in.

    Attributes:
        level_tenths: A-weighted, averaged over playing. [0.1 dB(A)]
        how: With what; `words` say it where it is another way.
        is_correction: Whether the level before was wrong, so that this one holds in its place from then on.
        is_field_level: Whether it is the level of a free or diffuse field (ISO 11904); False as read in an ear canal or
            coupler; None where nobody said.
    """

    mix: str
    level_tenths: int
    how: EarMethod
    words: str = ""
    is_correction: bool = False
    is_field_level: bool | None = None


MeasuringEvent = (
    PreampChangePlanned
    | PreampMoved
    | PreampChangeDropped
    | MarginRead
    | MarginsMadeStale
    | OpenMicsCounted
    | EarLevelMeasured
)
