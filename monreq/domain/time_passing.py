"""What time alone changes in what is suggested: a show as of a moment at which nothing was recorded.

Two things do: what was raised ceases to count as of this gap, and an ear's day may from then on be full before a song is
over. A song, or a gap that runs, ends by a key alone: a song that goes on for long is no reason to go up further in it.
What is told of the ear of a mix for which something waits is told anew every minute while it is heard. The order of the
rows, and what else is told beside the suggestions, stand from one such moment or event to the next.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_levels import DAY_MS
from monreq.domain.guard_ear import count_until_ms, day_is_over_at_ms
from monreq.domain.show import Show

MINUTE_MS: Final = 60_000  # chosen: no figure of an ear is told in less


def as_of(show: Show, now_ms: int) -> Show:
    """Return a show as of the last moment up to a time at which time alone changed what is suggested, or told of an ear.

    It is the same show at any time in between, so that all pages that are drawn in between agree; its `at_ms` says as of
    when it is told. A clock that was set back leaves it as it was at its last event.

    Args:
        show: The state.
        now_ms: The time. [ms since 1970, UTC]
    """
    while (changes_ms := next_change_ms(show)) is not None and changes_ms <= now_ms:
        show = replace(show, at_ms=changes_ms)
    told_ms = max((_ear_told_ms(show, mix, now_ms) for mix in _waited_for(show)), default=0)
    return replace(show, at_ms=told_ms) if told_ms > show.at_ms else show


def next_change_ms(show: Show) -> int | None:
    """Return the next moment at which what is suggested for what waits can change by time alone; None if there is none.

    [ms since 1970, UTC]
    """
    return min((moment for mix in _waited_for(show) for moment in _changes_ms(show, mix)), default=None)


def _waited_for(show: Show) -> set[str]:
    return {request.key.mix for request in show.open_requests.values()}


def _ear_told_ms(show: Show, mix: str, now_ms: int) -> int:
    """Return the last whole minute, or the end of the day, by which the ear of a mix had more; 0 where time adds nothing."""
    found = ear_exposure(show, mix, now_ms)
    if not show.is_open or found is None or found.left_h is None:
        return 0
    return found.since_ms + DAY_MS if found.is_day_over else now_ms - now_ms % MINUTE_MS


def _changes_ms(show: Show, mix: str) -> Iterator[int]:
    yield from count_until_ms(show, mix)
    over_ms = day_is_over_at_ms(show, mix)
    if over_ms is not None:
        yield over_ms
