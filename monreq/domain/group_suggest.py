"""The suggested move of a group's row: one change for all its sends, which must be safe for every one of them."""

from collections.abc import Sequence
from dataclasses import replace

from monreq.domain import guard
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.group_sends import sends_to_set
from monreq.domain.requests import Kind, Request, RowKey
from monreq.domain.setup import Setting, Settings
from monreq.domain.show import Show
from monreq.domain.suggest import Suggestion, disagree, since_it_hurt

Sends = Sequence[tuple[str, Setting]]


def suggest_for_group(show: Show, key: RowKey, requests: Sequence[Request]) -> Suggestion:
    """Return the suggested move for requests of one row of a group, on the state as it is."""
    if key.kind not in (Kind.LEVEL, Kind.IN_OUT):
        return Suggestion(None)
    if disagree(requests):
        return Suggestion(0, (Caution(CautionCode.THEY_DISAGREE),))
    asked, before = since_it_hurt(show, key, requests)
    if key.kind is Kind.IN_OUT or (before and asked == 0):
        left_out = _left_out(show, key) if asked > 0 else ()
        return Suggestion(0 if left_out else asked, (*before, *left_out))
    sends = sends_to_set(show, key)
    if not sends:
        return Suggestion(0, (Caution(CautionCode.SOURCE_IS_OFF),))
    found = _lowered(sends, asked, show.settings) if asked <= 0 else _raised(show, key, sends, asked)
    return Suggestion(found.move, (*before, *found.cautions))


def _left_out(show: Show, key: RowKey) -> tuple[Caution, ...]:
    """Return why nothing of a group had better come in, each caution with its source; nothing where something may."""
    off = [source for source, now in sends_to_set(show, key) if not now.is_on]
    found = {source: guard.comes_in_at(show, key.mix, source) for source in off}
    if any(level is not None for level, _ in found.values()):
        return ()
    return tuple(replace(one, source=source) for source, (_, said) in found.items() for one in said)


def _lowered(sends: Sends, asked: int, settings: Settings) -> Suggestion:
    """Go down as far as asked; a send at the end of its range stays there."""
    room = max(now.level_tenths - settings.lowest_tenths for _, now in sends)
    kept = max(asked, -room)
    return Suggestion(kept, () if kept == asked else (Caution(CautionCode.END_OF_RANGE, kept),))


def _raised(show: Show, key: RowKey, sends: Sends, asked: int) -> Suggestion:
    """Go up by the least of what every send, and all of them together, allow; each caution names its source."""
    ends = [(show.settings.highest_tenths - now.level_tenths, source) for source, now in sends]
    room, first_at_end = min(ends)
    move, said = guard.raised(show, key.mix, [source for source, _ in sends], asked)
    if move <= room:
        return Suggestion(move, said)
    end = Caution(CautionCode.END_OF_RANGE, room, source=first_at_end)
    return Suggestion(max(0, room), (end, *guard.said_anyway(said)))
