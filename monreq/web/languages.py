"""Which language a page is in, and the page where a person chooses another, at the desk its colours too."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from flask import Blueprint, Flask, has_request_context, redirect, render_template, request, session
from flask.typing import ResponseReturnValue
from flask_babel import Babel, force_locale

import monreq
from monreq.web import speech
from monreq.web.forms import LanguageForm
from monreq.web.screens import CHOOSING, DESK, own_path, screen_of, screen_of_request
from monreq.web.script_texts import script_texts
from monreq.web.speech import ENGLISH, LANGUAGES, _

blueprint = Blueprint("languages", __name__, url_prefix=CHOOSING)

CATALOGUES = Path(monreq.__file__).parent / "translations"

_SESSION_KEY = "languages"


@blueprint.get("")
def ask_language() -> ResponseReturnValue:
    """Let a person choose the language of the screen that they come from."""
    back = own_path(request.args.get("back", ""))
    return render_template(
        "entry/language.html",
        form=LanguageForm(back=back),
        languages=LANGUAGES,
        is_desk=screen_of(back) == DESK,
    )


@blueprint.post("")
def choose_language() -> ResponseReturnValue:
    """Keep a choice in the browser's cookie, apart for the desk and for phones."""
    form = LanguageForm()
    back = own_path(form.back.data or "")
    if form.validate():
        session[_SESSION_KEY] = {**session.get(_SESSION_KEY, {}), screen_of(back): form.language.data}
        session.permanent = True
    return redirect(back, 303)


def init_app(app: Flask) -> None:
    """Give an app its languages."""
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(CATALOGUES)
    Babel(app, locale_selector=requested, default_locale=ENGLISH)
    app.jinja_env.globals.update(
        _=speech.gettext_in_page,
        gettext=speech.gettext_in_page,
        ngettext=speech.ngettext_in_page,
        language=speech.language,
        language_link=language_link,
        script_texts=script_texts,
    )
    app.jinja_env.filters["listed"] = speech.listed


def language_link() -> str:
    """Say where the language is chosen, also in English for whoever cannot read what the page is in."""
    said = _("Language")
    return said if said == "Language" else f"{said} \N{MIDDLE DOT} Language"


def requested() -> str:
    """Return the language of the request's page: the screen's own choice, else what the browser prefers."""
    if not has_request_context() or request.path.startswith("/api/"):
        return ENGLISH
    return of_screen(screen_of_request())


def of_screen(screen: str) -> str:
    """Return the language that the browser which sent the request has for a screen."""
    chosen = session.get(_SESSION_KEY, {}).get(screen)
    return chosen if chosen in LANGUAGES else request.accept_languages.best_match(list(LANGUAGES)) or ENGLISH


def of_connection(namespace: str, said: object) -> str:
    """Return the language of a live connection: what its page said that it is in, else as for a page."""
    return said if isinstance(said, str) and said in LANGUAGES else of_screen(namespace.strip("/"))


@contextmanager
def speaking(app: Flask, code: str) -> Iterator[None]:
    """Say everything within in a language; also where there is no request."""
    with app.app_context(), force_locale(code):
        yield
