"""What a change means for those who are told: changes of one show made one, and whose requests it concerns."""

from collections.abc import Iterable, Iterator

from monreq.domain import events as e
from monreq.services.ports import Change


def merged(changes: Iterable[Change]) -> list[Change]:
    """Return one change per show out of changes that may overlap."""
    by_show: dict[str, Change] = {}
    for change in changes:
        earlier = by_show.get(change.after.id)
        by_show[change.after.id] = change if earlier is None else _joined(earlier, change)
    return list(by_show.values())


def _joined(first: Change, then: Change) -> Change:
    before = min(first.before, then.before, key=lambda show: show.revision)
    after = max(first.after, then.after, key=lambda show: show.revision)
    recorded = {one.revision: one for one in (*first.recorded, *then.recorded)}
    return Change(before, after, tuple(recorded[revision] for revision in sorted(recorded)))


def client_ids(change: Change) -> dict[str, list[str]]:
    """Return the ids that pages gave to the requests concerned, by mix, each once."""
    found: dict[str, list[str]] = {}
    for mix, client_id in _concerned(change):
        of_mix = found.setdefault(mix, [])
        if client_id and client_id not in of_mix:
            of_mix.append(client_id)
    return found


def _concerned(change: Change) -> Iterator[tuple[str, str]]:
    known = {request.id: request.client_id for request in change.before.open_requests.values()}
    for recorded in change.recorded:
        match recorded.event:
            case e.ChangeAsked(request=request, mix=mix, client_id=client_id):
                known[request] = client_id
                yield mix, client_id
            case e.RequestsCancelledOut(mix=mix, requests=requests):
                yield from ((mix, known.get(request, "")) for request in requests)
            case e.RequestWithdrawn(mix=mix, request=request):
                yield mix, known.get(request, "")
            case (
                e.RequestsAnswered(mix=mix, decision=decision, requests=requests)
                | e.DecisionUndone(mix=mix, decision=decision, requests=requests)
            ):
                answered = change.after.decisions[decision].requests
                yield from ((mix, one.client_id) for one in answered if one.id in requests)
