"""What is refused when a band is taken over into a show, or two of its evenings are merged."""

from monreq.domain.refusals import NotLikeThis, NotNow, NotThere


class UnknownKeptMix(NotThere):
    """There is no such kept mix in this band."""


class SayWhatItIs(NotLikeThis):
    """Say of every line what it is in this show: one that is here, one to add, or none."""


class TakenTwice(NotLikeThis):
    """Two lines name the same: each can be taken once."""


class ReferenceNotThere(NotLikeThis):
    """The source that the levels go by is not on in this mix: choose another."""


class SoundcheckIsOver(NotNow):
    """The soundcheck mark is set: a band is taken over before it. Bring back single kept mixes instead."""


class ChangedMeanwhile(NotNow):
    """The show or the band changed meanwhile: look at what would change now, and confirm again."""


class PickForEachMix(NotLikeThis):
    """Pick for every mix that differs which evening's to keep."""
