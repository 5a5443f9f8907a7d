"""Cautions of a row in words: what a bound is, what it counts from, and only what holds."""

from collections.abc import Mapping

from monreq.domain.cautions import Basis, Caution, CautionCode
from monreq.domain.exposure_limits import steady_ceiling
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB
from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web.ear_sentences import dose_line
from monreq.web.speech import N_, _, decimal, said_as
from monreq.web.wording import change, figure, level, whose

_CAUTIONS: Mapping[CautionCode, str] = {
    CautionCode.THEY_DISAGREE: N_("they disagree: %(whose)s"),
    CautionCode.AT_RESERVE: N_("margin %(margin)s dB, reserve %(reserve)s: no raise"),
    CautionCode.MARGIN_SHORT: N_("margin %(margin)s dB, reserve %(reserve)s: at most %(bound)s in one trip"),
    CautionCode.LOW_MARGIN: N_("margin %(margin)s dB, reserve %(reserve)s: at most %(bound)s in one trip"),
    CautionCode.MARGIN_STALE: N_("feedback margin stale: at most %(bound)s"),
    CautionCode.MARGIN_NOT_MEASURED: N_("feedback margin not measured: at most %(bound)s"),
    CautionCode.PREAMP: N_("%(bound)s of it compensates the preamp"),
    CautionCode.RAISE_LIMITED: N_("at most %(bound)s in one trip"),
    CautionCode.RAISED_ALREADY: N_("went up in this gap already: %(bound)s more"),
    CautionCode.DOSE_FULL: N_(
        "this ear's day may be full before a song is over (an estimate so far: %(dose)s): no raise"
    ),
    CautionCode.NO_TIME_ABOVE: N_(
        "above %(limit)s no time is permitted, and the level may be %(off)s dB higher: %(bound)s more"
    ),
    CautionCode.EVENING_LIMIT: N_("went up enough this evening: %(bound)s more"),
    CautionCode.AFTER_HURTS: N_("near what hurt: %(bound)s more"),
    CautionCode.ASKED_BEFORE_HURTS: N_("what was asked before it hurt waits until it is asked again"),
    CautionCode.AFTER_SQUEAL: N_("near where it squealed: %(bound)s more until it is rung out again"),
    CautionCode.COMES_IN_LOWER: N_("comes in at %(level)s, not at %(now)s"),
    CautionCode.SOURCE_IS_OFF: N_("the source is off in this mix"),
    CautionCode.END_OF_RANGE: N_("the end of the desk's range"),
    CautionCode.ASKED_UP: N_("asked up in %(mixes)s mixes: is the channel's gain low?"),
}

_CAUTIONS_OF_IN: Mapping[CautionCode, str] = {
    **_CAUTIONS,
    CautionCode.AT_RESERVE: N_("margin %(margin)s dB, reserve %(reserve)s: in at %(level)s at most"),
    CautionCode.MARGIN_SHORT: N_("margin %(margin)s dB, reserve %(reserve)s: in at %(level)s at most"),
    CautionCode.LOW_MARGIN: N_("margin %(margin)s dB, reserve %(reserve)s: in at %(level)s at most"),
    CautionCode.MARGIN_STALE: N_("feedback margin stale: in at %(level)s at most"),
    CautionCode.MARGIN_NOT_MEASURED: N_("feedback margin not measured: in at %(level)s at most"),
    CautionCode.RAISE_LIMITED: N_("makes the mix louder: in at %(level)s at most"),
    CautionCode.RAISED_ALREADY: N_("the mix went up in this gap already: in at %(level)s at most"),
    CautionCode.NO_TIME_ABOVE: N_(
        "above %(limit)s no time is permitted, and the level may be %(off)s dB higher: in at %(level)s at most"
    ),
    CautionCode.EVENING_LIMIT: N_("the mix went up enough: in at %(level)s at most"),
    CautionCode.AFTER_HURTS: N_("near what hurt: in at %(level)s at most"),
    CautionCode.AFTER_SQUEAL: N_("near where it squealed: in at %(level)s at most"),
}

_CAUTIONS_LEFT_OUT: Mapping[CautionCode, str] = {
    **_CAUTIONS_OF_IN,
    **dict.fromkeys(
        (CautionCode.AT_RESERVE, CautionCode.MARGIN_SHORT, CautionCode.LOW_MARGIN),
        N_("margin %(margin)s dB, reserve %(reserve)s: leave it off"),
    ),
    CautionCode.DOSE_FULL: N_("this ear's day may be full before a song is over: leave it off"),
    CautionCode.AFTER_HURTS: N_("near what hurt: leave it off"),
    CautionCode.AFTER_SQUEAL: N_("near where it squealed: leave it off"),
    **dict.fromkeys(
        (
            CautionCode.RAISE_LIMITED,
            CautionCode.RAISED_ALREADY,
            CautionCode.NO_TIME_ABOVE,
            CautionCode.EVENING_LIMIT,
        ),
        N_("the mix is loud enough: leave it off"),
    ),
}

_OF_BASIS: dict[Basis, str] = {
    Basis.JUST_NOW: N_("%(bound)s more within %(seconds)s s of the last raise: listen first"),
    Basis.LOW_START: N_("went up enough since its low start: %(bound)s more"),
    Basis.START_LEVELS: N_("went up enough since its start levels: %(bound)s more"),
    Basis.MARK: N_("went up enough since soundcheck: %(bound)s more"),
    Basis.FIRST_MARK: N_("went up enough since the first soundcheck mark: %(bound)s more"),
}
_BEFORE_THE_MARK: dict[Basis, str] = {
    Basis.LOW_START: N_("went up enough since its low start: %(bound)s more; type the start levels first"),
    Basis.START_LEVELS: N_(
        "went up enough since its start levels: %(bound)s more; what you type counts anew"
    ),
}
_IN_JUST_NOW = N_("within %(seconds)s s of the last raise: in at %(level)s at most")
_IN_THIS_SONG = N_("went up in this song already: %(bound)s more")
_IN_IN_THIS_SONG = N_("the mix went up in this song already: in at %(level)s at most")
_BOUND_TIGHTER_ELSEWHERE: Mapping[CautionCode, str] = {
    CautionCode.LOW_MARGIN: N_("margin %(margin)s dB, reserve %(reserve)s"),
    CautionCode.MARGIN_SHORT: N_("margin %(margin)s dB, reserve %(reserve)s"),
    CautionCode.AT_RESERVE: N_("margin %(margin)s dB, reserve %(reserve)s"),
    CautionCode.MARGIN_STALE: N_("feedback margin stale"),
    CautionCode.MARGIN_NOT_MEASURED: N_("feedback margin not measured"),
    CautionCode.NO_TIME_ABOVE: N_("above %(limit)s no time is permitted"),
}
"""What a caution says where something else bounds the move more tightly: its own bound is no advice then."""


def caution(show: Show, row: Row, one: Caution) -> str:
    """Return a caution of a row as a sentence without its full stop."""
    limit = steady_ceiling(show.settings.exposure_rule)
    values = {
        "whose": whose(show, row),
        "margin": figure(one.margin_tenths or 0),
        "reserve": figure(show.settings.reserve_tenths),
        "bound": change(row.key.kind, one.figure or 0),
        "mixes": one.figure or 0,
        "level": level(one.figure or 0),
        "limit": "" if limit is None else _("%(figure)s dB(A)", figure=figure(round(limit.figure * 10))),
        "now": level(row.now.level_tenths) if row.now else "",
        "seconds": show.settings.gap_s,
        "dose": dose_line(show, row.key.mix) if one.code is CautionCode.DOSE_FULL else "",
        "off": decimal(f"{TYPED_LEVEL_DB:.1f}"),
    }
    said = said_as(_caution_text(show, row, one), values)
    return (
        _("%(source)s: %(said)s", source=show.source_name(one.source) or "", said=said)
        if one.source
        else said
    )


def _caution_text(show: Show, row: Row, one: Caution) -> str:
    is_in = row.key.kind is Kind.IN_OUT
    if is_in and one.figure is None:
        return _CAUTIONS_LEFT_OUT[one.code]
    if one.code in _BOUND_TIGHTER_ELSEWHERE and not _is_tightest(row, one):
        return _BOUND_TIGHTER_ELSEWHERE[one.code]
    if one.code is CautionCode.RAISED_ALREADY and one.basis is None and show.is_running:
        return _IN_IN_THIS_SONG if is_in else _IN_THIS_SONG
    if is_in:
        return _IN_JUST_NOW if one.basis is Basis.JUST_NOW else _CAUTIONS_OF_IN[one.code]
    of_basis = _OF_BASIS if show.mark is not None else _OF_BASIS | _BEFORE_THE_MARK
    return _CAUTIONS[one.code] if one.basis is None else of_basis.get(one.basis, _CAUTIONS[one.code])


def _is_tightest(row: Row, one: Caution) -> bool:
    """Whether the bound of a caution is one that the suggestion goes by, or would if more were asked."""
    bound, suggestion = one.figure or 0, row.suggestion
    if row.key.kind is Kind.IN_OUT:
        return suggestion.comes_in_tenths is None or bound <= suggestion.comes_in_tenths
    compensating = sum(it.figure or 0 for it in suggestion.cautions if it.code is CautionCode.PREAMP)
    move = suggestion.move or 0
    return bound <= move - compensating
