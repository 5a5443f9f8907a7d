"""Cautions: what to mind about a suggested move."""

from dataclasses import dataclass, field
from enum import StrEnum


class CautionCode(StrEnum):
    """Why a suggestion is less than the sum, or needs care."""

    THEY_DISAGREE = "they_disagree"
    PREAMP = "preamp"
    AFTER_SQUEAL = "after_squeal"
    AFTER_HURTS = "after_hurts"
    ASKED_BEFORE_HURTS = "asked_before_hurts"
    AT_RESERVE = "at_reserve"
    MARGIN_STALE = "margin_stale"
    MARGIN_NOT_MEASURED = "margin_not_measured"
    MARGIN_SHORT = "margin_short"
    LOW_MARGIN = "low_margin"
    DOSE_FULL = "dose_full"
    NO_TIME_ABOVE = "no_time_above"
    EVENING_LIMIT = "evening_limit"
    RAISED_ALREADY = "raised_already"
    RAISE_LIMITED = "raise_limited"
    COMES_IN_LOWER = "comes_in_lower"
    END_OF_RANGE = "end_of_range"
    SOURCE_IS_OFF = "source_is_off"
    ASKED_UP = "asked_up"


class Basis(StrEnum):
    """What the bound of a caution rests on."""

    MEASURED = "measured"
    STOOD_A_SONG = "stood_a_song"
    SQUEALED = "squealed"
    BEGAN = "began"
    JUST_NOW = "just_now"
    LOW_START = "low_start"
    START_LEVELS = "start_levels"
    MARK = "mark"
    FIRST_MARK = "first_mark"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Attributes:
        figure: The bound that it sets to the move, in the row's unit, where it sets one; of a source that is asked up in
            several mixes, in how many.
        margin_tenths: The feedback margin that it speaks of, where there is one. [0.1 dB]
        source: Which send of a group sets the bound; empty for a single send, and where it is no one's.
        basis: Of a bound in the loop of a wedge, what it rests on; of one at the ear, since when it counts, where that
            differs: of what went up already, whether it was before this song or gap.
    """

    code: CautionCode
    figure: int | None = None
    margin_tenths: int | None = None
    source: str = ""
    basis: Basis | None = field(default=None, compare=False)
