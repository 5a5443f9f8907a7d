"""How requests are answered when what they are about leaves the show."""

from collections.abc import Iterable

from monreq.domain.events import RequestsAnswered
from monreq.domain.requests import Outcome, Request
from monreq.domain.show import Show
from monreq.domain.suggest import total

REMOVED = "removed"  # the reason's code that a musician reads when what they asked about is gone


def not_done(show: Show, requests: Iterable[Request]) -> tuple[RequestsAnswered, ...]:
    """Answer requests row by row, so that each musician reads why. Decision ids count on from the state."""
    ids = {request.id for request in requests}
    rows = [(key, [one for one in waiting if one.id in ids]) for key, waiting in show.open_rows().items()]
    affected = [(key, own) for key, own in rows if own]
    return tuple(
        RequestsAnswered(
            decision=f"d{show.revision + place}",
            mix=key.mix,
            source=key.source,
            kind=key.kind,
            requests=tuple(one.id for one in own),
            outcome=Outcome.NOT_DONE,
            asked=total(key.kind, own),
            move=None,
            reason=REMOVED,
        )
        for place, (key, own) in enumerate(affected, start=1)
    )
