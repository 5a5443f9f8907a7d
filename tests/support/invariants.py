"""What holds in every show whatever was done to it, checked from its log and its state."""

import math
from collections import Counter
from collections.abc import Sequence

from monreq.domain import events as e
from monreq.domain.cautions import CautionCode
from monreq.domain.margins import margins_in
from monreq.domain.queue import Row, queue
from monreq.domain.requests import Kind
from monreq.domain.show import Show


def check(show: Show, log: Sequence[e.Recorded]) -> None:
    """Check a show that came to be from exactly this log."""
    check_log(log)
    check_requests(show, log)
    check_levels(show)
    check_rows(show)
    check_measured(show)
    check_places(show)


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
        if request.key.kind in (Kind.LEVEL, Kind.PAN) and not request.group:
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


def check_places(show: Show) -> None:
    """Nobody stands on stage who is not in the show."""
    assert show.standings.keys() <= show.musicians.keys()
    assert show.source_places.keys() <= show.sources.keys()
    assert {place.beside for place in show.source_places.values()} <= {"", *show.musicians}


def check_rows(show: Show) -> None:
    """Rows part the open requests, add them up, and never suggest more than was asked.

    What makes up for a preamp comes on top, as far as the desk's range goes: down always, up as far as the guard lets,
    which then says why, and never turns it round.
    """
    rows = queue(show)
    named = [request.id for row in rows for request in row.requests]
    assert sorted(named) == sorted(show.open_requests)
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        if row.key.kind in (Kind.LEVEL, Kind.PAN):
            assert row.asked == sum(request.amount for request in row.requests)
            preamp = sum(request.amount for request in row.requests if request.is_for_preamp)
            asked = row.asked - preamp
            low, high = (kept(show, row, end + preamp) for end in (min(asked, 0), max(asked, 0)))
            assert row.suggestion.move is not None
            if preamp > 0 and _says_a_bound(row):
                low = min(low, kept(show, row, min(row.asked, 0)))
            assert low <= row.suggestion.move <= high


def _says_a_bound(row: Row) -> bool:
    """Whether a row says more than what a preamp, musicians and the desk's range make of it."""
    says_none = {
        CautionCode.PREAMP,
        CautionCode.ASKED_UP,
        CautionCode.THEY_DISAGREE,
        CautionCode.END_OF_RANGE,
    }
    return any(one.code not in says_none for one in row.suggestion.cautions)


def kept(show: Show, row: Row, move: int) -> int:
    """Return how far a move can go: nowhere where the source is off."""
    if row.now is None or row.key.kind is not Kind.LEVEL:
        return move
    if not row.now.is_on:
        return 0
    room = (
        show.settings.lowest_tenths - row.now.level_tenths,
        show.settings.highest_tenths - row.now.level_tenths,
    )
    return max(room[0], min(room[1], move))


def check_measured(show: Show) -> None:
    """Nothing is kept of what left the show; one change is planned at a preamp; a margin is always a figure or not measured."""
    changes = show.preamp_changes.values()
    planned = [change.source for change in changes if not change.is_moved]
    groups = {request.group for request in show.open_requests.values() if request.group}
    assert len(set(planned)) == len(planned)
    put_back = {request.group for request in show.open_requests.values() if request.is_put_back}
    assert groups - put_back <= {*show.preamp_changes, show.waiting_song_plan}
    assert {change.source for change in changes} | show.gains.keys() <= show.sources.keys()
    assert {mix for mix, _ in show.readings} <= show.mixes.keys()
    assert {source for _, source in show.readings} <= show.sources.keys()
    for mix in show.mixes:
        for margin in margins_in(show, mix):
            is_measured = (mix, margin.source) in show.readings
            assert is_measured is (margin.left_db is not None)
            assert margin.left_db is None or math.isfinite(margin.left_db)
