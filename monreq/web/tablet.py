"""The stage tablet: one shared device where each musician picks their own place, and which forgets it again."""

from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, session, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.refusals import CodeReplacedSince, UnknownCode, UnknownMusician, UnknownShow
from monreq.domain.show import Show
from monreq.services.tokens import TABLET, MalformedTokenError, Token, Verdict, make_token
from monreq.web.access import Principal, admit, dismiss
from monreq.web.context import web
from monreq.web.forms import PlaceForm, ProtectedForm
from monreq.web.show_marks import ForAnotherShow, is_there, named_show, page_is_of

blueprint = Blueprint("tablet", __name__, url_prefix="/tablet")

FORGETS_AFTER_S = 20
"""After so long without a touch whoever stood here has gone back to play. [s]"""

_SESSION_KEY = "tablet"


@dataclass(frozen=True, slots=True)
class PlaceView:
    """One face: a musician with the mix that they hear; a mix that nobody is in has no face."""

    mix: str
    mix_name: str
    musician: str
    name: str
    place: str


@blueprint.get("")
def show_places() -> ResponseReturnValue:
    """Show everybody's place, and forget who was picked last."""
    show = _tablet_show()
    _forget()
    return render_template("entry/tablet.html", show=show, places=_places(show), form=PlaceForm())


@blueprint.post("")
def pick() -> ResponseReturnValue:
    """Open the mix of whoever stands here now."""
    show = _tablet_show()
    form = PlaceForm()
    mix, musician = form.mix.data or "", form.musician.data or ""
    if not form.validate() or musician not in show.mix(mix).musicians:
        raise UnknownMusician
    _forget()
    admit(Principal(show.id, mix, show.generation(mix), musician))
    session[_SESSION_KEY] = [*_admission()[:2], mix]
    return redirect(url_for("phone.show_mix", mix=mix), 303)


@blueprint.get("/open/<tablet_token>")
def ask(tablet_token: str) -> ResponseReturnValue:
    """Say what the tablet's code opens; nothing is changed yet."""
    return render_template("entry/open_tablet.html", show=_show_of(tablet_token), form=ProtectedForm())


@blueprint.post("/open/<tablet_token>")
def confirm(tablet_token: str) -> ResponseReturnValue:
    """Make this browser the stage tablet, and lead it to a clean address."""
    show = _show_of(tablet_token)
    if not ProtectedForm().validate():
        return redirect(url_for("tablet.ask", tablet_token=tablet_token), 303)
    session[_SESSION_KEY] = [show.id, show.generation(None), ""]
    session.permanent = True
    return redirect(url_for("tablet.show_places"), 303)


def tablet_path(key: bytes, show: Show) -> str:
    """Return the path that opens the stage tablet; it is replaced together with the desk's code."""
    return f"/tablet/open/{make_token(key, show.id, TABLET, show.generation(None))}"


def is_at_tablet(show_id: str, mix: str) -> bool:
    """Whether a mix was picked at this stage tablet, and is forgotten again."""
    found = session.get(_SESSION_KEY)
    return found is not None and (found[0], found[2]) == (show_id, mix)


def _show_of(text: str) -> Show:
    try:
        token = Token.parse(text)
        show = web().shows.state(token.show)
    except (MalformedTokenError, UnknownShow) as unknown:
        raise UnknownCode from unknown
    verdict = token.verify(web().key, show.generation(None))
    if verdict is Verdict.REPLACED:
        raise CodeReplacedSince
    if verdict is not Verdict.VALID or token.subject != TABLET:
        raise UnknownCode
    return show


def _admission() -> tuple[str, int, str]:
    """Return the show, the generation of the code and the mix picked last, as this browser's cookie holds them."""
    found = session.get(_SESSION_KEY)
    if found is None or not is_there(web().shows, found[0]):
        raise UnknownCode
    show_id, generation, picked = found
    return show_id, generation, picked


def _tablet_show() -> Show:
    show_id, generation, _ = _admission()
    if named_show() not in (None, show_id):
        raise ForAnotherShow
    page_is_of(show_id)
    show = web().shows.state(show_id)
    if show.generation(None) != generation:
        raise CodeReplacedSince
    return show


def _forget() -> None:
    show_id, generation, picked = _admission()
    if picked:
        dismiss(show_id, picked)
        session[_SESSION_KEY] = [show_id, generation, ""]


def _places(show: Show) -> list[PlaceView]:
    return [
        PlaceView(mix.id, mix.name, musician, show.musician_name(musician), mix.place)
        for mix in show.mixes.values()
        for musician in mix.musicians
    ]
