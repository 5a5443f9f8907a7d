"""Preamps: how far each is turned, and will be once all is done that is planned."""

from collections.abc import Iterator, Mapping

from monreq.domain.readings import PreampChange
from monreq.domain.remembering import by_identity
from monreq.domain.requests import Request
from monreq.domain.setup import Source, SourceKind
from monreq.domain.show import Show

_ANY_OTHER = ""


def gains_to_come(show: Show, mix: str) -> Mapping[str, int]:
    """Return how far preamps raise each source in a mix, at least as far as they will once what is planned is done.

    What is planned to come down meanwhile gives nothing back before it is done. [0.1 dB]
    """
    by_mix = _to_come_by_mix(show.gains, show.preamp_changes, show.open_requests)
    return by_mix.get(mix, by_mix[_ANY_OTHER])


def gain_raise(
    sources: Mapping[str, Source], source: str, gains: Mapping[str, int], before: Mapping[str, int]
) -> int:
    """Return how far preamps raise a source since they were turned as before: a return also as any mic that may feed it.

    [0.1 dB]
    """
    own = gains.get(source, 0) - before.get(source, 0)
    if source not in sources or sources[source].kind is not SourceKind.RETURN:
        return own
    mics = (one.id for one in sources.values() if one.kind is SourceKind.OPEN_MIC)
    return own + max([0, *(gains.get(mic, 0) - before.get(mic, 0) for mic in mics)])


@by_identity
def _to_come_by_mix(
    gains: Mapping[str, int], changes: Mapping[str, PreampChange], waiting: Mapping[str, Request]
) -> Mapping[str, Mapping[str, int]]:
    """Return `gains_to_come` of each mix where something waits for a preamp, and of any other."""
    if not changes:
        return {_ANY_OTHER: gains}
    mixes = {_ANY_OTHER, *(one.key.mix for one in waiting.values() if one.group in changes)}
    return {mix: {**gains, **dict(_raised(gains, changes, waiting, mix))} for mix in mixes}


def _raised(
    gains: Mapping[str, int], changes: Mapping[str, PreampChange], waiting: Mapping[str, Request], mix: str
) -> Iterator[tuple[str, int]]:
    for source in {change.source for change in changes.values()}:
        own = {change.id: change for change in changes.values() if change.source == source}
        compensating = sum(one.amount for one in waiting.values() if one.group in own and one.key.mix == mix)
        turned = sum(max(0, change.change_tenths) for change in own.values() if not change.is_moved)
        yield source, gains.get(source, 0) + max(0, compensating + turned)
