"""What is refused about a band book: what it is not, that it is newer, too large, or damaged, and where."""

from monreq.domain.refusals import NotLikeThis


class NotABook(NotLikeThis):
    """This file is no band book of monreq."""


class BookTooLarge(NotLikeThis):
    """This file is larger than 20 MB: no band book is."""


class BookFromTheFuture(NotLikeThis):
    """This band book was written by a newer monreq than this one: bring monreq up to date, then open it again."""


class BookDamaged(NotLikeThis):
    """This band book is damaged."""
