"""The codes of a show: on the desk's screen, on paper, replaced when one got into wrong hands."""

from dataclasses import dataclass

from flask import Blueprint, Response, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.refusals import NotLikeThis
from monreq.domain.show import Show
from monreq.services.health import Trouble
from monreq.services.ports import StorageFailed
from monreq.services.short_codes import short_code
from monreq.web import wording
from monreq.web.access import Principal, admit, token_of
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ConfirmForm, PassphraseForm, WifiForm
from monreq.web.passphrase import has_passphrase
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import _, listed
from monreq.web.submitting import of_form
from monreq.web.tablet import tablet_path

blueprint = Blueprint("codes", __name__, url_prefix="/desk/codes")

PRINTED_AT = "printed_at"
"""The setting that keeps the address which the last codes carry that were shown or printed."""

WIFI_NETWORK = "wifi_network"
WIFI_PASSWORD = "wifi_password"  # noqa: S105 - a setting's name


class NoMixYet(NotLikeThis):
    """There is no mix yet, so there is no card: prepare the show first."""


class WifiNotReadable(NotLikeThis):
    """A network's name has 1 to 32 characters, fewer if they are not plain letters; a password 8 to 63, or none."""


@dataclass(frozen=True, slots=True)
class CodeView:
    """One mix's code."""

    mix: str
    name: str
    detail: str
    musicians: str
    url: str
    svg: str
    by_hand: str


@blueprint.get("")
def show_codes() -> ResponseReturnValue:
    """Show every mix's code, ready to scan and to print."""
    show = desk_show()
    _note_address()
    settings = web().settings
    wifi = WifiForm(network=settings.get(WIFI_NETWORK) or "", password=settings.get(WIFI_PASSWORD) or "")
    return render_template(
        "desk/codes.html",
        show=show,
        codes=_codes(show),
        tablet=_tablet_code(show),
        confirm=ConfirmForm(),
        wifi=wifi,
        wifi_svg=web().printed.wifi_svg(),
        misread=web().printed.wifi_misread(),
        address=web().codes_url(),
        passphrase=PassphraseForm(),
        has_passphrase=has_passphrase(),
    )


@blueprint.get("/cards.pdf")
def cards() -> ResponseReturnValue:
    """Give the cards as a PDF."""
    show = desk_show()
    if not show.mixes:
        raise NoMixYet
    _note_address()
    return Response(web().printed.cards_pdf(show), mimetype="application/pdf")


@blueprint.post("/wifi")
def set_wifi() -> ResponseReturnValue:
    """Keep the Wi-Fi that cards lead to."""
    desk_show()
    form = WifiForm()
    if not form.validate():
        raise WifiNotReadable
    web().settings.put(WIFI_NETWORK, (form.network.data or "").strip())
    web().settings.put(WIFI_PASSWORD, form.password.data or "")
    return redirect(url_for("codes.show_codes"), 303)


@blueprint.post("/replace/<mix>")
def replace(mix: str) -> ResponseReturnValue:
    """Make a mix's code open nothing any more, and show the new one."""
    show, form = desk_show(), ConfirmForm()
    if not form.validate():
        raise PageOutOfDate
    web().shows.submit(show.id, c.ReplaceCode(mix), of_form(form))
    name = show.mix(mix).name
    flash(_("%(name)s: the old code opens nothing now. Print the card again.", name=name))
    return redirect(url_for("codes.show_codes"), 303)


@blueprint.post("/replace")
def replace_desk() -> ResponseReturnValue:
    """Make the desk's code open nothing any more for others; this browser stays."""
    show, form = desk_show(), ConfirmForm()
    if not form.validate():
        raise PageOutOfDate
    after = web().shows.submit(show.id, c.ReplaceCode(None), of_form(form)).show
    admit(Principal(show.id, None, after.generation(None)))
    flash(_("The desk's old code opens nothing now. This browser stays admitted."))
    return redirect(url_for("codes.show_codes"), 303)


def _note_address() -> None:
    """Keep the address that leaves the laptop now, on paper or in a photo; codes are given without it too."""
    url, settings = web().codes_url(), web().settings
    try:
        if settings.get(PRINTED_AT) != url:
            settings.put(PRINTED_AT, url)
    except StorageFailed:
        web().health.put(Trouble.STORAGE, "The database cannot be written to.")


def _tablet_code(show: Show) -> tuple[str, str]:
    """Return the address that opens the stage tablet, and its code."""
    url = f"{web().codes_url()}{tablet_path(web().key, show)}"
    return url, web().printed.qr_svg(url, _("Code for the stage tablet"))


def _codes(show: Show) -> list[CodeView]:
    return [_code(show, mix) for mix in show.mixes]


def _code(show: Show, mix: str) -> CodeView:
    facts = show.mix(mix)
    url = f"{web().codes_url()}{url_for('entry.ask_who', token=token_of(web().key, show, mix))}"
    return CodeView(
        mix=mix,
        name=facts.name,
        detail=wording.mix_kind(facts),
        musicians=listed(show.musician_name(one) for one in facts.musicians),
        url=url,
        svg=web().printed.qr_svg(url, _("Code for %(name)s", name=facts.name)),
        by_hand=short_code(web().key, show, mix),
    )
