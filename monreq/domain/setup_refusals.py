"""What is refused while a show is set up; see `refusals` for their manner."""

from monreq.domain.refusals import NotLikeThis


class NameTaken(NotLikeThis):
    """Another source is called so already: give each a name of its own."""
