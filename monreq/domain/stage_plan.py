"""Where musicians and sources stand, in numbers: x to the audience's right, y away from it, as `panning` has them."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.input_words import says_low
from monreq.domain.setup import Source, SourceUse

_CENTRAL_USES = frozenset({SourceUse.CLICK, SourceUse.TALKBACK})


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on stage. [cm]."""

    x_cm: int
    y_cm: int

    @property
    def metres(self) -> tuple[float, float]:
        """The place as reckoning takes it. [m]."""
        return self.x_cm / 100, self.y_cm / 100


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a musician stands and faces.

    Attributes:
        facing_deg: 0 towards the audience, growing clockwise seen from above. [degrees]
    """

    spot: Spot
    facing_deg: int = 0


@dataclass(frozen=True, slots=True)
class SourcePlace:
    """Where a source stands, as far as that is known.

    Attributes:
        spot: A place of its own; None if it has none, or is not known.
        beside: The musician whose it is: it stands where they do. Empty if it has its own place.
        is_central: Whether it stays in the middle of every mix, wherever it stands.
    """

    spot: Spot | None = None
    beside: str = ""
    is_central: bool = False


def place_unless_said(source: Source) -> SourcePlace:
    """Return what holds of a source that nobody placed: click and talkback are central, and what is called kick or bass.

    Far bass in one ear is unpleasant: common practice, no source.
    """
    return SourcePlace(is_central=source.use in _CENTRAL_USES or says_low(source.name))


def spot_of(place: SourcePlace | None, standings: Mapping[str, Standing]) -> Spot | None:
    """Return where a source stands: where its musician does, or at its own place; None if that is not known."""
    if place is None:
        return None
    if place.beside:
        return standings[place.beside].spot if place.beside in standings else None
    return place.spot
