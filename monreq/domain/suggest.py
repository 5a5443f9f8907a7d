"""The suggested move of a row: the sum, bounded by what is safe, with what was cut and why.

A suggestion never acts by itself: a person decides and records what the hand did.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.raises import SAID_ONLY_WHERE_IT_CUTS, raise_limits
from monreq.domain.requests import CALL_ORDER, Call, Kind, Request, RowKey
from monreq.domain.setup import Settings
from monreq.domain.show import Show

PAN_LIMIT_PERCENT = 100

NEAR_FEEDBACK = "near_feedback"
IN_STEPS = "in_steps"

_NO_BOUNDS = frozenset({CautionCode.PREAMP, CautionCode.ASKED_UP})
_BY_MARGIN = frozenset({CautionCode.AT_RESERVE, CautionCode.MARGIN_SHORT, CautionCode.LOW_MARGIN})
_BY_TRIP = frozenset({CautionCode.RAISE_LIMITED, CautionCode.MARGIN_NOT_MEASURED, CautionCode.MARGIN_STALE})


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What the desk is advised to do for a row.

    Attributes:
        move: The change, in the unit of the row's kind; None where there is no figure.
        cautions: What to mind, most important first.
    """

    move: int | None
    cautions: tuple[Caution, ...] = ()


def total(kind: Kind, requests: Sequence[Request]) -> int:
    """Return what requests of one row come to: the plain sum, or for in and out its sign."""
    plain_sum = sum(request.amount for request in requests)
    if kind is Kind.IN_OUT:
        return (plain_sum > 0) - (plain_sum < 0)
    return plain_sum


def sums_by_musician(requests: Sequence[Request]) -> dict[str, int]:
    """Return each musician's own sum, in the order of their first asking; what a preamp or a song wants is nobody's."""
    sums: dict[str, int] = {}
    for request in _asked_by_musicians(requests):
        sums[request.musician] = sums.get(request.musician, 0) + request.amount
    return sums


def disagree(requests: Sequence[Request]) -> bool:
    """Return whether musicians who share the mix want opposite things."""
    sums = sums_by_musician(requests).values()
    return min(sums, default=0) < 0 < max(sums, default=0)


def most_pressing(requests: Sequence[Request]) -> Call | None:
    """Return the call that is worked first among these, None if none is a call."""
    calls = [request.call for request in requests if request.call is not None]
    return min(calls, key=CALL_ORDER.__getitem__, default=None)


def suggest(show: Show, key: RowKey, requests: Sequence[Request]) -> Suggestion:
    """Return the suggested move for requests of one row, on the state as it is."""
    if key.kind is Kind.SOUND:
        return Suggestion(None)
    if key.kind is Kind.CALL:
        return _suggest_for_call(show, key, most_pressing(requests))
    if key.kind is Kind.LEVEL:
        return _suggest_level(show, key, requests)
    if disagree(requests):
        return Suggestion(0, (Caution(CautionCode.THEY_DISAGREE),))
    if key.kind is Kind.PAN:
        return _suggest_pan(show, key, total(key.kind, requests))
    return Suggestion(total(key.kind, requests))


def cut_because(kind: Kind, asked: int | None, suggestion: Suggestion) -> str:
    """Return the code of why less is suggested than was asked; empty if nothing was cut.

    What cut it stands first among the cautions.
    """
    is_cut = kind is Kind.LEVEL and 0 <= (suggestion.move or 0) < (asked or 0)
    codes = [one.code for one in suggestion.cautions if one.code not in _NO_BOUNDS]
    if not is_cut or not codes:
        return ""
    return NEAR_FEEDBACK if codes[0] in _BY_MARGIN else IN_STEPS if codes[0] in _BY_TRIP else ""


def _suggest_for_call(show: Show, key: RowKey, call: Call | None) -> Suggestion:
    down = {Call.HURTS: show.settings.hurts_tenths, Call.SQUEAL: show.settings.squeal_tenths}
    if call not in down:
        return Suggestion(None)
    level = show.levels[key.mix].output.setting.level_tenths
    return _kept_in_range(down[call], level, show.settings, [])


def _suggest_level(show: Show, key: RowKey, requests: Sequence[Request]) -> Suggestion:
    """Bound what musicians and songs ask; what compensates a preamp is added whole: it only keeps things as they were."""
    setting = show.position(key.mix, key.source).setting
    if not setting.is_on:
        return Suggestion(0, (Caution(CautionCode.SOURCE_IS_OFF),))
    compensating = sum(request.amount for request in requests if request.is_for_preamp)
    asked = total(key.kind, requests) - compensating
    if disagree(requests):
        bounded, cautions = 0, [Caution(CautionCode.THEY_DISAGREE)]
    else:
        bounded, cautions = (asked, []) if asked <= 0 else _bounded_raise(show, key, asked)
    if compensating:
        cautions = [Caution(CautionCode.PREAMP, compensating), *cautions]
    return _kept_in_range(bounded + compensating, setting.level_tenths, show.settings, cautions)


def _asked_by_musicians(requests: Sequence[Request]) -> list[Request]:
    return [request for request in requests if not request.group]


def _bounded_raise(show: Show, key: RowKey, asked: int) -> tuple[int, list[Caution]]:
    """Return how much of a raise is advised, and what to mind: the tightest bound first, and the margin always."""
    limits = sorted(raise_limits(show, key), key=lambda limit: limit.figure or 0)
    move = min(asked, limits[0].figure or 0)
    said = [
        limit for limit in limits if limit.code not in SAID_ONLY_WHERE_IT_CUTS or limit.figure == move < asked
    ]
    return move, said


def _kept_in_range(move: int, level: int, settings: Settings, cautions: list[Caution]) -> Suggestion:
    kept = max(settings.lowest_tenths - level, min(settings.highest_tenths - level, move))
    if kept != move:
        cautions = [*cautions, Caution(CautionCode.END_OF_RANGE, kept)]
    return Suggestion(kept, tuple(cautions))


def _suggest_pan(show: Show, key: RowKey, asked: int) -> Suggestion:
    pan = show.position(key.mix, key.source).setting.pan_percent
    kept = max(-PAN_LIMIT_PERCENT - pan, min(PAN_LIMIT_PERCENT - pan, asked))
    return Suggestion(kept, () if kept == asked else (Caution(CautionCode.END_OF_RANGE, kept),))
