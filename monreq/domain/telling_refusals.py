"""What is refused about calls, notes and line checks."""

from monreq.domain.refusals import AlreadyAnswered, NotLikeThis, NotNow, NotThere


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


class AnsweredByDesk(AlreadyAnswered):
    """No longer waiting: %(requests)s, answered by %(desk)s. Nothing was changed."""

    @property
    def code(self) -> str:
        """The same as without a name: programs need not tell the two apart."""
        return "already_answered"
