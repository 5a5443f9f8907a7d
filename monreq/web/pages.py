"""Puts the web room together: blueprints, form protection, headers, and how refusals look to a person."""

from datetime import timedelta
from http import HTTPStatus

from flask import Flask, jsonify, make_response, render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf import CSRFProtect
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from monreq.domain.refusals import NoLonger, NotThere, Refusal, UnknownCode
from monreq.services.ports import StorageFailed
from monreq.web import (
    afterwards,
    api,
    assets,
    bands,
    book_merging,
    book_opening,
    books,
    clock,
    codes,
    colours,
    desk,
    desk_auxes,
    desks,
    entry,
    exposure,
    groups,
    headers,
    health,
    keeping,
    languages,
    levels,
    lists,
    measuring,
    moments,
    note_texts,
    passphrase,
    phone,
    prepare,
    reckoning,
    several_shows,
    sheets,
    show_settings,
    songs,
    stage,
    start_mixes,
    tablet,
    wording,
)
from monreq.web.desk_keys import KEY_HELP, REASON_LETTERS, SOUND_LETTERS
from monreq.web.errors import code_and_sentence, status_of, title_and_sentence
from monreq.web.preamp_view import REMINDERS
from monreq.web.sound_answers import SOUND_ANSWERS
from monreq.web.speech import _

_MAX_BODY = 64 * 1024  # chosen: the largest page's form, ten times over [bytes]
_MAX_PARTS = 1000
_ROOMS = (
    afterwards,
    bands,
    keeping,
    api,
    book_merging,
    book_opening,
    books,
    codes,
    colours,
    desk,
    desk_auxes,
    desks,
    entry,
    exposure,
    groups,
    health,
    languages,
    levels,
    lists,
    measuring,
    moments,
    note_texts,
    passphrase,
    phone,
    prepare,
    reckoning,
    sheets,
    show_settings,
    songs,
    stage,
    start_mixes,
    tablet,
)
_STAY_ADMITTED = timedelta(days=60)  # chosen: a tour


def init_app(app: Flask) -> None:
    """Give an app the pages and the JSON interface."""
    app.config.update(
        MAX_CONTENT_LENGTH=_MAX_BODY,
        MAX_FORM_MEMORY_SIZE=_MAX_BODY,
        MAX_FORM_PARTS=_MAX_PARTS,
        PERMANENT_SESSION_LIFETIME=_STAY_ADMITTED,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_REFRESH_EACH_REQUEST=False,
        WTF_CSRF_TIME_LIMIT=None,  # a page may lie open for a whole evening
        SEND_FILE_MAX_AGE_DEFAULT=timedelta(days=365),
    )
    app.jinja_env.trim_blocks = False
    app.jinja_env.globals.update(
        reasons=wording.CHOOSABLE_REASONS,
        reason_letters=REASON_LETTERS,
        key_help=KEY_HELP,
        sound_words=wording.SOUND_WORDS,
        sound_answers=SOUND_ANSWERS,
        sound_letters=SOUND_LETTERS,
        reminders=REMINDERS,
    )
    languages.init_app(app)
    colours.init_app(app)
    health.init_app(app)
    books.init_app(app)  # before anything reads a form
    lists.init_app(app)
    csrf = CSRFProtect(app)
    csrf.exempt(api.blueprint)  # it takes bearer tokens only, never the cookie
    for room in _ROOMS:
        app.register_blueprint(room.blueprint)
    several_shows.init_app(app)
    headers.init_app(app)
    assets.init_app(app)
    app.jinja_env.filters["clock"] = clock.local_time
    app.register_error_handler(Refusal, _refused)
    app.register_error_handler(StorageFailed, _refused)
    app.register_error_handler(CSRFError, _out_of_date)
    app.register_error_handler(HTTPException, _http_error)


def _refused(error: Refusal | StorageFailed) -> ResponseReturnValue:
    code, sentence = code_and_sentence(error)
    return _answer(status_of(error), code, _title(error), sentence)


def _title(error: Refusal | StorageFailed) -> str:
    match error:
        case UnknownCode():
            return _("Scan your card")
        case NoLonger():
            return _("This is over")
        case NotThere():
            return _("Not here")
        case _:
            return _("That did not work")


def _out_of_date(_error: CSRFError) -> ResponseReturnValue:
    return _answer(
        400, "csrf", _("Once more"), _("This page was too old to send. Go back, load it again, and repeat.")
    )


def _http_error(error: HTTPException) -> ResponseReturnValue:
    status = error.code or 500
    code = (error.name or "error").lower().replace(" ", "_")
    answer = make_response(_answer(status, code, *title_and_sentence(status)))
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        answer.allow.update(error.valid_methods)
    return answer


def _answer(status: int, code: str, title: str, sentence: str) -> ResponseReturnValue:
    wants_json = request.path.startswith("/api/") or request.accept_mimetypes.best == "application/json"
    if wants_json:
        return jsonify(error=code, message=sentence), status
    is_unchanged = (
        status != HTTPStatus.INTERNAL_SERVER_ERROR
    )  # after any other answer: refused, or not stored
    page = render_template("entry/refused.html", title=title, sentence=sentence, is_unchanged=is_unchanged)
    return page, status
