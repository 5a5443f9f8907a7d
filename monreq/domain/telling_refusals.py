"""What is refused about calls, notes and line checks."""

from monreq.domain.refusals import NotLikeThis, NotNow, NotThere


class UnknownNote(NotThere):
    """This note is not there any more."""


class UnknownLineCheck(NotThere):
    """There is no such line check."""


class LineCheckOver(NotNow):
    """This line check is over."""


class NoteRequired(NotLikeThis):
    """Write what the note is to say."""


class NobodyToTell(NotLikeThis):
    """No mix is asked: nobody would be told."""


class NotACall(NotLikeThis):
    """Only urgent calls are answered like this."""


class NotLower(NotNow):
    """This was moved since and stands no higher than that: look again."""
