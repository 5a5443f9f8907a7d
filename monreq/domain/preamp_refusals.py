"""What is refused about preamps."""

from monreq.domain.refusals import NotNow, NotThere


class UnknownPreampChange(NotThere):
    """There is no such preamp change."""


class PreampChangePlannedAlready(NotNow):
    """A change of this preamp is planned already: turn it or drop it first."""


class PreampMovedAlready(NotNow):
    """The gain was turned already: plan the change back instead."""


class PreampNotCompensated(NotNow):
    """Not every mix is lowered yet (open: %(mixes)s): work those rows first, or say that the gain was turned all the same."""
