"""Sources that several mixes want more of: perhaps not the mixes are at fault, but the gain of the channel."""

from collections.abc import Iterator, Mapping

from monreq.domain.decisions import Decision
from monreq.domain.requests import Kind, Outcome
from monreq.domain.show import Show

MIXES_FOR_GAIN = 3
"""Common practice, no source: where three musicians want more of one source, its gain is looked at first."""

LATELY_MS = (
    30 * 60_000
)  # chosen: a soundcheck, or half a set; what was raised before that was raised for another reason


def asked_up(show: Show) -> Mapping[str, int]:
    """Return in how many mixes a source is asked up, where these are at least three.

    What waits counts, and what was done lately: since the soundcheck mark, within half an hour, and since its preamp
    was last turned or planned to be.
    """
    mixes: dict[str, set[str]] = {}
    for source, mix in (*_waiting(show), *_done_lately(show)):
        mixes.setdefault(source, set()).add(mix)
    return {
        source: len(of)
        for source, of in mixes.items()
        if len(of) >= MIXES_FOR_GAIN and source in show.sources
    }


def _waiting(show: Show) -> Iterator[tuple[str, str]]:
    for key, requests in show.open_rows().items():
        asked = sum(one.amount for one in requests if not one.group)
        if key.kind is Kind.LEVEL and key.source is not None and asked > 0:
            yield key.source, key.mix


def _done_lately(show: Show) -> Iterator[tuple[str, str]]:
    since_ms = max(show.at_ms - LATELY_MS, show.marked_at_ms or 0)
    turned = {change.source: _revision(change.id) for change in show.preamp_changes.values()}
    for decision in reversed(list(show.decisions.values())):
        if decision.at_ms < since_ms:
            return
        source = decision.key.source
        if source and _is_raise(decision) and _revision(decision.id) > turned.get(source, 0):
            yield source, decision.key.mix


def _is_raise(decision: Decision) -> bool:
    is_level = decision.key.kind is Kind.LEVEL and decision.outcome is Outcome.DONE and not decision.is_undone
    return is_level and decision.asked_by_musicians > 0


def _revision(of_id: str) -> int:
    """Return the revision that an id of a decision or of a preamp change says it was made at."""
    return int(of_id[1:])
