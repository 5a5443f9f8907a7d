"""Which colours a page is in: a phone's as the phone is set, the desk's dark until light is chosen for daylight.

Most laptops are set to light, and most halls are dark: so a desk never goes by the laptop.
"""

from dataclasses import dataclass

from flask import Blueprint, Flask, redirect, session
from flask.typing import ResponseReturnValue
from wtforms import HiddenField, StringField
from wtforms.validators import AnyOf

from monreq.web import screens
from monreq.web.forms import ProtectedForm

blueprint = Blueprint("colours", __name__, url_prefix=f"{screens.CHOOSING}/colours")

DARK, LIGHT = "dark", "light"

_SESSION_KEY = "colours"


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of a page.

    Attributes:
        scheme: What the browser may draw its own parts in, such as an opened list.
        light_media: On which media the light colours hold; empty where they never do. Paper has its own.
    """

    scheme: str
    light_media: str


_OF_A_PHONE = Colours(f"{DARK} {LIGHT}", "screen and (prefers-color-scheme: light)")
_OF_A_DESK = {DARK: Colours(DARK, ""), LIGHT: Colours(LIGHT, "screen")}


class ColoursForm(ProtectedForm):
    """The desk's colours, and the page to come back to."""

    colours = StringField(validators=[AnyOf(list(_OF_A_DESK))])
    back = HiddenField()


@blueprint.post("")
def choose_colours() -> ResponseReturnValue:
    """Keep the desk's choice in the browser's cookie."""
    form = ColoursForm()
    if form.validate():
        session[_SESSION_KEY] = form.colours.data
        session.permanent = True
    return redirect(screens.own_path(form.back.data or ""), 303)


def init_app(app: Flask) -> None:
    """Let templates ask for the colours of their page."""
    app.jinja_env.globals.update(colours=colours)


def colours() -> Colours:
    """Return the colours of the page that is asked for."""
    if screens.screen_of_request() == screens.PHONE:
        return _OF_A_PHONE
    return _OF_A_DESK.get(session.get(_SESSION_KEY, DARK), _OF_A_DESK[DARK])
