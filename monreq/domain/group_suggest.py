"""The suggested move of a group's row: one change for all its sends, which must be safe for every one of them."""

from collections.abc import Sequence
from dataclasses import replace

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.group_sends import sends_to_set
from monreq.domain.raises import SAID_ONLY_WHERE_IT_CUTS, raise_limits, raised_together
from monreq.domain.requests import Kind, Request, RowKey
from monreq.domain.setup import Setting, Settings
from monreq.domain.show import Show
from monreq.domain.suggest import Suggestion, disagree, total

Sends = Sequence[tuple[str, Setting]]


def suggest_for_group(show: Show, key: RowKey, requests: Sequence[Request]) -> Suggestion:
    """Return the suggested move for requests of one row of a group, on the state as it is."""
    if key.kind not in (Kind.LEVEL, Kind.IN_OUT):
        return Suggestion(None)
    if disagree(requests):
        return Suggestion(0, (Caution(CautionCode.THEY_DISAGREE),))
    asked = total(key.kind, requests)
    if key.kind is Kind.IN_OUT:
        return Suggestion(asked)
    sends = sends_to_set(show, key)
    if not sends:
        return Suggestion(0, (Caution(CautionCode.SOURCE_IS_OFF),))
    return _lowered(sends, asked, show.settings) if asked <= 0 else _raised(show, key, sends, asked)


def _lowered(sends: Sends, asked: int, settings: Settings) -> Suggestion:
    """Go down as far as asked; a send at the end of its range stays there."""
    room = max(now.level_tenths - settings.lowest_tenths for _, now in sends)
    kept = max(asked, -room)
    return Suggestion(kept, () if kept == asked else (Caution(CautionCode.END_OF_RANGE, kept),))


def _raised(show: Show, key: RowKey, sends: Sends, asked: int) -> Suggestion:
    """Go up by the least of what every send, and what rings together, allows; each caution names its source."""
    limits = [*_limits(show, key.mix, sends), *_ends(sends, show.settings)]
    limits.sort(key=lambda limit: limit.figure or 0)
    move = max(0, min(asked, limits[0].figure or 0))
    said: dict[CautionCode, Caution] = {}
    for limit in limits:
        if limit.code not in _SAID_WHERE_IT_CUTS or limit.figure == move < asked:
            said.setdefault(limit.code, limit)
    return Suggestion(move, tuple(said.values()))


_SAID_WHERE_IT_CUTS = SAID_ONLY_WHERE_IT_CUTS | {CautionCode.END_OF_RANGE}


def _limits(show: Show, mix: str, sends: Sends) -> list[Caution]:
    each = [
        limit if limit.code is CautionCode.RAISE_LIMITED else replace(limit, source=source)
        for source, _ in sends
        for limit in raise_limits(show, RowKey(mix, source, Kind.LEVEL))
    ]
    return [*each, *raised_together(show, mix, {source for source, _ in sends})]


def _ends(sends: Sends, settings: Settings) -> list[Caution]:
    return [
        Caution(CautionCode.END_OF_RANGE, settings.highest_tenths - now.level_tenths, source=source)
        for source, now in sends
    ]
