"""What is refused about a level at the ear that somebody typed in."""

from monreq.domain.refusals import NotLikeThis, NotNow


class NoEarLevel(NotLikeThis):
    """A level at the ear while playing goes from 40 to 140 dB(A): check the figure, and that it is not a fader's."""


class MeasureAtTheEar(NotLikeThis):
    """A wedge's level counts only where it was measured at the ear while playing."""


class SayHowMeasured(NotLikeThis):
    """Say in words how it was measured."""


class NothingToMeasure(NotLikeThis):
    """Nothing is on in this mix: there is no level at the ear to measure."""


class DayFullSince(NotNow):
    """Not entered: this ear's day may be full before a song is over, so no raise is suggested any more. If it went up already, type by how much."""
