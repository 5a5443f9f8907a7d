"""What time alone changes in what is suggested: a show as of a moment at which nothing was recorded.

Two things do: what was raised ceases to count as of this gap, and an ear's day comes so near its end that it may be full before a song is over. A song, or a gap
that runs, ends by a key alone: a song that goes on for long is no reason to go up further in it. The order of the rows, and
what is told beside the suggestions, stand from one such moment or event to the next.
"""

from collections.abc import Iterator
from dataclasses import replace

from monreq.domain.guard_ear import count_until_ms, day_is_over_at_ms
from monreq.domain.show import Show


def as_of(show: Show, now_ms: int) -> Show:
    """Return a show as of the last moment up to a time at which time alone changed what is suggested.

    It is the same show at any time in between, so that all pages that are drawn in between agree; its `at_ms` says as of
    when it is told. A clock that was set back leaves it as it was at its last event.

    Args:
        show: The state.
        now_ms: The time. [ms since 1970, UTC]
    """
    while (changes_ms := next_change_ms(show)) is not None and changes_ms <= now_ms:
        show = replace(show, at_ms=changes_ms)
    return show


def next_change_ms(show: Show) -> int | None:
    """Return the next moment at which what is suggested for what waits can change by time alone; None if there is none.

    [ms since 1970, UTC]
    """
    mixes = {request.key.mix for request in show.open_requests.values()}
    return min((moment for mix in mixes for moment in _changes_ms(show, mix)), default=None)


def _changes_ms(show: Show, mix: str) -> Iterator[int]:
    yield from count_until_ms(show, mix)
    over_ms = day_is_over_at_ms(show, mix)
    if over_ms is not None:
        yield over_ms
