"""The OpenAPI document of the JSON interface, made from its routes, models and refusals."""

import inspect
from collections.abc import Iterable, Mapping
from http import HTTPStatus
from typing import Any, Final

from apispec import APISpec
from pydantic import BaseModel
from pydantic.json_schema import JsonSchemaMode, models_json_schema
from werkzeug.routing import Map, Rule

from monreq.domain.refusals import Refusal
from monreq.services.ports import StorageFailed
from monreq.web import api_answers as a
from monreq.web.api_operations import OPERATIONS, PATH_PARAMETERS, Operation
from monreq.web.errors import STORAGE_FAILED, STORAGE_SENTENCE, status_of
from monreq.web.pace import BURST, PER_SECOND

_API: Final = "api."
_SCHEMAS: Final = "#/components/schemas/{model}"
_DESCRIPTION: Final = f"""\
Requests for monitor mixes, and the desk's answers to them. monreq never moves the desk: a person does, and what is
recorded here is what a person did.

Levels and changes are in dB, in whole tenths. Pan goes from -1, left, to +1, right, in whole hundredths. Times are in
UTC. Ids are strings. A field that does not apply is null.

Send `Authorization: Bearer TOKEN` with the token of a desk or of a mix; it opens the show that it belongs to. Mixes are
limited to {BURST} calls at once, then {PER_SECOND} a second; the desk is not. Every error is an object with `error`, a code, and
`message`, a sentence; an unknown path is 404, a wrong method 405, an unknown host 421, a fault of monreq's own 500."""
_OF_THE_MESSAGE: Final = {
    HTTPStatus.BAD_REQUEST: "`bad_request`: This is not JSON.",
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: "`request_entity_too_large`: The body is too large.",
    HTTPStatus.UNSUPPORTED_MEDIA_TYPE: "`unsupported_media_type`: Send JSON, as application/json.",
}
_OF_THE_HOST: Final = {
    HTTPStatus.MISDIRECTED_REQUEST: "`unknown_host`: This machine does not answer to that name."
}
_REQUEST: Final = "$response.body#/request"
_LINKS: Final[Mapping[str, Mapping[str, Mapping[str, Any]]]] = {
    "post_request": {
        "get_request": {"parameters": {"request_id": _REQUEST}},
        "delete_request": {"parameters": {"request_id": _REQUEST}},
        "post_decision": {"requestBody": {"requests": [_REQUEST], "outcome": "done"}},
    },
    "post_decision": {"post_undo": {"parameters": {"decision": "$response.body#/decision"}}},
}
"""What can be done next with what an operation answered, by their names."""

_FOREIGN_ORIGIN: Final = "`foreign_origin`: This was sent by a page of another site."


def document(routes: Map) -> dict[str, Any]:
    """Return the document of those routes that belong to the interface."""
    spec = APISpec(title="monreq", version="1", openapi_version="3.1.0", info={"description": _DESCRIPTION})
    spec.components.security_scheme(
        "token", {"type": "http", "scheme": "bearer", "description": "Of the desk, or of one mix."}
    )
    for name, schema in _schemas().items():
        spec.components.schema(name, schema)
    for rule in sorted(routes.iter_rules(), key=lambda rule: rule.rule):
        if rule.endpoint.startswith(_API):
            spec.path(_path(rule), operations=_operations(rule))
    return dict(spec.to_dict())


def _path(rule: Rule) -> str:
    return rule.rule.replace("<", "{").replace(">", "}")


def _operations(rule: Rule) -> dict[str, Any]:
    name = rule.endpoint.removeprefix(_API)
    methods = (rule.methods or set()) - {"HEAD", "OPTIONS"}
    described = _described(name, OPERATIONS[name], rule)
    return {method.lower(): described for method in methods}


def _described(name: str, operation: Operation, rule: Rule) -> dict[str, Any]:
    described: dict[str, Any] = {
        "operationId": name,
        "summary": operation.summary,
        "parameters": [*_path_parameters(rule), *_query_parameters(operation.query)],
        "responses": _answers(name, operation)
        | _errors(operation, is_writing="GET" not in (rule.methods or ())),
        "security": [] if operation.is_open else [{"token": []}],
    }
    if operation.body is not None:
        described["requestBody"] = {"required": operation.needs_body, "content": _json_of(operation.body)}
    return described


def _path_parameters(rule: Rule) -> list[dict[str, Any]]:
    return [
        {
            "name": name,
            "in": "path",
            "required": True,
            "description": PATH_PARAMETERS[name],
            "schema": {"type": "string"},
        }
        for name in sorted(rule.arguments)
    ]


def _query_parameters(query: type[BaseModel] | None) -> list[dict[str, Any]]:
    if query is None:
        return []
    properties = query.model_json_schema()["properties"]
    return [
        {"name": name, "in": "query", "description": schema["description"], "schema": schema}
        for name, schema in properties.items()
    ]


def _answers(name: str, operation: Operation) -> dict[str, Any]:
    next_ones = {then: {"operationId": then, **how} for then, how in _LINKS.get(name, {}).items()}
    return {
        str(status): {
            "description": inspect.getdoc(model) if model else operation.summary,
            "content": _json_of(model),
            **({"links": next_ones} if next_ones else {}),
        }
        for status, model in operation.answers.items()
    }


def _errors(operation: Operation, *, is_writing: bool) -> dict[str, Any]:
    """Return an answer for each status that this operation can refuse with, its codes in words."""
    said: dict[int, list[str]] = {status: [text] for status, text in _OF_THE_HOST.items()}
    for status, text in _OF_THE_MESSAGE.items() if operation.body else ():
        said[status] = [text]
    if is_writing:
        said[HTTPStatus.FORBIDDEN] = [_FOREIGN_ORIGIN]
    for kind in operation.refuses:
        of_refusal, text = _refusal(kind)
        said.setdefault(of_refusal, []).append(text)
    return {
        str(int(status)): {
            "description": "\n\n".join(texts),
            "content": _json_of(a.AnsweredAlready if status == HTTPStatus.CONFLICT else a.ErrorAnswer),
        }
        for status, texts in sorted(said.items())
    }


def _refusal(kind: type[Refusal | StorageFailed]) -> tuple[int, str]:
    """Return the status of a refusal, and its code with its sentence."""
    unsaid = kind.__new__(kind)  # what is wanted here belongs to the class, but stands on instances
    if isinstance(unsaid, Refusal):
        return status_of(unsaid), f"`{unsaid.code}`: {inspect.getdoc(kind)}"
    return status_of(unsaid), f"`{STORAGE_FAILED}`: {STORAGE_SENTENCE}"


def _json_of(model: type[BaseModel] | None) -> dict[str, Any]:
    schema = {"type": "object"} if model is None else {"$ref": _SCHEMAS.format(model=model.__name__)}
    return {"application/json": {"schema": schema}}


def _schemas() -> Mapping[str, Any]:
    """Return the schema of every model that is taken or answered, and of those within them."""
    models: list[tuple[type[BaseModel], JsonSchemaMode]] = [
        (a.ErrorAnswer, "serialization"),
        (a.AnsweredAlready, "serialization"),
    ]
    for operation in OPERATIONS.values():
        models += [(model, "serialization") for model in _known(operation.answers.values())]
        models += [(model, "validation") for model in _known([operation.body])]
    _, definitions = models_json_schema(list(dict.fromkeys(models)), ref_template=_SCHEMAS)
    return dict(definitions["$defs"])


def _known(models: Iterable[type[BaseModel] | None]) -> list[type[BaseModel]]:
    return [model for model in models if model is not None]
