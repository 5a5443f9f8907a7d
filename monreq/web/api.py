"""The JSON interface under /api/v1, for programs: bearer tokens in, JSON out, nothing by cookie."""

import json
from collections.abc import Mapping
from http import HTTPStatus

from flask import Blueprint, Response, current_app, request
from pydantic import BaseModel
from werkzeug.exceptions import HTTPException, MethodNotAllowed, NotFound
from werkzeug.routing import RequestRedirect

from monreq.domain import commands as c
from monreq.domain.events import DESK
from monreq.domain.history import history
from monreq.domain.refusals import AlreadyAnswered, Refusal, TooFast, UnknownRequest
from monreq.domain.requests import RequestState
from monreq.domain.show import Show
from monreq.domain.subjects import EVERY_MIX, mix_subject, request_subject
from monreq.domain.trail import Trail, trail
from monreq.services.ports import StorageFailed
from monreq.services.shows import Receipt
from monreq.web import api_answers as a
from monreq.web import api_bodies as b
from monreq.web import api_views as views
from monreq.web.access import Principal
from monreq.web.api_commands import answer_command, ask_command, correction_command
from monreq.web.api_heard import HeardBody, heard_answer, heard_command
from monreq.web.api_history import history_answer
from monreq.web.api_ids import meant_id, told_id
from monreq.web.api_intake import body, caller, caller_for, desk, id_alone, query, submission
from monreq.web.context import web
from monreq.web.errors import code_and_sentence, status_of
from monreq.web.openapi import document
from monreq.web.pace import RETRY_AFTER_S

PREFIX = "/api/v1"

_SENTENCES: Mapping[int, str] = {
    HTTPStatus.NOT_FOUND: "There is nothing at this address.",
    HTTPStatus.METHOD_NOT_ALLOWED: "This address is not used with this method.",
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: "The body is too large.",
    HTTPStatus.INTERNAL_SERVER_ERROR: "Something broke in monreq. Its log says what.",
}

blueprint = Blueprint("api", __name__, url_prefix=PREFIX)


@blueprint.get("/show")
def get_show() -> Response:
    """Tell what show the token belongs to."""
    show = web().shows.seen(caller().show_id)
    return _answer(views.show_answer(show))


@blueprint.get("/queue")
def get_queue() -> Response:
    """Give the queue in working order."""
    show = web().shows.as_of_now(web().shows.seen(desk().show_id))
    return _answer(views.queue_answer(show, web().shows.now_ms()))


@blueprint.get("/mixes")
def get_mixes() -> Response:
    """Give every mix to the desk, and a mix its own."""
    principal = caller()
    show = web().shows.seen(principal.show_id)
    return _answer(views.mixes_answer(show, show.mixes if principal.mix is None else [principal.mix]))


@blueprint.get("/mixes/<mix>")
def get_mix(mix: str) -> Response:
    """Give one mix with its sends."""
    show = web().shows.seen(caller_for(mix).show_id)
    return _answer(views.one_mix_answer(show, mix))


@blueprint.get("/mixes/<mix>/history")
def get_history(mix: str) -> Response:
    """Give a mix's history behind a revision."""
    show = web().shows.seen(caller_for(mix).show_id)
    show.mix(mix)
    after = query(b.HistoryQuery).after
    entries = history(web().shows.about(show.id, [mix_subject(mix), EVERY_MIX]))
    wanted = [entry for entry in entries if after < entry.revision <= show.revision]
    return _answer(history_answer(show, wanted))


@blueprint.post("/mixes/<mix>/requests")
def post_request(mix: str) -> Response:
    """Ask for something."""
    principal = caller_for(mix)
    said = body(b.AskBody).root
    command = ask_command(principal, mix, said)
    receipt = web().shows.submit(principal.show_id, command, submission(mix, said.client_id, said))
    return _answer(views.ask_answer(receipt.recorded), 200 if receipt.is_repeated else 201)


@blueprint.post("/mixes/<mix>/heard")
def post_heard(mix: str) -> Response:
    """Say how a change sounds."""
    principal = caller_for(mix)
    said = body(HeardBody)
    command = heard_command(principal, mix, said)
    receipt = web().shows.submit(principal.show_id, command, submission(mix, said.client_id, said))
    return _answer(heard_answer(said, receipt.recorded), 200 if receipt.is_repeated else 201)


@blueprint.get("/requests/<request_id>")
def get_request(request_id: str) -> Response:
    """Tell where a request stands."""
    principal = caller()
    show = web().shows.seen(principal.show_id)
    known = _trail(show, principal, meant_id(request_id))
    return _answer(views.request_answer(show, known))


@blueprint.delete("/requests/<request_id>")
def delete_request(request_id: str) -> Response:
    """Take a request back."""
    principal, own = caller(), meant_id(request_id)
    _trail(web().shows.seen(principal.show_id), principal, own)
    command = c.Withdraw(own, principal.mix, by=DESK if principal.is_desk else None)
    sent = submission(principal.mix, f"withdraw:{own}", b.SentUnder())
    receipt = web().shows.submit(principal.show_id, command, sent)
    state = RequestState.WITHDRAWN
    return _answer(a.WithdrawnAnswer(request=own, revision=receipt.revision, state=state))


@blueprint.post("/decisions")
def post_decision() -> Response:
    """Answer requests of one row."""
    principal = desk()
    said = body(b.DecisionBody)
    command = answer_command(web().shows.seen(principal.show_id), said)
    receipt = web().shows.submit(principal.show_id, command, submission(None, said.client_id, said))
    return _answer(views.decision_answer(_right_after(receipt), receipt.recorded))


@blueprint.post("/decisions/<decision>/undo")
def post_undo(decision: str) -> Response:
    """Take a decision back."""
    principal, own, said = desk(), meant_id(decision), id_alone()
    sent = submission(None, said.client_id, said)
    receipt = web().shows.submit(principal.show_id, c.Undo(own), sent)
    return _answer(views.undone_answer(_right_after(receipt), own, receipt.recorded))


@blueprint.post("/mixes/<mix>/corrections")
def post_correction(mix: str) -> Response:
    """Enter what stands on the desk."""
    principal = desk()
    said = body(b.CorrectionBody)
    sent = submission(None, said.client_id, said)
    receipt = web().shows.submit(principal.show_id, correction_command(mix, said), sent)
    return _answer(views.correction_answer(_right_after(receipt), mix, said.source))


@blueprint.post("/soundcheck-mark")
def post_soundcheck_mark() -> Response:
    """Set the soundcheck mark."""
    principal, said = desk(), id_alone()
    sent = submission(None, said.client_id, said)
    receipt = web().shows.submit(principal.show_id, c.MarkSoundcheck(), sent)
    return _answer(views.mark_answer(receipt.recorded[-1]))


@blueprint.get("/openapi.json")
def get_openapi() -> Response:
    """Describe this interface, to anyone."""
    return _json(json.dumps(document(current_app.url_map)), 200)


@blueprint.before_app_request
def refuse_what_has_no_route() -> Response | None:
    """Answer an unknown path or a wrong method in JSON: neither comes as far as the blueprint by itself."""
    error = request.routing_exception
    is_ours = request.path == PREFIX or request.path.startswith(f"{PREFIX}/")
    if not is_ours or error is None:
        return None
    return answer_http_error(NotFound() if isinstance(error, RequestRedirect) else error)


@blueprint.errorhandler(Refusal)
@blueprint.errorhandler(StorageFailed)
def answer_refusal(error: Refusal | StorageFailed) -> Response:
    """Say why not."""
    if isinstance(error, AlreadyAnswered):  # the sentence names them as the program does
        error.values["requests"] = ", ".join(map(told_id, error.requests))
    code, sentence = code_and_sentence(error)
    answer = a.ErrorAnswer(error=code, message=sentence)
    if isinstance(error, AlreadyAnswered):
        answer = a.AnsweredAlready(error=code, message=sentence, requests=list(error.requests))
    response = _answer(answer, status_of(error))
    if response.status_code == HTTPStatus.UNAUTHORIZED:
        response.headers["WWW-Authenticate"] = "Bearer"
    if isinstance(error, TooFast):
        response.headers["Retry-After"] = str(RETRY_AFTER_S)
    return response


@blueprint.errorhandler(HTTPException)
def answer_http_error(error: HTTPException) -> Response:
    """Say what is wrong with the message itself, or that something broke."""
    status = error.code or HTTPStatus.INTERNAL_SERVER_ERROR
    sentence = _SENTENCES.get(status) or error.description or error.name
    answer = a.ErrorAnswer(error=error.name.lower().replace(" ", "_"), message=sentence)
    response = _answer(answer, status)
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        response.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return response


def _answer(answer: BaseModel, status: int = 200) -> Response:
    return _json(answer.model_dump_json(), status)


def _json(text: str, status: int) -> Response:
    return Response(text, status, {"Cache-Control": "no-store"}, content_type="application/json")


def _trail(show: Show, principal: Principal, request_id: str) -> Trail:
    """Return a request that this caller may see; to a mix, another mix's does not exist."""
    known = None
    if request_id in show.open_requests or request_id in show.closed:
        known = trail(show, request_id, web().shows.about(show.id, [request_subject(request_id)]))
    if known is None or principal.mix not in (None, known.key.mix):
        raise UnknownRequest
    return known


def _right_after(receipt: Receipt) -> Show:
    """Return the show as a command left it, also when it is answered again: the same then as now."""
    if not receipt.is_repeated:
        return receipt.show
    return web().shows.at(receipt.show.id, receipt.revision)
