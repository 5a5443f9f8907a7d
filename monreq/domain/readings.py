"""What was measured on stage, or turned at the preamp, and typed in at the desk."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from monreq.domain.ear_course import Course
from monreq.domain.levels import Levels


class EarMethod(StrEnum):
    """How a level at the ear was measured; a meter held to an earpiece is no way."""

    COUPLER = "coupler"
    AT_THE_EAR = "at_the_ear"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class MarginReading:
    """How far one open mic could be raised in one wedge before it rang, and how things stood then.

    Attributes:
        margin_tenths: As read. [0.1 dB]
        open_mics: How many mics were open at the reading.
        send_tenths: The level of the mic's send then. [0.1 dB]
        output_tenths: The level of the wedge's output then. [0.1 dB]
        at_ms: When it was entered. [ms since 1970, UTC]
        gain_tenths: How far the mic's preamp had been turned in this show. [0.1 dB]
        stale_because: What changed since that no figure accounts for; empty while the reading holds.
        revision: Of the show, when it was entered.
        gains: How far every preamp had been turned: an effect return carries what its mics bring. [0.1 dB]
    """

    margin_tenths: int
    open_mics: int
    send_tenths: int
    output_tenths: int
    at_ms: int
    gain_tenths: int = 0
    stale_because: str = ""
    revision: int = 0
    gains: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PreampChange:
    """A change of a source's preamp gain, compensated in every mix that hears it.

    Attributes:
        change_tenths: How far the gain is turned. [0.1 dB]
        is_moved: Whether it was.
        paths: How far the source was turned up in each mix right before, by mix. [0.1 dB]
    """

    id: str
    source: str
    change_tenths: int
    is_moved: bool = False
    paths: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class EarLevel:
    """A level at the ear of somebody who hears a mix, how the mix stood then, and what the ear has had since.

    Attributes:
        level_tenths: As measured, A-weighted. [0.1 dB(A)]
        how, words: With what; words only where it was another way.
        at_ms: When it was entered. [ms since 1970, UTC]
        levels, gains: Where the mix stood then, pans too, and how far preamps were turned. [0.1 dB]
        course: What the ear has had since.
        is_field_level: Whether the figure is that of a free or diffuse field, as the rules mean it; False as it was
            read in an ear canal or coupler; None where nobody said, which is compared as it was typed.
    """

    level_tenths: int
    how: EarMethod
    words: str
    at_ms: int
    levels: Levels
    gains: Mapping[str, int]
    course: Course
    is_field_level: bool | None = None

    @property
    def is_comparable(self) -> bool:
        """Whether a rule may be held against it: what was read in a canal or coupler says how it went, and no more."""
        return self.is_field_level is not False
