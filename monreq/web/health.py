"""Tells whether this process can do its work: a proxy or a monitor, without a code, and the desk's pages in words."""

from flask import Blueprint, Flask, jsonify
from flask.typing import ResponseReturnValue

from monreq.services.health import Trouble
from monreq.services.ports import StorageFailed
from monreq.web.context import web
from monreq.web.health_view import health_lines

blueprint = Blueprint("health", __name__)


@blueprint.get("/healthz")
def tell_health() -> ResponseReturnValue:
    """Answer ok, but only once the database has answered; 503 while nothing can be stored, so that a proxy turns away."""
    known = {notice.trouble for notice in web().health.notices()}
    try:
        web().shows.entries()
    except StorageFailed:
        known.add(Trouble.STORAGE)
    troubles = [one for one in Trouble if one in known]
    if not troubles:
        return jsonify(status="ok")
    told = jsonify(status="trouble", troubles=[one.value for one in troubles])
    return told, 503 if Trouble.STORAGE in troubles else 200


def init_app(app: Flask) -> None:
    """Let every page of the desk say what is wrong with the laptop."""
    app.jinja_env.globals.update(health_lines=lambda: health_lines(web().health.notices()))
