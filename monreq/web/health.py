"""Tells whether this process can do its work: a proxy or a monitor, without a code, and the desk's pages in words."""

from flask import Blueprint, Flask, jsonify
from flask.typing import ResponseReturnValue

from monreq.web.context import web
from monreq.web.health_view import health_lines

blueprint = Blueprint("health", __name__)


@blueprint.get("/healthz")
def tell_health() -> ResponseReturnValue:
    """Answer ok, but only once the database has answered; else 503 like everything that needs it."""
    web().shows.entries()
    return jsonify(status="ok")


def init_app(app: Flask) -> None:
    """Let every page of the desk say what is wrong with the laptop."""
    app.jinja_env.globals.update(health_lines=lambda: health_lines(web().health.notices()))
