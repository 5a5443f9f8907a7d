"""What taking a band over into a show changes, as a value to be told before anything is done."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from monreq.domain.carry_matching import How
from monreq.domain.setup import Mix, Setting
from monreq.domain.show_aux_plan import ShowAuxPlan


class SendNote(StrEnum):
    """What became of one send on its way into the show."""

    SHIFTED = "shifted"
    FOLDED = "folded"
    STEREO_FOLDED = "stereo_folded"
    PANNED = "panned"
    NO_PLACE = "no_place"
    CLIPPED = "clipped"
    CLICK_LEFT_OUT = "click_left_out"
    AUDIENCE_LEFT_OUT = "audience_left_out"
    SOURCE_LEFT_OUT = "source_left_out"
    NEW_SOURCE = "new_source"


class MixNote(StrEnum):
    """What became of a mix, and what to mind about it."""

    STARTS_LOW = "starts_low"
    BECAME_IN_EARS = "became_in_ears"
    BECAME_WEDGE = "became_wedge"
    FED_MONO_NOW = "fed_mono_now"
    STEREO_NOW = "stereo_now"
    BY_REFERENCE = "by_reference"
    OUTPUT_AS_READ = "output_as_read"
    OUTPUT_CLIPPED = "output_clipped"
    MARGIN_NOT_MEASURED = "margin_not_measured"
    CLICK_LEAKS = "click_leaks"
    LIMITER_NOT_SAID = "limiter_not_said"
    MUSICIAN_MISSING = "musician_missing"
    NOBODY_HEARS_IT = "nobody_hears_it"
    NOTHING_KEPT = "nothing_kept"


class What(StrEnum):
    """A sort of thing that a band and a show have."""

    SOURCE = "source"
    MUSICIAN = "musician"
    MIX = "mix"


@dataclass(frozen=True, slots=True)
class SendChange:
    """One send of a mix, as it was kept and as it starts.

    Attributes:
        source: Its id in the show; of one that was left out, in the band.
        before: As kept; None for a source that the band did not have there.
        after: As it starts; None if it is left out.
    """

    source: str
    name: str
    before: Setting | None
    after: Setting | None
    notes: tuple[SendNote, ...] = ()


@dataclass(frozen=True, slots=True)
class MixChange:
    """One mix, as it was kept and as it starts.

    Attributes:
        kept_name: The name that the mix was kept under; empty if nothing was.
        output_before: None if nothing was kept.
        shift_tenths: By how much all its sends moved. [0.1 dB]
    """

    before: Mix
    after: Mix
    kept_name: str
    output_before: Setting | None
    output_after: Setting
    shift_tenths: int
    sends: tuple[SendChange, ...]
    notes: tuple[MixNote, ...]


@dataclass(frozen=True, slots=True)
class Counterpart:
    """What a thing of the band is in the show.

    Attributes:
        here_name: Empty if it was left out.
        how: By what it was found; missing if it was added, left out, or said by hand.
        is_added: Whether the show did not have it.
        deputy: Who sits on that chair instead; empty if nobody does.
    """

    what: What
    name: str
    here_name: str
    how: How
    is_added: bool
    deputy: str = ""


@dataclass(frozen=True, slots=True)
class CarryReport:
    """Everything that changes.

    Attributes:
        counterparts: Every source, musician and mix of the band, in order.
        new: Names of what only the show has, by sort.
        mixes: Every mix that is taken over.
        auxes: The aux outputs planned again; None if the desk was not described.
        unnumbered: Names of mixes that have no aux yet.
    """

    counterparts: tuple[Counterpart, ...]
    new: Mapping[What, tuple[str, ...]]
    mixes: tuple[MixChange, ...]
    auxes: ShowAuxPlan | None
    unnumbered: tuple[str, ...]

    @property
    def left_out(self) -> tuple[Counterpart, ...]:
        """What the band has and the show will not."""
        return tuple(one for one in self.counterparts if not one.here_name)
