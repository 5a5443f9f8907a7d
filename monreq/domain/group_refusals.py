"""What is refused about groups; see `refusals` for their manner."""

from monreq.domain.refusals import NotLikeThis, NotThere


class UnknownGroup(NotThere):
    """There is no such group in this show."""


class EmptyGroup(NotLikeThis):
    """A group has at least one source."""


class SubMixInGroup(NotLikeThis):
    """A sub-mix carries the sources of a group: it is not one of them."""


class OneSourceAtATime(NotLikeThis):
    """Left or right is asked of one source at a time: open the group."""


class LevelOfGroup(NotLikeThis):
    """A group has no one level to read off: say how far it was moved, or answer its sources one by one."""
