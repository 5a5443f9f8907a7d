"""Who may do what: tokens read into principals, and the admissions that a browser's cookie carries."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from flask import g, has_request_context, session

from monreq.domain.refusals import CodeReplacedSince, NotLikeThis, TooFast, UnknownCode, UnknownShow
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.services.tokens import MalformedTokenError, Subject, Token, Verdict, make_token
from monreq.web.context import web
from monreq.web.pace import ASKING
from monreq.web.show_marks import ForAnotherShow, is_there, named_show, page_is_of, show_of_mark

_SESSION_KEY = "admissions"
_PAGE = "monreq_admission"
_MOST_KEPT = 40  # chosen: more than a festival has places, and within what a browser keeps of one cookie


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
    """Add an admission to the browser's cookie, as the newest: one for each show's desk and each of its mixes.

    Those to shows that are gone, as after a restoring, are let go of then; reading only passes them over, since the
    database that knows them may yet be put back.
    """
    _keep([*_without(principal.show_id, principal.mix), principal])
    session.permanent = True
    opened_by(principal)


def dismiss(show_id: str, mix: str) -> None:
    """Take the admission to a mix out of the browser's cookie."""
    _keep(_without(show_id, mix))


def _without(show_id: str, mix: str | None) -> list[Principal]:
    return [one for one in admissions() if (one.show_id, one.mix) != (show_id, mix)]


def _keep(admissions: Sequence[Principal]) -> None:
    session[_SESSION_KEY] = [
        [one.show_id, one.mix or "", one.generation, one.musician] for one in admissions[-_MOST_KEPT:]
    ]


def admitted(mix: str | None) -> Principal:
    """Return the admission to a mix, or to the desk (None), that this browser's cookie holds.

    Where it holds those of several shows, the page's own show decides; a plain address means the newest.

    Raises:
        UnknownCode: It holds none.
        PageOutOfDate, ForAnotherShow: It holds none for the show that the page was of.
    """
    held = [one for one in admissions() if one.mix == mix]
    if not held:
        raise UnknownCode
    named = named_show()
    found = [one for one in held if named in (None, one.show_id)]
    if not found:
        raise ForAnotherShow
    opened_by(found[-1])
    return found[-1]


def opened_by(principal: Principal) -> None:
    """Let the page that is drawn now, or led to, be open by an admission."""
    setattr(g, _PAGE, principal)
    page_is_of(principal.show_id)


def admission_of_page() -> Principal | None:
    """Return the admission by which the page is open that is drawn now, or answered; None if by none."""
    found: Principal | None = g.get(_PAGE) if has_request_context() else None
    return found


def admissions() -> list[Principal]:
    """Return the admissions that this browser's cookie holds to shows that are there, the newest last."""
    return _there(web().shows, session)


def admission(mix: str | None, show_id: str | None = None) -> Principal | None:
    """Return this browser's newest admission to a mix, or to the desk (None): of a show, if one is named."""
    return _newest(admissions(), mix, show_id)


def _there(shows: Shows, cookie: Mapping[str, Any]) -> list[Principal]:
    return [one for one in admissions_in(cookie) if is_there(shows, one.show_id)]


def _newest(held: Sequence[Principal], mix: str | None, show_id: str | None) -> Principal | None:
    found = [one for one in held if one.mix == mix and show_id in (None, one.show_id)]
    return found[-1] if found else None


def admissions_in(cookie: Mapping[str, Any]) -> list[Principal]:
    """Return the admissions in a cookie's content, the newest last, whether or not their shows are there."""
    kept = cookie.get(_SESSION_KEY, [])
    if isinstance(kept, Mapping):  # from before a browser could be at several desks
        kept = [[show_id, mix, *rest] for mix, (show_id, *rest) in kept.items()]
    return [Principal(show_id, mix or None, *rest) for show_id, mix, *rest in kept]


def listener(
    shows: Shows, key: bytes, auth: Mapping[str, Any], cookie: Mapping[str, Any], *, is_desk: bool
) -> Principal:
    """Return who a live connection speaks for: by a token, or by the cookie, and the mix and show that the page names.

    Raises:
        UnknownCode, CodeReplacedSince: By nobody.
        ForAnotherShow: Its page is from before a restoring.
    """
    if isinstance(auth.get("token"), str):
        return principal_of_token(shows, key, auth["token"])
    mark = auth.get("show")
    show_id = show_of_mark(mark) if isinstance(mark, str) else None
    found = _newest(_there(shows, cookie), None if is_desk else str(auth.get("mix", "")), show_id)
    if found is None:
        raise UnknownCode
    return found


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
