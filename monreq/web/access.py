"""Who may do what: tokens read into principals, and the admissions that a browser's cookie carries."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from flask import session

from monreq.domain.refusals import CodeReplacedSince, NotLikeThis, TooFast, UnknownCode, UnknownShow
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.services.tokens import MalformedTokenError, Subject, Token, Verdict, make_token
from monreq.web.context import web
from monreq.web.pace import ASKING

_SESSION_KEY = "admissions"


@dataclass(frozen=True, slots=True)
class Principal:
    """Who a token or a cookie speaks for.

    Attributes:
        mix: The one mix it opens; None for the desk.
        generation: Of the code by which it was admitted.
        musician: Who was chosen in this browser, where several share the mix.
    """

    show_id: str
    mix: str | None
    generation: int
    musician: str | None = None

    @property
    def is_desk(self) -> bool:
        """Whether it opens the desk."""
        return self.mix is None


def token_of(key: bytes, show: Show, mix: str | None) -> str:
    """Return the token that opens a mix, or the desk (None), now."""
    return make_token(key, show.id, Subject(mix), show.generation(mix))


def principal_of_token(shows: Shows, key: bytes, text: str) -> Principal:
    """Return who a token speaks for.

    Raises:
        UnknownCode: It opens nothing and never did.
        CodeReplacedSince: It opened something until it was replaced.
    """
    try:
        token = Token.parse(text)
        show = shows.state(token.show)
    except (MalformedTokenError, UnknownShow) as unknown:
        raise UnknownCode from unknown
    if token.subject.is_tablet:
        raise UnknownCode  # it opens its own page, and speaks for nobody
    mix = token.subject.mix
    match token.verify(key, show.generation(mix)):
        case Verdict.REPLACED:
            raise CodeReplacedSince
        case Verdict.FORGED:
            raise UnknownCode
    if mix is not None and mix not in show.mixes:
        raise CodeReplacedSince
    return Principal(show.id, mix, show.generation(mix))


def check_still_valid(show: Show, principal: Principal) -> None:
    """Refuse a principal whose code was replaced, or whose mix is gone, since it was admitted.

    Raises:
        CodeReplacedSince: It has no say any more.
    """
    is_gone = principal.mix is not None and principal.mix not in show.mixes
    if is_gone or show.generation(principal.mix) != principal.generation:
        raise CodeReplacedSince


def check_pace(principal: Principal) -> None:
    """Refuse who sends faster than anybody can ask; the desk is never slowed down.

    Each musician of a shared mix is counted apart; a program that speaks for the mix is one more.

    Raises:
        TooFast: Nothing of it was looked at.
    """
    if principal.is_desk:
        return
    sender = f"{principal.show_id} {principal.mix} {principal.musician or ''}"
    if not web().pace.lets_through(sender, ASKING, web().monotonic_s()):
        raise TooFast


def admit(principal: Principal) -> None:
    """Add an admission to the browser's cookie; one desk, and any number of mixes."""
    admissions = dict(session.get(_SESSION_KEY, {}))
    admissions[principal.mix or ""] = [principal.show_id, principal.generation, principal.musician]
    session[_SESSION_KEY] = admissions
    session.permanent = True


def dismiss(mix: str) -> None:
    """Take the admission to a mix out of the browser's cookie."""
    session[_SESSION_KEY] = {
        subject: kept for subject, kept in session.get(_SESSION_KEY, {}).items() if subject != mix
    }


def admitted(mix: str | None) -> Principal:
    """Return the admission to a mix, or to the desk (None), that this browser's cookie holds.

    Raises:
        UnknownCode: It holds none.
    """
    principal = admission_in(session, mix)
    if principal is None:
        raise UnknownCode
    return principal


def admission_in(cookie: Mapping[str, Any], mix: str | None) -> Principal | None:
    """Return an admission out of a cookie's content, also where there is no request."""
    found = cookie.get(_SESSION_KEY, {}).get(mix or "")
    return None if found is None else Principal(found[0], mix, found[1], found[2])


def admitted_mixes(cookie: Mapping[str, Any]) -> list[str]:
    """Return the mixes that a cookie's content admits to."""
    return [mix for mix in cookie.get(_SESSION_KEY, {}) if mix]


def as_musician(principal: Principal, musician: str | None) -> Principal:
    """Return the principal with the musician who holds this phone."""
    return replace(principal, musician=musician)


class TakenOut(NotLikeThis):
    """You were taken out of this mix at the desk: load this page again and say who you are."""


def check_still_hears(show: Show, principal: Principal) -> None:
    """Refuse a phone whose musician was taken out of its mix: nobody else is asked for in their place.

    Raises:
        TakenOut: Nothing was asked.
    """
    if principal.musician is not None and principal.musician not in show.mix(principal.mix or "").musicians:
        raise TakenOut


def with_present_musician(show: Show, principal: Principal) -> Principal:
    """Return the principal with a musician who hears the mix now: the one chosen, else the only one, else none."""
    musicians = show.mix(principal.mix or "").musicians
    if principal.musician in musicians:
        return principal
    return as_musician(principal, musicians[0] if len(musicians) == 1 else None)
