"""What arrives at the JSON interface: who calls, what they say, under which id; read or refused."""

from typing import TypeVar

from flask import request
from pydantic import BaseModel, ValidationError
from pydantic_core import from_json
from werkzeug.exceptions import BadRequest, UnsupportedMediaType

from monreq.domain.refusals import NotLikeThis, NotYours, UnknownCode
from monreq.services.ports import Submission
from monreq.web.access import Principal, check_pace, principal_of_token
from monreq.web.api_bodies import OnceBody
from monreq.web.context import web
from monreq.web.show_marks import mark_of_page, page_is_of
from monreq.web.submitting import DESK_SCOPE, fingerprint

Model = TypeVar("Model", bound=BaseModel)


class TokenRequired(UnknownCode):
    """Send the token of the desk or of a mix: Authorization: Bearer TOKEN."""


class BadBody(NotLikeThis):
    """What was sent has not the shape that is described for it."""


def caller() -> Principal:
    """Return who the bearer token speaks for, on its show's newest state; a cookie counts for nothing here.

    Raises:
        TokenRequired: None was sent.
        UnknownCode, CodeReplacedSince: It opens nothing, or nothing any more.
        TooFast: This mix sends faster than anybody can ask.
    """
    given = request.authorization
    if given is None or given.type != "bearer" or not given.token:
        raise TokenRequired
    principal = principal_of_token(web().shows, web().key, given.token)
    page_is_of(principal.show_id)
    check_pace(principal)
    return principal


def desk() -> Principal:
    """Return the desk, if it is the desk that calls.

    Raises:
        NotYours: It is a mix.
    """
    principal = caller()
    if not principal.is_desk:
        raise NotYours
    return principal


def caller_for(mix: str) -> Principal:
    """Return who calls about a mix: the desk, or that mix.

    Raises:
        NotYours: It is another mix, whether or not this one exists.
    """
    principal = caller()
    if principal.mix not in (None, mix):
        raise NotYours
    return principal


def body(kind: type[Model]) -> Model:
    """Return the body as a model.

    Raises:
        UnsupportedMediaType: It does not say that it is JSON.
        BadRequest: It is not.
        BadBody: It is, but of another shape.
    """
    if not request.is_json:
        raise UnsupportedMediaType("Send JSON, as application/json.")
    try:
        given = from_json(request.get_data())
    except ValueError as not_json:
        raise BadRequest(f"This is not JSON: {not_json}.") from not_json
    return _checked(kind, given)


def id_alone() -> OnceBody:
    """Return under which id something was sent that needs no body.

    Raises:
        BadRequest: There is a body, and it is no JSON.
        BadBody: It is, but of another shape.
    """
    given = request.get_data()
    return OnceBody() if not request.is_json or given.strip() in (b"", b"null") else body(OnceBody)


def query(kind: type[Model]) -> Model:
    """Return the query string as a model.

    Raises:
        BadBody: It is of another shape.
    """
    return _checked(kind, request.args.to_dict())


def submission(scope: str | None, client_id: str | None, said: BaseModel) -> Submission | None:
    """Return under which id this was sent, None if under none; what was said includes where it was sent.

    Args:
        scope: The mix's id; None for the desk.
        client_id: The client's own id for it.
        said: The body as it was understood.
    """
    if client_id is None:
        return None
    print_of_said = fingerprint(
        {"show": mark_of_page(), "route": request.path, "said": said.model_dump(mode="json")}
    )
    return Submission(scope or DESK_SCOPE, client_id, print_of_said)


def _checked(kind: type[Model], given: object) -> Model:
    try:
        return kind.model_validate(given)
    except ValidationError as error:
        raise BadBody(_sentence(error)) from error


def _sentence(error: ValidationError) -> str:
    """Say what the first thing wrong is, and where."""
    first = error.errors(include_url=False, include_input=False)[0]
    where = ".".join(map(str, first["loc"]))
    message = first["msg"].removeprefix("Value error, ")
    return f"{where}: {message}." if where else f"{message}."
