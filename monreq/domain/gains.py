"""Preamps: how far each is turned, and will be once all is done that is planned."""

from collections.abc import Mapping

from monreq.domain.show import Show


def gains_to_come(show: Show, mix: str) -> Mapping[str, int]:
    """Return how far preamps raise each source in a mix, at least as far as they will once what is planned is done.

    What is planned to come down meanwhile gives nothing back before it is done. [0.1 dB]
    """
    planned = {change.source for change in show.preamp_changes.values()}
    if not planned:
        return show.gains
    to_come = {source: max(0, _to_come(show, mix, source)) for source in planned}
    return {**show.gains, **{source: show.gains.get(source, 0) + more for source, more in to_come.items()}}


def _to_come(show: Show, mix: str, source: str) -> int:
    """Return how far a source will still go up in a mix once all that is planned at its preamp is done. [0.1 dB]."""
    changes = {change.id: change for change in show.preamp_changes.values() if change.source == source}
    waiting = sum(
        one.amount for one in show.open_requests.values() if one.group in changes and one.key.mix == mix
    )
    return waiting + sum(change.change_tenths for change in changes.values() if not change.is_moved)
