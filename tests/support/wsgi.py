"""A WSGI application that keeps what arrives at it."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment


class WhatArrived:
    """Answers 204 and keeps the environment; an empty one means that nothing arrived."""

    def __init__(self) -> None:
        self.environ: WSGIEnvironment = {}

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        self.environ = environ
        start_response("204 No Content", [])
        return []
