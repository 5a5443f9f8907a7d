"""What holds in every show whatever was done to it, checked from its log and its state."""

from collections import Counter
from collections.abc import Sequence

from monreq.domain import events as e
from monreq.domain.queue import queue
from monreq.domain.requests import Kind
from monreq.domain.show import Show


def check(show: Show, log: Sequence[e.Recorded]) -> None:
    """Check a show that came to be from exactly this log."""
    check_log(log)
    check_requests(show, log)
    check_levels(show)
    check_rows(show)


def check_log(log: Sequence[e.Recorded]) -> None:
    """Revisions have no gap; requests and decisions are called after the revision they came to be in."""
    assert [recorded.revision for recorded in log] == list(range(1, len(log) + 1))
    for recorded in log:
        match recorded.event:
            case e.ChangeAsked(request=request):
                assert request == f"r{recorded.revision}"
            case e.RequestsAnswered(decision=decision):
                assert decision == f"d{recorded.revision}"
            case _:
                pass


def check_requests(show: Show, log: Sequence[e.Recorded]) -> None:
    """Every request is open or closed, never both, and nobody's own open changes come to nothing."""
    asked = {recorded.event.request for recorded in log if isinstance(recorded.event, e.ChangeAsked)}
    assert show.closed.isdisjoint(show.open_requests)
    assert show.closed.union(show.open_requests) == asked
    sums: Counter[tuple[object, str]] = Counter()
    for request in show.open_requests.values():
        assert show.levels[request.key.mix].at(request.key.source) is not None
        if request.key.kind in (Kind.LEVEL, Kind.PAN):
            sums[request.key, request.musician] += request.amount
    assert 0 not in sums.values()


def check_levels(show: Show) -> None:
    """Every setting is one that the desk can have, and only a stereo mix has pan."""
    assert show.levels.keys() == show.mixes.keys()
    for mix, levels in show.levels.items():
        assert levels.sends.keys() <= show.sources.keys()
        for position in (levels.output, *levels.sends.values()):
            setting = position.setting
            assert show.settings.lowest_tenths <= setting.level_tenths <= show.settings.highest_tenths
            assert abs(setting.pan_percent) <= (100 if show.mixes[mix].is_stereo else 0)


def check_rows(show: Show) -> None:
    """Rows part the open requests, add them up, and never suggest more than was asked."""
    rows = queue(show)
    named = [request.id for row in rows for request in row.requests]
    assert sorted(named) == sorted(show.open_requests)
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        if row.key.kind in (Kind.LEVEL, Kind.PAN):
            assert row.asked == sum(request.amount for request in row.requests)
            assert row.suggestion.move is not None
            assert min(row.asked, 0) <= row.suggestion.move <= max(row.asked, 0)
