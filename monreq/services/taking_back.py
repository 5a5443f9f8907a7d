"""What was sent and then taken back, whether or not it ever arrived."""

from contextlib import suppress

from monreq.domain.carry_commands import DoTogether
from monreq.domain.commands import Undo
from monreq.domain.events import RequestsAnswered
from monreq.domain.refusals import AlreadyUndone, UnknownDecision
from monreq.services.ports import Submission
from monreq.services.shows import Receipt, Shows


def take_back_sent(shows: Shows, show_id: str, submission: Submission) -> Receipt:
    """Take back exactly the decision that a submission came to; one that never arrived comes to nothing from now on.

    Raises:
        UnknownDecision: It was taken, and answered no requests.
    """
    sent = shows.submit(show_id, DoTogether(()), submission)
    if not sent.recorded:
        return sent
    for recorded in sent.recorded:
        if isinstance(recorded.event, RequestsAnswered):
            with suppress(AlreadyUndone):
                return shows.submit(show_id, Undo(recorded.event.decision))
            return sent
    raise UnknownDecision
