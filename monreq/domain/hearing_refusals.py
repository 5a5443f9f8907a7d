"""What is refused about how a change sounds; see `refusals` for their manner."""

from monreq.domain.refusals import NotNow


class HeardAlready(NotNow):
    """This was answered, or changed, already."""
