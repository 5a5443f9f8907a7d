"""Tells a proxy, a container or a monitor whether this process can do its work; asks for no code and shows nothing."""

from flask import Blueprint, jsonify
from flask.typing import ResponseReturnValue

from monreq.web.context import web

blueprint = Blueprint("health", __name__)


@blueprint.get("/healthz")
def tell_health() -> ResponseReturnValue:
    """Answer ok, but only once the database has answered; else 503 like everything that needs it."""
    web().shows.entries()
    return jsonify(status="ok")
