"""What waits no more is told by name: what a request is called inside, nobody at a desk or a phone ever reads."""

from collections.abc import Callable

from monreq.domain.refusals import AlreadyAnswered, Refusal
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web.speech import _, listed, one_by_one

Naming = Callable[[str, str | None, str], str]
"""Says what a mix, a source (None: the whole mix) and a kind are called."""


def told_at_desk(show: Show, refusal: Refusal, place: str) -> Refusal:
    """Let a refusal name the rows that wait no more; what nobody answered was in the row that was pressed."""

    def row(mix: str, source: str | None, kind: str) -> str:
        whose = _mix(show, mix)
        return whose if kind == Kind.CALL else listed((whose, _source(show, source)))

    match place.split("-"):
        case ["row", mix, source, kind]:
            return _named(show, refusal, row, row(mix, source or None, kind))
        case _:
            return refusal


def told_on_phone(show: Show, refusal: Refusal, mix: str) -> Refusal:
    """Let a refusal name what a phone asked for; of what nobody answered only the mix is known."""

    def asked(_mix: str, source: str | None, _kind: str) -> str:
        return _source(show, source)

    return _named(show, refusal, asked, _mix(show, mix))


def _mix(show: Show, mix: str) -> str:
    return show.mixes[mix].name if mix in show.mixes else mix


def _source(show: Show, source: str | None) -> str:
    return show.source_name(source) or _("Whole mix")


def _named(show: Show, refusal: Refusal, name: Naming, otherwise: str) -> Refusal:
    if isinstance(refusal, AlreadyAnswered):
        decided = {request.id: one.key for one in show.decisions.values() for request in one.requests}
        names = [name(*decided[one]) if one in decided else otherwise for one in refusal.requests]
        refusal.values["requests"] = one_by_one(dict.fromkeys(names))
    return refusal
