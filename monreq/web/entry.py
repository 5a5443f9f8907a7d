"""The way in: a scanned code is confirmed once, exchanged for a cookie, and leaves the address bar."""

from flask import Blueprint, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.refusals import UnknownCode, UnknownMusician
from monreq.domain.setup import Mix
from monreq.domain.show import Show
from monreq.services.short_codes import find
from monreq.web.access import (
    Principal,
    admission,
    admissions,
    admit,
    as_musician,
    opened_by,
    principal_of_token,
    token_of,
    with_present_musician,
)
from monreq.web.context import web
from monreq.web.forms import AdmitForm, ShortCodeForm
from monreq.web.speech import _
from monreq.web.tries import LINKS, SHORT_CODES

blueprint = Blueprint("entry", __name__)


@blueprint.get("/")
def welcome() -> ResponseReturnValue:
    """Lead a browser that was admitted to its place; tell any other how to get in."""
    if admission(None):
        return redirect(url_for("desk.show_queue"), 303)
    mixes = [one.mix for one in admissions() if one.mix]
    if len(set(mixes)) == 1:
        return redirect(url_for("phone.show_mix", mix=mixes[0]), 303)
    return render_template("entry/welcome.html", form=ShortCodeForm())


@blueprint.post("/")
def read_short_code() -> ResponseReturnValue:
    """Take a code typed where a camera fails for the scanned one; whatever it opens not is told in the same words."""
    SHORT_CODES.count()
    form = ShortCodeForm()
    found = find(web().key, open_shows(), form.code.data or "") if form.validate() else None
    if found is None:
        flash(_("This code opens nothing. Look at your card again: it is eight letters and digits."))
        return redirect(url_for("entry.welcome"), 303)
    show, mix = found
    return redirect(url_for("entry.ask_who", token=token_of(web().key, show, mix)), 303)


def open_shows() -> list[Show]:
    """Return the shows that are not closed, the newest last."""
    return [web().shows.state(entry.id) for entry in web().shows.entries() if entry.is_open]


@blueprint.get("/j/<token>")
def ask_who(token: str) -> ResponseReturnValue:
    """Say whose code this is and let the person confirm; nothing is changed yet."""
    principal, show = _read(token)
    mix = None if principal.mix is None else show.mix(principal.mix)
    known = _known(principal, mix)
    if known is not None:
        opened_by(known)
        return redirect(_home(principal), 303)
    musicians = [show.musicians[one] for one in mix.musicians] if mix else []
    return render_template(
        "entry/who.html", form=AdmitForm(), show=show, mix=mix, musicians=musicians, token=token
    )


@blueprint.post("/j/<token>")
def confirm(token: str) -> ResponseReturnValue:
    """Admit this browser, and lead it to a clean address."""
    principal, show = _read(token)
    form = AdmitForm()
    if principal.mix is not None:
        principal = _chosen(show, principal, form.musician.data or None)
    if not form.validate() or _must_choose(show, principal):
        return redirect(url_for("entry.ask_who", token=token), 303)
    admit(principal)
    return redirect(_home(principal), 303)


def _read(token: str) -> tuple[Principal, Show]:
    try:
        principal = principal_of_token(web().shows, web().key, token)
    except UnknownCode:
        LINKS.count()
        raise
    return principal, web().shows.state(principal.show_id)


def _known(principal: Principal, mix: Mix | None) -> Principal | None:
    """Return how this browser was admitted by this very code, as somebody who still hears the mix; None if it was not."""
    known = admission(principal.mix, principal.show_id)
    if known is None or as_musician(known, None) != principal:
        return None
    return known if mix is None or not mix.musicians or known.musician in mix.musicians else None


def _chosen(show: Show, principal: Principal, musician: str | None) -> Principal:
    if musician is not None and musician not in show.mix(principal.mix or "").musicians:
        raise UnknownMusician
    return with_present_musician(show, as_musician(principal, musician))


def _must_choose(show: Show, principal: Principal) -> bool:
    return principal.mix is not None and not principal.musician and bool(show.mix(principal.mix).musicians)


def _home(principal: Principal) -> str:
    if principal.mix is None:
        return url_for("desk.show_queue")
    return url_for("phone.show_mix", mix=principal.mix)
