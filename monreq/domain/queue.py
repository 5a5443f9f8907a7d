"""The queue: open requests gathered into rows, in working order."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from monreq.domain.asked_up import asked_up
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.group_sends import moves_of_group
from monreq.domain.group_suggest import suggest_for_group
from monreq.domain.planning import planned_order
from monreq.domain.requests import CALL_ORDER, Call, Kind, Move, Request, RowKey
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.suggest import (
    Suggestion,
    cut_because,
    disagree,
    most_pressing,
    suggest,
    sums_by_musician,
    total,
)


@dataclass(frozen=True, slots=True)
class Row:
    """All open requests of one kind for one source of one mix, added up.

    Attributes:
        requests: In the order of asking; a decision names exactly these.
        asked: Their sum, in the unit of the kind; None where the kind has no figure.
        by_musician: Each musician's own sum, in the order of their first asking.
        now: Where the send or output stands; None for a group, and for a source that is not in the mix any more.
        is_set_aside: Whether all of it is; whoever asks again brings the row back.
        is_group: Whether it is about a group.
        sends: Of a group, the sends to set, each with the suggested move made; empty for anything else.
    """

    key: RowKey
    requests: tuple[Request, ...]
    asked: int | None
    by_musician: tuple[tuple[str, int], ...]
    now: Setting | None
    suggestion: Suggestion
    urgent: Call | None
    is_set_aside: bool
    is_disagreement: bool
    is_group: bool = False
    sends: tuple[Move, ...] = ()

    @property
    def oldest_at_ms(self) -> int:
        """When the oldest of its requests was asked, in milliseconds since 1970, UTC."""
        return self.requests[0].at_ms

    @property
    def cut_because(self) -> str:
        """The code of why less is suggested than was asked; empty if nothing was cut."""
        return cut_because(self.key.kind, self.asked, self.suggestion)

    @property
    def set_to(self) -> Setting | None:
        """The setting that the suggested move leads to; None where nothing is moved."""
        return None if self.now is None else self.suggestion.leads_to(self.key.kind, self.now)


def row_of(show: Show, key: RowKey, requests: Sequence[Request]) -> Row:
    """Add up some open requests of one row."""
    has_figure = key.kind in (Kind.LEVEL, Kind.PAN, Kind.IN_OUT)
    position = show.levels[key.mix].at(None if key.kind is Kind.CALL else key.source)
    is_group = key.source in show.groups
    suggestion = (suggest_for_group if is_group else suggest)(show, key, requests)
    return Row(
        key=key,
        requests=tuple(requests),
        asked=total(key.kind, requests) if has_figure else None,
        by_musician=tuple(sums_by_musician(requests).items()),
        now=position.setting if position else None,
        suggestion=suggestion,
        urgent=most_pressing(requests),
        is_set_aside=all(request.is_set_aside for request in requests),
        is_disagreement=disagree(requests),
        is_group=is_group,
        sends=moves_of_group(show, key, suggestion.move or 0) if is_group and has_figure else (),
    )


@dataclass(frozen=True, slots=True)
class Queue:
    """The rows in working order: urgent calls, then the gap plan, what is set aside last.

    Attributes:
        later: Rows that the plan puts behind this gap, or the next while a song runs.
        fits: How many rows fit into it.
    """

    rows: tuple[Row, ...]
    later: frozenset[RowKey]
    fits: int = 0


def queue(show: Show) -> tuple[Row, ...]:
    """Return the rows in working order."""
    return planned_queue(show).rows


def planned_queue(show: Show) -> Queue:
    """Return the rows in working order, with what the plan says of them."""
    ups = asked_up(show)
    rows = {
        key: _with_ups(row_of(show, key, requests), ups.get(key.source or "", 0))
        for key, requests in show.open_rows().items()
    }
    by_asking = sorted(rows.values(), key=_order_of_asking)
    urgent = sorted((row for row in by_asking if row.urgent and not row.is_set_aside), key=_urgency)
    to_plan = [row for row in by_asking if not row.urgent and not row.is_set_aside]
    plan = planned_order(show, [(row.key, row.requests) for row in to_plan])
    aside = [row for row in by_asking if row.is_set_aside]
    return Queue((*urgent, *(rows[key] for key in plan.keys), *aside), plan.later, plan.fits)


def _with_ups(row: Row, mixes: int) -> Row:
    """Add the caution that its source is asked up in so many mixes."""
    if not mixes or row.key.kind is not Kind.LEVEL or (row.asked or 0) <= 0:
        return row
    caution = Caution(CautionCode.ASKED_UP, mixes)
    cautions = (*row.suggestion.cautions, caution)
    return replace(row, suggestion=replace(row.suggestion, cautions=cautions))


def _order_of_asking(row: Row) -> int:
    return int(row.requests[0].id[1:])


def _urgency(row: Row) -> int:
    return CALL_ORDER[row.urgent] if row.urgent else len(CALL_ORDER)
