"""What is refused about bands and kept mixes; see `refusals` for its manner."""

from monreq.domain.refusals import NotLikeThis, NotNow, NotThere


class UnknownBand(NotThere):
    """There is no such band."""


class UnknownSongOfBand(NotLikeThis):
    """There is no such song on the set list."""


class BandNameTaken(NotNow):
    """There is a band of this name already: choose it, or give another name."""


class BandChangedSince(NotNow):
    """Somebody else changed this band meanwhile: look again, then repeat. Nothing was changed."""


class BandIdTaken(NotNow):
    """A band of this id is there already."""


class NoBandYet(NotLikeThis):
    """This show has no band yet: name it first."""


class NothingToKeep(NotLikeThis):
    """Say which mixes to keep."""


class TooManyKept(NotNow):
    """A band can have 1000 kept mixes: remove some that are not needed any more, then repeat."""


class QuestionReplaced(NotNow):
    """The desk asked anew meanwhile: look again."""
