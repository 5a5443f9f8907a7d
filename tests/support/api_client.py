"""A program that talks to the JSON interface, and holds every answer against the interface's own description."""

import json
from dataclasses import dataclass
from functools import cache
from typing import Any

from flask import Flask
from openapi_schema_validator import OAS31Validator
from werkzeug.datastructures import Headers
from werkzeug.exceptions import HTTPException

from monreq.web.api import PREFIX, blueprint
from monreq.web.openapi import document


@cache
def described() -> dict[str, Any]:
    """Return the interface's own description, made once for all tests."""
    app = Flask("described")
    app.register_blueprint(blueprint)
    return document(app.url_map)


@dataclass(frozen=True)
class Reply:
    """What came back."""

    status: int
    json: Any
    headers: Headers

    @property
    def error(self) -> str | None:
        """The error's code, if it is one."""
        return self.json.get("error") if isinstance(self.json, dict) else None


class ApiClient:
    """Calls with one token, or with none."""

    def __init__(self, app: Flask, token: str | None) -> None:
        self._app = app
        self._headers = {} if token is None else {"Authorization": f"Bearer {token}"}

    def get(self, path: str) -> Reply:
        return self.send("GET", path)

    def delete(self, path: str) -> Reply:
        return self.send("DELETE", path)

    def post(self, path: str, body: object = None) -> Reply:
        return self.send("POST", path, json.dumps(body).encode())

    def send(
        self, method: str, path: str, data: bytes = b"", kind: str = "application/json", **headers: str
    ) -> Reply:
        """Send anything at all; headers that are named replace those of the client."""
        response = self._app.test_client().open(
            PREFIX + path, method=method, data=data, content_type=kind, headers=self._headers | headers
        )
        assert response.mimetype == "application/json"
        assert response.headers["Cache-Control"] == "no-store"
        reply = Reply(response.status_code, json.loads(response.data), response.headers)
        self._check_described(method, path.partition("?")[0], reply)
        return reply

    def _check_described(self, method: str, path: str, reply: Reply) -> None:
        try:
            rule, _ = self._app.url_map.bind("").match(PREFIX + path, method, return_rule=True)
        except HTTPException:
            self._validate({"$ref": "#/components/schemas/ErrorAnswer"}, reply.json)
            return
        path_in_document = rule.rule.replace("<", "{").replace(">", "}")
        operation = described()["paths"][path_in_document][method.lower()]
        answer = operation["responses"][str(reply.status)]
        self._validate(answer["content"]["application/json"]["schema"], reply.json)
        assert reply.error is None or f"`{reply.error}`" in answer["description"]

    def _validate(self, schema: dict[str, Any], given: object) -> None:
        OAS31Validator({**schema, "components": described()["components"]}).validate(given)
