"""The suggested move of a row: the sum, bounded by what is safe, with what was cut and why.

A suggestion never acts by itself: a person decides and records what the hand did.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from monreq.domain import guard
from monreq.domain.cautions import Basis, Caution, CautionCode
from monreq.domain.requests import CALL_ORDER, Call, Kind, Request, RowKey, moved_by
from monreq.domain.setup import Setting, Settings
from monreq.domain.show import Show

PAN_LIMIT_PERCENT = 100

NEAR_FEEDBACK = "near_feedback"
IN_STEPS = "in_steps"
NOT_RUNG_OUT = "not_rung_out"
JUST_RAISED = "just_raised"
LOUD_ENOUGH = "loud_enough"
SET_BY_HAND = "set_by_hand"
NO_TIME = "no_time"
IT_HURT = "it_hurt"
ASKED_BEFORE = "asked_before"
DAY_FULL = "day_full"

_NO_BOUNDS = frozenset({CautionCode.PREAMP, CautionCode.ASKED_UP})
_BECAUSE = {
    CautionCode.AT_RESERVE: NEAR_FEEDBACK,
    CautionCode.MARGIN_SHORT: NEAR_FEEDBACK,
    CautionCode.LOW_MARGIN: NEAR_FEEDBACK,
    CautionCode.AFTER_SQUEAL: NEAR_FEEDBACK,
    CautionCode.RAISE_LIMITED: IN_STEPS,
    CautionCode.RAISED_ALREADY: IN_STEPS,
    CautionCode.MARGIN_NOT_MEASURED: NOT_RUNG_OUT,
    CautionCode.MARGIN_STALE: NOT_RUNG_OUT,
    CautionCode.EVENING_LIMIT: LOUD_ENOUGH,
    CautionCode.NO_TIME_ABOVE: NO_TIME,
    CautionCode.DOSE_FULL: DAY_FULL,
    CautionCode.AFTER_HURTS: IT_HURT,
    CautionCode.ASKED_BEFORE_HURTS: ASKED_BEFORE,
}
_BECAUSE_OF = {
    (CautionCode.RAISED_ALREADY, Basis.JUST_NOW): JUST_RAISED,
    (CautionCode.EVENING_LIMIT, Basis.LOW_START): SET_BY_HAND,
    (CautionCode.EVENING_LIMIT, Basis.START_LEVELS): SET_BY_HAND,
}

REASONS = frozenset({*_BECAUSE.values(), *_BECAUSE_OF.values()})
"""All codes of why less is suggested than was asked."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What the desk is advised to do for a row.

    Attributes:
        move: The change, in the unit of the row's kind; None where there is no figure.
        cautions: What to mind, most important first.
        comes_in_tenths: The level at which what is off comes in. [0.1 dB]
    """

    move: int | None
    cautions: tuple[Caution, ...] = ()
    comes_in_tenths: int | None = None

    def leads_to(self, kind: Kind, now: Setting) -> Setting | None:
        """Return where the suggested move leads from where things stand; None where nothing is moved."""
        if self.move is None:
            return None
        after = moved_by(kind, now, self.move)
        return after if self.comes_in_tenths is None else replace(after, level_tenths=self.comes_in_tenths)


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
    return _suggest_in_or_out(show, key, requests)


def cut_because(kind: Kind, asked: int | None, suggestion: Suggestion) -> str:
    """Return the code of why less is suggested than was asked; empty if nothing was cut.

    What cut it stands first among the cautions.
    """
    is_cut = kind in (Kind.LEVEL, Kind.IN_OUT) and 0 <= (suggestion.move or 0) < (asked or 0)
    first = next((one for one in suggestion.cautions if one.code not in _NO_BOUNDS), None)
    if not is_cut or first is None:
        return ""
    of_basis = None if first.basis is None else _BECAUSE_OF.get((first.code, first.basis))
    return of_basis or _BECAUSE.get(first.code, "")


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
    compensating = [request for request in requests if request.is_for_preamp]
    asked, first = since_it_hurt(show, key, [one for one in requests if not one.is_for_preamp])
    if disagree(requests):
        asked, first = 0, (Caution(CautionCode.THEY_DISAGREE),)
    bounded, said = _bounded(show, key, compensating, asked)
    cautions = [*first, *said]
    beside = sum(request.amount for request in compensating)
    if beside:
        cautions = [Caution(CautionCode.PREAMP, beside), *cautions]
    return _kept_in_range(bounded + beside, setting.level_tenths, show.settings, cautions)


def since_it_hurt(show: Show, key: RowKey, requests: Sequence[Request]) -> tuple[int, tuple[Caution, ...]]:
    """Return what requests of one row come to without what was asked up before it hurt, and the caution that says so.

    Who wants that still, asks again.
    """
    hurt = max((one.stood.revision for one in show.disproofs_of(key.mix, Call.HURTS)), default=0)
    before = [one for one in requests if one.amount > 0 and int(one.id[1:]) < hurt]
    asked = total(key.kind, [one for one in requests if one not in before])
    return asked, (Caution(CautionCode.ASKED_BEFORE_HURTS, max(0, asked)),) if before else ()


def _bounded(show: Show, key: RowKey, compensating: Sequence[Request], asked: int) -> guard.Bounded:
    """Pass what is asked up by the guard, and what makes up for a gain that was turned down."""
    up = sum(request.amount for request in compensating)
    if asked <= 0 and up <= 0:
        return asked, ()
    changes = [show.preamp_changes[one.group] for one in compensating if one.group in show.preamp_changes]
    stood = [change.paths[key.mix] for change in changes if key.mix in change.paths]
    beside = guard.Beside(up, max(stood)) if up > 0 and stood else guard.NOTHING_BESIDE
    move, said = guard.raised(show, key.mix, _raised(key), asked, beside=beside)
    return move, () if move == asked <= 0 else said


def _raised(key: RowKey) -> list[str] | None:
    return None if key.source is None else [key.source]


def _asked_by_musicians(requests: Sequence[Request]) -> list[Request]:
    return [request for request in requests if not request.group]


def _suggest_in_or_out(show: Show, key: RowKey, requests: Sequence[Request]) -> Suggestion:
    """Let a source out at once; let one come in no louder than it was known, and than its wedge and the ear take."""
    asked, before = since_it_hurt(show, key, requests)
    if before and asked <= 0:
        return Suggestion(asked, before)
    if asked <= 0 or key.source is None or show.position(key.mix, key.source).setting.is_on:
        return Suggestion(asked)
    level, cautions = guard.comes_in_at(show, key.mix, key.source)
    return Suggestion(0 if level is None else asked, cautions, level)


def _kept_in_range(move: int, level: int, settings: Settings, cautions: list[Caution]) -> Suggestion:
    kept = max(settings.lowest_tenths - level, min(settings.highest_tenths - level, move))
    end = Caution(CautionCode.END_OF_RANGE, kept)
    if kept < move:
        return Suggestion(kept, (end, *guard.said_anyway(cautions)))
    return Suggestion(kept, (*cautions, end) if kept > move else tuple(cautions))


def _suggest_pan(show: Show, key: RowKey, asked: int) -> Suggestion:
    pan = show.position(key.mix, key.source).setting.pan_percent
    kept = max(-PAN_LIMIT_PERCENT - pan, min(PAN_LIMIT_PERCENT - pan, asked))
    too_loud = guard.panned(show, key.mix, key.source, pan + kept) if key.source and kept else None
    if too_loud is not None:
        return Suggestion(0, (too_loud,))
    return Suggestion(kept, () if kept == asked else (Caution(CautionCode.END_OF_RANGE, kept),))
